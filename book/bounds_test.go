package book

import (
	"strings"
	"testing"
	"time"

	"wellwright/water"
)

// Each bound on it and just beyond it. What each row rests on stands in its last
// column; the judgements are those of practice: nothing beyond them was ever read
// in a household well.
func TestFiguresThatCannotBe(t *testing.T) {
	tests := []struct {
		result string
		ok     bool
		source string
	}{
		{"pH: 0", true, "scale of pH"},
		{"pH: 14", true, "scale of pH"},
		{"pH: 14.001", false, "scale of pH"},
		{"pH: 15", false, "scale of pH"},
		{"pH: -1", false, "scale of pH"},
		{"temperature: -1 C", true, "ice, less a probe's error"},
		{"temperature: -1.1 C", false, "ice, less a probe's error"},
		{"temperature: 60 C", true, "judgement"},
		{"temperature: 140 F", true, "60 C, by definition"},
		{"temperature: 141 F", false, "60.6 C, by definition"},
		{"dissolved oxygen: 14.6 mg/L", true, "saturation under air at 0 C, USGS tables (from memory)"},
		{"dissolved oxygen: 30 mg/L", true, "twice saturation"},
		{"dissolved oxygen: 30.1 mg/L", false, "twice saturation"},
		{"dissolved oxygen: 400 mg/L", false, "twice saturation"},
		{"alkalinity: 5000 mg/L as CaCO3", true, "judgement"},
		{"alkalinity: 5001 mg/L as CaCO3", false, "judgement"},
		{"alkalinity: 900000 mg/L as CaCO3", false, "calcium carbonate could not dissolve so far"},
		{"alkalinity: 100 meq/L", false, "5,004 mg/L as CaCO3: 50.04 mg an equivalent, by definition"},
		{"alkalinity: 99 meq/L", true, "4,954 mg/L as CaCO3"},
		{"hardness: 5000 mg/L as CaCO3", true, "judgement"},
		{"hardness: 292 gpg", true, "4,999 mg/L: 17.118 mg/L a grain"},
		{"hardness: 293 gpg", false, "5,016 mg/L: 17.118 mg/L a grain"},
		{"total iron: 50000 mg/L", true, "judgement: a slip of a thousand is explained, not refused"},
		{"total iron: 50000000 ug/L", true, "50,000 mg/L, by definition"},
		{"total iron: 50001 mg/L", false, "judgement"},
		{"ferrous iron: 50001 mg/L", false, "a part of the total"},
		{"manganese: 5000 mg/L", true, "judgement"},
		{"manganese: 5001 mg/L", false, "judgement"},
		{"sulfide: 100 mg/L as H2S", true, "judgement"},
		{"sulfide: 101 mg/L as H2S", false, "judgement"},
		{"tds: 100000 mg/L", true, "judgement: three times sea water"},
		{"tds: 100001 mg/L", false, "judgement: three times sea water"},
		{"conductivity: 150 mS/cm", true, "judgement: three times sea water"},
		{"conductivity: 150001 uS/cm", false, "judgement: three times sea water"},
		{"turbidity: 10000 NTU", true, "judgement"},
		{"turbidity: 10001 NTU", false, "judgement"},
		{"ORP: -1000 mV", true, "beyond -830 mV water gives off hydrogen (standard potential)"},
		{"ORP: 1.6 V", false, "beyond 1,230 mV water gives off oxygen (standard potential)"},
		{"oxygen saturation: 120 %", true, "springs below falls"},
		{"oxygen saturation: 501 %", false, "more than 30 mg/L at any temperature drawn"},
		{"chloride: 19400 mg/L", true, "sea water (from memory)"},
		{"chloride: 100001 mg/L", false, "no more than the solids"},
		{"nitrate: 100001 mg/L as N", false, "no more than the solids"},
		{"total coliform: 24000000 per 100 mL", true, "counts have no bound"},
		{"radon: 1000000 pCi/L", true, "granite wells in Maine read more (from memory)"},
		{"total coliform: absent", true, "no figure"},
		{"lead: ND", true, "no figure"},
	}
	for _, tt := range tests {
		b, found := Read("f.yaml", []byte(reading(tt.result)))
		if ok := len(found) == 0; ok != tt.ok || !ok && !says(found, 6, "look at the decimal point") {
			t.Errorf("%s: taken %v, want %v (%s): %v", tt.result, ok, tt.ok, tt.source, found)
		}
		if kept := len(b.Present(time.Time{}).Reports[0].Results) > 0; kept != tt.ok {
			t.Errorf("%s: counts %v, want %v", tt.result, kept, tt.ok)
		}
	}
}

// Every analyte has a bound but those that run over many powers of ten.
func TestEveryConcentrationHasABound(t *testing.T) {
	for _, a := range water.Analytes() {
		b := boundOf(a)
		switch a.Dimension() {
		case water.OfCount, water.OfRadioactivity, water.OfDays, water.OfColour, water.OfOdour:
			continue
		}
		if b == none || b.least >= b.most {
			t.Errorf("%s: bound %v", a.Name(), b)
		}
	}
}

func TestJarFiguresThatCannotBe(t *testing.T) {
	jar := "- entry: 1\n  date: 2025-04-14\n  jar tests:\n    - test: filtration\n      "
	for text, ok := range map[string]bool{"pH: 7.2": true, "pH: 14.5": false, "iron: 0.2 mg/L": true, "iron: 50001 mg/L": false} {
		_, found := Read("f.yaml", []byte(jar+text+"\n"))
		if (len(found) == 0) != ok || !ok && !says(found, 5, "is outside") {
			t.Errorf("%s: taken %v, want %v: %v", text, len(found) == 0, ok, found)
		}
	}
}

// pH 4 to 10 is judgement: mine waters and grout lie outside of it.
func TestOddPHIsDoubtedNotRefused(t *testing.T) {
	for ph, want := range map[string]bool{"3.9": true, "4": false, "7": false, "10": false, "10.1": true, "12": true} {
		b, found := Read("f.yaml", []byte(reading("pH: "+ph)))
		if len(found) > 0 {
			t.Fatal(found)
		}
		got := b.Check(testDay)
		if says(got, 6, "where nearly every well lies") != want || len(Mistakes(got)) > 0 {
			t.Errorf("pH %s: doubted %v, want %v: %v", ph, !want, want, got)
		}
	}
}

// A sealed entry that cannot be can no longer be edited: a correction cures it,
// and the chain holds.
func TestCorrectionCuresAFigureThatCannotBe(t *testing.T) {
	first := reading("pH: 15") + "- entry: 2\n  date: 2025-04-15\n  note: sealed since\n"
	on := time.Date(2025, 4, 16, 0, 0, 0, 0, time.UTC)
	for _, e := range []NewEntry{
		{On: on, Kind: WithdrawalKind, Corrects: "1", Why: "meter not calibrated"},
		{On: on, Kind: ReadingsKind, Corrects: "1", Why: "meter not calibrated", Section: Fields(Under("tap", "T1"), Pair{Key: "results", Value: Fields(Under("pH", "7.5"))})},
	} {
		text, _, err := Append([]byte(first), e)
		if err != nil {
			t.Fatal(err)
		}
		b, found := Read("f.yaml", text)
		if found = append(found, b.Check(testDay)...); len(found) > 0 {
			t.Errorf("%s: %v", e.Kind, found)
		}
	}
}

// What is dated in the future is taken back under the day of doing so; from then
// on it counts on no day, its own included.
func TestEntryOfTheFutureIsTakenBack(t *testing.T) {
	today := time.Date(2026, 1, 2, 9, 30, 0, 0, time.UTC)
	text := small + strings.Replace(reading("pH: 7"), "- entry: 1\n  date: 2025-04-14", "- entry: 2\n  date: 2093-05-01", 1)
	b, _ := Read("f.yaml", []byte(text))
	if !says(b.Check(today), 7, "entry 2 is dated 2093-05-01, after 2026-01-02") {
		t.Fatal("an entry of the future passed")
	}
	if _, _, err := Append([]byte(text), NewEntry{On: today, Kind: ReadingsKind, Corrects: "2", Why: "year", Section: Fields(Under("tap", "T1"), Pair{Key: "results", Value: Fields(Under("pH", "7.5"))})}); err == nil {
		t.Error("replaced by an earlier entry, which would take over its date")
	}
	after, _, err := Append([]byte(text), NewEntry{On: today, Kind: WithdrawalKind, Corrects: "2", Why: "year mistyped"})
	if err != nil {
		t.Fatal(err)
	}
	b, found := Read("f.yaml", after)
	for _, on := range []time.Time{today, time.Date(2093, 5, 1, 0, 0, 0, 0, time.UTC), time.Date(2094, 1, 1, 0, 0, 0, 0, time.UTC)} {
		if found = append(found, b.Check(on)...); len(found) > 0 {
			t.Errorf("on %s: %v", on.Format(time.DateOnly), found)
		}
		if n := len(b.Present(on).Reports); n != 0 {
			t.Errorf("on %s: %d reports count, want none", on.Format(time.DateOnly), n)
		}
	}
}
