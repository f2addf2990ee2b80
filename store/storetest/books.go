package storetest

import (
	"context"
	"errors"
	"fmt"
	"sort"
	"strings"
	"testing"
	"time"

	"wellwright/book"
)

func testEmpty(t *testing.T, s book.Store) {
	if list := wells(t, s); len(list) != 0 {
		t.Errorf("an empty store lists %v", list)
	}
	found, err := s.Search(context.Background(), "iron")
	if err != nil || len(found) != 0 {
		t.Errorf("an empty store finds %v, %v", found, err)
	}
}

func testDemonstration(t *testing.T, s book.Store) {
	ids := map[book.ID][]byte{}
	for _, w := range demonstration(t) {
		id := add(t, s, w.Text)
		if ids[id] != nil {
			t.Fatalf("two wells have the name %s", id)
		}
		ids[id] = w.Text
	}
	for id, text := range ids {
		standsAs(t, s, id, text)
	}
	if n := len(wells(t, s)); n != len(ids) {
		t.Errorf("%d wells are in the list, want %d", n, len(ids))
	}
}

func testList(t *testing.T, s book.Store) {
	place := "- entry: 1\n  date: 2026-03-09 14:30\n  well: {name: elder yard, place: by the church}\n" +
		"- entry: 2\n  date: 2026-02-01\n  note: earlier, and written later\n"
	second := add(t, s, []byte(place))
	first := add(t, s, named("Alder Lane"))
	nameless := add(t, s, []byte("- entry: 1\n  date: 2026-01-05\n  note: no name\n"))
	list := wells(t, s)
	if len(list) != 3 || list[0].ID != nameless || list[1].ID != first || list[2].ID != second {
		t.Fatalf("the list is %v, want the nameless, Alder Lane, elder yard", list)
	}
	got := list[2]
	want := book.Shelved{ID: second, Name: "elder yard", Place: "by the church", Head: kept(t, s, second).Head,
		Entries: 2, Last: time.Date(2026, 3, 9, 14, 30, 0, 0, time.UTC)}
	if got != want {
		t.Errorf("listed as\n%+v\nwant\n%+v", got, want)
	}
	e := grow(t, s, second, book.NewEntry{On: day, Kind: book.WellKind, Section: book.Fields(book.Under("name", "Ash Yard"))})
	want.Name, want.Entries, want.Head, want.Last = "Ash Yard", 3, e.Hash, day
	if got := wells(t, s)[2]; got != want {
		t.Errorf("after an entry listed as\n%+v\nwant\n%+v", got, want)
	}
	for _, row := range wells(t, s) {
		if got, err := s.Well(context.Background(), row.ID); err != nil || got != row {
			t.Errorf("well %s alone is\n%+v (%v), in the list\n%+v", row.ID, got, err, row)
		}
	}
	if names := wells(t, s); !sort.SliceIsSorted(names, func(i, j int) bool { return names[i].Name < names[j].Name }) {
		t.Errorf("the list is not by name: %v", names)
	}
}

func testTwice(t *testing.T, s book.Store) {
	text := named("Alder Lane")
	id := add(t, s, text)
	for _, again := range [][]byte{text, append([]byte("# another head\n"), text...)} {
		_, err := s.Add(context.Background(), again, day)
		var there *book.ThereError
		if !errors.As(err, &there) || there.Well != id {
			t.Errorf("added twice: %v, want to be told of well %s", err, id)
		}
	}
	add(t, s, named("Alder Lanes"))
	ahead := grown(t, text, remark("the file has gone on"))
	grow(t, s, id, remark("the well has gone on"))
	for what, again := range map[string][]byte{"that is behind": text, "that is ahead": grown(t, kept(t, s, id).Text, remark("and on"))} {
		_, err := s.Add(context.Background(), again, day)
		var there *book.ThereError
		if !errors.As(err, &there) || there.Well != id {
			t.Errorf("a book %s: %v, want to be told of well %s", what, err, id)
		}
	}
	add(t, s, ahead) // parted from the well after the first entry: another book
	if n := len(wells(t, s)); n != 3 {
		t.Errorf("%d wells, want 3", n)
	}
}

// sealedBook is a book of three entries, chained by the program.
func sealedBook(t fatal) []byte {
	t.Helper()
	text := named("Sealed Lane")
	for i := range 2 {
		done, err := book.Add("book", text, remark(fmt.Sprint("note ", i)), day)
		if err != nil {
			t.Fatalf("%v", err)
		}
		text = done.Text
	}
	return text
}

func testBadBooks(t *testing.T, s book.Store) {
	for _, bad := range []struct{ name, text, want string }{
		{"no YAML", "- entry: [", "not YAML"},
		{"no list", "name: Alder Lane\n", "is no entry"},
		{"an unknown key", "- entry: 1\n  date: 2026-01-05\n  wel: {depth: 180 ft}\n", "no key known"},
		{"no unit", "- entry: 1\n  date: 2026-01-05\n  well: {depth: 180}\n", "is not one of ft"},
		{"no date", "- entry: 1\n  note: when?\n", "date"},
		{"a name twice", "- entry: 1\n  date: 2026-01-05\n  note: a\n- entry: 1\n  date: 2026-01-05\n  note: b\n", "stands twice"},
		{"from the future", "- entry: 1\n  date: 2026-06-02\n  note: tomorrow\n", "not what is to come"},
		{"edited after it was sealed", strings.Replace(string(sealedBook(t)), "note 0", "note zero", 1), "was changed"},
		{"an entry taken out", cutOut(string(sealedBook(t)), "note 0"), "was changed"},
		{"no text", "- entry: 1\n  date: 2026-01-05\n  note: \xff\n", "UTF-8"},
	} {
		_, err := s.Add(context.Background(), []byte(bad.text), day)
		no := refused(t, err)
		if no.Entry || !strings.Contains(no.Error(), bad.want) || no.Findings[0].Place.Line == 0 {
			t.Errorf("%s: refused with %q, want a finding with its line that says %q", bad.name, no, bad.want)
		}
	}
	if list := wells(t, s); len(list) != 0 {
		t.Errorf("bad books are in the list: %v", list)
	}
}

// cutOut takes out the entry whose text has a word.
func cutOut(text, word string) string {
	entries := strings.Split(text, "\n- ")
	for i, e := range entries {
		if strings.Contains(e, word) {
			return strings.Join(append(entries[:i:i], entries[i+1:]...), "\n- ")
		}
	}
	return text
}

func testUnknownWells(t *testing.T, s book.Store) {
	add(t, s, named("Alder Lane"))
	ctx := context.Background()
	for _, id := range []book.ID{"", "0", "-1", "01", "+1", " 1", "999", "9999999999999999999999", "alder", "1 OR 1=1", "1'--", "../1", "1\x00"} {
		_, text := s.Text(ctx, id)
		_, row := s.Well(ctx, id)
		_, grown := s.Append(ctx, id, "", remark("nowhere"), day)
		_, files := s.Files(ctx, id)
		_, file := s.File(ctx, id, strings.Repeat("0", 64))
		for what, err := range map[string]error{"Text": text, "Well": row, "Append": grown, "Files": files, "File": file} {
			if !errors.Is(err, book.ErrNoWell) {
				t.Errorf("%s of well %q: %v, want ErrNoWell", what, id, err)
			}
		}
	}
}
