package cloud

import (
	"testing"

	"wellwright/water"
)

// However far out a reading is, something is believed, and neutral.
func TestExtremeReadingsLeaveWaters(t *testing.T) {
	for _, rs := range [][]water.Result{
		{alk(0.2)}, {alk(0)}, {alk(-50)}, {alk(5000)}, {pHOf(2)}, {pHOf(13), alk(1)}, {iron(water.Total, 50000)}, {mg(water.Chloride, 99999)}, {mg(water.Calcium, 1e-9)},
		{alk(0.3), mg(water.Sulfate, 3000), mg(water.Calcium, 1)}, {hard(0)}, {mg(water.Sodium, 1e5), alk(0.1)}, {degC(59)}, {iron(water.Total, 1e-12)},
	} {
		c := weighed(t, Evidence{Reports: []water.Report{lab(rs...)}})
		if len(c.Draws) != int(Full) || c.Quality.Distinct < 500 {
			t.Errorf("%v: %+v, want %d draws, 500 of them distinct", rs, c.Quality, Full)
		}
		for _, d := range c.Draws {
			if net := netOf(d.Water); !(net > -1e-6 && net < 1e-6) {
				t.Fatalf("%v: a draw carries %g meq/L", rs, net)
			}
		}
	}
}
