package storetest

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wellwright/book"
)

// testAnyBook puts books of every look into the store and lets them grow there
// and, beside it, by the pure function of package book: the bytes are the same.
func testAnyBook(t *testing.T, s book.Store) {
	bundled := demonstration(t)
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		text := []byte(anyBook(t, n))
		if rapid.IntRange(0, 3).Draw(t, "bundled") == 0 {
			text = bundled[rapid.IntRange(0, len(bundled)-1).Draw(t, "which")].Text
			text = grown(t, text, remark(fmt.Sprint("number ", n)))
		}
		text = []byte(dressed(t, string(text)))
		id := add(t, s, text)
		standsAs(t, s, id, text)
		for range rapid.IntRange(0, 4).Draw(t, "grows") {
			e := anyEntry(t)
			want, err := book.Add("book", text, e, day)
			got, errThere := s.Append(context.Background(), id, kept(t, s, id).Head, e, day)
			if (err == nil) != (errThere == nil) {
				t.Fatalf("the store says %v, the book %v", errThere, err)
			}
			if err == nil {
				text = want.Text
				if got.ID != want.Entry.ID || got.Hash != want.Entry.Hash {
					t.Fatalf("entry %s %s, want %s %s", got.ID, got.Hash, want.Entry.ID, want.Entry.Hash)
				}
			}
			standsAs(t, s, id, text)
		}
	})
}

func grown(t fatal, text []byte, e book.NewEntry) []byte {
	t.Helper()
	done, err := book.Add("book", text, e, day)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return done.Text
}

// anyBook is a book of one to six entries by hand.
func anyBook(t *rapid.T, n int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "- entry: 1\n  date: 2026-01-05\n  well:\n    name: %s\n    place: number %d\n", quoted(words(t, "name")), n)
	for i := range rapid.IntRange(0, 5).Draw(t, "entries") {
		fmt.Fprintf(&b, "- entry: %d\n  date: 2026-01-%02d\n  note: %s\n", i+2, rapid.IntRange(5, 31).Draw(t, "day"), quoted(words(t, "note")))
	}
	return b.String()
}

// words are some words of any script.
func words(t *rapid.T, label string) string {
	letters := rapid.SampledFrom([]rune("abcdefgh ABC 0123456789 éñßøЖ水 µ≤:#'\"\\%-?*"))
	return "x" + strings.TrimRight(rapid.StringOfN(letters, 0, 60, -1).Draw(t, label), " \\")
}

// quoted is a YAML text in double quotes.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

// dressed changes what does not count in a book: line ends, comments, blank lines,
// a mark at the beginning, no line end at the end.
func dressed(t *rapid.T, text string) string {
	if rapid.Bool().Draw(t, "comment") {
		text = "# the pit is under the lilac — mind the lid\n\n" + text
	}
	if rapid.Bool().Draw(t, "blank lines") {
		text = strings.Replace(text, "\n- entry", "\n\n# next\n- entry", 1)
	}
	if rapid.Bool().Draw(t, "trailing comment") {
		text += "\n# that is all for now\n\n"
	}
	if rapid.Bool().Draw(t, "no last line end") {
		text = strings.TrimRight(text, "\n")
	}
	if rapid.Bool().Draw(t, "carriage returns") {
		text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\n", "\r\n")
	}
	if rapid.IntRange(0, 5).Draw(t, "mark") == 0 {
		text = "\ufeff" + text
	}
	return text
}

// anyEntry is an entry that may or may not be right.
func anyEntry(t *rapid.T) book.NewEntry {
	on := day.Add(-time.Duration(rapid.IntRange(-2, 200).Draw(t, "days")) * 24 * time.Hour)
	e := book.NewEntry{On: on, By: rapid.SampledFrom([]string{"", "the specialist", "R: \"x\""}).Draw(t, "by")}
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		e.Kind, e.Note = book.NoteKind, words(t, "remark")
	case 1:
		e.Kind = book.ReadingsKind
		iron := rapid.SampledFrom([]string{"1.9 mg/L", "<0.05 mg/L", "2", "0.10 mg/L", "gone"}).Draw(t, "iron")
		e.Section = book.Fields(book.Under("tap", "T1"), book.Pair{Key: "results", Value: book.Fields(book.Under("ferrous iron", iron))})
	case 2:
		e.Kind, e.Section = book.WellKind, book.Fields(book.Under("static level", rapid.SampledFrom([]string{"30 ft", "11.6 m", "30"}).Draw(t, "level")))
	default:
		e.Kind, e.Corrects, e.Why = book.WithdrawalKind, rapid.SampledFrom([]string{"1", "2", "99"}).Draw(t, "of"), "wrong well"
	}
	return e
}
