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
	Figure   string          `json:"figure"`   // the name of the figure, as in the answer
	Equation string          `json:"equation"` // as printed beside it
	Symbols  []Symbol        `json:"symbols"`
	Factors  []source.Factor `json:"factors,omitempty"`
	Value    float64         `json:"value"`
	Unit     string          `json:"unit"`
	Source   string          `json:"source"` // who published the equation, or "definition"
}

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
