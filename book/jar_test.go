package book

import (
	"testing"
	"time"

	"wellwright/water"
)

const notebook = `- entry: 1
  date: 2025-04-14
  jar tests:
    - test: aeration
      after: 24 h
      temperature: 20 C
      filter: 0.45 um
      iron: 1.2 mg/L
      manganese: 0.3 mg/L
      colour: 25
      pH: 7.6
      saw: haze stays
      tap: T1
    - test: alum
      after: 30 min
      filter: 0.00045 mm
      doses:
        - added: 10 mg/L
          iron: 0.9 mg/L
          colour: <5
        - added: 20 mg/L
          iron: 0 mg/L
    - test: permanganate
      after: 10 min
      dose: 2 mg/L
      saw: pink stays
    - test: chlorine
      dose: 8 mg/L as Cl2
      free: 0.6 mg/L
      total: 0.9 mg/L
`

// A page of jars reads back as it was written, in whichever way the pore size, the
// dose and the colour were put.
func TestJarNotebook(t *testing.T) {
	b, found := Read("jars.yaml", []byte(notebook))
	if len(found) > 0 {
		t.Fatal(found)
	}
	jars := b.Present(time.Time{}).Jars
	if len(jars) != 4 {
		t.Fatalf("%d jars, want 4", len(jars))
	}
	air, alum, pink, bleach := jars[0], jars[1], jars[2], jars[3]
	if d := air.Filter.MM() - alum.Filter.MM(); d > 1e-12 || d < -1e-12 || air.Iron.MgPerL() != 1.2 || air.Colour.Value != 25 || air.Temperature.Celsius() != 20 {
		t.Errorf("aerated jar %+v, want 0.45 µm, which is 0.00045 mm, and 1.2 mg/L of 25 units at 20 °C (as written)", air)
	}
	if s := air.Series(); len(s) != 1 || s[0].Added.MgPerL() != 0 || s[0].Manganese.MgPerL() != 0.3 || s[0].PH.Value() != 7.6 || s[0].Saw != HazeStays {
		t.Errorf("series of the aerated jar %+v, want one jar with nothing fed (definition)", s)
	}
	s := alum.Series()
	if len(s) != 2 || s[1].Added.MgPerL() != 20 || s[1].Iron == nil || s[1].Iron.MgPerL() != 0 || s[0].Colour.Sign != water.Below {
		t.Errorf("alum %+v, want 10 and 20 mg/L, nothing left of the second, colour below 5 in the first (as written)", s)
	}
	if p := pink.Series()[0]; p.Added.MgPerL() != 2 || p.Saw != PinkStays {
		t.Errorf("permanganate %+v, want pink at 2 mg/L (as written)", p)
	}
	if c := bleach.Series()[0]; c.Added.MgPerL() != 8 || c.Free.MgPerLAsCl2() != 0.6 || c.Total.MgPerLAsCl2() != 0.9 {
		t.Errorf("chlorine %+v, want 8 fed, 0.6 free, 0.9 total (as written)", c)
	}
}

func TestJarsThatCannotBeRead(t *testing.T) {
	for _, tt := range []struct{ line, want string }{
		{"filter: 0.45", "length"}, {"filter: -1 um", "negative"}, {"filter: fine um", "not a number"}, {"dose: 20", "concentration"},
		{"dose: -2 mg/L", "below"}, {"colour: brown", "colour"}, {"manganese: 6000 mg/L", "is outside"}, {"saw: pinkish", "is not one of"},
		{"doses:\n        - iron: 1 mg/L", "added"},
	} {
		_, found := Read("f.yaml", []byte("- entry: 1\n  date: 2025-04-14\n  jar tests:\n    - test: alum\n      "+tt.line+"\n"))
		if len(found) == 0 || !says(found, found[0].Place.Line, tt.want) {
			t.Errorf("%s: %v, want a finding that says %q", tt.line, found, tt.want)
		}
	}
}
