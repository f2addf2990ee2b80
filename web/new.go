package web

import (
	"errors"
	"fmt"
	"net/http"
	"slices"

	"wellwright/book"
	"wellwright/web/internal/form"
)

// newPage is the form that begins a well: its name, its units, and the first call.
type newPage struct {
	frame
	Units    string // chosen for the well: us or metric
	Date     form.Field
	Clock    string
	By       form.Field
	Fields   []form.Field
	Mistakes []form.Mistake
}

// beginnings are the kinds of entry that a well begins with, and the keys asked for
// of each; none named: all of them.
var beginnings = []struct {
	kind book.Kind
	keys []string
}{
	{book.WellKind, []string{"well/name", "well/place"}},
	{book.WishesKind, []string{"wishes/jurisdiction"}},
	{book.CallKind, nil},
}

// inputUnits names the input with the units of the well.
const inputUnits = "units"

// showNew handles GET /new.
func (s *Server) showNew(w http.ResponseWriter, r *http.Request) error {
	now := s.Now()
	return s.renderNew(w, r, http.StatusOK, form.Typed{form.Date: now.Format("2006-01-02"), form.Time: now.Format("15:04"), form.By: writerOf(r)}, nil)
}

func (s *Server) renderNew(w http.ResponseWriter, r *http.Request, status int, t form.Typed, wrong map[string][]string) error {
	p := newPage{frame: s.frame(r, "Begin a well"), Units: oneOf(t[inputUnits], "us", "metric"), Clock: t[form.Time],
		Date: form.Field{Path: form.Date, Label: "Date", Value: t[form.Date], Wrong: wrong[form.Date]}, By: form.Field{Path: form.By, Label: "By", Value: t[form.By], Wrong: wrong[form.By]}}
	if p.Units == "" {
		p.Units = unitsOf(p.view)
	}
	for _, b := range beginnings {
		for _, f := range form.Fields(form.Ask{Kind: b.kind, Typed: t, System: p.System, Wrong: wrong}) {
			if b.keys == nil || slices.Contains(b.keys, f.Path) {
				p.Fields = append(p.Fields, f)
			}
		}
	}
	p.Mistakes = form.Mistakes(p.Fields, wrong)
	return s.renderStatus(w, r, status, "new.html", p)
}

// unitsOf is the word for the units of a view.
func unitsOf(v view) string {
	if v.Metric() {
		return "metric"
	}
	return "us"
}

// beginWell handles POST /new: the well is added with its first entries, or the
// form comes back as it was typed.
func (s *Server) beginWell(w http.ResponseWriter, r *http.Request) error {
	f, err := s.readFilled(r)
	if err != nil {
		return err
	}
	text, wrong := begun(f.typed, viewOf(r, book.Present{}))
	if len(wrong) > 0 {
		return s.renderNew(w, r, http.StatusUnprocessableEntity, f.typed, wrong)
	}
	id, err := s.Store.Add(r.Context(), text, s.today())
	var refused *book.RefusedError
	var there *book.ThereError
	switch {
	case errors.As(err, &there): // the answer to the first sending was lost
		id = there.Well
	case errors.As(err, &refused):
		say := make([]string, len(refused.Findings))
		for i, x := range refused.Findings {
			x.Place.File, x.Place.Line = "", 0
			say[i] = x.Error()
		}
		return s.renderNew(w, r, http.StatusUnprocessableEntity, f.typed, map[string][]string{form.Date: say})
	case err != nil:
		return fmt.Errorf("begin a well: %w", err)
	}
	rememberWriter(w, f.typed[form.By])
	rememberUnits(w, id, oneOf(f.typed[inputUnits], "us", "metric"))
	http.Redirect(w, r, "/wells/"+string(id)+"/enter?saved=1", http.StatusSeeOther)
	return nil
}

// begun is the text of the book that a well begins with, or what is wrong beside
// which input.
func begun(t form.Typed, v view) ([]byte, map[string][]string) {
	var text []byte
	wrong := map[string][]string{}
	if t["well/name"] == "" {
		wrong["well/name"] = []string{"the well has no name; write what you will look for it by, such as Alder Lane"}
	}
	for _, b := range beginnings {
		taken := form.Take(b.kind, t, v.System)
		if len(taken.Entry.Section.Pairs) == 0 && !taken.Entry.On.IsZero() {
			continue // nothing known, nothing written
		}
		found := taken.Found()
		if len(found) == 0 {
			longer, _, err := book.Append(text, taken.Entry)
			if err == nil {
				text = longer
				continue
			}
			found = []book.Placed{{Finding: book.Finding{Read: err.Error()}}}
		}
		for path, say := range taken.Beside(found) {
			for _, x := range say {
				if !slices.Contains(wrong[path], x) { // one date stands in all of them
					wrong[path] = append(wrong[path], x)
				}
			}
		}
	}
	return text, wrong
}
