// Package web is the local web app: pages over a store of well books. It
// translates only: a handler reads what was asked, asks the domain, and writes a
// page. Nothing is fetched from elsewhere, and nothing leaves the machine.
package web

import (
	"log/slog"
	"net/http"
	"time"

	"wellwright/book"
	"wellwright/media"
	"wellwright/web/internal/held"
	"wellwright/web/internal/warm"
)

// Config is what a server stands on.
type Config struct {
	Store  book.Store
	Prices media.PriceList
	Now    func() time.Time // local time
	Hosts  []string         // names under which it may be called, such as localhost, without a port
	Log    *slog.Logger     // requests, without anything of a household
}

// What is kept at hand: a glance is a line of the list, a drawing with its course
// about 500 kB, a book about 100 kB.
const (
	mostGlances = 5000
	mostDrawn   = 24
	mostOpened  = 60
)

// Server serves the pages.
type Server struct {
	Config
	warm    *warm.Keeper
	whys    *shelf[whyKey, trainSaid]
	pages   *pages
	glances *shelf[warm.Key, glance]
	drawn   *shelf[drawnKey, drawnSection]
	opened  *shelf[openedKey, opened]
	held    *held.Keeper

	remember *shelf[pageKey, []byte]
}

// New makes a server. It errors only on a page that does not parse, which is a
// broken program.
func New(c Config) (*Server, error) {
	p, err := readPages()
	if err != nil {
		return nil, err
	}
	return &Server{Config: c, warm: warm.New(c.Prices), whys: newShelf[whyKey, trainSaid](whysKept), pages: p, glances: newShelf[warm.Key, glance](mostGlances), drawn: newShelf[drawnKey, drawnSection](mostDrawn), opened: newShelf[openedKey, opened](mostOpened), held: held.New(c.Now), remember: newShelf[pageKey, []byte](mostPages)}, nil
}

// Handler is all routes behind the guards.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	for pattern, h := range s.routes() {
		mux.Handle(pattern, s.handle(h))
	}
	mux.Handle("GET /own/", ownFiles())
	mux.Handle("GET /fetched/", fetchedFiles())
	return s.guarded(mux)
}

// routes are the pages by method and path.
func (s *Server) routes() map[string]handler {
	return map[string]handler{
		"GET /{$}":                            s.showWells,
		"POST /demonstration":                 s.addDemonstration,
		"GET /new":                            s.showNew,
		"POST /new":                           s.beginWell,
		"GET /wells/{well}/receive":           s.showReceive,
		"POST /wells/{well}/receive":          s.receive,
		"POST /view":                          s.setView,
		"GET /wells/{well}":                   s.remembered(s.showSection),
		"GET /wells/{well}/{$}":               s.remembered(s.showSection),
		"GET /wells/{well}/section.svg":       s.sectionFile,
		"GET /wells/{well}/section.pdf":       s.sectionFile,
		"GET /wells/{well}/enter":             s.showVisit,
		"GET /wells/{well}/enter/stood":       s.showStood,
		"GET /wells/{well}/enter/{kind}":      s.showEntry,
		"POST /wells/{well}/enter/{kind}":     s.saveEntry,
		"GET /wells/{well}/what-if":           s.showWhatif,
		"GET /wells/{well}/what-if/whole":     s.streamWhole,
		"GET /wells/{well}/what-if/compare":   s.showCompared,
		"POST /wells/{well}/what-if/keep":     s.keepVariant,
		"POST /wells/{well}/what-if/withdraw": s.withdrawVariant,
		"GET /wells/{well}/report":            s.remembered(s.showReport),
		"GET /wells/{well}/report.csv":        s.sendResults,
		"GET /wells/{well}/forms":             s.remembered(s.showForms),
		"GET /wells/{well}/options":           s.remembered(s.showOptions),
		"GET /wells/{well}/options/{train}":   s.remembered(s.showTrain),
		"GET /wells/{well}/working":           s.remembered(s.showWorking),
		"GET /wells/{well}/book":              s.remembered(s.showBook),
		"GET /wells/{well}/book.yaml":         s.sendBook,
		"GET /wells/{well}/factors":           s.showFactors,
		"POST /wells/{well}/factors":          s.saveFactor,
		"GET /wells/{well}/files/{hash}":      s.showFile,
		"GET /wells/{well}/{page...}":         s.noPage,
		"GET /":                               s.noPage,
	}
}

// today is the local date at midnight UTC, as books write dates.
func (s *Server) today() time.Time {
	n := s.Now()
	return time.Date(n.Year(), n.Month(), n.Day(), 0, 0, 0, 0, time.UTC)
}
