package book

import (
	"fmt"
	"strings"
	"time"

	"wellwright/water"
)

// Addition is a book with one entry more at its end.
type Addition struct {
	Before *Book // as it stood
	After  *Book
	Text   []byte
	Entry  Entry     // the new one, as read back
	Left   []Finding // what there is to say of the book now: notices, and mistakes that only a withdrawal mends
}

// Add adds an entry at the end of a book, on a day, by the rules that hold at
// the command line and in a store alike: the book is without mistakes, the new
// entry brings none, and nothing is dated after the day. What is refused is
// refused with a [*RefusedError]. The text given is left as it is.
func Add(name string, text []byte, e NewEntry, on time.Time) (Addition, error) {
	before, found := Read(name, text)
	if bad := Mistakes(barring(found, e, "")); len(bad) > 0 {
		return Addition{}, &RefusedError{Findings: bad}
	}
	if f := before.backdated(e, on); f != nil {
		return Addition{}, &RefusedError{Findings: []Finding{*f}, Entry: true}
	}
	longer, entry, err := Append(text, e)
	if err != nil {
		return Addition{}, err
	}
	after, left := Read(name, longer)
	left = append(left, after.Check(on)...)
	if bad := Mistakes(barring(left, e, entry.ID)); len(bad) > 0 {
		bad, ours := unplaced(bad, entry)
		return Addition{}, &RefusedError{Findings: bad, Entry: ours}
	}
	return Addition{Before: before, After: after, Text: longer, Entry: entry, Left: left}, nil
}

// barring are the findings that stand in the way of adding e, called id. A
// withdrawal may be added to a book with entries that can only be taken back,
// one at a time: nothing else can mend them once they are sealed.
func barring(found []Finding, e NewEntry, id string) []Finding {
	if e.Kind != WithdrawalKind {
		return found
	}
	var bar []Finding
	for _, f := range found {
		if !f.TakeBack || f.Entry == id && id != "" {
			bar = append(bar, f)
		}
	}
	return bar
}

// backdated refuses a withdrawal of an earlier day than its entry, unless that
// entry is dated in the future.
func (b *Book) backdated(e NewEntry, on time.Time) *Finding {
	if e.Kind != WithdrawalKind {
		return nil
	}
	wrong, ok := b.Find(e.Corrects)
	day := wrong.On.Truncate(24 * time.Hour)
	if !ok || !written(Entry{On: day}, on) || !e.On.Before(day) {
		return nil
	}
	return &Finding{Read: fmt.Sprintf("withdraw: %s is before entry %s, of %s", e.On.Format(time.DateOnly), e.Corrects, day.Format(time.DateOnly)),
		Want: "give the day of withdrawing"}
}

// unplaced takes the place from findings on an entry that was never written, and
// reports whether they are all on it.
func unplaced(found []Finding, e Entry) (out []Finding, all bool) {
	all = true
	for _, f := range found {
		if f.Place.Line >= e.Line {
			f.Place = water.Place{}
		} else {
			all = false
		}
		out = append(out, f)
	}
	return out, all
}

// RefusedError is returned for a book, or an entry to be added to one, that has
// mistakes: nothing was written.
type RefusedError struct {
	Findings []Finding // each a mistake; those on an entry never written have no place
	Entry    bool      // the mistakes are of the entry that was to be added; else of the book
}

// Error says each mistake on a line.
func (e *RefusedError) Error() string {
	lines := make([]string, len(e.Findings))
	for i, f := range e.Findings {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}
