package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"

	"wellwright/labfile"
	"wellwright/water"
)

// mark says what is known of one coordinate of one sheet.
type mark uint8

const (
	missing mark = iota
	exact
	below // the figure is a limit of detection
)

// sheet is one water as it was analysed: a point with holes and upper limits.
type sheet struct {
	well   string // only to weigh by; never written
	x      [size]float64
	mark   [size]mark
	orp    float64 // mV, NaN if not read
	smell  int     // +1 rotten egg noted, -1 "no odor" noted, 0 nothing noted
	weight float64 // one over the sheets of its well
}

// public are the files of raw water from wells, by folder.
var public = []struct{ folder, file, stations string }{
	{"ohio-ambient-wells", "results-2010-2013.csv", ""},
	{"ohio-ambient-wells", "results-history-to-2009.csv", ""},
	{"wqp-wells-potomac", "result.csv", "station.csv"},
}

// tallies count what was read and what was left out, for the page.
type tallies struct{ read, duplicate, unbalanced, undecided, used int }

// readSheets reads every sheet of the public wells that may be worked with.
func readSheets(data string) ([]sheet, tallies, error) {
	var all []sheet
	var n tallies
	for _, p := range public {
		samples, err := readFile(data, p.folder, p.file, p.stations)
		if err != nil {
			return nil, n, err
		}
		for _, g := range together(samples) {
			n.read++
			switch {
			case g.twin:
				n.duplicate++
			case unbalanced(g.report):
				n.unbalanced++
			default:
				all = append(all, g.sheet(p.folder))
			}
		}
	}
	return all, n, nil
}

func readFile(data, folder, file, stations string) ([]labfile.Sample, error) {
	text, err := os.ReadFile(filepath.Join(data, folder, file))
	if err != nil {
		return nil, err
	}
	var opt labfile.Options
	if stations != "" {
		if opt.Stations, err = os.ReadFile(filepath.Join(data, folder, stations)); err != nil {
			return nil, err
		}
	}
	samples, _ := labfile.Read(file, text, opt)
	if len(samples) == 0 {
		return nil, fmt.Errorf("%s: no samples; want a file of results", filepath.Join(folder, file))
	}
	return samples, nil
}

// visit is the laboratory's report and the readings on site of one sheet.
type visit struct {
	site    string
	report  water.Report
	remarks []string
	twin    bool
}

// together joins the two samples of one visit. Readings on site stand first:
// they are preferred. A table of no known layout has a water a row.
func together(samples []labfile.Sample) []*visit {
	byKey := map[string]*visit{}
	var order []*visit
	for i, s := range samples {
		key := s.Site + "|" + s.Report.Sampled.String()
		switch s.Format {
		case labfile.OhioSheets:
			key = s.Site + "|" + s.Sheet
		case labfile.Mapped:
			key = strconv.Itoa(i)
		}
		v := byKey[key]
		if v == nil {
			v = &visit{site: s.Site}
			byKey[key], order = v, append(order, v)
		}
		v.twin = v.twin || s.Duplicate
		v.remarks = append(v.remarks, s.Remarks...)
		if s.Report.Field {
			v.report.Results = append(append([]water.Result(nil), s.Report.Results...), v.report.Results...)
		} else {
			v.report.Results = append(v.report.Results, s.Report.Results...)
		}
	}
	return order
}

// worstBalance is the error of the charge balance, in percent, above which a
// sheet is left out. Kind: common practice.
const worstBalance = 10

// unbalanced reports whether a whole analysis of the major ions is too far out.
func unbalanced(r water.Report) bool {
	b, ok := water.ChargeBalance(r, water.AtHalf)
	return ok && len(b.Missing) == 0 && math.Abs(b.Percent) > worstBalance
}

func (v *visit) sheet(folder string) sheet {
	s := sheet{well: folder + "|" + v.site, orp: math.NaN(), smell: smellOf(v.remarks)}
	for i, c := range coordinates {
		s.x[i], s.mark[i] = figure(v.report, c)
	}
	if a, ok := v.report.Amount(water.ORP, water.Unspecified); ok {
		if p, is := a.Potential(); is {
			s.orp = p.MV()
		}
	}
	return s
}

// figure reads one coordinate off a report.
func figure(r water.Report, c coordinate) (float64, mark) {
	v, sign, ok := amount(r, c.analyte)
	if !ok {
		if other, is := instead[c.analyte]; is {
			v, sign, ok = amount(r, other)
		}
	}
	if x, is := c.on(v); ok && is {
		switch sign {
		case water.Exact:
			return x, exact
		case water.Below:
			return x, below
		}
	}
	return 0, missing
}

func amount(r water.Report, a water.Analyte) (float64, water.Sign, bool) {
	if a == water.Alkalinity { // may be made from bicarbonate and carbonate
		alk, sign, ok := r.Alkalinity()
		return alk.MgPerLAsCaCO3(), sign, ok
	}
	got, ok := r.Amount(a, water.Unspecified)
	v, _ := got.Canonical()
	return v, got.Sign, ok && got.Numeric()
}

// What the field notes of the survey say of smell.
var (
	egg     = regexp.MustCompile(`(?i)h2s|sulfur odor|rotten`)
	noSmell = regexp.MustCompile(`(?i)no odor`)
)

func smellOf(remarks []string) int {
	for _, r := range remarks {
		if egg.MatchString(r) {
			return 1
		}
	}
	for _, r := range remarks {
		if noSmell.MatchString(r) {
			return -1
		}
	}
	return 0
}
