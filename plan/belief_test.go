package plan_test

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"wellwright/cloud"
	"wellwright/plan"
	"wellwright/unit"
	"wellwright/water"
)

// drawsOf are draws of waters that differ in their ferrous iron alone.
func drawsOf(vs, ws []float64) []cloud.Draw {
	ds := make([]cloud.Draw, len(vs))
	for i, v := range vs {
		ds[i] = cloud.Draw{Weight: ws[i], Water: water.State{
			Ferrous: unit.MgPerL(v), PH: unit.PHOf(7), Alkalinity: unit.AlkalinityAsCaCO3(100), Temperature: unit.Celsius(12)}}
	}
	return ds
}

func beliefIn(t interface{ Fatalf(string, ...any) }, bs []plan.Belief, name string) plan.Belief {
	i := slices.IndexFunc(bs, func(b plan.Belief) bool { return b.Name == name })
	if i < 0 {
		t.Fatalf("no belief on %s", name)
	}
	return bs[i]
}

// Quantiles against a second method, the empirical quantile of gonum/stat, for
// whatever draws and weights.
func TestQuantilesAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "draws")
		vs, ws := make([]float64, n), make([]float64, n)
		for i := range vs {
			vs[i] = rapid.Float64Range(0, 30).Draw(t, "iron")
			ws[i] = rapid.Float64Range(0.01, 3).Draw(t, "weight")
		}
		d := plan.Desk{Cloud: cloud.Cloud{Draws: drawsOf(vs, ws)}}
		q := beliefIn(t, d.Beliefs(), "iron_ferrous_mg_l").After
		stat.SortWeighted(vs, ws)
		total := 0.0
		for _, w := range ws {
			total += w
		}
		for p, got := range map[float64]float64{0.05: q.P05, 0.25: q.P25, 0.5: q.P50, 0.75: q.P75, 0.95: q.P95} {
			want := stat.Quantile(p, stat.Empirical, vs, ws)
			if got != want && !onStep(vs, ws, p*total) {
				t.Fatalf("quantile %g = %g, want %g", p, got, want)
			}
		}
	})
}

// onStep reports whether a sum of weights meets a share within arithmetic: there
// the two neighbours both satisfy the definition.
func onStep(vs, ws []float64, share float64) bool {
	sum := 0.0
	for i := range vs {
		if sum += ws[i]; math.Abs(sum-share) < 1e-9*share {
			return true
		}
	}
	return false
}

// By the definition of a quantile, on 2,000 draws of equal weight and on draws
// without weights: a share p of them is at or below it, and no smaller one does.
func TestQuantilesByDefinition(t *testing.T) {
	const n = 2000
	vs, ws := make([]float64, n), make([]float64, n)
	for i := range vs {
		vs[i] = math.Exp(math.Mod(float64(i)*0.6180339887498949, 1) * 3) // evenly spread in the logarithm
	}
	d := plan.Desk{Cloud: cloud.Cloud{Draws: drawsOf(vs, ws), Before: drawsOf(vs[:100], ws)}}
	b := beliefIn(t, d.Beliefs(), "iron_ferrous_mg_l")
	sort.Float64s(vs)
	for p, got := range map[float64]float64{0.05: b.After.P05, 0.25: b.After.P25, 0.5: b.After.P50, 0.75: b.After.P75, 0.95: b.After.P95} {
		if want := vs[int(math.Round(p*n))-1]; got != want {
			t.Errorf("quantile %g = %g, want %g (definition)", p, got, want)
		}
		if limit := math.Exp(3 * p); math.Abs(got/limit-1) > 0.01 {
			t.Errorf("quantile %g = %g, want within 1 %% of %g, that of the whole distribution", p, got, limit)
		}
	}
	if b.Before == nil || b.Before.P95 <= b.Before.P05 {
		t.Errorf("before the evidence: %v", b.Before)
	}
}

// Without draws from before the evidence the picture says so, and a raw water
// without a supply tells nothing of the supply.
func TestBeliefsWithoutBefore(t *testing.T) {
	d := plan.Desk{Cloud: cloud.Cloud{Draws: drawsOf([]float64{1, 2}, []float64{1, 1})}}
	for _, b := range d.Beliefs() {
		if b.Before != nil {
			t.Errorf("%s: a belief from before the evidence out of no draws", b.Name)
		}
		if b.Name == "pump_gpm" || b.Name == "chlorine_demand_mg_l" {
			t.Errorf("%s is believed of draws without a supply", b.Name)
		}
	}
}

// The chlorine demand of one water by hand: 2 mg/L of iron takes 0.635 each, 0.3
// of manganese 1.29, 1 of sulfide 2.08 to sulfur and 8.32 to sulfate, a quarter of
// it going so far, 0.5 of ammonia 8 each, and 1 beyond (atomic weights).
func TestChlorineDemandByHand(t *testing.T) {
	ds := drawsOf([]float64{2}, []float64{1})
	w, s := &ds[0].Water, &ds[0].Supply
	w.Manganese, w.Sulfide, w.Ammonia = unit.MgPerL(0.3), unit.MgPerLAsH2S(1), unit.MgPerLAsN(0.5)
	s.Daily, s.SulfateShare, s.AmmoniaRatio, s.ChlorineExtra = unit.GalPerDay(200), 0.25, 8, unit.MgPerLAsCl2(1)
	d := plan.Desk{Cloud: cloud.Cloud{Draws: ds}}
	want := 2*0.635 + 0.3*1.29 + 2.08 + 0.25*(8.32-2.08) + 0.5*8 + 1
	if got := beliefIn(t, d.Beliefs(), "chlorine_demand_mg_l").After.P50; math.Abs(got-want) > 0.01 {
		t.Errorf("chlorine demand %g, want %g mg/L", got, want)
	}
}

// What was read on a reference well stands beside what is believed of it, as the
// book has it.
func TestReadingsStandInTheBelief(t *testing.T) {
	bs := reference(t, "e").Beliefs()
	for _, tt := range []struct {
		name string
		want plan.Reading
		low  float64
	}{
		{"iron_ferrous_mg_l", plan.Reading{Value: 2.1, Tap: "T1", Kind: "field"}, 0},
		{"ph", plan.Reading{Value: 7, Tap: "T1", Kind: "field"}, 6.5},
		{"pump_gpm", plan.Reading{Value: 11, Kind: "field"}, 0},
	} {
		b := beliefIn(t, bs, tt.name)
		if !slices.Contains(b.Readings, tt.want) {
			t.Errorf("%s: readings %v, want one like %v (the book)", tt.name, b.Readings, tt.want)
		}
		if b.Assumed {
			t.Errorf("%s was read, and is said to be assumed", tt.name)
		}
		if tt.low > 0 && (b.Limit == nil || b.Limit.Low == nil || *b.Limit.Low != tt.low) {
			t.Errorf("%s: limits %v, want %g at least (40 CFR 143.3)", tt.name, b.Limit, tt.low)
		}
		if b.After.P05 > b.After.P25 || b.After.P25 > b.After.P50 || b.After.P50 > b.After.P75 || b.After.P75 > b.After.P95 {
			t.Errorf("%s: quantiles out of order: %v", tt.name, b.After)
		}
	}
	iron := beliefIn(t, bs, "iron_total_mg_l")
	if iron.Limit == nil || iron.Limit.High == nil || *iron.Limit.High != 0.3 {
		t.Errorf("iron: limit %v, want 0.3 mg/L (40 CFR 143.3)", iron.Limit)
	}
	mn := beliefIn(t, bs, "manganese_total_mg_l")
	if mn.Limit == nil || mn.Limit.Health == nil || *mn.Limit.Health != 0.3 || *mn.Limit.High != 0.05 {
		t.Errorf("manganese: limits %v, want 0.05 secondary (40 CFR 143.3) and 0.3 of health (US EPA 2004)", mn.Limit)
	}
}

// Every conflict that package cloud can name says what would settle it.
func TestEveryConflictCanBeSettled(t *testing.T) {
	files, err := filepath.Glob("../cloud/*.go")
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]bool{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range conflictNames.FindAllStringSubmatch(string(text), -1) {
			named[m[1]] = true
		}
	}
	if len(named) < 10 {
		t.Fatalf("only %d names of conflicts found in ../cloud", len(named))
	}
	for id := range named {
		if plan.Settles(id) == "" {
			t.Errorf("nothing is said to settle %s", id)
		}
	}
}

// conflictNames finds where package cloud names a conflict.
var conflictNames = regexp.MustCompile(`(?:\.name\(|rank\(|contradiction\{)\s*"([a-z]+(?:-[a-z]+)+)",`)

// BenchmarkBeliefs lists every quantity of one well over all its draws.
func BenchmarkBeliefs(b *testing.B) {
	d := reference(b, "e")
	b.ReportAllocs()
	for b.Loop() {
		d.Beliefs()
	}
}
