package section_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/unit"
)

const longName = "Upper Quernstone Hollow, the second well behind the old creamery on the far side of the brook, the one with the new cap"

func heading() plan.Heading {
	return plan.Heading{Well: "Alder Lane", AsOf: "2025-05-01", Rank: 1, Train: []string{"coated-sand-filter", "softener"}, Words: []string{"manganese-dioxide-coated sand filter", "softener"}}
}

func rangeOf(v, by float64) plan.Range { return plan.Range{P05: v / by, P50: v, P95: v * by} }

// costAnswer has options of which the first two and the last two are tied.
func costAnswer() plan.Answer {
	a := plan.Answer{Well: "Alder Lane", AsOf: "2025-05-01"}
	for i, first := range []float64{5000, 6200, 8100} {
		o := plan.Option{Rank: i + 1, Train: []string{"coated-sand-filter", "softener"}, ExpectedCost: 12000 + 1500*float64(i)}
		o.Cost = plan.Cost{First: rangeOf(first, 1.2), Yearly: rangeOf(400, 1.3), TenYear: rangeOf(first+3400, 1.2)}
		a.Options = append(a.Options, o)
	}
	a.Options[0].Ties, a.Options[1].Ties, a.Options[2].Ties = []int{2}, []int{1, 3}, []int{2}
	return a
}

// lanesOf is a train of a limit half used, one broken, a caution and a yes.
func lanesOf(used ...float64) plan.Lanes {
	l := plan.Lanes{Heading: heading()}
	for i, u := range used {
		l.Lanes = append(l.Lanes, plan.Lane{
			Limit: plan.Limit{Stage: "coated-sand-filter", Limit: fmt.Sprintf("limit_%d", i), Have: 10 * u, Need: 10, Unit: "mg/L", AtMost: true, Fails: u > 1},
			Words: "manganese-dioxide-coated sand filter", Used: plan.Range{P05: 0.8 * u, P50: u, P95: 1.3 * u}, First: i == 0, Soft: i%2 == 1, Breaks: math.Min(1, u/3),
		})
	}
	l.Lanes = append(l.Lanes, plan.Lane{Limit: plan.Limit{Limit: "drain_for_backwash", Unit: "lawful drain", Have: 1, Need: 1}, Words: "the whole train", YesOrNo: true, Used: rangeOf(1, 1)})
	return l
}

// ironOf is iron that goes by the first order with a half-life, with chlorine a
// hundred times as fast.
func ironOf(mgL, half, by float64) plan.IronTime {
	x := plan.IronTime{Heading: heading(), Ferrous: rangeOf(mgL, by), PH: plan.Range{P05: 6.9, P50: 7, P95: 7.1}, Temperature: rangeOf(25, 1), Wanted: 0.3}
	x.Contacts = []plan.Contact{{Stage: "contact-tank", Words: "contact tank", Peak: rangeOf(12, 1.1)}}
	x.Laws = []plan.RateLaw{{What: "ferrous iron with oxygen, fast law", From: "Singer & Stumm 1970"}}
	dose, oxygen := rangeOf(3, 1.2), rangeOf(8.3, 1)
	x.Courses = []plan.IronCourse{{With: "air", Oxygen: &oxygen}, {With: "chlorine", Dose: &dose}}
	for n := range x.Courses {
		fast := math.Pow(100, float64(n))
		for i := range 61 {
			t := 0.001 * math.Pow(10, float64(i)/8)
			left := math.Exp2(-t * fast / half)
			x.Courses[n].Points = append(x.Courses[n].Points, plan.Left{Minutes: t, Ferrous: plan.Range{P05: mgL / by * left, P50: mgL * left, P95: mgL * by * left}})
		}
		h := half / fast
		x.Courses[n].Half = plan.Duration{P05: &h, P50: &h, P95: &h}
	}
	return x
}

// pumpOf is a pump that gives flow at 45 psi and stops at 85, in a well.
func pumpOf(gpm, static, intake float64) plan.PumpView {
	v := plan.PumpView{Heading: heading(), Read: true, OnePoint: true, YieldRead: true, Yield: rangeOf(0.8*gpm, 1.5)}
	at := func(psi float64) plan.Gauged {
		return plan.Gauged{PSI: psi, GPM: rangeOf(gpm*math.Sqrt((85-psi)/40), 1.15)}
	}
	for i := range 41 {
		v.Curve = append(v.Curve, at(85*float64(i)/40))
	}
	v.CutIn, v.CutOut, v.Points = at(40), at(60), []plan.Gauged{{PSI: 45, GPM: rangeOf(gpm, 1)}}
	v.Peak = plan.Duty{Stage: "house", Words: "the house at its peak", Need: gpm / 2, PSI: 28, Have: rangeOf(gpm, 1.1), Minutes: 10}
	v.House = []plan.Gauged{{PSI: 15}, {PSI: 28, GPM: rangeOf(gpm/2, 1)}}
	v.Washes = []plan.Duty{{Words: "softener", Waste: "softener brine", Need: gpm / 3, PSI: 30, Have: rangeOf(gpm, 1.1)}, {Words: "filter", Waste: "filter backwash", Need: 2 * gpm, PSI: 30, Have: rangeOf(gpm, 1.1)}}
	if intake > 0 {
		gal := 1.47 * (intake - static)
		v.Static, v.Intake, v.Storage = &static, &intake, &gal
	}
	return v
}

// washOf falls from the static level towards the intake at a steady rate.
func washOf(need, static, intake, fall float64) plan.WashView {
	v := plan.WashView{
		Heading: heading(), Words: "manganese-dioxide-coated sand filter", Waste: "filter backwash", Vessels: 2, Need: need, Have: rangeOf(need, 1.2),
		Floor: 30, Minutes: 10, Days: 3, Delivered: 0.7, Yield: rangeOf(need/2, 1.5),
	}
	if intake > 0 {
		v.Static, v.Intake, v.Level, v.Stored = &static, &intake, true, true
	}
	for i := range 41 {
		t := float64(i) / 4
		drop := math.Min(fall*t, math.Max(0, intake-static))
		v.Steps = append(v.Steps, plan.WashMinute{Minutes: t, Given: plan.Range{P05: need * 0.6, P50: need, P95: need}, Pressure: plan.Range{P05: 40, P50: 60 - t, P95: 60},
			Drop: plan.Range{P05: drop * 0.8, P50: drop, P95: drop}, Left: plan.Range{P05: 10, P50: 50 - t, P95: 60}})
	}
	return v
}

// smallPictures are those that strain the sheets: full, empty, shallow and deep,
// with names that no line holds, with nothing known.
func smallPictures() map[string]*canvas.Drawing {
	long, lanes, iron, wash := costAnswer(), lanesOf(0.5, 1.2, 40, 0.98, 0.02), ironOf(25, 4000, 2), washOf(14, 44, 600, 5)
	long.Well, lanes.Well, iron.Well, wash.Well = longName, longName, longName, longName
	for i := range long.Options {
		long.Options[i].Train = []string{"pressure-aeration", "chlorine-feed", "contact-tank", "coated-sand-filter", "carbon-filter", "softener", "ultraviolet"}
	}
	short := washOf(9, 12, 20, 3)
	short.Short, short.ShortAt = "well", 2.7
	return map[string]*canvas.Drawing{
		"costs": section.Costs(costAnswer()), "costs of long names": section.Costs(long), "no costs": section.Costs(plan.Answer{}),
		"lanes": section.Lanes(lanesOf(0.5, 1.2), unit.US), "lanes beyond": section.Lanes(lanes, unit.Metric), "no lanes": section.Lanes(plan.Lanes{}, unit.US),
		"strips": section.LaneStrips([]plan.Lanes{lanes, lanesOf(0.3, 0.99), lanesOf(2)}, unit.US), "no strips": section.LaneStrips(nil, unit.US),
		"iron": section.IronTime(ironOf(3, 30, 1.5), unit.US), "slow iron": section.IronTime(iron, unit.Metric), "no iron": section.IronTime(plan.IronTime{}, unit.US),
		"pump": section.Pump(pumpOf(8, 40, 140), unit.US), "deep pump": section.Pump(pumpOf(4, 300, 600), unit.Metric), "unknown well": section.Pump(pumpOf(20, 0, 0), unit.US), "no pump": section.Pump(plan.PumpView{}, unit.US),
		"wash": section.Wash(short, unit.US), "deep wash": section.Wash(wash, unit.Metric), "unknown level": section.Wash(washOf(9, 0, 0, 0), unit.US), "no wash": section.Wash(plan.WashView{}, unit.US),
	}
}

// No text of a small picture meets another or the edge, at the widths of the
// widest face.
func TestSmallPicturesKeepTextsApart(t *testing.T) {
	for name, d := range smallPictures() {
		apart(t, name, d)
	}
}

func apart(t *testing.T, name string, d *canvas.Drawing) {
	t.Helper()
	all := d.Texts()
	for i, a := range all {
		if a.Box.X < 0 || a.Box.X+a.Box.W > d.Width || a.Box.Y < 0 || a.Box.Y+a.Box.H > d.Height {
			t.Errorf("%s: %q runs off the sheet", name, a.Words)
		}
		for _, b := range all[:i] {
			if a.Box.X < b.Box.X+b.Box.W-0.5 && b.Box.X < a.Box.X+a.Box.W-0.5 && a.Box.Y < b.Box.Y+b.Box.H-2.5 && b.Box.Y < a.Box.Y+a.Box.H-2.5 {
				t.Errorf("%s: %q meets %q", name, a.Words, b.Words)
			}
		}
	}
}

// Every line and area of a small picture lies on its sheet, and every title and
// description says something.
func TestSmallPicturesStayOnTheSheet(t *testing.T) {
	for name, d := range smallPictures() {
		onSheet(t, name, d)
	}
}

func onSheet(t *testing.T, name string, d *canvas.Drawing) {
	t.Helper()
	if strings.TrimSpace(d.Title) == "" || strings.TrimSpace(d.Desc) == "" {
		t.Errorf("%s: title %q, description %q", name, d.Title, d.Desc)
	}
	for _, e := range drawn(t, d) {
		if e.tile {
			continue
		}
		for _, p := range pointsOf(t, e) {
			if p.X < 0 || p.X > d.Width || p.Y < 0 || p.Y > d.Height {
				t.Errorf("%s: %s of %q goes through %v, beyond the sheet", name, e.name, e.group, p)
			}
		}
	}
}

// pointsOf are the corners of an element, or the middle of a circle.
func pointsOf(t *testing.T, e element) []canvas.Point {
	t.Helper()
	along := e.attr["points"]
	if e.name == "path" {
		along = strings.NewReplacer("M", " ", "L", " ").Replace(e.attr["d"])
	}
	var ps []canvas.Point
	if e.name == "circle" && e.group != "" {
		ps = append(ps, canvas.Point{X: e.number(t, "cx"), Y: e.number(t, "cy")})
	}
	for _, f := range strings.Fields(along) {
		var p canvas.Point
		if _, err := fmt.Sscanf(f, "%g,%g", &p.X, &p.Y); err != nil {
			t.Fatalf("%s: %q: %v", e.name, f, err)
		}
		ps = append(ps, p)
	}
	return ps
}

// Wells of 20 to 600 ft, iron of a trace to 60 mg/L, costs and shares of every
// size: nothing leaves the sheet and no text meets another.
func TestSmallPicturesOfAnyWell(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(r, name) }
		s := rapid.SampledFrom([]unit.System{unit.US, unit.Metric}).Draw(r, "system")
		intake := f("intake", 20, 600)
		static := intake * f("static", 0, 0.95)
		gpm := f("gpm", 1, 40)
		a := costAnswer()
		for i := range a.Options {
			c := &a.Options[i].Cost
			c.First, c.Yearly, c.TenYear = rangeOf(f("first", 0, 60000), 1.2), rangeOf(f("yearly", 0, 4000), 1.4), rangeOf(f("ten", 0, 90000), 1.3)
		}
		for name, d := range map[string]*canvas.Drawing{
			"costs": section.Costs(a), "lanes": section.Lanes(lanesOf(f("one", 0, 3), f("two", 0, 99), f("three", 0.9, 1.1)), s),
			"strips": section.LaneStrips([]plan.Lanes{lanesOf(f("four", 0, 3), f("five", 0, 99))}, s),
			"iron":   section.IronTime(ironOf(f("iron", 0.001, 60), f("half", 0.1, 1e5), f("by", 1, 4)), s),
			"pump":   section.Pump(pumpOf(gpm, static, intake), s), "wash": section.Wash(washOf(gpm, static, intake, f("fall", 0, 60)), s),
		} {
			onSheet(t, name, d)
			apart(t, name, d)
			if t.Failed() {
				r.FailNow()
			}
		}
	})
}
