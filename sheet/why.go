package sheet

import (
	"fmt"
	"strings"

	"wellwright/plan"
	"wellwright/unit"
)

// Why writes what is to be said of one train.
func Why(w plan.Why, s unit.System) string {
	p := &page{s: s}
	p.wrap(0, "", wellName(w.Well)+" · "+trainWords(w.Option))
	if w.Meets {
		p.wrap(2, "", "meets every limit in the likeliest water")
	} else {
		p.wrap(2, "", "does not do here")
	}
	if w.Rule != "" {
		p.say(2, "order: ", w.Rule)
	}
	w.Option.Rank = 1
	mark := "first limit to fail: "
	if w.Change != "" {
		mark = "what would have to change: "
	}
	p.body(w.Option, mark, true, map[string]int{})
	p.limits(w.Limits)
	return p.String()
}

// limits writes every limit under the stage it stands in.
func (p *page) limits(ls []plan.Limit) {
	p.head("Every limit, in the order the water meets them")
	if len(ls) == 0 {
		p.line("  None applies.")
		return
	}
	p.line("  Where two figures stand, the first is a caution and the second rules the train out.")
	rows := [][]string{{"", "", "unit", "has", "needs", "margin"}}
	for _, g := range Limits(ls, p.s) {
		rows = append(rows, []string{"", strings.ToUpper(g.Stage), "", "", "", ""})
		for _, r := range g.Rows {
			mark := ""
			if r.Fails {
				mark = "x"
			}
			rows = append(rows, []string{mark, "  " + r.Name, r.Unit, r.Has, r.Needs, r.Margin})
		}
	}
	p.columns(2, 3, rows)
}

// stageWords names where a limit stands.
func stageWords(id string) string {
	if id == "train" {
		return "the whole train"
	}
	return plan.Spelt(id)
}

// Whatif writes what a change of inputs does to the answer.
func Whatif(changes []string, now, then plan.Answer, s unit.System) string {
	p := &page{s: s}
	p.wrap(0, "", wellName(now.Well)+" · what if "+strings.Join(changes, ", "))
	p.chosen("As it is", now)
	p.chosen("Changed", then)
	p.dropped(now, then)
	p.options(then)
	return p.String()
}

// chosen writes the first choice of an answer.
func (p *page) chosen(head string, a plan.Answer) {
	p.head(head)
	if len(a.Options) == 0 {
		p.wrap(2, "", noOptions(a))
		return
	}
	o := a.Options[0]
	p.wrap(2, "first choice: ", trainWords(o))
	p.wrap(2, "ten years: ", dollars(o.Cost.TenYear))
	p.wrap(2, "first limit to fail: ", firstLimit(o.FirstLimit, p.s))
	p.wrap(2, "options listed: ", fmt.Sprint(len(a.Options)))
}

// dropped names the trains that come in and go out of the list.
func (p *page) dropped(now, then plan.Answer) {
	was, is := trains(now), trains(then)
	p.head("What changes in the list")
	same := true
	for _, t := range was {
		if !contains(is, t) {
			p.wrap(2, "goes out: ", t+p.lostTo(then, t))
			same = false
		}
	}
	for _, t := range is {
		if !contains(was, t) {
			p.wrap(2, "comes in: ", t)
			same = false
		}
	}
	if same {
		p.line("  Nothing: the same trains are listed.")
	}
}

// lostTo says why a train went out, if the answer tells.
func (p *page) lostTo(a plan.Answer, train string) string {
	for _, r := range a.Rejected {
		if trainOf(r.Train) == train {
			return ": " + why(r.FirstLimit, p.s)
		}
	}
	return ""
}

func trains(a plan.Answer) []string {
	var ts []string
	for _, o := range a.Options {
		ts = append(ts, trainOf(o.Train))
	}
	return ts
}
