package book

import (
	"context"
	"errors"
	"time"
)

// ID names a well in a store.
type ID string

// Store keeps the books of many wells. What it has acknowledged it never loses;
// entries are added at the end and never changed. It is safe for concurrent use.
type Store interface {
	// Wells lists the wells by name.
	Wells(ctx context.Context) ([]Shelved, error)
	// Well returns one of them: whether its book has grown, without reading it.
	// ErrNoWell if there is none.
	Well(ctx context.Context, well ID) (Shelved, error)
	// Search lists the wells, by name, with an entry in which every one of the words
	// stands, or the name or place of the well has it. Capitals and accents do not
	// count; a word is found by its beginning, so "ferr" finds "ferrous". Of each
	// well the latest such entry is given. No words find nothing.
	Search(ctx context.Context, words string) ([]Found, error)
	// Add puts a whole book into the store as a new well, byte for byte, with the
	// files that its entries name. A book with mistakes is refused with a
	// [*RefusedError], one that is there already, whole or in part, with a
	// [*ThereError]: its last entry is in a well, or it goes on from a well's last.
	Add(ctx context.Context, text []byte, on time.Time, files ...File) (ID, error)
	// Text returns the book of a well byte for byte. ErrNoWell if there is none.
	Text(ctx context.Context, well ID) (Kept, error)
	// Append adds an entry by the rules of [Add], with the files that came with it,
	// at the end of a book whose last entry has the hash head: all of it or nothing.
	// A file that the section does not name is named under the key files. If another
	// entry was added since, it returns an [*OvertakenError]; an entry with mistakes
	// is refused with a [*RefusedError]; nothing is written then.
	Append(ctx context.Context, well ID, head string, e NewEntry, on time.Time, files ...File) (Entry, error)
	// Files lists the files kept with a well, without their content, in the order of
	// their entries.
	Files(ctx context.Context, well ID) ([]File, error)
	// File returns a file by the hash of its content. ErrNoFile if there is none.
	File(ctx context.Context, well ID, hash string) (File, error)
}

// Shelved is a well in the list of a store.
type Shelved struct {
	ID      ID
	Name    string // "" if the book gives none
	Place   string
	Head    string // hash of the last entry
	Entries int
	Last    time.Time // date of the latest entry
}

// Found is a well that a search came upon, with the place that it found.
type Found struct {
	Shelved
	Entry   string // the entry's name
	Excerpt string // the words around the place
}

// Kept is the text of a book as it stands in a store.
type Kept struct {
	Text []byte
	Head string // hash of the last entry
}

// File is a file kept with a well as it was received: a report, a photograph.
type File struct {
	Hash    string // SHA-256 of the content, as [FileHash] writes it
	Name    string // as it was received, without a folder
	Type    string // media type
	Size    int64
	Entry   string // the entry it came with
	Content []byte // nil in a list
}

// The most that is kept at one time: judgement, a photograph has some 5 MB.
const (
	MaxFile  = 25 << 20 // bytes of a file
	MaxFiles = 20       // files of an entry
)

// Errors of a store.
var (
	ErrNoWell = errors.New("there is no such well")
	ErrNoFile = errors.New("there is no such file")
)

// ThereError is returned for a book that is in the store already, or whose
// beginning is.
type ThereError struct{ Well ID }

// Error says where it is.
func (e *ThereError) Error() string {
	return "this book, or its beginning, is in the store already, as well " + string(e.Well)
}

// DamagedError is returned when what a store holds is not what was put into it.
// Nothing is ever left out in silence.
type DamagedError struct {
	Well  ID     // "": the store as a whole
	Entry string // "": the well as a whole
	What  string
}

// Error says what is damaged, and what to do.
func (e *DamagedError) Error() string {
	return "the store is damaged: " + e.Say() + "; change nothing, copy it as it is, and restore the last backup"
}

// Say is what is damaged, and where.
func (e *DamagedError) Say() string {
	s := ""
	if e.Well != "" {
		s += "well " + string(e.Well) + ": "
	}
	if e.Entry != "" {
		s += "entry " + e.Entry + ": "
	}
	return s + e.What
}

// OvertakenError is returned when somebody else has added to a book since it was
// read.
type OvertakenError struct {
	Head  string // hash of the last entry now
	Entry string // that entry
	By    string // who wrote it; "" if it does not say
}

// Error says what happened.
func (e *OvertakenError) Error() string {
	by := ""
	if e.By != "" {
		by = " by " + e.By
	}
	return "entry " + e.Entry + by + " was added to this book since you opened it: look at it, then save again; nothing was written"
}
