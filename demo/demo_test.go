package demo_test

import (
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"wellwright/book"
	"wellwright/demo"
	"wellwright/plan"
	"wellwright/source"
	"wellwright/water"
)

// wells returns the bundled books, read.
func wells(t *testing.T) map[string]*book.Book {
	t.Helper()
	all, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	read := map[string]*book.Book{}
	for _, w := range all {
		b, found := book.Read(w.Name+".yaml", w.Text)
		for _, f := range found {
			t.Error(f)
		}
		read[w.Name] = b
	}
	return read
}

// last is what a book says on the date of its last entry.
func last(b *book.Book) book.Present { return b.Present(b.Entries[len(b.Entries)-1].On) }

// raw is the laboratory's report on the raw water.
func raw(p book.Present) (water.Report, bool) {
	for _, r := range p.Reports {
		if !r.Field && r.Raw() {
			return r, true
		}
	}
	return water.Report{}, false
}

func TestWellsAreManyAndNamedOnce(t *testing.T) {
	if n := len(wells(t)); n < 6 {
		t.Errorf("%d bundled wells, want six at least", n)
	}
	names := map[string]string{}
	for file, b := range wells(t) {
		p := last(b)
		if p.Name == "" {
			t.Errorf("%s: the well has no name", file)
		}
		if other := names[p.Name]; other != "" {
			t.Errorf("%s and %s are both called %s", file, other, p.Name)
		}
		names[p.Name] = file
	}
}

func TestHeaderSaysInvented(t *testing.T) {
	all, err := demo.Wells()
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range all {
		if !strings.HasPrefix(string(w.Text), "# Invented well.\n") {
			t.Errorf("%s does not say in its first line that it is invented", w.Name)
		}
	}
}

// TestEveryKindIsShown makes sure that the bundled books together show each kind
// of entry of the trade, and one correction.
func TestEveryKindIsShown(t *testing.T) {
	kinds, corrections := map[book.Kind]bool{}, 0
	for _, b := range wells(t) {
		for _, e := range b.Entries {
			kinds[e.Kind] = true
			if e.Corrects != "" {
				corrections++
			}
		}
	}
	for _, k := range []book.Kind{book.CallKind, book.WellKind, book.HouseKind, book.EquipmentKind, book.RulesKind,
		book.SignsKind, book.ReadingsKind, book.LaboratoryKind, book.JarsKind, book.CulturesKind, book.WishesKind} {
		if !kinds[k] {
			t.Errorf("no bundled well has an entry of kind %q", k)
		}
	}
	if corrections == 0 {
		t.Error("no bundled well has a correction")
	}
}

// TestChargeBalances holds the analyses to the usual bound: within 5 % as printed
// and, with the readings of site laid beside them, within 3 %.
// Source: Standard Methods 1030 E, correctness of analyses (from memory).
func TestChargeBalances(t *testing.T) {
	for file, b := range wells(t) {
		p := last(b)
		lab, ok := raw(p)
		if !ok {
			t.Errorf("%s: no laboratory report on raw water", file)
			continue
		}
		printed, ok := water.ChargeBalance(lab, water.AtHalf)
		if !ok || len(printed.Missing) > 0 || math.Abs(printed.Percent) > 5 {
			t.Errorf("%s as printed: balance %+.1f %%, missing %v; want within 5 %%, none missing", file, printed.Percent, printed.Missing)
		}
		best, _ := water.Reconcile(source.Set{}, lab, fieldOf(p))
		if both, _ := water.ChargeBalance(best, water.AtHalf); math.Abs(both.Percent) > 3 {
			t.Errorf("%s with site readings: balance %+.1f %%, want within 3 %%", file, both.Percent)
		}
	}
}

func fieldOf(p book.Present) []water.Report {
	var field []water.Report
	for _, r := range p.Reports {
		if r.Field {
			field = append(field, r)
		}
	}
	return field
}

// TestHardnessIsThatOfCalciumAndMagnesium lays the printed hardness against
// 2.497 Ca + 4.118 Mg, Standard Methods 2340 B (from memory).
func TestHardnessIsThatOfCalciumAndMagnesium(t *testing.T) {
	for file, b := range wells(t) {
		lab, _ := raw(last(b))
		ca, _, okCa := lab.Concentration(water.Calcium, water.Unspecified)
		mg, _, okMg := lab.Concentration(water.Magnesium, water.Unspecified)
		hard, _, ok := lab.Hardness()
		want := 2.497*ca.MgPerL() + 4.118*mg.MgPerL()
		if !ok || !okCa || !okMg || math.Abs(hard.MgPerLAsCaCO3()-want) > 1 {
			t.Errorf("%s: hardness %.1f printed, %.1f mg/L as CaCO3 from calcium and magnesium", file, hard.MgPerLAsCaCO3(), want)
		}
	}
}

// intended is what each well is there to show: the checks that are not passed.
var intended = map[string]map[string]string{
	"bottle-without-acid": {"ferrous_over_total": "impossible"},
	"softened-sample":     {"softened_sodium": "doubt"},
}

func TestEveryWellPlansWithTheChecksMeant(t *testing.T) {
	for file, a := range answers(t) {
		left := map[string]string{}
		for id, v := range intended[file] {
			left[id] = v
		}
		for _, c := range a.Checks {
			if c.Verdict == "ok" {
				continue
			}
			if left[c.ID] != c.Verdict {
				t.Errorf("%s: check %s is %s: %s", file, c.ID, c.Verdict, c.Say)
			}
			delete(left, c.ID)
		}
		for id, v := range left {
			t.Errorf("%s: check %s was meant to be %s", file, id, v)
		}
	}
}

// planned plans every bundled well once for all tests.
var planned = sync.OnceValues(func() (map[string]plan.Answer, error) {
	all, err := demo.Wells()
	if err != nil {
		return nil, err
	}
	out := map[string]plan.Answer{}
	for _, w := range all {
		b, _ := book.Read(w.Name+".yaml", w.Text)
		if out[w.Name], err = plan.Build(last(b), plan.Ask{Prices: plan.Prices()}); err != nil {
			return nil, fmt.Errorf("plan %s: %w", w.Name, err)
		}
	}
	return out, nil
})

func answers(t *testing.T) map[string]plan.Answer {
	t.Helper()
	all, err := planned()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestAnswersSayWhatTheTradeWould holds the answers to facts of the trade.
func TestAnswersSayWhatTheTradeWould(t *testing.T) {
	all := answers(t)
	for _, tt := range []struct{ well, action, source string }{
		{"nothing-to-treat", "do-nothing", "iron 0.05 and manganese 0.01 mg/L are below every comfort limit (Health Canada guideline tables, from memory)"},
		{"bottle-without-acid", "retest", "a part cannot exceed its whole"},
		{"softened-sample", "retest", "a sample behind a softener says nothing of the raw water (common practice)"},
		{"iron-bacteria", "well-rehabilitation", "bleach does not reach under slime: the well is cleaned first (Alberta Agdex 716(D12), from memory)"},
		{"iron-bacteria", "shock-disinfection", "coliform found (40 CFR 141 subpart Y, from memory)"},
		{"iron-bacteria", "repair-cap", "a loose cap is a way in (common practice)"},
		{"red-water", "change-pressure-tank", "an air-over-water tank makes red water (common practice)"},
		{"weak-well", "longer-yield-test", "below 5 gpm a well may need storage (NY State DOH, Individual Water Supply Wells Fact Sheet 2)"},
	} {
		if !hasAction(all[tt.well], tt.action) {
			t.Errorf("%s: action %s is missing (%s)", tt.well, tt.action, tt.source)
		}
	}
	for _, tt := range []struct{ well, analyte, source string }{
		{"high-iron-manganese", "manganese", "0.46 mg/L is above the lifetime advisory of 0.3 (NHDES DWGB-3-8, 2021, quoting US EPA)"},
		{"iron-bacteria", "total_coliform", "any coliform is to be corrected (40 CFR 141 subpart Y, from memory)"},
	} {
		if !hasAlert(all[tt.well], tt.analyte) {
			t.Errorf("%s: no alert on %s (%s)", tt.well, tt.analyte, tt.source)
		}
	}
}

func hasAction(a plan.Answer, id string) bool {
	for _, x := range a.Actions {
		if x.ID == id {
			return true
		}
	}
	return false
}

func hasAlert(a plan.Answer, analyte string) bool {
	for _, x := range a.Alerts {
		if strings.Contains(strings.ReplaceAll(x.Analyte+" "+x.Say, " ", "_"), analyte) {
			return true
		}
	}
	return false
}

// TestFirstChoices holds what comes first to what the trade would put there.
func TestFirstChoices(t *testing.T) {
	all := answers(t)
	for _, tt := range []struct {
		well   string
		want   []string // all of these in the first option
		never  []string // none of these
		source string
	}{
		{"clear-water-iron", []string{"softener"}, nil, "1.4 mg/L ferrous, hard: softener territory, ceiling 3 to 5 mg/L (common practice)"},
		{"red-water", []string{"filter"}, []string{"softener", "feed"}, "particulate only: a sediment filter is enough (common practice)"},
		{"high-iron-manganese", []string{"chlorine-feed", "filter"}, nil, "9.6 mg/L with manganese is beyond resin and air alone (common practice)"},
		{"iron-bacteria", []string{"chlorine-feed", "filter"}, []string{"air-injection"}, "no air on slime; low continuous chlorine with contact (common practice)"},
	} {
		a := all[tt.well]
		if len(a.Options) == 0 {
			t.Errorf("%s: no option at all (%s)", tt.well, tt.source)
			continue
		}
		first := strings.Join(a.Options[0].Train, ",")
		for _, w := range tt.want {
			if !strings.Contains(first, w) {
				t.Errorf("%s: first choice %s has no %s (%s)", tt.well, first, w, tt.source)
			}
		}
		for _, n := range tt.never {
			if strings.Contains(first, n) {
				t.Errorf("%s: first choice %s has %s (%s)", tt.well, first, n, tt.source)
			}
		}
	}
}

// TestSedimentFilterIsEnoughForRust: iron that a 0.45 µm filter holds whole needs
// straining and no oxidant, so that a plain filter must stand among the first.
// Source: common practice, no source.
func TestSedimentFilterIsEnoughForRust(t *testing.T) {
	for i, o := range answers(t)["red-water"].Options {
		name := strings.Join(o.Train, ",")
		if i < 2 && (name == "sediment-filter" || name == "cartridge-filter") {
			return
		}
	}
	t.Error("red-water: no plain filter among the first two options")
}
