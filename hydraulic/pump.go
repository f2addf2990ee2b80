package hydraulic

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"wellwright/source"
	"wellwright/unit"
)

// PumpPoint is one measurement at the pressure tank: the flow to open drain
// with the pump running and the gauge steady at this pressure.
type PumpPoint struct {
	Flow     unit.Flow
	Pressure unit.Pressure
}

// PumpSlope is how fast a submersible's flow falls with pressure near its
// working point; it stands in for the second point that was not measured.
var PumpSlope = source.Factor{
	Name: "pump_slope", What: "share of a submersible's flow lost for each psi more at the tank",
	Unit: "1/psi", Value: 0.012, Low: 0.006, High: 0.018, Kind: source.CommonPractice,
	From: "slope at the rated point of generic 4-inch submersible curves",
}

// PumpAtTank is what a pump delivers at the pressure tank against the gauge
// there. The flow never rises with pressure and is never negative. The zero
// value is a pump of which nothing is known, and gives nothing.
type PumpAtTank struct {
	points     []tankPoint // pressure rising
	before     parabola    // below the first point
	after      parabola    // above the last point
	cap        float64     // gpm; +Inf without a flow control
	measuredAt int
}

type tankPoint struct{ p, q float64 } // psi, gpm

// parabola is p = top - k Q2: the curve of a centrifugal pump near a point.
type parabola struct{ top, k float64 }

func (c parabola) flow(p float64) float64 {
	if p >= c.top {
		return 0
	}
	return math.Sqrt((c.top - p) / c.k)
}

// PumpFromMeasurements is PumpFrom with the default factors.
func PumpFromMeasurements(points []PumpPoint) (PumpAtTank, error) {
	return PumpFrom(source.Set{}, points)
}

// PumpFrom builds the pump from what was measured at the tank.
//
//	between points   a straight line
//	beyond the ends  P = Pt - k Q2 through the last two points
//	one point        the same parabola, of the slope dQ/dP = -s Q
//
//	s   PumpSlope;  Pt  pressure at which the flow stops
//
// Range: from the lowest to the highest pressure measured; elsewhere a guess.
// Error: that of the bucket, 5 %, and 5 % for each 10 psi beyond the points.
// Source: the parabola is the single-point form of US EPA, EPANET 2.2 User
// Manual, 2020; the slope is common practice.
func PumpFrom(set source.Set, points []PumpPoint) (PumpAtTank, error) {
	pts, err := sortedPoints(points)
	if err != nil {
		return PumpAtTank{}, err
	}
	slope := set.Of(PumpSlope)
	if slope <= 0 {
		return PumpAtTank{}, fmt.Errorf("pump at tank: %s %g must be above zero", PumpSlope.Name, slope)
	}
	n := len(pts)
	pump := PumpAtTank{points: pts, cap: math.Inf(1), measuredAt: n}
	pump.before = throughOne(pts[0], slope)
	pump.after = throughOne(pts[n-1], slope)
	if n > 1 {
		pump.before = through(pts[0], pts[1], parabola{top: pts[0].p, k: 1})
		pump.after = through(pts[n-2], pts[n-1], pump.after)
	}
	return pump, nil
}

func sortedPoints(points []PumpPoint) ([]tankPoint, error) {
	var errs []error
	if len(points) == 0 {
		errs = append(errs, errors.New("pump at tank: no measurement; one flow with the gauge pressure beside it is the least"))
	}
	pts := make([]tankPoint, 0, len(points))
	for _, m := range points {
		t := tankPoint{m.Pressure.PSI(), m.Flow.GPM()}
		if !(t.q > 0) || !(t.p >= 0) || math.IsInf(t.p+t.q, 0) {
			errs = append(errs, fmt.Errorf("pump at tank: %s at %s; flow must be above zero and pressure not below it", m.Flow, m.Pressure))
		}
		pts = append(pts, t)
	}
	sort.Slice(pts, func(i, j int) bool { return pts[i].p < pts[j].p })
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		if b.p-a.p < 0.1 || b.q > a.q {
			errs = append(errs, fmt.Errorf("pump at tank: %g gpm at %g psi and %g gpm at %g psi; flow must not rise with pressure and pressures must differ",
				a.q, a.p, b.q, b.p))
		}
	}
	return pts, errors.Join(errs...)
}

// throughOne is the parabola of the slope -s Q at a point.
func throughOne(t tankPoint, s float64) parabola {
	rise := 1 / (2 * s)
	return parabola{top: t.p + rise, k: rise / (t.q * t.q)}
}

// through is the parabola through two points; two like flows, as behind a flow
// control, say nothing of the slope, and the parabola in place is kept.
func through(a, b tankPoint, otherwise parabola) parabola {
	if a.q-b.q < 1e-3*a.q {
		return otherwise
	}
	k := (b.p - a.p) / (a.q*a.q - b.q*b.q)
	return parabola{top: a.p + k*a.q*a.q, k: k}
}

// Known reports whether anything is known of the pump.
func (p PumpAtTank) Known() bool { return len(p.points) > 0 }

// OnePoint reports whether the slope is the generic one, not the site's.
func (p PumpAtTank) OnePoint() bool { return p.measuredAt == 1 }

// Throttled returns the pump behind a flow control.
func (p PumpAtTank) Throttled(most unit.Flow) PumpAtTank {
	p.cap = math.Min(p.cap, most.GPM())
	return p
}

// FlowAt returns the flow at a gauge pressure.
func (p PumpAtTank) FlowAt(g unit.Pressure) unit.Flow { return unit.GPM(p.flow(g.PSI())) }

func (p *PumpAtTank) flow(g float64) float64 {
	n := len(p.points)
	switch {
	case n == 0:
		return 0
	case g <= p.points[0].p:
		return min(p.cap, max(p.before.flow(g), p.points[0].q))
	case g >= p.points[n-1].p:
		return min(p.cap, min(p.after.flow(g), p.points[n-1].q))
	}
	i := 1
	for g > p.points[i].p {
		i++
	}
	a, b := p.points[i-1], p.points[i]
	return min(p.cap, a.q+(b.q-a.q)*(g-a.p)/(b.p-a.p))
}

// PressureAt returns the gauge pressure at which the pump gives a flow, held
// between two pressures.
func (p PumpAtTank) PressureAt(q unit.Flow, low, high unit.Pressure) unit.Pressure {
	return unit.PSI(p.pressure(q.GPM(), low.PSI(), high.PSI()))
}

func (p *PumpAtTank) pressure(q, low, high float64) float64 {
	for range 40 {
		mid := (low + high) / 2
		if p.flow(mid) >= q {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// Operating returns the flow at which a pump and what it pushes through come to
// rest: the pressure the pump has left at the tank is the pressure that the
// system asks for there. Zero if the pump cannot reach the system's pressure at
// no flow. The system must not ask for less as the flow rises.
//
//	pump(S(q)) = q
//
//	S  pressure asked at the tank for a flow: outlet, lift and all losses
//
// Source: pump curve against system curve, any textbook.
func (p PumpAtTank) Operating(system func(unit.Flow) unit.Pressure) unit.Flow {
	low, high := 0.0, p.flow(0)
	for range 50 {
		mid := (low + high) / 2
		if p.flow(system(unit.GPM(mid)).PSI()) >= mid {
			low = mid
		} else {
			high = mid
		}
	}
	return unit.GPM(low)
}

// Lift is what stands between a pump and the tank: the height from the pumping
// level to the gauge and the pipe.
type Lift struct {
	Height unit.Length
	Pipe   Pipe
	Water  unit.Temperature
}

// AtTank returns what a pump curve leaves at the tank.
//
//	P = (H(Q) - height) · rho g - pipe loss
//
// Range: from open discharge to shut-off. Error: that of the curve.
// Source: energy balance.
func (c PumpCurve) AtTank(l Lift) (PumpAtTank, error) {
	end := c.FlowAt(l.Height).GPM()
	const steps = 12
	var points []PumpPoint
	for i := steps; i > 0; i-- {
		q := unit.GPM(end * float64(i) / steps)
		p := unit.FtWater(c.HeadAt(q).Ft()-l.Height.Ft()).PSI() - l.Pipe.DarcyLoss(q, l.Water).PSI()
		if p >= 0 && (len(points) == 0 || p-points[len(points)-1].Pressure.PSI() > 0.1) {
			points = append(points, PumpPoint{q, unit.PSI(p)})
		}
	}
	if len(points) == 0 {
		return PumpAtTank{}, fmt.Errorf("pump at tank: the pump does not reach a height of %s", l.Height)
	}
	return PumpFromMeasurements(points)
}
