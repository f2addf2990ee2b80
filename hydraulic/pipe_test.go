package hydraulic

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/unit"
)

const (
	fluidsLib  = "fluids library 1.3.1, computed"
	epanetOut  = "US EPA, EPANET 2.2 User Manual, 2020, tutorial output"
	illinoisEx = "77 Ill. Adm. Code 906, Exhibit I, schedule 40 plastic, C 150"
	tubeTables = "irrigation tables for copper tube types K and L"
	pexTables  = "PEX tube data, ASTM F876 SDR-9, psi per foot table"
)

func TestFrictionFactor(t *testing.T) {
	check(t, []row{
		{"Colebrook 1e5, 1e-3", FrictionFactor(1e5, 1e-3), 0.0221745, 1e-7, fluidsLib},
		{"Colebrook 4e4, 1e-4", FrictionFactor(4e4, 1e-4), 0.0222855, 1e-7, fluidsLib},
		{"Colebrook 2e4, smooth", FrictionFactor(2e4, 0), 0.0258831, 1e-7, fluidsLib},
		{"laminar 1500", FrictionFactor(1500, 1e-3), 0.0426667, 1e-7, "64/Re"},
		{"laminar at 2000", FrictionFactor(2000, 1e-3), 0.032, 1e-9, "64/Re"},
		{"just above 2000", FrictionFactor(2000.01, 1e-3), 0.032, 1e-6, "continuity"},
		{"just below 4000", FrictionFactor(3999.99, 1e-3), FrictionFactor(4000, 1e-3), 1e-6, "continuity"},
		{"Swamee-Jain 1e5, 1e-3", SwameeJain(1e5, 1e-3), 0.0223424, 1e-7, fluidsLib},
		{"Swamee-Jain 4e4, 1e-4", SwameeJain(4e4, 1e-4), 0.0222039, 1e-7, fluidsLib},
		{"Swamee-Jain 2e4, smooth", SwameeJain(2e4, 0), 0.0258140, 1e-7, fluidsLib},
		{"Haaland 1e5, 1e-3", Haaland(1e5, 1e-3), 0.0219662, 1e-7, fluidsLib},
		{"Haaland 4e4, 1e-4", Haaland(4e4, 1e-4), 0.0220380, 1e-7, fluidsLib},
		{"Haaland 2e4, smooth", Haaland(2e4, 0), 0.0257487, 1e-7, fluidsLib},
	})
}

func TestColebrookSolvesItsEquation(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		re := rapid.Float64Range(4000, 1e7).Draw(r, "re")
		rough := rapid.Float64Range(0, 0.05).Draw(r, "rough")
		x := 1 / math.Sqrt(FrictionFactor(re, rough))
		if d := x + 2*math.Log10(rough/3.7+2.51*x/re); math.Abs(d) > 1e-10 {
			r.Fatalf("residual %g at Re %g, roughness %g", d, re, rough)
		}
	})
}

// per100 returns the loss in 100 ft by Hazen-Williams.
func per100(t *testing.T, m Material, inches, gpm float64) unit.Pressure {
	t.Helper()
	p, err := NewPipe(m, unit.Inches(inches), unit.Ft(100))
	if err != nil {
		t.Fatal(err)
	}
	return p.HazenLoss(unit.GPM(gpm))
}

func TestHazenLossAgainstTables(t *testing.T) {
	feet := func(in, gpm float64) float64 { return per100(t, PVC40, in, gpm).FtWater() }
	psi := func(m Material, in, gpm float64) float64 { return per100(t, m, in, gpm).PSI() }
	rows := []row{}
	for gpm, want := range map[float64]float64{2: 0.28, 3: 0.60, 4: 1.01, 5: 1.52, 6: 2.14, 8: 3.63, 10: 5.50} {
		rows = append(rows, row{"1 in plastic, ft/100 ft", feet(1, gpm), want, 0.05, illinoisEx})
	}
	for gpm, want := range map[float64]float64{5: 0.39, 8: 0.97, 10: 1.46, 20: 5.23} {
		rows = append(rows, row{"1¼ in plastic, ft/100 ft", feet(1.25, gpm), want, 0.03, illinoisEx})
	}
	for gpm, want := range map[float64]float64{1: 0.95, 2: 3.44, 3: 7.29, 5: 18.77} {
		rows = append(rows, row{"½ in copper, psi/100 ft", psi(CopperL, 0.5, gpm), want, 0.035 * want, tubeTables})
	}
	for gpm, want := range map[float64]float64{1: 0.16, 2: 0.57, 3: 1.20, 4: 2.05, 5: 3.09} {
		rows = append(rows, row{"¾ in copper, psi/100 ft", psi(CopperL, 0.75, gpm), want, 0.03, tubeTables})
	}
	for gpm, want := range map[float64]float64{1: 1.6, 2.2: 6.9, 3: 12.2, 5: 31.4} {
		rows = append(rows, row{"½ in PEX, psi/100 ft", psi(PEX, 0.5, gpm), want, 0.15, pexTables})
	}
	for gpm, want := range map[float64]float64{3: 2.3, 5: 5.9, 10: 21.1} {
		rows = append(rows, row{"¾ in PEX, psi/100 ft", psi(PEX, 0.75, gpm), want, 0.2, pexTables})
	}
	check(t, rows)
}

func TestGalvanisedPipe(t *testing.T) {
	p := Pipe{Bore: unit.Inches(0.824), Length: unit.Ft(100), Roughness: unit.Ft(0.0005), C: 120}
	water := unit.Fahrenheit(60)
	aged := p
	aged.C = 100
	const own = "hand calculation with handbook water at 60 °F"
	check(t, []row{
		{"Hazen-Williams C 120", p.HazenLoss(unit.GPM(10)).PSI(), 11.7, 0.1, own},
		{"Hazen-Williams C 100", aged.HazenLoss(unit.GPM(10)).PSI(), 16.4, 0.1, own},
		{"Darcy", p.DarcyLoss(unit.GPM(10), water).PSI(), 12.8, 0.1, own},
		{"friction factor", FrictionFactor(p.Reynolds(unit.GPM(10), water), 0.0005/unit.Inches(0.824).Ft()), 0.0362, 0.0001, own},
	})
	tube, _ := NewPipe(CopperL, unit.Inches(0.75), unit.Ft(100))
	check(t, []row{
		{"Darcy, slow flow in copper", tube.DarcyLoss(unit.GPM(1), water).PSI(), 0.187, 0.012, "hand calculation, Darcy-Weisbach"},
	})
}

func TestPipeContents(t *testing.T) {
	const geometry = "geometry of the tabled bores"
	for _, tt := range []struct {
		m        Material
		in, want float64
		tol      float64
	}{
		{CopperL, 0.5, 1.21, 0.006}, {CopperL, 0.75, 2.51, 0.006}, {CopperL, 1, 4.29, 0.006}, {CopperL, 1.25, 6.53, 0.006},
		{CopperL, 1.5, 9.24, 0.006}, {CopperL, 2, 16.1, 0.06}, {PVC40, 1, 4.49, 0.006}, {PVC40, 1.25, 7.77, 0.006},
		{PVC40, 1.5, 10.6, 0.06}, {PVC40, 2, 17.4, 0.06},
	} {
		p, err := NewPipe(tt.m, unit.Inches(tt.in), unit.Ft(100))
		if err != nil {
			t.Fatal(err)
		}
		check(t, []row{{"gal in 100 ft", p.Contents().Gal(), tt.want, tt.tol, geometry}})
	}
	// Ounces a foot as printed by the 2009 International Plumbing Code, table E202.1.
	for _, tt := range []struct {
		m        Material
		in, want float64
	}{
		{CopperL, 0.5, 1.55}, {CopperL, 0.75, 3.22}, {CopperL, 1, 5.49}, {CopperL, 1.25, 8.36},
		{CopperM, 0.5, 1.69}, {CopperM, 0.75, 3.43}, {CopperM, 1, 5.81},
		{CPVC, 0.5, 1.25}, {CPVC, 0.75, 2.67}, {CPVC, 1, 4.43}, {PEX, 0.5, 1.18}, {PEX, 0.75, 2.35}, {PEX, 1, 3.91},
		{PEX, 1.25, 5.81}, {PEX, 1.5, 8.09},
	} {
		p, err := NewPipe(tt.m, unit.Inches(tt.in), unit.Ft(1))
		if err != nil {
			t.Fatal(err)
		}
		check(t, []row{{tt.m.String() + " oz/ft", p.Contents().Gal() * 128, tt.want, 0.04 * tt.want,
			"2009 International Plumbing Code, table E202.1, as shown by US DOE"}})
	}
}

func TestPipeSizes(t *testing.T) {
	if _, err := NewPipe(PEX, unit.Inches(3), unit.Ft(1)); err == nil {
		t.Error("3 in PEX was accepted")
	}
	if l, ok := EquivalentLength(Cast, TeeBranch, unit.Inches(1)); !ok || l.Ft() != 5 {
		t.Errorf("1 in cast tee branch = %v, want 5 ft (77 Ill. Adm. Code 890, table Q)", l)
	}
	if l, ok := EquivalentLength(Moulded, CheckValve, unit.Inches(1.25)); !ok || l.Ft() != 11.5 {
		t.Errorf("1¼ in check valve = %v, want 11.5 ft (published table of moulded fittings)", l)
	}
	if _, ok := EquivalentLength(Wrought, GlobeValve, unit.Inches(0.5)); ok {
		t.Error("a ½ in globe valve was found where the table has none")
	}
	if share, err := AgedShare(unit.GPM(7), CakingBadly); err != nil || math.Abs(share-0.35) > 1e-12 {
		t.Errorf("aged share = %g, %v, want 0.35 (NBS BMS 79, table 5)", share, err)
	}
	if _, err := AgedShare(unit.GPM(57), NotCaking); err == nil {
		t.Error("57 gpm is outside the ageing table")
	}
}

func TestValveLoss(t *testing.T) {
	check(t, []row{
		{"Cv of flow at 1 psi", ValveLoss(unit.GPM(6), 6).PSI(), 1, 1e-12, "definition of Cv"},
		{"twice the flow", ValveLoss(unit.GPM(12), 6).PSI(), 4, 1e-12, "definition of Cv"},
	})
}

func TestLossRises(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		q := rapid.Float64Range(0.01, 30).Draw(r, "gpm")
		c := rapid.Float64Range(1, 30).Draw(r, "celsius")
		p, _ := NewPipe(Material(rapid.IntRange(0, 5).Draw(r, "material")), unit.Inches(1), unit.Ft(80))
		less, more := p.DarcyLoss(unit.GPM(q), celsius(c)), p.DarcyLoss(unit.GPM(q*1.05), celsius(c))
		if less.PSI() >= more.PSI() {
			r.Fatalf("loss at %g gpm %v, at 5 %% more %v", q, less, more)
		}
		if warm := p.DarcyLoss(unit.GPM(q), celsius(c+5)); p.Reynolds(unit.GPM(q), celsius(c)) > 4000 && warm.PSI() > less.PSI() {
			r.Fatalf("warmer water lost more: %v against %v", warm, less)
		}
	})
}
