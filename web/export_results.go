package web

import (
	"bytes"
	"encoding/csv"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"time"

	"wellwright/limits"
	"wellwright/water"
)

// resultHead names the columns of the results; a figure stands beside its unit.
var resultHead = []string{
	"entry", "kind", "laboratory", "tap", "first_draw", "sampled", "analysed", "analyte", "name_as_printed", "fraction", "as_printed", "sign", "value", "unit", "basis",
	"value_canonical", "unit_canonical", "assumed", "detection_limit", "method", "note", "standing", "limit", "limit_protects",
}

// sendResults handles GET /wells/{well}/report.csv: every result of the well as it
// was received, for a spreadsheet.
func (s *Server) sendResults(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	text, err := resultsCSV(o)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/csv; charset=utf-8; header=present")
	w.Header().Set("Content-Disposition", `attachment; filename="results-`+asciiName(string(o.id))+`.csv"`)
	_, err = w.Write(text)
	return err
}

// mark begins a text file that a spreadsheet is to read as UTF-8.
const byteOrderMark = "\ufeff"

// resultsCSV writes the results as comma-separated values.
func resultsCSV(o opened) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString(byteOrderMark)
	out := csv.NewWriter(&b)
	rows := append([][]string{resultHead}, resultRows(o)...)
	for _, row := range rows {
		for i := range row {
			row[i] = harmless(row[i])
		}
	}
	err := out.WriteAll(rows)
	return b.Bytes(), err
}

// resultRows are the results of every report of the well, oldest sample first.
func resultRows(o opened) [][]string {
	var rows [][]string
	table := limitsOf(o)
	for _, r := range o.present.Reports {
		e, _ := o.book.Find(r.ID)
		words := written(e)
		found := judgedBy(table.JudgeWith(o.present.Factors(), r, whoOf(o)))
		for _, x := range r.Results {
			rows = append(rows, append(append(reportCells(r), resultCells(x, words.take(x))...), limitCells(found[judgedKey(x)])...))
		}
	}
	return rows
}

func reportCells(r water.Report) []string {
	kind := "laboratory"
	if r.Field {
		kind = "field"
	}
	first := "no"
	if r.FirstDraw {
		first = "yes"
	}
	return []string{r.ID, kind, r.Laboratory, string(r.Tap), first, stamp(r.Sampled), stamp(r.Analysed)}
}

// stamp writes a date, with its hour if there is one.
func stamp(t time.Time) string {
	switch {
	case t.IsZero():
		return ""
	case midnight(t):
		return t.Format(time.DateOnly)
	}
	return t.Format("2006-01-02 15:04")
}

func resultCells(x water.Result, w asWritten) []string {
	sign := map[water.Sign]string{water.Below: "<", water.Above: ">", water.Present: "present", water.Absent: "absent"}[x.Sign]
	value, detection := "", ""
	if x.Sign != water.Present && x.Sign != water.Absent {
		value = figureCell(x.Value)
	}
	if x.Limit != nil {
		detection = figureCell(*x.Limit)
	}
	fraction := ""
	if x.Fraction != water.Unspecified {
		fraction = x.Fraction.String()
	}
	canonical, of, assumed := "", "", ""
	if got, err := x.Amount(); err == nil {
		if assumed = got.Assumed; got.Numeric() {
			v, u := got.Canonical()
			canonical, of = figureCell(v), u
		}
	}
	return []string{x.Analyte.Name(), w.key, fraction, w.value, sign, value, x.Unit, x.Basis, canonical, of, assumed, detection, x.Method, x.Note}
}

// limitCells are the gravest standing of a result.
func limitCells(found []limits.Finding) []string {
	if len(found) == 0 {
		return []string{"", "", ""}
	}
	f := found[0]
	return []string{outcomeWords[f.Outcome], f.Limit.String(), f.Limit.Basis.String()}
}

// figureCell writes a figure for a machine.
func figureCell(v float64) string { return strconv.FormatFloat(v, 'g', 10, 64) }

// plainNumber is a number, below zero too, and nothing else.
var plainNumber = regexp.MustCompile(`^[-+]?[0-9]+(\.[0-9]+)?([eE][-+]?[0-9]+)?$`)

// harmless keeps a spreadsheet from taking a text for a formula: one that begins,
// behind blanks, with a sign that may begin one gets an apostrophe before it.
// Numbers stay numbers. After OWASP, CSV Injection (web page).
func harmless(cell string) string {
	if plainNumber.MatchString(cell) {
		return cell
	}
	bare := strings.TrimLeft(cell, " \u00a0\n\v\f")
	if bare == "" {
		return cell
	}
	switch []rune(bare)[0] {
	case '=', '+', '-', '@', '\t', '\r', '＝', '＋', '－', '＠':
		return "'" + cell
	}
	return cell
}
