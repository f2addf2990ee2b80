package well

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"wellwright/unit"
)

// Clock is a time of day in minutes after midnight, 0 to 1440.
type Clock int

// dayMinutes is a day.
const dayMinutes = 24 * 60

// ParseClock reads "05:30"; "24:00" is the end of the day.
func ParseClock(s string) (Clock, error) {
	hour, minute, ok := strings.Cut(strings.TrimSpace(s), ":")
	h, badHour := strconv.Atoi(hour)
	m, badMinute := strconv.Atoi(minute)
	c := Clock(60*h + m)
	if !ok || badHour != nil || badMinute != nil || h < 0 || m < 0 || m > 59 || c > dayMinutes {
		return 0, fmt.Errorf("time of day %q: write hours and minutes of 24, such as 05:30", s)
	}
	return c, nil
}

// String writes the time as 05:30.
func (c Clock) String() string {
	m := ((int(c) % dayMinutes) + dayMinutes) % dayMinutes
	return fmt.Sprintf("%02d:%02d", m/60, m%60)
}

// Shift is a stretch of the day in which a workplace draws water.
type Shift struct {
	Name     string
	From, To Clock        // To before From runs over midnight; both alike is round the clock
	Days     float64      // a week; 0: not said, all seven
	Peak     *unit.Flow   // nil: that of the house
	Use      *unit.Volume // in one shift
}

// Minutes is how long the shift lasts.
func (s Shift) Minutes() float64 {
	long := (int(s.To) - int(s.From) + 2*dayMinutes) % dayMinutes
	if long == 0 {
		return dayMinutes
	}
	return float64(long)
}

// at reports whether the shift runs in the minute that begins t minutes after
// midnight.
func (s Shift) at(t float64) bool {
	since := math.Mod(t-float64(s.From)+2*dayMinutes, dayMinutes)
	return since < s.Minutes()
}

// ShiftPeak is the highest flow that the shifts draw together, and for how long.
type ShiftPeak struct {
	Flow    unit.Flow
	Minutes float64
	Name    string // of the shift that begins it
}

// HighestShift finds the peak of the shifts: where two run at once their flows add.
// It lasts until the first of them ends, or until its use is drawn.
//
//	t = min(time to the first end, V / Q)
//
//	V  use of the shifts running, if all were given one, gal;  Q  their flow, gpm
//
// Source: geometry of intervals: the sum only rises where a shift begins.
func (h House) HighestShift() (ShiftPeak, bool) {
	best := ShiftPeak{}
	for _, first := range h.Shifts {
		flow, lasts, use, known := 0.0, float64(dayMinutes), 0.0, true
		for _, s := range h.Shifts {
			if !s.at(float64(first.From)) || s.Peak == nil {
				continue
			}
			flow += s.Peak.GPM()
			lasts = math.Min(lasts, s.Minutes()-math.Mod(float64(first.From-s.From)+2*dayMinutes, dayMinutes))
			if known = known && s.Use != nil; known {
				use += s.Use.Gal()
			}
		}
		if flow <= best.Flow.GPM() {
			continue
		}
		if known {
			lasts = math.Min(lasts, use/flow)
		}
		best = ShiftPeak{Flow: unit.GPM(flow), Minutes: lasts, Name: first.Name}
	}
	return best, best.Flow.GPM() > 0
}

// ShiftUse is what the shifts use, as a mean of the week; false where one was given
// no use.
func (h House) ShiftUse() (unit.Flow, bool) {
	gal := 0.0
	for _, s := range h.Shifts {
		if s.Use == nil {
			return unit.Flow{}, false
		}
		gal += s.Use.Gal() * s.week() / 7
	}
	return unit.GalPerDay(gal), len(h.Shifts) > 0
}

func (s Shift) week() float64 {
	if s.Days > 0 {
		return s.Days
	}
	return 7
}

// Lull is the quietest stretch of the day of some length.
type Lull struct {
	Start Clock
	Share float64 // highest flow in it, over the peak of the house: 0 lies outside all shifts
}

// QuietFor finds the stretch of so many minutes in which the least is drawn. A
// household without shifts sleeps from midnight. Shifts count on every day, for a
// wash cannot wait for the day off.
//
// Source: geometry of intervals: the least stretch can be moved until it begins
// where a shift ends or ends where one begins.
func (h House) QuietFor(minutes float64) Lull {
	minutes = math.Min(math.Ceil(minutes), dayMinutes)
	best := Lull{Share: h.shareIn(0, minutes)}
	for _, s := range h.Shifts {
		for _, start := range [...]float64{float64(s.To), float64(s.From) - minutes} {
			start = math.Mod(start+2*dayMinutes, dayMinutes)
			if share := h.shareIn(start, minutes); share < best.Share-1e-12 {
				best = Lull{Start: Clock(start), Share: share}
			}
		}
	}
	return best
}

// shareIn is the highest share of the house's peak that is drawn in a stretch.
func (h House) shareIn(start, minutes float64) float64 {
	most := h.shareAt(start)
	for _, s := range h.Shifts {
		if into := math.Mod(float64(s.From)-start+2*dayMinutes, dayMinutes); into < minutes {
			most = math.Max(most, h.shareAt(float64(s.From)))
		}
	}
	return most
}

// shareAt is the share of the house's peak that is drawn at one time of day: a
// shift of unknown flow is taken to draw all of it.
func (h House) shareAt(t float64) float64 {
	top := h.top()
	sum := 0.0
	for _, s := range h.Shifts {
		if !s.at(t) {
			continue
		}
		if s.Peak == nil || top <= 0 {
			return 1
		}
		sum += s.Peak.GPM() / top
	}
	return math.Min(sum, 1)
}

// top is the stated peak of the house or of its shifts, whichever is more, gpm.
func (h House) top() float64 {
	peak, _ := h.HighestShift()
	if h.Peak != nil {
		return math.Max(h.Peak.GPM(), peak.Flow.GPM())
	}
	return peak.Flow.GPM()
}

// Quiet is a stretch of the day outside all shifts.
type Quiet struct {
	From    Clock
	Minutes float64
}

// QuietHours are the stretches of the day outside all shifts, in the order in which
// the shifts are listed; none round the clock, and none told without shifts.
func (h House) QuietHours() []Quiet {
	var all []Quiet
	for i, s := range h.Shifts {
		if minutes := h.quietFrom(s.To); minutes > 0 && !endsWith(h.Shifts[:i], s.To) {
			all = append(all, Quiet{s.To % dayMinutes, minutes})
		}
	}
	return all
}

// endsWith reports whether one of the shifts ends then.
func endsWith(ss []Shift, t Clock) bool {
	for _, s := range ss {
		if s.To%dayMinutes == t%dayMinutes {
			return true
		}
	}
	return false
}

// quietFrom is how long no shift runs from a time on.
func (h House) quietFrom(t Clock) float64 {
	least := float64(dayMinutes)
	for _, s := range h.Shifts {
		if s.at(float64(t)) {
			return 0
		}
		least = math.Min(least, math.Mod(float64(s.From-t)+2*dayMinutes, dayMinutes))
	}
	return least
}
