package rehab

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/chem"
	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
)

func ptr[T any](v T) *T { return &v }

func hardRock() Well {
	return Well{
		Static: unit.Ft(35), Depth: unit.Ft(160), CasingBore: unit.Inches(6), CasingDepth: unit.Ft(40), HoleBore: unit.Inches(6),
		PumpFlow: ptr(unit.GPM(11)), Yield: ptr(unit.GPM(5)),
		Plumbing: Plumbing{Heater: unit.Gal(40)},
		Water:    Water{Temperature: ptr(celsius(10)), PH: ptr(unit.PHOf(7.5)), Alkalinity: ptr(unit.AlkalinityAsCaCO3(150))},
	}
}

func celsius(v float64) unit.Temperature { return unit.Celsius(v) }

func TestPlanOfAnOpenHole(t *testing.T) {
	w := hardRock()
	s, err := Plan(w, AfterCleaning)
	if err != nil {
		t.Fatal(err)
	}
	const hand = "125 ft · 1.469 gal/ft and label · 10 g/L by hand"
	well := ChlorineFor(s.Volumes.Well(), unit.MgPerLAsCl2(500))
	six, _ := Product{Liquid, 6, 0}.Needed(s.Volumes.Well(), unit.MgPerLAsCl2(500))
	strong, _ := Product{Liquid, 12.5, 0}.Needed(s.Volumes.Well(), unit.MgPerLAsCl2(500))
	check(t, []row{
		{"column ft", w.Column().Ft(), 125, 1e-9, hand}, {"well gal", s.Volumes.Well().Gal(), 184, 0.5, hand},
		{"casing gal", s.Volumes.Casing.Gal(), 5 * 1.4688, 0.01, hand}, {"open hole gal", s.Volumes.OpenHole.Gal(), 120 * 1.4688, 0.05, hand},
		{"house gal", s.Volumes.House().Gal(), 90, 1e-9, "50 gal allowance and a 40 gal heater, common practice"},
		{"chlorine g", well.G(), 348, 1, hand}, {"6 % L", six.Liquid.L(), 5.8, 0.05, hand}, {"12.5 % L", strong.Liquid.L(), 2.8, 0.05, hand},
		{"target", s.Target.MgPerLAsCl2(), 500, 0, "common practice, 200 to 500"},
		{"purge gal", s.Purge.Volume.Gal(), 3*183.6 + 90, 1, "three well volumes and the house"},
		{"purge min at the yield", s.Purge.Time.Minutes(), (3*183.6 + 90) / 5, 1, "volume over the yield"},
	})
	if !s.Purge.Rest {
		t.Error("a pump of 11 gpm in a well of 5 gpm must be rested")
	}
	if len(s.Contractor) == 0 || len(s.Amounts) != len(Products()) || s.Acidity == nil {
		t.Errorf("contractor %v, %d products, acidity %v", s.Contractor, len(s.Amounts), s.Acidity)
	}
}

func TestDemandIsAddedToTheTarget(t *testing.T) {
	w := hardRock()
	w.Water.FerrousIron = ptr(unit.MgPerL(10))
	w.Water.Manganese = ptr(unit.MgPerL(1))
	s, err := Plan(w, Coliform)
	if err != nil {
		t.Fatal(err)
	}
	check(t, []row{
		{"demand", s.Demand.MgPerLAsCl2(), 10*0.635 + 1.29, 0.05, "stoichiometry: 70.906/2/55.845 and 70.906/54.938"},
		{"dose", s.Dose.MgPerLAsCl2(), 100 + s.Demand.MgPerLAsCl2(), 1e-9, "target and demand"},
	})
	for _, m := range s.Missing {
		if strings.HasPrefix(m, "ferrous") {
			t.Error("ferrous iron was measured and is called missing")
		}
	}
}

func TestWarnings(t *testing.T) {
	warned := func(change func(*Well), p Purpose, word string) bool {
		w := hardRock()
		change(&w)
		s, err := Plan(w, p)
		if err != nil {
			t.Fatal(err)
		}
		return strings.Contains(strings.Join(s.Warnings, "\n"), word)
	}
	none := func(*Well) {}
	for _, r := range []struct {
		change func(*Well)
		p      Purpose
		word   string
		want   bool
	}{
		{none, Coliform, "way in", true}, {none, Coliform, "rubber, wire", false},
		{none, IronBacteria, "rubber, wire", false}, {none, AfterCleaning, "rubber, wire", true}, // 200 is on the limit, 500 above
		{none, IronBacteria, "seldom a cure", true}, {none, Coliform, "vinegar first", true},
		{func(w *Well) { w.Water.Hardness = ptr(unit.HardnessAsCaCO3(200)) }, Coliform, "Hard water", false},
		{func(w *Well) { w.Water.Hardness = ptr(unit.HardnessAsCaCO3(201)) }, Coliform, "Hard water", true},
		{func(w *Well) { w.Water.TOC = ptr(unit.MgPerL(3)) }, Coliform, "trihalomethanes", true},
		{func(w *Well) { w.State.SteelCasing = true }, Coliform, "rust", true},
		{func(w *Well) { w.State.ArsenicArea = true }, IronBacteria, "Arsenic country", true},
		{func(w *Well) { w.Water.Ammonia = ptr(unit.MgPerLAsN(150)) }, Coliform, "clean first", true},
	} {
		if got := warned(r.change, r.p, r.word); got != r.want {
			t.Errorf("%s: warning with %q is %v, want %v", r.p, r.word, got, r.want)
		}
	}
	w := hardRock()
	w.Depth = unit.Ft(400)
	if s, err := Plan(w, HouseOnly); err != nil || len(s.Contractor) != 0 {
		t.Errorf("house plumbing was called a well contractor's: %v, %v", s.Contractor, err)
	}
}

func TestArsenicHoldsTheTargetDown(t *testing.T) {
	for ug, want := range map[float64]float64{3: 200, 3.1: 100} { // above 3, not on it
		w := hardRock()
		w.Water.Arsenic = ptr(unit.UgPerL(ug))
		s, err := Plan(w, IronBacteria)
		if err != nil {
			t.Fatal(err)
		}
		check(t, []row{{"target", s.Target.MgPerLAsCl2(), want, 0, "common practice after the Wisconsin DNR studies"}})
	}
}

func TestContractorReasons(t *testing.T) {
	plain := hardRock()
	s, err := Plan(plain, Coliform)
	if err != nil || len(s.Contractor) != 0 {
		t.Errorf("a plain well was called a contractor's: %v, %v", s.Contractor, err)
	}
	for name, change := range map[string]func(*Well){
		"flooded": func(w *Well) { w.State.Flooded = true }, "pit": func(w *Well) { w.State.Pit = true },
		"dug": func(w *Well) { w.State.Dug = true }, "driven": func(w *Well) { w.State.Driven = true },
		"shared": func(w *Well) { w.State.Shared = true }, "E. coli": func(w *Well) { w.State.EColiTwice = true },
		"cap": func(w *Well) { w.State.CapOrCasingDamaged = true }, "again": func(w *Well) { w.State.FailedAfterShock = true },
		"slime": func(w *Well) { w.State.BacteriaBackSoon = true }, "unsure": func(w *Well) { w.State.OwnerUnsure = true },
		"arsenic": func(w *Well) { w.State.ArsenicArea = true }, "deep": func(w *Well) { w.Depth = unit.Ft(301) },
		"weak": func(w *Well) { w.Yield = ptr(unit.GPM(0.9)) }, "flows": func(w *Well) { w.State.Flowing = true },
	} {
		w := hardRock()
		change(&w)
		s, err := Plan(w, Coliform)
		if err != nil || len(s.Contractor) != 1 {
			t.Errorf("%s: reasons %v, %v, want one", name, s.Contractor, err)
		}
	}
}

func TestImpossibleWellsAreRefusedWhole(t *testing.T) {
	w := Well{Static: unit.Ft(200), Depth: unit.Ft(150), CasingDepth: unit.Ft(170), Pack: &Pack{unit.Inches(4), unit.Ft(10), 1.5}}
	_, err := Plan(w, Coliform)
	if err == nil {
		t.Fatal("a dry well without a bore was planned")
	}
	for _, word := range []string{"casing bore", "static level", "casing to", "porosity"} {
		if !strings.Contains(err.Error(), word) {
			t.Errorf("error does not name the %s: %v", word, err)
		}
	}
	if _, err := (Product{Liquid, 40, 0}).Needed(unit.Gal(1), unit.MgPerLAsCl2(1)); err == nil {
		t.Error("bleach of 40 % was accepted")
	}
	if _, err := (Product{Dry, 12, 0}).Needed(unit.Gal(1), unit.MgPerLAsCl2(1)); err == nil {
		t.Error("dry product of 12 % was accepted")
	}
}

func TestPlumbingVolumes(t *testing.T) {
	line, _ := hydraulic.NewPipe(hydraulic.CopperL, unit.Inches(0.75), unit.Ft(100))
	tank := hydraulic.PressureTank{Total: unit.Gal(44), Precharge: unit.PSI(28)}
	w := hardRock()
	w.Plumbing = Plumbing{Pipes: []hydraulic.Pipe{line}, Tank: &tank, CutOut: unit.PSI(50), Heater: unit.Gal(50)}
	v, err := VolumesOf(source.Set{}, w)
	if err != nil {
		t.Fatal(err)
	}
	check(t, []row{
		{"pipe", v.Pipes.Gal(), 2.52, 0.02, "2009 International Plumbing Code, table E202.1: 3.22 oz/ft"},
		{"tank at shut-off", v.Tank.Gal(), 15, 0.1, "Boyle: 44 gal at 28/50 psi"},
		{"total", v.Total().Gal(), v.Well().Gal() + v.House().Gal(), 1e-9, "sum"},
	})
	air := tank
	air.AirOverWater = true
	w.Plumbing.Tank = &air
	v, _ = VolumesOf(source.Set{}, w)
	check(t, []row{{"air-over-water tank", v.Tank.Gal(), 44 * 2.0 / 3, 1e-6, "common practice, two thirds"}})
	if s, _ := Plan(w, HouseOnly); s.Volumes.Well().Gal() != 0 || len(s.Steps) == 0 || s.Steps[0].Number != 1 {
		t.Error("house-only work must leave the well out and have its own steps")
	}
}

func TestFading(t *testing.T) {
	for months, want := range map[float64]float64{0: 1, 3: 0.9, 6: 0.8, 12: 0.5, 30: 0.5} {
		check(t, []row{{"strength left", Product{Liquid, 6, months}.Left(), want, 1e-9, "common practice"}})
	}
	if (Product{Dry, 65, 24}).Left() != 1 {
		t.Error("dry product is not faded by the liquid's rule")
	}
}

func TestAcidityAgainstAnIndependentModel(t *testing.T) {
	const model = "closed carbonate and hypochlorite system worked outside the program"
	for _, r := range []struct {
		alk, ph, mg      float64
		after, share, va float64
	}{
		{50, 6.8, 100, 8.05, 30, 0.13}, {50, 6.8, 200, 8.40, 16, 0.27}, {50, 6.8, 500, 8.82, 7, 0.69},
		{150, 6.8, 100, 7.40, 66, 0.09}, {150, 6.8, 200, 7.82, 43, 0.24}, {150, 6.8, 500, 8.32, 19, 0.66},
		{150, 7.5, 100, 8.35, 18, 0.20}, {150, 7.5, 200, 8.62, 10, 0.34}, {150, 7.5, 500, 8.96, 5, 0.76},
		{300, 7.5, 100, 8.07, 29, 0.25}, {300, 7.5, 200, 8.35, 18, 0.40}, {300, 7.5, 500, 8.71, 9, 0.82},
	} {
		w := Water{Temperature: ptr(celsius(10)), PH: ptr(unit.PHOf(r.ph)), Alkalinity: ptr(unit.AlkalinityAsCaCO3(r.alk))}
		a, err := AcidityOf(source.Set{}, w, unit.Gal(100), unit.MgPerLAsCl2(r.mg))
		if err != nil {
			t.Fatal(err)
		}
		check(t, []row{
			{"pH after chlorine", a.AfterChlorine.Value(), r.after, 0.06, model},
			{"acid share %", 100 * a.AcidShare, r.share, 3.5, model},
			{"vinegar gal", a.Vinegar.Gal(), r.va, 0.03, model},
		})
	}
	if _, err := AcidityOf(source.Set{}, Water{}, unit.Gal(100), unit.MgPerLAsCl2(100)); err == nil {
		t.Error("the pH of an unmeasured water was told")
	}
}

// Shares of hypochlorous acid by Morris, 1966, worked by hand.
func TestAcidShare(t *testing.T) {
	m := chem.New(source.Set{})
	for _, r := range []struct{ c, ph, want float64 }{{5, 7, 85}, {10, 8, 33}, {15, 7.5, 58}, {25, 7.5, 52}, {25, 9, 3}} {
		check(t, []row{{"share %", 100 * m.FreeAcidShare(celsius(r.c), unit.PHOf(r.ph)), r.want, 0.6, "pK of Morris, 1966 (from memory)"}})
	}
}

func TestVinegarBringsThePHBack(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := celsius(rapid.Float64Range(4, 20).Draw(r, "celsius"))
		w := Water{Temperature: &c, PH: ptr(unit.PHOf(rapid.Float64Range(6.2, 8.5).Draw(r, "pH"))),
			Alkalinity: ptr(unit.AlkalinityAsCaCO3(rapid.Float64Range(20, 400).Draw(r, "alkalinity")))}
		mg := unit.MgPerLAsCl2(rapid.Float64Range(20, 500).Draw(r, "chlorine"))
		v := unit.Gal(100)
		a, err := AcidityOf(source.Set{}, w, v, mg)
		if err != nil {
			r.Fatal(err)
		}
		if a.AfterChlorine.Value() < w.PH.Value()-1e-3 && w.PH.Value() < 7 {
			r.Fatalf("chlorine lowered the pH from %v to %v", *w.PH, a.AfterChlorine)
		}
		if a.Vinegar.Gal() == 0 {
			return
		}
		m := chem.New(source.Set{})
		alk := w.Alkalinity.MeqPerL() / 1000
		b := bath{model: m, t: c, alk: alk, added: mg.MgPerLAsCl2() / 1000 / molCl2}
		b.system = m.Carbonate(c, chem.IonicMolPerL(1.5*alk+b.added))
		b.carbon = b.system.Carbon(*w.PH, *w.Alkalinity)
		acid := a.Vinegar.L() * 50 / molAcetic / v.L()
		if got := b.after(acid).Value(); math.Abs(got-7) > 0.01 {
			r.Fatalf("with vinegar the pH is %g, want 7", got)
		}
	})
}

func TestAmountsScale(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := Products()[rapid.IntRange(0, 6).Draw(r, "product")]
		v := unit.Gal(rapid.Float64Range(1, 5000).Draw(r, "gal"))
		mg := rapid.Float64Range(1, 1000).Draw(r, "mg/L")
		a, err := p.Needed(v, unit.MgPerLAsCl2(mg))
		if err != nil {
			r.Fatal(err)
		}
		if p.Form == Liquid {
			if back := p.DoseFrom(a.Liquid, v).MgPerLAsCl2(); math.Abs(back-mg) > 1e-9*mg {
				r.Fatalf("%g mg/L needs %v, which gives %g", mg, a.Liquid, back)
			}
			p.Months = 6
			old, _ := p.Needed(v, unit.MgPerLAsCl2(mg))
			if old.Liquid.L() <= a.Liquid.L() {
				r.Fatal("old bleach must take more")
			}
		} else if back := a.Mass.G() * p.Percent / 100; math.Abs(back-a.Chlorine.G()) > 1e-9*back {
			r.Fatalf("dry mass holds %g g of chlorine, want %v", back, a.Chlorine)
		}
	})
}

func TestCapacity(t *testing.T) {
	loss, ok := CapacityLoss(unit.GPMPerFt(2.4), unit.GPMPerFt(0.9))
	check(t, []row{{"loss", loss, 0.625, 1e-9, "definition"}})
	if !ok || !NeedsRehabilitation(source.Set{}, 0.25) || NeedsRehabilitation(source.Set{}, 0.249) {
		t.Error("a quarter gone calls for work, less does not (common practice)")
	}
	if _, ok := CapacityLoss(unit.SpecificCapacity{}, unit.GPMPerFt(1)); ok {
		t.Error("without a first record no loss is known")
	}
}

func TestStepsCarryTheirCautions(t *testing.T) {
	for p := Coliform; p <= HouseOnly; p++ {
		steps := StepsFor(p)
		seen := map[Hazard]bool{}
		for i, s := range steps {
			if s.Number != i+1 || s.Do == "" || s.Why == "" || s.From == "" {
				t.Errorf("%s: step %d is not whole: %+v", p, i+1, s)
			}
			for _, h := range s.Hazards {
				seen[h] = true
				if h.Control() == "" || h.String() == "" {
					t.Errorf("hazard %d has no words", h)
				}
			}
		}
		if p != HouseOnly && (!seen[ChlorineGas] || !seen[Electricity] || !seen[ConfinedSpace] || !seen[Discharge]) {
			t.Errorf("%s: a caution is missing: %v", p, seen)
		}
	}
	for _, s := range RehabilitationSteps() {
		acid := strings.Contains(strings.ToLower(s.Do), "acid")
		if acid && s.Who != Contractor {
			t.Errorf("acid in other hands: %+v", s)
		}
	}
	// No chlorine before the acid is out.
	acidOut, chlorine := 0, 0
	for _, s := range RehabilitationSteps() {
		if strings.HasPrefix(s.Do, "Pump the acid out") {
			acidOut = s.Number
		}
		if strings.HasPrefix(s.Do, "Chlorine") {
			chlorine = s.Number
		}
	}
	if acidOut == 0 || chlorine < acidOut {
		t.Errorf("chlorine at step %d, acid out at %d", chlorine, acidOut)
	}
}

func TestFactorsAreDeclaredWhole(t *testing.T) {
	reg, err := source.NewRegister(Factors())
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range reg.Names() {
		f, _ := reg.Find(name)
		if f.What == "" || f.From == "" || f.HasRange() && (f.Value < f.Low || f.Value > f.High) {
			t.Errorf("factor is not whole: %+v", f)
		}
	}
	for p := Coliform; p <= HouseOnly; p++ {
		if p.Target(source.Set{}).MgPerLAsCl2() > MostChlorine.Value || p.String() == "" {
			t.Errorf("%s: target above the most allowed", p)
		}
	}
	if len(Retests(IronBacteria)) <= len(Retests(Coliform)) || len(Units()) == 0 {
		t.Error("iron bacteria are followed up longer than coliform")
	}
}
