package chem

import (
	"testing"

	"wellwright/unit"
)

func TestDemandTable(t *testing.T) {
	const (
		bal  = "derived apart from balanced reactions"
		wtpd = "published: ASCE/AWWA Water Treatment Plant Design, table 10.7"
	)
	for _, tt := range []struct {
		o                Oxidant
		t                Target
		demand, alk, mud float64
		tol              float64
		from             string
	}{
		{Oxygen, IronII, 0.143, 1.792, 1.914, 0.0012, bal},
		{ChlorineGas, IronII, 0.635, 2.688, 1.914, 0.0012, bal},
		{Hypochlorite, IronII, 0.635, 1.792, 1.914, 0.0012, bal},
		{Permanganate, IronII, 0.943, 1.494, 2.433, 0.0012, bal},
		{Peroxide, IronII, 0.305, 1.792, 1.914, 0.0012, bal},
		{Ozone, IronII, 0.430, 1.792, 1.914, 0.0012, bal},
		{ChlorineDioxide, IronII, 1.208, 2.688, 1.914, 0.0012, bal},
		{Oxygen, ManganeseII, 0.291, 1.822, 1.582, 0.0012, bal},
		{ChlorineGas, ManganeseII, 1.291, 3.644, 1.582, 0.0012, bal},
		{Hypochlorite, ManganeseII, 1.291, 1.822, 1.582, 0.0012, bal},
		{Permanganate, ManganeseII, 1.918, 1.215, 2.637, 0.0012, bal},
		{Peroxide, ManganeseII, 0.619, 1.822, 1.582, 0.0012, bal},
		{Ozone, ManganeseII, 0.874, 1.822, 1.582, 0.0012, bal},
		{ChlorineDioxide, ManganeseII, 2.456, 3.644, 1.582, 0.0012, bal},
		{Oxygen, IronII, 0.14, 1.80, 1.9, 0.016, wtpd},
		{ChlorineGas, IronII, 0.64, 2.70, 1.9, 0.016, wtpd},
		{Permanganate, IronII, 0.94, 1.50, 2.43, 0.016, wtpd},
		{ChlorineDioxide, IronII, 1.21, 2.70, 1.9, 0.016, wtpd},
	} {
		d, ok := Demand(tt.o, tt.t)
		a, _ := AlkalinityUsed(tt.o, tt.t)
		s, _ := SolidsMade(tt.o, tt.t)
		if !ok {
			t.Errorf("oxidant %d on target %d is absent", tt.o, tt.t)
		}
		near(t, "demand", d, tt.demand, tt.tol, tt.from)
		near(t, "alkalinity", a.MgPerLAsCaCO3(), tt.alk, tt.tol, tt.from)
		near(t, "solids", s, tt.mud, tt.tol, tt.from)
	}
}

func TestSulfideAndAmmoniaDemand(t *testing.T) {
	const bal = "derived apart from balanced reactions"
	for _, tt := range []struct {
		o         Oxidant
		t         Target
		want, tol float64
		from      string
	}{
		{Oxygen, SulfideToSulfur, 0.469, 0.001, bal}, {Oxygen, SulfideToSulfate, 1.878, 0.001, bal},
		{Hypochlorite, SulfideToSulfur, 2.081, 0.001, bal}, {Hypochlorite, SulfideToSulfate, 8.322, 0.002, bal},
		{Hypochlorite, SulfideToSulfate, 8, 0.35, "published: civil engineering handbook, 8 mg/L for 1 mg/L H2S"},
		{Permanganate, SulfideToSulfur, 3.091, 0.001, bal}, {Permanganate, SulfideToSulfate, 12.365, 0.003, bal},
		{Peroxide, SulfideToSulfur, 0.998, 0.001, bal}, {Peroxide, SulfideToSulfate, 3.992, 0.001, bal},
		{Ozone, SulfideToSulfur, 1.408, 0.001, bal}, {Ozone, SulfideToSulfate, 5.633, 0.002, bal},
		{ChlorineDioxide, SulfideToSulfur, 3.958, 0.002, bal}, {ChlorineDioxide, SulfideToSulfate, 15.83, 0.01, bal},
		{Hypochlorite, AmmoniaToMonochloramine, 5.06, 0.005, bal}, {Hypochlorite, AmmoniaToNitrogen, 7.59, 0.005, bal},
		{ChlorineGas, AmmoniaToNitrogen, 7.6, 0.02, "published: Weiner, Applications of Environmental Aquatic Chemistry, p. 143"},
		{Oxygen, AmmoniaToNitrate, 4.57, 0.005, "from memory: nitrification demand of every handbook"},
	} {
		d, ok := Demand(tt.o, tt.t)
		if !ok {
			t.Errorf("oxidant %d on target %d is absent", tt.o, tt.t)
		}
		near(t, "demand", d, tt.want, tt.tol, tt.from)
	}
	for _, tt := range []struct {
		o    Oxidant
		want float64
	}{{ChlorineGas, 14.3}, {Hypochlorite, 3.6}} {
		a, _ := AlkalinityUsed(tt.o, AmmoniaToNitrogen)
		near(t, "breakpoint alkalinity", a.MgPerLAsCaCO3(), tt.want, 0.05, bal)
	}
	a, _ := AlkalinityUsed(Oxygen, AmmoniaToNitrate)
	near(t, "nitrification alkalinity", a.MgPerLAsCaCO3(), 7.15, 0.01, "from memory: every handbook")
	a, _ = AlkalinityUsed(Oxygen, SulfideToSulfate)
	near(t, "sulfide to sulfate with air", a.MgPerLAsCaCO3(), 2.94, 0.01, bal)
	for _, o := range []Oxidant{Oxygen, Permanganate, ChlorineDioxide, Peroxide, Ozone} {
		if _, ok := Demand(o, AmmoniaToNitrogen); ok {
			t.Errorf("oxidant %d takes ammonia to nitrogen; only chlorine does at useful speed", o)
		}
	}
	if _, ok := Demand(nOxidants, IronII); ok {
		t.Error("an unknown oxidant reacts")
	}
}

func TestWorkedDemands(t *testing.T) {
	o, _ := Demand(Oxygen, IronII)
	s, _ := SolidsMade(Oxygen, IronII)
	nearRel(t, "oxygen for 2.6 mg/L Fe", 2.6*o, 0.372, 0.01, "problem from MWH Water Treatment, answer derived")
	nearRel(t, "ferric hydroxide from 2.6 mg/L Fe", 2.6*s, 4.98, 0.01, "problem from MWH Water Treatment, answer derived")

	m := standard()
	p := m.ChlorineDemand(ChlorineNeeds{IronII: unit.MgPerL(2), Manganese: unit.MgPerL(0.30), Sulfide: unit.MgPerLAsH2S(0.5),
		Ammonia: unit.MgPerLAsN(0.2), Residual: unit.MgPerLAsCl2(0.5)})
	const from = "derived apart: 1.27 + 0.39 + 1.04 + 1.52 + 0.5; 3.12 more if sulfide goes to sulfate"
	nearRel(t, "iron", p.Iron.Usual.MgPerLAsCl2(), 1.27, 0.01, from)
	nearRel(t, "manganese", p.Manganese.Usual.MgPerLAsCl2(), 0.39, 0.01, from)
	nearRel(t, "sulfide", p.Sulfide.Usual.MgPerLAsCl2(), 1.04, 0.01, from)
	nearRel(t, "ammonia", p.Ammonia.Usual.MgPerLAsCl2(), 1.52, 0.01, from)
	nearRel(t, "total", p.Total().Usual.MgPerLAsCl2(), 4.72, 0.01, from)
	nearRel(t, "to sulfate", p.Sulfide.High.MgPerLAsCl2()-p.Sulfide.Low.MgPerLAsCl2(), 3.12, 0.01, from)
	near(t, "ammonia in practice", p.Ammonia.High.MgPerLAsCl2(), 2.0, 1e-9, "published: 10 to 15 in practice (Weiner)")
}
