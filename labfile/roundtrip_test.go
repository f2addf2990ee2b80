package labfile_test

import (
	"testing"

	"wellwright/book"
	"wellwright/labfile"
)

func TestFixturesRoundTrip(t *testing.T) {
	for _, name := range []string{"wqx-results.csv", "wqx-narrow.csv", "wqx-3.csv", "wqx-biological.csv", "sheets.csv", "semicolon-1252.csv", "wide.csv"} {
		all, _ := read(t, name, labfile.Options{})
		for _, s := range all {
			roundTrip(t, s)
		}
	}
}

// A well record is added once, with what the book does not know yet.
func TestWellEntry(t *testing.T) {
	all, _ := read(t, "wqx-results.csv", labfile.Options{Stations: fixture(t, "wqx-stations.csv")})
	s := all[0]
	e, ok := s.Well.WellEntry(s.Report.Sampled, book.Present{}, "from the sites")
	if !ok {
		t.Fatal("the file knows depth, aquifer and year")
	}
	text, _, err := book.Append(nil, e)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := book.Read("b", text)
	p := b.Present(s.Report.Sampled)
	if w := p.Supply.Well; w.Depth == nil || w.Depth.Ft() != 185 || w.Aquifer != "Invented Sandstone" || w.Year != 1998 {
		t.Errorf("well %+v", w)
	}
	if _, again := s.Well.WellEntry(s.Report.Sampled, p, ""); again {
		t.Error("a second record says nothing new")
	}
}
