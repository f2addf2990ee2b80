package stage

import (
	"testing"

	"pgregory.net/rapid"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/unit"
)

// granite: arsenic and little else, with chlorine and a filter ahead.
func granite() given {
	g := plain()
	g.peak, g.gpm = 5, 12
	g.before = []media.Process{media.ChlorineFeed, media.ContactTank, media.CoatedSandFilter, media.CarbonFilter}
	g.water.Arsenic, g.water.ArsenicV, g.water.Silica = unit.UgPerL(30), unit.UgPerL(30), mg(18)
	return g
}

func adsorberSize(t testing.TB, name, mode string) Size {
	z := sized(t, name, 1)
	z.Mode = mode
	return z
}

func TestArsenicAdsorber(t *testing.T) {
	g := granite()
	one := arsenicAdsorber{}.Run(g.job(t), adsorberSize(t, "14 x 65", SingleBed))
	two := arsenicAdsorber{}.Run(g.job(t), adsorberSize(t, "14 x 65", LeadLag))
	if l, bad := FirstHard(one.Limits); bad {
		t.Fatalf("refused for %+v", l)
	}
	within(t, "bed volumes", one.Settings[BedVolumes], 10000, 60000, "10,000 to 60,000 in the field (from memory)")
	gal := one.Settings[BedVolumes] * one.Settings[MediaFt3] * 7.48052
	near(t, "gallons", one.Settings[RunGal], gal, gal*1e-4, "bed volumes times the bed")
	within(t, "µg/L out, mean of its life", one.Out.Arsenic.UgPerL(), 0.2, 10, "it is changed at 10 at the outlet")
	near(t, "µg/L out at the end of its life", one.AtPeak.Arsenic.UgPerL(), 10, 0.01, "it is changed at 10 at the outlet")
	if two.AtPeak.Arsenic.UgPerL() > 1 {
		t.Errorf("a second bed lets %.2f µg/L through at the change of the first", two.AtPeak.Arsenic.UgPerL())
	}
	within(t, "pressure of two over one", two.Loss.Clean.PSI()/one.Loss.Clean.PSI(), 1.99, 2.01, "two in series")
	near(t, "contact of 1.5 ft3 at 5 gpm, min", arsenicAdsorber{}.Run(g.job(t), adsorberSize(t, "10 x 54", SingleBed)).Settings[EmptyBedMin], 2.24, 0.02, "11.2 gal over 5 gpm: short of 3")
	g.peak = 4
	if l, bad := FirstHard((arsenicAdsorber{}).Run(g.job(t), adsorberSize(t, "10 x 54", SingleBed)).Limits); !bad || l.ID != "empty_bed_contact" {
		t.Errorf("2.8 min of contact: first refusal %v (3 to 5 min a vessel, from memory)", l)
	}
}

// Arsenic that nothing has oxidised is refused, on the limit, just below and above.
func TestAdsorberWantsArsenicOxidised(t *testing.T) {
	g := granite()
	z := adsorberSize(t, "14 x 65", SingleBed)
	for _, tt := range []struct {
		five float64
		bad  bool
	}{{0, true}, {26.9, true}, {27, false}, {27.1, false}} {
		g.water.ArsenicV = unit.UgPerL(tt.five)
		l := limitNamed(t, arsenicAdsorber{}.Run(g.job(t), z), "arsenic_oxidised", false)
		if l.Hard() != tt.bad {
			t.Errorf("%g of 30 µg/L as As(V): refused %v, want %v (nine tenths are asked for: judgement)", tt.five, l.Hard(), tt.bad)
		}
	}
}

func TestAdsorberLeansAndKeeps(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		f := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(r, name) }
		g := granite()
		g.water.Arsenic, g.water.PH = unit.UgPerL(f(1, 200, "As")), unit.PHOf(f(6, 9, "pH"))
		g.water.ArsenicV = unit.UgPerL(g.water.Arsenic.UgPerL() * f(0, 1, "V"))
		g.water.Phosphate, g.water.Silica = unit.MgPerLAsP(f(0, 0.5, "P")), mg(f(2, 60, "Si"))
		z := adsorberSize(t, "14 x 65", SingleBed)
		o := arsenicAdsorber{}.Run(g.job(t), z)
		if o.Out.Arsenic.UgPerL() > g.water.Arsenic.UgPerL() || o.Out.ArsenicV.UgPerL() > o.Out.Arsenic.UgPerL()+1e-9 {
			r.Fatalf("%v in, %v out, of it %v", g.water.Arsenic, o.Out.Arsenic, o.Out.ArsenicV)
		}
		g.water.Phosphate = unit.MgPerLAsP(g.water.Phosphate.MgPerLAsP() + 0.2)
		if more := (arsenicAdsorber{}).Run(g.job(t), z); more.Settings[BedVolumes] > o.Settings[BedVolumes] {
			r.Fatalf("more phosphate and a longer life: %g to %g", o.Settings[BedVolumes], more.Settings[BedVolumes])
		}
	})
}

func TestAdsorberWaysAndWorking(t *testing.T) {
	everyWayShows(t, arsenicAdsorber{}, granite())
	j := granite().job(t)
	j.Site.Working = &formula.Working{}
	o := arsenicAdsorber{}.Run(j, adsorberSize(t, "14 x 65", LeadLag))
	for _, s := range j.Site.Working.Steps() {
		if got := o.Settings[s.Figure]; got != s.Value {
			t.Errorf("working gives %s = %g, the setting is %g", s.Figure, s.Value, got)
		}
	}
	noPromise(t, media.ArsenicAdsorber, o)
}
