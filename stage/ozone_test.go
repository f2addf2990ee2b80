package stage

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/unit"
	"wellwright/water"
)

// swampy: iron, a little manganese and sulfide, some organic matter.
func swampy() given {
	g := plain()
	g.gpm, g.peak = 5, 5
	g.after = []media.Process{media.CoatedSandFilter}
	g.water.Ferrous, g.water.Manganese, g.water.Sulfide = mg(2), mg(0.3), unit.MgPerLAsH2S(0.5)
	g.water.OrganicCarbon, g.water.Arsenic = mg(1), unit.UgPerL(20)
	return g
}

func ozoneSize(gallons, output float64) Size {
	return Size{Volume: unit.Gal(gallons), Tanks: 1, Settings: Settings{OzoneGPerH: output}}
}

func TestOzoneFeed(t *testing.T) {
	g := swampy()
	o := ozoneFeed{}.Run(g.job(t), ozoneSize(40, 4))
	if l, bad := FirstHard(o.Limits); bad {
		t.Fatalf("refused for %+v", l)
	}
	near(t, "dose, mg/L", o.Settings[DoseMgL], 0.43*2+0.874*0.3+1.41*0.5+0.4+0.64*0.02, 0.02, "by hand from atomic weights and 0.4 for organic carbon")
	if o.Out.Ferrous.MgPerL() > 0.01 || o.Out.Manganese.MgPerL() > 0.01 || o.Out.Sulfide.MgPerLAsH2S() > 0.01 {
		t.Errorf("%v ferrous, %v manganese, %v sulfide left of a full dose", o.Out.Ferrous, o.Out.Manganese, o.Out.Sulfide)
	}
	near(t, "arsenic turned, µg/L", o.Out.ArsenicV.UgPerL(), 20, 0.01, "ozone turns arsenic (III) within 10 s: Dodd et al. 2006 (abstract)")
	if o.Out.Permanganate.MgPerL() > 1e-6 {
		t.Error("pink at the right dose")
	}
	j := g.job(t)
	j.Fault = FeedHigh
	if pink := (ozoneFeed{}).Run(j, ozoneSize(40, 8)).Out.Permanganate.MgPerL(); pink < 0.05 {
		t.Errorf("%.3f mg/L of permanganate from twice the dose (too much ozone turns manganese pink; 0.05 is seen)", pink)
	}
	for _, tt := range []struct {
		z  Size
		id string
	}{{ozoneSize(40, 1), "ozone_output"}, {ozoneSize(20, 4), "ozone_contact"}} {
		if l, bad := FirstHard((ozoneFeed{}).Run(g.job(t), tt.z).Limits); !bad || l.ID != tt.id {
			t.Errorf("%+v: first refusal %v, want %s", tt.z, l.ID, tt.id)
		}
	}
	g.after = []media.Process{} // nothing: nil is what a search does not know yet
	if l, bad := FirstHard((ozoneFeed{}).Run(g.job(t), ozoneSize(40, 4)).Limits); !bad || l.ID != "filter_behind" {
		t.Errorf("no filter behind: first refusal %v", l)
	}
	noPromise(t, media.OzoneFeed, o)
}

// Iron, manganese and sulfur are kept; the electrons that they, and organic matter,
// give are no more than the ozone takes; iron and manganese cost two equivalents of
// alkalinity each.
func TestOzoneKeepsItsBooks(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		g := anyWater(r)
		g.water.FreeChlorine, g.water.Oxygen, g.water.ManganeseOx = unit.Chlorine{}, unit.Concentration{}, unit.Concentration{}
		g.water.OrganicCarbon = mg(rapid.Float64Range(0, 5).Draw(r, "TOC"))
		j := g.job(t)
		j.Fault = rapid.SampledFrom([]Fault{"", FeedEmpty, SolutionStale, FeedPlugged, FeedHigh}).Draw(r, "way")
		x := newOzone(j, ozoneSize(80, rapid.SampledFrom(ozoneOutputs[:]).Draw(r, "output")))
		w := x.dosed(j.In)
		balance(r, j.In, w, 0)
		in := j.In
		fe, mn := in.Ferrous.MgPerL()-w.Ferrous.MgPerL(), in.Manganese.MgPerL()-w.Manganese.MgPerL()
		pink := w.Permanganate.MgPerL() / 158.032
		gave := fe/55.845 + 2*mn/54.938 + 3*pink + 2*(in.Sulfide.MgPerLAsH2S()-w.Sulfide.MgPerLAsH2S())/34.076
		if took := 2 * x.fed() / 47.997; gave > took*(1+1e-3)+1e-9 {
			r.Fatalf("%g meq/L of electrons given, %g taken", gave, took)
		}
		lost := in.Alkalinity.MeqPerL() - w.Alkalinity.MeqPerL()
		if want := 2*fe/55.845 + 2*mn/54.938 + pink; math.Abs(lost-want) > 1e-9 {
			r.Fatalf("%g meq/L of alkalinity lost, %g by stoichiometry", lost, want)
		}
		o := ozoneFeed{}.Run(j, x.z)
		for _, w := range []water.State{o.Out, o.AtPeak} {
			balance(r, j.In, w, 0)
		}
	})
}

func TestOzoneWaysAndWorking(t *testing.T) {
	g := swampy()
	everyWayShows(t, ozoneFeed{}, g)
	j := g.job(t)
	j.Site.Working = &formula.Working{}
	o := ozoneFeed{}.Run(j, ozoneSize(40, 4))
	for _, s := range j.Site.Working.Steps() {
		if got := o.Settings[s.Figure]; got != s.Value {
			t.Errorf("working gives %s = %g, the setting is %g", s.Figure, s.Value, got)
		}
	}
}
