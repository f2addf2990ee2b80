package store_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"wellwright/book"
	"wellwright/store"
	"wellwright/store/storetest"
)

// create begins a store in a folder of the test.
func create(t testing.TB) (s *store.SQLite, path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "wells.store")
	s, err := store.Create(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s, path
}

func TestSQLite(t *testing.T) {
	storetest.Run(t, func(t *testing.T) book.Store {
		s, _ := create(t)
		return s
	})
}

// TestNames: a store may have any name that a file may have.
func TestNames(t *testing.T) {
	ctx := context.Background()
	for _, name := range []string{"wells", "two words.store", "100%.store", "a?b#c&d=e.store", "würgen.store", "'quoted\".store", "%20.store", "-x"} {
		path := filepath.Join(t.TempDir(), name)
		s, err := store.Create(ctx, path)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if _, err := s.Add(ctx, smallBook("Alder Lane"), day); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if err := s.Close(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		left, err := os.ReadDir(filepath.Dir(path))
		if err != nil || len(left) != 2 || left[0].Name() != name || left[1].Name() != name+".head" {
			t.Errorf("%s: the folder holds %v, %v", name, left, err)
		}
	}
}

// TestTwoPrograms opens one file twice, as two programs do, and lets both write into
// one book: nothing is lost, and the head knows of all.
func TestTwoPrograms(t *testing.T) {
	ctx := context.Background()
	one, path := create(t)
	two, err := store.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	id, err := one.Add(ctx, smallBook("Alder Lane"), day)
	if err != nil {
		t.Fatal(err)
	}
	const each = 15
	var writers sync.WaitGroup
	for _, s := range []*store.SQLite{one, two} {
		writers.Go(func() {
			for done := 0; done < each; {
				k, err := s.Text(ctx, id)
				if err == nil {
					_, err = s.Append(ctx, id, k.Head, note("it rained"), day)
				}
				var late *book.OvertakenError
				if err == nil {
					done++
				} else if !errors.As(err, &late) {
					t.Errorf("append: %v", err)
					return
				}
			}
		})
	}
	writers.Wait()
	for _, s := range []*store.SQLite{one, two} {
		if h, err := s.Verify(ctx); err != nil || h.Entries != 1+2*each || h.Changes != 1+2*each {
			t.Errorf("%+v, %v", h, err)
		}
	}
	if err := errors.Join(one.Close(), two.Close()); err != nil {
		t.Fatal(err)
	}
	again, err := store.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	again.Close()
}
