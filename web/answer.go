package web

import (
	"fmt"
	"net/http"
	"time"

	"wellwright/book"
	"wellwright/plan"
	"wellwright/web/internal/warm"
)

// patience is how long a page waits for an answer before it says that it is being
// worked out.
const patience = 800 * time.Millisecond

// waiting is the header by which the page that waits asks whether the answer is
// there.
const waiting = "X-Waiting"

// waitPage says that an answer is on its way, and looks again.
type waitPage struct {
	frame
	Seconds int
}

// answered gives a well that is ready and its answer; ok is false where it is still
// being worked out, and the page that says so has been written.
func (s *Server) answered(w http.ResponseWriter, r *http.Request, o opened, page string) (k *warm.Kept, a plan.Answer, ok bool, err error) {
	if wrong := book.Mistakes(o.found); len(wrong) > 0 {
		return nil, a, false, &refusal{http.StatusConflict, fmt.Sprintf("the book has %d mistakes; the first: %v", len(wrong), wrong[0])}
	}
	kept := s.warm.Well(o.key(), o.present, s.Now())
	select {
	case <-kept.Done():
		a, err = kept.Answer()
		if err == nil && r.Header.Get(waiting) != "" { // the page itself has a head of its own
			w.Header().Set("HX-Refresh", "true")
			return nil, a, false, nil
		}
		return kept, a, err == nil, err
	case <-r.Context().Done():
		return nil, a, false, r.Context().Err()
	case <-time.After(patience):
		f := s.framed(r, o, page, "Working it out")
		return nil, a, false, s.render(w, r, "wait.html", waitPage{f, int(s.Now().Sub(kept.Begun()).Seconds())})
	}
}
