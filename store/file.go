package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/http"
	"path"
	"strings"
	"unicode"
	"unicode/utf8"

	"wellwright/book"
)

// received are files as they are kept: named without a folder, with the hash,
// size and media type of what is in them, whatever was said of those.
func received(files []book.File) ([]book.File, error) {
	if len(files) > book.MaxFiles {
		return nil, fmt.Errorf("%d files with one entry: at most %d", len(files), book.MaxFiles)
	}
	var out []book.File
	seen := map[string]bool{}
	for _, f := range files {
		f, err := receivedOne(f)
		if err != nil {
			return nil, err
		}
		if !seen[f.Hash] {
			out = append(out, f)
		}
		seen[f.Hash] = true
	}
	return out, nil
}

func receivedOne(f book.File) (book.File, error) {
	f.Name = path.Base(strings.ReplaceAll(strings.TrimSpace(f.Name), `\`, "/"))
	hash, size := book.FileHash(f.Content), int64(len(f.Content))
	switch {
	case f.Name == "." || f.Name == "/" || f.Name == ".." || len(f.Name) > 200 || !utf8.ValidString(f.Name) || strings.ContainsFunc(f.Name, unicode.IsControl):
		return f, fmt.Errorf("file %q: give it a plain name of at most 200 letters", f.Name)
	case size == 0:
		return f, fmt.Errorf("file %s: it is empty", f.Name)
	case size > book.MaxFile:
		return f, fmt.Errorf("file %s: %d bytes, at most %d", f.Name, size, book.MaxFile)
	case f.Hash != "" && f.Hash != hash:
		return f, fmt.Errorf("file %s: its content has the hash %s, not %s", f.Name, hash, f.Hash)
	}
	f.Hash, f.Size, f.Type = hash, size, mediaType(f.Content)
	return f, nil
}

// mediaType tells a file by its first bytes, never by its name. Photographs of
// telephones are added to what the standard library knows: boxes of ISO/IEC
// 14496-12 with a brand of ISO/IEC 23008-12 (brands from memory).
func mediaType(content []byte) string {
	if len(content) >= 12 && string(content[4:8]) == "ftyp" {
		switch string(content[8:12]) {
		case "heic", "heix", "mif1", "msf1":
			return "image/heic"
		case "avif":
			return "image/avif"
		}
	}
	return http.DetectContentType(content)
}

// enclose names in the entry the files that its section does not name.
func enclose(e book.NewEntry, files []book.File) book.NewEntry {
	named, _ := e.Section.Get("sha256")
	have := map[string]bool{strings.ToLower(named.Text): true}
	for _, f := range e.Files {
		have[strings.ToLower(f.SHA256)] = true
	}
	e.Files = append([]book.Enclosed(nil), e.Files...)
	for _, f := range files {
		if !have[f.Hash] {
			e.Files = append(e.Files, book.Enclosed{Name: f.Name, SHA256: f.Hash})
		}
	}
	return e
}

// hand puts each file to the piece of the first entry that names it.
func hand(pieces []piece, b *book.Book, files []book.File) error {
	for _, f := range files {
		i := naming(b, f.Hash)
		if i < 0 {
			return fmt.Errorf("file %s: no entry of the book names it by its hash", f.Name)
		}
		f.Entry = b.Entries[i].ID
		pieces[i+1].files = append(pieces[i+1].files, f)
	}
	return nil
}

// naming is the first entry that names a file; -1 for none.
func naming(b *book.Book, hash string) int {
	for i, e := range b.Entries {
		for _, f := range e.Enclosures() {
			if strings.EqualFold(f.SHA256, hash) {
				return i
			}
		}
	}
	return -1
}

const (
	addFileSQL    = `INSERT INTO files (well, place, number, name, type, size, hash) VALUES ($1, $2, $3, $4, $5, $6, $7)`
	addContentSQL = `INSERT INTO contents (hash, content) VALUES ($1, $2) ON CONFLICT (hash) DO NOTHING`
)

// putFiles keeps the files of a piece.
func putFiles(ctx context.Context, tx *sql.Tx, well int64, p piece) error {
	for i, f := range p.files {
		if _, err := tx.ExecContext(ctx, addContentSQL, f.Hash, f.Content); err != nil {
			return told(err)
		}
		if _, err := tx.ExecContext(ctx, addFileSQL, well, p.place, i+1, f.Name, f.Type, f.Size, f.Hash); err != nil {
			return told(err)
		}
	}
	return nil
}

const filesSQL = `SELECT f.place, e.name, f.name, f.type, f.size, f.hash FROM files f
	JOIN entries e ON e.well = f.well AND e.place = f.place WHERE f.well = $1 ORDER BY f.place, f.number`

// filesOf returns the files of a well by the place of their entries.
func filesOf(ctx context.Context, db asker, well int64) (map[int][]book.File, error) {
	rows, err := db.QueryContext(ctx, filesSQL, well)
	if err != nil {
		return nil, told(err)
	}
	defer rows.Close()
	all := map[int][]book.File{}
	for rows.Next() {
		var place int
		var f book.File
		if err := rows.Scan(&place, &f.Entry, &f.Name, &f.Type, &f.Size, &f.Hash); err != nil {
			return nil, spoilt(err, idOf(well), "")
		}
		all[place] = append(all[place], f)
	}
	return all, spoilt(rows.Err(), idOf(well), "")
}

// Files lists the files kept with a well, as book.Store says.
func (s *SQLite) Files(ctx context.Context, id book.ID) (files []book.File, err error) {
	err = s.read(ctx, func(tx *sql.Tx) error {
		w, err := s.well(ctx, tx, id)
		for _, p := range w.pieces {
			files = append(files, p.files...)
		}
		return err
	})
	return files, err
}

// File returns a file with its content, as book.Store says.
func (s *SQLite) File(ctx context.Context, id book.ID, hash string) (f book.File, err error) {
	err = s.read(ctx, func(tx *sql.Tx) error {
		w, err := s.well(ctx, tx, id)
		if err != nil {
			return err
		}
		var ok bool
		if f, ok = w.file(hash); !ok {
			return book.ErrNoFile
		}
		f.Content, err = contentOf(ctx, tx, id, f)
		return err
	})
	if err != nil {
		return book.File{}, err
	}
	return f, nil
}

const contentSQL = `SELECT content FROM contents WHERE hash = $1`

// contentOf reads the content of a file and compares it with its hash.
func contentOf(ctx context.Context, db asker, well book.ID, f book.File) ([]byte, error) {
	var content []byte
	err := db.QueryRowContext(ctx, contentSQL, f.Hash).Scan(&content)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, &book.DamagedError{Well: well, Entry: f.Entry, What: "the file " + f.Name + " is gone"}
	}
	if err != nil {
		return nil, spoilt(err, well, f.Entry)
	}
	if book.FileHash(content) != f.Hash {
		return nil, &book.DamagedError{Well: well, Entry: f.Entry, What: "the file " + f.Name + " is not as it was received"}
	}
	return content, nil
}
