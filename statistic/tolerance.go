package statistic

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// ToleranceFactor returns the factor of the one-sided upper tolerance limit of
// normal values.
//
//	k = t'(confidence; n−1, δ)/√n, δ = z(coverage)·√n
//
//	t'  quantile of the noncentral t;  n  number of values
//
// Range: n from 2 to 10000; coverage and confidence between 0 and 1. Error:
// under 1e-6 relative; computed, not from a table. Source: definition; Owen 1963.
func ToleranceFactor(n int, coverage, confidence float64) (float64, error) {
	const method = "tolerance factor"
	if n < 2 || n > 10000 {
		return 0, within(method, "number of values", float64(n), 2, 10000)
	}
	if err := first(fraction(method, "coverage", coverage), fraction(method, "confidence", confidence)); err != nil {
		return 0, err
	}
	root := math.Sqrt(float64(n))
	return nctQuantile(confidence, float64(n-1), zOf(coverage)*root) / root, nil
}

// UpperTolerance returns the limit that a share of all values stays under, with
// the confidence given.
//
//	x̄ + k·s
//
// Range: two values or more, independent and normal. Error: exact for normal
// values, far off for skewed ones: see LogUpperTolerance.
// Source: US EPA Unified Guidance 2009, chapter 17 (from memory).
func UpperTolerance(xs []float64, coverage, confidence float64) (float64, error) {
	if err := sample("upper tolerance limit", xs, 2); err != nil {
		return 0, err
	}
	k, err := ToleranceFactor(len(xs), coverage, confidence)
	s := summarise(xs)
	return s.Mean + k*s.SD, err
}

// LogUpperTolerance is UpperTolerance of lognormal values.
//
//	exp(mean of ln x + k·sd of ln x)
//
// Range: two values or more, above zero. Error: exact for lognormal values.
// Source: US EPA Unified Guidance 2009, chapter 17 (from memory).
func LogUpperTolerance(xs []float64, coverage, confidence float64) (float64, error) {
	logs := make([]float64, len(xs))
	for i, x := range xs {
		if err := positive("upper tolerance limit of logs", "value", x); err != nil {
			return 0, err
		}
		logs[i] = math.Log(x)
	}
	limit, err := UpperTolerance(logs, coverage, confidence)
	return math.Exp(limit), err
}

// MaximumN returns how many values are needed for their greatest to be an upper
// tolerance limit, whatever their distribution.
//
//	least n with coverage^n ≤ 1 − confidence
//
// Range: both between 0 and 1. Error: exact. Source: Wilks 1941.
func MaximumN(coverage, confidence float64) (int, error) {
	const method = "number of values for a tolerance limit"
	if err := first(fraction(method, "coverage", coverage), fraction(method, "confidence", confidence)); err != nil {
		return 0, err
	}
	// The small step back keeps exact cases, such as ½ and ¾, from rounding up.
	return max(1, int(math.Ceil(math.Log1p(-confidence)/math.Log(coverage)-1e-9))), nil
}

// ExceedanceUpper returns the highest true rate of exceedance that k
// exceedances among n samples leave open, one-sided.
//
//	P(X ≤ k | n, p) = 1 − confidence;  for k = 0: p = 1 − (1−confidence)^(1/n)
//
// Range: 0 ≤ k ≤ n, independent samples. Error: exact, on the safe side.
// Source: Clopper and Pearson 1934.
func ExceedanceUpper(k, n int, confidence float64) (float64, error) {
	const method = "upper limit of exceedance"
	if err := first(few(method, "number of samples", n, 1), fraction(method, "confidence", confidence)); err != nil {
		return 0, err
	}
	switch {
	case k < 0 || k > n:
		return 0, within(method, "number of exceedances", float64(k), 0, float64(n))
	case k == n:
		return 1, nil
	case k == 0:
		return 1 - math.Pow(1-confidence, 1/float64(n)), nil
	}
	return distuv.Beta{Alpha: float64(k + 1), Beta: float64(n - k)}.Quantile(confidence), nil
}
