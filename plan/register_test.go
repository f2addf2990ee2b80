package plan_test

import (
	"testing"

	"wellwright/plan"
)

// Every number that an answer rests on has a name, a source and a range around it.
func TestFactorsAreWhole(t *testing.T) {
	names := plan.Register().Names()
	if len(names) < 900 {
		t.Errorf("%d factors are listed, want all rooms' (over 900)", len(names))
	}
	for _, n := range names {
		f, ok := plan.Register().Find(n)
		if !ok || f.What == "" || f.From == "" {
			t.Errorf("%s: what %q, from %q", n, f.What, f.From)
		}
		if (f.Low != 0 || f.High != 0) && !(f.Low <= f.Value && f.Value <= f.High) {
			t.Errorf("%s = %g is outside its range, %g to %g", n, f.Value, f.Low, f.High)
		}
	}
}
