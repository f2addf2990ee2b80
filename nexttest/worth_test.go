package nexttest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"wellwright/cost"
)

const raiffa = "Raiffa and Schlaifer, Applied Statistical Decision Theory (1961), unit normal loss integral (from memory)"

// phi and upper are the density and the upper tail of the unit normal.
func phi(x float64) float64   { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }
func upper(x float64) float64 { return math.Erfc(x/math.Sqrt2) / 2 }

// unitLoss is the unit normal loss integral, the mean of max(0, z − u).
func unitLoss(u float64) float64 { return phi(u) - u*upper(u) }

// quadrature is the mean of f of a unit normal, by Simpson's rule over ±8.
func quadrature(f func(z float64) float64) float64 {
	const n, reach = 4000, 8.0
	h, sum := 2*reach/n, 0.0
	for k := 0; k <= n; k++ {
		w := 2.0
		switch {
		case k == 0 || k == n:
			w = 1
		case k%2 == 1:
			w = 4
		}
		z := -reach + float64(k)*h
		sum += w * f(z) * phi(z)
	}
	return sum * h / 3
}

func TestUnitNormalLossIntegral(t *testing.T) {
	for _, tt := range []struct{ u, want float64 }{
		{0, 0.39894}, {0.5, 0.19780}, {1, 0.08332}, {2, 0.00849}, // table of the unit normal loss integral (from memory)
	} {
		if got := unitLoss(tt.u); math.Abs(got-tt.want) > 6e-6 {
			t.Errorf("unit loss at %g = %g, want %g (%s)", tt.u, got, tt.want, raiffa)
		}
		if got := quadrature(func(z float64) float64 { return math.Max(0, z-tt.u) }); math.Abs(got-unitLoss(tt.u)) > 1e-6 {
			t.Errorf("unit loss at %g by quadrature = %g, closed form %g", tt.u, got, unitLoss(tt.u))
		}
	}
}

// twoActions is the textbook problem: one act loses nothing, the other b θ, and
// θ is normal with mean m and standard deviation s; θ of every draw is returned.
func twoActions(n int, m, s, b float64, seed uint64) (*Table, []float64) {
	r := rand.New(rand.NewPCG(seed, 1))
	t, theta := NewTable([]Decision{{ID: "keep"}, {ID: "act"}}, n), make([]float64, n)
	for i := range n {
		theta[i] = m + s*r.NormFloat64()
		t.Set(i, 1, cost.USD(b*theta[i]))
	}
	return t, theta
}

// readings are θ with a normal error.
func readings(theta []float64, e float64, seed uint64) Results {
	r := rand.New(rand.NewPCG(seed, 2))
	v := make([]float64, len(theta))
	for i := range v {
		v[i] = theta[i] + e*r.NormFloat64()
	}
	return Results{Values: [][]float64{v}}
}

// The worth of a test of known error in the textbook problem: b σ' L(|m|/σ'),
// σ' = s²/√(s²+e²). Averaged over seeds the estimate stands within a few per
// cent of it; a policy learnt from finite draws falls a little short.
func TestWorthOfATestInClosedForm(t *testing.T) {
	const n, seeds = 2000, 40
	for _, tt := range []struct{ m, s, e, b float64 }{
		{0, 1, 0.5, 1000}, {0.5, 1, 0.5, 1000}, {-0.5, 1, 1, 1000}, {1, 1, 0.3, 1000}, {0.3, 2, 2, 500},
	} {
		sd := tt.s * tt.s / math.Hypot(tt.s, tt.e)
		want := tt.b * sd * unitLoss(math.Abs(tt.m)/sd)
		by := tt.b * quadrature(func(z float64) float64 { return math.Max(0, sd*z-math.Abs(tt.m)) })
		if math.Abs(by-want) > 1e-5*tt.b {
			t.Fatalf("quadrature %g, closed form %g", by, want)
		}
		mean, over, se := 0.0, 0, 0.0
		for seed := range uint64(seeds) {
			table, theta := twoActions(n, tt.m, tt.s, tt.b, seed)
			v := newBench(table, seed).value(readings(theta, tt.e, seed).scales())
			mean += v.Worth.USD() / seeds
			se += v.Error.USD() / seeds
			if math.Abs(v.Worth.USD()-want) > 3*v.Error.USD() {
				over++
			}
		}
		t.Logf("m %g s %g e %g: want %.1f got %.1f, standard error of one run %.1f", tt.m, tt.s, tt.e, want, mean, se)
		if mean < 0.90*want-se/math.Sqrt(seeds)*3 || mean > 1.02*want+se/math.Sqrt(seeds)*3 {
			t.Errorf("m %g s %g e %g: mean worth %g over %d seeds, want %g (%s)", tt.m, tt.s, tt.e, mean, seeds, want, raiffa)
		}
		if over > seeds/10 {
			t.Errorf("m %g s %g e %g: %d of %d runs are more than three standard errors from %g", tt.m, tt.s, tt.e, over, seeds, want)
		}
	}
}

// twenty is a table as a well gives it: many decisions, each with steps in some
// hidden property of the draw.
func twenty(n int, seed uint64) (*Table, [][]float64) {
	const decisions, hidden = 20, 4
	r := rand.New(rand.NewPCG(seed, 3))
	z := make([][]float64, hidden)
	for k := range z {
		z[k] = make([]float64, n)
		for i := range n {
			z[k][i] = r.NormFloat64()
		}
	}
	ds := make([]Decision, decisions)
	t := NewTable(ds, n)
	for d := range ds {
		ds[d].ID = fmt.Sprint(d)
		own, step, k := 6000+2000*r.Float64(), 1.5*r.NormFloat64(), d%hidden
		for i := range n {
			loss := own
			if z[k][i] > step {
				loss += 4000
			}
			t.Set(i, d, cost.USD(loss))
		}
	}
	return t, z
}

// A reading that says nothing of the draw is worth nothing, in at least 95 of 100
// seeds: the definition of a test at two standard errors.
func TestAMeaninglessTestIsNone(t *testing.T) {
	const seeds = 200
	told := map[string]int{}
	for seed := range uint64(seeds) {
		r := rand.New(rand.NewPCG(seed, 4))
		noise := Results{Values: [][]float64{make([]float64, 2000), make([]float64, 2000), make([]float64, 2000)}}
		for _, v := range noise.Values {
			for i := range v {
				v[i] = r.NormFloat64()
			}
		}
		one, three := Results{Values: noise.Values[:1]}.scales(), noise.scales()
		two, _ := twoActions(2000, 0.1, 1, 1000, seed)
		many, _ := twenty(2000, seed)
		for name, v := range map[string]Value{
			"two actions, one part": newBench(two, seed).value(one), "two actions, three parts": newBench(two, seed).value(three),
			"twenty, one part": newBench(many, seed).value(one), "twenty, three parts": newBench(many, seed).value(three),
		} {
			if !v.None {
				told[name]++
			}
		}
	}
	t.Logf("told as worth something, of %d: %v", seeds, told)
	for name, n := range told {
		if n > seeds/20 {
			t.Errorf("%s: a meaningless test is called worth something in %d of %d seeds", name, n, seeds)
		}
	}
}

// No test is worth more than to know the draw, draw by draw even; and a test
// that reads the hidden property without error comes near it in a table where
// that is all there is to know.
func TestPerfectInformationIsTheBound(t *testing.T) {
	for seed := range uint64(20) {
		table, z := twenty(2000, seed)
		v := newBench(table, seed).value(Results{Values: z}.scales())
		if v.Worth.USD() > table.Perfect().USD()+0.01 {
			t.Errorf("seed %d: worth %s above that of perfect knowledge, %s (definition)", seed, v.Worth, table.Perfect())
		}
		best := table.Best()
		for i, g := range v.gains {
			if most := table.row(i)[best] - lowest(table.row(i)); g > most+1e-9 {
				t.Fatalf("seed %d, draw %d: saves %g of at most %g (definition)", seed, i, g, most)
			}
		}
		two, theta := twoActions(2000, 0.3, 1, 1000, seed)
		exact := newBench(two, seed).value(readings(theta, 0, seed).scales())
		if p := two.Perfect().USD(); exact.Worth.USD() > p || exact.Worth.USD() < 0.97*p {
			t.Errorf("seed %d: an exact test is worth %s of %g", seed, exact.Worth, p)
		}
	}
}

// The expected value of perfect information in the textbook problem is
// b s L(|m|/s).
func TestPerfectInClosedForm(t *testing.T) {
	sum := 0.0
	for seed := range uint64(50) {
		table, _ := twoActions(2000, 0.4, 1.5, 1000, seed)
		sum += table.Perfect().USD() / 50
	}
	if want := 1000 * 1.5 * unitLoss(0.4/1.5); math.Abs(sum-want) > 0.02*want {
		t.Errorf("perfect information is worth %g, want %g (%s)", sum, want, raiffa)
	}
}

// A more exact test is worth no less: Blackwell's ordering, beyond noise.
func TestAMoreExactTestIsWorthNoLess(t *testing.T) {
	for seed := range uint64(10) {
		table, theta := twoActions(2000, 0.5, 1, 1000, seed)
		b := newBench(table, seed)
		var last Value
		for k, e := range []float64{0, 0.25, 0.5, 1, 2, 4} {
			v := b.value(readings(theta, e, seed).scales())
			if k > 0 && v.Worth.USD() > last.Worth.USD()+2*math.Hypot(v.Error.USD(), last.Error.USD()) {
				t.Errorf("seed %d: worth %s with error %g above %s with a smaller one", seed, v.Worth, e, last.Worth)
			}
			last = v
		}
	}
}

// The same reading twice adds nothing, exactly: a second look at it finds every
// draw of a span in the span.
func TestTheSameReadingTwiceAddsNothing(t *testing.T) {
	for seed := range uint64(10) {
		table, theta := twoActions(2000, 0.3, 1, 1000, seed)
		b, r := newBench(table, seed), readings(theta, 0.7, seed).scales()
		one, two := b.value(r), b.value(append(r, r...))
		if d := math.Abs(one.Worth.USD() - two.Worth.USD()); d > 2*one.Error.USD() || d > 0.05*one.Worth.USD() {
			t.Errorf("seed %d: once %s, twice %s", seed, one.Worth, two.Worth)
		}
	}
}

// Two parts together may tell what neither tells alone; one part may tell it in
// a window.
func TestAWindowIsFound(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	table, x := NewTable([]Decision{{ID: "keep"}, {ID: "act"}}, 2000), make([]float64, 2000)
	want := 0.0
	for i := range x {
		x[i] = r.Float64()
		loss := 300.0
		if x[i] > 0.4 && x[i] < 0.6 {
			loss, want = -500, want+500.0/2000
		}
		table.Set(i, 1, cost.USD(loss))
	}
	v := newBench(table, 1).value(Results{Values: [][]float64{x}}.scales())
	if v.None || math.Abs(v.Worth.USD()-want) > 0.1*want {
		t.Errorf("worth %s, want %g: a window of one fifth (arithmetic)", v.Worth, want)
	}
}
