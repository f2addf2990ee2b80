package store_test

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/store"
)

var kills = flag.Int("kills", 100, "how many times a program that writes is killed")

// childStore names the store that a child writes into until it is killed.
const childStore = "WELLWRIGHT_TEST_STORE"

func TestMain(m *testing.M) {
	if path := os.Getenv(childStore); path != "" {
		if err := writeUntilKilled(path); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
	os.Exit(m.Run())
}

// day is the day on which all of the tests happen.
var day = time.Date(2026, 6, 1, 0, 0, 0, 0, time.UTC)

// writeUntilKilled adds a book and lets it grow, and says of each entry that it was
// written once the store has said so.
func writeUntilKilled(path string) error {
	ctx := context.Background()
	s, err := store.Open(ctx, path)
	if err != nil {
		return err
	}
	id, err := s.Add(ctx, smallBook(fmt.Sprint("Lane ", os.Getpid(), " ", time.Now().UnixNano())), day)
	if err != nil {
		return err
	}
	k, err := s.Text(ctx, id)
	if err != nil {
		return err
	}
	fmt.Println(id, "1", k.Head)
	for head := k.Head; ; {
		e, err := s.Append(ctx, id, head, note("it rained"), day, book.File{Name: "pit.jpg", Content: []byte(head)})
		if err != nil {
			return err
		}
		fmt.Println(id, e.ID, e.Hash)
		head = e.Hash
	}
}

func smallBook(name string) []byte {
	return []byte("- entry: 1\n  date: 2026-01-05\n  well: {name: " + name + "}\n")
}

func note(text string) book.NewEntry {
	return book.NewEntry{On: day, Kind: book.NoteKind, Note: text}
}

// TestKilled kills a writing program at random moments: what it had acknowledged is
// there, and the chain holds.
func TestKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("kills a program a hundred times")
	}
	random := rand.New(rand.NewPCG(19, 45))
	acknowledged := 0
	const together = 20 // kills of one store
	for range (*kills + together - 1) / together {
		s, path := create(t)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		said := map[string]string{}
		for range together {
			killOne(t, path, random, said)
			check(t, path, said)
		}
		acknowledged += len(said)
	}
	t.Logf("%d entries were acknowledged, and none is lost", acknowledged)
	if acknowledged < *kills {
		t.Errorf("only %d entries were written before %d kills", acknowledged, *kills)
	}
}

// killOne lets a child write, kills it, and adds what it said it had written.
func killOne(t *testing.T, path string, random *rand.Rand, said map[string]string) {
	t.Helper()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childStore+"="+path)
	var complaints strings.Builder
	child.Stderr = &complaints
	out, err := child.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	soon := time.Duration(random.IntN(60_000)) * time.Microsecond
	kill := func() { time.AfterFunc(soon, func() { child.Process.Kill() }) }
	opening := random.IntN(4) == 0 // killed while it opens the store, or later
	if opening {
		kill()
	}
	lines := bufio.NewScanner(out)
	for first := !opening; lines.Scan(); first = false {
		words := strings.Fields(lines.Text())
		if len(words) == 3 {
			said[words[0]+" "+words[1]] = words[2]
		}
		if first { // it is at work
			kill()
		}
	}
	child.Wait() // killed
	if complaints.Len() > 0 {
		t.Fatalf("the child complains: %s", complaints.String())
	}
}

// check opens the store and looks for every entry that was acknowledged.
func check(t *testing.T, path string, said map[string]string) {
	t.Helper()
	ctx := context.Background()
	s, err := store.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	list, err := s.Wells(ctx)
	if err != nil {
		t.Fatal(err)
	}
	there := map[string]string{}
	for _, w := range list {
		k, err := s.Text(ctx, w.ID)
		if err != nil {
			t.Fatal(err)
		}
		b, found := book.Read("book", k.Text)
		if len(found) > 0 {
			t.Fatal(found)
		}
		for _, e := range b.Entries {
			there[string(w.ID)+" "+e.ID] = e.Hash
		}
	}
	for entry, hash := range said {
		if there[entry] != hash {
			t.Fatalf("entry %s was acknowledged with the hash %q, and is there with %q", entry, hash, there[entry])
		}
	}
}

// TestKilledWhileBegun kills nothing, but leaves what a crash leaves while a store
// is begun: its head without a store. It can be begun then.
func TestKilledWhileBegun(t *testing.T) {
	s, path := create(t)
	s.Close()
	if err := os.Rename(path, filepath.Join(t.TempDir(), "away")); err != nil {
		t.Fatal(err)
	}
	s, err := store.Create(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
}
