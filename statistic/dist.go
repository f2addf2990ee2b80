package statistic

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// tailEnd is how far a normal value strays, but for parts in 1e-16.
const tailEnd = 9

// phi is the standard normal density.
func phi(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }

// cumulative is the standard normal probability below z, exact in both tails.
func cumulative(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// zOf is the standard normal quantile.
func zOf(p float64) float64 { return distuv.UnitNormal.Quantile(p) }

// zTails are the normal probabilities of z.
func zTails(z float64) Tails { return twoSided(cumulative(z), cumulative(-z)) }

func student(df float64) distuv.StudentsT { return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df} }

// TQuantile returns Student's t that a value stays below with probability p.
//
//	p   probability, more than 0 and less than 1
//	df  degrees of freedom, more than 0
//
// Error: that of the incomplete beta function, under 1e-9.
// Source: definition (Student 1908).
func TQuantile(p, df float64) (float64, error) {
	const method = "t quantile"
	if err := first(fraction(method, "probability", p), positive(method, "degrees of freedom", df)); err != nil {
		return 0, err
	}
	return student(df).Quantile(p), nil
}

// twoSidedT is t for a two-sided interval; its arguments have been checked.
func twoSidedT(confidence, df float64) float64 { return student(df).Quantile((1 + confidence) / 2) }

// tTails are the probabilities of t at df degrees of freedom.
func tTails(t, df float64) Tails {
	d := student(df)
	return twoSided(d.CDF(t), d.CDF(-t))
}

// nct is the probability that the noncentral t stays below t.
//
//	P = ∫ Φ(t·s − δ) f(s) ds,  s = √(χ²(ν)/ν)
//	f(s) = 2 (ν/2)^(ν/2) s^(ν−1) exp(−ν s²/2) / Γ(ν/2)
//
// The integral runs over twelve standard deviations of s, cut about the step of
// Φ at s = δ/t so that it stays resolved. Source: definition of the noncentral t.
func nct(t, df, delta float64) float64 {
	gamma, _ := math.Lgamma(df / 2)
	scale := math.Ln2 + df/2*math.Log(df/2) - gamma
	f := func(s float64) float64 {
		return cumulative(t*s-delta) * math.Exp(scale+(df-1)*math.Log(s)-df*s*s/2)
	}
	half := 12 / math.Sqrt(2*df)
	low, high := math.Max(0, 1-half), 1+half
	sum, from := 0.0, low
	for _, to := range []float64{(delta - tailEnd) / t, delta / t, (delta + tailEnd) / t, high} {
		if to > from && to <= high {
			sum += inPanels(f, from, to)
			from = to
		}
	}
	return sum
}

// inPanels integrates a smooth f piece by piece.
func inPanels(f func(float64) float64, low, high float64) float64 {
	const panels, nodes = 6, 32
	width, sum := (high-low)/panels, 0.0
	for i := range panels {
		a := low + float64(i)*width
		sum += quad.Fixed(f, a, a+width, nodes, quad.Legendre{}, 0)
	}
	return sum
}

// nctQuantile inverts nct by bisection.
func nctQuantile(p, df, delta float64) float64 {
	low, high := delta-1, delta+1
	for nct(low, df, delta) > p {
		low -= high - low
	}
	for nct(high, df, delta) < p {
		high += high - low
	}
	return bisect(low, high, func(t float64) bool { return nct(t, df, delta) < p })
}

// bisect returns where below turns false between low and high.
func bisect(low, high float64, below func(float64) bool) float64 {
	for range 200 {
		mid := low + (high-low)/2
		if mid == low || mid == high {
			break
		}
		if below(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low + (high-low)/2
}

// atMost is the probability of k or fewer successes in n trials of chance half.
func atMost(k, n int) float64 {
	if k < 0 {
		return 0
	}
	return distuv.Binomial{N: float64(n), P: 0.5}.CDF(float64(k))
}
