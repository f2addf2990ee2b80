package chem

import (
	"math"
	"testing"
	"time"

	"wellwright/unit"
)

func TestRadonRatio(t *testing.T) {
	const from = "solubility of radon by volume: 0.51 at 0 °C, 0.25 at 20 °C (tables of gases, from memory)"
	near(t, "at 0 °C", 1/RadonRatio(unit.Celsius(0)), 0.51, 0.01, from)
	near(t, "at 20 °C", 1/RadonRatio(unit.Celsius(20)), 0.25, 0.01, from)
}

func TestRadonLeft(t *testing.T) {
	left := func(a RadonAir) float64 {
		v, err := RadonLeft(unit.Celsius(25), a)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	const pilot = "published: pilot of diffused bubbles, J. Radioanal. Nucl. Chem. 241:3, 1999 (abstract): 97 % at 12 : 1 and 19 min, 90 % at 19 : 1 and 4 min; temperature not seen, 25 °C taken"
	if best := left(RadonAir{Ratio: 12, Stages: 1, Approach: 1, Fresh: true}); best > 0.03 {
		t.Errorf("12 : 1 at balance leaves %.3f, more than the 0.03 that was measured (%s)", best, pilot)
	}
	for _, tt := range []struct{ ratio, removed float64 }{{12, 0.97}, {19, 0.90}} {
		low, high := 0.0, 1.0
		for range 50 {
			mid := (low + high) / 2
			if left(RadonAir{Ratio: tt.ratio, Stages: 1, Approach: mid, Fresh: true}) > 1-tt.removed {
				low = mid
			} else {
				high = mid
			}
		}
		t.Logf("%g : 1 and %.0f %% ask an approach of %.2f", tt.ratio, 100*tt.removed, low)
		if low < 0.05 || low > 0.95 {
			t.Errorf("%g : 1: %.0f %% would ask an approach of %.2f (%s)", tt.ratio, 100*tt.removed, low, pilot)
		}
	}
	near(t, "no air", left(RadonAir{Stages: 3, Approach: 0.5}), 1, 1e-9, "limit: nothing leaves")
	one, cross := left(RadonAir{Ratio: 20, Stages: 1, Approach: 0.5}), left(RadonAir{Ratio: 20, Stages: 1, Approach: 0.5, Fresh: true})
	near(t, "one box, both ways", one, cross, 1e-12, "limit: with one box the two are the same")
	counter := left(RadonAir{Ratio: 20, Stages: 3, Approach: 0.5})
	if three := left(RadonAir{Ratio: 20, Stages: 3, Approach: 0.5, Fresh: true}); counter > three {
		t.Errorf("air against water leaves %.2g, more than fresh air shared out, %.2g", counter, three)
	}
	near(t, "many boxes of fresh air", left(RadonAir{Ratio: 2, Stages: 10000, Approach: 1, Fresh: true}), math.Exp(-2*RadonRatio(unit.Celsius(25))), 1e-3, "limit: plug flow through fresh air, exp(-H r)")
	if _, err := RadonLeft(unit.Celsius(10), RadonAir{Ratio: -1, Stages: 1}); err == nil {
		t.Error("a negative air ratio passes")
	}
}

func TestRadonOnCarbon(t *testing.T) {
	const from = "by hand: 3 ft3 of carbon, 22.44 gal, at 280 gal/day is 1.92 h; Kss of 2.54 and 4.52 1/h, National Research Council 1999"
	hours := 22.44 / (280.0 / 24)
	contact := time.Duration(hours * float64(time.Hour))
	near(t, "removed, %", 100*(1-RadonOnCarbon(PerHour(2.54), contact)), 99.2, 0.05, from)
	near(t, "removed, %", 100*(1-RadonOnCarbon(PerHour(4.52), contact)), 99.98, 0.005, from)
	need := -math.Log(0.05) / 2.54 * 280 / 24 / unit.Ft3(1).Gal()
	near(t, "ft3 for 95 %", need, 1.84, 0.01, from)
}
