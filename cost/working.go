package cost

import (
	"wellwright/formula"
	"wellwright/source"
)

// The figures that formulas open.
const (
	yearlyFigure  = "yearly cost"
	tenYearFigure = "ten-year cost"
)

// show records how the three sums came about.
func (s *sums) show(w *formula.Working, set source.Set, a Answer) {
	factors := []source.Factor{set.In(DiscountRate), set.In(Escalation), set.In(Horizon)}
	w.Add(formula.Step{
		Figure: "first cost", Equation: "first = Σ amount × price",
		Symbols: s.symbols(AtFirst), Value: a.First.Mid.USD(), Unit: "USD", Source: "definition",
	})
	w.Add(yearlyCostFormula().Step(yearlyFigure, a.Yearly.Mid.USD(), "USD a year", append(s.symbols(EveryYear), s.symbols(OnRenewal)...)))
	sym := formula.Sym
	w.Add(tenYearFormula().Step(tenYearFigure, a.TenYear.Mid.USD(), "USD of today", formula.Syms(
		sym("first", a.First.Mid.USD(), "USD"), sym("used", s.usedMid(), "USD a year"), sym("renewals", s.renewalMid/centsPerDollar, "USD of today"),
		sym("d", s.d, "a year"), sym("e", s.e, "a year"), sym("n", s.n, "years"), sym("UPV*", s.upv, "years")), factors...))
}

// usedMid is what is used up in a year, renewals left out, dollars.
func (s *sums) usedMid() float64 {
	var used Money
	for _, i := range s.items {
		if i.When == EveryYear {
			used = used.Add(i.Range.Mid)
		}
	}
	return used.USD()
}

// symbols writes the items of one occasion as amounts of money.
func (s *sums) symbols(when When) []formula.Symbol {
	var all []formula.Symbol
	for _, i := range s.items {
		if i.When != when {
			continue
		}
		unit := "USD"
		if when == EveryYear {
			unit = "USD a year"
		}
		all = append(all, formula.Symbol{Name: string(i.Part), Value: i.Range.Mid.USD(), Unit: unit})
	}
	return all
}
