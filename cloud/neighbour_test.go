package cloud

import (
	"math"
	"testing"

	"wellwright/water"
)

// Neighbours move what nobody measured here, and never narrow it below the spread
// among wells of one place.
func TestNeighboursSpeakForAnUnmeasuredWell(t *testing.T) {
	hardNear := Evidence{Reports: []water.Report{lab(iron(water.Total, 12), mn(water.Total, 0.8), mg(water.Silica, 30))}}
	many := Evidence{}
	for range 9 {
		many.Near = append(many.Near, hardNear)
	}
	alone, one, nine := weighed(t, Evidence{}), weighed(t, Evidence{Near: []Evidence{hardNear}}), weighed(t, many)
	for _, leaf := range []string{"iron_total_mg_l", "manganese_mg_l", "silica_mg_l"} {
		a, b, c := rangeOf(t, alone, leaf), rangeOf(t, one, leaf), rangeOf(t, nine, leaf)
		if b.P50 <= a.P50 || !b.Assumed {
			t.Errorf("%s: %v alone, %v beside a neighbour with much; want more, and assumed", leaf, a, b)
		}
		if width := math.Log(c.P95/c.P05) / (2 * z05); width < 0.25 {
			t.Errorf("%s: a spread of %.2f beside nine neighbours; want what wells of one place keep (variance of a new value)", leaf, width)
		}
	}
}

// A figure of this well's own outweighs any neighbour.
func TestOwnFigureOutweighsNeighbours(t *testing.T) {
	e := wellA()
	before := weighed(t, e).Forms.Total.P50
	e.Near = []Evidence{wellC(), wellC()}
	if got := weighed(t, e).Forms.Total.P50; math.Abs(got/before-1) > 0.04 {
		t.Errorf("total %.2f beside neighbours with 9.6 mg/L, %.2f alone; want the well's own 2.0 to stand (errors of 5 %% against a factor of two and more)", got, before)
	}
}
