package chem

import (
	"math"

	"wellwright/unit"
)

const faraday = 96485.332 // C/mol: CODATA 2018

// IronPotential returns the potential that the ferrous and ferric ions would set
// against the hydrogen electrode; ok is false when the water lacks one of them.
//
//	Eh = RT/F · ( ln 10 · log K + ln {Fe+3}/{Fe+2} ),  Fe+3 + e- = Fe+2
//
// Range: 0 to 90 °C. Error: an electrode in a well water reads a mixed potential
// hundreds of millivolts off; compare trends only.
// Source: WATEQ4F constants.
func (s State) IronPotential() (eh unit.Potential, ok bool) {
	ferric, ok3 := s.LogActivity(FerricIon)
	ferrous, ok2 := s.LogActivity(FerrousIon)
	if !ok3 || !ok2 {
		return eh, false
	}
	logK := -s.model.logK(kIronCouple, powersOf(s.kelvin))
	return s.potential(logK + ferric - ferrous), true
}

// OxygenPotential returns the potential that dissolved oxygen would set against
// the hydrogen electrode; ok is false without oxygen.
//
//	Eh = RT/4F · ln 10 · ( log K + log [O2] - 4 pH ),  O2 + 4 H+ + 4 e- = 2 H2O
//
// Range, error and source as [State.IronPotential].
func (s State) OxygenPotential(oxygen unit.Concentration) (eh unit.Potential, ok bool) {
	mol := oxygen.MgPerL() / (molO2 * mgPerG)
	if mol <= 0 {
		return eh, false
	}
	logK := -s.model.logK(kOxygenCouple, powersOf(s.kelvin))
	return s.potential((logK + math.Log10(mol) + 4*s.logActivity(HydrogenIon)) / 4), true
}

// potential turns pe, the negative log10 of electron activity, into a potential.
func (s *State) potential(pe float64) unit.Potential {
	return unit.MV(1000 * ln10 * gasR * s.kelvin / faraday * pe)
}
