package chem

import (
	"errors"
	"slices"

	"wellwright/formula"
	"wellwright/source"
)

const hemWell = "analysis published: Hem 1985, USGS WSP 2254, well 12-6; answer worked apart"

// hemGiven is the analysis of well 12-6.
func hemGiven() []string {
	return []string{"calcium=43 mg/L", "magnesium=20 mg/L", "sodium=28 mg/L", "potassium=4.6 mg/L", "alkalinity=254 mg/L as HCO3",
		"sulfate=8.3 mg/L", "chloride=28 mg/L", "fluoride=0.5 mg/L", "nitrate=0.0226 mg/L as N"}
}

func ionFormulas() []formula.Formula {
	return []formula.Formula{hardnessFormula(), chargeFormula(), solidsFormula(), conductivityFormula(),
		ionicFromConductivityFormula(), ionicFromSolidsFormula(), ionicFromIonsFormula()}
}

func hardnessFormula() formula.Formula {
	ca := formula.MgL.Takes("calcium", "Ca", "dissolved calcium, as Ca").Between("0 mg/L", "5000 mg/L")
	mg := formula.MgL.Takes("magnesium", "Mg", "dissolved magnesium, as Mg").Between("0 mg/L", "5000 mg/L")
	return formula.Formula{
		Name: "hardness", Subject: onIons, What: "hardness of calcium and magnesium",
		Inputs: formula.Inputs(ca, mg), Equation: "H = M(CaCO3) · (Ca/M(Ca) + Mg/M(Mg))",
		Range: "iron is left out: low by 1.79 mg/L for each mg/L of ferrous iron", Source: "Standard Methods 2340 B", Kind: source.Published,
		Examples: formula.By(
			formula.On("calcium=35 mg/L", "magnesium=22 mg/L").Is("hardness", "178 mg/L", "0.5 mg/L", "published: water-quality mathematics sheet").
				Is("hardness", "10.4 gpg", "0.05 gpg", "published: water-quality mathematics sheet"),
			formula.On("calcium=25 mg/L", "magnesium=14 mg/L").Is("hardness", "120 mg/L", "1 mg/L", "published: USGS WRIR 02-4045, table 4, sample 1")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Hardness.Gives("hardness", "H", "calcium and magnesium hardness", HardnessOf(ca.Of(a), mg.Of(a)))), nil
		},
	}
}

func chargeFormula() formula.Formula {
	x, alk := ions(), alkalinityIn()
	return formula.Formula{
		Name: "charge_balance", Subject: onIons, What: "do the cations and anions of an analysis balance",
		Inputs: append(formula.Inputs(alk), x.list()...), Equation: "E = 100 (C - A)/(C + A),  C, A = Σ z c",
		Range: "pH above 4; ferric iron in solution left out", Error: "notice above 2 %, doubt above 5 %, above 10 % something is missing or wrong",
		Source: "Standard Methods 1030 E; form published with USGS samples", Kind: source.Published,
		Examples: formula.By(
			formula.On(hemGiven()...).Is("balance", "-0.25 %", "0.05 %", hemWell).Is("cations", "5.127 meq/L", "0.005 meq/L", hemWell),
			formula.On("calcium=103 mg/L", "magnesium=5.5 mg/L", "sodium=16 mg/L", "alkalinity=255 mg/L as HCO3", "sulfate=49 mg/L", "chloride=37 mg/L").
				Is("balance", "0.4 %", "0.3 %", "published: Davis 2010, Water and Wastewater Engineering, example 7-1 (rounded factors)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.totals(a)
			c, n := CationSum(t, alk.Of(a)), AnionSum(t, alk.Of(a))
			e, ok := ChargeBalance(c, n)
			if !ok {
				return formula.Outcome{}, errors.New("charge balance: a water without ions has none; give the ions of the analysis")
			}
			return formula.Give(hundredths.Gives("balance", "E", "cations over anions, of their sum", e), chargeIn.Gives("cations", "C", "sum of cations", c.MeqPerL()),
				chargeIn.Gives("anions", "A", "sum of anions", n.MeqPerL())), nil
		},
	}
}

func solidsFormula() formula.Formula {
	x, alk := ions(), alkalinityIn()
	return formula.Formula{
		Name: "dissolved_solids", Subject: onIons, What: "dissolved solids as the sum of what was found",
		Inputs: append(formula.Inputs(alk), x.list()...), Equation: "TDS = 0.6 Alk + Na + K + Ca + Mg + Cl + SO4 + SiO2 + NO3 + F",
		Error: "a measured figure is commonly up to 20 % higher", Source: "Standard Methods 1030 E (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("calcium=25 mg/L", "magnesium=14 mg/L", "sodium=190 mg/L", "potassium=13 mg/L", "chloride=7 mg/L", "sulfate=1.2 mg/L",
			"fluoride=1.1 mg/L", "silica=20 mg/L", "alkalinity=580 mg/L as CaCO3").Is("tds", "624 mg/L", "9.4 mg/L", "published: USGS WRIR 02-4045, table 4, sample 1")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.totals(a)
			return balanced(formula.Give(formula.MgL.Gives("tds", "TDS", "dissolved solids", CalculatedTDS(t, alk.Of(a)))), t, alk.Of(a)), nil
		},
	}
}

func conductivityFormula() formula.Formula {
	x, alk := ions(), alkalinityIn()
	return formula.Formula{
		Name: "conductivity", Subject: onIons, What: "electrical conductivity at 25 °C from the ions",
		Inputs: append(formula.Inputs(alk), x.list()...), Equation: "EC = y² Σ L c,  log y = -0.5 ( √I/(1+√I) - 0.3 I )",
		Range: "pH 6 to 9, below 2,500 uS/cm", Error: "3 to 5 %", Source: "Standard Methods 2510 (from memory)", Kind: source.FromMemory,
		Examples: formula.By(
			formula.On("calcium=3.126 mg/L", "magnesium=0.705 mg/L", "sodium=3.08 mg/L", "potassium=1.095 mg/L", "sulfate=0.961 mg/L", "chloride=0.496 mg/L",
				"alkalinity=0.328 meq/L").Is("conductivity", "38 uS/cm", "1.5 uS/cm", "published: Parkhurst & Appelo 1999, USGS WRIR 99-4259, example 16"),
			formula.On(hemGiven()...).Is("conductivity", "458 uS/cm", "14 uS/cm", hemWell)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.totals(a)
			return balanced(formula.Give(formula.Conductivity.Gives("conductivity", "EC", "at 25 °C", CalculatedConductivity(t, alk.Of(a)))), t, alk.Of(a)), nil
		},
	}
}

func ionicFromConductivityFormula() formula.Formula {
	ec := formula.Conductivity.Takes("conductivity", "EC", "electrical conductivity at 25 °C").Between("0 uS/cm", "20000 uS/cm")
	return formula.Formula{
		Name: "ionic_strength_from_conductivity", Subject: onIons, What: "ionic strength from electrical conductivity",
		Inputs: formula.Inputs(ec), Equation: "log I = 1.159 + 1.009 log EC,  I mmol/L, EC dS/m", Range: "below 0.3 mol/L", Error: "a tenth",
		Source: "Marion & Babcock 1976, on a help page quoting Sposito", Kind: source.Published,
		Examples: formula.By(formula.On("conductivity=38 uS/cm").
			Is("ionic_strength", "0.000486 mol/L", "0.00007 mol/L", "published: Parkhurst & Appelo 1999, USGS WRIR 99-4259, example 16")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(ionicIn.Gives("ionic_strength", "I", "ionic strength", IonicFromConductivity(ec.Of(a)).MolPerL())), nil
		},
	}
}

func ionicFromSolidsFormula() formula.Formula {
	tds := tdsIn().Between("0 mg/L", "1000 mg/L")
	return formula.Formula{
		Name: "ionic_strength_from_solids", Subject: onIons, What: "ionic strength from dissolved solids",
		Inputs: formula.Inputs(tds), Equation: "I = 2.5e-5 TDS", Error: "a fifth, more in sulfate water",
		Source: "Langelier 1936; Standard Methods 2330 (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("tds=320 mg/L").Is("ionic_strength", "0.008 mol/L", "0.0000001 mol/L", "definition: 2.5e-5 · 320")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(ionicIn.Gives("ionic_strength", "I", "ionic strength", IonicFromTDS(tds.Of(a)).MolPerL())), nil
		},
	}
}

func ionicFromIonsFormula() formula.Formula {
	x, alk := ions(), alkalinityIn()
	return formula.Formula{
		Name: "ionic_strength_from_ions", Subject: onIons, What: "ionic strength with every ion free",
		Inputs: slices.Concat(formula.Inputs(alk), x.list()), Equation: "I = ½ Σ c z²", Error: "high by 7 % in hard water, by a quarter in strong sulfate water",
		Source: "definition", Kind: source.Derived,
		Examples: formula.By(formula.On("calcium=3.126 mg/L", "magnesium=0.705 mg/L", "sodium=3.08 mg/L", "potassium=1.095 mg/L", "sulfate=0.961 mg/L", "chloride=0.496 mg/L",
			"alkalinity=0.328 meq/L").Is("ionic_strength", "0.000486 mol/L", "0.00001 mol/L", "published: Parkhurst & Appelo 1999, USGS WRIR 99-4259, example 16")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.totals(a)
			return balanced(formula.Give(ionicIn.Gives("ionic_strength", "I", "ionic strength", IonicFromSums(t, alk.Of(a)).MolPerL())), t, alk.Of(a)), nil
		},
	}
}
