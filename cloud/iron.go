package cloud

import (
	"fmt"
	"math"
	"slices"

	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// split is the iron of a water by form, mg/L.
type split struct{ ferrous, particulate, bound float64 }

func (s split) total() float64 { return s.ferrous + s.particulate + s.bound }

func (s split) times(f float64) split {
	return split{s.ferrous * f, s.particulate * f, s.bound * f}
}

// ironReadings are the figures the forms rest on, mg/L; nil: nobody measured.
// What is set aside is taken out, so that what stays can be worked with.
type ironReadings struct {
	labTotal, fieldTotal *float64
	dissolved            *float64 // field-filtered through 0.45 µm
	ferrous              *float64
	slug                 float64 // highest of repeated totals that spread too far; 0: none
	bottle               water.Bottle
	filtered             water.Bottle
	apart                bool // laboratory and field on different days
}

// ironOf takes the iron out of the readings.
func ironOf(set source.Set, all readings) ironReadings {
	lab, field := all.of(water.Iron, water.Total, false), all.of(water.Iron, water.Total, true)
	var r ironReadings
	both := append(slices.Clone(lab), field...)
	high := highest(set, both)
	if spread := lowest(set, both) * set.Of(slugRatio); high > spread {
		r.slug = high
		if len(both) > 2 { // two alone do not tell which is the usual one
			lab, field = calm(set, lab, spread), calm(set, field, spread)
		}
	}
	r.labTotal, r.fieldTotal = typical(set, lab), typical(set, field)
	d := append(all.of(water.Iron, water.Dissolved, false), all.of(water.Iron, water.Dissolved, true)...)
	r.dissolved = typical(set, d)
	f := all.of(water.Iron, water.FerrousIron, true)
	if len(f) == 0 {
		f = all.of(water.Iron, water.FerrousIron, false)
	}
	r.ferrous = typical(set, f)
	if len(lab) > 0 {
		r.bottle = lab[0].bottle
	}
	if len(d) > 0 {
		r.filtered = d[0].bottle
	}
	r.apart = daysApart(lab, f) > 30
	return r
}

func daysApart(a, b []observation) float64 {
	if len(a) == 0 || len(b) == 0 || a[0].sampled.IsZero() || b[0].sampled.IsZero() {
		return 0
	}
	return math.Abs(a[0].sampled.Sub(b[0].sampled).Hours()) / 24
}

func lowest(set source.Set, obs []observation) float64 {
	low := math.Inf(1)
	for _, o := range obs {
		low = math.Min(low, figure(set, o))
	}
	return low
}

func highest(set source.Set, obs []observation) float64 {
	high := 0.0
	for _, o := range obs {
		high = math.Max(high, figure(set, o))
	}
	return high
}

// calm keeps the totals that do not stand in a slug.
func calm(set source.Set, obs []observation, most float64) []observation {
	var out []observation
	for _, o := range obs {
		if figure(set, o) <= most {
			out = append(out, o)
		}
	}
	return out
}

// typical is the geometric mean of results, zero if any is zero; nil if there
// are none.
func typical(set source.Set, obs []observation) *float64 {
	if len(obs) == 0 {
		return nil
	}
	sum := 0.0
	for _, v := range figures(set, obs) {
		sum += math.Log(v)
	}
	v := math.Exp(sum / float64(len(obs)))
	return &v
}

// known is what the iron is judged beside.
type known struct {
	set      source.Set
	odds     formOdds // from signs, before any figure
	toc      *float64
	colour   *float64
	hardness *float64
	airTank  bool
}

// organic reports whether a laboratory found much organic matter or colour, and
// clean that it looked and found little.
func (k known) organic() bool {
	return k.toc != nil && *k.toc >= 4 || k.colour != nil && *k.colour >= 30
}

func (k known) clean() bool {
	return k.toc != nil && *k.toc < 2 && (k.colour == nil || *k.colour < 15)
}

// ironBelief is the iron of the likeliest world with its errors, and that of the
// worlds that stand beside it.
type ironBelief struct {
	split
	low, high    split
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
	b.impossible(&r, k)
	total := b.wholeOf(&r, k)
	b.divide(total, r, k)
	b.plated(r, k)
	b.spread(r, k.set)
	return b
}

// wholeOf returns the total iron to work with: the sound ones, weighed by their
// errors; what the parts need where none is sound; a guess where there is nothing.
func (b *ironBelief) wholeOf(r *ironReadings, k known) float64 {
	parts := math.Max(value(r.ferrous), value(r.dissolved))
	switch {
	case r.labTotal != nil || r.fieldTotal != nil:
		return math.Max(parts, b.agree(r, k.set))
	case r.ferrous != nil || r.dissolved != nil:
		low, mid, high := k.set.Range(particulateUnknown)
		b.assume("iron_particulate_mg_l", Range{low, mid, high}, k.set.In(particulateUnknown))
		return parts + mid
	}
	low, mid, high := k.set.Range(ironUnknown)
	b.assume("iron_total_mg_l", Range{low, mid, high}, k.set.In(ironUnknown))
	return mid
}

// agree joins the laboratory's total and the field's.
func (b *ironBelief) agree(r *ironReadings, set source.Set) float64 {
	if r.labTotal == nil || r.fieldTotal == nil {
		return value(r.labTotal) + value(r.fieldTotal)
	}
	sum := pooled{}
	sum.add(set, observation{value: *r.labTotal}, set.Of(errLabMetal))
	sum.add(set, observation{value: *r.fieldTotal}, set.Of(errFerrousKit))
	return sum.belief(0).P50
}

func (b *ironBelief) assume(name string, r Range, f source.Factor) {
	b.assumed = append(b.assumed, Assumption{name, "mg/L", r, f.Kind, f.From})
}

// divide shares a total out over the forms.
func (b *ironBelief) divide(total float64, r ironReadings, k known) {
	lead := k.odds.leading()
	switch {
	case r.ferrous != nil:
		f := math.Min(*r.ferrous, total)
		d := math.Max(f, math.Min(total, value(r.dissolved)))
		b.split = split{f, total - d, d - f}
	case r.dissolved != nil:
		d := math.Min(total, *r.dissolved)
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
	b.conflict("total-unacidified", "total iron of "+mgL(*r.labTotal)+" is from a bottle without acid: iron stays on the wall of such a bottle. Read ferrous iron on site, or take it again in an acidified bottle.",
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
	if r.slug > 0 {
		b.high.particulate = math.Max(b.high.particulate, r.slug-b.high.ferrous-b.high.bound)
	}
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

func value(p *float64) float64 {
	if p == nil {
		return 0
	}
	return *p
}

func mgL(v float64) string { return trim(v) + " mg/L" }

func trim(v float64) string { return unit.Digits(v) }
