package cloud

import "testing"

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
