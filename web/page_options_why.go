package web

import (
	"context"
	"net/http"
	"time"

	"wellwright/formula"
	"wellwright/plan"
	"wellwright/train"
	"wellwright/web/internal/warm"
)

// whyKey names what is to be said of a train of a well as it stood.
type whyKey struct {
	warm.Key
	train string
}

// whysKept is how many trains beyond the options are kept explained: some 100 kB
// each.
const whysKept = 200

// trainSaid is all that is said of one train.
type trainSaid struct {
	plan.Why
	Lanes plan.Lanes
	Steps []formula.Placed // the figures that can be opened
}

// wholeOf explains a train.
func wholeOf(d *plan.Desk, t train.Train) (x trainSaid, err error) {
	if x.Why, err = d.Explain(t); err != nil {
		return x, err
	}
	if s, err := d.Shown(t); err == nil {
		x.Lanes = s.Lanes()
	}
	if steps, err := d.Working(t); err == nil {
		x.Steps = steps
	}
	return x, nil // a train that cannot be drawn is explained all the same
}

// explanation is what came of explaining a train.
type explanation struct {
	trainSaid
	err error
}

// explained gives what is to be said of a train; ok is false where it is still
// being worked out, and the page that says so has been written.
func (s *Server) explained(w http.ResponseWriter, r *http.Request, o opened, k *warm.Kept, t train.Train) (x trainSaid, ok bool, err error) {
	begun, done := s.Now(), make(chan explanation, 1)
	go func() {
		x, err := s.whys.of(whyKey{o.key(), t.String()}, func() (trainSaid, error) {
			d, err := k.Desk()
			if err != nil {
				return trainSaid{}, err
			}
			free := s.warm.Slot(context.Background())
			defer free()
			return wholeOf(d, t)
		})
		done <- explanation{x, err}
	}()
	select {
	case x := <-done:
		if x.err != nil {
			return x.trainSaid, false, bad(x.err.Error())
		}
		return x.trainSaid, true, nil
	case <-r.Context().Done():
		return x, false, r.Context().Err()
	case <-time.After(patience):
		f := s.framed(r, o, "options", "Working it out")
		return x, false, s.render(w, r, "wait.html", waitPage{f, int(s.Now().Sub(begun).Seconds())})
	}
}
