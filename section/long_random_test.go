package section_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/unit"
)

// forms of stages that a course may have, each with a process that has that form.
var formsOf = []struct {
	process string
	form    plan.VesselForm
}{
	{"chlorine-feed", plan.FeedForm}, {"soda-ash-feed", plan.FeedForm}, {"contact-tank", plan.TankForm}, {"pressure-aeration", plan.TankForm},
	{"coated-sand-filter", plan.BedForm}, {"softener", plan.BedForm}, {"carbon-filter", plan.BedForm}, {"air-injection-filter", plan.BedForm}, {"calcite-bed", plan.BedForm},
	{"storage-booster", plan.OpenForm}, {"vented-aeration", plan.OpenForm}, {"cartridge-filter", plan.HousingForm}, {"ultraviolet", plan.HousingForm},
}

// letters is a name of up to so many letters, in words of up to twelve.
func letters(t *rapid.T, most int, label string) string {
	n := rapid.IntRange(1, most).Draw(t, label)
	var b strings.Builder
	for i := range n {
		if i%13 == 12 {
			b.WriteByte(' ')
			continue
		}
		b.WriteByte("abcdefghmnorstuwWMJ"[rapid.IntRange(0, 18).Draw(t, label+" letter")])
	}
	return strings.TrimSpace(b.String())
}

// randomCourse is any course of one to eight stages: wells of 20 to 600 ft, iron
// of 0.1 to 40 mg/L, names of 60 letters.
func randomCourse(t *rapid.T) plan.Course {
	c := plan.Course{
		Well: letters(t, 60, "well"), AsOf: "2025-05-31", Limits: "US", Fails: rapid.Bool().Draw(t, "fails"),
		IronLimit: 0.3, Bacteria: rapid.Float64Range(0, 1).Draw(t, "bacteria"), Standing: rapid.Bool().Draw(t, "standing"),
		Bore: randomBore(t), Tank: randomTank(t),
	}
	raw := plan.Trace{
		Ferrous: rapid.Float64Range(0.05, 20).Draw(t, "ferrous"), Particulate: rapid.Float64Range(0.05, 20).Draw(t, "particulate"),
		Bound: rapid.Float64Range(0, 1).Draw(t, "bound"), PH: rapid.Float64Range(5, 9).Draw(t, "pH"),
	}
	c.Band = []plan.Stretch{{Stage: -1, Points: []plan.Trace{raw, at1(raw)}}}
	c.Taps = []plan.CourseTap{tapOf(t, "T0", -1, raw), tapOf(t, "T1", -1, raw)}
	n := rapid.IntRange(0, 8).Draw(t, "stages")
	leading, tap, now := true, 1, raw
	for k := range n {
		v := randomVessel(t, k)
		leading = leading && v.Form == plan.FeedForm
		v.AheadOfTank = leading
		if v.Form != plan.FeedForm {
			tap++
			v.Tap = fmt.Sprintf("T%d", tap)
		}
		in := now
		now.Ferrous *= rapid.Float64Range(0, 1).Draw(t, "left")
		now.Particulate *= rapid.Float64Range(0, 1).Draw(t, "left")
		now.Chlorine = rapid.Float64Range(0, 4).Draw(t, "chlorine")
		in.Share = 0
		c.Band = append(c.Band, plan.Stretch{Stage: k, Points: []plan.Trace{in, at1(now)}})
		c.Vessels = append(c.Vessels, v)
		c.Train = append(c.Train, v.Process)
		if v.Tap != "" {
			c.Taps = append(c.Taps, tapOf(t, v.Tap, k, now))
		}
	}
	c.Taps = append(c.Taps, tapOf(t, "K", n-1, now), tapOf(t, "H", n-1, now))
	c.FirstAt = rapid.IntRange(-1, n-1).Draw(t, "first at")
	c.First = plan.Limit{Limit: "x", Say: letters(t, 60, "say"), Have: 1.234, Need: 12.34, Unit: "gpm/ft2", Margin: 0.123, Fails: c.Fails, Water: letters(t, 60, "water")}
	if rapid.Bool().Draw(t, "kitchen") {
		c.Kitchen = &plan.Vessel{Process: "reverse-osmosis", Words: "kitchen reverse osmosis", Form: plan.HousingForm, Count: 1, Series: 1, Tap: "K"}
	}
	c.Pressure = randomLines(t, c)
	return c
}

func at1(x plan.Trace) plan.Trace { x.Share = 1; return x }

func maybe(t *rapid.T, low, high float64, label string) *float64 {
	if rapid.Float64Range(0, 1).Draw(t, label+"?") < 0.2 {
		return nil
	}
	v := rapid.Float64Range(low, high).Draw(t, label)
	return &v
}

func randomBore(t *rapid.T) plan.Bore {
	deep := rapid.Float64Range(20, 600).Draw(t, "depth")
	b := plan.Bore{Kind: "drilled", Depth: &deep, Open: rapid.Bool().Draw(t, "open"), PumpFlow: rapid.Float64Range(0.5, 40).Draw(t, "pump"), Yield: rapid.Float64Range(0.3, 60).Draw(t, "yield"),
		YieldTested: rapid.Bool().Draw(t, "tested"), Storage: rapid.Float64Range(0, 900).Draw(t, "storage"), PumpingAt: 12.3,
		Casing: maybe(t, 2, 48, "casing"), CasingDepth: maybe(t, 5, deep, "casing depth"), Static: maybe(t, 1, deep, "static"), Pumping: maybe(t, 1, deep, "pumping"), Intake: maybe(t, 5, deep, "intake"),
		ScreenTop: maybe(t, 5, deep, "screen top"), ScreenBottom: maybe(t, 5, deep, "screen bottom"),
	}
	if rapid.Float64Range(0, 1).Draw(t, "depth?") < 0.1 {
		b.Depth = nil
		b.Unrecorded = []string{"depth", "casing", "casing depth", "static level", "pump setting", "yield"}
	}
	return b
}

func randomTank(t *rapid.T) plan.CourseTank {
	c := plan.CourseTank{CutIn: 40, CutOut: 60, Assumed: rapid.Bool().Draw(t, "switch assumed"), Drawdown: 12.3}
	if c.Volume = rapid.Float64Range(-50, 320).Draw(t, "tank"); c.Volume < 0 {
		c.Volume = 0
	} else {
		c.Diameter, c.Height = 26, 47
	}
	if rapid.Bool().Draw(t, "larger") {
		c.Larger = 119
	}
	return c
}

func randomVessel(t *rapid.T, k int) plan.Vessel {
	f := rapid.SampledFrom(formsOf).Draw(t, "form")
	v := plan.Vessel{Process: f.process, Words: letters(t, 60, "words"), Form: f.form, Count: 1, Series: 1, Settings: map[string]float64{"dose_mg_l": 12.3}}
	if rapid.Bool().Draw(t, "own name") {
		v.Process = fmt.Sprintf("stage-%d", k)
	}
	switch f.form {
	case plan.BedForm:
		v.Diameter, v.Height, v.Bed, v.Media = rapid.Float64Range(8, 30).Draw(t, "diameter"), rapid.Float64Range(44, 72).Draw(t, "height"), 30, 12.5
		v.Count = rapid.IntRange(1, 3).Draw(t, "count")
		v.Backwash = &plan.Backwash{Need: rapid.Float64Range(1, 60).Draw(t, "need"), Have: rapid.Float64Range(0, 60).Draw(t, "have"), Days: 2}
	case plan.TankForm:
		v.Volume, v.Diameter, v.Height, v.Series = 120, 24, 62, rapid.IntRange(1, 3).Draw(t, "series")
		v.Count = rapid.IntRange(1, 2).Draw(t, "rows")
	case plan.OpenForm:
		v.Volume, v.Diameter, v.Height, v.Booster = 500, rapid.Float64Range(30, 64).Draw(t, "wide"), 60, 12
	case plan.HousingForm:
		v.Label = "4.5 x 20 in, 5 µm"
		if rapid.Bool().Draw(t, "drawn") {
			v.Diameter, v.Height = 4.5, 20
		}
	}
	return v
}

func tapOf(t *rapid.T, name string, behind int, x plan.Trace) plan.CourseTap {
	tap := plan.CourseTap{Tap: name, Where: "somewhere", Behind: behind}
	add := func(leaf string, v float64) {
		f := plan.Figure{Name: leaf, Forecast: plan.Range{P05: v * 0.7, P50: v, P95: v * 1.4}}
		for range rapid.IntRange(0, 2).Draw(t, "readings") {
			f.Readings = append(f.Readings, plan.TapReading{Reading: plan.Reading{Value: v * rapid.Float64Range(0.3, 2).Draw(t, "read"), Kind: rapid.SampledFrom([]string{"field", "laboratory"}).Draw(t, "kind"), Sign: rapid.SampledFrom([]string{"", "<", ">"}).Draw(t, "sign")}, On: "2025-05-30", Outside: rapid.Bool().Draw(t, "outside")})
		}
		tap.Figures = append(tap.Figures, f)
	}
	add("iron_total_mg_l", x.Total())
	add("iron_ferrous_mg_l", x.Ferrous)
	add("iron_particulate_mg_l", x.Particulate)
	add("iron_bound_mg_l", x.Bound)
	add("manganese_mg_l", rapid.Float64Range(0, 3).Draw(t, "manganese"))
	add("ph", x.PH)
	add("free_chlorine_mg_l", x.Chlorine)
	add("arsenic_mg_l", rapid.Float64Range(0, 0.1).Draw(t, "arsenic"))
	add("hardness_gpg", rapid.Float64Range(0, 40).Draw(t, "hardness"))
	add("sodium_mg_l", rapid.Float64Range(0, 400).Draw(t, "sodium"))
	return tap
}

func randomLines(t *rapid.T, c plan.Course) []plan.PressureLine {
	var ls []plan.PressureLine
	for _, kind := range []plan.LineKind{plan.AtRest, plan.AtCutIn, plan.AtPeak, plan.DirtyBed} {
		l := plan.PressureLine{Kind: kind, Flow: 8.25, Stage: -1, From: -1, Tank: rapid.Float64Range(20, 80).Draw(t, "tank psi")}
		now := l.Tank
		for _, v := range c.Vessels {
			d := plan.Drop{In: now, Out: now - rapid.Float64Range(0, 12).Draw(t, "loss")}
			if v.Form == plan.OpenForm {
				d.Out = 40
			}
			l.Drops, now = append(l.Drops, d), d.Out
		}
		top := now - 6
		l.Top = &top
		ls = append(ls, l)
	}
	for k, v := range c.Vessels {
		if v.Backwash == nil {
			continue
		}
		l := plan.PressureLine{Kind: plan.Washing, Stage: k, From: -1, Tank: 40}
		for i := range k + 1 {
			l.Drops = append(l.Drops, plan.Drop{In: 40 - float64(i), Out: 39 - float64(i)})
			if c.Vessels[i].Form == plan.OpenForm && i < k {
				l.From = i
			}
		}
		ls = append(ls, l)
	}
	return ls
}

// Whatever the course: no text leaves the sheet and no two meet, drawn alone or
// with another laid over it.
func TestLongSectionHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := randomCourse(t)
		s := rapid.SampledFrom([]unit.System{unit.US, unit.Metric}).Draw(t, "units")
		legible(t, section.Long(c, s))
		if rapid.Bool().Draw(t, "over") {
			legible(t, section.Overlay(c, randomCourse(t), s))
		}
	})
}

type failer interface {
	Errorf(string, ...any)
	Helper()
}

// legible fails where a text leaves the sheet or meets another.
func legible(t failer, d *canvas.Drawing) {
	t.Helper()
	sheet := canvas.Box{W: d.Width, H: d.Height}
	all := d.Texts()
	for i, a := range all {
		if !sheet.Holds(a.Box) {
			t.Errorf("%q of %s leaves the sheet: %+v", a.Words, a.Group, a.Box)
		}
		for _, b := range all[:i] {
			if over := a.Box.Meets(b.Box); over && a.Words != "" && b.Words != "" {
				t.Errorf("%q of %s meets %q of %s", a.Words, a.Group, b.Words, b.Group)
			}
		}
	}
	canvas.SVG(d) // panics where a coordinate is no number
}
