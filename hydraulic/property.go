package hydraulic

import (
	"math"

	"wellwright/unit"
)

// gravity is the standard acceleration of free fall, m/s2, by definition.
const gravity = 9.80665

// Density returns the density of air-free water at one atmosphere, kg/m3.
//
//	rho = (999.83952 + 16.945176 t - 7.9870401e-3 t2 - 46.170461e-6 t3
//	       + 105.56302e-9 t4 - 280.54253e-12 t5) / (1 + 16.879850e-3 t)
//
//	t  temperature, °C
//
// Range: 0 to 150 °C. Error: below 0.01 kg/m3.
// Source: Kell, 1975, J. Chem. Eng. Data 20:97 (from memory).
func Density(t unit.Temperature) float64 {
	c := t.Celsius()
	poly := 999.83952 + c*(16.945176+c*(-7.9870401e-3+c*(-46.170461e-6+c*(105.56302e-9-280.54253e-12*c))))
	return poly / (1 + 16.879850e-3*c)
}

// Viscosity returns the dynamic viscosity of water at one atmosphere, Pa·s.
//
//	mu = 1e-6 (280.68 T*^-1.9 + 511.45 T*^-7.7 + 61.131 T*^-19.6 + 0.45903 T*^-40)
//
//	T*  temperature, K, divided by 300
//
// Range: 253 to 383 K. Error: 1 %.
// Source: IAPWS R12-08, 2008, simple form for 0.1 MPa (from memory).
func Viscosity(t unit.Temperature) float64 {
	r := math.Log(t.Kelvin() / 300)
	return 1e-6 * (280.68*math.Exp(-1.9*r) + 511.45*math.Exp(-7.7*r) +
		61.131*math.Exp(-19.6*r) + 0.45903*math.Exp(-40*r))
}

// kinematic returns viscosity over density, m2/s.
func kinematic(t unit.Temperature) float64 { return Viscosity(t) / Density(t) }

// metersPerSecond reads a loading as the superficial velocity it is.
func metersPerSecond(v unit.Loading) float64 {
	return unit.GPM(v.GPMPerFt2()).M3PerHour() / 3600 / squareMeters(unit.Ft2(1))
}

// loading writes a superficial velocity in m/s as a loading.
func loading(ms float64) unit.Loading {
	return unit.GPMPerFt2(unit.M3PerHour(ms * 3600 * squareMeters(unit.Ft2(1))).GPM())
}

func squareMeters(a unit.Area) float64 {
	side := unit.Ft(1).M()
	return a.Ft2() * side * side
}
