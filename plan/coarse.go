package plan

import (
	"slices"
	"sync"

	"wellwright/cloud"
	"wellwright/train"
)

// memory is what a desk opened on a book knows of its search: the best train of
// every method, for first answers on changed inputs, and its own first choice, to
// compare them with.
type memory struct {
	of     *Desk
	search sync.Once
	trains []train.Train
	choose sync.Once
	own    own
	drawn  sync.Once
	course Course // of the first choice
}

// ownCourse is the way of the water through the first choice; null: there is none.
func (m *memory) ownCourse() *Course {
	first := m.chosen().first
	if first == nil {
		return nil
	}
	m.drawn.Do(func() { m.course = m.of.courseOf(*first) })
	c := m.course
	return &c
}

// own is what the book as opened comes to.
type own struct {
	first  *ranked // the first choice, carried over the whole cloud; nil: none is offered
	option Option
	refuge float64 // cost of the train that one would turn to when another has failed
	say    string  // why there is no first choice
}

// remember keeps the best train of every method that a search found, and what is
// sold as a cure by itself.
func (m *memory) remember(found func() []ranked) {
	m.search.Do(func() {
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

// searched searches the book as opened, if nobody has.
func (m *memory) searched() []train.Train {
	m.remember(func() []ranked { return m.of.priced(m.of.Work.Search().Trains) })
	return m.trains
}

// keep keeps the first choice of the book as opened.
func (m *memory) keep(c chosen, options []Option) {
	m.choose.Do(func() { m.own = ownOf(c, options) })
}

// chosen is the book's own first choice, worked out if nobody has.
func (m *memory) chosen() own {
	m.choose.Do(func() {
		d := *m.of
		if d.needsNothing() {
			m.own = own{say: "The water as it is asks for no treatment."}
			return
		}
		all := d.priced(d.Work.Search().Trains)
		m.remember(func() []ranked { return all })
		c := d.choose(all)
		d.ask.Most, d.ask.Brief = 1, true
		m.own = ownOf(c, d.options(c.options))
	})
	return m.own
}

func ownOf(c chosen, options []Option) own {
	o := own{refuge: c.refuge, say: "No train looked at holds here."}
	if len(c.options) > 0 && len(options) > 0 {
		first := c.options[0]
		o.first, o.option, o.say = &first, options[0], ""
	}
	return o
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
	known := d.warm.searched()
	ranked := e.known(known, coarseRounds)
	a.Considered = len(known)
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
func (d *Desk) known(ts []train.Train, rounds []heat) []ranked {
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
	return d.compare(rs, refuge, rounds)
}
