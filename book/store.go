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
	// Search lists the wells with an entry in which every one of the words stands.
	Search(ctx context.Context, words string) ([]Found, error)
	// Add puts a whole book into the store as a new well, byte for byte. A book
	// with mistakes is refused with its findings.
	Add(ctx context.Context, text []byte, on time.Time) (ID, error)
	// Text returns the book of a well byte for byte. ErrNoWell if there is none.
	Text(ctx context.Context, well ID) (Kept, error)
	// Append adds an entry, with the files that came with it, at the end of a book
	// whose last entry has the hash head: all of it or nothing. If another was
	// added since, it returns an [*OvertakenError] and nothing is written.
	Append(ctx context.Context, well ID, head string, e NewEntry, on time.Time, files ...File) (Entry, error)
	// Files lists the files kept with a well, without their content.
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

// Errors of a store.
var (
	ErrNoWell = errors.New("there is no such well")
	ErrNoFile = errors.New("there is no such file")
)

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
