package web

import (
	"fmt"
	"net/http"
	"sort"
	"strings"

	"wellwright/book"
	"wellwright/limits"
	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/water"
)

// reportPage is everything that was read of a water, as received, beside what the
// checks make of it.
type reportPage struct {
	frame
	Stood     stood
	CSV       string
	Alerts    []alert
	Nuisance  []standing // what harms the house or is a nuisance
	Advice    string     // what the limits are worth for this supply
	Samples   []sample
	Checks    []checkRow // those that say something
	Passed    []checkRow
	Conflicts []conflict
	Untested  []string
}

// sample is a laboratory's report with the readings of its tap beside it, or
// readings alone.
type sample struct {
	Anchor, Entry, Title string
	Field                bool
	About                []string
	Beside               []besideOf
	Rows                 []resultRow
	Files                []enclosure
}

// besideOf is a set of readings that stands beside a laboratory's report.
type besideOf struct{ Entry, Words string }

// checkRow is a check with its verdict.
type checkRow struct{ Word, Name, Say string }

// conflict is evidence that cannot all be right, with what may explain it.
type conflict struct {
	Say, Settle string
	Ways        []explained
}

// explained is a way in which a conflict may have come about.
type explained struct {
	Share int // of a hundred
	Say   string
}

// showReport handles GET /wells/{well}/report.
func (s *Server) showReport(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	_, a, ok, err := s.answered(w, r, o, "report")
	if !ok {
		return err
	}
	kept, err := s.Store.Files(r.Context(), o.id)
	if err != nil {
		return fmt.Errorf("list the files: %w", err)
	}
	f := s.framed(r, o, "report", "Report")
	b := reporter{o, f.view, limitsOf(o), kept}
	p := reportPage{frame: f, Stood: o.here(r).stoodOn(r, f.view), CSV: o.here(r).path("/report.csv", nil), Alerts: alertsOf(a, f.view), Advice: b.table.Standing(whoOf(o)), Samples: b.samples(), Nuisance: b.nuisance(),
		Conflicts: conflictsOf(a, f.view), Untested: a.Untested}
	p.Checks, p.Passed = checksOf(a, f.view)
	return s.render(w, r, "report.html", p)
}

// limitsOf are the limits that count for a well on the date.
func limitsOf(o opened) limits.Table {
	return limits.On(o.present.AsOf, o.present.Wishes.Jurisdiction)
}

// whoOf is what the limits must know of the people.
func whoOf(o opened) limits.Household {
	h := o.present.House
	return limits.Household{Infant: h.Infants, Pregnant: h.Pregnant, LowSodium: h.LowSodium, Serves: h.Serves}
}

// checksOf parts the checks of an answer into those that say something and those
// that passed, each of these once.
func checksOf(a plan.Answer, v view) (say, passed []checkRow) {
	grave := map[string]int{"impossible": 0, "doubt": 1, "note": 2}
	seen := map[string]bool{}
	for _, c := range a.Checks {
		row := checkRow{sheet.CheckWord(c), plan.Spelt(c.ID), v.Prose(c.Say)}
		switch {
		case row.Word != "passed":
			say = append(say, row)
		case !seen[row.Name]:
			seen[row.Name] = true
			passed = append(passed, row)
		}
	}
	sort.SliceStable(say, func(i, k int) bool { return grave[say[i].Word] < grave[say[k].Word] })
	return say, passed
}

// conflictsOf are the conflicts of an answer, each with its explanations, those
// of less than one in a hundred left out.
func conflictsOf(a plan.Answer, v view) []conflict {
	var out []conflict
	for _, c := range a.Conflicts {
		x := conflict{Say: v.Prose(c.Say), Settle: v.Prose(c.Settle)}
		for i, share := range sheet.Shares(c.Explanations) {
			if share > 0 {
				x.Ways = append(x.Ways, explained{share, v.Prose(c.Explanations[i].Say)})
			}
		}
		out = append(out, x)
	}
	return out
}

// reporter makes the tables of a report.
type reporter struct {
	opened
	view
	table limits.Table
	kept  []book.File
}

// samples are the laboratory's reports, each with the readings of its tap, then
// the readings that stand beside none, each in order of time.
func (b reporter) samples() []sample {
	var all []sample
	beside := map[string]bool{}
	for _, r := range b.present.Reports {
		if r.Field {
			continue
		}
		s := b.sample(r)
		for _, f := range b.readingsBeside(r) {
			beside[f.ID] = true
			s.Beside = append(s.Beside, besideOf{f.ID, b.Date(f.Sampled)})
			s.Rows = b.besides(s.Rows, f)
		}
		all = append(all, s)
	}
	for _, r := range b.present.Reports {
		if r.Field && !beside[r.ID] {
			all = append(all, b.sample(r))
		}
	}
	return all
}

// sample is one report by itself.
func (b reporter) sample(r water.Report) sample {
	e, _ := b.book.Find(r.ID)
	s := sample{Anchor: "entry-" + r.ID, Entry: r.ID, Field: r.Field, About: b.about(r), Files: enclosuresOf(b.id, e, b.kept)}
	name := "Laboratory report"
	switch {
	case r.Field:
		name = "Read on site"
	case r.Laboratory != "":
		name = "Report of " + r.Laboratory
	}
	s.Title = fmt.Sprintf("%s: tap %s, %s", name, tapName(r), b.Date(r.Sampled))
	words := written(e)
	found := judgedBy(b.table.JudgeWith(b.present.Factors(), r, whoOf(b.opened)))
	for _, x := range r.Results {
		s.Rows = append(s.Rows, b.row(r, x, words.take(x), found[judgedKey(x)]))
	}
	return s
}

func tapName(r water.Report) string {
	switch {
	case r.Tap == "":
		return "not said"
	case r.FirstDraw:
		return string(r.Tap) + ", first draw"
	}
	return string(r.Tap)
}

// about says how a sample was taken and kept.
func (b reporter) about(r water.Report) []string {
	var all []string
	if !r.Field {
		all = append(all, "sampled "+b.Date(r.Sampled))
		if r.Analysed.IsZero() {
			all = append(all, "date of analysis not said")
		} else {
			all = append(all, "analysed "+b.Date(r.Analysed))
		}
		all = append(all, saidOf(r.Bottle.Acidified, "acid in the bottle", "no acid in the bottle", "acid not said"))
		all = append(all, saidOf(r.Bottle.FilteredField, "dissolved metals filtered on site", "not filtered on site", "filtering not said"))
	}
	if r.Bottle.Note != "" {
		all = append(all, r.Bottle.Note)
	}
	return all
}

func saidOf(said *bool, yes, no, silent string) string {
	switch {
	case said == nil:
		return silent
	case *said:
		return yes
	}
	return no
}

// readingsBeside are the readings that belong beside a report: those of its tap if
// there are any, else of any tap before treatment if it is raw itself.
func (b reporter) readingsBeside(r water.Report) []water.Report {
	var same, raw []water.Report
	for _, f := range b.present.Reports {
		switch {
		case !f.Field:
		case f.Tap == r.Tap:
			same = append(same, f)
		case f.Raw() && r.Raw():
			raw = append(raw, f)
		}
	}
	if len(same) == 0 {
		return raw
	}
	return same
}

// besides writes the readings of f beside the rows of the same analyte and
// fraction; those that the laboratory has none of follow at the end.
func (b reporter) besides(rows []resultRow, f water.Report) []resultRow {
	e, _ := b.book.Find(f.ID)
	words := written(e)
	for _, x := range f.Results {
		at, written := -1, words.take(x)
		for i, row := range rows {
			if row.like(x) {
				at = i
				break
			}
		}
		if at < 0 {
			rows = append(rows, resultRow{analyte: x.Analyte, fraction: x.Fraction, Name: written.name(x)})
			at = len(rows) - 1
		}
		rows[at].OnSite = append(rows[at].OnSite, onSite{b.read(x), strings.TrimSpace(x.Note), string(f.Tap)})
	}
	return rows
}

// nuisance are the findings on raw water that are none of health, each limit once.
func (b reporter) nuisance() []standing {
	var out []standing
	seen := map[string]bool{}
	for _, r := range b.present.Reports {
		if !r.Raw() {
			continue
		}
		for _, f := range b.table.JudgeWith(b.present.Factors(), r, whoOf(b.opened)) {
			if f.Rank < 4 || f.Outcome == limits.Meets || seen[f.ID] {
				continue
			}
			seen[f.ID] = true
			out = append(out, b.stands(f))
		}
	}
	sort.SliceStable(out, func(i, k int) bool { return out[i].rank < out[k].rank })
	return out
}
