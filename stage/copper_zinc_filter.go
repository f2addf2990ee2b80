package stage

import (
	"math"

	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// copperZincFilter is a shallow bed of copper-zinc redox granules: for chlorine
// and a little sulfide, over-sold for iron.
type copperZincFilter struct{}

func (copperZincFilter) ID() media.Process { return media.CopperZincFilter }

func (copperZincFilter) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(media.CopperZincFilter)
	zs := j.bedSizes(m, j.Site.Factors.Of(m.ServiceRefuse), filterVessels[:])
	for i := range zs {
		zs[i].Media = unit.Ft3(zs[i].Vessel.Area.Ft2() * redoxDepth / inchesPerFoot)
	}
	return zs
}

// redoxDepth is the depth a bed of granules is filled, in: common practice.
const redoxDepth = 12

func (copperZincFilter) Run(j *Job, z Size) Outcome {
	m := fillingOf(media.CopperZincFilter)
	b := layBed(j, z, m)
	o, _, err := b.serve(filterSpec{process: media.CopperZincFilter, valve: media.TimerValve})
	if err != nil {
		return spoiled(j, o, err)
	}
	o.Out = b.redox(o.Out, j.Typical())
	if j.Lean {
		return o
	}
	o.AtPeak = b.redox(o.AtPeak, j.Peak)
	o.Cautions = append(o.Cautions, "Zinc and a little copper come off the granules, more in acid water: test the first water, and keep it from aquaria.")
	o.WillNot = []string{
		"It is no sure iron filter: sold for 3 to 5 mg/L on thin evidence; in practice it cements above about 1 mg/L.",
		"It does not take manganese, hardness or nitrate, and does not make unsafe water safe.",
	}
	return o
}

// redox takes chlorine and sulfide on the metal, first order in the empty bed.
func (b *bed) redox(w water.State, flow unit.Flow) water.State {
	if b.j.Fault == CoatingSpent {
		return w
	}
	pass := math.Exp(-b.j.Site.Factors.Of(redoxRate) * b.emptyBedMinutes(flow) * b.active)
	pass += (1 - pass) * b.bypass
	w.FreeChlorine = unit.MgPerLAsCl2(w.FreeChlorine.MgPerLAsCl2() * pass)
	w.Sulfide = unit.MgPerLAsH2S(w.Sulfide.MgPerLAsH2S() * pass)
	return w
}

func (copperZincFilter) Ways() []Way { return append(commonWays(), spentWay) }

var redoxRate = source.Factor{
	Name: "copper_zinc_uptake", What: "copper-zinc granules: first-order loss of free chlorine and sulfide in the empty bed",
	Unit: "1/min", Value: 5, Low: 2, High: 10, Kind: source.Judgement,
	From: "our judgement, calibrated: 10 in at 15 gpm/ft2 (25 s) takes nine tenths of the chlorine",
}
