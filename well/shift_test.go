package well

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/unit"
)

// at makes a shift from times of day, with a peak in gpm where there is one.
func at(t testing.TB, from, to string, gpm float64) Shift {
	t.Helper()
	f, err := ParseClock(from)
	if err != nil {
		t.Fatal(err)
	}
	e, err := ParseClock(to)
	if err != nil {
		t.Fatal(err)
	}
	s := Shift{Name: from, From: f, To: e}
	if gpm > 0 {
		q := unit.GPM(gpm)
		s.Peak = &q
	}
	return s
}

func TestParseClock(t *testing.T) {
	for _, tt := range []struct {
		text string
		want Clock
		ok   bool
	}{
		{"00:00", 0, true}, {"05:30", 330, true}, {" 5:30", 330, true}, {"23:59", 1439, true}, {"24:00", 1440, true},
		{"24:01", 0, false}, {"5", 0, false}, {"05:60", 0, false}, {"-1:00", 0, false}, {"half past five", 0, false},
	} {
		got, err := ParseClock(tt.text)
		if (err == nil) != tt.ok || got != tt.want {
			t.Errorf("ParseClock(%q) = %d, %v; want %d, accepted %t (ISO 8601 times of day)", tt.text, got, err, tt.want, tt.ok)
		}
	}
	if s := Clock(1440).String(); s != "00:00" {
		t.Errorf("the end of the day is written %s, want 00:00", s)
	}
}

// Two milkings: quiet from 08:30 to 15:30 and from 18:30 to 04:30, seven and ten
// hours. By the clock.
func TestQuietHoursOfTwoMilkings(t *testing.T) {
	h := House{Shifts: []Shift{at(t, "04:30", "08:30", 18), at(t, "15:30", "18:30", 14)}}
	got := h.QuietHours()
	if len(got) != 2 || got[0] != (Quiet{510, 420}) || got[1] != (Quiet{1110, 600}) {
		t.Errorf("quiet hours %v, want 420 min from 08:30 and 600 min from 18:30", got)
	}
	for _, tt := range []struct {
		minutes, share float64
		why            string
	}{
		{599, 0, "inside the ten quiet hours"},
		{600, 0, "just the ten quiet hours"},
		{601, 14.0 / 18, "a minute more reaches into the lesser milking"},
		{1200, 14.0 / 18, "from the end of the morning milking to its next beginning"},
		{1201, 1, "a minute more and it is met"},
	} {
		if l := h.QuietFor(tt.minutes); math.Abs(l.Share-tt.share) > 1e-9 {
			t.Errorf("QuietFor(%g) draws %g of the peak from %s, want %g: %s", tt.minutes, l.Share, l.Start, tt.share, tt.why)
		}
	}
}

// Three shifts round the clock leave no quiet hour, only the least busy one.
func TestRoundTheClock(t *testing.T) {
	h := House{Shifts: []Shift{at(t, "06:00", "14:00", 18), at(t, "14:00", "22:00", 12), at(t, "22:00", "06:00", 6)}}
	if q := h.QuietHours(); len(q) != 0 {
		t.Errorf("quiet hours %v in a place that never rests", q)
	}
	if l := h.QuietFor(480); math.Abs(l.Share-6.0/18) > 1e-9 || l.Start != 22*60 {
		t.Errorf("the least busy eight hours draw %g from %s, want 6/18 from 22:00", l.Share, l.Start)
	}
	if l := h.QuietFor(481); math.Abs(l.Share-12.0/18) > 1e-9 {
		t.Errorf("a minute more draws %g, want 12/18", l.Share)
	}
	whole := House{Shifts: []Shift{at(t, "07:00", "07:00", 0)}}
	if l := whole.QuietFor(1); l.Share != 1 || len(whole.QuietHours()) != 0 {
		t.Errorf("a shift round the clock of unknown flow leaves %+v, want all of the peak", l)
	}
	if l := (House{}).QuietFor(1440); l != (Lull{}) {
		t.Errorf("a household has %+v, want the whole day from midnight", l)
	}
}

// Where shifts overlap their flows add; a peak lasts until the first ends or its use
// is drawn: 560 gal at 18 gpm is 31.1 min (arithmetic).
func TestHighestShift(t *testing.T) {
	use := unit.Gal(560)
	wash := at(t, "04:30", "08:30", 18)
	if p, ok := (House{Shifts: []Shift{wash}}).HighestShift(); !ok || p.Flow.GPM() != 18 || p.Minutes != 240 {
		t.Errorf("peak %+v, want 18 gpm for 240 min: its use is not known", p)
	}
	wash.Use = &use
	if p, _ := (House{Shifts: []Shift{wash}}).HighestShift(); math.Abs(p.Minutes-31.11) > 0.01 {
		t.Errorf("peak lasts %g min, want 560/18 = 31.11", p.Minutes)
	}
	over := House{Shifts: []Shift{wash, at(t, "08:00", "10:00", 5)}}
	if p, _ := over.HighestShift(); p.Flow.GPM() != 23 || p.Minutes != 30 || p.Name != "08:00" {
		t.Errorf("peak %+v, want 23 gpm for the half hour in which both run", p)
	}
	if _, ok := (House{Shifts: []Shift{at(t, "08:00", "10:00", 0)}}).HighestShift(); ok {
		t.Error("a shift without a flow has a peak")
	}
}

// Second method: look at every minute of the day.
func TestQuietForAgainstEveryMinute(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var h House
		for range rapid.IntRange(1, 4).Draw(r, "shifts") {
			q := unit.GPM(rapid.Float64Range(1, 20).Draw(r, "gpm"))
			h.Shifts = append(h.Shifts, Shift{
				From: Clock(rapid.IntRange(0, 1439).Draw(r, "from")), To: Clock(rapid.IntRange(0, 1440).Draw(r, "to")), Peak: &q,
			})
		}
		minutes := rapid.IntRange(1, 700).Draw(r, "minutes")
		var flow [1440]float64
		top := 0.0
		for m := range flow {
			for _, s := range h.Shifts {
				from, long := int(s.From), (int(s.To)-int(s.From)+1440)%1440
				if long == 0 {
					long = 1440
				}
				if (m-from+1440)%1440 < long {
					flow[m] += s.Peak.GPM()
				}
			}
			top = math.Max(top, flow[m])
		}
		least := math.Inf(1)
		for start := range flow {
			most := 0.0
			for k := range minutes {
				most = math.Max(most, flow[(start+k)%1440])
			}
			least = math.Min(least, most)
		}
		if got := h.QuietFor(float64(minutes)).Share; math.Abs(got-least/top) > 1e-9 {
			r.Errorf("QuietFor(%d) = %g, minute by minute %g", minutes, got, least/top)
		}
		if p, _ := h.HighestShift(); math.Abs(p.Flow.GPM()-top) > 1e-9 {
			r.Errorf("highest shift %g gpm, minute by minute %g", p.Flow.GPM(), top)
		}
	})
}

// What the branches draw adds up, and a branch parted off moves from one side to the
// other whole: nothing is lost (water balance).
func TestBranchesBalance(t *testing.T) {
	gpm := func(v float64) *unit.Flow { q := unit.GPM(v); return &q }
	no := false
	h := House{Branches: []Branch{
		{Name: "parlour", Peak: gpm(18), Use: gpm(0.7)},
		{Name: "cows", Peak: gpm(4), Use: gpm(0.5), Treated: &no},
		{Name: "hose", Peak: gpm(5), Treated: &no, Night: &no},
	}, TakenOff: []string{"pool"}}
	raw, treated := h.RawDrawn(), h.TreatedDrawn()
	if raw.Peak.GPM() != 9 || raw.Use.GPM() != 0.5 || raw.Night.GPM() != 4 || treated.Peak.GPM() != 18 {
		t.Errorf("raw %+v, treated %+v; want 9, 0.5 and 4 gpm by night, and 18", raw, treated)
	}
	if names := h.RawNames(); len(names) != 3 || names[0] != "pool" {
		t.Errorf("on raw water: %v, want pool, cows and hose", names)
	}
	all := h.LeavingRaw("parlour")
	if r := all.RawDrawn(); r.Peak.GPM() != 27 || math.Abs(r.Use.GPM()-1.2) > 1e-12 || h.RawDrawn() != raw {
		t.Errorf("with the parlour raw %+v, want 27 and 1.2, and the first house as it was", r)
	}
}
