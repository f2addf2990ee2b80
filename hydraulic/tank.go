package hydraulic

import (
	"math"

	"wellwright/source"
	"wellwright/unit"
)

// Atmosphere is the pressure of the air at sea level, used where a tank names
// no other.
var Atmosphere = source.Factor{
	Name: "hydraulic_atmosphere", What: "air pressure at the pressure tank", Unit: "psi",
	Value: 14.7, Low: 10, High: 15, Kind: source.Published,
	From: "Pelikan, 2006, trade journal article on pressure-tank drawdown",
}

// PressureTank is the tank beside the pressure switch. Precharge is the gauge
// pressure of the air when no water stands in the tank; an air-over-water tank
// that takes its air from the open room has zero. Altitude lowers the
// atmosphere that Boyle's law works against; zero is sea level.
type PressureTank struct {
	Total        unit.Volume
	Precharge    unit.Pressure
	AirOverWater bool
	Altitude     unit.Length
}

// Drawdown returns the water the tank gives between two gauge pressures.
//
//	V = Vt (Ppre + Pa) (1/(Plow + Pa) - 1/(Phigh + Pa))
//
//	Vt    total volume of the tank
//	Ppre  air charge with the tank empty of water, gauge
//	Pa    atmosphere
//	Plow  cut-in, or the air charge if that is higher: below it the tank is empty
//	Phigh cut-out
//
// Range: slow cycles (isothermal). Error: 5 to 10 % less in a fast cycle.
// Source: Boyle's law; Pelikan, 2006, trade journal article on drawdown.
func (t PressureTank) Drawdown(cutIn, cutOut unit.Pressure) unit.Volume {
	return unit.Gal(math.Max(0, t.water(cutOut.PSI())-t.water(cutIn.PSI())))
}

// Water returns the water that stands in the tank at a gauge pressure.
func (t PressureTank) Water(p unit.Pressure) unit.Volume { return unit.Gal(t.water(p.PSI())) }

func (t PressureTank) atmosphere() float64 { return AtmosphereAt(t.Altitude).PSI() }

// water returns gallons in the tank at p psi gauge.
func (t PressureTank) water(p float64) float64 {
	pa := t.atmosphere()
	if p <= t.Precharge.PSI() {
		return 0
	}
	return t.Total.Gal() * (1 - (t.Precharge.PSI()+pa)/(p+pa))
}

// AtmosphereAt returns the pressure of the air at an altitude.
//
//	P = P0 (1 - 2.25577e-5 h)^5.25588
//
//	h  altitude, m
//	P0 the sea-level value of Atmosphere
//
// Range: to 11,000 m. Error: weather moves it by 3 %.
// Source: U.S. Standard Atmosphere, 1976 (from memory).
func AtmosphereAt(altitude unit.Length) unit.Pressure {
	return unit.PSI(Atmosphere.Value * math.Pow(1-2.25577e-5*altitude.M(), 5.25588))
}

// TankFor returns the tank that lets a pump run for the minutes named in each
// cycle, so that its motor does not start too often.
//
//	V = Q t / f
//
//	f  drawdown of a tank of unit volume
//
// Source: arithmetic on Drawdown.
func TankFor(pump unit.Flow, minutes float64, precharge, cutIn, cutOut unit.Pressure) (unit.Volume, error) {
	one := PressureTank{Total: unit.Gal(1), Precharge: precharge}
	share := one.Drawdown(cutIn, cutOut).Gal()
	if share <= 0 {
		return unit.Volume{}, &RangeError{"tank size", "cut-out", cutOut.PSI(), cutIn.PSI(), math.Inf(1), "psi"}
	}
	return unit.Gal(pump.GPM() * minutes / share), nil
}
