package water

import (
	"fmt"
	"math"
	"time"

	"wellwright/source"
	"wellwright/unit"
)

// ironAlkalinity is the alkalinity used when ferrous iron is oxidised and drops
// out, mg/L as CaCO3 for each mg/L: two equivalents of acid a mole (derived).
var ironAlkalinity = 2 * equivalentCaCO3 / massFe

// limitOf is the reporting limit of a result in canonical units, zero if not said.
func limitOf(r Result) float64 {
	if r.Limit == nil {
		return 0
	}
	r.Value, r.Sign = *r.Limit, Exact
	got, err := r.Amount()
	if err != nil {
		return 0
	}
	return got.v
}

// over reports whether part exceeds whole by more than scatter and the reporting limit.
func (c *checker) over(part, whole Amount, res Result) bool {
	return part.Sign != Below && whole.Sign != Above && part.v > c.set.Of(fractionScatter)*whole.v+limitOf(res)
}

// ferrousOverTotal catches total iron below the ferrous iron in it.
func (c *checker) ferrousOverTotal() {
	ferrous, fres, ok := c.either(Iron, FerrousIron)
	total, tres, okTotal := c.amount(Iron, Total)
	if !ok || !okTotal {
		return
	}
	f := Finding{ID: "ferrous_over_total", Analyte: Iron, Value: ferrous.v, Unit: "mg/L", Kind: fractionScatter.Kind, From: fractionScatter.From, Place: tres.Place}
	if !c.over(ferrous, total, tres) {
		f.Say = fmt.Sprintf("ferrous iron %s of total %s mg/L", mark(ferrous), mark(total))
		c.add(f)
		return
	}
	f.Verdict, f.SetAside, f.Use = Impossible, []Result{tres}, []Result{fres}
	f.Say = fmt.Sprintf("ferrous iron %s mg/L is more than the total of %s mg/L it is part of: %s. Set the total of %s aside; work with %s, for ferrous is in any total",
		mark(ferrous), mark(total), c.bottleSays(), mark(total), c.ironRange(ferrous, &f))
	f.Ask = "Re-sample for total iron in a bottle with nitric acid"
	c.add(f)
}

// bottleSays words why a bottle's total may be low.
func (c *checker) bottleSays() string {
	switch {
	case c.report.Bottle.Acidified == nil:
		return "most likely the bottle was not acidified and iron stayed on its wall"
	case !*c.report.Bottle.Acidified:
		return "the bottle was not acidified, and iron stayed on its wall"
	}
	return "the bottle is said to be acidified, so suspect a swapped label, or a ferrous kit read late or in strong light"
}

// ironRange words the iron to work with meanwhile.
func (c *checker) ironRange(ferrous Amount, f *Finding) string {
	least := fmt.Sprintf("at least %s mg/L", mark(ferrous))
	site, res, ok := c.onSite(Iron, Total)
	if !ok || site.v < ferrous.v {
		return least
	}
	f.Use = append(f.Use, res)
	return fmt.Sprintf("%s to %s mg/L as read on site", mark(ferrous), mark(site))
}

// ferrousOverDissolved catches filtered iron that rusted before it was filtered.
func (c *checker) ferrousOverDissolved() {
	ferrous, fres, ok := c.either(Iron, FerrousIron)
	dissolved, dres, okDissolved := c.amount(Iron, Dissolved)
	if !ok || !okDissolved {
		return
	}
	f := Finding{ID: "ferrous_over_dissolved", Analyte: Iron, Value: ferrous.v, Unit: "mg/L", Kind: fractionScatter.Kind, From: fractionScatter.From, Place: dres.Place}
	if !c.over(ferrous, dissolved, dres) {
		f.Say = fmt.Sprintf("ferrous iron %s of dissolved %s mg/L", mark(ferrous), mark(dissolved))
		c.add(f)
		return
	}
	f.Verdict, f.SetAside, f.Use = Doubt, []Result{dres}, []Result{fres}
	f.Say = fmt.Sprintf("ferrous iron %s mg/L passes the filter, yet the filtered bottle holds %s mg/L: it rusted before it was filtered, or lost iron to its wall. Set the filtered figure aside; trust the ferrous one",
		mark(ferrous), mark(dissolved))
	f.Ask = "Filter on site through 0.45 um straight into acid"
	c.add(f)
}

// dissolvedOverTotalID names the check of one analyte.
func dissolvedOverTotalID(a Analyte) string { return "dissolved_over_total_" + string(a) }

// dissolvedOverTotal catches a part that is more than the whole, for every
// analyte measured both ways.
func (c *checker) dissolvedOverTotal() {
	for _, a := range Analytes() {
		part, pres, ok := c.amount(a, Dissolved)
		whole, wres, okWhole := c.amount(a, Total)
		if !ok || !okWhole || !a.hasFraction() {
			continue
		}
		f := Finding{ID: dissolvedOverTotalID(a), Analyte: a, Value: part.v, Unit: a.Unit(), Kind: fractionScatter.Kind, From: fractionScatter.From, Place: pres.Place}
		if c.over(part, whole, wres) && part.v > c.set.Of(fractionScatter)*whole.v+limitOf(pres) {
			f.Verdict = Doubt
			f.Say = fmt.Sprintf("%s dissolved %s is above total %s %s: different bottles, dilutions or swapped labels. Do not use their ratio", a.Name(), mark(part), mark(whole), a.Unit())
			f.Ask = "Ask the laboratory to check both bottles"
		} else {
			f.Say = fmt.Sprintf("%s dissolved %s of total %s %s", a.Name(), mark(part), mark(whole), a.Unit())
		}
		c.add(f)
	}
}

// phDrift compares the pH of the bottle with that on site.
func (c *checker) phDrift() {
	lab, lres, ok := c.amount(PH, Unspecified)
	site, sres, okSite := c.onSite(PH, Unspecified)
	if !ok || c.report.Field {
		return
	}
	if !okSite {
		c.add(Finding{ID: "ph_drift", Verdict: Notice, Analyte: PH, Value: lab.v, Unit: "pH",
			Say: fmt.Sprintf("pH %s was read in the laboratory; carbon dioxide leaves a bottle, so that at the tap it is likely lower", mark(lab)),
			Ask: "Read pH on site", Kind: source.Published, From: holdingSource + " (pH: 15 minutes)", Place: lres.Place})
		return
	}
	rise := lab.v - site.v
	f := Finding{ID: "ph_drift", Analyte: PH, Value: rise, Unit: "pH", Use: []Result{sres}, Kind: phDriftAllowed.Kind, From: phDriftAllowed.From, Place: lres.Place}
	switch allowed := c.set.Of(phDriftAllowed); {
	case rise > allowed+tiny:
		f.Verdict, f.SetAside = Notice, []Result{lres}
		f.Say = fmt.Sprintf("laboratory pH %s is %s above the %s of the tap: carbon dioxide left the bottle. Work with the field pH", mark(lab), unit.Digits(rise), mark(site))
	case rise < -allowed-tiny:
		f.Verdict, f.SetAside = Notice, []Result{lres}
		f.Say = fmt.Sprintf("laboratory pH %s is %s below the %s of the tap: iron that rusts in the bottle makes acid, or a meter is off. Work with the field pH", mark(lab), unit.Digits(-rise), mark(site))
	default:
		f.Say = fmt.Sprintf("laboratory pH %s against %s on site", mark(lab), mark(site))
	}
	c.add(f)
}

// tiny takes up the rounding of a subtraction of two printed figures.
const tiny = 1e-9

// alkalinityLost compares two alkalinities, and their difference with the
// alkalinity that iron uses while it drops out.
//
//	dA = 1.79 Fe
//
//	dA  alkalinity lost, mg/L as CaCO3
//	Fe  ferrous iron that oxidised, mg/L
//
// Source: derived from 4 Fe2+ + O2 + 10 H2O = 4 Fe(OH)3 + 8 H+.
func (c *checker) alkalinityLost() {
	lab, lres, ok := c.amount(Alkalinity, Unspecified)
	site, sres, okSite := c.onSite(Alkalinity, Unspecified)
	if !ok || !okSite {
		return
	}
	lost := site.v - lab.v
	f := Finding{ID: "alkalinity_lost", Analyte: Alkalinity, Value: lost, Unit: "mg/L as CaCO3", Kind: source.Derived, From: "two equivalents of acid for each mole of iron", Place: lres.Place}
	both := fmt.Sprintf("alkalinity %s on site, %s mg/L as CaCO3 in the laboratory", mark(site), mark(lab))
	iron, expected := c.ironToRust()
	scatter := max(c.set.Of(alkalinityShare)/100*site.v, c.set.Of(hardnessGap))
	switch {
	case iron > 0 && lost >= c.set.Of(hardnessGap) && math.Abs(lost-expected) <= max(c.set.Of(hardnessGap), 0.3*expected):
		f.Verdict, f.SetAside, f.Use = Notice, []Result{lres}, []Result{sres}
		f.Say = fmt.Sprintf("%s: the missing %s mg/L is that of iron that dropped out in the bottle (%.2f x %s = %s). Work with the %s of the site",
			both, unit.Digits(lost), ironAlkalinity, unit.Digits(iron), unit.Digits(expected), mark(site))
	case math.Abs(lost) <= scatter:
		f.Say = both
	default:
		f.Verdict, f.Use = Doubt, []Result{sres}
		f.Say = fmt.Sprintf("%s: they differ by %s mg/L, and iron dropping out explains %s", both, unit.Digits(math.Abs(lost)), unit.Digits(expected))
		f.Ask = "Titrate again on site"
	}
	c.add(f)
}

// ironToRust is the iron that can drop out in a bottle, mg/L, and the alkalinity that uses.
func (c *checker) ironToRust() (iron, alkalinity float64) {
	fe, _, ok := c.amount(Iron, Dissolved)
	if !ok {
		fe, _, ok = c.either(Iron, FerrousIron)
	}
	if !ok || fe.Sign == Below {
		return 0, 0
	}
	return fe.v, ironAlkalinity * fe.v
}

// sulfideLost catches sulfide that left the bottle.
func (c *checker) sulfideLost() {
	lab, lres, ok := c.amount(Sulfide, Unspecified)
	site, sres, okSite := c.onSite(Sulfide, Unspecified)
	if !ok || !okSite || site.Sign == Below {
		return
	}
	f := Finding{ID: "sulfide_lost", Analyte: Sulfide, Value: site.v, Unit: "mg/L as H2S", Kind: sulfideKept.Kind, From: sulfideKept.From, Place: lres.Place}
	f.Say = fmt.Sprintf("sulfide %s on site, %s mg/L as H2S in the laboratory", mark(site), mark(lab))
	if site.v >= c.set.Of(sulfideSeen) && lab.value(AtLimit) < c.set.Of(sulfideKept)*site.v {
		f.Verdict, f.SetAside, f.Use = Notice, []Result{lres}, []Result{sres}
		f.Say += ": it was lost from the bottle. Work with the figure of the site"
		f.Ask = "Sulfide keeps only in a full glass bottle with zinc acetate and caustic"
	}
	c.add(f)
}

// turbidityRust catches turbidity that is iron dropped out on the way.
func (c *checker) turbidityRust() {
	lab, lres, ok := c.amount(Turbidity, Unspecified)
	if !ok || c.report.Field {
		return
	}
	iron, _ := c.ironToRust()
	site, sres, okSite := c.onSite(Turbidity, Unspecified)
	f := Finding{ID: "turbidity_rust", Analyte: Turbidity, Value: lab.v, Unit: "NTU", Kind: rustTurbidity.Kind, From: rustTurbidity.From, Place: lres.Place}
	rusty := iron >= c.set.Of(ironTells)
	switch {
	case okSite && rusty && lab.Sign != Below && lab.v > c.set.Of(rustTurbidity)*site.v && lab.v-site.v > 1:
		f.Verdict, f.SetAside, f.Use = Notice, []Result{lres}, []Result{sres}
		f.Say = fmt.Sprintf("turbidity %s NTU in the laboratory%s against %s at once on site: iron that dropped out in the bottle, not sediment", mark(lab), c.waited(), mark(site))
	case !okSite && rusty && lab.Sign != Below && lab.v > 1:
		f.Verdict = Notice
		f.Say = fmt.Sprintf("turbidity %s NTU was read in the laboratory%s from water with %s mg/L dissolved iron: it may be iron that dropped out in the bottle", mark(lab), c.waited(), unit.Digits(iron))
		f.Ask = "Read turbidity on site at once"
	case okSite:
		f.Say = fmt.Sprintf("turbidity %s NTU in the laboratory, %s on site", mark(lab), mark(site))
	default:
		return
	}
	c.add(f)
}

// waited words the time between sampling and analysis.
func (c *checker) waited() string {
	d, ok := heldFor(c.report)
	if !ok || d < time.Hour {
		return ""
	}
	return fmt.Sprintf(" after %.0f h", d.Hours())
}
