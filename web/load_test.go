package web_test

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"wellwright/demo"
)

// load is how long the pages are asked for by many at once.
var load = flag.Duration("load", 0, "ask for pages of 200 wells by 50 clients for this long, and print how long they took")

// TestLoad fills a store with 200 wells, opens each once, then lets 50 clients ask
// for pages. It asserts that every page comes; times are printed, for a note.
func TestLoad(t *testing.T) {
	if *load == 0 {
		t.Skip("a measurement, asked for by -load 1m")
	}
	s := newSite(t)
	wells := fill(t, s, 200)
	pages := []string{"", "/report", "/forms", "/options", "/book"}
	first := timed(t, s, wells[:40], 1, 0, []string{""})
	told("first open of a well, 1 client", first)
	timed(t, s, wells[40:], 2, 0, []string{""})
	told(fmt.Sprintf("pages, 50 clients for %v", *load), timed(t, s, wells, 50, *load, pages))
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		t.Skip(err)
	}
	for _, line := range strings.Split(string(status), "\n") {
		if strings.HasPrefix(line, "VmHWM") || strings.HasPrefix(line, "VmRSS") {
			fmt.Println(line, "(clients counted in)")
		}
	}
}

// fill adds demonstration wells under names of their own.
func fill(t *testing.T, s *site, n int) []string {
	t.Helper()
	all, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for i := range n {
		text := bytes.Replace(all[i%len(all)].Text, []byte("name: "), fmt.Appendf(nil, "name: No. %d, ", i), 1)
		id, err := s.Books.Add(t.Context(), text, now)
		if err != nil {
			t.Fatal(err)
		}
		ids = append(ids, string(id))
	}
	return ids
}

// timed lets clients ask for pages: each well once where no time is given, else at
// random until it is over.
func timed(t *testing.T, s *site, wells []string, clients int, long time.Duration, pages []string) []time.Duration {
	t.Helper()
	var mu sync.Mutex
	var took []time.Duration
	next := 0
	ask := func() (string, bool) {
		mu.Lock()
		defer mu.Unlock()
		if long > 0 {
			return wells[rand.IntN(len(wells))], true
		}
		next++
		return wells[min(next, len(wells))-1], next <= len(wells)
	}
	ctx := t.Context()
	if long > 0 {
		c, cancel := context.WithTimeout(ctx, long)
		defer cancel()
		ctx = c
	}
	var all sync.WaitGroup
	for range clients {
		all.Go(func() {
			for well, ok := ask(); ok && ctx.Err() == nil; well, ok = ask() {
				begun := time.Now()
				err := whole(s, s.URL+"/wells/"+well+pages[rand.IntN(len(pages))])
				mu.Lock()
				took = append(took, time.Since(begun))
				mu.Unlock()
				if err != nil {
					t.Error(err)
					return
				}
			}
		})
	}
	all.Wait()
	return took
}

// whole fetches a page until it has been worked out. A page comes packed once it is
// remembered, and is not unpacked here: browsers do that on other machines.
func whole(s *site, address string) error {
	for {
		r, err := http.NewRequest(http.MethodGet, address, nil)
		if err != nil {
			return err
		}
		r.Header.Set("Accept-Encoding", "gzip")
		answer, err := s.Client().Do(r)
		if err != nil {
			return err
		}
		text, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		switch {
		case err != nil:
			return err
		case answer.StatusCode != http.StatusOK:
			return fmt.Errorf("%s: %s", address, answer.Status)
		case !bytes.Contains(text, []byte("<h1>Working it out</h1>")):
			return nil
		}
	}
}

// told writes the middle, the 95th percentile and the longest of some times.
func told(what string, took []time.Duration) {
	slices.Sort(took)
	n := len(took)
	fmt.Printf("%s: %d, middle %v, 95th percentile %v, longest %v\n", what, n, took[n/2].Round(time.Millisecond), took[n*95/100].Round(time.Millisecond), took[n-1].Round(time.Millisecond))
}
