package train

import (
	"slices"
	"sort"

	"wellwright/source"
	"wellwright/stage"
	"wellwright/well"
)

// Nights is how the washes are spread so that no two meet.
type Nights struct {
	Longest float64 // minutes of washing on the fullest night
	Hours   []Slot
}

// Slot is the wash of one vessel of one stage: its start after midnight in
// minutes and how long it lasts.
type Slot struct {
	Stage, Vessel  int
	Start, Minutes float64
	Days           float64
}

// openHours is one stretch of the day that is open to washing, and how much of it is
// taken.
type openHours struct{ start, minutes, taken float64 }

// room takes minutes of a stretch, if it has them left.
func (q *openHours) room(minutes float64) (start float64, ok bool) {
	if q.taken+minutes > q.minutes+1e-9 {
		return 0, false
	}
	start = q.start + q.taken
	q.taken += minutes + apartMinutes
	return start, true
}

// quietHours are the stretches of the day outside all shifts: first from midnight
// on, since people live there too, then the longest. A household's begin at midnight
// and are not bounded; a place that never rests has its least busy hour and what
// follows.
func quietHours(h well.House) []openHours {
	if len(h.Shifts) == 0 {
		return []openHours{{minutes: unbounded}}
	}
	var all []openHours
	for _, w := range h.QuietHours() {
		from, till := float64(w.From), float64(w.From)+w.Minutes
		if till > midnight {
			all = append(all, openHours{minutes: till - midnight})
			till = midnight
		}
		all = append(all, openHours{start: from, minutes: till - from})
	}
	sort.SliceStable(all, func(i, k int) bool {
		if night := all[i].start == 0; night != (all[k].start == 0) {
			return night
		}
		return all[i].minutes > all[k].minutes
	})
	if len(all) == 0 {
		return []openHours{{start: float64(h.QuietFor(stage.LullMinutes).Start), minutes: unbounded}}
	}
	return all
}

const (
	midnight  = 24 * 60
	unbounded = 1e6 // minutes; the limit on a night is asked apart
)

// nights lays the washes of the leading water one after the other into the quiet
// hours, each vessel in its own slot, as if all fell on one day. A twin regenerates
// when its meter says, and waits for no hour.
func (c *carried) nights() Nights {
	open := quietHours(c.job.Site.House)
	var n Nights
	for k, l := range c.links {
		for _, w := range l.Outcomes[c.lead].Washes {
			if w.Turn == stage.Twin {
				continue
			}
			for v := range max(w.Vessels, 1) {
				n.lay(open, Slot{Stage: k, Vessel: v + 1, Minutes: w.Whole, Days: w.Days})
			}
		}
	}
	return n
}

// lay puts a wash where there is room for it first.
func (n *Nights) lay(open []openHours, s Slot) {
	n.Longest += s.Minutes + apartMinutes
	for i := range open {
		if start, ok := open[i].room(s.Minutes); ok {
			s.Start = start
			n.Hours = append(n.Hours, s)
			return
		}
	}
	s.Start = open[0].start // on another day
	n.Hours = append(n.Hours, s)
}

// roomOf is the minutes open to washing in a place that works in shifts.
func roomOf(h well.House) float64 {
	sum := 0.0
	for _, w := range h.QuietHours() {
		sum += w.Minutes
	}
	return sum
}

// apartMinutes is left between two washes for the tank and well to recover.
const apartMinutes = 10

// nightLimits ask that the washes of one day fit its quiet hours, which other days can
// mend; and in a place that works in shifts that they fit on the mean, which nothing
// can.
func (c *carried) nightLimits(i int, g *gathered) {
	shifts := len(c.job.Site.House.Shifts) > 0
	room, open := c.job.Site.Factors.Of(nightMinutes), 0.0
	if shifts {
		open = roomOf(c.job.Site.House)
		room = open
	}
	if room > 0 { // else no vessel waits for a night, and the stages say so
		g.add(soft(true, most("wash_night", c.washMinutes(), room, "min", "the washes do not fit one night: set them on different nights", common)))
	}
	if !shifts {
		return
	}
	g.add(most("wash_hours", c.washHours(i), open, "min/day", "the washes take more time than there is outside the shifts: vessels that may be washed at any hour", washHoursFrom))
}

// washMinutes is the time that the washes of the leading water take if all fall on
// one day.
func (c *carried) washMinutes() float64 {
	sum := 0.0
	for _, l := range c.links {
		for _, w := range l.Outcomes[c.lead].Washes {
			if w.Turn == stage.InTurn {
				sum += float64(max(w.Vessels, 1)) * (w.Whole + apartMinutes)
			}
		}
	}
	return sum
}

// washHours is the time a day, on the mean, that washes take which must wait for
// quiet hours, minutes.
//
//	t = Σ n (w + a) / d
//
//	n vessels;  w minutes a wash keeps one out of service;  a between two washes
//	d days between washes of one vessel
func (c *carried) washHours(i int) float64 {
	sum := 0.0
	for _, l := range c.links {
		for _, w := range l.Outcomes[i].Washes {
			if w.Turn == stage.InTurn && w.Days > 0 && w.Waste != stage.WasteSludge {
				sum += float64(max(w.Vessels, 1)) * (w.Whole + apartMinutes) / w.Days
			}
		}
	}
	return sum
}

var washHoursFrom = from{source.Derived, "time balance of the washes against the hours outside the shifts"}

// Meeting is two washes of a train at one time: the two that need most, or, since it
// waits for no hour, a twin and what needs most beside it.
type Meeting struct {
	First, Second int // stages; the same for two vessels of one
	stage.Together
	AnyHour bool // a twin regenerates when its meter says, so that two may meet unless the valves are tied
}

// Meeting puts two washes of the leading water on the supply at once.
// Blowing down a tank is done by hand and counts for nothing here. False if there
// are no two.
func (e Evaluation) Meeting() (Meeting, bool) {
	if e.end == nil {
		return Meeting{}, false
	}
	return e.end.meeting()
}

func (c *carried) meeting() (Meeting, bool) {
	type one struct {
		stage int
		wash  stage.Wash
	}
	var all []one
	twin := func(x one) bool { return x.wash.Turn == stage.Twin }
	for k, l := range c.links {
		for _, w := range l.Outcomes[c.lead].Washes {
			if w.Waste == stage.WasteSludge || w.Need.GPM() <= 0 {
				continue
			}
			for range min(max(w.Vessels, 1), 2) {
				all = append(all, one{k, w})
			}
		}
	}
	if len(all) < 2 {
		return Meeting{}, false
	}
	sort.SliceStable(all, func(i, k int) bool { return all[i].wash.Need.GPM() > all[k].wash.Need.GPM() })
	a, b := all[0], all[1]
	anyHour := slices.IndexFunc(all, twin)
	if anyHour > 1 {
		b = all[anyHour]
	}
	j := c.upTo(a.stage).jobFor(c.lead, nil)
	s, floor := j.WashSupply(c.links[a.stage].Size)
	return Meeting{First: a.stage, Second: b.stage, Together: stage.AtOnce(s, floor, a.wash, b.wash), AnyHour: anyHour >= 0}, true
}

// upTo is the train before its stage k.
func (c *carried) upTo(k int) *carried {
	for c.ahead != nil && len(c.links) > k {
		c = c.ahead
	}
	return c
}
