package unit

// conversion is a unit of the answer and what a metric sheet prints in its place.
type conversion struct {
	us, metric string
	times      float64 // metric units in one US unit
	plus       float64
}

// conversions are all US units that stand in an answer, a limit or its words.
// Definitions; each figure is made by the types of this package.
var conversions = []conversion{
	{us: "mg/L x gpm/ft2", metric: "g/m2/h", times: GPM(1).M3PerHour() / m2PerFt2},
	{us: "gpm/ft3", metric: "bed volumes/h", times: 60 * GPM(1).LPerMin() / Ft3(1).L()},
	{us: "gpm/ft2", metric: "m/h", times: GPM(1).M3PerHour() / m2PerFt2},
	{us: "gpm/ft", metric: "L/min/m", times: GPM(1).LPerMin() / Ft(1).M()},
	{us: "gpm", metric: "L/min", times: GPM(1).LPerMin()},
	{us: "gal/day", metric: "L/day", times: Gal(1).L()},
	{us: "gal/year", metric: "L/year", times: Gal(1).L()},
	{us: "gal", metric: "L", times: Gal(1).L()},
	{us: "psi", metric: "kPa", times: PSI(1).KPa()},
	{us: "gpg", metric: "mg/L as CaCO3", times: GPG(1).MgPerLAsCaCO3()},
	{us: "mg/L per gpg", metric: "mg per mg CaCO3", times: 1 / GPG(1).MgPerLAsCaCO3()},
	{us: "grains/ft2/day", metric: "g/m2/day", times: Grains(1).G() / m2PerFt2},
	{us: "grains/ft2", metric: "g/m2", times: Grains(1).G() / m2PerFt2},
	{us: "grains/day", metric: "g/day", times: Grains(1).G()},
	{us: "grains", metric: "g", times: Grains(1).G()},
	{us: "lb/ft2", metric: "kg/m2", times: Lb(1).Kg() / m2PerFt2},
	{us: "lb/ft3", metric: "kg/L", times: Lb(1).Kg() / Ft3(1).L()},
	{us: "lb/year", metric: "kg/year", times: Lb(1).Kg()},
	{us: "lb", metric: "kg", times: Lb(1).Kg()},
	{us: "oz", metric: "g", times: Lb(1).G() / 16},
	{us: "ft3", metric: "L", times: Ft3(1).L()},
	{us: "ft2", metric: "m2", times: m2PerFt2},
	{us: "ft", metric: "m", times: Ft(1).M()},
	{us: "in", metric: "mm", times: Inches(1).MM()},
	{us: "F", metric: "°C", times: 5.0 / 9, plus: Fahrenheit(0).Celsius()},
}

var m2PerFt2 = Ft(1).M() * Ft(1).M()

// USUnits are the units that InSystem turns into metric ones.
func USUnits() []string {
	us := make([]string, len(conversions))
	for i, c := range conversions {
		us[i] = c.us
	}
	return us
}

// InSystem turns a value with a unit of the answer into that of a system; a unit that
// both use stays.
func InSystem(v float64, u string, s System) (float64, string) {
	if s == US {
		return v, u
	}
	for _, c := range conversions {
		if c.us == u {
			return v*c.times + c.plus, c.metric
		}
	}
	return v, u
}
