package section

import (
	"strings"

	"wellwright/plan"
	"wellwright/unit"
)

// BeliefTable is the picture of belief as a table.
func BeliefTable(a plan.Answer, s unit.System) Table {
	t := Table{Caption: "What is believed of the water of " + wellName(a.Well) + ", as of " + a.AsOf, Head: []string{"quantity", "unit", "before", "now", "read", "limit"}, Notes: []string{Drawn(a.Quality)}}
	for _, r := range BeliefRows(a, s) {
		before := ""
		if r.Before != nil {
			before = r.Figure(r.Before.P50) + " (" + r.Span(*r.Before) + ")"
		}
		read := make([]string, len(r.Readings))
		for i, x := range r.Readings {
			read[i] = r.Read(x) + " " + place(x)
		}
		now := r.Figure(r.After.P50) + " (" + r.Span(r.After) + ")"
		if r.Assumed {
			now += ", assumed"
		}
		t.Rows = append(t.Rows, []string{r.Name, r.Unit, before, now, strings.Join(read, ", "), strings.Join(r.Limits(), ", ")})
	}
	return t
}
