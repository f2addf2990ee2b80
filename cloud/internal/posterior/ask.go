package posterior

import (
	"math"
	"runtime"
	"sort"
	"sync"
)

// Draw is one plausible water and the world it belongs to.
type Draw struct {
	Amount [nQuantities]float64
	Redox  int   // class of the prior
	Form   int   // class of the forms asked about
	Faults []int // of the faults asked about
}

// Answer is what is believed after the results.
type Answer struct {
	Draws     []Draw // of equal weight
	Effective float64
	Distinct  int
	Steps     int       // of tempering
	Faulty    []float64 // chance of each fault
	NoFault   float64
	LogChance float64 // of all the results
}

// Model is a prior with the charges of its coordinates.
type Model struct {
	Prior   Prior
	Charges Charges
}

// Ask answers a question. It is deterministic: the same question with the same
// seed gives the same draws on any number of processors.
func (m *Model) Ask(q Question) Answer {
	b := newProblem(&m.Prior, m.Charges, q)
	fits := b.fits()
	if len(fits) == 0 { // no water fits what was read: believe none of it
		b.Measures = nil
		fits = b.fits()
	}
	return b.sample(fits)
}

// Weigh returns the chance of each class of forms by the fitted Gaussians alone,
// nothing wrong with the results that keep says yes to.
func (m *Model) Weigh(q Question, keep func(int) bool) []float64 {
	var ms []Measure
	for i, x := range q.Measures {
		if keep(i) {
			ms = append(ms, x)
		}
	}
	q.Measures = ms
	b := newProblem(&m.Prior, m.Charges, q)
	chance := make([]float64, len(b.Forms))
	fits := b.settleAll(b.worlds(nil, b.pairs()), nil)
	top := highest(fits)
	sum := 0.0
	for _, f := range fits {
		p := math.Exp(f.evidence - top)
		chance[f.forms] += p
		sum += p
	}
	for i := range chance {
		chance[i] /= sum
	}
	return chance
}

// pairs lists every class of redox with every class of forms.
func (b *problem) pairs() [][2]int {
	var ps [][2]int
	for c := range b.prior.Classes {
		for f := range b.Forms {
			ps = append(ps, [2]int{c, f})
		}
	}
	return ps
}

// fits lays a Gaussian on every world that matters: first with nothing wrong,
// over all classes; then each fault, and the plausible pairs, over the classes of
// redox that stood up and all forms.
func (b *problem) fits() []fit {
	plain := b.settleAll(b.worlds(nil, b.pairs()), nil)
	pairs := b.standing(plain)
	var singles []world
	for i := range b.Faults {
		singles = append(singles, b.worlds([]int{i}, pairs)...)
	}
	all := append(append([]fit(nil), plain...), b.settleAll(singles, plain)...)
	var doubles []world
	for _, set := range b.plausiblePairs(highest(plain), b.bestOf(all)) {
		doubles = append(doubles, b.worlds(set, pairs)...)
	}
	return kept(append(all, b.settleAll(doubles, all)...))
}

// bestOf is the highest evidence for each fault alone.
func (b *problem) bestOf(fits []fit) []float64 {
	best := make([]float64, len(b.Faults))
	for i := range best {
		best[i] = math.Inf(-1)
	}
	for _, f := range fits {
		if len(f.faults) == 1 {
			best[f.faults[0]] = math.Max(best[f.faults[0]], f.evidence)
		}
	}
	return best
}

// standing are the classes worth pairing with faults: all forms in the classes
// of redox that hold most of the chance.
func (b *problem) standing(fits []fit) [][2]int {
	chance := make([]float64, len(b.prior.Classes))
	top := highest(fits)
	for _, f := range fits {
		chance[f.redox] += math.Exp(f.evidence - top)
	}
	order := make([]int, len(chance))
	sum := 0.0
	for i, p := range chance {
		order[i] = i
		sum += p
	}
	sort.SliceStable(order, func(i, k int) bool { return chance[order[i]] > chance[order[k]] })
	var ps [][2]int
	for n, c := range order {
		if n >= 2 && chance[c] < 0.05*sum {
			break
		}
		for f := range b.Forms {
			ps = append(ps, [2]int{c, f})
		}
	}
	return ps
}

func highest(fits []fit) float64 {
	top := math.Inf(-1)
	for _, f := range fits {
		top = math.Max(top, f.evidence)
	}
	return top
}

// kept drops the fits without a chance, the likeliest first.
func kept(fits []fit) []fit {
	top := highest(fits)
	var ks []fit
	for _, f := range fits {
		if f.evidence > top-dropped {
			ks = append(ks, f)
		}
	}
	sort.SliceStable(ks, func(i, k int) bool { return ks[i].evidence > ks[k].evidence })
	return ks
}

// dropped is the logarithm of the odds beyond which a world is left out: one in
// three thousand.
const dropped = 8

// settleAll fits every world, each from where its density is highest among a
// start of its own and the modes of the same classes with fewer faults.
func (b *problem) settleAll(ws []world, from []fit) []fit {
	type slot struct {
		fit
		ok bool
	}
	slots := make([]slot, len(ws))
	each(len(ws), func(i int) {
		slots[i].fit, slots[i].ok = b.settle(ws[i], b.bestStart(&ws[i], from))
	})
	var fits []fit
	for i := range slots {
		if slots[i].ok {
			fits = append(fits, slots[i].fit)
		}
	}
	return fits
}

func (b *problem) bestStart(w *world, from []fit) vector {
	var s state
	best := b.start(w)
	top := b.density(w, &s, &best)
	for i := range from {
		f := &from[i]
		if f.redox != w.redox || f.forms != w.forms || len(f.faults) > 0 && !within(f.faults, w.faults) {
			continue
		}
		if l := b.density(w, &s, &f.mode); l > top {
			best, top = f.mode, l
		}
	}
	return best
}

// within reports whether all of a are in b.
func within(a, b []int) bool {
	for _, x := range a {
		found := false
		for _, y := range b {
			found = found || x == y
		}
		if !found {
			return false
		}
	}
	return true
}

// Each runs f for every index on all processors; f must write only what is its own.
func Each(n int, f func(int)) { each(n, f) }

// each runs f for every index on all processors, in blocks that do not depend on
// their number.
func each(n int, f func(int)) {
	const block = 8
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), (n+block-1)/block) {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for from := range next {
				for i := from; i < min(from+block, n); i++ {
					f(i)
				}
			}
		}()
	}
	for from := 0; from < n; from += block {
		next <- from
	}
	close(next)
	wg.Wait()
}
