package plan_test

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"wellwright/cloud"
	"wellwright/nexttest"
	"wellwright/plan"
	"wellwright/unit"
)

// spread are the uncertainties of a made-up cloud, one standard deviation as a
// share unless said: what an evidence of that quality leaves open.
type spread struct {
	iron, manganese, sulfide, ammonia, hardness, yield float64
	pH                                                 float64 // pH
	sulfate                                            float64 // most of the share of sulfide taken to sulfate
	extra                                              float64 // mg/L as Cl2
	recovery, recoveryError                            float64
	dry                                                float64 // share of its yield that the dry season takes
}

// madeUp believes n waters about the middle of a desk's own. It tests what is
// made of a cloud, not the cloud.
func madeUp(d *plan.Desk, n int, s spread) *plan.Desk {
	r := rand.New(rand.NewPCG(3, 5))
	times := func(share float64) float64 { return math.Exp(share * r.NormFloat64()) }
	c := d.Cloud
	middle := c.Middle()
	c.Draws, c.Spread = make([]cloud.Draw, n), nil
	for i := range c.Draws {
		x := middle
		x.Name, x.Weight = "", 1/float64(n)
		w, p, iron := &x.Water, &x.Supply, times(s.iron)
		if i > 0 {
			w.Ferrous, w.Particulate = unit.MgPerL(w.Ferrous.MgPerL()*iron), unit.MgPerL(w.Particulate.MgPerL()*iron)
			w.Manganese, w.Sulfide = unit.MgPerL(w.Manganese.MgPerL()*times(s.manganese)), unit.MgPerLAsH2S(w.Sulfide.MgPerLAsH2S()*times(s.sulfide))
			w.Ammonia, w.PH = unit.MgPerLAsN(w.Ammonia.MgPerLAsN()*times(s.ammonia)), unit.PHOf(w.PH.Value()+s.pH*r.NormFloat64())
			w.Calcium = unit.MgPerL(w.Calcium.MgPerL() * times(s.hardness))
			p.Hydraulic.Yield = unit.GPM(p.Hydraulic.Yield.GPM() * (1 - s.dry) * times(s.yield))
		} else {
			x.Name = cloud.Middle
		}
		p.SulfateShare, p.AmmoniaRatio = s.sulfate*r.Float64(), 7.6+2.4*r.Float64()
		p.ChlorineExtra = unit.MgPerLAsCl2(s.extra * r.Float64())
		p.Recovery = math.Max(0, math.Min(1, s.recovery+s.recoveryError*r.NormFloat64()))
		x.World.Bacteria = r.Float64() < w.Bacteria
		c.Draws[i] = x
	}
	for i := range 20 {
		x := c.Draws[i*n/20]
		x.Weight = 1.0 / 20
		c.Spread = append(c.Spread, x)
	}
	c.Quality = cloud.Quality{Asked: n, Effective: float64(n), Distinct: n}
	return d.Believing(c)
}

// usual is what sound field and laboratory readings leave open.
var usual = spread{iron: 0.1, manganese: 0.1, sulfide: 0.15, ammonia: 0.2, hardness: 0.03, yield: 0.1, pH: 0.1, sulfate: 1, extra: 0.5}

// With waters made up about the reference wells, as open as their evidence leaves
// them, the tests come out as worked by hand for those wells.
func TestNextTestOnMadeUpWaters(t *testing.T) {
	weak, slimed := usual, usual
	weak.yield, weak.dry = 0.9, 0.8 // one hour on one day with the level at the intake, and a dry season to come
	slimed.recovery, slimed.recoveryError = 0.6, 0.25
	for _, tt := range []struct {
		well, first string
		s           spread
		pays        bool
	}{
		{"f", "chlorine-demand-jar", usual, true},
		{"i", "yield-test", weak, true},
		{"e", "capacity-test", slimed, true},
		{"a", "", usual, false},
	} {
		t.Run(tt.well, func(t *testing.T) {
			checkNext(t, answered(t, madeUp(reference(t, tt.well), 1000, tt.s)), tt.first, tt.pays)
		})
	}
}

// checkNext asks for one test first, paying or not; "" asks that none pays.
func checkNext(t *testing.T, a plan.Answer, first string, pays bool) {
	t.Helper()
	for _, n := range a.NextTests {
		t.Logf("%s with %v: worth %g ± %g for %g, %g days, changes %g: %s", n.ID, n.With, n.WorthUSD, n.ErrorUSD, n.PriceUSD, n.WaitDays, n.Changes, n.Say)
	}
	t.Log(a.NextSay)
	var stages []string
	for _, x := range a.Options[0].Stages {
		stages = append(stages, x.Words)
	}
	if now := strings.Join(stages, ", "); !strings.Contains(a.NextSay, now) {
		t.Errorf("as things stand one would do other than the first option, %s: the two rest on one order", now)
	}
	if first == "" {
		if i := slices.IndexFunc(a.NextTests, func(n plan.NextTest) bool { return n.Pays }); i >= 0 {
			t.Errorf("%s pays: worth %g for %g (%s)", a.NextTests[i].ID, a.NextTests[i].WorthUSD, a.NextTests[i].PriceUSD, byHand)
		}
		if !strings.HasPrefix(a.NextSay, "No test") {
			t.Errorf("the one line says %q", a.NextSay)
		}
		return
	}
	if len(a.NextTests) == 0 || a.NextTests[0].ID != first {
		t.Fatalf("first is not %s (%s)", first, byHand)
	}
	if pays && !a.NextTests[0].Pays {
		t.Errorf("%s is worth %g, less than its price %g (%s)", first, a.NextTests[0].WorthUSD, a.NextTests[0].PriceUSD, byHand)
	}
}

// The reference wells as the cloud believes them. Whether the tests of wells e and
// i are worth their price hangs on prices; that they come first does not.
func TestNextTestOfTheReferenceWells(t *testing.T) {
	for _, tt := range []struct {
		well, first string
		pays        bool
	}{
		{"f", "chlorine-demand-jar", true}, {"i", "yield-test", false}, {"e", "capacity-test", false}, {"a", "", false},
	} {
		t.Run(tt.well, func(t *testing.T) {
			d := reference(t, tt.well)
			if n := len(d.Cloud.Draws); n < 500 {
				t.Skipf("the cloud has %d plausible waters: the worth of a test is counted from 500 and more", n)
			}
			if dry := tooDry(d); tt.well == "i" && dry < 0.01 {
				t.Skipf("a well that yields less than 360 gal/day stands for %.2g %% of the plausible ones: too few for a test of yield to tell anything", 100*dry)
			}
			checkNext(t, answered(t, d), tt.first, tt.pays)
		})
	}
}

// tooDry is the share of plausible wells below 0.25 gpm, 360 gal/day, where
// storage no longer serves well i (worked by hand for the reference wells).
func tooDry(d *plan.Desk) float64 {
	n := 0
	for i := range d.Cloud.Draws {
		if d.Cloud.Draws[i].Supply.Hydraulic.Yield.GPM() < 0.25 {
			n++
		}
	}
	return float64(n) / float64(len(d.Cloud.Draws))
}

// Where the evidence leaves nothing open no test is worth anything: every draw is
// the same well.
func TestNoTestWhereAllIsKnown(t *testing.T) {
	a := answered(t, madeUp(reference(t, "a"), 600, spread{}))
	if len(a.NextTests) != 0 {
		t.Errorf("%d tests are worth something in a well that is known (definition)", len(a.NextTests))
	}
}

// A sampling round is written for what no report holds; once a test has been
// made, it is no longer asked for.
func TestSamplingRound(t *testing.T) {
	a := answered(t, reference(t, "i"))
	if !slices.Contains(a.Untested, "lead in first draw at the kitchen tap") {
		t.Fatalf("untested in well i: %v", a.Untested)
	}
	if len(a.Sampling) < 2 || a.Sampling[0].Tap != "K" || !strings.Contains(a.Sampling[0].Draw, "first draw") || !slices.Contains(a.Sampling[0].Analytes, "lead") {
		t.Errorf("the first bottle is not the first draw for lead (sampling protocol): %+v", a.Sampling)
	}
	for k, b := range a.Sampling {
		if b.Order != k+1 || b.Container == "" || b.HoldSays == "" || len(b.Analytes) == 0 {
			t.Errorf("bottle %d says too little: %+v", k+1, b)
		}
	}
	for _, b := range answered(t, reference(t, "a")).Sampling {
		for _, n := range b.Analytes {
			if n == "lead" || n == "arsenic" || n == "nitrate" {
				t.Errorf("well a: %s is asked for, though its report holds it", n)
			}
		}
	}
}

// docs/nexttest.md names every test on offer.
func TestEveryTestIsOnItsPage(t *testing.T) {
	text, err := os.ReadFile("../docs/nexttest.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range nexttest.Tests(reference(t, "a").Present.Factors(), plan.Prices()) {
		if !strings.Contains(string(text), "`"+x.ID+"`") {
			t.Errorf("docs/nexttest.md does not name %s", x.ID)
		}
	}
}

// BenchmarkNext is the worth of all tests on 2,000 made-up waters, search and all.
func BenchmarkNext(b *testing.B) {
	d := madeUp(reference(b, "f"), 2000, usual)
	for b.Loop() {
		if _, err := d.Answer(); err != nil {
			b.Fatal(err)
		}
	}
}
