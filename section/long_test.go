package section_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"wellwright/book"
	"wellwright/canvas"
	"wellwright/demo"
	"wellwright/media"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/train"
	"wellwright/unit"
)

// measuredWells are the three wells that a ruler is laid on: deep and weak with an
// open tank, dug and wide, ordinary with a screen.
var measuredWells = []struct {
	well  string
	train train.Train
}{
	{"weak-well", train.Train{media.StorageBooster, media.CoatedSandFilter, media.Softener}},
	{"dug-well-after-rain", train.Train{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.CarbonFilter}},
	{"clear-water-iron", train.Train{media.AirInjectionFilter, media.Softener}},
}

// measuredCourses are the courses of those wells, laid out once.
var measuredCourses = sync.OnceValues(func() (map[string]plan.Course, error) {
	wells, err := demo.Wells()
	if err != nil {
		return nil, err
	}
	out := map[string]plan.Course{}
	for _, m := range measuredWells {
		i := slices.IndexFunc(wells, func(w demo.Well) bool { return w.Name == m.well })
		b, found := book.Read(m.well, wells[i].Text)
		if bad := book.Mistakes(found); len(bad) > 0 {
			return nil, bad[0]
		}
		d, err := plan.Open(b.Present(time.Date(2025, 12, 1, 0, 0, 0, 0, time.UTC)), plan.Ask{Prices: media.Prices()})
		if err != nil {
			return nil, err
		}
		if out[m.well], err = d.Course(m.train); err != nil {
			return nil, err
		}
	}
	return out, nil
})

func courseOf(t *testing.T, well string) plan.Course {
	t.Helper()
	all, err := measuredCourses()
	if err != nil {
		t.Fatal(err)
	}
	return all[well]
}

// rule is a scale read off the sheet by its labels.
type rule struct{ v0, y0, perY float64 }

// at is the value that stands at a height.
func (r rule) at(y float64) float64 { return r.v0 + (y-r.y0)*r.perY }

// rulesIn reads the scales of a group: the labels that end at x, in the order they
// were written; a value below the one before begins another scale.
func rulesIn(t *testing.T, es []element, group string, x float64) []rule {
	t.Helper()
	const foot = 2.8 // of a label below its tick
	var all []rule
	var first, last *element
	value := func(e *element) float64 {
		v, _ := strconv.ParseFloat(strings.ReplaceAll(e.text, ",", ""), 64)
		return v
	}
	end := func() {
		if first != nil && last != first {
			y0, y1 := first.number(t, "y")-foot, last.number(t, "y")-foot
			all = append(all, rule{value(first), y0, (value(last) - value(first)) / (y1 - y0)})
		}
		first, last = nil, nil
	}
	for i := range es {
		e := &es[i]
		if e.name != "text" || e.group != group || e.attr["text-anchor"] != "end" || math.Abs(e.number(t, "x")-x) > 0.01 {
			continue
		}
		if _, err := strconv.ParseFloat(e.text, 64); err != nil {
			continue
		}
		if last != nil && value(e) <= value(last) {
			end()
		}
		if first == nil {
			first = e
		}
		last = e
	}
	end()
	return all
}

// corners are the points of a polygon or polyline, or of a path of straight lines.
func corners(t *testing.T, e element) []canvas.Point {
	t.Helper()
	text := e.attr["points"]
	if e.name == "path" {
		text = strings.NewReplacer("M", " ", "L", " ").Replace(e.attr["d"])
	}
	var ps []canvas.Point
	for _, f := range strings.Fields(text) {
		a, b, _ := strings.Cut(f, ",")
		x, err := strconv.ParseFloat(a, 64)
		y, err2 := strconv.ParseFloat(b, 64)
		if err != nil || err2 != nil {
			t.Fatalf("%s: %q is no point", e.name, f)
		}
		ps = append(ps, canvas.Point{X: x, Y: y})
	}
	return ps
}

// near fails where a figure read off the sheet is more than one percent off what it
// stands for, or off by more than the sheet's hundredth of a pixel.
func near(t *testing.T, what string, got, want, pixel float64) {
	t.Helper()
	if math.Abs(got-want) > math.Max(0.01*math.Abs(want), 0.02*math.Abs(pixel)) {
		t.Errorf("%s measures %g, the course has %g", what, got, want)
	}
}

// eachSheet draws every measured well in both systems.
func eachSheet(t *testing.T, f func(t *testing.T, c plan.Course, s unit.System, es []element)) {
	for _, m := range measuredWells {
		for _, s := range []unit.System{unit.US, unit.Metric} {
			t.Run(m.well+" "+s.String(), func(t *testing.T) {
				c := courseOf(t, m.well)
				f(t, c, s, drawn(t, section.Long(c, s)))
			})
		}
	}
}

// A ruler laid on the well reads its depths. Source: the book's well record.
func TestDepthsToScale(t *testing.T) {
	eachSheet(t, func(t *testing.T, c plan.Course, s unit.System, es []element) {
		r := rulesIn(t, es, "The well", 45)[0]
		ft := func(y float64) float64 {
			if s == unit.Metric {
				return unit.M(r.at(y)).Ft()
			}
			return r.at(y)
		}
		seen := 0
		for _, e := range es {
			if e.group != "The well" {
				continue
			}
			ps, want := []canvas.Point(nil), (*float64)(nil)
			switch {
			case e.name == "polygon" && e.attr["fill"] == "#000" && e.attr["stroke-width"] == "1.00":
				want, ps = c.Bore.Intake, corners(t, e)
			case e.name == "polygon" && e.attr["fill"] == "#fff" && e.attr["stroke-width"] == "0.60":
				want, ps = c.Bore.Static, corners(t, e)
			case e.name == "path" && e.attr["stroke-dasharray"] == "3.00 2.00":
				want, ps = c.Bore.Pumping, corners(t, e)
			case e.name == "path" && e.attr["stroke-dasharray"] == "2.00 2.00":
				want, ps = c.Bore.Depth, corners(t, e)
			default:
				continue
			}
			deepest := 0.0
			for _, p := range ps {
				deepest = math.Max(deepest, p.Y)
			}
			seen++
			near(t, fmt.Sprint("depth of ", e.attr), ft(deepest), *want, r.perY)
		}
		if seen < 4 {
			t.Errorf("only %d marks of depth were found", seen)
		}
	})
}

// A ruler laid on the iron band reads each form in mg/L, on both scales, all along
// the pipe, and the areas of the forms add up to that of all iron.
func TestBandToScale(t *testing.T) {
	eachSheet(t, func(t *testing.T, c plan.Course, _ unit.System, es []element) {
		scales := rulesIn(t, es, "Iron, mg/L", 207)
		var traces []plan.Trace
		for _, b := range c.Band {
			traces = append(traces, b.Points...)
		}
		traces = append(traces, traces[len(traces)-1]) // on to the kitchen
		of := map[string]func(plan.Trace) float64{
			"fill3": func(x plan.Trace) float64 { return x.Ferrous }, "fill4": func(x plan.Trace) float64 { return x.Bound }, "fill5": func(x plan.Trace) float64 { return x.Particulate },
		}
		layers, area := map[string]int{}, 0.0
		var xs []float64
		for _, e := range es {
			_, fill, _ := strings.Cut(strings.TrimSuffix(e.attr["fill"], ")"), "-")
			form, hatched := of[fill]
			if e.name != "polygon" || e.group != "Iron, mg/L" || !hatched {
				continue
			}
			ps := corners(t, e)
			n := len(ps) / 2
			if n != len(traces) {
				t.Fatalf("the band has %d points, the course %d", n, len(traces))
			}
			r := scales[layers[fill]]
			xs = nil
			for i := range n {
				top, foot := ps[i], ps[len(ps)-1-i]
				near(t, fmt.Sprintf("%s at %g", fill, top.X), r.at(top.Y)-r.at(foot.Y), form(traces[i]), r.perY)
				xs = append(xs, top.X)
			}
			if layers[fill] == 0 {
				area += areaOf(ps) * math.Abs(r.perY)
			}
			layers[fill]++
		}
		if len(layers) < 2 {
			t.Fatalf("only %d forms were drawn", len(layers))
		}
		whole := 0.0
		for i := 1; i < len(xs); i++ {
			whole += (xs[i] - xs[i-1]) * (traces[i].Total() + traces[i-1].Total()) / 2
		}
		near(t, "area of all forms", area, whole, 0)
	})
}

// areaOf is the area of a polygon by the shoelace formula.
func areaOf(ps []canvas.Point) float64 {
	sum := 0.0
	for i, a := range ps {
		b := ps[(i+1)%len(ps)]
		sum += a.X*b.Y - b.X*a.Y
	}
	return math.Abs(sum) / 2
}

// A ruler laid on the pressure lines reads psi or kPa at the tank, at each stage
// and at the top fixture.
func TestPressureToScale(t *testing.T) {
	pens := map[plan.LineKind][2]string{plan.AtRest: {"1.60", ""}, plan.AtCutIn: {"0.70", ""}, plan.AtPeak: {"0.90", "7.00 3.00"}, plan.DirtyBed: {"1.40", "7.00 3.00"}}
	eachSheet(t, func(t *testing.T, c plan.Course, s unit.System, es []element) {
		group, psi := "Pressure, psi", func(v float64) float64 { return v }
		if s == unit.Metric {
			group, psi = "Pressure, kPa", func(v float64) float64 { return unit.KPa(v).PSI() }
		}
		r := rulesIn(t, es, group, 207)[0]
		for kind, pen := range pens {
			i := slices.IndexFunc(c.Pressure, func(l plan.PressureLine) bool { return l.Kind == kind })
			k := slices.IndexFunc(es, func(e element) bool {
				return e.name == "polyline" && e.group == group && e.attr["stroke-width"] == pen[0] && e.attr["stroke-dasharray"] == pen[1]
			})
			if k < 0 {
				t.Fatalf("no line %s", kind)
			}
			l, ps := c.Pressure[i], corners(t, es[k])
			near(t, string(kind)+" at the tank", psi(r.at(ps[0].Y)), l.Tank, psi(r.perY))
			near(t, string(kind)+" at the top fixture", psi(r.at(ps[len(ps)-1].Y)), *l.Top, psi(r.perY))
			last := l.Drops[len(l.Drops)-1]
			near(t, string(kind)+" behind the last stage", psi(r.at(ps[len(ps)-2].Y)), last.Out, psi(r.perY))
		}
	})
}

// Vessels stand to one scale, which the rule beside the wall gives: heights of the
// vessels in inches, and the bed in each.
func TestVesselsToScale(t *testing.T) {
	eachSheet(t, func(t *testing.T, c plan.Course, s unit.System, es []element) {
		inch := inchOnSheet(t, es, s)
		for _, v := range c.Vessels {
			if v.Form != plan.BedForm {
				continue
			}
			group := "The house and the train" + strings.ToUpper(v.Words[:1]) + v.Words[1:]
			i := slices.IndexFunc(es, func(e element) bool { return e.group == group && e.name == "polygon" && e.attr["fill"] == "#fff" })
			if i < 0 {
				t.Fatalf("no vessel in %q", group)
			}
			high, deep := extent(corners(t, es[i])), extent(corners(t, es[i+1]))
			near(t, v.Words+", height", high/inch, v.Height, 1/inch)
			near(t, v.Words+", bed", deep/inch, v.Bed, 1/inch)
		}
	})
}

func extent(ps []canvas.Point) float64 {
	top, foot := math.Inf(1), math.Inf(-1)
	for _, p := range ps {
		top, foot = math.Min(top, p.Y), math.Max(foot, p.Y)
	}
	return foot - top
}

// inchOnSheet reads the rule of the vessels.
func inchOnSheet(t *testing.T, es []element, s unit.System) float64 {
	t.Helper()
	for _, e := range es {
		if e.group != "The house and the train" || e.name != "text" {
			continue
		}
		var v float64
		var name string
		if n, _ := fmt.Sscanf(e.text, "%g %s", &v, &name); n != 2 {
			continue
		}
		high := 338 - (e.number(t, "y") + 3)
		if s == unit.Metric {
			return high / unit.M(v).Inches()
		}
		return high / unit.Ft(v).Inches()
	}
	t.Fatal("no rule of the vessels")
	return 0
}

// The real sheets hold too, alone and laid over one another.
func TestRealSheetsAreLegible(t *testing.T) {
	for i, m := range measuredWells {
		c, other := courseOf(t, m.well), courseOf(t, measuredWells[(i+1)%len(measuredWells)].well)
		for _, s := range []unit.System{unit.US, unit.Metric} {
			legible(t, section.Long(c, s))
			legible(t, section.Overlay(c, other, s))
		}
	}
}

// It prints in black and white: no paint but black, white and the grey of guides.
func TestBlackAndWhite(t *testing.T) {
	for _, e := range drawn(t, section.Overlay(courseOf(t, "weak-well"), courseOf(t, "clear-water-iron"), unit.US)) {
		for _, a := range []string{"fill", "stroke"} {
			switch p := e.attr[a]; {
			case p == "", p == "none", p == "#000", p == "#fff", p == "#999", strings.HasPrefix(p, "url(#long-fill"):
			default:
				t.Errorf("%s has %s %s", e.name, a, p)
			}
		}
	}
}

// Whoever cannot see it is told the same: each part has a title, and the table
// holds every figure that the strip under the taps shows.
func TestTableHasTheSameContent(t *testing.T) {
	eachSheet(t, func(t *testing.T, c plan.Course, s unit.System, es []element) {
		text := section.TapTable(c, s).Text()
		for _, e := range es {
			if e.name != "text" || !strings.HasPrefix(e.group, "Taps: forecast and readings") || strings.HasSuffix(e.text, "…") {
				continue
			}
			if !strings.Contains(text, e.text) && e.text != "At the taps" {
				t.Errorf("%q of %s is not in the table", e.text, e.group)
			}
		}
		titles := 0
		for _, e := range es {
			if e.name == "title" {
				titles++
			}
		}
		if titles < 12 {
			t.Errorf("only %d parts are named", titles)
		}
		for i, l := range strings.Split(text, "\n") {
			if n := len([]rune(l)); n > 96 {
				t.Errorf("line %d of the table is %d wide", i+1, n)
			}
		}
	})
}

// What was read outside its forecast is marked, in the drawing and in the table.
func TestReadingOutsideIsMarked(t *testing.T) {
	c := courseOf(t, "weak-well")
	taps := slices.Clone(c.Taps)
	taps[1].Figures = slices.Clone(taps[1].Figures)
	i := slices.IndexFunc(taps[1].Figures, func(f plan.Figure) bool { return f.Name == "iron_total_mg_l" })
	high := taps[1].Figures[i].Forecast.P95 + 1
	taps[1].Figures[i].Readings = []plan.TapReading{{Reading: plan.Reading{Value: high, Kind: "field"}, On: "2025-12-01", Outside: true}}
	c.Taps = taps
	black := func(es []element) (n int) {
		for _, e := range es {
			if e.name == "circle" && e.group == "Iron, mg/L" && e.attr["fill"] == "#000" && e.attr["r"] == "2.60" {
				n++
			}
		}
		return n
	}
	if n := black(drawn(t, section.Long(c, unit.US))); n != 1 {
		t.Errorf("%d black marks, want 1", n)
	}
	if text := section.TapTable(c, unit.US).Text(); !strings.Contains(text, " out") {
		t.Error("the table does not say so")
	}
}

// What differs between two courses is drawn with the broken pen; what is the same
// lies on the same lines.
func TestOverlay(t *testing.T) {
	a := courseOf(t, "clear-water-iron")
	b := a
	b.AsOf = "2026-06-01"
	b.Band = slices.Clone(b.Band)
	raw := b.Band[0].Points[0]
	raw.Ferrous *= 2
	b.Band[0] = plan.Stretch{Stage: -1, Points: []plan.Trace{raw, raw}}
	es := drawn(t, section.Overlay(a, b, unit.US))
	r := rulesIn(t, es, "Iron, mg/L", 207)[0]
	i := slices.IndexFunc(es, func(e element) bool {
		return e.name == "polyline" && e.group == "Iron, mg/L" && e.attr["stroke-dasharray"] == "5.00 2.50"
	})
	if i < 0 {
		t.Fatal("the other course has no band")
	}
	near(t, "all iron of the other course", r.at(corners(t, es[i])[0].Y), raw.Total(), r.perY)
	for _, e := range es {
		if e.name == "text" && strings.Contains(e.text, "broken lines as of 2026-06-01") {
			return
		}
	}
	t.Error("the date of the other course is not said")
}

func BenchmarkLong(b *testing.B) {
	all, err := measuredCourses()
	if err != nil {
		b.Fatal(err)
	}
	c := all["dug-well-after-rain"]
	b.Run("svg", func(b *testing.B) {
		for b.Loop() {
			canvas.SVG(section.Long(c, unit.US))
		}
	})
	b.Run("pdf", func(b *testing.B) {
		for b.Loop() {
			if _, err := canvas.PDF(time.Time{}, canvas.Letter, section.Long(c, unit.US)); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("png", func(b *testing.B) {
		for b.Loop() {
			if _, err := canvas.PNG(section.Long(c, unit.US), 2); err != nil {
				b.Fatal(err)
			}
		}
	})
}
