package store

import (
	"cmp"
	"context"
	"database/sql"
	"slices"
	"strings"

	"wellwright/book"
)

// byName puts wells in the order of their names, and those of one name in the
// order in which they came.
func byName(list []book.Shelved) {
	slices.SortStableFunc(list, func(a, b book.Shelved) int {
		return cmp.Or(strings.Compare(folded(a.Name), folded(b.Name)), cmp.Compare(len(a.ID), len(b.ID)), cmp.Compare(a.ID, b.ID))
	})
}

const addWordsSQL = `INSERT INTO words (rowid, shelf, entry, said) VALUES ($1, $2, $3, $4)`

// putWords makes an entry findable.
func putWords(ctx context.Context, tx *sql.Tx, id int64, row book.Shelved, e book.Entry) error {
	text := said(e)
	_, err := tx.ExecContext(ctx, addWordsSQL, id, shelfWords(row), folded(text), text)
	return told(err)
}

const renameWordsSQL = `UPDATE words SET shelf = $1 WHERE rowid IN (SELECT id FROM entries WHERE well = $2)`

// renameWords makes the entries of a well findable by its present name.
func renameWords(ctx context.Context, tx *sql.Tx, well int64, row book.Shelved) error {
	_, err := tx.ExecContext(ctx, renameWordsSQL, shelfWords(row), well)
	return told(err)
}

const wordsTableSQL = `SELECT sql FROM sqlite_master WHERE name = 'words'`

// renewWords makes the words to search by anew from the books.
func (s *SQLite) renewWords(ctx context.Context) error {
	tx, err := s.writer.BeginTx(ctx, nil)
	if err != nil {
		return told(err)
	}
	defer tx.Rollback()
	var table string
	if err := tx.QueryRowContext(ctx, wordsTableSQL).Scan(&table); err != nil {
		return spoilt(err, "", "")
	}
	if _, err := tx.ExecContext(ctx, `DROP TABLE words; `+table); err != nil {
		return told(err)
	}
	list, err := s.list(ctx, tx)
	if err != nil {
		return err
	}
	for _, row := range list {
		if err := s.renewWordsOf(ctx, tx, row); err != nil {
			return err
		}
	}
	return told(tx.Commit())
}

const entryIDsSQL = `SELECT id FROM entries WHERE well = $1 AND place > 0 ORDER BY place`

func (s *SQLite) renewWordsOf(ctx context.Context, tx *sql.Tx, row book.Shelved) error {
	w, err := s.well(ctx, tx, row.ID)
	if err != nil {
		return err
	}
	ids, err := numbers(ctx, tx, entryIDsSQL, w.number)
	if err != nil {
		return err
	}
	for i, id := range ids { // as many as the book has entries: the well is whole
		if err := putWords(ctx, tx, id, row, w.book.Entries[i]); err != nil {
			return err
		}
	}
	return nil
}

// numbers are the answers to a question for whole numbers.
func numbers(ctx context.Context, db asker, query string, args ...any) ([]int64, error) {
	rows, err := db.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	var all []int64
	for rows.Next() {
		var n int64
		if err := rows.Scan(&n); err != nil {
			return nil, spoilt(err, "", "")
		}
		all = append(all, n)
	}
	return all, spoilt(rows.Err(), "", "")
}

// shelfWords are the words of a well's name and place.
func shelfWords(row book.Shelved) string { return folded(row.Name + " " + row.Place) }

// Search lists the wells in which words stand, as book.Store says.
func (s *SQLite) Search(ctx context.Context, asked string) (out []book.Found, err error) {
	phrases := phrasesOf(asked)
	if len(phrases) == 0 {
		return nil, nil
	}
	err = s.read(ctx, func(tx *sql.Tx) error {
		at, err := hits(ctx, tx, phrases)
		if err != nil || len(at) == 0 {
			return err
		}
		list, err := s.list(ctx, tx)
		for _, row := range list {
			if h, ok := at[row.ID]; ok {
				out = append(out, book.Found{Shelved: row, Entry: h.entry, Excerpt: excerpt(h.said, phrases)})
			}
		}
		return err
	})
	return out, err
}

// hit is the entry of a well that was found.
type hit struct{ entry, said string }

const searchSQL = `SELECT e.well, e.name, w.said FROM words w JOIN entries e ON e.id = w.rowid
	WHERE words MATCH $1 ORDER BY e.well, e.place`

// hits finds the latest entry of each well that has all the phrases.
func hits(ctx context.Context, db asker, phrases []phrase) (map[book.ID]hit, error) {
	rows, err := db.QueryContext(ctx, searchSQL, matching(phrases))
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	at := map[book.ID]hit{}
	for rows.Next() {
		var well int64
		var h hit
		if err := rows.Scan(&well, &h.entry, &h.said); err != nil {
			return nil, spoilt(err, "", "")
		}
		at[idOf(well)] = h
	}
	return at, spoilt(rows.Err(), "", "")
}

// matching asks FTS5 for all the phrases, the last word of each by its beginning.
// A phrase holds nothing but letters and digits, and stands in quotes.
func matching(phrases []phrase) string {
	parts := make([]string, len(phrases))
	for i, p := range phrases {
		parts[i] = `"` + strings.Join(p, " ") + `"*`
	}
	return strings.Join(parts, " ")
}
