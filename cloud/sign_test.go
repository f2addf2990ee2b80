package cloud

import (
	"testing"
	"time"

	"wellwright/book"
	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// The readings of the settled-jar test, each with nothing but a total beside it.
func TestSettledJars(t *testing.T) {
	const table = "settled-jar table, common practice, no source"
	open, sealed := ptr(false), ptr(true)
	for _, tt := range []struct {
		name string
		jars []book.Jar
		want form
	}{
		{"air jar clear, then rust; sealed jar clear", []book.Jar{
			{Test: book.Aeration, Sealed: open, Saw: book.RustSettles, After: 2 * time.Hour}, {Test: book.Settling, Sealed: sealed, Saw: book.StaysClear, After: 24 * time.Hour}}, ferrousIron},
		{"rust at once in both", []book.Jar{{Test: book.Aeration, Sealed: open, Saw: book.RustAtOnce}, {Test: book.Settling, Sealed: sealed, Saw: book.RustAtOnce}}, particulateIron},
		{"yellow at once, unchanged after a day, with much organic carbon", []book.Jar{{Test: book.Settling, Sealed: open, Saw: book.YellowStays, After: 24 * time.Hour}}, organicIron},
		{"a drop of bleach turns it orange", []book.Jar{{Test: book.Bleach, Saw: book.TurnsOrange}}, ferrousIron},
		{"rust, then dark: iron with manganese", []book.Jar{{Test: book.Aeration, Sealed: open, Saw: book.RustThenBlack}}, ferrousIron},
	} {
		rs := []water.Result{iron(water.Total, 3)}
		if tt.want == organicIron {
			rs = append(rs, mg(water.TOC, 6))
		}
		f := weighed(t, Evidence{Jars: tt.jars, Reports: []water.Report{lab(rs...)}}).Forms
		got := map[form]float64{ferrousIron: f.Ferrous.P50, particulateIron: f.Particulate.P50, organicIron: f.Bound.P50}
		if got[tt.want] < 1.5 {
			t.Errorf("%s: %v, want most of 3 mg/L %s (%s)", tt.name, got, tt.want, table)
		}
	}
}

func TestThreadsInAJarTellOfSlime(t *testing.T) {
	with := weighed(t, Evidence{Jars: []book.Jar{{Test: book.Settling, Saw: book.Threads}}}).Forms.BacteriaProbability
	both := weighed(t, Evidence{Signs: seen(water.FeatheryGrowth), Jars: []book.Jar{{Test: book.Settling, Saw: book.Threads}}}).Forms.BacteriaProbability
	if with <= 0.5 || both != with {
		t.Errorf("threads %.3f, threads and feathers %.3f: want above 0.5 and one fact counted once (common practice, no source)", with, both)
	}
}

// Serial filtration: what passes 0.45 µm is the dissolved figure, and a finer
// filter that holds half of it tells of colloids.
func TestSerialFiltration(t *testing.T) {
	step := func(micron, mgl float64) book.Jar {
		return book.Jar{Test: book.Filtration, Filter: ptr(unit.MM(micron / 1000)), Iron: ptr(unit.MgPerL(mgl))}
	}
	e := Evidence{Jars: []book.Jar{step(0.45, 2.4), step(0.1, 0.5)}, Reports: []water.Report{visit(iron(water.Total, 3), iron(water.FerrousIron, 0.4))}}
	c := weighed(t, e)
	f := c.Forms
	if !near(f.Ferrous.P50, 0.4, 0.05) || !near(f.Bound.P50, 2.0, 0.15) || !near(f.Particulate.P50, 0.6, 0.15) {
		t.Errorf("forms %.2f %.2f %.2f, want ferrous 0.4, bound 2.0, particulate 0.6 (three-number rule, common practice)", f.Ferrous.P50, f.Bound.P50, f.Particulate.P50)
	}
}

func TestSignsThatAreLeftOut(t *testing.T) {
	hot := book.Sign{ID: water.SlimeInTank, Seen: true, Hot: ptr(true), Cold: ptr(false)}
	behind := book.Sign{ID: water.SlimeInTank, Seen: true, Tap: "T3"}
	for _, g := range []book.Sign{hot, behind} {
		if got := weighed(t, Evidence{Signs: []book.Sign{g}}).Forms.BacteriaProbability; !near(got, 0.3, 1e-9) {
			t.Errorf("%+v moved the odds to %g; what shows only at the hot tap or behind treatment tells nothing of the well (common practice, no source)", g, got)
		}
	}
}

func TestCultureInALaboratoryReport(t *testing.T) {
	day := water.Result{Analyte: water.IronBacteria, Value: 2, Unit: "days"}
	none := water.Result{Analyte: water.IronBacteria, Sign: water.Absent}
	up := weighed(t, Evidence{Reports: []water.Report{lab(day)}}).Forms.BacteriaProbability
	down := weighed(t, Evidence{Reports: []water.Report{lab(none)}}).Forms.BacteriaProbability
	o := 0.3 / 0.7
	if !near(up, 6*o/(1+6*o), 1e-9) || !near(down, 0.3*o/(1+0.3*o), 1e-9) {
		t.Errorf("day 2 %.3f, none %.3f, want odds times 6 and 0.3 (common practice)", up, down)
	}
}

// A figure that tells the same fact as a sign takes its place.
func TestKitReplacesTheGlass(t *testing.T) {
	for _, x := range weighed(t, wellA()).Forms.Evidence {
		if x.TimesLikelier == 12 {
			t.Errorf("%q counts beside the ferrous kit: one fact twice", x.Say)
		}
	}
}

func TestBelowACountIsNoneFound(t *testing.T) {
	r := lab(water.Result{Analyte: water.TotalColiform, Sign: water.Below, Value: 1, Unit: "per 100 mL"})
	c := weighed(t, Evidence{Reports: []water.Report{r}})
	if got := c.Middle().Water.Coliform.Per100mL(); got != 0 || assumed(c, "total_coliform_per_100ml") || assumed(c, "e_coli_per_100ml") {
		t.Errorf("coliform %g, want none found and neither it nor E. coli assumed (below 1 in 100 mL is none found)", got)
	}
}

func TestSmellStandsForAnUnmeasuredSulfide(t *testing.T) {
	e := Evidence{Signs: seen(water.RottenEggBothConstant)}
	c := weighed(t, e)
	if got := rangeOf(t, c, "sulfide_mg_l_as_h2s"); got.P50 < 0.1 || got.P95 < 1 || !assumed(c, "sulfide_mg_l_as_h2s") {
		t.Errorf("sulfide %v, want a tenth and more, assumed, where it is smelt at the cold tap (common practice, no source)", got)
	}
}

func TestPeakFromFixtures(t *testing.T) {
	e := Evidence{House: well.House{Fixtures: map[string]int{"kitchen faucet": 1, "toilet": 2, "shower head": 2, "swimming pool slide": 1}}}
	c := weighed(t, e)
	want, err := hydraulic.PeakFlow(groups(t, map[string]int{"kitchen faucet": 1, "toilet": 2, "shower head": 2}))
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Middle().Supply.Peak.GPM(); !near(got, want.Busy99.GPM(), 1e-9) || got <= 0 {
		t.Errorf("peak %g gpm, want the %g of the known fixtures (exact enumeration of package hydraulic)", got, want.Busy99.GPM())
	}
	if !checked(c, "fixture_unknown") {
		t.Error("a fixture that is not in the table is left out without a word")
	}
}

func groups(t *testing.T, counts map[string]int) (out []hydraulic.Group) {
	t.Helper()
	for name, n := range counts {
		f, ok := hydraulic.FixtureNamed(source.Set{}, name)
		if !ok {
			t.Fatalf("no fixture %q", name)
		}
		out = append(out, hydraulic.Group{Fixture: f, Count: n})
	}
	return out
}

func checked(c Cloud, id string) bool {
	for _, f := range c.Checks {
		if f.ID == id {
			return true
		}
	}
	return false
}

// A pump whose flow rises with pressure was misread: the points are set aside,
// said, and an ordinary pump stands in.
func TestImpossiblePumpReadings(t *testing.T) {
	c := weighed(t, Evidence{Supply: well.Supply{Pump: well.Pump{Measured: []well.PumpFlow{measured(8, 40), measured(12, 60)}}}})
	if !checked(c, "pump_measured") || !assumed(c, "pump_gpm") {
		t.Error("flow that rises with pressure is neither said nor replaced by an assumption")
	}
	if len(c.Middle().Supply.MeasuredAtTank) != 0 {
		t.Error("figures set aside are still handed on as measured")
	}
}

func TestBicarbonateStandsForAlkalinity(t *testing.T) {
	r := lab(mg(water.Bicarbonate, 244), asN(water.NitrateNitrite, 1.5))
	c := weighed(t, Evidence{Reports: []water.Report{r}})
	if got := rangeOf(t, c, "alkalinity_mg_l_as_caco3"); !near(got.P50, 200, 4) || got.Assumed {
		t.Errorf("alkalinity %v, want 200: 244 mg/L bicarbonate is 4.0 meq/L (arithmetic)", got)
	}
	if got := rangeOf(t, c, "nitrate_mg_l_as_n"); !near(got.P50, 1.5, 0.06) || got.Assumed {
		t.Errorf("nitrate %v, want the 1.5 of nitrate and nitrite together", got)
	}
}
