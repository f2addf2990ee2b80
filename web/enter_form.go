package web

import (
	"net/http"
	"net/url"
	"strings"

	"wellwright/book"
	"wellwright/web/internal/form"
)

// entryPage is the form of one entry.
type entryPage struct {
	frame
	Kind       string // as it stands in the path
	Action     string
	Draft      string // where the draft in the browser is kept: the page it was begun on
	Say        string // what the entry is for
	Head       string // hash of the last entry when the form was opened
	Date       form.Field
	Clock      string
	By, Note   form.Field
	Why        form.Field
	Correcting *entryRow // the entry that this one corrects or takes back
	Withdraws  bool
	Fields     []form.Field
	Jumps      []form.Field // the groups of a long form
	Mistakes   []form.Mistake
	Overtaken  []overtaking
	Files      []heldFile
	FileWrong  []string
	Analytes   []string
}

// filled is a form as it was sent.
type filled struct {
	kind      book.Kind
	head      string
	draft     string
	typed     form.Typed
	more      string // the list that another item is wanted of
	files     []heldFile
	fileWrong []string
	wrong     map[string][]string
	overtaken []overtaking
}

// showEntry handles GET /wells/{well}/enter/{kind}: an empty form, or with
// corrects that of an entry as it stands.
func (s *Server) showEntry(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	f := filled{head: o.head, draft: r.URL.RequestURI()}
	if f.kind, err = kindOf(r.PathValue("kind")); err != nil {
		return err
	}
	now, q := s.Now(), r.URL.Query()
	f.typed = form.Typed{}
	if id := q.Get("corrects"); id != "" {
		e, err := correctable(o, f.kind, id)
		if err != nil {
			return err
		}
		if f.kind != book.WithdrawalKind {
			f.typed = form.Fill(e)
		}
		f.typed[form.Corrects] = id
	} else if f.kind == book.WithdrawalKind {
		return bad("name the entry that is to be taken back")
	}
	if tap := q.Get("tap"); tap != "" && f.typed[string(f.kind)+"/tap"] == "" {
		f.typed[string(f.kind)+"/tap"] = tap
	}
	f.typed[form.Date], f.typed[form.Time], f.typed[form.By] = now.Format("2006-01-02"), now.Format("15:04"), writerOf(r)
	return s.renderEntry(w, r, http.StatusOK, o, f)
}

// correctable finds the entry that is to be corrected, or taken back.
func correctable(o opened, kind book.Kind, id string) (book.Entry, error) {
	e, ok := o.book.Find(id)
	switch {
	case !ok:
		return e, missing("there is no entry " + id + " in this book")
	case !stands(o.book, e):
		return e, bad("entry " + id + " was corrected or taken back already: correct the one that replaced it")
	case kind != book.WithdrawalKind && e.Kind != kind:
		return e, bad("entry " + id + " is of another kind: " + string(e.Kind))
	}
	return e, nil
}

// renderEntry writes the form with all that was typed into it.
func (s *Server) renderEntry(w http.ResponseWriter, r *http.Request, status int, o opened, f filled) error {
	p := entryPage{frame: s.framed(r, o, "enter", titleOf(f.kind)), Kind: slug(f.kind), Action: r.URL.Path, Draft: f.draft, Head: f.head, Clock: f.typed[form.Time],
		Withdraws: f.kind == book.WithdrawalKind, Overtaken: f.overtaken, Files: f.files, FileWrong: f.fileWrong, Analytes: form.Analytes()}
	head := func(path, label string) form.Field {
		return form.Field{Path: path, Label: label, Widget: form.Line, Value: f.typed[path], Wrong: f.wrong[path]}
	}
	p.Date, p.By, p.Note, p.Why = head(form.Date, "Date"), head(form.By, "By"), head(form.Note, "Note"), head(form.Why, "Why")
	ask := form.Ask{Kind: f.kind, Typed: f.typed, System: p.System, Wrong: f.wrong}
	if id := f.typed[form.Corrects]; id != "" {
		p.Action += "?corrects=" + url.QueryEscape(id)
		p.Correcting = correctingRow(o, id, p.view)
	} else {
		ask.Known = known(o)
	}
	p.Fields = form.Fields(ask)
	p.Jumps = jumps(p.Fields)
	p.Mistakes = form.Mistakes(p.Fields, f.wrong)
	if key, ok := book.KeyOf(f.kind); ok {
		p.Say = key.What
	}
	return s.renderStatus(w, r, status, "enter_form.html", p)
}

// jumps are the groups of a form with several.
func jumps(fields []form.Field) []form.Field {
	var out []form.Field
	for _, f := range fields {
		if f.Widget == form.Group {
			out = append(out, f)
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

func correctingRow(o opened, id string, v view) *entryRow {
	e, ok := o.book.Find(id)
	if !ok {
		return nil
	}
	return &entryRow{ID: e.ID, On: v.Date(e.On), By: e.By, Says: string(e.Kind) + ": " + saysOf(e)}
}

// titleOf is the title of the form of a kind.
func titleOf(k book.Kind) string {
	if k == book.WithdrawalKind {
		return "Take an entry back"
	}
	for _, p := range visitParts {
		if p.kind == k {
			return p.title
		}
	}
	return strings.ToUpper(string(k[:1])) + string(k[1:])
}

// known is what the book says already, by the path of the key, with the entry that
// said it.
func known(o opened) map[string]string {
	out := map[string]string{}
	for path, id := range o.present.From {
		e, ok := o.book.Find(id)
		if !ok {
			continue
		}
		v := e.Written
		for key := range strings.SplitSeq(path, "/") {
			v, _ = v.Get(key)
		}
		if v.Shape == book.Text && v.Text != "" {
			out[path] = v.Text + " (entry " + id + ")"
		}
	}
	for _, x := range o.present.Signs {
		say := "seen"
		if !x.Seen {
			say = "not there"
		}
		if x.ID != "" {
			out[form.SignPath(x.ID)] = say + " (entry " + x.Entry + ")"
		}
	}
	return out
}

// writerCookie names the cookie with who wrote last on this machine.
const writerCookie = "by"

// writerOf is who wrote last on this machine.
func writerOf(r *http.Request) string {
	c, err := r.Cookie(writerCookie)
	if err != nil {
		return ""
	}
	by, err := url.QueryUnescape(c.Value)
	if err != nil {
		return ""
	}
	return by
}

// rememberWriter keeps who wrote for the next form.
func rememberWriter(w http.ResponseWriter, by string) {
	const longest = 200
	if by == "" || len(by) > longest {
		return
	}
	http.SetCookie(w, &http.Cookie{Name: writerCookie, Value: url.QueryEscape(by), Path: "/", MaxAge: 365 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteStrictMode})
}
