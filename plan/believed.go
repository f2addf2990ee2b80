package plan

import (
	"fmt"
	"math"
	"sort"
)

// bins is into how many parts of equal probability the waters are cut by one
// input, to see what comes first in each: enough to place a change, and waters
// enough in each for a mean.
const bins = 10

// believedFlips finds, for each input, the value within the cloud at which another
// option comes first when only that input is known, on either side of the
// likeliest. The likeliest change is told first.
func (d *Desk) believedFlips(rs []ranked) []Flip {
	var fs []Flip
	for _, name := range append(append([]string{}, flipDials...), supplyDials...) {
		dl, _ := dialNamed(name)
		fs = append(fs, d.believedFlipsOf(dl, rs)...)
	}
	sort.SliceStable(fs, func(i, k int) bool { return *fs[i].Probability > *fs[k].Probability })
	return fs
}

// supplyDials are the inputs of the supply that a cloud spreads.
var supplyDials = []string{"yield", "peak", "daily"}

// part is one bin of an input: its mean value and the mean cost of each option
// beyond the first, with the error of that mean.
type part struct {
	at          float64
	over, error []float64
}

func (d *Desk) believedFlipsOf(dl dial, rs []ranked) []Flip {
	xs := d.values(dl, len(rs[0].over.Over))
	parts := d.parts(xs, rs)
	if parts == nil {
		return nil
	}
	now := dl.now(d.Work.Draws[d.middle()])
	here := 0
	for here < len(parts)-1 && parts[here].at < now {
		here++
	}
	var fs []Flip
	for _, step := range []int{-1, 1} {
		if at, to, found := crossing(parts, here, step); found {
			p := beyond(xs, at, step)
			train := rs[to].Train.String()
			fs = append(fs, Flip{Input: dl.name, At: roundTo(at, 2), Unit: dl.unit, To: train, Probability: &p, Say: sayFlip(dl, now, at, train) + inHundred(p)})
		}
	}
	return fs
}

// values are an input's values in the first n draws of the cloud.
func (d *Desk) values(dl dial, n int) []float64 {
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = dl.now(d.Work.Whole[i])
	}
	return xs
}

// parts cuts the draws by an input; nil where it does not vary. A train that was
// carried through fewer draws is compared in those.
func (d *Desk) parts(xs []float64, rs []ranked) []part {
	order := make([]int, len(xs))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(a, b int) bool {
		if xs[order[a]] != xs[order[b]] {
			return xs[order[a]] < xs[order[b]]
		}
		return order[a] < order[b]
	})
	if xs[order[0]] == xs[order[len(order)-1]] || len(order) < 5*bins {
		return nil
	}
	ps := make([]part, bins)
	for b := range ps {
		ps[b] = d.part(xs, order[b*len(order)/bins:(b+1)*len(order)/bins], rs)
	}
	return ps
}

func (d *Desk) part(xs []float64, draws []int, rs []ranked) part {
	p := part{over: make([]float64, len(rs)), error: make([]float64, len(rs))}
	for _, i := range draws {
		p.at += xs[i] / float64(len(draws))
	}
	for k := 1; k < len(rs); k++ {
		n, sum, squares := 0.0, 0.0, 0.0
		for _, i := range draws {
			if i < len(rs[k].over.Over) {
				x := d.costIn(&rs[k], i, rs[k].refuge) - d.costIn(&rs[0], i, rs[0].refuge)
				n, sum, squares = n+1, sum+x, squares+x*x
			}
		}
		if n < 5 {
			p.over[k], p.error[k] = math.Inf(1), 0
			continue
		}
		p.over[k] = sum / n
		p.error[k] = math.Sqrt(math.Max(0, squares/n-p.over[k]*p.over[k]) / n)
	}
	return p
}

// crossing walks from a part outwards to the first in which another option is
// cheaper by more than two standard errors, and places the change between it and
// the last part in which the first option led.
func crossing(ps []part, here, step int) (at float64, to int, found bool) {
	for b := here + step; b >= 0 && b < len(ps); b += step {
		to = 0
		for k := 1; k < len(ps[b].over); k++ {
			if x := ps[b].over[k]; x < -2*ps[b].error[k] && (to == 0 || x < ps[b].over[to]) {
				to = k
			}
		}
		if to == 0 {
			continue
		}
		was := ps[b-step]
		for b-step != here && was.over[to] < 0 {
			b -= step
			was = ps[b-step]
		}
		low, high := was.over[to], ps[b].over[to]
		if low <= 0 || math.IsInf(low, 0) {
			return (was.at + ps[b].at) / 2, to, true
		}
		return was.at + (ps[b].at-was.at)*low/(low-high), to, true
	}
	return 0, 0, false
}

// beyond is the share of values past one, upwards or downwards.
func beyond(xs []float64, at float64, step int) float64 {
	n := 0
	for _, x := range xs {
		if (x-at)*float64(step) > 0 {
			n++
		}
	}
	return float64(n) / float64(len(xs))
}

func inHundred(p float64) string {
	if p < 0.01 {
		return " (in fewer than 1 of 100 plausible waters)"
	}
	return fmt.Sprintf(" (in %.0f of 100 plausible waters)", 100*p)
}
