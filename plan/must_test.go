package plan_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"wellwright/plan"
)

// A report that cannot be: ferrous iron above total. The conflict is named, the
// total set aside, and the work goes on with what was read on site.
func TestImpossibleTotalIsSetAside(t *testing.T) {
	for well, ferrous := range map[string]float64{"a1": 1.9, "c1": 9.0} {
		a := answered(t, reference(t, well))
		if a.Forms.Ferrous.P50 < ferrous*0.98 || a.Forms.Total.P50 < ferrous {
			t.Errorf("%s: worked with total %g, ferrous %g, want the field's %g (%s)", well, a.Forms.Total.P50, a.Forms.Ferrous.P50, ferrous, byHand)
		}
		if !slices.ContainsFunc(a.Checks, func(c plan.Check) bool { return c.Verdict == "impossible" }) {
			t.Errorf("%s: no check says that the report cannot be", well)
		}
		if !slices.ContainsFunc(a.Conflicts, func(c plan.Conflict) bool { return c.ID == "ferrous-above-total" }) {
			t.Errorf("%s: the conflict is not named", well)
		}
		if !hasAction(a, "retest") {
			t.Errorf("%s: no acidified re-sample is asked for", well)
		}
	}
}

func hasAction(a plan.Answer, id string) bool {
	return slices.ContainsFunc(a.Actions, func(x plan.Action) bool { return x.ID == id })
}

// Forms of iron with evidence and doubt.
func TestFormsOfIron(t *testing.T) {
	tests := []struct {
		well                         string
		ferrous, particulate, within float64
		bacteriaLow, bacteriaHigh    float64
	}{ // within the error of the readings, not on them
		{"a", 1.9, 0.1, 0.1, 0, 0.4},
		{"a2", 0.8, 1.2, 0.25, 0, 0.4},
		{"c", 9.0, 0.6, 0.3, 0, 0.5},
		{"e", 2.15, 1.3, 0.2, 0.9, 1},
		{"f", 4.1, 0.1, 0.2, 0, 0.5},
		{"i", 5.3, 0.2, 0.25, 0, 0.5},
	}
	for _, tt := range tests {
		f := answered(t, reference(t, tt.well)).Forms
		if math.Abs(f.Ferrous.P50-tt.ferrous) > tt.within || math.Abs(f.Particulate.P50-tt.particulate) > tt.within {
			t.Errorf("%s: ferrous %g particulate %g, want %g and %g (%s)", tt.well, f.Ferrous.P50, f.Particulate.P50, tt.ferrous, tt.particulate, byHand)
		}
		if b := float64(f.Bacteria); b < tt.bacteriaLow || b > tt.bacteriaHigh {
			t.Errorf("%s: iron bacteria %g, want %g to %g (%s)", tt.well, b, tt.bacteriaLow, tt.bacteriaHigh, byHand)
		}
		if len(f.Evidence) == 0 {
			t.Errorf("%s: no evidence is shown", tt.well)
		}
	}
}

// Health before stains.
func TestHealthComesFirst(t *testing.T) {
	f := answered(t, reference(t, "f"))
	if len(f.Alerts) == 0 || f.Alerts[0].Analyte != "manganese" {
		t.Errorf("well f: first alert %v, want manganese 0.65 above the 0.3 mg/L advisory (US EPA 2004, quoted by NHDES DWGB-3-8, 2021)", f.Alerts)
	}
	e := answered(t, reference(t, "e"))
	if !slices.ContainsFunc(e.Alerts, func(a plan.Alert) bool { return a.Analyte == "total_coliform" }) {
		t.Errorf("well e: alerts %v, want coliform present (%s)", e.Alerts, byHand)
	}
}

// The well before any train: iron bacteria.
func TestWellWorkFirst(t *testing.T) {
	a := answered(t, reference(t, "e"))
	for _, id := range []string{"well-rehabilitation", "shock-disinfection", "repair-cap"} {
		if !hasAction(a, id) {
			t.Errorf("well e: no %s (%s)", id, byHand)
		}
	}
	for _, x := range a.Actions {
		if x.ID != "shock-disinfection" {
			continue
		}
		for leaf, want := range map[string]float64{"column_gal": 184, "chlorine_g": 348, "bleach_6_percent_l": 5.8, "hypochlorite_12_5_percent_l": 2.8} {
			if got := x.Sizes[leaf]; math.Abs(got-want) > 0.02*want {
				t.Errorf("well e: %s = %g, want %g (%s)", leaf, got, want, byHand)
			}
		}
	}
	if i := answered(t, reference(t, "i")); !hasAction(i, "longer-yield-test") {
		t.Errorf("well i: no longer yield test is asked for (%s)", byHand)
	}
	if f1 := answered(t, reference(t, "f1")); !hasAction(f1, "heater") {
		t.Errorf("well f1: smell in hot water only, and nothing is said of the heater (%s)", byHand)
	}
}

// Over the plausible range of iron the first choice of well c stands; where it
// changes is said.
func TestIronMayBeOff(t *testing.T) {
	d := reference(t, "c")
	want := core(answered(t, d).Options[0].Train, "carbon-filter")
	for _, iron := range []string{"iron=7", "iron=14"} {
		changes, bad := plan.ParseChanges([]string{iron})
		if len(bad) > 0 {
			t.Fatal(bad)
		}
		a := answered(t, d.With(changes))
		if len(a.Options) == 0 || core(a.Options[0].Train, "carbon-filter") != want {
			t.Errorf("%s: first choice is no longer %s (%s)", iron, want, byHand)
		}
	}
	flips := answered(t, d).Options[0].Flips
	for _, f := range flips {
		if f.Input == "iron" && f.At > 7 && f.At < 14 {
			t.Errorf("iron is said to flip the choice at %g, within 7 to 14 (%s)", f.At, byHand)
		}
	}
	if !slices.ContainsFunc(flips, func(f plan.Flip) bool { return f.Input == "iron" }) {
		t.Errorf("no line says at which iron the choice flips: %v", flips)
	}
}

// Ammonia out of the water takes about 3 mg/L off the chlorine dose. "None" by a
// kit leaves up to 0.05 mg/L open, which is 0.4 of it.
func TestAmmoniaAndTheDose(t *testing.T) {
	with := leafOf(t, answered(t, reference(t, "f")), "chlorine-feed", "dose_low_mg_l")
	without := leafOf(t, answered(t, reference(t, "f2")), "chlorine-feed", "dose_low_mg_l")
	if math.Abs(with-without-3.04) > 0.45 {
		t.Errorf("dose falls by %g mg/L without 0.4 mg/L of ammonia, want 3.04 = 0.4 x 7.6 (stoichiometry of breakpoint)", with-without)
	}
}

// Every number answers where it comes from, and a replaced factor is said.
func TestReplacedFactorIsSaid(t *testing.T) {
	a := answered(t, opened(t, "a3", nil))
	if len(a.Own) != 1 || a.Own[0].Name != "softener_iron_allowance" || a.Own[0].Value != 10 {
		t.Errorf("own values %v, want the allowance of 10 that the book sets", a.Own)
	}
	for _, n := range plan.Register().Names() {
		f, _ := plan.Register().Find(n)
		if strings.TrimSpace(f.What) == "" || strings.TrimSpace(f.From) == "" {
			t.Errorf("factor %s says neither what it is nor where it comes from", n)
		}
	}
}

// Ten-year cost with a range, and softener and filter variants apart.
func TestCostsAreRanges(t *testing.T) {
	for _, o := range answered(t, reference(t, "a")).Options {
		c := o.Cost.TenYear
		if !(c.P05 < c.P50 && c.P50 < c.P95) || o.Cost.First.P50 <= 0 || o.Cost.Yearly.P50 <= 0 {
			t.Errorf("%v: cost %v is no range", o.Train, o.Cost)
		}
	}
}
