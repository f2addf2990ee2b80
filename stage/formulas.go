package stage

import (
	"math"
	"slices"
	"time"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

const onStages = "stages"

// Formulas lists the formulas of single stages that stand alone.
func Formulas() []formula.Formula {
	return slices.Concat(softenerFormulas(), []formula.Formula{ultravioletFormula(), lampFormula()},
		bedFormulas(), airFormulas(), tankFormulas(), feedFormulas(), doseFormulas(), anionFormulas(), adsorberFormulas(), radonFormulas(), []formula.Formula{ozoneFormula(), membraneFormula()})
}

// softenedIn are the inputs of a softener's setting.
type softenedIn struct {
	hardness  formula.In[unit.Hardness]
	iron, mn  formula.In[unit.Concentration]
	allowance formula.In[float64]
}

func softened() softenedIn {
	return softenedIn{
		hardness: formula.Hardness.Takes("hardness", "H", "hardness").Between("0 gpg", "200 gpg"),
		iron:     formula.MgL.Takes("iron", "Fe", "ferrous and particulate iron at the softener").Between("0 mg/L", "50 mg/L"),
		mn:       formula.MgL.Takes("manganese", "Mn", "manganese at the softener").Between("0 mg/L", "20 mg/L").Assume("0 mg/L", formula.LeftOut),
		allowance: gpgPerMg.Takes("allowance", "f", "hardness added for each mg/L of iron").Between("0 gpg per mg/L", "6 gpg per mg/L").
			Rests(softenerAllowance, 1, "gpg per mg/L", "2, 3, 4 and 5 are all in print"),
	}
}

var (
	gpgPerMg    = formula.Measured("hardness allowance", formula.Measure{Unit: "gpg per mg/L", Size: 1}, formula.Measure{Unit: "gpg per mg/L", Size: 1})
	grainsIn    = formula.Measured("load", formula.Measure{Unit: "grains", Size: 1}, formula.Measure{Unit: "kg as CaCO3", Size: 1000 / 0.06479891})
	saltDoseIn  = formula.Measured("salt dose", formula.Measure{Unit: "lb/ft3", Size: 1}, formula.Measure{Unit: "g/L", Size: 1 / 16.018463})
	centimetres = formula.Quantity[unit.Length]("length", formula.Shown("in", unit.Length.Inches), formula.Shown("cm", func(l unit.Length) float64 { return l.MM() / 10 }))
)

// setting is the compensated hardness, gpg, by the rule the softener itself uses.
func (s softenedIn) setting(a formula.Args) float64 {
	h := s.hardness.Of(a).MgPerLAsCaCO3()
	j := Job{Site: &Site{Factors: a.Factors}, In: water.State{Calcium: unit.MgPerL(h * calciumPerHardness), Ferrous: s.iron.Of(a), Manganese: s.mn.Of(a)}}
	return j.Compensated(s.allowance.Of(a))
}

// calciumPerHardness is calcium for one of hardness as CaCO3, by weight.
const calciumPerHardness = 40.078 / 100.086

const tradeIron = "published: trade sheet on iron compensation, 18 gpg and 1.5 mg/L at 2 gpg per mg/L, 240 gal/day"

func softenerSettingFormula() formula.Formula {
	s := softened()
	return formula.Formula{
		Name: "softener_setting", Subject: onStages, What: "hardness that a softener is set to, iron and manganese allowed for",
		Inputs: formula.Inputs(s.hardness, s.iron, s.mn, s.allowance), Equation: "H' = H + f Fe + m Mn", Range: "iron below 2 mg/L; refused above 5", Error: "the allowance is disputed: 2 to 5 in print, chemistry alone asks 0.105",
		Source: "trade practice", Kind: source.CommonPractice, Factors: []source.Factor{softenerAllowance, softenerManganese},
		Figures: []string{HardnessGPG},
		Examples: formula.By(formula.On("hardness=18 gpg", "iron=1.5 mg/L", "allowance=2 gpg per mg/L").Is("setting", "21 gpg", "0.02 gpg", tradeIron),
			formula.On("hardness=18 gpg", "iron=2.0 mg/L", "manganese=0.2 mg/L", "allowance=4 gpg per mg/L").Is("setting", "26.4 gpg", "0.02 gpg", "by hand: 18 + 8 + 0.4")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			h := s.setting(a)
			return formula.Give(formula.Hardness.Gives("setting", "H'", "before rounding", unit.GPG(h)), formula.Hardness.Gives("on_the_dial", "", "in whole grains", unit.GPG(math.Max(1, math.Round(h))))), nil
		},
	}
}

func softenerDaysFormula() formula.Formula {
	s := softened()
	q := formula.DailyFlow.Takes("daily_use", "Q", "water in a day").Between("1 gal/day", "100000 gal/day")
	r := formula.Media.Takes("resin", "V", "volume of resin").Between("0.1 ft3", "100 ft3")
	salt := saltDoseIn.Takes("salt_dose", "s", "salt of one regeneration for each volume of resin").Between("2 lb/ft3", "20 lb/ft3").Rests(softenerSalt, 1, "lb/ft3", "6 saves salt, 10 saves vessel")
	return formula.Formula{
		Name: "softener_days", Subject: onStages, What: "capacity of a softener and the days between regenerations",
		Inputs: formula.Inputs(s.hardness, s.iron, q, r, salt, s.mn, s.allowance), Equation: "t = C/(H' Q) - reserve,  C = V · capacity at the salt dose", Error: "10 %, and more on fouled resin", Source: "trade practice", Kind: source.CommonPractice,
		Factors: []source.Factor{softenerAllowance, softenerManganese, softenerCapacity6, softenerCapacity8, softenerCapacity10, softenerCapacity15, softenerReserve},
		Figures: []string{DaysBetweenMetered},
		Examples: formula.By(formula.On("hardness=15 gpg", "iron=0 mg/L", "daily_use=400 gal/day", "resin=1 ft3", "salt_dose=6 lb/ft3").Is("run", "3.3 days", "0.05 days", "published: trade sizing sheet, 5 people of 80 gal, 20,000 grains"),
			formula.On("hardness=18 gpg", "iron=1.5 mg/L", "daily_use=240 gal/day", "resin=1 ft3", "allowance=2 gpg per mg/L").Is("load", "5040 grains", "5 grains", tradeIron)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			perFt3 := capacityAt(a.Factors, salt.Of(a))
			capacity, load := perFt3*r.Of(a).Ft3(), s.setting(a)*q.Of(a).GalPerDay()
			run := meteredDays(capacity, load, 0)
			kept := math.Max(0, meteredDays(capacity, load, a.Factors.Of(softenerReserve)))
			return formula.Give(formula.Time.Gives("days", "t", "between regenerations, a day kept back", spanOf(kept)), formula.Time.Gives("run", "", "with nothing kept back", spanOf(run)),
				grainsIn.Gives("capacity", "C", "of the resin at the salt dose", capacity), grainsIn.Gives("load", "H'Q", "in a day", load), formula.Mass.Gives("salt", "", "of one regeneration", unit.Lb(salt.Of(a)*r.Of(a).Ft3()))).
				With(formula.Symbol{Name: "H'", Value: s.setting(a), Unit: "gpg"}, formula.Symbol{Name: "capacity", Value: perFt3, Unit: "grains/ft3"}), nil
		},
	}
}

func ultravioletFormula() formula.Formula {
	t := formula.Share.Takes("transmittance", "T", "share of the light that one centimetre of water lets through, at 254 nm").Between("50 %", "99 %")
	l := centimetres.Takes("path", "L", "light path from sleeve to wall").Between("0.1 in", "12 in")
	return formula.Formula{
		Name: "ultraviolet_derate", Subject: onStages, What: "mean light across a lamp chamber as a share of that at the sleeve",
		Inputs: formula.Inputs(t, l), Equation: "f = (1 - T^L)/(-L ln T), L in cm", Range: "a planar estimate: the maker's own curve rules", Source: "Beer-Lambert law, averaged", Kind: source.Derived, Care: "a lamp is judged by its certified dose, not by this; never look into one",
		Examples: formula.By(formula.On("transmittance=75 %", "path=5 cm").Is("share", "53.02 %", "0.05 %", "closed form by hand: (1 - 0.2373)/(5 · 0.28768)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Share.Gives("share", "f", "of the light at the sleeve", Derate(t.Of(a), l.Of(a)))), nil
		},
	}
}

func lampFormula() formula.Formula {
	q := formula.Flow.Takes("rated", "Qr", "flow that the lamp is rated for, at 95 %").Between("0.1 gpm", "500 gpm")
	t := formula.Share.Takes("transmittance", "T", "share of the light that one centimetre of water lets through, at 254 nm").Between("50 %", "99 %")
	l := centimetres.Takes("path", "L", "light path from sleeve to wall").Between("0.1 in", "12 in").Assume("2.5 cm", "household chamber, our judgement")
	return formula.Formula{
		Name: "ultraviolet_flow", Subject: onStages, What: "flow that a lamp is good for in a water darker or clearer than it is rated for",
		Inputs: formula.Inputs(q, t, l), Equation: "Q = Qr f(T) / f(0.95),  f = (1 - T^L)/(-L ln T), L in cm", Range: "a planar estimate: the maker's own curve rules", Error: "wide", Source: "Beer-Lambert law, averaged over the chamber", Kind: source.Derived,
		Figures: []string{RatedFlowGPM}, Care: "a lamp is judged by its certified dose, not by this; never look into one",
		Examples: formula.By(formula.On("rated=12 gpm", "transmittance=75 %").Is("flow", "9.118 gpm", "0.005 gpm", "closed form by hand: 12 · 0.71310 / 0.93853"),
			formula.On("rated=12 gpm", "transmittance=95 %").Is("flow", "12 gpm", "0 gpm", "definition of the rating")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Flow.Gives("flow", "Q", "at the dose of its rating", unit.GPM(lampFlow(q.Of(a).GPM(), t.Of(a), l.Of(a))))), nil
		},
	}
}

// lampFlow is the flow, gpm, at which a lamp gives its dose in a water of a
// transmittance.
func lampFlow(rated, t float64, path unit.Length) float64 {
	return rated * Derate(t, path) / Derate(ratedTransmittance, path)
}

// spanOf turns days into a length of time.
func spanOf(days float64) time.Duration { return time.Duration(days * 24 * float64(time.Hour)) }
