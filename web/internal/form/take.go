package form

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"wellwright/book"
	"wellwright/unit"
	"wellwright/water"
)

// The inputs of every entry, beside those of its section.
const (
	Date     = "date"
	Time     = "time"
	By       = "by"
	Note     = "note"
	Why      = "why"
	Corrects = "corrects"
)

// Taken is an entry made from what was typed. Its section is as it was typed:
// figures keep their digits and their sign, and have a unit behind them.
type Taken struct {
	Entry book.NewEntry
	wrong []book.Placed // what cannot even be put into an entry
	back  map[string]string
}

// Take makes an entry of a kind from what was typed.
func Take(kind book.Kind, t Typed, s unit.System) Taken {
	k := taker{t: t, s: s, back: map[string]string{Date: Date, By: By, Note: Note, "correction/why": Why, "correction": Why, "correction/of": Why}}
	out := Taken{back: k.back, Entry: book.NewEntry{Kind: kind, By: line(t[By]), Note: line(t[Note]), Corrects: line(t[Corrects]), Why: line(t[Why])}}
	on, err := moment(t[Date], t[Time])
	if err != nil {
		out.wrong = append(out.wrong, book.Placed{Path: Date, Finding: book.Finding{Read: err.Error()}})
	}
	out.Entry.On = on
	key, ok := book.KeyOf(kind)
	if !ok {
		return out
	}
	section, any := k.value(key, key.Name, key.Name)
	if kind == book.SignsKind {
		section, any = k.signs(section)
	}
	if !any && len(out.wrong) == 0 {
		out.wrong = append(out.wrong, book.Placed{Finding: book.Finding{Read: "nothing is filled in yet", Want: "write what you know; leave out what you do not"}})
	}
	out.Entry.Section = section
	return out
}

// moment reads the date and the time of day of a form.
func moment(date, clock string) (time.Time, error) {
	text, layout := strings.TrimSpace(date), time.DateOnly
	if clock = strings.TrimSpace(clock); clock != "" {
		text, layout = text+" "+clock, "2006-01-02 15:04"
	}
	on, err := time.Parse(layout, text)
	if err != nil {
		return on, fmt.Errorf("date %q: write 2025-05-31, and the time as 14:30", strings.TrimSpace(text))
	}
	return on, nil
}

// OneLine is a text as it can stand on one line of a book.
func OneLine(s string) string { return line(s) }

// line is a text as one line of a book, without marks that no keyboard writes.
func line(s string) string {
	words := strings.Join(strings.Fields(strings.ToValidUTF8(s, "")), " ")
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return -1
		}
		return r
	}, words)
}

// Found is what is wrong with the entry by itself.
func (k Taken) Found() []book.Placed {
	if len(k.wrong) > 0 && k.Entry.On.IsZero() {
		k.Entry.On = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) // so that the rest is read as well
	}
	if _, ok := book.KeyOf(k.Entry.Kind); ok && len(k.Entry.Section.Pairs)+len(k.Entry.Section.List) == 0 {
		return k.wrong
	}
	return append(slices.Clone(k.wrong), book.Examine(k.Entry)...)
}

// day is a date within a finding: what a book says of one without naming a key is
// about the date of the entry.
var day = regexp.MustCompile(`[0-9]{4}-[0-9]{2}-[0-9]{2}`)

// Beside puts findings beside the inputs that they are about. Those on the whole
// entry stand under "".
func (k Taken) Beside(found []book.Placed) map[string][]string {
	wrong := map[string][]string{}
	for _, f := range found {
		path := k.input(f.Path)
		if f.Path == "" && day.MatchString(f.Read) {
			path = Date
		}
		if say := f.Error(); !slices.Contains(wrong[path], say) {
			wrong[path] = append(wrong[path], say)
		}
	}
	return wrong
}

// input is the input that a path of the entry was filled from, or that of the
// nearest key above it.
func (k Taken) input(path string) string {
	for {
		if in, ok := k.back[path]; ok {
			return in
		}
		cut := strings.LastIndexByte(path, '/')
		if cut < 0 {
			return ""
		}
		path = path[:cut]
	}
}

// taker makes values from what was typed, and remembers from which input each
// part of the entry came.
type taker struct {
	t    Typed
	s    unit.System
	back map[string]string // path in the entry -> path of the input
}

// value makes what stands under a key, typed at in, for the place at in the entry.
func (k taker) value(key book.Key, in, at string) (book.Value, bool) {
	k.back[at] = in
	switch key.Shape {
	case book.Some:
		return k.some(in)
	case book.Group:
		return k.group(key, in, at)
	case book.Several:
		return k.several(key, in, at)
	case book.Counts:
		return k.counts(in, at)
	case book.Figures:
		return k.figures(in, at)
	}
	text := line(k.t[in])
	if key.Unit != "" {
		text = withUnit(text, book.UnitIn(key.Unit, k.s))
	}
	return book.Words(text), text != ""
}

func (k taker) some(in string) (book.Value, bool) {
	var all []book.Value
	for l := range strings.Lines(k.t[in]) {
		if text := line(l); text != "" {
			all = append(all, book.Words(text))
		}
	}
	if len(all) == 1 {
		return all[0], true
	}
	return book.Items(all...), len(all) > 0
}

func (k taker) group(key book.Key, in, at string) (book.Value, bool) {
	var ps []book.Pair
	for _, u := range key.Under {
		if v, ok := k.value(u, in+"/"+u.Name, at+"/"+u.Name); ok {
			ps = append(ps, book.Pair{Key: u.Name, Value: v})
		}
	}
	return book.Fields(ps...), len(ps) > 0
}

func (k taker) several(key book.Key, in, at string) (book.Value, bool) {
	var all []book.Value
	for i := range k.t.count(in) {
		from, to := in+"/"+strconv.Itoa(i), at+"/"+strconv.Itoa(len(all))
		k.back[to] = from
		if v, ok := k.group(key, from, to); ok {
			all = append(all, v)
		}
	}
	return book.Items(all...), len(all) > 0
}

func (k taker) counts(in, at string) (book.Value, bool) {
	var ps []book.Pair
	for _, name := range k.t.below(in) {
		k.back[at+"/"+name] = in + "/" + name
		if text := line(k.t[in+"/"+name]); text != "" {
			ps = append(ps, book.Under(name, text))
		}
	}
	for i := range k.t.count(in + pairs) {
		row := in + pairs + "/" + strconv.Itoa(i)
		name, text := line(k.t[row+"/name"]), line(k.t[row+"/value"])
		if name != "" || text != "" {
			k.back[at+"/"+name] = row
			ps = append(ps, book.Under(name, text))
		}
	}
	return book.Fields(ps...), len(ps) > 0
}

// figures makes results by analyte: two of one name become a list.
func (k taker) figures(in, at string) (book.Value, bool) {
	var ps []book.Pair
	place, rows := map[string]int{}, map[string][]string{}
	for i := range k.t.count(in) {
		row := in + "/" + strconv.Itoa(i)
		name, v, ok := k.figure(row)
		if !ok {
			continue
		}
		key := strings.ToLower(name)
		j, twice := place[key]
		switch {
		case !twice:
			place[key] = len(ps)
			ps = append(ps, book.Pair{Key: name, Value: v})
		case ps[j].Value.Shape == book.List:
			ps[j].Value.List = append(ps[j].Value.List, v)
		default:
			ps[j].Value = book.Items(ps[j].Value, v)
		}
		rows[key] = append(rows[key], row)
	}
	for _, p := range ps {
		from := rows[strings.ToLower(p.Key)]
		k.back[at+"/"+p.Key] = from[0]
		for i, row := range from {
			k.back[at+"/"+p.Key+"/"+strconv.Itoa(i)] = row
		}
	}
	return book.Fields(ps...), len(ps) > 0
}

// figure makes one result. A row that the form asks for and nobody filled in is
// none.
func (k taker) figure(row string) (name string, v book.Value, ok bool) {
	name = line(k.t[row+"/name"])
	text := line(k.t[row+"/value"])
	var more []book.Pair
	for _, p := range []struct{ key, in string }{{"fraction", "/fraction"}, {"method", "/method"}, {"detection limit", "/limit"}, {"note", "/note"}} {
		if s := line(k.t[row+p.in]); s != "" {
			more = append(more, book.Under(p.key, s))
		}
	}
	if text == "" && len(more) == 0 && (name == "" || slices.Contains(onSite, name)) {
		return "", v, false
	}
	if slices.Contains(onSite, name) {
		text = withUnit(text, UnitOf(name, k.s))
	}
	if len(more) == 0 {
		return name, book.Words(text), true
	}
	return name, book.Fields(append([]book.Pair{book.Under("value", text)}, more...)...), true
}

// signs puts the answers on the dictionary before the signs that were told in
// words.
func (k taker) signs(told book.Value) (book.Value, bool) {
	var all []book.Value
	for _, d := range water.Symptoms() {
		in := see + string(d.ID)
		pairs := []book.Pair{book.Under("sign", signWords(d.ID))}
		switch k.t[in] {
		case Seen:
		case NotThere:
			pairs = append(pairs, book.Under("seen", "no"))
		default:
			continue
		}
		all = append(all, book.Fields(pairs...))
	}
	first := len(all)
	moved := map[string]string{}
	for i := range first {
		d, _ := all[i].Get("sign")
		moved["signs/"+strconv.Itoa(i)] = see + strings.ReplaceAll(d.Text, " ", "_")
	}
	for at, in := range k.back {
		if rest, ok := strings.CutPrefix(at, "signs/"); ok {
			index, tail, _ := strings.Cut(rest, "/")
			if i, err := strconv.Atoi(index); err == nil {
				delete(k.back, at)
				moved[strings.TrimSuffix("signs/"+strconv.Itoa(i+first)+"/"+tail, "/")] = in
			}
		}
	}
	for at, in := range moved {
		k.back[at] = in
	}
	all = append(all, told.List...)
	return book.Items(all...), len(all) > 0
}
