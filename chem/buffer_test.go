package chem

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/unit"
)

// The closed form for carbonate alone, at the constants of the water.
//
//	β = ln10 [ H + OH + C K1 H (H² + 4 K2 H + K1 K2) / (H² + K1 H + K1 K2)² ]
func TestBufferIntensityOfCarbonate(t *testing.T) {
	const from = "closed form for a carbonate water: Stumm and Morgan, Aquatic Chemistry, chapter 3 (from memory)"
	m := standard()
	for _, ph := range []float64{5.5, 6.35, 7, 7.6, 8.3, 9.2, 10} {
		tot := Totals{Temperature: unit.Celsius(25), Potassium: mmol(2, molK)} // which pairs with no carbonate
		s, err := m.AtPH(tot, unit.PHOf(ph), unit.AlkalinityMeq(2))
		if err != nil {
			t.Fatal(err)
		}
		got, err := s.BufferIntensity()
		if err != nil {
			t.Fatal(err)
		}
		c := m.Carbonate(tot.Temperature, s.Ionic())
		h := math.Pow(10, -ph)
		carbon := c.Carbon(unit.PHOf(ph), unit.AlkalinityMeq(2)).MolPerL()
		share := carbon * c.k1 * h * (h*h + 4*c.k2*h + c.k1*c.k2) / math.Pow(h*h+c.k1*h+c.k1*c.k2, 2)
		want := math.Ln10 * (h*c.invG + c.kw/h + share) * 1000
		near(t, "buffer intensity, meq/L", got.MeqPerL(), want, 0.02*want, from+"; it holds activity coefficients still")
	}
}

func TestAcids(t *testing.T) {
	const from = "derived from atomic weights; 1.37 and 1.02 are the figures of operators' handbooks (from memory)"
	near(t, "hydrochloric acid", AlkalinityOf(HydrochloricAcid, unit.MgPerL(1)).MgPerLAsCaCO3(), -1.37, 0.005, from)
	near(t, "sulfuric acid", AlkalinityOf(SulfuricAcid, unit.MgPerL(1)).MgPerLAsCaCO3(), -1.02, 0.005, from)
	near(t, "carbon dioxide", AlkalinityOf(CarbonicGas, unit.MgPerL(1)).MgPerLAsCaCO3(), 0, 0, "it carries no charge")
}

// What an acid takes, caustic gives back; and acid, gas and base move pH as they must.
func TestAcidAndBaseUndoEachOther(t *testing.T) {
	m := standard()
	rapid.Check(t, func(r *rapid.T) {
		tot := Totals{Temperature: unit.Celsius(rapid.Float64Range(1, 30).Draw(r, "C")),
			Calcium: mmol(rapid.Float64Range(0.1, 3).Draw(r, "Ca"), molCa), Sodium: mmol(3, molNa), Chloride: mmol(1, molCl)}
		alk := rapid.Float64Range(0.4, 6).Draw(r, "alkalinity")
		s, err := m.AtPH(tot, unit.PHOf(rapid.Float64Range(6.5, 8.8).Draw(r, "pH")), unit.AlkalinityMeq(alk))
		if err != nil {
			r.Fatal(err)
		}
		acid := rapid.SampledFrom([]Chemical{HydrochloricAcid, SulfuricAcid}).Draw(r, "acid")
		low, err := s.LowerTo(acid, unit.PHOf(6))
		if err != nil {
			r.Fatal(err)
		}
		if low.Dose.MgPerL() <= 0 || math.Abs(low.State.PH().Value()-6) > 1e-6 {
			r.Fatalf("%v of %s leads to pH %v", low.Dose, acid, low.State.PH())
		}
		eq := -AlkalinityOf(acid, low.Dose).MeqPerL()
		back, err := low.State.Add(Caustic, unit.MgPerL(eq*molNaOH))
		if err != nil {
			r.Fatal(err)
		}
		if d := back.Alkalinity().MeqPerL() - alk; math.Abs(d) > 1e-9 {
			r.Fatalf("alkalinity is off by %g meq/L after acid and base", d)
		}
		gas, err := s.Add(CarbonicGas, unit.MgPerL(20))
		if err != nil {
			r.Fatal(err)
		}
		out, err := gas.Add(CarbonicGas, unit.MgPerL(-20))
		if err != nil {
			r.Fatal(err)
		}
		if gas.PH().Value() >= s.PH().Value() || math.Abs(out.PH().Value()-s.PH().Value()) > 1e-6 {
			r.Fatalf("pH %v with gas %v and without it again %v", s.PH(), gas.PH(), out.PH())
		}
	})
}

// Acid in an open tank takes alkalinity, and the carbon dioxide it makes leaves.
func TestAcidInAnOpenTank(t *testing.T) {
	const from = "closed form of an open carbonate water (Stumm and Morgan, from memory), solved outside the program at pK1 6.352, pK2 10.329, pKH 1.468"
	s, err := standard().AtPH(Totals{Temperature: unit.Celsius(25), Potassium: mmol(2, molK)}, unit.PHOf(7.5), unit.AlkalinityMeq(2))
	if err != nil {
		t.Fatal(err)
	}
	acid, err := s.Add(HydrochloricAcid, unit.MgPerL(1*molHCl))
	if err != nil {
		t.Fatal(err)
	}
	open, err := acid.OpenTo(Atm(4e-4))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "alkalinity", open.Alkalinity().MeqPerL(), 1, 1e-9, "one equivalent taken")
	near(t, "pH", open.PH().Value(), 8.189, 0.003, from)
}

func TestLowerToRefuses(t *testing.T) {
	s, err := standard().AtPH(Totals{Temperature: unit.Celsius(10), Sodium: mmol(2, molNa)}, unit.PHOf(7.5), unit.AlkalinityMeq(2))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.LowerTo(HydrochloricAcid, unit.PHOf(8)); err == nil {
		t.Error("acid was asked to raise pH")
	}
	if _, err := s.LowerTo(Caustic, unit.PHOf(7)); !errors.Is(err, ErrUnreachable) {
		t.Errorf("caustic was asked to lower pH: %v", err)
	}
}
