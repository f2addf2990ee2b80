package web

import (
	"errors"
	"sync"
	"testing"
)

// What is kept is made once, the oldest goes first, and a failure is tried again.
func TestShelf(t *testing.T) {
	s := newShelf[int, int](2)
	made := map[int]int{}
	var mu sync.Mutex
	get := func(k int) int {
		v, err := s.of(k, func() (int, error) {
			mu.Lock()
			defer mu.Unlock()
			made[k]++
			return 10 * k, nil
		})
		if err != nil || v != 10*k {
			t.Errorf("%d is kept as %d (%v)", k, v, err)
		}
		return v
	}
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() { get(1) })
	}
	all.Wait()
	get(2)
	get(1)
	get(3) // drops 2, asked for longest ago
	get(1)
	get(2)
	if made[1] != 1 || made[2] != 2 || made[3] != 1 {
		t.Errorf("made %v times, want 1 once, 2 twice, 3 once", made)
	}
	fails := errors.New("no")
	if _, err := s.of(9, func() (int, error) { return 0, fails }); !errors.Is(err, fails) {
		t.Errorf("a failure is told as %v", err)
	}
	get(9)
}
