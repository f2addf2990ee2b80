package posterior

import "math"

// The free unknowns of a water: the coordinates but for alkalinity, particulate
// manganese, and the two that part the iron; then a deviation of iron for each
// visit and an error for each bottle.
const (
	nFree       = nPrior - 1
	manganeseOx = nFree     // logarithm of particulate manganese, mg/L
	toFerrous   = nFree + 1 // logarithm of ferrous over particulate
	toBound     = nFree + 2 // logarithm of bound over particulate
	nWater      = nFree + 3
	most        = nWater + mostVisits + mostBottles

	mostVisits  = 5
	mostBottles = 5
)

// vector is a value for every unknown.
type vector [most]float64

// Quantity is an amount in a water that a result may read, alone or in a sum.
// Those below Alkalinity and it itself are the coordinates.
type Quantity int

// The amounts that are not coordinates.
const (
	ManganeseOx Quantity = nPrior + iota
	Ferrous
	Particulate
	Bound
	nQuantities
)

// Charges are the milliequivalents that a milligram of each coordinate brings,
// cations positive; iron's is that of ferrous iron, particulate and bound bring none.
type Charges [nPrior]float64

// state is a water made from its unknowns.
type state struct {
	amount [nQuantities]float64 // mg/L; temperature and pH as they are
	share  [3]float64           // of the iron: ferrous, particulate, bound
	slope  [nWater]float64      // of the logarithm of alkalinity, by unknown
}

// make works out every amount; not ok where the charge leaves no alkalinity.
//
//	Alk = -Σ z c / z_Alk over all other ions
//
//	z  charge of a milligram, meq/mg;  c  amount, mg/L
//
// Source: the definition of alkalinity as the charge of strong ions (Stumm &
// Morgan, Aquatic Chemistry, from memory).
func (s *state) make(x *vector, z *Charges) bool {
	a := &s.amount
	a[Temperature], a[PH] = x[Temperature], x[PH]
	for i := Calcium; i < nFree; i++ {
		a[i] = math.Exp(x[i])
	}
	a[ManganeseOx] = math.Exp(x[manganeseOx])
	s.part(x)
	for i, p := range s.share {
		a[Ferrous+Quantity(i)] = p * a[Iron]
	}
	sum := z[Iron] * a[Ferrous]
	for i := Calcium; i < nFree; i++ {
		if i != Iron {
			sum += z[i] * a[i]
		}
	}
	a[Alkalinity] = -sum / z[Alkalinity]
	return a[Alkalinity] > leastAlkalinity
}

// leastAlkalinity is the least alkalinity of a well water, mg/L as CaCO3: below
// it the logarithm means nothing (judgement; household wells hold 5 and more).
const leastAlkalinity = 0.5

// part shares the iron out over its forms.
func (s *state) part(x *vector) {
	top := math.Max(0, math.Max(x[toFerrous], x[toBound]))
	f, p, b := math.Exp(x[toFerrous]-top), math.Exp(-top), math.Exp(x[toBound]-top)
	sum := f + p + b
	s.share = [3]float64{f / sum, p / sum, b / sum}
}

// slopes fills in how alkalinity follows the free unknowns.
func (s *state) slopes(z *Charges) {
	s.slope = [nWater]float64{}
	scale := -1 / (z[Alkalinity] * s.amount[Alkalinity])
	for i := Calcium; i < nFree; i++ {
		if i != Iron {
			s.slope[i] = scale * z[i] * s.amount[i]
		}
	}
	f := scale * z[Iron] * s.amount[Ferrous]
	s.slope[Iron] = f
	s.slope[toFerrous] = f * (1 - s.share[0])
	s.slope[toBound] = -f * s.share[2]
}

// addSlope adds w times the gradient of the logarithm of an amount to g.
func (s *state) addSlope(g *vector, q Quantity, w float64) {
	switch {
	case q == Alkalinity:
		for i, v := range s.slope {
			g[i] += w * v
		}
	case q < Alkalinity:
		g[q] += w
	case q == ManganeseOx:
		g[manganeseOx] += w
	default:
		g[Iron] += w
		g[toFerrous] -= w * s.share[0]
		g[toBound] -= w * s.share[2]
		switch q {
		case Ferrous:
			g[toFerrous] += w
		case Bound:
			g[toBound] += w
		}
	}
}
