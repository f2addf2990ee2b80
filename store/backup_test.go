package store_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/store"
)

// shelf is a store with some demonstration wells and a photograph with each.
func shelf(t testing.TB) (s *store.SQLite, path string) {
	t.Helper()
	ctx := context.Background()
	s, path = create(t)
	all, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range all[:5] {
		id, err := s.Add(ctx, w.Text, day)
		if err != nil {
			t.Fatal(err)
		}
		k, err := s.Text(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		f := book.File{Name: "pit.jpg", Content: []byte("picture of " + w.Name)}
		if _, err := s.Append(ctx, id, k.Head, note("the pit"), day, f); err != nil {
			t.Fatal(err)
		}
	}
	return s, path
}

// alike errors unless two stores hold the same.
func alike(t *testing.T, a, b *store.SQLite) {
	t.Helper()
	ctx := context.Background()
	list, err := a.Wells(ctx)
	other, errOther := b.Wells(ctx)
	if err != nil || errOther != nil || len(list) == 0 || len(list) != len(other) {
		t.Fatalf("%d wells and %d: %v, %v", len(list), len(other), err, errOther)
	}
	for i, w := range list {
		if other[i] != w {
			t.Errorf("%v became %v", w, other[i])
		}
		x, err := a.Text(ctx, w.ID)
		y, errY := b.Text(ctx, w.ID)
		if err != nil || errY != nil || !bytes.Equal(x.Text, y.Text) {
			t.Errorf("the book of well %s differs: %v, %v", w.ID, err, errY)
		}
		files, err := a.Files(ctx, w.ID)
		if err != nil || len(files) == 0 {
			t.Fatalf("files: %v, %v", files, err)
		}
		for _, f := range files {
			x, err := a.File(ctx, w.ID, f.Hash)
			y, errY := b.File(ctx, w.ID, f.Hash)
			if err != nil || errY != nil || !bytes.Equal(x.Content, y.Content) || x.Name != y.Name || x.Entry != y.Entry {
				t.Errorf("file %s of well %s differs: %v, %v", f.Name, w.ID, err, errY)
			}
		}
		found, err := b.Search(ctx, w.Name+" pit")
		if err != nil || len(found) == 0 {
			t.Errorf("well %s is not found: %v", w.Name, err)
		}
	}
}

func TestBackupAndRestore(t *testing.T) {
	ctx := context.Background()
	s, path := shelf(t)
	dir := t.TempDir()
	backup, again := filepath.Join(dir, "backup"), filepath.Join(dir, "again.store")
	h, err := s.Backup(ctx, backup)
	if err != nil {
		t.Fatal(err)
	}
	list, err := s.Wells(ctx)
	if err != nil || h.Wells != len(list) || h.Files != len(list) || h.Changes != int64(2*len(list)) {
		t.Errorf("the backup holds %+v of %d wells, %v", h, len(list), err)
	}
	if left, err := filepath.Glob(filepath.Join(dir, "*")); err != nil || len(left) != 1 {
		t.Errorf("a backup is one file, not %v, %v", left, err)
	}
	if _, err := s.Backup(ctx, backup); !errors.Is(err, store.ErrThere) {
		t.Errorf("over another backup: %v, want ErrThere", err)
	}
	if _, err := store.Open(ctx, backup); !tells(err) || !strings.Contains(err.Error(), "restore") {
		t.Errorf("a backup was opened as a store: %v", err)
	}
	r, err := store.Restore(ctx, backup, again, false)
	if err != nil || r.Holds != h || r.Lost != 0 || r.Aside != "" {
		t.Fatalf("%+v, %v", r, err)
	}
	restored, err := store.Open(ctx, again)
	if err != nil {
		t.Fatal(err)
	}
	defer restored.Close()
	alike(t, s, restored)
	if _, err := store.Restore(ctx, backup, path, false); !errors.Is(err, store.ErrThere) {
		t.Errorf("over a store: %v, want ErrThere", err)
	}
	alike(t, restored, s)
}

// TestRestoreOver puts a backup in the place of a store that went on: what was lost
// by that is counted, and the store that was there is whole beside it.
func TestRestoreOver(t *testing.T) {
	ctx := context.Background()
	s, path := shelf(t)
	backup := filepath.Join(t.TempDir(), "backup")
	if _, err := s.Backup(ctx, backup); err != nil {
		t.Fatal(err)
	}
	for i := range 3 {
		if _, err := s.Add(ctx, smallBook(fmt.Sprint("Later Lane ", i)), day); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	for n := 1; n < 3; n++ {
		r, err := store.Restore(ctx, backup, path, true)
		if err != nil || r.Aside != fmt.Sprint(path, ".before-", n) {
			t.Fatalf("%+v, %v", r, err)
		}
		if want := int64(3); n == 1 && r.Lost != want {
			t.Errorf("%d changes are said to be lost, want %d", r.Lost, want)
		}
	}
	old, err := store.Open(ctx, path+".before-1")
	if err != nil {
		t.Fatal(err)
	}
	defer old.Close()
	if h, err := old.Verify(ctx); err != nil || h.Wells < 4 {
		t.Errorf("%+v, %v", h, err)
	}
	now, err := store.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer now.Close()
	was, err := old.Wells(ctx)
	list, errNow := now.Wells(ctx)
	if err != nil || errNow != nil || len(was) != len(list)+3 {
		t.Errorf("%d wells before, %d now: %v, %v", len(was), len(list), err, errNow)
	}
}

// opened opens a store for use.
func opened(t *testing.T, path string, use func(*store.SQLite)) {
	t.Helper()
	s, err := store.Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	use(s)
}

// TestRestoreRefuses: nothing that is not whole is restored, and what is there stays.
func TestRestoreRefuses(t *testing.T) {
	ctx := context.Background()
	s, path := shelf(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	random, told := rand.New(rand.NewPCG(5, 6)), 0
	for i := range 12 {
		bad := filepath.Join(t.TempDir(), "bad")
		if err := os.WriteFile(bad, before, 0o644); err != nil {
			t.Fatal(err)
		}
		spoil(t, bad, random)
		to := filepath.Join(t.TempDir(), "to.store")
		_, err := store.Restore(ctx, bad, to, false)
		if err == nil { // what was spoilt held nothing, or only what is made anew
			opened(t, path, func(whole *store.SQLite) {
				opened(t, to, func(restored *store.SQLite) { alike(t, whole, restored) })
			})
			continue
		}
		if told++; !tells(err) {
			t.Errorf("damage %d is told as %v", i, err)
		}
		if left, err := filepath.Glob(to + "*"); err != nil || len(left) > 0 {
			t.Errorf("half a store is left: %v, %v", left, err)
		}
	}
	if told < 3 {
		t.Errorf("only %d of 12 damages were told", told)
	}
	for _, from := range []string{filepath.Join(t.TempDir(), "none"), path, t.TempDir()} {
		if _, err := store.Restore(ctx, from, path, true); err == nil {
			t.Errorf("restored from %s", from)
		}
	}
	if after, err := os.ReadFile(path); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the store has changed: %v", err)
	}
}

// TestRestoreWhatIsLeft takes a store that lost the end of its journal: it is not
// opened, but what is whole in it can be had, and the loss is counted.
func TestRestoreWhatIsLeft(t *testing.T) {
	ctx := context.Background()
	folder, all := filled(t)
	name := filepath.Join(folder, "wells.store")
	if err := os.Truncate(name+"-wal", 40_000); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "left.store")
	r, err := store.Restore(ctx, name, to, false)
	if err != nil || r.Lost == 0 || r.Changes+r.Lost != 36 { // six books of a first entry and five more
		t.Fatalf("%+v, %v", r, err)
	}
	s, err := store.Open(ctx, to)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	list, err := s.Wells(ctx)
	if err != nil || len(list) != r.Wells {
		t.Fatal(err)
	}
	for _, w := range list {
		k, err := s.Text(ctx, w.ID)
		if err != nil || !bytes.HasPrefix(all.text[w.ID], k.Text) {
			t.Errorf("well %s: %v", w.ID, err)
		}
	}
}

// TestBackupWhileWriting backs up while others write: each backup is whole, and is
// the store as it stood at some moment.
func TestBackupWhileWriting(t *testing.T) {
	ctx := context.Background()
	s, _ := create(t)
	if _, err := s.Add(ctx, smallBook("First Lane"), day); err != nil {
		t.Fatal(err)
	}
	stop := make(chan struct{})
	var writers sync.WaitGroup
	for n := range 2 {
		writers.Go(func() {
			for i := 0; ; i++ {
				select {
				case <-stop:
					return
				default:
				}
				if _, err := s.Add(ctx, smallBook(fmt.Sprint("Lane ", n, " ", i)), day); err != nil {
					t.Errorf("add: %v", err)
					return
				}
			}
		})
	}
	var before store.Holds
	for i := range 5 {
		h, err := s.Backup(ctx, filepath.Join(t.TempDir(), "backup"))
		if err != nil || h.Changes < before.Changes || h.Wells != h.Entries || int64(h.Wells) != h.Changes {
			t.Errorf("backup %d holds %+v after %+v: %v", i, h, before, err)
		}
		before = h
	}
	close(stop)
	writers.Wait()
	if _, err := s.Verify(ctx); err != nil {
		t.Error(err)
	}
}
