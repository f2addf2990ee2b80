package hydraulic

import (
	"testing"

	"wellwright/unit"
)

func TestWaterProperties(t *testing.T) {
	const kell = "handbook values of pure water at 1 atm, Kell 1975 and IAPWS R12-08 (from memory)"
	var rows []row
	for _, w := range []struct{ c, rho, mu float64 }{
		{0, 999.84, 1.792}, {5, 999.96, 1.518}, {10, 999.70, 1.306}, {12, 999.50, 1.234},
		{15, 999.10, 1.138}, {20, 998.20, 1.002}, {25, 997.04, 0.890}, {30, 995.65, 0.797},
	} {
		rows = append(rows,
			row{"Density", Density(celsius(w.c)), w.rho, 0.011, kell},
			row{"Viscosity mPa·s", Viscosity(celsius(w.c)) * 1000, w.mu, 0.0011, kell})
	}
	rows = append(rows,
		row{"velocity of 1 gpm/ft2", inMPerHour(unit.GPMPerFt2(1)), 2.4447, 0.0002, "definition of the gallon and the foot"},
		row{"loading of 2.4447 m/h", mPerHour(2.4447).GPMPerFt2(), 1, 0.0001, "definition of the gallon and the foot"})
	check(t, rows)
}
