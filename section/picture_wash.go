package section

import (
	"fmt"
	"math"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// WashRow is the supply at one minute of a wash.
type WashRow struct {
	Minute                       float64
	Flow, Pressure, Level, Store string
}

// WashRows reads the wash off minute by minute.
func WashRows(v plan.WashView, s unit.System) []WashRow {
	flow, pressure, depth, volume := flowScale(s), pressureScale(s), depthScale(s), volumeScale(s)
	var rows []WashRow
	next := 0.0
	for i, x := range v.Steps {
		if x.Minutes < next-rounding && i < len(v.Steps)-1 {
			continue
		}
		next++
		r := WashRow{Minute: x.Minutes, Flow: flow.about(x.Given), Pressure: pressure.about(x.Pressure), Level: "not known", Store: "not known"}
		if v.Level {
			r.Level = depth.about(levelOf(v, x))
		}
		if v.Stored {
			r.Store = volume.about(x.Left)
		}
		rows = append(rows, r)
	}
	return rows
}

// levelOf is the level below ground, or where no static level is on record its
// fall.
func levelOf(v plan.WashView, x plan.WashMinute) plan.Range {
	base := 0.0
	if v.Static != nil {
		base = *v.Static
	}
	return plan.Range{P05: base + x.Drop.P05, P50: base + x.Drop.P50, P95: base + x.Drop.P95}
}

// The heights of the three graphs of a wash.
const (
	washFlowH     = 150.0
	washPressureH = 110.0
	washLevelH    = 150.0
	washGap       = 10.0
)

// Wash draws the hardest wash of a train against minutes: the flow to the bed
// beside what it needs, the pressure at the tank, and the level in the casing or
// the water in the store.
func Wash(v plan.WashView, s unit.System) *canvas.Drawing {
	p := newPage("wash", v.Heading, "The hardest wash, minute by minute")
	words := WashSentences(v, s)
	if len(v.Steps) < 2 {
		p.prose("This train has no wash to draw.", body)
		return p.done(words)
	}
	p.prose(words[1], small)
	x := Axis{Low: 0, High: v.Minutes}
	p.washFlow(v, x, s)
	p.y += washGap
	p.washPressure(v, x, s)
	p.y += washGap
	p.washLevel(v, x, s)
	p.washKey(v)
	for _, w := range words[2:] {
		p.prose(w, small)
	}
	return p.done(words)
}

// spots turns one quantity of the steps into a course.
func (c scale) spots(v plan.WashView, of func(plan.WashMinute) plan.Range) []spot {
	spots := make([]spot, len(v.Steps))
	for i, x := range v.Steps {
		r := of(x)
		spots[i] = spot{x.Minutes, plan.Range{P05: c.of(r.P05), P50: c.of(r.P50), P95: c.of(r.P95)}}
	}
	return spots
}

// mostOf is the greatest figure of courses.
func mostOf(spots []spot) float64 {
	m := 0.0
	for _, s := range spots {
		m = math.Max(m, s.P95)
	}
	return m
}

var askedPen = canvas.Pen{Width: 1.2, Dash: []float64{5, 3}}

// washFlow draws the flow to the bed beside what it needs.
func (p *page) washFlow(v plan.WashView, x Axis, s unit.System) {
	c := flowScale(s)
	spots := c.spots(v, func(m plan.WashMinute) plan.Range { return m.Given })
	g := p.newGraph(washFlowH, x, upTo(1.1*mostOf(spots), 1.1*c.of(v.Need)))
	g.frame("", "flow to the bed, "+c.unit)
	p.washCourse(g, "Flow to the bed", v, s, spots)
	g.level(c.of(v.Need), askedPen)
	if v.Short != "" {
		p.Polygon([]canvas.Point{at(g.px(v.ShortAt), g.box.Y), at(g.px(v.ShortAt)+10, g.box.Y+4), at(g.px(v.ShortAt), g.box.Y+8)}, noPen, canvas.Black)
		g.upright(v.ShortAt, plain)
	}
}

// washPressure draws the pressure at the tank beside what the wash wants.
func (p *page) washPressure(v plan.WashView, x Axis, s unit.System) {
	c := pressureScale(s)
	spots := c.spots(v, func(m plan.WashMinute) plan.Range { return m.Pressure })
	g := p.newGraph(washPressureH, x, upTo(1.05*mostOf(spots), 1.2*c.of(v.Floor)))
	g.frame("", "pressure at the tank, "+c.unit)
	p.washCourse(g, "Pressure at the tank", v, s, spots)
	g.level(c.of(v.Floor), askedPen)
}

// washLevel draws the level below ground, growing downwards; where a store feeds
// the wash, or the level is not known, the water left; where nothing is known, it
// says so.
func (p *page) washLevel(v plan.WashView, x Axis, s unit.System) {
	depth, volume := depthScale(s), volumeScale(s)
	switch {
	case v.Level:
		spots := depth.spots(v, func(m plan.WashMinute) plan.Range { return levelOf(v, m) })
		g := p.newGraph(washLevelH, x, levelAxis(v, spots, s))
		g.down = true
		name := "level in the casing, " + depth.unit + " below ground"
		if v.Static == nil {
			name = "fall of the level in the casing, " + depth.unit
		}
		g.frame("minutes of washing", name)
		p.washCourse(g, "Level in the casing", v, s, spots)
		if v.Intake != nil {
			g.level(depth.of(*v.Intake), canvas.Pen{Width: 3, Grey: true})
		}
	case v.Stored:
		spots := volume.spots(v, func(m plan.WashMinute) plan.Range { return m.Left })
		g := p.newGraph(washLevelH, x, upTo(mostOf(spots)))
		g.frame("minutes of washing", "water left, "+volume.unit)
		p.washCourse(g, "Water left", v, s, spots)
	default:
		g := p.newGraph(washGap, x, Axis{Low: 0, High: 1})
		g.y = Axis{Low: 0, High: 1}
		g.verticals(true)
		g.Rect(g.box, thin, canvas.Open)
		g.Text(at(g.right(), g.foot()+26), "minutes of washing", atEnd(small))
		p.y = g.foot() + 40
	}
}

// levelAxis is the depth from a little over the static level to a little under the
// intake.
func levelAxis(v plan.WashView, spots []spot, s unit.System) Axis {
	depth := depthScale(s)
	top, foot := spots[0].P05, mostOf(spots)
	if v.Intake != nil {
		foot = math.Max(foot, depth.of(*v.Intake))
	}
	room := math.Max((foot-top)*0.08, 0.01)
	a := Axis{Low: math.Max(0, top-room), High: foot + room}
	step := a.step()
	return Axis{Low: tidy(step * math.Floor(a.Low/step)), High: tidy(step * math.Ceil(a.High/step))}
}

// washCourse draws one quantity with its band.
func (p *page) washCourse(g *graph, name string, v plan.WashView, s unit.System, spots []spot) {
	first, last := spots[0], spots[len(spots)-1]
	desc := fmt.Sprintf("%s: from %s at the beginning to %s at the end, %s to %s there.", name, spareFigure(first.P50), spareFigure(last.P50), spareFigure(last.P05), spareFigure(last.P95))
	p.Group(name, desc, func() {
		g.within(func() {
			g.band(spots, canvas.Hatched)
			g.course(spots, heavy)
		})
	})
}

// washKey explains the marks.
func (p *page) washKey(v plan.WashView) {
	es := []entry{p.line("likeliest supply", heavy), p.area("5 to 95 % of plausible supplies", canvas.Hatched), p.line("needed", askedPen)}
	if v.Level && v.Intake != nil {
		es = append(es, p.line("pump intake", canvas.Pen{Width: 3, Grey: true}))
	}
	if v.Short != "" {
		es = append(es, entry{"here it falls short", 12, func(x, y float64) { (&lanePage{p}).flagAt(x+2, y) }})
	}
	p.y += 8
	p.key(es)
}

// WashSentences is the picture in words.
func WashSentences(v plan.WashView, s unit.System) []string {
	words := []string{"As of " + v.AsOf + ", " + trainWords(v.Heading) + "."}
	if len(v.Steps) == 0 {
		return append(words, "This train has no wash to draw.")
	}
	flow, pressure := flowScale(s), pressureScale(s)
	what := fmt.Sprintf("%s: %s, %s for %s at %s or more, every %s days.", upperFirst(v.Words), v.Waste, flow.told(v.Need), minutesWords(v.Minutes), pressure.told(v.Floor), spareFigure(v.Days))
	if v.Vessels > 1 {
		what += fmt.Sprintf(" %d vessels are washed one after the other; the first is drawn.", v.Vessels)
	}
	if v.Boosted {
		what += " A booster pump feeds it from a store: the well is not asked meanwhile."
	}
	words = append(words, what, heldWords(v, s))
	return append(words, supplyWords(v, s)...)
}

// heldWords says whether the wash is held to its end.
func heldWords(v plan.WashView, s unit.System) string {
	flow := flowScale(s)
	words := fmt.Sprintf("To its end %s can be held. ", flow.about(v.Have))
	switch v.Short {
	case "":
		words += "The likeliest supply gives what is needed"
	case "pump":
		words += "In the likeliest supply the pump falls short " + sinceWhen(v.ShortAt)
	default:
		words += "In the likeliest supply the water runs out " + sinceWhen(v.ShortAt) + " and the wash is down to the yield"
	}
	return words + "; it is given to the end " + inHundred(v.Delivered) + "."
}

// sinceWhen says when something begins.
func sinceWhen(minutes float64) string {
	if minutes <= 0 {
		return "from the start"
	}
	return "after " + minutesWords(minutes)
}

// supplyWords tells yield, recovery, a lent tank and what is not known.
func supplyWords(v plan.WashView, s unit.System) []string {
	flow := flowScale(s)
	source := "the well"
	if v.Boosted {
		source = "the refill of the store"
	}
	words := []string{fmt.Sprintf("Yield of %s: %s. %s.", source, flow.about(v.Yield), recoveryWords(v.Recovery))}
	if v.Lent > 0 {
		words = append(words, fmt.Sprintf("It counts on %s from a larger pressure tank.", volumeScale(s).told(v.Lent)))
	}
	if !v.Stored {
		words = append(words, "The level is not known: casing, static level or intake is not on record, so that no water over the intake is counted on.")
	}
	return words
}

// recoveryWords says how long it takes until what a wash drew is made good.
func recoveryWords(d plan.Duration) string {
	none := func(v *float64) bool { return v != nil && *v <= 0 }
	switch {
	case none(d.P95):
		return "It keeps up with the wash"
	case none(d.P50):
		return "It keeps up with the wash in the likeliest case; at worst what is drawn beyond it is made good after " + durationWords(plan.Duration{P05: d.P95, P50: d.P95, P95: d.P95})
	}
	return "What one wash draws beyond it is made good after " + durationWords(d)
}

// WashTable is the picture of the wash as a table.
func WashTable(v plan.WashView, s unit.System) Table {
	t := Table{Caption: "The hardest wash, minute by minute, " + wellName(v.Well) + ", as of " + v.AsOf, Head: []string{"minute", "flow to the bed", "pressure", "level below ground", "water left"}, Notes: WashSentences(v, s)}
	if v.Static == nil {
		t.Head[3] = "fall of the level"
	}
	for _, r := range WashRows(v, s) {
		t.Rows = append(t.Rows, []string{spareFigure(r.Minute), r.Flow, r.Pressure, r.Level, r.Store})
	}
	return t
}
