package labfile_test

import (
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

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

func TestOhio(t *testing.T) {
	for _, f := range []string{"results-2010-2013.csv", "results-history-to-2009.csv"} {
		data := readData(t, "ohio-ambient-wells", f)
		start := time.Now()
		all, found := labfile.Read(f, data, labfile.Options{})
		took := time.Since(start)
		sheets := map[string]bool{}
		same, with := 0, 0
		for _, s := range all {
			sheets[s.Sheet] = true
			b, ok := water.AgencyBalance(s.Report)
			if s.Balance == nil || !ok {
				continue
			}
			with++
			if math.Abs(b.Percent/100-*s.Balance) < 0.003 {
				same++
			}
		}
		t.Logf("%s: %d sheets, %d samples, %d results, %v; %d of %d balances; %v", f, len(sheets), len(all), results(all), tally(found), same, with, took)
	}
}

func TestOthers(t *testing.T) {
	for _, f := range [][]string{{"wqp-wells-potomac", "result.csv"}, {"wqp-raw-exports", "kentucky-2024-narrowresult.csv"}, {"wqp-raw-exports", "wqx3-usgs-samples.csv"},
		{"wqp-raw-exports", "wqx3-portal-results.csv"}, {"wqp-raw-exports", "legacy-biological-profile.csv"}, {"wqp-raw-exports", "legacy-detection-limits.csv"}, {"bangladesh-survey-1998", "NationalSurveyData.csv"}} {
		all, found := labfile.Read(f[1], readData(t, f...), labfile.Options{})
		t.Logf("%s: %d samples, %d results, %v", f[1], len(all), results(all), tally(found))
		seen := map[string]int{}
		for _, x := range found {
			if seen[x.ID]++; seen[x.ID] < 4 {
				t.Log(x)
			}
		}
	}
}
