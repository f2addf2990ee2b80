package cloud

import (
	"fmt"
	"math"
	"sort"

	"wellwright/source"
)

// Starting chances that a fault lies behind a contradiction, before the bottle
// and the rest of the report are looked at. They need not add to one.
var (
	faultUnacidified = faultFactor("unacidified", "the total bottle was not acidified", 0.80)
	faultColour      = faultFactor("colour", "colour or a late reading raised the ferrous kit", 0.06)
	faultSoftener    = faultFactor("softener", "the bottle was filled behind a softener or filter", 0.05)
	faultSeason      = faultFactor("season", "the samples are of different water: another day, another run", 0.06)
	faultUnits       = faultFactor("units", "micrograms were written as milligrams, or the other way", 0.02)
	faultSwapped     = faultFactor("swapped", "total and dissolved were swapped", 0.35)
	faultLate        = faultFactor("late", "the bottle was filtered late, after its iron had rusted", 0.30)
	faultAcidFirst   = faultFactor("acid_first", "the bottle held acid before it was filtered", 0.30)
	faultDirt        = faultFactor("dirt", "the filter or its bottle was dirty", 0.10)
	faultBound       = faultFactor("bound", "the iron is bound to organic matter or too fine for the filter", 0.40)
	faultGas         = faultFactor("gas", "carbon dioxide left the bottle before its pH was read", 0.70)
	faultSulfideLost = faultFactor("sulfide_lost", "sulfide left or rusted in an unpreserved bottle", 0.90)
	faultRustInside  = faultFactor("rust_inside", "ferrous iron rusted in the bottle and used the alkalinity", 0.80)
	faultAirIn       = faultFactor("air_in", "air got into the sample before its oxygen was read", 0.60)
	faultAirLeak     = faultFactor("air_leak", "the pump draws air, or the pressure tank holds it", 0.30)
	faultPlated      = faultFactor("plated", "much iron stayed on the wall of a bottle without acid", 0.50)
	platedTimes      = source.Factor{Name: "cloud_plated_times", What: "true total over that of a bottle without acid, where nothing else was read",
		Value: 2, Low: 1, High: 3, Kind: source.CommonPractice, From: "a third to two thirds of the iron is found again"}
	faultWeigh = source.Factor{Name: "cloud_fault_evidence", What: "times likelier a fault becomes when its own mark is seen; divides when the mark is looked for and missing",
		Value: 10, Low: 3, High: 30, Kind: source.CommonPractice, From: "strong evidence"}
)

func faultFactor(name, what string, p float64) source.Factor {
	return source.Factor{Name: "cloud_fault_" + name, What: "starting chance that " + what,
		Value: p, Low: p / 3, High: math.Min(1, 3*p), Kind: source.Judgement, From: "ranking of what is met on site"}
}

func faultFactors() []source.Factor {
	return []source.Factor{faultUnacidified, faultColour, faultSoftener, faultSeason, faultUnits, faultSwapped, faultLate,
		faultAcidFirst, faultDirt, faultBound, faultGas, faultSulfideLost, faultRustInside, faultAirIn, faultAirLeak, faultPlated, platedTimes, faultWeigh}
}

// suspect is one explanation under trial, and the iron it would leave.
type suspect struct {
	id, say string
	chance  float64 // not yet divided by the sum
	iron    *split  // nil: as in the likeliest world
	change  func(*numbers)
}

// evidence multiplies a chance by what the mark of its fault says: seen, looked
// for and missing, or not known.
func evidence(set source.Set, chance float64, seen *bool) float64 {
	w := set.Of(faultWeigh)
	switch {
	case seen == nil:
		return chance
	case *seen:
		return chance * w
	}
	return chance / w
}

// conflict names a contradiction and keeps its explanations, likeliest first.
// The suspects that leave another water become worlds of their own.
func (b *ironBelief) conflict(id, say string, suspects ...suspect) []suspect {
	sort.SliceStable(suspects, func(i, j int) bool { return suspects[i].chance > suspects[j].chance })
	c := Conflict{ID: id, Say: say}
	for i, p := range sharesOfOne(suspects) {
		s := suspects[i]
		c.Explanations = append(c.Explanations, Explanation{s.id, p, s.say})
		if s.iron != nil || s.change != nil {
			b.alternatives = append(b.alternatives, alternative{name: s.say, weight: p, conflict: id, iron: value0(s.iron), change: s.change})
		}
	}
	b.conflicts = append(b.conflicts, c)
	return suspects
}

// sharesOfOne divides the chances by their sum. The last takes what the others
// leave, so that together they are one and not nearly so; where none has any
// chance all are alike.
func sharesOfOne(suspects []suspect) []float64 {
	ps, sum := make([]float64, len(suspects)), 0.0
	for i, s := range suspects {
		ps[i] = math.Max(0, s.chance)
		sum += ps[i]
	}
	left := 0.0
	for i := range ps {
		if sum > 0 {
			ps[i] /= sum
		} else {
			ps[i] = 1 / float64(len(ps))
		}
		if i == len(ps)-1 {
			ps[i] = math.Max(0, 1-left)
		}
		left += ps[i]
	}
	return ps
}

func value0(s *split) split {
	if s == nil {
		return split{}
	}
	return *s
}

// rest is what is left of a whole, not below nothing.
func rest(whole, part float64) float64 { return math.Max(0, whole-part) }

// impossible sets aside figures that cannot stand beside the others.
func (b *ironBelief) impossible(r *ironReadings, k known) {
	ratio := k.set.Of(impossibleRatio)
	const trace = 0.02 // mg/L: the usual reporting limit of iron
	above := func(part, whole *reading) bool {
		return part != nil && whole != nil && part.least() > whole.most()*ratio+trace
	}
	b.unitSlip(r, k)
	switch {
	case above(r.ferrous, r.labTotal):
		b.ferrousAboveTotal(r, k)
	case above(r.dissolved, r.labTotal):
		b.dissolvedAboveTotal(r, k)
	case above(r.fieldTotal, r.labTotal), above(r.labTotal, r.fieldTotal):
		b.totalsApart(r, k)
	}
	if above(r.ferrous, r.fieldTotal) || above(r.dissolved, r.fieldTotal) {
		b.fieldTotalLow(r, k)
	}
	switch {
	case r.dissolved == nil:
	case above(r.ferrous, r.dissolved):
		b.dissolvedBelowFerrous(r, k)
	case r.ferrous != nil:
		b.dissolvedNotFerrous(r, k)
	case r.labTotal != nil || r.fieldTotal != nil:
		b.filteredBottle(r, k)
	}
}

// filteredBottle doubts a filtered bottle that nobody read ferrous iron beside:
// one filtered late looks particulate, one filled on acid looks dissolved.
func (b *ironBelief) filteredBottle(r *ironReadings, k known) {
	t, d := math.Max(r.labTotal.least(), r.fieldTotal.least()), r.dissolved.v
	if t == 0 {
		return // nothing was read that could have passed
	}
	held, passed := r.dissolved.most() <= 0.2*t, r.dissolved.least() >= 0.8*t
	late := negated(r.filtered.FilteredField)
	switch {
	case held && (late != nil && *late || k.odds[ferrousIron] > k.odds[particulateIron]):
		real, lost := split{ferrous: d, particulate: rest(t, d)}, shares(ferrousIron, k).times(t)
		b.either(r, k, "dissolved-low", fmt.Sprintf("only %s of %s iron passed the filter: rust in the well, or a bottle filtered after its iron had rusted? Read ferrous iron on site.", r.dissolved.said(), mgL(t)),
			suspect{id: "filtered-late", say: "filtered late", chance: evidence(k.set, k.set.Of(faultLate), late) * k.odds[ferrousIron], iron: &lost},
			suspect{id: "particulate", say: "iron is particulate", chance: (1 - k.set.Of(faultLate)) * k.odds[particulateIron], iron: &real})
	case passed && k.odds.leading() == particulateIron:
		real, acid := split{ferrous: d, particulate: rest(t, d)}, shares(particulateIron, k).times(t)
		b.either(r, k, "dissolved-high", fmt.Sprintf("%s of %s iron passed the filter, yet the water is red at the tap: was the bottle filled on acid before it was filtered?", mgL(d), mgL(t)),
			suspect{id: "acid-before-filter", say: "acid in the bottle before the filter", chance: k.set.Of(faultAcidFirst) * k.odds[particulateIron], iron: &acid},
			suspect{id: "dissolved", say: "iron is dissolved", chance: (1 - k.set.Of(faultAcidFirst)) * k.odds[ferrousIron], iron: &real})
	}
}

// either sets the filtered figure aside where its fault is the likelier story.
func (b *ironBelief) either(r *ironReadings, k known, id, say string, fault, sound suspect) {
	list := b.conflict(id, say, fault, sound)
	b.drop(list[0].say)
	if list[0].id == fault.id {
		r.dissolved = nil
	}
}

// unitSlip: iron that no household well holds, or hundreds of times what was
// read on site, was written in micrograms.
func (b *ironBelief) unitSlip(r *ironReadings, k known) {
	site := math.Max(r.fieldTotal.most(), r.ferrous.most())
	slip := func(v *reading) bool {
		return v.least() > k.set.Of(ironMost) || site > 0.05 && v.least() > 300*site
	}
	if !slip(r.labTotal) && !slip(r.dissolved) {
		return
	}
	most := math.Max(r.labTotal.least(), r.dissolved.least())
	written := split{ferrous: r.dissolved.mid(), particulate: rest(r.labTotal.mid(), r.dissolved.mid())}
	b.conflict("iron-units", fmt.Sprintf("iron of %s is more than a household well holds: micrograms written as milligrams? It is worked with as %s; ask the laboratory for the unit.",
		mgL(most), mgL(most/1000)),
		suspect{id: "units", say: "ug/L read as mg/L", chance: 1 - k.set.Of(faultUnits)},
		suspect{id: "as-printed", say: "iron as printed", chance: k.set.Of(faultUnits), iron: &written})
	for _, v := range []**reading{&r.labTotal, &r.dissolved} {
		if slip(*v) {
			*v = &reading{v: (*v).v / 1000}
		}
	}
}

// ferrousAboveTotal: the laboratory's total is set aside; iron plates out on the
// wall of a bottle without acid.
func (b *ironBelief) ferrousAboveTotal(r *ironReadings, k known) {
	lab, f := r.labTotal.v, r.ferrous.v
	softened := lowHardness(k)
	bad := negated(r.bottle.Acidified)
	b.conflict("ferrous-above-total",
		fmt.Sprintf("ferrous iron on site, %s, is above the laboratory's total, %s: a part cannot exceed its whole. The total is set aside; take it again in an acidified bottle.", mgL(f), r.labTotal.said()),
		suspect{id: "bottle-not-acidified", say: "bottle not acidified", chance: evidence(k.set, k.set.Of(faultUnacidified), bad)},
		suspect{id: "kit-colour", say: "colour in the ferrous kit", chance: evidence(k.set, k.set.Of(faultColour), yes(k.organic(), k.clean())),
			iron: &split{ferrous: 0.3 * lab, bound: 0.7 * lab}},
		suspect{id: "after-softener", say: "sample after a softener", chance: evidence(k.set, k.set.Of(faultSoftener), softened)},
		suspect{id: "different-water", say: "samples of different days", chance: evidence(k.set, k.set.Of(faultSeason), yes(r.apart, false)),
			iron: &split{ferrous: math.Sqrt(f * lab)}},
		suspect{id: "units", say: "ug/L read as mg/L", chance: evidence(k.set, k.set.Of(faultUnits), yes(f > 300*r.labTotal.most(), f < 300*r.labTotal.most()))},
	)
	r.labTotal = nil
}

// dissolvedAboveTotal: two bottles of one water, the filtered one richer.
func (b *ironBelief) dissolvedAboveTotal(r *ironReadings, k known) {
	t, d := r.labTotal.v, r.dissolved.v
	f := r.ferrous.mid()
	fits := yes(r.ferrous != nil && r.ferrous.most() <= r.labTotal.most(), r.ferrous.least() > r.labTotal.most())
	ferrous, whole := t, split{ferrous: d}
	if r.ferrous != nil {
		ferrous, whole = math.Min(f, t), split{ferrous: math.Min(f, d), bound: rest(d, f)}
	}
	list := b.conflict("dissolved-above-total",
		fmt.Sprintf("dissolved iron, %s, is above total iron, %s: a part cannot exceed its whole", mgL(d), r.labTotal.said()),
		suspect{id: "swapped", say: "total and dissolved swapped", chance: evidence(k.set, k.set.Of(faultSwapped), fits),
			iron: &split{ferrous: ferrous, bound: t - ferrous, particulate: d - t}},
		suspect{id: "bottle-not-acidified", say: "bottle not acidified", chance: evidence(k.set, k.set.Of(faultUnacidified)/2, negated(r.bottle.Acidified)),
			iron: &whole},
		suspect{id: "filter-dirty", say: "filter or bottle dirty", chance: k.set.Of(faultDirt),
			iron: &split{ferrous: ferrous, bound: t - ferrous}},
	)
	switch list[0].id {
	case "swapped":
		r.labTotal, r.dissolved = r.dissolved, r.labTotal
	case "filter-dirty":
		r.dissolved = r.labTotal
	default:
		r.labTotal = nil
	}
	b.drop(list[0].say)
}

// totalsApart: laboratory and field totals of one water differ by more than
// their errors.
func (b *ironBelief) totalsApart(r *ironReadings, k known) {
	say := fmt.Sprintf("total iron is %s by the laboratory and %s on site", r.labTotal.said(), r.fieldTotal.said())
	if r.labTotal.v < r.fieldTotal.v {
		b.conflict("total-lab-below-field", say+". The laboratory's is set aside; take it again in an acidified bottle.",
			suspect{id: "bottle-not-acidified", say: "bottle not acidified", chance: evidence(k.set, k.set.Of(faultUnacidified), negated(r.bottle.Acidified))},
			suspect{id: "different-water", say: "samples of different days", chance: evidence(k.set, 3*k.set.Of(faultSeason), yes(r.apart, false))},
			suspect{id: "after-softener", say: "sample after a softener", chance: evidence(k.set, k.set.Of(faultSoftener), lowHardness(k))})
		r.labTotal = nil
		return
	}
	b.conflict("total-field-below-lab", say+". The laboratory's acid finds the rust that a kit leaves out.",
		suspect{id: "kit-misses-rust", say: "the kit does not dissolve rust", chance: 0.6},
		suspect{id: "different-water", say: "samples of different days", chance: 0.4})
	r.fieldTotal = nil
}

// fieldTotalLow: a part read on site or filtered there exceeds the total of the
// kit, which finds no rust without digestion.
func (b *ironBelief) fieldTotalLow(r *ironReadings, k known) {
	most := math.Max(r.ferrous.least(), r.dissolved.least())
	b.conflict("field-total-below-part", fmt.Sprintf("total iron by the kit on site, %s, is below a part of it, %s. The kit's total is set aside.", r.fieldTotal.said(), mgL(most)),
		suspect{id: "kit-misses-rust", say: "the kit does not dissolve rust", chance: 1 - k.set.Of(faultDirt) - k.set.Of(faultColour)},
		suspect{id: "kit-dilution", say: "a dilution was not reckoned in", chance: k.set.Of(faultDirt)},
		suspect{id: "kit-colour", say: "colour in the ferrous kit", chance: evidence(k.set, k.set.Of(faultColour), yes(k.organic(), k.clean()))})
	r.fieldTotal = nil
}

// dissolvedBelowFerrous: the filtered bottle rusted before it was filtered.
func (b *ironBelief) dissolvedBelowFerrous(r *ironReadings, k known) {
	d, f := r.dissolved.v, r.ferrous.v
	b.conflict("dissolved-below-ferrous",
		fmt.Sprintf("dissolved iron, %s, is below the ferrous iron read on site, %s: ferrous iron passes a filter. The filtered bottle is set aside.", r.dissolved.said(), mgL(f)),
		suspect{id: "filtered-late", say: "filtered late", chance: evidence(k.set, k.set.Of(faultLate), negated(r.filtered.FilteredField))},
		suspect{id: "filtrate-not-acidified", say: "filtered bottle not acidified", chance: evidence(k.set, k.set.Of(faultLate), negated(r.filtered.Acidified))},
		suspect{id: "kit-colour", say: "colour in the ferrous kit", chance: evidence(k.set, k.set.Of(faultColour), yes(k.organic(), k.clean())),
			iron: &split{ferrous: d, particulate: rest(math.Max(r.labTotal.mid(), f), d)}},
	)
	r.dissolved = nil
}

// dissolvedNotFerrous: much iron passes the filter and is not ferrous, in water
// with little that could bind it or behind a tank that rusts it.
func (b *ironBelief) dissolvedNotFerrous(r *ironReadings, k known) {
	d, f := r.dissolved.least(), r.ferrous.v
	t := math.Max(d, math.Max(r.labTotal.least(), r.fieldTotal.least()))
	if d-r.ferrous.most() < 0.3*t || k.organic() || !(k.clean() || k.airTank) {
		return
	}
	rust := split{ferrous: f, particulate: t - f}
	list := b.conflict("dissolved-not-ferrous",
		fmt.Sprintf("%s of iron passed the filter but only %s read ferrous, with little organic matter to bind the rest", mgL(d), r.ferrous.said()),
		suspect{id: "acid-before-filter", say: "acid in the bottle before the filter", chance: k.set.Of(faultAcidFirst), iron: &rust},
		suspect{id: "rusted-before-tap", say: "rusted in the pressure tank between the two samples", chance: evidence(k.set, k.set.Of(faultLate), &k.airTank), iron: &rust},
		suspect{id: "bound", say: "iron bound or too fine for the filter", chance: evidence(k.set, k.set.Of(faultBound), yes(false, k.clean())),
			iron: &split{ferrous: f, bound: d - f, particulate: t - d}})
	if list[0].id != "bound" {
		r.dissolved = nil
		b.drop("acid in the bottle before the filter")
		b.drop("rusted in the pressure tank between the two samples")
		return
	}
	b.drop(list[0].say)
}

// drop takes back an alternative that is the likeliest world itself.
func (b *ironBelief) drop(name string) {
	for i, a := range b.alternatives {
		if a.name == name {
			b.alternatives = append(b.alternatives[:i], b.alternatives[i+1:]...)
			return
		}
	}
}

func lowHardness(k known) *bool {
	if k.hardness == nil {
		return nil
	}
	soft := *k.hardness < softBelow
	return &soft
}

// softBelow is the hardness under which a raw sample may have come from behind
// a softener, mg/L as CaCO3 (common practice, no source).
const softBelow = 20

func yes(seen, missing bool) *bool {
	if seen || missing {
		return &seen
	}
	return nil
}

func negated(b *bool) *bool {
	if b == nil {
		return nil
	}
	n := !*b
	return &n
}
