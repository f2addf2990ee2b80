// Package store keeps the books of many wells in one SQLite file: it is a
// [book.Store]. A book goes in entry by entry, every byte of it, and comes out
// the same. What was acknowledged stands: rows are only added, each row is
// sealed over the one before, and beside the file STORE stands a small file
// STORE.head with the number and the seal of the last acknowledged change. So
// a change, a loss in the middle, and even a lost end are told and never passed
// over. See docs/decisions/0006-the-store.md.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"wellwright/book"
)

// SQLite is a store in one file. It is safe for concurrent use, and several
// programs may have the file open at the same time.
type SQLite struct {
	path    string
	writer  *sql.DB // one connection
	readers *sql.DB
	head    *head
}

var _ book.Store = (*SQLite)(nil)

// Errors of a store as a file.
var (
	ErrNoStore  = errors.New("there is no such store")
	ErrThere    = errors.New("there is a file of that name already, and it is left as it is")
	ErrNotOurs  = errors.New("this is no store of well books, or its beginning is damaged")
	ErrNewer    = errors.New("this store was written by a newer wellwright: use that one")
	ErrReplaced = errors.New("the store was moved or replaced while it was open; start the program again; nothing was written")
)

// asker is what both a pool and a transaction can do.
type asker interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

// read runs ask on one unchanging state of the store, until ctx ends.
func (s *SQLite) read(ctx context.Context, ask func(tx *sql.Tx) error) error {
	tx, err := s.readers.BeginTx(ctx, nil)
	if err != nil {
		return told(err)
	}
	defer tx.Rollback()
	err = ask(tx)
	if broken := ctx.Err(); err != nil && broken != nil {
		return broken // whatever it looked like from inside
	}
	return err
}

// write runs do in one transaction and returns once what it did is on the disk
// and acknowledged. With an error nothing was written. It is not broken off
// half-way when ctx ends, so that the answer is never in doubt.
func (s *SQLite) write(ctx context.Context, do func(ctx context.Context, tx *sql.Tx) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := s.head.inPlace(); err != nil {
		return err
	}
	ctx = context.WithoutCancel(ctx)
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return told(err)
	}
	defer tx.Rollback()
	if err := do(ctx, tx); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return told(err)
	}
	if err := s.acknowledge(ctx); err != nil {
		return fmt.Errorf("written, but not acknowledged: look at the disk, and at the end of the book: %w", err)
	}
	return nil
}

// acknowledge writes the last commit into the head file. It holds the lock of
// the store meanwhile, so that of several programs none writes an older one over it.
func (s *SQLite) acknowledge(ctx context.Context) error {
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return told(err)
	}
	defer tx.Rollback()
	last, err := lastCommit(ctx, tx)
	if err != nil {
		return err
	}
	return s.head.put(last)
}

// Close ends all work with the store.
func (s *SQLite) Close() error {
	return errors.Join(s.readers.Close(), s.writer.Close(), s.head.close())
}

// stamp writes a time as the store keeps it.
func stamp(t time.Time) string { return t.UTC().Format(time.RFC3339) }
