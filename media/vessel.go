package media

import (
	"fmt"
	"math"
	"sync"

	"wellwright/unit"
)

// Vessel is an upright mineral tank of a common nominal size.
type Vessel struct {
	Name     string // nominal diameter by height in inches, such as "10 x 54"
	Diameter unit.Length
	Height   unit.Length
	Area     unit.Area   // of the bed, from the nominal diameter
	Gross    unit.Volume // all the room inside
	Fill     unit.Volume // usual fill of medium
	Bed      unit.Length // depth of the usual fill, supporting gravel left out
}

// vesselSizes are the common sizes with their usual fill: common practice, no
// single source.
var vesselSizes = [...]struct{ diameterIn, heightIn, fillFt3 float64 }{
	{8, 44, 0.75}, {9, 48, 1.0}, {10, 44, 1.0}, {10, 54, 1.5},
	{12, 52, 2.0}, {13, 54, 2.5}, {14, 65, 3.0}, {16, 65, 4.0},
	{18, 65, 5.0}, {21, 62, 7.0}, {24, 72, 10.0}, {30, 72, 15.0},
}

const (
	inPerFt = 12
	// insideShare is inside over nominal diameter of a wound glass-fibre tank:
	// our judgement, within 2 % of the volumes the trade prints.
	insideShare = 0.965
)

// Vessels returns the common sizes, smallest first. The slice is shared: read it,
// do not change it.
func Vessels() []Vessel {
	all := vessels()
	return all[:len(all):len(all)]
}

// vessels builds the table once; it is never changed afterwards.
var vessels = sync.OnceValue(func() []Vessel {
	all := make([]Vessel, len(vesselSizes))
	for i, s := range vesselSizes {
		all[i] = vesselOf(s.diameterIn, s.heightIn, s.fillFt3)
	}
	return all
})

// VesselNamed returns the vessel of a nominal size such as "10 x 54".
func VesselNamed(name string) (Vessel, bool) {
	for _, v := range Vessels() {
		if v.Name == name {
			return v, true
		}
	}
	return Vessel{}, false
}

// Part returns the part to buy: the empty vessel with distributor and gravel.
func (v Vessel) Part() Part { return Part("vessel " + v.Name) }

// BedDepth returns the depth that an amount of medium fills in the vessel.
//
//	L = V / A
//
//	L  bed depth, ft
//	V  settled volume of medium, ft3
//	A  area from the nominal diameter, ft2
//
// Range: any fill that leaves freeboard.
// Error: low by about 7 %, because the inside is narrower than the nominal size.
// Source: geometry; the nominal area is common practice.
func (v Vessel) BedDepth(fill unit.Volume) unit.Length {
	return unit.Ft(fill.Ft3() / v.Area.Ft2())
}

// vesselOf works out one vessel.
//
//	A = π·(D/12)²/4
//	V = π·d²/4·(H − D/6),  d = 0.965·D
//
//	A     area, ft2
//	V     gross volume (cylinder with two 2:1 elliptical ends, together D/6
//	      shorter than their height), in3
//	D, H  nominal diameter and height, in
//	d     inside diameter, in
//
// Range: 8 to 30 in. Error: 2 % on the volume against printed trade volumes.
// Source: geometry.
func vesselOf(d, h, fill float64) Vessel {
	area := math.Pi * d * d / 4 / (inPerFt * inPerFt)
	inside := insideShare * d
	gross := math.Pi * inside * inside / 4 * (h - d/6) / (inPerFt * inPerFt * inPerFt)
	return Vessel{
		Name:     fmt.Sprintf("%g x %g", d, h),
		Diameter: unit.Inches(d), Height: unit.Inches(h),
		Area: unit.Ft2(area), Gross: unit.Ft3(gross),
		Fill: unit.Ft3(fill), Bed: unit.Ft(fill / area),
	}
}
