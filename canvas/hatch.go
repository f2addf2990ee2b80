package canvas

import "math"

// hatch is what an area is laid out with: a tile that is repeated from the upper
// left corner of the drawing on, white but for its marks.
type hatch struct {
	w, h  float64 // of the tile
	lines []Stroke
	pen   Pen
	dots  []Point
	dot   float64 // radius
}

func stroke(x1, y1, x2, y2 float64) Stroke { return Stroke{Point{x1, y1}, Point{x2, y2}} }

// hatches are the tiles by fill.
var hatches = map[Fill]hatch{
	Hatched:      {w: 5, h: 5, lines: []Stroke{stroke(0, 5, 5, 0)}, pen: Pen{Width: 0.6}},
	CrossHatched: {w: 5, h: 5, lines: []Stroke{stroke(0, 5, 5, 0), stroke(0, 0, 5, 5)}, pen: Pen{Width: 0.6}},
	Dotted:       {w: 4, h: 4, dots: []Point{{1, 1}, {3, 3}}, dot: 0.7},
	Ruled:        {w: 6, h: 4, lines: []Stroke{stroke(0, 2, 6, 2)}, pen: Pen{Width: 0.4}},
	Strewn:       {w: 14, h: 10, lines: []Stroke{stroke(1, 3, 6, 3), stroke(8, 8, 13, 8)}, pen: Pen{Width: 0.7, Grey: true}},
	Grained:      {w: 3, h: 3, dots: []Point{{0.8, 0.8}, {2.3, 2.3}}, dot: 0.45},
	Shaded:       {w: 8, h: 8, lines: []Stroke{stroke(0, 0, 8, 8)}, pen: Pen{Width: 0.5, Grey: true}},
}

// shifted is the stroke moved.
func (s Stroke) shifted(dx, dy float64) Stroke {
	return stroke(s.From.X+dx, s.From.Y+dy, s.To.X+dx, s.To.Y+dy)
}

// meets reports whether a stroke, with the width of its pen, reaches into the tile.
func (h hatch) meets(s Stroke) bool {
	w := h.pen.Width
	return math.Max(s.From.X, s.To.X) > -w && math.Min(s.From.X, s.To.X) < h.w+w &&
		math.Max(s.From.Y, s.To.Y) > -w && math.Min(s.From.Y, s.To.Y) < h.h+w
}

// over calls f with the corner of every tile that an area may need: column by
// column from its highest to its lowest edge there.
func (h hatch) over(area []Point, f func(x, y float64)) {
	from, to := math.Inf(1), math.Inf(-1)
	for _, p := range area {
		from, to = math.Min(from, p.X), math.Max(to, p.X)
	}
	for x := h.w * math.Floor(from/h.w); x <= to; x += h.w {
		top, bottom := reach(area, x, x+h.w)
		for y := h.h * math.Floor(top/h.h); y <= bottom; y += h.h {
			f(x, y)
		}
	}
}

// reach is from where to where the edges of an area run between two uprights.
func reach(area []Point, left, right float64) (top, bottom float64) {
	top, bottom = math.Inf(1), math.Inf(-1)
	for i, a := range area {
		b := area[(i+1)%len(area)]
		if a.X > b.X {
			a, b = b, a
		}
		if b.X < left || a.X > right {
			continue
		}
		for _, x := range []float64{math.Max(a.X, left), math.Min(b.X, right)} {
			y := a.Y
			if b.X > a.X {
				y += (b.Y - a.Y) * (x - a.X) / (b.X - a.X)
			}
			top, bottom = math.Min(top, math.Min(y, endOf(a, b, y))), math.Max(bottom, math.Max(y, endOf(a, b, y)))
		}
	}
	return top, bottom
}

// endOf is the other end of an upright edge, or y itself.
func endOf(a, b Point, y float64) float64 {
	if a.X == b.X {
		return b.Y
	}
	return y
}

// around is a circle as a closed path.
func (c circle) around() []Point {
	const steps = 32
	ps := make([]Point, steps)
	for i := range ps {
		a := 2 * math.Pi * float64(i) / steps
		ps[i] = Point{c.at.X + c.r*math.Cos(a), c.at.Y + c.r*math.Sin(a)}
	}
	return ps
}
