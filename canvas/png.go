package canvas

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"wellwright/asset"
)

// PNG draws a drawing as an image of the Portable Network Graphics format, in
// grey, so many times as large as its pixels: at 2 it prints at 192 dots to the
// inch. The same drawing is the same bytes.
func PNG(d *Drawing, times float64) ([]byte, error) {
	r := &raster{times: times, ink: image.NewRGBA(image.Rect(0, 0, int(math.Ceil(d.Width*times)), int(math.Ceil(d.Height*times)))), faces: map[face]font.Face{}}
	r.clip = r.ink.Bounds()
	draw.Draw(r.ink, r.clip, image.White, image.Point{}, draw.Src)
	if err := r.fonts(); err != nil {
		return nil, err
	}
	for _, i := range d.items {
		i.put(r)
	}
	if r.failed != nil {
		return nil, fmt.Errorf("write png: %w", r.failed)
	}
	grey := image.NewGray(r.ink.Bounds())
	draw.Draw(grey, grey.Bounds(), r.ink, image.Point{}, draw.Src)
	var b bytes.Buffer
	if err := png.Encode(&b, grey); err != nil {
		return nil, fmt.Errorf("write png: %w", err)
	}
	return b.Bytes(), nil
}

// raster is an image being drawn.
type raster struct {
	times  float64
	ink    *image.RGBA
	clip   image.Rectangle
	clips  []image.Rectangle // those around
	cuts   [2]*opentype.Font // regular and bold
	faces  map[face]font.Face
	failed error
}

// face is a cut of the typeface in a size.
type face struct {
	size float64
	bold bool
}

// fonts takes up the typeface; one that comes with the tools of drawing stands in
// where the program was built without.
func (r *raster) fonts() error {
	for i, s := range []struct {
		style asset.Style
		other []byte
	}{{asset.Regular, goregular.TTF}, {asset.Bold, gobold.TTF}} {
		ttf, ok := asset.Font(s.style)
		if !ok {
			ttf = s.other
		}
		f, err := opentype.Parse(ttf)
		if err != nil {
			return fmt.Errorf("read font: %w", err)
		}
		r.cuts[i] = f
	}
	return nil
}

var (
	inkBlack = image.NewUniform(color.Black)
	inkGrey  = image.NewUniform(color.Gray{Y: greyLevel})
	inkWhite = image.NewUniform(color.White)
)

// shade fills areas with one ink: all of them turn the same way, so that where they
// overlap nothing is taken out.
func (r *raster) shade(areas [][]Point, ink *image.Uniform) {
	mask, at := r.mask(areas)
	if mask != nil {
		draw.DrawMask(r.ink, at, ink, image.Point{}, mask, at.Min, draw.Over)
	}
}

// mask is the cover of areas, and the part of the image that it lies on.
func (r *raster) mask(areas [][]Point) (*image.Alpha, image.Rectangle) {
	box := r.bounds(areas)
	seen := box.Intersect(r.clip)
	if seen.Empty() {
		return nil, seen
	}
	v := vector.NewRasterizer(box.Dx(), box.Dy())
	for _, ps := range areas {
		for i, p := range turned(ps) {
			x, y := float32(p.X*r.times)-float32(box.Min.X), float32(p.Y*r.times)-float32(box.Min.Y)
			if i == 0 {
				v.MoveTo(x, y)
			} else {
				v.LineTo(x, y)
			}
		}
		v.ClosePath()
	}
	mask := image.NewAlpha(box)
	v.Draw(mask, box, image.Opaque, image.Point{})
	return mask, seen
}

// bounds are the pixels that areas lie on.
func (r *raster) bounds(areas [][]Point) image.Rectangle {
	low, high := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, ps := range areas {
		for _, p := range ps {
			low = Point{math.Min(low.X, p.X), math.Min(low.Y, p.Y)}
			high = Point{math.Max(high.X, p.X), math.Max(high.Y, p.Y)}
		}
	}
	if low.X > high.X {
		return image.Rectangle{}
	}
	return image.Rect(int(math.Floor(low.X*r.times)), int(math.Floor(low.Y*r.times)), int(math.Ceil(high.X*r.times))+1, int(math.Ceil(high.Y*r.times))+1)
}

// turned is an area with its corners in clockwise order.
func turned(ps []Point) []Point {
	sum := 0.0
	for i, a := range ps {
		b := ps[(i+1)%len(ps)]
		sum += a.X*b.Y - b.X*a.Y
	}
	if sum >= 0 {
		return ps
	}
	back := make([]Point, len(ps))
	for i, p := range ps {
		back[len(ps)-1-i] = p
	}
	return back
}

// line draws a line through points with a pen.
func (r *raster) line(ps []Point, p Pen) {
	if p.Width <= 0 {
		return
	}
	ink := inkBlack
	if p.Grey {
		ink = inkGrey
	}
	var areas [][]Point
	for _, run := range dashes(ps, p.Dash) {
		areas = append(areas, stretches(run, p.Width)...)
	}
	r.shade(areas, ink)
}

// stretches are the outlines of the stretches of a line, with a disc at each bend.
func stretches(ps []Point, width float64) [][]Point {
	var areas [][]Point
	for i := 1; i < len(ps); i++ {
		a, b := ps[i-1], ps[i]
		long := math.Hypot(b.X-a.X, b.Y-a.Y)
		if long == 0 {
			continue
		}
		dx, dy := (b.Y-a.Y)/long*width/2, (a.X-b.X)/long*width/2
		areas = append(areas, []Point{{a.X + dx, a.Y + dy}, {b.X + dx, b.Y + dy}, {b.X - dx, b.Y - dy}, {a.X - dx, a.Y - dy}})
		if i > 1 {
			areas = append(areas, circle{at: a, r: width / 2}.around())
		}
	}
	return areas
}

// dashes are the drawn parts of a line.
func dashes(ps []Point, dash []float64) [][]Point {
	if len(dash) == 0 {
		return [][]Point{ps}
	}
	var runs [][]Point
	part, left := 0, dash[0]
	now := []Point{ps[0]}
	for i := 1; i < len(ps); i++ {
		a, b := ps[i-1], ps[i]
		for long := math.Hypot(b.X-a.X, b.Y-a.Y); long > 0; long = math.Hypot(b.X-a.X, b.Y-a.Y) {
			if left >= long {
				left -= long
				now = append(now, b)
				break
			}
			a = Point{a.X + (b.X-a.X)*left/long, a.Y + (b.Y-a.Y)*left/long}
			if part%2 == 0 {
				runs = append(runs, append(now, a))
			}
			part++
			left, now = dash[part%len(dash)], []Point{a}
		}
	}
	if part%2 == 0 && len(now) > 1 {
		runs = append(runs, now)
	}
	return runs
}

func (r *raster) path(x path) {
	if len(x.points) < 2 {
		return
	}
	ps := x.points
	if x.closed {
		r.area(ps, x.fill)
		ps = append(append([]Point{}, ps...), ps[0], ps[1]) // on past the first corner: it is a bend too
		if len(x.pen.Dash) > 0 {
			ps = ps[:len(ps)-1]
		}
	}
	r.line(ps, x.pen)
}

func (r *raster) strokes(x strokes) {
	for _, l := range x.lines {
		r.line([]Point{l.From, l.To}, x.pen)
	}
}

func (r *raster) circle(c circle) {
	r.path(path{points: c.around(), closed: true, pen: c.pen, fill: c.fill})
}

// area lays an area out with a fill.
func (r *raster) area(ps []Point, f Fill) {
	switch f {
	case Open:
	case Black:
		r.shade([][]Point{ps}, inkBlack)
	default:
		r.shade([][]Point{ps}, inkWhite)
		if h, hatched := hatches[f]; hatched {
			r.hatched(ps, h)
		}
	}
}

// hatched draws the marks of a hatch over an area: each pixel is as dark as it is
// near a mark.
func (r *raster) hatched(ps []Point, h hatch) {
	mask, at := r.mask([][]Point{ps})
	if mask == nil {
		return
	}
	marks := h.around()
	for y := at.Min.Y; y < at.Max.Y; y++ {
		for x := at.Min.X; x < at.Max.X; x++ {
			covered := mask.AlphaAt(x, y).A
			if covered == 0 {
				continue
			}
			c := h.cover(marks, math.Mod((float64(x)+0.5)/r.times, h.w), math.Mod((float64(y)+0.5)/r.times, h.h), r.times)
			mask.SetAlpha(x, y, color.Alpha{A: uint8(c * float64(covered))})
		}
	}
	ink := inkBlack
	if h.pen.Grey {
		ink = inkGrey
	}
	draw.DrawMask(r.ink, at, ink, image.Point{}, mask, at.Min, draw.Over)
}

// around are the strokes of a tile with those that reach into it; a dot is a stroke
// of no length.
func (h hatch) around() []Stroke {
	var all []Stroke
	for _, dx := range []float64{-h.w, 0, h.w} {
		for _, dy := range []float64{-h.h, 0, h.h} {
			for _, l := range h.lines {
				all = append(all, l.shifted(dx, dy))
			}
			for _, d := range h.dots {
				all = append(all, Stroke{d, d}.shifted(dx, dy))
			}
		}
	}
	return all
}

// cover is how much of a pixel at a place of the tile the marks cover.
func (h hatch) cover(marks []Stroke, x, y, times float64) float64 {
	half := h.pen.Width / 2
	if len(h.dots) > 0 {
		half = h.dot
	}
	near := math.Inf(1)
	for _, m := range marks {
		near = math.Min(near, m.away(x, y))
	}
	return math.Max(0, math.Min(1, (half-near)*times+0.5))
}

// away is how far a place lies from a stroke.
func (s Stroke) away(x, y float64) float64 {
	dx, dy := s.To.X-s.From.X, s.To.Y-s.From.Y
	t := 0.0
	if long := dx*dx + dy*dy; long > 0 {
		t = math.Max(0, math.Min(1, ((x-s.From.X)*dx+(y-s.From.Y)*dy)/long))
	}
	return math.Hypot(x-s.From.X-t*dx, y-s.From.Y-t*dy)
}

func (r *raster) text(t text) {
	f, err := r.face(t.Lettering)
	if err != nil {
		r.failed = err
		return
	}
	d := font.Drawer{Dst: r.ink, Src: inkBlack, Face: f}
	x := t.at.X * r.times
	switch w := float64(d.MeasureString(t.words)) / 64; t.Anchor {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	d.Dot = fixed.Point26_6{X: fixed.Int26_6(x * 64), Y: fixed.Int26_6(t.at.Y * r.times * 64)}
	d.DrawString(t.words)
}

// face is the typeface in the cut and size of a lettering.
func (r *raster) face(l Lettering) (font.Face, error) {
	k := face{l.Size, l.Bold}
	if f, ok := r.faces[k]; ok {
		return f, nil
	}
	of := r.cuts[0]
	if l.Bold {
		of = r.cuts[1]
	}
	f, err := opentype.NewFace(of, &opentype.FaceOptions{Size: l.Size * r.times, DPI: 72})
	if err != nil {
		return nil, err
	}
	r.faces[k] = f
	return f, nil
}

func (r *raster) begin(g group) {
	r.clips = append(r.clips, r.clip)
	if g.clip != nil {
		r.clip = r.clip.Intersect(r.bounds([][]Point{{{g.clip.X, g.clip.Y}, {g.clip.X + g.clip.W, g.clip.Y + g.clip.H}}}))
	}
}

func (r *raster) end(group) {
	r.clip = r.clips[len(r.clips)-1]
	r.clips = r.clips[:len(r.clips)-1]
}
