package stage

import (
	"math"
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// fedAndStored are the processes of this file's tests: feeds, tanks, aerators
// and neutralisers.
func fedAndStored() []Process {
	return []Process{
		chlorineFeed{}, permanganateFeed{}, peroxideFeed{}, sodaAshFeed{}, polyphosphateFeed{}, contactTank{},
		pressureAeration{}, ventedAeration{}, storageBooster{}, neutraliser{}, neutraliser{blend: true},
	}
}

// anyWater draws a water of the range that households bring.
func anyWater(t *rapid.T) given {
	f := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	g := plain()
	g.water.Temperature = unit.Celsius(f(4, 20, "C"))
	g.water.PH, g.water.Alkalinity = unit.PHOf(f(5.8, 8.2, "pH")), unit.AlkalinityAsCaCO3(f(40, 350, "alkalinity"))
	g.water.Ferrous, g.water.Particulate, g.water.Bound = mg(f(0, 15, "ferrous")), mg(f(0, 3, "particulate")), mg(f(0, 1, "bound"))
	g.water.Manganese, g.water.ManganeseOx = mg(f(0, 2, "manganese")), mg(f(0, 0.2, "manganese oxide"))
	g.water.Oxygen, g.water.Sulfide = mg(f(0, 6, "oxygen")), unit.MgPerLAsH2S(f(0, 4, "sulfide"))
	g.water.Ammonia = unit.MgPerLAsN(f(0, 1.5, "ammonia"))
	g.water.FreeChlorine = unit.MgPerLAsCl2(f(0, 3, "chlorine"))
	g.peak, g.daily = f(3, 12, "peak"), f(100, 600, "daily")
	g.gpm, g.yield = f(3, 15, "pump"), f(1, 15, "yield")
	g.variable = rapid.Bool().Draw(t, "variable")
	return g
}

// Nothing here takes iron or manganese out; permanganate alone adds manganese,
// its own; sulfur and nitrogen are never made.
func TestNothingIsLostOrMade(t *testing.T) {
	for _, p := range fedAndStored() {
		t.Run(string(p.ID()), func(t *testing.T) {
			rapid.Check(t, func(r *rapid.T) {
				j := anyWater(r).job(t)
				zs := p.Sizes(j)
				z := zs[rapid.IntRange(0, len(zs)-1).Draw(r, "size")]
				if _, ok := p.(neutraliser); ok {
					z.Mode = upflow // a washed bed holds floc back
				}
				o := p.Run(j, z)
				for _, w := range []water.State{o.Out, o.AtPeak} {
					pink := 0.0
					if p.ID() == media.PermanganateFeed {
						pink = o.Settings[DoseMgL]
					}
					balance(r, j.In, w, pink)
				}
			})
		})
	}
}

func balance(r *rapid.T, in, out water.State, pink float64) {
	same := func(what string, a, b float64) {
		if math.Abs(a-b) > 1e-6*(1+math.Abs(a)) || math.IsNaN(b) {
			r.Fatalf("%s: %g in, %g out", what, a, b)
		}
	}
	same("iron", in.TotalIron().MgPerL(), out.TotalIron().MgPerL())
	const sulfurShare = 32.06 / 34.076
	const inPink = 54.938 / 158.032 // of potassium permanganate
	same("manganese", in.TotalManganese().MgPerL()+inPink*(in.Permanganate.MgPerL()+pink),
		out.TotalManganese().MgPerL()+inPink*out.Permanganate.MgPerL())
	if s := out.Sulfide.MgPerLAsH2S()*sulfurShare + out.Sulfur.MgPerL(); s > in.Sulfide.MgPerLAsH2S()*sulfurShare+in.Sulfur.MgPerL()+1e-6 {
		r.Fatalf("sulfur made: %g", s)
	}
	n := func(w water.State) float64 {
		return w.Ammonia.MgPerLAsN() + w.CombinedChlorine.MgPerLAsCl2()*14.007/70.906
	}
	if n(out) > n(in)+1e-6 {
		r.Fatalf("nitrogen made: %g to %g", n(in), n(out))
	}
	for what, v := range map[string]float64{
		"pH": out.PH.Value(), "alkalinity": out.Alkalinity.MeqPerL(), "oxygen": out.Oxygen.MgPerL(), "chlorine": out.FreeChlorine.MgPerLAsCl2(),
		"ferrous": out.Ferrous.MgPerL(), "sulfide": out.Sulfide.MgPerLAsH2S(), "peroxide": out.Peroxide.MgPerL(),
	} {
		if math.IsNaN(v) || math.IsInf(v, 0) || (v < -1e-9 && what != "alkalinity") {
			r.Fatalf("%s is %g", what, v)
		}
	}
}

// A chlorine feed and its tank change alkalinity by what stoichiometry says: two
// equivalents for each mole of iron turned, two for manganese, none for sulfide
// to sulfur, one for each mole of ammonia to monochloramine's chlorine and so on:
// the electrons given equal the electrons taken.
func TestElectronsOfChlorination(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		g := anyWater(r)
		g.water.Ammonia, g.water.FreeChlorine, g.water.Oxygen = unit.Nitrogen{}, unit.Chlorine{}, unit.Concentration{}
		j := g.job(t)
		d := chlorineDose(j)
		w := j.chlorinated(d)
		gave := (j.In.Ferrous.MgPerL()-w.Ferrous.MgPerL())/55.845 + 2*(j.In.Manganese.MgPerL()-w.Manganese.MgPerL())/54.938 +
			2*(j.In.Sulfide.MgPerLAsH2S()-w.Sulfide.MgPerLAsH2S())/34.076
		took := 2 * (d.titrated - w.FreeChlorine.MgPerLAsCl2()) / 70.90
		if math.Abs(gave-took) > 1e-3*(1e-2+gave) {
			r.Fatalf("%g meq/L of electrons given, %g taken", gave, took)
		}
		lost := j.In.Alkalinity.MeqPerL() - w.Alkalinity.MeqPerL()
		want := 2*(j.In.Ferrous.MgPerL()-w.Ferrous.MgPerL())/55.845 + 2*(j.In.Manganese.MgPerL()-w.Manganese.MgPerL())/54.938 - w.FreeChlorine.MgPerLAsCl2()/70.906
		if math.Abs(lost-want) > 1e-3*(3e-2+math.Abs(want)) {
			r.Fatalf("%g meq/L of alkalinity lost, %g by stoichiometry", lost, want)
		}
	})
}

// More iron never asks less chlorine; a larger tank never gives less time; peak
// is never better than an ordinary draw.
func TestMonotony(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		g := anyWater(r)
		a := g.job(t)
		g.water.Ferrous = mg(g.water.Ferrous.MgPerL() + rapid.Float64Range(0, 5).Draw(r, "more"))
		b := g.job(t)
		if x, y := chlorineDose(a), chlorineDose(b); y.dose < x.dose-1e-9 || y.high < x.high-1e-9 {
			r.Fatalf("dose %g falls to %g with more iron", x.dose, y.dose)
		}
		last := 0.0
		for _, z := range (contactTank{}).Sizes(a) {
			o := contactTank{}.Run(a, z)
			if o.Settings[ContactMin] < last {
				r.Fatalf("%v gives %g min after %g", z, o.Settings[ContactMin], last)
			}
			last = o.Settings[ContactMin]
			// Where chlorine runs short, more time lets ammonia take more of it:
			// a little more iron may then be left by an ordinary draw.
			if o.AtPeak.Ferrous.MgPerL() < o.Out.Ferrous.MgPerL()-0.01-0.02*a.In.Ferrous.MgPerL() {
				r.Fatalf("less ferrous at peak: %g, %g", o.AtPeak.Ferrous.MgPerL(), o.Out.Ferrous.MgPerL())
			}
		}
	})
}

// Every part in a bill is on the price list, every way to fail shows in the water
// or the supply, and every limit says why.
func TestBillsLimitsAndWays(t *testing.T) {
	prices := media.Prices()
	for _, p := range fedAndStored() {
		g := flintbank()
		switch p.ID() {
		case media.CalciteBed, media.MagnesiaBlendBed, media.SodaAshFeed:
			g = acid()
		case media.ContactTank:
			g.water.FreeChlorine = unit.MgPerLAsCl2(14)
		}
		j := g.job(t)
		for _, z := range p.Sizes(j) {
			o := p.Run(j, z)
			for _, l := range o.Bill.First {
				known(t, prices, p, l.Part, l.Amount)
			}
			for _, u := range o.Bill.Yearly {
				known(t, prices, p, u.Part, u.PerYear)
			}
			for _, n := range o.Bill.Renewals {
				known(t, prices, p, n.Part, n.Amount)
			}
			for _, l := range o.Limits {
				if l.ID == "" || l.Say == "" || l.From == "" {
					t.Errorf("%s: limit without reason: %+v", p.ID(), l)
				}
			}
			if len(o.Cautions) == 0 || len(o.WillNot) == 0 || o.Needs.Floor.Ft2() <= 0 {
				t.Errorf("%s: cautions, what it will not do, or its place are missing", p.ID())
			}
		}
		everyWayShows(t, p, g)
	}
}

func known(t *testing.T, list media.PriceList, p Process, part media.Part, amount float64) {
	t.Helper()
	if _, ok := list.Of(part); !ok {
		t.Errorf("%s: %q is not on the price list", p.ID(), part)
	}
	if !(amount > 0) {
		t.Errorf("%s: %g of %q", p.ID(), amount, part)
	}
}

func everyWayShows(t *testing.T, p Process, g given) {
	t.Helper()
	sound := g.job(t)
	z := p.Sizes(sound)[0]
	good := p.Run(sound, z)
	for _, w := range p.Ways() {
		j := g.job(t)
		j.Fault = w.ID
		bad := p.Run(j, z)
		moved := bad.Out != good.Out || bad.AtPeak != good.AtPeak
		if bad.Supply != nil {
			moved = moved || bad.Supply.Available(10, unit.PSI(30)) != good.Supply.Available(10, unit.PSI(30))
		}
		if !moved && w.ID != BackwashWeak {
			t.Errorf("%s: %s changes nothing", p.ID(), w.ID)
		}
		if w.Say == "" || w.Shows == "" || w.Mend == "" {
			t.Errorf("%s: %s is not told whole", p.ID(), w.ID)
		}
	}
}

// Factor names are unique and snake_case, and each has its source.
func TestFactorsOfTheStages(t *testing.T) {
	if _, err := source.NewRegister(Factors(), media.Factors()); err != nil {
		t.Error(err)
	}
	snake := regexp.MustCompile(`^[a-z0-9]+(_[a-z0-9]+)*$`)
	for _, f := range Factors() {
		if !snake.MatchString(f.Name) || f.What == "" || f.From == "" {
			t.Errorf("factor %q is not told whole", f.Name)
		}
		if f.HasRange() && !(f.Low <= f.Value && f.Value <= f.High) {
			t.Errorf("factor %q: %g is outside %g to %g", f.Name, f.Value, f.Low, f.High)
		}
	}
}

// Asked for working, each stage opens its figures, and the figures are those of
// its settings.
func TestWorkingAgreesWithSettings(t *testing.T) {
	for _, p := range fedAndStored() {
		g := flintbank()
		if p.ID() == media.CalciteBed || p.ID() == media.MagnesiaBlendBed || p.ID() == media.SodaAshFeed {
			g = acid()
		}
		j := g.job(t)
		j.Site.Working = &formula.Working{}
		o := p.Run(j, p.Sizes(j)[0])
		steps := j.Site.Working.Steps()
		if len(steps) == 0 {
			t.Errorf("%s: no working", p.ID())
		}
		for _, s := range steps {
			if want, ok := o.Settings[s.Figure]; ok && math.Abs(s.Value-want) > 1e-9*(1+math.Abs(want)) {
				t.Errorf("%s: working gives %s = %g, the setting is %g", p.ID(), s.Figure, s.Value, want)
			}
			if s.Equation == "" || s.Source == "" || len(s.Symbols) == 0 {
				t.Errorf("%s: %s is not opened whole", p.ID(), s.Figure)
			}
		}
	}
}
