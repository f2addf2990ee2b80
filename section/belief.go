// Package section draws the pictures: what is believed of a well before and
// after the evidence, in black and white, for a sheet that prints.
package section

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// The columns of the picture of belief, from the left edge.
const (
	beliefWidth = 816 // a letter sheet upright
	nameX       = 28.0
	stripX      = 164.0
	stripW      = 318.0
	beforeX     = 540.0 // middle of the column, so that of the next
	nowX        = 622.0
	readX       = 668.0 // beginning of the column
	limitX      = 788.0 // end of it
	readRoom    = 68.0
)

// The heights within a row, from its top.
const (
	rowHeight  = 36.5
	readingY   = 5.5 // middle of the readings
	bandY      = 11.0
	bandH      = 11.0
	axisY      = bandY + bandH + 2
	labelY     = axisY + 9.5
	firstLineY = 15.0
	nextLineY  = 27.0
	partHeight = 22.0
)

var (
	big     = canvas.Lettering{Size: 17, Bold: true}
	head    = canvas.Lettering{Size: 11.5, Bold: true}
	body    = canvas.Lettering{Size: 11}
	strong  = canvas.Lettering{Size: 11, Bold: true}
	small   = canvas.Lettering{Size: 9}
	hair    = canvas.Pen{Width: 0.4, Grey: true}
	thin    = canvas.Pen{Width: 0.6}
	plain   = canvas.Pen{Width: 1}
	heavy   = canvas.Pen{Width: 2}
	noPen   = canvas.Pen{}
	outline = canvas.Pen{Width: 0.8}
)

// middle and atEnd place a text by its middle and its end.
func middle(l canvas.Lettering) canvas.Lettering { l.Anchor = canvas.Middle; return l }
func atEnd(l canvas.Lettering) canvas.Lettering  { l.Anchor = canvas.End; return l }

// at is a point of the drawing.
func at(x, y float64) canvas.Point { return canvas.Point{X: x, Y: y} }

// Belief draws each quantity of an answer before and after the evidence: the
// earlier belief as an open hatched band, what is believed now as a solid one
// within it, the readings as they were measured over it, the limits as walls
// across it.
func Belief(a plan.Answer, s unit.System) *canvas.Drawing {
	rows := BeliefRows(a, s)
	d := &canvas.Drawing{ID: "belief", Width: beliefWidth, Title: "What is believed of the water of " + wellName(a.Well), Desc: beliefWords(a, rows)}
	p := &beliefPage{Drawing: d}
	p.top(a, rows)
	part := ""
	for _, r := range rows {
		if r.Part != part {
			part = r.Part
			p.part(part)
		}
		p.row(r)
	}
	p.foot(a, rows)
	d.Height = math.Ceil(p.y + 20)
	return d
}

// wellName is the name in the book, or says that there is none.
func wellName(s string) string {
	if strings.TrimSpace(s) == "" {
		return "a well without a name"
	}
	return s
}

// beliefWords is the picture in words.
func beliefWords(a plan.Answer, rows []BeliefRow) string {
	words := []string{"As of " + a.AsOf + "."}
	if len(rows) == 0 {
		words = append(words, "Nothing is known.")
	}
	for _, r := range rows {
		words = append(words, r.Sentence())
	}
	return strings.Join(append(words, Drawn(a.Quality)), " ")
}

// Drawn says how many waters a belief was counted from, and when they are too few.
func Drawn(q plan.Quality) string {
	if q.Asked == 0 {
		return "Three waters, a likeliest, a low and a high one, stand for what is plausible: quantiles between them are coarse."
	}
	words := fmt.Sprintf("%s plausible waters, worth %s independent ones.", thousands(fmt.Sprint(q.Asked)), thousands(fmt.Sprintf("%.0f", q.Effective)))
	if q.Few {
		words += " They are too few to trust a probability: the evidence contradicts itself, or speaks for a rare water."
	}
	if q.Coarse {
		words += " A first, coarse answer."
	}
	return words
}

// beliefPage is a picture of belief on its way down the sheet.
type beliefPage struct {
	*canvas.Drawing
	y float64 // where the next thing begins
}

// top writes the title and the heads of the columns.
func (p *beliefPage) top(a plan.Answer, rows []BeliefRow) {
	p.y = 40
	for _, l := range big.Lines(wellName(a.Well), beliefWidth-2*nameX) {
		p.Text(at(nameX, p.y), l, big)
		p.y += 21
	}
	p.Text(at(nameX, p.y-3), "Raw water and supply, before and after the evidence, as of "+a.AsOf, body)
	p.y += 24
	p.Text(at(stripX, p.y), "plausible range", small)
	if has(rows, func(r BeliefRow) bool { return r.Before != nil }) {
		p.Text(at(beforeX, p.y), "before", middle(small))
	}
	p.Text(at(nowX, p.y), "now", middle(small))
	p.Text(at(readX, p.y), "read", small)
	p.Text(at(limitX, p.y), "limit", atEnd(small))
	p.y += 5
	p.Line(at(nameX, p.y), at(limitX, p.y), heavy)
	p.y += 4
	if len(rows) == 0 {
		p.y += 16
		p.Text(at(nameX, p.y), "Nothing is known of this well.", body)
	}
}

// part writes the heading of a part.
func (p *beliefPage) part(name string) {
	p.Text(at(nameX, p.y+15), name, head)
	p.y += partHeight
}

// row draws one quantity.
func (p *beliefPage) row(r BeliefRow) {
	p.Group(r.Name, r.Sentence(), func() {
		p.label(r)
		p.axis(r)
		p.Clip(canvas.Box{X: stripX - 3, Y: p.y, W: stripW + 8, H: rowHeight}, func() {
			p.band(r)
			p.walls(r)
		})
		p.runsOff(r)
		p.readings(r)
		p.figures(r)
	})
	p.y += rowHeight
	p.Line(at(nameX, p.y), at(limitX, p.y), hair)
}

// label writes the name with unit, and that it was assumed.
func (p *beliefPage) label(r BeliefRow) {
	const room = stripX - nameX - 12
	p.Text(at(nameX, p.y+firstLineY), body.Fit(r.Name, room), body)
	p.Text(at(nameX, p.y+nextLineY), small.Fit(r.under(), room), small)
}

// under is the line under a name.
func (r BeliefRow) under() string {
	var words []string
	for _, w := range []string{r.Unit, r.Note} {
		if w != "" {
			words = append(words, w)
		}
	}
	if r.Assumed {
		words = append(words, "assumed")
	}
	return strings.Join(words, ", ")
}

// x is where a value stands on the drawing.
func (r BeliefRow) x(v float64) float64 { return stripX + stripW*r.Axis.At(v) }

// leastGap is the room between two labels of an axis.
const leastGap = 5

// axis draws the scale under the band, with a hair across the band at each label.
func (p *beliefPage) axis(r BeliefRow) {
	y := p.y + axisY
	ticks := []canvas.Stroke{{From: at(stripX, y), To: at(stripX+stripW, y)}}
	var hairs []canvas.Stroke
	free := math.Inf(-1)
	for _, t := range r.Axis.Ticks() {
		x, long := stripX+stripW*t.At, 2.0
		half := small.Width(t.Label) / 2
		if t.Label != "" && x-half > free {
			p.Text(at(x, p.y+labelY), t.Label, middle(small))
			free, long = x+half+leastGap, 3.5
			hairs = append(hairs, canvas.Stroke{From: at(x, p.y+bandY-1), To: at(x, y)})
		}
		ticks = append(ticks, canvas.Stroke{From: at(x, y), To: at(x, y+long)})
	}
	p.Lines(hairs, hair)
	p.Lines(ticks, thin)
}

// leastBand is the width of the narrowest band that is still seen.
const leastBand = 3

// band draws what was believed before as a hatched box with its middle half
// cross-hatched, and what is believed now as a solid bar within it.
func (p *beliefPage) band(r BeliefRow) {
	y := p.y + bandY
	if b := r.Before; b != nil {
		p.Rect(r.box(b.P05, b.P95, y, bandH), outline, canvas.Hatched)
		p.Rect(r.box(b.P25, b.P75, y, bandH), outline, canvas.CrossHatched)
		p.Line(at(r.x(b.P50), y-1.5), at(r.x(b.P50), y+bandH+1.5), plain)
	}
	q := r.After
	mid := y + bandH/2
	halo := r.box(q.P05, q.P95, mid-2.5, 5)
	p.Rect(halo, noPen, canvas.White)
	p.Rect(r.box(q.P05, q.P95, mid-1.5, 3), noPen, canvas.Black)
	half := r.box(q.P25, q.P75, mid-3.5, 7)
	p.Rect(half, noPen, canvas.Black)
	if x := r.x(q.P50); half.W >= 4*leastBand {
		p.Rect(canvas.Box{X: x - 0.75, Y: mid - 3.5, W: 1.5, H: 7}, noPen, canvas.White)
	}
}

// box is a band from one value to another, never too narrow to be seen.
func (r BeliefRow) box(low, high, y, h float64) canvas.Box {
	x, to := r.x(low), r.x(high)
	if r.Axis.Log && low < r.Axis.Low {
		x -= 2 * leastBand // beyond the clip: no end is drawn where there is none
	}
	if short := leastBand - (to - x); short > 0 {
		x -= short / 2
		to += short / 2
	}
	return canvas.Box{X: x, Y: y, W: to - x, H: h}
}

// walls draws each limit as a wall across the band, hatched on the side where the
// limit is not met; that of health is the thick one.
func (p *beliefPage) walls(r BeliefRow) {
	p.wall(r, r.Limit.Low, -1, plain)
	p.wall(r, r.Limit.High, 1, plain)
	p.wall(r, r.Limit.Health, 1, heavy)
}

func (p *beliefPage) wall(r BeliefRow, v *float64, side float64, pen canvas.Pen) {
	if v != nil {
		p.wallAt(r.x(*v), p.y+bandY-1.5, axisY-bandY+1.5, side, pen)
	}
}

// wallAt draws a wall of a height with four strokes on one side.
func (p *beliefPage) wallAt(x, y, h, side float64, pen canvas.Pen) {
	p.Line(at(x, y), at(x, y+h), pen)
	var beyond []canvas.Stroke
	for i := range 4 {
		foot := y + h*float64(i+1)/4
		beyond = append(beyond, canvas.Stroke{From: at(x, foot), To: at(x+side*3.5, foot-3.5)})
	}
	p.Lines(beyond, thin)
}

// runsOff points to the left where the middle of what is believed lies below a
// logarithmic axis, which never reaches zero.
func (p *beliefPage) runsOff(r BeliefRow) {
	if r.Axis.Holds(r.After.P50) {
		return
	}
	y := p.y + bandY + bandH/2
	p.Polygon([]canvas.Point{at(stripX-9, y), at(stripX-4, y-3.5), at(stripX-4, y+3.5)}, noPen, canvas.Black)
}

// readings marks what was measured: a circle on site, a square by a laboratory, a
// diamond on record; an arrow to the left from what is only an upper limit.
func (p *beliefPage) readings(r BeliefRow) {
	for _, x := range r.Readings {
		p.mark(at(r.x(x.Value), p.y+readingY), x)
	}
}

func (p *beliefPage) mark(c canvas.Point, x plan.Reading) {
	const n = 3.2
	switch x.Sign {
	case "<":
		p.arrow(at(c.X-n, c.Y), -1)
	case ">":
		p.arrow(at(c.X+n, c.Y), 1)
	}
	switch x.Kind {
	case "field":
		p.Circle(c, n, plain, canvas.Open)
	case "laboratory":
		p.Rect(canvas.Box{X: c.X - n, Y: c.Y - n, W: 2 * n, H: 2 * n}, plain, canvas.Open)
	default:
		p.Polygon([]canvas.Point{at(c.X, c.Y-n-1), at(c.X+n+1, c.Y), at(c.X, c.Y+n+1), at(c.X-n-1, c.Y)}, plain, canvas.Open)
	}
}

// arrow points from a limit to where the value may lie.
func (p *beliefPage) arrow(c canvas.Point, side float64) {
	tip := c.X + side*10
	p.Line(c, at(tip, c.Y), plain)
	p.Polyline([]canvas.Point{at(tip-side*3.5, c.Y-3), at(tip, c.Y), at(tip-side*3.5, c.Y+3)}, plain)
}

// figures writes the strip of figures beside the band.
func (p *beliefPage) figures(r BeliefRow) {
	one, two := p.y+firstLineY, p.y+nextLineY
	if b := r.Before; b != nil {
		p.Text(at(beforeX, one), r.Figure(b.P50), middle(body))
		p.Text(at(beforeX, two), r.Span(*b), middle(small))
	}
	p.Text(at(nowX, one), r.Figure(r.After.P50), middle(strong))
	p.Text(at(nowX, two), r.Span(r.After), middle(small))
	for i, l := range r.read(readRoom) {
		p.Text(at(readX, one+float64(i)*(nextLineY-firstLineY)), l, small)
	}
	var limits []string
	for _, l := range []struct {
		v     *float64
		words string
	}{{r.Limit.Low, "≥ "}, {r.Limit.High, ""}, {r.Limit.Health, "health "}} {
		if l.v != nil {
			limits = append(limits, l.words+r.LimitFigure(*l.v))
		}
	}
	for i, l := range limits {
		p.Text(at(limitX, one+float64(i)*(nextLineY-firstLineY)), l, atEnd(small))
	}
}

// read writes the readings of a row in at most two lines.
func (r BeliefRow) read(room float64) []string {
	words := make([]string, len(r.Readings))
	for i, x := range r.Readings {
		words[i] = r.Read(x)
		if x.Tap != "" && x.Tap != "T1" {
			words[i] += " " + x.Tap
		}
	}
	lines := small.Lines(strings.Join(words, ", "), room)
	if len(lines) > 2 {
		lines = []string{lines[0], small.Fit(lines[1]+" …", room)}
	}
	return lines
}
