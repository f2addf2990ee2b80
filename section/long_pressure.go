package section

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
)

// pressure draws the pressure along the pipe: at rest, at house peak, and while
// each bed washes.
func (p *longSheet) pressure() {
	s := p.pressureScale()
	head := "Pressure, " + p.in.pressure.name
	p.Text(at(bandX-24, pressureTop-7), head, panelHead)
	p.Text(at(bandX-18+panelHead.Width(head), pressureTop-7), p.pressureNote(), fine)
	p.upright(s, bandX, longRight)
	for _, l := range p.first().Pressure {
		if l.Kind == plan.AtPeak {
			p.wedge(s, l)
		}
	}
	ends := p.endLabels(s)
	for _, l := range p.first().Pressure {
		points := p.linePoints(0, s, l)
		p.Polyline(points, linePens[l.Kind])
		if l.Kind == plan.Washing {
			end := points[len(points)-1]
			p.Circle(end, 1.8, thin, canvas.Black)
		}
	}
	for _, e := range ends {
		p.Text(e.at, e.words, fine)
	}
	if p.overlaid() {
		for _, l := range p.ways[1].Pressure {
			if l.Kind == plan.AtRest || l.Kind == plan.DirtyBed {
				p.Polyline(p.linePoints(1, s, l), otherPen)
			}
		}
	}
}

// pressureNote says which states the lines are of.
func (p *longSheet) pressureNote() string {
	for _, l := range p.first().Pressure {
		if l.Kind == plan.DirtyBed {
			return "along the pipe: at rest, at the house peak of " + p.in.flow.say(l.Flow) + ", while a bed washes; at the right what is left at the top fixture"
		}
	}
	return ""
}

// linePens are the pens of the pressure lines.
var linePens = map[plan.LineKind]canvas.Pen{
	plan.AtRest: {Width: 1.6}, plan.AtCutIn: {Width: 0.7}, plan.AtPeak: {Width: 0.9, Dash: []float64{7, 3}}, plan.DirtyBed: dashed, plan.Washing: dotted,
}

// pressureScale reaches from nothing to the highest cut-out.
//
// A line above the axis would be cut off; one that falls below nothing lies on it.
func (p *longSheet) pressureScale() longScale {
	axis := Axis{High: p.in.pressure.of(20)}
	for _, c := range p.ways {
		for _, l := range c.Pressure {
			axis = axis.reaching(p.in.pressure.of(l.Tank))
			for _, d := range l.Drops {
				axis = axis.reaching(p.in.pressure.of(d.Out))
			}
		}
	}
	return longScale{axis, pressureTop, pressureEnd}
}

// linePoints are the points of a pressure line: level between the stages, falling
// within each.
func (p *longSheet) linePoints(way int, s longScale, l plan.PressureLine) []canvas.Point {
	point := func(x, psi float64) canvas.Point { return at(x, s.y(p.in.pressure.of(psi))) }
	var ps []canvas.Point
	if l.From == none {
		ps = append(ps, point(p.columnOf(way, none).middle, l.Tank))
	}
	last := l.Tank
	for k, d := range l.Drops {
		if k < l.From || atKitchen(p.ways[way], k) {
			continue
		}
		c := p.columnOf(way, k)
		open := p.ways[way].Vessels[k].Form == plan.OpenForm
		if k > l.From {
			ps = append(ps, point(c.middle-c.half, d.In))
			if open {
				ps = append(ps, point(c.middle-c.half, 0), point(c.middle+c.half, 0))
			}
		}
		if l.Kind != plan.Washing || k < len(l.Drops)-1 {
			ps = append(ps, point(c.middle+c.half, d.Out))
		}
		last = d.Out
	}
	if l.Top != nil {
		ps = append(ps, point(p.house.riser, last), point(p.house.kitchen, *l.Top))
	}
	return ps
}

// wedge hatches what dirt in the beds takes: between the line of clean beds and
// that of beds due for their wash.
func (p *longSheet) wedge(s longScale, clean plan.PressureLine) {
	for _, l := range p.first().Pressure {
		if l.Kind != plan.DirtyBed {
			continue
		}
		points := p.linePoints(0, s, clean)
		back := p.linePoints(0, s, l)
		for i := len(back) - 1; i >= 0; i-- {
			points = append(points, back[i])
		}
		p.Polygon(points, noPen, canvas.Shaded)
	}
}

// placedText is a text and where it stands.
type placedText struct {
	at    canvas.Point
	words string
}

// endLabels name each line at its right end, kept apart.
func (p *longSheet) endLabels(s longScale) []placedText {
	var ls []placedText
	for _, l := range p.first().Pressure {
		if l.Top == nil {
			continue
		}
		if l.Kind == plan.AtPeak && p.in.pressure.figure(*l.Top) == p.in.pressure.figure(p.dirtyTop()) {
			continue // there is no dirt to tell of
		}
		words := map[plan.LineKind]string{plan.AtRest: "pump off", plan.AtCutIn: "pump on", plan.AtPeak: "peak, clean", plan.DirtyBed: "peak, dirty"}[l.Kind]
		ls = append(ls, placedText{at(p.house.kitchen+5, s.y(p.in.pressure.of(*l.Top))+2.8), words + " " + p.in.pressure.figure(*l.Top)})
	}
	spread(ls, 9, pressureTop+4, pressureEnd+4)
	for i := range ls {
		ls[i].words = fine.Fit(ls[i].words, longRight-ls[i].at.X)
	}
	return ls
}

// dirtyTop is what is left at the top fixture when the beds are due for their wash.
func (p *longSheet) dirtyTop() float64 {
	for _, l := range p.first().Pressure {
		if l.Kind == plan.DirtyBed && l.Top != nil {
			return *l.Top
		}
	}
	return math.NaN()
}

// spread moves texts apart, upwards or downwards, until each has its room between
// two heights. Their order is that of their heights.
func spread(ls []placedText, room, top, bottom float64) {
	rooms := make([]float64, len(ls))
	for i := range rooms {
		rooms[i] = room
	}
	spreadBy(ls, rooms, top, bottom)
}

// spreadBy is spread with a room for each text, from its own height down.
func spreadBy(ls []placedText, rooms []float64, top, bottom float64) {
	order := make([]int, len(ls))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(ls[a].at.Y, ls[b].at.Y) })
	free := top
	for _, i := range order {
		ls[i].at.Y = math.Max(ls[i].at.Y, free)
		free = ls[i].at.Y + rooms[i]
	}
	free = bottom
	for k := len(order) - 1; k >= 0; k-- {
		i := order[k]
		if k < len(order)-1 {
			ls[i].at.Y = math.Min(ls[i].at.Y, free-rooms[i])
		} else {
			ls[i].at.Y = math.Min(ls[i].at.Y, bottom-(rooms[i]-9))
		}
		free = ls[i].at.Y
	}
}

// pressureWords tells the lines.
func (p *longSheet) pressureWords() string {
	var b strings.Builder
	for _, l := range p.first().Pressure {
		fmt.Fprintf(&b, "%s. ", p.lineWords(0, l))
	}
	return strings.TrimSpace(b.String())
}

// lineWords tells one line.
func (p *longSheet) lineWords(way int, l plan.PressureLine) string {
	u := p.in.pressure
	switch {
	case l.Kind == plan.Washing && len(l.Drops) > 0:
		return fmt.Sprintf("While the %s washes at %s: %s at its inlet", p.ways[way].Vessels[l.Stage].Words, p.in.flow.say(l.Flow), u.say(l.Drops[len(l.Drops)-1].In))
	case l.Top != nil && l.Flow > 0:
		return fmt.Sprintf("%s at %s: %s at the tank, %s left at the top fixture", capital(string(l.Kind)), p.in.flow.say(l.Flow), u.say(l.Tank), u.say(*l.Top))
	case l.Top != nil:
		return fmt.Sprintf("%s: %s at the tank, %s at the top fixture", capital(string(l.Kind)), u.say(l.Tank), u.say(*l.Top))
	}
	return capital(string(l.Kind))
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
