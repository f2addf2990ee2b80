package plan_test

import (
	"math"
	"slices"
	"testing"

	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/train"
	"wellwright/unit"
)

// courseOf lays out a train in a bundled well.
func courseOf(t testing.TB, d *plan.Desk, ps ...media.Process) plan.Course {
	t.Helper()
	c, err := d.Course(ps)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func tapNamed(t testing.TB, c plan.Course, name string) plan.CourseTap {
	t.Helper()
	i := slices.IndexFunc(c.Taps, func(x plan.CourseTap) bool { return x.Tap == name })
	if i < 0 {
		t.Fatalf("no tap %s", name)
	}
	return c.Taps[i]
}

func middleAt(t testing.TB, c plan.Course, tap, leaf string) float64 {
	t.Helper()
	f, ok := tapNamed(t, c, tap).Figure(leaf)
	if !ok {
		t.Fatalf("no %s at %s", leaf, tap)
	}
	return f.Forecast.P50
}

// A second way to the same figures: what the whole answer, which searches, ranks
// and compares, says of its first option is what the course of that train says.
func TestCourseAgreesWithTheAnswer(t *testing.T) {
	d := bundled(t, "high-iron-manganese", nil)
	a, err := d.Answer()
	if err != nil {
		t.Fatal(err)
	}
	o := a.Options[0]
	var tr train.Train
	for _, p := range o.Train {
		tr = append(tr, media.Process(p))
	}
	c := courseOf(t, d, tr...)
	if *c.MeetsProbability != *o.MeetsProbability || c.First.Limit != o.FirstLimit.Limit || c.First.Have != o.FirstLimit.Have {
		t.Errorf("meets %g and %s, the answer %g and %s", *c.MeetsProbability, c.First.Limit, *o.MeetsProbability, o.FirstLimit.Limit)
	}
	for _, l := range c.Pressure {
		if l.Kind == plan.DirtyBed && (math.Abs(*l.Top-o.Pressure.Left) > 1e-9 || l.Tank != o.Pressure.CutIn) {
			t.Errorf("from %g psi to %g at the top fixture, the answer has %g to %g", l.Tank, *l.Top, o.Pressure.CutIn, o.Pressure.Left)
		}
	}
	for k, s := range o.Stages {
		v := c.Vessels[k]
		if v.Tap != s.Tap || v.Process != s.Process || !v.Shaped && v.Diameter != s.Size["vessel_diameter_in"] {
			t.Errorf("stage %d is %+v, the answer has %s at %s", k, v, s.Process, s.Tap)
		}
		if s.Tap == "" {
			continue
		}
		for leaf, want := range s.WaterOut {
			if f, ok := tapNamed(t, c, s.Tap).Figure(leaf); !ok || f.Forecast != want {
				t.Errorf("%s at %s is %v, the answer has %v", leaf, s.Tap, f.Forecast, want)
			}
		}
	}
}

// Taps are named as the design has it: a feed has none; one that leads the train
// doses ahead of the pressure tank, so that raw water is T0 only; K and H stand
// for the house.
func TestTapsOfACourse(t *testing.T) {
	d := bundled(t, "high-iron-manganese", nil)
	c := courseOf(t, d, media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.Softener)
	var names []string
	for _, x := range c.Taps {
		names = append(names, x.Tap)
	}
	if want := []string{"T0", "T1", "T2", "T3", "T4", "K", "H"}; !slices.Equal(names, want) {
		t.Errorf("taps are %v, want %v", names, want)
	}
	if !c.Vessels[0].AheadOfTank || c.Vessels[0].Tap != "" || c.Vessels[1].Tap != "T2" {
		t.Errorf("feed %+v, tank %+v", c.Vessels[0], c.Vessels[1])
	}
	if middleAt(t, c, "T0", "free_chlorine_mg_l") != 0 || middleAt(t, c, "T1", "free_chlorine_mg_l") <= 0 {
		t.Error("raw water is T0 only: the feed doses ahead of T1")
	}
	// an open tank is filled by the pump: a feed into it stands at its fill valve
	c = courseOf(t, d, media.ChlorineFeed, media.StorageBooster, media.CoatedSandFilter)
	if c.Vessels[0].AheadOfTank || middleAt(t, c, "T1", "free_chlorine_mg_l") != 0 {
		t.Error("a feed into an open tank stands behind T1")
	}
}

// Raw readings hang where the raw water is; what was read behind the tank only on
// the train that stands there.
func TestReadingsHangAtTheirTaps(t *testing.T) {
	d := bundled(t, "high-iron-manganese", nil)
	read := func(c plan.Course, tap string) int {
		f, _ := tapNamed(t, c, tap).Figure("iron_total_mg_l")
		return len(f.Readings)
	}
	fed := courseOf(t, d, media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter)
	plain := courseOf(t, d, media.AirInjectionFilter)
	if read(fed, "T0") != 2 || read(fed, "T1") != 0 {
		t.Errorf("behind a feed T0 has %d and T1 %d readings of the raw water, want 2 and 0", read(fed, "T0"), read(fed, "T1"))
	}
	if read(plain, "T1") != 2 {
		t.Errorf("T1 has %d readings, want the book's 2", read(plain, "T1"))
	}
}

// Mass balances along the pipe: oxidation makes floc of ferrous iron and loses
// none; a bed holds iron and gives none back; the way within a stage begins with
// what goes in and ends with what comes out.
func TestBandKeepsItsIron(t *testing.T) {
	d := bundled(t, "clear-water-iron", nil)
	c := courseOf(t, d, media.PressureAeration, media.CoatedSandFilter, media.Softener)
	last := c.Band[0].Points[1]
	for _, s := range c.Band[1:] {
		first := s.Points[0]
		if math.Abs(first.Total()-last.Total()) > 1e-9 {
			t.Errorf("stage %d begins with %g mg/L, what is ahead ends with %g", s.Stage, first.Total(), last.Total())
		}
		for i := 1; i < len(s.Points); i++ {
			was, is := s.Points[i-1], s.Points[i]
			if is.Share <= was.Share || is.Total() > was.Total()+1e-6 || is.Ferrous > was.Ferrous+1e-6 {
				t.Errorf("stage %d gains iron from %+v to %+v", s.Stage, was, is)
			}
			if c.Vessels[s.Stage].Form == plan.TankForm && math.Abs(is.Total()-was.Total()) > 1e-6*was.Total() {
				t.Errorf("a tank loses iron from %+v to %+v", was, is)
			}
		}
		last = s.Points[len(s.Points)-1]
	}
	if last.Total() >= c.Band[0].Points[0].Total()/2 {
		t.Error("the train takes no iron")
	}
}

// Pressure by definition: at rest it is that of the switch all along the floor and
// at the top fixture less by the height, 0.433 psi a foot; flow only takes away;
// while a bed washes the pump gives the flow at no less than the pressure drawn.
func TestPressureLines(t *testing.T) {
	d := bundled(t, "weak-well", nil)
	c := courseOf(t, d, media.PressureAeration, media.CoatedSandFilter, media.Softener)
	rise := 15.0 // ft, where the book has none: the factor top_fixture_rise
	if r := d.Present.Supply.Pipe.TopRise; r != nil {
		rise = r.Ft()
	}
	pump := d.Cloud.Middle().Supply.Hydraulic.Pump
	washes := 0
	for _, l := range c.Pressure {
		at := l.Tank
		for _, x := range l.Drops {
			if x.In != at || x.Out > x.In {
				t.Errorf("%s: %+v behind %g psi", l.Kind, x, at)
			}
			at = x.Out
		}
		switch l.Kind {
		case plan.AtRest, plan.AtCutIn:
			want := map[plan.LineKind]float64{plan.AtRest: c.Tank.CutOut, plan.AtCutIn: c.Tank.CutIn}[l.Kind]
			if at != want || math.Abs(*l.Top-(want-0.433*rise)) > 1e-9 {
				t.Errorf("%s: %g along the floor, %g at the top fixture, %g ft up; the switch is at %g", l.Kind, at, *l.Top, rise, want)
			}
		case plan.Washing:
			washes++
			if l.Tank > c.Tank.CutIn || pump.FlowAt(unit.PSI(l.Tank)).GPM() < l.Flow-1e-6 {
				t.Errorf("a wash of %g gpm at %g psi, where the pump gives %s", l.Flow, l.Tank, pump.FlowAt(unit.PSI(l.Tank)))
			}
		}
	}
	if washes != 2 {
		t.Errorf("%d beds wash, want 2", washes)
	}
}

// In an open tank the pressure is lost whole, and the booster's stands behind it: a
// 40/60 switch, as its stage has it.
func TestPressureBehindAnOpenTank(t *testing.T) {
	c := courseOf(t, bundled(t, "weak-well", nil), media.StorageBooster, media.CoatedSandFilter)
	for _, l := range c.Pressure {
		want := map[plan.LineKind]float64{plan.AtRest: 60, plan.AtCutIn: 40, plan.AtPeak: 40, plan.DirtyBed: 40}[l.Kind]
		if l.Kind != plan.Washing && l.Drops[0].Out != want {
			t.Errorf("%s: %g psi behind the tank, want %g", l.Kind, l.Drops[0].Out, want)
		}
		if l.Kind == plan.Washing && l.From != 0 {
			t.Errorf("the wash begins behind stage %d, want the booster's", l.From)
		}
	}
}

// The well as it is: no stage, raw water at every tap, and the limit that it fails.
func TestCourseWithoutTrain(t *testing.T) {
	c := courseOf(t, bundled(t, "clear-water-iron", nil))
	if len(c.Vessels) != 0 || !c.Fails || c.First.Limit != "iron_at_kitchen" {
		t.Errorf("%d stages, fails %v by %s", len(c.Vessels), c.Fails, c.First.Limit)
	}
	if a, b := middleAt(t, c, "T0", "iron_total_mg_l"), middleAt(t, c, "K", "iron_total_mg_l"); a != b {
		t.Errorf("the kitchen has %g mg/L, the well %g", b, a)
	}
	if c.Tank.Drawdown <= 0 || c.Bore.Storage <= 0 {
		t.Errorf("tank %+v, bore %+v", c.Tank, c.Bore)
	}
	ft := *c.Bore.Intake - *c.Bore.Static
	if want := hydraulic.CasingVolumePerFoot(unit.Inches(*c.Bore.Casing)).Gal() * ft; math.Abs(c.Bore.Storage-want) > 1e-6 {
		t.Errorf("%g gal stand over the pump, want %g", c.Bore.Storage, want)
	}
}

// A unit at the kitchen tap treats what is drunk and leaves the house as it is.
func TestCourseWithKitchenTap(t *testing.T) {
	c := courseOf(t, bundled(t, "arsenic-with-iron", nil), media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.Softener)
	if c.Kitchen == nil {
		t.Fatal("arsenic above the limit, and no tap beside the train")
	}
	k, h := middleAt(t, c, "K", "arsenic_mg_l"), middleAt(t, c, "H", "arsenic_mg_l")
	if k >= h || h != middleAt(t, c, "T4", "arsenic_mg_l") {
		t.Errorf("arsenic %g at the kitchen, %g in the house", k, h)
	}
}

func BenchmarkCourse(b *testing.B) {
	d := bundled(b, "high-iron-manganese", nil)
	for b.Loop() {
		if _, err := d.Course(train.Train{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.Softener}); err != nil {
			b.Fatal(err)
		}
	}
}

// What nobody measured is marked as the answer marks it: the list of ranges of the
// raw water is the other place where it stands.
func TestAssumedFiguresAreMarked(t *testing.T) {
	p := bundled(t, "dug-well-after-rain", nil).Present
	p.Reports = p.Reports[:1] // what was read on site alone
	d, err := plan.Open(p, plan.Ask{Prices: media.Prices()})
	if err != nil {
		t.Fatal(err)
	}
	c := courseOf(t, d)
	marked := 0
	for _, r := range d.Cloud.Ranges {
		name := r.Name
		if name == "hardness_mg_l_as_caco3" {
			name = "hardness_gpg"
		}
		f, ok := tapNamed(t, c, "T0").Figure(name)
		if !ok {
			continue
		}
		if f.Assumed != r.Assumed {
			t.Errorf("%s is assumed: %v, the list says %v", name, f.Assumed, r.Assumed)
		}
		if f.Assumed {
			marked++
		}
	}
	if marked == 0 {
		t.Error("nothing is assumed of a well of which little was measured")
	}
}
