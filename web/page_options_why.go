package web

import (
	"context"
	"net/http"
	"time"

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

// explanation is what came of explaining a train.
type explanation struct {
	why plan.Why
	err error
}

// explained gives what is to be said of a train; ok is false where it is still
// being worked out, and the page that says so has been written.
func (s *Server) explained(w http.ResponseWriter, r *http.Request, o opened, d *plan.Desk, t train.Train) (x plan.Why, ok bool, err error) {
	begun, done := s.Now(), make(chan explanation, 1)
	go func() {
		why, err := s.whys.of(whyKey{o.key(), t.String()}, func() (plan.Why, error) {
			free := s.warm.Slot(context.Background())
			defer free()
			return d.Explain(t)
		})
		done <- explanation{why, err}
	}()
	select {
	case x := <-done:
		if x.err != nil {
			return x.why, false, bad(x.err.Error())
		}
		return x.why, true, nil
	case <-r.Context().Done():
		return x, false, r.Context().Err()
	case <-time.After(patience):
		f := s.framed(r, o, "options", "Working it out")
		return x, false, s.render(w, r, "wait.html", waitPage{f, int(s.Now().Sub(begun).Seconds())})
	}
}
