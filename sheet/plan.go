package sheet

import (
	"fmt"
	"strings"

	"wellwright/plan"
	"wellwright/source"
	"wellwright/unit"
)

// Plan writes the whole answer as text: health and safety first, then the
// checks, the water and the forms of iron, what to do before any train, the
// options, what was not chosen and why, the next test, and the cautions.
func Plan(a plan.Answer, s unit.System) string {
	p := &page{s: s}
	p.title(a)
	p.wrap(0, "", "limits: "+place(a.Limits)+" (advice for a private well; local code may ask more)")
	p.alerts(a)
	p.evidence(a)
	p.raw(a.Water)
	p.forms(a.Forms)
	p.actions(a.Actions)
	p.options(a)
	p.rejected(a.Rejected)
	p.nextBrief(a)
	p.companions(a)
	p.houseOrKitchen(a)
	p.proof(a)
	p.cautions(a)
	return p.String()
}

// Options writes the options alone.
func Options(a plan.Answer, s unit.System) string {
	p := &page{s: s}
	p.title(a)
	p.options(a)
	p.rejected(a.Rejected)
	return p.String()
}

// title names the well and the date.
func (p *page) title(a plan.Answer) {
	p.wrap(0, "", wellName(a.Well)+" · as of "+a.AsOf)
}

// wellName is the name in the book, or says that there is none.
func wellName(s string) string {
	if strings.TrimSpace(s) == "" {
		return "a well without a name"
	}
	return s
}

// place puts a jurisdiction into words.
func place(code string) string {
	country, part, _ := strings.Cut(code, "-")
	words, known := map[string]string{"US": "United States", "CA": "Canada", "EU": "European Union", "WHO": "World Health Organization"}[country]
	switch {
	case !known:
		return code
	case part != "":
		return words + " and " + code
	}
	return words
}

func (p *page) alerts(a plan.Answer) {
	p.head("Health and safety")
	switch {
	case len(a.Alerts) > 0:
	case nothingMeasured(a.Water):
		p.line("  Nothing was tested: nothing is known.")
	case a.NoHealthTest():
		p.line("  No test of health was reported: nothing is known.")
	default:
		p.line("  Nothing found above a health value in what was tested.")
	}
	for _, x := range a.Alerts {
		p.say(2, alertWord(x), x.Say+basis(x.Basis))
	}
	if len(a.Untested) > 0 {
		p.say(2, "not tested: ", strings.Join(a.Untested, ", "))
	}
}

// alertWord stands before an alert.
func alertWord(x plan.Alert) string {
	switch {
	case x.Rank == 1:
		return "STOP NOW: "
	case x.Met:
		return "watch: "
	case x.Rank >= 3:
		return "look into: "
	}
	return "act: "
}

// basis is the kind and source of a limit in brackets.
func basis(b string) string {
	if b == "" {
		return ""
	}
	kind, from, _ := strings.Cut(b, ": ")
	return " [" + once(kind, from) + "]"
}

// sourced is the kind and the source of a number, the kind said once.
func sourced(k source.Kind, from string) string { return once(k.String(), from) }

func once(kind, from string) string {
	switch bare := strings.TrimSuffix(from, " ("+kind+")"); {
	case from == "" || bare == kind:
		return kind
	case strings.Contains(bare, kind):
		return bare
	default:
		return kind + ": " + bare
	}
}

func (p *page) evidence(a plan.Answer) {
	p.head("Checks on the evidence")
	if len(a.Checks) == 0 {
		p.line("  No report to check.")
	}
	var passed []string
	for _, c := range a.Checks {
		switch {
		case c.Verdict == "ok" && noticed[c.ID]:
			p.say(2, "note: ", c.Say)
			continue
		case c.Verdict == "ok":
			if words := plan.Spelt(c.ID); !contains(passed, words) {
				passed = append(passed, words)
			}
			continue
		}
		p.say(2, c.Verdict+": ", c.Say)
	}
	if len(passed) > 0 {
		p.wrap(2, "passed: ", strings.Join(passed, ", "))
	}
	p.conflicts(a.Conflicts)
}

// noticed are checks that stop nothing and still say something to the reader.
var noticed = map[string]bool{"unreadable": true, "basis_unsaid": true, "filtered_late": true, "iron_not_complaint": true}

func (p *page) conflicts(cs []plan.Conflict) {
	if len(cs) == 0 {
		return
	}
	p.head("Conflicts")
	for _, c := range cs {
		p.say(2, "· ", c.Say)
		for i, share := range percents(c.Explanations) {
			if share < 1 {
				continue
			}
			p.say(6, fmt.Sprintf("%3d %%  ", share), c.Explanations[i].Say)
		}
		if c.Settle != "" {
			p.say(6, "to settle it: ", c.Settle)
		}
	}
}

func (p *page) forms(f plan.Forms) {
	p.formsTable(f)
	if len(f.Evidence) == 0 {
		p.line("    No sign, reading or jar test speaks for or against a form.")
	}
	for _, c := range f.Evidence {
		p.say(4, "- ", fmt.Sprintf("%s (%s; %s)", c.Say, weight(c), c.Kind))
	}
}

// weight says how far a clue moves the odds.
func weight(c plan.Clue) string {
	switch {
	case c.TimesLikelier == 0 || c.TimesLikelier == 1:
		return c.Toward
	case c.TimesLikelier > 1:
		return fmt.Sprintf("%s times likelier %s", unit.Significant(c.TimesLikelier, 2), c.Toward)
	}
	return fmt.Sprintf("%s times less likely %s", unit.Significant(1/c.TimesLikelier, 2), c.Toward)
}

func (p *page) actions(as []plan.Action) {
	p.head("Before or instead of any train")
	if len(as) == 0 {
		p.line("  Nothing found.")
	}
	for _, a := range as {
		p.say(2, "> ", a.Say)
		if a.Why != "" {
			p.say(4, "why: ", a.Why)
		}
	}
}

// rejected lists what was not chosen; trains that fall to the same limit stand
// under it once.
func (p *page) rejected(rs []plan.Rejected) {
	if len(rs) == 0 {
		return
	}
	p.head("Not chosen, and the first limit to fail")
	for _, r := range TurnedDown(rs, p.s) {
		if len(r.Trains) == 1 {
			p.wrap(2, "x ", trainOf(r.Trains[0])+": "+r.Why)
			continue
		}
		p.wrap(2, "x ", r.Why+":")
		for _, t := range r.Trains {
			p.wrap(6, "", trainOf(t))
		}
	}
}

func (p *page) cautions(a plan.Answer) {
	p.head("Cautions")
	for _, c := range a.Cautions {
		p.say(2, "· ", c)
	}
	if len(a.Assumed) > 0 {
		p.head("Assumed, because nobody measured it")
		for _, x := range a.Assumed {
			r := assumedRow(x, p.s)
			p.wrap(2, "· ", fmt.Sprintf("%s: %s [%s]", r.Name, r.Value, r.From))
		}
	}
	if len(a.Own) > 0 {
		p.head("Own values in place of ours")
		for _, f := range a.Own {
			p.wrap(2, "· ", fmt.Sprintf("%s = %s %s (%s)", f.Name, unit.Digits(f.Value), f.Unit, f.From))
		}
	}
}

// contains reports whether a list holds a text.
func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
