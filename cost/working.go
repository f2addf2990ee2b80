package cost

import (
	"wellwright/formula"
	"wellwright/source"
)

const lifeCycleSource = "Fuller and Petersen, NIST Handbook 135, Life-Cycle Costing Manual (1995)"

// show records how the three sums came about.
func (s *sums) show(w *formula.Working, set source.Set, a Answer) {
	factors := []source.Factor{set.In(DiscountRate), set.In(Escalation), set.In(Horizon)}
	used := s.usedMid()
	w.Add(formula.Step{
		Figure: "first cost", Equation: "first = Σ amount × price",
		Symbols: s.symbols(AtFirst), Value: a.First.Mid.USD(), Unit: "USD", Source: "definition",
	})
	w.Add(formula.Step{
		Figure: "yearly cost", Equation: "yearly = Σ amount × price + Σ renewal / years between",
		Symbols: append(s.symbols(EveryYear), s.symbols(OnRenewal)...),
		Value:   a.Yearly.Mid.USD(), Unit: "USD a year", Source: "definition",
	})
	w.Add(formula.Step{
		Figure: "ten-year cost", Equation: "ten-year = first + used·UPV* + renewals,  UPV* = (1+e)/(d−e)·[1 − ((1+e)/(1+d))^n]",
		Symbols: []formula.Symbol{
			{Name: "first", Value: a.First.Mid.USD(), Unit: "USD"},
			{Name: "used", Value: used, Unit: "USD a year"},
			{Name: "renewals", Value: s.renewalMid / centsPerDollar, Unit: "USD of today"},
			{Name: "d", Value: s.d, Unit: "a year"},
			{Name: "e", Value: s.e, Unit: "a year"},
			{Name: "n", Value: s.n, Unit: "years"},
			{Name: "UPV*", Value: s.upv, Unit: "years"},
		},
		Factors: factors, Value: a.TenYear.Mid.USD(), Unit: "USD of today", Source: lifeCycleSource,
	})
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
