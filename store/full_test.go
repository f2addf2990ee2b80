package store_test

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"wellwright/book"
	"wellwright/store"
)

// smallDisk makes a disk of a megabyte; the test is skipped where none can be made.
func smallDisk(t *testing.T) (folder string) {
	t.Helper()
	folder = t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", folder).CombinedOutput(); err != nil {
		t.Skipf("no small disk can be made here: %v: %s", err, out)
	}
	t.Cleanup(func() {
		if out, err := exec.Command("umount", folder).CombinedOutput(); err != nil {
			t.Errorf("take the small disk away: %v: %s", err, out)
		}
	})
	return folder
}

// fill writes entries with files until the store refuses one, and returns the text
// of the book as it was acknowledged last, and the error.
func fill(t *testing.T, s *store.SQLite, id book.ID) ([]byte, error) {
	t.Helper()
	ctx := context.Background()
	for i := range 1000 {
		k, err := s.Text(ctx, id)
		if err != nil {
			t.Fatal(err)
		}
		content := []byte(strings.Repeat(string(rune('a'+i%26)), 60_000) + k.Head)
		if _, err := s.Append(ctx, id, k.Head, note("picture"), day, book.File{Name: "pit.jpg", Content: content}); err != nil {
			return k.Text, err
		}
	}
	t.Fatal("the disk is never full")
	return nil, nil
}

// TestFullDisk fills a disk: the entry that has no room is refused in plain words,
// nothing of it is kept, what was there stays, and with room again it goes on.
func TestFullDisk(t *testing.T) {
	ctx, folder := context.Background(), smallDisk(t)
	ballast := filepath.Join(folder, "ballast")
	if err := os.WriteFile(ballast, make([]byte, 300_000), 0o644); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, "wells.store")
	s, err := store.Create(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	id, err := s.Add(ctx, smallBook("Alder Lane"), day)
	if err != nil {
		t.Fatal(err)
	}
	text, err := fill(t, s, id)
	if !strings.Contains(err.Error(), "the disk is full; nothing was written") {
		t.Errorf("a full disk is told as: %v", err)
	}
	same := func(s *store.SQLite) (head string) {
		t.Helper()
		k, err := s.Text(ctx, id)
		if err != nil || string(k.Text) != string(text) {
			t.Fatalf("the book is not as it was before the disk was full: %v", err)
		}
		return k.Head
	}
	head := same(s)
	if _, err := s.Backup(ctx, filepath.Join(folder, "backup")); err == nil || !strings.Contains(err.Error(), "full") && !strings.Contains(err.Error(), "no space") {
		t.Errorf("a backup onto a full disk is told as: %v", err)
	}
	if left, err := filepath.Glob(filepath.Join(folder, "*backup*")); err != nil || len(left) > 0 {
		t.Errorf("half a backup is left: %v %v", left, err)
	}
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Append(ctx, id, head, note("there is room again"), day); err != nil {
		t.Errorf("with room again: %v", err)
	}
	k, err := s.Text(ctx, id)
	if err != nil {
		t.Fatal(err)
	}
	text = k.Text
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if s, err = store.Open(ctx, path); err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	same(s)
}

// TestNoRoomToBegin begins a store on a disk that is full already.
func TestNoRoomToBegin(t *testing.T) {
	ctx, folder := context.Background(), smallDisk(t)
	if err := os.WriteFile(filepath.Join(folder, "ballast"), make([]byte, 1<<20), 0o644); err == nil {
		t.Log("the disk is just full")
	}
	path := filepath.Join(folder, "wells.store")
	if _, err := store.Create(ctx, path); err == nil {
		t.Fatal("a store was begun on a full disk")
	}
	if err := os.Remove(filepath.Join(folder, "ballast")); err != nil {
		t.Fatal(err)
	}
	s, err := store.Create(ctx, path)
	if err != nil {
		t.Fatalf("with room again: %v", err)
	}
	s.Close()
}

// TestWriteProtected opens a store on a disk that cannot be written: the error says
// so, and the store is as it was.
func TestWriteProtected(t *testing.T) {
	ctx, folder := context.Background(), smallDisk(t)
	path := filepath.Join(folder, "wells.store")
	s, err := store.Create(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Add(ctx, smallBook("Alder Lane"), day); err != nil {
		t.Fatal(err)
	}
	s.Close()
	protect := func(how string) {
		t.Helper()
		if out, err := exec.Command("mount", "-o", "remount,"+how, folder).CombinedOutput(); err != nil {
			t.Skipf("the disk cannot be protected: %v: %s", err, out)
		}
	}
	protect("ro")
	defer protect("rw")
	if _, err := store.Open(ctx, path); err == nil || !strings.Contains(err.Error(), "cannot be written here") {
		t.Errorf("a write-protected store is told as: %v", err)
	}
	if _, err := store.Create(ctx, filepath.Join(folder, "new.store")); err == nil {
		t.Error("a store was begun on a write-protected disk")
	}
	protect("rw")
	if s, err = store.Open(ctx, path); err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if list, err := s.Wells(ctx); err != nil || len(list) != 1 {
		t.Errorf("%v, %v", list, err)
	}
}

// TestNotOurs gives the store files that are none.
func TestNotOurs(t *testing.T) {
	ctx, folder := context.Background(), t.TempDir()
	for name, text := range map[string]string{
		"empty": "", "book": string(smallBook("Alder Lane")), "short": "SQLite format 3\x00",
		"other": "SQLite format 3\x00" + strings.Repeat("\x00", 5000),
	} {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, err := store.Open(ctx, path); !errors.Is(err, store.ErrNotOurs) {
			t.Errorf("%s: %v, want ErrNotOurs", name, err)
		}
		if _, err := store.Create(ctx, path); !errors.Is(err, store.ErrThere) {
			t.Errorf("%s: begun over: %v, want ErrThere", name, err)
		}
		if left, err := os.ReadFile(path); err != nil || string(left) != text {
			t.Errorf("%s: was changed", name)
		}
	}
	if _, err := store.Open(ctx, filepath.Join(folder, "none")); !errors.Is(err, store.ErrNoStore) {
		t.Errorf("no file: %v, want ErrNoStore", err)
	}
	if _, err := store.Open(ctx, folder); err == nil {
		t.Error("a folder was opened as a store")
	}
}
