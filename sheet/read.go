package sheet

import (
	"strings"

	"wellwright/plan"
	"wellwright/source"
	"wellwright/unit"
)

// The words of the papers part by part, for the pages that show them in tables.

// Place puts a jurisdiction into words.
func Place(code string) string { return place(code) }

// LeafWords parts a leaf name into words and unit.
func LeafWords(name string) (words, of string) { return leafWords(name) }

// Sourced is the kind and the source of a number, the kind said once.
func Sourced(k source.Kind, from string) string { return sourced(k, from) }

// Basis is the kind and the source of a limit, the kind said once.
func Basis(kind, from string) string { return once(kind, from) }

// Digits writes a number to some significant digits, its thousands set off.
func Digits(v float64, digits int) string { return figure(v, digits) }

// MgL writes a concentration as finely as household water is read.
func MgL(v float64) string { return milligrams(v) }

// Cash writes a price to the dollar.
func Cash(v float64) string { return usd(v) }

// Wait says how long a result takes.
func Wait(days float64) string { return wait(days) }

// TestName is a test, or two, in words.
func TestName(n plan.NextTest) string { return testName(n) }

// Preserved says what is put into a bottle.
func Preserved(with string) string { return preserved(with) }

// CheckWord says how a check came out: impossible, doubt, note or passed.
func CheckWord(c plan.Check) string {
	switch {
	case c.Verdict != "ok":
		return c.Verdict
	case noticed[c.ID]:
		return "note"
	}
	return "passed"
}

// Shares are the chances of explanations in whole per cents that add up.
func Shares(es []plan.Explanation) []int { return percents(es) }

// FormWords names what a clue speaks for.
func FormWords(toward string) string { return formWords(toward) }

// ClueMark says whether a clue speaks for or against, and by how much.
func ClueMark(c plan.Clue) string { return strings.TrimSuffix(clueMark(c), ": ") }

// ClueFound is what was found, without what it speaks for.
func ClueFound(c plan.Clue) string { return found(c) }

// Form is one form of iron with its range, mg/L.
type Form struct {
	ID, Name string
	plan.Range
}

// FormRows are the forms of iron, their sum first.
func FormRows(f plan.Forms) []Form {
	return []Form{
		{"iron_total_mg_l", "total", f.Total}, {"iron_ferrous_mg_l", "ferrous (dissolved, clear at the tap)", f.Ferrous},
		{"iron_particulate_mg_l", "particulate (rust)", f.Particulate}, {"iron_bound_mg_l", "bound (colloidal or organic)", f.Bound},
	}
}

// RawRows are the values of the raw water: words, unit, likeliest, from, to, and
// "assumed" or nothing.
func RawRows(water map[string]plan.Value, s unit.System) [][]string {
	return (&page{s: s}).rawRows(water)
}

// AssumedRow is a value nobody measured.
type AssumedRow struct{ Name, Value, From string }

// AssumedRows are the values that nobody measured.
func AssumedRows(as []plan.Assumed, s unit.System) []AssumedRow {
	rows := make([]AssumedRow, len(as))
	for i, x := range as {
		rows[i] = assumedRow(x, s)
	}
	return rows
}

// assumedRow writes one assumed value; the conversions begin at US units.
func assumedRow(x plan.Assumed, s unit.System) AssumedRow {
	name, u := leafWords(x.Name)
	if x.Unit != "" {
		u = x.Unit
	}
	v := x.Value
	if u == "C" || u == "°C" {
		v, u = each(v, func(c float64) float64 { return unit.Celsius(c).Fahrenheit() }), "F"
	}
	return AssumedRow{name, spanIn(v, u, s), prose(sourced(x.Kind, x.From), s)}
}

// NoOptions says why no option is listed.
func NoOptions(a plan.Answer) string { return noOptions(a) }

// NothingMeasured reports whether every value of the raw water was assumed.
func NothingMeasured(a plan.Answer) bool { return nothingMeasured(a.Water) }

// Ended names the limits that ended most trains.
func Ended(m map[string]int) string { return pruned(m) }

// FirstToFail is the first limit to fail of an option, and how often it is broken.
func FirstToFail(o plan.Option, s unit.System) string { return firstLimit(o.FirstLimit, s) + often(o) }

// LimitSays says what goes wrong at a limit and by how much.
func LimitSays(l plan.Limit, s unit.System) string { return why(l, s) }

// StageExtra is the count, size and mode of a stage; "" if there is nothing to say.
func StageExtra(st plan.Stage) string { return strings.TrimPrefix(extra(st), ": ") }

// Wash says what a vessel needs for its wash, under its mark: wash, regeneration
// or sludge.
func Wash(st plan.Stage, s unit.System) (mark, text string) {
	mark, text = (&page{s: s}).wash(st.Process, *st.Backwash)
	return strings.TrimSuffix(mark, ": "), text
}

// Forecast is what should be read at each tap: names, units, and a row a tap.
func Forecast(o plan.Option, s unit.System) [][]string { return (&page{s: s}).forecastRows(o) }

// TreatedWhere names the place of a treatment.
func TreatedWhere(place string) string { return treatedWhere[place] }

// Flip is what would bring another train to the front.
type Flip struct {
	When []string // each by itself
	Then string
}

// Flips are what would change the first choice, under the train that would then
// come first.
func Flips(fs []plan.Flip) []Flip {
	at := map[string]int{}
	var out []Flip
	for _, f := range fs {
		head, _, _ := strings.Cut(f.Say, ": ")
		k, seen := at[f.To]
		if !seen {
			k = len(out)
			at[f.To] = k
			out = append(out, Flip{Then: flippedTo(f.To)})
		}
		out[k].When = append(out[k].When, head)
	}
	return out
}

// Turned is a limit with the trains that fall to it.
type Turned struct {
	Why    string
	Trains [][]string // by process
}

// TurnedDown are the trains that were not chosen, under the first limit to fail.
func TurnedDown(rs []plan.Rejected, s unit.System) []Turned {
	at := map[string]int{}
	var out []Turned
	for _, r := range rs {
		w := why(r.FirstLimit, s)
		k, seen := at[w]
		if !seen {
			k = len(out)
			at[w] = k
			out = append(out, Turned{Why: w})
		}
		out[k].Trains = append(out[k].Trains, r.Train)
	}
	return out
}

// LimitGroup is the limits of one stage, or of the whole train.
type LimitGroup struct {
	Stage string
	Rows  []LimitRow
}

// LimitRow is one limit; where two figures stand under Needs, the first is a
// caution and the second rules the train out.
type LimitRow struct {
	Fails                          bool
	Name, Unit, Has, Needs, Margin string
	Basis                          string // kind and source
}

// Limits lists every limit under the stage it stands in.
func Limits(ls []plan.Limit, s unit.System) []LimitGroup {
	var groups []LimitGroup
	at := ""
	for i := 0; i < len(ls); i++ {
		l := ls[i]
		if l.Stage != at || len(groups) == 0 {
			at = l.Stage
			groups = append(groups, LimitGroup{Stage: stageWords(at)})
		}
		var other *plan.Limit
		if i+1 < len(ls) && paired(l, ls[i+1]) {
			i++
			other = &ls[i]
		}
		r := limitRow(l, other, s)
		g := &groups[len(groups)-1]
		g.Rows = append(g.Rows, LimitRow{Fails: r[0] != "", Name: r[1], Unit: r[2], Has: r[3], Needs: r[4], Margin: r[5], Basis: once(l.Kind, l.From)})
	}
	return groups
}
