package hydraulic

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/unit"
)

// courseSupply is a pump of 8 gpm at 30 psi before a well of some yield and store,
// without a tank.
func courseSupply(t interface{ Fatal(...any) }, yield, storage float64) Supply {
	p, err := PumpFromMeasurements([]PumpPoint{{unit.GPM(9), unit.PSI(20)}, {unit.GPM(8), unit.PSI(30)}, {unit.GPM(6.5), unit.PSI(50)}})
	if err != nil {
		t.Fatal(err)
	}
	return Supply{Pump: p, CutIn: unit.PSI(30), CutOut: unit.PSI(50), Yield: unit.GPM(yield), CasingStorage: unit.Gal(storage)}
}

// A well of 2 gpm with 30 gallons in store gives 7 gpm for 30/(7-2) = 6 minutes,
// and its yield from then on (water balance, by hand).
func TestCourseFallsToTheYield(t *testing.T) {
	s := courseSupply(t, 2, 30)
	for _, x := range s.Course(Draw{Flow: unit.GPM(7), Minutes: 12, MinPressure: unit.PSI(30)}) {
		want, short := 7.0, ShortNone
		if x.At > 6.3 {
			want, short = 2, ShortWell
		}
		if math.Abs(x.At-6) < 0.35 {
			continue // the step in which the store runs out
		}
		if got := x.Given.GPM(); math.Abs(got-want) > 0.01 || x.Short != short {
			t.Errorf("at %g min the draw gets %g gpm, short %v; want %g, %v (water balance)", x.At, got, x.Short, want, short)
		}
		if left := math.Max(0, 30-5*x.At); math.Abs(x.Storage.Gal()-left) > 0.1 && x.At < 6 {
			t.Errorf("at %g min %g gal are left, want %g (water balance)", x.At, x.Storage.Gal(), left)
		}
	}
}

// A draw above what the pump gives at 30 psi gets the 8 gpm measured there.
func TestCourseIsHeldByThePump(t *testing.T) {
	s := courseSupply(t, 20, 100)
	for _, x := range s.Course(Draw{Flow: unit.GPM(10), Minutes: 5, MinPressure: unit.PSI(30)}) {
		if got := x.Given.GPM(); math.Abs(got-8) > 1e-6 || x.Short != ShortPump {
			t.Errorf("at %g min the draw gets %g gpm, short %v; want the 8 gpm measured at 30 psi", x.At, got, x.Short)
		}
	}
}

// Whatever the supply: what a draw gets is never more than it asks, what is drawn
// beyond the yield is what the casing loses, and where Simulate delivers, so does
// the course.
func TestCourseKeepsTheBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := courseSupply(t, rapid.Float64Range(0.3, 12).Draw(t, "yield"), rapid.Float64Range(0, 200).Draw(t, "storage"))
		s.CasingBore = unit.Inches(rapid.SampledFrom([]float64{0, 4, 6}).Draw(t, "bore"))
		d := Draw{Flow: unit.GPM(rapid.Float64Range(1, 12).Draw(t, "flow")), Minutes: rapid.Float64Range(2, 30).Draw(t, "minutes"), MinPressure: unit.PSI(30)}
		course := s.Course(d)
		short, drawn, last := false, 0.0, 0.0
		for _, x := range course {
			if x.Given.GPM() > d.Flow.GPM()+1e-9 {
				t.Fatalf("at %g min the draw gets %v of %v", x.At, x.Given, d.Flow)
			}
			drawn = math.Max(0, drawn+(x.Given.GPM()-s.Yield.GPM())*(x.At-last))
			if left := math.Max(0, s.CasingStorage.Gal()-drawn); math.Abs(left-x.Storage.Gal()) > 1e-6*(1+drawn) {
				t.Fatalf("at %g min %g gal are left, want %g (water balance)", x.At, x.Storage.Gal(), left)
			}
			short, last = short || x.Short != ShortNone, x.At
		}
		if run := Simulate(s, d); run.Delivered == short {
			t.Fatalf("delivered %v, but short in the course is %v", run.Delivered, short)
		}
	})
}
