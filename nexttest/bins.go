package nexttest

import (
	"cmp"
	"slices"
)

// Results are the simulated results of one test: for every draw what would be
// read. A reading may have several parts, such as dissolved and total iron.
type Results struct {
	Parts  []Part      // what is read
	Values [][]float64 // by part, then by draw
}

// scale is one part of a reading cut into classes of about equal number. What
// reads alike stands in one class.
type scale struct {
	of    []uint8   // class of each draw
	upTo  []float64 // greatest value of each class but the last
	count int
}

// Classes: enough that a boundary falls near where it should, few enough that
// each holds some tens of draws. At both ends they are finer, because what is rare
// and dear, such as a well that runs dry, stands there.
const (
	endClasses    = 6  // at each end
	middleClasses = 28 // between
	mostClasses   = 2*endClasses + middleClasses
	endHolds      = 128 // an end class holds one in so many draws
	fewDraws      = 1000
	classHolds    = 50 // of fewer draws than that, in classes alike
)

// ends are the ranks at which classes of n draws end.
func ends(n int) []int {
	var es []int
	if n < fewDraws {
		for k := 1; k < max(2, n/classHolds); k++ {
			es = append(es, k*n/max(2, n/classHolds))
		}
		return es
	}
	step := n / endHolds
	for k := 1; k <= endClasses; k++ {
		es = append(es, k*step)
	}
	from, to := endClasses*step, n-endClasses*step
	for k := 1; k < middleClasses; k++ {
		es = append(es, from+k*(to-from)/middleClasses)
	}
	for k := endClasses; k > 0; k-- {
		es = append(es, n-k*step)
	}
	return es
}

// scaled cuts a part into classes.
func scaled(values []float64) scale {
	n := len(values)
	type place struct {
		v float64
		i int
	}
	order := make([]place, n)
	for i, v := range values {
		order[i] = place{v, i}
	}
	slices.SortFunc(order, func(a, b place) int { return cmp.Compare(a.v, b.v) }) // equals share a class: their order is nothing
	s := scale{of: make([]uint8, n), count: 1}
	next, es := 0, ends(n)
	for k, p := range order {
		if next < len(es) && k >= es[next] && p.v > order[k-1].v {
			s.upTo = append(s.upTo, (order[k-1].v+p.v)/2)
			s.count++
			for next < len(es) && k >= es[next] {
				next++
			}
		}
		s.of[p.i] = uint8(s.count - 1)
	}
	return s
}

// scales cuts every part.
func (r Results) scales() []scale {
	ss := make([]scale, len(r.Values))
	for k, v := range r.Values {
		ss[k] = scaled(v)
	}
	return ss
}

// shuffled gives every draw the reading of another: a reading that means nothing.
func shuffled(ss []scale, order []int) []scale {
	out := make([]scale, len(ss))
	for k, s := range ss {
		of := make([]uint8, len(s.of))
		for i, j := range order {
			of[i] = s.of[j]
		}
		out[k] = scale{of: of, upTo: s.upTo, count: s.count}
	}
	return out
}
