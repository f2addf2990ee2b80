package chem

import (
	"errors"
	"math"
	"testing"
	"time"

	"wellwright/unit"
)

// What cannot be is refused with a reason.
func TestRefusals(t *testing.T) {
	m := standard()
	good := Totals{Temperature: unit.Celsius(12), Calcium: unit.MgPerL(60)}
	alk := unit.AlkalinityAsCaCO3(150)
	hot, negative, nan := good, good, good
	hot.Temperature = unit.Celsius(120)
	negative.Chloride = unit.MgPerL(-3)
	nan.Sodium = unit.MgPerL(math.NaN())
	basic := good
	basic.Phosphate = unit.MgPerLAsP(50)
	for _, tt := range []struct {
		name string
		t    Totals
		ph   float64
		alk  unit.Alkalinity
	}{
		{"120 °C", hot, 7, alk}, {"negative chloride", negative, 7, alk}, {"sodium that is no number", nan, 7, alk},
		{"pH 14", good, 14, alk}, {"no alkalinity", good, 7, unit.Alkalinity{}}, {"pH that is no number", good, math.NaN(), alk},
		{"alkalinity below that of phosphate", basic, 8, unit.AlkalinityAsCaCO3(10)},
	} {
		if _, err := m.AtPH(tt.t, unit.PHOf(tt.ph), tt.alk); err == nil {
			t.Errorf("%s was speciated", tt.name)
		}
	}
	if _, err := m.AtCarbon(good, alk, MolPerL(-1)); err == nil {
		t.Error("negative carbon was speciated")
	}
	if _, err := m.AtCO2(good, alk, Atm(0)); err == nil {
		t.Error("a gas without carbon dioxide was speciated")
	}
	var out *RangeError
	if _, err := m.AtPH(hot, unit.PHOf(7), alk); !errors.As(err, &out) || out.Got != 120 {
		t.Errorf("120 °C gives %v, want a range error", err)
	}
}

func TestReactRefuses(t *testing.T) {
	m := standard()
	c := Conditions{Temperature: unit.Celsius(12)}
	hot, salt := c, c
	hot.Temperature, salt.Ionic = unit.Celsius(60), IonicMolPerL(3)
	x := Mix{IronII: unit.MgPerL(2), Alkalinity: unit.AlkalinityAsCaCO3(100), Carbon: MolPerL(2.5e-3)}
	bad := x
	bad.Oxygen = unit.MgPerL(-1)
	for _, tt := range []struct {
		name string
		x    Mix
		c    Conditions
		v    Vessel
	}{
		{"60 °C", x, hot, Vessel{}}, {"brine", x, salt, Vessel{}}, {"negative oxygen", bad, c, Vessel{}},
		{"negative time", x, c, Vessel{Time: -time.Second}}, {"negative tanks", x, c, Vessel{Tanks: -1}},
		{"negative coating", x, c, Vessel{Surface: Surface{Ferric: unit.MgPerL(-1)}}},
	} {
		if _, err := m.React(tt.x, tt.c, tt.v); err == nil {
			t.Errorf("%s was let through", tt.name)
		}
	}
	if got, err := m.React(x, c, Vessel{}); err != nil || math.Abs(got.IronII.MgPerL()-2) > 1e-12 {
		t.Errorf("no time leaves %v, %v; want all", got.IronII, err)
	}
}

// Held oxygen stays, whatever the iron takes.
func TestHeldOxygen(t *testing.T) {
	m := standard()
	c := Conditions{Temperature: unit.Celsius(12), Ionic: IonicMolPerL(0.006), Law: FastLaw}
	x := Mix{IronII: unit.MgPerL(20), Alkalinity: unit.AlkalinityAsCaCO3(300)}
	x.Carbon = m.Carbonate(c.Temperature, c.Ionic).Carbon(unit.PHOf(7.4), x.Alkalinity)
	got, err := m.React(x, c, Vessel{Time: time.Hour, OxygenHeld: true, HeldOxygen: unit.MgPerL(45)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "oxygen", got.Oxygen.MgPerL(), 45, 1e-9, "definition of held oxygen")
	near(t, "iron in all", got.IronII.MgPerL()+got.IronSolid.MgPerL(), 20, 1e-9, "mass balance")
	if got.IronII.MgPerL() > 1 {
		t.Errorf("an hour under held oxygen leaves %v of 20 mg/L", got.IronII)
	}
}

// Chlorine meets sulfide first, and the share to sulfate is the user's.
func TestChlorineMeetsSulfideFirst(t *testing.T) {
	m := standard()
	c := Conditions{Temperature: unit.Celsius(12), Ionic: IonicMolPerL(0.006)}
	x := Mix{IronII: unit.MgPerL(5), Sulfide: unit.MgPerLAsH2S(1), FreeChlorine: unit.MgPerLAsCl2(2.0), Alkalinity: unit.AlkalinityAsCaCO3(200)}
	x.Carbon = m.Carbonate(c.Temperature, c.Ionic).Carbon(unit.PHOf(7), x.Alkalinity)
	got, err := m.React(x, c, Vessel{Time: time.Minute})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "chlorine", got.FreeChlorine.MgPerLAsCl2(), 0, 1e-9, "2.08 mg/L for 1 mg/L H2S, derived")
	near(t, "sulfur", got.SulfurSolid.MgPerL(), 2.0/2.0806*molS/molH2S, 0.001, "2.08 mg/L for 1 mg/L H2S, derived")
	near(t, "iron", got.IronII.MgPerL(), 5, 1e-9, "nothing left for iron")
}
