package plan

import (
	"math"
	"slices"
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

// choose adds to what a search found the cost of its failing, and orders by
// expected cost: first over the spread draws, then the best over the cloud.
func (d *Desk) choose(all []ranked) chosen {
	if len(all) == 0 { // no lawful train holds in any water
		return chosen{}
	}
	c := chosen{refuge: d.refuge(all)}
	c.table = d.shortlist(all, c.refuge)
	if d.Work.Whole != nil {
		c.table = d.compare(d.settle(c.table), c.refuge, rounds)
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

// settle sizes the trains of a shortlist anew, by a fair sample of the cloud. One
// that only another than the likeliest water gets through stays as it was found.
func (d *Desk) settle(rs []ranked) []ranked {
	es := make([]train.Evaluation, len(rs))
	for k, r := range rs {
		es[k] = r.Evaluation
	}
	for k, e := range d.Work.Settle(es) {
		if !rs[k].Fails && !e.Fails {
			rs[k] = d.price(e)
		}
	}
	return rs
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

// sorted orders by key.
func (d *Desk) sorted(rs []ranked) []ranked {
	rs = append([]ranked{}, rs...)
	sort.SliceStable(rs, func(i, k int) bool {
		if a, b := d.key(rs[i]), d.key(rs[k]); a != b {
			return a < b
		}
		return rs[i].Train.String() < rs[k].Train.String()
	})
	return rs
}

// lastKey is the key of the last of the best dozen so far.
func (d *Desk) lastKey(done []ranked) float64 {
	if rs := fold(d.sorted(done)); len(rs) >= shortMost {
		return d.key(rs[shortMost-1])
	}
	return math.Inf(1)
}

// shortest is the best dozen; of what works as the first few do with other
// trimmings the best that is nearly as good, which only the cloud can tell apart;
// and of the rest what is best in some spread draw.
func (d *Desk) shortest(done []ranked, refuge float64) []ranked {
	rs := d.sorted(done)
	kept := fold(rs)
	short := kept[:min(shortMost, len(kept))]
	short = append(slices.Clone(short), d.variants(rs, short[:min(variantsOf, len(short))])...)
	for i := range d.Work.Draws {
		if r := kept[d.bestIn(kept, i, refuge)]; !holds(short, r) {
			short = append(short, r)
		}
	}
	return d.sorted(short)
}

// variantsOf is how many of the first trains are tried with other trimmings.
const variantsOf = 4

// variants are, of each of the trains, the next best that works alike if it costs
// nearly the same.
func (d *Desk) variants(rs, of []ranked) []ranked {
	var vs []ranked
	if d.Work.Whole == nil {
		return nil
	}
	for _, b := range of {
		for _, r := range rs {
			if method(r.Train) == method(b.Train) && r.Train.String() != b.Train.String() {
				if d.key(r) < d.key(b)+d.set.Of(nearTie)*b.expected {
					vs = append(vs, r)
				}
				break
			}
		}
	}
	return vs
}

func holds(rs []ranked, r ranked) bool {
	return slices.ContainsFunc(rs, func(x ranked) bool { return x.Train.String() == r.Train.String() })
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
