package water

import "wellwright/source"

const (
	sm1030   = "from memory: Standard Methods 1030 E, correctness of analyses"
	tradeUse = "common practice of laboratories and treatment specialists, no single source"
)

// The factors of the checks.
var (
	balanceNotice = source.Factor{Name: "check_balance_notice", What: "charge balance error above which it is noted", Unit: "%",
		Value: 2, Low: 2, High: 5, Kind: source.FromMemory, From: sm1030 + " (anion sum 3 to 10 meq/L)"}
	balanceDoubt = source.Factor{Name: "check_balance_doubt", What: "charge balance error above which the analysis is doubted", Unit: "%",
		Value: 5, Low: 5, High: 10, Kind: source.CommonPractice, From: "state water-data practice; also " + sm1030 + " (anion sum above 10 meq/L)"}
	balanceRefuse = source.Factor{Name: "check_balance_refuse", What: "charge balance error above which the water is not speciated", Unit: "%",
		Value: 10, Kind: source.CommonPractice, From: tradeUse}
	diluteSum = source.Factor{Name: "check_balance_dilute_sum", What: "anion sum up to which a fixed gap is allowed instead", Unit: "meq/L",
		Value: 3, Kind: source.FromMemory, From: sm1030}
	diluteGap = source.Factor{Name: "check_balance_dilute_gap", What: "gap between cations and anions allowed in dilute water", Unit: "meq/L",
		Value: 0.2, Kind: source.FromMemory, From: sm1030}
	minorIon = source.Factor{Name: "check_balance_minor_ion", What: "least iron, manganese or ammonium counted in a balance", Unit: "meq/L",
		Value: 0.02, Kind: source.Published, From: "USGS National Water Information System, ion balance records (form of the sum)"}
	softWater = source.Factor{Name: "check_softened_hardness", What: "hardness below which a sample may come from after a softener", Unit: "mg/L as CaCO3",
		Value: 20, Kind: source.CommonPractice, From: tradeUse}
	softSodium = source.Factor{Name: "check_softened_sodium", What: "sodium above which very soft water may come from after a softener", Unit: "mg/L",
		Value: 30, Kind: source.CommonPractice, From: tradeUse}
	sodiumShare = source.Factor{Name: "check_softened_sodium_ratio", What: "sodium to hardness, by equivalents, above which soft water is suspect",
		Value: 5, Kind: source.Judgement, From: "our own estimate"}
	hardnessShare = source.Factor{Name: "check_hardness_share", What: "hardness reported against calcium and magnesium, allowed", Unit: "%",
		Value: 5, Kind: source.CommonPractice, From: tradeUse}
	hardnessGap = source.Factor{Name: "check_hardness_gap", What: "the same where it is small", Unit: "mg/L as CaCO3",
		Value: 3, Kind: source.CommonPractice, From: tradeUse}
	solidsLow = source.Factor{Name: "check_solids_low", What: "least dissolved solids measured over calculated",
		Value: 1.0, Low: 0.8, High: 1.0, Kind: source.FromMemory, From: sm1030 + " (published elsewhere as within 20 %)"}
	solidsHigh = source.Factor{Name: "check_solids_high", What: "most dissolved solids measured over calculated",
		Value: 1.2, Low: 1.2, High: 1.3, Kind: source.FromMemory, From: sm1030}
	solidsFar = source.Factor{Name: "check_solids_far", What: "departure of measured from calculated solids that is doubted", Unit: "%",
		Value: 20, Kind: source.Published, From: "state water-data practice, within 20 %"}
	solidsEC = source.Factor{Name: "check_solids_conductivity_low", What: "least dissolved solids over conductivity", Unit: "mg/L per uS/cm",
		Value: 0.55, Kind: source.Published, From: "university water centre page, 0.55 to 0.75, higher for sulfate water"}
	solidsECHigh = source.Factor{Name: "check_solids_conductivity_high", What: "most dissolved solids over conductivity", Unit: "mg/L per uS/cm",
		Value: 0.75, Low: 0.70, High: 0.81, Kind: source.Published, From: "university water centre page, 0.55 to 0.75; a county file gives 0.81"}
	solidsECFar = source.Factor{Name: "check_solids_conductivity_far", What: "dissolved solids over conductivity that is doubted", Unit: "mg/L per uS/cm",
		Value: 0.81, Kind: source.Published, From: "county water file, 0.55 to 0.81"}
	sumEC = source.Factor{Name: "check_ions_conductivity", What: "departure of a hundredfold ion sum from conductivity, allowed", Unit: "%",
		Value: 10, Kind: source.FromMemory, From: sm1030}
	sumECFar = source.Factor{Name: "check_ions_conductivity_far", What: "the same, doubted", Unit: "%",
		Value: 20, Kind: source.Judgement, From: "our own estimate: twice the allowed departure"}
	fractionScatter = source.Factor{Name: "check_fraction_scatter", What: "dissolved over total allowed for analytical scatter",
		Value: 1.1, Kind: source.CommonPractice, From: tradeUse}
	phDriftAllowed = source.Factor{Name: "check_ph_drift", What: "laboratory pH above field pH that tells of lost carbon dioxide", Unit: "pH",
		Value: 0.3, Kind: source.Derived, From: "calcite and siderite saturation of iron waters before and after degassing"}
	alkalinityShare = source.Factor{Name: "check_alkalinity_scatter", What: "difference between two alkalinities allowed", Unit: "%",
		Value: 3, Kind: source.Judgement, From: "our own estimate of two titrations"}
	sulfideKept = source.Factor{Name: "check_sulfide_kept", What: "share of the sulfide read on site below which the bottle lost it",
		Value: 0.5, Kind: source.Judgement, From: "our own estimate"}
	sulfideSeen = source.Factor{Name: "check_sulfide_seen", What: "least sulfide on site that can be said to be lost", Unit: "mg/L as H2S",
		Value: 0.1, Kind: source.Judgement, From: "our own estimate: the lowest step of field kits"}
	rustTurbidity = source.Factor{Name: "check_rust_turbidity", What: "laboratory turbidity over that on site that tells of rust formed in the bottle",
		Value: 2, Kind: source.Judgement, From: "our own estimate"}
	clearTurbidity = source.Factor{Name: "check_clear_turbidity", What: "turbidity up to which water looks clear", Unit: "NTU",
		Value: 5, Kind: source.CommonPractice, From: tradeUse}
	oddIron = source.Factor{Name: "check_iron_high_ph", What: "iron above which clear alkaline water is doubted", Unit: "mg/L",
		Value: 10, Kind: source.CommonPractice, From: tradeUse}
	oddPH = source.Factor{Name: "check_iron_ph", What: "pH above which clear water with much iron is doubted", Unit: "pH",
		Value: 8, Kind: source.CommonPractice, From: tradeUse}
	ironTells = source.Factor{Name: "check_iron_tells", What: "least iron that can be told from scatter in these checks", Unit: "mg/L",
		Value: 0.3, Kind: source.CommonPractice, From: tradeUse}
	residualSeen = source.Factor{Name: "check_residual_seen", What: "chlorine in a raw sample above which it is not raw", Unit: "mg/L as Cl2",
		Value: 0.05, Kind: source.Judgement, From: "our own estimate: what field kits tell from nothing"}
	carbonatePH = source.Factor{Name: "check_carbonate_ph", What: "pH below which no carbonate can be titrated", Unit: "pH",
		Value: 8.3, Kind: source.CommonPractice, From: "phenolphthalein end point; " + tradeUse}
	hydroxidePH = source.Factor{Name: "check_hydroxide_ph", What: "pH below which no hydroxide can be titrated", Unit: "pH",
		Value: 10, Kind: source.CommonPractice, From: tradeUse}
	usualTemperature = source.Factor{Name: "check_temperature", What: "water temperature taken where none was read", Unit: "C",
		Value: 12, Low: 5, High: 20, Kind: source.Judgement, From: "our own estimate of shallow groundwater in temperate country"}
	freshCalcite = source.Factor{Name: "check_fresh_calcite", What: "calcite saturation index above which a pH was read after carbon dioxide left",
		Value: 0.3, Kind: source.Derived, From: "water fresh from an aquifer stands near calcite equilibrium"}
	freshSiderite = source.Factor{Name: "check_fresh_siderite", What: "siderite saturation index above which the same holds, or iron is not all ferrous",
		Value: 1, Kind: source.Derived, From: "the same for iron carbonate, which forms slowly"}
	mostIron = source.Factor{Name: "check_most_iron", What: "iron above which a slip of the unit is asked about", Unit: "mg/L",
		Value: 150, Kind: source.Judgement, From: "our own estimate: household wells stay below; the national survey of Bangladesh tops at 61 mg/L"}
	mostManganese = source.Factor{Name: "check_most_manganese", What: "manganese above which a slip of the unit is asked about", Unit: "mg/L",
		Value: 20, Kind: source.Judgement, From: "our own estimate"}
	mostArsenic = source.Factor{Name: "check_most_arsenic", What: "arsenic above which a slip of the unit is asked about", Unit: "mg/L",
		Value: 5, Kind: source.Judgement, From: "our own estimate"}
)

// ceilings are the amounts above which a slip of the unit is asked about.
var ceilings = map[Analyte]source.Factor{Iron: mostIron, Manganese: mostManganese, Arsenic: mostArsenic}

// Factors returns every factor of the checks.
func Factors() []source.Factor {
	return []source.Factor{
		balanceNotice, balanceDoubt, balanceRefuse, diluteSum, diluteGap, minorIon, softWater, softSodium, sodiumShare,
		hardnessShare, hardnessGap, solidsLow, solidsHigh, solidsFar, solidsEC, solidsECHigh, solidsECFar,
		sumEC, sumECFar, fractionScatter, phDriftAllowed, alkalinityShare, sulfideKept, sulfideSeen, rustTurbidity,
		clearTurbidity, oddIron, oddPH, ironTells, residualSeen, carbonatePH, hydroxidePH, usualTemperature, freshCalcite, freshSiderite, mostIron, mostManganese, mostArsenic,
	}
}
