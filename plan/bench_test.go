package plan_test

import (
	"os"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/plan"
)

// BenchmarkPlan answers the reference wells whole, one after the other.
func BenchmarkPlan(b *testing.B) {
	var ps []book.Present
	for _, w := range []string{"a", "c", "e", "f", "i"} {
		text, err := os.ReadFile("../book/testdata/scenario-" + w + ".yaml")
		if err != nil {
			b.Fatal(err)
		}
		k, found := book.Read(w, text)
		if bad := book.Mistakes(found); len(bad) > 0 {
			b.Fatal(bad[0])
		}
		ps = append(ps, k.Present(time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)))
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if _, err := plan.Build(ps[i%len(ps)], plan.Ask{Prices: plan.Prices()}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPlanCloud answers the reference wells with 2,000 plausible waters.
func BenchmarkPlanCloud(b *testing.B) { benchmarkCloud(b, 2000) }

// BenchmarkPlanFew answers them with 200.
func BenchmarkPlanFew(b *testing.B) { benchmarkCloud(b, 200) }

func benchmarkCloud(b *testing.B, draws int) {
	var ds []*plan.Desk
	for _, w := range []string{"a", "c", "e", "f", "i"} {
		ds = append(ds, cloudy(reference(b, w), draws))
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		answered(b, ds[i%len(ds)])
	}
}

// BenchmarkCoarse gives first answers on changed inputs, the desk warm.
func BenchmarkCoarse(b *testing.B) {
	d := reference(b, "c")
	answered(b, d)
	cs, bad := plan.ParseChanges([]string{"iron=7", "pump=8gpm"})
	if len(bad) > 0 {
		b.Fatal(bad)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := d.With(cs).Coarse(); err != nil {
			b.Fatal(err)
		}
	}
}
