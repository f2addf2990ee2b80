package sheet_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/unit"
)

// told is an answer with a health finding, one test that pays, one that does not
// and a round of two steps.
func told() plan.Answer {
	return plan.Answer{
		Well: "Alder Lane", AsOf: "2025-05-31", NextSay: "As things stand: softener.",
		Alerts: []plan.Alert{{Kind: "health", Rank: 2, Analyte: "manganese", Say: "manganese 0.65 mg/L", Basis: "published: a source"}},
		NextTests: []plan.NextTest{
			{ID: "yield-test", With: []string{"pump-flow"}, WorthUSD: 1234, ErrorUSD: 40, PriceUSD: 210, WaitDays: 60, Pays: true, Say: "Yield up to 0.5 gpm: deepen the well."},
			{ID: "ammonia", With: []string{}, WorthUSD: 5, PriceUSD: 43, WaitDays: 10},
		},
		Sampling: []plan.Bottle{
			{Order: 1, Tap: "K", Draw: "first draw", Container: "plastic 1 L", Preserve: "none", HoldSays: "6 months", Analytes: []string{"lead"}, Note: "Nothing is flushed."},
			{Order: 2, Tap: "T1", Draw: "flushed", Container: "plastic 250 mL", Fraction: "total", Preserve: "nitric acid to pH below 2", HoldSays: "6 months", Analytes: []string{"iron", "manganese"}, Note: "Not filtered."},
		},
	}
}

// The sheet says health first, then the test that pays with worth, price and
// wait, then the bottles in their order; it keeps to the width and to one page.
func TestNextSheet(t *testing.T) {
	text := sheet.Next(told(), unit.US)
	last := -1
	for _, want := range []string{
		"HEALTH AND SAFETY", "manganese 0.65", "NEXT TEST", "1. yield test with pump flow: worth $1,234 (± $40), price $210, known in about 2 months",
		"Yield up to 0.5 gpm", "worth less than their price: ammonia $5 for $43", "SAMPLING ROUND", " 1. K, first draw: lead", "nothing added; hold 6 months", " 2. T1, flushed: iron, manganese, total",
	} {
		at := strings.Index(text, want)
		if at <= last {
			t.Errorf("%q is missing or out of its place in\n%s", want, text)
		}
		last = at
	}
	lines := strings.Split(text, "\n")
	for _, l := range lines {
		if utf8.RuneCountInString(l) > sheet.Width {
			t.Errorf("line of %d: %s", utf8.RuneCountInString(l), l)
		}
	}
	if len(lines) > 60 { // lines of a letter page at six to the inch, margins taken off: definition
		t.Errorf("%d lines are no page", len(lines))
	}
}

// Metric sheets turn the figures of a rule.
func TestNextSheetInMetric(t *testing.T) {
	if text := sheet.Next(told(), unit.Metric); !strings.Contains(text, "1.9 L/min") { // 0.5 gpm x 3.785 L/gal
		t.Errorf("0.5 gpm is not 1.9 L/min in\n%s", text)
	}
}
