package chem

import (
	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const bleachCare = "bleach burns and gives off chlorine gas with acid; never mix it with any other cleaner"

func chlorineFormulas() []formula.Formula {
	return []formula.Formula{chlorineDemandFormula(), acidShareFormula(), strengthFormula(), agedFormula(), bleachFeedFormula()}
}

// strengthIn is the strength of a bleach in trade per cent.
func strengthIn() formula.In[float64] {
	return hundredths.Takes("trade_percent", "s", "available chlorine, grams in 100 mL, as on a feed label").Between("0.1 %", "20 %")
}

func chlorineDemandFormula() formula.Formula {
	x := ions()
	toc := formula.MgL.Takes("toc", "TOC", "total organic carbon").Between("0 mg/L", "100 mg/L").Assume("0 mg/L", formula.LeftOut)
	r := formula.Chlorine.Takes("residual", "R", "free residual wanted").Between("0 mg/L as Cl2", "10 mg/L as Cl2").Assume("0.5 mg/L as Cl2", "usual after contact")
	const apart = "worked apart from balanced reactions: 1.27 + 0.39 + 1.04 + 1.52 + 0.5"
	return formula.Formula{
		Name: "chlorine_demand", Subject: onChlorine, What: "chlorine that a raw water takes up before a free residual stands, by cause",
		Inputs: formula.Inputs(x.iron, x.manganese, x.sulfide, x.ammonia, toc, r), Equation: "demand = 0.635 Fe + 1.29 Mn + 2.08 H2S + 7.6 N + f TOC + R; sulfide to sulfate 8.32, ammonia to 10 at most",
		Error: "organic matter and slime: a bottle test is the only sure figure", Source: "balanced reactions; ammonia in practice: Weiner", Kind: source.Derived, Care: bleachCare,
		Factors: []source.Factor{breakpointRatio, organicsDemand, sulfateShare},
		Examples: formula.By(formula.On("ferrous_iron=2 mg/L", "manganese=0.30 mg/L", "sulfide=0.5 mg/L as H2S", "ammonia=0.2 mg/L as N", "residual=0.5 mg/L as Cl2").
			Is("total", "4.72 mg/L as Cl2", "0.05 mg/L as Cl2", apart).Is("iron", "1.27 mg/L as Cl2", "0.013 mg/L as Cl2", apart).
			Is("ammonia", "1.52 mg/L as Cl2", "0.015 mg/L as Cl2", apart)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			p := New(a.Factors).ChlorineDemand(ChlorineNeeds{IronII: x.iron.Of(a), Manganese: x.manganese.Of(a), Sulfide: x.sulfide.Of(a), Ammonia: x.ammonia.Of(a), TOC: toc.Of(a), Residual: r.Of(a)})
			cl := func(name, what string, v unit.Chlorine) formula.Result {
				return formula.Chlorine.Gives(name, "", what, v)
			}
			t := p.Total()
			return formula.Give(cl("total", "usual, with the residual", t.Usual), cl("total_low", "least", t.Low), cl("total_high", "most", t.High),
				cl("iron", "of it for iron", p.Iron.Usual), cl("manganese", "for manganese", p.Manganese.Usual), cl("sulfide", "for sulfide", p.Sulfide.Usual),
				cl("ammonia", "for ammonia", p.Ammonia.Usual), cl("organics", "for organic matter", p.Organics.Usual)), nil
		},
	}
}

func acidShareFormula() formula.Formula {
	t, ph := temperatureIn().Between("0 C", "35 C"), phIn()
	const morris = "worked apart from Morris 1966"
	return formula.Formula{
		Name: "hypochlorous_acid", Subject: onChlorine, What: "part of free chlorine that is hypochlorous acid, the form that kills",
		Inputs: formula.Inputs(t, ph), Equation: "share = 1/(1 + K/{H+}),  pK = 3000/T - 10.0686 + 0.0253 T", Source: "Morris 1966 (from memory); 7.54 at 25 °C published", Kind: source.FromMemory,
		Examples: formula.By(formula.On("temperature=25 C", "ph=7.8").Is("share", "35.4 %", "0.7 %", "published exercise with pK 7.54, 2 mg/L in 5.64; answer worked apart"),
			formula.On("temperature=10 C", "ph=7.5").Is("share", "60.8 %", "0.1 %", morris)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Share.Gives("share", "", "as HOCl", New(a.Factors).FreeAcidShare(t.Of(a), ph.Of(a)))), nil
		},
	}
}

func strengthFormula() formula.Formula {
	w := hundredths.Takes("weight_percent", "w", "sodium hypochlorite by weight, as on a household bottle").Between("0.1 %", "16 %")
	g := formula.Ratio.Takes("gravity", "SG", "specific gravity").Between("1", "1.3").Assume("1.1", "6 % bottle")
	const post = "published: forum post with formulas"
	return formula.Formula{
		Name: "bleach_strength", Subject: onChlorine, What: "available chlorine of a bottle labelled by weight of sodium hypochlorite",
		Inputs: formula.Inputs(w, g), Equation: "s = 10 w SG · 70.90/74.44, g/L", Source: "definition of available chlorine", Kind: source.Derived,
		Examples: formula.By(formula.On("weight_percent=6 %", "gravity=1.1").Is("available_by_weight", "5.7 %", "0.05 %", post).Is("trade_percent", "6.3 %", "0.05 %", post)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			b := WeightPercentNaOCl(w.Of(a), g.Of(a))
			return formula.Give(hundredths.Gives("trade_percent", "s", "available chlorine, grams in 100 mL", b.TradePercent()),
				formula.MgL.Gives("available", "", "available chlorine", unit.GPerL(b.GPerLAvailable())),
				hundredths.Gives("available_by_weight", "", "available chlorine by weight", b.WeightPercentAvailable(g.Of(a)))), nil
		},
	}
}

func agedFormula() formula.Formula {
	s := strengthIn()
	age := formula.Time.Takes("age", "t", "time since it was made").Between("0 days", "3 years")
	t := formula.Temperature.Takes("store_temperature", "T", "temperature it was kept at").Between("0 C", "50 C")
	const table = "published: pool-operator compilation of 12.5 % product"
	return formula.Formula{
		Name: "bleach_decay", Subject: onChlorine, What: "strength left in a bleach after storage",
		Inputs: formula.Inputs(s, age, t), Equation: "d[OCl]/dt = -k [OCl]²,  k = 2.083e10 T exp(-1.018e5/(R T)) exp(-56.5/R) 10^(0.149 I)",
		Range: "away from light and metals, pH 12 to 13; a thinned solution fails sooner", Error: "15 % up to 60 days", Source: "Adam & Gordon, hypochlorite model for AWWA (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("trade_percent=12.5 %", "age=30 days", "store_temperature=80 F").Is("left", "9.93 %", "0.6 %", table),
			formula.On("trade_percent=12.5 %", "age=7 days", "store_temperature=70 F").Is("left", "12.12 %", "0.73 %", table)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			b, err := TradePercent(s.Of(a)).Aged(age.Of(a), t.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			return formula.Give(hundredths.Gives("left", "s", "trade per cent left", b.TradePercent()), formula.Share.Gives("share_left", "", "of its strength", b.TradePercent()/s.Of(a))), nil
		},
	}
}

func bleachFeedFormula() formula.Formula {
	s := strengthIn()
	d := formula.Chlorine.Takes("dose", "D", "chlorine to feed").Between("0 mg/L as Cl2", "500 mg/L as Cl2")
	q := formula.Flow.Takes("pump_flow", "Q", "flow of the water while the feed runs").Between("0 gpm", "10000 gpm")
	return formula.Formula{
		Name: "bleach_feed", Subject: onChlorine, What: "how much bleach a feed pump must give while the water runs",
		Inputs: formula.Inputs(s, d, q), Equation: "q = D Q / s", Source: "mass balance", Kind: source.Derived, Care: bleachCare,
		Examples: formula.By(formula.On("trade_percent=6.17 %", "dose=4.72 mg/L as Cl2", "pump_flow=5 gpm").Is("feed", "1.45 mL/min", "0.015 mL/min", "worked apart: 6 % by weight, specific gravity 1.08"),
			formula.On("trade_percent=6 %", "dose=100 mg/L as Cl2", "pump_flow=5000 gpm").Is("feed", "11995 gal/day", "30 gal/day", "published: dosing page, 8.33 gal for each 5,000")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Drip.Gives("feed", "q", "of the bleach as it is", TradePercent(s.Of(a)).FeedRate(d.Of(a), q.Of(a)))), nil
		},
	}
}
