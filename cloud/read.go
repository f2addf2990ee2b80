package cloud

import (
	"math"
	"sort"
	"strings"
	"time"

	"wellwright/book"
	"wellwright/source"
	"wellwright/water"
)

// observation is one result on raw water, in the unit of its analyte.
type observation struct {
	value   float64
	sign    water.Sign
	field   bool
	tap     water.Where
	bottle  water.Bottle
	sampled time.Time
	none    bool // looked for and not found, by its note
	slug    bool // taken in a slug, by its note
	kept    bool // preserved in its bottle, by its note
	report  int  // of the evidence; -1: a jar
	method  string
}

// part is one analyte in one fraction.
type part struct {
	analyte  water.Analyte
	fraction water.Fraction
}

// readings are the results on flushed raw water, by part.
type readings map[part][]observation

// read gathers what was measured of the raw water. First draws tell of the
// plumbing and taps behind treatment of the treatment: both are left out.
func read(e Evidence) readings {
	all := readings{}
	for n, r := range e.Reports {
		if !r.Raw() || r.FirstDraw {
			continue
		}
		for _, res := range r.Results {
			a, err := res.Amount()
			if err != nil {
				continue // told by the checks on the report
			}
			v, _ := a.Canonical()
			k := part{res.Analyte, folded(res.Analyte, res.Fraction)}
			all[k] = append(all[k], observation{value: v, sign: signOf(a), field: r.Field, tap: r.Tap, bottle: r.Bottle, sampled: r.Sampled,
				none: saysNone(res.Note), slug: saysSlug(res.Note), kept: saysKept(res.Note + " " + r.Bottle.Note), report: n, method: res.Method})
		}
		all.bicarbonate(r, n)
		all.nitrate()
	}
	all.filtrates(e.Jars)
	return all.atTap()
}

// saysNone reports whether a note on a non-detect says that there was none.
func saysNone(note string) bool {
	low := strings.ToLower(note)
	for _, w := range strings.FieldsFunc(low, func(r rune) bool { return r < 'a' || r > 'z' }) {
		if w == "none" || w == "absent" {
			return true
		}
	}
	return strings.Contains(low, "not found")
}

// saysSlug reports whether a note calls a reading one of a slug.
func saysSlug(note string) bool { return strings.Contains(strings.ToLower(note), "slug") }

// saysKept reports whether a note says that the bottle was preserved.
func saysKept(note string) bool {
	low := strings.ToLower(note)
	return strings.Contains(low, "zinc acetate") || strings.Contains(low, "preserved") && !strings.Contains(low, "unpreserved") && !strings.Contains(low, "not preserved")
}

// signOf reads a count below its limit as none found, which is what it says.
func signOf(a water.Amount) water.Sign {
	if a.Sign == water.Below && a.Analyte.Dimension() == water.OfCount {
		return water.Absent
	}
	return a.Sign
}

// nitrate takes the sum with nitrite where nitrate was not parted from it.
func (all readings) nitrate() {
	k, sum := part{water.Nitrate, water.Total}, part{water.NitrateNitrite, water.Total}
	if len(all[k]) == 0 && len(all[sum]) > 0 {
		all[k] = all[sum]
	}
}

// filtrates takes the metals of a filtered jar as dissolved metals read on site.
func (all readings) filtrates(jars []book.Jar) {
	for _, j := range jars {
		f, plain := plainFilter(j)
		if !plain || treated(j.Tap) {
			continue
		}
		o := observation{field: true, tap: j.Tap, sampled: j.On, report: -1}
		if j.Iron != nil {
			o.value = j.Iron.MgPerL()
			all[part{water.Iron, f}] = append(all[part{water.Iron, f}], o)
		}
		if k := (part{water.Manganese, water.Dissolved}); j.Manganese != nil {
			o.value = j.Manganese.MgPerL()
			all[k] = append(all[k], o)
		}
	}
}

// bicarbonate takes the alkalinity from its species where it was not printed.
func (all readings) bicarbonate(r water.Report, n int) {
	if _, printed := r.Find(water.Alkalinity, water.Unspecified); printed {
		return
	}
	if a, sign, ok := r.Alkalinity(); ok {
		k := part{water.Alkalinity, water.Total}
		all[k] = append(all[k], observation{value: a.MgPerLAsCaCO3(), sign: sign, field: r.Field, tap: r.Tap, bottle: r.Bottle, sampled: r.Sampled, report: n})
	}
}

// folded joins fractions that are treated alike; only metals are read by fraction.
func folded(a water.Analyte, f water.Fraction) water.Fraction {
	switch {
	case a != water.Iron && a != water.Manganese:
		return water.Total
	case f == water.Unspecified || f == water.Recoverable:
		return water.Total
	}
	return f
}

// atTap keeps the readings at T1 where there are any: an air-over-water tank
// changes water on its way from T0.
func (all readings) atTap() readings {
	for k, obs := range all {
		var near []observation
		for _, o := range obs {
			if o.tap != "T0" {
				near = append(near, o)
			}
		}
		if len(near) > 0 {
			all[k] = near
		}
	}
	return all
}

// of returns the results for a, from the field or from a laboratory.
func (all readings) of(a water.Analyte, f water.Fraction, field bool) []observation {
	var out []observation
	for _, o := range all[part{a, folded(a, f)}] {
		if o.field == field {
			out = append(out, o)
		}
	}
	return out
}

// one returns the typical figure for a from whatever source; not ok if nobody measured.
func (all readings) one(set source.Set, a water.Analyte) (float64, bool) {
	obs := all[part{a, water.Total}]
	if len(obs) == 0 {
		return 0, false
	}
	vs := figures(set, obs)
	sort.Float64s(vs)
	return vs[len(vs)/2], true
}

// span is what is known at least and at most of one figure.
type span struct{ low, high float64 }

// span returns the typical figure for a, or where nobody got above a limit what
// the limit leaves open; nil if nobody measured.
func (all readings) span(set source.Set, a water.Analyte) *span {
	var figs []observation
	open := span{0, math.Inf(1)}
	obs := all[part{a, water.Total}]
	for _, o := range obs {
		switch o.sign {
		case water.Below:
			open.high = math.Min(open.high, o.value)
		case water.Above:
			open.low = math.Max(open.low, o.value)
		default:
			figs = append(figs, o)
		}
	}
	switch {
	case len(obs) == 0:
		return nil
	case len(figs) == 0:
		return &open
	}
	vs := figures(set, figs)
	sort.Float64s(vs)
	mid := vs[len(vs)/2]
	return &span{mid, mid}
}

// figures puts a number in the place of each result.
func figures(set source.Set, obs []observation) []float64 {
	vs := make([]float64, len(obs))
	for i, o := range obs {
		vs[i] = figure(set, o)
	}
	return vs
}

func figure(set source.Set, o observation) float64 {
	switch o.sign {
	case water.Below:
		if o.none {
			return o.value * set.Of(noneShare)
		}
		return o.value * set.Of(belowShare)
	case water.Absent:
		return 0
	case water.Present:
		return 1 // some, at least
	}
	return o.value
}

// z05 is the standard normal deviate that 5 % lie beyond (tables of the normal
// distribution).
const z05 = 1.6449
