package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// sodaAshFeed feeds sodium carbonate until the water has a wanted pH.
type sodaAshFeed struct{}

func (sodaAshFeed) ID() media.Process { return media.SodaAshFeed }

// sodaAshKind: 120 g/L is the trade's pound to the gallon; softened water holds
// about that much in a cool room.
var sodaAshKind = feedKind{
	process: media.SodaAshFeed, strengths: []float64{30, 60, 120},
	keep:    sodaAshKeep,
	formula: sodaAshFormula, stock: feedStock{part: media.SodaAshLb},
}

// Sizes offer the usual target, and one that leaves room for the acid that iron
// sets free as it turns; the second alone where the taps want more than the usual.
func (sodaAshFeed) Sizes(j *Job) []Size {
	set := j.Site.Factors
	targets := []float64{set.Of(sodaAshTarget), set.Of(sodaAshTargetHigh)}
	switch {
	case j.Site.LeastPH.Value() >= targets[0]:
		targets = targets[1:]
	case j.In.TotalIron().MgPerL() < set.Of(sodaAshIron):
		targets = targets[:1]
	}
	var zs []Size
	for _, t := range targets {
		for _, z := range feedSizes(j, sodaAshKind, sodaAshDose(j, t)) {
			z.Settings[TargetPH] = t
			zs = append(zs, z)
		}
	}
	return zs
}

// sodaAshDose is the sodium carbonate that brings the inlet water to a pH,
// closed to the air.
func sodaAshDose(j *Job, target float64) dosing {
	mg := j.carbonateDose(j.In, unit.PHOf(target)) * molSodaAsh * mgPerG
	e := j.Site.Factors.Of(sodaAshError)
	return dosing{demand: mg, dose: mg, low: mg * (1 - e), high: mg * (1 + e)}
}

// carbonateDose returns the carbonate, mol/L, that raises a water to a pH.
//
//	C0 + d = (A0 + 2 d - w)/a
//	d = (C0 - C(pH, A0)) / (2/a - 1)
//
//	C0, A0    total carbon and alkalinity of the water
//	C(pH, A)  total carbon of a water of that pH and alkalinity
//	a         carbonate alkalinity of one mole of carbon at that pH
//	w         alkalinity of hydroxide less acid at that pH
//
// Range: target above the water's own pH and below 9.5, where a stays above
// zero and below two. Error: below 3 % (ion pairs are left out), and that of the
// pH reading: 0.1 moves it by a fifth in waters rich in carbon dioxide.
// Source: equilibrium of carbonate, Plummer & Busenberg 1982.
func (j *Job) carbonateDose(w water.State, target unit.PH) float64 {
	if target.Value() <= w.PH.Value() {
		return 0
	}
	return carbonateNeeded(j.carbonate(w), w.PH, target, w.Alkalinity)
}

// carbonateNeeded is the carbonate, mol/L, that moves a water from a pH to a target.
func carbonateNeeded(k chem.Carbonate, ph, target unit.PH, alk unit.Alkalinity) float64 {
	if target.Value() <= ph.Value() {
		return 0
	}
	have := k.Carbon(ph, alk).MolPerL()
	at := k.Carbon(target, alk).MolPerL()
	more := k.Carbon(target, unit.AlkalinityMeq(alk.MeqPerL()+2000)).MolPerL()
	perMole := more - at // carbon that 2 eq/L of alkalinity hold at this pH, mol
	return math.Max(0, (have-at)/(perMole-1))
}

// carbonate is the carbonate system of a water.
func (j *Job) carbonate(w water.State) chem.Carbonate {
	c := j.conditions(w)
	return j.Site.Model.Carbonate(c.Temperature, c.Ionic)
}

// alkalised adds alkalinity and carbon to a water, eq/L and mol/L.
func (j *Job) alkalised(w water.State, eq, carbon float64) water.State {
	k := j.carbonate(w)
	have := k.Carbon(w.PH, w.Alkalinity).MolPerL()
	w.Alkalinity = unit.AlkalinityMeq(w.Alkalinity.MeqPerL() + eq*mgPerG)
	w.PH = k.PH(w.Alkalinity, chem.MolPerL(have+carbon))
	return w
}

func (sodaAshFeed) Run(j *Job, z Size) Outcome {
	target := z.Settings[TargetPH]
	if target == 0 {
		target = j.Site.Factors.Of(sodaAshTarget)
	}
	d := sodaAshDose(j, target)
	f := layFeed(j, z, sodaAshKind, d)
	o := Outcome{
		Settings: f.settings(), Limits: append(f.limits(j), lowSodium(j, d.dose)...),
		Needs: f.needs(),
	}
	o.Settings[TargetPH] = target
	o.Settings[SodiumAddedMgL] = sodiumOf(d.dose)
	o.Out = j.inPipe(j.sodaFed(d.dose * j.fedShare()))
	if j.Lean {
		return o
	}
	o.AtPeak = o.Out
	o.Bill = feedBill(f, "soda ash for pH")
	o.Cautions = []string{
		"Dissolve in softened water; below 50 °F the solution salts out; the fitting scales, look every six weeks.",
		"Below pH 4 the water needs caustic soda: a specialist's work.",
	}
	o.WillNot = []string{"It takes nothing out; it adds sodium, and no hardness."}
	f.working(j)
	return o
}

func (j *Job) sodaFed(mgL float64) water.State {
	mol := mgL / (molSodaAsh * mgPerG)
	w := j.alkalised(j.In, 2*mol, mol)
	w.Sodium = unit.MgPerL(w.Sodium.MgPerL() + sodiumOf(mgL))
	return w
}

func sodiumOf(sodaAsh float64) float64 { return sodaAsh * 2 * molSodium / molSodaAsh }

// molSodaAsh is the molar mass of Na2CO3, g/mol (IUPAC).
const molSodaAsh = 105.988

// lowSodium warns where someone is told to limit sodium.
func lowSodium(j *Job, dose float64) []Limit {
	if !j.Site.House.LowSodium {
		return nil
	}
	f := j.Site.Factors.In(sodiumAdvice)
	return []Limit{{
		ID: "sodium", Have: j.In.Sodium.MgPerL() + sodiumOf(dose), Need: f.Value, Unit: "mg/L", AtMost: true, Soft: true,
		Say: "more sodium than a person on a low-sodium diet should drink without asking a doctor", Kind: f.Kind, From: f.From,
	}}
}

func (sodaAshFeed) Ways() []Way {
	ways := feedWays("pH rise", "pH behind the feed is that of the raw water")
	for i := range ways {
		if ways[i].ID == SolutionStale {
			return append(ways[:i:i], ways[i+1:]...) // soda ash keeps
		}
	}
	return ways
}

var (
	sodaAshTarget = source.Factor{
		Name: "soda_ash_target_ph", What: "pH that a soda ash feed is set for", Unit: "pH",
		Value: 7.2, Low: 7, High: 7.6, Kind: source.CommonPractice, From: "trade rule: to about 7; a little above for beds that want 6.8 to 7",
	}
	sodaAshTargetHigh = source.Factor{
		Name: "soda_ash_target_ph_high", What: "pH that a soda ash feed is set for where iron will take some back", Unit: "pH",
		Value: 7.6, Low: 7.4, High: 8, Kind: source.Judgement, From: "1.8 mg/L of alkalinity goes with each mg/L of iron",
	}
	sodaAshIron = source.Factor{
		Name: "soda_ash_iron", What: "iron from which the higher target is offered too", Unit: "mg/L",
		Value: 2, Kind: source.Judgement, From: "a tenth of a pH unit and more in soft water",
	}
	sodaAshError = source.Factor{
		Name: "soda_ash_error", What: "uncertainty of a soda ash dose from one pH reading",
		Value: 0.2, Low: 0.1, High: 0.4, Kind: source.Derived, From: "0.1 pH unit at pH 6 to 6.5",
	}
	sodaAshKeep = source.Factor{
		Name: "soda_ash_solution_days", What: "longest a soda ash solution is kept", Unit: "days",
		Value: 60, Low: 30, High: 120, Kind: source.CommonPractice, From: "it does not age; sludge and scale do",
	}
	sodiumAdvice = source.Factor{
		Name: "soda_ash_sodium_advice", What: "sodium of which a person on a low-sodium diet is told", Unit: "mg/L",
		Value: 20, Kind: source.FromMemory, From: "US EPA drinking water advisory on sodium, for people restricted to 500 mg a day",
	}
	sodaAshFactors = []source.Factor{sodaAshTarget, sodaAshTargetHigh, sodaAshIron, sodaAshError, sodaAshKeep, sodiumAdvice}
)
