package main

import (
	"context"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// listened serves a handler on a loopback address until the test asks to stop.
func listened(t *testing.T, h http.Handler) (address string, stop func(), ended <-chan error) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	t.Cleanup(cancel)
	done := make(chan error, 1)
	go func() { done <- serveUntil(ctx, l, h) }()
	return l.Addr().String(), cancel, done
}

// A client that never finishes its head is cut off, and keeps nobody waiting.
func TestSlowClientIsCutOff(t *testing.T) {
	t.Parallel()
	address, _, _ := listened(t, http.NotFoundHandler())
	c, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if _, err := io.WriteString(c, "GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: "); err != nil {
		t.Fatal(err)
	}
	if err := c.SetReadDeadline(time.Now().Add(3 * headTime)); err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadAll(c); err != nil {
		t.Errorf("the connection was left open: %v", err)
	}
}

// A head that is larger than any browser's is refused.
func TestLargeHeadIsRefused(t *testing.T) {
	t.Parallel()
	address, _, _ := listened(t, http.NotFoundHandler())
	r, err := http.NewRequest(http.MethodGet, "http://"+address+"/", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("X-Large", strings.Repeat("x", 2*largestHead))
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return // cut off while it was sent
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusRequestHeaderFieldsTooLarge {
		t.Errorf("a head of %d bytes is answered with %s", 2*largestHead, answer.Status)
	}
}

// What is being done when a stop is asked for is done; a stream is cut.
func TestStopLetsWorkEnd(t *testing.T) {
	t.Parallel()
	begun, streamed := make(chan bool), make(chan bool)
	mux := http.NewServeMux()
	mux.HandleFunc("/save", func(w http.ResponseWriter, _ *http.Request) {
		begun <- true
		time.Sleep(streamTime / 2)
		_, _ = io.WriteString(w, "saved") // the client looks
	})
	mux.HandleFunc("/stream", func(_ http.ResponseWriter, r *http.Request) {
		begun <- true
		<-r.Context().Done()
		close(streamed)
	})
	address, stop, ended := listened(t, mux)
	said := make(chan string, 1)
	go func() {
		answer, err := http.Get("http://" + address + "/save")
		if err != nil {
			said <- err.Error()
			return
		}
		defer answer.Body.Close()
		text, _ := io.ReadAll(answer.Body)
		said <- string(text)
	}()
	go func() {
		if answer, err := http.Get("http://" + address + "/stream"); err == nil {
			answer.Body.Close()
		}
	}()
	<-begun
	<-begun
	stop()
	if got := <-said; got != "saved" {
		t.Errorf("what was being saved ended as %q", got)
	}
	<-streamed
	if err := <-ended; err != nil {
		t.Errorf("the server ended with %v", err)
	}
}
