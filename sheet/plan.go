package sheet

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"wellwright/media"
	"wellwright/plan"
	"wellwright/unit"
)

// Plan writes the whole answer as text: health and safety first, then the
// checks, the forms of iron, what to do before any train, the options, what was
// not chosen and why, and the cautions.
func Plan(a plan.Answer, s unit.System) string {
	p := &page{}
	p.line("%s · as of %s · limits: %s (advice for a private well; local code may ask more)", a.Well, a.AsOf, a.Limits)
	p.alerts(a.Alerts)
	p.evidence(a)
	p.forms(a.Forms)
	p.actions(a.Actions)
	p.options(a, s)
	p.rejected(a.Rejected)
	p.cautions(a)
	return p.String()
}

// Options writes the options alone.
func Options(a plan.Answer, s unit.System) string {
	p := &page{}
	p.line("%s · as of %s", a.Well, a.AsOf)
	p.options(a, s)
	p.rejected(a.Rejected)
	return p.String()
}

// Forms writes the forms of iron and what they rest on.
func Forms(a plan.Answer) string {
	p := &page{}
	p.line("%s · as of %s", a.Well, a.AsOf)
	p.conflicts(a.Conflicts)
	p.forms(a.Forms)
	return p.String()
}

// Checks writes the checks and conflicts alone.
func Checks(a plan.Answer) string {
	p := &page{}
	p.line("%s · as of %s", a.Well, a.AsOf)
	p.alerts(a.Alerts)
	p.evidence(a)
	return p.String()
}

func (p *page) alerts(as []plan.Alert) {
	p.head("Health and safety")
	if len(as) == 0 {
		p.line("  Nothing found above a health value in what was tested. What was not tested is not known.")
	}
	for _, a := range as {
		p.wrap(2, alertWords[a.Rank], a.Say+basis(a.Basis))
	}
}

// alertWords stand before an alert by its rank.
var alertWords = map[int]string{1: "STOP NOW: ", 2: "act: ", 3: "watch: "}

func basis(b string) string {
	if b == "" {
		return ""
	}
	return " [" + b + "]"
}

func (p *page) evidence(a plan.Answer) {
	p.head("Checks on the evidence")
	var passed []string
	for _, c := range a.Checks {
		if c.Verdict == "ok" {
			if words := strings.ReplaceAll(c.ID, "_", " "); !contains(passed, words) {
				passed = append(passed, words)
			}
			continue
		}
		p.wrap(2, c.Verdict+": ", c.Say)
	}
	if len(passed) > 0 {
		p.wrap(2, "passed: ", strings.Join(passed, ", "))
	}
	if len(a.Checks) == 0 {
		p.line("  No report to check.")
	}
	p.conflicts(a.Conflicts)
}

func (p *page) conflicts(cs []plan.Conflict) {
	if len(cs) == 0 {
		return
	}
	p.head("Conflicts")
	for _, c := range cs {
		p.wrap(2, "· ", c.Say)
		for i, share := range percents(c.Explanations) {
			p.wrap(6, fmt.Sprintf("%3d %%  ", share), c.Explanations[i].Say)
		}
	}
}

// percents rounds probabilities to whole per cents that add up as the
// probabilities do; the likeliest takes what rounding leaves over.
func percents(es []plan.Explanation) []int {
	shares := make([]int, len(es))
	sum, total, likeliest := 0, 0.0, 0
	for i, e := range es {
		shares[i] = int(math.Round(100 * e.Probability))
		sum += shares[i]
		total += 100 * e.Probability
		if e.Probability > es[likeliest].Probability {
			likeliest = i
		}
	}
	if len(es) > 0 {
		shares[likeliest] += int(math.Round(total)) - sum
	}
	return shares
}

func (p *page) forms(f plan.Forms) {
	p.head("Forms of iron, mg/L")
	rows := [][]string{{"", "likeliest", "from", "to"}}
	for _, r := range []struct {
		name string
		plan.Range
	}{{"total", f.Total}, {"ferrous (dissolved, clear at the tap)", f.Ferrous}, {"particulate (rust)", f.Particulate}, {"bound (colloidal or organic)", f.Bound}} {
		rows = append(rows, []string{r.name, unit.Significant(r.P50, 2), unit.Significant(r.P05, 2), unit.Significant(r.P95, 2)})
	}
	p.table(2, rows)
	p.line("  iron bacteria: %s", chance(float64(f.Bacteria)))
	for _, c := range f.Evidence {
		p.wrap(4, "- ", fmt.Sprintf("%s (%s; %s)", c.Say, weight(c), c.Kind))
	}
}

// weight says how far a clue moves the odds.
func weight(c plan.Clue) string {
	switch {
	case c.TimesLikelier == 0 || c.TimesLikelier == 1:
		return c.Toward
	case c.TimesLikelier > 1:
		return fmt.Sprintf("%s times likelier %s", unit.Significant(c.TimesLikelier, 2), c.Toward)
	}
	return fmt.Sprintf("%s times less likely %s", unit.Significant(1/c.TimesLikelier, 2), c.Toward)
}

// chance puts a probability into words with its figure.
func chance(v float64) string {
	words := "unlikely"
	switch {
	case v >= 0.9:
		words = "very likely"
	case v >= 0.6:
		words = "likely"
	case v >= 0.4:
		words = "as likely as not"
	case v < 0.1:
		words = "very unlikely"
	}
	return fmt.Sprintf("%s (%s)", words, unit.Significant(v, 2))
}

func (p *page) actions(as []plan.Action) {
	p.head("Before or instead of any train")
	if len(as) == 0 {
		p.line("  Nothing found.")
	}
	for _, a := range as {
		p.wrap(2, "> ", a.Say)
		if a.Why != "" {
			p.wrap(4, "", a.Why)
		}
	}
}

func (p *page) options(a plan.Answer, s unit.System) {
	p.head("Options, by expected cost over ten years")
	if len(a.Options) == 0 {
		p.wrap(2, "", noOptions(a))
	}
	if a.Considered > 0 {
		p.wrap(2, "", fmt.Sprintf("%d lawful trains considered; %s.", a.Considered, pruned(a.Pruned)))
	}
	for i, o := range a.Options {
		p.option(o, s, i == 0)
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
		if i == 6 {
			parts = append(parts, "and others")
			break
		}
		parts = append(parts, fmt.Sprintf("%s ended %d", strings.ReplaceAll(id, "_", " "), m[id]))
	}
	if len(parts) == 0 {
		return "none was ended by a limit"
	}
	return strings.Join(parts, ", ")
}

// option writes one option; whole adds cares, what it will not do and what flips
// the order.
func (p *page) option(o plan.Option, s unit.System, whole bool) {
	p.line("")
	p.wrap(0, fmt.Sprintf("%d. ", o.Rank), trainWords(o))
	p.line("   first %s · yearly %s · ten years %s", dollars(o.Cost.First), dollars(o.Cost.Yearly), dollars(o.Cost.TenYear))
	p.line("   expected over ten years, failing, callbacks and own time counted: $%s", thousands(o.ExpectedCost))
	p.line("   upkeep %s h a year · to drain %s a year", unit.Significant(o.UpkeepHours, 2), gallons(roundTo2(o.WasteGalPerYear), s))
	if n := len(o.Ties); n > 0 && n < 4 {
		p.line("   near-tie with %s: price alone does not decide", ranks(o.Ties))
	}
	if len(o.Kept) > 0 {
		p.line("   already there, vessel and valve kept: %s", processes(o.Kept))
	}
	if len(o.Addons) > 0 {
		p.line("   worth offering beside it: %s", processes(o.Addons))
	}
	p.wrap(3, "first limit to fail: ", limitWords(o.FirstLimit))
	for _, st := range o.Stages {
		p.stage(st, s, whole)
	}
	if whole {
		p.rest(o, s)
	}
}

// rest is what is written of an option in full.
func (p *page) rest(o plan.Option, s unit.System) {
	b := o.Pressure
	p.line("   pressure at peak: cut-in %s, clean loss %s, dirty loss %s, left at the top fixture %s",
		psi(b.CutIn, s), psi(b.Clean, s), psi(b.Dirty, s), psi(b.Left, s))
	if len(o.Night) > 1 {
		p.wrap(3, "washes, never two at once: ", nightWords(o.Night))
	}
	p.forecast(o, s)
	for _, w := range o.WillNot {
		p.wrap(3, "will not: ", w)
	}
	for _, f := range o.Flips {
		p.wrap(3, "flips: ", f.Say)
	}
}

// nightWords lists when each vessel is washed.
func nightWords(slots []plan.Slot) string {
	var ws []string
	for _, n := range slots {
		if n.Minutes <= 0 {
			continue
		}
		ws = append(ws, fmt.Sprintf("%s %s", n.Start, strings.ReplaceAll(n.Stage, "-", " ")))
	}
	return strings.Join(ws, " · ")
}

// processes names processes in words.
func processes(ids []string) string {
	var ws []string
	for _, id := range ids {
		if p, err := media.ParseProcess(id); err == nil {
			ws = append(ws, p.Words())
		}
	}
	return strings.Join(ws, ", ")
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
func (p *page) stage(st plan.Stage, s unit.System, whole bool) {
	name := st.Words
	if st.Tap != "" {
		name += " (" + st.Tap + " behind it)"
	}
	p.wrap(3, "• ", name+extra(st))
	if f := figures(st.Size, s); f != "" {
		p.wrap(7, "size: ", f)
	}
	if f := figures(st.Settings, s); f != "" && whole {
		p.wrap(7, "set: ", f)
	}
	if b := st.Backwash; b != nil {
		p.wrap(7, "wash: ", washWords(*b, s))
	}
	for _, f := range st.Findings {
		if f.Limit != "public_works_rate" {
			p.wrap(7, "mind: ", limitWords(f))
		}
	}
	if !whole {
		return
	}
	for _, c := range st.Cautions {
		p.wrap(7, "care: ", c)
	}
}

func extra(st plan.Stage) string {
	var e []string
	if st.Count > 1 {
		e = append(e, fmt.Sprintf("%d in parallel, washed one after the other", st.Count))
	}
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

func washWords(b plan.Backwash, s unit.System) string {
	margin := ""
	if b.Need > 0 {
		margin = fmt.Sprintf(" (margin %s)", unit.Significant(b.Have/b.Need, 3))
	}
	return fmt.Sprintf("needs %s, has %s%s, every %s days, %s",
		unit.GPM(b.Need).In(s), unit.GPM(b.Have).In(s), margin, unit.Significant(b.Days, 2), unit.Gal(b.Gallons).In(s))
}

// limitWords puts a limit into one line with have, need and margin.
func limitWords(l plan.Limit) string {
	if l.Limit == "" {
		return "none comes near"
	}
	word := "at least"
	if l.AtMost {
		word = "at most"
	}
	say := l.Say
	switch l.Unit {
	case "yes or no", "lawful drain", "count", "chlorine feed ahead":
		return fmt.Sprintf("%s: %s", strings.ReplaceAll(l.Stage, "-", " "), say)
	}
	in := ""
	if l.Water != "middle" {
		in = ", in the " + l.Water + " water"
	}
	if !l.Fails {
		say = "nothing fails; nearest is " + strings.ReplaceAll(strings.ReplaceAll(l.Limit, "_", " "), "-", " ")
	}
	return fmt.Sprintf("%s: %s; has %s, needs %s %s %s (margin %s%s)", strings.ReplaceAll(l.Stage, "-", " "), say,
		unit.Digits(l.Have), word, unit.Digits(l.Need), l.Unit, unit.Significant(l.Margin, 3), in)
}

// forecast writes what should be read at each tap.
func (p *page) forecast(o plan.Option, s unit.System) {
	hard := "hardness gpg"
	if s == unit.Metric {
		hard = "hardness mg/L"
	}
	rows := [][]string{{"forecast at", "Fe mg/L", "ferrous", "Mn mg/L", "pH", hard, "free Cl2", "H2S"}}
	for _, st := range o.Stages {
		if st.Tap == "" {
			continue
		}
		w := st.WaterOut
		h := w["hardness_gpg"]
		if s == unit.Metric {
			h = plan.Range{P05: h.P05 * 17.118061, P50: h.P50 * 17.118061, P95: h.P95 * 17.118061}
		}
		rows = append(rows, []string{st.Tap, upTo(w["iron_total_mg_l"]), upTo(w["iron_ferrous_mg_l"]), upTo(w["manganese_mg_l"]),
			spanPH(w["ph"]), upTo(h), upTo(w["free_chlorine_mg_l"]), upTo(w["sulfide_mg_l_as_h2s"])})
	}
	if len(rows) > 1 {
		p.table(3, rows)
	}
}

// upTo writes a small forecast as a bound: no test strip reads hundredths.
func upTo(r plan.Range) string {
	if r.P95 < 0.05 {
		return "<0.05"
	}
	return span(r, 2)
}

func spanPH(r plan.Range) string {
	low, high := fmt.Sprintf("%.1f", r.P05), fmt.Sprintf("%.1f", r.P95)
	if low == high {
		return low
	}
	return low + "–" + high
}

func (p *page) rejected(rs []plan.Rejected) {
	if len(rs) == 0 {
		return
	}
	p.head("Not chosen, and the first limit to fail")
	for _, r := range rs {
		p.wrap(2, "x ", trainOf(r.Train)+": "+r.Say)
	}
}

func (p *page) cautions(a plan.Answer) {
	p.head("Cautions")
	for _, c := range a.Cautions {
		p.wrap(2, "· ", c)
	}
	if len(a.Assumed) > 0 {
		p.head("Assumed, because nobody measured it")
		for _, x := range a.Assumed {
			p.wrap(2, "· ", fmt.Sprintf("%s: %s %s [%s: %s]", strings.ReplaceAll(x.Name, "_", " "), span(x.Value, 2), x.Unit, x.Kind, x.From))
		}
	}
	if len(a.Own) > 0 {
		p.head("Own values in place of ours")
		for _, f := range a.Own {
			p.wrap(2, "· ", fmt.Sprintf("%s = %s %s (%s)", f.Name, unit.Digits(f.Value), f.Unit, f.From))
		}
	}
}

// trainOf names the processes of a train in words, with arrows.
func trainOf(ids []string) string {
	var ws []string
	for _, id := range ids {
		w := id
		if p, err := media.ParseProcess(id); err == nil {
			w = p.Words()
		}
		ws = append(ws, w)
	}
	return strings.Join(ws, " → ")
}

func ranks(rs []int) string {
	var s []string
	for _, r := range rs {
		s = append(s, fmt.Sprint(r))
	}
	return strings.Join(s, ", ")
}

// dollars writes a cost to two figures, as prices known to tens of per cent bear.
func dollars(r plan.Range) string {
	return fmt.Sprintf("$%s (%s–%s)", thousands(r.P50), thousands(r.P05), thousands(r.P95))
}

// thousands rounds to two figures and sets the thousands off.
func thousands(v float64) string {
	n := int(math.Round(roundTo2(v)))
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%d,%03d", n/1000, n%1000)
}

func roundTo2(v float64) float64 {
	if v <= 0 {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Round(v/step) * step
}

func gallons(v float64, s unit.System) string { return unit.Gal(v).In(s) }

func psi(v float64, s unit.System) string { return unit.PSI(v).In(s) }
