package section

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// IronRow is the iron left with one oxidant at one time, for the table.
type IronRow struct {
	With    string
	Minutes float64
	Left    plan.Range
}

// ironTimes are the times that the table tells, minutes.
var ironTimes = []float64{0.1, 1, 10, 30, 60, 240, 1440, 10080}

// IronRows reads the courses off at the times of the table.
func IronRows(x plan.IronTime) []IronRow {
	var rows []IronRow
	for _, c := range x.Courses {
		for _, t := range ironTimes {
			rows = append(rows, IronRow{c.With, t, leftAt(c, t)})
		}
	}
	return rows
}

// leftAt is the iron left at a time, on a straight line between two points by the
// logarithm of time.
func leftAt(c plan.IronCourse, t float64) plan.Range {
	for i, p := range c.Points {
		if p.Minutes < t {
			continue
		}
		if i == 0 || p.Minutes == t {
			return p.Ferrous
		}
		a := c.Points[i-1]
		f := math.Log(t/a.Minutes) / math.Log(p.Minutes/a.Minutes)
		mix := func(x, y float64) float64 { return x + (y-x)*f }
		return plan.Range{P05: mix(a.Ferrous.P05, p.Ferrous.P05), P50: mix(a.Ferrous.P50, p.Ferrous.P50), P95: mix(a.Ferrous.P95, p.Ferrous.P95)}
	}
	if len(c.Points) == 0 {
		return plan.Range{}
	}
	return c.Points[len(c.Points)-1].Ferrous
}

// ironHeight is the height of the graph.
const ironHeight = 300.0

// leastIron is the ferrous iron, mg/L, below which there is nothing to draw.
const leastIron = 0.005

// IronTime draws the ferrous iron left in the well's water against the time in
// contact with air, and with chlorine as the train doses it, over the plausible
// waters, with the contact that the train gives.
func IronTime(x plan.IronTime, s unit.System) *canvas.Drawing {
	p := newPage("iron", x.Heading, "Ferrous iron against time in contact")
	words := IronSentences(x, s)
	if x.Ferrous.P95 < leastIron {
		p.prose("No ferrous iron to speak of is believed of this water: there is nothing to oxidise.", body)
		return p.done(words)
	}
	p.prose(rawWords(x, s), small)
	g := p.newGraph(ironHeight, timeAxis(x), upTo(x.Ferrous.P95, x.Wanted))
	p.contacts(g, x.Contacts)
	g.xTicks = timeTicks(g.x)
	g.frame("time in contact", "ferrous iron left, mg/L")
	for _, c := range x.Courses {
		p.ironBand(g, c)
	}
	g.within(func() {
		for _, c := range x.Courses {
			_, pen := ironMarks(c)
			g.course(ironSpots(g, c), pen)
		}
		g.level(x.Wanted, canvas.Pen{Width: 1, Dash: []float64{2, 3}})
		for _, c := range x.Contacts {
			g.upright(c.Peak.P50, plain)
		}
	})
	p.ironKey(x)
	for _, w := range words[2:] {
		p.prose(w, small)
	}
	return p.done(words)
}

// The fills and lines of the courses.
var (
	airFill, chlorineFill = canvas.Hatched, canvas.Dotted
	airPen                = heavy
	chlorinePen           = canvas.Pen{Width: 2, Dash: []float64{6, 3}}
)

// ironMarks are the fill and the line of a course.
func ironMarks(c plan.IronCourse) (canvas.Fill, canvas.Pen) {
	if c.With == "chlorine" {
		return chlorineFill, chlorinePen
	}
	return airFill, airPen
}

// ironSpots are the points of a course that lie on the graph.
func ironSpots(g *graph, c plan.IronCourse) []spot {
	var spots []spot
	for _, x := range c.Points {
		if x.Minutes >= g.x.Low*(1-rounding) && x.Minutes <= g.x.High*(1+rounding) {
			spots = append(spots, spot{x.Minutes, x.Ferrous})
		}
	}
	return spots
}

// ironBand draws the band of one course.
func (p *page) ironBand(g *graph, c plan.IronCourse) {
	f, _ := ironMarks(c)
	p.Group("With "+c.With, courseSentence(c), func() {
		g.within(func() { g.band(ironSpots(g, c), f) })
	})
}

// contacts names the contact times over the frame, a line of its own where two
// would meet.
func (p *page) contacts(g *graph, cs []plan.Contact) {
	g.box.Y += 13 * float64(len(cs))
	for i, c := range cs {
		y := g.box.Y - 20 - 13*float64(len(cs)-1-i)
		words := small.Fit(c.Words+", "+minutesWords(c.Peak.P50)+" at peak", 300)
		x := g.px(c.Peak.P50)
		l := small
		if x > pictureWidth/2 {
			l = atEnd(small)
			p.Text(at(x-4, y), words, l)
		} else {
			p.Text(at(x+4, y), words, l)
		}
		p.Line(at(x, y-7), at(x, g.box.Y), plain)
	}
}

// ironKey explains the marks.
func (p *page) ironKey(x plan.IronTime) {
	es := []entry{p.line("with air, likeliest water", airPen), p.area("with air, 5 to 95 %", airFill)}
	if len(x.Courses) > 1 {
		es = append(es, p.line("with chlorine, likeliest water", chlorinePen), p.area("with chlorine, 5 to 95 %", chlorineFill))
	}
	es = append(es, p.line("iron wanted at the tap", canvas.Pen{Width: 1, Dash: []float64{2, 3}}))
	if len(x.Contacts) > 0 {
		es = append(es, entry{"contact at peak flow", 8, func(x, y float64) { p.Line(at(x+4, y-7), at(x+4, y+7), plain) }})
	}
	p.y += 10
	p.key(es)
}

// timeAxis is a logarithmic axis from before the first course begins to fall to
// where the last has fallen, round decades at both ends, with every contact on it.
func timeAxis(x plan.IronTime) Axis {
	low, high := math.Inf(1), 60.0
	for _, c := range x.Courses {
		begins, over := fall(c)
		low, high = math.Min(low, begins), math.Max(high, over)
	}
	for _, c := range x.Contacts {
		low, high = math.Min(low, c.Peak.P50), math.Max(high, c.Peak.P50)
	}
	low = math.Max(0.001, math.Min(low, 1))
	return Axis{Low: math.Pow(10, math.Floor(math.Log10(low)+rounding)), High: math.Pow(10, math.Ceil(math.Log10(high)-rounding)), Log: true}
}

// fall is when a course has begun to fall and when next to nothing is left.
func fall(c plan.IronCourse) (begins, over float64) {
	begins, over = math.Inf(1), 0
	if len(c.Points) == 0 {
		return begins, over
	}
	most := c.Points[0].Ferrous
	for _, p := range c.Points {
		if math.IsInf(begins, 1) && p.Ferrous.P05 < 0.97*most.P05 {
			begins = p.Minutes / 2
		}
		if p.Ferrous.P95 > 0.01*most.P95 {
			over = p.Minutes
		}
	}
	return begins, over
}

// times are the round times that are written under an axis of time.
var times = []struct {
	minutes float64
	words   string
}{
	{0.001, "0.06 s"}, {1.0 / 60, "1 s"}, {10.0 / 60, "10 s"}, {1, "1 min"}, {10, "10 min"}, {60, "1 h"}, {360, "6 h"}, {1440, "1 day"}, {10080, "1 week"}, {43200, "30 days"},
}

// timeTicks marks an axis of time.
func timeTicks(a Axis) []Tick {
	var ts []Tick
	for _, t := range times {
		if a.Holds(t.minutes) {
			ts = append(ts, Tick{a.At(t.minutes), t.words})
		}
	}
	return ts
}

// minutesWords tells a time as people do.
func minutesWords(m float64) string {
	switch {
	case m <= 0:
		return "at once"
	case m < 1.0/60:
		return "less than a second"
	case m < 1.5:
		return spareFigure(60*m) + " s"
	case m < 90:
		return spareFigure(m) + " min"
	case m < 36*60:
		return spareFigure(m/60) + " h"
	}
	return spareFigure(m/1440) + " days"
}

// beyondCourse is what lies behind the last time that a course is followed to.
const beyondCourse = "more than a month"

// durationWords tells a time with its range.
func durationWords(d plan.Duration) string {
	tell := func(v *float64) string {
		if v == nil {
			return beyondCourse
		}
		return minutesWords(*v)
	}
	mid, low, high := tell(d.P50), tell(d.P05), tell(d.P95)
	if low == high {
		return mid
	}
	return fmt.Sprintf("%s (%s to %s)", mid, low, high)
}

// rawWords says which water it is.
func rawWords(x plan.IronTime, s unit.System) string {
	t := temperatureScale(s)
	return fmt.Sprintf("Raw water: ferrous iron %s mg/L (%s–%s), pH %.1f (%.1f–%.1f), %s.", spareFigure(x.Ferrous.P50), spareFigure(x.Ferrous.P05), spareFigure(x.Ferrous.P95), x.PH.P50, x.PH.P05, x.PH.P95, t.told(x.Temperature.P50))
}

// IronSentences is the picture in words.
func IronSentences(x plan.IronTime, s unit.System) []string {
	words := []string{"As of " + x.AsOf + ", " + trainWords(x.Heading) + ".", rawWords(x, s)}
	for _, c := range x.Courses {
		words = append(words, courseSentence(c))
	}
	for _, c := range x.Contacts {
		words = append(words, contactSentence(x, c))
	}
	if len(x.Contacts) == 0 && len(x.Train) > 0 {
		words = append(words, "This train gives no time in contact ahead of its first bed: what turns there turns on the bed.")
	}
	return append(words, "Rate laws: "+lawWords(x)+".")
}

// courseSentence tells one course.
func courseSentence(c plan.IronCourse) string {
	with := "With " + c.With
	switch {
	case c.Dose != nil:
		with = fmt.Sprintf("With chlorine (%s mg/L as Cl2)", spareFigure(c.Dose.P50))
	case c.Oxygen != nil:
		with = fmt.Sprintf("With air (%s mg/L of oxygen, %s of it for the iron)", spareFigure(c.Oxygen.P50), percent(c.Used))
	}
	return fmt.Sprintf("%s, half of the ferrous iron is gone after %s, and %s; %s.", with, durationWords(c.Half), doneWords(c.Done), c.From)
}

// doneWords says when no more iron is left than is wanted.
func doneWords(d plan.Duration) string {
	now := func(v *float64) bool { return v != nil && *v <= 0 }
	switch {
	case now(d.P95):
		return "from the start there is no more of it than is wanted at the tap"
	case now(d.P50):
		return "in the likeliest water there is no more of it than is wanted at the tap from the start, at worst after " + durationWords(plan.Duration{P05: d.P95, P50: d.P95, P95: d.P95})
	}
	return "no more than is wanted at the tap is left after " + durationWords(d)
}

// contactSentence tells what a contact time leaves.
func contactSentence(x plan.IronTime, k plan.Contact) string {
	var left []string
	for _, c := range x.Courses {
		r := leftAt(c, k.Peak.P50)
		left = append(left, fmt.Sprintf("with %s %s mg/L (%s–%s)", c.With, spareFigure(r.P50), spareFigure(r.P05), spareFigure(r.P95)))
	}
	return fmt.Sprintf("%s: %s at peak flow (%s to %s), which leaves %s of ferrous iron.", upperFirst(k.Words), minutesWords(k.Peak.P50), minutesWords(k.Peak.P05), minutesWords(k.Peak.P95), strings.Join(left, " and "))
}

// lawWords names the laws that a picture rests on.
func lawWords(x plan.IronTime) string {
	words := make([]string, len(x.Laws))
	for i, l := range x.Laws {
		words[i] = fmt.Sprintf("%s (%s: %s)", l.What, l.Kind, l.From)
	}
	return strings.Join(words, "; ")
}

// IronTable is the picture of iron against time as a table.
func IronTable(x plan.IronTime, s unit.System) Table {
	t := Table{Caption: "Ferrous iron left against time in contact, " + wellName(x.Well) + ", as of " + x.AsOf, Head: []string{"with", "time", "left, mg/L", "range"}, Notes: IronSentences(x, s)}
	for _, r := range IronRows(x) {
		t.Rows = append(t.Rows, []string{r.With, minutesWords(r.Minutes), spareFigure(r.Left.P50), spareFigure(r.Left.P05) + "–" + spareFigure(r.Left.P95)})
	}
	return t
}
