package canvas

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"wellwright/asset"
)

// Paper is a size of sheet.
type Paper int

// The papers.
const (
	Letter Paper = iota
	A4
)

// short and long sides of the papers, points: ANSI Y14.1 A, and ISO 216.
var paperSides = [...]struct{ short, long float64 }{Letter: {612, 792}, A4: {595.28, 841.89}}

// perPixel is points to a pixel of the drawing: 72 over 96.
const perPixel = 0.75

// FontNote says what a PDF or an image lacks where the program was built without
// its fonts; "" where it lacks nothing.
func FontNote() string {
	if _, ok := asset.Font(asset.Regular); ok {
		return ""
	}
	return "built without fonts (make assets): a plain typeface stands in, and signs such as ≤ are written out"
}

// PDF writes drawings as a file of the Portable Document Format, one on each page:
// vectors alone, no larger than drawn, and made smaller where the paper asks for it.
// Made is the date in it, so that the same drawings are the same bytes.
func PDF(made time.Time, on Paper, drawings ...*Drawing) ([]byte, error) {
	p := newPDF(made)
	for i, d := range drawings {
		if i == 0 {
			p.SetTitle(d.Title, true)
			p.SetSubject(d.Desc, true)
		}
		p.page(d, on)
	}
	var b bytes.Buffer
	if err := p.Output(&b); err != nil {
		return nil, fmt.Errorf("write pdf: %w", err)
	}
	return b.Bytes(), nil
}

// pdf is a PDF file being written.
type pdf struct {
	*fpdf.Fpdf
	family string
	plain  func(string) string // turns a text for a typeface of few signs; nil: it has all
	scale  float64             // points to a pixel
	left   float64             // of the drawing on the page
}

func newPDF(made time.Time) *pdf {
	p := &pdf{Fpdf: fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", SizeStr: "Letter"}), family: "sheet"}
	p.SetCreationDate(made)
	p.SetModificationDate(made)
	p.SetCatalogSort(true)
	p.SetProducer("wellwright", true)
	p.SetLang("en")
	p.SetMargins(0, 0, 0)
	p.SetAutoPageBreak(false, 0)
	regular, ok := asset.Font(asset.Regular)
	bold, both := asset.Font(asset.Bold)
	if !ok || !both {
		p.family = "Helvetica"
		toPage := p.UnicodeTranslatorFromDescriptor("")
		p.plain = func(s string) string { return toPage(writtenOut.Replace(s)) }
		return p
	}
	p.AddUTF8FontFromBytes(p.family, "", regular)
	p.AddUTF8FontFromBytes(p.family, "B", bold)
	return p
}

// writtenOut are the signs that a plain typeface lacks.
var writtenOut = strings.NewReplacer("≤", "<=", "≥", ">=")

// page begins a page for a drawing, lying or standing as the drawing does.
func (p *pdf) page(d *Drawing, on Paper) {
	sides := paperSides[on]
	w, h, lie := sides.short, sides.long, "P"
	if d.Width > d.Height {
		w, h, lie = h, w, "L"
	}
	p.AddPageFormat(lie, fpdf.SizeType{Wd: sides.short, Ht: sides.long})
	p.scale = min(perPixel, w/d.Width, h/d.Height)
	p.left = (w - d.Width*p.scale) / 2
	p.SetLineJoinStyle("round")
	for _, i := range d.items {
		i.put(p)
	}
}

// point is a place on the page.
func (p *pdf) point(at Point) fpdf.PointType {
	return fpdf.PointType{X: p.left + at.X*p.scale, Y: at.Y * p.scale}
}

func (p *pdf) points(ps []Point) []fpdf.PointType {
	out := make([]fpdf.PointType, len(ps))
	for i, at := range ps {
		out[i] = p.point(at)
	}
	return out
}

// pen takes up a pen; there is none to take up where it draws nothing.
func (p *pdf) pen(x Pen) bool {
	if x.Width <= 0 {
		return false
	}
	level := 0
	if x.Grey {
		level = greyLevel
	}
	p.SetDrawColor(level, level, level)
	p.SetLineWidth(x.Width * p.scale)
	p.SetLineCapStyle("butt")
	dash := make([]float64, len(x.Dash))
	for i, v := range x.Dash {
		dash[i] = v * p.scale
	}
	p.SetDashPattern(dash, 0)
	return true
}

// greyLevel is that of the grey pen, of 255.
const greyLevel = 0x99

// run draws a line through points.
func (p *pdf) run(ps []Point, closed bool) {
	for i, at := range p.points(ps) {
		if i == 0 {
			p.MoveTo(at.X, at.Y)
		} else {
			p.LineTo(at.X, at.Y)
		}
	}
	if closed {
		p.ClosePath()
	}
}

func (p *pdf) path(x path) {
	if len(x.points) < 2 {
		return
	}
	if x.closed {
		p.area(x.points, x.fill)
	}
	if p.pen(x.pen) {
		p.run(x.points, x.closed)
		p.DrawPath("D")
	}
}

func (p *pdf) strokes(x strokes) {
	if !p.pen(x.pen) {
		return
	}
	for _, l := range x.lines {
		p.run([]Point{l.From, l.To}, false)
	}
	p.DrawPath("D")
}

func (p *pdf) circle(c circle) {
	around := c.around()
	p.area(around, c.fill)
	if at := p.point(c.at); p.pen(c.pen) {
		p.Circle(at.X, at.Y, c.r*p.scale, "D")
	}
}

// area lays an area out with a fill.
func (p *pdf) area(ps []Point, f Fill) {
	if f == Open {
		return
	}
	level := 255
	if f == Black {
		level = 0
	}
	p.SetFillColor(level, level, level)
	p.run(ps, true)
	p.DrawPath("F")
	if h, hatched := hatches[f]; hatched {
		p.ClipPolygon(p.points(ps), false)
		p.tiles(ps, h)
		p.ClipEnd()
	}
}

// tiles draws the marks of a hatch over an area, all with one stroke of the pen: a
// dot is a line of no length with a round end.
func (p *pdf) tiles(ps []Point, h hatch) {
	x := h.pen
	if len(h.dots) > 0 {
		x = Pen{Width: 2 * h.dot}
	}
	if !p.pen(x) {
		return
	}
	p.SetLineCapStyle("round")
	marked := false
	h.over(ps, func(x, y float64) {
		marked = true
		for _, l := range h.lines {
			l = l.shifted(x, y)
			p.run([]Point{l.From, l.To}, false)
		}
		for _, d := range h.dots {
			at := Point{d.X + x, d.Y + y}
			p.run([]Point{at, at}, false)
		}
	})
	if marked {
		p.DrawPath("D")
	}
}

func (p *pdf) text(t text) {
	style := ""
	if t.Bold {
		style = "B"
	}
	p.SetFont(p.family, style, t.Size*p.scale)
	p.SetTextColor(0, 0, 0)
	words := t.words
	if p.plain != nil {
		words = p.plain(words)
	}
	at, w := p.point(t.at), p.GetStringWidth(words)
	switch t.Anchor {
	case Middle:
		at.X -= w / 2
	case End:
		at.X -= w
	}
	p.Text(at.X, at.Y, words)
}

func (p *pdf) begin(g group) {
	if g.clip != nil {
		at := p.point(Point{g.clip.X, g.clip.Y})
		p.ClipRect(at.X, at.Y, g.clip.W*p.scale, g.clip.H*p.scale, false)
	}
}

func (p *pdf) end(g group) {
	if g.clip != nil {
		p.ClipEnd()
	}
}
