package water

import (
	"fmt"
	"strings"
	"time"

	"wellwright/source"
	"wellwright/unit"
)

// ironHighPH doubts much iron in clear alkaline water.
func (c *checker) ironHighPH() {
	fe, res, ok := c.amount(Iron, Total)
	ph, _, okPH := c.amount(PH, Unspecified)
	turbidity, _, okTurbidity := c.amount(Turbidity, Unspecified)
	if !ok || !okPH || !okTurbidity || fe.v <= c.set.Of(oddIron) || ph.v <= c.set.Of(oddPH) || turbidity.v > c.set.Of(clearTurbidity) {
		return
	}
	c.add(Finding{ID: "iron_high_ph", Verdict: Doubt, Analyte: Iron, Value: fe.v, Unit: "mg/L", Kind: oddIron.Kind, From: oddIron.From, Place: res.Place,
		Say: fmt.Sprintf("iron %s mg/L in clear water (%s NTU) at pH %s: iron is not held in solution there. A slip of the unit, a late pH, or iron held by silica, phosphate or organic matter", mark(fe), mark(turbidity), mark(ph)),
		Ask: "read ferrous iron and pH on site"})
}

// chlorineInRaw doubts a raw sample that holds a residual.
func (c *checker) chlorineInRaw() {
	if !c.report.Raw() {
		return
	}
	for _, a := range []Analyte{FreeChlorine, TotalChlorine} {
		got, res, ok := c.amount(a, Unspecified)
		if !ok {
			continue
		}
		f := Finding{ID: "chlorine_in_raw", Analyte: a, Value: got.v, Unit: a.Unit(), Kind: residualSeen.Kind, From: residualSeen.From, Place: res.Place}
		f.Say = fmt.Sprintf("%s %s mg/L in a sample said to be raw", a.Name(), mark(got))
		if got.Sign != Below && got.v > c.set.Of(residualSeen) {
			f.Verdict = Doubt
			f.Say += ": it was treated or shocked. Bacteria, iron, manganese and sulfide in it do not tell of the well; nor does a coliform test"
			f.Ask = "sample again where no chlorine is left"
		}
		c.add(f)
		return
	}
}

// bottle looks at how the sample was kept.
func (c *checker) bottle() {
	fe, res, ok := amountIn(c.written, Iron, Total)
	b := c.written.Bottle
	if ok && !c.written.Field && b.Acidified != nil && !*b.Acidified {
		c.add(Finding{ID: "bottle_acid", Verdict: Notice, Analyte: Iron, Value: fe.v, Unit: "mg/L", Kind: source.Published, From: holdingSource, Place: res.Place,
			Say: fmt.Sprintf("the bottle for total iron (%s mg/L) was not acidified: iron stays on its wall and the figure is low", mark(fe)),
			Ask: "re-sample in a bottle with nitric acid"})
	}
	dissolved, dres, ok := amountIn(c.written, Iron, Dissolved)
	if ok && !c.written.Field && b.FilteredField != nil && !*b.FilteredField {
		c.add(Finding{ID: "filtered_late", Verdict: Notice, Analyte: Iron, Value: dissolved.v, Unit: "mg/L", Kind: source.CommonPractice, From: tradeUse, Place: dres.Place,
			Say: fmt.Sprintf("dissolved iron (%s mg/L) was filtered in the laboratory: out of a bottle without acid it looks too low and all iron particulate; out of one with acid it looks like the total", mark(dissolved)),
			Ask: "filter on site through 0.45 um straight into acid"})
	}
}

// holdingTimes compares the time a sample was kept with how long it keeps.
func (c *checker) holdingTimes() {
	r := c.written
	if r.Field {
		return
	}
	held, known := heldFor(r)
	for _, res := range r.Results {
		h, ok := HandlingOf(res.Analyte, res.Fraction)
		if ok && known && res.Analyte != PH {
			c.add(kept(res, h, held))
		} else if lateFlag(res.Note) {
			c.add(Finding{ID: "holding_time", Verdict: Notice, Analyte: res.Analyte, Kind: source.CommonPractice, From: "the laboratory's own qualifier", Place: res.Place,
				Say: res.Analyte.Name() + ": the laboratory marks its holding time as missed"})
		}
	}
}

// heldFor is the time between sampling and analysis. Dates without a clock time
// leave a day open, which is given to the laboratory.
func heldFor(r Report) (time.Duration, bool) {
	if r.Sampled.IsZero() || r.Analysed.IsZero() {
		return 0, false
	}
	d := r.Analysed.Sub(r.Sampled)
	if dateOnly(r.Sampled) || dateOnly(r.Analysed) {
		d -= 24 * time.Hour
	}
	return max(0, d), true
}

func dateOnly(t time.Time) bool { h, m, s := t.Clock(); return h == 0 && m == 0 && s == 0 }

// kept judges one result. Kept exactly as long as allowed is in time.
func kept(res Result, h Handling, held time.Duration) Finding {
	f := Finding{ID: "holding_time", Analyte: res.Analyte, Value: held.Hours(), Unit: "h", Kind: h.Kind, From: h.From, Place: res.Place}
	f.Say = fmt.Sprintf("%s kept %s of %s allowed", res.Analyte.Name(), span(held), span(h.Hold))
	if held > h.Hold {
		f.Verdict = Notice
		f.Say = fmt.Sprintf("%s was kept %s; it keeps %s", res.Analyte.Name(), span(held), span(h.Hold))
		if h.Spoils != "" {
			f.Say += ": " + h.Spoils
		}
		if res.Analyte.Dimension() == OfCount {
			f.Verdict, f.Ask = Doubt, "sample again and bring it the same day"
		}
	}
	return f
}

// span writes a duration in the words of a holding table.
func span(d time.Duration) string {
	switch {
	case d >= 48*time.Hour:
		return unit.Significant(d.Hours()/24, 2) + " days"
	case d >= time.Hour:
		return unit.Significant(d.Hours(), 2) + " h"
	}
	return unit.Significant(d.Minutes(), 2) + " min"
}

// lateFlag reports whether a qualifier list says that the holding time was missed.
func lateFlag(note string) bool {
	low := strings.ToLower(note)
	if strings.Contains(low, "holding time") || strings.Contains(low, "holdingtime") {
		return true
	}
	for _, w := range strings.FieldsFunc(low, func(r rune) bool { return strings.ContainsRune(" ,;", r) }) {
		if w == "h" || w == "ht" {
			return true
		}
	}
	return false
}
