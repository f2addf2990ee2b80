package posterior

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A share known to a spread widens the error of what is read as drawing the share
// does.
func TestSpreadOfATerm(t *testing.T) {
	const share, floor = 0.1, 0.01
	certain := Measure{Terms: []Term{{Of: Ferrous, Times: 0.3}, {Of: Bound, Times: 1}}, SD: share, Floor: floor, Visit: -1, Bottle: -1}
	spread := certain
	spread.Terms = []Term{{Of: Ferrous, Times: 0.3, Spread: 0.1}, {Of: Bound, Times: 1}}
	r := rand.New(rand.NewPCG(5, 6))
	sd := func(draw func() float64) float64 {
		n, sum, squares := 40000, 0.0, 0.0
		for range n {
			v := draw()
			sum += v / float64(n)
			squares += v * v / float64(n)
		}
		return math.Sqrt(squares - sum*sum)
	}
	for _, tt := range []struct{ ferrous, bound, tol float64 }{{2, 1, 0.03}, {0.2, 1, 0.03}, {0.1, 0.02, 0.06}} {
		var a [nQuantities]float64
		a[Ferrous], a[Bound] = tt.ferrous, tt.bound
		got := sd(func() float64 { return spread.Simulate(&a, Shared{}, r) })
		want := sd(func() float64 {
			m := certain
			m.Terms = []Term{{Of: Ferrous, Times: math.Max(0, 0.3+0.1*r.NormFloat64())}, {Of: Bound, Times: 1}}
			return m.Simulate(&a, Shared{}, r)
		})
		if math.Abs(got/want-1) > tt.tol {
			t.Errorf("ferrous %g bound %g: spread %.4f, want %.4f (drawing the share)", tt.ferrous, tt.bound, got, want)
		}
	}
}

// A sum with a share of which only the spread is known, against two unknowns laid on
// a grid.
func TestSpreadOfATermAgainstQuadrature(t *testing.T) {
	const times, spread, sd, read = 0.1, 0.06, 0.1, 1.5
	m := Measure{Terms: []Term{{Of: Silica, Times: times, Spread: spread}, {Of: Oxygen, Times: 1}}, Value: read, SD: sd, Visit: -1, Bottle: -1}
	a := simple().Ask(question(4000, m))
	var top [2]float64
	sum := 0.0
	for x := -1.0; x < 6; x += 0.01 {
		for y := -5.0; y < 3; y += 0.01 {
			s, o := math.Exp(x), math.Exp(y)
			mean := times*s + o
			v := sd*sd + square(spread*s/mean)
			p := math.Exp(-0.5*square((x-math.Log(15))/0.7)-0.5*square((y-math.Log(0.3))/0.7)-0.5*square(math.Log(read/mean))/v) / math.Sqrt(v)
			top[0], top[1], sum = top[0]+p*x, top[1]+p*y, sum+p
		}
	}
	for i, q := range []Quantity{Silica, Oxygen} {
		got, s := moments(a.Draws, func(d *Draw) float64 { return math.Log(d.Amount[q]) })
		if want := top[i] / sum; math.Abs(got-want) > 5*s/math.Sqrt(2000) {
			t.Errorf("mean of the logarithm of quantity %d: %.4f, want %.4f (quadrature)", q, got, want)
		}
	}
}
