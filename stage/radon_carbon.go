package stage

import (
	"math"
	"time"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// takeRadon lets a bed of carbon hold radon until it decays: what counts is contact
// at the mean flow of the day.
func (b *bed) takeRadon(w water.State) water.State {
	if w.Radon.PCiPerL() <= 0 || b.j.Fault == CarbonSpent {
		return w
	}
	hours := b.volume().Gal() * b.active / math.Max(b.j.Daily.GalPerDay(), leastFlow) * 24
	pass := chem.RadonOnCarbon(chem.PerHour(b.j.Site.Factors.Of(radonConstant)), time.Duration(math.Min(hours, 1000)*float64(time.Hour)))
	w.Radon = unit.PCiPerL(w.Radon.PCiPerL() * (pass + (1-pass)*b.bypass))
	return w
}

// withRadon refuses carbon where it would become a source of gamma rays.
func (b *bed) withRadon(ls []Limit) []Limit {
	radon := b.j.In.Radon.PCiPerL()
	if radon <= 0 {
		return ls
	}
	f := b.j.Site.Factors.In(radonCarbonMost)
	return append(ls, Limit{ID: "radon_on_carbon", Have: radon, Need: f.Value, Unit: "pCi/L", AtMost: true,
		Say: "so much radon makes the bed a source of gamma rays: aerate instead", Kind: f.Kind, From: f.From})
}

// radonOnCarbonCaution stands wherever carbon holds radon.
const radonOnCarbonCaution = "Carbon that holds radon gives off gamma rays: keep the bed away from rooms in use, and spent carbon goes where the state allows."

var (
	radonConstant = source.Factor{
		Name: "radon_carbon_constant", What: "carbon: steady-state constant for radon", Unit: "1/h",
		Value: 2.5, Low: 1.5, High: 4.5, Kind: source.Published, From: "National Research Council, Risk Assessment of Radon in Drinking Water, 1999, p. 175 (second hand): 2.5 and 4.5 in two field waters; low by judgement, iron and age",
	}
	radonCarbonMost = source.Factor{
		Name: "radon_carbon_most", What: "carbon: radon, refused above", Unit: "pCi/L",
		Value: 5000, Low: 2000, High: 5000, Kind: source.Published, From: "Kinner and others, point-of-entry radon (abstract): carbon only below 5,000",
	}
)
