package sheet

import (
	"math"
	"strings"

	"wellwright/plan"
	"wellwright/unit"
)

// Difference is one figure of a what-if: as it is, as it would be, and the
// difference in words.
type Difference struct {
	Group, What, Now, Then, Say string
	Same                        bool // as printed
}

// nothingThere stands where there is no figure.
const nothingThere = "none"

// Differences lists what a variant changes, in the order it is read.
func Differences(t plan.Tried, s unit.System) []Difference {
	d := &differing{t: t, s: s}
	d.costs()
	d.sureness()
	d.house()
	d.water("At the kitchen", kitchenOf(t.Now), kitchenOf(t.Then), false)
	d.water("Raw water", t.RawNow, t.Raw, true)
	return d.rows
}

// differing gathers the rows.
type differing struct {
	t    plan.Tried
	s    unit.System
	rows []Difference
}

func kitchenOf(o *plan.Option) map[string]plan.Range {
	if o == nil || len(o.Stages) == 0 {
		return nil
	}
	return o.Stages[len(o.Stages)-1].WaterOut
}

// both is a figure of either option; nil where there is none.
func (d *differing) both(of func(*plan.Option) *plan.Range) (now, then *plan.Range) {
	if d.t.Now != nil {
		now = of(d.t.Now)
	}
	if d.t.Then != nil {
		then = of(d.t.Then)
	}
	return now, then
}

func sure(v float64) *plan.Range { return &plan.Range{P05: v, P50: v, P95: v} }

// row adds a figure with its printing, and the difference of its middles.
func (d *differing) row(group, what string, now, then *plan.Range, write func(plan.Range) string, by func(float64) string, up, down string) {
	if now == nil && then == nil {
		return
	}
	r := Difference{Group: group, What: what, Now: nothingThere, Then: nothingThere}
	if now != nil {
		r.Now = write(*now)
	}
	if then != nil {
		r.Then = write(*then)
	}
	switch {
	case r.Now == r.Then:
		r.Say, r.Same = "the same", true
	case now == nil || then == nil:
	case then.P50 > now.P50:
		r.Say = by(then.P50-now.P50) + " " + up
	case then.P50 < now.P50:
		r.Say = by(now.P50-then.P50) + " " + down
	default:
		r.Say = "its range alone"
	}
	d.rows = append(d.rows, r)
}

func (d *differing) costs() {
	usd := func(what string, of func(*plan.Option) *plan.Range) {
		now, then := d.both(of)
		d.row("Cost", what, now, then, dollars, USD, "more", "less")
	}
	usd("to buy and fit", func(o *plan.Option) *plan.Range { return &o.Cost.First })
	usd("each year", func(o *plan.Option) *plan.Range { return &o.Cost.Yearly })
	usd("ten years", func(o *plan.Option) *plan.Range { return &o.Cost.TenYear })
	now, then := d.both(func(o *plan.Option) *plan.Range { return sure(o.ExpectedCost) })
	d.row("Cost", "ten years with failing, callbacks and own time", now, then, func(r plan.Range) string { return USD(r.P50) }, USD, "more", "less")
}

func (d *differing) sureness() {
	now, then := d.both(func(o *plan.Option) *plan.Range {
		if o.MeetsProbability == nil {
			return nil
		}
		return sure(*o.MeetsProbability)
	})
	of100 := func(v float64) string { return figure(math.Round(100*v), 3) + " of 100" }
	d.row("How sure", "meets every limit, in plausible wells", now, then, func(r plan.Range) string { return of100(r.P50) }, of100, "more", "fewer")
}

func (d *differing) house() {
	one := func(what, u string, digits int, of func(*plan.Option) float64, up, down string) {
		now, then := d.both(func(o *plan.Option) *plan.Range { return sure(of(o)) })
		write := func(v float64) string { return amount(v, u, digits, d.s) }
		d.row("House", what, now, then, func(r plan.Range) string { return write(r.P50) }, write, up, down)
	}
	one("pressure left at the top fixture, beds dirty", "psi", 2, func(o *plan.Option) float64 { return o.Pressure.Left }, "more", "less")
	one("water to waste a year", "gal", 2, func(o *plan.Option) float64 { return o.WasteGalPerYear }, "more", "less")
	one("upkeep a year", "h", 2, func(o *plan.Option) float64 { return o.UpkeepHours }, "more", "less")
}

// waters are the figures of a water worth comparing, in reading order.
var waters = []struct{ leaf, words, unit, up, down string }{
	{"iron_total_mg_l", "iron", "mg/L", "more", "less"}, {"iron_ferrous_mg_l", "ferrous iron", "mg/L", "more", "less"},
	{"manganese_mg_l", "manganese", "mg/L", "more", "less"}, {"ph", "pH", "", "higher", "lower"},
	{"hardness_gpg", "hardness", "gpg", "more", "less"}, {"alkalinity_mg_l_as_caco3", "alkalinity", "mg/L", "more", "less"},
	{"sodium_mg_l", "sodium", "mg/L", "more", "less"}, {"sulfide_mg_l_as_h2s", "sulfide", "mg/L", "more", "less"},
	{"oxygen_mg_l", "oxygen", "mg/L", "more", "less"}, {"free_chlorine_mg_l", "free chlorine", "mg/L", "more", "less"},
	{"nitrate_mg_l_as_n", "nitrate as N", "mg/L", "more", "less"}, {"arsenic_mg_l", "arsenic", "mg/L", "more", "less"},
}

// water adds the figures of a water; changed ones alone if so told.
func (d *differing) water(group string, now, then map[string]plan.Range, changed bool) {
	for _, w := range waters {
		at := func(m map[string]plan.Range) *plan.Range {
			if r, ok := m[w.leaf]; ok {
				return &r
			}
			return nil
		}
		a, b := at(now), at(then)
		if trace(a) && trace(b) {
			continue
		}
		n := len(d.rows)
		write := func(r plan.Range) string { return spanIn(r, w.unit, d.s) }
		by := func(v float64) string { return amount(v, w.unit, 2, d.s) }
		d.row(group, w.words, a, b, write, by, w.up, w.down)
		if len(d.rows) > n && near(a, b) {
			d.rows[n].Say, d.rows[n].Same = "about the same", true
		}
		if changed && len(d.rows) > n && d.rows[n].Same {
			d.rows = d.rows[:n]
		}
	}
}

// aboutSame is the share by which a water may differ and be called about the same:
// judgement, what a field kit cannot tell apart.
const aboutSame = 0.05

// near is true of two figures that are about the same; what differs in its range
// alone is, since the range is counted from draws.
func near(a, b *plan.Range) bool {
	return a != nil && b != nil && math.Abs(a.P50-b.P50) <= aboutSame*math.Max(a.P50, b.P50) && a.P50 != b.P50 || a != nil && b != nil && a.P50 == b.P50 && *a != *b
}

// trace is true of a figure too small to speak of.
func trace(r *plan.Range) bool { return r == nil || r.P95 < 0.0005 }

// Variant writes what a variant changes.
func Variant(asked []string, t plan.Tried, s unit.System) string {
	p := &page{s: s}
	p.wrap(0, "", "What if "+strings.Join(asked, ", "))
	if t.Coarse {
		p.wrap(2, "", "A first answer, coarse: from 200 of the plausible waters.")
	}
	p.wrap(2, "as it is: ", trainOfOption(t.Now))
	p.wrap(2, "then: ", trainOfOption(t.Then))
	if t.Say != "" {
		p.wrap(2, "", t.Say)
	}
	if t.Rule != "" {
		p.say(2, "order: ", t.Rule)
	}
	if t.Then != nil {
		p.wrap(2, "first limit to fail: ", firstLimit(t.Then.FirstLimit, s))
		if t.First != nil && trainOf(t.First) != trainWords(*t.Then) {
			p.wrap(2, "what would come first: ", trainOf(t.First))
		}
	}
	p.head("What changes")
	rows := [][]string{{"", "", "as it is", "then", "difference"}}
	group := ""
	for _, d := range Differences(t, s) {
		if d.Group != group {
			group = d.Group
			rows = append(rows, []string{"", strings.ToUpper(group), "", "", ""})
		}
		rows = append(rows, []string{"", "  " + d.What, d.Now, d.Then, d.Say})
	}
	p.columns(2, 5, rows)
	if t.Then != nil {
		p.limits(t.Limits)
	}
	return p.String()
}

func trainOfOption(o *plan.Option) string {
	if o == nil {
		return "no train"
	}
	return trainWords(*o)
}

// SizeWords names a size or setting by its leaf name; its unit beside.
func SizeWords(name string) (words, unit string) {
	for _, l := range leaves {
		if l.name == name {
			return l.words, l.unit
		}
	}
	return plan.Spelt(name), ""
}
