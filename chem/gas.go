package chem

import (
	"fmt"
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

// henry returns the solubility of a gas, mol/L for each atmosphere, as log10.
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

// airCO2 is carbon dioxide in outdoor air, atm (from memory: about 420 ppm).
const airCO2 = 4.2e-4

// Air is a stream of outdoor air through water. Ratio is volumes of air, at the
// pressure and temperature of the water, for each volume of water. Approach is
// how far the contact goes toward balance, 0 to 1.
type Air struct {
	Ratio    float64
	Absolute unit.Pressure
	Approach float64
}

// Strip brings a mix toward balance with one passage of air: carbon dioxide and
// hydrogen sulfide leave, oxygen enters, pH rises; alkalinity stays.
//
//	C(in) + r p(air)/(R T) = C(out) + r p(out)/(R T),  p(out) = C*(out)/K
//
//	C*  part of C that is dissolved gas, at the pH of the outlet
//	r   volumes of air for each volume of water
//
// Range: 0 to 40 °C, fresh air in outdoor make. Error: the approach.
// Source: mass balance and Henry's law; constants of their factors.
func (m *Model) Strip(x Mix, c Conditions, a Air) (Mix, error) {
	p := poolOf(&x)
	v := Vessel{}
	if err := checkReact(&p, &c, &v); err != nil {
		return x, err
	}
	if !(a.Ratio >= 0) || !(a.Approach >= 0 && a.Approach <= 1) || !(a.Absolute.KPa() > 0) {
		return x, fmt.Errorf("stripping: air ratio %g, approach %g, %g kPa absolute; want a ratio of zero or more, an approach from 0 to 1 and a pressure above zero",
			a.Ratio, a.Approach, a.Absolute.KPa())
	}
	k := c.Temperature.Kelvin()
	perAtm := a.Ratio / (gasLAtm * k) // mol of gas to each litre of water, for each atm
	atm := a.Absolute.KPa() / atmKPa
	dry := max(0, atm-vapourAtm(k))
	acid := m.acidsIn(&c)
	carbon, sulfide := acid.strip(&p, p[iCarbon]+perAtm*airCO2*dry,
		perAtm/m.henry(GasCO2, k), perAtm/m.henry(GasH2S, k))
	oxygen := (p[iO2] + perAtm*airO2*dry) / (1 + perAtm/m.henry(GasOxygen, k))
	toward := func(from, to float64) float64 { return from + a.Approach*(to-from) }
	p[iO2] = toward(p[iO2], oxygen)
	p[iS] = toward(p[iS], sulfide)
	p[iCarbon] = toward(p[iCarbon], carbon)
	return mixOf(&p), nil
}

// strip finds carbon and sulfide left in balance with a gas that holds ratios
// gasC and gasS of the dissolved gases. Alkalinity rises as h falls, so that
// halving the bracket in ln h always finds the one answer.
func (a *acids) strip(p *pool, supply, gasC, gasS float64) (left, sulfide float64) {
	low, high := math.Log(1e-13), math.Log(1.0)
	for range 60 {
		mid := (low + high) / 2
		h := math.Exp(mid)
		left = supply / (1 + gasC*a.share(h))
		sulfide = p[iS] / (1 + gasS*h/(a.ks+h))
		w := weak{0, left, p[iCl], sulfide, p[iN]}
		if alk, _ := a.at(&w, h); alk > p[iTA] {
			low = mid
		} else {
			high = mid
		}
	}
	return left, sulfide
}

// AirPressureAt returns the usual absolute pressure of air at an altitude.
//
//	P = 101.325 (1 - 2.25577e-5 h)^5.25588, kPa
//
//	h  altitude, m
//
// Range: 0 to 5,000 m. Error: weather moves it by 3 %.
// Source: ICAO standard atmosphere (from memory).
func AirPressureAt(altitude unit.Length) unit.Pressure {
	return unit.KPa(atmKPa * math.Pow(1-2.25577e-5*altitude.M(), 5.25588))
}
