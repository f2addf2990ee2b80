package web

import (
	"context"
	"errors"
	"net/http"

	"wellwright/book"
)

// handler answers one request or says why it cannot.
type handler func(w http.ResponseWriter, r *http.Request) error

// refusal is an answer of "no" with its status and what to tell.
type refusal struct {
	status int
	say    string
}

func (e *refusal) Error() string { return e.say }

// bad says what is wrong with a request.
func bad(say string) error { return &refusal{http.StatusBadRequest, say} }

// missing says what is not there.
func missing(say string) error { return &refusal{http.StatusNotFound, say} }

// handle turns a handler's error into a page with its status.
func (s *Server) handle(h handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		err := h(w, r)
		if err == nil || errors.Is(err, context.Canceled) {
			return
		}
		if k, ok := w.(*statusKeeper); ok && k.begun {
			s.Log.Info("answer broken off", "route", r.Pattern) // whoever asked has gone
			return
		}
		s.fail(w, r, err)
	})
}

// fail writes the page of an error. What went wrong inside is logged, not shown.
func (s *Server) fail(w http.ResponseWriter, r *http.Request, err error) {
	no := refused(err)
	if no.status == http.StatusInternalServerError {
		s.Log.Error("request failed", "route", r.Pattern, "error", err)
	}
	f := s.frame(r, "Not done")
	if rendered := s.renderStatus(w, r, no.status, "refused.html", refusedPage{f, no.say}); rendered != nil {
		http.Error(w, no.say, no.status)
	}
}

// refusedPage is the page of an error.
type refusedPage struct {
	frame
	Say string
}

// refused is what to answer to an error.
func refused(err error) *refusal {
	var no *refusal
	var overtaken *book.OvertakenError
	var there *book.ThereError
	var mistaken *book.RefusedError
	var damaged *book.DamagedError
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &no):
		return no
	case errors.As(err, &overtaken):
		return &refusal{http.StatusConflict, overtaken.Error()}
	case errors.As(err, &there):
		return &refusal{http.StatusConflict, there.Error()}
	case errors.As(err, &mistaken):
		return &refusal{http.StatusUnprocessableEntity, mistaken.Error()}
	case errors.As(err, &damaged):
		return &refusal{http.StatusInternalServerError, damaged.Error()}
	case errors.As(err, &large):
		return &refusal{http.StatusRequestEntityTooLarge, "that is larger than a book or a report is; nothing was kept"}
	case errors.Is(err, book.ErrNoWell), errors.Is(err, book.ErrNoFile):
		return &refusal{http.StatusNotFound, err.Error()}
	}
	return &refusal{http.StatusInternalServerError, "something went wrong here; nothing you saved is lost. The log says what"}
}

// noPage answers for a path that leads nowhere.
func (s *Server) noPage(http.ResponseWriter, *http.Request) error {
	return missing("there is no such page")
}
