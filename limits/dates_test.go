package limits

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io/fs"
	"math"
	"os"
	"strconv"
	"testing"
	"time"

	"wellwright/water"
)

// highs are the upper bounds of a jurisdiction's own limits of an analyte on a day.
func highs(day time.Time, place string, a water.Analyte, basis Basis) []float64 {
	var hs []float64
	for _, l := range On(day, place).Of(a) {
		if l.Jurisdiction == place && l.Basis == basis {
			hs = append(hs, *l.High)
		}
	}
	return hs
}

// A limit that changes on a date changes on that date: the day before, on it, and
// the day after. Bounds are canonical; none means that none is in force.
func TestLimitsChangeOnTheirDay(t *testing.T) {
	const none = -1
	for _, tt := range []struct {
		name, place string
		a           water.Analyte
		basis       Basis
		day         string
		before, on  float64
		source      string
	}{
		{"lead", "US", water.Lead, Health, "2027-11-01", 0.015, 0.010, "published: 89 FR 86418, compliance 1 Nov 2027"},
		{"lead", "EU", water.Lead, Health, "2036-01-12", 0.010, 0.005, "published: Directive (EU) 2020/2184, 5 µg/L to be met by 12 January 2036"},
		{"chromium", "EU", water.Chromium, Health, "2036-01-12", 0.050, 0.025, "Directive (EU) 2020/2184 annex I (from memory): 25 µg/L by 12 January 2036"},
		{"iron", "CA", water.Iron, Aesthetic, "2024-12-28", 0.3, 0.1, "Canada Gazette, 28 December 2024 (second hand)"},
		{"lead", "CA", water.Lead, Health, "2019-03-08", 0.010, 0.005, "Health Canada, March 2019 (from memory)"},
		{"PFOA", "US", water.PFOA, Health, "2024-06-25", none, 4e-6, "published: 89 FR 32532, effective on June 25, 2024; 4.0 ng/L"},
		{"PFOS", "US", water.PFOS, Health, "2024-06-25", none, 4e-6, "published: 89 FR 32532, effective on June 25, 2024; 4.0 ng/L"},
		{"25 PFAS", "CA", water.PFAS25, Health, "2024-08-09", none, 30e-6, "Health Canada, 9 August 2024 (second hand)"},
		{"20 PFAS", "EU", water.PFAS20, Health, "2026-01-12", none, 100e-6, "Directive (EU) 2020/2184 article 25 (second hand: January 2026)"},
		{"uranium", "EU", water.Uranium, Health, "2026-01-12", none, 0.030, "Directive (EU) 2020/2184 article 25 (from memory)"},
		{"haloacetic acids", "EU", water.HaloaceticAcids, Health, "2026-01-12", none, 0.060, "Directive (EU) 2020/2184 article 25 (from memory)"},
		{"antimony", "EU", water.Antimony, Health, "2023-01-12", 0.005, 0.010, "98/83/EC annex I (published), then 2020/2184 (from memory)"},
		{"boron", "EU", water.Boron, Health, "2023-01-12", 1.0, 1.5, "98/83/EC annex I (published), then 2020/2184 (from memory)"},
		{"selenium", "EU", water.Selenium, Health, "2023-01-12", 0.010, 0.020, "98/83/EC annex I (published), then 2020/2184 (from memory)"},
		{"manganese", "WHO", water.Manganese, Health, "2022-03-21", 0.4, 0.08, "WHO guidelines with second addendum, 2022 (second hand); 0.4 from memory"},
		{"arsenic", "US", water.Arsenic, Health, "2006-01-23", 0.05, 0.010, "66 FR 6976, compliance 23 January 2006 (from memory)"},
		{"arsenic", "US-NH", water.Arsenic, Health, "2021-07-01", none, 0.005, "New Hampshire, 1 July 2021 (from memory)"},
	} {
		day := on(tt.day)
		for _, at := range []struct {
			when time.Time
			want float64
		}{{day.AddDate(0, 0, -1), tt.before}, {day, tt.on}, {day.AddDate(0, 0, 1), tt.on}} {
			got := highs(at.when, tt.place, tt.a, tt.basis)
			if at.want == none && len(got) == 0 {
				continue
			}
			if len(got) != 1 || math.Abs(got[0]-at.want) > 1e-9 {
				t.Errorf("%s in %s on %s: %v, want %g (%s)", tt.name, tt.place, at.when.Format(time.DateOnly), got, at.want, tt.source)
			}
		}
	}
}

// No gap and no overlap: what ends on a day is followed from that day, and every
// row holds on its first day and not on its last.
func TestDatedLimitsFollowOneAnother(t *testing.T) {
	dated := 0
	for _, l := range all {
		if !l.From.IsZero() {
			dated++
			if !l.In(l.From) || l.In(l.From.AddDate(0, 0, -1)) {
				t.Errorf("%s from %v: holds on its first day %v, the day before %v", l, l.From, l.In(l.From), l.In(l.From.AddDate(0, 0, -1)))
			}
		}
		if l.To.IsZero() {
			continue
		}
		followed := 0
		for _, n := range all {
			if n.Analyte == l.Analyte && n.Jurisdiction == l.Jurisdiction && n.Basis.Protects() == l.Basis.Protects() && n.From.Equal(l.To) {
				followed++
			}
		}
		if l.In(l.To) || !l.In(l.To.AddDate(0, 0, -1)) || followed != 1 {
			t.Errorf("%s to %v: on that day %v, the day before %v, followed by %d", l, l.To, l.In(l.To), l.In(l.To.AddDate(0, 0, -1)), followed)
		}
	}
	if dated < 15 {
		t.Errorf("only %d limits begin on a day", dated)
	}
}

// csvDay is the day on which the collected list was drawn up, by its own text: the
// EU rows of new parameters were listed ahead of the day they bind.
var csvDay = on("2026-02-01")

// csvNames are analytes and units that the list writes in its own way.
var csvNames = map[string]water.Analyte{
	"nitrate_plus_nitrite": water.NitrateNitrite, "radium_226_228": water.Radium, "h2s": water.Sulfide, "tthm": water.Trihalomethanes,
	"chlorine": water.FreeChlorine, "cyanide_free": water.Cyanide, "pfas_sum25": water.PFAS25, "pfas_sum20": water.PFAS20,
}

// csvDated are rows of the list that hold on another day than csvDay.
var csvDated = map[string]string{
	"AO_before_2024-12": "2024-12-27", "action_level_from_2027-11-01": "2027-11-01", "parametric_from_2036-01-12": "2036-01-12",
}

// Every row of the collected list of limits is in the table: same authority, figure
// and day. The list was gathered apart from this program, each row with its source.
func TestEveryCollectedLimitIsHeld(t *testing.T) {
	rows := collected(t)
	if len(rows) < 120 {
		t.Fatalf("only %d rows were found in the list", len(rows))
	}
	for _, r := range rows {
		id, place, typ, unit := r[0], r[1], r[2], r[5]
		if id == "tds" && typ == "conductivity" {
			id = "conductivity"
		}
		a, own := csvNames[id]
		if !own {
			a = water.Analyte(id)
		}
		if !a.Known() {
			t.Errorf("%s: no such analyte", id)
			continue
		}
		day := csvDay
		if d, ok := csvDated[typ]; ok {
			day = on(d)
		}
		if !held(t, a, place, r[3], r[4], unit, day) {
			t.Errorf("%s %s %s: %s to %s %s is not held on %s (%s %s)", id, place, typ, r[3], r[4], unit, day.Format(time.DateOnly), r[7], r[8])
		}
	}
}

// held reports whether a limit with those bounds is in force.
func held(t *testing.T, a water.Analyte, place, low, high, unit string, day time.Time) bool {
	t.Helper()
	for _, l := range On(day, place).Of(a) {
		if l.Jurisdiction == place && sameBound(t, a, l.High, high, unit) && (l.Low == nil || sameBound(t, a, l.Low, low, unit)) {
			return true
		}
	}
	return false
}

// sameBound compares a bound with a figure as the list writes it.
func sameBound(t *testing.T, a water.Analyte, have *float64, text, unit string) bool {
	t.Helper()
	if text == "" || have == nil {
		return text == "" && have == nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	if a == water.PH {
		return v == *have
	}
	want := bound(a, v, unit)
	return math.Abs(*want-*have) <= 1e-6*math.Abs(*want)
}

// collected reads the list of limits; the test is skipped where the list is not at hand.
func collected(t *testing.T) [][]string {
	t.Helper()
	const at = "../../shared/reference/standards.md"
	text, err := os.ReadFile(at)
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("the collected list of limits is not at hand: " + at)
	}
	if err != nil {
		t.Fatal(err)
	}
	_, text, _ = bytes.Cut(text, []byte("\nid,jurisdiction,limit_type,low,high,unit,basis,kind,source\n"))
	text, _, _ = bytes.Cut(text, []byte("\n```"))
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}
