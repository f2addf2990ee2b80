package cloud

import (
	"fmt"
	"testing"
)

func TestZZDiag(t *testing.T) {
	if testing.Short() {
		return
	}
	n := wells
	b := put(t, Evidence{}, 20*Count(n), firstSeed)
	truths := b.prior.Ask(b.question).Draws[:n]
	type tl struct{ n, told, came float64 }
	by := map[string]*tl{}
	for i := range truths {
		s := invent(t, truths[i], i%3, uint64(firstSeed+i))
		b := put(t, s.evidence, wellDraws, uint64(7*firstSeed+i))
		b.answer = b.prior.Ask(b.question)
		odd := ""
		for k, h := range b.hypotheses {
			if !h.touches(b.question.Measures) {
				continue
			}
			if by[h.ID] == nil {
				by[h.ID] = &tl{}
			}
			x := by[h.ID]
			x.n++
			x.told += b.answer.Faulty[k]
			tr := s.faults[placed(b.hypotheses, k)]
			if tr {
				x.came++
			}
			if p := b.answer.Faulty[k]; p > 0.6 && !tr || p < 0.01 && tr {
				odd += fmt.Sprintf(" %s:%.3f/%v", placed(b.hypotheses, k), p, tr)
			}
		}
		if odd != "" {
			t.Logf("well %d (%d): truth %v odd %s", i, i%3, s.faults, odd)
		}
		if len(s.faults) > 2 {
			t.Logf("well %d has %v", i, s.faults)
		}
	}
	for id, x := range by {
		t.Logf("%-24s n %4.0f told %.2f came %.0f", id, x.n, x.told, x.came)
	}
}
