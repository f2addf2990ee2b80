package sheet

import (
	"fmt"
	"strings"

	"wellwright/plan"
	"wellwright/source"
	"wellwright/unit"
)

// Why writes what is to be said of one train.
func Why(w plan.Why, s unit.System) string {
	p := &page{}
	p.wrap(0, "", w.Well+" · "+trainOf(w.Option.Train))
	verdict := "meets every limit in the likeliest water"
	if !w.Meets {
		verdict = "does not do here: " + limitWords(w.Option.FirstLimit)
	}
	p.wrap(2, "", verdict)
	if w.Rule != "" {
		p.wrap(2, "order: ", w.Rule)
	}
	if w.Change != "" {
		p.wrap(2, "what would have to change: ", w.Change)
	}
	w.Option.Rank = 1
	p.option(w.Option, s, true)
	p.head("Every limit, in the order the water meets them")
	rows := [][]string{{"", "stage", "limit", "has", "needs", "unit", "margin"}}
	for _, l := range w.Limits {
		rows = append(rows, limitRow(l))
	}
	p.table(2, rows)
	return p.String()
}

// limitRow is one limit as a row of a table.
func limitRow(l plan.Limit) []string {
	mark := " "
	if l.Fails {
		mark = "x"
	}
	word := "≥ "
	if l.AtMost {
		word = "≤ "
	}
	return []string{mark, l.Stage, strings.ReplaceAll(l.Limit, "_", " "), unit.Digits(l.Have), word + unit.Digits(l.Need), l.Unit, unit.Significant(l.Margin, 3)}
}

// Working writes the working of the answer's figures; "" if none was recorded.
func Working(a plan.Answer) string {
	if len(a.Working) == 0 {
		return ""
	}
	p := &page{}
	p.head("Working of the first option")
	place := ""
	for _, w := range a.Working {
		if w.Place != place {
			place = w.Place
			p.line("  %s", place)
		}
		p.wrap(4, "", fmt.Sprintf("%s = %s %s", strings.ReplaceAll(w.Figure, "_", " "), unit.Significant(w.Value, 4), w.Unit))
		p.wrap(8, "", w.Equation)
		var syms []string
		for _, y := range w.Symbols {
			syms = append(syms, strings.TrimSpace(fmt.Sprintf("%s = %s %s", y.Name, unit.Significant(y.Value, 4), y.Unit)))
		}
		if len(syms) > 0 {
			p.wrap(8, "with ", strings.Join(syms, "; "))
		}
		for _, f := range w.Factors {
			p.wrap(8, "", fmt.Sprintf("%s = %s %s [%s: %s]", f.Name, unit.Significant(f.Value, 4), f.Unit, f.Kind, f.From))
		}
		if w.Source != "" {
			p.wrap(8, "source: ", w.Source)
		}
	}
	return "\n" + p.String()
}

// Whatif writes what a change of inputs does to the answer.
func Whatif(changes []string, now, then plan.Answer, s unit.System) string {
	p := &page{}
	p.line("%s · what if %s", now.Well, strings.Join(changes, ", "))
	p.line("")
	rows := [][]string{{"", "as it is", "changed"}}
	rows = append(rows, []string{"first choice", first(now), first(then)})
	rows = append(rows, []string{"ten-year cost", tenYear(now), tenYear(then)})
	rows = append(rows, []string{"first limit to fail", firstLimit(now), firstLimit(then)})
	rows = append(rows, []string{"options", fmt.Sprint(len(now.Options)), fmt.Sprint(len(then.Options))})
	p.table(2, rows)
	p.dropped(now, then)
	p.options(then, s)
	return p.String()
}

// dropped names the trains that come in and go out.
func (p *page) dropped(now, then plan.Answer) {
	was, is := trains(now), trains(then)
	for _, t := range was {
		if !contains(is, t) {
			p.wrap(2, "goes out: ", t+lostTo(then, t))
		}
	}
	for _, t := range is {
		if !contains(was, t) {
			p.wrap(2, "comes in: ", t)
		}
	}
}

// lostTo says why a train went out, if the answer tells.
func lostTo(a plan.Answer, train string) string {
	for _, r := range a.Rejected {
		if strings.Join(r.Train, " → ") == train {
			return ": " + r.Say
		}
	}
	return ""
}

func trains(a plan.Answer) []string {
	var ts []string
	for _, o := range a.Options {
		ts = append(ts, strings.Join(o.Train, " → "))
	}
	return ts
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func first(a plan.Answer) string {
	if len(a.Options) == 0 {
		return "none meets every limit"
	}
	return strings.Join(a.Options[0].Train, " → ")
}

func tenYear(a plan.Answer) string {
	if len(a.Options) == 0 {
		return "—"
	}
	return dollars(a.Options[0].Cost.TenYear)
}

func firstLimit(a plan.Answer) string {
	if len(a.Options) == 0 {
		return "—"
	}
	l := a.Options[0].FirstLimit
	return fmt.Sprintf("%s (margin %s)", strings.ReplaceAll(l.Limit, "_", " "), unit.Significant(l.Margin, 3))
}

// Shown is a factor as it is by default and as it stands in a book.
type Shown struct {
	source.Factor
	Now source.Factor `json:"now"`
}

// Factors writes factors, a line each or opened.
func Factors(fs []Shown, open bool) string {
	p := &page{}
	if !open {
		rows := [][]string{{"factor", "value", "unit", "kind"}}
		for _, f := range fs {
			rows = append(rows, []string{f.Name, unit.Significant(f.Now.Value, 4), f.Unit, f.Now.Kind.String()})
		}
		p.table(0, rows)
		return p.String()
	}
	for _, f := range fs {
		p.line("%s = %s %s", f.Name, unit.Significant(f.Now.Value, 4), f.Unit)
		p.wrap(4, "", f.What)
		if f.HasRange() {
			p.line("    in use or in print from %s to %s", unit.Significant(f.Low, 4), unit.Significant(f.High, 4))
		}
		p.wrap(4, "", f.Kind.String()+": "+f.From)
		if f.Now.Kind == source.Own {
			p.wrap(4, "own value: ", fmt.Sprintf("%s in place of %s, because %s", unit.Digits(f.Now.Value), unit.Digits(f.Value), f.Now.From))
		}
	}
	return p.String()
}
