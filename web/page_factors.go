package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"

	"wellwright/plan"
	"wellwright/source"
	"wellwright/unit"
)

// factorsPage is every number the answers rest on, to be looked for and replaced.
type factorsPage struct {
	frame
	Stood      stood
	Query      string
	Room, Kind string // "" for all
	Rooms      []choiceRow
	Kinds      []choiceRow
	Own        []factorRow // replaced in this well
	Rows       []factorRow // found, a page of them
	Found, All int
	From, To   int    // of those found, counted from 1
	Before     string // path of the page before; "" for none
	Next       string
	Form       overrideForm
}

// choiceRow is one word of a filter.
type choiceRow struct {
	Value, Words string
	Count        int
	Chosen       bool
}

// factorRow is one factor as it is by default, and as it stands in this book.
type factorRow struct {
	Name, What, Value, Range, Kind, From, Room string
	Now, Why                                   string // the own value; "" if there is none
	Entry                                      string // that it came with
	Replace                                    string // path of the form with this factor
	Withdraw                                   string // path that takes the own value back
}

// aPage is how many factors stand on one page: a phone lays that many out at once.
const aPage = 100

// roomed is a factor with the room it belongs to.
type roomed struct {
	source.Factor
	room plan.Room
}

// everyFactor is the register in the order of the rooms, by name within each.
var everyFactor = sync.OnceValue(func() []roomed {
	var all []roomed
	for _, r := range plan.Rooms() {
		fs := slices.Clone(r.Factors)
		slices.SortFunc(fs, func(a, b source.Factor) int { return strings.Compare(a.Name, b.Name) })
		for _, f := range fs {
			all = append(all, roomed{f, r})
		}
	}
	return all
})

// factorKinds are the kinds of founding that a factor may have.
var factorKinds = []source.Kind{source.Published, source.Derived, source.CommonPractice, source.FromMemory, source.Judgement}

// showFactors handles GET /wells/{well}/factors with q, room, kind and page, and
// with own the form for that factor filled in.
func (s *Server) showFactors(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	form := overrideForm{Head: o.head, Name: r.URL.Query().Get("own")}
	return s.renderFactors(w, r, http.StatusOK, o, form)
}

// renderFactors writes the page with a form as it stands.
func (s *Server) renderFactors(w http.ResponseWriter, r *http.Request, status int, o opened, form overrideForm) error {
	q, h := r.URL.Query(), o.here(r)
	p := factorsPage{frame: s.framed(r, o, "factors", "Factors"), Query: strings.TrimSpace(q.Get("q")), Room: q.Get("room"), Kind: q.Get("kind"), All: len(everyFactor()), Form: form}
	p.Stood = h.stoodOn(r, p.view)
	p.Form.know(p.view)
	shelf := factorShelf{h, p.view, ownEntries(o)}
	found := p.find()
	p.Own = shelf.own(found, p.narrowed())
	p.page(shelf, found, q)
	return s.renderStatus(w, r, status, "factors.html", p)
}

// narrowed reports whether anything is looked for.
func (p *factorsPage) narrowed() bool { return p.Query != "" || p.Room != "" || p.Kind != "" }

// find are the factors that the query, the room and the kind leave, and fills the
// filters with how many each would show.
func (p *factorsPage) find() []roomed {
	var found []roomed
	rooms, kinds := map[string]int{}, map[string]int{}
	for _, f := range everyFactor() {
		if !mentions(f, p.Query) {
			continue
		}
		inRoom, ofKind := p.Room == "" || f.room.ID == p.Room, p.Kind == "" || f.Kind.String() == p.Kind
		if ofKind {
			rooms[f.room.ID]++
		}
		if inRoom {
			kinds[f.Kind.String()]++
		}
		if inRoom && ofKind {
			found = append(found, f)
		}
	}
	for _, r := range plan.Rooms() {
		p.Rooms = append(p.Rooms, choiceRow{r.ID, r.Words, rooms[r.ID], r.ID == p.Room})
	}
	for _, k := range factorKinds {
		p.Kinds = append(p.Kinds, choiceRow{k.String(), k.String(), kinds[k.String()], k.String() == p.Kind})
	}
	return found
}

// mentions reports whether every word of a query stands in a factor.
func mentions(f roomed, query string) bool {
	text := strings.ToLower(f.Name + " " + strings.ReplaceAll(f.Name, "_", " ") + " " + f.What + " " + f.From)
	for _, w := range strings.Fields(strings.ToLower(query)) {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// page takes the page asked for out of what was found.
func (p *factorsPage) page(shelf factorShelf, found []roomed, q url.Values) {
	p.Found = len(found)
	n, err := strconv.Atoi(q.Get("page"))
	last := max(0, (len(found)-1)/aPage)
	if err != nil || n < 1 {
		n = 1
	}
	n = min(n-1, last)
	part := found[n*aPage : min(len(found), (n+1)*aPage)]
	for _, f := range part {
		p.Rows = append(p.Rows, shelf.row(f))
	}
	if p.From, p.To = n*aPage+1, n*aPage+len(part); len(part) == 0 {
		p.From = 0
	}
	at := func(k int) string {
		to := url.Values{}
		for _, key := range []string{"q", "room", "kind"} {
			if v := q.Get(key); v != "" {
				to.Set(key, v)
			}
		}
		to.Set("page", strconv.Itoa(k+1))
		return shelf.path("/factors", to)
	}
	if n > 0 {
		p.Before = at(n - 1)
	}
	if n < last {
		p.Next = at(n + 1)
	}
}

// factorShelf writes factors as they stand in a well's book.
type factorShelf struct {
	here
	view
	entries map[string]string // by factor, the entry that replaced it
}

// own are the factors replaced in this well; of a narrowed list those found.
func (b factorShelf) own(found []roomed, narrowed bool) []factorRow {
	if !narrowed {
		found = everyFactor()
	}
	var rows []factorRow
	for _, f := range found {
		if _, ok := b.present.Own[f.Name]; ok {
			rows = append(rows, b.row(f))
		}
	}
	return rows
}

// row is one factor.
func (b factorShelf) row(f roomed) factorRow {
	row := factorRow{Name: f.Name, What: f.What, Value: b.marks(strings.TrimSpace(unit.Significant(f.Value, 5) + " " + f.Unit)), Range: factorRange(f.Factor, b.view), Kind: f.Kind.String(), From: f.From, Room: f.room.Words,
		Replace: b.path("/factors", url.Values{"own": {f.Name}}) + "#own"}
	if x, ok := b.present.Own[f.Name]; ok {
		row.Now, row.Why, row.Entry = b.marks(strings.TrimSpace(unit.Significant(x.Value, 5)+" "+f.Unit)), x.Why, b.entries[f.Name]
		if row.Entry != "" {
			row.Withdraw = withdrawPath(b.id, row.Entry)
		}
	}
	return row
}
