// Package canvas is one drawing, kept as what stands where, and the writers that
// put it on paper. It draws in black, white and hatching: a sheet loses nothing
// in a copier.
package canvas

// Drawing is one picture. Its unit is a ninety-sixth of an inch, which is a pixel
// of a page; x runs to the right and y down from the upper left corner.
type Drawing struct {
	ID            string // begins the names inside, so that two drawings may stand on one page
	Width, Height float64
	Title         string // what the picture is, for a screen reader
	Desc          string // what it shows, in words that do without it
	items         []item
}

// Point is a place on the drawing.
type Point struct{ X, Y float64 }

// Box is an upright rectangle with its upper left corner at X and Y.
type Box struct{ X, Y, W, H float64 }

// Stroke is a straight line from one point to another.
type Stroke struct{ From, To Point }

// Pen draws a line. The zero Pen draws none.
type Pen struct {
	Width float64
	Grey  bool      // a line to read along, such as a grid
	Dash  []float64 // drawn and left out by turns; nil is drawn through
}

// Fill is what an area is laid out with.
type Fill int

// The fills. What lies under an open area stays to be seen; every other covers it.
const (
	Open Fill = iota
	White
	Black
	Hatched
	CrossHatched
	Dotted
	Ruled   // level lines, as water is drawn
	Strewn  // scattered dashes, as rock is drawn
	Grained // fine grains, as a bed is drawn
	Shaded  // wide hatching that leaves what is written on it legible
)

// Anchor says which part of a text stands at its point.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Lettering is how a text is written.
type Lettering struct {
	Size   float64
	Anchor Anchor
	Bold   bool
}

// item is one thing on the drawing, which puts itself on a paper.
type item interface{ put(paper) }

// paper is what a drawing is put on: one for each kind of file.
type paper interface {
	path(path)
	strokes(strokes)
	circle(circle)
	text(text)
	begin(group)
	end(group)
}

func (p path) put(on paper)    { on.path(p) }
func (l strokes) put(on paper) { on.strokes(l) }
func (c circle) put(on paper)  { on.circle(c) }
func (t text) put(on paper)    { on.text(t) }
func (g group) put(on paper) {
	on.begin(g)
	for _, i := range g.items {
		i.put(on)
	}
	on.end(g)
}

type path struct {
	points []Point
	closed bool
	pen    Pen
	fill   Fill
}

type strokes struct {
	lines []Stroke
	pen   Pen
}

type circle struct {
	at   Point
	r    float64
	pen  Pen
	fill Fill
}

type text struct {
	at    Point
	words string
	Lettering
}

type group struct {
	title, desc string
	clip        *Box
	items       []item
}

// Line draws a straight line.
func (d *Drawing) Line(from, to Point, p Pen) { d.Lines([]Stroke{{from, to}}, p) }

// Lines draws straight lines, such as the ticks of a scale, with one pen.
func (d *Drawing) Lines(lines []Stroke, p Pen) {
	if len(lines) > 0 {
		d.add(strokes{lines, p})
	}
}

// Polyline draws a line through points.
func (d *Drawing) Polyline(points []Point, p Pen) { d.add(path{points: points, pen: p}) }

// Polygon draws an area with its outline.
func (d *Drawing) Polygon(points []Point, p Pen, f Fill) {
	d.add(path{points: points, closed: true, pen: p, fill: f})
}

// Rect draws a rectangle.
func (d *Drawing) Rect(b Box, p Pen, f Fill) {
	d.Polygon([]Point{{b.X, b.Y}, {b.X + b.W, b.Y}, {b.X + b.W, b.Y + b.H}, {b.X, b.Y + b.H}}, p, f)
}

// Circle draws a circle.
func (d *Drawing) Circle(at Point, r float64, p Pen, f Fill) { d.add(circle{at, r, p, f}) }

// Text writes one line of text with its foot at the point.
func (d *Drawing) Text(at Point, words string, l Lettering) { d.add(text{at, words, l}) }

// Group draws things that belong together, with a name and a description of them.
func (d *Drawing) Group(title, desc string, draw func()) {
	d.nest(group{title: title, desc: desc}, draw)
}

// Clip draws only what lies within a box.
func (d *Drawing) Clip(b Box, draw func()) { d.nest(group{clip: &b}, draw) }

func (d *Drawing) nest(g group, draw func()) {
	outer := d.items
	d.items = nil
	draw()
	g.items = d.items
	d.items = append(outer, g)
}

func (d *Drawing) add(i item) { d.items = append(d.items, i) }
