package web

import (
	"context"
	"net/http"
	"strings"
	"time"

	"wellwright/book"
	"wellwright/plan"
	"wellwright/web/internal/warm"
)

// opened is a well as a page works on it.
type opened struct {
	id      book.ID
	head    string
	book    *book.Book
	found   []book.Finding // what is wrong or worth knowing of the book
	present book.Present
}

// name is the name of the well, or that it has none.
func (w opened) name() string { return named(w.present.Name) }

func named(name string) string {
	if n := strings.TrimSpace(name); n != "" {
		return n
	}
	return "Well without a name"
}

// open reads the well that a path names, as it stood on a date (as-of in the
// query), or today.
func (s *Server) open(r *http.Request) (opened, error) {
	id := book.ID(r.PathValue("well"))
	on := s.today()
	if d := r.URL.Query().Get("as-of"); d != "" {
		day, err := time.Parse(time.DateOnly, d)
		if err != nil {
			return opened{}, bad("as-of " + d + ": write a date as 2025-05-31")
		}
		on = day
	}
	row, err := s.Store.Well(r.Context(), id)
	if err != nil {
		return opened{}, err
	}
	return s.opened.of(openedKey{warm.Key{Well: id, Head: row.Head, On: on}, s.today()}, func() (opened, error) {
		kept, err := s.Store.Text(context.WithoutCancel(r.Context()), id)
		if err != nil {
			return opened{}, err
		}
		b, found := book.Read(string(id), kept.Text)
		found = append(found, b.Check(s.today())...)
		found = append(found, b.CheckFactors(plan.Register())...)
		return opened{id, kept.Head, b, found, b.Present(on)}, nil
	})
}

// openedKey is what a well as it is opened depends on: what is a date to come is
// one only today.
type openedKey struct {
	warm.Key
	today time.Time
}

// key is what an answer on the well depends on: what-ifs kept in the book, and
// their withdrawals, change none.
func (w opened) key() warm.Key {
	head, variants := w.head, map[string]bool{}
	for _, e := range w.book.Entries {
		if e.Kind == book.VariantKind || variants[e.Corrects] {
			variants[e.ID] = true
			continue
		}
		head = e.Hash
	}
	return warm.Key{Well: w.id, Head: head, On: w.present.AsOf}
}
