package plan

import (
	"slices"
	"strings"

	"wellwright/limits"
	"wellwright/water"
)

// Gate keeps people from drinking a water until a finding is settled and proven.
type Gate struct {
	ID     string   `json:"id"`     // the analyte
	People []string `json:"people"` // for whom first
	Say    string   `json:"say"`
	Boil   string   `json:"boil"` // never, no use, one minute
	Call   []string `json:"call"` // by office
	Kind   string   `json:"kind"`
	From   string   `json:"from"`
}

// What boiling does.
const (
	boilNever  = "never"      // it concentrates what is there
	boilNoUse  = "no use"     // it changes nothing, or is a danger
	boilMinute = "one minute" // a rolling boil, one minute
	boilAdults = "one minute, not for infants"
)

// Offices to call. No number is given: it differs from place to place.
const (
	healthOffice  = "county or state health department"
	poisonOffice  = "poison control centre, or a doctor, for whoever is ill"
	doctorOffice  = "doctor, at once, for an infant that looks blue-grey"
	wellOffice    = "licensed well contractor"
	plumberOffice = "licensed plumber"
	stateOffice   = "state radiation or waste office"
	publicOffice  = "state drinking-water office"
)

// gated is what is said of one analyte. Common practice of health departments,
// resting on the limits themselves and on what boiling does.
type gated struct {
	people []string
	say    string
	boil   string
	call   []string
}

var (
	everyone = []string{"everyone, for drinking and cooking"}
	young    = []string{"infants under six months", "pregnancy", "visiting infants"}
)

var gatesByAnalyte = map[water.Analyte]gated{
	water.Nitrate:        {young, "No bottle, formula or drink for an infant from this well, boiled or not; other water in pregnancy too.", boilNever, []string{doctorOffice, healthOffice, wellOffice}},
	water.NitrateNitrite: {young, "No bottle, formula or drink for an infant from this well, boiled or not; other water in pregnancy too.", boilNever, []string{doctorOffice, healthOffice, wellOffice}},
	water.Nitrite:        {young, "No bottle, formula or drink for an infant from this well, boiled or not; it acts as nitrate does, and stronger.", boilNever, []string{doctorOffice, healthOffice, wellOffice}},
	water.EColi:          {everyone, "Nobody drinks it, cooks with it, brushes teeth or makes ice with it; infants' bottles first.", boilMinute, []string{healthOffice, poisonOffice, wellOffice}},
	water.FecalColiform:  {everyone, "Nobody drinks it, cooks with it, brushes teeth or makes ice with it; infants' bottles first.", boilMinute, []string{healthOffice, poisonOffice, wellOffice}},
	water.Lead:           {[]string{"infants and children under six", "pregnancy", "everyone, for drinking and cooking"}, "No amount is known to be safe: other water or a certified lead filter for infants' bottles; cold tap only, flushed.", boilNever, []string{healthOffice, doctorLead, plumberOffice}},
	water.Manganese:      {[]string{"infants under one year", "everyone above the value for life"}, "Other water for infants' formula; bathing is no matter.", boilNever, []string{healthOffice}},
	water.Arsenic:        {everyone, "Other water for drinking, cooking and formula; bathing is no matter at such levels.", boilNever, []string{healthOffice}},
	water.Uranium:        {everyone, "Other water for drinking and cooking.", boilNever, []string{healthOffice, stateOffice}},
	water.Radium:         {everyone, "Other water for drinking and cooking.", boilNever, []string{healthOffice, stateOffice}},
	water.Radon:          {[]string{"everyone in the house: it is breathed"}, "Test the air of the house first; air the bathroom at showers.", boilNoUse, []string{"state radon office"}},
	water.Fluoride:       {[]string{"children under nine", "everyone above the limit"}, "Other water for children's drinking and for formula.", boilNever, []string{healthOffice, "dentist"}},
	water.Copper:         {[]string{"infants", "people with Wilson's disease"}, "Flush before drinking, cold tap only; other water for formula.", boilNever, []string{healthOffice, plumberOffice}},
	water.Sulfate:        {[]string{"infants", "guests"}, "Other water for formula.", boilNever, []string{healthOffice}},
}

const doctorLead = "doctor, for a blood test of children and in pregnancy"

// otherwise is what is said of an analyte without words of its own.
var otherwise = gated{everyone, "Other water for drinking and cooking until it is confirmed and settled.", boilNever, []string{healthOffice}}

// gates are the findings on which drinking other water rests, gravest first.
func (d *Desk) gates() []Gate {
	gs := []Gate{}
	for _, f := range d.judged() {
		if !gating(f) || slices.ContainsFunc(gs, func(g Gate) bool { return g.ID == f.ID }) {
			continue
		}
		gs = append(gs, d.gate(f))
	}
	return gs
}

// gating reports whether a finding keeps somebody from drinking: a limit of health
// in force exceeded, or for infants the lowest value in use.
func gating(f limits.Finding) bool {
	if f.Outcome != limits.Exceeds || dietary[f.ID] || !f.Limit.Basis.Protects() {
		return false
	}
	return f.Rank <= 2 || f.Rank == 3 && f.Limit.Basis == limits.HealthInfant
}

// gate words one finding. Germs are boiled away only where nothing is in the water
// that boiling concentrates, and not for infants where nitrate was not tested.
func (d *Desk) gate(f limits.Finding) Gate {
	x, own := gatesByAnalyte[water.Analyte(f.ID)]
	if !own {
		x = otherwise
	}
	g := Gate{ID: f.ID, People: x.people, Say: x.say, Boil: x.boil, Call: x.call, Kind: f.Kind.String(), From: f.From}
	if water.Analyte(f.ID) == water.Manganese && f.Limit.Basis == limits.HealthInfant {
		g.People = x.people[:1]
	}
	switch {
	case g.Boil == boilMinute && d.boilingHarms():
		g.Boil = boilNever
	case g.Boil == boilMinute && !d.tested(water.Nitrate, water.NitrateNitrite):
		g.Boil = boilAdults
	}
	return g
}

// boilingHarms reports whether something was found that boiling concentrates.
func (d *Desk) boilingHarms() bool {
	if d.tested(water.Nitrate, water.NitrateNitrite) && d.Cloud.Middle().Water.Nitrate.MgPerLAsN() > d.nitrateMost() {
		return true
	}
	return slices.ContainsFunc(d.judged(), func(f limits.Finding) bool {
		return gating(f) && gatesByAnalyte[water.Analyte(f.ID)].boil != boilMinute && water.Analyte(f.ID) != water.Radon
	})
}

// saying adds gates to what is said before any train: who first, boiling, and whom
// to call.
func saying(say string, gs []Gate) string {
	var call, never []string
	boils := map[string]bool{}
	for _, g := range gs {
		name := water.Analyte(g.ID).Name()
		say = sentence(say, name+": "+strings.Join(g.People, ", ")+". "+g.Say)
		if boils[g.Boil] = true; g.Boil == boilNever && gatesByAnalyte[water.Analyte(g.ID)].boil != boilMinute {
			never = append(never, name)
		}
		for _, c := range g.Call {
			if !slices.Contains(call, c) {
				call = append(call, c)
			}
		}
	}
	switch {
	case len(never) > 0:
		say += " Do not boil it: that concentrates " + strings.Join(never, ", ") + "."
	case boils[boilNever]:
		say += " Do not boil it: that concentrates what else is in it."
	case boils[boilAdults]:
		say += " Where there is no other water, one minute at a rolling boil kills germs; no boiled water for infants until nitrate is tested: boiling concentrates it."
	case boils[boilMinute]:
		say += " Where there is no other water, one minute at a rolling boil kills germs."
	}
	return say + " Call: " + strings.Join(call, "; ") + "."
}
