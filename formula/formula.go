package formula

import (
	"fmt"
	"math"

	"wellwright/source"
)

// Formula is one public formula with all that is to be said of it. It is
// written once, beside the code it opens, and serves every face.
type Formula struct {
	Name     string // snake_case, in the words of the trade
	Subject  string // the heading it is listed under
	What     string // one line
	Inputs   []Input
	Equation string
	Range    string // what it holds for, beyond the bounds of the inputs
	Error    string // how far off it may be
	Source   string // who published it
	Kind     source.Kind
	Factors  []source.Factor // disputed numbers it rests on
	Care     string          // what can hurt someone who acts on the answer
	Figures  []string        // figures of a plan that this formula opens, by name
	Examples []Example       // the first one is what calc shows
	Run      func(Args) (Outcome, error)
}

// Example is a worked example from outside the program.
type Example struct {
	Given []string // name=value
	Wants []Want
}

// Want is one answer of an example that comes from outside the program.
type Want struct {
	Result string
	Value  string // as printed, with the unit
	Within string // how far off the answer may be, from the digits of the source
	Source string
}

// Outcome is what a formula comes to.
type Outcome struct {
	Results []Result
	Symbols []Symbol // what was worked out on the way
	Notes   []string // to be said with the answer
}

// Result is one answer in both systems of units.
type Result struct {
	Name   string `json:"name"`
	Symbol string `json:"symbol,omitempty"`
	What   string `json:"what"`
	US     Amount `json:"us"`
	Metric Amount `json:"metric"`
	base   float64
	read   func(string) (float64, error)
}

// Gives makes a result of a kind.
func (k Kind[T]) Gives(name, symbol, what string, v T) Result {
	r := Result{Name: name, Symbol: symbol, What: what, US: k.us(v), Metric: k.si(v)}
	if k.base == nil {
		return r
	}
	r.base = k.base(v)
	r.read = func(s string) (float64, error) {
		w, err := k.read(s)
		if err != nil {
			return 0, err
		}
		return k.base(w), nil
	}
	return r
}

// Give collects results.
func Give(rs ...Result) Outcome { return Outcome{Results: rs} }

// With adds figures worked out on the way.
func (o Outcome) With(s ...Symbol) Outcome {
	o.Symbols = append(o.Symbols, s...)
	return o
}

// Say adds a remark.
func (o Outcome) Say(format string, args ...any) Outcome {
	o.Notes = append(o.Notes, fmt.Sprintf(format, args...))
	return o
}

// Input returns the input of a name.
func (f Formula) Input(name string) (Input, bool) {
	for _, i := range f.Inputs {
		if i.Name == name {
			return i, true
		}
	}
	return Input{}, false
}

// Gives lists what the formula comes to, as its first example shows.
func (f Formula) Gives() []Result {
	if len(f.Examples) == 0 {
		return nil
	}
	given, _ := f.Read(f.Examples[0].Given)
	a, _ := f.Answer(given, source.Set{})
	return a.Results
}

// Given is one input as it was read.
type Given struct {
	Name   string `json:"name"`
	Symbol string `json:"symbol,omitempty"`
	What   string `json:"what"`
	Read   string `json:"read"`
	From   string `json:"from"` // given, assumed and why, or what the book says
	US     Amount `json:"us"`
	Metric Amount `json:"metric"`
}

// Answer is a formula answered, with its working.
type Answer struct {
	Formula  string          `json:"formula"`
	What     string          `json:"what"`
	Inputs   []Given         `json:"inputs"`
	Results  []Result        `json:"results"`
	Symbols  []Symbol        `json:"working"`
	Equation string          `json:"equation"`
	Range    string          `json:"range,omitempty"`
	Error    string          `json:"error,omitempty"`
	Source   string          `json:"source"`
	Kind     source.Kind     `json:"kind"`
	Factors  []source.Factor `json:"factors,omitempty"`
	Notes    []string        `json:"notes,omitempty"`
	Care     string          `json:"caution,omitempty"`
}

// Filled is the value of an input with where it comes from.
type Filled struct{ Name, Text, From string }

// Answer runs the formula on its inputs by name. Every mistake is returned, not
// only the first.
func (f Formula) Answer(given []Filled, set source.Set) (Answer, []error) {
	a, ins, bad := f.args(given, set)
	if len(bad) > 0 {
		return Answer{}, bad
	}
	o, err := f.Run(a)
	if err != nil {
		return Answer{}, []error{err}
	}
	if err := whole(f.Name, o.Results); err != nil {
		return Answer{}, []error{err}
	}
	ans := Answer{Formula: f.Name, What: f.What, Inputs: ins, Results: o.Results, Symbols: o.Symbols, Equation: f.Equation,
		Range: f.Range, Error: f.Error, Source: f.Source, Kind: f.Kind, Notes: o.Notes, Care: f.Care}
	for _, x := range f.Factors {
		ans.Factors = append(ans.Factors, set.In(x))
	}
	return ans, nil
}

// whole refuses an answer that is no number.
func whole(name string, rs []Result) error {
	for _, r := range rs {
		if v := r.US.Value; math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%s: these inputs have no %s", name, r.Name)
		}
	}
	return nil
}

// Step returns the answer's working in the form in which every figure's is kept.
func (a Answer) Step() Step {
	s := Step{Figure: a.Formula, Formula: a.Formula, Equation: a.Equation, Factors: a.Factors, Source: a.Source}
	for _, g := range a.Inputs {
		s.Symbols = append(s.Symbols, Symbol{Name: g.Symbol, Value: g.US.Value, Unit: g.US.Unit})
	}
	s.Symbols = append(s.Symbols, a.Symbols...)
	if len(a.Results) > 0 {
		s.Value, s.Unit = a.Results[0].US.Value, a.Results[0].US.Unit
	}
	return s
}

// On begins an example: what is given, as name=value.
func On(given ...string) Example { return Example{Given: given} }

// Is adds an answer from outside the program to an example.
func (e Example) Is(result, value, within, source string) Example {
	e.Wants = append(e.Wants, Want{result, value, within, source})
	return e
}

// By lists examples.
func By(es ...Example) []Example { return es }
