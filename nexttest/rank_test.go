package nexttest

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/cost"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// waters are made-up draws: iron, manganese, sulfide, ammonia and the rest
// spread as a sulfidic well's might be.
func waters(n int, seed uint64) []cloud.Draw {
	r := rand.New(rand.NewPCG(seed, 7))
	spread := func(mid, share float64) float64 { return mid * math.Exp(share*r.NormFloat64()) }
	ds := make([]cloud.Draw, n)
	for i := range ds {
		w, s := &ds[i].Water, &ds[i].Supply
		w.Ferrous, w.Particulate, w.Bound = unit.MgPerL(spread(4, 0.2)), unit.MgPerL(spread(0.1, 0.5)), unit.MgPerL(spread(0.05, 1))
		w.Manganese, w.Sulfide = unit.MgPerL(spread(0.65, 0.1)), unit.MgPerLAsH2S(spread(2.4, 0.25))
		w.Ammonia, w.OrganicCarbon = unit.MgPerLAsN(spread(0.4, 0.2)), unit.MgPerL(spread(1.9, 0.2))
		w.PH, w.Alkalinity, w.Oxygen = unit.PHOf(7.1+0.1*r.NormFloat64()), unit.AlkalinityAsCaCO3(spread(262, 0.05)), unit.MgPerL(spread(0.1, 1))
		w.Calcium, w.Magnesium = unit.MgPerL(spread(66, 0.05)), unit.MgPerL(spread(19, 0.05))
		w.Sodium, w.Chloride, w.Sulfate, w.Arsenic = unit.MgPerL(spread(38, 0.1)), unit.MgPerL(spread(34, 0.1)), unit.MgPerL(spread(12, 0.1)), unit.MgPerL(spread(0.003, 0.3))
		s.SulfateShare, s.AmmoniaRatio, s.Recovery = r.Float64(), 7.6+2.4*r.Float64(), 0.3+0.6*r.Float64()
		s.ChlorineExtra = unit.MgPerLAsCl2(spread(0.3, 0.7))
		s.Hydraulic.Yield = unit.GPM(spread(8, 0.3))
		ds[i].World.Bacteria = r.Float64() < 0.3
	}
	return ds
}

// pumps is a table in which only the size of a feed pump is to be decided: a
// bigger one costs more, one too small must be changed.
func pumps(draws []cloud.Draw, sizes []float64) *Table {
	var ds []Decision
	for _, z := range sizes {
		ds = append(ds, Decision{ID: fmt.Sprintf("pump for %g mg/L", z)})
	}
	t := NewTable(ds, len(draws))
	for i := range draws {
		for k, z := range sizes {
			loss := 500 + 25*z
			if Demand(chem.Hypochlorite, &draws[i]).MgPerL() > z {
				loss += 900
			}
			t.Set(i, k, cost.USD(loss))
		}
	}
	return t
}

func offered() []Test { return Tests(source.Set{}, media.Prices()) }

// Where only the chlorine demand matters the jar that reads it whole is worth
// most, and tests of nothing to do with it are worth nothing. Sulfide alone tells
// part of it.
func TestTheJarThatReadsTheDemandIsFirst(t *testing.T) {
	draws := waters(2000, 1)
	a := Rank(pumps(draws, []float64{10, 14, 18, 24, 30}), draws, offered(), 1)
	if a.Offers[0].Tests[0].ID != "chlorine-demand-jar" || !a.Offers[0].Pays() {
		t.Errorf("first is %s, worth %s for %s", a.Offers[0].Tests[0].ID, a.Offers[0].Worth, a.Offers[0].Price)
	}
	if len(a.Offers[0].Rule) < 2 {
		t.Errorf("rule of the jar: %v", a.Offers[0].Rule)
	}
	for _, o := range a.Offers {
		if o.Worth.USD() > a.Perfect.USD() {
			t.Errorf("%s is worth %s, more than to know the well, %s (definition)", o.Tests[0].ID, o.Worth, a.Perfect)
		}
		switch o.Tests[0].ID {
		case "pump-flow", "yield-test", "iron-bacteria-culture", "nitrate", "hardness-on-site", "capacity-test":
			if o.Pays() {
				t.Errorf("%s has nothing to do with the pump and pays: %s ± %s", o.Tests[0].ID, o.Worth, o.Error)
			}
		}
	}
}

// The answer is the same to the last bit on any number of cores, and with the
// same seed again.
func TestTheSameOnAnyNumberOfCores(t *testing.T) {
	draws := waters(1000, 2)
	table := pumps(draws, []float64{10, 14, 18, 24, 30})
	strip := func(a Answer) Answer {
		for k := range a.Offers {
			a.Offers[k].Tests = nil
		}
		for k := range a.Pairs {
			a.Pairs[k].Tests = nil
		}
		a.Round.Tests = nil
		return a
	}
	want := strip(Rank(table, draws, offered(), 9))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, cores := range []int{1, 2, 7} {
		runtime.GOMAXPROCS(cores)
		if got := strip(Rank(table, draws, offered(), 9)); !reflect.DeepEqual(got, want) {
			t.Errorf("%d cores: another answer", cores)
		}
	}
}

// A reading of each half of what matters is worth more together: the product of
// two signs tells, neither tells alone; and a pair is offered only if it leaves
// more than either alone.
func TestPairs(t *testing.T) {
	draws := waters(2000, 3)
	table := NewTable([]Decision{{ID: "keep"}, {ID: "act"}}, len(draws))
	for i := range draws {
		loss := 5000.0
		if ferrous(&draws[i]) > 4 && yield(&draws[i]) > 8 {
			loss = -15000
		}
		table.Set(i, 1, cost.USD(loss))
	}
	a := Rank(table, draws, offered(), 4)
	found := false
	for _, p := range a.Pairs {
		x, y := p.Tests[0].ID, p.Tests[1].ID
		found = found || (x == "yield-test" || y == "yield-test") && p.Pays()
	}
	if !found {
		t.Errorf("no pair with the yield test among %d", len(a.Pairs))
	}
	one := Rank(pumps(draws, []float64{10, 14, 18, 24, 30}), draws, offered(), 4)
	for _, p := range one.Pairs {
		for _, o := range one.Offers {
			if (o.Tests[0].ID == p.Tests[0].ID || o.Tests[0].ID == p.Tests[1].ID) && p.Net().Cents() <= o.Net().Cents() {
				t.Errorf("%s with %s leaves %s, no more than %s alone, %s", p.Tests[0].ID, p.Tests[1].ID, p.Net(), o.Tests[0].ID, o.Net())
			}
		}
	}
}

// All tests on 2,000 draws and twenty decisions.
func BenchmarkRank(b *testing.B) {
	draws := waters(2000, 1)
	table, _ := twenty(2000, 1)
	for i := range draws {
		own := Demand(chem.Hypochlorite, &draws[i]).MgPerL()
		for d := range table.Decisions {
			if own > 8+float64(d) {
				table.Set(i, d, table.Loss(i, d).Add(cost.USD(900)))
			}
		}
	}
	tests := offered()
	for b.Loop() {
		Rank(table, draws, tests, 1)
	}
}

func BenchmarkSimulate(b *testing.B) {
	draws, tests := waters(2000, 1), offered()
	for b.Loop() {
		for _, x := range tests {
			simulate(x, draws, 1).scales()
		}
	}
}

// A round joins what adds to the best test and leaves out what does not: with all
// on the product of iron and yield it needs both and no second reading of either.
func TestRound(t *testing.T) {
	draws := waters(2000, 3)
	table := NewTable([]Decision{{ID: "keep"}, {ID: "act"}}, len(draws))
	for i := range draws {
		loss := 5000.0
		if ferrous(&draws[i]) > 4 && yield(&draws[i]) > 8 {
			loss = -15000
		}
		table.Set(i, 1, cost.USD(loss))
	}
	a := Rank(table, draws, offered(), 4)
	got := map[string]bool{}
	for _, x := range a.Round.Tests {
		got[x.ID] = true
	}
	if !got["yield-test"] || len(got) < 2 || len(got) > 4 || got["nitrate"] || got["hardness-on-site"] {
		t.Errorf("round %v", got)
	}
	if a.Round.Net().Cents() < a.Offers[0].Net().Cents() {
		t.Errorf("the round leaves %s, the best test alone %s", a.Round.Net(), a.Offers[0].Net())
	}
	if r := Rank(pumps(draws, []float64{14}), draws, offered(), 4).Round; len(r.Tests) != 0 {
		t.Errorf("a round of %d tests where there is nothing to decide", len(r.Tests))
	}
}
