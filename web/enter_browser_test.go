package web_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"

	"wellwright/book"
	"wellwright/water"
)

// The pages on which a well is entered have no violation at any width, light and
// dark.
func TestEnteringIsAccessible(t *testing.T) {
	s := newSite(t, quiet)
	everywhere(t, "new", s.URL+"/new")
	for name, page := range map[string]string{"enter": "/enter", "enter-readings": "/enter/readings?tap=T1", "enter-well": "/enter/well", "enter-signs": "/enter/signs", "enter-jars": "/enter/jar-tests",
		"enter-report": "/enter/laboratory-report", "enter-correction": "/enter/house?corrects=3", "enter-note": "/enter/note"} {
		everywhere(t, name, s.at(quiet, page))
	}
}

// set writes into inputs as a person does: the page hears of it.
func (b *tab) set(pairs ...string) {
	b.Helper()
	for i := 0; i < len(pairs); i += 2 {
		see[bool](b, `(() => {
			const e = document.querySelector(`+"`"+pairs[i]+"`"+`);
			if (e.type === "radio" || e.type === "checkbox") e.checked = true; else e.value = `+"`"+pairs[i+1]+"`"+`;
			e.dispatchEvent(new Event("input", {bubbles: true}));
			return true;
		})()`)
	}
}

// save presses the button of the form.
func (b *tab) save() { b.Helper(); b.do(chromedp.Click(".save button.main")) }

// offline cuts the connection of a tab, or mends it.
func (b *tab) offline(cut bool) {
	b.Helper()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		rules := []*network.Conditions{} // none: as it is
		if cut {
			rules = []*network.Conditions{{Offline: true, DownloadThroughput: -1, UploadThroughput: -1}}
		}
		_, err := cdp.Call(ctx, t, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: rules})
		return err
	}))
}

// What is wrong is told beside its field and above the form, which takes the
// focus (WCAG 2.2, 3.3.1 and 4.1.3); pages with mistakes are accessible too.
func TestMistakesStandBesideTheirFields(t *testing.T) {
	s := newSite(t, quiet)
	for _, dark := range []bool{false, true} {
		b := newTab(t, 390)
		b.dark(dark)
		b.visit(s.at(quiet, "/enter/readings?tap=T1"))
		b.set(`[name="readings/results/1/value"]`, "71", `[name="readings/results/3/value"]`, "plenty", `[name="readings/results/4/value"]`, "<0.10")
		b.save()
		b.until(`document.querySelector("#mistakes") === document.activeElement`)
		if got := see[string](b, `document.querySelector('[name="readings/results/4/value"]').value`); got != "<0.10" {
			t.Errorf("<0.10 came back as %q", got)
		}
		b.do(chromedp.Click("#mistakes a"))
		b.until(`document.activeElement.name === "readings/results/1/value" || location.hash.endsWith("-value")`)
		b.accessible("a form with mistakes")
		b.picture(map[bool]string{false: "enter-mistakes", true: "enter-mistakes-dark"}[dark])
	}
}

// A draft outlives a reload and a dropped connection, says since when it waits, can
// be thrown away, and is gone once the program has saved it.
func TestDraftSurvives(t *testing.T) {
	s := newSite(t, quiet)
	b := newTab(t, 390)
	page := s.at(quiet, "/enter/well")
	b.visit(page)
	b.set(`[name="well/depth"]`, "181", `[name="well/pump/kind"][value="jet"]`, "", `[name="by"]`, "the specialist")
	b.visit(s.URL + "/") // left without a word
	b.visit(page)
	b.until(`document.querySelector("#draft").textContent.includes("not saved yet")`)
	if got := see[string](b, `document.querySelector('[name="well/depth"]').value + " " + document.querySelector('[name="well/pump/kind"]:checked').value`); got != "181 jet" {
		t.Errorf("after leaving the page the form holds %q", got)
	}
	b.picture("enter-draft")
	b.accessible("a restored draft")
	b.offline(true)
	b.save()
	b.until(`document.querySelector("#sending").textContent.includes("could not be reached")`)
	if got := see[string](b, `document.querySelector('[name="well/depth"]').value`); got != "181" {
		t.Errorf("after a dropped connection the form holds %q", got)
	}
	b.offline(false)
	b.visit(s.at(quiet, "/enter"))
	b.until(`document.querySelector("#drafts").textContent.includes("not saved yet")`)
	b.do(chromedp.Click("#drafts a"))
	b.until(`document.querySelector('[name="well/depth"]')?.value === "181"`)
	b.save()
	b.until(`document.querySelector(".saved")`)
	b.visit(page)
	if got := see[string](b, `document.querySelector('[name="well/depth"]').value + document.querySelector("#draft").textContent`); got != "" {
		t.Errorf("after it was saved the form holds %q", got)
	}
	if bk, _ := s.entered(t, s.Wells[quiet]); !strings.Contains(saysAll(bk.Entries[len(bk.Entries)-1].Section), "181 ft") {
		t.Error("the draft is not in the book")
	}
	b.set(`[name="well/depth"]`, "7")
	b.visit(page)
	b.do(chromedp.Click("#draft button"))
	b.until(`document.querySelector('[name="well/depth"]')?.value === "" && document.querySelector("#draft").textContent === ""`)
}

// A draft with more items than an empty form shows is shown with all of them.
func TestDraftOfAList(t *testing.T) {
	s := newSite(t, quiet)
	b := newTab(t, 390)
	b.visit(s.at(quiet, "/enter/jar-tests"))
	b.set(`[name="jar tests/0/note"]`, "faint")
	b.do(chromedp.Click("button[name=more][value='jar tests']"))
	b.until(`document.querySelector('[name="jar tests/1/note"]')`)
	b.set(`[name="jar tests/1/note"]`, "strong")
	b.visit(s.at(quiet, "/enter/jar-tests"))
	b.until(`document.querySelector('textarea[name="jar tests/1/note"], input[name="jar tests/1/note"]:not([type=hidden])')?.value === "strong" && document.querySelector("#draft").textContent.includes("not saved yet")`)
	if got := see[string](b, `document.querySelector('[name="jar tests/0/note"]').value`); got != "faint" {
		t.Errorf("the first jar says %q", got)
	}
}

// saysAll is every text of a value.
func saysAll(v book.Value) string {
	all := v.Text
	for _, p := range v.Pairs {
		all += " " + saysAll(p.Value)
	}
	for _, item := range v.List {
		all += " " + saysAll(item)
	}
	return all
}

// Two tabs edit one well: the second is told what the first wrote, keeps what was
// typed, and nothing is written over.
func TestTwoTabs(t *testing.T) {
	s := newSite(t, quiet)
	one, two := newTab(t, 820), newTab(t, 390)
	for _, b := range []*tab{one, two} {
		b.visit(s.at(quiet, "/enter/well"))
	}
	one.set(`[name="well/depth"]`, "190", `[name="by"]`, "the first")
	two.set(`[name="well/depth"]`, "180", `[name="well/casing"]`, "5", `[name="by"]`, "the second")
	one.save()
	one.until(`document.querySelector(".saved")`)
	two.save()
	two.until(`document.querySelector("#overtaken")?.textContent.includes("the first")`)
	two.accessible("a form that was overtaken")
	two.picture("enter-overtaken")
	if got := see[string](two, `document.querySelector('[name="well/depth"]').value + " " + document.querySelector('[name="well/casing"]').value`); got != "180 5" {
		t.Errorf("the second's form holds %q", got)
	}
	two.save()
	two.until(`document.querySelector(".saved")`)
	b, _ := s.entered(t, s.Wells[quiet])
	n := len(b.Entries)
	if b.Entries[n-2].By != "the first" || b.Entries[n-1].By != "the second" {
		t.Errorf("the last entries are by %q and %q", b.Entries[n-2].By, b.Entries[n-1].By)
	}
}

// Forms work without any script.
func TestEnteringWithoutScript(t *testing.T) {
	s := newSite(t, quiet)
	b := newTab(t, 390)
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	}))
	b.visit(s.at(quiet, "/enter/readings?tap=T1"))
	b.set(`[name="readings/results/1/value"]`, "71")
	b.save()
	b.until(`document.querySelector("#mistakes")`)
	b.set(`[name="readings/results/1/value"]`, "7.1")
	b.save()
	b.until(`document.querySelector(".saved")`)
}

// receives chooses a file on the page.
func (b *tab) receives(name string, content []byte) {
	b.Helper()
	at := filepath.Join(b.TempDir(), name)
	if err := os.WriteFile(at, content, 0o600); err != nil {
		b.Fatal(err)
	}
	b.do(chromedp.SetUploadFiles("#f-file", []string{at}))
	b.save()
	b.until(`document.readyState === "complete" && (document.querySelector("form.receive input[name=seen]") || document.querySelector("#mistakes"))`)
}

// A real export of a portal is imported with each value seen before it is taken.
func TestPortalExport(t *testing.T) {
	text := portal(t)
	s := newSite(t, quiet)
	b := newTab(t, 1440)
	b.visit(s.at(quiet, "/receive"))
	b.receives("portal.csv", text)
	b.accessible("a portal's export")
	b.picture("receive-portal")
	if see[bool](b, `!!document.querySelector("#f-site")`) {
		b.do(chromedp.Evaluate[chromedp.Void](`(() => { const s = document.querySelector("#f-site"); s.selectedIndex = 1; })()`), chromedp.Click("#f-site ~ button"))
		b.until(`document.readyState === "complete" && document.querySelectorAll("table.values tbody tr").length > 0`)
	}
	shown := see[int](b, `document.querySelectorAll("table.values tbody tr").length`)
	samples := see[int](b, `document.querySelectorAll("input[name=take]:checked").length`)
	b.accessible("samples of one site")
	before, _ := s.entered(t, s.Wells[quiet])
	b.save()
	b.until(`document.querySelector(".saved") || document.querySelector("#mistakes")`)
	after, _ := s.entered(t, s.Wells[quiet])
	results := 0
	for _, e := range after.Entries[len(before.Entries):] {
		if rep, ok := e.Body.(*water.Report); ok {
			results += len(rep.Results)
		}
	}
	if shown == 0 || results != shown || samples == 0 {
		t.Errorf("%d values in %d samples were shown and %d are in the book", shown, samples, results)
	}
}

// The pages of receiving are accessible at each width, with a table whose columns
// are asked about.
func TestReceivingIsAccessible(t *testing.T) {
	s := newSite(t, quiet)
	everywhere(t, "receive", s.at(quiet, "/receive"))
	for _, width := range []int64{390, 820, 1440} {
		for _, dark := range []bool{false, true} {
			b := newTab(t, width)
			b.dark(dark)
			b.visit(s.at(quiet, "/receive"))
			b.receives("lab 118.csv", []byte(report))
			b.accessible("a table and its columns")
			b.picture(map[bool]string{false: "receive-look", true: "receive-look-dark"}[dark])
		}
	}
}
