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

// StartsPerHour returns how often a pump starts while a steady use is drawn.
//
//	f = Q (1 - Q/P) / V
//
//	Q  use;  P  pump flow;  V  drawdown of the tank
//
// It is greatest where the use is half the pump's flow, and zero where the pump
// runs without stopping. One state rule allows six an hour (Idaho IDAPA
// 58.01.08.547).
//
// Source: time to empty and to fill the drawdown.
func StartsPerHour(use, pump unit.Flow, drawdown unit.Volume) float64 {
	q, p := use.GPM(), pump.GPM()
	if q <= 0 || q >= p || drawdown.Gal() <= 0 {
		return 0
	}
	return 60 * q * (1 - q/p) / drawdown.Gal()
}

// Day is how a low-yield well bears a day's use. Left is the least water left
// in store at the end of any hour, Short the use that was not met.
type Day struct {
	Left  unit.Volume
	Short unit.Volume
}

// BalanceDay carries a day's use through a store that a well refills, hour by
// hour, from a full store at the quietest hour; the store is the casing or a
// tank. Yield beyond what fits is lost.
//
//	S' = min(store, S + (yield - use)),  short where S' < 0
//
// Range: whole days of like use. Error: peaks within the hour. Source: water
// balance.
func BalanceDay(daily unit.Flow, pattern HourPattern, yield unit.Flow, store unit.Volume) Day {
	start, _ := pattern.Quietest(1)
	full := math.Max(0, store.Gal())
	left, least, short := full, full, 0.0
	for h := range 24 {
		left += 60 * (yield.GPM() - pattern.Flow(start+h, daily).GPM())
		if left < 0 {
			short, left = short-left, 0
		}
		left = math.Min(left, full)
		least = math.Min(least, left)
	}
	return Day{unit.Gal(least), unit.Gal(short)}
}

func minutesOf(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }
