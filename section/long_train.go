package section

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// train draws the house, the pipe through it and what stands on its floor.
func (p *longSheet) train() {
	p.houseOutline()
	p.footRule()
	for _, run := range p.pipeRuns() {
		p.Polyline(run, pipePen)
	}
	for _, c := range p.columns {
		p.Group(p.columnTitle(c), p.columnWords(c), func() { p.column(c) })
	}
	p.houseTaps()
}

// houseOutline hints at the house.
func (p *longSheet) houseOutline() {
	middle := (wallX + longRight) / 2
	p.Polyline([]canvas.Point{at(wallX, floorY), at(wallX, eavesY), at(middle, apexY), at(longRight, eavesY), at(longRight, floorY)}, thin)
	p.Line(at(wallX, floorY), at(longRight, floorY), canvas.Pen{Width: 2})
}

// footRule is the scale of the vessels, standing on the floor outside the wall: a
// tick for each foot, or each half metre.
func (p *longSheet) footRule() {
	step, each, name := 12.0, 1.0, "ft"
	if p.in.system == unit.Metric {
		step, each, name = unit.MM(500).Inches(), 0.5, "m"
	}
	n := math.Min(6, math.Floor(tallest/(step*p.house.inch)))
	x, top := wallX-7, floorY-n*step*p.house.inch
	ticks := []canvas.Stroke{{From: at(x, floorY), To: at(x, top)}}
	for i := 0.0; i <= n; i++ {
		y := floorY - i*step*p.house.inch
		ticks = append(ticks, canvas.Stroke{From: at(x-3, y), To: at(x, y)})
	}
	p.Lines(ticks, thin)
	p.Text(at(x-2, top-3), fmt.Sprintf("%g %s", n*each, name), middle(fine))
}

// high is the height of a vessel on the sheet.
func (p *longSheet) high(v plan.Vessel) float64 {
	if v.Height <= 0 {
		return 30
	}
	return v.Height * p.house.inch
}

// middles are the middles of the vessels of a stage.
func middles(c longColumn, v plan.Vessel) []float64 {
	n := v.Count * v.Series
	one := (2*c.half - vesselGap*float64(n-1)) / float64(n)
	ms := make([]float64, n)
	for i := range ms {
		ms[i] = c.middle - c.half + one/2 + float64(i)*(one+vesselGap)
	}
	return ms
}

// apart is how far the pipes into and out of a vessel stand off its middle.
func apartOf(c longColumn, v plan.Vessel) float64 {
	return math.Min(4, 0.4*c.half/float64(v.Count*v.Series))
}

// underMain is how far the pipe that gathers from vessels side by side runs below
// the main.
const underMain = 9.0

// pipeRuns are the stretches of pipe through the house: down into each vessel and
// up out of it again.
func (p *longSheet) pipeRuns() [][]canvas.Point {
	var runs [][]canvas.Point
	now := []canvas.Point{at(wallX+wallRoom/2, pipeY)}
	for _, c := range p.columns {
		if c.process == "" || !c.in(0) {
			continue
		}
		v := p.ways[0].Vessels[c.stage[0]]
		switch {
		case v.Form == plan.OpenForm:
			runs, now = p.throughOpen(c, v, runs, now)
		case v.Count > 1 && (v.Form == plan.BedForm || v.Form == plan.TankForm):
			runs, now = p.throughSide(c, v, runs, now)
		case v.Form == plan.BedForm || v.Form == plan.TankForm:
			runs, now = p.throughRow(c, v, runs, now)
		}
	}
	return append(runs, append(now, at(p.house.riser, pipeY), at(p.house.riser, pipeY-houseRise), at(p.house.heater, pipeY-houseRise)))
}

// throughRow leads the pipe through vessels one behind the other.
func (p *longSheet) throughRow(c longColumn, v plan.Vessel, runs [][]canvas.Point, now []canvas.Point) ([][]canvas.Point, []canvas.Point) {
	top, d := floorY-p.high(v), apartOf(c, v)
	for _, m := range middles(c, v) {
		runs = append(runs, append(now, at(m-d, pipeY), at(m-d, top)))
		now = []canvas.Point{at(m+d, top), at(m+d, pipeY)}
	}
	return runs, now
}

// throughSide leads it through vessels side by side, or rows of them: fed from the
// main, gathered below it.
func (p *longSheet) throughSide(c longColumn, v plan.Vessel, runs [][]canvas.Point, now []canvas.Point) ([][]canvas.Point, []canvas.Point) {
	top, d, low := floorY-p.high(v), apartOf(c, v), pipeY+underMain
	ms := middles(c, v)
	var ins, outs []float64
	for i, m := range ms {
		if i%v.Series == 0 {
			ins = append(ins, m-d)
		} else { // from the one ahead of it in its row
			runs = append(runs, []canvas.Point{at(ms[i-1]+d, top), at(ms[i-1]+d, top-5), at(m-d, top-5), at(m-d, top)})
		}
		if i%v.Series == v.Series-1 {
			outs = append(outs, m+d)
		}
	}
	last := len(ins) - 1
	for i := range last {
		runs = append(runs, []canvas.Point{at(ins[i], pipeY), at(ins[i], top)}, []canvas.Point{at(outs[i+1], low), at(outs[i+1], top)})
	}
	runs = append(runs, append(now, at(ins[last], pipeY), at(ins[last], top)))
	return runs, []canvas.Point{at(outs[0], top), at(outs[0], low), at(outs[last], low), at(outs[last], pipeY)}
}

// throughOpen lets it fall into an open tank, from which a pump takes it up again.
func (p *longSheet) throughOpen(c longColumn, v plan.Vessel, runs [][]canvas.Point, now []canvas.Point) ([][]canvas.Point, []canvas.Point) {
	top := floorY - p.high(v)
	in, pump := c.middle-c.half/2, c.middle+c.half+boosterRoom
	runs = append(runs, append(now, at(in, pipeY), at(in, top+3)))
	return runs, []canvas.Point{at(c.middle+c.half, floorY-6), at(pump, floorY-6), at(pump, pipeY)}
}

// boosterRoom is how far from its tank a booster pump stands.
const boosterRoom = 10.0

// column draws what stands in one column, with its words below the floor.
func (p *longSheet) column(c longColumn) {
	pen := steel
	if !c.in(0) {
		pen = otherPen
	}
	if c.process == "" {
		p.pressureTank(c)
	} else {
		p.stage(c, p.vesselOf(c), pen)
	}
	p.labels(c)
}

// pressureTank draws the tank beside the main: the water need not pass through it.
func (p *longSheet) pressureTank(c longColumn) {
	t := p.first().Tank
	h := t.Height * p.house.inch
	if t.Diameter <= 0 {
		p.Line(at(c.middle, pipeY), at(c.middle, pipeY+8), pipePen) // the switch alone
		p.Circle(at(c.middle, pipeY+12), 4, steel, canvas.White)
		return
	}
	p.Line(at(c.middle, pipeY), at(c.middle, floorY-h), pipePen)
	b := canvas.Box{X: c.middle - c.half, Y: floorY - h, W: 2 * c.half, H: h}
	p.Polygon(domed(b), steel, canvas.White)
	p.Clip(canvas.Box{X: b.X, Y: b.Y + b.H*0.55, W: b.W, H: b.H}, func() { p.Polygon(domed(b), steel, canvas.Ruled) })
	p.Line(at(b.X, b.Y+b.H*0.55), at(b.X+b.W, b.Y+b.H*0.55), thin)
}

// domed is an upright vessel with a round top.
func domed(b canvas.Box) []canvas.Point {
	rise := math.Min(b.W/4, b.H/3)
	ps := []canvas.Point{at(b.X, b.Y+b.H), at(b.X, b.Y+rise)}
	const steps = 14
	for i := 1; i < steps; i++ {
		a := math.Pi * float64(i) / steps
		ps = append(ps, at(b.X+b.W/2-b.W/2*math.Cos(a), b.Y+rise-rise*math.Sin(a)))
	}
	return append(ps, at(b.X+b.W, b.Y+rise), at(b.X+b.W, b.Y+b.H))
}

// stage draws the vessels of a stage.
func (p *longSheet) stage(c longColumn, v plan.Vessel, pen canvas.Pen) {
	switch v.Form {
	case plan.FeedForm:
		p.feed(c, pen)
		return
	case plan.HousingForm:
		p.housing(c, v, pen)
		return
	}
	h := p.high(v)
	ms := middles(c, v)
	one := (2*c.half - vesselGap*float64(len(ms)-1)) / float64(len(ms))
	for _, m := range ms {
		b := canvas.Box{X: m - one/2, Y: floorY - h, W: one, H: h}
		switch v.Form {
		case plan.BedForm:
			p.bed(b, v, pen)
		case plan.OpenForm:
			p.open(b, pen)
		default:
			p.Polygon(domed(b), pen, canvas.White)
		}
	}
	if v.Form == plan.OpenForm {
		p.Circle(at(c.middle+c.half+boosterRoom, floorY-6), 4.5, steel, canvas.White)
	}
	if v.Backwash != nil {
		p.washBars(c.middle+c.half+4, *v.Backwash)
	}
}

// bed draws a vessel in section: the bed as deep as it is, the room over it free.
func (p *longSheet) bed(b canvas.Box, v plan.Vessel, pen canvas.Pen) {
	p.Polygon(domed(b), pen, canvas.White)
	deep := math.Min(v.Bed*p.house.inch, b.H-4)
	p.Rect(canvas.Box{X: b.X + 1.2, Y: b.Y + b.H - 1 - deep, W: b.W - 2.4, H: deep}, hairInk, canvas.Grained)
}

// open draws a vented tank with its water.
func (p *longSheet) open(b canvas.Box, pen canvas.Pen) {
	p.Rect(b, pen, canvas.White)
	p.Rect(canvas.Box{X: b.X + 1, Y: b.Y + b.H*0.25, W: b.W - 2, H: b.H*0.75 - 1}, hairInk, canvas.Ruled)
	p.Polyline([]canvas.Point{at(b.X+b.W*0.8, b.Y), at(b.X+b.W*0.8, b.Y-7), at(b.X+b.W*0.8+4, b.Y-7)}, thin) // the vent
}

// feed draws a solution tank and its line to the main.
func (p *longSheet) feed(c longColumn, pen canvas.Pen) {
	p.Rect(canvas.Box{X: c.middle - 9, Y: floorY - 24, W: 18, H: 24}, pen, canvas.White)
	p.Rect(canvas.Box{X: c.middle - 9, Y: floorY - 15, W: 18, H: 15}, noPen, canvas.Shaded)
	p.Line(at(c.middle, floorY-24), at(c.middle, pipeY+5), canvas.Pen{Width: 0.9, Dash: []float64{3, 2}})
	p.Polygon([]canvas.Point{at(c.middle-3, pipeY+7), at(c.middle+3, pipeY+7), at(c.middle, pipeY+1)}, noPen, canvas.Black)
}

// housing draws a cartridge, lamp or membrane on the main.
func (p *longSheet) housing(c longColumn, v plan.Vessel, pen canvas.Pen) {
	if v.Height > 0 {
		p.Rect(canvas.Box{X: c.middle - c.half, Y: pipeY - 4, W: 2 * c.half, H: p.high(v) + 4}, pen, canvas.White)
		p.Rect(canvas.Box{X: c.middle - c.half/2, Y: pipeY + 4, W: c.half, H: math.Max(2, p.high(v)-8)}, hairInk, canvas.Ruled)
		return
	}
	p.Rect(canvas.Box{X: c.middle - 14, Y: pipeY - 5, W: 28, H: 10}, pen, canvas.White)
	p.Line(at(c.middle-11, pipeY), at(c.middle+11, pipeY), pen)
}

// washBars stand beside a bed: what its wash needs, black, and what is to be had,
// open. All bars of the sheet have one scale.
func (p *longSheet) washBars(x float64, b plan.Backwash) {
	need, have := b.Need*p.house.gpm, b.Have*p.house.gpm
	p.Rect(canvas.Box{X: x, Y: floorY - 1 - need, W: 4, H: need}, noPen, canvas.Black)
	p.Rect(canvas.Box{X: x + 6, Y: floorY - 1 - have, W: 4, H: have}, hairInk, canvas.White)
}

// labels writes the words of a column below the floor.
func (p *longSheet) labels(c longColumn) {
	end := c.x + c.w - 4
	x := math.Max(c.x+1, math.Min(c.middle-c.half-2, end-labelRoomUsual))
	for i, l := range fitted(p.labelLines(c), end-x, labelLinesMost) {
		p.Text(at(x, labelsY+9*float64(i)), l.words, l.lettering())
	}
}

// labelLinesMost is how many lines there is room for below the floor.
const labelLinesMost = 6

// fitted breaks the words of a column into lines. Where there are too many, what
// stands between the size and the last words is left out first, and then the end.
func fitted(ls []labelLine, room float64, most int) []labelLine {
	for {
		var out []labelLine
		for i, l := range ls {
			l.strong = l.strong || i == 0
			for _, words := range l.lettering().Lines(tied(l.words), room) {
				out = append(out, labelLine{words, l.strong})
			}
		}
		switch n := len(ls); {
		case len(out) <= most:
			return out
		case n <= 2:
			return out[:most]
		default:
			ls = append(append([]labelLine{}, ls[:n-2]...), ls[n-1])
		}
	}
}

// lettering is how a line of a label is written.
func (l labelLine) lettering() canvas.Lettering {
	if l.strong {
		return fineStrong
	}
	return fine
}

// labelRoomUsual is the room that the words below a vessel take where there is
// enough: they begin under it then.
const labelRoomUsual = 118.0

// labelLine is one line of the words below a vessel.
type labelLine struct {
	words  string
	strong bool
}

// columnTitle names a column.
func (p *longSheet) columnTitle(c longColumn) string {
	if c.process == "" {
		return "Pressure tank"
	}
	return capital(p.vesselOf(c).Words)
}

// columnWords tells a column.
func (p *longSheet) columnWords(c longColumn) string {
	var words []string
	for _, l := range p.labelLines(c) {
		words = append(words, l.words)
	}
	return strings.Join(words, "; ") + "."
}

// trainWords tells the order of what stands in the house.
func (p *longSheet) trainWords() string {
	return "In the order the water meets them: " + p.caption() + "."
}

// houseTaps draws the ends of the pipe.
func (p *longSheet) houseTaps() {
	y := pipeY - houseRise
	h := canvas.Box{X: p.house.heater - 9, Y: floorY - 42, W: 18, H: 42}
	p.Line(at(p.house.heater, y), at(p.house.heater, h.Y), thin)
	p.Polygon(domed(h), canvas.Pen{Width: 0.7, Dash: []float64{3, 2}}, canvas.White)
	p.Text(at(p.house.heater, labelsY), "heater", middle(fine))
	p.Text(at(p.house.kitchen, labelsY), "kitchen", middle(fine))
	if v, ok := kitchenUnit(p.first()); ok {
		p.Rect(canvas.Box{X: p.house.kitchen - 15, Y: y + 13, W: 9, H: 26}, steel, canvas.Ruled)
		p.Line(at(p.house.kitchen-10.5, y), at(p.house.kitchen-10.5, y+13), thin)
		for i, l := range fine.Lines("with "+strings.TrimPrefix(shortName(v), "kitchen "), 44) {
			p.Text(at(p.house.kitchen, labelsY+9*float64(i+1)), l, middle(fine))
		}
	}
}
