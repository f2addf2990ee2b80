package web

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"wellwright/media"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/sheet"
	"wellwright/stage"
)

// whatifPage asks what if, and shows what follows.
type whatifPage struct {
	frame
	Action  string
	Groups  []turnGroup
	Train   turnTrain
	Prices  []turnField
	Factors []turnField
	Parts   []string // on the price list
	Names   []string // of factors
	Follow  followed
	Redraw  bool // the train was changed by a button: it is drawn anew too
	Fields  []turnField
	Kept    []keptVariant
	NoTrain bool
	Keep    keepForm
}

// turnGroup is a group of inputs.
type turnGroup struct {
	Name   string
	Open   bool
	Fields []turnField
}

// turnField is one input that may be turned.
type turnField struct {
	ID, Name, Words, Unit, Value, Now, Wrong string
	Choices                                  []string
	Stock                                    []string // what is made, of a size
	Changed, Assumed, Size                   bool
}

// turnTrain is the train as a list in flow order.
type turnTrain struct {
	IDs    string
	Anew   bool
	Stages []turnStage
	Adds   []media.Process
	Wrong  string
}

// turnStage is one stage of it.
type turnStage struct {
	At          int
	ID, Words   string
	First, Last bool
	Sizes       []turnField
	Open        bool
}

// keptVariant is one of the variants in the book.
type keptVariant struct{ Name, Note, Entry, Date, Open string }

// keepForm keeps the question by name.
type keepForm struct{ Name, Note, Wrong, Query string }

// whatifPage fills the page in.
func (s *Server) whatifPage(r *http.Request, x whatif, f followed) whatifPage {
	p := whatifPage{frame: s.framed(r, x.opened, "whatif", "What if"), Action: x.path(nil), Follow: f, NoTrain: len(x.asking.own) == 0, Redraw: r.URL.Query().Get("do") != ""}
	for _, in := range x.asking.inputs {
		p.put(x, in)
	}
	for i := range p.Groups {
		p.Fields = append(p.Fields, p.Groups[i].Fields...)
	}
	p.Train = x.turnTrain()
	p.Prices = x.added("p.", "price ", x.asked.Prices, "$")
	p.Factors = x.added("f.", "factor ", x.asked.Factors, "")
	for _, part := range plan.Prices().Parts() {
		p.Parts = append(p.Parts, string(part))
	}
	p.Names = plan.Register().Names()
	for _, v := range x.present.Variants {
		p.Kept = append(p.Kept, keptVariant{v.Name, v.Note, v.Entry, p.Date(v.On), x.path(queryOf(v))})
	}
	p.Keep.Query = x.query.Encode()
	p.Follow.Was = wasOf(r, x)
	return p
}

// put files an input under its group.
func (p *whatifPage) put(x whatif, in plan.Input) {
	now, u := x.asking.shown(in)
	f := turnField{ID: "i-" + in.Name, Name: in.Name, Words: inputWords(in.Name), Unit: u, Value: now, Now: now, Choices: in.Words, Assumed: in.Assumed, Wrong: x.wrongAt(in.Name)}
	if to, ok := x.asked.Changes[in.Name]; ok {
		f.Value, f.Changed = strings.TrimSpace(strings.TrimSuffix(to, " "+u)), true
	}
	i := slices.IndexFunc(p.Groups, func(g turnGroup) bool { return g.Name == in.Group })
	if i < 0 {
		i = len(p.Groups)
		p.Groups = append(p.Groups, turnGroup{Name: in.Group, Open: in.Group == "Water"})
	}
	g := &p.Groups[i]
	g.Fields, g.Open = append(g.Fields, f), g.Open || f.Changed
}

func (x whatif) wrongAt(at string) string {
	for _, m := range x.wrong {
		if m.At == at {
			return x.view.Prose(m.Say)
		}
	}
	return ""
}

// added are the prices or factors asked for.
func (x whatif) added(prefix, at string, m map[string]string, unit string) []turnField {
	var fs []turnField
	for name, v := range m {
		fs = append(fs, turnField{ID: "i-" + prefix + strings.ReplaceAll(name, " ", "-"), Name: prefix + name, Words: strings.ReplaceAll(name, "_", " "), Unit: unit, Value: v, Wrong: x.wrongAt(at + name)})
	}
	slices.SortFunc(fs, func(a, b turnField) int { return strings.Compare(a.Name, b.Name) })
	return fs
}

// turnTrain is the train asked for.
func (x whatif) turnTrain() turnTrain {
	t := turnTrain{IDs: strings.Join(x.asked.Train, ","), Anew: x.asked.anew, Adds: plan.Stages(), Wrong: x.wrongAt("train")}
	seen := map[string]int{}
	for i, id := range x.asked.Train {
		seen[id]++
		s := turnStage{At: i + 1, ID: id, Words: media.Process(id).Words(), First: i == 0, Last: i == len(x.asked.Train)-1}
		if seen[id] > 1 {
			s.ID = fmt.Sprintf("%s-%d", id, seen[id])
		}
		given := map[string]string{}
		for _, z := range x.asked.Sizes {
			if z.Stage == i+1 {
				given = z.Figures
			}
		}
		for _, d := range stage.Dials(media.Process(id)) {
			what, u := sizeWords(d.Leaf)
			f := turnField{Size: true, ID: "i-" + s.ID + "-" + d.Leaf, Name: sizeName(i+1, d.Leaf), Words: what, Unit: u, Value: given[d.Leaf], Wrong: x.wrongAt(fmt.Sprintf("size %d %s", i+1, d.Leaf)), Now: x.chosenSize(i, d.Leaf)}
			for _, v := range d.Stock {
				f.Stock = append(f.Stock, fmt.Sprintf("%g", v))
			}
			s.Open = s.Open || f.Value != ""
			s.Sizes = append(s.Sizes, f)
		}
		t.Stages = append(t.Stages, s)
	}
	return t
}

// chosenSize is a figure of the book's own choice, where the train is that; "" if
// it has none.
func (x whatif) chosenSize(at int, leaf string) string {
	if !slices.Equal(x.asked.Train, x.asking.own) || len(x.answer.Options) == 0 {
		return ""
	}
	st := x.answer.Options[0].Stages[at]
	v, ok := st.Size[leaf]
	switch {
	case leaf == stage.Count:
		v, ok = float64(st.Count), true
	case !ok:
		v, ok = st.Settings[leaf]
	}
	if !ok {
		return ""
	}
	_, u := sizeWords(leaf)
	return x.view.Amount(v, u, 3)
}

// sizeWords names a figure of a size, with its unit.
func sizeWords(leaf string) (words, unit string) {
	if leaf == stage.Count {
		return "vessels side by side", ""
	}
	return sheet.SizeWords(leaf)
}

// wasOf is the change that was put back, as an address brings it back; "" if none.
func wasOf(r *http.Request, x whatif) string {
	q, err := url.ParseQuery(r.URL.Query().Get("was"))
	if err != nil || len(q) == 0 || len(x.query) > 0 {
		return ""
	}
	return x.path(q)
}

// followed is what follows from a question.
type followed struct {
	Asked   []string
	Plain   bool
	Coarse  bool
	Draws   int
	Whole   string // address of the stream of the whole answer; "" where this is it
	Here    string // the page with the whole answer, for those without a script
	Back    string // puts the change back
	Was     string // brings it back
	Wrong   []mistake
	Train   string
	Say     string
	Rule    string
	Fails   bool
	First   string // the first limit to fail
	Better  string // the train that would come first
	Take    string // address that takes it
	Drawing template.HTML
	Lanes   template.HTML
	Groups  []differenceGroup
	Table   section.Table
	Stages  []followedStage
}

// differenceGroup is a group of figures as they are and would be.
type differenceGroup struct {
	Name string
	Rows []sheet.Difference
}

// followedStage is a stage as sized and set.
type followedStage struct{ Words, Tap, Size string }

// mistaken is what follows from what cannot be asked.
func (x whatif) mistaken() followed {
	f := followed{Asked: x.asked.words(x.asking), Back: x.back()}
	for _, m := range x.wrong {
		f.Wrong = append(f.Wrong, mistake{x.fieldAt(m.At), x.view.Prose(m.Say)})
	}
	return f
}

// mistake is something that cannot be asked, and the field it stands in.
type mistake struct{ Field, Say string }

// fieldAt is the field of a mistake.
func (x whatif) fieldAt(at string) string {
	kind, name, _ := strings.Cut(at, " ")
	switch kind {
	case "price":
		return "i-p." + strings.ReplaceAll(name, " ", "-")
	case "factor":
		return "i-f." + name
	case "train", "size":
		return "train"
	}
	return "i-" + at
}

// back is the address that puts the change back.
func (x whatif) back() string { return x.path(url.Values{"was": {x.query.Encode()}}) }

// followed words what a variant comes to.
func (x whatif) followed(t plan.Tried) followed {
	v := x.view
	f := followed{Asked: x.asked.words(x.asking), Plain: x.plain(), Coarse: t.Coarse, Draws: t.Draws, Say: t.Say, Rule: v.Prose(t.Rule), Back: x.back(), Fails: t.Then != nil && !t.Meets}
	if t.Coarse {
		f.Whole = pathTo(x.id, "/what-if/whole", x.query)
		whole := cloneOf(x.query)
		whole.Set("whole", "yes")
		f.Here = x.path(whole)
	}
	f.Groups = groupsOf(sheet.Differences(t, v.System), v)
	if t.Then == nil {
		return f
	}
	f.Train, f.First = sheet.TrainWords(*t.Then), v.Prose(sheet.FirstLimit(t.Then.FirstLimit, v.System))
	if t.First != nil && !slices.Equal(t.First, t.Then.Train) {
		f.Better = sheet.Train(t.First)
		take := cloneOf(x.query)
		for k := range take {
			if len(k) > 1 && k[0] == 's' && strings.Contains(k, ".") {
				take.Del(k)
			}
		}
		take.Set("train", strings.Join(t.First, ","))
		f.Take = x.path(take)
	}
	f.draw(t, v, x.plain())
	for _, st := range t.Then.Stages {
		f.Stages = append(f.Stages, followedStage{st.Words, st.Tap, sizeLine(st, v)})
	}
	return f
}

func cloneOf(q url.Values) url.Values {
	c := url.Values{}
	for k, v := range q {
		c[k] = slices.Clone(v)
	}
	return c
}

// draw draws the long section, the book's own laid over it, and the margins.
func (f *followed) draw(t plan.Tried, v view, plain bool) {
	now, then := t.Courses()
	if plain || now == nil {
		f.Drawing = inline(section.Long(*then, v.System))
	} else {
		f.Drawing = inline(section.Overlay(*then, *now, v.System))
	}
	if s, ok := t.ThenSubject(); ok {
		lanes := s.Lanes()
		f.Lanes, f.Table = inline(section.Lanes(lanes, v.System)), section.LaneTable(lanes, v.System)
	}
}

// sizeLine is the size of a stage in one line.
func sizeLine(st plan.Stage, v view) string {
	var parts []string
	if st.Count > 1 {
		parts = append(parts, fmt.Sprintf("%d side by side", st.Count))
	}
	for _, z := range sheet.Figures(st.Size, st, v.System) {
		parts = append(parts, z.Words+" "+v.marks(z.Amount))
	}
	for _, z := range sheet.Figures(st.Settings, st, v.System) {
		parts = append(parts, z.Words+" "+v.marks(z.Amount))
	}
	return strings.Join(parts, " · ")
}

// groupsOf parts the differences by their group, with the reader's marks.
func groupsOf(rows []sheet.Difference, v view) []differenceGroup {
	var gs []differenceGroup
	for _, d := range rows {
		d.Now, d.Then, d.Say = v.marks(d.Now), v.marks(d.Then), v.marks(d.Say)
		if len(gs) == 0 || gs[len(gs)-1].Name != d.Group {
			gs = append(gs, differenceGroup{Name: d.Group})
		}
		gs[len(gs)-1].Rows = append(gs[len(gs)-1].Rows, d)
	}
	return gs
}

// comparePage shows two variants side by side.
type comparePage struct {
	frame
	A, B    string
	TrainA  string
	TrainB  string
	Coarse  bool
	Drawing template.HTML
	Groups  []differenceGroup
	Say     string
}

// side is one of two variants.
type side struct {
	name  string
	tried plan.Tried
}

// comparedPage lays one variant over the other.
func (s *Server) comparedPage(r *http.Request, x whatif, a, b side) comparePage {
	p := comparePage{frame: s.framed(r, x.opened, "whatif", a.name+" beside "+b.name), A: a.name, B: b.name, Coarse: a.tried.Coarse || b.tried.Coarse}
	both := plan.Tried{Now: a.tried.Then, Then: b.tried.Then, RawNow: a.tried.Raw, Raw: b.tried.Raw}
	p.Groups = groupsOf(sheet.Differences(both, p.System), p.view)
	_, ca := a.tried.Courses()
	_, cb := b.tried.Courses()
	if a.tried.Then != nil {
		p.TrainA = sheet.TrainWords(*a.tried.Then)
	}
	if b.tried.Then != nil {
		p.TrainB = sheet.TrainWords(*b.tried.Then)
	}
	switch {
	case ca != nil && cb != nil:
		p.Drawing = inline(section.Overlay(*cb, *ca, p.System))
	case cb != nil:
		p.Drawing = inline(section.Long(*cb, p.System))
	default:
		p.Say = "One of the two has no train to draw."
	}
	return p
}
