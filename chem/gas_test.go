package chem

import (
	"testing"

	"wellwright/unit"
)

func atmospheres(v float64) unit.Pressure { return unit.KPa(v * atmKPa) }

func TestOxygenSaturation(t *testing.T) {
	const (
		en = "published: EN 25814 table"
		bk = "published equation: Benson & Krause 1984, worked apart"
		me = "published: field instrument manual"
	)
	for _, tt := range []struct {
		celsius, mmHg, want, tol float64
		from                     string
	}{
		{0, 760, 14.6, 0.05, en}, {4, 760, 13.1, 0.05, en}, {8, 760, 11.8, 0.05, en}, {14, 760, 10.3, 0.05, en}, {18, 760, 9.47, 0.05, en},
		{20, 760, 9.09, 0.05, en}, {23, 760, 8.58, 0.05, en}, {25, 760, 8.26, 0.05, en}, {28, 760, 7.83, 0.05, en}, {30, 760, 7.56, 0.05, en},
		{0, 760, 14.621, 0.002, bk}, {5, 760, 12.771, 0.002, bk}, {10, 760, 11.288, 0.002, bk}, {15, 760, 10.084, 0.002, bk}, {20, 760, 9.092, 0.002, bk},
		{10, 700, 10.4, 0.1, me}, {10, 650, 9.7, 0.1, me}, {20, 700, 8.4, 0.1, me}, {5, 725, 12.2, 0.1, me},
	} {
		near(t, "oxygen", OxygenSaturation(unit.Celsius(tt.celsius), unit.KPa(tt.mmHg*atmKPa/760)).MgPerL(), tt.want, tt.tol, tt.from)
	}
	// Under an air pocket at 50 psi gauge the gas law gives close to 64.7/14.7.
	deep := OxygenSaturation(unit.Celsius(10), unit.PSI(14.696+50)).MgPerL()
	nearRel(t, "oxygen under 50 psi", deep, 11.288*64.696/14.696, 0.015, "definition: Henry's law")
	if got := OxygenSaturation(unit.Celsius(20), unit.KPa(1)).MgPerL(); got != 0 {
		t.Errorf("oxygen below vapour pressure = %g mg/L, want none", got)
	}
}

func TestGasRatios(t *testing.T) {
	const apart = "derived apart from the published constants"
	m := standard()
	for _, tt := range []struct {
		g             Gas
		celsius, want float64
		rel           float64
	}{
		{GasH2S, 10, 0.277, 0.01}, {GasH2S, 25, 0.404, 0.01}, {GasCO2, 10, 0.800, 0.005}, {GasCO2, 25, 1.201, 0.005}, {GasOxygen, 10, 25.1, 0.02}, {GasOxygen, 25, 31.9, 0.02},
		{GasNH3, 25, 1 / (62.5 * 0.082057 * 298.15), 0.03},
	} {
		nearRel(t, "gas over water", m.GasRatio(tt.g, unit.Celsius(tt.celsius)), tt.want, tt.rel, apart)
	}
}

func TestSulfideGasShare(t *testing.T) {
	m := standard()
	for _, tt := range []struct{ celsius, ph, want float64 }{
		{10, 6, 0.936}, {10, 6.5, 0.823}, {10, 7, 0.595}, {10, 7.5, 0.317}, {10, 8, 0.128},
		{15, 6, 0.924}, {15, 7, 0.549}, {15, 8, 0.108}, {25, 6, 0.897}, {25, 7, 0.466}, {25, 7.5, 0.217}, {25, 8, 0.080},
	} {
		near(t, "H2S share", m.SulfideGasShare(unit.Celsius(tt.celsius), unit.PHOf(tt.ph)), tt.want, 0.001, "derived apart from the published pK1")
	}
}

// Alkalinity 100, pH 6.5, 10 °C: pH as carbon dioxide is stripped.
func TestCO2LeftAndPH(t *testing.T) {
	const apart = "derived apart from Plummer & Busenberg 1982"
	alk := unit.AlkalinityAsCaCO3(100)
	c := standard().Carbonate(unit.Celsius(10), IonicMolPerL(0.003))
	nearRel(t, "CO2 at pH 6.5", c.CO2(unit.PHOf(6.5), alk).MgPerL(), 75.5, 0.02, apart)
	for _, tt := range []struct{ co2, ph float64 }{{20, 7.08}, {10, 7.38}, {5, 7.68}, {2, 8.07}} {
		ph, carbon := c.WithCO2(alk, unit.MgPerL(tt.co2))
		near(t, "pH", ph.Value(), tt.ph, 0.02, apart)
		near(t, "pH of that carbon", c.PH(alk, carbon).Value(), ph.Value(), 1e-9, "self: the same water by another door")
	}
}

func TestStrip(t *testing.T) {
	m := standard()
	c := Conditions{Temperature: unit.Celsius(10), Ionic: IonicMolPerL(0.004)}
	k := m.Carbonate(c.Temperature, c.Ionic)
	x := Mix{Alkalinity: unit.AlkalinityAsCaCO3(100), Sulfide: unit.MgPerLAsH2S(1)}
	x.Carbon = k.Carbon(unit.PHOf(6.5), x.Alkalinity)
	none, err := m.Strip(x, c, Air{Ratio: 0, Absolute: atmospheres(1), Approach: 1})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "carbon without air", none.Carbon.MolPerL(), x.Carbon.MolPerL(), 1e-15, "mass balance")
	lots, err := m.Strip(x, c, Air{Ratio: 1e6, Absolute: atmospheres(1), Approach: 1})
	if err != nil {
		t.Fatal(err)
	}
	open, err := m.AtCO2(Totals{Temperature: c.Temperature, Sodium: unit.MgPerL(2 * molNa)}, x.Alkalinity, Atm(airCO2))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "pH in balance with air", m.PHOf(lots, c).Value(), open.PH().Value(), 0.02, "second method: open speciation")
	nearRel(t, "oxygen in balance with air", lots.Oxygen.MgPerL(), 11.288, 0.003, "Benson & Krause 1984")
	near(t, "sulfide left", lots.Sulfide.MgPerLAsH2S(), 0, 1e-3, "limit of much air")

	// One volume of air for one of water, at a pH where all sulfide is gas: the
	// rest is 1/(1 + H).
	acid := Mix{Sulfide: unit.MgPerLAsH2S(1), Carbon: MolPerL(1e-4)}
	acid.Alkalinity = m.AlkalinityAt(acid, c, unit.PHOf(4))
	one, err := m.Strip(acid, c, Air{Ratio: 1, Absolute: atmospheres(1), Approach: 1})
	if err != nil {
		t.Fatal(err)
	}
	nearRel(t, "sulfide left by equal volumes", one.Sulfide.MgPerLAsH2S(), 1/1.277, 0.005, "derived: H 0.277 at 10 °C")
	half, err := m.Strip(acid, c, Air{Ratio: 1, Absolute: atmospheres(1), Approach: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "half way", half.Sulfide.MgPerLAsH2S(), (1+one.Sulfide.MgPerLAsH2S())/2, 1e-12, "definition of the approach")
}

func TestOxygenAtAltitude(t *testing.T) {
	const apart = "derived apart from Benson & Krause 1984 and the standard atmosphere"
	for _, tt := range []struct{ ft, at5, at10, at15, at20 float64 }{
		{1000, 12.31, 10.88, 9.72, 8.76}, {3000, 11.44, 10.10, 9.02, 8.13}, {5000, 10.61, 9.37, 8.36, 7.53}, {7000, 9.83, 8.68, 7.74, 6.97},
	} {
		p := AirPressureAt(unit.Ft(tt.ft))
		for i, want := range []float64{tt.at5, tt.at10, tt.at15, tt.at20} {
			near(t, "oxygen", OxygenSaturation(unit.Celsius(float64(5+5*i)), p).MgPerL(), want, 0.011, apart)
		}
	}
}

func TestVapourPressure(t *testing.T) {
	for _, tt := range []struct{ celsius, kPa float64 }{{0, 0.6112}, {10, 1.2281}, {20, 2.3392}, {30, 4.2469}} {
		nearRel(t, "vapour pressure", vapourAtm(zeroC+tt.celsius)*atmKPa, tt.kPa, 0.005, "published: IAPWS 1992")
	}
}

func TestShortCO2(t *testing.T) {
	near(t, "CO2", ShortCO2(unit.PHOf(6.2), hco3(20.0)).MgPerL(), 20.2, 0.1, "published: USGS TWRI 5-A1")
	// At 10 °C the full constants give 27 % more.
	c := standard().Carbonate(unit.Celsius(10), IonicMolPerL(5e-4))
	ratio := c.CO2(unit.PHOf(6.2), hco3(20)).MgPerL() / ShortCO2(unit.PHOf(6.2), hco3(20)).MgPerL()
	near(t, "full over short at 10 °C", ratio, 1.27, 0.02, "derived apart from Plummer & Busenberg 1982")
}

func TestIonicEstimates(t *testing.T) {
	from := usgsExamples + ", example 16: 4.86e-4 at 38 uS/cm"
	nearRel(t, "I from conductivity", IonicFromConductivity(unit.USPerCm(38)).MolPerL(), 4.86e-4, 0.15, from)
	nearRel(t, "I from solids", IonicFromTDS(unit.MgPerL(320)).MolPerL(), 0.008, 1e-9, "definition: 2.5e-5 · TDS")
	if IonicFromConductivity(unit.USPerCm(0)).MolPerL() != 0 {
		t.Error("no conductivity gives ionic strength")
	}
}
