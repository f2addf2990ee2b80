package plan_test

import (
	"strings"
	"syscall"
	"testing"
	"time"

	"wellwright/plan"
	"wellwright/stage"
	"wellwright/train"
)

// variants are the questions that the benchmarks ask, by what they turn.
func variants(tb testing.TB, d *plan.Desk) map[string]plan.Variant {
	own, err := d.Try(plan.Variant{})
	if err != nil {
		tb.Fatal(err)
	}
	first := parse(tb, strings.Join(own.Now.Train, ","))
	cs, bad := plan.ParseChanges([]string{"iron=7", "pump=8gpm"})
	if len(bad) > 0 {
		tb.Fatal(bad)
	}
	sizes := train.Given{}
	for i, s := range own.Now.Stages {
		if v, ok := s.Size[stage.MediaFt3]; ok {
			sizes[i] = stage.Given{stage.MediaFt3: v + 0.5}
		}
	}
	return map[string]plan.Variant{
		"water": {Changes: cs}, "train": {Train: first, Changes: cs}, "size": {Train: first, Sizes: sizes},
	}
}

// BenchmarkTry gives first answers one after the other; cpu-ms is what both
// processors spend on one.
func BenchmarkTry(b *testing.B) {
	for _, well := range []string{"a", "c", "e", "i"} {
		d := reference(b, well)
		answered(b, d)
		for name, v := range variants(b, d) {
			b.Run(well+"/"+name, func(b *testing.B) {
				before := spent(b)
				for b.Loop() {
					if _, err := d.Try(v); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(spent(b)-before)/1e6/float64(b.N), "cpu-ms/op")
			})
		}
	}
}

// spent is the processor time of this process.
func spent(tb testing.TB) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		tb.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// BenchmarkTryWhole gives whole answers.
func BenchmarkTryWhole(b *testing.B) {
	d := reference(b, "c")
	answered(b, d)
	for name, v := range variants(b, d) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := d.TryWhole(v, func() bool { return false }); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
