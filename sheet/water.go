package sheet

import (
	"fmt"
	"strings"

	"wellwright/plan"
	"wellwright/unit"
)

// rawLines are the values of the raw water that most choices lean on, by leaf
// name, in reading order.
var rawLines = []struct {
	leaf, words, unit string
	print             func(float64) string
}{
	{"ph", "pH", "", func(v float64) string { return fmt.Sprintf("%.1f", v) }},
	{"alkalinity_mg_l_as_caco3", "alkalinity", "mg/L as CaCO3", twoFigures},
	{"hardness_mg_l_as_caco3", "hardness", "mg/L as CaCO3", twoFigures},
	{"iron_total_mg_l", "iron, total", "mg/L", milligrams},
	{"manganese_mg_l", "manganese", "mg/L", milligrams},
	{"sulfide_mg_l_as_h2s", "sulfide", "mg/L as H2S", milligrams},
	{"ammonia_mg_l_as_n", "ammonia", "mg/L as N", milligrams},
	{"oxygen_mg_l", "oxygen", "mg/L", func(v float64) string { return figure(v, 1) }},
	{"temperature_c", "temperature", "C", func(v float64) string { return fmt.Sprintf("%.0f", v) }},
	{"toc_mg_l", "organic carbon", "mg/L", milligrams},
}

func twoFigures(v float64) string { return figure(v, 2) }

// raw writes the values of the raw water that are worked with.
func (p *page) raw(water map[string]plan.Value) {
	p.head("Raw water, as worked with")
	p.columns(2, 2, append([][]string{{"", "unit", "likeliest", "from", "to", ""}}, p.rawRows(water)...))
}

// rawRows are the values of the raw water that most choices lean on.
func (p *page) rawRows(water map[string]plan.Value) [][]string {
	var rows [][]string
	for _, l := range rawLines {
		v, known := water[l.leaf]
		if !known {
			rows = append(rows, []string{l.words, "", "not known", "", "", ""})
			continue
		}
		rows = append(rows, p.rawRow(l.words, l.unit, v, l.print))
	}
	return rows
}

// rawRow is one value; hardness is printed in the unit of the trade and
// temperature in the system's.
func (p *page) rawRow(words, u string, v plan.Value, print func(float64) string) []string {
	mark := ""
	if v.Assumed {
		mark = "assumed"
	}
	r := v.Range
	switch {
	case words == "hardness" && p.s == unit.US:
		u = "gpg"
		r = each(r, func(x float64) float64 { return unit.HardnessAsCaCO3(x).GPG() })
	case words == "temperature" && p.s == unit.US:
		u = "F"
		r = each(r, func(x float64) float64 { return unit.Celsius(x).Fahrenheit() })
	case words == "temperature":
		u = "°C"
	}
	return []string{words, u, print(r.P50), print(r.P05), print(r.P95), mark}
}

func each(r plan.Range, f func(float64) float64) plan.Range {
	return plan.Range{P05: f(r.P05), P50: f(r.P50), P95: f(r.P95)}
}

// spanIn writes a range with its unit in the system.
func spanIn(r plan.Range, u string, s unit.System) string {
	_, to := unit.InSystem(0, u, s)
	r = each(r, func(v float64) float64 { w, _ := unit.InSystem(v, u, s); return w })
	return strings.TrimSpace(span(r, 2) + " " + to)
}

// leafUnits are the endings of leaf names and the units they stand for, the
// longer before the shorter.
var leafUnits = []struct{ ending, unit string }{
	{"_mg_l_as_caco3", "mg/L as CaCO3"}, {"_mg_l_as_h2s", "mg/L as H2S"}, {"_mg_l_as_cl2", "mg/L as Cl2"}, {"_mg_l_as_n", "mg/L as N"}, {"_mg_l_as_p", "mg/L as P"},
	{"_mg_l", "mg/L"}, {"_gal_per_day_per_person", "gal/day"}, {"_gal_per_day", "gal/day"}, {"_per_100ml", "per 100 mL"}, {"_gpm", "gpm"}, {"_psi", "psi"}, {"_gal", "gal"}, {"_gpg", "gpg"}, {"_ft", "ft"}, {"_in", "in"}, {"_c", "°C"},
	{"_ntu", "NTU"}, {"_us_cm", "uS/cm"},
}

// leafWords parts a leaf name into words and unit.
func leafWords(name string) (words, u string) {
	for _, l := range leafUnits {
		if rest, ok := strings.CutSuffix(name, l.ending); ok {
			return plan.Spelt(rest), l.unit
		}
	}
	return plan.Spelt(name), ""
}

// nothingMeasured reports whether every value of the raw water was assumed.
func nothingMeasured(water map[string]plan.Value) bool {
	for _, v := range water {
		if !v.Assumed {
			return false
		}
	}
	return true
}
