package book

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"
)

// NewEntry is an entry to be added. Its section is written as it stands: what
// a person or a laboratory wrote stays in their figures and units.
type NewEntry struct {
	ID       string    // "": the next free number
	On       time.Time // with a time of day if it is not midnight
	Kind     Kind
	By       string
	Note     string
	Corrects string // the entry this one replaces
	Why      string // why that entry was wrong
	Section  Value  // not for a note or a withdrawal
	Files    []Enclosed
}

// Append adds an entry at the end of a book and returns the new text, in which
// every byte of the old stands, and the entry as read back. The entry carries
// the hash of the one before it; entries written by hand without a hash are
// sealed by this, for the chain runs through them. The new entry must read
// back without a mistake.
func Append(text []byte, e NewEntry) ([]byte, Entry, error) {
	old, found := Read("book", text)
	if _, broken := scan("book", text); len(broken) > 0 {
		return nil, Entry{}, fmt.Errorf("append: the book cannot be read: %w", found[0])
	}
	if e.ID == "" {
		e.ID = old.next()
	}
	end := "\n"
	if bytes.Contains(text, []byte("\r\n")) {
		end = "\r\n"
	}
	var b strings.Builder
	b.Write(text)
	if len(text) > 0 && text[len(text)-1] != '\n' {
		b.WriteString(end)
	}
	line := strings.Count(b.String(), "\n") + 1
	b.WriteString(strings.ReplaceAll(e.yaml(old.Hash()), "\n", end))
	fresh, found := Read("book", []byte(b.String()))
	wrong := slices.DeleteFunc(found, func(f Finding) bool { return f.Place.Line < line })
	if len(wrong) > 0 {
		wrong, _ = unplaced(wrong, Entry{Line: line})
		return nil, Entry{}, &RefusedError{Findings: wrong, Entry: true}
	}
	if b.Len() > maxBytes {
		return nil, Entry{}, &RefusedError{Findings: []Finding{{Read: fmt.Sprintf("the book would have %d bytes", b.Len()), Want: fmt.Sprintf("a book has at most %d: begin a second one", maxBytes)}}, Entry: true}
	}
	if len(fresh.Entries) != len(old.Entries)+1 {
		return nil, Entry{}, errors.New("append: the entries of the book must begin with \"- \" at the left edge")
	}
	return []byte(b.String()), fresh.Entries[len(fresh.Entries)-1], nil
}

// yaml writes the entry as it is added to a file.
func (e NewEntry) yaml(previous string) string {
	all := e.value()
	if previous != "" {
		all.Pairs = append(all.Pairs, Under("previous", previous))
	}
	var b strings.Builder
	b.WriteByte('\n')
	writeYAML(&b, Items(all), 0)
	return b.String()
}

func (e NewEntry) value() Value {
	on := e.On.Format(time.DateOnly)
	if !e.On.Equal(e.On.Truncate(24 * time.Hour)) {
		on = e.On.Format("2006-01-02 15:04")
	}
	v := Fields(Under("entry", e.ID), Under("date", on))
	if e.By != "" {
		v.Pairs = append(v.Pairs, Under("by", e.By))
	}
	if e.Corrects != "" {
		v.Pairs = append(v.Pairs, Pair{Key: "correction", Value: Fields(Under("of", e.Corrects), Under("why", e.Why))})
	}
	if e.Kind != NoteKind && e.Kind != WithdrawalKind && e.Kind != "" {
		v.Pairs = append(v.Pairs, Pair{Key: string(e.Kind), Value: e.Section})
	}
	if len(e.Files) > 0 {
		v.Pairs = append(v.Pairs, Pair{Key: "files", Value: enclosed(e.Files)})
	}
	if e.Note != "" {
		v.Pairs = append(v.Pairs, Under("note", e.Note))
	}
	return v
}

// writeYAML writes a value as block YAML, indented by in blanks.
func writeYAML(b *strings.Builder, v Value, in int) {
	pad := strings.Repeat(" ", in)
	switch v.Shape {
	case List:
		for _, item := range v.List {
			b.WriteString(pad + "- ")
			if item.Shape == Text || empty(item) {
				b.WriteString(inline(item) + "\n")
				continue
			}
			var under strings.Builder
			writeYAML(&under, item, in+2)
			b.WriteString(strings.TrimLeft(under.String(), " "))
		}
	case Map:
		for _, p := range v.Pairs {
			b.WriteString(pad + plainOrQuoted(p.Key) + ":")
			if p.Value.Shape == Text || empty(p.Value) {
				b.WriteString(" " + inline(p.Value) + "\n")
				continue
			}
			b.WriteByte('\n')
			writeYAML(b, p.Value, in+2)
		}
	default:
		b.WriteString(pad + inline(v) + "\n")
	}
}

func empty(v Value) bool {
	return v.Shape == List && len(v.List) == 0 || v.Shape == Map && len(v.Pairs) == 0
}

func inline(v Value) string {
	switch v.Shape {
	case List:
		return "[]"
	case Map:
		return "{}"
	}
	return plainOrQuoted(v.Text)
}

var (
	plainForm = regexp.MustCompile(`^[A-Za-z0-9<$][A-Za-z0-9 .,/()%+<=$_'-]*$`)
	// reserved words would not come back as the text they were.
	reserved = regexp.MustCompile(`(?i)^(null|nil|~)$`)
)

// plainOrQuoted writes a text plainly where YAML reads it back as it is, else
// in double quotes.
func plainOrQuoted(s string) string {
	if plainForm.MatchString(s) && !reserved.MatchString(s) && !strings.HasSuffix(s, " ") && !hashForm.MatchString(s) {
		return s
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range s {
		switch c {
		case '"', '\\':
			b.WriteByte('\\')
			b.WriteRune(c)
		case '\n':
			b.WriteString(`\n`)
		case '\t':
			b.WriteString(`\t`)
		case '\r':
			b.WriteString(`\r`)
		default:
			b.WriteRune(c)
		}
	}
	b.WriteByte('"')
	return b.String()
}
