package web_test

import (
	"net/http"
	"net/http/httptest"
	"testing"
)

// BenchmarkSectionPage is a page whose plan has been worked out already.
func BenchmarkSectionPage(b *testing.B) {
	s := newSite(b, "high-iron-manganese")
	address := s.at("high-iron-manganese", "")
	s.get(b, address)
	h := s.Config.Handler
	b.ReportAllocs()
	for b.Loop() {
		r := httptest.NewRequest(http.MethodGet, address, nil)
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
	}
}
