package warm

import (
	"fmt"
	"sync"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/media"
)

// Of many wells the answers stay, the desks of those last asked for stay at hand, and
// one let go of is opened again to the same answer.
func TestKeeperStaysWithinItsBounds(t *testing.T) {
	const wells, answers, desks = 8, 6, 3
	k := New(media.Prices())
	k.most.answers, k.most.desks = answers, desks
	b, _ := book.Read("book", []byte("- entry: 1\n  date: 2026-01-01\n  wishes: {soft water: no}\n"))
	p := b.Present(time.Time{})
	var all sync.WaitGroup
	for i := range wells {
		all.Go(func() {
			w := k.Well(Key{Well: book.ID(fmt.Sprint(i))}, p, time.Time{})
			if again := k.Well(Key{Well: book.ID(fmt.Sprint(i))}, p, time.Time{}); again != w {
				t.Errorf("well %d is kept twice", i)
			}
			if _, err := w.Desk(); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	if len(k.byKey) != answers || k.order.Len() != answers || k.desks.Len() > desks {
		t.Errorf("%d answers and %d desks are kept, want %d and at most %d", k.order.Len(), k.desks.Len(), answers, desks)
	}
	for _, w := range k.byKey {
		d, err := w.Desk()
		a, wrong := w.Answer()
		if err != nil || wrong != nil || d == nil || a.AsOf == "" || len(w.Steps(nil)) == 0 {
			t.Errorf("well %s: desk %v, answer of %q, %v", w.key.Well, d != nil, a.AsOf, err)
		}
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	seated := 0
	for _, w := range k.byKey {
		if (w.desk != nil) != (w.seat != nil) {
			t.Errorf("well %s has a desk without a seat, or a seat without a desk", w.key.Well)
		}
		if w.desk != nil {
			seated++
		}
	}
	if seated != desks {
		t.Errorf("%d desks are at hand, want %d", seated, desks)
	}
}
