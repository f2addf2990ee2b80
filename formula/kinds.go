package formula

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"wellwright/unit"
)

// The kinds of quantity that formulas of more than one room take and give. Two
// kinds of one type differ in the units they are shown in.
var (
	Temperature  = Quantity[unit.Temperature]("temperature", Shown("F", unit.Temperature.Fahrenheit), Shown("C", unit.Temperature.Celsius))
	PH           = Quantity[unit.PH]("pH", Shown("", unit.PH.Value), Shown("", unit.PH.Value))
	MgL          = Quantity[unit.Concentration]("concentration", Shown("mg/L", unit.Concentration.MgPerL), Shown("mg/L", unit.Concentration.MgPerL))
	Alkalinity   = Quantity[unit.Alkalinity]("alkalinity", Shown("mg/L as CaCO3", unit.Alkalinity.MgPerLAsCaCO3), Shown("mg/L as CaCO3", unit.Alkalinity.MgPerLAsCaCO3))
	Hardness     = Quantity[unit.Hardness]("hardness", Shown("gpg", unit.Hardness.GPG), Shown("mg/L as CaCO3", unit.Hardness.MgPerLAsCaCO3))
	Nitrogen     = Quantity[unit.Nitrogen]("nitrogen", Shown("mg/L as N", unit.Nitrogen.MgPerLAsN), Shown("mg/L as N", unit.Nitrogen.MgPerLAsN))
	Phosphorus   = Quantity[unit.Phosphorus]("phosphorus", Shown("mg/L as P", unit.Phosphorus.MgPerLAsP), Shown("mg/L as P", unit.Phosphorus.MgPerLAsP))
	Sulfide      = Quantity[unit.Sulfide]("sulfide", Shown("mg/L as H2S", unit.Sulfide.MgPerLAsH2S), Shown("mg/L as H2S", unit.Sulfide.MgPerLAsH2S))
	Chlorine     = Quantity[unit.Chlorine]("chlorine", Shown("mg/L as Cl2", unit.Chlorine.MgPerLAsCl2), Shown("mg/L as Cl2", unit.Chlorine.MgPerLAsCl2))
	Conductivity = Quantity[unit.Conductivity]("conductivity", Shown("uS/cm", unit.Conductivity.USPerCm), Shown("uS/cm", unit.Conductivity.USPerCm))
	Potential    = Quantity[unit.Potential]("potential", Shown("mV", unit.Potential.MV), Shown("mV", unit.Potential.MV))

	Flow      = Quantity[unit.Flow]("flow", Shown("gpm", unit.Flow.GPM), Shown("L/min", unit.Flow.LPerMin))
	DailyFlow = Quantity[unit.Flow]("water in a day", Shown("gal/day", unit.Flow.GalPerDay), Shown("L/day", func(f unit.Flow) float64 { return f.LPerMin() * minutesADay }))
	Drip      = Quantity[unit.Flow]("small flow", Shown("gal/day", unit.Flow.GalPerDay), Shown("mL/min", func(f unit.Flow) float64 { return f.LPerMin() * 1000 }))
	Loading   = Quantity[unit.Loading]("loading", Shown("gpm/ft2", unit.Loading.GPMPerFt2), Shown("m/h", func(l unit.Loading) float64 { return l.GPMPerFt2() / loadingOf("1 m/h") }))
	Capacity  = Quantity[unit.SpecificCapacity]("specific capacity", Shown("gpm/ft", unit.SpecificCapacity.GPMPerFt), Shown("L/min/m", func(c unit.SpecificCapacity) float64 { return c.GPMPerFt() / capacityOf("1 L/min/m") }))
	Pressure  = Quantity[unit.Pressure]("pressure", Shown("psi", unit.Pressure.PSI), Shown("kPa", unit.Pressure.KPa))
	Water     = Quantity[unit.Pressure]("height of water", Shown("ft water", unit.Pressure.FtWater), Shown("m water", func(p unit.Pressure) float64 { return p.PSI() / pressureOf("1 m water") }))
	Length    = Quantity[unit.Length]("length", Shown("ft", unit.Length.Ft), Shown("m", unit.Length.M))
	Bore      = Quantity[unit.Length]("length across", Shown("in", unit.Length.Inches), Shown("mm", unit.Length.MM))
	Grain     = Quantity[unit.Length]("grain size", Shown("mm", unit.Length.MM), Shown("mm", unit.Length.MM))
	Area      = Quantity[unit.Area]("area", Shown("ft2", unit.Area.Ft2), Shown("m2", func(a unit.Area) float64 { return a.Ft2() / areaOf("1 m2") }))
	Volume    = Quantity[unit.Volume]("volume", Shown("gal", unit.Volume.Gal), Shown("L", unit.Volume.L))
	Media     = Quantity[unit.Volume]("volume of media", Shown("ft3", unit.Volume.Ft3), Shown("L", unit.Volume.L))
	Small     = Quantity[unit.Volume]("small volume", Shown("fl oz", func(v unit.Volume) float64 { return v.Gal() * fluidOunces }), Shown("mL", func(v unit.Volume) float64 { return v.L() * 1000 }))
	Mass      = Quantity[unit.Mass]("mass", Shown("lb", unit.Mass.Lb), Shown("kg", unit.Mass.Kg))
	LightMass = Quantity[unit.Mass]("small mass", Shown("oz", func(m unit.Mass) float64 { return m.Lb() * ounces }), Shown("g", unit.Mass.G))
	Power     = Quantity[unit.Power]("power", Shown("hp", unit.Power.HP), Shown("kW", unit.Power.KW))
	Energy    = Quantity[unit.Energy]("energy", Shown("kWh", unit.Energy.KWh), Shown("kWh", unit.Energy.KWh))

	Speed = Measured("speed", Measure{"ft/s", 1}, Measure{"m/s", unit.M(1).Ft()})
	Share = Own("share", "0 to 1, or per cent", readShare, percent, percent, same)
	Ratio = Number("ratio")
	Count = Number("count")
	Index = Number("index")
	Time  = Own("time", "s, min, h, days, years", readTime, showTime, showTime, time.Duration.Seconds)
	Yes   = Choice("yes or no", []bool{true, false}, func(b bool) string {
		if b {
			return "yes"
		}
		return "no"
	})
)

const (
	minutesADay = 24 * 60
	fluidOunces = 128 // in a US gallon
	ounces      = 16  // in a pound
)

// must reads a unit that package unit is known to have.
func must[T any, P readable[T]](s string) T {
	var v T
	if err := P(&v).UnmarshalText([]byte(s)); err != nil {
		panic(err)
	}
	return v
}

func loadingOf(s string) float64  { return must[unit.Loading](s).GPMPerFt2() }
func capacityOf(s string) float64 { return must[unit.SpecificCapacity](s).GPMPerFt() }
func pressureOf(s string) float64 { return must[unit.Pressure](s).PSI() }
func areaOf(s string) float64     { return must[unit.Area](s).Ft2() }

// number parts a leading number from what follows it.
func number(s string) (float64, string, error) {
	s = strings.TrimSpace(s)
	for end := len(s); end > 0; end-- {
		v, err := strconv.ParseFloat(strings.ReplaceAll(s[:end], ",", ""), 64)
		if err == nil && !math.IsNaN(v) && !math.IsInf(v, 0) {
			return v, strings.TrimSpace(s[end:]), nil
		}
	}
	return 0, "", fmt.Errorf("%q does not begin with a number", s)
}

func readShare(s string) (float64, error) {
	v, rest, err := number(s)
	switch {
	case err != nil:
		return 0, err
	case rest == "%":
		return v / 100, nil
	case rest == "":
		return v, nil
	}
	return 0, &unit.UnknownError{What: "share", Unit: rest, Known: "0 to 1 without a unit, %"}
}

func percent(v float64) Amount { return Amount{Value: 100 * v, Unit: "%"} }

// spans are the units of time, shortest first, and from how many seconds on each
// is the one to show.
var spans = []struct {
	names   []string
	seconds float64
	from    float64
}{
	{[]string{"s", "sec", "second", "seconds"}, 1, 0},
	{[]string{"min", "minute", "minutes"}, 60, 120},
	{[]string{"h", "hour", "hours"}, 3600, 4 * 3600},
	{[]string{"days", "day", "d"}, 86400, 2 * 86400},
	{[]string{"years", "year", "yr"}, 365.25 * 86400, 2 * 365.25 * 86400},
}

func readTime(s string) (time.Duration, error) {
	v, rest, err := number(s)
	if err != nil {
		return 0, err
	}
	for _, p := range spans {
		for _, n := range p.names {
			if !strings.EqualFold(rest, n) {
				continue
			}
			if ns := v * p.seconds * float64(time.Second); math.Abs(ns) < math.MaxInt64 {
				return time.Duration(ns), nil
			}
			return 0, fmt.Errorf("%q is longer than can be reckoned, 290 years", s)
		}
	}
	return 0, &unit.UnknownError{What: "time", Unit: rest, Known: "s, min, h, days, years"}
}

// showTime picks the unit that suits the length.
func showTime(d time.Duration) Amount {
	if d == math.MaxInt64 {
		return Amount{Words: "longer than 290 years"}
	}
	p := spans[0]
	for _, q := range spans {
		if d.Seconds() >= q.from {
			p = q
		}
	}
	return Amount{Value: d.Seconds() / p.seconds, Unit: p.names[0]}
}
