package posterior

import (
	"math"
	"math/rand/v2"
	"runtime"
	"testing"
)

// simple is a prior of one class whose coordinates know nothing of one another.
func simple() *Model {
	mean := [nPrior]float64{12, 7.2}
	for i, mg := range map[int]float64{Calcium: 50, Magnesium: 15, Sodium: 20, Potassium: 2, Chloride: 20, Sulfate: 20, Nitrate: 0.1, Fluoride: 0.2,
		Silica: 15, Phosphate: 0.02, Ammonia: 0.1, Iron: 2, Manganese: 0.1, Arsenic: 0.001, OrganicCarbon: 1, Oxygen: 0.3, Sulfide: 0.01, Alkalinity: 180} {
		mean[i] = math.Log(mg)
	}
	c := Class{ID: "one", Called: 1, Mean: mean}
	place := make([]int, nPrior)
	for i := range c.SD {
		c.SD[i], place[i] = 0.7, i
	}
	if err := c.covariance(make([]float64, nPrior*(nPrior-1)/2), place); err != nil {
		panic(err)
	}
	return &Model{Prior: Prior{Classes: []Class{c}}, Charges: atomicWeights()}
}

// atomicWeights are the charges of a milligram by the atomic weights that every
// periodic table prints.
func atomicWeights() (z Charges) {
	for i, mass := range map[int]float64{Calcium: 20.039, Magnesium: 12.1525, Sodium: 22.990, Potassium: 39.098, Ammonia: 14.007, Iron: 27.9225,
		Manganese: 27.469, Chloride: -35.45, Sulfate: -48.03, Nitrate: -14.007, Fluoride: -18.998, Phosphate: -30.974, Alkalinity: -50.044} {
		z[i] = 1 / mass
	}
	return z
}

func question(n int, ms ...Measure) Question {
	return Question{Measures: ms, Forms: []Form{{ID: "even", Chance: 1, Alpha: [3]float64{2, 1, 1}}}, VisitSD: 0.1, BottleSD: 0.02,
		OxideMid: 0.002, OxideSD: 1, Draws: n, Seed: 7}
}

func plainly(q Quantity, v, sd float64) Measure {
	return Measure{Terms: []Term{{Of: q, Times: 1}}, Value: v, SD: sd, Visit: -1, Bottle: -1}
}

// Silica carries no charge: its belief is that of two normals, the weighted mean
// of the logarithms.
func TestPosteriorOfOneNormal(t *testing.T) {
	const sd, read = 0.3, 40.0
	a := simple().Ask(question(4000, plainly(Silica, read, sd)))
	w0, w1 := 1/square(0.7), 1/square(sd)
	mean, spread := (w0*math.Log(15)+w1*math.Log(read))/(w0+w1), 1/math.Sqrt(w0+w1)
	m, s := moments(a.Draws, func(d *Draw) float64 { return math.Log(d.Amount[Silica]) })
	if math.Abs(m-mean) > 4*spread/math.Sqrt(2000) || math.Abs(s/spread-1) > 0.06 {
		t.Errorf("mean %.4f spread %.4f, want %.4f and %.4f (normal prior and likelihood, closed form)", m, s, mean, spread)
	}
}

func moments(ds []Draw, of func(*Draw) float64) (mean, sd float64) {
	for i := range ds {
		mean += of(&ds[i]) / float64(len(ds))
	}
	for i := range ds {
		sd += square(of(&ds[i])-mean) / float64(len(ds)-1)
	}
	return mean, math.Sqrt(sd)
}

// A result below a limit leaves the prior cut off there, softly.
func TestCensoredAgainstQuadrature(t *testing.T) {
	m := plainly(Silica, 8, 0.2)
	m.Sign = Below
	a := simple().Ask(question(4000, m))
	top, sum := 0.0, 0.0
	for x := -3.0; x < 8; x += 0.001 {
		p := math.Exp(-0.5*square((x-math.Log(15))/0.7)) * 0.5 * math.Erfc((x-math.Log(8))/0.2/math.Sqrt2)
		top, sum = top+p*x, sum+p
	}
	got, s := moments(a.Draws, func(d *Draw) float64 { return math.Log(d.Amount[Silica]) })
	if math.Abs(got-top/sum) > 4*s/math.Sqrt(2000) {
		t.Errorf("mean %.4f, want %.4f (quadrature of prior times distribution function)", got, top/sum)
	}
}

// The shares of a form nobody measured keep the mean of their Dirichlet.
func TestSharesOfDirichlet(t *testing.T) {
	a := simple().Ask(question(4000))
	for i, want := range []float64{0.5, 0.25, 0.25} {
		got, s := moments(a.Draws, func(d *Draw) float64 { return d.Amount[int(Ferrous)+i] / d.Amount[Iron] })
		if math.Abs(got-want) > 5*s/math.Sqrt(2000)+0.01 {
			t.Errorf("share %d: %.3f, want %.3f (mean of a Dirichlet; iron's own charge moves it a trace)", i, got, want)
		}
	}
}

// The chance of a fault is that of Bayes' rule, worked with normals by hand.
func TestFaultAgainstBayes(t *testing.T) {
	const p, shift, sd = 0.1, 0.8, 0.3
	q := question(4000, plainly(Silica, 40, sd))
	q.Faults = []Fault{{ID: "late", Chance: p, Change: func(m *Measure) bool { m.Shift += shift; return true }}}
	a := simple().Ask(q)
	s := math.Hypot(0.7, sd)
	like := func(mean float64) float64 { return math.Exp(-0.5 * square((math.Log(40)-mean)/s)) }
	with, without := p*like(math.Log(15)+shift), (1-p)*like(math.Log(15))
	want := with / (with + without)
	if got := a.Faulty[0]; math.Abs(got-want) > 4*math.Sqrt(want*(1-want)/2000) {
		t.Errorf("chance %.3f, want %.3f (Bayes' rule on two normals)", got, want)
	}
}

// Every draw is neutral, by the atomic weights.
func TestDrawsAreNeutral(t *testing.T) {
	m := simple()
	for _, d := range m.Ask(question(500, plainly(Calcium, 300, 0.05), plainly(Alkalinity, 20, 0.05))).Draws {
		sum := m.Charges[Iron] * d.Amount[Ferrous]
		for i := Calcium; i < nPrior; i++ {
			if i != Iron {
				sum += m.Charges[i] * d.Amount[i]
			}
		}
		if math.Abs(sum) > 1e-9 {
			t.Fatalf("a draw carries %g meq/L", sum)
		}
	}
}

// The gradient is that of finite differences.
func TestGradient(t *testing.T) {
	m := simple()
	q := question(10, plainly(Iron, 3, 0.1), plainly(Alkalinity, 150, 0.05),
		Measure{Kind: LatePH, Terms: []Term{{Of: PH, Times: 1}}, Value: 7.8, SD: 1e3, Lag: Lag{0.3, 0}, Visit: -1, Bottle: -1},
		Measure{Terms: []Term{{Of: Ferrous, Times: 1}, {Of: Bound, Times: 1}}, Value: 2, SD: 0.1, Visit: 0, Bottle: 0},
		Measure{Terms: []Term{{Of: Calcium, Times: 2.497}, {Of: Magnesium, Times: 4.118}}, Value: 200, SD: 0.05, Sign: Below, Visit: -1, Bottle: -1})
	q.Visits, q.Bottles = 1, 1
	b := newProblem(&m.Prior, m.Charges, q)
	w := b.worlds(nil, b.pairs())[0]
	var s state
	var g vector
	var h matrix
	r := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		x := b.start(&w)
		for i := range b.n {
			x[i] += 0.2 * r.NormFloat64()
		}
		if math.IsInf(b.expand(&w, &s, &x, &g, &h), -1) {
			continue
		}
		for i := range b.n {
			const e = 1e-5
			up, down := x, x
			up[i] += e
			down[i] -= e
			want := (b.density(&w, &s, &up) - b.density(&w, &s, &down)) / (2 * e)
			if math.Abs(g[i]-want) > 1e-4*(1+math.Abs(want)) {
				t.Errorf("unknown %d: slope %g, want %g (finite difference)", i, g[i], want)
			}
		}
	}
}

// The logarithm of the normal distribution function and its slope.
func TestLogPhi(t *testing.T) {
	for _, tt := range []struct{ z, want float64 }{
		{0, math.Log(0.5)}, {-1.6448536, math.Log(0.05)}, {-3, math.Log(0.00134989803)}, {-10, -53.2312851505}, {2, math.Log(0.97724986805)},
	} {
		l, slope, _ := logPhi(tt.z)
		if math.Abs(l-tt.want) > 1e-6*math.Abs(tt.want)+1e-9 {
			t.Errorf("ln Φ(%g) = %.9f, want %.9f (tables of the normal distribution, from memory)", tt.z, l, tt.want)
		}
		const e = 1e-5
		up, _, _ := logPhi(tt.z + e)
		down, _, _ := logPhi(tt.z - e)
		if d := (up - down) / (2 * e); math.Abs(d-slope) > 1e-5*(1+slope) {
			t.Errorf("slope at %g: %g, want %g (finite difference)", tt.z, slope, d)
		}
	}
}

// The same question gives the same bits on one processor and on many.
func TestSameBitsOnAnyCores(t *testing.T) {
	q := question(600, plainly(Iron, 5, 0.1), plainly(Alkalinity, 60, 0.05), plainly(Calcium, 20, 0.05))
	many := simple().Ask(q)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one := simple().Ask(q)
	for i := range one.Draws {
		if one.Draws[i].Amount != many.Draws[i].Amount {
			t.Fatalf("draw %d differs", i)
		}
	}
	if one.Effective != many.Effective || one.LogChance != many.LogChance {
		t.Error("the summary differs")
	}
}

// The chance of a result is that of its normal.
func TestLogChance(t *testing.T) {
	const sd = 0.3
	m := simple()
	with, without := m.Ask(question(8000, plainly(Silica, 40, sd))), m.Ask(question(8000))
	s := math.Hypot(0.7, sd)
	want := -0.5*square(math.Log(40.0/15)/s) - math.Log(s) - halfLog2Pi
	if got := with.LogChance - without.LogChance; math.Abs(got-want) > 0.05 {
		t.Errorf("logarithm of the chance %.3f, want %.3f (normal, closed form)", got, want)
	}
}
