package section

import (
	"fmt"
	"math"
	"strings"

	"wellwright/canvas"
	"wellwright/plan"
	"wellwright/unit"
)

// DutyRow is one duty of the pump made ready to be drawn or printed.
type DutyRow struct {
	Letter   string
	Name     string
	Need     string // flow asked; "" where the pump only gives
	Pressure string // at the tank
	Have     string // flow there
	Say      string
	Boosted  bool

	gpm, psi float64 // where the mark stands
}

// DutyRows lists the duties of the pump: the switch, the house at its peak, each
// wash. A duty fed by a booster pump has no letter, since it stands on no curve
// drawn.
func DutyRows(v plan.PumpView, s unit.System) []DutyRow {
	flow, pressure := flowScale(s), pressureScale(s)
	rows := []DutyRow{
		{Name: "pump at cut-in", Pressure: pressure.told(v.CutIn.PSI), Have: flow.about(v.CutIn.GPM), gpm: v.CutIn.GPM.P50, psi: v.CutIn.PSI},
		{Name: "pump at cut-out", Pressure: pressure.told(v.CutOut.PSI), Have: flow.about(v.CutOut.GPM), gpm: v.CutOut.GPM.P50, psi: v.CutOut.PSI},
	}
	for _, d := range append([]plan.Duty{v.Peak}, v.Washes...) {
		r := DutyRow{
			Name: dutyName(d), Need: flow.told(d.Need), Pressure: pressure.told(d.PSI), Boosted: d.Boosted,
			Have: flow.about(d.Have), Say: dutyWords(d), gpm: d.Need, psi: d.PSI,
		}
		rows = append(rows, r)
	}
	letter := 'A'
	for i := range rows {
		if !rows[i].Boosted {
			rows[i].Letter = string(letter)
			letter++
		}
	}
	return rows
}

func dutyName(d plan.Duty) string {
	if d.Waste == "" {
		return d.Words
	}
	return d.Words + ", " + d.Waste
}

// dutyWords says whether a duty is met.
func dutyWords(d plan.Duty) string {
	words := "met"
	switch {
	case d.Have.P50 < d.Need*(1-rounding) && d.Boosted:
		words = notMet
	case d.Have.P50 < d.Need*(1-rounding) && d.Pump >= d.Need:
		words = notMet + ": the pump would give it, the well gives out"
	case d.Have.P50 < d.Need*(1-rounding):
		words = notMet + ": the pump gives too little"
	case d.Have.P05 < d.Need*(1-rounding):
		words = "met in the likeliest supply, not in all"
	}
	if d.Boosted {
		words += "; fed by the booster pump behind the store"
	}
	return words
}

// notMet begins what is said of a duty that the likeliest supply does not meet.
const notMet = "not met"

// Sentence tells the duty in words.
func (r DutyRow) Sentence() string {
	words := strings.TrimSpace(r.Letter + " " + r.Name)
	if r.Need == "" {
		return fmt.Sprintf("%s: %s at %s.", words, r.Have, r.Pressure)
	}
	return fmt.Sprintf("%s: asks %s at %s, has %s: %s.", words, r.Need, r.Pressure, r.Have, r.Say)
}

// pumpHeight is the height of the graph.
const pumpHeight = 330.0

// Pump draws the well pump at the tank, pressure against flow, as it is believed,
// with the level full and drawn down, and every duty that switch, house and washes
// put on it.
func Pump(v plan.PumpView, s unit.System) *canvas.Drawing {
	p := newPage("pump", v.Heading, "Pump at the pressure tank")
	rows := DutyRows(v, s)
	words := PumpSentences(v, s)
	if len(v.Curve) == 0 {
		p.prose("Nothing is known of the pump: read its flow at the tank, with the gauge steady.", body)
		return p.done(words)
	}
	p.prose(words[1], small)
	g := p.newGraph(pumpHeight, pumpFlows(v, rows, s), pumpPressures(v, s))
	flow, pressure := flowScale(s), pressureScale(s)
	g.frame("flow, "+flow.unit, "pressure at the tank, "+pressure.unit)
	p.pumpCurves(g, v, s)
	p.switchAndYield(g, v, s)
	for _, m := range v.Points {
		c := g.at(flow.of(m.GPM.P50), pressure.of(m.PSI))
		p.Circle(c, 4, plain, canvas.White)
		g.keep(c)
	}
	p.duties(g, rows, s)
	p.pumpKey(v)
	for _, w := range words[2:] {
		p.prose(w, small)
	}
	return p.done(words)
}

// pumpFlows and pumpPressures are the axes, from nothing.
func pumpFlows(v plan.PumpView, rows []DutyRow, s unit.System) Axis {
	most := v.Curve[0].GPM.P95
	for _, r := range rows {
		if !r.Boosted {
			most = math.Max(most, r.gpm)
		}
	}
	if v.Yield.P50 < 1.5*most {
		most = math.Max(most, v.Yield.P50)
	}
	return upTo(flowScale(s).of(most))
}

func pumpPressures(v plan.PumpView, s unit.System) Axis {
	most := math.Max(v.CutOut.PSI*1.1, v.Curve[len(v.Curve)-1].PSI)
	for _, h := range v.House {
		most = math.Max(most, math.Min(h.PSI, 2*v.CutOut.PSI))
	}
	return upTo(pressureScale(s).of(most))
}

var (
	loweredPen = canvas.Pen{Width: 1.4, Dash: []float64{7, 3}}
	housePen   = canvas.Pen{Width: 1.2, Dash: []float64{1.5, 3}}
	switchPen  = canvas.Pen{Width: 0.8, Dash: []float64{4, 2}}
)

// pumpCurves draws the pump with its band, the pump with the level drawn down, and
// what the house asks.
func (p *page) pumpCurves(g *graph, v plan.PumpView, s unit.System) {
	p.Group("Pump", pumpWords(v, s), func() {
		g.within(func() {
			p.pumpBand(g, v.Curve, s)
			p.Polyline(pumpLine(g, v.Curve, s), heavy)
			if len(v.Lowered) > 1 {
				p.Polyline(pumpLine(g, v.Lowered, s), loweredPen)
			}
			if len(v.House) > 1 {
				p.Polyline(pumpLine(g, v.House, s), housePen)
			}
		})
	})
}

// pumpBand lays the range of flows at each pressure as an area.
func (p *page) pumpBand(g *graph, curve []plan.Gauged, s unit.System) {
	flow, pressure := flowScale(s), pressureScale(s)
	var ring []canvas.Point
	for _, c := range curve {
		ring = append(ring, g.at(flow.of(c.GPM.P95), pressure.of(c.PSI)))
	}
	for i := len(curve) - 1; i >= 0; i-- {
		ring = append(ring, g.at(flow.of(curve[i].GPM.P05), pressure.of(curve[i].PSI)))
	}
	p.Polygon(ring, hair, canvas.Hatched)
}

// pumpLine is the likeliest flow at each pressure.
func pumpLine(g *graph, curve []plan.Gauged, s unit.System) []canvas.Point {
	flow, pressure := flowScale(s), pressureScale(s)
	line := make([]canvas.Point, len(curve))
	for i, c := range curve {
		line[i] = g.at(flow.of(c.GPM.P50), pressure.of(c.PSI))
	}
	return line
}

// switchAndYield draws cut-in and cut-out across and the yield up the frame.
func (p *page) switchAndYield(g *graph, v plan.PumpView, s unit.System) {
	flow, pressure := flowScale(s), pressureScale(s)
	g.level(pressure.of(v.CutIn.PSI), switchPen)
	g.level(pressure.of(v.CutOut.PSI), switchPen)
	y := flow.of(v.Yield.P50)
	if g.x.Holds(y) {
		p.Group("Yield of the well", pumpYieldWords(v, s), func() { g.upright(y, canvas.Pen{Width: 3, Grey: true}) })
	}
}

// duties marks where each duty stands: a dot on the pump, a square where flow is
// asked for, filled where it is not met.
func (p *page) duties(g *graph, rows []DutyRow, s unit.System) {
	flow, pressure := flowScale(s), pressureScale(s)
	for _, r := range rows {
		if r.Letter == "" {
			continue
		}
		c := g.at(flow.of(r.gpm), pressure.of(r.psi))
		g.keep(c)
		p.Group(r.Name, r.Sentence(), func() {
			switch {
			case r.Need == "":
				p.Circle(c, 3.2, noPen, canvas.Black)
			case strings.HasPrefix(r.Say, notMet):
				p.square(c, canvas.Black)
			default:
				p.square(c, canvas.White)
			}
		})
	}
	for _, r := range rows {
		if r.Letter != "" {
			g.letter(g.at(flow.of(r.gpm), pressure.of(r.psi)), r.Letter)
		}
	}
}

func (p *page) square(c canvas.Point, f canvas.Fill) {
	const n = 3.8
	p.Rect(canvas.Box{X: c.X - n, Y: c.Y - n, W: 2 * n, H: 2 * n}, plain, f)
}

// pumpKey explains the marks.
func (p *page) pumpKey(v plan.PumpView) {
	es := []entry{p.line("pump, likeliest", heavy), p.area("5 to 95 % of plausible pumps", canvas.Hatched)}
	if len(v.Lowered) > 1 {
		es = append(es, p.line("casing drawn down to the intake", loweredPen))
	}
	if len(v.House) > 1 {
		es = append(es, p.line("what the house asks, beds dirty", housePen))
	}
	es = append(es, p.line("cut-in and cut-out", switchPen), p.line("yield of the well", canvas.Pen{Width: 3, Grey: true}))
	if len(v.Points) > 0 {
		es = append(es, entry{"measured", 10, func(x, y float64) { p.Circle(at(x+5, y), 4, plain, canvas.White) }})
	}
	es = append(es,
		entry{"pump at the switch", 8, func(x, y float64) { p.Circle(at(x+4, y), 3.2, noPen, canvas.Black) }},
		entry{"flow asked for", 10, func(x, y float64) { p.square(at(x+5, y), canvas.White) }},
		entry{"asked for and not to be had", 10, func(x, y float64) { p.square(at(x+5, y), canvas.Black) }})
	p.y += 10
	p.key(es)
}

// pumpWords says what the curve rests on.
func pumpWords(v plan.PumpView, s unit.System) string {
	words := ""
	switch {
	case !v.Read:
		words = "No flow was measured at the tank: an ordinary pump is assumed."
	case v.OnePoint:
		words = "One flow was measured at the tank; the slope of the curve is that of an ordinary submersible."
	default:
		words = fmt.Sprintf("%d flows were measured at the tank; beyond them the curve is a guess.", len(v.Points))
	}
	if v.Variable {
		words += " The pump runs at variable speed: it stands on this curve only at full speed."
	}
	return words
}

// pumpYieldWords tells the yield and what stands over the intake.
func pumpYieldWords(v plan.PumpView, s unit.System) string {
	flow := flowScale(s)
	how := ""
	if !v.YieldRead {
		how = ", assumed"
	}
	words := fmt.Sprintf("Yield of the well%s: %s.", how, flow.about(v.Yield))
	if v.Storage == nil {
		return words + " The water over the intake is not known: casing, static level or intake is not on record, so that the level is drawn as if it stood still."
	}
	words += fmt.Sprintf(" %s stand over the intake", volumeScale(s).told(*v.Storage))
	if v.Static != nil && v.Intake != nil {
		words += fmt.Sprintf(" (static level %s, intake %s below ground)", depthScale(s).told(*v.Static), depthScale(s).told(*v.Intake))
	}
	return words + "."
}

// PumpSentences is the picture in words.
func PumpSentences(v plan.PumpView, s unit.System) []string {
	words := []string{"As of " + v.AsOf + ", " + trainWords(v.Heading) + ".", pumpWords(v, s) + " " + pumpYieldWords(v, s)}
	for _, r := range DutyRows(v, s) {
		words = append(words, r.Sentence())
	}
	return words
}

// PumpTable is the picture of the pump as a table.
func PumpTable(v plan.PumpView, s unit.System) Table {
	words := PumpSentences(v, s)
	t := Table{Caption: "Pump at the pressure tank, " + wellName(v.Well) + ", as of " + v.AsOf, Head: []string{"", "duty", "asks", "at", "has", ""}, Notes: words[:2]}
	for _, r := range DutyRows(v, s) {
		t.Rows = append(t.Rows, []string{r.Letter, r.Name, r.Need, r.Pressure, r.Have, r.Say})
	}
	flow, pressure := flowScale(s), pressureScale(s)
	for i, c := range v.Curve {
		if i%8 == 0 {
			t.Rows = append(t.Rows, []string{"", "curve", "", pressure.told(c.PSI), flow.about(c.GPM), ""})
		}
	}
	return t
}
