package section

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// The columns and heights of the picture of lanes.
const (
	laneStripX   = 232.0
	laneStripW   = 280.0
	laneHeight   = 16.0
	laneFigureX  = laneStripX + laneStripW + 22
	laneNeedX    = laneFigureX + 50
	laneMost     = 1.5  // share of a limit at the end of a lane
	laneLittle   = 0.10 // used up by less in every water: named, not drawn
	laneBarH     = 6.0
	laneStageGap = 20.0
)

// laneAxis is the scale of a lane: the limit stands at 1.
var laneAxis = Axis{Low: 0, High: laneMost}

// Lanes draws every limit of a train, in flow order, as a lane: how much of it is
// used up in the likeliest water as a bar, over the plausible waters as a line
// with ends, and the limit as a wall.
func Lanes(l plan.Lanes, s unit.System) *canvas.Drawing {
	p := &lanePage{newPage("lanes", l.Heading, "How much of each limit is used up")}
	rows := LaneRows(l, s)
	words := []string{"As of " + l.AsOf + ".", trainWords(l.Heading) + "."}
	if l.Meets != nil {
		words = append(words, "Every hard limit is kept "+inHundred(*l.Meets)+".")
		p.prose("Every hard limit is kept "+inHundred(*l.Meets)+".", body)
	}
	p.scale()
	for _, part := range byStage(rows) {
		p.stage(part)
	}
	for _, r := range rows {
		words = append(words, r.Sentence())
	}
	p.foot()
	return p.done(words)
}

// byStage parts the lanes at each stage.
func byStage(rows []LaneRow) [][]LaneRow {
	var parts [][]LaneRow
	for i, r := range rows {
		if i == 0 || r.Words != rows[i-1].Words {
			parts = append(parts, nil)
		}
		parts[len(parts)-1] = append(parts[len(parts)-1], r)
	}
	return parts
}

// lanePage is a picture of lanes on its way down the sheet.
type lanePage struct{ *page }

func laneX(used float64) float64 { return laneStripX + laneStripW*laneAxis.At(used) }

// scale writes the shares over the lanes.
func (p *lanePage) scale() {
	p.y += 10
	for _, v := range []float64{0, 0.5, 1, 1.5} {
		p.Text(at(laneX(v), p.y), fmt.Sprintf("%.0f %%", 100*v), middle(small))
	}
	p.Text(at(laneFigureX, p.y), "has", small)
	p.Text(at(laneNeedX, p.y), "needs", small)
	p.y += 5
	p.Line(at(pictureLeft, p.y), at(pictureRight, p.y), heavy)
	p.y += 2
}

// stage draws the lanes of one stage, and names those that are hardly used.
func (p *lanePage) stage(rows []LaneRow) {
	p.Text(at(pictureLeft, p.y+15), head.Fit(upperFirst(rows[0].Words), pictureRoom), head)
	p.y += laneStageGap
	var little, yes []string
	for _, r := range rows {
		switch {
		case !r.drawn() && r.YesOrNo:
			yes = append(yes, r.Name)
		case !r.drawn():
			little = append(little, r.Name)
		default:
			p.lane(r)
		}
	}
	p.named("Kept, had or not asked: ", yes)
	p.named("Used up by less than a tenth in every plausible water: ", little)
	p.y += 4
	p.Line(at(pictureLeft, p.y), at(pictureRight, p.y), hair)
	p.y += 2
}

// drawn reports whether a limit has a lane: it is flagged or broken somewhere, or
// more than a little of it is used up.
func (r LaneRow) drawn() bool {
	switch {
	case r.First || r.Fails || r.Breaks > 0 || r.Caution != nil && r.Caution.Breaks > 0:
		return true
	case r.YesOrNo:
		return false
	}
	return r.Used.P95 > laneLittle || r.Caution != nil && r.Used.P95 > r.Caution.At/2
}

func (p *lanePage) named(what string, names []string) {
	if len(names) == 0 {
		return
	}
	p.y += 3
	for _, line := range small.Lines(what+strings.Join(names, ", ")+".", pictureRoom-8) {
		p.y += 11
		p.Text(at(pictureLeft+8, p.y), line, small)
	}
}

// lane draws one limit.
func (p *lanePage) lane(r LaneRow) {
	p.Group(r.Words+", "+r.Name, r.Sentence(), func() {
		base := p.y + laneHeight - 4.5
		name := r.Name
		if r.Soft {
			name += ", caution"
		}
		p.Text(at(pictureLeft+8, base), small.Fit(name, laneStripX-pictureLeft-36), small)
		mid := p.y + laneHeight/2
		if r.YesOrNo {
			p.answer(r, mid)
		} else {
			p.strip(r, mid)
			p.Text(at(laneFigureX, base), small.Fit(r.Have, laneNeedX-laneFigureX-4), small)
			p.Text(at(laneNeedX, base), small.Fit(r.needWords(), pictureRight-laneNeedX-44), small)
		}
		if r.First {
			p.flag(mid)
		}
		p.verdict(r, base)
	})
	p.y += laneHeight
}

// needWords is what is needed, with the caution before it.
func (r LaneRow) needWords() string {
	if r.Hint == "" {
		return r.Need
	}
	return r.Need + " (caution " + r.Hint + ")"
}

// verdict writes in how many waters a limit is not kept.
func (p *lanePage) verdict(r LaneRow, base float64) {
	words := ""
	switch {
	case r.Fails:
		words = "not kept"
	case r.Breaks > 0:
		words = percent(r.Breaks) + " not"
	}
	p.Text(at(pictureRight, base), words, atEnd(small))
}

// answer marks a limit that is kept or not: a ring for yes, a cross for no.
func (p *lanePage) answer(r LaneRow, y float64) {
	x := laneX(1)
	p.wallOf(r.Soft, y)
	if r.Fails {
		p.Lines([]canvas.Stroke{{From: at(x+5, y-3.5), To: at(x+12, y+3.5)}, {From: at(x+5, y+3.5), To: at(x+12, y-3.5)}}, plain)
		return
	}
	p.Circle(at(x-9, y), 3.5, plain, canvas.Open)
}

// strip draws bar, range, caution and wall of a limit.
func (p *lanePage) strip(r LaneRow, y float64) {
	p.Line(at(laneStripX, y), at(laneStripX+laneStripW, y), hair)
	f := canvas.Black
	if r.Soft {
		f = canvas.Hatched
	}
	end := laneX(r.Used.P50)
	p.Rect(canvas.Box{X: laneStripX, Y: y - laneBarH/2, W: math.Max(end-laneStripX, 1), H: laneBarH}, hair, f)
	if r.Caution != nil {
		p.caution(r.Caution.At, y)
	}
	p.wallOf(r.Soft, y)
	if r.Used.P50 > 1 {
		p.breach(end, y)
	}
	p.whisker(r.Used, y)
}

// wallOf draws the limit: a thick wall where it is hard, two thin ones where it
// is a caution.
func (p *lanePage) wallOf(soft bool, y float64) {
	x := laneX(1)
	from, to := y-laneHeight/2+0.5, y+laneHeight/2-0.5
	if !soft {
		p.Line(at(x, from), at(x, to), canvas.Pen{Width: 3})
		return
	}
	p.Lines([]canvas.Stroke{{From: at(x-1.2, from), To: at(x-1.2, to)}, {From: at(x+1.2, from), To: at(x+1.2, to)}}, thin)
}

// caution draws where a caution begins before the limit.
func (p *lanePage) caution(used, y float64) {
	x := laneX(used)
	from, to := y-laneHeight/2+2, y+laneHeight/2-2
	p.Rect(canvas.Box{X: x - 2.2, Y: from, W: 4.4, H: to - from}, noPen, canvas.White)
	p.Lines([]canvas.Stroke{{From: at(x-1.2, from), To: at(x-1.2, to)}, {From: at(x+1.2, from), To: at(x+1.2, to)}}, thin)
}

// breach shows the wall broken: the bar goes through it with torn edges on both
// sides.
func (p *lanePage) breach(end, y float64) {
	x := laneX(1)
	h := laneBarH/2 + 1
	p.Rect(canvas.Box{X: x - 4, Y: y - h - 1.5, W: 8, H: 2*h + 3}, noPen, canvas.White)
	for _, side := range []float64{-1, 1} {
		p.Polyline([]canvas.Point{at(x+side*5, y-h), at(x+side*2, y-h/3), at(x+side*5, y+h/3), at(x+side*2, y+h)}, plain)
	}
	if end >= laneStripX+laneStripW {
		p.Polygon([]canvas.Point{at(end, y-5), at(end+8, y), at(end, y+5)}, noPen, canvas.Black)
	}
}

// whisker draws the range over the plausible waters under the bar.
func (p *lanePage) whisker(r plan.Range, y float64) {
	x, to := laneX(r.P05), laneX(r.P95)
	if to-x < 2 {
		return
	}
	foot := y + laneBarH/2 + 2
	p.Lines([]canvas.Stroke{{From: at(x, foot), To: at(to, foot)}, {From: at(x, foot-2), To: at(x, foot+2)}}, plain)
	if r.P95 > laneMost {
		p.Polygon([]canvas.Point{at(to, foot-2.5), at(to+5, foot), at(to, foot+2.5)}, noPen, canvas.Black)
		return
	}
	p.Line(at(to, foot-2), at(to, foot+2), plain)
}

// flag stands at the first limit to fail.
func (p *lanePage) flag(y float64) {
	p.flagAt(laneStripX-20, y)
}

func (p *lanePage) flagAt(x, y float64) {
	p.Line(at(x, y-6), at(x, y+6), plain)
	p.Polygon([]canvas.Point{at(x, y-6), at(x+10, y-3), at(x, y)}, noPen, canvas.Black)
}

// foot explains the marks.
func (p *lanePage) foot() {
	p.y += 18
	p.key([]entry{
		p.area("used up, hard limit", canvas.Black), p.area("used up, caution (a nuisance)", canvas.Hatched),
		{"5 to 95 % of plausible waters", bandRoom, func(x, y float64) {
			p.Lines([]canvas.Stroke{{From: at(x, y), To: at(x+bandRoom, y)}, {From: at(x, y-2), To: at(x, y+2)}, {From: at(x+bandRoom, y-2), To: at(x+bandRoom, y+2)}}, plain)
		}},
		{"hard limit", 8, func(x, y float64) { p.Line(at(x+4, y-7), at(x+4, y+7), canvas.Pen{Width: 3}) }},
		{"caution", 8, func(x, y float64) {
			p.Lines([]canvas.Stroke{{From: at(x+3, y-7), To: at(x+3, y+7)}, {From: at(x+5.4, y-7), To: at(x+5.4, y+7)}}, thin)
		}},
		{"first limit to fail, or the nearest", 12, func(x, y float64) { p.flagAt(x+2, y) }},
		{"kept", 10, func(x, y float64) { p.Circle(at(x+5, y), 3.5, plain, canvas.Open) }},
		{"not kept", 10, func(x, y float64) {
			p.Lines([]canvas.Stroke{{From: at(x+1, y-3.5), To: at(x+8, y+3.5)}, {From: at(x+1, y+3.5), To: at(x+8, y-3.5)}}, plain)
		}},
	})
	p.prose("The bar is the likeliest water. Of pH half a unit from the limit counts as nothing used up, of temperature one degree.", small)
}

// upperFirst writes the first letter large.
func upperFirst(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[0])) + string(r[1:])
}
