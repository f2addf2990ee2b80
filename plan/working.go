package plan

import (
	"sync"

	"wellwright/cost"
	"wellwright/formula"
	"wellwright/source"
	"wellwright/train"
)

// working carries the first option once more through the middle water with the
// working written down, and prices it so.
func (d *Desk) working(rs []ranked) []formula.Placed {
	if d != d.warm.of { // another cloud was put in the place of what the evidence says
		return d.workingOf(rs[0])
	}
	return append(d.EvidenceWorking(), d.workingOf(rs[0])...)
}

// EvidenceWorking is the working of what is believed of the raw water and the well.
func (d *Desk) EvidenceWorking() []formula.Placed {
	return append([]formula.Placed{}, d.shown.evidence.Steps()...)
}

// Working is the working of every figure of a train that can be opened: sized as
// the desk's own answer offers it, if it does, else as Why sizes it.
func (d *Desk) Working(t train.Train) ([]formula.Placed, error) {
	if r, ok := d.shown.find(t); ok {
		return d.workingOf(r), nil
	}
	e, err := d.Work.Evaluate(t)
	if err != nil || len(e.Links) == 0 {
		return nil, err
	}
	r := d.completed(d.Work.Complete(e), 0)
	d.expect(&r, r.own) // there is nothing to turn to
	return d.workingOf(r), nil
}

// workingOf carries a train through the middle water and prices it, with the
// working written down.
func (d *Desk) workingOf(r ranked) []formula.Placed {
	w := &formula.Working{}
	site := *d.Work.Site
	site.Working = w
	again := train.NewWork(&site, d.Work.Draws[d.middle():d.middle()+1], d.Work.Want)
	again.Rerun(r.Evaluation, func(l train.Link) { w.At(string(l.Process)) })
	w.At(costPlace)
	bill, _ := d.bill(r.Evaluation)
	d.work(bill, w)
	d.showExpected(r, bill, w)
	d.showMeets(r, w)
	return w.Steps()
}

// costPlace is where the working of a train's costs stands.
const costPlace = "cost"

// The figures of an option that are worked out over all waters.
const (
	ownCostFigure  = "cost with own time"
	expectedFigure = "expected cost"
	meetsFigure    = "meets every limit"
)

// showExpected records how the expected cost came about: the cost with the owner's
// time, and what failing and callbacks add to it on the mean.
func (d *Desk) showExpected(r ranked, b cost.Bill, w *formula.Working) {
	sym := formula.Sym
	w.Add(formula.Step{
		Figure: ownCostFigure, Equation: "own = mean of ten years + hour × h × years", Value: r.own, Unit: "USD", Source: "definition",
		Symbols: formula.Syms(sym("mean of ten years", cost.Expected(b, d.ask.Prices, d.set).USD(), "USD"), sym("h", b.Hours, "h a year")),
		Factors: d.in(ownerHour, lossYears),
	})
	step := formula.Step{
		Figure: expectedFigure, Equation: "expected = own + p × (wrong unit + max(0, refuge − own)) + n × callback", Value: r.expected, Unit: "USD", Source: "definition: the mean over the plausible waters",
		Symbols: formula.Syms(sym("own", r.own, "USD"), sym("p", r.chance, "chance of failing"), sym("refuge", r.refuge, "USD, the train one would turn to"), sym("n", r.calls, "callbacks in ten years")),
		Factors: d.in(wrongUnit, callback),
	}
	if r.failedHere {
		step.Equation += ", with p = 1 − (1 − p)(1 − fails again)"
		step.Factors = append(step.Factors, d.in(failsAgain)...)
	}
	w.Add(step)
}

// showMeets records the count behind the chance of meeting every limit.
func (d *Desk) showMeets(r ranked, w *formula.Working) {
	if r.over == nil {
		return
	}
	n := 0
	for _, v := range r.over.Over {
		if v.Meets() {
			n++
		}
	}
	m := d.meets(r)
	w.Add(formula.Step{
		Figure: meetsFigure, Equation: "P = n / N, error √(P (1 − P) / min(N, N independent))", Value: m.P, Source: "definition: a count over the plausible waters",
		Symbols: formula.Syms(formula.Sym("n", float64(n), "waters in which every limit is met"), formula.Sym("N", float64(len(r.over.Over)), "waters carried"),
			formula.Sym("N independent", d.Cloud.Quality.Effective, "waters"), formula.Sym("error", m.Error, "")),
	})
}

// in are factors as they stand in this well's book.
func (d *Desk) in(fs ...source.Factor) []source.Factor {
	for k := range fs {
		fs[k] = d.set.In(fs[k])
	}
	return fs
}

// shown is what a desk keeps of its answer, so that every figure of it can be
// opened later.
type shown struct {
	evidence *formula.Working
	lock     sync.Mutex
	options  []ranked
}

// keep takes the options of an answer.
func (s *shown) keep(rs []ranked) {
	s.lock.Lock()
	defer s.lock.Unlock()
	s.options = rs
}

// find returns the option that a train is, if it is one.
func (s *shown) find(t train.Train) (ranked, bool) {
	r, rank := s.ranked(t)
	return r, rank > 0
}

// ranked returns the option that a train is, with its rank; 0 if it is none.
func (s *shown) ranked(t train.Train) (ranked, int) {
	s.lock.Lock()
	defer s.lock.Unlock()
	for i, r := range s.options {
		if r.Train.String() == t.String() {
			return r, i + 1
		}
	}
	return ranked{}, 0
}

// Shown is the train as the desk's own answer offers it, if it does: the same as
// Subject, without a second search.
func (d *Desk) Shown(t train.Train) (Subject, error) {
	if r, rank := d.shown.ranked(t); rank > 0 {
		return Subject{d, r, rank}, nil
	}
	return d.Subject(t)
}

// Explain is Why of a train as the desk's own answer offers it, if it does: with
// the sizes of the list, and without a search of its own.
func (d *Desk) Explain(t train.Train) (Why, error) {
	r, ok := d.shown.find(t)
	if !ok {
		return d.Why(t)
	}
	w := Why{Well: d.Present.Name, Meets: !r.Fails, Share: r.Meets, Option: d.option(r), Limits: []Limit{}}
	w.Option.Companions = d.Companions(r.Evaluation)
	for _, l := range r.Limits[r.Lead] {
		w.Limits = append(w.Limits, d.limit(r.Evaluation, l))
	}
	if r.Fails {
		w.Change = sayLimit(d.limit(r.Evaluation, r.First))
	}
	return w, nil
}
