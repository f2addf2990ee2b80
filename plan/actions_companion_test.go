package plan

import (
	"math"
	"strings"
	"testing"

	"wellwright/book"
	"wellwright/cloud"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// The top of the series of jars is what the alkalinity bears: 40 mg/L as CaCO3 at pH 7
// may fall to 5.5.
func TestTopOfTheAlumSeries(t *testing.T) {
	d := watered(wellOpened(t, "a"), func(w *water.State) {
		w.PH, w.Alkalinity, w.Temperature = unit.PHOf(7), unit.AlkalinityAsCaCO3(40), unit.Celsius(10)
	})
	w := d.likeliest().Water
	// CO2 = 0.88 A 10^(6.46 - pH): 10.2 mg/L at pH 7; at 5.5 it is 8.03 A, and each mg/L of
	// alkalinity eaten sets 0.88 free: 8.03 A = 10.2 + 0.88 (40 - A), A = 5.1; 34.9 / 0.505 = 69.
	if got := d.topAlum(w); math.Abs(got-69) > 4 {
		t.Errorf("%.1f mg/L of alum, want 69 (the trade's formula for carbon dioxide, by hand)", got)
	}
	for _, tt := range []struct{ alkalinity, ph float64 }{{60, 5.5}, {60.1, 6.3}, {120, 6.3}, {120.1, 7}, {240, 7}, {240.1, 7.5}} {
		if got := enoughPH(unit.AlkalinityAsCaCO3(tt.alkalinity)); got != tt.ph {
			t.Errorf("alkalinity %g: down to pH %g, want %g (40 CFR 141.135, from memory)", tt.alkalinity, got, tt.ph)
		}
	}
}

// Jars are asked for where organic matter holds iron and none was dosed.
func TestCoagulantJarIsAskedFor(t *testing.T) {
	for _, tt := range []struct {
		bound float64
		jars  *cloud.JarDoses
		asked bool
	}{{0.3, nil, false}, {0.31, nil, true}, {2, nil, true}, {2, &cloud.JarDoses{Alum: &cloud.Dosed{}}, false}} {
		d := watered(wellOpened(t, "a"), func(w *water.State) { w.Bound, w.OrganicCarbon = unit.MgPerL(tt.bound), unit.MgPerL(5) })
		for i := range d.Work.Draws {
			d.Work.Draws[i].Supply.Jars = tt.jars
		}
		a, asked := d.coagulantJar()
		if asked != tt.asked {
			t.Errorf("%g mg/L bound, jars %v: asked %t, want %t (0.3 mg/L is the secondary level)", tt.bound, tt.jars, asked, tt.asked)
		}
		if asked && strings.Contains(a.Say, "dose of") && !strings.Contains(a.Say, "none in print") {
			t.Error("a dose is promised without a jar")
		}
	}
}

// A shallow well that surface water gets into is rebuilt or given up, and cysts are
// spoken of; a drilled one with coliform is not, and a dug one without signs is left.
func TestShallowWells(t *testing.T) {
	for _, tt := range []struct {
		kind  well.Kind
		germs float64
		want  bool
	}{{well.Dug, 5, true}, {well.Spring, 5, true}, {well.Bored, 5, true}, {well.Dug, 0, false}, {well.Drilled, 5, false}, {well.Driven, 5, false}} {
		d := watered(wellOpened(t, "a"), func(w *water.State) { w.Coliform = unit.Per100mL(tt.germs) })
		d.Present.Supply.Well.Kind, d.Present.Signs = tt.kind, nil
		a, got := d.rebuild()
		if got != tt.want {
			t.Errorf("%s well with %g coliform: rebuilt %t, want %t (common practice)", tt.kind, tt.germs, got, tt.want)
		}
		if got && (!strings.Contains(a.Say, "licensed") || !strings.Contains(a.Say, "Cryptosporidium") || !strings.Contains(a.Say, "1 µm absolute")) {
			t.Errorf("%s: %s", tt.kind, a.Say)
		}
	}
}

// What the heater asks depends on its rod, and never goes without scald and pressure.
func TestHeaterRemedies(t *testing.T) {
	for rod, want := range map[string]string{"magnesium": "aluminium and zinc", "": "aluminium and zinc", "powered": "leave it"} {
		d := *wellOpened(t, "a")
		d.Present.Signs, d.Present.House.Anode = []book.Sign{{ID: water.RottenEggHotOnly, Seen: true}}, rod
		a, ok := d.heater()
		if !ok {
			t.Fatal("no action for a smell at the hot tap")
		}
		for _, say := range []string{want, "scalds", "relief valve", "flush", "licensed plumber"} {
			if !strings.Contains(a.Say, say) {
				t.Errorf("rod %q: %q is not said (common practice; heater to 160 °F: Texas Agricultural Extension, second hand)", rod, say)
			}
		}
	}
}

// The biological filter is a note for steady users with ammonia, never a household's.
func TestBiologicalFilterIsForSteadyUsers(t *testing.T) {
	for _, tt := range []struct {
		gal, ammonia float64
		want         bool
	}{{300, 2, false}, {1000, 0.5, true}, {999, 0.5, false}, {1000, 0.49, false}} {
		d := watered(wellOpened(t, "a"), func(w *water.State) { w.Ammonia = unit.MgPerLAsN(tt.ammonia) })
		for i := range d.Work.Draws {
			d.Work.Draws[i].Supply.Daily = unit.GalPerDay(tt.gal)
		}
		if _, got := d.biological(); got != tt.want {
			t.Errorf("%g gal/day and %g mg/L: %t, want %t", tt.gal, tt.ammonia, got, tt.want)
		}
	}
}
