package sheet

import (
	"fmt"
	"strings"

	"wellwright/plan"
	"wellwright/unit"
)

// Next writes which test to make next, what it is worth against its price and
// wait, and the sampling round: one page to take along.
func Next(a plan.Answer, s unit.System) string {
	p := &page{s: s}
	p.title(a)
	p.alerts(a)
	p.nextTests(a)
	p.sampling(a.Sampling)
	return p.String()
}

// nextTests lists the tests that pay, and in one line those that do not.
func (p *page) nextTests(a plan.Answer) {
	p.head("Next test")
	place := 0
	var less, also []string
	for _, n := range a.NextTests {
		brief := fmt.Sprintf("%s %s for %s", testName(n), usd(n.WorthUSD), usd(n.PriceUSD))
		switch {
		case !n.Pays:
			less = append(less, brief)
			continue
		case place == testsShown:
			also = append(also, brief)
			continue
		}
		place++
		p.wrap(2, fmt.Sprintf("%d. ", place), fmt.Sprintf("%s: worth %s (± %s), price %s, %s", testName(n), usd(n.WorthUSD), usd(n.ErrorUSD), usd(n.PriceUSD), wait(n.WaitDays)))
		p.say(5, "", n.Say)
	}
	if a.NextSay != "" {
		p.wrap(2, "", a.NextSay)
	}
	if len(also) > 0 {
		p.wrap(2, "instead, each by itself: ", strings.Join(also, ", "))
	}
	if len(less) > 0 {
		p.wrap(2, "worth less than their price: ", strings.Join(less, ", "))
	}
	if len(a.NextTests) > 0 {
		p.wrap(2, "", "Worth is what the choice would cost less on the mean, in ten years. It does not count peace of mind, nor what a test of health is for: those are made whatever they are worth here.")
	}
}

// nextBrief says in a line which test to make next.
func (p *page) nextBrief(a plan.Answer) {
	if len(a.Options) == 0 {
		return
	}
	p.head("Next test")
	if len(a.NextTests) > 0 && a.NextTests[0].Pays {
		n := a.NextTests[0]
		p.wrap(2, "", fmt.Sprintf("%s: worth %s (± %s) in a better choice, price %s, %s. All tests, and the bottles for them: wellwright next BOOK",
			testName(n), usd(n.WorthUSD), usd(n.ErrorUSD), usd(n.PriceUSD), wait(n.WaitDays)))
		return
	}
	p.wrap(2, "", a.NextSay)
}

// testsShown is how many tests are shown whole, so that the sheet is one page.
const testsShown = 3

// testName is a test, or two, by what stands in the book of tests.
func testName(n plan.NextTest) string {
	return strings.ReplaceAll(strings.Join(append([]string{n.ID}, n.With...), " with "), "-", " ")
}

func usd(v float64) string { return "$" + figure(v, 4) }

// wait says how long a result takes.
func wait(days float64) string {
	switch {
	case days <= 0:
		return "known at once"
	case days == 1:
		return "known in a day"
	case days < 60:
		return fmt.Sprintf("known in about %.0f days", days)
	}
	return fmt.Sprintf("known in about %.0f months", days/30)
}

// sampling writes the bottles in the order in which to fill them.
func (p *page) sampling(bs []plan.Bottle) {
	p.head("Sampling round, in order of filling")
	if len(bs) == 0 {
		p.line("  No bottle is asked for.")
		return
	}
	for _, b := range bs {
		what := strings.Join(b.Analytes, ", ")
		if b.Fraction != "" {
			what += ", " + b.Fraction
		}
		p.wrap(2, fmt.Sprintf("%2d. ", b.Order), fmt.Sprintf("%s, %s: %s", b.Tap, b.Draw, what))
		p.wrap(6, "", fmt.Sprintf("%s; %s; hold %s", b.Container, preserved(b.Preserve), b.HoldSays))
		p.wrap(6, "", b.Note)
	}
	p.wrap(2, "", "Use a certified laboratory, and ask it for the bottles: its own rule on acid and holding time goes before this list. Write tap, date and hour on each, keep cold and dark, hand over with a chain of custody. Acid burns: gloves and glasses.")
}

func preserved(with string) string {
	if with == "none" {
		return "nothing added"
	}
	return with
}
