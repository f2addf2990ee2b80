package stage

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/unit"
	"wellwright/water"
)

// ledge: radon in a soft, slightly acid bedrock water.
func ledge() given {
	g := plain()
	g.peak = 7
	g.water.PH, g.water.Alkalinity, g.water.Radon = unit.PHOf(6.6), unit.AlkalinityAsCaCO3(80), unit.PCiPerL(20000)
	g.water.Calcium, g.water.Magnesium = mg(25), mg(5)
	return g
}

func radonSize(label string) Size {
	for _, k := range radonKinds {
		if k.label == label {
			return Size{Mode: label, Volume: unit.Gal(k.basin), Tanks: 1, Booster: unit.GPM(8), Settings: Settings{AirToWater: k.ratio}}
		}
	}
	panic(label)
}

func TestRadonAeration(t *testing.T) {
	for _, label := range []string{DiffusedBoxes, BubblePlates} {
		g := ledge()
		o := radonAeration{}.Run(g.job(t), radonSize(label))
		removed := 100 * (1 - o.Out.Radon.PCiPerL()/20000)
		within(t, label+": radon removed, %", removed, 95, 100, "95 to 99 % and more at 20 to 100 of air (from memory)")
		if o.Out.PH.Value() <= g.water.PH.Value()+0.3 {
			t.Errorf("%s: pH %v hardly above %v: carbon dioxide leaves too", label, o.Out.PH, g.water.PH)
		}
		if !o.Out.Uncovered || !o.Needs.Vent || !strings.Contains(o.Cautions[0], "above the roof") {
			t.Errorf("%s: no word of the vent, or of open water", label)
		}
		near(t, label+": exhaust, pCi/L", o.Settings[ExhaustRadonPCiL], (20000-o.Out.Radon.PCiPerL())/o.Settings[AirToWater], 1, "mass balance")
		within(t, label+": exhaust, pCi/L", o.Settings[ExhaustRadonPCiL], 100, 10000, "thousands near the outlet (from memory)")
		if l, bad := FirstHard(o.Limits); bad {
			t.Errorf("%s: refused for %+v", label, l)
		}
		noPromise(t, media.RadonAeration, o)
	}
	g := ledge()
	g.water.Ferrous = mg(1.1)
	if l, bad := FirstHard((radonAeration{}).Run(g.job(t), radonSize(BubblePlates)).Limits); !bad || l.ID != "iron" {
		t.Errorf("1.1 mg/L of iron: first refusal %v (iron plates out: 0.5 to 1, common practice)", l)
	}
}

// The radon of a carbon bed: worked by hand from the field constant, refused where
// the bed would be a source of gamma rays.
func TestRadonOnCarbon(t *testing.T) {
	g := plain()
	g.peak, g.gpm, g.water.Radon = 4, 12, unit.PCiPerL(4000)
	o := carbonFilter{}.Run(g.job(t), sized(t, "12 x 52", 1))
	hours := o.Settings[MediaFt3] * 7.48052 / 280 * 24
	if hours <= 0 || o.Out.Radon.PCiPerL() > 4000*0.05 {
		t.Errorf("%.2f h of contact leave %v of 4000 pCi/L (1.84 ft3 takes 95 %% at 280 gal/day: by hand from the field constant)", hours, o.Out.Radon)
	}
	for _, tt := range []struct {
		radon float64
		bad   bool
	}{{4999, false}, {5000, false}, {5001, true}} {
		g.water.Radon = unit.PCiPerL(tt.radon)
		l := limitNamed(t, carbonFilter{}.Run(g.job(t), sized(t, "12 x 52", 1)), "radon_on_carbon", false)
		if l.Hard() != tt.bad {
			t.Errorf("%g pCi/L: refused %v, want %v (carbon only below 5,000: published, second hand)", tt.radon, l.Hard(), tt.bad)
		}
	}
	g.water.Radon = unit.Radioactivity{}
	for _, l := range (carbonFilter{}).Run(g.job(t), sized(t, "12 x 52", 1)).Limits {
		if l.ID == "radon_on_carbon" {
			t.Error("a limit of radon where there is none")
		}
	}
}

// Neither iron nor manganese is lost, no radon made, and the open spray of a store
// lets radon go too.
func TestRadonAerationKeepsTheRest(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		g := anyWater(r)
		radon := rapid.Float64Range(0, 1e5).Draw(r, "radon")
		g.water.Radon = unit.PCiPerL(radon)
		p := rapid.SampledFrom([]Process{radonAeration{}, ventedAeration{}}).Draw(r, "process")
		j := g.job(t)
		zs := p.Sizes(j)
		o := p.Run(j, zs[rapid.IntRange(0, len(zs)-1).Draw(r, "size")])
		for _, w := range []water.State{o.Out, o.AtPeak} {
			balance(r, j.In, w, 0)
			if w.Radon.PCiPerL() > radon*(1+1e-9) || w.Radon.PCiPerL() < 0 {
				r.Fatalf("radon %g in, %v out", radon, w.Radon)
			}
		}
	})
}

func TestRadonWaysAndWorking(t *testing.T) {
	g := ledge()
	g.yield, g.water.Ferrous = 3, mg(0.3) // so that storage and time show
	everyWayShows(t, radonAeration{}, g)
	j := ledge().job(t)
	j.Site.Working = &formula.Working{}
	o := radonAeration{}.Run(j, radonSize(DiffusedBoxes))
	for _, s := range j.Site.Working.Steps() {
		if got := o.Settings[s.Figure]; got != s.Value {
			t.Errorf("working gives %s = %g, the setting is %g", s.Figure, s.Value, got)
		}
	}
}
