package plan

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"wellwright/chem"
	"wellwright/media"
	"wellwright/nexttest"
	"wellwright/stage"
	"wellwright/unit"
)

// decision is one thing that may be done: a train with the start of its feed, and
// what is done about the well first. A nil train is to do nothing.
type decision struct {
	train *ranked
	feed  *feedStart
	work  wellWork
}

// wellWork is what is done about the well before any train.
type wellWork int

const (
	asItIs      wellWork = iota
	cleanFirst           // rehabilitate; a new well where that is wasted
	newWell              // give the old one up
	deepenFirst          // deepen or fracture a well that may not yield a day's use
)

// feedStart is a feed as first set: its dose, and the most its pump gives.
type feedStart struct {
	process   media.Process
	dose, top float64 // mg/L
	raw       bool    // it meets the raw water: no store stands ahead
	at        int     // place in the train
	residual  float64
}

// decisions lists what may be done.
func (d *Desk) decisions(c chosen) []decision {
	var ds []decision
	for k := range c.table {
		r := &c.table[k]
		if r.over == nil || len(r.over.Over) != len(d.Cloud.Draws) || r.overBudget || !d.healthyEnough(*r) {
			continue
		}
		for _, w := range d.works(c) {
			for _, f := range d.starts(r) {
				ds = append(ds, decision{train: r, feed: f, work: w})
			}
		}
	}
	if len(ds) > 0 && d.mayDoNothing() {
		ds = append(ds, decision{})
	}
	return ds
}

// works are the ways to treat the well itself: where it calls for cleaning and
// nobody knows how far it would come back, cleaning or giving it up; where it may
// not yield a day's use, as it is or deepened first.
func (d *Desk) works(c chosen) []wellWork {
	if _, called := d.rehabilitate(); called && d.recoveryDrawn() {
		return []wellWork{cleanFirst, newWell}
	}
	for k := range c.table {
		if c.table[k].over != nil && d.dries(&c.table[k]) > 0 {
			return []wellWork{asItIs, deepenFirst}
		}
	}
	return []wellWork{asItIs}
}

func (d *Desk) recoveryDrawn() bool {
	for i := range d.Cloud.Draws {
		if d.Cloud.Draws[i].Supply.Recovery > 0 {
			return true
		}
	}
	return false
}

// yieldLimits are broken where the well does not give what the house takes in a
// day.
var yieldLimits = map[string]bool{"refill_time": true, "well_yield_per_day": true}

// dries is the share of the waters in which a train with storage lacks yield.
func (d *Desk) dries(r *ranked) float64 {
	if !r.Train.Has(media.StorageBooster) {
		return 0
	}
	n := 0
	for i := range r.over.Over {
		if dry, _ := r.runsDry(i); dry {
			n++
		}
	}
	return float64(n) / float64(len(r.over.Over))
}

// storeLimits are those of a tank that a deeper well, or hauled water, mends with
// its yield.
var storeLimits = map[string]bool{"storage_peak": true, "storage_days": true}

// runsDry reports whether a train lacks yield in draw i, and whether more yield
// mends all that fails there.
func (r *ranked) runsDry(i int) (dry, mends bool) {
	mends = true
	for _, b := range r.over.Over[i].Broken {
		dry = dry || yieldLimits[b.Limit]
		mends = mends && (yieldLimits[b.Limit] || storeLimits[b.Limit] || feedLimits[b.Limit])
	}
	return dry, mends
}

// brokenOnly reports whether a train fails in draw i, and by nothing but these
// limits.
func brokenOnly(r *ranked, i int, limits map[string]bool) bool {
	bs := r.over.Over[i].Broken
	for _, b := range bs {
		if !limits[b.Limit] {
			return false
		}
	}
	return len(bs) > 0
}

// mayDoNothing is false wherever something was found above a value of health, or
// germs were.
func (d *Desk) mayDoNothing() bool {
	for _, a := range d.alerts() {
		if !a.Met && a.Rank <= 3 {
			return false
		}
	}
	return !d.slimed()
}

// starts are the ways to start the feed of a train: at shares of the demand that
// the plausible waters may have. A train without feed has one.
func (d *Desk) starts(r *ranked) []*feedStart {
	for k, l := range r.Links {
		oxidant, fed := oxidants[l.Process]
		if !fed {
			continue
		}
		s := l.Outcomes[r.Lead].Settings
		f := feedStart{process: l.Process, raw: !r.Train[:k].Has(media.StorageBooster, media.VentedAeration, media.RadonAeration), at: k, residual: s[stage.ResidualMgL]}
		reach := math.Max(1, 100/math.Max(s[stage.StrokePercent], 1))
		demands := make([]float64, len(d.Cloud.Draws))
		for i := range demands {
			demands[i] = d.takes(r, &f, oxidant, i)
		}
		sort.Float64s(demands)
		var fs []*feedStart
		for _, q := range startShares {
			v := f
			v.dose = roundTo(demands[int(q*float64(len(demands)-1))], 2)
			v.top = v.dose * reach
			if n := len(fs); n == 0 || fs[n-1].dose < v.dose {
				fs = append(fs, &v)
			}
		}
		return fs
	}
	return []*feedStart{nil}
}

// startShares are the shares of the waters whose demand a start covers: five, so
// that whoever has read the demand finds a start near it.
var startShares = [...]float64{0.05, 0.25, 0.5, 0.75, 0.95}

// oxidants are the chemicals fed by feeds that must meet a demand.
var oxidants = map[media.Process]chem.Oxidant{
	media.ChlorineFeed: chem.Hypochlorite, media.PermanganateFeed: chem.Permanganate, media.PeroxideFeed: chem.Peroxide,
}

// takes is the dose that the feed would be titrated to in draw i, mg/L: the true
// demand and the residual; behind a store, where much of it is gone, the dose
// that the stage works out.
func (d *Desk) takes(r *ranked, f *feedStart, o chem.Oxidant, i int) float64 {
	if !f.raw {
		if v := r.over.Setting(f.at, stage.DoseMgL); v != nil && v[i] == v[i] {
			return float64(v[i])
		}
	}
	return nexttest.Demand(o, &d.Cloud.Draws[i]).MgPerL() + f.residual
}

// id names a decision for machines.
func (x decision) id() string {
	if x.train == nil {
		return "nothing"
	}
	id := x.train.Train.String()
	if x.feed != nil {
		id += fmt.Sprintf("@%s", unit.Digits(x.feed.dose))
	}
	return id + [...]string{"", "/rehabilitate", "/new-well", "/deepen"}[x.work]
}

// words says what a decision is.
func (d *Desk) words(x decision) string {
	if x.train == nil {
		return "leave the water as it is"
	}
	var parts []string
	switch x.work {
	case cleanFirst:
		parts = append(parts, "clean the well")
	case newWell:
		parts = append(parts, "drill a new well")
	case deepenFirst:
		parts = append(parts, "deepen or fracture the well")
	}
	var stages []string
	for _, p := range x.train.Train {
		stages = append(stages, p.Words())
	}
	parts = append(parts, strings.Join(stages, ", "))
	words := strings.Join(parts, ", then ")
	if x.feed != nil {
		words += fmt.Sprintf(", feed started at %s mg/L", unit.Digits(x.feed.dose))
	}
	return words
}
