package cloud

import (
	"fmt"
	"time"

	"wellwright/book"
	"wellwright/cloud/internal/posterior"
	"wellwright/source"
	"wellwright/water"
)

// leastSettling is how long rust needs to fall out of a jar that is not filtered.
// Kind: common practice, particles settle within the hour.
const leastSettling = time.Hour

// plainFilter reports whether a jar is raw water through a filter that holds all
// rust, and which fraction of iron that is.
func plainFilter(j book.Jar) (water.Fraction, bool) {
	if j.Test != book.Filtration {
		return water.Unspecified, false
	}
	switch poresOf(j) {
	case usual:
		return water.Dissolved, true
	case fine:
		return water.Fine, true
	}
	return water.Unspecified, false
}

// jarReplaces takes off the scales what a jar's figure tells: colour or haze that
// stays, where little ferrous iron is left in what passed the filter; and all that
// is seen at the tap where what passes before any treatment is known too.
func (b *balance) jarReplaces(j book.Jar, l leaves) {
	if p := poresOf(j); p != usual && p != fine || l.ferrous.mid > 0.5 {
		return
	}
	b.jarsTell = true
	b.scales.dropToward("at the tap", organicIron.String())
	if len(b.all[part{water.Iron, water.Dissolved}]) > 0 {
		b.scales.drop("at the tap")
	}
}

// dropToward takes the findings of a group off the scales that speak to one
// hypothesis.
func (s *scales) dropToward(group, toward string) {
	kept := s.list[:0]
	for _, f := range s.list {
		if f.group != group || f.clue.Toward != toward {
			kept = append(kept, f)
		}
	}
	s.list = kept
}

// lookTells reports whether the look of a jar says what the table of looks has it
// say: of a jar that was dosed, or whose figure says the same, it does not.
func lookTells(j book.Jar) bool {
	switch j.Test {
	case book.Alum, book.Ferric, book.Permanganate:
		return false
	case book.Chlorinated, book.ChlorineDemand:
		return j.Saw == book.TurnsOrange
	}
	if j.Iron == nil {
		return true
	}
	switch j.Saw {
	case book.StaysClear, book.HazeStays, book.RustStaysUp, book.YellowStays:
		return poresOf(j) == unfiltered
	}
	return true
}

// jars lists what may be wrong with the jars: a jar has no quality control.
func (h *suspicion) jars() {
	wide, n := h.set.Of(otherSpread), 0
	for i := range h.of {
		m := h.of[i]
		if m.Tag != posterior.JarRead || n == mostJarFaults {
			continue
		}
		n++
		h.add("jar", "a jar was dosed, stood or read otherwise than written", h.set.Of(faultJar), func(x *posterior.Measure) bool {
			if x.Tag != m.Tag || x.Value != m.Value || len(x.Terms) != len(m.Terms) || x.Terms[0] != m.Terms[0] {
				return false
			}
			x.SD += wide
			return true
		})
	}
}

// mostJarFaults is how many jars are doubted one by one: each costs time.
const mostJarFaults = 4

// jarGroups are the jars among the figures that bear on the forms.
func (b *balance) jarGroups() []figureGroup {
	var gs []figureGroup
	for i := range b.question.Measures {
		m := b.question.Measures[i]
		if m.Tag != posterior.JarRead {
			continue
		}
		name := b.jarNames[len(gs)] // one for each, in their order
		mark := mgL(m.Value)
		if m.Sign == posterior.Below {
			mark = "<" + mark
		}
		gs = append(gs, figureGroup{name + " " + mark, func(x *posterior.Measure) bool {
			return x.Tag == m.Tag && x.Value == m.Value && x.Terms[0] == m.Terms[0]
		}})
	}
	return gs
}

// jarName says what was done to a jar whose iron is told.
func jarName(j book.Jar) string {
	with := map[book.Test]string{book.Settling: "standing", book.Aeration: "air", book.Chlorinated: "chlorine", book.ChlorineDemand: "chlorine",
		book.Bleach: "chlorine", book.Alum: "alum", book.Ferric: "ferric salt", book.Permanganate: "permanganate"}
	if j.Test == book.Filtration {
		return fmt.Sprintf("iron through %s µm", trim(j.Filter.MM()*1000))
	}
	name := "iron left by " + with[j.Test]
	if poresOf(j) == unfiltered {
		return name + " and settling"
	}
	return fmt.Sprintf("%s and a filter of %s µm", name, trim(j.Filter.MM()*1000))
}

// What jars leave of each form of iron, 5th and 95th percentile as the ends.
var (
	jarLasting = source.Factor{Name: "cloud_jar_lasting", What: "free chlorine that counts as a residual that lasts", Unit: "mg/L as Cl2",
		Value: 0.2, Low: 0.1, High: 0.5, Kind: source.CommonPractice, From: "two steps of a comparator"}
	jarSpent = source.Factor{Name: "cloud_jar_spent", What: "share of ferrous iron left in a jar whose oxidant was used up or not read",
		Value: 0.25, Low: 0, High: 0.8, Kind: source.Judgement, From: "the oxidant meets sulfide, organic matter and iron together"}
	jarStillAir = source.Factor{Name: "cloud_jar_still_air", What: "share of ferrous iron that meets air in an open jar that was not shaken",
		Value: 0.8, Low: 0.4, High: 1, Kind: source.Judgement, From: "air goes down into a jar within hours"}
	jarSlips = source.Factor{Name: "cloud_jar_slips", What: "share of newly made rust that passes 0.45 µm",
		Value: 0.01, Low: 0, High: 0.05, Kind: source.Judgement, From: "fine floc of cold or silica-rich water; the filter is rinsed first"}
	jarCoarse = source.Factor{Name: "cloud_jar_coarse", What: "share of rust that passes a filter coarser than a micrometre",
		Value: 0.3, Low: 0, High: 0.8, Kind: source.Judgement, From: "rust of wells is of every size"}
	jarStaysUp = source.Factor{Name: "cloud_jar_stays_up", What: "share of rust that has not settled in an hour and more",
		Value: 0.2, Low: 0, High: 0.6, Kind: source.Judgement, From: "coarse rust settles within the hour, new floc within the day"}
	jarBoundChlorine = source.Factor{Name: "cloud_jar_bound_chlorine", What: "share of bound iron that chlorine leaves bound in a jar",
		Value: 0.7, Low: 0.3, High: 1, Kind: source.Judgement,
		From: "iron on large organic molecules withstands each oxidant, on small ones not: Removal of complexed iron, thesis, Virginia Tech 1992 (abstract); figures are judgement"}
	jarBoundPermanganate = source.Factor{Name: "cloud_jar_bound_permanganate", What: "share of bound iron that permanganate leaves bound in a jar",
		Value: 0.6, Low: 0.2, High: 0.95, Kind: source.Judgement, From: "as chlorine; permanganate was the most effective of three oxidants there; figures are judgement"}
	jarBoundCoagulant = source.Factor{Name: "cloud_jar_bound_coagulant", What: "share of bound iron that the best dose of alum or ferric salt leaves in a jar",
		Value: 0.2, Low: 0.03, High: 0.5, Kind: source.Judgement,
		From: "12 and 33 % left by two aluminium coagulants in ground water with organic iron: Krupinska, Molecules 26:1367 (2021); range is judgement"}
	jarAcid = source.Factor{Name: "cloud_jar_acid", What: "fall of pH by a coagulant where nobody read it", Unit: "pH",
		Value: 0.4, Low: 0.1, High: 0.9, Kind: source.Judgement, From: "alum uses half its weight of alkalinity"}
	jarGasLost = source.Factor{Name: "cloud_jar_gas_lost", What: "share of its way to the pH of open air that an aerated jar has gone",
		Value: 0.35, Low: 0.05, High: 0.75, Kind: source.Judgement, From: "carbon dioxide leaves a shaken jar in minutes, a still one in days"}
	jarRoom = source.Factor{Name: "cloud_jar_room", What: "temperature of a jar that stood for an hour and more", Unit: "°C",
		Value: 19, Low: 14, High: 24, Kind: source.CommonPractice, From: "a kitchen or a basement"}
	jarConductivity = source.Factor{Name: "cloud_jar_conductivity", What: "conductivity of a well water where nobody read it", Unit: "µS/cm",
		Value: 500, Low: 150, High: 1200, Kind: source.CommonPractice, From: "ordinary household wells"}
	jarManganesePasses = source.Factor{Name: "cloud_jar_manganese", What: "share of dissolved manganese that passes a filter after a day of air",
		Value: 0.95, Low: 0.75, High: 1, Kind: source.Judgement, From: "air alone leaves it below pH 9; new floc takes some along"}
	faultJar = faultFactor("jar", "a jar was dosed, stood or read otherwise than written", 0.05)
)

func jarFactors() []source.Factor {
	return []source.Factor{jarLasting, jarSpent, jarStillAir, jarSlips, jarCoarse, jarStaysUp, jarBoundChlorine, jarBoundPermanganate, jarBoundCoagulant,
		jarAcid, jarGasLost, jarRoom, jarConductivity, jarManganesePasses, jarDemandError, faultJar}
}
