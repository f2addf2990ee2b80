package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"wellwright/book"
)

// told puts an error of the database into words that say what to do.
func told(err error) error {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return err
	}
	switch e.Code() & 0xff {
	case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_FORMAT,
		// What is asked here fits the tables as they were laid; where it does not, they
		// are no longer so.
		sqlite3.SQLITE_ERROR, sqlite3.SQLITE_CONSTRAINT, sqlite3.SQLITE_MISMATCH:
		return &book.DamagedError{What: e.Error()}
	case sqlite3.SQLITE_CANTOPEN:
		return fmt.Errorf("the store cannot be opened: is there room on the disk, and may you write in its folder? %w", err)
	case sqlite3.SQLITE_FULL:
		return fmt.Errorf("the disk is full; nothing was written: %w", err)
	case sqlite3.SQLITE_READONLY:
		return fmt.Errorf("the store cannot be written; nothing was: %w", err)
	case sqlite3.SQLITE_BUSY:
		return fmt.Errorf("another program is writing into the store; try again; nothing was written: %w", err)
	case sqlite3.SQLITE_IOERR:
		return fmt.Errorf("the disk does not answer as it should; nothing was written: %w", err)
	}
	return err
}

// spoilt is the error of a row that cannot be read as it was written: unless the
// question itself was broken off, the store is damaged there.
func spoilt(err error, well book.ID, entry string) error {
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	if said := told(err); said != err {
		return said
	}
	return &book.DamagedError{Well: well, Entry: entry, What: err.Error()}
}

// seal is the hash of several texts; each goes in with its length, so that no
// two lists of texts make one seal by being cut differently.
func seal(parts ...string) string {
	h := sha256.New()
	for _, p := range parts {
		fmt.Fprintf(h, "%d:", len(p))
		io.WriteString(h, p)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// syncFolder forces the names in a folder to the disk, where the system can.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	f.Sync() // some systems cannot, and then need not
	return nil
}
