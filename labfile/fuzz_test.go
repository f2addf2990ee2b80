package labfile_test

import (
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

// FuzzXLSX feeds any bytes as a workbook.
func FuzzXLSX(f *testing.F) {
	f.Add(report(f))
	f.Add(workbook(f, [][]any{{"Site", "Date", "Iron (mg/L)", "pH"}, {"Alder", 47969, 0.3, 7.3}}))
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 256<<10 {
			t.Skip()
		}
		all, _ := labfile.Read("x.xlsx", data, labfile.Options{})
		proper(t, all)
	})
}
