package stage

import (
	"wellwright/cost"
	"wellwright/formula"
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
	add := func(figure, equation string, value float64, unit string, symbols ...formula.Symbol) {
		j.Site.Working.Add(formula.Step{Figure: figure, Equation: equation, Value: value, Unit: unit, Symbols: symbols, Source: "mass balance"})
	}
	s, set := f.settings(), j.Site.Factors
	dose := formula.Symbol{Name: "dose", Value: f.d.dose, Unit: "mg/L"}
	strength := formula.Symbol{Name: "strength", Value: f.strength, Unit: "g/L"}
	day := formula.Symbol{Name: "V", Value: j.Daily.GalPerDay(), Unit: "gal/day"}
	j.Site.Working.Add(formula.Step{
		Figure: DoseMgL, Equation: f.kind.equation, Value: f.d.dose, Unit: "mg/L",
		Symbols: []formula.Symbol{
			{Name: "Fe", Value: j.In.Ferrous.MgPerL(), Unit: "mg/L"}, {Name: "Mn", Value: j.In.Manganese.MgPerL(), Unit: "mg/L"},
			{Name: "H2S", Value: j.In.Sulfide.MgPerLAsH2S(), Unit: "mg/L as H2S"}, {Name: "N", Value: j.In.Ammonia.MgPerLAsN(), Unit: "mg/L as N"},
			{Name: "pH", Value: j.In.PH.Value()}, {Name: "A", Value: j.In.Alkalinity.MgPerLAsCaCO3(), Unit: "mg/L as CaCO3"},
		},
		Source: "derived from atomic weights and the equilibrium of carbonate",
	})
	add(FeedMLMin, "q = Q dose / (strength - dose)", s[FeedMLMin], "mL/min", formula.Symbol{Name: "Q", Value: f.main.GPM(), Unit: "gpm"}, dose, strength)
	add(StrokePercent, "100 q / most", s[StrokePercent], "%", formula.Symbol{Name: "q", Value: f.need, Unit: "gal/day"},
		formula.Symbol{Name: "most", Value: f.pump, Unit: "gal/day"})
	add(SolutionLPerDay, "s = V dose / strength", f.litres, "L/day", day, dose, strength)
	add(TankDays, "min(keeps, tank / s)", f.days, "days", formula.Symbol{Name: "keeps", Value: set.Of(f.kind.keep), Unit: "days"},
		formula.Symbol{Name: "tank", Value: set.Of(feedTank), Unit: "gal"})
	if f.kind.stock.gL > 0 {
		add(StockLPerYear, "365 V dose / stock", f.stock, "L/year", day, dose, formula.Symbol{Name: "stock", Value: f.kind.stock.gL, Unit: "g/L"})
	} else {
		add(ChemicalLbPerYear, "365 V dose", f.stock, "lb/year", day, dose)
	}
}

// contactBill is what contact tanks ask to be bought.
func contactBill(z Size) cost.Bill {
	n := float64(z.Tanks)
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
