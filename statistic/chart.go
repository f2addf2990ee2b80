package statistic

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"
)

// chartWidth is the width of Shewhart limits in standard deviations.
// Source: Shewhart 1931; a convention, one false alarm in 370.
const chartWidth = 3

// ChartLimits are the lines of a control chart.
type ChartLimits struct{ Low, Center, High float64 }

// Outside reports whether x signals; a value on a limit does not.
func (c ChartLimits) Outside(x float64) bool { return x < c.Low || x > c.High }

// RangeMean returns d2, the mean range of n standard normal values.
//
//	d2 = ∫ [1 − Φ(x)^n − (1 − Φ(x))^n] dx
//
// Range: n from 2 to 100. Error: under 1e-9. Source: Tippett 1925.
func RangeMean(n int) (float64, error) {
	if err := groupSize(n); err != nil {
		return 0, err
	}
	return rangeMean(float64(n)), nil
}

func groupSize(n int) error {
	if n < 2 || n > 100 {
		return within("control chart constant", "size of a subgroup", float64(n), 2, 100)
	}
	return nil
}

func rangeMean(n float64) float64 {
	return quad.Fixed(func(x float64) float64 {
		return 1 - math.Pow(cumulative(x), n) - math.Pow(cumulative(-x), n)
	}, -tailEnd, tailEnd, 120, quad.Legendre{}, 0)
}

// RangeSD returns d3, the standard deviation of the range of n standard normal
// values.
//
//	P(range ≤ w) = n ∫ φ(x)·[Φ(x+w) − Φ(x)]^(n−1) dx
//	d3² = 2 ∫ w·(1 − P) dw − d2²
//
// Range: n from 2 to 100. Error: under 1e-6. Source: Tippett 1925.
func RangeSD(n int) (float64, error) {
	if err := groupSize(n); err != nil {
		return 0, err
	}
	m := float64(n)
	over := func(w float64) float64 {
		return w * (1 - m*quad.Fixed(func(x float64) float64 {
			return phi(x) * math.Pow(cumulative(x+w)-cumulative(x), m-1)
		}, -tailEnd, tailEnd, 120, quad.Legendre{}, 0))
	}
	square := 2 * quad.Fixed(over, 0, 2*tailEnd, 120, quad.Legendre{}, 0)
	d2 := rangeMean(m)
	return math.Sqrt(square - d2*d2), nil
}

// SDBias returns c4, the mean standard deviation of samples of n standard
// normal values.
//
//	c4 = √(2/(n−1))·Γ(n/2)/Γ((n−1)/2)
//
// Range: n 2 or more. Error: rounding. Source: textbook.
func SDBias(n int) (float64, error) {
	if err := few("control chart constant", "size of a sample", n, 2); err != nil {
		return 0, err
	}
	a, _ := math.Lgamma(float64(n) / 2)
	b, _ := math.Lgamma(float64(n-1) / 2)
	return math.Sqrt(2/float64(n-1)) * math.Exp(a-b), nil
}

// IndividualsChart is a chart of single values with their moving range.
type IndividualsChart struct {
	X, Range ChartLimits
	Sigma    float64
}

// Individuals sets a chart of single values from a baseline in order of time.
//
//	σ = MR̄/d2(2), x̄ ± 3σ;  range: 0, MR̄, MR̄·(1 + 3·d3/d2)
//
//	MR̄  mean of |x(i) − x(i−1)|;  d2 = 2/√π = 1.128
//
// Range: two values or more, 20 wanted; independent, near normal. Error: σ is
// uncertain by about 0.76/√n. Source: Montgomery and Runger, Applied Statistics
// and Probability for Engineers, chapter 16 (from memory).
func Individuals(baseline []float64) (IndividualsChart, error) {
	const method = "chart of individual values"
	if err := sample(method, baseline, 2); err != nil {
		return IndividualsChart{}, err
	}
	ranges := make([]float64, len(baseline)-1)
	for i := range ranges {
		ranges[i] = math.Abs(baseline[i+1] - baseline[i])
	}
	return individuals(meanOf(baseline), meanOf(ranges))
}

func individuals(center, meanRange float64) (IndividualsChart, error) {
	r, sigma, err := rangeLimits(meanRange, 2)
	h := chartWidth * sigma
	return IndividualsChart{X: ChartLimits{center - h, center, center + h}, Range: r, Sigma: sigma}, err
}

// rangeLimits returns the limits of the range and sigma for subgroups of n.
func rangeLimits(meanRange float64, n int) (ChartLimits, float64, error) {
	d2, err := RangeMean(n)
	if err != nil {
		return ChartLimits{}, 0, err
	}
	d3, err := RangeSD(n)
	h := chartWidth * d3 / d2
	return ChartLimits{math.Max(0, meanRange*(1-h)), meanRange, meanRange * (1 + h)}, meanRange / d2, err
}

func meanOf(xs []float64) float64 {
	sum := 0.0
	for _, x := range xs {
		sum += x
	}
	return sum / float64(len(xs))
}

// SubgroupChart is a chart of subgroup means with their ranges.
type SubgroupChart struct {
	Mean, Range ChartLimits
	Sigma       float64 // of a single value
}

// Subgroups sets a chart of means and ranges from baseline subgroups.
//
//	x̿ ± A2·R̄, A2 = 3/(d2·√n);  range: D3·R̄, R̄, D4·R̄
//	D3, D4 = 1 ∓ 3·d3/d2, not below 0
//
//	x̿  mean of subgroup means;  R̄  mean range;  n  size of each subgroup
//
// Range: two subgroups or more, all of one size from 2 to 100 (ranges waste
// data beyond 10); 20 subgroups wanted. Source: Montgomery and Runger, Applied
// Statistics and Probability for Engineers, chapter 16 (from memory).
func Subgroups(groups [][]float64) (SubgroupChart, error) {
	const method = "chart of means and ranges"
	if err := few(method, "number of subgroups", len(groups), 2); err != nil {
		return SubgroupChart{}, err
	}
	n := len(groups[0])
	var means, ranges []float64
	for _, g := range groups {
		if len(g) != n {
			return SubgroupChart{}, within(method, "size of a subgroup", float64(len(g)), float64(n), float64(n))
		}
		if err := sample(method, g, 2); err != nil {
			return SubgroupChart{}, err
		}
		means, ranges = append(means, meanOf(g)), append(ranges, slices.Max(g)-slices.Min(g))
	}
	r, sigma, err := rangeLimits(meanOf(ranges), n)
	h := chartWidth * sigma / math.Sqrt(float64(n))
	center := meanOf(means)
	return SubgroupChart{Mean: ChartLimits{center - h, center, center + h}, Range: r, Sigma: sigma}, err
}
