package web

import (
	"net/http"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/sheet"
)

// formsPage says what iron it is, why, and what to test next.
type formsPage struct {
	frame
	Stood     stood
	Alerts    []alert
	Band      *canvas.Drawing // iron by form; nil where there is no iron to draw
	Forms     []formRow
	Bacteria  openable
	Clues     []clueGroup
	Conflicts []conflict
	Drawn     string // what the ranges rest on
	Belief    *canvas.Drawing
	Believed  []section.BeliefRow
	Raw       [][]string
	Assumed   []sheet.AssumedRow
	Opened    []openable // further figures of the evidence
	nextTests
}

// formRow is one form of iron, mg/L.
type formRow struct {
	Name          string
	Mid           openable
	From, To      string
	Hatch         string // how it is drawn
	Assumed, Sums bool
}

// clueGroup is the evidence for and against one form.
type clueGroup struct {
	Toward string
	Clues  []clueRow
}

// clueRow is one piece of evidence.
type clueRow struct {
	Side, Mark, Found, Kind string // Side: for, against, neither
}

// nextTests is what to test next, and the round to take along.
type nextTests struct {
	Next    string // in a line
	Tests   []testRow
	Bottles []bottleRow
}

// testRow is a test with what it is worth.
type testRow struct {
	Name, Say, Worth, Error, Price, Wait, Changes string
	Pays                                          bool
}

// bottleRow is a bottle, or readings, in the order of filling.
type bottleRow struct {
	Order                                       int
	Tap, Draw, What, Container, Add, Hold, Note string
}

// showForms handles GET /wells/{well}/forms.
func (s *Server) showForms(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	k, a, ok, err := s.answered(w, r, o, "forms")
	if !ok {
		return err
	}
	f := s.framed(r, o, "forms", "Forms of iron")
	open := openEvidence(k, o.here(r))
	p := formsPage{frame: f, Stood: o.here(r).stoodOn(r, f.view), Alerts: alertsOf(a, f.view), Band: formsBand(a, limitsOf(o)), Forms: formRows(a, f.view, open), Bacteria: open.figure("raw water", "iron bacteria", sheet.Chance(float64(a.Forms.Bacteria))),
		Clues: cluesOf(a, f.view), Conflicts: conflictsOf(a, f.view), Drawn: section.Drawn(a.Quality), Belief: section.Belief(a, f.System), Believed: section.BeliefRows(a, f.System),
		Raw: sheet.RawRows(a.Water, f.System), Assumed: sheet.AssumedRows(a.Assumed, f.System), Opened: open.rest("raw water", "ferrous iron", "bound iron", "particulate iron", "iron bacteria"), nextTests: nextTestsOf(a, f.view)}
	return s.render(w, r, "forms.html", p)
}

// formRows are the forms with their ranges, the sum first.
func formRows(a plan.Answer, v view, open opener) []formRow {
	figures := map[string]string{"iron_ferrous_mg_l": "ferrous iron", "iron_particulate_mg_l": "particulate iron", "iron_bound_mg_l": "bound iron"}
	var rows []formRow
	for _, x := range sheet.FormRows(a.Forms) {
		rows = append(rows, formRow{Name: x.Name, Mid: open.figure("raw water", figures[x.ID], v.marks(sheet.MgL(x.P50))), From: v.marks(sheet.MgL(x.P05)), To: v.marks(sheet.MgL(x.P95)),
			Hatch: hatchWords[x.ID], Assumed: a.Water[x.ID].Assumed, Sums: x.ID == "iron_total_mg_l"})
	}
	return rows
}

// cluesOf are the clues under what they speak for or against.
func cluesOf(a plan.Answer, v view) []clueGroup {
	var groups []clueGroup
	at := map[string]int{}
	for _, c := range a.Forms.Evidence {
		k, seen := at[c.Toward]
		if !seen {
			k = len(groups)
			at[c.Toward] = k
			groups = append(groups, clueGroup{Toward: sheet.FormWords(c.Toward)})
		}
		groups[k].Clues = append(groups[k].Clues, clueRow{sideOf(c), v.marks(sheet.ClueMark(c)), v.Prose(sheet.ClueFound(c)), c.Kind.String()})
	}
	return groups
}

// sideOf says on which side of the scale a clue lies.
func sideOf(c plan.Clue) string {
	switch {
	case c.TimesLikelier > 1:
		return "for"
	case c.TimesLikelier > 0 && c.TimesLikelier < 1:
		return "against"
	}
	return "neither"
}

// nextTestsOf is what to test next, in the order of the answer.
func nextTestsOf(a plan.Answer, v view) nextTests {
	t := nextTests{Next: v.Prose(a.NextSay)}
	for _, n := range a.NextTests {
		t.Tests = append(t.Tests, testRow{Name: sheet.TestName(n), Say: v.Prose(n.Say), Worth: v.marks(sheet.Cash(n.WorthUSD)), Error: v.marks(sheet.Cash(n.ErrorUSD)), Price: v.marks(sheet.Cash(n.PriceUSD)),
			Wait: sheet.Wait(n.WaitDays), Changes: v.marks(sheet.Digits(100*n.Changes, 2)), Pays: n.Pays})
	}
	for _, b := range a.Sampling {
		what := joined(b.Analytes)
		if b.Fraction != "" {
			what += ", " + b.Fraction
		}
		t.Bottles = append(t.Bottles, bottleRow{b.Order, b.Tap, b.Draw, what, b.Container, sheet.Preserved(b.Preserve), b.HoldSays, v.Prose(b.Note)})
	}
	return t
}
