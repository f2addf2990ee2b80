package stage

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/well"
)

// parlour is a workplace behind its iron filter: 22 gpg, 1,100 gal/day, 18 gpm.
func parlour() given {
	g := polished(hard(plain(), 22))
	g.gpm, g.psi, g.yield, g.peak, g.daily = 22, 45, 35, 18, 1100
	return g
}

// working puts the job into shifts of so many gpm, each of a third of the day.
func working(j *Job, gpm ...float64) *Job {
	for i, q := range gpm {
		flow := unit.GPM(q)
		j.Site.House.Shifts = append(j.Site.House.Shifts, well.Shift{From: well.Clock(480 * i), To: well.Clock(480 * (i + 1)), Peak: &flow})
	}
	return j
}

// resin is a softener of several vessels at 8 lb/ft3.
func resin(t testing.TB, name string, count int, turn Turn) Size {
	t.Helper()
	z := softenerSize(t, name, 8)
	z.Count, z.Turn = count, turn
	return z
}

// Capacity balance of twins against a single vessel with its reserve. Treatment
// reference 3.13: a day's use for a single tank, none for a twin (common practice);
// 8.1: 40,500 grains at 7,392 a day are 4.48 days with the reserve, so 5.48 without.
// The rest is the arithmetic of 96,000 grains at 24,200 a day.
func TestTwinUsesItsWholeCharge(t *testing.T) {
	j := parlour().job(t)
	m := fillingOf(media.Softener)
	for _, tt := range []struct {
		name          string
		z             Size
		metered, runs float64 // days
		saltYear      float64 // lb
	}{
		{"single 4 ft3", resin(t, "16 x 65", 1, InTurn), 96000.0/24200 - 1, 2, 32 * 365 / 2.0},
		{"twin 4 ft3", resin(t, "16 x 65", 2, Twin), 96000.0 / 24200, 96000.0 / 24200, 32 * 365 / (96000.0 / 24200)},
		{"two of 4 ft3 in turn", resin(t, "16 x 65", 2, InTurn), 192000.0/24200 - 1, 6, 2 * 32 * 365 / 6.0},
		{"three of 4 ft3, two serving", resin(t, "16 x 65", 3, Twin), 192000.0 / 24200, 192000.0 / 24200, 2 * 32 * 365 / (192000.0 / 24200)},
	} {
		x := layBed(j, tt.z, m).exchange()
		if math.Abs(x.metered-tt.metered) > 0.01 || math.Abs(x.days-tt.runs) > 0.01 || math.Abs(x.saltYear/tt.saltYear-1) > 0.005 {
			t.Errorf("%s: %.3f days by meter, set to %.3f, %.0f lb a year; want %.3f, %.3f, %.0f", tt.name, x.metered, x.days, x.saltYear, tt.metered, tt.runs, tt.saltYear)
		}
	}
	if one, none := meteredDays(40500, 7392, reserveOf(source.Set{}, InTurn)), meteredDays(40500, 7392, reserveOf(source.Set{}, Twin)); math.Abs(one-4.48) > 0.005 || math.Abs(none-5.48) > 0.005 {
		t.Errorf("%.2f days with the reserve and %.2f without, want 4.48 and 5.48 (treatment reference 8.1)", one, none)
	}
}

// Treatment reference 8.5 (common practice): 6 ft3 at 15 lb/ft3 hold 180,000 grains,
// 26,090 gal at 6.9 gpg.
func TestCommercialSoftener(t *testing.T) {
	z := softenerSize(t, "14 x 65", 15)
	z.Count = 2
	j := hard(parlour(), 6.9).job(t)
	x := layBed(j, z, fillingOf(media.Softener)).exchange()
	if gal := x.capacity / 6.9; x.capacity != 180000 || math.Abs(gal-26090) > 26 {
		t.Errorf("two vessels of 3 ft3: %.0f grains, %.0f gal; want 180,000 and 26,090", x.capacity, gal)
	}
}

// Beds side by side. Treatment reference 8.30: at 8 gpm one 12 in bed runs at 10.2
// gpm/ft2 and two at 5.1; 8.28 B: two 10 in tanks at 5.5 gpm run at 5. While one of n
// washes the rest carry n/(n-1) of their share (water balance).
func TestBedsSideBySide(t *testing.T) {
	g := plain()
	g.peak = 8
	for _, tt := range []struct {
		vessel    string
		count     int
		gpm, rate float64
	}{{"12 x 52", 1, 8, 10.2}, {"12 x 52", 2, 8, 5.1}, {"10 x 54", 2, 5.5, 5.0}, {"18 x 65", 1, 8, 4.5}} {
		g.peak = tt.gpm
		j := g.job(t)
		m, _ := media.MediumFor(media.CoatedSandFilter)
		b := newBed(j, sized(t, tt.vessel, tt.count), m)
		if got := b.loading(j.Peak); math.Abs(got-tt.rate) > 0.06 {
			t.Errorf("%d x %s at %g gpm: %.2f gpm/ft2, want %.1f", tt.count, tt.vessel, tt.gpm, got, tt.rate)
		}
		if n := float64(tt.count); n > 1 {
			rest := tt.gpm / (b.z.Vessel.Area.Ft2() * float64(b.z.left()))
			if math.Abs(rest/b.loading(j.Peak)-n/(n-1)) > 1e-9 {
				t.Errorf("while one of %g washes the rest run at %.2f, want %.3f of their share", n, rest, n/(n-1))
			}
		}
	}
}

// One vessel counted or not is the same vessel; two halve the flow through each, and
// no further vessel ever raises rate or pressure loss.
func TestFurtherVesselsOnlyHelp(t *testing.T) {
	m, _ := media.MediumFor(media.CoatedSandFilter)
	rapid.Check(t, func(r *rapid.T) {
		g := plain()
		g.peak = rapid.Float64Range(2, 40).Draw(r, "peak")
		j := g.job(t)
		z := sized(t, rapid.SampledFrom([]string{"10 x 54", "13 x 54", "16 x 65", "24 x 72"}).Draw(r, "vessel"), 0)
		none := newBed(j, z, m)
		rate, loss := math.Inf(1), math.Inf(1)
		for n := 1; n <= mostAtWork; n++ {
			z.Count = n
			b := newBed(j, z, m)
			w := b.wash()
			if n == 1 && (b.area != none.area || b.loss(w) != none.loss(none.wash())) {
				r.Fatal("one vessel counted is another than one not counted")
			}
			if math.Abs(b.each()*float64(n)-g.peak) > 1e-9 {
				r.Errorf("%d vessels carry %g gpm each of %g", n, b.each(), g.peak)
			}
			if v, l := b.loading(j.Peak), b.loss(w).Clean.PSI(); v > rate || l > loss {
				r.Errorf("vessel %d raises the rate to %g or the loss to %g", n, v, l)
			} else {
				rate, loss = v, l
			}
		}
	})
}

// Without quiet hours a vessel alone is refused, and of several those left must carry
// the flow: boundary rows of 12 gpm/ft2 on three beds of 0.545 ft2, two of which are
// left. Source: Wisconsin NR 811.495, at least two units, each for the design flow.
func TestNoQuietHourAsksForAStandby(t *testing.T) {
	for _, tt := range []struct {
		gpm    float64
		count  int
		broken string
	}{
		{5, 1, "water_while_washing"},
		{13.08, 3, ""}, {13.0899693, 3, ""}, {13.10, 3, "service_rate_washing"},
	} {
		g := settled(plain(), 1)
		g.peak, g.gpm = tt.gpm, 40
		j := working(g.job(t), tt.gpm, tt.gpm, tt.gpm)
		ls := j.whileWashing(nil, Size{Count: tt.count, Turn: Standby}, math.Pi*100/576, source.Factor{Value: 12}, "gpm/ft2")
		if l, bad := FirstHard(ls); bad != (tt.broken != "") || bad && l.ID != tt.broken {
			t.Errorf("%d beds at %g gpm: %+v, want %q", tt.count, tt.gpm, ls, tt.broken)
		}
	}
	quiet := plain().job(t)
	if ls := quiet.whileWashing(nil, Size{Count: 1}, 1, source.Factor{Value: 12}, "gpm/ft2"); len(ls) != 0 {
		t.Errorf("a household that sleeps is asked for %v", ls)
	}
	some := working(plain().job(t), 9, 18, 3)
	ls := some.whileWashing(nil, Size{Count: 2}, 1, source.Factor{Value: 12}, "gpm/ft2")
	if want := some.Peak.GPM() * 3 / 18; len(ls) != 1 || math.Abs(ls[0].Have-want) > 1e-9 {
		t.Errorf("in the least busy shift the one left runs at %+v, want %g", ls, want)
	}
}

// The sizes of a place that never rests: filters with one to spare, softeners that
// take turns or are left enough; no vessel alone.
func TestSizesRoundTheClock(t *testing.T) {
	strong := parlour()
	strong.gpm, strong.yield = 40, 45
	j := working(strong.job(t), 18, 18, 18)
	for _, z := range (softener{}).Sizes(j) {
		if z.Vessels() < 2 || z.Turn == InTurn {
			t.Errorf("a single softener, or one that waits for the night, of %s round the clock", z.Vessel.Name)
		}
		o := softener{}.Run(j, z)
		if l, bad := FirstHard(o.Limits); bad {
			t.Errorf("%s of %s: %s", z.Arranged(), z.Vessel.Name, l.ID)
		}
	}
	f := working(settled(strong, 1).job(t), 18, 18, 18)
	f.In.Ferrous = mg(0)
	for _, z := range (sedimentFilter{}).Sizes(f) {
		if z.Turn != Standby || z.Vessels() < 2 {
			t.Errorf("a filter of %d in %q round the clock, want one to spare", z.Vessels(), z.Turn)
		}
	}
}

// Exchangers for anions too: those left carry the whole at 5 gpm/ft3 or less, their
// steady rate.
func TestAnionResinRoundTheClock(t *testing.T) {
	g := parlour()
	g.gpm, g.yield, g.water.Nitrate = 40, 45, unit.MgPerLAsN(14)
	j := working(g.job(t), 18, 18, 18)
	for _, z := range (nitrateExchanger{}).Sizes(j) {
		o := nitrateExchanger{}.Run(j, z)
		if z.Turn != Standby || z.Vessels() < 2 || o.Washes[0].Turn != Standby {
			t.Errorf("%d of %s in %q round the clock, want one to spare", z.Vessels(), z.Vessel.Name, z.Turn)
		}
		for _, l := range o.Limits {
			if l.ID == "service_rate_washing" && l.Hard() || l.ID == "water_while_washing" {
				t.Errorf("%+v", l)
			}
		}
	}
}

// No household gets more to choose from than before: one vessel, if one does.
func TestHouseholdsStayWithOneSoftener(t *testing.T) {
	for _, g := range []given{alder(), polished(tamarack()), polished(flintbank())} {
		if zs := (softener{}).Sizes(g.job(t)); len(zs) != 1 || zs[0].Vessels() != 1 || zs[0].Turn != InTurn {
			t.Errorf("%d sizes, the first %+v; want the one vessel", len(zs), zs[0])
		}
	}
}

// The boundary between a house and a workplace, and that between a short peak and
// steady use; both sides own theirs: at the peak itself it is a workplace, at the
// minutes themselves still short.
func TestBoundariesOfAWorkplace(t *testing.T) {
	for _, tt := range []struct {
		gpm  float64
		want bool
	}{{14.99, false}, {15, true}, {15.01, true}} {
		g := plain()
		g.peak = tt.gpm
		if got := g.job(t).commercial(); got != tt.want {
			t.Errorf("a peak of %g gpm counts as a workplace: %t", tt.gpm, got)
		}
	}
	for _, tt := range []struct {
		minutes float64
		refuse  float64
	}{{0, 12}, {14.9, 12}, {15, 12}, {15.1, 9}} {
		j := plain().job(t)
		j.In.FreeChlorine = unit.MgPerLAsCl2(0.7)
		j.Draw.Supply.PeakMinutes = tt.minutes
		m, _ := media.MediumFor(media.CoatedSandFilter)
		if got := coatedSandRefuse(j, &m).Value; got != tt.refuse {
			t.Errorf("a peak of %g min is refused above %g gpm/ft2, want %g (5 to 9 steady, 12 at short peaks with a residual: common practice)", tt.minutes, got, tt.refuse)
		}
	}
}

// A twin must have its other vessel back before its charge is spent: three hours for
// the brine (handbooks) and an hour and a half of regeneration are 0.1875 of a day.
func TestTwinMustBeBack(t *testing.T) {
	for _, tt := range []struct {
		days  float64
		fails bool
	}{{0.1874, true}, {0.1875, false}, {0.1876, false}} {
		x := exchange{turn: Twin, serving: 1, metered: tt.days}
		if _, bad := FirstHard(x.limits(source.Set{})); bad != tt.fails {
			t.Errorf("a charge of %g days fails %t", tt.days, bad)
		}
	}
	if two := leastRun(source.Set{}, 2); math.Abs(two-0.375) > 1e-12 {
		t.Errorf("where two serve, both must be regenerated in a run: %g, want 0.375 days", two)
	}
}

// Two washes at once need what both need; what there is for them is never more than
// for one alone, and exactly as much as needed is enough.
func TestTwoWashesAtOnce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		f := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(r, name) }
		pump, err := hydraulic.PumpFromMeasurements([]hydraulic.PumpPoint{{Flow: unit.GPM(f(3, 30, "pump")), Pressure: unit.PSI(45)}})
		if err != nil {
			r.Fatal(err)
		}
		s := hydraulic.Supply{Pump: pump, CutIn: unit.PSI(40), CutOut: unit.PSI(60), Yield: unit.GPM(f(1, 30, "yield")), CasingStorage: unit.Gal(f(0, 200, "casing"))}
		a, b := Wash{Need: unit.GPM(f(1, 20, "a")), Minutes: f(2, 15, "a min")}, Wash{Need: unit.GPM(f(1, 20, "b")), Minutes: f(2, 15, "b min")}
		both, floor := AtOnce(s, unit.PSI(30), a, b), unit.PSI(30)
		if both.Need.GPM() < math.Max(a.Need.GPM(), b.Need.GPM()) || both.Have.GPM() > s.Available(a.Minutes, floor).GPM()+0.01 || both.Have.GPM() > s.Available(b.Minutes, floor).GPM()+0.01 {
			r.Errorf("both need %s and have %s; alone %s and %s", both.Need, both.Have, a.Need, b.Need)
		}
	})
	for _, tt := range []struct {
		have float64
		want bool
	}{{15.99, false}, {16, true}, {16.01, true}} {
		if got := (Together{unit.GPM(16), unit.GPM(tt.have)}).Allowed(); got != tt.want {
			t.Errorf("16 gpm needed and %g had: allowed %t", tt.have, got)
		}
	}
}

// Contact tanks side by side give the same minutes as in a row, and take an eighth of
// the pressure of two in a row: half the flow through each, squared, and one port
// pair in the place of two (h = k Q²).
func TestContactTanksSideBySide(t *testing.T) {
	g := plain()
	g.peak = 18
	j := g.job(t)
	row := Size{Volume: unit.Gal(80), Tanks: 2}
	abreast := Size{Volume: unit.Gal(80), Tanks: 1, Count: 2, Turn: Abreast}
	a, b := contactMinutes(row, j.Peak, 0.7), contactMinutes(abreast, j.Peak, 0.7)
	if math.Abs(a-6.22) > 0.01 || math.Abs(a-b) > 1e-9 {
		t.Errorf("%g and %g min, want 160 gal x 0.7 / 18 gpm = 6.22 both", a, b)
	}
	if got := contactLoss(j, row).Clean.PSI() / contactLoss(j, abreast).Clean.PSI(); math.Abs(got-8) > 1e-9 {
		t.Errorf("a row takes %g times the pressure, want 8", got)
	}
	if contactBill(row).First[1].Amount != contactBill(abreast).First[1].Amount {
		t.Error("two tanks cost more work one way than the other")
	}
	for _, z := range (contactTank{}).Sizes(j) {
		if l := contactLoss(j, z).Clean.PSI(); l > j.Site.Factors.Of(stageLoss) {
			t.Errorf("%+v takes %g psi in a workplace", z, l)
		}
	}
}

// A branch on raw water draws from the pump while a vessel washes: 22 gpm at the tank
// less 4 leave 18 (water balance). Behind a booster it does not.
func TestRawBranchDrawsBesideAWash(t *testing.T) {
	j := parlour().job(t)
	alone := j.washFlow(Size{}, 10)
	j.Draw.Supply.Raw.Night = unit.GPM(4)
	if with := j.washFlow(Size{}, 10); math.Abs(alone-with-4) > 0.01 {
		t.Errorf("%.2f gpm alone, %.2f beside a branch of 4", alone, with)
	}
	b := boosted(t, j, 12)
	if got := b.besides().GPM(); got != 0 {
		t.Errorf("behind the booster %g gpm are drawn beside a wash, want none: the branch stands ahead of it", got)
	}
}

// The brine of one regeneration: 3 lb to the gallon, 30 gal a tank.
func TestBrineTanks(t *testing.T) {
	for _, tt := range []struct{ salt, want float64 }{{8, 1}, {89.9, 1}, {90, 1}, {90.1, 2}, {180, 2}} {
		if got := brineTanks(tt.salt); got != tt.want {
			t.Errorf("%g lb of salt want %g tanks, got %g", tt.salt, tt.want, got)
		}
	}
}

// What stands by is bought like what serves, on lines of its own: the vessels, resin
// and valves of a twin are those of two singles.
func TestStandbyIsPriced(t *testing.T) {
	j := parlour().job(t)
	m := fillingOf(media.Softener)
	sum := func(z Size, why string) map[media.Part]float64 {
		all := map[media.Part]float64{}
		b := layBed(j, z, m)
		for _, l := range b.softenerBill(b.exchange()).First {
			if why == "" || l.Why == why {
				all[l.Part] += l.Amount
			}
		}
		return all
	}
	twin, single := sum(resin(t, "16 x 65", 2, Twin), ""), sum(resin(t, "16 x 65", 1, InTurn), "")
	idle := sum(resin(t, "16 x 65", 2, Twin), "stands by while the other serves")
	for _, p := range []media.Part{"vessel 16 x 65", media.ResinFt3, media.LargeMeterValve} {
		if twin[p] != 2*single[p] || idle[p] != single[p] {
			t.Errorf("%s: %g in a twin, of which %g stand by; a single has %g", p, twin[p], idle[p], single[p])
		}
	}
}
