package web

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"wellwright/book"
	"wellwright/plan"
	"wellwright/unit"
)

// overrideForm is the form for an own value, as it was typed, with what is wrong.
type overrideForm struct {
	Head             string
	Name, Value, Why string
	By               string
	Known            *knownFactor // nil where the name is of no factor
	Wrong            map[string]string
	Whole            string // what is wrong with none of the fields
}

// knownFactor is what is known of the factor in the form.
type knownFactor struct{ What, Value, Unit, Range, Kind, From string }

// Errors lists what is wrong by field, in the order of the form.
func (f overrideForm) Errors() []fieldError {
	var out []fieldError
	for _, name := range []string{"name", "value", "why"} {
		if say := f.Wrong[name]; say != "" {
			out = append(out, fieldError{name, say})
		}
	}
	return out
}

// fieldError is what is wrong with a field.
type fieldError struct{ Field, Say string }

// know fills in what is known of the factor named.
func (f *overrideForm) know(v view) {
	x, ok := plan.Register().Find(f.Name)
	if !ok {
		return
	}
	f.Known = &knownFactor{x.What, v.marks(strings.TrimSpace(unit.Significant(x.Value, 5) + " " + x.Unit)), x.Unit, factorRange(x, v), x.Kind.String(), x.From}
}

// saveFactor handles POST /wells/{well}/factors: an own value is an entry of the
// book. Whatever is not saved comes back as it was typed.
func (s *Server) saveFactor(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	o, err := s.open(r)
	if err != nil {
		return err
	}
	get := func(name string) string { return strings.TrimSpace(r.PostForm.Get(name)) }
	f := overrideForm{Head: get("head"), Name: get("name"), Value: get("value"), Why: get("why"), By: get("by"), Wrong: map[string]string{}}
	f.check()
	if len(f.Wrong) > 0 {
		return s.renderFactors(w, r, http.StatusUnprocessableEntity, o, f)
	}
	e := book.NewEntry{On: s.today(), Kind: book.FactorKind, By: f.By, Section: book.Fields(book.Under("name", f.Name), book.Under("value", f.Value), book.Under("why", f.Why))}
	if _, err := s.Store.Append(r.Context(), o.id, f.Head, e, s.today()); err != nil {
		return s.factorNotSaved(w, r, f, err)
	}
	rememberWriter(w, f.By)
	http.Redirect(w, r, "/wells/"+string(o.id)+"/factors?"+url.Values{"q": {f.Name}}.Encode(), http.StatusSeeOther)
	return nil
}

// check looks at each field.
func (f *overrideForm) check() {
	if _, ok := plan.Register().Find(f.Name); !ok {
		f.Wrong["name"] = "There is no factor of this name. Look for it in the list below: “Replace” there fills it in."
	}
	text := strings.ReplaceAll(f.Value, " ", "")
	if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		text = strings.Replace(text, ",", ".", 1) // a decimal comma
	}
	if _, err := strconv.ParseFloat(text, 64); err != nil || !plainNumber.MatchString(text) {
		f.Wrong["value"] = "Write a number in the unit of the factor, without the unit."
	} else if len(f.Wrong) == 0 {
		f.Value = text
	}
	if len(f.Why) < 3 {
		f.Wrong["why"] = "Give the reason in words: it is printed beside the number."
	}
}

// factorNotSaved answers for an own value that the store did not take.
func (s *Server) factorNotSaved(w http.ResponseWriter, r *http.Request, f overrideForm, err error) error {
	var refused *book.RefusedError
	var overtaken *book.OvertakenError
	status := http.StatusUnprocessableEntity
	switch {
	case errors.As(err, &overtaken):
		f.Whole, status = overtaken.Error(), http.StatusConflict
	case errors.As(err, &refused):
		f.Whole = refused.Error()
	default:
		return err
	}
	o, err := s.open(r) // as it stands now
	if err != nil {
		return err
	}
	f.Head = o.head
	return s.renderFactors(w, r, status, o, f)
}

// ownEntries are the entries that hold an own value, by the factor's name.
func ownEntries(o opened) map[string]string {
	by := map[string]string{}
	for _, id := range o.present.Used {
		e, _ := o.book.Find(id)
		if f, ok := e.Body.(*book.Factor); ok && f != nil {
			by[f.Name] = e.ID
		}
	}
	return by
}

// withdrawPath is where an entry is taken back.
func withdrawPath(id book.ID, entry string) string {
	return enterPath(id, book.WithdrawalKind) + "?corrects=" + url.QueryEscape(entry)
}
