package web

import (
	"fmt"
	"net/url"
	"strings"

	"wellwright/plan"
	"wellwright/sheet"
)

// optionView is a train made ready to be read: what the closed line says, and what
// stands under it.
type optionView struct {
	Rank                         int
	Words                        string
	Open                         bool
	Page, Section, WhatIf, Works string // paths
	Lanes                        string // path of its lanes of margin
	First                        string // first limit to fail
	Fails                        bool
	Kind                         string // of that limit
	Meets                        string
	MeetsOf                      openable
	Costs                        []openable // first, yearly, ten years
	Expected, Own                openable
	Upkeep, Waste                string
	Regret                       string
	Warnings                     []string
	Ties                         string
	Kept, Addons                 string
	Stages                       []stageView
	Pressure                     []pairRow
	Night                        []slotRow
	Forecast                     [][]string
	WillNot                      []string
	Companions                   []companionRow
	Flips                        []sheet.Flip
	Parts                        []partRow
}

// stageView is one stage as sized and set.
type stageView struct {
	Words, Tap, Extra string
	Sizes, Settings   []openable
	WashMark, Wash    string
	Findings          []findingRow
	Cautions          []string
	Further           []openable // figures that only the working tells
}

// findingRow is a limit that is broken and does not rule the train out.
type findingRow struct{ Say, Basis string }

// slotRow is the hour of a wash.
type slotRow struct{ Start, Stage, Minutes, Every string }

// companionRow is what a train brings beside what it is bought for.
type companionRow struct{ Say, Basis string }

// partRow is a line of the bill.
type partRow struct{ Part, When, Amount, Mid, Kind, Why string }

// optionOf makes a train ready.
func optionOf(o plan.Option, open opener, v view) optionView {
	x := optionView{Rank: o.Rank, Words: sheet.TrainWords(o), First: v.Prose(sheet.FirstToFail(o, v.System)), Fails: o.FirstLimit.Fails, Kind: sheet.Basis(o.FirstLimit.Kind, o.FirstLimit.From),
		Upkeep: v.marks(sheet.Digits(o.UpkeepHours, 2) + " h a year"), Waste: v.Amount(o.WasteGalPerYear, "gal", 2) + " a year",
		Kept: sheet.Processes(o.Kept), Addons: sheet.Processes(o.Addons), Flips: sheet.Flips(o.Flips), Forecast: sheet.Forecast(o, v.System)}
	if open.book != nil {
		x.Lanes = open.lanesPath(o.Train)
		x.Page, x.Section, x.WhatIf, x.Works = open.trainPath(o.Train), open.sectionPath(o.Train), open.whatIfPath(o.Train), open.workingAt(o.Train, url.Values{})
	}
	x.costs(o, open, v)
	for _, r := range o.Ties {
		x.Ties = strings.TrimPrefix(x.Ties+", "+fmt.Sprint(r), ", ")
	}
	for _, w := range o.Warnings {
		x.Warnings = append(x.Warnings, v.Prose(w))
	}
	for _, w := range o.WillNot {
		x.WillNot = append(x.WillNot, v.Prose(w))
	}
	for _, st := range o.Stages {
		x.Stages = append(x.Stages, stageOf(o, st, open, v))
	}
	for _, c := range o.Companions {
		x.Companions = append(x.Companions, companionRow{v.Prose(c.Say), sheet.Sourced(c.Kind, c.From)})
	}
	for i, f := range x.Flips {
		for k := range f.When {
			x.Flips[i].When[k] = v.Prose(f.When[k])
		}
	}
	x.rest(o, v)
	return x
}

// costs writes what it costs and how sure it is.
func (x *optionView) costs(o plan.Option, open opener, v view) {
	for _, c := range []struct {
		figure, name string
		r            plan.Range
	}{{"first cost", "first", o.Cost.First}, {"yearly cost", "yearly", o.Cost.Yearly}, {"ten-year cost", "ten years", o.Cost.TenYear}} {
		f := open.figure("cost", c.figure, v.Dollars(c.r))
		f.Name = c.name
		x.Costs = append(x.Costs, f)
	}
	x.Expected = open.figure("cost", "expected cost", v.USD(o.ExpectedCost))
	if o.MeetsProbability != nil {
		x.Meets = v.marks(sheet.Sureness(o))
		x.MeetsOf = open.figure("cost", "meets every limit", x.Meets)
	}
	if o.Regret != nil {
		x.Regret = v.USD(*o.Regret)
	}
}

// stageOf makes a stage ready.
func stageOf(o plan.Option, st plan.Stage, open opener, v view) stageView {
	x := stageView{Words: st.Words, Tap: st.Tap, Extra: v.Prose(sheet.StageExtra(st)), Cautions: st.Cautions}
	var shown []string
	figures := func(values map[string]float64) []openable {
		var out []openable
		for _, f := range sheet.Figures(values, st, v.System) {
			one := open.figure(st.Process, f.Name, v.marks(f.Amount))
			one.Name = f.Words
			out = append(out, one)
			shown = append(shown, f.Name)
		}
		return out
	}
	x.Sizes, x.Settings = figures(st.Size), figures(st.Settings)
	if st.Backwash != nil {
		mark, text := sheet.Wash(st, v.System)
		x.WashMark, x.Wash = mark, v.marks(text)
	}
	for _, f := range st.Findings {
		x.Findings = append(x.Findings, findingRow{v.marks(sheet.LimitSays(f, v.System)), sheet.Basis(f.Kind, f.From)})
	}
	x.Further = open.rest(st.Process, shown...)
	for i := range x.Further {
		x.Further[i].Words = v.marks(x.Further[i].Words)
	}
	return x
}

// rest writes the pressure, the night and the bill.
func (x *optionView) rest(o plan.Option, v view) {
	b := o.Pressure
	for _, p := range []struct {
		name string
		psi  float64
	}{{"cut-in", b.CutIn}, {"lost with clean beds", b.Clean}, {"lost with dirty beds", b.Dirty}, {"left at the top fixture", b.Left}} {
		x.Pressure = append(x.Pressure, pairRow{Key: p.name, Text: v.Amount(p.psi, "psi", 2)})
	}
	for _, n := range o.Night {
		if n.Minutes > 0 {
			stage := plan.Spelt(n.Stage)
			if n.Vessel > 1 {
				stage += fmt.Sprintf(", vessel %d", n.Vessel)
			}
			x.Night = append(x.Night, slotRow{n.Start, stage, v.marks(sheet.Digits(n.Minutes, 2)), v.marks(sheet.Digits(n.Days, 2))})
		}
	}
	for _, p := range o.Parts {
		x.Parts = append(x.Parts, partRow{plan.Spelt(p.Part), p.When, v.marks(sheet.Digits(p.Amount, 3)), v.marks(sheet.Cash(p.Mid)), p.Kind, p.Why})
	}
}
