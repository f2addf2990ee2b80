package storetest

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"wellwright/book"
)

func testBadEntries(t *testing.T, s book.Store) {
	text := named("Alder Lane")
	id := add(t, s, text)
	head := kept(t, s, id).Head
	depth := func(v string) book.NewEntry {
		return book.NewEntry{On: day, Kind: book.WellKind, Section: book.Fields(book.Under("depth", v))}
	}
	for _, bad := range []struct {
		name string
		e    book.NewEntry
		want string
	}{
		{"no unit", depth("180"), "is not one of ft"},
		{"a name twice", book.NewEntry{ID: "1", On: day, Kind: book.NoteKind, Note: "again"}, "stands twice"},
		{"from the future", book.NewEntry{On: day.AddDate(0, 0, 1), Kind: book.NoteKind, Note: "tomorrow"}, "not what is to come"},
		{"a withdrawal of nothing", book.NewEntry{On: day, Kind: book.WithdrawalKind, Corrects: "7", Why: "x"}, "does not stand before it"},
		{"a withdrawal before its entry", book.NewEntry{On: day.AddDate(-1, 0, 0), Kind: book.WithdrawalKind, Corrects: "1", Why: "x"}, "before entry 1"},
		{"impossible", book.NewEntry{On: day, Kind: book.ReadingsKind, Section: book.Fields(book.Under("tap", "T1"),
			book.Pair{Key: "results", Value: book.Fields(book.Under("pH", "15"))})}, "15"},
	} {
		_, err := s.Append(context.Background(), id, head, bad.e, day, photograph("pit.jpg"))
		no := refused(t, err)
		if !no.Entry || !strings.Contains(no.Error(), bad.want) || no.Findings[0].Place.Line != 0 {
			t.Errorf("%s: refused with %q, want a finding on the entry that says %q", bad.name, no, bad.want)
		}
	}
	standsAs(t, s, id, text)
	if files, err := s.Files(context.Background(), id); err != nil || len(files) != 0 {
		t.Errorf("files of refused entries are kept: %v, %v", files, err)
	}
}

// testFuture: a book may hold an entry of a day that is not yet, where the clock
// of whoever wrote it was wrong; that entry can be taken back, and nothing else
// is added before.
func testFuture(t *testing.T, s book.Store) {
	id := add(t, s, named("Alder Lane"))
	ctx, later := context.Background(), day.AddDate(1, 0, 0)
	e, err := s.Append(ctx, id, kept(t, s, id).Head, book.NewEntry{On: later, Kind: book.NoteKind, Note: "mistyped"}, later)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Append(ctx, id, e.Hash, remark("today"), day); err == nil {
		t.Error("an entry was added after one from the future")
	}
	back, err := s.Append(ctx, id, e.Hash, book.NewEntry{On: day, Kind: book.WithdrawalKind, Corrects: e.ID, Why: "mistyped"}, day)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Append(ctx, id, back.Hash, remark("today"), day); err != nil {
		t.Error(err)
	}
}

func testOvertaken(t *testing.T, s book.Store) {
	id := add(t, s, named("Alder Lane"))
	old := kept(t, s, id).Head
	e := remark("first")
	e.By = "the installer"
	first := grow(t, s, id, e)
	text := kept(t, s, id).Text
	for _, head := range []string{old, "", strings.Repeat("0", 64)} {
		_, err := s.Append(context.Background(), id, head, remark("second"), day, photograph("pit.jpg"))
		var late *book.OvertakenError
		if !errors.As(err, &late) || *late != (book.OvertakenError{Head: first.Hash, Entry: first.ID, By: "the installer"}) {
			t.Errorf("on the head %q: %v, want to be told of entry %s", head, err, first.ID)
		}
	}
	standsAs(t, s, id, text)
	if files, err := s.Files(context.Background(), id); err != nil || len(files) != 0 {
		t.Errorf("files that came too late are kept: %v, %v", files, err)
	}
}

// crowd is how many write at one time.
const crowd = 16

// testManyAtOneWell lets many write into one book. In the first round all have
// read the same book: one entry is written. Then each tries until it is through,
// and nothing is lost, doubled or out of the chain.
func testManyAtOneWell(t *testing.T, s book.Store) {
	id := add(t, s, named("Alder Lane"))
	head := kept(t, s, id).Head
	won := map[string]int{}
	var mu sync.Mutex
	try := func(head, note string) bool {
		_, err := s.Append(context.Background(), id, head, remark(note), day)
		var late *book.OvertakenError
		if err != nil && !errors.As(err, &late) {
			t.Errorf("append: %v", err)
		}
		if err != nil {
			return false
		}
		mu.Lock()
		defer mu.Unlock()
		won[head]++
		return true
	}
	together(func(i int) { try(head, fmt.Sprintf("round one, writer %d.", i)) })
	if won[head] != 1 {
		t.Fatalf("%d of %d entries were written on one head, want 1", won[head], crowd)
	}
	together(func(i int) {
		for tries := 0; tries < 100*crowd; tries++ {
			k, err := s.Text(context.Background(), id)
			if err != nil {
				t.Errorf("text: %v", err)
				return
			}
			if try(k.Head, fmt.Sprintf("round two, writer %d.", i)) {
				return
			}
		}
		t.Errorf("writer %d was never through", i)
	})
	for head, n := range won {
		if n != 1 {
			t.Errorf("%d entries were written on the head %s", n, head)
		}
	}
	text := string(kept(t, s, id).Text)
	b, found := book.Read("book", []byte(text))
	if len(found) > 0 || len(b.Entries) != 2+crowd {
		t.Errorf("%d entries, want %d; %v", len(b.Entries), 2+crowd, found)
	}
	for i := range crowd {
		if n := strings.Count(text, fmt.Sprintf("round two, writer %d.", i)); n != 1 {
			t.Errorf("the entry of writer %d stands %d times", i, n)
		}
	}
}

// together runs do for each of a crowd, all at one time.
func together(do func(i int)) {
	var all sync.WaitGroup
	start := make(chan struct{})
	for i := range crowd {
		all.Go(func() {
			<-start
			do(i)
		})
	}
	close(start)
	all.Wait()
}

// testManyWells adds books at one time: all go in, and of the same one only one.
func testManyWells(t *testing.T, s book.Store) {
	var mu sync.Mutex
	ids := map[book.ID]bool{}
	same := 0
	together(func(i int) {
		id, err := s.Add(context.Background(), named(fmt.Sprint("Lane ", i)), day)
		if err != nil {
			t.Errorf("add: %v", err)
		}
		_, err = s.Add(context.Background(), named("One Lane"), day)
		var there *book.ThereError
		if err != nil && !errors.As(err, &there) {
			t.Errorf("add: %v", err)
		}
		if _, err := s.Wells(context.Background()); err != nil {
			t.Errorf("wells: %v", err)
		}
		mu.Lock()
		defer mu.Unlock()
		ids[id] = true
		if there == nil {
			same++
		}
	})
	if len(ids) != crowd || same != 1 || len(wells(t, s)) != crowd+1 {
		t.Errorf("%d wells of %d, the same one %d times, %d in the list", len(ids), crowd, same, len(wells(t, s)))
	}
}

func testBrokenOff(t *testing.T, s book.Store) {
	id := add(t, s, named("Alder Lane"))
	k := kept(t, s, id)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	_, added := s.Add(ctx, named("Elder Yard"), day)
	_, grown := s.Append(ctx, id, k.Head, remark("too late"), day)
	_, text := s.Text(ctx, id)
	_, list := s.Wells(ctx)
	_, found := s.Search(ctx, "alder")
	for what, err := range map[string]error{"Add": added, "Append": grown, "Text": text, "Wells": list, "Search": found} {
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%s after it was broken off: %v", what, err)
		}
	}
	standsAs(t, s, id, k.Text)
	if n := len(wells(t, s)); n != 1 {
		t.Errorf("%d wells, want 1", n)
	}
	for i := range 60 { // broken off at some moment on the way
		ctx, stop := context.WithTimeout(context.Background(), time.Duration(i*i)*time.Microsecond)
		_, text := s.Text(ctx, id)
		_, list := s.Wells(ctx)
		_, found := s.Search(ctx, "alder")
		for what, err := range map[string]error{"Text": text, "Wells": list, "Search": found} {
			if err != nil && !errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("%s broken off: %v", what, err)
			}
		}
		stop()
	}
	k.Text[0] = 'x' // what was given out is the asker's own
	standsAs(t, s, id, named("Alder Lane"))
}
