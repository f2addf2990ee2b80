package plan

import (
	"slices"
	"sync"

	"wellwright/cloud"
	"wellwright/train"
)

// memory is what a desk opened on a book knows of its search: the best train of
// every method, for first answers on changed inputs.
type memory struct {
	once   sync.Once
	of     *Desk
	trains []train.Train
}

// remember keeps the best train of every method that a search found, and what is
// sold as a cure by itself.
func (m *memory) remember(found func() []ranked) {
	m.once.Do(func() {
		rs := slices.Clone(found())
		refuge, seen := m.of.refuge(rs), map[string]bool{}
		for k := range rs {
			m.of.expect(&rs[k], refuge)
		}
		for _, r := range m.of.sorted(rs) {
			if key := method(r.Train); !seen[key] {
				seen[key] = true
				m.trains = append(m.trains, r.Train)
			}
		}
		for _, t := range m.of.simple() {
			if !seen[method(t)] {
				seen[method(t)] = true
				m.trains = append(m.trains, t)
			}
		}
	})
}

// coarseDraws is how many plausible waters a first answer is counted from.
const coarseDraws = 200

// coarseRounds are the rounds of a first answer.
var coarseRounds = []heat{{30, 4, 0}, {coarseDraws, 4, 0}}

// Coarse is a first answer, from a few of the plausible waters and from the trains
// that the search of the book as opened has found: marked so, and without what is
// rejected, what flips the choice and what to test next. The search is made once,
// by Answer or else here.
func (d *Desk) Coarse() (Answer, error) {
	e := d.coarsened()
	a := e.evidence()
	a.Actions = e.actions()
	a.Pruned = map[string]int{}
	a.Sampling = e.sampling(nil, nil)
	a.NextSay = "The worth of a test is not worked out in a first answer."
	if e.needsNothing() {
		a.Cautions = e.cautions(nil)
		return a, nil
	}
	d.warm.remember(func() []ranked {
		base := d.warm.of
		return base.priced(base.Work.Search().Trains)
	})
	ranked := e.known(d.warm.trains)
	a.Considered = len(d.warm.trains)
	e.ask.Brief = true
	a.Options = e.options(ranked)
	e.accompany(&a, ranked)
	a.Cautions = e.cautions(ranked)
	return a, nil
}

// coarsened is the desk with the first of the plausible waters alone.
func (d *Desk) coarsened() *Desk {
	c := d.Cloud
	c.Draws = c.Draws[:min(coarseDraws, len(c.Draws))]
	c.Quality.Asked, c.Quality.Coarse = len(c.Draws), true
	e := d.Believing(c)
	e.Work.Full = 0 // the range of the cost is that of the prices
	return e
}

// known ranks known trains, sized for the likeliest water alone and compared over
// the cloud there is.
func (d *Desk) known(ts []train.Train) []ranked {
	one := *d
	middle := d.likeliest()
	middle.Weight = 1
	one.Work = one.search(d.Work.Site, cloud.Cloud{Draws: []cloud.Draw{middle}}, d.Work.Want)
	var rs []ranked
	for _, e := range one.Work.EvaluateApart(ts) {
		if !e.Fails {
			rs = append(rs, one.completed(e, 0))
		}
	}
	refuge := d.refuge(rs)
	for k := range rs {
		d.expect(&rs[k], refuge)
	}
	rs = fold(d.sorted(rs))
	if rs = rs[:min(shortMost, len(rs))]; len(rs) == 0 || d.Work.Whole == nil {
		return rs
	}
	return d.compare(rs, refuge, coarseRounds)
}
