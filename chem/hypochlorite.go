package chem

import (
	"fmt"
	"math"
	"time"

	"wellwright/unit"
)

// FreeAcidShare returns the part of free chlorine that is hypochlorous acid, the
// form that kills and oxidises fast.
//
//	share = 1/(1 + K/{H+}),  pK = 3000/T - 10.0686 + 0.0253 T
//
// Range: 0 to 35 °C. Source: Morris 1966 (from memory); 7.54 at 25 °C published.
func (m *Model) FreeAcidShare(t unit.Temperature, ph unit.PH) float64 {
	k := math.Exp(ln10 * m.logK(kHOCl, powersOf(t.Kelvin())))
	h := activityOf(ph)
	return h / (h + k)
}

// Bleach is a solution of hypochlorite by its available chlorine, grams a litre
// as Cl2. Trade per cent is a tenth of that.
type Bleach struct{ gPerL float64 }

// TradePercent makes a bleach from trade per cent (grams of available chlorine
// in 100 mL).
func TradePercent(v float64) Bleach { return Bleach{v * 10} }

// GPerLAvailable makes a bleach from grams of available chlorine a litre.
func GPerLAvailable(v float64) Bleach { return Bleach{v} }

// WeightPercentNaOCl makes a bleach from per cent by weight of sodium
// hypochlorite and its specific gravity, as on a household bottle.
func WeightPercentNaOCl(v, gravity float64) Bleach {
	return Bleach{v * 10 * gravity * molCl2 / molNaOCl}
}

// GPerLAvailable returns grams of available chlorine a litre.
func (b Bleach) GPerLAvailable() float64 { return b.gPerL }

// TradePercent returns trade per cent.
func (b Bleach) TradePercent() float64 { return b.gPerL / 10 }

// WeightPercentAvailable returns per cent by weight of available chlorine for a
// specific gravity.
func (b Bleach) WeightPercentAvailable(gravity float64) float64 { return b.gPerL / (10 * gravity) }

// saltBeside is ionic strength of a fresh bleach beyond its hypochlorite and an
// equal amount of salt, mol/L (from memory: Adam & Gordon).
const saltBeside = 0.1

// Aged returns a bleach after storage at one temperature, away from light and
// metals.
//
//	d[OCl]/dt = -k [OCl]²
//	k = 2.083e10 T exp(-1.018e5/(R T)) exp(-56.5/R) 10^(0.149 I), L/(mol s)
//
//	I  ionic strength at the start, 2 [OCl] + 0.1, mol/L
//
// Range: 10 to 45 °C, up to 200 g/L, fresh product with as much salt, pH 12 to
// 13; a thinned solution at lower pH fails sooner.
// Error: within 15 % of a published table of 12.5 % product up to 60 days.
// Source: Adam & Gordon, hypochlorite model for AWWA (from memory).
func (b Bleach) Aged(age time.Duration, t unit.Temperature) (Bleach, error) {
	if age < 0 {
		return b, fmt.Errorf("bleach: age %v; want zero or more", age)
	}
	if c := t.Celsius(); !(c >= 0 && c <= 50) {
		return b, &RangeError{"bleach decay", "storage temperature", c, "°C", 0, 50}
	}
	k := t.Kelvin()
	ocl := b.gPerL / molCl2
	rate := 2.083e10 * k * math.Exp(-1.018e5/(8.314*k)-56.5/8.314) * math.Pow(10, 0.149*(2*ocl+saltBeside))
	left := ocl / (1 + ocl*rate*age.Seconds())
	return Bleach{left * molCl2}, nil
}

// FeedRate returns how much bleach a feed pump must give for a dose in a flow.
//
//	q = dose · Q / strength
//
// Source: mass balance.
func (b Bleach) FeedRate(dose unit.Chlorine, q unit.Flow) unit.Flow {
	if b.gPerL <= 0 {
		return unit.GPM(0)
	}
	return unit.LPerMin(dose.MgPerLAsCl2() / 1000 * q.LPerMin() / b.gPerL)
}
