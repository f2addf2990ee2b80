package train

import (
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/unit"
	"wellwright/water"
)

// kitchenLimits checks the water at the kitchen tap against what is wanted.
func (c *carried) kitchenLimits(i int, g *gathered) {
	k, want, f := c.water(i), c.job.Want, c.job.Site.Factors
	hidden := k.Polyphosphate.MgPerL() > 0 && k.TotalIron().MgPerL()+k.TotalManganese().MgPerL() <= f.Of(hiddenMost)
	mn := k.TotalManganese().MgPerL()
	g.add(
		most("manganese_health", mn, want.ManganeseHealth.MgPerL(), "mg/L", "manganese above the health value at the kitchen tap", manganeseFrom),
		soft(hidden, most("iron_at_kitchen", k.TotalIron().MgPerL(), want.Iron.MgPerL(), "mg/L", ironSay(k), ironFrom)),
		most("manganese_at_kitchen", mn, 2*want.Manganese.MgPerL(), "mg/L", "manganese would go on staining black", manganeseFrom),
		soft(true, most("manganese_stain", mn, want.Manganese.MgPerL(), "mg/L", "a little manganese is left and may stain over the years", manganeseFrom)),
		most("sulfide_at_kitchen", k.Sulfide.MgPerLAsH2S(), want.Sulfide.MgPerLAsH2S(), "mg/L", "the smell of sulfide would remain", sulfideFrom),
		least("ph_at_kitchen", k.PH.Value(), want.PHLow.Value(), "pH", "the water would attack copper, lead and heater", phFrom),
		soft(true, most("ph_high_at_kitchen", k.PH.Value(), want.PHHigh.Value(), "pH", "pH above the usual range", phFrom)),
		most("chlorine_at_kitchen", k.FreeChlorine.MgPerLAsCl2()+k.CombinedChlorine.MgPerLAsCl2(), want.Chlorine.MgPerLAsCl2(), "mg/L", "more chlorine at the tap than the limit", chlorineFrom),
		soft(true, most("chlorine_taste", k.FreeChlorine.MgPerLAsCl2(), f.Of(chlorineTaste), "mg/L", "a trace of chlorine can be tasted; carbon would take it out", common)),
		most("permanganate_at_kitchen", k.Permanganate.MgPerL(), f.Of(pink), "mg/L", "pink water: permanganate reaches the tap", common),
	)
	c.comfortLimits(i, g)
}

// comfortLimits are hardness, sodium and germs at the kitchen tap.
func (c *carried) comfortLimits(i int, g *gathered) {
	k, want, f := c.water(i), c.job.Want, c.job.Site.Factors
	house := c.job.Site.House
	if want.Hardness.GPG() > 0 {
		veryHard := c.job.Draws[i].Water.Hardness().GPG() > f.Of(veryHardAt)
		g.add(soft(!veryHard, most("hardness_at_kitchen", k.Hardness().GPG(), want.Hardness.GPG(), "gpg", "scale and soap curd remain", hardnessFrom)))
	}
	if house.LowSodium {
		g.add(soft(true, most("sodium_restricted_diet", k.Sodium.MgPerL(), want.Sodium.MgPerL(), "mg/L", "above the advice for a restricted diet: a kitchen reverse-osmosis tap, or potassium chloride instead of salt", sodiumFrom)))
	}
	if k.EColi.Per100mL() > germTrace {
		g.add(most("e_coli_at_kitchen", k.EColi.Per100mL(), 0, "per 100 mL", "E. coli: no drinking until the cause is found and the water disinfected", coliformFrom))
	}
	if k.Coliform.Per100mL() > germTrace {
		g.add(soft(true, most("coliform_at_kitchen", k.Coliform.Per100mL(), 0, "per 100 mL", "coliform bacteria: repair and shock the well, test again, and disinfect if they return", coliformFrom)))
	}
	if k.Uncovered && k.FreeChlorine.MgPerLAsCl2() < 0.2 && !c.so.Has(media.Ultraviolet, media.ChlorineFeed) {
		g.add(least("open_tank_unprotected", k.FreeChlorine.MgPerLAsCl2(), 0.2, "mg/L", "a vented tank leaves the supply open to germs: feed chlorine or set ultraviolet after it", from{source.Published, "North Carolina Cooperative Extension, iron and manganese in household water (second hand): disinfect open tanks"}))
	}
}

func ironSay(k water.State) string {
	switch {
	case k.Polyphosphate.MgPerL() > 0:
		return "iron is only hidden: it lets go in the heater and in the kettle"
	case k.Ferrous.MgPerL() > k.Particulate.MgPerL()+k.Bound.MgPerL():
		return "ferrous iron would reach the tap and rust there"
	case k.Bound.MgPerL() > k.Particulate.MgPerL():
		return "bound iron passes every filter of this train"
	}
	return "rust would reach the tap"
}

// from says what a limit rests on.
type from struct {
	kind source.Kind
	text string
}

var (
	common        = from{source.CommonPractice, "usual in the trade"}
	ironFrom      = from{source.Published, "secondary level, 40 CFR 143.3, or the owner's own target"}
	manganeseFrom = from{source.Published, "secondary level, 40 CFR 143.3; health: US EPA 2004 advisory, or the jurisdiction's value"}
	sulfideFrom   = from{source.FromMemory, "Canadian aesthetic objective; smelt by most near 0.05 mg/L"}
	phFrom        = from{source.Published, "secondary range, 40 CFR 143.3"}
	chlorineFrom  = from{source.FromMemory, "40 CFR 141.65"}
	hardnessFrom  = from{source.CommonPractice, "hard from 7, very hard from 10.5 gpg in the trade's classes"}
	sodiumFrom    = from{source.Published, "US EPA 822-R-03-006"}
	coliformFrom  = from{source.FromMemory, "40 CFR 141 subpart Y; none in 100 mL"}
)

func most(id string, have, need float64, unit, say string, f from) stage.Limit {
	return stage.Limit{ID: id, Have: have, Need: need, Unit: unit, AtMost: true, Say: say, Kind: f.kind, From: f.text}
}

func least(id string, have, need float64, unit, say string, f from) stage.Limit {
	return stage.Limit{ID: id, Have: have, Need: need, Unit: unit, Say: say, Kind: f.kind, From: f.text}
}

func soft(yes bool, l stage.Limit) stage.Limit {
	l.Soft = yes
	return l
}

// germTrace is the forecast count that is none found in 100 mL.
const germTrace = 0.05

var unitPSI30 = unit.PSI(30)

var (
	hiddenMost = source.Factor{Name: "polyphosphate_iron_manganese_most", What: "iron and manganese that polyphosphate may be left to hide", Unit: "mg/L",
		Value: 1.0, Low: 0.5, High: 3, Kind: source.Published, From: "Wisconsin Admin. Code NR 811.56"}
	chlorineTaste = source.Factor{Name: "chlorine_taste_at", What: "free chlorine that most people taste", Unit: "mg/L",
		Value: 0.5, Low: 0.3, High: 2, Kind: source.CommonPractice, From: "usual in the trade"}
	pink = source.Factor{Name: "permanganate_at_tap_most", What: "permanganate at which water looks pink", Unit: "mg/L",
		Value: 0.05, Kind: source.CommonPractice, From: "water-works practice"}
	veryHardAt = source.Factor{Name: "hardness_must_soften_above", What: "raw hardness above which a house is softened unless the owner says not", Unit: "gpg",
		Value: 10.5, Low: 7, High: 15, Kind: source.CommonPractice, From: "very hard in the trade's classes"}
)
