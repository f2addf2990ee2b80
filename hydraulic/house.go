package hydraulic

import (
	"math"

	"wellwright/source"
	"wellwright/unit"
)

// bathsBand is the trade's service flow for a number of bathrooms.
var bathsBand = []point{{0, 5}, {1, 7}, {1.5, 10}, {2, 12}, {3, 15}}

type point struct{ x, y float64 }

// between reads a table of rising x on straight lines, holding the ends.
func between(table []point, x float64) float64 {
	if x <= table[0].x {
		return table[0].y
	}
	for i := 1; i < len(table); i++ {
		a, b := table[i-1], table[i]
		if x <= b.x {
			return a.y + (b.y-a.y)*(x-a.x)/(b.x-a.x)
		}
	}
	return table[len(table)-1].y
}

// PeakFromBaths returns the service flow that the trade allows for a number of
// bathrooms: 7 gpm for one, 10, 12 and 15 for 1½, 2 and 3, between them on
// straight lines, and 3 gpm for each bath beyond. It is a ceiling: what a house
// really draws is mostly less, see PeakFlow.
//
// Error: twice what is metered in many houses. Source: common practice.
func PeakFromBaths(baths float64) unit.Flow {
	last := bathsBand[len(bathsBand)-1]
	before := bathsBand[len(bathsBand)-2]
	if baths <= last.x {
		return unit.GPM(between(bathsBand, math.Max(0, baths)))
	}
	slope := (last.y - before.y) / (last.x - before.x)
	return unit.GPM(last.y + slope*(baths-last.x))
}

// The regression of indoor use on people.
const mayer = "Mayer and others, 1999, residential end uses of water, regression as given by Lawrence Berkeley National Laboratory, Home Energy Saver"

// Daily use factors.
var (
	UsePerPerson = source.Factor{Name: "demand_use_per_person", What: "indoor use for each person",
		Unit: "gal/day", Value: 37.2, Kind: source.Published, From: mayer}
	UsePerHouse = source.Factor{Name: "demand_use_per_house", What: "indoor use of a house before anyone is counted",
		Unit: "gal/day", Value: 69.2, Kind: source.Published, From: mayer}
	UsePerBedroom = source.Factor{Name: "demand_use_per_bedroom", What: "daily use to plan for each bedroom",
		Unit: "gal/day", Value: 110, Low: 110, High: 150, Kind: source.Published,
		From: "New York State Department of Health, Individual Water Supply Wells, Fact Sheet 2 (110); New Hampshire Env-Ws 372.10 (150)"}
	SharedWellExisting = source.Factor{Name: "demand_shared_well_existing", What: "flow for each existing dwelling on a shared well, held 4 hours",
		Unit: "gpm", Value: 3, Kind: source.Published, From: "US HUD Handbook 4000.1, shared wells"}
	SharedWellProposed = source.Factor{Name: "demand_shared_well_proposed", What: "flow for each proposed dwelling on a shared well, held 4 hours",
		Unit: "gpm", Value: 5, Kind: source.Published, From: "US HUD Handbook 4000.1, shared wells"}
)

// DailyUse returns the indoor use of a household.
//
//	use = 37.2 n + 69.2 gal/day
//
//	n  people
//
// Range: 1 to 10 people. Error: one house may use half or twice.
// Source: Mayer and others, 1999.
func DailyUse(set source.Set, people float64) unit.Flow {
	return unit.GalPerDay(set.Of(UsePerPerson)*people + set.Of(UsePerHouse))
}

// SharedWellFlow returns the flow a shared well must hold for four hours.
//
//	Q = 3 a + 5 b gpm
//
//	a, b  existing and proposed dwellings
//
// Source: US HUD Handbook 4000.1.
func SharedWellFlow(set source.Set, existing, proposed int) unit.Flow {
	return unit.GPM(set.Of(SharedWellExisting)*float64(existing) + set.Of(SharedWellProposed)*float64(proposed))
}

// PlanningPeak returns the flow of a day's use drawn within two hours.
//
// Source: Penn State Extension, Water system planning, 2017.
func PlanningPeak(daily unit.Flow) unit.Flow { return unit.GPM(daily.GalPerDay() / 120) }

// HourPattern is the share of a day's use in each hour; the first hour begins
// at midnight.
type HourPattern [24]float64

// resnet is ANSI/RESNET/ICC 301-2022 Addendum C, as carried by the default
// schedules of OpenStudio-HPXML.
var (
	hotPattern     = HourPattern{.012, .006, .004, .005, .010, .034, .078, .086, .080, .067, .056, .047, .040, .035, .033, .031, .038, .051, .060, .060, .055, .048, .038, .026}
	generalPattern = HourPattern{.023, .021, .021, .025, .027, .038, .044, .039, .037, .037, .034, .035, .035, .035, .039, .043, .051, .064, .065, .072, .073, .063, .045, .034}
	washerPattern  = HourPattern{.009, .007, .004, .004, .007, .011, .022, .049, .073, .086, .084, .075, .067, .060, .049, .051, .050, .049, .049, .049, .049, .047, .032, .017}
	dishPattern    = HourPattern{.015, .007, .005, .003, .003, .010, .020, .031, .058, .065, .056, .048, .042, .046, .036, .038, .038, .049, .087, .111, .090, .067, .044, .031}
)

// HotWaterPattern returns the pattern of hot-water fixtures.
//
// Source: ANSI/RESNET/ICC 301-2022 Addendum C, table C.3(5).
func HotWaterPattern() HourPattern { return hotPattern }

// GeneralPattern returns the pattern of general water use.
//
// Source: ANSI/RESNET/ICC 301-2022 Addendum C, table C.3(5).
func GeneralPattern() HourPattern { return generalPattern }

// WasherPattern returns the pattern of clothes washers.
//
// Source: ANSI/RESNET/ICC 301-2022 Addendum C, table C.3(1).
func WasherPattern() HourPattern { return washerPattern }

// DishwasherPattern returns the pattern of dishwashers.
//
// Source: ANSI/RESNET/ICC 301-2022 Addendum C, table C.3(1).
func DishwasherPattern() HourPattern { return dishPattern }

// Quietest returns the first hour of the stretch of whole hours with the least
// use, and the share of the day that falls in it.
func (h HourPattern) Quietest(hours int) (start int, share float64) {
	share = math.Inf(1)
	for s := range h {
		sum := 0.0
		for k := range hours {
			sum += h[(s+k)%24]
		}
		if sum < share-1e-12 {
			start, share = s, sum
		}
	}
	return start, share
}

// Flow returns the mean flow in an hour of the day.
func (h HourPattern) Flow(hour int, daily unit.Flow) unit.Flow {
	total := 0.0
	for _, s := range h {
		total += s
	}
	return unit.GPM(daily.GalPerDay() * h[((hour%24)+24)%24] / total / 60)
}

// OrificeFlow returns the flow of a plain outlet at another pressure.
//
//	Q = Qr sqrt(P/Pr)
//
// Range: outlets without a pressure-compensating insert. Source: orifice law.
func OrificeFlow(rated unit.Flow, at, now unit.Pressure) unit.Flow {
	return unit.GPM(rated.GPM() * math.Sqrt(math.Max(0, now.PSI())/at.PSI()))
}
