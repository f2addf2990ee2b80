package web

import (
	"log/slog"
	"net"
	"net/http"
	"slices"
	"strings"
	"time"
)

// largestForm bounds the body of a request that carries no file.
const largestForm = 1 << 20

// policy lets a page use nothing but this server's own files: no script or style
// within a page, no other host, no frame around it.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guarded puts the guards before all routes.
func (s *Server) guarded(h http.Handler) http.Handler {
	origin := http.NewCrossOriginProtection()
	return s.logged(headed(s.named(origin.Handler(bounded(h)))))
}

// headed sets the headers of every answer.
func headed(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		set := w.Header().Set
		set("Content-Security-Policy", policy)
		set("X-Content-Type-Options", "nosniff")
		set("Referrer-Policy", "same-origin")
		set("Cross-Origin-Opener-Policy", "same-origin")
		set("Cross-Origin-Resource-Policy", "same-origin")
		set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		set("Cache-Control", "no-store")
		h.ServeHTTP(w, r)
	})
}

// named refuses requests that were sent to another name: a page elsewhere may
// point its own name at this machine.
func (s *Server) named(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		host, _, err := net.SplitHostPort(r.Host)
		if err != nil {
			host = r.Host
		}
		if !slices.Contains(s.Hosts, strings.ToLower(strings.Trim(host, "[]"))) {
			http.Error(w, "this server answers only under its own name", http.StatusMisdirectedRequest)
			return
		}
		h.ServeHTTP(w, r)
	})
}

// bounded bounds the body of a request; a route that takes files sets its own,
// larger bound.
func bounded(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		limit := int64(largestForm)
		if takesFiles(r) {
			limit = largestUpload
		}
		r.Body = http.MaxBytesReader(w, r.Body, limit)
		h.ServeHTTP(w, r)
	})
}

// largestUpload bounds a request with files: a report, a few photographs.
const largestUpload = 32 << 20

// takesFiles is true of a request that carries files.
func takesFiles(r *http.Request) bool {
	return strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/form-data")
}

// logged writes a line for each request: its route, never its path, query or body,
// which name households.
func (s *Server) logged(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		begun := time.Now()
		kept := &statusKeeper{ResponseWriter: w, status: http.StatusOK}
		h.ServeHTTP(kept, r)
		s.Log.LogAttrs(r.Context(), slog.LevelInfo, "served",
			slog.String("route", r.Pattern), slog.String("method", r.Method), slog.Int("status", kept.status), slog.Duration("took", time.Since(begun)))
	})
}

// statusKeeper remembers the status written, and whether an answer has begun.
type statusKeeper struct {
	http.ResponseWriter
	status int
	begun  bool
}

func (k *statusKeeper) WriteHeader(status int) {
	k.status, k.begun = status, true
	k.ResponseWriter.WriteHeader(status)
}

func (k *statusKeeper) Write(text []byte) (int, error) {
	k.begun = true
	return k.ResponseWriter.Write(text)
}

// Unwrap lets a handler reach the connection, to flush or to set deadlines.
func (k *statusKeeper) Unwrap() http.ResponseWriter { return k.ResponseWriter }
