package sheet

import (
	"regexp"
	"sort"
	"strconv"
	"strings"

	"wellwright/unit"
)

// amount writes a value with its unit in the system, to some digits.
func amount(v float64, u string, digits int, s unit.System) string {
	v, u = unit.InSystem(v, u, s)
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
	for _, u := range unit.USUnits() {
		if u != "in" && u != "F" {
			us = append(us, regexp.QuoteMeta(u))
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
	v, u = unit.InSystem(v, u, s)
	return figure(v, min(max(digits, 2), 4)), u
}
