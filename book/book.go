// Package book is the well book: one readable file a well, a list of dated
// entries that are appended and never overwritten. It reads the file, says
// every mistake in it with its line, folds the entries into what is known on a
// date, and adds entries at the end without touching a byte of what stands.
package book

import (
	"fmt"
	"time"

	"wellwright/water"
)

// Kind is what an entry is about: the key its section stands under.
type Kind string

// The kinds of entry.
const (
	CallKind       Kind = "first call"
	WellKind       Kind = "well"
	HouseKind      Kind = "house"
	EquipmentKind  Kind = "equipment"
	RulesKind      Kind = "local rules"
	SignsKind      Kind = "signs"
	ReadingsKind   Kind = "readings"
	LaboratoryKind Kind = "laboratory report"
	JarsKind       Kind = "jar tests"
	CulturesKind   Kind = "cultures"
	WishesKind     Kind = "wishes"
	FactorKind     Kind = "factor"
	VariantKind    Kind = "variant"
	NoteKind       Kind = "note"
	WithdrawalKind Kind = "correction" // a correction with no section: takes the entry back
)

// Entry is one dated entry.
type Entry struct {
	ID       string    // unique in the book: a number, as a rule
	On       time.Time // the date, with the time of day if one was written; UTC
	Timed    bool      // a time of day was written
	Kind     Kind
	By       string
	Note     string // remark on the entry
	Files    []Enclosed
	Corrects string // the entry that this one replaces; "" for none
	Why      string // why the corrected entry was wrong
	Previous string // hash of the entry before, as written; "" if not yet sealed
	Hash     string // computed; never written in the entry itself
	Line     int    // first line in the file
	End      int    // last line in the file
	Written  Value  // all that was written, in the writer's own words and order
	Section  Value  // the part under the key of Kind
	Body     any    // *Call, *well.Supply, *well.House ... by Kind; nil for a note
}

// Book is the entries of one well, in the order of the file.
type Book struct {
	Path    string
	Entries []Entry
}

// Find returns the entry called id.
func (b *Book) Find(id string) (Entry, bool) {
	for _, e := range b.Entries {
		if e.ID == id {
			return e, true
		}
	}
	return Entry{}, false
}

// Hash returns the hash of the last entry, which stands for the whole book:
// print it on a sheet, and any later edit of the book shows. It is empty for
// an empty book.
func (b *Book) Hash() string {
	if len(b.Entries) == 0 {
		return ""
	}
	return b.Entries[len(b.Entries)-1].Hash
}

// Weight is how grave a finding is.
type Weight int

// The weights.
const (
	Mistake Weight = iota // the book cannot be relied on until it is put right
	Notice                // worth knowing, nothing is wrong
)

// String returns the word printed before a finding.
func (w Weight) String() string {
	if w == Notice {
		return "notice"
	}
	return "mistake"
}

// MarshalText writes the word.
func (w Weight) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// Finding is one thing in a book that is wrong, or worth knowing.
type Finding struct {
	Place  water.Place `json:"place"`
	Entry  string      `json:"entry,omitempty"` // ID, if the entry has one
	Weight Weight      `json:"weight"`
	Read   string      `json:"read"`           // what was read
	Want   string      `json:"want,omitempty"` // what would be right

	TakeBack bool `json:"-"` // gone once the entry is taken back
}

// Error returns "file:line: what was read; what would be right". What stands in
// no file yet has no place.
func (f Finding) Error() string {
	s := f.Read
	if f.Place != (water.Place{}) {
		s = fmt.Sprintf("%s:%d: %s", f.Place.File, f.Place.Line, s)
	}
	if f.Want != "" {
		s += "; " + f.Want
	}
	return s
}

// Mistakes returns the findings that are mistakes.
func Mistakes(all []Finding) []Finding {
	var out []Finding
	for _, f := range all {
		if f.Weight == Mistake {
			out = append(out, f)
		}
	}
	return out
}
