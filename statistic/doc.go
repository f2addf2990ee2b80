// Package statistic holds the statistics of field trials: removal, paired and
// unpaired tests, trends, non-detects, control charts, breakthrough curves and
// the number of samples. Its numbers are values in whatever unit the samples
// share, or pure numbers, so they are bare float64: the unit stays with the
// caller, who must not mix two in one sample.
package statistic

import (
	"fmt"
	"math"
)

// RangeError says that a method was given something it does not hold for.
type RangeError struct {
	Method, Input  string
	Got, Low, High float64
}

// Error names the method, the value and what would be right.
func (e *RangeError) Error() string {
	if math.IsInf(e.High, 1) {
		return fmt.Sprintf("%s: %s %g, at least %g wanted", e.Method, e.Input, e.Got, e.Low)
	}
	return fmt.Sprintf("%s: %s %g is outside %g to %g", e.Method, e.Input, e.Got, e.Low, e.High)
}

// SignError says that a method met a value below or above a limit, and that it
// needs figures, or the other sign.
type SignError struct {
	Method string
	Index  int // place in the sample, from 0
	Value  Value
	Use    string // what to use instead
}

// Error names the value and the method to use instead.
func (e *SignError) Error() string {
	return fmt.Sprintf("%s: value %d is %v, which this method cannot take: use %s",
		e.Method, e.Index+1, e.Value, e.Use)
}

func few(method, input string, got, want int) error {
	if got >= want {
		return nil
	}
	return &RangeError{method, input, float64(got), float64(want), math.Inf(1)}
}

// fraction checks a confidence, coverage or probability: more than 0, less than 1.
func fraction(method, input string, v float64) error {
	if v > 0 && v < 1 {
		return nil
	}
	return &RangeError{method, input, v, 0, 1}
}

// positive checks that v is a finite number above 0.
func positive(method, input string, v float64) error {
	if v > 0 && !math.IsInf(v, 1) {
		return nil
	}
	return &RangeError{method, input, v, math.SmallestNonzeroFloat64, math.MaxFloat64}
}

func finite(method string, xs []float64) error {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return &RangeError{method, "value", x, -math.MaxFloat64, math.MaxFloat64}
		}
	}
	return nil
}

// sample checks that xs has at least want values, all finite.
func sample(method string, xs []float64, want int) error {
	if err := few(method, "number of values", len(xs), want); err != nil {
		return err
	}
	return finite(method, xs)
}

// first returns the first error that is not nil.
func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
