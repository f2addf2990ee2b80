package hydraulic

import (
	"fmt"
	"math"

	"wellwright/unit"
)

// PumpCurve is a pump's head against flow, H = A - B Q^C. Its zero value is a
// pump that lifts nothing.
type PumpCurve struct{ a, b, c float64 } // ft, gpm

// Duty is one point of a pump curve.
type Duty struct {
	Flow unit.Flow
	Head unit.Length
}

// CurveThrough fits a pump curve through shut-off and two running points.
//
//	H = A - B Q^C
//	C = ln((H0-H2)/(H0-H1)) / ln(Q2/Q1)
//	B = (H0-H1) / Q1^C,  A = H0
//
//	H0      head at no flow
//	H1, Q1  the nearer running point;  H2, Q2  the farther
//
// Range: from no flow to no head. Error: that of the points.
// Source: US EPA, EPANET 2.2 User Manual, 2020, pump curves (three-point form).
func CurveThrough(shutoff unit.Length, near, far Duty) (PumpCurve, error) {
	h0, h1, h2 := shutoff.Ft(), near.Head.Ft(), far.Head.Ft()
	q1, q2 := near.Flow.GPM(), far.Flow.GPM()
	if !(0 < q1 && q1 < q2 && h0 > h1 && h1 > h2 && h2 >= 0) {
		return PumpCurve{}, fmt.Errorf("pump curve: head must fall as flow rises: %s at no flow, %s at %s, %s at %s",
			shutoff, near.Head, near.Flow, far.Head, far.Flow)
	}
	c := math.Log((h0-h2)/(h0-h1)) / math.Log(q2/q1)
	return PumpCurve{a: h0, b: (h0 - h1) / math.Pow(q1, c), c: c}, nil
}

// CurveFromDuty builds a pump curve from one design point: shut-off at 4/3 of
// its head and no head at twice its flow.
//
//	H = 4/3 H1 - (H1/3) (Q/Q1)^2
//
// Range: a first guess. Error: 15 %.
// Source: US EPA, EPANET 2.2 User Manual, 2020, pump curves (single-point form).
func CurveFromDuty(d Duty) (PumpCurve, error) {
	h, q := d.Head.Ft(), d.Flow.GPM()
	if h <= 0 || q <= 0 {
		return PumpCurve{}, fmt.Errorf("pump curve: design point %s at %s must have both above zero", d.Head, d.Flow)
	}
	return PumpCurve{a: 4 * h / 3, b: h / (3 * q * q), c: 2}, nil
}

// HeadAt returns the head at a flow, zero past the end of the curve.
func (c PumpCurve) HeadAt(q unit.Flow) unit.Length {
	return unit.Ft(math.Max(0, c.a-c.b*math.Pow(math.Max(0, q.GPM()), c.c)))
}

// FlowAt returns the flow at a head, zero at and above shut-off.
func (c PumpCurve) FlowAt(h unit.Length) unit.Flow {
	if c.b <= 0 || h.Ft() >= c.a {
		return unit.Flow{}
	}
	return unit.GPM(math.Pow((c.a-h.Ft())/c.b, 1/c.c))
}

// AtSpeed returns the curve of the same pump at another share of its speed.
//
//	Q ~ N, H ~ N2
//
// Range: 0.5 to 1.2 of the rated speed. Source: affinity laws, any textbook.
func (c PumpCurve) AtSpeed(share float64) PumpCurve {
	return PumpCurve{a: c.a * share * share, b: c.b * math.Pow(share, 2-c.c), c: c.c}
}

// generic is one 4-inch submersible: feet of head at no flow and at the low,
// rated and high flow of its series. The curves are common practice: shaped to
// be typical within 15 %, no maker's. The data plate on site replaces them.
type generic struct {
	hp    float64
	flows [3]float64 // gpm; the middle one names the series
	heads [4]float64 // ft
}

var generics = []generic{
	{0.5, [3]float64{3, 5, 7}, [4]float64{360, 310, 255, 160}},
	{0.75, [3]float64{3, 5, 7}, [4]float64{500, 450, 365, 230}},
	{1, [3]float64{3, 5, 7}, [4]float64{640, 570, 465, 290}},
	{0.5, [3]float64{4, 7, 10}, [4]float64{290, 260, 205, 115}},
	{0.75, [3]float64{4, 7, 10}, [4]float64{410, 370, 290, 165}},
	{1, [3]float64{4, 7, 10}, [4]float64{540, 480, 380, 215}},
	{0.5, [3]float64{5, 10, 14}, [4]float64{240, 215, 160, 85}},
	{0.75, [3]float64{5, 10, 14}, [4]float64{320, 300, 222, 110}},
	{1, [3]float64{5, 10, 14}, [4]float64{420, 390, 295, 150}},
	{0.5, [3]float64{8, 13, 18}, [4]float64{185, 155, 115, 60}},
	{0.75, [3]float64{8, 13, 18}, [4]float64{250, 212, 158, 85}},
	{1, [3]float64{8, 13, 18}, [4]float64{325, 275, 205, 110}},
}

func (g generic) curve() (PumpCurve, error) {
	return CurveThrough(unit.Ft(g.heads[0]),
		Duty{unit.GPM(g.flows[1]), unit.Ft(g.heads[2])},
		Duty{unit.GPM(g.flows[2]), unit.Ft(g.heads[3])})
}

// GenericCurve returns the curve of a typical 4-inch submersible of a series
// (5, 7, 10 or 13 gpm) and power (½, ¾ or 1 hp), through its shut-off, rated
// and high points.
//
// Error: 15 %. Source: common practice, no maker's curve.
func GenericCurve(series unit.Flow, hp unit.Power) (PumpCurve, error) {
	for _, g := range generics {
		if near(g.flows[1], series.GPM()) && near(g.hp, hp.HP()) {
			return g.curve()
		}
	}
	return PumpCurve{}, fmt.Errorf("pump curve: no generic curve for a %s series at %g hp; there are 5, 7, 10 and 13 gpm at 0.5, 0.75 and 1 hp",
		series, hp.HP())
}

func near(a, b float64) bool { return math.Abs(a-b) < 0.01 }

// poundsPerGallon is the weight of a gallon of cold water, and footPounds the
// work of a horsepower in a minute.
const (
	poundsPerGallon = 8.34
	footPounds      = 33000
)

// WaterPower returns the power a flow carries at a head.
//
//	P = w Q H / 33,000 hp   (the trade's Q H / 3960)
//
//	w  8.34 lb/gal;  Q  gpm;  H  ft
//
// Range: cold water. Error: 0.1 %. Source: definition of the horsepower.
func WaterPower(q unit.Flow, h unit.Length) unit.Power {
	return unit.HP(poundsPerGallon * q.GPM() * h.Ft() / footPounds)
}

// PumpingEnergy returns the electricity that lifts a volume through a head.
//
//	E = w V H / eta
//
//	eta  wire-to-water efficiency; 0.25 to 0.45 in small submersibles (common practice)
//
// Source: WaterPower over time.
func PumpingEnergy(v unit.Volume, h unit.Length, efficiency float64) unit.Energy {
	power := WaterPower(unit.GPM(v.Gal()), h) // as if pumped in one minute
	return unit.KWh(power.KW() / 60 / efficiency)
}
