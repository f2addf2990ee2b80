package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const byAtoms = "derived from atomic weights"

func doseFormulas() []formula.Formula {
	return []formula.Formula{chlorineFormula(), permanganateFormula(), peroxideFormula(), coagulantFormula(), aluminiumFormula(), coagulantCarbonFormula(), polyphosphateFormula(), sodaAshFormula()}
}

func metalIn(name, symbol, what string) formula.In[unit.Concentration] {
	return formula.MgL.Takes(name, symbol, what).Between("0 mg/L", "50 mg/L")
}

func manganeseLeft(what string) formula.In[unit.Concentration] {
	return metalIn("manganese", "Mn", what).Assume("0 mg/L", formula.LeftOut)
}

func sulfideLeft() formula.In[unit.Sulfide] {
	return formula.Sulfide.Takes("sulfide", "H2S", "sulfide").Between("0 mg/L as H2S", "20 mg/L as H2S").Assume("0 mg/L as H2S", formula.LeftOut)
}

func chlorineFormula() formula.Formula {
	fe, mn, s := metalIn("ferrous_iron", "Fe", "ferrous iron"), manganeseLeft("dissolved manganese"), sulfideLeft()
	n := formula.Nitrogen.Takes("ammonia", "N", "ammonia").Between("0 mg/L as N", "10 mg/L as N").Assume("0 mg/L as N", formula.LeftOut)
	cl := func(name, symbol, what string) formula.In[unit.Chlorine] {
		return formula.Chlorine.Takes(name, symbol, what).Between("0 mg/L as Cl2", "50 mg/L as Cl2")
	}
	x := cl("extra", "extra", "for organic matter and slime").Assume("0 mg/L as Cl2", formula.LeftOut)
	r := cl("residual", "R", "free residual wanted").Rests(residualPlain, 1, "mg/L as Cl2", "behind the contact tank")
	c := formula.Share.Takes("share", "c", "share of the way from the usual to the high dose at which the feed is started").Between("0 %", "100 %").Rests(chlorineStart, 100, "%", "a little above the sum")
	const apart = "worked apart from balanced reactions: 1.27 + 0.39 + 1.04 + 1.52 + 0.5"
	return formula.Formula{
		Name: "chlorine_dose", Subject: onStages, What: "chlorine that a feed is started at, before it is titrated to its residual",
		Inputs:   formula.Inputs(fe, mn, s, n, x, r, c),
		Equation: "demand = 0.635 Fe + 1.29 Mn + 2.08 H2S + 7.6 N + extra,  usual = demand + R,  D = usual + c (high - usual)",
		Range:    "sulfide to sulfur, at most to sulfate, 8.32; a demand measured in a jar stands in for the sum: D = jar + R", Error: "a factor of two where there is sulfide; a jar test is the sure figure",
		Source: byAtoms + "; ammonia from breakpoint practice (from memory)", Kind: source.Derived, Factors: []source.Factor{residualPlain, chlorineStart}, Figures: []string{DemandMgL, DoseMgL},
		Care: "never let bleach meet acid, ammonia or permanganate: chlorine gas",
		Examples: formula.By(formula.On("ferrous_iron=2 mg/L", "manganese=0.30 mg/L", "sulfide=0.5 mg/L as H2S", "ammonia=0.2 mg/L as N", "residual=0.5 mg/L as Cl2", "share=0 %").
			Is("dose", "4.72 mg/L as Cl2", "0.05 mg/L as Cl2", apart).Is("demand", "4.22 mg/L as Cl2", "0.05 mg/L as Cl2", apart)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			d, _ := chlorineSum(chem.New(a.Factors), chem.ChlorineNeeds{IronII: fe.Of(a), Manganese: mn.Of(a), Sulfide: s.Of(a), Ammonia: n.Of(a), Residual: r.Of(a)}, x.Of(a).MgPerLAsCl2())
			gives := func(name, symbol, what string, v float64) formula.Result {
				return formula.Chlorine.Gives(name, symbol, what, unit.MgPerLAsCl2(v))
			}
			return formula.Give(gives("dose", "D", "to start at", startDose(d.demand+d.residual, d.high, c.Of(a))), gives("demand", "", "without the residual", d.demand),
				gives("low", "", "least dose", d.low), gives("high", "", "highest dose", d.high)), nil
		},
	}
}

func permanganateFormula() formula.Formula {
	fe, mn, s := metalIn("ferrous_iron", "Fe", "ferrous iron"), manganeseLeft("dissolved manganese"), sulfideLeft()
	return formula.Formula{
		Name: "permanganate_dose", Subject: onStages, What: "potassium permanganate fed for iron, manganese and sulfide",
		Inputs: formula.Inputs(fe, mn, s), Equation: "D = 0.943 Fe + 1.92 Mn + 3.09 H2S", Range: "sulfide to sulfur; the trade plans 5 to 6 for it", Error: "organic matter asks more: try it in a jar", Source: byAtoms, Kind: source.Derived,
		Figures: []string{DoseMgL}, Care: "a strong oxidiser that stains: gloves and goggles; pink water at a tap is an overdose",
		Examples: formula.By(formula.On("ferrous_iron=2 mg/L", "manganese=0.3 mg/L", "sulfide=0.5 mg/L as H2S").Is("dose", "4.008 mg/L", "0.01 mg/L", "by hand: 158.03 g/mol over 3 electrons: 1.887 + 0.575 + 1.546")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			d := permanganateFor(fe.Of(a).MgPerL(), mn.Of(a).MgPerL(), s.Of(a).MgPerLAsH2S(), demandOf(chem.Permanganate, chem.SulfideToSulfur))
			return formula.Give(formula.MgL.Gives("dose", "D", "as KMnO4", unit.MgPerL(d))), nil
		},
	}
}

// permanganateFor is the permanganate, mg/L, at so many for each of sulfide.
func permanganateFor(iron, manganese, sulfide, perSulfide float64) float64 {
	return demandOf(chem.Permanganate, chem.IronII)*iron + demandOf(chem.Permanganate, chem.ManganeseII)*manganese + perSulfide*sulfide
}

func peroxideFormula() formula.Formula {
	fe, s := metalIn("ferrous_iron", "Fe", "ferrous iron"), sulfideLeft()
	e := formula.Ratio.Takes("excess", "e", "fed over the sum of demands").Between("1", "5").Rests(peroxideExcess, 1, "", "trade rule")
	return formula.Formula{
		Name: "peroxide_dose", Subject: onStages, What: "hydrogen peroxide fed for sulfide and iron",
		Inputs: formula.Inputs(fe, s, e), Equation: "D = e (1.0 H2S + 0.305 Fe)", Range: "sulfide to sulfur, catalytic carbon behind it", Error: "half, that of the excess", Source: byAtoms + "; the excess is common practice", Kind: source.Derived,
		Factors: []source.Factor{peroxideExcess}, Figures: []string{DoseMgL}, Care: "from 35 % it burns skin: goggles and gloves; never with bleach or permanganate",
		Examples: formula.By(formula.On("ferrous_iron=1 mg/L", "sulfide=2 mg/L as H2S").Is("dose", "3.45 mg/L", "0.01 mg/L", "by hand: 1.5 (2 · 34.01/34.08 + 34.01/111.69)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			d := peroxideFor(fe.Of(a).MgPerL(), s.Of(a).MgPerLAsH2S())
			return formula.Give(formula.MgL.Gives("dose", "D", "as H2O2", unit.MgPerL(d*e.Of(a)))).With(formula.Sym("sum", d, "mg/L")), nil
		},
	}
}

// peroxideFor is the peroxide that sulfide and iron take up, mg/L.
func peroxideFor(iron, sulfide float64) float64 {
	return demandOf(chem.Peroxide, chem.SulfideToSulfur)*sulfide + demandOf(chem.Peroxide, chem.IronII)*iron
}

func polyphosphateFormula() formula.Formula {
	fe, mn := metalIn("iron", "Fe", "iron of every form"), manganeseLeft("manganese")
	r := formula.Ratio.Takes("per_metal", "r", "for each mg of iron and manganese").Between("1", "10").Rests(polyphosphateRatio, 1, "", "2 to 4 in print")
	most := formula.MgL.Takes("most", "most", "that agencies allow").Between("1 mg/L", "20 mg/L").Rests(polyphosphateMost, 1, "mg/L", "as PO4")
	return formula.Formula{
		Name: "polyphosphate_dose", Subject: onStages, What: "polyphosphate that keeps iron and manganese from showing",
		Inputs: formula.Inputs(fe, mn, r, most), Equation: "D = min(r (Fe + Mn), most)", Range: "clear water, iron to about 1 mg/L; it removes nothing, and hot water lets the iron go", Error: "2 to 4 for each mg are in print", Source: "trade practice (from memory)", Kind: source.FromMemory,
		Factors: []source.Factor{polyphosphateRatio, polyphosphateMost}, Figures: []string{DoseMgL},
		Examples: formula.By(formula.On("iron=0.8 mg/L", "manganese=0.2 mg/L").Is("dose", "3 mg/L", "0.001 mg/L", "by hand: 3 (0.8 + 0.2)"), formula.On("iron=5 mg/L").Is("dose", "10 mg/L", "0.001 mg/L", "by hand: 15, of which agencies allow 10")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			d := polyphosphateFor(r.Of(a), fe.Of(a).MgPerL()+mn.Of(a).MgPerL(), most.Of(a).MgPerL())
			return formula.Give(formula.MgL.Gives("dose", "D", "as PO4", unit.MgPerL(d))), nil
		},
	}
}

// polyphosphateFor is so many mg/L for each of the metals, up to the most.
func polyphosphateFor(ratio, metals, most float64) float64 { return math.Min(ratio*metals, most) }

func sodaAshFormula() formula.Formula {
	t, ph := warmthIn(), formula.PH.Takes("ph", "pH", "pH of the water").Between("4.5", "9")
	alk := formula.Alkalinity.Takes("alkalinity", "A", "alkalinity").Between("0 mg/L as CaCO3", "600 mg/L as CaCO3")
	target := formula.PH.Takes("target_ph", "pH'", "pH wanted").Between("6", "9.5")
	tds := formula.MgL.Takes("tds", "TDS", "dissolved solids, for the ionic strength").Between("0 mg/L", "3000 mg/L").Assume("200 mg/L", "usual well water; it matters little")
	return formula.Formula{
		Name: "soda_ash_dose", Subject: onStages, What: "soda ash that brings an acid water to a pH; with ion pairs see dose_to_ph",
		Inputs: formula.Inputs(t, ph, alk, target, tds), Equation: "D = 105.99 (C0 - C(pH', A)) / (2/a - 1)", Range: "closed to the air; C0 and C(pH', A) total carbon, a carbonate alkalinity of a mole of it at pH'", Error: "3 %, and that of the pH: 0.1 moves the dose by a fifth", Source: "equilibrium of carbonate, Plummer & Busenberg 1982", Kind: source.Published,
		Figures: []string{DoseMgL}, Care: "soda ash solution burns eyes: goggles and gloves",
		Examples: formula.By(formula.On("temperature=10 C", "ph=6.0", "alkalinity=20 mg/L as CaCO3", "target_ph=7.5", "tds=50 mg/L").Is("dose", "99 mg/L", "4 mg/L", "worked apart: closed system at 10 °C, 20 mg/L as CaCO3, soft water")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			k := chem.New(a.Factors).Carbonate(t.Of(a), chem.IonicFromTDS(tds.Of(a)))
			mol := carbonateNeeded(k, ph.Of(a), target.Of(a), alk.Of(a))
			return formula.Give(formula.MgL.Gives("dose", "D", "as Na2CO3", unit.MgPerL(mol*molSodaAsh*mgPerG))), nil
		},
	}
}
