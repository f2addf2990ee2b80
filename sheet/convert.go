package sheet

import (
	"regexp"
	"sort"
	"strconv"
	"strings"

	"wellwright/unit"
)

// conversion is a unit of the answer and what a metric sheet prints in its place.
type conversion struct {
	us, metric string
	times      float64 // metric units in one US unit
	plus       float64
}

// conversions are all US units that stand in an answer, a limit or its words.
// Definitions; each figure is made by package unit.
var conversions = []conversion{
	{us: "mg/L x gpm/ft2", metric: "g/m2/h", times: unit.GPM(1).M3PerHour() / m2PerFt2},
	{us: "gpm/ft3", metric: "bed volumes/h", times: 60 * unit.GPM(1).LPerMin() / unit.Ft3(1).L()},
	{us: "gpm/ft2", metric: "m/h", times: unit.GPM(1).M3PerHour() / m2PerFt2},
	{us: "gpm/ft", metric: "L/min/m", times: unit.GPM(1).LPerMin() / unit.Ft(1).M()},
	{us: "gpm", metric: "L/min", times: unit.GPM(1).LPerMin()},
	{us: "gal/day", metric: "L/day", times: unit.Gal(1).L()},
	{us: "gal/year", metric: "L/year", times: unit.Gal(1).L()},
	{us: "gal", metric: "L", times: unit.Gal(1).L()},
	{us: "psi", metric: "kPa", times: unit.PSI(1).KPa()},
	{us: "gpg", metric: "mg/L as CaCO3", times: unit.GPG(1).MgPerLAsCaCO3()},
	{us: "mg/L per gpg", metric: "mg per mg CaCO3", times: 1 / unit.GPG(1).MgPerLAsCaCO3()},
	{us: "grains/ft2/day", metric: "g/m2/day", times: unit.Grains(1).G() / m2PerFt2},
	{us: "grains/ft2", metric: "g/m2", times: unit.Grains(1).G() / m2PerFt2},
	{us: "grains/day", metric: "g/day", times: unit.Grains(1).G()},
	{us: "grains", metric: "g", times: unit.Grains(1).G()},
	{us: "lb/ft2", metric: "kg/m2", times: unit.Lb(1).Kg() / m2PerFt2},
	{us: "lb/ft3", metric: "kg/L", times: unit.Lb(1).Kg() / unit.Ft3(1).L()},
	{us: "lb/year", metric: "kg/year", times: unit.Lb(1).Kg()},
	{us: "lb", metric: "kg", times: unit.Lb(1).Kg()},
	{us: "oz", metric: "g", times: unit.Lb(1).G() / 16},
	{us: "ft3", metric: "L", times: unit.Ft3(1).L()},
	{us: "ft2", metric: "m2", times: m2PerFt2},
	{us: "ft", metric: "m", times: unit.Ft(1).M()},
	{us: "in", metric: "mm", times: unit.Inches(1).MM()},
	{us: "F", metric: "°C", times: 5.0 / 9, plus: unit.Fahrenheit(0).Celsius()},
}

var m2PerFt2 = unit.Ft(1).M() * unit.Ft(1).M()

// convert turns a value with a unit of the answer into the system's.
func convert(v float64, u string, s unit.System) (float64, string) {
	if s == unit.US {
		return v, u
	}
	for _, c := range conversions {
		if c.us == u {
			return v*c.times + c.plus, c.metric
		}
	}
	return v, u
}

// amount writes a value with its unit in the system, to some digits.
func amount(v float64, u string, digits int, s unit.System) string {
	v, u = convert(v, u, s)
	return strings.TrimSpace(figure(v, digits) + " " + u)
}

// figure writes a number to some significant digits, no finer than a hundredth
// and no longer than known, with its thousands set off.
func figure(v float64, digits int) string {
	text := unit.Significant(v, digits)
	if whole, _, _ := strings.Cut(strings.TrimPrefix(text, "-"), "."); len(whole) > digits {
		text = unit.Significant(rounded(v, digits), digits)
	}
	whole, part, dotted := strings.Cut(text, ".")
	for i := len(whole) - 3; i > len(text)-len(strings.TrimPrefix(text, "-")); i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if dotted {
		return whole + "." + part
	}
	return whole
}

// inProse finds a figure, or a range of two, before a US unit. An inch is only
// taken where nothing else can be meant by "in".
var inProse = func() *regexp.Regexp {
	var us []string
	for _, c := range conversions {
		if c.us != "in" && c.us != "F" {
			us = append(us, regexp.QuoteMeta(c.us))
		}
	}
	sort.Slice(us, func(i, k int) bool { return len(us[i]) > len(us[k]) })
	const number = `\d[\d,]*(?:\.\d+)?`
	return regexp.MustCompile(`(` + number + `)(?:( to |–| x |/)(` + number + `))? (` + strings.Join(us, "|") + `|in\b[.,;:)]|in$|in x)(\W|$)`)
}()

// prose turns the US figures of a text into the system's, as finely as they were
// written.
func prose(text string, s unit.System) string {
	if s == unit.US {
		return text
	}
	return inProse.ReplaceAllStringFunc(text, func(m string) string {
		p := inProse.FindStringSubmatch(m)
		u, tail := strings.TrimRight(p[4], ".,;:)"), p[5]
		tail = strings.TrimPrefix(p[4], u) + tail
		low, to := written(p[1], u, s)
		if p[3] != "" {
			high, _ := written(p[3], u, s)
			low += p[2] + high
		}
		return low + " " + to + tail
	})
}

// written converts one figure of a text and keeps its digits, two at least.
func written(text, u string, s unit.System) (string, string) {
	v, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", ""), 64)
	if err != nil {
		return text, u
	}
	digits := len(strings.TrimLeft(strings.NewReplacer(".", "", ",", "").Replace(text), "0"))
	v, u = convert(v, u, s)
	return figure(v, min(max(digits, 2), 4)), u
}
