// Package source says where a number comes from: its kind, who published it and
// where, and what the user has put in its place. It imports nothing of ours.
package source

import (
	"fmt"
	"maps"
	"slices"
	"sort"
)

// Kind is how well a number is founded.
type Kind int

// The kinds, best founded first.
const (
	Published      Kind = iota // text of the source was read
	Derived                    // arithmetic from published values or definitions
	CommonPractice             // a rule of the trade, no single source
	FromMemory                 // believed source named, text not seen
	Judgement                  // our own estimate, meant to rank things
	Own                        // put in by the user
)

var kindNames = [...]string{"published", "derived", "common practice", "from memory", "judgement", "own value"}

// String returns the words printed beside a number.
func (k Kind) String() string {
	if k < 0 || int(k) >= len(kindNames) {
		return fmt.Sprintf("kind %d", int(k))
	}
	return kindNames[k]
}

// MarshalText writes the kind in words.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// Factor is one number the answers rest on. Its Name is what the user types to
// open or replace it, and is unique over the whole program.
type Factor struct {
	Name  string  `json:"name"`  // snake_case, such as softener_iron_allowance
	What  string  `json:"what"`  // one line in the words of the trade
	Unit  string  `json:"unit"`  // "" for a pure number
	Value float64 `json:"value"` // the default
	Low   float64 `json:"low"`   // with High: the range in use or in print; both zero if none
	High  float64 `json:"high"`
	Kind  Kind    `json:"kind"`
	From  string  `json:"from"` // who, year, title, table or page; for a rule of the trade, who uses it
}

// HasRange reports whether the factor carries a range.
func (f Factor) HasRange() bool { return f.Low != 0 || f.High != 0 }

// Override is the user's own value for a factor, with the reason given.
type Override struct {
	Value float64
	Why   string
}

// Set answers what a factor is worth in one well's book: the user's own value
// where there is one, else the default. The zero Set has no overrides. It is
// never changed after it is made, so that it may be read from many goroutines.
type Set struct{ own map[string]Override }

// NewSet makes a set from the user's own values by factor name. It keeps a copy.
func NewSet(own map[string]Override) Set { return Set{maps.Clone(own)} }

// Of returns the value of f in this set.
func (s Set) Of(f Factor) float64 {
	if o, ok := s.own[f.Name]; ok {
		return o.Value
	}
	return f.Value
}

// Range returns the low, usual and high value of f. An override closes the range.
func (s Set) Range(f Factor) (low, mid, high float64) {
	if o, ok := s.own[f.Name]; ok {
		return o.Value, o.Value, o.Value
	}
	if !f.HasRange() {
		return f.Value, f.Value, f.Value
	}
	return f.Low, f.Value, f.High
}

// In returns f as it stands in this set, its kind changed to Own if replaced.
func (s Set) In(f Factor) Factor {
	o, ok := s.own[f.Name]
	if !ok {
		return f
	}
	f.Value, f.Low, f.High, f.Kind, f.From = o.Value, 0, 0, Own, o.Why
	return f
}

// Overridden returns the names of the replaced factors, sorted.
func (s Set) Overridden() []string {
	names := make([]string, 0, len(s.own))
	for n := range s.own {
		names = append(names, n)
	}
	sort.Strings(names)
	return names
}

// Register is every factor of the program by name.
type Register struct {
	byName map[string]Factor
	names  []string
}

// NewRegister joins the factors of the rooms; a name used twice is an error.
func NewRegister(rooms ...[]Factor) (*Register, error) {
	r := &Register{byName: map[string]Factor{}}
	for _, fs := range rooms {
		for _, f := range fs {
			if _, twice := r.byName[f.Name]; twice {
				return nil, fmt.Errorf("factor %q is registered twice", f.Name)
			}
			r.byName[f.Name] = f
			r.names = append(r.names, f.Name)
		}
	}
	sort.Strings(r.names)
	return r, nil
}

// Names returns all factor names, sorted.
func (r *Register) Names() []string { return slices.Clone(r.names) }

// Find returns the factor called name.
func (r *Register) Find(name string) (Factor, bool) {
	f, ok := r.byName[name]
	return f, ok
}
