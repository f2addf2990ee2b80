package sheet

import (
	"fmt"
	"strings"

	"wellwright/plan"
	"wellwright/section"
	"wellwright/unit"
)

// Forms writes the forms of iron and what they rest on: the evidence for and
// against each, what contradicts itself, how many waters were drawn, and every
// quantity before and after the evidence.
func Forms(a plan.Answer, s unit.System, r Ruling) string {
	p := &page{s: s}
	p.title(a)
	p.formsTable(a.Forms)
	p.clues(a.Forms.Evidence)
	p.conflicts(a.Conflicts)
	p.drawn(a.Quality)
	p.beliefs(beliefRows(a, s, func(section.BeliefRow) bool { return true }), r)
	return p.String()
}

// Checks writes the health findings, checks and conflicts alone, and beside what
// was read what is believed.
func Checks(a plan.Answer, s unit.System, r Ruling) string {
	p := &page{s: s}
	p.title(a)
	p.alerts(a)
	p.evidence(a)
	rows := beliefRows(a, s, func(b section.BeliefRow) bool { return len(b.Readings) > 0 })
	if len(rows) > 0 {
		p.head("What was read, beside what is believed")
		p.beliefs(rows, r)
	}
	return p.String()
}

// formsTable writes the forms with their ranges and the chance of iron bacteria.
func (p *page) formsTable(f plan.Forms) {
	p.head("Forms of iron, mg/L")
	rows := [][]string{{"", "likeliest", "from", "to"}}
	for _, r := range FormRows(f) {
		rows = append(rows, []string{r.Name, milligrams(r.P50), milligrams(r.P05), milligrams(r.P95)})
	}
	p.table(2, rows)
	p.line("  iron bacteria: %s", chance(float64(f.Bacteria)))
}

// clues writes the evidence under what it speaks for, then against.
func (p *page) clues(cs []plan.Clue) {
	p.head("Evidence for and against")
	if len(cs) == 0 {
		p.line("  No sign, reading or jar test speaks for or against a form.")
	}
	var towards []string
	for _, c := range cs {
		if !contains(towards, c.Toward) {
			towards = append(towards, c.Toward)
		}
	}
	for _, t := range towards {
		p.line("  %s", formWords(t))
		for _, c := range cs {
			if c.Toward == t {
				p.say(4, clueMark(c), fmt.Sprintf("%s [%s]", found(c), c.Kind))
			}
		}
	}
}

// formWords names what a clue speaks for.
func formWords(toward string) string {
	if strings.Contains(toward, "iron") {
		return toward
	}
	return toward + " iron"
}

// clueMark says for or against, and by how much.
func clueMark(c plan.Clue) string {
	switch {
	case c.TimesLikelier > 1:
		return "for, " + unit.Significant(c.TimesLikelier, 2) + " times likelier: "
	case c.TimesLikelier > 0 && c.TimesLikelier < 1:
		return "against, " + unit.Significant(1/c.TimesLikelier, 2) + " times less likely: "
	}
	return "neither: "
}

// found is what was found, without what it speaks for, which stands above it.
func found(c plan.Clue) string {
	say, _, _ := strings.Cut(c.Say, ": speaks ")
	return say
}

// drawn says how many waters the ranges were counted from.
func (p *page) drawn(q plan.Quality) {
	p.head("What the ranges rest on")
	p.wrap(2, "", section.Drawn(q))
}
