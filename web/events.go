package web

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"wellwright/plan"
)

// settled is how long a question stands before its whole answer is begun: one who
// is still typing asks another in the meantime.
const settled = 300 * time.Millisecond

// pulse is how often a stream says that it is still there.
const pulse = 5 * time.Second

// streamWhole handles GET /wells/{well}/what-if/whole: a stream of events with the
// whole answer to a question when it is ready. It ends when the asker goes.
func (s *Server) streamWhole(w http.ResponseWriter, r *http.Request) error {
	x, ok, err := s.whatif(w, r)
	if !ok {
		return err
	}
	if len(x.wrong) > 0 {
		return bad(x.wrong[0].Say)
	}
	to := newStream(w)
	if err := to.open(); err != nil {
		return err
	}
	t, err := s.awaitWhole(r, x, to)
	if err != nil {
		return ended(err)
	}
	p := s.whatifPage(r, x, x.followed(t))
	var text bytes.Buffer
	if err := s.pages.byName["whatif.html"].ExecuteTemplate(&text, "follow", p); err != nil {
		return fmt.Errorf("render the whole answer: %w", err)
	}
	return ended(to.event("whole", text.String()))
}

// ended is nil for a stream that the asker, or a newer question, has ended.
func ended(err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, plan.ErrGivenUp) {
		return context.Canceled
	}
	return err
}

// awaitWhole waits for the whole answer, with a sign of life now and then.
func (s *Server) awaitWhole(r *http.Request, x whatif, to *stream) (plan.Tried, error) {
	if t, known := s.warm.Known(x.key()); known {
		return t, nil
	}
	ctx, cancel := context.WithCancel(r.Context())
	defer cancel()
	select {
	case <-time.After(settled):
	case <-ctx.Done():
		return plan.Tried{}, ctx.Err()
	}
	type result struct {
		tried plan.Tried
		err   error
	}
	got := make(chan result, 1)
	go func() {
		t, err := s.warm.Whole(ctx, askerOf(r), x.key(), x.desk, x.variant)
		got <- result{t, err}
	}()
	beat := time.NewTicker(pulse)
	defer beat.Stop()
	for {
		select {
		case x := <-got:
			return x.tried, x.err
		case <-beat.C:
			if err := to.comment("still working"); err != nil {
				return plan.Tried{}, err
			}
		}
	}
}

// stream writes server-sent events.
type stream struct {
	w  http.ResponseWriter
	to *http.ResponseController
}

func newStream(w http.ResponseWriter) *stream { return &stream{w, http.NewResponseController(w)} }

// open sends the head. A stream outlasts the time that a page may take, and one
// that broke is asked for again after a minute at the soonest.
func (s *stream) open() error {
	if err := s.to.SetWriteDeadline(time.Time{}); err != nil && !errors.Is(err, http.ErrNotSupported) {
		return err
	}
	s.w.Header().Set("Content-Type", "text/event-stream; charset=utf-8")
	s.w.Header().Set("X-Accel-Buffering", "no")
	s.w.WriteHeader(http.StatusOK)
	return s.send("retry: 60000\n\n")
}

func (s *stream) comment(text string) error { return s.send(": " + text + "\n\n") }

// event sends one event; each line of its text is a line of data.
func (s *stream) event(name, text string) error {
	return s.send("event: " + name + "\ndata: " + strings.ReplaceAll(text, "\n", "\ndata: ") + "\n\n")
}

func (s *stream) send(text string) error {
	if _, err := s.w.Write([]byte(text)); err != nil {
		return err
	}
	return s.to.Flush()
}
