package section

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
)

// wellScale reaches from the ground to the deepest thing recorded.
func (p *longSheet) wellScale() longScale {
	axis := Axis{High: p.in.depth.of(20)}
	for _, c := range p.ways {
		b := c.Bore
		for _, v := range []*float64{b.Depth, b.CasingDepth, b.ScreenTop, b.ScreenBottom, b.Static, b.Pumping, b.Intake} {
			if v != nil {
				axis = axis.reaching(p.in.depth.of(*v))
			}
		}
	}
	return longScale{axis, floorY, wellEnd}
}

// depthY is where a depth below ground stands: downwards.
func (p *longSheet) depthY(v float64) float64 {
	s := p.wellScale()
	return floorY + (wellEnd-floorY)*s.axis.At(p.in.depth.of(v))
}

// well draws the bore with its levels, pump and the water that stands ready in it,
// beside a rule of depth.
func (p *longSheet) well() {
	b := p.first().Bore
	p.depthRule()
	half := boreHalf(b)
	p.Rect(canvas.Box{X: boreX - half - 14, Y: floorY, W: 2*half + 28, H: wellEnd - floorY}, noPen, canvas.Strewn)
	bottom, known := p.bottom(b)
	p.Rect(canvas.Box{X: boreX - half, Y: floorY - 12, W: 2 * half, H: bottom - floorY + 12}, noPen, canvas.White)
	p.waterIn(b, half, bottom)
	p.walls(b, half, bottom, known)
	p.dropPipe(b)
	p.levels(b, half, bottom)
	p.Line(at(longLeft, floorY), at(boreX-half, floorY), plain)
	p.Line(at(boreX+half, floorY), at(wallX, floorY), plain)
	p.Rect(canvas.Box{X: boreX - half - 2, Y: floorY - 15, W: 2*half + 4, H: 3}, noPen, canvas.Black) // the cap
	if p.overlaid() {
		p.otherLevels(half)
	}
}

// depthRule draws the rule of depth, downwards from the ground.
func (p *longSheet) depthRule() {
	s := p.wellScale()
	p.Line(at(wellAxisX, floorY), at(wellAxisX, wellEnd), thin)
	var ticks []canvas.Stroke
	for _, t := range s.axis.Ticks() {
		y := floorY + (wellEnd-floorY)*t.At
		ticks = append(ticks, canvas.Stroke{From: at(wellAxisX-3, y), To: at(wellAxisX, y)})
		if t.At > 0 {
			p.Text(at(wellAxisX-5, y+2.8), t.Label, atEnd(fine))
		}
	}
	p.Lines(ticks, thin)
	p.Text(at(longLeft, floorY-6), "Depth, "+p.in.depth.name, panelHead)
}

// boreHalf is half the width of the bore on the sheet. Widths are not to the scale
// of depth: a bore would be a hair.
func boreHalf(b plan.Bore) float64 {
	in := 6.0
	if b.Casing != nil {
		in = *b.Casing
	}
	return math.Min(16, math.Max(5, in*1.1))
}

// bottom is where the bore ends on the sheet; not known where nobody recorded it.
func (p *longSheet) bottom(b plan.Bore) (y float64, known bool) {
	if b.Depth != nil {
		return p.depthY(*b.Depth), true
	}
	return wellEnd, false
}

// waterIn fills the bore below the static level, and marks off what stands ready
// over the intake.
func (p *longSheet) waterIn(b plan.Bore, half, bottom float64) {
	if b.Static != nil {
		y := p.depthY(*b.Static)
		p.Rect(canvas.Box{X: boreX - half, Y: y, W: 2 * half, H: math.Max(0, bottom-y)}, noPen, canvas.Ruled)
		p.Line(at(boreX-half, y), at(boreX+half, y), thin)
		p.Polygon([]canvas.Point{at(boreX-4, y-6), at(boreX+4, y-6), at(boreX, y)}, thin, canvas.White)
	}
	if b.Pumping != nil {
		y := p.depthY(*b.Pumping)
		p.Line(at(boreX-half, y), at(boreX+half, y), canvas.Pen{Width: 1.2, Dash: []float64{3, 2}})
	}
}

// walls draws the casing solid, and broken where the water comes in.
func (p *longSheet) walls(b plan.Bore, half, bottom float64, known bool) {
	cased := bottom
	if b.CasingDepth != nil {
		cased = math.Min(p.depthY(*b.CasingDepth), bottom)
	}
	p.Lines([]canvas.Stroke{{From: at(boreX-half, floorY-12), To: at(boreX-half, cased)}, {From: at(boreX+half, floorY-12), To: at(boreX+half, cased)}}, canvas.Pen{Width: 2})
	open := canvas.Pen{Width: 1, Dash: []float64{2, 2}}
	p.Lines([]canvas.Stroke{{From: at(boreX-half, cased), To: at(boreX-half, bottom)}, {From: at(boreX+half, cased), To: at(boreX+half, bottom)}}, open)
	if b.ScreenTop != nil && b.ScreenBottom != nil {
		p.screen(p.depthY(*b.ScreenTop), p.depthY(*b.ScreenBottom), half)
	}
	if known {
		p.Line(at(boreX-half, bottom), at(boreX+half, bottom), plain)
		return
	}
	var torn []canvas.Point // nobody knows how deep
	for i := range 9 {
		torn = append(torn, at(boreX-half+float64(i)*half/4, bottom-2+4*float64(i%2)))
	}
	p.Polyline(torn, plain)
}

// screen draws slots in the wall of the bore.
func (p *longSheet) screen(top, bottom, half float64) {
	var slots []canvas.Stroke
	for y := top; y <= bottom; y += 3 {
		slots = append(slots, canvas.Stroke{From: at(boreX-half-3, y), To: at(boreX-half+2, y)}, canvas.Stroke{From: at(boreX+half-2, y), To: at(boreX+half+3, y)})
	}
	p.Lines(slots, thin)
}

// dropPipe draws the pump and the pipe up from it, out of the casing below the
// frost and into the house.
func (p *longSheet) dropPipe(b plan.Bore) {
	out := floorY + 14.0
	y := wellEnd - 24
	if b.Intake != nil {
		y = p.depthY(*b.Intake)
		p.Rect(canvas.Box{X: boreX - 3, Y: y - 14, W: 6, H: 14}, plain, canvas.Black)
		y -= 14
	}
	p.Polyline([]canvas.Point{at(boreX, math.Max(y, out)), at(boreX, out), at(wallX+wallRoom/2, out), at(wallX+wallRoom/2, pipeY)}, pipePen)
}

// levels names the levels to the right of the bore.
func (p *longSheet) levels(b plan.Bore, half, bottom float64) {
	var ls []placedText
	var from []float64
	note := func(v *float64, words string) {
		if v != nil {
			from = append(from, p.depthY(*v))
			ls = append(ls, placedText{at(boreX+half+30, p.depthY(*v)+2.8), words})
		}
	}
	d := p.in.depth
	for _, x := range levelWords(b, p.in) {
		note(x.at, x.words)
	}
	if b.Depth == nil {
		from = append(from, bottom)
		ls = append(ls, placedText{at(boreX+half+30, bottom+2.8), "depth not recorded"})
	}
	_ = d
	spread(ls, 10, floorY+34, wellEnd+6)
	for i, l := range ls {
		p.Polyline([]canvas.Point{at(boreX+half+2, from[i]), at(boreX+half+16, from[i]), at(boreX+half+27, l.at.Y-2.8)}, hairInk)
		p.Text(l.at, fine.Fit(l.words, bandX-26-l.at.X), fine)
	}
	y := wellEnd + 6
	if p.first().Bore.Storage > 0 && b.Static != nil && b.Intake != nil {
		p.storage(b, half)
	}
	_ = y
}

var hairInk = canvas.Pen{Width: 0.4}

// level is a depth with its words.
type level struct {
	at    *float64
	words string
}

// levelWords are the levels of a bore, from the top.
func levelWords(b plan.Bore, in longUnits) []level {
	d := in.depth
	say := func(v *float64) string {
		if v == nil {
			return ""
		}
		return d.say(*v)
	}
	pumping := "pumping " + say(b.Pumping)
	if b.PumpingAt > 0 {
		pumping += " at " + in.flow.say(b.PumpingAt)
	}
	casing := "casing to " + say(b.CasingDepth)
	if b.Casing != nil {
		casing = in.length.say(*b.Casing) + " casing to " + say(b.CasingDepth)
	}
	end := "bottom " + say(b.Depth)
	if b.Open {
		end = "open hole to " + say(b.Depth)
	}
	ls := []level{{b.Static, "static " + say(b.Static)}, {b.Pumping, pumping}, {b.CasingDepth, casing}}
	if b.ScreenTop != nil && b.ScreenBottom != nil {
		ls = append(ls, level{b.ScreenTop, "screen " + d.figure(*b.ScreenTop) + " to " + say(b.ScreenBottom)})
	}
	return append(ls, level{b.Intake, "pump at " + say(b.Intake)}, level{b.Depth, end})
}

// storage marks off the water that stands ready over the intake.
func (p *longSheet) storage(b plan.Bore, half float64) {
	top, foot, x := p.depthY(*b.Static), p.depthY(*b.Intake), boreX-half-7
	p.Polyline([]canvas.Point{at(x+4, top), at(x, top), at(x, foot), at(x+4, foot)}, plain)
}

// otherLevels marks the levels of the course laid over.
func (p *longSheet) otherLevels(half float64) {
	b := p.ways[1].Bore
	for _, v := range []*float64{b.Static, b.Pumping} {
		if v != nil {
			y := p.depthY(*v)
			p.Line(at(boreX-half-10, y), at(boreX+half+10, y), otherPen)
		}
	}
}

// wellWords tells the well.
func (p *longSheet) wellWords() string {
	b := p.first().Bore
	var words []string
	for _, l := range levelWords(b, p.in) {
		if l.at != nil {
			words = append(words, l.words)
		}
	}
	if b.Storage > 0 {
		words = append(words, "casing storage over the intake "+p.in.volume.say(b.Storage))
	}
	words = append(words, yieldWords(b, p.in), fmt.Sprintf("pump %s at cut-in", p.in.flow.say(b.PumpFlow)))
	if len(b.Unrecorded) > 0 {
		words = append(words, "not recorded: "+strings.Join(b.Unrecorded, ", "))
	}
	return capital(strings.Join(words, "; ")) + "."
}

func yieldWords(b plan.Bore, in longUnits) string {
	if b.YieldTested {
		return "yield " + in.flow.say(b.Yield)
	}
	return "yield taken as " + in.flow.say(b.Yield) + ", not tested"
}
