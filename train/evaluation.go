package train

import (
	"fmt"

	"wellwright/cloud"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
)

// Placed is a limit and where it stands: the stage's place in the train counted
// from 0, or Whole when it belongs to the train.
type Placed struct {
	*stage.Limit
	Stage int
	Draw  string // name of the water in which it stands so
}

// Whole is the stage of a limit that belongs to the whole train.
const Whole = -1

// Evaluation is a train carried through the spread draws to the kitchen tap. From
// a search it holds only those draws that the search carried: Complete fills in
// the rest.
type Evaluation struct {
	Train  Train
	Links  []Link
	Limits [][]Placed // by spread draw, in flow order, those of the whole train last: of the leading draw all, of the others those broken; nil where it was not carried
	Meets  float64    // weight of the draws carried that meet every hard limit
	Known  float64    // weight of the draws carried to the tap or to a broken hard limit
	First  Placed     // the first limit to fail, or the thinnest when none does
	Fails  bool       // a hard limit is broken in the middle water
	Lead   int        // the draw that sizes and settings are made for: the middle, unless only another gets through
	Rule   *OrderRule // the order rule that forbids the train, if one does
	Nights Nights
	Budget PressureBudget
	Tap    *stage.Outcome // the kitchen tap that belongs beside the train, in the leading water; nil: none does

	end *carried
}

// Evaluate carries any train, lawful or not, through the core draws. Where a
// stage comes in several strengths, the train with the best first limit is taken,
// and of those that fail nowhere the one that costs least.
func (w *Work) Evaluate(t Train) (Evaluation, error) {
	root := w.start()
	root.asked = true
	level := []*carried{root}
	for i, p := range t {
		var grown []*carried
		for _, c := range level {
			next, err := c.add(p, t[i+1:])
			if err != nil {
				return Evaluation{Train: t}, err
			}
			grown = append(grown, next...)
		}
		if len(grown) == 0 {
			return Evaluation{Train: t}, fmt.Errorf("%s: no common size comes near its wash and its service rate here", p.Words())
		}
		level = grown
	}
	return w.bestOf(level), nil
}

// EvaluateAll carries several trains, those that begin alike together, as a
// search does: without telling a stage what will stand behind it.
func (w *Work) EvaluateAll(ts []Train) []Evaluation {
	root := w.start()
	root.asked = true
	begun := map[string][]*carried{"": {root}}
	es := make([]Evaluation, len(ts))
	for i, t := range ts {
		es[i] = w.bestOf(w.begin(t, begun))
	}
	return es
}

// begin carries a train, taking up the longest beginning already carried.
func (w *Work) begin(t Train, begun map[string][]*carried) []*carried {
	if level, ok := begun[t.String()]; ok {
		return level
	}
	n := len(t) - 1
	var grown []*carried
	for _, c := range w.begin(t[:n], begun) {
		next, err := c.add(t[n], nil)
		if err != nil {
			continue
		}
		grown = append(grown, next...)
	}
	begun[t.String()] = grown
	return grown
}

// bestOf closes the trains and picks one. With none to pick from, because some
// stage has no size that serves here, the train fails.
func (w *Work) bestOf(level []*carried) Evaluation {
	best := Evaluation{Fails: len(level) == 0}
	for i, c := range level {
		e := c.finish(c.mine)
		if i == 0 || w.better(e, best) {
			best = e
		}
	}
	return best
}

func (w *Work) better(a, b Evaluation) bool {
	switch {
	case a.Fails != b.Fails:
		return !a.Fails
	case a.Fails:
		return a.First.Margin() > b.First.Margin()
	case a.Meets != b.Meets:
		return a.Meets > b.Meets
	}
	return w.total(a) < w.total(b)
}

// total is what the stages of a train cost over the years.
func (w *Work) total(e Evaluation) float64 {
	sum := 0.0
	for _, l := range e.Links {
		sum += w.worth(l.Outcomes[e.Lead])
	}
	return sum
}

// sample is how many draws of the cloud a size is settled by.
const sample = 24

// Settle sizes trains anew, by the middle and by the first draws of the cloud,
// which stand for all of it in number, as spread draws do not. What it returns
// holds those draws, the middle first.
func (w *Work) Settle(es []Evaluation) []Evaluation {
	ts := make([]Train, len(es))
	for k, e := range es {
		ts[k] = e.Train
	}
	return w.fair().EvaluateApart(ts)
}

// EvaluateApart is EvaluateAll on every processor, those that begin with the same
// stage together.
func (w *Work) EvaluateApart(ts []Train) []Evaluation {
	groups := byFirst(ts)
	done := make([]Evaluation, len(ts))
	inParallel(0, len(groups), 1, func(g int) {
		some := make([]Train, len(groups[g]))
		for k, at := range groups[g] {
			some[k] = ts[at]
		}
		for k, e := range w.EvaluateAll(some) {
			done[groups[g][k]] = e
		}
	})
	return done
}

// fair is the search with the middle and a fair sample of the cloud, all carried.
func (w *Work) fair() *Work {
	few := w.Whole[:min(sample, len(w.Whole))]
	draws := append([]cloud.Draw{w.Draws[w.middle]}, few...)
	draws[0].Weight = 0
	for i := range few {
		draws[i+1].Weight = 1 / float64(len(few))
	}
	f := NewWork(w.Site, draws, w.Want)
	f.Worth, f.FailureCost, f.middle, f.given = w.Worth, w.FailureCost, 0, w.given
	f.core, f.share = make([]int, len(draws)), make([]float64, len(draws))
	for i, d := range draws {
		f.core[i], f.share[i] = i, d.Weight
	}
	return f
}

// byFirst groups trains by their first stage.
func byFirst(ts []Train) [][]int {
	var groups [][]int
	at := map[media.Process]int{}
	for k, t := range ts {
		g, seen := at[t[0]]
		if !seen {
			g = len(groups)
			at[t[0]] = g
			groups = append(groups, nil)
		}
		groups[g] = append(groups[g], k)
	}
	return groups
}

// Complete carries a train through all the spread draws, those that fail on the
// way too, so that nothing of it is unknown.
func (w *Work) Complete(e Evaluation) Evaluation {
	if e.end == nil {
		return e
	}
	all := make([]int, len(w.Draws))
	for i := range all {
		all[i] = i
		e.end.carry(i, true)
	}
	return e.end.finish(all)
}

// CompleteAll completes several trains at once.
func (w *Work) CompleteAll(es []Evaluation) []Evaluation {
	done := make([]Evaluation, len(es))
	inParallel(0, len(es), 1, func(i int) { done[i] = w.Complete(es[i]) })
	return done
}

// finish closes a train at the kitchen tap for some of the draws, all carried.
func (c *carried) finish(draws []int) Evaluation {
	t := c.so
	e := Evaluation{
		Train: t, Links: c.links, Lead: c.lead, end: c,
		Limits: make([][]Placed, len(c.job.Draws)), Nights: c.nights(), Budget: c.budget(c.lead),
	}
	if r, broken := incomplete(t, c.quest()); broken {
		e.Rule = &r
	}
	e.Tap = c.kitchenTap(draws)
	for _, i := range draws {
		e.Limits[i] = c.limits(i, i == c.lead, e.Tap != nil)
		if _, broken := firstHard(e.Limits[i]); !broken && e.Rule == nil {
			e.Meets += c.job.Draws[i].Weight
		}
	}
	for i, d := range c.job.Draws {
		if e.Limits[i] != nil || c.at(i) == failing || c.at(i) == given {
			e.Known += d.Weight
		}
	}
	e.First, e.Fails = c.first(e)
	return e
}

// limits lists the limits of draw i in flow order: all, or only those that are
// broken; tap is whether a kitchen tap stands beside the train.
func (c *carried) limits(i int, all, tap bool) []Placed {
	g := gathered{all: all, tap: tap}
	c.wholeLimits(i, &g)
	ls := make([]Placed, 0, len(g.ls)+8)
	name := c.job.Draws[i].Name
	for k := range c.links {
		of := c.links[k].Outcomes[i].Limits
		for n := range of {
			if g.all || of[n].Fails() {
				ls = append(ls, Placed{&of[n], k, name})
			}
		}
	}
	for n := range g.ls {
		ls = append(ls, Placed{&g.ls[n], Whole, name})
	}
	return ls
}

// first is the first limit to fail: a broken order rule, else the first hard
// limit broken in the middle water, else the likeliest to be broken first in the
// other waters, else
// the caution on which print disagrees most, else the thinnest of the middle.
func (c *carried) first(e Evaluation) (Placed, bool) {
	if e.Rule != nil {
		rule := ruleLimit(*e.Rule)
		return Placed{&rule, Whole, c.job.Draws[c.job.middle].Name}, true
	}
	if l, broken := c.firstOf(c.job.middle, e); broken {
		return l, true
	}
	if l, any := c.likeliestFirst(e); any {
		return l, false
	}
	mid := e.Limits[c.lead]
	if l, any := mostDoubtful(mid); any {
		return l, false
	}
	return thinnest(mid), false
}

// likeliestFirst is the limit that fails first in the greatest weight of the
// other waters.
func (c *carried) likeliestFirst(e Evaluation) (best Placed, any bool) {
	weight := map[Broken]float64{}
	most := 0.0
	for i, d := range c.job.Draws {
		l, broken := c.firstOf(i, e)
		if !broken || i == c.job.middle {
			continue
		}
		at := Broken{l.Stage, l.ID}
		if weight[at] += d.Weight; weight[at] > most+1e-12 {
			best, any, most = l, true, weight[at]
		}
	}
	return best, any
}

// firstOf is the first hard limit that a draw breaks, as far as it was carried.
func (c *carried) firstOf(i int, e Evaluation) (Placed, bool) {
	if e.Limits[i] != nil {
		return firstHard(e.Limits[i])
	}
	for k, l := range c.links {
		for n := range l.Outcomes[i].Limits {
			if x := &l.Outcomes[i].Limits[n]; x.Hard() {
				return Placed{x, k, c.job.Draws[i].Name}, true
			}
		}
	}
	return Placed{Limit: &stage.Limit{}}, false
}

// mostDoubtful is the caution furthest towards its refusal.
func mostDoubtful(ls []Placed) (best Placed, any bool) {
	furthest := 0.0
	for _, l := range ls {
		if l.Doubtful && l.Fails() && l.Doubt > furthest {
			best, any, furthest = l, true, l.Doubt
		}
	}
	return best, any
}

// ruleLimit shows a broken order rule as a limit: none allowed, one there.
func ruleLimit(r OrderRule) stage.Limit {
	return stage.Limit{ID: r.ID, Have: 1, Need: 0, Unit: "count", AtMost: true, Say: r.Say, Kind: r.Kind, From: r.From}
}

func firstHard(ls []Placed) (Placed, bool) {
	for _, l := range ls {
		if l.Hard() {
			return l, true
		}
	}
	return Placed{Limit: &stage.Limit{}}, false
}

// thinnest is the hard limit with the least margin, of those that are measured.
func thinnest(ls []Placed) Placed {
	best := Placed{Limit: &stage.Limit{}}
	least := 100.0
	for _, l := range ls {
		if l.Margin() < least && !l.Soft && !l.YesOrNo() {
			best, least = l, l.Margin()
		}
	}
	return best
}

// quest is the train so far as the grammar looks at it.
func (c *carried) quest() quest {
	d := &c.job.Draws[c.lead]
	return quest{
		raw: d.Water, now: c.water(c.lead), want: c.job.Want, site: c.job.Site, so: c.so,
		weak: c.job.weak(c.lead), slimed: d.Water.Bacteria > c.job.Site.Factors.Of(slimeAt), jars: d.Supply.Jars,
	}
}

// weak reports whether the pump gives less than the house asks or than the
// smallest usual bed needs for its wash.
func (w *Work) weak(i int) bool {
	have := w.available[i].GPM()
	asked := w.Draws[i].Supply.Peak.GPM() + w.Draws[i].Supply.Raw.Peak.GPM()
	return have < asked || have < w.Site.Factors.Of(weakWash)
}

func notBuilt(p media.Process) error {
	if p == media.WellRehabilitation || p == media.ShockDisinfection {
		return fmt.Errorf("%s is work on the well, not a stage of a train: plan speaks of it before the options", p)
	}
	return fmt.Errorf("%s (%s) is not yet built", p, p.Words())
}

var slimeAt = source.Factor{
	Name: "iron_bacteria_act_at", What: "probability of iron bacteria from which a train is designed against slime",
	Value: 0.5, Low: 0.3, High: 0.8, Kind: source.Judgement, From: "likelier than not",
}

var weakWash = source.Factor{
	Name: "weak_pump_below", What: "pump flow below which storage and a booster are considered", Unit: "gpm",
	Value: 5.5, Low: 4, High: 7, Kind: source.CommonPractice, From: "wash of the smallest usual bed, 10 in at 10 gpm/ft2",
}

// Rerun carries the middle of the draws once more through a train already
// sized, calling before ahead of each stage, so that working can be recorded. Each
// stage is told of what stands behind it as much as it was when it was evaluated.
func (w *Work) Rerun(e Evaluation, before func(Link)) {
	c, told := w.start(), e.told()
	for _, l := range e.Links {
		x, ok := stage.Of(l.Process)
		if !ok {
			return
		}
		before(l)
		after := told[len(c.links)]
		j := c.jobFor(w.middle, after)
		c = c.with(x, candidate{size: l.Size, out: x.Run(&j, l.Size)}, after)
	}
}

// told is what each stage was told of the stages behind it: nothing by a search.
func (e Evaluation) told() []Train {
	told := make([]Train, len(e.Links))
	for k := range told {
		told[k] = e.Train[k+1:]
	}
	for c := e.end; c != nil && c.ahead != nil; c = c.ahead {
		told[len(c.links)-1] = c.after
	}
	return told
}
