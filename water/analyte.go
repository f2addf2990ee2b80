package water

import "strings"

// Analyte is what was measured, by its stable identifier.
type Analyte string

// The analytes. The identifiers are those of books, tables and the JSON answer.
const (
	Iron              Analyte = "iron"
	Manganese         Analyte = "manganese"
	PH                Analyte = "ph"
	Alkalinity        Analyte = "alkalinity"
	PAlkalinity       Analyte = "phenolphthalein_alkalinity"
	Bicarbonate       Analyte = "bicarbonate"
	Carbonate         Analyte = "carbonate"
	Hydroxide         Analyte = "hydroxide"
	Acidity           Analyte = "acidity"
	Hardness          Analyte = "hardness"
	CarbonateHardness Analyte = "carbonate_hardness"
	PermanentHardness Analyte = "noncarbonate_hardness"
	Calcium           Analyte = "calcium"
	Magnesium         Analyte = "magnesium"
	Sodium            Analyte = "sodium"
	Potassium         Analyte = "potassium"
	Strontium         Analyte = "strontium"
	Lithium           Analyte = "lithium"
	Chloride          Analyte = "chloride"
	Sulfate           Analyte = "sulfate"
	Bromide           Analyte = "bromide"
	Fluoride          Analyte = "fluoride"
	Nitrate           Analyte = "nitrate"
	Nitrite           Analyte = "nitrite"
	NitrateNitrite    Analyte = "nitrate_plus_nitrite"
	Ammonia           Analyte = "ammonia"
	KjeldahlNitrogen  Analyte = "kjeldahl_nitrogen"
	TotalNitrogen     Analyte = "total_nitrogen"
	Phosphate         Analyte = "phosphate"
	TotalPhosphorus   Analyte = "total_phosphorus"
	Silica            Analyte = "silica"
	Sulfide           Analyte = "h2s"
	TOC               Analyte = "toc"
	Tannin            Analyte = "tannin"
	COD               Analyte = "cod"
	BOD               Analyte = "bod"
	Colour            Analyte = "colour"
	Odour             Analyte = "odour"
	Turbidity         Analyte = "turbidity"
	TDS               Analyte = "tds"
	TSS               Analyte = "tss"
	Conductivity      Analyte = "conductivity"
	Oxygen            Analyte = "oxygen"
	OxygenSaturation  Analyte = "oxygen_saturation"
	ORP               Analyte = "orp"
	Temperature       Analyte = "temperature"
	CO2               Analyte = "co2"
	Methane           Analyte = "methane"
	FreeChlorine      Analyte = "free_chlorine"
	TotalChlorine     Analyte = "total_chlorine"
	CombinedChlorine  Analyte = "combined_chlorine"
	Permanganate      Analyte = "permanganate"
	TotalColiform     Analyte = "total_coliform"
	FecalColiform     Analyte = "fecal_coliform"
	EColi             Analyte = "e_coli"
	IronBacteria      Analyte = "iron_bacteria_culture"
	SulfateReducers   Analyte = "sulfate_reducer_culture"
	SlimeFormers      Analyte = "slime_former_culture"
	PlateCount        Analyte = "plate_count"
	Arsenic           Analyte = "arsenic"
	Arsenic3          Analyte = "arsenic_3"
	Arsenic5          Analyte = "arsenic_5"
	Lead              Analyte = "lead"
	Copper            Analyte = "copper"
	Zinc              Analyte = "zinc"
	Aluminium         Analyte = "aluminium"
	Antimony          Analyte = "antimony"
	Barium            Analyte = "barium"
	Beryllium         Analyte = "beryllium"
	Boron             Analyte = "boron"
	Cadmium           Analyte = "cadmium"
	Chromium          Analyte = "chromium"
	Chromium3         Analyte = "chromium_3"
	Chromium6         Analyte = "chromium_6"
	Cobalt            Analyte = "cobalt"
	Mercury           Analyte = "mercury"
	Molybdenum        Analyte = "molybdenum"
	Nickel            Analyte = "nickel"
	Selenium          Analyte = "selenium"
	Silver            Analyte = "silver"
	Thallium          Analyte = "thallium"
	Tin               Analyte = "tin"
	Vanadium          Analyte = "vanadium"
	Uranium           Analyte = "uranium"
	Radium            Analyte = "radium"
	Radium226         Analyte = "radium_226"
	Radium228         Analyte = "radium_228"
	Radon             Analyte = "radon"
	GrossAlpha        Analyte = "gross_alpha"
	GrossBeta         Analyte = "gross_beta"
	Cyanide           Analyte = "cyanide_free"
	FoamingAgents     Analyte = "foaming_agents"
	PFOA              Analyte = "pfoa"
	PFOS              Analyte = "pfos"
	PFAS25            Analyte = "pfas_sum25"
	PFAS20            Analyte = "pfas_sum20"
	Trihalomethanes   Analyte = "tthm"
	HaloaceticAcids   Analyte = "haa5"
	SandContent       Analyte = "sand"
)

// Dimension is what kind of quantity an analyte is.
type Dimension int

// The dimensions.
const (
	OfMass Dimension = iota
	OfHardness
	OfAlkalinity
	OfNitrogen
	OfPhosphorus
	OfSulfide
	OfChlorine
	OfPH
	OfTemperature
	OfConductivity
	OfTurbidity
	OfColour
	OfOdour
	OfPotential
	OfRadioactivity
	OfCount
	OfDays
	OfPercent
)

var canonicalUnits = [...]string{
	OfMass: "mg/L", OfHardness: "mg/L as CaCO3", OfAlkalinity: "mg/L as CaCO3", OfNitrogen: "mg/L as N",
	OfPhosphorus: "mg/L as P", OfSulfide: "mg/L as H2S", OfChlorine: "mg/L as Cl2", OfPH: "pH",
	OfTemperature: "C", OfConductivity: "uS/cm", OfTurbidity: "NTU", OfColour: "colour units",
	OfOdour: "threshold odour number", OfPotential: "mV", OfRadioactivity: "pCi/L",
	OfCount: "per 100 mL", OfDays: "days", OfPercent: "%",
}

// Unit returns the unit in which amounts of the dimension are kept.
func (d Dimension) Unit() string { return canonicalUnits[d] }

// entry is what is known of one analyte.
type entry struct {
	id     Analyte
	name   string
	dim    Dimension
	cas    string
	basis  string  // formula in which the canonical amount is counted; "" if none matters
	charge float64 // of the ion, for equivalents; 0 if none
	also   string  // other names, separated by semicolons
}

// Name returns the analyte in words.
func (a Analyte) Name() string {
	if e, ok := lookUp(a); ok {
		return e.name
	}
	return strings.ReplaceAll(string(a), "_", " ")
}

// Known reports whether a is in the table.
func (a Analyte) Known() bool { _, ok := lookUp(a); return ok }

// Dimension returns what kind of quantity a is; a mass in water if unknown.
func (a Analyte) Dimension() Dimension { e, _ := lookUp(a); return e.dim }

// Unit returns the unit in which amounts of a are kept.
func (a Analyte) Unit() string { return a.Dimension().Unit() }

// CAS returns the registry number, or "" if there is none.
func (a Analyte) CAS() string { e, _ := lookUp(a); return e.cas }

// Analytes returns every analyte in the table, in its order.
func Analytes() []Analyte {
	all := make([]Analyte, len(table))
	for i, e := range table {
		all[i] = e.id
	}
	return all
}

var byID = indexIDs()

func indexIDs() map[Analyte]int {
	index := make(map[Analyte]int, len(table))
	for i, e := range table {
		index[e.id] = i
	}
	return index
}

func lookUp(a Analyte) (entry, bool) {
	i, ok := byID[a]
	if !ok {
		return entry{}, false
	}
	return table[i], true
}
