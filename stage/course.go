package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/hydraulic"
	"wellwright/unit"
	"wellwright/water"
)

// WashSupply returns the supply that a wash here is counted on and the pressure
// that it wants: no more than the pump was measured to give, its well's yield and
// casing storage. The tank that is there is left out of the count, since a wash
// may begin as the pump starts; of a larger one bought to help, most of the
// drawdown. Branches on raw water, and a house without quiet hours, draw meanwhile.
func (j *Job) WashSupply(z Size) (s hydraulic.Supply, floor unit.Pressure) {
	set := j.Site.Factors
	s = j.Supply
	s.Tank = hydraulic.PressureTank{}
	if z.Lent.Gal() > 0 {
		s.Tank = hydraulic.PressureTank{
			Total:     unit.Gal(z.Lent.Gal() * set.Of(drawdownShare)),
			Precharge: unit.PSI(math.Max(0, s.CutIn.PSI()-prechargeBelow)),
		}
	}
	if most, ok := j.measuredFlow(); ok {
		s.Pump = s.Pump.Throttled(most)
	}
	s.HouseDraw = j.besides()
	return s, unit.PSI(set.Of(washPressure))
}

// Chlorinated is the inlet water just behind a chlorine feed, with the dose that
// the feed is set to and no time spent yet.
func (j *Job) Chlorinated() (w water.State, dose unit.Chlorine) {
	d := chlorineDose(j)
	fed := d.titrated * j.fedShare()
	return j.spent(j.withHypochlorite(j.In, fed), d.extra), unit.MgPerLAsCl2(fed)
}

// AirSaturated is a water with all the oxygen that air gives it at sea level, and
// else as it was.
func AirSaturated(w water.State) water.State {
	w.Oxygen = chem.OxygenSaturation(w.Temperature, unit.KPa(seaLevelKPa))
	return w
}

// Used is how much of the limit is used up: 1 at the limit, above it broken, 0
// where nothing of it is. A limit that is kept by a distance is used up as the
// distance goes from what Margin counts as one to nothing.
func (l Limit) Used() float64 {
	if perDistance(l.Unit) > 0 {
		return math.Max(0, 2-l.Margin())
	}
	part, whole := l.Need, l.Have
	if l.AtMost {
		part, whole = l.Have, l.Need
	}
	switch {
	case part <= 0:
		return 0
	case whole <= 0:
		return mostUsed
	}
	return math.Min(part/whole, mostUsed)
}

// mostUsed is where a limit that is broken without measure is put.
const mostUsed = 99
