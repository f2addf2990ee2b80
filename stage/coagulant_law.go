package stage

import (
	"math"

	"wellwright/source"
	"wellwright/unit"
)

// salt is a coagulant by what one milligram of it does in the water.
//
//	Al2(SO4)3·14H2O + 6 HCO3- = 2 Al(OH)3 + 3 SO4-2 + 14 H2O + 6 CO2
//	FeCl3 + 3 HCO3- = Fe(OH)3 + 3 Cl- + 3 CO2
//
// Source: balanced reactions and atomic weights (IUPAC, abridged).
type salt struct {
	words      string
	mole       float64 // g of it with one mole of metal
	metal      float64 // g of a mole of metal
	equivalent float64 // alkalinity eaten by a mole of metal, eq
	sulfate    float64 // mg/mg
	chloride   float64 // mg/mg
	carbon     langmuir
}

// The modes of the feed: which salt is fed.
const (
	AlumFed   = "alum"
	FerricFed = "ferric chloride"
)

// Molar masses, g/mol: IUPAC, abridged.
const (
	molAluminium      = 26.982
	molSulfate        = 96.06
	molAlum           = 594.37 // Al2(SO4)3·14H2O
	molFerricChloride = 162.204
	molCarbonate      = 100.087 // CaCO3
)

var salts = map[string]*salt{
	AlumFed:   {words: AlumFed, mole: molAlum / 2, metal: molAluminium, equivalent: 3, sulfate: 3 * molSulfate / molAlum, carbon: alumCarbon},
	FerricFed: {words: FerricFed, mole: molFerricChloride, metal: molIron, equivalent: 3, chloride: 3 * 35.453 / molFerricChloride, carbon: ferricCarbon},
}

// alkalinityEaten is the alkalinity that a dose takes, mg/L as CaCO3.
//
//	a = D n/M · 50.04
//
//	D  mg/L;  n  equivalents and M grams of the salt with a mole of metal
//
// 0.505 for each mg of alum, 0.926 for each of ferric chloride. Source: as [salt].
func (s *salt) alkalinityEaten(dose float64) float64 {
	return s.acid(dose) * molCarbonate / 2
}

// acid is the acid that a dose sets free, meq/L.
func (s *salt) acid(dose float64) float64 { return s.metalOf(dose) * s.equivalent }

// aluminiumLeft is the aluminium that stays dissolved over its fresh hydroxide, mg/L.
//
//	Al = 26980 K ({H}³ + b1 {H}² + b2 {H} + b3 + b4/{H})
//
//	K        solubility of the hydroxide, aluminium_hydroxide: Al(OH)3 + 3 H+ = Al+3 + 3 H2O
//	b1 to b4 hydrolysis to AlOH+2 ... Al(OH)4-: 10^-5.0, -10.1, -16.9, -22.7
//
// Range: pH 5 to 8.5 and 5 to 25 °C, no fluoride; organic complexes are left out.
// Error: a factor of three; least near pH 6.3, in print at 6.0 for alum at 20 °C and
// higher in the cold (Pernitsky and Edzwald 2003, AQUA 52:395, abstract).
// Source: hydrolysis constants of Nordstrom and May 1996 (from memory).
func aluminiumLeft(set source.Set, ph float64) float64 {
	h := math.Pow(10, -ph)
	sum := h*h*h + 1e-5*h*h + math.Pow(10, -10.1)*h + math.Pow(10, -16.9) + math.Pow(10, -22.7)/h
	return molAluminium * mgPerG * math.Pow(10, set.Of(aluminiumHydroxide)) * sum
}

// langmuir is the published fit of what a coagulant takes of organic carbon.
type langmuir struct{ x1, x2, x3, k1, k2, b float64 }

// The general fits to 39 waters, for alum and for ferric salts. Kind: published,
// Edwards 1997, J. AWWA 89(5):78, as its coefficients stand in two open programs.
var (
	alumCarbon   = langmuir{x1: 383, x2: -98.6, x3: 6.42, k1: -0.054, k2: 0.54, b: 0.145}
	ferricCarbon = langmuir{x1: 383, x2: -98.6, x3: 6.42, k1: -0.054, k2: 0.54, b: 0.092}
)

// left is the organic carbon behind a coagulant, mg/L.
//
//	s = C (1 - k1 SUVA - k2),  a = x1 pH + x2 pH² + x3 pH³
//	(s - c)/M = a b c/(1 + b c),  left = c + C - s
//
//	C  organic carbon, mg/L;  SUVA  its ultraviolet absorbance, L/(mg m)
//	s  the part that sorbs, c what of it stays;  M  metal, mmol/L
//
// Range: pH 5 to 8, 2 to 27 mg/L. Error: 10 % over many waters, and the SUVA is
// seldom read. Source: Edwards 1997, J. AWWA 89(5):78.
func (l langmuir) left(carbon, metal, ph, suva float64) float64 {
	if carbon <= 0 || metal <= 0 {
		return carbon
	}
	sorbs := carbon * math.Max(0, math.Min(1, 1-l.k1*suva-l.k2))
	a := math.Max(0, ph*(l.x1+ph*(l.x2+ph*l.x3)))
	// b c² + (1 + a b M - b s) c - s = 0
	half := (1 + a*l.b*metal - l.b*sorbs) / 2
	c := (math.Sqrt(half*half+l.b*sorbs) - half) / l.b
	return carbon - sorbs + math.Min(c, sorbs)
}

// metalOf is the metal of a dose, mmol/L.
func (s *salt) metalOf(dose float64) float64 { return dose / s.mole }

// formed is the share of the metal that becomes floc at a pH: what stays dissolved
// binds nothing. Ferric hydroxide dissolves next to nowhere.
func (s *salt) formed(set source.Set, dose, ph float64) float64 {
	if s.metal != molAluminium || dose <= 0 {
		return 1
	}
	return math.Max(0, 1-aluminiumLeft(set, ph)/(s.metalOf(dose)*s.metal))
}

// flocSolids is the dry floc of a dose of alum, mg/L; that of a ferric salt is
// counted as the rust it is.
func (s *salt) flocSolids(set source.Set, dose float64) unit.Concentration {
	if s.metal != molAluminium {
		return unit.Concentration{}
	}
	return unit.MgPerL(dose * set.Of(alumSolids))
}

var (
	aluminiumHydroxide = source.Factor{
		Name: "aluminium_hydroxide", What: "logarithm of the solubility of fresh aluminium hydroxide, Al(OH)3 + 3 H+ = Al+3 + 3 H2O",
		Value: 10.1, Low: 9.35, High: 10.8, Kind: source.FromMemory,
		From: "between microcrystalline gibbsite, 9.35, and the amorphous hydroxide, 10.8 (tables of water chemistry, from memory); alum leaves 0.02 to 0.04 mg/L at its best pH",
	}
	alumSolids = source.Factor{
		Name: "alum_solids", What: "dry floc made by each mg of alum, bound water counted", Unit: "mg/mg",
		Value: 0.44, Low: 0.263, High: 0.5, Kind: source.FromMemory,
		From: "0.44 in handbooks on water-works sludge (from memory); 0.263 as Al(OH)3 by atomic weights",
	}
)
