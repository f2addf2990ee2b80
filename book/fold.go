package book

import (
	"sort"
	"strconv"
	"strings"
	"time"

	"wellwright/water"
)

// Present folds the entries up to and with the date asOf into what is known on
// it; a zero date takes all entries. Entries count by their date, and within
// one date by their name, so that the order in the file does not matter. A
// correction counts from the day it was written, in the place of the entry it
// corrects.
func (b *Book) Present(asOf time.Time) Present {
	p := Present{AsOf: asOf, From: map[string]string{}}
	for _, f := range b.inForce(asOf) {
		k, ok := kindOf(string(f.body.Kind))
		if !ok {
			p.Used = append(p.Used, f.body.ID)
			continue
		}
		e := f.body
		e.On, e.Timed = f.root.On, f.root.Timed
		r := &reader{file: b.Path, entry: e.ID, e: e, path: []string{k.name}}
		r.set = func(path string) { p.From[path] = e.ID }
		k.read(r, e.Section, &p)
		p.Used = append(p.Used, e.ID)
	}
	p.Name, p.OwnPrices = p.Supply.Well.Name, p.Wishes.PriceListFile
	sort.SliceStable(p.Reports, func(i, j int) bool { return p.Reports[i].Sampled.Before(p.Reports[j].Sampled) })
	return p
}

// force is an entry that holds: where it stands, and what it says by now.
type force struct{ root, body Entry }

// inForce returns the entries that hold on a date, oldest first, each with its
// last correction.
func (b *Book) inForce(asOf time.Time) []force {
	var known []Entry
	has := map[string]bool{}
	for _, e := range b.Entries {
		if written(e, asOf) {
			known = append(known, e)
			has[e.ID] = true
		}
	}
	sort.SliceStable(known, func(i, j int) bool { return comesBefore(known[i], known[j]) })
	corrected := map[string]Entry{}
	for _, e := range known {
		if e.Corrects != "" && e.Corrects != e.ID {
			corrected[e.Corrects] = e // the last one counts
		}
	}
	var out []force
	for _, e := range known {
		if e.Corrects != "" && has[e.Corrects] {
			continue
		}
		if body := lastWord(e, corrected); body.Kind != WithdrawalKind {
			out = append(out, force{root: e, body: body})
		}
	}
	return out
}

// lastWord follows the corrections of e to the one that stands.
func lastWord(e Entry, corrected map[string]Entry) Entry {
	for range len(corrected) {
		next, ok := corrected[e.ID]
		if !ok {
			break
		}
		e = next
	}
	return e
}

// written reports whether e was written by the end of the day, or by the time
// of day, of asOf.
func written(e Entry, asOf time.Time) bool {
	if asOf.IsZero() {
		return true
	}
	if asOf.Equal(asOf.Truncate(24 * time.Hour)) {
		return e.On.Before(asOf.Add(24 * time.Hour))
	}
	return !e.On.After(asOf)
}

func comesBefore(a, b Entry) bool {
	if !a.On.Equal(b.On) {
		return a.On.Before(b.On)
	}
	n, errA := strconv.Atoi(a.ID)
	m, errB := strconv.Atoi(b.ID)
	switch {
	case errA == nil && errB == nil && n != m:
		return n < m
	case errA == nil && errB != nil:
		return true
	case errA != nil && errB == nil:
		return false
	}
	return strings.Compare(a.ID, b.ID) < 0
}

func sortFindings(found []Finding) {
	sort.SliceStable(found, func(i, j int) bool { return found[i].Place.Line < found[j].Place.Line })
}

// Sampled returns the reports taken at a tap.
func (p Present) Sampled(tap water.Where) []water.Report {
	var out []water.Report
	for _, r := range p.Reports {
		if r.Tap == tap {
			out = append(out, r)
		}
	}
	return out
}
