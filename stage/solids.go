package stage

import (
	"wellwright/chem"
	"wellwright/unit"
	"wellwright/water"
)

// Solids is what a filter would hold of a water, mg/L dry: iron hydroxide,
// manganese dioxide, sulfur and other particles.
func Solids(w water.State) float64 { return solids(&w) }

func solids(w *water.State) float64 {
	return w.Particulate.MgPerL()*solidsMade(chem.IronII) +
		w.ManganeseOx.MgPerL()*solidsMade(chem.ManganeseII) +
		w.Sulfur.MgPerL() + w.Solids.MgPerL()
}

// solidsMade is the dry solid from one milligram of a target.
func solidsMade(t chem.Target) float64 {
	mg, _ := chem.SolidsMade(chem.Oxygen, t)
	return mg
}

// conditions are those of the job for the reactions in its water.
func (j *Job) conditions(w water.State) chem.Conditions {
	return chem.Conditions{
		Temperature: w.Temperature,
		Ionic:       chem.IonicFromSums(w.Totals(), w.Alkalinity),
		Law:         j.Draw.Law,
		Prepared:    j.prepared(w.Temperature), Near: w.PH,
	}
}

// mix takes from a water what reactions change.
func (j *Job) mix(w water.State) (chem.Mix, chem.Conditions) {
	c := j.conditions(w)
	x := chem.Mix{
		IronII: w.Ferrous, IronSolid: w.Particulate,
		ManganeseII: w.Manganese, ManganeseSolid: w.ManganeseOx,
		Oxygen: w.Oxygen, Permanganate: w.Permanganate, Peroxide: w.Peroxide,
		FreeChlorine: w.FreeChlorine, CombinedChlorine: w.CombinedChlorine,
		Ammonia: w.Ammonia, Sulfide: w.Sulfide, SulfurSolid: w.Sulfur,
		Alkalinity: w.Alkalinity,
	}
	x.Carbon = j.carbonOf(w, x, c)
	return x, c
}

// carbonOf is the total carbon of a water of known pH, so that PHOf gives that pH
// back: hydroxide, hypochlorite, bisulfide and ammonia take their share of the
// alkalinity, and carbon holds the rest. Alkalinity grows evenly with the carbon.
//
//	C = (A - A(pH, no carbon)) / (A(pH, 1 mol/L) - A(pH, no carbon))
func (j *Job) carbonOf(w water.State, x chem.Mix, c chem.Conditions) chem.TotalCarbon {
	m := j.Site.Model
	x.Carbon = chem.TotalCarbon{}
	none := m.AlkalinityAt(x, c, w.PH).MeqPerL()
	x.Carbon = chem.MolPerL(1)
	perMole := m.AlkalinityAt(x, c, w.PH).MeqPerL() - none
	return chem.MolPerL(max(0, (w.Alkalinity.MeqPerL()-none)/perMole))
}

// remixed puts what reactions changed back into the water, with its new pH.
func (j *Job) remixed(w water.State, x chem.Mix, c chem.Conditions) water.State {
	w.Ferrous, w.Particulate = x.IronII, x.IronSolid
	w.Manganese, w.ManganeseOx = x.ManganeseII, x.ManganeseSolid
	w.Oxygen, w.Permanganate, w.Peroxide = x.Oxygen, x.Permanganate, x.Peroxide
	w.FreeChlorine, w.CombinedChlorine = x.FreeChlorine, x.CombinedChlorine
	w.Ammonia, w.Sulfide, w.Sulfur = x.Ammonia, x.Sulfide, x.SulfurSolid
	w.Alkalinity = x.Alkalinity
	w.PH = j.Site.Model.PHOf(x, c)
	return w
}

// React lets the water stand in a vessel. Sulfate made from sulfide and chloride
// made from chlorine are left out of the ion sums: both are below the error of
// the analysis.
func (j *Job) React(w water.State, v chem.Vessel) (water.State, error) {
	x, c := j.mix(w)
	y, err := j.Site.Model.React(x, c, v)
	if err != nil {
		return w, err
	}
	return j.arsenicTurned(j.remixed(w, y, c), &x, &y, &c, v.Time), nil
}

// aerated gives the water oxygen without letting gas out.
func aerated(w water.State, oxygen unit.Concentration) water.State {
	if oxygen.MgPerL() > w.Oxygen.MgPerL() {
		w.Oxygen = oxygen
	}
	return w
}
