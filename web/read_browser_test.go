package web_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
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

// On paper a page has its content and no switches, on letter and on A4, and fills
// no more sheets than a reader would take along.
func TestPagesOnPaper(t *testing.T) {
	pdftotext, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("no pdftotext on this machine")
	}
	s := newSite(t, "arsenic-with-iron")
	b := newTab(t, 820)
	for _, p := range []struct {
		page, says string
		sheets     int
	}{{"/report", "As received", 5}, {"/forms", "Sampling round", 7}, {"/options", "What it will not do", 12}, {"/book", "static level", 8}, {"/working", "raw water", 2}} {
		b.visit(s.at("arsenic-with-iron", p.page))
		for name, size := range map[string]chromedp.PaperSize{"letter": chromedp.PaperLetter, "a4": chromedp.PaperA4} {
			file := filepath.Join(t.TempDir(), "page.pdf")
			if *shots != "" {
				file = filepath.Join(*shots, strings.Trim(p.page, "/")+"-"+name+".pdf")
			}
			if err := os.WriteFile(file, got(b, chromedp.PrintToPDF(chromedp.PDFPaper(size), chromedp.PDFPrintBackground())), 0o644); err != nil {
				t.Fatal(err)
			}
			text, err := exec.CommandContext(t.Context(), pdftotext, "-layout", file, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			if n := strings.Count(string(text), "\f"); n > p.sheets {
				t.Errorf("%s on %s: %d sheets", p.page, name, n)
			}
			for _, want := range []string{"Larkmoss", p.says} {
				if !strings.Contains(string(text), want) {
					t.Errorf("%s on %s does not say %q", p.page, name, want)
				}
			}
			for _, none := range []string{"metric", "All results as CSV", "What if"} {
				if strings.Contains(string(text), none) {
					t.Errorf("%s on %s says %q: that is for the screen", p.page, name, none)
				}
			}
		}
	}
}
