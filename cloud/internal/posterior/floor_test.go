package posterior

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The error of a figure is its floor near nothing and a share far above it: the
// two components of error. At their meeting both count.
func TestTwoComponentsOfError(t *testing.T) {
	const share, floor = 0.05, 0.1
	m := Measure{Terms: []Term{{Of: Oxygen, Times: 1}}, SD: share, Floor: floor, Visit: -1, Bottle: -1}
	r := rand.New(rand.NewPCG(3, 4))
	for _, tt := range []struct{ mg, tol float64 }{{0.4, 0.02}, {0.8, 0.02}, {2, 0.02}, {20, 0.02}} {
		var a [nQuantities]float64
		a[Oxygen] = tt.mg
		n, sum, squares := 40000, 0.0, 0.0
		for range n {
			v := m.Simulate(&a, Shared{}, r)
			sum += v / float64(n)
			squares += v * v / float64(n)
		}
		got, want := math.Sqrt(squares-sum*sum), math.Hypot(floor, share*tt.mg)
		if math.Abs(got/want-1) > tt.tol {
			t.Errorf("spread at %g mg/L is %.4f, want %.4f (Rocke and Lorenzato 1995: the two add as variances, from memory)", tt.mg, got, want)
		}
	}
}

// A figure near nothing leaves what prior times likelihood leaves.
func TestNearNothingAgainstQuadrature(t *testing.T) {
	const share, floor, read = 0.05, 4.0, 6.0
	m := plainly(Silica, read, share)
	m.Floor = floor
	a := simple().Ask(question(4000, m))
	g := func(y float64) float64 { return math.Log((y + math.Hypot(y, floor/share)) / 2) }
	top, sum := 0.0, 0.0
	for x := -3.0; x < 8; x += 0.001 {
		p := math.Exp(-0.5*square((x-math.Log(15))/0.7) - 0.5*square((g(read)-g(math.Exp(x)))/share))
		top, sum = top+p*x, sum+p
	}
	got, s := moments(a.Draws, func(d *Draw) float64 { return math.Log(d.Amount[Silica]) })
	if math.Abs(got-top/sum) > 4*s/math.Sqrt(2000) {
		t.Errorf("mean %.4f, want %.4f (quadrature of prior times likelihood)", got, top/sum)
	}
}

// The slope of the law near nothing is that of finite differences, and a figure
// bent and unbent is itself.
func TestBend(t *testing.T) {
	m := Measure{SD: 0.05, Floor: 0.1}
	for _, y := range []float64{0.01, 0.1, 1, 10, 1000} {
		const e = 1e-5
		l := math.Log(y)
		want := (m.bend(l+e) - m.bend(l-e)) / (2 * e)
		if got := m.slope(m.bend(l)); math.Abs(got-want) > 1e-6 {
			t.Errorf("slope at %g: %g, want %g (finite difference)", y, got, want)
		}
		if got := m.unbend(m.bend(l)); math.Abs(got/y-1) > 1e-9 {
			t.Errorf("%g bent and unbent is %g", y, got)
		}
	}
	if l := math.Log(1000.0); math.Abs(m.bend(l)-l) > 2e-6 {
		t.Errorf("far above the floor the law is the logarithm: %g, want %g", m.bend(l), l)
	}
}

// A fault that widens the error of a figure near nothing is weighed by its
// density in the figure itself, whatever the law is bent by.
func TestFaultNearNothingAgainstQuadrature(t *testing.T) {
	const p, share, floor, read, wide = 0.2, 0.05, 4.0, 30.0, 0.8
	m := plainly(Silica, read, share)
	m.Floor = floor
	q := question(6000, m)
	q.Faults = []Fault{{ID: "wide", Chance: p, Change: func(m *Measure) bool { m.SD = wide; return true }}}
	a := simple().Ask(q)
	chance := func(sd float64) float64 { // of the figure, per unit of it
		c := floor / sd
		g := func(y float64) float64 { return math.Log((y + math.Hypot(y, c)) / 2) }
		sum := 0.0
		for x := -3.0; x < 8; x += 0.001 {
			sum += 0.001 * math.Exp(-0.5*square((x-math.Log(15))/0.7)-0.5*square((g(read)-g(math.Exp(x)))/sd)) / 0.7 / sd / (2 * math.Pi)
		}
		return sum / math.Hypot(read, c)
	}
	with, without := p*chance(wide), (1-p)*chance(share)
	want := with / (with + without)
	if got := a.Faulty[0]; math.Abs(got-want) > 4*math.Sqrt(want*(1-want)/2000) {
		t.Errorf("chance %.3f, want %.3f (Bayes' rule by quadrature)", got, want)
	}
}
