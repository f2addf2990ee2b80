package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"wellwright/book"
)

// Backup writes a copy of the store into one new file, as it stood at one moment,
// while others read and write. The copy is read back and verified before it gets
// its name, and a file that is there is never written over. A backup has no head
// beside it: it is not opened but restored.
func (s *SQLite) Backup(ctx context.Context, to string) (Holds, error) {
	h, err := s.backup(ctx, to)
	if err != nil {
		return Holds{}, fmt.Errorf("%s: %w", to, err)
	}
	return h, nil
}

func (s *SQLite) backup(ctx context.Context, to string) (h Holds, err error) {
	if err := free(to); err != nil {
		return h, err
	}
	dir, err := os.MkdirTemp(filepath.Dir(to), ".wellwright-*")
	if err != nil {
		return h, err
	}
	defer os.RemoveAll(dir)
	made := filepath.Join(dir, "backup")
	if err := s.copyTo(ctx, made); err != nil {
		return h, err
	}
	if h, err = proved(ctx, made); err != nil {
		return h, err
	}
	if err := place(made, to); err != nil {
		return h, err
	}
	return h, syncFolder(filepath.Dir(to))
}

// copyTo writes the store as it stands into a new file.
func (s *SQLite) copyTo(ctx context.Context, to string) error {
	db, err := sql.Open("sqlite", source(s.path, ""))
	if err != nil {
		return err
	}
	defer db.Close()
	_, err = db.ExecContext(ctx, `VACUUM INTO $1`, to)
	return told(err)
}

// proved reads a store file that has no head yet through and through, and leaves
// it closed, in one file, on the disk.
func proved(ctx context.Context, path string) (h Holds, err error) {
	if err := recognise(path); err != nil {
		return h, err
	}
	if err := headFromStore(ctx, path); err != nil {
		return h, err
	}
	s, err := open(ctx, path)
	if err != nil {
		return h, err
	}
	if err = s.renewWords(ctx); err == nil {
		h, err = s.Verify(ctx)
	}
	return h, errors.Join(err, s.Close(), syncFile(path))
}

// headFromStore writes the head of a store by what is in the store itself.
func headFromStore(ctx context.Context, path string) error {
	db, err := openWriter(path)
	if err != nil {
		return err
	}
	defer db.Close()
	if err := migrate(ctx, db); err != nil {
		return told(err)
	}
	last, err := lastCommit(ctx, db)
	if err != nil {
		return err
	}
	return makeHead(path, last)
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// place gives a file its name, which must be free.
func place(made, to string) error {
	if os.Link(made, to) == nil { // unlike a rename, it never writes over
		return nil
	}
	if _, err := os.Lstat(to); err == nil { // or a disk that knows no links
		return ErrThere
	}
	return os.Rename(made, to)
}

// Restored says what a restore did.
type Restored struct {
	Holds
	Lost  int64  // changes that the head beside the file restored, or the store replaced, knows of and that are not there
	Aside string // where the store that was there is now; "" for none
}

// Restore makes a store at to from a backup, or from what is left of a store. All
// of it is verified first. A store that is there is only replaced with over, and is
// then kept beside, whole, under another name.
func Restore(ctx context.Context, from, to string, over bool) (Restored, error) {
	r, err := restore(ctx, from, to, over)
	if err != nil {
		return Restored{}, fmt.Errorf("restore %s: %w", from, err)
	}
	return r, nil
}

func restore(ctx context.Context, from, to string, over bool) (r Restored, err error) {
	if _, err := os.Lstat(to); err == nil && !over {
		return r, fmt.Errorf("%s: %w", to, ErrThere)
	}
	if same(from, to) {
		return r, errors.New("a store is not restored from itself: give the new one another name")
	}
	dir, err := os.MkdirTemp(filepath.Dir(to), ".wellwright-*")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(dir)
	made := filepath.Join(dir, "store")
	if err := copyFile(from, made); err != nil {
		return r, err
	}
	if err := copyFile(from+"-wal", made+"-wal"); err != nil && !errors.Is(err, os.ErrNotExist) {
		return r, err
	}
	if r.Holds, err = proved(ctx, made); err != nil {
		return r, err
	}
	r.Lost = max(lostSince(from, r.Changes), lostSince(to, r.Changes))
	last, err := readHead(made)
	if err != nil {
		return r, err
	}
	if r.Aside, err = setAside(to); err != nil {
		return r, err
	}
	return r, install(made, to, last)
}

// lostSince is how many changes the head of a store knows of beyond those there.
func lostSince(path string, there int64) int64 {
	last, err := readHead(path)
	if err != nil {
		return 0
	}
	return max(last.number-there, 0)
}

func same(a, b string) bool {
	x, errX := os.Stat(a)
	y, errY := os.Stat(b)
	return errX == nil && errY == nil && os.SameFile(x, y)
}

// copyFile copies a file to a name that is free.
func copyFile(from, to string) error {
	in, err := os.Open(from)
	if errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("there is no such file: %w", os.ErrNotExist)
	}
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close())
}

// belongings are the endings of the files that make up a store.
var belongings = []string{"", "-wal", "-shm", "-journal", headEnd}

// setAside gives a store that is there, or what is left of it, another name. A
// journal that was left would else be taken for that of the new store.
func setAside(path string) (aside string, err error) {
	if !anyThere(path) {
		return "", nil
	}
	for n := 1; ; n++ {
		aside = fmt.Sprintf("%s.before-%d", path, n)
		if !anyThere(aside) {
			break
		}
	}
	for _, end := range belongings {
		if err := os.Rename(path+end, aside+end); err != nil && !errors.Is(err, os.ErrNotExist) {
			return aside, err
		}
	}
	return aside, nil
}

func anyThere(path string) bool {
	for _, end := range belongings {
		if _, err := os.Lstat(path + end); err == nil {
			return true
		}
	}
	return false
}

// remains errors if a journal lies where a store is to be begun.
func remains(path string) error {
	for _, end := range belongings[1:4] {
		if _, err := os.Lstat(path + end); err == nil {
			return &book.DamagedError{What: path + end + " is left of another store, whose file is gone"}
		}
	}
	return nil
}
