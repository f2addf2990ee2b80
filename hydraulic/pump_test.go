package hydraulic

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wellwright/source"
	"wellwright/unit"
)

func TestPumpCurves(t *testing.T) {
	one, err := CurveFromDuty(Duty{unit.GPM(1000), unit.Ft(200)})
	if err != nil {
		t.Fatal(err)
	}
	three, err := CurveThrough(unit.Ft(320), Duty{unit.GPM(10), unit.Ft(222)}, Duty{unit.GPM(14), unit.Ft(110)})
	if err != nil {
		t.Fatal(err)
	}
	const form = "EPANET 2.2 three-point form worked by hand"
	check(t, []row{
		{"head of the single-point curve", one.HeadAt(unit.GPM(1049.81)).Ft(), 193.19, 0.02, epanetOut},
		{"A", three.a, 320, 0.0005, form},
		{"B", three.b, 0.53227, 0.0005, form},
		{"C", three.c, 2.26509, 0.0005, form},
		{"shut-off of the single-point form", one.HeadAt(unit.Flow{}).Ft(), 266.667, 0.001, "4/3 of the design head, EPANET 2.2"},
		{"end of the single-point form", one.FlowAt(unit.Length{}).GPM(), 2000, 1e-6, "twice the design flow, EPANET 2.2"},
		{"half speed", one.AtSpeed(0.5).HeadAt(unit.GPM(500)).Ft(), 50, 1e-9, "affinity laws"},
	})
	if _, err := CurveThrough(unit.Ft(100), Duty{unit.GPM(10), unit.Ft(120)}, Duty{unit.GPM(14), unit.Ft(110)}); err == nil {
		t.Error("a curve that rises was accepted")
	}
}

func TestPumpPower(t *testing.T) {
	const pumping = "engineering data page, pumping cost: 0.746 Q H/(3960 eta)"
	volume := unit.Gal(600) // 10 gpm for an hour
	mean := unit.Ft(745.97 * 0.75 / (PumpingEnergy(unit.Gal(1e6), unit.Ft(1), 1).KWh()))
	check(t, []row{
		{"$ per hour", PumpingEnergy(volume, unit.Ft(10), 0.81).KWh() * 0.10, 0.00233, 0.00001, pumping},
		{"mean head of 745.97 kWh/Mgal at 0.75", mean.Ft(), 178.0, 0.5, "EPANET 2.2 User Manual, 2020, energy table inverted"},
		{"kWh in 1000 gal", PumpingEnergy(unit.Gal(1000), unit.Ft(200), 0.35).KWh(), 1.796, 0.002, "0.003143 H/eta, definition of the horsepower"},
		{"water power at a rated point", WaterPower(unit.GPM(10), unit.Ft(222)).HP(), 0.5606, 0.001, "Q H/3960"},
	})
}

// The generic curves must look like pumps: head within the power of the motor.
func TestGenericCurvesAreWithinTheirMotors(t *testing.T) {
	sum, count := 0.0, 0.0
	for _, g := range generics {
		c, err := GenericCurve(unit.GPM(g.flows[1]), unit.HP(g.hp))
		if err != nil {
			t.Fatal(err)
		}
		rated := unit.GPM(g.flows[1])
		check(t, []row{
			{"rated head", c.HeadAt(rated).Ft(), g.heads[2], 1e-6, "the curve goes through its points"},
			{"head at the low flow", c.HeadAt(unit.GPM(g.flows[0])).Ft(), g.heads[1], 0.06 * g.heads[1], "fourth point, not used in the fit"},
		})
		if hp := WaterPower(rated, c.HeadAt(rated)).HP(); hp > 0.76*g.hp+0.05 || hp < 0.3 {
			t.Errorf("%g hp %g gpm pump puts %g hp into the water", g.hp, g.flows[1], hp)
		}
		h := c.HeadAt(rated).Ft()
		perPSI := (c.FlowAt(unit.Ft(h-1)).GPM() - c.FlowAt(unit.Ft(h+1)).GPM()) / 2 * unit.PSI(1).FtWater()
		share := perPSI / rated.GPM()
		if share < PumpSlope.Low-0.001 || share > PumpSlope.High+0.001 {
			t.Errorf("%g hp %g gpm: slope %.4f of flow a psi is outside %g to %g", g.hp, rated.GPM(), share, PumpSlope.Low, PumpSlope.High)
		}
		sum, count = sum+share, count+1
	}
	check(t, []row{{"mean slope", sum / count, PumpSlope.Value, 0.001, "self: the factor is the mean of the twelve generic curves"}})
	if _, err := GenericCurve(unit.GPM(9), unit.HP(1)); err == nil {
		t.Error("a 9 gpm series was found")
	}
}

func TestPumpAtTank(t *testing.T) {
	points := func(v ...float64) (out []PumpPoint) {
		for i := 0; i < len(v); i += 2 {
			out = append(out, PumpPoint{unit.GPM(v[i]), unit.PSI(v[i+1])})
		}
		return out
	}
	one, err := PumpFromMeasurements(points(10, 45))
	if err != nil {
		t.Fatal(err)
	}
	two, err := PumpFromMeasurements(points(11, 55, 12, 45)) // order does not matter
	if err != nil {
		t.Fatal(err)
	}
	three, err := PumpFromMeasurements(points(12, 30, 10, 45, 7, 60))
	if err != nil {
		t.Fatal(err)
	}
	flow := func(p PumpAtTank, psi float64) float64 { return p.FlowAt(unit.PSI(psi)).GPM() }
	check(t, []row{
		{"one point, at it", flow(one, 45), 10, 1e-9, "as measured"},
		{"one point, slope", (flow(one, 44.5) - flow(one, 45.5)), 0.12, 0.001, "1.2 % a psi, the generic slope"},
		{"one point, shut-off", flow(one, 45+1/0.024+0.01), 0, 1e-9, "parabola of slope s ends 1/(2 s) above"},
		{"two points, lower", flow(two, 45), 12, 1e-9, "as measured"},
		{"two points, upper", flow(two, 55), 11, 1e-9, "as measured"},
		{"two points, midway", flow(two, 50), 11.5, 1e-9, "straight line"},
		{"two points, shut-off", flow(two, 107.7), 0, 1e-9, "parabola through both: Pt = 45 + 144·10/23"},
		{"two points, open", flow(two, 0), 15.73, 0.01, "sqrt(107.61·2.3)"},
		{"three points, second", flow(three, 45), 10, 1e-9, "as measured"},
		{"three points, between", flow(three, 52.5), 8.5, 1e-9, "straight line"},
		{"throttled", flow(two.Throttled(unit.GPM(3)), 45), 3, 1e-9, "flow control"},
		{"pressure at a flow", two.PressureAt(unit.GPM(11.5), unit.PSI(0), unit.PSI(100)).PSI(), 50, 1e-6, "straight line"},
	})
	if flow(PumpAtTank{}, 40) != 0 || (PumpAtTank{}).Known() || !one.OnePoint() || two.OnePoint() {
		t.Error("an unknown pump must give nothing, and one point be told from two")
	}
	own := source.NewSet(map[string]source.Override{PumpSlope.Name: {Value: 0.02, Why: "data plate"}})
	steep, err := PumpFrom(own, points(10, 45))
	if err != nil || flow(steep, 55) >= flow(one, 55) {
		t.Errorf("own slope not used: %v, %v", flow(steep, 55), err)
	}
}

func TestPumpMeasurementsThatCannotBe(t *testing.T) {
	for name, pts := range map[string][]PumpPoint{
		"none":          nil,
		"zero flow":     {{unit.GPM(0), unit.PSI(40)}},
		"suction":       {{unit.GPM(5), unit.PSI(-3)}},
		"not a number":  {{unit.GPM(math.NaN()), unit.PSI(40)}},
		"rising":        {{unit.GPM(10), unit.PSI(40)}, {unit.GPM(11), unit.PSI(50)}},
		"same pressure": {{unit.GPM(10), unit.PSI(40)}, {unit.GPM(9), unit.PSI(40)}},
	} {
		if _, err := PumpFromMeasurements(pts); err == nil {
			t.Errorf("%s was accepted", name)
		}
	}
}

func TestPumpFallsWithPressure(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := drawPump(r, 1)
		a := rapid.Float64Range(0, 120).Draw(r, "psi")
		b := a + rapid.Float64Range(0, 30).Draw(r, "more")
		low, high := p.FlowAt(unit.PSI(a)).GPM(), p.FlowAt(unit.PSI(b)).GPM()
		if high > low || high < 0 {
			r.Fatalf("%g gpm at %g psi, %g gpm at %g psi", low, a, high, b)
		}
	})
}

func TestCurveAtTank(t *testing.T) {
	c, _ := GenericCurve(unit.GPM(10), unit.HP(0.75))
	drop, _ := NewPipe(PVC40, unit.Inches(1), unit.Ft(120))
	p, err := c.AtTank(Lift{Height: unit.Ft(100), Pipe: drop, Water: celsius(10)})
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range []float64{5, 8, 10, 12} {
		want := unit.FtWater(c.HeadAt(unit.GPM(q)).Ft()-100).PSI() - drop.DarcyLoss(unit.GPM(q), celsius(10)).PSI()
		check(t, []row{{"flow against the gauge", p.FlowAt(unit.PSI(want)).GPM(), q, 0.1, "energy balance at this flow"}})
	}
	if _, err := c.AtTank(Lift{Height: unit.Ft(400), Pipe: drop, Water: celsius(10)}); err == nil {
		t.Error("a pump of 320 ft lifted 400 ft")
	}
}

func TestPressureTank(t *testing.T) {
	const boyle = "Boyle's law worked by hand with 14.7 psi at sea level"
	const trade = "Pelikan, 2006, trade journal article on drawdown, example 1"
	share := func(pre, in, out, altitude float64) float64 {
		tank := PressureTank{Total: unit.Gal(1), Precharge: unit.PSI(pre), Altitude: unit.Ft(altitude)}
		return tank.Drawdown(unit.PSI(in), unit.PSI(out)).Gal()
	}
	example := PressureTank{Total: unit.Gal(85), Precharge: unit.PSI(28)}
	check(t, []row{
		{"example", example.Drawdown(unit.PSI(30), unit.PSI(50)).Gal(), 25.1, 0.1, trade},
		{"30/50 factor", share(28, 30, 50, 0), 0.295, 0.0005, trade},
		{"20/40", share(18, 20, 40, 0), 0.345, 0.0006, boyle}, {"40/60", share(38, 40, 60, 0), 0.258, 0.0006, boyle},
		{"20/40 full charge", share(20, 20, 40, 0), 0.366, 0.0006, boyle}, {"30/50 full charge", share(30, 30, 50, 0), 0.309, 0.0006, boyle},
		{"40/60 full charge", share(40, 40, 60, 0), 0.268, 0.0006, boyle},
		{"20/40 at 2000 ft", share(18, 20, 40, 2000), 0.351, 0.0006, boyle}, {"30/50 at 2000 ft", share(28, 30, 50, 2000), 0.300, 0.0006, boyle},
		{"40/60 at 2000 ft", share(38, 40, 60, 2000), 0.261, 0.0006, boyle}, {"20/40 at 5000 ft", share(18, 20, 40, 5000), 0.359, 0.0006, boyle},
		{"30/50 at 5000 ft", share(28, 30, 50, 5000), 0.306, 0.0006, boyle}, {"40/60 at 5000 ft", share(38, 40, 60, 5000), 0.266, 0.0006, boyle},
		{"air at 2000 ft", AtmosphereAt(unit.Ft(2000)).PSI(), 13.66, 0.01, "U.S. Standard Atmosphere, 1976 (from memory)"},
		{"air at 5000 ft", AtmosphereAt(unit.Ft(5000)).PSI(), 12.23, 0.01, "U.S. Standard Atmosphere, 1976 (from memory)"},
		{"over-charged", share(50, 40, 60, 0), share(50, 50, 60, 0), 1e-12, "no water below the air charge"},
		{"charge above cut-out", share(70, 40, 60, 0), 0, 1e-12, "no water below the air charge"},
		{"water at shut-off, 20 gal", PressureTank{Total: unit.Gal(20), Precharge: unit.PSI(28)}.Water(unit.PSI(50)).Gal(), 6.8, 0.05, "Boyle's law by hand"},
	})
	size, err := TankFor(unit.GPM(10), 1, unit.PSI(28), unit.PSI(30), unit.PSI(50))
	check(t, []row{{"tank for a minute at 10 gpm", size.Gal(), 33.9, 0.1, "Q t over the published factor 0.295"}})
	if err != nil {
		t.Error(err)
	}
}

func TestCasing(t *testing.T) {
	const geometry = "0.0408 d2, geometry"
	for d, want := range map[float64]float64{2: 0.163, 4: 0.653, 4.5: 0.826, 5: 1.02, 6: 1.469, 6.25: 1.59, 8: 2.61} {
		check(t, []row{{"gal/ft", CasingVolumePerFoot(unit.Inches(d)).Gal(), want, 0.006, geometry}})
	}
	wait, ok := Recovery(unit.Gal(33), unit.GPM(3), unit.GPM(0.5))
	check(t, []row{
		{"recovery min", wait.Minutes(), 13.2, 1e-9, "33 gal over 2.5 gpm"},
		{"storage", CasingStorage(unit.Inches(4), unit.Ft(95), unit.Ft(145), unit.Ft(0)).Gal(), 32.6, 0.1, "50 ft of 0.653 gal/ft"},
		{"yield from rise", YieldFromRise(unit.Inches(6), unit.Ft(10), 5).GPM(), 2.94, 0.01, "1.469 gal/ft · 10 ft / 5 min"},
		{"timed cycle", TimedCycle(unit.Gal(20), 95*time.Second).GPM(), 12.6, 0.1, "trade example: 20 gal in 95 s"},
		{"timed cycle", TimedCycle(unit.Gal(16), 90*time.Second).GPM(), 10.67, 0.01, "trade example: 16 gal in 90 s"},
	})
	if !ok {
		t.Error("a well that gives more than the house takes must recover")
	}
	if _, ok := Recovery(unit.Gal(1), unit.GPM(1), unit.GPM(1)); ok {
		t.Error("a well with nothing to spare cannot recover")
	}
}

func TestOperatingPoint(t *testing.T) {
	p, _ := PumpFromMeasurements([]PumpPoint{{unit.GPM(10), unit.PSI(45)}})
	// Parabola 45 + 41.667 (1 - q2/100) against (q/Cv)2: q2 = 86.667/(0.41667 + 1/Cv2).
	for _, cv := range []float64{1.5, 4, 6} {
		q := p.Operating(func(q unit.Flow) unit.Pressure { return ValveLoss(q, cv) })
		want := math.Sqrt(86.6667 / (0.416667 + 1/(cv*cv)))
		check(t, []row{{"open to drain through a valve", q.GPM(), want, 0.001, "two parabolas solved by hand"}})
	}
	if q := p.Operating(func(unit.Flow) unit.Pressure { return unit.PSI(95) }); q.GPM() > 1e-9 {
		t.Errorf("a pump of 87 psi gave %v against 95 psi", q)
	}
}

func TestStartsAndDays(t *testing.T) {
	const balance = "water balance by hand"
	check(t, []row{
		{"starts at half flow", StartsPerHour(unit.GPM(5), unit.GPM(10), unit.Gal(12)), 12.5, 1e-9, "12 gal: 2.4 min to empty, 2.4 min to fill"},
		{"starts at full flow", StartsPerHour(unit.GPM(10), unit.GPM(10), unit.Gal(12)), 0, 0, "the pump never stops"},
	})
	var evening HourPattern
	evening[19] = 1 // all of a day's use in one hour
	enough := BalanceDay(unit.GalPerDay(300), evening, unit.GPM(3), unit.Gal(150))
	less := BalanceDay(unit.GalPerDay(300), evening, unit.GPM(3), unit.Gal(100))
	dry := BalanceDay(unit.GalPerDay(300), GeneralPattern(), unit.GPM(0), unit.Gal(100))
	check(t, []row{
		{"left", enough.Left.Gal(), 150 + 180 - 300, 1e-6, balance}, {"short", enough.Short.Gal(), 0, 0, balance},
		{"short by 20", less.Short.Gal(), 20, 1e-6, balance}, {"no yield", dry.Short.Gal(), 200, 1e-6, balance},
	})
}
