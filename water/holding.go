package water

import (
	"time"

	"wellwright/source"
)

const (
	holdingSource = "holding-time lists of five certified laboratories and textbooks, citing Standard Methods 2005; they agree with 40 CFR 136 table II as remembered"
	holdingMemory = "from memory: 40 CFR 136 table II and the methods it names"
	day           = 24 * time.Hour
	month         = 365 * day / 12
)

// Handling is how a sample for a test is kept on its way to the laboratory.
type Handling struct {
	Test      string
	Analytes  []Analyte
	Fraction  Fraction // Unspecified: any
	Container string
	Preserve  string
	Hold      time.Duration
	HoldSays  string // where it is not a plain limit
	Spoils    string // what happens after; "" if nothing is said
	Kind      source.Kind
	From      string
}

// handlings are the bottles, in the order in which a field sheet lists them.
var handlings = []Handling{
	{Test: "ferrous iron, if mailed", Analytes: []Analyte{Iron}, Fraction: FerrousIron, Container: "amber glass or plastic", Preserve: "lists disagree: cool, or hydrochloric acid",
		Hold: 24 * time.Hour, HoldSays: "24 h cool or 14 days with acid; on site preferred", Spoils: "ferrous iron rusts in the bottle", Kind: source.Published, From: holdingSource},
	{Test: "metals, dissolved", Analytes: []Analyte{Iron, Manganese, Calcium, Magnesium, Sodium, Potassium, Arsenic, Lead, Copper, Zinc, Aluminium}, Fraction: Dissolved,
		Container: "plastic 250 mL", Preserve: "filter 0.45 um in the field, then nitric acid to pH below 2", Hold: 6 * month, Kind: source.Published, From: holdingSource},
	{Test: "lead and copper, first draw", Analytes: []Analyte{Lead, Copper}, Container: "plastic 1 L", Preserve: "nitric acid at the laboratory within 14 days, then wait 16 h",
		Hold: 6 * month, Kind: source.FromMemory, From: holdingMemory},
	{Test: "metals and hardness, total", Analytes: []Analyte{Iron, Manganese, Hardness, Calcium, Magnesium, Sodium, Potassium, Strontium, Lithium, Arsenic, Zinc, Aluminium, Antimony,
		Barium, Beryllium, Boron, Cadmium, Chromium, Cobalt, Molybdenum, Nickel, Selenium, Silver, Thallium, Tin, Vanadium},
		Container: "plastic 250 mL", Preserve: "nitric acid to pH below 2", Hold: 6 * month, Kind: source.Published, From: holdingSource},
	{Test: "mercury", Analytes: []Analyte{Mercury}, Container: "plastic or glass", Preserve: "nitric acid to pH below 2", Hold: 28 * day, Kind: source.Published, From: holdingSource},
	{Test: "pH", Analytes: []Analyte{PH}, Container: "any", Preserve: "none", Hold: 15 * time.Minute, Spoils: "carbon dioxide leaves", Kind: source.Published, From: holdingSource},
	{Test: "alkalinity", Analytes: []Analyte{Alkalinity, PAlkalinity, Bicarbonate, Carbonate, Hydroxide, Acidity}, Container: "plastic, brim full", Preserve: "cool to 6 °C or less",
		Hold: 14 * day, HoldSays: "14 days; 24 h recommended", Spoils: "iron dropping out uses it up", Kind: source.Published, From: holdingSource},
	{Test: "conductivity", Analytes: []Analyte{Conductivity}, Container: "plastic", Preserve: "cool", Hold: 28 * day, Kind: source.Published, From: holdingSource},
	{Test: "dissolved and suspended solids", Analytes: []Analyte{TDS, TSS}, Container: "plastic", Preserve: "cool", Hold: 7 * day, Kind: source.Published, From: holdingSource},
	{Test: "turbidity and colour", Analytes: []Analyte{Turbidity, Colour}, Container: "plastic, dark", Preserve: "cool", Hold: 48 * time.Hour, Spoils: "iron drops out and clouds it", Kind: source.Published, From: holdingSource},
	{Test: "odour", Analytes: []Analyte{Odour}, Container: "glass", Preserve: "cool", Hold: 6 * time.Hour, HoldSays: "6 h recommended", Kind: source.Published, From: holdingSource},
	{Test: "chloride, fluoride, bromide", Analytes: []Analyte{Chloride, Fluoride, Bromide}, Container: "plastic", Preserve: "none", Hold: 28 * day, Kind: source.Published, From: holdingSource},
	{Test: "sulfate", Analytes: []Analyte{Sulfate}, Container: "plastic", Preserve: "cool", Hold: 28 * day, Kind: source.Published, From: holdingSource},
	{Test: "nitrate and nitrite, each", Analytes: []Analyte{Nitrate, Nitrite}, Container: "plastic", Preserve: "cool", Hold: 48 * time.Hour, Spoils: "bacteria change one into the other", Kind: source.Published, From: holdingSource},
	{Test: "nitrate and nitrite together", Analytes: []Analyte{NitrateNitrite, KjeldahlNitrogen, TotalNitrogen}, Container: "plastic", Preserve: "sulfuric acid to pH below 2, cool", Hold: 28 * day, Kind: source.Published, From: holdingSource},
	{Test: "ammonia", Analytes: []Analyte{Ammonia}, Container: "plastic", Preserve: "sulfuric acid to pH below 2, cool", Hold: 28 * day, Kind: source.Published, From: holdingSource},
	{Test: "sulfide", Analytes: []Analyte{Sulfide}, Container: "glass, no air", Preserve: "zinc acetate and caustic to pH above 9", Hold: 7 * day, Spoils: "it escapes and oxidises", Kind: source.Published, From: holdingSource},
	{Test: "organic carbon", Analytes: []Analyte{TOC, COD}, Container: "amber glass", Preserve: "sulfuric or phosphoric acid to pH below 2, cool", Hold: 28 * day, Kind: source.FromMemory, From: holdingMemory},
	{Test: "tannin", Analytes: []Analyte{Tannin}, Container: "glass or plastic", Preserve: "cool, dark", Hold: 48 * time.Hour, Kind: source.CommonPractice, From: tradeUse},
	{Test: "silica", Analytes: []Analyte{Silica}, Container: "plastic only", Preserve: "cool", Hold: 28 * day, Kind: source.FromMemory, From: holdingMemory},
	{Test: "orthophosphate", Analytes: []Analyte{Phosphate}, Container: "plastic", Preserve: "filter, cool", Hold: 48 * time.Hour, Spoils: "it drops out with iron", Kind: source.FromMemory, From: holdingMemory},
	{Test: "coliform and E. coli", Analytes: []Analyte{TotalColiform, EColi, FecalColiform}, Container: "sterile 100 mL", Preserve: "sodium thiosulfate, below 10 °C encouraged",
		Hold: 30 * time.Hour, HoldSays: "30 h to incubation for drinking water; other programmes 6 to 8 h; aim for the same day", Spoils: "germs die or grow", Kind: source.Published, From: "40 CFR 141.852(a)(3)"},
	{Test: "iron bacteria, microscope or culture", Analytes: []Analyte{IronBacteria, SulfateReducers, SlimeFormers}, Container: "sterile 200 mL, or slime in raw water", Preserve: "none; no chlorine; cool, dark",
		Hold: 24 * time.Hour, Spoils: "other germs outgrow them", Kind: source.CommonPractice, From: tradeUse},
	{Test: "dissolved oxygen", Analytes: []Analyte{Oxygen}, Container: "glass", Preserve: "none", Hold: 15 * time.Minute, HoldSays: "at once; 8 h if fixed", Spoils: "air gets in", Kind: source.Published, From: holdingSource},
	{Test: "chlorine", Analytes: []Analyte{FreeChlorine, TotalChlorine, CombinedChlorine}, Container: "any", Preserve: "none", Hold: 15 * time.Minute, Spoils: "it is used up", Kind: source.Published, From: holdingSource},
	{Test: "radon", Analytes: []Analyte{Radon}, Container: "glass 40 mL or more, filled under water, no bubble", Preserve: "none", Hold: 4 * day, Spoils: "it decays", Kind: source.FromMemory, From: holdingMemory},
	{Test: "gross alpha, radium, uranium", Analytes: []Analyte{GrossAlpha, GrossBeta, Radium, Radium226, Radium228, Uranium}, Container: "plastic 1 L or more", Preserve: "nitric acid to pH below 2", Hold: 6 * month, Kind: source.FromMemory, From: holdingMemory},
	{Test: "PFAS", Analytes: []Analyte{PFOA, PFOS, PFAS25, PFAS20}, Container: "polypropylene, no fluoropolymer", Preserve: "as the method says, cool", Hold: 14 * day, HoldSays: "14 to 28 days by method", Kind: source.FromMemory, From: holdingMemory},
	{Test: "trihalomethanes", Analytes: []Analyte{Trihalomethanes}, Container: "40 mL glass vials, no air", Preserve: "thiosulfate or ascorbic acid", Hold: 14 * day, Kind: source.FromMemory, From: holdingMemory},
	{Test: "haloacetic acids", Analytes: []Analyte{HaloaceticAcids}, Container: "amber glass", Preserve: "ammonium chloride", Hold: 14 * day, Kind: source.FromMemory, From: holdingMemory},
}

// Handlings returns how every test is bottled, kept and for how long.
func Handlings() []Handling { return append([]Handling(nil), handlings...) }

// HandlingOf returns how a sample for a is kept. A row for the fraction goes
// before a row for any.
func HandlingOf(a Analyte, f Fraction) (Handling, bool) {
	for _, exact := range []bool{true, false} {
		for _, h := range handlings {
			if holds(h.Analytes, a) && (exact && h.Fraction == f && f != Unspecified || !exact && h.Fraction == Unspecified) {
				return h, true
			}
		}
	}
	return Handling{}, false
}

func holds(as []Analyte, a Analyte) bool {
	for _, x := range as {
		if x == a {
			return true
		}
	}
	return false
}
