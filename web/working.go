package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/sheet"
	"wellwright/source"
	"wellwright/train"
	"wellwright/unit"
	"wellwright/web/internal/warm"
)

// openable is a figure that may be opened.
type openable struct {
	Words string // the figure as it is shown
	Name  string // what it is, in words
	Path  string // of its working; "" if there is none
}

// opener knows which figures of an answer can be opened.
type opener struct {
	here
	train []string // nil for the evidence
	steps []formula.Placed
}

// openEvidence opens what is believed of the raw water.
func openEvidence(k *warm.Kept, h here) opener { return opener{h, nil, k.Steps(nil)} }

// openOption opens the figures of an option.
func openOption(k *warm.Kept, h here, ids []string) opener {
	t, err := train.Parse(strings.Join(ids, ","))
	if err != nil {
		return opener{}
	}
	return opener{h, ids, k.Steps(t)}
}

// workingAt is the path of the workings of a train, or of the evidence.
func (h here) workingAt(ids []string, q url.Values) string {
	if len(ids) > 0 {
		q.Set("train", strings.Join(ids, ","))
	}
	return h.path("/working", q)
}

// figure is a figure of a place as it is shown, to be opened if it can be.
func (p opener) figure(place, figure, words string) openable {
	x := openable{Words: words, Name: figureWords(figure)}
	for _, s := range p.steps {
		if s.Place == place && s.Figure == figure {
			x.Path = p.working(s)
			break
		}
	}
	return x
}

// working is where the working of a step stands.
func (p opener) working(s formula.Placed) string {
	return p.workingAt(p.train, url.Values{"stage": {s.Place}, "figure": {s.Figure}})
}

// rest are the figures of a place that can be opened besides those named.
func (p opener) rest(place string, but ...string) []openable {
	var out []openable
	for _, s := range p.steps {
		if s.Place == place && !slices.Contains(but, s.Figure) {
			out = append(out, openable{Words: stepValue(s), Name: figureWords(s.Figure), Path: p.working(s)})
		}
	}
	return out
}

// figureWords names a figure of a working.
func figureWords(figure string) string {
	words, _ := sheet.LeafWords(figure)
	return words
}

func stepValue(s formula.Placed) string {
	_, u := sheet.LeafWords(s.Figure)
	if s.Unit != "" {
		u = s.Unit
	}
	return strings.TrimSpace(unit.Significant(s.Value, 3) + " " + u)
}

// workingPage is the working of figures, each with its formula, values and factors.
type workingPage struct {
	frame
	Of     string // the train in words; "" for the evidence
	Back   string
	All    string // path of all workings of the train
	Places []workingPlace
}

// workingPlace is the workings of one stage.
type workingPlace struct {
	Name  string
	Steps []workingStep
}

// workingStep is one figure worked out.
type workingStep struct {
	ID, Name, Value, Equation, Source string
	Symbols                           []symbolRow
	Factors                           []usedFactor
	Formula                           string // its name on the bench; "" if it has none
}

// symbolRow is a letter of an equation with its value.
type symbolRow struct{ Name, Value string }

// usedFactor is a factor in a working.
type usedFactor struct {
	Name, What, Value, Range, Kind, From, Path string
	Own                                        bool
}

// showWorking handles GET /wells/{well}/working, with train, stage and figure in
// the query; without a train it is that of the evidence.
func (s *Server) showWorking(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	q := r.URL.Query()
	t, err := trainOf(q.Get("train"))
	if err != nil {
		return bad("train: " + err.Error())
	}
	k, _, ok, err := s.answered(w, r, o, "options")
	if !ok {
		return err
	}
	d, err := k.Desk()
	if err != nil {
		return err
	}
	h := o.here(r)
	page, title, steps := "forms", "What is believed, worked out", d.EvidenceWorking()
	p := workingPage{Back: h.path("/forms", nil), All: h.workingAt(nil, url.Values{})}
	if t != nil {
		page, title = "options", "Worked out"
		p.Of, p.Back, p.All = sheet.Train(names(t)), h.path("/options", nil), h.workingAt(names(t), url.Values{})
		if steps, err = d.Working(t); err != nil {
			return bad(err.Error())
		}
	}
	p.frame = s.framed(r, o, page, title)
	p.Places = placesOf(steps, q.Get("stage"), q.Get("figure"), h, p.view)
	if len(p.Places) == 0 {
		return missing("there is no working of that figure here")
	}
	if r.Header.Get("HX-Request") == "true" && q.Get("figure") != "" {
		return s.renderPart(w, "working.html", "steps", p)
	}
	return s.render(w, r, "working.html", p)
}

// placesOf are the workings under the stage they belong to; a stage and a figure
// narrow them down.
func placesOf(steps []formula.Placed, stage, figure string, h here, v view) []workingPlace {
	var places []workingPlace
	for _, s := range steps {
		if stage != "" && s.Place != stage || figure != "" && s.Figure != figure {
			continue
		}
		name := placeWords(s.Place)
		if len(places) == 0 || places[len(places)-1].Name != name {
			places = append(places, workingPlace{Name: name})
		}
		at := &places[len(places)-1]
		at.Steps = append(at.Steps, stepOf(s, h, v))
	}
	return places
}

// placeWords names a stage, or what else a working belongs to.
func placeWords(place string) string {
	if p, err := media.ParseProcess(place); err == nil {
		return p.Words()
	}
	return place
}

func stepOf(s formula.Placed, h here, v view) workingStep {
	x := workingStep{Name: figureWords(s.Figure), Value: v.marks(stepValue(s)), Equation: s.Equation, Source: s.Source, Formula: s.Formula}
	for _, y := range s.Symbols {
		x.Symbols = append(x.Symbols, symbolRow{y.Name, v.marks(unit.Significant(y.Value, 4)) + " " + y.Unit})
	}
	for _, f := range s.Factors {
		x.Factors = append(x.Factors, usedOf(f, h, v))
	}
	return x
}

func usedOf(f source.Factor, h here, v view) usedFactor {
	return usedFactor{Name: f.Name, What: f.What, Value: v.marks(strings.TrimSpace(unit.Significant(f.Value, 4) + " " + f.Unit)), Range: factorRange(f, v), Kind: f.Kind.String(), From: f.From,
		Path: h.path("/factors", url.Values{"q": {f.Name}}), Own: f.Kind == source.Own}
}

// factorRange is the range in use or in print; "" if none is known.
func factorRange(f source.Factor, v view) string {
	if !f.HasRange() {
		return ""
	}
	return v.marks(unit.Significant(f.Low, 4) + " to " + unit.Significant(f.High, 4))
}
