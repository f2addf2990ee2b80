package water

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestAmount(t *testing.T) {
	for _, tt := range []struct {
		analyte Analyte
		value   float64
		unit    string
		basis   string
		want    float64
		tol     float64
		source  string
	}{
		{Iron, 1850, "ug/L", "", 1.85, 1e-9, "definition"},
		{Iron, 1850, "µg/l", "", 1.85, 1e-9, "definition"},
		{Iron, 2, "ppm", "", 2, 1e-9, "trade: ppm = mg/L in fresh water"},
		{PFOA, 4, "ng/L", "", 4e-6, 1e-15, "definition"},
		{Hardness, 10, "gpg", "", 171.18, 0.01, "64.79891 mg in 3.785412 L (definitions)"},
		{Hardness, 1, "mmol/L", "", 100.087, 0.01, "molar mass of CaCO3, IUPAC"},
		{Hardness, 1, "meq/L", "", 50.0435, 0.01, "half of it"},
		{Hardness, 1, "dH", "", 17.848, 0.001, "German degree, 10 mg/L CaO (from memory)"},
		{Hardness, 40.078, "mg/L", "as Ca", 100.087, 0.01, "one millimole of calcium"},
		{Alkalinity, 2, "meq/L", "", 100.087, 0.01, "definition"},
		{Alkalinity, 1000, "ueq/L", "", 50.0435, 0.01, "definition"},
		{Alkalinity, 100, "mg/L", "as HCO3", 82.02, 0.05, "USGS WRIR 02-4045 citing Hem 1985 p. 57: factor 0.8202"},
		{Bicarbonate, 100, "mg/L", "as CaCO3", 121.92, 0.05, "the same, inverted"},
		{Calcium, 100, "mg/L", "as CaCO3", 40.04, 0.02, "equivalent weight table: factor 2.497"},
		{Magnesium, 100, "mg/L", "as CaCO3", 24.28, 0.02, "equivalent weight table: factor 4.118"},
		{Magnesium, 1, "meq/L", "", 12.1525, 0.001, "equivalent weight table: 12.153"},
		{Sulfate, 1, "meq/L", "", 48.03, 0.01, "equivalent weight table: 48.03"},
		{Nitrate, 62, "mg/L", "as NO3", 14.0, 0.01, "62 as NO3 is 14.0 as N (factor 4.427)"},
		{Nitrate, 62, "mg/l asNO3", "", 14.0, 0.01, "the same, basis inside the unit (USGS export)"},
		{Nitrate, 10, "mg/l as N", "as N", 10, 1e-9, "definition"},
		{Nitrite, 3.284, "mg/l asNO2", "", 1, 0.001, "factor 3.284"},
		{Ammonia, 1.288, "mg/l NH4", "", 1, 0.001, "factor 1.288"},
		{Ammonia, 1.216, "mg/L", "as NH3", 1, 0.001, "factor 1.216"},
		{Phosphate, 3.066, "mg/l asPO4", "", 1, 0.001, "factor 3.066"},
		{Silica, 1, "mg/L", "as Si", 2.139, 0.001, "factor 2.139"},
		{Sulfide, 1, "mg/L", "as S", 1.063, 0.001, "factor 1.063"},
		{Sulfate, 1, "mg/L", "as S", 2.996, 0.001, "factor 2.996"},
		{Conductivity, 0.5, "mS/cm", "", 500, 1e-9, "definition"},
		{Conductivity, 545, "umho/cm", "", 545, 1e-9, "definition: mho = siemens"},
		{Conductivity, 545, "uS/cm @25C", "", 545, 1e-9, "USGS export"},
		{Turbidity, 1.2, "NTRU", "", 1.2, 1e-9, "read as one with NTU"},
		{PH, 7.2, "std units", "", 7.2, 1e-9, "USGS export"},
		{PH, 7.2, "None", "", 7.2, 1e-9, "portal export"},
		{Temperature, 50, "deg F", "", 10, 1e-9, "definition"},
		{Radon, 100, "Bq/L", "", 2702.7, 0.1, "1 pCi = 0.037 Bq (definition)"},
		{EColi, 4, "MPN/100 ml", "", 4, 1e-9, "definition"},
		{PlateCount, 5, "CFU/mL", "", 500, 1e-9, "definition"},
	} {
		a, err := Result{Analyte: tt.analyte, Value: tt.value, Unit: tt.unit, Basis: tt.basis}.Amount()
		if got, _ := a.Canonical(); err != nil || math.Abs(got-tt.want) > tt.tol {
			t.Errorf("%s %g %s %s = %g %v, want %g ± %g (%s)", tt.analyte, tt.value, tt.unit, tt.basis, got, err, tt.want, tt.tol, tt.source)
		}
	}
}

func TestAmountRefuses(t *testing.T) {
	limit := 0.05
	for _, tt := range []struct {
		r    Result
		word string // that the error must hold
	}{
		{Result{Analyte: TDS, Value: 0.6, Unit: "tons/ac ft"}, "tons/ac ft"},
		{Result{Analyte: Oxygen, Value: 40, Unit: "% saturatn"}, "mg/L"},
		{Result{Analyte: Iron, Value: 2, Unit: ""}, "mg/L"},
		{Result{Analyte: Iron, Value: 2, Unit: "gpg"}, "iron"},
		{Result{Analyte: Iron, Value: 2, Unit: "uS/cm"}, "mg/L"},
		{Result{Analyte: Iron, Value: -2, Unit: "mg/L"}, "below zero"},
		{Result{Analyte: Iron, Value: math.NaN(), Unit: "mg/L"}, "not a number"},
		{Result{Analyte: Nitrate, Value: 2, Unit: "mg/L", Basis: "as PO4"}, "as PO4"},
		{Result{Analyte: Nitrate, Value: 2, Unit: "mg/l as N", Basis: "as NO3"}, "two bases"},
		{Result{Analyte: Nitrate, Value: 2, Unit: "mg/L", Basis: "as moonlight"}, "moonlight"},
		{Result{Analyte: PH, Value: 72}, "0 to 14"},
		{Result{Analyte: Lead, Sign: Below, Unit: "ug/L"}, "detection limit"},
		{Result{Analyte: "phlogiston", Value: 1, Unit: "mg/L"}, "phlogiston"},
		{Result{Analyte: Turbidity, Value: 1, Unit: "mol/L"}, "NTU"},
	} {
		if a, err := tt.r.Amount(); err == nil || !strings.Contains(err.Error(), tt.word) {
			t.Errorf("%+v = %v, error %v; want an error with %q", tt.r, a, err, tt.word)
		}
	}
	a, err := Result{Analyte: Lead, Sign: Below, Unit: "mg/L", Limit: &limit}.Amount()
	if v, _ := a.Canonical(); err != nil || a.Sign != Below || v != limit {
		t.Errorf("a non-detect with its limit beside it = %v, %v; want <0.05", a, err)
	}
}

// Grams and grains: iron has a charge and could be counted as CaCO3, but nobody
// reports iron in grains; the fence above holds it off. These hold for any number.
func TestUnitRoundTrips(t *testing.T) {
	pairs := []struct {
		analyte      Analyte
		small, large string
		factor       float64
	}{
		{Iron, "ug/L", "mg/L", 1000}, {Arsenic, "ppb", "ppm", 1000}, {PFOS, "ng/L", "ug/L", 1000}, {Calcium, "ueq/L", "meq/L", 1000},
		{Silica, "umol/L", "mmol/L", 1000}, {Conductivity, "uS/cm", "mS/cm", 1000}, {Chloride, "mg/L", "g/L", 1000}, {PlateCount, "/100 mL", "/mL", 100},
	}
	rapid.Check(t, func(t *rapid.T) {
		p := pairs[rapid.IntRange(0, len(pairs)-1).Draw(t, "pair")]
		v := rapid.Float64Range(1e-6, 1e6).Draw(t, "v")
		a, errA := Result{Analyte: p.analyte, Value: v * p.factor, Unit: p.small}.Amount()
		b, errB := Result{Analyte: p.analyte, Value: v, Unit: p.large}.Amount()
		if errA != nil || errB != nil || math.Abs(a.v-b.v) > 1e-12*math.Abs(b.v) {
			t.Fatalf("%g %s is %g, %g %s is %g (%v, %v)", v*p.factor, p.small, a.v, v, p.large, b.v, errA, errB)
		}
	})
}

// A figure doubled is an amount doubled, on every basis.
func TestBasesAreProportional(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := []Analyte{Nitrate, Nitrite, Ammonia, Phosphate, Sulfide, Sulfate, Silica, Hardness, Alkalinity, Calcium, Bicarbonate}
		a := rapid.SampledFrom(all).Draw(t, "analyte")
		bases := append([]string{"", "CaCO3"}, basesOf[a]...)
		basis := rapid.SampledFrom(bases).Draw(t, "basis")
		v := rapid.Float64Range(1e-3, 1e4).Draw(t, "v")
		one, err := Result{Analyte: a, Value: v, Unit: "mg/L", Basis: basis}.Amount()
		two, _ := Result{Analyte: a, Value: 2 * v, Unit: "mg/L", Basis: basis}.Amount()
		if err == nil && math.Abs(two.v-2*one.v) > 1e-9*one.v {
			t.Fatalf("%s %g as %s: %g, doubled %g", a, v, basis, one.v, two.v)
		}
	})
}
