package chem

import (
	"math"
	"slices"

	"wellwright/formula"
	"wellwright/unit"
)

// The headings that formulas of this room are listed under.
const (
	onIons      = "ions of a water"
	onCarbonate = "pH and carbonate"
	onScale     = "scale and corrosion"
	onOxidation = "oxidation"
	onGas       = "gases and aeration"
	onChlorine  = "chlorine"
	onRaising   = "raising pH"
)

// Formulas lists the public formulas of this room.
func Formulas() []formula.Formula {
	return slices.Concat(ionFormulas(), carbonateFormulas(), scaleFormulas(), raisingFormulas(), oxidationFormulas(), gasFormulas(), chlorineFormulas(), heldFormulas())
}

// Quantities that only chemistry has.
var (
	carbonIn = formula.Measured("total carbon", formula.Measure{Unit: "mmol/L", Size: 1}, formula.Measure{Unit: "mmol/L", Size: 1},
		formula.Measure{Unit: "mol/L", Size: 1000}, formula.Measure{Unit: "mg/L as C", Size: 1 / molC})
	ionicIn = formula.Measured("ionic strength", formula.Measure{Unit: "mol/L", Size: 1}, formula.Measure{Unit: "mol/L", Size: 1},
		formula.Measure{Unit: "mmol/L", Size: 1e-3})
	chargeIn    = formula.Measured("charge", formula.Measure{Unit: "meq/L", Size: 1}, formula.Measure{Unit: "meq/L", Size: 1})
	pCO2In      = formula.Measured("partial pressure", formula.Measure{Unit: "atm", Size: 1}, formula.Measure{Unit: "atm", Size: 1}, formula.Measure{Unit: "ppmv", Size: 1e-6})
	perHourIn   = formula.Measured("rate", formula.Measure{Unit: "1/h", Size: 1}, formula.Measure{Unit: "1/h", Size: 1}, formula.Measure{Unit: "1/min", Size: 60})
	perMg       = formula.Measured("weight for a weight", formula.Measure{Unit: "mg/mg", Size: 1}, formula.Measure{Unit: "mg/mg", Size: 1})
	carbonateIn = formula.Measured("calcium carbonate", formula.Measure{Unit: "mg/L as CaCO3", Size: 1}, formula.Measure{Unit: "mg/L as CaCO3", Size: 1})
	hundredths  = formula.Measured("per cent", formula.Measure{Unit: "%", Size: 1}, formula.Measure{Unit: "%", Size: 1})
)

// mmolPerMol turns moles into millimoles.
const mmolPerMol = 1000

func carbonOf(c TotalCarbon) float64 { return c.molL * mmolPerMol }

func temperatureIn() formula.In[unit.Temperature] {
	return formula.Temperature.Takes("temperature", "t", "temperature of the water").Between("0 C", "40 C")
}

func phIn() formula.In[unit.PH] {
	return formula.PH.Takes("ph", "pH", "pH, read on site").Between("4", "10")
}

func alkalinityIn() formula.In[unit.Alkalinity] {
	return formula.Alkalinity.Takes("alkalinity", "Alk", "total alkalinity").Between("0 mg/L as CaCO3", "2000 mg/L as CaCO3")
}

func tdsIn() formula.In[unit.Concentration] {
	return formula.MgL.Takes("tds", "TDS", "dissolved solids").Between("0 mg/L", "10000 mg/L")
}

// someTDS is an input for dissolved solids where they matter little.
func someTDS() formula.In[unit.Concentration] {
	return tdsIn().Assume("300 mg/L", "common in well water; from 100 to 600 mg/L the answer moves by some 5 %")
}

func calciumHardnessIn() formula.In[unit.Hardness] {
	return formula.Hardness.Takes("calcium_hardness", "Ca", "calcium hardness").Between("0 mg/L as CaCO3", "3000 mg/L as CaCO3")
}

// ionsIn are the ions of a water. Those not given are left out, which is said.
type ionsIn struct {
	temperature                                                                                 formula.In[unit.Temperature]
	calcium, magnesium, sodium, potassium, iron, manganese, chloride, sulfate, fluoride, silica formula.In[unit.Concentration]
	ammonia, nitrate                                                                            formula.In[unit.Nitrogen]
	phosphate                                                                                   formula.In[unit.Phosphorus]
	sulfide                                                                                     formula.In[unit.Sulfide]
}

func ions() ionsIn {
	mg := func(name, symbol, what string) formula.In[unit.Concentration] {
		return formula.MgL.Takes(name, symbol, what).Between("0 mg/L", "20000 mg/L").Assume("0 mg/L", formula.LeftOut)
	}
	n := func(name, symbol, what string) formula.In[unit.Nitrogen] {
		return formula.Nitrogen.Takes(name, symbol, what).Between("0 mg/L as N", "1000 mg/L as N").Assume("0 mg/L as N", formula.LeftOut)
	}
	return ionsIn{
		temperature: temperatureIn(),
		calcium:     mg("calcium", "Ca", "dissolved calcium, as Ca"), magnesium: mg("magnesium", "Mg", "dissolved magnesium, as Mg"),
		sodium: mg("sodium", "Na", "sodium"), potassium: mg("potassium", "K", "potassium"),
		iron: mg("ferrous_iron", "Fe", "dissolved ferrous iron"), manganese: mg("manganese", "Mn", "dissolved manganese"),
		chloride: mg("chloride", "Cl", "chloride"), sulfate: mg("sulfate", "SO4", "sulfate, as SO4"),
		fluoride: mg("fluoride", "F", "fluoride"), silica: mg("silica", "SiO2", "silica, as SiO2"),
		ammonia: n("ammonia", "NH3", "ammonia and ammonium"), nitrate: n("nitrate", "NO3", "nitrate"),
		phosphate: formula.Phosphorus.Takes("phosphate", "PO4", "orthophosphate").Between("0 mg/L as P", "100 mg/L as P").Assume("0 mg/L as P", formula.LeftOut),
		sulfide:   formula.Sulfide.Takes("sulfide", "H2S", "dissolved sulfide").Between("0 mg/L as H2S", "100 mg/L as H2S").Assume("0 mg/L as H2S", formula.LeftOut),
	}
}

// list returns the ions as inputs of a formula, without the temperature.
func (x ionsIn) list() []formula.Input {
	return formula.Inputs(x.calcium, x.magnesium, x.sodium, x.potassium, x.iron, x.manganese, x.chloride, x.sulfate, x.fluoride, x.silica,
		x.ammonia, x.nitrate, x.phosphate, x.sulfide)
}

// totals reads the ions; the temperature is not among them.
func (x ionsIn) totals(a formula.Args) Totals {
	return Totals{
		Calcium: x.calcium.Of(a), Magnesium: x.magnesium.Of(a), Sodium: x.sodium.Of(a), Potassium: x.potassium.Of(a),
		IronII: x.iron.Of(a), Manganese: x.manganese.Of(a), Chloride: x.chloride.Of(a), Sulfate: x.sulfate.Of(a),
		Fluoride: x.fluoride.Of(a), Silica: x.silica.Of(a), Ammonia: x.ammonia.Of(a), Nitrate: x.nitrate.Of(a),
		Phosphate: x.phosphate.Of(a), Sulfide: x.sulfide.Of(a),
	}
}

// warm is totals with the temperature of the water.
func (x ionsIn) warm(a formula.Args) Totals {
	t := x.totals(a)
	t.Temperature = x.temperature.Of(a)
	return t
}

// The spread of charge from which an analysis is doubted, per cent.
const (
	chargeNotice = 2.0
	chargeDoubt  = 10.0
)

// balanced adds a remark where the ions given do not balance.
func balanced(o formula.Outcome, t Totals, alk unit.Alkalinity) formula.Outcome {
	e, ok := ChargeBalance(CationSum(t, alk), AnionSum(t, alk))
	switch {
	case !ok || math.Abs(e) < chargeNotice:
	case CationSum(t, alk).MeqPerL() < 1e-3*max(alk.MeqPerL(), 0):
		return o.Say("no cations are given: right to a few per cent in soft water, less in hard; give the ions of the analysis")
	case math.Abs(e) < chargeDoubt:
		return o.Say("the ions given are out of balance by %.1f %% of charge", e)
	default:
		return o.Say("the ions given are out of balance by %.0f %% of charge: some are missing or wrong, and the answer is only as good as that", e)
	}
	return o
}
