package stage

import (
	"wellwright/media"
	"wellwright/source"
	"wellwright/water"
)

// coatedSandFilter is a bed of manganese-dioxide-coated sand, kept charged by an
// oxidant fed ahead or worked on oxygen.
type coatedSandFilter struct{}

func (coatedSandFilter) ID() media.Process { return media.CoatedSandFilter }

func (c coatedSandFilter) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(media.CoatedSandFilter)
	return j.bedSizes(m, j.Site.Factors.Of(coatedSandRefuse(j, &m)), filterVessels[:])
}

func (c coatedSandFilter) Run(j *Job, z Size) Outcome {
	m := fillingOf(media.CoatedSandFilter)
	b := layBed(j, z, m)
	o, _, err := b.serve(filterSpec{process: media.CoatedSandFilter, refuse: coatedSandRefuse(j, m.Medium), valve: media.TimerValve})
	if err != nil {
		return spoiled(j, o, err)
	}
	o.Limits = afterEnvelope(o.Limits, oxidantLimits(j)...)
	if j.Lean {
		return o
	}
	o.Cautions = append(o.Cautions, residualCaution(j)...)
	o.WillNot = []string{
		"It does not take hardness, nitrate, sodium or bacteria.",
		"It does not take iron bound to organic matter, which passes it.",
	}
	return o
}

func (coatedSandFilter) Ways() []Way { return append(commonWays(), spentWay) }

// coatedSandRefuse is the peak rate refused: with a free residual iron has turned
// before the bed and manganese turns at once on it; without, both need their time
// in it. The high rate is for the short peaks of a house: a wash-down of half an hour
// is steady use.
func coatedSandRefuse(j *Job, m *media.Medium) source.Factor {
	if residual(j.In) && !j.longPeak() {
		return m.ServiceRefuse
	}
	return coatedSandNoResidual
}

// residual reports whether an oxidant stronger than oxygen is left at the inlet
// in an amount that keeps an oxide coat charged.
func residual(w water.State) bool {
	return w.FreeChlorine.MgPerLAsCl2() >= leastResidual || w.Permanganate.MgPerL() >= leastPink
}

// Least residuals that keep a coat charged. Kind: common practice: 0.5 to 1 mg/L
// of free chlorine aimed at, 0.2 the least that is read with trust; a faint pink
// of permanganate is 0.05 mg/L.
const (
	leastResidual = 0.2
	leastPink     = 0.05
)

// oxidantLimits asks what turns the iron that reaches a catalytic bed still
// ferrous, and the manganese.
func oxidantLimits(j *Job) []Limit {
	w := &j.In
	ls := make([]Limit, 0, 2)
	need := w.Ferrous.MgPerL() * oxygenFor(ironTarget)
	have := w.Oxygen.MgPerL() + w.FreeChlorine.MgPerLAsCl2()*oxygenPerChlorine() + w.Permanganate.MgPerL()*oxygenPerPermanganate()
	if w.Ferrous.MgPerL() > j.Site.Factors.Of(ferrousAtManganese) {
		ls = append(ls, Limit{ID: "oxidant", Have: have, Need: need, Unit: "mg/L as O2", Kind: source.Derived, From: "electron balance of ferrous iron to ferric hydroxide",
			Say: "nothing in the water to turn the iron: the bed lives on its own coat and is stripped"})
	}
	if totalManganese(w) > j.Site.Factors.Of(media.ManganeseTrace) {
		ls = append(ls, Limit{
			ID: "residual_for_manganese", Have: w.FreeChlorine.MgPerLAsCl2() + w.Permanganate.MgPerL(), Need: leastResidual,
			Unit: "mg/L", Soft: true, Kind: source.CommonPractice, From: "a free residual through the bed keeps the oxide coat charged",
			Say: "manganese is not to be promised without a free residual or permanganate through the bed",
		})
	}
	return ls
}

// residualCaution says what a fed bed asks of its keeper.
func residualCaution(j *Job) []string {
	if !residual(j.In) {
		return nil
	}
	return []string{"Keep a free residual through the bed at all times: if the feed stops, manganese bleeds off the grains within days."}
}

var coatedSandNoResidual = source.Factor{
	Name: "coated_sand_filter_service_refuse_without_residual", What: "coated sand: peak service rate refused where no free residual reaches the bed",
	Unit: "gpm/ft2", Value: 9, Low: 5, High: 9, Kind: source.CommonPractice,
	From: "common practice 5 to 9 gpm/ft2; peaks of 12 only with a free residual",
}
