package chem

import (
	"math"

	"wellwright/unit"
)

// OxygenSaturation returns dissolved oxygen in balance with moist air, fresh
// water.
//
//	ln C* = -139.34411 + 1.575701e5/T - 6.642308e7/T² + 1.2438e10/T³ - 8.621949e11/T⁴
//	C = C* P (1 - Pwv/P)(1 - θP) / ((1 - Pwv)(1 - θ))
//
//	C*   saturation at one atmosphere, mg/L
//	P    absolute pressure, atm
//	Pwv  vapour pressure of water, atm; θ second virial term, 1/atm
//
// Range: 0 to 40 °C; 0.5 to 1.1 atm as published. Under an air pocket of 40 to
// 60 psi gauge it stands on the same gas law; the virial term is then below 0.5 %.
// Zero where the pressure is no more than that of water vapour.
// Source: Benson & Krause 1984, Limnol. Oceanogr. 29:620 (published).
func OxygenSaturation(t unit.Temperature, absolute unit.Pressure) unit.Concentration {
	c, k, p := t.Celsius(), t.Kelvin(), absolute.KPa()/atmKPa
	pwv := vapourAtm(k)
	if p <= pwv {
		return unit.MgPerL(0)
	}
	theta := 0.000975 - 1.426e-5*c + 6.436e-8*c*c
	scale := (p - pwv) * (1 - theta*p) / ((1 - pwv) * (1 - theta))
	return unit.MgPerL(oxygenAtOneAtm(k) * scale)
}

func oxygenAtOneAtm(k float64) float64 {
	x := 1 / k
	return math.Exp(-139.34411 + x*(1.575701e5+x*(-6.642308e7+x*(1.243800e10-x*8.621949e11))))
}

// vapourAtm is the vapour pressure of water, atm, 0 to 40 °C (published: as used
// with the oxygen equation in Standard Methods 4500-O).
func vapourAtm(k float64) float64 { return math.Exp(11.8571 - 3840.70/k - 216961/(k*k)) }

// oxygenHenry is mol/L of oxygen for each atmosphere of oxygen, by the
// saturation equation.
func oxygenHenry(k float64) float64 {
	return oxygenAtOneAtm(k) / (molO2 * mgPerG) / (airO2 * (1 - vapourAtm(k)))
}

// SulfideGasShare returns the part of dissolved sulfide that is hydrogen sulfide
// and can leave with air.
//
//	share = 1/(1 + K1/{H+})
//
// Error: 0.02 from leaving out ionic strength; more from the pH reading.
// Source: constant of its factor.
func (m *Model) SulfideGasShare(t unit.Temperature, ph unit.PH) float64 {
	k := math.Exp(ln10 * m.logK(kH2S, powersOf(t.Kelvin())))
	x := k * activityOf(ph)
	return x / (1 + x)
}

// Gas is a gas that aeration moves.
type Gas int

// The gases.
const (
	GasCO2 Gas = iota
	GasH2S
	GasOxygen
	GasNH3
)

// Henry returns the solubility of a gas, mol/L for each atmosphere, as log10.
//
// Range: 0 to 40 °C. Source: constants of their factors; oxygen by Benson &
// Krause 1984.
func (m *Model) henry(g Gas, k float64) float64 {
	p := powersOf(k)
	switch g {
	case GasCO2:
		return math.Exp(ln10 * m.logK(kGasCO2, p))
	case GasH2S:
		return math.Exp(ln10 * (m.logK(kGasH2S, p) + m.logK(kH2S, p)))
	case GasNH3:
		return math.Exp(ln10 * m.logK(kGasNH3, p))
	}
	return oxygenHenry(k)
}

// GasRatio returns the amount of a gas in a volume of air over that in the same
// volume of water at balance.
//
//	H = 1/(K R T)
//
//	K  solubility, mol/L/atm
//
// Range: 0 to 40 °C. Source: constants of their factors.
func (m *Model) GasRatio(g Gas, t unit.Temperature) float64 {
	return 1 / (m.henry(g, t.Kelvin()) * gasLAtm * t.Kelvin())
}
