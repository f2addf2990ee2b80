package labfile_test

import (
	"bytes"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"wellwright/labfile"
	"wellwright/water"
)

// workbook makes an invented laboratory report as a workbook.
func workbook(t testing.TB, rows [][]any) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	if _, err := f.NewSheet("Cover"); err != nil {
		t.Fatal(err)
	}
	if err := f.SetSheetName("Sheet1", "Results"); err != nil {
		t.Fatal(err)
	}
	for i, row := range rows {
		cell, err := excelize.CoordinatesToCellName(1, i+1)
		if err != nil {
			t.Fatal(err)
		}
		if err := f.SetSheetRow("Results", cell, &row); err != nil {
			t.Fatal(err)
		}
	}
	style, err := f.NewStyle(&excelize.Style{NumFmt: 1}) // shows whole numbers only
	if err != nil {
		t.Fatal(err)
	}
	if err := f.SetCellStyle("Results", "A1", "Z60", style); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func report(t testing.TB) []byte {
	return workbook(t, [][]any{
		{"Invented Laboratory, report 118"},
		{"Well", nil, "Alder"},
		{},
		{"Analyte", "Result", "Units", "Sampled", "Method", "RL", "Total/Dissolved"},
		{"Fe", 2.06, "mg/L", 47969.395833333336, "M-1", 0.02, "total"}, // 2031-05-01 09:30 by the rule of serial dates
		{"Fe", "<0.05", "mg/L", 47969.395833333336, "M-1", 0.05, "dissolved"},
		{"Sparkle", 3, "mg/L", 47969.395833333336, "", nil, ""},
		{"pH", 7.3, "s.u.", 47969.395833333336, "M-2", nil, ""},
		{"Mn", "lost", "ug/L", 47969.395833333336, "M-1", nil, ""},
	})
}

func TestWorkbook(t *testing.T) {
	all, found := labfile.Read("report.xlsx", report(t), labfile.Options{})
	if len(all) != 1 {
		t.Fatalf("%d samples: %v", len(all), found)
	}
	s := all[0]
	check(t, s, []want{
		{water.Iron, water.Total, "2.06 mg/L", "2.06 mg/L", "", "the stored value, not the one shown"},
		{water.Iron, water.Dissolved, "<0.05 mg/L", "<0.05 mg/L", "", ""},
		{water.PH, water.Unspecified, "7.3", "7.3 s.u.", "", ""},
	})
	if !s.Report.Sampled.Equal(time.Date(2031, 5, 1, 9, 30, 0, 0, time.UTC)) || !s.Timed || s.Site != "Alder" {
		t.Errorf("sampled %v at %q; day 47969 is 2031-05-01 (days since 1899-12-30)", s.Report.Sampled, s.Site)
	}
	if s.Lines[0].Cell != "Results!B5" {
		t.Errorf("cell %q, want Results!B5", s.Lines[0].Cell)
	}
	cells := map[string]string{}
	for _, f := range found {
		cells[f.Cell] = f.Error()
	}
	if !strings.Contains(cells["Results!B7"], "report.xlsx:Results!B7") || !strings.Contains(cells["Results!B9"], "lost") {
		t.Errorf("findings %v: want the unknown analyte and the text with their cells", found)
	}
}

// Of a workbook with two tables the first is read, and the other is not passed
// over in silence.
func TestSecondWorksheet(t *testing.T) {
	f, err := excelize.OpenReader(bytes.NewReader(report(t)))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for i, row := range [][]any{{"Date", "Parameter", "Result", "Units"}, {"2031-06-01", "Zinc", 0.2, "mg/L"}} {
		if err := f.SetSheetRow("Cover", "A"+strconv.Itoa(i+1), &row); err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	all, found := labfile.Read("r.xlsx", b.Bytes(), labfile.Options{})
	if len(all) != 1 || tally(found)["other-sheet"] != 1 {
		t.Errorf("%d samples: %v", len(all), found)
	}
	all, found = labfile.Read("r.xlsx", b.Bytes(), labfile.Options{Worksheet: "cover"})
	if len(all) != 1 || all[0].Stands(0) != "0.2 mg/L" || tally(found)["other-sheet"] != 0 {
		t.Errorf("%+v: %v", all, found)
	}
	if all, found = labfile.Read("r.xlsx", b.Bytes(), labfile.Options{Worksheet: "third"}); len(all) != 0 || !strings.Contains(found[0].Error(), "Results, Cover") {
		t.Errorf("%v", found)
	}
}

// A mapping that is written, read and used again gives the same samples, also
// for a file whose table begins lower.
func TestMappingIsKept(t *testing.T) {
	for _, name := range []string{"wide.csv", "semicolon-1252.csv"} {
		data := fixture(t, name)
		m, _ := labfile.Guess(name, data, "")
		text, err := m.YAML()
		if err != nil {
			t.Fatal(err)
		}
		again, bad := labfile.ReadMapping("m.yaml", text)
		if len(bad) > 0 {
			t.Fatalf("%s: %v", name, bad)
		}
		if !again.Fits(name, data) || again.Fits("sheets.csv", fixture(t, "sheets.csv")) {
			t.Errorf("%s: the mapping must fit its own file and no other", name)
		}
		low := append([]byte("a line more\n"), data...)
		one, _ := labfile.Read(name, data, labfile.Options{Mapping: again})
		two, found := labfile.Read(name, low, labfile.Options{Mapping: again})
		if len(one) == 0 || len(one) != len(two) {
			t.Fatalf("%s: %d samples, then %d: %v", name, len(one), len(two), found)
		}
		for i := range one {
			for j := range one[i].Lines {
				if one[i].Stands(j) != two[i].Stands(j) {
					t.Errorf("%s: %q, then %q", name, one[i].Stands(j), two[i].Stands(j))
				}
			}
		}
	}
}

func TestMappingSaysAllItsFaults(t *testing.T) {
	_, bad := labfile.ReadMapping("m.yaml", []byte(`layout: sideways
names line: 0
units line: -1
dates: year first
decimal: ";"
columns:
  - {column: A, is: smell}
  - {column: B, is: result, analyte: sparkle}
labels:
  - {label: L, is: nothing}
always: {colour: red}
`))
	text := ""
	for _, f := range bad {
		text += f.Error() + "\n"
	}
	for _, w := range []string{"sideways", "names line 0", "units line -1", "year first", `";"`, `"smell"`, `"sparkle"`, `"nothing"`, `"colour"`} {
		if !strings.Contains(text, w) {
			t.Errorf("no finding with %s in:\n%s", w, text)
		}
	}
	if _, bad := labfile.ReadMapping("m.yaml", []byte("layout: a result a line\nsmell: strong\n")); len(bad) == 0 || !strings.Contains(bad[0].Error(), "smell") {
		t.Errorf("an unknown key: %v", bad)
	}
}

// The laboratory's own names, constants and units come through the mapping.
func TestMappingTranslates(t *testing.T) {
	m := &labfile.Mapping{Layout: labfile.Long, Names: 1, Dates: "day first",
		Columns:  []labfile.Column{{Name: "code", Is: "analyte"}, {Name: "figure", Is: "value"}, {Name: "taken", Is: "date"}},
		Always:   map[string]string{"unit": "mg/L", "tap": "t3", "laboratory": "county laboratory"},
		Analytes: map[string]string{"XFE-T": "total iron"}}
	all, found := labfile.Read("x.csv", []byte("code,figure,taken\nXFE-T,0.3,02/03/2031\nXMN,0.1,02/03/2031\n"), labfile.Options{Mapping: m})
	if len(all) != 1 || all[0].Report.Tap != "T3" || all[0].Report.Laboratory != "county laboratory" {
		t.Fatalf("%+v %v", all, found)
	}
	check(t, all[0], []want{{water.Iron, water.Total, "0.3 mg/L", "0.3 mg/L", "", ""}})
	if on := all[0].Report.Sampled.Format("2006-01-02"); on != "2031-03-02" {
		t.Errorf("sampled %s: day first", on)
	}
	if all[0].Lines[0].Received != "XFE-T: 0.3 mg/L" {
		t.Errorf("received %q: want the laboratory's own name", all[0].Lines[0].Received)
	}
	if tally(found)["unknown-analyte"] != 1 {
		t.Errorf("%v", found)
	}
}

// The decimal mark of the file goes before that of the mapping, and a figure that
// has neither is refused: a factor of a hundred hangs on it.
func TestDecimalMark(t *testing.T) {
	comma := &labfile.Mapping{Layout: labfile.Long, Names: 1, Decimal: ",",
		Columns: []labfile.Column{{Name: "Analyte", Is: "analyte"}, {Name: "Result", Is: "value"}}}
	point := *comma
	point.Decimal = ""
	for _, tt := range []struct {
		m              *labfile.Mapping
		figures, stand string
		found          string
	}{
		{comma, "2,06 mg/L;1.250 ug/L;0,3 mg/L", "2.06 mg/L;1250 ug/L;0.3 mg/L", ""},
		{comma, "2.06 mg/L;1,250 ug/L;0.3 mg/L", "2.06 mg/L;1,250 ug/L;0.3 mg/L", "decimal-changed"},
		{comma, "2,06 mg/L;2.5 ug/L;0,3 mg/L", "2.06 mg/L;;0.3 mg/L", "decimal"},
		{&point, "2.06 mg/L;1,250 ug/L;0.3 mg/L", "2.06 mg/L;1,250 ug/L;0.3 mg/L", ""},
		{&point, "2,06 mg/L;12 ug/L;0.3 mg/L", ";12 ug/L;0.3 mg/L", "not-a-number"},
	} {
		names := []string{"Iron", "Lead", "Manganese"}
		var b strings.Builder
		b.WriteString("Analyte;Result;\n")
		for i, f := range strings.Split(tt.figures, ";") {
			b.WriteString(names[i] + ";" + f + ";\n")
		}
		all, found := labfile.Read("x.csv", []byte(b.String()), labfile.Options{Mapping: tt.m, On: "2031-05-01"})
		got := map[string]string{}
		for _, s := range all {
			for i, r := range s.Report.Results {
				got[r.Analyte.Name()] = s.Stands(i)
			}
		}
		for i, w := range strings.Split(tt.stand, ";") {
			if g := got[strings.ToLower(names[i])]; g != w {
				t.Errorf("%s with decimal %q: %q, want %q", tt.figures, tt.m.Decimal, g, w)
			}
		}
		if tt.found != "" && tally(found)[tt.found] == 0 {
			t.Errorf("%s: %v, want %s", tt.figures, found, tt.found)
		}
	}
	bare := "Analyte;Result;Unit\nIron;2.06;mg/L\npH;7.2;\n"
	all, found := labfile.Read("x.csv", []byte(bare), labfile.Options{Mapping: &labfile.Mapping{Layout: labfile.Long, Names: 1, Decimal: ",",
		Columns: append(comma.Columns, labfile.Column{Name: "Unit", Is: "unit"})}, On: "2031-05-01"})
	if len(all) != 1 || all[0].Stands(0) != "2.06 mg/L" || tally(found)["decimal-changed"] != 1 {
		t.Errorf("a file with points under a mapping with commas: %+v %v", all, found)
	}
}

// A table with the samples side by side: raw water and behind the softener.
func TestSamplesSideBySide(t *testing.T) {
	text := `Invented Laboratory
Parameter,Units,Raw (T1),Behind softener (T3),Remark
Date collected,,14/05/2031,15/05/2031,
Iron,mg/L,2.05,<0.05,ok
"Hardness, total",gpg,17,0.5,
pH,,7.3,7.2,
Sparkle,mg/L,3,,
Nitrate as N,mg/L,0.4,,
`
	m, _ := labfile.Guess("x.csv", []byte(text), "")
	if m == nil || m.Layout != labfile.Across || m.Dates != "day first" {
		t.Fatalf("mapping %+v", m)
	}
	kept, err := m.YAML()
	if err != nil {
		t.Fatal(err)
	}
	m, bad := labfile.ReadMapping("m.yaml", kept)
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	all, found := labfile.Read("x.csv", []byte(text), labfile.Options{Mapping: m})
	if len(all) != 2 {
		t.Fatalf("%d samples: %v", len(all), found)
	}
	check(t, all[0], []want{
		{water.Iron, water.Unspecified, "2.05 mg/L", "2.05 mg/L", "", ""},
		{water.Nitrate, water.Unspecified, "0.4 mg/L as N", "0.4 mg/L as N", "", ""},
	})
	check(t, all[1], []want{
		{water.Iron, water.Unspecified, "<0.05 mg/L", "<0.05 mg/L", "", ""},
		{water.Hardness, water.Unspecified, "8.56 mg/L as CaCO3", "0.5 gpg", "", "0.5 x 17.118 = 8.56"},
	})
	if all[0].Report.Tap != "T1" || all[1].Report.Tap != "T3" || all[1].Report.Sampled.Format("2006-01-02") != "2031-05-15" || len(all[1].Lines) != 3 {
		t.Errorf("taps %s and %s, second sample %v with %d results", all[0].Report.Tap, all[1].Report.Tap, all[1].Report.Sampled, len(all[1].Lines))
	}
	hears(t, found, []said{{"unknown-analyte", 7, "Sparkle"}})
}

func TestDateOrder(t *testing.T) {
	for _, tt := range []struct {
		dates, order string
		sure         bool
	}{
		{"13/02/2031,02/03/2031", "day first", true},
		{"02/13/2031,02/03/2031", "month first", true},
		{"02/03/2031,03/04/2031", "month first", false},
		{"2031-02-03,2031-02-04", "month first", true},
	} {
		var b strings.Builder
		b.WriteString("date,Fe mg/L,Mn mg/L\n")
		for d := range strings.SplitSeq(tt.dates, ",") {
			b.WriteString(d + ",1,1\n")
		}
		m, found := labfile.Guess("x.csv", []byte(b.String()), "")
		if m == nil || m.Dates != tt.order || (len(found) == 0) != tt.sure {
			t.Errorf("%s: %+v %v", tt.dates, m, found)
		}
	}
}

func TestWhatIsNoTable(t *testing.T) {
	for text, word := range map[string]string{
		"": "empty", "%PDF-1.7": "PDF", "\xd0\xcf\x11\xe0\xa1\xb1": ".xls", "<html>": "web page", "{\"a\":1}": "JSON",
		"PK\x03\x04 not a workbook": "workbook", "\x1f\x8b\x08": "compressed", "just,some,words\n1,2,3\n": "no line of column names",
	} {
		all, found := labfile.Read("x", []byte(text), labfile.Options{})
		if len(all) != 0 || len(found) == 0 || !strings.Contains(found[0].Error(), word) {
			t.Errorf("%q: %v, want %q", text, found, word)
		}
	}
}

// A broken quote costs its own line at most.
func TestBrokenQuote(t *testing.T) {
	text := "Date,Analyte,Result,Units\n2031-05-01,Iron,2.0,mg/L\n2031-05-01,\"Zinc,0.1,mg/L\n2031-05-01,Copper,0.2,mg/L\n2031-05-01,pH,7\" x,\n2031-05-01,Lead,3,ug/L\n"
	all, found := labfile.Read("x.csv", []byte(text), labfile.Options{})
	if len(all) != 1 {
		t.Fatal(found)
	}
	check(t, all[0], []want{
		{water.Zinc, water.Unspecified, "0.1 mg/L", "0.1 mg/L", "", "read as it stands"},
		{water.Copper, water.Unspecified, "0.2 mg/L", "0.2 mg/L", "", "the line after a broken quote"},
		{water.Lead, water.Unspecified, "0.003 mg/L", "3 ug/L", "", "the last line"},
	})
	hears(t, found, []said{{"quote", 3, "quote"}, {"quote", 5, "quote"}})
}

func TestEncodings(t *testing.T) {
	plain := "Date,Analyte,Result,Units\n2031-05-01,Lead,3,µg/L\n2031-05-01,Iron,2.0,mg/L\n"
	utf16 := []byte{0xff, 0xfe}
	for _, c := range plain {
		utf16 = append(utf16, byte(c), byte(c>>8))
	}
	for name, data := range map[string][]byte{
		"mark": append([]byte("\xef\xbb\xbf"), plain...), "UTF-16": utf16,
		"carriage returns": []byte(strings.ReplaceAll(plain, "\n", "\r")), "both": []byte(strings.ReplaceAll(plain, "\n", "\r\n")),
		"tabs": []byte(strings.ReplaceAll(plain, ",", "\t")),
	} {
		all, found := labfile.Read("x.csv", data, labfile.Options{})
		if len(all) != 1 || len(all[0].Lines) != 2 || all[0].Lines[1].Place.Line != 3 || all[0].Stands(0) != "3 µg/L" {
			t.Errorf("%s: %+v %v", name, all, found)
		}
	}
}
