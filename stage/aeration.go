package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// aired lets a water meet open air, as drops of a spray or round bubbles. One
// number says how far it goes: the share of the way to saturation that oxygen
// comes. Carbon dioxide, hydrogen sulfide and radon leave by the same film and as fast;
// what stands as bicarbonate and bisulfide stays.
//
//	dC/dθ = -(CO2 - CO2 in balance with air)
//	dS/dθ = -a(pH) S
//	O2 = O2in + E (saturation - O2in),  θ = -ln(1 - E)
//
//	C  total carbon, S total sulfide;  a  share of sulfide that is H2S
//	E  oxygen transfer of the device
//
// The pH rises as carbon dioxide leaves, and holds back the sulfide.
//
// Range: more air than would be laden by the gases, 10 of air to 1 of water and
// up. Error: a tenth of E; diffusion of the three gases differs by less. Source:
// film theory with one film, Lewis & Whitman 1924 (from memory).
func (j *Job) aired(w water.State, transfer float64) water.State {
	e := math.Max(0, math.Min(transfer, 0.99))
	full := chem.OxygenSaturation(w.Temperature, unit.KPa(seaLevelKPa)).MgPerL()
	w = aerated(w, unit.MgPerL(w.Oxygen.MgPerL()+e*math.Max(0, full-w.Oxygen.MgPerL())))
	return j.stripped(w, -math.Log(1-e))
}

// seaLevelKPa is one standard atmosphere.
const seaLevelKPa = 101.325

// stripSteps: sixteen steps leave less than 0.01 in pH and 1 % of the sulfide
// between this and a thousand. Kind: own trial.
const stripSteps = 16

// stripped takes carbon dioxide and hydrogen sulfide out over the time θ of the
// film.
func (j *Job) stripped(w water.State, theta float64) water.State {
	k := j.carbonate(w)
	carbon := k.Carbon(w.PH, w.Alkalinity).MolPerL()
	left := math.Exp(-theta / stripSteps)
	sulfide := w.Sulfide.MgPerLAsH2S()
	floor := j.Site.Factors.Of(airCO2)
	for range stripSteps {
		over := math.Max(0, k.CO2(w.PH, w.Alkalinity).MgPerL()-floor)
		carbon -= over * (1 - left) / (molCarbonDioxide * mgPerG)
		if sulfide > 0 {
			sulfide *= math.Pow(left, j.Site.Model.SulfideGasShare(w.Temperature, w.PH))
		}
		w.PH = k.PH(w.Alkalinity, chem.MolPerL(carbon))
	}
	w.Sulfide = unit.MgPerLAsH2S(sulfide)
	w.Radon = unit.PCiPerL(w.Radon.PCiPerL() * math.Exp(-theta))
	return w
}

// standing lets a water stand in upright tanks in series that share the minutes.
func (j *Job) standing(w water.State, minutes float64, vessels int) water.State {
	out, err := j.React(w, chem.Vessel{Time: minutesLong(minutes), Tanks: min(mixedTanks*vessels, 2*mixedTanks)})
	if err != nil {
		return w
	}
	return out
}

// ferrousLeft warns of iron still ferrous behind an aerator, where nothing that
// catalyses stands behind it.
func ferrousLeft(j *Job, out water.State) Limit {
	f := j.Site.Factors.In(ferrousBehindAir)
	catalysed := j.Leads(media.CoatedSandFilter, media.GreensandFilter, media.ManganeseOreFilter, media.LightweightFilter, media.CatalyticCarbonFilter)
	need := f.Value
	if catalysed {
		need = math.Max(need, out.TotalIron().MgPerL())
	}
	return Limit{
		ID: "ferrous_behind_air", Have: out.Ferrous.MgPerL(), Need: need, Unit: "mg/L", AtMost: true, Soft: true,
		Say: "iron leaves the tank still ferrous at peak and passes a plain filter", Kind: f.Kind, From: f.From,
	}
}

// oxygenNeed is the oxygen that iron and sulfide take, mg/L. Manganese is left
// out: air does not turn it at these pH.
func oxygenNeed(w water.State) float64 {
	return oxygenFor(chem.IronII)*w.Ferrous.MgPerL() + oxygenFor(chem.SulfideToSulfur)*w.Sulfide.MgPerLAsH2S()
}

// airedCautions are those of any aerator.
func airedCautions(j *Job) []string {
	w := j.In
	var cs []string
	if w.Sulfide.MgPerLAsH2S() > 0.1 { // the level that most people smell
		cs = append(cs, "Lead the vent outdoors above the roof: hydrogen sulfide, methane and radon are a danger in a closed room.")
	}
	if w.Hardness().GPG() > 15 && w.Alkalinity.MgPerLAsCaCO3() > 200 { // treatment rule of the trade
		cs = append(cs, "As carbon dioxide leaves, the pH rises and scale may form in tank and pipes.")
	}
	return cs
}

// Way ids of aerators and stores.
const (
	BlowerStopped   Fault = "blower_stopped"
	InjectorBlocked Fault = "injector_blocked"
	VentStuck       Fault = "vent_stuck"
	SprayBlocked    Fault = "spray_blocked"
	BoosterWeak     Fault = "booster_weak"
	StoreLow        Fault = "storage_low"
	TankSludge      Fault = "sludge_full"
)

var (
	airCO2 = source.Factor{
		Name: "aeration_co2_floor", What: "carbon dioxide of a water in balance with the air of the tank", Unit: "mg/L",
		Value: 1, Low: 0.7, High: 3, Kind: source.Derived, From: "420 ppm by volume at 10 °C; more in a poorly vented tank",
	}
	ferrousBehindAir = source.Factor{
		Name: "aeration_ferrous_left", What: "ferrous iron that may leave an aerator towards a plain filter", Unit: "mg/L",
		Value: 0.3, Low: 0.1, High: 0.3, Kind: source.Published, From: "US EPA secondary level for iron, as quoted in UMass Extension, Iron and Manganese in Private Drinking Water Wells",
	}
)
