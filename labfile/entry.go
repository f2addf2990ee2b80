package labfile

import (
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode"

	"wellwright/book"
	"wellwright/water"
)

// Kept says where the received file is kept.
type Kept struct {
	File   string // beside the book
	SHA256 string
	By     string // who imports; "" if not said
}

// Entry returns the entry for a book: the figures as received, their sign, unit
// and basis in the laboratory's own words.
func (s Sample) Entry(k Kept) book.NewEntry {
	e := book.NewEntry{On: wall(s.Report.Sampled), Kind: book.LaboratoryKind, By: oneLine(k.By), Note: s.note(k)}
	if s.Report.Field {
		e.Kind = book.ReadingsKind
		e.Section = book.Fields(book.Under("tap", string(s.Report.Tap)), book.Pair{Key: "results", Value: s.results()})
		return e
	}
	var ps []book.Pair
	put := func(key, text string) {
		if text != "" {
			ps = append(ps, book.Under(key, text))
		}
	}
	put("laboratory", oneLine(s.Report.Laboratory))
	put("tap", string(s.Report.Tap))
	put("sampled", written(s.Report.Sampled, s.Timed))
	if !s.Report.Analysed.IsZero() {
		put("analysed", s.Report.Analysed.Format(time.DateOnly))
	}
	if f := s.Report.Bottle.FilteredField; f != nil && *f {
		ps = append(ps, book.Pair{Key: "bottle", Value: book.Fields(book.Under("filtered in the field", "yes"))})
	}
	put("file", oneLine(k.File))
	put("sha256", k.SHA256)
	e.Section = book.Fields(append(ps, book.Pair{Key: "results", Value: s.results()})...)
	return e
}

// wall is the time on the clock at the well: a book writes no zones.
func wall(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), 0, 0, time.UTC)
}

func written(t time.Time, timed bool) string {
	if timed {
		return t.Format("2006-01-02 15:04")
	}
	return t.Format(time.DateOnly)
}

// note says where the entry came from, and what else was said of the sample.
func (s Sample) note(k Kept) string {
	var ps []string
	put := func(what, text string) {
		if text = oneLine(text); text != "" {
			ps = append(ps, what+text)
		}
	}
	if s.Report.Field {
		put("from ", k.File)
		put("sha256 ", k.SHA256)
	}
	put("site ", one(", ", s.Site, s.SiteName))
	put("sheet ", s.Sheet)
	if s.Zone != "" && s.Timed {
		put("time zone ", s.Zone)
	}
	if s.Duplicate {
		ps = append(ps, "a field duplicate")
	}
	put("lines ", s.span())
	if s.Balance != nil {
		put("charge balance as the agency prints it ", strconv.FormatFloat(*s.Balance, 'g', -1, 64))
	}
	for _, r := range s.Remarks {
		put("", r)
	}
	return strings.Join(ps, "; ")
}

// span is the first and last line of the file that the sample stands on.
func (s Sample) span() string {
	if len(s.Lines) == 0 || s.Lines[0].Place.Line == 0 {
		return ""
	}
	low, high := s.Lines[0].Place.Line, 0
	for _, l := range s.Lines {
		low, high = min(low, l.Place.Line), max(high, l.Place.Line)
	}
	return fmt.Sprintf("%d to %d", low, high)
}

// results writes the results by name, two figures of one name as a list.
func (s Sample) results() book.Value {
	var ps []book.Pair
	at := map[string]int{}
	for i, r := range s.Report.Results {
		key, fraction := nameInBook(r)
		v := s.figure(i, fraction)
		j, ok := at[key]
		switch {
		case !ok:
			at[key] = len(ps)
			ps = append(ps, book.Pair{Key: key, Value: v})
		case ps[j].Value.Shape == book.List:
			ps[j].Value.List = append(ps[j].Value.List, v)
		default:
			ps[j].Value = book.Items(ps[j].Value, v)
		}
	}
	return book.Fields(ps...)
}

// nameInBook is the name a result stands under: "total iron", where that reads
// back as what it was, else the analyte's name with the fraction apart.
func nameInBook(r water.Result) (key, fraction string) {
	name := r.Analyte.Name()
	if a, f, b, ok := water.ParseAnalyte(name); !ok || a != r.Analyte || f != water.Unspecified || b != "" {
		name = string(r.Analyte)
	}
	if r.Fraction == water.Unspecified {
		return name, ""
	}
	long := r.Fraction.String() + " " + name
	if a, f, b, ok := water.ParseAnalyte(long); ok && a == r.Analyte && f == r.Fraction && b == "" {
		return long, ""
	}
	return name, r.Fraction.String()
}

// figure writes one result: as one text if there is no more to say of it.
func (s Sample) figure(i int, fraction string) book.Value {
	r := s.Report.Results[i]
	text := s.Stands(i)
	ps := []book.Pair{book.Under("value", text)}
	put := func(key, text string) {
		if text = oneLine(text); text != "" {
			ps = append(ps, book.Under(key, text))
		}
	}
	put("fraction", fraction)
	put("method", r.Method)
	if r.Limit != nil {
		put("detection limit", strconv.FormatFloat(*r.Limit, 'f', -1, 64))
	}
	put("note", r.Note)
	if len(ps) == 1 {
		return book.Words(text)
	}
	return book.Fields(ps...)
}

// Stands is how result i will stand in the book: sign, figure, unit and basis.
func (s Sample) Stands(i int) string {
	r := s.Report.Results[i]
	text := s.Lines[i].Figure
	nothing := r.Sign == water.Below && r.Value == 0 // ND, or <0 as some agencies write
	if r.Sign == water.Present || r.Sign == water.Absent || nothing && (r.Unit == "" || !strings.HasPrefix(text, "<")) {
		return text
	}
	return one(" ", oneLine(text), oneLine(r.Unit), basisBeside(r))
}

// basisBeside is the basis to write behind the unit; "" if the unit names it.
func basisBeside(r water.Result) string {
	b := oneLine(r.Basis)
	if len(b) >= 3 && strings.EqualFold(b[:3], "as ") {
		b = b[3:]
	}
	if b == "" || folded(b) == "none" || strings.HasSuffix(folded(r.Unit), folded(b)) {
		return ""
	}
	return "as " + b
}

// NameInBook is the name result i will stand under, with its fraction.
func (s Sample) NameInBook(i int) string {
	key, fraction := nameInBook(s.Report.Results[i])
	return one(", ", key, fraction)
}

// oneLine keeps a text on one line of a book, and marks that no printer prints
// out of it.
func oneLine(s string) string {
	s = strings.Map(func(c rune) rune {
		if unicode.IsSpace(c) {
			return ' '
		}
		if !unicode.IsPrint(c) {
			return -1
		}
		return c
	}, strings.ToValidUTF8(s, ""))
	return strings.Join(strings.Fields(s), " ")
}

// WellEntry returns a well record with what the file says and the book does not
// know yet; not ok if there is nothing.
func (w WellFacts) WellEntry(on time.Time, have book.Present, from string) (book.NewEntry, bool) {
	var ps []book.Pair
	well := have.Supply.Well
	if w.Depth != nil && well.Depth == nil {
		ps = append(ps, book.Under("depth", trimmed(w.Depth.Ft())+" ft"))
	}
	if w.Casing != nil && well.CasingDepth == nil {
		ps = append(ps, book.Under("casing depth", trimmed(w.Casing.Ft())+" ft"))
	}
	if w.Aquifer != "" && well.Aquifer == "" {
		ps = append(ps, book.Under("aquifer", oneLine(w.Aquifer)))
	}
	if w.Year >= 1850 && well.Year == 0 {
		ps = append(ps, book.Under("year", strconv.Itoa(w.Year)))
	}
	if len(ps) == 0 {
		return book.NewEntry{}, false
	}
	return book.NewEntry{On: wall(on), Kind: book.WellKind, Section: book.Fields(ps...), Note: one("; ", from, w.Kind)}, true
}

func trimmed(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
