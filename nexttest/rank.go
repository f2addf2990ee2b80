package nexttest

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"sort"
	"sync"

	"wellwright/cloud"
	"wellwright/cost"
)

// Offer is a test, or two made together, with what it is worth.
type Offer struct {
	Tests []Test
	Value
	Price cost.Range
	Days  float64 // until the result is known
	Rule  []Span  // what would be decided on each reading; nil unless one part is read
	To    int     // the decision most often gone over to; that of today if none is
}

// Span is a range of readings that lead to one decision.
type Span struct {
	Over, UpTo *float64 // nil: no bound on that side
	Decision   int
}

// Net is what the worth leaves over the price.
func (o Offer) Net() cost.Money { return o.Worth.Sub(o.Price.Mid) }

// Pays reports whether a test is worth more than its price.
func (o Offer) Pays() bool { return !o.None && o.Net().Cents() > 0 }

// Answer is every test on offer, the best for its price first.
type Answer struct {
	Now     int        // what would be decided today
	Perfect cost.Money // what it would be worth to know the well itself
	Offers  []Offer    // single tests, by worth less price
	Pairs   []Offer    // two together that leave more than either alone, by worth less price
	Round   Offer      // the best test with what adds to it; no tests: none pays
}

// pairsAmong is how many of the best tests are tried two by two.
const pairsAmong = 6

// Rank values every test on a table. The draws are those of the table. The same
// seed gives the same answer to the last bit on any number of cores.
func Rank(t *Table, draws []cloud.Draw, tests []Test, seed uint64) Answer {
	b := newBench(t, seed)
	a := Answer{Now: b.best, Perfect: t.Perfect(), Offers: make([]Offer, len(tests))}
	read := make([][]scale, len(tests))
	eachOf(len(tests), func(k int) {
		read[k] = simulate(tests[k], draws, seed).scales()
		a.Offers[k] = b.offer(read[k], tests[k])
	})
	order := make([]int, len(tests))
	for k := range order {
		order[k] = k
	}
	sort.SliceStable(order, func(x, y int) bool { return before(a.Offers[order[x]], a.Offers[order[y]]) })
	a.Pairs = b.pairs(a.Offers, read, order[:min(pairsAmong, len(order))])
	if len(order) > 0 && a.Offers[order[0]].Pays() { // a pair that leaves no more than the best test alone is no use
		a.Pairs = slices.DeleteFunc(a.Pairs, func(p Offer) bool { return p.Net().Cents() <= a.Offers[order[0]].Net().Cents() })
	}
	a.Round = b.round(a.Offers, read, order)
	sort.SliceStable(a.Offers, func(x, y int) bool { return before(a.Offers[x], a.Offers[y]) })
	return a
}

// roundMost is how many tests make a round, and roundAmong from how many of the
// best they are taken.
const (
	roundMost  = 5
	roundAmong = 8
)

// round begins with the best test and adds, one at a time, the test that leaves
// most beside those already made, as long as it adds more than its price by more
// than chance.
func (b *bench) round(all []Offer, read [][]scale, order []int) Offer {
	var made Offer
	var parts []scale
	if len(order) == 0 || !all[order[0]].Pays() {
		return made
	}
	made, parts = all[order[0]], read[order[0]]
	var left []int
	for _, k := range order[1:] {
		if !all[k].None && len(left) < roundAmong {
			left = append(left, k)
		}
	}
	for len(left) > 0 && len(made.Tests) < roundMost {
		joined := make([]Offer, len(left))
		eachOf(len(left), func(k int) {
			x := all[left[k]]
			joined[k] = Offer{Tests: slices.Concat(made.Tests, x.Tests), Price: made.Price.AddTogether(x.Price), Days: max(made.Days, x.Days)}
			if both := slices.Concat(parts, read[left[k]]); len(both) <= partsMost {
				joined[k].Value = b.value(both)
			}
		})
		best := -1
		for k, o := range joined {
			if o.Pays() && better(o, made) && (best < 0 || before(o, joined[best])) {
				best = k
			}
		}
		if best < 0 {
			break
		}
		made, parts = joined[best], slices.Concat(parts, read[left[best]])
		left = slices.Delete(left, best, best+1)
	}
	return made
}

// partsMost is how many figures a policy may look at.
const partsMost = 60

// before orders by what is left over the price, the worthless last.
func before(a, b Offer) bool {
	if a.None != b.None {
		return b.None
	}
	return a.Net().Cents() > b.Net().Cents()
}

// offer values one test.
func (b *bench) offer(ss []scale, t Test) Offer {
	o := Offer{Tests: []Test{t}, Value: b.value(ss), Price: t.Price, Days: t.Days}
	if o.To = b.best; !o.None {
		o.Rule, o.To = b.rule(ss)
	}
	return o
}

// pairs are those two together that leave more over their price than the better
// of the two alone, by more than chance.
func (b *bench) pairs(all []Offer, read [][]scale, best []int) []Offer {
	type couple struct{ x, y int }
	var cs []couple
	for k, x := range best {
		for _, y := range best[k+1:] {
			cs = append(cs, couple{x, y})
		}
	}
	found := make([]Offer, len(cs))
	eachOf(len(cs), func(k int) {
		x, y := cs[k].x, cs[k].y
		both := slices.Concat(read[x], read[y])
		o := Offer{Tests: []Test{all[x].Tests[0], all[y].Tests[0]}, Value: b.value(both), Price: all[x].Price.AddTogether(all[y].Price)}
		o.Days = max(all[x].Days, all[y].Days)
		o.None = o.None || !better(o, all[x]) || !better(o, all[y])
		if o.Pays() {
			_, o.To = b.rule(both)
		}
		found[k] = o
	})
	var keep []Offer
	for _, o := range found {
		if o.Pays() {
			keep = append(keep, o)
		}
	}
	sort.SliceStable(keep, func(x, y int) bool { return before(keep[x], keep[y]) })
	return keep
}

// better reports whether a pair leaves more than one of its tests, in the same
// draws, by two standard errors.
func better(pair, one Offer) bool {
	more := make([]float64, len(pair.gains))
	for i := range more {
		more[i] = pair.gains[i]
		if !one.None {
			more[i] -= one.gains[i]
		}
	}
	mean, se := meanError(more, 1)
	dearer := pair.Price.Mid.Sub(one.Price.Mid).USD()
	if one.None {
		dearer = pair.Price.Mid.USD()
	}
	return mean-dearer > errorsForWorth*se
}

// rule learns from all draws what would be decided on each reading, and which
// other decision comes of it most often.
func (b *bench) rule(ss []scale) ([]Span, int) {
	l := newLearner(b.t, ss)
	l.errors = sureErrors
	p := l.learn(&b.all, b.best)
	times := make([]int, len(b.t.Decisions))
	for i := range b.t.draws {
		times[p.decide(ss, i)]++
	}
	times[b.best] = 0
	to := b.best
	for d, n := range times {
		if n > times[to] {
			to = d
		}
	}
	if len(ss) != 1 || len(p.branches) == 0 {
		return nil, to
	}
	return spans(p, ss[0]), to
}

// spans writes a policy on one part as ranges of the reading.
func spans(p policy, s scale) []Span {
	var out []Span
	for c := range p.child {
		d := p.branches[p.child[c]].decision
		var upTo *float64
		if c < len(s.upTo) {
			upTo = &s.upTo[c]
		}
		if n := len(out); n > 0 && out[n-1].Decision == d {
			out[n-1].UpTo = upTo
			continue
		}
		var over *float64
		if c > 0 {
			over = &s.upTo[c-1]
		}
		out = append(out, Span{Over: over, UpTo: upTo, Decision: d})
	}
	return out
}

// simulate reads every draw once. Each test has chance of its own, by its name,
// so that adding one changes no other.
func simulate(t Test, draws []cloud.Draw, seed uint64) Results {
	h := fnv.New64a()
	h.Write([]byte(t.ID))
	r := rand.New(rand.NewPCG(seed, h.Sum64()))
	out := Results{Parts: t.Parts, Values: make([][]float64, len(t.Parts))}
	for k := range out.Values {
		out.Values[k] = make([]float64, len(draws))
	}
	got := make([]float64, len(t.Parts))
	for i := range draws {
		t.Read(&draws[i], r, got)
		for k, v := range got {
			if math.IsNaN(v) {
				v = math.Inf(-1) // no reading: a class of its own
			}
			out.Values[k][i] = v
		}
	}
	return out
}

// eachOf runs work for 0 to n−1 on all cores; each writes only its own place, so
// that the order of work cannot show.
func eachOf(n int, work func(k int)) {
	next := make(chan int, n)
	for k := range n {
		next <- k
	}
	close(next)
	var all sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for k := range next {
				work(k)
			}
		})
	}
	all.Wait()
}
