package hydraulic

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wellwright/unit"
)

// plain is a pump of 10 gpm at 45 psi on a 40/60 switch with an 86 gal tank in
// a strong well.
func plain() Supply {
	p, err := PumpFromMeasurements([]PumpPoint{{unit.GPM(10), unit.PSI(45)}})
	if err != nil {
		panic(err)
	}
	return Supply{
		Pump: p, CutIn: unit.PSI(40), CutOut: unit.PSI(60),
		Tank:  PressureTank{Total: unit.Gal(86), Precharge: unit.PSI(38)},
		Yield: unit.GPM(50), CasingStorage: unit.Gal(150),
	}
}

func TestAvailableLimits(t *testing.T) {
	noTank := plain()
	noTank.Tank = PressureTank{}
	long := plain()
	weakWell := noTank
	weakWell.Yield, weakWell.CasingStorage = unit.GPM(1), unit.Gal(20)
	dry := noTank
	dry.Yield, dry.CasingStorage = unit.GPM(0), unit.Gal(30)
	withHouse := noTank
	withHouse.HouseDraw = unit.GPM(3)
	throttled := noTank
	throttled.Pump = throttled.Pump.Throttled(unit.GPM(3))
	throttled.Yield, throttled.CasingStorage = unit.GPM(3), unit.Gal(33)
	lend := plain()
	lend.Pump = PumpAtTank{}
	at := func(s Supply, min, psi float64) float64 { return s.Available(min, unit.PSI(psi)).GPM() }
	check(t, []row{
		{"no tank, strong well, measured pressure", at(noTank, 10, 45), 10, 1e-3, "the measured flow at the measured pressure"},
		{"a very long draw", at(long, 2000, 30), long.Pump.FlowAt(unit.PSI(30)).GPM(), 0.02, "the tank's share goes to nothing"},
		{"weak well, ten minutes", at(weakWell, 10, 30), 20.0/10 + 1, 1e-3, "storage over time plus yield"},
		{"weak well, hundred minutes", at(weakWell, 100, 30), 20.0/100 + 1, 1e-3, "storage over time plus yield"},
		{"well that gives nothing", at(dry, 10, 30), 3, 1e-3, "storage over time"},
		{"house draws 3 gpm", at(withHouse, 10, 45), 7, 1e-3, "measured flow less the house"},
		{"flow control of 3 gpm", at(throttled, 10, 30), 3, 1e-3, "33 gal + 30 gal stand ready but the pump moves 3 gpm"},
		{"no pump, tank only", at(lend, 5, 40), lend.Tank.Drawdown(unit.PSI(40), unit.PSI(60)).Gal() / 5, 1e-3, "drawdown over time"},
		{"no time", at(plain(), 0, 40), 0, 0, "nothing asked"},
		{"pressure the pump cannot reach", at(noTank, 10, 100), 0, 1e-6, "above shut-off"},
	})
}

func TestTankLends(t *testing.T) {
	s := plain()
	ten := s.Available(10, unit.PSI(40)).GPM()
	// By hand: the tank falls from 60 to 40 psi in its first minutes and lends
	// 22.1 gal; the pump, started at cut-in, gives 10.6 gpm. A draw of Q has the
	// pump off for 22.1/Q min and must then be no more than the pump's flow.
	check(t, []row{
		{"flow held at cut-in", ten, s.Pump.FlowAt(unit.PSI(40)).GPM(), 0.01, "at cut-in the pump alone must carry the draw"},
		{"down to 30 psi", s.Available(10, unit.PSI(30)).GPM(), s.Pump.FlowAt(unit.PSI(30)).GPM(), 0.4, "between cut-in and 30 psi the charge of 38 psi leaves only little to lend"},
	})
	low := s
	low.Yield, low.CasingStorage = unit.GPM(3), unit.Gal(0)
	lent := s.Tank.Drawdown(unit.PSI(40), unit.PSI(60)).Gal()
	check(t, []row{
		// 3 gpm of yield for the time the pump runs; lent/Q minutes it does not.
		{"a pre-charged tank before a weak well", low.Available(10, unit.PSI(40)).GPM(), 3, 0.02, "after the tank is down the well alone carries the draw"},
	})
	if lent < 20 {
		t.Fatalf("drawdown of the tank %g gal", lent)
	}
	start := s.Available(2, unit.PSI(40)).GPM()
	cold := Simulate(s, Draw{Minutes: 2, MinPressure: unit.PSI(40), AtCutIn: true}).Available.GPM()
	if start <= cold {
		t.Errorf("a full tank must help a short draw: %g gpm full, %g gpm at cut-in", start, cold)
	}
}

func TestSimulateTellsWhatFails(t *testing.T) {
	s := plain()
	s.Tank = PressureTank{}
	ok := Simulate(s, Draw{Flow: unit.GPM(8), Minutes: 10, MinPressure: unit.PSI(40)})
	if !ok.Delivered || ok.Short != ShortPump || ok.Lasted != 10 || len(ok.Minutes) != 10 {
		t.Errorf("8 gpm from a 10 gpm pump: %+v", ok)
	}
	if p := ok.Minutes[9].Pressure.PSI(); p < 53 || p > 60 {
		t.Errorf("8 gpm runs at %g psi, want about 58: (8/10)2 = (86.7-p)/41.7", p)
	}
	over := Simulate(s, Draw{Flow: unit.GPM(12), Minutes: 10, MinPressure: unit.PSI(40)})
	if over.Delivered || over.Short != ShortPump || over.Lasted != 0 {
		t.Errorf("12 gpm from a 10 gpm pump: delivered %v, short %v, lasted %g", over.Delivered, over.Short, over.Lasted)
	}
	s.Yield, s.CasingStorage, s.CasingBore = unit.GPM(1), unit.Gal(35), unit.Inches(6)
	dry := Simulate(s, Draw{Flow: unit.GPM(8), Minutes: 10, MinPressure: unit.PSI(40)})
	if dry.Delivered || dry.Short != ShortWell || math.Abs(dry.Lasted-5) > 0.3 {
		t.Errorf("35 gal at 7 gpm net last 5 min: delivered %v, short %v, lasted %g", dry.Delivered, dry.Short, dry.Lasted)
	}
	if drop := dry.Minutes[3].LevelDrop.Ft(); math.Abs(drop-28/1.469) > 0.1 {
		t.Errorf("after 4 min the level fell %g ft, want 28 gal over 1.469 gal/ft", drop)
	}
	if !Simulate(s, Draw{Flow: unit.GPM(1), Minutes: 1, MinPressure: unit.PSI(45)}).SwitchLow {
		t.Error("45 psi asked of a 40/60 switch was not remarked")
	}
}

// drawPump draws a pump that is stronger by a factor in flow.
func drawPump(r *rapid.T, stronger float64) PumpAtTank {
	q := rapid.Float64Range(2, 20).Draw(r, "gpm")
	p := rapid.Float64Range(20, 60).Draw(r, "at psi")
	pts := []PumpPoint{{unit.GPM(q * stronger), unit.PSI(p)}}
	for range rapid.IntRange(0, 3).Draw(r, "more points") {
		q *= rapid.Float64Range(0.5, 1).Draw(r, "less")
		p += rapid.Float64Range(2, 15).Draw(r, "more psi")
		pts = append(pts, PumpPoint{unit.GPM(q * stronger), unit.PSI(p)})
	}
	pump, err := PumpFromMeasurements(pts)
	if err != nil {
		r.Fatal(err)
	}
	return pump
}

func drawSupply(r *rapid.T) Supply {
	in := rapid.Float64Range(20, 45).Draw(r, "cut-in")
	s := Supply{
		Pump: drawPump(r, 1), CutIn: unit.PSI(in), CutOut: unit.PSI(in + 20),
		Tank: PressureTank{
			Total:     unit.Gal(rapid.SampledFrom([]float64{0, 5, 20, 44, 86, 119}).Draw(r, "tank")),
			Precharge: unit.PSI(rapid.Float64Range(0, in).Draw(r, "charge")),
		},
		Yield:         unit.GPM(rapid.Float64Range(0, 15).Draw(r, "yield")),
		CasingStorage: unit.Gal(rapid.Float64Range(0, 200).Draw(r, "storage")),
		HouseDraw:     unit.GPM(rapid.Float64Range(0, 2).Draw(r, "house")),
	}
	if rapid.Bool().Draw(r, "bore known") {
		s.CasingBore = unit.Inches(rapid.SampledFrom([]float64{4, 5, 6, 8}).Draw(r, "bore"))
	}
	return s
}

func TestMoreNeverGivesLess(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := drawSupply(r)
		minutes := rapid.Float64Range(0.5, 40).Draw(r, "minutes")
		psi := unit.PSI(rapid.Float64Range(10, 55).Draw(r, "psi"))
		base := s.Available(minutes, psi).GPM()
		more := map[string]Supply{}
		a := s
		for i := range a.Pump.points {
			a.Pump.points = append([]tankPoint(nil), a.Pump.points...)
			a.Pump.points[i].q *= 1.3
		}
		a.Pump.before.k /= 1.69
		a.Pump.after.k /= 1.69
		more["pump"] = a
		b := s
		b.Yield = unit.GPM(s.Yield.GPM() + 2)
		more["yield"] = b
		c := s
		c.CasingStorage = unit.Gal(s.CasingStorage.Gal() + 25)
		more["storage"] = c
		for what, m := range more {
			if got := m.Available(minutes, psi).GPM(); got < base-0.02 {
				r.Fatalf("more %s gives less: %g gpm, before %g gpm", what, got, base)
			}
		}
		if longer := s.Available(minutes*1.5, psi).GPM(); longer > base+0.02 {
			r.Fatalf("a longer draw gives more: %g gpm, before %g gpm", longer, base)
		}
		if higher := s.Available(minutes, unit.PSI(psi.PSI()+3)).GPM(); higher > base+0.02 {
			r.Fatalf("a higher pressure gives more: %g gpm, before %g gpm", higher, base)
		}
	})
}

func TestAvailableIsDeliveredAndBalanced(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := drawSupply(r)
		d := Draw{Minutes: float64(rapid.IntRange(1, 30).Draw(r, "minutes")), MinPressure: unit.PSI(rapid.Float64Range(10, 40).Draw(r, "psi"))}
		most := s.Available(d.Minutes, d.MinPressure)
		d.Flow = unit.GPM(max(0, most.GPM()*0.99-0.02))
		run := Simulate(s, d)
		if most.GPM() > 0.01 && !run.Delivered {
			r.Fatalf("%v is said to be available but is not delivered", most)
		}
		over := d
		over.Flow = unit.GPM(most.GPM()*1.01 + 0.02)
		if Simulate(s, over).Delivered {
			r.Fatalf("more than the available %v is delivered", most)
		}
		for _, m := range run.Minutes {
			used := s.CasingStorage.Gal() - m.Storage.Gal()
			if m.Storage.Gal() < -1e-9 || m.TankWater.Gal() < -1e-9 || used < -1e-9 {
				r.Fatalf("water from nowhere: %+v", m)
			}
			out := (d.Flow.GPM() + s.HouseDraw.GPM()) * m.At
			in := used + s.Yield.GPM()*m.At + s.Tank.Water(unit.PSI(math.Max(s.CutOut.PSI(), d.MinPressure.PSI()))).Gal() - m.TankWater.Gal()
			if out > in*1.001+0.2 && run.Delivered {
				r.Fatalf("drew %g gal by minute %g, only %g gal came in", out, m.At, in)
			}
		}
	})
}

// asBuilt carries a draw through a tank and a switch that really cycles, in
// steps of a second: another program for the same supply. It returns the least
// pressure met.
func asBuilt(s Supply, draw, minutes float64) float64 {
	const dt = 1.0 / 60
	water, drawn, on, least := s.Tank.Water(s.CutOut).Gal(), 0.0, false, s.CutOut.PSI()
	k := (s.Tank.Precharge.PSI() + 14.7) * s.Tank.Total.Gal()
	for at := 0.0; at < minutes; at += dt {
		p := k/(s.Tank.Total.Gal()-water) - 14.7
		least = math.Min(least, p)
		on = on && p < s.CutOut.PSI() || p <= s.CutIn.PSI()
		q := 0.0
		if on {
			depth := drawn / CasingVolumePerFoot(s.CasingBore).Gal() * unit.FtWater(1).PSI()
			q = math.Min(s.Pump.FlowAt(unit.PSI(p+depth)).GPM(), (s.CasingStorage.Gal()-drawn)/dt+s.Yield.GPM())
		}
		water = math.Max(0, water+(q-draw-s.HouseDraw.GPM())*dt)
		drawn = math.Max(0, drawn+(q-s.Yield.GPM())*dt)
	}
	return least
}

func TestAvailableHoldsWithARealSwitch(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := drawSupply(r)
		s.CasingBore = unit.Inches(6)
		s.Tank = PressureTank{Total: unit.Gal(rapid.Float64Range(20, 119).Draw(r, "gal")), Precharge: unit.PSI(s.CutIn.PSI() - 2)}
		minutes := rapid.Float64Range(3, 30).Draw(r, "long")
		floor := s.CutIn.PSI() - 1 // above the air charge, where the tank has water
		most := s.Available(minutes, unit.PSI(floor)).GPM()
		if least := asBuilt(s, 0.97*most-0.02, minutes); most > 0.1 && least < floor-0.5 {
			r.Fatalf("%g gpm was said to hold %g psi; a real switch fell to %g", most, floor, least)
		}
	})
}

func TestStepsAreFineEnough(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := drawSupply(r)
		d := Draw{Minutes: rapid.Float64Range(1, 60).Draw(r, "long"), MinPressure: unit.PSI(rapid.Float64Range(10, 45).Draw(r, "psi"))}
		coarse, fine := newMachine(&s, d), newMachine(&s, d)
		fine.step /= 20
		a, b := coarse.available(), fine.available()
		if math.Abs(a-b) > 0.02*b+0.06 {
			r.Fatalf("%g gpm in steps of %g min, %g gpm in a twentieth of it", a, coarse.step, b)
		}
	})
}

func TestSeriesOfDraws(t *testing.T) {
	s := plain()
	s.Tank = PressureTank{}
	s.Yield, s.CasingStorage = unit.GPM(2), unit.Gal(60)
	wash := Draw{Flow: unit.GPM(7), Minutes: 10, MinPressure: unit.PSI(30)}
	at := func(rest time.Duration) []float64 {
		var out []float64
		for _, r := range SimulateSeries(s, []Draw{wash, wash}, rest) {
			out = append(out, r.Available.GPM())
		}
		return out
	}
	const balance = "storage left over ten minutes plus yield"
	none, hour, half := at(0), at(time.Hour), at(10*time.Minute)
	check(t, []row{
		{"first", none[0], 60.0/10 + 2, 0.01, balance}, {"second at once", none[1], 10.0/10 + 2, 0.01, balance},
		{"second after ten minutes", half[1], 30.0/10 + 2, 0.01, balance}, {"second after an hour", hour[1], 8, 0.01, balance},
	})
	runs := SimulateSeries(s, []Draw{wash, wash}, 0)
	if !runs[0].Delivered || runs[1].Delivered || runs[1].Short != ShortWell {
		t.Errorf("two washes at once: %v %v %v", runs[0].Delivered, runs[1].Delivered, runs[1].Short)
	}
}

func BenchmarkSimulate(b *testing.B) {
	s := plain()
	s.Yield, s.CasingStorage, s.CasingBore = unit.GPM(4), unit.Gal(60), unit.Inches(6)
	d := Draw{Flow: unit.GPM(9), Minutes: 10, MinPressure: unit.PSI(30)}
	b.ReportAllocs()
	for b.Loop() {
		Simulate(s, d)
	}
}

func BenchmarkAvailable(b *testing.B) {
	s := plain()
	s.Yield, s.CasingStorage, s.CasingBore = unit.GPM(4), unit.Gal(60), unit.Inches(6)
	b.ReportAllocs()
	for b.Loop() {
		s.Available(10, unit.PSI(30))
	}
}

// Without a tank the worst moment of a draw tells what the walk through all its
// steps tells: the second method is the walk.
func TestWithoutATankTheWorstMomentTells(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := drawSupply(r)
		s.Tank = PressureTank{}
		m := newMachine(&s, Draw{Minutes: rapid.Float64Range(0.5, 60).Draw(r, "minutes"), MinPressure: unit.PSI(rapid.Float64Range(5, 55).Draw(r, "psi"))})
		m.drawn = rapid.Float64Range(0, m.storage).Draw(r, "gone")
		draw := rapid.Float64Range(0, 20).Draw(r, "draw")
		if got, want := m.bears(draw), m.run(draw, nil).ok; got != want && m.bears(draw*(1-1e-6)) == m.bears(draw*(1+1e-6)) {
			r.Fatalf("%g gpm: %v by the worst moment, %v by the walk", draw, got, want)
		}
	})
}

func TestSameSupply(t *testing.T) {
	s := plain()
	if c := s; !s.Same(c) {
		t.Error("a supply is not the same as its copy")
	}
	for what, change := range map[string]func(*Supply){
		"cut-in": func(o *Supply) { o.CutIn = unit.PSI(30) }, "cut-out": func(o *Supply) { o.CutOut = unit.PSI(50) },
		"tank": func(o *Supply) { o.Tank.Total = unit.Gal(20) }, "yield": func(o *Supply) { o.Yield = unit.GPM(1) },
		"storage": func(o *Supply) { o.CasingStorage = unit.Gal(1) }, "bore": func(o *Supply) { o.CasingBore = unit.Inches(6) },
		"house": func(o *Supply) { o.HouseDraw = unit.GPM(1) }, "flow control": func(o *Supply) { o.Pump = o.Pump.Throttled(unit.GPM(3)) },
		"pump": func(o *Supply) { o.Pump = PumpAtTank{} }, "pump read again": func(o *Supply) { o.Pump = plain().Pump },
	} {
		o := s
		change(&o)
		if s.Same(o) {
			t.Errorf("a supply is the same with another %s", what)
		}
	}
}
