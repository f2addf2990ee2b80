package posterior

import (
	"math"
	"math/rand/v2"
)

// Shared are the deviations that results of one visit or one bottle have in
// common.
type Shared struct {
	Visit, Bottle []float64 // of logarithms
}

// Simulate makes the figure that a result would show of a water: the law of the
// result with an error drawn.
func (m *Measure) Simulate(amount *[nQuantities]float64, shared Shared, r *rand.Rand) float64 {
	s := state{amount: *amount}
	mean, variance := m.expect(&s)
	if m.Visit >= 0 && m.Visit < len(shared.Visit) {
		mean += shared.Visit[m.Visit]
	}
	if m.Bottle >= 0 && m.Bottle < len(shared.Bottle) {
		mean += shared.Bottle[m.Bottle]
	}
	return m.unbend(m.bend(mean) + math.Sqrt(variance)*r.NormFloat64())
}
