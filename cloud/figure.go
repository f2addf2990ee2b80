package cloud

import (
	"fmt"
	"math"
	"strings"

	"wellwright/cloud/internal/posterior"
	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/water"
	"wellwright/well"
)

// growth is how many times likelier iron bacteria are in a water by its oxygen,
// where oxygen was read; one where it was not.
func (b *balance) growth(oxygenMgL float64) float64 {
	if !b.oxygenRead() {
		return 1
	}
	if oxygenMgL >= b.set.Of(growthOxygenLow) && oxygenMgL <= b.set.Of(growthOxygenHigh) {
		return b.set.Of(growthOxygen.seen)
	}
	return b.set.Of(growthOxygen.absent)
}

// oxygenRead reports whether oxygen was read of the well's own water: behind an
// air-over-water tank it tells of the tank.
func (b *balance) oxygenRead() bool {
	return len(b.all[part{water.Oxygen, water.Total}]) > 0 && b.evidence.Supply.Tank.Kind != well.AirOverWater
}

// wellFigures weighs the fall of specific capacity and the slugs.
func (b *balance) wellFigures() {
	if b.peak.slug {
		b.scales.add("slugs", false, bacteria, slugs, true, fmt.Sprintf("total iron in slugs of up to %s", mgL(b.peak.v)))
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

// figureClues says how far each kind of reading moves the odds of the form of
// iron that leads: the odds with it over the odds without, all else kept.
func (b *balance) figureClues() []Clue {
	lead := b.leadingForm()
	with := b.prior.Weigh(b.question, func(int) bool { return true })
	var cs []Clue
	for _, g := range b.figureGroups() {
		without := b.prior.Weigh(b.question, func(i int) bool { return !g.holds(&b.question.Measures[i]) })
		times := oddsIn(with[lead]) / oddsIn(without[lead])
		if math.Abs(math.Log(times)) < math.Log(1.2) {
			continue
		}
		times = math.Max(1/mostTimes, math.Min(mostTimes, times))
		toward := form(lead).String()
		cs = append(cs, Clue{g.sign, toward, times, source.Derived, wording(g.sign, toward, times)})
	}
	return cs
}

// mostTimes is the weight beyond which a reading is simply decisive.
const mostTimes = 1000

func oddsIn(p float64) float64 {
	const sure = 1e-6
	p = math.Max(sure, math.Min(1-sure, p))
	return p / (1 - p)
}

// leadingForm is the form that holds most iron in the middle water.
func (b *balance) leadingForm() int {
	w := b.middle.Water
	switch f, p, o := w.Ferrous.MgPerL(), w.Particulate.MgPerL(), w.Bound.MgPerL(); {
	case p > f && p >= o:
		return int(particulateIron)
	case o > f:
		return int(organicIron)
	}
	return int(ferrousIron)
}

// figureGroup is one kind of reading that may bear on the forms.
type figureGroup struct {
	sign  string
	holds func(*posterior.Measure) bool
}

func (b *balance) figureGroups() []figureGroup {
	var gs []figureGroup
	add := func(what string, obs []observation, holds func(*posterior.Measure) bool) {
		if len(obs) > 0 {
			gs = append(gs, figureGroup{what + " " + saidAll(b.set, obs), holds})
		}
	}
	tagged := func(ts ...posterior.Tag) func(*posterior.Measure) bool {
		return func(m *posterior.Measure) bool {
			for _, t := range ts {
				if m.Tag == t {
					return true
				}
			}
			return false
		}
	}
	single := func(q posterior.Quantity) func(*posterior.Measure) bool {
		return func(m *posterior.Measure) bool {
			return len(m.Terms) == 1 && m.Terms[0].Of == q && m.Tag != posterior.IronTotalKit && m.Tag != posterior.IronTotalLab
		}
	}
	add("ferrous iron on site", b.all[part{water.Iron, water.FerrousIron}], tagged(posterior.IronFerrous))
	add("iron through 0.45 µm", b.all[part{water.Iron, water.Dissolved}], tagged(posterior.IronDissolved))
	add("iron through a finer filter", b.all[part{water.Iron, water.Fine}], func(m *posterior.Measure) bool {
		return len(m.Terms) == 2 && m.Terms[1].Of == posterior.Bound && m.Tag == posterior.Other
	})
	add("oxygen", b.all[part{water.Oxygen, water.Total}], tagged(posterior.OxygenRead))
	add("organic carbon", b.all[part{water.TOC, water.Total}], single(posterior.OrganicCarbon))
	return append(gs, b.jarGroups()...)
}

// saidAll writes the figure for a kind of reading as it stands.
func saidAll(set source.Set, obs []observation) string {
	r := typical(set, obs)
	return r.said()
}

// show records the working of the forms and of the supply.
func (b *balance) show() {
	if !b.working.On() {
		return
	}
	b.working.At("raw water")
	w := b.middle.Water
	symbols := formula.Syms(formula.Sym("T", w.TotalIron().MgPerL(), "mg/L"), formula.Sym("D", w.Ferrous.MgPerL()+w.Bound.MgPerL(), "mg/L"), formula.Sym("F", w.Ferrous.MgPerL(), "mg/L"))
	f := ironFormsFormula()
	b.working.Add(f.Step(ferrousFigure, w.Ferrous.MgPerL(), "mg/L", symbols))
	b.working.Add(f.Step(boundFigure, w.Bound.MgPerL(), "mg/L", symbols))
	b.working.Add(f.Step(particulateFigure, w.Particulate.MgPerL(), "mg/L", symbols))
	b.showBacteria()
	b.showCasing()
}

func (b *balance) showBacteria() {
	start := b.set.In(startBacteria)
	symbols := []formula.Symbol{{Name: "p0", Value: start.Value}}
	for _, f := range b.scales.strongest() {
		if f.clue.Toward == bacteria {
			symbols = append(symbols, formula.Symbol{Name: "L: " + strings.TrimSpace(f.clue.Sign), Value: f.clue.TimesLikelier})
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
