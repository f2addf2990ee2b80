package labfile_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"wellwright/labfile"
	"wellwright/water"
)

// All fixtures are invented; only the names of their columns are those of the
// open layouts.
func fixture(t testing.TB, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func read(t *testing.T, name string, opt labfile.Options) ([]labfile.Sample, []labfile.Finding) {
	t.Helper()
	return labfile.Read(name, fixture(t, name), opt)
}

// want is one result that must be among those of a sample.
type want struct {
	analyte  water.Analyte
	fraction water.Fraction
	amount   string // sign, figure and canonical unit
	stands   string
	note     string // must stand in the note
	why      string
}

func check(t *testing.T, s labfile.Sample, all []want) {
	t.Helper()
	for _, w := range all {
		found := false
		for i, r := range s.Report.Results {
			if r.Analyte != w.analyte || r.Fraction != w.fraction {
				continue
			}
			found = true
			got := "?"
			if a, err := r.Amount(); err == nil {
				got = a.String()
			}
			if got != w.amount || s.Stands(i) != w.stands || !strings.Contains(r.Note, w.note) {
				t.Errorf("%s %s: amount %q, stands %q, note %q; want %q, %q, %q (%s)", w.fraction, w.analyte, got, s.Stands(i), r.Note, w.amount, w.stands, w.note, w.why)
			}
			break
		}
		if !found {
			t.Errorf("%s %s is missing (%s)", w.fraction, w.analyte, w.why)
		}
	}
}

// findings that must be there, each with its name, line and a word of it.
type said struct {
	id   string
	line int
	word string
}

func hears(t *testing.T, found []labfile.Finding, all []said) {
	t.Helper()
	for _, w := range all {
		ok := false
		for _, f := range found {
			ok = ok || f.ID == w.id && f.Place.Line == w.line && strings.Contains(f.Error(), w.word)
		}
		if !ok {
			t.Errorf("no finding %s on line %d with %q", w.id, w.line, w.word)
		}
	}
}

func TestResultsProfile(t *testing.T) {
	all, found := read(t, "wqx-results.csv", labfile.Options{Stations: fixture(t, "wqx-stations.csv")})
	if len(all) != 4 {
		t.Fatalf("%d samples, want laboratory and field of one visit, its replicate, and one of the second site", len(all))
	}
	lab, field, twin, other := all[0], all[1], all[2], all[3]
	check(t, lab, []want{
		{water.Iron, water.Recoverable, "2.15 mg/L", "2150 ug/l", "", "recoverable is a fraction of its own"},
		{water.Iron, water.Dissolved, "1.98 mg/L", "1.98 mg/l", "", "limit in another unit is no estimate: 10 ug/l is 0.01 mg/l"},
		{water.Arsenic, water.Total, "<0.0005 mg/L", "<0.5 ug/l", "", "empty value, not detected: the limit with its sign"},
		{water.Nitrite, water.Dissolved, "0.019 mg/L as N", "0.019 mg/l as N", "also printed as 0.061 mg/l asNO2", "one figure on two bases: as N is kept, and 0.061 x 14.007/46.005 = 0.0186"},
		{water.TDS, water.Unspecified, "312 mg/L", "312 mg/l", "", "tons an acre-foot is no unit of water here"},
		{water.Hardness, water.Unspecified, "240 mg/L as CaCO3", "240 mg/l CaCO3", "", "the basis stands in the unit"},
		{water.PH, water.Unspecified, "7.9", "7.9 std units", "", "00403 is the laboratory's"},
		{water.EColi, water.Unspecified, ">2420 per 100 mL", ">2419.6 MPN/100 ml", "", "above the upper limit; filterable means nothing for E. coli"},
	})
	check(t, field, []want{
		{water.PH, water.Unspecified, "7.3", "7.3 std units", "", "00400 is read in the field"},
		{water.Oxygen, water.Unspecified, "0.2 mg/L", "0.2 mg/l", "", ""},
		{water.OxygenSaturation, water.Unspecified, "2 %", "2 % saturatn", "", "oxygen in per cent is its saturation"},
	})
	if !field.Report.Field || lab.Report.Field || !twin.Duplicate || lab.Duplicate {
		t.Error("field, laboratory and replicate are mixed up")
	}
	if r, _ := lab.Report.Find(water.Iron, water.Dissolved); r.Limit == nil || *r.Limit != 0.01 {
		t.Errorf("limit of dissolved iron %v, want 0.01 in mg/l", r.Limit)
	}
	if zone, off := lab.Report.Sampled.Zone(); zone != "EDT" || off != -4*3600 || lab.Zone != "EDT" {
		t.Errorf("zone %s %d, want EDT, four hours behind UTC", zone, off)
	}
	if lab.Well.Depth == nil || lab.Well.Depth.Ft() != 185 || lab.Well.Year != 1998 || lab.Well.Aquifer != "Invented Sandstone" {
		t.Errorf("well %+v: want what the companion file says", lab.Well)
	}
	if !strings.Contains(strings.Join(lab.Remarks, ";"), "Depth to water level below land surface: 38.1 ft") {
		t.Errorf("remarks %q: the level is lost", lab.Remarks)
	}
	if n := other.Report.Results[0].Note; !strings.Contains(n, "preliminary") {
		t.Errorf("note %q, want the status preliminary", n)
	}
	hears(t, found, []said{
		{"field-blank", 21, "Field Blank"}, {"control-sample", 22, "Matrix Spike"}, {"medium", 23, "Sediment"}, {"rejected", 24, "Rejected"},
		{"date", 25, "2031-13-06"}, {"no-value", 26, "Chloride"}, {"not-a-number", 27, "see remark"}, {"fraction", 28, "Bed Sediment"},
		{"unit", 10, "tons/ac ft"}, {"unknown-analyte", 18, "Barometric"}, {"estimated", 8, "Nitrite"},
	})
}

func TestNarrowProfile(t *testing.T) {
	all, found := read(t, "wqx-narrow.csv", labfile.Options{})
	if len(all) != 3 || !all[2].Duplicate {
		t.Fatalf("%d samples, want laboratory, field and replicate of one visit", len(all))
	}
	check(t, all[0], []want{
		{water.Iron, water.Total, "3.4 mg/L", "3400 ug/L", "", "unfiltered stands in another activity than filtered"},
		{water.Iron, water.Dissolved, "3.1 mg/L", "3.1 mg/L", "", "paired by site and time; the blank is not taken for it"},
		{water.Lead, water.Dissolved, "?", "ND", "H;U", "the profile keeps its limits elsewhere"},
		{water.Cadmium, water.Dissolved, "?", "present below quantification limit", "Between Inst Detect", "seen, but no figure given"},
		{water.Hardness, water.Total, "131 mg/L as CaCO3", "131 mg/L as CaCO3", "", "basis from its own column"},
		{water.Ammonia, water.Total, "0.202 mg/L as N", "0.26 mg/L as NH4", "", "0.26 x 14.007/18.039 = 0.2019: atomic weights"},
		{water.TotalColiform, water.Unspecified, "present", "present", "", "seen, no figure"},
	})
	check(t, all[1], []want{
		{water.Temperature, water.Unspecified, "12 C", "53.6 deg F", "", "(53.6 - 32)/1.8 = 12"},
		{water.PH, water.Unspecified, "7.1", "7.1", "", "None is no unit"},
	})
	if f := all[0].Report.Bottle.FilteredField; f == nil || !*f {
		t.Error("filtered in the field is not said")
	}
	hears(t, found, []said{{"field-blank", 4, ":QFB"}, {"field-blank", 5, ":QLB"}, {"no-result", 11, "Not Reported"}, {"no-result", 12, "contamination"},
		{"rejected", 13, "Rejected"}, {"no-limit", 7, "Lead"}, {"unknown-analyte", 16, "stream stage"}})

	all, found = read(t, "wqx-narrow.csv", labfile.Options{Limits: fixture(t, "wqx-limits.csv")})
	check(t, all[0], []want{
		{water.Lead, water.Dissolved, "<0.001 mg/L", "<1.0 ug/L", "", "of a reporting limit and a detection limit, that below which nothing is printed"},
		{water.Cadmium, water.Dissolved, "<0.0005 mg/L", "<0.5 ug/L", "Between Inst Detect", "the limit of the companion file"},
	})
	if n := tally(found)["no-limit"]; n != 0 {
		t.Errorf("%d results without limit, with the companion file", n)
	}
}

func TestOtherLayouts(t *testing.T) {
	all, _ := read(t, "wqx-3.csv", labfile.Options{})
	if len(all) != 2 {
		t.Fatalf("%d samples", len(all))
	}
	check(t, all[0], []want{
		{water.Ammonia, water.Dissolved, "<0.04 mg/L as N", "<0.04 mg/L as N", "", "the censoring level goes before the detection limit"},
		{water.Nitrate, water.Dissolved, "2.71 mg/L as N", "2.71 mg/L as N", "also printed as 12.0 mg/L as NO3", "12.0 x 14.007/62.004 = 2.711"},
		{water.Mercury, water.Total, "0.00001 mg/L", "1e-05 mg/L", "", "powers of ten occur"},
	})
	if all[0].SiteName != "Invented spring" || all[0].Zone != "PDT" {
		t.Errorf("site %q zone %q", all[0].SiteName, all[0].Zone)
	}
	all, _ = read(t, "wqx-biological.csv", labfile.Options{})
	if len(all) != 1 || !all[0].Report.Field || all[0].Stands(0) != "1000 uS/cm" {
		t.Errorf("biological profile: %+v", all)
	}
	for name, what := range map[string]string{"wqx-limits.csv": "detection limits", "wqx-stations.csv": "sites"} {
		all, found := read(t, name, labfile.Options{})
		if len(all) != 0 || len(found) != 1 || !strings.Contains(found[0].Error(), "companion file of "+what) {
			t.Errorf("%s alone: %v", name, found)
		}
	}
}

func TestSheets(t *testing.T) {
	all, found := read(t, "sheets.csv", labfile.Options{})
	if len(all) != 3 || !all[2].Duplicate || all[2].Sheet != "701" {
		t.Fatalf("%d samples, want laboratory and field of one sheet and its duplicate", len(all))
	}
	check(t, all[0], []want{
		{water.Iron, water.Total, "2.15 mg/L", "2150 ug/L", "", "unfiltered metals are total"},
		{water.Potassium, water.Total, "<2 mg/L", "<2 mg/L", "", "an empty result is not the limit beside it"},
		{water.Arsenic, water.Total, "<0.002 mg/L", "<2 ug/L", "", "limit in ug/L beside mg/L of the major ions"},
		{water.TotalPhosphorus, water.Unspecified, "0.03 mg/L as P", "0.03 mg/L", "EstimatedValue; estimated: below its quantitation limit; bottle leaked", "detected below its own limit"},
		{water.Alkalinity, water.Unspecified, "250 mg/L as CaCO3", "250 mg/L", "", ""},
	})
	if r, _ := all[0].Report.Find(water.Iron, water.Total); strings.Contains(r.Note, "SMCL") {
		t.Errorf("note %q: the comparison with limits is made here afresh", r.Note)
	}
	check(t, all[1], []want{{water.ORP, water.Unspecified, "-81 mV", "-81 mV", "", "redox potential may be below zero"}})
	w := all[0].Well
	if w.Depth == nil || w.Depth.Ft() != 93 || w.Casing != nil || w.Aquifer != "unconsolidated, buried valley" {
		t.Errorf("well %+v: want 93 ft, casing unknown (0 is unknown)", w)
	}
	if got := strings.Join(all[0].Remarks, "; "); got != "Clear, iron taste; Water Level: 27.5 ft" {
		t.Errorf("remarks %q: want the field note and the level, not the code 69", got)
	}
	if at := all[0].Report.Sampled.Format("2006-01-02 15:04"); at != "2031-05-01 14:00" {
		t.Errorf("sampled %s: 5/1/2031 is the first of May", at)
	}
	// C: 80/20.039 + 24.3/12.1525 + 23/22.99 + 2/39.098 = 7.044 meq/L; A: 250/50.04 + 1 + 48/48.03 = 6.995
	if b, ok := water.AgencyBalance(all[0].Report); !ok || all[0].Balance == nil || *all[0].Balance != 0.0035 || b.Percent < 0.3 || b.Percent > 0.4 {
		t.Errorf("balance %+v printed %v, want 0.35 %% (hand arithmetic from atomic weights)", b, all[0].Balance)
	}
	hears(t, found, []said{{"rejected", 16, "SampleRejected"}, {"no-value", 17, "Iron"}, {"unknown-analyte", 18, "Tritium"}, {"estimated", 11, "Phosphorus"}})
}

func TestMappedWithoutAKnownLayout(t *testing.T) {
	name := "semicolon-1252.csv"
	m, found := labfile.Guess(name, fixture(t, name), "")
	if m == nil || m.Layout != labfile.Long || m.Decimal != "," || m.Names != 5 || len(m.Labels) != 1 {
		t.Fatalf("mapping %+v, %v", m, found)
	}
	all, found := read(t, name, labfile.Options{Mapping: m})
	if len(all) != 1 || all[0].Report.Field {
		t.Fatalf("%d samples: %v", len(all), found)
	}
	check(t, all[0], []want{
		{water.Iron, water.Total, "2.05 mg/L", "2.05 mg/L", "", "decimal comma"},
		{water.Manganese, water.Unspecified, "0.118 mg/L", "118 µg/L", "", "µ of Windows-1252"},
		{water.Nitrate, water.Unspecified, "<0.113 mg/L as N", "<0.5 mg/L as NO3", "", "0.5 x 14.007/62.004 = 0.113; basis from the name"},
		{water.PH, water.Unspecified, "7.4", "7.4", "", "no unit"},
		{water.Lead, water.Unspecified, "1.25 mg/L", "1250.5 µg/L", "", "a point parts thousands where the comma is decimal"},
	})
	if !all[0].Report.Sampled.Equal(time.Date(2031, 4, 14, 9, 30, 0, 0, time.UTC)) {
		t.Errorf("sampled %v: the label above the table says 14 April", all[0].Report.Sampled)
	}
	if tally(found)["unknown-analyte"] != 1 || tally(found)["encoding"] != 1 {
		t.Errorf("findings %v", found)
	}
}

func TestWideTable(t *testing.T) {
	all, found := read(t, "wide.csv", labfile.Options{})
	if len(all) != 3 {
		t.Fatalf("%d samples: %v", len(all), found)
	}
	check(t, all[0], []want{
		{water.Iron, water.Total, "2 mg/L", "2.0 mg/L", "clear", "no digit is lost"},
		{water.Iron, water.Dissolved, "1.9 mg/L", "1.9 mg/L", "", "unit behind the name"},
		{water.Hardness, water.Unspecified, "291 mg/L as CaCO3", "17 gpg", "", "17 x 17.118 = 291"},
		{water.TotalColiform, water.Unspecified, "absent", "absent", "", ""},
	})
	check(t, all[1], []want{
		{water.Iron, water.Total, "?", "ND", "", "not detected, and the table has no limits"},
		{water.Iron, water.Dissolved, "<0.05 mg/L", "<0.05 mg/L", "", "sign with a blank"},
	})
	if all[0].Report.Tap != "T1" || all[1].Report.Tap != "K" || all[2].Report.Tap != "T1" {
		t.Errorf("taps %s %s %s", all[0].Report.Tap, all[1].Report.Tap, all[2].Report.Tap)
	}
	if !strings.Contains(strings.Join(all[2].Remarks, ";"), "somewhere") {
		t.Errorf("remarks %q: the place in its own words is lost", all[2].Remarks)
	}
	hears(t, found, []said{{"not-a-number", 4, "see note"}})
}
