package hydraulic

import (
	"math"

	"wellwright/unit"
)

// virusCT is CT for free chlorine at pH 6 to 9, mg·min/L, by whole °C row and
// for 2, 3 and 4 log.
var virusCT = []struct {
	celsius float64
	log     [3]float64
}{
	{0.5, [3]float64{6, 9, 12}}, {5, [3]float64{4, 6, 8}}, {10, [3]float64{3, 4, 6}},
	{15, [3]float64{2, 3, 4}}, {20, [3]float64{1, 2, 3}}, {25, [3]float64{1, 1, 2}},
}

// VirusCT returns the CT that free chlorine needs for 2, 3 or 4 log of viruses.
// The row of the next lower temperature rules.
//
// Range: pH 6 to 9, 0.5 °C and up, clear water. Error: the table holds a safety
// factor of 3. Source: US EPA surface water treatment guidance manual, 1991,
// table E-7 (from memory).
func VirusCT(log int, ph unit.PH, t unit.Temperature) (CT, error) {
	switch {
	case log < 2 || log > 4:
		return CT{}, &RangeError{"virus CT", "inactivation", float64(log), 2, 4, "log"}
	case ph.Value() < 6 || ph.Value() > 9:
		return CT{}, &RangeError{"virus CT", "pH", ph.Value(), 6, 9, ""}
	case t.Celsius() < virusCT[0].celsius:
		return CT{}, &RangeError{"virus CT", "water temperature", t.Celsius(), virusCT[0].celsius, 30, "°C"}
	}
	row := virusCT[0]
	for _, r := range virusCT {
		if r.celsius <= t.Celsius() {
			row = r
		}
	}
	return CT{row.log[log-2]}, nil
}

// GiardiaCT returns the CT that free chlorine needs against Giardia.
//
//	CT = 0.2828 pH^2.69 C^0.15 0.933^(T-5) L
//
//	C  residual, mg/L;  T  °C;  L  log inactivation
//
// Range: pH 6 to 9, 0.5 to 5 °C (above, the law of temperature carries on),
// C 0.4 to 4 mg/L, L 0.5 to 3. Error: 10 % of the printed tables.
// Source: a consultant's page giving the regression to the US EPA tables.
func GiardiaCT(log float64, ph unit.PH, residual unit.Chlorine, t unit.Temperature) (CT, error) {
	p, c, k := ph.Value(), residual.MgPerLAsCl2(), t.Celsius()
	switch {
	case log < 0.5 || log > 3:
		return CT{}, &RangeError{"Giardia CT", "inactivation", log, 0.5, 3, "log"}
	case p < 6 || p > 9:
		return CT{}, &RangeError{"Giardia CT", "pH", p, 6, 9, ""}
	case c < 0.4 || c > 4:
		return CT{}, &RangeError{"Giardia CT", "free chlorine", c, 0.4, 4, "mg/L"}
	case k < 0.5 || k > 25:
		return CT{}, &RangeError{"Giardia CT", "water temperature", k, 0.5, 25, "°C"}
	}
	return CT{0.2828 * math.Pow(p, 2.69) * math.Pow(c, 0.15) * math.Pow(0.933, k-5) * log}, nil
}
