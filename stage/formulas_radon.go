package stage

import (
	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func radonFormulas() []formula.Formula { return []formula.Formula{exhaustFormula()} }

var radonIn = formula.Quantity[unit.Radioactivity]("radioactivity", formula.Shown("pCi/L", unit.Radioactivity.PCiPerL), formula.Shown("Bq/L", func(r unit.Radioactivity) float64 { return r.PCiPerL() * bqPerPCi }))

const bqPerPCi = 0.037 // definition: one curie is 3.7e10 Bq

func exhaustFormula() formula.Formula {
	c0 := radonIn.Takes("radon", "C0", "radon in the raw water").Between("1 pCi/L", "5000000 pCi/L")
	c := radonIn.Takes("radon_left", "C", "radon behind the aerator").Between("0 pCi/L", "5000000 pCi/L").Assume("0 pCi/L", "nearly all is blown out")
	r := formula.Ratio.Takes("air_ratio", "r", "volumes of air for each volume of water").Between("1", "300")
	return formula.Formula{
		Name: "radon_exhaust", Subject: onStages, What: "radon in the air that an aerator blows out, and what the water would give to the house",
		Inputs: formula.Inputs(c0, r, c), Equation: "A = (C0 - C)/r", Error: "that of the air ratio", Source: "mass balance; one of air for 10,000 of water in a house by rule of thumb (second hand)", Kind: source.Derived,
		Figures: []string{ExhaustRadonPCiL}, Care: "lead it outdoors above the roof, away from windows and intakes",
		Examples: formula.By(formula.On("radon=20000 pCi/L", "air_ratio=20").Is("exhaust", "1000 pCi/L", "1 pCi/L", "by hand: 20,000 / 20").Is("house_air", "2 pCi/L", "0.01 pCi/L", "about 10,000 in water adds 1 in air (published advice, second hand)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			taken := max(0, c0.Of(a).PCiPerL()-c.Of(a).PCiPerL())
			return formula.Give(radonIn.Gives("exhaust", "A", "in the air blown out, of air", unit.PCiPerL(exhaustOf(taken, r.Of(a)))),
				radonIn.Gives("house_air", "", "in the air of the house from the raw water, if not treated", unit.PCiPerL(c0.Of(a).PCiPerL()/airOfWater))), nil
		},
	}
}

// airOfWater is radon in water that adds one in the air of a house: published
// advice, second hand.
const airOfWater = 10000
