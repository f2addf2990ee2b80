package plan

import (
	"fmt"
	"math"
	"slices"

	"wellwright/media"
	"wellwright/unit"
	"wellwright/water"
)

// CourseTap is one numbered tap with what is forecast and what was read there.
type CourseTap struct {
	Tap     string   `json:"tap"`
	Where   string   `json:"where"`
	Behind  int      `json:"behind"` // last stage ahead of it, from 0; -1: none
	Figures []Figure `json:"figures"`
}

// Figure is one property at one tap.
type Figure struct {
	Name     string       `json:"name"` // leaf name with unit
	Forecast Range        `json:"forecast"`
	Assumed  bool         `json:"assumed"` // nobody measured it in the raw water
	Readings []TapReading `json:"readings"`
}

// TapReading is one figure as it was read at a tap.
type TapReading struct {
	Reading
	On      string `json:"on"`
	Outside bool   `json:"outside"` // of the forecast
}

// The taps of the house.
const (
	tapWell    = "T0"
	tapTank    = "T1"
	tapKitchen = "K"
	tapHeater  = "H"
)

// Figure returns a property at the tap; ok is false where it has none.
func (t CourseTap) Figure(name string) (f Figure, ok bool) {
	for _, f := range t.Figures {
		if f.Name == name {
			return f, true
		}
	}
	return Figure{}, false
}

// gauge is how a forecast figure is read: as which analyte, and in the unit of
// its leaf.
type gauge struct {
	leaf string
	read []assay
	to   func(canonical float64) float64 // nil: the same
}

// gpg turns mg/L as CaCO3 into grains per gallon.
func gpg(v float64) float64 { return unit.HardnessAsCaCO3(v).GPG() }

var gauges = []gauge{
	{leaf: "iron_total_mg_l", read: []assay{{water.Iron, whole}}},
	{leaf: "iron_ferrous_mg_l", read: []assay{{water.Iron, []water.Fraction{water.FerrousIron}}}},
	{leaf: "iron_particulate_mg_l", read: []assay{{water.Iron, []water.Fraction{water.Suspended}}}},
	{leaf: "manganese_mg_l", read: []assay{{water.Manganese, whole}, {water.Manganese, []water.Fraction{water.Dissolved}}}},
	{leaf: "ph", read: plain(water.PH)},
	{leaf: "alkalinity_mg_l_as_caco3", read: plain(water.Alkalinity)},
	{leaf: "hardness_gpg", read: plain(water.Hardness), to: gpg},
	{leaf: "sodium_mg_l", read: plain(water.Sodium)},
	{leaf: "oxygen_mg_l", read: plain(water.Oxygen)},
	{leaf: "sulfide_mg_l_as_h2s", read: plain(water.Sulfide)},
	{leaf: "ammonia_mg_l_as_n", read: plain(water.Ammonia)},
	{leaf: "free_chlorine_mg_l", read: plain(water.FreeChlorine)},
	{leaf: "arsenic_mg_l", read: plain(water.Arsenic)},
	{leaf: "nitrate_mg_l_as_n", read: []assay{{analyte: water.Nitrate}, {analyte: water.NitrateNitrite}}},
}

// taps are the taps in flow order, the kitchen and the heater last.
func (w way) taps(vs []Vessel) []CourseTap {
	ahead := w.fedAhead()
	ts := []CourseTap{
		w.tap(tapWell, "wellhead", -1),
		w.tap(tapTank, "behind the pressure tank", ahead-1),
	}
	for k, v := range vs {
		if v.Tap != "" {
			ts = append(ts, w.tap(v.Tap, "behind the "+v.Words, k))
		}
	}
	house := len(vs) - 1
	if house >= 0 && w.r.Train[house] == media.ReverseOsmosis {
		house--
	}
	kitchen := w.tap(tapKitchen, "kitchen, cold", len(vs)-1)
	if w.r.Tap != nil {
		kitchen.Where = "kitchen, cold, behind its " + media.ReverseOsmosis.Words()
		w.drinks(&kitchen)
	}
	return append(ts, kitchen, w.tap(tapHeater, "hot: the water that enters the heater", house))
}

// tap is the forecast behind a stage, or of the raw water, with what was read.
func (w way) tap(name, where string, behind int) CourseTap {
	t := CourseTap{Tap: name, Where: where, Behind: behind}
	for n, q := range forecastLeaves {
		f := Figure{Name: q.name, Forecast: w.rawRange(q), Assumed: w.assumed[rawName(q.name)]}
		if behind >= 0 {
			f.Forecast = w.behind(behind, n)
		}
		f.Readings = w.readings(name, q.name, f.Forecast)
		t.Figures = append(t.Figures, f)
	}
	return t
}

// rawName is the name that a figure of the raw water has where its assumptions are
// listed.
func rawName(leaf string) string {
	if leaf == "hardness_gpg" {
		return "hardness_mg_l_as_caco3"
	}
	return leaf
}

// behind is figure n of the forecast leaves behind a stage.
func (w way) behind(k, n int) Range {
	q := forecastLeaves[n]
	if w.r.over != nil {
		return rangeOver(q.of(w.out(k).Out), w.r.over.Leaf(k, n))
	}
	return w.d.over(func(i int) float64 { return q.of(w.r.Links[k].Outcomes[i].Out) })
}

// rawRange is the range of a figure of the raw water.
func (w way) rawRange(q leaf) Range {
	mid := q.of(*w.raw())
	r := Range{mid, mid, mid}
	vs := make([]weighted, len(w.d.Cloud.Draws))
	for i := range w.d.Cloud.Draws {
		vs[i] = weighted{q.of(w.d.Cloud.Draws[i].Water), w.d.Cloud.Draws[i].Weight}
	}
	return r.about(vs)
}

// about widens a range to the 5th and 95th percentile of values.
func (r Range) about(vs []weighted) Range {
	if len(vs) == 0 {
		return r
	}
	q := quantilesOf(vs)
	return Range{P05: math.Min(r.P50, q.P05), P50: r.P50, P95: math.Max(r.P50, q.P95)}
}

// drinks puts what the unit at the kitchen tap leaves in place of the house's
// water.
func (w way) drinks(t *CourseTap) {
	drunk := w.r.AtKitchen()
	for n, q := range forecastLeaves {
		mid := q.of(w.r.Tap.Out)
		vs := make([]weighted, len(drunk))
		for i, x := range drunk {
			vs[i] = weighted{q.of(x.Water), x.Weight}
		}
		f := &t.Figures[n]
		f.Forecast = Range{mid, mid, mid}.about(vs)
		f.Readings = w.readings(t.Tap, q.name, f.Forecast)
	}
}

// readings are what was read of a figure at a tap, oldest first. What was read
// behind the pressure tank belongs to what stands there now, and is shown only
// where that is the train drawn.
func (w way) readings(tap, leaf string, forecast Range) []TapReading {
	rs := []TapReading{}
	i := slices.IndexFunc(gauges, func(m gauge) bool { return m.leaf == leaf })
	if i < 0 {
		return rs
	}
	m := gauges[i]
	for _, a := range m.read {
		for _, r := range w.d.Present.Reports {
			if w.hangs(r) != tap || r.FirstDraw {
				continue
			}
			for _, x := range a.in(r) {
				if m.to != nil {
					x.Value = m.to(x.Value)
				}
				rs = append(rs, TapReading{Reading: x, On: r.Sampled.Format("2006-01-02"), Outside: outside(x, forecast)})
			}
		}
		if len(rs) > 0 {
			return rs
		}
	}
	return rs
}

// hangs is the tap of this course at which a report's readings hang; "" for none.
func (w way) hangs(r water.Report) string {
	stands := w.d.standing().String() == w.r.Train.String()
	switch {
	case r.Raw() && r.Tap == tapWell:
		return tapWell
	case r.Raw() && (stands || w.fedAhead() == 0):
		return tapTank
	case r.Raw():
		return tapWell // the raw water of a train that doses ahead of the tank
	case stands:
		return string(r.Tap)
	}
	return ""
}

// outside reports whether a reading cannot lie within a forecast.
func outside(x Reading, f Range) bool {
	slack := rounding * math.Max(1, math.Abs(x.Value))
	switch x.Sign {
	case "<":
		return x.Value+slack < f.P05
	case ">":
		return x.Value-slack > f.P95
	}
	return x.Value+slack < f.P05 || x.Value-slack > f.P95
}

// Sentence tells a tap in one line.
func (t CourseTap) Sentence() string { return fmt.Sprintf("%s, %s", t.Tap, t.Where) }
