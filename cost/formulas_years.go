package cost

import (
	"wellwright/formula"
	"wellwright/source"
)

func usedIn() formula.In[Money] {
	return sumIn("yearly", "used", "what is used up in a year, in today's prices")
}

func renewedIn() formula.In[Money] {
	return sumIn("replacement", "R", "price of a part that is renewed over and over, in today's prices").Assume("$0", formula.None)
}

func betweenIn() formula.In[Term] {
	return termIn.Takes("replacement_after", "y", "years between its renewals").Between("0.1 years", "200 years").Assume("10 years", "common for pumps and beds")
}

func yearlyCostFormula() formula.Formula {
	u, r, y := usedIn(), renewedIn(), betweenIn()
	return formula.Formula{
		Name: "yearly_cost", Subject: onMoney, What: "what a plant costs in an ordinary year, renewals spread over their lives",
		Inputs: formula.Inputs(u, r, y), Equation: "yearly = used + Σ R / y", Range: "no interest is counted; used is Σ amount × price", Error: "that of the prices and lives", Source: "definition", Kind: source.Derived,
		Figures:  []string{yearlyFigure},
		Examples: formula.By(formula.On("yearly=$90", "replacement=$450", "replacement_after=9 years").Is("a_year", "$140", "$0.01", "by hand: 90 + 450 / 9")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			sum := u.Of(a).Add(r.Of(a).Times(eachYear(y.Of(a).Years())))
			return formula.Give(dollarsIn.Gives("a_year", "", "in an ordinary year", sum)), nil
		},
	}
}

func tenYearFormula() formula.Formula {
	first, u, r, y := sumIn("first", "first", "paid at the start"), usedIn(), renewedIn(), betweenIn()
	d := discountIn()
	e := rateIn.Takes("escalation", "e", "rise of prices beyond inflation").Between("-50 %", "100 %").Rests(Escalation, 100, "%", "as in a plan")
	n := yearsIn("that are added up").Rests(Horizon, 1, "years", "as in a plan")
	return formula.Formula{
		Name: "ten_year_cost", Subject: onMoney, What: "what a plant comes to over the years that a plan adds up, in the money of today",
		Inputs:   formula.Inputs(first, u, r, y, d, e, n),
		Equation: "ten-year = first + used·UPV* + Σ R·Σ_k ((1 + e)/(1 + d))^(k y), 0 < k y < n;  UPV* as in rising_present_value",
		Range:    "yearly uses paid at year end, renewals in their year; one on the last day is left out", Error: "that of the prices, some 40 % where they are ours", Source: nist, Kind: source.Published,
		Factors: []source.Factor{DiscountRate, Escalation, Horizon}, Figures: []string{tenYearFigure},
		Examples: formula.By(formula.On("first=$2400", "yearly=$100", "replacement=$450", "replacement_after=4 years", "discount=3 %", "escalation=0 %", "years=10 years").
			Is("total", "$4008.07", "$0.05", tables+": 8.53020 · 100, and 0.88849 + 0.78941 of 450"),
			formula.On("first=$1000", "yearly=$0", "replacement=$450", "replacement_after=5 years", "discount=3 %", "escalation=0 %", "years=10 years").
				Is("total", "$1388.17", "$0.05", tables+": 0.86261 of 450; the renewal of the last day is left out")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t, err := terms{d: d.Of(a).ShareAYear(), e: e.Of(a).ShareAYear(), n: n.Of(a).Years()}.valued()
			if err != nil {
				return formula.Outcome{}, err
			}
			sum := first.Of(a).Add(u.Of(a).Times(t.upv)).Add(r.Of(a).Times(t.renewals(y.Of(a).Years())))
			return formula.Give(dollarsIn.Gives("total", "", "in the money of today", sum)).With(formula.Sym("UPV*", t.upv, "years")), nil
		},
	}
}
