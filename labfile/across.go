package labfile

import (
	"maps"
	"strings"

	"wellwright/water"
)

// across reads a row as the names of a table with a sample in each column: the
// analytes stand down the side. It needs two analytes with figures below.
func (g *grid) across(at int) (*Mapping, bool) {
	m := &Mapping{Layout: Across}
	side := -1
	for i, c := range g.lines[at].cells {
		is := headingWords[squeezed(c)]
		switch {
		case is == "analyte" && side < 0:
			side = i
		case is == "unit", is == "method", is == "limit", is == "basis", is == "fraction":
		case strings.TrimSpace(c) != "" && side >= 0:
			is = isSample
		default:
			is = isIgnore
		}
		m.Columns = append(m.Columns, Column{Name: strings.TrimSpace(c), Is: is})
	}
	if side < 0 {
		return nil, false
	}
	samples := 0
	for i := range m.Columns {
		if m.Columns[i].Is != isSample {
			continue
		}
		if g.figures(at, side, i) < 2 {
			m.Columns[i].Is = isIgnore
			continue
		}
		samples++
	}
	return m, samples > 0
}

// figures counts the rows that have an analyte at the side and a figure in a column.
func (g *grid) figures(at, side, col int) int {
	n := 0
	for _, l := range g.lines[at+1:] {
		name, s := nameAt(l.cells, side), strings.TrimSpace(nameAt(l.cells, col))
		if _, _, _, ok := water.ParseAnalyte(name); ok && s != "" {
			if _, err := water.ParseResult(name, s, "", water.Place{}); err == nil || anyFigure.MatchString(s) {
				n++
			}
		}
	}
	return n
}

// planAcross makes a task of each column of figures. What a row at the side says
// of the sample, such as its date or tap, is fixed for the column.
func (m *Mapping) planAcross(g *grid, head int, base columns, fixed map[part]string) task {
	t := task{order: dateOrder(m.Dates)}
	header := g.lines[head].cells
	seen := map[string]int{}
	for _, c := range m.Columns {
		if c.Is != isSample {
			continue
		}
		w, f := base, maps.Clone(fixed)
		w[pValue] = nth(header, c.Name, seen[folded(c.Name)])
		seen[folded(c.Name)]++
		f[pSheet] = c.Name
		if tap, ok := tapOf(c.Name); ok {
			f[pTap] = tap
		}
		for _, l := range g.lines {
			p, ok := sideRole(nameAt(l.cells, base[pName]))
			if s := strings.TrimSpace(nameAt(l.cells, w[pValue])); ok && s != "" && l.n != m.Names {
				f[p] = s
			}
		}
		t.where, t.fixed, t.names = append(t.where, w), append(t.fixed, f), append(t.names, "")
	}
	return t
}

// sideRole tells whether a name at the side is no analyte but says something of
// the samples.
func sideRole(name string) (part, bool) {
	switch is := headingWords[squeezed(name)]; is {
	case "date", "time", "site", "sample", "laboratory", "tap", "analysed", "note":
		return roles[is], true
	}
	return 0, false
}
