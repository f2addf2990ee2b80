package chem

import (
	"math"

	"wellwright/unit"
)

// Turned returns the As(III) that turns while a mix reacts from x to y: with x alone
// given twice, beside oxidants that stay. What is left of the oxidants works on for the whole time; what iron used up meanwhile worked on
// arsenic beside it.
//
//	As = As0 exp(-Σ k C t) · (Fe/Fe0)^(u k/kFe)
//
//	C    oxidant left in y;  t  time
//	kFe  ferrous iron with the same oxidant;  u  share of the iron that the oxidant
//	     used can have turned
//
// d gives temperature, pH, arsenic (III) and time. Oxidant that something else used
// up, with no iron there, counts for nothing. Range: pH 6 to 9. Error: a factor of
// two in the time; rates at 25 °C, whose ratio moves less than they do.
// Source: two rates in competition for one oxidant; constants with their factors.
func (l *ArsenicLaw) Turned(x, y Mix, d Dosed) unit.Concentration {
	d.Free, d.Combined, d.Permanganate = y.FreeChlorine, y.CombinedChlorine, y.Permanganate
	there := d.Arsenite.MgPerL()
	left := there - l.residual(d).MgPerL()
	fe0, fe := x.IronII.MgPerL(), y.IronII.MgPerL()
	if fe0 <= fe || fe0 <= 0 {
		return unit.MgPerL(there - left)
	}
	power := 0.0
	used := func(before, after float64, o Oxidant) float64 {
		need, _ := Demand(o, IronII)
		return math.Min(1, math.Max(0, before-after)/(need*(fe0-fe)))
	}
	if acid := l.m.FreeAcidShare(d.Temperature, d.PH); acid > 0 {
		k := l.chlorine * l.meeting(d.Temperature, d.PH, d.Ionic) / l.at7
		power += used(x.FreeChlorine.MgPerLAsCl2(), y.FreeChlorine.MgPerLAsCl2(), Hypochlorite) * k / (l.m.rate.ironCl * acid)
	}
	power += used(x.Permanganate.MgPerL(), y.Permanganate.MgPerL(), Permanganate) * l.pink / l.m.rate.feMnO4
	left *= math.Pow(math.Max(fe/fe0, leastIronShare), power)
	return unit.MgPerL(there - left)
}

// leastIronShare is what is left of iron at least that counts as a clock: beyond it
// the reckoning of the iron is noise.
const leastIronShare = 1e-4
