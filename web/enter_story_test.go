package web_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"wellwright/book"
	"wellwright/web/internal/form"
)

// types writes into all inputs named, and presses "One more" where a list has no
// room for them.
func (b *tab) types(typed form.Typed) {
	b.Helper()
	text, err := json.Marshal(typed)
	if err != nil {
		b.Fatal(err)
	}
	last := ""
	for range 60 {
		wanting := see[string](b, `(() => {
			const typed = `+string(text)+`;
			for (const [name, value] of Object.entries(typed)) {
				const there = [...document.querySelectorAll("form.entry [name]")].filter((e) => e.name === name);
				if (there.length === 0 && value !== "") return name;
				for (const e of there) {
					if (e.type === "radio") { if (e.value === value) e.click(); } else if (e.type !== "hidden") { e.value = value; e.dispatchEvent(new Event("input", {bubbles: true})); }
				}
			}
			return "";
		})()`)
		if wanting == "" {
			return
		}
		last = wanting
		before := see[int](b, `document.querySelectorAll("form.entry [name]").length`)
		more := see[string](b, `[...document.querySelectorAll("button[name=more]")].map((e) => e.value).filter((v) => `+"`"+wanting+"`"+`.startsWith(v + "/")).sort((a, b) => b.length - a.length)[0] || ""`)
		if more == "" {
			b.Fatalf("there is no input %s and no way to have one", wanting)
		}
		see[bool](b, `(() => { const e = [...document.querySelectorAll("button[name=more]")].find((e) => e.value === `+"`"+more+"`"+`); e.closest("details")?.setAttribute("open", ""); e.click(); return true; })()`)
		b.until(`document.querySelectorAll("form.entry [name]").length > ` + jsonOf(before))
	}
	b.Fatalf("there is never room for %s", last)
}

// named moves fixtures that the form does not ask for by these names into the rows
// for others.
func named(typed form.Typed, names ...string) {
	const at = "house/fixtures/"
	n := 0
	for _, name := range names {
		if v, ok := typed[at+name]; ok {
			delete(typed, at+name)
			typed[fmt.Sprintf("%s+/%d/name", at, n)], typed[fmt.Sprintf("%s+/%d/value", at, n)] = name, v
			n++
		}
	}
}

func jsonOf(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		panic(err) // numbers and texts
	}
	return string(text)
}

// saved presses save and waits for the program's word.
func (b *tab) saved() {
	b.Helper()
	b.save()
	b.until(`document.querySelector(".saved") || document.querySelector("#mistakes")`)
	if wrong := see[string](b, `document.querySelector("#mistakes")?.textContent || ""`); wrong != "" {
		b.Fatal(wrong)
	}
}

// A well is entered on a phone from nothing to ranked options: by touching and
// typing what the book of a demonstration well says, form by form. The second way
// to the same ranking is that book itself, put into the store as it stands.
func TestFromNothingToRankedOptions(t *testing.T) {
	s := newSite(t, quiet)
	original, _ := s.entered(t, s.Wells[quiet])
	b := newTab(t, 390)
	b.visit(s.URL + "/")
	b.do(chromedp.Click("a[href='/new']"))
	b.until(`document.querySelector('form[action="/new"]')`)
	call := original.Entries[slices.IndexFunc(original.Entries, func(e book.Entry) bool { return e.Kind == book.CallKind })]
	begin := form.Fill(call)
	begin["well/name"], begin[form.Date], begin[form.Time] = "Typed Lane", call.On.Format(time.DateOnly), ""
	b.types(begin)
	b.saved()
	home := strings.TrimSuffix(see[string](b, `location.pathname`), "/enter")
	for _, e := range original.Entries {
		if e.Kind == book.CallKind || e.Kind == book.NoteKind {
			continue
		}
		typed := form.Fill(e)
		typed[form.Date], typed[form.Time] = e.On.Format(time.DateOnly), ""
		if e.Timed {
			typed[form.Time] = e.On.Format("15:04")
		}
		if e.Kind == book.WellKind {
			typed["well/name"] = "Typed Lane"
		}
		named(typed, "bath", "kitchen sink", "washing machine", "shower")
		b.visit(s.URL + home + "/enter/" + strings.ReplaceAll(string(e.Kind), " ", "-"))
		b.types(typed)
		b.saved()
	}
	ranked := func(page string) string {
		b.visit(page + "/options")
		b.until(`document.readyState === "complete" && document.querySelectorAll("ol.options > li").length > 0`)
		return see[string](b, `[...document.querySelectorAll("ol.options > li summary")].map((e) => e.textContent.replace(/\s+/g, " ")).join("; ")`)
	}
	typed, loaded := ranked(s.URL+home), ranked(s.at(quiet, ""))
	if typed != loaded || typed == "" {
		t.Errorf("typed in, the options are %q; loaded from the book, %q", typed, loaded)
	}
}
