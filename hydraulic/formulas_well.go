package hydraulic

import (
	"errors"
	"fmt"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const (
	byGeometry  = "geometry"
	byBalance   = "water balance by hand"
	tankArticle = "published: Pelikan, 2006, trade journal article on pressure-tank drawdown, example 1"
)

func wellFormulas() []formula.Formula {
	return []formula.Formula{cycleFormula(), drawdownFormula(), tankWaterFormula(), tankForFormula(), startsFormula(), perFootFormula(), CasingStorageFormula(), recoveryFormula(), riseFormula()}
}

func cycleFormula() formula.Formula {
	v := formula.Volume.Takes("drawdown", "V", "water drawn from cut-out to cut-in, measured in a bucket").Between("0.1 gal", "500 gal")
	t := formula.Time.Takes("run", "t", "time from cut-in to cut-out with no use").Between("5 s", "2 h")
	return formula.Formula{
		Name: "timed_cycle", Subject: onWell, What: "pump flow from a timed cycle of the pressure switch",
		Inputs: formula.Inputs(v, t), Equation: "Q = V / t", Range: "a plain switch; not behind a cycle-stop valve or drive; no water used meanwhile",
		Error: "the mean over the cycle, 5 %; not the flow to open drain", Source: "common practice", Kind: source.CommonPractice,
		Examples: formula.By(formula.On("drawdown=20 gal", "run=95 s").Is("flow", "12.6 gpm", "0.1 gpm", "published: trade example"),
			formula.On("drawdown=16 gal", "run=90 s").Is("flow", "10.67 gpm", "0.01 gpm", "trade example, put right: the page prints 10.6")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Flow.Gives("flow", "Q", "pump flow, mean over the cycle", TimedCycle(v.Of(a), t.Of(a)))), nil
		},
	}
}

// switchIn are the tank and its switch.
type switchIn struct {
	tank               formula.In[unit.Volume]
	charge, cutIn, out formula.In[unit.Pressure]
	altitude           formula.In[unit.Length]
}

func switched() switchIn {
	return switchIn{
		tank:   formula.Volume.Takes("tank_volume", "Vt", "whole volume of the pressure tank").Between("0 gal", "1000 gal"),
		charge: pressureIn("precharge", "Ppre", "air charge with the tank empty of water; 0 for an air-over-water tank"),
		cutIn:  pressureIn("cut_in", "Plow", "pressure at which the pump starts"), out: pressureIn("cut_out", "Phigh", "pressure at which it stops"),
		altitude: formula.Length.Takes("altitude", "h", "height above the sea").Between("0 ft", "12000 ft").Assume("0 ft", "sea level"),
	}
}

// ordered refuses a switch whose pressures stand the wrong way round.
func (s switchIn) ordered(a formula.Args) error {
	if low, high := s.cutIn.Of(a), s.out.Of(a); high.PSI() <= low.PSI() {
		return fmt.Errorf("cut_out %s must be above cut_in %s", high, low)
	}
	return nil
}

func drawdownFormula() formula.Formula {
	s := switched()
	const boyle = "Boyle's law worked by hand"
	return formula.Formula{
		Name: "tank_drawdown", Subject: onWell, What: "water that a pressure tank gives between cut-out and cut-in",
		Inputs: formula.Inputs(s.tank, s.charge, s.cutIn, s.out, s.altitude), Equation: "V = Vt (Ppre + Pa) (1/(Plow + Pa) - 1/(Phigh + Pa))",
		Range: "slow cycles; below the air charge the tank is empty", Error: "5 to 10 % less in a fast cycle", Source: "Boyle's law; Pelikan, 2006, trade journal article on drawdown", Kind: source.Published,
		Factors: []source.Factor{Atmosphere},
		Examples: formula.By(formula.On("tank_volume=85 gal", "precharge=28 psi", "cut_in=30 psi", "cut_out=50 psi").Is("drawdown", "25.1 gal", "0.1 gal", tankArticle).
			Is("share", "29.5 %", "0.05 %", tankArticle), formula.On("tank_volume=100 gal", "precharge=38 psi", "cut_in=40 psi", "cut_out=60 psi", "altitude=5000 ft").Is("share", "26.6 %", "0.06 %", boyle)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			if err := s.ordered(a); err != nil {
				return formula.Outcome{}, err
			}
			t := PressureTank{Total: s.tank.Of(a), Precharge: s.charge.Of(a), Altitude: s.altitude.Of(a)}
			v := t.Drawdown(s.cutIn.Of(a), s.out.Of(a))
			if t.Total.Gal() <= 0 {
				return formula.Outcome{}, errors.New("tank_drawdown: tank_volume must be above zero")
			}
			return formula.Give(formula.Volume.Gives("drawdown", "V", "between cut-out and cut-in", v), formula.Share.Gives("share", "", "of the tank", v.Gal()/t.Total.Gal())).
				With(sym("Pa", AtmosphereAt(t.Altitude).PSI(), "psi")), nil
		},
	}
}

func tankWaterFormula() formula.Formula {
	s, p := switched(), pressureIn("pressure", "P", "gauge pressure")
	return formula.Formula{
		Name: "tank_water", Subject: onWell, What: "water standing in a pressure tank at a gauge pressure",
		Inputs: formula.Inputs(s.tank, s.charge, p, s.altitude), Equation: "V = Vt (1 - (Ppre + Pa)/(P + Pa))", Source: "Boyle's law", Kind: source.Derived,
		Examples: formula.By(formula.On("tank_volume=20 gal", "precharge=28 psi", "pressure=50 psi").Is("water", "6.8 gal", "0.05 gal", "Boyle's law by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t := PressureTank{Total: s.tank.Of(a), Precharge: s.charge.Of(a), Altitude: s.altitude.Of(a)}
			return formula.Give(formula.Volume.Gives("water", "V", "in the tank", t.Water(p.Of(a)))), nil
		},
	}
}

func tankForFormula() formula.Formula {
	s, q := switched(), pumpFlowIn()
	t := formula.Time.Takes("run", "t", "least time the pump shall run in a cycle").Between("10 s", "30 min").Assume("1 min", "usual least run of a submersible motor")
	return formula.Formula{
		Name: "tank_size", Subject: onWell, What: "pressure tank that lets a pump run long enough in each cycle",
		Inputs: formula.Inputs(q, t, s.charge, s.cutIn, s.out), Equation: "V = Q t / f,  f drawdown of a tank of unit volume", Source: "arithmetic on the drawdown", Kind: source.Derived,
		Examples: formula.By(formula.On("pump_flow=10 gpm", "precharge=28 psi", "cut_in=30 psi", "cut_out=50 psi").
			Is("tank", "33.9 gal", "0.1 gal", "10 gal over the factor 0.295 of Pelikan, 2006")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			if err := s.ordered(a); err != nil {
				return formula.Outcome{}, err
			}
			v, err := TankFor(q.Of(a), t.Of(a).Minutes(), s.charge.Of(a), s.cutIn.Of(a), s.out.Of(a))
			return formula.Give(formula.Volume.Gives("tank", "V", "whole volume of the tank", v)), err
		},
	}
}

func startsFormula() formula.Formula {
	u, p := flowIn("use", "q", "steady use"), pumpFlowIn()
	v := formula.Volume.Takes("drawdown", "V", "drawdown of the tank").Between("0.1 gal", "500 gal")
	return formula.Formula{
		Name: "starts_per_hour", Subject: onWell, What: "how often a pump starts while a steady use is drawn",
		Inputs: formula.Inputs(u, p, v), Equation: "f = q (1 - q/Q) / V", Range: "worst at half the pump's flow; one state rule allows six an hour (Idaho IDAPA 58.01.08.547)",
		Source: "time to empty and to fill the drawdown", Kind: source.Derived,
		Examples: formula.By(formula.On("use=5 gpm", "pump_flow=10 gpm", "drawdown=12 gal").Is("starts", "12.5 an hour", "0.0001 an hour", "by hand: 2.4 min to empty, 2.4 min to fill")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(slopeIn.Gives("starts", "f", "starts of the pump", StartsPerHour(u.Of(a), p.Of(a), v.Of(a)))), nil
		},
	}
}

func perFootFormula() formula.Formula {
	d := boreIn()
	return formula.Formula{
		Name: "casing_volume_per_foot", Subject: onWell, What: "water in one foot of a round casing or bore",
		Inputs: formula.Inputs(d), Equation: "V = π/4 d² · 1 ft", Source: byGeometry, Kind: source.Derived,
		Examples: formula.By(formula.On("casing_bore=6 in").Is("volume", "1.47 gal", "0.005 gal", "published: MIL-HDBK-1164, pp. 26-27"),
			formula.On("casing_bore=36 in").Is("volume", "52.88 gal", "0.26 gal", "published: MIL-HDBK-1164, pp. 26-27")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Volume.Gives("volume", "V", "in each foot", CasingVolumePerFoot(d.Of(a)))), nil
		},
	}
}

// CasingStorageFormula is the water that can be pumped from a casing.
func CasingStorageFormula() formula.Formula {
	d, st, in := boreIn(), lengthIn("static_level", "Ls", "static level below ground"), lengthIn("intake", "Li", "pump intake below ground")
	c := lengthIn("cover", "c", "water kept over the intake").Assume("10 ft", "common practice, 10 to 20 ft")
	return formula.Formula{
		Name: "casing_storage", Subject: onWell, What: "water that can be pumped from the casing before the level meets the intake's cover",
		Inputs: formula.Inputs(d, st, in, c), Equation: "V = (Li - Ls - c) · volume per foot", Source: byGeometry, Kind: source.Derived,
		Figures:  []string{"casing storage"},
		Examples: formula.By(formula.On("casing_bore=4 in", "static_level=95 ft", "intake=145 ft", "cover=0 ft").Is("storage", "32.6 gal", "0.1 gal", "50 ft of 0.653 gal/ft, by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			o := formula.Give(formula.Volume.Gives("storage", "V", "usable water in the casing", CasingStorage(d.Of(a), st.Of(a), in.Of(a), c.Of(a)))).
				With(sym("volume per foot", CasingVolumePerFoot(d.Of(a)).Gal(), "gal/ft"))
			if in.Of(a).Ft() <= st.Of(a).Ft()+c.Of(a).Ft() {
				return o.Say("the static level stands no higher than the cover over the intake: nothing is stored, or a level is wrong"), nil
			}
			return o, nil
		},
	}
}

func recoveryFormula() formula.Formula {
	v := formula.Volume.Takes("drawn", "V", "water drawn from the casing").Between("0 gal", "10000 gal")
	y := flowIn("yield", "Y", "what the well gives")
	u := flowIn("house_use", "h", "what the house goes on drawing").Assume("0 gpm", "no use meanwhile")
	return formula.Formula{
		Name: "recovery", Subject: onWell, What: "time in which a well makes good what was drawn from its casing",
		Inputs: formula.Inputs(v, y, u), Equation: "t = V / (Y - h)", Source: "water balance", Kind: source.Derived,
		Examples: formula.By(formula.On("drawn=33 gal", "yield=3 gpm", "house_use=0.5 gpm").Is("time", "13.2 min", "0.001 min", "33 gal over 2.5 gpm, by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			t, ok := Recovery(v.Of(a), y.Of(a), u.Of(a))
			if !ok {
				return formula.Outcome{}, errors.New("recovery: the well gives no more than the house takes; it does not recover")
			}
			return formula.Give(formula.Time.Gives("time", "t", "to the former level", t)), nil
		},
	}
}

func riseFormula() formula.Formula {
	d := boreIn()
	r := lengthIn("rise", "r", "rise of the level after the pump stops")
	t := formula.Time.Takes("time", "t", "in which it rose").Between("10 s", "1 h")
	return formula.Formula{
		Name: "yield_from_rise", Subject: onWell, What: "what a well gives, from the rise of its level just after the pump stops",
		Inputs: formula.Inputs(d, r, t), Equation: "Q = V1 r / t", Range: "the first minutes only; later the rise slows", Error: "20 %", Source: "common practice", Kind: source.CommonPractice,
		Examples: formula.By(formula.On("casing_bore=6 in", "rise=10 ft", "time=5 min").Is("yield", "2.94 gpm", "0.01 gpm", "1.469 gal/ft · 10 ft / 5 min, by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Flow.Gives("yield", "Q", "yield of the well", YieldFromRise(d.Of(a), r.Of(a), t.Of(a).Minutes()))).
				With(sym("V1", CasingVolumePerFoot(d.Of(a)).Gal(), "gal/ft")), nil
		},
	}
}
