package stage

import (
	"time"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func softenerFormulas() []formula.Formula {
	return []formula.Formula{softenerSettingFormula(), softenerDaysFormula(), saltFormula(), sodiumFormula()}
}

func saltFormula() formula.Formula {
	s := formula.Mass.Takes("salt", "s", "salt of one regeneration").Between("1 lb", "200 lb")
	t := formula.Time.Takes("interval", "t", "between regenerations").Between("1 days", "60 days")
	n := formula.Count.Takes("vessels", "n", "vessels, each regenerated so").Between("1", "10").Assume("1", "a single softener")
	return formula.Formula{
		Name: "softener_salt", Subject: onStages, What: "salt that a softener uses in a year",
		Inputs: formula.Inputs(s, t, n), Equation: "S = 365 n s / t", Range: "at a fixed interval; by meter it follows the use", Source: "arithmetic", Kind: source.Derived,
		Figures:  []string{SaltLbPerYear},
		Examples: formula.By(formula.On("salt=8 lb", "interval=4 days").Is("salt_a_year", "730 lb", "0.01 lb", "by hand: 8 · 365 / 4")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Mass.Gives("salt_a_year", "S", "in a year", unit.Lb(saltAYear(n.Of(a), s.Of(a).Lb(), daysOf(t.Of(a)))))), nil
		},
	}
}

// saltAYear is the salt of vessels that take so many pounds each so many days.
func saltAYear(vessels, lb, days float64) float64 { return vessels * lb * daysPerYear / days }

// daysOf turns a length of time into days.
func daysOf(t time.Duration) float64 { return t.Hours() / 24 }

func sodiumFormula() formula.Formula {
	h := formula.Hardness.Takes("hardness", "H", "hardness taken out").Between("0 gpg", "200 gpg")
	return formula.Formula{
		Name: "sodium_added", Subject: onStages, What: "sodium that a softener puts in the place of hardness",
		Inputs: formula.Inputs(h), Equation: "Na = H · 22.99 / 50.04", Range: "regenerated with sodium chloride; potassium chloride brings potassium instead", Error: "a softener leaves a little hardness, and so less", Source: "derived from atomic weights", Kind: source.Derived,
		Figures: []string{SodiumAddedMgL}, Care: "someone who must limit sodium asks a doctor, and drinks from a tap that is not softened",
		Examples: formula.By(formula.On("hardness=10 gpg").Is("sodium", "78.6 mg/L", "0.1 mg/L", "by hand: 171.2 mg/L as CaCO3 is 3.421 meq/L, times 22.99")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.MgL.Gives("sodium", "Na", "more than before", unit.MgPerL(sodiumFor(h.Of(a))))), nil
		},
	}
}

// sodiumFor is the sodium that takes the place of a hardness, mg/L.
func sodiumFor(h unit.Hardness) float64 { return h.MgPerLAsCaCO3() * sodiumPerHardness }
