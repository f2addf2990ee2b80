package plan

import (
	"math"

	"wellwright/source"
	"wellwright/train"
)

// rounds are the draws over which trains are compared and how many go on from
// there: draws are exchangeable, so that the first of them are a fair sample of
// all. Those that go on are the best by expected cost, and beside them what is
// best of all in a fair share of the waters: what a test might show to be right.
var rounds = []heat{
	{120, 4, 1},
	{400, 2, 1},
	{math.MaxInt, math.MaxInt, 0},
}

// heat is one round of the comparison.
type heat struct{ draws, best, beside int }

// oftenBest is that fair share.
const oftenBest = 0.05

// compare carries the trains over the cloud, ever fewer over ever more draws,
// and returns them in order, without those that only add stages to a better one.
func (d *Desk) compare(rs []ranked, refuge float64, rounds []heat) []ranked {
	d.start(rs)
	going := len(rs)
	for n, x := range rounds {
		d.Work.Carry(carriedOf(rs[:going]), x.draws)
		for k := range rs[:going] {
			rs[k].lasted = n
			d.judge(&rs[k], refuge)
		}
		copy(rs, d.sorted(rs[:going]))
		if n == 0 {
			rs = fold(rs)
			going = len(rs)
		}
		if len(rs[0].over.Over) == len(d.Work.Whole) {
			break
		}
		going = d.goOn(rs[:going], x.best, x.beside, refuge)
	}
	d.regrets(rs, refuge)
	return rs
}

// start makes the trains ready for the cloud.
func (d *Desk) start(rs []ranked) {
	es := make([]train.Evaluation, len(rs))
	for k, r := range rs {
		es[k] = r.Evaluation
	}
	for k, c := range d.Work.Start(es) {
		rs[k].over = c
	}
}

func carriedOf(rs []ranked) []*train.Carried {
	cs := make([]*train.Carried, len(rs))
	for k, r := range rs {
		cs[k] = r.over
	}
	return cs
}

// goOn puts those that go on first and returns how many they are. Those beside
// the best keep their place behind them.
func (d *Desk) goOn(rs []ranked, best, beside int, refuge float64) int {
	if len(rs) <= best {
		return len(rs)
	}
	wins := d.wins(rs, refuge)
	n := best
	for k := best; k < len(rs) && n < best+beside; k++ {
		if wins[k] >= oftenBest {
			r, w := rs[k], wins[k]
			copy(rs[n+1:k+1], rs[n:k])
			copy(wins[n+1:k+1], wins[n:k])
			rs[n], wins[n] = r, w
			n++
		}
	}
	return n
}

// wins is the share of the draws in which each train costs least.
func (d *Desk) wins(rs []ranked, refuge float64) []float64 {
	n := len(rs[0].over.Over)
	wins := make([]float64, len(rs))
	for i := range n {
		best, least := 0, math.Inf(1)
		for k := range rs {
			if c := d.costIn(&rs[k], i, refuge); c < least {
				best, least = k, c
			}
		}
		wins[best] += 1 / float64(n)
	}
	return wins
}

// costIn is what a train costs if draw i of the cloud is the water.
func (d *Desk) costIn(r *ranked, i int, refuge float64) float64 {
	v := r.over.Over[i]
	return r.own + d.lossIn(r, v.Fails, v.Calls, refuge)
}

// judge takes chance, callbacks and health from the draws a train was carried
// through.
func (d *Desk) judge(r *ranked, refuge float64) {
	r.chance, r.calls, r.healthy = 0, 0, 0
	for _, v := range r.over.Over {
		r.chance += v.Fails
		r.calls += v.Calls
		if !breaks(v.Broken) {
			r.healthy++
		}
	}
	n := float64(len(r.over.Over))
	r.chance, r.calls, r.healthy = r.chance/n, r.calls/n, r.healthy/n
	d.expect(r, refuge)
}

// regrets is by how much each train costs more, on the mean, than the one that
// would be best in each water, among those carried through it.
func (d *Desk) regrets(rs []ranked, refuge float64) {
	least := make([]float64, len(d.Work.Whole))
	for i := range least {
		least[i] = math.Inf(1)
	}
	for k := range rs {
		for i := range rs[k].over.Over {
			least[i] = math.Min(least[i], d.costIn(&rs[k], i, refuge))
		}
	}
	for k := range rs {
		n := len(rs[k].over.Over)
		for i := range n {
			rs[k].regret += (d.costIn(&rs[k], i, refuge) - least[i]) / float64(n)
		}
	}
}

// share is a share of the plausible waters with its standard error.
type share struct{ P, Error float64 }

// meets is the share of the waters in which a train meets every hard limit.
func (d *Desk) meets(r ranked) share {
	n := 0
	for _, v := range r.over.Over {
		if v.Meets() {
			n++
		}
	}
	return d.shareOf(n, len(r.over.Over))
}

// shareOf is the share of n in m draws. Its error is that of a count, over no
// more draws than the cloud holds independent ones.
func (d *Desk) shareOf(n, m int) share {
	p := float64(n) / float64(m)
	return share{p, d.errorOf(p, m)}
}

// errorOf is the standard error of a share counted in m draws.
func (d *Desk) errorOf(p float64, m int) float64 {
	worth := float64(m)
	if e := d.Cloud.Quality.Effective; e > 0 {
		worth = math.Min(worth, e)
	}
	return math.Sqrt(p * (1 - p) / worth)
}

// healthyEnough reports whether a train keeps the limits of health in as many of
// the plausible waters as is asked for, two standard errors allowed.
func (d *Desk) healthyEnough(r ranked) bool {
	if d.Work.Whole == nil {
		return true // a few waters give no probability
	}
	slack := 0.0
	if r.over != nil && len(r.over.Over) > 0 {
		slack = 2 * d.errorOf(r.healthy, len(r.over.Over))
	}
	return r.healthy-slack >= d.set.Of(askedHealth)-1e-9
}

// healthLimits are the hard limits that protect health, wherever they stand.
var healthLimits = map[string]bool{
	"nitrate_at_kitchen": true, "arsenic_at_kitchen": true, "radon_in_house": true,
	"manganese_health": true, "chlorine_at_kitchen": true, "e_coli_at_kitchen": true, "open_tank_unprotected": true, "disinfection_ct": true,
}

// breaks reports whether a limit of health is among those broken.
func breaks(bs []train.Broken) bool {
	for _, b := range bs {
		if healthLimits[b.Limit] {
			return true
		}
	}
	return false
}

// breaksHealth is the same of a list of limits.
func breaksHealth(ls []train.Placed) bool {
	for _, l := range ls {
		if l.Hard() && healthLimits[l.ID] {
			return true
		}
	}
	return false
}

var askedHealth = source.Factor{
	Name: "health_probability_asked", What: "share of the plausible waters in which a train must keep every limit of health, two standard errors allowed", Unit: "",
	Value: 0.90, Low: 0.80, High: 0.99, Kind: source.Judgement, From: "nine in ten; what is left is caught by the follow-up sample",
}

// tied reports whether the order of two trains is too near to call: their
// expected costs differ by little, or by less than two standard errors of the
// difference over the waters that both were carried through.
func (d *Desk) tied(a, b *ranked) bool {
	if a.Fails != b.Fails || d.healthyEnough(*a) != d.healthyEnough(*b) {
		return false
	}
	apart := math.Abs(a.expected - b.expected)
	return apart < d.set.Of(nearTie)*math.Max(a.expected, b.expected) || apart < 2*d.errorBetween(a, b)
}

// errorBetween is the standard error of the difference of two expected costs,
// water by water.
func (d *Desk) errorBetween(a, b *ranked) float64 {
	if a.over == nil || b.over == nil {
		return 0
	}
	n := min(len(a.over.Over), len(b.over.Over))
	sum, squares := 0.0, 0.0
	for i := range n {
		x := d.costIn(a, i, a.refuge) - d.costIn(b, i, b.refuge)
		sum, squares = sum+x, squares+x*x
	}
	mean := sum / float64(n)
	worth := float64(n)
	if e := d.Cloud.Quality.Effective; e > 0 {
		worth = math.Min(worth, e)
	}
	return math.Sqrt(math.Max(0, squares/float64(n)-mean*mean) / worth)
}
