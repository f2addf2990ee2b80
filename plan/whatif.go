package plan

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"wellwright/cloud"
)

// Change is one input set to another value, as in iron=14, pump=8gpm or no-salt=yes.
type Change struct {
	Name string
	Text string // value as written
	to   float64
	dial dial
	wish *wish // what the owner or the place says; nil: a figure of the water or the supply
}

// Word writes a change as it is typed.
func (c Change) Word() string { return c.Name + "=" + c.Text }

// dial is an input that may be turned: it reads a value, says what it is now and
// sets it, either in the book's present state or in a drawn water.
type dial struct {
	name, unit string
	parse      func(string) (float64, error)
	now        func(cloud.Draw) float64
	set        func(*cloud.Draw, float64)
	low, high  float64 // values worth trying when looking for a flip
}

// bounds are the values that may be asked about: far beyond what a well gives,
// and within what the engines are made for.
func (d dial) bounds() (least, most float64) {
	switch d.name {
	case "ph":
		return 4, 10
	case "temperature":
		return 0, 40
	}
	return 0, 10 * d.high
}

// ParseChanges reads name=value pairs; every mistake is returned.
func ParseChanges(words []string) ([]Change, []error) {
	var cs []Change
	var bad []error
	for _, w := range words {
		c, err := parseChange(w)
		if err != nil {
			bad = append(bad, err)
			continue
		}
		cs = append(cs, c)
	}
	return cs, bad
}

func parseChange(w string) (Change, error) {
	name, text, ok := strings.Cut(w, "=")
	if !ok {
		return Change{}, fmt.Errorf("%q: write an input and its value, as in iron=14 or pump=8gpm", w)
	}
	name, text = strings.ToLower(strings.TrimSpace(name)), strings.TrimSpace(text)
	if x, ok := wishNamed(name); ok {
		return x.change(text)
	}
	d, ok := dialNamed(name)
	if !ok {
		return Change{}, fmt.Errorf("%q is not an input; the inputs are %s", name, strings.Join(Inputs(), ", "))
	}
	v, err := d.parse(text)
	if err != nil {
		return Change{}, fmt.Errorf("%s: %w", d.name, err)
	}
	if least, most := d.bounds(); !(v >= least && v <= most) {
		return Change{}, fmt.Errorf("%s: %q is outside what a well gives; write %g to %g %s", d.name, strings.TrimSpace(text), least, most, d.unit)
	}
	return Change{Name: d.name, Text: text, to: v, dial: d}, nil
}

// Inputs lists the names that ParseChanges knows.
func Inputs() []string {
	var ns []string
	for _, d := range dials {
		ns = append(ns, d.name)
	}
	for _, w := range wishes {
		ns = append(ns, w.name)
	}
	sort.Strings(ns)
	return ns
}

func dialNamed(name string) (dial, bool) {
	for _, d := range dials {
		if d.name == name {
			return d, true
		}
	}
	return dial{}, false
}

// With returns a desk whose waters, supplies and wishes have the changes made. A
// change moves every plausible water in proportion to the likeliest.
func (d *Desk) With(cs []Change) *Desk { return d.under(Variant{Changes: cs}) }

// moved is the cloud with the changes made.
func (d *Desk) moved(cs []Change) cloud.Cloud {
	c := d.Cloud
	c.Draws, c.Spread = slices.Clone(c.Draws), slices.Clone(c.Spread)
	for _, x := range cs {
		if x.wish != nil {
			continue
		}
		from := x.dial.now(d.likeliest())
		to := x.to
		if x.Name == people {
			to = from * x.to / d.people()
		}
		for _, draws := range [][]cloud.Draw{c.Draws, c.Spread} {
			for i := range draws {
				x.dial.set(&draws[i], proportion(x.dial.now(draws[i]), from, to))
			}
		}
	}
	return c
}

// people is the input that is turned by turning the daily use.
const people = "people"

// people are those recorded in the house, else those assumed.
func (d *Desk) people() float64 {
	if n := max(d.Present.House.People, d.Present.House.Serves); n > 0 {
		return float64(n)
	}
	for _, a := range d.Cloud.Assumed {
		if a.Name == people && a.P50 > 0 {
			return a.P50
		}
	}
	return 1
}

// proportion moves a draw's value as the middle moves.
func proportion(draw, from, to float64) float64 {
	if from == 0 {
		return to
	}
	return to * draw / from
}
