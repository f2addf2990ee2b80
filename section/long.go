package section

import (
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// The sheet of a long section: letter, landscape. What stands on it, from the top
// and from the left.
const (
	longWidth  = 1056.0
	longHeight = 816.0
	longLeft   = 30.0
	longRight  = 1026.0

	pressureTop = 62.0
	pressureEnd = 150.0
	apexY       = 162.0
	eavesY      = 180.0
	pipeY       = 234.0
	floorY      = 338.0 // and the ground
	labelsY     = 350.0
	wellEnd     = 594.0
	stripsTop   = 414.0 // of the iron band and all below it
	tableTop    = 620.0
	blockTop    = 764.0
	blockEnd    = 800.0
	houseRise   = 16.0 // of the pipe up to the kitchen

	wellAxisX = 50.0
	boreX     = 80.0
	wellheadX = 224.0
	bandX     = 212.0
	wallX     = 250.0
)

// The lettering and pens of the long section.
var (
	fine       = canvas.Lettering{Size: 8}
	fineStrong = canvas.Lettering{Size: 8, Bold: true}
	panelHead  = canvas.Lettering{Size: 10, Bold: true}
	pipePen    = canvas.Pen{Width: 2.4}
	steel      = canvas.Pen{Width: 1.2}
	guidePen   = canvas.Pen{Width: 0.5, Grey: true, Dash: []float64{1.5, 3}}
	otherPen   = canvas.Pen{Width: 0.8, Dash: []float64{5, 2.5}} // of what is laid over
	dashed     = canvas.Pen{Width: 1.4, Dash: []float64{7, 3}}
	dotted     = canvas.Pen{Width: 1.4, Dash: []float64{1.4, 2.6}}
)

// Long draws the way of the water through a train, after an engineer's long
// section: the well to scale, the vessels to scale to one another, the pressure
// above, the iron below as thick as the water is rich, the taps with what is
// forecast and what was read.
func Long(c plan.Course, s unit.System) *canvas.Drawing {
	return longSection(s, "Long section of "+wellName(c.Well), c)
}

// Overlay draws a second course over the first with thin broken lines: the same
// well at another date, or with another train.
func Overlay(c, other plan.Course, s unit.System) *canvas.Drawing {
	return longSection(s, "Two long sections of "+wellName(c.Well), c, other)
}

// longSheet is a long section being drawn.
type longSheet struct {
	*canvas.Drawing
	in      longUnits
	ways    []plan.Course // the first, and the one laid over it
	columns []longColumn
	house   longHouse
	iron    longScale
}

func longSection(s unit.System, title string, ways ...plan.Course) *canvas.Drawing {
	p := &longSheet{in: unitsOf(s), ways: ways}
	p.Drawing = &canvas.Drawing{ID: "long", Width: longWidth, Height: longHeight, Title: title, Desc: p.words()}
	p.layOut()
	p.heading()
	p.Group("Key", "", p.key)
	p.Group("Pressure, "+p.in.pressure.name, p.pressureWords(), p.pressure)
	p.Group("The well", p.wellWords(), p.well)
	p.Group("The house and the train", p.trainWords(), p.train)
	p.Group("Iron, mg/L", p.ironWords(), p.band)
	p.Group("pH and free chlorine", p.stripWords(), p.strip)
	p.Group("Taps: forecast and readings", "", p.figures)
	p.Group("First limit to fail", p.flagWords(), p.flag)
	p.block()
	return p.Drawing
}

// overlaid reports whether a second course is drawn over the first.
func (p *longSheet) overlaid() bool { return len(p.ways) > 1 }

// first is the course that is drawn in full.
func (p *longSheet) first() plan.Course { return p.ways[0] }

// heading names the well and the train.
func (p *longSheet) heading() {
	name, l := wellName(p.first().Well), big
	if l.Width(name) > headRoom {
		l.Size = 12
	}
	name = l.Fit(name, headRoom)
	p.Text(at(longLeft, 36), name, l)
	x := longLeft + l.Width(name) + 14
	p.Text(at(x, 36), body.Fit(p.caption(), longRight-x), body)
	p.Line(at(longLeft, 44), at(longRight, 44), steel)
}

// headRoom is the room of the well's name; a long one is written smaller.
const headRoom = 480.0

// caption says what is drawn.
func (p *longSheet) caption() string {
	if !p.overlaid() {
		return trainName(p.first())
	}
	a, b := p.first(), p.ways[1]
	if trainName(a) == trainName(b) {
		return trainName(a) + ", as of " + a.AsOf + "; broken lines as of " + b.AsOf
	}
	return trainName(a) + "; broken lines: " + trainName(b)
}

// trainName is the train in words.
func trainName(c plan.Course) string {
	if len(c.Vessels) == 0 {
		return "the well as it is, no treatment"
	}
	words := make([]string, len(c.Vessels))
	for i, v := range c.Vessels {
		words[i] = shortName(v)
	}
	return strings.Join(words, ", ")
}

// longScale is a linear scale standing upright on the sheet.
type longScale struct {
	axis        Axis
	top, bottom float64
}

// y is where a value stands.
func (s longScale) y(v float64) float64 { return s.bottom - (s.bottom-s.top)*s.axis.At(v) }

// every is how many ticks come to one label, so that no two meet.
func (s longScale) every() int {
	ts := s.axis.Ticks()
	if len(ts) < 2 {
		return 1
	}
	return int(math.Ceil(labelRoom / math.Abs((ts[1].At-ts[0].At)*(s.bottom-s.top))))
}

// labelRoom is the least height between two labels of a scale.
const labelRoom = 9.0

// perUnit is how far one unit reaches on the sheet.
func (s longScale) perUnit() float64 { return (s.bottom - s.top) / (s.axis.High - s.axis.Low) }

// upright draws a scale with its ticks to the left of x, and hairs to the right as
// far as `to`.
func (p *longSheet) upright(s longScale, x, to float64) {
	p.Line(at(x, s.top), at(x, s.bottom), thin)
	var ticks, hairs []canvas.Stroke
	every := s.every()
	for i, t := range s.axis.Ticks() {
		y := s.bottom - (s.bottom-s.top)*t.At
		ticks = append(ticks, canvas.Stroke{From: at(x-3, y), To: at(x, y)})
		hairs = append(hairs, canvas.Stroke{From: at(x, y), To: at(to, y)})
		if i%every == 0 {
			p.Text(at(x-5, y+2.8), t.Label, atEnd(fine))
		}
	}
	if to > x {
		p.Lines(hairs, hair)
	}
	p.Lines(ticks, thin)
}

// most is the greatest of values.
func most(vs ...float64) float64 {
	m := 0.0
	for _, v := range vs {
		m = math.Max(m, v)
	}
	return m
}
