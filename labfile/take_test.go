package labfile_test

import (
	"slices"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/labfile"
)

// A file brings each of its samples once: what the book holds already is not
// brought again, and a second file of the same time is named as a rival.
func TestAdditions(t *testing.T) {
	samples, _ := read(t, "wqx-results.csv", labfile.Options{Stations: fixture(t, "wqx-stations.csv")})
	site := samples[0].Site
	samples = slices.DeleteFunc(samples, func(s labfile.Sample) bool { return s.Site != site })
	on := time.Date(2032, 1, 1, 0, 0, 0, 0, time.UTC) // the invented samples are of 2031
	k := labfile.Kept{File: "results.csv", SHA256: book.FileHash([]byte("one"))}
	var text []byte
	empty, _ := book.Read("book", nil)
	first := labfile.Additions(empty, samples, k, on)
	if first[0].Sample != -1 || first[0].Entry.Kind != book.WellKind || len(first) != len(samples)+1 {
		t.Fatalf("%d samples bring %d entries, the first a %s: want a well record before them", len(samples), len(first), first[0].Entry.Kind)
	}
	for _, a := range first {
		longer, _, err := book.Append(text, a.Entry)
		if err != nil {
			t.Fatal(err)
		}
		text = longer
	}
	b, _ := book.Read("book", text)
	if again := labfile.Additions(b, samples, k, on); len(again) != 0 {
		t.Errorf("the same file brings %d entries once more", len(again))
	}
	revised := labfile.Additions(b, samples, labfile.Kept{File: "revised.csv", SHA256: book.FileHash([]byte("two"))}, on)
	if len(revised) != len(samples) || revised[0].Rival == "" {
		t.Errorf("a revised file brings %d entries, rival %q: want one a sample, with a rival", len(revised), revised[0].Rival)
	}
	if got := labfile.Additions(b, nil, k, on); got != nil {
		t.Errorf("no sample brings %d entries", len(got))
	}
}

// The mapping of a file is kept under its name (docs/book.md has none: the
// command's own help says NAME.mapping.yaml).
func TestMappingName(t *testing.T) {
	for file, want := range map[string]string{"results.csv": "results.mapping.yaml", "in/report.118.xlsx": "report.118.mapping.yaml", "plain": "plain.mapping.yaml"} {
		if got := labfile.MappingName(file); got != want {
			t.Errorf("%s: %s, want %s", file, got, want)
		}
	}
}

// Sites and sheets are named once, in order.
func TestSites(t *testing.T) {
	samples := []labfile.Sample{{Site: "b", Sheet: "2"}, {Site: "a", Sheet: "2"}, {Site: "b", Sheet: "1"}}
	if got := labfile.Sites(samples); !slices.Equal(got, []string{"a", "b"}) {
		t.Errorf("sites %q", got)
	}
	if got := labfile.Sheets(samples); !slices.Equal(got, []string{"1", "2"}) {
		t.Errorf("sheets %q", got)
	}
}

// Each name that nobody knows is told once, to be given a meaning.
func TestUnknownNames(t *testing.T) {
	text := "analyte,result,unit,date\nphlogiston,1,mg/L,2026-01-05\nphlogiston,2,mg/L,2026-01-06\ncaloric,1,mg/L,2026-01-05\niron,1,mg/L,2026-01-05\n"
	_, found := labfile.Read("results.csv", []byte(text), labfile.Options{})
	if got := labfile.UnknownNames(found); !slices.Equal(got, []string{"caloric", "phlogiston"}) {
		t.Errorf("unknown names %q", got)
	}
}
