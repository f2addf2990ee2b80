package chem

import (
	"errors"
	"slices"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const (
	springSource  = "published: Parkhurst & Appelo 1999, USGS WRIR 99-4259, example 16 (water of Garrels & Mackenzie 1967)"
	madisonSource = "published: Parkhurst & Appelo 1999, USGS WRIR 99-4259, example 18, recharge 3"
	wateqBasis    = "constants of WATEQ4F (Ball & Nordstrom 1991) and Plummer & Busenberg 1982, Davies activity coefficients"
	plummerBasis  = "Plummer & Busenberg 1982 constants, Davies activity coefficients"
)

// springGiven is the spring of the Sierra Nevada, without its pH.
func springGiven(more ...string) []string {
	return append([]string{"temperature=25 C", "alkalinity=0.328 meq/L", "silica=16.40 mg/L", "calcium=3.126 mg/L", "magnesium=0.705 mg/L",
		"sodium=3.081 mg/L", "potassium=1.095 mg/L", "sulfate=0.9606 mg/L", "chloride=0.4963 mg/L"}, more...)
}

// madisonGiven is a recharge water of the Madison aquifer, without its pH.
func madisonGiven(more ...string) []string {
	return append([]string{"temperature=9.9 C", "alkalinity=4.014 meq/L", "calcium=48.09 mg/L", "magnesium=24.55 mg/L", "sodium=0.4598 mg/L",
		"potassium=0.782 mg/L", "ferrous_iron=0.05585 mg/L", "chloride=0.709 mg/L", "sulfate=15.37 mg/L"}, more...)
}

func carbonateFormulas() []formula.Formula {
	return []formula.Formula{co2Formula(), shortCO2Formula(), speciationFormula(), closedFormula(), openFormula(), phOfCO2Formula(), phOfCarbonFormula(), alkalinityFormula(), potentialFormula()}
}

func co2Formula() formula.Formula {
	t, ph, alk, tds := temperatureIn(), phIn(), alkalinityIn(), someTDS()
	return formula.Formula{
		Name: "carbon_dioxide", Subject: onCarbonate, What: "dissolved carbon dioxide from pH and alkalinity",
		Inputs: formula.Inputs(t, ph, alk, tds), Equation: "Alk = C (K1 h + 2 K1 K2)/(h² + K1 h + K1 K2) + Kw/h - h/g,  CO2 = C h²/(h² + K1 h + K1 K2)",
		Range: "pH read on site: a bottle that has lost gas reads high", Error: "ion pairs left out: 1 % in soft water, 5 % in hard sulfate water below pH 8; a pH wrong by 0.1 is a quarter",
		Source: plummerBasis, Kind: source.Published,
		Examples: formula.By(
			formula.On("temperature=25 C", "ph=6.2", "alkalinity=0.328 meq/L", "tds=19.4 mg/L").Is("carbon_dioxide", "19.98 mg/L", "0.4 mg/L", springSource+", 4.54e-4 mol/L").
				Is("total_carbon", "0.783 mmol/L", "0.01 mmol/L", springSource),
			formula.On("temperature=10 C", "ph=6.5", "alkalinity=100 mg/L as CaCO3", "tds=120 mg/L").Is("carbon_dioxide", "75.5 mg/L", "1.5 mg/L", "worked apart from Plummer & Busenberg 1982")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			i := IonicFromTDS(tds.Of(a))
			c := New(a.Factors).Carbonate(t.Of(a), i)
			return formula.Give(formula.MgL.Gives("carbon_dioxide", "CO2", "dissolved carbon dioxide", c.CO2(ph.Of(a), alk.Of(a))),
				carbonIn.Gives("total_carbon", "C", "carbon of every form", carbonOf(c.Carbon(ph.Of(a), alk.Of(a))))).
				With(formula.Symbol{Name: "I", Value: i.molL, Unit: "mol/L"}), nil
		},
	}
}

func shortCO2Formula() formula.Formula {
	ph, alk := phIn().Between("5", "8.3"), alkalinityIn()
	return formula.Formula{
		Name: "carbon_dioxide_short", Subject: onCarbonate, What: "dissolved carbon dioxide by the field formula, to lay beside other people's reports",
		Inputs: formula.Inputs(ph, alk), Equation: "CO2 = 1.60 · 10^(6 - pH) · HCO3, mg/L", Range: "fresh water below 800 mg/L of solutes",
		Error: "right near 25 °C; 27 % low at 10 °C", Source: "Skougstad et al. 1979, USGS TWRI 5-A1, p. 280", Kind: source.Published,
		Examples: formula.By(formula.On("ph=6.2", "alkalinity=20.0 mg/L as HCO3").Is("carbon_dioxide", "20.2 mg/L", "0.1 mg/L", "published: USGS TWRI 5-A1")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.MgL.Gives("carbon_dioxide", "CO2", "dissolved carbon dioxide", ShortCO2(ph.Of(a), alk.Of(a)))), nil
		},
	}
}

// speciated are the results that every equilibrium gives.
func speciated(s State) []formula.Result {
	return []formula.Result{
		formula.PH.Gives("ph", "pH", "pH", s.PH()),
		formula.MgL.Gives("carbon_dioxide", "CO2", "dissolved carbon dioxide", s.CO2()),
		carbonIn.Gives("total_carbon", "C", "carbon of every form, ion pairs included", carbonOf(s.Carbon())),
		pCO2In.Gives("pressure_of_carbon_dioxide", "pCO2", "pressure of carbon dioxide in balance with the water", s.PCO2().Atm()),
		ionicIn.Gives("ionic_strength", "I", "ionic strength", s.Ionic().MolPerL()),
		formula.Conductivity.Gives("conductivity", "EC", "at 25 °C", s.ConductivityAt25()),
		carbonIn.Gives("bicarbonate", "HCO3", "free bicarbonate", s.Molarity(BicarbonateIon).MolPerL()*mmolPerMol),
		carbonIn.Gives("ferrous_ion", "Fe+2", "free ferrous ion", s.Molarity(FerrousIon).MolPerL()*mmolPerMol),
	}
}

const speciationEquation = "Newton on logarithms of free ligands: mass balances, alkalinity and log K of every complex; log g = -A z² (√I/(1+√I) - 0.3 I)"

func speciationFormula() formula.Formula {
	x, ph, alk := ions(), phIn(), alkalinityIn()
	return formula.Formula{
		Name: "speciation", Subject: onCarbonate, What: "a water of known pH and alkalinity in full, with ion pairs",
		Inputs: slices.Concat(formula.Inputs(x.temperature, ph, alk), x.list()), Equation: speciationEquation,
		Range: "ionic strength below 0.5 mol/L", Error: "that of pH and alkalinity", Source: wateqBasis, Kind: source.Published,
		Examples: formula.By(
			formula.On(springGiven("ph=6.2")...).Is("ionic_strength", "0.000486 mol/L", "0.00001 mol/L", springSource).
				Is("carbon_dioxide", "19.98 mg/L", "0.2 mg/L", springSource+", 4.54e-4 mol/L").Is("bicarbonate", "0.328 mmol/L", "0.0033 mmol/L", springSource).
				Is("total_carbon", "0.783 mmol/L", "0.004 mmol/L", springSource).Is("conductivity", "38 uS/cm", "1.5 uS/cm", springSource),
			formula.On(madisonGiven("ph=7.55")...).Is("total_carbon", "4.30 mmol/L", "0.03 mmol/L", madisonSource).
				Is("pressure_of_carbon_dioxide", "0.0055 atm", "0.00025 atm", madisonSource+", log -2.26").Is("ferrous_ion", "0.000729 mmol/L", "0.00004 mmol/L", madisonSource)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.warm(a)
			s, err := New(a.Factors).AtPH(t, ph.Of(a), alk.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			return balanced(formula.Give(speciated(s)...), t, alk.Of(a)), nil
		},
	}
}

func closedFormula() formula.Formula {
	x, alk := ions(), alkalinityIn()
	c := carbonIn.Takes("total_carbon", "C", "carbon of every form").Between("0 mmol/L", "100 mmol/L")
	return formula.Formula{
		Name: "ph_of_closed_water", Subject: onCarbonate, What: "pH of a water that changed closed to the air: warmed, mixed, dosed",
		Inputs: slices.Concat(formula.Inputs(x.temperature, alk, c), x.list()), Equation: speciationEquation,
		Range: "ionic strength below 0.5 mol/L", Error: "that of alkalinity and carbon", Source: wateqBasis, Kind: source.Published,
		Examples: formula.By(formula.On("temperature=10 C", "alkalinity=5.30 meq/L", "total_carbon=6.680 mmol/L", "calcium=140.3 mg/L", "magnesium=18.23 mg/L", "sodium=47.13 mg/L",
			"potassium=5.865 mg/L", "chloride=88.63 mg/L", "nitrate=7.004 mg/L as N", "sulfate=115.3 mg/L").
			Is("ph", "6.98", "0.03", "published: DIN 38404-10, April 1995, table 6, water 1, pH at 10 °C; alkalinity by the charge of its ions")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.warm(a)
			s, err := New(a.Factors).AtCarbon(t, alk.Of(a), TotalCarbon{c.Of(a) / mmolPerMol})
			if err != nil {
				return formula.Outcome{}, err
			}
			return balanced(formula.Give(speciated(s)...), t, alk.Of(a)), nil
		},
	}
}

func openFormula() formula.Formula {
	x, alk := ions(), alkalinityIn()
	p := pCO2In.Takes("pressure_of_carbon_dioxide", "pCO2", "pressure of carbon dioxide over the water").Between("0.000001 atm", "1 atm").Assume("420 ppmv", "outdoor air")
	return formula.Formula{
		Name: "ph_open_to_air", Subject: onCarbonate, What: "pH of a water in balance with air or another gas",
		Inputs: slices.Concat(formula.Inputs(x.temperature, alk, p), x.list()), Equation: speciationEquation,
		Range: "ionic strength below 0.5 mol/L", Error: "balance takes hours of air", Source: wateqBasis, Kind: source.Published,
		Examples: formula.By(formula.On(madisonGiven("pressure_of_carbon_dioxide=0.0055 atm")...).Is("ph", "7.55", "0.02", madisonSource+", log pCO2 -2.26")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.warm(a)
			s, err := New(a.Factors).AtCO2(t, alk.Of(a), Atm(p.Of(a)))
			if err != nil {
				return formula.Outcome{}, err
			}
			return balanced(formula.Give(speciated(s)...), t, alk.Of(a)), nil
		},
	}
}

func phOfCO2Formula() formula.Formula {
	t, alk, tds := temperatureIn(), alkalinityIn().Between("1 mg/L as CaCO3", "2000 mg/L as CaCO3"), someTDS()
	co2 := formula.MgL.Takes("carbon_dioxide", "CO2", "dissolved carbon dioxide left").Between("0.1 mg/L", "2000 mg/L")
	return formula.Formula{
		Name: "ph_of_carbon_dioxide", Subject: onCarbonate, What: "pH when carbon dioxide has been stripped or added down to a figure",
		Inputs: formula.Inputs(t, alk, co2, tds), Equation: "find h: Alk = C(h, CO2) (K1 h + 2 K1 K2)/(h² + K1 h + K1 K2) + Kw/h - h/g",
		Error: "ion pairs left out: 0.02 in pH in common waters below pH 8", Source: plummerBasis, Kind: source.Published,
		Examples: formula.By(formula.On("temperature=10 C", "alkalinity=100 mg/L as CaCO3", "carbon_dioxide=10 mg/L", "tds=120 mg/L").
			Is("ph", "7.38", "0.02", "worked apart from Plummer & Busenberg 1982")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			ph, c := New(a.Factors).Carbonate(t.Of(a), IonicFromTDS(tds.Of(a))).WithCO2(alk.Of(a), co2.Of(a))
			return formula.Give(formula.PH.Gives("ph", "pH", "pH", ph), carbonIn.Gives("total_carbon", "C", "carbon of every form", carbonOf(c))), nil
		},
	}
}

func phOfCarbonFormula() formula.Formula {
	t, alk, tds := temperatureIn(), alkalinityIn(), someTDS()
	c := carbonIn.Takes("total_carbon", "C", "carbon of every form").Between("0 mmol/L", "100 mmol/L")
	return formula.Formula{
		Name: "ph_of_carbon", Subject: onCarbonate, What: "pH from alkalinity and total carbon, without ion pairs",
		Inputs: formula.Inputs(t, alk, c, tds), Equation: "find h: Alk = C (K1 h + 2 K1 K2)/(h² + K1 h + K1 K2) + Kw/h - h/g",
		Error: "ion pairs left out: 0.02 in pH in common waters below pH 8", Source: plummerBasis, Kind: source.Published,
		Examples: formula.By(formula.On("temperature=9.9 C", "alkalinity=4.014 meq/L", "total_carbon=4.30 mmol/L", "tds=264 mg/L").Is("ph", "7.55", "0.04", madisonSource)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			k := New(a.Factors).Carbonate(t.Of(a), IonicFromTDS(tds.Of(a)))
			return formula.Give(formula.PH.Gives("ph", "pH", "pH", k.PH(alk.Of(a), TotalCarbon{c.Of(a) / mmolPerMol}))), nil
		},
	}
}

func alkalinityFormula() formula.Formula {
	t, ph, tds := temperatureIn(), phIn(), someTDS()
	c := carbonIn.Takes("total_carbon", "C", "carbon of every form").Between("0 mmol/L", "100 mmol/L")
	return formula.Formula{
		Name: "alkalinity_of_carbon", Subject: onCarbonate, What: "alkalinity that gives a water of known total carbon its pH",
		Inputs: formula.Inputs(t, ph, c, tds), Equation: "Alk = C (K1 h + 2 K1 K2)/(h² + K1 h + K1 K2) + Kw/h - h/g", Error: "ion pairs left out", Source: plummerBasis, Kind: source.Published,
		Examples: formula.By(formula.On("temperature=9.9 C", "ph=7.55", "total_carbon=4.30 mmol/L", "tds=264 mg/L").Is("alkalinity", "4.014 meq/L", "0.03 meq/L", madisonSource)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x, k := Mix{Carbon: TotalCarbon{c.Of(a) / mmolPerMol}}, Conditions{Temperature: t.Of(a), Ionic: IonicFromTDS(tds.Of(a))}
			return formula.Give(formula.Alkalinity.Gives("alkalinity", "Alk", "alkalinity", New(a.Factors).AlkalinityAt(x, k, ph.Of(a)))), nil
		},
	}
}

func potentialFormula() formula.Formula {
	x, ph, alk := ions(), phIn(), alkalinityIn()
	ferric := formula.MgL.Takes("ferric_iron", "Fe3", "dissolved ferric iron, not floc").Between("0 mg/L", "100 mg/L").Assume("0 mg/L", formula.LeftOut)
	oxygen := formula.MgL.Takes("oxygen", "O2", "dissolved oxygen").Between("0 mg/L", "70 mg/L").Assume("0 mg/L", formula.LeftOut)
	return formula.Formula{
		Name: "redox_potential", Subject: onCarbonate, What: "what the iron and the oxygen of a water would set an electrode to",
		Inputs:   slices.Concat(formula.Inputs(x.temperature, ph, alk, ferric, oxygen), x.list()),
		Equation: "Eh(iron) = RT/F (ln K + ln {Fe+3}/{Fe+2}),  Eh(oxygen) = RT/4F (ln K + ln [O2] - 4 pH ln 10)",
		Error:    "an electrode in a well water reads a mixed potential hundreds of millivolts off: compare trends only", Source: wateqBasis, Kind: source.Published,
		Examples: formula.By(formula.On("temperature=22 C", "ph=6.05", "alkalinity=1.8 mg/L as HCO3", "calcium=0.238 mg/L", "magnesium=0.352 mg/L", "sodium=0.043 mg/L",
			"potassium=0.20 mg/L", "ferrous_iron=0.73 mg/L", "ferric_iron=0.03 mg/L", "manganese=0.277 mg/L", "sulfate=0.15 mg/L", "oxygen=4.3 mg/L").
			Is("by_iron", "306 mV", "15 mV", "published: Morro do Ferro groundwater, iron couple").Is("by_oxygen", "861 mV", "15 mV", "published: Morro do Ferro groundwater, oxygen couple")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.warm(a)
			t.IronIII = ferric.Of(a)
			s, err := New(a.Factors).AtPH(t, ph.Of(a), alk.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			return potentials(s, oxygen.Of(a))
		},
	}
}

// potentials gives those couples that the water holds.
func potentials(s State, oxygen unit.Concentration) (formula.Outcome, error) {
	var o formula.Outcome
	if eh, ok := s.IronPotential(); ok {
		o.Results = append(o.Results, formula.Potential.Gives("by_iron", "Eh", "by ferrous and ferric iron, against the hydrogen electrode", eh))
	}
	if eh, ok := s.OxygenPotential(oxygen); ok {
		o.Results = append(o.Results, formula.Potential.Gives("by_oxygen", "Eh", "by dissolved oxygen, against the hydrogen electrode", eh))
	}
	if len(o.Results) == 0 {
		return o, errors.New("redox potential: give oxygen, or ferrous and ferric iron")
	}
	return o, nil
}
