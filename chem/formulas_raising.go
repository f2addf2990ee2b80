package chem

import (
	"slices"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const (
	closedApart = "worked apart: closed system at 10 °C, Ca 10 and Mg 5 mg/L as CaCO3, Na 0.4, Cl 0.3, SO4 0.05 mmol/L"
	feedCare    = "pH chemicals burn eyes and skin: goggles and gloves, chemical into water, never water into chemical"
)

// acidGiven is the soft acid water of the worked doses.
func acidGiven(more ...string) []string {
	return append([]string{"temperature=10 C", "calcium=4.004 mg/L", "magnesium=1.214 mg/L", "sodium=9.196 mg/L", "chloride=10.64 mg/L", "sulfate=4.803 mg/L"}, more...)
}

func chemicals() formula.Kind[Chemical] {
	all := make([]Chemical, nChemicals)
	for i := range all {
		all[i] = Chemical(i)
	}
	return formula.Choice("chemical", all, Chemical.String)
}

func raisingFormulas() []formula.Formula {
	return []formula.Formula{doseToPHFormula(), phAfterDoseFormula(), chemicalAlkalinityFormula(), bufferFormula()}
}

func doseToPHFormula() formula.Formula {
	x, ph, alk := ions(), phIn(), alkalinityIn()
	c := chemicals().Takes("chemical", "", "what moves pH, as 100 % substance")
	target := formula.PH.Takes("target_ph", "pH'", "pH wanted").Between("5", "9.5")
	return formula.Formula{
		Name: "dose_to_ph", Subject: onRaising, What: "how much of a chemical brings a water to a pH, closed to the air",
		Inputs:   slices.Concat(formula.Inputs(x.temperature, ph, alk, c, target), x.list()),
		Equation: "find D: pH(Alk + a D, carbon + c D) = pH'", Range: "calcite only as far as its ceiling: see calcite_balance",
		Error: "that of pH and alkalinity: a pH wrong by 0.1 moves the dose by a fifth", Source: wateqBasis, Kind: source.Published, Care: feedCare,
		Examples: formula.By(
			formula.On(acidGiven("ph=6.0", "alkalinity=20 mg/L as CaCO3", "chemical=soda ash", "target_ph=7.5")...).Is("dose", "99 mg/L", "3 mg/L", closedApart).
				Is("sodium_added", "43 mg/L", "1.3 mg/L", closedApart),
			formula.On(acidGiven("ph=6.0", "alkalinity=20 mg/L as CaCO3", "chemical=caustic soda", "target_ph=7.5")...).Is("dose", "40 mg/L", "1.2 mg/L", closedApart),
			formula.On(acidGiven("ph=6.0", "alkalinity=20 mg/L as CaCO3", "chemical=calcite", "target_ph=7")...).Is("dose", "66 mg/L", "2 mg/L", closedApart).
				Is("hardness_added", "3.9 gpg", "0.15 gpg", closedApart),
			formula.On(acidGiven("ph=6.5", "alkalinity=40 mg/L as CaCO3", "chemical=magnesia", "target_ph=7")...).Is("dose", "8 mg/L", "0.6 mg/L", closedApart),
			formula.On("temperature=25 C", "ph=8.0", "alkalinity=2 meq/L", "sodium=46 mg/L", "chemical=sulfuric acid", "target_ph=6.33").
				Is("dose", "47.8 mg/L", "1.5 mg/L", "by hand: at the pK1 of 6.33 (25 °C, 2 mmol/L) half of 2.05 mmol/L of carbon is gas, so 0.975 of 2 meq/L is used, at 49.04 mg/meq")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.warm(a)
			s, err := New(a.Factors).AtPH(t, ph.Of(a), alk.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			move := s.RaiseTo
			if target.Of(a).Value() < s.PH().Value() {
				move = s.LowerTo
			}
			d, err := move(c.Of(a), target.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			o := formula.Give(formula.MgL.Gives("dose", "D", "of the 100 % substance", d.Dose))
			o.Results = append(o.Results, dosed(s, d.State)...)
			return balanced(o, t, alk.Of(a)), nil
		},
	}
}

// dosed are the results of a dose: what else moved.
func dosed(was, is State) []formula.Result {
	b, n := was.Totals(), is.Totals()
	hard := HardnessOf(n.Calcium, n.Magnesium).MgPerLAsCaCO3() - HardnessOf(b.Calcium, b.Magnesium).MgPerLAsCaCO3()
	return []formula.Result{
		formula.Alkalinity.Gives("alkalinity_after", "Alk", "alkalinity then", is.Alkalinity()),
		formula.MgL.Gives("carbon_dioxide_left", "CO2", "dissolved carbon dioxide then", is.CO2()),
		formula.MgL.Gives("sodium_added", "Na", "sodium brought in", unit.MgPerL(max(0, n.Sodium.MgPerL()-b.Sodium.MgPerL()))),
		formula.Hardness.Gives("hardness_added", "H", "hardness brought in", unit.HardnessAsCaCO3(max(0, hard))),
	}
}

func phAfterDoseFormula() formula.Formula {
	x, ph, alk := ions(), phIn(), alkalinityIn()
	c := chemicals().Takes("chemical", "", "what moves pH, as 100 % substance")
	d := formula.MgL.Takes("dose", "D", "of the 100 % substance").Between("0 mg/L", "1000 mg/L")
	open := formula.Yes.Takes("opened", "", "the water then stands open to the air, to balance").Assume("no", "closed to the air")
	return formula.Formula{
		Name: "ph_after_dose", Subject: onRaising, What: "pH after a dose of a chemical, closed to the air or opened after it",
		Inputs:   slices.Concat(formula.Inputs(x.temperature, ph, alk, c, d, open), x.list()),
		Equation: "pH(Alk + a D, carbon + c D)", Error: "that of pH and alkalinity", Source: wateqBasis, Kind: source.Published, Care: feedCare,
		Examples: formula.By(formula.On(acidGiven("ph=6.0", "alkalinity=20 mg/L as CaCO3", "chemical=caustic soda", "dose=32 mg/L")...).Is("ph", "7.0", "0.06", closedApart)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.warm(a)
			s, err := New(a.Factors).AtPH(t, ph.Of(a), alk.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			after, err := s.Add(c.Of(a), d.Of(a))
			if err == nil && open.Of(a) {
				after, err = after.OpenTo(Atm(airCO2))
			}
			if err != nil {
				return formula.Outcome{}, err
			}
			o := formula.Give(formula.PH.Gives("ph", "pH", "pH then", after.PH()))
			o.Results = append(o.Results, dosed(s, after)...)
			return balanced(o, t, alk.Of(a)), nil
		},
	}
}

func chemicalAlkalinityFormula() formula.Formula {
	c := chemicals().Takes("chemical", "", "what moves pH, as 100 % substance")
	d := formula.MgL.Takes("dose", "D", "of the 100 % substance").Between("0 mg/L", "100000 mg/L")
	return formula.Formula{
		Name: "alkalinity_of_dose", Subject: onRaising, What: "alkalinity that a dose of a chemical brings, below zero for an acid",
		Inputs: formula.Inputs(c, d), Equation: "Alk = D · e · 50.04 / M", Source: "atomic weights", Kind: source.Derived,
		Examples: formula.By(
			formula.On("chemical=soda ash", "dose=100 mg/L").Is("alkalinity", "94 mg/L as CaCO3", "0.5 mg/L as CaCO3", "published: handout of feed chemicals, 0.94"),
			formula.On("chemical=caustic soda", "dose=10 mg/L").Is("alkalinity", "12.5 mg/L as CaCO3", "0.1 mg/L as CaCO3", "atomic weights; a published handout says 12.8, which is wrong"),
			formula.On("chemical=sulfuric acid", "dose=49.04 mg/L").Is("alkalinity", "-50.04 mg/L as CaCO3", "0.02 mg/L as CaCO3", "atomic weights: one milliequivalent takes one")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Alkalinity.Gives("alkalinity", "Alk", "brought in", AlkalinityOf(c.Of(a), d.Of(a)))), nil
		},
	}
}

func bufferFormula() formula.Formula {
	x, ph, alk := ions(), phIn(), alkalinityIn()
	return formula.Formula{
		Name: "buffer_intensity", Subject: onRaising, What: "how much base a water takes up for each unit that its pH rises",
		Inputs: slices.Concat(formula.Inputs(x.temperature, ph, alk), x.list()), Equation: "β = dAlk / dpH at constant total carbon", Error: "that of pH and alkalinity; no solid forms",
		Source: "Van Slyke, 1922, Journal of Biological Chemistry 52 (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("temperature=25 C", "ph=6.33", "alkalinity=2 meq/L", "potassium=78.2 mg/L").
			Is("intensity", "2.30 meq/L", "0.05 meq/L", "by hand: at pK1 the closed form for carbonate is ln 10 · C/4, C 4 mmol/L")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.warm(a)
			s, err := New(a.Factors).AtPH(t, ph.Of(a), alk.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			b, err := s.BufferIntensity()
			return balanced(formula.Give(chargeIn.Gives("intensity", "β", "for each unit of pH", b.MeqPerL())), t, alk.Of(a)), err
		},
	}
}
