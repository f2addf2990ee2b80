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
		Ask: "Read ferrous iron and pH on site"})
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
			f.Ask = "Sample again where no chlorine is left"
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
			Ask: "Re-sample in a bottle with nitric acid"})
	}
	dissolved, dres, ok := amountIn(c.written, Iron, Dissolved)
	if ok && !c.written.Field && b.FilteredField != nil && !*b.FilteredField {
		c.add(Finding{ID: "filtered_late", Verdict: Notice, Analyte: Iron, Value: dissolved.v, Unit: "mg/L", Kind: source.CommonPractice, From: tradeUse, Place: dres.Place,
			Say: fmt.Sprintf("dissolved iron (%s mg/L) was filtered in the laboratory: out of a bottle without acid it looks too low and all iron particulate; out of one with acid it looks like the total", mark(dissolved)),
			Ask: "Filter on site through 0.45 um straight into acid"})
	}
}

// holdingTimes compares the time a sample was kept with how long each test of it
// keeps: one finding, which lists what was late.
func (c *checker) holdingTimes() {
	if c.written.Field {
		return
	}
	if f, ok := c.lateness(); ok {
		c.add(f)
	}
}

// lateness gathers what was late by its dates and by the laboratory's own mark;
// not ok if neither tells anything.
func (c *checker) lateness() (Finding, bool) {
	held, known := heldFor(c.written)
	f := Finding{ID: "holding_time", Value: held.Hours(), Kind: source.Published, From: holdingSource}
	var late, marked []string
	judged := 0
	for _, res := range c.written.Results {
		h, ok := HandlingOf(res.Analyte, res.Fraction)
		switch {
		case ok && known && res.Analyte != PH:
			judged++
			if held > h.Hold {
				late = append(late, keeps(res, h))
				f.late(res, h.Kind, h.From)
			}
		case lateFlag(res.Note):
			marked = append(marked, fullName(res))
			f.late(res, source.CommonPractice, "the laboratory's own qualifier")
		}
	}
	if judged > 0 {
		f.Unit = "h"
	}
	f.Say = lateSays(held, judged, late, marked)
	return f, judged+len(marked) > 0
}

// late makes the finding one on a late result. Germs die or grow: a late count is
// in doubt, where any other figure is noted.
func (f *Finding) late(res Result, kind source.Kind, from string) {
	verdict := Notice
	if res.Analyte.Dimension() == OfCount {
		verdict, f.Ask = Doubt, "Sample again and bring it the same day"
	}
	if verdict > f.Verdict {
		f.Verdict, f.Analyte, f.Place, f.Kind, f.From = verdict, res.Analyte, res.Place, kind, from
	}
}

// keeps words how long a test keeps and what happens after. Kept exactly as long
// as allowed is in time.
func keeps(res Result, h Handling) string {
	s := fmt.Sprintf("%s keeps %s", fullName(res), span(h.Hold))
	if h.Spoils != "" {
		s += " (" + h.Spoils + ")"
	}
	return s
}

func fullName(r Result) string {
	if r.Fraction == Unspecified {
		return r.Analyte.Name()
	}
	return r.Fraction.String() + " " + r.Analyte.Name()
}

func lateSays(held time.Duration, judged int, late, marked []string) string {
	var parts []string
	switch {
	case len(late) > 0:
		parts = append(parts, fmt.Sprintf("kept %s, too long: %s", span(held), strings.Join(late, "; ")))
	case judged > 0:
		parts = append(parts, fmt.Sprintf("kept %s: all %d results within their holding times", span(held), judged))
	}
	if len(marked) > 0 {
		parts = append(parts, "the laboratory marks the holding time as missed: "+strings.Join(marked, ", "))
	}
	return strings.Join(parts, "; ")
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
