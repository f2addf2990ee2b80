package chem

import (
	"math"

	"wellwright/source"
	"wellwright/unit"
)

// FlocWater is what in a water competes with arsenic for iron solids.
type FlocWater struct {
	PH            unit.PH
	Alkalinity    unit.Alkalinity
	Silica        unit.Concentration
	Phosphate     unit.Phosphorus
	OrganicCarbon unit.Concentration
}

// FlocHold is the arsenic that iron solids take up: the least, usual and most
// that the constants allow.
type FlocHold struct{ Least, Usual, Most ArsenicAmounts }

// The standard water in which uptakes are given: pH 7.5, silica 20 and alkalinity
// 180 mg/L, organic carbon 1 mg/L.
const (
	standardPH      = 7.5
	standardSilica  = 20.0
	standardAlk     = 180.0
	standardOrganic = 1.0
	halvedByPH      = 0.30103 // log 2: capacity halves with each unit of pH
)

// OnFloc returns the arsenic taken up by iron that precipitates in its presence
// and is then all held. What floc leaks carries its arsenic along.
//
//	S = x a + Σ T K x/(1 + K x),  held = T K x/(1 + K x)
//
//	S  sites, s · Fe/55.845, mol/L;  x  free ones
//	T  As(V), As(III), phosphate, mol/L;  K  L/mol
//	a  sites that silica, bicarbonate and organic matter take, one in the
//	   standard water: (1 + b1 Si/20 · 2^(pH-7.5) + b2 Alk/180 + b3 TOC)/(1 + b1 + b2 + b3)
//	K  of As(V): U · 55845/s · 2^(7.5-pH); of As(III) a fifteenth, at any pH
//
// and no more than a share of the weight of iron, 1 : 20 in print.
//
// Range: pH 6 to 9 (held at the ends), iron oxidised with the arsenic in the water
// and not before it. Error: a factor of three in what passes; least and most show
// it. A laboratory decides.
// Source: competitive Langmuir; order arsenate, phosphate, arsenite, silicate,
// bicarbonate after Meng et al. 2002, Toxicology Letters 133:103 (abstract); strength
// of arsenite after Roberts et al. 2004, Environ. Sci. Technol. 38:307 (abstract);
// organic matter after Holm et al. 2008, J. AWWA (abstract); 20 : 1 after US EPA
// 2001 and Sorg 2002 (second hand).
func (l *ArsenicLaw) OnFloc(a ArsenicAmounts, iron unit.Concentration, w FlocWater) FlocHold {
	return FlocHold{
		Least: l.held(l.least, a, iron.MgPerL(), w),
		Usual: l.held(l.usual, a, iron.MgPerL(), w),
		Most:  l.held(l.most, a, iron.MgPerL(), w),
	}
}

func (l *ArsenicLaw) held(h holding, a ArsenicAmounts, iron float64, w FlocWater) ArsenicAmounts {
	if iron <= 0 {
		return ArsenicAmounts{}
	}
	ph := math.Pow(2, standardPH-bounded(w.PH))
	k5 := h.uptake * molFe * mgPerG / h.sites
	ks := [3]float64{k5 * ph, k5 / h.arsenite, k5 * ph / h.phosphate}
	ts := [3]float64{
		math.Max(0, a.V.MgPerL()) / (molAs * mgPerG), math.Max(0, a.III.MgPerL()) / (molAs * mgPerG),
		math.Max(0, w.Phosphate.MgPerLAsP()) / (molP * mgPerG),
	}
	x := freeSites(h.sites*iron/(molFe*mgPerG), l.crowd(w), ks, ts)
	v := a.V.MgPerL() * ks[0] * x / (1 + ks[0]*x)
	iii := a.III.MgPerL() * ks[1] * x / (1 + ks[1]*x)
	if sum, most := v+iii, h.share*iron; sum > most {
		v, iii = v*most/sum, iii*most/sum
	}
	return ArsenicAmounts{III: unit.MgPerL(iii), V: unit.MgPerL(v)}
}

// bounded keeps pH where the law was looked at.
func bounded(ph unit.PH) float64 { return math.Max(6, math.Min(ph.Value(), 9)) }

// crowd is the a of the law.
func (l *ArsenicLaw) crowd(w FlocWater) float64 {
	silica := l.silica * w.Silica.MgPerL() / standardSilica * math.Pow(2, bounded(w.PH)-standardPH)
	carbonate := l.carbonate * math.Max(0, w.Alkalinity.MgPerLAsCaCO3()) / standardAlk
	organic := l.organic * w.OrganicCarbon.MgPerL() / standardOrganic
	return (1 + silica + carbonate + organic) / (1 + l.silica + l.carbonate + l.organic)
}

// freeSites solves the site balance. It rises and bends down with x, so that
// Newton's steps from zero never overshoot.
func freeSites(sites, crowd float64, ks, ts [3]float64) float64 {
	x := 0.0
	for range 60 {
		f, slope := crowd*x-sites, crowd
		for i, k := range ks {
			d := 1 + k*x
			f += ts[i] * k * x / d
			slope += ts[i] * k / (d * d)
		}
		step := -f / slope
		x += step
		if math.Abs(step) <= 1e-12*x {
			break
		}
	}
	return x
}

var (
	flocSites = source.Factor{
		Name: "arsenic_floc_sites", What: "places for arsenic and phosphate on iron that precipitates with them", Unit: "mol/mol Fe",
		Value: 0.5, Low: 0.3, High: 0.7, Kind: source.FromMemory, From: "fresh ferric hydroxide made in their presence takes 0.3 to 0.7 (Fuller et al. 1993)",
	}
	flocUptake = source.Factor{
		Name: "arsenic_floc_uptake", What: "arsenate taken up by iron floc in a common water, share held per share left for each mg/L of iron", Unit: "L/mg",
		Value: 3, Low: 1, High: 10, Kind: source.Judgement,
		From: "1 mg/L of iron takes three quarters; two iron plants followed for a year come to 2.9 and 2.6 (2.3 mg/L took 87 %, 1.1 took 74 %: EPA/600/R-00/086, abstract), ferric chloride in a full-scale plant to 4 to 7 (Scott et al. 1995, J. AWWA, abstract)",
	}
	flocPhosphate = source.Factor{
		Name: "arsenic_floc_phosphate", What: "arsenate over phosphate, strength on iron floc",
		Value: 2, Low: 1, High: 4, Kind: source.Judgement, From: "arsenate before phosphate (Meng et al. 2002, abstract); the figure is judgement",
	}
	flocArsenite = source.Factor{
		Name: "arsenic_floc_arsenite", What: "arsenate over arsenite, strength on iron floc at pH 7.5",
		Value: 15, Low: 5, High: 30, Kind: source.Derived,
		From: "set by 500 µg/L brought under 50: 30 to 40 mg/L of iron without silica and phosphate, over 80 with them, where arsenate took 2 to 2.5 and 15 to 18 (Roberts et al. 2004, Environ. Sci. Technol. 38:307, abstract)",
	}
	flocMost = source.Factor{
		Name: "arsenic_floc_most", What: "most arsenic that iron floc is counted on for, by weight of iron",
		Value: 0.05, Low: 0.03, High: 0.2, Kind: source.Published, From: "soluble iron : arsenic of 20 : 1, US EPA 2001 and Sorg 2002 as quoted in the US EPA arsenic demonstrations; range by judgement",
	}
	flocSilica = source.Factor{
		Name: "arsenic_floc_silica", What: "sites that 20 mg/L of silica takes at pH 7.5, over the free ones",
		Value: 0.5, Low: 0.2, High: 1.5, Kind: source.Judgement, From: "small where silica is low and pH under 7.8, large above (surface complexation study, AQUA 54:339, abstract)",
	}
	flocCarbonate = source.Factor{
		Name: "arsenic_floc_bicarbonate", What: "sites that 180 mg/L of alkalinity takes, over the free ones",
		Value: 0.5, Low: 0.1, High: 1.5, Kind: source.Judgement, From: "weakest in the order of Meng et al. 2002 (abstract), but there is much of it",
	}
	flocOrganic = source.Factor{
		Name: "arsenic_floc_organic", What: "sites that each mg/L of organic carbon takes, over the free ones", Unit: "L/mg",
		Value: 0.25, Low: 0.1, High: 1, Kind: source.Judgement, From: "organic matter told more than silica, carbonate or phosphate in 31 Illinois plants (Holm et al. 2008, J. AWWA, abstract)",
	}
)
