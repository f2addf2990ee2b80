package labfile_test

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"wellwright/chem"
	"wellwright/labfile"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// visit is what one site gave at one time: sheets and readings together.
type visit struct {
	reports []water.Report
	balance *float64
}

// visitsOf groups the samples of a file, duplicates apart.
func visitsOf(all []labfile.Sample) []visit {
	type key struct {
		site, day string
		twin      bool
	}
	at := map[key]int{}
	var out []visit
	for _, s := range all {
		k := key{s.Site, s.Report.Sampled.Format("2006-01-02 15:04"), s.Duplicate}
		i, known := at[k]
		if !known {
			i = len(out)
			at[k] = i
			out = append(out, visit{})
		}
		out[i].reports = append(out[i].reports, s.Report)
		if s.Balance != nil {
			out[i].balance = s.Balance
		}
	}
	return out
}

// whole is a visit as one report, the readings taken on site first.
func (v visit) whole() water.Report {
	slices.SortStableFunc(v.reports, func(a, b water.Report) int {
		switch {
		case a.Field == b.Field:
			return 0
		case a.Field:
			return -1
		}
		return 1
	})
	r := v.reports[0]
	r.Results = nil
	for _, x := range v.reports {
		r.Results = append(r.Results, x.Results...)
	}
	return r
}

// Every water of the public files with a pH and an alkalinity speciates, closed
// and open again to itself. A laboratory pH of a bottle that went stale may ask
// for less than no carbonate; none here does. The agency's own charge balance is
// a figure we did not make.
func TestEveryPublicWaterSpeciates(t *testing.T) {
	readData(t, "ohio-ambient-wells", "results-2010-2013.csv") // skips where there is no data
	files, err := filepath.Glob(filepath.Join("..", "..", "shared", "data", "*", "*.csv"))
	if err != nil || len(files) < 10 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	m := chem.New(source.Set{})
	waters, full := 0, 0
	var off []float64
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		all, _ := labfile.Read(filepath.Base(f), text, labfile.Options{})
		here := 0
		for _, v := range visitsOf(all) {
			r := v.whole()
			ph, okPH := r.PH()
			celsius, ok := r.Temperature()
			if !ok {
				celsius = unit.Celsius(12)
			}
			totals, alk, complete := water.Totals(r, celsius)
			if !okPH || alk.MgPerLAsCaCO3() == 0 {
				continue
			}
			here++
			s, err := m.AtPH(totals, ph, alk)
			if err != nil {
				t.Errorf("%s: %s %v: %v", filepath.Base(f), r.Sampled.Format("2006-01-02"), totals, err)
				continue
			}
			again(t, m, s)
			if !complete {
				continue
			}
			full++
			if v.balance != nil {
				c, a := chem.CationSum(totals, alk), chem.AnionSum(totals, alk)
				ours := s.Charge().Excess.MeqPerL() / (c.MeqPerL() + a.MeqPerL())
				off = append(off, math.Abs(ours-*v.balance))
			}
		}
		if here > 0 {
			t.Logf("%s: %d waters with pH and alkalinity", filepath.Base(f), here)
		}
		waters += here
	}
	slices.Sort(off)
	if waters < 500 || full < 300 || len(off) < 300 {
		t.Fatalf("%d waters, %d of them with all major ions, %d with a balance of the agency; want hundreds", waters, full, len(off))
	}
	mid := off[len(off)/2]
	if mid > 0.01 {
		t.Errorf("charge of the species lies %.4f from the agency's balance at the median, want 0.01 (Ohio EPA ambient ground water)", mid)
	}
	t.Logf("%d waters, %d with all major ions; %d agency balances: off by %.4f at the median, %.4f at the 95th percentile", waters, full, len(off), mid, off[len(off)*95/100])
}

// again solves a water by its carbon and by its gas.
func again(t *testing.T, m *chem.Model, s chem.State) {
	t.Helper()
	closed, err := m.AtCarbon(s.Totals(), s.Alkalinity(), s.Carbon())
	if err != nil {
		t.Error(err)
		return
	}
	open, err := m.AtCO2(s.Totals(), s.Alkalinity(), s.PCO2())
	if err != nil {
		t.Error(err)
		return
	}
	for _, x := range []chem.State{closed, open} {
		if d := x.PH().Value() - s.PH().Value(); math.Abs(d) > 1e-7 {
			t.Errorf("pH %g comes back %g off (the same water by another door)", s.PH().Value(), d)
		}
	}
}
