package web_test

import (
	"bytes"
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"wellwright/book"
)

// picture is a PNG of one point (signature and chunks: PNG, third edition, W3C).
var picture = []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01\x00\x00\x00\x01\x08\x00\x00\x00\x00:~\x9bU\x00\x00\x00\nIDATx\x9cc`\x00\x00\x00\x02\x00\x01H\xaf\xa4q\x00\x00\x00\x00IEND\xaeB`\x82")

// A photograph comes with an entry, byte for byte, and is shown by its hash; it
// outlives a form that has to be put right first.
func TestPhotographOutlivesABadEntry(t *testing.T) {
	s := newSite(t, quiet)
	_, head := s.entered(t, s.Wells[quiet])
	sent := values("head", head, "date", "2026-03-11", "well/depth", "deep")
	status, text := s.sendFiles(t, s.at(quiet, "/enter/well"), sent, "files", map[string][]byte{"pit.png": picture})
	key := regexp.MustCompile(`name="kept" value="([0-9a-f]{32})"`).FindStringSubmatch(text)
	if status != http.StatusUnprocessableEntity || key == nil || !strings.Contains(text, "pit.png") {
		t.Fatalf("status %d; the photograph is not held", status)
	}
	sent.Set("kept", key[1])
	sent.Set("well/depth", "180")
	if status, _ := s.post(t, s.at(quiet, "/enter/well"), sent); status != http.StatusSeeOther {
		t.Fatalf("status %d", status)
	}
	files, err := s.Books.Files(t.Context(), s.Wells[quiet])
	if err != nil || len(files) != 1 || files[0].Name != "pit.png" || files[0].Hash != book.FileHash(picture) {
		t.Fatalf("files %+v, %v", files, err)
	}
	r, _ := http.NewRequest(http.MethodGet, s.at(quiet, "/files/"+files[0].Hash), nil)
	answer, err := s.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	var got bytes.Buffer
	if _, err := got.ReadFrom(answer.Body); err != nil || !bytes.Equal(got.Bytes(), picture) {
		t.Errorf("%d bytes come back, want those received (%v)", got.Len(), err)
	}
	for header, want := range map[string]string{"Content-Type": "image/png", "X-Content-Type-Options": "nosniff", "Content-Security-Policy": "default-src 'none'; sandbox; frame-ancestors 'none'"} {
		if answer.Header.Get(header) != want {
			t.Errorf("%s: %q, want %q", header, answer.Header.Get(header), want)
		}
	}
	if _, list := s.get(t, s.at(quiet, "/enter")); !strings.Contains(list, "/files/"+files[0].Hash) {
		t.Error("the list does not show it")
	}
}

// What could run in a browser never does: it is given to be saved, as bytes
// (WHATWG HTML: a document or an SVG image runs its scripts when it is shown).
func TestUploadedPageNeverRuns(t *testing.T) {
	s := newSite(t, quiet)
	for name, content := range map[string]string{
		"evil.html": "<html><script>alert(1)</script>", "evil.svg": `<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`,
		"evil.png": "<script>alert(1)</script>", "evil.xml": `<?xml version="1.0"?><x:script xmlns:x="http://www.w3.org/1999/xhtml">alert(1)</x:script>`, "evil.js": "alert(1)",
	} {
		_, head := s.entered(t, s.Wells[quiet])
		if status, _ := s.sendFiles(t, s.at(quiet, "/enter/note"), values("head", head, "date", "2026-03-11", "note", name), "files", map[string][]byte{name: []byte(content)}); status != http.StatusSeeOther {
			t.Fatalf("%s: status %d", name, status)
		}
		answer, err := s.Client().Get(s.at(quiet, "/files/"+book.FileHash([]byte(content))))
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		kind := answer.Header.Get("Content-Type")
		if !strings.HasPrefix(answer.Header.Get("Content-Disposition"), "attachment") || kind != "application/octet-stream" && kind != "text/plain; charset=utf-8" {
			t.Errorf("%s is shown as %s, %s", name, kind, answer.Header.Get("Content-Disposition"))
		}
	}
	if status, _ := s.get(t, s.at(quiet, "/files/"+strings.Repeat("0", 64))); status != http.StatusNotFound {
		t.Errorf("a file that is not there: status %d", status)
	}
}

// Uploads are bounded in number and in size, and what is too much costs nothing
// that was typed.
func TestUploadsAreBounded(t *testing.T) {
	s := newSite(t, quiet)
	_, head := s.entered(t, s.Wells[quiet])
	sent := values("head", head, "date", "2026-03-11", "note", "the pit, dry")
	many := map[string][]byte{}
	for i := range book.MaxFiles + 1 {
		many[fmt.Sprintf("%d.txt", i)] = []byte{byte('a' + i)}
	}
	status, text := s.sendFiles(t, s.at(quiet, "/enter/note"), sent, "files", many)
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, "at most 20 files") || !strings.Contains(text, "the pit, dry") {
		t.Errorf("%d files: status %d", len(many), status)
	}
	status, text = s.sendFiles(t, s.at(quiet, "/enter/note"), sent, "files", map[string][]byte{"big.jpg": make([]byte, book.MaxFile+1)})
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, "a file may have") || !strings.Contains(text, "the pit, dry") {
		t.Errorf("a large file: status %d", status)
	}
	if status, _ := s.sendFiles(t, s.at(quiet, "/enter/note"), sent, "files", map[string][]byte{"huge.jpg": make([]byte, 33<<20)}); status != http.StatusRequestEntityTooLarge {
		t.Errorf("a request above the bound: status %d, want 413", status)
	}
	if status, text := s.sendFiles(t, s.at(quiet, "/enter/note"), sent, "files", map[string][]byte{"none.jpg": {}}); status != http.StatusUnprocessableEntity || !strings.Contains(text, "empty") {
		t.Errorf("an empty file: status %d", status)
	}
	if b, _ := s.entered(t, s.Wells[quiet]); b.Hash() != head {
		t.Error("something was written")
	}
}

// Whatever a file is called, what is kept has a plain name (RFC 7578, 4.2: never
// trust the path of a sender).
func TestNamesOfFilesArePlain(t *testing.T) {
	s := newSite(t, quiet)
	for i, name := range []string{`..\..\windows\pit.png`, "/etc/passwd.png", "a\u202egnp.exe.png", strings.Repeat("ä", 300) + ".png", "..", "<b>.png"} {
		_, head := s.entered(t, s.Wells[quiet])
		if status, text := s.sendFiles(t, s.at(quiet, "/enter/note"), values("head", head, "date", "2026-03-11", "note", "x"), "files", map[string][]byte{name: append([]byte{byte(i)}, picture...)}); status != http.StatusSeeOther {
			t.Errorf("%q: status %d: %s", name, status, text)
		}
	}
	files, err := s.Books.Files(t.Context(), s.Wells[quiet])
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if strings.ContainsAny(f.Name, `/\`+"\u202e") || len(f.Name) > 200 {
			t.Errorf("kept as %q", f.Name)
		}
	}
	if _, list := s.get(t, s.at(quiet, "/enter")); strings.Contains(list, "<b>.png") {
		t.Error("a name is written into the page as it is")
	}
}
