package cloud

import (
	"math"
	"slices"
	"testing"

	"wellwright/water"
)

// chanceOfFault is the share of draws with a fault of the evidence.
func chanceOfFault(c Cloud, say string) float64 {
	n := 0.0
	for _, d := range c.Draws {
		for _, f := range d.World.Faults {
			if f == say {
				n++
			}
		}
	}
	return n / float64(len(c.Draws))
}

// The report of well c with its iron in the wrong unit: either way the iron of the
// well stays near 9.6 mg/L, and the slip is named.
func TestIronInTheWrongUnit(t *testing.T) {
	for _, tt := range []struct {
		name           string
		total, through float64
		conflict, id   string
	}{
		{"9,600 ug/L entered as mg/L", 9600, 9000, "iron-units", "units"},
		{"9.6 mg/L entered as ug/L", 0.0096, 0.009, "ferrous-above-total", "units-down"},
	} {
		e := wellC()
		e.Reports[1] = edited(edited(e.Reports[1], iron(water.Total, tt.total)), iron(water.Dissolved, tt.through))
		c := weighed(t, e)
		if !within5(c.Forms.Total.P50, 9.6) {
			t.Errorf("%s: total %v, want about the 9.6 mg/L read on site (%s)", tt.name, c.Forms.Total, handWorked)
		}
		got := conflict(c, tt.conflict)
		if got == nil || got.Explanations[0].ID != tt.id || got.Explanations[0].Probability < 0.9 {
			t.Errorf("%s: conflict %+v, want %s led by %s (arithmetic: a factor of a thousand)", tt.name, got, tt.conflict, tt.id)
		}
	}
}

// A bottle known to hold no acid is believed low, and the true iron above it.
func TestUnpreservedBottles(t *testing.T) {
	for _, tt := range []struct {
		name       string
		e          Evidence
		low, high  float64
		setAside   float64
		chanceThat string
	}{
		{"a1: total 0.7 beside ferrous 1.9", wellA1(), 1.7, 2.2, 0.7, ""},
		{"c1: total 6.1 beside ferrous 9.0", wellC1(), 8.6, 10, 6.1, "bottle not acidified"},
	} {
		c := weighed(t, tt.e)
		if p := c.Forms.Total.P50; p < tt.low || p > tt.high || c.Forms.Total.P05 < tt.setAside {
			t.Errorf("%s: total %v, want %g to %g and nothing at %g (%s)", tt.name, c.Forms.Total, tt.low, tt.high, tt.setAside, handWorked)
		}
		if tt.chanceThat != "" && chanceOfFault(c, tt.chanceThat) < 0.8 {
			t.Errorf("%s: chance of %q %.2f, want 0.8 or more (%s)", tt.name, tt.chanceThat, chanceOfFault(c, tt.chanceThat), handWorked)
		}
	}
}

// Behind an air-over-water tank much of the iron is rust at T1.
func TestAirOverWaterTank(t *testing.T) {
	f := weighed(t, wellA2()).Forms
	if !near(f.Ferrous.P50, 0.8, 0.1) || !near(f.Particulate.P50, 1.2, 0.25) || f.Particulate.P05 < 0.05 {
		t.Errorf("ferrous %v particulate %v, want 0.8 and 1.2 mg/L (%s)", f.Ferrous, f.Particulate, handWorked)
	}
}

// The report printed in a trade column: what is missing of its charge is sodium,
// and a softener is a live explanation.
func TestReportWithoutItsSodium(t *testing.T) {
	c := weighed(t, Evidence{Reports: []water.Report{lab(mg(water.Calcium, 0.45), mg(water.Magnesium, 0.35), iron(water.Total, 2.0),
		mg(water.Chloride, 2.6), asN(water.Nitrate, 0.61), alk(67), pHOf(7))}})
	soft := chanceOfFault(c, "sample after a softener")
	if soft < 0.2 {
		t.Errorf("chance of a softener %.2f, want a live explanation of a hardness of 2.6 mg/L (published trade column, which suspects it)", soft)
	}
	for _, d := range c.Draws {
		if len(d.World.Faults) > 0 {
			continue
		}
		// cations 0.12 and anions 1.46 meq/L leave 1.33 meq/L, 31 mg/L of sodium, less what potassium and ammonium bring and sulfate asks
		if na := d.Water.Sodium.MgPerL(); na < 15 || na > 80 {
			t.Errorf("sodium %.1f mg/L in a naturally soft draw, want about 31 (arithmetic on equivalents)", na)
			break
		}
	}
	if got := conflict(c, "softened-sample"); got == nil || math.Abs(got.Explanations[0].Probability+got.Explanations[1].Probability-1) > 0.2 {
		t.Errorf("conflict %+v, want the softener and natural softness to hold most of it", got)
	}
}

// What a laboratory worked out says nothing twice.
func TestWorkedOutHardnessCarriesNoWeight(t *testing.T) {
	e := wellA()
	with := rangeOf(t, weighed(t, e), "hardness_mg_l_as_caco3")
	var rest []water.Result
	for _, r := range e.Reports[1].Results {
		if r.Analyte != water.Hardness {
			rest = append(rest, r)
		}
	}
	e.Reports[1].Results = rest
	without := rangeOf(t, weighed(t, e), "hardness_mg_l_as_caco3")
	if math.Abs(with.P95-with.P05-(without.P95-without.P05)) > 2 || math.Abs(with.P50-without.P50) > 1.5 {
		t.Errorf("hardness %v with the sum printed, %v without, want the same (290 is 2.497 x 74 + 4.118 x 25.5)", with.Range, without.Range)
	}
}

// Two bottles of one water tell more than one.
func TestRepeatsNarrow(t *testing.T) {
	one := Evidence{Reports: []water.Report{lab(mg(water.Sulfate, 30))}}
	three := Evidence{Reports: []water.Report{lab(mg(water.Sulfate, 30)), lab(mg(water.Sulfate, 30)), lab(mg(water.Sulfate, 30))}}
	wide := func(e Evidence) float64 {
		r := rangeOf(t, weighed(t, e), "sulfate_mg_l")
		return math.Log(r.P95 / r.P05)
	}
	if a, b := wide(one), wide(three); b >= a {
		t.Errorf("width %.3f by one bottle, %.3f by three, want narrower (variance of a mean)", a, b)
	}
}

// Turbidity read at once tells of solids that no laboratory weighed, less the rust
// in it; a laboratory's is rust that formed in the bottle.
func TestTurbidityReadAtOnceIsSolids(t *testing.T) {
	cloudy := water.Result{Analyte: water.Turbidity, Value: 30, Unit: "NTU"}
	site := weighed(t, Evidence{Reports: []water.Report{visit(iron(water.Total, 4.5), cloudy)}})
	late := weighed(t, Evidence{Reports: []water.Report{lab(iron(water.Total, 4.5), cloudy)}})
	// 1.2 mg/L to the NTU (common practice) less 1.91 x 4.5 of ferric hydroxide (atomic weights)
	if got := site.Middle().Water.Solids.MgPerL(); !near(got, 27.4, 0.1) {
		t.Errorf("solids %.1f mg/L beside 30 NTU on site, want 27.4 (arithmetic)", got)
	}
	if got := late.Middle().Water.Solids.MgPerL(); !near(got, 1, 1e-9) {
		t.Errorf("solids %.1f mg/L beside 30 NTU of a laboratory, want the 1 assumed (common practice, no source)", got)
	}
}

// Where a laboratory has parted the arsenic, its forms go before what the class of
// redox lets one guess; the rest of the water is drawn as before.
func TestPartedArsenic(t *testing.T) {
	ug := func(a water.Analyte, v float64) water.Result {
		return water.Result{Analyte: a, Fraction: water.Total, Value: v, Unit: "ug/L"}
	}
	base := []water.Result{iron(water.Total, 2.4), iron(water.Dissolved, 2.3), ug(water.Arsenic, 30)}
	shares := func(rs ...water.Result) (mid, low, high float64, c Cloud) {
		c = weighed(t, Evidence{Reports: []water.Report{lab(append(slices.Clone(base), rs...)...)}})
		var all []float64
		for _, d := range c.Draws {
			all = append(all, d.Water.ArsenicV.MgPerL()/d.Water.Arsenic.MgPerL())
		}
		slices.Sort(all)
		m := c.Middle().Water
		return m.ArsenicV.MgPerL() / m.Arsenic.MgPerL(), all[len(all)/20], all[len(all)*19/20], c
	}
	_, low, high, plain := shares()
	for _, tt := range []struct {
		name string
		rs   []water.Result
		want float64
	}{
		{"both forms", []water.Result{ug(water.Arsenic3, 6), ug(water.Arsenic5, 24)}, 0.8},
		{"arsenic (V) beside the whole", []water.Result{ug(water.Arsenic5, 6)}, 0.2},
		{"arsenic (III) beside the whole", []water.Result{ug(water.Arsenic3, 27)}, 0.1},
	} {
		mid, l, h, c := shares(tt.rs...)
		if !near(mid, tt.want, 1e-9) {
			t.Errorf("%s: %.3f of the arsenic is As(V), want %.2f (arithmetic)", tt.name, mid, tt.want)
		}
		if !(l <= tt.want && tt.want <= h) || h-l > (high-low)*0.8 {
			t.Errorf("%s: 5th to 95th percentile %.2f to %.2f, without it %.2f to %.2f: no narrower, or off", tt.name, l, h, low, high)
		}
		if got, want := c.Draws[7].Water.Ferrous, plain.Draws[7].Water.Ferrous; got != want {
			t.Errorf("%s: the iron of a draw moved from %v to %v", tt.name, want, got)
		}
	}
}
