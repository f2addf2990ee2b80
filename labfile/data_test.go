package labfile_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"wellwright/book"
	"wellwright/labfile"
	"wellwright/water"
)

// readData reads a file of public data kept beside the repository. Where there
// is no such folder the test is skipped; a file missing from it is a failure.
func readData(t testing.TB, parts ...string) []byte {
	t.Helper()
	root := filepath.Join("..", "..", "shared")
	if _, err := os.Stat(root); errors.Is(err, fs.ErrNotExist) {
		t.Skip("no public data beside the repository")
	}
	text, err := os.ReadFile(filepath.Join(append([]string{root, "data"}, parts...)...))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// tally counts the findings by their names.
func tally(found []labfile.Finding) map[string]int {
	n := map[string]int{}
	for _, f := range found {
		n[f.ID]++
	}
	return n
}

func results(all []labfile.Sample) int {
	n := 0
	for _, s := range all {
		n += len(s.Report.Results)
	}
	return n
}

// rowsOf reads a file a second way: each row by the names of its columns.
func rowsOf(t *testing.T, data []byte) []map[string]string {
	t.Helper()
	all, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	rows := make([]map[string]string, 0, len(all))
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, h := range all[0] {
			row[h] = cells[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// Every row of a public file is a result, is refused by name, was printed
// already, or is a level among the remarks: none is lost.
func TestNoRowIsLost(t *testing.T) {
	for _, tt := range []struct {
		path []string
		name string
		rows int // as counted by whoever gathered the files
	}{
		{[]string{"ohio-ambient-wells", "results-2010-2013.csv"}, "parameter", 17786},
		{[]string{"ohio-ambient-wells", "results-history-to-2009.csv"}, "parameter", 10850},
		{[]string{"wqp-wells-potomac", "result.csv"}, "CharacteristicName", 2030},
		{[]string{"wqp-raw-exports", "kentucky-2024-narrowresult.csv"}, "CharacteristicName", 3571},
		{[]string{"wqp-raw-exports", "wqx3-usgs-samples.csv"}, "Result_Characteristic", 67},
		{[]string{"wqp-raw-exports", "wqx3-portal-results.csv"}, "Result_Characteristic", 5},
		{[]string{"wqp-raw-exports", "legacy-biological-profile.csv"}, "CharacteristicName", 5},
	} {
		data := readData(t, tt.path...)
		all, found := labfile.Read(tt.path[1], data, labfile.Options{})
		sum := results(all) + len(labfile.Refusals(found)) + tally(found)["twice"]
		for _, s := range all {
			for _, r := range s.Report.Results {
				sum += strings.Count(r.Note, "also printed as")
			}
		}
		for _, row := range rowsOf(t, data) {
			n := strings.ToLower(row[tt.name])
			if strings.HasPrefix(n, "water level") || strings.HasPrefix(n, "depth to water") || strings.HasPrefix(n, "flow rate") {
				sum++
			}
		}
		if sum != tt.rows {
			t.Errorf("%s: %d of %d rows accounted for", tt.path[1], sum, tt.rows)
		}
		t.Logf("%s: %d rows: %d samples, %d results, %v", tt.path[1], tt.rows, len(all), results(all), tally(found))
	}
}

// Every public file, also those that hold no results, is read or refused with a
// word: none crashes, none is passed in silence.
func TestEveryPublicFile(t *testing.T) {
	readData(t, "ohio-ambient-wells", "results-2010-2013.csv") // skips where there is no data
	files, err := filepath.Glob(filepath.Join("..", "..", "shared", "data", "*", "*.csv"))
	if err != nil || len(files) < 10 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		all, found := labfile.Read(filepath.Base(f), text, labfile.Options{})
		if len(all) == 0 && len(labfile.Refusals(found)) == 0 {
			t.Errorf("%s: no sample and no word why", f)
		}
	}
}

// BenchmarkOhio reads three megabytes of sheets.
func BenchmarkOhio(b *testing.B) {
	data := readData(b, "ohio-ambient-wells", "results-2010-2013.csv")
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		labfile.Read("ohio.csv", data, labfile.Options{})
	}
}

// The agency's own charge balance on each sheet is a figure we did not make.
func TestOhioSheets(t *testing.T) {
	for file, want := range map[string]int{"results-2010-2013.csv": 512, "results-history-to-2009.csv": 382} {
		data := readData(t, "ohio-ambient-wells", file)
		all, found := labfile.Read(file, data, labfile.Options{})
		sheets := map[string]bool{}
		printed, same, twins := 0, 0, 0
		for _, s := range all {
			sheets[s.Sheet] = true
			if s.Duplicate {
				twins += len(s.Lines)
			}
			b, ok := water.AgencyBalance(s.Report)
			if s.Balance == nil || !ok {
				continue
			}
			printed++
			if math.Abs(b.Percent/100-*s.Balance) <= 0.003 {
				same++
			}
		}
		whole, rejected, duplicates := 0, 0, 0
		byStatus := map[string]map[string]bool{}
		for _, row := range rowsOf(t, data) {
			id := row["chemistry_sheet_id"]
			if byStatus[id] == nil {
				byStatus[id] = map[string]bool{}
			}
			byStatus[id][row["status"]] = true
			if row["status"] == "SampleRejected" {
				rejected++
			} else if row["field_qc_type"] == "Duplicate" {
				duplicates++
			}
		}
		for _, s := range byStatus {
			if len(s) == 1 && s["SampleRejected"] {
				whole++
			}
		}
		if len(sheets)+whole != want {
			t.Errorf("%s: %d sheets read and %d rejected whole, want %d in all", file, len(sheets), whole, want)
		}
		if n := tally(found)["rejected"]; n != rejected {
			t.Errorf("%s: %d rows refused as rejected, want %d", file, n, rejected)
		}
		if printed < want*8/10 || float64(same) < 0.95*float64(printed) {
			t.Errorf("%s: %d of %d sheets agree with the agency's balance to 0.003 (Ohio EPA ambient ground water)", file, same, printed)
		}
		t.Logf("%s: %d sheets, %d rejected whole, %d of %d balances to 0.003, %d results of duplicates (%d rows)", file, len(sheets), whole, same, printed, twins, duplicates)
	}
}

// Wells of the Potomac: total and dissolved metals of one visit, field pH apart
// from that of the laboratory.
func TestPotomacVisits(t *testing.T) {
	data := readData(t, "wqp-wells-potomac", "result.csv")
	all, _ := labfile.Read("result.csv", data, labfile.Options{Stations: readData(t, "wqp-wells-potomac", "station.csv")})
	rows := rowsOf(t, data)
	visits, pairs, fieldPH, labPH, deep := map[string]bool{}, 0, 0, 0, map[string]bool{}
	for _, s := range all {
		visits[s.Site+s.Report.Sampled.String()] = true
		_, total := s.Report.Find(water.Iron, water.Recoverable)
		_, dissolved := s.Report.Find(water.Iron, water.Dissolved)
		if total && dissolved {
			pairs++
		}
		if _, ok := s.Report.Find(water.PH, water.Unspecified); ok && s.Report.Field {
			fieldPH++
		} else if ok {
			labPH++
		}
		if s.Well.Depth != nil {
			deep[s.Site] = true
		}
		for _, r := range s.Report.Results {
			if raw := rows[r.Place.Line-2]["ResultMeasureValue"]; (raw == "") != (r.Sign == water.Below) {
				t.Errorf("line %d: %s %q is read with sign %v", r.Place.Line, r.Analyte, raw, r.Sign)
			}
		}
	}
	if len(visits) != 32 || pairs != 12 || fieldPH != 32 || labPH != 12 {
		t.Errorf("%d visits, %d with iron total and dissolved, pH %d in the field and %d in the laboratory; the file has 32, 12, 32 and 12", len(visits), pairs, fieldPH, labPH)
	}
	withDepth := 0
	for _, row := range rowsOf(t, readData(t, "wqp-wells-potomac", "station.csv")) {
		if row["WellDepthMeasure/MeasureValue"] != "" || row["WellHoleDepthMeasure/MeasureValue"] != "" {
			withDepth++
		}
	}
	if len(deep) != withDepth {
		t.Errorf("%d wells with a depth, want %d", len(deep), withDepth)
	}
	missed := 0
	for _, row := range rows {
		if row["ResultDetectionConditionText"] == "Not Detected" {
			missed++
		}
	}
	below := 0
	for _, s := range all {
		for _, r := range s.Report.Results {
			if r.Sign == water.Below {
				below++
				below += strings.Count(r.Note, "also printed as <")
			}
		}
	}
	if below > missed || below < missed*95/100 {
		t.Errorf("%d results below a limit, of %d not detected", below, missed)
	}
}

// Field blanks look like samples in the narrow profile; only the tail of the
// activity tells.
func TestKentuckyBlanks(t *testing.T) {
	data := readData(t, "wqp-raw-exports", "kentucky-2024-narrowresult.csv")
	all, found := labfile.Read("kentucky.csv", data, labfile.Options{})
	field, lab := 0, 0
	for _, f := range found {
		if f.ID == "field-blank" && strings.Contains(f.Read, ":QFB") {
			field++
		} else if f.ID == "field-blank" {
			lab++
		}
	}
	if field != 307 || lab != 12 || tally(found)["rejected"] != 7 {
		t.Errorf("%d field blanks, %d laboratory blanks, %d rejected; the file has 307, 12 and 7", field, lab, tally(found)["rejected"])
	}
	dissolved, pairs := 0, 0
	for _, s := range all {
		_, d := s.Report.Find(water.Iron, water.Dissolved)
		_, u := s.Report.Find(water.Iron, water.Total)
		if d {
			dissolved++
		}
		if d && u && !s.Duplicate {
			pairs++
		}
	}
	// 46 dissolved iron results less the 14 of field blanks; some are replicates
	if dissolved != 32 || pairs < 20 {
		t.Errorf("%d samples with dissolved iron, want 46 less 14 blanks; %d pairs", dissolved, pairs)
	}
}

// A survey with a preamble of four lines and a line of units.
func TestSurveyWithUnitsLine(t *testing.T) {
	name := "NationalSurveyData.csv"
	data := readData(t, "bangladesh-survey-1998", name)
	m, found := labfile.Guess(name, data, "")
	if m == nil || m.Layout != labfile.Wide || m.Names != 5 || m.Units != 6 || m.Dates != "day first" || len(found) != 0 {
		t.Fatalf("mapping %+v %v", m, found)
	}
	all, found := labfile.Read(name, data, labfile.Options{Mapping: m})
	n := map[water.Analyte]int{}
	for _, s := range all {
		for _, r := range s.Report.Results {
			n[r.Analyte]++
		}
	}
	if len(all) != 3534 || n[water.Arsenic] != 3534 || n[water.Iron] != 3530 || n[water.Silica] != 3529 || len(found) != 0 {
		t.Errorf("%d samples, %d arsenic, %d iron, %d silica, %d findings; the survey has 3534, 3534, 3530 and 3529", len(all), n[water.Arsenic], n[water.Iron], n[water.Silica], len(found))
	}
	s := all[0]
	as, _, _ := s.Report.Concentration(water.Arsenic, water.Unspecified)
	fe, _, _ := s.Report.Concentration(water.Iron, water.Unspecified)
	al, sign, _ := s.Report.Concentration(water.Aluminium, water.Unspecified)
	if math.Abs(as.MgPerL()-0.013) > 1e-9 || fe.MgPerL() != 1.17 || al.MgPerL() != 0.04 || sign != water.Below || s.Report.Sampled.Format("2006-01-02") != "1998-03-06" {
		t.Errorf("first well: arsenic %v, iron %v, aluminium %v: the line says 13 ug/l, 1.17 and < 0.04 mg/L on 6 March 1998", as, fe, al)
	}
	if s.Well.Depth == nil || math.Abs(s.Well.Depth.M()-10.7) > 1e-9 {
		t.Errorf("depth %v, want 10.7 m", s.Well.Depth)
	}
}

// What is imported reads back out of a book as it was: every analyte, fraction,
// sign and amount, and the date.
func TestPublicFilesRoundTrip(t *testing.T) {
	for _, path := range [][]string{{"wqp-wells-potomac", "result.csv"}, {"wqp-raw-exports", "kentucky-2024-narrowresult.csv"}, {"ohio-ambient-wells", "results-history-to-2009.csv"}} {
		all, _ := labfile.Read(path[1], readData(t, path...), labfile.Options{})
		step := max(1, len(all)/60)
		for i := 0; i < len(all); i += step {
			roundTrip(t, all[i])
		}
	}
}

// roundTrip writes a sample into a book and compares what is read back.
func roundTrip(t *testing.T, s labfile.Sample) {
	t.Helper()
	sha := book.FileHash([]byte("x"))
	text, _, err := book.Append(nil, s.Entry(labfile.Kept{File: "received/x.csv", SHA256: sha}))
	if err != nil {
		t.Errorf("%s %s: %v", s.Site, s.Sheet, err)
		return
	}
	b, found := book.Read("b.yaml", text)
	if bad := book.Mistakes(found); len(bad) > 0 {
		t.Fatal(bad)
	}
	got := b.Present(s.Report.Sampled.AddDate(1, 0, 0)).Reports
	if len(got) != 1 || got[0].Field != s.Report.Field || got[0].Tap != s.Report.Tap {
		t.Fatalf("%s: %d reports", s.Sheet, len(got))
	}
	if w := s.Report.Sampled.Format("2006-01-02 15:04"); got[0].Sampled.Format("2006-01-02 15:04") != w {
		t.Errorf("%s: sampled %v, want the clock at the well, %s", s.Sheet, got[0].Sampled, w)
	}
	if !s.Report.Field && (got[0].SHA256 != sha || got[0].File != "received/x.csv") || !bytes.Contains(text, []byte(sha)) {
		t.Errorf("%s: the received file is not named", s.Sheet)
	}
	have, want := told(got[0]), told(s.Report)
	for k, n := range want {
		if have[k] != n {
			t.Errorf("%s: %q stands %d times, want %d", s.Sheet, k, have[k], n)
		}
	}
	if len(have) != len(want) {
		t.Errorf("%s: %d results, want %d", s.Sheet, len(have), len(want))
	}
}

// told counts the results of a report by all that matters of them.
func told(r water.Report) map[string]int {
	n := map[string]int{}
	for _, x := range r.Results {
		amount := "none"
		if a, err := x.Amount(); err == nil {
			v, u := a.Canonical()
			amount = strconv.FormatFloat(v, 'g', 9, 64) + " " + u
		}
		limit := ""
		if x.Limit != nil {
			limit = strconv.FormatFloat(*x.Limit, 'g', 9, 64)
		}
		n[strings.Join([]string{string(x.Analyte), x.Fraction.String(), strconv.Itoa(int(x.Sign)), amount, x.Method, limit}, "|")]++
	}
	return n
}
