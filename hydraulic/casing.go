package hydraulic

import (
	"math"
	"time"

	"wellwright/unit"
)

// CasingVolumePerFoot returns the water in one foot of a round casing or bore.
//
//	V = pi/4 d2 · 1 ft
//
// Range: true inside diameter. Error: none beyond that of the diameter.
// Source: geometry.
func CasingVolumePerFoot(d unit.Length) unit.Volume {
	return unit.Ft3(VesselArea(d).Ft2())
}

// CasingStorage returns the water that can be pumped from a casing before the
// level meets the cover kept over the intake; never below zero.
//
//	V = (intake - static - cover) · volume per foot
//
// Source: geometry; the cover is common practice, 10 to 20 ft.
func CasingStorage(d, static, intake, cover unit.Length) unit.Volume {
	ft := math.Max(0, intake.Ft()-static.Ft()-cover.Ft())
	return unit.Gal(ft * CasingVolumePerFoot(d).Gal())
}

// YieldFromRise estimates what a well gives from the rise of its level in the
// first minutes after the pump stops.
//
//	Q = V1 · rise / time
//
//	V1  volume of one foot of casing
//
// Range: first minutes only; later the rise slows. Error: 20 %.
// Source: common practice.
func YieldFromRise(d, rise unit.Length, minutes float64) unit.Flow {
	return unit.GPM(CasingVolumePerFoot(d).Gal() * rise.Ft() / minutes)
}

// Recovery returns the time in which a well makes good a volume drawn from its
// casing while the house goes on drawing base. It is not ok when the well gives
// no more than the house takes.
//
//	t = V / (yield - base)
//
// Source: water balance.
func Recovery(drawn unit.Volume, yield, base unit.Flow) (d time.Duration, ok bool) {
	spare := yield.GPM() - base.GPM()
	if drawn.Gal() <= 0 {
		return 0, true
	}
	if spare <= 0 {
		return 0, false
	}
	return minutesOf(drawn.Gal() / spare), true
}

// TimedCycle returns the pump's flow from a timed cycle with no use.
//
//	Q = drawdown / minutes from cut-in to cut-out
//
// Range: a pump on a plain switch; not one behind a cycle-stop valve or drive.
// Error: the mean over the cycle, 5 %. Source: common practice.
func TimedCycle(drawdown unit.Volume, run time.Duration) unit.Flow {
	return unit.GPM(drawdown.Gal() / run.Minutes())
}

func minutesOf(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }
