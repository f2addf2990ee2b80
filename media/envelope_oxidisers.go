package media

import "wellwright/source"

// oxidiserLimits are the bounds of aeration and the chemical feeds.
var oxidiserLimits = []limitRow{
	{VentedAeration, "iron", TotalIron, most, 10, 25, source.CommonPractice, "common practice 10; extension tables go to 25 (from memory)", "sludge fills the tank and the filter after it"},
	{VentedAeration, "sulfide", Sulfide, most, 2, none, source.FromMemory, "Texas extension bulletins (from memory): below 2", "more than stripping alone will take; oxidise the rest"},
	{VentedAeration, "ph-low", PH, least, 6.8, 6.2, source.Judgement, "our judgement: a vented tank holds hours and lets carbon dioxide go, which lifts the pH (after Stumm and Lee 1961)", "iron turns too slowly even in hours of storage"},
	{VentedAeration, "alkalinity", Alkalinity, least, 50, none, source.Judgement, "30 mg/L should be left after the iron has turned (our judgement)", "too little alkalinity: the pH may fall and the floc stay fine"},
	{VentedAeration, "organic-carbon", OrganicCarbon, most, 2, none, source.CommonPractice, matrix, "organic matter holds the iron in solution"},
	{VentedAeration, "silica", Silica, most, 40, none, source.FromMemory, "above 40 to 50 mg/L silica makes a fine colloid (from memory)", "silica keeps the floc too fine to filter"},
	{VentedAeration, "cold", TemperatureF, least, 40, none, source.CommonPractice, matrix, "iron turns slowly in the cold, and open tanks freeze"},

	{PressureAeration, "iron", TotalIron, most, 10, 15, source.CommonPractice, "common practice: 10, to 15 with a separate tank", "sludge fills the tank and plugs the injector"},
	{PressureAeration, "sulfide", Sulfide, most, 2, 5, source.FromMemory, "Texas extension bulletins (from memory): below 2", "air under pressure strips little and sulfur fouls what follows"},
	{PressureAeration, "ph-low", PH, least, 7.2, 6.8, source.Derived, "from the rate of Stumm and Lee (1961): at 10 °C half the iron takes 19 min at pH 7.2 and two hours at 6.8", "iron turns too slowly for the minutes in the tank"},
	{PressureAeration, "alkalinity", Alkalinity, least, 50, none, source.Judgement, "30 mg/L should be left after the iron has turned (our judgement)", "too little alkalinity: the pH may fall and the floc stay fine"},
	{PressureAeration, "organic-carbon", OrganicCarbon, most, 2, none, source.CommonPractice, matrix, "organic matter holds the iron in solution"},
	{PressureAeration, "silica", Silica, most, 40, none, source.FromMemory, "above 40 to 50 mg/L silica makes a fine colloid (from memory)", "silica keeps the floc too fine to filter"},
	{PressureAeration, "bacteria", IronBacteria, most, 0.3, none, source.Judgement, "common practice that slime grows on air; the chance is our judgement", "air feeds the iron bacteria"},
	{PressureAeration, "cold", TemperatureF, least, 40, none, source.CommonPractice, matrix, "iron turns slowly in the cold"},

	{ChlorineFeed, "iron", TotalIron, most, 30, none, source.CommonPractice, matrix, "beyond household plant: settle or ask for design by an engineer"},
	{ChlorineFeed, "sulfide", Sulfide, most, 10, none, source.CommonPractice, matrix, "the dose grows past what a house can keep"},
	{ChlorineFeed, "ph-low", PH, least, 6.5, none, source.CommonPractice, "common practice 6.5 for speed", "iron turns slowly and the water corrodes"},
	{ChlorineFeed, "ph-low", PH, least, none, 6.0, source.Judgement, "our judgement", "iron turns slowly and the water corrodes"},
	{ChlorineFeed, "ph-high", PH, most, 8.0, none, source.CommonPractice, matrix, "chlorine is weak at this pH"},
	{ChlorineFeed, "organic-carbon", OrganicCarbon, most, 2, none, source.FromMemory, "trihalomethanes form above about 2 mg/L (from memory)", "by-products form: test once, and carbon at the drinking tap"},
	{ChlorineFeed, "cold", TemperatureF, least, 40, none, source.CommonPractice, matrix, "double the contact time for manganese"},

	{PermanganateFeed, "iron", TotalIron, most, 15, none, source.CommonPractice, matrix, "the dose and the mud grow past a household bed"},
	{PermanganateFeed, "manganese", Manganese, most, 5, none, source.CommonPractice, matrix, "the dose grows past what a house can keep"},
	{PermanganateFeed, "manganese-ph", PHForManganese, least, 7.0, none, source.FromMemory, "Van Benschoten and others 1992 (from memory)", "manganese turns slowly"},
	{PermanganateFeed, "sulfide", Sulfide, most, 5, none, source.CommonPractice, matrix, "the dose grows past what a house can keep"},
	{PermanganateFeed, "ph-low", PH, least, 6.5, 6.0, source.Judgement, "our judgement, as for chlorine", "iron and manganese turn slowly"},

	{PeroxideFeed, "iron", TotalIron, most, 10, none, source.CommonPractice, matrix, "the carbon behind it plugs; put a bed between"},
	{PeroxideFeed, "manganese", Manganese, most, 0.3, none, source.CommonPractice, matrix, "peroxide does not take manganese reliably"},
	{PeroxideFeed, "sulfide", Sulfide, most, 10, 20, source.CommonPractice, matrix, "the dose grows past what a house can keep"},
	{PeroxideFeed, "ph-low", PH, least, 6.8, none, source.CommonPractice, "common practice 6.8", "sulfide turns slowly and the bed behind it does poorly"},
	{PeroxideFeed, "ph-low", PH, least, none, 6.0, source.Judgement, "our judgement", "sulfide turns slowly and the bed behind it does poorly"},
	{PeroxideFeed, "ph-high", PH, most, 8.5, none, source.CommonPractice, matrix, "peroxide falls apart early"},
	{PeroxideFeed, "free-chlorine", FreeChlorine, most, 0.1, 0.5, source.Judgement, "peroxide and chlorine undo each other (from memory); the amounts are our judgement", "peroxide and chlorine undo each other"},

	{OzoneFeed, "iron", TotalIron, most, 10, none, source.CommonPractice, matrix, "a fine colloid shortens the filter run"},
	{OzoneFeed, "manganese", Manganese, most, 1, none, source.CommonPractice, matrix, "too much ozone turns manganese pink"},
	{OzoneFeed, "sulfide", Sulfide, most, 5, none, source.CommonPractice, matrix, "the dose grows past a household unit"},
	{OzoneFeed, "ph-low", PH, least, 6.5, none, source.CommonPractice, matrix, "outside the usual range"},
	{OzoneFeed, "ph-high", PH, most, 8.5, none, source.CommonPractice, matrix, "outside the usual range"},

	{CoagulantFeed, "iron", TotalIron, most, 10, none, source.Judgement, "our judgement: above it the floc outgrows a household filter", "the floc outgrows a household filter: settle it"},
	{CoagulantFeed, "ferrous", Ferrous, most, 0.3, none, source.CommonPractice, "a coagulant takes what is bound or fine, not what is dissolved; 0.3 is the secondary level", "ferrous iron passes: turn it ahead, or let a softener behind take it"},
	{CoagulantFeed, "cold", TemperatureF, least, 40, none, source.CommonPractice, matrix, "floc grows slowly in the cold"},

	{SodaAshFeed, "ph-low", PH, least, 4.0, none, source.CommonPractice, "common practice: below 4 caustic soda, by a specialist", "more acid than soda ash can meet"},
	{SodaAshFeed, "ph-low", PH, least, none, 3.5, source.Judgement, "our judgement", "more acid than soda ash can meet"},
	{SodaAshFeed, "ph-high", PH, most, 6.8, none, source.CommonPractice, matrix, "there is little left to correct"},
	{SodaAshFeed, "cold", TemperatureF, least, 40, none, source.CommonPractice, matrix, "the solution salts out"},

	{PolyphosphateFeed, "iron-manganese", IronPlusManganese, most, 1, none, source.Published, "Wisconsin Administrative Code NR 811.56", "more than polyphosphate can keep from showing"},
	{PolyphosphateFeed, "iron-manganese", IronPlusManganese, most, none, 3, source.CommonPractice, "older extension advice", "more than polyphosphate can keep from showing"},
	{PolyphosphateFeed, "particulate", ParticulateIron, most, 0.1, 0.5, source.Judgement, "only clear water; the amounts are our judgement", "iron that has turned is past hiding"},
	{PolyphosphateFeed, "ph-low", PH, least, 5, none, source.CommonPractice, matrix, "outside the usual range"},
	{PolyphosphateFeed, "ph-high", PH, most, 8, none, source.CommonPractice, matrix, "iron turns before it is held"},
	{PolyphosphateFeed, "sulfide", Sulfide, most, none, 0.5, source.Judgement, "none by common practice; the amount is the level that stains (University of Georgia Extension C 858-15)", "sulfide blackens what was to be hidden"},
}
