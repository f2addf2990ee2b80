package canvas_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"wellwright/canvas"
)

// sample draws one of everything.
func sample() *canvas.Drawing {
	d := &canvas.Drawing{ID: "s", Width: 200, Height: 100, Title: `Iron & "rust"`, Desc: "less <than> more\x00\x07"}
	d.Line(canvas.Point{X: 1, Y: 2}, canvas.Point{X: -0.001, Y: 4}, canvas.Pen{Width: 1, Grey: true, Dash: []float64{2, 3}})
	d.Group("a group", "what is in it", func() {
		d.Clip(canvas.Box{X: 10, Y: 10, W: 50, H: 20}, func() {
			d.Rect(canvas.Box{X: 12, Y: 12, W: 1.0 / 3, H: 5}, canvas.Pen{Width: 0.5}, canvas.Hatched)
			d.Rect(canvas.Box{X: 12, Y: 12, W: 5, H: 5}, canvas.Pen{}, canvas.Dotted)
		})
		d.Circle(canvas.Point{X: 30, Y: 30}, 4, canvas.Pen{Width: 1}, canvas.White)
	})
	d.Polygon([]canvas.Point{{X: 1, Y: 1}, {X: 2, Y: 1}, {X: 2, Y: 2}}, canvas.Pen{}, canvas.Black)
	d.Text(canvas.Point{X: 100, Y: 50}, "<0.05 µg", canvas.Lettering{Size: 10, Anchor: canvas.Middle, Bold: true})
	return d
}

// element is one element of a file of XML.
type element struct {
	name string
	attr map[string]string
	text string
}

// elements reads a file of XML whole; it fails where the file is not well formed.
func elements(t *testing.T, text []byte) []element {
	t.Helper()
	var out []element
	var open []int
	d := xml.NewDecoder(bytes.NewReader(text))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("not well formed: %v\n%s", err, text)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			e := element{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			open = append(open, len(out))
			out = append(out, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].text += string(x)
			}
		}
	}
}

// What an SVG file must be (SVG 2, W3C 2018; WAI-ARIA Graphics Module, W3C 2018):
// well formed, named and described, of role img, with every reference answered
// inside itself.
func TestSVGIsWellFormed(t *testing.T) {
	text := canvas.SVG(sample())
	es := elements(t, text)
	root := es[0]
	if root.name != "svg" || root.attr["role"] != "img" || root.attr["viewBox"] != "0 0 200.00 100.00" {
		t.Errorf("root is %v", root)
	}
	ids, said := map[string]bool{}, map[string]string{}
	for _, e := range es {
		if id := e.attr["id"]; id != "" {
			if ids[id] || !strings.HasPrefix(id, "s-") {
				t.Errorf("identifier %q stands twice or lacks the drawing's own beginning", id)
			}
			ids[id] = true
		}
		if said[e.name] == "" {
			said[e.name] = e.text
		}
		if e.name == "script" || e.attr["href"] != "" {
			t.Errorf("%s runs or fetches something", e.name)
		}
	}
	for _, attr := range []string{"aria-labelledby", "aria-describedby"} {
		if id := root.attr[attr]; !ids[id] {
			t.Errorf("%s is %q, which is not there", attr, id)
		}
	}
	if said["title"] != `Iron & "rust"` || said["desc"] != "less <than> more" {
		t.Errorf("title %q and description %q are not what was given", said["title"], said["desc"])
	}
	for _, e := range es {
		for _, a := range e.attr {
			if ref, ok := strings.CutPrefix(a, "url(#"); ok && !ids[strings.TrimSuffix(ref, ")")] {
				t.Errorf("%s refers to %s, which is not there", e.name, a)
			}
		}
	}
}

// The same drawing is the same file, with numbers of fixed digits.
func TestSVGIsSteady(t *testing.T) {
	one, two := canvas.SVG(sample()), canvas.SVG(sample())
	if !bytes.Equal(one, two) {
		t.Error("two writings of one drawing differ")
	}
	for _, want := range []string{"12.33,12.00", `d="M1.00,2.00L0.00,4.00"`, `points="1.00,1.00 2.00,1.00 2.00,2.00"`, `stroke-dasharray="2.00 3.00"`, "&lt;0.05 µg"} {
		if !bytes.Contains(one, []byte(want)) {
			t.Errorf("%q is not in\n%s", want, one)
		}
	}
	if bytes.Contains(one, []byte("-fill4")) {
		t.Error("a hatch that is not used is declared")
	}
}

// A coordinate that is no number is not drawn in silence.
func TestNoNumberIsRefused(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a drawing with a NaN was written")
		}
	}()
	d := &canvas.Drawing{}
	d.Circle(canvas.Point{X: math.NaN()}, 1, canvas.Pen{}, canvas.Black)
	canvas.SVG(d)
}

// Widths against the font they are of: in DejaVu Sans 2.37 a digit is 1303 and
// an m 1995 of 2048 units wide (from memory of its metrics).
func TestWidths(t *testing.T) {
	for _, tt := range []struct {
		words string
		want  float64
	}{{"0", 10 * 1303.0 / 2048}, {"mm", 20 * 1995.0 / 2048}, {"", 0}} {
		if got := (canvas.Lettering{Size: 10}).Width(tt.words); math.Abs(got-tt.want) > 0.01 {
			t.Errorf("%q is %g wide at 10, want %g", tt.words, got, tt.want)
		}
	}
}

// Whatever the text and the room: what is fitted fits, and lines lose no word.
func TestFitAndLines(t *testing.T) {
	l := canvas.Lettering{Size: 12}
	long := strings.TrimSpace(strings.Repeat("Upper Quernstone Hollow ", 8))
	for room := 20.0; room < 400; room += 7 {
		if s := l.Fit(long, room); l.Width(s) > room {
			t.Errorf("%q does not fit %g", s, room)
		}
		lines := l.Lines(long, room)
		for _, s := range lines {
			if l.Width(s) > room {
				t.Errorf("line %q does not fit %g", s, room)
			}
		}
		if room > 100 && strings.Join(lines, " ") != long {
			t.Errorf("lines of %g lose words: %q", room, lines)
		}
	}
	if got := l.Fit("short", 1000); got != "short" {
		t.Errorf("a text that fits was made %q", got)
	}
	if got := l.Lines("  ", 100); got != nil {
		t.Errorf("no words make the lines %q", got)
	}
}
