package chem

import (
	"math"

	"wellwright/unit"
)

// Langelier returns the Langelier index in full: the saturation index of calcite
// with ion pairs. It reports false for a water without calcium, where the index
// has no meaning.
func (s State) Langelier() (float64, bool) { return s.SI(Calcite) }

// Scale is what the hand formulas of scaling take.
type Scale struct {
	Temperature unit.Temperature
	PH          unit.PH
	Calcium     unit.Hardness // calcium hardness
	Alkalinity  unit.Alkalinity
	TDS         unit.Concentration
}

func (x Scale) meaningful() bool {
	return x.Calcium.MgPerLAsCaCO3() > 0 && x.Alkalinity.MgPerLAsCaCO3() > 0
}

// SaturationPH returns the pH at which the water would be in balance with
// calcite, all alkalinity taken as bicarbonate, no ion pairs.
//
//	pHs = pK2 - pKs + p[Ca] + p[HCO3] + 5 pf,  pf = A (√I/(1+√I) - 0.3 I),  I = 2.5e-5 TDS
//
//	[Ca], [HCO3]  mol/L
//
// Range: pH 6 to 9, 0 to 90 °C, TDS below 1,000 mg/L.
// Error: 0.05 against the full index in common waters.
// Source: Standard Methods 2330 B (form from memory, coefficients published).
func (m *Model) SaturationPH(x Scale) (unit.PH, bool) {
	if !x.meaningful() {
		return unit.PH{}, false
	}
	p := powersOf(x.Temperature.Kelvin())
	g, _ := davies(debyeA(p.t), ionicFromTDS*max(0, x.TDS.MgPerL()))
	ca := x.Calcium.MgPerLAsCaCO3() / (molCaCO3 * mgPerG)
	phs := m.logK(kHCO3, p) + m.logK(kCalcite, p) - math.Log10(ca*eqPerL(x.Alkalinity)) + 5*g/ln10
	return unit.PHOf(phs), true
}

// ShortSaturationPH returns the saturation pH by the short hand formula. In cold
// water it stands 0.2 to 0.3 above [Model.SaturationPH], so that the water looks
// more corrosive than it is: use it only beside other people's reports.
//
//	pHs = 9.3 + A + B - C - D
//	A = (log TDS - 1)/10,  B = -13.12 log(t + 273) + 34.55
//	C = log Ca - 0.4,  D = log Alk, both mg/L as CaCO3
//
// Range: 0 to 90 °C, TDS 10 to 1,000 mg/L. Source: several handbooks (published).
func ShortSaturationPH(x Scale) (unit.PH, bool) {
	tds := x.TDS.MgPerL()
	if !x.meaningful() || tds <= 0 {
		return unit.PH{}, false
	}
	a := (math.Log10(tds) - 1) / 10
	b := -13.12*math.Log10(x.Temperature.Celsius()+273) + 34.55
	c := math.Log10(x.Calcium.MgPerLAsCaCO3()) - 0.4
	d := math.Log10(x.Alkalinity.MgPerLAsCaCO3())
	return unit.PHOf(9.3 + a + b - c - d), true
}

// ByHand is a pH beside a saturation pH from one of the two hand formulas.
type ByHand struct{ PH, Saturation unit.PH }

// Langelier returns the index by hand: pH less saturation pH.
func (x ByHand) Langelier() float64 { return x.PH.Value() - x.Saturation.Value() }

// Ryznar returns the Ryznar index. Far below 6 scale grows; far above 7 no film
// protects; far above 8 mild steel corrodes faster.
//
//	RSI = 2 pHs - pH
//
// Source: Ryznar 1944, as on a NACE page (published).
func (x ByHand) Ryznar() float64 { return 2*x.Saturation.Value() - x.PH.Value() }

// AggressiveIndex returns the index for asbestos-cement pipe; ok is false for a
// water without calcium or alkalinity. 12 and more is not aggressive, below 10
// highly aggressive (from memory: AWWA C400).
//
//	AI = pH + log(Alk · Ca), both mg/L as CaCO3
//
// Source: formula published; limits from memory.
func AggressiveIndex(x Scale) (ai float64, ok bool) {
	if !x.meaningful() {
		return 0, false
	}
	return x.PH.Value() + math.Log10(x.Alkalinity.MgPerLAsCaCO3()*x.Calcium.MgPerLAsCaCO3()), true
}

// Larson returns the Larson ratio of chloride and sulfate to alkalinity, all in
// equivalents; ok is false without alkalinity. Below 0.8 films form, above 1.2
// corrosion is expected.
//
//	R = (Cl + SO4)/(HCO3 + CO3)
//
// Source: Larson & Skold 1958 (limits published: Roberge 2006, web page).
func Larson(t Totals, alk unit.Alkalinity) (ratio float64, ok bool) {
	if alk.MeqPerL() <= 0 {
		return 0, false
	}
	l := amountsOf(&t).ligand
	return (l[lCl] + 2*l[lSO4]) / eqPerL(alk), true
}

// MassRatio returns chloride over sulfate by weight (CSMR); ok is false without
// sulfate.
//
// Source: Belitz, Jurgens & Johnson 2016, USGS SIR 2016-5092 (published).
func MassRatio(t Totals) (ratio float64, ok bool) {
	if t.Sulfate.MgPerL() <= 0 {
		return 0, false
	}
	return t.Chloride.MgPerL() / t.Sulfate.MgPerL(), true
}

// LeadConcern grades the chloride-sulfate mass ratio for lead from solder and
// brass.
type LeadConcern int

// The grades.
const (
	LowConcern LeadConcern = iota
	ModerateConcern
	HighConcern
)

// String returns the grade in words.
func (c LeadConcern) String() string { return [...]string{"low", "moderate", "high"}[c] }

// Grades of the mass ratio: below 0.2 low, above 0.5 with alkalinity below 50
// high, the rest moderate. A value on a limit counts to the milder side.
const (
	ratioLow, ratioHigh, ratioAlk = 0.2, 0.5, 50
)

// LeadConcernOf grades a mass ratio with the alkalinity beside it.
//
// Source: Belitz, Jurgens & Johnson 2016, USGS SIR 2016-5092 (published).
func LeadConcernOf(ratio float64, alk unit.Alkalinity) LeadConcern {
	switch {
	case ratio <= ratioLow:
		return LowConcern
	case ratio > ratioHigh && alk.MgPerLAsCaCO3() < ratioAlk:
		return HighConcern
	}
	return ModerateConcern
}
