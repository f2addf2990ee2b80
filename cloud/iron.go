package cloud

import (
	"fmt"
	"math"

	"wellwright/source"
	"wellwright/unit"
)

// split is the iron of a water by form, mg/L.
type split struct{ ferrous, particulate, bound float64 }

func (s split) total() float64 { return s.ferrous + s.particulate + s.bound }

func (s split) times(f float64) split {
	return split{s.ferrous * f, s.particulate * f, s.bound * f}
}

// known is what the iron is judged beside.
type known struct {
	set      source.Set
	odds     formOdds // from signs, before any figure
	toc      *span
	colour   *span
	hardness *float64 // at most
	airTank  bool
}

// organic reports whether a laboratory found much organic matter or colour, and
// clean that it looked and found little.
func (k known) organic() bool {
	return k.toc != nil && k.toc.low >= 4 || k.colour != nil && k.colour.low >= 30
}

func (k known) clean() bool {
	return k.toc != nil && k.toc.high < 2 && (k.colour == nil || k.colour.high < 15)
}

// ironBelief is the iron of the likeliest world with its errors, and that of the
// worlds that stand beside it.
type ironBelief struct {
	split
	low, high    split
	limit        float64 // of a total that nobody read above it; 0: it was read
	peak         peak    // of the totals that stand
	alternatives []alternative
	conflicts    []Conflict
	assumed      []Assumption
}

// alternative is a fault of the evidence, or another form, with its iron.
type alternative struct {
	name     string
	weight   float64 // chance within its conflict
	conflict string
	iron     split
	change   func(*numbers) // what else differs; nil: nothing
}

// resolve turns iron figures into forms.
//
//	ferrous      F
//	bound        D - F, not below 0
//	particulate  T - max(D, F), not below 0
//
//	T  total, unfiltered and acidified, mg/L
//	D  filtered through 0.45 µm in the field, then acidified
//	F  ferrous on site
//
// Where a figure is missing the signs fill the gap, and the belief says so.
// Error: that of the three readings. Source: the three-number rule, common
// practice; cautions on the 0.45 µm filter in Horowitz et al. 1996.
func resolve(r ironReadings, k known) ironBelief {
	var b ironBelief
	lab, field := r.labTotal, r.fieldTotal
	b.impossible(&r, k)
	b.peak = standing(r, lab, field)
	total := b.wholeOf(&r, k)
	b.divide(total, r, k)
	b.plated(r, k)
	b.spread(r, k.set)
	return b
}

// standing is the peak of the totals that were not set aside or put right.
func standing(r ironReadings, lab, field *reading) peak {
	var p peak
	if r.labTotal != nil && r.labTotal == lab {
		p = r.labPeak
	}
	if r.fieldTotal != nil && r.fieldTotal == field {
		p = peak{math.Max(p.v, r.fieldPeak.v), p.slug || r.fieldPeak.slug}
	}
	return p
}

// wholeOf returns the total iron to work with: the sound ones, weighed by their
// errors; what the parts need where none is sound; a guess where there is nothing.
func (b *ironBelief) wholeOf(r *ironReadings, k known) float64 {
	parts := math.Max(r.ferrous.least(), r.dissolved.least())
	switch {
	case r.labTotal != nil || r.fieldTotal != nil:
		total := agree(r, k.set)
		b.limit = total.below
		return math.Max(parts, total.v)
	case r.ferrous != nil || r.dissolved != nil:
		low, mid, high := k.set.Range(particulateUnknown)
		b.assume("iron_particulate_mg_l", Range{low, mid, high}, k.set.In(particulateUnknown))
		if parts == 0 {
			parts = math.Max(r.ferrous.mid(), r.dissolved.mid())
		}
		return parts + mid
	}
	low, mid, high := k.set.Range(ironUnknown)
	b.assume("iron_total_mg_l", Range{low, mid, high}, k.set.In(ironUnknown))
	return mid
}

// agree joins the laboratory's total and the field's. A limit gives way to a
// figure, and of two limits the lower holds.
func agree(r *ironReadings, set source.Set) reading {
	lab, field := r.labTotal, r.fieldTotal
	switch {
	case field == nil || lab != nil && field.limit() && (!lab.limit() || lab.below <= field.below):
		return *lab
	case lab == nil || lab.limit():
		return *field
	}
	sum := pooled{}
	sum.add(set, observation{value: lab.v}, set.Of(errLabMetal))
	sum.add(set, observation{value: field.v}, set.Of(errFerrousKit))
	return reading{v: sum.belief(0).P50}
}

func (b *ironBelief) assume(name string, r Range, f source.Factor) {
	b.assumed = append(b.assumed, Assumption{name, "mg/L", r, f.Kind, f.From})
}

// divide shares a total out over the forms.
func (b *ironBelief) divide(total float64, r ironReadings, k known) {
	lead := k.odds.leading()
	switch {
	case r.ferrous != nil:
		f, d := together(r, total)
		b.split = formsOf(total, d, f)
	case r.dissolved != nil:
		d := math.Min(total, r.dissolved.v)
		b.split = b.unsplit(d, k)
		b.particulate = total - d
		for i := range b.alternatives {
			if b.alternatives[i].conflict == "forms" {
				b.alternatives[i].iron.particulate = total - d
			}
		}
	default:
		b.split = shares(lead, k).times(total)
		b.otherForms(total, k)
	}
}

// together returns ferrous and dissolved iron that fit each other and the total:
// what is only a limit gives way to a figure.
func together(r ironReadings, total float64) (ferrous, dissolved float64) {
	f, d := math.Min(r.ferrous.v, total), math.Min(total, r.dissolved.mid())
	switch {
	case r.dissolved == nil:
		return f, f
	case r.ferrous.limit():
		f = math.Min(f, d)
	case r.dissolved.limit():
		return f, f
	}
	return f, math.Max(f, d)
}

// unsplit shares dissolved iron between ferrous and bound where nobody read the
// ferrous iron on site.
func (b *ironBelief) unsplit(d float64, k known) split {
	bound := k.odds[organicIron] / (k.odds[organicIron] + k.odds[ferrousIron])
	lead := k.set.Of(formLead)
	f := assumption(k.set, formLead)
	if k.organic() || bound > 0.5 {
		b.assume("iron_ferrous_mg_l", Range{0, d * (1 - lead), d}, source.Factor{Kind: f.kind, From: "dissolved, with organic matter or colour: taken as bound"})
		b.addForm("iron bound, not ferrous", 1-bound, split{ferrous: d})
		return split{ferrous: d * (1 - lead), bound: d * lead}
	}
	b.assume("iron_ferrous_mg_l", Range{d * lead, d, d}, source.Factor{Kind: f.kind, From: "dissolved taken as ferrous: nobody read ferrous iron on site"})
	b.addForm("dissolved iron is bound, not ferrous", bound, split{ferrous: d * (1 - lead), bound: d * lead})
	return split{ferrous: d}
}

// shares are the parts of one milligram of iron in its leading form.
func shares(lead form, k known) split {
	s := k.set.Of(formLead)
	var out split
	switch lead {
	case particulateIron:
		out = split{1 - s, s, 0}
	case organicIron:
		out = split{1 - s, 0, s}
	default:
		out = split{s, 1 - s, 0}
	}
	if k.airTank && lead == ferrousIron {
		moved := out.ferrous * k.set.Of(tankOxidises)
		out.ferrous -= moved
		out.particulate += moved
	}
	return out
}

// otherForms keeps the forms that signs leave open as worlds of their own.
func (b *ironBelief) otherForms(total float64, k known) {
	lead := k.odds.leading()
	low, mid, high := k.set.Range(formLead)
	f := k.set.In(formLead)
	b.assumed = append(b.assumed, Assumption{"iron_leading_form_share", "", Range{low, mid, high}, f.Kind,
		fmt.Sprintf("%s by the signs alone: nobody filtered or read ferrous iron", lead)})
	for i := range k.odds {
		if form(i) != lead {
			b.addForm("iron is "+form(i).String(), k.odds[i], shares(form(i), k).times(total))
		}
	}
}

func (b *ironBelief) addForm(name string, p float64, s split) {
	b.alternatives = append(b.alternatives, alternative{name: name, weight: p, conflict: "forms", iron: s})
}

// plated keeps the richer water behind a total from a bottle without acid, where
// nothing was read on site to set it right.
func (b *ironBelief) plated(r ironReadings, k known) {
	if r.labTotal == nil || r.fieldTotal != nil || r.ferrous != nil || r.bottle.Acidified == nil || *r.bottle.Acidified {
		return
	}
	p, richer := k.set.Of(faultPlated), b.split.times(k.set.Of(platedTimes))
	b.conflict("total-unacidified", "total iron of "+r.labTotal.said()+" is from a bottle without acid: iron stays on the wall of such a bottle. Read ferrous iron on site, or take it again in an acidified bottle.",
		suspect{id: "iron-plated", say: "bottle not acidified", chance: p, iron: &richer},
		suspect{id: "little-lost", say: "little was lost", chance: 1 - p})
}

// spread sets the low and high iron: each form by its own error and season.
func (b *ironBelief) spread(r ironReadings, set source.Set) {
	season := set.Of(seasonIron)
	if g := b.within("iron_total_mg_l"); g.P95 > 0 { // nothing measured
		b.low, b.high = b.split.times(g.P05/g.P50), b.split.times(g.P95/g.P50)
		return
	}
	if total := b.split.total(); b.nothingRead(r) && total > 0 {
		b.low, b.high = split{}, b.split.times(b.limit/total)
		return
	}
	errF := set.Of(errFerrousKit)
	if r.ferrous == nil {
		errF = set.Of(errLabMetal)
	}
	up := math.Exp(z05 * math.Hypot(errF, season))
	b.low, b.high = b.split.times(1/up), b.split.times(up)
	diff := set.Of(errLabMetal) * math.Hypot(b.split.total(), b.ferrous+b.bound)
	swing := z05 * math.Hypot(diff, season*b.particulate)
	b.low.particulate = math.Max(0, b.particulate-swing)
	b.high.particulate = b.particulate + swing
	if g := b.within("iron_particulate_mg_l"); g.P95 > 0 {
		b.low.particulate, b.high.particulate = g.P05, g.P95
	}
	b.spreadLimits(r, up)
	most := math.Max(b.peak.v, b.limit)
	b.high.particulate = math.Max(b.high.particulate, most-b.high.ferrous-b.high.bound)
}

// spreadLimits opens a form that nobody read above a limit from nothing to it, as
// far as what is dissolved or the total leaves room. What it does not take, the
// form it was parted from does, so that their sum stays as read.
func (b *ironBelief) spreadLimits(r ironReadings, up float64) {
	switch d, t := r.dissolved.least(), b.split.total(); {
	case r.ferrous.limit() && d > 0:
		b.low.ferrous, b.high.ferrous = 0, math.Min(r.ferrous.below, d*up)
		b.low.bound, b.high.bound = d/up, math.Max(0, d*up-b.high.ferrous)
	case r.ferrous.limit() && (r.labTotal != nil || r.fieldTotal != nil):
		b.low.ferrous, b.high.ferrous = 0, math.Min(r.ferrous.below, t*up)
		b.low.particulate, b.high.particulate = t/up, math.Max(0, t*up-b.high.ferrous)
	case r.ferrous.limit():
		b.low.ferrous, b.high.ferrous = 0, r.ferrous.below
	case r.ferrous == nil && r.dissolved.limit() && r.dissolved.v > 0:
		room := r.dissolved.below / r.dissolved.v
		b.low.ferrous, b.low.bound = 0, 0
		b.high.ferrous, b.high.bound = b.ferrous*room, b.bound*room
	}
}

// nothingRead reports whether no figure of iron stands, only limits.
func (b *ironBelief) nothingRead(r ironReadings) bool {
	return b.limit > 0 && r.ferrous.least() == 0 && r.dissolved.least() == 0
}

// within returns the range of an assumption made on the iron; zero if it was not made.
func (b *ironBelief) within(name string) Range {
	for _, a := range b.assumed {
		if a.Name == name {
			return a.Range
		}
	}
	return Range{}
}

func mgL(v float64) string { return trim(v) + " mg/L" }

func trim(v float64) string { return unit.Digits(v) }
