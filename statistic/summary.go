package statistic

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// Summary is the mean and the standard deviation (n−1) of n figures.
type Summary struct {
	N        int
	Mean, SD float64
}

// Summarise returns the mean and standard deviation of two figures or more.
func Summarise(xs []float64) (Summary, error) {
	if err := sample("summary", xs, 2); err != nil {
		return Summary{}, err
	}
	return summarise(xs), nil
}

func summarise(xs []float64) Summary {
	mean, sd := stat.MeanStdDev(xs, nil)
	return Summary{len(xs), mean, sd}
}

// MeanInterval returns the mean of a sample with its confidence interval.
//
//	x̄ ± t(n−1)·s/√n
//
//	x̄, s  mean and standard deviation of the sample, its unit
//	t      Student's t, two-sided, n−1 degrees of freedom
//
// Range: two figures or more, independent; the mean near enough to normal.
// Error: exact for normal figures; too narrow for skewed ones, where the
// logarithms should be used. Source: textbook (Student 1908).
func MeanInterval(xs []float64, confidence float64) (Interval, error) {
	const method = "interval of a mean"
	if err := first(sample(method, xs, 2), fraction(method, "confidence", confidence)); err != nil {
		return Interval{}, err
	}
	return meanInterval(summarise(xs), confidence), nil
}

func meanInterval(s Summary, confidence float64) Interval {
	h := twoSidedT(confidence, float64(s.N-1)) * s.SD / math.Sqrt(float64(s.N))
	return Interval{s.Mean - h, s.Mean, s.Mean + h, confidence}
}

// Median returns the middle of one figure or more.
func Median(xs []float64) (float64, error) {
	if err := sample("median", xs, 1); err != nil {
		return 0, err
	}
	return median(sorted(xs)), nil
}

func sorted(xs []float64) []float64 {
	out := slices.Clone(xs)
	slices.Sort(out)
	return out
}

func median(ordered []float64) float64 {
	n := len(ordered)
	return (ordered[(n-1)/2] + ordered[n/2]) / 2
}

// atOrder interpolates between order statistics; order counts from 1.
func atOrder(ordered []float64, order float64) float64 {
	i := int(math.Floor(order))
	switch {
	case i < 1:
		return math.Inf(-1)
	case order > float64(len(ordered)):
		return math.Inf(1)
	case i == len(ordered):
		return ordered[i-1]
	}
	return ordered[i-1] + (order-float64(i))*(ordered[i]-ordered[i-1])
}

// MedianInterval returns the median with an interval that asks nothing of the
// shape of the distribution, interpolated between order statistics.
//
//	γk = 1 − 2·P(X ≤ k−1), X binomial (n, ½)
//	I = (γk − γ)/(γk − γk+1),  λ = (n−k)·I/(k + (n−2k)·I)
//	low = (1−λ)·x(k) + λ·x(k+1), high likewise from the top
//
//	γ   confidence wanted, between γk+1 and γk
//	x(k) k-th smallest figure
//
// Range: enough figures that γ1 reaches the confidence (six at 95 %).
// Error: confidence true to about 1 % for smooth distributions.
// Source: Hettmansperger and Sheather, Stat. Probab. Lett. 4, 1986 (from memory).
func MedianInterval(xs []float64, confidence float64) (Interval, error) {
	const method = "interval of a median"
	if err := first(sample(method, xs, 1), fraction(method, "confidence", confidence)); err != nil {
		return Interval{}, err
	}
	n := len(xs)
	gamma := func(k int) float64 { return 1 - 2*atMost(k-1, n) }
	if err := few(method, "number of values", n, MinimumSameSign(1-confidence)); err != nil {
		return Interval{}, err
	}
	k := 1
	for k+1 <= n/2 && gamma(k+1) >= confidence {
		k++
	}
	i := (gamma(k) - confidence) / (gamma(k) - gamma(k+1))
	lambda := float64(n-k) * i / (float64(k) + float64(n-2*k)*i)
	x := sorted(xs)
	return Interval{
		Low:  (1-lambda)*x[k-1] + lambda*x[k],
		Mid:  median(x),
		High: (1-lambda)*x[n-k] + lambda*x[n-k-1], Confidence: confidence,
	}, nil
}

// LagOne returns the autocorrelation of a series taken at even steps.
//
//	r = Σ (x(i) − x̄)(x(i+1) − x̄) / Σ (x(i) − x̄)²
//
// Range: three figures or more, not all equal.
// Error: about 1/√n, and low by about (1+4r)/n. Source: textbook (Yule-Walker).
func LagOne(xs []float64) (float64, error) {
	const method = "lag-one autocorrelation"
	if err := sample(method, xs, 3); err != nil {
		return 0, err
	}
	mean := stat.Mean(xs, nil)
	var cross, square float64
	for i, x := range xs {
		square += (x - mean) * (x - mean)
		if i > 0 {
			cross += (x - mean) * (xs[i-1] - mean)
		}
	}
	if square == 0 {
		return 0, moreThan(method, "sum of squares", 0, 0)
	}
	return cross / square, nil
}

// EffectiveN returns how many independent samples n correlated ones are worth.
//
//	n' = n·(1−r)/(1+r)
//
//	n  number of samples at even steps
//	r  lag-one autocorrelation, from −1 to 1, ends left out
//
// A negative r, which chance gives often in short series, is taken as 0, so
// that n' never passes n. Error: holds for a first-order process and long series.
// Source: textbook (Bayley and Hammersley 1946, from memory).
func EffectiveN(n int, r float64) (float64, error) {
	const method = "effective number of samples"
	if err := few(method, "number of samples", n, 1); err != nil {
		return 0, err
	}
	if !(r > -1 && r < 1) {
		return 0, between(method, "autocorrelation", r, -1, 1)
	}
	r = math.Max(0, r)
	return float64(n) * (1 - r) / (1 + r), nil
}
