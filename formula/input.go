package formula

import (
	"errors"
	"fmt"
	"strings"

	"wellwright/source"
	"wellwright/unit"
)

// Input is what a formula must be told.
type Input struct {
	Name    string // snake_case, in the words of the trade; alike for like things in every formula
	Symbol  string // its letter in the equation
	What    string
	Kind    string // what it measures, such as "temperature"
	Units   string // what may stand behind the number
	Low     string // least value the formula holds for; "" if none
	High    string
	Default string // value taken where none is given; "" if one must be
	Why     string // why that default; it is marked assumed

	rests *source.Factor // the factor that the default is, if it is one
	unit  string         // the unit it is written in
	times float64        // what the factor is multiplied by to be in it

	read  func(string) (any, error)
	us    func(any) Amount
	si    func(any) Amount
	base  func(any) float64
	floor float64
	roof  float64
}

// In is an input whose value comes out as a T.
type In[T any] struct{ Input }

// Takes makes an input of a kind.
func (k Kind[T]) Takes(name, symbol, what string) In[T] {
	in := Input{Name: name, Symbol: symbol, What: what, Kind: k.What, Units: k.Units,
		read: func(s string) (any, error) { return k.read(s) },
		us:   func(v any) Amount { return k.us(v.(T)) },
		si:   func(v any) Amount { return k.si(v.(T)) },
	}
	if k.base != nil {
		in.base = func(v any) float64 { return k.base(v.(T)) }
	}
	return In[T]{in}
}

// Between bounds an input; "" leaves a side open. Both bounds belong to the range.
func (i In[T]) Between(low, high string) In[T] {
	i.Low, i.High = low, high
	i.floor, i.roof = i.bound(low), i.bound(high)
	return i
}

// bound reads a bound. One that cannot be read is a broken program.
func (i *Input) bound(s string) float64 {
	if s == "" {
		return 0
	}
	v, err := i.read(s)
	if err != nil {
		panic(fmt.Sprintf("input %s: bound %q: %v", i.Name, s, err))
	}
	return i.base(v)
}

// Assume gives the value taken where none is given, and why.
func (i In[T]) Assume(value, why string) In[T] {
	i.Default, i.Why = value, why
	return i
}

// Rests takes a factor for what is not given, so that the user's own value of it
// counts. It is multiplied by times to be in the unit.
func (i In[T]) Rests(f source.Factor, times float64, u, why string) In[T] {
	i.rests, i.unit, i.times = &f, u, times
	i.Why = why + "; see factor " + f.Name
	i.Default = i.standing(source.Set{})
	return i
}

// standing is the default as it stands in a set of factors.
func (i *Input) standing(set source.Set) string {
	if i.rests == nil {
		return i.Default
	}
	return strings.TrimSpace(Figure(set.Of(*i.rests)*i.times) + " " + i.unit)
}

// Of returns the value of the input.
func (i In[T]) Of(a Args) T {
	v, ok := a.values[i.Name].(T)
	if !ok {
		panic("formula: input " + i.Name + " is not among the inputs of its formula")
	}
	return v
}

// Given reports whether the value was given, not assumed.
func (i In[T]) Given(a Args) bool { return !a.assumed[i.Name] }

// Plain returns the input without its type.
func (i In[T]) Plain() Input { return i.Input }

// Inputs lists inputs of any kinds.
func Inputs(ins ...interface{ Plain() Input }) []Input {
	out := make([]Input, len(ins))
	for k, i := range ins {
		out[k] = i.Plain()
	}
	return out
}

// Args are the values of a formula's inputs, with the user's own factors.
type Args struct {
	Factors source.Set
	values  map[string]any
	assumed map[string]bool
}

// RangeError says that an input lies outside what a formula holds for.
type RangeError struct {
	Formula, Input, Read, Low, High string
}

// Error names the formula, the input, its value and what would be right.
func (e *RangeError) Error() string {
	return fmt.Sprintf("%s: %s %q is outside %s", e.Formula, e.Input, e.Read, Span(e.Low, e.High))
}

// Span writes a range of two texts with its unit once.
func Span(low, high string) string {
	switch {
	case low == "" && high == "":
		return ""
	case low == "":
		return high + " at most"
	case high == "":
		return low + " at least"
	}
	if n, u, _ := strings.Cut(low, " "); u != "" && strings.HasSuffix(high, " "+u) {
		low = n
	}
	return low + " to " + high
}

// value reads a text as the value of the input.
func (i *Input) value(formula, text string) (any, error) {
	v, err := i.read(text)
	if err != nil {
		return nil, i.mistake(text, err)
	}
	if i.base == nil {
		return v, nil
	}
	b := i.base(v)
	if i.Low != "" && b < i.floor || i.High != "" && b > i.roof {
		return nil, &RangeError{formula, i.Name, text, i.Low, i.High}
	}
	return v, nil
}

// mistake says what was read for an input and what would be right.
func (i *Input) mistake(text string, err error) error {
	var u *unit.UnknownError
	switch {
	case strings.TrimSpace(text) == "":
		return fmt.Errorf("%s has no value; write %s", i.Name, i.asked())
	case errors.As(err, &u) && u.Known == unitless:
		return fmt.Errorf("%s %q: %s is %s; %q is one too much", i.Name, text, u.What, plainNumber, u.Unit)
	case errors.As(err, &u) && u.Unit == "":
		return fmt.Errorf("%s %q has no unit; write it with one of: %s", i.Name, text, u.Known)
	case errors.As(err, &u):
		return fmt.Errorf("%s %q: %q is no unit of %s; write one of: %s", i.Name, text, u.Unit, u.What, u.Known)
	}
	return fmt.Errorf("%s %q: %w", i.Name, text, err)
}

// Optional reports whether the input may be left out because it then counts as
// nothing.
func (i Input) Optional() bool { return i.Why == LeftOut || i.Why == None }

// Reasons for a default that is nothing at all.
const (
	LeftOut = "left out"
	None    = "none"
)

// Asked says in words what to write for the input: kind, units and range.
func (i Input) Asked() string { return i.asked() }

// asked says what to write for an input.
func (i *Input) asked() string {
	s := i.Kind
	switch {
	case i.Units == plainNumber || strings.HasPrefix(i.Units, oneOf):
		s = i.Units
	case strings.HasPrefix(i.Units, suchAs):
		s += ", " + i.Units
	case i.Units != "":
		s += " in " + i.Units
	}
	if r := Span(i.Low, i.High); r != "" {
		s += "; " + r
	}
	return s
}
