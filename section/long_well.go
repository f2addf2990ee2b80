package section

import (
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
)

// wellScale reaches from the ground to the deepest thing recorded.
func (p *longSheet) wellScale() longScale {
	axis := Axis{High: p.in.depth.of(20)}
	for _, v := range p.depths() {
		axis = axis.reaching(p.in.depth.of(v))
	}
	return longScale{axis, floorY, wellEnd}
}

// depths are all that were recorded.
func (p *longSheet) depths() []float64 {
	var all []float64
	for _, c := range p.ways {
		b := c.Bore
		for _, v := range []*float64{b.Depth, b.CasingDepth, b.ScreenTop, b.ScreenBottom, b.Static, b.Pumping, b.Intake} {
			if v != nil {
				all = append(all, *v)
			}
		}
	}
	return all
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

// depthRule draws the rule of depth, downwards from the ground. Where no depth was
// recorded there is nothing to lay it on.
func (p *longSheet) depthRule() {
	if len(p.depths()) == 0 {
		return
	}
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
	p.Text(at(longLeft, floorY-5), "depth, "+p.in.depth.name, fine)
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
		if submerged(b) {
			p.Rect(canvas.Box{X: boreX - 3, Y: y - 14, W: 6, H: 14}, plain, canvas.Black)
			y -= 14
		} else { // a foot valve
			p.Polygon([]canvas.Point{at(boreX-3, y-6), at(boreX+3, y-6), at(boreX, y)}, plain, canvas.Black)
		}
	}
	p.Polyline([]canvas.Point{at(boreX, math.Max(y, out)), at(boreX, out), at(wallX+wallRoom/2, out), at(wallX+wallRoom/2, pipeY)}, pipePen)
}

// levels names the levels to the right of the bore, each in up to three lines.
func (p *longSheet) levels(b plan.Bore, half, bottom float64) {
	x := boreX + half + 22
	room := bandX - 29 - x
	var ls []placedText
	var lines [][]string
	var from []float64
	for _, l := range levelWords(b, p.in) {
		y := bottom
		if l.at != nil {
			y = p.depthY(*l.at)
		}
		split := limited(fine, l.words, room, 3)
		from, lines = append(from, y), append(lines, split)
		ls = append(ls, placedText{at(x, y+2.8-4.5*float64(len(split)-1)), l.words})
	}
	high := make([]float64, len(ls))
	for i := range high {
		high[i] = 9*float64(len(lines[i])) + 1.5
	}
	spreadBy(ls, high, floorY+36, wellEnd+4)
	for i, l := range ls {
		p.Polyline([]canvas.Point{at(boreX+half+3, from[i]), at(boreX+half+9, from[i]), at(x-3, l.at.Y-2.8)}, hairInk)
		for n, words := range lines[i] {
			p.Text(at(x, l.at.Y+9*float64(n)), words, fine)
		}
	}
	if b.Storage > 0 && b.Static != nil && b.Intake != nil {
		p.storage(b, half)
	}
}

var hairInk = canvas.Pen{Width: 0.4}

// level is a depth with its words; nil stands at the bottom of the picture.
type level struct {
	at    *float64
	words string
}

// levelWords are what is to be said of a bore, each at its depth.
func levelWords(b plan.Bore, in longUnits) []level {
	var ls []level
	add := func(at *float64, words string) {
		if at != nil {
			ls = append(ls, level{at, words})
		}
	}
	say := func(v *float64) string {
		if v == nil {
			return ""
		}
		return in.depth.say(*v)
	}
	add(b.Static, "static "+say(b.Static))
	pumping := "pumping " + say(b.Pumping)
	if b.PumpingAt > 0 {
		pumping += " at " + in.flow.say(b.PumpingAt)
	}
	add(b.Pumping, pumping)
	casing := "casing to " + say(b.CasingDepth)
	if b.Casing != nil {
		casing = in.length.say(*b.Casing) + " " + casing
	}
	add(b.CasingDepth, casing)
	if b.Storage > 0 {
		add(between(b.Static, b.Intake), in.volume.say(b.Storage)+" stand over the pump")
	}
	pump := "pump at "
	if !submerged(b) {
		pump = strings.TrimSuffix(b.Pump, " pump") + " pump draws at "
	}
	add(b.Intake, pump+say(b.Intake)+", "+in.flow.say(b.PumpFlow)+" at cut-in")
	add(between(b.ScreenTop, b.ScreenBottom), screenWords(b, in))
	end := "bottom " + say(b.Depth)
	switch {
	case b.Depth == nil:
		end = "depth not recorded"
	case b.Open:
		end = "open hole to " + say(b.Depth)
	}
	return append(ls, level{b.Depth, end + ", " + yieldWords(b, in)})
}

// submerged reports whether the pump hangs in the well, as most do.
func submerged(b plan.Bore) bool { return b.Pump == "" || b.Pump == "submersible" }

func screenWords(b plan.Bore, in longUnits) string {
	if b.ScreenTop == nil || b.ScreenBottom == nil {
		return ""
	}
	return "screen " + in.depth.figure(*b.ScreenTop) + "–" + in.depth.say(*b.ScreenBottom)
}

// between is half way between two depths, nil where one is not known.
func between(a, b *float64) *float64 {
	if a == nil || b == nil {
		return nil
	}
	v := (*a + *b) / 2
	return &v
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
	var words []string
	for _, l := range levelWords(p.first().Bore, p.in) {
		words = append(words, l.words)
	}
	if missing := p.first().Bore.Unrecorded; len(missing) > 0 {
		words = append(words, "not recorded: "+strings.Join(missing, ", "))
	}
	return capital(strings.Join(words, "; ")) + "."
}

func yieldWords(b plan.Bore, in longUnits) string {
	if b.YieldTested {
		return "gives " + in.flow.say(b.Yield)
	}
	return "taken to give " + in.flow.say(b.Yield)
}
