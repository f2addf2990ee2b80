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
	k, want, f := c.house(i), c.job.Want, c.job.Site.Factors
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
	c.drinkingLimits(i, k, g)
	c.comfortLimits(i, k, g)
}

// comfortLimits are hardness, sodium and germs at the kitchen tap.
func (c *carried) comfortLimits(i int, k *water.State, g *gathered) {
	want, f := c.job.Want, c.job.Site.Factors
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

func ironSay(k *water.State) string {
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

// drinkingLimits hold nitrate and arsenic, where they were measured above the limit,
// to it at the tap that people drink from, and radon to the advice in the whole
// house: it is breathed in, and a kitchen tap does nothing against it. Between the
// advice and a level at which every state advises treatment radon is a caution.
func (c *carried) drinkingLimits(i int, k *water.State, g *gathered) {
	want, f := c.job.Want, c.job.Site.Factors
	if want.Coloured {
		g.add(soft(true, most("colour_at_kitchen", k.OrganicCarbon.MgPerL(), f.Of(organicMost), "mg/L", "the water would stay the colour of weak tea", common)))
	}
	if c.job.Draws[i].Water.Radon.PCiPerL() > 0 {
		g.add(radonLimit(k.Radon.PCiPerL(), want.Radon.PCiPerL(), f.Of(radonMost)))
	}
	nitrate, arsenic := want.Nitrate.MgPerLAsN(), want.Arsenic.MgPerL()
	if nitrate <= 0 && arsenic <= 0 {
		return
	}
	drunk := c.drunk(i, g.tap)
	if nitrate > 0 {
		g.add(most("nitrate_at_kitchen", drunk.Nitrate.MgPerLAsN(), nitrate, "mg/L as N", "nitrate above the limit where people drink", nitrateFrom))
	}
	if arsenic > 0 {
		g.add(most("arsenic_at_kitchen", drunk.Arsenic.MgPerL(), arsenic, "mg/L", "arsenic above the limit where people drink: turn it, hold it, and prove the tap by a laboratory", arsenicFrom))
	}
}

// radonLimit is a caution above the advice, ever graver towards the level at which
// a train that leaves so much is refused.
func radonLimit(have, advice, refused float64) stage.Limit {
	refused = max(refused, advice)
	l := soft(have < refused, most("radon_in_house", have, advice, "pCi/L", "radon leaves the water in shower and kitchen: have the air tested, and the water aerated", radonFrom))
	if l.Fails() && l.Soft {
		l.Doubtful, l.Doubt = true, (have-advice)/(refused-advice)
	}
	return l
}

// house is the water of the whole house: a train that ends in a kitchen tap gives
// the house what stands ahead of it.
func (c *carried) house(i int) *water.State {
	end := c
	if n := len(c.so); n > 0 && c.so[n-1] == media.ReverseOsmosis {
		end = c.ahead
	}
	if end.ahead == nil {
		return &c.job.Draws[i].Water
	}
	return &end.last().Outcomes[i].Out
}

// drunk is the water at the tap that people drink from: that of the house, or what
// a kitchen tap makes of it.
func (c *carried) drunk(i int, tap bool) water.State {
	if !tap {
		return c.water(i)
	}
	return c.throughTap(i, true).Out
}

// throughTap runs a kitchen tap on the water behind the train.
func (c *carried) throughTap(i int, lean bool) stage.Outcome {
	x, _ := stage.Of(media.ReverseOsmosis)
	j := c.jobFor(i, nil)
	j.Lean = lean
	return x.Run(&j, x.Sizes(&j)[0])
}

// kitchenTap is the reverse-osmosis tap that belongs beside a train, nil where none
// does: one that leaves nitrate or arsenic above a limit in more than a few of the
// waters carried is only sold with it, and bears its cost. It takes no whole-house
// limit, and none stands beside nothing: a tap alone is a train of its own.
func (c *carried) kitchenTap(draws []int) *stage.Outcome {
	want := c.job.Want
	if len(c.links) == 0 || c.so.Has(media.ReverseOsmosis) || want.Nitrate.MgPerLAsN() <= 0 && want.Arsenic.MgPerL() <= 0 {
		return nil
	}
	above, all := 0.0, 0.0
	for _, i := range draws {
		w := c.house(i)
		all += c.job.Draws[i].Weight
		if want.aboveNitrate(w) || want.aboveArsenic(w) {
			above += c.job.Draws[i].Weight
		}
	}
	if above <= c.job.Site.Factors.Of(tapShare)*all {
		return nil
	}
	o := c.throughTap(c.lead, false)
	return &o
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
	nitrateFrom   = from{source.Published, "40 CFR 141.62, or the jurisdiction's value"}
	arsenicFrom   = from{source.Published, "40 CFR 141.62 (10 µg/L), or the jurisdiction's value"}
	radonFrom     = from{source.Published, "second hand: advice of the state, else the alternative level proposed in 1999, 4,000 pCi/L; no federal limit is in force"}
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
	radonMost = source.Factor{Name: "radon_in_house_most", What: "radon in water of a house above which no train is offered that leaves it", Unit: "pCi/L",
		Value: 10000, Low: 4000, High: 10000, Kind: source.Published, From: "second hand: the highest of the states' advice, Massachusetts 10,000; about 1 pCi/L more in the air of the house"}
	tapShare = source.Factor{Name: "kitchen_tap_from_share", What: "share of the waters with nitrate or arsenic left above a limit, above which a kitchen tap belongs to the train", Unit: "",
		Value: 0.1, Low: 0, High: 0.2, Kind: source.Judgement, From: "one in ten, as for the limits of health"}
	veryHardAt = source.Factor{Name: "hardness_must_soften_above", What: "raw hardness above which a house is softened unless the owner says not", Unit: "gpg",
		Value: 10.5, Low: 7, High: 15, Kind: source.CommonPractice, From: "very hard in the trade's classes"}
)
