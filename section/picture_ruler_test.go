package section_test

import (
	"math"
	"strings"
	"testing"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/section"
	"wellwright/unit"
)

// ruler reads values off a scale of a picture: two of its labels and their places.
type ruler struct {
	from, to   float64 // places
	low, high  float64 // values
	logarithms bool
}

func (r ruler) at(place float64) float64 {
	f := (place - r.from) / (r.to - r.from)
	if r.logarithms {
		return r.low * math.Pow(r.high/r.low, f)
	}
	return r.low + (r.high-r.low)*f
}

// label is the place of the only text with those words that stands so.
func label(t *testing.T, es []element, words, anchor, place string) float64 {
	t.Helper()
	found := math.NaN()
	for _, e := range es {
		if e.name == "text" && e.text == words && e.attr["text-anchor"] == anchor && math.IsNaN(found) {
			found = e.number(t, place)
		}
	}
	if math.IsNaN(found) {
		t.Fatalf("no label %q", words)
	}
	return found
}

// shapes are the elements of a kind in a group.
func shapes(es []element, kind, group string) []element {
	var found []element
	for _, e := range es {
		if e.name == kind && strings.Contains(e.group, group) {
			found = append(found, e)
		}
	}
	return found
}

// edges are the least and greatest x of an element.
func edges(t *testing.T, e element) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range pointsOf(t, e) {
		low, high = math.Min(low, p.X), math.Max(high, p.X)
	}
	return low, high
}

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: the ruler reads %g, want %g", what, got, want)
	}
}

// The bar of the first cost of 5,000 runs from 4,167 to 6,000 dollars by the
// printed scale.
func TestCostsByTheRuler(t *testing.T) {
	es := drawn(t, section.Costs(costAnswer()))
	r := ruler{from: label(t, es, "0", "middle", "x"), to: label(t, es, "10,000", "middle", "x"), low: 0, high: 10000}
	bars := shapes(es, "polygon", "Option 1")
	low, high := edges(t, bars[1]) // behind the white ground of the name
	within(t, "first cost, 5 %", r.at(low), 5000/1.2, 100)
	within(t, "first cost, 95 %", r.at(high), 5000*1.2, 100)
	mark := bars[len(bars)-1]
	low, high = edges(t, mark)
	within(t, "expected cost", r.at((low+high)/2), 12000, 100)
}

// A limit of which 62 % is used up has a bar to 62 % of the printed scale; a longer
// share has a longer bar.
func TestLanesByTheRuler(t *testing.T) {
	last := 0.0
	for _, used := range []float64{0.11, 0.35, 0.62, 0.99, 1.2, 1.45} {
		es := drawn(t, section.Lanes(lanesOf(used), unit.US))
		r := ruler{from: label(t, es, "0 %", "middle", "x"), to: label(t, es, "100 %", "middle", "x"), low: 0, high: 1}
		_, end := edges(t, shapes(es, "polygon", "limit 0")[0])
		within(t, "used up", r.at(end), used, 0.01)
		if end <= last {
			t.Errorf("%g used ends at %g, not beyond %g", used, end, last)
		}
		last = end
	}
}

// Iron with the half-life of 4.13 min that Singer & Stumm's law gives at pH 7, 25 °C
// and 0.21 atm (USGS WRIR 99-4259, eq. 159, worked apart in the reference tables)
// is drawn at half its height at 4.13 min, by the printed scales.
func TestIronByTheRuler(t *testing.T) {
	const start, half = 4.0, 4.13
	es := drawn(t, section.IronTime(ironOf(start, half, 1.4), unit.US))
	time := ruler{from: label(t, es, "1 s", "middle", "x"), to: label(t, es, "10 min", "middle", "x"), low: 1.0 / 60, high: 10, logarithms: true}
	iron := ruler{from: label(t, es, "0", "end", "y") - 3, to: label(t, es, "4", "end", "y") - 3, low: 0, high: 4}
	for _, e := range es {
		if e.name != "polyline" || e.attr["stroke-width"] != "2.00" || e.attr["stroke-dasharray"] != "" {
			continue
		}
		ps := pointsOf(t, e)
		for i := 1; i < len(ps); i++ {
			a, b := iron.at(ps[i-1].Y), iron.at(ps[i].Y)
			if b > a+1e-6 {
				t.Errorf("the line rises from %g to %g mg/L", a, b)
			}
			if a >= start/2 && b < start/2 {
				x := ps[i-1].X + (ps[i].X-ps[i-1].X)*(a-start/2)/(a-b)
				within(t, "half-life, min", time.at(x), half, 0.01*half*2) // 1 % of the printed decade
				return
			}
		}
	}
	t.Error("no line of the iron with air comes down to half")
}

// More iron is a higher and a wider band.
func TestMoreIronIsAWiderBand(t *testing.T) {
	last := 0.0
	for _, mgL := range []float64{2.2, 4.5, 7} { // on one axis, to 10 mg/L
		x := ironOf(mgL, 30, 1.4)
		x.Wanted = 9.9
		band := shapes(drawn(t, section.IronTime(x, unit.US)), "polygon", "With air")[0]
		ps := pointsOf(t, band)
		if tall := ps[len(ps)-1].Y - ps[0].Y; tall <= last {
			t.Errorf("the band of %g mg/L is %g tall, that of less %g", mgL, tall, last)
		} else {
			last = tall
		}
	}
}

// The pump of 8 gpm at 45 psi gives 8 √(45/40) at 40 psi, and the mark of cut-in
// stands there by the printed scales, in both systems.
func TestPumpByTheRuler(t *testing.T) {
	for _, tt := range []struct {
		s             unit.System
		x, y          string
		flow, psi     float64
		wantQ, wantAt float64
	}{
		{unit.US, "10", "60", 10, 60, 8 * math.Sqrt(45.0/40), 40},
		{unit.Metric, "40", "400", 40, 400, unit.GPM(8 * math.Sqrt(45.0/40)).LPerMin(), unit.PSI(40).KPa()},
	} {
		es := drawn(t, section.Pump(pumpOf(8, 40, 140), tt.s))
		flow := ruler{from: label(t, es, "0", "middle", "x"), to: label(t, es, tt.x, "middle", "x"), low: 0, high: tt.flow}
		psi := ruler{from: label(t, es, "0", "end", "y") - 3, to: label(t, es, tt.y, "end", "y") - 3, low: 0, high: tt.psi}
		mark := shapes(es, "circle", "pump at cut-in")[0]
		within(t, "flow at cut-in", flow.at(mark.number(t, "cx")), tt.wantQ, 0.01*tt.flow)
		within(t, "pressure at cut-in", psi.at(mark.number(t, "cy")), tt.wantAt, 0.01*tt.psi)
	}
}

// A level that falls 4 ft a minute from 44 ft stands at 84 ft after ten minutes, by
// the printed scale, and the intake at 140.
func TestWashByTheRuler(t *testing.T) {
	es := drawn(t, section.Wash(washOf(9, 44, 140, 4), unit.US))
	level := ruler{low: 50, high: 100}
	for _, e := range es { // the lowest graph is drawn last
		if e.name == "text" && e.attr["text-anchor"] == "end" && e.text == "50" {
			level.from = e.number(t, "y")
		}
		if e.name == "text" && e.attr["text-anchor"] == "end" && e.text == "100" {
			level.to = e.number(t, "y")
		}
	}
	lines := shapes(es, "polyline", "Level in the casing")
	ps := pointsOf(t, lines[0])
	within(t, "level at the end", level.at(ps[len(ps)-1].Y+3), 84, 0.5)
	within(t, "level at the beginning", level.at(ps[0].Y+3), 44, 0.5)
}

// The descriptions say in words what the pictures show.
func TestSmallPicturesInWords(t *testing.T) {
	missing := pumpOf(8, 0, 0)
	for name, tt := range map[string]struct {
		d    *canvas.Drawing
		want []string
	}{
		"costs": {section.Costs(costAnswer()), []string{"Option 1, manganese-dioxide-coated sand filter, softener: first $5,000, $4,200–6,000; yearly $400, $310–520; ten years $8,400, $7,000–10,000; expected over ten years $12,000; too close to call with option 2.", "too close to call with options 1 and 3"}},
		"lanes": {section.Lanes(lanesOf(1.2, 0.5), unit.US), []string{"limit 0: broken; has 12, needs ≤ 10 mg/L; 120 % of it used up, from 96 % to 156 %; not kept in 40 of 100 plausible waters; the first limit to fail.", "limit 1: kept; has 5, needs ≤ 10 mg/L"}},
		"iron":  {section.IronTime(ironOf(4, 30, 1), unit.US), []string{"ferrous iron 4 mg/L", "half of the ferrous iron is gone after 30 min", "With chlorine (3 mg/L as Cl2), half of the ferrous iron is gone after 18 s", "Contact tank: 12 min at peak flow", "Singer & Stumm 1970"}},
		"pump":  {section.Pump(pumpOf(8, 40, 140), unit.US), []string{"A pump at cut-in: 8.5 gpm (7.4–9.8) at 40 psi.", "filter, filter backwash: asks 16 gpm at 30 psi, has 8 gpm (7.3–8.8): not met: the pump gives too little.", "static level 40 ft, intake 140 ft below ground"}},
		"well":  {section.Pump(missing, unit.US), []string{"The water over the intake is not known: casing, static level or intake is not on record"}},
		"wash":  {section.Wash(washOf(9, 44, 140, 4), unit.Metric), []string{"filter backwash, 34 L/min for 10 min at 210 kPa or more", "2 vessels are washed one after the other; the first is drawn.", "given to the end in 70 of 100 plausible waters"}},
		"level": {section.Wash(washOf(9, 0, 0, 0), unit.US), []string{"The level is not known: casing, static level or intake is not on record"}},
	} {
		for _, want := range tt.want {
			if !strings.Contains(tt.d.Desc, want) {
				t.Errorf("%s: the description does not say %q:\n%s", name, want, tt.d.Desc)
			}
		}
	}
}

// Options are joined where every two of them are tied: 1 with 2 and 2 with 3 are
// two sets, not one (definition of a clique).
func TestTiedSets(t *testing.T) {
	got := section.TiedSets(section.CostRows(costAnswer()))
	if len(got) != 2 || len(got[0]) != 2 || got[0][0] != 1 || got[0][1] != 2 || got[1][0] != 2 || got[1][1] != 3 {
		t.Errorf("tied sets %v, want [[1 2] [2 3]]", got)
	}
}

// The tables tell what the pictures draw: a row for every bar, limit, duty and
// minute, no cell of a missing thing left to be guessed.
func TestTablesHoldThePictures(t *testing.T) {
	for name, tt := range map[string]struct {
		table section.Table
		rows  int
		want  string
	}{
		"costs": {section.CostTable(costAnswer()), 3, "$5,000 (4,200–6,000)"},
		"lanes": {section.LaneTable(lanesOf(0.5, 1.2), unit.US), 3, "50 %"},
		"iron":  {section.IronTable(ironOf(4, 30, 1), unit.US), 16, "2 "},
		"pump":  {section.PumpTable(pumpOf(8, 40, 140), unit.US), 11, "8.5 gpm"},
		"wash":  {section.WashTable(washOf(9, 0, 0, 0), unit.US), 11, "not known"},
	} {
		said := ""
		for _, r := range tt.table.Rows {
			said += strings.Join(r, " | ") + "\n"
		}
		if len(tt.table.Rows) != tt.rows || !strings.Contains(said, tt.want) {
			t.Errorf("%s: %d rows, want %d with %q:\n%s", name, len(tt.table.Rows), tt.rows, tt.want, tt.table.Text())
		}
		for _, l := range strings.Split(tt.table.Text(), "\n") {
			if len([]rune(l)) > 96 {
				t.Errorf("%s: a line of the text is too wide for a sheet: %q", name, l)
			}
		}
		for _, r := range tt.table.Rows {
			if len(r) != len(tt.table.Head) {
				t.Errorf("%s: %d cells under %d heads: %v", name, len(r), len(tt.table.Head), r)
			}
		}
	}
}

// BenchmarkSmallPictures draws and writes each.
func BenchmarkSmallPictures(b *testing.B) {
	a, l, x, v, w := costAnswer(), lanesOf(0.5, 1.2, 0.9, 0.3), ironOf(4, 30, 1.5), pumpOf(8, 40, 140), washOf(9, 44, 140, 4)
	for name, draw := range map[string]func() *canvas.Drawing{
		"costs": func() *canvas.Drawing { return section.Costs(a) }, "lanes": func() *canvas.Drawing { return section.Lanes(l, unit.US) },
		"strips": func() *canvas.Drawing { return section.LaneStrips([]plan.Lanes{l, l, l}, unit.US) },
		"iron":   func() *canvas.Drawing { return section.IronTime(x, unit.US) }, "pump": func() *canvas.Drawing { return section.Pump(v, unit.US) },
		"wash": func() *canvas.Drawing { return section.Wash(w, unit.US) },
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				canvas.SVG(draw())
			}
		})
	}
}
