package cloud

import (
	"math"
	"sort"
	"time"

	"wellwright/book"
	"wellwright/source"
	"wellwright/unit"
)

// Dosed is a dose found in jars of raw water, with what the steps of the series
// and the kit leave open.
type Dosed struct {
	Low, Value, High unit.Concentration // as what was fed: Cl2, dry alum, FeCl3, KMnO4
	After            time.Duration      // the jars stood; 0: not said
	Open             bool               // the jar with most was the best: more may do better
	Left             *Leftover          // what that dose left of the iron; nil: not read
}

// Leftover is the iron that was read in the jar of a dose, with the error of the kit.
type Leftover struct {
	Low, Value, High unit.Concentration
	Strained         bool    // read behind a filter that holds the floc
	Ferrous          float64 // least share of the raw water's ferrous iron that is in it

	jar  book.Jar
	dose book.Dose
}

// Bound is what the dose left of the bound iron of a water, by how its reading leans:
// low, as read or high.
//
//	bound = read - l F,  from nothing to all there was
//
//	read  iron left in the jar;  F  ferrous iron of the raw water, mg/L
//	l     least share of it that air had left ferrous in the jar
//
// A coagulant takes no ferrous iron. Without a filter the floc still up counts as
// bound, which errs to the safe side. Source: mass balance, as [bench.of].
func (l *Leftover) Bound(read, ferrous, bound unit.Concentration) unit.Concentration {
	return unit.MgPerL(math.Max(0, math.Min(bound.MgPerL(), read.MgPerL()-l.Ferrous*ferrous.MgPerL())))
}

// leftovers finds how much of the ferrous iron is in what the coagulants left.
func (d *JarDoses) leftovers(w *bench) {
	if d == nil {
		return
	}
	for _, x := range []*Dosed{d.Alum, d.Ferric} {
		if x == nil || x.Left == nil {
			continue
		}
		if l, ok := w.ferrousLeft(x.Left.jar, x.Left.dose); ok {
			x.Left.Ferrous = math.Max(0, math.Min(1, l.mid-z05*l.sd))
		}
	}
}

// JarDoses are the doses found in jars; nil: not tested, or not found.
type JarDoses struct {
	Chlorine     *Dosed // used up beside a residual that lasts
	Alum, Ferric *Dosed // of least iron left
	Permanganate *Dosed // to first pink
}

// demand is the chlorine used up, if it was tested.
func (d *JarDoses) demand() *unit.Chlorine {
	if d == nil || d.Chlorine == nil {
		return nil
	}
	c := unit.MgPerLAsCl2(d.Chlorine.Value.MgPerL())
	return &c
}

// jarDoses reads the doses off the jars of raw water.
func jarDoses(set source.Set, jars []book.Jar) *JarDoses {
	var d JarDoses
	for _, s := range seriesOf(jars) {
		switch s.test {
		case book.ChlorineDemand:
			if c := s.chlorine(set); c != nil && (d.Chlorine == nil || c.After >= d.Chlorine.After) {
				d.Chlorine = c
			}
		case book.Alum:
			d.Alum = later(s.leastLeft(set), d.Alum)
		case book.Ferric:
			d.Ferric = later(s.leastLeft(set), d.Ferric)
		case book.Permanganate:
			d.Permanganate = later(s.firstPink(set), d.Permanganate)
		}
	}
	if d == (JarDoses{}) {
		return nil
	}
	return &d
}

func later(now, before *Dosed) *Dosed {
	if now == nil {
		return before
	}
	return now
}

// series is jars of one kind, of one day and time, by rising dose.
type series struct {
	test   book.Test
	on     time.Time
	after  time.Duration
	demand *unit.Chlorine // as written
	jars   []book.Dose
	first  book.Jar
}

// seriesOf gathers the jars that differ in their dose alone, in the order of their
// days.
func seriesOf(jars []book.Jar) []series {
	var all []series
	for _, j := range jars {
		if treated(j.Tap) {
			continue
		}
		if j.Test == book.Chlorinated {
			j.Test = book.ChlorineDemand
		}
		i := 0
		for i < len(all) && (all[i].test != j.Test || !sameDay(all[i].on, j.On) || all[i].after != j.After) {
			i++
		}
		if i == len(all) {
			all = append(all, series{test: j.Test, on: j.On, after: j.After, first: j})
		}
		if j.Demand != nil {
			all[i].demand = j.Demand
		}
		all[i].jars = append(all[i].jars, j.Series()...)
	}
	for _, s := range all {
		sort.SliceStable(s.jars, func(i, k int) bool { return s.jars[i].Added.MgPerL() < s.jars[k].Added.MgPerL() })
	}
	sort.SliceStable(all, func(i, k int) bool { return all[i].on.Before(all[k].on) })
	return all
}

func sameDay(a, b time.Time) bool { return a.Format(time.DateOnly) == b.Format(time.DateOnly) }

func (s *series) dosed(low, value, high float64) *Dosed {
	return &Dosed{Low: unit.MgPerL(math.Min(low, value)), Value: unit.MgPerL(value), High: unit.MgPerL(math.Max(high, value)), After: s.after}
}

// chlorine is the chlorine used up in the first jar, by dose, from which on a
// residual lasts, brought back to a residual that just does.
//
//	demand = dose - residual;  it never falls as the dose rises
//
// Two lasting jars give the slope on which to go back; one alone is taken as it
// stands. The low end is what the last jar without a residual took up. A demand
// that was written down goes before the series.
// Source: the definition of demand, Standard Methods 2350 (from memory).
func (s *series) chlorine(set source.Set) *Dosed {
	if s.demand != nil {
		v, e := s.demand.MgPerLAsCl2(), set.Of(jarDemandError)
		return s.dosed(v*(1-e), v, v*(1+e))
	}
	var read []book.Dose
	for _, d := range s.jars {
		if d.Free != nil && d.Added.MgPerL() > 0 {
			read = append(read, d)
		}
	}
	lasting := set.Of(jarLasting)
	first := len(read)
	for first > 0 && read[first-1].Free.MgPerLAsCl2() >= lasting {
		first--
	}
	if first == len(read) {
		return nil // no residual lasts, at least not with most
	}
	used, left := usedUp(read[first]), read[first].Free.MgPerLAsCl2()
	low, value, kit := 0.0, used, set.Of(errKit)*left
	if first > 0 {
		low = math.Min(used, usedUp(read[first-1]))
	}
	if first+1 < len(read) {
		if more := read[first+1].Free.MgPerLAsCl2() - left; more > 0 {
			value -= math.Max(0, usedUp(read[first+1])-used) / more * (left - lasting)
		}
	}
	value = math.Max(value, low)
	return s.dosed(math.Max(low, value-kit), value, used+kit)
}

func usedUp(d book.Dose) float64 { return math.Max(0, d.Added.MgPerL()-d.Free.MgPerLAsCl2()) }

// leastLeft is the least dose whose iron cannot be told from the least that any jar
// left; the steps beside it bound it.
func (s *series) leastLeft(set source.Set) *Dosed {
	var read []book.Dose
	least := math.Inf(1)
	for _, d := range s.jars {
		if d.Iron != nil {
			read = append(read, d)
			least = math.Min(least, d.Iron.MgPerL())
		}
	}
	if len(read) < 2 {
		return nil // one jar tells no best dose
	}
	same := math.Max(set.Of(leastRead), least*(1+2*set.Of(errFerrousKit)))
	i := 0
	for read[i].Iron.MgPerL() > same {
		i++
	}
	if read[i].Added.MgPerL() == 0 {
		return nil // it does as well without
	}
	at := func(k int) float64 { return read[max(0, min(k, len(read)-1))].Added.MgPerL() }
	d := s.dosed(at(i-1), at(i), at(i+1))
	d.Open = i == len(read)-1
	d.Left = s.leftover(set, read[i])
	return d
}

// leftover is the iron read in one jar with the error of the kit.
func (s *series) leftover(set source.Set, d book.Dose) *Leftover {
	v := d.Iron.MgPerL()
	e := z05 * math.Hypot(set.Of(errFerrousKit)*v, set.Of(ironFloor))
	return &Leftover{Low: unit.MgPerL(math.Max(0, v-e)), Value: unit.MgPerL(v), High: unit.MgPerL(v + e), Strained: poresOf(s.first) != unfiltered, jar: s.first, dose: d}
}

// firstPink is between the last dose that lost its pink and the first that kept it.
// One jar alone was dosed drop by drop until it did.
func (s *series) firstPink(set source.Set) *Dosed {
	for i, d := range s.jars {
		v := d.Added.MgPerL()
		switch {
		case d.Saw != book.PinkStays || v <= 0:
			continue
		case i == 0:
			return s.dosed(v*(1-set.Of(jarDemandError)), v, v)
		}
		last := s.jars[i-1].Added.MgPerL()
		return s.dosed(last, (last+v)/2, v)
	}
	return nil
}

var jarDemandError = source.Factor{Name: "cloud_jar_demand_error", What: "error of a chlorine demand or a first pink written down from one jar",
	Value: 0.1, Low: 0.05, High: 0.2, Kind: source.Judgement, From: "kit read to 0.1 mg/L after dilution"}
