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

// trait says how a property is measured, how it swings and what stands for it
// where nobody measured it.
type trait struct {
	leaf, unit string // of the answer
	analyte    water.Analyte
	lab, field source.Factor // error, one standard deviation
	absolute   bool          // the errors are in the unit, not shares
	season     source.Factor
	lean       float64 // +1: high in the "high" draw; -1: low in it
	prior      source.Factor
}

// none stands where a property has no error or season of its own.
var none source.Factor

var traits = [nProperties]trait{
	temperature: {"temperature_c", "°C", water.Temperature, errTemperature, errTemperature, true, none, -1,
		prior("temperature", "water temperature", "°C", 11, 8, 16, "within a degree or two of the yearly mean air")},
	ph: {"ph", "", water.PH, errLabPH, errFieldPH, true, seasonPH, -1,
		prior("ph", "pH", "pH", 7.2, 6.3, 8, "most iron wells")},
	alkalinity: {"alkalinity_mg_l_as_caco3", "mg/L as CaCO3", water.Alkalinity, errAlkalinity, errAlkalinity, false, seasonIon, 1,
		prior("alkalinity", "alkalinity", "mg/L as CaCO3", 180, 40, 350, "most iron wells")},
	manganese: {"manganese_mg_l", "mg/L", water.Manganese, errLabMetal, errKit, false, seasonManganese, 1,
		prior("manganese", "manganese", "mg/L", 0.1, 0.02, 0.5, "rides with iron, a twentieth of it or less")},
	manganeseOx: {"manganese_particulate_mg_l", "mg/L", water.Manganese, errLabMetal, errKit, false, seasonManganese, 1,
		prior("manganese_particulate", "particulate manganese", "mg/L", 0, 0, 0.02, "manganese stays dissolved at household pH")},
	oxygen: {"oxygen_mg_l", "mg/L", water.Oxygen, errOxygen, errOxygen, true, none, -1,
		prior("oxygen", "dissolved oxygen where no ferrous iron is known", "mg/L", 3, 0.2, 8, "anything from none to saturation")},
	sulfide: {"sulfide_mg_l_as_h2s", "mg/L as H2S", water.Sulfide, errKit, errKit, false, seasonSulfide, 1,
		prior("sulfide", "sulfide where nobody smells it", "mg/L as H2S", 0.01, 0, 0.05, "smelt from about 0.05")},
	ammonia: {"ammonia_mg_l_as_n", "mg/L as N", water.Ammonia, errTrace, errKit, false, seasonIon, 1,
		prior("ammonia", "ammonia", "mg/L as N", 0.1, 0, 0.5, "iron wells often hold some")},
	calcium: {"calcium_mg_l", "mg/L", water.Calcium, errHardness, errKit, false, seasonIon, 1,
		prior("calcium", "calcium", "mg/L", 48, 10, 110, "with magnesium a hardness of about 180")},
	magnesium: {"magnesium_mg_l", "mg/L", water.Magnesium, errHardness, errKit, false, seasonIon, 1,
		prior("magnesium", "magnesium", "mg/L", 15, 3, 35, "with calcium a hardness of about 180")},
	sodium: {"sodium_mg_l", "mg/L", water.Sodium, errLabIon, errKit, false, seasonIon, 1,
		prior("sodium", "sodium", "mg/L", 12, 2, 80, "closes the charge where it was not measured")},
	potassium: {"potassium_mg_l", "mg/L", water.Potassium, errLabIon, errKit, false, seasonIon, 1,
		prior("potassium", "potassium", "mg/L", 2, 0.5, 5, "small in nearly every well")},
	chloride: {"chloride_mg_l", "mg/L", water.Chloride, errLabIon, errKit, false, seasonIon, 1,
		prior("chloride", "chloride", "mg/L", 12, 2, 80, "closes the charge where it was not measured")},
	sulfate: {"sulfate_mg_l", "mg/L", water.Sulfate, errLabIon, errKit, false, seasonIon, 1,
		prior("sulfate", "sulfate", "mg/L", 20, 2, 100, "most iron wells")},
	fluoride: {"fluoride_mg_l", "mg/L", water.Fluoride, errLabIon, errKit, false, seasonIon, 1,
		prior("fluoride", "fluoride", "mg/L", 0.2, 0.05, 0.8, "most wells")},
	silica: {"silica_mg_l", "mg/L as SiO2", water.Silica, errLabIon, errKit, false, seasonIon, 1,
		prior("silica", "silica", "mg/L as SiO2", 15, 8, 30, "most wells")},
	nitrate: {"nitrate_mg_l_as_n", "mg/L as N", water.Nitrate, errLabIon, errKit, false, seasonIon, 1,
		prior("nitrate", "nitrate", "mg/L as N", 0.1, 0, 2, "ferrous iron and nitrate seldom meet; a health test all the same")},
	phosphate: {"phosphate_mg_l_as_p", "mg/L as P", water.Phosphate, errTrace, errKit, false, seasonIon, 1,
		prior("phosphate", "phosphate", "mg/L as P", 0.03, 0, 0.2, "most wells")},
	carbon: {"toc_mg_l", "mg/L", water.TOC, errTrace, errKit, false, seasonIon, 1,
		prior("toc", "organic carbon", "mg/L", 1, 0.3, 3, "most drilled wells")},
	arsenic: {"arsenic_mg_l", "mg/L", water.Arsenic, errTrace, errKit, false, seasonIon, 1,
		prior("arsenic", "arsenic", "mg/L", 0.001, 0, 0.01, "a health test that is not to be left out")},
	solids: {"solids_mg_l", "mg/L", water.TSS, errTrace, errKit, false, seasonIon, 1,
		prior("solids", "suspended solids other than iron and manganese", "mg/L", 1, 0, 5, "a drilled well without sand")},
	coliform: {"total_coliform_per_100ml", "per 100 mL", water.TotalColiform, none, none, false, none, 1,
		prior("coliform", "coliform where nobody tested", "per 100 mL", 0, 0, 1, "coliform: not tested, which is not absent; have it tested")},
	ecoli: {"e_coli_per_100ml", "per 100 mL", water.EColi, none, none, false, none, 1,
		prior("e_coli", "E. coli where nobody tested", "per 100 mL", 0, 0, 1, "E. coli: not tested, which is not absent; have it tested")},
}

func prior(name, what, unit string, mid, low, high float64, from string) source.Factor {
	return source.Factor{Name: "cloud_assumed_" + name, What: "assumed " + what, Unit: unit,
		Value: mid, Low: low, High: high, Kind: source.CommonPractice, From: from}
}

// Assumptions that lean on other evidence.
var (
	oxygenReduced = prior("oxygen_reduced", "dissolved oxygen where ferrous iron is known or likely", "mg/L", 0.3, 0, 1,
		"ferrous iron and oxygen live together only at low pH")
	sulfideSmelt = prior("sulfide_smelt", "sulfide where rotten egg is smelt at the cold tap", "mg/L as H2S", 0.5, 0.1, 3,
		"smelt from about 0.05, hard to bear above 3")
	ironUnknown = prior("iron_total", "total iron where only signs are known", "mg/L", 2, 0.4, 10,
		"what stains enough to be called about")
	particulateUnknown = prior("iron_particulate", "particulate iron beside a ferrous reading without a sound total", "mg/L", 0.1, 0, 0.5,
		"clear-water iron holds a little rust")
	calciumShare = source.Factor{Name: "cloud_calcium_share", What: "share of hardness that is calcium where only hardness was measured",
		Value: 0.65, Low: 0.5, High: 0.8, Kind: source.CommonPractice, From: "two parts calcium to one of magnesium"}
)

func priorFactors() []source.Factor {
	fs := []source.Factor{oxygenReduced, sulfideSmelt, ironUnknown, particulateUnknown, calciumShare}
	for _, t := range traits {
		fs = append(fs, t.prior)
	}
	return fs
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
