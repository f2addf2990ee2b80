package plan

import (
	"testing"

	"wellwright/media"
	"wellwright/train"
)

// barriers only take something out: none of them puts into the water what a limit of
// health speaks of.
var barriers = []media.Process{
	media.SedimentFilter, media.CoatedSandFilter, media.GreensandFilter, media.CarbonFilter, media.Softener, media.Ultraviolet, media.ContactTank,
}

// healthShare is the weight of the spread waters in which a train keeps every limit
// of health.
func healthShare(d *Desk, e train.Evaluation) float64 {
	sum := 0.0
	for i, x := range d.Work.Draws {
		if !breaksHealth(e.Limits[i]) {
			sum += x.Weight
		}
	}
	return sum
}

// Taking a barrier out never makes it likelier that the limits of health are kept
// (definition of a barrier: it only takes away).
func TestRemovingABarrierNeverHelpsHealth(t *testing.T) {
	for _, tt := range []struct {
		well  string
		train train.Train
	}{
		{"e", train.Train{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.CarbonFilter, media.Softener}},
		{"e", train.Train{media.SedimentFilter, media.Softener, media.Ultraviolet}},
		{"f", train.Train{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.CarbonFilter, media.Softener}},
		{"c", train.Train{media.PressureAeration, media.CoatedSandFilter, media.Softener}},
		{"c", train.Train{media.GreensandFilter, media.Softener}},
	} {
		d := wellOpened(t, tt.well)
		all := healthShare(d, carriedThrough(t, d, tt.train...))
		for k, p := range tt.train {
			if !(train.Train{p}).Has(barriers...) {
				continue
			}
			less := append(append(train.Train{}, tt.train[:k]...), tt.train[k+1:]...)
			if got := healthShare(d, carriedThrough(t, d, less...)); got > all+1e-9 {
				t.Errorf("%s: %s keeps the limits of health in %.3f of the waters, without the %s in %.3f", tt.well, tt.train, all, p.Words(), got)
			}
		}
	}
}
