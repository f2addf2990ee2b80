package stage

import (
	"wellwright/chem"
	"wellwright/unit"
	"wellwright/water"
)

// blend mixes two waters of one source, share being that of b. Everything
// dissolved or carried mixes in proportion; pH follows from the mixed alkalinity
// and carbon. Reactions between the two begin only in what stands behind.
func (j *Job) blend(a, b water.State, share float64) water.State {
	mix := func(x, y float64) float64 { return x + (y-x)*share }
	mg := func(x, y unit.Concentration) unit.Concentration { return unit.MgPerL(mix(x.MgPerL(), y.MgPerL())) }
	cl := func(x, y unit.Chlorine) unit.Chlorine {
		return unit.MgPerLAsCl2(mix(x.MgPerLAsCl2(), y.MgPerLAsCl2()))
	}
	count := func(x, y unit.Count) unit.Count { return unit.Per100mL(mix(x.Per100mL(), y.Per100mL())) }
	w := a
	w.Ferrous, w.Particulate, w.Bound = mg(a.Ferrous, b.Ferrous), mg(a.Particulate, b.Particulate), mg(a.Bound, b.Bound)
	w.Manganese, w.ManganeseOx = mg(a.Manganese, b.Manganese), mg(a.ManganeseOx, b.ManganeseOx)
	w.Oxygen, w.Sulfur, w.Solids = mg(a.Oxygen, b.Oxygen), mg(a.Sulfur, b.Sulfur), mg(a.Solids, b.Solids)
	w.Sulfide = unit.MgPerLAsH2S(mix(a.Sulfide.MgPerLAsH2S(), b.Sulfide.MgPerLAsH2S()))
	w.Ammonia = unit.MgPerLAsN(mix(a.Ammonia.MgPerLAsN(), b.Ammonia.MgPerLAsN()))
	w.Nitrate = unit.MgPerLAsN(mix(a.Nitrate.MgPerLAsN(), b.Nitrate.MgPerLAsN()))
	w.Phosphate = unit.MgPerLAsP(mix(a.Phosphate.MgPerLAsP(), b.Phosphate.MgPerLAsP()))
	w.Calcium, w.Magnesium = mg(a.Calcium, b.Calcium), mg(a.Magnesium, b.Magnesium)
	w.Sodium, w.Potassium = mg(a.Sodium, b.Sodium), mg(a.Potassium, b.Potassium)
	w.Chloride, w.Sulfate = mg(a.Chloride, b.Chloride), mg(a.Sulfate, b.Sulfate)
	w.Arsenic, w.OrganicCarbon = mg(a.Arsenic, b.Arsenic), mg(a.OrganicCarbon, b.OrganicCarbon)
	w.ArsenicV, w.Radon = mg(a.ArsenicV, b.ArsenicV), unit.PCiPerL(mix(a.Radon.PCiPerL(), b.Radon.PCiPerL()))
	w.FreeChlorine, w.CombinedChlorine = cl(a.FreeChlorine, b.FreeChlorine), cl(a.CombinedChlorine, b.CombinedChlorine)
	w.Permanganate, w.Peroxide = mg(a.Permanganate, b.Permanganate), mg(a.Peroxide, b.Peroxide)
	w.Coliform, w.EColi = count(a.Coliform, b.Coliform), count(a.EColi, b.EColi)
	return j.blendPH(w, a, b, share)
}

// blendPH sets alkalinity and pH of a mixture.
func (j *Job) blendPH(w, a, b water.State, share float64) water.State {
	if a.PH == b.PH && a.Alkalinity == b.Alkalinity {
		return w
	}
	c := j.conditions(a)
	carbonate := j.Site.Model.Carbonate(c.Temperature, c.Ionic)
	ca := carbonate.Carbon(a.PH, a.Alkalinity).MolPerL()
	cb := carbonate.Carbon(b.PH, b.Alkalinity).MolPerL()
	alk := a.Alkalinity.MgPerLAsCaCO3()
	alk += (b.Alkalinity.MgPerLAsCaCO3() - alk) * share
	w.Alkalinity = unit.AlkalinityAsCaCO3(alk)
	w.PH = carbonate.PH(w.Alkalinity, chem.MolPerL(ca+(cb-ca)*share))
	return w
}
