package chem

import (
	"math"

	"wellwright/unit"
)

// debyeA returns the slope of the Debye-Hückel law in log10 form.
//
//	A = 1.82e6 · (E T)^-1.5,  E = 60954/(T + 116) - 68.937
//
// Range: 0 to 90 °C. Source: Standard Methods 2330 (published in public code).
func debyeA(t float64) float64 {
	et := (60954/(t+116) - 68.937) * t
	return 1.82e6 / (et * math.Sqrt(et))
}

// neutralSlope is log10 of a neutral solute's activity coefficient for each
// mol/L of ionic strength (from memory: WATEQ convention).
const neutralSlope = 0.1

// davies returns -ln of the activity coefficient of a singly charged ion and
// its derivative by ionic strength.
//
//	log g(z) = -A z² ( √I/(1+√I) - 0.3 I )
//
// Range: I below 0.5 mol/L. Source: Davies form as in Standard Methods 2330.
func davies(a, i float64) (g, dg float64) {
	s := math.Sqrt(i)
	g = ln10 * a * (s/(1+s) - 0.3*i)
	if s < 1e-9 {
		s = 1e-9
	}
	dg = ln10 * a * (0.5/(s*(1+s)*(1+s)) - 0.3)
	return g, dg
}

// IonicFromTDS returns ionic strength from dissolved solids.
//
//	I = 2.5e-5 TDS
//
// Range: below 1,000 mg/L. Error: a fifth, more in sulfate water.
// Source: Langelier 1936, Standard Methods 2330 (from memory).
func IonicFromTDS(tds unit.Concentration) IonicStrength {
	return IonicStrength{ionicFromTDS * tds.MgPerL()}
}

// ionicFromTDS is mol/L of ionic strength for each mg/L of dissolved solids.
const ionicFromTDS = 2.5e-5

// IonicFromConductivity returns ionic strength from electrical conductivity.
//
//	log I = 1.159 + 1.009 log EC, I in mmol/L, EC in dS/m
//
// Range: below 0.3 mol/L. Error: a tenth.
// Source: Marion & Babcock 1976 (published on a help page quoting Sposito).
func IonicFromConductivity(ec unit.Conductivity) IonicStrength {
	if ec.USPerCm() <= 0 {
		return IonicStrength{}
	}
	return IonicStrength{1e-3 * math.Pow(10, 1.159+1.009*math.Log10(ec.USPerCm()/1000))}
}
