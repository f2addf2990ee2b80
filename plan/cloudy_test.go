package plan_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"wellwright/cloud"
	"wellwright/plan"
	"wellwright/unit"
)

// cloudy is a desk that believes n waters and supplies about the middle of its
// own, each input wrong by a usual error of its measurement. They test what is
// made of a cloud, not the cloud: the errors are common practice.
func cloudy(d *plan.Desk, n int) *plan.Desk {
	r := rand.New(rand.NewPCG(7, 11))
	c := d.Cloud
	middle := c.Middle()
	c.Draws, c.Spread = make([]cloud.Draw, n), nil
	for i := range c.Draws {
		c.Draws[i] = jittered(r, middle)
		c.Draws[i].Weight = 1 / float64(n)
	}
	c.Draws[0].Water, c.Draws[0].Supply, c.Draws[0].Name = middle.Water, middle.Supply, cloud.Middle
	for i := range 20 {
		x := c.Draws[i*n/20]
		x.Weight = 1.0 / 20
		c.Spread = append(c.Spread, x)
	}
	c.Quality = cloud.Quality{Asked: n, Effective: float64(n), Distinct: n}
	return d.Believing(c)
}

// jittered is a water and supply near another.
func jittered(r *rand.Rand, d cloud.Draw) cloud.Draw {
	times := func(share float64) float64 { return math.Exp(share * r.NormFloat64()) }
	d.Name = "draw"
	w, s := &d.Water, &d.Supply
	iron := times(0.15)
	w.Ferrous = unit.MgPerL(w.Ferrous.MgPerL() * iron * times(0.1))
	w.Particulate = unit.MgPerL(w.Particulate.MgPerL() * iron * times(0.3))
	w.Bound = unit.MgPerL(w.Bound.MgPerL() * iron * times(0.3))
	w.Manganese = unit.MgPerL(w.Manganese.MgPerL() * times(0.2))
	w.PH = unit.PHOf(w.PH.Value() + 0.2*r.NormFloat64())
	w.Sulfide = unit.MgPerLAsH2S(w.Sulfide.MgPerLAsH2S() * times(0.3))
	w.OrganicCarbon = unit.MgPerL(w.OrganicCarbon.MgPerL() * times(0.3))
	w.Ammonia = unit.MgPerLAsN(w.Ammonia.MgPerLAsN() * times(0.2))
	s.Hydraulic.Pump = s.Hydraulic.Pump.Scaled(times(0.1))
	s.Hydraulic.Yield = unit.GPM(s.Hydraulic.Yield.GPM() * times(0.15))
	s.Peak = unit.GPM(s.Peak.GPM() * times(0.15))
	s.Daily = unit.GalPerDay(s.Daily.GalPerDay() * times(0.2))
	return d
}

// alike is a desk that believes only its middle water, n times over.
func alike(d *plan.Desk, n int) *plan.Desk {
	c := d.Cloud
	one := c.Middle()
	one.Weight = 1
	c.Spread = []cloud.Draw{one}
	one.Weight = 1 / float64(n)
	c.Draws = slices.Repeat([]cloud.Draw{one}, n)
	c.Quality = cloud.Quality{Asked: n, Effective: float64(n), Distinct: n}
	return d.Believing(c)
}

func written(t testing.TB, a plan.Answer) string {
	t.Helper()
	text, err := json.MarshalIndent(a, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// By definition: a share of waters that are all one water is none or all of it,
// and more copies of a water change nothing but how many there are.
func TestOneWaterManyTimesOver(t *testing.T) {
	for _, well := range []string{"a", "c", "i"} {
		d := reference(t, well)
		few, many := answered(t, alike(d, 10)), answered(t, alike(d, 300))
		for k := range many.Options {
			o := &many.Options[k]
			if p := o.MeetsProbability; p == nil || *p != 0 && *p != 1 || *o.MeetsError != 0 {
				t.Errorf("%s: %v meets every limit in a share %v of one water", well, o.Train, p)
			}
			if k < len(few.Options) {
				few.Options[k].Carried = o.Carried
			}
		}
		few.Quality = many.Quality
		if a, b := written(t, few), written(t, many); a != b {
			t.Errorf("%s: more copies of one water change the answer:\n%s", well, firstDifference(a, b))
		}
	}
}

// firstDifference is where two texts part.
func firstDifference(a, b string) string {
	n := 0
	for n < min(len(a), len(b)) && a[n] == b[n] {
		n++
	}
	from := max(0, n-200)
	return a[from:min(len(a), n+80)] + "\n--- or ---\n" + b[from:min(len(b), n+80)]
}

// The same bits on one processor and on several.
func TestProcessorsDoNotMatter(t *testing.T) {
	d := cloudy(reference(t, "c"), 300)
	was := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(was)
	one := written(t, answered(t, d))
	for _, n := range []int{2, 4} {
		runtime.GOMAXPROCS(n)
		if many := written(t, answered(t, d)); many != one {
			t.Errorf("%d processors: %s", n, firstDifference(one, many))
		}
	}
}

// A share of waters lies between 0 and 1, its error is that of a count, a limit
// is met at least as often as all of them, and no regret is below zero: all by
// definition.
func TestSharesOfWaters(t *testing.T) {
	for _, well := range []string{"a", "e", "f"} {
		const n = 400
		for _, o := range answered(t, cloudy(reference(t, well), n)).Options {
			p := *o.MeetsProbability
			if want := math.Sqrt(p * (1 - p) / float64(o.Carried)); p < 0 || p > 1 || math.Abs(*o.MeetsError-want) > 1e-12 {
				t.Errorf("%s: %v: share %g with error %g, want %g", well, o.Train, p, *o.MeetsError, want)
			}
			for _, l := range o.LimitsMet {
				if l.Probability < p-1e-12 || l.Probability >= 1 {
					t.Errorf("%s: %v: %s is met in a share %g, all limits in %g", well, o.Train, l.Limit, l.Probability, p)
				}
			}
			if *o.Regret < -1e-9 {
				t.Errorf("%s: %v: regret %g", well, o.Train, *o.Regret)
			}
			for _, s := range o.Stages {
				for leaf, r := range s.WaterOut {
					if !(r.P05 <= r.P50 && r.P50 <= r.P95) {
						t.Errorf("%s: %s behind %s runs %v", well, leaf, s.Process, r)
					}
				}
			}
		}
	}
}

// A first answer says that it is one, and is made of fewer waters; on inputs as
// they are it leads with the same way of treating as the full one.
func TestFirstAnswers(t *testing.T) {
	for _, well := range []string{"a", "c"} {
		d := reference(t, well)
		full := answered(t, d)
		first, err := d.With(nil).Coarse()
		if err != nil {
			t.Fatal(err)
		}
		if !first.Quality.Coarse || first.Quality.Asked != 200 || full.Quality.Coarse {
			t.Errorf("%s: the first answer's quality is %v, the full one's %v", well, first.Quality, full.Quality)
		}
		if got, want := core(first.Options[0].Train, "carbon-filter"), core(full.Options[0].Train, "carbon-filter"); got != want {
			t.Errorf("%s: first %s, then %s", well, got, want)
		}
	}
}

// A change moves every plausible water, by definition in proportion: twice the
// people use twice the water.
func TestPeopleUseWater(t *testing.T) {
	d := reference(t, "a")
	cs, bad := plan.ParseChanges([]string{"people=8", "nitrate=4", "arsenic=0.02"})
	if len(bad) > 0 {
		t.Fatal(bad)
	}
	e := d.With(cs)
	was, is := d.Cloud.Middle(), e.Cloud.Middle()
	share := 8 / float64(d.Present.House.People)
	for i := range d.Cloud.Draws {
		if got, want := e.Cloud.Draws[i].Supply.Daily.GalPerDay(), d.Cloud.Draws[i].Supply.Daily.GalPerDay()*share; math.Abs(got-want) > 1e-9*want {
			t.Fatalf("draw %d uses %g gal a day, want %g", i, got, want)
		}
	}
	if is.Water.Nitrate.MgPerLAsN() != 4 || math.Abs(is.Water.Arsenic.MgPerL()-0.02) > 1e-12 {
		t.Errorf("nitrate %v and arsenic %v, want 4 and 0.02 (were %v, %v)", is.Water.Nitrate, is.Water.Arsenic, was.Water.Nitrate, was.Water.Arsenic)
	}
}
