package labfile_test

import (
	"flag"
	"fmt"
	"sort"
	"strings"
	"sync"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/labfile"
	"wellwright/plan"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// whole plans every sheet of the public data; without it a spread of them.
var whole = flag.Bool("whole", false, "plan every sheet of the public data, not a spread of them")

// assumedHouse is the house that every public well is planned for: none of them
// serves one. All of it is assumed: four people, two baths, 10 gpm at 45 psi, a
// pre-charged tank on 40/60, a well that keeps up, and drains that take all waste.
func assumedHouse(reports []water.Report) book.Present {
	yes := true
	baths := 2.0
	pressure := func(v float64) *unit.Pressure { p := unit.PSI(v); return &p }
	volume, yield := unit.Gal(62), unit.GPM(12)
	return book.Present{
		Name: "public well", AsOf: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC), Reports: reports,
		Supply: well.Supply{
			Well: well.Well{Kind: well.Drilled, Yield: &yield},
			Pump: well.Pump{Drive: well.FixedSpeed, Measured: []well.PumpFlow{{Flow: unit.GPM(10), Pressure: unit.PSI(45)}}},
			Tank: well.Tank{Kind: well.PreCharged, Volume: &volume, CutIn: pressure(40), CutOut: pressure(60)},
		},
		House: well.House{People: 4, Baths: &baths, Drains: []well.Drain{{To: well.Sewer, Backwash: &yes, Brine: &yes}}},
	}
}

// visits joins the reports of one site and day.
func visits(all []labfile.Sample) [][]water.Report {
	var order []string
	by := map[string][]water.Report{}
	for _, s := range all {
		if s.Duplicate {
			continue
		}
		key := s.Site + s.Report.Sampled.Format(time.DateOnly) + s.Sheet
		if _, seen := by[key]; !seen {
			order = append(order, key)
		}
		by[key] = append(by[key], s.Report)
	}
	vs := make([][]water.Report, len(order))
	for i, k := range order {
		vs[i] = by[k]
	}
	return vs
}

// hasMajors reports whether a visit has all major ions.
func hasMajors(reports []water.Report) bool {
	for _, a := range []water.Analyte{water.Calcium, water.Magnesium, water.Sodium, water.Alkalinity, water.Chloride, water.Sulfate} {
		found := false
		for _, r := range reports {
			if _, ok := r.Amount(a, water.Unspecified); ok {
				found = true
			}
		}
		if !found {
			return false
		}
	}
	return true
}

// outcome plans one visit and names what came of it.
func outcome(reports []water.Report) (string, error) {
	d, err := plan.Open(assumedHouse(reports), plan.Ask{Prices: plan.Prices(), Most: 1, Brief: true})
	if err != nil {
		return "", err
	}
	a, err := d.Answer()
	if err != nil {
		return "", err
	}
	switch {
	case len(a.Options) > 0:
		return "option: " + strings.Join(a.Options[0].Train, ","), nil
	case a.Considered == 0 && len(a.Actions) > 0 && a.Actions[0].ID == "do-nothing":
		return "nothing needed", nil
	case len(a.Rejected) > 0 && a.Rejected[0].FirstLimit.Limit != "":
		return "no option; first limit " + a.Rejected[0].FirstLimit.Limit, nil
	}
	return "", fmt.Errorf("neither an option nor a first limit")
}

// Public wells planned end to end: of the visits with all major ions at least
// 95 % end in a ranked option, a named first limit, or nothing needed.
func TestPublicWellsArePlanned(t *testing.T) {
	for _, f := range [][2]string{{"ohio-ambient-wells", "results-2010-2013.csv"}, {"ohio-ambient-wells", "results-history-to-2009.csv"}, {"wqp-wells-potomac", "result.csv"}} {
		t.Run(f[1], func(t *testing.T) {
			all, _ := labfile.Read(f[1], readData(t, f[0], f[1]), labfile.Options{})
			step := 16
			if *whole || f[0] == "wqp-wells-potomac" {
				step = 1
			}
			tally, done, full := planned(t, visits(all), step)
			if full == 0 || float64(done) < 0.95*float64(full) {
				t.Errorf("%d of %d visits with all major ions end in an answer, want 95 %%", done, full)
			}
			t.Logf("%d of %d visits with all major ions end in an answer", done, full)
			for _, line := range table(tally) {
				t.Log(line)
			}
		})
	}
}

// planned plans every step-th visit that has all major ions, two at a time.
func planned(t *testing.T, vs [][]water.Report, step int) (tally map[string]int, done, full int) {
	tally = map[string]int{}
	var mu sync.Mutex
	var wg sync.WaitGroup
	gate := make(chan struct{}, 2)
	for i := 0; i < len(vs); i += step {
		if !hasMajors(vs[i]) {
			continue
		}
		full++
		gate <- struct{}{}
		wg.Go(func() {
			defer func() { <-gate }()
			o, err := outcome(vs[i])
			mu.Lock()
			defer mu.Unlock()
			if err != nil {
				t.Logf("visit %d: %v", i, err)
				return
			}
			done++
			tally[o]++
		})
	}
	wg.Wait()
	return tally, done, full
}

func table(tally map[string]int) []string {
	var lines []string
	for o, n := range tally {
		lines = append(lines, fmt.Sprintf("%4d  %s", n, o))
	}
	sort.Sort(sort.Reverse(sort.StringSlice(lines)))
	return lines
}
