package stage

import (
	"wellwright/chem"
	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func saltIn() formula.In[string] {
	return formula.Choice("salt", []string{AlumFed, FerricFed}, func(s string) string { return s }).Takes("coagulant", "", "what is fed, as the dry salt")
}

func saltDose() formula.In[unit.Concentration] {
	return formula.MgL.Takes("dose", "D", "of the jar that left least iron").Between("1 mg/L", "300 mg/L")
}

func coagulantFormula() formula.Formula {
	kind, d := saltIn(), saltDose()
	const balanced = "by hand: 3 · 100.087/594.37 and 0.44; 1.5 · 100.087/162.204"
	return formula.Formula{
		Name: "coagulant_dose", Subject: onStages, What: "what a dose of alum or ferric chloride, found in jars, does to a water",
		Inputs: formula.Inputs(kind, d), Equation: "D = dose of the jar;  alkalinity eaten = 0.505 D of alum, 0.926 D of ferric chloride", Range: "no dose stands in print for a water: the jar sets it", Error: "that of the jar; the arithmetic adds none",
		Source: byAtoms, Kind: source.Derived, Factors: []source.Factor{alumSolids}, Figures: []string{DoseMgL}, Care: "alum and ferric solutions are acids: never near bleach",
		Examples: formula.By(formula.On("coagulant="+AlumFed, "dose=40 mg/L").Is("alkalinity_eaten", "20.2 mg/L as CaCO3", "0.05 mg/L as CaCO3", balanced).Is("floc", "17.6 mg/L", "0.05 mg/L", balanced),
			formula.On("coagulant="+FerricFed, "dose=20 mg/L").Is("alkalinity_eaten", "18.5 mg/L as CaCO3", "0.05 mg/L as CaCO3", balanced).Is("chloride", "13.1 mg/L", "0.05 mg/L", "by hand: 20 · 106.36/162.204")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			s, dose := salts[kind.Of(a)], d.Of(a).MgPerL()
			floc := s.flocSolids(a.Factors, dose).MgPerL()
			if s.metal == molIron {
				floc = s.metalOf(dose) * molIron * solidsMade(chem.IronII)
			}
			gives := func(name, what string, v float64) formula.Result {
				return formula.MgL.Gives(name, "", what, unit.MgPerL(v))
			}
			return formula.Give(gives("dose", "as the dry salt", dose), formula.Alkalinity.Gives("alkalinity_eaten", "", "by the acid set free", unit.AlkalinityAsCaCO3(s.alkalinityEaten(dose))),
				gives("floc", "dry, without what it gathers", floc), gives("sulfate", "added", dose*s.sulfate), gives("chloride", "added", dose*s.chloride)), nil
		},
	}
}

func aluminiumFormula() formula.Formula {
	ph := formula.PH.Takes("ph", "pH", "behind the feed").Between("5", "8.5")
	return formula.Formula{
		Name: "aluminium_left", Subject: onStages, What: "aluminium that stays dissolved behind alum",
		Inputs: formula.Inputs(ph), Equation: "Al = 26980 K ({H}³ + b1 {H}² + b2 {H} + b3 + b4/{H})", Range: "pH 5 to 8.5, no fluoride, organic complexes left out", Error: "a factor of three",
		Source: "solubility of the fresh hydroxide, hydrolysis after Nordstrom and May 1996", Kind: source.FromMemory, Factors: []source.Factor{aluminiumHydroxide}, Figures: []string{AluminiumMgL},
		Care:     "the secondary level is 0.05 to 0.2 mg/L: a laboratory tells",
		Examples: formula.By(formula.On("ph=6.3").Is("aluminium", "32.2 ug/L", "0.2 ug/L", "by hand: 26.98e6 · 10^10.1 (1.26e-19 + 2.51e-18 + 3.98e-17 + 1.26e-17 + 3.98e-17)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.MgL.Gives("aluminium", "Al", "dissolved", unit.MgPerL(aluminiumLeft(a.Factors, ph.Of(a).Value())))), nil
		},
	}
}

func coagulantCarbonFormula() formula.Formula {
	kind, d := saltIn(), saltDose()
	c := formula.MgL.Takes("organic_carbon", "C", "organic carbon of the raw water").Between("1 mg/L", "50 mg/L")
	ph := formula.PH.Takes("ph", "pH", "behind the feed").Between("5", "8")
	suva := formula.Ratio.Takes("suva", "SUVA", "ultraviolet absorbance of the carbon, L/(mg m)").Between("0.5", "8").Rests(coagulantSUVA, 1, "", "humic waters lie at 4 and above")
	return formula.Formula{
		Name: "coagulant_carbon", Subject: onStages, What: "organic carbon that a coagulant leaves",
		Inputs: formula.Inputs(kind, d, c, ph, suva), Equation: "s = C (1 - k1 SUVA - k2),  (s - c)/M = a b c/(1 + b c),  left = c + C - s", Range: "pH 5 to 8, 2 to 27 mg/L", Error: "10 % over many waters; a jar is surer",
		Source: "Edwards 1997, J. AWWA 89(5):78, general coefficients", Kind: source.Published, Factors: []source.Factor{coagulantSUVA},
		Examples: formula.By(formula.On("coagulant="+AlumFed, "dose=297.185 mg/L", "organic_carbon=10 mg/L", "ph=6", "suva=4").Is("left", "3.58 mg/L", "0.01 mg/L", "worked apart by halving the interval: s = 6.76, a = 135.1")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			s := salts[kind.Of(a)]
			return formula.Give(formula.MgL.Gives("left", "", "behind a filter", unit.MgPerL(s.carbon.left(c.Of(a).MgPerL(), s.metalOf(d.Of(a).MgPerL()), ph.Of(a).Value(), suva.Of(a))))), nil
		},
	}
}
