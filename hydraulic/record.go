package hydraulic

import (
	"math"
	"time"

	"wellwright/unit"
)

// Record is how a supply bore a run of uses. Short counts the time in which
// something other than a leak ran and the gauge stood below the pressure asked
// for; Unmet is water that did not come at all. The balance closes:
//
//	Pumped = Delivered + TankChange
type Record struct {
	Delivered, Pumped unit.Volume
	TankChange        unit.Volume // water in the tank at the end less that at the start
	Unmet             unit.Volume
	Starts            int           // of the pump
	BusiestHour       int           // most starts within any 60 minutes
	Running           time.Duration // of the pump
	Short             time.Duration
	ShortSpells       int           // times that the pressure fell below what was asked
	Dry               time.Duration // pump held to the yield, the casing storage being gone
	Lowest            unit.Pressure // at the tank while anything but a leak runs
	LowestAt          time.Duration
	Deepest           unit.Volume // most water gone from the casing
	DeepestAt         time.Duration
	Recovered         time.Duration // when the casing was last full again
	Full              bool          // the casing is full at the end
	Minutes           []Minute      // the state at each step, if one was asked for
}

// Follow carries uses, in order of their starts, through the supply from the
// first midnight to the end of the span, with the tank at cut-out and the casing
// full at the start. It goes from event to event: a use that starts or stops,
// the switch, the casing filled or emptied, the pressure asked for; between them
// the tank fills or falls in closed form, the pump being read on straight lines
// between a few levels of the tank. Step, if above zero, asks for a Minute at
// each step.
//
//	dV/dt = q(P, D) - Q,  dD/dt = q - yield, 0 <= D <= storage
//
//	V  water in the tank, P its pressure by Boyle's law;  D  drawn from the casing
//	Q  all that runs, HouseDraw with it
//
// The switch works as built: on at cut-in, off at cut-out. Fixtures take their
// flow at any pressure, and what the supply cannot give is Unmet. Without a tank
// the pump runs whenever water does.
//
// Error: that of pump and yield; the closed form adds 1 % to the times of a pump
// that draws the level down. Source: water balance.
func (s Supply) Follow(uses []Use, span time.Duration, asked unit.Pressure, step time.Duration) Record {
	w := newWalk(&s, asked)
	w.step = step.Minutes()
	w.through(uses, span.Minutes())
	return w.result()
}

// Night follows washes through the supply, with the house drawing HouseDraw
// meanwhile, until the casing is full again, or for two days if the well never
// makes it good; the minutes carry level and storage. Recovered is told from the
// midnight that the starts are told from.
//
// Source: Follow.
func (s Supply) Night(washes []Use, asked unit.Pressure) Record {
	end := time.Duration(0)
	for _, u := range washes {
		end = max(end, u.End())
	}
	rec := s.Follow(washes, end+2*day, asked, time.Minute)
	if rec.Full {
		keep := min(len(rec.Minutes), int(math.Ceil(max(rec.Recovered, end).Minutes()))+1)
		rec.Minutes = rec.Minutes[:keep]
	}
	return rec
}

func (w *walk) result() Record {
	r := w.rec
	r.Delivered, r.Pumped, r.Unmet = unit.Gal(w.delivered), unit.Gal(w.pumped), unit.Gal(w.unmet)
	r.TankChange = unit.Gal(w.water - w.levels[w.top].water)
	r.Running, r.Short, r.Dry = minutesOf(w.running), minutesOf(w.short), minutesOf(w.dry)
	r.Full = w.drawn <= 0
	r.Deepest, r.DeepestAt = unit.Gal(w.deepest), minutesOf(w.deepestAt)
	if !math.IsInf(w.lowest, 1) {
		r.Lowest, r.LowestAt = unit.PSI(w.lowest), minutesOf(w.lowestAt)
	}
	return r
}
