package chem

import "wellwright/unit"

// Oxidant is what takes the electrons.
type Oxidant int

// The oxidants. Amounts of ChlorineGas and Hypochlorite are as Cl2; they differ
// in the acid they make. ChlorineDioxide is taken to chlorite, ozone to oxygen
// with one atom used.
const (
	Oxygen Oxidant = iota
	ChlorineGas
	Hypochlorite
	Permanganate // as KMnO4
	Peroxide     // as H2O2
	Ozone
	ChlorineDioxide
	nOxidants
)

// Target is what gives the electrons, and the end product.
type Target int

// The targets: iron as Fe to ferric hydroxide, manganese as Mn to its dioxide,
// sulfide as H2S, ammonia as N.
const (
	IronII Target = iota
	ManganeseII
	SulfideToSulfur
	SulfideToSulfate
	AmmoniaToNitrogen
	AmmoniaToNitrate // by bacteria, with oxygen
	AmmoniaToMonochloramine
	nTargets
)

// giving is a half reaction: one mole of target gives electrons and acid.
type giving struct {
	mass   float64 // g/mol of the basis
	n      float64 // electrons
	acid   float64 // H+ set free, from the form that counts no alkalinity
	solids float64 // g of solid made a mole
}

// Fe+2 + 3 H2O = Fe(OH)3 + 3 H+ + e-     Mn+2 + 2 H2O = MnO2 + 4 H+ + 2 e-
// H2S = S + 2 H+ + 2 e-                  H2S + 4 H2O = SO4-2 + 10 H+ + 8 e-
// NH4+ = ½ N2 + 4 H+ + 3 e-              NH4+ + 3 H2O = NO3- + 10 H+ + 8 e-
// NH4+ + Cl+ = NH2Cl + 2 H+, the chlorine keeping its two electrons to give
var givings = [nTargets]giving{
	IronII:                  {molFe, 1, 3, molFeOH3},
	ManganeseII:             {molMn, 2, 4, molMnO2},
	SulfideToSulfur:         {molH2S, 2, 2, molS},
	SulfideToSulfate:        {molH2S, 8, 10, 0},
	AmmoniaToNitrogen:       {molN, 3, 4, 0},
	AmmoniaToNitrate:        {molN, 8, 10, 0},
	AmmoniaToMonochloramine: {molN, 2, 2, 0},
}

// taking is a half reaction: one mole of oxidant takes electrons and acid.
type taking struct {
	mass   float64 // g/mol of the basis
	n      float64 // electrons
	acid   float64 // H+ bound
	solids float64 // g of solid made a mole
}

// O2 + 4 H+ + 4 e- = 2 H2O          Cl2 + 2 e- = 2 Cl-
// OCl- + 2 H+ + 2 e- = Cl- + H2O    MnO4- + 4 H+ + 3 e- = MnO2 + 2 H2O
// H2O2 + 2 H+ + 2 e- = 2 H2O        O3 + 2 H+ + 2 e- = O2 + H2O
// ClO2 + e- = ClO2-
var takings = [nOxidants]taking{
	Oxygen:          {molO2, 4, 4, 0},
	ChlorineGas:     {molCl2, 2, 0, 0},
	Hypochlorite:    {molCl2, 2, 2, 0},
	Permanganate:    {molKMnO4, 3, 4, molMnO2},
	Peroxide:        {molH2O2, 2, 2, 0},
	Ozone:           {molO3, 2, 2, 0},
	ChlorineDioxide: {molClO2, 1, 0, 0},
}

// reacts reports whether the pair reacts in a well water at all. Peroxide on
// manganese is in the table, though without use at neutral pH.
func reacts(o Oxidant, t Target) bool {
	if o < 0 || o >= nOxidants || t < 0 || t >= nTargets {
		return false
	}
	switch t {
	case AmmoniaToNitrogen, AmmoniaToMonochloramine:
		return o == ChlorineGas || o == Hypochlorite
	case AmmoniaToNitrate:
		return o == Oxygen
	}
	return true
}

// Demand returns the oxidant used, mg for each mg of target, from the balanced
// reaction; ok is false when the two do not react at useful speed.
//
//	demand = n(target)/n(oxidant) · M(oxidant)/M(target)
//
// Error: side reactions and organic matter add to it; a bottle test tells.
// Source: derived from atomic weights.
func Demand(o Oxidant, t Target) (mgPerMg float64, ok bool) {
	if !reacts(o, t) {
		return 0, false
	}
	return givings[t].n / takings[o].n * takings[o].mass / givings[t].mass, true
}

// AlkalinityUsed returns the alkalinity used up by one milligram a litre of
// target; below zero where the reaction makes alkalinity. For hypochlorite it
// counts from OCl-, which brings alkalinity with it into the water.
//
//	used = (acid set free - electrons · acid bound for each) · 50.04/M(target)
//
// Source: derived from the balanced reaction.
func AlkalinityUsed(o Oxidant, t Target) (perMg unit.Alkalinity, ok bool) {
	if !reacts(o, t) {
		return unit.Alkalinity{}, false
	}
	g, k := givings[t], takings[o]
	eq := g.acid - g.n*k.acid/k.n
	return unit.AlkalinityMeq(eq / g.mass), true
}

// SolidsMade returns the dry solids, mg for each mg of target: ferric hydroxide,
// manganese dioxide (of a permanganate dose too) or sulfur.
//
// Source: derived from the balanced reaction.
func SolidsMade(o Oxidant, t Target) (mgPerMg float64, ok bool) {
	if !reacts(o, t) {
		return 0, false
	}
	g, k := givings[t], takings[o]
	return (g.solids + g.n/k.n*k.solids) / g.mass, true
}

// Dose is what a chlorine feed must cover, part by part. Low to High is the
// range in use or between end products.
type Dose struct{ Low, Usual, High unit.Chlorine }

// Add returns the sum of two doses.
func (d Dose) Add(e Dose) Dose {
	plus := func(a, b unit.Chlorine) unit.Chlorine { return unit.MgPerLAsCl2(a.MgPerLAsCl2() + b.MgPerLAsCl2()) }
	return Dose{plus(d.Low, e.Low), plus(d.Usual, e.Usual), plus(d.High, e.High)}
}

// ChlorineParts is a chlorine demand by cause, with the residual wanted.
type ChlorineParts struct{ Iron, Manganese, Sulfide, Ammonia, Organics, Residual Dose }

// Total returns the sum of the parts.
func (p ChlorineParts) Total() Dose {
	return p.Iron.Add(p.Manganese).Add(p.Sulfide).Add(p.Ammonia).Add(p.Organics).Add(p.Residual)
}

// ChlorineNeeds are the amounts in a raw water that take up chlorine.
type ChlorineNeeds struct {
	IronII, Manganese unit.Concentration
	Sulfide           unit.Sulfide
	Ammonia           unit.Nitrogen
	TOC               unit.Concentration // as C
	Residual          unit.Chlorine
}

// ChlorineDemand returns the chlorine that a raw water takes up before it leaves
// a free residual, by cause. Sulfide runs from sulfur (low and usual) to sulfate
// (high); ammonia from the theoretical breakpoint to what practice needs;
// organic matter by the factor for each mg of total organic carbon.
//
// Error: organic matter and slime; a bottle test is the only sure figure.
// Source: derived demands; factors for ammonia and organics carry their own.
func (m *Model) ChlorineDemand(n ChlorineNeeds) ChlorineParts {
	per := func(mg float64, t Target) Dose {
		k, _ := Demand(Hypochlorite, t)
		return evenDose(k * mg)
	}
	h2s := n.Sulfide.MgPerLAsH2S()
	sulfide := per(h2s, SulfideToSulfur)
	sulfide.High = per(h2s, SulfideToSulfate).High
	return ChlorineParts{
		Iron:      per(n.IronII.MgPerL(), IronII),
		Manganese: per(n.Manganese.MgPerL(), ManganeseII),
		Sulfide:   sulfide,
		Ammonia:   m.rate.breakpoint.times(n.Ammonia.MgPerLAsN()),
		Organics:  m.rate.organics.times(n.TOC.MgPerL()),
		Residual:  evenDose(n.Residual.MgPerLAsCl2()),
	}
}

func evenDose(mg float64) Dose {
	c := unit.MgPerLAsCl2(mg)
	return Dose{c, c, c}
}

// span is a low, usual and high value.
type span struct{ low, mid, high float64 }

func (s span) times(x float64) Dose {
	return Dose{unit.MgPerLAsCl2(s.low * x), unit.MgPerLAsCl2(s.mid * x), unit.MgPerLAsCl2(s.high * x)}
}
