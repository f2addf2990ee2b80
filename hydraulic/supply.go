package hydraulic

import (
	"math"
	"time"

	"wellwright/unit"
)

// Supply is what stands behind a draw of water: pump, switch, pressure tank and
// well. Yield, pump flow and casing storage are three different numbers: what
// the rock gives, what the pump moves, what stands ready over the intake.
type Supply struct {
	Pump          PumpAtTank
	CutIn, CutOut unit.Pressure
	Tank          PressureTank // zero: no tank, nothing lent
	Yield         unit.Flow
	CasingStorage unit.Volume // usable, above the intake and its cover
	CasingBore    unit.Length // zero: not known; the falling level is then not charged to the pump
	HouseDraw     unit.Flow   // what the house takes meanwhile
}

// Draw is a steady use of water, such as a backwash. AtCutIn says that it
// begins as the pump starts, with nothing to lend in the tank; else the tank
// begins at cut-out.
type Draw struct {
	Flow        unit.Flow
	Minutes     float64
	MinPressure unit.Pressure
	AtCutIn     bool
}

// Shortage is what gives out first.
type Shortage int

// The shortages.
const (
	ShortNone Shortage = iota
	ShortPump          // the pump cannot hold the pressure at this flow
	ShortWell          // casing storage is gone and the yield is less than the draw
)

// String names the shortage.
func (s Shortage) String() string { return [...]string{"none", "pump", "well"}[s] }

// Minute is the supply at the end of one minute of a draw.
type Minute struct {
	At        float64       // minutes from the start
	Storage   unit.Volume   // usable water left in the casing
	LevelDrop unit.Length   // fall of the level in the casing; zero if its bore is not known
	TankWater unit.Volume   // water in the pressure tank
	Pump      unit.Flow     // what the pump moved
	Pressure  unit.Pressure // at the tank
}

// Run is how a supply bears a draw. Short says what stops a flow just above
// Available, and if the draw was not delivered what stopped it. SwitchLow says
// that the pressure asked for is above cut-in: the answer takes the switch as
// set up to it.
type Run struct {
	Available unit.Flow // largest steady flow held for the whole draw at the pressure asked for
	Delivered bool
	Lasted    float64 // minutes
	Short     Shortage
	SwitchLow bool
	Minutes   []Minute
}

// Simulate runs a draw step by step.
//
//	dV/dt = q - Q - h          pressure tank
//	dD/dt = q - yield, D >= 0  drawn from the casing
//	q <= pump(P + fall of level),  q <= yield once D = storage
//
//	V  water in the tank, P its pressure by Boyle's law
//	Q  the draw;  h  use in the house
//
// The tank lends its water first; the pump starts at cut-in. What the pump
// puts back into the tank during the draw is not counted on, so the answer is
// low by at most one drawdown, and a stronger pump, a greater yield or more
// storage never lowers it.
//
// Range: draws of seconds to a day. Error: that of pump and yield; the steps
// add 2 % or 0.06 gpm at most. Source: water balance.
func Simulate(s Supply, d Draw) Run {
	m := newMachine(&s, d)
	run, _ := m.simulate(&s, d)
	return run
}

func (m *machine) simulate(s *Supply, d Draw) (Run, state) {
	run := Run{SwitchLow: d.MinPressure.PSI() > s.CutIn.PSI()}
	run.Available = unit.GPM(m.available())
	run.Minutes = make([]Minute, 0, int(m.minutes)+2)
	out := m.run(d.Flow.GPM(), &run.Minutes)
	run.Delivered, run.Lasted, run.Short = out.ok, out.lasted, out.short
	if out.ok {
		run.Short = m.run(run.Available.GPM()*1.01+0.01, nil).short
	}
	return run, out.end
}

// SimulateSeries runs draws one after another with a rest between, as when
// vessels are washed in one night. In the rest the pump fills the tank and the
// well makes good what it can beyond the use of the house; a casing too empty to
// fill the tank leaves the next draw to begin at cut-in.
//
// Error: as Simulate. Source: water balance.
func SimulateSeries(s Supply, draws []Draw, rest time.Duration) []Run {
	runs := make([]Run, 0, len(draws))
	drawn, atCutIn := 0.0, false
	for _, d := range draws {
		d.AtCutIn = d.AtCutIn || atCutIn
		m := newMachine(&s, d)
		m.drawn = drawn
		run, end := m.simulate(&s, d)
		runs = append(runs, run)
		fill := max(0, s.Tank.water(m.cutOut)-end.water)
		atCutIn = fill > m.storage-end.drawn+m.yield*rest.Minutes()
		if atCutIn {
			fill = 0
		}
		drawn = min(m.storage, max(0, end.drawn+fill-(m.yield-m.house)*rest.Minutes()))
	}
	return runs
}

// Available returns the largest steady flow the supply holds for the minutes at
// no less than the pressure, with the tank full at the start.
func (s Supply) Available(minutes float64, minPressure unit.Pressure) unit.Flow {
	m := newMachine(&s, Draw{Minutes: minutes, MinPressure: minPressure})
	return unit.GPM(m.available())
}

// machine is a supply in bare numbers: gallons, minutes, psi.
type machine struct {
	pump             *PumpAtTank
	minutes, step    float64
	floor            float64 // psi
	cutIn, cutOut    float64
	total, pre, pa   float64 // tank
	start, vIn, vLow float64 // tank water at the start, at cut-in, at the floor
	storage, yield   float64
	drawn            float64 // gone from the casing at the start
	fall             float64 // psi for each gallon drawn from the casing
	house            float64
}

// longestStep, fewestSteps and steepest keep the steps stable: a tank whose pressure moves
// by x psi a gallon, before a pump that loses steepest gpm a psi, settles in
// 1/(x·steepest) minutes. They do not look at the pump or the well, so that two
// supplies with one tank are stepped alike.
const (
	longestStep  = 0.5  // min
	shortestStep = 0.02 // min
	fewestSteps  = 40
	steepest     = 0.5 // gpm/psi
)

func newMachine(s *Supply, d Draw) machine {
	m := machine{
		pump: &s.Pump, minutes: math.Max(0, d.Minutes), floor: math.Max(0, d.MinPressure.PSI()),
		total: s.Tank.Total.Gal(), pre: s.Tank.Precharge.PSI(), pa: s.Tank.atmosphere(),
		storage: math.Max(0, s.CasingStorage.Gal()), yield: math.Max(0, s.Yield.GPM()),
		house: math.Max(0, s.HouseDraw.GPM()),
	}
	m.cutIn = math.Max(s.CutIn.PSI(), m.floor)
	m.cutOut = math.Max(s.CutOut.PSI(), m.cutIn)
	m.vIn, m.vLow = s.Tank.water(m.cutIn), s.Tank.water(m.floor)
	m.start = s.Tank.water(m.cutOut)
	if d.AtCutIn {
		m.start = m.vIn
	}
	if perFoot := CasingVolumePerFoot(s.CasingBore).Gal(); perFoot > 0 {
		m.fall = unit.FtWater(1 / perFoot).PSI()
	}
	m.step = m.stepLength()
	return m
}

func (m *machine) stepLength() float64 {
	if m.minutes == 0 {
		return 0
	}
	step := math.Min(longestStep, m.minutes/fewestSteps)
	if charge := (m.pre + m.pa) * m.total; charge > 0 {
		perGal := (m.cutIn + m.pa) * (m.cutIn + m.pa) / charge
		step = math.Min(step, 0.5/(perGal*steepest))
	}
	step = math.Max(step, math.Min(shortestStep, m.minutes))
	return m.minutes / math.Max(1, math.Ceil(m.minutes/step))
}

// closeEnough is where the search for the largest draw stops, gpm.
const closeEnough = 0.001

// available finds the largest draw by halving between what the pump holds with
// the casing drawn down and what all the water together would allow.
func (m *machine) available() float64 {
	if m.minutes == 0 {
		return 0
	}
	well := (m.storage-m.drawn)/m.minutes + m.yield
	lent := (m.start - m.vLow) / m.minutes
	high := math.Min(m.pump.flow(m.floor), well) + lent - m.house
	if !(high > 0) {
		return 0
	}
	if m.bears(high) {
		return high
	}
	low := math.Max(0, math.Min(m.pump.flow(m.floor+m.storage*m.fall), well)-m.house)
	for high-low > closeEnough {
		mid := (low + high) / 2
		if m.bears(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// bears reports whether a draw is held to its end. Without a tank the supply falls
// or rises steadily, so that its worst moment, first or last, tells without a walk.
func (m *machine) bears(draw float64) bool {
	if m.total > 0 {
		return m.run(draw, nil).ok
	}
	need := draw + m.house
	least := need * (1 - 1e-9)
	if m.yield+(m.storage-m.drawn)/m.minutes < least {
		return false
	}
	drawn := max(m.drawn, m.drawn+(need-m.yield)*m.minutes)
	return m.pump.flow(m.floor+drawn*m.fall) >= least
}

// Same reports whether two supplies are one and the same: every figure alike and
// the pump made from the same readings.
func (s Supply) Same(o Supply) bool {
	a, b := s.Pump, o.Pump
	pump := len(a.points) == len(b.points) && (len(a.points) == 0 || &a.points[0] == &b.points[0]) &&
		a.before == b.before && a.after == b.after && a.cap == b.cap && a.measuredAt == b.measuredAt
	return pump && s.CutIn == o.CutIn && s.CutOut == o.CutOut && s.Tank == o.Tank && s.Yield == o.Yield &&
		s.CasingStorage == o.CasingStorage && s.CasingBore == o.CasingBore && s.HouseDraw == o.HouseDraw
}
