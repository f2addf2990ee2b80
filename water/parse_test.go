package water

import (
	"math"
	"testing"
)

var parseCases = []struct {
	name, text, unit string
	sign             Sign
	value            float64
	note             string
}{ // texts as they stand in laboratory reports and portal exports
	{"Iron", "<0.05", "mg/L", Below, 0.05, ""},
	{"Iron", "< 0.04", "mg/L", Below, 0.04, ""},
	{"Iron", "≤0.04", "mg/L", Below, 0.04, ""},
	{"Iron", "ND", "mg/L", Below, 0, "ND"},
	{"Iron", "BDL", "", Below, 0, "BDL"},
	{"Iron", "U", "ug/L", Below, 0, "U"},
	{"Iron", "not detected", "mg/L", Below, 0, "not detected"},
	{"Iron", "ND (0.05)", "mg/L", Below, 0.05, ""},
	{"Iron", "0.05 U", "mg/L", Below, 0.05, "U"},
	{"Iron", "0.2 J", "mg/L", Exact, 0.2, "J"},
	{"Iron", "0.2J", "mg/L", Exact, 0.2, "J"},
	{"Iron", "1,850", "ug/L", Exact, 1850, ""},
	{"Iron", "1e-05", "mg/L", Exact, 1e-5, ""},
	{"Iron", ">10", "mg/L", Above, 10, ""},
	{"Nitrate", "3.1", "mg/L as N", Exact, 3.1, ""},
	{"Total coliform", "present", "", Present, 0, ""},
	{"Total coliform", "Absent", "per 100 mL", Absent, 0, ""},
	{"Total coliform", "TNTC", "CFU/100mL", Above, 200, "TNTC"},
	{"Total coliform", ">200", "CFU/100 mL", Above, 200, ""},
	{"Total coliform", ">2419.6", "MPN/100mL", Above, 2419.6, ""},
	{"E. coli", "<1", "MPN/100mL", Below, 1, ""},
	{"E. coli", "ND", "", Absent, 0, ""},
	{"Iron bacteria", "day 8", "", Exact, 8, ""},
	{"Iron bacteria", "2", "days", Exact, 2, ""},
	{"Iron bacteria", "negative", "", Absent, 0, ""},
	{"ORP", "-120", "mV", Exact, -120, ""},
	{"pH", "7.3", "", Exact, 7.3, ""},
	{"Hydrogen sulfide", "none", "mg/L", Below, 0, "none"},
}

func TestParseResult(t *testing.T) {
	for _, tt := range parseCases {
		r, err := ParseResult(tt.name, tt.text, tt.unit, Place{File: "x", Line: 3})
		if err != nil || r.Sign != tt.sign || r.Value != tt.value || r.Note != tt.note || r.Place.Line != 3 {
			t.Errorf("ParseResult(%q, %q, %q) = %+v, %v; want %v %g %q", tt.name, tt.text, tt.unit, r, err, tt.sign, tt.value, tt.note)
		}
	}
}

func TestParseResultRefuses(t *testing.T) {
	for _, tt := range []struct{ name, text, unit string }{
		{"Iron", "", "mg/L"}, {"Iron", "See Remark for TEXT", ""}, {"Iron", "NORMAL", "mg/L"}, {"Iron", "0,3", "mg/L"},
		{"Iron", "1,85", "mg/L"}, {"Iron", "Not Reported", "mg/L"}, {"Iron", "2", ""}, {"Iron", "-1", "mg/L"}, {"Iron", "1e999", "mg/L"},
		{"Oxygen", "40", "% saturatn"}, {"Weather", "1", "mg/L"}, {"Iron", "present", "mg/L"}, {"Iron", "TNTC", "mg/L"}, {"Iron", "3", "tons"},
	} {
		if r, err := ParseResult(tt.name, tt.text, tt.unit, Place{}); err == nil {
			t.Errorf("ParseResult(%q, %q, %q) = %+v, want an error", tt.name, tt.text, tt.unit, r)
		}
	}
}

// Whatever is thrown at it: no crash, and what is accepted is finite and can be
// turned into an amount unless it is a non-detect without a limit.
func FuzzParseResult(f *testing.F) {
	for _, tt := range parseCases {
		f.Add(tt.name, tt.text, tt.unit)
	}
	f.Add("Hardness, Ca, Mg as CaCO3", "1,234.5 H;U", "mg/l CaCO3")
	f.Add("Fe²⁺", "&lt;0.1", "µg/l")
	f.Fuzz(func(t *testing.T, name, text, unit string) {
		r, err := ParseResult(name, text, unit, Place{})
		if err != nil {
			return
		}
		if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) {
			t.Fatalf("%q %q %q gives %g", name, text, unit, r.Value)
		}
		bare := r.Sign == Below && r.Value == 0
		if a, err := r.Amount(); err != nil && !bare || a.v < 0 && !mayBeNegative(r.Analyte) {
			t.Fatalf("%q %q %q was accepted as %+v but is no amount: %v", name, text, unit, r, err)
		}
	})
}
