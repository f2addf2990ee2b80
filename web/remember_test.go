package web_test

import (
	"io"
	"net/http"
	"testing"

	"wellwright/book"
)

// A page that is remembered is the page: the same bytes packed and unpacked; another
// one in other units, and once the book has grown.
func TestRememberedPage(t *testing.T) {
	s := newSite(t, "clear-water-iron")
	address := s.at("clear-water-iron", "/report")
	_, first := s.get(t, address)
	_, again := s.get(t, address)
	if first != again {
		t.Error("the page remembered is another than the page written")
	}
	for name, set := range map[string]func(*http.Request){
		"unpacked":  func(r *http.Request) { r.Header.Set("Accept-Encoding", "identity") },
		"in metric": func(r *http.Request) { r.AddCookie(&http.Cookie{Name: "view", Value: "metric."}) },
		"in German": func(r *http.Request) { r.Header.Set("Accept-Language", "de") },
	} {
		r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, address, nil)
		if err != nil {
			t.Fatal(err)
		}
		set(r)
		answer, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil {
			t.Fatal(err)
		}
		if same := string(text) == first; same != (name == "unpacked") {
			t.Errorf("%s the page is the same: %v", name, same)
		}
	}
	id := s.Wells["clear-water-iron"]
	kept, err := s.Books.Text(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	e := book.NewEntry{On: now, Kind: book.ReadingsKind, Section: book.Fields(book.Under("tap", "T1"), book.Pair{Key: "results", Value: book.Fields(book.Under("pH", "7.35"))})}
	if _, err := s.Books.Append(t.Context(), id, kept.Head, e, now); err != nil {
		t.Fatal(err)
	}
	if _, grown := s.get(t, address); grown == first {
		t.Error("the book has grown, and the page is still the old one")
	}
}
