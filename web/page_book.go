package web

import (
	"fmt"
	"net/http"
	"strings"
	"time"

	"wellwright/book"
)

// bookPage is the book of a well, entry by entry.
type bookPage struct {
	frame
	Stood   stood
	Hash    string // of the whole book
	Wrong   []bookFinding
	Notices []bookFinding
	Entries []bookEntry
	Kinds   []string // that are there, to look for
	Kind    string   // the one shown; "" for all
	First   string   // date of the first entry, as an input writes it
	AsOf    string   // the date chosen; "" for today
	Today   string
}

// bookEntry is one entry as it was written.
type bookEntry struct {
	ID, Kind, On, By, Note string
	Hash                   string // short
	Sealed                 bool   // a later entry carries its hash
	Later                  bool   // dated after the day that is looked at
	Corrects, Why          string
	CorrectedBy            string // the entry that corrects or withdraws it
	Withdrawn              bool
	Withdrawal             bool // takes another entry back
	Section                []pairRow
	Files                  []enclosure
	Found                  []bookFinding
	Correct, Withdraw      string // where to; "" if it cannot be
}

// bookFinding is something that is wrong with a book, or worth knowing.
type bookFinding struct {
	Entry, Mark, Say string
}

// pairRow is a key with what stands under it, as it was written.
type pairRow struct {
	Key   string
	Text  string
	Under []pairRow
}

// enclosure is a file that came with an entry.
type enclosure struct {
	Name, Path string // "" where the store does not hold it
	Hash, Size string
}

// showBook handles GET /wells/{well}/book. It stands on no answer: a book with
// mistakes is read here.
func (s *Server) showBook(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	kept, err := s.Store.Files(r.Context(), o.id)
	if err != nil {
		return fmt.Errorf("list the files: %w", err)
	}
	f := s.framed(r, o, "book", "Book")
	p := bookPage{frame: f, Stood: o.here(r).stoodOn(r, f.view), Hash: o.head, Kind: r.URL.Query().Get("kind"), AsOf: r.URL.Query().Get("as-of"), Today: s.today().Format(time.DateOnly)}
	p.Wrong, p.Notices = findingsOf(o.found, f.view)
	p.fill(o, kept)
	_, unsealed := findingsOf(o.book.Unsealed(), f.view) // each entry says so itself
	p.Notices = append(p.Notices, unsealed...)
	return s.render(w, r, "book.html", p)
}

// fill writes the entries, those of the kind asked for.
func (p *bookPage) fill(o opened, kept []book.File) {
	by := corrections(o.book)
	sealed := sealedUpTo(o.book)
	seen := map[string]bool{}
	for i, e := range o.book.Entries {
		if k := string(e.Kind); !seen[k] {
			seen[k] = true
			p.Kinds = append(p.Kinds, k)
		}
		if i == 0 || e.On.Format(time.DateOnly) < p.First {
			p.First = e.On.Format(time.DateOnly)
		}
		if p.Kind != "" && string(e.Kind) != p.Kind {
			continue
		}
		x := bookEntry{ID: e.ID, Kind: string(e.Kind), On: p.moment(e), By: e.By, Note: e.Note, Hash: shortHash(e.Hash), Sealed: i < sealed, Corrects: e.Corrects, Why: e.Why,
			Section: pairsOf(e.Section), Files: enclosuresOf(o.id, e, kept), Withdrawal: e.Kind == book.WithdrawalKind, Later: e.On.After(o.present.AsOf.Add(24*time.Hour - 1))}
		if c, ok := by[e.ID]; ok {
			x.CorrectedBy, x.Withdrawn = c.ID, c.Kind == book.WithdrawalKind
		} else if !x.Withdrawal {
			x.Correct, x.Withdraw = enterPath(o.id, e.Kind)+"?corrects="+e.ID, enterPath(o.id, book.WithdrawalKind)+"?corrects="+e.ID
		}
		for _, f := range append(p.Wrong, p.Notices...) {
			if f.Entry == e.ID && e.ID != "" {
				x.Found = append(x.Found, f)
			}
		}
		p.Entries = append(p.Entries, x)
	}
}

// moment is the date of an entry, with the hour if one was written.
func (p *bookPage) moment(e book.Entry) string {
	if e.Timed {
		return p.Date(e.On) + " " + e.On.Format("15:04")
	}
	return p.Date(e.On)
}

// corrections are the entries that correct or take back another, by that other.
func corrections(b *book.Book) map[string]book.Entry {
	by := map[string]book.Entry{}
	for _, e := range b.Entries {
		if e.Corrects != "" {
			by[e.Corrects] = e
		}
	}
	return by
}

// sealedUpTo is how many entries stand before the last one that carries a hash:
// a change of any of them shows.
func sealedUpTo(b *book.Book) int {
	for i := len(b.Entries) - 1; i > 0; i-- {
		if b.Entries[i].Previous != "" {
			return i
		}
	}
	return 0
}

func shortHash(h string) string {
	if len(h) > 12 {
		return h[:12]
	}
	return h
}

// findingsOf parts what is wrong with a book from what is worth knowing.
func findingsOf(found []book.Finding, v view) (wrong, notices []bookFinding) {
	for _, f := range found {
		say := f.Read
		if f.Want != "" {
			say += "; " + f.Want
		}
		x := bookFinding{f.Entry, f.Weight.String(), v.Prose(say)}
		if f.Weight == book.Mistake {
			wrong = append(wrong, x)
		} else {
			notices = append(notices, x)
		}
	}
	return wrong, notices
}

// pairsOf lists what stands under the keys of a value, in the order written.
func pairsOf(v book.Value) []pairRow {
	var rows []pairRow
	for _, p := range v.Pairs {
		rows = append(rows, pairOf(p.Key, p.Value))
	}
	for i, item := range v.List {
		rows = append(rows, pairOf(fmt.Sprint(i+1), item))
	}
	return rows
}

// pairOf is one key; a list of plain words is written in one line.
func pairOf(key string, v book.Value) pairRow {
	switch {
	case v.Shape == book.Text:
		return pairRow{Key: key, Text: v.Text}
	case v.Shape == book.List && plainList(v):
		words := make([]string, len(v.List))
		for i, item := range v.List {
			words[i] = item.Text
		}
		return pairRow{Key: key, Text: strings.Join(words, ", ")}
	}
	return pairRow{Key: key, Under: pairsOf(v)}
}

func plainList(v book.Value) bool {
	for _, item := range v.List {
		if item.Shape != book.Text {
			return false
		}
	}
	return true
}

// enclosuresOf are the files that an entry names; one that is not kept here has no
// path.
func enclosuresOf(id book.ID, e book.Entry, kept []book.File) []enclosure {
	var out []enclosure
	for _, f := range e.Enclosures() {
		x := enclosure{Name: f.Name, Hash: shortHash(f.SHA256)}
		for _, k := range kept {
			if k.Hash == f.SHA256 {
				x.Path, x.Size = "/wells/"+string(id)+"/files/"+k.Hash, size(k.Size)
				break
			}
		}
		if x.Name == "" {
			x.Name = x.Hash
		}
		out = append(out, x)
	}
	if rep := fileWithoutHash(e); rep != "" && len(out) == 0 {
		out = append(out, enclosure{Name: rep})
	}
	return out
}

// fileWithoutHash is a file that a report names without the hash of its content:
// it lies beside the book, and was never taken into the store.
func fileWithoutHash(e book.Entry) string {
	name, _ := e.Section.Get("file")
	return name.Text
}

// sendBook handles GET /wells/{well}/book.yaml: the book byte for byte.
func (s *Server) sendBook(w http.ResponseWriter, r *http.Request) error {
	id := book.ID(r.PathValue("well"))
	kept, err := s.Store.Text(r.Context(), id)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/yaml; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="book-`+asciiName(string(id))+`.yaml"`)
	_, err = w.Write(kept.Text)
	return err
}

// asciiName keeps of a name what any file system and header bears.
func asciiName(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' {
			return r
		}
		return '-'
	}, s)
}
