package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strconv"
	"time"

	"wellwright/book"
)

// Add puts a book into the store, as book.Store says.
func (s *SQLite) Add(ctx context.Context, text []byte, on time.Time, files ...book.File) (book.ID, error) {
	b, found := book.Read("book", text)
	if bad := book.Mistakes(append(found, b.Check(on)...)); len(bad) > 0 {
		return "", &book.RefusedError{Findings: bad}
	}
	files, err := received(files)
	if err != nil {
		return "", err
	}
	pieces := cut(text, b)
	if err := hand(pieces, b, files); err != nil {
		return "", err
	}
	var well int64
	err = s.write(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if err := notThere(ctx, tx, b); err != nil {
			return err
		}
		last, err := lastCommit(ctx, tx)
		if err != nil {
			return err
		}
		last.wells++
		well = last.wells
		return put(ctx, tx, last, addition{well: well, book: b, pieces: sealed("", pieces)})
	})
	if err != nil {
		return "", err
	}
	return idOf(well), nil
}

const (
	endsInSQL = `SELECT well FROM entries WHERE hash = $1 AND place > 0 ORDER BY well LIMIT 1`
	beginsSQL = `SELECT well FROM wells WHERE head = $1 ORDER BY well LIMIT 1`
)

// notThere errors if a book is in the store already: if a well there has its last
// entry, or if it goes on from the last entry of a well.
func notThere(ctx context.Context, tx *sql.Tx, b *book.Book) error {
	if err := noneWith(ctx, tx, endsInSQL, b.Hash()); err != nil {
		return err
	}
	for _, e := range b.Entries {
		if err := noneWith(ctx, tx, beginsSQL, e.Hash); err != nil {
			return err
		}
	}
	return nil
}

// noneWith errors if a question for a well by a hash has an answer.
func noneWith(ctx context.Context, tx *sql.Tx, query, hash string) error {
	if hash == "" {
		return nil
	}
	var well int64
	err := tx.QueryRowContext(ctx, query, hash).Scan(&well)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return spoilt(err, "", "")
	}
	return &book.ThereError{Well: idOf(well)}
}

// Append adds an entry to a book, as book.Store says.
func (s *SQLite) Append(ctx context.Context, id book.ID, head string, e book.NewEntry, on time.Time, files ...book.File) (book.Entry, error) {
	files, err := received(files)
	if err != nil {
		return book.Entry{}, err
	}
	e = enclose(e, files)
	var done book.Addition
	err = s.write(ctx, func(ctx context.Context, tx *sql.Tx) error {
		w, err := s.well(ctx, tx, id)
		if err != nil {
			return err
		}
		if w.book.Hash() != head {
			return overtaken(w.book)
		}
		if done, err = book.Add("well "+string(id), w.text, e, on); err != nil {
			return err
		}
		next := piece{place: len(w.pieces), name: done.Entry.ID, hash: done.Entry.Hash, text: done.Text[len(w.text):]}
		for _, f := range files {
			f.Entry = done.Entry.ID
			next.files = append(next.files, f)
		}
		last, err := lastCommit(ctx, tx)
		if err != nil {
			return err
		}
		return put(ctx, tx, last, addition{well: w.number, book: done.After, pieces: sealed(w.seal(), []piece{next}), renamed: w.renamed(done.After)})
	})
	if err != nil {
		return book.Entry{}, err
	}
	return done.Entry, nil
}

// overtaken says which entry is the last of a book now.
func overtaken(b *book.Book) error {
	if len(b.Entries) == 0 {
		return &book.OvertakenError{}
	}
	last := b.Entries[len(b.Entries)-1]
	return &book.OvertakenError{Head: last.Hash, Entry: last.ID, By: last.By}
}

// addition is what one commit adds to a well.
type addition struct {
	well    int64
	book    *book.Book // as it stands with the addition
	pieces  []piece    // the new ones, sealed
	renamed bool       // the well has another name or place than before
}

const (
	putWellSQL = `INSERT INTO wells (well, name, place, head, entries, latest, seal) VALUES ($1, $2, $3, $4, $5, $6, $7)
		ON CONFLICT (well) DO UPDATE SET name = $2, place = $3, head = $4, entries = $5, latest = $6, seal = $7`
	addEntrySQL  = `INSERT INTO entries (id, well, place, name, hash, text, seal) VALUES ($1, $2, $3, $4, $5, $6, $7)`
	lastEntrySQL = `SELECT coalesce(max(id), 0) FROM entries`
	addCommitSQL = `INSERT INTO commits (number, well, place, wells, seal) VALUES ($1, $2, $3, $4, $5)`
)

// put writes an addition and the commit that follows the last one.
func put(ctx context.Context, tx *sql.Tx, last commit, a addition) error {
	end := a.pieces[len(a.pieces)-1]
	row := shelved(a.well, a.book)
	if _, err := tx.ExecContext(ctx, putWellSQL, a.well, row.Name, row.Place, row.Head, row.Entries, stamp(row.Last), sealOfWell(row, end.seal)); err != nil {
		return told(err)
	}
	var id int64
	if err := tx.QueryRowContext(ctx, lastEntrySQL).Scan(&id); err != nil {
		return spoilt(err, "", "")
	}
	for _, p := range a.pieces {
		id++
		if _, err := tx.ExecContext(ctx, addEntrySQL, id, a.well, p.place, p.name, p.hash, notNil(p.text), p.seal); err != nil {
			return told(err)
		}
		if err := putFiles(ctx, tx, a.well, p); err != nil {
			return err
		}
		if p.place == 0 {
			continue
		}
		if err := putWords(ctx, tx, id, row, a.book.Entries[p.place-1]); err != nil {
			return err
		}
	}
	if a.renamed {
		if err := renameWords(ctx, tx, a.well, row); err != nil {
			return err
		}
	}
	next := last.after(a.well, end, last.wells)
	_, err := tx.ExecContext(ctx, addCommitSQL, next.number, a.well, end.place, next.wells, next.seal)
	return told(err)
}

// after is the commit that follows, whose last piece is end.
func (c commit) after(well int64, end piece, wells int64) commit {
	return commit{number: c.number + 1, wells: wells,
		seal: seal(c.seal, fmt.Sprint(c.number+1), fmt.Sprint(well), fmt.Sprint(end.place), fmt.Sprint(wells), end.seal)}
}

// shelved is the row of a well in the list.
func shelved(well int64, b *book.Book) book.Shelved {
	p := b.Present(time.Time{})
	row := book.Shelved{ID: idOf(well), Name: p.Name, Place: p.Supply.Well.Place, Head: b.Hash(), Entries: len(b.Entries)}
	for _, e := range b.Entries {
		if e.On.After(row.Last) {
			row.Last = e.On
		}
	}
	return row
}

// sealOfWell seals a row of the list over the seal of the well's last piece.
func sealOfWell(row book.Shelved, last string) string {
	return seal(string(row.ID), row.Name, row.Place, row.Head, strconv.Itoa(row.Entries), stamp(row.Last), last)
}

// notNil is text that is not NULL when it is empty.
func notNil(text []byte) []byte {
	if text == nil {
		return []byte{}
	}
	return text
}

// idOf is the name of a well by its number.
func idOf(well int64) book.ID { return book.ID(strconv.FormatInt(well, 10)) }

// numberOf is the number of a well; false if no well can have that name.
func numberOf(id book.ID) (int64, bool) {
	n, err := strconv.ParseInt(string(id), 10, 64)
	return n, err == nil && n > 0 && idOf(n) == id
}
