// Package water knows what is in a water: the analytes and their names, results
// as a laboratory or a person wrote them, reports and the checks made on them,
// and the physical state of a water that a train is carried on.
package water

import (
	"wellwright/chem"
	"wellwright/unit"
)

// State is the whole physical state of one water at one place. Every field has
// a value: what was not measured has been drawn or assumed before a State is
// made, and whoever made it keeps the list of what was assumed.
type State struct {
	Temperature unit.Temperature
	PH          unit.PH
	Alkalinity  unit.Alkalinity

	Ferrous     unit.Concentration // dissolved Fe(II)
	Particulate unit.Concentration // iron held by a 0.45 µm filter
	Bound       unit.Concentration // colloidal or organically bound iron that passes it
	Manganese   unit.Concentration // dissolved Mn(II)
	ManganeseOx unit.Concentration // particulate manganese

	Oxygen  unit.Concentration
	Sulfide unit.Sulfide
	Sulfur  unit.Concentration // elemental sulfur haze
	Ammonia unit.Nitrogen

	Calcium, Magnesium, Sodium, Potassium unit.Concentration
	Chloride, Sulfate, Fluoride, Silica   unit.Concentration
	Nitrate                               unit.Nitrogen
	Phosphate                             unit.Phosphorus
	OrganicCarbon                         unit.Concentration
	Arsenic                               unit.Concentration // of every form
	ArsenicV                              unit.Concentration // of it, what has been oxidised; the rest counts as As(III), the harder to hold
	Radon                                 unit.Radioactivity
	Solids                                unit.Concentration // suspended solids other than iron, manganese and sulfur

	FreeChlorine     unit.Chlorine
	CombinedChlorine unit.Chlorine
	Permanganate     unit.Concentration
	Peroxide         unit.Concentration
	Polyphosphate    unit.Concentration // as PO4; holds iron and manganese from showing

	Coliform  unit.Count // total coliform; zero is "none found"
	EColi     unit.Count
	Bacteria  float64 // iron bacteria: probability that they live in this well, 0 to 1
	Uncovered bool    // has stood open to air since the well: unprotected
}

// TotalIron is iron of every form.
func (s State) TotalIron() unit.Concentration {
	return unit.MgPerL(s.Ferrous.MgPerL() + s.Particulate.MgPerL() + s.Bound.MgPerL())
}

// TotalManganese is manganese of every form.
func (s State) TotalManganese() unit.Concentration {
	return unit.MgPerL(s.Manganese.MgPerL() + s.ManganeseOx.MgPerL())
}

// Hardness is that of calcium and magnesium.
func (s State) Hardness() unit.Hardness { return chem.HardnessOf(s.Calcium, s.Magnesium) }

// Totals returns what chem needs to speciate this water.
func (s State) Totals() chem.Totals {
	return chem.Totals{
		Temperature: s.Temperature,
		Calcium:     s.Calcium, Magnesium: s.Magnesium, Sodium: s.Sodium, Potassium: s.Potassium,
		IronII: s.Ferrous, Manganese: s.Manganese,
		Chloride: s.Chloride, Sulfate: s.Sulfate, Fluoride: s.Fluoride, Silica: s.Silica,
		Ammonia: s.Ammonia, Nitrate: s.Nitrate, Phosphate: s.Phosphate, Sulfide: s.Sulfide,
	}
}
