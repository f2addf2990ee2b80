package web

import (
	"errors"
	"net/http"
	"net/url"
	"strings"

	"wellwright/book"
)

// longestVariant bounds the name of a variant.
const longestVariant = 80

// keepVariant handles POST /wells/{well}/what-if/keep: the question as an entry of
// the book, by name.
func (s *Server) keepVariant(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return bad("the form could not be read")
	}
	x, ok, err := s.whatif(w, r)
	if !ok {
		return err
	}
	asked, err := url.ParseQuery(r.PostForm.Get("query"))
	if err != nil {
		return bad("the question could not be read")
	}
	x.ask(asked)
	form := keepForm{Name: strings.TrimSpace(r.PostForm.Get("name")), Note: strings.TrimSpace(r.PostForm.Get("note"))}
	if form.Wrong = x.unkeepable(form); form.Wrong == "" {
		_, err = s.Store.Append(r.Context(), x.id, r.PostForm.Get("head"), x.entry(form, s), s.today())
		form.Wrong, err = notKept(err)
	}
	if err != nil {
		return err
	}
	if form.Wrong == "" {
		http.Redirect(w, r, x.path(x.query)+"#kept", http.StatusSeeOther)
		return nil
	}
	return s.showUnkept(w, r, x, form)
}

// unkeepable says why a question cannot be kept; "" if it can.
func (x whatif) unkeepable(f keepForm) string {
	switch {
	case f.Name == "":
		return "give it a name"
	case len(f.Name) > longestVariant:
		return "a shorter name, please: up to 80 letters"
	case len(x.wrong) > 0:
		return "first put right what cannot be asked"
	case x.plain():
		return "nothing differs from the book yet"
	}
	return ""
}

// entry is the question as an entry of the book.
func (x whatif) entry(f keepForm, s *Server) book.NewEntry {
	v := x.asked.Variant
	v.Name, v.Note = f.Name, f.Note
	if x.asked.anew {
		v.Train, v.Sizes = nil, nil
	}
	return book.NewEntry{On: s.today(), Kind: book.VariantKind, Section: v.Value()}
}

// notKept words a refusal of the store; any other error stays one.
func notKept(err error) (string, error) {
	var overtaken *book.OvertakenError
	var refused *book.RefusedError
	if errors.As(err, &overtaken) || errors.As(err, &refused) {
		return err.Error(), nil
	}
	return "", err
}

// showUnkept shows the page again with what was typed and what was wrong.
func (s *Server) showUnkept(w http.ResponseWriter, r *http.Request, x whatif, form keepForm) error {
	f, err := s.follow(r, x)
	if err != nil {
		return err
	}
	p := s.whatifPage(r, x, f)
	form.Query = p.Keep.Query
	p.Keep = form
	return s.renderStatus(w, r, http.StatusUnprocessableEntity, "whatif.html", p)
}

// withdrawVariant handles POST /wells/{well}/what-if/withdraw: a kept variant taken
// back by a later entry.
func (s *Server) withdrawVariant(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return bad("the form could not be read")
	}
	o, err := s.open(r)
	if err != nil {
		return err
	}
	entry := r.PostForm.Get("entry")
	e, ok := o.book.Find(entry)
	if !ok || e.Kind != book.VariantKind {
		return missing("there is no variant of entry " + entry)
	}
	back := book.NewEntry{On: s.today(), Kind: book.WithdrawalKind, Corrects: entry, Why: "variant withdrawn"}
	if _, err := s.Store.Append(r.Context(), o.id, r.PostForm.Get("head"), back, s.today()); err != nil {
		say, err := notKept(err)
		if err != nil {
			return err
		}
		return &refusal{http.StatusConflict, say}
	}
	http.Redirect(w, r, pathTo(o.id, "/what-if", nil)+"#kept", http.StatusSeeOther)
	return nil
}
