package labfile

import (
	"fmt"
	"regexp"
	"strings"

	"wellwright/water"
)

// headingWords are the names laboratories give their columns, folded to letters
// and digits, by meaning. Kind: common practice.
var headingWords = map[string]string{
	"analyte": "analyte", "parameter": "analyte", "test": "analyte", "constituent": "analyte", "characteristic": "analyte", "compound": "analyte",
	"component": "analyte", "determinand": "analyte", "parametername": "analyte", "analytename": "analyte", "testname": "analyte", "substance": "analyte", "analysis": "analyte",
	"result": "value", "value": "value", "concentration": "value", "resultvalue": "value", "reportedresult": "value", "finalresult": "value", "measuredvalue": "value", "results": "value", "amount": "value", "reportedvalue": "value",
	"unit": "unit", "units": "unit", "uom": "unit", "resultunit": "unit", "resultunits": "unit", "measure": "unit", "reportunits": "unit",
	"basis": "basis", "expressedas": "basis", "reportedas": "basis",
	"fraction": "fraction", "totaldissolved": "fraction", "totalordissolved": "fraction", "form": "fraction", "samplefraction": "fraction",
	"qualifier": "qualifier", "flag": "qualifier", "qual": "qualifier", "flags": "qualifier", "qualifiers": "qualifier", "labqualifier": "qualifier", "dataflag": "qualifier", "remarkcode": "qualifier", "q": "qualifier",
	"condition": "condition", "detection": "condition", "detected": "condition", "detectioncondition": "condition",
	"method": "method", "analysismethod": "method", "testmethod": "method", "methodcode": "method", "analyticalmethod": "method", "reference": "method",
	"limit": "limit", "rl": "limit", "mdl": "limit", "pql": "limit", "loq": "limit", "lod": "limit", "mrl": "limit", "detectionlimit": "limit", "reportinglimit": "limit", "dl": "limit", "reportlimit": "limit", "methoddetectionlimit": "limit", "quantitationlimit": "limit",
	"limitunit": "limit unit", "limitunits": "limit unit", "detectionlimitunit": "limit unit",
	"date": "date", "sampledate": "date", "datesampled": "date", "collected": "date", "datecollected": "date", "collectiondate": "date", "sampled": "date", "samplingdate": "date", "collectdate": "date", "sampledatetime": "date", "collectiondatetime": "date", "datetimecollected": "date", "collecteddatetime": "date", "sampleddatetime": "date", "datetime": "date",
	"time": "time", "sampletime": "time", "timesampled": "time", "timecollected": "time", "collectiontime": "time", "collecttime": "time",
	"analysed": "analysed", "analyzed": "analysed", "dateanalysed": "analysed", "dateanalyzed": "analysed", "analysisdate": "analysed", "analyseddate": "analysed", "analyzeddate": "analysed",
	"site": "site", "siteid": "site", "location": "site", "locationid": "site", "wellid": "site", "well": "site", "station": "site", "samplelocation": "site", "samplesite": "site", "wellname": "site", "stationid": "site", "clientid": "site", "clientsampleid": "site", "address": "site",
	"sample": "sample", "sampleid": "sample", "labid": "sample", "labsampleid": "sample", "samplenumber": "sample", "sampleno": "sample", "labnumber": "sample", "labno": "sample", "workorder": "sample", "reportnumber": "sample", "reportno": "sample", "orderid": "sample",
	"laboratory": "laboratory", "lab": "laboratory", "labname": "laboratory", "laboratoryname": "laboratory",
	"tap": "tap", "samplingpoint": "tap", "samplepoint": "tap", "tapid": "tap",
	"note": "note", "notes": "note", "comment": "note", "comments": "note", "remark": "note", "remarks": "note", "resultcomment": "note",
	"sampletype": "sample type", "qctype": "sample type", "typeofsample": "sample type", "matrix": "medium", "medium": "medium",
	"status": "status", "resultstatus": "status", "welldepth": "well depth", "aquifer": "aquifer", "filtered": "filtered",
}

// squeezed leaves the letters and digits of a heading.
func squeezed(s string) string {
	var b strings.Builder
	for _, c := range strings.ToLower(s) {
		if c >= 'a' && c <= 'z' || c >= '0' && c <= '9' {
			b.WriteRune(c)
		}
	}
	return b.String()
}

// Guess proposes a mapping for a table of no known layout. It is to be shown
// before it is used; the findings say what it could not be sure of.
func Guess(name string, data []byte, sheet string) (*Mapping, []Finding) {
	g, found := open(name, data, sheet)
	if g == nil {
		return nil, found
	}
	m, more := g.guess()
	return m, append(found, more...)
}

func (g *grid) guess() (*Mapping, []Finding) {
	at, m, ok := g.headings()
	if !ok {
		return nil, []Finding{fileFinding(g.file, "layout", Refused, "no line that could be the names of columns")}
	}
	m.Sheet = g.sheet
	m.Units = g.unitsLine(at, m)
	g.fillUnits(at, m)
	m.Labels = g.labels(at, m)
	if g.decimalMark(at, m) == "," {
		m.Decimal = ","
	}
	order, sure := g.dateOrder(at, m)
	m.Dates = string(order)
	if !sure {
		f := fileFinding(g.file, "date-order", Notice, "every date can be read month first or day first; taken as "+m.Dates)
		f.Want = "if that is wrong, change dates in the mapping"
		return m, []Finding{f}
	}
	return m, nil
}

// headings finds the row of names: the first that has an analyte and a value, or
// names analytes itself.
func (g *grid) headings() (int, *Mapping, bool) {
	for i := range min(len(g.lines), preamble) {
		if m, ok := meaningsOf(g.lines[i].cells); ok {
			m.Names = g.lines[i].n
			return i, m, true
		}
		if m, ok := g.across(i); ok {
			m.Names = g.lines[i].n
			return i, m, true
		}
	}
	return 0, nil, false
}

// meaningsOf reads a row as names of columns.
func meaningsOf(cells []string) (*Mapping, bool) {
	m := &Mapping{Layout: Wide}
	count := map[string]int{}
	for _, c := range cells {
		is := headingWords[squeezed(c)]
		if is == "" {
			is = isIgnore
		} else if count[is] > 0 && is != "note" {
			is = isIgnore // the first of two columns of one meaning counts
		}
		count[is]++
		m.Columns = append(m.Columns, Column{Name: strings.TrimSpace(c), Is: is})
	}
	if count["analyte"] > 0 && count["value"] > 0 {
		m.Layout = Long
		return m, true
	}
	results := 0
	for i := range m.Columns {
		if c, ok := resultColumn(m.Columns[i].Name); ok && m.Columns[i].Is == isIgnore {
			m.Columns[i] = c
			results++
		}
	}
	return m, results >= 2 || results == 1 && count["date"] > 0
}

var bracketed = regexp.MustCompile(`^(.*?)[\s,_]*[(\[]([^)\]]*)[)\]]\s*$`)

// resultColumn reads a heading that names an analyte, perhaps with its unit:
// "Iron, total (mg/L)", "Fe mg/l", "iron_mg_l".
func resultColumn(h string) (Column, bool) {
	if len(h) > 80 {
		return Column{}, false
	}
	if m := bracketed.FindStringSubmatch(h); m != nil && reads(m[1], m[2]) {
		return named(h, m[1], m[2])
	}
	if _, _, _, ok := water.ParseAnalyte(h); ok {
		return named(h, h, "")
	}
	for i := len(h) - 1; i > 0; i-- {
		if strings.IndexByte(" ,_-", h[i]) < 0 {
			continue
		}
		name, u := strings.Trim(h[:i], " ,_-"), strings.ReplaceAll(strings.Trim(h[i:], " ,_-"), "_", "/")
		if u != "" && reads(name, u) {
			return named(h, name, u)
		}
	}
	return Column{}, false
}

// named writes out what a heading was taken for, so that a person can see it.
func named(h, name, u string) (Column, bool) {
	a, f, b, ok := water.ParseAnalyte(name)
	c := Column{Name: strings.TrimSpace(h), Is: isResult, Analyte: a.Name(), Unit: strings.TrimSpace(u), Fraction: f.String(), Basis: b}
	if again, _, _, same := water.ParseAnalyte(c.Analyte); !same || again != a {
		c.Analyte = string(a)
	}
	return c, ok
}

// reads reports whether a figure of an analyte may stand in a unit.
func reads(name, u string) bool {
	if strings.TrimSpace(u) == "" {
		return false
	}
	_, err := water.ParseResult(name, "5", u, water.Place{})
	return err == nil
}

// unitsLine tells whether the row below the names holds their units.
func (g *grid) unitsLine(at int, m *Mapping) int {
	if m.Layout != Wide || at+1 >= len(g.lines) {
		return 0
	}
	below, units, other := g.lines[at+1], 0, 0
	for i, c := range m.Columns {
		u := strings.TrimSpace(nameAt(below.cells, i))
		if c.Is != isResult || u == "" {
			continue
		}
		if _, isNumber := number(u); !isNumber && reads(c.Analyte, u) {
			units++
		} else {
			other++
		}
	}
	if units == 0 || other > units {
		return 0
	}
	return below.n
}

// fillUnits fills in the units that stand below the names.
func (g *grid) fillUnits(at int, m *Mapping) {
	if m.Units == 0 {
		return
	}
	for i := range m.Columns {
		if c := &m.Columns[i]; (c.Is == isResult || c.Is == "well depth") && c.Unit == "" {
			c.Unit = strings.TrimSpace(nameAt(g.lines[at+1].cells, i))
		}
	}
}

// labels finds what stands above the table, or beside a label, that the table
// itself does not say.
func (g *grid) labels(at int, m *Mapping) []Label {
	said := map[string]bool{}
	for _, c := range m.Columns {
		said[c.Is] = true
	}
	var out []Label
	for _, l := range g.lines[:at] {
		for i, c := range l.cells {
			text, _, _ := strings.Cut(c, ":")
			is := headingWords[squeezed(text)]
			switch is {
			case "date", "time", "site", "sample", "laboratory", "tap", "analysed":
				if !said[is] && labelled(l.cells, i) != "" {
					out = append(out, Label{Text: strings.TrimSpace(text), Is: is})
					said[is] = true
				}
			}
		}
	}
	return out
}

// labelled is what a label says: behind its colon, or in the next cell with
// anything in it.
func labelled(cells []string, i int) string {
	if _, rest, ok := strings.Cut(cells[i], ":"); ok && strings.TrimSpace(rest) != "" {
		return strings.TrimSpace(rest)
	}
	for _, c := range cells[i+1:] {
		if strings.TrimSpace(c) != "" {
			return strings.TrimSpace(c)
		}
	}
	return ""
}

var (
	commaFigure = regexp.MustCompile(`^[<>]?\s*\d{1,9},\d{1,9}(\s|$)`)
	pointFigure = regexp.MustCompile(`^[<>]?\s*\d*\.\d+(\s|$)`)
)

// decimalMark tells how figures are written, from those that can be read in only
// one way: "2,05" and "2.05", but neither "1,250" nor "1.250". It is "" where
// none is there, or both are.
func (g *grid) decimalMark(at int, m *Mapping) string {
	commas, points := 0, 0
	g.eachCell(at, m, func(c Column) bool { return c.Is == "value" || c.Is == isResult || c.Is == isSample }, func(s string) {
		switch {
		case pointFigure.MatchString(s) && !thousands(s, "."):
			points++
		case commaFigure.MatchString(s) && !thousands(s, ","):
			commas++
		}
	})
	switch {
	case commas > 0 && points == 0:
		return ","
	case points > 0 && commas == 0:
		return "."
	}
	return ""
}

// thousands reports whether the mark in a figure may part thousands.
func thousands(s, mark string) bool {
	before, after, _ := strings.Cut(anyFigure.FindString(s), mark)
	return len(after) == 3 && len(before) <= 3 && before != "" && !strings.HasPrefix(before, "0")
}

// eachCell calls f with the cells of the columns that are wanted.
func (g *grid) eachCell(at int, m *Mapping, want func(Column) bool, f func(string)) {
	for _, l := range g.lines[at+1:] {
		for i, c := range m.Columns {
			if s := strings.TrimSpace(nameAt(l.cells, i)); s != "" && want(c) {
				f(s)
			}
		}
	}
}

var slashed = regexp.MustCompile(`^(\d{1,2})[/.-](\d{1,2})[/.-]\d{2,4}`)

// dateOrder looks through the dates for one that can be read in only one way.
func (g *grid) dateOrder(at int, m *Mapping) (dateOrder, bool) {
	order, sure, seen := monthFirst, false, false
	look := func(s string) {
		p := slashed.FindStringSubmatch(s)
		if p == nil {
			return
		}
		seen = true
		first, second := fmt.Sprintf("%02s", p[1]), fmt.Sprintf("%02s", p[2])
		if first > "12" {
			order, sure = dayFirst, true
		} else if second > "12" {
			sure = true
		}
	}
	g.eachCell(at, m, func(c Column) bool { return c.Is == "date" || c.Is == "analysed" }, look)
	above := g.lines[:at]
	if m.Layout == Across { // there a line of the table may hold the dates
		above = g.lines
	}
	for _, l := range above {
		for _, c := range l.cells {
			_, rest, _ := strings.Cut(c, ":")
			look(strings.TrimSpace(c))
			look(strings.TrimSpace(rest))
		}
	}
	return order, sure || !seen
}
