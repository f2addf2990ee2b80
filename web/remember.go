package web

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"net/http"
	"strings"
	"time"

	"wellwright/book"
)

// mostPages bounds the pages kept: about 15 kB each, packed.
const mostPages = 2000

// pageKey is all that a page one reads depends on.
type pageKey struct {
	well        book.ID
	head        string // hash of the last entry
	today       time.Time
	address     string
	view, units string // cookies
	language    string
}

// remembered keeps the page that a handler writes until the book grows, the day ends
// or it is looked at in another way. Only what these decide may be remembered.
func (s *Server) remembered(h handler) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		if r.Header.Get(waiting) != "" || r.Header.Get("HX-Request") != "" { // a script may be given a part of a page
			return h(w, r)
		}
		key, err := s.pageKey(r)
		if err != nil {
			return err
		}
		if page, ok := s.remember.peek(key); ok {
			return sendPacked(w, r, page)
		}
		seen := &pageSeen{ResponseWriter: w}
		if err := h(seen, r); err != nil || seen.page == nil {
			return err
		}
		packed, err := pack(seen.page)
		if err != nil {
			return err
		}
		s.remember.put(key, packed)
		return nil
	}
}

func (s *Server) pageKey(r *http.Request) (pageKey, error) {
	row, err := s.Store.Well(r.Context(), book.ID(r.PathValue("well")))
	if err != nil {
		return pageKey{}, err
	}
	return pageKey{
		well: row.ID, head: row.Head, today: s.today(), address: r.URL.RequestURI(),
		view: cookie(r, viewCookie), units: cookie(r, unitsCookie), language: r.Header.Get("Accept-Language"),
	}, nil
}

// cookie is the value of a cookie; "" if there is none.
func cookie(r *http.Request, name string) string {
	c, err := r.Cookie(name)
	if err != nil {
		return ""
	}
	return c.Value
}

// pageSeen is told by the renderer which whole page it has written.
type pageSeen struct {
	http.ResponseWriter
	page []byte
}

// Unwrap lets a handler reach the connection.
func (p *pageSeen) Unwrap() http.ResponseWriter { return p.ResponseWriter }

// pack packs a page as browsers take it.
func pack(page []byte) ([]byte, error) {
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(page); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// sendPacked sends a packed page, unpacked to whom does not take it so.
func sendPacked(w http.ResponseWriter, r *http.Request, packed []byte) error {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Vary", "Accept-Encoding, Accept-Language, Cookie")
	if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		w.Header().Set("Content-Encoding", "gzip")
		_, err := w.Write(packed)
		return err
	}
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return fmt.Errorf("unpack page: %w", err)
	}
	_, err = io.Copy(w, z)
	return err
}
