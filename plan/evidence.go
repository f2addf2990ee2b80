package plan

import (
	"slices"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"wellwright/limits"
	"wellwright/source"
	"wellwright/train"
	"wellwright/unit"
	"wellwright/water"
)

// evidence fills the part of the answer that comes before any train.
func (d *Desk) evidence() Answer {
	a := Answer{
		Well: d.Present.Name, AsOf: d.Present.AsOf.Format("2006-01-02"), Limits: d.Table.Jurisdiction,
		Alerts: d.alerts(), Checks: d.checks(), Conflicts: d.conflicts(), Forms: d.forms(), Belief: d.Beliefs(), Quality: d.quality(), Water: map[string]Value{},
		Options: []Option{}, Rejected: []Rejected{}, NextTests: []NextTest{}, Sampling: []Bottle{}, Assumed: []Assumed{}, Own: []source.Factor{}, Untested: d.untested(),
		Gates: d.gates(), Placings: d.placingsOf(nil),
	}
	a.Proof = d.proof(nil, a.Placings)
	for _, r := range d.Cloud.Ranges {
		a.Water[r.Name] = Value{rangeOf(r.Range), r.Assumed}
	}
	for _, x := range d.Cloud.Assumed {
		a.Assumed = append(a.Assumed, Assumed{Name: x.Name, Unit: x.Unit, Value: rangeOf(x.Range), Kind: x.Kind, From: x.From})
	}
	a.Own = d.own()
	return a
}

// own lists the factors that the user has replaced, wherever they are used.
func (d *Desk) own() []source.Factor {
	fs := []source.Factor{}
	for _, n := range d.set.Overridden() {
		if f, ok := Register().Find(n); ok {
			fs = append(fs, d.set.In(f))
		}
	}
	return fs
}

// alerts judges every raw report, field and laboratory, and keeps the gravest
// finding on each analyte.
func (d *Desk) alerts() []Alert {
	as := []Alert{}
	seen := map[string]bool{}
	for _, f := range d.judged() {
		if f.Rank == 0 || f.Rank > 3 || seen[f.ID] {
			continue
		}
		seen[f.ID] = true
		kind := "health"
		if f.ID == "public_supply" {
			kind = "legal"
		}
		as = append(as, Alert{Kind: kind, Rank: f.Rank, Met: f.Outcome != limits.Exceeds, Analyte: f.ID, Say: sentence(f.Say, f.Do), Basis: f.Kind.String() + ": " + f.From})
	}
	as = append(as, d.rawAlerts()...)
	sort.SliceStable(as, func(i, k int) bool { return as[i].Rank < as[k].Rank })
	return as
}

// judged lays all raw reports, and what a what-if supposes, against the limits,
// gravest first.
func (d *Desk) judged() []limits.Finding {
	h := d.Present.House
	who := limits.Household{Infant: h.Infants, Pregnant: h.Pregnant, LowSodium: h.LowSodium, Serves: h.Serves, Connections: h.Connected}
	var all []limits.Finding
	for _, r := range append(slices.Clip(d.Present.Reports), d.supposed...) {
		for _, f := range d.Table.JudgeWith(d.set, r, who) {
			if r.Raw() || madeInHouse[water.Analyte(f.ID)] {
				all = append(all, f)
			}
		}
	}
	sort.SliceStable(all, func(i, k int) bool { return gravity(all[i]) < gravity(all[k]) })
	return all
}

// madeInHouse are found at the taps of the house, not at the well: they count
// wherever they were sampled. Germs do too.
var madeInHouse = map[water.Analyte]bool{
	water.Lead: true, water.Copper: true, water.Zinc: true, water.TotalColiform: true, water.EColi: true,
}

func gravity(f limits.Finding) int {
	if f.Rank == 0 {
		return 9
	}
	return f.Rank
}

// sentence joins what is found and what to do as sentences.
func sentence(say, do string) string {
	if do == "" {
		return say
	}
	end := ". "
	if strings.ContainsAny(say[len(say)-1:], ".?!") {
		end = " "
	}
	first, size := utf8.DecodeRuneInString(do)
	return say + end + string(unicode.ToUpper(first)) + do[size:]
}

func (d *Desk) checks() []Check {
	cs := []Check{}
	for _, f := range d.Cloud.Checks {
		c := Check{ID: f.ID, Verdict: verdict(f.Verdict), Say: sentence(f.Say, f.Ask), Unit: f.Unit}
		if f.Unit != "" {
			v := f.Value
			c.Value = &v
		}
		cs = append(cs, c)
	}
	return cs
}

// verdict has three words; a notice is fit to work with and counts as ok.
func verdict(v water.Verdict) string {
	switch v {
	case water.Impossible:
		return "impossible"
	case water.Doubt:
		return "doubt"
	}
	return "ok"
}

func (d *Desk) conflicts() []Conflict {
	cs := []Conflict{}
	for _, c := range d.Cloud.Conflicts {
		x := Conflict{ID: c.ID, Say: c.Say, Explanations: []Explanation{}, Settle: settles[c.ID]}
		for _, e := range c.Explanations {
			x.Explanations = append(x.Explanations, Explanation(e))
		}
		cs = append(cs, x)
	}
	return cs
}

func (d *Desk) forms() Forms {
	f := d.Cloud.Forms
	out := Forms{
		Total: rangeOf(f.Total), Ferrous: rangeOf(f.Ferrous), Particulate: rangeOf(f.Particulate), Bound: rangeOf(f.Bound),
		Bacteria: Number(f.BacteriaProbability), Evidence: []Clue{},
	}
	for _, e := range f.Evidence {
		out.Evidence = append(out.Evidence, Clue(e))
	}
	return out
}

// targets are what the water should meet at the kitchen tap in this jurisdiction
// and for these people.
func (d *Desk) targets() train.Targets {
	t := train.Targets{
		Iron:            unit.MgPerL(d.lowest(water.Iron, 0.3)),
		Manganese:       unit.MgPerL(d.lowest(water.Manganese, 0.05)),
		ManganeseHealth: unit.MgPerL(d.health(water.Manganese, 0.3)),
		Sulfide:         unit.MgPerLAsH2S(d.set.Of(sulfideSmell)),
		PHLow:           unit.PHOf(d.set.Of(phLow)), PHHigh: unit.PHOf(d.set.Of(phHigh)),
		Chlorine: unit.MgPerLAsCl2(d.health(water.FreeChlorine, 4)),
		Sodium:   unit.MgPerL(d.health(water.Sodium, 20)),
		Hardness: unit.GPG(d.set.Of(hardnessAim)),
	}
	if d.metal() != "" {
		t.PHLow = unit.PHOf(d.set.Of(phForMetal))
	}
	if w := d.Present.Wishes.IronTarget; w != nil {
		t.Iron = *w
	}
	if s := d.Present.Wishes.SoftWater; s != nil && !*s {
		t.Hardness = unit.Hardness{}
	}
	return d.drinking(t)
}

// lowest is the strictest comfort limit of an analyte, or the given one.
func (d *Desk) lowest(a water.Analyte, otherwise float64) float64 {
	v, found := 0.0, false
	for _, l := range d.Table.Of(a) {
		if l.High != nil && !l.Basis.Protects() && l.Basis != limits.Class && (!found || *l.High < v) {
			v, found = *l.High, true
		}
	}
	if !found {
		return otherwise
	}
	return v
}

// health is the strictest health limit of an analyte, or the given one.
func (d *Desk) health(a water.Analyte, otherwise float64) float64 {
	v, found := 0.0, false
	for _, l := range d.Table.Of(a) {
		if l.High != nil && l.Basis.Protects() && (!found || *l.High < v) {
			v, found = *l.High, true
		}
	}
	if !found {
		return otherwise
	}
	return v
}

func (d *Desk) nitrateMost() float64 { return d.health(water.Nitrate, 10) }
func (d *Desk) arsenicMost() float64 { return d.health(water.Arsenic, 0.01) }

var (
	sulfideSmell = source.Factor{Name: "target_sulfide", What: "sulfide left at the tap, most", Unit: "mg/L as H2S",
		Value: 0.05, Low: 0.05, High: 0.1, Kind: source.Published, From: "Virginia Cooperative Extension 356-488 (2002): taste from 0.05 mg/L"}
	phLow = source.Factor{Name: "target_ph_low", What: "pH at the tap, least", Unit: "pH",
		Value: 6.5, Low: 6.5, High: 7, Kind: source.Published, From: "40 CFR 143.3"}
	phForMetal = source.Factor{Name: "target_ph_copper_lead", What: "pH at the tap, least, where copper or lead is taken up", Unit: "pH",
		Value: 7.2, Low: 7, High: 7.5, Kind: source.Judgement, From: "corrosion control aims at 7.5 and more; what is left after iron has taken its part"}
	phHigh = source.Factor{Name: "target_ph_high", What: "pH at the tap, most", Unit: "pH",
		Value: 8.5, Kind: source.Published, From: "40 CFR 143.3"}
	hardnessAim = source.Factor{Name: "target_hardness", What: "hardness at the tap above which a house wants softening", Unit: "gpg",
		Value: 7, Low: 3.5, High: 10.5, Kind: source.CommonPractice, From: "hard begins at 7 gpg in the trade's classes"}
)
