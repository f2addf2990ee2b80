package hydraulic

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/unit"
)

func dual(coalD10 float64) Stack {
	return Stack{{coal(coalD10, coalD10*1.4, 0.50), unit.Inches(18)}, {sand(0.5, 0.7, 0.42), unit.Inches(12)}}
}

func TestSameSettling(t *testing.T) {
	const sizing = "Tchobanoglous, Burton and Stensel, 2003, Wastewater Engineering, sizes for 0.55 mm sand (from memory)"
	check(t, []row{
		{"coal of 1.7", SameSettling(unit.MM(0.55), 2.65, 1.7).MM(), 0.97, 0.01, sizing},
		{"ilmenite of 4.2", SameSettling(unit.MM(0.55), 2.65, 4.2).MM(), 0.35, 0.01, sizing},
		{"itself", SameSettling(unit.MM(0.55), 2.65, 2.65).MM(), 0.55, 1e-12, "definition"},
	})
	if !math.IsInf(SameSettling(unit.MM(1), 2.65, 1).MM(), 1) {
		t.Error("a grain that floats settles as fast as sand")
	}
	// The rule against the drag law: grains of the paired sizes settle alike.
	a, b := Grain{Sphericity: 0.75, Density: 2.65}, Grain{Sphericity: 0.75, Density: 1.65}
	for _, mm := range []float64{0.35, 0.5, 0.7} {
		va := metersPerSecond(a.Terminal(unit.MM(mm), celsius(15)))
		vb := metersPerSecond(b.Terminal(SameSettling(unit.MM(mm), 2.65, 1.65), celsius(15)))
		check(t, []row{{"settling, coal over sand", vb / va, 1, 0.15, "drag law of Davis, 2010, eqs 11-12 to 11-14, a second method"}})
	}
}

func TestStackIsTheSumOfItsBeds(t *testing.T) {
	s := dual(0.9)
	v := unit.GPMPerFt2(20)
	beds, all := s.Wash(v, celsius(10))
	const table = "closed form of the two media worked by hand, handbook water"
	check(t, []row{
		{"sand %", 100 * Stack{{sand(0.45, 0.70, 0.42), unit.Inches(12)}}.one(v, celsius(10)).Expansion, 25, 0.6, table},
		{"coal %", 100 * Stack{{coal(0.9, 1.4, 0.50), unit.Inches(18)}}.one(v, celsius(10)).Expansion, 26, 0.6, table},
		{"depth", all.Depth.Inches(), beds[0].Depth.Inches() + beds[1].Depth.Inches(), 1e-9, "sum"},
		{"weight carried, psi", all.Loss.PSI(), s[0].Grain.Lifted(s[0].Depth, celsius(10)).PSI() + s[1].Grain.Lifted(s[1].Depth, celsius(10)).PSI(), 1e-9, "a fluidised bed loses its weight in water"},
		// Anthracite 1.65, 18 in at 50 %, and sand 2.65, 12 in at 42 %: in water of
		// 999.7 kg/m3, (0.457·0.5·650.3 + 0.305·0.58·1650.3) kg/m2.
		{"by hand, psi", all.Loss.PSI(), (0.4572*0.5*650.3 + 0.3048*0.58*1650.3) * 9.80665 / 6894.76, 0.001, "force balance by hand"},
		{"service loss", s.HeadLoss(unit.GPMPerFt2(5), celsius(10)).PSI(), s[0].Grain.HeadLoss(unit.GPMPerFt2(5), s[0].Depth, celsius(10)).PSI() + s[1].Grain.HeadLoss(unit.GPMPerFt2(5), s[1].Depth, celsius(10)).PSI(), 1e-12, "sum"},
	})
	if beds, all := (Stack{}).Wash(v, celsius(10)); beds != nil || all != (Washed{}) {
		t.Error("an empty vessel has a bed")
	}
}

// one returns the only bed of a stack.
func (s Stack) one(v unit.Loading, t unit.Temperature) Washed {
	beds, _ := s.Wash(v, t)
	return beds[0]
}

func TestBoundaries(t *testing.T) {
	apart := dual(0.9).Boundaries(unit.GPMPerFt2(18), celsius(10))[0]
	if apart.Sinks {
		t.Errorf("ordinary coal over sand turned over: %+v", apart)
	}
	if coarse := dual(1.6).Boundaries(unit.GPMPerFt2(18), celsius(10))[0]; !coarse.Overlap {
		t.Errorf("coal of 1.6 mm over 0.5 mm sand does not blend: %+v", coarse)
	}
	if fine := dual(0.5).Boundaries(unit.GPMPerFt2(18), celsius(10))[0]; fine.Overlap {
		t.Errorf("coal of 0.5 mm over 0.5 mm sand blends: %+v", fine)
	}
	// Fine sand laid over coarse coal cannot stay: as soon as both are lifted it sinks.
	upside := Stack{{sand(0.5, 0.7, 0.42), unit.Inches(12)}, {coal(0.9, 1.3, 0.50), unit.Inches(18)}}
	if b := upside.Boundaries(unit.GPMPerFt2(20), celsius(10))[0]; !b.Sinks {
		t.Errorf("sand stays on coal: %+v", b)
	}
	// One medium over itself lies on the boundary of both rules.
	same := Grain{D10: unit.MM(0.5), D60: unit.MM(0.5), D90: unit.MM(0.5), Density: 2.65, Porosity: 0.42, Sphericity: 0.8}
	b := Stack{{same, unit.Ft(1)}, {same, unit.Ft(1)}}.Boundaries(unit.GPMPerFt2(25), celsius(10))[0]
	if b.Overlap || !b.Sinks {
		t.Errorf("a medium over itself: %+v", b)
	}
}

func TestStackProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := Stack{{drawGrain(r), unit.Inches(18)}, {drawGrain(r), unit.Inches(12)}}
		c := celsius(rapid.Float64Range(2, 28).Draw(r, "celsius"))
		v := rapid.Float64Range(1, 25).Draw(r, "loading")
		beds, less := s.Wash(unit.GPMPerFt2(v), c)
		_, more := s.Wash(unit.GPMPerFt2(v*1.05), c)
		if more.Expansion < less.Expansion-1e-12 || more.Loss.PSI() < less.Loss.PSI()-1e-12 {
			r.Fatalf("a faster wash lifts or costs less: %+v, %+v", less, more)
		}
		for i, b := range beds {
			// Grains are kept: what is not water in the bulk is the settled mass.
			grain := s[i].Grain
			mass := (b.Bulk - Density(c)) * b.Depth.Ft()
			if want := (1 - grain.Porosity) * grain.excess(c) * s[i].Depth.Ft(); math.Abs(mass-want) > 1e-6*math.Abs(want)+1e-9 {
				r.Fatalf("bed %d: %g of %g kept", i, mass, want)
			}
		}
	})
}
