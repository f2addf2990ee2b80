package web_test

import (
	"testing"

	"github.com/chromedp/chromedp"
)

// The first visit teaches, and one click loads the demonstration wells.
func TestFirstVisit(t *testing.T) {
	s := newSite(t)
	everywhere(t, "empty", s.URL+"/")
	b := newTab(t, 390)
	b.visit(s.URL + "/")
	b.do(chromedp.Click("form[action='/demonstration'] button"))
	b.until(`document.querySelectorAll("table.list tbody tr").length > 10`)
	everywhere(t, "wells", s.URL+"/")
}

// The switch of units holds on every page, and for the next visit.
func TestUnitsAtASwitch(t *testing.T) {
	s := newSite(t, "clear-water-iron")
	b := newTab(t, 820)
	b.visit(s.at("clear-water-iron", ""))
	if see[bool](b, `document.querySelector("button[value=metric]").getAttribute("aria-pressed") === "true"`) {
		t.Error("a well in the United States opens in metric units")
	}
	b.do(chromedp.Click("button[value=metric]"))
	b.until(`document.querySelector("button[value=metric]").getAttribute("aria-pressed") === "true"`)
	b.visit(s.at("clear-water-iron", ""))
	b.until(`document.querySelector("button[value=metric]").getAttribute("aria-pressed") === "true"`)
}
