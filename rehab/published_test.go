package rehab

import (
	"math"
	"testing"

	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
)

// row is one number with where the wanted value comes from.
type row struct {
	name      string
	got, want float64
	tol       float64
	source    string
}

func check(t *testing.T, rows []row) {
	t.Helper()
	for _, r := range rows {
		if math.IsNaN(r.got) || math.Abs(r.got-r.want) > r.tol {
			t.Errorf("%s = %.6g, want %g ± %g (%s)", r.name, r.got, r.want, r.tol, r.source)
		}
	}
}

const (
	imperialGallon = 4.54609 // L
	cup            = 0.236588
	fluidOunce     = 0.0295735
	ounce          = 28.3495 // g
)

// The sources of the published dose tables.
const (
	hickory      = "Hickory Underground Water Conservation District, Texas"
	albertaAg    = "Alberta Agriculture, Water Wells That Last, module 6"
	albertaHS    = "Alberta Health Services, shock chlorination procedure, table 1"
	indiana      = "Indiana 327 IAC 8-3.4-24"
	michigan     = "Mich. Admin. Code R 325.1661, table 5"
	military     = "MIL-HDBK-1164, pp. 26-27"
	unhcr        = "UNHCR with WHO, 1997, Guidelines on selecting and using disinfectants"
	cdcFlood     = "CDC, Disinfecting wells, flood content, 2004 archive"
	coloradoMine = "Colorado mining office sampling plan, 2013"
	wisconsinDNR = "Wisconsin DNR, Bacteriological contamination of drinking water wells"
)

// published holds one printed figure a line; the tolerance allows for the
// rounding of the print.
var published = []struct {
	quantity  string // volume, or the product asked for
	diameter  float64
	feet      float64
	product   Product
	target    float64
	multiple  float64
	want      float64
	unit      string
	tolerance float64 // %
	from      string
}{
	{"volume", 6, 100, Product{}, 0, 2, 240, "imp_gal", 3, albertaAg},
	{"volume", 2, 80, Product{}, 0, 1, 12.80, "us_gal", 3, coloradoMine},
	{"volume", 6, 100, Product{}, 0, 1, 150, "us_gal", 3, hickory},
	{"volume", 6, 1, Product{}, 0, 1, 1.47, "us_gal", 0.5, military},
	{"volume", 36, 1, Product{}, 0, 1, 52.88, "us_gal", 0.5, military},
	{"volume", 60, 1, Product{}, 0, 1, 146.88, "us_gal", 0.5, military + " prints 148.88"},
	{"volume", 8, 100, Product{}, 0, 1, 261.1, "us_gal", 0.5, indiana},
	{"volume", 60, 100, Product{}, 0, 1, 14688, "us_gal", 0.5, indiana + " prints 11,690"},
	{"bleach", 4, 1, Product{Liquid, 5.25, 0}, 50, 2, 4.75, "mL", 5, albertaHS},
	{"bleach", 4, 1, Product{Liquid, 12, 0}, 50, 2, 2.1, "mL", 5, albertaHS},
	{"bleach", 6, 1, Product{Liquid, 5.25, 0}, 50, 2, 10.5, "mL", 5, albertaHS},
	{"bleach", 6, 1, Product{Liquid, 12, 0}, 50, 2, 4.55, "mL", 5, albertaHS},
	{"bleach", 8, 1, Product{Liquid, 5.25, 0}, 50, 2, 18, "mL", 5, albertaHS},
	{"bleach", 8, 1, Product{Liquid, 12, 0}, 50, 2, 8, "mL", 5, albertaHS},
	{"bleach", 4, 1, Product{Liquid, 5.25, 0}, 200, 2, 19, "mL", 5, albertaAg},
	{"bleach", 4, 1, Product{Liquid, 12, 0}, 200, 2, 8, "mL", 5, albertaAg},
	{"bleach", 6, 1, Product{Liquid, 5.25, 0}, 200, 2, 42, "mL", 4, albertaAg},
	{"bleach", 6, 1, Product{Liquid, 12, 0}, 200, 2, 18, "mL", 5, albertaAg},
	{"bleach", 8, 1, Product{Liquid, 5.25, 0}, 200, 2, 72, "mL", 5, albertaAg},
	{"bleach", 8, 1, Product{Liquid, 12, 0}, 200, 2, 32, "mL", 5, albertaAg},
	{"bleach", 6, 100, Product{Liquid, 5.25, 0}, 200, 2, 4.2, "L", 4, albertaAg},
	{"bleach", 60, 30, Product{Liquid, 5.25, 0}, 100, 1, 135, "cup", 2, cdcFlood},
	{"bleach", 6, 100, Product{Liquid, 5.25, 0}, 100, 1, 4.5, "cup", 5, hickory},
	{"bleach", 6, 100, Product{Liquid, 12, 0}, 50, 1, 7.8, "fl_oz", 3, indiana},
	{"bleach", 12, 100, Product{Liquid, 12, 0}, 50, 1, 32, "fl_oz", 3, indiana + ", 2.0 pt"},
	{"bleach", 36, 100, Product{Liquid, 12, 0}, 50, 1, 281.6, "fl_oz", 3, indiana + ", 2.2 gal"},
	{"dry", 6, 100, Product{Dry, 65, 0}, 50, 1, 1.5, "oz", 3, indiana},
	{"dry", 8, 100, Product{Dry, 65, 0}, 50, 1, 2.7, "oz", 3, indiana},
	{"dry", 10, 100, Product{Dry, 65, 0}, 50, 1, 4.2, "oz", 3, indiana},
	{"dry", 12, 100, Product{Dry, 65, 0}, 50, 1, 6.0, "oz", 3, indiana},
	{"dry", 16, 100, Product{Dry, 65, 0}, 50, 1, 10.7, "oz", 3, indiana},
	{"dry", 20, 100, Product{Dry, 65, 0}, 50, 1, 17, "oz", 3, indiana},
	{"dry", 24, 100, Product{Dry, 65, 0}, 50, 1, 24, "oz", 3, indiana},
	{"dry", 30, 100, Product{Dry, 65, 0}, 50, 1, 38, "oz", 3, indiana},
	{"dry", 36, 100, Product{Dry, 65, 0}, 50, 1, 54, "oz", 3, indiana},
	{"dry", 48, 100, Product{Dry, 65, 0}, 50, 1, 97, "oz", 3, indiana},
	{"dry", 60, 100, Product{Dry, 65, 0}, 50, 1, 151, "oz", 3, indiana},
	{"dry", 4, 1, Product{Dry, 70, 0}, 200, 2, 1.44, "g", 4, albertaAg},
	{"dry", 6, 1, Product{Dry, 70, 0}, 200, 2, 3.12, "g", 4, albertaAg},
	{"dry", 8, 1, Product{Dry, 70, 0}, 200, 2, 5.46, "g", 4, albertaAg},
}

func TestPublishedVolumesAndAmounts(t *testing.T) {
	for _, p := range published {
		v := unit.Gal(RoundVolume(unit.Inches(p.diameter), unit.Ft(p.feet)).Gal() * p.multiple)
		got := v.Gal()
		if p.unit == "imp_gal" {
			got = v.L() / imperialGallon
		}
		if p.quantity != "volume" {
			a, err := p.product.Needed(v, unit.MgPerLAsCl2(p.target))
			if err != nil {
				t.Fatal(err)
			}
			got = in(a, p.unit)
		}
		check(t, []row{{p.quantity + " " + p.unit, got, p.want, p.want * p.tolerance / 100, p.from}})
	}
}

func in(a Amount, u string) float64 {
	switch u {
	case "mL":
		return a.Liquid.L() * 1000
	case "L":
		return a.Liquid.L()
	case "cup":
		return a.Liquid.L() / cup
	case "fl_oz":
		return a.Liquid.L() / fluidOunce
	case "oz":
		return a.Mass.G() / ounce
	}
	return a.Mass.G()
}

func TestGallonsPerFoot(t *testing.T) {
	for d, want := range map[float64]float64{4: 0.65, 6: 1.47, 8: 2.61, 10: 4.08, 12: 5.88, 14: 8.00, 16: 10.44, 18: 13.22,
		20: 16.32, 24: 23.50, 27: 29.74, 30: 36.72, 36: 52.88, 42: 71.97, 48: 94.00} {
		check(t, []row{{"gal/ft", RoundVolume(unit.Inches(d), unit.Ft(1)).Gal(), want, 0.005 * want, military}})
	}
	for d, want := range map[float64]float64{6: 146.9, 8: 261.1, 10: 408.0, 12: 587.5, 16: 1044, 20: 1632, 24: 2350, 30: 3672, 36: 5287, 48: 9400} {
		check(t, []row{{"gal in 100 ft", RoundVolume(unit.Inches(d), unit.Ft(100)).Gal(), want, 0.001 * want, indiana}})
	}
	for d, want := range map[float64]float64{1.5: 0.092, 2: 0.163, 6: 1.469} {
		check(t, []row{{"gal/ft", RoundVolume(unit.Inches(d), unit.Ft(1)).Gal(), want, 0.0005, "county field form, V = 5.875 D2 h"}})
	}
	check(t, []row{{"m3 of a dug well", RoundVolume(unit.M(1.40), unit.M(3.5)).L() / 1000, 5, 0.5, unhcr}})
}

func TestRulesPerHundredGallons(t *testing.T) {
	bleach := Product{Liquid, 5.25, 0}
	hundred := unit.Gal(100)
	dose := func(quarts float64) float64 { return bleach.DoseFrom(unit.Gal(quarts/4), hundred).MgPerLAsCl2() }
	need := func(p Product, mg float64) Amount {
		a, err := p.Needed(hundred, unit.MgPerLAsCl2(mg))
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	check(t, []row{
		{"3/4 qt", dose(0.75), 100, 3, wisconsinDNR}, {"1 1/2 qt", dose(1.5), 200, 6, wisconsinDNR},
		{"2 qt", dose(2), 263, 1, wisconsinDNR + " prints 300; 2 qt of 5.25 % hold 263"},
		{"quarts for 300", need(bleach, 300).Liquid.Gal() * 4, 2.29, 0.01, wisconsinDNR + ", put right"},
		{"3 cups", bleach.DoseFrom(unit.L(3*cup), hundred).MgPerLAsCl2(), 98, 1, hickory + ", arithmetic"},
		{"2 oz of 65 %", need(Product{Dry, 65, 0}, 100).Mass.G() / ounce, 2, 0.06, military},
		{"2 oz of 70 %", need(Product{Dry, 70, 0}, 105).Mass.G() / ounce, 2, 0.03, hickory},
		{"a gallon in 100 ft of 6 in", bleach.DoseFrom(unit.Gal(1), RoundVolume(unit.Inches(6), unit.Ft(100))).MgPerLAsCl2(), 358, 2, "county sheets' rule of a gallon, arithmetic"},
		{"70 % in a cubic metre", need(Product{Dry, 70, 0}, 100).Mass.G() / hundred.L() * 1000, 140, 4.2, unhcr},
	})
	// Michigan's liquid row is on the safe side: never more than it, nor less
	// than the arithmetic.
	for mg, row := range map[float64][2]float64{100: {0.1905, 0.25}, 250: {0.476, 0.5}, 500: {0.952, 1}, 1000: {1.905, 2}} {
		if got := need(bleach, mg).Liquid.Gal(); got < row[0]*0.999 || got > row[1] {
			t.Errorf("%g mg/L in 100 gal takes %g gal, want %g to %g (%s)", mg, got, row[0], row[1], michigan)
		}
	}
	for mg, want := range map[float64]float64{100: 0.14, 250: 0.35, 500: 0.70, 1000: 1.40} {
		check(t, []row{{"lb of 60 % dry", need(Product{Dry, 60, 0}, mg).Mass.Lb(), want, 0.01 * want, michigan + " (fits 60 % available)"}})
	}
}

func TestProductTable(t *testing.T) {
	// Arithmetic on the label rule, for 100 gal.
	const arithmetic = "label per cent · 10 g/L; 378.5 L"
	for _, r := range []struct {
		mg   float64
		want [7]float64 // fl oz of 5.25, 6, 8.25, 10, 12.5 %; oz of 65, 70 %
	}{
		{50, [7]float64{12.2, 10.7, 7.8, 6.4, 5.1, 1.03, 0.95}}, {200, [7]float64{48.8, 42.7, 31.0, 25.6, 20.5, 4.11, 3.82}},
		{1000, [7]float64{243.8, 213.3, 155.2, 128.0, 102.4, 20.54, 19.08}},
	} {
		for i, p := range Products() {
			a, err := p.Needed(unit.Gal(100), unit.MgPerLAsCl2(r.mg))
			if err != nil {
				t.Fatal(err)
			}
			got := in(a, "fl_oz")
			if p.Form == Dry {
				got = in(a, "oz")
			}
			check(t, []row{{p.String(), got, r.want[i], 0.06, arithmetic}})
		}
	}
}

func TestPurgeAndPipes(t *testing.T) {
	const kuo = "Kuo, Practical Design Calculations for Groundwater and Soil Remediation, example 2.23"
	pack := PackVolume(unit.Inches(4), Pack{unit.Inches(10), unit.Ft(14.5), 0.40})
	well := RoundVolume(unit.Inches(4), unit.Ft(14.5)).Ft3() + pack.Ft3()
	v := Volumes{Casing: RoundVolume(unit.Inches(4), unit.Ft(14.5)), Pack: pack}
	purge := PurgeOf(source.Set{}, v, nil, nil)
	pipe := hydraulic.Pipe{Bore: unit.Inches(0.811), Length: unit.Ft(1)}
	half := hydraulic.Pipe{Bore: unit.Inches(0.545), Length: unit.Ft(1)}
	check(t, []row{
		{"well ft3", well, 3.92, 0.02, kuo}, {"three volumes ft3", purge.Volume.Ft3(), 11.8, 0.06, kuo},
		{"three volumes gal", purge.Volume.Gal(), 88, 0.44, kuo},
		{"3/4 copper M oz/ft", pipe.Contents().Gal() * 128, 3.43, 0.02, "2009 International Plumbing Code, table E202.1, as shown by US DOE"},
		{"1/2 copper L oz/ft", half.Contents().Gal() * 128, 1.55, 0.01, "2009 International Plumbing Code, table E202.1, as shown by US DOE"},
	})
}

func TestContactRules(t *testing.T) {
	none := source.Set{}
	for mg, want := range map[float64]float64{100: 10, 250: 4, 500: 2, 1000: 1, 200: 5} {
		check(t, []row{{"hours", ContactTime(none, unit.MgPerLAsCl2(mg)).ByRule.Hours(), want, 1e-9, michigan}})
	}
	const crypto = "Sci. Total Environ. 720:137451, 2020: 255 mg h/L for 3 log of Cryptosporidium"
	for _, r := range []struct {
		mg, hours float64
		want      bool
	}{{100, 12, true}, {50, 2, false}, {20, 12.75, true}, {20, 12.74, false}} {
		if got := ReachesCrypto(none, unit.MgPerLAsCl2(r.mg), hours(r.hours)); got != r.want {
			t.Errorf("%g mg/L for %g h reaches 3 log: %v, want %v (%s)", r.mg, r.hours, got, r.want, crypto)
		}
	}
	check(t, []row{
		{"stand at 100", ContactTime(none, unit.MgPerLAsCl2(100)).Stand.Hours(), 12, 1e-9, "Ontario, Water supply wells, ch. 8: 12 h undisturbed"},
		{"stand at 50", ContactTime(none, unit.MgPerLAsCl2(50)).Stand.Hours(), 20, 1e-9, michigan},
		{"stand at 20", ContactTime(none, unit.MgPerLAsCl2(20)).Stand.Hours(), 24, 1e-9, "common practice, 24 h for rubber"},
	})
}

func TestQuench(t *testing.T) {
	none := source.Set{}
	amount := func(i int) float64 {
		return Agents()[i].Quench(none, unit.Gal(500), unit.MgPerLAsCl2(100)).G()
	}
	check(t, []row{
		{"chlorine g", ChlorineFor(unit.Gal(500), unit.MgPerLAsCl2(100)).G(), 189, 0.5, "8.34 lb rule"},
		{"ascorbic acid g", amount(0), 470, 5, "stoichiometry, 176.12/70.91"},
		{"sulfite ratio", Agents()[1].Factor.Value, 126.04 / 70.906, 0.03, "molar masses"},
		{"bisulfite ratio", Agents()[2].Factor.Value, 104.06 / 70.906, 0.04, "molar masses"},
		{"peroxide ratio", Agents()[4].Factor.Value, 34.01 / 70.906, 0.03, "molar masses"},
	})
}
