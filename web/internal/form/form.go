// Package form asks for an entry of a well book. It turns the book's own table of
// keys into fields to fill in, what was filled in into an entry, and the findings
// on that entry into words beside the fields. It keeps no list of keys of its own.
package form

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"wellwright/book"
	"wellwright/media"
	"wellwright/unit"
)

// Typed is what stands in the inputs of a form, by the path of each: the kind of
// entry, then its keys, with items of a list counted from none, as in
// "well/pump/power" or "signs/0/words".
type Typed map[string]string

// Widget is the way a field is filled in.
type Widget string

// The widgets.
const (
	Line   Widget = "line"   // one line of text
	Prose  Widget = "prose"  // several lines of text
	Choice Widget = "choice" // few words, each to be touched
	Select Widget = "select" // many words
	Group  Widget = "group"  // fields of its own
	List   Widget = "list"   // items with fields of their own
	Counts Widget = "counts" // a number for each name
	Pair   Widget = "pair"   // a name with its number, both typed
	Rows   Widget = "rows"   // figures by analyte
	Checks Widget = "checks" // signs, each seen or not there
	Hidden Widget = "hidden" // what the program writes
)

// Option is a word to choose, with what it means.
type Option struct{ Value, Say string }

// Field is one field to fill in, or a group of them.
type Field struct {
	Path    string // name of the input
	Label   string
	What    string // in a few words
	Example string
	Unit    string // written behind a bare figure
	Known   string // what the book says already
	Need    bool
	Widget  Widget
	Options []Option
	Suggest []string // words to choose from that are not the only ones
	Value   string
	Name    string    // of a pair: what was typed for it
	Wrong   []string  // what is wrong, in the words of the book
	Under   []Field   // of a group
	Items   []Field   // of a list: a group each
	Figures []Figure  // of rows
	Signs   []Heading // of checks
	Deep    bool      // stands within another field
}

// ID names the input in a page.
func (f Field) ID() string { return ID(f.Path) }

// ID turns the path of an input into a name within a page.
func ID(path string) string {
	return "f-" + strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return '-'
	}, path)
}

// Filled reports whether anything stands in the field or below it.
func (f Field) Filled() bool {
	return f.Value != "" || len(f.Wrong) > 0 || slices.ContainsFunc(f.Under, Field.Filled) || slices.ContainsFunc(f.Items, Field.Filled)
}

// Ask is what a form is made from.
type Ask struct {
	Kind   book.Kind
	Typed  Typed
	System unit.System
	Wrong  map[string][]string // findings by the path of the input
	Known  map[string]string   // what the book says already, by path
}

// Fields are the fields of a kind of entry, filled in with what was typed.
func Fields(a Ask) []Field {
	key, ok := book.KeyOf(a.Kind)
	if !ok {
		return nil
	}
	top := a.field(key, key.Name)
	switch {
	case a.Kind == book.SignsKind:
		top.Label, top.Deep = "With more to say, or in other words", true
		return []Field{a.checks(), top}
	case top.Widget == Group:
		return top.Under
	}
	return []Field{top}
}

// field is the field of one key at a path.
func (a Ask) field(k book.Key, path string) Field {
	f := Field{Path: path, Label: label(k.Name), What: k.What, Example: k.Example, Need: k.Need, Value: a.Typed[path], Wrong: a.Wrong[path],
		Known: a.Known[path], Deep: strings.Contains(path, "/"), Widget: Line}
	switch k.Shape {
	case book.Some:
		f.Widget = Prose
	case book.Group:
		f.Widget, f.Under = Group, a.fields(k, path)
	case book.Several:
		f.Widget = List
		for i := range max(1, a.Typed.count(path)) {
			at := path + "/" + strconv.Itoa(i)
			f.Items = append(f.Items, Field{Path: at, Label: label(k.Name) + " " + strconv.Itoa(i+1), Widget: Group, Wrong: a.Wrong[at], Under: a.fields(k, at), Deep: true})
		}
	case book.Counts:
		f.Widget, f.Under = Counts, a.counts(path)
	case book.Figures:
		f.Widget, f.Figures = Rows, a.figures(path)
	default:
		a.single(&f, k)
	}
	return f
}

func (a Ask) fields(k book.Key, path string) []Field {
	out := make([]Field, len(k.Under))
	for i, u := range k.Under {
		out[i] = a.field(u, path+"/"+u.Name)
	}
	return out
}

// touched is how many words are few enough to be touched one by one: judgement.
const touched = 5

// single makes the field of a key with one text.
func (a Ask) single(f *Field, k book.Key) {
	switch {
	case isTap(k):
		f.Widget, f.Options, f.What, f.Example = Select, taps(f.Value), "", ""
		if strings.Count(f.Path, "/") == 1 {
			f.Widget = Choice // of the entry as a whole
		}
	case k.Name == "sha256" || k.Name == "file":
		f.Widget = Hidden
	case len(k.Words) > 0:
		f.Options, f.Example = wordsOf(k.Words), ""
		if f.Widget = Choice; len(k.Words) > touched {
			f.Widget = Select
		}
		if !slices.Contains(k.Words, f.Value) && f.Value != "" { // what somebody typed stays to be seen
			f.Options = append(f.Options, Option{f.Value, f.Value})
		}
	case k.Unit != "":
		f.Unit = book.UnitIn(k.Unit, a.System)
		if f.Unit != k.Unit { // an example in the other system would mislead
			f.Example = ""
		}
	case k.Free && long[k.Name]:
		f.Widget = Prose
	}
	f.Suggest = suggested[k.Name]
}

// suggested are words for keys that take many, all of them known by name.
var suggested = map[string][]string{"sign": signNames(), "process": processNames(), "jurisdiction": {"US", "CA", "WHO", "EU"}}

func processNames() []string {
	var out []string
	for _, p := range media.Processes() {
		out = append(out, string(p))
	}
	return out
}

// long are the keys that people write more than a line under.
var long = map[string]bool{"complaint": true, "remarks": true, "behaviour": true, "others": true, "hazards near": true, "discharge": true, "rules remarks": true}

func wordsOf(words []string) []Option {
	out := make([]Option, len(words))
	for i, w := range words {
		out[i] = Option{w, w}
	}
	return out
}

// isTap is true of a key that names a tap.
func isTap(k book.Key) bool { return k.Name == "tap" || k.Name == "tap after it" }

// everyTap is the taps of a house, with what they are.
var everyTap = []Option{{"T0", "wellhead"}, {"T1", "after the pressure tank"}, {"T2", "after the first vessel"}, {"T3", "after the second"}, {"T4", "after the third"},
	{"T5", "after the fourth"}, {"T6", "after the fifth"}, {"K", "kitchen cold"}, {"H", "hot"}, {"D", "drain"}, {"S", "slime scraped off"}}

// Taps lists the taps of a house.
func Taps() []Option { return slices.Clone(everyTap) }

// TapWords says what a tap is; "" for one that is not in the list.
func TapWords(tap string) string {
	for _, o := range everyTap {
		if o.Value == tap {
			return o.Say
		}
	}
	return ""
}

// taps are the taps to choose from, and the one that stands there already.
func taps(value string) []Option {
	out := slices.Clone(everyTap)
	if value != "" && !slices.ContainsFunc(out, func(o Option) bool { return o.Value == value }) {
		out = append(out, Option{value, ""})
	}
	return out
}

// label writes a key with a capital, unless it is one that has its own.
func label(name string) string {
	r := []rune(name)
	if len(r) > 1 && unicode.IsUpper(r[1]) {
		return name
	}
	r[0] = unicode.ToUpper(r[0])
	return string(r)
}

// count is how many items stand under a path.
func (t Typed) count(path string) int {
	n := 0
	for p := range t {
		rest, ok := strings.CutPrefix(p, path+"/")
		if !ok {
			continue
		}
		index, _, _ := strings.Cut(rest, "/")
		if i, err := strconv.Atoi(index); err == nil && i >= n && i < mostItems {
			n = i + 1
		}
	}
	return n
}

// mostItems bounds the items of one list in a form.
const mostItems = 200

// More is what was typed with room for one item more under a path.
func (t Typed) More(path string, least int) {
	t[path+"/"+strconv.Itoa(max(least, t.count(path)))] = ""
}
