package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// membraneRated is the output on the label of the kitchen unit on the price list,
// gal/day.
const membraneRated = 50

// membrane is what bears on the output of a membrane.
type membrane struct {
	temperature unit.Temperature
	feed        unit.Pressure      // in the pipe
	salt        unit.Concentration // dissolved solids of the feed
}

// output is what a membrane gives, as a share of the output on its label.
//
//	Q/Qr = (P - Pt - π)/(60 - πr) · (1 - f)^(77 - T)
//
//	P   pressure in the pipe, Pt mean pressure of its tank, psi
//	π   TDS/100 psi, of the feed and reject between them; πr that of 250 mg/L
//	T   °F, no more than 77;  f  loss for each degree
//
// Range: 40 to 77 °F, 40 to 80 psi. Error: a fifth; an old membrane gives less.
// Source: net pressure over a membrane; osmotic rule of thumb and temperature loss
// from memory; labels are for 77 °F and 60 psi into an open vessel.
func (m membrane) output(set source.Set) float64 {
	recovery := 1 / (1 + set.Of(rejectRatio))
	between := (1 + 1/(1-recovery)) / 2 // the salt of the feed side is concentrated on its way
	net := m.feed.PSI() - set.Of(membraneTank) - m.salt.MgPerL()*between/saltPerPSI
	cold := math.Pow(1-set.Of(membraneCold), math.Max(0, ratedFahrenheit-m.temperature.Fahrenheit()))
	return math.Max(0, net) / (ratedPSI - ratedSalt*between/saltPerPSI) * cold
}

// Kind: from memory, how household membranes are labelled.
const (
	ratedFahrenheit = 77
	ratedPSI        = 60
	ratedSalt       = 250 // mg/L
	saltPerPSI      = 100 // mg/L of dissolved solids for a psi of osmotic pressure
)

// membraneOf is that of a water at the pressure at which the pump cuts in.
func (j *Job) membraneOf(w water.State) membrane {
	return membrane{w.Temperature, j.Supply.CutIn, chem.CalculatedTDS(w.Totals(), w.Alkalinity)}
}

// withOutput asks that the membrane gives what is drunk.
func (j *Job) withOutput(ls []Limit) []Limit {
	set := j.Site.Factors
	use := set.In(drunkPerDay)
	return append(ls, Limit{ID: "membrane_output", Have: membraneRated * j.membraneOf(j.In).output(set), Need: use.Value, Unit: "gal/day", Soft: true,
		Say: "cold water and low pressure: it makes less than is drunk; fit a small booster or a larger membrane", Kind: use.Kind, From: use.From})
}

// settleOutput writes output and recovery among the settings.
func (j *Job) settleOutput(s Settings) {
	set := j.Site.Factors
	m := j.membraneOf(j.In)
	gal := membraneRated * m.output(set)
	s[MembraneGalPerDay], s[RecoveryPercent] = gal, 100/(1+set.Of(rejectRatio))
	if !j.Site.Working.On() {
		return
	}
	sym := formula.Sym
	j.Site.Working.Add(membraneFormula().Step(MembraneGalPerDay, gal, "gal/day", formula.Syms(
		sym("Qr", membraneRated, "gal/day"), sym("P", m.feed.PSI(), "psi"), sym("TDS", m.salt.MgPerL(), "mg/L"), sym("T", m.temperature.Fahrenheit(), "F")),
		set.In(membraneTank), set.In(membraneCold)))
}

var (
	membraneCold = source.Factor{
		Name: "reverse_osmosis_cold", What: "reverse osmosis: output lost for each degree Fahrenheit below 77", Unit: "1/F",
		Value: 0.0175, Low: 0.015, High: 0.02, Kind: source.FromMemory, From: "1.5 to 2 % a degree (from memory)",
	}
	membraneTank = source.Factor{
		Name: "reverse_osmosis_tank", What: "reverse osmosis: mean pressure of the storage tank that the membrane works against", Unit: "psi",
		Value: 15, Low: 5, High: 25, Kind: source.Judgement, From: "charged to 5 to 7, shut off at two thirds of the pipe; none with a permeate pump",
	}
	membraneOutputFactors = []source.Factor{membraneCold, membraneTank}
)

func membraneFormula() formula.Formula {
	t := formula.Temperature.Takes("temperature", "T", "temperature of the water at the unit").Between("34 F", "100 F")
	p := formula.Pressure.Takes("feed_pressure", "P", "pressure in the pipe").Between("10 psi", "120 psi")
	tds := formula.MgL.Takes("tds", "TDS", "dissolved solids").Between("0 mg/L", "3000 mg/L")
	q := formula.DailyFlow.Takes("rated_output", "Qr", "output on the label").Between("5 gal/day", "200 gal/day").Assume("50 gal/day", "the kitchen unit on the price list")
	return formula.Formula{
		Name: "membrane_output", Subject: onStages, What: "water that a kitchen membrane gives when it is cold, salty or low in pressure",
		Inputs: formula.Inputs(t, p, tds, q), Equation: "Q = Qr (P - Pt - 1.17 TDS/100)/(60 - 2.92) · (1 - f)^(77 - T)", Range: "40 to 77 °F, 40 to 80 psi", Error: "a fifth; an old membrane gives less",
		Source: "net pressure over a membrane; loss with cold from memory", Kind: source.FromMemory, Factors: []source.Factor{membraneCold, membraneTank, rejectRatio}, Figures: []string{MembraneGalPerDay},
		Examples: formula.By(formula.On("temperature=77 F", "feed_pressure=60 psi", "tds=250 mg/L").Is("output", "36.9 gal/day", "0.1 gal/day", "by hand: 50 · (60 - 15 - 2.92)/57.08"),
			formula.On("temperature=50 F", "feed_pressure=60 psi", "tds=250 mg/L").Is("output", "22.7 gal/day", "1.5 gal/day", "from memory: 1.5 to 2 % less for each of 27 degrees")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			share := membrane{t.Of(a), p.Of(a), tds.Of(a)}.output(a.Factors)
			return formula.Give(formula.DailyFlow.Gives("output", "Q", "into its tank", unit.GalPerDay(q.Of(a).GalPerDay()*share))).With(formula.Sym("Q/Qr", share, "")), nil
		},
	}
}
