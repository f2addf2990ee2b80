package train

import (
	"math"
	"sort"

	"wellwright/cloud"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/stage"
	"wellwright/unit"
	"wellwright/water"
)

// Link is one stage of a train, sized, with what it does to every draw.
type Link struct {
	Process  media.Process
	Size     stage.Size
	Outcomes []stage.Outcome // one for each draw
	Kept     bool            // already there and kept
}

// carried is a train so far and the water behind it, for every draw. Trains that
// begin alike share the links of their beginning.
type carried struct {
	job    *Work
	links  []Link
	water  []water.State
	supply []hydraulic.Supply
	peaks  []unit.Flow // most that the house can pull from the supply so far
	alive  []bool      // the draw has met no hard limit so far
}

// start is the empty train.
func (w *Work) start() carried {
	c := carried{job: w}
	for _, d := range w.Draws {
		c.water = append(c.water, d.Water)
		c.supply = append(c.supply, d.Supply.Hydraulic)
		c.peaks = append(c.peaks, peakOf(d, d.Supply.Hydraulic))
		c.alive = append(c.alive, true)
	}
	return c
}

// train lists the processes so far.
func (c carried) train() Train {
	t := make(Train, len(c.links))
	for i, l := range c.links {
		t[i] = l.Process
	}
	return t
}

// anyAlive reports whether some draw still meets every hard limit.
func (c carried) anyAlive() bool {
	for _, a := range c.alive {
		if a {
			return true
		}
	}
	return false
}

// add puts a stage behind the train, sized. A stage that strengthens the supply
// comes in several strengths, because what it must carry stands behind it: each
// is a train of its own.
func (c carried) add(p media.Process, after Train) ([]carried, error) {
	x, ok := stage.Of(p)
	if !ok {
		return nil, notBuilt(p)
	}
	j := c.jobFor(c.job.middle, after)
	var grown []carried
	for _, zs := range byStrength(x.Sizes(&j)) {
		z, mid := c.sized(x, zs, after)
		grown = append(grown, c.with(x, z, mid, after))
	}
	return grown, nil
}

// byStrength parts sizes by their booster pump.
func byStrength(zs []stage.Size) [][]stage.Size {
	var parts [][]stage.Size
	for _, z := range zs {
		placed := false
		for i, part := range parts {
			if part[0].Booster == z.Booster {
				parts[i] = append(part, z)
				placed = true
				break
			}
		}
		if !placed {
			parts = append(parts, []stage.Size{z})
		}
	}
	return parts
}

// candidate is a size with what it does to the middle water and what it costs.
type candidate struct {
	size  stage.Size
	out   stage.Outcome
	worst float64 // least margin of its hard limits
	cost  float64
}

// sized picks a size: of those that break no hard limit in the middle water the
// one that costs least over the years, callbacks and its failing in the other
// waters counted; if every size breaks one, the size whose worst margin is best.
func (c carried) sized(x stage.Process, zs []stage.Size, after Train) (stage.Size, stage.Outcome) {
	j := c.jobFor(c.job.middle, after)
	var sound []candidate
	best := candidate{worst: math.Inf(-1)}
	for _, z := range zs {
		o := x.Run(&j, z)
		k := candidate{size: z, out: o, worst: worstHard(o.Limits)}
		if k.worst >= 1-1e-9 {
			k.cost = c.job.worth(o)
			sound = append(sound, k)
		} else if k.worst > best.worst {
			best = k
		}
	}
	if len(sound) > 0 {
		best = c.cheapest(x, sound, after)
	}
	return best.size, best.out
}

// cheapest adds to each cost what failing in the other waters would cost, looking
// no further than the costs without it allow.
func (c carried) cheapest(x stage.Process, ks []candidate, after Train) candidate {
	sort.SliceStable(ks, func(a, b int) bool { return ks[a].cost < ks[b].cost })
	best, least := ks[0], math.Inf(1)
	for _, k := range ks {
		if k.cost >= least {
			break
		}
		if total := k.cost + c.failsElsewhere(x, k.size, after)*c.job.FailureCost; total < least {
			best, least = k, total
		}
	}
	return best
}

// failsElsewhere is the weight of the other waters, still alive, in which a size
// breaks a hard limit.
func (c carried) failsElsewhere(x stage.Process, z stage.Size, after Train) float64 {
	sum := 0.0
	for i, d := range c.job.Draws {
		if i == c.job.middle || !c.alive[i] {
			continue
		}
		j := c.jobFor(i, after)
		if worstHard(x.Run(&j, z).Limits) < 1-1e-9 {
			sum += d.Weight
		}
	}
	return sum
}

// worth is what a size costs over the years; without prices its broken cautions.
func (w *Work) worth(o stage.Outcome) float64 {
	if w.Worth != nil {
		return w.Worth(o)
	}
	broken := 0.0
	for _, l := range o.Limits {
		if l.Fails() {
			broken++
		}
	}
	return broken
}

// worstHard is the least margin of the hard limits.
func worstHard(ls []stage.Limit) float64 {
	worst := 99.0
	for _, l := range ls {
		if !l.Soft {
			worst = math.Min(worst, l.Margin())
		}
	}
	return worst
}

// with carries every draw through the stage; mid is what it does to the middle.
func (c carried) with(x stage.Process, z stage.Size, mid stage.Outcome, after Train) carried {
	n := carried{job: c.job, links: append(append(make([]Link, 0, len(c.links)+1), c.links...), Link{Process: x.ID(), Size: z})}
	n.supply, n.peaks = c.supply, c.peaks
	n.water, n.alive = make([]water.State, len(c.water)), make([]bool, len(c.water))
	outs := make([]stage.Outcome, len(c.water))
	for i := range c.water {
		if i == c.job.middle {
			outs[i] = mid
		} else {
			j := c.jobFor(i, after)
			outs[i] = x.Run(&j, z)
		}
		n.water[i] = outs[i].Out
		_, broken := stage.FirstHard(outs[i].Limits)
		n.alive[i] = c.alive[i] && !broken
	}
	if mid.Supply != nil {
		n.fedFrom(outs)
	}
	n.links[len(n.links)-1].Outcomes = outs
	return n
}

// fedFrom puts a new supply, such as a booster's, behind the stage.
func (c *carried) fedFrom(outs []stage.Outcome) {
	c.supply, c.peaks = append([]hydraulic.Supply{}, c.supply...), append([]unit.Flow{}, c.peaks...)
	for i, o := range outs {
		if o.Supply != nil {
			c.supply[i] = *o.Supply
			c.peaks[i] = peakOf(c.job.Draws[i], *o.Supply)
		}
	}
}

// jobFor is the job of the next stage on draw i; after is what will stand behind
// it, where that is known.
func (c carried) jobFor(i int, after Train) stage.Job {
	d := &c.job.Draws[i]
	return stage.Job{
		Site: c.job.Site, Draw: d, In: c.water[i], Supply: c.supply[i],
		Peak: c.peaks[i], Daily: d.Supply.Daily, Before: c.train(), After: after,
	}
}

// peakOf is the most the house can pull: what it asks, or what the supply can
// hold for ten minutes if that is less.
func peakOf(d cloud.Draw, s hydraulic.Supply) unit.Flow {
	have := s.Available(peakMinutes, unit.PSI(20))
	return unit.GPM(min(d.Supply.Peak.GPM(), max(have.GPM(), 0.5)))
}

// peakMinutes is how long a house peak lasts: two showers and a washer.
const peakMinutes = 10

// Work is one well's search: the plausible waters, the place, and what is wanted.
type Work struct {
	Site        *stage.Site
	Draws       []cloud.Draw
	Want        Targets
	Worth       func(stage.Outcome) float64 // cost of a stage over the years, for the choice of size; nil: fewest cautions
	FailureCost float64                     // of a stage that breaks a hard limit in some other water
	middle      int
	available   unit.Flow // ten minutes of the middle supply at 30 psi
}

// Targets is what the water at the kitchen tap should meet.
type Targets struct {
	Iron, Manganese unit.Concentration
	ManganeseHealth unit.Concentration
	Sulfide         unit.Sulfide
	PHLow, PHHigh   unit.PH
	Hardness        unit.Hardness // above it the house is softened
	Chlorine        unit.Chlorine // most at the tap
	Sodium          unit.Concentration
}

// NewWork makes a search; the draws must hold one named cloud.Middle, else the
// first is taken for it.
func NewWork(site *stage.Site, draws []cloud.Draw, want Targets) *Work {
	w := &Work{Site: site, Draws: draws, Want: want}
	for i, d := range draws {
		if d.Name == cloud.Middle {
			w.middle = i
		}
	}
	w.available = w.Draws[w.middle].Supply.Hydraulic.Available(peakMinutes, unitPSI30)
	return w
}

// Middle is the index of the likeliest draw.
func (w *Work) Middle() int { return w.middle }
