package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"wellwright/book"
)

// Holds is how much a store holds.
type Holds struct {
	Wells, Entries, Files int
	Changes               int64 // acknowledged since it was begun
}

// Verify reads all of a store and compares it with its seals, hashes and indexes,
// and the file itself with the rules of SQLite. It returns everything that is
// wrong, not the first of it.
func (s *SQLite) Verify(ctx context.Context) (Holds, error) {
	var h Holds
	var wrong []error
	known, err := readHead(s.path)
	if err != nil {
		return h, err
	}
	err = s.read(ctx, func(tx *sql.Tx) error {
		wrong = append(wrong, soundFile(ctx, tx), whole(ctx, tx, known), chained(ctx, tx, &h))
		list, err := s.list(ctx, tx)
		wrong = append(wrong, err)
		for n := range h.Wells {
			wrong = append(wrong, s.verifyWell(ctx, tx, idOf(int64(n+1)), &h))
		}
		if err == nil && len(list) != h.Wells {
			wrong = append(wrong, &book.DamagedError{What: fmt.Sprintf("%d wells are in the list, %d in the changes", len(list), h.Wells)})
		}
		return ctx.Err()
	})
	wrong = append(wrong, err, s.soundWords(ctx))
	return h, errors.Join(wrong...)
}

// soundFile asks SQLite whether the pages and indexes of the file are in order.
func soundFile(ctx context.Context, db asker) error {
	rows, err := db.QueryContext(ctx, `PRAGMA integrity_check(10)`)
	if err != nil {
		return told(err)
	}
	defer rows.Close()
	var wrong []error
	for rows.Next() {
		var say string
		if err := rows.Scan(&say); err != nil {
			return spoilt(err, "", "")
		}
		if say != "ok" {
			wrong = append(wrong, &book.DamagedError{What: say})
		}
	}
	return errors.Join(append(wrong, spoilt(rows.Err(), "", ""))...)
}

const commitsSQL = `SELECT c.number, c.well, c.place, c.wells, c.seal, coalesce(e.seal, '') FROM commits c
	LEFT JOIN entries e ON e.well = c.well AND e.place = c.place ORDER BY c.number`

// chained follows all changes from the first on, and counts them.
func chained(ctx context.Context, db asker, h *Holds) error {
	rows, err := db.QueryContext(ctx, commitsSQL)
	if err != nil {
		return told(err)
	}
	defer rows.Close()
	var before commit
	var wrong []error
	for rows.Next() {
		var c commit
		var well int64
		var end piece
		if err := rows.Scan(&c.number, &well, &end.place, &c.wells, &c.seal, &end.seal); err != nil {
			return spoilt(err, "", "")
		}
		if c != before.after(well, end, c.wells) {
			wrong = append(wrong, &book.DamagedError{Well: idOf(well), What: fmt.Sprintf("change %d is not what was acknowledged", c.number)})
		}
		before = c
	}
	h.Wells, h.Changes = int(before.wells), before.number
	return errors.Join(append(wrong, spoilt(rows.Err(), "", ""))...)
}

// verifyWell reads a well, the content of its files, and the words to find it by.
func (s *SQLite) verifyWell(ctx context.Context, db asker, id book.ID, h *Holds) error {
	w, err := s.well(ctx, db, id)
	if err != nil {
		return err
	}
	h.Entries += len(w.book.Entries)
	wrong := []error{findable(ctx, db, w)}
	for _, p := range w.pieces {
		for _, f := range p.files {
			h.Files++
			_, err := contentOf(ctx, db, id, f)
			wrong = append(wrong, err)
		}
	}
	return errors.Join(wrong...)
}

const wordsSQL = `SELECT e.name, coalesce(w.shelf, ''), coalesce(w.entry, ''), coalesce(w.said, '') FROM entries e
	LEFT JOIN words w ON w.rowid = e.id WHERE e.well = $1 AND e.place > 0 ORDER BY e.place`

// findable errors if the words to search by are not those of the book.
func findable(ctx context.Context, db asker, w kept) error {
	rows, err := db.QueryContext(ctx, wordsSQL, w.number)
	if err != nil {
		return told(err)
	}
	defer rows.Close()
	for _, e := range w.book.Entries {
		var name, shelf, words, line string
		if !rows.Next() {
			break // told by those who read the book
		}
		if err := rows.Scan(&name, &shelf, &words, &line); err != nil {
			return spoilt(err, w.row.ID, e.ID)
		}
		if line != said(e) || words != folded(line) || shelf != shelfWords(w.row) {
			return w.damaged(e.ID, "the words to search by are not those of the book; a backup has them right again")
		}
	}
	return spoilt(rows.Err(), w.row.ID, "")
}

// soundWords asks FTS5 to compare its index with the words. It is asked by way of
// writing, and nothing is written.
func (s *SQLite) soundWords(ctx context.Context) error {
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return told(err)
	}
	defer tx.Rollback()
	_, err = tx.ExecContext(ctx, `INSERT INTO words (words) VALUES ('integrity-check')`)
	return told(err)
}
