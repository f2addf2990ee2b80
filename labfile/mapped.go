package labfile

import (
	"fmt"
	"maps"
	"regexp"
	"strings"
)

// mapped reads a table by a column mapping, or by a guess at one.
func (r *reader) mapped(g *grid, m *Mapping) {
	if m == nil {
		guess, found := g.guess()
		r.found = append(r.found, found...)
		if guess == nil {
			return
		}
		m = guess
	}
	head, missing := m.locate(g)
	if len(missing) > 0 {
		r.refuse("mapping", spot{line: m.Names}, "the mapping names columns that are not there: "+strings.Join(missing, ", "),
			"give the mapping of this laboratory, or none to have one proposed")
		return
	}
	m = m.moved(g.lines[head].n)
	if mark := g.decimalMark(head, m); mark != "" && mark != first(m.Decimal, ".") {
		r.say("decimal-changed", Notice, spot{line: m.Names}, fmt.Sprintf("the decimal mark is %q here, in the mapping %q; the file's counts", mark, first(m.Decimal, ".")), "")
		m.Decimal = mark
	}
	r.unlikeMapping(g, head, m)
	t := m.plan(g, head)
	width := 0
	for i, c := range g.lines[head].cells {
		if strings.TrimSpace(c) != "" {
			width = i + 1
		}
	}
	for _, l := range g.lines[head+1:] {
		if l.n == m.Units || blank(l.cells) {
			continue
		}
		if extra := surplus(l.cells, width); extra != "" {
			r.refuse("columns", spot{line: l.n}, fmt.Sprintf("%q stands beyond the last named column", clip(extra)), "look for a separator or a decimal comma inside a cell")
			continue
		}
		r.mappedLine(g, l, m, t)
	}
}

// unlikeMapping says that the units below the names differ from those that the
// mapping was made with: the file's own count.
func (r *reader) unlikeMapping(g *grid, head int, m *Mapping) {
	for i, l := range g.lines {
		if l.n != m.Units || i <= head {
			continue
		}
		for _, c := range m.Columns {
			u := strings.TrimSpace(nameAt(l.cells, indexOf(g.lines[head].cells, c.Name)))
			if c.Is == isResult && u != "" && c.Unit != "" && folded(u) != folded(c.Unit) {
				r.say("unit-changed", Notice, spot{line: l.n, cell: g.cell(indexOf(g.lines[head].cells, c.Name), l.n)},
					fmt.Sprintf("%s: unit %q, in the mapping %q; the file's counts", c.Name, u, c.Unit), "")
			}
		}
	}
}

func surplus(cells []string, width int) string {
	for i := width; i < len(cells); i++ {
		if s := strings.TrimSpace(cells[i]); s != "" {
			return s
		}
	}
	return ""
}

// task is how the rows of a mapped table are read: what is fixed for all of
// them, and for a wide table one set of columns for each analyte.
type task struct {
	where []columns
	fixed []map[part]string
	names []string // the headings of the results of a wide table
	order dateOrder
}

func (m *Mapping) plan(g *grid, head int) task {
	header := g.lines[head].cells
	base := none()
	fixed := map[part]string{}
	for k, v := range m.Always {
		fixed[roles[k]] = v
	}
	if m.OnSite {
		fixed[pGroup] = "field"
	}
	for _, l := range m.Labels {
		if s := g.above(head, l.Text); s != "" {
			fixed[roles[l.Is]] = s
		}
	}
	for _, c := range m.Columns {
		if p, ok := roles[c.Is]; ok && base[p] < 0 {
			base[p] = indexOf(header, c.Name)
			delete(fixed, p)
		}
		if c.Is == "well depth" {
			fixed[pDepthUnit] = first(g.unitBelow(m, indexOf(header, c.Name)), c.Unit)
		}
	}
	if m.Layout == Across {
		return m.planAcross(g, head, base, fixed)
	}
	t := task{order: dateOrder(m.Dates)}
	if m.Layout == Long {
		t.where, t.fixed, t.names = []columns{base}, []map[part]string{fixed}, []string{""}
		return t
	}
	seen := map[string]int{}
	for _, c := range m.Columns {
		if c.Is != isResult {
			continue
		}
		w, f := base, maps.Clone(fixed)
		w[pValue] = nth(header, c.Name, seen[folded(c.Name)])
		seen[folded(c.Name)]++
		f[pName] = c.Analyte
		for p, s := range map[part]string{pFraction: c.Fraction, pBasis: c.Basis, pUnit: first(g.unitBelow(m, w[pValue]), c.Unit)} {
			if s != "" {
				f[p] = s
			}
		}
		t.where, t.fixed, t.names = append(t.where, w), append(t.fixed, f), append(t.names, strings.TrimSpace(c.Name))
	}
	return t
}

// unitBelow is the unit that the file itself writes under a column.
func (g *grid) unitBelow(m *Mapping, col int) string {
	for _, l := range g.lines {
		if l.n == m.Units && m.Units > 0 {
			return strings.TrimSpace(nameAt(l.cells, col))
		}
	}
	return ""
}

// above finds what a label over the table says.
func (g *grid) above(head int, label string) string {
	for _, l := range g.lines[:head] {
		for i, c := range l.cells {
			text, _, _ := strings.Cut(c, ":")
			if squeezed(text) == squeezed(label) {
				return labelled(l.cells, i)
			}
		}
	}
	return ""
}

func indexOf(header []string, name string) int { return nth(header, name, 0) }

// nth finds the nth column of a name, counted from none.
func nth(header []string, name string, n int) int {
	for i, h := range header {
		if folded(h) == folded(name) {
			if n == 0 {
				return i
			}
			n--
		}
	}
	return -1
}

// mappedLine reads one row: one result of a long table, all of a wide one. An
// empty cell of a wide table was not measured.
func (r *reader) mappedLine(g *grid, l line, m *Mapping, t task) {
	for i := range t.where {
		where := t.where[i]
		raw := strings.TrimSpace(nameAt(l.cells, where[pValue]))
		if raw == "" && m.Layout != Long {
			continue
		}
		if _, side := sideRole(nameAt(l.cells, where[pName])); side && m.Layout == Across {
			continue
		}
		rec := record{at: spot{line: l.n, cell: g.cell(where[pValue], l.n)}, cells: l.cells, where: &where, fixed: t.fixed[i], name: t.names[i], order: t.order, epoch: g.epoch}
		if m.Layout == Long && rec.get(pName) == "" && raw == "" {
			continue // a line between groups
		}
		ours, err := m.inOurWords(rec, raw)
		if err != nil {
			r.refuse("decimal", rec.at, describe(rec)+": "+err.Error(), "look how this file writes its figures, and set decimal in the mapping")
			continue
		}
		r.take(ours)
	}
}

// inOurWords puts the laboratory's own names and its decimal comma into ours.
func (m *Mapping) inOurWords(rec record, raw string) (record, error) {
	add := func(p part, s string) {
		f := maps.Clone(rec.fixed)
		f[p] = s
		rec.fixed = f
	}
	if ours, ok := m.Analytes[rec.get(pName)]; ok {
		rec.name = rec.get(pName)
		add(pName, ours)
	}
	if m.Decimal == "," {
		rec.raw = raw
		for _, p := range []part{pValue, pLimit} {
			s, err := pointed(rec.get(p))
			if err != nil {
				return rec, err
			}
			add(p, s)
		}
	}
	if s := rec.get(pTap); s != "" {
		tap, ok := tapOf(s)
		if !ok {
			add(pSampleRemark, one("; ", rec.get(pSampleRemark), "taken at: "+s))
		}
		add(pTap, tap)
	}
	return rec, nil
}

var (
	anyFigure   = regexp.MustCompile(`[0-9][0-9.,]*`)
	commaDigits = regexp.MustCompile(`^([0-9]+|[0-9]{1,3}(\.[0-9]{3})+)(,[0-9]*)?$`)
)

// pointed writes a figure with a decimal comma the way it is read here. A point
// that does not part thousands is refused: a decimal point taken for one would
// make the figure a hundred times too large.
func pointed(s string) (string, error) {
	figure := anyFigure.FindString(s)
	if figure == "" {
		return s, nil
	}
	if !commaDigits.MatchString(figure) {
		return s, fmt.Errorf("%q does not have the decimal comma of the mapping", figure)
	}
	ours := strings.ReplaceAll(strings.ReplaceAll(figure, ".", ""), ",", ".")
	return strings.Replace(s, figure, ours, 1), nil
}

var tapIn = regexp.MustCompile(`\((T[0-9]{1,2}|K|H|S|D)\)`)

var tapForm = regexp.MustCompile(`^(T[0-9]{1,2}|K|H|S|D)$`)

// tapOf reads a sampling point in words. One that names no tap is kept as a
// remark.
func tapOf(s string) (string, bool) {
	up := strings.ToUpper(strings.TrimSpace(s))
	if tapForm.MatchString(up) {
		return up, true
	}
	if m := tapIn.FindStringSubmatch(up); m != nil {
		return m[1], true
	}
	for _, w := range []struct{ word, tap string }{
		{"WELLHEAD", "T0"}, {"WELL HEAD", "T0"}, {"AT THE WELL", "T0"}, {"PRESSURE TANK", "T1"}, {"RAW", "T1"}, {"KITCHEN", "K"}, {"HOT", "H"}, {"DRAIN", "D"},
	} {
		if strings.Contains(up, w.word) {
			return w.tap, true
		}
	}
	return "", false
}
