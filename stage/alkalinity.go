package stage

import (
	"wellwright/chem"
	"wellwright/source"
)

// alkalinityLeft says what alkalinity is left once an oxidant has turned all iron
// and manganese, and whether that holds the pH.
//
//	left = A - 1.79 Fe - 1.82 Mn
//
//	A  alkalinity, mg/L as CaCO3;  Fe, Mn  dissolved, mg/L
//
// Error: permanganate takes a little less. Source: derived from atomic weights.
func alkalinityLeft(j *Job) []Limit {
	w := j.In
	iron, _ := chem.AlkalinityUsed(chem.Oxygen, chem.IronII)
	manganese, _ := chem.AlkalinityUsed(chem.Oxygen, chem.ManganeseII)
	left := w.Alkalinity.MgPerLAsCaCO3() - iron.MgPerLAsCaCO3()*w.Ferrous.MgPerL() - manganese.MgPerLAsCaCO3()*w.Manganese.MgPerL()
	return alkalinityAbove(j, left, "the acid that iron sets free as it turns eats the alkalinity up and the pH falls away: raise it first",
		"little alkalinity is left once the iron has turned: the pH falls; feed alkali ahead")
}

// alkalinityAbove holds what is left of the alkalinity, mg/L as CaCO3, to the floor
// and the caution; gone and thin say what breaking them means.
func alkalinityAbove(j *Job, left float64, gone, thin string) []Limit {
	limit := func(f source.Factor, soft bool, say string) Limit {
		f = j.Site.Factors.In(f)
		return Limit{ID: "alkalinity_left", Have: max(0, left), Need: f.Value, Unit: "mg/L as CaCO3", Soft: soft, Say: say, Kind: f.Kind, From: f.From}
	}
	return []Limit{
		limit(alkalinityFloor, false, gone),
		limit(alkalinityThin, true, thin),
	}
}

var (
	alkalinityThin = source.Factor{
		Name: "oxidation_alkalinity_left", What: "alkalinity that should be left once iron has turned", Unit: "mg/L as CaCO3",
		Value: 30, Low: 20, High: 50, Kind: source.CommonPractice, From: "trade rule: warn below 30",
	}
	alkalinityFloor = source.Factor{
		Name: "oxidation_alkalinity_floor", What: "alkalinity below which the pH falls away as iron turns", Unit: "mg/L as CaCO3",
		Value: 10, Low: 5, High: 20, Kind: source.Judgement, From: "below it pH lies under 6 in most well waters",
	}
	alkalinityFactors = []source.Factor{alkalinityThin, alkalinityFloor}
)
