package stage

import (
	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func adsorberFormulas() []formula.Formula { return []formula.Formula{adsorberLifeFormula()} }

func adsorberLifeFormula() formula.Formula {
	n := formula.Count.Takes("bed_volumes", "N", "bed volumes until it is changed; see arsenic_bed_life").Between("100", "200000")
	v := formula.Media.Takes("media", "V", "medium of the first bed, of all side by side").Between("0.1 ft3", "100 ft3")
	d := dailyIn()
	return formula.Formula{
		Name: "adsorber_life", Subject: onStages, What: "water and years that an adsorbent lasts",
		Inputs: formula.Inputs(n, v, d), Equation: "W = N V,  t = W / D", Range: "sample the outlet all the same", Error: "that of the bed volumes, a factor of two", Source: "definition of a bed volume", Kind: source.Derived,
		Figures: []string{RunGal}, Care: "arsenic above the limit: other water for drinking until a certified laboratory has passed the treated tap",
		Examples: formula.By(formula.On("bed_volumes=30000", "media=1.5 ft3", "daily_use=280 gal/day").
			Is("run", "336600 gal", "100 gal", "by hand: 30,000 times 11.22 gal").Is("lasts", "3.3 years", "0.02 years", "by hand: 336,600 / 280 / 365")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			years := adsorberYears(n.Of(a), v.Of(a).Gal(), d.Of(a))
			return formula.Give(formula.Volume.Gives("run", "W", "until it is changed", unit.Gal(n.Of(a)*v.Of(a).Gal())),
				formula.Time.Gives("lasts", "t", "until it is changed", spanOf(years*daysPerYear))), nil
		},
	}
}
