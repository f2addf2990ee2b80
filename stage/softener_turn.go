package stage

import (
	"fmt"
	"math"
	"slices"

	"wellwright/cost"
	"wellwright/media"
	"wellwright/source"
)

// Where no softener of a house does, larger vessels, two or three side by side, and
// twins that take turns are worth trying.

// softenerTurns are those arrangements, each to be had in every larger vessel.
var softenerTurns = [...]struct {
	count int
	turn  Turn
}{{1, InTurn}, {2, InTurn}, {3, InTurn}, {2, Twin}, {3, Twin}}

// workSizes are the sizes worth trying where a house's softener does not do: of each
// arrangement the smallest that does, and if none does the one that comes nearest.
func (j *Job) workSizes(m *filling, tried []softenerChoice) []Size {
	vessels := vesselsNamed(append(softenerVessels[:], commercialVessels[:]...)...)
	var all []Size
	for _, t := range softenerTurns {
		if t.count > 2 && slices.ContainsFunc(all, func(z Size) bool { return (z.Turn == Twin) == (t.turn == Twin) && z.Count == t.count-1 }) {
			continue // fewer do
		}
		for _, v := range vessels {
			c := j.softenerChoice(m, v, t.count, t.turn)
			tried = append(tried, c)
			if c.short >= 1-1e-9 && c.modest {
				all = append(all, c.size)
				break
			}
		}
	}
	if len(all) == 0 {
		return nearest(tried)
	}
	return all
}

// softenerChoice lays out one arrangement of one vessel.
func (j *Job) softenerChoice(m *filling, v media.Vessel, count int, turn Turn) softenerChoice {
	if turn == InTurn {
		turn = j.turnOf(count)
	}
	z := Size{Vessel: v, Count: count, Turn: turn, Media: v.Fill, Mode: j.resin(), Settings: Settings{SaltLb: math.Round(j.saltDose()*v.Fill.Ft3()*10) / 10}}
	b := layBed(j, z, m)
	return softenerChoice{size: z, short: shortfall(b), modest: b.modest()}
}

// resin is the resin to take: where the residual swings it wants room.
func (j *Job) resin() string {
	if j.In.FreeChlorine.MgPerLAsCl2() > j.Site.Factors.Of(softenerChlorine)/2 {
		return Resin10
	}
	return Resin8
}

// nearest is the arrangement that comes nearest to doing.
func nearest(all []softenerChoice) []Size {
	best := 0
	for i, c := range all {
		if c.short > all[best].short {
			best = i
		}
	}
	return []Size{all[best].size}
}

// whileAway is the steady rate of the vessels left while one is regenerated, over
// what is asked of them; without quiet hours one vessel alone leaves nothing.
func (b *bed) whileAway(rate float64) float64 {
	share := b.j.lull().Share
	if share <= 0 || b.z.Turn == Twin {
		return math.Inf(1)
	}
	return rate * b.z.Media.Ft3() * float64(b.z.left()) / math.Max(share*b.j.Peak.GPM(), leastFlow)
}

// leastDays is the shortest run to size for.
func (z Size) leastDays(set source.Set) float64 {
	if z.Turn == Twin {
		return set.Of(twinDays)
	}
	return set.Of(softenerLeastDays)
}

// limits are those of the interval. A single vessel, or several in turn, must last
// their days with the reserve; of a twin the vessel that is away must be back.
func (x exchange) limits(set source.Set) []Limit {
	f := set.In(softenerReserve)
	if x.turn == Twin {
		brine, easy := set.In(brineHours), set.In(twinDays)
		return []Limit{
			{ID: "regeneration_interval", Have: x.metered, Need: leastRun(set, int(x.serving)), Unit: "days", Say: "a charge is spent before the other vessel is regenerated and its brine made anew", Kind: brine.Kind, From: brine.From},
			{ID: "regeneration_interval", Have: x.metered, Need: easy.Value, Unit: "days", Soft: true, Say: "the twins change more than once a day: take more resin", Kind: easy.Kind, From: easy.From},
		}
	}
	return []Limit{
		{ID: "regeneration_interval", Have: x.metered, Need: 1, Unit: "days", Say: "the resin does not last a day with its reserve", Kind: f.Kind, From: f.From},
		{ID: "regeneration_interval", Have: x.metered, Need: 2, Unit: "days", Soft: true, Say: "it regenerates nearly daily: take more resin", Kind: f.Kind, From: f.From},
	}
}

// turns are the cautions of several softeners.
func (x exchange) turns(z Size) []string {
	switch {
	case z.Turn == Twin:
		return []string{
			"Twins: the whole charge is used and nothing is kept back; the one that stands by holds its charge, soft water at any hour. It is regenerated when the meter says, also by day: tie the valves so that never two regenerate, and none while a filter washes unless pump and well bear both.",
			fmt.Sprintf("What stands by is %s with its valve and %.3g ft3 of resin: it is in the price, under what it is for.", z.Vessel.Name, z.Media.Ft3()),
		}
	case z.Vessels() > 1:
		return []string{fmt.Sprintf("%d softeners side by side: pipe them alike, so that each takes its share; tie the valves so that one regenerates at a time.", z.Vessels())}
	}
	return nil
}

// vesselLines buys the vessels with resin and valves: those that serve, and apart
// from them the one that stands by, so that its price shows.
func (b *bed) vesselLines(resin media.Part) []cost.Line {
	n, ft3 := float64(b.z.Serving()), b.z.Media.Ft3()
	valve := media.MeterValve
	if b.z.largeValve() {
		valve = media.LargeMeterValve
	}
	ls := []cost.Line{
		{Part: b.z.Vessel.Part(), Amount: n, Why: "vessel"}, {Part: resin, Amount: n * ft3, Why: "resin"},
		{Part: valve, Amount: n, Why: "metered regeneration"},
	}
	if more := float64(b.z.Vessels() - b.z.Serving()); more > 0 {
		const why = "stands by while the other serves"
		ls = append(ls, cost.Line{Part: b.z.Vessel.Part(), Amount: more, Why: why},
			cost.Line{Part: resin, Amount: more * ft3, Why: why}, cost.Line{Part: valve, Amount: more, Why: why})
	}
	if b.z.Vessels() > 1 {
		ls = append(ls, cost.Line{Part: media.Interlock, Amount: float64(b.z.Vessels()), Why: "one regenerates at a time"},
			cost.Line{Part: media.LabourHour, Amount: secondHours * float64(b.z.Vessels()-1), Why: "further vessels"})
	}
	return ls
}

// brineTanks is how many tanks hold the brine of one regeneration.
//
//	n = ⌈s / (c V)⌉
//
//	s  salt, lb;  c  3 lb of salt to the gallon of saturated brine
//	V  what a common tank gives, gal
//
// Source: handbooks of home water treatment, 3 lb/gal; the gallons are common
// practice.
func brineTanks(saltLb float64) float64 {
	return math.Max(1, math.Ceil(saltLb/(saltPerGal*brineTankGal)-1e-9))
}

const (
	saltPerGal   = 3.0  // lb in a gallon of saturated brine, at 26 %
	brineTankGal = 30.0 // of brine that an 18 by 40 in tank gives: common practice
)
