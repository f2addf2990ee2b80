package water

import (
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"
)

// One finding on holding times for each report, which lists what is late.
// Limits: 40 CFR 141.852(a)(3), coliform 30 h; nitrate 48 h unpreserved and
// metals six months by 40 CFR 136 table II (from memory).
func TestHoldingTimesAreOneFinding(t *testing.T) {
	at := time.Date(2025, 4, 1, 9, 0, 0, 0, time.UTC)
	for _, tt := range []struct {
		held time.Duration
		want Verdict
		late []string
	}{
		{20 * time.Hour, OK, nil},
		{40 * time.Hour, Doubt, []string{"coliform"}},
		{60 * time.Hour, Doubt, []string{"coliform", "nitrate"}},
	} {
		r := Report{Sampled: at, Analysed: at.Add(tt.held), Results: []Result{
			mg(Iron, Total, 2), mg(Nitrate, Unspecified, 1), mg(TotalColiform, Unspecified, 0), mg(Sulfate, Unspecified, 20)}}
		var got []Finding
		for _, f := range CheckReport(r, nil) {
			if f.ID == "holding_time" {
				got = append(got, f)
			}
		}
		if len(got) != 1 || got[0].Verdict != tt.want || !contains(strings.ToLower(got[0].Say), tt.late...) {
			t.Errorf("kept %v: %+v, want one finding, %v, naming %v", tt.held, got, tt.want, tt.late)
		}
		if len(got) == 1 && strings.Contains(got[0].Say, "sulfate") {
			t.Errorf("kept %v: sulfate keeps 28 days and is not late: %s", tt.held, got[0].Say)
		}
	}
	flagged := Report{Results: []Result{{Analyte: Nitrate, Value: 2, Unit: "mg/L as N", Note: "H"}, {Analyte: Sulfate, Value: 2, Unit: "mg/L", Note: "holding time exceeded"}}}
	if f := find1(CheckReport(flagged, nil), "holding_time"); f.Verdict != Notice || !contains(f.Say, "nitrate", "sulfate") {
		t.Errorf("two qualifiers: %+v", f)
	}
}

// Each metal's parts are a check of their own name.
func TestDissolvedOverTotalNamesTheMetal(t *testing.T) {
	r := Report{Results: []Result{mg(Iron, Total, 2), mg(Iron, Dissolved, 1.9), mg(Manganese, Total, 0.1), mg(Manganese, Dissolved, 0.3)}}
	fs := CheckReport(r, nil)
	if a, b := find1(fs, "dissolved_over_total_iron"), find1(fs, "dissolved_over_total_manganese"); a.Verdict != OK || b.Verdict != Doubt {
		t.Errorf("iron %+v, manganese %+v, want ok and doubt", a, b)
	}
	seen := map[string]int{}
	for _, f := range fs {
		if seen[f.ID]++; seen[f.ID] > 1 {
			t.Errorf("check %s stands twice", f.ID)
		}
		if !slices.Contains(IDs(), f.ID) {
			t.Errorf("check %s is not listed", f.ID)
		}
	}
}

// What a finding says and what it asks are joined by a full stop: the first ends
// with no mark of its own and the second begins with a capital.
func TestFindingsJoinIntoSentences(t *testing.T) {
	at := time.Date(2025, 4, 1, 9, 0, 0, 0, time.UTC)
	hard := Result{Analyte: Conductivity, Value: 900, Unit: "uS/cm"}
	soft := in("mg/L", Calcium, 0.45, Magnesium, 0.35, Iron, 2000, Chloride, 2.6, Alkalinity, 67, Carbonate, 9).with(phOf(7), mg(Nitrate, Unspecified, 1))
	late := in("mg/L", Hardness, 8, Sodium, 140, TDS, 900, FreeChlorine, 1).with(hard, mg(TotalColiform, Unspecified, 0), mg(Iron, Total, 12), mg(Iron, Dissolved, 20), phOf(8.5), mg(Turbidity, Unspecified, 2))
	late.Sampled, late.Analysed, late.Bottle = at, at.Add(900*time.Hour), Bottle{Acidified: no(), FilteredField: no()}
	far := in("mg/L", Calcium, 100, Magnesium, 20, Sodium, 10, Chloride, 10, Sulfate, 10, Alkalinity, 50, Hardness, 90, TDS, 2000, Sulfide, 0.01).with(hard, phOf(9))
	site := []Report{{Field: true, Results: []Result{mg(Iron, FerrousIron, 30), mg(Alkalinity, Unspecified, 500), mg(Sulfide, Unspecified, 2)}}}
	asked := 0
	for _, r := range []Report{soft, late, far, jianghan()} {
		for _, f := range append(CheckReport(r, nil), CheckReport(r, site)...) {
			if strings.HasSuffix(f.Say, "?") || strings.HasSuffix(f.Say, ".") {
				t.Errorf("%s: %q ends with a mark of its own", f.ID, f.Say)
			}
			for _, s := range append(strings.Split(f.Say, ". ")[1:], strings.Split(f.Ask, ". ")...) {
				if first, _ := utf8.DecodeRuneInString(s); unicode.IsLower(first) && s != "pH" && !strings.HasPrefix(s, "pH ") {
					t.Errorf("%s: sentence %q begins small", f.ID, s)
				}
			}
			if f.Ask != "" {
				asked++
			}
		}
	}
	if asked < 10 {
		t.Errorf("only %d questions were looked at", asked)
	}
}

// Carbonate and hydroxide that pass are told in one finding; each that fails in
// its own.
func TestCarbonateSpeciesPassTogether(t *testing.T) {
	count := func(r Report) (n int) {
		for _, f := range CheckReport(r, nil) {
			if f.ID == "carbonate_species" {
				n++
			}
		}
		return n
	}
	none := in("mg/L", Carbonate, 0, Hydroxide, 0, PAlkalinity, 0).with(phOf(7))
	if n := count(none); n != 1 {
		t.Errorf("none of three: %d findings, want one", n)
	}
	if n := count(in("mg/L", Carbonate, 5, Hydroxide, 4, PAlkalinity, 0).with(phOf(7))); n != 3 {
		t.Errorf("two of three at pH 7: %d findings, want each that fails and one of what passes", n)
	}
}

// A figure below its limit is no turbidity to hold against that of the site.
func TestNonDetectTurbidityIsNoRust(t *testing.T) {
	lab := Report{Results: []Result{{Analyte: Turbidity, Sign: Below, Value: 5, Unit: "NTU"}, mg(Iron, Dissolved, 1.9)}}
	site := []Report{{Field: true, Results: []Result{mg(Turbidity, Unspecified, 0.5)}}}
	if f := find1(CheckReport(lab, site), "turbidity_rust"); f.Verdict > OK {
		t.Errorf("below 5 NTU beside 0.5: %+v, want nothing to note", f)
	}
}

// Reading a unit, done for every figure of a report many times over, costs little.
func TestReadingAUnitIsCheap(t *testing.T) {
	r := mg(Iron, Total, 2)
	if n := testing.AllocsPerRun(100, func() { _, _ = r.Amount() }); n > 4 {
		t.Errorf("%g allocations to read mg/L, want a handful", n)
	}
}

func BenchmarkAmount(b *testing.B) {
	r := Result{Analyte: Nitrate, Value: 2, Unit: "mg/L as N"}
	for b.Loop() {
		if _, err := r.Amount(); err != nil {
			b.Fatal(err)
		}
	}
}
