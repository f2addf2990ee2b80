package nexttest

import (
	"math"
	"math/rand/v2"

	"wellwright/cost"
)

// Value is what a test, or two made together, would be worth.
type Value struct {
	Worth, Error cost.Money // expected saving and its standard error
	None         bool       // not told from nothing: within two standard errors
	Changes      float64    // share of the draws in which the choice would be another
	gains        []float64  // saved in each draw by those who had no part in the learning
}

// folds is how many parts the draws are cut into: each is decided upon by what
// was learnt from the others.
const folds = 5

// shuffles is how many meaningless readings each test is measured against.
const shuffles = 2

// errorsForWorth is how many standard errors a worth must stand above nothing.
const errorsForWorth = 2

// bench is a table made ready to value tests: what would be decided now, and who
// is left out of which lesson.
type bench struct {
	t       *Table
	best    int
	fold    []int
	lessons [folds]lesson
	all     lesson
	shuffle [shuffles][]int
}

func newBench(t *Table, seed uint64) *bench {
	r := rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))
	b := &bench{t: t, best: t.Best(), fold: make([]int, t.draws)}
	for k, i := range r.Perm(t.draws) {
		b.fold[i] = k % folds
	}
	for i, f := range b.fold {
		for k := range b.lessons {
			if k != f {
				b.lessons[k].members = append(b.lessons[k].members, i)
			}
		}
	}
	for k := range b.lessons {
		b.lessons[k].without, b.lessons[k].spread = k, t.spread(b.lessons[k].members, b.best)
	}
	b.all.without = -1
	for i := range t.draws {
		b.all.members = append(b.all.members, i)
	}
	b.all.spread = t.spread(b.all.members, b.best)
	for k := range b.shuffle {
		b.shuffle[k] = r.Perm(t.draws)
	}
	return b
}

// value works out what a test with these results is worth.
//
//	worth = mean g − max(0, mean h)
//
//	g  loss of what would be decided now less that of the policy, in a draw that
//	   had no part in learning it, US dollars
//	h  the same for a reading that means nothing: the test's own, dealt out to the
//	   draws at random
//
// Range: some hundreds of draws of equal weight and more. Error: the standard
// error of the paired differences g − h.
// Source: expected value of sample information, Raiffa and Schlaifer, Applied
// Statistical Decision Theory (1961); by regression on simulated results, Strong,
// Oakley, Brennan and Breeze, Medical Decision Making 35:570 (2015) (both from
// memory; texts not seen).
func (b *bench) value(ss []scale) Value {
	v, l := Value{gains: make([]float64, b.t.draws)}, newLearner(b.t, ss)
	v.Changes = b.gains(l, v.gains)
	if v.None = v.Changes == 0; v.None { // nothing it might read changes the choice
		return v
	}
	null := make([]float64, b.t.draws)
	for _, order := range b.shuffle {
		l.ss = shuffled(ss, order)
		b.gains(l, null)
	}
	v.settle(null)
	return v
}

// settle takes off what a meaningless reading gets.
func (v *Value) settle(null []float64) {
	lucky, _ := meanError(null, shuffles)
	mean, _ := meanError(v.gains, 1)
	both := make([]float64, len(null))
	for i := range both {
		both[i] = v.gains[i] - null[i]/shuffles
	}
	_, se := meanError(both, 1)
	worth := mean - max(0, lucky)
	v.Worth, v.Error = cost.USD(worth), cost.USD(se)
	v.None = worth <= 0 || worth < errorsForWorth*se
}

// meanError is the mean of some figures over a divisor, and its standard error.
func meanError(xs []float64, over float64) (mean, se float64) {
	n := float64(len(xs))
	for _, x := range xs {
		mean += x / over
	}
	mean /= n
	for _, x := range xs {
		se += (x/over - mean) * (x/over - mean)
	}
	return mean, math.Sqrt(se / (n - 1) / n)
}

// gains adds to each draw what the policy learnt from the others saves there, and
// returns the share of draws in which it decides otherwise.
func (b *bench) gains(l *learner, into []float64) float64 {
	l.fold(b.fold)
	var ps [folds]policy
	for k := range b.lessons {
		ps[k] = l.learn(&b.lessons[k], b.best)
	}
	changed := 0
	for i := range b.t.draws {
		if d := ps[b.fold[i]].decide(l.ss, i); d != b.best {
			row := b.t.row(i)
			into[i] += row[b.best] - row[d]
			changed++
		}
	}
	return float64(changed) / float64(max(1, b.t.draws))
}
