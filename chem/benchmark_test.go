package chem

import (
	"math"
	"testing"
	"time"

	"wellwright/unit"
)

// The oxidation problems O1 and O2: round constants, no activity corrections,
// closed water at 10 °C. The answers are those of a general-purpose stiff solver,
// SUNDIALS CVODE 6 (BDF, relative tolerance 1e-11, absolute 1e-14 mol/L), run on
// the same equations outside this program.
const cvode = "SUNDIALS CVODE 6, relative tolerance 1e-11"

// problemO sets up a problem with the given chlorine, ammonia and sulfide, mol/L.
func problemO(m *Model, cl, n, s float64) network {
	a := acids{Carbonate: Carbonate{k1: 3.4356e-7, k2: 3.2359e-11, kw: 2.9242e-15, invG: 1}, kc: 2.1380e-8, kn: 1.8621e-10, ks: 6.3096e-8}
	h := math.Pow(10, -7.4)
	carbon := (6.3540e-3 - a.water(h)) / a.perCarbon(h)
	w := weak{0, carbon, cl, s, n}
	ta, _ := a.at(&w, h)
	net := network{acids: a, h: h, trace: 1e-14, law: rateLaw{
		ironOH: 2.3e14 * a.kw * a.kw, floc: 1.031e-3, ironCl: 1.7e4, chloramine: 4.2e6, mnCl: 0.05, mnOxide: 1e5, siteK: 1,
	}}
	net.start = pool{iFe: 1.7190e-4, iFeSolid: 1e-7, iMn: 4.0045e-6, iMnSolid: 1e-9, iO2: 2.5e-4, iCl: cl, iN: n, iS: s, iCarbon: carbon, iTA: ta}
	m.titrate(&net.start)
	m.assemble(&net, false)
	return net
}

func solveO(tb testing.TB, m *Model, cl, n, s float64) (pool, float64) {
	net := problemO(m, cl, n, s)
	x, err := net.integrate(1800, fineTol)
	if err != nil {
		tb.Fatal(err)
	}
	net.settle(&x)
	w := net.weak(&net.start)
	h, _ := net.acids.pH(&w, net.h)
	return net.start, -math.Log10(h)
}

func TestOxidationO1(t *testing.T) {
	p, ph := solveO(t, standard(), 0, 0, 0)
	nearRel(t, "Fe(II)", p[iFe], 7.1938225e-5, 1e-5, cvode)
	nearRel(t, "Fe(III)", p[iFeSolid], 1.0006178e-4, 1e-5, cvode)
	nearRel(t, "O2", p[iO2], 2.2500956e-4, 1e-5, cvode)
	nearRel(t, "TA", p[iTA], 6.1540764e-3, 1e-5, cvode)
	near(t, "pH", ph, 7.282446, 1e-5, cvode)
}

func TestOxidationO2(t *testing.T) {
	p, ph := solveO(t, standard(), 1.1e-4, 1.0709e-5, 2.0e-6)
	near(t, "Fe(II)", p[iFe], 0, 1e-14, cvode)
	nearRel(t, "Fe(III)", p[iFeSolid], 1.72e-4, 1e-5, cvode)
	nearRel(t, "Mn(II)", p[iMn], 4.0013449e-6, 1e-5, cvode)
	nearRel(t, "O2", p[iO2], 2.4994723e-4, 1e-5, cvode)
	nearRel(t, "Cl", p[iCl], 1.1443386e-5, 1e-5, cvode)
	near(t, "N", p[iN], 0, 1e-14, cvode)
	near(t, "S", p[iS], 0, 1e-14, cvode)
	nearRel(t, "TA", p[iTA], 5.9513471e-3, 1e-5, cvode)
	near(t, "pH", ph, 7.181743, 1e-5, cvode)
}

func BenchmarkOxidationO1(b *testing.B) {
	m := standard()
	b.ReportAllocs()
	for b.Loop() {
		solveO(b, m, 0, 0, 0)
	}
}

func BenchmarkOxidationO2(b *testing.B) {
	m := standard()
	b.ReportAllocs()
	for b.Loop() {
		solveO(b, m, 1.1e-4, 1.0709e-5, 2.0e-6)
	}
}

// water15 is a water with fifteen components, varied by i.
func water15(i int) (Totals, unit.PH, unit.Alkalinity) {
	f := 0.5 + float64(i%100)/60
	return Totals{
		Temperature: unit.Celsius(5 + float64(i%10)*2), Calcium: unit.MgPerL(80 * f), Magnesium: unit.MgPerL(25 * f), Sodium: unit.MgPerL(30 * f),
		Potassium: unit.MgPerL(3), IronII: unit.MgPerL(6), Manganese: unit.MgPerL(0.4), Chloride: unit.MgPerL(40 * f),
		Sulfate: unit.MgPerL(50 * f), Fluoride: unit.MgPerL(0.4), Silica: unit.MgPerL(22), Ammonia: unit.MgPerLAsN(0.6),
		Nitrate: unit.MgPerLAsN(0.2), Phosphate: unit.MgPerLAsP(0.1), Sulfide: unit.MgPerLAsH2S(0.4),
	}, unit.PHOf(6.4 + float64(i%15)/10), unit.AlkalinityAsCaCO3(250 * f)
}

func BenchmarkSpeciate15(b *testing.B) {
	m := standard()
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		tot, ph, alk := water15(i)
		if _, err := m.AtPH(tot, ph, alk); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

func BenchmarkSpeciateCarbon15(b *testing.B) {
	m := standard()
	tot, ph, alk := water15(37)
	s, _ := m.AtPH(tot, ph, alk)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.AtCarbon(tot, alk, s.Carbon()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCarbonate(b *testing.B) {
	m := standard()
	alk := unit.AlkalinityAsCaCO3(200)
	b.ReportAllocs()
	for b.Loop() {
		c := m.Carbonate(unit.Celsius(11), IonicMolPerL(0.008))
		c.PH(alk, c.Carbon(unit.PHOf(7.1), alk))
	}
}

func typicalMix(m *Model, c Conditions) Mix {
	x := Mix{
		IronII: unit.MgPerL(6), ManganeseII: unit.MgPerL(0.4), Oxygen: unit.MgPerL(5), FreeChlorine: unit.MgPerLAsCl2(7),
		Ammonia: unit.MgPerLAsN(0.3), Sulfide: unit.MgPerLAsH2S(0.3), Alkalinity: unit.AlkalinityAsCaCO3(220),
	}
	k := m.Carbonate(c.Temperature, c.Ionic)
	x.Carbon = k.Carbon(unit.PHOf(7.2), x.Alkalinity)
	return x
}

func BenchmarkReact(b *testing.B) {
	m := standard()
	c := Conditions{Temperature: unit.Celsius(11), Ionic: IonicMolPerL(0.008), Law: MiddleLaw}
	x := typicalMix(m, c)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.React(x, c, Vessel{Time: 10 * time.Minute}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReactTanks(b *testing.B) {
	m := standard()
	c := Conditions{Temperature: unit.Celsius(11), Ionic: IonicMolPerL(0.008), Law: MiddleLaw}
	x := typicalMix(m, c)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.React(x, c, Vessel{Time: 10 * time.Minute, Tanks: 3}); err != nil {
			b.Fatal(err)
		}
	}
}

func acidWater(b *testing.B) State {
	s, err := standard().AtPH(Totals{Temperature: unit.Celsius(10), Calcium: unit.MgPerL(4), Magnesium: unit.MgPerL(1.2), Sodium: unit.MgPerL(9),
		Chloride: unit.MgPerL(11), Sulfate: unit.MgPerL(5)}, unit.PHOf(6), unit.AlkalinityAsCaCO3(20))
	if err != nil {
		b.Fatal(err)
	}
	return s
}

func BenchmarkCalciteBalance(b *testing.B) {
	s := acidWater(b)
	for b.Loop() {
		if _, err := s.CalciteBalance(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRaiseTo(b *testing.B) {
	s := acidWater(b)
	for b.Loop() {
		if _, err := s.RaiseTo(SodaAsh, unit.PHOf(7.5)); err != nil {
			b.Fatal(err)
		}
	}
}
