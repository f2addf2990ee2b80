package media

import "wellwright/source"

// exchangerLimits are the bounds of the resins.
var exchangerLimits = []limitRow{
	{Softener, "ferrous", Ferrous, most, 2, 5, source.CommonPractice, "common practice 1 to 5, caution from 2; public rules 0.3, a handbook 10", "iron is left on the resin and the capacity falls"},
	{Softener, "ferric", ParticulateIron, most, 0.3, none, source.CommonPractice, "common practice 0.3", "rust fouls the resin; filter it first"},
	{Softener, "ferric", ParticulateIron, most, none, 1, source.Judgement, "our judgement: resin catches 25 to 75 % and fouls", "rust fouls the resin; filter it first"},
	{Softener, "bound", BoundIron, most, 0.3, none, source.CommonPractice, matrix, "bound iron passes the resin and some fouls it"},
	{Softener, "manganese", Manganese, most, 0.5, 1, source.CommonPractice, matrix, "manganese is left on the resin"},
	{Softener, "iron-per-hardness", IronPerHardness, most, 0.5, none, source.CommonPractice, "common practice: at most 0.5 mg/L for each grain of hardness", "too little hardness to carry the iron off at regeneration"},
	{Softener, "sulfide", Sulfide, most, none, 0.05, source.Published, "none by common practice; " + tasteSulfide, "sulfide blackens the resin and turns iron to a fouling sulfide"},
	{Softener, "ph-low", PH, least, 6.5, none, source.CommonPractice, matrix, "outside the usual range; ferrous iron itself is safe here"},
	{Softener, "ph-high", PH, most, 8.0, none, source.CommonPractice, matrix, "iron turns on the resin"},
	{Softener, "oxygen", Oxygen, most, 0.5, none, source.CommonPractice, "common practice below 0.5 where it must take iron; Utah Administrative Code R309-535-11 allows none", "oxygen turns the iron on the resin"},
	{Softener, "free-chlorine", FreeChlorine, most, 0.5, 1, source.FromMemory, "0.5 for 8 % cross-linked resin, 1.0 for 10 % (from memory)", "chlorine breaks the resin; use 10 % resin or carbon before it"},
	{Softener, "permanganate", Permanganate, most, 0.05, 0.5, source.Judgement, "our judgement: no oxidant that still shows", "permanganate attacks the resin"},
	{Softener, "organic-carbon", OrganicCarbon, most, 2, none, source.CommonPractice, matrix, "organic matter fouls the resin"},
	{Softener, "turbidity", Turbidity, most, 5, none, source.CommonPractice, "common practice 1 to 5", "resin is a poor filter and fouls"},
	{Softener, "polyphosphate", Polyphosphate, most, 0.5, 2, source.Judgement, "polyphosphate must not precede a softener (common practice); the amounts are our judgement", "held iron passes the resin"},
	{Softener, "bacteria", IronBacteria, most, 0.5, none, source.Judgement, "common practice that slime fouls resin; the chance is our judgement", "slime fouls the resin and its tank"},
	{Softener, "warm", TemperatureF, most, 120, none, source.CommonPractice, coldWater, "the vessel weakens"},

	{TanninExchanger, "ferrous", Ferrous, most, 0.1, none, source.CommonPractice, "common practice 0.1; bound iron rides on the tannin that it takes", "iron turns on the resin and fouls it"},
	{TanninExchanger, "ferrous", Ferrous, most, none, 0.3, source.Judgement, "our judgement", "iron turns on the resin and fouls it"},
	{TanninExchanger, "ferric", ParticulateIron, most, 0.1, none, source.CommonPractice, "common practice 0.1", "rust fouls the resin; filter it first"},
	{TanninExchanger, "ferric", ParticulateIron, most, none, 0.3, source.Judgement, "our judgement", "rust fouls the resin; filter it first"},
	{TanninExchanger, "manganese", Manganese, most, 0.05, none, source.CommonPractice, matrix, "manganese fouls the resin"},
	{TanninExchanger, "hardness", Hardness, most, 1, 3, source.CommonPractice, "common practice 1 to 3 gpg", "calcium tannate fouls the resin: soften first"},
	{TanninExchanger, "sulfide", Sulfide, most, none, 0.05, source.Published, "none by common practice; " + tasteSulfide, "sulfide fouls the resin"},
	{TanninExchanger, "free-chlorine", FreeChlorine, most, 0.1, none, source.CommonPractice, "common practice 0.1", "chlorine breaks the resin"},
	{TanninExchanger, "free-chlorine", FreeChlorine, most, none, 0.5, source.Judgement, "our judgement", "chlorine breaks the resin"},
	{TanninExchanger, "ph-low", PH, least, 6.0, none, source.CommonPractice, matrix, "outside the usual range"},
	{TanninExchanger, "ph-high", PH, most, 8.5, none, source.CommonPractice, matrix, "outside the usual range"},
	{TanninExchanger, "turbidity", Turbidity, most, 1, none, source.CommonPractice, matrix, "particles foul the resin"},
	{TanninExchanger, "warm", TemperatureF, most, 95, none, source.CommonPractice, matrix, "the resin loses its groups"},

	{NitrateExchanger, "iron", TotalIron, most, 0.1, none, source.CommonPractice, "common practice 0.1", "iron fouls the resin"},
	{NitrateExchanger, "iron", TotalIron, most, none, 0.3, source.Judgement, "our judgement", "iron fouls the resin"},
	{NitrateExchanger, "manganese", Manganese, most, 0.05, none, source.CommonPractice, matrix, "manganese fouls the resin"},
	{NitrateExchanger, "sulfide", Sulfide, most, none, 0.05, source.Published, "none by common practice; " + tasteSulfide, "sulfide fouls the resin"},
	{NitrateExchanger, "free-chlorine", FreeChlorine, most, 0.1, none, source.CommonPractice, "common practice 0.1", "chlorine breaks the resin"},
	{NitrateExchanger, "free-chlorine", FreeChlorine, most, none, 0.5, source.Judgement, "our judgement", "chlorine breaks the resin"},
	{NitrateExchanger, "ph-low", PH, least, 6.0, none, source.CommonPractice, matrix, "outside the usual range"},
	{NitrateExchanger, "ph-high", PH, most, 8.5, none, source.CommonPractice, matrix, "outside the usual range"},
	{NitrateExchanger, "turbidity", Turbidity, most, 1, none, source.CommonPractice, matrix, "particles foul the resin"},
	{NitrateExchanger, "warm", TemperatureF, most, 95, none, source.CommonPractice, matrix, "the resin loses its groups"},
}
