package water

import (
	"testing"

	"wellwright/source"
)

var defaults = source.NewSet(nil)

func TestFactors(t *testing.T) {
	if _, err := source.NewRegister(Factors()); err != nil {
		t.Fatal(err)
	}
	for _, f := range Factors() {
		if f.What == "" || f.From == "" {
			t.Errorf("%s lacks words or a source", f.Name)
		}
	}
}

// A factor put in by the user changes the verdict.
func TestOwnFactor(t *testing.T) {
	r := in("meq/L", Calcium, 5.3, Sodium, 0.3, Magnesium, 0, Alkalinity, 5.2, Chloride, 0.1, Sulfate, 0.1)
	if f := find1(CheckReport(r, nil), "charge_balance"); f.Verdict != Notice && f.Verdict != OK {
		t.Fatalf("%+v", f)
	}
	own := source.NewSet(map[string]source.Override{"check_balance_notice": {Value: 0.1, Why: "stricter"}, "check_balance_doubt": {Value: 0.2, Why: "stricter"}})
	if f := find1(CheckReportWith(own, r, nil), "charge_balance"); f.Verdict != Doubt {
		t.Errorf("with 0.2 %% the balance of %g %% is %v, want doubt", f.Value, f.Verdict)
	}
}
