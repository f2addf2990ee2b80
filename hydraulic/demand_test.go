package hydraulic

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/source"
	"wellwright/unit"
)

func groups(t *testing.T, counts map[string]int) []Group {
	t.Helper()
	var out []Group
	for _, f := range Fixtures(source.Set{}) {
		if n := counts[f.Name]; n > 0 {
			out = append(out, Group{f, n})
		}
	}
	return out
}

func TestPeakFlowOfTwoHomes(t *testing.T) {
	const by = "exact convolution worked outside the program; fixture chances of Buchberger and others, 2017 (from memory)"
	a, err := PeakFlow(groups(t, map[string]int{"toilet": 3, "lavatory faucet": 3, "shower head": 1, "bath and shower": 1,
		"kitchen faucet": 1, "dishwasher": 1, "clothes washer": 1}))
	if err != nil {
		t.Fatal(err)
	}
	b, err := PeakFlow(groups(t, map[string]int{"toilet": 1, "lavatory faucet": 1, "bath and shower": 1, "kitchen faucet": 1, "clothes washer": 1}))
	if err != nil {
		t.Fatal(err)
	}
	check(t, []row{
		{"A: H", a.Hunter, 0.270, 1e-9, by}, {"A: P0", a.Idle, 0.7595, 0.00005, by}, {"A: mean", a.Mean.GPM(), 0.8155, 0.00005, by},
		{"A: variance", a.Variance, 2.8837, 0.00005, by}, {"A: busy 99 %", a.Busy99.GPM(), 9.0, 0.01, by},
		{"A: all 99 %", a.All99.GPM(), 7.0, 0.01, by}, {"A: modified Wistort", a.ModifiedWistort().GPM(), 7.59, 0.01, by},
		{"A: Wistort", a.Wistort().GPM(), 4.77, 0.01, by},
		{"B: H", b.Hunter, 0.160, 1e-9, by}, {"B: P0", b.Idle, 0.8491, 0.00005, by}, {"B: mean", b.Mean.GPM(), 0.599, 0.0005, by},
		{"B: busy 99 %", b.Busy99.GPM(), 9.0, 0.01, by}, {"B: all 99 %", b.All99.GPM(), 5.5, 0.01, by},
		{"B: modified Wistort", b.ModifiedWistort().GPM(), 7.84, 0.01, by},
	})
}

func TestPeakFlowOfOneFixture(t *testing.T) {
	p, err := PeakFlow([]Group{{Fixture{"tap", 0.2, unit.GPM(3)}, 1}})
	if err != nil || p.Busy99.GPM() != 3 || p.All99.GPM() != 3 {
		t.Errorf("one tap running a fifth of the time: %+v, %v", p, err)
	}
	none, err := PeakFlow(nil)
	if err != nil || none.Busy99.GPM() != 0 || none.Idle != 1 {
		t.Errorf("a house without fixtures: %+v, %v", none, err)
	}
	if _, err := PeakFlow([]Group{{Fixture{"tap", 1.2, unit.GPM(3)}, 1}}); err == nil {
		t.Error("a chance of 1.2 was accepted")
	}
	if _, err := PeakFlow([]Group{{Fixture{"odd", 0.1, unit.GPM(3.001)}, 1000}, {Fixture{"tap", 0.1, unit.GPM(2)}, 1000}}); err == nil {
		t.Error("five million cells were enumerated")
	}
}

// Two methods must agree: the enumeration of one kind and Hunter's count.
func TestEnumerationAgreesWithHunter(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(r, "n")
		p := rapid.Float64Range(0.01, 0.5).Draw(r, "p")
		got, err := PeakFlow([]Group{{Fixture{"tap", p, unit.GPM(1)}, n}})
		if err != nil {
			r.Fatal(err)
		}
		if want := HunterCount(n, p); math.Abs(got.All99.GPM()-float64(want)) > 1e-9 {
			r.Fatalf("%d taps at %g: enumeration %v, Hunter %d", n, p, got.All99, want)
		}
	})
}

func TestHunterCount(t *testing.T) {
	const hunter = "Hunter, 1940, NBS BMS 65, method worked by hand; chances from memory"
	for _, r := range []struct {
		p    float64
		want [7]int
	}{
		{0.03, [7]int{1, 1, 2, 3, 4, 5, 8}}, {0.0667, [7]int{1, 2, 3, 4, 6, 8, 13}}, {0.20, [7]int{1, 3, 5, 8, 11, 17, 30}},
	} {
		for i, n := range []int{1, 5, 10, 20, 30, 50, 100} {
			check(t, []row{{"fixtures at once", float64(HunterCount(n, r.p)), float64(r.want[i]), 0, hunter}})
		}
	}
}

func TestPeakRisesWithTheShareOfTime(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var g []Group
		for _, f := range Fixtures(source.Set{}) {
			g = append(g, Group{f, rapid.IntRange(0, 3).Draw(r, f.Name)})
		}
		share := rapid.Float64Range(0.5, 0.98).Draw(r, "share")
		less, err := PeakQuantile(g, share)
		if err != nil {
			r.Fatal(err)
		}
		more, _ := PeakQuantile(g, share+0.01)
		if more.Busy99.GPM() < less.Busy99.GPM() || less.All99.GPM() > less.Busy99.GPM() {
			r.Fatalf("quantiles out of order: %+v, %+v", less, more)
		}
		g[0].Count++
		fuller, _ := PeakQuantile(g, share)
		if fuller.All99.GPM() < less.All99.GPM()-1e-9 {
			r.Fatalf("another fixture lowers the peak")
		}
	})
}

func TestCodes(t *testing.T) {
	read := func(c Code, units float64) float64 {
		q, err := c.FlushTankPeak(units)
		if err != nil {
			t.Fatal(err)
		}
		return q.GPM()
	}
	group, _ := FixtureUnits("bathroom group, flush tank")
	units := 2 * group
	for _, name := range []string{"kitchen faucet", "dishwasher", "clothes washer"} {
		u, ok := FixtureUnits(name)
		if !ok {
			t.Fatalf("no units for %s", name)
		}
		units += u
	}
	const interpolated = "interpolated by hand between rows of the code's table"
	check(t, []row{
		{"units of the house", units, 11.4, 1e-9, "IPC 2018 table E103.3(2)"},
		{"IPC", read(IPC, units), 15.64, 0.01, interpolated}, {"NSPC", read(NSPC, units), 8.70, 0.01, interpolated},
		{"Illinois", read(Illinois, units), 8.84, 0.01, interpolated},
		{"IPC 12 units", read(IPC, 12), 16.0, 0.001, "IRC examination page: 12 units, 16.0 gpm"},
		{"IPC 60", read(IPC, 60), read(Illinois, 60), 1e-9, "the two tables agree from 60 up"},
	})
	for _, bad := range []struct {
		c     Code
		units float64
	}{{IPC, 0.5}, {NSPC, 50}, {Illinois, 1001}, {IPC, math.NaN()}} {
		if q, err := bad.c.FlushTankPeak(bad.units); err == nil {
			t.Errorf("%s at %g units gave %v", bad.c, bad.units, q)
		}
	}
	if _, err := Illinois.FlushValvePeak(20); err == nil {
		t.Error("the Illinois flush-valve table was not seen, yet answers")
	}
	if q, err := NSPC.FlushValvePeak(8); err != nil || q.GPM() != 25 {
		t.Errorf("NSPC flush valves, 8 units: %v, %v, want 25 (New Jersey B.5.4)", q, err)
	}
}

func TestHouseRules(t *testing.T) {
	h := GeneralPattern()
	hour, share := h.Quietest(2)
	sum := 0.0
	for i := range h {
		sum += h.Flow(i, unit.GalPerDay(1440)).GPM() / 24
	}
	check(t, []row{
		{"four people", DailyUse(source.Set{}, 4).GalPerDay(), 218, 0.5, mayer},
		{"four people, gal/yr", DailyUse(source.Set{}, 4).GalPerDay() * 365, 79570, 5, mayer},
		{"shared well, two homes", SharedWellFlow(source.Set{}, 2, 0).GPM(), 6, 1e-9, "US HUD Handbook 4000.1"},
		{"planning peak of 400 gal/day", PlanningPeak(unit.GalPerDay(400)).GPM(), 3.33, 0.01, "Penn State Extension, 2017: a day's use in two hours"},
		{"one bath", PeakFromBaths(1).GPM(), 7, 0, "common practice"}, {"1½ baths", PeakFromBaths(1.5).GPM(), 10, 0, "common practice"},
		{"two baths", PeakFromBaths(2).GPM(), 12, 0, "common practice"}, {"three baths", PeakFromBaths(3).GPM(), 15, 0, "common practice"},
		{"faucet at 80 psi", OrificeFlow(unit.GPM(2.2), unit.PSI(60), unit.PSI(80)).GPM(), 2.54, 0.005, "2.2 gpm at 60 psi and 2.5 at 80 psi are one orifice"},
		{"first quiet hour", float64(hour), 1, 0, "ANSI/RESNET/ICC 301-2022 Addendum C: trough .021 .021"},
		{"quiet share", share, 0.042, 1e-9, "ANSI/RESNET/ICC 301-2022 Addendum C"},
		{"a day of the pattern", sum, 1, 1e-9, "the hours make up the day"},
	})
	for i, p := range []HourPattern{HotWaterPattern(), GeneralPattern(), WasherPattern(), DishwasherPattern()} {
		total := 0.0
		for _, s := range p {
			total += s
		}
		check(t, []row{{"sum of a pattern", total, 1, 0.0025, "shares of a day; printed to three places"}})
		if hour, _ := p.Quietest(2); hour < 1 || hour > 3 {
			t.Errorf("pattern %d is quietest from %d o'clock, want 1 to 3", i, hour)
		}
	}
}
