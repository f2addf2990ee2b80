package stage

import (
	"math"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func feedFormulas() []formula.Formula {
	return []formula.Formula{strokeFormula(), solutionFormula(), tankDaysFormula(), stockFormula(), dryFormula()}
}

func doseIn() formula.In[unit.Concentration] {
	return formula.MgL.Takes("dose", "D", "dose of the chemical in the water").Between("0.01 mg/L", "2000 mg/L")
}

func strokeFormula() formula.Formula {
	q := formula.Drip.Takes("feed", "q", "what the pump must give while the water runs; see feed_rate").Between("0 gal/day", "1000 gal/day")
	most := formula.Drip.Takes("pump_output", "most", "the most that the pump gives").Between("0.1 gal/day", "1000 gal/day")
	return formula.Formula{
		Name: "feed_stroke", Subject: onStages, What: "setting of a feed pump as a share of its range",
		Inputs: formula.Inputs(q, most), Equation: "stroke = 100 q / most", Range: "set between 30 and 70 %: below, a stroke does not repeat", Error: "a pump's scale is off by a tenth: catch its output in a cylinder", Source: "mass balance", Kind: source.Derived,
		Figures:  []string{StrokePercent},
		Examples: formula.By(formula.On("feed=8.5 gal/day", "pump_output=17 gal/day").Is("stroke", "50 %", "0.01 %", "by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Share.Gives("stroke", "", "of its range", strokeOf(q.Of(a).GalPerDay(), most.Of(a).GalPerDay())/100)), nil
		},
	}
}

// strokeOf is an output as a percentage of a pump's most.
func strokeOf(out, most float64) float64 {
	if most <= 0 {
		return 0
	}
	return 100 * out / most
}

func solutionFormula() formula.Formula {
	q, d := dailyIn(), doseIn()
	s := formula.MgL.Takes("strength", "s", "of the solution fed").Between("1 mg/L", "1000000 mg/L")
	return formula.Formula{
		Name: "feed_solution", Subject: onStages, What: "solution that a feed uses in a day",
		Inputs: formula.Inputs(q, d, s), Equation: "L = Q D / s", Source: "mass balance", Kind: source.Derived, Error: "strength fades",
		Figures:  []string{SolutionLPerDay},
		Examples: formula.By(formula.On("daily_use=300 gal/day", "dose=5 mg/L", "strength=10 g/L").Is("solution", "0.15 gal", "0.0001 gal", "by hand: 300 · 5 / 10,000")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Volume.Gives("solution", "L", "in a day", unit.L(solutionLitres(litresADay(q.Of(a)), d.Of(a).MgPerL(), s.Of(a).MgPerL()/mgPerG)))), nil
		},
	}
}

// litresADay is the water of a day in litres.
func litresADay(q unit.Flow) float64 { return unit.GPM(q.GPM()).LPerMin() * minutesPerDay }

// solutionLitres is the solution of g/L that doses so many litres of water.
func solutionLitres(litres, dose, gL float64) float64 { return litres * dose / (gL * mgPerG) }

func tankDaysFormula() formula.Formula {
	k := formula.Time.Takes("keeps", "k", "how long the solution keeps").Between("1 days", "365 days").Assume("30 days", "mixed hypochlorite, trade rule")
	v := formula.Volume.Takes("tank", "V", "room of the solution tank").Between("0.5 gal", "500 gal").Rests(feedTank, 1, "gal", "usual sizes 15 and 35 gal")
	l := formula.Volume.Takes("solution", "L", "solution used in a day; see feed_solution").Between("0.0001 gal", "500 gal")
	return formula.Formula{
		Name: "feed_tank_days", Subject: onStages, What: "days that one filling of a solution tank is mixed for",
		Inputs: formula.Inputs(l, k, v), Equation: "t = min(k, V / L)", Source: "mass balance", Kind: source.Derived, Error: "that of the use",
		Factors: []source.Factor{feedTank}, Figures: []string{TankDays},
		Examples: formula.By(formula.On("solution=1 gal", "tank=15 gal").Is("days", "15 days", "0.001 days", "by hand"),
			formula.On("solution=0.15 gal", "tank=15 gal").Is("days", "30 days", "0.001 days", "by hand: 100 days of solution that keeps 30")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Time.Gives("days", "t", "on one filling", spanOf(fillingDays(daysOf(k.Of(a)), v.Of(a).L(), l.Of(a).L())))), nil
		},
	}
}

// fillingDays is the days that a tank lasts at so many litres a day, no more than
// the solution keeps.
func fillingDays(keeps, tank, litres float64) float64 {
	return math.Min(keeps, tank/math.Max(litres, 1e-6))
}

func stockFormula() formula.Formula {
	q, d := dailyIn(), doseIn()
	s := formula.MgL.Takes("stock", "stock", "strength of the liquid as bought, over its shelf life").Between("1 g/L", "2000 g/L")
	return formula.Formula{
		Name: "feed_stock", Subject: onStages, What: "liquid chemical bought for a feed in a year",
		Inputs: formula.Inputs(q, d, s), Equation: "S = 365 Q D / stock", Source: "mass balance", Kind: source.Derived, Error: "bleach loses strength as it stands",
		Figures:  []string{StockLPerYear},
		Examples: formula.By(formula.On("daily_use=300 gal/day", "dose=5 mg/L", "stock=100 g/L").Is("stock_a_year", "5.475 gal", "0.001 gal", "by hand: 365 · 300 · 5 / 100,000")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Volume.Gives("stock_a_year", "S", "in a year", unit.L(chemicalGrams(litresADay(q.Of(a)), d.Of(a).MgPerL())/(s.Of(a).MgPerL()/mgPerG)))), nil
		},
	}
}

func dryFormula() formula.Formula {
	q, d := dailyIn(), doseIn()
	return formula.Formula{
		Name: "feed_chemical", Subject: onStages, What: "dry chemical that a feed uses in a year",
		Inputs: formula.Inputs(q, d), Equation: "M = 365 Q D", Range: "of the pure substance that the dose is written for", Source: "mass balance", Kind: source.Derived, Error: "that of use and dose",
		Figures:  []string{ChemicalLbPerYear},
		Examples: formula.By(formula.On("daily_use=300 gal/day", "dose=50 mg/L").Is("chemical", "45.69 lb", "0.02 lb", "by hand: 109,500 gal at 8.345 lb a million gallons for each mg/L")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Mass.Gives("chemical", "M", "in a year", unit.G(chemicalGrams(litresADay(q.Of(a)), d.Of(a).MgPerL())))), nil
		},
	}
}

// chemicalGrams is the grams of a year for so many litres a day.
func chemicalGrams(litres, dose float64) float64 { return litres * dose / mgPerG * daysPerYear }
