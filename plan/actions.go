package plan

import (
	"fmt"
	"strings"

	"wellwright/limits"
	"wellwright/rehab"
	"wellwright/source"
	"wellwright/train"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// actions lists what should be done before or instead of any train, in the order
// in which to do it.
func (d *Desk) actions() []Action {
	as := []Action{}
	for _, rule := range actionRules {
		if a, ok := rule(d); ok {
			as = append(as, a)
		}
	}
	return as
}

// actionRules are asked in order; each gives an action or none.
var actionRules = []func(*Desk) (Action, bool){
	(*Desk).nothing, (*Desk).otherWater, (*Desk).boil, (*Desk).healthTests, (*Desk).publicSupply, (*Desk).rebuild, (*Desk).repairCap, (*Desk).rehabilitate, (*Desk).shockWell,
	(*Desk).retest, (*Desk).measure, (*Desk).coagulantJar, (*Desk).heater, (*Desk).corrosive, (*Desk).pipes, (*Desk).changeTank, (*Desk).strengthen, (*Desk).mendWhatStands, (*Desk).biological,
}

func (d *Desk) publicSupply() (Action, bool) {
	n := max(d.Present.House.Serves, d.Present.House.People)
	switch {
	case n >= 25:
		return Action{ID: "ring-the-state", Say: "Ring the state's drinking-water office before anything is bought: 25 people or more a day on 60 days a year make a public supply, which this tool does not design for.", Why: fmt.Sprintf("%d people are served", n)}, true
	case n >= 12:
		return Action{ID: "ask-the-state", Say: "Ask the state's drinking-water office and whoever licenses lodging or food what they require: 25 people a day make a public supply.", Why: fmt.Sprintf("%d people are served", n)}, true
	}
	return Action{}, false
}

func (d *Desk) repairCap() (Action, bool) {
	if s := d.Present.Supply.Well.CapSealed; s == nil || *s {
		return Action{}, false
	}
	return Action{ID: "repair-cap", Say: "Have a licensed well contractor fit a sealed, vermin-proof cap and look at casing and grout.", Why: "the cap is not vermin-proof: a way in for insects and surface water"}, true
}

// slimed reports whether iron bacteria are likelier than not.
func (d *Desk) slimed() bool { return d.Cloud.Forms.BacteriaProbability >= 0.5 }

// lostCapacity is the share of specific capacity lost since the first record.
func (d *Desk) lostCapacity() (float64, bool) {
	c := d.Present.Supply.Well.Capacities
	if len(c) < 2 || c[0].Value.GPMPerFt() == 0 {
		return 0, false
	}
	return 1 - c[len(c)-1].Value.GPMPerFt()/c[0].Value.GPMPerFt(), true
}

func (d *Desk) rehabilitate() (Action, bool) {
	lost, known := d.lostCapacity()
	if !d.slimed() && !(known && lost >= d.set.Of(capacityLost)) {
		return Action{}, false
	}
	why := fmt.Sprintf("iron bacteria: probability %s", unit.Significant(d.Cloud.Forms.BacteriaProbability, 2))
	if known {
		why += fmt.Sprintf("; specific capacity down %.0f %% since the first record (act from %.0f %%)", 100*lost, 100*d.set.Of(capacityLost))
	}
	say := "First the well: a licensed well contractor pulls the pump, brushes and jets, uses acid and surge where there is scale or rust, pumps it all out, and only then disinfects. Bleach alone does not reach under slime. Acid and chlorine never meet: gas. Camera and capacity test decide between cleaning and a new well."
	return Action{ID: "well-rehabilitation", Say: say, Why: why}, true
}

// shockWell sizes a disinfection of the water column.
func (d *Desk) shockWell() (Action, bool) {
	if !d.slimed() && d.Cloud.Middle().Water.Coliform.Per100mL() == 0 {
		return Action{}, false
	}
	why := "it cleans, it does not cure: find the way in first"
	if d.slimed() {
		why += "; iron bacteria mostly return"
	}
	a := Action{ID: "shock-disinfection", Why: why,
		Say: "Disinfect the well after it is cleaned and repaired, treatment bypassed, power off while the well is open. Plain unscented bleach only. Bleach raises pH, and works best between 6.5 and 7: whoever is licensed for it buffers the water in a tank first; nobody pours acid into a well that holds bleach, or bleach onto acid. Nobody drinks until it is flushed to waste, away from septic and stream, and no chlorine is left. Test for coliform after 7 to 14 days and again a month later."}
	if s, ok := d.shock(); ok {
		a.Sizes = map[string]float64{
			"column_gal": roundTo(s.Column.Gal(), 3), "target_mg_l": s.Target.MgPerLAsCl2(), "chlorine_g": roundTo(s.Chlorine.G(), 3),
			"bleach_6_percent_l": roundTo(s.Bleach6.L(), 2), "hypochlorite_12_5_percent_l": roundTo(s.Bleach125.L(), 2),
		}
		a.Say += fmt.Sprintf(" One column is %s; at %s mg/L that takes %s gal of 6 %% bleach or %s gal of 12.5 %%; two to three columns, so two to three times that, are mixed and poured so that it enters the formation.",
			s.Column, unit.Digits(s.Target.MgPerLAsCl2()), unit.Significant(s.Bleach6.Gal(), 2), unit.Significant(s.Bleach125.Gal(), 2))
	}
	return a, true
}

// dosed is what a shock of one column takes.
type dosed struct {
	Column             unit.Volume
	Target             unit.Chlorine
	Chlorine           unit.Mass
	Bleach6, Bleach125 unit.Volume
}

// shock works the column out where depth, level and casing are recorded.
func (d *Desk) shock() (dosed, bool) {
	w := d.Present.Supply.Well
	if w.Depth == nil || w.Static == nil || w.Casing == nil {
		return dosed{}, false
	}
	return shockOf(w, d.slimed(), d.set)
}

func (d *Desk) retest() (Action, bool) {
	for _, f := range d.Cloud.Checks {
		if f.Verdict == water.Impossible {
			say := "Take the sample again: raw tap, flushed, iron bottle acidified, a second one filtered through 0.45 µm on site and then acidified."
			if f.Ask != "" {
				say += " " + f.Ask
			}
			return Action{ID: "retest", Say: say, Why: f.Say}, true
		}
	}
	for _, c := range d.Cloud.Conflicts {
		if !settled[c.ID] {
			return Action{ID: "retest", Say: "Take the disputed sample again, acidified, from the raw tap.", Why: c.Say}, true
		}
	}
	return Action{}, false
}

// settled are the conflicts that a reading on site decides: nothing need be
// sampled again for them.
var settled = map[string]bool{
	"ph-lab-above-field": true, "alkalinity-lab-below-field": true, "sulfide-lab-below-field": true, "ph-gas-lost": true,
}

// sign reports whether a sign of the dictionary was seen.
func (d *Desk) sign(ids ...water.Symptom) bool {
	for _, s := range d.Present.Signs {
		for _, id := range ids {
			if s.ID == id && s.Seen {
				return true
			}
		}
	}
	return false
}

// corrosive speaks of water that eats copper and lead.
func (d *Desk) corrosive() (Action, bool) {
	why := d.metal()
	if why == "" {
		return Action{}, false
	}
	return Action{ID: "corrosive-water", Say: "Flush the kitchen tap a minute or two before drinking or cooking, cold tap only, and sample first draw for lead and copper. Raise pH and alkalinity ahead of the pipes; then sample again.", Why: why}, true
}

// metal says how it shows that the water takes up copper or lead; "" if it does not.
func (d *Desk) metal() string {
	for _, f := range d.judged() {
		if f.Outcome == limits.Exceeds && (f.ID == string(water.Copper) || f.ID == string(water.Lead)) {
			return f.Say
		}
	}
	ph := d.Cloud.Middle().Water.PH.Value()
	if d.sign(water.BlueGreenStain, water.Pinholes) && ph < 7 {
		return fmt.Sprintf("blue-green stains or pinholes at pH %.1f", ph)
	}
	return ""
}

// mendWhatStands speaks of equipment that is there and does not do its work.
func (d *Desk) mendWhatStands() (Action, bool) {
	for _, q := range d.Present.Equipment {
		if q.Works != nil && !*q.Works && !q.Bypassed {
			say := "By-pass the " + strings.ReplaceAll(q.Process, "-", " ") + " that stands here until the water ahead of it is put right; what was fouled is cleaned or filled anew, not trusted."
			if d.slimed() {
				say += " Disinfect it, and its brine tank, before it goes back."
			}
			return Action{ID: "mend-what-stands", Say: say, Why: q.Behaviour}, true
		}
	}
	return Action{}, false
}

func (d *Desk) pipes() (Action, bool) {
	if !d.sign(water.RustOneBathroom, water.RustFirstDrawZinc) {
		return Action{}, false
	}
	return Action{ID: "pipe", Say: "Find and change the rusting branch, nipple or casing before any iron filter.", Why: "rust from one place, or first-draw rust with zinc: it is made in the house"}, true
}

func (d *Desk) changeTank() (Action, bool) {
	if d.Present.Supply.Tank.Kind != well.AirOverWater {
		return Action{}, false
	}
	return Action{ID: "change-pressure-tank", Say: "Consider a pre-charged pressure tank: the air-over-water tank rusts part of the iron before it reaches any treatment.", Why: "an air-over-water tank stands ahead of the treatment"}, true
}

// strengthen speaks of a well too weak for the house.
func (d *Desk) strengthen() (Action, bool) {
	s := d.Cloud.Middle().Supply
	if s.Hydraulic.Yield.GPM() >= d.set.Of(lowYield) {
		return Action{}, false
	}
	return Action{ID: "longer-yield-test", Say: "Have the well tested for four hours in the dry season, and price deepening or hydrofracturing beside storage. A bigger pump does not mend a weak well.",
		Why: fmt.Sprintf("it yields %s; casing storage is %s; the house asks %s at its peak", s.Hydraulic.Yield, s.Hydraulic.CasingStorage, s.Peak)}, true
}

// measure lists the readings without which nothing should be chosen.
func (d *Desk) measure() (Action, bool) {
	missing := ""
	for _, x := range d.Cloud.Assumed {
		for _, must := range neededReadings {
			if x.Name == must.leaf {
				missing += ", " + must.words
			}
		}
	}
	if missing == "" {
		return Action{}, false
	}
	return Action{ID: "measure", Say: "Measure before buying: " + missing[2:] + ".", Why: "these were assumed, and the choice leans on them"}, true
}

var neededReadings = []struct{ leaf, words string }{
	{"ferrous_iron_mg_l", "ferrous iron on site"}, {"iron_total_mg_l", "total iron"}, {"ph", "pH on site"},
	{"alkalinity_mg_l_as_caco3", "alkalinity"}, {"hardness_mg_l_as_caco3", "hardness"}, {"manganese_mg_l", "manganese"},
	{"pump_flow_gpm", "pump flow at the tank"}, {"oxygen_mg_l", "oxygen on site"}, {"sulfide_mg_l_as_h2s", "sulfide on site"},
}

// nothing says so when the raw water needs no treatment, and nothing in the
// evidence is in doubt.
func (d *Desk) nothing() (Action, bool) {
	if !d.needsNothing() {
		return Action{}, false
	}
	return Action{ID: "do-nothing", Say: "Nothing measured asks for a train. Keep the well tested each year, and look again if the water changes.", Why: "the raw water meets what was asked for in everything that was tested"}, true
}

// needsNothing is true when the likeliest raw water meets every limit, comfort
// included, and no report is in doubt.
func (d *Desk) needsNothing() bool {
	for _, f := range d.Cloud.Checks {
		if f.Verdict >= water.Doubt {
			return false
		}
	}
	e, err := d.Work.Evaluate(train.Train{})
	if err != nil || e.Fails || d.slimed() {
		return false
	}
	for _, l := range e.Limits[d.middle()] {
		if l.Fails() && l.ID != "peak_flow" {
			return false
		}
	}
	return true
}

// shockOf sizes the disinfection of the well alone; the house is done apart.
func shockOf(w well.Well, slimed bool, set source.Set) (dosed, bool) {
	purpose := rehab.Coliform
	if slimed {
		purpose = rehab.AfterCleaning
	}
	v, err := rehab.VolumesOf(set, rehab.Well{Static: *w.Static, Depth: *w.Depth, CasingBore: *w.Casing})
	if err != nil {
		return dosed{}, false
	}
	column, target := v.Well(), purpose.Target(set)
	weak, errWeak := rehab.Product{Form: rehab.Liquid, Percent: 6}.Needed(column, target)
	strong, errStrong := rehab.Product{Form: rehab.Liquid, Percent: 12.5}.Needed(column, target)
	if errWeak != nil || errStrong != nil {
		return dosed{}, false
	}
	return dosed{
		Column: column, Target: target, Chlorine: rehab.ChlorineFor(column, target),
		Bleach6: weak.Liquid, Bleach125: strong.Liquid,
	}, true
}

var (
	capacityLost = source.Factor{Name: "capacity_lost_act_at", What: "loss of specific capacity from which a well is rehabilitated", Unit: "",
		Value: 0.20, Low: 0.15, High: 0.25, Kind: source.FromMemory, From: "ground-water industry guidance, 20 to 25 % from new"}
	lowYield = source.Factor{Name: "low_yield_below", What: "yield below which a longer test is asked for", Unit: "gpm",
		Value: 5, Low: 3, High: 5, Kind: source.Published, From: "New York State Department of Health, Individual Water Supply Wells Fact Sheet 2: below 5 gpm may need storage"}
)
