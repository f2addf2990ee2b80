package train

import (
	"math"
	"sort"

	"wellwright/stage"
)

// candidate is a size with what it does to the leading water and what it costs.
type candidate struct {
	size  stage.Size
	out   stage.Outcome
	worst float64 // least margin of its hard limits
	cost  float64

	others []int // other draws tried
	outs   []stage.Outcome
}

// sized picks a size: of those that break no hard limit in the leading water the
// one that costs least over the years, callbacks and its failing in the other
// waters counted; if every size breaks one, the size whose worst margin is best.
func (c *carried) sized(x stage.Process, zs []stage.Size, after Train) candidate {
	j := c.jobFor(c.lead, after)
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
	return best
}

// cheapest adds to each cost what failing in the other waters would cost, looking
// no further than the costs without it allow.
func (c *carried) cheapest(x stage.Process, ks []candidate, after Train) candidate {
	sort.SliceStable(ks, func(a, b int) bool { return ks[a].cost < ks[b].cost })
	best, least := ks[0], math.Inf(1)
	for _, k := range ks {
		if k.cost >= least {
			break
		}
		if total := k.cost + c.failsElsewhere(x, &k, after)*c.job.FailureCost; total < least {
			best, least = k, total
		}
	}
	return best
}

// failsElsewhere is the weight of the other waters carried, still alive, in which
// a size breaks a hard limit.
func (c *carried) failsElsewhere(x stage.Process, k *candidate, after Train) float64 {
	sum := 0.0
	for _, i := range c.mine {
		if i == c.lead || c.at(i) != living {
			continue
		}
		j := c.jobFor(i, after)
		j.Lean = true
		o := x.Run(&j, k.size)
		k.others, k.outs = append(k.others, i), append(k.outs, o)
		if worstHard(o.Limits) < 1-1e-9 {
			sum += c.job.share[i]
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
