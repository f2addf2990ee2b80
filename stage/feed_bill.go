package stage

import (
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/unit"
)

// feedBill is what any feed asks to be bought. Hours of work and lives of parts
// are common practice.
func feedBill(f feed, why string) cost.Bill {
	pump, relay := media.FeedPump, "runs the feed only while water flows"
	if f.paced {
		pump, relay = media.PacedFeedPump, "meter and relay that pace the feed"
	}
	return cost.Bill{
		First: []cost.Line{
			{Part: pump, Amount: 1, Why: why},
			{Part: media.SolutionTank, Amount: 1, Why: "holds the solution"},
			{Part: media.InjectionFittings, Amount: 1, Why: "check valve, anti-siphon and injection fitting"},
			{Part: media.FeedRelay, Amount: 1, Why: relay},
			{Part: media.LabourHour, Amount: 4, Why: "fit and set the feed"},
		},
		Yearly: []cost.Use{
			{Part: f.kind.stock.part, PerYear: f.stockSold(), Why: "chemical"},
			{Part: media.ElectricityKWh, PerYear: 20, Why: "feed pump"},
		},
		Renewals: []cost.Renewal{
			{Part: pump, Amount: 1, EveryYears: cost.Years{Low: 4, Mid: 7, High: 10}, Why: "feed pump worn out"},
			{Part: media.InjectionFittings, Amount: 1, EveryYears: cost.Years{Low: 1, Mid: 2, High: 4}, Why: "tube, check valve and fitting scale or crack"},
		},
		Hours: 52*0.1 + daysPerYear/f.days*0.5, // a look a week, half an hour a mixing
	}
}

// stockSold is the year's chemical in the unit it is sold by: gallons or pounds.
func (f feed) stockSold() float64 {
	if f.kind.stock.gL > 0 {
		return litresToGal(f.stock)
	}
	return f.stock
}

// working opens the dose and the setting of the feed.
func (f feed) working(j *Job) {
	if !j.Site.Working.On() {
		return
	}
	s, set, sym, add := f.settings(), j.Site.Factors, formula.Sym, j.Site.Working.Add
	dose, strength := sym("D", f.d.dose, "mg/L"), sym("s", f.strength, "g/L")
	day := sym("Q", j.Daily.GalPerDay(), "gal/day")
	add(f.kind.formula().Step(DoseMgL, f.d.dose, "mg/L", formula.Syms(
		sym("Fe", j.In.Ferrous.MgPerL(), "mg/L"), sym("Mn", j.In.Manganese.MgPerL(), "mg/L"),
		sym("H2S", j.In.Sulfide.MgPerLAsH2S(), "mg/L as H2S"), sym("N", j.In.Ammonia.MgPerLAsN(), "mg/L as N"),
		sym("pH", j.In.PH.Value(), ""), sym("A", j.In.Alkalinity.MgPerLAsCaCO3(), "mg/L as CaCO3"))))
	add(hydraulic.FeedRateFormula().Step(FeedMLMin, s[FeedMLMin], "mL/min", formula.Syms(sym("Q", f.main.GPM(), "gpm"), dose, strength)))
	add(strokeFormula().Step(StrokePercent, s[StrokePercent], "%", formula.Syms(sym("q", f.need, "gal/day"), sym("most", f.pump, "gal/day"))))
	add(solutionFormula().Step(SolutionLPerDay, f.litres, "L/day", formula.Syms(day, dose, strength)))
	add(tankDaysFormula().Step(TankDays, f.days, "days", formula.Syms(
		sym("k", set.Of(f.kind.keep), "days"), sym("V", set.Of(feedTank), "gal"), sym("L", f.litres, "L/day"))))
	if f.kind.stock.gL > 0 {
		add(stockFormula().Step(StockLPerYear, f.stock, "L/year", formula.Syms(day, dose, sym("stock", f.kind.stock.gL, "g/L"))))
	} else {
		add(dryFormula().Step(ChemicalLbPerYear, f.stock, "lb/year", formula.Syms(day, dose)))
	}
}

// contactBill is what contact tanks ask to be bought.
func contactBill(z Size) cost.Bill {
	n := z.stock()
	b := cost.Bill{
		First: []cost.Line{
			{Part: media.Connections, Amount: 1, Why: "bypass, sample tap and blow-down"},
			{Part: media.LabourHour, Amount: 1 + n, Why: "set and pipe the tank"},
		},
		Hours: 12 * 0.1 * n, // a blow-down a month
	}
	if tank, ok := media.ContactTankOf(z.Volume); ok {
		b.First = append(b.First, cost.Line{Part: tank, Amount: n, Why: "time for the oxidant"})
		b.Renewals = []cost.Renewal{{Part: tank, Amount: n, EveryYears: cost.Years{Low: 12, Mid: 18, High: 25}, Why: "tank worn out"}}
	}
	return b
}

func litresToGal(l float64) float64 { return unit.L(l).Gal() }
