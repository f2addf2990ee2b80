package chem

import (
	"math"
	"time"

	"wellwright/source"
	"wellwright/unit"
)

// molAs is the molar mass of arsenic, g/mol: IUPAC, abridged.
const molAs = 74.922

// ArsenicAmounts is arsenic by what it carries: reduced, As(III), and oxidised,
// As(V).
type ArsenicAmounts struct{ III, V unit.Concentration }

// Sum is both together.
func (a ArsenicAmounts) Sum() unit.Concentration {
	return unit.MgPerL(a.III.MgPerL() + a.V.MgPerL())
}

// ArsenicLaw is how arsenic is oxidised and held. It is made once for a set of
// factors.
type ArsenicLaw struct {
	m                                      *Model
	chlorine, chloramine, pink, ozone      float64 // L/(mol s)
	at7                                    float64 // shares that meet, at pH 7 and 25 °C
	least, usual, most                     holding
	silica, carbonate, organic             float64
	volumes                                [3]float64 // least, usual, most
	steep, halfArsenic, halfPhosphate, iii float64
}

// holding is one belief on what ferric floc holds.
type holding struct {
	sites     float64 // mol for each mol of iron
	uptake    float64 // L/mg of iron, of As(V) in the standard water
	phosphate float64 // arsenate over phosphate, on the sites
	arsenite  float64 // arsenate over arsenite, at pH 7.5
	share     float64 // most arsenic for one of iron, by weight
}

// ArsenicLaw returns the laws of arsenic with the user's own values where the model
// has them.
func (m *Model) ArsenicLaw() *ArsenicLaw { return &m.held }

func (m *Model) arsenicLaw(set source.Set) ArsenicLaw {
	at := func(f source.Factor) [3]float64 {
		low, mid, high := set.Range(f)
		return [3]float64{low, mid, high}
	}
	s, u, p, i, w := at(flocSites), at(flocUptake), at(flocPhosphate), at(flocArsenite), at(flocMost)
	hold := func(n int, other int) holding {
		return holding{sites: s[n], uptake: u[n], phosphate: p[n], arsenite: i[other], share: w[n]}
	}
	l := ArsenicLaw{
		m: m, chlorine: set.Of(arseniteChlorine), chloramine: set.Of(arseniteChloramine),
		pink: set.Of(arsenitePermanganate), ozone: set.Of(arseniteOzone),
		least: hold(0, 2), usual: hold(1, 1), most: hold(2, 0),
		silica: set.Of(flocSilica), carbonate: set.Of(flocCarbonate), organic: set.Of(flocOrganic),
		volumes: at(adsorberVolumes), steep: set.Of(adsorberSteep), halfArsenic: set.Of(adsorberHalf),
		halfPhosphate: set.Of(adsorberPhosphate), iii: set.Of(adsorberArsenite),
	}
	l.at7 = l.meeting(unit.Celsius(25), unit.PHOf(7), IonicMolPerL(0))
	return l
}

// Dosed is what As(III) meets in a water, and for how long. [ArsenicLaw.Turned] takes
// chlorine and permanganate from the mix.
type Dosed struct {
	Temperature  unit.Temperature
	PH           unit.PH
	Ionic        IonicStrength
	Arsenite     unit.Concentration // As(III), as As
	Free         unit.Chlorine
	Combined     unit.Chlorine
	Permanganate unit.Concentration // as KMnO4
	Ozone        unit.Concentration
	Time         time.Duration
}

// residual returns the As(III) that steady oxidants turn to As(V). Air does not: it takes
// days to weeks, and is left out.
//
//	As = As0 (1 - exp(-Σ k C t)), and no more than the oxidants have electrons for
//	k(free chlorine) = kc · share of HOCl · share of arsenic (III) as its ion,
//	                   over the same two shares at pH 7 and 25 °C
//
//	k  L/(mol s);  C  oxidant, mol/L;  t  s
//
// Range: pH 6 to 9; oxidant in excess and nothing else taking it up meanwhile. The
// law with pH, that the ion meets the acid, is from memory. Error: a factor of two; the time is over in seconds where there is a residual.
// Source: Dodd et al. 2006, Environ. Sci. Technol. 40:3285 (abstract seen: 2.6e5
// for free chlorine, 1.5e6 for ozone, 0.43 for monochloramine at pH 7).
func (l *ArsenicLaw) residual(d Dosed) unit.Concentration {
	free, combined := d.Free.MgPerLAsCl2()/(molCl2*mgPerG), d.Combined.MgPerLAsCl2()/(molCl2*mgPerG)
	pink, ozone := d.Permanganate.MgPerL()/(molKMnO4*mgPerG), d.Ozone.MgPerL()/(molO3*mgPerG)
	k := l.chloramine*combined + l.pink*pink + l.ozone*ozone
	if free > 0 {
		k += l.chlorine * l.meeting(d.Temperature, d.PH, d.Ionic) / l.at7 * free
	}
	there := math.Max(0, d.Arsenite.MgPerL())
	turned := there * (1 - math.Exp(-k*math.Max(0, d.Time.Seconds())))
	most := (free + combined + 1.5*pink + ozone) * molAs * mgPerG
	return unit.MgPerL(math.Min(turned, most))
}

// meeting is the share of both partners in the form that reacts.
func (l *ArsenicLaw) meeting(t unit.Temperature, ph unit.PH, i IonicStrength) float64 {
	return l.m.FreeAcidShare(t, ph) * l.m.arseniteIon(t, ph, i)
}

// arseniteIon is the share of arsenic (III) that has lost a proton, as Arsenic has it.
func (m *Model) arseniteIon(t unit.Temperature, ph unit.PH, i IonicStrength) float64 {
	g, _ := davies(debyeA(t.Kelvin()), i.molL)
	x := math.Exp(ln10*(m.logK(kArsenite, powersOf(t.Kelvin()))+ph.Value()) + g)
	return x / (1 + x)
}

// OxidantForArsenite returns the oxidant that one milligram of As(III) takes, and
// false for what does not turn it.
//
//	As(III) = As(V) + 2 e-
//
// Source: derived from atomic weights; one to one with chlorine and with ozone,
// Dodd et al. 2006.
func OxidantForArsenite(o Oxidant) (float64, bool) {
	switch o {
	case ChlorineGas, Hypochlorite, Permanganate, Ozone:
		t := takings[o]
		return 2 / t.n * t.mass / molAs, true
	}
	return 0, false
}

const dodd = "Dodd et al. 2006, Environ. Sci. Technol. 40:3285"

var (
	arseniteChlorine = source.Factor{
		Name: "arsenite_chlorine_rate", What: "arsenic (III) with free chlorine at pH 7", Unit: "L/(mol s)",
		Value: 2.6e5, Low: 2.5e5, High: 2.7e5, Kind: source.Published, From: dodd + " (abstract)",
	}
	arseniteChloramine = source.Factor{
		Name: "arsenite_chloramine_rate", What: "arsenic (III) with monochloramine at pH 7", Unit: "L/(mol s)",
		Value: 0.43, Low: 0.26, High: 0.6, Kind: source.Published, From: dodd + " (abstract)",
	}
	arseniteOzone = source.Factor{
		Name: "arsenite_ozone_rate", What: "arsenic (III) with ozone at pH 7", Unit: "L/(mol s)",
		Value: 1.5e6, Low: 1.4e6, High: 1.6e6, Kind: source.Published, From: dodd + " (abstract)",
	}
	arsenitePermanganate = source.Factor{
		Name: "arsenite_permanganate_rate", What: "arsenic (III) with permanganate", Unit: "L/(mol s)",
		Value: 4e4, Low: 1e4, High: 2e5, Kind: source.Derived, From: "95 % in a minute of 50 µg/L at three times the need: Ghurye & Clifford, EPA/600/R-01/021 (from memory: under a minute)",
	}
)
