package hydraulic

import (
	"wellwright/source"
	"wellwright/unit"
)

// EndUse is what water is drawn for in a house.
type EndUse int

// The end uses. Regeneration and backwash are not among them: a Wash is put in
// by whoever plans it.
const (
	Toilet EndUse = iota
	Shower
	Bath
	ClothesWasher
	Dishwasher
	Faucet
	OtherUse
	Leak
	Wash
)

// String names the end use.
func (e EndUse) String() string {
	return [...]string{"toilet", "shower", "bath", "clothes washer", "dishwasher", "faucet", "other", "leak", "wash"}[e]
}

// The study that the end uses come from: its daily gallons were read in tables
// that quote it, its volumes for each event are remembered.
const (
	endUseStudy    = "DeOreo and others, 2016, Residential End Uses of Water, version 2, as quoted in household-use tables"
	endUseEvents   = "DeOreo and others, 2016, Residential End Uses of Water, version 2 (from memory)"
	endUsePractice = "rule of the trade, to be replaced by a meter's record"
)

// StudyPeople is how many people lived in the mean house of the study.
var StudyPeople = source.Factor{Name: "enduse_study_people", What: "people in the mean house of the end-use study",
	Unit: "people", Value: 2.36, Low: 2.2, High: 2.7, Kind: source.FromMemory,
	From: "138 gal/day a house over 58.6 gal/day a person; " + endUseEvents}

// habit is one end use in a house of the study: what it takes in a day, and how
// it comes. A spread is the standard deviation over the mean, of a log-normal
// distribution. An event of several fills draws them one after the other, the
// fill gap apart.
type habit struct {
	use            EndUse
	id             string
	daily          float64 // gal/day for each house
	volume, spread float64 // gal for each event
	flow, vary     float64 // gpm
	most           float64 // gpm, the flow never exceeds it
	kind           source.Kind
	fills          int
	gap            float64 // min from the start of one fill to that of the next
	pattern        *HourPattern
}

// habits hold the study's figures. Spreads, the flows of bath and other uses,
// fills and their gaps are common practice. Faucets and showers stay within the
// federal limits of 2.2 and 2.5 gpm; the rest may vary by a third.
var habits = [...]habit{
	{Toilet, "toilet", 33.1, 2.6, 0.35, 3.0, 0.1, 4, source.FromMemory, 1, 0, &generalPattern},
	{Shower, "shower", 28, 15.8, 0.5, 2.1, 0.2, 2.5, source.FromMemory, 1, 0, &hotPattern},
	{Bath, "bath", 4, 20, 0.3, 4, 0.2, 5.5, source.FromMemory, 1, 0, &hotPattern},
	{ClothesWasher, "clothes_washer", 23, 31, 0.25, 3.5, 0.1, 5, source.FromMemory, 2, 20, &washerPattern},
	{Dishwasher, "dishwasher", 2, 6.1, 0.2, 1.3, 0.1, 2, source.Published, 3, 20, &dishPattern},
	{Faucet, "faucet", 26, 0.5, 0.9, 1.0, 0.4, 2.2, source.FromMemory, 1, 0, &generalPattern},
	{OtherUse, "other", 5, 5, 0.5, 2, 0.2, 3, source.CommonPractice, 1, 0, &generalPattern},
}

// LeakDaily is what leaks in the mean house; most houses leak far less.
var LeakDaily = source.Factor{Name: "enduse_leak_daily", What: "leaks of a house, taken as a steady flow",
	Unit: "gal/day", Value: 17, Low: 0, High: 17, Kind: source.Published, From: endUseStudy}

func (h *habit) dailyFactor() source.Factor {
	return source.Factor{Name: "enduse_" + h.id + "_daily", What: "use of the mean house of the study: " + h.use.String(),
		Unit: "gal/day", Value: h.daily, Kind: source.Published, From: endUseStudy}
}

func (h *habit) volumeFactor() source.Factor {
	from := map[source.Kind]string{source.FromMemory: endUseEvents, source.Published: endUseStudy, source.CommonPractice: endUsePractice}
	return source.Factor{Name: "enduse_" + h.id + "_volume", What: "water of one event: " + h.use.String(),
		Unit: "gal", Value: h.volume, Kind: h.kind, From: from[h.kind]}
}

func (h *habit) flowFactor() source.Factor {
	from := "rule of the trade"
	kind := source.CommonPractice
	if h.use == Shower || h.use == Faucet {
		from, kind = endUseEvents, source.FromMemory
	}
	return source.Factor{Name: "enduse_" + h.id + "_flow", What: "flow while it runs: " + h.use.String(),
		Unit: "gpm", Value: h.flow, Kind: kind, From: from}
}

func endUseFactors() []source.Factor {
	all := []source.Factor{StudyPeople, LeakDaily}
	for i := range habits {
		all = append(all, habits[i].dailyFactor(), habits[i].volumeFactor(), habits[i].flowFactor())
	}
	return all
}

// Household is who draws the water. Daily, if it is known from a meter, scales
// how often each use comes; zero leaves it to the study.
type Household struct {
	People float64
	Daily  unit.Flow
}

// MeanUse returns what one end use of the household takes in a mean day.
//
//	Q = q n/n0,  leaks and other uses Q = q;  all times Daily/sum if that is known
//
//	q, n0  daily use and people of the mean house of the study;  n  people
//
// Range: 1 to 8 people. Error: one house may use half or twice; large families
// use less for each head than this. Source: DeOreo and others, 2016.
func (h Household) MeanUse(set source.Set, use EndUse) unit.Flow {
	return unit.GalPerDay(h.meanUse(set, use) * h.scale(set))
}

func (h Household) meanUse(set source.Set, use EndUse) float64 {
	if use == Leak {
		return set.Of(LeakDaily)
	}
	for i := range habits {
		if habits[i].use != use {
			continue
		}
		daily := set.Of(habits[i].dailyFactor())
		if use == OtherUse {
			return daily
		}
		return daily * max(0, h.People) / set.Of(StudyPeople)
	}
	return 0
}

func (h Household) scale(set source.Set) float64 {
	if h.Daily.GPM() <= 0 {
		return 1
	}
	return h.Daily.GalPerDay() / h.sum(set)
}

func (h Household) sum(set source.Set) float64 {
	sum := 0.0
	for use := Toilet; use <= Leak; use++ {
		sum += h.meanUse(set, use)
	}
	return sum
}

// MeanDay returns what the household takes in a mean day, all uses together.
//
// Source: the sum of MeanUse.
func (h Household) MeanDay(set source.Set) unit.Flow {
	return unit.GalPerDay(h.sum(set) * h.scale(set))
}
