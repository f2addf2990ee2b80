package media

import "wellwright/source"

// Sources of the envelopes, named once.
const (
	matrix       = "common practice for an unattended household unit, no single source"
	memory       = "media data sheets of the trade (from memory)"
	tasteSulfide = "Ross, Parrott and Woodard, Hydrogen sulfide in household water, Virginia Cooperative Extension 356-488 (2002): tasted at 0.05 mg/L"
	handbookPH   = "water-treatment handbook selection list for red and black stain (second hand)"
	ncExtension  = "North Carolina Cooperative Extension, iron and manganese in household water (second hand)"
	coldWater    = "common practice: pipes and valves freeze or crack below, plastics and coats suffer above"
)

// filterLimits are the bounds of the screens and beds that hold solids or
// catalyse on an oxide coat.
var filterLimits = []limitRow{
	{CartridgeFilter, "solids", Solids, most, 10, none, source.CommonPractice, matrix, "the element blinds within days; a backwashing bed is wanted"},
	{CartridgeFilter, "warm", TemperatureF, most, 100, none, source.CommonPractice, coldWater, "the housing weakens"},

	{SedimentFilter, "particulate", ParticulateIron, most, 5, none, source.CommonPractice, matrix, "the bed fills within a day"},
	{SedimentFilter, "turbidity", Turbidity, most, 50, none, source.CommonPractice, matrix, "the bed fills within a day"},
	{SedimentFilter, "warm", TemperatureF, most, 100, none, source.CommonPractice, coldWater, "the vessel weakens"},

	{AirInjectionFilter, "iron", TotalIron, most, 7, 15, source.CommonPractice, "common practice 7, to 10 with ore; refused above 15", "the bed loads faster than it can be washed nightly"},
	{AirInjectionFilter, "manganese", Manganese, most, 0.5, 2, source.CommonPractice, matrix, "air alone does not take this manganese"},
	{AirInjectionFilter, "manganese-ph", PHForManganese, least, 7.5, none, source.CommonPractice, matrix, "manganese passes at this pH: air does not oxidise it"},
	{AirInjectionFilter, "sulfide", Sulfide, most, 3, 5, source.CommonPractice, "common practice 3, to 5 with ore", "sulfur fouls the bed and the smell returns"},
	{AirInjectionFilter, "ph-low", PH, least, 7.2, none, source.Derived, "below pH 7.2 half the iron takes 19 min and more at 10 °C, by the rate of Stumm and Lee (1961)", "iron turns too slowly for the seconds in the tank"},
	{AirInjectionFilter, "ph-low", PH, least, none, 6.8, source.CommonPractice, matrix, "iron turns too slowly for the seconds in the tank"},
	{AirInjectionFilter, "ph-high", PH, most, 8.5, none, source.CommonPractice, matrix, "iron comes out as a colloid that passes the bed"},
	{AirInjectionFilter, "organic-carbon", OrganicCarbon, most, 2, none, source.CommonPractice, matrix, "organic matter holds the iron in solution"},
	{AirInjectionFilter, "turbidity", Turbidity, most, 5, none, source.CommonPractice, matrix, "the bed and the eductor plug"},
	{AirInjectionFilter, "bacteria", IronBacteria, most, 0.3, 0.7, source.Judgement, "common practice that slime plugs an air-injection bed; the two chances are our judgement", "air feeds the iron bacteria and slime binds the bed"},
	{AirInjectionFilter, "cold", TemperatureF, least, 35, none, source.CommonPractice, coldWater, "near freezing"},

	{GreensandFilter, "iron", TotalIron, most, 15, none, source.CommonPractice, ncExtension + ": iron and manganese below 15", "the bed loads faster than it can be washed"},
	{GreensandFilter, "manganese", Manganese, most, 2, 5, source.CommonPractice, matrix, "the oxide coat cannot keep up"},
	{GreensandFilter, "sulfide", Sulfide, most, 2, 5, source.CommonPractice, "common practice: 1 to 2 with permanganate charges, 5 with a continuous feed", "sulfur loads the bed and uses up its charge"},
	{GreensandFilter, "ph-low", PH, least, 6.7, none, source.CommonPractice, handbookPH, "iron and manganese pass, and lower still the coat dissolves"},
	{GreensandFilter, "ph-low", PH, least, none, 6.2, source.FromMemory, "below 6.2 the oxide coat dissolves (from memory)", "iron and manganese pass, and lower still the coat dissolves"},
	{GreensandFilter, "ph-high", PH, most, 8.5, none, source.CommonPractice, matrix, "iron comes out as a colloid that passes the bed"},
	{GreensandFilter, "manganese-ph", PHForManganese, least, 7.0, none, source.FromMemory, "7.0 to 7.5 with chlorine (from memory)", "manganese is taken up slowly at this pH"},
	{GreensandFilter, "organic-carbon", OrganicCarbon, most, 2, none, source.CommonPractice, matrix, "organic matter holds the iron and eats the oxidant"},
	{GreensandFilter, "silica-low", Silica, least, 10, none, source.FromMemory, "soft water low in silica attacks glauconite (from memory)", "soft water low in silica attacks the grains"},
	{GreensandFilter, "polyphosphate", Polyphosphate, most, 0.5, 2, source.Judgement, "polyphosphate must not precede iron removal: Wisconsin Administrative Code NR 811.56; the amounts are our judgement", "polyphosphate keeps the iron from being caught"},
	{GreensandFilter, "bacteria", IronBacteria, most, 0.5, none, source.Judgement, "common practice that slime binds a bed without continuous chlorine; the chance is our judgement", "slime binds the bed unless chlorine is fed"},
	{GreensandFilter, "turbidity", Turbidity, most, 10, none, source.CommonPractice, matrix, "the bed fills early"},
	{GreensandFilter, "warm", TemperatureF, most, 85, none, source.CommonPractice, matrix, "outside the usual range"},

	{CoatedSandFilter, "iron", TotalIron, most, 15, none, source.CommonPractice, ncExtension + ": iron and manganese below 15; common practice 10 where the bed is on air alone", "the bed loads faster than it can be washed"},
	{CoatedSandFilter, "manganese", Manganese, most, 2, 5, source.CommonPractice, matrix, "the oxide coat cannot keep up"},
	{CoatedSandFilter, "sulfide", Sulfide, most, 3, 5, source.CommonPractice, matrix, "sulfur loads the bed; oxidise it ahead"},
	{CoatedSandFilter, "ph-low", PH, least, 6.5, none, source.CommonPractice, "common practice with a free residual", "iron and manganese pass, and lower still the coat dissolves"},
	{CoatedSandFilter, "ph-low", PH, least, none, 6.2, source.FromMemory, "below 6.2 the oxide coat dissolves (from memory)", "iron and manganese pass, and lower still the coat dissolves"},
	{CoatedSandFilter, "ph-high", PH, most, 8.5, none, source.CommonPractice, matrix, "iron comes out as a colloid that passes the bed"},
	{CoatedSandFilter, "manganese-ph", PHForManganese, least, 7.0, none, source.FromMemory, "7.0 to 7.5 with chlorine (from memory)", "manganese is taken up slowly at this pH"},
	{CoatedSandFilter, "organic-carbon", OrganicCarbon, most, 3, none, source.CommonPractice, matrix, "organic matter holds the iron and eats the oxidant"},
	{CoatedSandFilter, "polyphosphate", Polyphosphate, most, 0.5, 2, source.Judgement, "polyphosphate must not precede iron removal: Wisconsin Administrative Code NR 811.56; the amounts are our judgement", "polyphosphate keeps the iron from being caught"},
	{CoatedSandFilter, "warm", TemperatureF, most, 100, none, source.CommonPractice, coldWater, "the vessel weakens"},
	{CoatedSandFilter, "cold", TemperatureF, least, 35, none, source.CommonPractice, coldWater, "near freezing"},

	{LightweightFilter, "iron", TotalIron, most, 5, 10, source.FromMemory, memory, "the bed loads faster than it can be washed"},
	{LightweightFilter, "manganese", Manganese, most, 0.5, 2, source.FromMemory, memory, "taken only at high pH, and little of it"},
	{LightweightFilter, "manganese-ph", PHForManganese, least, 8.0, none, source.FromMemory, memory + ": 8.0 to 9.0 for manganese", "manganese passes at this pH"},
	{LightweightFilter, "sulfide", Sulfide, most, none, 0.05, source.Published, "any that can be tasted poisons the coat; " + tasteSulfide, "sulfide poisons the coat"},
	{LightweightFilter, "ph-low", PH, least, 7.0, none, source.Judgement, "our judgement: a little above the 6.8 in print", "the coat does not catalyse at this pH"},
	{LightweightFilter, "ph-low", PH, least, none, 6.8, source.CommonPractice, handbookPH + ": 6.8 at least", "the coat does not catalyse at this pH"},
	{LightweightFilter, "ph-high", PH, most, 8.5, 9.0, source.FromMemory, memory, "iron comes out as a colloid that passes the bed"},
	{LightweightFilter, "oxygen", OxygenPerIron, least, 0.20, none, source.Judgement, "our judgement: a third above the 15 % in print", "too little oxygen for the iron: give it air"},
	{LightweightFilter, "oxygen", OxygenPerIron, least, none, 0.15, source.CommonPractice, handbookPH + ": oxygen at least 15 % of the iron", "too little oxygen for the iron: give it air"},
	{LightweightFilter, "free-chlorine", FreeChlorine, most, 0.2, 0.5, source.FromMemory, memory + ": below 0.5", "chlorine strips the coat"},
	{LightweightFilter, "organic-carbon", OrganicCarbon, most, 4, 5, source.FromMemory, memory + ": below 4 to 5", "organic matter holds the iron and coats the grains"},
	{LightweightFilter, "alkalinity-salts", AlkalinityOverSalts, least, 2, none, source.FromMemory, memory + ": alkalinity above twice chloride plus sulfate", "the coat works poorly in this mix of salts"},
	{LightweightFilter, "polyphosphate", Polyphosphate, most, none, 0.5, source.Judgement, memory + ": none; the amount is our judgement", "polyphosphate coats the grains and hides the iron"},
	{LightweightFilter, "bacteria", IronBacteria, most, 0.3, 0.7, source.Judgement, "common practice that slime binds the bed and that shock chlorination strips it; the chances are our judgement", "slime binds the bed, and the chlorine that cures it strips the coat"},
	{LightweightFilter, "turbidity", Turbidity, most, 5, none, source.CommonPractice, matrix, "the bed fills early"},
	{LightweightFilter, "warm", TemperatureF, most, 100, none, source.CommonPractice, coldWater, "the vessel weakens"},

	{ManganeseOreFilter, "iron", TotalIron, most, 10, 15, source.FromMemory, memory, "the bed loads faster than it can be washed"},
	{ManganeseOreFilter, "manganese", Manganese, most, 2, 5, source.FromMemory, memory, "the ore cannot keep up"},
	{ManganeseOreFilter, "sulfide", Sulfide, most, 3, 5, source.FromMemory, memory, "sulfur loads the bed"},
	{ManganeseOreFilter, "ph-low", PH, least, 6.5, none, source.FromMemory, memory, "the ore gives off manganese"},
	{ManganeseOreFilter, "ph-low", PH, least, none, 6.2, source.FromMemory, "below 6.2 the ore dissolves (from memory)", "the ore gives off manganese"},
	{ManganeseOreFilter, "ph-high", PH, most, 9.0, none, source.FromMemory, memory, "iron comes out as a colloid that passes the bed"},
	{ManganeseOreFilter, "organic-carbon", OrganicCarbon, most, 3, none, source.CommonPractice, matrix, "organic matter holds the iron"},
	{ManganeseOreFilter, "polyphosphate", Polyphosphate, most, 0.5, 2, source.Judgement, "polyphosphate must not precede iron removal: Wisconsin Administrative Code NR 811.56; the amounts are our judgement", "polyphosphate keeps the iron from being caught"},
	{ManganeseOreFilter, "turbidity", Turbidity, most, 10, none, source.CommonPractice, matrix, "the bed fills early"},
	{ManganeseOreFilter, "warm", TemperatureF, most, 120, none, source.CommonPractice, coldWater, "the vessel weakens"},

	{CopperZincFilter, "iron", TotalIron, most, 1, 3, source.FromMemory, memory + "; vendors claim more", "not a sizing basis for this iron: the bed cements"},
	{CopperZincFilter, "particulate", ParticulateIron, most, 0.1, 0.5, source.Judgement, "none by the data sheets; the amounts are our judgement", "rust particles cement the bed"},
	{CopperZincFilter, "manganese", Manganese, most, 0.05, none, source.FromMemory, memory, "manganese passes"},
	{CopperZincFilter, "sulfide", Sulfide, most, 1, none, source.FromMemory, memory, "sulfide blackens and exhausts the grains"},
	{CopperZincFilter, "ph-low", PH, least, 6.5, none, source.FromMemory, memory, "zinc and copper come off the grains"},
	{CopperZincFilter, "ph-high", PH, most, 8.5, none, source.FromMemory, memory, "outside the usual range"},
	{CopperZincFilter, "turbidity", Turbidity, most, 1, none, source.CommonPractice, matrix, "the shallow bed plugs"},
}
