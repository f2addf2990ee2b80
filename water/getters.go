package water

import (
	"math"
	"strconv"

	"wellwright/unit"
)

// Canonical returns the figure and the unit it is in. For Below and Above the
// figure is the limit; Present and Absent have none.
func (a Amount) Canonical() (v float64, unit string) { return a.v, a.Analyte.Unit() }

// Numeric reports whether the amount has a figure at all.
func (a Amount) Numeric() bool { return a.Sign != Present && a.Sign != Absent }

// NonDetect says what is put in the place of a result below a limit.
type NonDetect int

// The conventions. Half the limit is the common one; an agency's own sums are
// often made at the limit.
const (
	AtHalf NonDetect = iota
	AtZero
	AtLimit
)

// value returns the canonical figure with nd in the place of a non-detect.
func (a Amount) value(nd NonDetect) float64 {
	if a.Sign == Absent {
		return 0
	}
	if a.Sign != Below {
		return a.v
	}
	switch nd {
	case AtZero:
		return 0
	case AtLimit:
		return a.v
	}
	return a.v / 2
}

// At returns the amount as an exact one, with nd in the place of a non-detect.
func (a Amount) At(nd NonDetect) Amount {
	a.v = a.value(nd)
	if a.Sign == Below {
		a.Sign = Exact
	}
	return a
}

func (a Amount) is(d Dimension) bool { return a.Numeric() && a.Analyte.Dimension() == d }

// Concentration returns a mass in water; not ok for another dimension or no figure.
func (a Amount) Concentration() (unit.Concentration, bool) { return unit.MgPerL(a.v), a.is(OfMass) }

// Hardness returns a hardness.
func (a Amount) Hardness() (unit.Hardness, bool) { return unit.HardnessAsCaCO3(a.v), a.is(OfHardness) }

// Alkalinity returns an alkalinity.
func (a Amount) Alkalinity() (unit.Alkalinity, bool) {
	return unit.AlkalinityAsCaCO3(a.v), a.is(OfAlkalinity)
}

// Nitrogen returns a nitrogen compound as N.
func (a Amount) Nitrogen() (unit.Nitrogen, bool) { return unit.MgPerLAsN(a.v), a.is(OfNitrogen) }

// Phosphorus returns a phosphorus compound as P.
func (a Amount) Phosphorus() (unit.Phosphorus, bool) { return unit.MgPerLAsP(a.v), a.is(OfPhosphorus) }

// Sulfide returns sulfide of every form as H2S.
func (a Amount) Sulfide() (unit.Sulfide, bool) { return unit.MgPerLAsH2S(a.v), a.is(OfSulfide) }

// Chlorine returns a residual as Cl2.
func (a Amount) Chlorine() (unit.Chlorine, bool) { return unit.MgPerLAsCl2(a.v), a.is(OfChlorine) }

// PH returns a pH.
func (a Amount) PH() (unit.PH, bool) { return unit.PHOf(a.v), a.is(OfPH) }

// Temperature returns a temperature.
func (a Amount) Temperature() (unit.Temperature, bool) { return unit.Celsius(a.v), a.is(OfTemperature) }

// Conductivity returns a conductivity.
func (a Amount) Conductivity() (unit.Conductivity, bool) {
	return unit.USPerCm(a.v), a.is(OfConductivity)
}

// Turbidity returns a turbidity.
func (a Amount) Turbidity() (unit.Turbidity, bool) { return unit.NTU(a.v), a.is(OfTurbidity) }

// Potential returns a redox potential, against whatever electrode was written.
func (a Amount) Potential() (unit.Potential, bool) { return unit.MV(a.v), a.is(OfPotential) }

// Radioactivity returns a radioactivity.
func (a Amount) Radioactivity() (unit.Radioactivity, bool) {
	return unit.PCiPerL(a.v), a.is(OfRadioactivity)
}

// Count returns organisms in 100 mL. Absent is none; Present has no figure.
func (a Amount) Count() (unit.Count, bool) {
	if a.Sign == Absent && a.Analyte.Dimension() == OfCount {
		return unit.Per100mL(0), true
	}
	return unit.Per100mL(a.v), a.is(OfCount)
}

var signMarks = [...]string{Exact: "", Below: "<", Above: ">", Present: "present", Absent: "absent"}

// mark writes the figure of an amount with its sign and no unit; a pH keeps its
// tenths.
func mark(a Amount) string {
	if a.Analyte == PH && a.v == math.Trunc(a.v) {
		return signMarks[a.Sign] + strconv.FormatFloat(a.v, 'f', 1, 64)
	}
	return signMarks[a.Sign] + unit.Digits(a.v)
}

// String writes the amount with its sign and canonical unit.
func (a Amount) String() string {
	if !a.Numeric() {
		return signMarks[a.Sign]
	}
	if a.Analyte == PH {
		return mark(a)
	}
	return mark(a) + " " + a.Analyte.Unit()
}

// MarshalText writes the amount as String does.
func (a Amount) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// String returns the mark of the sign: "", "<", ">", "present" or "absent".
func (s Sign) String() string {
	if s < 0 || int(s) >= len(signMarks) {
		return "unknown sign"
	}
	return signMarks[s]
}
