package hydraulic

import (
	"math"

	"wellwright/unit"
)

// Grain is a granular medium as a bed sees it. Give either measured Ergun
// coefficients, which belong to D10, or a sphericity; with coefficients above
// zero the sphericity is not used.
type Grain struct {
	D10, D60      unit.Length
	D90           unit.Length // zero: taken from D10 and D60
	Porosity      float64     // of the settled bed
	Sphericity    float64
	Density       float64 // specific gravity of the wet grain, pores full
	ErgunViscous  float64
	ErgunInertial float64
}

// Shares of a log-normal grading between D10 and D60, in standard normal
// deviates: z10 = -1.2816, z60 = 0.2533, z90 = 1.2816.
const (
	z10 = -1.2815515655446004
	z60 = 0.2533471031357997
)

// Uniformity returns D60 over D10.
func (g Grain) Uniformity() float64 { return g.D60.MM() / g.D10.MM() }

// sigma is the spread of the logarithm of the size.
func (g Grain) sigma() float64 { return math.Log(g.Uniformity()) / (z60 - z10) }

// Percentile returns the size that a share of the mass passes, for a
// log-normal grading through D10 and D60.
//
//	d = D10 U^((z - z10)/(z60 - z10))
//
//	z  standard normal deviate of the share;  U  uniformity
//
// Range: shares of 0.01 to 0.99. Error: 10 % at the ends. Source: definition of
// the log-normal distribution.
func (g Grain) Percentile(share float64) unit.Length {
	z := math.Sqrt2 * math.Erfinv(2*share-1)
	return unit.MM(g.D10.MM() * math.Exp(g.sigma()*(z-z10)))
}

func (g Grain) d90() unit.Length {
	if g.D90.MM() > 0 {
		return g.D90
	}
	return g.Percentile(0.9)
}

// surfaceSize is the size that has the mean surface of the grading: the median
// times exp(-sigma2/2).
func (g Grain) surfaceSize() float64 {
	s := g.sigma()
	return g.D10.M() * math.Exp(-z10*s-s*s/2)
}

// ergun returns the two coefficients and the size they belong to in a settled
// bed, m.
func (g Grain) ergun() (viscous, inertial, size float64) {
	if g.ErgunViscous > 0 {
		return g.ErgunViscous, g.ErgunInertial, g.D10.M()
	}
	return ergunViscous, ergunInertial, g.Sphericity * g.surfaceSize()
}

// The coefficients of Ergun, 1952, for smooth spheres, as documented in the
// fluids library 1.3.1.
const (
	ergunViscous  = 150.0
	ergunInertial = 1.75
)

// HeadLoss returns the loss of a clean settled bed. Once the upward flow would
// lift the bed see Lifted; this is the loss of a bed held in place.
//
//	dP/L = kv mu (1-e)2 V/(e3 d2) + ki rho (1-e) V2/(e3 d)
//
//	V   loading as velocity;  e  porosity;  mu, rho  of the water
//	kv, ki, d  measured coefficients with D10; or 150, 1.75 and the sphericity
//	           times the surface-mean size
//
// Range: particle Reynolds number below 1000. Error: 15 % with measured
// coefficients, 30 % by sphericity. Source: Ergun, 1952; filter-media form as
// Davis, 2010, Water and Wastewater Engineering, table 11-2.
func (g Grain) HeadLoss(v unit.Loading, depth unit.Length, t unit.Temperature) unit.Pressure {
	kv, ki, d := g.ergun()
	u, e := metersPerSecond(v), g.Porosity
	viscous := kv * Viscosity(t) * (1 - e) * (1 - e) * u / (e * e * e * d * d)
	inertial := ki * Density(t) * (1 - e) * u * u / (e * e * e * d)
	return unit.KPa(depth.M() * (viscous + inertial) / 1000)
}

// Lifted returns the loss of a fluidised bed: its weight in water.
//
//	dP = L (1-e) (rhos - rho) g
//
// Range: above minimum fluidisation. Error: that of the grain density.
// Source: force balance.
func (g Grain) Lifted(depth unit.Length, t unit.Temperature) unit.Pressure {
	return unit.KPa(depth.M() * (1 - g.Porosity) * g.excess(t) * gravity / 1000)
}

// gravityBasis is the water that specific gravity is told against, kg/m3.
const gravityBasis = 1000.0

// excess is grain density less water density, kg/m3.
func (g Grain) excess(t unit.Temperature) float64 {
	return g.Density*gravityBasis - Density(t)
}

// MinFluidisation returns the loading that just lifts the coarse grains.
//
//	Re = sqrt(33.7^2 + 0.0408 Ga) - 33.7
//	Ga = d3 rho (rhos - rho) g / mu2,  d = D90
//
// Range: grains heavier than water, 0.1 to 5 mm. Error: 15 %.
// Source: Wen and Yu, 1966, as in Hendricks, Fundamentals of Water Treatment
// Unit Processes, p. 367.
func (g Grain) MinFluidisation(t unit.Temperature) unit.Loading {
	d, rho, mu := g.d90().M(), Density(t), Viscosity(t)
	ga := d * d * d * rho * math.Max(0, g.excess(t)) * gravity / (mu * mu)
	re := math.Sqrt(33.7*33.7+0.0408*ga) - 33.7
	return loading(re * mu / (rho * d))
}

// DirtyLoss returns the loss of a bed that has taken up part of the solids it
// can hold, on a straight line from clean to terminal loss.
//
//	dP = dP0 + (dPt - dP0) s / S
//
//	s, S  solids held and capacity, for each area of bed
//
// Range: depth filtration, s up to S; a cake on the surface rises faster.
// Error: a factor of two without a trial on the site. Source: common practice.
func DirtyLoss(clean, terminal unit.Pressure, held, capacity Solids) unit.Pressure {
	share := math.Max(0, held.LbPerFt2()/capacity.LbPerFt2())
	return unit.PSI(clean.PSI() + math.Max(0, terminal.PSI()-clean.PSI())*share)
}
