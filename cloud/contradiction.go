package cloud

import (
	"fmt"
	"math"
	"sort"

	"wellwright/source"
)

// contradiction is two readings that cannot both be right, with the faults that
// would explain them.
type contradiction struct {
	id, say  string
	suspects []string // faults, by their ids
	settled  string   // the explanation that needs no fault: what is said of the bottle, or scatter
	instead  string   // its words
}

const (
	scatter      = "scatter"
	scatterWords = "scatter of the readings, or water of another day"
)

// known is what the iron is judged beside.
type known struct {
	set     source.Set
	odds    formOdds // from signs, before any figure
	toc     *span
	colour  *span
	airTank bool
}

// organic reports whether a laboratory found much organic matter or colour, and
// clean that it looked and found little.
func (k known) organic() bool {
	return k.toc != nil && k.toc.low >= 4 || k.colour != nil && k.colour.low >= 30
}

func (k known) clean() bool {
	return k.toc != nil && k.toc.high < 2 && (k.colour == nil || k.colour.high < 15)
}

// contradictions names what cannot stand side by side in the iron. Each takes the
// doubtful figure out of what the next are held against.
func contradictions(r ironReadings, k known) []contradiction {
	c := &ironCheck{r: r, k: k, ratio: k.set.Of(impossibleRatio)}
	c.units()
	c.totals()
	if c.above(c.r.ferrous, c.r.fieldTotal) || c.above(c.r.dissolved, c.r.fieldTotal) {
		c.fieldTotalLow()
	}
	c.filtered()
	c.plated()
	return c.found
}

type ironCheck struct {
	r     ironReadings
	k     known
	ratio float64
	found []contradiction
}

// above reports whether a part reads above its whole by more than error.
func (c *ironCheck) above(part, whole *reading) bool {
	const trace = 0.02 // mg/L: the usual reporting limit of iron
	return part != nil && whole != nil && part.least() > whole.most()*c.ratio+trace
}

func (c *ironCheck) name(id, say string, suspects ...string) {
	c.found = append(c.found, contradiction{id, say, suspects, scatter, scatterWords})
}

// units: iron that no household well holds, or hundreds of times what was read
// on site, was written in micrograms.
func (c *ironCheck) units() {
	site := math.Max(c.r.fieldTotal.most(), c.r.ferrous.most())
	slip := func(v *reading) bool {
		return v.least() > c.k.set.Of(ironMost) || site > 0.05 && v.least() > 300*site
	}
	if !slip(c.r.labTotal) && !slip(c.r.dissolved) {
		return
	}
	most := math.Max(c.r.labTotal.least(), c.r.dissolved.least())
	c.name("iron-units", fmt.Sprintf("iron of %s is more than a household well holds: micrograms written as milligrams? It would be %s; ask the laboratory for the unit.", mgL(most), mgL(most/1000)),
		"units")
	for _, v := range []**reading{&c.r.labTotal, &c.r.dissolved} {
		if slip(*v) {
			*v = &reading{v: (*v).v / 1000}
		}
	}
}

// totals holds the laboratory's total against its parts and the field's.
func (c *ironCheck) totals() {
	lab, field := c.r.labTotal, c.r.fieldTotal
	switch {
	case c.above(c.r.ferrous, lab):
		c.name("ferrous-above-total",
			fmt.Sprintf("ferrous iron on site, %s, is above the laboratory's total, %s: a part cannot exceed its whole. Take the total again in an acidified bottle.", mgL(c.r.ferrous.v), lab.said()),
			"bottle-not-acidified", "kit-colour", "after-softener", "units-down", "something-else")
		c.known("bottle-not-acidified", "bottle not acidified")
		c.r.labTotal = nil
	case c.above(c.r.dissolved, lab):
		c.name("dissolved-above-total", fmt.Sprintf("dissolved iron, %s, is above total iron, %s: a part cannot exceed its whole", mgL(c.r.dissolved.v), lab.said()),
			"swapped", "bottle-not-acidified", "something-else")
		c.known("bottle-not-acidified", "bottle not acidified")
		c.r.labTotal = nil
	case c.above(field, lab):
		c.name("total-lab-below-field", fmt.Sprintf("total iron is %s by the laboratory and %s on site. Take it again in an acidified bottle.", lab.said(), field.said()),
			"bottle-not-acidified", "after-softener", "units-down", "something-else")
		c.known("bottle-not-acidified", "bottle not acidified")
		c.r.labTotal = nil
	case c.above(lab, field):
		c.name("total-field-below-lab", fmt.Sprintf("total iron is %s by the laboratory and %s on site. The laboratory's acid finds the rust that a kit leaves out.", lab.said(), field.said()),
			"kit-misses-rust", "hose-bib", "first-draw", "something-else")
		c.r.fieldTotal = nil
	}
}

// known lets what is written on the bottle stand for the explanation without a
// fault.
func (c *ironCheck) known(id, say string) {
	if a := c.r.bottle.Acidified; a != nil && !*a {
		last := &c.found[len(c.found)-1]
		last.settled, last.instead = id, say
	}
}

// fieldTotalLow: a part read on site or filtered there exceeds the total of the
// kit, which finds no rust without digestion.
func (c *ironCheck) fieldTotalLow() {
	most := math.Max(c.r.ferrous.least(), c.r.dissolved.least())
	c.name("field-total-below-part", fmt.Sprintf("total iron by the kit on site, %s, is below a part of it, %s.", c.r.fieldTotal.said(), mgL(most)),
		"kit-misses-rust", "kit-colour", "something-else")
	c.r.fieldTotal = nil
}

// filtered holds the filtered bottle against the ferrous iron or the signs.
func (c *ironCheck) filtered() {
	r, k := &c.r, c.k
	switch {
	case r.dissolved == nil:
	case c.above(r.ferrous, r.dissolved):
		c.name("dissolved-below-ferrous",
			fmt.Sprintf("dissolved iron, %s, is below the ferrous iron read on site, %s: ferrous iron passes a filter.", r.dissolved.said(), mgL(r.ferrous.v)),
			"filtered-late", "kit-colour", "something-else")
	case r.ferrous != nil:
		c.notFerrous()
	default:
		c.lateOrAcid(k)
	}
}

// notFerrous: much iron passes the filter and is not ferrous, in water with little
// that could bind it or behind a tank that rusts it.
func (c *ironCheck) notFerrous() {
	d, f := c.r.dissolved.least(), c.r.ferrous
	t := math.Max(d, math.Max(c.r.labTotal.least(), c.r.fieldTotal.least()))
	if d-f.most() < 0.3*t || c.k.organic() || !(c.k.clean() || c.k.airTank) {
		return
	}
	c.name("dissolved-not-ferrous", fmt.Sprintf("%s of iron passed the filter but only %s read ferrous, with little organic matter to bind the rest", mgL(d), f.said()),
		"acid-before-filter", "rusted-before-tap", "something-else")
	c.found[len(c.found)-1].settled, c.found[len(c.found)-1].instead = "bound", "iron bound or too fine for the filter"
}

// lateOrAcid doubts a filtered bottle that nobody read ferrous iron beside: one
// filtered late looks particulate, one filled on acid looks dissolved.
func (c *ironCheck) lateOrAcid(k known) {
	r := &c.r
	t, d := math.Max(r.labTotal.least(), r.fieldTotal.least()), r.dissolved.v
	if t == 0 {
		return // nothing was read that could have passed
	}
	held, passed := r.dissolved.most() <= 0.2*t, r.dissolved.least() >= 0.8*t
	late := negated(r.filtered.FilteredField)
	last := func(id, say string) {
		x := &c.found[len(c.found)-1]
		x.settled, x.instead = id, say
	}
	switch {
	case held && (late != nil && *late || k.odds[ferrousIron] > k.odds[particulateIron]):
		c.name("dissolved-low", fmt.Sprintf("only %s of %s iron passed the filter: rust in the well, or a bottle filtered after its iron had rusted? Read ferrous iron on site.", r.dissolved.said(), mgL(t)),
			"filtered-late", "something-else")
		last("particulate", "iron is particulate")
	case passed && k.odds.leading() == particulateIron:
		c.name("dissolved-high", fmt.Sprintf("%s of %s iron passed the filter, yet the water is red at the tap: was the bottle filled on acid before it was filtered?", mgL(d), mgL(t)),
			"acid-before-filter", "something-else")
		last("dissolved", "iron is dissolved")
	}
}

// plated doubts a total from a bottle without acid where nothing was read on site.
func (c *ironCheck) plated() {
	r := c.r
	if r.labTotal == nil || r.fieldTotal != nil || r.ferrous != nil || r.bottle.Acidified == nil || *r.bottle.Acidified {
		return
	}
	c.name("total-unacidified", "total iron of "+r.labTotal.said()+" is from a bottle without acid: iron stays on the wall of such a bottle. Read ferrous iron on site, or take it again in an acidified bottle.",
		"hose-bib", "something-else")
	c.found[len(c.found)-1].settled, c.found[len(c.found)-1].instead = "iron-plated", "iron stayed on the wall"
}

// weighed gives every explanation its chance after all the figures. Where a
// conflict has none of its faults in play, what needs no fault explains it.
func (x contradiction) weighed(chance func(id string) float64, say func(id string) string, none float64) Conflict {
	c := Conflict{ID: x.id, Say: x.say}
	ps, sum := []float64{}, 0.0
	put := func(id, words string, p float64) {
		c.Explanations = append(c.Explanations, Explanation{ID: id, Say: words})
		ps, sum = append(ps, p), sum+p
	}
	if x.settled != "" {
		put(x.settled, x.instead, none)
	}
	for _, id := range x.suspects {
		if p := chance(id); p > 0 && id != x.settled {
			put(id, say(id), p)
		}
	}
	for i := range ps {
		if sum > 0 {
			ps[i] /= sum
		} else {
			ps[i] = 1 / float64(len(ps))
		}
		c.Explanations[i].Probability = ps[i]
	}
	sort.SliceStable(c.Explanations, func(i, k int) bool { return c.Explanations[i].Probability > c.Explanations[k].Probability })
	toOne(c.Explanations)
	return c
}

// toOne lets the last explanation take what the others leave, so that together
// they are one and not nearly so.
func toOne(es []Explanation) {
	left := 1.0
	for i := range es {
		if i == len(es)-1 {
			es[i].Probability = math.Max(0, left)
		}
		left -= es[i].Probability
	}
}

// mgL writes a figure with its unit.
func mgL(v float64) string { return trim(v) + " mg/L" }

// softBelow is the hardness under which a raw sample may have come from behind
// a softener, mg/L as CaCO3 (common practice, no source).
const softBelow = 20
