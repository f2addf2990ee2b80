package hydraulic

import (
	"wellwright/unit"
)

// FeedRate returns what a feed pump must deliver while the main flow runs.
//
//	q = Q dose / (strength - dose)
//
//	Q  main flow;  dose  wanted in the mixed water;  strength  of the fed solution
//
// The trade form q = Q dose / strength is the same while the dose is small
// beside the strength. It is zero if the solution is no stronger than the dose.
//
// Range: dose below strength. Error: none; strength fades. Source: mass balance.
func FeedRate(main unit.Flow, dose, strength unit.Concentration) unit.Flow {
	if strength.MgPerL() <= dose.MgPerL() {
		return unit.Flow{}
	}
	return unit.GPM(main.GPM() * dose.MgPerL() / (strength.MgPerL() - dose.MgPerL()))
}

// DoseFrom returns the dose that a feed gives in a main flow.
//
//	dose = q strength / (Q + q)
//
// Source: mass balance; the inverse of FeedRate.
func DoseFrom(main, feed unit.Flow, strength unit.Concentration) unit.Concentration {
	return unit.MgPerL(strength.MgPerL() * feed.GPM() / (main.GPM() + feed.GPM()))
}
