package chem

import (
	"math"
	"testing"
	"time"

	"wellwright/unit"
)

func halfLife(t *testing.T, m *Model, law Law, celsius, ionic, ph, oxygen float64) float64 {
	t.Helper()
	c := Conditions{Temperature: unit.Celsius(celsius), Ionic: IonicMolPerL(ionic), Law: law}
	d, ok := m.IronHalfLife(c, unit.PHOf(ph), unit.MgPerL(oxygen), Surface{})
	if !ok {
		t.Fatalf("no half-life at %g °C, pH %g", celsius, ph)
	}
	return d.Minutes()
}

func TestHalfLifeOfIron(t *testing.T) {
	const (
		singer  = "law published: USGS WRIR 99-4259 (Singer & Stumm 1970); minutes derived apart"
		millero = "law published, as quoted in public code: Millero et al. 1987; minutes derived apart"
	)
	m := standard()
	at21 := 0.21 * oxygenHenry(refT) * molO2 * mgPerG // mg/L at 0.21 atm of oxygen
	for _, tt := range []struct{ ph, want float64 }{{6, 413}, {6.5, 41.3}, {7, 4.13}, {7.5, 0.413}} {
		nearRel(t, "fast, 25 °C", halfLife(t, m, FastLaw, 25, 0.01, tt.ph, at21), tt.want, 0.02, singer)
	}
	for _, tt := range []struct{ celsius, ph, oxygen, want float64 }{
		{25, 6, 0, 2310}, {25, 6.5, 0, 231}, {25, 7, 0, 23}, {25, 7.5, 0, 2.3}, {15, 6.5, 0, 1410}, {15, 7, 0, 141}, {12, 7, 0, 251}, {12, 7.5, 0, 25},
		{10, 6.8, 0, 936}, {10, 7, 0, 373}, {10, 7.2, 0, 148}, {10, 7.5, 0, 37}, {10, 8, 0, 3.7}, {10, 7, 4, 1050}, {10, 7.5, 4, 105}, {12, 7.2, 10.8, 100},
	} {
		o := tt.oxygen
		if o == 0 {
			o = OxygenSaturation(unit.Celsius(tt.celsius), atmospheres(1)).MgPerL()
		}
		nearRel(t, "slow", halfLife(t, m, SlowLaw, tt.celsius, 0.01, tt.ph, o), tt.want, 0.03, millero)
	}
	// Factor from 10 to 25 °C in air: 8 for the fast law (96 kJ/mol and the
	// solubility of oxygen left out on a pressure basis), 16 for the slow one.
	air := func(c float64) float64 { return OxygenSaturation(unit.Celsius(c), atmospheres(1)).MgPerL() }
	fast := halfLife(t, m, FastLaw, 10, 0.01, 7, air(10)) / halfLife(t, m, FastLaw, 25, 0.01, 7, air(25))
	slow := halfLife(t, m, SlowLaw, 10, 0.01, 7, air(10)) / halfLife(t, m, SlowLaw, 25, 0.01, 7, air(25))
	near(t, "cold factor, fast", fast, 8, 0.5, "from memory: Sung & Morgan 1980, 96 kJ/mol at constant pH")
	near(t, "cold factor, slow", slow, 16, 0.5, millero)
	mid := halfLife(t, m, MiddleLaw, 12, 0.01, 7.2, 10.8)
	nearRel(t, "middle", mid, math.Sqrt(halfLife(t, m, SlowLaw, 12, 0.01, 7.2, 10.8)*halfLife(t, m, FastLaw, 12, 0.01, 7.2, 10.8)), 1e-3, "definition of the middle law")
}

func TestHalfLifeOnFloc(t *testing.T) {
	// With k0 2.3e14 and ks K 1.031e-3 at 25 °C in air (Tamura et al. 1976, from
	// memory): minutes alone and with floc.
	m := standard()
	for _, tt := range []struct{ ph, floc, want float64 }{{6.5, 0, 194}, {6.5, 5, 86}, {6.5, 10, 55}, {6.5, 50, 14}, {7, 0, 19}, {7, 5, 14}, {7, 50, 3.9}} {
		n := problemO(m, 0, 0, 0)
		n.law.ironOH = 2.3e14 * 1e-28
		h := math.Pow(10, -tt.ph)
		c := pool{iFe: 1, iFeSolid: tt.floc / (molFe * mgPerG), iO2: 8.263 / (molO2 * mgPerG)}
		var r rate
		n.rateOf(ironOxygen, &c, h, &r)
		nearRel(t, "half-life on floc", math.Ln2/r.v/60, tt.want, 0.05, "derived apart from Tamura's law")
	}
}

func TestManganeseWithOxygen(t *testing.T) {
	const from = "published: Morgan 2005, Geochim. Cosmochim. Acta 69:35"
	m := standard()
	l := m.lawAt(Conditions{Temperature: unit.Celsius(25)}, Vessel{})
	h := math.Pow(10, -8.03)
	k := l.mnO2 / (h * h)
	nearRel(t, "half-life, days", math.Ln2/(k*8.26/(molO2*mgPerG))/86400, 361, 0.02, from)
	h = math.Pow(10, -9.30)
	nearRel(t, "k at pH 9.30", l.mnO2/(h*h), 2.5e-2, 0.20, from)
}

func TestSulfideWithOxygen(t *testing.T) {
	const from = "law from memory: Millero et al. 1987; hours derived apart"
	m := standard()
	for _, tt := range []struct{ celsius, ph, hours float64 }{{25, 8, 48}, {25, 7, 69}, {10, 7, 173}} {
		l := m.lawAt(Conditions{Temperature: unit.Celsius(tt.celsius), Ionic: IonicMolPerL(0.005)}, Vessel{})
		o := OxygenSaturation(unit.Celsius(tt.celsius), atmospheres(1)).MgPerL() / (molO2 * mgPerG)
		k := l.sulfO2 * math.Pow(10, sulfideOrder*tt.ph) * o
		nearRel(t, "half-life, h", math.Ln2/k/3600, tt.hours, 0.03, from)
	}
}

func TestPeroxideWithIron(t *testing.T) {
	// At pH 6, 25 °C, no salt: 10^(13.73 - 2948/T), and the path by free ions.
	l := standard().lawAt(Conditions{Temperature: unit.Celsius(25)}, Vessel{})
	got := (l.feH2O2 + l.feOHH2O2/1e-6) * secPerMn
	nearRel(t, "k, L/(mol min)", got, math.Pow(10, 13.73-2948/298.15), 0.03, "published: Millero & Sotolongo 1989, abstract")
}

// Unbuffered iron water: Fe(III) stays in solution and the acid set free slows
// the reaction. The rate is the published law with its acid term; pH comes from
// full speciation at each step.
func TestUnbufferedIron(t *testing.T) {
	const from = usgsExamples + ", example 9 (ex9.sel)"
	m := standard()
	base := Totals{Temperature: unit.Celsius(25), Sodium: mmol(10, molNa), Chloride: mmol(10, molCl)}
	water := func(fe2 float64) Totals {
		x := base
		x.IronII, x.IronIII = mmol(fe2*1e3, molFe), mmol((1e-4-fe2)*1e3, molFe)
		return x
	}
	// Alkalinity that gives pH 7 before the start, found by halving.
	low, high := -1e-4, 1e-4
	for range 60 {
		mid := (low + high) / 2
		s, err := m.AtCarbon(water(1e-4), alkOf(mid), MolPerL(0))
		if err != nil {
			t.Fatal(err)
		}
		if s.PH().Value() < 7 {
			low = mid
		} else {
			high = mid
		}
	}
	start := low
	po2 := math.Pow(10, -0.67)
	state := func(fe2 float64) State {
		s, err := m.AtCarbon(water(fe2), alkOf(start-(1e-4-fe2)), MolPerL(0)) // Fe+2 + ¼ O2 + 3/2 H2O = Fe(OH)2+ + H+
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	speed := func(fe2 float64) float64 {
		s := state(fe2)
		oh := math.Pow(10, s.PH().Value()-14)
		return -(2.91e-9 + 1.33e12*oh*oh*po2) * fe2
	}
	want := []struct{ seconds, fe, ph float64 }{{100, 98.93, 6.045}, {500, 98.19, 5.807}, {3600, 96.56, 5.522}, {14400, 94.59, 5.324},
		{36000, 92.70, 5.195}, {86400, 90.27, 5.072}, {172800, 87.79, 4.976}, {864000, 79.32, 4.758}}
	fe, at := 1e-4, 0.0
	for _, w := range want {
		for at < w.seconds { // classical Runge-Kutta, steps a hundredth of the time so far
			h := min(w.seconds-at, max(0.002, at/100))
			k1 := speed(fe)
			k2 := speed(fe + h/2*k1)
			k3 := speed(fe + h/2*k2)
			k4 := speed(fe + h*k3)
			fe += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
			at += h
		}
		near(t, "Fe(II), umol/L", fe*1e6, w.fe, 0.3, from)
		near(t, "pH", state(fe).PH().Value(), w.ph, 0.05, from)
	}
}

// With everything held, plug flow is an exponential and stirred tanks a power.
func TestVesselsAgainstTheFormula(t *testing.T) {
	m := standard()
	c := Conditions{Temperature: unit.Celsius(10), Ionic: IonicMolPerL(0.005), Law: SlowLaw}
	x := Mix{IronII: unit.UgPerL(1), Oxygen: unit.MgPerL(10), Alkalinity: unit.AlkalinityAsCaCO3(200)}
	x.Carbon = m.Carbonate(c.Temperature, c.Ionic).Carbon(unit.PHOf(7.3), x.Alkalinity)
	d, _ := m.IronHalfLife(c, unit.PHOf(7.3), x.Oxygen, Surface{})
	k := math.Ln2 / d.Seconds()
	for _, tt := range []struct {
		tanks int
		left  float64
	}{{0, math.Exp(-k * 7200)}, {1, 1 / (1 + k*7200)}, {3, math.Pow(1+k*2400, -3)}, {40, math.Pow(1+k*180, -40)}} {
		got, err := m.React(x, c, Vessel{Time: 2 * time.Hour, Tanks: tt.tanks})
		if err != nil {
			t.Fatal(err)
		}
		nearRel(t, "iron left", got.IronII.UgPerL(), tt.left, 1e-4, "first-order decay in plug flow and stirred tanks")
	}
}

// The integrator is of fourth order: a tenth of the tolerance of a third-order
// error must bring the answer closer by about 10^(4/3), at least fivefold.
func TestOrderOfTheIntegrator(t *testing.T) {
	m := standard()
	miss := func(tol float64) float64 {
		n := problemO(m, 8e-5, 1.0709e-5, 0)
		x, err := n.integrate(60, tol)
		if err != nil {
			t.Fatal(err)
		}
		c := n.amountsAt(&x)
		return c[iFe]
	}
	exact := miss(1e-10)
	rough, fine := math.Abs(miss(1e-4)-exact), math.Abs(miss(1e-6)-exact)
	if rough/fine < 25 {
		t.Errorf("error falls from %g to %g for a hundredth of the tolerance; want 25 times at least", rough, fine)
	}
}
