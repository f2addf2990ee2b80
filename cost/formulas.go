package cost

import (
	"fmt"
	"strings"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

const (
	onMoney  = "cost"
	nist     = "Fuller and Petersen, NIST Handbook 135, Life-Cycle Costing Manual (1995)"
	rateHint = "real, inflation taken out"
)

// Quantities that only money has.
var (
	dollarsIn = formula.Own("money", "dollars, such as $450", readMoney, showMoney, showMoney, Money.USD)
	rateIn    = formula.Own("rate", "% a year, such as 3 %", readRate, showRate, showRate, Rate.PerCentAYear)
	termIn    = formula.Own("term", "years", readTerm, showTerm, showTerm, Term.Years)
	priceIn   = formula.Measured("price of power", formula.Measure{Unit: "$/kWh", Size: 1}, formula.Measure{Unit: "$/kWh", Size: 1}, formula.Measure{Unit: "cents/kWh", Size: 0.01})
	plainRate = formula.Measured("rate", formula.Measure{Unit: "%", Size: 1}, formula.Measure{Unit: "%", Size: 1}, formula.Measure{Unit: "% a year", Size: 1})
	plainTerm = formula.Measured("term", formula.Measure{Unit: "years", Size: 1}, formula.Measure{Unit: "years", Size: 1}, formula.Measure{Unit: "year", Size: 1}, formula.Measure{Unit: "months", Size: 1. / 12})
	plainUSD  = formula.Measured("money", formula.Measure{Unit: "$", Size: 1}, formula.Measure{Unit: "$", Size: 1}, formula.Measure{Unit: "USD", Size: 1}, formula.Measure{Unit: "dollars", Size: 1})
)

// readMoney reads dollars with the sign before or behind.
func readMoney(s string) (Money, error) {
	s = strings.TrimSpace(s)
	if rest, ok := strings.CutPrefix(s, "$"); ok {
		s = rest + " $"
	}
	v, err := plainUSD.Read(s)
	return USD(v), err
}

func showMoney(m Money) formula.Amount {
	return formula.Amount{Value: m.USD(), Unit: "$", Words: m.Exact()}
}

func readRate(s string) (Rate, error) {
	v, err := plainRate.Read(s)
	return PerCentAYear(v), err
}

func showRate(r Rate) formula.Amount {
	return formula.Amount{Value: r.PerCentAYear(), Unit: "% a year"}
}

func readTerm(s string) (Term, error) {
	v, err := plainTerm.Read(s)
	return TermYears(v), err
}

func showTerm(t Term) formula.Amount { return formula.Amount{Value: t.Years(), Unit: "years"} }

// Formulas lists the public formulas of this room.
func Formulas() []formula.Formula {
	return []formula.Formula{singleFormula(), uniformFormula(), modifiedFormula(), recoveryFormula(), realFormula(), lifeCycleFormula(), yearlyCostFormula(), tenYearFormula(), rangeFormula(), pumpingFormula()}
}

func discountIn() formula.In[Rate] {
	return rateIn.Takes("discount", "d", "discount rate, "+rateHint).Between("-50 %", "100 %").Rests(DiscountRate, 100, "%", "real rate of US federal life-cycle costing")
}

func yearsIn(what string) formula.In[Term] {
	return termIn.Takes("years", "n", what).Between("0 years", "200 years")
}

func sumIn(name, symbol, what string) formula.In[Money] {
	return dollarsIn.Takes(name, symbol, what).Between("$0", "$10000000")
}

func oneDollar(what string) formula.In[Money] {
	return sumIn("sum", "S", what).Assume("$1", "the answer is then for each dollar")
}

// discounted gives a sum times a factor.
func discounted(name, what string, s Money, factor float64) formula.Outcome {
	return formula.Give(dollarsIn.Gives(name, "", what, s.Times(factor)), formula.Ratio.Gives("factor", "", "for each dollar", factor))
}

const tables = "compound-interest tables of engineering-economy textbooks (from memory)"

func singleFormula() formula.Formula {
	d, n, s := discountIn(), yearsIn("until it is paid"), oneDollar("sum paid once, in today's prices")
	return formula.Formula{
		Name: "present_value", Subject: onMoney, What: "what a sum paid once at the end of a term is worth today",
		Inputs: formula.Inputs(n, s, d), Equation: "SPV = (1 + d)^-n", Source: nist, Kind: source.Published, Factors: []source.Factor{DiscountRate},
		Examples: formula.By(formula.On("years=8 years", "discount=3 %").Is("factor", "0.78941", "0.00001", tables)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			f, err := SinglePresentValue(d.Of(a), n.Of(a))
			return discounted("value", "today", s.Of(a), f), err
		},
	}
}

func uniformFormula() formula.Formula {
	d, n, s := discountIn(), yearsIn("that it is paid"), oneDollar("sum paid at the end of each year, in today's prices")
	return formula.Formula{
		Name: "uniform_present_value", Subject: onMoney, What: "what a yearly sum is worth today",
		Inputs: formula.Inputs(n, s, d), Equation: "UPV = [1 - (1 + d)^-n] / d;  n if d = 0", Source: nist, Kind: source.Published, Factors: []source.Factor{DiscountRate},
		Examples: formula.By(formula.On("years=15 years", "discount=3 %").Is("factor", "11.9379", "0.0001", tables), formula.On("years=10 years", "discount=5 %").Is("factor", "7.7217", "0.0001", tables)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			f, err := UniformPresentValue(d.Of(a), n.Of(a))
			return discounted("value", "today", s.Of(a), f), err
		},
	}
}

func modifiedFormula() formula.Formula {
	d, n, s := discountIn(), yearsIn("that it is paid"), oneDollar("sum paid at the end of each year, in today's prices")
	e := rateIn.Takes("escalation", "e", "rise of its price beyond inflation").Between("-50 %", "100 %")
	return formula.Formula{
		Name: "rising_present_value", Subject: onMoney, What: "what a yearly sum whose price rises is worth today",
		Inputs: formula.Inputs(n, e, s, d), Equation: "UPV* = (1 + e)/(d - e) · [1 - ((1 + e)/(1 + d))^n];  n if d = e", Source: "US General Services Administration, P100 criteria, life-cycle cost factors", Kind: source.Published, Factors: []source.Factor{DiscountRate, Escalation},
		Examples: formula.By(formula.On("years=15 years", "discount=3 %", "escalation=2 %").Is("factor", "13.8861", "0.0001", "formula published: US GSA, P100; figure worked apart")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			f, err := ModifiedUPV(Rates{Discount: d.Of(a), Escalation: e.Of(a)}, n.Of(a))
			return discounted("value", "today", s.Of(a), f), err
		},
	}
}

func recoveryFormula() formula.Formula {
	d, n, s := discountIn(), yearsIn("over which it is spread").Between("0.01 years", "200 years"), oneDollar("sum paid today")
	return formula.Formula{
		Name: "capital_recovery", Subject: onMoney, What: "level yearly payment that a sum paid today is worth",
		Inputs: formula.Inputs(n, s, d), Equation: "CRF = 1/UPV", Source: "definition", Kind: source.Derived, Factors: []source.Factor{DiscountRate},
		Examples: formula.By(formula.On("years=10 years", "discount=6 %").Is("factor", "0.135868", "0.000001", tables)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			f, err := CapitalRecovery(d.Of(a), n.Of(a))
			return discounted("a_year", "each year", s.Of(a), f), err
		},
	}
}

func realFormula() formula.Formula {
	q, i := rateIn.Takes("quoted", "R", "rate as quoted").Between("-50 %", "100 %"), rateIn.Takes("inflation", "I", "inflation").Between("-50 %", "100 %")
	return formula.Formula{
		Name: "real_rate", Subject: onMoney, What: "rate with inflation taken out; for discount and escalation alike",
		Inputs: formula.Inputs(q, i), Equation: "r = (1 + R)/(1 + I) - 1", Source: "identity; US General Services Administration, P100 criteria", Kind: source.Published,
		Examples: formula.By(formula.On("quoted=5.5 %", "inflation=2.5 %").Is("real", "2.927 %", "0.0005 %", "identity of US GSA, P100: 1.055/1.025")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			r, err := RealRate(Nominal{Quoted: q.Of(a), Inflation: i.Of(a)})
			return formula.Give(rateIn.Gives("real", "r", "inflation taken out", r)), err
		},
	}
}

func lifeCycleFormula() formula.Formula {
	none := func(i formula.In[Money]) formula.In[Money] { return i.Assume("$0", formula.None) }
	first, yearly := sumIn("first", "", "paid at the start"), none(sumIn("yearly", "A", "paid each year, in today's prices"))
	rise := rateIn.Takes("escalation", "e", "rise of the yearly price beyond inflation").Between("-50 %", "100 %").Assume("0 %", "rises with inflation")
	power := none(sumIn("yearly_power", "A2", "another yearly sum, such as power"))
	powerRise := rateIn.Takes("power_escalation", "e2", "rise of its price beyond inflation").Between("-50 %", "100 %").Assume("0 %", "rises with inflation")
	again, when := none(sumIn("replacement", "R", "paid once later, in today's prices")), termIn.Takes("replacement_after", "k", "when").Between("0 years", "200 years").Assume("0 years", formula.None)
	back, d, n := none(sumIn("salvage", "V", "got back at the end, in today's prices")), discountIn(), yearsIn("over which it is added up").Between("0.01 years", "200 years")
	return formula.Formula{
		Name: "life_cycle_cost", Subject: onMoney, What: "all that a plant costs over its years in the money of today, and as a level yearly sum",
		Inputs:   formula.Inputs(first, n, yearly, rise, power, powerRise, again, when, back, d),
		Equation: "LCC = first + Σ A·UPV* + R·SPV(k) - V·SPV(n);  EUAC = LCC·CRF", Error: "that of the sums and rates", Source: nist, Kind: source.Published, Factors: []source.Factor{DiscountRate, Escalation},
		Examples: formula.By(formula.On("first=$2400", "years=15 years", "yearly=$90", "escalation=2 %", "yearly_power=$12", "power_escalation=1 %", "replacement=$450", "replacement_after=8 years", "discount=3 %").
			Is("total", "$4159.40", "$0.05", "worked apart by the method of NIST Handbook 135").Is("a_year", "$348.42", "$0.05", "worked apart by the method of NIST Handbook 135"),
			formula.On("first=$1000", "years=10 years", "salvage=$100", "discount=3 %").Is("total", "$925.59", "$0.01", tables+": 0.7441")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			l, err := LifeCycleCost(Plant{First: first.Of(a), Annuals: []Annual{{yearly.Of(a), rise.Of(a)}, {power.Of(a), powerRise.Of(a)}},
				Replacements: []Dated{{again.Of(a), when.Of(a)}}, Salvage: []Dated{{back.Of(a), n.Of(a)}}, Discount: d.Of(a), Life: n.Of(a)})
			return formula.Give(dollarsIn.Gives("total", "LCC", "in the money of today", l.Total), dollarsIn.Gives("a_year", "EUAC", "level yearly cost worth the same", l.AYear)), err
		},
	}
}

func rangeFormula() formula.Formula {
	in := func(name, what string) formula.In[Money] { return sumIn(name, "", what) }
	l1, m1, h1 := in("low", "low of the first"), in("mid", "usual of the first"), in("high", "high of the first")
	l2, m2, h2 := in("low_2", "low of the second"), in("mid_2", "usual of the second"), in("high_2", "high of the second")
	return formula.Formula{
		Name: "sum_of_ranges", Subject: onMoney, What: "two prices known only within bounds, added",
		Inputs: formula.Inputs(l1, m1, h1, l2, m2, h2), Equation: "mid = m1 + m2,  low = mid - √((m1-l1)² + (m2-l2)²),  high alike", Range: "low ≤ mid ≤ high; prices that have nothing to do with one another",
		Error: "prices that move together spread wider: see the last two results", Source: "propagation of independent errors, JCGM 100:2008 (GUM), 5.1.2", Kind: source.Published,
		Examples: formula.By(formula.On("low=$70", "mid=$100", "high=$130", "low_2=$160", "mid_2=$200", "high_2=$240").Is("low", "$250", "$0.01", "GUM rule by hand: 300 - √(30² + 40²)").Is("low_together", "$230", "$0.01", "by hand: lows added")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x, y := Range{l1.Of(a), m1.Of(a), h1.Of(a)}, Range{l2.Of(a), m2.Of(a), h2.Of(a)}
			for _, r := range []Range{x, y} {
				if r.Low.Cents() > r.Mid.Cents() || r.Mid.Cents() > r.High.Cents() {
					return formula.Outcome{}, fmt.Errorf("sum_of_ranges: low, mid and high must rise: %s, %s, %s", r.Low, r.Mid, r.High)
				}
			}
			s, t := x.Add(y), x.AddTogether(y)
			return formula.Give(dollarsIn.Gives("mid", "", "usual", s.Mid), dollarsIn.Gives("low", "", "low", s.Low), dollarsIn.Gives("high", "", "high", s.High),
				dollarsIn.Gives("low_together", "", "low if they move together", t.Low), dollarsIn.Gives("high_together", "", "high if they move together", t.High)), nil
		},
	}
}

func pumpingFormula() formula.Formula {
	h := formula.Length.Takes("head", "H", "total head, as height of water").Between("0 ft", "3000 ft")
	v := formula.Volume.Takes("volume", "V", "water lifted").Between("0 gal", "100000000 gal").Assume("1000 gal", "the answer is then for each thousand gallons")
	e := formula.Share.Takes("efficiency", "η", "pump and motor together").Between("1 %", "100 %").Assume("35 %", "small submersibles, 25 to 45 % (common practice)")
	p := priceIn.Takes("power_price", "p", "price of power").Between("0 $/kWh", "5 $/kWh").Assume(fmt.Sprintf("%.2f $/kWh", powerPrice()), "mid of our own price list")
	return formula.Formula{
		Name: "pumping_energy", Subject: onMoney, What: "electricity that lifting water takes, and what it costs",
		Inputs: formula.Inputs(h, v, e, p), Equation: "E = 8.34 V H/(2,655,224 η)", Error: "that of the efficiency, often a quarter", Source: "definition of work", Kind: source.Derived,
		Examples: formula.By(formula.On("head=200 ft", "efficiency=35 %", "power_price=0.16 $/kWh").Is("energy", "1.796 kWh", "0.002 kWh", "engineering tables: 0.746 Q H/(3960 η)").Is("cost", "$0.29", "$0.005", "the same at 16 cents"),
			formula.On("head=10 ft", "efficiency=81 %", "volume=600 gal").Is("energy", "0.0233 kWh", "0.0001 kWh", "published: engineering data page on pumping cost")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			en, err := PumpingEnergy(Pumping{Head: unit.FtWater(h.Of(a).Ft()), Efficiency: e.Of(a), Volume: v.Of(a)})
			return formula.Give(formula.Energy.Gives("energy", "E", "from the meter", en), dollarsIn.Gives("cost", "", "at the price of power", USD(en.KWh()*p.Of(a)))), err
		},
	}
}

// powerPrice is the usual price of a kilowatt hour in the bundled list, dollars.
func powerPrice() float64 {
	p, ok := media.Prices().Of(media.ElectricityKWh)
	if !ok {
		return 0
	}
	return float64(p.Mid) / 100
}
