package store

import (
	"bytes"
	"strconv"
	"strings"

	"wellwright/book"
)

// piece is an entry of a book as it is stored: the text that it adds, byte for
// byte, with all that stands before the next entry.
type piece struct {
	place int // 0: what stands before the first entry
	name  string
	hash  string
	text  []byte
	files []book.File
	seal  string
}

// sealAfter is the seal of a piece that follows one with the seal before.
func (p piece) sealAfter(before string) string {
	parts := []string{before, strconv.Itoa(p.place), p.name, p.hash, string(p.text)}
	for _, f := range p.files {
		parts = append(parts, f.Name, f.Type, strconv.FormatInt(f.Size, 10), f.Hash)
	}
	return seal(parts...)
}

// cut cuts the text of a book into pieces at the lines on which its entries
// begin. Put together they are the text again, whatever the book looks like.
func cut(text []byte, b *book.Book) []piece {
	starts := lineStarts(text)
	pieces := make([]piece, len(b.Entries)+1)
	from := 0
	for i := range pieces {
		to := len(text)
		if i < len(b.Entries) {
			to = max(from, starts[min(b.Entries[i].Line, len(starts))-1])
		}
		pieces[i] = piece{place: i, text: text[from:to]}
		if i > 0 {
			e := b.Entries[i-1]
			pieces[i].name, pieces[i].hash = e.ID, e.Hash
		}
		from = to
	}
	return pieces
}

// lineStarts is the place of the first byte of each line.
func lineStarts(text []byte) []int {
	starts := []int{0}
	for at := 0; ; {
		n := bytes.IndexByte(text[at:], '\n')
		if n < 0 {
			return starts
		}
		at += n + 1
		starts = append(starts, at)
	}
}

// sealed seals pieces one over the other, from the seal before them on.
func sealed(before string, pieces []piece) []piece {
	for i := range pieces {
		pieces[i].seal = pieces[i].sealAfter(before)
		before = pieces[i].seal
	}
	return pieces
}

// together is the text that pieces were cut from.
func together(pieces []piece) []byte {
	var b bytes.Buffer
	for _, p := range pieces {
		b.Write(p.text)
	}
	return b.Bytes()
}

// said is an entry on one line, in its own words, to search and to show: without
// its name and the hashes.
func said(e book.Entry) string {
	var parts []string
	for _, p := range e.Written.Pairs {
		switch strings.ToLower(p.Key) {
		case "entry", "previous":
		default:
			parts = append(parts, p.Key+": "+saidValue(p.Value))
		}
	}
	return strings.Join(parts, "; ")
}

func saidValue(v book.Value) string {
	var parts []string
	for _, item := range v.List {
		parts = append(parts, saidValue(item))
	}
	for _, p := range v.Pairs {
		if !strings.EqualFold(p.Key, "sha256") {
			parts = append(parts, p.Key+": "+saidValue(p.Value))
		}
	}
	if v.Shape == book.Text {
		return strings.Join(strings.Fields(v.Text), " ")
	}
	return strings.Join(parts, "; ")
}
