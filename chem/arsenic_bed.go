package chem

import (
	"math"

	"wellwright/source"
	"wellwright/unit"
)

// BedVolumes is how many times its own room of water a bed treats: the least,
// usual and most.
type BedVolumes struct{ Least, Usual, Most float64 }

// AdsorberLife returns the bed volumes that an iron-oxide adsorbent treats until a
// level of arsenic stands at its outlet.
//
//	N = N0 · 2^(7.5-pH) · (d0/d) · f · g
//	d = a + As/h + P/p,  d0 the same in the standard water at 30 µg/L
//	f = 1 - 0.7 share of As(III)
//	g = (k - ln(As/out - 1))/(k - ln 2)
//
//	N0  bed volumes at pH 7.5 and 30 µg/L, to 10 µg/L
//	a   crowding by silica, bicarbonate and organic matter, as on floc
//	h   arsenic that doubles the load on the medium, p phosphate that does
//	k   steepness of the front
//
// The gain below pH 7.5 is held to one unit.
//
// Range: pH 6.5 to 9, arsenic to 200 µg/L, iron and manganese filtered out, 3 min
// of contact and more. Error: a factor of two and more; sample the outlet.
// Source: competitive Langmuir and a logistic front (Thomas 1944, from memory);
// constants with their factors.
func (l *ArsenicLaw) AdsorberLife(in ArsenicAmounts, out unit.Concentration, w FlocWater) BedVolumes {
	total, to := in.Sum().MgPerL(), out.MgPerL()
	if total <= to || total <= 0 || to <= 0 {
		n := math.Inf(1) // it never stands at the outlet
		return BedVolumes{n, n, n}
	}
	ph := math.Pow(2, standardPH-math.Max(standardPH-1, bounded(w.PH)))
	load := l.crowd(w) + total/l.halfArsenic + w.Phosphate.MgPerLAsP()/l.halfPhosphate
	plain := 1 + standardArsenic/l.halfArsenic
	form := 1 - (1-l.iii)*in.III.MgPerL()/total
	front := math.Max(0, l.steep-math.Log(math.Max(total/to-1, math.Exp(-l.steep)))) / (l.steep - math.Log(standardArsenic/standardOut-1))
	scale := ph * plain / load * form * front
	return BedVolumes{l.volumes[0] * scale, l.volumes[1] * scale, l.volumes[2] * scale}
}

// The arsenic at which bed volumes are given, and the level they run to, mg/L.
const (
	standardArsenic = 0.030
	standardOut     = 0.010
)

// AdsorberOutlet returns the share of arsenic at the outlet of a bed that has used
// part of its life to a level at its outlet; more than one is past it.
//
//	c/c0 = 1/(1 + exp(k (1 - u n))),  n = 1 - ln(c0/out - 1)/k
//
// Range: a life of some length: where nearly as much may stand at the outlet as
// comes in, n is held to two. Source: logistic front, as AdsorberLife.
func (l *ArsenicLaw) AdsorberOutlet(in, out unit.Concentration, used float64) float64 {
	n := 2.0
	if in.MgPerL() > out.MgPerL() && out.MgPerL() > 0 {
		n = math.Max(0.02, math.Min(n, 1-math.Log(in.MgPerL()/out.MgPerL()-1)/l.steep))
	}
	return 1 / (1 + math.Exp(l.steep*(1-used*n)))
}

var (
	adsorberVolumes = source.Factor{
		Name: "arsenic_bed_volumes", What: "iron-oxide adsorbent: bed volumes at pH 7.5 and 30 µg/L to 10 µg/L at the outlet", Unit: "bed volumes",
		Value: 25000, Low: 10000, High: 60000, Kind: source.FromMemory, From: "10,000 to 60,000 in the field, 20,000 to 30,000 to plan with (from memory)",
	}
	adsorberSteep = source.Factor{
		Name: "arsenic_bed_steepness", What: "iron-oxide adsorbent: steepness of the front of arsenic",
		Value: 3.75, Low: 2.5, High: 8, Kind: source.Published, From: "set so that a run to 5 µg/L is 30 % shorter than to 10 at 30 µg/L: US EPA arsenic demonstrations, AQUA 70(5):665, 2021 (abstract)",
	}
	adsorberHalf = source.Factor{
		Name: "arsenic_bed_half", What: "iron-oxide adsorbent: arsenic that loads it as much as a common water does otherwise", Unit: "mg/L",
		Value: 0.030, Low: 0.010, High: 0.1, Kind: source.Judgement, From: "life falls less than in proportion to the arsenic",
	}
	adsorberPhosphate = source.Factor{
		Name: "arsenic_bed_phosphate", What: "iron-oxide adsorbent: phosphate that loads it as much as a common water does otherwise", Unit: "mg/L as P",
		Value: 0.1, Low: 0.03, High: 0.3, Kind: source.Judgement, From: "the trade asks for less than 0.1 mg/L of phosphate",
	}
	adsorberArsenite = source.Factor{
		Name: "arsenic_bed_arsenite", What: "iron-oxide adsorbent: life on arsenic (III) over that on arsenic (V)",
		Value: 0.3, Low: 0.1, High: 0.6, Kind: source.Judgement, From: "takes arsenic (III) less well (from memory); the figure is judgement",
	}
)

// arsenicFactors are those of the laws of arsenic.
func arsenicFactors() []source.Factor {
	return []source.Factor{
		arseniteChlorine, arseniteChloramine, arseniteOzone, arsenitePermanganate,
		flocSites, flocUptake, flocPhosphate, flocArsenite, flocMost, flocSilica, flocCarbonate, flocOrganic,
		adsorberVolumes, adsorberSteep, adsorberHalf, adsorberPhosphate, adsorberArsenite,
	}
}
