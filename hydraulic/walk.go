package hydraulic

import (
	"math"
	"slices"

	"wellwright/unit"
)

// walk is a supply on its way from event to event: minutes, gallons, psi.
type walk struct {
	machine
	levels  []level // of the tank, from empty to cut-out; one if there is no tank
	in, top int     // the levels of cut-in and cut-out
	asked   float64 // water in the tank at the pressure asked for
	step    float64 // of the record; zero: none

	now, water, drawn  float64
	on, low            bool
	need               float64 // gpm, all that runs
	wanted             int     // uses running that are not leaks
	uses               []Use   // that run
	hour               []float64
	delivered, pumped  float64
	unmet, running     float64
	short, dry         float64
	lowest, lowestAt   float64
	deepest, deepestAt float64
	rec                Record
}

// level is the water in the tank at a pressure.
type level struct{ psi, water float64 }

// bands is how many straight lines the pump is read on between cut-in and
// cut-out, and as many below.
const bands = 6

func newWalk(s *Supply, asked unit.Pressure) *walk {
	w := &walk{machine: newMachine(s, Draw{}), lowest: math.Inf(1)}
	w.floor = max(0, asked.PSI())
	w.levels, w.in = w.ladder(s)
	w.top = len(w.levels) - 1
	w.water, w.asked = w.levels[w.top].water, s.Tank.water(w.floor)
	w.need = w.house
	if w.house > 0 {
		w.wanted = 1
	}
	return w
}

// ladder lists the levels of the tank and says which is cut-in.
func (w *walk) ladder(s *Supply) (levels []level, in int) {
	full := s.Tank.water(w.cutOut)
	if full <= 0 {
		return []level{{w.cutOut, 0}}, 0
	}
	psi := []float64{w.cutIn, w.cutOut, w.floor}
	for i := range bands {
		f := float64(i) / bands
		psi = append(psi, w.pre+f*(w.cutIn-w.pre), w.cutIn+f*(w.cutOut-w.cutIn))
	}
	slices.Sort(psi)
	levels = []level{{max(0, w.pre), 0}}
	for _, p := range psi {
		last := levels[len(levels)-1]
		if p > w.cutOut || s.Tank.water(p)-last.water < 1e-6*full {
			continue
		}
		levels = append(levels, level{p, s.Tank.water(p)})
		if p <= w.cutIn {
			in = len(levels) - 1
		}
	}
	return levels, in
}

// through takes the uses as they come.
func (w *walk) through(uses []Use, end float64) {
	next, sample := 0, w.step
	if w.step <= 0 {
		sample = math.Inf(1)
	}
	for w.now < end {
		until := min(end, sample)
		if next < len(uses) {
			until = min(until, uses[next].Start.Minutes())
		}
		until = min(until, w.nextStop())
		for w.now < until {
			w.stride(until)
		}
		w.stop()
		for next < len(uses) && uses[next].Start.Minutes() <= w.now {
			w.start(uses[next])
			next++
		}
		if w.now >= sample {
			w.sample()
			sample += w.step
		}
	}
}

func (w *walk) nextStop() float64 {
	first := math.Inf(1)
	for i := range w.uses {
		first = min(first, w.uses[i].End().Minutes())
	}
	return first
}

func (w *walk) start(u Use) {
	if u.Long <= 0 || u.End().Minutes() <= w.now {
		return
	}
	w.uses = append(w.uses, u)
	w.tally()
}

func (w *walk) stop() {
	before := len(w.uses)
	w.uses = slices.DeleteFunc(w.uses, func(u Use) bool { return u.End().Minutes() <= w.now })
	if len(w.uses) != before {
		w.tally()
	}
}

// tally adds up what runs, afresh so that no rounding is left behind.
func (w *walk) tally() {
	w.need, w.wanted = w.house, 0
	if w.house > 0 {
		w.wanted = 1
	}
	for i := range w.uses {
		w.need += w.uses[i].Flow.GPM()
		if w.uses[i].What != Leak {
			w.wanted++
		}
	}
}

// stride goes to the next event, at most to until.
func (w *walk) stride(until float64) {
	switch {
	case !w.on && w.water > w.levels[w.in].water:
		w.coast(until)
	case !w.on && w.need <= 0:
		w.pass(until-w.now, 0, 0, w.levels[w.in].psi)
		w.now = until
	case !w.on:
		w.on = true
		w.noteStart()
	case len(w.levels) == 1 && w.need <= 0:
		w.on = false
	default:
		w.push(until)
	}
}

// coast lets the tank carry the house, the pump standing.
func (w *walk) coast(until float64) {
	bottom := w.levels[w.in].water
	if w.water > w.asked+1e-12 {
		bottom = max(bottom, w.asked)
	}
	dt := until - w.now
	after := max(bottom, w.water-w.need*dt)
	if w.water-w.need*dt < bottom {
		dt = (w.water - bottom) / w.need
	}
	w.pass(dt, 0, after-w.water, w.pressure(after))
	w.now = w.arrive(dt, until)
}

// arrive adds a time without missing the event it leads to by rounding.
func (w *walk) arrive(dt, until float64) float64 {
	if at := w.now + dt; at < until && at > w.now {
		return at
	} else if at <= w.now && dt < until-w.now {
		return math.Nextafter(w.now, until)
	}
	return until
}

// noteStart counts a start of the pump and keeps the last hour's.
func (w *walk) noteStart() {
	w.rec.Starts++
	w.hour = append(w.hour, w.now)
	old := 0
	for w.hour[old] <= w.now-60 {
		old++
	}
	w.hour = slices.Delete(w.hour, 0, old)
	w.rec.BusiestHour = max(w.rec.BusiestHour, len(w.hour))
}

// pass books a stretch of time over which the pump moved pumped gallons, the
// tank changed, and the gauge stood at psi where it was lowest. What is neither
// pumped nor lent was not delivered.
func (w *walk) pass(dt, pumped, change, psi float64) {
	if over := w.drawn + pumped - w.yield*dt - w.storage; over > 0 && pumped > 0 {
		pumped, change = pumped-over, max(change-over, -w.water)
	}
	got := pumped - change
	w.delivered += got
	w.unmet += max(0, w.need*dt-got)
	w.pumped += pumped
	w.water += change
	w.well(dt, pumped)
	if w.wanted == 0 {
		return
	}
	if psi < w.lowest {
		w.lowest, w.lowestAt = psi, w.now+dt
	}
	w.below(dt, psi)
}

// below counts the time short. A stretch lies wholly on one side of the pressure
// asked for, which is one of the levels.
func (w *walk) below(dt, psi float64) {
	low := psi < w.floor*(1-1e-9)
	if low {
		w.short += dt
		if !w.low {
			w.rec.ShortSpells++
		}
	}
	w.low = low
}

// well books what the pump took from the casing and what the well put back.
func (w *walk) well(dt, pumped float64) {
	before := w.drawn
	w.drawn += pumped - w.yield*dt
	if w.drawn <= 0 {
		if before > 0 {
			w.rec.Recovered = minutesOf(w.now + dt*before/max(before-w.drawn, 1e-12))
		}
		w.drawn = 0
	}
	w.drawn = min(w.drawn, w.storage)
	if w.drawn > w.deepest {
		w.deepest, w.deepestAt = w.drawn, w.now+dt
	}
}

func (w *walk) sample() {
	q := 0.0
	if w.on {
		q = w.given(w.curve(w.pressure(w.water)))
	}
	level := 0.0
	if w.fall > 0 {
		level = unit.PSI(w.drawn * w.fall).FtWater()
	}
	w.rec.Minutes = append(w.rec.Minutes, Minute{
		At: w.now, Storage: unit.Gal(w.storage - w.drawn), LevelDrop: unit.Ft(level),
		TankWater: unit.Gal(w.water), Pump: unit.GPM(q), Pressure: unit.PSI(w.gauge()),
	})
}
