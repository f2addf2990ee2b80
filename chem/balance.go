package chem

import (
	"math"

	"wellwright/unit"
)

// Equivalents is charge in a volume of water.
type Equivalents struct{ meq float64 }

// MeqPerL makes an amount from milliequivalents a litre.
func MeqPerL(v float64) Equivalents { return Equivalents{v} }

// MeqPerL returns milliequivalents a litre.
func (e Equivalents) MeqPerL() float64 { return e.meq }

// CationSum returns the positive charge of a water whose pH lies above 4. Ferric
// iron counts once, as Fe(OH)2+; acid, below zero alkalinity, is counted here.
//
//	C = Σ z c
//
// Source: Standard Methods 1030 E (from memory).
func CationSum(t Totals, alk unit.Alkalinity) Equivalents {
	a := amountsOf(&t).master
	sum := 2*(a[mCa]+a[mMg]+a[mFe2]+a[mMn]) + a[mNa] + a[mK] + a[mNH4] + a[mFe3]
	return Equivalents{1000*sum + max(0, -alk.MeqPerL())}
}

// AnionSum returns the negative charge of a water: alkalinity, which holds
// bicarbonate, carbonate, hydroxide and bisulfide alike, with chloride, sulfate,
// nitrate, fluoride and phosphate (once, as H2PO4-; the rest is in alkalinity).
//
// Source: Standard Methods 1030 E (from memory).
func AnionSum(t Totals, alk unit.Alkalinity) Equivalents {
	a := amountsOf(&t)
	l := a.ligand
	sum := l[lCl] + 2*l[lSO4] + l[lF] + l[lPO4] + a.master[mNO3]
	return Equivalents{1000*sum + max(0, alk.MeqPerL())}
}

// ChargeBalance returns the difference of cations and anions in percent of
// their sum; ok is false for a water without ions.
//
//	E = 100 (C - A)/(C + A)
//
// Source: Standard Methods 1030 E (form published with USGS samples).
func ChargeBalance(cations, anions Equivalents) (percent float64, ok bool) {
	sum := cations.meq + anions.meq
	if sum <= 0 {
		return 0, false
	}
	return 100 * (cations.meq - anions.meq) / sum, true
}

// alkResidue is what a milligram of alkalinity leaves on drying, as carbonate
// (from memory: Standard Methods 1030 E).
const alkResidue = 0.6

// CalculatedTDS returns dissolved solids as the sum of what was found.
//
//	TDS = 0.6 Alk + Na + K + Ca + Mg + Cl + SO4 + SiO2 + NO3 + F
//
// Error: a measured figure is commonly up to 20 % higher.
// Source: Standard Methods 1030 E (from memory).
func CalculatedTDS(t Totals, alk unit.Alkalinity) unit.Concentration {
	sum := alkResidue * alk.MgPerLAsCaCO3()
	for _, c := range [...]unit.Concentration{t.Sodium, t.Potassium, t.Calcium, t.Magnesium, t.Chloride, t.Sulfate, t.Silica, t.Fluoride} {
		sum += c.MgPerL()
	}
	return unit.MgPerL(sum + t.Nitrate.MgPerLAsN()*molNO3/molN)
}

// Equivalent conductances at 25 °C, uS/cm for each meq/L, at no ionic strength
// (from memory: CRC handbook, Standard Methods 2510).
const (
	condCa, condMg, condNa, condK   = 59.5, 53.1, 50.1, 73.5
	condNH4, condFe, condMn, condH  = 73.5, 54.0, 53.5, 349.8
	condHCO3, condCO3, condCl       = 44.5, 72.0, 76.4
	condSO4, condNO3, condF, condOH = 80.0, 71.4, 55.4, 198.6
)

// CalculatedConductivity returns electrical conductivity at 25 °C from the ions,
// all alkalinity taken as bicarbonate.
//
//	EC = y² Σ L c,  log y = -0.5 ( √I/(1+√I) - 0.3 I )
//
//	L  equivalent conductance, uS/cm for each meq/L
//	c  amount of each ion, meq/L
//
// Range: pH 6 to 9, below 2,500 uS/cm. Error: 3 to 5 %.
// Source: Standard Methods 2510 (from memory).
func CalculatedConductivity(t Totals, alk unit.Alkalinity) unit.Conductivity {
	bare := strongConductance(&t) + condHCO3*max(0, alk.MeqPerL())
	return damped(bare, IonicFromSums(t, alk).molL)
}

func strongConductance(t *Totals) float64 {
	a := amountsOf(t)
	m, l := &a.master, &a.ligand
	return 1000 * (2*(condCa*m[mCa]+condMg*m[mMg]+condFe*m[mFe2]+condMn*m[mMn]) +
		condNa*m[mNa] + condK*m[mK] + condNH4*m[mNH4] + condNO3*m[mNO3] +
		condCl*l[lCl] + 2*condSO4*l[lSO4] + condF*l[lF])
}

func damped(bare, ionic float64) unit.Conductivity {
	s := math.Sqrt(ionic)
	y2 := math.Pow(10, -(s/(1+s) - 0.3*ionic))
	return unit.USPerCm(bare * y2)
}

// ConductivityAt25 returns electrical conductivity at 25 °C as
// [CalculatedConductivity] does, with bicarbonate, carbonate, hydroxide and acid
// from the speciation.
func (s State) ConductivityAt25() unit.Conductivity {
	f := &s.found
	bare := strongConductance(&s.totals) + 1000*(condHCO3*f.complex[BicarbonateIon-firstComplex]+
		2*condCO3*f.ligand[lCO3]+condOH*f.oh+condH*f.h)
	return damped(bare, IonicFromSums(s.totals, s.Alkalinity()).molL)
}

// HardnessOf returns the hardness of calcium and magnesium. Iron is left out:
// the answer is low by 1.79 mg/L for each mg/L of ferrous iron.
//
//	H = M(CaCO3) · (Ca/M(Ca) + Mg/M(Mg))
//
// Source: Standard Methods 2340 B (published in public code).
func HardnessOf(calcium, magnesium unit.Concentration) unit.Hardness {
	return unit.HardnessAsCaCO3(molCaCO3 * (calcium.MgPerL()/molCa + magnesium.MgPerL()/molMg))
}
