package hydraulic

import (
	"errors"
	"fmt"
	"math"

	"wellwright/unit"
)

// Layer is a share of a bed's mass with its grain size.
type Layer struct {
	Share float64
	Size  unit.Length
}

// Stratified is a bed that backwash has sorted into layers by size. Shares need
// not add up to one: a sieve analysis as printed is taken as it stands.
type Stratified struct {
	Layers     []Layer
	Porosity   float64
	Sphericity float64
}

// RoseLoss returns the loss of a clean sorted bed after Rose.
//
//	h = 1.067 V2 L/(phi g e4) S(C f/d),  C = 24/R (R < 0.5), 24/R + 3/sqrt R + 0.34
//	R = phi V d/nu
//
//	f, d  share and size of a layer
//
// Range: settled bed. Error: a quarter; it reads higher than CarmanLoss.
// Source: Davis, 2010, Water and Wastewater Engineering, table 11-2.
func (b Stratified) RoseLoss(v unit.Loading, depth unit.Length, t unit.Temperature) unit.Pressure {
	u := metersPerSecond(v)
	head := 1.067 * u * u * depth.M() / (b.Sphericity * gravity * math.Pow(b.Porosity, 4)) * b.roseSum(u, kinematic(t))
	return unit.KPa(head * Density(t) * gravity / 1000)
}

// roseSum is S(C f/d), 1/m.
func (b Stratified) roseSum(u, nu float64) float64 {
	sum := 0.0
	for _, l := range b.Layers {
		d := l.Size.M()
		sum += drag(b.Sphericity*u*d/nu) * l.Share / d
	}
	return sum
}

// CarmanLoss returns the loss of a clean sorted bed after Carman and Kozeny.
//
//	h = 1/phi (1-e)/e3 L V2/g S(F f/d),  F = 150 (1-e)/R + 1.75
//
// Range: settled bed. Error: a quarter; it reads lower than RoseLoss.
// Source: Davis, 2010, Water and Wastewater Engineering, table 11-2.
func (b Stratified) CarmanLoss(v unit.Loading, depth unit.Length, t unit.Temperature) unit.Pressure {
	u, e := metersPerSecond(v), b.Porosity
	sum := 0.0
	for _, l := range b.Layers {
		r := b.Sphericity * l.Size.M() * u / kinematic(t)
		sum += (ergunViscous*(1-e)/r + ergunInertial) * l.Share / l.Size.M()
	}
	head := (1 - e) / (e * e * e) * depth.M() * u * u / (b.Sphericity * gravity) * sum
	return unit.KPa(head * Density(t) * gravity / 1000)
}

// Sieve is one row of a sieve analysis: the share of the mass that passed an
// opening.
type Sieve struct {
	Opening unit.Length
	Passing float64
}

// standardOpenings are the openings of U.S. standard sieves, mm, ASTM E11.
var standardOpenings = map[int]float64{
	4: 4.75, 5: 4.00, 6: 3.35, 7: 2.80, 8: 2.36, 10: 2.00, 12: 1.70, 14: 1.40, 16: 1.18, 18: 1.00, 20: 0.850,
	25: 0.710, 30: 0.600, 35: 0.500, 40: 0.425, 45: 0.355, 50: 0.300, 60: 0.250, 70: 0.212, 80: 0.180, 100: 0.150,
	120: 0.125, 140: 0.106, 170: 0.090, 200: 0.075,
}

// SieveOpening returns the opening of a U.S. standard sieve by its number.
//
// Source: ASTM E11 (from memory).
func SieveOpening(number int) (opening unit.Length, ok bool) {
	mm, ok := standardOpenings[number]
	return unit.MM(mm), ok
}

// SizePassing returns the size that a share of the mass passes, on a straight
// line in the logarithm of the size between sieves.
//
// Range: shares between the first and last sieve. Error: 3 % of the size.
// Source: definition of effective size and uniformity.
func SizePassing(rows []Sieve, share float64) (unit.Length, error) {
	if err := checkSieves(rows); err != nil {
		return unit.Length{}, err
	}
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1], rows[i]
		if share >= a.Passing && share <= b.Passing && b.Passing > a.Passing {
			x := (share - a.Passing) / (b.Passing - a.Passing)
			return unit.MM(a.Opening.MM() * math.Pow(b.Opening.MM()/a.Opening.MM(), x)), nil
		}
	}
	return unit.Length{}, &RangeError{"sieve analysis", "share passing", share, rows[0].Passing, rows[len(rows)-1].Passing, ""}
}

func checkSieves(rows []Sieve) error {
	var errs []error
	if len(rows) < 2 {
		errs = append(errs, errors.New("sieve analysis: at least two sieves are needed"))
	}
	for i, r := range rows {
		if !(r.Opening.MM() > 0) || !(r.Passing >= 0 && r.Passing <= 1) {
			errs = append(errs, fmt.Errorf("sieve analysis: %g mm passing %g; opening must be above zero and passing 0 to 1", r.Opening.MM(), r.Passing))
		}
		if i > 0 && (r.Opening.MM() <= rows[i-1].Opening.MM() || r.Passing < rows[i-1].Passing) {
			errs = append(errs, fmt.Errorf("sieve analysis: %g mm after %g mm; rows must rise in opening and not fall in passing", r.Opening.MM(), rows[i-1].Opening.MM()))
		}
	}
	return errors.Join(errs...)
}
