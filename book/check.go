package book

import (
	"fmt"
	"strings"
	"time"

	"wellwright/source"
	"wellwright/water"
)

// Check returns what can only be said on a given day: entries and samples of a
// later date, and, as a notice, entries written by hand that no later entry
// guards against a change yet.
func (b *Book) Check(on time.Time) []Finding {
	var found []Finding
	for _, e := range b.Entries {
		if !written(e, on) {
			found = append(found, b.at(e, fmt.Sprintf("entry %s is dated %s, after %s", e.ID, e.On.Format(time.DateOnly), on.Format(time.DateOnly)), "a book holds what was found, not what is to come"))
		}
		if rep, ok := e.Body.(*water.Report); ok && rep != nil {
			found = append(found, b.sampleDates(e, *rep)...)
		}
	}
	found = append(found, b.unsealed()...)
	sortFindings(found)
	return found
}

func (b *Book) sampleDates(e Entry, rep water.Report) []Finding {
	var found []Finding
	if !e.On.IsZero() && rep.Sampled.After(e.On.Add(24*time.Hour)) {
		found = append(found, b.at(e, fmt.Sprintf("sample of %s stands in an entry of %s", rep.Sampled.Format(time.DateOnly), e.On.Format(time.DateOnly)), "date the entry by the day it is written"))
	}
	if !rep.Analysed.IsZero() && rep.Analysed.Before(rep.Sampled.Truncate(24*time.Hour)) {
		found = append(found, b.at(e, fmt.Sprintf("analysed on %s, before it was sampled on %s", rep.Analysed.Format(time.DateOnly), rep.Sampled.Format(time.DateOnly)), "look at both dates"))
	}
	return found
}

// unsealed names the entries at the end that were written by hand.
func (b *Book) unsealed() []Finding {
	first := len(b.Entries)
	for first > 0 && b.Entries[first-1].Previous == "" {
		first--
	}
	if first == len(b.Entries) {
		return nil
	}
	f := b.at(b.Entries[first], fmt.Sprintf("entry %s written by hand and not sealed yet", b.all(first)), "the next entry the program adds will carry its hash, and a later change will show")
	f.Weight = Notice
	return []Finding{f}
}

func (b *Book) all(first int) string {
	ids := make([]string, 0, len(b.Entries)-first)
	for _, e := range b.Entries[first:] {
		ids = append(ids, e.ID)
	}
	return strings.Join(ids, ", ")
}

// CheckFactors returns the factor entries that name no factor of the register.
func (b *Book) CheckFactors(known *source.Register) []Finding {
	var found []Finding
	for _, e := range b.Entries {
		f, ok := e.Body.(*Factor)
		if !ok || f == nil {
			continue
		}
		if _, ok := known.Find(f.Name); !ok {
			found = append(found, b.at(e, fmt.Sprintf("factor %q is not known%s", f.Name, nearest(f.Name, known.Names())), ""))
		}
	}
	return found
}
