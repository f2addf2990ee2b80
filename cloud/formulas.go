package cloud

import (
	"math"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const onRaw = "raw water"

// Formulas lists the public formulas of this room.
func Formulas() []formula.Formula {
	return []formula.Formula{ironFormsFormula(), bacteriaFormula()}
}

// The figures of the forms of iron.
const (
	ferrousFigure     = "ferrous iron"
	boundFigure       = "bound iron"
	particulateFigure = "particulate iron"
	bacteriaFigure    = "iron bacteria"
	casingFigure      = "casing storage"
)

func ironFormsFormula() formula.Formula {
	in := func(name, symbol, what string) formula.In[unit.Concentration] {
		return formula.MgL.Takes(name, symbol, what).Between("0 mg/L", "200 mg/L")
	}
	t, d := in("iron", "T", "total iron, unfiltered and acidified"), in("dissolved_iron", "D", "iron filtered through 0.45 µm in the field, then acidified")
	f := in("ferrous_iron", "F", "ferrous iron, read on site")
	return formula.Formula{
		Name: "iron_forms", Subject: onRaw, What: "in what forms the iron of a raw water stands",
		Inputs: formula.Inputs(t, d, f), Equation: "ferrous = F,  bound = max(0, D - F),  particulate = max(0, T - max(D, F))", Range: "samples of one hour; a filter of 0.45 µm passes fine floc",
		Error: "that of the three readings", Source: "three-number rule, common practice", Kind: source.CommonPractice,
		Figures: []string{ferrousFigure, boundFigure, particulateFigure},
		Examples: formula.By(formula.On("iron=3.2 mg/L", "dissolved_iron=3.0 mg/L", "ferrous_iron=2.1 mg/L").Is("bound", "0.9 mg/L", "0.0001 mg/L", "by hand: 3.0 - 2.1").
			Is("particulate", "0.2 mg/L", "0.0001 mg/L", "by hand: 3.2 - 3.0"),
			formula.On("iron=2 mg/L", "dissolved_iron=1.4 mg/L", "ferrous_iron=1.5 mg/L").Is("bound", "0 mg/L", "0 mg/L", "by hand: no less than nothing").Is("particulate", "0.5 mg/L", "0.0001 mg/L", "by hand: 2 - 1.5")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			s := formsOf(t.Of(a).MgPerL(), d.Of(a).MgPerL(), f.Of(a).MgPerL())
			gives := func(name, what string, v float64) formula.Result {
				return formula.MgL.Gives(name, "", what, unit.MgPerL(v))
			}
			return formula.Give(gives("ferrous", "clear, turns on air", s.ferrous), gives("bound", "passes the filter and is not ferrous: colloidal, or held by organic matter", s.bound), gives("particulate", "already turned", s.particulate)), nil
		},
	}
}

// formsOf is the three-number rule, mg/L.
func formsOf(total, dissolved, ferrous float64) split {
	return split{ferrous: ferrous, bound: math.Max(0, dissolved-ferrous), particulate: math.Max(0, total-math.Max(dissolved, ferrous))}
}

func bacteriaFormula() formula.Formula {
	p := formula.Share.Takes("prior", "p0", "chance before any sign").Between("0.1 %", "99 %").Rests(startBacteria, 100, "%", "wells with an iron complaint")
	l := formula.Ratio.Takes("times_likelier", "Π L", "product over the groups of signs, of each the strongest: how much likelier it is seen where the bacteria live; look and smell capped together").Between("0.000001", "1000000")
	return formula.Formula{
		Name: "iron_bacteria_chance", Subject: onRaw, What: "chance of iron bacteria after the signs",
		Inputs: formula.Inputs(l, p), Equation: "o = p0/(1-p0) · Π L, look and smell capped;  p = o/(1+o), at most the ceiling", Range: "groups of signs that have nothing to do with one another", Error: "wide: the odds are judgement; a test kit tells more",
		Source: "Bayes' rule by finding group", Kind: source.Derived, Factors: []source.Factor{startBacteria, lookCap, bacteriaCeiling}, Figures: []string{bacteriaFigure},
		Examples: formula.By(formula.On("prior=20 %", "times_likelier=4").Is("chance", "50 %", "0.001 %", "Bayes' rule by hand: odds of 1 to 4, times 4"), formula.On("prior=20 %", "times_likelier=1").Is("chance", "20 %", "0.001 %", "Bayes' rule: no sign, no change")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Share.Gives("chance", "p", "of iron bacteria", chanceAfter(p.Of(a), math.Log(l.Of(a)), a.Factors.Of(bacteriaCeiling)))), nil
		},
	}
}

// chanceAfter is a chance after signs of a log weight, up to a ceiling.
func chanceAfter(p, weight, ceiling float64) float64 {
	o := p / (1 - p) * math.Exp(weight)
	return math.Min(ceiling, o/(1+o))
}
