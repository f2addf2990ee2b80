package train

import (
	"testing"

	"wellwright/media"
	"wellwright/unit"
)

// The further stages are tried where the water, the room and the owner ask for them,
// and nowhere else.
func TestSearchTriesFurtherStages(t *testing.T) {
	yes, no := true, false
	further := []media.Process{media.OzoneFeed, media.RadonAeration, media.TanninExchanger, media.NitrateExchanger, media.ArsenicAdsorber}
	for _, tt := range []struct {
		name  string
		house house
		wants []media.Process
	}{
		{"iron alone", usual(), nil},
		{"ozone for an owner who feeds no chemicals", usual().with(func(h *house) {
			h.water.Ferrous, h.water.OrganicCarbon, h.pump = mg(1), mg(0.5), 10 // a household generator gives no more
			h.site.House.Room.Power, h.site.House.Owner.Weekly, h.site.House.Owner.Chemicals = &yes, &yes, &no
		}), further[:1]},
		{"radon", usual().with(func(h *house) { h.water.Radon = unit.PCiPerL(12000) }), further[1:2]},
		{"bound iron", clear().with(func(h *house) { h.water.Bound, h.water.OrganicCarbon = mg(0.25), mg(4) }), further[2:3]},
		{"nitrate", clear().with(func(h *house) { h.water.Nitrate = unit.MgPerLAsN(14) }), further[3:4]},
		{"arsenic (V)", clear().with(func(h *house) { h.water.Arsenic, h.water.ArsenicV = mg(0.03), mg(0.03) }), further[4:]},
	} {
		found := tt.house.work(t).Search()
		for _, p := range further {
			offered, wanted := 0, Train(tt.wants).Has(p)
			for _, e := range found.Trains {
				if e.Train.Has(p) {
					offered++
				}
			}
			if (offered > 0) != wanted {
				t.Errorf("%s: %d of %d trains hold %s, want some: %t", tt.name, offered, len(found.Trains), p, wanted)
			}
		}
	}
}

// Iron plates out in a radon aerator: above half a milligram it stands behind the
// filter or softener that takes the iron, below it may stand first; and always ahead
// of carbon, which would keep the radon (reference on treatment, 3.22 and I29).
func TestRadonAeratorStandsBehindTheIron(t *testing.T) {
	for _, iron := range []float64{0, 0.45, 0.55, 4} {
		h := usual().with(func(h *house) { h.water.Ferrous, h.water.Radon = mg(iron), unit.PCiPerL(12000) })
		seen := false
		for _, e := range h.work(t).Search().Trains {
			at := e.Train.index([]media.Process{media.RadonAeration})
			if at < 0 {
				continue
			}
			seen = true
			if iron > 0.5 && !e.Train[:at].Has(append([]media.Process{media.Softener}, filters...)...) {
				t.Errorf("%g mg/L of iron: %s", iron, e.Train)
			}
			if e.Train[:at].Has(media.CarbonFilter) || !e.Train.Has(media.Ultraviolet, media.ChlorineFeed) {
				t.Errorf("carbon ahead of the aerator, or nothing that disinfects: %s", e.Train)
			}
		}
		if !seen {
			t.Errorf("%g mg/L of iron: no train aerates the radon", iron)
		}
	}
}

// The house is pumped again from a radon aerator: what is lost ahead of it does not
// count against the top fixture.
func TestPressureIsCountedFromTheAeratorsPump(t *testing.T) {
	h := clear().with(func(h *house) { h.water.Radon = unit.PCiPerL(12000) })
	ahead := h.carry(t, Train{media.Softener, media.RadonAeration, media.Ultraviolet}).Budget
	behind := h.carry(t, Train{media.RadonAeration, media.Softener, media.Ultraviolet}).Budget
	if !ahead.Boosted || !behind.Boosted || ahead.Clean >= behind.Clean {
		t.Errorf("clean loss %.1f psi with the softener ahead of the aerator, %.1f behind it, boosted %t and %t", ahead.Clean, behind.Clean, ahead.Boosted, behind.Boosted)
	}
}

// Radon is a caution from the advice up, ever graver, and a refusal from 10,000 pCi/L:
// the advice of the states on the older list runs from 2,000 to 10,000 (second hand).
func TestRadonLimit(t *testing.T) {
	for _, tt := range []struct {
		have        float64
		fails, hard bool
		doubt       float64
	}{{3999, false, false, 0}, {4000, false, false, 0}, {4001, true, false, 1.0 / 6000}, {7000, true, false, 0.5}, {9999, true, false, 5999.0 / 6000}, {10000, true, true, 0}} {
		l := radonLimit(tt.have, 4000, 10000)
		if l.Fails() != tt.fails || l.Hard() != tt.hard || l.Doubt-tt.doubt > 1e-9 || tt.doubt-l.Doubt > 1e-9 {
			t.Errorf("%g pCi/L: fails %t, hard %t, doubt %g; want %t, %t, %g", tt.have, l.Fails(), l.Hard(), l.Doubt, tt.fails, tt.hard, tt.doubt)
		}
	}
	if l := radonLimit(11000, 12000, 10000); l.Fails() {
		t.Error("below a level of the user's own it fails")
	}
}

// A tap belongs beside a train where more than a tenth of the waters stay above.
func TestTapByShareOfTheWaters(t *testing.T) {
	with := func(above int) bool {
		h := clear()
		w := h.work(t)
		d := w.Draws[0]
		w.Draws = w.Draws[:0]
		for i := range 20 {
			x := d
			x.Weight = 1.0 / 20
			if x.Water.Nitrate = unit.MgPerLAsN(8); i >= 20-above {
				x.Water.Nitrate = unit.MgPerLAsN(14)
			}
			w.Draws = append(w.Draws, x)
		}
		few := NewWork(&h.site, w.Draws, asked())
		e, err := few.Evaluate(Train{media.Softener})
		if err != nil {
			t.Fatal(err)
		}
		return few.Complete(e).Tap != nil
	}
	for above, want := range map[int]bool{0: false, 2: false, 3: true, 20: true} {
		if got := with(above); got != want {
			t.Errorf("%d of 20 waters above the limit: tap %t, want %t", above, got, want)
		}
	}
}
