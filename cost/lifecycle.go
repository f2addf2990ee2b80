package cost

// Annual is a sum paid at the end of each year, in today's prices.
type Annual struct {
	Sum        Money
	Escalation Rate
}

// Dated is a sum paid once at the end of a term, in today's prices.
type Dated struct {
	Sum   Money
	After Term
}

// Plant is what a plant costs over its life. All rates are real.
type Plant struct {
	First        Money
	Annuals      []Annual
	Replacements []Dated
	Salvage      []Dated // what is got back, or is left unused at the end
	Discount     Rate
	Life         Term
}

// LifeCycle is a life-cycle cost and the level yearly cost worth the same.
type LifeCycle struct{ Total, AYear Money }

// LifeCycleCost adds up a plant in the money of today.
//
//	LCC = first + Σ annual·UPV* + Σ replacement·SPV − Σ salvage·SPV
//	EUAC = LCC·CRF
//
// Range: rates −50 to 100 % a year, life above 0 to 200 years. Error: that of the
// sums and rates; each sum is rounded to the cent.
// Source: Fuller and Petersen, NIST Handbook 135, Life-Cycle Costing Manual (1995).
func LifeCycleCost(p Plant) (LifeCycle, error) {
	total := p.First
	for _, a := range p.Annuals {
		u, err := ModifiedUPV(Rates{p.Discount, a.Escalation}, p.Life)
		if err != nil {
			return LifeCycle{}, err
		}
		total = total.Add(a.Sum.Times(u))
	}
	replaced, err := worth(p.Replacements, p.Discount)
	if err != nil {
		return LifeCycle{}, err
	}
	left, err := worth(p.Salvage, p.Discount)
	if err != nil {
		return LifeCycle{}, err
	}
	crf, err := CapitalRecovery(p.Discount, p.Life)
	if err != nil {
		return LifeCycle{}, err
	}
	total = total.Add(replaced).Sub(left)
	return LifeCycle{total, total.Times(crf)}, nil
}

func worth(sums []Dated, d Rate) (Money, error) {
	var total Money
	for _, s := range sums {
		f, err := SinglePresentValue(d, s.After)
		if err != nil {
			return Money{}, err
		}
		total = total.Add(s.Sum.Times(f))
	}
	return total, nil
}
