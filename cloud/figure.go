package cloud

import (
	"fmt"

	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/water"
	"wellwright/well"
)

// figures puts on the scales what was measured. A figure that tells the same
// fact as a sign replaces it.
func (b *balance) figures() {
	b.ironFigures(ironOf(b.set, b.all))
	b.oxygenFigures()
	b.wellFigures()
}

// ironFigures weighs the forms that kit and filter told. What is only a limit
// speaks with it: for little where the limit itself is little, and never for much.
func (b *balance) ironFigures(r ironReadings) {
	total := b.iron.split.total()
	if total <= 0 || b.iron.says("iron_total_mg_l") || b.iron.limit > 0 {
		return
	}
	if f := r.ferrous; f != nil {
		b.scales.drop("at the tap")
		b.scales.share("at the tap", ferrousIron, kitFerrous, f.least()/total >= 0.8, f.most()/total <= 0.5,
			fmt.Sprintf("ferrous kit %s of %s total", f.said(), mgL(total)))
	}
	if r.dissolved != nil && !b.aside(r.dissolved.v) {
		b.filterFigures(*r.dissolved, r.ferrous, total)
	}
}

func (b *balance) filterFigures(d reading, ferrous *reading, total float64) {
	b.scales.drop("filter")
	b.scales.share("filter", particulateIron, filterHolds, d.most()/total <= 0.2, d.least()/total >= 0.8, fmt.Sprintf("%s of %s total passes 0.45 µm", d.said(), mgL(total)))
	if v := d.least(); ferrous != nil && v > 0 {
		b.scales.share("filter", organicIron, filterPasses, v >= 0.8*total && ferrous.most()/v <= 0.3, ferrous.least()/v >= 0.8,
			fmt.Sprintf("of %s that passes 0.45 µm %s is ferrous", mgL(v), ferrous.said()))
	}
	if fine := typical(b.set, b.all[part{water.Iron, water.Fine}]); fine != nil {
		b.scales.share("finer filter", organicIron, finerHolds, d.least() >= 2*fine.most() && d.least() > 0, d.most() < 2*fine.least(),
			fmt.Sprintf("a finer filter passes %s of it", fine.said()))
	}
}

// share puts a measured share on the scales where it stands clearly on either
// side; a mixture between says nothing of which form leads.
func (s *scales) share(group string, toward form, o odds, seen, absent bool, say string) {
	if seen || absent {
		s.add(group, false, toward.String(), o, seen, say)
	}
}

// aside reports whether the dissolved figure was set aside as impossible.
func (b *balance) aside(d float64) bool {
	for _, c := range b.iron.conflicts {
		switch c.ID {
		case "dissolved-below-ferrous", "dissolved-above-total":
			return true
		case "dissolved-not-ferrous":
			return b.iron.bound < 0.5*(d-b.iron.ferrous)
		}
	}
	return false
}

// oxygenFigures weighs oxygen and redox beside iron. Behind an air-over-water
// tank oxygen tells of the tank, not of the well.
func (b *balance) oxygenFigures() {
	if v, ok := b.all.one(b.set, water.ORP); ok {
		b.scales.add("redox", false, ferrousIron.String(), redoxLow, v < 0, fmt.Sprintf("redox potential %.0f mV", v))
	}
	o := b.beliefs[oxygen]
	if o.assumed || b.evidence.Supply.Tank.Kind == well.AirOverWater || b.iron.split.total() < 0.3 {
		return
	}
	v := span{o.P50, o.P50}
	if o.bound {
		v = span{o.P05, o.P95}
	}
	say := fmt.Sprintf("oxygen %s beside iron", v.said())
	b.scales.share("oxygen, form", particulateIron, oxygenIron, v.low > 3, v.high <= 3, say)
	low, high := b.set.Of(growthOxygenLow), b.set.Of(growthOxygenHigh)
	if few := v.high < low || o.bound && v.high <= low; few || v.low >= low && v.high <= high {
		b.scales.add("oxygen, growth", false, bacteria, growthOxygen, !few, say)
	}
}

// organicFigures weighs organic matter, before the forms are told: where nobody
// filtered it helps to tell them.
func (b *balance) organicFigures() {
	toc, tannin := b.all.span(b.set, water.TOC), b.all.span(b.set, water.Tannin)
	if toc == nil && tannin == nil {
		return
	}
	much := toc != nil && toc.low >= 4 || tannin != nil && tannin.low >= 1
	little := (toc == nil || toc.high < 4) && (tannin == nil || tannin.high < 1)
	b.scales.share("organic matter", organicIron, organicMatter, much, little,
		fmt.Sprintf("organic carbon %s, tannin %s", toc.said(), tannin.said()))
}

// wellFigures weighs the fall of specific capacity and the slugs.
func (b *balance) wellFigures() {
	if b.iron.peak.slug {
		b.scales.add("slugs", false, bacteria, slugs, true, fmt.Sprintf("total iron steady at %s, to %s in slugs", mgL(b.iron.split.total()), mgL(b.iron.peak.v)))
	}
	caps := b.evidence.Supply.Well.Capacities
	if len(caps) < 2 || caps[0].Value.GPMPerFt() <= 0 {
		return
	}
	first, last := caps[0].Value.GPMPerFt(), caps[len(caps)-1].Value.GPMPerFt()
	loss := 1 - last/first
	b.scales.drop("capacity")
	b.scales.add("capacity", false, bacteria, capacityFall, loss >= b.set.Of(capacityLoss),
		fmt.Sprintf("specific capacity %s to %s gpm/ft, down %.0f %%", trim(first), trim(last), 100*loss))
}

// drop takes the findings of a group off the scales.
func (s *scales) drop(group string) {
	kept := s.list[:0]
	for _, f := range s.list {
		if f.group != group {
			kept = append(kept, f)
		}
	}
	s.list = kept
}

// show records the working of the forms and of the supply.
func (b *balance) show() {
	if !b.working.On() {
		return
	}
	b.working.At("raw water")
	i, total := b.iron.split, b.iron.split.total()
	symbols := formula.Syms(formula.Sym("T", total, "mg/L"), formula.Sym("D", i.ferrous+i.bound, "mg/L"), formula.Sym("F", i.ferrous, "mg/L"))
	f := ironFormsFormula()
	b.working.Add(f.Step(ferrousFigure, i.ferrous, "mg/L", symbols))
	b.working.Add(f.Step(boundFigure, i.bound, "mg/L", symbols))
	b.working.Add(f.Step(particulateFigure, i.particulate, "mg/L", symbols))
	b.showBacteria()
	b.showCasing()
}

func (b *balance) showBacteria() {
	start := b.set.In(startBacteria)
	symbols := []formula.Symbol{{Name: "p0", Value: start.Value}}
	for _, f := range b.scales.strongest() {
		if f.clue.Toward == bacteria {
			symbols = append(symbols, formula.Symbol{Name: "L: " + f.clue.Sign, Value: f.clue.TimesLikelier})
		}
	}
	b.working.Add(bacteriaFormula().Step(bacteriaFigure, b.bacteria, "", symbols, start, b.set.In(lookCap), b.set.In(bacteriaCeiling)))
}

func (b *balance) showCasing() {
	w, set := b.supply.well.Well, b.supply.well.Pump.Setting
	if w.Casing == nil || w.Static == nil || set == nil {
		return
	}
	sym := formula.Sym
	b.working.Add(hydraulic.CasingStorageFormula().Step(casingFigure, b.supply.storage.Gal(), "gal", formula.Syms(
		sym("volume per foot", hydraulic.CasingVolumePerFoot(*w.Casing).Gal(), "gal/ft"), sym("Li", set.Ft(), "ft"), sym("Ls", w.Static.Ft(), "ft"), sym("c", 0, "ft"))))
}
