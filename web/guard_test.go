package web_test

import (
	"bytes"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"wellwright/media"
	"wellwright/web"
)

// A page elsewhere may point a name of its own at this machine: only requests sent
// to the server's own names are answered (RFC 9110, section 7.4: reject a request
// misdirected at the server).
func TestForeignHostIsRefused(t *testing.T) {
	s := newSite(t)
	for host, want := range map[string]int{
		"127.0.0.1":         http.StatusOK,
		"127.0.0.1:8427":    http.StatusOK,
		"attacker.example":  http.StatusMisdirectedRequest,
		"127.0.0.1.example": http.StatusMisdirectedRequest,
		"[::1]:8427":        http.StatusMisdirectedRequest, // not among this test's names
	} {
		r, err := http.NewRequest(http.MethodGet, s.URL+"/", nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = host
		if got, _ := s.send(t, r); got != want {
			t.Errorf("host %q is answered with %d, want %d", host, got, want)
		}
	}
}

// What another site makes a browser send is refused (Fetch Metadata, W3C;
// RFC 6454): it may read nothing, but it could have changed something.
func TestCrossOriginRequestIsRefused(t *testing.T) {
	s := newSite(t)
	for _, tt := range []struct{ header, value string }{
		{"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site"}, {"Origin", "https://attacker.example"}, {"Origin", "null"},
	} {
		r, err := http.NewRequest(http.MethodPost, s.URL+"/demonstration", nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set(tt.header, tt.value)
		if got, _ := s.send(t, r); got != http.StatusForbidden {
			t.Errorf("%s: %s is answered with %d, want 403", tt.header, tt.value, got)
		}
	}
	if wells, err := s.Books.Wells(t.Context()); err != nil || len(wells) > 0 {
		t.Errorf("%d wells were added by requests that were refused (%v)", len(wells), err)
	}
}

// Content Security Policy Level 3 (W3C): no policy of a page lets a script or a
// style within it run, or a frame stand around it.
func TestEveryAnswerHasItsPolicy(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/", "/nowhere", "/own/style/base.css", "/fetched/htmx/htmx.min.js"} {
		answer, err := s.Client().Get(s.URL + path)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		policy := answer.Header.Get("Content-Security-Policy")
		for _, want := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "frame-ancestors 'none'", "base-uri 'none'", "form-action 'self'"} {
			if !strings.Contains(policy, want) {
				t.Errorf("%s: policy %q lacks %q", path, policy, want)
			}
		}
		if strings.Contains(policy, "unsafe") || answer.Header.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s: policy %q, sniffing %q", path, policy, answer.Header.Get("X-Content-Type-Options"))
		}
	}
}

// A body larger than any form is cut off and refused; what was asked is not done.
func TestBodyIsBounded(t *testing.T) {
	s := newSite(t)
	form := url.Values{"units": {"metric"}, "from": {"/"}, "filler": {strings.Repeat("x", 2<<20)}}
	if status, _ := s.post(t, s.URL+"/view", form); status < 400 {
		t.Errorf("a form of 2 MB is answered with %d", status)
	}
}

// A switch leads back to a page of ours, and to no other place.
func TestSwitchLeadsBackHere(t *testing.T) {
	s := newSite(t)
	for from, want := range map[string]string{
		"/wells/x?as-of=2025-01-01": "/wells/x?as-of=2025-01-01", "//attacker.example/": "/", "https://attacker.example/": "/", `/\attacker.example`: "/", "": "/",
	} {
		r := httptest.NewRequest(http.MethodPost, s.URL+"/view", strings.NewReader(url.Values{"units": {"metric"}, "from": {from}}.Encode()))
		r.RequestURI = ""
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		client := *s.Client()
		client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
		answer, err := client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		if got := answer.Header.Get("Location"); got != want {
			t.Errorf("from %q leads to %q, want %q", from, got, want)
		}
	}
}

// Nothing outside the embedded folders is served, whatever the path.
func TestNoPathLeadsOut(t *testing.T) {
	s := newSite(t)
	for _, path := range []string{"/own/../web.go", "/own/%2e%2e/web.go", "/own/..%2fweb.go", "/own/", "/own/style/", "/fetched/", "/fetched/..%2f..%2fgo.mod", "/own//etc/passwd", "/wells/..%2f..%2fetc"} {
		status, text := s.get(t, s.URL+path)
		if status == http.StatusOK || strings.Contains(text, "package web") {
			t.Errorf("%s is answered with %d", path, status)
		}
	}
}

// The log names routes: no well, no word of a search, nothing of a form.
func TestLogNamesNoHousehold(t *testing.T) {
	s := newSite(t, "clear-water-iron")
	var log bytes.Buffer
	app, err := web.New(web.Config{Store: s.Books, Prices: media.Prices(), Now: clock, Hosts: []string{"127.0.0.1"}, Log: slog.New(slog.NewTextHandler(&log, nil))})
	if err != nil {
		t.Fatal(err)
	}
	served := httptest.NewServer(app.Handler())
	defer served.Close()
	id := string(s.Wells["clear-water-iron"])
	for _, path := range []string{"/?q=miller", "/wells/" + id, "/wells/" + id + "/nowhere", "/wells/nobody-at-home"} {
		answer, err := served.Client().Get(served.URL + path)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
	}
	for _, word := range []string{"miller", "/wells/" + id, "nobody-at-home", "Alder"} {
		if strings.Contains(log.String(), word) {
			t.Errorf("the log names %q:\n%s", word, log.String())
		}
	}
	if !strings.Contains(log.String(), "/wells/{well}") {
		t.Errorf("the log names no route:\n%s", log.String())
	}
}
