package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/sheet"
	"wellwright/water"
)

// optionsPage is the one list of trains, by expected cost, and what stands before
// and behind it.
type optionsPage struct {
	frame
	Stood      stood
	Alerts     []alert
	Gates      []gateRow
	Actions    []plan.Action
	None       string // why no option is listed; "" if there are some
	Unmeasured bool   // nothing was measured at all
	Considered string
	Options    []optionView
	Costs      *canvas.Drawing // nil with fewer than two options
	CostTable  section.Table
	All        string // path with all options opened; "" where they are
	Turned     []turnedRow
	Placings   []placingRow
	Proof      []plan.Proof
	Cautions   []string
}

// gateRow keeps people from drinking a water.
type gateRow struct{ Name, People, Say, Boil, Call, Basis string }

// turnedRow is a limit and the trains that fell to it.
type turnedRow struct {
	Why    string
	Trains []turnedTrain
}

// turnedTrain is a train that was turned down, and where to look at it.
type turnedTrain struct{ Words, Why, Section, WhatIf string }

// placingRow weighs the house against the kitchen tap for one finding of health.
type placingRow struct {
	Analyte, Where, Say, Basis string
	At                         []placedRow
}

// placedRow is one process at one of the two places.
type placedRow struct{ Place, Process, Left, First, Yearly, TenYear string }

// showOptions handles GET /wells/{well}/options; open=all opens them all.
func (s *Server) showOptions(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	k, a, ok, err := s.answered(w, r, o, "options")
	if !ok {
		return err
	}
	h := o.here(r)
	f := s.framed(r, o, "options", "Options")
	p := optionsPage{frame: f, Stood: h.stoodOn(r, f.view), Alerts: alertsOf(a, f.view), Gates: gatesOf(a, f.view), Actions: a.Actions, Unmeasured: sheet.NothingMeasured(a),
		Turned: turnedOf(a, h, f.view), Placings: placingsOf(a, f.view), Proof: a.Proof, Cautions: a.Cautions}
	if len(a.Options) == 0 {
		p.None = sheet.NoOptions(a)
	}
	if a.Considered > 0 {
		p.Considered = f.marks(fmt.Sprintf("%s lawful trains were looked at; %s.", sheet.Digits(float64(a.Considered), 9), sheet.Ended(a.Pruned)))
	}
	open := r.URL.Query().Get("open")
	for i, x := range a.Options {
		v := optionOf(x, openOption(k, h, x.Train), f.view)
		v.Open = i == 0 && open == "" || open == "all" || open == fmt.Sprint(x.Rank)
		p.Options = append(p.Options, v)
	}
	if len(a.Options) > 1 {
		p.Costs, p.CostTable = section.Costs(a), section.CostTable(a)
	}
	if open != "all" {
		p.All = h.path("/options", url.Values{"open": {"all"}})
	}
	return s.render(w, r, "options.html", p)
}

// trainPath is the page of one train.
func (h here) trainPath(ids []string) string {
	return h.path("/options/"+url.PathEscape(strings.Join(ids, ",")), nil)
}

// lanesPath is the part of that page with the lanes of margin.
func (h here) lanesPath(ids []string) string {
	return h.path("/options/"+url.PathEscape(strings.Join(ids, ",")), url.Values{"part": {"lanes"}})
}

// sectionPath is the long section with a train.
func (h here) sectionPath(ids []string) string {
	return h.path("", url.Values{"train": {strings.Join(ids, ",")}})
}

// whatIfPath is the what-if with a train.
func (h here) whatIfPath(ids []string) string {
	return h.path("/what-if", url.Values{"train": {strings.Join(ids, ",")}})
}

// gatesOf are the findings on which drinking other water rests.
func gatesOf(a plan.Answer, v view) []gateRow {
	var rows []gateRow
	for _, g := range a.Gates {
		rows = append(rows, gateRow{water.Analyte(g.ID).Name(), joined(g.People), v.Prose(g.Say), g.Boil, joined(g.Call), sheet.Basis(g.Kind, g.From)})
	}
	return rows
}

// turnedOf are the trains that were not chosen, under the first limit to fail.
func turnedOf(a plan.Answer, h here, v view) []turnedRow {
	var rows []turnedRow
	for _, t := range sheet.TurnedDown(a.Rejected, v.System) {
		row := turnedRow{Why: v.marks(t.Why)}
		for _, ids := range t.Trains {
			row.Trains = append(row.Trains, turnedTrain{sheet.Train(ids), h.trainPath(ids), h.sectionPath(ids), h.whatIfPath(ids)})
		}
		rows = append(rows, row)
	}
	return rows
}

// placingsOf weighs the house against the kitchen for each finding of health.
func placingsOf(a plan.Answer, v view) []placingRow {
	var rows []placingRow
	for _, x := range a.Placings {
		row := placingRow{Analyte: water.Analyte(x.Analyte).Name(), Where: sheet.TreatedWhere(x.Where), Say: v.Prose(x.Say), Basis: sheet.Basis(x.Kind, x.From)}
		for _, t := range []struct {
			place string
			of    *plan.Treatment
		}{{"house", x.House}, {"kitchen", x.Kitchen}} {
			if t.of == nil {
				continue
			}
			left := "not forecast"
			if t.of.Left != nil {
				left = v.Amount(*t.of.Left, t.of.Unit, 2)
			}
			row.At = append(row.At, placedRow{t.place, sheet.Processes([]string{t.of.Process}), left, v.Dollars(t.of.First), v.Dollars(t.of.Yearly), v.Dollars(t.of.TenYear)})
		}
		rows = append(rows, row)
	}
	return rows
}

// trainPage is one train with every limit.
type trainPage struct {
	frame
	Stood  stood
	Meets  bool
	Rule   string // the rule of order that it breaks; "" for none
	Change string // what would have to change
	Option optionView
	Limits []sheet.LimitGroup
	lanesOf
	Back string
	Rank int
}

// lanesOf are the lanes of margin of a train, drawn and as a table; the drawing is
// nil where there is no limit to draw.
type lanesOf struct {
	Lanes     *canvas.Drawing
	LaneTable section.Table
}

// showTrain handles GET /wells/{well}/options/{train}: what is to be said of any
// train, in the list or not, lawful or not.
func (s *Server) showTrain(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	t, err := trainOf(r.PathValue("train"))
	if err != nil || len(t) == 0 {
		return missing(fmt.Sprintf("train %q: %v", r.PathValue("train"), err))
	}
	k, a, ok, err := s.answered(w, r, o, "options")
	if !ok {
		return err
	}
	x, ok, err := s.explained(w, r, o, k, t)
	if !ok {
		return err
	}
	h := o.here(r)
	f := s.framed(r, o, "options", sheet.Train(names(t)))
	for _, listed := range a.Options {
		if strings.Join(listed.Train, ",") == t.String() {
			x.Option = listed
		}
	}
	lanes := lanesOf{}
	if len(x.Lanes.Lanes) > 0 {
		lanes = lanesOf{section.Lanes(x.Lanes, f.System), section.LaneTable(x.Lanes, f.System)}
	}
	if r.Header.Get("HX-Request") == "true" && r.URL.Query().Get("part") == "lanes" {
		return s.renderPart(w, "train.html", "lanes", lanes)
	}
	p := trainPage{frame: f, lanesOf: lanes, Stood: h.stoodOn(r, f.view), Meets: x.Meets, Rule: f.Prose(x.Rule), Change: f.Prose(x.Change), Option: optionOf(x.Option, opener{h, names(t), x.Steps}, f.view),
		Limits: sheet.Limits(x.Limits, f.System), Back: h.path("/options", nil), Rank: x.Option.Rank}
	return s.render(w, r, "train.html", p)
}
