package stage

import (
	"wellwright/cost"
	"wellwright/media"
	"wellwright/source"
)

// ventedAeration sprays or bubbles the water in an open tank, lets carbon
// dioxide and sulfide go, gives the iron hours to turn, and pumps it up again.
type ventedAeration struct{}

func (ventedAeration) ID() media.Process { return media.VentedAeration }

func (ventedAeration) Sizes(j *Job) []Size { return storeSizes(j) }

func (ventedAeration) Run(j *Job, z Size) Outcome {
	s := newStore(j, z)
	transfer := j.Site.Factors.Of(ventedTransfer)
	switch j.Fault {
	case BlowerStopped:
		transfer = j.Site.Factors.Of(sprayTransfer) / 2 // the fill still falls through the air
	case SprayBlocked:
		transfer = faultSpray
	}
	o := s.outcome(media.VentedAeration)
	in := j.aired(j.In, transfer)
	o.Out, o.AtPeak = s.stored(in, false), s.stored(in, true)
	o.Out.Uncovered, o.AtPeak.Uncovered = true, true
	o.Settings[OxygenHaveMgL] = in.Oxygen.MgPerL()
	o.Limits = append(append(o.Limits, alkalinityLeft(j)...), ferrousLeft(j, o.AtPeak))
	o.Needs.Vent = true
	if j.Lean {
		return o
	}
	o.Settings[OxygenNeedMgL] = oxygenNeed(j.In)
	ventedBill(&o.Bill)
	o.Cautions = append(storeCautions(), airedCautions(j)...)
	o.Cautions = append(o.Cautions, "The water has stood open to air: disinfect behind it, with a chlorine residual or ultraviolet light after the filter.")
	o.WillNot = []string{
		"It takes no iron out to count on: the floc must be filtered behind it.",
		"It lets go only the sulfide that stands as gas; bisulfide stays.",
		"Manganese is not turned by air below pH 9.",
	}
	return o
}

// ventedBill adds blower and vent to the bill of a store.
func ventedBill(b *cost.Bill) {
	b.First = append(b.First,
		cost.Line{Part: media.AirPump, Amount: 1, Why: "blower of the diffuser"},
		cost.Line{Part: media.VentKit, Amount: 1, Why: "leads gas outdoors"})
	b.Yearly = append(b.Yearly, cost.Use{Part: media.ElectricityKWh, PerYear: 150, Why: "blower"})
	b.Renewals = append(b.Renewals, cost.Renewal{Part: media.AirPump, Amount: 1, EveryYears: cost.Years{Low: 3, Mid: 5, High: 8}, Why: "blower worn out"})
}

func (ventedAeration) Ways() []Way {
	return append(storeWays(),
		Way{BlowerStopped, "the blower has stopped", "smell of sulfide back, less oxygen, pH not risen", "look at its plug and filter; rebuild or change it"},
		Way{SprayBlocked, "spray or diffuser is blocked", "little oxygen in the tank; iron still ferrous, smell back", "clean nozzles and stones"},
	)
}

var ventedTransfer = source.Factor{
	Name: "vented_aeration_transfer", What: "share of the way to saturation that oxygen comes in a vented aerator",
	Value: 0.9, Low: 0.8, High: 0.95, Kind: source.CommonPractice, From: "spray and diffuser: 80 to 95 % of saturation",
}
