package book

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

var testDay = time.Date(2025, 5, 1, 0, 0, 0, 0, time.UTC)

func TestAppendKeepsEveryByte(t *testing.T) {
	reading := Fields(Under("tap", "T2"), Pair{Key: "results", Value: Fields(Under("total iron", "0.10 mg/L"), Under("nitrate", "<0.05 mg/L as N"))})
	for name, text := range scenarios(t) {
		for _, old := range [][]byte{text, bytes.TrimRight(text, "\n"), bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n"))} {
			longer, e, err := Append(old, NewEntry{On: testDay.Add(9*time.Hour + 30*time.Minute), Kind: ReadingsKind, By: "owner", Section: reading})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if !bytes.HasPrefix(longer, old) {
				t.Errorf("%s: what was written before has changed", name)
			}
			if bytes.Contains(old, []byte("\r\n")) && bytes.Count(longer, []byte("\n")) != bytes.Count(longer, []byte("\r\n")) {
				t.Errorf("%s: line ends are mixed", name)
			}
			if b, found := Read(name, longer); len(found) > 0 || b.Hash() != e.Hash {
				t.Errorf("%s: reads back with %v, hash %s and %s", name, found, b.Hash(), e.Hash)
			}
			if v, _ := e.Section.Get("results"); v.Pairs[0].Value.Text != "0.10 mg/L" || !e.Timed || e.By != "owner" {
				t.Errorf("%s: not kept as written: %+v", name, e)
			}
		}
	}
}

func TestAppendRefuses(t *testing.T) {
	tests := []struct {
		name, text string
		e          NewEntry
		says       string
	}{
		{"unknown key", small, NewEntry{On: testDay, Kind: WellKind, Section: Fields(Under("deph", "3 ft"))}, `did you mean "depth"?`},
		{"nothing said", small, NewEntry{On: testDay}, "says nothing"},
		{"name in use", small, NewEntry{ID: "1", On: testDay, Kind: NoteKind, Note: "x"}, "stands twice"},
		{"correction of nothing", small, NewEntry{On: testDay, Corrects: "8", Why: "wrong"}, `correction of entry "8"`},
		{"broken book", small + "- entry: [\n", NewEntry{On: testDay, Kind: NoteKind, Note: "x"}, "cannot be read"},
		{"JSON book", `[{"entry":"1","date":"2025-04-14","note":"x"}]`, NewEntry{On: testDay, Kind: NoteKind, Note: "x"}, "left edge"},
	}
	for _, tt := range tests {
		if _, _, err := Append([]byte(tt.text), tt.e); err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: got %v, want an error that says %q", tt.name, err, tt.says)
		}
	}
}

// A book with a mistake in an old entry still takes new ones: nothing that was
// found on site may be lost for it.
func TestAppendToABookWithAMistake(t *testing.T) {
	if _, _, err := Append([]byte(small+"    statc level: 3 ft\n"), NewEntry{On: testDay, Kind: NoteKind, Note: "x"}); err != nil {
		t.Error(err)
	}
}

func TestAppendBeginsABook(t *testing.T) {
	text, e, err := Append(nil, NewEntry{On: testDay, Kind: WellKind, Section: Fields(Under("name", "Test"))})
	if err != nil || e.ID != "1" || e.Previous != "" {
		t.Fatalf("got entry %q with %q, %v", e.ID, e.Previous, err)
	}
	if _, found := Read("f.yaml", text); len(found) > 0 {
		t.Error(found)
	}
}

// Any words come back as they were, from YAML and from JSON.
func TestWordsComeBack(t *testing.T) {
	word := rapid.StringOfN(rapid.RuneFrom([]rune("ab9 .:-#'\"\\{}[],&*!|>%@`?~µé☐\n\t=<")), 1, 30, -1)
	rapid.Check(t, func(t *rapid.T) {
		note := rapid.OneOf(word, rapid.SampledFrom([]string{"null", "~", "yes", "1e3", "0x1f", "012", "- a", "a: b", "a #b", "2025-01-01", ".inf", "<<"})).Draw(t, "note")
		if strings.TrimSpace(note) == "" {
			t.Skip("nothing said")
		}
		text, e, err := Append([]byte(small), NewEntry{On: testDay, Kind: WishesKind, Section: Fields(Under("remarks", note))})
		if err != nil {
			t.Fatal(err)
		}
		if got := e.Section.Pairs[0].Value.Text; got != note {
			t.Fatalf("wrote %q, read %q in\n%s", note, got, text)
		}
		b, _ := Read("f.yaml", text)
		j, err := b.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		again, found := Read("f.json", j)
		if len(found) > 0 || again.Hash() != b.Hash() {
			t.Fatalf("JSON %s: %v", j, found)
		}
	})
}

// JSON holds all that was written: it reads back to the same facts, the same
// hashes and the same JSON.
func TestJSONLosesNothing(t *testing.T) {
	for name, text := range scenarios(t) {
		b, _ := Read(name, text)
		first, err := b.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		again, found := Read(name, first)
		if len(found) > 0 {
			t.Fatal(found)
		}
		second, err := again.MarshalJSON()
		if err != nil || !bytes.Equal(first, second) {
			t.Errorf("%s: JSON differs the second time (%v)", name, err)
		}
		if again.Hash() != b.Hash() {
			t.Errorf("%s: hashes differ", name)
		}
		// the JSON stands on one line, the book on many
		p, q := b.Present(time.Time{}), again.Present(time.Time{})
		for _, r := range append(p.Reports, q.Reports...) {
			for i := range r.Results {
				r.Results[i].Place.Line = 0
			}
		}
		if d := difference(p, q); d != "" {
			t.Errorf("%s: facts differ:\n%s", name, d)
		}
	}
}
