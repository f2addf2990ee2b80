package web_test

import (
	"bytes"
	"html"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/book"
	"wellwright/web/internal/form"
)

const quiet = "clear-water-iron" // the demonstration well of most tests here

// entered is the book of a well as it stands.
func (s *site) entered(t testing.TB, id book.ID) (*book.Book, string) {
	t.Helper()
	kept, err := s.Books.Text(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	b, found := book.Read(string(id), kept.Text)
	if bad := book.Mistakes(found); len(bad) > 0 {
		t.Fatal(bad)
	}
	return b, kept.Head
}

// values makes a form of pairs.
func values(pairs ...string) url.Values {
	out := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		out.Add(pairs[i], pairs[i+1])
	}
	return out
}

// A bad entry comes back with the words of the book beside its field, all that was
// typed, and nothing written; put right, it stands in the book. WCAG 2.2, 3.3.1
// and 3.3.3: the field in error is named and described in text.
func TestEachFormSavesOrExplains(t *testing.T) {
	tests := []struct {
		kind        string
		typed       []string
		beside, say string // the input in error and what is said
		right       []string
		stands      string // in the entry afterwards
	}{
		{"well", []string{"well/depth", "deep", "well/casing", "6"}, "well/depth", "number and a unit", []string{"well/depth", "180"}, "depth: 180 ft"},
		{"well", []string{"well/pressure tank/switch", "60/40 psi"}, "well/pressure tank/switch", "cut-in must be below cut-out", []string{"well/pressure tank/switch", "40/60"}, "switch: 40/60 psi"},
		{"house", []string{"house/people", "many"}, "house/people", "whole number", []string{"house/people", "4"}, "people: 4"},
		{"first-call", []string{"first call/urgency", "now"}, "first call/urgency", "not one of", []string{"first call/urgency", "urgent"}, "urgency: urgent"},
		{"local-rules", []string{"local rules/brine to septic", "perhaps"}, "local rules/brine to septic", "neither yes nor no", []string{"local rules/brine to septic", "no"}, "brine to septic: no"},
		{"wishes", []string{"wishes/budget", "cheap"}, "wishes/budget", "US dollars", []string{"wishes/budget", "$5,000"}, "budget:"},
		{"equipment", []string{"equipment/0/process", "magic box"}, "equipment/0/process", "magic box", []string{"equipment/0/process", "softener"}, "process: softener"},
		{"equipment", []string{"equipment/0/size", "10 x 54 in"}, "equipment/0/process", "missing", []string{"equipment/0/process", "softener"}, "size: 10 x 54 in"},
		{"signs", []string{"signs/0/sign", "green men"}, "signs/0/sign", "dictionary", []string{"signs/0/sign", "", "signs/0/words", "green men"}, "words: green men"},
		{"readings", []string{"readings/tap", "T1", "readings/results/1/name", "pH", "readings/results/1/value", "71"}, "readings/results/1-value", "0 to 14", []string{"readings/results/1/value", "7.1"}, "pH: 7.1"},
		{"readings", []string{"readings/results/1/name", "pH", "readings/results/1/value", "7.10"}, "readings/tap", "missing", []string{"readings/tap", "T1"}, "pH: 7.10"},
		{"readings", []string{"readings/tap", "T1", "readings/results/4/name", "total iron", "readings/results/4/value", "1,9"}, "readings/results/4-value", "not a number", []string{"readings/results/4/value", "<0.1"}, "total iron: <0.1 mg/L"},
		{"laboratory-report", []string{"laboratory report/tap", "T1", "laboratory report/results/0/name", "unobtainium", "laboratory report/results/0/value", "1 mg/L"}, "laboratory report/results/0-value", "analyte", []string{"laboratory report/results/0/name", "nitrate", "laboratory report/results/0/value", "2 mg/L as N"}, "nitrate: 2 mg/L as N"},
		{"jar-tests", []string{"jar tests/0/saw", "stays clear"}, "jar tests/0/test", "missing", []string{"jar tests/0/test", "settling"}, "test: settling"},
		{"cultures", []string{"cultures/0/of", "iron bacteria"}, "cultures/0/result", "missing", []string{"cultures/0/result", "positive"}, "result: positive"},
		{"note", nil, "note", "neither a word nor a file", []string{"note", "the owner keeps bees"}, "note: the owner keeps bees"},
		{"well", []string{"well/depth", "180", "date", "2126-03-12"}, "date", "after 2026-03-12", []string{"date", "2026-03-11"}, "depth: 180 ft"},
		{"well", []string{"well/depth", "180", "date", "yesterday"}, "date", "write 2025-05-31", []string{"date", "2026-03-11"}, "depth: 180 ft"},
	}
	s := newSite(t, quiet)
	for _, tt := range tests {
		_, head := s.entered(t, s.Wells[quiet])
		sent := values("head", head, "date", "2026-03-11", "by", "the specialist")
		for i := 0; i < len(tt.typed); i += 2 {
			sent.Set(tt.typed[i], tt.typed[i+1])
		}
		status, text := s.post(t, s.at(quiet, "/enter/"+tt.kind), sent)
		if status != http.StatusUnprocessableEntity {
			t.Errorf("%s %v: status %d, want 422", tt.kind, tt.typed, status)
			continue
		}
		if said := besideOf(text, tt.beside); !strings.Contains(said, tt.say) {
			t.Errorf("%s: beside %s stands %q, want %q", tt.kind, tt.beside, said, tt.say)
		}
		for i := 1; i < len(tt.typed); i += 2 {
			if !strings.Contains(text, html.EscapeString(tt.typed[i])) {
				t.Errorf("%s: %q is lost", tt.kind, tt.typed[i])
			}
		}
		if _, after := s.entered(t, s.Wells[quiet]); after != head {
			t.Errorf("%s: a bad entry was written", tt.kind)
		}
		for i := 0; i < len(tt.right); i += 2 {
			sent.Set(tt.right[i], tt.right[i+1])
		}
		if status, text := s.post(t, s.at(quiet, "/enter/"+tt.kind), sent); status != http.StatusSeeOther {
			t.Errorf("%s %v: status %d after it was put right: %s", tt.kind, tt.right, status, besideOf(text, tt.beside))
			continue
		}
		kept, err := s.Books.Text(t.Context(), s.Wells[quiet])
		if err != nil {
			t.Fatal(err)
		}
		if last := string(kept.Text[bytes.LastIndex(kept.Text, []byte("- entry:")):]); !strings.Contains(last, tt.stands) {
			t.Errorf("%s: %q does not stand in\n%s", tt.kind, tt.stands, last)
		}
	}
}

// besideOf is what a page says is wrong beside an input.
func besideOf(text, path string) string {
	id := form.ID(strings.TrimSuffix(path, "-value"))
	_, after, ok := strings.Cut(text, `id="`+id+`-wrong">`)
	if !ok {
		return ""
	}
	said, _, _ := strings.Cut(after, "</p>")
	return html.UnescapeString(said)
}

// Every form opens, and the list of the visit leads to each.
func TestEveryFormOpens(t *testing.T) {
	s := newSite(t, quiet)
	_, list := s.get(t, s.at(quiet, "/enter"))
	for _, k := range append(book.Kinds(), book.NoteKind) {
		name := strings.ReplaceAll(string(k), " ", "-")
		status, text := s.get(t, s.at(quiet, "/enter/"+name))
		if status != http.StatusOK || !strings.Contains(text, `name="head"`) {
			t.Errorf("%s: status %d", name, status)
		}
		if k != book.FactorKind && k != book.VariantKind && !strings.Contains(list, "/enter/"+name+`"`) {
			t.Errorf("the list does not lead to %s", name)
		}
	}
	for _, bad := range []string{"/enter/no-such-kind", "/enter/well?corrects=77", "/enter/correction?corrects=77"} {
		if status, _ := s.get(t, s.at(quiet, bad)); status != http.StatusNotFound {
			t.Errorf("%s: status %d, want 404", bad, status)
		}
	}
}

// Any form of values is either saved or comes back with all of them.
func TestAnyFormSavesOrReturnsAll(t *testing.T) {
	s := newSite(t, quiet)
	rapid.Check(t, func(rt *rapid.T) {
		_, head := s.entered(t, s.Wells[quiet])
		sent := values("head", head, "date", rapid.SampledFrom([]string{"2026-03-11", "", "x"}).Draw(rt, "date"))
		for range rapid.IntRange(1, 5).Draw(rt, "n") {
			sent.Set(rapid.SampledFrom([]string{"well/name", "well/depth", "well/pump/power", "well/remarks", "well/past shocks/0/how", "well/specific capacity/0/value", "note", "by"}).Draw(rt, "input"),
				rapid.OneOf(rapid.SampledFrom([]string{"12", "12 m", `"quoted" & <b>`, "- entry: 9", "2.4 gpm/ft", "0.75 hp"}), rapid.StringMatching(`[ -~äöü€]{0,30}`)).Draw(rt, "text"))
		}
		status, text := s.post(t, s.at(quiet, "/enter/well"), sent)
		_, after := s.entered(t, s.Wells[quiet])
		switch {
		case status == http.StatusSeeOther && after != head:
		case status == http.StatusUnprocessableEntity && after == head:
			plain := html.UnescapeString(text)
			for name, v := range sent {
				if !strings.Contains(plain, v[0]) {
					rt.Fatalf("%s %q is lost", name, v[0])
				}
			}
		default:
			rt.Fatalf("status %d, written: %v", status, after != head)
		}
	})
}

// Two people have one form open: the second is told what the first wrote, keeps
// all that was typed, and saves on top of it; nothing is written over.
func TestTheSecondIsTold(t *testing.T) {
	s := newSite(t, quiet)
	_, head := s.entered(t, s.Wells[quiet])
	first := values("head", head, "date", "2026-03-11", "by", "the first", "well/depth", "190", "well/casing", "4")
	second := values("head", head, "date", "2026-03-11", "by", "the second", "well/depth", "180", "note", "by tape")
	if status, _ := s.post(t, s.at(quiet, "/enter/well"), first); status != http.StatusSeeOther {
		t.Fatalf("the first is answered with %d", status)
	}
	before, _ := s.Books.Text(t.Context(), s.Wells[quiet])
	status, text := s.post(t, s.at(quiet, "/enter/well"), second)
	if status != http.StatusConflict {
		t.Fatalf("the second is answered with %d, want 409", status)
	}
	for _, want := range []string{"the first", "190 ft", "180 ft", `value="180"`, "by tape"} {
		if !strings.Contains(text, want) {
			t.Errorf("the second is not shown %q", want)
		}
	}
	if after, _ := s.Books.Text(t.Context(), s.Wells[quiet]); !bytes.Equal(before.Text, after.Text) {
		t.Error("something was written")
	}
	_, now := s.entered(t, s.Wells[quiet])
	if !strings.Contains(text, `name="head" value="`+now+`"`) {
		t.Error("the form does not stand on what is there now")
	}
	second.Set("head", now)
	if status, _ := s.post(t, s.at(quiet, "/enter/well"), second); status != http.StatusSeeOther {
		t.Errorf("saving again is answered with %d", status)
	}
	after, _ := s.Books.Text(t.Context(), s.Wells[quiet])
	if !bytes.HasPrefix(after.Text, before.Text) {
		t.Error("what the first wrote was changed")
	}
	if _, text := s.get(t, s.at(quiet, "/enter/stood?head="+head)); !strings.Contains(text, "the second") || !strings.Contains(text, "the first") {
		t.Errorf("who has the form open still is not told: %s", text)
	}
}

// A form that is sent twice, because the first answer was lost on its way, makes
// one entry.
func TestSentTwiceStandsOnce(t *testing.T) {
	s := newSite(t, quiet)
	_, head := s.entered(t, s.Wells[quiet])
	sent := values("head", head, "date", "2026-03-11", "time", "14:05", "signs/see/slime_in_tank", "seen", "signs/see/swampy_smell", "not")
	for range 2 {
		if status, _ := s.post(t, s.at(quiet, "/enter/signs"), sent); status != http.StatusSeeOther {
			t.Fatalf("status %d", status)
		}
	}
	b, _ := s.entered(t, s.Wells[quiet])
	n := 0
	for _, e := range b.Entries {
		if e.Kind == book.SignsKind && e.On.Format("2006-01-02 15:04") == "2026-03-11 14:05" {
			n++
		}
	}
	if n != 1 {
		t.Errorf("%d entries, want one", n)
	}
}

// A correction opens filled in with the entry, asks why, and replaces it; a wrong
// entry can be taken back with its reason.
func TestCorrectAndTakeBack(t *testing.T) {
	s := newSite(t, quiet)
	b, head := s.entered(t, s.Wells[quiet])
	i := slices.IndexFunc(b.Entries, func(e book.Entry) bool { return e.Kind == book.WellKind })
	id := b.Entries[i].ID
	_, text := s.get(t, s.at(quiet, "/enter/well?corrects="+id))
	for _, want := range []string{`value="132 ft"`, `value="8.5 gpm at 45 psi"`, `name="why"`, `name="corrects" value="` + id + `"`} {
		if !strings.Contains(text, want) && !strings.Contains(text, strings.TrimSuffix(strings.TrimPrefix(want, `value="`), `"`)) {
			t.Errorf("the form of entry %s lacks %s", id, want)
		}
	}
	sent := values("head", head, "date", "2026-03-11", "corrects", id, "well/depth", "142 ft")
	if status, text := s.post(t, s.at(quiet, "/enter/well"), sent); status != http.StatusUnprocessableEntity || besideOf(text, "why") == "" {
		t.Errorf("a correction without its reason is answered with %d", status)
	}
	sent.Set("why", "tape read wrong")
	if status, text := s.post(t, s.at(quiet, "/enter/well"), sent); status != http.StatusSeeOther {
		t.Fatalf("the correction is answered with %d: %s", status, text)
	}
	b, head = s.entered(t, s.Wells[quiet])
	last := b.Entries[len(b.Entries)-1]
	if last.Corrects != id || last.Why != "tape read wrong" {
		t.Errorf("the last entry corrects %q because %q", last.Corrects, last.Why)
	}
	if status, _ := s.get(t, s.at(quiet, "/enter/well?corrects="+id)); status != http.StatusBadRequest {
		t.Errorf("an entry that was corrected already can be corrected again: status %d", status)
	}
	if status, text := s.get(t, s.at(quiet, "/enter/correction?corrects="+last.ID)); status != http.StatusOK || strings.Contains(text, `name="files"`) {
		t.Errorf("the form to take an entry back: status %d", status)
	}
	back := values("head", head, "date", "2026-03-12", "corrects", last.ID, "why", "it was right after all")
	if status, _ := s.post(t, s.at(quiet, "/enter/correction"), back); status != http.StatusSeeOther {
		t.Errorf("taking back is answered with %d", status)
	}
	b, _ = s.entered(t, s.Wells[quiet])
	if e := b.Entries[len(b.Entries)-1]; e.Kind != book.WithdrawalKind || e.Corrects != last.ID {
		t.Errorf("the last entry is a %s of %q", e.Kind, e.Corrects)
	}
}

// One more item of a list costs nothing that was typed.
func TestOneMore(t *testing.T) {
	s := newSite(t, quiet)
	_, head := s.entered(t, s.Wells[quiet])
	status, text := s.post(t, s.at(quiet, "/enter/jar-tests"), values("head", head, "date", "2026-03-11", "jar tests/0/test", "settling", "jar tests/0/note", "faint", "more", "jar tests"))
	if status != http.StatusOK || !strings.Contains(text, `name="jar tests/1/note"`) || !strings.Contains(text, `value="faint"`) {
		t.Errorf("status %d, or no second jar, or the first lost", status)
	}
	status, text = s.post(t, s.at(quiet, "/enter/readings"), values("head", head, "readings/results/15/name", "nitrate", "more", "readings/results"))
	if status != http.StatusOK || !strings.Contains(text, `name="readings/results/16/name"`) || !strings.Contains(text, `value="nitrate"`) {
		t.Errorf("status %d, or no room for another analyte", status)
	}
}

// sendFiles sends a form with files.
func (s *site) sendFiles(t testing.TB, address string, form url.Values, field string, files map[string][]byte) (int, string) {
	t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	for name, vs := range form {
		for _, v := range vs {
			if err := m.WriteField(name, v); err != nil {
				t.Fatal(err)
			}
		}
	}
	for name, content := range files {
		part, err := m.CreateFormFile(field, name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := part.Write(content); err != nil {
			t.Fatal(err)
		}
	}
	if err := m.Close(); err != nil {
		t.Fatal(err)
	}
	r, err := http.NewRequestWithContext(t.Context(), http.MethodPost, address, &body)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", m.FormDataContentType())
	return s.send(t, r)
}
