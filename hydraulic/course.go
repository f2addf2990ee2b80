package hydraulic

import (
	"math"

	"wellwright/unit"
)

// Moment is a supply in the course of a draw that takes what it can get.
type Moment struct {
	Minute
	Given unit.Flow // what the draw gets
	Short Shortage  // what holds it below the flow asked; ShortNone: nothing does
}

// Course carries a draw to its end step by step, as [Simulate] does, and goes on
// where that stops: from then on the draw gets what pump and well still give at
// the pressure asked for. The first moment is the beginning.
//
// Error and source as Simulate.
func (s Supply) Course(d Draw) []Moment {
	m := newMachine(&s, d)
	if m.minutes == 0 {
		return nil
	}
	need := d.Flow.GPM() + m.house
	now := state{water: m.start, drawn: m.drawn}
	steps := int(math.Round(m.minutes / m.step))
	course := make([]Moment, 0, steps+1)
	for i := 1; i <= steps; i++ {
		before := now
		now.short = ShortNone
		m.advance(&now, need)
		got := m.given(before, now, need)
		if i == 1 {
			course = append(course, m.moment(0, need, got, before, now))
		}
		course = append(course, m.moment(float64(i)*m.step, need, got, now, now))
	}
	return course
}

// given is what a draw gets within a step: the flow asked, or else what the pump
// moves and the tank lends, the house served first.
func (m *machine) given(before, after state, need float64) float64 {
	got := need
	if after.short != ShortNone {
		got = min(need, after.pump+(before.water-after.water)/m.step)
	}
	return max(0, got-m.house)
}

// moment writes down the supply as it stands, with the flow and the shortage of
// the step it belongs to.
func (m *machine) moment(at, need, got float64, stands, step state) Moment {
	stands.on, stands.pump, stands.short = step.on, step.pump, step.short
	var minutes [1]Minute
	record := minutes[:0]
	m.note(&record, at, need, &stands)
	return Moment{Minute: record[0], Given: unit.GPM(got), Short: step.short}
}
