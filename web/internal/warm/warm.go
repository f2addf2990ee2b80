// Package warm keeps wells ready for questions: their answers, and for those last
// looked at the desks that a what-if is asked of. An answer is worked out once,
// however many ask for it at a time, and no more of them at once than half the
// processors: one that is worked out uses two, and takes 100 to 160 MB meanwhile.
package warm

import (
	"container/list"
	"context"
	"runtime"
	"strings"
	"sync"
	"time"

	"wellwright/book"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/train"
)

// Key names the state of a book that an answer was worked out from.
type Key struct {
	Well book.ID
	Head string    // hash of the last entry
	On   time.Time // date the answer stands on
}

// What is kept: an answer is 0.1 to 0.9 MB, a desk about 1.5 MB beside it and opened
// again in a fifth of a second.
const (
	mostAnswers = 300
	mostDesks   = 12
)

// Keeper keeps answers and desks. It is safe for concurrent use.
type Keeper struct {
	prices media.PriceList
	slots  chan struct{}
	asked  *questions
	most   struct{ answers, desks int }

	mu    sync.Mutex
	byKey map[Key]*Kept
	order list.List // of *Kept, the last asked for in front
	desks list.List // likewise, those whose desk is at hand
}

// New makes a keeper that answers with a price list.
func New(prices media.PriceList) *Keeper {
	k := &Keeper{prices: prices, slots: make(chan struct{}, max(1, runtime.NumCPU()/2)), asked: newQuestions(runtime.NumCPU()), byKey: map[Key]*Kept{}}
	k.most.answers, k.most.desks = mostAnswers, mostDesks
	return k
}

// Kept is one well, ready or on its way.
type Kept struct {
	key    Key
	by     *Keeper
	book   book.Present
	begun  time.Time
	done   chan struct{}
	answer plan.Answer
	steps  map[string][]formula.Placed // by train
	err    error

	opening     sync.Mutex
	desk        *plan.Desk    // nil: not at hand; guarded by the keeper, as are its places
	place, seat *list.Element // among the answers, among the desks
}

// Done is closed once the answer is there.
func (w *Kept) Done() <-chan struct{} { return w.done }

// Begun is when the work began.
func (w *Kept) Begun() time.Time { return w.begun }

// Answer is the answer; it waits for it.
func (w *Kept) Answer() (plan.Answer, error) {
	<-w.done
	return w.answer, w.err
}

// Desk is the desk; it waits for the answer, and for the desk where that was let go
// of. Whoever holds a slot must have it already.
func (w *Kept) Desk() (*plan.Desk, error) {
	<-w.done
	if w.err != nil {
		return nil, w.err
	}
	return w.by.open(w)
}

// Steps are the figures of an option, or with no train of the evidence, that have a
// working: their names and values alone. It waits for the answer.
func (w *Kept) Steps(t train.Train) []formula.Placed {
	<-w.done
	return w.steps[t.String()]
}

// Well returns the well kept under a key, and begins to work on it if it is new.
func (k *Keeper) Well(key Key, p book.Present, now time.Time) *Kept {
	k.mu.Lock()
	defer k.mu.Unlock()
	if w, ok := k.byKey[key]; ok {
		k.order.MoveToFront(w.place)
		return w
	}
	w := &Kept{key: key, by: k, book: p, begun: now, done: make(chan struct{})}
	k.byKey[key] = w
	w.place = k.order.PushFront(w)
	for k.order.Len() > k.most.answers {
		k.forget(k.order.Back().Value.(*Kept))
	}
	go k.work(w)
	return w
}

// forget lets go of a well.
func (k *Keeper) forget(w *Kept) {
	delete(k.byKey, w.key)
	k.order.Remove(w.place)
	k.clear(w)
}

// clear lets go of a desk; the answer stays.
func (k *Keeper) clear(w *Kept) {
	if w.seat != nil {
		k.desks.Remove(w.seat)
	}
	w.desk, w.seat = nil, nil
}

// work opens the desk and answers.
func (k *Keeper) work(w *Kept) {
	defer close(w.done)
	d, err := k.open(w)
	if err != nil {
		w.err = err
		return
	}
	free := k.Slot(context.Background())
	defer free()
	if w.answer, w.err = d.Answer(); w.err == nil {
		w.steps = stepsOf(d, w.answer)
	}
}

// stepsOf lists what can be opened of an answer.
func stepsOf(d *plan.Desk, a plan.Answer) map[string][]formula.Placed {
	steps := map[string][]formula.Placed{train.Train(nil).String(): slim(d.EvidenceWorking())}
	for _, o := range a.Options {
		t, err := train.Parse(strings.Join(o.Train, ","))
		if err != nil {
			continue // an option names only processes that there are
		}
		if all, err := d.Working(t); err == nil {
			steps[t.String()] = slim(all)
		}
	}
	return steps
}

// slim keeps of each step what it is called and comes to.
func slim(all []formula.Placed) []formula.Placed {
	out := make([]formula.Placed, len(all))
	for i, s := range all {
		out[i] = formula.Placed{Place: s.Place, Step: formula.Step{Figure: s.Figure, Value: s.Value, Unit: s.Unit}}
	}
	return out
}

// open is the desk of a well, opened again where it was let go of.
func (k *Keeper) open(w *Kept) (*plan.Desk, error) {
	w.opening.Lock()
	defer w.opening.Unlock()
	if d := k.seated(w, nil); d != nil {
		return d, nil
	}
	free := k.Slot(context.Background())
	defer free()
	d, err := plan.Open(w.book, plan.Ask{Prices: k.prices})
	if err != nil {
		return nil, err
	}
	return k.seated(w, d), nil
}

// seated keeps a desk at hand, the one given or the one that is there, and lets go
// of those that nobody asked for longest; nil if there is none.
func (k *Keeper) seated(w *Kept, d *plan.Desk) *plan.Desk {
	k.mu.Lock()
	defer k.mu.Unlock()
	if d != nil {
		w.desk = d
	}
	switch {
	case w.desk == nil:
		return nil
	case w.seat != nil:
		k.desks.MoveToFront(w.seat)
	case k.byKey[w.key] == w:
		w.seat = k.desks.PushFront(w)
	}
	d = w.desk
	for k.desks.Len() > k.most.desks {
		k.clear(k.desks.Back().Value.(*Kept))
	}
	return d
}

// Slot waits for two processors and returns what gives them back. Whoever works out
// something long takes one.
func (k *Keeper) Slot(ctx context.Context) (free func()) {
	select {
	case k.slots <- struct{}{}:
		return func() { <-k.slots }
	case <-ctx.Done():
		return func() {}
	}
}
