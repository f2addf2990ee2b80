package stage

import "wellwright/media"

// lightweightFilter is a bed of lightweight manganese-coated aluminosilicate. It
// hastens what oxygen does and is not used up.
type lightweightFilter struct{}

func (lightweightFilter) ID() media.Process { return media.LightweightFilter }

func (lightweightFilter) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(media.LightweightFilter)
	return j.bedSizes(m, j.Site.Factors.Of(m.ServiceRefuse), filterVessels[:])
}

func (lightweightFilter) Run(j *Job, z Size) Outcome {
	m := fillingOf(media.LightweightFilter)
	o, _, err := layBed(j, z, m).serve(filterSpec{process: media.LightweightFilter, valve: media.TimerValve})
	if err != nil {
		return spoiled(j, o, err)
	}
	if j.Lean {
		return o
	}
	o.Cautions = append(o.Cautions, "Shock chlorination of the well strips this medium: bypass it and flush before it is opened again.")
	o.WillNot = []string{
		"It does not work without oxygen, nor on water with sulfide.",
		"It does not take manganese below about pH 8.",
		"It does not take hardness, nitrate, sodium or bacteria, nor iron bound to organic matter.",
	}
	return o
}

func (lightweightFilter) Ways() []Way { return append(commonWays(), spentWay) }
