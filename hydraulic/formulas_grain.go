package hydraulic

import (
	"errors"
	"math"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func grainFormulas() []formula.Formula {
	return []formula.Formula{settlingFormula(), gradingFormula(), sieveFormula(), sieveNumberFormula()}
}

func settlingFormula() formula.Formula {
	d, v, t := formula.Grain.Takes("size", "d", "grain size").Between("0.005 mm", "10 mm"), loadingIn("rising flow").Assume("15 gpm/ft2", "usual backwash"), temperatureIn()
	sg := formula.Ratio.Takes("gravity", "SG", "specific gravity of the wet grain").Between("1.01", "8")
	phi := formula.Ratio.Takes("sphericity", "φ", "of the grain").Between("0.3", "1").Assume("0.75", "worn sand")
	return formula.Formula{
		Name: "grain_settling", Subject: onBeds, What: "settling speed of a grain, and the porosity it has in a rising flow",
		Inputs: formula.Inputs(d, sg, t, phi, v), Equation: "v² = 4/3 g d (ρs-ρ)/(C ρ), C = 24/R + 3/√R + 0.34, R = φ v d/ν;  e = (V/v)^(0.2247 R^0.1)",
		Range: "porosity: R 1 to 500", Error: "speed 15 %, porosity 0.03", Source: davisBook + ", eqs 11-12 to 11-14", Kind: source.Published,
		Examples: formula.By(formula.On("size=2 mm", "gravity=2.65", "temperature=10 C", "sphericity=0.82", "loading=36 m/h").Is("porosity", "25.5 %", "1.5 %", "published: "+davisBook+", example 11-3"),
			formula.On("size=0.505 mm", "gravity=2.65", "temperature=10 C", "sphericity=0.82", "loading=36 m/h").Is("porosity", "53.7 %", "1.5 %", "published: "+davisBook+", example 11-3")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			g := Grain{Density: sg.Of(a), Sphericity: phi.Of(a), Porosity: 0.42}
			return formula.Give(formula.Loading.Gives("settling", "v", "settling speed of one grain, as a loading", g.Terminal(d.Of(a), t.Of(a))),
				formula.Share.Gives("porosity", "e", "of this size in the rising flow", g.Settled(d.Of(a), v.Of(a), t.Of(a)))), nil
		},
	}
}

func gradingFormula() formula.Formula {
	d10, d60 := formula.Grain.Takes("d10", "d10", "effective size").Between("0.02 mm", "10 mm"), formula.Grain.Takes("d60", "d60", "size that six tenths pass").Between("0.02 mm", "10 mm")
	s := formula.Share.Takes("passing", "", "share of the mass that passes").Between("1 %", "99 %").Assume("90 %", "the coarse end, which is last to lift")
	return formula.Formula{
		Name: "grain_percentile", Subject: onBeds, What: "size that a share of a medium passes, from effective size and d60",
		Inputs: formula.Inputs(d10, d60, s), Equation: "d = d10 U^((z - z10)/(z60 - z10)),  U = d60/d10, z the normal deviate of the share", Error: "10 % at the ends", Source: "definition of the log-normal distribution", Kind: source.Derived,
		Examples: formula.By(formula.On("d10=0.45 mm", "d60=0.70 mm").Is("size", "0.941 mm", "0.002 mm", "log-normal by hand: d10 U^1.67")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			g := Grain{D10: d10.Of(a), D60: d60.Of(a)}
			return formula.Give(formula.Grain.Gives("size", "d", "that the share passes", g.Percentile(s.Of(a))), formula.Ratio.Gives("uniformity", "U", "uniformity coefficient", g.Uniformity())), nil
		},
	}
}

func sieveFormula() formula.Formula {
	rows := layersKind("sieves").Takes("sieves", "", "opening of each sieve, finest first, with the per cent of the mass that passed")
	s := formula.Share.Takes("passing", "", "share of the mass that passes").Between("0.1 %", "99.9 %").Assume("10 %", "the effective size")
	return formula.Formula{
		Name: "sieve_analysis", Subject: onBeds, What: "size that a share passes, from a sieve analysis",
		Inputs: formula.Inputs(rows, s), Equation: "a straight line in log d between sieves", Error: "3 % of the size", Source: "definition of effective size and uniformity", Kind: source.Derived,
		Examples: formula.By(formula.On("sieves=0.106 mm 0.2 %; 0.15 mm 0.9 %; 0.212 mm 4 %; 0.3 mm 9.9 %; 0.425 mm 21.8 %; 0.6 mm 39.4 %; 0.85 mm 59.8 %; 1.18 mm 74.4 %; 1.7 mm 91.5 %").
			Is("size", "0.30 mm", "0.009 mm", "published: "+davisBook+", example 11-1")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			var sieves []Sieve
			for _, r := range rows.Of(a) {
				sieves = append(sieves, Sieve{Opening: r.Size, Passing: r.Share})
			}
			d, err := SizePassing(sieves, s.Of(a))
			return formula.Give(formula.Grain.Gives("size", "d", "that the share passes", d)), err
		},
	}
}

func sieveNumberFormula() formula.Formula {
	n := formula.Count.Takes("number", "", "number of the sieve").Between("4", "400")
	return formula.Formula{
		Name: "sieve_opening", Subject: onBeds, What: "opening of a U.S. standard sieve",
		Inputs: formula.Inputs(n), Equation: "read from a table", Source: "ASTM E11 (from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("number=20").Is("opening", "0.85 mm", "0.005 mm", "ASTM E11 (from memory)"), formula.On("number=100").Is("opening", "0.15 mm", "0.002 mm", "ASTM E11 (from memory)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			d, ok := SieveOpening(int(n.Of(a)))
			if !ok {
				return formula.Outcome{}, errors.New("sieve_opening: no sieve has this number; there are 4, 6, 8, 12, 16, 20, 30, 40, 50, 70, 100, 140 and others")
			}
			return formula.Give(formula.Grain.Gives("opening", "d", "clear opening", d)), nil
		},
	}
}

func vesselFormulas() []formula.Formula {
	return []formula.Formula{loadingFormula(), VesselFlowFormula(), runFormula(), dirtyFormula()}
}

func diameterIn() formula.In[unit.Length] {
	return formula.Bore.Takes("vessel_diameter", "D", "diameter of the vessel").Between("4 in", "120 in")
}

func loadingFormula() formula.Formula {
	d, q := diameterIn(), flowIn("flow", "Q", "flow through the vessel")
	m := formula.Media.Takes("media", "V", "volume of media").Between("0 ft3", "200 ft3").Assume("0 ft3", "depth not asked")
	return formula.Formula{
		Name: "vessel_loading", Subject: onBeds, What: "flow on each square foot of a vessel, its area and the depth of its bed",
		Inputs: formula.Inputs(d, q, m), Equation: "A = π/4 D²,  v = Q/A,  L = V/A", Source: byGeometry, Kind: source.Derived,
		Examples: formula.By(formula.On("vessel_diameter=12 in", "flow=9.4 gpm", "media=2 ft3").Is("area", "0.785 ft2", "0.0006 ft2", "geometry: D²/183.3").
			Is("loading", "11.97 gpm/ft2", "0.01 gpm/ft2", "by hand: 9.4 / 0.785").Is("depth", "30.56 in", "0.02 in", "by hand: 2 ft3 over 0.785 ft2"),
			formula.On("vessel_diameter=10 in", "flow=8 gpm").Is("loading", "14.7 gpm/ft2", "0.06 gpm/ft2", "by hand: 8 gpm over 0.545 ft2")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			area := VesselArea(d.Of(a))
			o := formula.Give(formula.Loading.Gives("loading", "v", "flow on the area", LoadingOn(q.Of(a), area)), formula.Area.Gives("area", "A", "cross-section", area))
			if m.Of(a).Ft3() > 0 {
				o.Results = append(o.Results, formula.Bore.Gives("depth", "L", "of the bed", BedDepth(m.Of(a), area)))
			}
			return o, nil
		},
	}
}

// VesselFlowFormula is the flow that gives a vessel a loading.
func VesselFlowFormula() formula.Formula {
	d, v := diameterIn(), loadingIn("flow on each square foot")
	return formula.Formula{
		Name: "vessel_flow", Subject: onBeds, What: "flow that gives a vessel a loading, such as the backwash it asks for",
		Inputs: formula.Inputs(d, v), Equation: "Q = v π/4 D²", Source: byGeometry, Kind: source.Derived,
		Figures:  []string{"backwash_gpm"},
		Examples: formula.By(formula.On("vessel_diameter=18 in", "loading=12 gpm/ft2").Is("flow", "21.2 gpm", "0.05 gpm", "by hand: 1.767 ft2 at 12 gpm/ft2")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Flow.Gives("flow", "Q", "through the vessel", FlowOver(v.Of(a), VesselArea(d.Of(a))))), nil
		},
	}
}

func runFormula() formula.Formula {
	q := formula.DailyFlow.Takes("daily_use", "Q", "water in a day").Between("0 gal/day", "100000 gal/day")
	fe := formula.MgL.Takes("iron", "Fe", "iron of every form that the bed holds").Between("0 mg/L", "100 mg/L")
	mn := formula.MgL.Takes("manganese", "Mn", "manganese that the bed holds").Between("0 mg/L", "50 mg/L").Assume("0 mg/L", formula.LeftOut)
	area := formula.Area.Takes("area", "A", "area of the bed").Between("0.1 ft2", "100 ft2")
	s := solidsIn.Takes("capacity", "S", "solids the bed takes in a run").Between("0.01 lb/ft2", "2 lb/ft2").Rests(SandCapacity, 1, "lb/ft2", "single layer of sand or coal")
	const handbook = "capacity published: Environmental engineers' handbook; balance by hand"
	return formula.Formula{
		Name: "run_length", Subject: onBeds, What: "days between washes that a bed's capacity allows",
		Inputs: formula.Inputs(q, fe, area, mn, s), Equation: "t = S A / m,  m = Q (r Fe + r' Mn)", Error: "that of the capacity, a factor of two", Source: "mass balance", Kind: source.Derived,
		Factors: []source.Factor{HydroxidePerIron, DioxidePerManganese, SandCapacity, DualCapacity, MetalCapacity},
		Examples: formula.By(formula.On("daily_use=300 gal/day", "iron=3 mg/L", "area=1 ft2").Is("days", "17.4 days", "0.2 days", handbook).Is("solids", "6.51 g", "0.02 g", handbook),
			formula.On("daily_use=300 gal/day", "iron=3 mg/L", "area=1 ft2", "capacity=0.5 lb/ft2").Is("days", "34.9 days", "0.3 days", handbook)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			m := DailySolids(fe.Of(a), a.Factors.Of(HydroxidePerIron), q.Of(a)).G() + DailySolids(mn.Of(a), a.Factors.Of(DioxidePerManganese), q.Of(a)).G()
			days := RunDays(LbPerFt2(s.Of(a)), area.Of(a), unit.G(m))
			if math.IsInf(days, 1) {
				return formula.Outcome{}, errors.New("run_length: without solids the bed never fills; another rule sets the wash")
			}
			return formula.Give(formula.Time.Gives("days", "t", "between washes", span(days*24*60)), formula.LightMass.Gives("solids", "m", "dry, in a day", unit.G(m))), nil
		},
	}
}

func dirtyFormula() formula.Formula {
	c, t := pressureIn("clean", "dP0", "loss of the clean bed"), pressureIn("terminal", "dPt", "loss at which it is washed").Rests(TerminalLoss, 1, "psi", "pressure filter, 8 to 10 psi")
	h := solidsIn.Takes("held", "s", "solids held").Between("0 lb/ft2", "5 lb/ft2")
	s := solidsIn.Takes("capacity", "S", "solids it can hold").Between("0.01 lb/ft2", "5 lb/ft2").Rests(SandCapacity, 1, "lb/ft2", "single layer of sand or coal")
	return formula.Formula{
		Name: "dirty_bed_loss", Subject: onBeds, What: "loss of a bed that has taken up part of what it can hold",
		Inputs: formula.Inputs(c, h, t, s), Equation: "dP = dP0 + (dPt - dP0) s/S", Range: "depth filtration; a cake on the surface rises faster", Error: "a factor of two without a trial on the site", Source: "common practice", Kind: source.CommonPractice,
		Factors:  []source.Factor{TerminalLoss, SandCapacity},
		Examples: formula.By(formula.On("clean=2 psi", "held=0.125 lb/ft2").Is("loss", "5 psi", "0.0001 psi", "straight line by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Pressure.Gives("loss", "dP", "across the bed", DirtyLoss(c.Of(a), t.Of(a), LbPerFt2(h.Of(a)), LbPerFt2(s.Of(a))))), nil
		},
	}
}
