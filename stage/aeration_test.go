package stage

import (
	"testing"

	"wellwright/media"
	"wellwright/unit"
)

// The weak well: 500 gal is the first tank that holds a day of use and washes, a
// 12 gpm booster washes a 12 x 52 bed of coated sand (9.4 gpm) with 1.27.
func TestStorageBoosterOfTheWeakWell(t *testing.T) {
	g := stonyBrow()
	g.after = []media.Process{media.CoatedSandFilter, media.Softener}
	top := unit.Gal(500)
	j := g.job(t)
	j.Site.House.Room.StorageMax = &top
	z, o, ok := firstPassing(storageBooster{}, j)
	if !ok || z.Volume.Gal() != 500 {
		t.Fatalf("first tank to pass %v, want 500 gal (%s)", z.Volume, hand)
	}
	z.Booster = unit.GPM(12)
	o = storageBooster{}.Run(j, z)
	near(t, "minutes of filling", o.Settings[FillMinPerDay], 338.0/3, 2, "338 gal/day at 3 gpm")
	near(t, "days", o.Settings[StorageDays], 1.5, 0.05, "about a day and a half")
	k := *j
	k.Supply, k.Before = *o.Supply, []media.Process{media.StorageBooster}
	v, _ := media.VesselNamed("12 x 52")
	for _, minutes := range []float64{10, 15} {
		near(t, "flow for a wash", k.washFlow(Size{}, minutes), 12, 0.01, "the booster's rating")
		near(t, "margin", k.washFlow(Size{}, minutes)/(12*v.Area.Ft2()), 1.27, 0.01, hand)
	}
	if w := o.Out; w.Ferrous.MgPerL() > 0.2 || w.Oxygen.MgPerL() < 5 {
		t.Errorf("ferrous %.3f, oxygen %.1f behind the tank; want below 0.2 and aired (reference well)", w.Ferrous.MgPerL(), w.Oxygen.MgPerL())
	}
	if o.Out.PH.Value() < 7.3 {
		t.Errorf("pH %.2f; want above the 7.3 that oxidation closed to the air would leave (reference well)", o.Out.PH.Value())
	}
	offered := false
	for _, z := range (storageBooster{}).Sizes(j) {
		offered = offered || z.Volume.Gal() == 500 && z.Booster.GPM() == 12
	}
	if !offered {
		t.Error("500 gal with 12 gpm is not among the sizes")
	}
}

// At 1.5 gpm the tank still serves, at 0.5 only just, at 0.25 it does not.
func TestStorageAgainstTheYield(t *testing.T) {
	for _, r := range []struct {
		yield, minutes float64
		hard, soft     bool
	}{{3, 113, false, false}, {1.5, 225, false, false}, {0.5, 677, false, true}, {0.25, 1354, true, true}} {
		g := stonyBrow()
		g.yield = r.yield
		g.after = []media.Process{media.CoatedSandFilter}
		o := storageBooster{}.Run(g.job(t), Size{Volume: unit.Gal(500), Tanks: 1, Booster: unit.GPM(12)})
		near(t, "fill minutes", o.Settings[FillMinPerDay], r.minutes, 0.01*r.minutes, "338 gal/day over the yield")
		if got := limitNamed(t, o, "refill_time", false).Fails(); got != r.hard {
			t.Errorf("yield %g: refused %v, want %v (reference well)", r.yield, got, r.hard)
		}
		if got := limitNamed(t, o, "refill_time", true).Fails(); got != r.soft {
			t.Errorf("yield %g: only just %v, want %v (reference well)", r.yield, got, r.soft)
		}
	}
}

// Vented aeration takes 60 to 80 % of the sulfide at pH 7.1 in practice, lets
// carbon dioxide go, and leaves the supply unprotected.
func TestVentedAerationOnSulfide(t *testing.T) {
	j := flintbank().job(t)
	o := ventedAeration{}.Run(j, Size{Volume: unit.Gal(300), Tanks: 1, Booster: unit.GPM(12)})
	gone := 1 - o.Out.Sulfide.MgPerLAsH2S()/j.In.Sulfide.MgPerLAsH2S()
	// The film alone, with the pH rising, comes out a little under what practice
	// reports; iron as a catalyst of the rest is not in the rates.
	within(t, "share of sulfide gone", gone, 0.5, 0.8, "common practice: strips roughly 60 to 80 % at pH 7.1")
	if !o.Out.Uncovered || !o.Needs.Vent {
		t.Error("an open aerator must be marked uncovered and vented")
	}
	within(t, "pH", o.Out.PH.Value(), 7.5, 8.3, "carbon dioxide 52 stripped to 5 to 10 mg/L: 7.8 to 8.1")
	within(t, "oxygen", o.Out.Oxygen.MgPerL(), 0.8*11, 11.1, "common practice: 80 to 95 % of saturation, 11.0 mg/L at 11 °C")
}

// Stripping alkalinity 100, pH 6.5, carbon dioxide 75.5 at 10 °C: pH 7.08 with 20
// mg/L left, 7.38 with 10, 7.68 with 5.
func TestStrippingRaisesPH(t *testing.T) {
	g := plain()
	g.water.PH, g.water.Alkalinity = unit.PHOf(6.5), unit.AlkalinityAsCaCO3(100)
	g.water.Calcium, g.water.Magnesium, g.water.Sodium, g.water.Sulfate = mg(30), mg(6), mg(5), mg(10)
	j := g.job(t)
	k := j.carbonate(j.In)
	near(t, "carbon dioxide", k.CO2(j.In.PH, j.In.Alkalinity).MgPerL(), 75.5, 2.5, "derived with Plummer & Busenberg constants")
	for _, r := range []struct{ left, ph float64 }{{20, 7.08}, {10, 7.38}, {5, 7.68}} {
		lo, hi := 0.0, 6.0
		for range 50 {
			mid := (lo + hi) / 2
			w := j.stripped(j.In, mid)
			if k.CO2(w.PH, w.Alkalinity).MgPerL() > r.left {
				lo = mid
			} else {
				hi = mid
			}
		}
		near(t, "pH", j.stripped(j.In, lo).PH.Value(), r.ph, 0.03, "derived: open-system table at 10 °C")
	}
}

// What stands as bisulfide cannot be stripped: at pH 7.5 about a third is gas at
// 10 °C, at pH 6.5 four fifths.
func TestStrippingFollowsTheGasShare(t *testing.T) {
	last := 1.0
	for _, ph := range []float64{6.5, 7.0, 7.5, 8.0} {
		g := plain()
		g.water.PH, g.water.Sulfide = unit.PHOf(ph), unit.MgPerLAsH2S(2)
		j := g.job(t)
		left := j.aired(j.In, 0.9).Sulfide.MgPerLAsH2S() / 2
		if gone := 1 - left; gone >= last {
			t.Errorf("pH %g: %.2f stripped, want less than at a lower pH (only the gas share strips; derived from pK1 of H2S)", ph, gone)
		} else {
			last = gone
		}
	}
}

// Pressure aeration gives all the oxygen iron needs but not the time: at pH 6.8
// and 10 °C half an hour leaves most of it ferrous, whichever law; at 7.5 it
// does most of the work.
func TestPressureAerationNeedsPH(t *testing.T) {
	run := func(ph float64) (Outcome, *Job) {
		g := plain()
		g.water.PH, g.water.Ferrous, g.water.Oxygen = unit.PHOf(ph), mg(5), mg(0.2)
		j := g.job(t)
		return pressureAeration{}.Run(j, Size{Volume: unit.Gal(120), Tanks: 2, Mode: byAirPump}), j
	}
	low, j := run(6.8)
	high, _ := run(7.5)
	if low.AtPeak.Ferrous.MgPerL() < 2.5 {
		t.Errorf("pH 6.8: %.2f ferrous of 5 left after 21 min, want most (half-life 119 min and more: Stumm & Lee 1961 from memory)", low.AtPeak.Ferrous.MgPerL())
	}
	if high.AtPeak.Ferrous.MgPerL() > 0.5*low.AtPeak.Ferrous.MgPerL() {
		t.Errorf("pH 7.5: %.2f ferrous left, pH 6.8: %.2f; want far less at the higher pH", high.AtPeak.Ferrous.MgPerL(), low.AtPeak.Ferrous.MgPerL())
	}
	if low.Settings[OxygenHaveMgL] < low.Settings[OxygenNeedMgL] {
		t.Error("air is not the limit at 5 mg/L of iron")
	}
	below, _ := run(6.7)
	if _, bad := FirstHard(below.Limits); !bad {
		t.Error("pH 6.7 passes; below 6.8 pressure aeration is refused")
	}
	if !limitNamed(t, low, "ph-low", true).Fails() || limitNamed(t, low, "ph-low", false).Fails() {
		t.Error("pH 6.8 exactly: want the caution and no refusal")
	}
	near(t, "pH before and after, no iron turned", aerated(j.In, mg(20)).PH.Value(), 6.8, 1e-12, "closed: carbon dioxide stays")
}

// The weak well's chain: behind the store a small feed on the fill, 1.8 mg/L for
// manganese, ammonia and hygiene, 4 mL/min of 5 g/L; the tank's outlet then shows
// 0.3 to 0.8 mg/L of free chlorine and next to no ferrous iron.
func TestChlorineOnTheFillOfTheWeakWell(t *testing.T) {
	g := stonyBrow()
	g.after = []media.Process{media.ChlorineFeed, media.CoatedSandFilter, media.Softener}
	j := g.job(t)
	stored := storageBooster{}.Run(j, Size{Volume: unit.Gal(500), Tanks: 1, Booster: unit.GPM(12)})
	k := *j
	k.In, k.Supply = stored.Out, *stored.Supply
	k.Before, k.After = []media.Process{media.StorageBooster}, []media.Process{media.CoatedSandFilter, media.Softener}
	_, o, ok := firstPassing(chlorineFeed{}, &k)
	if !ok {
		t.Fatal("no feed passes")
	}
	const from = "reference well"
	near(t, "dose", o.Settings[DoseMgL], 1.8, 0.2, from)
	near(t, "mL/min", o.Settings[FeedMLMin], 4, 0.4, from)
	near(t, "strength", o.Settings[SolutionGL], 5, 0, from)
	within(t, "free chlorine", o.Out.FreeChlorine.MgPerLAsCl2(), 0.3, 0.8, from)
	if o.Out.Ferrous.MgPerL() > 0.2 {
		t.Errorf("ferrous %.3f at the tank's outlet, want below 0.2 (%s)", o.Out.Ferrous.MgPerL(), from)
	}
}

// Fed ahead of the store instead, chlorine meets the iron before air does, and the
// dose is that of the raw water.
func TestChlorineAheadOfTheStore(t *testing.T) {
	g := stonyBrow()
	g.after = []media.Process{media.StorageBooster, media.CoatedSandFilter}
	j := g.job(t)
	if d := chlorineDose(j); d.dose < 0.635*5.3 {
		t.Errorf("dose %.2f is less than iron alone takes, %.2f", d.dose, 0.635*5.3)
	}
	near(t, "flow at the feed", j.fedFlow().GPM(), 3, 1e-9, "the well pump fills the tank")
}
