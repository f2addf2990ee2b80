// Package unit holds measured quantities. Each meaning has one opaque type,
// made and read only by naming a unit, parsed from and printed in US and metric
// units. It imports nothing of ours.
package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// System is the family of units an answer is printed in.
type System int

// The two families. US is the zero value: the trade and its bulletins use it.
const (
	US System = iota
	Metric
)

// ParseSystem reads "us" or "metric".
func ParseSystem(s string) (System, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "us":
		return US, nil
	case "metric", "si":
		return Metric, nil
	}
	return US, fmt.Errorf("units %q: want us or metric", s)
}

// String returns the name ParseSystem reads.
func (s System) String() string {
	if s == Metric {
		return "metric"
	}
	return "us"
}

// measure is one unit of a dimension: base = amount·factor + offset.
type measure struct {
	name   string
	factor float64
	offset float64
	also   []string
}

// dimension says how one kind of quantity is read and printed. Its first unit
// is the base, in which the opaque type keeps its number.
type dimension struct {
	what   string
	units  []measure
	us     string
	metric string
	low    float64 // least possible value in base units
}

// numberAndUnit splits "9.5 gpm" into the number and the unit text.
func numberAndUnit(s string) (float64, string, error) {
	s = strings.TrimSpace(s)
	end := 0
	for end < len(s) && strings.ContainsRune("+-0123456789.eE,", rune(s[end])) {
		if (s[end] == 'e' || s[end] == 'E') && !exponentAt(s, end) {
			break
		}
		end++
	}
	if !commasPartThousands(s[:end]) {
		return 0, "", fmt.Errorf("%q: a comma may only part thousands, as in 1,000; write a decimal point", s)
	}
	n, err := strconv.ParseFloat(strings.ReplaceAll(s[:end], ",", ""), 64)
	if math.IsInf(n, 0) {
		return 0, "", fmt.Errorf("%q is too large a number", s)
	}
	if err != nil || math.IsNaN(n) {
		return 0, "", fmt.Errorf("%q does not begin with a number", s)
	}
	return n, strings.TrimSpace(s[end:]), nil
}

// commasPartThousands reports whether each comma in a number parts thousands.
// A decimal comma would be read ten or a hundred times too large: 9,5 as 95.
func commasPartThousands(number string) bool {
	whole, rest, _ := strings.Cut(number, ".")
	groups := strings.Split(strings.TrimLeft(whole, "+-"), ",")
	if strings.Contains(rest, ",") {
		return false
	}
	if len(groups) > 1 && (groups[0] == "" || groups[0][0] == '0' || len(groups[0]) > 3) {
		return false
	}
	for _, g := range groups[1:] {
		if len(g) != 3 {
			return false
		}
	}
	return true
}

// exponentAt reports whether the e at i is followed by digits, as in 1e3.
func exponentAt(s string, i int) bool {
	i++
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	return i < len(s) && s[i] >= '0' && s[i] <= '9'
}

// find returns the unit called name, by any of its spellings.
func (d *dimension) find(name string) (measure, bool) {
	key := fold(name)
	for _, u := range d.units {
		if fold(u.name) == key {
			return u, true
		}
		for _, a := range u.also {
			if fold(a) == key {
				return u, true
			}
		}
	}
	return measure{}, false
}

// fold makes two spellings of one unit alike.
func fold(s string) string {
	s = strings.ToLower(strings.Join(strings.Fields(s), " "))
	return strings.NewReplacer("µ", "u", "μ", "u", "²", "2", "³", "3", "°", "", "·", " ").Replace(s)
}

// parse reads a number with its unit into base units.
func (d *dimension) parse(s string) (float64, error) {
	n, name, err := numberAndUnit(s)
	if err != nil {
		return 0, fmt.Errorf("%s: %w; write a number and a unit, such as %q", d.what, err, d.example())
	}
	u, ok := d.find(name)
	if !ok {
		return 0, &UnknownError{What: d.what, Unit: name, Known: d.names()}
	}
	return d.within(n*u.factor+u.offset, strings.TrimSpace(s))
}

// within returns base value v, written as s, if it is possible. A limit written
// in another unit may miss the limit by the last digit of the arithmetic, as
// -459.67 F does; it is taken as the limit.
func (d *dimension) within(v float64, s string) (float64, error) {
	if math.IsInf(v, 0) {
		return 0, fmt.Errorf("%s: %s is too large a number", d.what, s)
	}
	if v < d.low-1e-12*math.Abs(d.low) {
		least := strings.TrimSpace(fmt.Sprintf("%g %s", d.low, d.units[0].name))
		return 0, fmt.Errorf("%s: %s is below the least possible, %s", d.what, s, least)
	}
	return math.Max(v, d.low), nil
}

// UnknownError says that a number came with no unit, or with one that its kind
// of quantity is not written in.
type UnknownError struct {
	What  string // the kind of quantity
	Unit  string // as read; "" if there was none
	Known string // the units that would be right, parted by commas
}

// Error names the unit read and those that would be right.
func (e *UnknownError) Error() string {
	return fmt.Sprintf("%s: unit %q is not one of %s", e.What, e.Unit, e.Known)
}

func (d *dimension) example() string {
	u, _ := d.find(d.us)
	if u.name == "" {
		return "7"
	}
	return "7 " + u.name
}

func (d *dimension) names() string {
	var b []string
	for _, u := range d.units {
		if u.name == "" {
			b = append(b, "(no unit)")
			continue
		}
		b = append(b, u.name)
	}
	return strings.Join(b, ", ")
}

// print writes base value v in the preferred unit of sys.
func (d *dimension) print(v float64, sys System) string {
	name := d.us
	if sys == Metric {
		name = d.metric
	}
	return d.printIn(v, name)
}

func (d *dimension) printIn(v float64, name string) string {
	u, _ := d.find(name)
	return strings.TrimSpace(Digits((v-u.offset)/u.factor) + " " + u.name)
}

// exact writes v in the base unit with every digit, for a file. What is no
// number is an error: it could not be read back.
func (d *dimension) exact(v float64) ([]byte, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("%s: %g %s is not a number that can be written", d.what, v, d.units[0].name)
	}
	return []byte(strings.TrimSpace(strconv.FormatFloat(v, 'g', -1, 64) + " " + d.units[0].name)), nil
}

// Digits writes a number as a person would read it: three significant figures,
// no exponent, no trailing zeros.
func Digits(v float64) string { return Significant(v, 3) }

// Significant writes v with n significant figures and no exponent; figures
// before the decimal point are all kept.
func Significant(v float64, n int) string {
	if v == 0 {
		return "0" // a negative zero too
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	decimals := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	if decimals < 0 {
		decimals = 0
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
