package water

import (
	"testing"

	"wellwright/chem"
	"wellwright/unit"
)

// well is an invented household well whose sums were worked out separately, by
// hand arithmetic from atomic weights.
type well struct {
	name                     string
	lab, site                Report
	cations, anions, percent float64
	notices                  []string // the checks that must speak
}

func read(pairs ...any) []Result {
	var rs []Result
	for i := 0; i < len(pairs); i += 3 {
		a := pairs[i].(Analyte)
		v, ok := pairs[i+2].(float64)
		if !ok {
			v = float64(pairs[i+2].(int))
		}
		rs = append(rs, Result{Analyte: a, Fraction: pairs[i+1].(Fraction), Value: v, Unit: a.Unit()})
	}
	return rs
}

const unsaid = Unspecified

var wells = []well{
	{"clear-water iron with hardness",
		Report{Tap: "T1", Results: append(read(Alkalinity, unsaid, 255, Hardness, unsaid, 290, Calcium, unsaid, 74, Magnesium, unsaid, 25.5, Sodium, unsaid, 9.5, Potassium, unsaid, 1.6,
			Chloride, unsaid, 9, Sulfate, unsaid, 31, Fluoride, unsaid, 0.2, Silica, unsaid, 18, Iron, Total, 2.0, Iron, Dissolved, 1.9, Manganese, Total, 0.06, Manganese, Dissolved, 0.06,
			Ammonia, unsaid, 0.1, TOC, unsaid, 0.9, Turbidity, unsaid, 11, PH, unsaid, 7.8, TDS, unsaid, 330, Conductivity, unsaid, 545),
			Result{Analyte: Nitrate, Sign: Below, Value: 0.05, Unit: "mg/L as N"})},
		Report{Tap: "T1", Field: true, Results: read(Temperature, unsaid, 10, PH, unsaid, 7.3, Oxygen, unsaid, 0.2, Iron, FerrousIron, 1.9, Iron, Total, 2.0, Turbidity, unsaid, 0.6)},
		6.32, 6.01, 2.5, []string{"ph_drift", "turbidity_rust"}},
	{"slime and a failing well",
		Report{Tap: "T1", Results: read(Alkalinity, unsaid, 150, Hardness, unsaid, 164, Calcium, unsaid, 46, Magnesium, unsaid, 12, Sodium, unsaid, 14, Potassium, unsaid, 2.1, Chloride, unsaid, 18,
			Sulfate, unsaid, 22, Nitrate, unsaid, 0.1, Fluoride, unsaid, 0.2, Silica, unsaid, 16, Iron, Total, 3.5, Iron, Dissolved, 2.2, Manganese, Total, 0.18, Manganese, Dissolved, 0.15,
			Ammonia, unsaid, 0.2, PH, unsaid, 7.5, TDS, unsaid, 230, Conductivity, unsaid, 375)},
		Report{Tap: "T1", Field: true, Results: read(Temperature, unsaid, 11, PH, unsaid, 7.0, Oxygen, unsaid, 1.2, Iron, FerrousIron, 2.1, Iron, Total, 3.5, Sulfide, unsaid, 0.1)},
		4.04, 3.98, 0.8, []string{"ph_drift"}},
	{"iron, manganese and sulfide",
		Report{Tap: "T1", Results: append(read(Alkalinity, unsaid, 262, Hardness, unsaid, 243, Calcium, unsaid, 66, Magnesium, unsaid, 19, Sodium, unsaid, 38, Potassium, unsaid, 3.4,
			Chloride, unsaid, 34, Sulfate, unsaid, 12, Fluoride, unsaid, 0.4, Silica, unsaid, 24, Iron, Total, 4.2, Iron, Dissolved, 4.1, Manganese, Total, 0.65, Manganese, Dissolved, 0.65,
			Sulfide, unsaid, 0.2, Ammonia, unsaid, 0.4, PH, unsaid, 7.7, TDS, unsaid, 368, Conductivity, unsaid, 585),
			Result{Analyte: Nitrate, Sign: Below, Value: 0.02, Unit: "mg/L as N"})},
		Report{Tap: "T1", Field: true, Results: read(Temperature, unsaid, 11, PH, unsaid, 7.1, Oxygen, unsaid, 0, Sulfide, unsaid, 2.4, Iron, FerrousIron, 4.1, Iron, Total, 4.2, Alkalinity, unsaid, 262)},
		6.80, 6.47, 2.5, []string{"ph_drift", "sulfide_lost"}},
}

func TestInventedWells(t *testing.T) {
	const from = "invented well, sums worked separately by hand arithmetic"
	for _, w := range wells {
		fs := CheckReport(w.lab, []Report{w.site})
		best, _ := Reconcile(defaults, w.lab, []Report{w.site})
		b, ok := ChargeBalance(best, AtHalf)
		if !ok {
			t.Fatalf("%s: no balance", w.name)
		}
		near(t, w.name+" cations", b.Cations.MeqPerL(), w.cations, 0.03, from)
		near(t, w.name+" anions", b.Anions.MeqPerL(), w.anions, 0.03, from)
		near(t, w.name+" balance", find1(fs, "charge_balance").Value, w.percent, 0.35, from+"; ammonium below 0.02 meq/L is left out here")
		for _, id := range w.notices {
			if f := find1(fs, id); f.Verdict != Notice || len(f.SetAside) == 0 {
				t.Errorf("%s: %s is %v %q", w.name, id, f.Verdict, f.Say)
			}
		}
		for _, f := range fs {
			if f.Verdict >= Doubt {
				t.Errorf("%s: %s %v: %s", w.name, f.ID, f.Verdict, f.Say)
			}
		}
		if p, ok := best.PH(); !ok || p.Value() != w.site.Results[1].Value {
			t.Errorf("%s: the pH to work with is %v", w.name, p)
		}
	}
}

// Iron-rich water of the Jianghan plain: its saturation tells that the pH was read
// after gas was lost, or part of the iron is particulate.
func TestGasLost(t *testing.T) {
	r := jianghan().with(mg(Iron, Unspecified, 28.68), mg(Temperature, Unspecified, 18))
	totals, alk, full := Totals(r, unit.Celsius(18))
	if !full {
		t.Fatal("a full analysis")
	}
	s, err := chem.New(defaults).AtPH(totals, unit.PHOf(6.97), alk)
	if err != nil {
		t.Fatal(err)
	}
	const from = "inputs published: Yang et al. 2020, well J23; indices worked separately at 18 °C"
	calcite, _ := s.SI(chem.Calcite)
	siderite, _ := s.SI(chem.Siderite)
	near(t, "calcite", calcite, 0.16, 0.1, from)
	near(t, "siderite", siderite, 1.6, 0.1, from)
	near(t, "carbon dioxide", s.CO2().MgPerL(), 90, 5, from)
	f := find1(CheckReport(r, nil), "gas_lost")
	if f.Verdict != Notice || !contains(f.Say, "particulate", "carbon dioxide left") {
		t.Errorf("finding %+v", f)
	}
}

// The same bottle read twice gives the same findings, and nothing that came in is
// changed.
func TestChecksLeaveTheReportAlone(t *testing.T) {
	for _, w := range wells {
		before := append([]Result(nil), w.lab.Results...)
		one, two := CheckReport(w.lab, []Report{w.site}), CheckReport(w.lab, []Report{w.site})
		if len(one) != len(two) {
			t.Errorf("%s: %d findings, then %d", w.name, len(one), len(two))
		}
		for i := range before {
			if before[i] != w.lab.Results[i] {
				t.Errorf("%s: result %d changed", w.name, i)
			}
		}
	}
}
