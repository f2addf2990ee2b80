package web

import (
	"fmt"
	"net/http"
	"strings"

	"wellwright/book"
	"wellwright/demo"
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
	Due     []string
	Excerpt *excerpt // what a search found; nil in the plain list
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
			p.Rows = append(p.Rows, rowOf(x, f.view))
		}
		return s.render(w, r, "wells.html", p)
	}
	found, err := s.Store.Search(r.Context(), p.Query)
	if err != nil {
		return fmt.Errorf("search: %w", err)
	}
	for _, x := range found {
		row := rowOf(x.Shelved, f.view)
		row.Excerpt = &excerpt{x.Entry, x.Excerpt}
		p.Rows = append(p.Rows, row)
	}
	return s.render(w, r, "wells.html", p)
}

func rowOf(x book.Shelved, v view) wellRow {
	name := x.Name
	if name == "" {
		name = "Well without a name"
	}
	return wellRow{ID: x.ID, Name: name, Place: x.Place, Last: v.Date(x.Last), Entries: x.Entries}
}

// addDemonstration handles POST /demonstration: the bundled wells, each as a new
// one.
func (s *Server) addDemonstration(w http.ResponseWriter, r *http.Request) error {
	wells, err := demo.Wells()
	if err != nil {
		return err
	}
	for _, x := range wells {
		if _, err := s.Store.Add(r.Context(), x.Text, s.today()); err != nil {
			return fmt.Errorf("add %s: %w", x.Name, err)
		}
	}
	http.Redirect(w, r, "/", http.StatusSeeOther)
	return nil
}
