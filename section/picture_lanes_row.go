package section

import (
	"fmt"
	"strings"

	"wellwright/plan"
	"wellwright/unit"
)

// LaneRow is one limit of a train made ready to be drawn or printed.
type LaneRow struct {
	plan.Lane
	Name string // the limit in words
	Have string // what there is of it
	Need string // what is needed, with its unit
	Hint string // of a caution that stands before it, "" if none does
}

// LaneRows makes the limits of a train ready, in flow order.
func LaneRows(l plan.Lanes, s unit.System) []LaneRow {
	rows := make([]LaneRow, len(l.Lanes))
	for i, x := range l.Lanes {
		rows[i] = laneRow(x, s)
	}
	return rows
}

func laneRow(l plan.Lane, s unit.System) LaneRow {
	r := LaneRow{Lane: l, Name: plan.LimitName(l.Limit.Limit)}
	if l.YesOrNo {
		return r
	}
	sign := "≥ "
	if l.AtMost {
		sign = "≤ "
	}
	c := limitScale(l.Unit, s)
	r.Have = spareFigure(c.of(l.Have))
	need := spareFigure(c.of(l.Need))
	if need == r.Have && l.Have != l.Need {
		r.Have, need = thousands(unit.Significant(c.of(l.Have), 4)), thousands(unit.Significant(c.of(l.Need), 4))
	}
	r.Need = sign + need
	if l.Caution != nil {
		r.Hint = sign + spareFigure(c.of(l.Caution.Need))
	}
	if c.unit != "" {
		r.Need += " " + c.unit
	}
	return r
}

// limitScale is the unit that a limit is told in.
func limitScale(u string, s unit.System) scale {
	if u == "chance" {
		return scale{} // of 1
	}
	_, shown := unit.InSystem(0, u, s)
	return scale{unit: shown, to: func(v float64) float64 { v, _ = unit.InSystem(v, u, s); return v }}
}

// Verdict says in words how the limit stands.
func (r LaneRow) Verdict() string {
	switch {
	case r.Elsewhere:
		return "not asked of the likeliest water"
	case r.Fails && r.Soft:
		return "a caution, not kept"
	case r.Fails:
		return "broken"
	case r.Caution != nil && r.Caution.Fails:
		return "kept, but past the caution"
	}
	return "kept"
}

// Sentence tells the lane in words.
func (r LaneRow) Sentence() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s: %s", r.Words, r.Name, r.Verdict())
	if !r.YesOrNo {
		fmt.Fprintf(&b, "; has %s, needs %s; %s of it used up, from %s to %s", r.Have, r.Need, percent(r.Used.P50), percent(r.Used.P05), percent(r.Used.P95))
		if r.Hint != "" {
			fmt.Fprintf(&b, "; caution at %s", r.Hint)
		}
	}
	if r.Breaks > 0 {
		b.WriteString("; not kept " + inHundred(r.Breaks))
	}
	if r.First {
		b.WriteString("; " + r.flagWords())
	}
	return b.String() + "."
}

// flagWords says why a lane is flagged.
func (r LaneRow) flagWords() string {
	switch {
	case r.Fails:
		return "the first limit to fail"
	case r.Breaks > 0:
		return "the likeliest to fail first in other waters"
	}
	return "the nearest to failing"
}

// usedUp prints a share with its range, where it has one.
func usedUp(r plan.Range) string {
	mid, low, high := percent(r.P50), percent(r.P05), percent(r.P95)
	if low == mid && high == mid {
		return mid
	}
	return mid + " (" + low + " to " + high + ")"
}

// LaneTable is the picture of the lanes as a table.
func LaneTable(l plan.Lanes, s unit.System) Table {
	t := Table{Caption: "How much of each limit is used up, " + wellName(l.Well) + ", as of " + l.AsOf + ". " + trainWords(l.Heading), Head: []string{"stage", "limit", "has", "needs", "used up", "not kept in", "verdict"}}
	for _, r := range LaneRows(l, s) {
		used, broken := "", ""
		if !r.YesOrNo {
			used = usedUp(r.Used)
		}
		if r.Breaks > 0 {
			broken = percent(r.Breaks)
		}
		verdict := r.Verdict()
		if r.First {
			verdict += "; " + r.flagWords()
		}
		t.Rows = append(t.Rows, []string{r.Words, r.Name, r.Have, r.needWords(), used, broken, verdict})
	}
	return t
}
