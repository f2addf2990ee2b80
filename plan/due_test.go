package plan

import (
	"testing"
	"time"

	"wellwright/book"
	"wellwright/water"
)

// The rows stand on, just before and just after each boundary. EPA, private
// drinking water wells, frequent questions (copy of 2009): coliform, nitrates and
// pH every year. An urgent call the same day or the next: common practice.
func TestDue(t *testing.T) {
	day := func(s string) time.Time {
		d, err := time.Parse(time.DateOnly, s)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	read := func(on string, as ...water.Analyte) water.Report {
		r := water.Report{Sampled: day(on)}
		for _, a := range as {
			r.Results = append(r.Results, water.Result{Analyte: a})
		}
		return r
	}
	all := []water.Analyte{water.TotalColiform, water.Nitrate, water.PH}
	urgent := &book.Call{Urgency: book.Urgent}
	for _, tt := range []struct {
		name  string
		as    string
		call  *book.Call
		on    string // of the call
		reads []water.Report
		want  []string
	}{
		{"a day short of a year", "2026-03-11", nil, "", []water.Report{read("2025-03-12", all...)}, nil},
		{"a year to the day", "2026-03-12", nil, "", []water.Report{read("2025-03-12", all...)}, []string{"yearly-tests"}},
		{"read again since", "2026-03-12", nil, "", []water.Report{read("2025-03-12", all...), read("2025-06-01", all...)}, nil},
		{"one of three never", "2025-04-01", nil, "", []water.Report{read("2025-03-12", water.EColi, water.PH)}, []string{"never-tested"}},
		{"late and never", "2026-04-01", nil, "", []water.Report{read("2025-03-12", water.EColi, water.PH)}, []string{"yearly-tests", "never-tested"}},
		{"nothing read yet", "2026-04-01", nil, "", nil, nil},
		{"urgent, the same day", "2026-04-01", urgent, "2026-04-01", nil, nil},
		{"urgent, the next day", "2026-04-02", urgent, "2026-04-01", nil, []string{"urgent-call"}},
		{"urgent and visited", "2026-04-02", urgent, "2026-04-01", []water.Report{read("2026-04-01", all...)}, nil},
		{"not urgent", "2026-04-09", &book.Call{Urgency: book.Routine}, "2026-04-01", nil, nil},
	} {
		var called time.Time
		if tt.on != "" {
			called = day(tt.on)
		}
		var got []string
		for _, d := range DueOn(book.Present{AsOf: day(tt.as), Call: tt.call, Reports: tt.reads}, called) {
			got = append(got, d.ID)
		}
		if len(got) != len(tt.want) {
			t.Errorf("%s: due %v, want %v", tt.name, got, tt.want)
			continue
		}
		for i := range got {
			if got[i] != tt.want[i] {
				t.Errorf("%s: due %v, want %v", tt.name, got, tt.want)
			}
		}
	}
}
