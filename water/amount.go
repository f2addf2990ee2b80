package water

import (
	"fmt"
	"math"

	"wellwright/unit"
)

// Amount is a result in the canonical unit of its analyte, its sign kept. It is
// made from a Result and read through a getter that names the unit.
type Amount struct {
	Analyte  Analyte
	Fraction Fraction
	Sign     Sign
	Assumed  string // what the report did not say and was taken for granted; "" if nothing
	v        float64
}

// Amount turns the result into the canonical unit of its analyte.
//
// A result that is no number, a unit of another dimension, a basis that does not
// fit and a figure that cannot be are errors.
func (r Result) Amount() (Amount, error) {
	e, ok := lookUp(r.Analyte)
	if !ok {
		return Amount{}, fmt.Errorf("%s: not an analyte known here", r.Analyte)
	}
	a := Amount{Analyte: r.Analyte, Fraction: r.Fraction, Sign: r.Sign}
	if r.Sign == Present || r.Sign == Absent {
		return a, nil
	}
	m, basis, err := r.unitAndBasis()
	if err != nil {
		return Amount{}, fmt.Errorf("%s: %w", e.name, err)
	}
	figure, err := r.figure()
	if err != nil {
		return Amount{}, fmt.Errorf("%s: %w", e.name, err)
	}
	if a.v, a.Assumed, err = e.canonical(figure, m, basis); err != nil {
		return Amount{}, fmt.Errorf("%s %g %s: %w", e.name, figure, r.Unit, err)
	}
	return a, a.possible()
}

// figure is the number written, or for a non-detect without one its limit.
func (r Result) figure() (float64, error) {
	if r.Sign != Below || r.Value != 0 {
		return r.Value, nil
	}
	if r.Limit == nil {
		return 0, fmt.Errorf("not detected, but the report does not say below what; want the detection limit")
	}
	return *r.Limit, nil
}

// unitAndBasis reads the unit and brings the two places a basis may stand together.
func (r Result) unitAndBasis() (measure, string, error) {
	m, inUnit, err := splitUnit(r.Unit)
	if err != nil {
		return m, "", err
	}
	said, err := basisOf(r.Basis)
	if err != nil {
		return m, "", err
	}
	if said != "" && inUnit != "" && said != inUnit {
		return m, "", fmt.Errorf("basis %q against unit %q: they name two bases", r.Basis, r.Unit)
	}
	return m, either(inUnit, said), nil
}

// canonical turns v, in measure m and on a basis, into the unit of e. The second
// result says what had to be assumed.
func (e entry) canonical(v float64, m measure, basis string) (float64, string, error) {
	switch e.dim {
	case OfMass, OfHardness, OfAlkalinity, OfNitrogen, OfPhosphorus, OfSulfide, OfChlorine:
		return e.concentration(v, m, basis)
	case OfTemperature:
		if m.family == fahrenheit {
			return unit.Fahrenheit(v).Celsius(), "", nil
		}
	}
	want, free := plainFamily(e.dim)
	if m.family == want {
		return v * m.factor, "", nil
	}
	if m.family == noUnit && free {
		return v, "", nil
	}
	return 0, "", fmt.Errorf("the unit is of another kind; want %s", e.dim.Unit())
}

// plainFamily returns the family of units of a dimension that needs no basis,
// and whether the unit may be left out.
func plainFamily(d Dimension) (want family, free bool) {
	switch d {
	case OfPH:
		return phUnit, true
	case OfTemperature:
		return celsius, false
	case OfConductivity:
		return conductance, false
	case OfTurbidity:
		return cloudiness, false
	case OfColour:
		return colourUnit, true
	case OfOdour:
		return odourUnit, true
	case OfPotential:
		return voltage, false
	case OfRadioactivity:
		return activity, false
	case OfCount:
		return count, true
	case OfDays:
		return days, false
	}
	return percent, false
}

// concentration turns v into milligrams a litre on the basis of e.
//
//	c = v · f                      same basis
//	c = v · f · M(e)·n / (M(b)·k)  other basis b
//
//	v     figure as written
//	f     factor of the unit to mg/L
//	M     molar mass, g/mol
//	n, k  moles of the counted atom in one mole of either formula
//
// CaCO3 stands for two equivalents; ions are brought over by their charge.
// Source: definitions; atomic weights as above.
func (e entry) concentration(v float64, m measure, basis string) (float64, string, error) {
	switch m.family {
	case massPerL:
		return e.onBasis(v*m.factor, basis)
	case asHardness:
		if !e.hard() {
			return 0, "", fmt.Errorf("grains and degrees count calcium carbonate, not this; want %s", e.dim.Unit())
		}
		c, _, err := e.onBasis(v*m.factor, "CaCO3")
		return c, "", err
	case molesPerL:
		if e.basis == "" {
			return 0, "", fmt.Errorf("moles need a formula; want %s", e.dim.Unit())
		}
		if e.dim == OfAlkalinity { // a mole of acid neutralised
			return v * m.factor * equivalentCaCO3, "", nil
		}
		return v * m.factor * basisMass[e.basis].mass, "", nil
	case equivPerL:
		if e.charge == 0 {
			return 0, "", fmt.Errorf("it carries no charge to count equivalents by; want %s", e.dim.Unit())
		}
		return v * m.factor * e.equivalentMass(), "", nil
	}
	return 0, "", fmt.Errorf("the unit is of another kind; want %s", e.dim.Unit())
}

// hard reports whether anybody counts e in grains or degrees.
func (e entry) hard() bool {
	return e.dim == OfHardness || e.dim == OfAlkalinity || e.id == Calcium || e.id == Magnesium
}

// equivalentMass is the mass of one equivalent in the canonical unit, mg/meq.
func (e entry) equivalentMass() float64 {
	if e.basis == "CaCO3" {
		return equivalentCaCO3
	}
	return basisMass[e.basis].mass / math.Abs(e.charge)
}

// onBasis turns mg/L on one basis into mg/L on that of e.
func (e entry) onBasis(c float64, basis string) (float64, string, error) {
	if basis == "" || basis == e.basis {
		return c, e.assumed(basis), nil
	}
	b, ok := basisMass[basis]
	if e.basis == "" || !ok || !e.takes(basis) {
		return 0, "", fmt.Errorf("as %s is no basis for it; want %s", basis, e.dim.Unit())
	}
	if basis == "CaCO3" { // two equivalents a mole
		return c / equivalentCaCO3 * e.equivalentMass(), "", nil
	}
	if e.basis == "CaCO3" {
		return c / b.mass * float64(equivalents[basis]) * equivalentCaCO3, "", nil
	}
	return c / b.mass * b.atoms * basisMass[e.basis].mass, "", nil
}

// equivalents are how many equivalents a mole of an ion brings to hardness or alkalinity.
var equivalents = map[string]int{"Ca": 2, "Mg": 2, "HCO3": 1, "CO3": 2}

// basesOf are the bases, besides its own, that a dimension or an analyte takes.
var basesOf = map[Analyte][]string{
	Nitrate: {"NO3"}, Nitrite: {"NO2"}, NitrateNitrite: {"NO3"}, Ammonia: {"NH4", "NH3"},
	Phosphate: {"PO4", "P2O5", "HPO4"}, TotalPhosphorus: {"PO4", "P2O5"},
	Sulfide: {"S"}, Sulfate: {"S"}, Silica: {"Si"},
	Hardness: {"Ca"}, Alkalinity: {"HCO3", "CO3"}, CO2: {"C"}, TOC: {"CO2"},
}

// takes reports whether a result for e may be expressed on basis.
func (e entry) takes(basis string) bool {
	if basis == "CaCO3" {
		return e.charge != 0
	}
	for _, b := range basesOf[e.id] {
		if b == basis {
			return true
		}
	}
	return false
}

// assumed says that a basis was not written where it changes the figure much.
func (e entry) assumed(basis string) string {
	if basis != "" {
		return ""
	}
	switch e.dim {
	case OfNitrogen, OfPhosphorus:
		return "taken as " + e.basis + ": the basis was not said"
	}
	return ""
}

// possible refuses amounts that cannot be.
func (a Amount) possible() error {
	name := a.Analyte.Name()
	switch {
	case math.IsNaN(a.v) || math.IsInf(a.v, 0):
		return fmt.Errorf("%s: %g is not a number", name, a.v)
	case a.Analyte == PH && (a.v < -2 || a.v > 16):
		return fmt.Errorf("pH %g: want 0 to 14", a.v)
	case a.Analyte == Temperature && (a.v < -5 || a.v > 100):
		return fmt.Errorf("water temperature %g C: want 0 to 100", a.v)
	case a.v < 0 && !mayBeNegative(a.Analyte):
		return fmt.Errorf("%s %g %s: below zero", name, a.v, a.Analyte.Unit())
	}
	return nil
}

func mayBeNegative(a Analyte) bool {
	switch a {
	case ORP, Temperature, PH, Acidity, Alkalinity:
		return true
	}
	return false
}
