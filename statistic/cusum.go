package statistic

import (
	"math"

	"wellwright/source"
)

// EWMA is a chart of the exponentially weighted moving average.
type EWMA struct {
	Mean, Sigma float64 // in control, per single value
	Lambda      float64 // weight of the newest value, more than 0, at most 1
	Width       float64 // limits in standard deviations of the average
}

// NewEWMA sets the chart with the weight and width of a set.
func NewEWMA(mean, sigma float64, set source.Set) EWMA {
	return EWMA{mean, sigma, set.Of(ewmaLambda), set.Of(ewmaWidth)}
}

// EWMAPoint is one step of the chart.
type EWMAPoint struct {
	Average float64
	Limits  ChartLimits
	Signal  bool
}

// Run carries values through the chart.
//
//	z(t) = λ·x + (1−λ)·z(t−1), z(0) = μ
//	limits μ ± L·σ·√(λ/(2−λ)·[1 − (1−λ)^(2t)])
//
//	μ, σ  mean and standard deviation in control;  λ  weight;  L  width
//
// Range: 0 < λ ≤ 1; independent values. Error: none beyond μ and σ.
// Source: Roberts 1959; Lucas and Saccucci 1990 (from memory).
func (c EWMA) Run(xs []float64) ([]EWMAPoint, error) {
	const method = "moving average chart"
	if err := first(c.check(method), finite(method, xs)); err != nil {
		return nil, err
	}
	out := make([]EWMAPoint, len(xs))
	z, left := c.Mean, 1.0
	for t, x := range xs {
		z = c.Lambda*x + (1-c.Lambda)*z
		left *= (1 - c.Lambda) * (1 - c.Lambda)
		h := c.Width * c.Sigma * math.Sqrt(c.Lambda/(2-c.Lambda)*(1-left))
		l := ChartLimits{c.Mean - h, c.Mean, c.Mean + h}
		out[t] = EWMAPoint{z, l, l.Outside(z)}
	}
	return out, nil
}

func (c EWMA) check(method string) error {
	if !(c.Lambda > 0 && c.Lambda <= 1) {
		return within(method, "weight", c.Lambda, 0, 1)
	}
	return first(positive(method, "standard deviation", c.Sigma), positive(method, "width", c.Width))
}

// CUSUM is a tabular cumulative sum chart, in the unit of its values.
type CUSUM struct {
	Mean  float64
	Slack float64 // K = k·σ
	Limit float64 // H = h·σ
}

// NewCUSUM sets the chart with the slack and limit of a set.
func NewCUSUM(mean, sigma float64, set source.Set) CUSUM {
	return CUSUM{mean, set.Of(cusumSlack) * sigma, set.Of(cusumLimit) * sigma}
}

// CUSUMPoint is one step of the chart.
type CUSUMPoint struct {
	High, Low            float64
	SinceHigh            int // steps since High was last zero: when the shift began
	SinceLow             int
	SignalUp, SignalDown bool
}

// Run carries values through the chart. It goes on after a signal; the user
// resets by starting anew.
//
//	C⁺ = max(0, C⁺ + x − μ − K), C⁻ = max(0, C⁻ − x + μ − K), from 0
//	a sum above H signals; on H it does not
//
//	μ  mean in control;  K  slack;  H  limit, unit of x
//
// Range: K not negative, H above zero. Error: none beyond μ and σ.
// Source: Page, Biometrika 41, 1954; Montgomery and Runger, chapter 16 (from memory).
func (c CUSUM) Run(xs []float64) ([]CUSUMPoint, error) {
	const method = "cumulative sum chart"
	if err := first(finite(method, xs), finite(method, []float64{c.Mean}), positive(method, "limit", c.Limit)); err != nil {
		return nil, err
	}
	if !(c.Slack >= 0) {
		return nil, atLeast(method, "slack", c.Slack, 0)
	}
	out := make([]CUSUMPoint, len(xs))
	var p CUSUMPoint
	for t, x := range xs {
		p.High, p.SinceHigh = pile(p.High+x-c.Mean-c.Slack, p.SinceHigh)
		p.Low, p.SinceLow = pile(p.Low-x+c.Mean-c.Slack, p.SinceLow)
		p.SignalUp, p.SignalDown = p.High > c.Limit, p.Low > c.Limit
		out[t] = p
	}
	return out, nil
}

func pile(sum float64, since int) (float64, int) {
	if sum <= 0 {
		return 0, 0
	}
	return sum, since + 1
}

// Combined is the Shewhart and cumulative sum chart of groundwater monitoring:
// it watches for a rise, sudden or slow.
type Combined struct {
	Mean, Sigma          float64
	Slack, Limit, Single float64 // k, h and the single-value limit, in Sigma
}

// NewCombined sets the chart from a baseline with the limits of a set.
//
// Range: at least eight baseline values, or what the set asks for, not all equal.
// Source: US EPA Unified Guidance 2009, chapter 20 (from memory).
func NewCombined(baseline []float64, set source.Set) (Combined, error) {
	const method = "combined chart"
	want := max(2, int(math.Ceil(set.Of(combinedBaseline))))
	if err := sample(method, baseline, want); err != nil {
		return Combined{}, err
	}
	s := summarise(baseline)
	if err := positive(method, "standard deviation of the baseline", s.SD); err != nil {
		return Combined{}, err
	}
	return Combined{s.Mean, s.SD, set.Of(combinedSlack), set.Of(combinedLimit), set.Of(combinedSingle)}, nil
}

// CombinedPoint is one step of the chart, in standard deviations.
type CombinedPoint struct {
	Z, Sum              float64
	SingleOut, SumOut   bool
	SingleAt, SumInUnit float64 // single limit and cumulative sum in the unit of x
}

// Run carries values through the chart.
//
//	z = (x − x̄)/s, S = max(0, S + z − k); z > SCL or S > h signals
//
//	x̄, s  of the baseline
//
// Range: independent values, near normal, at least some weeks apart. Error: the
// rate of false alarms depends much on the number of baseline values.
// Source: US EPA Unified Guidance 2009, chapter 20 (from memory).
func (c Combined) Run(xs []float64) ([]CombinedPoint, error) {
	const method = "combined chart"
	if err := first(finite(method, xs), positive(method, "standard deviation", c.Sigma)); err != nil {
		return nil, err
	}
	out := make([]CombinedPoint, len(xs))
	sum := 0.0
	for t, x := range xs {
		z := (x - c.Mean) / c.Sigma
		sum = math.Max(0, sum+z-c.Slack)
		out[t] = CombinedPoint{z, sum, z > c.Single, sum > c.Limit, c.Mean + c.Single*c.Sigma, c.Mean + sum*c.Sigma}
	}
	return out, nil
}
