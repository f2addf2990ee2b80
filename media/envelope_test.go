package media

import (
	"strings"
	"testing"
)

// limitOf returns one limit of a process.
func limitOf(t *testing.T, p Process, id string) EnvelopeLimit {
	t.Helper()
	for _, l := range Envelope(p) {
		if l.ID == id {
			return l
		}
	}
	t.Fatalf("%s has no limit %q", p, id)
	return EnvelopeLimit{}
}

// Limits read in public text, or on which the house has decided.
func TestEnvelopeFigures(t *testing.T) {
	tests := []struct {
		p               Process
		id              string
		of              Quantity
		atLeast         bool
		caution, refuse float64
		source          string
	}{
		{Softener, "ferrous", Ferrous, false, 2, 5, "common practice"},
		{Softener, "free-chlorine", FreeChlorine, false, 0.5, 1, "from memory: 8 % and 10 % cross-linked resin"},
		{Softener, "sulfide", Sulfide, false, none, 0.05, "published: Virginia Cooperative Extension 356-488, tasted at 0.05 mg/L"},
		{AirInjectionFilter, "iron", TotalIron, false, 7, 15, "common practice"},
		{AirInjectionFilter, "ph-low", PH, true, 7.2, 6.8, "derived: Stumm and Lee 1961"},
		{LightweightFilter, "oxygen", OxygenPerIron, true, 0.20, 0.15, "second hand: water-treatment handbook, oxygen 15 % of iron"},
		{LightweightFilter, "ph-low", PH, true, 7.0, 6.8, "second hand: water-treatment handbook, pH 6.8"},
		{LightweightFilter, "free-chlorine", FreeChlorine, false, 0.2, 0.5, "from memory: below 0.5 mg/L"},
		{GreensandFilter, "iron", TotalIron, false, 15, none, "second hand: North Carolina Cooperative Extension, below 15 with manganese"},
		{GreensandFilter, "ph-low", PH, true, 6.7, 6.2, "second hand: water-treatment handbook, 6.7"},
		{PolyphosphateFeed, "iron-manganese", IronPlusManganese, false, 1, 3, "published: Wisconsin NR 811.56, 1.0 mg/L"},
		{CarbonFilter, "sulfide", Sulfide, false, 0.3, 1, "published: Texas Agricultural Extension, 0.05 to 0.3 mg/L"},
		{Ultraviolet, "iron", TotalIron, false, 0.1, 0.3, "common practice"},
		{Ultraviolet, "hardness", Hardness, false, 7, 15, "common practice: 7 gpg"},
	}
	for _, tt := range tests {
		l := limitOf(t, tt.p, tt.id)
		caution, refuse := float64(none), float64(none)
		if l.Caution != nil {
			caution = l.Caution.Value
		}
		if l.Refuse != nil {
			refuse = l.Refuse.Value
		}
		if l.Of != tt.of || l.AtLeast != tt.atLeast || caution != tt.caution || refuse != tt.refuse {
			t.Errorf("%s %s: %s, at least %t, caution %g, refusal %g, want %s, %t, %g, %g (%s)",
				tt.p, tt.id, l.Of, l.AtLeast, caution, refuse, tt.of, tt.atLeast, tt.caution, tt.refuse, tt.source)
		}
	}
}

// Every limit has at least one bound, and the refusal lies beyond the caution.
func TestEnvelopesAreOrdered(t *testing.T) {
	for _, p := range Processes() {
		seen := map[string]bool{}
		for _, l := range Envelope(p) {
			if seen[l.ID] {
				t.Errorf("%s: limit %q stands twice", p, l.ID)
			}
			seen[l.ID] = true
			if l.Say == "" || l.Caution == nil && l.Refuse == nil {
				t.Errorf("%s: limit %q says nothing", p, l.ID)
				continue
			}
			if l.Caution == nil || l.Refuse == nil {
				continue
			}
			beyond := l.Refuse.Value > l.Caution.Value
			if l.AtLeast {
				beyond = l.Refuse.Value < l.Caution.Value
			}
			if !beyond {
				t.Errorf("%s: limit %q refuses at %g before it cautions at %g", p, l.ID, l.Refuse.Value, l.Caution.Value)
			}
		}
	}
}

// A floor and a ceiling on the same quantity must leave room between them.
func TestEnvelopesLeaveRoom(t *testing.T) {
	for _, p := range Processes() {
		for _, low := range Envelope(p) {
			for _, high := range Envelope(p) {
				if !low.AtLeast || high.AtLeast || low.Of != high.Of || low.Caution == nil || high.Caution == nil {
					continue
				}
				if low.Caution.Value >= high.Caution.Value {
					t.Errorf("%s: %s must be at least %g and at most %g", p, low.Of, low.Caution.Value, high.Caution.Value)
				}
			}
		}
	}
}

func TestQuantitiesHaveWords(t *testing.T) {
	seen := map[string]Quantity{}
	for _, q := range Quantities() {
		if q.String() == "" {
			t.Errorf("quantity %d has no words", int(q))
		}
		if other, ok := seen[q.String()]; ok {
			t.Errorf("quantities %d and %d are both %q", int(other), int(q), q)
		}
		seen[q.String()] = q
	}
}

// No word of the tables may promise what no filter can.
func TestWordsMakeNoPromise(t *testing.T) {
	for _, p := range Processes() {
		for _, l := range Envelope(p) {
			for _, word := range []string{"guarantee", "safe to drink"} {
				if strings.Contains(l.Say, word) {
					t.Errorf("%s %s says %q", p, l.ID, l.Say)
				}
			}
		}
	}
}
