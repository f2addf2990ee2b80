package plan_test

import (
	"slices"
	"strings"
	"testing"

	"wellwright/plan"
	"wellwright/stage"
)

// Facts of the trade, as checks. All are common practice and have no source.
const trade = "common practice, no source"

// changed answers a reference well with inputs changed.
func changed(t testing.TB, well string, words ...string) *plan.Desk {
	t.Helper()
	cs, bad := plan.ParseChanges(words)
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	return reference(t, well).With(cs)
}

// why carries one train through a reference well with inputs changed.
func why(t testing.TB, well, tr string, words ...string) plan.Why {
	t.Helper()
	w, err := changed(t, well, words...).Why(parse(t, tr))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func failsBy(w plan.Why, limit string) bool {
	return slices.ContainsFunc(w.Limits, func(l plan.Limit) bool { return l.Limit == limit && l.Fails })
}

func TestFactsOfTheTrade(t *testing.T) {
	tests := []struct {
		fact, well, train string
		change            []string
		meets             bool
		limit             string // that fails, where it does not do; or a caution that must show
	}{
		{"a sediment filter does nothing for ferrous iron", "a", "sediment-filter,softener", []string{"ferrous=6", "particulate=0.05"}, false, "ferrous"},
		{"a sediment filter is enough for moderate particulate iron", "a", "sediment-filter,softener", []string{"ferrous=0.05", "particulate=2"}, true, ""},
		{"a softener copes with up to about 5 mg/L ferrous", "a", "softener", []string{"ferrous=4.9", "particulate=0.05"}, true, "ferrous"},
		{"and with no more", "a", "softener", []string{"ferrous=5.2", "particulate=0.05"}, false, "ferrous"},
		{"best with low oxygen", "a", "softener", []string{"oxygen=3"}, false, "oxygen"},
		{"air injection is used up to about 15 mg/L", "c", "air-injection-filter,softener", []string{"iron=14"}, true, "iron"},
		{"and no further", "c", "air-injection-filter,softener", []string{"iron=16"}, false, "iron"},
		{"most practice is happier below 7", "a", "air-injection-filter,softener", []string{"iron=8"}, true, "iron"},
		{"air injection from pH 7.2 up", "a", "air-injection-filter,softener", []string{"ph=7.1"}, true, "ph-low"},
		{"and not at low pH", "a", "air-injection-filter,softener", []string{"ph=6.7"}, false, "ph-low"},
		{"polyphosphate hides iron up to about 1 mg/L, for cold use", "a", "polyphosphate-feed", []string{"iron=0.9", "hardness=2"}, true, ""},
		{"ultraviolet is spoilt by iron above 0.3", "a", "ultraviolet", []string{"iron=0.5", "hardness=5"}, false, "iron"},
	}
	for _, tt := range tests {
		w := why(t, tt.well, tt.train, tt.change...)
		if w.Meets != tt.meets {
			t.Errorf("%s: %s with %v meets %t (first limit %s), want %t (%s)", tt.fact, tt.train, tt.change, w.Meets, w.Option.FirstLimit.Limit, tt.meets, trade)
		}
		if tt.limit != "" && !failsBy(w, tt.limit) {
			t.Errorf("%s: nothing is said of %s (%s)", tt.fact, tt.limit, trade)
		}
	}
}

// The thin evidence for copper-zinc granules on iron is said.
func TestThinEvidenceIsSaid(t *testing.T) {
	w := why(t, "a", "copper-zinc-filter,softener")
	text := strings.Join(w.Option.WillNot, " ")
	for _, s := range w.Option.Stages {
		text += strings.Join(s.Cautions, " ")
	}
	if !strings.Contains(text, "thin") && !strings.Contains(text, "evidence") {
		t.Errorf("copper-zinc granules: nothing is said of the thin evidence (%s): %s", trade, text)
	}
}

// The hardness setting rises by about 3 gpg for each mg/L of ferrous iron.
func TestSettingRisesWithIron(t *testing.T) {
	setting := func(ferrous string) float64 {
		d := opened(t, "a", nil)
		cs, bad := plan.ParseChanges([]string{ferrous})
		if len(bad) > 0 {
			t.Fatal(bad)
		}
		w, err := d.With(cs).Why(parse(t, "softener"))
		if err != nil {
			t.Fatal(err)
		}
		return w.Option.Stages[0].Settings[stage.HardnessGPG]
	}
	if rise := setting("ferrous=4") - setting("ferrous=1"); rise < 8 || rise > 10 {
		t.Errorf("3 mg/L more ferrous iron raises the setting by %g gpg, want 9 (3 gpg per mg/L, %s)", rise, trade)
	}
}

// What one pump can wash in the likeliest supply, a stronger one at the same well
// can wash; a tenth in hand is asked for beside, and may be wanting.
func TestStrongerPumpWashesNoLess(t *testing.T) {
	washed := false
	for _, pump := range []string{"pump=3", "pump=5", "pump=7", "pump=9", "pump=11", "pump=14"} {
		w := why(t, "c", "chlorine-feed,contact-tank,coated-sand-filter,softener", pump)
		now := !slices.ContainsFunc(w.Limits, func(l plan.Limit) bool { return l.Limit == "backwash_flow" && l.Have < 0.999*l.Need/1.1 })
		if washed && !now {
			t.Errorf("%s cannot wash what a weaker pump could (%s)", pump, trade)
		}
		washed = now
	}
	if !washed {
		t.Error("a pump of 14 gpm washes no bed of well c")
	}
}
