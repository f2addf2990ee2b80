package stage

import (
	"wellwright/cost"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// peroxideFeed feeds hydrogen peroxide ahead of catalytic carbon, which is where
// most of it works.
type peroxideFeed struct{}

func (peroxideFeed) ID() media.Process { return media.PeroxideFeed }

// tradePeroxide is the 7 % solution as bought, g/L: 7 % by weight at 1.023 kg/L
// (from memory).
const tradePeroxide = 71.6

var peroxideKind = feedKind{
	process: media.PeroxideFeed, strengths: []float64{5, 10, 20, 35, tradePeroxide},
	keep: peroxideKeep, weekly: true,
	formula: peroxideFormula, stock: feedStock{part: media.PeroxideGal, gL: tradePeroxide},
}

func (peroxideFeed) Sizes(j *Job) []Size { return feedSizes(j, peroxideKind, peroxideDose(j)) }

// peroxideDose is what is fed, mg/L as H2O2.
//
//	dose = 1.5 (1.0 H2S + 0.305 Fe)
//
// Source: derived from atomic weights; the excess is common practice, and half
// as much again for sulfide is in print second hand.
func peroxideDose(j *Job) dosing {
	low, mid, high := j.Site.Factors.Range(peroxideExcess)
	sum := peroxideFor(j.In.Ferrous.MgPerL(), j.In.Sulfide.MgPerLAsH2S())
	return dosing{demand: sum, dose: sum * mid, low: sum * low, high: sum * high}
}

func (peroxideFeed) Run(j *Job, z Size) Outcome {
	d := peroxideDose(j).held(z)
	f := layFeed(j, z, peroxideKind, d)
	o := Outcome{
		Settings: f.settings(), Needs: f.needs(),
		Limits: append(f.limits(j),
			behind(j, "catalytic_carbon_behind", "without catalytic carbon peroxide takes sulfide too slowly and is left in the water", media.CatalyticCarbonFilter),
			notWith(j, media.ChlorineFeed, "peroxide_with_chlorine", "peroxide and chlorine destroy each other; feed one"),
			notWith(j, media.PermanganateFeed, "peroxide_with_permanganate", "peroxide and permanganate react violently; keep them off one site"),
		),
	}
	w := j.In
	w.Peroxide = unit.MgPerL(w.Peroxide.MgPerL() + d.dose*j.fedShare())
	o.Out = j.inPipe(w)
	if j.Lean {
		return o
	}
	o.AtPeak = o.Out
	o.Bill = feedBill(f, "peroxide for sulfide and iron")
	o.Bill.Yearly = append(o.Bill.Yearly, cost.Use{Part: media.Visit, PerYear: 0.5, Why: "degas the head and check the residual"})
	o.Cautions = []string{
		"Above 8 % peroxide is a strong oxidiser and from 35 % it burns skin: goggles, gloves, vented cap; nothing of brass or galvanised iron in the feed line.",
		"The head of the pump gas-locks: fit one that degasses itself.",
		"Never let it meet bleach or permanganate.",
	}
	o.WillNot = []string{"It is no disinfectant at this dose.", "Manganese is not taken reliably below pH 8.5."}
	f.working(j)
	return o
}

func (peroxideFeed) Ways() []Way {
	return feedWays("peroxide", "no peroxide at the inlet of the carbon; the smell is back")
}

var (
	peroxideExcess = source.Factor{
		Name: "peroxide_excess", What: "peroxide fed over the sum of demands",
		Value: 1.5, Low: 1, High: 2, Kind: source.CommonPractice, From: "trade rule; a bulletin's 2 ppm of 50 % for each ppm of sulfide lies within it (second hand)",
	}
	peroxideKeep = source.Factor{
		Name: "peroxide_solution_days", What: "longest a thinned peroxide solution is kept", Unit: "days",
		Value: 30, Low: 14, High: 60, Kind: source.CommonPractice, From: "it decays with metals and heat",
	}
	peroxideFactors = []source.Factor{peroxideExcess, peroxideKeep}
)
