package web_test

import (
	"encoding/xml"
	"errors"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"wellwright/demo"
)

// Every demonstration well has its section, also one for which no train is found.
func TestEveryWellHasItsSection(t *testing.T) {
	all, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, w := range all {
		names = append(names, w.Name)
	}
	s := newSite(t, names...)
	for _, name := range names {
		status, text := s.get(t, s.at(name, ""))
		if status != http.StatusOK || strings.Count(text, "<svg") != 1 || !strings.Contains(text, "T0") {
			t.Errorf("%s: status %d, %d drawings", name, status, strings.Count(text, "<svg"))
		}
	}
}

// What is asked for wrongly is told; what is asked for rightly is drawn.
func TestSectionOfWhatIsAsked(t *testing.T) {
	s := newSite(t, "clear-water-iron")
	for query, want := range map[string]int{
		"?train=air-injection-filter,softener":         http.StatusOK,
		"?train=softener&against=air-injection-filter": http.StatusOK,
		"?against-date=2025-04-20":                     http.StatusOK,
		"?train=magic-box":                             http.StatusBadRequest,
		"?against=magic-box":                           http.StatusBadRequest,
		"?against-date=yesterday":                      http.StatusBadRequest,
		"?against-date=1999-01-01":                     http.StatusBadRequest, // before the first entry
		"?as-of=yesterday":                             http.StatusBadRequest,
	} {
		if status, text := s.get(t, s.at("clear-water-iron", query)); status != want {
			t.Errorf("%s is answered with %d, want %d: %.300s", query, status, want, text)
		}
	}
}

// The drawing as a file is a drawing: well-formed XML (SVG 2, W3C), or a file that
// begins as ISO 32000 says.
func TestSectionAsAFile(t *testing.T) {
	s := newSite(t, "weak-well")
	_, text := s.get(t, s.at("weak-well", "/section.svg"))
	for d := xml.NewDecoder(strings.NewReader(text)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("not well formed: %v", err)
		}
	}
	if _, text := s.get(t, s.at("weak-well", "/section.pdf")); !strings.HasPrefix(text, "%PDF-") {
		t.Errorf("the file begins with %.20q", text)
	}
}

// The section is seen at every width, and another train is drawn without the page
// jumping.
func TestSectionInTheBrowser(t *testing.T) {
	s := newSite(t, "high-iron-manganese", "weak-well")
	everywhere(t, "section", s.at("high-iron-manganese", ""))
	b := newTab(t, 820)
	b.visit(s.at("weak-well", ""))
	before := see[string](b, `document.querySelector("h1").textContent`)
	b.do(chromedp.Evaluate[chromedp.Void](`window.scrollTo(0, 300)`))
	at := see[float64](b, `window.scrollY`)
	b.do(chromedp.Evaluate[chromedp.Void](`(() => { const s = document.getElementById("train"); s.selectedIndex = 1; s.dispatchEvent(new Event("change", {bubbles: true})); })()`))
	b.until(`document.querySelector("h1").textContent !== ` + quoted(before))
	if now := see[float64](b, `window.scrollY`); now < at-2 || now > at+2 {
		t.Errorf("the page jumped from %g to %g", at, now)
	}
	b.accessible("section of another train")
}

// quoted writes a text as a script does.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", " ").Replace(s) + `"`
}
