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
	Open           bool // Low and High themselves are out of range
}

// Error names the method, the value and what would be right.
func (e *RangeError) Error() string {
	want := fmt.Sprintf("from %g to %g wanted", e.Low, e.High)
	switch {
	case math.IsInf(e.Low, -1):
		want = "a finite number wanted"
	case math.IsInf(e.High, 1) && e.Open:
		want = fmt.Sprintf("more than %g wanted", e.Low)
	case math.IsInf(e.High, 1):
		want = fmt.Sprintf("at least %g wanted", e.Low)
	case e.Open:
		want = fmt.Sprintf("more than %g and less than %g wanted", e.Low, e.High)
	}
	return fmt.Sprintf("%s: %s is %g, %s", e.Method, e.Input, e.Got, want)
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

// within, between, atLeast and moreThan make the errors of a closed and an open
// range, and of a range that has no upper end.
func within(method, input string, got, low, high float64) error {
	return &RangeError{method, input, got, low, high, false}
}

func between(method, input string, got, low, high float64) error {
	return &RangeError{method, input, got, low, high, true}
}

func atLeast(method, input string, got, low float64) error {
	return &RangeError{method, input, got, low, math.Inf(1), false}
}

func moreThan(method, input string, got, low float64) error {
	return &RangeError{method, input, got, low, math.Inf(1), true}
}

func few(method, input string, got, want int) error {
	if got >= want {
		return nil
	}
	return atLeast(method, input, float64(got), float64(want))
}

// fraction checks a confidence, coverage or probability: more than 0, less than 1.
func fraction(method, input string, v float64) error {
	if v > 0 && v < 1 {
		return nil
	}
	return between(method, input, v, 0, 1)
}

// positive checks that v is a finite number above 0.
func positive(method, input string, v float64) error {
	if v > 0 && !math.IsInf(v, 1) {
		return nil
	}
	return moreThan(method, input, v, 0)
}

func finite(method string, xs []float64) error {
	for _, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return &RangeError{Method: method, Input: "value", Got: x, Low: math.Inf(-1), High: math.Inf(1)}
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
