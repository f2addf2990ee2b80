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
	for _, r := range e.Reports {
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
			all[k] = append(all[k], observation{v, signOf(a), r.Field, r.Tap, r.Bottle, r.Sampled, saysNone(res.Note), saysSlug(res.Note)})
		}
		all.bicarbonate(r)
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

// filtrates takes the iron of a filtered jar as dissolved iron read on site.
func (all readings) filtrates(jars []book.Jar) {
	for _, j := range jars {
		if j.Test != book.Filtration || j.Iron == nil || j.Filter == nil {
			continue
		}
		f := water.Fine
		if j.Filter.MM()*1000 > 0.3 {
			f = water.Dissolved
		}
		k := part{water.Iron, f}
		all[k] = append(all[k], observation{value: j.Iron.MgPerL(), field: true, tap: j.Tap, sampled: j.On})
	}
}

// bicarbonate takes the alkalinity from its species where it was not printed.
func (all readings) bicarbonate(r water.Report) {
	if _, printed := r.Find(water.Alkalinity, water.Unspecified); printed {
		return
	}
	if a, sign, ok := r.Alkalinity(); ok {
		k := part{water.Alkalinity, water.Total}
		all[k] = append(all[k], observation{value: a.MgPerLAsCaCO3(), sign: sign, field: r.Field, tap: r.Tap, bottle: r.Bottle, sampled: r.Sampled})
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

// said writes the figure, or the limit with its sign.
func (s *span) said() string {
	switch {
	case s == nil:
		return "not measured"
	case s.low == s.high:
		return mgL(s.low)
	case math.IsInf(s.high, 1):
		return ">" + mgL(s.low)
	}
	return "<" + mgL(s.high)
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

// spoilt are the properties that change in a bottle: a reading on site stands
// before any laboratory's.
func spoilt(p property) bool {
	switch p {
	case temperature, ph, alkalinity, oxygen, sulfide:
		return true
	}
	return false
}

// belief is what is held of one property: its middle, its 5 and 95 % values
// over error and season, and the error alone.
type belief struct {
	Range
	sd      float64 // error of measurement alone, one standard deviation
	assumed bool
	bound   bool   // only a limit is known, not a figure
	draws   *Range // what draws are made of where another sense is finer than the test; nil: the range itself
	split   bool   // worked out from another measured figure
	kind    source.Kind
	from    string
}

// z05 is the standard normal deviate that 5 % lie beyond (tables of the normal
// distribution).
const z05 = 1.6449

// believe makes a belief of one property from its readings.
func (all readings) believe(set source.Set, p property) belief {
	switch p {
	case manganese:
		return all.believeIn(set, p, water.Dissolved)
	case manganeseOx:
		return assumption(set, traits[p].prior)
	}
	return all.believeIn(set, p, water.Total)
}

// believeIn is believe for one fraction.
func (all readings) believeIn(set source.Set, p property, f water.Fraction) belief {
	t := traits[p]
	field, lab := all.of(t.analyte, f, true), all.of(t.analyte, f, false)
	if spoilt(p) && len(field) > 0 {
		lab = nil
	}
	if len(field)+len(lab) == 0 {
		return assumption(set, t.prior)
	}
	sum := pooled{absolute: t.absolute}
	for _, o := range field {
		sum.add(set, o, set.Of(t.field))
	}
	for _, o := range lab {
		sum.add(set, o, set.Of(t.lab))
	}
	return sum.belief(set.Of(t.season))
}

func assumption(set source.Set, f source.Factor) belief {
	low, mid, high := set.Range(f)
	f = set.In(f)
	return belief{Range: Range{low, mid, high}, sd: (high - low) / (2 * z05), assumed: true, kind: f.Kind, from: f.From}
}

// pooled is the mean of readings weighted by their errors, in the logarithm
// unless the errors are absolute.
//
//	mean = Σ x/s² / Σ 1/s²,  s of the mean = 1/√(Σ 1/s²)
//
// Source: definition of the weighted mean.
type pooled struct {
	absolute bool
	weight   float64
	mean     float64
	open     *Range // what only a limit is known of, where there is no figure
	zero     bool
}

func (p *pooled) add(set source.Set, o observation, err float64) {
	v := figure(set, o)
	if o.sign == water.Below || o.sign == water.Above {
		p.limit(o, v)
		return
	}
	if v <= 0 && !p.absolute {
		p.zero = true
		return
	}
	w := 1 / math.Max(err*err, 1e-6)
	if !p.absolute {
		v = math.Log(v)
	}
	p.mean = (p.mean*p.weight + v*w) / (p.weight + w)
	p.weight += w
}

// limit keeps the span of a result that is only a limit: from nothing to it, or
// from it to twice it. Of several the narrowest holds.
func (p *pooled) limit(o observation, v float64) {
	r := Range{0, v, o.value}
	if o.sign == water.Above {
		r = Range{v, v, 2 * v}
	}
	if p.open == nil || r.P95-r.P05 < p.open.P95-p.open.P05 {
		p.open = &r
	}
}

func (p *pooled) belief(season float64) belief {
	if p.weight == 0 {
		return p.unread()
	}
	err := 1 / math.Sqrt(p.weight)
	spread := z05 * math.Hypot(err, season)
	if p.absolute {
		return belief{Range: Range{p.mean - spread, p.mean, p.mean + spread}, sd: err}
	}
	mid := math.Exp(p.mean)
	return belief{Range: Range{mid * math.Exp(-spread), mid, mid * math.Exp(spread)}, sd: mid * err}
}

// unread is the belief where no figure above nothing was read.
func (p *pooled) unread() belief {
	if p.open == nil {
		return belief{}
	}
	r := *p.open
	if p.zero {
		r.P50 = r.P05
	}
	return belief{Range: r, sd: (r.P95 - r.P05) / (2 * z05), bound: true}
}
