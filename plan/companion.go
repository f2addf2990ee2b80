package plan

import (
	"fmt"
	"slices"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/train"
	"wellwright/water"
)

// Companion is what a train brings with it beside what it was bought for: a
// by-product, a side effect, or a weak place on which health rests.
type Companion struct {
	ID    string      `json:"id"`
	Say   string      `json:"say"`
	Value *Range      `json:"value"` // null: not known
	Unit  string      `json:"unit"`
	Kind  source.Kind `json:"kind"`
	From  string      `json:"from"`
}

// Companions are the by-products and side effects of a train, those of health
// first.
func (d *Desk) Companions(e train.Evaluation) []Companion {
	cs := []Companion{}
	if len(e.Links) == 0 || e.Lead >= len(e.Limits) {
		return cs
	}
	v := d.voyage(e)
	cs = append(cs, v.oneBarrier()...)
	if v.last() < 0 {
		return cs // a kitchen tap alone brings the house nothing
	}
	for _, rule := range companionRules {
		cs = append(cs, rule(v)...)
	}
	return cs
}

// accompany adds to an answer what its options bring with them, where to treat what
// is of health, and how the first option is to be proven.
func (d *Desk) accompany(a *Answer, rs []ranked) {
	for i := range a.Options {
		a.Options[i].Companions = d.Companions(rs[i].Evaluation)
	}
	if len(a.Options) > 0 {
		a.Placings = d.placingsOf(&rs[0])
		a.Proof = d.proof(&a.Options[0], a.Placings)
	}
}

// companionRules are asked in order.
var companionRules = []func(voyage) []Companion{
	voyage.cysts, voyage.trihalomethanes, voyage.chloramine, voyage.nitrite, voyage.nitrateDump, voyage.arsenicOnRust, voyage.arsenicLoosed,
	voyage.radonReleased, voyage.radioactiveCarbon, voyage.manganeseBleeds, voyage.metalAtTap, voyage.freshResin, voyage.sodiumAdded, voyage.chlorideAdded, voyage.waste,
}

// voyage is a train with the water for which it is set, on its way through it.
type voyage struct {
	d    *Desk
	e    train.Evaluation
	draw *cloud.Draw // the leading water
}

// voyage finds the leading water of a train. A train sized anew by a sample of the
// cloud leads with the middle water, whatever its place among the spread ones.
func (d *Desk) voyage(e train.Evaluation) voyage {
	draw := &d.Work.Draws[d.middle()]
	if ls := e.Limits[e.Lead]; e.Lead < len(d.Work.Draws) && (len(ls) == 0 || ls[0].Draw != draw.Name) {
		draw = &d.Work.Draws[e.Lead]
	}
	return voyage{d, e, draw}
}

// last is the place of the last stage of the house: a membrane at the kitchen tap is
// behind it. Less than none where there is no other.
func (v voyage) last() int {
	k := len(v.e.Links) - 1
	for k >= 0 && v.e.Links[k].Process == media.ReverseOsmosis {
		k--
	}
	return k
}

// at is what a stage does to the leading water.
func (v voyage) at(k int) *stage.Outcome { return &v.e.Links[k].Outcomes[v.e.Lead] }

// into is the leading water ahead of a stage, end that at the taps of the house, and
// drunk that at the kitchen tap.
func (v voyage) into(k int) water.State {
	if k == 0 {
		return v.draw.Water
	}
	return v.at(k - 1).Out
}

func (v voyage) end() water.State { return v.into(v.last() + 1) }

func (v voyage) drunk() water.State {
	if v.e.Tap != nil {
		return v.e.Tap.Out
	}
	return v.into(len(v.e.Links))
}

// stages are the processes that what is drunk goes through: those of the train, and
// the kitchen tap that belongs beside it.
func (v voyage) stages() train.Train {
	if v.e.Tap == nil {
		return v.e.Train
	}
	return append(append(train.Train{}, v.e.Train...), media.ReverseOsmosis)
}

// find is the place of the first stage that is one of the processes, from a place on.
func (v voyage) find(from int, ps ...media.Process) (int, bool) {
	for k := from; k < len(v.e.Links); k++ {
		if slices.Contains(ps, v.e.Links[k].Process) {
			return k, true
		}
	}
	return 0, false
}

// over is the range of a figure of a stage over the waters that were carried. The
// water ahead of the first stage is known only of the leading one.
func (v voyage) over(k int, f func(in, out *water.State, o *stage.Outcome) float64) *Range {
	first := v.into(k)
	mid := f(&first, &v.at(k).Out, v.at(k))
	var column []float32
	for i := range v.e.Links[k].Outcomes {
		if v.e.Limits[i] == nil || k == 0 {
			continue
		}
		in, o := &v.e.Links[k-1].Outcomes[i].Out, &v.e.Links[k].Outcomes[i]
		column = append(column, float32(f(in, &o.Out, o)))
	}
	return kept(rangeOver(mid, column))
}

// setting is the range of a setting of a stage over the waters carried.
func (v voyage) setting(k int, name string) *Range {
	mid := v.at(k).Settings[name]
	var column []float32
	for i := range v.e.Links[k].Outcomes {
		if x, has := v.e.Links[k].Outcomes[i].Settings[name]; has && v.e.Limits[i] != nil {
			column = append(column, float32(x))
		}
	}
	return kept(rangeOver(mid, column))
}

// sole is a figure of the leading water alone.
func sole(v float64) *Range { return kept(Range{v, v, v}) }

// kept keeps three digits of a range.
func kept(r Range) *Range { return &Range{roundTo(r.P05, 3), roundTo(r.P50, 3), roundTo(r.P95, 3)} }

// lapse is something that goes wrong with a train: one stage out of it, or failing
// in a way. The kitchen tap beside a train counts as its last stage.
type lapse struct {
	stage int
	gone  bool
	way   stage.Fault
}

// after is the leading water at the kitchen tap when something has gone wrong.
func (v voyage) after(wrong lapse) water.State {
	w := v.behind(wrong, len(v.e.Links)-1)
	x, built := stage.Of(media.ReverseOsmosis)
	if v.e.Tap == nil || !built || wrong.gone && wrong.stage == len(v.e.Links) {
		return w
	}
	j := stage.Job{Site: v.quiet(), Draw: v.draw, In: w, Supply: v.draw.Supply.Hydraulic, Peak: v.draw.Supply.Peak, Daily: v.draw.Supply.Daily, Before: v.e.Train, Lean: true}
	return x.Run(&j, x.Sizes(&j)[0]).Out
}

// behind is the leading water behind a stage when something has gone wrong: the
// sizes stay as they are.
func (v voyage) behind(wrong lapse, last int) water.State {
	w, supply := v.draw.Water, v.draw.Supply.Hydraulic
	for k, l := range v.e.Links {
		x, built := stage.Of(l.Process)
		if !built || k > last || wrong.gone && k == wrong.stage {
			continue
		}
		j := stage.Job{Site: v.quiet(), Draw: v.draw, In: w, Supply: supply, Peak: v.draw.Supply.Peak, Daily: v.draw.Supply.Daily,
			Before: v.e.Train[:k], After: v.e.Train[k+1:], Lean: true}
		if k == wrong.stage {
			j.Fault = wrong.way
		}
		o := x.Run(&j, l.Size)
		if w = o.Out; o.Supply != nil {
			supply = *o.Supply
		}
	}
	return w
}

// quiet is the place without a record of working: what might go wrong is no figure
// of the train.
func (v voyage) quiet() *stage.Site {
	s := *v.d.Work.Site
	s.Working = nil
	return &s
}

// sodiumAdded tells what a softener adds to the water that is drunk.
func (v voyage) sodiumAdded() []Companion {
	k, has := v.find(0, media.Softener)
	if !has || v.at(k).Settings[stage.SodiumAddedMgL] <= 0 {
		return nil
	}
	added, end := v.setting(k, stage.SodiumAddedMgL), v.end().Sodium.MgPerL()
	say := fmt.Sprintf("The softener adds about %.0f mg/L of sodium; %.0f mg/L are then in the water at every softened tap.", added.P50, end)
	if advised := v.d.set.Of(dietSodium); end > advised {
		say += fmt.Sprintf(" A diet poor in sodium counts water above %.0f mg/L: an unsoftened kitchen tap that was tested, or a kitchen membrane.", advised)
	}
	return []Companion{{"sodium-added", say, added, "mg/L", source.Derived, "exchange, charge for charge: 0.46 mg of sodium to the mg of hardness; advice on diets: US EPA 822-R-03-006"}}
}

// chlorideAdded tells what a resin on salt that takes anions gives in exchange.
func (v voyage) chlorideAdded() []Companion {
	var cs []Companion
	for _, p := range []media.Process{media.TanninExchanger, media.NitrateExchanger} {
		k, has := v.find(0, p)
		if !has {
			continue
		}
		added := v.over(k, func(in, out *water.State, _ *stage.Outcome) float64 {
			return out.Chloride.MgPerL() - in.Chloride.MgPerL()
		})
		if added.P50 < leastChloride {
			continue
		}
		cs = append(cs, Companion{"chloride-added", fmt.Sprintf("The %s trades what it takes for chloride: about %.0f mg/L more, %.0f mg/L in all. Chloride pits stainless steel and copper, and lead dissolves the more of it the less sulfate is left.",
			p.Words(), added.P50, v.at(k).Out.Chloride.MgPerL()), added, "mg/L", source.Derived, "exchange, charge for charge; corrosion: common practice"})
	}
	return cs
}

// leastChloride is chloride too little to speak of, mg/L: judgement.
const leastChloride = 5

// freshResin tells of the dip of pH behind anion resin after each regeneration.
func (v voyage) freshResin() []Companion {
	for k := range v.e.Links {
		for _, l := range v.at(k).Limits {
			if l.ID != "ph_after_regeneration" || !l.Fails() {
				continue
			}
			low := v.over(k, func(_, _ *water.State, o *stage.Outcome) float64 { return limitOf(o, l.ID) })
			return []Companion{{"ph-after-regeneration", fmt.Sprintf("For some hundred bed volumes after each regeneration the %s holds bicarbonate too, and the water is near pH %.1f: it takes up copper and lead. Calcite behind it, or the first water to waste.",
				v.e.Links[k].Process.Words(), low.P50), low, "pH", l.Kind, l.From}}
		}
	}
	return nil
}

// limitOf is what there is of a limit of a stage.
func limitOf(o *stage.Outcome, id string) float64 {
	for _, l := range o.Limits {
		if l.ID == id {
			return l.Have
		}
	}
	return 0
}

// metalAtTap tells of lead and copper that the treated water takes up, by the
// indices of the raw water's cautions.
func (v voyage) metalAtTap() []Companion {
	var cs []Companion
	end := v.end()
	if v.d.read("chloride", "sulfate", "alkalinity") {
		before, _ := chem.MassRatio(v.draw.Water.Totals())
		after, ok := chem.MassRatio(end.Totals())
		was, is := chem.LeadConcernOf(before, v.draw.Water.Alkalinity), chem.LeadConcernOf(after, end.Alkalinity)
		if ok && (is > was || is == chem.HighConcern) {
			cs = append(cs, Companion{"lead-at-tap", fmt.Sprintf("Chloride over sulfate is %.1f by weight behind it, %.1f in the raw water, at alkalinity %.0f mg/L: of %s concern for lead from solder and brass. Sample first draw for lead and copper before and after it is fitted.",
				after, before, end.Alkalinity.MgPerLAsCaCO3(), is), sole(after), "", source.Published, "Belitz, Jurgens and Johnson, 2016, USGS SIR 2016-5092"})
		}
	}
	if acid := v.d.set.Of(phLow); end.PH.Value() < acid {
		ph := v.over(v.last(), func(_, out *water.State, _ *stage.Outcome) float64 { return out.PH.Value() })
		cs = append(cs, Companion{"copper-at-tap", fmt.Sprintf("At pH %.1f and alkalinity %.0f mg/L the treated water takes up copper and lead from pipes and taps: first draw to a laboratory, and alkali behind the train.",
			end.PH.Value(), end.Alkalinity.MgPerLAsCaCO3()), ph, "pH", phLow.Kind, phLow.From})
	}
	return cs
}

// companionFactors are the factors of by-products, side effects and proof.
func companionFactors() []source.Factor {
	return []source.Factor{byProductHours, byProductWarmth, byProductBromide, ammoniaTold, arsenicPH, radonToAir, arsenicTold, biologicalUse, biologicalAmmonia}
}
