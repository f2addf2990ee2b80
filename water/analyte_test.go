package water

import (
	"strings"
	"testing"
)

func TestParseAnalyte(t *testing.T) {
	for _, tt := range []struct {
		name     string
		analyte  Analyte
		fraction Fraction
		basis    string
		source   string
	}{
		{"Fe", Iron, Unspecified, "", "symbol"},
		{"Fe total", Iron, Total, "", "trade spelling"},
		{"Iron, Total Recoverable", Iron, Recoverable, "", "US EPA fraction list: Total Recoverable"},
		{"Iron, dissolved", Iron, Dissolved, "", "laboratory spelling"},
		{"dissolved iron", Iron, Dissolved, "", "laboratory spelling"},
		{"ferrous iron", Iron, FerrousIron, "", "US EPA characteristic list: Ferrous ion"},
		{"Iron (II)", Iron, FerrousIron, "", "IUPAC oxidation number"},
		{"Fe²⁺", Iron, FerrousIron, "", "ion formula"},
		{"Ferrous ion", Iron, FerrousIron, "", "US EPA characteristic list"},
		{"NO3-N", Nitrate, Unspecified, "as N", "laboratory spelling"},
		{"Nitrate as NO3", Nitrate, Unspecified, "as NO3", "laboratory spelling"},
		{"Nitrate-Nitrogen", Nitrate, Unspecified, "as N", "laboratory spelling"},
		{"Nitrogen, Nitrate (NO3) as NO3", Nitrate, Unspecified, "as NO3", "Ohio EPA ambient wells"},
		{"Nitrate+Nitrite as N", NitrateNitrite, Unspecified, "as N", "Ohio EPA ambient wells"},
		{"Nitrate + Nitrite", NitrateNitrite, Unspecified, "", "Water Quality Portal"},
		{"Inorganic nitrogen (nitrate and nitrite)", NitrateNitrite, Unspecified, "", "Water Quality Portal"},
		{"Alkalinity, total as CaCO3", Alkalinity, Unspecified, "as CaCO3", "laboratory spelling"},
		{"Alkalinity, Total", Alkalinity, Unspecified, "", "Ohio EPA ambient wells"},
		{"Hardness, Ca, Mg", Hardness, Unspecified, "", "Water Quality Portal"},
		{"Hardness, Ca + Mg", Hardness, Unspecified, "", "Ohio EPA ambient wells"},
		{"Hardness, non-carbonate", PermanentHardness, Unspecified, "", "Water Quality Portal: not the hardness"},
		{"Hardness, carbonate", CarbonateHardness, Unspecified, "", "Water Quality Portal: not the hardness"},
		{"Calcium hardness", Calcium, Unspecified, "as CaCO3", "trade spelling"},
		{"Ammonia and ammonium", Ammonia, Unspecified, "", "Water Quality Portal"},
		{"Carbon, Total Organic (TOC)", TOC, Unspecified, "", "Ohio EPA ambient wells"},
		{"Dissolved oxygen (DO)", Oxygen, Unspecified, "", "Water Quality Portal: dissolved is no fraction here"},
		{"Dissolved oxygen saturation", OxygenSaturation, Unspecified, "", "Water Quality Portal"},
		{"Total dissolved solids", TDS, Unspecified, "", "Water Quality Portal: total and dissolved are no fractions here"},
		{"Total Dissolved Solids (TDS), Field", TDS, Unspecified, "", "Ohio EPA ambient wells"},
		{"Total Coliform", TotalColiform, Unspecified, "", "Water Quality Portal"},
		{"Escherichia coli", EColi, Unspecified, "", "Water Quality Portal"},
		{"E. coli", EColi, Unspecified, "", "laboratory spelling"},
		{"Specific Conductance", Conductivity, Unspecified, "", "Ohio EPA ambient wells"},
		{"Silicon", Silica, Unspecified, "as Si", "Water Quality Portal"},
		{"Sulphate", Sulfate, Unspecified, "", "British spelling"},
		{"Radium-226 + Radium-228", Radium, Unspecified, "", "40 CFR 141.66 wording"},
		{"Radon-222", Radon, Unspecified, "", "Water Quality Portal"},
		{"pH", PH, Unspecified, "", "symbol"},
		{"Total iron", Iron, Total, "", "trade spelling"},
		{"Total chlorine", TotalChlorine, Unspecified, "", "trade spelling"},
		{"Hydrogen sulfide (H2S)", Sulfide, Unspecified, "", "trade spelling"},
		{"As", Arsenic, Unspecified, "", "symbol that is also a word"},
		{"Oxidation Reduction Potential (ORP)", ORP, Unspecified, "", "Ohio EPA ambient wells"},
	} {
		a, f, b, ok := ParseAnalyte(tt.name)
		if !ok || a != tt.analyte || f != tt.fraction || b != tt.basis {
			t.Errorf("ParseAnalyte(%q) = %q %v %q %v, want %q %v %q (%s)", tt.name, a, f, b, ok, tt.analyte, tt.fraction, tt.basis, tt.source)
		}
	}
}

func TestParseAnalyteRefuses(t *testing.T) {
	for _, name := range []string{"", "Temperature, air", "Flow", "Organic Nitrogen", "Sodium, percent total cations",
		"Barometric pressure", "Acidity, (H+)", "dissolved", "ferrous ph"} {
		if a, _, _, ok := ParseAnalyte(name); ok {
			t.Errorf("ParseAnalyte(%q) = %q, want nothing: it is another thing", name, a)
		}
	}
}

// Every identifier and every name in words must come back to its analyte, and no
// spelling may stand for two.
func TestTableIsSound(t *testing.T) {
	owner := map[string]Analyte{}
	for _, e := range table {
		if a, _, _, ok := ParseAnalyte(string(e.id)); !ok || a != e.id {
			t.Errorf("identifier %q reads as %q", e.id, a)
		}
		if a, _, _, ok := ParseAnalyte(e.name); !ok || a != e.id {
			t.Errorf("name %q reads as %q, want %q", e.name, a, e.id)
		}
		if e.dim.Unit() == "" {
			t.Errorf("%s has no canonical unit", e.id)
		}
		if _, ok := basisMass[e.basis]; e.basis != "" && !ok {
			t.Errorf("%s counts in %s, which has no mass", e.id, e.basis)
		}
		for s := range strings.SplitSeq(e.also, ";") {
			if o, twice := owner[s]; twice && s != "" {
				t.Errorf("%q stands for %s and %s", s, o, e.id)
			}
			if s != plain(s) {
				t.Errorf("%q is not plain: it can never be found", s)
			}
			owner[s] = e.id
		}
	}
	for _, a := range aliases {
		if a.name != plain(a.name) {
			t.Errorf("alias %q is not plain", a.name)
		}
	}
}

func TestParseFraction(t *testing.T) {
	for _, tt := range []struct {
		text string
		want Fraction
	}{ // words: US EPA sample-fraction list and USGS exports
		{"Filtered, field", Dissolved}, {"Unfiltered, field", Total}, {"Unfiltered", Total}, {"Dissolved", Dissolved},
		{"Total", Total}, {"Recoverable", Recoverable}, {"Suspended", Suspended}, {"", Unspecified}, {"Filterable", Dissolved},
		{"Filtered field and/or lab", Dissolved}, {"Total Recoverable", Recoverable}, {"None", Unspecified},
	} {
		if got, ok := ParseFraction(tt.text); !ok || got != tt.want {
			t.Errorf("ParseFraction(%q) = %v %v, want %v", tt.text, got, ok, tt.want)
		}
	}
	if _, ok := ParseFraction("Bedload"); ok {
		t.Error("bedload is no fraction of a water sample")
	}
}

func TestSymptoms(t *testing.T) {
	all := Symptoms()
	if len(all) != 52 {
		t.Errorf("%d symptoms, want the 52 of the dictionary", len(all))
	}
	seen := map[Symptom]bool{}
	for _, d := range all {
		if seen[d.ID] || d.Say == "" || d.Confirm == "" || d.From == "" {
			t.Errorf("%s is doubled or has a gap", d.ID)
		}
		seen[d.ID] = true
		for _, text := range []string{string(d.ID), strings.ReplaceAll(string(d.ID), "_", " "), strings.ToUpper(d.Say)} {
			if got, err := ParseSymptom(text); err != nil || got != d.ID {
				t.Errorf("ParseSymptom(%q) = %q, %v", text, got, err)
			}
		}
	}
	if _, err := ParseSymptom("slime in the tank"); err == nil || !strings.Contains(err.Error(), "slime_in_tank") {
		t.Errorf("a near miss should name slime_in_tank, got %v", err)
	}
}
