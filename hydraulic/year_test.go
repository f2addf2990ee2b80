package hydraulic

import (
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wellwright/source"
	"wellwright/unit"
)

// yearly is a 10 gpm pump with a 44 gal tank in a well of 3 gpm and 60 gal.
func yearly() Supply {
	s := plain()
	s.Tank.Total = unit.Gal(44)
	s.Yield, s.CasingStorage, s.CasingBore = unit.GPM(3), unit.Gal(60), unit.Inches(6)
	return s
}

func gallons(uses []Use, of ...EndUse) float64 {
	sum := 0.0
	for _, u := range uses {
		if len(of) == 0 || slices.Contains(of, u.What) {
			sum += u.Volume().Gal()
		}
	}
	return sum
}

// sampling is the standard deviation of a year's mean daily use: that of a sum
// of Poisson many log-normal volumes.
func sampling(set source.Set, h Household, use EndUse) float64 {
	for i := range habits {
		if habits[i].use == use {
			v := habits[i].volume
			return math.Sqrt(h.MeanUse(set, use).GalPerDay() * v * (1 + habits[i].spread*habits[i].spread) / 365)
		}
	}
	return 0
}

func TestYearHasThePublishedUse(t *testing.T) {
	h := Household{People: StudyPeople.Value}
	total, variance := 0.0, 0.0
	year := h.Year(source.Set{}, 1)
	for use, want := range map[EndUse]float64{Toilet: 33.1, Shower: 28, Faucet: 26, ClothesWasher: 23, Leak: 17, Bath: 4, Dishwasher: 2, OtherUse: 5} {
		s := sampling(source.Set{}, h, use)
		got := gallons(year, use) / 365
		check(t, []row{{use.String() + " gal/day", got, want, 3*s + 1e-6, endUseStudy}})
		total, variance = total+got, variance+s*s
	}
	check(t, []row{{"a year's mean gal/day", total, 138, 3 * math.Sqrt(variance), endUseStudy}})
}

// The older study's regression is another source, with older fixtures.
func TestYearAgainstTheRegression(t *testing.T) {
	for _, people := range []float64{3, 4, 5} {
		h := Household{People: people}
		check(t, []row{{"gal/day", gallons(h.Year(source.Set{}, 7)) / 365, DailyUse(source.Set{}, people).GalPerDay(),
			0.08 * DailyUse(source.Set{}, people).GalPerDay(), mayer}})
	}
	metered := Household{People: 3, Daily: unit.GalPerDay(250)}
	check(t, []row{{"metered house, gal/day", gallons(metered.Year(source.Set{}, 7)) / 365, 250, 6, "the meter; three standard deviations of a year"}})
}

func TestYearHasThePublishedEvents(t *testing.T) {
	h := Household{People: 2}
	count := map[EndUse]float64{}
	for seed := range uint64(3) {
		for _, u := range h.Year(source.Set{}, seed) {
			count[u.What] += 1.0 / (3 * 365 * 2)
		}
	}
	check(t, []row{
		{"flushes for each person and day", count[Toilet], 5.0, 0.6, endUseEvents},
		{"showers", count[Shower], 0.69, 0.08, endUseEvents},
		{"faucet draws", count[Faucet], 20, 2.5, endUseEvents},
		{"loads of clothes", count[ClothesWasher] / 2, 0.30, 0.04, endUseEvents},
		{"baths", count[Bath], 0.07, 0.02, endUseEvents},
		{"loads of dishes", count[Dishwasher] / 3, 0.1, 0.05, endUseEvents + "; the study's 2 gal/day is rounded to a quarter of itself"},
	})
}

func TestYearKeepsTheHours(t *testing.T) {
	year := Household{People: 4}.Year(source.Set{}, 3)
	for _, p := range []struct {
		use     []EndUse
		pattern HourPattern
		table   string
	}{
		{[]EndUse{Toilet, Faucet, OtherUse}, GeneralPattern(), "ANSI/RESNET/ICC 301-2022 Addendum C, general water use"},
		{[]EndUse{Shower, Bath}, HotWaterPattern(), "ANSI/RESNET/ICC 301-2022 Addendum C, hot-water fixtures"},
		{[]EndUse{Dishwasher}, DishwasherPattern(), "ANSI/RESNET/ICC 301-2022 Addendum C, dishwasher"},
		{[]EndUse{ClothesWasher}, WasherPattern(), "ANSI/RESNET/ICC 301-2022 Addendum C, clothes washer"},
	} {
		var count [24]float64
		n, last := 0.0, map[EndUse]time.Duration{}
		for _, u := range year {
			// Only the first fill of a load keeps the table's hour.
			if !slices.Contains(p.use, u.What) || later(u, last) {
				continue
			}
			count[int(u.Start.Hours())%24]++
			n++
		}
		for hour, want := range p.pattern {
			check(t, []row{{p.table, count[hour] / n, want, 4*math.Sqrt(want/n) + 0.002, p.table}})
		}
	}
}

// later reports whether a use is a later fill of the machine's last load.
func later(u Use, last map[EndUse]time.Duration) bool {
	fills := map[EndUse]time.Duration{ClothesWasher: 1, Dishwasher: 2}[u.What]
	if fills == 0 {
		return false
	}
	if first, ok := last[u.What]; ok && u.Start-first <= fills*25*time.Minute {
		return true
	}
	last[u.What] = u.Start
	return false
}

func TestSameSeedSameYear(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		h := Household{People: rapid.Float64Range(0, 8).Draw(r, "people")}
		seed := rapid.Uint64().Draw(r, "seed")
		a, b := h.Days(source.Set{}, seed, 20), h.Days(source.Set{}, seed, 20)
		if !slices.Equal(a, b) {
			r.Fatal("one seed gave two records")
		}
		if slices.Equal(a, h.Days(source.Set{}, seed+1, 20)) && h.People > 1 {
			r.Fatal("two seeds gave one record")
		}
		for i, u := range a {
			if u.Long <= 0 || u.Flow.GPM() <= 0 || u.End() > 20*day || i > 0 && u.Start < a[i-1].Start {
				r.Fatalf("use %d: %+v", i, u)
			}
		}
	})
}

func TestMorePeopleUseMore(t *testing.T) {
	last := 0.0
	for people := 0.0; people <= 8; people++ {
		h := Household{People: people}
		used := gallons(h.Year(source.Set{}, 11))
		if used <= last || h.MeanDay(source.Set{}).GalPerDay()*365 < last {
			t.Errorf("%g people used %g gal in a year, one less %g", people, used, last)
		}
		last = used
	}
}

// finely steps a supply through uses as built, a second method for Follow.
func finely(s Supply, uses []Use, span time.Duration, asked float64) (starts int, short, pumped, lowest float64) {
	const dt = 0.002
	water, drawn, on, next := s.Tank.water(s.CutOut.PSI()), 0.0, false, 0
	lowest = math.Inf(1)
	var running []Use
	for i := range int(span.Minutes() / dt) {
		now := float64(i) * dt
		running = slices.DeleteFunc(running, func(u Use) bool { return u.End().Minutes() <= now })
		for ; next < len(uses) && uses[next].Start.Minutes() <= now; next++ {
			running = append(running, uses[next])
		}
		need, wanted := 0.0, false
		for _, u := range running {
			need, wanted = need+u.Flow.GPM(), wanted || u.What != Leak
		}
		pre, pa := s.Tank.Precharge.PSI(), s.Tank.atmosphere()
		p := (pre+pa)*s.Tank.Total.Gal()/(s.Tank.Total.Gal()-water) - pa
		was := on
		on = on && p < s.CutOut.PSI() || p <= s.CutIn.PSI()
		if on && !was {
			starts++
		}
		q := 0.0
		if on {
			depth := drawn / CasingVolumePerFoot(s.CasingBore).Gal() * unit.FtWater(1).PSI()
			if water <= 0.02 { // what one step moves
				p = s.Pump.PressureAt(unit.GPM(need), unit.PSI(depth), unit.PSI(depth+pre)).PSI() - depth
			}
			q = min(s.Pump.FlowAt(unit.PSI(p+depth)).GPM(), (s.CasingStorage.Gal()-drawn)/dt+s.Yield.GPM())
		}
		if wanted {
			lowest = min(lowest, p)
			if p < asked {
				short += dt
			}
		}
		pumped += q * dt
		water = max(0, water+(q-need)*dt)
		drawn = max(0, drawn+(q-s.Yield.GPM())*dt)
	}
	return starts, short, pumped, lowest
}

func TestFollowAgainstFineSteps(t *testing.T) {
	for seed := range uint64(4) {
		s := yearly()
		s.Pump = s.Pump.Scaled(0.3 + 0.15*float64(seed)) // 3 to 7.5 gpm: often short
		uses := Household{People: 6}.Days(source.Set{}, seed, 3)
		for _, asked := range []float64{30, 40, 45} {
			got := s.Follow(uses, 3*day, unit.PSI(asked), 0)
			starts, short, pumped, lowest := finely(s, uses, 3*day, asked)
			const by = "self: Euler steps of 0.002 min"
			check(t, []row{
				{"starts", float64(got.Starts), float64(starts), 1, by},
				{"minutes short", got.Short.Minutes(), short, 0.03*short + 0.5, by},
				{"pumped gal", got.Pumped.Gal(), pumped, 0.005*pumped + 0.2, by},
				{"lowest psi", got.Lowest.PSI(), lowest, 1, by},
			})
		}
	}
}

func TestFollowBySteadyUse(t *testing.T) {
	s := plain()
	s.Pump = s.Pump.Throttled(unit.GPM(6)) // the pump gives 6 gpm from 40 to 60 psi
	drawdown := s.Tank.Drawdown(s.CutIn, s.CutOut)
	steady := []Use{{What: OtherUse, Long: 100 * time.Hour, Flow: unit.GPM(2.5)}}
	rec := s.Follow(steady, 100*time.Hour, unit.PSI(40), 0)
	few := s
	few.Pump = s.Pump.Throttled(unit.GPM(1))
	low := few.Follow(steady, 10*time.Hour, unit.PSI(38), 0)
	until := drawdown.Gal()/2.5 + s.Tank.Drawdown(unit.PSI(38), unit.PSI(40)).Gal()/1.5
	check(t, []row{
		{"starts in 100 h", float64(rec.Starts), 100 * StartsPerHour(unit.GPM(2.5), unit.GPM(6), drawdown), 1, "f = Q (1 - Q/P)/V"},
		{"hours of running", rec.Running.Hours(), 100 * 2.5 / 6, 0.1, "share of time = use over pump"},
		{"lowest", rec.Lowest.PSI(), 40, 1e-6, "cut-in"},
		{"short", rec.Short.Minutes(), 0, 0, "the pump is stronger than the use"},
		{"short of 1.5 gpm", low.Short.Minutes(), 600 - until, 0.01, "the tank's water over what the pump lacks, by hand"},
		{"unmet", low.Unmet.Gal(), 1.5 * (600 - until), 0.02, "1.5 gpm once the tank is empty at its charge of 38 psi"},
		{"spells", float64(low.ShortSpells), 1, 0, "it never comes back"},
	})
}

func TestFollowKeepsTheBalance(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := drawSupply(r)
		h := Household{People: rapid.Float64Range(1, 8).Draw(r, "people")}
		uses := h.Days(source.Set{}, rapid.Uint64().Draw(r, "seed"), 5)
		rec := s.Follow(uses, 5*day, unit.PSI(rapid.Float64Range(0, 70).Draw(r, "asked")), 0)
		asked := gallons(uses) + s.HouseDraw.GPM()*5*1440
		if off := rec.Pumped.Gal() - rec.Delivered.Gal() - rec.TankChange.Gal(); math.Abs(off) > 1e-6*asked+1e-6 {
			r.Fatalf("pumped %v, delivered %v, tank %v: %g gal off", rec.Pumped, rec.Delivered, rec.TankChange, off)
		}
		if off := rec.Delivered.Gal() + rec.Unmet.Gal() - asked; math.Abs(off) > 1e-6*asked+1e-9 {
			r.Fatalf("asked %g gal, delivered %v, unmet %v", asked, rec.Delivered, rec.Unmet)
		}
		if most := s.Yield.GPM()*5*1440 + s.CasingStorage.Gal(); rec.Pumped.Gal() > most+1e-6*most+1e-9 {
			r.Fatalf("pumped %v of %g gal that the well had", rec.Pumped, most)
		}
		if rec.Deepest.Gal() > s.CasingStorage.Gal()+1e-9 || rec.Short > 5*day || rec.Running > 5*day+time.Second {
			r.Fatalf("%+v", rec)
		}
	})
}

// With no tank to lend, a stronger pump in a strong well never leaves the house
// short for longer.
func TestStrongerPumpIsNotShorter(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := drawSupply(r)
		s.Yield, s.CasingBore, s.Tank = unit.GPM(500), unit.Length{}, PressureTank{}
		strong := s
		strong.Pump = s.Pump.Scaled(rapid.Float64Range(1, 3).Draw(r, "stronger"))
		uses := Household{People: rapid.Float64Range(1, 8).Draw(r, "people")}.Days(source.Set{}, rapid.Uint64().Draw(r, "seed"), 10)
		floor := unit.PSI(rapid.Float64Range(10, s.CutIn.PSI()).Draw(r, "asked"))
		a, b := s.Follow(uses, 10*day, floor, 0), strong.Follow(uses, 10*day, floor, 0)
		if b.Short.Minutes() > a.Short.Minutes()+1e-6 || b.Unmet.Gal() > a.Unmet.Gal()+1e-6 {
			r.Fatalf("short for %v, unmet %v with the weak pump, %v, %v with the strong one", a.Short, a.Unmet, b.Short, b.Unmet)
		}
	})
}

// With a tank a strong pump may by chance have just stopped where a weak one is
// still at work on a half full tank: only a long record shows the order.
func TestStrongerPumpIsNotShorterInAYear(t *testing.T) {
	uses := Household{People: 4}.Year(source.Set{}, 5)
	last := math.Inf(1)
	for _, f := range []float64{0.2, 0.3, 0.5, 0.8, 1.2, 2} {
		s := plain()
		s.Pump = s.Pump.Scaled(f)
		short := s.Follow(uses, 365*day, unit.PSI(40), 0).Short.Minutes()
		if short > last {
			t.Errorf("a pump of %g gpm is short for %g min in a year, a weaker one %g", 10*f, short, last)
		}
		last = short
	}
}

func TestNightOfWashes(t *testing.T) {
	s := plain()
	s.Tank = PressureTank{}
	s.Yield, s.CasingStorage, s.CasingBore = unit.GPM(2), unit.Gal(60), unit.Inches(6)
	two := 2 * time.Hour
	wash := func(at time.Duration, gpm float64) Use {
		return Use{What: Wash, Start: at, Long: 10 * time.Minute, Flow: unit.GPM(gpm)}
	}
	one := s.Night([]Use{wash(two, 7)}, unit.PSI(30))
	pair := s.Night([]Use{wash(two, 7), wash(two+20*time.Minute, 7)}, unit.PSI(30))
	const balance = "water balance by hand"
	check(t, []row{
		{"deepest", one.Deepest.Gal(), 50, 1e-6, "10 min at 7 gpm less 2 gpm"},
		{"recovered", one.Recovered.Minutes(), 120 + 10 + 50.0/2, 1e-6, balance},
		{"storage after 4 min", one.Minutes[123].Storage.Gal(), 60 - 20, 1e-6, balance},
		{"level after 10 min, ft", one.Minutes[129].LevelDrop.Ft(), 50 / 1.469, 0.01, "1.469 gal/ft of 6 in casing"},
		{"minutes told", float64(len(one.Minutes)), 156, 0, "to the minute after recovery"},
		{"second wash of two", pair.Unmet.Gal(), 20, 1e-6, "30 gal left and 20 gal of yield for 70 gal"},
		{"both recovered", pair.Recovered.Minutes(), 120 + 30 + 60.0/2, 1e-6, balance},
		{"dry", pair.Dry.Minutes(), 10 - 30/5.0, 1e-6, "30 gal at 5 gpm net last 6 min"},
	})
	s.Yield, s.HouseDraw = unit.GPM(3), unit.GPM(0.5)
	house := s.Night([]Use{{What: Wash, Start: two, Long: 10 * time.Minute, Flow: unit.GPM(5.8)}}, unit.PSI(30))
	alone, _ := Recovery(unit.Gal(33), unit.GPM(3), unit.GPM(0.5))
	check(t, []row{{"33 gal with the house drawing", (house.Recovered - two).Minutes() - 10, alone.Minutes(), 0.01, "33 gal over 2.5 gpm"}})
	s.Yield = unit.GPM(0.4)
	if never := s.Night([]Use{wash(two, 7)}, unit.PSI(30)); never.Full || never.Unmet.Gal() <= 0 {
		t.Errorf("a well of 0.4 gpm cannot make good what a house of 0.5 gpm draws: %v, unmet %v", never.Full, never.Unmet)
	}
}

// A year of draw events and the states of tank, pump and casing through it.
func BenchmarkYear(b *testing.B) {
	s, h := yearly(), Household{People: 4}
	b.ReportAllocs()
	for b.Loop() {
		s.Follow(h.Year(source.Set{}, 1), 365*day, unit.PSI(30), 0)
	}
}
