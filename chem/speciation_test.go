package chem

import (
	"math"
	"testing"

	"wellwright/source"
	"wellwright/unit"
)

// near fails the test when got is further than tol from want.
func near(t *testing.T, what string, got, want, tol float64, from string) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6g, want %g ± %g (%s)", what, got, want, tol, from)
	}
}

// nearRel is near with a relative tolerance.
func nearRel(t *testing.T, what string, got, want, rel float64, from string) {
	t.Helper()
	near(t, what, got, want, math.Abs(want)*rel, from)
}

func standard() *Model { return New(source.Set{}) }

func mmol(v, mass float64) unit.Concentration { return unit.MgPerL(v * mass) }

const usgsExamples = "published: Parkhurst & Appelo 1999, USGS WRIR 99-4259"

func spring() (Totals, unit.PH, unit.Alkalinity) {
	return Totals{
		Temperature: unit.Celsius(25), Silica: mmol(0.273, molSiO2), Calcium: mmol(0.078, molCa), Magnesium: mmol(0.029, molMg),
		Sodium: mmol(0.134, molNa), Potassium: mmol(0.028, molK), Sulfate: mmol(0.010, molSO4), Chloride: mmol(0.014, molCl),
	}, unit.PHOf(6.2), unit.AlkalinityMeq(0.328)
}

func TestSpringOfSierraNevada(t *testing.T) {
	from := usgsExamples + ", example 16 (water of Garrels & Mackenzie 1967)"
	tot, ph, alk := spring()
	s, err := standard().AtPH(tot, ph, alk)
	if err != nil {
		t.Fatal(err)
	}
	nearRel(t, "ionic strength", s.Ionic().MolPerL(), 4.86e-4, 0.02, from)
	nearRel(t, "CO2", s.Molarity(CarbonDioxide).MolPerL(), 4.54e-4, 0.01, from)
	nearRel(t, "HCO3", s.Molarity(BicarbonateIon).MolPerL(), 3.28e-4, 0.01, from)
	nearRel(t, "DIC", s.Carbon().MolPerL(), 7.83e-4, 0.01, from)
	near(t, "log pCO2", math.Log10(s.PCO2().Atm()), -1.87, 0.02, from)
	checkSI(t, s, Calcite, -3.30, 0.05, from)
	checkSI(t, s, Aragonite, -3.44, 0.05, from)
	near(t, "CO2, mg/L", s.CO2().MgPerL(), 20.2, 0.4, "published: USGS TWRI 5-A1, CO2 = 1.60 · 10^(6-pH) · HCO3")
}

func checkSI(t *testing.T, s State, m Mineral, want, tol float64, from string) {
	t.Helper()
	got, ok := s.SI(m)
	if !ok {
		t.Errorf("SI %v is absent, want %g (%s)", m, want, from)
	}
	near(t, "SI "+m.String(), got, want, tol, from)
}

func madison() Totals {
	return Totals{
		Temperature: unit.Celsius(9.9), Calcium: mmol(1.20, molCa), Magnesium: mmol(1.01, molMg), Sodium: mmol(0.02, molNa),
		Potassium: mmol(0.02, molK), IronII: mmol(0.001, molFe), Chloride: mmol(0.02, molCl), Sulfate: mmol(0.16, molSO4),
	}
}

func TestMadisonAquifer(t *testing.T) {
	from := usgsExamples + ", example 18, recharge 3"
	m := standard()
	s, err := m.AtPH(madison(), unit.PHOf(7.55), unit.AlkalinityMeq(4.014))
	if err != nil {
		t.Fatal(err)
	}
	nearRel(t, "DIC", s.Carbon().MolPerL(), 4.30e-3, 0.005, from)
	nearRel(t, "ionic strength", s.Ionic().MolPerL(), 6.61e-3, 0.02, from)
	near(t, "log pCO2", math.Log10(s.PCO2().Atm()), -2.26, 0.02, from)
	checkSI(t, s, Calcite, -0.04, 0.05, from)
	checkSI(t, s, Aragonite, -0.19, 0.05, from)
	checkSI(t, s, Siderite, -0.86, 0.05, from)
	nearRel(t, "Fe+2", s.Molarity(FerrousIon).MolPerL(), 7.29e-7, 0.05, from)
	nearRel(t, "FeHCO3+", s.Molarity(FeHCO3).MolPerL(), 2.09e-7, 0.05, from)
	nearRel(t, "FeCO3", s.Molarity(FeCO3).MolPerL(), 5.3e-8, 0.05, from)
	nearRel(t, "FeSO4", s.Molarity(FeSO4).MolPerL(), 7.1e-9, 0.05, from)
	nearRel(t, "FeOH+", s.Molarity(FeOH).MolPerL(), 2.0e-9, 0.05, from)

	back, err := m.AtCarbon(madison(), s.Alkalinity(), s.Carbon())
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pH of the closed water", back.PH().Value(), 7.55, 1e-9, "self: the same water by another door")
	open, err := m.AtCO2(madison(), s.Alkalinity(), s.PCO2())
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pH of the open water", open.PH().Value(), 7.55, 1e-9, "self: the same water by another door")
}
