// Package warm keeps wells ready for questions: their answers, and for those last
// looked at the desks that a what-if is asked of. An answer is worked out once,
// however many ask for it at a time, and no more of them at once than there are
// processors.
package warm

import (
	"container/list"
	"context"
	"runtime"
	"sync"
	"time"

	"wellwright/book"
	"wellwright/media"
	"wellwright/plan"
)

// Key names the state of a book that an answer was worked out from.
type Key struct {
	Well book.ID
	Head string    // hash of the last entry
	On   time.Time // date the answer stands on
}

// most is how many wells are kept: a desk is about 2 MB with its answer.
const most = 48

// Keeper keeps desks and answers. It is safe for concurrent use.
type Keeper struct {
	prices media.PriceList
	slots  chan struct{}
	asked  *questions

	mu    sync.Mutex
	byKey map[Key]*list.Element
	order *list.List // of *Kept, the last asked for in front
}

// New makes a keeper that answers with a price list.
func New(prices media.PriceList) *Keeper {
	return &Keeper{prices: prices, slots: make(chan struct{}, runtime.NumCPU()), asked: newQuestions(runtime.NumCPU()), byKey: map[Key]*list.Element{}, order: list.New()}
}

// Kept is one well, ready or on its way.
type Kept struct {
	key    Key
	begun  time.Time
	done   chan struct{}
	desk   *plan.Desk
	answer plan.Answer
	err    error
}

// Done is closed once the answer is there.
func (k *Kept) Done() <-chan struct{} { return k.done }

// Begun is when the work began.
func (k *Kept) Begun() time.Time { return k.begun }

// Result is the desk and the answer; it waits for them.
func (k *Kept) Result() (*plan.Desk, plan.Answer, error) {
	<-k.done
	return k.desk, k.answer, k.err
}

// Well returns the well kept under a key, and begins to work on it if it is new.
func (k *Keeper) Well(key Key, p book.Present, now time.Time) *Kept {
	k.mu.Lock()
	defer k.mu.Unlock()
	if e, ok := k.byKey[key]; ok {
		k.order.MoveToFront(e)
		return e.Value.(*Kept)
	}
	w := &Kept{key: key, begun: now, done: make(chan struct{})}
	k.byKey[key] = k.order.PushFront(w)
	k.drop()
	go k.work(w, p)
	return w
}

// drop lets go of the wells that nobody asked for longest.
func (k *Keeper) drop() {
	for k.order.Len() > most {
		e := k.order.Back()
		delete(k.byKey, e.Value.(*Kept).key)
		k.order.Remove(e)
	}
}

// work opens the desk and answers.
func (k *Keeper) work(w *Kept, p book.Present) {
	defer close(w.done)
	free := k.Slot(context.Background())
	defer free()
	w.desk, w.err = plan.Open(p, plan.Ask{Prices: k.prices})
	if w.err == nil {
		w.answer, w.err = w.desk.Answer()
	}
}

// Slot waits for a processor and returns what gives it back. Whoever works out
// something long takes one.
func (k *Keeper) Slot(ctx context.Context) (free func()) {
	select {
	case k.slots <- struct{}{}:
		return func() { <-k.slots }
	case <-ctx.Done():
		return func() {}
	}
}
