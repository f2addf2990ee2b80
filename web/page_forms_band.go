package web

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/limits"
	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/water"
)

// bandForms are the forms of iron in the order in which the long section stacks
// them, with its hatching.
var bandForms = []struct {
	id, name string
	fill     canvas.Fill
}{
	{"iron_particulate_mg_l", "particulate", canvas.Dotted},
	{"iron_bound_mg_l", "bound", canvas.CrossHatched},
	{"iron_ferrous_mg_l", "ferrous", canvas.Hatched},
}

// hatchWords say how a form is drawn.
var hatchWords = map[string]string{"iron_particulate_mg_l": "dotted", "iron_bound_mg_l": "cross-hatched", "iron_ferrous_mg_l": "hatched"}

// The picture of the forms: a band as thick as it can be seen, and a line for the
// range of each form.
const (
	bandWidth = 640.0
	bandLeft  = 96.0
	bandRight = 600.0
	bandY     = 34.0
	bandThick = 46.0
	lineFirst = 112.0
	lineStep  = 24.0
)

var (
	bandSmall = canvas.Lettering{Size: 11}
	bandText  = canvas.Lettering{Size: 12.5}
	bandBold  = canvas.Lettering{Size: 12.5, Bold: true}
	bandPen   = canvas.Pen{Width: 1}
	bandHeavy = canvas.Pen{Width: 2}
	bandHair  = canvas.Pen{Width: 0.5, Grey: true}
)

// formsBand draws the iron by form: a bar of the likeliest, hatched as the long
// section hatches it, and under it the range of each form. Nil without iron.
func formsBand(a plan.Answer, t limits.Table) *canvas.Drawing {
	f := a.Forms
	most := math.Max(f.Total.P95, math.Max(f.Ferrous.P95, math.Max(f.Particulate.P95, f.Bound.P95)))
	if most < 0.01 {
		return nil
	}
	b := &formBand{most: roundEnd(most)}
	b.Drawing = &canvas.Drawing{ID: "forms", Width: bandWidth, Height: lineFirst + 4*lineStep + 34, Title: "Iron of the raw water by form", Desc: bandWords(f)}
	b.scale()
	b.bar(f)
	b.ranges(f)
	b.wall(t)
	return b.Drawing
}

// formBand is the picture with its scale, mg/L at its end.
type formBand struct {
	*canvas.Drawing
	most float64
}

// bandWords is the picture in words.
func bandWords(f plan.Forms) string {
	var words []string
	for _, x := range sheet.FormRows(f) {
		words = append(words, fmt.Sprintf("%s %s mg/L, from %s to %s", x.Name, sheet.MgL(x.P50), sheet.MgL(x.P05), sheet.MgL(x.P95)))
	}
	return strings.Join(words, "; ") + "."
}

func (b *formBand) x(v float64) float64 {
	return bandLeft + (bandRight-bandLeft)*math.Min(1, math.Max(0, v/b.most))
}

// roundEnd is the round figure at which the scale ends.
func roundEnd(v float64) float64 {
	decade := math.Pow(10, math.Floor(math.Log10(v)))
	for _, s := range []float64{1, 1.5, 2, 3, 4, 5, 6, 8, 10} {
		if s*decade >= v*(1-1e-9) {
			return s * decade
		}
	}
	return 10 * decade
}

// scale draws the axis with its figures and hairs through the picture.
func (b *formBand) scale() {
	foot := lineFirst + 4*lineStep - 8
	b.Line(canvas.Point{X: bandLeft, Y: foot}, canvas.Point{X: bandRight, Y: foot}, bandPen)
	for i := 0; i <= 4; i++ {
		v := b.most * float64(i) / 4
		x := b.x(v)
		b.Line(canvas.Point{X: x, Y: bandY}, canvas.Point{X: x, Y: foot}, bandHair)
		l := bandSmall
		l.Anchor = canvas.Middle
		b.Text(canvas.Point{X: x, Y: foot + 15}, sheet.Digits(v, 3), l)
	}
	l := bandSmall
	l.Anchor = canvas.End
	b.Text(canvas.Point{X: bandWidth - 2, Y: foot + 30}, "mg/L", l)
}

// bar stacks the likeliest forms.
func (b *formBand) bar(f plan.Forms) {
	b.Text(canvas.Point{X: 2, Y: bandY + bandThick/2 + 4}, "likeliest", bandBold)
	by := rangesOf(f)
	from := 0.0
	for _, s := range bandForms {
		v := by[s.id].P50
		to := from + v
		if w := b.x(to) - b.x(from); w >= 1 {
			box := canvas.Box{X: b.x(from), Y: bandY, W: w, H: bandThick}
			b.Rect(box, bandPen, canvas.White)
			b.Rect(box, bandPen, s.fill)
			l := bandText
			l.Anchor = canvas.Middle
			if w > l.Width(s.name)+8 {
				b.Text(canvas.Point{X: box.X + w/2, Y: bandY - 8}, s.name, l)
			}
		}
		from = to
	}
}

func rangesOf(f plan.Forms) map[string]plan.Range {
	by := map[string]plan.Range{}
	for _, x := range sheet.FormRows(f) {
		by[x.ID] = x.Range
	}
	return by
}

// ranges draws a line for each form from its least to its greatest, a dot at the
// likeliest.
func (b *formBand) ranges(f plan.Forms) {
	names := map[string]string{"iron_total_mg_l": "total", "iron_ferrous_mg_l": "ferrous", "iron_particulate_mg_l": "particulate", "iron_bound_mg_l": "bound"}
	for i, x := range sheet.FormRows(f) {
		y := lineFirst + float64(i)*lineStep - 8
		b.Text(canvas.Point{X: 2, Y: y + 4}, names[x.ID], bandText)
		b.Line(canvas.Point{X: b.x(x.P05), Y: y}, canvas.Point{X: b.x(x.P95), Y: y}, bandHeavy)
		for _, end := range []float64{x.P05, x.P95} {
			b.Line(canvas.Point{X: b.x(end), Y: y - 4}, canvas.Point{X: b.x(end), Y: y + 4}, bandPen)
		}
		b.Circle(canvas.Point{X: b.x(x.P50), Y: y}, 4, bandPen, canvas.Black)
	}
}

// wall draws the strictest limit for iron across the picture, hatched on the side
// where it is not met.
func (b *formBand) wall(t limits.Table) {
	high := math.Inf(1)
	for _, l := range t.Of(water.Iron) {
		if l.High != nil && l.Basis != limits.Class {
			high = math.Min(high, *l.High)
		}
	}
	if high > b.most {
		return
	}
	x, top, foot := b.x(high), 16.0, lineFirst+4*lineStep-8
	b.Line(canvas.Point{X: x, Y: top}, canvas.Point{X: x, Y: foot}, bandHeavy)
	for y := top + 8; y < bandY+bandThick; y += 8 {
		b.Line(canvas.Point{X: x, Y: y}, canvas.Point{X: x + 6, Y: y - 6}, bandPen)
	}
	b.Text(canvas.Point{X: x - 4, Y: 11}, "limit "+sheet.Digits(high, 2), bandSmall)
}
