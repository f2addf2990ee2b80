package unit_test

import (
	"encoding"
	"math"
	"testing"

	"wellwright/unit"
)

// Sources of the rows below.
const (
	sp811  = "published, exact: NIST SP 811 (2008), appendix B (from memory)"
	digits = "published: NIST SP 811 (2008), appendix B, to the digits printed (from memory)"
	by     = "derived from exact definitions in NIST SP 811 (2008)"
	iupac  = "derived: IUPAC standard atomic weights 2021, abridged"
)

// read makes the quantity that s says.
func read[Q any, P interface {
	*Q
	encoding.TextUnmarshaler
}](t *testing.T, s string) Q {
	t.Helper()
	var q Q
	if err := P(&q).UnmarshalText([]byte(s)); err != nil {
		t.Fatalf("reading %q: %v", s, err)
	}
	return q
}

// near fails unless got is want within a relative tolerance; zero tolerance
// still allows the last digits of binary arithmetic.
func near(t *testing.T, what string, got, want, tol float64, from string) {
	t.Helper()
	if math.Abs(got-want) > math.Max(tol, 1e-14)*math.Max(math.Abs(want), 1e-3) {
		t.Errorf("%s = %.15g, want %.15g ± %g of it (%s)", what, got, want, tol, from)
	}
}

func TestConversionsOfTheHandbook(t *testing.T) {
	vol := func(s string) unit.Volume { return read[unit.Volume](t, s) }
	length := func(s string) unit.Length { return read[unit.Length](t, s) }
	mass := func(s string) unit.Mass { return read[unit.Mass](t, s) }
	flow := func(s string) unit.Flow { return read[unit.Flow](t, s) }
	press := func(s string) unit.Pressure { return read[unit.Pressure](t, s) }
	power := func(s string) unit.Power { return read[unit.Power](t, s) }
	for _, tt := range []struct {
		what      string
		got, want float64
		tol       float64 // relative
		from      string
	}{
		{"US gallon, L", vol("1 gal").L(), 3.785411784, 0, sp811},
		{"litre, gal", vol("1 L").Gal(), 1 / 3.785411784, 0, sp811},
		{"cubic foot, L", vol("1 ft3").L(), 28.316846592, 0, sp811},
		{"cubic foot, gal", vol("1 ft3").Gal(), 1728.0 / 231, 0, "231 cubic inches a gallon: NIST Handbook 44, appendix C"},
		{"cubic metre, L", vol("1 m3").L(), 1000, 0, "definition of the litre"},
		{"millilitre, L", vol("1 mL").L(), 0.001, 0, "definition of the litre"},

		{"foot, m", length("1 ft").M(), 0.3048, 0, sp811},
		{"inch, mm", length("1 in").MM(), 25.4, 0, sp811},
		{"inch mark, ft", length(`12"`).Ft(), 1, 0, "definition"},
		{"metre, ft", length("1 m").Ft(), 3.280840, 2e-7, digits},
		{"centimetre, in", length("2.54 cm").Inches(), 1, 0, sp811},
		{"millimetre, m", length("1 mm").M(), 0.001, 0, "definition"},
		{"square metre, ft2", read[unit.Area](t, "1 m2").Ft2(), 1 / (0.3048 * 0.3048), 0, by},

		{"pound, kg", mass("1 lb").Kg(), 0.45359237, 0, sp811},
		{"grain, mg", mass("1 grain").G() * 1000, 64.79891, 0, sp811},
		{"pound, grains", mass("1 lb").Grains(), 7000, 0, "definition: NIST Handbook 44, appendix C"},
		{"ounce, g", mass("1 oz").G(), 28.349523125, 0, sp811},
		{"milligram, g", mass("1 mg").G(), 0.001, 0, "definition"},
		{"kilograin, g", mass("1000 gr").G(), 64.79891, 0, by},

		{"gallon a minute, L/min", flow("1 gpm").LPerMin(), 3.785411784, 0, by},
		{"gallon a minute, m3/h", flow("1 gpm").M3PerHour(), 0.2271247, 2e-7, by},
		{"litre a second, gpm", flow("1 L/s").GPM(), 15.85032, 2e-7, by},
		{"gallon a day, L/min", flow("1440 gpd").LPerMin(), 3.785411784, 0, by},
		{"litre a day, mL/min", flow("1.44 L/day").LPerMin(), 0.001, 0, "1440 minutes a day"},
		{"millilitre a minute", flow("1000 mL/min").LPerMin(), 1, 0, "definition"},
		{"metre an hour, gpm/ft2", read[unit.Loading](t, "1 m/h").GPMPerFt2(), 1000 / 3.785411784 / 60 * 0.09290304, 0, by},
		{"gpm/ft2, m/h", 1 / read[unit.Loading](t, "1 m/h").GPMPerFt2(), 2.445, 2e-4, "common practice: tables of filter loading print 2.445 (from memory)"},
		{"specific capacity", read[unit.SpecificCapacity](t, "1 L/min/m").GPMPerFt(), 0.3048 / 3.785411784, 0, by},

		{"psi, kPa", press("1 psi").KPa(), 6.894757293168, 1e-12, "derived: lb, ft and g of SP 811; printed there as 6.894757"},
		{"bar, kPa", press("1 bar").KPa(), 100, 0, sp811},
		{"bar, psi", press("1 bar").PSI(), 14.50377, 4e-7, digits},
		{"foot of water at 60 °F, kPa", press("1 ft water").KPa(), 12 * 0.24884, 3e-5, "published: NIST SP 811, inch of water (60 °F) 2.4884E+02 Pa (from memory)"},
		{"metre of water, feet", press("0.3048 m water").FtWater(), 1, 0, "the same column measured twice"},

		{"horsepower, W", power("1 hp").KW() * 1000, 745.6999, 1e-7, digits},
		{"horsepower of 550 ft·lbf/s, W", power("1 hp").KW() * 1000, 745.69987158227022, 1e-13, by},
		{"watt, kW", power("1 W").KW(), 0.001, 0, "definition"},

		{"microgram a litre", read[unit.Concentration](t, "1 ug/L").MgPerL(), 0.001, 0, "definition"},
		{"micro sign", read[unit.Concentration](t, "1 µg/L").MgPerL(), 0.001, 0, "definition"},
		{"nanogram a litre", read[unit.Concentration](t, "1 ng/L").UgPerL(), 0.001, 0, "definition"},
		{"gram a litre", read[unit.Concentration](t, "1 g/L").MgPerL(), 1000, 0, "definition"},
		{"gram a cubic metre", read[unit.Concentration](t, "1 g/m³").MgPerL(), 1, 0, "definition"},

		{"gpg as CaCO3, mg/L", unit.GPG(1).MgPerLAsCaCO3(), 64.79891 / 3.785411784, 0, by},
		{"gpg as CaCO3, mg/L", read[unit.Hardness](t, "1 gpg").MgPerLAsCaCO3(), 17.118, 4e-6, "published: Maryland Geological Survey, Hardness (web page)"},
		{"hardness, meq/L", read[unit.Hardness](t, "1 meq/L").MgPerLAsCaCO3(), (40.078 + 12.011 + 3*15.999) / 2, 2e-5, iupac},
		{"alkalinity, meq/L", unit.AlkalinityMeq(1).MgPerLAsCaCO3(), (40.078 + 12.011 + 3*15.999) / 2, 2e-5, iupac},
		{"bicarbonate, mg/L as CaCO3", read[unit.Alkalinity](t, "1 mg/L as HCO3").MgPerLAsCaCO3(), 0.8202, 6e-5, "published: Hem 1985, USGS WSP 2254, p. 57"},
		{"bicarbonate, meq/L", read[unit.Alkalinity](t, "61.016 mg/L as HCO3").MeqPerL(), 1, 1e-6, iupac},
		{"sulfur as H2S", read[unit.Sulfide](t, "32.06 mg/L as S").MgPerLAsH2S(), 34.076, 1e-6, iupac},

		{"becquerel, pCi", read[unit.Radioactivity](t, "1 Bq/L").PCiPerL(), 1 / 0.037, 0, "published, exact: one curie is 3.7E+10 Bq, NIST SP 811"},
		{"millisiemens", read[unit.Conductivity](t, "1 mS/cm").USPerCm(), 1000, 0, "definition"},
		{"decisiemens a metre", read[unit.Conductivity](t, "1 dS/m").USPerCm(), 1000, 0, "definition"},
	} {
		near(t, tt.what, tt.got, tt.want, tt.tol, tt.from)
	}
}

func TestTemperatures(t *testing.T) {
	for _, tt := range []struct{ f, c float64 }{ // fixed points: t/°F = 1.8 t/°C + 32, NIST SP 811
		{-459.67, -273.15}, {-40, -40}, {0, -160.0 / 9}, {32, 0}, {50, 10}, {68, 20}, {212, 100},
	} {
		if got := unit.Fahrenheit(tt.f).Celsius(); math.Abs(got-tt.c) > 1e-12 {
			t.Errorf("Fahrenheit(%g) = %.15g °C, want %g", tt.f, got, tt.c)
		}
		if got := unit.Celsius(tt.c).Fahrenheit(); math.Abs(got-tt.f) > 1e-12 {
			t.Errorf("Celsius(%g) = %.15g °F, want %g", tt.c, got, tt.f)
		}
		text := unit.Significant(tt.f, 5) + " °F"
		if got := read[unit.Temperature](t, text).Celsius(); math.Abs(got-tt.c) > 1e-12 {
			t.Errorf("%s = %.15g °C, want %g", text, got, tt.c)
		}
	}
	if got := unit.Celsius(0.01).Kelvin(); math.Abs(got-273.16) > 1e-12 {
		t.Errorf("0.01 °C = %g K, want 273.16 (triple point of water, SI before 2019)", got)
	}
}

// Each pair of a maker and a reader is the same number again.
func TestMakersAndReadersAgree(t *testing.T) {
	const v = 12.345
	for name, got := range map[string]float64{
		"GPM": unit.GPM(v).GPM(), "LPerMin": unit.LPerMin(v).LPerMin(), "GalPerDay": unit.GalPerDay(v).GalPerDay(),
		"M3PerHour": unit.M3PerHour(v).M3PerHour(), "Gal": unit.Gal(v).Gal(), "L": unit.L(v).L(), "Ft3": unit.Ft3(v).Ft3(),
		"Ft": unit.Ft(v).Ft(), "Inches": unit.Inches(v).Inches(), "M": unit.M(v).M(), "MM": unit.MM(v).MM(), "Ft2": unit.Ft2(v).Ft2(),
		"PSI": unit.PSI(v).PSI(), "KPa": unit.KPa(v).KPa(), "FtWater": unit.FtWater(v).FtWater(), "Lb": unit.Lb(v).Lb(),
		"Kg": unit.Kg(v).Kg(), "G": unit.G(v).G(), "Grains": unit.Grains(v).Grains(), "HP": unit.HP(v).HP(), "KW": unit.KW(v).KW(),
		"KWh": unit.KWh(v).KWh(), "MgPerL": unit.MgPerL(v).MgPerL(), "UgPerL": unit.UgPerL(v).UgPerL(), "GPerL": unit.GPerL(v).GPerL(),
		"GPG": unit.GPG(v).GPG(), "AsCaCO3": unit.HardnessAsCaCO3(v).MgPerLAsCaCO3(), "Meq": unit.AlkalinityMeq(v).MeqPerL(),
		"AsN": unit.MgPerLAsN(v).MgPerLAsN(), "AsP": unit.MgPerLAsP(v).MgPerLAsP(), "AsCl2": unit.MgPerLAsCl2(v).MgPerLAsCl2(),
		"AsH2S": unit.MgPerLAsH2S(v).MgPerLAsH2S(), "Per100mL": unit.Per100mL(v).Per100mL(), "PCiPerL": unit.PCiPerL(v).PCiPerL(),
		"NTU": unit.NTU(v).NTU(), "MV": unit.MV(v).MV(), "PH": unit.PHOf(v).Value(), "USPerCm": unit.USPerCm(v).USPerCm(),
		"Fahrenheit": unit.Fahrenheit(v).Fahrenheit(), "Celsius": unit.Celsius(v).Celsius(),
	} {
		near(t, name, got, v, 0, "self: there and back")
	}
}
