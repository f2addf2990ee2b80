package limits

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

func on(day string) time.Time {
	d, err := time.Parse(time.DateOnly, day)
	if err != nil {
		panic(err)
	}
	return d
}

func one(a water.Analyte, v float64, u, basis string) water.Report {
	return water.Report{Results: []water.Result{{Analyte: a, Value: v, Unit: u, Basis: basis}}}
}

// above lists the upper bounds a single result exceeds.
func above(t Table, r water.Report, who Household) (high []float64, rank int) {
	rank = 9
	for _, f := range t.Judge(r, who) {
		if f.Outcome == Exceeds {
			high = append(high, *f.Limit.High)
			rank = min(rank, f.Rank)
		}
	}
	return high, rank
}

func same(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-9+1e-3*math.Abs(b[i]) {
			return false
		}
	}
	return true
}

// Worked cases. Bounds are canonical: nitrate and nitrite as N.
func TestWorkedCases(t *testing.T) {
	for _, tt := range []struct {
		name       string
		place, day string
		r          water.Report
		who        Household
		exceeds    []float64
		rank       int
		source     string
	}{
		{"iron 1850 ug/L", "US", "2025-06-01", one(water.Iron, 1850, "ug/L", ""), Household{}, []float64{0.3}, 5, "40 CFR 143.3: 0.3; nuisance, no primary limit"},
		{"iron", "CA", "2025-06-01", one(water.Iron, 1850, "ug/L", ""), Household{}, []float64{0.1}, 5, "Canada, objective of Dec 2024: 0.1"},
		{"iron", "EU", "2025-06-01", one(water.Iron, 1850, "ug/L", ""), Household{}, []float64{0.2}, 5, "98/83/EC indicator: 0.2"},
		{"iron 0.2 in Canada before", "CA", "2024-12-27", one(water.Iron, 0.2, "mg/L", ""), Household{}, nil, 9, "Canada to Dec 2024: 0.3"},
		{"iron 0.2 in Canada after", "CA", "2024-12-28", one(water.Iron, 0.2, "mg/L", ""), Household{}, []float64{0.1}, 5, "Canada Gazette 28 Dec 2024"},
		{"manganese with an infant", "US", "2025-06-01", one(water.Manganese, 0.21, "mg/L", ""), Household{Infant: true}, []float64{0.08, 0.05}, 3, "over WHO 0.08, under US 0.3, over 0.05 secondary"},
		{"manganese", "CA", "2025-06-01", one(water.Manganese, 0.21, "mg/L", ""), Household{Infant: true}, []float64{0.12, 0.02}, 2, "Canada 2019: 0.12 health, 0.02 aesthetic"},
		{"manganese", "WHO", "2025-06-01", one(water.Manganese, 0.21, "mg/L", ""), Household{Infant: true}, []float64{0.08}, 2, "WHO 2022: 0.08"},
		{"manganese without an infant", "US", "2025-06-01", one(water.Manganese, 0.21, "mg/L", ""), Household{}, []float64{0.05}, 5, "US lifetime advisory 0.3 is met"},
		{"manganese 0.65", "US", "2025-06-01", one(water.Manganese, 0.65, "mg/L", ""), Household{}, []float64{0.3, 0.05}, 2, "US lifetime advisory 0.3"},
		{"nitrate 62 as NO3", "US", "2025-06-01", one(water.Nitrate, 62, "mg/L", "as NO3"), Household{Infant: true}, []float64{10}, 1, "14.0 as N is over 10 (40 CFR 141.62)"},
		{"nitrate 62 as NO3, no infant", "US", "2025-06-01", one(water.Nitrate, 62, "mg/L", "as NO3"), Household{}, []float64{10}, 2, "the same"},
		{"nitrate 9.8 as N", "US", "2025-06-01", one(water.Nitrate, 9.8, "mg/L", "as N"), Household{Infant: true}, nil, 9, "under 10"},
		{"nitrate 9.8 as N", "CA", "2025-06-01", one(water.Nitrate, 9.8, "mg/L", "as N"), Household{Infant: true}, nil, 9, "43.4 as NO3 is under 45"},
		{"nitrate 9.8 as N", "EU", "2025-06-01", one(water.Nitrate, 9.8, "mg/L", "as N"), Household{Infant: true}, nil, 9, "43.4 as NO3 is under 50"},
		{"lead 0.012 before", "US", "2027-10-31", one(water.Lead, 0.012, "mg/L", ""), Household{}, nil, 9, "0.015 to 31 Oct 2027 (89 FR 86418)"},
		{"lead 0.012 after", "US", "2027-11-01", one(water.Lead, 0.012, "mg/L", ""), Household{}, []float64{0.010}, 2, "0.010 from 1 Nov 2027 (89 FR 86418)"},
		{"lead 0.012", "CA", "2025-06-01", one(water.Lead, 0.012, "mg/L", ""), Household{}, []float64{0.005}, 2, "Canada 2019 (from memory)"},
		{"lead 0.012", "WHO", "2025-06-01", one(water.Lead, 0.012, "mg/L", ""), Household{}, []float64{0.01}, 2, "WHO 2022"},
		{"lead 0.007 in the EU before", "EU", "2036-01-11", one(water.Lead, 0.007, "mg/L", ""), Household{}, nil, 9, "2020/2184: 0.010 until 12 Jan 2036"},
		{"lead 0.007 in the EU after", "FR", "2036-01-12", one(water.Lead, 0.007, "mg/L", ""), Household{}, []float64{0.005}, 2, "2020/2184: then 0.005"},
		{"sodium after softening 18 grains", "US", "2025-06-01", one(water.Sodium, 141.6, "mg/L", ""), Household{LowSodium: true}, []float64{20, 60}, 2, "US EPA 822-R-03-006: 20 for restricted diets, 30 to 60 by taste"},
		{"sodium, nobody restricted", "US", "2025-06-01", one(water.Sodium, 25, "mg/L", ""), Household{}, nil, 9, "the same"},
		{"radon 6000", "US-NH", "2025-06-01", one(water.Radon, 6000, "pCi/L", ""), Household{}, []float64{2000, 300, 4000}, 2, "state advice 2000; proposals of 1999"},
		{"radon 6000", "US-MA", "2025-06-01", one(water.Radon, 6000, "pCi/L", ""), Household{}, []float64{300, 4000}, 3, "state advice 10000; the rest is not in force"},
		{"arsenic 7 ug/L", "US-NJ", "2025-06-01", one(water.Arsenic, 7, "ug/L", ""), Household{}, []float64{0.005}, 2, "New Jersey 0.005 (from memory)"},
		{"arsenic 7 ug/L", "US-OH", "2025-06-01", one(water.Arsenic, 7, "ug/L", ""), Household{}, nil, 9, "a state without its own falls back to 0.010"},
		{"pH 6.4", "US", "2025-06-01", one(water.PH, 6.4, "", ""), Household{}, []float64{8.5}, 4, "40 CFR 143.3: 6.5 to 8.5; corrodes"},
		{"hardness 290", "US", "2025-06-01", one(water.Hardness, 290, "mg/L", ""), Household{}, []float64{180}, 4, "very hard above 180 (USGS)"},
		{"fluoride 3", "US", "2025-06-01", one(water.Fluoride, 3, "mg/L", ""), Household{}, []float64{2}, 5, "secondary 2, primary 4"},
		{"fluoride 3", "EU", "2025-06-01", one(water.Fluoride, 3, "mg/L", ""), Household{}, []float64{1.5}, 2, "98/83/EC: 1.5"},
	} {
		got, rank := above(On(on(tt.day), tt.place), tt.r, tt.who)
		if !same(got, tt.exceeds) || rank != tt.rank {
			t.Errorf("%s in %s on %s exceeds %v at rank %d, want %v at %d (%s)", tt.name, tt.place, tt.day, got, rank, tt.exceeds, tt.rank, tt.source)
		}
	}
}

// Each figure on, just below and just above: equal passes.
func TestBounds(t *testing.T) {
	us := On(on("2025-06-01"), "US")
	for _, tt := range []struct {
		a          water.Analyte
		u, basis   string
		limit      float64
		step       float64
		belowWatch Outcome // what a figure just under the limit gets
	}{
		{water.Iron, "mg/L", "", 0.3, 0.001, Meets}, {water.Iron, "ug/L", "", 300, 1, Meets}, {water.Arsenic, "ug/L", "", 10, 0.1, Watch},
		{water.Nitrate, "mg/L", "as N", 10, 0.1, Watch}, {water.Chloride, "mg/L", "", 250, 1, Meets}, {water.Lead, "ug/L", "", 15, 0.1, Watch},
		{water.Uranium, "ug/L", "", 30, 0.1, Watch}, {water.Radium, "pCi/L", "", 5, 0.1, Watch}, {water.Copper, "mg/L", "", 1.3, 0.01, Watch},
	} {
		for _, at := range []struct {
			v    float64
			want Outcome
		}{{tt.limit - tt.step, tt.belowWatch}, {tt.limit, tt.belowWatch}, {tt.limit + tt.step, Exceeds}} {
			got := Meets
			for _, f := range us.Judge(one(tt.a, at.v, tt.u, tt.basis), Household{}) {
				canonical, _ := f.Amount.Canonical()
				at := tt.limit * canonical / at.v
				if math.Abs(*f.Limit.High-at) < 1e-9*at {
					got = f.Outcome
				}
			}
			if got != at.want {
				t.Errorf("%s %g %s: %v, want %v", tt.a, at.v, tt.u, got, at.want)
			}
		}
	}
	for _, tt := range []struct {
		ph   float64
		want Outcome
	}{{6.49, Exceeds}, {6.5, Meets}, {6.51, Meets}, {8.49, Meets}, {8.5, Meets}, {8.51, Exceeds}} {
		if f := us.Judge(one(water.PH, tt.ph, "", ""), Household{}); f[0].Outcome != tt.want {
			t.Errorf("pH %g: %v, want %v (40 CFR 143.3)", tt.ph, f[0].Outcome, tt.want)
		}
	}
	for _, tt := range []struct { // between half and the full value, rank 3
		v    float64
		want int
	}{{5, 0}, {5.01, 3}, {10, 3}, {10.01, 2}} {
		if f := us.Judge(one(water.Nitrate, tt.v, "mg/L", "as N"), Household{}); f[0].Rank != tt.want {
			t.Errorf("nitrate %g: rank %d, want %d", tt.v, f[0].Rank, tt.want)
		}
	}
	for _, tt := range []struct { // the infant flag
		v    float64
		want bool
	}{{0.08, false}, {0.081, true}} {
		_, rank := above(us, one(water.Manganese, tt.v, "mg/L", ""), Household{Infant: true})
		if (rank == 3) != tt.want {
			t.Errorf("manganese %g with an infant: rank %d", tt.v, rank)
		}
	}
}

func TestNonDetectsAndGerms(t *testing.T) {
	us := On(on("2025-06-01"), "US")
	for _, tt := range []struct {
		name    string
		r       water.Result
		who     Household
		outcome Outcome
		rank    int
	}{
		{"arsenic <1 ug/L", water.Result{Analyte: water.Arsenic, Sign: water.Below, Value: 1, Unit: "ug/L"}, Household{}, Meets, 0},
		{"arsenic <10 ug/L", water.Result{Analyte: water.Arsenic, Sign: water.Below, Value: 10, Unit: "ug/L"}, Household{}, Meets, 0},
		{"arsenic <50 ug/L decides nothing", water.Result{Analyte: water.Arsenic, Sign: water.Below, Value: 50, Unit: "ug/L"}, Household{}, Undecided, 3},
		{"iron >0.2", water.Result{Analyte: water.Iron, Sign: water.Above, Value: 0.2, Unit: "mg/L"}, Household{}, Undecided, 5},
		{"iron >10", water.Result{Analyte: water.Iron, Sign: water.Above, Value: 10, Unit: "mg/L"}, Household{}, Exceeds, 5},
		{"coliform absent", water.Result{Analyte: water.TotalColiform, Sign: water.Absent}, Household{}, Meets, 0},
		{"coliform <1", water.Result{Analyte: water.TotalColiform, Sign: water.Below, Value: 1, Unit: "MPN/100mL"}, Household{}, Meets, 0},
		{"coliform 1", water.Result{Analyte: water.TotalColiform, Value: 1, Unit: "MPN/100mL"}, Household{}, Exceeds, 3},
		{"coliform present, first", water.Result{Analyte: water.TotalColiform, Sign: water.Present}, Household{}, Exceeds, 3},
		{"coliform present again", water.Result{Analyte: water.TotalColiform, Sign: water.Present}, Household{ColiformBefore: true}, Exceeds, 2},
		{"coliform too many", water.Result{Analyte: water.TotalColiform, Sign: water.Above, Value: 200, Unit: "CFU/100mL"}, Household{}, Exceeds, 3},
		{"E. coli present", water.Result{Analyte: water.EColi, Sign: water.Present}, Household{}, Exceeds, 1},
	} {
		f := us.Judge(water.Report{Results: []water.Result{tt.r}}, tt.who)
		if len(f) == 0 || f[0].Outcome != tt.outcome || f[0].Rank != tt.rank {
			t.Errorf("%s: %+v, want %v at rank %d", tt.name, f, tt.outcome, tt.rank)
		}
	}
}

// Health before nuisance: a demonstration well with manganese at 0.65 mg/L speaks
// of it first, and coliform before iron.
func TestOrder(t *testing.T) {
	r := water.Report{Results: []water.Result{
		{Analyte: water.Iron, Value: 9, Unit: "mg/L"}, {Analyte: water.Hardness, Value: 300, Unit: "mg/L"}, {Analyte: water.Manganese, Value: 0.65, Unit: "mg/L"},
		{Analyte: water.TotalColiform, Sign: water.Present}, {Analyte: water.EColi, Sign: water.Present}, {Analyte: water.Chloride, Value: 10, Unit: "mg/L"},
	}}
	fs := On(on("2025-06-01"), "US").Judge(r, Household{})
	var ids []string
	last := 0
	for _, f := range fs {
		rank := f.Rank
		if rank == 0 {
			rank = 9
		}
		if rank < last {
			t.Errorf("rank %d after %d", rank, last)
		}
		last = rank
		ids = append(ids, f.ID)
	}
	if got := strings.Join(ids, " "); got != "e_coli manganese total_coliform hardness iron manganese chloride" {
		t.Errorf("order %s", got)
	}
}

// It never calls water fit to drink, and says the date by which it judged.
func TestWords(t *testing.T) {
	r := water.Report{Results: []water.Result{{Analyte: water.Iron, Value: 0.1, Unit: "mg/L"}, {Analyte: water.Arsenic, Value: 50, Unit: "ug/L"}, {Analyte: water.Nitrate, Value: 6, Unit: "mg/L as N"}}}
	table := On(on("2025-06-01"), "US")
	fs := table.Judge(r, Household{Serves: 30})
	text := Summary(fs, table.Date) + table.Standing(Household{}) + table.Standing(Household{Serves: 25})
	for _, f := range fs {
		text += f.Say + f.Do
	}
	for _, word := range []string{"safe", "potable", "fit to drink"} {
		if strings.Contains(strings.ToLower(text), word) {
			t.Errorf("%q in %s", word, text)
		}
	}
	for _, word := range []string{"iron 0.1 mg/L: met on 2025-06-01", "dvice, not law", "not known", "drinking-water office", "1 did not"} {
		if !strings.Contains(text, word) {
			t.Errorf("no %q in %s", word, text)
		}
	}
}

func TestPublicSupply(t *testing.T) {
	for _, tt := range []struct {
		serves int
		want   bool
	}{{0, false}, {24, false}, {25, true}, {26, true}} { // 40 CFR 143.2: 25 people
		fs := On(on("2025-06-01"), "US").Judge(water.Report{}, Household{Serves: tt.serves})
		if got := len(fs) == 1 && fs[0].ID == "public_supply"; got != tt.want {
			t.Errorf("%d people: public %v, want %v", tt.serves, got, tt.want)
		}
	}
}

func TestOwnLimits(t *testing.T) {
	v := 0.1
	table, err := On(on("2025-06-01"), "US").With(Limit{Analyte: water.Iron, Jurisdiction: "county", Type: "own limit", High: &v, Basis: Aesthetic, Source: "county code"})
	if err != nil {
		t.Fatal(err)
	}
	got, _ := above(table, one(water.Iron, 0.2, "mg/L", ""), Household{})
	if !same(got, []float64{0.1}) {
		t.Errorf("own limit of 0.1: exceeds %v", got)
	}
	high := 0.5
	table, _ = table.With(Limit{Analyte: water.Manganese, Type: "own", High: &high, Basis: Aesthetic})
	if got, _ := above(table, one(water.Manganese, 0.4, "mg/L", ""), Household{}); !same(got, []float64{0.3}) {
		t.Errorf("an own comfort limit must leave the health advisory: exceeds %v", got)
	}
	if _, err := table.With(Limit{Analyte: water.Iron}); err == nil {
		t.Error("a limit without a bound should be refused")
	}
	if _, err := table.With(Limit{Analyte: water.Iron, Low: &high, High: &v}); err == nil {
		t.Error("low above high should be refused")
	}
}

func TestHardnessClass(t *testing.T) {
	for _, tt := range []struct {
		v    float64
		want string
	}{{0, "soft"}, {60, "soft"}, {60.5, "moderately hard"}, {118, "moderately hard"}, {120, "moderately hard"}, {121, "hard"}, {180, "hard"}, {180.1, "very hard"}} {
		if got := HardnessClass(unit.HardnessAsCaCO3(tt.v)); got != tt.want {
			t.Errorf("hardness %g: %q, want %q (USGS classes; a bound belongs to the softer)", tt.v, got, tt.want)
		}
	}
	if g := unit.HardnessAsCaCO3(118).GPG(); math.Abs(g-6.9) > 0.05 {
		t.Errorf("118 mg/L = %g gpg, want 6.9", g)
	}
}

// The tables hold together: one limit of a kind at a time, a source with each.
func TestTables(t *testing.T) {
	for _, l := range all {
		if l.Source == "" || l.Type == "" || !l.Analyte.Known() || (l.High == nil && l.Low == nil && l.Basis != Class) {
			t.Errorf("%+v has a gap", l)
		}
		if !l.From.IsZero() && !l.To.IsZero() && !l.From.Before(l.To) {
			t.Errorf("%v ends before it begins", l)
		}
	}
	for _, day := range []string{"2020-01-01", "2024-12-27", "2024-12-28", "2027-10-31", "2027-11-01", "2036-01-11", "2036-01-12", "2050-01-01"} {
		for _, place := range []string{"US", "CA", "EU", "WHO"} {
			count := map[string]int{}
			for _, l := range On(on(day), place).All() {
				if l.Jurisdiction == place {
					count[string(l.Analyte)+l.Type]++
				}
			}
			for k, n := range count {
				if n > 1 {
					t.Errorf("%s in %s: %d of %s", day, place, n, k)
				}
			}
		}
	}
	if _, err := source.NewRegister(chem.Factors(), water.Factors(), Factors()); err != nil {
		t.Error(err)
	}
}

func TestFallback(t *testing.T) {
	for _, tt := range []struct{ place, from string }{
		{"US", "US"}, {"us-nj", "US"}, {"", "US"}, {"CA-ON", "CA"}, {"FR", "EU"}, {"DE-BY", "EU"}, {"BD", "WHO"}, {"GB", "WHO"},
	} {
		if got := On(on("2025-06-01"), tt.place); got.From != tt.from || len(got.All()) < 20 {
			t.Errorf("%q falls back to %q with %d limits, want %q", tt.place, got.From, len(got.All()), tt.from)
		}
	}
}

// More of a thing never speaks later.
func TestMonotone(t *testing.T) {
	us := On(on("2025-06-01"), "US")
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.SampledFrom([]water.Analyte{water.Iron, water.Manganese, water.Nitrate, water.Arsenic, water.Sodium, water.Hardness, water.Lead}).Draw(t, "a")
		v := rapid.Float64Range(0, 50).Draw(t, "v")
		more := v + rapid.Float64Range(0, 50).Draw(t, "more")
		who := Household{Infant: rapid.Bool().Draw(t, "infant"), LowSodium: rapid.Bool().Draw(t, "low sodium")}
		first := func(v float64) int {
			if f := us.Judge(one(a, v, a.Unit(), ""), who); len(f) > 0 && f[0].Rank > 0 {
				return f[0].Rank
			}
			return 9
		}
		if first(more) > first(v) {
			t.Fatalf("%s %g ranks %d, %g ranks %d", a, v, first(v), more, first(more))
		}
	})
}
