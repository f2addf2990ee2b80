package hydraulic_test

import (
	"math"
	"testing"
	"time"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
)

const (
	hem       = "analysis published: Hem, 1985, USGS WSP 2254; derived"
	nwis      = "published: USGS NWIS, County Ditch 65 near Maple Bay MN"
	parkhurst = "published: Parkhurst and Appelo, 1999, USGS WRIR 99-4259"
	din       = "published: DIN 38404-10, April 1995, table 6"
	en25814   = "published: EN 25814"
	closed    = "derived: closed system at 10 °C"
)

// Molar masses, g/mol, CIAAW abridged.
const (
	ca, mg, na, k, cl, so4, n, no3 = 40.078, 24.305, 22.990, 39.098, 35.45, 96.06, 14.007, 62.004
	hco3, fe, sio2                 = 61.016, 55.845, 60.084
)

// salts are milligrams a litre, nitrate as NO3.
func salts(caMg, mgMg, naMg, kMg, clMg, so4Mg, fMg, no3Mg float64) chem.Totals {
	return chem.Totals{
		Calcium: unit.MgPerL(caMg), Magnesium: unit.MgPerL(mgMg), Sodium: unit.MgPerL(naMg), Potassium: unit.MgPerL(kMg),
		Chloride: unit.MgPerL(clMg), Sulfate: unit.MgPerL(so4Mg), Fluoride: unit.MgPerL(fMg), Nitrate: unit.MgPerLAsN(no3Mg * n / no3),
	}
}

func balance(t chem.Totals, alk unit.Alkalinity) float64 {
	p, _ := chem.ChargeBalance(chem.CationSum(t, alk), chem.AnionSum(t, alk))
	return p
}

func bicarbonate(mgPerL float64) unit.Alkalinity { return unit.AlkalinityMeq(mgPerL / hco3) }

func hardness(caMg, mgMg float64) unit.Hardness {
	return chem.HardnessOf(unit.MgPerL(caMg), unit.MgPerL(mgMg))
}

func balanceExamples() []example {
	a, aAlk := salts(43, 20, 28, 4.6, 28, 8.3, 0.5, 0.1), bicarbonate(254)
	b, bAlk := salts(49, 18, 168, 0, 246, 44, 0.1, 2.2), bicarbonate(202)
	third := salts(3.585*ca/2, 2.627*mg/2, 0.395*na, 0.118*k, 0.237*cl, 0.431*so4/2, 0, 0.004*no3)
	solids := salts(25, 14, 190, 13, 7, 1.2, 1.1, 0)
	solids.Silica = unit.MgPerL(20)
	const sheet = "published: water-quality mathematics sheet"
	const sample = "published: USGS WRIR 02-4045, table 4, sample 1"
	return []example{
		{"calcium 35, magnesium 22 mg/L", "mg/L as CaCO3", 178, 0.5, hardness(35, 22).MgPerLAsCaCO3(), sheet, ""},
		{"the same in grains", "gpg", 10.4, 0.05, hardness(35, 22).GPG(), sheet, ""},
		{"calcium 103, magnesium 5.5 mg/L", "mg/L as CaCO3", 281, 2, hardness(103, 5.5).MgPerLAsCaCO3(), "published: Davis, 2010, example 7-1, rounded factors", ""},
		{"calcium 25, magnesium 14 mg/L", "mg/L as CaCO3", 120, 1, hardness(25, 14).MgPerLAsCaCO3(), sample, ""},
		{"dissolved solids of that water", "mg/L", 624, 9.4, chem.CalculatedTDS(solids, unit.AlkalinityAsCaCO3(580)).MgPerL(), sample, ""},
		{"well water 12-6: balance", "%", -0.25, 0.05, balance(a, aAlk), hem, ""},
		{"well water 12-6: conductivity", "µS/cm", 458, 14, chem.CalculatedConductivity(a, aAlk).USPerCm(), hem, ""},
		{"well water 17-3: balance", "%", 0.12, 0.05, balance(b, bAlk), hem, ""},
		{"well water 17-3: conductivity", "µS/cm", 1066, 32, chem.CalculatedConductivity(b, bAlk).USPerCm(), hem, ""},
		{"sample 76: balance", "%", -4.93, 0.02, balance(third, unit.AlkalinityMeq(6.753)), nwis, ""},
	}
}

// inMmol are millimoles a litre, nitrate among them.
func inMmol(celsius, caM, mgM, naM, kM, clM, no3M, so4M float64) chem.Totals {
	t := salts(caM*ca, mgM*mg, naM*na, kM*k, clM*cl, so4M*so4, 0, no3M*no3)
	t.Temperature = unit.Celsius(celsius)
	return t
}

// withCarbon finds the water of a pH and a total carbon by halving in alkalinity.
func withCarbon(m *chem.Model, t chem.Totals, ph, carbon float64) unit.Alkalinity {
	low, high := 0.0, 2000*carbon+1
	for range 60 {
		mid := (low + high) / 2
		if s, err := m.AtPH(t, unit.PHOf(ph), unit.AlkalinityMeq(mid)); err != nil || s.Carbon().MolPerL() < carbon {
			low = mid
		} else {
			high = mid
		}
	}
	return unit.AlkalinityMeq(low)
}

func speciationExamples(t *testing.T) []example {
	m := chem.New(source.Set{})
	state, si := must[chem.State](t), sure[float64](t)
	spring := inMmol(25, 0.078, 0.029, 0.134, 0.028, 0.014, 0, 0.010)
	spring.Silica = unit.MgPerL(0.273 * sio2)
	s := state(m.AtPH(spring, unit.PHOf(6.2), unit.AlkalinityMeq(0.328)))
	madison := inMmol(9.9, 1.20, 1.01, 0.02, 0.02, 0.02, 0, 0.16)
	madison.IronII = unit.MgPerL(0.001 * fe)
	r := state(m.AtPH(madison, unit.PHOf(7.55), unit.AlkalinityMeq(4.014)))
	const sierra, recharge = parkhurst + ", example 16", parkhurst + ", example 18"
	rows := []example{
		{"spring of Sierra Nevada: ionic strength", "mol/L", 4.86e-4, 1e-5, s.Ionic().MolPerL(), sierra, ""},
		{"spring: CO2", "mol/L", 4.54e-4, 5e-6, s.Molarity(chem.CarbonDioxide).MolPerL(), sierra, ""},
		{"spring: bicarbonate", "mol/L", 3.28e-4, 4e-6, s.Molarity(chem.BicarbonateIon).MolPerL(), sierra, ""},
		{"spring: log pCO2", "", -1.87, 0.02, math.Log10(s.PCO2().Atm()), sierra, ""},
		{"spring: SI calcite", "", -3.30, 0.05, si(s.SI(chem.Calcite)), sierra, ""},
		{"spring: SI aragonite", "", -3.44, 0.05, si(s.SI(chem.Aragonite)), sierra, ""},
		{"Madison recharge: log pCO2", "", -2.26, 0.02, math.Log10(r.PCO2().Atm()), recharge, ""},
		{"Madison recharge: SI calcite", "", -0.04, 0.05, si(r.SI(chem.Calcite)), recharge, ""},
		{"Madison recharge: SI siderite", "", -0.86, 0.05, si(r.SI(chem.Siderite)), recharge, ""},
		{"Madison recharge: ferrous ion", "mol/L", 7.29e-7, 3.6e-8, r.Molarity(chem.FerrousIon).MolPerL(), recharge, ""},
		{"Madison recharge: FeHCO3+", "mol/L", 2.09e-7, 1e-8, r.Molarity(chem.FeHCO3).MolPerL(), recharge, ""},
	}
	for _, w := range []struct {
		name            string
		measured, now   chem.Totals
		ph, carbon      float64
		then, si, d, eq float64
	}{
		{"water 1", inMmol(20, 3.50, 0.75, 2.05, 0.15, 2.50, 0.50, 1.20), inMmol(10, 3.50, 0.75, 2.05, 0.15, 2.50, 0.50, 1.20), 6.90, 6.680e-3, 6.98, -0.15, 0.20, 7.07},
		{"water 3", inMmol(20, 1.22, 0.35, 0.15, 0.05, 0.16, 0.07, 0.35), inMmol(5.5, 1.22, 0.35, 0.15, 0.05, 0.16, 0.07, 0.35), 7.90, 2.456e-3, 8.05, 0.17, -0.03, 7.90},
		{"water 5", inMmol(20, 0.30, 0.15, 0.30, 0.05, 0.30, 0.20, 0.20), inMmol(10, 0.30, 0.15, 0.30, 0.05, 0.30, 0.20, 0.20), 8.90, 0.329e-3, 9.08, -0.15, 0.01, 9.22},
	} {
		x := state(m.AtCarbon(w.now, withCarbon(m, w.measured, w.ph, w.carbon), chem.MolPerL(w.carbon)))
		eq := must[chem.CalciteBalance](t)(x.CalciteBalance())
		rows = append(rows,
			example{w.name + ": pH when cooled", "", w.then, 0.03, x.PH().Value(), din, ""},
			example{w.name + ": SI calcite", "", w.si, 0.03, si(x.SI(chem.Calcite)), din, ""},
			example{w.name + ": dissolves", "mmol/L", w.d, 0.03, -eq.Precipitates.MgPerL() / 100.086, din, ""},
			example{w.name + ": pH at balance", "", w.eq, 0.03, eq.State.PH().Value(), din, ""})
	}
	return rows
}

func indexExamples(t *testing.T) []example {
	m := chem.New(source.Set{})
	scale := func(temp unit.Temperature, ph, calcium, alk, tds float64) chem.Scale {
		return chem.Scale{Temperature: temp, PH: unit.PHOf(ph), Calcium: unit.HardnessAsCaCO3(calcium), Alkalinity: unit.AlkalinityAsCaCO3(alk), TDS: unit.MgPerL(tds)}
	}
	ph := sure[unit.PH](t)
	short := func(x chem.Scale) chem.ByHand {
		return chem.ByHand{PH: x.PH, Saturation: ph(chem.ShortSaturationPH(x))}
	}
	full := func(x chem.Scale) chem.ByHand { return chem.ByHand{PH: x.PH, Saturation: ph(m.SaturationPH(x))} }
	cold, hot := scale(unit.Celsius(25), 7.5, 150, 34, 320), scale(unit.Celsius(82), 7.5, 150, 34, 320)
	pool := scale(unit.Fahrenheit(84), 7.6, 300, 75, 500)
	ratio := sure[float64](t)
	a, b := salts(43, 20, 28, 4.6, 28, 8.3, 0.5, 0.1), salts(49, 18, 168, 0, 246, 44, 0.1, 2.2)
	const nace = "factors published, the rest from memory (NACE example)"
	const sm = "derived: Standard Methods 2330"
	return []example{
		{"saturation pH, 25 °C, short form", "", 8.2, 0.05, short(cold).Saturation.Value(), nace, ""},
		{"Langelier, 25 °C, short form", "", -0.7, 0.05, short(cold).Langelier(), nace, ""},
		{"Ryznar, 25 °C", "", 8.9, 0.1, short(cold).Ryznar(), nace, ""},
		{"Langelier, 82 °C, short form", "", 0.3, 0.05, short(hot).Langelier(), nace, ""},
		{"Ryznar, 82 °C", "", 7.0, 0.1, short(hot).Ryznar(), nace, ""},
		{"Langelier, 25 °C, full form", "", -0.54, 0.05, full(cold).Langelier(), sm, ""},
		{"Langelier, 82 °C, full form", "", 0.16, 0.05, full(hot).Langelier(), sm, ""},
		{"pool water, full form", "", 0.2, 0.05, full(pool).Langelier(), "published: factor method for pools", ""},
		{"Larson ratio of well water 12-6", "", 0.231, 0.005, ratio(chem.Larson(a, bicarbonate(254))), hem, ""},
		{"Larson ratio of well water 17-3", "", 2.37, 0.005, ratio(chem.Larson(b, bicarbonate(202))), hem, ""},
		{"chloride to sulfate of 12-6", "", 3.37, 0.01, ratio(chem.MassRatio(a)), hem, ""},
		{"chloride to sulfate of 17-3", "", 5.59, 0.01, ratio(chem.MassRatio(b)), hem, ""},
		{"CO2 at pH 6.2, bicarbonate 20 mg/L", "mg/L", 20.2, 0.4, chem.ShortCO2(unit.PHOf(6.2), bicarbonate(20)).MgPerL(), "published: USGS TWRI 5-A1", ""},
	}
}

func oxidationExamples(t *testing.T) []example {
	m := chem.New(source.Set{})
	oxygen := func(celsius, mmHg float64) float64 {
		return chem.OxygenSaturation(unit.Celsius(celsius), unit.KPa(mmHg*101.325/760)).MgPerL()
	}
	half := func(law chem.Law, celsius, ph, do float64) float64 {
		c := chem.Conditions{Temperature: unit.Celsius(celsius), Ionic: chem.IonicMolPerL(0.01), Law: law}
		return sure[time.Duration](t)(m.IronHalfLife(c, unit.PHOf(ph), unit.MgPerL(do), chem.Surface{})).Minutes()
	}
	value := sure[float64](t)
	needs := m.ChlorineDemand(chem.ChlorineNeeds{IronII: unit.MgPerL(2), Manganese: unit.MgPerL(0.30), Sulfide: unit.MgPerLAsH2S(0.5),
		Ammonia: unit.MgPerLAsN(0.2), Residual: unit.MgPerLAsCl2(0.5)})
	var rows []example
	for _, e := range [][2]float64{{0, 14.6}, {8, 11.8}, {14, 10.3}, {20, 9.09}, {25, 8.26}, {30, 7.56}} {
		rows = append(rows, example{"oxygen at " + short(e[0]) + " °C", "mg/L", e[1], 0.05, oxygen(e[0], 760), en25814, ""})
	}
	const field = "published: field instrument manual, approximate"
	const wtpd = "factor published: ASCE/AWWA, Water Treatment Plant Design, table 10.7"
	const millero = "law published: Millero and others, 1987; derived"
	return append(rows, []example{
		{"oxygen at 10 °C, 700 mmHg", "mg/L", 10.4, 0.1, oxygen(10, 700), field, ""},
		{"oxygen at 10 °C, 650 mmHg", "mg/L", 9.7, 0.1, oxygen(10, 650), field, ""},
		{"oxygen for 2.6 mg/L iron", "mg/L", 0.372, 0.0037, 2.6 * value(chem.Demand(chem.Oxygen, chem.IronII)), "problem from MWH, Water Treatment; derived", ""},
		{"ferric hydroxide from it", "mg/L", 4.98, 0.05, 2.6 * value(chem.SolidsMade(chem.Oxygen, chem.IronII)), "problem from MWH, Water Treatment; derived", ""},
		{"chlorine for 3 mg/L iron", "mg/L", 1.92, 0.04, 3 * value(chem.Demand(chem.ChlorineGas, chem.IronII)), wtpd, ""},
		{"permanganate for 3 mg/L iron", "mg/L", 2.82, 0.06, 3 * value(chem.Demand(chem.Permanganate, chem.IronII)), wtpd, ""},
		{"half-life of iron, 25 °C, pH 7, air", "min", 23, 0.7, half(chem.SlowLaw, 25, 7, oxygen(25, 760)), millero, ""},
		{"half-life of iron, 12 °C, pH 7.2, 10.8 mg/L", "min", 100, 5, half(chem.SlowLaw, 12, 7.2, 10.8), millero, ""},
		{"breakpoint of 1 mg/L ammonia", "mg/L", 7.6, 0.076, value(chem.Demand(chem.ChlorineGas, chem.AmmoniaToNitrogen)), "published: Weiner, Applications of Environmental Aquatic Chemistry, p. 143", ""},
		{"chlorine for iron, manganese, sulfide and ammonia", "mg/L", 4.72, 0.05, needs.Total().Usual.MgPerLAsCl2(), "derived: 1.27 + 0.39 + 1.04 + 1.52 + 0.5", ""},
		{"free chlorine for 2 mg/L HOCl at pH 7.8", "mg/L", 5.64, 0.11, 2 / m.FreeAcidShare(unit.Celsius(25), unit.PHOf(7.8)), "problem published; derived", ""},
	}...)
}

func chemicalExamples(t *testing.T) []example {
	m := chem.New(source.Set{})
	raw := chem.Totals{Temperature: unit.Celsius(10), Calcium: unit.MgPerL(10 * ca / 100.086), Magnesium: unit.MgPerL(5 * mg / 100.086),
		Sodium: unit.MgPerL(0.4 * na), Chloride: unit.MgPerL(0.3 * cl), Sulfate: unit.MgPerL(0.05 * so4)}
	s := must[chem.State](t)(m.AtPH(raw, unit.PHOf(6), unit.AlkalinityAsCaCO3(20)))
	dose := func(c chem.Chemical, ph float64) float64 {
		return must[chem.Adjusted](t)(s.RaiseTo(c, unit.PHOf(ph))).Dose.MgPerL()
	}
	top := must[chem.CalciteBalance](t)(s.CalciteBalance())
	aged := func(f float64) float64 {
		return must[chem.Bleach](t)(chem.TradePercent(12.5).Aged(30*24*time.Hour, unit.Fahrenheit(f))).TradePercent()
	}
	caustic := 30 + chem.AlkalinityOf(chem.Caustic, unit.MgPerL(10)).MgPerLAsCaCO3()
	const table = "published table of bleach strength, 12.5 trade % after 30 days"
	return []example{
		{"6 % by weight, gravity 1.1: available chlorine", "% by weight", 5.7, 0.05, chem.WeightPercentNaOCl(6, 1.1).WeightPercentAvailable(1.1), "published: page with formulas", ""},
		{"the same in trade per cent", "%", 6.3, 0.05, chem.WeightPercentNaOCl(6, 1.1).TradePercent(), "published: page with formulas", ""},
		{"bleach at 80 °F", "%", 9.93, 0.6, aged(80), table, ""},
		{"bleach at 90 °F", "%", 8.36, 0.5, aged(90), table, ""},
		{"alkalinity 30 with 10 mg/L caustic", "mg/L as CaCO3", 42.5, 0.1, caustic, "derived: atomic weights", ""},
		{"alkalinity 30 with 10 mg/L caustic, on a handout", "mg/L as CaCO3", 42.8, 0.1, caustic, "published handout on alkalinity adjustment", "the handout counts 1.28 for caustic; 50.04/40.00 is 1.251"},
		{"CO2 of water of pH 6.0, alkalinity 20", "mg/L", 49.4, 0.5, s.CO2().MgPerL(), closed, ""},
		{"calcite it dissolves", "mg/L", 103, 3.1, -top.Precipitates.MgPerL(), closed, ""},
		{"its pH then", "", 7.80, 0.05, top.State.PH().Value(), closed, ""},
		{"calcite to pH 7.0", "mg/L", 66, 2, dose(chem.CalciteGrain, 7), closed, ""},
		{"soda ash to pH 7.5", "mg/L", 99, 3, dose(chem.SodaAsh, 7.5), closed, ""},
		{"caustic to pH 7.5", "mg/L", 40, 1.2, dose(chem.Caustic, 7.5), closed, ""},
	}
}
