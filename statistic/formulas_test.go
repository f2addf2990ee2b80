package statistic

import (
	"strings"
	"testing"

	"wellwright/formula"
	"wellwright/source"
)

// Every worked example of the register stands within the digits of its source.
func TestFormulaExamples(t *testing.T) {
	for _, f := range Formulas() {
		if len(f.Examples) == 0 || len(f.Examples[0].Wants) == 0 {
			t.Errorf("%s has no worked example", f.Name)
		}
		for _, c := range f.Checks() {
			if c.Err != nil {
				t.Errorf("%s %v: %v (%s)", c.Formula, c.Given, c.Err, c.Source)
			}
			if c.Source == "" {
				t.Errorf("%s: %s has no source", c.Formula, c.Want)
			}
		}
	}
}

// A formula refuses what it cannot answer, and names the input at fault.
func TestFormulasRefuse(t *testing.T) {
	byName := map[string]formula.Formula{}
	for _, f := range Formulas() {
		byName[f.Name] = f
	}
	for _, tt := range []struct {
		formula string
		given   []string
		says    string
	}{
		{"removal", []string{"raw_result=<1", "treated_result=<1"}, "say nothing of removal"},
		{"removal", []string{"raw_result=10", "treated_result=0"}, "treated_result"},
		{"removal", []string{"raw_result=10", "treated_result=none found"}, "treated_result"},
		{"exceedance_upper", []string{"exceedances=1.5", "samples=5"}, "whole number"},
		{"exceedance_upper", []string{"exceedances=6", "samples=5"}, "from 0 to 5"},
		{"failed_samples", []string{"only_first_failed=0", "only_second_failed=0"}, "discordant"},
		{"samples_for_half_width", []string{"half_width=0.000001", "standard_deviation=1"}, "number of samples"},
		{"cusum_run_length", []string{"chart_slack=3", "chart_limit=20"}, "run length"},
		{"breakthrough_time", []string{"curve_rate=1 1/min", "half_time=1 h", "breakthrough_share=100 %"}, "breakthrough_share"},
	} {
		given, bad := byName[tt.formula].Read(tt.given)
		if len(bad) == 0 {
			_, bad = byName[tt.formula].Answer(given, source.Set{})
		}
		if len(bad) != 1 || !strings.Contains(bad[0].Error(), tt.says) {
			t.Errorf("%s %v: %v, want one error that says %q", tt.formula, tt.given, bad, tt.says)
		}
	}
}
