package book

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"
)

// june is the day on which entries are added here.
var june = time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)

const twoEntries = "# lilac\n- entry: 1\n  date: 2026-01-05\n  well: {name: Alder Lane, depth: 180 ft}\n- entry: 2\n  date: 2026-05-31\n  note: slime\n"

// TestAddRules: each rule of docs/book.md that a new entry may break, on and just
// beyond its boundary.
func TestAddRules(t *testing.T) {
	future := strings.Replace(twoEntries, "2026-05-31", "2026-06-02", 1)
	broken := strings.Replace(sealedTwo(t), "slime", "sand", 1)
	remark := func(on time.Time) NewEntry { return NewEntry{On: on, Kind: NoteKind, Note: "it rained"} }
	back := func(of string, on time.Time) NewEntry {
		return NewEntry{On: on, Kind: WithdrawalKind, Corrects: of, Why: "mistyped"}
	}
	for _, tt := range []struct {
		name, text string
		e          NewEntry
		says       string // "" if it is added
		ofEntry    bool
	}{
		{"of today", twoEntries, remark(june), "", false},
		{"of this evening", twoEntries, remark(june.Add(23 * time.Hour)), "", false},
		{"of tomorrow", twoEntries, remark(june.AddDate(0, 0, 1)), "not what is to come", true},
		{"earlier than the one before", twoEntries, remark(june.AddDate(0, -1, 0)), "", false},
		{"to a book with an entry of tomorrow", future, remark(june), "entry 2 is dated 2026-06-02", false},
		{"takes that one back", future, back("2", june), "", false},
		{"takes another one back from that book", future, back("1", june), "", false},
		{"takes back on the day of the entry", twoEntries, back("2", june.AddDate(0, 0, -1)), "", false},
		{"takes back on the day before it", twoEntries, back("2", june.AddDate(0, 0, -2)), "before entry 2", true},
		{"takes back what is not there", twoEntries, back("3", june), "does not stand before it", true},
		{"to a book that was changed", broken, remark(june), "was changed", false},
		{"takes back from a book that was changed", broken, back("1", june), "was changed", false},
		{"to what is no book", "- [", remark(june), "not YAML", false},
		{"under a name that is there", twoEntries, NewEntry{ID: "2", On: june, Kind: NoteKind, Note: "x"}, "stands twice", true},
		{"and says nothing", twoEntries, NewEntry{On: june, Kind: NoteKind}, "says nothing", true},
		{"and is too long", twoEntries, NewEntry{On: june, Kind: NoteKind, Note: strings.Repeat("x", maxEntry)}, "an entry has at most", true},
		{"and makes the book too long", longest(), remark(june), "begin a second one", true},
		{"to nothing", "", remark(june), "", false},
	} {
		given := []byte(tt.text)
		done, err := Add("book", given, tt.e, june)
		if string(given) != tt.text {
			t.Errorf("%s: the text given was changed", tt.name)
		}
		if tt.says == "" {
			if err != nil || !strings.HasPrefix(string(done.Text), tt.text) || len(done.After.Entries) != len(done.Before.Entries)+1 {
				t.Errorf("%s: %v", tt.name, err)
			}
			continue
		}
		var refused *RefusedError
		if !errors.As(err, &refused) || !strings.Contains(err.Error(), tt.says) || refused.Entry != tt.ofEntry {
			t.Errorf("%s: %v, want a refusal that says %q", tt.name, err, tt.says)
			continue
		}
		for _, f := range refused.Findings {
			if placed := f.Place.Line > 0; placed == refused.Entry {
				t.Errorf("%s: %+v: a finding on the book has a line, one on an entry never written has none", tt.name, f)
			}
		}
	}
}

// longest is a book as large as a book may be, to a few bytes.
func longest() string {
	var b strings.Builder
	for i := 1; maxBytes-b.Len() > 100; i++ {
		fmt.Fprintf(&b, "- entry: %d\n  date: 2026-01-05\n  note: x\n", i)
		b.WriteString(strings.Repeat("# x\n", min(14_000, (maxBytes-b.Len())/4)))
	}
	return b.String()
}

// sealedTwo is the book of two entries with a third that seals them.
func sealedTwo(t *testing.T) string {
	t.Helper()
	done, err := Add("book", []byte(twoEntries), NewEntry{On: june, Kind: NoteKind, Note: "it rained"}, june)
	if err != nil {
		t.Fatal(err)
	}
	return string(done.Text)
}

// TestEnclosed: the files of an entry are read back as they were added, stand under
// the hash of the entry, and are refused where they are no files.
func TestEnclosed(t *testing.T) {
	// SHA-256 of "abc": published, FIPS 180-4.
	abc := Enclosed{Name: `the "pit": №1.jpg`, SHA256: "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"}
	empty := Enclosed{Name: "empty.txt", SHA256: FileHash(nil)}
	e := NewEntry{On: june, Kind: NoteKind, Files: []Enclosed{abc, empty}}
	done, err := Add("book", []byte(twoEntries), e, june)
	if err != nil {
		t.Fatal(err)
	}
	if got := done.Entry.Enclosures(); !reflect.DeepEqual(got, e.Files) {
		t.Errorf("read back as %v, want %v", got, e.Files)
	}
	other, _ := Read("book", []byte(strings.Replace(string(done.Text), abc.SHA256, FileHash([]byte("x")), 1)))
	if other.Hash() == done.Entry.Hash {
		t.Error("another file under the same hash of the entry")
	}
	for _, bad := range []string{"{name: x}", "{sha256: " + abc.SHA256 + "}", "{name: x, sha256: abc}", "pit.jpg", "[]"} {
		if _, found := Read("book", fmt.Appendf(nil, "- entry: 1\n  date: 2026-01-05\n  files: %s\n", bad)); len(found) == 0 {
			t.Errorf("files: %s was read without a finding", bad)
		}
	}
}

// TestEnclosedReport: the received file of a laboratory report is among its files.
func TestEnclosedReport(t *testing.T) {
	hash := FileHash([]byte("abc"))
	b, found := Read("book", fmt.Appendf(nil, "- entry: 1\n  date: 2026-01-05\n  laboratory report: {tap: T1, file: r.pdf, sha256: %s, results: {pH: 7}}\n  files: {name: pit.jpg, sha256: %s}\n",
		strings.ToUpper(hash), FileHash(nil)))
	if len(found) > 0 {
		t.Fatal(found)
	}
	want := []Enclosed{{"r.pdf", hash}, {"pit.jpg", FileHash(nil)}}
	if got := b.Entries[0].Enclosures(); !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
