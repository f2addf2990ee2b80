package chem

import (
	"fmt"
	"math"
)

// steady finds the extents at which a stirred tank stays: by Newton's method from
// where each reaction would stay by itself, and where that fails by following the
// tank from its filling.
func (n *network) steady() (extents, error) {
	h := n.h
	if x, ok := n.polish(n.alone()); ok {
		return x, nil
	}
	n.h, n.known.h = h, 0
	return n.filled()
}

// Rounds of alone, and steps of Newton's method before the guess is given up.
// Kind: own trial.
const (
	aloneRounds = 3
	polishSteps = 12
	settledAt   = 1e-10 // relative change of the extents at which the search ends
)

// alone lets each reaction in turn go where it would stay if the others stood
// still, a few times over.
func (n *network) alone() extents {
	var x extents
	c := n.start
	for range aloneRounds {
		for k := range n.n {
			d := n.stays(k, &c, x[k])
			x[k] += d
			n.column[k].add(&c, d)
		}
		w := n.weak(&c)
		n.h, _ = n.acids.pH(&w, n.h)
	}
	return x
}

// stays returns how much further reaction k goes from extent x until it makes as
// much as is washed out, with its rate constant as it is.
//
//	K (a - α d)(b - β d) = w (x + d)
//
//	a, b  the two that meet, α, β of each used in a mole;  w washed out, 1/s
//
// The smaller root leaves both above zero.
func (n *network) stays(k int, c *pool, x float64) float64 {
	if reaction := n.active[k]; reaction >= gasOxygen {
		var r rate
		n.gasRate(reaction, c, n.h, &r)
		bend := n.wash
		for _, p := range r.by[:r.n] {
			bend -= p.v * n.nu[p.i][k]
		}
		return (r.v - n.wash*x) / bend
	}
	var m meeting
	n.meeting(n.active[k], n.h, &m)
	constant := m.constant(c)
	a, b := max(0, c[m.a]), max(0, c[m.b])
	alpha, beta := -n.nu[m.a][k], -n.nu[m.b][k]
	square := constant * alpha * beta
	slope := constant*(alpha*b+beta*a) + n.wash
	made := constant*a*b - n.wash*x
	return 2 * made / (slope + math.Sqrt(max(0, slope*slope-4*square*made)))
}

// polish is Newton's method from x; false where it does not come to rest.
func (n *network) polish(x extents) (extents, bool) {
	s := n.begin(0)
	s.x = x
	for range polishSteps {
		n.jacobian(&s.x, &s.f, &s.j)
		if !s.factor(0) {
			return s.x, false
		}
		moved := s.forward()
		if n.overdrawn(&s.next) {
			return s.x, false
		}
		s.x = s.next
		if moved < settledAt {
			return s.x, true
		}
	}
	return s.x, false
}

// forward goes from s.x to s.next by the factors in place and returns the greatest
// relative change.
func (s *stepper) forward() float64 {
	n := s.net
	d := s.f
	s.back(&d)
	moved := 0.0
	for i := range n.n {
		s.next[i] = s.x[i] + d[i]
		moved = max(moved, math.Abs(d[i])/(math.Abs(s.next[i])+1e-6*s.cap[i]))
	}
	return moved
}

// filled follows a stirred tank from its filling with implicit steps that lengthen
// as it settles.
func (n *network) filled() (extents, error) {
	s := n.begin(0)
	n.jacobian(&s.x, &s.f, &s.j)
	h := min(1/n.wash, s.firstStep())
	for range mostSteps {
		start := n.h
		if !s.factor(1 / h) {
			return s.x, fmt.Errorf("reactions: stirred tank has no single answer")
		}
		moved := s.forward()
		if n.overdrawn(&s.next) && h > 1e-12/n.wash {
			n.h = start
			h *= 0.25
			continue
		}
		s.x = s.next
		n.jacobian(&s.x, &s.f, &s.j)
		if h > 1e6/n.wash && moved < settledAt {
			return s.x, nil
		}
		h = min(h*max(1.5, min(10, 0.3/max(moved, 1e-9))), 1e9/n.wash)
	}
	return s.x, fmt.Errorf("reactions: stirred tank did not settle in %d steps", mostSteps)
}

// overdrawn reports whether extents x use more of something than there is,
// beyond rounding.
func (n *network) overdrawn(x *extents) bool {
	c := n.amountsAt(x)
	for i := range iTA {
		if c[i] < -1e-4*n.start[i]-1e-15 {
			return true
		}
	}
	return false
}
