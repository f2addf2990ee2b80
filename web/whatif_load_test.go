package web_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"net/http"
	"slices"
	"sync"
	"syscall"
	"testing"
	"time"
)

// asking is how long what-ifs are asked for by several at once.
var asking = flag.Duration("whatif", 0, "ask what-ifs of three wells by 4 clients for this long, and print how long the first answers took")

// askers is how many ask at a time.
const askers = 4

// TestWhatIfLoad lets four clients ask one what-if after the other, each another,
// as a page's script asks them. It asserts that every answer comes; times are
// printed, for a note, with the processor's time for each: on a machine that does
// other work as well only that one tells.
func TestWhatIfLoad(t *testing.T) {
	if *asking == 0 {
		t.Skip("a measurement, asked for by -whatif 20s")
	}
	wells := []string{asked, "high-iron-manganese", "weak-well"}
	s := newSite(t, wells...)
	for _, w := range wells {
		s.get(t, s.at(w, "/what-if"))
	}
	var mu sync.Mutex
	var took []time.Duration
	var all sync.WaitGroup
	before, end := processor(t), time.Now().Add(*asking)
	for range askers {
		all.Go(func() {
			for time.Now().Before(end) {
				at := s.at(wells[rand.IntN(len(wells))], fmt.Sprintf("/what-if?iron=%.3f&pump=%.2f", 1+9*rand.Float64(), 5+8*rand.Float64()))
				begun := time.Now()
				status, _, _ := s.part(t, at)
				d := time.Since(begun)
				if status != http.StatusOK {
					t.Errorf("%s: status %d", at, status)
				}
				mu.Lock()
				took = append(took, d)
				mu.Unlock()
			}
		})
	}
	all.Wait()
	slices.Sort(took)
	each := (processor(t) - before) / time.Duration(len(took))
	fmt.Printf("what-if, %d clients: %d answers, p50 %v, p95 %v, most %v; processor time each %v (client counted in)\n", askers, len(took),
		took[len(took)/2].Round(time.Millisecond), took[len(took)*95/100].Round(time.Millisecond), took[len(took)-1].Round(time.Millisecond), each.Round(100*time.Microsecond))
}

// processor is the processor time of this process.
func processor(t *testing.T) time.Duration {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
