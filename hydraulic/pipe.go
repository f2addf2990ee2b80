package hydraulic

import (
	"math"

	"wellwright/unit"
)

// Pipe is a run of pipe. Equivalent is the length that its fittings add; K is
// the sum of the loss coefficients of fittings taken that way instead.
type Pipe struct {
	Bore, Length unit.Length
	Roughness    unit.Length
	C            float64 // Hazen-Williams
	Equivalent   unit.Length
	K            float64
}

// velocity returns the mean speed of the water, m/s.
func (p Pipe) velocity(q unit.Flow) float64 {
	if p.Bore.M() <= 0 {
		return 0
	}
	return q.M3PerHour() / 3600 / squareMeters(VesselArea(p.Bore))
}

// FeetPerSecond returns the mean speed of the water in a pipe, ft/s.
//
//	v = Q / A
//
// Source: continuity.
func (p Pipe) FeetPerSecond(q unit.Flow) float64 { return unit.M(p.velocity(q)).Ft() }

// Reynolds returns the Reynolds number of a flow in the pipe.
//
//	Re = v D / nu
//
// Source: definition.
func (p Pipe) Reynolds(q unit.Flow, t unit.Temperature) float64 {
	return p.velocity(q) * p.Bore.M() / kinematic(t)
}

// DarcyLoss returns the friction loss of a flow by Darcy and Weisbach.
//
//	dP = (f (L + Le)/D + K) rho v2 / 2
//
//	f  friction factor, from FrictionFactor
//	L  length;  Le  equivalent length of fittings;  D  bore
//	K  sum of loss coefficients;  v  mean velocity
//
// Range: full pipe. Error: 5 %, and what rust does to the bore.
// Source: any textbook; fittings as US EPA, EPANET 2.2 User Manual, 2020.
func (p Pipe) DarcyLoss(q unit.Flow, t unit.Temperature) unit.Pressure {
	v, d := p.velocity(q), p.Bore.M()
	if v <= 0 {
		return unit.Pressure{}
	}
	f := FrictionFactor(p.Reynolds(q, t), p.Roughness.M()/d)
	run := f*(p.Length.M()+p.Equivalent.M())/d + p.K
	return unit.KPa(run * Density(t) * v * v / 2 / 1000)
}

// HazenLoss returns the friction loss of a flow by Hazen and Williams.
//
//	h = 4.727 L q^1.852 / (C^1.852 d^4.871)
//
//	h, L, d  ft;  q  ft3/s;  C  roughness number
//
// Range: cold water above about 1 ft/s; below, 10 to 20 % low in smooth pipe.
// Error: 10 %. Source: US EPA, EPANET 2.2 User Manual, 2020, head-loss formulas.
func (p Pipe) HazenLoss(q unit.Flow) unit.Pressure {
	d := p.Bore.Ft()
	if q.GPM() <= 0 || d <= 0 || p.C <= 0 {
		return unit.Pressure{}
	}
	cfs := unit.Gal(q.GPM()).Ft3() / 60
	length := p.Length.Ft() + p.Equivalent.Ft()
	return unit.FtWater(4.727 * length * math.Pow(cfs/p.C, 1.852) / math.Pow(d, 4.871))
}

// ends of the range between laminar and turbulent flow.
const (
	laminarEnd     = 2000.0
	turbulentStart = 4000.0
)

// FrictionFactor returns the Darcy friction factor.
//
//	Re <= 2000  f = 64/Re
//	Re >= 4000  1/sqrt f = -2 log10(r/3.7 + 2.51/(Re sqrt f))   (Colebrook, solved)
//	between     a cubic in Re that meets both in value and slope
//
//	r  roughness over bore
//
// Range: Re above 0, r below 0.05. Error: 5 %; between 2000 and 4000 the flow
// itself is unsettled. Source: any textbook; limits as US EPA, EPANET 2.2 User
// Manual, 2020.
func FrictionFactor(re, r float64) float64 {
	switch {
	case re <= 0:
		return 0
	case re <= laminarEnd:
		return 64 / re
	case re >= turbulentStart:
		return colebrook(re, r)
	}
	span := turbulentStart - laminarEnd
	x := (re - laminarEnd) / span
	f0, s0 := 64/laminarEnd, -64/(laminarEnd*laminarEnd)*span
	f1 := colebrook(turbulentStart, r)
	s1 := (colebrook(turbulentStart*1.001, r) - f1) / (turbulentStart * 0.001) * span
	return f0*(1+2*x)*(1-x)*(1-x) + s0*x*(1-x)*(1-x) + f1*x*x*(3-2*x) + s1*x*x*(x-1)
}

// colebrook solves for x = 1/sqrt f by Newton from Haaland's value.
func colebrook(re, r float64) float64 {
	x := 1 / math.Sqrt(Haaland(re, r))
	for range 20 {
		inner := r/3.7 + 2.51*x/re
		g := x + 2*math.Log10(inner)
		step := g / (1 + 2/math.Ln10*2.51/re/inner)
		x -= step
		if math.Abs(step) < 1e-13*x {
			break
		}
	}
	return 1 / (x * x)
}

// Haaland returns the friction factor of turbulent flow in closed form.
//
//	1/sqrt f = -1.8 log10((r/3.7)^1.11 + 6.9/Re)
//
// Range: Re above 4000. Error: 2 % of Colebrook's. Source: any textbook.
func Haaland(re, r float64) float64 {
	x := -1.8 * math.Log10(math.Pow(r/3.7, 1.11)+6.9/re)
	return 1 / (x * x)
}

// SwameeJain returns the friction factor of turbulent flow in closed form.
//
//	f = 0.25 / log10(r/3.7 + 5.74/Re^0.9)^2
//
// Range: Re above 4000. Error: 1 % of Colebrook's.
// Source: US EPA, EPANET 2.2 User Manual, 2020, head-loss formulas.
func SwameeJain(re, r float64) float64 {
	x := math.Log10(r/3.7 + 5.74/math.Pow(re, 0.9))
	return 0.25 / (x * x)
}

// ValveLoss returns the loss through a valve or a filter head of known Cv.
//
//	dP = (Q / Cv)^2 psi
//
//	Q  gpm;  Cv  gpm at 1 psi
//
// Range: turbulent flow of cold water. Error: 10 %. Source: definition of Cv.
func ValveLoss(q unit.Flow, cv float64) unit.Pressure {
	return unit.PSI(q.GPM() * q.GPM() / (cv * cv))
}
