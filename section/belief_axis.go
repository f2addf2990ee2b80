package section

import (
	"math"
	"strings"

	"wellwright/unit"
)

// Axis is the scale along which a quantity is drawn.
type Axis struct {
	Low, High float64
	Log       bool
}

// Tick is a mark on an axis.
type Tick struct {
	At    float64 // share of the axis, 0 at its beginning
	Label string  // "" for a mark between
}

// At returns where a value stands, as a share of the axis. What lies beyond an
// end stands at it.
func (a Axis) At(v float64) float64 {
	switch {
	case v <= a.Low:
		return 0
	case v >= a.High:
		return 1
	case a.Log:
		return math.Log(v/a.Low) / math.Log(a.High/a.Low)
	}
	return (v - a.Low) / (a.High - a.Low)
}

// Holds reports whether a value lies on the axis and not beyond its ends.
func (a Axis) Holds(v float64) bool { return v >= a.Low && v <= a.High }

// reaching returns the axis made longer until it holds the values. An end moves
// to a round figure; a logarithmic axis never reaches zero.
func (a Axis) reaching(vs ...float64) Axis {
	for _, v := range vs {
		if v > a.High {
			a.High = a.roundUp(v)
		}
		switch {
		case v >= a.Low:
		case !a.Log:
			a.Low = a.step() * math.Floor(v/a.step())
		case v > 0:
			a.Low = roundDown(v)
		}
	}
	return a
}

// Round figures of a decade at which an axis may end: on a logarithmic one equal
// steps, near enough.
var (
	logEnds    = []float64{1, 3, 10}
	linearEnds = []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10}
)

// roundUp is the round figure at or above v. An axis that does not begin at zero
// grows by whole steps.
func (a Axis) roundUp(v float64) float64 {
	ends := linearEnds
	switch {
	case a.Log:
		ends = logEnds
	case a.Low != 0:
		return tidy(a.step() * math.Ceil(v/a.step()))
	}
	decade := math.Pow(10, math.Floor(math.Log10(v)))
	for _, s := range ends {
		if round := tidy(s * decade); round >= v {
			return round
		}
	}
	return tidy(10 * decade)
}

func roundDown(v float64) float64 {
	decade := math.Pow(10, math.Floor(math.Log10(v)))
	if third := tidy(3 * decade); v >= third {
		return third
	}
	return tidy(decade)
}

// tidy takes off what a power of ten left behind the twelfth figure.
func tidy(v float64) float64 {
	if v == 0 {
		return 0
	}
	unitOf := math.Pow(10, 12-math.Floor(math.Log10(math.Abs(v))))
	return math.Round(v*unitOf) / unitOf
}

// Ticks returns the marks of the axis from its beginning to its end.
func (a Axis) Ticks() []Tick {
	if a.Log {
		return a.decades()
	}
	step := a.step()
	var ts []Tick
	for i := 0; ; i++ {
		v := tidy((math.Ceil(a.Low/step-rounding) + float64(i)) * step)
		if v > a.High*(1+rounding) {
			return ts
		}
		ts = append(ts, Tick{a.At(v), label(v)})
	}
}

// rounding is what a round figure may be off by arithmetic alone.
const rounding = 1e-9

// mostSteps is how many steps of a linear axis are labelled at most.
const mostSteps = 6

// step is the round step of a linear axis.
func (a Axis) step() float64 {
	least := (a.High - a.Low) / mostSteps
	decade := math.Pow(10, math.Floor(math.Log10(least)))
	for _, s := range []float64{1, 2, 5} {
		if s*decade >= least*(1-rounding) {
			return tidy(s * decade)
		}
	}
	return tidy(10 * decade)
}

// decades marks a logarithmic axis at every figure of a decade, and labels ones
// and threes.
func (a Axis) decades() []Tick {
	var ts []Tick
	for decade := math.Floor(math.Log10(a.Low) + rounding); ; decade++ {
		for figure := 1.0; figure < 10; figure++ {
			v := tidy(figure * math.Pow(10, decade))
			if v > a.High*(1+rounding) {
				return ts
			}
			if v < a.Low*(1-rounding) {
				continue
			}
			t := Tick{At: a.At(v)}
			if figure == 1 || figure == 3 {
				t.Label = label(v)
			}
			ts = append(ts, t)
		}
	}
}

func label(v float64) string { return thousands(unit.Significant(v, 2)) }

// thousands sets off the thousands of a figure.
func thousands(s string) string {
	whole, part, dotted := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if dotted {
		return whole + "." + part
	}
	return whole
}
