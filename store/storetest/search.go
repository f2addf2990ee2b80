package storetest

import (
	"context"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/book"
)

// search returns the names of the wells found.
func search(t fatal, s book.Store, words string) (names []string, found []book.Found) {
	t.Helper()
	found, err := s.Search(context.Background(), words)
	if err != nil {
		t.Fatalf("search %q: %v", words, err)
	}
	for _, f := range found {
		names = append(names, f.Name)
	}
	return names, found
}

func testSearch(t *testing.T, s book.Store) {
	alder := add(t, s, []byte(`
- entry: 1
  date: 2026-01-05
  well: {name: Alder Lane, place: north of Quellbach}
- entry: 2
  date: 2026-01-06
  note: orange slime in the toilet tank; the café smells of sulfide
- entry: 3
  date: 2026-01-07
  readings: {tap: T1, results: {ferrous iron: 1.9 mg/L, pH: 7.3}}
`))
	add(t, s, []byte("- entry: 1\n  date: 2026-01-05\n  well: {name: Élder Yard}\n- entry: 2\n  date: 2026-01-06\n  note: slime, black; 9 of 1 rooms\n"))
	grow(t, s, alder, remark("the pit again"), photograph("lid-of-the-pit.jpg"))
	for _, tt := range []struct {
		asked, want string // the wells found
	}{
		{"slime", "Alder Lane, Élder Yard"},
		{"SLIME", "Alder Lane, Élder Yard"},
		{"slime orange", "Alder Lane"},
		{"orange slime", "Alder Lane"},
		{"orange black", ""},  // in two wells
		{"slime ferrous", ""}, // in two entries of one well
		{"cafe", "Alder Lane"},
		{"café", "Alder Lane"},
		{"elder", "Élder Yard"},
		{"ferr", "Alder Lane"},
		{"errous", ""},
		{"quellbach", "Alder Lane"},
		{"quellbach slime", "Alder Lane"}, // the place, and a word of an entry that does not give it
		{"alder ferrous", "Alder Lane"},
		{"alder black", ""},
		{"1.9", "Alder Lane"}, // not 9 and 1 apart
		{"lid-of-the-pit.jpg", "Alder Lane"},
		{"2026-01-07", "Alder Lane"},
		{"yard", "Élder Yard"},
		{"xylophone", ""},
		{"", ""},
		{"  \t ", ""},
		{"...", ""},
	} {
		names, _ := search(t, s, tt.asked)
		if got := strings.Join(names, ", "); got != tt.want {
			t.Errorf("search %q finds %q, want %q", tt.asked, got, tt.want)
		}
	}
	_, found := search(t, s, "sulfide")
	if len(found) != 1 || found[0].Entry != "2" || !strings.Contains(found[0].Excerpt, "sulfide") || found[0].Shelved != wells(t, s)[0] {
		t.Errorf("search finds %+v", found)
	}
	_, found = search(t, s, "alder")
	if len(found) != 1 || found[0].Entry != "4" {
		t.Errorf("a well found by its name is shown with %+v, want its latest entry", found)
	}
}

func testSearchRenamed(t *testing.T, s book.Store) {
	id := add(t, s, named("Alder Lane"))
	grow(t, s, id, remark("slime"))
	grow(t, s, id, book.NewEntry{On: day, Kind: book.WellKind, Section: book.Fields(book.Under("name", "Ash Yard"), book.Under("place", "Uphill"))})
	for _, asked := range []string{"ash slime", "uphill slime", "ash", "alder"} { // its first entry still says Alder
		if names, _ := search(t, s, asked); !slices.Equal(names, []string{"Ash Yard"}) {
			t.Errorf("search %q finds %q", asked, names)
		}
	}
	if names, _ := search(t, s, "alder slime"); len(names) != 0 {
		t.Errorf("the old name still stands for the well: %q", names)
	}
}

// testSearchAnything asks with whatever a keyboard gives. Nothing is an error, and
// what is one word of the book is found however it is quoted.
func testSearchAnything(t *testing.T, s book.Store) {
	add(t, s, named("Alder Lane"))
	for _, asked := range []string{
		`"`, `""`, `'`, `*`, `alder*`, `"alder`, `alder"`, `(alder)`, `alder)`, `^alder`, `-alder`, `+alder`, `:alder`, `{alder}`,
		`'alder'; --`, `alder;`, `\alder`, `alder\`, "alder\x00", "al\x00der", "\xff", `%alder`, `alder:`, `a' OR '1'='1`,
	} {
		names, _ := search(t, s, asked)
		if one := strings.Trim(asked, "\"'*()^-+:{}; \\%\x00"); one == "alder" && !slices.Equal(names, []string{"Alder Lane"}) {
			t.Errorf("search %q finds %q", asked, names)
		}
	}
	for _, asked := range []string{"alder OR ash", "alder NOT ash", "NEAR(alder ash)", "entry:alder AND nothing", "shelf : alder ash"} {
		if names, _ := search(t, s, asked); len(names) != 0 {
			t.Errorf("search %q finds %q: a word of the question was taken for a command", asked, names)
		}
	}
	long := strings.Repeat("alder ", 10_000)
	if names, _ := search(t, s, long); len(names) != 1 {
		t.Errorf("a long question finds %q", names)
	}
	rapid.Check(t, func(t *rapid.T) { search(t, s, rapid.String().Draw(t, "asked")) })
}
