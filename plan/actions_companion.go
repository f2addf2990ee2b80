package plan

import (
	"fmt"
	"math"
	"strings"

	"wellwright/chem"
	"wellwright/limits"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// coagulantJar asks for a series of jars where organic matter holds iron and nobody has
// dosed one: no train can be laid out without its dose.
func (d *Desk) coagulantJar() (Action, bool) {
	w, jars := d.likeliest().Water, d.likeliest().Supply.Jars
	if jars != nil && (jars.Alum != nil || jars.Ferric != nil) || !d.holdsIron(w) {
		return Action{}, false
	}
	say := "Jars of raw water with alum, or ferric salt, in steps of 10 mg/L, stirred a minute fast and ten slowly, left for half an hour and filtered through 0.45 µm: iron, colour and pH of each. They set the dose of a coagulant feed; none in print does."
	a := Action{ID: "coagulant-jar", Say: say,
		Why: fmt.Sprintf("about %s mg/L of iron is held by organic matter: it passes filter, softener and air", unit.Significant(w.Bound.MgPerL(), 2))}
	if top := d.topAlum(w); top > 0 {
		a.Sizes = map[string]float64{"alum_top_mg_l": roundTo(top, 2)}
		a.Say += fmt.Sprintf(" By its alkalinity this water takes about %s mg/L of alum before its pH falls to %.1f; more only with alkali.", unit.Significant(top, 2), enoughPH(w.Alkalinity))
	}
	return a, true
}

// holdsIron reports whether a water's bound iron alone is more than is wanted at the tap.
func (d *Desk) holdsIron(w water.State) bool {
	return w.Bound.MgPerL() > d.Work.Want.Iron.MgPerL() && w.OrganicCarbon.MgPerL() > 0
}

// enoughPH is the pH down to which public works try coagulant on a water, by its
// alkalinity; each step belongs to the lower class. Source: 40 CFR 141.135(b)(4), from
// memory.
func enoughPH(a unit.Alkalinity) float64 {
	switch v := a.MgPerLAsCaCO3(); {
	case v <= 60:
		return 5.5
	case v <= 120:
		return 6.3
	case v <= 240:
		return 7
	}
	return 7.5
}

// topAlum is the alum, mg/L, that brings a closed water to that pH; zero if it lies
// there already.
//
//	C = A/a(pH raw) = (A - d)/a(pH top),  alum = d · 594.4/6
//
//	C  total carbon;  A  alkalinity, meq/L;  d  what the alum eats of it;  a  alkalinity of
//	a mole of carbon at a pH
//
// Source: carbonate equilibrium and atomic weights.
func (d *Desk) topAlum(w water.State) float64 {
	target := enoughPH(w.Alkalinity)
	k := d.Work.Site.Model.Carbonate(w.Temperature, chem.IonicFromSums(w.Totals(), w.Alkalinity))
	carbon := k.Carbon(w.PH, w.Alkalinity)
	low, high := 0.0, w.Alkalinity.MeqPerL()
	if w.PH.Value() <= target || high <= 0 {
		return 0
	}
	for range 50 {
		mid := (low + high) / 2
		if k.PH(unit.AlkalinityMeq(w.Alkalinity.MeqPerL()-mid), carbon).Value() > target {
			low = mid
		} else {
			high = mid
		}
	}
	return low * alumPerEquivalent
}

// alumPerEquivalent is the alum, Al2(SO4)3·14H2O, that eats a milliequivalent of
// alkalinity, mg: 594.37 g/mol over six.
const alumPerEquivalent = 594.37 / 6

// shallow are the kinds of well that take water from near the surface.
var shallow = map[well.Kind]bool{well.Dug: true, well.Bored: true, well.Spring: true}

// rebuild speaks of a shallow well that surface water gets into. No treatment stands
// in for it.
func (d *Desk) rebuild() (Action, bool) {
	kind := d.Present.Supply.Well.Kind
	why := d.surfaceSigns()
	if !shallow[kind] || len(why) == 0 {
		return Action{}, false
	}
	say := "The well is the matter: have a licensed well contractor price a new drilled well beside rebuilding this one: " + map[bool]string{true: "spring box, cut-off wall and diversion ditch", false: "a watertight lining grouted from the top down, at least a foot above ground, with a sealed lid and screened vent, and ground that falls away on all sides"}[kind == well.Spring] +
		". Nothing is sold for the iron until two samples, one of them after heavy rain, hold no coliform; most of the rust may go with the surface water."
	return Action{ID: "rebuild-or-replace", Say: say + " " + cystsSay, Why: fmt.Sprintf("%s well: %s", kind, strings.Join(why, "; "))}, true
}

// cystsSay is what holds cysts and what does not. Sources: chlorine, Sci. Total
// Environ. 720:137451 (2020, abstract): 15,300 mg min/L for three log of
// Cryptosporidium; ultraviolet, US EPA 2006 guidance manual, table 1.4 (from memory):
// three log of Cryptosporidium at 12 and of Giardia at 11 mJ/cm2, four log of viruses
// at 186.
const cystsSay = "With surface water may come cysts: chlorine does not hold Cryptosporidium (15,300 mg·min/L for three log, days at any residual one can drink), and Giardia asks hours of it. One minute at a rolling boil kills both; in a house a filter certified for cysts, 1 µm absolute, and behind it ultraviolet at 40 mJ/cm2 hold them, in clear water only."

// cysts tells of a train that leaves cysts in the water of a shallow well.
func (v voyage) cysts() []Companion {
	if _, surface := v.d.rebuild(); !surface || v.e.Train.Has(media.Ultraviolet) {
		return nil
	}
	return []Companion{{"cysts", "Surface water gets into this well. " + cystsSay, nil, "", source.Published, "chlorine: Sci. Total Environ. 720:137451 (2020, abstract); ultraviolet: US EPA 2006 (from memory)"}}
}

// surfaceSigns are the signs that surface water gets into the well.
func (d *Desk) surfaceSigns() []string {
	var why []string
	w := d.Cloud.Middle().Water
	switch {
	case w.EColi.Per100mL() > 0:
		why = append(why, "E. coli was found")
	case w.Coliform.Per100mL() > 0:
		why = append(why, "coliform bacteria were found")
	}
	if d.sign(water.CloudyAfterRain) {
		why = append(why, "it turns cloudy after rain")
	}
	return why
}

// heater speaks of a smell that is made in the heater.
func (d *Desk) heater() (Action, bool) {
	if !d.sign(water.RottenEggHotOnly) {
		return Action{}, false
	}
	steps := []string{
		"The smell is made in the heater, and no filter mends it: bacteria turn sulfate to sulfide on the hydrogen of its anode. Smell the cold raw tap once more, away from the sink",
		"power or gas off, then drain and flush the heater until it runs clear",
		"heat it through: 140 °F overnight kills many, 160 °F for eight hours is in print; only with a relief valve that was tested and piped down, and everybody warned, for water of 140 °F scalds in five seconds: taps shut or tempered until it is back at 120 °F",
		"or fill it with chlorinated water, 50 mg/L, for some hours with the heat off, and flush it",
		d.anodeStep(),
	}
	return Action{ID: "heater", Say: strings.Join(steps, "; ") + ". A licensed plumber does what opens the tank: it is hot and under pressure.", Why: d.heaterWhy()}, true
}

// anodeStep is what to do about the rod.
func (d *Desk) anodeStep() string {
	switch strings.ToLower(d.Present.House.Anode) {
	case "powered", "aluminium", "aluminum", "none":
		return "the rod is not of magnesium (" + d.Present.House.Anode + "): leave it, and look for dead ends and for water that stands lukewarm"
	}
	return "if it comes back, the magnesium anode is changed for one of aluminium and zinc or a powered one; without any rod the tank rusts through and its warranty ends"
}

// heaterWhy is the sign with what the water lends to it.
func (d *Desk) heaterWhy() string {
	why := "rotten egg at the hot tap only"
	w := d.likeliest().Water
	if d.read("sulfate") && w.Sulfate.MgPerL() > 0 {
		why += fmt.Sprintf("; the water brings %s mg/L of sulfate for the bacteria", unit.Significant(w.Sulfate.MgPerL(), 2))
	}
	if a := d.Present.House.Anode; a != "" {
		why += "; rod: " + a
	}
	return why
}

// biological is a note for steady users with ammonia: bacteria on a filter take it
// with iron and manganese. It is not designed here.
func (d *Desk) biological() (Action, bool) {
	x := d.likeliest()
	daily, n := x.Supply.Daily.GalPerDay(), x.Water.Ammonia.MgPerLAsN()
	if daily < d.set.Of(biologicalUse)-hair || n < d.set.Of(biologicalAmmonia) || d.sanitary() {
		return Action{}, false
	}
	oxygen := 4.6*n + 0.143*x.Water.Ferrous.MgPerL() // mg of oxygen for each of ammonia as N and of ferrous iron: treatment practice (from memory) and atomic weights
	return Action{ID: "biological-filter", Say: fmt.Sprintf("Ask an engineer about a biological filter before chlorine is fed at ten times the ammonia: bacteria on sand or anthracite take ammonia, iron and manganese without chemicals. It wants steady flow day and night, about %s mg/L of oxygen, pH 6.8 to 7.8, 45 °F and more, a trace of phosphate and no chlorine ahead; weeks until it takes ammonia, one to three months for manganese, nitrite meanwhile. It dies of a closed season. This program does not design it.", unit.Significant(math.Max(oxygen, 1), 2)),
		Why: fmt.Sprintf("ammonia %s mg/L as N and %.0f gal/day", unit.Significant(n, 2), daily)}, true
}

// hair forgives the rounding of a unit: a use of just a thousand gallons is one.
const hair = 1e-6

// sanitary reports whether germs were found: then chlorine is wanted anyway.
func (d *Desk) sanitary() bool {
	for _, f := range d.judged() {
		if f.Outcome == limits.Exceeds && (f.ID == string(water.EColi) || f.ID == string(water.TotalColiform)) {
			return true
		}
	}
	return false
}

var (
	biologicalUse = source.Factor{Name: "biological_use_from", What: "daily use from which a biological filter is spoken of", Unit: "gal/day",
		Value: 1000, Low: 500, High: 3000, Kind: source.Judgement, From: "it needs steady flow; not for households (common practice)"}
	biologicalAmmonia = source.Factor{Name: "biological_ammonia_from", What: "ammonia from which a biological filter is spoken of", Unit: "mg/L as N",
		Value: 0.5, Low: 0.3, High: 1, Kind: source.FromMemory, From: "0.5 to 4 mg/L"}
)
