package stage

import (
	"testing"

	"wellwright/media"
	"wellwright/unit"
)

// The tanks and minutes of the reference wells: 80 x 0.7 / 8 = 7 min, 120 x 0.7 / 7
// = 12 min, 160 x 0.7 / 5 = 22 min; the next smaller tank is too short each time.
func TestContactTankOfTheReferenceWells(t *testing.T) {
	for _, r := range []struct {
		name    string
		g       given
		gal     float64
		tanks   int
		minutes float64
	}{
		{"iron alone", tamarack(), 80, 1, 7},
		{"iron and sulfide", flintbank(), 120, 1, 12},
		{"iron bacteria", marshGate(), 80, 2, 22.4},
	} {
		r.g.before = []media.Process{media.ChlorineFeed}
		z, o, ok := firstPassing(contactTank{}, r.g.job(t))
		if !ok || z.Volume.Gal() != r.gal || z.Tanks != r.tanks {
			t.Errorf("%s: %g gal x %d, want %g x %d (%s)", r.name, z.Volume.Gal(), z.Tanks, r.gal, r.tanks, hand)
		}
		near(t, r.name+": minutes", o.Settings[ContactMin], r.minutes, 0.01, hand)
	}
}

// At 10 °C, pH 7.5, 0.7 mg/L and 8 gpm, CT 6 for four log of viruses asks 8.57 min
// of T10: 229 gal at a baffling factor of 0.3. 120 gal fail, 240 pass.
func TestContactForDisinfection(t *testing.T) {
	g := plain()
	g.water.Coliform, g.water.FreeChlorine = unit.Per100mL(5), unit.MgPerLAsCl2(0.7)
	j := g.job(t)
	const from = "US EPA surface water treatment guidance manual, 1991, table E-7 and baffling factors (from memory)"
	for _, r := range []struct {
		gal   float64
		tanks int
		fails bool
	}{{120, 1, true}, {228, 1, true}, {230, 1, false}, {120, 2, false}} {
		o := contactTank{}.Run(j, Size{Volume: unit.Gal(r.gal), Tanks: r.tanks})
		l := limitNamed(t, o, "disinfection_ct", true)
		near(t, "CT needed", l.Need, 6, 1e-9, from)
		if l.Fails() != r.fails {
			t.Errorf("%g gal x %d: CT %.2f of %.2f fails %v, want %v (%s)", r.gal, r.tanks, l.Have, l.Need, l.Fails(), r.fails, from)
		}
	}
	// colder water asks more: 8 at 5 °C, 12 at 0.5, and never less above pH 7.5 up to 9
	for _, r := range []struct{ celsius, ph, need float64 }{{5, 7.5, 8}, {4.9, 7.5, 12}, {0.5, 7.5, 12}, {15, 7.5, 4}, {20, 8.9, 3}} {
		g.water.Temperature, g.water.PH = unit.Celsius(r.celsius), unit.PHOf(r.ph)
		l := limitNamed(t, contactTank{}.Run(g.job(t), Size{Volume: unit.Gal(120), Tanks: 1}), "disinfection_ct", true)
		near(t, "CT needed", l.Need, r.need, 1e-9, from)
		near(t, "CT to be had: 0.3 of 15 min at the residual of its end", l.Have, 0.3*15*0.7, 0.35, from)
	}
	// without organisms and covered, nothing is asked
	g.water.Coliform = unit.Count{}
	for _, l := range (contactTank{}).Run(g.job(t), Size{Volume: unit.Gal(80), Tanks: 1}).Limits {
		if l.ID == "disinfection_ct" {
			t.Error("disinfection is asked of a water without organisms")
		}
	}
}

// The whole of feed and tank: what the reference wells expect behind the contact
// tank.
func TestForecastBehindTheContactTank(t *testing.T) {
	for _, r := range []struct {
		name     string
		g        given
		gal      float64
		tanks    int
		freeLow  float64
		freeHigh float64
		ferrous  float64
	}{
		{"9.6 mg/L, pH 7.4", tamarack(), 80, 1, 0.4, 1.0, 0.2},
		{"iron bacteria", marshGate(), 80, 2, 0.8, 1.3, 0.2},
		{"iron, manganese and sulfide", flintbank(), 120, 1, 0.5, 1.6, 0.2},
	} {
		t.Run(r.name, func(t *testing.T) {
			j := r.g.job(t)
			_, fed, ok := firstPassing(chlorineFeed{}, j)
			if !ok {
				t.Fatal("no feed passes")
			}
			k := *j
			k.In, k.Before = fed.Out, []media.Process{media.ChlorineFeed}
			o := contactTank{}.Run(&k, Size{Volume: unit.Gal(r.gal), Tanks: r.tanks})
			const from = "reference well: expected at the tap behind the contact tank"
			w := o.AtPeak
			if w.Ferrous.MgPerL() > r.ferrous {
				t.Errorf("ferrous %.3f, want below %g (%s)", w.Ferrous.MgPerL(), r.ferrous, from)
			}
			if s := w.Sulfide.MgPerLAsH2S(); s > 0.01 {
				t.Errorf("sulfide %.3f, want none (%s)", s, from)
			}
			within(t, "free chlorine", w.FreeChlorine.MgPerLAsCl2(), r.freeLow, r.freeHigh, from)
			near(t, "total iron", w.TotalIron().MgPerL(), j.In.TotalIron().MgPerL(), 1e-9, "mass balance")
			if w.ManganeseOx.MgPerL() > 0.5*w.TotalManganese().MgPerL() {
				t.Errorf("manganese has turned in the tank: %.3f of %.3f; without a coated bed it takes hours (Knocke et al., from memory)",
					w.ManganeseOx.MgPerL(), w.TotalManganese().MgPerL())
			}
			if w.Coliform.Per100mL() > 0.01 {
				t.Errorf("coliform %.3g behind 20 min of 1 mg/L", w.Coliform.Per100mL())
			}
		})
	}
}

// Iron 12, alkalinity 45, pH 6.4, 10 °C, closed: oxidation by hypochlorite takes
// 1.79 mg/L of alkalinity for each mg/L of iron, 21 in all, leaves 23.5 and brings
// the pH to about 6.0.
func TestAlkalinityAndPHThroughOxidation(t *testing.T) {
	g := acid()
	g.water.PH, g.water.Alkalinity, g.water.Ferrous = unit.PHOf(6.4), unit.AlkalinityAsCaCO3(45), mg(12)
	j := g.job(t)
	fed := chlorineFeed{}.Run(j, chlorineFeed{}.Sizes(j)[0])
	k := *j
	k.In = fed.Out
	w := contactTank{}.Run(&k, Size{Volume: unit.Gal(120), Tanks: 3}).AtPeak
	if w.Ferrous.MgPerL() > 0.1 {
		t.Fatalf("ferrous %.3f left", w.Ferrous.MgPerL())
	}
	if l := limitNamed(t, fed, "alkalinity_left", true); !l.Fails() || limitNamed(t, fed, "alkalinity_left", false).Fails() {
		t.Errorf("alkalinity left %.1f: want the caution below 30 and no refusal", l.Have)
	}
	// the residual's own alkalinity of 0.5 mg/L stays in
	near(t, "alkalinity left", w.Alkalinity.MgPerLAsCaCO3(), 23.5, 0.7, "stoichiometry, 1.79 mg as CaCO3 for each mg of iron")
	near(t, "pH", w.PH.Value(), 6.0, 0.1, hand)
}

// Iron 20 in alkalinity 40 leaves 4: the pH falls away, so it is refused. At 30
// left exactly nothing is said.
func TestAlkalinityLeft(t *testing.T) {
	for _, r := range []struct {
		iron, alk, left float64
		soft, hard      bool
	}{{20, 40, 4.2, true, true}, {10, 30 + 17.923, 30, false, false}, {10, 29.9 + 17.923, 29.9, true, false}, {10, 10 + 17.923, 10, true, false}} {
		g := acid()
		g.water.Ferrous, g.water.Alkalinity = mg(r.iron), unit.AlkalinityAsCaCO3(r.alk+1e-3)
		ls := alkalinityLeft(g.job(t))
		near(t, "left", ls[0].Have, r.left, 0.1, "1.79 mg as CaCO3 for each mg of iron, by stoichiometry")
		if ls[0].Fails() != r.hard || ls[1].Fails() != r.soft {
			t.Errorf("iron %g, alkalinity %g: refused %v, cautioned %v; want %v, %v", r.iron, r.alk, ls[0].Fails(), ls[1].Fails(), r.hard, r.soft)
		}
	}
}
