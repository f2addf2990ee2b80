package hydraulic

import (
	"errors"
	"time"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const epanet = "US EPA, EPANET 2.2 User Manual, 2020"

func washFormulas() []formula.Formula {
	return []formula.Formula{pumpAtFormula(), pumpPressureFormula(), availableFormula(), washRunFormula(), seriesFormula(), throughValveFormula(), waterPowerFormula(), liftEnergyFormula()}
}

func pumpAtFormula() formula.Formula {
	p, at := pointsIn(), pressureIn("pressure", "P", "gauge pressure at the tank")
	most := flowIn("flow_control", "", "most that a flow control lets through").Assume("1000 gpm", "no flow control")
	return formula.Formula{
		Name: "pump_flow_at", Subject: onWell, What: "pump flow at a tank pressure, from one or more measurements",
		Inputs: formula.Inputs(p, at, most), Equation: "straight line between points;  beyond, P = Pt - k Q² through the last two;  one point: slope dQ/dP = -s Q",
		Range: "from the lowest to the highest pressure measured; elsewhere a guess", Error: "that of the bucket, 5 %, and 5 % for each 10 psi beyond",
		Source: epanet + " (single-point form); the slope common practice", Kind: source.CommonPractice, Factors: []source.Factor{PumpSlope},
		Examples: formula.By(formula.On("pump_points=11 gpm at 55 psi; 12 gpm at 45 psi", "pressure=50 psi").Is("flow", "11.5 gpm", "0.0001 gpm", "straight line by hand"),
			formula.On("pump_points=11 gpm at 55 psi; 12 gpm at 45 psi", "pressure=0 psi").Is("flow", "15.73 gpm", "0.01 gpm", "parabola by hand: √(107.61 · 2.3)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			pump, err := PumpFrom(a.Factors, p.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			o := formula.Give(formula.Flow.Gives("flow", "Q", "at the pressure", pump.Throttled(most.Of(a)).FlowAt(at.Of(a))))
			if pump.OnePoint() {
				o = o.Say("one point only: the slope is the generic one, not the site's")
			}
			return o, nil
		},
	}
}

// supplyIn are the inputs of a supply.
type supplyIn struct {
	switchIn
	points  formula.In[[]PumpPoint]
	yield   formula.In[unit.Flow]
	storage formula.In[unit.Volume]
	house   formula.In[unit.Flow]
	minutes formula.In[time.Duration]
	least   formula.In[unit.Pressure]
}

func supplied() supplyIn {
	s := supplyIn{switchIn: switched(), points: pointsIn(), yield: flowIn("yield", "Y", "what the rock gives"),
		storage: formula.Volume.Takes("casing_storage", "D", "usable water in the casing, see casing_storage").Between("0 gal", "10000 gal"),
		house:   flowIn("house_use", "h", "what the house takes meanwhile").Assume("0 gpm", "washed at night"),
		minutes: formula.Time.Takes("wash_time", "t", "how long the draw lasts").Between("30 s", "24 h").Assume("10 min", "usual backwash"),
		least:   pressureIn("pressure", "P", "least pressure at the tank meanwhile").Assume("30 psi", "usual for a control valve")}
	s.tank = s.tank.Assume("0 gal", "the tank lends nothing")
	s.charge = s.charge.Assume("38 psi", "2 psi below cut-in")
	s.cutIn, s.out = s.cutIn.Assume("40 psi", "usual switch"), s.out.Assume("60 psi", "usual switch")
	return s
}

func (s supplyIn) inputs(more ...formula.Input) []formula.Input {
	return append(formula.Inputs(s.points, s.yield, s.storage, s.minutes, s.least, s.cutIn, s.out, s.tank, s.charge, s.house), more...)
}

func (s supplyIn) supply(a formula.Args) (Supply, error) {
	if err := s.ordered(a); err != nil {
		return Supply{}, err
	}
	pump, err := PumpFrom(a.Factors, s.points.Of(a))
	return Supply{Pump: pump, CutIn: s.cutIn.Of(a), CutOut: s.out.Of(a), Tank: PressureTank{Total: s.tank.Of(a), Precharge: s.charge.Of(a)},
		Yield: s.yield.Of(a), CasingStorage: s.storage.Of(a), HouseDraw: s.house.Of(a)}, err
}

const balanceEquation = "dV/dt = q - Q - h,  dD/dt = q - Y,  q ≤ pump(P), q ≤ Y once the storage is gone"

func shortages() formula.Kind[Shortage] {
	return formula.Choice("what gives out", []Shortage{ShortNone, ShortPump, ShortWell}, Shortage.String)
}

func pumpPressureFormula() formula.Formula {
	p, q := pointsIn(), flowIn("flow", "Q", "flow drawn")
	low, high := pressureIn("from", "", "least pressure looked at").Assume("0 psi", "open discharge"), pressureIn("to", "", "greatest pressure looked at").Assume("150 psi", "above the shut-off of house pumps")
	return formula.Formula{
		Name: "pump_pressure_at", Subject: onWell, What: "pressure at the tank at which a pump gives a flow",
		Inputs: formula.Inputs(p, q, low, high), Equation: "pump(P) = Q", Error: "as pump_flow_at", Source: epanet + " (single-point form); the slope common practice", Kind: source.CommonPractice, Factors: []source.Factor{PumpSlope},
		Examples: formula.By(formula.On("pump_points=11 gpm at 55 psi; 12 gpm at 45 psi", "flow=11.5 gpm", "to=100 psi").Is("pressure", "50 psi", "0.001 psi", "straight line by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			pump, err := PumpFrom(a.Factors, p.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			if pump.FlowAt(low.Of(a)).GPM() < q.Of(a).GPM() {
				return formula.Outcome{}, errors.New("pump_pressure_at: the pump gives less than this flow even at the least pressure")
			}
			return formula.Give(formula.Pressure.Gives("pressure", "P", "at the tank", pump.PressureAt(q.Of(a), low.Of(a), high.Of(a)))), nil
		},
	}
}

func availableFormula() formula.Formula {
	s := supplied()
	return formula.Formula{
		Name: "available_flow", Subject: onWell, What: "largest steady flow a well, pump and tank hold for a wash",
		Inputs: s.inputs(), Equation: balanceEquation, Error: "that of pump and yield; the steps add 2 %", Source: "water balance", Kind: source.Derived, Factors: []source.Factor{PumpSlope},
		Examples: formula.By(formula.On("pump_points=10 gpm at 45 psi", "yield=1 gpm", "casing_storage=20 gal").Is("flow", "3 gpm", "0.01 gpm", "by hand: storage over time plus yield, 20/10 + 1").
			Is("gives_out", "well", "", "by hand"), formula.On("pump_points=10 gpm at 45 psi", "yield=50 gpm", "casing_storage=150 gal", "pressure=45 psi").Is("flow", "10 gpm", "0.01 gpm", "the measured flow at the measured pressure")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			sup, err := s.supply(a)
			if err != nil {
				return formula.Outcome{}, err
			}
			r := Simulate(sup, Draw{Minutes: s.minutes.Of(a).Minutes(), MinPressure: s.least.Of(a)})
			o := formula.Give(formula.Flow.Gives("flow", "Q", "held for the whole wash", sup.Available(s.minutes.Of(a).Minutes(), s.least.Of(a))),
				shortages().Gives("gives_out", "", "what stops a flow just above it", r.Short))
			return switchNote(o, r), nil
		},
	}
}

func switchNote(o formula.Outcome, r Run) formula.Outcome {
	if r.SwitchLow {
		return o.Say("the pressure asked for is above cut-in: the answer takes the switch as set up to it")
	}
	return o
}

func washRunFormula() formula.Formula {
	s, q := supplied(), flowIn("flow", "Q", "flow of the wash")
	return formula.Formula{
		Name: "wash_run", Subject: onWell, What: "does a well, pump and tank bear a wash of a flow, and how long",
		Inputs: s.inputs(formula.Inputs(q)...), Equation: balanceEquation, Error: "that of pump and yield; the steps add 2 %", Source: "water balance", Kind: source.Derived, Factors: []source.Factor{PumpSlope},
		Examples: formula.By(formula.On("pump_points=10 gpm at 45 psi", "yield=1 gpm", "casing_storage=35 gal", "pressure=40 psi", "flow=8 gpm").Is("delivered", "no", "", "by hand: 35 gal last 5 min").
			Is("lasted", "5 min", "0.3 min", "by hand: 35 gal at 7 gpm net")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			sup, err := s.supply(a)
			if err != nil {
				return formula.Outcome{}, err
			}
			r := Simulate(sup, Draw{Flow: q.Of(a), Minutes: s.minutes.Of(a).Minutes(), MinPressure: s.least.Of(a)})
			return switchNote(formula.Give(formula.Yes.Gives("delivered", "", "the whole wash", r.Delivered), formula.Time.Gives("lasted", "t", "until something gave out", span(r.Lasted)),
				shortages().Gives("gives_out", "", "what gave out, or would next", r.Short), formula.Flow.Gives("available", "", "largest flow held for the whole wash", r.Available)), r), nil
		},
	}
}

// span turns minutes into a length of time.
func span(minutes float64) time.Duration { return time.Duration(minutes * float64(time.Minute)) }

func seriesFormula() formula.Formula {
	s, q := supplied(), flowIn("flow", "Q", "flow of each wash")
	n := formula.Count.Takes("washes", "n", "vessels washed one after the other").Between("1", "12").Assume("2", "two vessels")
	rest := formula.Time.Takes("rest", "", "time between two washes").Between("0 s", "24 h")
	return formula.Formula{
		Name: "washes_in_a_row", Subject: onWell, What: "flow that is left for the last of several washes in one night",
		Inputs: s.inputs(formula.Inputs(q, n, rest)...), Equation: balanceEquation, Error: "that of pump and yield; the steps add 2 %", Source: "water balance", Kind: source.Derived, Factors: []source.Factor{PumpSlope},
		Examples: formula.By(formula.On("pump_points=10 gpm at 45 psi", "yield=2 gpm", "casing_storage=60 gal", "flow=7 gpm", "rest=10 min").
			Is("first", "8 gpm", "0.01 gpm", "by hand: 60/10 + 2").Is("last", "5 gpm", "0.01 gpm", "by hand: 30 gal left, 30/10 + 2")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			sup, err := s.supply(a)
			if err != nil {
				return formula.Outcome{}, err
			}
			draws := make([]Draw, int(n.Of(a)))
			for i := range draws {
				draws[i] = Draw{Flow: q.Of(a), Minutes: s.minutes.Of(a).Minutes(), MinPressure: s.least.Of(a)}
			}
			rs := SimulateSeries(sup, draws, rest.Of(a))
			last := rs[len(rs)-1]
			return switchNote(formula.Give(formula.Flow.Gives("last", "", "largest flow for the last wash", last.Available), formula.Flow.Gives("first", "", "largest flow for the first", rs[0].Available),
				formula.Yes.Gives("delivered", "", "the last wash, whole", last.Delivered)), last), nil
		},
	}
}

func throughValveFormula() formula.Formula {
	p := pointsIn()
	cv := formula.Ratio.Takes("cv", "Cv", "flow coefficient of the valve, gpm at 1 psi").Between("0.1", "100")
	return formula.Formula{
		Name: "flow_through_valve", Subject: onWell, What: "flow at which a pump and a valve to open drain come to rest",
		Inputs: formula.Inputs(p, cv), Equation: "pump(S(q)) = q,  S = (q/Cv)²", Source: "pump curve against system curve, any textbook", Kind: source.Published, Factors: []source.Factor{PumpSlope},
		Examples: formula.By(formula.On("pump_points=10 gpm at 45 psi", "cv=4").Is("flow", "13.45 gpm", "0.01 gpm", "two parabolas by hand: q² = 86.667/(0.41667 + 1/Cv²)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			pump, err := PumpFrom(a.Factors, p.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			q := pump.Operating(func(q unit.Flow) unit.Pressure { return ValveLoss(q, cv.Of(a)) })
			return formula.Give(formula.Flow.Gives("flow", "q", "to open drain", q), formula.Pressure.Gives("pressure", "P", "at the tank then", ValveLoss(q, cv.Of(a)))), nil
		},
	}
}

func headIn() formula.In[unit.Length] { return lengthIn("head", "H", "total head, as height of water") }

func waterPowerFormula() formula.Formula {
	q, h := flowIn("flow", "Q", "flow"), headIn()
	return formula.Formula{
		Name: "water_power", Subject: onWell, What: "power that a flow carries at a head",
		Inputs: formula.Inputs(q, h), Equation: "P = 8.34 Q H / 33,000 hp", Error: "0.1 %", Source: "definition of the horsepower", Kind: source.Derived,
		Examples: formula.By(formula.On("flow=10 gpm", "head=222 ft").Is("power", "0.5606 hp", "0.001 hp", "trade form Q H / 3960")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Power.Gives("power", "P", "into the water", WaterPower(q.Of(a), h.Of(a)))), nil
		},
	}
}

func liftEnergyFormula() formula.Formula {
	v, h := formula.Volume.Takes("volume", "V", "water lifted").Between("0 gal", "100000000 gal"), headIn()
	e := formula.Share.Takes("efficiency", "η", "wire to water, pump and motor together").Between("1 %", "100 %").Assume("35 %", "small submersibles, 25 to 45 % (common practice)")
	return formula.Formula{
		Name: "lift_energy", Subject: onWell, What: "electricity that lifts water through a head",
		Inputs: formula.Inputs(v, h, e), Equation: "E = 8.34 V H / (33,000 · 60) · 0.7457 / η", Error: "that of the efficiency, often a quarter", Source: "water power over time", Kind: source.Derived,
		Examples: formula.By(formula.On("volume=600 gal", "head=10 ft", "efficiency=81 %").Is("energy", "0.0233 kWh", "0.0001 kWh", "published: engineering data page on pumping cost, 0.00233 $ at 10 cents"),
			formula.On("volume=1000000 gal", "head=178 ft", "efficiency=75 %").Is("energy", "745.97 kWh", "2.1 kWh", epanet+", energy table inverted")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Energy.Gives("energy", "E", "from the meter", PumpingEnergy(v.Of(a), h.Of(a), e.Of(a)))), nil
		},
	}
}

func curveFormulas() []formula.Formula {
	return []formula.Formula{onePointFormula(), threePointFormula(), genericFormula(), curveAtTankFormula()}
}

// curveAnswer reads a pump curve at a flow.
func curveAnswer(c PumpCurve, q unit.Flow) formula.Outcome {
	return formula.Give(formula.Length.Gives("head", "H", "at the flow", c.HeadAt(q)), formula.Length.Gives("shut_off", "A", "head at no flow", c.HeadAt(unit.Flow{})),
		formula.Flow.Gives("end", "", "flow at no head", c.FlowAt(unit.Length{}))).With(sym("A", c.a, "ft"), sym("B", c.b, ""), sym("C", c.c, ""))
}

func bigFlow(name, symbol, what string) formula.In[unit.Flow] {
	return flowIn(name, symbol, what).Between("0 gpm", "20000 gpm")
}

func speedIn() formula.In[float64] {
	return formula.Share.Takes("speed", "N", "share of the rated speed").Between("50 %", "120 %").Assume("100 %", "rated speed")
}

func onePointFormula() formula.Formula {
	dq, dh, q, n := bigFlow("duty_flow", "Q1", "flow of the design point"), lengthIn("duty_head", "H1", "head of the design point"), bigFlow("flow", "Q", "flow asked about"), speedIn()
	return formula.Formula{
		Name: "pump_curve_one_point", Subject: onWell, What: "pump curve guessed from one design point",
		Inputs: formula.Inputs(dq, dh, q, n), Equation: "H = 4/3 H1 - (H1/3)(Q/Q1)²;  at speed N: Q ~ N, H ~ N²", Error: "15 %", Source: epanet + ", pump curves; affinity laws", Kind: source.Published,
		Examples: formula.By(formula.On("duty_flow=1000 gpm", "duty_head=200 ft", "flow=1049.81 gpm").Is("head", "193.19 ft", "0.02 ft", epanet+", tutorial output"),
			formula.On("duty_flow=1000 gpm", "duty_head=200 ft", "flow=500 gpm", "speed=50 %").Is("head", "50 ft", "0.001 ft", "affinity laws by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			c, err := CurveFromDuty(Duty{dq.Of(a), dh.Of(a)})
			return curveAnswer(c.AtSpeed(n.Of(a)), q.Of(a)), err
		},
	}
}

func threePointFormula() formula.Formula {
	h0, q, n := lengthIn("shut_off", "H0", "head at no flow"), bigFlow("flow", "Q", "flow asked about"), speedIn()
	q1, h1 := bigFlow("near_flow", "Q1", "flow of the nearer running point"), lengthIn("near_head", "H1", "its head")
	q2, h2 := bigFlow("far_flow", "Q2", "flow of the farther one"), lengthIn("far_head", "H2", "its head")
	return formula.Formula{
		Name: "pump_curve_three_points", Subject: onWell, What: "pump curve through shut-off and two running points",
		Inputs: formula.Inputs(h0, q1, h1, q2, h2, q, n), Equation: "H = A - B Q^C,  C = ln((H0-H2)/(H0-H1))/ln(Q2/Q1),  B = (H0-H1)/Q1^C", Error: "that of the points", Source: epanet + ", pump curves", Kind: source.Published,
		Examples: formula.By(formula.On("shut_off=320 ft", "near_flow=10 gpm", "near_head=222 ft", "far_flow=14 gpm", "far_head=110 ft", "flow=5 gpm").
			Is("head", "299.61 ft", "0.02 ft", "three-point form by hand: 320 - 0.53227 · 5^2.26509")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			c, err := CurveThrough(h0.Of(a), Duty{q1.Of(a), h1.Of(a)}, Duty{q2.Of(a), h2.Of(a)})
			return curveAnswer(c.AtSpeed(n.Of(a)), q.Of(a)), err
		},
	}
}

func genericFormula() formula.Formula {
	s, p, q, n := seriesIn(), powerIn(), flowIn("flow", "Q", "flow asked about"), speedIn()
	return formula.Formula{
		Name: "pump_curve_generic", Subject: onWell, What: "curve of a typical 4-inch submersible of a series and power",
		Inputs: formula.Inputs(s, p, q, n), Equation: "H = A - B Q^C through shut-off, rated and high point", Range: "series of 5, 7, 10 and 13 gpm at ½, ¾ and 1 hp", Error: "15 %", Source: "common practice, no maker's curve", Kind: source.CommonPractice,
		Examples: formula.By(formula.On("series=10 gpm", "pump_power=0.75 hp", "flow=10 gpm").Is("head", "222 ft", "0.001 ft", "common practice: rated point of a generic ¾ hp pump")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			c, err := GenericCurve(s.Of(a), p.Of(a))
			return curveAnswer(c.AtSpeed(n.Of(a)), q.Of(a)), err
		},
	}
}

func seriesIn() formula.In[unit.Flow] { return flowIn("series", "", "rated flow of the pump's series") }

func powerIn() formula.In[unit.Power] {
	return formula.Power.Takes("pump_power", "", "power of the motor").Between("0.25 hp", "5 hp")
}

func curveAtTankFormula() formula.Formula {
	s, p, h, t := seriesIn(), powerIn(), lengthIn("lift", "h", "height from the pumping level to the gauge at the tank"), temperatureIn().Assume("10 C", "usual well water")
	m, d, l := materialIn(), nominalIn(), lengthIn("length", "L", "pipe from pump to tank")
	at := pressureIn("pressure", "P", "gauge pressure at the tank")
	return formula.Formula{
		Name: "pump_curve_at_tank", Subject: onWell, What: "what a typical submersible leaves at the tank after lift and pipe",
		Inputs: formula.Inputs(s, p, h, m, d, l, at, t), Equation: "P = (H(Q) - h) ρ g - pipe loss", Error: "15 %, that of the curve", Source: "energy balance", Kind: source.Derived,
		Examples: formula.By(formula.On("series=10 gpm", "pump_power=0.75 hp", "lift=100 ft", "material=PVC", "nominal=1 in", "length=120 ft", "pressure=50 psi").
			Is("flow", "10 gpm", "0.15 gpm", "by hand: 222 - 100 ft less 6.5 ft of pipe leave 50 psi at 10 gpm")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			c, err := GenericCurve(s.Of(a), p.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			pipe, err := NewPipe(m.Of(a), d.Of(a), l.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			pump, err := c.AtTank(Lift{Height: h.Of(a), Pipe: pipe, Water: t.Of(a)})
			if err != nil {
				return formula.Outcome{}, err
			}
			q := pump.FlowAt(at.Of(a))
			if q.GPM() <= 0 {
				return formula.Outcome{}, errors.New("pump_curve_at_tank: the pump does not reach this pressure at this lift")
			}
			return formula.Give(formula.Flow.Gives("flow", "Q", "at the tank", q)), nil
		},
	}
}
