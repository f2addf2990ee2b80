package statistic

import (
	"math"
	"slices"
)

// Two figures closer than this, relative to the larger, are tied: differences
// of decimal figures that are equal on paper differ in the last binary digits.
const tieTolerance = 1e-9

func tied(a, b float64) bool {
	return math.Abs(a-b) <= tieTolerance*math.Max(math.Abs(a), math.Abs(b))
}

// ranks holds the midranks of a sample, doubled so that they are whole.
type ranks struct {
	doubled []int // in the order of the sample
	ties    []int // sizes of the groups of tied figures, two or more
}

func rankOf(xs []float64) ranks {
	order := make([]int, len(xs))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return sign(xs[i] - xs[j]) })
	r := ranks{doubled: make([]int, len(xs))}
	for i := 0; i < len(order); {
		j := i + 1
		for j < len(order) && tied(xs[order[j]], xs[order[j-1]]) {
			j++
		}
		for _, k := range order[i:j] {
			r.doubled[k] = i + 1 + j // twice the mean of ranks i+1 to j
		}
		if j-i > 1 {
			r.ties = append(r.ties, j-i)
		}
		i = j
	}
	return r
}

// tieTerm sums f over the groups of ties.
func tieTerm(ties []int, f func(t float64) float64) float64 {
	sum := 0.0
	for _, t := range ties {
		sum += f(float64(t))
	}
	return sum
}

func cubeLess(t float64) float64 { return t*t*t - t }

// tails sums a distribution over the whole numbers up to and from s.
func tails(prob []float64, s int) Tails {
	var less, greater float64
	for i, p := range prob {
		if i <= s {
			less += p
		}
		if i >= s {
			greater += p
		}
	}
	return twoSided(less, greater)
}

// orderAt returns the greatest c with P(X ≤ c−1) ≤ tail, zero if there is none:
// the order statistic that bounds an interval from below.
func orderAt(prob []float64, tail float64) int {
	sum := 0.0
	for c, p := range prob {
		sum += p
		if sum > tail {
			return c
		}
	}
	return len(prob)
}
