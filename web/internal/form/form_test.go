package form_test

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/web/internal/form"
)

// entries are the entries of all demonstration wells.
func entries(t *testing.T) []book.Entry {
	wells, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	var all []book.Entry
	for _, w := range wells {
		b, found := book.Read(w.Name, w.Text)
		if bad := book.Mistakes(found); len(bad) > 0 {
			t.Fatal(bad)
		}
		all = append(all, b.Entries...)
	}
	return all
}

// Whatever a book says, the form can say: an entry that is filled in from a book
// and taken again means the same. The second way to the same body is the reader
// of books.
func TestAnEntryGoesThroughItsForm(t *testing.T) {
	kinds := map[book.Kind]int{}
	for _, e := range entries(t) {
		if e.Kind == book.FactorKind || e.Kind == book.VariantKind || e.Kind == book.NoteKind {
			continue
		}
		typed := form.Fill(e)
		typed[form.Date], typed[form.Time] = e.On.Format(time.DateOnly), ""
		if e.Timed {
			typed[form.Time] = e.On.Format("15:04")
		}
		taken := form.Take(e.Kind, typed, unit.US)
		if found := taken.Found(); len(found) > 0 {
			t.Errorf("%s of %s: %v", e.Kind, e.ID, found)
			continue
		}
		taken.Entry.ID = e.ID
		_, again, err := book.Append(nil, taken.Entry)
		if err != nil {
			t.Errorf("%s: %v", e.Kind, err)
			continue
		}
		if diff := cmp.Diff(ordered(e), ordered(again), cmp.Comparer(func(a, b time.Time) bool { return a.Equal(b) }),
			cmp.FilterPath(func(p cmp.Path) bool { return p.Last().String() == ".Place" }, cmp.Ignore()),
			cmp.Exporter(func(reflect.Type) bool { return true })); diff != "" {
			t.Errorf("%s %s: %s", e.Kind, e.ID, diff)
		}
		kinds[e.Kind]++
	}
	for _, k := range []book.Kind{book.WellKind, book.HouseKind, book.SignsKind, book.ReadingsKind, book.LaboratoryKind, book.JarsKind, book.EquipmentKind, book.CulturesKind, book.WishesKind, book.RulesKind, book.CallKind} {
		if kinds[k] == 0 {
			t.Errorf("no demonstration well has a %s: nothing was tried", k)
		}
	}
}

// ordered is the body of an entry, with lists whose order means nothing put in
// one: a form asks in its own order.
func ordered(e book.Entry) any {
	switch b := e.Body.(type) {
	case []book.Sign:
		by := map[string]book.Sign{}
		for _, s := range b {
			if s.ID != "" && (s.Text == strings.ReplaceAll(string(s.ID), "_", " ") || s.Text == s.ID.String()) {
				s.Text = "" // a sign by its name says nothing in words
			}
			by[string(s.ID)+s.Text] = s
		}
		return by
	case *water.Report:
		by := map[string][]water.Result{}
		for _, r := range b.Results {
			r.Place = water.Place{}
			k := string(r.Analyte) + r.Fraction.String()
			by[k] = append(by[k], r)
		}
		rest := *b
		rest.Results = nil
		return []any{by, rest}
	}
	return e.Body
}

// shown gathers all that a form shows as typed.
func shown(fields []form.Field, into map[string]string) {
	for _, f := range fields {
		if into[f.Path] = f.Value; f.Widget == form.Pair {
			delete(into, f.Path)
			into[f.Path+"/name"], into[f.Path+"/value"] = f.Name, f.Value
		}
		shown(f.Under, into)
		shown(f.Items, into)
		for _, r := range f.Figures {
			for _, p := range [][2]string{{"name", r.Name}, {"value", r.Value}, {"fraction", r.Fraction}, {"method", r.Method}, {"limit", r.Limit}, {"note", r.Note}} {
				into[r.Path+"/"+p[0]] = p[1]
			}
		}
		for _, h := range f.Signs {
			for _, s := range h.Signs {
				into[s.Path] = s.Value
			}
		}
	}
}

// paths are the inputs of an empty form.
func paths(k book.Kind) []string {
	m := map[string]string{}
	shown(form.Fields(form.Ask{Kind: k, Typed: form.Typed{}}), m)
	var out []string
	for p := range m {
		if p != "" {
			out = append(out, p)
		}
	}
	return out
}

// Whatever is typed into a form stands in it again, and it is either an entry that
// a book takes, or something is said of it beside an input that is there.
func TestNothingTypedIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(book.Kinds()).Draw(t, "kind")
		typed := form.Typed{form.Date: "2025-05-31"}
		inputs := paths(kind)
		for range rapid.IntRange(0, 8).Draw(t, "n") {
			p := rapid.SampledFrom(inputs).Draw(t, "input")
			typed[p] = rapid.OneOf(rapid.SampledFrom([]string{"180", "7.3", "<0.05", "12 mg/L", "T1", "yes", "seen", "pH", "total iron", "2025-04-14", "<script>", "-4 ft"}), rapid.String()).Draw(t, "text")
		}
		taken := form.Take(kind, typed, unit.Metric)
		found := taken.Found()
		wrong := taken.Beside(found)
		if len(found) == 0 {
			if _, _, err := book.Append(nil, taken.Entry); err != nil {
				t.Fatalf("passes here and is refused by the book: %v", err)
			}
		}
		got := map[string]string{}
		fields := form.Fields(form.Ask{Kind: kind, Typed: typed, Wrong: wrong})
		shown(fields, got)
		for p, text := range typed {
			asked := strings.HasPrefix(p, "readings/results/") && strings.HasSuffix(p, "/name")
			if v, ok := got[p]; p != form.Date && !asked && (!ok || v != text) && text != "" && p != "" && !group(fields, p) {
				t.Fatalf("%q typed into %s is shown as %q", text, p, v)
			}
		}
		said := 0
		for _, m := range form.Mistakes(fields, wrong) {
			said += len(m.Say)
		}
		if len(found) > 0 && said == 0 {
			t.Fatalf("nothing is said of %v", found)
		}
	})
}

// group is true of a path that is no input but holds some.
func group(fields []form.Field, path string) bool {
	for _, f := range fields {
		if f.Path == path && (f.Widget == form.Group || f.Widget == form.List || f.Widget == form.Rows || f.Widget == form.Counts || f.Widget == form.Checks) ||
			group(f.Under, path) || group(f.Items, path) {
			return true
		}
	}
	return false
}

// A bare figure takes the unit that stands beside its field; who writes another
// has it. The pairs of units are those of package unit.
func TestUnits(t *testing.T) {
	tests := []struct {
		kind           book.Kind
		input, typed   string
		us, metric, at string
	}{
		{book.WellKind, "well/depth", "180", "180 ft", "180 m", "depth"},
		{book.WellKind, "well/depth", "55 m", "55 m", "55 m", "depth"},
		{book.WellKind, "well/static level", "-2.5", "-2.5 ft", "-2.5 m", "static level"},
		{book.WellKind, "well/year", "1998", "1998", "1998", "year"},
		{book.HouseKind, "house/daily use", "240 to 300", "240 to 300 gal/day", "240 to 300 L/day", "daily use"},
		{book.WellKind, "well/name", "7", "7", "7", "name"},
	}
	for _, tt := range tests {
		for s, want := range map[unit.System]string{unit.US: tt.us, unit.Metric: tt.metric} {
			e := form.Take(tt.kind, form.Typed{form.Date: "2025-05-31", tt.input: tt.typed}, s).Entry
			if got, _ := e.Section.Get(tt.at); got.Text != want {
				t.Errorf("%s %q: %q, want %q", tt.input, tt.typed, got.Text, want)
			}
		}
	}
	e := form.Take(book.ReadingsKind, form.Typed{form.Date: "2025-05-31", "readings/tap": "T1",
		"readings/results/1/name": "pH", "readings/results/1/value": "7.30",
		"readings/results/3/name": "ferrous iron", "readings/results/3/value": "<0.1",
		"readings/results/15/name": "nitrate", "readings/results/15/value": "2 mg/L as N"}, unit.US)
	if found := e.Found(); len(found) > 0 {
		t.Fatal(found)
	}
	results, _ := e.Entry.Section.Get("results")
	for name, want := range map[string]string{"pH": "7.30", "ferrous iron": "<0.1 mg/L", "nitrate": "2 mg/L as N"} {
		if got, _ := results.Get(name); got.Text != want {
			t.Errorf("%s stands as %q, want %q: as it was read", name, got.Text, want)
		}
	}
}

// Each sign of the dictionary is asked for once.
func TestEverySignIsAskedForOnce(t *testing.T) {
	seen := map[string]int{}
	for _, f := range form.Fields(form.Ask{Kind: book.SignsKind, Typed: form.Typed{}}) {
		for _, h := range f.Signs {
			for _, s := range h.Signs {
				seen[s.Path]++
			}
		}
	}
	for _, d := range water.Symptoms() {
		if n := seen["signs/see/"+string(d.ID)]; n != 1 {
			t.Errorf("%s is asked for %d times", d.ID, n)
		}
	}
}
