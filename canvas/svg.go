package canvas

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// faces are asked for in this order; the widths of texts are reckoned with the
// widest, see widths.
const faces = "'Source Sans 3', 'Liberation Sans', Helvetica, Arial, 'DejaVu Sans', sans-serif"

const (
	ink  = "#000"
	grey = "#999"
)

// svg collects an SVG file.
type svg struct {
	b     strings.Builder
	id    string
	used  []Fill
	clips int
}

// SVG writes a drawing as a file of Scalable Vector Graphics that stands alone:
// no script, nothing from elsewhere, and the same bytes for the same drawing. Its
// title and description are read out by a screen reader in the picture's place.
func SVG(d *Drawing) []byte {
	s := &svg{id: d.ID}
	if s.id == "" {
		s.id = "drawing"
	}
	for _, i := range d.items {
		i.put(s)
	}
	body := s.b.String()
	s.b.Reset()
	s.printf(`<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %s %s" role="img" aria-labelledby="%s-title" aria-describedby="%s-desc" font-family="%s" fill="%s" stroke-linejoin="round">`,
		number(d.Width), number(d.Height), number(d.Width), number(d.Height), s.id, s.id, faces, ink)
	s.printf("\n<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", s.id, escaped(d.Title), s.id, escaped(d.Desc))
	s.patterns()
	s.printf("<rect width=\"%s\" height=\"%s\" fill=\"#fff\"/>\n", number(d.Width), number(d.Height))
	s.b.WriteString(body)
	s.printf("</svg>\n")
	return []byte(s.b.String())
}

func (s *svg) printf(format string, args ...any) { fmt.Fprintf(&s.b, format, args...) }

// patterns declares the hatches that the drawing uses.
func (s *svg) patterns() {
	if len(s.used) == 0 {
		return
	}
	slices.Sort(s.used)
	s.printf("<defs>\n")
	for _, f := range s.used {
		h := hatches[f]
		tile := fmt.Sprintf(`width="%s" height="%s"`, number(h.w), number(h.h))
		s.printf("<pattern id=\"%s\" %s patternUnits=\"userSpaceOnUse\"><rect %s fill=\"#fff\"/>", s.pattern(f), tile, tile)
		s.marks(h)
		s.printf("</pattern>\n")
	}
	s.printf("</defs>\n")
}

// marks draws what is on a tile: also what reaches into it from the tiles around,
// which a pattern cuts off.
func (s *svg) marks(h hatch) {
	var here []Stroke
	for _, l := range h.lines {
		for _, dx := range []float64{-h.w, 0, h.w} {
			for _, dy := range []float64{-h.h, 0, h.h} {
				if m := l.shifted(dx, dy); h.meets(m) {
					here = append(here, m)
				}
			}
		}
	}
	if len(here) > 0 {
		s.strokes(strokes{here, h.pen})
	}
	for _, d := range h.dots {
		s.circle(circle{at: d, r: h.dot, fill: Black})
	}
}

func (s *svg) pattern(f Fill) string { return fmt.Sprintf("%s-fill%d", s.id, f) }

// filled is the attribute for a fill.
func (s *svg) filled(f Fill) string {
	paint := "none"
	switch f {
	case Open:
	case White:
		paint = "#fff"
	case Black:
		paint = ink
	default:
		if !slices.Contains(s.used, f) {
			s.used = append(s.used, f)
		}
		paint = "url(#" + s.pattern(f) + ")"
	}
	return ` fill="` + paint + `"`
}

// stroked is the attributes for a pen.
func stroked(p Pen) string {
	if p.Width <= 0 {
		return ""
	}
	colour := ink
	if p.Grey {
		colour = grey
	}
	out := fmt.Sprintf(` stroke="%s" stroke-width="%s"`, colour, number(p.Width))
	if len(p.Dash) > 0 {
		parts := make([]string, len(p.Dash))
		for i, v := range p.Dash {
			parts[i] = number(v)
		}
		out += ` stroke-dasharray="` + strings.Join(parts, " ") + `"`
	}
	return out
}

func (s *svg) path(p path) {
	parts := make([]string, len(p.points))
	for i, at := range p.points {
		parts[i] = number(at.X) + "," + number(at.Y)
	}
	name := "polyline"
	if p.closed {
		name = "polygon"
	}
	s.printf("<%s points=\"%s\"%s%s/>\n", name, strings.Join(parts, " "), s.filled(p.fill), stroked(p.pen))
}

func (s *svg) strokes(l strokes) {
	s.printf("<path d=\"")
	for _, x := range l.lines {
		s.printf("M%s,%sL%s,%s", number(x.From.X), number(x.From.Y), number(x.To.X), number(x.To.Y))
	}
	s.printf("\"%s/>\n", stroked(l.pen))
}

func (s *svg) circle(c circle) {
	s.printf("<circle cx=\"%s\" cy=\"%s\" r=\"%s\"%s%s/>\n", number(c.at.X), number(c.at.Y), number(c.r), s.filled(c.fill), stroked(c.pen))
}

var anchors = [...]string{Start: "start", Middle: "middle", End: "end"}

func (s *svg) text(t text) {
	more := ""
	if t.Bold {
		more += ` font-weight="bold"`
	}
	s.printf("<text x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"%s\"%s>%s</text>\n", number(t.at.X), number(t.at.Y), number(t.Size), anchors[t.Anchor], more, escaped(t.words))
}

func (s *svg) begin(g group) {
	clip := ""
	if g.clip != nil {
		s.clips++
		name := fmt.Sprintf("%s-clip%d", s.id, s.clips)
		s.printf("<clipPath id=\"%s\"><rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/></clipPath>\n", name, number(g.clip.X), number(g.clip.Y), number(g.clip.W), number(g.clip.H))
		clip = ` clip-path="url(#` + name + `)"`
	}
	s.printf("<g%s>\n", clip)
	if g.title != "" {
		s.printf("<title>%s</title>\n", escaped(g.title))
	}
	if g.desc != "" {
		s.printf("<desc>%s</desc>\n", escaped(g.desc))
	}
}

func (s *svg) end(group) { s.printf("</g>\n") }

// number writes a coordinate with two digits after the point, never as a
// negative zero. A value that is no number is a broken drawing.
func number(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		panic("canvas: a coordinate is no number")
	}
	if text := fmt.Sprintf("%.2f", v); text != "-0.00" {
		return text
	}
	return "0.00"
}

// escaped writes text for a file of XML; characters that such a file cannot hold
// are left out.
func escaped(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r < ' ' || r == 0x7f || r == 0xfffd || r == 0xfffe || r == 0xffff:
			return -1
		}
		return r
	}, text)
	return entities.Replace(text)
}

var entities = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")
