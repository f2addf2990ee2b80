package statistic

import (
	"fmt"
	"math"
)

// Sign tells whether a figure is the value or a limit to it.
type Sign int

// The signs of a value. "<5" is below 5, and so less than an exact 5.
const (
	Exact Sign = iota
	Below
	Above
)

// Value is one measurement: the figure, or only that it lies below or above it.
type Value struct {
	Sign   Sign
	Figure float64
}

// Exactly is a value that was measured.
func Exactly(v float64) Value { return Value{Exact, v} }

// LessThan is a non-detect with its limit.
func LessThan(limit float64) Value { return Value{Below, limit} }

// MoreThan is a value over the top of the method.
func MoreThan(limit float64) Value { return Value{Above, limit} }

// Detects makes exact values of figures.
func Detects(xs ...float64) []Value {
	vs := make([]Value, len(xs))
	for i, x := range xs {
		vs[i] = Exactly(x)
	}
	return vs
}

// String writes the value as laboratories do: 5, <5 or >5.
func (v Value) String() string {
	return [...]string{"", "<", ">"}[v.Sign] + fmt.Sprintf("%g", v.Figure)
}

// compare returns 1 if v is more than w whatever the true values, -1 if less,
// 0 if equal, and false if that cannot be known. Two non-detects are unknown.
func (v Value) compare(w Value) (int, bool) {
	switch {
	case v.Sign == Exact && w.Sign == Exact:
		return sign(v.Figure - w.Figure), true
	case v.Sign != Above && w.Sign != Below && v.Figure <= w.Figure:
		return -1, true
	case v.Sign != Below && w.Sign != Above && v.Figure >= w.Figure:
		return 1, true
	}
	return 0, false
}

func sign(d float64) int {
	switch {
	case d > 0:
		return 1
	case d < 0:
		return -1
	}
	return 0
}

// CensorAtHighest prepares a sample with non-detects for a rank method: every
// value below the highest limit becomes one tied value under all others. It
// throws information away and invents none.
//
//	x' = x for a detect at or above the highest limit L, else -Inf stands for "< L"
//
// The tied value is written as one less than the lowest kept detect, so that
// only ranks may be taken from the result, never means or slopes.
// Range: no value above a limit.
// Source: Helsel, Statistics for Censored Environmental Data, 2012 (from memory).
func CensorAtHighest(values []Value) ([]float64, error) {
	if err := noAbove("censoring at the highest limit", values); err != nil {
		return nil, err
	}
	highest, low := math.Inf(-1), math.Inf(1)
	for _, v := range values {
		if v.Sign == Below {
			highest = math.Max(highest, v.Figure)
		}
	}
	for _, v := range values {
		if v.Sign == Exact && v.Figure >= highest {
			low = math.Min(low, v.Figure)
		}
	}
	if math.IsInf(low, 1) {
		low = 0
	}
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = low - 1
		if v.Sign == Exact && v.Figure >= highest {
			out[i] = v.Figure
		}
	}
	return out, nil
}

// noAbove refuses values above a limit, and figures that are no numbers.
func noAbove(method string, values []Value) error {
	for i, v := range values {
		if v.Sign == Above {
			return &SignError{method, i, v, "a dilution, or the lognormal fit, which takes both signs"}
		}
		if err := finite(method, []float64{v.Figure}); err != nil {
			return err
		}
	}
	return nil
}

// split parts the figures of detects from the limits of non-detects.
func split(values []Value) (detects, limits []float64) {
	for _, v := range values {
		if v.Sign == Exact {
			detects = append(detects, v.Figure)
		} else {
			limits = append(limits, v.Figure)
		}
	}
	return detects, limits
}

// Pair is two measurements that belong together: raw and treated water of one
// moment, the same tap before and after, or two units on the same day.
type Pair struct{ First, Second Value }

// Pairs joins two columns of equal length; ok is false if they differ.
func Pairs(first, second []Value) (pairs []Pair, ok bool) {
	if len(first) != len(second) {
		return nil, false
	}
	for i := range first {
		pairs = append(pairs, Pair{first[i], second[i]})
	}
	return pairs, true
}

// Interval is an estimate with the limits it lies between at a confidence. A
// side that the data leave open is infinite.
type Interval struct{ Low, Mid, High, Confidence float64 }

// Tails holds the probability of a statistic as far out as the one found, if
// nothing but chance is at work: Less against a fall, Greater against a rise,
// Both against either.
type Tails struct{ Less, Greater, Both float64 }

// twoSided makes Both as twice the lesser tail, at most 1.
func twoSided(less, greater float64) Tails {
	less, greater = math.Min(1, less), math.Min(1, greater)
	return Tails{less, greater, math.Min(1, 2*math.Min(less, greater))}
}
