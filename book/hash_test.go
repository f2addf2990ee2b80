package book

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// The expected hashes were made with another program: Python 3.11, json.dumps
// with sort_keys, separators (",", ":") and ensure_ascii off, then hashlib.
func TestHashAgreesWithAnotherProgram(t *testing.T) {
	b, found := Read("f.yaml", []byte(hashed))
	if len(found) > 0 {
		t.Fatal(found)
	}
	for i, want := range hashedWant {
		if got := b.Entries[i].Hash; got != want {
			t.Errorf("entry %s: hash %s, want %s", b.Entries[i].ID, got, want)
		}
	}
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" // FIPS 180-2, appendix B.1
	if got := FileHash([]byte("abc")); got != abc {
		t.Errorf("FileHash(abc) = %s, want %s", got, abc)
	}
}

const hashed = `- entry: 1
  date: 2025-04-14
  well:
    name: "Höhe \"9\""   # a comment
    depth:   180 ft
- entry: 2
  date: 2025-04-15
  note: >
    two
    lines
`

// grown is a book of four sealed entries, each added by the program.
func grown(t *testing.T) string {
	t.Helper()
	text := []byte(small)
	for i := range 3 {
		on := time.Date(2025, 4, 15+i, 0, 0, 0, 0, time.UTC)
		var err error
		text, _, err = Append(text, NewEntry{On: on, Kind: NoteKind, Note: fmt.Sprintf("visit %d", i+1)})
		if err != nil {
			t.Fatal(err)
		}
	}
	return string(text)
}

func TestAnEditShows(t *testing.T) {
	whole := grown(t)
	tests := []struct {
		name, from, to string
		says           string // "": no finding
	}{
		{"untouched", "", "", ""},
		{"first entry", "180 ft", "190 ft", "entry 1 was changed after entry 2 was written"},
		{"middle entry", "visit 1", "visit 9", "entry 2 was changed after entry 3 was written"},
		{"before the last", "visit 2", "visit 9", "entry 3 was changed after entry 4 was written"},
		{"date", "2025-04-15", "2025-04-13", "entry 2 was changed after entry 3 was written"},
		{"digit added", "180 ft", "180.0 ft", "entry 1 was changed"},
		{"key taken out", "    casing: 6 in\n", "", "entry 1 was changed"},
		{"comment", "180 ft", "180 ft  # by the log", ""},
		{"white space", "depth: 180 ft", "depth:     180  ft", ""},
		{"quotes", "180 ft", `"180 ft"`, ""},
		{"order of keys", "    depth: 180 ft\n    casing: 6 in\n", "    casing: 6 in\n    depth: 180 ft\n", ""},
		{"blank lines", "- entry: 3", "\n\n# here\n- entry: 3", ""},
	}
	for _, tt := range tests {
		if !strings.Contains(whole, tt.from) {
			t.Fatalf("%s: the book has no %q", tt.name, tt.from)
		}
		_, found := Read("f.yaml", []byte(strings.Replace(whole, tt.from, tt.to, 1)))
		switch {
		case tt.says == "" && len(found) > 0:
			t.Errorf("%s: %v", tt.name, found)
		case tt.says != "" && (len(found) != 1 || !strings.Contains(found[0].Error(), tt.says)):
			t.Errorf("%s: want one finding that says %q, got %v", tt.name, tt.says, found)
		}
	}
}

func TestTakingOutAndPuttingInShows(t *testing.T) {
	whole := grown(t)
	parts := split(whole)
	if len(parts) != 4 {
		t.Fatalf("want 4 entries, got %d", len(parts))
	}
	join := func(order ...int) string {
		var b strings.Builder
		for _, i := range order {
			b.WriteString(parts[i].text)
		}
		return b.String()
	}
	slipped := "- entry: 9\n  date: 2025-04-15\n  note: slipped in\n"
	tests := []struct{ name, text, says string }{
		{"middle taken out", join(0, 2, 3), "entry 1 was changed after entry 3 was written"},
		{"first taken out", join(1, 2, 3), "carries the hash of an entry before it"},
		{"two swapped", join(0, 2, 1, 3), "was changed after"},
		{"one slipped in", parts[0].text + parts[1].text + slipped + parts[2].text + parts[3].text, "entry 2 or 9 was changed after entry 3 was written"},
	}
	for _, tt := range tests {
		_, found := Read("f.yaml", []byte(tt.text))
		if len(found) == 0 || !strings.Contains(fmt.Sprint(found), tt.says) {
			t.Errorf("%s: want %q, got %v", tt.name, tt.says, found)
		}
	}
}

// Entries written by hand carry no hash; the next entry added guards them all.
func TestHandWrittenEntriesAreSealedByTheNext(t *testing.T) {
	hand := small + "- entry: 2\n  date: 2025-04-15\n  note: by hand\n- entry: 3\n  date: 2025-04-16\n  note: by hand too\n"
	b, found := Read("f.yaml", []byte(hand))
	if len(found) > 0 {
		t.Fatal(found)
	}
	on := time.Date(2025, 5, 1, 0, 0, 0, 0, time.UTC)
	if n := b.Unsealed(); len(n) != 1 || n[0].Weight != Notice || !strings.Contains(n[0].Read, "entry 1, 2, 3 written by hand") {
		t.Errorf("want one notice on three entries, got %v", n)
	}
	sealed, e, err := Append([]byte(hand), NewEntry{On: on, Kind: NoteKind, Note: "visit"})
	if err != nil {
		t.Fatal(err)
	}
	if e.ID != "4" || e.Previous != b.Hash() {
		t.Errorf("entry %s carries %s, want entry 4 with %s", e.ID, e.Previous, b.Hash())
	}
	after, _ := Read("f.yaml", sealed)
	if n := append(after.Check(on), after.Unsealed()...); len(n) != 0 {
		t.Errorf("sealed book: %v", n)
	}
	for _, part := range []string{"180 ft", "by hand\n", "too"} {
		_, found = Read("f.yaml", []byte(strings.Replace(string(sealed), part, "other\n", 1)))
		if !strings.Contains(fmt.Sprint(found), "(one of 1 to 3) was changed after entry 4 was written") {
			t.Errorf("change of %q does not show: %v", part, found)
		}
	}
}

var hashedWant = []string{
	"d2d21c2b616a7d27f77c6828682aec73ef3df32347629225ed3165767d86a845",
	"895c4006e28499a57f53b680213d92c38a78f16895b0062a17dfef5f453cec82",
}
