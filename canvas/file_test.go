package canvas_test

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"wellwright/canvas"
)

var made = time.Date(2025, 5, 31, 0, 0, 0, 0, time.UTC)

// everything draws with every pen and fill, and writes what no plain typeface has.
func everything() *canvas.Drawing {
	d := sample()
	for f := canvas.Open; f <= canvas.Shaded; f++ {
		x := 10 + 12*float64(f)
		d.Polygon([]canvas.Point{{X: x, Y: 60}, {X: x + 10, Y: 60}, {X: x + 10, Y: 90}, {X: x, Y: 80}}, canvas.Pen{Width: 0.5}, f)
	}
	d.Polyline([]canvas.Point{{X: 150, Y: 10}, {X: 190, Y: 20}, {X: 150, Y: 30}}, canvas.Pen{Width: 2, Dash: []float64{3, 2}})
	d.Text(canvas.Point{X: 190, Y: 95}, "≤ 0.3–0.5 ft³ × 2", canvas.Lettering{Size: 9, Anchor: canvas.End})
	return d
}

// A file of the Portable Document Format begins with its version and ends with
// its mark of the end (ISO 32000-1, 7.5.2 and 7.5.5). The same drawings are the
// same bytes, and each has its page.
func TestPDFIsSteady(t *testing.T) {
	one, err := canvas.PDF(made, canvas.Letter, everything(), sample())
	if err != nil {
		t.Fatal(err)
	}
	two, err := canvas.PDF(made, canvas.Letter, everything(), sample())
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(one, two) {
		t.Error("two writings of the same drawings differ")
	}
	if !bytes.HasPrefix(one, []byte("%PDF-1.")) || !bytes.HasSuffix(bytes.TrimSpace(one), []byte("%%EOF")) {
		t.Error("it does not begin and end as the format asks")
	}
	if n := bytes.Count(one, []byte("/Type /Page\n")); n != 2 {
		t.Errorf("%d pages, want 2", n)
	}
	later, err := canvas.PDF(made.AddDate(0, 0, 1), canvas.Letter, everything(), sample())
	if err != nil || bytes.Equal(one, later) {
		t.Errorf("another date is the same file (%v)", err)
	}
}

// What was written can be read out of the file by another program, and the page
// has the size of the paper, lying: 11 by 8.5 in, or 297 by 210 mm.
func TestPDFIsReadByAnother(t *testing.T) {
	for _, tool := range []string{"pdftotext", "pdfinfo"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not there", tool)
		}
	}
	for _, tt := range []struct {
		paper canvas.Paper
		size  string
	}{{canvas.Letter, "792 x 612 pts"}, {canvas.A4, "841.89 x 595.28 pts"}} {
		file, err := canvas.PDF(made, tt.paper, everything())
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(t.TempDir(), "a.pdf")
		if err := os.WriteFile(name, file, 0o644); err != nil {
			t.Fatal(err)
		}
		info, err := exec.Command("pdfinfo", name).CombinedOutput()
		if err != nil || !strings.Contains(string(info), tt.size) {
			t.Errorf("page is not %s: %v\n%s", tt.size, err, info)
		}
		words, err := exec.Command("pdftotext", name, "-").CombinedOutput()
		if err != nil || !strings.Contains(string(words), "<0.05 µg") {
			t.Errorf("the text is not read back: %v\n%s", err, words)
		}
	}
}

// An image has the size asked for; what is black is black, what is white white,
// and hatching is as dark as its marks cover its tile.
func TestPNG(t *testing.T) {
	d := &canvas.Drawing{Width: 100, Height: 50}
	d.Rect(canvas.Box{X: 0, Y: 0, W: 20, H: 20}, canvas.Pen{}, canvas.Black)
	d.Rect(canvas.Box{X: 30, Y: 0, W: 20, H: 20}, canvas.Pen{}, canvas.Hatched)
	d.Clip(canvas.Box{X: 60, Y: 0, W: 10, H: 20}, func() { d.Rect(canvas.Box{X: 60, Y: 0, W: 40, H: 20}, canvas.Pen{}, canvas.Black) })
	d.Line(canvas.Point{X: 0, Y: 40}, canvas.Point{X: 100, Y: 40}, canvas.Pen{Width: 2, Dash: []float64{10, 10}})
	file, err := canvas.PNG(d, 2)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	if img.Bounds() != image.Rect(0, 0, 200, 100) {
		t.Errorf("image is %v", img.Bounds())
	}
	// a hatch of one diagonal: its length by its pen over the tile, 5·√2·0.6/25
	for _, tt := range []struct {
		name string
		at   image.Rectangle
		want float64
	}{
		{"black", image.Rect(2, 2, 38, 38), 1},
		{"white", image.Rect(2, 50, 38, 70), 0},
		{"hatched", image.Rect(60, 0, 100, 40), 0.1697},
		{"within the clip", image.Rect(122, 2, 138, 38), 1},
		{"beyond the clip", image.Rect(144, 2, 190, 38), 0},
		{"dashed", image.Rect(0, 79, 200, 81), 0.5},
	} {
		if got := darkness(img, tt.at); got < tt.want-0.03 || got > tt.want+0.03 {
			t.Errorf("%s is %.3f dark, want %.3f", tt.name, got, tt.want)
		}
	}
}

// darkness is the mean ink of a part of an image.
func darkness(img image.Image, at image.Rectangle) float64 {
	sum := 0.0
	for y := at.Min.Y; y < at.Max.Y; y++ {
		for x := at.Min.X; x < at.Max.X; x++ {
			r, _, _, _ := img.At(x, y).RGBA()
			sum += 1 - float64(r)/0xffff
		}
	}
	return sum / float64(at.Dx()*at.Dy())
}

// Texts lists what was written, with the room it takes up.
func TestTexts(t *testing.T) {
	d := &canvas.Drawing{Width: 100, Height: 50}
	d.Group("outer", "", func() {
		d.Group("inner", "", func() {
			d.Text(canvas.Point{X: 50, Y: 20}, "0000", canvas.Lettering{Size: 10, Anchor: canvas.Middle})
		})
	})
	all := d.Texts()
	if len(all) != 1 || all[0].Group != "outer: inner" || all[0].Words != "0000" {
		t.Fatalf("texts are %+v", all)
	}
	b := all[0].Box
	if mid := b.X + b.W/2; mid != 50 || b.Y >= 20 || b.Y+b.H <= 20 {
		t.Errorf("box %+v does not stand about its point", b)
	}
	if !b.Meets(canvas.Box{X: 49, Y: 15, W: 1, H: 1}) || b.Meets(canvas.Box{X: 0, Y: 30, W: 100, H: 9}) {
		t.Error("boxes meet where they do not, or the other way")
	}
}
