package warm

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/media"
	"wellwright/plan"
)

// ready is a keeper with one demonstration well.
func ready(t *testing.T) (*Keeper, *plan.Desk) {
	t.Helper()
	all, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range all {
		if w.Name != "clear-water-iron" {
			continue
		}
		b, _ := book.Read(w.Name, w.Text)
		k := New(media.Prices())
		d, err := k.Well(Key{Well: "1"}, b.Present(time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)), time.Time{}).Desk()
		if err != nil {
			t.Fatal(err)
		}
		return k, d
	}
	t.Fatal("no such well")
	return nil, nil
}

func resized(t *testing.T, d *plan.Desk, lb float64) plan.Variant {
	t.Helper()
	v, wrong := plan.ReadVariant(book.Variant{Train: []string{"softener"}, Sizes: []book.VariantSize{{Stage: 1, Figures: map[string]string{"salt_lb": fmt.Sprint(lb)}}}})
	if len(wrong) > 0 {
		t.Fatal(wrong)
	}
	return v
}

// All who ask the same get one answer, worked out once; one who goes takes nothing
// from the others; the newest questions of one asker push out the oldest; and what
// is kept stays within its bound.
func TestQuestions(t *testing.T) {
	k, d := ready(t)
	a := Asked{Key{Well: "1"}, "salt 12"}
	var all sync.WaitGroup
	for i := range 5 {
		all.Go(func() {
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			if i == 0 {
				cancel()
			}
			x, err := k.Whole(ctx, fmt.Sprint(i), a, d, resized(t, d, 12))
			if i > 0 && (err != nil || x.Then == nil) {
				t.Errorf("asker %d: %v", i, err)
			}
		})
	}
	all.Wait()
	if _, known := k.Known(a); !known {
		t.Error("the answer was not kept")
	}
	if n := len(k.asked.by); n != 0 {
		t.Errorf("%d askers are still counted in", n)
	}
	k.asked.whole <- struct{}{} // nothing is begun
	errs := make(chan error, mostPerAsker+1)
	for i := range mostPerAsker + 1 {
		all.Go(func() {
			ctx, cancel := context.WithTimeout(t.Context(), 300*time.Millisecond)
			defer cancel()
			_, err := k.Whole(ctx, "one", Asked{Key{Well: "1"}, fmt.Sprint("salt ", 5+i)}, d, resized(t, d, float64(5+i)))
			errs <- err
		})
	}
	all.Wait()
	close(errs)
	overtaken := 0
	for err := range errs {
		if errors.Is(err, ErrOvertaken) {
			overtaken++
		}
	}
	<-k.asked.whole
	if overtaken != 1 {
		t.Errorf("%d questions were overtaken, want the oldest alone", overtaken)
	}
}

// The keeper lets go of the answers asked for longest ago.
func TestQuestionsAreBounded(t *testing.T) {
	q := newQuestions(2)
	for i := range 2 * mostQuestions {
		x := &question{key: Asked{Question: fmt.Sprint(i)}}
		q.byKey[x.key] = x
		x.place = q.done.PushFront(x.key)
		q.shed()
	}
	if len(q.byKey) != mostQuestions || q.done.Len() != mostQuestions {
		t.Errorf("%d kept, want %d", len(q.byKey), mostQuestions)
	}
}
