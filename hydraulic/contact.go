package hydraulic

import (
	"math"
	"time"

	"wellwright/source"
	"wellwright/unit"
)

// CT is oxidant residual times the time water is with it.
type CT struct{ v float64 }

// MgMinPerL makes a CT from mg·min/L.
func MgMinPerL(v float64) CT { return CT{v} }

// MgMinPerL returns mg·min/L.
func (c CT) MgMinPerL() float64 { return c.v }

// MgHourPerL returns mg·h/L.
func (c CT) MgHourPerL() float64 { return c.v / 60 }

// CTOf returns residual times time.
func CTOf(residual unit.Chlorine, d time.Duration) CT {
	return CT{residual.MgPerLAsCl2() * d.Minutes()}
}

// Baffling is how a contact tank is built, for disinfection credit.
type Baffling int

// The ways a tank is built.
const (
	NoContact        Baffling = iota // one connection, such as a diaphragm pressure tank
	Unbaffled                        // plain, high inlet speed
	UnbaffledSpread                  // plain with diffuser plates
	PoorBaffling                     // one baffled inlet or outlet
	AverageBaffling                  // baffled inlet or outlet and some inside
	SuperiorBaffling                 // perforated inlet, serpentine
	NearPlugFlow                     // long narrow path
	PlugFlow                         // pipe or coil
)

const pennsylvania = "Pennsylvania DEP, tracer studies and contact time, baffling factor table"

// baffles are the shares of the mean time that the first tenth of the water has.
var baffles = [...]source.Factor{
	{Name: "baffling_none", What: "T10/T of a vessel with one connection", Value: 0, Kind: source.Published, From: pennsylvania},
	{Name: "baffling_unbaffled", What: "T10/T of a plain tank", Value: 0.1, Kind: source.Published, From: pennsylvania},
	{Name: "baffling_diffuser", What: "T10/T of a plain tank with diffuser plates", Value: 0.2, Kind: source.Published, From: pennsylvania},
	{Name: "baffling_poor", What: "T10/T of a tank with a single baffled inlet or outlet", Value: 0.3, Kind: source.Published, From: pennsylvania},
	{Name: "baffling_average", What: "T10/T of a tank of average baffling", Value: 0.5, Kind: source.Published, From: pennsylvania},
	{Name: "baffling_superior", What: "T10/T of a tank of superior baffling", Value: 0.7, Kind: source.Published, From: pennsylvania},
	{Name: "baffling_near_plug", What: "T10/T of near plug flow", Value: 0.9, Kind: source.Published, From: pennsylvania},
	{Name: "baffling_plug", What: "T10/T of a pipe or coil", Value: 1, Kind: source.Published, From: pennsylvania},
}

// Factor returns the baffling factor with its source.
func (b Baffling) Factor() source.Factor { return baffles[b] }

// T10 returns the time that nine tenths of the water stays at least.
//
//	T10 = f V / Q
//
//	f  baffling factor;  V  least working volume;  Q  peak flow
//
// Range: steady flow. Error: a tracer test may differ by half.
// Source: US EPA surface water treatment guidance, 1991 (from memory).
func T10(factor float64, v unit.Volume, peak unit.Flow) time.Duration {
	if peak.GPM() <= 0 {
		return math.MaxInt64
	}
	return minutesOf(factor * v.Gal() / peak.GPM())
}

// SeriesT10 returns T10 over the mean time for equal mixed tanks in series.
//
//	1 - exp(-N x) sum_{k<N} (N x)^k/k! = 0.10
//
//	N  tanks, any number from 1 up (a fraction is a fitted value);  x = T10/T
//
// Range: N 1 to 200. Source: gamma distribution of residence times, textbook.
func SeriesT10(tanks float64) (float64, error) {
	if !(tanks >= 1 && tanks <= 200) {
		return 0, &RangeError{"tanks in series", "tanks", tanks, 1, 200, ""}
	}
	low, high := 0.0, 1.0
	for range 60 {
		x := (low + high) / 2
		if gammaShare(tanks, tanks*x) < 0.1 {
			low = x
		} else {
			high = x
		}
	}
	return (low + high) / 2, nil
}

// gammaShare is the regularised lower incomplete gamma function by its series.
func gammaShare(a, x float64) float64 {
	if x <= 0 {
		return 0
	}
	term := 1 / a
	sum := term
	for n := 1.0; n < 2000 && term > sum*1e-16; n++ {
		term *= x / (a + n)
		sum += term
	}
	lg, _ := math.Lgamma(a)
	return sum * math.Exp(-x+a*math.Log(x)-lg)
}
