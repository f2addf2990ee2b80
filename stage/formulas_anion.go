package stage

import (
	"wellwright/chem"
	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func anionFormulas() []formula.Formula {
	return []formula.Formula{exchangeRunFormula(), tanninRunFormula()}
}

func resinIn() formula.In[unit.Volume] {
	return formula.Media.Takes("resin", "V", "volume of resin").Between("0.1 ft3", "100 ft3")
}

func exchangeRunFormula() formula.Formula {
	n := formula.Nitrogen.Takes("nitrate", "NO3", "nitrate").Between("0.1 mg/L as N", "200 mg/L as N")
	s := formula.MgL.Takes("sulfate", "SO4", "sulfate").Between("0 mg/L", "2000 mg/L")
	v, d := resinIn(), dailyIn()
	cl := formula.MgL.Takes("chloride", "Cl", "chloride").Between("0 mg/L", "1000 mg/L").Assume("0 mg/L", formula.LeftOut)
	alk := formula.Alkalinity.Takes("alkalinity", "Alk", "alkalinity, all as bicarbonate").Between("0 mg/L as CaCO3", "1000 mg/L as CaCO3").Assume("0 mg/L as CaCO3", formula.LeftOut)
	q := formula.Measured("capacity of resin", formula.Measure{Unit: "eq/L", Size: 1}, formula.Measure{Unit: "eq/L", Size: 1}).
		Takes("resin_capacity", "Q", "capacity that regeneration wins back").Between("0.05 eq/L", "1.5 eq/L").Rests(nitratePlainCapacity, 1, "eq/L", "plain resin at 10 lb/ft3 of salt; nitrate-selective resin 0.45")
	return formula.Formula{
		Name: "nitrate_days", Subject: onStages, What: "what a nitrate exchanger's meter is set to, and the days it lasts",
		Inputs: formula.Inputs(n, s, v, d, cl, alk, q), Equation: "W = 0.8 V · bed volumes until nitrate leaves,  t = W / D", Range: "plain resin; see nitrate_run for what leaves past the run", Error: "a fifth, and more on fouled resin",
		Source: "equilibrium of anions on resin, Helfferich & Klein 1970 (from memory); share kept in hand by common practice", Kind: source.FromMemory,
		Factors: []source.Factor{nitratePlainCapacity, nitrateUse}, Figures: []string{DaysBetweenMetered},
		Care: "nitrate and an infant: other water until the outlet has been tested; past its run the bed gives back more than comes in",
		Examples: formula.By(formula.On("nitrate=18 mg/L as N", "sulfate=40 mg/L", "resin=1.5 ft3", "daily_use=280 gal/day").
			Is("run", "2331 gal", "5 gal", "by hand: 0.8 · 1.5 · 0.55 · 28.32 eq over 2.118 meq/L").Is("days", "8.3 days", "0.05 days", "by hand: 2331 / 280")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			in := chem.Anions{Sulfate: s.Of(a), Nitrate: n.Of(a), Chloride: cl.Of(a), Bicarbonate: alk.Of(a)}
			gal := nitrateRunGal(a.Factors, chem.PlainResin, q.Of(a), in, v.Of(a).Gal())
			return formula.Give(formula.Volume.Gives("run", "W", "on the meter", unit.Gal(gal)), formula.Time.Gives("days", "t", "between regenerations", spanOf(gal/d.Of(a).GalPerDay()))), nil
		},
	}
}

func tanninRunFormula() formula.Formula {
	toc := formula.MgL.Takes("toc", "TOC", "organic carbon; tannin by a kit is about twice this").Between("0.1 mg/L", "30 mg/L")
	v, d := resinIn(), dailyIn()
	c := chargeIn.Takes("tannin_capacity", "C", "tannin that a cubic foot loads").Between("200 mg/L-gal/ft3", "20000 mg/L-gal/ft3").Rests(tanninCapacity, 1, "mg/L-gal/ft3", "from the trade's sizing rule")
	return formula.Formula{
		Name: "tannin_days", Subject: onStages, What: "days that resin for tannin lasts by its load; regenerate every 2 to 3 all the same",
		Inputs: formula.Inputs(toc, v, d, c), Equation: "t = C V / (1.86 TOC Q)", Range: "softened water without iron; a jar test comes first", Error: "a factor of two",
		Source: "trade's sizing rule turned into a load", Kind: source.CommonPractice, Factors: []source.Factor{tanninCapacity, tanninPerCarbon}, Figures: []string{DaysBetweenMetered},
		Examples: formula.By(formula.On("toc=1.344 mg/L", "resin=1 ft3", "daily_use=300 gal/day").Is("days", "3 days", "0.01 days", "by hand: 2.5 mg/L of tannin, 2250 / (2.5 · 300)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			gal := tanninRunGal(c.Of(a), v.Of(a).Ft3(), tanninOf(a.Factors, toc.Of(a).MgPerL()))
			return formula.Give(formula.Time.Gives("days", "t", "by the load", spanOf(gal/d.Of(a).GalPerDay()))), nil
		},
	}
}
