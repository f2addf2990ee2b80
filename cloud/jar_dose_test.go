package cloud

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wellwright/book"
	"wellwright/source"
	"wellwright/unit"
)

// fed is one jar of a series: dose, and free chlorine or iron left.
func freeLeft(added, free float64) book.Dose {
	return book.Dose{Added: unit.MgPerL(added), Free: ptr(unit.MgPerLAsCl2(free))}
}

func ironLeft(added, left float64) book.Dose {
	return book.Dose{Added: unit.MgPerL(added), Iron: ptr(unit.MgPerL(left))}
}

func pinkness(added float64, pink bool) book.Dose {
	d := book.Dose{Added: unit.MgPerL(added), Saw: book.PinkFades}
	if pink {
		d.Saw = book.PinkStays
	}
	return d
}

func TestDosesOffASeries(t *testing.T) {
	const halfHour = 30 * time.Minute
	chlorine := func(d *JarDoses) *Dosed { return d.Chlorine }
	alum := func(d *JarDoses) *Dosed { return d.Alum }
	pink := func(d *JarDoses) *Dosed { return d.Permanganate }
	const demand = "demand is dose less residual (Standard Methods 2350, from memory) and never falls with the dose; arithmetic"
	const steps = "the steps of the series (definition)"
	for _, tt := range []struct {
		name             string
		jar              book.Jar
		of               func(*JarDoses) *Dosed
		low, value, high float64
		open             bool
		source           string
	}{
		{"one lasting residual, 10 - 1.3", book.Jar{Test: book.ChlorineDemand, After: halfHour, Doses: []book.Dose{freeLeft(4, 0), freeLeft(8, 0), freeLeft(10, 1.3)}}, chlorine, 8.505, 8.7, 8.895, false, demand},
		{"two: 8.7 at 1.3 and 8.9 at 3.1, back to 0.2", book.Jar{Test: book.Chlorinated, After: halfHour, Doses: []book.Dose{freeLeft(12, 3.1), freeLeft(10, 1.3), freeLeft(8, 0)}}, chlorine, 8.38, 8.578, 8.895, false, demand},
		{"a false residual before the breakpoint does not last", book.Jar{Test: book.ChlorineDemand, Doses: []book.Dose{freeLeft(2, 0.4), freeLeft(6, 0.1), freeLeft(8, 0.6)}}, chlorine, 7.31, 7.4, 7.49, false, demand},
		{"no residual lasts", book.Jar{Test: book.ChlorineDemand, Doses: []book.Dose{freeLeft(2, 0), freeLeft(4, 0.1)}}, chlorine, 0, 0, 0, false, demand},
		{"written down", book.Jar{Test: book.ChlorineDemand, Demand: ptr(unit.MgPerLAsCl2(7)), Doses: []book.Dose{freeLeft(4, 0), freeLeft(9, 1)}}, chlorine, 6.3, 7, 7.7, false, "as written, with the error of the kit"},
		{"alum: least iron in the middle", book.Jar{Test: book.Alum, Doses: []book.Dose{ironLeft(0, 2.1), ironLeft(10, 1.2), ironLeft(20, 0.3), ironLeft(40, 0.6)}}, alum, 10, 20, 40, false, steps},
		{"alum: 20 and 40 read alike, so 20", book.Jar{Test: book.Alum, Doses: []book.Dose{ironLeft(10, 1.2), ironLeft(20, 0.33), ironLeft(40, 0.3)}}, alum, 10, 20, 40, false, "within twice the error of the kit, 10 %"},
		{"alum: still falling at the last", book.Jar{Test: book.Alum, Doses: []book.Dose{ironLeft(10, 1.2), ironLeft(20, 0.8), ironLeft(40, 0.3)}}, alum, 20, 40, 40, true, steps},
		{"alum: no better than none", book.Jar{Test: book.Alum, Doses: []book.Dose{ironLeft(0, 0.3), ironLeft(10, 0.3)}}, alum, 0, 0, 0, false, steps},
		{"pink between 1.5 and 2", book.Jar{Test: book.Permanganate, Doses: []book.Dose{pinkness(1, false), pinkness(2, true), pinkness(1.5, false), pinkness(3, true)}}, pink, 1.5, 1.75, 2, false, steps},
		{"pink drop by drop", book.Jar{Test: book.Permanganate, Dose: ptr(unit.MgPerL(2)), Saw: book.PinkStays}, pink, 1.8, 2, 2, false, "as written"},
		{"behind treatment", book.Jar{Test: book.Permanganate, Dose: ptr(unit.MgPerL(2)), Saw: book.PinkStays, Tap: "T3"}, pink, 0, 0, 0, false, "not raw water"},
	} {
		var got *Dosed
		if d := jarDoses(source.Set{}, []book.Jar{tt.jar}); d != nil {
			got = tt.of(d)
		}
		if tt.value == 0 {
			if got != nil {
				t.Errorf("%s: %+v, want none (%s)", tt.name, got, tt.source)
			}
			continue
		}
		if got == nil || !near(got.Low.MgPerL(), tt.low, 0.01) || !near(got.Value.MgPerL(), tt.value, 0.01) || !near(got.High.MgPerL(), tt.high, 0.01) || got.Open != tt.open {
			t.Errorf("%s: %+v, want %g to %g to %g, open %v (%s)", tt.name, got, tt.low, tt.value, tt.high, tt.open, tt.source)
		}
	}
}

// A titration curve with a demand that grows a little with the dose: the series
// finds what the curve was made with, whatever the steps.
func TestSeriesFindsTheDemand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		least, slow := rapid.Float64Range(1, 15).Draw(t, "demand"), rapid.Float64Range(0, 0.3).Draw(t, "slow share")
		step := rapid.Float64Range(0.5, 4).Draw(t, "step")
		j := book.Jar{Test: book.ChlorineDemand}
		for d := step; d < least+4*step+1; d += step {
			j.Doses = append(j.Doses, freeLeft(d, math.Max(0, (d-least)*(1-slow))))
		}
		got := jarDoses(source.Set{}, []book.Jar{j})
		if got == nil || got.Chlorine == nil {
			t.Fatal("no demand though residuals last")
		}
		c, want := got.Chlorine, least+0.2*slow/(1-slow) // at a residual of 0.2
		if !near(c.Value.MgPerL(), want, 1e-6) || c.Low.MgPerL() > want+1e-6 || c.High.MgPerL() < want-1e-6 {
			t.Errorf("demand %+v, want %g (the line it was made with)", c, want)
		}
	})
}

// The longest test of several goes, single jars of one day are a series, and all
// draws carry what was found.
func TestJarDosesOfTheSupply(t *testing.T) {
	single := func(after time.Duration, added, free float64) book.Jar {
		return book.Jar{Test: book.ChlorineDemand, After: after, Dose: ptr(unit.MgPerL(added)), Free: ptr(unit.MgPerLAsCl2(free))}
	}
	c := weighed(t, Evidence{Jars: []book.Jar{
		single(30*time.Minute, 8, 0), single(30*time.Minute, 10, 1.3),
		{Test: book.ChlorineDemand, After: 5 * time.Minute, Demand: ptr(unit.MgPerLAsCl2(6))},
		{Test: book.Permanganate, Dose: ptr(unit.MgPerL(2)), Saw: book.PinkStays},
	}})
	for _, d := range append(c.Draws[:5:5], c.Middle()) {
		s := d.Supply
		if s.DemandMeasured == nil || !near(s.DemandMeasured.MgPerLAsCl2(), 8.7, 1e-9) || s.Jars == nil || s.Jars.Permanganate.Value.MgPerL() != 2 {
			t.Fatalf("demand %v, jars %+v, want 8.7 of the longer test and pink at 2 (as written)", s.DemandMeasured, s.Jars)
		}
	}
	if s := weighed(t, Evidence{}).Middle().Supply; s.DemandMeasured != nil || s.Jars != nil {
		t.Error("doses where no jar was filled")
	}
}

// What the best dose of alum left is told with the error of the kit, and the ferrous
// iron in it is no bound iron: a coagulant takes none, and half an hour of air at pH
// 6.3 and 10 °C turns one part in fifty, at the quarter of a pH unit more that the
// meter may be out one in twelve (Stumm and Lee 1961: half in 20 and in 4 hours).
func TestWhatAlumLeaves(t *testing.T) {
	j := book.Jar{Test: book.Alum, After: 30 * time.Minute, Filter: ptr(unit.MM(0.00045)), Temperature: ptr(unit.Celsius(10)), Doses: []book.Dose{ironLeft(0, 2.2), ironLeft(30, 1.1), ironLeft(60, 0.5), ironLeft(90, 0.5)}}
	for i := range j.Doses {
		j.Doses[i].PH = ptr(unit.PHOf(6.3))
	}
	l := weighed(t, Evidence{Jars: []book.Jar{j}}).Middle().Supply.Jars.Alum.Left
	const kit = "1.645 times a tenth of 0.5, and the floor of 0.01 (arithmetic)"
	if l == nil || !near(l.Value.MgPerL(), 0.5, 1e-9) || !near(l.High.MgPerL(), 0.5+1.645*math.Hypot(0.05, 0.01), 1e-3) || !near(l.Low.MgPerL()+l.High.MgPerL(), 1, 1e-9) || !l.Strained {
		t.Fatalf("%+v, want 0.5 by a filter (%s)", l, kit)
	}
	if l.Ferrous < 0.91 || l.Ferrous > 0.98 {
		t.Errorf("%.3f of the ferrous iron is in it, want 0.91 to 0.98 (Stumm and Lee 1961)", l.Ferrous)
	}
	bound := func(read, ferrous, there float64) float64 {
		return l.Bound(unit.MgPerL(read), unit.MgPerL(ferrous), unit.MgPerL(there)).MgPerL()
	}
	for _, tt := range []struct{ read, ferrous, there, want float64 }{
		{0.5, 0.3, 1.9, 0.5 - 0.3*l.Ferrous}, {0.5, 0, 1.9, 0.5}, {0.5, 0.6, 1.9, 0}, {0.5, 0, 0.2, 0.2},
	} {
		if got := bound(tt.read, tt.ferrous, tt.there); !near(got, tt.want, 1e-9) {
			t.Errorf("read %g with %g ferrous and %g bound: %g left bound, want %g (mass balance)", tt.read, tt.ferrous, tt.there, got, tt.want)
		}
	}
}
