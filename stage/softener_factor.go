package stage

import "wellwright/source"

// softenerFactors are those of softeners.
var softenerFactors = []source.Factor{
	softenerAllowance, softenerManganese, softenerForIron,
	softenerCapacity6, softenerCapacity8, softenerCapacity10, softenerCapacity15,
	softenerReserve, softenerIronDays, softenerLongest, softenerIronSalt, softenerWater,
	softenerRate, softenerPeakRate, softenerRustCaution, softenerSalt, softenerLeastDays, softenerOxygen,
	softenerChlorine, softenerBacteria, softenerSelectivity, softenerSlip, softenerCleaner, softenerIronLife,
}

const dealerSheets = "softener dealers' sizing sheets and trade articles, common practice"

var (
	softenerAllowance = source.Factor{
		Name: "softener_iron_allowance", What: "softener: hardness added to the setting for each mg/L of iron",
		Unit: "gpg per mg/L", Value: 3, Low: 2, High: 5, Kind: source.CommonPractice,
		From: "2, 3, 4 and 5 are all in print; chemistry alone asks 0.105",
	}
	softenerManganese = source.Factor{
		Name: "softener_manganese_allowance", What: "softener: hardness added to the setting for each mg/L of manganese",
		Unit: "gpg per mg/L", Value: 2, Low: 2, High: 4, Kind: source.CommonPractice, From: dealerSheets,
	}
	softenerForIron = source.Factor{
		Name: "softener_for_iron", What: "softener: ferrous iron above which it is the iron remover",
		Unit: "mg/L", Value: 0.3, Low: 0.1, High: 0.5, Kind: source.CommonPractice, From: "the level that stains",
	}
	softenerCapacity6 = source.Factor{
		Name: "softener_capacity_6_lb", What: "softener: capacity at 6 lb/ft3 of salt",
		Unit: "grains/ft3", Value: 20000, Low: 18000, High: 21000, Kind: source.CommonPractice, From: dealerSheets,
	}
	softenerCapacity8 = source.Factor{
		Name: "softener_capacity_8_lb", What: "softener: capacity at 8 lb/ft3 of salt",
		Unit: "grains/ft3", Value: 24000, Low: 22000, High: 25000, Kind: source.CommonPractice, From: dealerSheets,
	}
	softenerCapacity10 = source.Factor{
		Name: "softener_capacity_10_lb", What: "softener: capacity at 10 lb/ft3 of salt",
		Unit: "grains/ft3", Value: 27000, Low: 25000, High: 27000, Kind: source.CommonPractice, From: dealerSheets + "; 25,000 and 27,000 are both in print",
	}
	softenerCapacity15 = source.Factor{
		Name: "softener_capacity_15_lb", What: "softener: capacity at 15 lb/ft3 of salt",
		Unit: "grains/ft3", Value: 30000, Low: 29000, High: 32000, Kind: source.CommonPractice, From: dealerSheets,
	}
	softenerReserve = source.Factor{
		Name: "softener_reserve", What: "softener: days of use kept back by a single tank",
		Unit: "days", Value: 1, Low: 0, High: 1, Kind: source.CommonPractice, From: "one day for a single tank, none for twins that alternate",
	}
	softenerIronDays = source.Factor{
		Name: "softener_days_with_iron", What: "softener: longest interval where it takes the iron",
		Unit: "days", Value: 3, Low: 3, High: 6, Kind: source.CommonPractice, From: "every 3 to 4 days with iron, 6 at most, whatever the meter says",
	}
	softenerLongest = source.Factor{
		Name: "softener_days_longest", What: "softener: longest interval on water free of iron",
		Unit: "days", Value: 10, Low: 6, High: 14, Kind: source.CommonPractice, From: "3 to 14 days in print",
	}
	softenerLeastDays = source.Factor{
		Name: "softener_days_least", What: "softener: shortest interval to size for",
		Unit: "days", Value: 2, Low: 2, High: 3, Kind: source.CommonPractice, From: "a vessel that regenerates every night is too small",
	}
	softenerSalt = source.Factor{
		Name: "softener_salt_dose", What: "softener: salt of one regeneration",
		Unit: "lb/ft3", Value: 8, Low: 6, High: 10, Kind: source.CommonPractice, From: "6 saves salt, 10 saves vessel; 8 where there is iron",
	}
	softenerIronSalt = source.Factor{
		Name: "softener_salt_with_iron", What: "softener: least salt dose where it takes the iron",
		Unit: "lb/ft3", Value: 8, Low: 8, High: 10, Kind: source.CommonPractice, From: "8 to 10 with iron; never the least setting",
	}
	softenerWater = source.Factor{
		Name: "softener_water", What: "softener: water of one regeneration",
		Unit: "gal/ft3", Value: 60, Low: 30, High: 100, Kind: source.CommonPractice, From: dealerSheets + ": usual 60 to 75",
	}
	softenerRate = source.Factor{
		Name: "softener_rate", What: "softener: service rate for steady use",
		Unit: "gpm/ft3", Value: 5, Low: 1, High: 5, Kind: source.Published, From: "resin handbook rates, second hand: 5 steady",
	}
	softenerPeakRate = source.Factor{
		Name: "softener_peak_rate", What: "softener: peak service rate refused",
		Unit: "gpm/ft3", Value: 10, Low: 8, High: 10, Kind: source.CommonPractice, From: "up to 10 at short peaks",
	}
	softenerRustCaution = source.Factor{
		Name: "softener_particulate_caution", What: "softener: iron already turned, caution above",
		Unit: "mg/L", Value: 0.1, Low: 0.05, High: 0.3, Kind: source.Judgement, From: "our judgement: a third of the caution in print",
	}
	softenerOxygen = source.Factor{
		Name: "softener_oxygen_refuse", What: "softener as iron remover: oxygen, refused above",
		Unit: "mg/L", Value: 1, Low: 0, High: 1, Kind: source.CommonPractice,
		From: "above about 1 the iron turns on the resin; Utah Administrative Code R309-535-11 allows none",
	}
	softenerChlorine = source.Factor{
		Name: "softener_chlorine_8_resin", What: "softener: free chlorine refused on 8 % cross-linked resin",
		Unit: "mg/L", Value: 0.5, Low: 0.5, High: 1, Kind: source.FromMemory, From: "resin data sheets: 0.5 for 8 %, 1 for 10 %",
	}
	softenerBacteria = source.Factor{
		Name: "softener_bacteria_refuse", What: "softener: chance of iron bacteria, refused above where no chlorine is fed",
		Value: 0.5, Low: 0.3, High: 0.8, Kind: source.Judgement, From: "common practice that slime fouls resin; the chance is our judgement",
	}
	softenerSelectivity = source.Factor{
		Name: "softener_selectivity", What: "softener resin: selectivity of calcium over sodium",
		Value: 1.9, Low: 1.6, High: 4, Kind: source.FromMemory, From: "Clifford, in Water Quality and Treatment (from memory)",
	}
	softenerSlip = source.Factor{
		Name: "softener_iron_slip", What: "softener: share of ferrous iron and manganese that slips through resin in use",
		Value: 0.03, Low: 0.01, High: 0.15, Kind: source.CommonPractice,
		From: "weak: outlet iron in print is 0.1 to 0.3 mg/L at 2 and 0.3 to 0.5 at 5, rising as resin fouls",
	}
	softenerCleaner = source.Factor{
		Name: "softener_cleaner", What: "softener: resin cleaner a month with iron",
		Unit: "oz/ft3", Value: 2, Low: 1, High: 4, Kind: source.CommonPractice, From: "1 to 4 oz a cubic foot a month",
	}
	softenerIronLife = source.Factor{
		Name: "softener_resin_life_with_iron", What: "softener: life of resin that takes iron",
		Unit: "years", Value: 6, Low: 5, High: 8, Kind: source.FromMemory, From: "5 to 8 years on iron or chlorine, else 10 to 15",
	}
)
