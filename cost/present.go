package cost

import (
	"fmt"
	"math"

	"wellwright/unit"
)

// Rate is a share a year, such as interest.
type Rate struct{ share float64 }

// PerCentAYear makes a rate from per cent a year.
func PerCentAYear(v float64) Rate { return Rate{v / 100} }

// ShareAYear makes a rate from a share a year: 0.03 is 3 %.
func ShareAYear(v float64) Rate { return Rate{v} }

// PerCentAYear returns per cent a year.
func (r Rate) PerCentAYear() float64 { return r.share * 100 }

// ShareAYear returns the share a year.
func (r Rate) ShareAYear() float64 { return r.share }

// Term is a length of time.
type Term struct{ years float64 }

// TermYears makes a term from years.
func TermYears(v float64) Term { return Term{v} }

// Years returns years.
func (t Term) Years() float64 { return t.years }

// Rates are the two rates money is moved in time by. Both are real (inflation
// taken out) or both nominal.
type Rates struct {
	Discount   Rate
	Escalation Rate // by which the price itself rises
}

// RangeError says that an input lies outside what a formula holds for.
type RangeError struct {
	Method, Input string
	Got           float64
	Unit          string
	Low, High     float64
}

// Error names the formula, the input and its bounds.
func (e *RangeError) Error() string {
	return fmt.Sprintf("%s: %s %g %s is outside %g to %g %s", e.Method, e.Input, e.Got, e.Unit, e.Low, e.High, e.Unit)
}

// Bounds of the formulas: beyond them an answer would be arithmetic about nothing.
const (
	leastRate, mostRate = -0.5, 1.0
	mostYears           = 200.0
)

func within(method, input string, got float64, unitName string, low, high float64) error {
	if got >= low && got <= high { // false for NaN
		return nil
	}
	return &RangeError{method, input, got, unitName, low, high}
}

func checkRates(method string, t Term, rates ...Rate) error {
	for _, r := range rates {
		if err := within(method, "rate", r.PerCentAYear(), "% a year", 100*leastRate, 100*mostRate); err != nil {
			return err
		}
	}
	return within(method, "term", t.years, "years", 0, mostYears)
}

// SinglePresentValue returns what one dollar at the end of a term is worth today.
//
//	SPV = (1 + d)^−n
//
//	d  discount rate, a year;  n  term, years
//
// Range: d −50 to 100 % a year, n 0 to 200 years. Error: none but that of d.
// Source: Fuller and Petersen, NIST Handbook 135, Life-Cycle Costing Manual (1995).
func SinglePresentValue(d Rate, n Term) (float64, error) {
	if err := checkRates("single present value", n, d); err != nil {
		return 0, err
	}
	return spv(d.share, n.years), nil
}

func spv(d, n float64) float64 { return math.Pow(1+d, -n) }

// UniformPresentValue returns what one dollar at the end of each year of a term is
// worth today.
//
//	UPV = [1 − (1 + d)^−n] / d,  n if d = 0
//
//	d  discount rate, a year;  n  term, years
//
// Range: d −50 to 100 % a year, n 0 to 200 years. Error: none but that of d.
// Source: Fuller and Petersen, NIST Handbook 135, Life-Cycle Costing Manual (1995).
func UniformPresentValue(d Rate, n Term) (float64, error) {
	return ModifiedUPV(Rates{Discount: d}, n)
}

// ModifiedUPV returns what one dollar of today's prices at the end of each year of
// a term is worth today when the price rises.
//
//	UPV* = (1 + e)/(d − e) · [1 − ((1 + e)/(1 + d))^n],  n if d = e
//
//	d  discount rate, a year;  e  escalation, a year;  n  term, years
//
// Range: rates −50 to 100 % a year, n 0 to 200 years. Error: none but that of the
// rates.
// Source: US General Services Administration, P100 criteria, life-cycle cost factors.
func ModifiedUPV(r Rates, n Term) (float64, error) {
	if err := checkRates("modified uniform present value", n, r.Discount, r.Escalation); err != nil {
		return 0, err
	}
	return upv(r.Discount.share, r.Escalation.share, n.years), nil
}

// upv is written with log1p and expm1 so that nothing is lost when d is close to e.
func upv(d, e, n float64) float64 {
	if d == e {
		return n
	}
	decay := math.Log1p((e - d) / (1 + d)) // ln((1+e)/(1+d))
	return -math.Expm1(n*decay) * (1 + e) / (d - e)
}

// CapitalRecovery returns the level yearly payment that one dollar today is worth.
//
//	CRF = 1/UPV
//
// Range: as UniformPresentValue, n above 0. Error: none but that of d.
// Source: definition.
func CapitalRecovery(d Rate, n Term) (float64, error) {
	u, err := UniformPresentValue(d, n)
	if err != nil {
		return 0, err
	}
	if err := within("capital recovery", "term", n.years, "years", math.SmallestNonzeroFloat64, mostYears); err != nil {
		return 0, err
	}
	return 1 / u, nil
}

// Nominal is a rate of growth or interest as quoted, and the inflation in it.
type Nominal struct{ Quoted, Inflation Rate }

// RealRate takes inflation out of a quoted rate; it serves discount and
// escalation alike.
//
//	r = (1 + R)/(1 + I) − 1 = (R − I)/(1 + I)
//
//	R  rate as quoted, a year;  I  inflation, a year
//
// Range: both −50 to 100 % a year. Error: none but that of the rates.
// Source: identity; US General Services Administration, P100 criteria.
func RealRate(n Nominal) (Rate, error) {
	if err := checkRates("real rate", Term{}, n.Quoted, n.Inflation); err != nil {
		return Rate{}, err
	}
	return Rate{(n.Quoted.share - n.Inflation.share) / (1 + n.Inflation.share)}, nil
}

// Pumping is lifting water by an electric pump.
type Pumping struct {
	Head       unit.Pressure // total dynamic head
	Efficiency float64       // of pump and motor together, 0 to 1
	Volume     unit.Volume
}

// weightOfGal is the weight of a US gallon of cool water, lb: 8.34, common to
// engineering tables.
const weightOfGal = 8.34

// ftLbPerKWh is foot-pounds in a kilowatt hour, from the definitions of the foot
// (0.3048 m), the pound (0.45359237 kg) and standard gravity (9.80665 m/s2).
const ftLbPerKWh = 3.6e6 / (0.3048 * 0.45359237 * 9.80665)

// PumpingEnergy returns the electricity that lifting a volume of water takes.
//
//	E = 8.34·V·H/(2,655,224·η)
//
//	E  energy, kWh;  V  volume, gal;  H  head, ft;  η  efficiency
//
// Range: η above 0 to 1, head 0 to 3,000 ft. Error: that of η, often a quarter.
// Source: definition of work; per 1,000 gal it is 0.00314·H/η.
func PumpingEnergy(p Pumping) (unit.Energy, error) {
	const method = "pumping energy"
	if err := within(method, "efficiency", p.Efficiency, "", 0.01, 1); err != nil {
		return unit.Energy{}, err
	}
	if err := within(method, "head", p.Head.FtWater(), "ft", 0, 3000); err != nil {
		return unit.Energy{}, err
	}
	return unit.KWh(weightOfGal * p.Volume.Gal() * p.Head.FtWater() / (ftLbPerKWh * p.Efficiency)), nil
}
