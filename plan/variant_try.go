package plan

import (
	"errors"
	"fmt"
	"math"

	"wellwright/train"
)

// Tried is what a variant comes to, beside the book's own first choice.
type Tried struct {
	Coarse bool             `json:"coarse"`       // a first answer, from a few of the plausible waters
	Now    *Option          `json:"now"`          // the first choice of the book as it is; null: there is none
	Then   *Option          `json:"then"`         // null: no train holds, or none is asked for
	Say    string           `json:"say"`          // why there is nothing to show; "" where there is
	Meets  bool             `json:"meets"`        // every hard limit, in the likeliest water
	Rule   string           `json:"order_rule"`   // the rule of order that the train breaks; "" if none
	Limits []Limit          `json:"limits"`       // every limit in the likeliest water, in flow order
	First  []string         `json:"first_choice"` // the train that would come first; null: not looked for
	RawNow map[string]Range `json:"raw_now"`      // raw water at T1
	Raw    map[string]Range `json:"raw"`
	Draws  int              `json:"draws"` // plausible waters that the variant was carried through

	CostError float64 `json:"expected_cost_standard_error_usd"` // of then, from the number of draws

	now, then ranked
	base, is  *Desk
}

// ErrGivenUp is returned for a question that nobody waits for any longer.
var ErrGivenUp = errors.New("the question was given up")

// Try is a first answer to a variant, in a moment: over a few of the plausible
// waters, with the trains that the search of the book itself has found.
func (d *Desk) Try(v Variant) (Tried, error) {
	own := d.warm.chosen()
	v, err := own.named(v)
	if err != nil {
		return Tried{}, err
	}
	if v.Plain() {
		return d.asItIs(own), nil
	}
	base := d.few().shortened()
	e := base
	if v.turns() {
		e = d.few().under(v).shortened()
	}
	t := Tried{Coarse: true, base: base, is: e}
	t.from(own, coarseDraws)
	r, err := e.tried(v, d.warm, own)
	if err != nil {
		return Tried{}, err
	}
	return t.to(r, coarseRounds, own.refuge)
}

// tried is the train that a variant names, else the best of those that the book's
// own search has found; nil: none holds.
func (d *Desk) tried(v Variant, m *memory, o own) (*ranked, error) {
	if v.Train == nil {
		if d.needsNothing() {
			return nil, nil
		}
		rs := d.known(m.searched(), quickRounds)
		if len(rs) == 0 {
			return nil, nil
		}
		v.Train = rs[0].Train
	}
	r, err := d.sizedAs(v.Train, v.Sizes)
	return &r, err
}

// quickRounds pick the train of a first answer.
var quickRounds = []heat{{24, 3, 0}, {60, 1, 0}}

// TryWhole is the answer to a variant over all plausible waters, with a search of
// its own where water, well, wishes or prices are others. Quit is asked between the
// steps, and gives the work up.
func (d *Desk) TryWhole(v Variant, quit func() bool) (Tried, error) {
	own := d.warm.chosen()
	v, err := own.named(v)
	if err != nil {
		return Tried{}, err
	}
	if v.Plain() {
		return d.asItIs(own), nil
	}
	e, err := d.reweighed(v)
	if err != nil {
		return Tried{}, err
	}
	e = e.under(v)
	t := Tried{base: d, is: e}
	t.from(own, math.MaxInt)
	refuge, first := own.refuge, own.first
	if v.turns() {
		if refuge, first, err = e.chooseAnew(quit); err != nil {
			return Tried{}, err
		}
	}
	if first != nil {
		t.First = names(first.Train)
	}
	if v.Train == nil {
		return t.to(first, nil, refuge)
	}
	if quit() {
		return Tried{}, ErrGivenUp
	}
	r, err := e.sizedAs(v.Train, v.Sizes)
	if err != nil {
		return Tried{}, err
	}
	return t.to(&r, rounds, refuge)
}

// chooseAnew searches a desk of its own and returns its first choice, nil where
// there is none.
func (d *Desk) chooseAnew(quit func() bool) (refuge float64, first *ranked, err error) {
	if quit() {
		return 0, nil, ErrGivenUp
	}
	if d.needsNothing() {
		return 0, nil, nil
	}
	all := d.priced(d.Work.Search().Trains)
	if quit() {
		return 0, nil, ErrGivenUp
	}
	c := d.choose(all)
	if quit() {
		return 0, nil, ErrGivenUp
	}
	if len(c.options) > 0 {
		first = &c.options[0]
	}
	return c.refuge, first, nil
}

// named gives sizes without a train the train of the first choice, and checks all.
func (o own) named(v Variant) (Variant, error) {
	if v.Train == nil && len(v.Sizes) > 0 {
		if o.first == nil {
			return v, errors.New("a size is given, but there is no train to give it to: name one")
		}
		v.Train = o.first.Train
	}
	return v, errors.Join(v.Check()...)
}

// asItIs is the answer to a variant that asks nothing new.
func (d *Desk) asItIs(o own) Tried {
	t := Tried{base: d, is: d, Say: o.say}
	t.from(o, math.MaxInt)
	t.RawNow = d.raw()
	t.Raw = t.RawNow
	if o.first == nil {
		return t
	}
	then := o.option
	t.Then, t.then, t.First = &then, *o.first, then.Train
	t.tell()
	return t
}

// few is the desk with the first of the plausible waters alone.
func (d *Desk) few() *Desk {
	e := *d
	e.Cloud.Draws = d.Cloud.Draws[:min(coarseDraws, len(d.Cloud.Draws))]
	e.Cloud.Quality.Asked, e.Cloud.Quality.Coarse = len(e.Cloud.Draws), true
	return &e
}

// shortened is the desk with a search over no more waters than its cloud has.
func (d *Desk) shortened() *Desk {
	e, w := *d, *d.Work
	if w.Whole != nil {
		w.Whole, w.Full = d.Cloud.Draws, coarseFull
	}
	e.Work = &w
	return &e
}

// sizedAs is a train sized as one that is offered: by the likeliest water and a
// fair sample of the cloud; where it fails there, by the spread draws.
func (d *Desk) sizedAs(t train.Train, g train.Given) (ranked, error) {
	w := d.Work.With(g)
	if w.Whole != nil {
		if e := w.Settle([]train.Evaluation{{Train: t}})[0]; !e.Fails {
			return d.price(e), nil
		}
	}
	e := w.EvaluateAll([]train.Train{t})[0]
	if len(e.Links) == 0 {
		return ranked{}, fmt.Errorf("%s: one of its stages has no size that serves here", t)
	}
	return d.completed(w.Complete(e), 0), nil
}

// from fills in the book's own first choice, over no more waters than the variant
// is carried through.
func (t *Tried) from(o own, most int) {
	t.RawNow = t.base.raw()
	if o.first == nil {
		return
	}
	t.now = *o.first
	now := o.option
	if t.now.over != nil && len(t.now.over.Over) > most {
		short := *t.now.over
		short.Over = short.Over[:most]
		t.now.over = &short
		t.base.judge(&t.now, o.refuge)
		now = t.base.option(t.now)
		now.Rank, now.Companions = 1, o.option.Companions
	}
	now.Regret = nil // of the list it was chosen from
	t.Now = &now
}

// to carries the variant's train over the waters and fills it in.
func (t Tried) to(r *ranked, over []heat, refuge float64) (Tried, error) {
	d := t.is
	t.Raw = d.raw()
	if r == nil {
		t.Say = "No train looked at holds then."
		if d.needsNothing() {
			t.Say = "The water then asks for no treatment."
		}
		return t, nil
	}
	if d.expect(r, refuge); d.Work.Whole != nil && over != nil {
		*r = d.compare([]ranked{*r}, refuge, over)[0]
	}
	o := d.option(*r)
	o.Regret, o.Companions = nil, d.Companions(r.Evaluation)
	t.Then, t.then = &o, *r
	t.CostError = d.costError(r, refuge)
	t.tell()
	return t, nil
}

// tell fills in what the train of the variant meets.
func (t *Tried) tell() {
	e := t.then.Evaluation
	t.Meets, t.Limits = !e.Fails, []Limit{}
	if e.Rule != nil {
		t.Rule = e.Rule.Say
	}
	for _, l := range e.Limits[e.Lead] {
		t.Limits = append(t.Limits, t.is.limit(e, l))
	}
	if t.then.over != nil {
		t.Draws = len(t.then.over.Over)
	}
}

// costError is the standard error of an expected cost over the draws it was
// counted in.
func (d *Desk) costError(r *ranked, refuge float64) float64 {
	if r.over == nil || len(r.over.Over) == 0 {
		return 0
	}
	n, sum, squares := float64(len(r.over.Over)), 0.0, 0.0
	for i := range r.over.Over {
		x := d.costIn(r, i, refuge)
		sum, squares = sum+x, squares+x*x
	}
	mean := sum / n
	worth := n
	if e := d.Cloud.Quality.Effective; e > 0 {
		worth = math.Min(worth, e)
	}
	return math.Sqrt(math.Max(0, squares/n-mean*mean) / worth)
}

// raw is the forecast at the first tap: the raw water by the same leaves.
func (d *Desk) raw() map[string]Range {
	m := map[string]Range{}
	column := make([]float32, len(d.Cloud.Draws))
	for _, q := range forecastLeaves {
		for i := range d.Cloud.Draws {
			column[i] = float32(q.of(d.Cloud.Draws[i].Water))
		}
		m[q.name] = rangeOver(q.of(d.likeliest().Water), column)
	}
	return m
}

// NowSubject is the book's own first choice as pictures take it; false: there is none.
func (t Tried) NowSubject() (Subject, bool) {
	return Subject{t.base, t.now, 1}, t.Now != nil
}

// ThenSubject is the variant as pictures take it; false: there is no train.
func (t Tried) ThenSubject() (Subject, bool) { return Subject{t.is, t.then, 0}, t.Then != nil }

// Courses are the ways of the water through the book's own first choice and through
// the variant's train; null where there is none.
func (t Tried) Courses() (now, then *Course) {
	now = t.base.warm.ownCourse()
	if t.Then != nil {
		c := t.is.courseOf(t.then)
		then = &c
	}
	return now, then
}

// coarseFull is how many waters of a first answer are worked out with the bill, for
// the range of the cost.
const coarseFull = 40
