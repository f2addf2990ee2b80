package stage

import (
	"math"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func tankFormulas() []formula.Formula {
	return []formula.Formula{contactTimeFormula(), refillFormula(), storageDaysFormula()}
}

func contactTimeFormula() formula.Formula {
	v, q := formula.Volume.Takes("volume", "V", "volume of one tank").Between("1 gal", "10000 gal"), peakIn()
	n := formula.Count.Takes("tanks", "n", "tanks in series").Between("1", "20").Assume("1", "a single tank")
	f := formula.Share.Takes("share", "f", "share of the tank that counts for oxidation").Between("1 %", "100 %").Rests(contactShare, 100, "%", "plain upright tank with separated ports")
	return formula.Formula{
		Name: "contact_time", Subject: onStages, What: "time that an oxidant is given in contact tanks; for disinfection credit see contact_t10",
		Inputs: formula.Inputs(v, q, n, f), Equation: "t = f V n / Q", Range: "steady flow; a pressure tank with an air charge gives none", Error: "that of the share, a third", Source: "definition", Kind: source.Derived,
		Factors: []source.Factor{contactShare}, Figures: []string{ContactMin},
		Examples: formula.By(formula.On("volume=120 gal", "peak_flow=8 gpm").Is("contact", "10.5 min", "0.01 min", "by hand: 0.7 · 120 / 8"),
			formula.On("volume=80 gal", "peak_flow=8 gpm", "tanks=2", "share=50 %").Is("contact", "10 min", "0.01 min", "by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Time.Gives("contact", "t", "that counts", minutesLong(contactOf(v.Of(a), n.Of(a), q.Of(a), f.Of(a))))), nil
		},
	}
}

// contactOf is the minutes that a flow stands in tanks in series of which a share
// counts.
func contactOf(v unit.Volume, tanks float64, q unit.Flow, share float64) float64 {
	return share * v.Gal() * tanks / math.Max(q.GPM(), leastFlow)
}

func refillFormula() formula.Formula {
	v := dailyIn()
	p := formula.Flow.Takes("pump_flow", "P", "what the well pump gives").Between("0.1 gpm", "200 gpm")
	y := formula.Flow.Takes("yield", "Y", "what the well gives over hours").Between("0.05 gpm", "500 gpm")
	return formula.Formula{
		Name: "refill_time", Subject: onStages, What: "how long a well must be pumped in a day to keep a store filled",
		Inputs: formula.Inputs(v, p, y), Equation: "t = Q / min(P, Y)", Range: "no casing storage is counted on", Error: "that of the yield, and of the season", Source: "water balance", Kind: source.Derived,
		Figures:  []string{FillMinPerDay},
		Examples: formula.By(formula.On("daily_use=300 gal/day", "pump_flow=10 gpm", "yield=0.5 gpm").Is("pumping", "600 min", "0.1 min", "by hand: 300 / 0.5"), formula.On("daily_use=300 gal/day", "pump_flow=5 gpm", "yield=8 gpm").Is("pumping", "60 min", "0.1 min", "by hand: 300 / 5")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			q := refillFlow(p.Of(a).GPM(), y.Of(a).GPM())
			return formula.Give(formula.Time.Gives("pumping", "t", "in a day", minutesLong(refillMinutes(v.Of(a).GalPerDay(), q)))), nil
		},
	}
}

// refillFlow is the lesser of pump and yield, gpm; a yield of zero is not known.
func refillFlow(pump, yield float64) float64 {
	if yield > 0 {
		return math.Min(pump, yield)
	}
	return pump
}

// refillMinutes is the pumping of a day for so many gallons.
func refillMinutes(gal, gpm float64) float64 { return gal / math.Max(gpm, 1e-3) }

func storageDaysFormula() formula.Formula {
	v, q := formula.Volume.Takes("store", "V", "volume of the store").Between("1 gal", "100000 gal"), dailyIn()
	return formula.Formula{
		Name: "storage_days", Subject: onStages, What: "days of use that a store holds",
		Inputs: formula.Inputs(v, q), Equation: "d = V / Q", Range: "its whole volume; what stands over the low-water cut-off is 0.7 to 0.9 of it", Error: "that of the use", Source: "water balance", Kind: source.Derived,
		Figures:  []string{StorageDays},
		Examples: formula.By(formula.On("store=500 gal", "daily_use=200 gal/day").Is("days", "2.5 days", "0.001 days", "by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Time.Gives("days", "d", "of use", spanOf(daysHeld(v.Of(a), q.Of(a).GalPerDay())))), nil
		},
	}
}

// daysHeld is the days that a store lasts at a use in gallons a day.
func daysHeld(v unit.Volume, use float64) float64 { return v.Gal() / math.Max(use, 1e-3) }
