package chem

import (
	"math"

	"wellwright/unit"
)

// Carbonate is the carbonate system of a water at one temperature and ionic
// strength, with activity coefficients but without ion pairs. It serves where
// a plan asks thousands of times; [Model.AtPH] is the full answer.
//
//	Alk = C (K1 h + 2 K1 K2)/(h² + K1 h + K1 K2) + Kw/h - h/g
//
//	h           activity of H+, 10^-pH
//	K1, K2, Kw  constants for amounts of the other species, at this ionic strength
//	g           activity coefficient of a singly charged ion
//
// Error: ion pairs are left out. Up to pH 8 total carbon is high by 2 % at most,
// carbon dioxide by 1 % in soft and 5 % in hard sulfate water; at pH 9 in hard
// water carbon dioxide by a fifth, free carbonate by a third.
type Carbonate struct {
	k1, k2, kw float64 // mixed constants: activity of H+, amounts of the rest
	invG       float64 // 1/g
}

// Carbonate prepares the carbonate system at a temperature and ionic strength.
//
// Range: 0 to 90 °C, ionic strength below 0.5 mol/L. Source: Plummer &
// Busenberg 1982 constants, Davies activity coefficients.
func (m *Model) Carbonate(t unit.Temperature, i IonicStrength) Carbonate {
	p := powersOf(t.Kelvin())
	g, _ := davies(debyeA(p.t), i.molL)
	hco3, co2, w := m.logK(kHCO3, p), m.logK(kCO2, p), m.logK(kW, p)
	neutral := neutralSlope * ln10 * i.molL
	return Carbonate{
		k1:   math.Exp(ln10*(hco3-co2) + g + neutral),
		k2:   math.Exp(-ln10*hco3 + 3*g),
		kw:   math.Exp(ln10*w + g),
		invG: math.Exp(g),
	}
}

// perCarbon returns the carbonate alkalinity of one mole of carbon.
func (c Carbonate) perCarbon(h float64) float64 {
	return c.k1 * (h + 2*c.k2) / (h*h + c.k1*h + c.k1*c.k2)
}

// water returns the alkalinity of hydroxide less acid, eq/L.
func (c Carbonate) water(h float64) float64 { return c.kw/h - h*c.invG }

// Carbon returns the total carbon of a water of known pH and alkalinity. It is
// zero where hydroxide alone is as much as the alkalinity.
func (c Carbonate) Carbon(ph unit.PH, alk unit.Alkalinity) TotalCarbon {
	h := activityOf(ph)
	return TotalCarbon{max(0, (eqPerL(alk)-c.water(h))/c.perCarbon(h))}
}

// PH returns the pH of a closed water of known alkalinity and total carbon.
func (c Carbonate) PH(alk unit.Alkalinity, carbon TotalCarbon) unit.PH {
	return phOfActivity(c.solve(eqPerL(alk), carbon.molL))
}

// CO2 returns dissolved carbon dioxide, mg/L as CO2, of a water of known pH and
// alkalinity.
func (c Carbonate) CO2(ph unit.PH, alk unit.Alkalinity) unit.Concentration {
	h := activityOf(ph)
	return unit.MgPerL(c.share(h) * c.Carbon(ph, alk).molL * molCO2 * mgPerG)
}

// share returns the part of carbon that is dissolved carbon dioxide.
func (c Carbonate) share(h float64) float64 { return h * h / (h*h + c.k1*h + c.k1*c.k2) }

// WithCO2 returns the pH and the total carbon of a water whose dissolved carbon
// dioxide has been brought to a given value, by stripping or adding, at
// unchanged alkalinity. The carbon dioxide must be above zero.
func (c Carbonate) WithCO2(alk unit.Alkalinity, co2 unit.Concentration) (unit.PH, TotalCarbon) {
	free := co2.MgPerL() / (molCO2 * mgPerG)
	a := eqPerL(alk)
	h := c.k1 * free / max(a, 1e-7)
	for range maxNewton {
		x, y := c.k1*free/h, 2*c.k1*c.k2*free/(h*h)
		f := x + y + c.water(h) - a
		df := -x - 2*y - c.kw/h - h*c.invG // by ln h
		step := logStep(f / df)
		h *= step
		if math.Abs(step-1) < 1e-13 {
			break
		}
	}
	return phOfActivity(h), TotalCarbon{free / c.share(h)}
}

// solve finds the activity of H+ for an alkalinity and a total carbon, mol/L.
// Alkalinity falls steadily with h, so that there is exactly one answer.
func (c Carbonate) solve(alk, carbon float64) float64 {
	h := c.guess(alk, carbon)
	for range maxNewton {
		d := 1 / (h*h + c.k1*h + c.k1*c.k2)
		a1, a0 := c.k1*h*d, h*h*d // shares of HCO3- and CO2
		a2 := c.k1 * c.k2 * d
		oh, hp := c.kw/h, h*c.invG
		f := carbon*(a1+2*a2) + oh - hp - alk
		df := -carbon*(a1*(a0+a2)+4*a2*a0) - oh - hp
		step := logStep(f / df)
		h *= step
		if math.Abs(step-1) < 1e-13 {
			break
		}
	}
	return h
}

// guess starts the solution from whichever species must carry the alkalinity.
func (c Carbonate) guess(alk, carbon float64) float64 {
	switch {
	case alk <= 0:
		return math.Max(1e-6, -alk)
	case alk < carbon*0.999:
		return c.k1 * (carbon - alk) / alk
	case alk < 2*carbon*0.999:
		return c.k2 * (2*carbon - alk) / (alk - carbon + 1e-3*carbon)
	default:
		return c.kw / math.Max(alk-2*carbon, 1e-5)
	}
}

// maxNewton is the most steps a one-dimensional solution may take; each step
// moves h by at most a factor of 30.
const maxNewton = 60

// logStep returns the factor by which h changes for a Newton quotient f/f' in
// ln h, held between 1/30 and 30.
func logStep(q float64) float64 {
	if math.Abs(q) < 0.05 { // the search is not done until q is small
		return 1 - q*(1-q*(1./2-q*(1./6)))
	}
	return math.Exp(-max(-3.4, min(3.4, q)))
}

func activityOf(ph unit.PH) float64    { return math.Exp(-ln10 * ph.Value()) }
func phOfActivity(h float64) unit.PH   { return unit.PHOf(-math.Log10(h)) }
func eqPerL(a unit.Alkalinity) float64 { return a.MeqPerL() / 1000 }

// alkOf makes an alkalinity from equivalents a litre.
func alkOf(eq float64) unit.Alkalinity { return unit.AlkalinityMeq(eq * 1000) }

// ShortCO2 returns dissolved carbon dioxide by the field formula, for comparison
// with other people's reports.
//
//	CO2 = 1.60 · 10^(6 - pH) · HCO3, mg/L
//
// Range: fresh water below 800 mg/L of solutes, pH below 8.3. Error: right near
// 25 °C; 27 % low at 10 °C.
// Source: Skougstad et al. 1979, USGS TWRI 5-A1, p. 280 (published).
func ShortCO2(ph unit.PH, alk unit.Alkalinity) unit.Concentration {
	return unit.MgPerL(1.60 * math.Pow(10, 6-ph.Value()) * alk.MeqPerL() * molHCO3)
}
