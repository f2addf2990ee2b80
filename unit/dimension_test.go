package unit_test

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/unit"
)

func TestSignificant(t *testing.T) {
	for _, tt := range []struct {
		v    float64
		n    int
		want string
	}{ // rounding by hand: half goes to the even digit only where binary holds the half exactly
		{0, 3, "0"}, {math.Copysign(0, -1), 3, "0"},
		{1, 3, "1"}, {9.5, 3, "9.5"}, {3.14159, 3, "3.14"}, {-3.14159, 3, "-3.14"},
		{0.0012345, 3, "0.00123"}, {0.00099999, 3, "0.001"},
		{9.994, 3, "9.99"}, {9.996, 3, "10"}, {99.96, 3, "100"}, {999.6, 3, "1000"},
		{1234.4, 3, "1234"}, {123456, 3, "123456"}, {123456.7, 3, "123457"},
		{1000, 4, "1000"}, {0.001, 1, "0.001"}, {100, 3, "100"}, {10, 3, "10"},
		{17.118061, 5, "17.118"}, {0.5, 1, "0.5"}, {2.5, 2, "2.5"},
	} {
		if got := unit.Significant(tt.v, tt.n); got != tt.want {
			t.Errorf("Significant(%v, %d) = %q, want %q", tt.v, tt.n, got, tt.want)
		}
	}
	if got := unit.Digits(2.0 / 3); got != "0.667" {
		t.Errorf("Digits(2/3) = %q, want 0.667", got)
	}
}

// The error of n figures is at most half a step in the last of them.
func TestSignificantIsWithinHalfAStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1e-6, 1e9).Draw(t, "v")
		n := rapid.IntRange(1, 9).Draw(t, "n")
		s := unit.Significant(v, n)
		var got unit.Concentration
		if err := got.UnmarshalText([]byte(s + " mg/L")); err != nil {
			t.Fatalf("Significant(%v, %d) = %q: %v", v, n, s, err)
		}
		if math.Abs(got.MgPerL()-v) > 0.5000001*v*math.Pow(10, float64(1-n)) {
			t.Fatalf("Significant(%v, %d) = %q", v, n, s)
		}
		if strings.ContainsAny(s, "eE") || strings.Contains(s, ".") && strings.HasSuffix(s, "0") {
			t.Fatalf("Significant(%v, %d) = %q has an exponent or trailing zeros", v, n, s)
		}
	})
}

func TestParseSystem(t *testing.T) {
	for _, tt := range []struct {
		text string
		want unit.System
	}{{"us", unit.US}, {"US", unit.US}, {" metric ", unit.Metric}, {"SI", unit.Metric}, {"Metric", unit.Metric}} {
		if got, err := unit.ParseSystem(tt.text); err != nil || got != tt.want {
			t.Errorf("ParseSystem(%q) = %v, %v, want %v", tt.text, got, err, tt.want)
		}
	}
	for _, s := range []unit.System{unit.US, unit.Metric} {
		if got, err := unit.ParseSystem(s.String()); err != nil || got != s {
			t.Errorf("ParseSystem(%q) = %v, %v", s, got, err)
		}
	}
	for _, text := range []string{"", "imperial", "u s"} {
		if _, err := unit.ParseSystem(text); err == nil || !strings.Contains(err.Error(), "want us or metric") {
			t.Errorf("ParseSystem(%q) gave %v, want a refusal that names both", text, err)
		}
	}
}

func TestUnknownErrorSaysWhatWouldBeRight(t *testing.T) {
	e := &unit.UnknownError{What: "flow", Unit: "mph", Known: "gpm, L/min"}
	if got, want := e.Error(), `flow: unit "mph" is not one of gpm, L/min`; got != want {
		t.Errorf("Error() = %q, want %q", got, want)
	}
}

// Spellings met on laboratory sheets and in the trade.
func TestSpellings(t *testing.T) {
	for _, tt := range []struct {
		got, want float64
		text      string
	}{
		{read[unit.Flow](t, "1,440 gal/day").GPM(), 1, "thousands parted by a comma"},
		{read[unit.Flow](t, "9.5gpm").GPM(), 9.5, "no space"},
		{read[unit.Flow](t, "  9.5   GPM ").GPM(), 9.5, "capitals and spaces"},
		{read[unit.Volume](t, "2.5e3 gal").Gal(), 2500, "exponent"},
		{read[unit.Pressure](t, "-5 psi").PSI(), -5, "suction"},
		{read[unit.Conductivity](t, "540 µmhos/cm").USPerCm(), 540, "the old name of the siemens"},
		{read[unit.Concentration](t, ".3 ppm").MgPerL(), 0.3, "no leading zero"},
		{read[unit.Temperature](t, "52 °F").Fahrenheit(), 52, "degree sign"},
		{read[unit.Count](t, "12 MPN/100mL").Per100mL(), 12, "most probable number"},
		{read[unit.PH](t, "7.2 s.u.").Value(), 7.2, "standard units"},
		{read[unit.Volume](t, "1,234,567.5 gal").Gal(), 1234567.5, "two commas and a point"},
	} {
		near(t, tt.text, tt.got, tt.want, 0, "common practice")
	}
}

// FuzzUnmarshal reads any text as every quantity: nothing panics, and what is
// taken can be written and read back unchanged, and printed in both systems.
func FuzzUnmarshal(f *testing.F) {
	for _, s := range []string{
		"9.5 gpm", "1,440 gal/day", "-459.67 F", "32 °F", "1e308 g/L", "9,5 mg/L", "-0 psi", "5e gpm", "1e-320 lb", "7", "pH 7",
		"300 mg/L as HCO3", "18 grains per gallon", "<1 mpn", "2 m³/h", "-3 s.u.", "1e5,000 ft", "\u00a07 C", "12\"", "+.5 NTU", "",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, k := range kinds {
			q := k.fresh()
			if q.UnmarshalText([]byte(s)) != nil {
				continue
			}
			same(t, k.what, q, k.fresh())
			if us, metric := q.String(), q.In(unit.Metric); strings.Contains(us+metric, "NaN") || us == "" || metric == "" {
				t.Fatalf("%s: %q is printed as %q and %q", k.what, s, us, metric)
			}
		}
	})
}
