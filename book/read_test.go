package book

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"wellwright/source"
)

// a whole small book; tests put mistakes into it.
const small = `- entry: 1
  date: 2025-04-14
  well:
    name: Test
    depth: 180 ft
    casing: 6 in
`

func TestReadFindsMistakes(t *testing.T) {
	tests := []struct {
		name, text string
		line       int
		says       string // part of the finding
	}{
		{"unknown key with a near one", small + "    statc level: 38 ft\n", 7, `did you mean "static level"?`},
		{"unknown key with none near", small + "    zebra: 38 ft\n", 7, "known here are name, place"},
		{"letters swapped", small + "    yaer: 1998\n", 7, `did you mean "year"?`},
		{"unit of another kind", small + "    static level: 38 gpm\n", 7, `unit "gpm" is not one of ft`},
		{"no unit", small + "    static level: 38\n", 7, `unit "" is not one of ft`},
		{"words for a figure", small + "    static level: deep\n", 7, "does not begin with a number"},
		{"negative depth", small + "    pumping level: -3 ft\n", 7, "is negative"},
		{"nothing after the key", small + "    static level:\n", 7, "not measured is not zero"},
		{"key twice", small + "    depth: 181 ft\n", 7, "stands twice, first on line 5"},
		{"key twice by another spelling", small + "    Depth: 181 ft\n", 7, "stands twice"},
		{"word not known", small + "    made: driled\n", 7, `did you mean "drilled"?`},
		{"nothing after the key of a section", small + "    pump:\n", 7, "nothing stands after this key"},
		{"list for a value", small + "    static level: [38 ft]\n", 7, "a list stands where one value belongs"},
		{"value for keys", small + "    pump: big\n", 7, "stands where keys belong"},
		{"pump flow without pressure", small + "    pump:\n      measured at the tank: 9 gpm\n", 8, "has no pressure"},
		{"switch the wrong way round", small + "    pressure tank:\n      switch: 60/40 psi\n", 8, "cut-in must be below cut-out"},
		{"year before wells", small + "    year: 198\n", 7, "whole number from 1850"},
		{"date not in the calendar", "- entry: 1\n  date: 2025-02-29\n  note: x\n", 2, "not in the calendar"},
		{"date of the wrong form", "- entry: 1\n  date: 4/14/2025\n  note: x\n", 2, "write year-month-day"},
		{"month 13", "- entry: 1\n  date: 2025-13-01\n  note: x\n", 2, "not in the calendar"},
		{"no date", "- entry: 1\n  note: x\n", 1, `"date" is missing`},
		{"no name", "- date: 2025-04-14\n  note: x\n", 1, `"entry" is missing`},
		{"says nothing", "- entry: 1\n  date: 2025-04-14\n", 1, "the entry says nothing"},
		{"unknown section", "- entry: 1\n  date: 2025-04-14\n  wel:\n    depth: 1 ft\n", 3, `did you mean "well"?`},
		{"two sections", small + "  house:\n    people: 4\n", 8, `second section beside "well"`},
		{"name used twice", small + "- entry: 1\n  date: 2025-04-15\n  note: x\n", 7, "stands twice, first on line 1; the next free number is 2"},
		{"correction of nothing", small + "- entry: 2\n  date: 2025-04-15\n  correction:\n    of: 7\n    why: wrong\n", 7, `correction of entry "7"`},
		{"correction older than the entry", small + "- entry: 2\n  date: 2025-04-13\n  correction:\n    of: 1\n    why: wrong\n  well:\n    depth: 190 ft\n", 7, "is older than the entry 1"},
		{"correction without a reason", small + "- entry: 2\n  date: 2025-04-15\n  correction:\n    of: 1\n", 10, `"why" is missing`},
		{"unknown analyte", reading("zirkon: 1 mg/L"), 6, "not the name of an analyte"},
		{"unit of a result", reading("iron: 1 gpm"), 6, "iron"},
		{"result no figure", reading("iron: lots"), 6, "is not a number"},
		{"result twice", reading("total iron: 1 mg/L\n      total iron: 2 mg/L"), 7, "as a list under one name"},
		{"no results", "- entry: 1\n  date: 2025-04-14\n  readings:\n    tap: T1\n", 4, `"results" is missing`},
		{"tap not known", "- entry: 1\n  date: 2025-04-14\n  readings:\n    tap: sink\n    results:\n      pH: 7\n", 4, `tap "sink" is not one of`},
		{"fraction against the name", reading("ferrous iron:\n        value: 1 mg/L\n        fraction: total"), 7, "its fraction says total"},
		{"sign not in the dictionary", "- entry: 1\n  date: 2025-04-14\n  signs:\n    - sign: purple haze\n", 4, "write what was seen under words"},
		{"sign without words", "- entry: 1\n  date: 2025-04-14\n  signs:\n    - cold: yes\n", 1, "neither a sign nor words"},
		{"look not in the words", "- entry: 1\n  date: 2025-04-14\n  jar tests:\n    - test: settling\n      saw: nice\n", 5, `"nice" is not one of`},
		{"unknown process", "- entry: 1\n  date: 2025-04-14\n  equipment:\n    - process: softner\n", 4, "softener"},
		{"factor without a reason", "- entry: 1\n  date: 2025-04-14\n  factor:\n    name: softener_iron_allowance\n    value: 3\n", 4, `"why" is missing`},
		{"value of a factor", "- entry: 1\n  date: 2025-04-14\n  factor:\n    name: softener_iron_allowance\n    value: much\n    why: because\n", 5, "is not a number"},
		{"file hash", "- entry: 1\n  date: 2025-04-14\n  laboratory report:\n    tap: T1\n    sha256: abc\n    results:\n      pH: 7\n", 5, "want 64"},
		{"no list", "well:\n  depth: 180 ft\n", 1, "is no entry"},
		{"broken YAML", small + "- entry: 2\n  date: [2025\n", 8, "not YAML"},
		{"tab", small + "- entry: 2\n\tdate: 2025\n", 8, "not YAML"},
		{"anchor", small + "- entry: 2\n  date: &a 2025-01-01\n  note: *a\n", 8, "anchor"},
		{"tag", small + "- entry: 2\n  date: !!str 2025-01-01\n", 8, "tag"},
		{"second document", small + "---\n- entry: 2\n", 7, "second document"},
		{"deep nesting", "- " + strings.Repeat("[", 100) + "\n", 1, "nested too deep"},
		{"not UTF-8", "- entry: 1\n  note: \xff\n", 2, "not UTF-8"},
		{"control character", "- entry: 1\n  note: a\x00b\n", 2, "control character U+0000"},
		{"too large", strings.Repeat("#\n", maxBytes), 1, "a book has at most"},
		{"broken JSON", "[{\"entry\": \"1\",\n\"date\" 5}]", 2, "not JSON"},
	}
	for _, tt := range tests {
		_, found := Read("f.yaml", []byte(tt.text))
		if !says(found, tt.line, tt.says) {
			t.Errorf("%s: no finding on line %d says %q; findings: %v", tt.name, tt.line, tt.says, found)
		}
	}
}

func reading(result string) string {
	return "- entry: 1\n  date: 2025-04-14\n  readings:\n    tap: T1\n    results:\n      " + result + "\n"
}

func says(found []Finding, line int, part string) bool {
	for _, f := range found {
		if f.Place.Line == line && strings.Contains(f.Error(), part) && strings.HasPrefix(f.Error(), fmt.Sprintf("f.yaml:%d: ", line)) {
			return true
		}
	}
	return false
}

func TestReadTellsAllMistakesAtOnce(t *testing.T) {
	text := small + "    statc level: 38 ft\n    cap vermin-proof: maybe\n- entry: 2\n  date: [2025\n- entry: 3\n  date: 2025-02-30\n  house:\n    people: four\n"
	b, found := Read("f.yaml", []byte(text))
	for _, line := range []int{7, 8, 10, 12, 14} {
		if !says(found, line, "") {
			t.Errorf("no finding on line %d: %v", line, found)
		}
	}
	if p := b.Present(time.Time{}); p.Supply.Well.Depth == nil || p.Supply.Well.Depth.Ft() != 180 {
		t.Errorf("what can be read beside the mistakes is lost: %+v", p.Supply.Well)
	}
}

func TestReadForgivesSpelling(t *testing.T) {
	b, found := Read("f.yaml", []byte("\ufeff- Entry: 1\r\n  DATE: 2025-04-14\r\n  Well:\r\n    static_level: 11.6 m\r\n    cap vermin proof: Yes\r\n"))
	if len(found) > 0 {
		t.Fatal(found)
	}
	w := b.Present(time.Time{}).Supply.Well
	if w.Static == nil || w.Static.M() < 11.5999 || w.Static.M() > 11.6001 || w.CapSealed == nil || !*w.CapSealed {
		t.Errorf("got static %v, cap %v", w.Static, w.CapSealed)
	}
}

// "on" is yes to older YAML readers, so "date" took its place; books written
// before still read.
func TestOlderSpellingReads(t *testing.T) {
	for _, key := range []string{"date", "on", "On"} {
		b, found := Read("f.yaml", []byte(small+"    specific capacity:\n      "+key+": 1986\n      value: 2.4 gpm/ft\n"))
		if c := b.Present(time.Time{}).Supply.Well.Capacities; len(found) > 0 || len(c) != 1 || c[0].On.Year() != 1986 {
			t.Errorf("%s: %v, %v", key, c, found)
		}
	}
	both := small + "    specific capacity:\n      date: 1986\n      on: 1987\n      value: 2.4 gpm/ft\n"
	if _, found := Read("f.yaml", []byte(both)); !says(found, 9, "stands twice") {
		t.Errorf("both spellings passed: %v", found)
	}
}

func TestCheckKnowsTheDay(t *testing.T) {
	lab := "- entry: 2\n  date: 2025-04-20\n  laboratory report:\n    tap: T1\n    sampled: 2025-04-25\n    analysed: 2025-04-10\n    results:\n      pH: 7\n"
	b, found := Read("f.yaml", []byte(small+lab))
	if len(found) > 0 {
		t.Fatal(found)
	}
	tests := []struct {
		name string
		on   string
		line int
		says string
		want bool
	}{
		{"later than the day", "2025-04-13", 1, "is dated 2025-04-14, after 2025-04-13", true},
		{"on the day", "2025-04-14", 1, "is dated", false},
		{"day after", "2025-04-15", 1, "is dated", false},
		{"sample after its entry", "2025-05-01", 7, "sample of 2025-04-25 stands in an entry of 2025-04-20", true},
		{"analysed before sampled", "2025-05-01", 7, "analysed on 2025-04-10, before", true},
		{"unsealed entries are asked for apart", "2025-05-01", 1, "written by hand", false},
	}
	for _, tt := range tests {
		on, err := time.Parse(time.DateOnly, tt.on)
		if err != nil {
			t.Fatal(err)
		}
		if got := says(b.Check(on), tt.line, tt.says); got != tt.want {
			t.Errorf("%s: got %v, want %v: %v", tt.name, got, tt.want, b.Check(on))
		}
	}
}

func TestCheckTellsContradictions(t *testing.T) {
	again := small + "- entry: 2\n  date: %s\n  well:\n    depth: 190 ft\n    casing: 6 in\n"
	for date, want := range map[string]bool{"2025-04-14": true, "2025-04-15": false} {
		b, found := Read("f.yaml", fmt.Appendf(nil, again, date))
		if len(found) > 0 {
			t.Fatal(found)
		}
		got := b.Check(testDay)
		if says(got, 7, "well/depth is 190 ft here and 180 ft in entry 1") != want || len(Mistakes(got)) > 0 || says(got, 7, "casing") {
			t.Errorf("second entry of %s: want a notice %v, got %v", date, want, got)
		}
	}
}

func TestCheckFactors(t *testing.T) {
	known, err := source.NewRegister([]source.Factor{{Name: "softener_iron_allowance"}})
	if err != nil {
		t.Fatal(err)
	}
	entry := "- entry: 1\n  date: 2025-04-14\n  factor:\n    name: %s\n    value: 3\n    why: because\n"
	b, _ := Read("f.yaml", fmt.Appendf(nil, entry, "softener_iron_alowance"))
	if found := b.CheckFactors(known); !says(found, 1, `did you mean "softener_iron_allowance"?`) {
		t.Errorf("misspelt factor passed: %v", found)
	}
	b, _ = Read("f.yaml", fmt.Appendf(nil, entry, "softener_iron_allowance"))
	if found := b.CheckFactors(known); len(found) > 0 {
		t.Errorf("known factor refused: %v", found)
	}
}

func TestCutFigure(t *testing.T) {
	tests := []struct{ text, figure, unit string }{
		{"<0.05 mg/L as N", "<0.05", "mg/L as N"},
		{"< 0.05 mg/L", "< 0.05", "mg/L"},
		{"255 mg/L as CaCO3", "255", "mg/L as CaCO3"},
		{"1,850 ug/L", "1,850", "ug/L"},
		{"-190 mV", "-190", "mV"},
		{"1e3 mg/L", "1e3", "mg/L"},
		{"7.3", "7.3", ""},
		{"absent", "absent", ""},
		{"ND", "ND", ""},
		{"ND (0.05) mg/L", "ND (0.05)", "mg/L"},
		{"3 per 100 mL", "3", "per 100 mL"},
		{"10C", "10", "C"},
		{"9 to 14 mg/L", "9 to 14 mg/L", ""},
	}
	for _, tt := range tests {
		if f, u := cutFigure(tt.text); f != tt.figure || u != tt.unit {
			t.Errorf("cutFigure(%q) = %q, %q; want %q, %q", tt.text, f, u, tt.figure, tt.unit)
		}
	}
}
