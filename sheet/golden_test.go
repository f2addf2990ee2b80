package sheet_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/source"
	"wellwright/train"
	"wellwright/unit"
)

var update = flag.Bool("update", false, "rewrite the golden files; read the difference before it is committed")

// desk opens a bundled well as it stood on the date of its last entry.
func desk(t *testing.T, name string, ask plan.Ask) *plan.Desk {
	t.Helper()
	wells, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range wells {
		if w.Name != name {
			continue
		}
		b, found := book.Read(w.Name+".yaml", w.Text)
		if bad := book.Mistakes(found); len(bad) > 0 {
			t.Fatal(bad[0])
		}
		d, err := plan.Open(b.Present(b.Entries[len(b.Entries)-1].On), ask)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	t.Fatalf("no bundled well is called %s", name)
	return nil
}

func answer(t *testing.T, d *plan.Desk) plan.Answer {
	t.Helper()
	a, err := d.Answer()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// golden compares a sheet with the one kept, which a person has read.
func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name+".txt")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("%s has changed; read the difference, then -update:\n%s", file, diff)
	}
}

// Every sheet of two wells: one in US units, one in metric.
func TestSheets(t *testing.T) {
	for _, w := range []struct {
		name    string
		s       unit.System
		train   train.Train
		changes []string
	}{
		{"clear-water-iron", unit.US, train.Train{media.AirInjectionFilter, media.Softener}, []string{"iron=9", "pump=5gpm"}},
		{"iron-bacteria", unit.Metric, train.Train{media.GreensandFilter, media.Softener}, []string{"iron=0.5 mg/L"}},
	} {
		d := desk(t, w.name, plan.Ask{Prices: media.Prices()})
		a := answer(t, d)
		golden(t, w.name+".plan", sheet.Plan(a, w.s))
		golden(t, w.name+".options", sheet.Options(a, w.s))
		golden(t, w.name+".forms", sheet.Forms(a, w.s, sheet.Plain))
		golden(t, w.name+".checks", sheet.Checks(a, w.s, sheet.Plain))
		golden(t, w.name+".brief", sheet.Brief(w.name, a, w.s))
		why, err := d.Why(w.train)
		if err != nil {
			t.Fatal(err)
		}
		golden(t, w.name+".why", sheet.Why(why, w.s))
		cs, bad := plan.ParseChanges(w.changes)
		if len(bad) > 0 {
			t.Fatal(bad)
		}
		golden(t, w.name+".whatif", sheet.Whatif(w.changes, a, answer(t, d.With(cs)), w.s))
	}
}

// The working of the first option, every formula with its values and sources.
func TestWorkingSheet(t *testing.T) {
	a := answer(t, desk(t, "clear-water-iron", plan.Ask{Prices: media.Prices(), Working: true}))
	golden(t, "clear-water-iron.working", sheet.Working(a))
	a.Working = nil
	if got := sheet.Working(a); got != "" {
		t.Errorf("no working was recorded, and %q is printed", got)
	}
}

// A factor opened, and one with the user's own value.
func TestFactorSheet(t *testing.T) {
	f, ok := plan.Register().Find("softener_iron_allowance")
	if !ok {
		t.Fatal("no such factor")
	}
	own := f
	own.Value, own.Kind, own.From = 4, source.Own, "what the resin maker asks"
	open := sheet.Factors([]sheet.Shown{{Factor: f, Now: f}, {Factor: f, Now: own}}, true)
	golden(t, "factors.open", open)
	golden(t, "factors.list", sheet.Factors([]sheet.Shown{{Factor: f, Now: f}}, false))
	golden(t, "factors.none", sheet.Factors(nil, false))
}
