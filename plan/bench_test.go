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
