package media

import (
	"math"

	"wellwright/chem"
	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
)

// Grain returns the medium as the hydraulics of a bed take it.
func (m Medium) Grain() hydraulic.Grain {
	g := m.Grains
	return hydraulic.Grain{
		D10: g.D10, D60: g.D60,
		Porosity: g.Porosity, Sphericity: g.Sphericity, Density: g.SpecificGravity,
	}
}

// Surface returns the catalysing surface of the coated grains as the chemistry
// takes it.
func (m Medium) Surface(set source.Set) chem.Surface { return m.SurfaceAt(set, Usual) }

// SurfaceAt returns the surface of grains that do better or worse than usual.
func (m Medium) SurfaceAt(set source.Set, s Standing) chem.Surface {
	return chem.Surface{
		Ferric:         unit.MgPerL(s.of(set, m.FerricSurface)),
		ManganeseOxide: unit.MgPerL(s.of(set, m.ManganeseSurface)),
	}
}

// CaptureAt returns the depth in which floc falls to a third, in inches at 5
// gpm/ft2, for a bed that does better or worse than usual.
func (m Medium) CaptureAt(set source.Set, s Standing) float64 { return (-s).of(set, m.CaptureLength) }

// Standing is how a bed does within what is known of its kind.
type Standing int

// The standings: Poor and Good lie half the way, in ratio, to the ends of a
// factor's range, so that several of them together stand near the ends.
const (
	Poor  Standing = -1
	Usual Standing = 0
	Good  Standing = 1
)

// of reads a factor of which more is better.
func (s Standing) of(set source.Set, f source.Factor) float64 {
	low, mid, high := set.Range(f)
	switch s {
	case Poor:
		return math.Sqrt(mid * low)
	case Good:
		return math.Sqrt(mid * high)
	}
	return mid
}
