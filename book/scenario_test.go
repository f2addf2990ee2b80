package book

import (
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"wellwright/water"
	"wellwright/well"
)

// scenarios are the invented wells under testdata.
func scenarios(t *testing.T) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob("testdata/scenario-*.yaml")
	if err != nil || len(files) != 12 {
		t.Fatalf("want 12 invented wells under testdata, got %d (%v)", len(files), err)
	}
	all := map[string][]byte{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		all[f] = text
	}
	return all
}

func TestScenariosRead(t *testing.T) {
	for name, text := range scenarios(t) {
		b, found := Read(name, text)
		for _, f := range found {
			t.Error(f)
		}
		for _, f := range Mistakes(b.Check(time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC))) {
			t.Error(f)
		}
	}
}

func scenario(t *testing.T, name string) Present {
	t.Helper()
	text, err := os.ReadFile("testdata/scenario-" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	b, found := Read(name, text)
	if len(found) > 0 {
		t.Fatal(found)
	}
	return b.Present(time.Time{})
}

// laboratory returns the one laboratory report of a well.
func laboratory(t *testing.T, p Present) water.Report {
	t.Helper()
	for _, r := range p.Reports {
		if !r.Field {
			return r
		}
	}
	t.Fatalf("%s has no laboratory report", p.Name)
	return water.Report{}
}

// The sums were worked out by hand with the invented wells: if a figure had been
// copied wrong into a book, its ions would not add up to them. By hand every ion
// was counted; the balance leaves out those below 0.02 meq/L, hence the tolerance.
func TestScenarioIonsAddUp(t *testing.T) {
	tests := []struct {
		well            string
		cations, anions float64 // meq/L
		percent         float64
		source          string
	}{
		{"a", 6.32, 6.01, 2.5, "hand calculation"},
		{"c", 8.47, 7.78, 4.2, "hand calculation, with the laboratory's alkalinity"},
		{"e", 4.04, 3.98, 0.8, "hand calculation"},
		{"f", 6.80, 6.47, 2.5, "hand calculation"},
		{"i", 5.23, 5.00, 2.3, "hand calculation"},
	}
	for _, tt := range tests {
		got, ok := water.ChargeBalance(laboratory(t, scenario(t, tt.well)), water.AtHalf)
		c, a := got.Cations.MeqPerL(), got.Anions.MeqPerL()
		if !ok || math.Abs(c-tt.cations) > 0.04 || math.Abs(a-tt.anions) > 0.04 || math.Abs(got.Percent-tt.percent) > 0.35 {
			t.Errorf("%s: cations %.2f, anions %.2f meq/L, %+.1f %%; want %.2f, %.2f, %+.1f (%s)", tt.well, c, a, got.Percent, tt.cations, tt.anions, tt.percent, tt.source)
		}
	}
}

// What the variants are made for must be in them, and only there.
func TestScenarioVariants(t *testing.T) {
	iron := func(name string, field bool, f water.Fraction) float64 {
		for _, r := range scenario(t, name).Reports {
			if c, _, ok := r.Concentration(water.Iron, f); ok && r.Field == field {
				return c.MgPerL()
			}
		}
		return math.NaN()
	}
	tests := []struct {
		name      string
		got, want float64
	}{
		{"a: laboratory total", iron("a", false, water.Total), 2.0},
		{"a1: laboratory total", iron("a1", false, water.Total), 0.7},
		{"a1: field ferrous", iron("a1", true, water.FerrousIron), 1.9},
		{"a2: field ferrous", iron("a2", true, water.FerrousIron), 0.8},
		{"a2: field total", iron("a2", true, water.Total), 2.0},
		{"c1: laboratory total", iron("c1", false, water.Total), 6.1},
		{"c1: field ferrous", iron("c1", true, water.FerrousIron), 9.0},
		{"a3: own allowance", scenario(t, "a3").Own["softener_iron_allowance"].Value, 10},
		{"c: pump at 45 psi", scenario(t, "c").Supply.Pump.Measured[0].Flow.GPM(), 12},
		{"c2: pump", scenario(t, "c2").Supply.Pump.Measured[0].Flow.GPM(), 8},
		{"i: flow control", scenario(t, "i").Supply.Pump.FlowControl.GPM(), 3},
		{"e: capacity now", scenario(t, "e").Supply.Well.Capacities[1].Value.GPMPerFt(), 0.9},
	}
	for _, tt := range tests {
		if math.Abs(tt.got-tt.want) > 1e-9 {
			t.Errorf("%s: %g, want %g", tt.name, tt.got, tt.want)
		}
	}
	if k := scenario(t, "a2").Supply.Tank.Kind; k != well.AirOverWater {
		t.Errorf("a2: tank %q", k)
	}
	if b := laboratory(t, scenario(t, "a1")).Bottle; b.Acidified == nil || *b.Acidified {
		t.Error("a1: the bottle must be one that was not acidified")
	}
	for _, s := range scenario(t, "f1").Signs {
		if s.ID == water.RottenEggHotOnly && (s.Hot == nil || !*s.Hot || s.Cold == nil || *s.Cold) {
			t.Error("f1: the smell must be in the hot water only")
		}
	}
}
