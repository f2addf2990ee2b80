package sheet_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"wellwright/media"
	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/unit"
)

// What holds of every sheet, in both systems: wells of every sort, the longest
// name, the longest trains, and the one without any train.
func TestEverySheetReads(t *testing.T) {
	for _, well := range []string{"clear-water-iron", "guest-house", "weak-well", "red-water", "sulfide-iron-manganese", "nothing-to-treat"} {
		d := desk(t, well, plan.Ask{Prices: media.Prices(), Brief: true})
		a := answer(t, d)
		why, err := d.Why([]media.Process{media.PressureAeration, media.LightweightFilter, media.Softener})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []unit.System{unit.US, unit.Metric} {
			name := fmt.Sprintf("%s in %s", well, s)
			text := sheet.Plan(a, s)
			narrow(t, name, text)
			inOrder(t, name, text)
			inWords(t, name, text)
			noRepeats(t, name, text)
			if s == unit.Metric {
				noUS(t, name, text)
			}
			narrow(t, name, sheet.Brief(well, a, s))
			narrow(t, name, sheet.Whatif([]string{"iron=1"}, a, a, s))
			narrow(t, name, sheet.Why(why, s))
			if s == unit.Metric {
				noUS(t, name, sheet.Why(why, s))
			}
		}
	}
}

// narrow: no line is wider than a sheet.
func narrow(t *testing.T, name, text string) {
	t.Helper()
	for _, l := range strings.Split(text, "\n") {
		if n := utf8.RuneCountInString(l); n > sheet.Width {
			t.Errorf("%s: a line is %d wide: %s", name, n, l)
		}
	}
}

// inOrder: the order of the answer is fixed, health first and cautions last.
func inOrder(t *testing.T, name, text string) {
	t.Helper()
	last := -1
	for _, head := range []string{"HEALTH AND SAFETY", "CHECKS ON THE EVIDENCE", "CONFLICTS", "RAW WATER", "FORMS OF IRON", "BEFORE OR INSTEAD", "OPTIONS", "NOT CHOSEN", "CAUTIONS"} {
		at := strings.Index(text, "\n"+head)
		if at < 0 && (head == "CONFLICTS" || head == "NOT CHOSEN") {
			continue
		}
		if at < last {
			t.Errorf("%s: %s is missing or out of its place", name, head)
		}
		last = at
	}
}

// inWords: identifiers are for machines.
func inWords(t *testing.T, name, text string) {
	t.Helper()
	id := regexp.MustCompile(`\b[a-z]+_[a-z_]+\b`)
	for _, l := range strings.Split(text, "\n") {
		if found := id.FindString(l); found != "" && !strings.Contains(l, " = ") {
			t.Errorf("%s: %q stands in %q", name, found, l)
		}
	}
}

// noRepeats: within one option no line is printed twice.
func noRepeats(t *testing.T, name, text string) {
	t.Helper()
	seen := map[string]bool{}
	for _, l := range strings.Split(text, "\n") {
		if l == "" {
			seen = map[string]bool{}
		}
		long := strings.HasPrefix(strings.TrimSpace(l), "mind:") || strings.HasPrefix(strings.TrimSpace(l), "care:") || strings.HasPrefix(strings.TrimSpace(l), "x ")
		if long && seen[l] {
			t.Errorf("%s: printed twice in one place: %s", name, l)
		}
		seen[l] = true
	}
}

// noUS: a metric sheet has no figure in US units.
func noUS(t *testing.T, name, text string) {
	t.Helper()
	us := regexp.MustCompile(`[0-9] (gpm|gal|psi|gpg|lb|oz|ft|ft2|ft3|grains|in|F)([^a-z0-9/ ]|$)|gpm/ft|\bgpg\b|\bpsi\b`)
	for _, l := range strings.Split(text, "\n") {
		if found := us.FindString(l); found != "" && !strings.Contains(l, "[") {
			t.Errorf("%s: %q stands in %q", name, found, l)
		}
	}
}

// A well with nothing in it, and one with a name that no line holds.
func TestEmptyAndLong(t *testing.T) {
	long := strings.TrimSpace(strings.Repeat("Upper Quernstone Hollow behind the old creamery ", 5))
	for _, name := range []string{"", long} {
		a := plan.Answer{Well: name, AsOf: "2025-05-01", Limits: "US"}
		for _, s := range []unit.System{unit.US, unit.Metric} {
			text := sheet.Plan(a, s)
			narrow(t, "empty", text)
			for _, want := range []string{"Nothing was tested", "not known", "No report to check", "No train meets every limit", "CAUTIONS"} {
				if !strings.Contains(text, want) {
					t.Errorf("an empty answer does not say %q:\n%s", want, text)
				}
			}
			if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
				t.Errorf("an empty answer prints no number:\n%s", text)
			}
		}
	}
	if text := sheet.Plan(plan.Answer{}, unit.US); !strings.HasPrefix(text, "a well without a name") {
		t.Errorf("no name is passed over in silence: %q", strings.SplitN(text, "\n", 2)[0])
	}
}

// A value that was assumed says so on its line; a measured one does not.
func TestAssumedStandsBesideTheValue(t *testing.T) {
	a := plan.Answer{Water: map[string]plan.Value{
		"ph":             {Range: plan.Range{P05: 7, P50: 7.2, P95: 7.4}},
		"manganese_mg_l": {Range: plan.Range{P05: 0.02, P50: 0.1, P95: 0.5}, Assumed: true},
	}}
	for _, l := range strings.Split(sheet.Plan(a, unit.US), "\n") {
		if strings.HasPrefix(strings.TrimSpace(l), "manganese ") && !strings.HasSuffix(l, "assumed") {
			t.Errorf("not marked as assumed: %q", l)
		}
		if strings.HasPrefix(strings.TrimSpace(l), "pH ") && strings.Contains(l, "assumed") {
			t.Errorf("marked as assumed, and was measured: %q", l)
		}
		if strings.HasPrefix(strings.TrimSpace(l), "oxygen ") && !strings.Contains(l, "not known") {
			t.Errorf("a value that is missing is not said to be: %q", l)
		}
	}
}

// US figures of a text in metric, against definitions: the international foot,
// pound and US gallon (NIST SP 811, 2008, appendix B, from memory).
func TestProseInMetric(t *testing.T) {
	for _, tt := range []struct{ us, metric, source string }{
		{"it yields 2 gpm at its peak", "it yields 7.6 L/min at its peak", "3.785412 L a gallon"},
		{"the house asks 100 gal.", "the house asks 379 L.", "3.785412 L a gallon"},
		{"between 40 and 60 psi, say", "between 40 and 410 kPa, say", "6.894757 kPa a psi; a lone 40 has no unit and is left"},
		{"from 40 to 60 psi", "from 280 to 410 kPa", "6.894757 kPa a psi"},
		{"faster than the 3 gpm/ft2 of public works", "faster than the 7.3 m/h of public works", "2.4448 m/h"},
		{"hardness below about 2.2 gpg (now 14 gpg)", "hardness below about 38 mg/L as CaCO3 (now 240 mg/L as CaCO3)", "17.118 mg/L a grain a gallon"},
		{"12 lb of salt", "5.4 kg of salt", "0.4535924 kg a pound"},
		{"2 in parallel, washed one after the other", "2 in parallel, washed one after the other", "not an inch"},
		{"4.5 x 20 in, 25 µm", "110 x 510 mm, 25 µm", "25.4 mm an inch"},
		{"2.0 mg/L of iron at 7 to 14 days", "2.0 mg/L of iron at 7 to 14 days", "no US unit"},
	} {
		a := plan.Answer{Cautions: []string{tt.us}}
		if got := sheet.Plan(a, unit.Metric); !strings.Contains(got, "· "+tt.metric+"\n") {
			t.Errorf("%q becomes %q, want %q (%s)", tt.us, got[strings.Index(got, "CAUTIONS"):], tt.metric, tt.source)
		}
		if got := sheet.Plan(a, unit.US); !strings.Contains(got, "· "+tt.us+"\n") {
			t.Errorf("%q is changed on a US sheet", tt.us)
		}
	}
}

// Whatever the numbers, a limit's line tells have from need when it fails, and
// never prints more than four figures.
func TestHaveAndNeedTellApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		need := rapid.Float64Range(0.01, 5000).Draw(t, "need")
		have := need * rapid.Float64Range(0.5, 0.9999).Draw(t, "share")
		l := plan.Limit{Stage: "softener", Limit: "backwash_flow", Have: have, Need: need, Unit: "gpm", Margin: have / need, Fails: true, Water: "middle", Say: "thin"}
		a := plan.Answer{Rejected: []plan.Rejected{{Train: []string{"softener"}, FirstLimit: l}}}
		for _, s := range []unit.System{unit.US, unit.Metric} {
			text := strings.Join(strings.Fields(sheet.Options(a, s)), " ")
			m := regexp.MustCompile(`has (.*?), needs at least (\S+) `).FindStringSubmatch(text)
			if m == nil || m[1] == m[2] {
				t.Fatalf("%g of %g: %s", have, need, text)
			}
			digits := strings.TrimLeft(strings.NewReplacer(".", "", ",", "").Replace(m[2]), "0")
			if len(strings.TrimRight(digits, "0")) > 4 {
				t.Fatalf("%g is printed as %s", need, m[2])
			}
		}
	})
}

// Money is never printed finer than two figures.
func TestDollarsToTwoFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := math.Round(rapid.Float64Range(1, 90000).Draw(t, "usd"))
		a := plan.Answer{Options: []plan.Option{{Rank: 1, Train: []string{"softener"}, ExpectedCost: v}}}
		m := regexp.MustCompile(`over ten years: \$([\d,]+)`).FindStringSubmatch(sheet.Options(a, unit.US))
		if m == nil || len(strings.TrimRight(strings.ReplaceAll(m[1], ",", ""), "0")) > 2 {
			t.Fatalf("$%g is printed as %v", v, m)
		}
	})
}
