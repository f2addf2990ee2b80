package stage

import "wellwright/media"

// catalyticCarbonFilter is a bed of catalytic carbon: it turns sulfide to sulfur
// with peroxide or oxygen, takes some iron with it, and destroys what oxidant is
// left.
type catalyticCarbonFilter struct{}

func (catalyticCarbonFilter) ID() media.Process { return media.CatalyticCarbonFilter }

func (catalyticCarbonFilter) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(media.CatalyticCarbonFilter)
	return j.bedSizes(m, j.carbonRate(m), filterVessels[:])
}

func (catalyticCarbonFilter) Run(j *Job, z Size) Outcome {
	set := j.Site.Factors
	m := fillingOf(media.CatalyticCarbonFilter)
	b := layBed(j, z, m)
	if j.Fault != CarbonSpent {
		b.sulfide = set.Of(catalyticSulfide)
	}
	o, _, err := b.serve(filterSpec{process: media.CatalyticCarbonFilter, valve: media.TimerValve})
	if err != nil {
		return spoiled(j, o, err)
	}
	o.Limits = b.withContact(o.Limits)
	k := uptake{free: set.Of(carbonFree), combined: set.Of(catalyticCombined), peroxide: set.Of(carbonPeroxide)}
	o.Out = b.adsorb(o.Out, j.Typical(), k)
	if j.Lean {
		return o
	}
	o.AtPeak = b.adsorb(o.AtPeak, j.Peak, k)
	b.workContact()
	o.Cautions = append(o.Cautions, carbonCautions...)
	o.WillNot = []string{
		"It does not take manganese reliably.",
		"It does not make unsafe water safe, and does not take hardness or nitrate.",
	}
	return o
}

func (catalyticCarbonFilter) Ways() []Way {
	return append(commonWays(), Way{CarbonSpent, "the carbon is spent or coated", "smell at the outlet with peroxide at the inlet", "wash well, then change the carbon"})
}
