package cloud

import (
	"math"

	"wellwright/source"
	"wellwright/water"
)

// reading is one figure, mg/L or the unit of its analyte. Where only a limit is
// known, below is that limit and v what stands for it; below zero means a figure.
type reading struct{ v, below float64 }

// mid is the figure or what stands for it, least what there surely is and most
// what there may be; nothing where nobody measured.
func (r *reading) mid() float64 {
	if r == nil {
		return 0
	}
	return r.v
}

func (r *reading) least() float64 {
	if r == nil || r.below > 0 {
		return 0
	}
	return r.v
}

func (r *reading) most() float64 {
	switch {
	case r == nil:
		return 0
	case r.below > 0:
		return r.below
	}
	return r.v
}

// limit reports whether only a limit is known.
func (r *reading) limit() bool { return r != nil && r.below > 0 }

// mark writes the figure, or the limit with its sign.
func (r *reading) mark() string {
	if r.limit() {
		return "<" + trim(r.below)
	}
	return trim(r.mid())
}

func (r *reading) said() string { return r.mark() + " mg/L" }

// ironReadings are the figures the forms rest on; nil: nobody measured.
// What is set aside is taken out, so that what stays can be worked with.
type ironReadings struct {
	labTotal, fieldTotal *reading
	dissolved            *reading // field-filtered through 0.45 µm
	ferrous              *reading
	labPeak, fieldPeak   peak
	bottle               water.Bottle
	filtered             water.Bottle
	apart                bool // laboratory and field on different days
}

// peak is the highest of totals of one kind that spread too far; slug: they were
// repeated, or whoever took them called it a slug.
type peak struct {
	v    float64
	slug bool
}

// ironOf takes the iron out of the readings.
func ironOf(set source.Set, all readings) ironReadings {
	var r ironReadings
	lab, field := preserved(all.of(water.Iron, water.Total, false)), all.of(water.Iron, water.Total, true)
	lab, r.labPeak = calm(set, lab)
	field, r.fieldPeak = calm(set, field)
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

// preserved leaves out totals from bottles without acid where another bottle
// was taken: iron stays on the wall of such a bottle.
func preserved(obs []observation) []observation {
	var out []observation
	for _, o := range obs {
		if o.bottle.Acidified == nil || *o.bottle.Acidified {
			out = append(out, o)
		}
	}
	if len(out) == 0 {
		return obs
	}
	return out
}

// calm keeps the totals that do not stand in a slug. Only repeats at one tap are
// laid beside each other, and two alone do not tell which is the usual one.
func calm(set source.Set, obs []observation) ([]observation, peak) {
	var top peak
	var out []observation
	ratio := set.Of(slugRatio)
	for i, o := range obs {
		low, high, n, called := math.Inf(1), 0.0, 0, false
		for _, x := range obs {
			if tapOf(x) == tapOf(o) {
				n, called = n+1, called || x.slug
				low = math.Min(low, x.value) // of a non-detect its limit
				if x.sign != water.Below {
					high = math.Max(high, x.value)
				}
			}
		}
		burst := high > low*ratio
		if burst {
			top.v = math.Max(top.v, high)
			top.slug = top.slug || n > 2 || called
		}
		if !burst || n == 2 && !called || o.value <= low*ratio {
			out = append(out, obs[i])
		}
	}
	return out, top
}

// tapOf takes a raw sample without a tap as one at T1.
func tapOf(o observation) water.Where {
	if o.tap == "" {
		return "T1"
	}
	return o.tap
}

// typical is the geometric mean of results, zero if any is zero; nil if there
// are none. A result below a limit stands with its share where its limit lies
// below every figure, and tells nothing beside a figure below it.
func typical(set source.Set, obs []observation) *reading {
	if len(obs) == 0 {
		return nil
	}
	least := math.Inf(1)
	for _, o := range obs {
		if o.sign != water.Below {
			least = math.Min(least, figure(set, o))
		}
	}
	if math.IsInf(least, 1) {
		return lowestLimit(set, obs)
	}
	sum, n := 0.0, 0.0
	for _, o := range obs {
		if o.sign != water.Below || o.value < least {
			sum, n = sum+math.Log(figure(set, o)), n+1
		}
	}
	return &reading{v: math.Exp(sum / n)}
}

func lowestLimit(set source.Set, obs []observation) *reading {
	best := obs[0]
	for _, o := range obs {
		if o.value < best.value {
			best = o
		}
	}
	return &reading{figure(set, best), best.value}
}
