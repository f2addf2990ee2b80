package chem

import (
	"errors"
	"fmt"
	"slices"

	"wellwright/formula"
	"wellwright/source"
)

const (
	naceExample = "A and B published, the rest from memory: worked example of a corrosion text (NACE)"
	noIndex     = "a water without calcium or alkalinity has no index"
)

func scaleFormulas() []formula.Formula {
	return []formula.Formula{saturationFormula(), ccppFormula(), langelierFormula(), shortLangelierFormula(), ryznarFormula(), aggressiveFormula(),
		larsonFormula(), massRatioFormula()}
}

func minerals() []Mineral {
	ms := make([]Mineral, nMinerals)
	for i := range ms {
		ms[i] = Mineral(i)
	}
	return ms
}

func saturationFormula() formula.Formula {
	x, ph, alk := ions(), phIn(), alkalinityIn()
	mineral := formula.Choice("mineral", minerals(), Mineral.String).Takes("mineral", "", "the solid that may form or dissolve").
		Assume(Calcite.String(), "the index is then that of Langelier in full")
	return formula.Formula{
		Name: "saturation_index", Subject: onScale, What: "does a solid form or dissolve; for calcite, the Langelier index in full",
		Inputs:   slices.Concat(formula.Inputs(x.temperature, ph, alk, mineral), x.list()),
		Equation: "SI = log10( ion activity product / K )", Error: "that of pH and alkalinity, commonly 0.3", Source: wateqBasis, Kind: source.Published,
		Examples: formula.By(
			formula.On(springGiven("ph=6.2")...).Is("saturation_index", "-3.30", "0.05", springSource),
			formula.On(madisonGiven("ph=7.55")...).Is("saturation_index", "-0.04", "0.05", madisonSource),
			formula.On(madisonGiven("ph=7.55", "mineral=siderite")...).Is("saturation_index", "-0.86", "0.05", madisonSource),
			formula.On(madisonGiven("ph=7.55", "mineral=aragonite")...).Is("saturation_index", "-0.19", "0.05", madisonSource)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.warm(a)
			s, err := New(a.Factors).AtPH(t, ph.Of(a), alk.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			si, ok := s.SI(mineral.Of(a))
			if !ok {
				return formula.Outcome{}, fmt.Errorf("saturation index: the water as given holds none of a part of %v; give every ion of it", mineral.Of(a))
			}
			return balanced(formula.Give(formula.Index.Gives("saturation_index", "SI", "above zero it may form, below zero it dissolves", si)).
				With(formula.Symbol{Name: "I", Value: s.Ionic().MolPerL(), Unit: "mol/L"}), t, alk.Of(a)), nil
		},
	}
}

func ccppFormula() formula.Formula {
	x, ph, alk := ions(), phIn(), alkalinityIn()
	return formula.Formula{
		Name: "calcite_balance", Subject: onScale, What: "calcium carbonate that comes down or dissolves (CCPP), and the ceiling of a calcite bed",
		Inputs:   slices.Concat(formula.Inputs(x.temperature, ph, alk), x.list()),
		Equation: "find x: SI(Ca - x, Alk - 2x, carbon - x) = 0, closed to the air", Error: "a pH reading wrong by 0.1 moves it by several mg/L in waters rich in carbon dioxide",
		Source: wateqBasis, Kind: source.Published,
		Examples: formula.By(
			formula.On("temperature=10 C", "ph=6.98", "alkalinity=5.30 meq/L", "calcium=140.3 mg/L", "magnesium=18.23 mg/L", "sodium=47.13 mg/L",
				"potassium=5.865 mg/L", "chloride=88.63 mg/L", "nitrate=7.004 mg/L as N", "sulfate=115.3 mg/L").
				Is("ph_at_balance", "7.07", "0.03", "published: DIN 38404-10, April 1995, table 6, water 1 at 10 °C; alkalinity by the charge of its ions").
				Is("precipitates", "-20 mg/L as CaCO3", "3 mg/L as CaCO3", "the same, 0.20 mmol/L dissolves"),
			formula.On("temperature=10 C", "ph=6.0", "alkalinity=20 mg/L as CaCO3", "calcium=4.004 mg/L", "magnesium=1.214 mg/L", "sodium=9.2 mg/L", "chloride=10.6 mg/L", "sulfate=4.8 mg/L").
				Is("ph_at_balance", "7.80", "0.05", "worked apart, closed system").Is("precipitates", "-103 mg/L as CaCO3", "3.1 mg/L as CaCO3", "worked apart, closed system")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := x.warm(a)
			s, err := New(a.Factors).AtPH(t, ph.Of(a), alk.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			b, err := s.CalciteBalance()
			if err != nil {
				return formula.Outcome{}, err
			}
			return balanced(formula.Give(carbonateIn.Gives("precipitates", "x", "above zero comes down, below zero dissolves", b.Precipitates.MgPerL()),
				formula.PH.Gives("ph_at_balance", "pH", "the highest that calcite brings this water to", b.State.PH()),
				formula.Alkalinity.Gives("alkalinity_at_balance", "Alk", "alkalinity then", b.State.Alkalinity())), t, alk.Of(a)), nil
		},
	}
}

// handIn are the inputs of the hand formulas of scaling.
type handIn struct{ scale func(formula.Args) Scale }

func hand() (handIn, []formula.Input) {
	t, ph, ca, alk, tds := temperatureIn().Between("0 C", "90 C"), phIn(), calciumHardnessIn(), alkalinityIn(), tdsIn().Between("10 mg/L", "1000 mg/L")
	return handIn{func(a formula.Args) Scale {
		return Scale{Temperature: t.Of(a), PH: ph.Of(a), Calcium: ca.Of(a), Alkalinity: alk.Of(a), TDS: tds.Of(a)}
	}}, formula.Inputs(t, ph, ca, alk, tds)
}

func naceGiven(celsius string) []string {
	return []string{"temperature=" + celsius, "ph=7.5", "calcium_hardness=150 mg/L as CaCO3", "alkalinity=34 mg/L as CaCO3", "tds=320 mg/L"}
}

// byHand runs a hand formula on a pH of saturation.
func byHand(x Scale, h ByHand) formula.Outcome {
	return formula.Give(formula.Index.Gives("langelier", "LSI", "above zero scale may form, below zero it dissolves", h.Langelier()),
		formula.PH.Gives("saturation_ph", "pHs", "pH at which this water would neither scale nor dissolve", h.Saturation)).
		With(formula.Symbol{Name: "I", Value: IonicFromTDS(x.TDS).MolPerL(), Unit: "mol/L"})
}

func langelierFormula() formula.Formula {
	x, ins := hand()
	return formula.Formula{
		Name: "langelier", Subject: onScale, What: "Langelier index by hand, from published constants",
		Inputs: ins, Equation: "LSI = pH - pHs,  pHs = pK2 - pKs + p[Ca] + p[HCO3] + 5 pf,  pf = A (√I/(1+√I) - 0.3 I),  I = 2.5e-5 TDS",
		Range: "pH 6 to 9", Error: "0.05 against the index in full in common waters", Source: "Standard Methods 2330 B (form from memory, coefficients published)", Kind: source.Published,
		Examples: formula.By(
			formula.On("temperature=84 F", "ph=7.6", "calcium_hardness=300 mg/L as CaCO3", "alkalinity=75 mg/L as CaCO3", "tds=500 mg/L").
				Is("langelier", "0.2", "0.05", "published: factor method for pools"),
			formula.On(naceGiven("25 C")...).Is("langelier", "-0.54", "0.05", "worked apart from published coefficients")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			s := x.scale(a)
			sat, ok := New(a.Factors).SaturationPH(s)
			if !ok {
				return formula.Outcome{}, errors.New("langelier: " + noIndex)
			}
			return byHand(s, ByHand{s.PH, sat}), nil
		},
	}
}

func shortLangelierFormula() formula.Formula {
	x, ins := hand()
	return formula.Formula{
		Name: "langelier_short", Subject: onScale, What: "Langelier index by the short hand formula, to lay beside other people's reports",
		Inputs: ins, Equation: "pHs = 9.3 + A + B - C - D,  A = (log TDS - 1)/10,  B = -13.12 log(t + 273) + 34.55,  C = log Ca - 0.4,  D = log Alk",
		Error: "in cold water 0.2 to 0.3 lower than it should be", Source: "several handbooks", Kind: source.Published,
		Examples: formula.By(formula.On(naceGiven("25 C")...).Is("langelier", "-0.7", "0.05", naceExample).Is("saturation_ph", "8.2", "0.05", naceExample),
			formula.On(naceGiven("82 C")...).Is("langelier", "0.3", "0.05", naceExample)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			s := x.scale(a)
			sat, ok := ShortSaturationPH(s)
			if !ok {
				return formula.Outcome{}, errors.New("langelier short: " + noIndex)
			}
			return byHand(s, ByHand{s.PH, sat}), nil
		},
	}
}

func ryznarFormula() formula.Formula {
	x, ins := hand()
	return formula.Formula{
		Name: "ryznar", Subject: onScale, What: "Ryznar index: far below 6 scale grows, far above 7 no film protects",
		Inputs: ins, Equation: "RSI = 2 pHs - pH, with pHs of langelier and of langelier_short", Source: "Ryznar 1944, as on a NACE page", Kind: source.Published,
		Examples: formula.By(formula.On(naceGiven("25 C")...).Is("ryznar_short", "8.9", "0.1", naceExample), formula.On(naceGiven("82 C")...).Is("ryznar_short", "7.0", "0.1", naceExample)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			s := x.scale(a)
			sat, ok := New(a.Factors).SaturationPH(s)
			short, ok2 := ShortSaturationPH(s)
			if !ok || !ok2 {
				return formula.Outcome{}, errors.New("ryznar: " + noIndex)
			}
			return formula.Give(formula.Index.Gives("ryznar", "RSI", "with the saturation pH of langelier", ByHand{s.PH, sat}.Ryznar()),
				formula.Index.Gives("ryznar_short", "RSI", "with the short saturation pH, as most reports have it", ByHand{s.PH, short}.Ryznar())).
				With(formula.Symbol{Name: "pHs", Value: sat.Value()}, formula.Symbol{Name: "pHs short", Value: short.Value()}), nil
		},
	}
}

func aggressiveFormula() formula.Formula {
	ph, ca, alk := phIn(), calciumHardnessIn(), alkalinityIn()
	return formula.Formula{
		Name: "aggressive_index", Subject: onScale, What: "aggressiveness toward asbestos-cement pipe: 12 and more is not, below 10 highly",
		Inputs: formula.Inputs(ph, ca, alk), Equation: "AI = pH + log(Alk · Ca), both mg/L as CaCO3", Source: "formula published; limits AWWA C400 (from memory)", Kind: source.Published,
		Examples: formula.By(formula.On("ph=8", "calcium_hardness=100 mg/L as CaCO3", "alkalinity=100 mg/L as CaCO3").Is("aggressive_index", "12", "0.0001", "definition: 8 + log(100 · 100)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			v, ok := AggressiveIndex(Scale{PH: ph.Of(a), Calcium: ca.Of(a), Alkalinity: alk.Of(a)})
			if !ok {
				return formula.Outcome{}, errors.New("aggressive index: " + noIndex)
			}
			return formula.Give(formula.Index.Gives("aggressive_index", "AI", "aggressive index", v)), nil
		},
	}
}

func larsonFormula() formula.Formula {
	x, alk := ions(), alkalinityIn()
	return formula.Formula{
		Name: "larson_ratio", Subject: onScale, What: "chloride and sulfate over alkalinity: below 0.8 films form, above 1.2 corrosion is expected",
		Inputs: formula.Inputs(x.chloride, x.sulfate, alk), Equation: "R = (Cl + SO4)/(HCO3 + CO3), equivalents", Source: "Larson & Skold 1958; limits Roberge 2006, web page", Kind: source.Published,
		Examples: formula.By(
			formula.On("chloride=28 mg/L", "sulfate=8.3 mg/L", "alkalinity=254 mg/L as HCO3").Is("larson_ratio", "0.231", "0.005", hemWell),
			formula.On("chloride=246 mg/L", "sulfate=44 mg/L", "alkalinity=202 mg/L as HCO3").Is("larson_ratio", "2.37", "0.005", "analysis published: Hem 1985, USGS WSP 2254, well 17-3; answer worked apart")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			v, ok := Larson(Totals{Chloride: x.chloride.Of(a), Sulfate: x.sulfate.Of(a)}, alk.Of(a))
			if !ok {
				return formula.Outcome{}, errors.New("larson ratio: a water without alkalinity has none")
			}
			return formula.Give(formula.Ratio.Gives("larson_ratio", "R", "Larson ratio", v)), nil
		},
	}
}

func massRatioFormula() formula.Formula {
	x, alk := ions(), alkalinityIn()
	concern := formula.Choice("concern", []LeadConcern{LowConcern, ModerateConcern, HighConcern}, LeadConcern.String)
	const belitz = "Belitz, Jurgens & Johnson 2016, USGS SIR 2016-5092"
	return formula.Formula{
		Name: "chloride_sulfate_ratio", Subject: onScale, What: "chloride over sulfate by weight (CSMR) and what it means for lead from solder and brass",
		Inputs: formula.Inputs(x.chloride, x.sulfate, alk), Equation: "CSMR = Cl / SO4, mg/L",
		Source: belitz, Kind: source.Published, Care: "lead at the tap is told by a first-draw sample, not by a ratio",
		Examples: formula.By(
			formula.On("chloride=28 mg/L", "sulfate=8.3 mg/L", "alkalinity=254 mg/L as HCO3").Is("ratio", "3.37", "0.01", hemWell),
			formula.On("chloride=34 mg/L", "sulfate=28 mg/L", "alkalinity=40 mg/L as CaCO3").Is("concern", "high", "", "limits published: "+belitz),
			formula.On("chloride=20 mg/L", "sulfate=200 mg/L", "alkalinity=100 mg/L as CaCO3").Is("concern", "low", "", "limits published: "+belitz)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			v, ok := MassRatio(Totals{Chloride: x.chloride.Of(a), Sulfate: x.sulfate.Of(a)})
			if !ok {
				return formula.Outcome{}, errors.New("chloride sulfate ratio: a water without sulfate has none")
			}
			return formula.Give(formula.Ratio.Gives("ratio", "CSMR", "chloride over sulfate", v),
				concern.Gives("concern", "", "concern for lead from solder and brass", LeadConcernOf(v, alk.Of(a)))), nil
		},
	}
}
