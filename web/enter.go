package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"wellwright/book"
	"wellwright/water"
	"wellwright/web/internal/form"
)

// visitPage lists what can be entered of a well, in the order of the work, with
// what is there and what is missing.
type visitPage struct {
	frame
	Saved []string // entries that were added just now
	Parts []visitPart
}

// visitPart is one kind of entry in the list.
type visitPart struct {
	Slug, Title, What string
	Enter             string // where to enter one
	Words             string // of the link there
	There             []entryRow
	Missing           []string
	Taps              []visitTap // of readings
}

// visitTap is a tap to read at.
type visitTap struct {
	Tap, Say, Path string
	Read           string // when it was read last; "" for not yet
}

// entryRow is an entry that stands.
type entryRow struct {
	ID, On, By, Says  string
	Correct, Withdraw string // where to
	Files             []fileRow
}

// fileRow is a file of an entry.
type fileRow struct {
	Name, Path string
	Picture    bool // a browser can show it
}

// visitParts are the kinds of entry in the order of a visit. Common practice:
// listen, look, read what spoils, then measure the well and ask about the house.
var visitParts = []struct {
	kind         book.Kind
	title, words string
}{
	{book.CallKind, "First call", "Write down a call"},
	{book.SignsKind, "Signs", "Go through the signs"},
	{book.ReadingsKind, "Readings on site, by tap", "Another tap"},
	{book.JarsKind, "Jars", "Write down jars"},
	{book.CulturesKind, "Cultures", "Write down a culture"},
	{book.WellKind, "Well, pump and tank", "Fill in the well record"},
	{book.HouseKind, "House", "Fill in the house"},
	{book.EquipmentKind, "Equipment already there", "Write down equipment"},
	{book.RulesKind, "Local rules", "Fill in the rules"},
	{book.WishesKind, "Wishes and limits", "Fill in the wishes"},
	{book.LaboratoryKind, "Laboratory report", "Type a report"},
	{book.NoteKind, "Photographs and notes", "Add a photograph or a note"},
}

// wanted are the keys that most answers hang on, by kind: what a specialist should
// not leave a site without. Common practice.
var wanted = map[book.Kind][]string{
	book.CallKind: {"urgency", "complaint", "anyone ill", "others"},
	book.WellKind: {"depth", "casing", "static level", "yield test/flow", "cap vermin-proof", "pump/measured at the tank", "pump/drive", "pressure tank/kind", "pressure tank/switch",
		"pressure tank/drawdown", "pipe/size"},
	book.HouseKind:  {"people", "infants", "baths", "daily use", "peak", "drains", "septic", "room/height", "room/floor drain", "room/frost", "owner/carries salt", "owner/handles chemicals"},
	book.RulesKind:  {"brine to septic", "backwash to septic", "well work licensed"},
	book.WishesKind: {"jurisdiction", "budget"},
}

// spoils are the readings that cannot be had from a bottle. Source: the holding
// times of package water; iron's form, sulfide and oxygen change within minutes
// (common practice).
var spoils = []string{"temperature", "pH", "ferrous iron", "total iron", "sulfide", "dissolved oxygen"}

// showVisit handles GET /wells/{well}/enter.
func (s *Server) showVisit(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	files, err := s.Store.Files(r.Context(), o.id)
	if err != nil {
		return fmt.Errorf("list files: %w", err)
	}
	p := visitPage{frame: s.framed(r, o, "enter", "Enter"), Saved: r.URL.Query()["saved"]}
	for _, part := range visitParts {
		at := enterPath(o.id, part.kind)
		one := visitPart{Slug: slug(part.kind), Title: part.title, Words: part.words, Enter: at, There: entryRows(o, part.kind, files, p.view), Missing: missingOf(o, part.kind)}
		if key, ok := book.KeyOf(part.kind); ok {
			one.What = key.What
		}
		if part.kind == book.ReadingsKind {
			one.Taps = visitTaps(o, at, p.view)
		}
		p.Parts = append(p.Parts, one)
	}
	return s.render(w, r, "enter.html", p)
}

// slug is a kind as it stands in a path.
func slug(k book.Kind) string { return strings.ReplaceAll(string(k), " ", "-") }

// enterPath is where an entry of a kind is entered.
func enterPath(id book.ID, k book.Kind) string { return "/wells/" + string(id) + "/enter/" + slug(k) }

// kindOf reads a kind from a path.
func kindOf(text string) (book.Kind, error) {
	k := book.Kind(strings.ReplaceAll(text, "-", " "))
	if k == book.NoteKind || k == book.WithdrawalKind || slices.Contains(book.Kinds(), k) {
		return k, nil
	}
	return "", missing("there is no entry of the kind " + text)
}

// stands reports whether no entry corrects e or takes it back. One that is dated
// later than today by a slip stands too: it must be there to be taken back.
func stands(b *book.Book, e book.Entry) bool {
	return e.Kind != book.WithdrawalKind && !slices.ContainsFunc(b.Entries, func(x book.Entry) bool { return x.Corrects == e.ID })
}

// entryRows are the entries of a kind that stand, the newest first.
func entryRows(o opened, k book.Kind, files []book.File, v view) []entryRow {
	var out []entryRow
	for _, e := range slices.Backward(o.book.Entries) {
		if e.Kind != k || !stands(o.book, e) {
			continue
		}
		row := entryRow{ID: e.ID, On: v.Date(e.On), By: e.By, Says: saysOf(e),
			Correct:  enterPath(o.id, k) + "?corrects=" + e.ID,
			Withdraw: enterPath(o.id, book.WithdrawalKind) + "?corrects=" + e.ID}
		for _, f := range e.Enclosures() {
			row.Files = append(row.Files, fileRowOf(o.id, f, files))
		}
		out = append(out, row)
	}
	return out
}

func fileRowOf(id book.ID, f book.Enclosed, files []book.File) fileRow {
	row := fileRow{Name: f.Name}
	for _, x := range files {
		if x.Hash == f.SHA256 {
			row.Path = "/wells/" + string(id) + "/files/" + x.Hash
			row.Picture = shown[x.Type] && x.Type != "image/heic"
		}
	}
	return row
}

// mostSaid is how many facts of an entry its line in the list says.
const mostSaid = 6

// saysOf is the beginning of what an entry says.
func saysOf(e book.Entry) string {
	facts := facts(e.Section, "")
	if len(facts) == 0 {
		return e.Note
	}
	var said []string
	for _, f := range facts[:min(len(facts), mostSaid)] {
		said = append(said, strings.TrimSpace(f.Key+" "+f.Text))
	}
	if n := len(facts) - mostSaid; n > 0 {
		said = append(said, fmt.Sprintf("and %d more", n))
	}
	return strings.Join(said, ", ")
}

// fact is one thing that an entry says.
type fact struct{ Path, Key, Text string }

// facts are the single values of an entry in its own order.
func facts(v book.Value, path string) []fact {
	if v.Shape == book.Text && v.Text != "" {
		key := path[strings.LastIndexByte(path, '/')+1:]
		if _, err := strconv.Atoi(key); err == nil {
			key = ""
		}
		text := v.Text
		if key == "sign" {
			text = strings.ReplaceAll(text, "_", " ")
		}
		return []fact{{path, key, text}}
	}
	var out []fact
	for _, p := range v.Pairs {
		out = append(out, facts(p.Value, strings.TrimPrefix(path+"/"+p.Key, "/"))...)
	}
	for i, item := range v.List {
		out = append(out, facts(item, strings.TrimPrefix(path+"/"+strconv.Itoa(i), "/"))...)
	}
	return out
}

// missingOf names what is wanted of a kind and not in the book.
func missingOf(o opened, k book.Kind) []string {
	var out []string
	for _, path := range wanted[k] {
		if _, ok := o.present.From[string(k)+"/"+path]; !ok {
			out = append(out, strings.ReplaceAll(path, "/", ": "))
		}
	}
	if k == book.ReadingsKind {
		for _, name := range spoils {
			if !readRaw(o.present, name) {
				out = append(out, name+" of the raw water")
			}
		}
	}
	return out
}

// readRaw reports whether an analyte was read on site in raw water.
func readRaw(p book.Present, name string) bool {
	a, f, _, _ := water.ParseAnalyte(name)
	for _, rep := range p.Reports {
		raw := rep.Field && (rep.Tap == "T0" || rep.Tap == "T1")
		if raw && slices.ContainsFunc(rep.Results, func(r water.Result) bool { return r.Analyte == a && (r.Fraction == f || f == water.Unspecified) }) {
			return true
		}
	}
	return false
}

// visitTaps are the taps of a well: raw, one for each vessel there is, kitchen and
// hot, and those that were read.
func visitTaps(o opened, at string, v view) []visitTap {
	taps := []string{"T0", "T1"}
	for i := range o.present.Equipment {
		taps = append(taps, "T"+strconv.Itoa(i+2))
	}
	taps = append(taps, "K", "H")
	last := map[string]string{}
	for _, rep := range o.present.Reports {
		tap := string(rep.Tap)
		if !slices.Contains(taps, tap) {
			taps = append(taps, tap)
		}
		if rep.Field {
			last[tap] = v.Date(rep.Sampled)
		}
	}
	out := make([]visitTap, len(taps))
	for i, tap := range taps {
		out[i] = visitTap{Tap: tap, Say: form.TapWords(tap), Path: at + "?tap=" + tap, Read: last[tap]}
	}
	return out
}
