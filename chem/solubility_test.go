package chem

import (
	"math"
	"testing"

	"wellwright/unit"
)

// ceilingOf finds the amount of iron or manganese at which a mineral is in
// balance, mg/L, in a water whose hardness equals its alkalinity, 12 °C.
func ceilingOf(t *testing.T, m *Model, mineral Mineral, alk, ph float64) float64 {
	t.Helper()
	low, high := 1e-4, 1e3
	for range 60 {
		mid := math.Sqrt(low * high)
		tot := Totals{Temperature: unit.Celsius(12), Calcium: unit.MgPerL(0.75 * alk * molCa / molCaCO3), Magnesium: unit.MgPerL(0.25 * alk * molMg / molCaCO3)}
		if mineral == Siderite || mineral == SideriteFresh {
			tot.IronII = unit.MgPerL(mid)
		} else {
			tot.Manganese = unit.MgPerL(mid)
		}
		s, err := m.AtPH(tot, unit.PHOf(ph), unit.AlkalinityAsCaCO3(alk))
		if err != nil {
			t.Fatal(err)
		}
		if si, _ := s.SI(mineral); si > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	return low
}

func TestSolubilityCeilings(t *testing.T) {
	const apart = "derived apart from WATEQ4F constants, 12 °C, hardness equal to alkalinity; other ions not stated"
	m := standard()
	for _, tt := range []struct {
		mineral   Mineral
		alk, ph   float64
		want, rel float64
	}{
		{Siderite, 50, 7.0, 3.7, 0.08}, {SideriteFresh, 50, 7.0, 10.3, 0.08},
		{Siderite, 100, 6.0, 21.6, 0.05}, {SideriteFresh, 100, 6.0, 64, 0.05},
		{Siderite, 100, 7.0, 2.1, 0.05}, {SideriteFresh, 100, 7.0, 5.8, 0.05},
		{Siderite, 200, 7.5, 0.42, 0.05}, {SideriteFresh, 200, 7.5, 1.17, 0.05},
		{Siderite, 300, 8.0, 0.12, 0.06}, {SideriteFresh, 300, 8.0, 0.34, 0.05},
		{Rhodochrosite, 100, 6.5, 3.4, 0.06}, {RhodochrositeFresh, 100, 6.5, 19.4, 0.05},
		{Rhodochrosite, 100, 7.5, 0.37, 0.06}, {RhodochrositeFresh, 200, 7.0, 3.8, 0.05},
		{Rhodochrosite, 200, 8.0, 0.10, 0.06}, {RhodochrositeFresh, 200, 8.0, 0.56, 0.05},
	} {
		nearRel(t, tt.mineral.String(), ceilingOf(t, m, tt.mineral, tt.alk, tt.ph), tt.want, tt.rel, apart)
	}
}

func TestFerricSolubility(t *testing.T) {
	m := standard()
	for _, tt := range []struct{ ph, ug float64 }{{5, 97}, {6, 10.5}, {6.5, 4.1}, {7, 2.1}, {8, 1.4}, {9, 2.3}} {
		low, high := 1e-3, 1e4
		for range 60 {
			mid := math.Sqrt(low * high)
			s, err := m.AtPH(Totals{Temperature: unit.Celsius(25), IronIII: unit.UgPerL(mid)}, unit.PHOf(tt.ph), unit.AlkalinityAsCaCO3(5))
			if err != nil {
				t.Fatal(err)
			}
			if si, _ := s.SI(FerricHydroxide); si > 0 {
				high = mid
			} else {
				low = mid
			}
		}
		nearRel(t, "dissolved ferric iron, ug/L", low, tt.ug, 0.10, "derived apart from WATEQ4F constants, log K 4.891, 25 °C")
	}
}

func TestIronWell(t *testing.T) {
	const from = "analysis published: Yang et al. 2020; indices derived apart at 18 °C"
	x := ironWell()
	x.Temperature = unit.Celsius(18)
	s, err := standard().AtPH(x, unit.PHOf(6.97), hco3(558.58))
	if err != nil {
		t.Fatal(err)
	}
	checkSI(t, s, Calcite, 0.16, 0.1, from)
	checkSI(t, s, Siderite, 1.6, 0.1, from)
	nearRel(t, "CO2", s.CO2().MgPerL(), 90, 0.03, from)
}

// A dilute iron water with its measured potential.
func TestMorroDoFerro(t *testing.T) {
	const from = "published: Bethke 2007, Morro do Ferro groundwater"
	x := mgl(0.238, 0.352, 0.043, 0.20, 0, 0.15, 0, 0)
	x.Temperature = unit.Celsius(22)
	x.IronII, x.IronIII, x.Manganese = unit.MgPerL(0.73), unit.MgPerL(0.03), unit.MgPerL(0.277)
	m := standard()
	s, err := m.AtPH(x, unit.PHOf(6.05), hco3(1.8))
	if err != nil {
		t.Fatal(err)
	}
	nearRel(t, "Fe+2", s.Molarity(FerrousIon).MolPerL(), 1.3e-5, 0.05, from)
	for _, tt := range []struct {
		s    Species
		want float64
	}{{FerricOH2, 3.7e-7}, {FerricOH3, 1.6e-7}, {FerricOH, 1.2e-9}} {
		if r := s.Molarity(tt.s).MolPerL() / tt.want; r < 1./3 || r > 3 {
			t.Errorf("%v = %.2g mol/L, want %g within a factor of 3 (%s)", tt.s, s.Molarity(tt.s).MolPerL(), tt.want, from)
		}
	}
	fe, ok := s.IronPotential()
	near(t, "Eh of iron", fe.MV(), 306, 15, from)
	o2, ok2 := s.OxygenPotential(unit.MgPerL(4.3))
	near(t, "Eh of oxygen", o2.MV(), 861, 15, from)
	if !ok || !ok2 {
		t.Error("a potential is missing")
	}
}
