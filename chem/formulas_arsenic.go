package chem

import (
	"wellwright/formula"
	"wellwright/source"
)

func arsenicFormula() formula.Formula {
	t, ph := temperatureIn(), phIn()
	tds := tdsIn().Assume("250 mg/L", "a fresh water")
	const trade = "fact of treatment: arsenic (III) carries no charge below pH 9, arsenic (V) is an ion (US EPA guidance, from memory)"
	share := func(name, what string, v float64) formula.Result { return formula.Share.Gives(name, "", what, v) }
	return formula.Formula{
		Name: "arsenic_forms", Subject: onIons, What: "how dissolved arsenic stands at a pH: what floc, exchangers and membranes can hold",
		Inputs: formula.Inputs(t, ph, tds), Equation: "share of n protons lost = K_n/(g_n {H+}^n) / Σ, I = 2.5e-5 TDS",
		Error: "0.1 in a constant; which of the two arsenics is there must be measured", Source: nordstrom, Kind: source.FromMemory,
		Care: "arsenic above the limit: other water for drinking until a certified laboratory has passed the treated tap",
		Examples: formula.By(formula.On("temperature=25 C", "ph=7").Is("arsenite_uncharged", "99 %", "1 %", trade).Is("arsenate_uncharged", "0 %", "0.1 %", trade),
			formula.On("temperature=25 C", "ph=9.15", "tds=0 mg/L").Is("arsenite_uncharged", "50 %", "0.1 %", nordstrom)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			f := New(a.Factors).Arsenic(t.Of(a), ph.Of(a), IonicFromTDS(tds.Of(a)))
			return formula.Give(share("arsenite_uncharged", "of arsenic (III), without charge: oxidise it first", f.Uncharged),
				share("arsenate_uncharged", "of arsenic (V), without charge", f.Arsenate[0]),
				share("arsenate_once", "of arsenic (V), with one charge", f.Arsenate[1]),
				share("arsenate_twice", "of arsenic (V), with two", f.Arsenate[2]),
				share("arsenate_thrice", "of arsenic (V), with three", f.Arsenate[3])), nil
		},
	}
}
