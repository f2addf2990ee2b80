package stage

import (
	"wellwright/chem"
	"wellwright/media"
	"wellwright/source"
)

// oreFilter is a bed of solid manganese dioxide ore: oxide throughout, and heavy.
type oreFilter struct{}

func (oreFilter) ID() media.Process { return media.ManganeseOreFilter }

func (oreFilter) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(media.ManganeseOreFilter)
	return j.bedSizes(m, j.Site.Factors.Of(m.ServiceRefuse), filterVessels[:])
}

func (oreFilter) Run(j *Job, z Size) Outcome {
	m := fillingOf(media.ManganeseOreFilter)
	b := layBed(j, z, m)
	b.sulfide = oxideSulfide(j, b.surface)
	o, _, err := b.serve(filterSpec{process: media.ManganeseOreFilter, valve: media.TimerValve})
	if err != nil {
		return spoiled(j, o, err)
	}
	o.Limits = afterEnvelope(o.Limits, oxidantLimits(j)...)
	if j.Lean {
		return o
	}
	o.Cautions = append(o.Cautions, "Soak and wash a new bed until it runs clear: its fines blacken the water.",
		"If it is not lifted at every wash the bed cements within weeks.")
	o.WillNot = []string{"It does not take hardness, nitrate, sodium or bacteria, nor iron bound to organic matter."}
	return o
}

func (oreFilter) Ways() []Way { return append(commonWays(), spentWay) }

// oxideSulfide is how fast a manganese oxide bed takes sulfide, by its surface;
// zero where the coat is spent.
func oxideSulfide(j *Job, s chem.Surface) float64 {
	if s.ManganeseOxide.MgPerL() <= 0 {
		return 0
	}
	return j.Site.Factors.Of(oxideSulfideRate)
}

var oxideSulfideRate = source.Factor{
	Name: "oxide_sulfide_uptake", What: "manganese oxide beds: first-order oxidation of sulfide to sulfur, with oxygen, in the empty bed",
	Unit: "1/min", Value: 0.8, Low: 0.3, High: 2, Kind: source.Judgement,
	From: "our judgement, calibrated: 30 in at 5 gpm/ft2 takes 2 mg/L of sulfide to about 0.1 (common practice: oxide beds with air take up to 3 to 5)",
}
