package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"wellwright/cost"
	"wellwright/nexttest"
	"wellwright/unit"
	"wellwright/water"
)

// NextTest is a test, or two together, and what it is worth.
type NextTest struct {
	ID       string   `json:"id"`
	With     []string `json:"with"` // the other test of a pair; empty for one alone
	WorthUSD float64  `json:"worth_usd"`
	ErrorUSD float64  `json:"standard_error_usd"`
	PriceUSD float64  `json:"price_usd"`
	WaitDays float64  `json:"wait_days"`
	Changes  float64  `json:"changes_probability"` // chance that the choice would be another
	Pays     bool     `json:"pays"`                // worth more than its price
	Say      string   `json:"say"`
}

// Bottle is one step of a sampling round: a bottle to fill, or the readings that
// cannot wait for one.
type Bottle struct {
	Order     int      `json:"order"`
	Tap       string   `json:"tap"`
	Draw      string   `json:"draw"` // first draw, flushed ...
	Container string   `json:"container"`
	Fraction  string   `json:"fraction"` // total, dissolved; "" if it matters not
	Preserve  string   `json:"preservative"`
	HoldHours float64  `json:"holding_time_h"`
	HoldSays  string   `json:"holding_time"`
	Analytes  []string `json:"analytes"`
	Note      string   `json:"note"`
}

// fewestForTests is how many plausible waters a worth is counted from at least.
const fewestForTests = 500

// seedOfTests makes the simulated results the same each time.
const seedOfTests = 20250811

// nothingToTest is said where the water asks for no train.
const nothingToTest = "Nothing measured asks for a train, so no test changes the choice. Test each year, and again when the water changes."

// next fills in which test is worth making, and the sampling round for it.
func (d *Desk) next(a *Answer, c chosen) {
	var wants []nexttest.Want
	var onSite []string
	a.NextTests, a.NextSay, wants, onSite = d.nextTests(c)
	a.Sampling = d.sampling(wants, onSite)
}

// nextTests values every test on the losses; with too few waters it says so.
func (d *Desk) nextTests(c chosen) (tests []NextTest, say string, wants []nexttest.Want, onSite []string) {
	if d.ask.Brief {
		return []NextTest{}, "", nil, nil
	}
	if len(d.Cloud.Draws) < fewestForTests {
		return []NextTest{}, "The worth of a test is not worked out: that takes some hundreds of plausible waters.", nil, nil
	}
	table, ds := d.lossTable(c)
	if table == nil {
		return []NextTest{}, "The worth of a test is not worked out: there is nothing to choose between.", nil, nil
	}
	found := nexttest.Rank(table, d.Cloud.Draws, nexttest.Tests(d.set, d.ask.Prices), seedOfTests)
	w := wording{d: d, table: table, ds: ds, found: found}
	tests = []NextTest{}
	for _, o := range w.offers() {
		tests = append(tests, w.test(o))
	}
	for _, t := range found.Round.Tests {
		wants = append(wants, t.Wants...)
		if len(t.Wants) == 0 && t.Days <= 1 { // a test of the well is made on a day of its own
			onSite = append(onSite, t.Words)
		}
	}
	return tests, w.summary(tests), wants, onSite
}

// wording puts what was found into words.
type wording struct {
	d     *Desk
	table *nexttest.Table
	ds    []decision
	found nexttest.Answer
}

// offers are the tests told from nothing and the pairs that leave more than
// either: those that pay by what they leave, the rest by what they
// tell.
func (w wording) offers() []nexttest.Offer {
	var os []nexttest.Offer
	for _, o := range w.found.Offers {
		if !o.None {
			os = append(os, o)
		}
	}
	os = append(os, w.found.Pairs...)
	slices.SortStableFunc(os, func(a, b nexttest.Offer) int {
		switch {
		case a.Pays() && b.Pays():
			return cmp.Compare(b.Net().Cents(), a.Net().Cents())
		case a.Pays():
			return -1
		case b.Pays():
			return 1
		}
		return cmp.Compare(b.Worth.Cents(), a.Worth.Cents())
	})
	return os
}

// test writes one offer down.
func (w wording) test(o nexttest.Offer) NextTest {
	n := NextTest{
		ID: o.Tests[0].ID, With: []string{}, WorthUSD: dollars(o.Worth), ErrorUSD: dollars(o.Error),
		PriceUSD: dollars(o.Price.Mid), WaitDays: o.Days, Changes: roundTo(o.Changes, 2), Pays: o.Pays(),
	}
	words := []string{o.Tests[0].Words}
	for _, t := range o.Tests[1:] {
		n.With = append(n.With, t.ID)
		words = append(words, t.Words)
	}
	n.Say = capital(strings.Join(words, ", with "))
	if !n.Pays {
		n.Say += ": worth less than its price."
		return n
	}
	n.Say += fmt.Sprintf(". In %s of 100 plausible wells it would change what is done%s.", unit.Digits(math.Round(100*o.Changes)), w.to(o))
	if rule := w.rule(o); rule != "" {
		n.Say += " " + rule
	}
	return n
}

// to says which decision it is that most often replaces today's.
func (w wording) to(o nexttest.Offer) string {
	if o.To == w.found.Now {
		return ""
	}
	return ", most often to: " + w.told(o.To)
}

// told says a decision, shortly where only the feed or the well work differs from
// today's.
func (w wording) told(k int) string {
	x, now := w.ds[k], w.ds[w.found.Now]
	if k == w.found.Now {
		return "as now"
	}
	if x.train == nil || now.train == nil || x.train.Train.String() != now.train.Train.String() {
		return w.d.words(x)
	}
	if x.work == now.work && x.feed != nil {
		return fmt.Sprintf("feed started at %s mg/L", unit.Digits(x.feed.dose))
	}
	if x.work != now.work && (x.feed == nil || x.feed.dose == now.feed.dose) {
		return map[wellWork]string{asItIs: "the well as it is", cleanFirst: "clean the well", newWell: "a new well", deepenFirst: "deepen or fracture the well first"}[x.work]
	}
	return w.d.words(x)
}

// rule says what each range of the reading leads to, where one figure is read and
// the ranges are few.
func (w wording) rule(o nexttest.Offer) string {
	if len(o.Rule) < 2 || len(o.Rule) > 5 {
		return ""
	}
	part := o.Tests[0].Parts[0]
	var says []string
	for _, s := range o.Rule {
		says = append(says, span(s, part)+": "+w.told(s.Decision))
	}
	return capital(part.Name) + " " + strings.Join(says, "; ") + "."
}

// span is a range of readings in words.
func span(s nexttest.Span, p nexttest.Part) string {
	if p.Unit == "" {
		if s.Over == nil {
			return "no"
		}
		return "yes"
	}
	u := " " + p.Unit
	if p.Unit == "pH" || p.Unit == "share" || p.Unit == "class" {
		u = ""
	}
	switch {
	case s.Over == nil:
		return "up to " + unit.Significant(*s.UpTo, 2) + u
	case s.UpTo == nil:
		return "above " + unit.Significant(*s.Over, 2) + u
	}
	return unit.Significant(*s.Over, 2) + " to " + unit.Significant(*s.UpTo, 2) + u
}

// summary is the one line.
func (w wording) summary(tests []NextTest) string {
	perfect := fmt.Sprintf("As things stand: %s. To know the well itself would be worth %s.", w.d.words(w.ds[w.found.Now]), w.found.Perfect)
	if len(tests) == 0 {
		return "No test within its error changes the choice. " + perfect
	}
	if !slices.ContainsFunc(tests, func(t NextTest) bool { return t.Pays }) {
		return "No test is worth its price: none within its error changes the choice enough. " + perfect
	}
	if r := w.found.Round; len(r.Tests) > 1 {
		var ids []string
		for _, t := range r.Tests {
			ids = append(ids, strings.ReplaceAll(t.ID, "-", " "))
		}
		perfect += fmt.Sprintf(" Worth making on one round: %s, together %s for %s.", strings.Join(ids, ", "), r.Worth, r.Price.Mid)
	}
	return perfect
}

// capital writes the first letter large, save in pH.
func capital(s string) string {
	if strings.HasPrefix(s, "pH") {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

func dollars(m cost.Money) float64 { return math.Round(m.USD()) }

// sampling is the round that serves the tests worth making and the tests of
// health that no report holds.
func (d *Desk) sampling(wants []nexttest.Want, onSite []string) []Bottle {
	for _, t := range healthPanel {
		if !d.tested(t.any...) {
			wants = append(wants, nexttest.Want{Analyte: t.any[0], FirstDraw: t.any[0] == water.Lead})
			if t.any[0] == water.TotalColiform {
				wants = append(wants, nexttest.Want{Analyte: water.EColi})
			}
		}
	}
	bs := []Bottle{}
	round := nexttest.Round(wants)
	read := len(round) == 0 && len(onSite) == 0
	for _, b := range round {
		if !read && !b.BeforeFlushing() {
			bs, read = append(bs, readings(onSite)), true
		}
		bs = append(bs, bottle(b))
	}
	if !read {
		bs = append(bs, readings(onSite))
	}
	for k := range bs {
		bs[k].Order = k + 1
	}
	return bs
}

// readings is the step at which what cannot wait is read.
func readings(onSite []string) Bottle {
	return Bottle{
		Tap: "T1", Draw: "raw, flushed until the meters stand steady", Container: "none: read on site", Preserve: "none", HoldHours: 0.25, HoldSays: "at once",
		Analytes: append([]string{"temperature", "pH"}, onSite...),
		Note:     "Hose off, 10 to 15 minutes and longer, until three readings in a row agree: pH within 0.1, oxygen within 0.3 mg/L. Before any bottle of raw water.",
	}
}

// bottle writes one bottle down.
func bottle(b nexttest.Bottle) Bottle {
	out := Bottle{
		Tap: string(b.Tap), Draw: b.Draw, Container: b.Container, Preserve: b.Preserve, HoldHours: math.Round(b.Hold.Hours()), HoldSays: b.HoldSays,
		Analytes: []string{}, Note: b.Note,
	}
	if out.HoldSays == "" {
		out.HoldSays = holding(b.Hold.Hours())
	}
	for _, w := range b.Wants {
		name := w.Analyte.Name()
		switch w.Fraction {
		case water.Total, water.Recoverable:
			out.Fraction = "total"
		case water.Dissolved:
			out.Fraction = "dissolved"
		}
		if !slices.Contains(out.Analytes, name) {
			out.Analytes = append(out.Analytes, name)
		}
	}
	return out
}

// holding is a holding time in words.
func holding(hours float64) string {
	switch {
	case hours <= 0:
		return "ask the laboratory"
	case hours < 1:
		return fmt.Sprintf("%.0f min", hours*60)
	case hours <= 72:
		return fmt.Sprintf("%.0f h", hours)
	case hours < 24*60:
		return fmt.Sprintf("%.0f days", hours/24)
	}
	return fmt.Sprintf("%.0f months", hours/730)
}
