package cloud

import "wellwright/source"

// Errors of methods: one standard deviation, as a share of the value unless the
// unit says otherwise.
var (
	errLabMetal = source.Factor{Name: "cloud_error_lab_metal", What: "error of a laboratory metal, acidified bottle, one standard deviation",
		Value: 0.05, Low: 0.02, High: 0.1, Kind: source.CommonPractice, From: "laboratory control limits of 10 to 15 % are two to three standard deviations"}
	errLabIon = source.Factor{Name: "cloud_error_lab_ion", What: "error of a laboratory salt ion, one standard deviation",
		Value: 0.05, Low: 0.02, High: 0.1, Kind: source.CommonPractice, From: "as for metals"}
	errAlkalinity = source.Factor{Name: "cloud_error_alkalinity", What: "error of an alkalinity titration, one standard deviation",
		Value: 0.05, Low: 0.02, High: 0.1, Kind: source.CommonPractice, From: "end point of a drop or digital titration; charge balances of the open sheets of Ohio EPA, docs/calibration.md"}
	errHardness = source.Factor{Name: "cloud_error_hardness", What: "error of a hardness titration, one standard deviation",
		Value: 0.03, Low: 0.02, High: 0.05, Kind: source.CommonPractice, From: "printed hardness and that of the two metals agree within 5 %"}
	errFerrousKit = source.Factor{Name: "cloud_error_field_ferrous", What: "error of a ferrous iron kit read within two minutes, one standard deviation",
		Value: 0.10, Low: 0.05, High: 0.2, Kind: source.CommonPractice, From: "colour comparison or pocket photometer"}
	errKit = source.Factor{Name: "cloud_error_field_kit", What: "error of any other field kit, one standard deviation",
		Value: 0.15, Low: 0.1, High: 0.3, Kind: source.CommonPractice, From: "colour comparison"}
	errFieldPH = source.Factor{Name: "cloud_error_field_ph", What: "error of a field pH meter, one standard deviation", Unit: "pH",
		Value: 0.1, Low: 0.05, High: 0.2, Kind: source.CommonPractice, From: "steady within 0.1"}
	errLabPH = source.Factor{Name: "cloud_error_lab_ph", What: "error of the pH of a mailed bottle, its drift apart, one standard deviation", Unit: "pH",
		Value: 0.12, Low: 0.05, High: 0.3, Kind: source.CommonPractice, From: "a good meter, weak buffers in soft water"}
	errOxygen = source.Factor{Name: "cloud_error_oxygen", What: "error of a field oxygen reading, one standard deviation", Unit: "mg/L",
		Value: 0.1, Low: 0.05, High: 0.3, Kind: source.CommonPractice, From: "a meter in a flow cell; steady within 0.3"}
	errTemperature = source.Factor{Name: "cloud_error_temperature", What: "error and season of well water temperature, one standard deviation", Unit: "°C",
		Value: 0.7, Low: 0.2, High: 3, Kind: source.CommonPractice, From: "drilled wells are steady; shallow ones swing more"}
	errTrace = source.Factor{Name: "cloud_error_trace", What: "error of a laboratory trace substance, one standard deviation",
		Value: 0.15, Low: 0.05, High: 0.3, Kind: source.CommonPractice, From: "near the reporting limit errors grow"}
)

// Season: the swing over a year, one standard deviation as a share.
var (
	seasonIron = source.Factor{Name: "cloud_season_iron", What: "swing of iron over the year, one standard deviation",
		Value: 0.12, Low: 0.05, High: 0.4, Kind: source.Judgement, From: "domestic wells repeat within a quarter to a third"}
	seasonManganese = source.Factor{Name: "cloud_season_manganese", What: "swing of manganese over the year, one standard deviation",
		Value: 0.12, Low: 0.05, High: 0.4, Kind: source.Judgement, From: "as for iron"}
	seasonSulfide = source.Factor{Name: "cloud_season_sulfide", What: "swing of sulfide over the year, one standard deviation",
		Value: 0.2, Low: 0.1, High: 0.5, Kind: source.Judgement, From: "gas varies more than metals"}
	seasonIon = source.Factor{Name: "cloud_season_ion", What: "swing of hardness, alkalinity and salts over the year, one standard deviation",
		Value: 0.03, Low: 0.01, High: 0.15, Kind: source.Judgement, From: "deep wells hardly move; shallow ones do"}
	seasonPH = source.Factor{Name: "cloud_season_ph", What: "swing of pH over the year, one standard deviation", Unit: "pH",
		Value: 0.05, Low: 0.02, High: 0.2, Kind: source.Judgement, From: "as the carbon dioxide of the soil"}
)

// Rules for odd evidence.
var (
	impossibleRatio = source.Factor{Name: "cloud_impossible_ratio", What: "how many times a part may read above its whole before both cannot be right",
		Value: 1.2, Low: 1.1, High: 1.4, Kind: source.CommonPractice, From: "10 % analytical scatter on each"}
	ironMost = source.Factor{Name: "cloud_iron_most", What: "total iron above which micrograms were surely written as milligrams", Unit: "mg/L",
		Value: 100, Low: 50, High: 200, Kind: source.CommonPractice, From: "household wells seldom hold more than 30"}
	ironComplaint = source.Factor{Name: "cloud_iron_complaint", What: "total iron below which iron is not the complaint", Unit: "mg/L",
		Value: 0.3, Low: 0.1, High: 0.3, Kind: source.Published, From: "US EPA secondary level, as quoted in UMass Extension, Iron and Manganese in Private Drinking Water Wells"}
	slugRatio = source.Factor{Name: "cloud_slug_ratio", What: "spread of repeated totals, highest to lowest, from which iron comes in slugs",
		Value: 2, Low: 1.5, High: 3, Kind: source.CommonPractice, From: "growth sheds in bursts"}
	slugShare = source.Factor{Name: "cloud_slug_share", What: "share of days on which iron comes in slugs, where it was seen to",
		Value: 0.15, Low: 0.05, High: 0.4, Kind: source.Judgement, From: "after standing and at pump start"}
	belowShare = source.Factor{Name: "cloud_below_limit_share", What: "share of the limit that stands for a result below it",
		Value: 0.5, Low: 0, High: 1, Kind: source.CommonPractice, From: "half the limit in balances, with zero and the limit shown"}
	noneShare = source.Factor{Name: "cloud_none_found_share", What: "share of the limit that stands for a result below it whose note says none found",
		Value: 0.1, Low: 0, High: 0.5, Kind: source.CommonPractice, From: "near nothing, with zero and the limit shown"}
	alkalinityPerIron = source.Factor{Name: "cloud_alkalinity_per_iron", What: "alkalinity as CaCO3 used by ferrous iron that rusts in the bottle", Unit: "mg/mg",
		Value: 1.79, Kind: source.Derived, From: "Fe2+ + 2.5 H2O + 0.25 O2 = Fe(OH)3 + 2 H+; two equivalents of 50.04 in 55.85"}
	supplySpread = source.Factor{Name: "cloud_supply_spread", What: "spread of pump flow, yield and use about what was measured or recorded",
		Value: 0.1, Low: 0.05, High: 0.25, Kind: source.CommonPractice, From: "a bucket and a watch give 5 %; level and season the rest"}
)

// Demand for chlorine beyond stoichiometry.
var (
	chlorinePerTOC = source.Factor{Name: "cloud_chlorine_per_toc", What: "chlorine taken up by organic carbon in some minutes", Unit: "mg/mg",
		Value: 0.1, Low: 0, High: 0.5, Kind: source.Judgement, From: "a jar on site replaces it"}
	chlorineSlime = source.Factor{Name: "cloud_chlorine_slime", What: "chlorine taken up by slime where iron bacteria live", Unit: "mg/L",
		Value: 0.6, Low: 0, High: 1.7, Kind: source.CommonPractice, From: "allow up to half as much again as the sum of the parts"}
)

// Use and supply where nobody recorded them.
var (
	usePerPerson = source.Factor{Name: "cloud_use_per_person", What: "water used by each person", Unit: "gal/day",
		Value: 75, Low: 50, High: 100, Kind: source.CommonPractice, From: "for sizing; metered use is often 50 to 60"}
	assumedPeople = source.Factor{Name: "cloud_assumed_people", What: "people in a house where nobody counted",
		Value: 3, Low: 1, High: 6, Kind: source.CommonPractice, From: "an ordinary house"}
	assumedBaths = source.Factor{Name: "cloud_assumed_baths", What: "bathrooms in a house where nobody counted",
		Value: 2, Low: 1, High: 3, Kind: source.CommonPractice, From: "an ordinary house"}
	assumedPump = source.Factor{Name: "cloud_assumed_pump_flow", What: "pump flow at the tank where nobody measured", Unit: "gpm",
		Value: 8, Low: 4, High: 12, Kind: source.CommonPractice, From: "an ordinary half to three-quarter horsepower submersible; a bucket and a watch replace it"}
	assumedPumpAt = source.Factor{Name: "cloud_assumed_pump_pressure", What: "pressure at which the assumed pump flow stands", Unit: "psi",
		Value: 45, Kind: source.CommonPractice, From: "middle of the switch"}
	assumedCutIn = source.Factor{Name: "cloud_assumed_cut_in", What: "cut-in of the pressure switch where nobody looked", Unit: "psi",
		Value: 40, Low: 20, High: 50, Kind: source.CommonPractice, From: "switches leave the works at 30/50 or 40/60"}
	switchSpan = source.Factor{Name: "cloud_switch_span", What: "cut-out above cut-in", Unit: "psi",
		Value: 20, Low: 15, High: 30, Kind: source.CommonPractice, From: "the usual setting of a pressure switch"}
	prechargeBelow = source.Factor{Name: "cloud_precharge_below", What: "air charge of a pre-charged tank below cut-in", Unit: "psi",
		Value: 2, Low: 1, High: 5, Kind: source.CommonPractice, From: "the usual setting"}
)

// Factors lists every factor of the room.
func Factors() []source.Factor {
	fs := []source.Factor{
		errLabMetal, errLabIon, errAlkalinity, errHardness, errFerrousKit, errKit, errFieldPH, errLabPH, errOxygen, errTemperature, errTrace,
		seasonIron, seasonManganese, seasonSulfide, seasonIon, seasonPH,
		impossibleRatio, ironMost, ironComplaint, slugRatio, slugShare, belowShare, noneShare, alkalinityPerIron, supplySpread,
		chlorinePerTOC, chlorineSlime,
		usePerPerson, assumedPeople, assumedBaths, assumedPump, assumedPumpAt, assumedCutIn, switchSpan, prechargeBelow,
	}
	fs = append(fs, priorFactors()...)
	fs = append(fs, clueFactors()...)
	fs = append(fs, measureFactors()...)
	fs = append(fs, hypothesisFactors()...)
	fs = append(fs, modelFactors()...)
	fs = append(fs, lossFactors()...)
	fs = append(fs, supplyFactors()...)
	fs = append(fs, neighbourFactors()...)
	fs = append(fs, jarFactors()...)
	fs = append(fs, companyFactors()...)
	return append(fs, classFactors()...)
}
