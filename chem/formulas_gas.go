package chem

import (
	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func gasFormulas() []formula.Formula {
	return []formula.Formula{oxygenFormula(), airPressureFormula(), gasRatioFormula(), sulfideShareFormula(), stripFormula(), transferFormula()}
}

func absoluteIn() formula.In[unit.Pressure] {
	return formula.Pressure.Takes("absolute_pressure", "P", "absolute pressure: gauge reading plus that of the air").Between("5 psi", "150 psi").
		Assume("101.325 kPa", "the air at sea level")
}

func oxygenFormula() formula.Formula {
	t, p := temperatureIn(), absoluteIn()
	const benson = "published equation: Benson & Krause 1984, worked apart"
	return formula.Formula{
		Name: "oxygen_saturation", Subject: onGas, What: "dissolved oxygen in balance with moist air",
		Inputs: formula.Inputs(t, p), Equation: "ln C* = -139.34411 + 1.575701e5/T - 6.642308e7/T² + 1.2438e10/T³ - 8.621949e11/T⁴,  C = C* P (1 - Pwv/P)(1 - θP)/((1 - Pwv)(1 - θ))",
		Range: "0.5 to 1.1 atm as published; under an air pocket on the same gas law", Error: "0.05 mg/L", Source: "Benson & Krause 1984, Limnol. Oceanogr. 29:620", Kind: source.Published,
		Examples: formula.By(
			formula.On("temperature=10 C").Is("oxygen", "11.288 mg/L", "0.002 mg/L", benson),
			formula.On("temperature=20 C").Is("oxygen", "9.09 mg/L", "0.05 mg/L", "published: EN 25814 table"),
			formula.On("temperature=10 C", "absolute_pressure=93.33 kPa").Is("oxygen", "10.4 mg/L", "0.1 mg/L", "published: field instrument manual, 700 mm of mercury")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.MgL.Gives("oxygen", "C", "dissolved oxygen", OxygenSaturation(t.Of(a), p.Of(a)))).
				With(formula.Symbol{Name: "T", Value: t.Of(a).Kelvin(), Unit: "K"}, formula.Symbol{Name: "P", Value: p.Of(a).KPa() / atmKPa, Unit: "atm"}), nil
		},
	}
}

func airPressureFormula() formula.Formula {
	h := formula.Length.Takes("altitude", "h", "height above the sea").Between("0 m", "5000 m")
	return formula.Formula{
		Name: "air_pressure", Subject: onGas, What: "usual absolute pressure of the air at an altitude",
		Inputs: formula.Inputs(h), Equation: "P = 101.325 (1 - 2.25577e-5 h)^5.25588, kPa, h in m", Error: "weather moves it by 3 %", Source: "ICAO standard atmosphere (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("altitude=2000 ft").Is("pressure", "13.66 psi", "0.01 psi", "U.S. Standard Atmosphere, 1976 (from memory)"),
			formula.On("altitude=5000 ft").Is("pressure", "12.23 psi", "0.01 psi", "U.S. Standard Atmosphere, 1976 (from memory)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Pressure.Gives("pressure", "P", "absolute", AirPressureAt(h.Of(a)))), nil
		},
	}
}

func gasRatioFormula() formula.Formula {
	names := map[Gas]string{GasCO2: "carbon dioxide", GasH2S: "hydrogen sulfide", GasOxygen: "oxygen", GasNH3: "ammonia"}
	g := formula.Choice("gas", []Gas{GasCO2, GasH2S, GasOxygen, GasNH3}, func(g Gas) string { return names[g] }).Takes("gas", "", "the gas")
	t := temperatureIn()
	const apart = "worked apart from the published constants"
	return formula.Formula{
		Name: "gas_ratio", Subject: onGas, What: "amount of a gas in air over that in as much water, at balance",
		Inputs: formula.Inputs(g, t), Equation: "H = 1/(K R T)", Source: "constants of their factors", Kind: source.Published,
		Examples: formula.By(formula.On("gas=hydrogen sulfide", "temperature=10 C").Is("ratio", "0.277", "0.003", apart),
			formula.On("gas=carbon dioxide", "temperature=25 C").Is("ratio", "1.201", "0.006", apart)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Ratio.Gives("ratio", "H", "in air over in water", New(a.Factors).GasRatio(g.Of(a), t.Of(a)))), nil
		},
	}
}

func sulfideShareFormula() formula.Formula {
	t, ph := temperatureIn(), phIn()
	return formula.Formula{
		Name: "sulfide_as_gas", Subject: onGas, What: "part of dissolved sulfide that can leave with air",
		Inputs: formula.Inputs(t, ph), Equation: "share = 1/(1 + K1/{H+})", Error: "0.02, and more from the pH reading", Source: "constant of its factor", Kind: source.Published,
		Examples: formula.By(formula.On("temperature=10 C", "ph=7").Is("share", "59.5 %", "0.1 %", "worked apart from the published pK1"),
			formula.On("temperature=25 C", "ph=7").Is("share", "46.6 %", "0.1 %", "worked apart from the published pK1")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Share.Gives("share", "", "as hydrogen sulfide", New(a.Factors).SulfideGasShare(t.Of(a), ph.Of(a)))), nil
		},
	}
}

func stripFormula() formula.Formula {
	x, t, ph, alk, tds := ions(), temperatureIn(), phIn().Between("5", "9.5"), alkalinityIn(), someTDS()
	p := absoluteIn()
	r := formula.Ratio.Takes("air_ratio", "r", "volumes of air for each of water, at its pressure").Between("0", "1000000")
	e := formula.Share.Takes("approach", "", "how far the contact goes toward balance").Between("0", "1").Assume("1", "balance: the most that can be had")
	o2 := oxygenIn().Assume("0 mg/L", "none in the raw water")
	return formula.Formula{
		Name: "stripping", Subject: onGas, What: "what one passage of air takes out and brings in",
		Inputs: formula.Inputs(t, ph, alk, r, e, x.sulfide, o2, p, tds), Equation: "C(in) + r p(air)/(R T) = C(out) + r p(out)/(R T),  p(out) = C*(out)/K",
		Range: "fresh outdoor air", Error: "the approach", Source: "mass balance and Henry's law", Kind: source.Derived, Care: "hydrogen sulfide taken out must be led outdoors: it kills in closed rooms",
		Examples: formula.By(
			formula.On("temperature=10 C", "ph=6.5", "alkalinity=100 mg/L as CaCO3", "air_ratio=1000000", "tds=160 mg/L").Is("oxygen", "11.288 mg/L", "0.034 mg/L", "Benson & Krause 1984: balance with air"),
			formula.On("temperature=10 C", "ph=5", "alkalinity=5 mg/L as CaCO3", "sulfide=1 mg/L as H2S", "air_ratio=1", "tds=160 mg/L").
				Is("sulfide_left", "0.783 mg/L as H2S", "0.01 mg/L as H2S", "worked apart: 1/(1 + H), H 0.277 at 10 °C")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			m := New(a.Factors)
			c := Conditions{Temperature: t.Of(a), Ionic: IonicFromTDS(tds.Of(a))}
			k := m.Carbonate(c.Temperature, c.Ionic)
			in := Mix{Alkalinity: alk.Of(a), Carbon: k.Carbon(ph.Of(a), alk.Of(a)), Sulfide: x.sulfide.Of(a), Oxygen: o2.Of(a)}
			out, err := m.Strip(in, c, Air{Ratio: r.Of(a), Absolute: p.Of(a), Approach: e.Of(a)})
			if err != nil {
				return formula.Outcome{}, err
			}
			return formula.Give(formula.PH.Gives("ph", "pH", "pH then", m.PHOf(out, c)), formula.MgL.Gives("carbon_dioxide", "CO2", "left", k.CO2(m.PHOf(out, c), out.Alkalinity)),
				formula.Sulfide.Gives("sulfide_left", "H2S", "left", out.Sulfide), formula.MgL.Gives("oxygen", "O2", "brought in", out.Oxygen)), nil
		},
	}
}

func transferFormula() formula.Formula {
	k := perHourIn.Takes("transfer_at_20", "k20", "gas transfer kLa of an aerator at 20 °C").Between("0 1/h", "1000 1/h")
	t := temperatureIn().Between("5 C", "35 C")
	return formula.Formula{
		Name: "gas_transfer", Subject: onGas, What: "how fast an aerator moves oxygen in warmer or colder water",
		Inputs: formula.Inputs(k, t), Equation: "k(T) = k(20) · 1.024^(T - 20)", Error: "1.008 to 1.047 have been found", Source: "ASCE/EWRI 2-06, Measurement of Oxygen Transfer in Clean Water (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("transfer_at_20=8 1/h", "temperature=10 C").Is("transfer", "6.311 1/h", "0.007 1/h", "by hand: 8 · 1.024^-10 = 8 · 0.7889")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(perHourIn.Gives("transfer", "kLa", "at the temperature", TransferAt(PerHour(k.Of(a)), t.Of(a)).PerHour())), nil
		},
	}
}
