package cloud

import (
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// property is one number of a raw water other than its iron.
type property int

const (
	temperature property = iota
	ph
	alkalinity
	manganese
	manganeseOx
	oxygen
	sulfide
	ammonia
	calcium
	magnesium
	sodium
	potassium
	chloride
	sulfate
	fluoride
	silica
	nitrate
	phosphate
	carbon
	arsenic
	solids
	coliform
	ecoli
	nProperties
)

// trait says how a property is measured and how it swings.
type trait struct {
	leaf, unit string // of the answer
	analyte    water.Analyte
	lab, field source.Factor // error, one standard deviation
	season     source.Factor
}

// none stands where a property has no error or season of its own.
var none source.Factor

var traits = [nProperties]trait{
	temperature: {"temperature_c", "°C", water.Temperature, errTemperature, errTemperature, none},
	ph:          {"ph", "", water.PH, errLabPH, errFieldPH, seasonPH},
	alkalinity:  {"alkalinity_mg_l_as_caco3", "mg/L as CaCO3", water.Alkalinity, errAlkalinity, errAlkalinity, seasonIon},
	manganese:   {"manganese_mg_l", "mg/L", water.Manganese, errLabMetal, errKit, seasonManganese},
	manganeseOx: {"manganese_particulate_mg_l", "mg/L", water.Manganese, errLabMetal, errKit, seasonManganese},
	oxygen:      {"oxygen_mg_l", "mg/L", water.Oxygen, errOxygen, errOxygen, none},
	sulfide:     {"sulfide_mg_l_as_h2s", "mg/L as H2S", water.Sulfide, errKit, errKit, seasonSulfide},
	ammonia:     {"ammonia_mg_l_as_n", "mg/L as N", water.Ammonia, errTrace, errKit, seasonIon},
	calcium:     {"calcium_mg_l", "mg/L", water.Calcium, errLabMetal, errKit, seasonIon},
	magnesium:   {"magnesium_mg_l", "mg/L", water.Magnesium, errLabMetal, errKit, seasonIon},
	sodium:      {"sodium_mg_l", "mg/L", water.Sodium, errLabIon, errKit, seasonIon},
	potassium:   {"potassium_mg_l", "mg/L", water.Potassium, errLabIon, errKit, seasonIon},
	chloride:    {"chloride_mg_l", "mg/L", water.Chloride, errLabIon, errKit, seasonIon},
	sulfate:     {"sulfate_mg_l", "mg/L", water.Sulfate, errLabIon, errKit, seasonIon},
	fluoride:    {"fluoride_mg_l", "mg/L", water.Fluoride, errLabIon, errKit, seasonIon},
	silica:      {"silica_mg_l", "mg/L as SiO2", water.Silica, errLabIon, errKit, seasonIon},
	nitrate:     {"nitrate_mg_l_as_n", "mg/L as N", water.Nitrate, errLabIon, errKit, seasonIon},
	phosphate:   {"phosphate_mg_l_as_p", "mg/L as P", water.Phosphate, errTrace, errKit, seasonIon},
	carbon:      {"toc_mg_l", "mg/L", water.TOC, errTrace, errKit, seasonIon},
	arsenic:     {"arsenic_mg_l", "mg/L", water.Arsenic, errTrace, errKit, seasonIon},
	solids:      {"solids_mg_l", "mg/L", water.TSS, errTrace, errKit, seasonIon},
	coliform:    {"total_coliform_per_100ml", "per 100 mL", water.TotalColiform, none, none, none},
	ecoli:       {"e_coli_per_100ml", "per 100 mL", water.EColi, none, none, none},
}

func prior(name, what, unit string, mid, low, high float64, from string) source.Factor {
	return source.Factor{Name: "cloud_assumed_" + name, What: "assumed " + what, Unit: unit,
		Value: mid, Low: low, High: high, Kind: source.CommonPractice, From: from}
}

// Values of what stands apart from the prior, where nobody measured it.
var (
	assumedSolids = prior("solids", "suspended solids other than iron and manganese", "mg/L", 1, 0.2, 5, "a drilled well without sand")
	assumedGerms  = prior("coliform", "coliform where nobody tested", "per 100 mL", 0, 0, 1, "coliform: not tested, which is not absent; have it tested")
	assumedEColi  = prior("e_coli", "E. coli where nobody tested", "per 100 mL", 0, 0, 1, "E. coli: not tested, which is not absent; have it tested")
)

// solidsPerTurbidity makes solids of the turbidity of water fresh from the tap.
var solidsPerTurbidity = source.Factor{Name: "cloud_solids_per_turbidity", What: "suspended solids for each NTU read at once", Unit: "mg/L",
	Value: 1.2, Low: 0.7, High: 2.2, Kind: source.CommonPractice, From: "one to two mg/L to the NTU in surface water"}

func priorFactors() []source.Factor {
	return []source.Factor{assumedSolids, assumedGerms, assumedEColi, solidsPerTurbidity}
}

// numbers are the values of one water, each in the unit of its trait.
type numbers [nProperties]float64

// state makes the state of a raw water from its numbers and its iron.
func (n *numbers) state(i split, bacteria float64) water.State {
	return water.State{
		Temperature: unit.Celsius(n[temperature]), PH: unit.PHOf(n[ph]), Alkalinity: unit.AlkalinityAsCaCO3(n[alkalinity]),
		Ferrous: unit.MgPerL(i.ferrous), Particulate: unit.MgPerL(i.particulate), Bound: unit.MgPerL(i.bound),
		Manganese: unit.MgPerL(n[manganese]), ManganeseOx: unit.MgPerL(n[manganeseOx]),
		Oxygen: unit.MgPerL(n[oxygen]), Sulfide: unit.MgPerLAsH2S(n[sulfide]), Ammonia: unit.MgPerLAsN(n[ammonia]),
		Calcium: unit.MgPerL(n[calcium]), Magnesium: unit.MgPerL(n[magnesium]),
		Sodium: unit.MgPerL(n[sodium]), Potassium: unit.MgPerL(n[potassium]),
		Chloride: unit.MgPerL(n[chloride]), Sulfate: unit.MgPerL(n[sulfate]),
		Fluoride: unit.MgPerL(n[fluoride]), Silica: unit.MgPerL(n[silica]),
		Nitrate: unit.MgPerLAsN(n[nitrate]), Phosphate: unit.MgPerLAsP(n[phosphate]),
		OrganicCarbon: unit.MgPerL(n[carbon]), Arsenic: unit.MgPerL(n[arsenic]), Solids: unit.MgPerL(n[solids]),
		Coliform: unit.Per100mL(n[coliform]), EColi: unit.Per100mL(n[ecoli]), Bacteria: bacteria,
	}
}
