package main

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
)

const (
	priorFile = "../../cloud/prior.json"
	pageFile  = "../../docs/prior.md"
	dataDir   = "../../../shared/data"
)

func readPrior(t *testing.T) (prior, []byte) {
	t.Helper()
	text, err := os.ReadFile(priorFile)
	if err != nil {
		t.Fatal(err)
	}
	var p prior
	if err := json.Unmarshal(text, &p); err != nil {
		t.Fatal(err)
	}
	return p, text
}

func needData(t *testing.T) {
	t.Helper()
	if _, err := os.Stat(dataDir); errors.Is(err, fs.ErrNotExist) {
		t.Skip("no public data beside the repository")
	}
}

// The file has the form that it promises.
func TestPriorForm(t *testing.T) {
	p, text := readPrior(t)
	if len(text) > 40_000 {
		t.Errorf("%d bytes, want at most 40000", len(text))
	}
	if len(p.Coordinates) != size || len(p.Classes) != int(classes) {
		t.Fatalf("%d coordinates, %d classes", len(p.Coordinates), len(p.Classes))
	}
	for i, c := range coordinates {
		if p.Coordinates[i] != c.id {
			t.Errorf("coordinate %d is %s, want %s", i, p.Coordinates[i], c.id)
		}
	}
	share, called := 0.0, 0.0
	for c, l := range p.Classes {
		share, called = share+l.Share, called+l.Called
		if l.ID != classIDs[c] || len(l.Mean) != size || len(l.SD) != size || len(l.Kind) != size || len(l.Correlation) != size*(size-1)/2 {
			t.Errorf("%s: %d means, %d spreads, %d kinds, %d correlations", l.ID, len(l.Mean), len(l.SD), len(l.Kind), len(l.Correlation))
		}
		for i, k := range l.Kind {
			if k != published && k != judgement || k == published && l.Wells == 0 {
				t.Errorf("%s %s: kind %q with %d wells", l.ID, p.Coordinates[i], k, l.Wells)
			}
			if l.SD[i] < coordinates[i].floor && k == published {
				t.Errorf("%s %s: standard deviation %g is below its floor %g", l.ID, p.Coordinates[i], l.SD[i], coordinates[i].floor)
			}
		}
	}
	near(t, "sum of shares", share, 1, 0.003, "definition; three decimals")
	near(t, "sum of shares among callers", called, 1, 0.003, "definition; three decimals")
}

// Rounded as they stand, the matrices can be drawn from.
func TestPriorIsPositiveDefinite(t *testing.T) {
	p, _ := readPrior(t)
	for _, l := range p.Classes {
		var root mat.Cholesky
		if !root.Factorize(l.matrix()) {
			t.Errorf("%s: not positive definite", l.ID)
		}
		if c := condition(l.matrix()); c <= 0 || c >= worstCond {
			t.Errorf("%s: condition number %g, want below %g", l.ID, c, worstCond)
		}
	}
}

// Nothing that tells a well stands in what is committed.
func TestPriorNamesNoWell(t *testing.T) {
	_, text := readPrior(t)
	page, err := os.ReadFile(pageFile)
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{`USGS-\d`, `\d{9}`, `well_id`, `(?i)latitude`, `(?i)county`} {
		if re := regexp.MustCompile(bad); re.Match(text) || re.Match(page) {
			t.Errorf("%s is found in the prior or its page", bad)
		}
	}
}

// A water at the medians is nearly neutral, though no fit asked it to be.
// Equivalent masses by definition.
func TestMediansAreNeutral(t *testing.T) {
	p, _ := readPrior(t)
	mass := map[int]float64{atCalcium: 20.039, atMagnesium: 12.153, atSodium: 22.990, atPotassium: 39.098, // cations
		atAlkalinity: 50.04, atChloride: 35.453, atSulfate: 48.03, atNitrate: 14.007}
	for _, l := range p.Classes {
		cations, anions := 0.0, 0.0
		for i, m := range mass {
			meq := math.Exp(l.Mean[i]) / m
			switch i {
			case atCalcium, atMagnesium, atSodium, atPotassium:
				cations += meq
			default:
				anions += meq
			}
		}
		near(t, l.ID+": balance of the medians, %", 100*(cations-anions)/(cations+anions), 0, worstBalance, "electroneutrality")
	}
}

// The classes stand in the order of redox.
func TestClassesAreInOrder(t *testing.T) {
	p, _ := readPrior(t)
	mid := func(c class, i int) float64 { return coordinates[i].off(p.Classes[c].Mean[i]) }
	for _, tt := range []struct {
		what   string
		got    bool
		source string
	}{
		{"reduced iron above 0.3 mg/L", mid(reduced, atIron) > callIron, "the class holds iron above 0.1"},
		{"oxic iron and manganese below their bounds", mid(oxic, atIron) < boundIron && mid(oxic, atManganese) < boundManganese, "definition of the class"},
		{"oxic nitrate above mixed above reduced", mid(oxic, atNitrate) > mid(mixed, atNitrate) && mid(mixed, atNitrate) > mid(reduced, atNitrate), "order of electron acceptors"},
		{"ammonia rises from oxic to sulfidic", mid(oxic, atAmmonia) < mid(reduced, atAmmonia) && mid(reduced, atAmmonia) < mid(sulfidic, atAmmonia), "order of electron acceptors"},
		{"oxygen falls from oxic to sulfidic", mid(oxic, atOxygen) > mid(mixed, atOxygen) && mid(mixed, atOxygen) > mid(reduced, atOxygen) && mid(reduced, atOxygen) > mid(sulfidic, atOxygen), "order of electron acceptors"},
		{"arsenic highest in reduced", mid(reduced, atArsenic) > mid(oxic, atArsenic) && mid(reduced, atArsenic) > mid(mixed, atArsenic), "arsenic is let go with iron oxides"},
	} {
		if !tt.got {
			t.Errorf("%s: it is not so (%s)", tt.what, tt.source)
		}
	}
}

// The fit made anew is the one committed.
func TestPriorIsOfTheseData(t *testing.T) {
	needData(t)
	m, err := build(dataDir)
	if err != nil {
		t.Fatal(err)
	}
	p, _ := readPrior(t)
	for c, l := range p.Classes {
		for i := range size {
			near(t, l.ID+" mean of "+p.Coordinates[i], l.Mean[i], m.prior.Classes[c].Mean[i], 0.005, "self: made anew by make prior")
			near(t, l.ID+" spread of "+p.Coordinates[i], l.SD[i], m.prior.Classes[c].SD[i], 0.005, "self: made anew by make prior")
		}
	}
}

// Medians of the iron-bearing wells of Ohio read a second way, without our
// readers: the table by its own columns, a median for each well, the median of wells.
func TestMediansOfOhio(t *testing.T) {
	needData(t)
	p, _ := readPrior(t)
	wells := ohioMedians(t)
	l := p.Classes[reduced]
	for parameter, i := range map[string]int{"Alkalinity, Total": atAlkalinity, "Calcium": atCalcium, "Magnesium": atMagnesium, "Sodium": atSodium, "Iron": atIron, "Manganese": atManganese} {
		v := wells[parameter]
		if len(v) < 60 {
			t.Fatalf("%s: %d wells", parameter, len(v))
		}
		sort.Float64s(v)
		median := v[len(v)/2]
		if i == atIron || i == atManganese {
			median /= 1000 // printed in ug/L
		}
		// standard error of a median over that of a mean: √(π/2)
		tol := 3 * l.SD[i] / widen * math.Sqrt(math.Pi/2/float64(len(v)))
		near(t, "logarithm of "+parameter, l.Mean[i], math.Log(median), tol, "Ohio EPA ambient ground water, read by its columns; three standard errors")
	}
}

// ohioMedians returns each well's median of each parameter over the sheets with
// 100 ug/L iron or more.
func ohioMedians(t *testing.T) map[string][]float64 {
	t.Helper()
	bySheet := map[string]map[string]float64{}
	wellOf := map[string]string{}
	for _, f := range []string{"results-2010-2013.csv", "results-history-to-2009.csv"} {
		file, err := os.Open(filepath.Join(dataDir, "ohio-ambient-wells", f))
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(file).ReadAll()
		file.Close()
		if err != nil {
			t.Fatal(err)
		}
		at := map[string]int{}
		for i, h := range rows[0] {
			at[h] = i
		}
		for _, r := range rows[1:] {
			v, err := strconv.ParseFloat(r[at["result_value"]], 64)
			if err != nil || r[at["status"]] != "Approved" || r[at["field_qc_type"]] != "" {
				continue
			}
			id := r[at["chemistry_sheet_id"]]
			if bySheet[id] == nil {
				bySheet[id] = map[string]float64{}
			}
			bySheet[id][r[at["parameter"]]], wellOf[id] = v, r[at["well_id"]]
		}
	}
	perWell := map[string]map[string][]float64{}
	for id, s := range bySheet {
		if s["Iron"] < 100 {
			continue
		}
		for name, v := range s {
			if perWell[name] == nil {
				perWell[name] = map[string][]float64{}
			}
			perWell[name][wellOf[id]] = append(perWell[name][wellOf[id]], v)
		}
	}
	out := map[string][]float64{}
	for name, wells := range perWell {
		for _, v := range wells {
			sort.Float64s(v)
			out[name] = append(out[name], v[len(v)/2])
		}
	}
	return out
}

// The lower triangle survives its flattening, and lists of the file stand on one line.
func TestPriorText(t *testing.T) {
	p, text := readPrior(t)
	for _, l := range p.Classes {
		flat := lower(l.matrix())
		for k := range flat {
			if flat[k] != l.Correlation[k] {
				t.Fatalf("%s: correlation %d changes on the way", l.ID, k)
			}
		}
	}
	again, err := p.text()
	if err != nil {
		t.Fatal(err)
	}
	if string(again) != string(text) {
		t.Error("the file is not as it is written; run make prior")
	}
	if n := strings.Count(string(text), "\n"); n > 120 {
		t.Errorf("%d lines, want lists on one line each", n)
	}
}
