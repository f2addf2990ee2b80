package cloud

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/unit"
)

// The same wells as written by a specialist in a book, so that the words of a
// book reach the scales.
func TestFormsFromTheBooks(t *testing.T) {
	for _, tt := range []struct {
		file                         string
		total, ferrous, part         float64
		bacteriaAbove, bacteriaBelow float64
		conflict                     string // "": none of iron
	}{
		{"scenario-a", 2.0, 1.9, 0.1, 0, 0.2, ""},
		{"scenario-a1", 2.0, 1.9, 0.1, 0, 0.2, "ferrous-above-total"},
		{"scenario-a2", 2.0, 0.8, 1.2, 0, 0.2, ""},
		{"scenario-a3", 2.0, 1.9, 0.1, 0, 0.2, ""},
		{"scenario-c", 9.6, 9.0, 0.6, 0, 0.3, ""},
		{"scenario-c1", 9.6, 9.0, 0.6, 0, 0.3, "ferrous-above-total"},
		{"scenario-c2", 9.6, 9.0, 0.6, 0, 0.3, ""},
		{"scenario-e", 3.5, 2.15, 1.3, 0.9, 1, ""},
		{"scenario-f", 4.2, 4.1, 0.1, 0, 0.4, ""},
		{"scenario-f1", 4.2, 4.1, 0.1, 0, 0.4, ""},
		{"scenario-f2", 4.2, 4.1, 0.1, 0, 0.4, ""},
		{"scenario-i", 5.5, 5.3, 0.2, 0, 0.4, ""},
	} {
		f := weighedBook(t, tt.file).Forms
		if !within5(f.Total.P50, tt.total) || !within5(f.Ferrous.P50, tt.ferrous) || !near(f.Particulate.P50, tt.part, 0.25) {
			t.Errorf("%s: total %.2f ferrous %.2f particulate %.2f, want %g %g %g (%s)", tt.file, f.Total.P50, f.Ferrous.P50, f.Particulate.P50,
				tt.total, tt.ferrous, tt.part, handWorked)
		}
		if b := f.BacteriaProbability; b < tt.bacteriaAbove || b > tt.bacteriaBelow {
			t.Errorf("%s: bacteria %.3f, want %g to %g (%s)", tt.file, b, tt.bacteriaAbove, tt.bacteriaBelow, handWorked)
		}
		c := weighedBook(t, tt.file)
		for _, id := range []string{"ferrous-above-total", "dissolved-above-total", "dissolved-not-ferrous", "dissolved-below-ferrous"} {
			if got := conflict(c, id) != nil; got != (id == tt.conflict) {
				t.Errorf("%s: conflict %s is %v (%s)", tt.file, id, got, handWorked)
			}
		}
	}
}

func weighedBook(t *testing.T, name string) Cloud {
	t.Helper()
	path := filepath.Join("..", "book", "testdata", name+".yaml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	b, found := book.Read(path, text)
	if wrong := book.Mistakes(found); len(wrong) > 0 {
		t.Fatalf("%v", wrong)
	}
	return weighed(t, From(b.Present(time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC))))
}

// Smelt at the hot tap only, the sulfide is the heater's: the raw water has none.
func TestHotOnlySmellLeavesRawWaterAlone(t *testing.T) {
	if got := weighedBook(t, "scenario-f1").Middle().Water.Sulfide.MgPerLAsH2S(); got > 0.02 {
		t.Errorf("sulfide %g mg/L as H2S, want none (%s)", got, handWorked)
	}
	if got := weighedBook(t, "scenario-f2").Middle().Water.Ammonia.MgPerLAsN(); got > 0.06 {
		t.Errorf("ammonia %g mg/L as N, want no more than a kit leaves open (%s)", got, handWorked)
	}
}

// A well throttled by a flow control gives what the control lets through.
func TestLowYieldFromTheBook(t *testing.T) {
	s := weighedBook(t, "scenario-i").Middle().Supply
	if got := s.Hydraulic.CasingStorage.Gal(); !near(got, 33, 0.5) {
		t.Errorf("casing storage %g gal, want 33 (%s)", got, handWorked)
	}
	for _, psi := range []float64{30, 45, 60} {
		if got := s.Hydraulic.Pump.FlowAt(unit.PSI(psi)).GPM(); !near(got, 3, 1e-9) {
			t.Errorf("pump %g gpm at %g psi, want 3 (%s)", got, psi, handWorked)
		}
	}
}
