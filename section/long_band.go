package section

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
)

// along is one point of a profile: where it stands on the sheet and the water
// there.
type along struct {
	x float64
	plan.Trace
}

// profile is the water of a course along the sheet, from the well to the kitchen.
func (p *longSheet) profile(way int) []along {
	c := p.ways[way]
	var ps []along
	for _, s := range c.Band {
		from, to := bandX, bandX
		if s.Stage != none {
			from, to = p.reach(way, s.Stage)
		}
		for _, t := range s.Points {
			x := from + (to-from)*t.Share
			if s.Stage == none && t.Share == 1 {
				x = wellheadX
			}
			ps = append(ps, along{x, t})
		}
	}
	last := ps[len(ps)-1]
	last.x = p.house.kitchen
	return append(ps, last)
}

// reach is from where to where on the sheet a stage acts: across its vessel; a
// feed from its point to whatever stands behind it, or to the tap behind the
// pressure tank.
func (p *longSheet) reach(way, k int) (from, to float64) {
	c, vs := p.columnOf(way, k), p.ways[way].Vessels
	if vs[k].Form != plan.FeedForm {
		return c.middle - c.half, c.middle + c.half
	}
	to = p.house.riser
	if k+1 < len(vs) {
		next := p.columnOf(way, k+1)
		to = next.middle - next.half
	}
	if vs[k].AheadOfTank {
		if tap := p.tapX(way, "T1"); to > tap || k+1 == len(vs) {
			to = tap
		}
	}
	return c.middle, to
}

// layers are the forms of iron from the base of the band upwards.
var layers = []struct {
	name string
	fill canvas.Fill
	of   func(plan.Trace) float64
}{
	{"particulate", canvas.Dotted, func(t plan.Trace) float64 { return t.Particulate }},
	{"bound", canvas.CrossHatched, func(t plan.Trace) float64 { return t.Bound }},
	{"ferrous, dissolved", canvas.Hatched, func(t plan.Trace) float64 { return t.Ferrous }},
}

// The rooms of the strips below the house.
const (
	bandTop  = stripsTop + 6
	bandEnd  = stripsTop + 84
	closeTop = stripsTop + 100
	closeEnd = stripsTop + 138
	acidTop  = stripsTop + 156
	acidEnd  = stripsTop + 190
)

// band draws the iron: as thick as the water is rich, by form, and below it the
// same on a larger scale where it has become too thin to see.
func (p *longSheet) band() {
	p.iron = longScale{p.ironAxis(), bandTop, bandEnd}
	s, times, larger := p.closer()
	if !larger {
		p.iron.bottom = closeEnd
	}
	p.Text(at(bandX-24, bandTop-8), "Iron, mg/L", panelHead)
	p.Text(at(bandX-24+panelHead.Width("Iron, mg/L")+6, bandTop-8), p.bandNote(), fine)
	p.ironStrip(p.iron)
	if larger {
		p.Text(at(bandX+6, closeTop-5), fmt.Sprintf("the same, %s times as tall", label(times)), fine)
		p.Clip(canvas.Box{X: bandX, Y: s.top, W: longRight - bandX, H: s.bottom - s.top + 3}, func() { p.ironLayers(s) })
		p.torn(s)
		p.ironMarks(s, true)
		p.upright(s, bandX, bandX)
		p.Line(at(bandX, s.bottom), at(longRight, s.bottom), plain)
		p.limitLine(s)
	}
	p.living()
}

// bandNote says how the band is read, and whether it lives.
func (p *longSheet) bandNote() string {
	words := "as thick as the water is rich; bars: nine forecasts in ten"
	if b := p.first().Bacteria; b >= livingAt {
		words += fmt.Sprintf("; iron bacteria live in it, %.0f chances in 100", 100*b)
	}
	return words
}

// livingAt is the chance of iron bacteria from which the band is marked as living:
// likelier than not.
const livingAt = 0.5

// living marks the raw water in which iron bacteria are likely with their threads:
// how much of the iron is theirs nobody measures.
func (p *longSheet) living() {
	if p.first().Bacteria < livingAt {
		return
	}
	end := p.house.riser
	for k := range p.first().Vessels {
		from, _ := p.reach(0, k)
		end = min(end, from)
	}
	y := p.iron.bottom - 7
	for x := bandX + 10; x < end-14; x += 24 {
		var thread []canvas.Point
		for i := range 9 {
			thread = append(thread, at(x+float64(i)*1.5, y+2*math.Sin(float64(i)*math.Pi/4)))
		}
		p.Rect(canvas.Box{X: x - 2, Y: y - 3.5, W: 16, H: 7}, noPen, canvas.White)
		p.Polyline(thread, canvas.Pen{Width: 1.1})
	}
}

// torn marks where the band goes on above the larger scale.
func (p *longSheet) torn(s longScale) {
	first, last := math.Inf(1), math.Inf(-1)
	for _, x := range p.profile(0) {
		if x.Total() > s.axis.High {
			first, last = min(first, x.x), max(last, x.x)
		}
	}
	var edge []canvas.Point
	for i := 0; first+float64(i)*6 <= last; i++ {
		edge = append(edge, at(first+float64(i)*6, s.top+2-4*float64(i%2)))
	}
	if len(edge) > 1 {
		p.Polyline(edge, thin)
	}
}

// ironStrip draws the band on its scale with everything that belongs to it.
func (p *longSheet) ironStrip(s longScale) {
	p.ironLayers(s)
	p.upright(s, bandX, bandX)
	p.Line(at(bandX, s.bottom), at(longRight, s.bottom), plain)
	p.ironMarks(s, false)
	p.limitLine(s)
}

// ironLayers draws the forms of the first course as areas, and the outline of the
// other.
func (p *longSheet) ironLayers(s longScale) {
	ps := p.profile(0)
	base := make([]float64, len(ps))
	for _, l := range layers {
		top := make([]float64, len(ps))
		some := false
		for i, x := range ps {
			v := l.of(x.Trace)
			top[i], some = base[i]+v, some || v > 0
		}
		if some {
			p.Polygon(ribbon(s, ps, base, top), thin, l.fill)
		}
		base = top
	}
	if p.overlaid() {
		p.otherBand(s)
	}
}

// ribbon is the area between two profiles. What is beyond the scale goes on beyond
// it, and whoever draws clips it.
func ribbon(s longScale, ps []along, low, high []float64) []canvas.Point {
	y := func(v float64) float64 { return s.bottom - (v-s.axis.Low)*s.perUnit() }
	var out []canvas.Point
	for i := range ps {
		out = append(out, at(ps[i].x, y(high[i])))
	}
	for i := len(ps) - 1; i >= 0; i-- {
		out = append(out, at(ps[i].x, y(low[i])))
	}
	return out
}

// otherBand is the outline of all iron and of the ferrous share of the course laid
// over, in broken lines.
func (p *longSheet) otherBand(s longScale) {
	var all, solid []canvas.Point
	for _, x := range p.profile(1) {
		all = append(all, at(x.x, s.bottom-x.Total()*s.perUnit()))
		solid = append(solid, at(x.x, s.bottom-(x.Particulate+x.Bound)*s.perUnit()))
	}
	p.Polyline(all, canvas.Pen{Width: 1.6, Dash: otherPen.Dash})
	p.Polyline(solid, otherPen)
}

// ironAxis reaches from nothing to the most that is forecast or was read.
func (p *longSheet) ironAxis() Axis {
	axis := Axis{High: 0.5}
	for way, c := range p.ways {
		for _, x := range p.profile(way) {
			axis = axis.reaching(x.Total())
		}
		for _, t := range c.Taps {
			if f, ok := t.Figure("iron_total_mg_l"); ok {
				axis = axis.reaching(f.Forecast.P95)
				for _, r := range f.Readings {
					axis = axis.reaching(r.Value)
				}
			}
		}
	}
	return axis
}

// thinAt is the share of the band's scale below which iron is drawn larger beneath.
const thinAt = 0.2

// closer is the larger scale: for what is left at the kitchen and for the limit.
func (p *longSheet) closer() (s longScale, times float64, ok bool) {
	axis := Axis{High: 0.1}.reaching(1.6 * p.first().IronLimit)
	for _, c := range p.ways {
		for _, t := range c.Taps {
			if f, has := t.Figure("iron_total_mg_l"); has && t.Tap == "K" {
				axis = axis.reaching(f.Forecast.P95)
			}
		}
	}
	s = longScale{axis, closeTop, closeEnd}
	times = s.perUnit() / p.iron.perUnit()
	return s, times, axis.High < thinAt*p.iron.axis.High
}

// ironMarks draws the forecast bracket at each tap and what was read there. On the
// larger scale only what lies on it is drawn.
func (p *longSheet) ironMarks(s longScale, larger bool) {
	for way, c := range p.ways {
		for _, t := range c.Taps {
			f, ok := t.Figure("iron_total_mg_l")
			if !ok || p.kitchenToo(way, t.Tap) || larger && f.Forecast.P50 > s.axis.High {
				continue
			}
			x := p.tapX(way, t.Tap) + 5*float64(way)
			p.bracketAt(s, x, f.Forecast, way)
			for _, r := range f.Readings {
				if r.Value <= s.axis.High {
					p.readAt(at(x, s.y(r.Value)), r)
				}
			}
		}
	}
}

// bracketAt draws a forecast from its fifth to its ninety-fifth percentile.
func (p *longSheet) bracketAt(s longScale, x float64, f plan.Range, way int) {
	top, foot, w := s.y(f.P95), s.y(f.P05), 3.0
	pen := plain
	if way > 0 {
		pen = canvas.Pen{Width: 0.7, Dash: []float64{2, 1.5}}
	}
	p.Rect(canvas.Box{X: x - 1.6, Y: top, W: 3.2, H: foot - top}, noPen, canvas.White)
	p.Lines([]canvas.Stroke{{From: at(x, top), To: at(x, foot)}, {From: at(x-w, top), To: at(x+w, top)}, {From: at(x-w, foot), To: at(x+w, foot)}}, pen)
	p.Line(at(x-w, s.y(f.P50)), at(x+w, s.y(f.P50)), heavy)
}

// readAt marks a reading: a circle on site, a square by a laboratory; black where
// it lies outside the forecast.
func (p *longSheet) readAt(c canvas.Point, r plan.TapReading) {
	const n = 2.6
	fill := canvas.White
	if r.Outside {
		fill = canvas.Black
	}
	switch r.Sign {
	case "<":
		p.Line(at(c.X, c.Y+n), at(c.X, c.Y+n+5), plain)
	case ">":
		p.Line(at(c.X, c.Y-n), at(c.X, c.Y-n-5), plain)
	}
	if r.Kind == "laboratory" {
		p.Rect(canvas.Box{X: c.X - n, Y: c.Y - n, W: 2 * n, H: 2 * n}, plain, fill)
		return
	}
	p.Circle(c, n, plain, fill)
}

var limitPen = canvas.Pen{Width: 0.9, Dash: []float64{5, 3}}

// limitLine draws the most iron that is wanted at the tap.
func (p *longSheet) limitLine(s longScale) {
	limit := p.first().IronLimit
	if limit <= 0 || limit > s.axis.High {
		return
	}
	y := s.y(limit)
	p.Line(at(p.house.riser, y), at(p.house.heater+6, y), limitPen)
	p.Text(at(p.house.heater+8, min(y+2.8, s.bottom-2)), fine.Fit("≤ "+label3(limit), longRight-p.house.heater-8), fine)
}

// ironWords tells the band.
func (p *longSheet) ironWords() string {
	var words []string
	for _, t := range p.first().Taps {
		f, ok := t.Figure("iron_total_mg_l")
		if !ok {
			continue
		}
		words = append(words, fmt.Sprintf("%s %s, from %s to %s", t.Tap, label3(f.Forecast.P50), label3(f.Forecast.P05), label3(f.Forecast.P95)))
	}
	return "Total iron forecast in mg/L: " + strings.Join(words, "; ") + "."
}
