package chem

import (
	"math"

	"wellwright/unit"
)

// IronForArsenic returns the ferric iron to be fed so that iron and arsenic stand at a
// ratio by weight.
//
//	Fe = max(0, r As - Fe in the water)
//
//	r  20 by the rule in print
//
// It is fed with the oxidant or after it, mixed, and held by a filter. Range: pH 6 to
// 8. Error: that of the rule; a jar and a laboratory decide.
// Source: US EPA 2001 and Sorg 2002, 20 : 1 (second hand).
func (l *ArsenicLaw) IronForArsenic(as, iron unit.Concentration) unit.Concentration {
	return unit.MgPerL(math.Max(0, as.MgPerL()/l.usual.share-iron.MgPerL()))
}

// FerricChloride is what a dose of ferric iron is weighed out as, and what it eats.
type FerricChloride struct {
	Dry        unit.Concentration // FeCl3
	Alkalinity unit.Alkalinity    // eaten
	Chloride   unit.Concentration // added
}

// FerricChlorideOf returns the ferric chloride that brings a dose of iron.
//
//	FeCl3 + 3 H2O = Fe(OH)3 + 3 H+ + 3 Cl-
//
// Source: derived from atomic weights: 2.90 mg of FeCl3 and 2.69 mg/L of alkalinity
// as CaCO3 for each mg of iron.
func FerricChlorideOf(iron unit.Concentration) FerricChloride {
	mmol := iron.MgPerL() / molFe
	return FerricChloride{
		Dry: unit.MgPerL(mmol * (molFe + 3*molCl)), Alkalinity: unit.AlkalinityMeq(3 * mmol), Chloride: unit.MgPerL(3 * mmol * molCl),
	}
}
