package plan

import (
	"slices"
	"testing"
)

// A what-if that crosses a limit of health brings its alert, its gate and the limit at
// the tap; one below it brings none.
func TestWhatIfCrossesALimitOfHealth(t *testing.T) {
	const from = "40 CFR 141.62: nitrate 10 mg/L as N, arsenic 0.010 mg/L; US EPA 2004: manganese 0.3"
	for _, tt := range []struct {
		change, analyte string
		above           bool
	}{
		{"nitrate=9.9", "nitrate", false}, {"nitrate=14", "nitrate", true},
		{"arsenic=0.0099", "arsenic", false}, {"arsenic=0.03", "arsenic", true}, {"manganese=0.5", "manganese", true},
	} {
		cs, bad := ParseChanges([]string{tt.change})
		if len(bad) > 0 {
			t.Fatal(bad)
		}
		before := wellOpened(t, "a")
		d := before.With(cs)
		alerted := slices.ContainsFunc(d.alerts(), func(a Alert) bool { return a.Analyte == tt.analyte && !a.Met })
		gated := slices.ContainsFunc(d.gates(), func(g Gate) bool { return g.ID == tt.analyte })
		if alerted != tt.above || gated != tt.above {
			t.Errorf("%s: alert %t, gate %t, want %t (%s)", tt.change, alerted, gated, tt.above, from)
		}
		want := d.Work.Want
		switch tt.analyte {
		case "nitrate":
			if held := want.Nitrate.MgPerLAsN() > 0; held != tt.above {
				t.Errorf("%s: the limit at the tap holds: %t, want %t (%s)", tt.change, held, tt.above, from)
			}
		case "arsenic":
			if held := want.Arsenic.MgPerL() > 0; held != tt.above {
				t.Errorf("%s: the limit at the tap holds: %t, want %t (%s)", tt.change, held, tt.above, from)
			}
		}
		if len(before.supposed) > 0 || len(d.Present.Reports) != len(before.Present.Reports) {
			t.Errorf("%s: what is supposed has become evidence", tt.change)
		}
	}
}
