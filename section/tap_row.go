package section

import (
	"fmt"

	"wellwright/plan"
	"wellwright/unit"
)

// tapRow is one property as it is shown at the taps.
type tapRow struct {
	leaf, name, unit string
	finest           float64 // below it a figure is only said to be less, in the unit of the leaf
	digits           int     // significant figures
	always           bool    // shown even where there is none
	worth            float64 // shown from this on
	hard             bool    // hardness, which has a unit of its own in each system
	spoils           bool    // in a bottle: what was read on site is shown first
}

// tapRows are the properties in the order they are shown; the finest steps are
// what a kit or a usual laboratory tells apart: common practice.
var tapRows = []tapRow{
	{leaf: "iron_ferrous_mg_l", name: "iron, ferrous", unit: "mg/L", finest: 0.05, digits: 2, always: true},
	{leaf: "iron_particulate_mg_l", name: "iron, particulate", unit: "mg/L", finest: 0.05, digits: 2, always: true},
	{leaf: "iron_bound_mg_l", name: "iron, bound", unit: "mg/L", finest: 0.05, digits: 2, worth: 0.05},
	{leaf: "iron_total_mg_l", name: "iron, total", unit: "mg/L", finest: 0.05, digits: 2, always: true},
	{leaf: "manganese_mg_l", name: "manganese", unit: "mg/L", finest: 0.01, digits: 2, always: true},
	{leaf: "ph", name: "pH", always: true, spoils: true},
	{leaf: "free_chlorine_mg_l", name: "free chlorine", unit: "mg/L", finest: 0.1, digits: 2, worth: 0.05, spoils: true},
	{leaf: "arsenic_mg_l", name: "arsenic", unit: "mg/L", finest: 0.001, digits: 2, worth: 0.002},
	{leaf: "nitrate_mg_l_as_n", name: "nitrate", unit: "mg/L as N", finest: 0.1, digits: 2, worth: 2},
	{leaf: "hardness_gpg", name: "hardness", finest: 0.5, digits: 2, always: true, hard: true},
	{leaf: "sulfide_mg_l_as_h2s", name: "sulfide", unit: "mg/L as H2S", finest: 0.05, digits: 2, worth: 0.05, spoils: true},
	{leaf: "permanganate_mg_l", name: "permanganate", unit: "mg/L", finest: 0.05, digits: 2, worth: 0.02},
	{leaf: "oxygen_mg_l", name: "oxygen", unit: "mg/L", finest: 0.1, digits: 2, worth: 0.5, spoils: true},
	{leaf: "ammonia_mg_l_as_n", name: "ammonia", unit: "mg/L as N", finest: 0.1, digits: 2, worth: 0.2},
	{leaf: "sodium_mg_l", name: "sodium", unit: "mg/L", finest: 1, digits: 2, worth: 20},
	{leaf: "alkalinity_mg_l_as_caco3", name: "alkalinity", unit: "mg/L as CaCO3", finest: 5, digits: 2, worth: 1},
}

// rowsShown are the rows that the courses have something in.
func (p *longSheet) rowsShown() []tapRow {
	var rows []tapRow
	for _, r := range tapRows {
		if r.hard {
			r.unit = p.in.hardness.name
		}
		if r.always || worthShowing(p.ways, r) {
			rows = append(rows, r)
		}
	}
	return rows
}

func worthShowing(ways []plan.Course, r tapRow) bool {
	for _, c := range ways {
		for _, t := range c.Taps {
			if f, ok := t.Figure(r.leaf); ok && (f.Forecast.P50 >= r.worth || len(f.Readings) > 0 && f.Readings[0].Value >= r.worth) {
				return true
			}
		}
	}
	return false
}

// in turns a figure of the row into the units of the sheet.
func (r tapRow) in(u longUnits, v float64) float64 {
	if r.hard {
		return u.hardness.of(v)
	}
	return v
}

// one prints a single figure.
func (r tapRow) one(u longUnits, v float64) string {
	if r.leaf == "ph" {
		return fmt.Sprintf("%.1f", v)
	}
	finest := r.in(u, r.finest)
	v = r.in(u, v)
	switch {
	case v <= 0:
		return "0"
	case v < finest:
		return "<" + unit.Significant(finest, 1)
	}
	row := BeliefRow{digits: r.digits, finest: finest}
	return row.Figure(v)
}

// forecast prints a range, or one figure where its ends print alike.
func (r tapRow) forecast(u longUnits, f plan.Range) string {
	low, high := r.one(u, f.P05), r.one(u, f.P95)
	switch {
	case low == high:
		return low
	case low == "0" || low[0] == '<':
		return "<" + high
	}
	return low + "–" + high
}

// reading prints a reading as it was read.
func (r tapRow) reading(u longUnits, x plan.TapReading) string {
	return x.Sign + thousands(unit.Significant(r.in(u, x.Value), 3))
}

// latest is the reading that a cell shows: the last, of what spoils in a bottle the
// last that was read on site.
func (r tapRow) latest(rs []plan.TapReading) (plan.TapReading, bool) {
	for i := len(rs) - 1; i >= 0 && r.spoils; i-- {
		if rs[i].Kind == "field" {
			return rs[i], true
		}
	}
	if len(rs) == 0 {
		return plan.TapReading{}, false
	}
	return rs[len(rs)-1], true
}

// assumed reports whether nobody measured a property in the raw water of a course.
func (r tapRow) assumed(c plan.Course) bool {
	if len(c.Taps) == 0 {
		return false
	}
	f, _ := c.Taps[0].Figure(r.leaf)
	return f.Assumed
}
