package chem

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wellwright/unit"
)

var (
	cool     = Conditions{Temperature: unit.Celsius(10), Ionic: IonicMolPerL(0.005)}
	openTank = Bubbled{Transfer: PerHour(6), Absolute: atmospheres(1)}
)

// Where nothing reacts oxygen nears saturation by an exponential in one fill of
// water and by a geometric row in stirred tanks.
func TestOxygenIntoWater(t *testing.T) {
	const from = "first-order approach to saturation (Benson & Krause 1984: 11.288 mg/L at 10 °C)"
	m := standard()
	for _, tt := range []struct {
		tanks   int
		start   float64 // mg/L
		minutes float64
		left    float64 // of the shortfall
	}{
		{0, 0, 10, math.Exp(-1)}, {0, 2, 10, math.Exp(-1)}, {0, 0, 60, math.Exp(-6)}, {0, 20, 10, math.Exp(-1)},
		{1, 0, 10, 1 / 2.0}, {1, 20, 10, 1 / 2.0}, {2, 0, 20, 1 / 4.0}, {4, 3, 60, math.Pow(2.5, -4)},
	} {
		x := Mix{Oxygen: unit.MgPerL(tt.start), Alkalinity: unit.AlkalinityAsCaCO3(200)}
		x.Carbon = m.Carbonate(cool.Temperature, cool.Ionic).Carbon(unit.PHOf(7), x.Alkalinity)
		got, err := m.React(x, cool, Vessel{Time: time.Duration(tt.minutes * float64(time.Minute)), Tanks: tt.tanks, Bubbled: openTank})
		if err != nil {
			t.Fatal(err)
		}
		want := 11.288 + (tt.start-11.288)*tt.left
		near(t, "oxygen", got.Oxygen.MgPerL(), want, 0.002, from)
		if got.Alkalinity != x.Alkalinity {
			t.Errorf("gas moved alkalinity from %v to %v", x.Alkalinity, got.Alkalinity)
		}
	}
}

// Carbon dioxide leaves as fast as an integration of another kind says, with pH
// from the quick carbonate system at each of many small steps.
func TestCarbonOutOfWater(t *testing.T) {
	const from = "second method: classical Runge-Kutta, 2,000 steps"
	m := standard()
	for _, tt := range []struct{ alk, ph, minutes, air float64 }{
		{200, 6.5, 5, 0}, {200, 6.5, 30, 0}, {50, 6, 20, 0}, {300, 7.2, 60, 20}, {100, 8.9, 60, 0}, {120, 6.3, 30, 4},
	} {
		q := m.Carbonate(cool.Temperature, cool.Ionic)
		x := Mix{Alkalinity: unit.AlkalinityAsCaCO3(tt.alk)}
		x.Carbon = q.Carbon(unit.PHOf(tt.ph), x.Alkalinity)
		v := Vessel{Time: time.Duration(tt.minutes * float64(time.Minute)), Bubbled: openTank}
		v.Bubbled.Air = PerHour(tt.air)
		got, err := m.React(x, cool, v)
		if err != nil {
			t.Fatal(err)
		}
		k := 6 * math.Sqrt(1.92/2.10)
		if tt.air > 0 { // the bubble fills: 0.800 volumes of gas a volume of water at 10 °C
			k = tt.air * 0.800 * (1 - math.Exp(-k/(tt.air*0.800)))
		}
		sat := 4.2e-4 * (1 - 0.01212) * math.Pow(10, -1.2703) // atm, vapour at 10 °C, log K of CO2 at 10 °C
		speed := func(c float64) float64 {
			h := activityOf(q.PH(x.Alkalinity, MolPerL(c)))
			return -k / 60 * (c*q.share(h) - sat)
		}
		c, steps := x.Carbon.MolPerL(), 2000
		h := tt.minutes / float64(steps)
		for range steps {
			k1 := speed(c)
			k2 := speed(c + h/2*k1)
			k3 := speed(c + h/2*k2)
			k4 := speed(c + h*k3)
			c += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
		}
		nearRel(t, "carbon left", got.Carbon.MolPerL(), c, 2e-4, from)
		near(t, "pH", m.PHOf(got, cool).Value(), q.PH(x.Alkalinity, MolPerL(c)).Value(), 2e-3, from)
	}
}

// Sulfide in acid water, all of it gas, leaves by an exponential.
func TestSulfideOutOfWater(t *testing.T) {
	m := standard()
	x := Mix{Sulfide: unit.MgPerLAsH2S(1), Carbon: MolPerL(1e-4)}
	x.Alkalinity = m.AlkalinityAt(x, cool, unit.PHOf(4))
	got, err := m.React(x, cool, Vessel{Time: 10 * time.Minute, Bubbled: openTank})
	if err != nil {
		t.Fatal(err)
	}
	gone := math.Exp(-math.Sqrt(1.41 / 2.10))
	nearRel(t, "sulfide left", got.Sulfide.MgPerLAsH2S()+got.SulfurSolid.MgPerL()*molH2S/molS, gone, 1e-3, "first-order loss; oxygen hardly reacts in ten minutes")
}

// Long air ends where a passage of very much air does, and where the open water
// of the full speciation does.
func TestLongAirIsOpenWater(t *testing.T) {
	m := standard()
	x := Mix{Alkalinity: unit.AlkalinityAsCaCO3(100)}
	x.Carbon = m.Carbonate(cool.Temperature, cool.Ionic).Carbon(unit.PHOf(6.5), x.Alkalinity)
	for _, tanks := range []int{0, 3} {
		got, err := m.React(x, cool, Vessel{Time: 2000 * time.Hour, Tanks: tanks, Bubbled: openTank})
		if err != nil {
			t.Fatal(err)
		}
		lots, err := m.Strip(x, cool, Air{Ratio: 1e7, Absolute: atmospheres(1), Approach: 1})
		if err != nil {
			t.Fatal(err)
		}
		nearRel(t, "carbon", got.Carbon.MolPerL(), lots.Carbon.MolPerL(), 1e-3, "second method: one passage of much air")
		open, err := m.AtCO2(Totals{Temperature: cool.Temperature, Sodium: unit.MgPerL(2 * molNa)}, x.Alkalinity, Atm(airCO2))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "pH", m.PHOf(got, cool).Value(), open.PH().Value(), 0.02, "second method: open speciation")
	}
}

// Iron in a tank that is bubbled hard goes as it does under oxygen held at
// saturation with the carbon of open water; and slow air leaves more ferrous iron
// than fast air.
func TestIronInABubbledTank(t *testing.T) {
	m := standard()
	c := cool
	c.Law = MiddleLaw
	x := Mix{IronII: unit.MgPerL(8), Alkalinity: unit.AlkalinityAsCaCO3(150)}
	x.Carbon = m.Carbonate(c.Temperature, c.Ionic).Carbon(unit.PHOf(6.8), x.Alkalinity)
	after := func(x Mix, v Vessel) Mix {
		got, err := m.React(x, c, v)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	last := x.IronII.MgPerL()
	for _, kLa := range []float64{0.1, 0.3, 1, 3, 10, 30} {
		got := after(x, Vessel{Time: 20 * time.Minute, Tanks: 2, Bubbled: Bubbled{Transfer: PerHour(kLa), Absolute: atmospheres(1)}})
		near(t, "iron in all", got.IronII.MgPerL()+got.IronSolid.MgPerL(), 8, 1e-9, "mass balance")
		if got.IronII.MgPerL() >= last {
			t.Errorf("kLa %g an hour leaves %g mg/L, less air %g", kLa, got.IronII.MgPerL(), last)
		}
		last = got.IronII.MgPerL()
	}
	open, err := m.Strip(x, c, Air{Ratio: 1e7, Absolute: atmospheres(1), Approach: 1})
	if err != nil {
		t.Fatal(err)
	}
	open.IronII = unit.MgPerL(1e-4) // too little to move the pH
	short := 4 * time.Second
	held := after(open, Vessel{Time: short, OxygenHeld: true, HeldOxygen: open.Oxygen})
	hard := after(open, Vessel{Time: short, Bubbled: Bubbled{Transfer: PerHour(1e6), Absolute: atmospheres(1)}})
	nearRel(t, "ferrous iron", hard.IronII.MgPerL(), held.IronII.MgPerL(), 2e-4, "limit of much air: oxygen held")
}

// Gas moves oxygen, carbon and sulfide; all else is kept, and what each side
// gained the other lost.
func TestBubbledKeepsTheBooks(t *testing.T) {
	m := standard()
	rapid.Check(t, func(r *rapid.T) {
		c := drawConditions(r)
		x, v := drawMix(r, m, c), drawVessel(r)
		v.Bubbled = drawBubbled(r)
		got, err := m.React(x, c, v)
		if err != nil {
			r.Fatalf("%v: %+v in %+v", err, x, v)
		}
		p, q := poolOf(&x), poolOf(&got)
		a, b := booksOf(p), booksOf(q)
		same := func(what string, x, y, size float64) {
			if math.Abs(x-y) > 1e-9*size {
				r.Fatalf("%s: %g before, %g after", what, x, y)
			}
		}
		same("iron", a.iron, b.iron, a.iron+1e-9)
		same("manganese", a.manganese, b.manganese, a.manganese+1e-9)
		same("nitrogen", a.nitrogen, b.nitrogen, a.nitrogen+1e-9)
		same("charge", a.charge, b.charge, math.Abs(a.charge)+math.Abs(p[iTA]))
		if b.sulfur > a.sulfur*(1+1e-9) {
			r.Fatalf("sulfur grew from %g to %g", a.sulfur, b.sulfur)
		}
		for i, amount := range q[:iTA] {
			if amount < 0 {
				r.Fatalf("%s of %g mol/L", amountNames[i], amount)
			}
		}
	})
}

func TestTransferAt(t *testing.T) {
	const from = "from memory: ASCE/EWRI 2-06, 1.024 a degree"
	near(t, "kLa at 20 °C", TransferAt(PerHour(8), unit.Celsius(20)).PerHour(), 8, 1e-12, from)
	nearRel(t, "kLa at 10 °C", TransferAt(PerHour(8), unit.Celsius(10)).PerHour(), 8*0.7889, 1e-3, from)
}

func TestBubbledRefusals(t *testing.T) {
	m := standard()
	x := Mix{Alkalinity: unit.AlkalinityAsCaCO3(100), Carbon: MolPerL(2.5e-3)}
	for _, v := range []Vessel{
		{Bubbled: Bubbled{Transfer: PerHour(-1), Absolute: atmospheres(1)}},
		{Bubbled: Bubbled{Transfer: PerHour(math.NaN()), Absolute: atmospheres(1)}},
		{Bubbled: Bubbled{Transfer: PerHour(math.Inf(1)), Absolute: atmospheres(1)}},
		{Bubbled: Bubbled{Air: PerHour(3), Absolute: atmospheres(1)}},
		{Bubbled: Bubbled{Transfer: PerHour(6)}},
		{Bubbled: openTank, OxygenHeld: true, HeldOxygen: unit.MgPerL(10)},
	} {
		v.Time = time.Minute
		if _, err := m.React(x, cool, v); err == nil {
			t.Errorf("%+v was taken", v)
		}
	}
}
