package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"wellwright/book"
)

// kept is a well as it was read and found whole.
type kept struct {
	number int64
	row    book.Shelved
	pieces []piece
	text   []byte
	book   *book.Book
}

// seal is that of the last piece.
func (k kept) seal() string { return k.pieces[len(k.pieces)-1].seal }

// renamed reports whether a later state of the book has another name or place.
func (k kept) renamed(b *book.Book) bool {
	row := shelved(k.number, b)
	return row.Name != k.row.Name || row.Place != k.row.Place
}

// file finds a file of the well by its hash.
func (k kept) file(hash string) (book.File, bool) {
	for _, p := range k.pieces {
		for _, f := range p.files {
			if strings.EqualFold(f.Hash, hash) {
				return f, true
			}
		}
	}
	return book.File{}, false
}

// Text returns the book of a well, as book.Store says.
func (s *SQLite) Text(ctx context.Context, id book.ID) (out book.Kept, err error) {
	err = s.read(ctx, func(tx *sql.Tx) error {
		w, err := s.well(ctx, tx, id)
		if err == nil {
			out = book.Kept{Text: w.text, Head: w.book.Hash()}
		}
		return err
	})
	return out, err
}

// well reads a well and compares it with its seals and with the hashes of its book.
func (s *SQLite) well(ctx context.Context, db asker, id book.ID) (k kept, err error) {
	var ok bool
	if k.number, ok = numberOf(id); !ok {
		return k, book.ErrNoWell
	}
	var sealed string
	if k.row, sealed, err = wellRow(ctx, db, k.number); err != nil {
		return k, err
	}
	if k.row.ID == "" {
		return k, s.absent(ctx, db, k.number)
	}
	if k.pieces, err = piecesOf(ctx, db, k.number); err != nil {
		return k, err
	}
	if err := k.follow(sealed); err != nil {
		return k, err
	}
	k.text = together(k.pieces)
	k.book, _ = book.Read("well "+string(id), k.text)
	return k, k.agree()
}

const wellSQL = `SELECT name, place, head, entries, latest, seal FROM wells WHERE well = $1`

// wellRow reads the row of a well in the list; no ID if there is none.
func wellRow(ctx context.Context, db asker, well int64) (row book.Shelved, sealed string, err error) {
	var latest string
	err = db.QueryRowContext(ctx, wellSQL, well).Scan(&row.Name, &row.Place, &row.Head, &row.Entries, &latest, &sealed)
	if errors.Is(err, sql.ErrNoRows) {
		return row, "", nil
	}
	if err == nil {
		row.Last, err = time.Parse(time.RFC3339, latest)
	}
	if err != nil {
		return row, "", spoilt(err, idOf(well), "")
	}
	row.ID = idOf(well)
	return row, sealed, nil
}

// absent says that there is no such well, or that there should be one.
func (s *SQLite) absent(ctx context.Context, db asker, well int64) error {
	last, err := lastCommit(ctx, db)
	if err != nil {
		return err
	}
	if well <= last.wells {
		return &book.DamagedError{Well: idOf(well), What: "the well is gone from the list"}
	}
	return book.ErrNoWell
}

const piecesSQL = `SELECT place, name, hash, text, seal FROM entries WHERE well = $1 ORDER BY place`

// piecesOf reads the pieces of a well, with their files but without the content.
func piecesOf(ctx context.Context, db asker, well int64) ([]piece, error) {
	files, err := filesOf(ctx, db, well)
	if err != nil {
		return nil, err
	}
	rows, err := db.QueryContext(ctx, piecesSQL, well)
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	var pieces []piece
	for rows.Next() {
		var p piece
		if err := rows.Scan(&p.place, &p.name, &p.hash, &p.text, &p.seal); err != nil {
			return nil, spoilt(err, idOf(well), fmt.Sprintf("in place %d", len(pieces)))
		}
		p.files = files[p.place]
		pieces = append(pieces, p)
	}
	return pieces, spoilt(rows.Err(), idOf(well), "")
}

// follow errors if a piece is not what was sealed, or one is missing.
func (k kept) follow(sealOfRow string) error {
	before := ""
	for i, p := range k.pieces {
		switch {
		case p.place != i:
			return k.damaged(p.name, fmt.Sprintf("what stood before it is gone, from place %d on", i))
		case p.seal != p.sealAfter(before):
			return k.damaged(p.name, "it is not what was written")
		}
		before = p.seal
	}
	switch {
	case len(k.pieces) != k.row.Entries+1:
		return k.damaged("", fmt.Sprintf("%d entries were written, and %d are there", k.row.Entries, len(k.pieces)-1))
	case sealOfRow != sealOfWell(k.row, before):
		return k.damaged("", "the list does not agree with the book")
	}
	return nil
}

// agree errors if the entries that the text reads as do not carry the hashes they
// were stored with.
func (k kept) agree() error {
	if len(k.book.Entries) != len(k.pieces)-1 {
		return k.damaged("", fmt.Sprintf("the text reads as %d entries, and %d were written", len(k.book.Entries), len(k.pieces)-1))
	}
	for i, e := range k.book.Entries {
		if e.Hash != k.pieces[i+1].hash {
			return k.damaged(k.pieces[i+1].name, "its hash is not the one in the chain")
		}
	}
	return nil
}

func (k kept) damaged(entry, what string) error {
	return &book.DamagedError{Well: k.row.ID, Entry: entry, What: what}
}

// Wells lists the wells, as book.Store says.
func (s *SQLite) Wells(ctx context.Context) (list []book.Shelved, err error) {
	err = s.read(ctx, func(tx *sql.Tx) error {
		list, err = s.list(ctx, tx)
		return err
	})
	return list, err
}

const (
	rowsSQL = `SELECT w.well, w.name, w.place, w.head, w.entries, w.latest, w.seal, coalesce(e.seal, '') FROM wells w
	LEFT JOIN entries e ON e.well = w.well AND e.place = w.entries`
	listSQL = rowsSQL + ` ORDER BY w.well`
	rowSQL  = rowsSQL + ` WHERE w.well = $1`
)

// Well returns the row of one well in the list, as book.Store says.
func (s *SQLite) Well(ctx context.Context, well book.ID) (row book.Shelved, err error) {
	number, ok := numberOf(well)
	if !ok {
		return row, book.ErrNoWell
	}
	err = s.read(ctx, func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, rowSQL, number)
		if err != nil {
			return told(err)
		}
		defer rows.Close()
		if rows.Next() {
			row, err = listed(rows)
			return err
		}
		if err := rows.Err(); err != nil {
			return spoilt(err, well, "")
		}
		return s.absent(ctx, tx, number)
	})
	return row, err
}

// list reads the list of wells and compares each row with its seal.
func (s *SQLite) list(ctx context.Context, db asker) ([]book.Shelved, error) {
	last, err := lastCommit(ctx, db)
	if err != nil {
		return nil, err
	}
	rows, err := db.QueryContext(ctx, listSQL)
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	var list []book.Shelved
	for rows.Next() {
		row, err := listed(rows)
		if err != nil {
			return nil, err
		}
		list = append(list, row)
	}
	if err := rows.Err(); err != nil {
		return nil, spoilt(err, "", "")
	}
	if int64(len(list)) != last.wells {
		return nil, &book.DamagedError{What: fmt.Sprintf("%d wells were written, and %d are in the list", last.wells, len(list))}
	}
	byName(list)
	return list, nil
}

// listed reads one row of the list.
func listed(rows *sql.Rows) (row book.Shelved, err error) {
	var well int64
	var latest, sealed, end string
	err = rows.Scan(&well, &row.Name, &row.Place, &row.Head, &row.Entries, &latest, &sealed, &end)
	if err == nil {
		row.Last, err = time.Parse(time.RFC3339, latest)
	}
	row.ID = idOf(well)
	if err != nil {
		return row, spoilt(err, row.ID, "")
	}
	if sealed != sealOfWell(row, end) {
		return row, &book.DamagedError{Well: row.ID, What: "the list does not agree with the book"}
	}
	return row, nil
}
