package web_test

import (
	"encoding/csv"
	"html"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"wellwright/book"
)

// hostileNames are names that want to be more than text. Source of the first four:
// OWASP, XSS Filter Evasion (web page); the rest: long, right to left, beyond the
// first plane.
var hostileNames = []string{
	`<script>alert(1)</script>`,
	`"><img src=x onerror=alert(1)>`,
	`' onmouseover='alert(1)`,
	`{{.Title}}</title><svg/onload=alert(1)>`,
	strings.Repeat("Quernstone", 200),
	"بئر الماء " + "\u202e" + "egap",
	"🚰💧 𝒲ell",
}

// hostileBook is a book whose every free text is a hostile name.
func hostileBook(name string) string {
	q := `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(name) + `"`
	return `- entry: 1
  date: 2025-04-01
  by: ` + q + `
  well: {name: ` + q + `, place: ` + q + `, depth: 120 ft}
  note: ` + q + `
- entry: 2
  date: 2025-04-02
  laboratory report:
    laboratory: ` + q + `
    tap: T1
    file: ` + q + `
    bottle: {note: ` + q + `}
    results:
      pH: 7.1
      total iron: {value: 3.2 mg/L, method: ` + q + `, note: ` + q + `}
`
}

// What stands in a book is text on every page, and no more than text.
func TestHostileNamesStayText(t *testing.T) {
	s := newSite(t)
	for _, name := range hostileNames {
		id, err := s.Books.Add(t.Context(), []byte(hostileBook(name)), now)
		if err != nil {
			t.Fatalf("%.40q: %v", name, err)
		}
		for _, page := range []string{"/report", "/forms", "/options", "/book", "/factors"} {
			status, text := s.get(t, s.URL+"/wells/"+string(id)+page)
			if status != http.StatusOK {
				t.Errorf("%.40q%s: status %d", name, page, status)
				continue
			}
			sound(t, page, text)
			for _, bad := range []string{"<script>alert", "<img src=x", "<svg/onload"} {
				if strings.Contains(text, bad) {
					t.Errorf("%s: %q stands on the page as markup", page, bad)
				}
			}
		}
	}
}

// A name of two thousand letters, or one from right to left, does not break the
// layout of a phone.
func TestHostileNamesKeepTheLayout(t *testing.T) {
	s := newSite(t)
	b := newTab(t, 390)
	for _, name := range hostileNames[4:6] {
		id, err := s.Books.Add(t.Context(), []byte(hostileBook(name)), now)
		if err != nil {
			t.Fatal(err)
		}
		for _, page := range []string{"/report", "/book"} {
			b.visit(s.URL + "/wells/" + string(id) + page)
			if over := see[int](b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); over > 1 {
				t.Errorf("%.12q%s scrolls sideways by %d", name, page, over)
			}
		}
	}
}

// A formula in a book is no formula in a spreadsheet, and figures stay figures.
// Source: OWASP, CSV Injection (web page), for the signs that begin one.
func TestResultsAsCSV(t *testing.T) {
	s := newSite(t)
	for _, name := range []string{"=HYPERLINK(1)", "+1+cmd", "-2+3", "@SUM(A1)", " =1+1", "＝1"} {
		id, err := s.Books.Add(t.Context(), []byte(hostileBook(name)), now)
		if err != nil {
			t.Fatalf("%q: %v", name, err)
		}
		for _, row := range results(t, s, id) {
			for _, cell := range row {
				bare := strings.TrimLeft(cell, " ")
				if bare != "" && strings.ContainsAny(bare[:1], "=@+") || strings.HasPrefix(bare, "-2+") || strings.HasPrefix(bare, "＝") {
					t.Errorf("%q: the cell %q may be taken for a formula", name, cell)
				}
			}
		}
	}
	id, err := s.Books.Add(t.Context(), []byte(`- entry: 1
  date: 2025-04-02
  readings:
    tap: T1
    results: {redox potential: -90 mV, sulfide: <0.1 mg/L as H2S, total iron: 0.20 mg/L}
`), now)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []struct{ analyte, column, cell string }{
		{"redox potential", "value", "-90"}, {"redox potential", "unit", "mV"}, {"sulfide", "sign", "<"}, {"sulfide", "value", "0.1"}, {"sulfide", "as_printed", "<0.1 mg/L as H2S"},
		{"total iron", "as_printed", "0.20 mg/L"}, {"total iron", "unit_canonical", "mg/L"},
	} { // as the book says
		if got := cellOf(results(t, s, id), want.analyte, want.column); got != want.cell {
			t.Errorf("%s of %s = %q, want %q", want.column, want.analyte, got, want.cell)
		}
	}
}

func results(t *testing.T, s *site, id book.ID) [][]string {
	t.Helper()
	_, text := s.get(t, s.URL+"/wells/"+string(id)+"/report.csv")
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	return rows
}

func cellOf(rows [][]string, analyte, column string) string {
	at := map[string]int{}
	for i, name := range rows[0] {
		at[name] = i
	}
	for _, row := range rows[1:] {
		if row[at["name_as_printed"]] == analyte {
			return row[at[column]]
		}
	}
	return ""
}

// The book is sent byte for byte.
func TestBookIsSentAsItIs(t *testing.T) {
	s := newSite(t, "red-water")
	status, text := s.get(t, s.at("red-water", "/book.yaml"))
	if status != http.StatusOK || text != string(demonstration(t, "red-water")) {
		t.Errorf("status %d, %d bytes", status, len(text))
	}
}

// corrected is a book with a corrected and a withdrawn entry.
const corrected = `- entry: 1
  date: 2025-04-01
  well: {name: Alderholt, depth: 120 ft}
- entry: 2
  date: 2025-04-02
  readings: {tap: T1, results: {total iron: 22 mg/L}}
- entry: 3
  date: 2025-04-05
  correction: {of: 2, why: point misread}
  readings: {tap: T1, results: {total iron: 2.2 mg/L}}
- entry: 4
  date: 2025-04-06
  note: another well
- entry: 5
  date: 2025-04-07
  correction: {of: 4, why: not this well}
`

// What is corrected or taken back stays as it was written, marked both ways, and
// each page can be reprinted as it stood.
func TestBookMarksCorrections(t *testing.T) {
	s := newSite(t)
	id, err := s.Books.Add(t.Context(), []byte(corrected), now)
	if err != nil {
		t.Fatal(err)
	}
	at := s.URL + "/wells/" + string(id)
	_, text := s.get(t, at+"/book")
	for _, want := range []string{
		`<strong>Corrected</strong> by <a href="#entry-3">`, `<strong>Correction</strong> of <a href="#entry-2">entry 2</a>: point misread`,
		`<strong>Withdrawn</strong> by <a href="#entry-5">`, `<strong>Withdrawal</strong> of <a href="#entry-4">entry 4</a>: not this well`, "22 mg/L",
		"/enter/readings?corrects=3", "/enter/correction?corrects=3",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the book does not say %q", want)
		}
	}
	for _, none := range []string{"?corrects=2", "?corrects=4", "?corrects=5"} { // they count no more, or are no more than a mark
		if strings.Contains(text, none) {
			t.Errorf("the book offers %q", none)
		}
	}
	for _, tt := range []struct{ on, has, not string }{{"2025-04-03", ">22 mg/L<", ">2.2 mg/L<"}, {"2025-04-05", ">2.2 mg/L<", ">22 mg/L<"}} { // the dates of the entries
		_, text := s.get(t, at+"/report?as-of="+tt.on)
		if !strings.Contains(text, tt.has) || strings.Contains(text, tt.not) || !strings.Contains(text, "As it stood on") {
			t.Errorf("the report as of %s does not stand as it stood", tt.on)
		}
	}
}

// An own value is an entry of the book; what is wrong with it is said beside its
// field, and nothing typed is lost.
func TestOwnFactor(t *testing.T) {
	s := newSite(t, "red-water")
	at := s.at("red-water", "/factors")
	kept, err := s.Books.Text(t.Context(), s.Wells["red-water"])
	if err != nil {
		t.Fatal(err)
	}
	form := url.Values{"head": {kept.Head}, "name": {"softener_iron_allowance"}, "value": {"three"}, "why": {"resin here <b>new</b>"}, "by": {"the specialist"}}
	status, text := s.post(t, at, form)
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, `id="own-value-wrong"`) || !strings.Contains(text, "resin here &lt;b&gt;new&lt;/b&gt;") {
		t.Errorf("a value that is no number: status %d", status)
	}
	sound(t, "refused", text)
	form.Set("value", "3,5")
	if status, _ = s.post(t, at, form); status != http.StatusSeeOther {
		t.Fatalf("an own value: status %d", status)
	}
	_, text = s.get(t, at+"?q=softener_iron_allowance")
	for _, want := range []string{"Replaced in this well", "<strong>3.5 gpg per mg/L</strong>", "own value", "resin here &lt;b&gt;new&lt;/b&gt;"} {
		if !strings.Contains(text, want) {
			t.Errorf("the factors do not say %q", want)
		}
	}
	if status, text = s.post(t, at, form); status != http.StatusConflict || !strings.Contains(text, "was added to this book since") {
		t.Errorf("with the hash of the book as it was: status %d", status)
	}
	form.Set("name", "no_such_factor")
	if status, text = s.post(t, at, form); status != http.StatusUnprocessableEntity || !strings.Contains(text, `id="own-name-wrong"`) {
		t.Errorf("an unknown factor: status %d", status)
	}
}

// A figure's working comes as a part for a script, and as a page without one.
func TestWorkingAsPartAndPage(t *testing.T) {
	s := newSite(t, "arsenic-with-iron")
	_, text := s.get(t, s.at("arsenic-with-iron", "/options"))
	from := strings.Index(text, `hx-get="`)
	for !strings.HasPrefix(text[from:], `hx-get="/wells/`+string(s.Wells["arsenic-with-iron"])+"/working") {
		from += 1 + strings.Index(text[from+1:], `hx-get="`)
	}
	path := html.UnescapeString(text[from+len(`hx-get="`) : from+strings.Index(text[from:], `" hx-trigger`)])
	status, whole := s.get(t, s.URL+path)
	if status != http.StatusOK || !strings.Contains(whole, "<!doctype html>") || !strings.Contains(whole, `class="equation"`) {
		t.Errorf("%s as a page: status %d", path, status)
	}
	sound(t, "working", whole)
	r, err := http.NewRequestWithContext(t.Context(), http.MethodGet, s.URL+path, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("HX-Request", "true")
	status, part := s.send(t, r)
	if status != http.StatusOK || strings.Contains(part, "<html") || !strings.Contains(part, `class="equation"`) {
		t.Errorf("%s as a part: status %d", path, status)
	}
	if status, _ := s.get(t, s.at("arsenic-with-iron", "/working?train=softener&figure=nothing")); status != http.StatusNotFound {
		t.Errorf("a figure that there is not: status %d", status)
	}
}

// How long the pages take once the answer is there.
func BenchmarkPagesToRead(b *testing.B) {
	s := newSite(b, "arsenic-with-iron")
	for _, page := range []string{"/report", "/forms", "/options", "/book", "/factors", "/report.csv"} {
		b.Run(page[1:], func(b *testing.B) {
			s.get(b, s.at("arsenic-with-iron", page))
			for b.Loop() {
				if status, _ := s.do(b, http.MethodGet, s.at("arsenic-with-iron", page), nil); status != http.StatusOK {
					b.Fatal(status)
				}
			}
		})
	}
}
