package plan

import (
	"fmt"
	"strings"

	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/water"
)

// otherWater says to drink other water until a health finding is settled: for whom
// first, whether boiling helps, and whom to call. Sodium is a matter of diet, and
// germs short of E. coli have their own words.
func (d *Desk) otherWater() (Action, bool) {
	gs := d.gates()
	if len(gs) == 0 {
		return Action{}, false
	}
	var why []string
	seen := map[string]bool{}
	for _, f := range d.judged() {
		if gating(f) && !seen[f.ID] {
			seen[f.ID] = true
			why = append(why, f.Say)
		}
	}
	say := saying("Drink and cook with other water until this is settled and proven by a certified laboratory; infants first.", gs)
	if seen[string(water.Nitrate)] || seen[string(water.NitrateNitrite)] {
		say += " Look for what lets the nitrate in: casing, grout, septic field, fertiliser."
	}
	return Action{ID: "other-water-for-drinking", Say: say, Why: strings.Join(why, "; ")}, true
}

// dietary are findings that are no reason to stop drinking.
var dietary = map[string]bool{string(water.Sodium): true, string(water.TotalColiform): true}

// boil speaks of coliform bacteria short of E. coli, which otherWater covers.
// Boiling concentrates nitrate, so it is not said where that is high, and not for
// infants where it was not tested.
func (d *Desk) boil() (Action, bool) {
	w := d.Cloud.Middle().Water
	if w.Coliform.Per100mL() == 0 || w.EColi.Per100mL() > 0 {
		return Action{}, false
	}
	say := "Boil drinking water, one minute at a rolling boil, or drink other water, until two samples taken after the repair show no coliform."
	switch {
	case w.Nitrate.MgPerLAsN() > d.nitrateMost():
		say = "Drink other water until two samples taken after the repair show no coliform. Do not boil this one: that concentrates its nitrate."
	case len(d.gates()) > 0 && d.boilingHarms():
		say = "Drink other water until two samples taken after the repair show no coliform, and what else was found is settled: boiling kills germs and concentrates the rest."
	case !d.tested(water.Nitrate, water.NitrateNitrite):
		say += " No boiled water for infants until nitrate is tested: boiling concentrates it."
	}
	return Action{ID: "boil-or-other-water", Say: say, Why: "coliform bacteria were found: something from the surface can get in"}, true
}

// healthPanel are the tests that every private well should have had by a
// certified laboratory: common practice of health departments.
var healthPanel = []struct {
	words string
	any   []water.Analyte
}{
	{"coliform and E. coli", []water.Analyte{water.TotalColiform, water.EColi, water.FecalColiform}},
	{"nitrate", []water.Analyte{water.Nitrate, water.NitrateNitrite}},
	{"arsenic", []water.Analyte{water.Arsenic}},
	{"manganese", []water.Analyte{water.Manganese}},
	{"lead in first draw at the kitchen tap", []water.Analyte{water.Lead}},
}

// untested lists the health tests that no report holds.
func (d *Desk) untested() []string {
	missing := []string{}
	for _, t := range healthPanel {
		if !d.tested(t.any...) {
			missing = append(missing, t.words)
		}
	}
	return missing
}

// NoHealthTest reports whether an answer rests on no test of health at all.
func (a Answer) NoHealthTest() bool { return len(a.Untested) == len(healthPanel) }

// tested reports whether any report gives one of the analytes.
func (d *Desk) tested(as ...water.Analyte) bool {
	for _, r := range d.Present.Reports {
		for _, x := range r.Results {
			for _, a := range as {
				if x.Analyte == a {
					return true
				}
			}
		}
	}
	return false
}

// healthTests asks for what a certified laboratory has not yet been asked.
func (d *Desk) healthTests() (Action, bool) {
	missing := d.untested()
	if len(missing) == 0 {
		return Action{}, false
	}
	say := "Have a certified laboratory test for " + strings.Join(missing, ", ") + "."
	if h := d.Present.House; h.Infants || h.Pregnant {
		say += " Until then other water for infants, formula and in pregnancy."
	}
	return Action{ID: "health-tests", Say: say, Why: "no report holds them, and no iron treatment makes up for them"}, true
}

// dietSodium is what a softener may add before people on a diet must hear of it.
var dietSodium = source.Factor{Name: "sodium_added_told_from", What: "sodium added by a softener from which diets and formula are spoken of", Unit: "mg/L",
	Value: 20, Kind: source.Published, From: "US EPA advisory for restricted diets, 20 mg/L in all"}

// arsenicTold is the arsenic from which its side effects are spoken of.
var arsenicTold = source.Factor{Name: "arsenic_told_from", What: "raw arsenic above which its side effects are spoken of, and it is tested again after a disinfection", Unit: "ug/L",
	Value: 3, Low: 1, High: 5, Kind: source.CommonPractice, From: "common practice where chlorination is suspected of loosening arsenic"}

// loosened speaks of arsenic that a disinfection may loosen.
func (d *Desk) loosened() []string {
	if !d.shocked() || !d.arsenicAfterShock() {
		return nil
	}
	return []string{"Disinfecting a well may loosen arsenic with scale and slime (one well gave up to 57 µg/L in the water pumped out: Gotkowitz and others, 2008, from memory): keep the dose at 100 mg/L or less where arsenic is known, pump it all to waste, and have arsenic tested one to two weeks after."}
}

// sodium speaks of the salt that the first choice adds, whoever drinks it.
func (d *Desk) sodium(rs []ranked) []string {
	if len(rs) == 0 {
		return nil
	}
	for _, l := range rs[0].Links {
		added := l.Outcomes[d.middle()].Settings[stage.SodiumAddedMgL]
		if l.Process == media.Softener && added > d.set.Of(dietSodium) {
			return []string{fmt.Sprintf("The softener adds about %.0f mg/L of sodium: whoever is on a diet poor in it asks the doctor, and for infants' bottles take unsoftened water that has been tested, or a reverse-osmosis tap.", added)}
		}
	}
	return nil
}
