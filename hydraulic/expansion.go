package hydraulic

import (
	"math"

	"wellwright/unit"
)

// fluid returns the terms of the fluidised force balance: the porosity e meets
// e3 + a V e - (a V + b V2) = 0.
func (g Grain) fluid(t unit.Temperature) (a, b float64) {
	kv, ki, d := g.ErgunViscous, g.ErgunInertial, g.D60.M()
	if kv <= 0 {
		kv, ki, d = ergunViscous, ergunInertial, g.Sphericity*d
	}
	weight := math.Max(1e-6, g.excess(t)) * gravity
	return kv * Viscosity(t) / (weight * d * d), ki * Density(t) / (weight * d)
}

// Expansion returns the rise of a backwashed bed as a share of its settled
// depth; zero while the flow does not lift it.
//
//	A = kv mu V/((rhos-rho) g d2),  B = ki rho V2/((rhos-rho) g d)
//	e3 + A e - (A + B) = 0,  E = (1-e0)/(1-e) - 1
//
//	e0, e  porosity settled and expanded;  d  D60
//
// Range: E up to about 2. Error: 0.05 in E where the coefficients were
// measured; more in porous or mixed media. Source: Ergun's equation set equal
// to the weight of the bed, solved for the porosity; as Akgiray and Saatci,
// 2001 (from memory).
func (g Grain) Expansion(v unit.Loading, t unit.Temperature) float64 {
	e := g.expandedPorosity(metersPerSecond(v), t)
	if e <= g.Porosity {
		return 0
	}
	return (1-g.Porosity)/math.Max(1e-6, 1-e) - 1
}

func (g Grain) expandedPorosity(u float64, t unit.Temperature) float64 {
	a, b := g.fluid(t)
	x, y := a*u/3, (a*u+b*u*u)/2
	root := math.Sqrt(y*y + x*x*x)
	e := math.Cbrt(y + root)
	return math.Min(1, e-x/math.Max(e, 1e-12)) // the second cube root is -x over the first
}

// LoadingFor returns the loading that expands the bed by a share of its depth;
// it is the inverse of Expansion.
//
//	b (..) V2 + a (1-e) V - e3 = 0,  e = 1 - (1-e0)/(1+E)
//
// Range and error as Expansion. Source: the same balance solved for V.
func (g Grain) LoadingFor(expansion float64, t unit.Temperature) unit.Loading {
	a, b := g.fluid(t)
	e := 1 - (1-g.Porosity)/(1+math.Max(0, expansion))
	half := a * (1 - e)
	cube := e * e * e
	return loading(2 * cube / (half + math.Sqrt(half*half+4*b*cube)))
}

// referenceCelsius is the water that backwash rates are commonly told for.
const referenceCelsius = 10.0

// BackwashTemperatureFactor returns the loading that gives an expansion at a
// temperature, over the loading that gives the same at 10 °C.
//
//	f = V(E, T) / V(E, 10 °C)
//
// Range: 2 to 30 °C. Error: a few per cent. Source: the force balance of
// Expansion; common practice has 2 % for each °C.
func BackwashTemperatureFactor(g Grain, expansion float64, t unit.Temperature) float64 {
	cold := g.LoadingFor(expansion, unit.Celsius(referenceCelsius)).GPMPerFt2()
	return g.LoadingFor(expansion, t).GPMPerFt2() / cold
}

// Terminal returns the settling speed of one grain of a size, as a loading.
//
//	v2 = 4/3 g d (rhos-rho) / (C rho),  C = 24/R + 3/sqrt R + 0.34,  R = phi v d/nu
//	R < 0.5: C = 24/R
//
// Range: R below 10,000. Error: 15 %. Source: drag law as Davis, 2010, Water
// and Wastewater Engineering, eqs 11-12 to 11-14.
func (g Grain) Terminal(d unit.Length, t unit.Temperature) unit.Loading {
	return loading(g.settle(d.M(), kinematic(t), g.excess(t)/Density(t)))
}

// settle solves the drag law by halving in velocity: drag rises with speed.
func (g Grain) settle(d, nu, excess float64) float64 {
	shape := g.Sphericity
	if shape <= 0 {
		shape = 1
	}
	if excess <= 0 {
		return 0
	}
	low, high := 1e-9, 10.0
	for range 80 {
		v := math.Sqrt(low * high)
		if v*v*drag(shape*v*d/nu) < 4.0/3*gravity*d*excess {
			low = v
		} else {
			high = v
		}
	}
	return low
}

func drag(r float64) float64 {
	if r < 0.5 {
		return 24 / r
	}
	return 24/r + 3/math.Sqrt(r) + 0.34
}

// Settled returns the porosity of one size of grain in an upward flow.
//
//	e = (V/vs)^(0.2247 R^0.1),  R = vs d/nu
//
//	vs  settling speed of the single grain
//
// Range: R 1 to 500. Error: 0.03 in e. Source: Fair and Geyer, after Richardson
// and Zaki, as Davis, 2010, Water and Wastewater Engineering, eq. 11-13.
func (g Grain) Settled(d unit.Length, v unit.Loading, t unit.Temperature) float64 {
	nu := kinematic(t)
	vs := g.settle(d.M(), nu, g.excess(t)/Density(t))
	r := vs * d.M() / nu
	return math.Pow(metersPerSecond(v)/vs, 0.2247*math.Pow(r, 0.1))
}

// AmirtharajahFluidisation returns the minimum fluidisation of filter sand by a
// second method.
//
//	V = 0.00381 D60^1.82 (w (ws - w))^0.94 / mu^0.88 gpm/ft2
//
//	D60 mm;  w, ws  weight of water and grain, lb/ft3;  mu  cP
//
// Range: R below 10. Error: 10 %. Source: Amirtharajah and Cleasby, 1972,
// J. AWWA 64(1) (from memory).
func (g Grain) AmirtharajahFluidisation(t unit.Temperature) unit.Loading {
	w := poundsPerFt3(Density(t))
	ws := poundsPerFt3(g.Density * gravityBasis)
	mu := Viscosity(t) * 1000
	return unit.GPMPerFt2(0.00381 * math.Pow(g.D60.MM(), 1.82) * math.Pow(w*(ws-w), 0.94) / math.Pow(mu, 0.88))
}

func poundsPerFt3(kgPerM3 float64) float64 {
	return unit.Kg(kgPerM3).Lb() * unit.Ft3(1).L() / 1000
}

// Carry is the check that a backwash keeps its media.
type Carry struct {
	Expansion    float64      // share of the settled depth
	Rise         unit.Length  // top of the bed above its settled top
	Freeboard    unit.Length  // what the vessel offers
	TopLeft      unit.Length  // freeboard less rise; negative: over the top
	FinestSettle unit.Loading // settling speed of the 1 % size
	Lost         bool         // the bed or its finest grains would leave the vessel
}

// CarryOver checks an upward flow against the freeboard and against the
// settling speed of the finest grains, the size that 1 % of the mass passes.
//
// Error: that of Expansion. Source: Expansion and Terminal.
func (g Grain) CarryOver(v unit.Loading, depth, freeboard unit.Length, t unit.Temperature) Carry {
	c := Carry{Expansion: g.Expansion(v, t), Freeboard: freeboard}
	c.Rise = unit.Ft(c.Expansion * depth.Ft())
	c.TopLeft = unit.Ft(freeboard.Ft() - c.Rise.Ft())
	c.FinestSettle = g.Terminal(g.Percentile(0.01), t)
	c.Lost = c.TopLeft.Ft() < 0 || v.GPMPerFt2() >= c.FinestSettle.GPMPerFt2()
	return c
}
