package water

import (
	"strings"
	"testing"
	"time"

	"wellwright/unit"
)

func contains(s string, words ...string) bool {
	for _, w := range words {
		if !strings.Contains(s, w) {
			return false
		}
	}
	return true
}

func yes() *bool { b := true; return &b }
func no() *bool  { b := false; return &b }

// Worked examples of hardness.
func TestHardnessSum(t *testing.T) {
	for _, tt := range []struct {
		name           string
		ca, mg         float64
		want, tol, gpg float64
		source         string
	}{
		{"reference sheet", 35, 22, 178, 0.5, 10.4, "published: water-quality math reference sheet"},
		{"Davis 7-1", 103, 5.5, 281, 2, 16.4, "published: Davis 2010, example 7-1, rounded factors"},
		{"USGS sample 1", 25, 14, 120, 1, 7, "published: USGS WRIR 02-4045 table 4"},
		{"Hem 12-6", 43, 20, 189.7, 0.2, 11.1, hem},
		{"Hem 17-3", 49, 18, 196.5, 0.2, 11.5, hem},
		{"Jianghan J23", 124.24, 31.12, 438, 1, 25.6, "inputs published: Yang et al. 2020; derived"},
	} {
		r := in("mg/L", Calcium, tt.ca, Magnesium, tt.mg, Hardness, tt.want)
		f := find1(CheckReport(r, nil), "hardness_sum")
		near(t, tt.name, f.Value, tt.want, tt.tol, tt.source)
		h := Result{Analyte: Hardness, Value: tt.gpg, Unit: "gpg"}
		a, _ := h.Amount()
		near(t, tt.name+" in grains", a.v, tt.want, 17.12*0.06+tt.tol, tt.source)
		if f.Verdict != OK {
			t.Errorf("%s: %v %s", tt.name, f.Verdict, f.Say)
		}
	}
}

func TestHardnessParts(t *testing.T) {
	const from = "published: engineering-chemistry textbook p. 1.10 example 5: salts 32.4, 29.2 and 13.6 mg/L"
	salts := []struct{ mg, mass float64 }{{32.4, massCa + 2*massHCO3}, {29.2, massMg + 2*massHCO3}, {13.6, massCa + massSO4}}
	temporary := (salts[0].mg/salts[0].mass + salts[1].mg/salts[1].mass) * massCaCO3
	total := temporary + salts[2].mg/salts[2].mass*massCaCO3
	c, p := HardnessParts(unit.HardnessAsCaCO3(total), unit.AlkalinityAsCaCO3(temporary))
	near(t, "temporary", c.MgPerLAsCaCO3(), 40, 0.2, from)
	near(t, "permanent", p.MgPerLAsCaCO3(), 10, 0.2, from)
	c, p = HardnessParts(unit.HardnessAsCaCO3(281), unit.AlkalinityAsCaCO3(209))
	near(t, "carbonate hardness", c.MgPerLAsCaCO3(), 209, 0.01, "published: Davis 2010, example 7-1")
	near(t, "the rest", p.MgPerLAsCaCO3(), 72, 0.01, "derived from it")
	c, p = HardnessParts(unit.HardnessAsCaCO3(120), unit.AlkalinityAsCaCO3(580))
	near(t, "alkalinity above hardness", c.MgPerLAsCaCO3()-p.MgPerLAsCaCO3(), 120, 0.01, "definition")
}

// The sum is 200 mg/L: 5 % of it, 10, is allowed. At 40 it is 3 mg/L.
func TestHardnessBounds(t *testing.T) {
	for _, tt := range []struct {
		ca, printed float64
		want        Verdict
		word        string
	}{
		{80.084, 209.9, OK, ""}, {80.084, 210.2, Doubt, ""}, {80.084, 190.1, OK, ""}, {80.084, 189.8, Doubt, ""},
		{16.017, 42.9, OK, ""}, {16.017, 43.2, Doubt, ""},
		{80.084, 11.7, Doubt, "grains"},
	} {
		r := in("mg/L", Calcium, tt.ca, Magnesium, 0, Hardness, tt.printed)
		if f := find1(CheckReport(r, nil), "hardness_sum"); f.Verdict != tt.want || !contains(f.Say, tt.word) {
			t.Errorf("calcium %g, hardness %g: %v %s, want %v %s", tt.ca, tt.printed, f.Verdict, f.Say, tt.want, tt.word)
		}
	}
	r := in("mg/L", Calcium, 74, Magnesium, 25.5, Hardness, 184.8)
	if f := find1(CheckReport(r, nil), "hardness_sum"); f.Verdict != Doubt || !contains(f.Say, "calcium hardness only") || len(f.SetAside) != 1 {
		t.Errorf("calcium hardness printed as hardness: %+v", f)
	}
}

// A demonstration well: a total read low in a bottle without acid.
func TestFerrousOverTotal(t *testing.T) {
	lab := Report{Tap: "T1", Bottle: Bottle{Acidified: no()}, Results: []Result{mg(Iron, Total, 0.7)}}
	field := []Report{{Field: true, Tap: "T1", Results: []Result{mg(Iron, FerrousIron, 1.9), mg(Iron, Total, 2.0), phOf(7.3)}}}
	f := find1(CheckReport(lab, field), "ferrous_over_total")
	if f.Verdict != Impossible || !contains(f.Say, "not acidified", "0.7", "1.9 to 2 mg/L", "aside") || !contains(f.Ask, "nitric acid") {
		t.Errorf("finding %+v", f)
	}
	if len(f.SetAside) != 1 || f.SetAside[0].Value != 0.7 || len(f.Use) != 2 {
		t.Errorf("set aside %+v, use %+v", f.SetAside, f.Use)
	}
	best, _ := Reconcile(defaults, lab, field)
	if c, _, ok := best.Concentration(Iron, Total); !ok || c.MgPerL() != 2.0 {
		t.Errorf("the reconciled total is %v %v, want the 2.0 of the site", c, ok)
	}
	if p, ok := best.PH(); !ok || p.Value() != 7.3 {
		t.Errorf("the reconciled pH is %v %v", p, ok)
	}
}

// The bound is 1.1 times the total and the reporting limit, here 2.2 + 0.1.
func TestFractionBounds(t *testing.T) {
	rl := 0.1
	total := mg(Iron, Total, 2)
	total.Limit = &rl
	for _, tt := range []struct {
		part Fraction
		v    float64
		id   string
		want Verdict
	}{
		{FerrousIron, 2.29, "ferrous_over_total", OK}, {FerrousIron, 2.3, "ferrous_over_total", OK}, {FerrousIron, 2.31, "ferrous_over_total", Impossible},
		{Dissolved, 2.29, "dissolved_over_total_iron", OK}, {Dissolved, 2.3, "dissolved_over_total_iron", OK}, {Dissolved, 2.31, "dissolved_over_total_iron", Doubt},
	} {
		r := Report{Results: []Result{total, mg(Iron, tt.part, tt.v)}}
		if f := find1(CheckReport(r, nil), tt.id); f.Verdict != tt.want {
			t.Errorf("%v %g of 2: %v, want %v", tt.part, tt.v, f.Verdict, tt.want)
		}
	}
	below := Report{Results: []Result{mg(Iron, Total, 2), {Analyte: Iron, Fraction: Dissolved, Sign: Below, Value: 5, Unit: "mg/L"}}}
	if f := find1(CheckReport(below, nil), "dissolved_over_total_iron"); f.Verdict != OK {
		t.Errorf("a non-detect is not above anything: %+v", f)
	}
}

func TestFerrousOverDissolved(t *testing.T) {
	lab := Report{Results: []Result{mg(Iron, Total, 3), mg(Iron, Dissolved, 0.2)}}
	field := []Report{{Field: true, Results: []Result{mg(Iron, FerrousIron, 2.8)}}}
	f := find1(CheckReport(lab, field), "ferrous_over_dissolved")
	if f.Verdict != Doubt || len(f.SetAside) != 1 || f.SetAside[0].Value != 0.2 || !contains(f.Say, "before it was filtered") {
		t.Errorf("rusted before it was filtered: %+v", f)
	}
}

// A demonstration well at 9 mg/L: what iron used in the bottle.
func TestAlkalinityLost(t *testing.T) {
	lab := in("mg/L", Alkalinity, 302, Calcium, 96, Magnesium, 34, Sodium, 11, Potassium, 2.5, Chloride, 14, Sulfate, 64, Fluoride, 0.3).
		with(mg(Iron, Total, 9.6), mg(Iron, Dissolved, 9.0), mg(Manganese, Dissolved, 0.22), mg(Ammonia, Unspecified, 0.15))
	lab.Tap = "T1"
	site := Report{Field: true, Tap: "T1", Results: []Result{mg(Alkalinity, Unspecified, 318), mg(Iron, FerrousIron, 9.0), phOf(7.4)}}
	f := find1(CheckReport(lab, []Report{site}), "alkalinity_lost")
	const from = "1.79 mg/L as CaCO3 for each mg/L of iron (arithmetic of atomic weights)"
	near(t, "alkalinity lost", f.Value, 16, 1e-9, from)
	near(t, "factor", ironAlkalinity, 1.79, 0.005, from)
	if f.Verdict != Notice || !contains(f.Say, "16 mg/L", "dropped out in the bottle", "1.79 x 9", "318") || len(f.SetAside) != 1 {
		t.Errorf("finding %+v", f)
	}
	alone, _ := ChargeBalance(lab, AtHalf)
	near(t, "balance with the laboratory's", alone.Percent, 4.2, 0.2, "demonstration well, worked separately")
	b := find1(CheckReport(lab, []Report{site}), "charge_balance")
	near(t, "balance with the site's", b.Value, 2.2, 0.2, "demonstration well, worked separately")

	site.Results[0].Value = 360
	if f := find1(CheckReport(lab, []Report{site}), "alkalinity_lost"); f.Verdict != Doubt {
		t.Errorf("58 mg/L is more than iron explains: %+v", f)
	}
	site.Results[0].Value = 304
	if f := find1(CheckReport(lab, []Report{site}), "alkalinity_lost"); f.Verdict != OK {
		t.Errorf("2 mg/L is titration: %+v", f)
	}
}

func TestPHDrift(t *testing.T) {
	for _, tt := range []struct {
		lab, site float64
		want      Verdict
		aside     int
	}{{7.59, 7.3, OK, 0}, {7.6, 7.3, OK, 0}, {7.61, 7.3, Notice, 1}, {6.99, 7.3, Notice, 1}, {7.0, 7.3, OK, 0}} {
		lab := Report{Results: []Result{phOf(tt.lab)}}
		site := []Report{{Field: true, Results: []Result{phOf(tt.site)}}}
		f := find1(CheckReport(lab, site), "ph_drift")
		if f.Verdict != tt.want || len(f.SetAside) != tt.aside || len(f.Use) != 1 {
			t.Errorf("pH %g against %g: %+v, want %v", tt.lab, tt.site, f, tt.want)
		}
	}
	if f := find1(CheckReport(Report{Results: []Result{phOf(7.8)}}, nil), "ph_drift"); f.Verdict != Notice {
		t.Errorf("a mailed pH is always late (holding time 15 minutes): %+v", f)
	}
}

func TestTurbidityAndSulfide(t *testing.T) {
	at := time.Date(2025, 4, 1, 9, 0, 0, 0, time.UTC)
	lab := Report{Tap: "T1", Sampled: at, Analysed: at.Add(30 * time.Hour),
		Results: []Result{mg(Turbidity, Unspecified, 11), mg(Iron, Dissolved, 1.9), mg(Sulfide, Unspecified, 0.02)}}
	site := []Report{{Field: true, Tap: "T1", Results: []Result{mg(Turbidity, Unspecified, 0.6), mg(Sulfide, Unspecified, 0.5)}}}
	fs := CheckReport(lab, site)
	f := find1(fs, "turbidity_rust")
	if f.Verdict != Notice || !contains(f.Say, "30 h", "not sediment") || len(f.SetAside) != 1 {
		t.Errorf("a demonstration well: 11 NTU after 30 h is rust: %+v", f)
	}
	if f := find1(fs, "sulfide_lost"); f.Verdict != Notice || len(f.SetAside) != 1 {
		t.Errorf("sulfide 0.5 on site, 0.02 in the laboratory: %+v", f)
	}
	site[0].Results[1].Value = 0.04
	if f := find1(CheckReport(lab, site), "sulfide_lost"); f.Verdict != OK {
		t.Errorf("0.02 is half of 0.04, and 0.04 is below what a kit tells: %+v", f)
	}
}

func TestHoldingTimes(t *testing.T) {
	at := time.Date(2025, 4, 1, 9, 0, 0, 0, time.UTC)
	for _, tt := range []struct {
		a      Analyte
		held   time.Duration
		want   Verdict
		source string
	}{
		{TotalColiform, 29 * time.Hour, OK, "40 CFR 141.852(a)(3): 30 h"}, {TotalColiform, 30 * time.Hour, OK, "30 h"},
		{TotalColiform, 30*time.Hour + time.Minute, Doubt, "30 h"},
		{Nitrate, 48 * time.Hour, OK, "48 h unpreserved"}, {Nitrate, 49 * time.Hour, Notice, "48 h unpreserved"},
		{NitrateNitrite, 27 * 24 * time.Hour, OK, "28 days in sulfuric acid"}, {NitrateNitrite, 29 * 24 * time.Hour, Notice, "28 days"},
		{Sulfide, 7 * 24 * time.Hour, OK, "7 days in zinc acetate"}, {Sulfide, 8 * 24 * time.Hour, Notice, "7 days"},
		{Alkalinity, 15 * 24 * time.Hour, Notice, "14 days"}, {Mercury, 29 * 24 * time.Hour, Notice, "28 days"},
		{Iron, 170 * 24 * time.Hour, OK, "6 months"}, {Iron, 190 * 24 * time.Hour, Notice, "6 months"},
		{TDS, 8 * 24 * time.Hour, Notice, "7 days"}, {Radon, 5 * 24 * time.Hour, Notice, "4 days (from memory)"},
	} {
		r := Report{Sampled: at, Analysed: at.Add(tt.held), Results: []Result{mg(tt.a, Unspecified, 0)}}
		if f := find1(CheckReport(r, nil), "holding_time"); f.Verdict != tt.want {
			t.Errorf("%s kept %v: %v, want %v (%s)", tt.a, tt.held, f.Verdict, tt.want, tt.source)
		}
	}
	dates := Report{Sampled: at.Truncate(24 * time.Hour), Analysed: at.Truncate(24*time.Hour).AddDate(0, 0, 2), Results: []Result{mg(TotalColiform, Unspecified, 0)}}
	if f := find1(CheckReport(dates, nil), "holding_time"); f.Verdict != OK {
		t.Errorf("two dates two days apart may be 25 h: %+v", f)
	}
	flagged := Report{Results: []Result{{Analyte: Nitrate, Value: 2, Unit: "mg/L as N", Note: "H;U"}}}
	if f := find1(CheckReport(flagged, nil), "holding_time"); f.Verdict != Notice {
		t.Errorf("qualifier H: %+v", f)
	}
}

func TestSampleChecks(t *testing.T) {
	for _, tt := range []struct {
		name, id string
		r        Report
		want     Verdict
	}{
		{"sodium in soft water", "softened_sodium", in("mg/L", Hardness, 8, Sodium, 140), Doubt},
		{"the same after a softener", "softened_sodium", Report{Tap: "T2", Results: in("mg/L", Hardness, 8, Sodium, 140).Results}, -1},
		{"hard water", "softened_sodium", in("mg/L", Hardness, 20, Sodium, 140), OK},
		{"just soft", "softened_sodium", in("mg/L", Hardness, 19.9, Sodium, 140), Doubt},
		{"soft, little sodium", "softened_sodium", in("mg/L", Hardness, 8, Sodium, 29.9), OK},
		{"soft, sodium on the bound", "softened_sodium", in("mg/L", Hardness, 8, Sodium, 30), Doubt},
		{"chlorine in raw", "chlorine_in_raw", in("mg/L", FreeChlorine, 0.4), Doubt},
		{"chlorine on the bound", "chlorine_in_raw", in("mg/L", FreeChlorine, 0.05), OK},
		{"chlorine at the kitchen", "chlorine_in_raw", Report{Tap: "K", Results: in("mg/L", FreeChlorine, 0.4).Results}, -1},
		{"much iron, clear, alkaline", "iron_high_ph", in("mg/L", Iron, 10.1).with(phOf(8.1), mg(Turbidity, Unspecified, 2)), Doubt},
		{"iron on the bound", "iron_high_ph", in("mg/L", Iron, 10).with(phOf(8.1), mg(Turbidity, Unspecified, 2)), -1},
		{"pH on the bound", "iron_high_ph", in("mg/L", Iron, 12).with(phOf(8), mg(Turbidity, Unspecified, 2)), -1},
		{"not clear", "iron_high_ph", in("mg/L", Iron, 12).with(phOf(8.4), mg(Turbidity, Unspecified, 40)), -1},
		{"carbonate at pH 8.2", "carbonate_species", in("mg/L", Carbonate, 6).with(phOf(8.2)), Doubt},
		{"carbonate at pH 8.3", "carbonate_species", in("mg/L", Carbonate, 6).with(phOf(8.3)), OK},
		{"no carbonate at pH 7", "carbonate_species", in("mg/L", Carbonate, 0).with(phOf(7)), OK},
		{"hydroxide at pH 9.9", "carbonate_species", in("mg/L", Hydroxide, 6).with(phOf(9.9)), Doubt},
		{"iron in micrograms", "unit_slip", in("mg/L", Iron, 1850), Doubt},
		{"nitrate without a basis", "basis_unsaid", in("mg/L", Nitrate, 20), Notice},
		{"a unit of another world", "unreadable", in("tons/ac ft", TDS, 1), Doubt},
		{"solids and conductivity", "solids_conductivity", in("mg/L", TDS, 330).with(Result{Analyte: Conductivity, Value: 545, Unit: "uS/cm"}), OK},
		{"ratio 0.55", "solids_conductivity", in("mg/L", TDS, 55).with(Result{Analyte: Conductivity, Value: 100, Unit: "uS/cm"}), OK},
		{"ratio 0.54", "solids_conductivity", in("mg/L", TDS, 54).with(Result{Analyte: Conductivity, Value: 100, Unit: "uS/cm"}), Doubt},
		{"ratio 0.75", "solids_conductivity", in("mg/L", TDS, 75).with(Result{Analyte: Conductivity, Value: 100, Unit: "uS/cm"}), OK},
		{"ratio 0.76", "solids_conductivity", in("mg/L", TDS, 76).with(Result{Analyte: Conductivity, Value: 100, Unit: "uS/cm"}), Notice},
		{"ratio 0.82", "solids_conductivity", in("mg/L", TDS, 82).with(Result{Analyte: Conductivity, Value: 100, Unit: "uS/cm"}), Doubt},
	} {
		if f := find1(CheckReport(tt.r, nil), tt.id); f.Verdict != tt.want {
			t.Errorf("%s: %v %q, want %v", tt.name, f.Verdict, f.Say, tt.want)
		}
	}
}

func TestBottleTold(t *testing.T) {
	r := Report{Bottle: Bottle{Acidified: no(), FilteredField: no()}, Results: []Result{mg(Iron, Total, 0.4), mg(Iron, Dissolved, 0.1)}}
	fs := CheckReport(r, nil)
	if find1(fs, "bottle_acid").Verdict != Notice || find1(fs, "filtered_late").Verdict != Notice {
		t.Errorf("findings %+v", fs)
	}
	r.Bottle = Bottle{Acidified: yes(), FilteredField: yes()}
	if fs := CheckReport(r, nil); find1(fs, "bottle_acid").Verdict >= OK || find1(fs, "filtered_late").Verdict >= OK {
		t.Errorf("nothing to say of good bottles: %+v", fs)
	}
}

// Measured over calculated solids: the published sum and our own.
func TestSolidsSum(t *testing.T) {
	r := in("mg/L", Calcium, 25, Magnesium, 14, Sodium, 190, Potassium, 13, Chloride, 7, Sulfate, 1.2, Fluoride, 1.1, Silica, 20, Alkalinity, 580, TDS, 624)
	c := checker{report: r}
	sum, ok := c.calculatedSolids()
	if !ok {
		t.Fatal("no sum")
	}
	near(t, "USGS sample 1 solids", sum, 624, 0.015*624, "published: USGS WRIR 02-4045 table 4, dissolved solids as sum")
	for _, tt := range []struct {
		ratio float64
		want  Verdict
	}{{0.999, Notice}, {1.001, OK}, {1.199, OK}, {0.801, Notice}, {0.799, Doubt}, {1.21, Doubt}} {
		x := r
		x.Results = append([]Result{mg(TDS, Unspecified, tt.ratio*sum)}, r.Results[:len(r.Results)-1]...)
		if f := find1(CheckReport(x, nil), "solids_sum"); f.Verdict != tt.want {
			t.Errorf("ratio %g: %v, want %v", tt.ratio, f.Verdict, tt.want)
		}
	}
}

// Findings carry where they stand and why they hold.
func TestFindingsAreFounded(t *testing.T) {
	known := map[string]bool{}
	for _, id := range IDs() {
		known[id] = true
	}
	lab := jianghan().with(mg(Iron, Total, 28), mg(Iron, Dissolved, 30.9), mg(Hardness, Unspecified, 100), mg(TDS, Unspecified, 400),
		Result{Analyte: Conductivity, Value: 900, Unit: "uS/cm"}, mg(Carbonate, Unspecified, 3), mg(FreeChlorine, Unspecified, 1))
	for _, f := range CheckReport(lab, []Report{{Field: true, Results: []Result{phOf(6.5), mg(Iron, FerrousIron, 40), mg(Alkalinity, Unspecified, 500)}}}) {
		if !known[f.ID] {
			t.Errorf("%s is not among the listed checks", f.ID)
		}
		if f.Say == "" || f.From == "" {
			t.Errorf("%+v lacks words or a source", f)
		}
	}
}
