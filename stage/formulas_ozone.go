package stage

import (
	"wellwright/chem"
	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

func ozoneFormula() formula.Formula {
	fe := formula.MgL.Takes("ferrous_iron", "Fe", "ferrous iron").Between("0 mg/L", "50 mg/L").Assume("0 mg/L", formula.LeftOut)
	mn := formula.MgL.Takes("manganese", "Mn", "manganese").Between("0 mg/L", "20 mg/L").Assume("0 mg/L", formula.LeftOut)
	s := formula.Sulfide.Takes("sulfide", "H2S", "sulfide").Between("0 mg/L as H2S", "20 mg/L as H2S").Assume("0 mg/L as H2S", formula.LeftOut)
	toc := formula.MgL.Takes("toc", "TOC", "organic carbon").Between("0 mg/L", "30 mg/L").Assume("0 mg/L", formula.LeftOut)
	q := formula.Flow.Takes("pump_flow", "Q", "flow past the injector").Between("0.1 gpm", "200 gpm")
	e := formula.Share.Takes("dissolves", "e", "share of the ozone that dissolves").Between("10 %", "100 %").Rests(ozoneDissolved, 100, "%", "a venturi with a contact tank")
	return formula.Formula{
		Name: "ozone_output", Subject: onStages, What: "ozone that a water takes up, and what a generator must give",
		Inputs: formula.Inputs(q, fe, mn, s, toc, e), Equation: "D = 0.43 Fe + 0.87 Mn + 1.41 H2S + 0.4 TOC,  G = D Q/e", Range: "sulfide to sulfur; bromide below 0.1 mg/L", Error: "a factor of two with organic matter",
		Source: "derived from atomic weights; organic matter from memory", Kind: source.Derived, Factors: []source.Factor{ozoneOrganic, ozoneDissolved}, Figures: []string{OzoneGPerH},
		Care: "ozone in air harms lungs: destroy the gas of the tank and lead it outdoors",
		Examples: formula.By(formula.On("ferrous_iron=3 mg/L", "manganese=0.3 mg/L", "sulfide=0.5 mg/L as H2S", "toc=2 mg/L", "pump_flow=8 gpm", "dissolves=100 %").
			Is("demand", "3.06 mg/L", "0.01 mg/L", "by hand: 1.289 + 0.262 + 0.704 + 0.8").Is("output", "5.56 g/h", "0.03 g/h", "by hand: 3.06 mg/L of 30.28 L/min for an hour")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			w := water.State{Ferrous: fe.Of(a), Manganese: mn.Of(a), Sulfide: s.Of(a), OrganicCarbon: toc.Of(a)}
			d := ozoneDemand(w, unit.Concentration{}, demandOf(chem.Ozone, chem.SulfideToSulfur), a.Factors.Of(ozoneOrganic))
			return formula.Give(formula.MgL.Gives("demand", "D", "taken up by the water", unit.MgPerL(d)),
				ozoneRateIn.Gives("output", "G", "of the generator", ozoneOutput(d, e.Of(a), q.Of(a)))), nil
		},
	}
}

var ozoneRateIn = formula.Measured("ozone", formula.Measure{Unit: "g/h", Size: 1}, formula.Measure{Unit: "g/h", Size: 1})
