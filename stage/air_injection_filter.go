package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// airInjectionFilter is one tank with an air pocket over a coated bed. Its valve
// draws fresh air at each wash.
type airInjectionFilter struct{}

// AirNotDrawn is the fault of a pocket that is not renewed.
const AirNotDrawn Fault = "air_not_drawn"

// airVessels are the tanks with room for pocket, bed and freeboard.
var airVessels = []string{"10 x 54", "12 x 52", "13 x 54"}

func (airInjectionFilter) ID() media.Process { return media.AirInjectionFilter }

func (airInjectionFilter) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(media.AirInjectionFilter)
	zs := j.bedSizes(m, j.Site.Factors.Of(m.ServiceRefuse), airVessels)
	single := zs[:0]
	for _, z := range zs {
		if z.Count == 1 {
			single = append(single, z)
		}
	}
	return single
}

func (airInjectionFilter) Run(j *Job, z Size) Outcome {
	set := j.Site.Factors
	m := fillingOf(media.AirInjectionFilter)
	b := layBed(j, z, m)
	b.sulfide = oxideSulfide(j, b.surface)
	a := b.air()
	a.settle(washDays(b.hold/math.Max(b.loadAll(), 1e-9), set.Of(m.MaxDays)))
	if j.Fault != AirNotDrawn {
		b.in = aerated(j.In, unit.MgPerL(a.at(a.days/2)))
		b.inPeak = aerated(j.In, unit.MgPerL(a.at(a.days)))
	}
	draw := set.Of(airDrawMinutes)
	o, _, err := b.serve(filterSpec{process: media.AirInjectionFilter, valve: media.AirDrawValve,
		longest: a.days, draw: draw * set.Of(airDrawFlow), drawMin: draw})
	if err != nil {
		return spoiled(j, o, err)
	}
	o.Limits = afterEnvelope(drop(o.Limits, true, "wash_every_night"), a.limits(j)...) // its air is renewed nightly anyway
	o.Settings[OxygenHaveMgL] = a.at(a.days)
	if j.Lean {
		return o
	}
	o.Settings[AirDrawMin], o.Settings[AirPocketGal], o.Settings[OxygenNeedMgL] = draw, a.pocket, a.need
	o.Bill.Hours += eductorUpkeep
	o.Cautions = append(o.Cautions,
		"Milky water that clears from the bottom up is air; spitting taps that last mean too large a pocket or a vent that sticks.",
		"Clean the eductor and the air check yearly, twice a year above 5 mg/L of iron.")
	o.WillNot = []string{
		"It does not promise manganese: air does not oxidise it at household pH.",
		"It does not suit iron bacteria: air feeds them.",
		"It does not take hardness, nitrate, sodium or bacteria, nor iron bound to organic matter.",
	}
	a.work(j)
	return o
}

// eductorUpkeep is the owner's hours a year on the air side: common practice.
const eductorUpkeep = 1

// airPocket is the air in the top of the tank and what it gives the water.
type airPocket struct {
	pocket float64 // gal
	oxygen float64 // in a fresh pocket, g
	first  float64 // oxygen it gives the water when fresh, mg/L
	decay  float64 // 1/day
	need   float64 // oxygen the water asks, mg/L
	days   float64 // between renewals
}

// air works out the pocket.
//
//	m0 = x P V / (R T) · 32,  C0 = e Cs(P),  C(t) = C0 exp(-C0 Q t / m0)
//
//	V   pocket, a share of the tank;  P absolute pressure;  x oxygen in air
//	Cs  saturation under the fresh pocket, e the share of it that falling water takes up
//	Q   water used in a day;  m0 oxygen in the pocket
//
// The pocket is taken as well mixed and carried off by the water: that, not the
// iron, empties it.
//
// Range: a day to a week. Error: a factor of two by e. Source: mass balance; gas
// law; saturation after Benson and Krause, 1984.
func (b *bed) air() airPocket {
	set := b.j.Site.Factors
	psi := (b.j.Supply.CutIn.PSI() + b.j.Supply.CutOut.PSI()) / 2
	pocket := unit.Gal(b.z.Vessel.Gross.Gal() * set.Of(airPocketShare) * float64(max(1, b.z.Count)))
	a := pocketOf(pocketIn{b.j.In.Temperature, unit.PSI(psi + hydraulic.Atmosphere.Value), pocket, b.j.Daily, set.Of(airTransfer)})
	w := b.j.In
	a.need = w.Ferrous.MgPerL()*oxygenFor(chem.IronII) + w.Sulfide.MgPerLAsH2S()*oxygenFor(chem.SulfideToSulfur)
	a.days = 1
	return a
}

// pocketIn is what an air pocket gives by.
type pocketIn struct {
	temperature unit.Temperature
	absolute    unit.Pressure
	volume      unit.Volume
	daily       unit.Flow
	transfer    float64 // share of saturation taken up
}

// pocketOf is a pocket's oxygen and how fast the water takes it.
func pocketOf(p pocketIn) airPocket {
	a := airPocket{pocket: p.volume.Gal()}
	moles := p.absolute.KPa() * unit.Gal(a.pocket).L() / (gasConstant * p.temperature.Kelvin())
	a.oxygen = moles * oxygenInAir * molarOxygen
	a.first = chem.OxygenSaturation(p.temperature, p.absolute).MgPerL() * p.transfer
	litres := unit.Gal(p.daily.GalPerDay()).L()
	a.decay = a.first / mgPerG * litres / math.Max(a.oxygen, 1e-9)
	return a
}

// Kind: published (CODATA 2018) and definitions; oxygen in dry air from memory
// (ICAO standard atmosphere).
const (
	gasConstant = 8.314463 // kPa L/(mol K)
	oxygenInAir = 0.20946
	molarOxygen = 31.998
)

// at is the oxygen the water gets t days after the pocket was renewed, mg/L.
func (a airPocket) at(t float64) float64 { return a.first * math.Exp(-a.decay*t) }

// settle takes the longest interval up to most at whose end the oxygen still
// meets the need.
func (a *airPocket) settle(most float64) {
	a.days = 1
	for d := 2.0; d <= most && a.at(d) >= a.need; d++ {
		a.days = d
	}
}

func (a airPocket) limits(j *Job) []Limit {
	slime := j.Site.Factors.In(airBacteria)
	return []Limit{
		{ID: "iron_bacteria", Have: j.In.Bacteria, Need: slime.Value, Unit: "chance", AtMost: true, Kind: slime.Kind, From: slime.From,
			Say: "air feeds the organisms, and slime binds the bed"},
		{ID: "oxygen", Have: a.at(a.days), Need: a.need, Unit: "mg/L", Kind: airTransfer.Kind, From: airTransfer.From,
			Say: "the air pocket is gone before it is renewed"},
	}
}

func (a airPocket) work(j *Job) {
	if !j.Site.Working.On() {
		return
	}
	set, sym := j.Site.Factors, formula.Sym
	j.Site.Working.Add(airPocketFormula().Step(OxygenHaveMgL, a.at(a.days), "mg/L",
		formula.Syms(sym("C0", a.first, "mg/L"), sym("m0", a.oxygen, "g"), sym("Q", j.Daily.GalPerDay(), "gal/day"), sym("t", a.days, "days")),
		set.In(airTransfer), set.In(airPocketShare)))
}

func (airInjectionFilter) Ways() []Way {
	return append(commonWays(), spentWay,
		Way{AirNotDrawn, "no fresh air is drawn: eductor, air check or screen", "ferrous iron at the outlet, oxygen there near that of the raw water; no hiss at the wash", "clean the eductor and air check; check pressure during the draw"})
}

// airFactors are those of single-tank air injection.
var airFactors = []source.Factor{airBacteria, airPocketShare, airTransfer, airDrawMinutes, airDrawFlow}

var (
	airBacteria = source.Factor{
		Name: "air_injection_bacteria", What: "air injection: chance of iron bacteria, refused above",
		Value: 0.5, Low: 0.3, High: 0.7, Kind: source.Judgement, From: "common practice that air feeds them; the chance is our judgement",
	}
	airPocketShare = source.Factor{
		Name: "air_injection_pocket_share", What: "air injection: share of the tank that is air",
		Value: 0.3, Low: 0.25, High: 0.33, Kind: source.CommonPractice, From: "top quarter to third of the tank",
	}
	airTransfer = source.Factor{
		Name: "air_injection_transfer", What: "air injection: share of saturation that water falling through the pocket takes up",
		Value: 0.3, Low: 0.1, High: 0.6, Kind: source.Judgement,
		From: "our judgement: a pocket then lasts one to three days, as the trade finds",
	}
	airDrawMinutes = source.Factor{
		Name: "air_injection_draw", What: "air injection: minutes of air draw at a wash",
		Unit: "min", Value: 30, Low: 20, High: 40, Kind: source.CommonPractice, From: "20 to 40 min",
	}
	airDrawFlow = source.Factor{
		Name: "air_injection_draw_flow", What: "air injection: water through the eductor during the draw",
		Unit: "gpm", Value: 0.4, Low: 0.2, High: 0.8, Kind: source.CommonPractice, From: "small eductors, no single source",
	}
)
