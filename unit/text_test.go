package unit_test

import (
	"encoding"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/unit"
)

// quantity is what every type of the package can do through a pointer.
type quantity interface {
	encoding.TextMarshaler
	encoding.TextUnmarshaler
	fmt.Stringer
	In(unit.System) string
}

// kinds lists every quantity: a fresh one, its base unit, and its least value
// where it cannot be any negative number.
var kinds = []struct {
	what  string
	fresh func() quantity
	base  string
	least float64
}{
	{"flow", func() quantity { return new(unit.Flow) }, "gpm", 0},
	{"loading", func() quantity { return new(unit.Loading) }, "gpm/ft2", 0},
	{"specific capacity", func() quantity { return new(unit.SpecificCapacity) }, "gpm/ft", 0},
	{"volume", func() quantity { return new(unit.Volume) }, "gal", 0},
	{"length", func() quantity { return new(unit.Length) }, "ft", -1e6},
	{"area", func() quantity { return new(unit.Area) }, "ft2", 0},
	{"pressure", func() quantity { return new(unit.Pressure) }, "psi", -14.7},
	{"mass", func() quantity { return new(unit.Mass) }, "lb", 0},
	{"power", func() quantity { return new(unit.Power) }, "hp", 0},
	{"energy", func() quantity { return new(unit.Energy) }, "kWh", 0},
	{"concentration", func() quantity { return new(unit.Concentration) }, "mg/L", 0},
	{"hardness", func() quantity { return new(unit.Hardness) }, "mg/L as CaCO3", 0},
	{"alkalinity", func() quantity { return new(unit.Alkalinity) }, "mg/L as CaCO3", -1e6},
	{"nitrogen", func() quantity { return new(unit.Nitrogen) }, "mg/L as N", 0},
	{"phosphorus", func() quantity { return new(unit.Phosphorus) }, "mg/L as P", 0},
	{"sulfide", func() quantity { return new(unit.Sulfide) }, "mg/L as H2S", 0},
	{"chlorine", func() quantity { return new(unit.Chlorine) }, "mg/L as Cl2", 0},
	{"count", func() quantity { return new(unit.Count) }, "per 100 mL", 0},
	{"radioactivity", func() quantity { return new(unit.Radioactivity) }, "pCi/L", 0},
	{"temperature", func() quantity { return new(unit.Temperature) }, "C", -273.15},
	{"pH", func() quantity { return new(unit.PH) }, "", -2},
	{"conductivity", func() quantity { return new(unit.Conductivity) }, "uS/cm", 0},
	{"turbidity", func() quantity { return new(unit.Turbidity) }, "NTU", 0},
	{"potential", func() quantity { return new(unit.Potential) }, "mV", -1e6},
}

// same writes q, reads it back and fails unless nothing was lost.
func same(t interface{ Fatalf(string, ...any) }, what string, q, again quantity) {
	text, err := q.MarshalText()
	if err != nil {
		t.Fatalf("%s: writing: %v", what, err)
	}
	if err := again.UnmarshalText(text); err != nil {
		t.Fatalf("%s: reading back %q: %v", what, text, err)
	}
	if second, _ := again.MarshalText(); string(second) != string(text) {
		t.Fatalf("%s: %q came back as %q", what, text, second)
	}
}

func TestWrittenTextIsReadBack(t *testing.T) {
	for _, k := range kinds {
		rapid.Check(t, func(t *rapid.T) {
			q := k.fresh()
			v := rapid.Float64Range(math.Max(k.least, -1e6), 1e9).Draw(t, "v")
			if err := q.UnmarshalText([]byte(fmt.Sprintf("%v %s", v, k.base))); err != nil {
				t.Fatalf("%s: %v", k.what, err)
			}
			same(t, k.what, q, k.fresh())
		})
	}
}

// What is printed for a person is read again within the three figures printed.
func TestPrintedTextIsReadInBothSystems(t *testing.T) {
	for _, k := range kinds {
		for _, sys := range []unit.System{unit.US, unit.Metric} {
			rapid.Check(t, func(t *rapid.T) {
				q, again := k.fresh(), k.fresh()
				v := rapid.Float64Range(0.01, 1e6).Draw(t, "v")
				if err := q.UnmarshalText([]byte(fmt.Sprintf("%v %s", v, k.base))); err != nil {
					t.Fatalf("%s: %v", k.what, err)
				}
				if err := again.UnmarshalText([]byte(q.In(sys))); err != nil {
					t.Fatalf("%s in %v: %q is not read: %v", k.what, sys, q.In(sys), err)
				}
				if a, b := base(t, q, k.base), base(t, again, k.base); math.Abs(a-b) > 0.0051*math.Abs(a)+0.1*offset(k.what) {
					t.Fatalf("%s in %v: %g printed as %q, read as %g", k.what, sys, a, q.In(sys), b)
				}
			})
		}
	}
}

// offset is 1 for the scale whose zero is not the other's zero.
func offset(what string) float64 {
	if what == "temperature" {
		return 1
	}
	return 0
}

// base returns the number q is written with.
func base(t *rapid.T, q quantity, name string) (v float64) {
	text, err := q.MarshalText()
	if err != nil {
		t.Fatalf("%v", err)
	}
	if _, err := fmt.Sscanf(strings.TrimSuffix(string(text), name), "%g", &v); err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return v
}

func TestRefusals(t *testing.T) {
	for _, k := range kinds {
		for _, tt := range []struct{ text, want string }{
			{"5 furlong", `unit "furlong" is not one of`},
			{"", "does not begin with a number"},
			{k.base + "x", "does not begin with a number"},
			{"NaN " + k.base, "does not begin with a number"},
			{"Inf " + k.base, "does not begin with a number"},
			{"-Inf " + k.base, "does not begin with a number"},
			{"1e999 " + k.base, "is too large a number"},
			{"-1e7 " + k.base, "is below the least possible"},
			{"1.2.3 " + k.base, "does not begin with a number"},
			{"4-5 " + k.base, "does not begin with a number"},
			{"9,5 " + k.base, "a comma may only part thousands"},
			{"0,500 " + k.base, "a comma may only part thousands"},
			{"1.5,000 " + k.base, "a comma may only part thousands"},
			{"1234,567 " + k.base, "a comma may only part thousands"},
		} {
			err := k.fresh().UnmarshalText([]byte(tt.text))
			if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.HasPrefix(err.Error(), k.what+": ") {
				t.Errorf("%s: %q gave %v, want %q", k.what, tt.text, err, tt.want)
			}
		}
	}
}

// A number without a unit is taken only where none is written in the trade.
func TestMissingUnit(t *testing.T) {
	for _, k := range kinds {
		err := k.fresh().UnmarshalText([]byte("7"))
		if k.what == "pH" || k.what == "count" {
			if err != nil {
				t.Errorf("%s: 7 was refused: %v", k.what, err)
			}
			continue
		}
		var unknown *unit.UnknownError
		if !errors.As(err, &unknown) {
			t.Errorf("%s: 7 without a unit gave %v, want an UnknownError", k.what, err)
			continue
		}
		if unknown.What != k.what || unknown.Unit != "" || !strings.Contains(unknown.Known, k.base) {
			t.Errorf("%s: %+v does not name the quantity and the units that would be right", k.what, unknown)
		}
	}
}

func TestLeastPossible(t *testing.T) {
	for _, k := range kinds {
		for _, tt := range []struct {
			v    float64
			want bool
		}{{k.least, true}, {k.least - math.Max(1e-6, math.Abs(k.least)*1e-6), false}, {k.least + 0.001, true}} {
			err := k.fresh().UnmarshalText([]byte(fmt.Sprintf("%.9f %s", tt.v, k.base)))
			if (err == nil) != tt.want {
				t.Errorf("%s: %.9f taken %t, want %t: %v", k.what, tt.v, err == nil, tt.want, err)
			}
			if err != nil && strings.TrimSpace(err.Error()) != err.Error() {
				t.Errorf("%s: message ends in a space: %q", k.what, err)
			}
		}
	}
}

// A product too large for the base unit is no quantity.
func TestOverflowInTheConversion(t *testing.T) {
	var c unit.Concentration
	if err := c.UnmarshalText([]byte("1e308 g/L")); err == nil || !strings.Contains(err.Error(), "too large") {
		t.Errorf("1e308 g/L gave %v (%v), want a refusal", c, err)
	}
}

// What could not be read back is not written.
func TestNoNumberIsNotWritten(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		for _, q := range []encoding.TextMarshaler{unit.GPM(v), unit.MgPerL(v), unit.Celsius(v), unit.PHOf(v), unit.PSI(v)} {
			if text, err := q.MarshalText(); err == nil {
				t.Errorf("%T of %g was written as %q", q, v, text)
			}
		}
	}
}
