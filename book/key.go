package book

import (
	"regexp"
	"strings"

	"wellwright/unit"
)

// Key is one key of a section, with all that a form needs to ask for it. It is
// made from the table that Read uses, so that the two cannot part.
type Key struct {
	Name    string
	What    string // in a few words
	Example string // of a single text; "" for none
	Need    bool   // the section cannot do without it
	Shape   KeyShape
	Words   []string // the only ones allowed, if any; of a yes-or-no key yes and no
	Free    bool     // any words at all
	Also    string   // an older spelling that is still read; "" for none
	Unit    string   // in which the example gives its figure; "" if there is none
	Under   []Key    // of a Group or of each item of Several
}

// KeyShape is the form of what stands under a key.
type KeyShape int

// The shapes of what stands under a key.
const (
	One     KeyShape = iota // one text
	Some                    // one text, or several
	Group                   // keys of its own
	Several                 // one item with keys of its own, or several
	Counts                  // how many of each, by name
	Figures                 // results by the name of their analyte
)

// Kinds lists the kinds of entry that have a section, in the order of the job.
func Kinds() []Kind {
	out := make([]Kind, len(kinds))
	for i, k := range kinds {
		out[i] = k.id
	}
	return out
}

// KeyOf is the key that entries of a kind have their section under. A note and a
// withdrawal have none.
func KeyOf(k Kind) (Key, bool) {
	known, ok := kindOf(string(k))
	if !ok {
		return Key{}, false
	}
	return known.key(), true
}

// key is the field as forms see it.
func (f field) key() Key {
	k := Key{Name: f.name, What: f.what, Need: f.need, Words: f.form.words, Free: f.free, Also: f.also}
	switch {
	case f.form.shape == Map && f.form.fields != nil:
		k.Shape, k.Under = Group, keysOf(f.form.fields)
	case f.form.shape == Map && f.form.item != nil && f.form.item.number:
		k.Shape = Counts
	case f.form.shape == Map:
		k.Shape = Figures
	case f.form.shape == List && f.form.item != nil && f.form.item.fields != nil:
		k.Shape, k.Under = Several, keysOf(f.form.item.fields)
	case f.form.shape == List:
		k.Shape, k.Example = Some, strings.Trim(f.eg, "[]")
	default:
		k.Example = f.eg
		if !f.free && f.form.words == nil {
			k.Unit = exampleUnit(f.eg)
		}
	}
	return k
}

func keysOf(fields []field) []Key {
	out := make([]Key, len(fields))
	for i, f := range fields {
		out[i] = f.key()
	}
	return out
}

// figureExample is an example that is a figure, a pair or a range, with its unit.
var figureExample = regexp.MustCompile(`^-?[0-9.]+(?:(?:/| to )[0-9.]+)? ([A-Za-z][A-Za-z/]*)$`)

func exampleUnit(eg string) string {
	m := figureExample.FindStringSubmatch(eg)
	if m == nil {
		return ""
	}
	return m[1]
}

// beside are the units of examples with the one that a specialist writes in the
// other system. Common practice; what a unit is worth, package unit knows.
var beside = map[string]struct{ us, metric string }{
	"ft": {"ft", "m"}, "in": {"in", "mm"}, "m": {"ft", "m"},
	"gpm": {"gpm", "L/min"}, "gal/day": {"gal/day", "L/day"}, "gal": {"gal", "L"}, "gpm/ft": {"gpm/ft", "L/min/m"},
	"psi": {"psi", "kPa"}, "hp": {"hp", "kW"}, "C": {"F", "C"},
}

// UnitIn is the unit of an example, or of an analyte, as it is written in a
// system of units.
func UnitIn(of string, s unit.System) string {
	b, ok := beside[of]
	switch {
	case !ok:
		return of
	case s == unit.Metric:
		return b.metric
	}
	return b.us
}
