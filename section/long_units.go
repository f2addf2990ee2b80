package section

import (
	"wellwright/plan"
	"wellwright/unit"
)

// longUnit is a unit of the sheet and how figures of a course are turned into it.
type longUnit struct {
	name string
	of   func(float64) float64
}

// say prints a figure of a course with its unit.
func (u longUnit) say(v float64) string { return u.figure(v) + " " + u.name }

// figure prints a figure of a course without its unit.
func (u longUnit) figure(v float64) string { return label3(u.of(v)) }

// label3 prints a figure to three digits.
func label3(v float64) string { return thousands(unit.Significant(v, 3)) }

// longUnits are the units of a long section.
type longUnits struct {
	system                                          unit.System
	pressure, depth, length, flow, volume, hardness longUnit
	media                                           longUnit
}

func same(v float64) float64 { return v }

// unitsOf are the units of a system.
func unitsOf(s unit.System) longUnits {
	if s == unit.Metric {
		return longUnits{
			system:   s,
			pressure: longUnit{"kPa", func(v float64) float64 { return unit.PSI(v).KPa() }},
			depth:    longUnit{"m", func(v float64) float64 { return unit.Ft(v).M() }},
			length:   longUnit{"cm", func(v float64) float64 { return unit.Inches(v).MM() / 10 }},
			flow:     longUnit{"L/min", litres},
			volume:   longUnit{"L", func(v float64) float64 { return unit.Gal(v).L() }},
			hardness: longUnit{"mg/L as CaCO3", func(v float64) float64 { return unit.GPG(v).MgPerLAsCaCO3() }},
			media:    longUnit{"L", func(v float64) float64 { return unit.Ft3(v).L() }},
		}
	}
	return longUnits{
		system:   s,
		pressure: longUnit{"psi", same}, depth: longUnit{"ft", same}, length: longUnit{"in", same}, flow: longUnit{"gpm", same},
		volume: longUnit{"gal", same}, hardness: longUnit{"gpg", same}, media: longUnit{"ft³", same},
	}
}

// shortNames are the stages in the words that a drawing has room for.
var shortNames = map[string]string{
	"cartridge-filter": "cartridge filter", "sediment-filter": "sediment filter", "air-injection-filter": "air-injection filter",
	"greensand-filter": "greensand", "coated-sand-filter": "coated sand", "lightweight-media-filter": "lightweight media",
	"manganese-ore-filter": "manganese ore", "copper-zinc-filter": "copper-zinc granules", "ultraviolet": "ultraviolet lamp",
	"reverse-osmosis": "kitchen reverse osmosis", "magnesia-blend-bed": "calcite and magnesia", "storage-booster": "storage and booster",
}

// shortName is a stage in few words.
func shortName(v plan.Vessel) string {
	if s, ok := shortNames[v.Process]; ok {
		return s
	}
	return v.Words
}
