package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

func TestWhatIfLooks(t *testing.T) {
	s := newSite(t, asked)
	_, text := s.get(t, s.at(asked, "/what-if"))
	keep := url.Values{"head": {attribute(text[strings.Index(text, `name="head"`):], "value")}, "query": {"iron=9&pump=14"}, "name": {"rusty summer"}, "note": {"with the larger pump"}}
	if status, _ := s.post(t, s.at(asked, "/what-if/keep"), keep); status != http.StatusSeeOther {
		t.Fatalf("keeping: status %d", status)
	}
	everywhere(t, "what-if", s.at(asked, "/what-if?iron=9&train=coated-sand-filter,softener&s1.vessel_diameter_in=12&p.labour+hour=120&whole=yes"))
	b := newTab(t, 820)
	b.visit(s.at(asked, "/what-if?iron=much&pump=7"))
	b.accessible("what-if with a mistake")
	b.picture("what-if-mistake")
	_, text = s.get(t, s.at(asked, "/what-if"))
	_, rest, _ := strings.Cut(text, `name="entry" value="`)
	entry, _, _ := strings.Cut(rest, `"`)
	everywhere(t, "compare", s.at(asked, "/what-if/compare?a=&b="+entry))
}

// A change shows a first answer, then the whole one by itself; the place on the
// page and the field keep; Escape puts the change back and brings it back; stages
// are added, moved, resized and removed; a variant is kept and opened again.
func TestWhatIfInTheBrowser(t *testing.T) {
	s := newSite(t, asked)
	b := newTab(t, 1440)
	b.visit(s.at(asked, "/what-if"))
	b.do(chromedp.Evaluate[chromedp.Void](`window.seen = []; new MutationObserver(() => { const c = document.querySelector(".coarse strong"); window.seen.push(c ? "coarse" : "whole") }).observe(document.getElementById("follow"), {childList: true, subtree: true}); scrollTo(0, 200)`))
	set := func(selector, value string) {
		b.do(chromedp.Evaluate[chromedp.Void](`(() => { const e = document.querySelector(` + "`" + selector + "`" + `); e.focus({preventScroll: true}); e.value = "` + value + `"; e.dispatchEvent(new Event("input", {bubbles: true})) })()`))
	}
	set("#i-iron", "9")
	b.until(`location.search === "?iron=9" && !document.querySelector(".coarse") && document.querySelector(".asked")`)
	if !see[bool](b, `window.seen.includes("coarse")`) {
		t.Error("no first answer was seen before the whole one")
	}
	if y := see[float64](b, `scrollY`); y != 200 {
		t.Errorf("the page jumped to %g", y)
	}
	if at := see[string](b, `document.activeElement.id`); at != "i-iron" {
		t.Errorf("the field lost its focus to %q", at)
	}
	escape := `document.dispatchEvent(new KeyboardEvent("keydown", {key: "Escape", bubbles: true, cancelable: true}))`
	b.do(chromedp.Evaluate[chromedp.Void](escape))
	b.until(`document.getElementById("i-iron").value !== "9" && document.getElementById("put-back") && document.body.textContent.includes("Bring the change back")`)
	b.do(chromedp.Evaluate[chromedp.Void](escape))
	b.until(`location.search === "?iron=9" && document.getElementById("i-iron").value === "9"`)

	set("#add0", "cartridge-filter")
	press := func(id string) {
		b.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("` + id + `").focus({preventScroll: true}); document.getElementById("` + id + `").click()`))
	}
	press("do-add-0")
	b.until(`document.querySelector("#train li p.stage").textContent.includes("artridge")`)
	press("later-cartridge-filter")
	b.until(`!document.querySelector("#train li p.stage").textContent.includes("artridge")`)
	if at := see[string](b, `document.activeElement.id`); at != "later-cartridge-filter" {
		t.Errorf("the moved stage's button lost the focus to %q", at)
	}
	set(`#i-cartridge-filter-rated_flow_gpm`, "17")
	b.until(`location.search.includes("s2.rated_flow_gpm=17")`)
	press("remove-cartridge-filter")
	b.until(`location.search === "?iron=9"`)

	b.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("name").value = "rusty summer"; document.querySelector(".keep-form button").click()`))
	b.until(`document.querySelector(".keep table")?.textContent.includes("rusty summer")`)
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector(".keep table a").click()`))
	b.until(`document.querySelector(".asked")?.textContent.includes("9")`)
}
