package warm

import (
	"container/list"
	"context"
	"errors"
	"sync"
	"sync/atomic"

	"wellwright/plan"
)

// ErrOvertaken ends a question whose asker has asked too many since.
var ErrOvertaken = errors.New("newer questions came from the same place")

// What is kept of what-ifs, and how many are worked on. Judgement: a whole answer
// with its draws is about a megabyte, and a browser holds six streams to a server.
const (
	mostQuestions = 24
	mostPerAsker  = 6
)

// Asked names a question: the state of the book and what is asked of it.
type Asked struct {
	Key
	Question string // canonical
}

// questions are the whole answers to what-ifs, those done and those on their way.
type questions struct {
	quick chan struct{} // first answers at a time
	whole chan struct{} // whole answers at a time

	mu    sync.Mutex
	byKey map[Asked]*question
	done  *list.List // of Asked, the last asked for in front
	by    map[string][]*asker
}

func newQuestions(processors int) *questions {
	return &questions{quick: make(chan struct{}, processors), whole: make(chan struct{}, max(1, processors/2)), byKey: map[Asked]*question{}, done: list.New(), by: map[string][]*asker{}}
}

// question is one, shared by all who wait for it.
type question struct {
	key     Asked
	ready   chan struct{}
	left    atomic.Bool // nobody waits any longer
	waiting int
	place   *list.Element // among those done
	tried   plan.Tried
	err     error
}

// asker is one who waits.
type asker struct{ overtaken context.CancelCauseFunc }

// Turn waits for the turn of a first answer, and returns what ends it: no more are
// worked out at a time than there are processors, in the order they were asked, so
// that none is slowed by those behind it.
func (k *Keeper) Turn(ctx context.Context) (end func(), err error) {
	select {
	case k.asked.quick <- struct{}{}:
		return func() { <-k.asked.quick }, nil
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
}

// Known is the whole answer to a what-if, if it is at hand.
func (k *Keeper) Known(a Asked) (plan.Tried, bool) {
	q := k.asked
	q.mu.Lock()
	defer q.mu.Unlock()
	x, ok := q.byKey[a]
	if !ok || x.place == nil {
		return plan.Tried{}, false
	}
	q.done.MoveToFront(x.place)
	return x.tried, true
}

// Whole waits for the whole answer to a what-if. All who ask the same share the
// work; it is given up when the last of them goes. Of one asker no more wait than a
// few: the oldest is let go with [ErrOvertaken].
func (k *Keeper) Whole(ctx context.Context, by string, a Asked, d *plan.Desk, v plan.Variant) (plan.Tried, error) {
	ctx, overtaken := context.WithCancelCause(ctx)
	defer overtaken(nil)
	leave := k.asked.enter(by, &asker{overtaken})
	defer leave()
	x := k.join(a, d, v)
	select {
	case <-x.ready:
		return x.tried, x.err
	case <-ctx.Done():
		k.asked.part(x)
		return plan.Tried{}, context.Cause(ctx)
	}
}

// enter counts an asker in, and returns what counts it out.
func (q *questions) enter(by string, a *asker) (leave func()) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.by[by] = append(q.by[by], a)
	if waiting := q.by[by]; len(waiting) > mostPerAsker {
		waiting[0].overtaken(ErrOvertaken)
		q.by[by] = waiting[1:]
	}
	return func() { q.leave(by, a) }
}

func (q *questions) leave(by string, a *asker) {
	q.mu.Lock()
	defer q.mu.Unlock()
	var left []*asker
	for _, x := range q.by[by] {
		if x != a {
			left = append(left, x)
		}
	}
	if q.by[by] = left; left == nil {
		delete(q.by, by)
	}
}

// join finds a question or begins it.
func (k *Keeper) join(a Asked, d *plan.Desk, v plan.Variant) *question {
	q := k.asked
	q.mu.Lock()
	defer q.mu.Unlock()
	if x, ok := q.byKey[a]; ok {
		x.waiting++
		return x
	}
	x := &question{key: a, ready: make(chan struct{}), waiting: 1}
	q.byKey[a] = x
	go k.answer(x, d, v)
	return x
}

// part counts one out who waits no longer; the last one gives the question up.
func (q *questions) part(x *question) {
	q.mu.Lock()
	defer q.mu.Unlock()
	x.waiting--
	if x.waiting == 0 && x.place == nil {
		x.left.Store(true)
		if q.byKey[x.key] == x {
			delete(q.byKey, x.key)
		}
	}
}

// answer works a question out when its turn comes.
func (k *Keeper) answer(x *question, d *plan.Desk, v plan.Variant) {
	q := k.asked
	q.whole <- struct{}{}
	defer func() { <-q.whole }()
	if x.left.Load() {
		x.err = plan.ErrGivenUp
	} else {
		x.tried, x.err = d.TryWhole(v, x.left.Load)
	}
	q.mu.Lock()
	defer q.mu.Unlock()
	defer close(x.ready)
	switch {
	case q.byKey[x.key] != x: // given up
	case x.err != nil:
		delete(q.byKey, x.key)
	default:
		x.place = q.done.PushFront(x.key)
		q.shed()
	}
}

// shed lets go of the answers that nobody asked for longest.
func (q *questions) shed() {
	for q.done.Len() > mostQuestions {
		e := q.done.Back()
		delete(q.byKey, e.Value.(Asked))
		q.done.Remove(e)
	}
}
