// Package labfile reads what laboratories and agencies send: the exchange files
// of the water-quality portals, sheets of an agency's survey, and any other
// table by a column mapping. It returns samples, each with a report, and says of
// every row that was not taken where it stands, what was read and what would be
// right.
package labfile

import (
	"fmt"
	"strings"
	"time"

	"wellwright/unit"
	"wellwright/water"
)

// Format is the layout of a file.
type Format string

// The layouts.
const (
	WQXResults  Format = "wqx-results"    // legacy physical and chemical, or biological, profile
	WQXNarrow   Format = "wqx-narrow"     // legacy narrow profile, which names no type of activity
	WQX3        Format = "wqx-3"          // names of columns of WQX 3
	WQXStations Format = "wqx-stations"   // companion: the sites
	WQXLimits   Format = "wqx-limits"     // companion: the detection limits
	OhioSheets  Format = "sheets"         // a result a row, grouped by chemistry_sheet_id
	Mapped      Format = "column-mapping" // any other table
)

// Level is what came of a row that has a finding.
type Level int

// The levels.
const (
	Refused Level = iota // the row, or the file, was not taken
	Notice               // taken, but worth knowing
)

// String returns the word printed with a finding.
func (l Level) String() string { return [...]string{"refused", "notice"}[l] }

// MarshalText writes the word.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// Finding is one thing about a file that its reader must know.
type Finding struct {
	ID    string      `json:"id"`
	Level Level       `json:"level"`
	Place water.Place `json:"place"`
	Cell  string      `json:"cell,omitempty"` // "Sheet1!C5", in a workbook
	Site  string      `json:"site,omitempty"` // of the row; "" if it says none, or for the whole file
	Read  string      `json:"read"`
	Want  string      `json:"want,omitempty"`

	Unknown string `json:"-"` // the name of an analyte that nobody here knows
}

// Error returns "file:line: what was read; what would be right".
func (f Finding) Error() string {
	at := f.Place.File
	switch {
	case f.Cell != "":
		at += ":" + f.Cell
	case f.Place.Line > 0:
		at = fmt.Sprintf("%s:%d", at, f.Place.Line)
	}
	s := f.Read
	if f.Level == Notice {
		s = "notice: " + s
	}
	if at != "" {
		s = at + ": " + s
	}
	if f.Want != "" {
		s += "; " + f.Want
	}
	return s
}

// Refusals returns the findings by which something was not taken.
func Refusals(all []Finding) []Finding {
	var out []Finding
	for _, f := range all {
		if f.Level == Refused {
			out = append(out, f)
		}
	}
	return out
}

// WellFacts is what a file says of the well itself.
type WellFacts struct {
	Kind    string // as written: Well, Spring ...
	Depth   *unit.Length
	Casing  *unit.Length // length of casing
	Aquifer string
	Year    int // it was made; 0: not said
}

// None reports whether nothing is said that a well record could hold.
func (w WellFacts) None() bool {
	return w.Depth == nil && w.Casing == nil && w.Aquifer == "" && w.Year == 0
}

// Line is one result with the words it was received in.
type Line struct {
	Figure   string // sign and figure as they will stand, with no digit lost: "<0.050"
	Received string // name, figure and unit as received
	Place    water.Place
	Cell     string
}

// Sample is one bottle set, or one round of readings, at one site and time. A
// visit with both gives two samples.
type Sample struct {
	Format     Format
	Site       string
	SiteName   string
	Sheet      string // the file's own name for the sample
	Zone       string // of the time, as written
	Timed      bool   // a time of day was written
	Report     water.Report
	Lines      []Line // one for each of Report.Results
	Well       WellFacts
	Duplicate  bool     // a field duplicate or replicate of another sample
	Balance    *float64 // the agency's own charge balance, (C - A)/(C + A)
	Remarks    []string // comments on the sample, and what has no place among results
	Activities []string
}

// Options are what may be told beside the file.
type Options struct {
	Mapping   *Mapping    // for a table of no known layout; nil: guessed
	Worksheet string      // of a workbook; "": that of the mapping, or the first with a layout
	Stations  []byte      // companion file of sites
	Limits    []byte      // companion file of detection limits
	Tap       water.Where // "": T1, unless the file says it
	On        string      // date of rows that have none
	Today     time.Time   // samples of a later day are refused; zero: none is
}

// Read reads a file of any layout. Samples come in the order of the file, and
// of one visit the laboratory's report before the readings.
func Read(name string, data []byte, opt Options) ([]Sample, []Finding) {
	g, found := open(name, data, first(opt.Worksheet, sheetOf(opt.Mapping)))
	if g == nil {
		return nil, found
	}
	r := newReader(name, opt)
	r.found = found
	r.companions()
	format, at, err := g.detect(opt.Mapping)
	if err != nil {
		r.refuse("layout", spot{}, err.Error(), "")
		return nil, r.found
	}
	r.format = format
	switch format {
	case WQXStations, WQXLimits:
		r.refuse("companion", spot{line: g.lines[at].n}, "this is the companion file of "+companionOf[format],
			"give it beside the file of results")
	case Mapped:
		r.mapped(g, opt.Mapping)
	default:
		r.rows(g, at)
	}
	return r.samples(), r.found
}

var companionOf = map[Format]string{WQXStations: "sites", WQXLimits: "detection limits"}

// Detect tells the layout of a file.
func Detect(name string, data []byte) (Format, error) {
	g, found := open(name, data, "")
	if g == nil {
		return "", found[0]
	}
	f, _, err := g.detect(nil)
	return f, err
}

// one joins texts that are not empty and not repeated.
func one(sep string, texts ...string) string {
	var out []string
	for _, t := range texts {
		if t = strings.TrimSpace(t); t != "" && !contains(out, t) {
			out = append(out, t)
		}
	}
	return strings.Join(out, sep)
}

func contains(all []string, s string) bool {
	for _, a := range all {
		if a == s {
			return true
		}
	}
	return false
}
