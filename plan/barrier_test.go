package plan

import (
	"testing"

	"wellwright/media"
	"wellwright/train"
	"wellwright/unit"
	"wellwright/water"
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

// drunkOnly are limits of what is drunk alone, which a kitchen tap may keep.
var drunkOnly = map[string]bool{"nitrate_at_kitchen": true, "arsenic_at_kitchen": true}

// A kitchen tap treats one tap: what a train breaks in the house it breaks still,
// radon above all, which is breathed.
func TestKitchenTapPassesNoLimitOfTheHouse(t *testing.T) {
	for _, tt := range []struct {
		well  string
		train train.Train
	}{
		{"a", train.Train{media.Softener}}, {"f", train.Train{media.SedimentFilter, media.Softener}}, {"e", train.Train{media.SedimentFilter, media.Softener}},
	} {
		d := watered(wellOpened(t, tt.well), func(w *water.State) { w.Radon = unit.PCiPerL(20000) })
		house := carriedThrough(t, d, tt.train...)
		with := carriedThrough(t, d, append(append(train.Train{}, tt.train...), media.ReverseOsmosis)...)
		for i := range d.Work.Draws {
			broken := map[string]bool{}
			for _, l := range with.Limits[i] {
				if l.Hard() {
					broken[l.ID] = true
				}
			}
			for _, l := range house.Limits[i] {
				if l.Hard() && !drunkOnly[l.ID] && !broken[l.ID] {
					t.Errorf("%s, water %d: %s breaks %s (has %g, needs %g %s), and a membrane at the kitchen tap makes it pass",
						tt.well, i, tt.train, l.ID, l.Have, l.Need, l.Unit)
				}
			}
		}
	}
}
