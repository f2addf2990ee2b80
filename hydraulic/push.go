package hydraulic

import "math"

// curve returns what the pump gives against the gauge and the level to which the
// casing has fallen.
func (w *walk) curve(psi float64) float64 { return w.pump.flow(psi + w.drawn*w.fall) }

// empty reports that no storage is left over the intake.
func (w *walk) empty() bool { return w.drawn >= w.storage-1e-9 }

// given holds a flow to the yield once the storage is gone.
func (w *walk) given(q float64) float64 {
	if w.empty() {
		return min(q, w.yield)
	}
	return q
}

// finest is by how many psi the level in the casing may fall within one stretch
// over which the pump is read as if it stood still.
const finest = 1.0

// briefest keeps the way from being cut into ever shorter stretches as the
// casing runs empty; what the last of them pumps too much is taken back.
const briefest = 1e-3 // min

// wellTime returns how long a flow may go on before the casing is empty or has
// moved so far that the pump must be read again.
func (w *walk) wellTime(q float64) float64 {
	net := q - w.yield
	if net == 0 || net < 0 && w.drawn <= 0 || net > 0 && w.empty() {
		return math.Inf(1)
	}
	t := math.Inf(1)
	if net > 0 {
		t = (w.storage - w.drawn) / net
	}
	if w.fall > 0 {
		t = min(t, finest/(w.fall*math.Abs(net)))
	}
	return max(t, briefest)
}

// knot is what the pump gives with so much water in the tank; between two of
// them it is read on a straight line.
type knot struct{ water, gpm float64 }

// atRest is the flow into the tank, gpm, that counts as none; atLevel the water,
// gal, by which it counts as standing at a level.
const (
	atRest  = 1e-9
	atLevel = 1e-9
)

// push takes one stretch with the pump on.
func (w *walk) push(until float64) {
	if w.water <= 0 && (len(w.levels) == 1 || w.given(w.curve(w.levels[0].psi)) <= w.need) {
		w.straight(until)
		return
	}
	low, high := w.band()
	bend := (high.gpm - low.gpm) / (high.water - low.water)
	q := low.gpm + bend*(w.water-low.water)
	rate, target, most := q-w.need, high.water, q
	if rate < 0 {
		target, most = low.water, low.gpm
	}
	end := math.Inf(1)
	if math.Abs(rate) > atRest {
		if math.Abs(target-w.water) < atLevel {
			w.snap(target)
			return
		}
		end = reach(target-w.water, rate, bend)
	}
	dt := min(until-w.now, end, w.wellTime(most))
	change := grown(rate, bend, dt)
	if dt == end {
		change = target - w.water
	}
	w.moved(dt, until, change)
}

// snap puts the tank exactly at a level, where rounding left it beside.
func (w *walk) snap(water float64) {
	w.pumped += water - w.water
	w.water = water
	w.on = water < w.levels[w.top].water
}

// moved books a stretch of pumping and stops the pump at cut-out.
func (w *walk) moved(dt, until, change float64) {
	least := w.pressure(min(w.water, w.water+change))
	if min(w.water, w.water+change) <= 0 {
		least = w.levels[0].psi
	}
	w.running += dt
	if w.empty() {
		w.dry += dt
	}
	w.pass(dt, w.need*dt+change, change, least)
	w.now = w.arrive(dt, until)
	if top := w.levels[w.top].water; w.water >= top*(1-1e-12) {
		w.water, w.on = top, false
	}
}

// band returns the ends of the straight line that the tank goes along: the one
// above or below, as the pump gives more or less than is drawn.
func (w *walk) band() (low, high knot) {
	rising := w.given(w.curve(w.gauge())) > w.need
	i := 0
	for i < w.top-1 && (w.levels[i+1].water < w.water || rising && w.levels[i+1].water <= w.water) {
		i++
	}
	a, b := w.levels[i], w.levels[i+1]
	return w.held(knot{a.water, w.curve(a.psi)}, knot{b.water, w.curve(b.psi)})
}

// held holds a line to the yield once the casing is empty, cutting it where the
// pump alone would give just the yield.
func (w *walk) held(low, high knot) (knot, knot) {
	if !w.empty() || low.gpm <= w.yield {
		return low, high
	}
	if high.gpm >= w.yield {
		return knot{low.water, w.yield}, knot{high.water, w.yield}
	}
	cut := knot{low.water + (high.water-low.water)*(low.gpm-w.yield)/(low.gpm-high.gpm), w.yield}
	if w.water < cut.water || w.water == cut.water && w.yield < w.need {
		return knot{low.water, w.yield}, cut
	}
	return cut, high
}

// reach returns the time in which the tank gains x gallons, or +Inf if the pump
// comes to rest with the draw before it does.
func reach(x, rate, bend float64) float64 {
	if rate == 0 {
		return math.Inf(1)
	}
	grow := bend * x / rate
	switch {
	case grow <= -1:
		return math.Inf(1)
	case math.Abs(grow) < 1e-9:
		return x / rate
	}
	return math.Log1p(grow) / bend
}

// grown returns the gallons gained in a time.
func grown(rate, bend, dt float64) float64 {
	if math.Abs(bend*dt) < 1e-9 {
		return rate * dt
	}
	return rate * math.Expm1(bend*dt) / bend
}

// straight takes one stretch in which the pump feeds the draw with nothing in
// the tank to lend: the gauge stands where the pump gives what is drawn.
func (w *walk) straight(until float64) {
	psi, q := w.balance()
	dt := min(until-w.now, w.wellTime(q))
	w.running += dt
	if w.empty() && q >= w.yield*(1-1e-9) {
		w.dry += dt
	}
	w.pass(dt, q*dt, 0, psi)
	w.now = w.arrive(dt, until)
}

// balance returns the gauge and the flow of a pump that feeds the draw alone.
func (w *walk) balance() (psi, q float64) {
	most := w.curve(0)
	q = min(w.need, w.given(most))
	if q < w.need*(1-1e-12) {
		return 0, q
	}
	drop := w.drawn * w.fall
	return w.pump.pressure(w.need, drop, drop+w.levels[0].psi) - drop, q
}

// gauge returns the pressure at the tank.
func (w *walk) gauge() float64 {
	switch {
	case w.water > 0:
		return w.pressure(w.water)
	case !w.on:
		return w.levels[w.in].psi
	case len(w.levels) > 1 && w.given(w.curve(w.levels[0].psi)) > w.need:
		return w.levels[0].psi
	}
	psi, _ := w.balance()
	return psi
}
