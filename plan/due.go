package plan

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"wellwright/book"
	"wellwright/source"
	"wellwright/water"
)

// Due is something that a well waits for.
type Due struct {
	ID    string
	Since time.Time // the day it fell due; zero: it never was done
	Say   string
}

// The factors of what is due.
var (
	testMonths = source.Factor{Name: "private_well_test_months", What: "time between tests for coliform, nitrate and pH of a private well", Unit: "months", Value: 12,
		Kind: source.Published, From: "EPA, private drinking water wells, frequent questions (copy of 2009): test every year for coliform, nitrates, dissolved solids and pH"}
	callDays = source.Factor{Name: "urgent_call_days", What: "days within which an urgent call is visited", Unit: "days", Value: 1, Low: 0, High: 2,
		Kind: source.CommonPractice, From: "illness, an infant, coliform found or a sudden change: the same day or the next"}
)

// DueOn lists what a well waits for on the day of its present state: an urgent call
// that nobody has followed with a reading, and the tests advised for every private
// well each year. It reads the book alone, so that a long list of wells is quick.
func DueOn(p book.Present, calledOn time.Time) []Due {
	set := p.Factors()
	return append(callDue(p, calledOn, set), testsDue(p, set)...)
}

// callDue is an urgent call without a reading or a report since.
func callDue(p book.Present, called time.Time, set source.Set) []Due {
	if p.Call == nil || p.Call.Urgency != book.Urgent || called.IsZero() {
		return nil
	}
	answered := slices.ContainsFunc(p.Reports, func(r water.Report) bool { return !r.Sampled.Before(called.Truncate(24 * time.Hour)) })
	due := called.AddDate(0, 0, int(set.Of(callDays)))
	if answered || p.AsOf.Before(due) {
		return nil
	}
	return []Due{{"urgent-call", due, "urgent call of " + called.Format(time.DateOnly) + ": nothing read since"}}
}

// yearlyTests are the tests advised for every private well each year, and what
// counts as each.
var yearlyTests = []struct {
	words string
	any   []water.Analyte
}{
	{"coliform", []water.Analyte{water.TotalColiform, water.EColi}},
	{"nitrate", []water.Analyte{water.Nitrate, water.NitrateNitrite}},
	{"pH", []water.Analyte{water.PH}},
}

// testsDue is one line for the yearly tests that are late, and one for those never
// made. A well of which nothing was ever read is not late: its first visit is to come.
func testsDue(p book.Present, set source.Set) []Due {
	if len(p.Reports) == 0 {
		return nil
	}
	months := int(set.Of(testMonths))
	var never, late []string
	var since time.Time
	for _, t := range yearlyTests {
		last := lastRead(p, t.any)
		next := last.AddDate(0, months, 0)
		switch {
		case last.IsZero():
			never = append(never, t.words)
		case !next.After(p.AsOf):
			late = append(late, t.words)
			if since.IsZero() || next.Before(since) {
				since = next
			}
		}
	}
	var due []Due
	if len(late) > 0 {
		due = append(due, Due{"yearly-tests", since, fmt.Sprintf("%s: due since %s", listed(late), since.Format(time.DateOnly))})
	}
	if len(never) > 0 {
		due = append(due, Due{"never-tested", time.Time{}, listed(never) + ": never tested"})
	}
	return due
}

// lastRead is the day on which one of the analytes was last read; zero: never.
func lastRead(p book.Present, any []water.Analyte) time.Time {
	var last time.Time
	for _, r := range p.Reports {
		has := slices.ContainsFunc(r.Results, func(x water.Result) bool { return slices.Contains(any, x.Analyte) })
		if has && r.Sampled.After(last) {
			last = r.Sampled
		}
	}
	return last
}

// listed joins words as a sentence does.
func listed(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
