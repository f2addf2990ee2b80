package media

import "wellwright/source"

const ultravioletPages = "common practice: feed limits of the trade for ultraviolet units"

// polisherLimits are the bounds of what comes last, or corrects pH.
var polisherLimits = []limitRow{
	{CarbonFilter, "iron", TotalIron, most, 0.3, none, source.CommonPractice, "common practice 0.3", "iron plugs the carbon: filter first"},
	{CarbonFilter, "iron", TotalIron, most, none, 1, source.Judgement, "our judgement", "iron plugs the carbon: filter first"},
	{CarbonFilter, "manganese", Manganese, most, 0.1, none, source.CommonPractice, matrix, "manganese coats the carbon"},
	{CarbonFilter, "sulfide", Sulfide, most, 0.3, none, source.Published, "Texas Agricultural Extension, Hydrogen sulfide in drinking water: 0.05 to 0.3 mg/L", "sulfide exhausts plain carbon within weeks"},
	{CarbonFilter, "sulfide", Sulfide, most, none, 1, source.Judgement, "our judgement", "sulfide exhausts plain carbon within weeks"},
	{CarbonFilter, "ph-low", PH, least, 5, none, source.CommonPractice, matrix, "outside the usual range"},
	{CarbonFilter, "ph-high", PH, most, 9, none, source.CommonPractice, matrix, "outside the usual range"},
	{CarbonFilter, "turbidity", Turbidity, most, 1, none, source.CommonPractice, matrix, "particles plug the carbon"},
	{CarbonFilter, "bacteria", IronBacteria, most, 0.5, none, source.Judgement, "common practice that slime grows on carbon; the chance is our judgement", "slime grows on carbon without chlorine ahead"},

	{CatalyticCarbonFilter, "iron", TotalIron, most, 5, 10, source.CommonPractice, "common practice: 10 with peroxide, a filter ahead above 5", "iron plugs the carbon: filter first"},
	{CatalyticCarbonFilter, "manganese", Manganese, most, 0.3, none, source.CommonPractice, matrix, "manganese passes and coats the carbon"},
	{CatalyticCarbonFilter, "sulfide", Sulfide, most, 2, 10, source.CommonPractice, "common practice: 1 to 2 on oxygen, to 10 with peroxide", "more than catalytic carbon takes without an oxidant"},
	{CatalyticCarbonFilter, "ph-low", PH, least, 6.5, 5, source.CommonPractice, "common practice 6.8 to 8.5 with peroxide; 5 as plain carbon", "sulfide turns slowly"},
	{CatalyticCarbonFilter, "ph-high", PH, most, 8.5, none, source.CommonPractice, matrix, "outside the usual range"},
	{CatalyticCarbonFilter, "turbidity", Turbidity, most, 5, none, source.CommonPractice, matrix, "particles plug the carbon"},

	{CalciteBed, "iron", TotalIron, most, 1, none, source.CommonPractice, "common practice 1", "iron turns on the grains, coats them and cements the bed"},
	{CalciteBed, "iron", TotalIron, most, none, 3, source.Judgement, "our judgement", "iron turns on the grains, coats them and cements the bed"},
	{CalciteBed, "manganese", Manganese, most, 0.2, none, source.CommonPractice, matrix, "manganese coats the grains"},
	{CalciteBed, "sulfide", Sulfide, most, 1, none, source.CommonPractice, matrix, "iron sulfide blackens the bed"},
	{CalciteBed, "ph-low", PH, least, 6.0, 5.0, source.CommonPractice, "common practice: calcite alone from 6.0, with magnesia from 5.0", "calcite alone does not bring this up: blend or feed"},
	{CalciteBed, "ph-high", PH, most, 6.9, none, source.CommonPractice, "common practice 6.9; calcite alone settles at 7 to 7.6", "there is nothing left for calcite to correct"},
	{CalciteBed, "ph-high", PH, most, none, 7.3, source.Judgement, "our judgement", "there is nothing left for calcite to correct"},
	{CalciteBed, "turbidity", Turbidity, most, 5, none, source.CommonPractice, matrix, "the bed plugs"},
	{CalciteBed, "cold", TemperatureF, least, 35, none, source.CommonPractice, coldWater, "near freezing"},

	{MagnesiaBlendBed, "iron", TotalIron, most, 1, none, source.CommonPractice, "common practice 1", "iron turns on the grains, coats them and cements the bed"},
	{MagnesiaBlendBed, "iron", TotalIron, most, none, 3, source.Judgement, "our judgement", "iron turns on the grains, coats them and cements the bed"},
	{MagnesiaBlendBed, "manganese", Manganese, most, 0.2, none, source.CommonPractice, matrix, "manganese coats the grains"},
	{MagnesiaBlendBed, "sulfide", Sulfide, most, 1, none, source.CommonPractice, matrix, "iron sulfide blackens the bed"},
	{MagnesiaBlendBed, "ph-low", PH, least, 5.0, none, source.CommonPractice, "common practice 5.0", "more acid than a bed can meet: feed soda ash"},
	{MagnesiaBlendBed, "ph-low", PH, least, none, 4.5, source.Judgement, "our judgement", "more acid than a bed can meet: feed soda ash"},
	{MagnesiaBlendBed, "ph-high", PH, most, 6.5, none, source.Judgement, "our judgement", "magnesia overshoots: calcite alone will do"},
	{MagnesiaBlendBed, "ph-high", PH, most, none, 6.9, source.CommonPractice, "common practice: calcite alone from 6.0 to 6.9", "magnesia overshoots: calcite alone will do"},
	{MagnesiaBlendBed, "turbidity", Turbidity, most, 5, none, source.CommonPractice, matrix, "the bed plugs"},
	{MagnesiaBlendBed, "cold", TemperatureF, least, 35, none, source.CommonPractice, coldWater, "near freezing"},

	{ArsenicAdsorber, "iron", TotalIron, most, 0.3, 0.5, source.CommonPractice, matrix, "iron blinds the medium"},
	{ArsenicAdsorber, "manganese", Manganese, most, 0.05, 0.1, source.CommonPractice, matrix, "manganese coats the medium"},
	{ArsenicAdsorber, "sulfide", Sulfide, most, none, 0.05, source.Published, "none by common practice; " + tasteSulfide, "sulfide means arsenic as As(III) and spoils the medium"},
	{ArsenicAdsorber, "ph-low", PH, least, 6.0, none, source.CommonPractice, matrix, "outside the usual range"},
	{ArsenicAdsorber, "ph-high", PH, most, 8.0, none, source.CommonPractice, matrix, "capacity halves with each unit of pH above 7.5"},
	{ArsenicAdsorber, "silica", Silica, most, 40, none, source.FromMemory, "30 to 40 mg/L (from memory)", "silica takes the sites"},
	{ArsenicAdsorber, "organic-carbon", OrganicCarbon, most, 2, none, source.CommonPractice, matrix, "organic matter takes the sites"},
	{ArsenicAdsorber, "turbidity", Turbidity, most, 1, none, source.CommonPractice, matrix, "the bed plugs"},

	{Ultraviolet, "iron", TotalIron, most, 0.1, 0.3, source.CommonPractice, ultravioletPages + ": 0.3; 0.1 keeps the sleeve clean for a year", "iron coats the sleeve and shades the water"},
	{Ultraviolet, "manganese", Manganese, most, 0.02, 0.05, source.CommonPractice, ultravioletPages + ": 0.05; 0.02 keeps the sleeve clean for a year", "manganese coats the sleeve"},
	{Ultraviolet, "hardness", Hardness, most, 7, none, source.CommonPractice, ultravioletPages + ": 7 gpg", "scale coats the sleeve: soften first"},
	{Ultraviolet, "hardness", Hardness, most, none, 15, source.Judgement, "our judgement", "scale coats the sleeve: soften first"},
	{Ultraviolet, "turbidity", Turbidity, most, 1, none, source.CommonPractice, ultravioletPages + ": 1 NTU", "particles shade the organisms"},
	{Ultraviolet, "turbidity", Turbidity, most, none, 5, source.Judgement, "our judgement", "particles shade the organisms"},
	{Ultraviolet, "sulfide", Sulfide, most, 0.05, none, source.CommonPractice, ultravioletPages + ": 0.05", "sulfide takes the light and blackens the sleeve"},
	{Ultraviolet, "sulfide", Sulfide, most, none, 0.3, source.Judgement, "our judgement", "sulfide takes the light and blackens the sleeve"},
	{Ultraviolet, "ph-low", PH, least, 6.5, none, source.CommonPractice, ultravioletPages, "outside the usual range"},
	{Ultraviolet, "ph-high", PH, most, 9.5, none, source.CommonPractice, ultravioletPages, "outside the usual range"},
	{Ultraviolet, "cold", TemperatureF, least, 36, none, source.CommonPractice, matrix, "the lamp gives less light"},
	{Ultraviolet, "warm", TemperatureF, most, 100, none, source.CommonPractice, matrix, "the lamp gives less light"},

	{ReverseOsmosis, "iron", TotalIron, most, 0.1, 0.3, source.CommonPractice, matrix, "iron fouls the membrane"},
	{ReverseOsmosis, "manganese", Manganese, most, 0.05, none, source.CommonPractice, matrix, "manganese fouls the membrane"},
	{ReverseOsmosis, "hardness", Hardness, most, 10, none, source.CommonPractice, matrix, "scale fouls the membrane: feed it softened water"},
	{ReverseOsmosis, "sulfide", Sulfide, most, none, 0.05, source.Published, "none by common practice; " + tasteSulfide, "sulfide passes as gas and fouls the membrane with sulfur"},
	{ReverseOsmosis, "free-chlorine", FreeChlorine, most, 0.05, none, source.CommonPractice, "common practice at a thin-film membrane", "chlorine breaks the membrane once its carbon is spent"},
	{ReverseOsmosis, "free-chlorine", FreeChlorine, most, none, 2, source.Judgement, "our judgement: what its own carbon takes", "chlorine breaks the membrane once its carbon is spent"},
	{ReverseOsmosis, "polyphosphate", Polyphosphate, most, 2, none, source.Judgement, "polyphosphate should not precede reverse osmosis (common practice); the amount is our judgement", "polyphosphate turns back and fouls the membrane"},
	{ReverseOsmosis, "turbidity", Turbidity, most, 1, none, source.CommonPractice, matrix, "particles foul the membrane"},
	{ReverseOsmosis, "ph-low", PH, least, 4, none, source.CommonPractice, matrix, "outside the usual range"},
	{ReverseOsmosis, "ph-high", PH, most, 9, none, source.CommonPractice, matrix, "outside the usual range"},
	{ReverseOsmosis, "cold", TemperatureF, least, 40, none, source.CommonPractice, matrix, "very little water comes through"},
	{ReverseOsmosis, "warm", TemperatureF, most, 100, none, source.CommonPractice, matrix, "the membrane gives way"},

	{RadonAeration, "iron", TotalIron, most, 0.5, 1, source.CommonPractice, matrix, "iron plates out in the tank and on the plates"},
	{RadonAeration, "manganese", Manganese, most, 0.1, none, source.CommonPractice, matrix, "manganese plates out"},
	{RadonAeration, "turbidity", Turbidity, most, 5, none, source.CommonPractice, matrix, "particles plug the plates"},
	{RadonAeration, "cold", TemperatureF, least, 35, none, source.CommonPractice, coldWater, "near freezing"},

	{StorageBooster, "cold", TemperatureF, least, 35, none, source.CommonPractice, coldWater, "open tanks freeze"},
}
