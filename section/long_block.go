package section

import (
	"fmt"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
)

// block draws the title block of the sheet, and beside it what it does not say.
func (p *longSheet) block() {
	const left, split = 540.0, 826.0
	box := canvas.Box{X: left, Y: blockTop, W: longRight - left, H: blockEnd - blockTop}
	p.Rect(box, steel, canvas.White)
	p.Line(at(split, blockTop), at(split, blockEnd), thin)
	mid := (blockTop + blockEnd) / 2
	p.Line(at(left, mid), at(longRight, mid), thin)
	c := p.first()
	name := strong
	if name.Width(wellName(c.Well)) > split-left-12 {
		name = fineStrong
	}
	p.Text(at(left+6, blockTop+12), name.Fit(wellName(c.Well), split-left-12), name)
	p.Text(at(left+6, mid+12), fine.Fit(p.caption(), split-left-12), fine)
	p.Text(at(split+6, blockTop+12), fine.Fit("as believed "+c.AsOf+", limits "+c.Limits, longRight-split-12), fine)
	p.Text(at(split+6, mid+12), fine.Fit(p.meets(), longRight-split-12), fine)
	p.notes(left - 14)
}

// meetsWords is the chance of meeting every limit.
func meetsWords(c plan.Course) string {
	switch {
	case c.MeetsProbability != nil:
		return fmt.Sprintf("meets all limits in %.0f of 100 waters", 100**c.MeetsProbability)
	case c.Fails:
		return "fails in the likeliest water"
	}
	return "meets all limits in the likeliest water"
}

// meets is the chance of meeting every limit, of two courses both.
func (p *longSheet) meets() string {
	if p.overlaid() {
		if a, b := p.ways[0].MeetsProbability, p.ways[1].MeetsProbability; a != nil && b != nil {
			return fmt.Sprintf("meets all limits in %.0f, the other %.0f of 100", 100**a, 100**b)
		}
	}
	return meetsWords(p.first())
}

// notes are written at the foot, to the left of the block.
func (p *longSheet) notes(right float64) {
	y := blockTop + 6.5
	for _, l := range limited(fine, strings.Join(p.noteWords(), " "), right-longLeft, 4) {
		p.Text(at(longLeft, y), l, fine)
		y += 9.5
	}
}

// noteWords are what a reader must know of the picture.
func (p *longSheet) noteWords() []string {
	c := p.first()
	var ns []string
	if len(c.Bore.Unrecorded) > 0 {
		ns = append(ns, "Not recorded of the well: "+strings.Join(c.Bore.Unrecorded, ", ")+".")
	}
	if !c.Standing && len(c.Vessels) > 0 {
		ns = append(ns, "What was read behind the pressure tank belongs to what stands there now, and is left out.")
	}
	return append(ns, "Within tanks and beds the water is worked out along its way; elsewhere straight lines join what is worked out at both ends.",
		"H is the water that enters the heater: what the heater adds is not forecast.", "The width of the bore and the shapes of tanks are drawn as usual.")
}

// key explains lines, hatching and marks.
func (p *longSheet) key() {
	y := 66.0
	p.Text(at(longLeft, y-6), "Key", panelHead)
	for _, k := range p.keyLines() {
		p.Text(at(longLeft+34, y+10), fine.Fit(k.words, bandX-24-longLeft-34), fine)
		k.draw(longLeft, y+7)
		y += 13
	}
}

type keyLine struct {
	words string
	draw  func(x, y float64)
}

func (p *longSheet) keyLines() []keyLine {
	line := func(pen canvas.Pen) func(x, y float64) {
		return func(x, y float64) { p.Line(at(x, y), at(x+28, y), pen) }
	}
	area := func(f canvas.Fill) func(x, y float64) {
		return func(x, y float64) { p.Rect(canvas.Box{X: x, Y: y - 4, W: 28, H: 8}, thin, f) }
	}
	ks := []keyLine{
		{"no flow: pump just off", line(linePens[plan.AtRest])},
		{"no flow: pump about to start", line(linePens[plan.AtCutIn])},
		{"house peak, beds clean, dirty", func(x, y float64) {
			p.Rect(canvas.Box{X: x, Y: y - 3, W: 28, H: 6}, noPen, canvas.Shaded)
			p.Line(at(x, y-3), at(x+28, y-3), linePens[plan.AtPeak])
			p.Line(at(x, y+3), at(x+28, y+3), dashed)
		}},
		{"least while that bed washes", func(x, y float64) {
			p.Line(at(x, y), at(x+24, y), dotted)
			p.Circle(at(x+25, y), 1.8, thin, canvas.Black)
		}},
	}
	for i := len(layers) - 1; i >= 0; i-- {
		ks = append(ks, keyLine{"iron, " + layers[i].name, area(layers[i].fill)})
	}
	ks = append(ks, keyLine{"most iron wanted at the taps", line(limitPen)})
	ks = append(ks, keyLine{"forecast: nine in ten, middle", func(x, y float64) {
		p.Lines([]canvas.Stroke{{From: at(x+14, y-4), To: at(x+14, y+4)}, {From: at(x+11, y-4), To: at(x+17, y-4)}, {From: at(x+11, y+4), To: at(x+17, y+4)}}, plain)
		p.Line(at(x+11, y), at(x+17, y), heavy)
	}}, keyLine{"read on site; by a laboratory", func(x, y float64) {
		p.readAt(at(x+9, y), plan.TapReading{})
		p.readAt(at(x+20, y), plan.TapReading{Reading: plan.Reading{Kind: "laboratory"}})
	}}, keyLine{"read outside the forecast", func(x, y float64) {
		p.readAt(at(x+9, y), plan.TapReading{Outside: true})
		p.readAt(at(x+20, y), plan.TapReading{Reading: plan.Reading{Kind: "laboratory"}, Outside: true})
	}}, keyLine{"wash: needed; to be had", func(x, y float64) {
		p.Rect(canvas.Box{X: x + 8, Y: y - 3, W: 4, H: 7}, noPen, canvas.Black)
		p.Rect(canvas.Box{X: x + 15, Y: y - 5, W: 4, H: 9}, hairInk, canvas.White)
	}}, keyLine{"water that stands", area(canvas.Ruled)})
	if p.overlaid() {
		ks = append(ks, keyLine{"the other; second figures", line(otherPen)})
	}
	return ks
}

// words are the whole picture in words.
func (p *longSheet) words() string {
	c := p.first()
	words := []string{"As of " + c.AsOf + ". " + capital(p.caption()) + ". " + capital(meetsWords(c)) + "."}
	if c.First.Limit != "" {
		words = append(words, strings.TrimSpace(p.flagWords()))
	}
	return strings.Join(words, " ")
}
