package hydraulic

import (
	"math"

	"wellwright/unit"
)

// state is the supply between two steps.
type state struct {
	water float64 // gal in the tank
	drawn float64 // gal gone from the casing
	on    bool
	pump  float64 // gpm over the last step
	short Shortage
}

type outcome struct {
	ok     bool
	lasted float64
	short  Shortage
	end    state
}

// run carries a draw through; minutes are recorded if asked for.
func (m *machine) run(draw float64, record *[]Minute) outcome {
	need := draw + m.house
	s := state{water: m.start, drawn: m.drawn}
	steps := int(math.Round(m.minutes / max(m.step, 1e-9)))
	next := 1.0
	for i := 1; i <= steps; i++ {
		m.advance(&s, need)
		at := float64(i) * m.step
		if s.short != ShortNone {
			m.note(record, at, need, &s)
			return outcome{lasted: at - m.step, short: s.short, end: s}
		}
		if at >= next-1e-9 || i == steps {
			m.note(record, at, need, &s)
			next++
		}
	}
	return outcome{ok: true, lasted: m.minutes, end: s}
}

// advance moves the supply by one step; in the step in which the tank comes
// down to cut-in the pump runs for what is left of it.
func (m *machine) advance(s *state, need float64) {
	left := m.step
	if !s.on {
		out := min(need*left, s.water-m.vIn)
		if need*left <= s.water-m.vIn {
			s.water -= out
			s.drawn = max(0, s.drawn-m.yield*left)
			s.pump = 0
			return
		}
		s.on = true
		s.water -= out
		s.drawn = max(0, s.drawn-m.yield*out/need)
		left -= out / need
	}
	m.pumping(s, need, left)
}

// pumping takes one stretch with the pump on. Above cut-in it follows the draw;
// below, it gives all it can until the tank is back at cut-in.
func (m *machine) pumping(s *state, need, dt float64) {
	if dt <= 0 {
		return
	}
	well := (m.storage-s.drawn)/dt + m.yield
	wanted := need + max(0, m.vIn-s.water)/dt
	q := m.lifted(s, min(wanted, well), m.pressure(s.water), dt)
	if s.water+(q-need)*dt < m.vLow {
		least := need + (m.vLow-s.water)/dt
		q = m.lifted(s, min(least, well), m.floor, dt)
		if q < least*(1-1e-9) {
			s.short = ShortPump
			if q >= well*(1-1e-9) {
				s.short = ShortWell
			}
		}
	}
	s.water = max(0, s.water+(q-need)*dt)
	s.drawn = max(0, s.drawn+(q-m.yield)*dt)
	s.pump = q
}

// lifted returns what the pump gives of the flow asked, against the gauge and
// the level to which the casing falls by the end of the stretch.
func (m *machine) lifted(s *state, asked, psi, dt float64) float64 {
	q := min(asked, m.pump.flow(psi+s.drawn*m.fall))
	if m.fall > 0 && q > m.yield {
		q = min(q, m.pump.flow(psi+(s.drawn+(q-m.yield)*dt)*m.fall))
	}
	return q
}

// pressure returns the gauge pressure with water gallons in the tank.
func (m *machine) pressure(water float64) float64 {
	if water <= 0 || m.total <= 0 {
		return m.floor
	}
	return (m.pre+m.pa)*m.total/(m.total-water) - m.pa
}

func (m *machine) note(record *[]Minute, at, need float64, s *state) {
	if record == nil {
		return
	}
	psi := m.pressure(s.water)
	if s.on && s.short == ShortNone && s.water >= m.vIn*(1-1e-9) {
		drop := s.drawn * m.fall
		psi = m.pump.pressure(need, m.cutIn+drop, m.cutOut+drop) - drop
	}
	level := 0.0
	if m.fall > 0 {
		level = unit.PSI(s.drawn * m.fall).FtWater()
	}
	*record = append(*record, Minute{
		At: at, Storage: unit.Gal(max(0, m.storage-s.drawn)), LevelDrop: unit.Ft(level),
		TankWater: unit.Gal(s.water), Pump: unit.GPM(s.pump), Pressure: unit.PSI(psi),
	})
}
