package stage

import (
	"slices"

	"wellwright/chem"
	"wellwright/unit"
)

const ironTarget = chem.IronII

// oxygenFor is the oxygen one milligram of a target takes, mg.
func oxygenFor(t chem.Target) float64 {
	mg, _ := chem.Demand(chem.Oxygen, t)
	return mg
}

// oxygenPerChlorine is the oxygen that does the work of one milligram of chlorine.
func oxygenPerChlorine() float64 { return oxygenPer(chem.Hypochlorite) }

// oxygenPerPermanganate is the oxygen that does the work of one milligram of
// potassium permanganate.
func oxygenPerPermanganate() float64 { return oxygenPer(chem.Permanganate) }

// oxygenPer compares two oxidants by the electrons they take.
func oxygenPer(o chem.Oxidant) float64 {
	mg, _ := chem.Demand(o, chem.IronII)
	return oxygenFor(chem.IronII) / mg
}

// afterEnvelope puts limits behind those of the water, ahead of those of the
// hardware.
func afterEnvelope(ls []Limit, more ...Limit) []Limit {
	at := len(ls)
	for i := range ls {
		if ls[i].ID == "service_rate" {
			at = i
			break
		}
	}
	return slices.Insert(ls, at, more...)
}

// mgOf is a concentration from a bare number.
func mgOf(v float64) unit.Concentration { return unit.MgPerL(v) }
