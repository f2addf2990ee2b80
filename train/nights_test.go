package train

import (
	"math"
	"testing"

	"wellwright/media"
	"wellwright/stage"
	"wellwright/unit"
	"wellwright/well"
)

// milking puts a house into shifts: hours of the day from and to, and gpm.
func milking(h *house, hours ...[3]float64) {
	for _, x := range hours {
		q := unit.GPM(x[2])
		h.site.House.Shifts = append(h.site.House.Shifts, well.Shift{From: well.Clock(60 * x[0]), To: well.Clock(60 * x[1]), Peak: &q})
	}
}

var filtered = Train{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.Softener}

// Washes lie outside the shifts, from midnight on where that is quiet; no two meet.
// Source: the reference on treatment, I24 (common practice), and the clock.
func TestWashesLieOutsideTheShifts(t *testing.T) {
	for _, tt := range []struct {
		name     string
		hours    [][3]float64
		earliest float64
	}{
		{"two milkings", [][3]float64{{4.5, 8.5, 7}, {15.5, 18.5, 5}}, 0},
		{"a night shift", [][3]float64{{20, 6, 7}}, 6 * 60},
		{"day and evening", [][3]float64{{5, 13, 7}, {13, 23, 5}}, 0},
	} {
		h := usual().with(func(h *house) { milking(h, tt.hours...) })
		slots := h.carry(t, filtered).Nights.Hours
		if len(slots) < 3 || slots[0].Start != tt.earliest {
			t.Errorf("%s: %+v, want the first at %g min", tt.name, slots, tt.earliest)
		}
		for i, a := range slots {
			for m := a.Start; m < a.Start+a.Minutes; m++ {
				for _, x := range tt.hours {
					if into := math.Mod(m-60*x[0]+2880, 1440); into < math.Mod(60*(x[1]-x[0])+1440, 1440) {
						t.Fatalf("%s: a wash at minute %g lies in the shift from %g h", tt.name, m, x[0])
					}
				}
			}
			for _, b := range slots[:i] {
				if a.Start < b.Start+b.Minutes && b.Start < a.Start+a.Minutes {
					t.Errorf("%s: washes of stages %d and %d meet", tt.name, a.Stage, b.Stage)
				}
			}
		}
	}
}

// A place that never rests has no vessel alone: a standby, or nothing. At 7 gpm and
// 15 from the pump both can be had.
func TestRoundTheClockTakesAStandby(t *testing.T) {
	h := usual().with(func(h *house) { milking(h, [3]float64{0, 12, 4}, [3]float64{12, 24, 4}) })
	e := h.carry(t, filtered)
	for _, l := range e.Links {
		if (l.Process == media.CoatedSandFilter || l.Process == media.Softener) && (l.Size.Vessels() < 2 || l.Size.Turn == stage.InTurn && l.Process == media.CoatedSandFilter) {
			t.Errorf("%s: %d vessels, %q, in a place that never rests", l.Process, l.Size.Vessels(), l.Size.Turn)
		}
	}
	if e.says(refusal, "water_while_washing") || e.says(refusal, "service_rate_washing") || e.says(warning, "wash_night") || e.says(refusal, "wash_hours") {
		t.Errorf("refused: %s", broken(e))
	}
	if quiet := usual().carry(t, filtered); quiet.says(warning, "wash_hours") || quiet.Links[2].Size.Turn != stage.InTurn {
		t.Error("a household is asked for a standby")
	}
}

// Washes that must wait for quiet hours have to fit into them on the mean: boundary
// rows about what the train takes, by its own time balance.
func TestWashHours(t *testing.T) {
	e := usual().carry(t, filtered)
	takes := e.end.washHours(e.Lead)
	if takes <= 0 {
		t.Fatal("no wash takes any time")
	}
	for _, tt := range []struct {
		open  float64
		fails bool
	}{{takes - 1, true}, {takes + 1, false}} {
		minutes := math.Ceil(tt.open)
		busy := usual().with(func(h *house) { milking(h, [3]float64{minutes / 60, 24, 7}) })
		e.end.job.Site.House = busy.site.House
		g := gathered{all: true}
		e.end.nightLimits(0, &g)
		for _, l := range g.ls {
			if l.ID == "wash_hours" && l.Fails() != tt.fails {
				t.Errorf("%.1f min a day in %g of quiet fail %t", takes, minutes, l.Fails())
			}
		}
		if n := len(g.ls); n != 2 {
			t.Errorf("%d limits of the night, want 2", n)
		}
	}
}

// Two washes at once: coated sand in 10 in wants 6.5 gpm (12 gpm/ft2 on 0.545 ft2) and
// a softener of 10 in 2.7 (5 gpm/ft2); the needs add. A twin and what needs most
// beside it are the two that may meet.
func TestMeetingOfWashes(t *testing.T) {
	e := usual().carry(t, filtered)
	m, two := e.Meeting()
	if !two {
		t.Fatal("no two washes in a train with filter and softener")
	}
	a, b := e.Links[m.First].Outcomes[0].Washes[0], e.Links[m.Second].Outcomes[0].Washes[0]
	if math.Abs(m.Need.GPM()-a.Need.GPM()-b.Need.GPM()) > 1e-9 || m.Have.GPM() > math.Min(a.Have.GPM(), b.Have.GPM())+0.01 || m.AnyHour {
		t.Errorf("%+v from %s and %s", m, a.Need, b.Need)
	}
	if _, two := usual().carry(t, Train{media.Softener}).Meeting(); two {
		t.Error("one softener meets itself")
	}
}

// A raw branch draws on the pump and not on the treatment: 12 gpm at the tank less 8
// leave 4 of a peak of 7 (water balance); the well must yield both.
func TestRawBranchOnTheSupply(t *testing.T) {
	h := usual().with(func(h *house) { h.pump, h.yield = 12, 12 })
	w := h.work(t)
	d := w.Draws[0]
	free := peakOf(&d, &d.Supply.Hydraulic, unit.Flow{}).GPM()
	d.Supply.Hydraulic.Pump = d.Supply.Hydraulic.Pump.Throttled(unit.GPM(12))
	d.Supply.Hydraulic.Tank.Total, d.Supply.Hydraulic.CasingStorage = unit.Volume{}, unit.Volume{}
	shared := peakOf(&d, &d.Supply.Hydraulic, unit.GPM(8)).GPM()
	if free != 7 || math.Abs(shared-4) > 0.02 {
		t.Errorf("alone %g gpm, beside a raw branch of 8 %g; want 7 and 4", free, shared)
	}
	dry := usual().with(func(h *house) { h.yield = 0.2 }).work(t) // 288 gal/day
	dry.Draws[0].Supply.Raw.Use = unit.GalPerDay(100)
	e, err := dry.Evaluate(Train{media.Softener})
	if err != nil {
		t.Fatal(err)
	}
	if !e.says(refusal, "well_yield_per_day") {
		t.Error("250 and 100 gal/day pass from a well of 288")
	}
}

// A longer peak is never easier on the supply.
func TestLongPeakIsNoEasier(t *testing.T) {
	d := usual().with(func(h *house) { h.yield = 3 }).work(t).Draws[0]
	last := math.Inf(1)
	for _, minutes := range []float64{0, 10, 20, 40, 120} {
		d.Supply.PeakMinutes = minutes
		got := peakOf(&d, &d.Supply.Hydraulic, unit.Flow{}).GPM()
		if got > last+0.01 {
			t.Errorf("%g gpm held for %g min, more than for fewer", got, minutes)
		}
		last = got
	}
}
