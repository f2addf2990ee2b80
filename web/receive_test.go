package web_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"html"
	"io"
	"net/http"
	"net/url"
	"os"
	"regexp"
	"runtime"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"wellwright/book"
	"wellwright/water"
)

// report is a table as a small laboratory might send it.
const report = "Sample Date,Parameter,Result,Units,Qualifier\n2026-03-02,\"Iron, total\",1.40,mg/L,\n2026-03-02,pH,7.3,SU,\n2026-03-02,Phlogiston,3,mg/L,\n2026-03-02,Nitrate as N,<0.05,mg/L,\n2026-03-02,Manganese,=cmd|' /C calc'!A0,mg/L,\n"

// inputsOf are the inputs of a page's last form, as a browser would send them.
func inputsOf(text string) url.Values {
	out := url.Values{}
	attribute := func(tag, name string) (string, bool) {
		m := regexp.MustCompile(`\s` + name + `="([^"]*)"`).FindStringSubmatch(tag)
		if m == nil {
			return "", false
		}
		return html.UnescapeString(m[1]), true
	}
	text = text[strings.Index(text, "<main"):]
	for _, tag := range regexp.MustCompile(`<input[^>]*>`).FindAllString(text, -1) {
		name, ok := attribute(tag, "name")
		kind, _ := attribute(tag, "type")
		if !ok || kind == "file" || (kind == "checkbox" || kind == "radio") && !strings.Contains(tag, " checked") {
			continue
		}
		v, _ := attribute(tag, "value")
		out.Add(name, v)
	}
	for _, m := range regexp.MustCompile(`(?s)<select[^>]* name="([^"]*)".*?</select>`).FindAllStringSubmatch(text, -1) {
		chosen := regexp.MustCompile(`<option(?: value="([^"]*)")? selected>([^<]*)`).FindStringSubmatch(m[0])
		if chosen == nil {
			chosen = regexp.MustCompile(`<option(?: value="([^"]*)")?>([^<]*)`).FindStringSubmatch(m[0])
			if strings.Contains(m[0], `<option value="">`) {
				out.Add(m[1], "")
				continue
			}
		}
		v := chosen[1]
		if v == "" && !strings.Contains(chosen[0], `value=""`) {
			v = chosen[2]
		}
		out.Add(m[1], html.UnescapeString(v))
	}
	return out
}

// A report is shown, value by value, as received beside as it would stand; only
// what is accepted is written, with the file byte for byte. A formula is text.
func TestReceiveShowsThenTakes(t *testing.T) {
	s := newSite(t, quiet)
	b, head := s.entered(t, s.Wells[quiet])
	before := len(b.Entries)
	at := s.at(quiet, "/receive")
	status, text := s.sendFiles(t, at, values("step", "look", "by", "the specialist"), "file", map[string][]byte{"lab 118.csv": []byte(report)})
	if status != http.StatusOK {
		t.Fatalf("status %d", status)
	}
	plain := html.UnescapeString(text)
	for _, want := range []string{"lab 118.csv", "line 2", "total iron: 1.40 mg/L", "nitrate: <0.05 mg/L", "Phlogiston", "not an analyte known here", "=cmd|' /C calc'!A0", "refused"} {
		if !strings.Contains(plain, want) {
			t.Errorf("the page does not show %q", want)
		}
	}
	if _, after := s.entered(t, s.Wells[quiet]); after != head {
		t.Fatal("something was written before it was accepted")
	}
	sent := inputsOf(text)
	sent.Set("step", "accept")
	if status, text := s.post(t, at, sent); status != http.StatusSeeOther {
		t.Fatalf("accepting: status %d %s", status, text)
	}
	b, _ = s.entered(t, s.Wells[quiet])
	if len(b.Entries) != before+1 {
		t.Fatalf("%d entries were added, want one a sample", len(b.Entries)-before)
	}
	last := b.Entries[len(b.Entries)-1]
	rep, ok := last.Body.(*water.Report)
	if !ok || rep.SHA256 != book.FileHash([]byte(report)) || len(rep.Results) != 3 || last.By != "the specialist" {
		t.Fatalf("the entry holds %+v by %q", last.Body, last.By)
	}
	f, err := s.Books.File(t.Context(), s.Wells[quiet], rep.SHA256)
	if err != nil || string(f.Content) != report {
		t.Errorf("the file is not kept as it was received (%v)", err)
	}
	// The same file again: it stands in the book already.
	_, text = s.sendFiles(t, at, values("step", "look"), "file", map[string][]byte{"lab 118.csv": []byte(report)})
	if !strings.Contains(text, "stands in the book already, as entry "+last.ID) {
		t.Error("the second time it is not known again")
	}
}

// What the columns mean can be changed, is shown anew before it can be accepted,
// and is used again for the next file of that form.
func TestMappingIsCorrectedAndKept(t *testing.T) {
	s := newSite(t, quiet)
	at := s.at(quiet, "/receive")
	_, text := s.sendFiles(t, at, values("step", "look"), "file", map[string][]byte{"a.csv": []byte(report)})
	sent := inputsOf(text)
	named := false
	for name, v := range sent {
		if strings.HasSuffix(name, "/theirs") && v[0] == "Phlogiston" {
			sent.Set(strings.TrimSuffix(name, "theirs")+"ours", "calcium")
			named = true
		}
	}
	if !named {
		t.Fatal("no name is asked for what nobody knows")
	}
	sent.Set("step", "accept")
	if status, text := s.post(t, at, sent); status != http.StatusUnprocessableEntity || !strings.Contains(text, "was changed since the values were shown") {
		t.Fatalf("a mapping that was not looked at is answered with %d", status)
	}
	sent.Set("step", "look")
	status, text := s.post(t, at, sent)
	if status != http.StatusOK || !strings.Contains(text, "calcium: 3 mg/L") {
		t.Fatalf("status %d, or the changed meaning is not shown", status)
	}
	sent = inputsOf(text)
	sent.Set("step", "accept")
	if status, text := s.post(t, at, sent); status != http.StatusSeeOther {
		t.Fatalf("status %d: %s", status, text)
	}
	next := strings.ReplaceAll(report, "2026-03-02", "2026-03-05")
	_, text = s.sendFiles(t, at, values("step", "look"), "file", map[string][]byte{"b.csv": []byte(next)})
	if !strings.Contains(text, "a.mapping.yaml") || !strings.Contains(text, "calcium: 3 mg/L") {
		t.Error("the mapping is not used again")
	}
	accepted := inputsOf(text)
	accepted.Set("step", "accept")
	if status, _ := s.post(t, at, accepted); status != http.StatusSeeOther {
		t.Errorf("the next file: status %d", status)
	}
	files, err := s.Books.Files(t.Context(), s.Wells[quiet])
	if err != nil {
		t.Fatal(err)
	}
	kept := 0
	for _, f := range files {
		if strings.HasSuffix(f.Name, ".mapping.yaml") {
			kept++
		}
	}
	if kept != 1 {
		t.Errorf("the mapping is kept %d times, want once", kept)
	}
	_, text = s.sendFiles(t, at, values("step", "look"), "file", map[string][]byte{"c.csv": []byte(strings.ReplaceAll(report, "2026-03-02", "2026-03-06"))})
	sent = inputsOf(text)
	sent.Set("layout", "a sample a line")
	sent.Set("step", "look")
	if status, text := s.post(t, at, sent); status != http.StatusUnprocessableEntity || !strings.Contains(html.UnescapeString(text), `want at least one column that is result`) || !strings.Contains(text, `name="column/0/is"`) {
		t.Errorf("a mapping that cannot be: status %d, or its columns are lost", status)
	}
}

// A pasted table is taken as a file is.
func TestPaste(t *testing.T) {
	s := newSite(t, quiet)
	at := s.at(quiet, "/receive")
	status, text := s.post(t, at, values("step", "look", "pasted", "Analyte\tResult\tUnits\r\nIron, ferrous\t1.2\tmg/L\r\n", "on", "2026-03-02", "tap", "t2"))
	if status != http.StatusOK || !strings.Contains(text, "ferrous iron: 1.2 mg/L") || !strings.Contains(text, "tap T2") {
		t.Fatalf("status %d", status)
	}
	sent := inputsOf(text)
	sent.Set("step", "accept")
	if status, text := s.post(t, at, sent); status != http.StatusSeeOther {
		t.Fatalf("status %d: %s", status, text)
	}
}

// Of a file of several sites one is chosen; nothing of the others is taken.
func TestSeveralSites(t *testing.T) {
	s := newSite(t, quiet)
	at := s.at(quiet, "/receive")
	text := "Site,Date,Analyte,Result,Units\nA,2026-03-02,Iron,1,mg/L\nB,2026-03-02,Iron,7,mg/L\n"
	_, page := s.sendFiles(t, at, values("step", "look"), "file", map[string][]byte{"two.csv": []byte(text)})
	if strings.Contains(page, "iron: 7 mg/L") || !strings.Contains(page, "choose one") {
		t.Fatal("values are shown before a site is chosen")
	}
	sent := inputsOf(page)
	sent.Set("site", "B")
	_, page = s.post(t, at, sent)
	if !strings.Contains(page, "iron: 7 mg/L") || strings.Contains(page, "iron: 1 mg/L") {
		t.Fatal("not the samples of the site that was chosen")
	}
	sent = inputsOf(page)
	sent.Set("step", "accept")
	if status, _ := s.post(t, at, sent); status != http.StatusSeeOther {
		t.Errorf("status %d", status)
	}
}

// Somebody adds to the book while a report is looked at: it is told, and accepted
// on top of that.
func TestReceiveOvertaken(t *testing.T) {
	s := newSite(t, quiet)
	at := s.at(quiet, "/receive")
	_, text := s.sendFiles(t, at, values("step", "look"), "file", map[string][]byte{"a.csv": []byte(report)})
	_, head := s.entered(t, s.Wells[quiet])
	if status, _ := s.post(t, s.at(quiet, "/enter/note"), values("head", head, "date", "2026-03-11", "note", "x")); status != http.StatusSeeOther {
		t.Fatal(status)
	}
	sent := inputsOf(text)
	sent.Set("step", "accept")
	if status, text := s.post(t, at, sent); status != http.StatusSeeOther { // it stands on what is there when it is accepted
		t.Errorf("status %d: %s", status, text)
	}
}

// bomb is a workbook whose one sheet unpacks to some size: zeros press a
// thousandfold (DEFLATE, RFC 1951).
func bomb(t *testing.T, unpacked int) []byte {
	f := excelize.NewFile()
	var plain bytes.Buffer
	if err := f.Write(&plain); err != nil {
		t.Fatal(err)
	}
	in, err := zip.NewReader(bytes.NewReader(plain.Bytes()), int64(plain.Len()))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, x := range in.File {
		to, err := w.Create(x.Name)
		if err != nil {
			t.Fatal(err)
		}
		if x.Name != "xl/worksheets/sheet1.xml" {
			from, err := x.Open()
			if err != nil {
				t.Fatal(err)
			}
			if _, err := io.Copy(to, from); err != nil {
				t.Fatal(err)
			}
			continue
		}
		fmt.Fprint(to, `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`)
		row := bytes.Repeat([]byte(`<row><c t="str"><v>x</v></c></row>`), 1000)
		for n := 0; n < unpacked; n += len(row) {
			if _, err := to.Write(row); err != nil {
				t.Fatal(err)
			}
		}
		fmt.Fprint(to, `</sheetData></worksheet>`)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A workbook that unpacks to far more than it has is refused, and takes neither
// memory nor time.
func TestWorkbookBomb(t *testing.T) {
	s := newSite(t, quiet)
	b := bomb(t, 600<<20)
	if len(b) > 8<<20 {
		t.Fatalf("the bomb has %d bytes: no bomb", len(b))
	}
	runtime.GC()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	status, text := s.sendFiles(t, s.at(quiet, "/receive"), values("step", "look"), "file", map[string][]byte{"bomb.xlsx": b})
	runtime.ReadMemStats(&after)
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, "bomb.xlsx") {
		t.Errorf("status %d", status)
	}
	if grown := (after.Sys - before.Sys) >> 20; grown > 500 {
		t.Errorf("the program grew by %d MiB: unpacked bytes are bounded at 64 MiB", grown)
	}
}

// A workbook is read sheet by sheet, each with meanings of its own; what stands in
// its cells stands in the book.
func TestWorkbook(t *testing.T) {
	f := excelize.NewFile()
	fill := func(sheet string, rows [][]any) {
		for i, row := range rows {
			if err := f.SetSheetRow(sheet, fmt.Sprintf("A%d", i+1), &row); err != nil {
				t.Fatal(err)
			}
		}
	}
	fill("Sheet1", [][]any{{"Analyte", "Result", "Units", "Date"}, {"Iron, total", 1.4, "mg/L", "2026-03-02"}})
	if _, err := f.NewSheet("Second"); err != nil {
		t.Fatal(err)
	}
	fill("Second", [][]any{{"Date", "pH", "Chloride (mg/L)"}, {"2026-03-03", 7.3, 12}})
	var book bytes.Buffer
	if err := f.Write(&book); err != nil {
		t.Fatal(err)
	}
	s := newSite(t, quiet)
	at := s.at(quiet, "/receive")
	status, page := s.sendFiles(t, at, values("step", "look"), "file", map[string][]byte{"lab.xlsx": book.Bytes()})
	if status != http.StatusOK || !strings.Contains(page, "total iron: 1.4 mg/L") || !strings.Contains(page, "Sheet1!B2") {
		t.Fatalf("status %d, or the first sheet is not shown", status)
	}
	sent := inputsOf(page)
	sent.Set("worksheet", "Second")
	_, page = s.post(t, at, sent)
	if !strings.Contains(page, "chloride: 12 mg/L") || strings.Contains(page, "total iron: ") {
		t.Fatalf("the second sheet is not shown: %s", regexp.MustCompile(`(?s)<table class="values">.*</table>|<section class="mistakes.*?</section>`).FindString(page))
	}
	sent = inputsOf(page)
	sent.Set("step", "accept")
	if status, page := s.post(t, at, sent); status != http.StatusSeeOther {
		t.Errorf("status %d: %s", status, page)
	}
}

// What is no table is refused with the reason, and nothing at all is asked for
// again kindly.
func TestNoTable(t *testing.T) {
	s := newSite(t, quiet)
	at := s.at(quiet, "/receive")
	for name, tt := range map[string]struct{ content, say string }{
		"report.pdf": {"%PDF-1.7 ...", "a PDF"},
		"page.html":  {"<html><script>alert(1)</script>", "a web page"},
		"empty.csv":  {"", "empty"},
		"words.csv":  {"once upon a time\nthere was a well\n", "no line of column names"},
	} {
		status, text := s.sendFiles(t, at, values("step", "look"), "file", map[string][]byte{name: []byte(tt.content)})
		if status != http.StatusUnprocessableEntity || !strings.Contains(text, tt.say) {
			t.Errorf("%s: status %d, want the words %q", name, status, tt.say)
		}
	}
	if status, text := s.post(t, at, values("step", "look")); status != http.StatusUnprocessableEntity || !strings.Contains(text, "no file") {
		t.Errorf("nothing at all: status %d", status)
	}
	if status, text := s.post(t, at, values("step", "accept", "key", "00000000000000000000000000000000")); status != http.StatusUnprocessableEntity || !strings.Contains(text, "no longer held") {
		t.Errorf("a file that is not held: status %d", status)
	}
}

// FuzzReceive sends any text as a pasted table with any meaning of its first
// column: the page answers, writes nothing, and never breaks.
func FuzzReceive(f *testing.F) {
	f.Add(report, "analyte", "a result a line")
	f.Add("Analyte\tResult\nIron\t1\n", "result", "a sample a line")
	f.Add("\x00\xff;;;\"", "figures", "a sample a column")
	s := newSite(f, quiet)
	_, head := s.entered(f, s.Wells[quiet])
	f.Fuzz(func(t *testing.T, text, is, layout string) {
		at := s.at(quiet, "/receive")
		status, page := s.post(t, at, values("step", "look", "pasted", text))
		if status != http.StatusOK && status != http.StatusUnprocessableEntity {
			t.Fatalf("status %d", status)
		}
		sent := inputsOf(page)
		sent.Set("layout", layout)
		sent.Set("column/0/is", is)
		if status, _ := s.post(t, at, sent); status != http.StatusOK && status != http.StatusUnprocessableEntity {
			t.Fatalf("status %d with a mapping of its own", status)
		}
		if _, after := s.entered(t, s.Wells[quiet]); after != head {
			t.Fatal("something was written")
		}
	})
}

// portal is a real export of a water-quality portal.
func portal(t *testing.T) []byte {
	t.Helper()
	const name = "../../shared/data/wqp-raw-exports"
	all, err := os.ReadDir(name)
	if err != nil {
		t.Skipf("no exports of a portal here: %v", err)
	}
	for _, x := range all {
		if text, err := os.ReadFile(name + "/" + x.Name()); err == nil && bytes.HasPrefix(text, []byte("OrganizationIdentifier")) && bytes.Contains(text[:2000], []byte("ResultMeasureValue")) && len(text) < book.MaxFile {
			return text
		}
	}
	t.Skip("no export of results in " + name)
	return nil
}
