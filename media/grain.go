package media

import (
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
func (m Medium) Surface(set source.Set) chem.Surface {
	return chem.Surface{
		Ferric:         unit.MgPerL(set.Of(m.FerricSurface)),
		ManganeseOxide: unit.MgPerL(set.Of(m.ManganeseSurface)),
	}
}
