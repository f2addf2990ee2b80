package stage

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/unit"
	"wellwright/water"
)

// Used up is have over need or need over have, by definition; of pH half a unit
// counts as one, as Margin has it.
func TestUsed(t *testing.T) {
	for _, tt := range []struct {
		name string
		l    Limit
		want float64
	}{
		{"half of an upper limit", Limit{Have: 5, Need: 10, Unit: "mg/L", AtMost: true}, 0.5},
		{"a lower limit had twice over", Limit{Have: 10, Need: 5, Unit: "gpm"}, 0.5},
		{"a lower limit had by half", Limit{Have: 2.5, Need: 5, Unit: "gpm"}, 2},
		{"nothing there of what must not be", Limit{Need: 5, Unit: "mg/L", AtMost: true}, 0},
		{"nothing there of what must be", Limit{Need: 5, Unit: "gpm"}, mostUsed},
		{"nothing needed", Limit{Unit: "gpm"}, 0},
		{"at the pH", Limit{Have: 6.5, Need: 6.5, Unit: "pH"}, 1},
		{"a quarter above the pH", Limit{Have: 6.75, Need: 6.5, Unit: "pH"}, 0.5},
		{"a quarter below it", Limit{Have: 6.25, Need: 6.5, Unit: "pH"}, 1.5},
		{"far above it", Limit{Have: 8, Need: 6.5, Unit: "pH"}, 0},
	} {
		if got := tt.l.Used(); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%s: used %g, want %g (definition)", tt.name, got, tt.want)
		}
	}
}

// More than all of a limit is used up just where it fails.
func TestUsedAboveOneIsBroken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Limit{
			Have: rapid.Float64Range(0, 20).Draw(t, "have"), Need: rapid.Float64Range(0, 20).Draw(t, "need"),
			Unit: rapid.SampledFrom([]string{"mg/L", "pH", "F", "gpm"}).Draw(t, "unit"), AtMost: rapid.Bool().Draw(t, "at most"),
		}
		if used := l.Used(); math.Abs(used-1) > 1e-6 && (used > 1) != l.Fails() && l.Margin() < 99 {
			t.Fatalf("%+v: used %g, fails %v", l, used, l.Fails())
		}
	})
}

// Air at 12 °C and one atmosphere leaves 10.8 mg/L of oxygen in fresh water
// (published: USGS dissolved-oxygen tables, as in the reference: DO 10.8 at 12 °C).
func TestAirSaturated(t *testing.T) {
	w := AirSaturated(water.State{Temperature: unit.Celsius(12), PH: unit.PHOf(7.2)})
	if got := w.Oxygen.MgPerL(); math.Abs(got-10.8) > 0.1 {
		t.Errorf("oxygen %g mg/L, want 10.8 at 12 °C", got)
	}
	if w.PH.Value() != 7.2 {
		t.Errorf("pH %g, want it left at 7.2", w.PH.Value())
	}
}
