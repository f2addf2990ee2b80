package hydraulic

import (
	"errors"
	"fmt"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

func pipeFormulas() []formula.Formula {
	return []formula.Formula{pipeLossFormula(), sizedLossFormula(), contentsFormula(), frictionFormula(), waterFormula()}
}

func materialIn() formula.In[Material] {
	return formula.Choice("pipe", []Material{CopperL, CopperM, PEX, CPVC, PVC40, Galvanised}, Material.String).Takes("material", "", "what the pipe is made of")
}

func nominalIn() formula.In[unit.Length] {
	return formula.Bore.Takes("nominal", "", "nominal size").Between("0.5 in", "2 in")
}

func fittingsIn() formula.In[unit.Length] {
	return lengthIn("fittings", "Le", "length that the fittings add, see fitting_length").Assume("0 ft", "no fittings")
}

// losses gives a loss by both methods.
func losses(p Pipe, q unit.Flow, t unit.Temperature) formula.Outcome {
	re := p.Reynolds(q, t)
	rough := p.Roughness.Ft() / p.Bore.Ft()
	return formula.Give(
		formula.Pressure.Gives("darcy", "dP", "by Darcy and Weisbach", p.DarcyLoss(q, t)),
		formula.Pressure.Gives("hazen", "dP", "by Hazen and Williams", p.HazenLoss(q)),
		formula.Water.Gives("hazen_head", "h", "the same as height of water", p.HazenLoss(q)),
		formula.Speed.Gives("speed", "v", "mean speed of the water", p.FeetPerSecond(q)),
		formula.Ratio.Gives("reynolds", "Re", "Reynolds number", re),
	).With(sym("f", FrictionFactor(re, rough), ""), sym("D", p.Bore.Inches(), "in"), sym("C", p.C, ""), sym("ε/D", rough, ""))
}

const (
	lossEquation = "Darcy dP = (f (L + Le)/D + K) ρ v²/2;  Hazen h = 4.727 L Q^1.852/(C^1.852 D^4.871), ft and ft3/s"
	lossError    = "Darcy 5 %, Hazen 10 %, and what rust does to the bore"
	lossSource   = "US EPA, EPANET 2.2 User Manual, 2020, head-loss formulas"
)

func pipeLossFormula() formula.Formula {
	q, l, t := flowIn("flow", "Q", "flow").Between("0.01 gpm", "5000 gpm"), lengthIn("length", "L", "length of the pipe"), temperatureIn().Assume("10 C", "usual well water")
	d := formula.Bore.Takes("bore", "D", "inside diameter").Between("0.2 in", "48 in")
	r := formula.Length.Takes("roughness", "ε", "height of the roughness").Between("0 ft", "0.01 ft").Assume("0.000005 ft", "drawn and plastic tube")
	c := formula.Ratio.Takes("c", "C", "Hazen-Williams number").Between("20", "160").Assume("150", "new plastic; copper 140, old steel on iron water 60 to 100")
	le := fittingsIn()
	k := formula.Ratio.Takes("k", "K", "sum of loss coefficients").Between("0", "1000").Assume("0", "no fittings taken this way")
	const hand = "worked by hand with handbook water at 60 °F"
	return formula.Formula{
		Name: "pipe_loss", Subject: onPipes, What: "friction loss in a full pipe, by two methods",
		Inputs: formula.Inputs(q, d, l, t, r, c, le, k), Equation: lossEquation, Range: "Hazen: cold water above about 1 ft/s", Error: lossError, Source: lossSource, Kind: source.Published,
		Examples: formula.By(formula.On("flow=1049.81 gpm", "bore=12 in", "length=1000 ft", "c=100").Is("hazen_head", "4.51 ft water", "0.01 ft water", epanet+", tutorial output").
			Is("speed", "2.98 ft/s", "0.01 ft/s", epanet+", tutorial output"),
			formula.On("flow=10 gpm", "bore=0.824 in", "length=100 ft", "roughness=0.0005 ft", "c=120", "temperature=60 F").Is("darcy", "12.8 psi", "0.1 psi", hand).Is("hazen", "11.7 psi", "0.1 psi", hand)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return losses(Pipe{Bore: d.Of(a), Length: l.Of(a), Roughness: r.Of(a), C: c.Of(a), Equivalent: le.Of(a), K: k.Of(a)}, q.Of(a), t.Of(a)), nil
		},
	}
}

func sizedLossFormula() formula.Formula {
	q, m, d, l := flowIn("flow", "Q", "flow").Between("0.01 gpm", "500 gpm"), materialIn(), nominalIn(), lengthIn("length", "L", "length of the pipe")
	t, le := temperatureIn().Assume("10 C", "usual well water"), fittingsIn()
	return formula.Formula{
		Name: "house_pipe_loss", Subject: onPipes, What: "friction loss in a new house pipe by its material and size",
		Inputs: formula.Inputs(q, m, d, l, t, le), Equation: lossEquation, Range: "new and clean; old galvanised pipe on iron water loses several times as much", Error: lossError, Source: lossSource + "; bores of ASTM B88, F876, D2846, D1785, A53", Kind: source.Published,
		Examples: formula.By(formula.On("flow=5 gpm", "material=copper type L", "nominal=0.75 in", "length=100 ft").Is("hazen", "3.09 psi", "0.03 psi", "published: irrigation tables for copper tube"),
			formula.On("flow=8 gpm", "material=PVC", "nominal=1 in", "length=100 ft").Is("hazen_head", "3.63 ft water", "0.05 ft water", "published: 77 Ill. Adm. Code 906, Exhibit I"),
			formula.On("flow=10 gpm", "material=PEX", "nominal=0.75 in", "length=100 ft").Is("hazen", "21.1 psi", "0.2 psi", "published: PEX tube data, ASTM F876 SDR-9")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			p, err := NewPipe(m.Of(a), d.Of(a), l.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			return losses(p.WithFittings(le.Of(a), 1), q.Of(a), t.Of(a)), nil
		},
	}
}

func contentsFormula() formula.Formula {
	m, d, l := materialIn(), nominalIn(), lengthIn("length", "L", "length of the pipe")
	const code = "2009 International Plumbing Code, table E202.1, as shown by US DOE"
	return formula.Formula{
		Name: "pipe_contents", Subject: onPipes, What: "water that stands in a house pipe",
		Inputs: formula.Inputs(m, d, l), Equation: "V = π/4 D² L", Source: "geometry; bores of ASTM B88, F876, D2846, D1785, A53", Kind: source.Derived,
		Examples: formula.By(formula.On("material=copper type M", "nominal=0.75 in", "length=1 ft").Is("contents_small", "101.4 mL", "1 mL", "published: "+code+", 3.43 fl oz a foot"),
			formula.On("material=PEX", "nominal=0.5 in", "length=1 ft").Is("contents_small", "34.9 mL", "1.4 mL", "published: "+code+", 1.18 fl oz a foot")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			p, err := NewPipe(m.Of(a), d.Of(a), l.Of(a))
			return formula.Give(formula.Volume.Gives("contents", "V", "water in the pipe", p.Contents()), formula.Small.Gives("contents_small", "V", "the same", p.Contents())).
				With(sym("D", p.Bore.Inches(), "in")), err
		},
	}
}

func frictionFormula() formula.Formula {
	re := formula.Ratio.Takes("reynolds", "Re", "Reynolds number").Between("1", "100000000")
	r := formula.Ratio.Takes("relative_roughness", "r", "roughness over bore").Between("0", "0.05")
	const lib = "general-purpose library fluids 1.3.1, computed"
	return formula.Formula{
		Name: "friction_factor", Subject: onPipes, What: "Darcy friction factor by Colebrook, and by two closed forms",
		Inputs: formula.Inputs(re, r), Equation: "Re ≤ 2000: f = 64/Re;  Re ≥ 4000: 1/√f = -2 log10(r/3.7 + 2.51/(Re √f));  between: a cubic", Error: "5 %; between 2000 and 4000 the flow is unsettled",
		Source: "any textbook; limits as " + epanet, Kind: source.Published,
		Examples: formula.By(formula.On("reynolds=100000", "relative_roughness=0.001").Is("colebrook", "0.0221745", "0.0000001", lib).Is("swamee_jain", "0.0223424", "0.0000001", lib).Is("haaland", "0.0219662", "0.0000001", lib)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			o := formula.Give(formula.Ratio.Gives("colebrook", "f", "the factor used here", FrictionFactor(re.Of(a), r.Of(a))))
			if re.Of(a) < 4000 {
				return o.Say("the closed forms hold above a Reynolds number of 4000"), nil
			}
			o.Results = append(o.Results, formula.Ratio.Gives("swamee_jain", "f", "by Swamee and Jain", SwameeJain(re.Of(a), r.Of(a))), formula.Ratio.Gives("haaland", "f", "by Haaland", Haaland(re.Of(a), r.Of(a))))
			return o, nil
		},
	}
}

func waterFormula() formula.Formula {
	t := temperatureIn().Between("0 C", "100 C")
	const kell = "handbook values of pure water, Kell 1975 and IAPWS R12-08 (from memory)"
	return formula.Formula{
		Name: "water_properties", Subject: onPipes, What: "density and viscosity of water",
		Inputs: formula.Inputs(t), Equation: "ρ: Kell's quotient of polynomials;  μ = 1e-6 (280.68 T*^-1.9 + 511.45 T*^-7.7 + 61.131 T*^-19.6 + 0.45903 T*^-40), T* = T/300", Error: "viscosity 1 %",
		Source: "Kell, 1975, J. Chem. Eng. Data 20:97; IAPWS R12-08, 2008 (both from memory)", Kind: source.FromMemory,
		Examples: formula.By(formula.On("temperature=10 C").Is("density", "999.70 kg/m3", "0.011 kg/m3", kell).Is("viscosity", "1.306 mPa·s", "0.0011 mPa·s", kell)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(densityIn.Gives("density", "ρ", "at one atmosphere", Density(t.Of(a))), viscosityIn.Gives("viscosity", "μ", "dynamic", Viscosity(t.Of(a))*1000)), nil
		},
	}
}

func fittingFormulas() []formula.Formula {
	return []formula.Formula{fittingFormula(), agedPipeFormula(), valveFormula(), orificeFormula()}
}

// The names of fittings and of the states of a pipe, as a person types them.
var (
	familyNames  = [...]string{Wrought: "wrought copper", Cast: "cast", Moulded: "moulded"}
	fittingNames = [...]string{Ell90: "90 elbow", Ell45: "45 elbow", TeeRun: "tee run", TeeBranch: "tee branch", GateValve: "gate valve", GlobeValve: "globe valve", CheckValve: "check valve"}
	cakingNames  = [...]string{NotCaking: "not caking", SlightlyCaking: "slightly", CakingModerately: "moderately", CakingBadly: "badly"}
)

func fittingFormula() formula.Formula {
	f := formula.Choice("make of fitting", []Family{Wrought, Cast, Moulded}, func(f Family) string { return familyNames[f] }).Takes("make", "", "make of the fitting").Assume("wrought copper", "usual in a house")
	k := formula.Choice("fitting", []Fitting{Ell90, Ell45, TeeRun, TeeBranch, GateValve, GlobeValve, CheckValve}, func(k Fitting) string { return fittingNames[k] }).Takes("fitting", "", "the fitting")
	d := nominalIn()
	n := formula.Count.Takes("count", "n", "how many").Between("1", "100").Assume("1", "one fitting")
	return formula.Formula{
		Name: "fitting_length", Subject: onPipes, What: "length of pipe that loses as much as a fitting",
		Inputs: formula.Inputs(k, d, f, n), Equation: "read from a table", Error: "a crimped PEX elbow takes 3 to 5 times the wrought value (common practice)", Source: "Illinois Plumbing Code, 77 Ill. Adm. Code 890, table Q; a published table for moulded fittings", Kind: source.Published,
		Examples: formula.By(formula.On("fitting=tee branch", "nominal=1 in", "make=cast").Is("length", "5 ft", "0 ft", "published: 77 Ill. Adm. Code 890, table Q"),
			formula.On("fitting=check valve", "nominal=1.25 in", "make=moulded").Is("length", "11.5 ft", "0 ft", "published table of moulded fittings")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			l, ok := EquivalentLength(f.Of(a), k.Of(a), d.Of(a))
			if !ok {
				return formula.Outcome{}, fmt.Errorf("fitting_length: the table has no %s of %s in %s; its coefficient is K = %g", fittingNames[k.Of(a)], d.Of(a).In(unit.US), familyNames[f.Of(a)], LossK(k.Of(a)))
			}
			return formula.Give(formula.Length.Gives("length", "Le", "equivalent length", unit.Ft(l.Ft()*n.Of(a))), formula.Ratio.Gives("k", "K", "loss coefficient of one (EPANET), another way of counting it", LossK(k.Of(a)))), nil
		},
	}
}

func agedPipeFormula() formula.Formula {
	q := flowIn("flow", "Q", "flow when new").Between("0 gpm", "56 gpm")
	c := formula.Choice("caking", []Caking{NotCaking, SlightlyCaking, CakingModerately, CakingBadly}, func(c Caking) string { return cakingNames[c] }).Takes("caking", "", "how the water cakes")
	return formula.Formula{
		Name: "aged_pipe", Subject: onPipes, What: "what a ferrous pipe keeps of its capacity with age",
		Inputs: formula.Inputs(q, c), Equation: "read from a table", Error: "a planning allowance", Source: "Hunter, 1941, NBS BMS 79, table 5 (reprint)", Kind: source.Published,
		Examples: formula.By(formula.On("flow=7 gpm", "caking=badly").Is("share", "35 %", "0.0001 %", "published: NBS BMS 79, table 5")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			s, err := AgedShare(q.Of(a), c.Of(a))
			return formula.Give(formula.Share.Gives("share", "", "of its capacity when new", s), formula.Flow.Gives("flow", "", "left", unit.GPM(s*q.Of(a).GPM()))), err
		},
	}
}

func valveFormula() formula.Formula {
	q := flowIn("flow", "Q", "flow")
	cv := formula.Ratio.Takes("cv", "Cv", "flow coefficient, gpm at 1 psi").Between("0.1", "1000").Rests(ValveServiceCv, 1, "", "1 in control valve in service; in backwash see factor valve_backwash_cv")
	return formula.Formula{
		Name: "valve_loss", Subject: onPipes, What: "loss through a valve or filter head of known flow coefficient",
		Inputs: formula.Inputs(q, cv), Equation: "dP = (Q / Cv)² psi", Error: "10 %", Source: "definition of Cv", Kind: source.Derived, Factors: []source.Factor{ValveServiceCv, ValveBackwashCv},
		Examples: formula.By(formula.On("flow=12 gpm", "cv=6").Is("loss", "4 psi", "0.0001 psi", "definition of Cv")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Pressure.Gives("loss", "dP", "through the valve", ValveLoss(q.Of(a), cv.Of(a)))), nil
		},
	}
}

func orificeFormula() formula.Formula {
	r, at, now := flowIn("rated_flow", "Qr", "rated flow of the outlet"), pressureIn("rated_pressure", "Pr", "at which it is rated"), pressureIn("pressure", "P", "pressure now")
	return formula.Formula{
		Name: "outlet_flow", Subject: onPipes, What: "flow of a plain outlet at another pressure",
		Inputs: formula.Inputs(r, at, now), Equation: "Q = Qr √(P/Pr)", Range: "outlets without a pressure-compensating insert", Source: "orifice law", Kind: source.Published,
		Examples: formula.By(formula.On("rated_flow=2.2 gpm", "rated_pressure=60 psi", "pressure=80 psi").Is("flow", "2.54 gpm", "0.005 gpm", "published ratings: 2.2 gpm at 60 psi and 2.5 at 80 psi are one orifice")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			if at.Of(a).PSI() <= 0 {
				return formula.Outcome{}, errors.New("outlet_flow: rated_pressure must be above zero")
			}
			return formula.Give(formula.Flow.Gives("flow", "Q", "at the pressure", OrificeFlow(r.Of(a), at.Of(a), now.Of(a)))), nil
		},
	}
}
