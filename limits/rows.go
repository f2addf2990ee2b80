package limits

import (
	"fmt"
	"math"
	"time"

	"wellwright/source"
	"wellwright/water"
)

// all is every limit known.
var all = append(append([]Limit(nil), common...), rare...)

// open marks a side of a limit that has no bound.
var open = math.Inf(1)

// reading says how the text of a limit was come by.
type reading int

const (
	read     reading = iota // the law or paper itself
	second                  // somebody else's summary
	earlier                 // the edition before; that the current one kept it is from memory
	memory                  // not seen
	practice                // a rule of the trade
)

// founded returns the kind and the words that a source is printed with.
func (r reading) founded(from string) (source.Kind, string) {
	switch r {
	case second:
		return source.Published, from + " (read second hand)"
	case earlier:
		return source.Published, from + " (that the edition in force kept it is from memory)"
	case memory:
		return source.FromMemory, from + " (from memory)"
	case practice:
		return source.CommonPractice, from
	}
	return source.Published, from
}

// row makes a limit from figures in the unit of its source.
func row(a water.Analyte, jurisdiction, typ string, low, high float64, unit string, b Basis, r reading, from string) Limit {
	l := Limit{Analyte: a, Jurisdiction: jurisdiction, Type: typ, Basis: b}
	l.Low, l.High = bound(a, low, unit), bound(a, high, unit)
	l.Kind, l.Source = r.founded(from)
	return l
}

// bound brings a figure to the canonical unit. The tables are part of the
// program, so that a unit that cannot be read there is a broken program.
func bound(a water.Analyte, v float64, unit string) *float64 {
	if math.IsInf(v, 1) {
		return nil
	}
	got, err := water.Result{Analyte: a, Value: v, Unit: unit}.Amount()
	if err != nil {
		panic(fmt.Sprintf("limit table: %v", err))
	}
	c, _ := got.Canonical()
	return &c
}

// The days from which Directive (EU) 2020/2184 stands in the place of 98/83/EC, by
// its articles 24 and 26, and from which its new parameters bind, by article 25: from
// memory, the second read second hand as January 2026.
const (
	recast    = "2023-01-12"
	recastNew = "2026-01-12"
)

// since and until give the days from and before which a limit holds.
func (l Limit) since(day string) Limit { l.From = date(day); return l }
func (l Limit) until(day string) Limit { l.To = date(day); return l }

// ranged marks a limit that its authority gives as a range.
func (l Limit) ranged() Limit { l.Between = true; return l }

func date(s string) time.Time {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(fmt.Sprintf("limit table: %v", err))
	}
	return t
}
