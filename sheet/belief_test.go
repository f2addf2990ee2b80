package sheet_test

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"wellwright/plan"
	"wellwright/sheet"
	"wellwright/unit"
)

// believed is an answer with one quantity of each sort.
func believed() plan.Answer {
	spread := func(v, by float64) plan.Quantiles {
		return plan.Quantiles{P05: v / by / by, P25: v / by, P50: v, P75: v * by, P95: v * by * by}
	}
	before, limit, low, health := spread(2, 3), 0.3, 6.5, 0.01
	return plan.Answer{
		Well: "Alder Lane", AsOf: "2025-05-01", Quality: plan.Quality{Asked: 2000, Effective: 640, Distinct: 800},
		Belief: []plan.Belief{
			{Name: "iron_total_mg_l", Unit: "mg/L", Before: &before, After: spread(2.6, 1.5), Limit: &plan.LimitTicks{High: &limit},
				Readings: []plan.Reading{{Value: 2, Tap: "T1", Kind: "field"}}},
			{Name: "iron_bound_mg_l", Unit: "mg/L", After: plan.Quantiles{}},
			{Name: "ph", After: plan.Quantiles{P05: 6.9, P25: 7, P50: 7.1, P75: 7.2, P95: 7.3}, Limit: &plan.LimitTicks{Low: &low}},
			{Name: "arsenic_mg_l", Unit: "mg/L", Before: &before, After: spread(0.0007, 1.3), Assumed: true, Limit: &plan.LimitTicks{Health: &health},
				Readings: []plan.Reading{{Value: 0.001, Sign: "<", Kind: "laboratory"}}},
			{Name: "alkalinity_mg_l_as_caco3", Unit: "mg/L as CaCO3", After: spread(180, 1.2)},
		},
	}
}

// strips are the lines of a sheet that draw a band, each with the line over it.
func strips(text, end string) map[string]string {
	out := map[string]string{}
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		if f := strings.Fields(l); i > 0 && len(f) > 1 && strings.HasPrefix(f[1], end) {
			out[lines[i-1]] = l
		}
	}
	return out
}

// A strip is at most 78 columns, of plain characters where it is not drawn for a
// terminal, and says where its axis begins and ends.
func TestStripsFitATerminal(t *testing.T) {
	for r, end := range map[sheet.Ruling]string{sheet.Plain: "|", sheet.Boxed: "├"} {
		for _, s := range []unit.System{unit.US, unit.Metric} {
			text := sheet.Forms(believed(), s, r)
			got := strips(text, end)
			if len(got) != 5 {
				t.Fatalf("%d strips, want 5:\n%s", len(got), text)
			}
			for over, strip := range got {
				if n := utf8.RuneCountInString(strip); n > sheet.StripWidth || utf8.RuneCountInString(over) > sheet.StripWidth {
					t.Errorf("%q over %q is wider than %d", over, strip, sheet.StripWidth)
				}
				for _, c := range strip {
					if r == sheet.Plain && c > '~' {
						t.Errorf("%q is not plain: %q", strip, c)
					}
				}
			}
		}
	}
}

// A reading of 2 mg/L on the axis from 0.01 to 30 stands where a logarithmic rule
// puts it, within a column: log(2/0.01) / log(30/0.01) of the way (definition).
func TestStripIsToScale(t *testing.T) {
	for over, strip := range strips(sheet.Forms(believed(), unit.US, sheet.Plain), "|") {
		if !strings.Contains(over, "iron, total") {
			continue
		}
		from, to, at := strings.IndexByte(strip, '|'), strings.LastIndexByte(strip, '|'), strings.IndexByte(strip, 'o')
		want := float64(from) + 0.5 + float64(to-from-1)*math.Log(2/0.01)/math.Log(30/0.01)
		if math.Abs(float64(at)-want) > 1 {
			t.Errorf("the reading stands in column %d, want %.1f: %q", at, want, strip)
		}
		if limit := strings.IndexByte(strip, '!'); limit < 0 || limit > at {
			t.Errorf("the limit of 0.3 stands in column %d, the reading of 2 in %d: %q", limit, at, strip)
		}
		for _, mark := range ".:-=#" {
			if !strings.ContainsRune(strip, mark) {
				t.Errorf("%q lacks %q", strip, mark)
			}
		}
	}
}

// The figures over a strip say what is assumed and what the limits are; what the
// line has no room for is left to the strip.
func TestLineOverAStrip(t *testing.T) {
	text := sheet.Forms(believed(), unit.US, sheet.Plain)
	for _, want := range []string{
		"iron, total         2.6 (1.2–5.9) mg/L, limit 0.3, before 2 (0.22–18)",
		"pH                  7.1 (6.9–7.3), at least 6.5",
		"iron, bound         0 mg/L",
		"arsenic             0.0007 (0.0004–0.0012) mg/L, assumed, health limit 0.01",
		"2,000 plausible waters, worth 640 independent ones.",
		"o read on site", "< not found above", "! a limit", ". before the evidence",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said:\n%s", want, text)
		}
	}
	if strings.Contains(text, "+ on record") {
		t.Error("the key explains a mark that is not there")
	}
}

// Too few waters are said to be too few, and a conflict says what would settle it.
func TestDoubtIsSaid(t *testing.T) {
	a := believed()
	a.Quality = plan.Quality{Asked: 2000, Effective: 11, Few: true}
	a.Conflicts = []plan.Conflict{{ID: "x", Say: "two figures disagree", Settle: "a third",
		Explanations: []plan.Explanation{{ID: "one", Probability: 0.8, Say: "the first is off"}, {ID: "two", Probability: 0.2, Say: "the second is off"}}}}
	for _, text := range []string{sheet.Forms(a, unit.US, sheet.Plain), sheet.Checks(a, unit.US, sheet.Plain)} {
		for _, want := range []string{" 80 %  the first is off", " 20 %  the second is off", "to settle it: a third"} {
			if !strings.Contains(text, want) {
				t.Errorf("%q is not said:\n%s", want, text)
			}
		}
	}
	if text := strings.Join(strings.Fields(sheet.Forms(a, unit.US, sheet.Plain)), " "); !strings.Contains(text, "worth 11 independent ones. They are too few to trust a probability") {
		t.Errorf("that there are too few waters is not said:\n%s", text)
	}
}

// Evidence stands under what it speaks for, and against.
func TestEvidenceForAndAgainst(t *testing.T) {
	a := plan.Answer{Forms: plan.Forms{Evidence: []plan.Clue{
		{Toward: "iron bacteria", TimesLikelier: 30, Say: "sheaths: speaks for iron bacteria"},
		{Toward: "bound", TimesLikelier: 0.2, Say: "little carbon: speaks against bound iron"},
		{Toward: "iron bacteria", TimesLikelier: 0.5, Say: "no slime: speaks against iron bacteria"},
	}}}
	text := sheet.Forms(a, unit.US, sheet.Plain)
	last := -1
	for _, want := range []string{"  iron bacteria\n", "for, 30 times likelier: sheaths", "against, 2 times less likely: no slime", "  bound iron\n", "against, 5 times less likely: little carbon"} {
		at := strings.Index(text, want)
		if at <= last {
			t.Errorf("%q stands at %d, after what stands at %d:\n%s", want, at, last, text)
		}
		last = at
	}
	if strings.Contains(text, "speaks") {
		t.Errorf("what evidence speaks for is said twice:\n%s", text)
	}
}
