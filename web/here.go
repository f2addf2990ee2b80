package web

import (
	"net/http"
	"net/url"
	"strings"
	"time"
)

// here is a well on a page that keeps the date it is looked at in its links.
type here struct {
	opened
	asOf string // as the query has it; "" for today
}

func (o opened) here(r *http.Request) here { return here{o, r.URL.Query().Get("as-of")} }

// path is a page of the well with a query.
func (h here) path(page string, q url.Values) string {
	if h.asOf != "" {
		if q == nil {
			q = url.Values{}
		}
		q.Set("as-of", h.asOf)
	}
	at := "/wells/" + string(h.id) + page
	if len(q) == 0 {
		return at
	}
	return at + "?" + q.Encode()
}

// stood is the day that a page is reprinted as of, and the way back to today.
type stood struct {
	On    string // "" for today
	Today string // the path without the date
	Used  int    // entries that stood then
	All   int
}

// stoodOn says on which day a page stands, where that is not today.
func (h here) stoodOn(r *http.Request, v view) stood {
	if h.asOf == "" {
		return stood{}
	}
	q := r.URL.Query()
	q.Del("as-of")
	at := r.URL.Path
	if len(q) > 0 {
		at += "?" + q.Encode()
	}
	s := stood{On: v.Date(h.present.AsOf), Today: at, All: len(h.book.Entries)}
	for _, e := range h.book.Entries {
		if !e.On.After(h.present.AsOf.Add(24*time.Hour - 1)) {
			s.Used++
		}
	}
	return s
}

// joined writes a list in a line.
func joined(words []string) string { return strings.Join(words, ", ") }
