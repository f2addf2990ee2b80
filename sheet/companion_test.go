package sheet

import (
	"strings"
	"testing"
	"unicode/utf8"

	"wellwright/plan"
	"wellwright/source"
	"wellwright/unit"
)

// What an answer holds of by-products, places and proof is on the paper, each once,
// no line wider than the page; and nothing is, where there is nothing.
func TestCompanionsOnPaper(t *testing.T) {
	a := plan.Answer{
		Options: []plan.Option{{Companions: []plan.Companion{{ID: "sodium-added", Say: "The softener adds about 133 mg/L of sodium.", Kind: source.Derived, From: "exchange, charge for charge"}}}},
		Placings: []plan.Placing{{Analyte: "nitrate", Where: "kitchen", Say: "It is swallowed: drinking and cooking."},
			{Analyte: "radon", Where: "house", Say: "It is breathed."}},
		Proof: []plan.Proof{
			{Test: "nitrate", Tap: "K", When: "before anyone drinks it"}, {Test: "lead and copper", Tap: "K", When: "before anyone drinks it"},
			{Test: "nitrate", Tap: "K", When: "every year"},
		},
	}
	p := &page{s: unit.US}
	p.companions(a)
	p.houseOrKitchen(a)
	p.proof(a)
	text := p.String()
	for _, want := range []string{"133 mg/L of sodium", "derived: exchange", "nitrate: at the kitchen tap", "radon: where the water enters the house",
		"before anyone drinks it: nitrate, lead and copper (K)", "every year: nitrate (K)"} {
		if strings.Count(text, want) != 1 {
			t.Errorf("%q stands %d times in\n%s", want, strings.Count(text, want), text)
		}
	}
	for _, l := range strings.Split(text, "\n") {
		if utf8.RuneCountInString(l) > Width {
			t.Errorf("wider than %d: %s", Width, l)
		}
	}
	bare := &page{s: unit.US}
	bare.companions(plan.Answer{})
	bare.houseOrKitchen(plan.Answer{})
	bare.proof(plan.Answer{})
	if bare.String() != "" {
		t.Errorf("nothing to say is said: %s", bare.String())
	}
}
