package section

import (
	"math"

	"wellwright/canvas"
	"wellwright/plan"
)

// graph is a frame on a page in which one quantity stands against another.
type graph struct {
	*page
	box    canvas.Box
	x, y   Axis
	down   bool         // y grows downwards, as depth does
	taken  []canvas.Box // by letters
	xTicks []Tick       // nil: those of the axis
}

// newGraph begins a graph of a height at the page's place, with what its axes
// carry written over it and under it.
func (p *page) newGraph(height float64, x, y Axis) *graph {
	const left = 56
	g := &graph{page: p, x: x, y: y, box: canvas.Box{X: pictureLeft + left, Y: p.y + 16, W: pictureRoom - left - 10, H: height}}
	return g
}

// at is a place in the frame. What lies beyond an axis stands at its end.
func (g *graph) at(x, y float64) canvas.Point { return at(g.px(x), g.py(y)) }

func (g *graph) px(v float64) float64 { return g.box.X + g.box.W*g.x.At(v) }

func (g *graph) py(v float64) float64 {
	if g.down {
		return g.box.Y + g.box.H*g.y.At(v)
	}
	return g.box.Y + g.box.H*(1-g.y.At(v))
}

// right and foot are the ends of the frame.
func (g *graph) right() float64 { return g.box.X + g.box.W }
func (g *graph) foot() float64  { return g.box.Y + g.box.H }

// frame draws the grid with its figures; yName stands over it at the left, xName
// under it at the right, "" where another graph below carries it.
func (g *graph) frame(xName, yName string) {
	g.Text(at(pictureLeft, g.box.Y-7), yName, small)
	g.verticals(xName != "")
	free := math.Inf(1)
	var hairs []canvas.Stroke
	for _, t := range g.y.Ticks() {
		y := g.box.Y + g.box.H*(1-t.At)
		if g.down {
			y = g.box.Y + g.box.H*t.At
		}
		if t.Label == "" {
			continue
		}
		hairs = append(hairs, canvas.Stroke{From: at(g.box.X, y), To: at(g.right(), y)})
		if math.Abs(free-y) >= 10 || math.IsInf(free, 1) {
			g.Text(at(g.box.X-6, y+3), t.Label, atEnd(small))
			free = y
		}
	}
	g.Lines(hairs, hair)
	g.Rect(g.box, thin, canvas.Open)
	g.page.y = g.foot() + 8
	if xName != "" {
		g.Text(at(g.right(), g.foot()+26), xName, atEnd(small))
		g.page.y = g.foot() + 38
	}
}

// verticals draws the grid across, with figures under it or without.
func (g *graph) verticals(named bool) {
	ticks := g.xTicks
	if ticks == nil {
		ticks = g.x.Ticks()
	}
	var hairs, marks []canvas.Stroke
	free := math.Inf(-1)
	for _, t := range ticks {
		x, long := g.box.X+g.box.W*t.At, 2.0
		half := small.Width(t.Label) / 2
		if t.Label != "" && x-half > free {
			hairs = append(hairs, canvas.Stroke{From: at(x, g.box.Y), To: at(x, g.foot())})
			if named {
				g.Text(at(x, g.foot()+14), t.Label, middle(small))
			}
			free, long = x+half+leastGap, 4
		}
		marks = append(marks, canvas.Stroke{From: at(x, g.foot()), To: at(x, g.foot()+long)})
	}
	g.Lines(hairs, hair)
	if named {
		g.Lines(marks, thin)
	}
}

// within draws what lies in the frame, and of what lies beyond nothing.
func (g *graph) within(draw func()) {
	g.Clip(canvas.Box{X: g.box.X - 1, Y: g.box.Y - 1, W: g.box.W + 2, H: g.box.H + 2}, draw)
}

// spot is one place of a course: a range of y at an x, or of x at a y.
type spot struct {
	at float64
	plan.Range
}

// band draws a range of y along x as an area.
func (g *graph) band(spots []spot, f canvas.Fill) {
	if len(spots) < 2 {
		return
	}
	ring := make([]canvas.Point, 0, 2*len(spots))
	for _, s := range spots {
		ring = append(ring, g.at(s.at, s.P95))
	}
	for i := len(spots) - 1; i >= 0; i-- {
		ring = append(ring, g.at(spots[i].at, spots[i].P05))
	}
	g.Polygon(ring, hair, f)
}

// course draws the likeliest y along x.
func (g *graph) course(spots []spot, pen canvas.Pen) {
	points := make([]canvas.Point, len(spots))
	for i, s := range spots {
		points[i] = g.at(s.at, s.P50)
	}
	if len(points) > 1 {
		g.Polyline(points, pen)
	}
}

// level draws a line across the frame at a y.
func (g *graph) level(y float64, pen canvas.Pen) {
	g.Line(at(g.box.X, g.py(y)), at(g.right(), g.py(y)), pen)
}

// upright draws a line up the frame at an x.
func (g *graph) upright(x float64, pen canvas.Pen) {
	g.Line(at(g.px(x), g.box.Y), at(g.px(x), g.foot()), pen)
}

// letter writes a letter beside a place, where no other stands, in the frame.
func (g *graph) letter(c canvas.Point, word string) {
	const h = 11.0
	w := strong.Width(word)
	for _, far := range []float64{9, 16, 24, 33, 43, 54} {
		for _, dir := range []canvas.Point{{X: 1, Y: -0.8}, {X: 1, Y: 0.8}, {X: -1, Y: -0.8}, {X: -1, Y: 0.8}, {X: 0, Y: -1.2}, {X: 0, Y: 1.2}, {X: 1.3, Y: 0}, {X: -1.3, Y: 0}} {
			mid := at(c.X+far*dir.X, c.Y+far*dir.Y)
			b := canvas.Box{X: mid.X - w/2 - 1.5, Y: mid.Y - h/2, W: w + 3, H: h}
			if !g.holds(b) {
				continue
			}
			g.taken = append(g.taken, b)
			if far > 12 {
				g.Line(c, at(c.X+(far-6)*dir.X, c.Y+(far-6)*dir.Y), hair)
			}
			g.Rect(b, noPen, canvas.White)
			g.Text(at(mid.X, mid.Y+4), word, middle(strong))
			return
		}
	}
}

// holds reports whether a box lies in the frame and on nothing written.
func (g *graph) holds(b canvas.Box) bool {
	if b.X < g.box.X+2 || b.Y < g.box.Y+2 || b.X+b.W > g.right()-2 || b.Y+b.H > g.foot()-2 {
		return false
	}
	for _, o := range g.taken {
		if b.X < o.X+o.W && o.X < b.X+b.W && b.Y < o.Y+o.H && o.Y < b.Y+b.H {
			return false
		}
	}
	return true
}

// keep marks a place as taken, so that no letter is written on it.
func (g *graph) keep(c canvas.Point) {
	g.taken = append(g.taken, canvas.Box{X: c.X - 5, Y: c.Y - 5, W: 10, H: 10})
}

// upTo is an axis from zero to a round figure that holds the values.
func upTo(vs ...float64) Axis {
	a := Axis{Low: 0, High: 1}
	most := 0.0
	for _, v := range vs {
		most = math.Max(most, v)
	}
	if most > 0 {
		a.High = a.roundUp(most)
	}
	return a
}
