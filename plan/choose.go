package plan

import (
	"math"
	"sort"

	"wellwright/source"
	"wellwright/train"
)

// chosen are the trains worth comparing, best first.
type chosen struct {
	options []ranked // what is offered
	table   []ranked // those, and what would be best if the water turned out otherwise
	refuge  float64  // cost of the train that one would turn to when another has failed
}

// choose costs what a search found, adds what its failing would cost, and orders
// by expected cost: first over the spread draws, then the best over the cloud.
func (d *Desk) choose(found []train.Evaluation) chosen {
	all := d.priced(found)
	c := chosen{refuge: d.refuge(all)}
	c.table = d.shortlist(all, c.refuge)
	if d.Work.Whole != nil {
		d.compare(c.table, c.refuge)
	}
	for _, r := range c.table {
		if d.offered(r) {
			c.options = append(c.options, r)
		}
	}
	return c
}

// offered reports whether a train is an option: it holds in the likeliest water,
// or at least in most waters.
func (d *Desk) offered(r ranked) bool {
	return !r.Fails || r.over != nil && d.meets(r).P >= d.set.Of(leastHolding)
}

// priced costs every train that may be worth comparing, with its chance of
// failing as the core draws have it.
func (d *Desk) priced(found []train.Evaluation) []ranked {
	var rs []ranked
	for _, e := range found {
		if e.Fails && d.Work.Whole == nil {
			continue
		}
		r := d.price(e)
		for _, i := range d.Work.Core() {
			p, n := d.inDraw(e, i)
			r.chance += d.Work.Share(i) * p
			r.calls += d.Work.Share(i) * n
		}
		rs = append(rs, r)
	}
	return rs
}

// inDraw is how a train fares in a spread draw; one that was not carried to the
// tap has failed on the way.
func (d *Desk) inDraw(e train.Evaluation, i int) (chance, calls float64) {
	if e.Limits[i] == nil {
		return 1, 0
	}
	return d.visits.failingIn(e.Limits[i])
}

// bound is the least that a train can cost: its own cost and the loss in those
// spread draws that were carried.
func (d *Desk) bound(r *ranked, refuge float64) float64 {
	failed, chance, calls := r.Known, 0.0, 0.0
	for i, ls := range r.Limits {
		if ls == nil {
			continue
		}
		w := d.Work.Draws[i].Weight
		p, n := d.visits.failingIn(ls)
		failed, chance, calls = failed-w, chance+w*p, calls+w*n
	}
	b := *r
	b.expected = r.own + d.lossIn(r, chance+math.Max(0, failed), calls, refuge)
	b.healthy = 1
	return d.key(b)
}

// shortMost is how many trains are compared over the cloud, and batch how many
// are completed at a time: a fixed number, so that the answer does not hang on
// how many processors there are.
const (
	shortMost = 12
	batch     = 8
)

// shortlist completes trains over the spread draws, cheapest bound first, until
// no bound can reach the best dozen that work in different ways.
func (d *Desk) shortlist(all []ranked, refuge float64) []ranked {
	bounds := make([]float64, len(all))
	order := make([]int, len(all))
	for k := range all {
		order[k], bounds[k] = k, d.bound(&all[k], refuge)
	}
	sort.SliceStable(order, func(a, b int) bool { return bounds[order[a]] < bounds[order[b]] })
	var done []ranked
	best := map[string]float64{} // by method
	for len(order) > 0 {
		last := d.lastKey(done)
		var now []train.Evaluation
		for len(order) > 0 && len(now) < batch {
			k := order[0]
			order = order[1:]
			least, seen := best[method(all[k].Train)]
			if bounds[k] > last {
				order = nil
			} else if !seen || bounds[k] <= least {
				now = append(now, all[k].Evaluation)
			}
		}
		for _, e := range d.Work.CompleteAll(now) {
			r := d.completed(e, refuge)
			done = append(done, r)
			if least, seen := best[method(r.Train)]; !seen || d.key(r) < least {
				best[method(r.Train)] = d.key(r)
			}
		}
	}
	return d.shortest(done, refuge)
}

// completed is a train with its expected cost over all the spread draws.
func (d *Desk) completed(e train.Evaluation, refuge float64) ranked {
	r := d.price(e)
	r.healthy = 0
	for i, draw := range d.Work.Draws {
		p, n := d.inDraw(e, i)
		r.chance += draw.Weight * p
		r.calls += draw.Weight * n
		if !breaksHealth(e.Limits[i]) {
			r.healthy += draw.Weight
		}
	}
	d.expect(&r, refuge)
	return r
}

// inOrder sorts by key and folds away trains that only add stages to a better one.
func (d *Desk) inOrder(rs []ranked) []ranked {
	rs = append([]ranked{}, rs...)
	sort.SliceStable(rs, func(i, k int) bool {
		if a, b := d.key(rs[i]), d.key(rs[k]); a != b {
			return a < b
		}
		return rs[i].Train.String() < rs[k].Train.String()
	})
	return fold(rs)
}

// lastKey is the key of the last of the best dozen so far.
func (d *Desk) lastKey(done []ranked) float64 {
	if rs := d.inOrder(done); len(rs) >= shortMost {
		return d.key(rs[shortMost-1])
	}
	return math.Inf(1)
}

// shortest is the best dozen, and of the rest what is best in some spread draw.
func (d *Desk) shortest(done []ranked, refuge float64) []ranked {
	rs := d.inOrder(done)
	if len(rs) <= shortMost {
		return rs
	}
	keep := make([]bool, len(rs))
	for k := range shortMost {
		keep[k] = true
	}
	for i := range d.Work.Draws {
		keep[d.bestIn(rs, i, refuge)] = true
	}
	var short []ranked
	for k, r := range rs {
		if keep[k] {
			short = append(short, r)
		}
	}
	return short
}

// bestIn is the train that costs least if the water is spread draw i.
func (d *Desk) bestIn(rs []ranked, i int, refuge float64) int {
	best, least := 0, math.Inf(1)
	for k := range rs {
		p, n := d.inDraw(rs[k].Evaluation, i)
		if c := rs[k].own + d.lossIn(&rs[k], p, n, refuge); c < least {
			best, least = k, c
		}
	}
	return best
}

var leastHolding = source.Factor{
	Name: "option_holds_least", What: "share of the plausible waters in which a train must meet every hard limit to be offered, where it fails in the likeliest", Unit: "",
	Value: 0.5, Low: 0.3, High: 0.8, Kind: source.Judgement, From: "likelier than not; it stands behind what holds in the likeliest water",
}
