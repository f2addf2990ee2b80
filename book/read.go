package book

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"wellwright/water"
)

var (
	idForm       = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$`)
	headFields   = entryHead()
	correctField = []field{
		required(text("of", "the entry that was wrong", "3", func(e *Entry) *string { return &e.Corrects })),
		required(text("why", "what was wrong with it", "tape read wrong", func(e *Entry) *string { return &e.Why })),
	}
)

// entryHead is the keys of an entry: those of every entry, and one for each kind.
func entryHead() []field {
	fields := []field{
		required(scalar("entry", "a number no other entry has", "1", func(s string, e *Entry) error {
			if !idForm.MatchString(s) {
				return fmt.Errorf("entry %q: a name has letters, digits, points and hyphens, at most 40", s)
			}
			e.ID = s
			return nil
		})),
		required(scalar("date", "of writing; time of day if it matters", "2025-04-14", func(s string, e *Entry) (err error) {
			e.On, e.Timed, err = parseDate(s)
			return err
		})),
		text("by", "who writes this", "the specialist", func(e *Entry) *string { return &e.By }),
		section("correction", "this entry replaces a wrong one as a whole; without a section it takes it back", correctField, func(e *Entry) *Entry { return e }),
	}
	for _, k := range kinds {
		fields = append(fields, field{name: k.name, what: k.what, eg: k.eg, form: k.form, read: chooses(k)})
	}
	return append(fields,
		enclosedField(),
		text("note", "a remark on the entry, or an entry of its own", "owner keeps the old filter in the barn", func(e *Entry) *string { return &e.Note }),
		scalar("previous", "hash of the entry before, written by the program; leave it alone", strings.Repeat("0", 64), func(s string, e *Entry) error {
			if !hashForm.MatchString(s) {
				return fmt.Errorf("previous %q: want 64 of the letters 0-9 and a-f, as the program wrote it", s)
			}
			e.Previous = s
			return nil
		}),
	)
}

// chooses notes the section of an entry; it is read once the date is known.
func chooses(k kind) func(*reader, Value, any) bool {
	return func(r *reader, v Value, body any) bool {
		e := body.(*Entry)
		if e.Kind != "" {
			r.wrong(v, fmt.Sprintf("%q is a second section beside %q", k.name, e.Kind), "begin a new entry for it")
			return false
		}
		e.Kind, e.Section = k.id, v
		return true
	}
}

// Read reads a book and says everything that is wrong with it. Entries with
// findings are kept with what could be read of them; name stands in the
// findings. Anchors, aliases and tags of YAML are refused, as are files larger
// or deeper than any book, so that no input can take more than its own size.
func Read(name string, text []byte) (*Book, []Finding) {
	b := &Book{Path: name}
	top, found := scan(name, text)
	whole := len(found) == 0
	if top.Shape != List {
		if whole {
			found = append(found, *mistakeAt(name, max(top.Line, 1), "the book is no list of entries", "begin each entry with \"- entry: 1\""))
		}
		return b, found
	}
	for _, v := range top.List {
		e, f := readEntry(name, v)
		found = append(found, f...)
		b.Entries = append(b.Entries, e)
	}
	b.seal()
	found = b.standing(found)
	found = append(found, b.names()...)
	found = append(found, b.corrections()...)
	if whole {
		found = append(found, b.chain()...)
	}
	sortFindings(found)
	return b, found
}

func readEntry(name string, v Value) (Entry, []Finding) {
	e := Entry{Line: v.Line, End: lastLine(v), Written: v}
	if id, ok := v.Get("entry"); ok {
		e.ID = id.Text
	}
	r := &reader{file: name, entry: e.ID}
	r.section(v, headFields, &e)
	switch {
	case e.Kind != "":
		k, _ := kindOf(string(e.Kind))
		var p Present
		r.e = e
		k.read(r, e.Section, &p)
		e.Body = k.body(&p)
	case e.Corrects != "":
		e.Kind = WithdrawalKind
	case e.Note != "", len(e.Files) > 0:
		e.Kind = NoteKind
	case v.Shape == Map:
		r.wrong(v, "the entry says nothing", "write one of "+strings.Join(kindNames(), ", ")+", note")
	}
	return e, r.found
}

func lastLine(v Value) int {
	line := v.Line
	for _, p := range v.Pairs {
		line = max(line, p.Line, lastLine(p.Value))
	}
	for _, i := range v.List {
		line = max(line, lastLine(i))
	}
	return line
}

func (b *Book) at(e Entry, read, want string) Finding {
	return Finding{Place: water.Place{File: b.Path, Line: e.Line}, Entry: e.ID, Read: read, Want: want}
}

// names says which entries have a name that was used before.
func (b *Book) names() []Finding {
	var found []Finding
	first, free := map[string]int{}, b.next()
	for _, e := range b.Entries {
		if line := first[e.ID]; line != 0 && e.ID != "" {
			found = append(found, b.at(e, fmt.Sprintf("entry %s stands twice, first on line %d", e.ID, line), "the next free number is "+free))
			continue
		}
		first[e.ID] = e.Line
	}
	return found
}

// next is the lowest number above every entry that has a number for a name.
func (b *Book) next() string {
	high := 0
	for _, e := range b.Entries {
		if n, err := strconv.Atoi(e.ID); err == nil && n > high && n < 1e9 {
			high = n
		}
	}
	return strconv.Itoa(high + 1)
}

// standing leaves out the findings on figures of entries that were corrected.
func (b *Book) standing(found []Finding) []Finding {
	corrected := b.replaced(func(Entry) bool { return true })
	return slices.DeleteFunc(found, func(f Finding) bool { return f.TakeBack && corrected[f.Entry] })
}

// replaced names the entries that a later correction of some sort names.
func (b *Book) replaced(by func(Entry) bool) map[string]bool {
	names := map[string]bool{}
	for _, e := range b.Entries {
		if e.Corrects != "" && e.Corrects != e.ID && by(e) {
			names[e.Corrects] = true
		}
	}
	return names
}

// takesBack reports whether e takes an entry back and puts nothing in its place.
func takesBack(e Entry) bool { return e.Kind == WithdrawalKind }

// corrections says which corrections name no entry that stands before them. An
// entry may be taken back on a day before its own date, which was mistyped then:
// that it stands before in the file shows which was written first. A correction
// that replaces it takes its date over, and so must be as late.
func (b *Book) corrections() []Finding {
	var found []Finding
	before := map[string]time.Time{}
	for _, e := range b.Entries {
		on, ok := before[e.Corrects]
		switch {
		case e.Corrects == "":
		case !ok:
			found = append(found, b.at(e, fmt.Sprintf("correction of entry %q, which does not stand before it", e.Corrects), "name an entry that is already written"))
		case takesBack(e):
		case e.On.Before(on) && (e.Timed || e.On.Before(on.Truncate(24*time.Hour))):
			found = append(found, b.at(e, fmt.Sprintf("correction of %s is older than the entry %s it corrects, of %s", e.On.Format(time.DateOnly), e.Corrects, on.Format(time.DateOnly)), "date it by the day of correcting"))
		}
		before[e.ID] = e.On
	}
	return found
}
