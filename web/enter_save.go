package web

import (
	"bytes"
	"errors"
	"net/http"
	"net/url"
	"strings"

	"wellwright/book"
	"wellwright/web/internal/form"
)

// overtaking is an entry that was added while a form was open.
type overtaking struct {
	ID, On, By, Kind string
	Facts            []overlap
}

// overlap is one thing that such an entry says, beside what was typed.
type overlap struct{ Key, Theirs, Ours string }

// saveEntry handles POST /wells/{well}/enter/{kind}. Whatever is not saved comes
// back as it was typed.
func (s *Server) saveEntry(w http.ResponseWriter, r *http.Request) error {
	f, err := s.readFilled(r)
	if err != nil {
		return err
	}
	o, err := s.open(r)
	if err != nil {
		return err
	}
	f.kind, err = kindOf(r.PathValue("kind"))
	if err != nil {
		return err
	}
	if f.more != "" {
		for range f.room() {
			f.typed.More(f.more, leastItems(f))
		}
		return s.renderEntry(w, r, http.StatusOK, o, f)
	}
	f.nameReport()
	taken := form.Take(f.kind, f.typed, s.framed(r, o, "", "").System)
	found := append(taken.Found(), emptyNote(f, taken)...)
	if len(found) > 0 || len(f.fileWrong) > 0 {
		f.wrong = taken.Beside(found)
		return s.renderEntry(w, r, http.StatusUnprocessableEntity, o, f)
	}
	added, err := s.Store.Append(r.Context(), o.id, f.head, taken.Entry, s.today(), contents(f.files)...)
	if err != nil {
		return s.notSaved(w, r, o, f, taken, err)
	}
	s.letGo(f.files)
	rememberWriter(w, taken.Entry.By)
	return s.savedAs(w, r, o.id, added.ID)
}

// nameReport names the received report in the section of a laboratory report that
// was typed off it.
func (f *filled) nameReport() {
	const in = string(book.LaboratoryKind) + "/"
	if f.kind == book.LaboratoryKind && len(f.files) > 0 && f.typed[in+"sha256"] == "" {
		f.typed[in+"file"], f.typed[in+"sha256"] = f.files[0].Name, f.files[0].file.Hash
	}
}

// savedAs goes back to the list, which names the entries added.
func (s *Server) savedAs(w http.ResponseWriter, r *http.Request, id book.ID, entries ...string) error {
	http.Redirect(w, r, "/wells/"+string(id)+"/enter?"+url.Values{"saved": entries}.Encode(), http.StatusSeeOther)
	return nil
}

// leastItems is how many items a list shows before the one that is wanted.
func leastItems(f filled) int {
	if strings.HasSuffix(f.more, "/results") {
		return form.FigureRows(f.kind)
	}
	return 1
}

// room is how many items more there is room for after one press: a printed report
// has many figures.
func (f filled) room() int {
	const lines = 4
	if f.more == "show" { // room for what is typed already
		return 0
	}
	if f.kind == book.LaboratoryKind && strings.HasSuffix(f.more, "/results") {
		return lines
	}
	return 1
}

// emptyNote says that a note has neither words nor files.
func emptyNote(f filled, t form.Taken) []book.Placed {
	if f.kind != book.NoteKind || t.Entry.Note != "" || len(f.files) > 0 {
		return nil
	}
	return []book.Placed{{Path: form.Note, Finding: book.Finding{Read: "neither a word nor a file", Want: "write something, or choose a photograph"}}}
}

// notSaved answers for an entry that the store did not take.
func (s *Server) notSaved(w http.ResponseWriter, r *http.Request, o opened, f filled, t form.Taken, err error) error {
	var refused *book.RefusedError
	var overtaken *book.OvertakenError
	switch {
	case errors.As(err, &overtaken):
		if o, err = s.open(r); err != nil { // as it stands now
			return err
		}
		if id := twin(o, f.head, t.Entry, f.files); id != "" { // the answer to the first sending was lost
			s.letGo(f.files)
			return s.savedAs(w, r, o.id, id)
		}
		f.overtaken, f.head = overtakings(o, f.head, t.Entry, s.framed(r, o, "", "").view), o.head
		return s.renderEntry(w, r, http.StatusConflict, o, f)
	case errors.As(err, &refused) && refused.Entry:
		placed := make([]book.Placed, len(refused.Findings))
		for i, x := range refused.Findings {
			placed[i] = book.Placed{Finding: x}
		}
		f.wrong = t.Beside(placed)
		return s.renderEntry(w, r, http.StatusUnprocessableEntity, o, f)
	case errors.As(err, &refused):
		f.wrong = map[string][]string{"": {"the book has a mistake that must be put right first; nothing was saved: " + refused.Error()}}
		return s.renderEntry(w, r, http.StatusConflict, o, f)
	}
	return err
}

// since are the entries that were added after the one with a hash; the last one if
// no entry has it.
func since(b *book.Book, head string) []book.Entry {
	for i, e := range b.Entries {
		if e.Hash == head {
			return b.Entries[i+1:]
		}
	}
	return b.Entries[max(0, len(b.Entries)-1):]
}

// overtakings tell what was added since a form was opened, with what it typed for
// the same keys.
func overtakings(o opened, head string, ours book.NewEntry, v view) []overtaking {
	typed := map[string]string{}
	for _, f := range facts(ours.Section, "") {
		typed[f.Path] = f.Text
	}
	var out []overtaking
	for _, e := range since(o.book, head) {
		x := overtaking{ID: e.ID, On: v.Date(e.On), By: e.By, Kind: string(e.Kind)}
		for _, f := range facts(e.Section, "") {
			one := overlap{Key: strings.ReplaceAll(f.Path, "/", ": "), Theirs: f.Text}
			if e.Kind == ours.Kind {
				one.Ours = typed[f.Path]
			}
			x.Facts = append(x.Facts, one)
		}
		if e.Note != "" {
			x.Facts = append(x.Facts, overlap{Key: "note", Theirs: e.Note})
		}
		out = append(out, x)
	}
	return out
}

// twin is an entry added since, that says the very same as the one to be added.
func twin(o opened, head string, ours book.NewEntry, files []heldFile) string {
	want, err := ours.Section.MarshalJSON()
	if err != nil {
		return ""
	}
	for _, e := range since(o.book, head) {
		got, err := e.Section.MarshalJSON()
		same := e.Kind == ours.Kind && e.On.Equal(ours.On) && e.By == ours.By && e.Note == ours.Note && e.Corrects == ours.Corrects && e.Why == ours.Why
		if err == nil && same && bytes.Equal(got, want) && len(e.Files) == len(files) {
			return e.ID
		}
	}
	return ""
}

// inMemory is how much of a request with files is kept in memory while it is read;
// the rest goes to files that are taken away after it.
const inMemory = 8 << 20

// parseForm reads the inputs of a form, with files or without.
func parseForm(r *http.Request) error {
	err := r.ParseForm()
	if takesFiles(r) {
		err = r.ParseMultipartForm(inMemory)
	}
	var large *http.MaxBytesError
	if err == nil || errors.As(err, &large) {
		return err
	}
	return bad("the form could not be read: send it again")
}

// readFilled reads a form as it was sent, and holds its files.
func (s *Server) readFilled(r *http.Request) (filled, error) {
	err := parseForm(r)
	if r.MultipartForm != nil {
		defer func() { _ = r.MultipartForm.RemoveAll() }() // what stays is swept with the machine's temporary files
	}
	if err != nil {
		return filled{}, err
	}
	f := filled{head: r.PostForm.Get("head"), draft: r.PostForm.Get("draft"), more: r.PostForm.Get("more"), typed: form.Typed{}}
	for name, values := range r.PostForm {
		switch name {
		case "head", "more", "kept", "drop", "draft":
		default:
			f.typed[name] = values[0]
		}
	}
	f.files, f.fileWrong = s.heldFiles(r, "files")
	return f, nil
}

// stoodPage is the notice that a book has grown since a page was opened.
type stoodPage struct{ Added []overtaking }

// showStood handles GET /wells/{well}/enter/stood?head=: what was added since.
func (s *Server) showStood(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	var p stoodPage
	if head := r.URL.Query().Get("head"); head != o.head {
		p.Added = overtakings(o, head, book.NewEntry{}, s.framed(r, o, "", "").view)
	}
	return s.renderPart(w, "enter_form.html", "grown", p)
}
