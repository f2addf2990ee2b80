package nexttest

import (
	"math"
	"math/rand/v2"
	"testing"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// Reference well f's demand by parts, worked by hand: iron 2.6, manganese 0.84,
// ammonia 3.0, sulfide 5.0 to sulfur and up to 20 to sulfate.
func TestDemandOfADraw(t *testing.T) {
	for _, tt := range []struct{ share, want, tol float64 }{
		{0, 2.6 + 0.84 + 3.04 + 5.0, 0.1}, {1, 2.6 + 0.84 + 3.04 + 20.0, 0.1}, {0.5, 2.6 + 0.84 + 3.04 + 12.5, 0.1},
	} {
		var d cloud.Draw
		d.Water.Ferrous, d.Water.Manganese = unit.MgPerL(4.1), unit.MgPerL(0.65)
		d.Water.Sulfide, d.Water.Ammonia = unit.MgPerLAsH2S(2.4), unit.MgPerLAsN(0.4)
		d.Supply.SulfateShare, d.Supply.AmmoniaRatio = tt.share, 7.6
		if got := Demand(chem.Hypochlorite, &d).MgPerL(); math.Abs(got-tt.want) > tt.tol {
			t.Errorf("share %g: demand %g, want %g ± %g (worked by hand for the reference wells)", tt.share, got, tt.want, tt.tol)
		}
	}
}

// The chances solved for give back the two ratios they came from.
func TestLooksHaveTheirRatios(t *testing.T) {
	for _, tt := range []struct{ seen, absent float64 }{{30, 0.15}, {8, 0.2}, {12, 0.12}, {10, 0.7}} {
		l := lookOf(tt.seen, tt.absent)
		if got := l.there / l.not; math.Abs(got-tt.seen) > 1e-9 {
			t.Errorf("found: %g times likelier, want %g (definition)", got, tt.seen)
		}
		if got := (1 - l.there) / (1 - l.not); math.Abs(got-tt.absent) > 1e-9 {
			t.Errorf("not found: %g times likelier, want %g (definition)", got, tt.absent)
		}
		if l.there <= 0 || l.there >= 1 || l.not <= 0 || l.not >= 1 {
			t.Errorf("%v is no pair of chances", l)
		}
	}
}

// A culture turns as often, with and without iron bacteria, as the likelihood
// ratios of its day ask: 6, 2.5, 1.2 and 0.3.
func TestCultureKeepsItsRatios(t *testing.T) {
	_, read := kit{}.cultured()
	count := func(bacteria bool) [4]float64 {
		r, d, got := rand.New(rand.NewPCG(1, 1)), cloud.Draw{}, []float64{0}
		d.World.Bacteria = bacteria
		var n [4]float64
		for range 400000 {
			read(&d, r, got)
			n[int(got[0])] += 1.0 / 400000
		}
		return n
	}
	with, without := count(true), count(false)
	for c, want := range [4]float64{0.3, 1.2, 2.5, 6} {
		if got := with[c] / without[c]; math.Abs(got-want) > 0.03*want {
			t.Errorf("class %d: %g times likelier, want %g (table of laboratory findings, common practice)", c, got, want)
		}
	}
}

// A bottle of 100 mL from a water with c germs in 100 mL holds at least one with
// chance 1 − e^−c.
func TestGermsByPoisson(t *testing.T) {
	r, n := rand.New(rand.NewPCG(2, 2)), 0.0
	for range 200000 {
		n += present(unit.Per100mL(0.7), r) / 200000
	}
	if want := 1 - math.Exp(-0.7); math.Abs(n-want) > 0.004 {
		t.Errorf("present in %g, want %g (Poisson)", n, want)
	}
	if present(unit.Per100mL(0), r) != 0 {
		t.Error("a germ found in water that has none")
	}
}

// Every test reads every draw, has a price that covers its time, and a reading
// below the limit is one class with nothing.
func TestTestsAreWhole(t *testing.T) {
	tests := offered()
	if len(tests) != len(charges) {
		t.Errorf("%d tests of %d can be read", len(tests), len(charges))
	}
	draws, seen := waters(50, 5), map[string]bool{}
	for _, x := range tests {
		if seen[x.ID] || x.Words == "" || len(x.Parts) == 0 || x.Price.Mid.Cents() <= 0 || x.Price.Low.Cents() > x.Price.Mid.Cents() || x.Price.Mid.Cents() > x.Price.High.Cents() || x.Days < 0 {
			t.Errorf("%s: words %q, parts %v, price %s, days %g", x.ID, x.Words, x.Parts, x.Price, x.Days)
		}
		seen[x.ID] = true
		for _, v := range simulate(x, draws, 1).Values {
			for _, f := range v {
				if math.IsNaN(f) {
					t.Errorf("%s: a reading is no number", x.ID)
				}
			}
		}
	}
	m := method{share: 0.1, limit: 0.1}
	r := rand.New(rand.NewPCG(3, 3))
	for range 100 {
		if v := m.read(0.02, r); v != 0 {
			t.Fatalf("0.02 with a limit of 0.1 reads %g", v)
		}
	}
}

// A fee of the user's own moves the price.
func TestFeesAreOpenToTheUser(t *testing.T) {
	own := source.NewSet(map[string]source.Override{"test_fee_organic_carbon": {Value: 145, Why: "my laboratory"}})
	price := func(ts []Test) float64 {
		for _, x := range ts {
			if x.ID == "organic-carbon" {
				return x.Price.Mid.USD()
			}
		}
		return 0
	}
	if d := price(Tests(own, media.Prices())) - price(offered()); math.Abs(d-100) > 0.01 {
		t.Errorf("a fee of 145 for 45 moves the price by %g, want 100 (arithmetic)", d)
	}
}
