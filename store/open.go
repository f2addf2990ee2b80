package store

import (
	"context"
	"database/sql"
	"embed"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"

	"github.com/pressly/goose/v3"
)

//go:embed migrations/*.sql
var migrations embed.FS

// applicationID stands in the header of every store.
const applicationID = 0x576c5744

// readersAtOnce is how many may read at one time: judgement, a household of pages.
const readersAtOnce = 4

// source is the connection string of a store. All settings stand in it, for a
// pool opens a connection whenever it likes.
func source(path, more string) string {
	const settings = "?_pragma=busy_timeout(5000)&_pragma=foreign_keys(1)&_pragma=synchronous(full)&_pragma=cell_size_check(1)&_pragma=trusted_schema(0)"
	return "file:" + (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath() + settings + more
}

func openWriter(path string) (*sql.DB, error) {
	db, err := sql.Open("sqlite", source(path, "&_pragma=journal_mode(wal)&_txlock=immediate"))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	return db, nil
}

func openReaders(path string) (*sql.DB, error) {
	db, err := sql.Open("sqlite", source(path, "&_pragma=query_only(1)"))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(readersAtOnce)
	return db, nil
}

// Create begins a new store. It is made beside and put in its place whole, so
// that a crash leaves no half store.
func Create(ctx context.Context, path string) (*SQLite, error) {
	if err := free(path); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	dir, err := os.MkdirTemp(filepath.Dir(path), ".wellwright-*")
	if err != nil {
		return nil, fmt.Errorf("begin store: %w", err)
	}
	defer os.RemoveAll(dir)
	made := filepath.Join(dir, "store")
	if err := lay(ctx, made); err != nil {
		return nil, fmt.Errorf("begin store: %w", err)
	}
	if err := install(made, path, commit{}); err != nil {
		return nil, fmt.Errorf("begin store: %w", err)
	}
	return Open(ctx, path)
}

// free says why no store can be begun at path. The head of a store that is gone
// is a trace of a loss, and is not written over.
func free(path string) error {
	if _, err := os.Lstat(path); err == nil {
		return ErrThere
	}
	if last, err := readHead(path); err == nil && last.number > 0 {
		return lostStore(last)
	}
	return remains(path)
}

// install puts a closed store file and its head in their place. The head goes
// first: a store without a head is never opened, a head without a store is.
func install(made, path string, last commit) error {
	if err := makeHead(path, last); err != nil {
		return err
	}
	if err := place(made, path); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(path))
}

// lay makes the tables of a new store.
func lay(ctx context.Context, path string) error {
	db, err := openWriter(path)
	if err != nil {
		return err
	}
	return errors.Join(migrate(ctx, db), db.Close())
}

// Open opens a store that is there. It refuses one that is not ours, that a newer
// program wrote, that has lost what was acknowledged, or that cannot be written.
func Open(ctx context.Context, path string) (*SQLite, error) {
	s, err := open(ctx, path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return s, nil
}

func open(ctx context.Context, path string) (*SQLite, error) {
	if err := recognise(path); err != nil {
		return nil, err
	}
	h, err := openHead(path)
	if err != nil {
		return nil, err
	}
	s := &SQLite{path: path, head: h}
	if s.writer, err = openWriter(path); err != nil {
		return nil, errors.Join(err, h.close())
	}
	if s.readers, err = openReaders(path); err != nil {
		return nil, errors.Join(err, s.writer.Close(), h.close())
	}
	if err := s.settle(ctx); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// settle brings the tables up to date and compares what is there with the head.
func (s *SQLite) settle(ctx context.Context) error {
	if err := migrate(ctx, s.writer); err != nil {
		return told(err)
	}
	known, err := readHead(s.path)
	if err != nil {
		return err
	}
	if err := whole(ctx, s.writer, known); err != nil {
		return err
	}
	return s.acknowledge(ctx)
}

// recognise looks at the header of the file: is it a store, and can it be written?
func recognise(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if last, err := readHead(path); err == nil && last.number > 0 {
			return lostStore(last)
		}
		return ErrNoStore
	case err != nil:
		return fmt.Errorf("the store cannot be written here; copy it, and the head beside it, to a place that can: %w", err)
	}
	defer f.Close()
	header := make([]byte, 100) // see "The Database Header" of the SQLite file format
	if _, err := io.ReadFull(f, header); err != nil || string(header[:16]) != "SQLite format 3\x00" ||
		binary.BigEndian.Uint32(header[68:]) != applicationID {
		return ErrNotOurs
	}
	return nil
}

// migrate brings the tables to the form that this program knows; forward only.
func migrate(ctx context.Context, db *sql.DB) error {
	dir, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, db, dir, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	has, knows, err := p.GetVersions(ctx)
	if err != nil {
		return err
	}
	if has > knows {
		return ErrNewer
	}
	if has == knows {
		return nil
	}
	_, err = p.Up(ctx)
	return err
}
