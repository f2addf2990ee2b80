package stage

import (
	"wellwright/hydraulic"
	"wellwright/media"
)

// sedimentFilter is a backwashing bed of anthracite, sand and garnet: it holds
// what is already a particle.
type sedimentFilter struct{}

func (sedimentFilter) ID() media.Process { return media.SedimentFilter }

func (sedimentFilter) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(media.SedimentFilter)
	return j.bedSizes(m, j.Site.Factors.Of(m.ServiceRefuse), filterVessels[:])
}

func (sedimentFilter) Run(j *Job, z Size) Outcome {
	m := fillingOf(media.SedimentFilter)
	b := layBed(j, z, m)
	o, w, err := b.serve(filterSpec{process: media.SedimentFilter, valve: media.TimerValve})
	if err != nil {
		return spoiled(j, o, err)
	}
	o.Limits = append(o.Limits, b.handbookHold(w.days))
	if j.Lean {
		return o
	}
	o.WillNot = []string{
		"It does nothing to ferrous iron or dissolved manganese: they pass it and stain.",
		"It does not hold colloidal or organically bound iron.",
	}
	return o
}

// handbookHold sets the dry solids of a run against what a handbook lets a mixed
// bed take.
func (b *bed) handbookHold(days float64) Limit {
	f := b.j.Site.Factors.In(hydraulic.DualCapacity)
	mud := hydraulic.DailySolids(mgOf(Solids(b.j.In)), 1, b.j.Daily).Lb()
	return Limit{ID: "solids_held", Have: mud * max(1, days) / b.area, Need: f.Value, Unit: "lb/ft2", AtMost: true, Soft: true,
		Say: "more mud in a run than a mixed bed takes", Kind: f.Kind, From: f.From}
}

func (sedimentFilter) Ways() []Way { return commonWays() }
