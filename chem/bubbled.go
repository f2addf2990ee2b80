package chem

import (
	"fmt"
	"math"

	"wellwright/source"
	"wellwright/unit"
)

// Rate is how often something happens in a time.
type Rate struct{ perS float64 }

// PerHour makes a rate from times an hour.
func PerHour(v float64) Rate { return Rate{v / secPerH} }

// PerHour returns times an hour.
func (r Rate) PerHour() float64 { return r.perS * secPerH }

// Bubbled is fresh outdoor air through or over the water of a vessel while it
// reacts. The zero Bubbled is a vessel closed to gas.
//
//	dO2/dt = k (O2* - O2)
//	dC/dt  = -kC (CO2 - CO2*),  kC = G H ( 1 - exp( -rC k / (G H) ) )
//	dS/dt  = -kS H2S,           kS the same with H and r of hydrogen sulfide
//
//	k     kLa: Transfer, for oxygen at the temperature of the water, with the
//	      oxygen that bubbles lose on the way in it, as a clean-water test finds it
//	O2*   oxygen in balance with moist air at the pressure of the gas; CO2* alike
//	CO2   dissolved carbon dioxide of carbon C, H2S of sulfide S, at the pH
//	G     Air: volumes of air, at the pressure and temperature of the water, for
//	      each volume of water in a time; zero for air so plentiful that it stays
//	      fresh, as over an open tank
//	H     gas in a volume of air over that in water at balance, as [Model.GasRatio]
//	r     transfer of the gas over that of oxygen, by its factor
//
// Bubbles of one size rise through mixed water; gas crosses by the film of the
// water. Alkalinity stays, pH rises.
//
// Source: Lewis & Whitman 1924 two-film theory (from memory); the exponential is
// the mass balance of a rising bubble; constants of their factors.
type Bubbled struct {
	Transfer, Air Rate
	Absolute      unit.Pressure // of the gas
}

// TransferAt returns kLa at a temperature from that at 20 °C.
//
//	k(T) = k(20) · 1.024^(T - 20)
//
// Range: 5 to 35 °C. Error: 1.008 to 1.047 have been found.
// Source: ASCE/EWRI 2-06, Measurement of Oxygen Transfer in Clean Water (from
// memory).
func TransferAt(at20 Rate, t unit.Temperature) Rate {
	return Rate{at20.perS * math.Pow(transferTheta, t.Celsius()-20)}
}

const transferTheta = 1.024

// Diffusion in water at 25 °C, 1e-9 m²/s (from memory: Cussler, Diffusion).
const (
	diffusionO2  = 2.10
	diffusionCO2 = 1.92
	diffusionH2S = 1.41
)

// The root of the ratio of diffusion is that of a surface renewed again and
// again (Danckwerts), the ratio itself that of a still film.
var (
	carbonTransfer = source.Factor{Name: "carbon_dioxide_transfer_ratio", What: "kLa of carbon dioxide over that of oxygen",
		Value: math.Sqrt(diffusionCO2 / diffusionO2), Low: diffusionCO2 / diffusionO2, High: 1, Kind: source.FromMemory,
		From: "root of the diffusion ratio, surface renewal (Danckwerts 1951); low: film theory"}
	sulfideTransfer = source.Factor{Name: "hydrogen_sulfide_transfer_ratio", What: "kLa of hydrogen sulfide over that of oxygen",
		Value: math.Sqrt(diffusionH2S / diffusionO2), Low: diffusionH2S / diffusionO2, High: 1, Kind: source.FromMemory,
		From: "root of the diffusion ratio, surface renewal (Danckwerts 1951); low: film theory"}
)

// gasLaw are the coefficients of gas exchange, 1/s and mol/L.
type gasLaw struct {
	oxygen, carbon, sulfide float64
	oxygenAt, carbonAt      float64 // in balance with the air
}

func (m *Model) gasLawAt(c Conditions, b Bubbled) gasLaw {
	if b.Transfer.perS == 0 {
		return gasLaw{}
	}
	k := c.Temperature.Kelvin()
	spent := func(g Gas, ratio float64) float64 {
		transfer := ratio * b.Transfer.perS
		if b.Air.perS == 0 {
			return transfer
		}
		most := b.Air.perS * m.GasRatio(g, c.Temperature)
		return -most * math.Expm1(-transfer/most)
	}
	dry := max(0, b.Absolute.KPa()/atmKPa-vapourAtm(k))
	return gasLaw{
		oxygen: b.Transfer.perS, oxygenAt: OxygenSaturation(c.Temperature, b.Absolute).MgPerL() / (molO2 * mgPerG),
		carbon: spent(GasCO2, m.rate.carbonGas), carbonAt: airCO2 * dry * m.henry(GasCO2, k),
		sulfide: spent(GasH2S, m.rate.sulfideGas),
	}
}

// enterGas adds exchange with the air: oxygen in, carbon dioxide and hydrogen
// sulfide out.
func (n *network) enterGas() {
	if n.law.gas.oxygen == 0 {
		return
	}
	n.enter(gasOxygen, change{iO2, 1})
	n.enter(gasCarbon, change{iCarbon, -1})
	if n.start[iS] > 0 {
		n.enter(gasSulfide, change{iS, -1})
	}
}

// gasSpeed is how fast a gas is exchanged.
func (n *network) gasSpeed(reaction int, c *pool, h float64) float64 {
	g := &n.law.gas
	switch reaction {
	case gasOxygen:
		return g.oxygen * (g.oxygenAt - c[iO2])
	case gasCarbon:
		return g.carbon * (n.acids.share(h)*c[iCarbon] - g.carbonAt)
	default: // gasSulfide
		return g.sulfide * h / (n.acids.ks + h) * c[iS]
	}
}

// gasRate computes the rate of an exchange and its derivatives.
func (n *network) gasRate(reaction int, c *pool, h float64, r *rate) {
	g, a := &n.law.gas, &n.acids
	*r = rate{v: n.gasSpeed(reaction, c, h)}
	switch reaction {
	case gasOxygen:
		r.add(iO2, -g.oxygen)
	case gasCarbon:
		k := g.carbon * a.share(h)
		r.byLn = k * c[iCarbon] * a.perCarbon(h) // d ln share/d ln h is the alkalinity of a mole
		r.add(iCarbon, k)
	case gasSulfide:
		s := h / (a.ks + h)
		r.byLn = r.v * (1 - s)
		r.add(iS, g.sulfide*s)
	}
}

// check refuses what cannot be.
func (b Bubbled) check(held bool) error {
	if !(b.Transfer.perS >= 0) || !(b.Air.perS >= 0) || math.IsInf(b.Transfer.perS+b.Air.perS, 0) {
		return fmt.Errorf("reactions: gas transfer of %g and air of %g an hour; want zero or more", b.Transfer.PerHour(), b.Air.PerHour())
	}
	switch {
	case b.Transfer.perS == 0 && b.Air.perS > 0:
		return fmt.Errorf("reactions: air of %g an hour without a gas transfer; want its kLa", b.Air.PerHour())
	case b.Transfer.perS > 0 && !(b.Absolute.KPa() > 0):
		return fmt.Errorf("reactions: gas transfer at a pressure of %g kPa absolute; want above zero", b.Absolute.KPa())
	case b.Transfer.perS > 0 && held:
		return fmt.Errorf("reactions: oxygen both held and carried in at %g an hour; want one of them", b.Transfer.PerHour())
	}
	return nil
}
