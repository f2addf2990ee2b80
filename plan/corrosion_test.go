package plan_test

import (
	"strings"
	"testing"
)

// An acid water is warned of, and a hard neutral one is not.
func TestCorrosionIsCautioned(t *testing.T) {
	const (
		trade = "common practice, no source: acid water low in alkalinity takes up lead and copper"
		usgs  = "Belitz, Jurgens and Johnson, 2016, USGS SIR 2016-5092: chloride over sulfate above 0.5 with alkalinity below 50 is of high concern"
	)
	cautions := func(words ...string) string {
		return strings.Join(answered(t, changed(t, "e", words...)).Cautions, "\n")
	}
	acid := cautions("ph=6.2", "alkalinity=20")
	if !strings.Contains(acid, "Langelier") || !strings.Contains(acid, "lead and copper") {
		t.Errorf("nothing is said of an acid water (%s): %s", trade, acid)
	}
	if !strings.Contains(acid, "chloride over sulfate") {
		t.Errorf("nothing is said of lead (%s): %s", usgs, acid)
	}
	if calm := cautions("ph=7.5", "alkalinity=200"); strings.Contains(calm, "Langelier") || strings.Contains(calm, "chloride over sulfate") {
		t.Errorf("a neutral, hard water was called corrosive (%s): %s", trade, calm)
	}
}
