package web

import (
	"fmt"
	"math"
	"strings"
	"time"

	"wellwright/book"
	"wellwright/limits"
	"wellwright/sheet"
	"wellwright/unit"
	"wellwright/water"
)

// resultRow is one result of a report with all that is known of it.
type resultRow struct {
	analyte  water.Analyte
	fraction water.Fraction

	Name    string
	Printed string // as received; "" if only site has it
	Read    string // in the reader's unit
	Assumed string // what the report did not say and was taken for granted
	OnSite  []onSite
	Stands  []standing
	Notes   []string
}

// onSite is a reading beside a result.
type onSite struct{ Read, Note, Tap string }

// standing is how a figure stands to a limit.
type standing struct {
	rank int

	Outcome string // meets, watch, exceeds, undecided
	Words   string
	Limit   string
	Basis   string // what the limit protects
	Kind    string
	Source  string
	Say     string
	Bar     int // where the figure stands, of a strip of stripLong
	Low     bool
}

// The strip on which a figure stands to a limit: the wall at the limit, and an end.
const (
	stripWall = 48
	stripLong = 80
)

// like reports whether a reading belongs into the row.
func (r resultRow) like(x water.Result) bool {
	whole := func(f water.Fraction) bool {
		return f == water.Unspecified || f == water.Total || f == water.Recoverable
	}
	return r.analyte == x.Analyte && (r.fraction == x.Fraction || whole(r.fraction) && whole(x.Fraction))
}

// asWritten is a result as it stands in the book.
type asWritten struct {
	key, value string
	line       int
	taken      bool
}

// writings are the results of an entry in the words of whoever wrote them.
type writings []asWritten

// written lists the results of an entry in the order of the book.
func written(e book.Entry) writings {
	var words writings
	all, _ := e.Section.Get("results")
	for _, p := range all.Pairs {
		vs := p.Value.List
		if p.Value.Shape != book.List {
			vs = []book.Value{p.Value}
		}
		for _, v := range vs {
			text := v.Text
			if named, ok := v.Get("value"); ok {
				text = named.Text
			}
			words = append(words, asWritten{key: p.Key, value: text, line: v.Line})
		}
	}
	return words
}

// take returns how a result was written, each once: several may stand on a line.
func (w writings) take(x water.Result) asWritten {
	for _, strict := range []bool{true, false} {
		for i, one := range w {
			a, f, _, ok := water.ParseAnalyte(one.key)
			if one.taken || one.line != x.Place.Line || !ok || a != x.Analyte || strict && f != x.Fraction {
				continue
			}
			w[i].taken = true
			return one
		}
	}
	return asWritten{}
}

// judged tells the results of a report apart: several may stand on a line.
type judged struct {
	line     int
	analyte  water.Analyte
	fraction water.Fraction
}

// judgedBy are the findings on a report by the result they are on.
func judgedBy(found []limits.Finding) map[judged][]limits.Finding {
	by := map[judged][]limits.Finding{}
	for _, f := range found {
		key := judged{f.Place.Line, f.Amount.Analyte, f.Amount.Fraction}
		by[key] = append(by[key], f)
	}
	return by
}

func judgedKey(x water.Result) judged { return judged{x.Place.Line, x.Analyte, x.Fraction} }

// name is the name of a result as written, or ours.
func (w asWritten) name(x water.Result) string {
	switch {
	case w.key != "" && x.Fraction != water.Unspecified && !strings.Contains(strings.ToLower(w.key), x.Fraction.String()):
		return w.key + ", " + x.Fraction.String()
	case w.key != "":
		return w.key
	case x.Fraction != water.Unspecified:
		return x.Analyte.Name() + ", " + x.Fraction.String()
	}
	return x.Analyte.Name()
}

// row is one result of a report.
func (b reporter) row(r water.Report, x water.Result, w asWritten, found []limits.Finding) resultRow {
	row := resultRow{analyte: x.Analyte, fraction: x.Fraction, Name: w.name(x), Printed: w.value, Read: b.read(x), Notes: b.notes(r, x)}
	if got, err := x.Amount(); err == nil {
		row.Assumed = got.Assumed
	} else {
		row.Notes = append(row.Notes, "not used: "+err.Error())
	}
	for _, f := range found {
		row.Stands = append(row.Stands, b.stands(f))
	}
	return row
}

// read writes a result in the reader's unit; what cannot be read is left out.
func (b reporter) read(x water.Result) string {
	got, err := x.Amount()
	if err != nil {
		return ""
	}
	switch got.Sign {
	case water.Present:
		return "present"
	case water.Absent:
		return "absent"
	}
	v, _ := got.Canonical()
	return signOf(got.Sign) + b.asRead(v, x.Analyte.Dimension())
}

func signOf(s water.Sign) string {
	switch s {
	case water.Below:
		return "<"
	case water.Above:
		return ">"
	}
	return ""
}

// asRead writes an amount as the reader counts it: hardness in grains and
// temperature in Fahrenheit in US units. No laboratory prints more than four
// figures.
func (v view) asRead(x float64, of water.Dimension) string {
	u := of.Unit()
	switch of {
	case water.OfHardness:
		if !v.Metric() {
			x, u = unit.HardnessAsCaCO3(x).GPG(), "gpg"
		}
	case water.OfTemperature:
		if u = "°C"; !v.Metric() {
			x, u = unit.Celsius(x).Fahrenheit(), "°F"
		}
	case water.OfPH:
		u = ""
	}
	digits := 4
	if u == "gpg" || u == "°F" {
		digits = 3
	}
	return v.marks(strings.TrimSpace(unit.Significant(x, digits) + " " + u))
}

// notes are method, detection limit, holding time and remarks of a result.
func (b reporter) notes(r water.Report, x water.Result) []string {
	var all []string
	if x.Method != "" {
		all = append(all, "method "+x.Method)
	}
	if x.Limit != nil {
		all = append(all, b.marks(strings.TrimSpace("detection limit "+unit.Digits(*x.Limit)+" "+x.Unit)))
	}
	if say := b.held(r, x); say != "" {
		all = append(all, say)
	}
	if x.Note != "" {
		all = append(all, x.Note)
	}
	return all
}

// held says how long a sample was kept where that is longer than its test allows.
// A date without an hour is read to the sample's favour.
func (b reporter) held(r water.Report, x water.Result) string {
	h, ok := water.HandlingOf(x.Analyte, x.Fraction)
	if r.Field || !ok || r.Analysed.IsZero() {
		return ""
	}
	least := r.Analysed.Sub(r.Sampled)
	if midnight(r.Sampled) {
		least -= 24 * time.Hour
	}
	if least <= h.Hold {
		return ""
	}
	say := "kept " + lasting(least) + " or more; " + lasting(h.Hold) + " asked"
	if h.Spoils != "" {
		say += ": " + h.Spoils
	}
	return say
}

func midnight(t time.Time) bool { return t.Equal(t.Truncate(24 * time.Hour)) }

// lasting writes a length of time in the unit that fits it.
func lasting(d time.Duration) string {
	switch {
	case d < 2*time.Hour:
		return fmt.Sprintf("%.0f min", d.Minutes())
	case d < 72*time.Hour:
		return fmt.Sprintf("%.0f h", d.Hours())
	}
	return fmt.Sprintf("%.0f days", d.Hours()/24)
}

// outcomeWords say how a figure stands to a limit.
var outcomeWords = map[limits.Outcome]string{
	limits.Meets: "met", limits.Watch: "met, but near", limits.Exceeds: "above", limits.Undecided: "cannot tell",
}

// stands is how one figure stands to one limit.
func (b reporter) stands(f limits.Finding) standing {
	s := standing{rank: f.Rank, Outcome: f.Outcome.String(), Words: outcomeWords[f.Outcome], Limit: b.Prose(f.Limit.String()), Basis: f.Limit.Basis.String(), Kind: f.Kind.String(),
		Source: sheet.Sourced(f.Kind, f.From), Say: b.Prose(f.Say)}
	s.Bar, s.Low = barOf(f)
	if s.Low {
		s.Words = "below"
	}
	return s
}

// barOf is where a figure stands on the strip: short of the wall by its share of
// the limit, beyond it by the logarithm, full at ten times. Low is true of what
// falls short of a least value.
func barOf(f limits.Finding) (bar int, low bool) {
	v, _ := f.Amount.Canonical()
	switch {
	case f.Amount.Sign == water.Present:
		return stripLong, false
	case f.Amount.Sign == water.Absent:
		return 0, false
	case f.Limit.Low != nil && !f.Limit.Between && v < *f.Limit.Low:
		return stripWall / 2, true
	case f.Limit.High == nil:
		return stripWall / 2, false
	case *f.Limit.High <= 0:
		return stripLong * min(1, int(math.Ceil(v))), false
	case v <= *f.Limit.High:
		return int(math.Max(0, stripWall*v / *f.Limit.High)), false
	}
	return stripWall + int((stripLong-stripWall)*math.Min(1, math.Max(0.2, math.Log10(v / *f.Limit.High)))), false
}
