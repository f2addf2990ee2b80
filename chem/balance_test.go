package chem

import (
	"testing"

	"wellwright/unit"
)

const (
	hem  = "analysis published: Hem 1985, USGS WSP 2254; sums derived apart"
	nwis = "published: USGS NWIS, County Ditch 65 near Maple Bay MN"
)

// meq builds totals from milliequivalents a litre.
func meq(ca, mg, na, k, cl, so4, no3 float64) Totals {
	return Totals{
		Calcium: unit.MgPerL(ca * molCa / 2), Magnesium: unit.MgPerL(mg * molMg / 2), Sodium: unit.MgPerL(na * molNa), Potassium: unit.MgPerL(k * molK),
		Chloride: unit.MgPerL(cl * molCl), Sulfate: unit.MgPerL(so4 * molSO4 / 2), Nitrate: unit.MgPerLAsN(no3 * molN),
	}
}

// mgl builds totals from milligrams a litre, nitrate as NO3.
func mgl(ca, mg, na, k, cl, so4, f, no3 float64) Totals {
	return Totals{
		Calcium: unit.MgPerL(ca), Magnesium: unit.MgPerL(mg), Sodium: unit.MgPerL(na), Potassium: unit.MgPerL(k),
		Chloride: unit.MgPerL(cl), Sulfate: unit.MgPerL(so4), Fluoride: unit.MgPerL(f), Nitrate: unit.MgPerLAsN(no3 * molN / molNO3),
	}
}

// hco3 is the alkalinity of a bicarbonate in mg/L.
func hco3(mg float64) unit.Alkalinity { return unit.AlkalinityMeq(mg / molHCO3) }

func TestChargeBalance(t *testing.T) {
	for _, tt := range []struct {
		name               string
		t                  Totals
		alk                unit.Alkalinity
		c, a, percent      float64
		tolMeq, tolPercent float64
		from               string
	}{
		{"well 12-6", mgl(43, 20, 28, 4.6, 28, 8.3, 0.5, 0.1), hco3(254), 5.127, 5.153, -0.25, 0.005, 0.05, hem},
		{"well 17-3", mgl(49, 18, 168, 0, 246, 44, 0.1, 2.2), hco3(202), 11.234, 11.206, 0.12, 0.005, 0.05, hem},
		{"sample 49", meq(4.153, 2.741, 0.397, 0.073, 0.161, 0.241, 0.007), unit.AlkalinityMeq(6.913), 7.364, 7.323, 0.29, 0.003, 0.02, nwis},
		{"sample 38, no alkalinity", meq(7.972, 0, 0, 0, 0.26, 0.273, 0.004), unit.Alkalinity{}, 7.972, 0.537, 87.37, 0.002, 0.05, nwis},
		{"sample 76", meq(3.585, 2.627, 0.395, 0.118, 0.237, 0.431, 0.004), unit.AlkalinityMeq(6.753), 6.726, 7.425, -4.93, 0.002, 0.02, nwis},
		{"textbook 7-1", mgl(103, 5.5, 16, 0, 37, 49, 0, 0), hco3(255), 316 / 50.04, 312 / 50.04, 0.4, 0.06, 0.3, "published: Davis 2010, Example 7-1"},
		{"spring of Sierra Nevada", firstOf(spring()), unit.AlkalinityMeq(0.328), 0.376, 0.362, 1.90, 0.002, 0.1, usgsExamples + ", example 16"},
		{"iron well", ironWell(), hco3(558.58), 10.6, 9.64, 4.7, 0.1, 0.2, "analysis published: Yang et al. 2020; with ferrous iron and ammonium, derived apart"},
	} {
		c, a := CationSum(tt.t, tt.alk), AnionSum(tt.t, tt.alk)
		near(t, tt.name+" cations", c.MeqPerL(), tt.c, tt.tolMeq, tt.from)
		near(t, tt.name+" anions", a.MeqPerL(), tt.a, tt.tolMeq, tt.from)
		p, ok := ChargeBalance(c, a)
		if !ok {
			t.Errorf("%s: no balance", tt.name)
		}
		near(t, tt.name+" balance, %", p, tt.percent, tt.tolPercent, tt.from)
	}
	if _, ok := ChargeBalance(Equivalents{}, Equivalents{}); ok {
		t.Error("a water without ions has a charge balance")
	}
}

func firstOf(t Totals, _ unit.PH, _ unit.Alkalinity) Totals { return t }

// ironWell is a ferrous groundwater; ammonium is read as NH4.
func ironWell() Totals {
	x := mgl(124.24, 31.12, 11.92, 3.24, 11.12, 8, 0, 0)
	x.IronII = unit.MgPerL(28.68)
	x.Ammonia = unit.MgPerLAsN(3.49 * molN / (molN + 4*molH))
	return x
}

func TestHardness(t *testing.T) {
	for _, tt := range []struct {
		ca, mg, want, tol float64
		from              string
	}{
		{35, 22, 178, 0.5, "published: water-quality mathematics sheet"},
		{103, 5.5, 279.8, 0.5, "Davis 2010, Example 7-1, exact factors"},
		{25, 14, 120, 1, "published: USGS WRIR 02-4045, table 4, sample 1"},
		{43, 20, 189.7, 0.2, hem},
		{49, 18, 196.5, 0.2, hem},
		{124.24, 31.12, 438, 1, "analysis published: Yang et al. 2020"},
		{40.078, 0, 100.09, 0.01, "definition of the basis"},
	} {
		near(t, "hardness", HardnessOf(unit.MgPerL(tt.ca), unit.MgPerL(tt.mg)).MgPerLAsCaCO3(), tt.want, tt.tol, tt.from)
	}
	// Temporary and permanent hardness by the salts they are printed as, mg/L.
	const bicarbonates, sulfate = 2 * molHCO3, molSO4
	near(t, "temporary hardness", HardnessOf(unit.MgPerL(32.4*molCa/(molCa+bicarbonates)), unit.MgPerL(29.2*molMg/(molMg+bicarbonates))).MgPerLAsCaCO3(),
		40, 0.2, "published: engineering-chemistry textbook, p. 1.10, example 5")
	near(t, "permanent hardness", HardnessOf(unit.MgPerL(13.6*molCa/(molCa+sulfate)), unit.MgPerL(0)).MgPerLAsCaCO3(),
		10, 0.2, "published: engineering-chemistry textbook, p. 1.10, example 5")
	near(t, "grains", HardnessOf(unit.MgPerL(35), unit.MgPerL(22)).GPG(), 10.4, 0.05, "published: water-quality mathematics sheet")
}

func TestSolidsAndConductivity(t *testing.T) {
	x := mgl(25, 14, 190, 13, 7, 1.2, 1.1, 0)
	x.Silica = unit.MgPerL(20)
	alk := unit.AlkalinityAsCaCO3(580)
	nearRel(t, "TDS", CalculatedTDS(x, alk).MgPerL(), 624, 0.015, "published: USGS WRIR 02-4045, table 4, sample 1")
	near(t, "HCO3", alk.MeqPerL()*molHCO3, 707, 1, "published: USGS WRIR 02-4045, table 4, sample 1")

	tot, ph, a := spring()
	near(t, "EC of the spring", CalculatedConductivity(tot, a).USPerCm(), 38, 1.5, usgsExamples+", example 16")
	s, err := standard().AtPH(tot, ph, a)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "EC of the spring, speciated", s.ConductivityAt25().USPerCm(), 38, 1.5, usgsExamples+", example 16")
	nearRel(t, "EC 12-6", CalculatedConductivity(mgl(43, 20, 28, 4.6, 28, 8.3, 0.5, 0.1), hco3(254)).USPerCm(), 458, 0.03, hem)
	nearRel(t, "EC 17-3", CalculatedConductivity(mgl(49, 18, 168, 0, 246, 44, 0.1, 2.2), hco3(202)).USPerCm(), 1066, 0.03, hem)
}
