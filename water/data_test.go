package water

import (
	"encoding/csv"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// table of a data file: rows by column name.
type sheet struct {
	column map[string]int
	rows   [][]string
}

func (s sheet) at(row []string, column string) string {
	if i, ok := s.column[column]; ok && column != "" {
		return row[i]
	}
	return ""
}

// openData reads a file of public data kept beside the repository; the test is
// skipped where it is not.
func openData(t *testing.T, parts ...string) sheet {
	t.Helper()
	f, err := os.Open(filepath.Join(append([]string{"..", "..", "shared", "data"}, parts...)...))
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("no public data beside the repository")
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	s := sheet{column: map[string]int{}, rows: rows[1:]}
	for i, name := range rows[0] {
		s.column[name] = i
	}
	return s
}

// What the exports hold that is no analyte of a household's water, or no amount of it.
var foreign = []string{"Barometric", "Chromium", "Depth", "Flow", "Organic Nitrogen", "Sodium adsorption", "Sodium, percent", "Temperature, air",
	"Water Level", "Phenols", "Solids, Total", "Tritium", "Fixed suspended", "Volatile suspended", "General obs", "Height", "Number of", "Precipitation", "RBP",
	"Stream", "Transit", "Weather", "Acidity, (H+)"}

func TestReadsPublicExports(t *testing.T) {
	for _, tt := range []struct {
		path                                       []string
		name, value, unit, limit, limitUnit, basis string
	}{
		{[]string{"wqp-wells-potomac", "result.csv"}, "CharacteristicName", "ResultMeasureValue", "ResultMeasure/MeasureUnitCode",
			"DetectionQuantitationLimitMeasure/MeasureValue", "DetectionQuantitationLimitMeasure/MeasureUnitCode", ""},
		{[]string{"ohio-ambient-wells", "results-2010-2013.csv"}, "parameter", "result_value", "result_unit", "detect_limit_value", "detect_limit_unit", ""},
		{[]string{"ohio-ambient-wells", "results-history-to-2009.csv"}, "parameter", "result_value", "result_unit", "detect_limit_value", "detect_limit_unit", ""},
		{[]string{"wqp-raw-exports", "kentucky-2024-narrowresult.csv"}, "CharacteristicName", "ResultMeasureValue", "ResultMeasure/MeasureUnitCode", "", "", "MethodSpecificationName"},
	} {
		s := openData(t, tt.path...)
		read := 0
		for _, row := range s.rows {
			name, value, u := s.at(row, tt.name), s.at(row, tt.value), s.at(row, tt.unit)
			if value == "" {
				value, u = "<"+s.at(row, tt.limit), s.at(row, tt.limitUnit)
			}
			if value == "<" || foreignName(name) {
				continue
			}
			res, err := ParseResult(name, value, u, Place{})
			refused := strings.Contains(u, "tons/ac ft") || strings.Contains(u, "saturatn")
			if (err != nil) != refused {
				t.Errorf("%s %q %q: %v", name, value, u, err)
			}
			if _, err := basisOf(s.at(row, tt.basis)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if err == nil && res.Analyte != "" {
				read++
			}
		}
		if read < 1000 {
			t.Errorf("%v: only %d results read", tt.path, read)
		}
	}
}

func foreignName(name string) bool {
	for _, f := range foreign {
		if strings.HasPrefix(name, f) && !strings.HasPrefix(name, "Chromium") {
			return true
		}
	}
	return false
}

// The agency's own charge balance on each sheet is a figure we did not make.
func TestAgencyBalance(t *testing.T) {
	s := openData(t, "ohio-ambient-wells", "results-2010-2013.csv")
	reports, printed := map[string]*Report{}, map[string]float64{}
	for _, row := range s.rows {
		id := s.at(row, "chemistry_sheet_id")
		if reports[id] == nil {
			reports[id] = &Report{ID: id}
		}
		value, u := s.at(row, "result_value"), s.at(row, "result_unit")
		if value == "" {
			value, u = "<"+s.at(row, "detect_limit_value"), s.at(row, "detect_limit_unit")
		}
		if res, err := ParseResult(s.at(row, "parameter"), value, u, Place{}); err == nil {
			reports[id].Results = append(reports[id].Results, res)
		}
		if v, err := strconv.ParseFloat(s.at(row, "charge_balance_error"), 64); err == nil {
			printed[id] = 100 * v
		}
	}
	sheets, same := 0, 0
	for id, r := range reports {
		b, ok := AgencyBalance(*r)
		want, has := printed[id]
		if !ok || !has {
			continue
		}
		sheets++
		if math.Abs(b.Percent-want) < 0.1 {
			same++
		}
	}
	if sheets < 400 || float64(same) < 0.98*float64(sheets) {
		t.Errorf("%d of %d sheets agree with the agency's charge balance (Ohio EPA ambient ground water) to 0.1 %%", same, sheets)
	}
	t.Logf("%d of %d sheets agree to 0.1 %%", same, sheets)
}

// In 2010 that laboratory printed calcium hardness as hardness on a run of sheets:
// the check must find a number of them, and must not cry out over the others.
func TestFindsCalciumHardness(t *testing.T) {
	s := openData(t, "ohio-ambient-wells", "results-2010-2013.csv")
	reports, year := map[string]*Report{}, map[string]string{}
	for _, row := range s.rows {
		id := s.at(row, "chemistry_sheet_id")
		if reports[id] == nil {
			reports[id] = &Report{ID: id}
		}
		if res, err := ParseResult(s.at(row, "parameter"), s.at(row, "result_value"), s.at(row, "result_unit"), Place{}); err == nil {
			reports[id].Results = append(reports[id].Results, res)
		}
		date, _, _ := strings.Cut(s.at(row, "collection_timestamp"), " ")
		year[id] = date[strings.LastIndex(date, "/")+1:]
	}
	caught, doubts, later := 0, 0, 0
	for id, r := range reports {
		f := find1(CheckReport(*r, nil), "hardness_sum")
		if f.Verdict == Doubt {
			doubts++
			if year[id] > "2010" {
				later++
			}
			if strings.Contains(f.Say, "calcium hardness only") {
				caught++
			}
		}
	}
	if caught < 10 || later > len(reports)/50 {
		t.Errorf("%d sheets of calcium hardness found, %d doubts in all, %d after 2010, of %d", caught, doubts, later, len(reports))
	}
	t.Logf("%d sheets of calcium hardness, %d doubts in all, %d after 2010, of %d", caught, doubts, later, len(reports))
}
