package web_test

import (
	"context"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/media"
	"wellwright/store"
	"wellwright/web"
)

// now is the clock of every test.
var now = time.Date(2026, 3, 12, 10, 30, 0, 0, time.UTC)

func clock() time.Time { return now }

// site is a server on a store of its own.
type site struct {
	*httptest.Server
	Books book.Store
	Wells map[string]book.ID // by the name of the demonstration
}

// newSite starts a server with the named demonstration wells in its store.
func newSite(t testing.TB, wells ...string) *site {
	t.Helper()
	books, err := store.Create(t.Context(), filepath.Join(t.TempDir(), "wells.db"))
	if err != nil {
		t.Fatal(err)
	}
	s := &site{Books: books, Wells: map[string]book.ID{}}
	for _, name := range wells {
		s.Wells[name], err = books.Add(t.Context(), demonstration(t, name), now)
		if err != nil {
			t.Fatal(err)
		}
	}
	app, err := web.New(web.Config{Store: books, Prices: media.Prices(), Now: clock, Hosts: []string{"127.0.0.1"}, Log: slog.New(slog.DiscardHandler)})
	if err != nil {
		t.Fatal(err)
	}
	s.Server = httptest.NewServer(app.Handler())
	t.Cleanup(func() {
		s.Server.Close()
		if err := books.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// demonstration is the text of a bundled book.
func demonstration(t testing.TB, name string) []byte {
	t.Helper()
	all, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range all {
		if w.Name == name {
			return w.Text
		}
	}
	t.Fatalf("there is no demonstration well %q", name)
	return nil
}

// at is the address of a page of a well.
func (s *site) at(well, page string) string {
	return s.URL + "/wells/" + string(s.Wells[well]) + page
}

// get fetches a page until its answer is worked out, and returns its status and
// text.
func (s *site) get(t testing.TB, address string) (int, string) {
	t.Helper()
	for {
		status, text := s.do(t, http.MethodGet, address, nil)
		if !strings.Contains(text, "<h1>Working it out</h1>") {
			return status, text
		}
	}
}

// post sends a form and returns status and text, without following a redirect.
func (s *site) post(t testing.TB, address string, form url.Values) (int, string) {
	t.Helper()
	return s.do(t, http.MethodPost, address, form)
}

func (s *site) do(t testing.TB, method, address string, form url.Values) (int, string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, address, strings.NewReader(form.Encode()))
	if err != nil {
		t.Fatal(err)
	}
	if form != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	return s.send(t, r)
}

func (s *site) send(t testing.TB, r *http.Request) (int, string) {
	t.Helper()
	client := *s.Client()
	client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	answer, err := client.Do(r.WithContext(context.WithoutCancel(r.Context())))
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, string(text)
}
