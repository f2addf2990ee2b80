package cloud

import (
	"math"
	"strings"
	"testing"

	"wellwright/book"
	"wellwright/chem"
	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

const handWorked = "invented demonstration well, answer worked by hand from its report"

func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

// within5 allows a belief to stand off a lone reading by a twentieth, half of what
// the kit and the season leave open, and by a trace.
func within5(got, want float64) bool { return math.Abs(got-want) <= 0.05*want+0.06 }

func TestFormsOfTheDemonstrationWells(t *testing.T) {
	for _, tt := range []struct {
		name                        string
		e                           Evidence
		total, ferrous, part, bound float64
		bacteriaLow, bacteriaHigh   float64
		totalP95Low, totalP95AtMost float64
	}{
		{"a, clear-water iron", wellA(), 2.0, 1.9, 0.1, 0, 0, 0.3, 2, 3.5},
		{"a1, total bottle without acid", wellA1(), 2.0, 1.9, 0.1, 0, 0, 0.3, 2, 3.5},
		{"a2, air-over-water tank", wellA2(), 2.0, 0.8, 1.2, 0, 0, 0.3, 2, 3.5},
		{"c, mostly ferrous", wellC(), 9.6, 9.0, 0.6, 0, 0, 0.3, 9.6, 14},
		{"c1, unpreserved total", wellC1(), 9.6, 9.0, 0.6, 0, 0, 0.3, 9.6, 14},
		{"e, slime and slugs of 9 to 14", wellE(), 3.5, 2.15, 1.3, 0.1, 0.9, 1, 9, 14.01},
		{"f, with sulfide", wellF(), 4.2, 4.1, 0.1, 0, 0, 0.4, 4.2, 6.5},
		{"i, low yield", wellI(), 5.5, 5.3, 0.2, 0, 0, 0.4, 5.5, 8.5},
	} {
		c := weighed(t, tt.e)
		f := c.Forms
		if !within5(f.Total.P50, tt.total) || !within5(f.Ferrous.P50, tt.ferrous) ||
			!near(f.Particulate.P50, tt.part, 0.25) || !near(f.Bound.P50, tt.bound, 0.12) {
			t.Errorf("%s: total %.2f ferrous %.2f particulate %.2f bound %.2f, want %.2f %.2f %.2f %.2f (%s)", tt.name,
				f.Total.P50, f.Ferrous.P50, f.Particulate.P50, f.Bound.P50, tt.total, tt.ferrous, tt.part, tt.bound, handWorked)
		}
		if b := f.BacteriaProbability; b < tt.bacteriaLow || b > tt.bacteriaHigh {
			t.Errorf("%s: bacteria %.3f, want %g to %g (%s)", tt.name, b, tt.bacteriaLow, tt.bacteriaHigh, handWorked)
		}
		if h := f.Total.P95; h < tt.totalP95Low || h > tt.totalP95AtMost {
			t.Errorf("%s: high total %.2f, want %g to %g (%s)", tt.name, h, tt.totalP95Low, tt.totalP95AtMost, handWorked)
		}
	}
}

func TestConflictsOfTheDemonstrationWells(t *testing.T) {
	for _, tt := range []struct {
		name      string
		e         Evidence
		id, first string
		words     string // figures that the sentence must name
	}{
		{"a1: ferrous above total", wellA1(), "ferrous-above-total", "bottle-not-acidified", "1.9 mg/L"},
		{"a2: filtered bottle not ferrous behind an air tank", wellA2(), "dissolved-not-ferrous", "rusted-before-tap", "0.8 mg/L"},
		{"c: 16 mg/L of alkalinity is 1.79 x 9.0", wellC(), "alkalinity-lab-below-field", "rusted-in-bottle", "1.79 for each mg/L"},
		{"c1: total 6.1 against ferrous 9.0", wellC1(), "ferrous-above-total", "bottle-not-acidified", "6.1 mg/L"},
		{"f: sulfide 0.2 of 2.4", wellF(), "sulfide-lab-below-field", "sulfide-lost", "a lost sample, not a finding"},
		{"i: pH 8.0 in the laboratory", wellI(), "ph-lab-above-field", "gas-lost", "7.5 on site"},
	} {
		c := weighed(t, tt.e)
		got := conflict(c, tt.id)
		if got == nil {
			t.Errorf("%s: no conflict %s (%s)", tt.name, tt.id, handWorked)
			continue
		}
		if got.Explanations[0].ID != tt.first || !strings.Contains(got.Say, tt.words) {
			t.Errorf("%s: %q led by %s, want %q led by %s (%s)", tt.name, got.Say, got.Explanations[0].ID, tt.words, tt.first, handWorked)
		}
		sum := 0.0
		for _, x := range got.Explanations {
			sum += x.Probability
		}
		if !near(sum, 1, 1e-9) {
			t.Errorf("%s: explanations add to %g, want 1", tt.name, sum)
		}
	}
	if c := conflict(weighed(t, wellA()), "ferrous-above-total"); c != nil {
		t.Errorf("well a has no iron conflict, got %q", c.Say)
	}
}

func conflict(c Cloud, id string) *Conflict {
	for i := range c.Conflicts {
		if c.Conflicts[i].ID == id {
			return &c.Conflicts[i]
		}
	}
	return nil
}

// What was read on site stands before what a bottle lost, and what was read
// twice lies between.
func TestFieldReadingsStand(t *testing.T) {
	for _, tt := range []struct {
		well           Evidence
		name           string
		low, mid, high float64 // the reading lies in the range, the middle near it
		tol            float64
	}{
		{wellC(), "ph", 7.4, 7.4, 7.4, 0.05},
		{wellC(), "hardness_mg_l_as_caco3", 380, 380, 380, 380 * 0.04}, // the charge is out by 2 %: by 4 % of the cations, and the belief is neutral
		{wellC(), "alkalinity_mg_l_as_caco3", 318, 318, 318, 318 * 0.03},
		{wellF(), "sulfide_mg_l_as_h2s", 2.4, 2.4, 2.4, 0.3},
		{wellF(), "manganese_mg_l", 0.65, 0.65, 0.65, 0.03},
	} {
		r := rangeOf(t, weighed(t, tt.well), tt.name)
		if !near(r.P50, tt.mid, tt.tol) || r.P05 > tt.low || r.P95 < tt.high || r.Assumed {
			t.Errorf("%s: %v, want %g in its range and within %g of the middle (%s)", tt.name, r, tt.mid, tt.tol, handWorked)
		}
	}
	if r := rangeOf(t, weighed(t, wellC()), "alkalinity_mg_l_as_caco3"); r.P05 < 302 {
		t.Errorf("alkalinity %v, want the 302 of the bottle outside (%s)", r, handWorked)
	}
}

func rangeOf(t *testing.T, c Cloud, name string) AnalyteRange {
	t.Helper()
	for _, r := range c.Ranges {
		if r.Name == name {
			return r
		}
	}
	t.Fatalf("no range %s", name)
	return AnalyteRange{}
}

func TestChargeAndGasOfTheDemonstrationWells(t *testing.T) {
	for _, tt := range []struct {
		name     string
		e        Evidence
		gap, co2 float64
	}{
		{"a: 6.32 against 6.01", wellA(), 0.31, 33},
		{"c: 8.47 against 8.10", wellC(), 0.37, 33},
		{"e: 4.04 against 3.98", wellE(), 0.06, 38},
		{"f: 6.80 against 6.47", wellF(), 0.33, 52},
		{"i: 5.23 against 5.00", wellI(), 0.23, 16},
	} {
		c := weighed(t, tt.e)
		for _, f := range c.Checks {
			if f.ID == "charge_closed" && !near(f.Value, tt.gap, 0.03) {
				t.Errorf("%s: gap %.3f meq/L, want %.2f ± 0.03 (%s, sums by an independent script)", tt.name, f.Value, tt.gap, handWorked)
			}
		}
		if r := rangeOf(t, c, "co2_mg_l"); math.Abs(r.P50/tt.co2-1) > 0.15 {
			t.Errorf("%s: CO2 %.1f mg/L, want %g ± 15 %% (%s, without activity coefficients)", tt.name, r.P50, tt.co2, handWorked)
		}
	}
}

func TestThreeNumberRule(t *testing.T) {
	const rule = "common practice, no source"
	clean, organic := []water.Result{mg(water.TOC, 1)}, []water.Result{mg(water.TOC, 6)}
	for _, tt := range []struct {
		name    string
		t, d, f float64 // negative: not measured
		rest    []water.Result
		signs   []book.Sign
		want    split
		tol     float64
	}{
		{"2: both shares at 0.8 or above: ferrous", 2, 1.9, 1.8, clean, nil, split{1.8, 0.1, 0.1}, 0.03},
		{"3: a tenth passes: particulate", 5, 0.5, -1, clean, seen(water.RustyAtTap), split{0.5, 4.5, 0}, 0.03},
		{"3: a tenth passes but 0.6 of total was ferrous: the filtered bottle is dropped", 5, 0.5, 3, clean, nil, split{3, 2, 0}, 0.27},
		{"4: passes, not ferrous, organic: bound", 4, 3.6, 0.6, organic, nil, split{0.6, 0.4, 3.0}, 0.03},
		{"5: a mixture", 5, 3, 2, nil, nil, split{2, 2, 1}, 0.03},
		{"F above D within error: bound is not below 0", 5, 2.9, 3.0, nil, nil, split{3, 2, 0}, 0.03},
		{"dissolved and total, no kit, clear then rust: ferrous", 3, 2.8, -1, clean, seen(water.ClearThenRust), split{2.8, 0.2, 0}, 0.03},
		{"dissolved and total, no kit, much organic: bound", 3, 2.8, -1, organic, seen(water.TeaColour), split{0.28, 0.2, 2.52}, 0.27},
		{"total and a sign: clear then rust", 3, -1, -1, nil, seen(water.ClearThenRust), split{2.7, 0.3, 0}, 0.27},
		{"total and a sign: red at once", 3, -1, -1, nil, seen(water.RustyAtTap), split{0.3, 2.7, 0}, 0.27},
		{"total, tea colour and much organic: bound", 3, -1, -1, organic, seen(water.TeaColour), split{0.3, 0, 2.7}, 0.27},
		{"total and tea colour alone: ten times 0.05 is still below 0.60", 3, -1, -1, nil, seen(water.TeaColour), split{2.7, 0.3, 0}, 0.27},
	} {
		rs := append([]water.Result(nil), tt.rest...)
		for _, x := range []struct {
			f water.Fraction
			v float64
		}{{water.Total, tt.t}, {water.Dissolved, tt.d}} {
			if x.v >= 0 {
				rs = append(rs, iron(x.f, x.v))
			}
		}
		e := Evidence{Signs: tt.signs, Reports: []water.Report{lab(rs...)}}
		if tt.f >= 0 {
			e.Reports = append(e.Reports, visit(iron(water.FerrousIron, tt.f)))
		}
		f := weighed(t, e).Forms
		if tol := tt.tol*tt.t + 0.1; !near(f.Ferrous.P50, tt.want.ferrous, tol) || !near(f.Particulate.P50, tt.want.particulate, tol) || !near(f.Bound.P50, tt.want.bound, tol) {
			t.Errorf("rule %s: %.2f %.2f %.2f, want %v (%s)", tt.name, f.Ferrous.P50, f.Particulate.P50, f.Bound.P50, tt.want, rule)
		}
	}
}

func TestRuleOneSaysIronIsNotTheComplaint(t *testing.T) {
	for _, tt := range []struct {
		total float64
		want  bool
	}{{0.29, true}, {0.30, false}, {0.31, false}} {
		got := false
		for _, f := range weighed(t, Evidence{Reports: []water.Report{lab(iron(water.Total, tt.total))}}).Checks {
			got = got || f.ID == "iron_not_complaint"
		}
		if got != tt.want {
			t.Errorf("total %g: said %v, want %v (below 0.3: US EPA secondary level)", tt.total, got, tt.want)
		}
	}
}

func TestTraps(t *testing.T) {
	const trade = "common practice, no source"
	late := lab(iron(water.Total, 4), iron(water.Dissolved, 0.1))
	late.Bottle.FilteredField = ptr(false)
	hot := visit(iron(water.Total, 9))
	hot.Tap = "H"
	first := visit(iron(water.Total, 9))
	first.FirstDraw = true
	for _, tt := range []struct {
		name          string
		e             Evidence
		conflict, led string
		total, part   Range // P05 and P95 hold the span allowed for the middle
	}{
		{"total and dissolved swapped, red at the tap", Evidence{Signs: seen(water.RustAfterTank), Reports: []water.Report{lab(iron(water.Total, 1), iron(water.Dissolved, 3)), visit(iron(water.FerrousIron, 0.9))}},
			"dissolved-above-total", "swapped", Range{P05: 2.7, P95: 3.1}, Range{P05: 1.6, P95: 2.1}},
		{"total bottle without acid, by the filtered one", Evidence{Reports: []water.Report{unacidified(lab(iron(water.Total, 0.5), iron(water.Dissolved, 3))), visit(iron(water.FerrousIron, 3))}},
			"ferrous-above-total", "bottle-not-acidified", Range{P05: 2.8, P95: 3.3}, Range{P05: 0, P95: 0.35}},
		{"filtered days later in the laboratory", Evidence{Signs: seen(water.ClearThenRust), Reports: []water.Report{late}},
			"dissolved-low", "filtered-late", Range{P05: 3.5, P95: 4.2}, Range{P05: 0.1, P95: 1.5}},
		{"filled on acid, red at the tap and twice over", Evidence{Signs: append(seen(water.RustyAtTap, water.RustAfterTank), missing(water.FilmBreaks)...), Reports: []water.Report{lab(iron(water.Total, 4), iron(water.Dissolved, 3.9))}},
			"dissolved-high", "acid-before-filter", Range{P05: 3.5, P95: 4.2}, Range{P05: 3, P95: 3.9}},
		{"micrograms as milligrams", Evidence{Reports: []water.Report{lab(iron(water.Total, 2000)), visit(iron(water.FerrousIron, 1.9))}},
			"iron-units", "units", Range{P05: 1.85, P95: 2.1}, Range{P05: 0, P95: 0.25}},
		{"bottle without acid and nothing read on site", Evidence{Reports: []water.Report{unacidified(lab(iron(water.Total, 1)))}},
			"total-unacidified", "iron-plated", Range{P05: 1, P95: 2.2}, Range{P05: 0, P95: 1}},
		{"oxygen beside ferrous iron at pH 7.5", Evidence{Reports: []water.Report{visit(iron(water.FerrousIron, 2), iron(water.Total, 2), mg(water.Oxygen, 6), pHOf(7.5))}},
			"oxygen-beside-ferrous", "air-in-sample", Range{P05: 1.85, P95: 2.15}, Range{P05: 0, P95: 0.3}},
		{"hot tap and first draw tell of plumbing", Evidence{Reports: []water.Report{hot, first, visit(iron(water.Total, 1))}},
			"", "", Range{P05: 0.88, P95: 1.06}, Range{P05: 0, P95: 1}},
		{"below 0.05 is neither 0 nor 0.05", Evidence{Reports: []water.Report{lab(water.Result{Analyte: water.Iron, Sign: water.Below, Value: 0.05, Unit: "mg/L"})}},
			"", "", Range{P05: 0.0005, P95: 0.049}, Range{P05: 0, P95: 0.049}},
	} {
		c := weighed(t, tt.e)
		if f := c.Forms; f.Total.P50 < tt.total.P05-1e-9 || f.Total.P50 > tt.total.P95+1e-9 || f.Particulate.P50 < tt.part.P05 || f.Particulate.P50 > tt.part.P95 {
			t.Errorf("%s: total %g particulate %g, want %v and %v (%s)", tt.name, f.Total.P50, f.Particulate.P50, tt.total, tt.part, trade)
		}
		if tt.conflict == "" {
			continue
		}
		got := conflict(c, tt.conflict)
		if got == nil || got.Explanations[0].ID != tt.led {
			t.Errorf("%s: conflict %v, want %s led by %s (%s)", tt.name, got, tt.conflict, tt.led, trade)
		}
	}
}

func unacidified(r water.Report) water.Report {
	r.Bottle.Acidified = ptr(false)
	return r
}

// The report printed in a trade column: cations 0.12, anions 1.46 meq/L, the gap
// of 1.33 meq/L is 31 mg/L of sodium.
func TestSoftenedReport(t *testing.T) {
	c := weighed(t, Evidence{Reports: []water.Report{lab(mg(water.Calcium, 0.45), mg(water.Magnesium, 0.35), iron(water.Total, 2.0),
		mg(water.Chloride, 2.6), asN(water.Nitrate, 0.61), alk(67), pHOf(7))}})
	if got := conflict(c, "softened-sample"); got == nil {
		t.Error("no conflict softened-sample (trade column, arithmetic on its report)")
	}
	for _, f := range c.Checks {
		if f.ID == "softened_sample" {
			if !near(f.Value, 31, 0.6) {
				t.Errorf("sodium %g, want 31 mg/L (trade column, arithmetic)", f.Value)
			}
			return
		}
	}
	t.Error("no check softened_sample")
}

func TestBacteriaByGroups(t *testing.T) {
	const bands = "common practice: product of likelihood ratios, 0.30 to start"
	o0 := 0.3 / 0.7
	p := func(o float64) float64 { return o0 * o / (1 + o0*o) }
	day := func(d int) []book.Culture { return []book.Culture{{Of: book.IronBacteria, Positive: true, Day: d}} }
	for _, tt := range []struct {
		name string
		e    Evidence
		want float64
	}{
		{"nothing known", Evidence{}, 0.30},
		{"slime", Evidence{Signs: seen(water.SlimeInTank)}, p(8)},
		{"slime and feathers are one finding", Evidence{Signs: seen(water.SlimeInTank, water.FeatheryGrowth)}, p(10)},
		{"no slime", Evidence{Signs: missing(water.SlimeInTank)}, p(0.25)},
		{"look and smell are capped at 40", Evidence{Signs: seen(water.FeatheryGrowth, water.FilmBreaks, water.SwampySmell)}, p(40)},
		{"culture day 3", Evidence{Cultures: day(3)}, p(6)},
		{"culture day 4", Evidence{Cultures: day(4)}, p(2.5)},
		{"culture day 7", Evidence{Cultures: day(7)}, p(2.5)},
		{"culture day 8", Evidence{Cultures: day(8)}, p(1.2)},
		{"culture negative", Evidence{Cultures: []book.Culture{{Of: book.IronBacteria}}}, p(0.3)},
		{"sulfate reducers say nothing of iron bacteria", Evidence{Cultures: []book.Culture{{Of: book.SulfateReducers, Positive: true, Day: 1}}}, 0.30},
		{"sheaths under the microscope", Evidence{Cultures: []book.Culture{{Of: book.IronBacteria, Microscope: true, Positive: true}}}, p(30)},
	} {
		if got := weighed(t, tt.e).Forms.BacteriaProbability; !near(got, tt.want, 1e-9) {
			t.Errorf("%s: %.4f, want %.4f (%s)", tt.name, got, tt.want, bands)
		}
	}
}

func TestSupply(t *testing.T) {
	i := weighed(t, wellI()).Middle().Supply
	if got := i.Hydraulic.CasingStorage.Gal(); !near(got, 33, 0.5) {
		t.Errorf("casing storage %g gal, want 33 (50 ft x 0.653 gal/ft, %s)", got, handWorked)
	}
	if got := i.Hydraulic.Pump.FlowAt(unit.PSI(30)).GPM(); !near(got, 3, 1e-9) {
		t.Errorf("pump behind a flow control %g gpm, want 3 (%s)", got, handWorked)
	}
	if got := i.Hydraulic.Yield.GPM(); got != 3 {
		t.Errorf("yield %g, want 3 (%s)", got, handWorked)
	}
	c := weighed(t, wellC())
	if got := c.Middle().Supply.Daily.GalPerDay(); !near(got, 375, 1e-6) {
		t.Errorf("use %g, want 375 (5 people at 75 gal/day, %s)", got, handWorked)
	}
	if !assumed(c, "yield_gpm") || assumed(weighed(t, wellI()), "yield_gpm") {
		t.Error("a yield nobody tested is assumed, a tested one is not")
	}
	if d := c.Middle().Supply.DemandMeasured; d == nil || d.MgPerLAsCl2() != 7 {
		t.Errorf("demand %v, want 7.0 of the jar (%s)", d, handWorked)
	}
	if got := c.Middle().Supply.Hydraulic.Pump.FlowAt(unit.PSI(45)).GPM(); !near(got, 12, 1e-9) {
		t.Errorf("pump %g gpm at 45 psi, want 12 (%s)", got, handWorked)
	}
	e := wellA()
	for _, x := range []struct {
		baths, want float64
		from        string
	}{
		{1, 7, "common practice, no source: 7 gpm for one bathroom is a ceiling"},
		{2.5, 9, "exact convolution worked outside the program for a house of 2½ bathrooms; fixture chances from memory"},
	} {
		e.House = well.House{People: 4, Baths: ptr(x.baths)}
		if got := weighed(t, e).Middle().Supply.Peak.GPM(); !near(got, x.want, 1e-9) {
			t.Errorf("peak of %g baths %g gpm, want %g (%s)", x.baths, got, x.want, x.from)
		}
	}
	e.House.Peak = ptr(unit.GPM(20)) // above what the pump gives: kept as demand
	if got := weighed(t, e).Middle().Supply.Peak.GPM(); got != 20 {
		t.Errorf("stated peak %g, want 20", got)
	}
}

func assumed(c Cloud, name string) bool {
	for _, a := range c.Assumed {
		if a.Name == name {
			return true
		}
	}
	return false
}

func TestDrawsOfTheCloud(t *testing.T) {
	c := weighed(t, wellA())
	if len(c.Draws) != int(Full) || len(c.Spread) != spreadDraws || len(c.Before) != int(beforehand) {
		t.Fatalf("%d draws, %d spread, %d before; want %d, %d and %d", len(c.Draws), len(c.Spread), len(c.Before), Full, spreadDraws, beforehand)
	}
	if c.Quality.Effective < 500 || c.Quality.Distinct < 500 || c.Quality.Few {
		t.Errorf("quality %+v, want at least 500 effective and distinct draws", c.Quality)
	}
	weight, laws := 0.0, map[chem.Law]bool{}
	for _, d := range c.Spread {
		weight += d.Weight
	}
	for _, d := range c.Draws {
		laws[d.Law] = true
	}
	if !near(weight, 1, 1e-9) || len(laws) != 3 {
		t.Errorf("spread weighs %g over %d laws of oxidation, want 1 and all three", weight, len(laws))
	}
	for _, name := range []string{"phosphate_mg_l_as_p", "solids_mg_l"} {
		if !assumed(c, name) {
			t.Errorf("%s was not measured and is not listed as assumed", name)
		}
	}
	for _, name := range []string{"ph", "oxygen_mg_l", "toc_mg_l"} {
		if assumed(c, name) {
			t.Errorf("%s was measured and is listed as assumed", name)
		}
	}
}

func TestAssumedOxygenLeansOnFerrousIron(t *testing.T) {
	const rule = "common practice: ferrous iron and oxygen live together only at low pH"
	e := Evidence{Reports: []water.Report{visit(iron(water.FerrousIron, 2), pHOf(7.3))}}
	if r := rangeOf(t, weighed(t, e), "oxygen_mg_l"); r.P50 > 0.5 || !r.Assumed {
		t.Errorf("oxygen %v, want little beside ferrous iron, assumed (%s)", r, rule)
	}
	e = Evidence{Reports: []water.Report{lab(iron(water.Total, 0.02), mn(water.Total, 0.002), asN(water.Nitrate, 6))}}
	if r := rangeOf(t, weighed(t, e), "oxygen_mg_l"); r.P50 < 2 {
		t.Errorf("oxygen %v, want much where nitrate stands and iron does not (%s)", r, rule)
	}
}

func TestAirTankRustsIron(t *testing.T) {
	e := Evidence{Signs: seen(water.ClearThenRust), Reports: []water.Report{lab(iron(water.Total, 2))}}
	plain := weighed(t, e).Forms.Particulate.P50
	e.Supply.Tank.Kind = well.AirOverWater
	if got := weighed(t, e).Forms.Particulate.P50; got <= plain+0.3 {
		t.Errorf("particulate %g behind an air-over-water tank, %g behind a pre-charged one; want half of the ferrous more (common practice, no source)", got, plain)
	}
}

func TestMissingMajorsCloseTheCharge(t *testing.T) {
	c := weighed(t, Evidence{Reports: []water.Report{lab(alk(200), hard(120), iron(water.Total, 2), mg(water.Chloride, 10), mg(water.Sulfate, 10))}})
	// by hand: 4.00 + 0.28 + 0.21 anions less 2.40 of hardness, 0.06 of iron and small ions leave about 2.0 meq/L
	if got := c.Middle().Water.Sodium.MgPerL(); !near(got, 45, 7) {
		t.Errorf("sodium %g, want about 45 mg/L (arithmetic on equivalents)", got)
	}
	if !assumed(c, "sodium_mg_l") {
		t.Error("sodium is not listed as assumed")
	}
}

func TestWorkingIsRecorded(t *testing.T) {
	var w formula.Working
	if _, err := Weigh(wellI(), source.Set{}, chem.New(source.Set{}), &w); err != nil {
		t.Fatal(err)
	}
	want := map[string]float64{"ferrous iron": 5.3, "casing storage": 32.6}
	tol := map[string]float64{"ferrous iron": 0.3, "casing storage": 0.1}
	for _, s := range w.Steps() {
		if s.Formula == "" {
			t.Errorf("%s names no formula", s.Figure)
		}
		if v, ok := want[s.Figure]; ok && near(s.Value, v, tol[s.Figure]) {
			delete(want, s.Figure)
		}
	}
	if len(want) > 0 {
		t.Errorf("steps missing or off: %v", want)
	}
}

func TestNoModelIsAnError(t *testing.T) {
	if _, err := Weigh(Evidence{}, source.Set{}, nil, nil); err == nil {
		t.Error("no error without a chemistry model")
	}
}

func TestOwnFactorMovesTheAnswer(t *testing.T) {
	set := source.NewSet(map[string]source.Override{"cloud_start_bacteria": {Value: 0.6, Why: "valley full of them"}})
	c, err := Weigh(Evidence{}, set, chem.New(set), nil)
	if err != nil || !near(c.Forms.BacteriaProbability, 0.6, 1e-9) {
		t.Errorf("probability %g (%v), want 0.6 of the user", c.Forms.BacteriaProbability, err)
	}
}

func TestFactorsAreUnique(t *testing.T) {
	if _, err := source.NewRegister(Factors()); err != nil {
		t.Error(err)
	}
	for _, f := range Factors() {
		if !strings.HasPrefix(f.Name, "cloud_") || f.From == "" || f.What == "" {
			t.Errorf("factor %+v: want a name with cloud_, a source and what it is", f)
		}
	}
}

// Without the visit the laboratory's late pH stands alone: it is lowered towards
// what was read on site, and the printed pH stays as a world of its own.
func TestLatePHIsLowered(t *testing.T) {
	for _, tt := range []struct {
		name string
		e    Evidence
		site float64
	}{{"a", wellA(), 7.3}, {"c", wellC(), 7.4}, {"f", wellF(), 7.1}} {
		e := tt.e
		e.Reports = e.Reports[1:]
		c := weighed(t, e)
		if got := c.Middle().Water.PH.Value(); !near(got, tt.site, 0.3) {
			t.Errorf("%s: pH %.2f, want the %.1f of site within 0.3 (%s)", tt.name, got, tt.site, handWorked)
		}
		if r := rangeOf(t, c, "ph"); conflict(c, "ph-gas-lost") == nil || r.P05 > tt.site || r.P95 < tt.site {
			t.Errorf("%s: pH %v, want a conflict and the %.1f of site in its range", tt.name, r, tt.site)
		}
	}
}
