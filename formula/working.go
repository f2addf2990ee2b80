// Package formula holds the working of a figure: the equation, its symbols with
// values and units, and the factors it rests on. Working is recorded only when
// asked for, so that thousands of waters can be carried at full speed.
package formula

import "wellwright/source"

// Symbol is one letter of an equation with the value it had.
type Symbol struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// Step is one figure worked out.
type Step struct {
	Figure   string          `json:"figure"`            // the name of the figure, as in the answer
	Formula  string          `json:"formula,omitempty"` // the public formula that it was worked out by
	Equation string          `json:"equation"`          // as printed beside it
	Symbols  []Symbol        `json:"symbols"`
	Factors  []source.Factor `json:"factors,omitempty"`
	Value    float64         `json:"value"`
	Unit     string          `json:"unit"`
	Source   string          `json:"source"` // who published the equation, or "definition"
}

// Step is a figure worked out by the formula: equation and source are the
// formula's own, so that they are written once.
func (f Formula) Step(figure string, value float64, unit string, symbols []Symbol, factors ...source.Factor) Step {
	return Step{Figure: figure, Formula: f.Name, Equation: f.Equation, Symbols: symbols, Factors: factors, Value: value, Unit: unit, Source: f.Source}
}

// Sym is one letter of an equation with its value.
func Sym(name string, value float64, unit string) Symbol {
	return Symbol{Name: name, Value: value, Unit: unit}
}

// Syms lists letters of an equation.
func Syms(s ...Symbol) []Symbol { return s }

// Working collects steps. A nil Working records nothing, and is what a caller
// passes who does not want any.
type Working struct {
	place string
	steps []Placed
}

// Placed is a step and the place it belongs to, such as "softener 1".
type Placed struct {
	Place string `json:"place"`
	Step
}

// On reports whether steps are wanted. Ask before building a costly step.
func (w *Working) On() bool { return w != nil }

// At sets the place that the following steps belong to.
func (w *Working) At(place string) {
	if w != nil {
		w.place = place
	}
}

// Add records a step.
func (w *Working) Add(s Step) {
	if w != nil {
		w.steps = append(w.steps, Placed{w.place, s})
	}
}

// Steps returns what was recorded, in order.
func (w *Working) Steps() []Placed {
	if w == nil {
		return nil
	}
	return w.steps
}
