package cloud

import (
	"fmt"
	"math"

	"wellwright/book"
	"wellwright/chem"
	"wellwright/cloud/internal/posterior"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// share is a part of something, known to a standard deviation.
type share struct{ mid, sd float64 }

func (a share) rest() share { return share{1 - a.mid, a.sd} }

func (a share) plus(b share) share { return share{a.mid + b.mid, math.Hypot(a.sd, b.sd)} }

// times is the product of two shares that do not hang together.
//
//	sd² = (a sd_b)² + (b sd_a)² + (sd_a sd_b)²
func (a share) times(b share) share {
	return share{a.mid * b.mid, math.Sqrt(square(a.mid*b.sd) + square(b.mid*a.sd) + square(a.sd*b.sd))}
}

func square(v float64) float64 { return v * v }

var (
	whole   = share{mid: 1}
	nothing = share{}
)

// pores is what a filter tells apart.
type pores int

const (
	unfiltered pores = iota // read above what has settled
	coarse                  // holds rust alone, and not all of it
	usual                   // 0.45 µm
	fine                    // 0.1 to 0.2 µm
)

// poresOf parts the filters: what is coarser than a micrometre lets some of the
// rust by, and what is finer than 0.3 holds colloids.
func poresOf(j book.Jar) pores {
	if j.Filter == nil || j.Filter.MM() <= 0 {
		return unfiltered
	}
	switch um := j.Filter.MM() * 1000; {
	case um > 1:
		return coarse
	case um > 0.3:
		return usual
	}
	return fine
}

// leaves is what each form of the raw water's iron leaves to be read of a jar.
type leaves struct{ ferrous, particulate, bound share }

// bench reads jars of one raw water.
type bench struct {
	set   source.Set
	model *chem.Model
	raw   rawJar
}

// of is what the forms leave of one jar; not ok where nobody said how long it
// stood and that matters.
//
//	read = F (l + (1-l) s) + P s + B (k c + (1-k) s)
//
//	F, P, B  ferrous, particulate and bound iron of the raw water, mg/L
//	l        share of ferrous iron that stays so
//	k        share of bound iron that stays bound
//	s        share of rust that passes the filter, or stays up
//	c        share of bound iron that passes the filter
//
// Source: mass balance of the iron; each share in its factor.
func (b *bench) of(j book.Jar, d book.Dose) (leaves, bool) {
	l, ok := b.ferrousLeft(j, d)
	if !ok {
		return leaves{}, false
	}
	k, s, c := b.boundLeft(j.Test), b.rustPasses(j), whole
	raw := s
	switch poresOf(j) {
	case fine:
		c = b.share(finePasses)
		raw = nothing
	case usual:
		raw = nothing // particulate iron is what 0.45 µm holds
	}
	return leaves{l.plus(l.rest().times(s)), raw, k.times(c).plus(k.rest().times(s))}, true
}

// share reads a factor whose ends are the 5th and 95th percentile.
func (b *bench) share(f source.Factor) share {
	low, mid, high := b.set.Range(f)
	return share{mid, (high - low) / (2 * z05)}
}

// ferrousLeft is the share of the ferrous iron that a jar leaves ferrous.
func (b *bench) ferrousLeft(j book.Jar, d book.Dose) (share, bool) {
	switch j.Test {
	case book.Chlorinated, book.ChlorineDemand, book.Bleach:
		if d.Free != nil && d.Free.MgPerLAsCl2() >= b.set.Of(jarLasting) {
			return nothing, true
		}
		return b.share(jarSpent), true
	case book.Permanganate:
		if d.Saw == book.PinkStays {
			return nothing, true
		}
		return b.share(jarSpent), true
	case book.Filtration:
		return whole, true
	case book.Settling:
		if j.Sealed != nil && *j.Sealed {
			return whole, true
		}
		met, aired := b.share(jarStillAir), b.aired(j, d)
		return met.times(aired.rest()).rest(), j.After > 0
	}
	return b.aired(j, d), j.After > 0
}

// boundLeft is the share of the bound iron that a treatment leaves bound.
func (b *bench) boundLeft(t book.Test) share {
	switch t {
	case book.Chlorinated, book.ChlorineDemand, book.Bleach:
		return b.share(jarBoundChlorine)
	case book.Permanganate:
		return b.share(jarBoundPermanganate)
	case book.Alum, book.Ferric:
		return b.share(jarBoundCoagulant)
	}
	return whole
}

// rustPasses is the share of rust that is read with the water.
func (b *bench) rustPasses(j book.Jar) share {
	switch poresOf(j) {
	case unfiltered:
		return b.share(jarStaysUp)
	case coarse:
		return b.share(jarCoarse)
	case usual:
		return b.share(jarSlips)
	}
	return nothing
}

// aired is the share of ferrous iron that air leaves ferrous in the time that a
// jar stood, by the published rate laws.
//
//	l = Σ w exp(-ln 2 · t / t½(law, pH, T)),  sd likewise
//
//	w  0.185, 0.63, 0.185 for each of the slow, middle and fast law, and of low,
//	   middle and high pH and temperature
//
// Oxygen is that of water in balance with air. What floc adds to the rate and
// organic matter takes from it is left out. Range: pH 5.5 to 8.5, at whose ends it
// is held. Source: laws as in [chem.Law]; the weights, Keefer and Bodily 1983.
func (b *bench) aired(j book.Jar, d book.Dose) share {
	ph, warmth := b.phIn(j, d), b.warmthIn(j)
	mean, sq := 0.0, 0.0
	for i, law := range []chem.Law{chem.FastLaw, chem.MiddleLaw, chem.SlowLaw} {
		for k := range ends {
			for n := range ends {
				l := b.leftAfter(j.After.Minutes(), law, ph.at(k), warmth.at(n))
				w := weightOf(i) * weightOf(k) * weightOf(n)
				mean, sq = mean+w*l, sq+w*l*l
			}
		}
	}
	return share{mean, math.Sqrt(math.Max(0, sq-mean*mean))}
}

const ends = 3 // low, middle, high

func (a share) at(end int) float64 { return a.mid + float64(end-1)*z05*a.sd }

func weightOf(end int) float64 {
	if end == 1 {
		return 1 - 2*sharesEnds
	}
	return sharesEnds
}

// leftAfter is the share left after some minutes by one law.
func (b *bench) leftAfter(minutes float64, law chem.Law, ph, celsius float64) float64 {
	t := unit.Celsius(math.Max(0, math.Min(40, celsius)))
	c := chem.Conditions{Temperature: t, Ionic: b.raw.ionic, Law: law}
	half, ok := b.model.IronHalfLife(c, unit.PHOf(math.Max(5.5, math.Min(8.5, ph))), chem.OxygenSaturation(t, seaLevel), chem.Surface{})
	if !ok {
		return 1
	}
	return math.Exp(-math.Ln2 * minutes / half.Minutes())
}

var seaLevel = unit.KPa(101.325)

// phIn is the pH a jar stood at. One that was not read lies between the raw
// water's and that of open air, for what carbon dioxide it lost; a coagulant takes
// some of it back.
func (b *bench) phIn(j book.Jar, d book.Dose) share {
	raw := b.raw.ph
	if d.PH != nil {
		v := d.PH.Value()
		return share{v, math.Hypot(b.set.Of(errFieldPH), (v-raw.mid)/4)} // it came there on its way
	}
	if j.Test == book.Alum || j.Test == book.Ferric {
		fall := b.share(jarAcid)
		return share{raw.mid - fall.mid, math.Hypot(raw.sd, fall.sd)}
	}
	far, way := math.Max(0, posterior.OpenPH(b.raw.alkalinity)-raw.mid), b.share(jarGasLost)
	return share{raw.mid + way.mid*far, math.Hypot(raw.sd, way.sd*far)}
}

// warmthIn is the temperature a jar stood at: what was read, or the room's where
// it stood for an hour and more.
func (b *bench) warmthIn(j book.Jar) share {
	switch {
	case j.Temperature != nil:
		return share{j.Temperature.Celsius(), 1}
	case j.After.Hours() >= 1:
		return b.share(jarRoom)
	}
	return b.raw.warmth
}

// rawJar is what the raw water is taken for when it goes into the jar.
type rawJar struct {
	ph, warmth share // pH, °C
	alkalinity float64
	ionic      chem.IonicStrength
}

// rawJarOf takes the raw water as it was read on site, failing that as the bottle
// has it, failing that as the wells of the prior.
func (b *balance) rawJarOf() rawJar {
	r := rawJar{ph: b.priorShare(posterior.PH), warmth: b.priorShare(posterior.Temperature), alkalinity: math.Exp(b.priorShare(posterior.Alkalinity).mid)}
	if v, ok := b.all.one(b.set, water.Alkalinity); ok {
		r.alkalinity = v
	}
	if v, ok := b.all.one(b.set, water.Temperature); ok {
		r.warmth = share{v, b.set.Of(errTemperature)}
	}
	site, bottle := b.all.of(water.PH, water.Total, true), b.all.of(water.PH, water.Total, false)
	switch {
	case len(site) > 0:
		r.ph = share{median(figures(b.set, site)), math.Hypot(b.set.Of(errFieldPH), b.set.Of(seasonPH))}
	case len(bottle) > 0: // back along its way to the pH of open air
		low, way, high := b.set.Range(phLag)
		v, open := median(figures(b.set, bottle)), posterior.OpenPH(r.alkalinity)
		back := math.Max(0, open-v) / (1 - way)
		r.ph = share{v - way*back, math.Hypot(b.set.Of(errLabPH), (high-low)/(2*z05)*back)}
	}
	us := b.set.Of(jarConductivity)
	if v, ok := b.all.one(b.set, water.Conductivity); ok {
		us = v
	}
	r.ionic = chem.IonicFromConductivity(unit.USPerCm(us))
	return r
}

// priorShare is the mean and spread of a coordinate over the classes of redox, as
// often as a specialist is called to each.
func (b *balance) priorShare(q posterior.Quantity) share {
	sum, mean, sq := 0.0, 0.0, 0.0
	for _, c := range b.prior.Prior.Classes {
		sum += c.Called
		mean += c.Called * c.Mean[q]
		sq += c.Called * (square(c.Mean[q]) + square(c.SD[q]))
	}
	mean /= sum
	return share{mean, math.Sqrt(math.Max(0, sq/sum-mean*mean))}
}

// jarred puts down what treated jars of raw water left of iron and manganese.
func (b *balance) jarred(m *measures) {
	w := &bench{set: b.set, model: b.model, raw: b.rawJarOf()}
	b.supply.jars.leftovers(w)
	for _, set := range jarSets(b.evidence.Jars) {
		b.jarSet(w, m, set)
	}
}

// jarKey is what jars must share to tell the same thing twice.
type jarKey struct {
	test  book.Test
	pores pores
}

// jarSets gathers the jars of raw water with a figure of metal by what they tell.
func jarSets(jars []book.Jar) [][]book.Jar {
	at := map[jarKey]int{}
	var sets [][]book.Jar
	for _, j := range jars {
		if treated(j.Tap) || !metalRead(j) {
			continue
		}
		k := jarKey{j.Test, poresOf(j)}
		i, there := at[k]
		if !there {
			i = len(sets)
			at[k] = i
			sets = append(sets, nil)
		}
		sets[i] = append(sets[i], j)
	}
	return sets
}

// metalRead reports whether a jar has a figure that enters here. What a fine
// filter lets by of untreated water is read beside the reports; a filter of pores
// that nobody wrote down tells nothing.
func metalRead(j book.Jar) bool {
	if _, plain := plainFilter(j); plain || j.Test == book.Filtration && poresOf(j) == unfiltered {
		return false
	}
	for _, d := range j.Series() {
		if d.Iron != nil || d.Manganese != nil {
			return true
		}
	}
	return false
}

// jarSet puts down the best jar of each series. Jars of one kind share what is not
// known of their shares, so that repeats do not average it away.
func (b *balance) jarSet(w *bench, m *measures, set []book.Jar) {
	n := math.Sqrt(float64(len(set)))
	for _, j := range set {
		d := leastIron(j)
		j = asFed(j, d)
		l, ok := w.of(j, d)
		if !ok {
			b.checks = append(b.checks, water.Finding{ID: "jar_time", Verdict: water.Notice, Analyte: water.Iron, Kind: source.Derived,
				Say: fmt.Sprintf("the iron of a jar (%s) tells nothing: nobody wrote how long it stood", j.Test), Ask: "how long the jar stood, under after"})
			continue
		}
		if d.Iron != nil && (poresOf(j) != unfiltered || j.After >= leastSettling) {
			m.jarIron(j, d, l.spread(n), n)
			b.jarNames = append(b.jarNames, jarName(j))
			b.jarReplaces(j, l)
		}
		if d.Manganese != nil {
			m.jarManganese(j, d)
		}
	}
}

// leastIron is the jar of a series with least iron left: others had too little fed,
// or too much.
func leastIron(j book.Jar) book.Dose {
	s := j.Series()
	best := s[0]
	for _, d := range s[1:] {
		if d.Iron != nil && (best.Iron == nil || d.Iron.MgPerL() < best.Iron.MgPerL()) {
			best = d
		}
	}
	return best
}

// asFed calls the jar of a series that got nothing by its name: aerated.
func asFed(j book.Jar, d book.Dose) book.Jar {
	if len(j.Doses) > 0 && d.Added.MgPerL() == 0 {
		j.Test = book.Aeration
	}
	return j
}

// spread widens the shares n-fold.
func (l leaves) spread(n float64) leaves {
	for _, s := range []*share{&l.ferrous, &l.particulate, &l.bound} {
		s.sd *= n
	}
	return l
}

// jarIron puts down the iron that a jar left.
func (m *measures) jarIron(j book.Jar, d book.Dose, l leaves, n float64) {
	x := posterior.Measure{Tag: posterior.JarRead, Visit: m.visitAt(j)}
	for _, t := range []posterior.Term{{Of: posterior.Ferrous, Times: l.ferrous.mid, Spread: l.ferrous.sd},
		{Of: posterior.Particulate, Times: l.particulate.mid, Spread: l.particulate.sd}, {Of: posterior.Bound, Times: l.bound.mid, Spread: l.bound.sd}} {
		if t.Times > 0 {
			x.Terms = append(x.Terms, t)
		}
	}
	floor, season := m.set.Of(ironFloor), 0.0
	if j.Test == book.Ferric {
		floor = math.Hypot(floor, m.set.Of(jarSlips)*ironInFerric*d.Added.MgPerL())
	}
	if x.Visit < 0 {
		season = m.set.Of(seasonIron)
	}
	m.add(observation{value: d.Iron.MgPerL(), field: true, report: -1}, x, m.set.Of(errFerrousKit)*n, floor*n, season)
}

// ironInFerric is the iron in a milligram of FeCl3: atomic weights, 55.845 in 162.20.
const ironInFerric = 55.845 / 162.20

// visitAt is the visit on whose iron a jar was filled; -1: on another day.
func (m *measures) visitAt(j book.Jar) int {
	v := m.visit(observation{sampled: j.On})
	if v >= 0 && j.On.Sub(m.visits[v]) > sameVisit {
		return -1
	}
	return v
}

// jarManganese puts down the manganese that passes a filter after air, which does
// nothing to it in a day at the pH of wells; rust takes a little along.
func (m *measures) jarManganese(j book.Jar, d book.Dose) {
	if p := poresOf(j); p != usual && p != fine || j.Test != book.Aeration && j.Test != book.Settling {
		return
	}
	low, mid, high := m.set.Range(jarManganesePasses)
	x := posterior.Measure{Visit: -1, Tag: posterior.ManganeseRead, Terms: []posterior.Term{{Of: posterior.Manganese, Times: mid, Spread: (high - low) / (2 * z05)}}}
	m.add(observation{value: d.Manganese.MgPerL(), field: true, report: -1}, x, m.set.Of(errKit), m.set.Of(floors[manganese]), m.set.Of(seasonManganese))
}
