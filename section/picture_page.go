package section

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// pictureWidth is the width of the smaller pictures: that of a letter sheet
// upright; pictureRoom is what its margins leave.
const (
	pictureWidth = 816.0
	pictureLeft  = 28.0
	pictureRight = pictureWidth - pictureLeft
	pictureRoom  = pictureRight - pictureLeft
)

// page is a smaller picture on its way down the sheet.
type page struct {
	*canvas.Drawing
	y float64 // where the next thing begins
}

// newPage begins a picture with the name of the well, what the picture is of, and
// the train unless the picture is of several.
func newPage(id string, h plan.Heading, what string) *page {
	p := &page{Drawing: &canvas.Drawing{ID: id, Width: pictureWidth}, y: 40}
	p.Title = what + " of " + wellName(h.Well)
	for _, l := range big.Lines(wellName(h.Well), pictureRoom) {
		p.Text(at(pictureLeft, p.y), l, big)
		p.y += 21
	}
	p.y -= 3
	p.prose(what+", as of "+h.AsOf, strong)
	if h.Train != nil {
		p.prose(trainWords(h), body)
	}
	p.y += 8
	return p
}

// trainWords names a train in the order that the water meets it.
func trainWords(h plan.Heading) string {
	if len(h.Train) == 0 {
		return "No train: the water as it is"
	}
	words := strings.Join(h.Words, ", then ")
	if h.Rank > 0 {
		return fmt.Sprintf("Option %d: %s", h.Rank, words)
	}
	return "Not among the options: " + words
}

// prose writes a text in lines that fit the sheet.
func (p *page) prose(text string, l canvas.Lettering) {
	for _, line := range l.Lines(text, pictureRoom) {
		p.Text(at(pictureLeft, p.y), line, l)
		p.y += math.Round(l.Size * 1.35)
	}
}

// done closes the sheet under the last thing and gives it its words.
func (p *page) done(sentences []string) *canvas.Drawing {
	p.Height = math.Ceil(p.y + 18)
	p.Desc = strings.Join(sentences, " ")
	return p.Drawing
}

// key explains marks, in lines that fit the sheet.
func (p *page) key(entries []entry) {
	p.Group("Key", "What the marks stand for.", func() {
		x := pictureLeft
		for _, e := range entries {
			need := e.room + 6 + small.Width(e.words)
			if x+need > pictureRight && x > pictureLeft {
				x = pictureLeft
				p.y += 17
			}
			e.draw(x, p.y)
			p.Text(at(x+e.room+6, p.y+3), e.words, small)
			x += need + 18
		}
	})
	p.y += 22
}

// line is a key entry of a line.
func (p *page) line(words string, pen canvas.Pen) entry {
	return entry{words, bandRoom, func(x, y float64) { p.Line(at(x, y), at(x+bandRoom, y), pen) }}
}

// area is a key entry of a filled band.
func (p *page) area(words string, f canvas.Fill) entry {
	return entry{words, bandRoom, func(x, y float64) {
		p.Rect(canvas.Box{X: x, Y: y - bandH/2, W: bandRoom, H: bandH}, hair, f)
	}}
}

// The scales of flow, pressure, depth and volume in a system.
func flowScale(s unit.System) scale {
	return inSystem(s, scale{unit: "gpm"}, scale{unit: "L/min", to: litres})
}

func pressureScale(s unit.System) scale {
	return inSystem(s, scale{unit: "psi"}, scale{unit: "kPa", to: func(v float64) float64 { return unit.PSI(v).KPa() }})
}

func depthScale(s unit.System) scale {
	return inSystem(s, scale{unit: "ft"}, scale{unit: "m", to: func(v float64) float64 { return unit.Ft(v).M() }})
}

func volumeScale(s unit.System) scale {
	return inSystem(s, scale{unit: "gal"}, scale{unit: "L", to: func(v float64) float64 { return unit.Gal(v).L() }})
}

func temperatureScale(s unit.System) scale {
	return inSystem(s, scale{unit: "F", to: func(v float64) float64 { return unit.Celsius(v).Fahrenheit() }}, scale{unit: "°C"})
}

func inSystem(s unit.System, us, metric scale) scale {
	if s == unit.Metric {
		return metric
	}
	return us
}

// told prints a figure of a scale with its unit.
func (s scale) told(v float64) string { return spareFigure(s.of(v)) + " " + s.unit }

// about prints the middle of a range with its unit, and its ends where they differ
// from it.
func (s scale) about(r plan.Range) string {
	mid, low, high := spareFigure(s.of(r.P50)), spareFigure(s.of(r.P05)), spareFigure(s.of(r.P95))
	if low == mid && high == mid {
		return mid + " " + s.unit
	}
	return mid + " " + s.unit + " (" + low + "–" + high + ")"
}

// spareFigure prints two significant figures, three where the first is a one, and
// nothing finer than a hundredth.
func spareFigure(v float64) string {
	if v > 0 && v < 0.005 {
		return "<0.01"
	}
	n := 2
	if strings.HasPrefix(strings.TrimLeft(unit.Significant(v, 4), "-0."), "1") {
		n = 3
	}
	if v != 0 {
		step := math.Pow(10, math.Max(-2, math.Floor(math.Log10(math.Abs(v)))-float64(n)+1))
		v = math.Round(v/step) * step
	}
	return thousands(trimmed(unit.Significant(v, n)))
}

// percent prints a share.
func percent(v float64) string {
	switch {
	case v > 9.995:
		return "over 1,000 %"
	case v > 0 && v < 0.005:
		return "<1 %"
	case v > 1 && v < 1.005:
		return "over 100 %"
	}
	return thousands(fmt.Sprintf("%.0f", 100*v)) + " %"
}

// inHundred says in how many of a hundred plausible waters something is so.
func inHundred(share float64) string {
	switch n := math.Round(100 * share); {
	case share <= 0:
		return "in none of the plausible waters"
	case n < 1:
		return "in less than 1 of 100 plausible waters"
	case n >= 100 && share < 1:
		return "in more than 99 of 100 plausible waters"
	default:
		return fmt.Sprintf("in %.0f of 100 plausible waters", n)
	}
}
