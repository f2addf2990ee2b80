package web

import (
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/plan"
	"wellwright/web/internal/warm"
)

// wellsPage is the list of wells.
type wellsPage struct {
	frame
	Empty bool // the store holds no well at all
	Query string
	Rows  []wellRow
}

// wellRow is a well in the list.
type wellRow struct {
	ID      book.ID
	Name    string
	Place   string
	Last    string
	Entries int
	Excerpt *excerpt // what a search found; nil in the plain list
	glance
}

// glance is what the list tells of a book beside its name.
type glance struct {
	Complaint string
	Due       []string
}

// excerpt is a place in a book.
type excerpt struct{ Entry, Text string }

// showWells handles GET /, with q a search.
func (s *Server) showWells(w http.ResponseWriter, r *http.Request) error {
	f := s.frame(r, "Wells")
	all, err := s.Store.Wells(r.Context())
	if err != nil {
		return fmt.Errorf("list wells: %w", err)
	}
	p := wellsPage{frame: f, Empty: len(all) == 0, Query: strings.TrimSpace(r.URL.Query().Get("q"))}
	if p.Query == "" {
		for _, x := range all {
			row, err := s.row(r, x, f.view)
			if err != nil {
				return err
			}
			p.Rows = append(p.Rows, row)
		}
		return s.render(w, r, "wells.html", p)
	}
	found, err := s.Store.Search(r.Context(), p.Query)
	if err != nil {
		return fmt.Errorf("search: %w", err)
	}
	for _, x := range found {
		row, err := s.row(r, x.Shelved, f.view)
		if err != nil {
			return err
		}
		row.Excerpt = &excerpt{x.Entry, x.Excerpt}
		p.Rows = append(p.Rows, row)
	}
	return s.render(w, r, "wells.html", p)
}

// row is a well in the list, with what it is about and what it waits for.
func (s *Server) row(r *http.Request, x book.Shelved, v view) (wellRow, error) {
	row := wellRow{ID: x.ID, Name: named(x.Name), Place: x.Place, Last: v.Date(x.Last), Entries: x.Entries}
	var err error
	row.glance, err = s.glances.of(warm.Key{Well: x.ID, Head: x.Head, On: s.today()}, func() (glance, error) {
		kept, err := s.Store.Text(r.Context(), x.ID)
		if err != nil {
			return glance{}, err
		}
		b, _ := book.Read(string(x.ID), kept.Text)
		return glanceAt(b, s.today()), nil
	})
	return row, err
}

// glanceAt reads a book for the list.
func glanceAt(b *book.Book, on time.Time) glance {
	p := b.Present(on)
	var g glance
	if p.Call != nil {
		g.Complaint = p.Call.Complaint
	}
	for _, d := range plan.DueOn(p, lastCall(b)) {
		g.Due = append(g.Due, d.Say)
	}
	return g
}

// lastCall is the day of the latest call in a book.
func lastCall(b *book.Book) time.Time {
	var last time.Time
	for _, e := range b.Entries {
		if e.Kind == book.CallKind && e.On.After(last) {
			last = e.On
		}
	}
	return last
}

// addDemonstration handles POST /demonstration: the bundled wells, each as a new
// one unless it is there.
func (s *Server) addDemonstration(w http.ResponseWriter, r *http.Request) error {
	wells, err := demo.Wells()
	if err != nil {
		return err
	}
	for _, x := range wells {
		var there *book.ThereError
		if _, err := s.Store.Add(r.Context(), x.Text, s.today()); err != nil && !errors.As(err, &there) {
			return fmt.Errorf("add %s: %w", x.Name, err)
		}
	}
	http.Redirect(w, r, "/", http.StatusSeeOther)
	return nil
}
