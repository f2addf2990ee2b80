package form

import (
	"regexp"
	"strconv"
	"strings"

	"wellwright/book"
	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// Figure is a row of results: one analyte, as read or printed.
type Figure struct {
	Path     string // of the row; its inputs stand below it
	Name     string
	Fixed    bool // the form asks for it by name
	Signed   bool // it may lie below what a test can tell
	Unit     string
	Value    string
	Fraction string
	Method   string
	Limit    string
	Note     string
	Wrong    []string
}

// ID names the row in a page.
func (f Figure) ID() string { return ID(f.Path) }

// More reports whether there is more to say than the figure.
func (f Figure) More() bool { return f.Fraction+f.Method+f.Limit+f.Note != "" }

// onSite are the readings that a visit asks for, what spoils first in front: a
// bottle on its way cools, gases off, and its ferrous iron rusts. Common practice.
var onSite = []string{
	"temperature", "pH", "dissolved oxygen", "ferrous iron", "total iron", "sulfide", "carbon dioxide", "alkalinity", "redox potential",
	"free chlorine", "total chlorine", "turbidity", "conductivity", "hardness", "total manganese",
}

// spareRows are the empty rows of a form: judgement.
const spareRows, reportRows = 1, 8

// FigureRows is how many rows a form of a kind begins with.
func FigureRows(k book.Kind) int {
	if k == book.ReadingsKind {
		return len(onSite) + spareRows
	}
	return reportRows
}

// figures are the rows at a path.
func (a Ask) figures(path string) []Figure {
	n := max(FigureRows(a.Kind), a.Typed.count(path))
	out := make([]Figure, n)
	for i := range out {
		at := path + "/" + strconv.Itoa(i)
		f := Figure{Path: at, Name: a.Typed[at+"/name"], Value: a.Typed[at+"/value"], Fraction: a.Typed[at+"/fraction"],
			Method: a.Typed[at+"/method"], Limit: a.Typed[at+"/limit"], Note: a.Typed[at+"/note"], Wrong: a.Wrong[at]}
		if a.Kind == book.ReadingsKind && i < len(onSite) {
			f.Name, f.Fixed = onSite[i], true
			f.Unit, f.Signed = UnitOf(f.Name, a.System), signed(f.Name)
		}
		out[i] = f
	}
	return out
}

// signed is true of an amount in the water; temperature, pH and a potential have
// no limit below which a test cannot tell them.
func signed(name string) bool {
	a, _, _, _ := water.ParseAnalyte(name)
	switch a.Dimension() {
	case water.OfPH, water.OfTemperature, water.OfPotential, water.OfConductivity:
		return false
	}
	return true
}

// UnitOf is the unit in which an analyte is read in a system; "" for pH, and for
// what is not known.
func UnitOf(name string, s unit.System) string {
	a, _, _, ok := water.ParseAnalyte(name)
	switch {
	case !ok || a.Dimension() == water.OfPH:
		return ""
	case a.Dimension() == water.OfHardness && s == unit.US:
		return "gpg" // as softeners are set: common practice
	}
	return book.UnitIn(a.Unit(), s)
}

// Analytes names every analyte there is, and the forms of iron and manganese that
// are told apart.
func Analytes() []string {
	out := []string{"total iron", "dissolved iron", "ferrous iron", "total manganese", "dissolved manganese"}
	for _, a := range water.Analytes() {
		out = append(out, a.Name())
	}
	return out
}

// bare is a figure, perhaps with its sign, that has no unit.
var bare = regexp.MustCompile(`^(?:[<>≤≥]=?)?\s*-?[0-9][0-9.,]*(?:[eE][+-]?[0-9]+)?(?:\s*(?:/|to)\s*[0-9][0-9.,]*)?$`)

// withUnit writes the unit of a field behind a bare figure. Who writes another
// unit has it.
func withUnit(text, in string) string {
	if in == "" || !bare.MatchString(text) {
		return text
	}
	return text + " " + in
}

// counts are the fixtures of a house, and those that somebody named.
func (a Ask) counts(path string) []Field {
	var out []Field
	named := map[string]bool{}
	add := func(name string) {
		at := path + "/" + name
		if !named[name] {
			out = append(out, Field{Path: at, Label: label(name), Widget: Line, Value: a.Typed[at], Wrong: a.Wrong[at], Known: a.Known[at], Deep: true})
		}
		named[name] = true
	}
	for _, f := range hydraulic.Fixtures(source.Set{}) {
		add(f.Name)
	}
	for _, name := range a.Typed.below(path) {
		add(name)
	}
	for i := range max(sparePairs, a.Typed.count(path+pairs)) {
		at := path + pairs + "/" + strconv.Itoa(i)
		out = append(out, Field{Path: at, Label: "Another", Widget: Pair, Name: a.Typed[at+"/name"], Value: a.Typed[at+"/value"], Wrong: a.Wrong[at], Deep: true})
	}
	return out
}

// pairs is where names are typed that the form does not know, sparePairs how many.
const pairs, sparePairs = "/+", 4

// below are the names right under a path, in order of the alphabet.
func (t Typed) below(path string) []string {
	var out []string
	for p := range t {
		if name, ok := strings.CutPrefix(p, path+"/"); ok && name != "" && !strings.Contains(name, "/") {
			out = append(out, name)
		}
	}
	return sorted(out)
}
