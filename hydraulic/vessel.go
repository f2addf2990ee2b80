package hydraulic

import (
	"math"

	"wellwright/unit"
)

// VesselArea returns the cross-section of a round vessel, pipe or casing.
//
//	A = pi/4 d2
//
// Source: geometry.
func VesselArea(diameter unit.Length) unit.Area {
	return unit.Ft2(math.Pi / 4 * diameter.Ft() * diameter.Ft())
}

// LoadingOn returns a flow spread over an area.
func LoadingOn(q unit.Flow, a unit.Area) unit.Loading {
	return unit.GPMPerFt2(q.GPM() / a.Ft2())
}

// FlowOver returns the flow that gives a loading on an area.
func FlowOver(v unit.Loading, a unit.Area) unit.Flow {
	return unit.GPM(v.GPMPerFt2() * a.Ft2())
}

// BedDepth returns the depth at which a volume of media stands in a vessel.
func BedDepth(media unit.Volume, a unit.Area) unit.Length {
	return unit.Ft(media.Ft3() / a.Ft2())
}
