package train

import (
	"testing"

	"wellwright/cloud"
	"wellwright/media"
	"wellwright/unit"
	"wellwright/water"
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

// A search offers permanganate and peroxide only where chlorine has trouble, and then
// it does; never without the bed that is their reactor (reference on treatment, 3.10,
// 3.11 and 4.2: ammonia, organic iron, manganese below pH 7; sulfide).
func TestFeedsBesideChlorine(t *testing.T) {
	pink, peroxide := media.PermanganateFeed, media.PeroxideFeed
	for _, tt := range []struct {
		name  string
		water func(*water.State)
		wants Train
	}{
		{"iron and manganese", func(w *water.State) {}, nil},
		{"ammonia at the limit", func(w *water.State) { w.Ammonia = unit.MgPerLAsN(0.3) }, nil},
		{"ammonia above it", func(w *water.State) { w.Ammonia = unit.MgPerLAsN(0.5) }, Train{pink}},
		{"manganese in acid water", func(w *water.State) { w.PH = unit.PHOf(6.9) }, Train{pink}},
		{"organic matter", func(w *water.State) { w.OrganicCarbon, w.Manganese = mg(2.5), mg(0.02) }, Train{pink, peroxide}},
		{"sulfide that carbon takes", func(w *water.State) { w.Sulfide = unit.MgPerLAsH2S(0.3) }, nil},
		{"sulfide", func(w *water.State) { w.Sulfide = unit.MgPerLAsH2S(1) }, Train{peroxide}},
	} {
		h := usual().with(func(h *house) {
			h.water.Ferrous, h.water.Manganese, h.water.PH, h.water.OrganicCarbon, h.water.Ammonia = mg(2.5), mg(0.2), unit.PHOf(7.4), mg(0.5), unit.MgPerLAsN(0)
			h.pump = 14
			tt.water(&h.water)
		})
		offered := map[media.Process]int{}
		for _, e := range h.work(t).Search().Trains {
			for _, p := range []media.Process{pink, peroxide} {
				if e.Train.Has(p) {
					offered[p]++
				}
			}
			if r, broken := incomplete(e.Train, h.work(t).start().quest()); broken {
				t.Errorf("%s: %s breaks %s", tt.name, e.Train, r.ID)
			}
		}
		for _, p := range []media.Process{pink, peroxide} {
			if (offered[p] > 0) != tt.wants.Has(p) {
				t.Errorf("%s: %d trains with %s, want some: %t", tt.name, offered[p], p, tt.wants.Has(p))
			}
		}
	}
}

// What is given up early because no later place offers what it needs is given up for
// good: from that place on the grammar holds none of it (definition).
func TestTooLateIsForGood(t *testing.T) {
	for _, r := range orderRules {
		if r.Law != Needs {
			continue
		}
		from, known := lastChance[r.ID]
		if !known {
			t.Errorf("%s: the grammar never offers what it needs", r.ID)
		}
		for _, p := range grammar[from:] {
			for _, ch := range p.choices {
				if Train(r.Then).Has(ch.process) {
					t.Errorf("%s: %s still stands at %q", r.ID, ch.process, p.name)
				}
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

// A coagulant is tried only where a jar gave its dose, and then with time and a filter
// behind it and never ahead of a softener without one (reference on treatment, 4.2:
// coagulant or chlorine and retention for organic iron, by jar).
func TestCoagulantByItsJar(t *testing.T) {
	bound := clear().with(func(h *house) {
		h.water.Bound, h.water.OrganicCarbon, h.water.PH = mg(1.9), mg(5), unit.PHOf(6.9)
		h.pump = 14
	})
	count := func(w *Work) int {
		n := 0
		for _, e := range w.Search().Trains {
			if e.Train.Has(media.CoagulantFeed) {
				n++
				if !e.Train.Has(media.ContactTank) || !e.Train.Has(flocBeds...) {
					t.Errorf("%s: no time or no filter behind the coagulant", e.Train)
				}
			}
		}
		return n
	}
	if n := count(bound.work(t)); n > 0 {
		t.Errorf("%d trains with a coagulant that no jar gave a dose", n)
	}
	w := bound.work(t)
	for i := range w.Draws {
		w.Draws[i].Supply.Jars = &cloud.JarDoses{Alum: &cloud.Dosed{Low: mg(20), Value: mg(30), High: mg(40), Left: &cloud.Leftover{Low: mg(0.08), Value: mg(0.1), High: mg(0.12)}}}
	}
	if count(w) == 0 {
		t.Error("no train with a coagulant though the jar left 0.1 of 1.9 mg/L")
	}
}
