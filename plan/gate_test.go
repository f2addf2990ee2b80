package plan

import (
	"slices"
	"strings"
	"testing"
	"time"

	"wellwright/limits"
	"wellwright/media"
	"wellwright/unit"
	"wellwright/water"
)

// reported is a well whose only report is the one given, judged on a day.
func reported(t testing.TB, day string, infants bool, results ...water.Result) *Desk {
	t.Helper()
	on, err := time.Parse(time.DateOnly, day)
	if err != nil {
		t.Fatal(err)
	}
	d := *wellOpened(t, "a")
	d.Present.Reports = []water.Report{{Results: results}}
	d.Present.House.Infants, d.Present.House.Pregnant, d.Present.House.Serves = infants, false, 0
	d.Table = limits.On(on, "US")
	return &d
}

func result(a water.Analyte, v float64, u string) water.Result {
	return water.Result{Analyte: a, Value: v, Unit: u}
}

// Who is kept from drinking by which finding, on, below and above each value, and
// what boiling does.
func TestGates(t *testing.T) {
	const day = "2026-03-01"
	lowNitrate := result(water.Nitrate, 1, "mg/L as N")
	present := water.Result{Analyte: water.EColi, Sign: water.Present}
	for _, tt := range []struct {
		name    string
		day     string
		infants bool
		results []water.Result
		gate    string // analyte; "" for none
		people  string
		boil    string
		source  string
	}{
		{"nitrate on the limit", day, true, []water.Result{result(water.Nitrate, 10, "mg/L as N")}, "", "", "", "40 CFR 141.62(b): 10 mg/L as N is met"},
		{"nitrate above", day, true, []water.Result{result(water.Nitrate, 10.1, "mg/L as N")}, "nitrate", "infants under six months", boilNever, "40 CFR 141.62(b); boiling concentrates nitrate"},
		{"nitrate above, no infant here", day, false, []water.Result{result(water.Nitrate, 10.1, "mg/L as N")}, "nitrate", "infants under six months", boilNever, "the same: infants visit"},
		{"nitrite on the limit", day, true, []water.Result{result(water.Nitrite, 1, "mg/L as N")}, "", "", "", "40 CFR 141.62(b): 1 mg/L as N is met"},
		{"nitrite above", day, true, []water.Result{result(water.Nitrite, 1.1, "mg/L as N")}, "nitrite", "pregnancy", boilNever, "40 CFR 141.62(b)"},
		{"manganese on the infants' value", day, true, []water.Result{result(water.Manganese, 0.08, "mg/L")}, "", "", "", "WHO 2022: 0.08"},
		{"manganese above the infants' value", day, true, []water.Result{result(water.Manganese, 0.09, "mg/L")}, "manganese", "infants", boilNever, "WHO 2022: 0.08 for bottle-fed infants"},
		{"the same without an infant", day, false, []water.Result{result(water.Manganese, 0.09, "mg/L")}, "", "", "", "US advisory for life: 0.3"},
		{"manganese above the value for life", day, false, []water.Result{result(water.Manganese, 0.31, "mg/L")}, "manganese", "everyone", boilNever, "US EPA 2004: 0.3"},
		{"E. coli, nitrate low", day, false, []water.Result{present, lowNitrate}, "e_coli", "everyone", boilMinute, "one minute at a rolling boil: health departments"},
		{"E. coli, nitrate not tested", day, false, []water.Result{present}, "e_coli", "everyone", boilAdults, "one minute at a rolling boil; boiling concentrates a nitrate that nobody has read"},
		{"E. coli, with lead", day, false, []water.Result{present, lowNitrate, result(water.Lead, 0.02, "mg/L")}, "e_coli", "everyone", boilNever, "boiling concentrates lead"},
		{"lead the day before", "2027-10-31", false, []water.Result{result(water.Lead, 0.012, "mg/L")}, "", "", "", "89 FR 86418: 0.015 to 31 Oct 2027"},
		{"lead on the day", "2027-11-01", false, []water.Result{result(water.Lead, 0.012, "mg/L")}, "lead", "pregnancy", boilNever, "89 FR 86418: 0.010 from 1 Nov 2027"},
		{"sodium for a diet", day, false, []water.Result{result(water.Sodium, 100, "mg/L")}, "", "", "", "a matter of diet, no reason to stop drinking"},
		{"iron", day, true, []water.Result{result(water.Iron, 9, "mg/L")}, "", "", "", "40 CFR 143.3: comfort, no health limit"},
	} {
		d := reported(t, tt.day, tt.infants, tt.results...)
		gs := d.gates()
		i := slices.IndexFunc(gs, func(g Gate) bool { return g.ID == tt.gate })
		if tt.gate == "" {
			if len(gs) != 0 {
				t.Errorf("%s: %+v, want none (%s)", tt.name, gs, tt.source)
			}
			continue
		}
		if i < 0 || !strings.Contains(strings.Join(gs[i].People, "; "), tt.people) || gs[i].Boil != tt.boil || len(gs[i].Call) == 0 {
			t.Errorf("%s: %+v, want %s for %s, boil %q (%s)", tt.name, gs, tt.gate, tt.people, tt.boil, tt.source)
		}
		if a, ok := d.otherWater(); !ok || !strings.Contains(a.Say, "Call: ") || !strings.Contains(a.Say, "certified laboratory") || !strings.Contains(a.Say, healthOffice) {
			t.Errorf("%s: what is to be done says neither who nor whom to call: %+v", tt.name, a)
		}
	}
}

// Against nitrate nobody is ever told to boil, whatever else was found.
func TestNitrateIsNeverBoiled(t *testing.T) {
	d := reported(t, "2026-03-01", true, result(water.Nitrate, 30, "mg/L as N"), water.Result{Analyte: water.EColi, Sign: water.Present}, water.Result{Analyte: water.TotalColiform, Sign: water.Present})
	a, ok := d.otherWater()
	if !ok || strings.Contains(a.Say, "rolling boil") || !strings.Contains(a.Say, "Do not boil it: that concentrates nitrate") {
		t.Errorf("nitrate of 30 mg/L with E. coli (boiling concentrates nitrate: health departments): %s", a.Say)
	}
}

// What a certified laboratory is to show, when and where, by the standard schedule
// of retests (common practice; the yearly tests: US EPA's advice for private wells).
func TestProofSchedule(t *testing.T) {
	asked := func(ps []Proof, test, tap, when string) bool {
		return slices.ContainsFunc(ps, func(p Proof) bool {
			return strings.Contains(p.Test, test) && strings.Contains(p.Tap, tap) && p.When == when && p.Why != ""
		})
	}
	o := Option{Stages: []Stage{
		{Process: string(media.ChlorineFeed), Words: "chlorine feed"}, {Process: string(media.CoatedSandFilter), Words: "coated sand filter", Tap: "T2"},
		{Process: string(media.ArsenicAdsorber), Words: "arsenic adsorber", Tap: "T3"}, {Process: string(media.Ultraviolet), Words: "ultraviolet light", Tap: "T4"},
	}, Companions: []Companion{{ID: "trihalomethanes"}, {ID: "copper-at-tap"}}}
	d := reported(t, "2026-03-01", false, result(water.Arsenic, 0.03, "mg/L"), result(water.Nitrate, 2, "mg/L as N"))
	ps := d.proof(&o, nil)
	for _, want := range []struct{ test, tap, when, source string }{
		{"arsenic", "T4", beforeUse, "a health limit exceeded: nobody drinks until it is shown"}, {"arsenic", "T4", twoWeeks, "2 weeks, 3 months: problem items after the last unit"},
		{"arsenic", "T4", threeMonths, "the same"}, {"arsenic", "K", beforeUse, "what is drunk is tested"}, {"arsenic", "T3", quarterly, "outlet of the lead bed quarterly"},
		{"iron, manganese", "T1", twoWeeks, "Fe, Mn at raw and after the last unit"}, {"iron, manganese", "T4", threeMonths, "the same"},
		{"coliform, E. coli, nitrate", "T1", yearly, "each year: coliform, nitrate, pH, TDS"}, {"arsenic, lead", "T1", threeYears, "every 3 to 5 years"},
		{"coliform, E. coli, nitrate", "K", onChange, "after flood, fire, well work, new baby"}, {"coliform and E. coli", "K", twoWeeks, "ultraviolet proves itself by a count alone"},
		{"trihalomethanes", "K", threeMonths, "test once where organic matter meets chlorine"}, {"lead and copper", "first draw", beforeUse, "first draw where water takes up metal"},
	} {
		if !asked(ps, want.test, want.tap, want.when) {
			t.Errorf("%s at %s %s is not asked for (%s)", want.test, want.tap, want.when, want.source)
		}
	}
	for i := 1; i < len(ps); i++ {
		if slices.Index(whens, ps[i-1].When) > slices.Index(whens, ps[i].When) || slices.Contains(ps[:i], ps[i]) {
			t.Errorf("%+v stands after %+v", ps[i], ps[i-1])
		}
	}
	bare := reported(t, "2026-03-01", false, result(water.Iron, 0.1, "mg/L")).proof(nil, nil)
	if asked(bare, "", "", beforeUse) || !asked(bare, "coliform", "T1", yearly) {
		t.Errorf("without a finding and a train only the tests of every well are asked for: %+v", bare)
	}
}

// What is only swallowed may be treated at the kitchen; what is breathed, and germs,
// where the water enters.
func TestHouseOrKitchen(t *testing.T) {
	const practice = "common practice of health departments: by exposure"
	for _, tt := range []struct {
		name   string
		r      water.Result
		raw    func(*water.State)
		where  string
		priced [2]bool // house, kitchen
	}{
		{"nitrate", result(water.Nitrate, 18, "mg/L as N"), func(w *water.State) { w.Nitrate = unit.MgPerLAsN(18) }, atKitchen, [2]bool{true, true}},
		{"nitrate beyond a membrane", result(water.Nitrate, 80, "mg/L as N"), func(w *water.State) { w.Nitrate = unit.MgPerLAsN(80) }, atHouse, [2]bool{true, true}},
		{"fluoride", result(water.Fluoride, 6, "mg/L"), func(w *water.State) { w.Fluoride = unit.MgPerL(6) }, atKitchen, [2]bool{false, true}},
		{"lead", result(water.Lead, 0.05, "mg/L"), func(*water.State) {}, atKitchen, [2]bool{false, true}},
		{"PFOA", result(water.PFOA, 8, "ng/L"), func(*water.State) {}, atKitchen, [2]bool{false, true}},
		{"selenium, of which no unit is known here", result(water.Selenium, 0.1, "mg/L"), func(*water.State) {}, nowhere, [2]bool{false, false}},
		{"radon", result(water.Radon, 20000, "pCi/L"), func(w *water.State) { w.Radon = unit.PCiPerL(20000) }, atHouse, [2]bool{true, false}},
		{"arsenic not oxidised", result(water.Arsenic, 0.05, "mg/L"), func(w *water.State) { w.Arsenic, w.ArsenicV = unit.UgPerL(50), unit.UgPerL(0) }, nowhere, [2]bool{false, true}},
	} {
		d := watered(reported(t, "2026-03-01", false, tt.r), func(w *water.State) {
			w.Ferrous, w.Sulfide, w.Manganese = unit.MgPerL(0.02), unit.MgPerLAsH2S(0), unit.MgPerL(0.01)
			tt.raw(w)
		})
		ps := d.placingsOf(nil)
		if len(ps) != 1 {
			t.Errorf("%s: %+v, want one", tt.name, ps)
			continue
		}
		p := ps[0]
		if p.Where != tt.where || (p.House != nil) != tt.priced[0] || (p.Kitchen != nil) != tt.priced[1] || p.Say == "" {
			t.Errorf("%s: %s, house %v, kitchen %v, want %s and %v (%s): %s", tt.name, p.Where, p.House, p.Kitchen, tt.where, tt.priced, practice, p.Say)
		}
		for _, x := range []*Treatment{p.House, p.Kitchen} {
			if x != nil && !(x.Yearly.P50 > 0 && x.TenYear.P50 > x.First.P50 && x.First.P05 <= x.First.P95) {
				t.Errorf("%s: %s is not priced: %+v", tt.name, x.Process, x)
			}
		}
	}
}

// A kitchen membrane acts on what is drunk alone: what is breathed is never left to it.
func TestKitchenTapIsNoCureForAir(t *testing.T) {
	for a, x := range placings {
		if strings.Contains(x.exposure, "breathed") && x.kitchen != "" || x.exposure == anyTap && x.kitchen != "" {
			t.Errorf("%s reaches people %s and is left to a kitchen tap", a, x.exposure)
		}
		if x.house != "" {
			if _, err := media.ParseProcess(string(x.house)); err != nil {
				t.Errorf("%s: %v", a, err)
			}
		}
	}
}

// Coliform is not boiled away beside a metal, which boiling concentrates.
func TestColiformBesideLeadIsNotBoiled(t *testing.T) {
	d := watered(reported(t, "2026-03-01", false, result(water.Nitrate, 1, "mg/L as N"), result(water.Lead, 0.02, "mg/L")), func(w *water.State) { w.Coliform = unit.Per100mL(8) })
	if a, ok := d.boil(); !ok || strings.Contains(a.Say, "Boil drinking water") {
		t.Errorf("coliform with lead of 0.02 mg/L (metals stay behind when water boils off): %+v", a)
	}
	d = watered(reported(t, "2026-03-01", false, result(water.Nitrate, 1, "mg/L as N")), func(w *water.State) { w.Coliform = unit.Per100mL(8) })
	if a, ok := d.boil(); !ok || !strings.Contains(a.Say, "rolling boil") {
		t.Errorf("coliform alone, nitrate low (one minute at a rolling boil: health departments): %+v", a)
	}
}
