package labfile

import (
	"fmt"
	"strings"

	"wellwright/water"
)

// spot is where a row stands.
type spot struct {
	line int
	cell string // of the value, in a workbook
	site string
}

// record is one row, its parts by meaning.
type record struct {
	at    spot
	cells []string
	where *columns
	fixed map[part]string // what does not stand in the row
	raw   string          // the value as received, where it was rewritten
	name  string          // the analyte as received, where a mapping gives it
	order dateOrder
	epoch bool // serial dates count from 1904
}

// get returns a part as written, without blanks around it.
func (r record) get(p part) string {
	if s, ok := r.fixed[p]; ok {
		return s
	}
	i := r.where[p]
	if i < 0 || i >= len(r.cells) {
		return ""
	}
	return strings.TrimSpace(r.cells[i])
}

// reader gathers the samples of one file.
type reader struct {
	name     string
	opt      Options
	format   Format
	found    []Finding
	visits   map[key]*visit
	order    []*visit
	limits   map[string][]limit
	stations map[string]station
}

func newReader(name string, opt Options) *reader {
	return &reader{name: name, opt: opt, visits: map[key]*visit{}}
}

func (r *reader) say(id string, l Level, at spot, read, want string) {
	r.found = append(r.found, Finding{ID: id, Level: l, Place: water.Place{File: r.name, Line: at.line}, Cell: at.cell, Site: at.site, Read: read, Want: want})
}

func (r *reader) refuse(id string, at spot, read, want string) { r.say(id, Refused, at, read, want) }

// rows reads a table of a known layout whose names stand in row head.
func (r *reader) rows(g *grid, head int) {
	names := wqxColumns
	if r.format == OhioSheets {
		names = sheetColumns
	}
	header := g.lines[head].cells
	where := place(header, names)
	for _, l := range g.lines[head+1:] {
		if blank(l.cells) {
			continue
		}
		at := spot{line: l.n, cell: g.cell(where[pValue], l.n)}
		if len(l.cells) != len(header) && g.sheet == "" {
			r.refuse("columns", at, fmt.Sprintf("%d columns where the line of names has %d", len(l.cells), len(header)), "want as many as names: look for a separator or a quote inside a cell")
			continue
		}
		r.take(record{at: at, cells: l.cells, where: &where, order: monthFirst, epoch: g.epoch})
	}
}

// take reads one row into the visit it belongs to, or says why not.
func (r *reader) take(rec record) {
	rec.at.site = rec.get(pSite)
	if id, why, want := control(rec); id != "" {
		r.refuse(id, rec.at, why, want)
		return
	}
	when, err := r.moment(rec)
	if err != nil {
		r.refuse("date", rec.at, describe(rec)+": "+err.Error(), "write it as 2025-05-31, with the time after it if known")
		return
	}
	v := r.visit(rec, when)
	if v.note(rec) { // a level or a flow: no result, but worth a line
		return
	}
	res, l, bad := r.result(rec)
	if bad != nil {
		r.refuse(bad.id, rec.at, describe(rec)+": "+bad.why, bad.want)
		if bad.id == unknownAnalyte {
			r.found[len(r.found)-1].Unknown = rec.get(pName)
		}
		return
	}
	if l.estimated {
		r.say("estimated", Notice, rec.at, describe(rec)+": below its own quantitation limit, kept as an estimate", "")
	}
	if res.Sign == water.Below && res.Value == 0 && res.Limit == nil && res.Analyte.Dimension() != water.OfCount {
		r.say("no-limit", Notice, rec.at, describe(rec)+": not detected, but the file does not say below what", "give the companion file of detection limits")
	}
	v.add(rec, res, l.Line)
}

// describe names a row for a finding.
func describe(rec record) string {
	s := fmt.Sprintf("%s %s", rec.get(pName), one(" ", rec.get(pValue), rec.get(pUnit)))
	return fmt.Sprintf("%q", strings.TrimSpace(clip(s)))
}

// clip keeps a text in a finding to a readable length.
func clip(s string) string {
	const most = 120
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + " ..."
}
