package sheet

import (
	"strings"

	"wellwright/book"
	"wellwright/plan"
	"wellwright/unit"
)

// The words and figures of the papers, for the pages that show the same answer.

// SystemOf is the unit system of a well's place: US in the United States, else
// metric.
func SystemOf(p book.Present) unit.System {
	if at := strings.ToUpper(strings.TrimSpace(p.Wishes.Jurisdiction)); at != "" && !strings.HasPrefix(at, "US") {
		return unit.Metric
	}
	return unit.US
}

// Amount writes a value with its unit in a system, to some digits.
func Amount(v float64, of string, digits int, s unit.System) string { return amount(v, of, digits, s) }

// Spread writes a range with its unit in a system.
func Spread(r plan.Range, of string, s unit.System) string { return spanIn(r, of, s) }

// Prose turns the US figures of a sentence into a system's.
func Prose(text string, s unit.System) string { return prose(text, s) }

// Dollars writes a cost with its range, to two figures.
func Dollars(r plan.Range) string { return dollars(r) }

// USD writes one cost, to two figures.
func USD(v float64) string { return "$" + thousands(v) }

// Chance puts a probability into words with its figure.
func Chance(v float64) string { return chance(v) }

// AlertWord is what stands before an alert: stop now, act, watch, look into.
func AlertWord(x plan.Alert) string { return alertWord(x) }

// TrainWords names the stages of an option in flow order.
func TrainWords(o plan.Option) string { return trainWords(o) }

// Train names the processes of a train in flow order.
func Train(ids []string) string { return trainOf(ids) }

// Processes names processes in a list.
func Processes(ids []string) string { return processes(ids) }

// FirstLimit says what the first limit to fail has and needs, and its margin.
func FirstLimit(l plan.Limit, s unit.System) string { return firstLimit(l, s) }

// Sureness says in how many of the plausible wells an option does all that is
// asked.
func Sureness(o plan.Option) string { return sureness(o) }

// Figure is a size or a setting as it is printed.
type Figure struct {
	Name   string // leaf name
	Words  string
	Amount string
}

// Figures lists the sizes or settings of a stage in printing order, without what
// its wash says already.
func Figures(values map[string]float64, st plan.Stage, s unit.System) []Figure {
	p := &page{s: s}
	var out []Figure
	for _, l := range leaves {
		if v, ok := values[l.name]; ok && !repeats(values, l.name, st) {
			out = append(out, Figure{l.name, l.words, p.ranged(values, l.name, l.leaf, v)})
		}
	}
	return out
}
