package sheet

import (
	"fmt"
	"sort"
	"strings"

	"wellwright/media"
	"wellwright/plan"
	"wellwright/unit"
)

func (p *page) options(a plan.Answer) {
	p.head("Options, by expected cost over ten years")
	if len(a.Options) == 0 {
		p.wrap(2, "", noOptions(a))
	}
	if nothingMeasured(a.Water) {
		p.wrap(2, "", "Nothing was measured: these only show what an ordinary water of this kind would ask for.")
	}
	if a.Considered > 0 {
		p.wrap(2, "", fmt.Sprintf("%d lawful trains considered; %s.", a.Considered, pruned(a.Pruned)))
	}
	said := map[string]int{}
	for i, o := range a.Options {
		p.option(o, i == 0, said)
	}
	if len(a.Options) > 1 {
		p.line("")
		p.wrap(2, "", "Any of them in full, with every limit: wellwright why BOOK "+strings.Join(a.Options[1].Train, ","))
	}
}

// noOptions says why no option is listed.
func noOptions(a plan.Answer) string {
	for _, x := range a.Actions {
		if x.ID == "do-nothing" {
			return "No train is needed: doing nothing costs nothing and meets what was asked for."
		}
	}
	return "No train meets every limit in the likeliest water. See below what each lacks."
}

// pruned names the limits that ended most trains.
func pruned(m map[string]int) string {
	ids := make([]string, 0, len(m))
	for id := range m {
		ids = append(ids, id)
	}
	sort.Slice(ids, func(i, k int) bool {
		if m[ids[i]] != m[ids[k]] {
			return m[ids[i]] > m[ids[k]]
		}
		return ids[i] < ids[k]
	})
	var parts []string
	for i, id := range ids {
		if i == 5 {
			break
		}
		parts = append(parts, fmt.Sprintf("%s (%d)", plan.LimitName(id), m[id]))
	}
	if len(parts) == 0 {
		return "no limit ended any"
	}
	return "what ended most: " + strings.Join(parts, ", ")
}

// option writes one option under its rank.
func (p *page) option(o plan.Option, whole bool, said map[string]int) {
	p.line("")
	p.wrap(0, fmt.Sprintf("%d. ", o.Rank), trainWords(o))
	p.body(o, "first limit to fail: ", whole, said)
}

// body writes all of an option but its name; whole adds settings, cares, what it
// will not do and what flips the order. Said holds the cautions already printed
// and under which option, so that each is read once.
func (p *page) body(o plan.Option, mark string, whole bool, said map[string]int) {
	p.wrap(3, "", fmt.Sprintf("first %s · yearly %s · ten years %s", dollars(o.Cost.First), dollars(o.Cost.Yearly), dollars(o.Cost.TenYear)))
	p.wrap(3, "", fmt.Sprintf("with failing, callbacks and own time counted, expected over ten years: $%s", thousands(o.ExpectedCost)))
	p.wrap(3, "", fmt.Sprintf("upkeep %s h a year · to drain %s a year", figure(o.UpkeepHours, 2), amount(o.WasteGalPerYear, "gal", 2, p.s)))
	if o.MeetsProbability != nil {
		p.wrap(3, "", sureness(o))
	}
	for _, w := range o.Warnings {
		p.say(3, "mind: ", w)
	}
	if len(o.Ties) > 0 {
		p.line("   near-tie with %s: price alone does not decide", ranks(o.Ties))
	}
	if len(o.Kept) > 0 {
		p.wrap(3, "already there, vessel and valve kept: ", processes(o.Kept))
	}
	if len(o.Addons) > 0 {
		p.wrap(3, "worth offering beside it: ", processes(o.Addons))
	}
	p.wrap(3, mark, firstLimit(o.FirstLimit, p.s)+often(o))
	for _, st := range o.Stages {
		p.stage(o, st, whole, said)
	}
	if whole {
		p.rest(o)
	}
}

// sureness says in how many of the plausible wells an option does all that is
// asked, and what it costs beyond hindsight.
func sureness(o plan.Option) string {
	s := fmt.Sprintf("meets every limit in %.0f of 100 plausible wells", 100**o.MeetsProbability)
	if o.MeetsError != nil {
		s += fmt.Sprintf(" (± %.1f, over %s of them)", 100**o.MeetsError, figure(float64(o.Carried), 4))
	}
	if o.Regret != nil {
		s += fmt.Sprintf(" · $%s dearer, on the mean, than what would be best in each", thousands(*o.Regret))
	}
	return s
}

// often says how many of the plausible wells break the first limit to fail.
func often(o plan.Option) string {
	for _, l := range o.LimitsMet {
		if l.Limit == o.FirstLimit.Limit && l.Stage == o.FirstLimit.Stage && l.Probability < 1 {
			return fmt.Sprintf("; broken in %s of 100 plausible wells", figure(100*(1-l.Probability), 2))
		}
	}
	return ""
}

// rest is what is written of an option in full.
func (p *page) rest(o plan.Option) {
	b := o.Pressure
	p.wrap(3, "pressure at peak: ", fmt.Sprintf("cut-in %s, lost clean %s, lost dirty %s, left at the top fixture %s",
		p.psi(b.CutIn), p.psi(b.Clean), p.psi(b.Dirty), p.psi(b.Left)))
	if len(o.Night) > 1 {
		p.wrap(3, "washes, never two at once: ", nightWords(o.Night))
	}
	if m := o.AtOnce; m != nil && m.AnyHour {
		p.wrap(3, "two at once: ", m.Say)
	}
	p.forecast(o)
	if len(o.WillNot) > 0 {
		p.line("   what it will not do:")
		for _, w := range o.WillNot {
			p.say(6, "- ", w)
		}
	}
	p.flips(o.Flips)
}

func (p *page) psi(v float64) string { return amount(v, "psi", 2, p.s) }

// flips writes what would change the first choice, under the train that would
// then come first.
func (p *page) flips(fs []plan.Flip) {
	if len(fs) == 0 {
		return
	}
	p.line("   what would change the choice:")
	for _, f := range Flips(fs) {
		p.say(6, "- ", strings.Join(f.When, "; ")+": then "+f.Then)
	}
}

// flippedTo is the train that would come first, in words, or that there is none.
func flippedTo(to string) string {
	if strings.Contains(to, " ") {
		return to
	}
	return trainOf(strings.Split(to, ",")) + " comes first"
}

// nightWords lists when each vessel is washed.
func nightWords(slots []plan.Slot) string {
	var ws []string
	for _, n := range slots {
		if n.Minutes > 0 {
			ws = append(ws, n.Start+" "+plan.Spelt(n.Stage))
		}
	}
	return strings.Join(ws, " · ")
}

// processes names processes in words.
func processes(ids []string) string { return strings.Join(processWords(ids), ", ") }

// trainOf names the processes of a train in words, with arrows.
func trainOf(ids []string) string { return strings.Join(processWords(ids), " → ") }

func processWords(ids []string) []string {
	var ws []string
	for _, id := range ids {
		w := id
		if p, err := media.ParseProcess(id); err == nil {
			w = p.Words()
		}
		ws = append(ws, w)
	}
	return ws
}

func trainWords(o plan.Option) string {
	var ws []string
	for _, st := range o.Stages {
		w := st.Words
		if st.Count > 1 {
			w = fmt.Sprintf("%d × %s", st.Count, w)
		}
		ws = append(ws, w)
	}
	return strings.Join(ws, " → ")
}

// stage writes one stage as sized and set.
func (p *page) stage(o plan.Option, st plan.Stage, whole bool, said map[string]int) {
	name := st.Words
	if st.Tap != "" {
		name += ", tap " + st.Tap + " behind it"
	}
	p.say(3, "• ", name+extra(st))
	if f := p.figures(st.Size, st); f != "" {
		p.wrap(7, "size: ", f)
	}
	if f := p.figures(st.Settings, st); f != "" && whole {
		p.wrap(7, "set: ", f)
	}
	if b := st.Backwash; b != nil {
		mark, text := p.wash(st.Process, *b)
		p.wrap(7, mark, text)
	}
	p.findings(o, st, said)
	if !whole {
		return
	}
	for _, c := range st.Cautions {
		if said[c] == 0 { // two beds in one train share most of theirs
			p.say(7, "care: ", c)
		}
		said[c] = o.Rank
	}
}

// findings writes the cautions a stage runs into, each in full only once.
func (p *page) findings(o plan.Option, st plan.Stage, said map[string]int) {
	var again []string
	for _, f := range st.Findings {
		if f.Limit == "public_works_rate" || sameLimit(f, o.FirstLimit) {
			continue
		}
		text := why(f, p.s)
		key := st.Process + text
		if said[key] > 0 && said[key] != o.Rank {
			again = append(again, fmt.Sprintf("%s (as in %d)", plan.LimitName(f.Limit), said[key]))
			continue
		}
		said[key] = o.Rank
		p.wrap(7, "mind: ", text)
	}
	if len(again) > 0 {
		p.wrap(7, "mind: ", strings.Join(again, ", "))
	}
}

func sameLimit(a, b plan.Limit) bool {
	return a.Stage == b.Stage && a.Limit == b.Limit && a.Have == b.Have && a.Need == b.Need
}

func extra(st plan.Stage) string {
	var e []string
	if st.Label != "" {
		e = append(e, st.Label)
	}
	if st.Mode != "" {
		e = append(e, st.Mode)
	}
	if len(e) == 0 {
		return ""
	}
	return ": " + strings.Join(e, "; ")
}

// wash says what a vessel needs for its wash. A tank is only drained of sludge.
func (p *page) wash(process string, b plan.Backwash) (mark, text string) {
	days := "every " + figure(b.Days, 2) + " days"
	if b.Days == 1 {
		days = "every day"
	}
	gallons := amount(b.Gallons, "gal", 2, p.s)
	switch media.Process(process) {
	case media.ContactTank, media.PressureAeration, media.VentedAeration:
		return "sludge: ", fmt.Sprintf("drain off %s %s at %s or more", gallons, days, amount(b.Need, "gpm", 2, p.s))
	}
	mark = "wash: "
	switch media.Process(process) {
	case media.Softener, media.NitrateExchanger, media.TanninExchanger:
		mark = "regeneration: "
	}
	have, _ := unit.InSystem(b.Have, "gpm", p.s)
	need, u := unit.InSystem(b.Need, "gpm", p.s)
	h, n := apart(have, need)
	text = fmt.Sprintf("needs %s %s, has %s", n, u, h)
	if b.Need > 0 {
		text += " (" + margin(b.Have/b.Need) + ")"
	}
	return mark, fmt.Sprintf("%s; %s, %s each", text, days, gallons)
}

// forecast writes what should be read at each tap.
func (p *page) forecast(o plan.Option) {
	if rows := p.forecastRows(o); len(rows) > 2 {
		p.line("   to be read at each tap:")
		p.table(6, rows)
	}
}

// forecastRows are the readings to expect: names, units, and for each tap from the
// least to the most that error and season allow.
func (p *page) forecastRows(o plan.Option) [][]string {
	_, hard := unit.InSystem(0, "gpg", p.s)
	hard, _, _ = strings.Cut(hard, " as")
	rows := [][]string{
		{"", "iron", "ferrous", "manganese", "pH", "hardness", "chlorine", "sulfide"},
		{"", "mg/L", "mg/L", "mg/L", "", hard, "mg/L", "mg/L"},
	}
	for _, st := range o.Stages {
		if st.Tap == "" {
			continue
		}
		w := st.WaterOut
		h := each(w["hardness_gpg"], func(v float64) float64 { x, _ := unit.InSystem(v, "gpg", p.s); return x })
		rows = append(rows, []string{st.Tap, bracket(w["iron_total_mg_l"]), bracket(w["iron_ferrous_mg_l"]), bracket(w["manganese_mg_l"]),
			spanPH(w["ph"]), hardBracket(h, p.s), bracket(w["free_chlorine_mg_l"]), bracket(w["sulfide_mg_l_as_h2s"])})
	}
	return rows
}

// bracket writes a forecast as least–most; no test on site reads closer than
// 0.05 mg/L.
func bracket(r plan.Range) string { return between(r, 0.05) }

// hardBracket is bracket for hardness: a drop kit reads to half a grain.
func hardBracket(r plan.Range, s unit.System) string {
	least, _ := unit.InSystem(0.5, "gpg", s)
	return between(r, rounded(least, 1))
}

func between(r plan.Range, least float64) string {
	low, high := milligrams(r.P05), milligrams(r.P95)
	switch {
	case r.P95 <= least*1.1:
		return "<" + unit.Significant(least, 1)
	case r.P05 < least:
		return "≤" + high
	case low == high:
		return low
	}
	return low + "–" + high
}

func spanPH(r plan.Range) string {
	low, high := fmt.Sprintf("%.1f", r.P05), fmt.Sprintf("%.1f", r.P95)
	if low == high {
		return low
	}
	return low + "–" + high
}

func ranks(rs []int) string {
	var s []string
	for _, r := range rs {
		s = append(s, fmt.Sprint(r))
	}
	return strings.Join(s, ", ")
}
