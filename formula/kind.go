package formula

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"wellwright/unit"
)

// Amount is a figure with its unit, or words where the answer is a word.
type Amount struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit,omitempty"`
	Words string  `json:"words,omitempty"`
}

// String writes the amount to four figures.
func (a Amount) String() string {
	if a.Words != "" {
		return a.Words
	}
	return strings.TrimSpace(Figure(a.Value) + " " + a.Unit)
}

// Figure writes a number to four figures; one too small or too large to be read
// so takes a power of ten.
func Figure(v float64) string {
	if size := math.Abs(v); v != 0 && (size < 1e-4 || size >= 1e7) {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	return unit.Significant(v, 4)
}

// Kind is one meaning of a quantity: how it is read from text, and how it is
// shown in US and in metric units.
type Kind[T any] struct {
	What  string // such as "temperature"
	Units string // what may stand behind the number, such as "C, F"
	read  func(string) (T, error)
	us    func(T) Amount
	si    func(T) Amount
	base  func(T) float64 // a measure that rises with the quantity, for bounds
}

// Scale is a unit that a quantity is shown in.
type Scale[T any] struct {
	Unit string
	Get  func(T) float64
}

// Shown makes a scale.
func Shown[T any](name string, get func(T) float64) Scale[T] { return Scale[T]{name, get} }

func (s Scale[T]) amount(v T) Amount { return Amount{Value: s.Get(v), Unit: s.Unit} }

// Read reads a text as the kind of quantity.
func (k Kind[T]) Read(s string) (T, error) { return k.read(s) }

// readable is a pointer to a quantity that reads text.
type readable[T any] interface {
	*T
	UnmarshalText([]byte) error
}

// Quantity makes the kind of a type of package unit, shown in the two units.
func Quantity[T any, P readable[T]](what string, us, metric Scale[T]) Kind[T] {
	read := func(s string) (T, error) {
		var v T
		err := P(&v).UnmarshalText([]byte(s))
		return v, err
	}
	units := known(read)
	if units == unitless {
		units = plainNumber
	}
	return Kind[T]{What: what, Units: units, read: read, us: us.amount, si: metric.amount, base: us.Get}
}

// What is said of quantities that are written without a unit.
const (
	unitless    = "(no unit)" // by package unit
	plainNumber = "a plain number"
	oneOf       = "one of: "
	suchAs      = "such as "
)

// known asks a reader which units it takes, by one that none has.
func known[T any](read func(string) (T, error)) string {
	var e *unit.UnknownError
	if _, err := read("1 ?"); errors.As(err, &e) {
		return e.Known
	}
	return ""
}

// Own makes a kind of any other type: how it is read and shown. The base rises
// with the quantity; nil where it has no order.
func Own[T any](what, units string, read func(string) (T, error), us, metric func(T) Amount, base func(T) float64) Kind[T] {
	return Kind[T]{What: what, Units: units, read: read, us: us, si: metric, base: base}
}

// Choice makes the kind of a value picked from a list by name.
func Choice[T comparable](what string, values []T, name func(T) string) Kind[T] {
	names := make([]string, len(values))
	for i, v := range values {
		names[i] = name(v)
	}
	read := func(s string) (T, error) {
		var none T
		i, err := pick(s, names)
		if err != nil {
			return none, err
		}
		return values[i], nil
	}
	show := func(v T) Amount { return Amount{Words: name(v)} }
	return Kind[T]{What: what, Units: oneOf + strings.Join(names, ", "), read: read, us: show, si: show}
}

// pick finds the name that a text is; else the only one that begins with it;
// else the only one that it is part of.
func pick(s string, names []string) (int, error) {
	want := plain(s)
	for _, fits := range []func(name, text string) bool{func(n, t string) bool { return n == t }, strings.HasPrefix, strings.Contains} {
		var found []int
		for i, n := range names {
			if want != "" && fits(plain(n), want) {
				found = append(found, i)
			}
		}
		switch len(found) {
		case 0:
		case 1:
			return found[0], nil
		default:
			return 0, fmt.Errorf("%q may be %s or %s; write it in full", s, names[found[0]], names[found[1]])
		}
	}
	return 0, fmt.Errorf("%q is not one of: %s", s, strings.Join(names, ", "))
}

// plain makes names alike that differ in case, hyphens and spaces only.
func plain(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return r == ' ' || r == '-' || r == '_'
	}), "_")
}

// Measure is one unit of a number that has no type of its own.
type Measure struct {
	Unit string
	Size float64 // in the first unit of the list
}

// Number makes the kind of a bare number, such as a count, a share or a ratio.
func Number(what string) Kind[float64] {
	show := func(v float64) Amount { return Amount{Value: v} }
	read := func(s string) (float64, error) {
		v, rest, err := number(s)
		if err == nil && rest != "" {
			return 0, fmt.Errorf("%q is a number without a unit; %q is one too much", s, rest)
		}
		return v, err
	}
	return Kind[float64]{What: what, Units: plainNumber, read: read, us: show, si: show, base: same}
}

func same(v float64) float64 { return v }

// Measured makes the kind of a number with a unit for which package unit has no
// type. It is shown in the first unit, in metric units in the second; the others
// may be written too.
func Measured(what string, us, metric Measure, also ...Measure) Kind[float64] {
	ms := append([]Measure{us}, also...)
	if metric != us {
		ms = append([]Measure{us, metric}, also...)
	}
	names := make([]string, len(ms))
	for i, m := range ms {
		names[i] = m.Unit
	}
	units := strings.Join(names, ", ")
	read := func(s string) (float64, error) {
		v, rest, err := number(s)
		if err != nil {
			return 0, err
		}
		for _, m := range ms {
			if strings.EqualFold(rest, m.Unit) {
				return v * m.Size, nil
			}
		}
		return 0, &unit.UnknownError{What: what, Unit: rest, Known: units}
	}
	show := func(m Measure) func(float64) Amount {
		return func(v float64) Amount { return Amount{Value: v / m.Size, Unit: m.Unit} }
	}
	return Kind[float64]{What: what, Units: units, read: read, us: show(us), si: show(metric), base: same}
}
