package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
)

func airFormulas() []formula.Formula {
	return []formula.Formula{forcedAirFormula(), airPocketFormula()}
}

func warmthIn() formula.In[unit.Temperature] {
	return formula.Temperature.Takes("temperature", "T", "water temperature").Between("0 C", "40 C")
}

func gaugeIn() formula.In[unit.Pressure] {
	return formula.Pressure.Takes("pressure", "P", "gauge pressure in the tank, mean of cut-in and cut-out").Between("0 psi", "120 psi")
}

// saturated is the oxygen of water under air at a gauge pressure, mg/L.
func saturated(set source.Set, t unit.Temperature, gauge float64) float64 {
	return chem.OxygenSaturation(t, unit.PSI(gauge+set.Of(hydraulic.Atmosphere))).MgPerL()
}

func forcedAirFormula() formula.Formula {
	in := formula.MgL.Takes("oxygen", "O2in", "oxygen in the water ahead of it").Between("0 mg/L", "20 mg/L").Assume("0 mg/L", formula.None)
	t, p := warmthIn(), gaugeIn()
	r := formula.Ratio.Takes("air_ratio", "r", "air for each volume of water, both at the atmosphere").Between("0", "5").Rests(pressureAir, 1, "", "small air pumps and injectors")
	up := formula.Share.Takes("taken_up", "t", "share of the air's oxygen that the water takes up").Between("0 %", "100 %").Rests(pressureUptake, 100, "%", "bubbles under pressure in a tank")
	s := formula.Share.Takes("share", "s", "share of saturation under the pressure that is reached").Between("0 %", "100 %").Rests(pressureShare, 100, "%", "short mixing")
	return formula.Formula{
		Name: "oxygen_from_forced_air", Subject: onStages, What: "oxygen in a water that air was forced into under pressure",
		Inputs: formula.Inputs(t, p, in, r, up, s), Equation: "O2 = min( O2in + t r m, s C*(P) )", Range: "no less than it came with; m = 289 mg of oxygen in a litre of air at 10 °C", Error: "a factor of two: three shares are judgement", Source: "gas law", Kind: source.Derived,
		Factors: []source.Factor{pressureUptake, pressureAir, pressureShare, hydraulic.Atmosphere}, Figures: []string{OxygenHaveMgL},
		Examples: formula.By(formula.On("temperature=10 C", "pressure=50 psi").Is("oxygen", "17.3 mg/L", "0.1 mg/L", "by hand: 0.4 · 0.15 · 0.2095 · 32.00 / 23.23 L/mol"),
			formula.On("temperature=25 C", "pressure=20 psi").Is("oxygen", "9.93 mg/L", "0.1 mg/L", "by hand: half of 8.26 mg/L (Benson & Krause 1984) · (34.7 - 0.46)/(14.7 - 0.46)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			most := s.Of(a) * saturated(a.Factors, t.Of(a), p.Of(a).PSI())
			o := forcedOxygen(in.Of(a).MgPerL(), up.Of(a)*r.Of(a)*oxygenInFreeAir, most)
			return formula.Give(formula.MgL.Gives("oxygen", "O2", "behind the mixer", unit.MgPerL(o))).With(formula.Sym("s C*(P)", most, "mg/L"), formula.Sym("m", oxygenInFreeAir, "mg/L")), nil
		},
	}
}

// forcedOxygen is the oxygen, mg/L, of a water that is offered some of the air's, up
// to what it holds at most; it loses none.
func forcedOxygen(in, offered, most float64) float64 {
	return math.Max(in, math.Min(in+offered, most))
}

func airPocketFormula() formula.Formula {
	t, p := warmthIn(), gaugeIn()
	v := formula.Volume.Takes("volume", "V", "air pocket when fresh").Between("0.5 gal", "200 gal")
	q := dailyIn()
	d := formula.Time.Takes("time", "t", "since the pocket was renewed").Between("0 days", "30 days")
	e := formula.Share.Takes("share", "e", "share of saturation that falling water takes up").Between("1 %", "100 %").Rests(airTransfer, 100, "%", "a pocket lasts one to three days")
	return formula.Formula{
		Name: "air_pocket", Subject: onStages, What: "oxygen that water takes from an air pocket some days after it was renewed",
		Inputs: formula.Inputs(t, p, v, q, d, e), Equation: "C = C0 exp(-C0 Q t / m0),  C0 = e Cs(P),  m0 = 32 x P V / (R T)", Range: "a day to a week; the pocket well mixed", Error: "a factor of two, by e", Source: "mass balance of the air pocket; gas law; saturation after Benson & Krause 1984", Kind: source.Derived,
		Factors: []source.Factor{airTransfer, hydraulic.Atmosphere}, Figures: []string{OxygenHaveMgL},
		Examples: formula.By(formula.On("temperature=10 C", "pressure=50 psi", "volume=10 gal", "daily_use=300 gal/day", "time=0 days").Is("oxygen", "15 mg/L", "0.2 mg/L", "by hand: 0.3 · 11.29 mg/L · (64.7 - 0.18)/(14.7 - 0.18)"),
			formula.On("temperature=10 C", "pressure=50 psi", "volume=10 gal", "daily_use=300 gal/day", "time=1 day").Is("oxygen", "10.55 mg/L", "0.15 mg/L", "by hand: 48.07 g in 37.85 L at 446 kPa, of which 17.09 g a day go: 15.05 · exp(-0.3556)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			k := pocketOf(pocketIn{t.Of(a), unit.PSI(p.Of(a).PSI() + a.Factors.Of(hydraulic.Atmosphere)), v.Of(a), q.Of(a), e.Of(a)})
			return formula.Give(formula.MgL.Gives("oxygen", "C", "that the water then gets", unit.MgPerL(k.at(daysOf(d.Of(a)))))).
				With(formula.Sym("C0", k.first, "mg/L"), formula.Sym("m0", k.oxygen, "g")), nil
		},
	}
}
