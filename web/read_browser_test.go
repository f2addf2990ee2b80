package web_test

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// Each page one reads, at each width, light and dark: axe-core finds nothing and
// nothing scrolls sideways.
func TestPagesToRead(t *testing.T) {
	s := newSite(t, "arsenic-with-iron")
	for _, p := range []struct{ name, path string }{
		{"report", "/report"}, {"forms", "/forms"}, {"options", "/options"}, {"train", "/options/air-injection-filter,softener"},
		{"book", "/book"}, {"factors", "/factors"}, {"working", "/working?train=chlorine-feed,coated-sand-filter,softener"},
	} {
		t.Run(p.name, func(t *testing.T) { everywhere(t, p.name, s.at("arsenic-with-iron", p.path)) })
	}
}

// A figure opens its working where it stands, with the well's own values in it.
func TestFigureOpensInPlace(t *testing.T) {
	s := newSite(t, "arsenic-with-iron")
	b := newTab(t, 820)
	b.visit(s.at("arsenic-with-iron", "/options"))
	b.do(chromedp.Click(".option[open] .figure-open > summary"))
	b.until(`document.querySelector(".figure-open[open] .worked .equation") && document.querySelector(".figure-open[open] .symbols dd").textContent.trim() !== ""`)
	b.accessible("an opened figure")
	b.picture("figure-open")
}
