package labfile_test

import (
	"archive/zip"
	"bytes"
	"io/fs"
	"testing"

	"wellwright/book"
	"wellwright/labfile"
)

// FuzzRead feeds any bytes to every reader: nothing crashes, each result belongs
// to a line of the file, and what comes out can stand in a book.
func FuzzRead(f *testing.F) {
	for _, name := range []string{"wqx-results.csv", "wqx-narrow.csv", "wqx-3.csv", "wqx-biological.csv", "wqx-limits.csv", "wqx-stations.csv", "sheets.csv", "semicolon-1252.csv", "wide.csv"} {
		f.Add(fixture(f, name))
	}
	f.Add([]byte("Date;Iron (mg/L);pH\n1/2/31;0,3;7\n"))
	f.Add([]byte("Date,Analyte,Result,Units\n2031-05-01,\"Iron,2,mg/L\n47969.5,pH,<7\n"))
	f.Add([]byte("Parameter,Units,Raw,Softened\nDate,,1/2/31,1/3/31\nIron,mg/L,2,<0.05\npH,,7,7\n"))
	f.Add([]byte("\xff\xfeA\x00,\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 64<<10 {
			t.Skip()
		}
		all, _ := labfile.Read("x", data, labfile.Options{Stations: data, Limits: data})
		proper(t, all)
	})
}

// proper checks what holds of every sample, whatever it was read from.
func proper(t *testing.T, all []labfile.Sample) {
	for i, s := range all {
		if len(s.Lines) != len(s.Report.Results) || len(s.Lines) == 0 {
			t.Fatalf("%d lines for %d results", len(s.Lines), len(s.Report.Results))
		}
		if s.Report.Sampled.IsZero() || s.Report.Tap == "" {
			t.Fatalf("a sample without date or tap: %+v", s)
		}
		for j, r := range s.Report.Results {
			if !r.Analyte.Known() || s.Stands(j) == "" || r.Place.Line < 1 {
				t.Fatalf("result %+v stands as %q", r, s.Stands(j))
			}
		}
		if i > 3 {
			continue // a book is long to read back
		}
		if _, _, err := book.Append(nil, s.Entry(labfile.Kept{File: "received/x"})); err != nil {
			t.Fatalf("cannot stand in a book: %v", err)
		}
	}
}

// FuzzMapping feeds any bytes as a column mapping, and reads a table by what
// comes of it.
func FuzzMapping(f *testing.F) {
	for _, name := range []string{"wide.csv", "semicolon-1252.csv"} {
		m, _ := labfile.Guess(name, fixture(f, name), "")
		text, err := m.YAML()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text, fixture(f, name))
	}
	f.Add([]byte("layout: a result a line\nnames line: 1\nunits line: 2\ncolumns:\n- {column: a, is: analyte}\n- {column: b, is: value}\nanalytes: {x: iron}\n"), []byte("a,b\nx,1\n"))
	f.Fuzz(func(t *testing.T, text, table []byte) {
		m, bad := labfile.ReadMapping("m.yaml", text)
		if (m == nil) == (len(bad) == 0) {
			t.Fatalf("mapping %v with %d faults", m, len(bad))
		}
		if m == nil || len(table) > 16<<10 {
			return
		}
		m.Fits("x", table)
		all, _ := labfile.Read("x", table, labfile.Options{Mapping: m, On: "2031-05-01"})
		proper(t, all)
	})
}

// FuzzXLSX feeds any bytes as a workbook, and as the sheet inside a sound one.
func FuzzXLSX(f *testing.F) {
	sound := report(f)
	f.Add(sound)
	f.Add(sheetOf(f, sound))
	f.Add([]byte("PK\x03\x04"))
	f.Add([]byte(`<worksheet><sheetData><row r="9"><c r="B9" t="inlineStr"><is><t>Fe</t></is></c></row></sheetData></worksheet>`))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 256<<10 {
			t.Skip()
		}
		for _, book := range [][]byte{data, withSheet(t, sound, data)} {
			all, _ := labfile.Read("x.xlsx", book, labfile.Options{})
			proper(t, all)
		}
	})
}

const sheetPart = "xl/worksheets/sheet1.xml"

// sheetOf takes the first sheet out of a workbook.
func sheetOf(t testing.TB, book []byte) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	text, err := fs.ReadFile(z, sheetPart)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// withSheet puts another first sheet into a workbook.
func withSheet(t testing.TB, book, sheet []byte) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, part := range z.File {
		text := sheet
		if part.Name != sheetPart {
			if text, err = fs.ReadFile(z, part.Name); err != nil {
				t.Fatal(err)
			}
		}
		p, err := w.Create(part.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := p.Write(text); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
