package train

import (
	"math"
	"reflect"
	"runtime"
	"slices"
	"sort"
	"sync"

	"wellwright/cloud"
	"wellwright/stage"
	"wellwright/unit"
)

// Broken is a hard limit that a train breaks in one water.
type Broken struct {
	Stage int // place in the train counted from 0, or Whole
	Limit string
}

// Verdict is how one train fares in one plausible water. It is all that is kept
// of it there.
type Verdict struct {
	Fails  float64  // chance that it fails in this water: 1 where a hard limit is broken
	Calls  float64  // callbacks in ten years
	Broken []Broken // hard limits broken, in flow order, the first to fail first; nil: none
}

// Meets reports whether the train meets every hard limit in this water.
func (v Verdict) Meets() bool { return len(v.Broken) == 0 }

// Carried is a train carried over the draws of the whole cloud, in their order,
// as far as it was worth it. Draws are exchangeable, so that its first draws are
// a fair sample of all. Two trains are compared over the draws that both were
// carried through.
type Carried struct {
	Evaluation
	Over   []Verdict // Over[i] is the verdict in draw i of Work.Whole
	stages []columns
}

// columns are the figures of one stage, each by draw.
type columns struct {
	leaves [][]float32 // as Work.Leaves
	names  []string    // of settings, sorted
	values [][]float32 // by name
}

// Leaf is figure k of Work.Leaves behind a stage, by draw.
func (c Carried) Leaf(stage, k int) []float32 { return c.stages[stage].leaves[k][:len(c.Over)] }

// Setting is a setting of a stage by draw, NaN in a draw where it has none or was
// not worked out (see Work.Full); nil if the stage has none of that name.
func (c Carried) Setting(stage int, name string) []float32 {
	s := c.stages[stage]
	if k, found := slices.BinarySearch(s.names, name); found {
		return s.values[k][:len(c.Over)]
	}
	return nil
}

// Start makes trains ready to be carried over the whole cloud.
func (w *Work) Start(es []Evaluation) []*Carried {
	cs := make([]*Carried, len(es))
	for k, e := range es {
		cs[k] = &Carried{Evaluation: e}
		for _, l := range e.Links {
			cs[k].stages = append(cs[k].stages, w.columns(l.Outcomes[e.Lead]))
		}
	}
	return cs
}

// columns names the figures of one stage; there is no room for any yet.
func (w *Work) columns(o stage.Outcome) columns {
	c := columns{leaves: make([][]float32, len(w.Leaves)), values: make([][]float32, len(o.Settings))}
	for name := range o.Settings {
		c.names = append(c.names, name)
	}
	sort.Strings(c.names)
	return c
}

// grow makes room for n draws.
func (c columns) grow(n int) {
	for _, rows := range [][][]float32{c.leaves, c.values} {
		for k := range rows {
			rows[k] = append(make([]float32, 0, n), rows[k]...)[:n]
		}
	}
}

// Carry takes trains on to the first `to` draws of the whole cloud. All must
// have come equally far. Stages that begin several of them act once on a draw.
func (w *Work) Carry(cs []*Carried, to int) {
	if len(cs) == 0 {
		return
	}
	from := len(cs[0].Over)
	to = min(to, len(w.Whole))
	for _, c := range cs {
		c.Over = append(c.Over, make([]Verdict, max(to-from, 0))...)
		for _, s := range c.stages {
			s.grow(len(c.Over))
		}
	}
	root := roots(cs)
	inParallel(from, to, 16, func(i int) { w.walk(root, i) })
}

// inParallel calls f for from to to-1 on every processor, a block at a time;
// each call writes only what is its own, so that the order does not matter.
func inParallel(from, to, block int, f func(i int)) {
	var wg sync.WaitGroup
	starts := make(chan int)
	for range min(runtime.GOMAXPROCS(0), (to-from)/block+1) {
		wg.Go(func() {
			for s := range starts {
				for i := s; i < min(s+block, to); i++ {
					f(i)
				}
			}
		})
	}
	for s := from; s < to; s += block {
		starts <- s
	}
	close(starts)
	wg.Wait()
}

// branch is a stage as sized, common to several trains, and what follows it.
type branch struct {
	unit  stage.Process
	size  stage.Size
	below []*branch
	ends  []*Carried // trains that end here
	all   []*Carried // every train through it
}

// roots joins trains that begin alike.
func roots(cs []*Carried) *branch {
	root := &branch{}
	for _, c := range cs {
		b := root
		for _, l := range c.Links {
			b = b.child(l)
			b.all = append(b.all, c)
		}
		b.ends = append(b.ends, c)
	}
	return root
}

// child is the branch that holds a link, grown if need be.
func (b *branch) child(l Link) *branch {
	for _, x := range b.below {
		if x.unit.ID() == l.Process && reflect.DeepEqual(x.size, l.Size) {
			return x
		}
	}
	p, _ := stage.Of(l.Process)
	x := &branch{unit: p, size: l.Size}
	b.below = append(b.below, x)
	return x
}

// walk carries draw i through every branch.
func (w *Work) walk(root *branch, i int) {
	one := w.alone(&w.Whole[i])
	start := one.start()
	start.asked = true
	one.down(start, root, i)
}

// alone is the search with one draw.
func (w *Work) alone(d *cloud.Draw) *Work {
	one := *w
	one.Draws, one.Whole, one.middle, one.core = []cloud.Draw{*d}, nil, 0, []int{0}
	one.peaks = []unit.Flow{peakOf(d, &d.Supply.Hydraulic, d.Supply.Raw.Peak)}
	return &one
}

// down takes the one draw of a search through the stages below a branch and
// notes it in column i of every train.
func (w *Work) down(c *carried, b *branch, i int) {
	for _, end := range b.ends {
		end.Over[i] = w.verdict(c, end.Tap != nil)
	}
	for _, x := range b.below {
		j := c.jobFor(0, nil)
		j.Lean = i >= w.Full
		next := c.with(x.unit, candidate{size: x.size, out: x.unit.Run(&j, x.size)}, nil)
		w.keep(next, x, i)
		w.down(next, x, i)
	}
}

// keep writes the figures of the last stage into the columns of its trains.
func (w *Work) keep(c *carried, b *branch, i int) {
	at, o := len(c.links)-1, &c.last().Outcomes[0]
	for _, t := range b.all {
		s := t.stages[at]
		for k, leaf := range w.Leaves {
			s.leaves[k][i] = float32(leaf(o))
		}
		for k, name := range s.names {
			v, has := o.Settings[name]
			if !has {
				v = math.NaN()
			}
			s.values[k][i] = float32(v)
		}
	}
}

// verdict is how the train fares in the one draw, with a kitchen tap beside it or
// without.
func (w *Work) verdict(c *carried, tap bool) Verdict {
	ls := c.limits(0, false, tap)
	var v Verdict
	for _, l := range ls {
		if l.Hard() {
			v.Broken = append(v.Broken, Broken{l.Stage, l.ID})
		}
	}
	if w.Fails != nil {
		v.Fails, v.Calls = w.Fails(ls)
	} else if !v.Meets() {
		v.Fails = 1
	}
	return v
}
