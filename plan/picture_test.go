package plan

import (
	"math"
	"sort"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"wellwright/book"
	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/demo"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/unit"
	"wellwright/water"
)

// pictureDesk is the desk of a bundled well.
func pictureDesk(t testing.TB, name string) *Desk {
	t.Helper()
	all, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range all {
		if w.Name != name {
			continue
		}
		b, found := book.Read(w.Name+".yaml", w.Text)
		if bad := book.Mistakes(found); len(bad) > 0 {
			t.Fatal(bad)
		}
		d, err := Open(b.Present(b.Entries[len(b.Entries)-1].On), Ask{Prices: media.Prices()})
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	t.Fatalf("no bundled well %s", name)
	return nil
}

// firsts are the first options already found, by well.
var firsts sync.Map

// first is the first option of a bundled well.
func first(t testing.TB, name string) Subject {
	t.Helper()
	if s, found := firsts.Load(name); found {
		return s.(Subject)
	}
	ss := pictureDesk(t, name).Subjects()
	if len(ss) == 0 {
		t.Fatalf("%s has no option", name)
	}
	firsts.Store(name, ss[0])
	return ss[0]
}

// Half-lives of a trace of ferrous iron in water full of air, held at its pH by
// much bicarbonate or by the trace being one. Sources: the fast law, Singer & Stumm
// 1970 as in USGS WRIR 99-4259, eq. 159: 41.3, 4.13 and 0.413 min at pH 6.5, 7.0
// and 7.5, 25 °C and 0.21 atm; the slow law, Millero and others 1987: 251 min at pH
// 7.0 and 100 min at pH 7.2, 12 °C, ionic strength 0.01 (both worked apart in the
// reference tables). Tolerance: 5 %, of which 3 % is the vapour in the air.
func TestCourseHasTheHalfLifeOfTheLaw(t *testing.T) {
	model := chem.New(source.Set{})
	for _, tt := range []struct {
		law           chem.Law
		celsius, ph   float64
		want, percent float64
	}{
		{chem.FastLaw, 25, 6.5, 41.3, 5}, {chem.FastLaw, 25, 7, 4.13, 5}, {chem.FastLaw, 25, 7.5, 0.413, 5},
		{chem.SlowLaw, 12, 7, 251, 5}, {chem.SlowLaw, 12, 7.2, 100, 5},
	} {
		raw := water.State{
			Temperature: unit.Celsius(tt.celsius), PH: unit.PHOf(tt.ph), Ferrous: unit.MgPerL(0.001), Alkalinity: unit.AlkalinityAsCaCO3(50),
			Sodium: unit.MgPerL(230), Chloride: unit.MgPerL(319), // with the alkalinity an ionic strength of 0.01
		}
		j := stage.Job{Site: &stage.Site{Model: model}, Draw: &cloud.Draw{Law: tt.law}, In: stage.AirSaturated(raw)}
		times := courseTimes()
		left, err := standing(&j, times)
		if err != nil {
			t.Fatal(err)
		}
		if got := downTo(times, left, 0.0005); math.Abs(got-tt.want) > tt.percent/100*tt.want {
			t.Errorf("half-life at pH %g, %g °C: %.3g min, want %g ± %g %%", tt.ph, tt.celsius, got, tt.want, tt.percent)
		}
	}
}

// In every course the iron falls with time, and more iron at the start leaves more
// at every time.
func TestCourseFallsAndKeepsItsOrder(t *testing.T) {
	for _, name := range []string{"sulfide-iron-manganese", "weak-well"} {
		x, err := first(t, name).IronTime()
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range x.Courses {
			for i, p := range c.Points {
				if f := p.Ferrous; f.P05 < 0 || f.P05 > f.P50 || f.P50 > f.P95 {
					t.Errorf("%s with %s at %g min: %v out of order", name, c.With, p.Minutes, f)
				}
				if i > 0 && (p.Ferrous.P50 > c.Points[i-1].Ferrous.P50+1e-9 || p.Ferrous.P95 > c.Points[i-1].Ferrous.P95+1e-9) {
					t.Errorf("%s with %s: iron rises at %g min", name, c.With, p.Minutes)
				}
			}
			if raw := x.Ferrous.P50; c.With == "air" && math.Abs(c.Points[0].Ferrous.P50-raw) > 0.01*raw {
				t.Errorf("%s begins with %g mg/L, want the %g of the raw water", name, c.Points[0].Ferrous.P50, raw)
			}
		}
	}
}

// Doubling the iron of every water leaves at least as much at every time: floc
// speeds it up, but by less than twice over the first half.
func TestMoreIronMoreBand(t *testing.T) {
	d := pictureDesk(t, "clear-water-iron")
	one, err := d.Subject(nil)
	if err != nil {
		t.Fatal(err)
	}
	changes, bad := ParseChanges([]string{"iron=8"})
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	two, err := d.With(changes).Subject(nil)
	if err != nil {
		t.Fatal(err)
	}
	a, err := one.IronTime()
	if err != nil {
		t.Fatal(err)
	}
	b, err := two.IronTime()
	if err != nil {
		t.Fatal(err)
	}
	if b.Ferrous.P95 <= a.Ferrous.P95 || b.Ferrous.P95-b.Ferrous.P05 <= a.Ferrous.P95-a.Ferrous.P05 {
		t.Errorf("raw iron %v and %v: more iron, but no wider band", a.Ferrous, b.Ferrous)
	}
	for i, p := range a.Courses[0].Points {
		if more := b.Courses[0].Points[i].Ferrous; p.Minutes <= 1 && more.P50 <= p.Ferrous.P50 {
			t.Errorf("at %g min %g mg/L are left of more iron, %g of less", p.Minutes, more.P50, p.Ferrous.P50)
		}
	}
}

// Every limit that Why lists has a lane, or is the caution of one; a lane is over
// the wall just where its limit fails; one lane at most is flagged.
func TestLanesHoldEveryLimit(t *testing.T) {
	for _, name := range []string{"weak-well", "clear-water-iron", "sulfide-iron-manganese"} {
		s := first(t, name)
		l := s.Lanes()
		n, flagged := 0, 0
		for _, x := range l.Lanes {
			n++
			if x.Caution != nil {
				n++
				if (x.Used.P50 > x.Caution.At*(1+1e-9)) != x.Caution.Fails {
					t.Errorf("%s: %s %s: used %g, caution at %g, but fails %v", name, x.Stage, x.Limit.Limit, x.Used.P50, x.Caution.At, x.Caution.Fails)
				}
			}
			if (x.Used.P50 > 1+1e-9) != x.Fails {
				t.Errorf("%s: %s %s: used %g, fails %v", name, x.Stage, x.Limit.Limit, x.Used.P50, x.Fails)
			}
			if x.Used.P05 > x.Used.P50 || x.Used.P50 > x.Used.P95 || x.Breaks < 0 || x.Breaks > 1 {
				t.Errorf("%s: %s %s: range %v, broken in %g", name, x.Stage, x.Limit.Limit, x.Used, x.Breaks)
			}
			if x.First {
				flagged++
			}
		}
		if want := len(s.of.LimitsIn(s.of.Lead)); n != want || flagged > 1 {
			t.Errorf("%s: %d limits have lanes, want %d; %d flagged", name, n, want, flagged)
		}
	}
}

// The likeliest pump goes through what was measured, gives never more at a higher
// pressure, and less with the level drawn down.
func TestPumpViewGoesThroughTheMeasurement(t *testing.T) {
	for _, name := range []string{"weak-well", "guest-house", "dug-well-after-rain"} {
		s := first(t, name)
		v := s.PumpView()
		for _, p := range v.Points {
			if got := s.desk.gauged(unit.PSI(p.PSI), 0).GPM.P50; math.Abs(got-p.GPM.P50) > 1e-6 {
				t.Errorf("%s: %g gpm at %g psi, measured %g", name, got, p.PSI, p.GPM.P50)
			}
		}
		for i := 1; i < len(v.Curve); i++ {
			a, b := v.Curve[i-1], v.Curve[i]
			if b.PSI <= a.PSI || b.GPM.P50 > a.GPM.P50 || b.GPM.P95 > a.GPM.P95 || b.GPM.P05 > b.GPM.P50 {
				t.Errorf("%s: the curve rises from %v to %v", name, a, b)
			}
		}
		if len(v.Lowered) > 0 && v.Lowered[0].GPM.P50 >= v.Curve[0].GPM.P50 {
			t.Errorf("%s: %g gpm with the level down, %g with it up", name, v.Lowered[0].GPM.P50, v.Curve[0].GPM.P50)
		}
	}
}

// The wash that is drawn agrees with the limit that the stage was judged by: it
// falls short where less is to be had than is needed. What is left in the casing
// is what stood there less the flow beyond the yield (water balance).
func TestWashViewAgreesWithTheStage(t *testing.T) {
	for _, name := range []string{"weak-well", "guest-house", "sulfide-iron-manganese"} {
		v, ok := first(t, name).WashView()
		if !ok {
			t.Fatalf("%s has no wash", name)
		}
		if short := v.Have.P50 < v.Need; short != (v.Short != "") {
			t.Errorf("%s: has %g of %g gpm, short %q", name, v.Have.P50, v.Need, v.Short)
		}
		last := v.Steps[len(v.Steps)-1]
		if math.Abs(last.Minutes-v.Minutes) > 1e-6 {
			t.Errorf("%s: followed for %g of %g min", name, last.Minutes, v.Minutes)
		}
		want := math.Max(0, v.Steps[0].Left.P50-math.Max(0, v.Need-v.Yield.P50)*v.Minutes)
		if v.Short == "" && v.Stored && math.Abs(last.Left.P50-want) > 0.01*(1+want) {
			t.Errorf("%s: %g gal left, want %g (water balance)", name, last.Left.P50, want)
		}
	}
}

// A train that is no option is drawn too, and one with no size that serves is said.
func TestSubjectOfAnyTrain(t *testing.T) {
	d := pictureDesk(t, "weak-well")
	s, err := d.Subject(train.Train{media.SedimentFilter})
	if err != nil || s.rank != 0 || len(s.Lanes().Lanes) == 0 {
		t.Errorf("a sediment filter alone: %v, rank %d", err, s.rank)
	}
	wrong, err := d.Subject(train.Train{media.Softener, media.PressureAeration, media.CoatedSandFilter}) // iron reaches the resin first
	if err != nil {
		t.Fatal(err)
	}
	if ls := wrong.Lanes().Lanes; wrong.of.Rule == nil || !ls[len(ls)-1].First || !ls[len(ls)-1].Fails || ls[len(ls)-1].Breaks != 1 {
		t.Errorf("a train out of order is not flagged for it: %+v", ls[len(ls)-1])
	}
	if _, err := d.Subject(train.Train{media.ShockDisinfection}); err == nil {
		t.Error("shock disinfection is drawn as a train")
	}
}

// The range of figures of equal weight is that of their ranks (definition).
func TestAboutIsARangeOfRanks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vs := rapid.SliceOfN(rapid.Float64Range(-100, 100), 1, 60).Draw(t, "values")
		over := make([]weighed, len(vs))
		for i, v := range vs {
			over[i] = weighed{v, 1}
		}
		sorted := append([]float64{}, vs...)
		sort.Float64s(sorted)
		mid := sorted[len(sorted)/2]
		r := about(mid, over)
		n := float64(len(vs))
		low, high := sorted[int(0.05*n)], sorted[int(math.Ceil(0.95*n))-1]
		if r.P50 != mid || r.P05 != math.Min(low, mid) || r.P95 != math.Max(high, mid) {
			t.Fatalf("%v about %g, want %g and %g", r, mid, low, high)
		}
	})
}

// BenchmarkIronTime works the courses of one train out.
func BenchmarkIronTime(b *testing.B) {
	s := first(b, "sulfide-iron-manganese")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := s.IronTime(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPictures works out lanes, pump and wash of one train.
func BenchmarkPictures(b *testing.B) {
	s := first(b, "sulfide-iron-manganese")
	b.ReportAllocs()
	for b.Loop() {
		s.Lanes()
		s.PumpView()
		s.WashView()
	}
}
