package stage

import (
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// polyphosphateFeed keeps iron and manganese from showing. It removes nothing.
type polyphosphateFeed struct{}

func (polyphosphateFeed) ID() media.Process { return media.PolyphosphateFeed }

var polyphosphateKind = feedKind{
	process: media.PolyphosphateFeed, strengths: []float64{5, 10, 20, 40},
	keep:    polyphosphateKeep,
	formula: polyphosphateFormula, stock: feedStock{part: media.PolyphosphateLb},
}

func (polyphosphateFeed) Sizes(j *Job) []Size {
	return feedSizes(j, polyphosphateKind, polyphosphateDose(j))
}

// polyphosphateDose follows the iron and manganese, mg/L as PO4, up to the most
// that agencies allow.
func polyphosphateDose(j *Job) dosing {
	set := j.Site.Factors
	metals := j.In.TotalIron().MgPerL() + j.In.TotalManganese().MgPerL()
	low, mid, high := set.Range(polyphosphateRatio)
	top := set.Of(polyphosphateMost)
	cut := func(r float64) float64 { return polyphosphateFor(r, metals, top) }
	return dosing{demand: cut(mid), dose: cut(mid), low: cut(low), high: cut(high)}
}

func (polyphosphateFeed) Run(j *Job, z Size) Outcome {
	d := polyphosphateDose(j)
	f := layFeed(j, z, polyphosphateKind, d)
	o := Outcome{
		Settings: f.settings(), Limits: append(f.limits(j), polyphosphateOrder(j)...),
		Needs: f.needs(), Out: j.In,
	}
	o.Out.Polyphosphate = unit.MgPerL(j.In.Polyphosphate.MgPerL() + d.dose*j.fedShare())
	if j.Lean {
		return o
	}
	o.AtPeak = o.Out
	o.Bill = feedBill(f, "polyphosphate to keep iron from showing")
	o.Cautions = []string{
		"Old deposits loosen for weeks: flush heater and pipes after the start.",
		"It feeds slime and adds phosphorus to the septic system; keep the stock solution chlorinated.",
		"Where lead or copper is in question ask the health department first.",
	}
	o.WillNot = []string{
		"The iron is still there: any test will find it; nothing is removed.",
		"Hot water lets the iron go in hours: the heater, dishwasher and kettle still stain.",
		"hardness stays",
	}
	f.working(j)
	return o
}

// polyphosphateOrder refuses it before anything that must find the iron, and
// behind anything that has begun to turn it.
func polyphosphateOrder(j *Job) []Limit {
	count := func(list []media.Process, ps ...media.Process) float64 {
		n := 0.0
		for _, p := range ps {
			if contains(list, []media.Process{p}) {
				n++
			}
		}
		return n
	}
	const from = "Wisconsin Administrative Code NR 811.56: before oxidation or aeration, never ahead of iron removal"
	return []Limit{
		{
			ID: "polyphosphate_before_removal", Have: count(j.After, hindered...), AtMost: true, Unit: "stages",
			Say: "what is bound by phosphate slips through oxidation, filters, softeners and membranes", Kind: source.Published, From: from,
		},
		{
			ID: "polyphosphate_behind_oxidation", Have: count(j.Before, oxidisers...), AtMost: true, Unit: "stages",
			Say: "iron that air or an oxidant has met can no longer be hidden", Kind: source.Published, From: from,
		},
	}
}

// hindered are the stages that polyphosphate spoils.
var hindered = []media.Process{
	media.SedimentFilter, media.VentedAeration, media.PressureAeration, media.AirInjectionFilter, media.GreensandFilter,
	media.CoatedSandFilter, media.LightweightFilter, media.ManganeseOreFilter, media.CopperZincFilter,
	media.PermanganateFeed, media.PeroxideFeed, media.OzoneFeed, media.CoagulantFeed, media.Softener, media.CalciteBed, media.MagnesiaBlendBed,
	media.CatalyticCarbonFilter, media.ArsenicAdsorber, media.ReverseOsmosis, media.TanninExchanger, media.NitrateExchanger,
}

// oxidisers are the stages that begin to turn iron.
var oxidisers = []media.Process{
	media.VentedAeration, media.PressureAeration, media.AirInjectionFilter, media.StorageBooster,
	media.ChlorineFeed, media.PermanganateFeed, media.PeroxideFeed, media.OzoneFeed,
}

func (polyphosphateFeed) Ways() []Way {
	return []Way{
		{FeedEmpty, "the solution tank is empty", "orange again at every cold tap", "fill it and prime the pump"},
		{FeedAirLocked, "the feed pump has lost its prime", "orange again at every cold tap; solution level stands still", "bleed the head; check foot valve and tube"},
		{FeedPlugged, "the injection fitting is scaled up", "orange after an hour's standing; the pump runs hard", "clean the fitting"},
	}
}

var (
	polyphosphateRatio = source.Factor{
		Name: "polyphosphate_ratio", What: "polyphosphate for each mg of iron and manganese", Unit: "mg/mg as PO4",
		Value: 3, Low: 2, High: 4, Kind: source.FromMemory, From: "2 to 4 mg/L of product for each mg/L of iron",
	}
	polyphosphateMost = source.Factor{
		Name: "polyphosphate_most", What: "most total phosphate", Unit: "mg/L as PO4",
		Value: 10, Kind: source.Published, From: "Wisconsin Administrative Code NR 811.56",
	}
	polyphosphateKeep = source.Factor{
		Name: "polyphosphate_solution_days", What: "longest a polyphosphate solution is kept", Unit: "days",
		Value: 30, Low: 14, High: 60, Kind: source.CommonPractice, From: "it reverts to orthophosphate and grows slime",
	}
	polyphosphateFactors = []source.Factor{polyphosphateRatio, polyphosphateMost, polyphosphateKeep}
)
