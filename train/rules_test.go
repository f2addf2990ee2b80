package train

import (
	"testing"

	"wellwright/media"
	"wellwright/source"
	"wellwright/stage"
	"wellwright/unit"
	"wellwright/water"
)

// rusty is a quest on raw water with work for every stage.
func rusty() quest {
	w := water.State{Ferrous: unit.MgPerL(5), Particulate: unit.MgPerL(1), Manganese: unit.MgPerL(0.3), PH: unit.PHOf(7.2), Arsenic: unit.MgPerL(0.04)}
	return quest{raw: w, now: w, site: &stage.Site{Factors: source.NewSet(nil)}, want: Targets{Arsenic: unit.MgPerL(0.01), Iron: unit.MgPerL(0.3), Manganese: unit.MgPerL(0.05), Sulfide: unit.MgPerLAsH2S(0.05)}}
}

// Each interaction rule on order has a train that breaks it and sees it said, and
// one beside it that keeps it.
func TestOrderRules(t *testing.T) {
	tests := []struct {
		id            string
		breaks, keeps Train
	}{
		{"polyphosphate_hides", Train{media.PolyphosphateFeed, media.CoatedSandFilter}, Train{media.PolyphosphateFeed}},
		{"oxidised_before_resin", Train{media.PressureAeration, media.Softener}, Train{media.PressureAeration, media.CoatedSandFilter, media.Softener}},
		{"resin_before_oxidiser", Train{media.Softener, media.AirInjectionFilter}, Train{media.AirInjectionFilter, media.Softener}},
		{"carbon_eats_oxidant", Train{media.ChlorineFeed, media.CarbonFilter, media.ContactTank, media.CoatedSandFilter}, Train{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.CarbonFilter}},
		{"peroxide_and_chlorine", Train{media.ChlorineFeed, media.PeroxideFeed, media.CatalyticCarbonFilter}, Train{media.PeroxideFeed, media.CatalyticCarbonFilter}},
		{"peroxide_needs_carbon", Train{media.PeroxideFeed, media.CoatedSandFilter}, Train{media.PeroxideFeed, media.CatalyticCarbonFilter}},
		{"permanganate_needs_bed", Train{media.PermanganateFeed, media.SedimentFilter}, Train{media.PermanganateFeed, media.GreensandFilter}},
		{"solids_need_filter", Train{media.ChlorineFeed, media.ContactTank}, Train{media.ChlorineFeed, media.ContactTank, media.SedimentFilter}},
		{"contact_needs_oxidant", Train{media.ContactTank, media.CoatedSandFilter}, Train{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter}},
		{"coagulant_needs_time", Train{media.CoagulantFeed, media.SedimentFilter}, Train{media.CoagulantFeed, media.ContactTank, media.SedimentFilter}},
		{"coagulant_needs_filter", Train{media.CoagulantFeed, media.ContactTank, media.CartridgeFilter}, Train{media.CoagulantFeed, media.ContactTank, media.CoatedSandFilter}},
		{"coagulant_on_bed", Train{media.CoagulantFeed, media.ContactTank, media.Softener}, Train{media.CoagulantFeed, media.ContactTank, media.SedimentFilter, media.Softener}},
		{"coagulant_behind_filter", Train{media.SedimentFilter, media.CoagulantFeed}, Train{media.CoagulantFeed, media.ContactTank, media.SedimentFilter}},
		{"air_pocket_and_coagulant", Train{media.CoagulantFeed, media.AirInjectionFilter}, Train{media.CoagulantFeed, media.ContactTank, media.SedimentFilter}},
		{"oxidant_behind_coagulant", Train{media.CoagulantFeed, media.PermanganateFeed, media.GreensandFilter}, Train{media.PermanganateFeed, media.CoagulantFeed, media.ContactTank, media.GreensandFilter}},
		{"double_air", Train{media.PressureAeration, media.AirInjectionFilter}, Train{media.AirInjectionFilter}},
		{"air_pocket_and_oxidant", Train{media.ChlorineFeed, media.AirInjectionFilter}, Train{media.AirInjectionFilter}},
		{"rust_on_dissolving_bed", Train{media.CalciteBed}, Train{media.SedimentFilter, media.CalciteBed}},
		{"ultraviolet_last", Train{media.Ultraviolet, media.Softener}, Train{media.Softener, media.Ultraviolet}},
		{"ultraviolet_last", Train{media.Ultraviolet, media.RadonAeration}, Train{media.RadonAeration, media.Ultraviolet}},
		{"tannin_needs_softener", Train{media.TanninExchanger, media.Softener}, Train{media.Softener, media.TanninExchanger}},
		{"oxidised_before_resin", Train{media.OzoneFeed, media.NitrateExchanger, media.SedimentFilter}, Train{media.OzoneFeed, media.SedimentFilter, media.NitrateExchanger}},
		{"oxidant_on_anion_resin", Train{media.ChlorineFeed, media.CoatedSandFilter, media.NitrateExchanger}, Train{media.ChlorineFeed, media.CoatedSandFilter, media.CarbonFilter, media.NitrateExchanger}},
		{"iron_after_anion_resin", Train{media.NitrateExchanger, media.CoatedSandFilter}, Train{media.CoatedSandFilter, media.NitrateExchanger}},
		{"iron_after_anion_resin", Train{media.ArsenicAdsorber, media.ChlorineFeed}, Train{media.ChlorineFeed, media.ArsenicAdsorber}},
		{"arsenic_needs_oxidant", Train{media.PressureAeration, media.CoatedSandFilter, media.ArsenicAdsorber}, Train{media.OzoneFeed, media.CoatedSandFilter, media.ArsenicAdsorber}},
		{"ozone_apart", Train{media.OzoneFeed, media.ChlorineFeed, media.CoatedSandFilter}, Train{media.OzoneFeed, media.CoatedSandFilter}},
		{"ozone_needs_filter", Train{media.CoatedSandFilter, media.OzoneFeed, media.CopperZincFilter}, Train{media.OzoneFeed, media.CoatedSandFilter}},
		{"radon_iron_ahead", Train{media.RadonAeration, media.CoatedSandFilter, media.Ultraviolet}, Train{media.CoatedSandFilter, media.RadonAeration, media.Ultraviolet}},
		{"radon_open_to_air", Train{media.CoatedSandFilter, media.RadonAeration}, Train{media.ChlorineFeed, media.CoatedSandFilter, media.RadonAeration}},
		{"kitchen_tap_last", Train{media.ReverseOsmosis, media.Softener}, Train{media.Softener, media.ReverseOsmosis}},
	}
	seen := map[string]bool{}
	for _, tt := range tests {
		seen[tt.id] = true
		if r, broken := ruleOf(tt.id, tt.breaks); !broken {
			t.Errorf("%s: %s keeps it", tt.id, tt.breaks)
		} else if r.Say == "" || r.From == "" {
			t.Errorf("%s: says nothing or names no source", tt.id)
		}
		if _, broken := ruleOf(tt.id, tt.keeps); broken {
			t.Errorf("%s: %s breaks it", tt.id, tt.keeps)
		}
	}
	for _, r := range Rules() {
		if !seen[r.ID] {
			t.Errorf("rule %s has no train that breaks it in this test", r.ID)
		}
	}
}

// ruleOf reports whether a train breaks the rule of that id.
func ruleOf(id string, t Train) (OrderRule, bool) {
	for _, r := range Rules() {
		if r.ID == id {
			return r, (r.When == nil || r.When(rusty())) && r.broken(t)
		}
	}
	return OrderRule{}, false
}

// The order of the grammar is the usual one of the trade, and every process of
// the house stands in it, or is an addition at the kitchen.
func TestGrammarHoldsEveryProcess(t *testing.T) {
	in := map[media.Process]bool{}
	for _, p := range grammar {
		for _, c := range p.choices {
			in[c.process] = true
		}
	}
	for _, p := range media.Processes() {
		switch p {
		case media.ReverseOsmosis, media.WellRehabilitation, media.ShockDisinfection:
			continue // a kitchen tap; work on the well, told as actions
		}
		if p.Built() != in[p] {
			t.Errorf("%s: built %t, in the grammar %t", p, p.Built(), in[p])
		}
	}
}

func TestTrainReading(t *testing.T) {
	tr := Train{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter}
	if got := tr.String(); got != "chlorine-feed,contact-tank,coated-sand-filter" {
		t.Errorf("String() = %s", got)
	}
	if !tr.Has(media.ContactTank) || tr.Has(media.Softener) {
		t.Error("Has finds what is not there, or misses what is")
	}
	if i := lastIndex(tr, []media.Process{media.ChlorineFeed, media.ContactTank}); i != 1 {
		t.Errorf("lastIndex = %d, want 1", i)
	}
}
