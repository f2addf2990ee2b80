package labfile

import (
	"bytes"
	"fmt"
	"sort"
	"strings"

	"github.com/goccy/go-yaml"

	"wellwright/water"
)

// Mapping says what the columns of a laboratory's own table mean. It is kept
// beside the book, so that the next report of that laboratory needs no thought.
type Mapping struct {
	Layout   string            `yaml:"layout"`               // a result a line, a sample a line, or a sample a column
	Sheet    string            `yaml:"sheet,omitempty"`      // of a workbook
	Names    int               `yaml:"names line"`           // the line of the names of columns
	Units    int               `yaml:"units line,omitempty"` // the line of units, if there is one
	Dates    string            `yaml:"dates,omitempty"`      // month first, or day first
	Decimal  string            `yaml:"decimal,omitempty"`    // "," where that is the decimal mark
	OnSite   bool              `yaml:"read on site,omitempty"`
	Columns  []Column          `yaml:"columns"`
	Labels   []Label           `yaml:"labels,omitempty"`   // what stands above the table
	Always   map[string]string `yaml:"always,omitempty"`   // what the file does not say
	Analytes map[string]string `yaml:"analytes,omitempty"` // the laboratory's own names -> ours
}

// Column is one column and its meaning.
type Column struct {
	Name     string `yaml:"column"`
	Is       string `yaml:"is"`
	Analyte  string `yaml:"analyte,omitempty"` // of a column of results
	Unit     string `yaml:"unit,omitempty"`
	Fraction string `yaml:"fraction,omitempty"`
	Basis    string `yaml:"basis,omitempty"`
}

// Label is a text above the table that says something of the whole sample, such
// as "Date collected:".
type Label struct {
	Text string `yaml:"label"`
	Is   string `yaml:"is"`
}

// The layouts of a mapped table.
const (
	Long   = "a result a line"
	Wide   = "a sample a line"
	Across = "a sample a column"
)

// The meanings a column may have, besides those of roles.
const (
	isResult = "result"  // the figures of one analyte
	isSample = "figures" // the figures of one sample
	isIgnore = "ignore"
)

// roles are the meanings of columns by their word.
var roles = map[string]part{
	"site": pSite, "site name": pSiteName, "sample": pSheet, "date": pDate, "time": pTime, "zone": pZone,
	"analyte": pName, "value": pValue, "unit": pUnit, "basis": pBasis, "fraction": pFraction,
	"qualifier": pQualifier, "condition": pCondition, "status": pStatus, "method": pMethod,
	"limit": pLimit, "limit unit": pLimitUnit, "laboratory": pLaboratory, "analysed": pAnalysed,
	"tap": pTap, "note": pNote, "remark": pSampleRemark, "sample type": pControl, "medium": pMedium,
	"well depth": pDepth, "aquifer": pAquifer, "filtered": pFiltered,
}

// Meanings lists the words a column may be given, for help and messages.
func Meanings() []string {
	words := []string{isResult, isSample, isIgnore}
	for w := range roles {
		words = append(words, w)
	}
	sort.Strings(words)
	return words
}

// Bounds of a mapping file: the reader of YAML takes a time that grows with the
// square of nesting and length.
const (
	maxMapping = 256 << 10
	maxDeep    = 20_000 // marks of structure
	maxNested  = 200
)

// ReadMapping reads a mapping and says everything that is wrong with it.
func ReadMapping(name string, text []byte) (*Mapping, []Finding) {
	fault := func(s string) []Finding { return []Finding{fileFinding(name, "mapping", Refused, s)} }
	if len(text) > maxMapping || marks(text) > maxDeep || nesting(text) > maxNested {
		return nil, fault("larger or deeper than any column mapping")
	}
	var m Mapping
	if err := decodeYAML(text, &m); err != nil {
		return nil, fault(err.Error())
	}
	var found []Finding
	for _, s := range m.Faults() {
		found = append(found, fault(s)...)
	}
	if len(found) > 0 {
		return nil, found
	}
	return &m, nil
}

func decodeYAML(text []byte, m *Mapping) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("not a column mapping: %v", p)
		}
	}()
	return yaml.NewDecoder(bytes.NewReader(text), yaml.Strict()).Decode(m)
}

func marks(text []byte) int {
	n := 0
	for _, c := range text {
		if strings.IndexByte("{}[]&*!|>?", c) >= 0 {
			n += 8
		}
		if c == ':' || c == '-' || c == '\n' {
			n++
		}
	}
	return n
}

// nesting is the deepest indent, a rough measure of depth.
func nesting(text []byte) int {
	deep := 0
	for l := range bytes.SplitSeq(text, []byte("\n")) {
		deep = max(deep, len(l)-len(bytes.TrimLeft(l, " -[{?")))
	}
	return deep
}

// YAML writes the mapping as it is kept.
func (m Mapping) YAML() ([]byte, error) {
	text, err := yaml.Marshal(m)
	return append([]byte("# What the columns of this laboratory's file mean. Change a word and import again.\n"), text...), err
}

// Faults are all that is wrong with a mapping, in itself.
func (m Mapping) Faults() []string {
	var bad []string
	say := func(format string, args ...any) { bad = append(bad, fmt.Sprintf(format, args...)) }
	if m.Layout != Long && m.Layout != Wide && m.Layout != Across {
		say("layout %q: want %q, %q or %q", m.Layout, Long, Wide, Across)
	}
	if m.Names < 1 {
		say("names line %d: want the number of the line that holds the names of the columns", m.Names)
	}
	if m.Units < 0 || m.Units > 0 && m.Units <= m.Names {
		say("units line %d: want a line below the names, or none", m.Units)
	}
	if m.Dates != "" && m.Dates != string(monthFirst) && m.Dates != string(dayFirst) {
		say("dates %q: want %q or %q", m.Dates, monthFirst, dayFirst)
	}
	if m.Decimal != "" && m.Decimal != "," && m.Decimal != "." {
		say("decimal %q: want \".\" or \",\"", m.Decimal)
	}
	is := map[string]int{}
	for i, c := range m.Columns {
		is[c.Is]++
		bad = append(bad, c.faults(i)...)
	}
	for _, l := range m.Labels {
		if _, ok := roles[l.Is]; !ok || l.Text == "" {
			say("label %q is %q: want one of %s", l.Text, l.Is, strings.Join(Meanings(), ", "))
		}
	}
	for k := range m.Always {
		if _, ok := roles[k]; !ok {
			say("always %q: want one of %s", k, strings.Join(Meanings(), ", "))
		}
	}
	if m.Layout == Long && (is["analyte"] == 0 || is["value"] == 0) {
		say("%s: want a column that is analyte and one that is value", Long)
	}
	if m.Layout == Wide && is[isResult] == 0 {
		say("%s: want at least one column that is result, with its analyte", Wide)
	}
	if m.Layout == Across && (is["analyte"] == 0 || is[isSample] == 0) {
		say("%s: want a column that is analyte and at least one that is %s", Across, isSample)
	}
	return bad
}

func (c Column) faults(i int) []string {
	var bad []string
	if _, ok := roles[c.Is]; !ok && c.Is != isResult && c.Is != isSample && c.Is != isIgnore {
		bad = append(bad, fmt.Sprintf("column %d %q is %q: want one of %s", i+1, c.Name, c.Is, strings.Join(Meanings(), ", ")))
	}
	if c.Is != isResult {
		return bad
	}
	if _, _, _, ok := water.ParseAnalyte(c.Analyte); !ok {
		bad = append(bad, fmt.Sprintf("column %d %q: %q is not the name of an analyte known here", i+1, c.Name, c.Analyte))
	}
	if _, ok := water.ParseFraction(c.Fraction); !ok {
		bad = append(bad, fmt.Sprintf("column %d %q: fraction %q: want total, dissolved, ferrous ...", i+1, c.Name, c.Fraction))
	}
	return bad
}

// Fits reports whether a file has every column the mapping needs, where the
// mapping looks for them.
func (m Mapping) Fits(name string, data []byte) bool {
	g, _ := open(name, data, m.Sheet)
	if g == nil {
		return false
	}
	_, missing := m.locate(g)
	return len(missing) == 0
}

// locate returns the row of the names and the columns that are not in it. The
// names may have moved by some lines: what stands above a table is not always of
// one length.
func (m Mapping) locate(g *grid) (head int, missing []string) {
	for i, l := range g.lines {
		if l.n == m.Names {
			head, missing = i, m.missing(l.cells)
		}
	}
	if len(g.lines) == 0 {
		return 0, []string{"a line of names"}
	}
	for i, l := range g.lines[:min(len(g.lines), preamble)] {
		if len(m.missing(l.cells)) == 0 {
			return i, nil
		}
	}
	if missing == nil {
		missing = m.missing(g.lines[head].cells)
	}
	return head, missing
}

// missing are the columns the mapping needs that a row of names lacks.
func (m Mapping) missing(header []string) []string {
	have := map[string]bool{}
	for _, c := range header {
		have[folded(c)] = true
	}
	var out []string
	for _, c := range m.Columns {
		if c.Is != isIgnore && !have[folded(c.Name)] {
			out = append(out, fmt.Sprintf("%q", c.Name))
		}
	}
	return out
}

// moved is the mapping for a table whose names stand on another line.
func (m Mapping) moved(names int) *Mapping {
	if m.Units > 0 {
		m.Units += names - m.Names
	}
	m.Names = names
	return &m
}

func sheetOf(m *Mapping) string {
	if m == nil {
		return ""
	}
	return m.Sheet
}
