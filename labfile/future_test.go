package labfile_test

import (
	"strings"
	"testing"
	"time"

	"wellwright/labfile"
)

// A sample is of today at the latest, whatever the hour: a day later is a slip.
func TestSamplesOfTheFutureAreRefused(t *testing.T) {
	today := time.Date(2026, 5, 10, 9, 0, 0, 0, time.UTC)
	tests := []struct {
		name, row string
		taken     bool
		says      string
	}{
		{"the day before", "2026-05-09 10:00,,Iron,0.3,mg/L", true, ""},
		{"today, later in the day", "2026-05-10 23:59,,Iron,0.3,mg/L", true, ""},
		{"tomorrow", "2026-05-11 00:00,,Iron,0.3,mg/L", false, "x.csv:2: sampled on 2026-05-11, after today, 2026-05-10: 1 results; put the year"},
		{"a year mistyped", "2062-05-09,,Iron,0.3,mg/L", false, "x.csv:2: sampled on 2062-05-09, after today"},
		{"analysed in the future", "2026-05-09,2062-05-10,Iron,0.3,mg/L", false, "x.csv:2: analysed on 2062-05-10, after today"},
	}
	for _, tt := range tests {
		data := []byte("Date,Analysed,Parameter,Result,Units\n" + tt.row + "\n")
		all, found := labfile.Read("x.csv", data, labfile.Options{Today: today})
		if (len(all) == 1) != tt.taken || !tt.taken && !refusedSo(found, "future", tt.says) {
			t.Errorf("%s: %d samples, want taken %v: %v", tt.name, len(all), tt.taken, found)
		}
		if all, _ = labfile.Read("x.csv", data, labfile.Options{}); len(all) != 1 {
			t.Errorf("%s: refused, though no day was given to compare with", tt.name)
		}
	}
}

// What no well's water can be is refused by its row; the rest goes in.
func TestFiguresThatCannotBeAreRefused(t *testing.T) {
	data := []byte("Date,Parameter,Result,Units\n2025-05-01,pH,14.5,\n2025-05-01,Dissolved oxygen,400,mg/L\n2025-05-01,Alkalinity,900000,mg/L as CaCO3\n2025-05-01,Iron,0.3,mg/L\n")
	all, found := labfile.Read("x.csv", data, labfile.Options{})
	results := 0
	for _, s := range all {
		results += len(s.Report.Results)
	}
	if results != 1 {
		t.Errorf("%d results taken, want the iron alone", results)
	}
	for _, says := range []string{"x.csv:2: ", "x.csv:3: ", "x.csv:4: "} {
		if !refusedSo(found, "impossible", says) {
			t.Errorf("nothing says %q: %v", says, found)
		}
	}
}

// refusedSo reports whether a refusal of the kind begins so.
func refusedSo(found []labfile.Finding, id, begins string) bool {
	for _, f := range labfile.Refusals(found) {
		if f.ID == id && strings.HasPrefix(f.Error(), begins) {
			return true
		}
	}
	return false
}
