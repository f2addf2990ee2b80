package limits

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"time"

	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// Household is what must be known of the people to judge their water.
type Household struct {
	Infant         bool // fed from the tap, or visiting
	Pregnant       bool
	LowSodium      bool // someone is told to limit sodium
	ColiformBefore bool // a sample before this one held coliform
	Serves         int  // people a day, when more than the household; zero is the household
	Connections    int  // service connections, when more than one
}

// Outcome is how one test stands to one limit.
type Outcome int

// The outcomes.
const (
	Meets Outcome = iota
	Watch         // met, but above half a limit of health, or in the range an authority gives
	Exceeds
	Undecided // the figure cannot tell
)

var outcomeNames = [...]string{"meets", "watch", "exceeds", "undecided"}

// String returns the outcome in a word.
func (o Outcome) String() string {
	if o < 0 || int(o) >= len(outcomeNames) {
		return "unknown outcome"
	}
	return outcomeNames[o]
}

// MarshalText writes the outcome in a word.
func (o Outcome) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// Finding is one test against one limit. Rank is the order in which to speak to
// the household: 1 stop now, 2 health, act, 3 health, watch, 4 harm to the house,
// 5 nuisance; 0 is nothing to say.
type Finding struct {
	ID      string // the analyte, or public_supply
	Rank    int
	Outcome Outcome
	Amount  water.Amount
	Limit   Limit
	Say     string
	Do      string // "" if nothing
	Kind    source.Kind
	From    string
	Place   water.Place
}

// watchShare is the share of a limit of health above which a figure is watched.
var watchShare = source.Factor{Name: "limits_watch_share", What: "share of a health limit above which a result is watched",
	Value: 0.5, Kind: source.CommonPractice, From: srcTrade}

// infantManganese is the least of the manganese values for bottle-fed infants; it
// is flagged whatever the jurisdiction.
var infantManganese = source.Factor{Name: "limits_infant_manganese", What: "manganese flagged wherever an infant is fed from the tap", Unit: "mg/L",
	Value: 0.08, Kind: source.Published, From: "WHO guidelines 2022, provisional value for bottle-fed infants (read second hand)"}

// publicPeople is the number of people a day that makes a supply public in US law.
var publicPeople = source.Factor{Name: "limits_public_people", What: "people a day on 60 days a year that make a supply public", Unit: "people",
	Value: 25, Kind: source.Published, From: "40 CFR 143.2 (definition of a public water system; also 15 connections)"}

// Factors returns every factor of this room.
func Factors() []source.Factor {
	return []source.Factor{watchShare, infantManganese, publicPeople, publicConnections}
}

// publicConnections is the number of service connections that does the same.
var publicConnections = source.Factor{Name: "limits_public_connections", What: "service connections that make a supply public", Unit: "connections",
	Value: 15, Kind: source.Published, From: "40 CFR 143.2 (definition of a public water system; also 25 people)"}

// Public says what makes a supply a public one in US law; "" of a private one.
func Public(set source.Set, who Household) string {
	switch people, taps := set.Of(publicPeople), set.Of(publicConnections); {
	case float64(who.Serves) >= people:
		return fmt.Sprintf("%d people a day drink here: in the United States %g on 60 days a year make", who.Serves, people)
	case float64(who.Connections) >= taps:
		return fmt.Sprintf("%d service connections hang on this well: in the United States %g make", who.Connections, taps)
	}
	return ""
}

// Judge lays a report against the table, gravest finding first. Every analyte
// that has a limit gets at least one finding, so that what was met is said too.
func (t Table) Judge(r water.Report, who Household) []Finding {
	return t.JudgeWith(source.Set{}, r, who)
}

// JudgeWith is Judge with the user's own factors.
func (t Table) JudgeWith(set source.Set, r water.Report, who Household) []Finding {
	j := judge{set, t, who}
	var found []Finding
	if f, ok := j.publicSupply(); ok {
		found = append(found, f)
	}
	for _, a := range water.Analytes() {
		found = append(found, j.analyte(r, a)...)
	}
	sort.SliceStable(found, func(a, b int) bool { return order(found[a]) < order(found[b]) })
	return found
}

// order puts findings with nothing to say last, and what is undecided after what
// is exceeded.
func order(f Finding) int {
	rank := f.Rank
	if rank == 0 {
		rank = 9
	}
	o := 10 * rank
	if f.Outcome != Exceeds {
		o++
	}
	return o
}

type judge struct {
	set   source.Set
	table Table
	who   Household
}

// publicSupply flags a supply that is more than a household's.
func (j judge) publicSupply() (Finding, bool) {
	why := Public(j.set, j.who)
	if why == "" {
		return Finding{}, false
	}
	return Finding{ID: "public_supply", Rank: 2, Outcome: Undecided, Kind: publicPeople.Kind, From: publicPeople.From,
		Say: why + " a public water supply, on which these limits bind",
		Do:  "ring the drinking-water office of the state, province or country before anything is changed"}, true
}

// analyte judges one analyte by all its limits: what is exceeded or to be
// watched, else the one limit that was nearest.
func (j judge) analyte(r water.Report, a water.Analyte) []Finding {
	res, ok := r.Find(a, water.Unspecified)
	if !ok {
		return nil
	}
	got, err := res.Amount()
	if err != nil {
		return nil
	}
	var spoken []Finding
	var best *Finding
	seen := map[string]bool{}
	for _, l := range j.limitsOf(a) {
		key := l.key()
		if seen[key] || l.Basis == Class || !j.concerns(l) {
			continue
		}
		seen[key] = true
		f := j.one(got, l, res.Place)
		if f.Outcome != Meets {
			spoken = append(spoken, f)
		} else if best == nil {
			best = &f
		}
	}
	spoken = j.infant(got, spoken, res.Place)
	if len(spoken) == 0 && best != nil {
		return []Finding{*best}
	}
	return onlyGravestWatch(spoken)
}

// key tells limits apart that would say the same thing twice.
func (l Limit) key() string {
	k := fmt.Sprint(l.Basis.Protects())
	if l.High != nil {
		k += unit.Digits(*l.High)
	}
	if l.Low != nil {
		k += "/" + unit.Digits(*l.Low)
	}
	return k
}

// limitsOf returns the limits of a, and for the sum of nitrate and nitrite those
// of nitrate where the sum has none: nitrate is never more than the sum.
func (j judge) limitsOf(a water.Analyte) []Limit {
	of := j.table.Of(a)
	if len(of) > 0 || a != water.NitrateNitrite {
		return of
	}
	for _, l := range j.table.Of(water.Nitrate) {
		l.Analyte = water.NitrateNitrite
		of = append(of, l)
	}
	return of
}

// concerns reports whether a limit touches these people: the sodium advice is for
// restricted diets only.
func (j judge) concerns(l Limit) bool {
	return l.Analyte != water.Sodium || !l.Basis.Protects() || j.who.LowSodium || l.Kind == source.Own
}

// onlyGravestWatch leaves one word of watching, and none where a limit of health
// is exceeded anyway.
func onlyGravestWatch(fs []Finding) []Finding {
	var out []Finding
	watched := false
	for _, f := range fs {
		watched = watched || f.Outcome == Exceeds && f.Limit.Basis.Protects()
	}
	for _, f := range fs {
		if f.Outcome == Watch {
			if watched {
				continue
			}
			watched = true
		}
		out = append(out, f)
	}
	return out
}

// one judges an amount by one limit.
func (j judge) one(got water.Amount, l Limit, place water.Place) Finding {
	f := Finding{ID: string(got.Analyte), Amount: got, Limit: l, Kind: l.Kind, From: l.Source, Place: place}
	f.Outcome = j.outcome(got, l)
	f.Rank = j.rank(f)
	f.Say = say(f, j.table.Date)
	if f.Rank > 0 {
		f.Do = advice(got.Analyte, f)
	}
	return f
}

// outcome compares. Equal to a limit meets it; a non-detect decides only when its
// own limit does.
func (j judge) outcome(got water.Amount, l Limit) Outcome {
	if got.Sign == water.Present || got.Sign == water.Absent {
		return counted(got.Sign)
	}
	v, _ := got.Canonical()
	germs := got.Analyte.Dimension() == water.OfCount
	if germs && got.Sign == water.Below && v <= 1 { // fewer than one is none
		return Meets
	}
	if l.Low != nil && !l.Between && under(v, *l.Low) {
		if got.Sign == water.Above {
			return Undecided
		}
		return Exceeds
	}
	if l.High == nil {
		return Meets
	}
	return j.above(got, v, l)
}

func (j judge) above(got water.Amount, v float64, l Limit) Outcome {
	over := under(*l.High, v)
	switch {
	case over && got.Sign == water.Below:
		return Undecided
	case over, got.Sign == water.Above && !under(v, *l.High):
		return Exceeds
	case got.Sign == water.Above:
		return Undecided
	case got.Sign == water.Below:
		return Meets
	case l.Between && l.Low != nil && under(*l.Low, v):
		return Watch
	case l.Basis.Protects() && under(j.set.Of(watchShare)**l.High, v):
		return Watch
	}
	return Meets
}

func counted(s water.Sign) Outcome {
	if s == water.Present {
		return Exceeds
	}
	return Meets
}

// under reports whether a is below b by more than the rounding of a conversion.
func under(a, b float64) bool { return a < b-1e-9*math.Abs(b) }

// rank is the order in which to speak, by the basis of the limit and the people.
func (j judge) rank(f Finding) int {
	if f.Outcome == Meets {
		return 0
	}
	l, a := f.Limit, f.Amount.Analyte
	switch {
	case f.Outcome == Exceeds && (a == water.EColi || a == water.FecalColiform):
		return 1
	case f.Outcome == Exceeds && l.Basis == HealthInfant && (j.who.Infant || j.who.Pregnant):
		return 1
	case a == water.TotalColiform && f.Outcome == Exceeds && !j.who.ColiformBefore:
		return 3
	case l.Basis.Protects() && f.Outcome == Exceeds && notInForce(l):
		return 3
	case l.Basis.Protects() && f.Outcome == Exceeds:
		return 2
	case l.Basis.Protects():
		return 3
	case harmsHouse(a):
		return 4
	}
	return 5
}

func notInForce(l Limit) bool { return strings.Contains(l.Type, "not in force") }

// harmsHouse reports whether an excess of a corrodes or scales.
func harmsHouse(a water.Analyte) bool {
	switch a {
	case water.PH, water.Hardness, water.Sulfide, water.Chloride, water.Silica, water.FreeChlorine:
		return true
	}
	return false
}

// infant adds the manganese flag where an infant is fed from the tap and no limit
// of health has spoken.
func (j judge) infant(got water.Amount, spoken []Finding, place water.Place) []Finding {
	v, u := got.Canonical()
	flag := j.set.Of(infantManganese)
	if got.Analyte != water.Manganese || !j.who.Infant || !got.Numeric() || got.Sign == water.Below || !under(flag, v) {
		return spoken
	}
	for _, f := range spoken {
		if f.Outcome == Exceeds && f.Limit.Basis.Protects() {
			return spoken
		}
	}
	l := Limit{Analyte: water.Manganese, Jurisdiction: "WHO", Type: "provisional guideline value for bottle-fed infants", High: &flag, Basis: HealthInfant,
		Kind: infantManganese.Kind, Source: infantManganese.From}
	return append([]Finding{{ID: string(water.Manganese), Rank: 3, Outcome: Exceeds, Amount: got, Limit: l, Kind: l.Kind, From: l.Source, Place: place,
		Say: fmt.Sprintf("manganese %s %s with an infant fed from the tap: above the lowest health value in use, %s", unit.Digits(v), u, l),
		Do:  "other water for formula until it is treated"}}, spoken...)
}

// say words a finding. What was met is said with the date of the limits.
func say(f Finding, on time.Time) string {
	name, got, l := f.Amount.Analyte.Name(), f.Amount.String(), f.Limit
	switch f.Outcome {
	case Exceeds:
		if l.Low != nil && !l.Between && l.High != nil && lowSide(f) {
			return fmt.Sprintf("%s %s: below the range (%s)", name, got, l)
		}
		return fmt.Sprintf("%s %s: above the limit (%s)", name, got, l)
	case Watch:
		if l.Between {
			return fmt.Sprintf("%s %s: within the range of the limit itself (%s)", name, got, l)
		}
		return fmt.Sprintf("%s %s: met, but above half of it (%s)", name, got, l)
	case Undecided:
		return fmt.Sprintf("%s %s: the figure cannot tell whether the limit is met (%s)", name, got, l)
	}
	return fmt.Sprintf("%s %s: met on %s (%s)", name, got, on.Format(time.DateOnly), l)
}

func lowSide(f Finding) bool {
	v, _ := f.Amount.Canonical()
	return under(v, *f.Limit.Low)
}

// Standing says what the table is worth for this supply.
func (t Table) Standing(who Household) string {
	if float64(who.Serves) >= publicPeople.Value {
		return fmt.Sprintf("%d people a day may make this a public supply: the limits of %s may bind. Ring the drinking-water office.", who.Serves, t.From)
	}
	if float64(who.Connections) >= publicConnections.Value {
		return fmt.Sprintf("%d service connections may make this a public supply: the limits of %s may bind. Ring the drinking-water office.", who.Connections, t.From)
	}
	return fmt.Sprintf("Advice, not law: for a private well the values of %s on %s bind only where the state, county or local board of health says so.",
		t.From, t.Date.Format(time.DateOnly))
}

// Summary counts what was met, exceeded and left undecided, and says what a lack
// of findings does not mean.
func Summary(fs []Finding, on time.Time) string {
	met, above, open := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, f := range fs {
		switch f.Outcome {
		case Exceeds:
			above[f.ID] = true
		case Undecided:
			open[f.ID] = true
		default:
			met[f.ID] = true
		}
	}
	for id := range above {
		delete(met, id)
		delete(open, id)
	}
	return fmt.Sprintf("Of the tests reported, %d met the limits of %s, %d did not, %d cannot tell. What was not tested is not known.",
		len(met), on.Format(time.DateOnly), len(above), len(open))
}
