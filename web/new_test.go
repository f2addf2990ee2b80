package web_test

import (
	"io"
	"net/http"
	"net/http/cookiejar"
	"strings"
	"testing"

	"wellwright/book"
)

// A well begins with what was asked on the telephone; what is not known is not
// written; sent twice it stands once.
func TestBeginAWell(t *testing.T) {
	s := newSite(t)
	sent := values("date", "2026-03-11", "time", "09:10", "by", "the specialist", "units", "metric", "well/name", "Alder Lane", "well/place", "north of the village",
		"first call/complaint", "orange ring\r\nin the toilet", "first call/urgency", "soon", "first call/leave untouched", "flush tank lid closed\r\nno bleach in the well\r\n")
	for range 2 {
		if status, text := s.post(t, s.URL+"/new", sent); status != http.StatusSeeOther {
			t.Fatalf("status %d: %s", status, text)
		}
	}
	wells, err := s.Books.Wells(t.Context())
	if err != nil || len(wells) != 1 || wells[0].Name != "Alder Lane" || wells[0].Entries != 2 {
		t.Fatalf("wells %+v, %v: want one with two entries, for nothing was wished", wells, err)
	}
	b, _ := s.entered(t, wells[0].ID)
	p := b.Present(now)
	if p.Call == nil || p.Call.Urgency != book.Soon || p.Call.Complaint != "orange ring in the toilet" || len(p.Call.LeaveUntouched) != 2 {
		t.Errorf("the call reads back as %+v", p.Call)
	}
}

// What is wrong stands beside its field, and nothing is added.
func TestBeginAWellExplains(t *testing.T) {
	s := newSite(t)
	for _, tt := range []struct{ input, typed, beside string }{
		{"well/name", "", "well/name"},
		{"first call/anyone ill", "perhaps", "first call/anyone ill"},
		{"date", "2126-01-01", "date"},
		{"date", "soon", "date"},
	} {
		sent := values("date", "2026-03-11", "well/name", "Alder Lane", "first call/complaint", "red & brown")
		sent.Set(tt.input, tt.typed)
		status, text := s.post(t, s.URL+"/new", sent)
		if status != http.StatusUnprocessableEntity || besideOf(text, tt.beside) == "" || !strings.Contains(text, "red &amp; brown") {
			t.Errorf("%s %q: status %d, beside it %q", tt.input, tt.typed, status, besideOf(text, tt.beside))
		}
	}
	if wells, err := s.Books.Wells(t.Context()); err != nil || len(wells) > 0 {
		t.Errorf("%d wells were added (%v)", len(wells), err)
	}
}

// The units chosen for a well hold on its pages and on no other's.
func TestUnitsAreOfTheWell(t *testing.T) {
	s := newSite(t, quiet, "weak-well")
	client := *s.Client()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	client.Jar = jar
	answer, err := client.PostForm(s.URL+"/view", values("units", "metric", "from", "/wells/"+string(s.Wells[quiet])+"/enter"))
	if err != nil {
		t.Fatal(err)
	}
	answer.Body.Close()
	for well, want := range map[string]string{quiet: ">m<", "weak-well": ">ft<"} {
		answer, err := client.Get(s.at(well, "/enter/well"))
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil || !strings.Contains(string(text), `class="unit"`+want) {
			t.Errorf("%s: no field in %s", well, want)
		}
	}
}
