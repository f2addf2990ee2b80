package section

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/stage"
)

// strip draws pH and, where there is any, free chlorine along the pipe.
func (p *longSheet) strip() {
	s := longScale{p.acidAxis(), acidTop, acidEnd}
	p.Text(at(bandX-24, acidTop-6), "pH", panelHead)
	p.upright(s, bandX, p.house.heater+6)
	for way := range p.ways {
		pen := canvas.Pen{Width: 1.4}
		if way > 0 {
			pen = otherPen
		}
		p.Polyline(p.trace(way, s, func(t plan.Trace) float64 { return t.PH }), pen)
	}
	p.acidMarks(s)
	if c, ok := p.chlorineScale(); ok {
		p.chlorine(c)
	}
}

// acidMarks draws the forecast bracket of pH at each tap of the first course, and
// what was read on site.
func (p *longSheet) acidMarks(s longScale) {
	for _, t := range p.first().Taps {
		f, ok := t.Figure("ph")
		if !ok || p.kitchenToo(0, t.Tap) {
			continue
		}
		x := p.tapX(0, t.Tap)
		p.bracketAt(s, x, f.Forecast, 0)
		for _, r := range f.Readings {
			if r.Kind == "field" && s.axis.Holds(r.Value) {
				p.readAt(at(x, s.y(r.Value)), r)
			}
		}
	}
}

// trace is the line of a figure along the pipe.
func (p *longSheet) trace(way int, s longScale, of func(plan.Trace) float64) []canvas.Point {
	var points []canvas.Point
	for _, x := range p.profile(way) {
		points = append(points, at(x.x, s.y(of(x.Trace))))
	}
	return points
}

// acidAxis holds every pH of the courses, between whole figures.
func (p *longSheet) acidAxis() Axis {
	axis := Axis{Low: 6, High: 8}
	for way := range p.ways {
		for _, x := range p.profile(way) {
			axis.Low, axis.High = math.Min(axis.Low, math.Floor(x.PH)), math.Max(axis.High, math.Ceil(x.PH))
		}
	}
	return axis
}

// chlorineScale holds every free residual behind a feed; not ok where there is none.
func (p *longSheet) chlorineScale() (s longScale, ok bool) {
	high := 0.0
	for way := range p.ways {
		for _, x := range p.profile(way) {
			high = most(high, x.Chlorine)
		}
	}
	return longScale{Axis{High: 0.5}.reaching(high), acidTop, acidEnd}, high > 0
}

// chlorine draws the free residual with its scale on the right. At a feed it leaps
// to the dose, beyond the strip.
func (p *longSheet) chlorine(s longScale) {
	words := "and free chlorine, mg/L (dashed, scale at the right)"
	p.Text(at(bandX-24+panelHead.Width("pH")+6, acidTop-6), words, fine)
	x := p.house.heater + 8
	var ticks []canvas.Stroke
	every := s.every()
	for i, t := range s.axis.Ticks() {
		y := s.bottom - (s.bottom-s.top)*t.At
		ticks = append(ticks, canvas.Stroke{From: at(x, y), To: at(x+3, y)})
		if i%every == 0 {
			p.Text(at(x+5, y+2.8), t.Label, fine)
		}
	}
	p.Lines(append(ticks, canvas.Stroke{From: at(x, s.top), To: at(x, s.bottom)}), thin)
	for way := range p.ways {
		pen := canvas.Pen{Width: 1.2, Dash: []float64{4, 2.5}}
		if way > 0 {
			pen = canvas.Pen{Width: 0.8, Dash: []float64{1.5, 2}}
		}
		p.Clip(canvas.Box{X: bandX, Y: s.top, W: longRight - bandX, H: s.bottom - s.top + 1}, func() {
			p.Polyline(p.residual(way, s), pen)
		})
	}
}

// residual is the line of free chlorine: at a feed straight up by the dose, then
// down to what is left where the next thing stands.
func (p *longSheet) residual(way int, s longScale) []canvas.Point {
	y := func(v float64) float64 { return s.bottom - v*s.perUnit() }
	var points []canvas.Point
	for _, b := range p.ways[way].Band {
		from, to := bandX, wellheadX
		if b.Stage != none {
			from, to = p.reach(way, b.Stage)
		}
		for i, t := range b.Points {
			points = append(points, at(from+(to-from)*t.Share, y(t.Chlorine)))
			if dose := p.fed(way, b.Stage); i == 0 && dose > 0 {
				points = append(points, at(from, y(t.Chlorine+dose)))
			}
		}
	}
	last := points[len(points)-1]
	return append(points, at(p.house.kitchen, last.Y))
}

// fed is the chlorine that a stage doses.
func (p *longSheet) fed(way, k int) float64 {
	if k == none || p.ways[way].Vessels[k].Process != "chlorine-feed" {
		return 0
	}
	return p.ways[way].Vessels[k].Settings[stage.DoseMgL]
}

// stripWords tells pH and free chlorine at the taps.
func (p *longSheet) stripWords() string {
	var words []string
	for _, t := range p.first().Taps {
		ph, _ := t.Figure("ph")
		free, _ := t.Figure("free_chlorine_mg_l")
		say := fmt.Sprintf("%s pH %.1f", t.Tap, ph.Forecast.P50)
		if free.Forecast.P50 > 0 {
			say += ", free chlorine " + label3(free.Forecast.P50) + " mg/L"
		}
		words = append(words, say)
	}
	return strings.Join(words, "; ") + "."
}
