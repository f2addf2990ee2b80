package plan_test

import (
	"slices"
	"strings"
	"testing"

	"wellwright/media"
	"wellwright/plan"
	"wellwright/source"
)

// bundled opens a bundled well as it stood at the end of its book.
func bundled(t testing.TB, name string, own map[string]source.Override) *plan.Desk {
	t.Helper()
	return deskOf(t, "../demo/"+name+".yaml", own, plan.Ask{Prices: plan.Prices(), Brief: true})
}

// Where nitrate or arsenic was measured above its limit the first choice meets it at
// the kitchen, with a tap whose cost is in the option's; radon above every advice is
// blown out behind the iron filter.
func TestDrinkingFirstChoices(t *testing.T) {
	for _, tt := range []struct {
		well, first string
		optional    []string
		addon       string
		parts       []media.Part
	}{
		{"arsenic-with-iron", "chlorine-feed,coated-sand-filter,softener", []string{"carbon-filter", "contact-tank"}, "reverse-osmosis", []media.Part{media.OsmosisUnit}},
		{"nitrate-with-infant", "softener", nil, "reverse-osmosis", []media.Part{media.OsmosisUnit}},
		{"radon-granite", "chlorine-feed,coated-sand-filter,radon-aeration", []string{"ultraviolet", "contact-tank"}, "", []media.Part{media.RadonAerator}},
	} {
		a := answered(t, bundled(t, tt.well, nil))
		if len(a.Options) == 0 {
			t.Errorf("%s: no option", tt.well)
			continue
		}
		o := a.Options[0]
		if got := core(o.Train, tt.optional...); got != tt.first {
			t.Errorf("%s: first choice %s, want %s (%s)", tt.well, got, tt.first, byHead)
		}
		if tt.addon != "" && !slices.Contains(o.Addons, tt.addon) {
			t.Errorf("%s: beside the train %v, want %s (%s)", tt.well, o.Addons, tt.addon, byHead)
		}
		for _, want := range tt.parts {
			if !slices.ContainsFunc(o.Parts, func(p plan.Part) bool { return p.Part == string(want) }) {
				t.Errorf("%s: %s is not among the parts paid for", tt.well, want)
			}
		}
	}
}

// Trains that the heads reject are turned down for the reason given there, and those
// they accept meet every hard limit in the likeliest water.
func TestDrinkingTrains(t *testing.T) {
	for _, tt := range []struct {
		well, train string
		limits      []string // none: it is acceptable
	}{
		{"arsenic-with-iron", "softener", []string{"arsenic_at_kitchen"}},
		{"arsenic-with-iron", "arsenic-adsorber", []string{"arsenic_needs_oxidant"}},
		{"arsenic-with-iron", "chlorine-feed,contact-tank,coated-sand-filter,softener,arsenic-adsorber", nil},
		{"nitrate-with-infant", "ultraviolet", []string{"nitrate_at_kitchen", "hardness", "hardness_at_kitchen"}},
		{"nitrate-with-infant", "softener,nitrate-exchanger", nil},
		{"radon-granite", "chlorine-feed,contact-tank,coated-sand-filter,radon-aeration,ultraviolet", nil},
		{"radon-granite", "chlorine-feed,contact-tank,coated-sand-filter,carbon-filter", []string{"radon_on_carbon"}},
		{"radon-granite", "radon-aeration,ultraviolet", []string{"radon_iron_ahead", "iron"}},
		{"radon-granite", "soda-ash-feed,chlorine-feed,contact-tank,coated-sand-filter", []string{"radon_in_house"}},
	} {
		w, err := bundled(t, tt.well, nil).Why(parse(t, tt.train))
		if err != nil {
			t.Fatal(err)
		}
		l := w.Option.FirstLimit
		switch {
		case tt.limits == nil && !w.Meets:
			t.Errorf("%s: %s is turned down by %s (has %g, needs %g %s), acceptable %s", tt.well, tt.train, l.Limit, l.Have, l.Need, l.Unit, byHead)
		case tt.limits != nil && (w.Meets || !slices.Contains(tt.limits, l.Limit)):
			t.Errorf("%s: %s: meets %t, first limit %s; want one of %v (%s)", tt.well, tt.train, w.Meets, l.Limit, tt.limits, byHead)
		}
	}
}

// A user's own level for radon takes the place of the advice.
func TestOwnRadonLevel(t *testing.T) {
	tr := parse(t, "chlorine-feed,contact-tank,coated-sand-filter")
	w, err := bundled(t, "radon-granite", map[string]source.Override{"target_radon": {Value: 20000, Why: "air of the house tested and fit"}}).Why(tr)
	if err != nil {
		t.Fatal(err)
	}
	if slices.ContainsFunc(w.Limits, func(l plan.Limit) bool { return l.Limit == "radon_in_house" && l.Fails }) {
		t.Error("14,000 pCi/L is held against a train where the user has set 20,000")
	}
}

// The interaction rules I26 and I27 of the reference on treatment stand among the
// cautions of a plan: old deposits shed for weeks behind a good plant (second hand),
// and the heater is flushed when it starts (common practice).
func TestInteractionsInCautions(t *testing.T) {
	said := strings.Join(answered(t, reference(t, "c")).Cautions, " ")
	for rule, word := range map[string]string{"I26": "for weeks after a good plant starts", "I27": "then heater"} {
		if !strings.Contains(said, word) {
			t.Errorf("%s: no caution says %q", rule, word)
		}
	}
}
