package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

func near(t *testing.T, what string, got, want, tol float64, source string) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %g, want %g ± %g (%s)", what, got, want, tol, source)
	}
}

// drawn makes points of a bivariate law with seed-fixed noise and uneven weights.
func drawn(n int, rho float64) []point {
	rng := rand.New(rand.NewPCG(7, 7))
	points := make([]point, n)
	for i := range points {
		a, b := rng.NormFloat64(), rng.NormFloat64()
		points[i] = point{x: []float64{1 + a, -2 + 3*(rho*a+math.Sqrt(1-rho*rho)*b)}, mark: []mark{exact, exact}, weight: 0.5 + float64(i%3)}
	}
	return points
}

func column(points []point, i int) (x, w []float64) {
	for _, p := range points {
		x, w = append(x, p.x[i]), append(w, p.weight)
	}
	return x, w
}

// With nothing missing the fit is the weighted mean and covariance.
func TestFitOfWholeData(t *testing.T) {
	points := drawn(200, 0.6)
	law, err := fit(points, roughly(points), 0)
	if err != nil {
		t.Fatal(err)
	}
	x, w := column(points, 0)
	y, _ := column(points, 1)
	const by = "weighted moments of gonum stat, brought from W-1 to W"
	total := 0.0
	for _, v := range w {
		total += v
	}
	k := (total - 1) / total
	near(t, "mean of x", law.mean[0], stat.Mean(x, w), 1e-12, by)
	near(t, "mean of y", law.mean[1], stat.Mean(y, w), 1e-12, by)
	near(t, "variance of x", law.cov.At(0, 0), k*stat.Variance(x, w), 1e-9, by)
	near(t, "covariance", law.cov.At(0, 1), k*stat.Covariance(x, y, w), 1e-9, by)
}

// Two variables, the second missing in part: the likelihood splits, and its
// maximum has a closed form (Anderson 1957, J. Am. Stat. Assoc. 52:200, from
// memory; the derivation is a regression of y on x where both are known).
func TestFitWithMissingValues(t *testing.T) {
	points := drawn(120, 0.8)
	var both []point
	for i := range points {
		if points[i].x[0] > 1.5 { // missing by what is known: not at random in y alone
			points[i].mark[1], points[i].x[1] = missing, 0
		} else {
			both = append(both, points[i])
		}
	}
	law, err := fit(points, roughly(points), 0)
	if err != nil {
		t.Fatal(err)
	}
	x, w := column(both, 0)
	y, _ := column(both, 1)
	alpha, beta := stat.LinearRegression(x, y, w, false)
	all, wAll := column(points, 0)
	total := 0.0
	for _, v := range wAll {
		total += v
	}
	varX := stat.Variance(all, wAll) * (total - 1) / total
	const by = "Anderson 1957, by regression"
	near(t, "mean of y", law.mean[1], alpha+beta*stat.Mean(all, wAll), 0.003, by)
	near(t, "covariance", law.cov.At(0, 1), beta*varX, 0.003, by)
}

// One variable with values below two limits: against the maximum of the
// likelihood itself, found by search.
func TestFitOfCensoredData(t *testing.T) {
	points := drawn(80, 0)
	for i := range points {
		points[i].x, points[i].mark = points[i].x[:1], points[i].mark[:1]
		if limit := 0.8 + 0.4*float64(i%2); points[i].x[0] < limit {
			points[i].x[0], points[i].mark[0] = limit, below
		}
	}
	law, err := fit(points, roughly(points), 0)
	if err != nil {
		t.Fatal(err)
	}
	m, s := searched(points)
	near(t, "mean", law.mean[0], m, 2e-3, "maximum of the censored likelihood by search")
	near(t, "standard deviation", math.Sqrt(law.cov.At(0, 0)), s, 2e-3, "maximum of the censored likelihood by search")
}

// searched climbs the likelihood of a censored normal law by ever smaller steps.
func searched(points []point) (m, s float64) {
	logLik := func(m, s float64) float64 {
		sum := 0.0
		for _, p := range points {
			z := (p.x[0] - m) / s
			if p.mark[0] == below {
				sum += p.weight * math.Log(math.Erfc(-z/math.Sqrt2)/2)
			} else {
				sum += p.weight * (-z*z/2 - math.Log(s))
			}
		}
		return sum
	}
	m, s = 0, 1
	for step := 0.5; step > 1e-6; step /= 2 {
		for moved := true; moved; {
			moved = false
			for _, d := range [][2]float64{{step, 0}, {-step, 0}, {0, step}, {0, -step}} {
				if s+d[1] > 0 && logLik(m+d[0], s+d[1]) > logLik(m, s) {
					m, s, moved = m+d[0], s+d[1], true
				}
			}
		}
	}
	return m, s
}

// Half-normal: mean √(2/π) and variance 1 - 2/π of the standard deviation, by
// definition; deep in the tail the law becomes exponential.
func TestOneCut(t *testing.T) {
	m, v := cutMoments(3, 4, 3)
	near(t, "mean of a lower half", m, 3-2*math.Sqrt(2/math.Pi), 1e-12, "half-normal law")
	near(t, "its variance", v, 4*(1-2/math.Pi), 1e-12, "half-normal law")
	m, v = cutMoments(0, 1, 50)
	near(t, "mean under a far limit", m, 0, 1e-12, "no cut at all")
	near(t, "variance under a far limit", v, 1, 1e-12, "no cut at all")
	a, b := cutMoments(0, 1, deepTail+1e-9)
	c, d := cutMoments(0, 1, deepTail-1e-9)
	near(t, "mean where the series begins", c, a, 1e-4, "the two forms meet")
	near(t, "variance where the series begins", d/b, 1, 0.01, "the two forms meet")
}

// The lower quadrant of a bivariate standard normal law has closed moments
// (Rosenbaum 1961, J. R. Stat. Soc. B 23:405, from memory; by parts):
//
//	P = 1/4 + asin(ρ)/2π   E[-x] P = (1+ρ)/(2√2π)   E[x²] P = P + ρ√(1-ρ²)/2π
func TestTwoCuts(t *testing.T) {
	for _, tt := range []struct{ rho, tol float64 }{{-0.5, 0.01}, {0, 1e-6}, {0.3, 0.01}, {0.6, 0.015}, {0.9, 0.04}} {
		rho := tt.rho
		p := 0.25 + math.Asin(rho)/(2*math.Pi)
		mean := -(1 + rho) / (2 * math.Sqrt(2*math.Pi)) / p
		variance := 1 + rho*math.Sqrt(1-rho*rho)/(2*math.Pi)/p - mean*mean
		got, cov := []float64{0, 0}, [][]float64{{1, rho}, {rho, 1}}
		cutBelow(got, cov, []float64{0, 0})
		near(t, "mean", got[0], mean, tt.tol, "Rosenbaum 1961")
		near(t, "standard deviation", math.Sqrt(cov[0][0]), math.Sqrt(variance), tt.tol, "Rosenbaum 1961")
		near(t, "symmetry", got[1], got[0], 1e-6, "both limits are alike")
	}
}

// A limit on one coordinate moves the other by the regression on it.
func TestCutCarriesOver(t *testing.T) {
	mean, cov := []float64{0, 0}, [][]float64{{1, 0.8}, {0.8, 4}}
	cutBelow(mean, cov, []float64{0, math.Inf(1)})
	near(t, "mean of the other", mean[1], -0.8*math.Sqrt(2/math.Pi), 1e-9, "E[y] = β E[x]")
	near(t, "variance of the other", cov[1][1], 4-0.64+0.64*(1-2/math.Pi), 1e-9, "law of total variance")
}

// Pseudo-wells halve a correlation when they are as many as the wells, and leave
// the variances.
func TestPooledDrawsToItsDiagonal(t *testing.T) {
	points := drawn(60, 0.7)
	w := 0.0
	for _, p := range points {
		w += p.weight
	}
	free, err := pooled([][]point{points}, roughly(points), 0)
	if err != nil {
		t.Fatal(err)
	}
	held, err := pooled([][]point{points}, roughly(points), w)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "covariance", held[0].cov.At(0, 1), free[0].cov.At(0, 1)/2, 1e-9, "definition")
	near(t, "variance", held[0].cov.At(1, 1), free[0].cov.At(1, 1), 1e-9, "definition")
}

// Silica told by slopes leaves the matrix positive definite and its share within bounds.
func TestSilicaStaysPositive(t *testing.T) {
	r := mat.NewSymDense(size, nil)
	for i := range size {
		for j := i; j < size; j++ {
			r.SetSym(i, j, 0.6)
		}
		r.SetSym(i, i, 1)
	}
	for j := range size {
		if j != atSilica {
			r.SetSym(atSilica, j, 0)
		}
	}
	tellSilica(r, []float64{0.9, 0.9, 0.9, 0.9}) // would tell more than all
	if c := condition(r); c <= 0 {
		t.Errorf("condition %g; want a positive definite matrix", c)
	}
}
