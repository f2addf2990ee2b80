package hydraulic

import (
	"fmt"
	"strings"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const (
	ergunSource  = "Ergun, 1952; filter-media form as Davis, 2010, Water and Wastewater Engineering, table 11-2"
	davisBook    = "Davis, 2010, Water and Wastewater Engineering"
	hendricksRow = "published: Hendricks, Fundamentals of Water Treatment Unit Processes, table 12.9"
)

// grainIn are the inputs that describe a medium.
type grainIn struct {
	d10, d60, d90                                    formula.In[unit.Length]
	porosity                                         formula.In[float64]
	density, sphericity, ergunViscous, ergunInertial formula.In[float64]
}

func grain() grainIn { return grainOf("", "") }

// grainOf is grain for one of several media, its names beginning with a prefix.
func grainOf(prefix, of string) grainIn {
	size := func(name, symbol, what string) formula.In[unit.Length] {
		return formula.Grain.Takes(prefix+name, symbol, what+of).Between("0.02 mm", "10 mm")
	}
	plain := func(name, symbol, what string) formula.In[float64] {
		return formula.Ratio.Takes(prefix+name, symbol, what+of)
	}
	return grainIn{
		d10: size("d10", "d10", "size that a tenth of the mass passes (effective size)"), d60: size("d60", "d60", "size that six tenths pass"),
		d90:           formula.Grain.Takes(prefix+"d90", "d90", "size that nine tenths pass"+of).Between("0 mm", "10 mm").Assume("0 mm", "taken from d10 and d60"),
		porosity:      formula.Share.Takes(prefix+"porosity", "e", "pore space of the settled bed"+of).Between("20 %", "80 %").Assume("42 %", "filter sand; anthracite and carbon 50 %"),
		density:       plain("gravity", "SG", "specific gravity of the wet grain, pores full").Between("1.01", "8"),
		sphericity:    plain("sphericity", "φ", "of the grain").Between("0.3", "1").Assume("0.75", "worn sand; crushed media 0.5 to 0.6"),
		ergunViscous:  plain("kv", "kv", "measured viscous coefficient, with d10").Between("0", "500").Assume("0", "by sphericity"),
		ergunInertial: plain("ki", "ki", "measured inertial coefficient, with d10").Between("0", "10").Assume("0", "by sphericity"),
	}
}

func (g grainIn) inputs(more ...interface{ Plain() formula.Input }) []formula.Input {
	ins := make([]formula.Input, 0, len(more)+8)
	for _, m := range more {
		ins = append(ins, m.Plain())
	}
	return append(ins, formula.Inputs(g.d10, g.d60, g.density, g.porosity, g.sphericity, g.ergunViscous, g.ergunInertial, g.d90)...)
}

func (g grainIn) of(a formula.Args) Grain {
	return Grain{D10: g.d10.Of(a), D60: g.d60.Of(a), D90: g.d90.Of(a), Porosity: g.porosity.Of(a), Sphericity: g.sphericity.Of(a), Density: g.density.Of(a),
		ErgunViscous: g.ergunViscous.Of(a), ErgunInertial: g.ergunInertial.Of(a)}
}

func loadingIn(what string) formula.In[unit.Loading] {
	return formula.Loading.Takes("loading", "V", what).Between("0.01 gpm/ft2", "100 gpm/ft2")
}

func depthIn() formula.In[unit.Length] {
	return formula.Bore.Takes("bed_depth", "L", "depth of the settled bed").Between("1 in", "120 in")
}

func expansionIn() formula.In[float64] {
	return formula.Share.Takes("expansion", "E", "rise of the bed as a share of its settled depth").Between("0", "200 %")
}

func bedFormulas() []formula.Formula {
	return []formula.Formula{bedLossFormula(), fluidisationFormula(), expansionFormula(), rateFormula(), carryFormula(), temperatureFactorFormula(), layeredLossFormula()}
}

func bedLossFormula() formula.Formula {
	g, v, l, t := grain(), loadingIn("flow through each square foot of bed"), depthIn(), temperatureIn()
	return formula.Formula{
		Name: "bed_head_loss", Subject: onBeds, What: "loss of a clean settled bed, and the most that a rising flow can lose in it",
		Inputs: g.inputs(v, l, t), Equation: "dP/L = kv μ (1-e)² V/(e³ d²) + ki ρ (1-e) V²/(e³ d);  lifted: dP = L (1-e)(ρs - ρ) g",
		Range: "particle Reynolds number below 1000", Error: "15 % with measured coefficients, 30 % by sphericity", Source: ergunSource, Kind: source.Published,
		Examples: formula.By(formula.On("loading=15 m/h", "bed_depth=1.8 m", "temperature=15 C", "d10=0.95 mm", "d60=1.33 mm", "gravity=1.65", "porosity=50 %", "kv=228", "ki=4.4").
			Is("head", "0.50 m water", "0.01 m water", "MWH, 2005, Water Treatment, example 11-2 (from memory)"),
			formula.On("loading=9.168 gpm/ft2", "bed_depth=30 in", "temperature=10 C", "d10=0.5 mm", "d60=0.7 mm", "gravity=2.65", "kv=112", "ki=2.25").Is("loss", "1.98 psi", "0.01 psi", "by hand from Ergun's equation")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			loss := g.of(a).HeadLoss(v.Of(a), l.Of(a), t.Of(a))
			return formula.Give(formula.Pressure.Gives("loss", "dP", "of the clean bed held in place", loss), formula.Water.Gives("head", "h", "the same as height of water", loss),
				formula.Pressure.Gives("lifted", "", "of the bed once a rising flow carries it: its weight in water", g.of(a).Lifted(l.Of(a), t.Of(a)))).
				With(sym("ρ", Density(t.Of(a)), "kg/m3"), sym("μ", Viscosity(t.Of(a))*1000, "mPa·s")), nil
		},
	}
}

func fluidisationFormula() formula.Formula {
	g, t := grain(), temperatureIn()
	return formula.Formula{
		Name: "minimum_fluidisation", Subject: onBeds, What: "flow that just lifts the coarse grains, by two methods",
		Inputs: g.inputs(t), Equation: "Re = √(33.7² + 0.0408 Ga) - 33.7, Ga = d³ρ(ρs-ρ)g/μ², d = d90;  second: 0.00381 d60^1.82 (w(ws-w))^0.94/μ^0.88 gpm/ft2",
		Error: "15 %", Source: "Wen and Yu, 1966, as in Hendricks, p. 367; Amirtharajah and Cleasby, 1972, J. AWWA 64(1) (from memory)", Kind: source.Published,
		Examples: formula.By(formula.On("temperature=25 C", "d10=2 mm", "d60=2 mm", "d90=2 mm", "gravity=2.65", "porosity=45 %").Is("loading", "87.5 m/h", "0.9 m/h", hendricksRow),
			formula.On("temperature=40 C", "d10=1.4 mm", "d60=1.4 mm", "d90=1.4 mm", "gravity=2.65", "porosity=45 %").Is("loading", "67.3 m/h", "0.7 m/h", hendricksRow),
			formula.On("temperature=20 C", "d10=0.5 mm", "d60=0.736 mm", "gravity=2.655", "porosity=40.7 %").Is("second", "8.2 gpm/ft2", "0.17 gpm/ft2", "published: Hendricks, p. 368")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Loading.Gives("loading", "V", "by Wen and Yu", g.of(a).MinFluidisation(t.Of(a))),
				formula.Loading.Gives("second", "V", "by Amirtharajah and Cleasby, for filter sand", g.of(a).AmirtharajahFluidisation(t.Of(a)))), nil
		},
	}
}

const (
	expansionEquation = "A = kv μV/((ρs-ρ) g d²), B = ki ρV²/((ρs-ρ) g d), e³ + A e - (A + B) = 0, E = (1-e0)/(1-e) - 1"
	expansionSource   = "Ergun's equation set equal to the weight of the bed; as Akgiray and Saatci, 2001 (from memory)"
	expansionError    = "0.05 in E where the coefficients were measured; more in porous or mixed media"
	hendricksSand     = "published: Hendricks, example 12.9, data of Amirtharajah and Cleasby, 1972; water temperature not printed, 16 °C taken"
)

// corningGiven is the sand of the measured expansions.
func corningGiven(more ...string) []string {
	return append(more, "temperature=16 C", "d10=0.5 mm", "d60=0.66 mm", "gravity=2.655", "porosity=40.7 %", "kv=112", "ki=2.25")
}

func expansionFormula() formula.Formula {
	g, v, t := grain(), loadingIn("rising flow through each square foot of bed"), temperatureIn()
	return formula.Formula{
		Name: "bed_expansion", Subject: onBeds, What: "how far a backwash lifts a bed",
		Inputs: g.inputs(v, t), Equation: expansionEquation, Range: "expansion up to about twice the depth", Error: expansionError, Source: expansionSource, Kind: source.FromMemory,
		Examples: formula.By(formula.On(corningGiven("loading=40 m/h")...).Is("expansion", "20 %", "5 %", hendricksSand), formula.On(corningGiven("loading=25 m/h")...).Is("expansion", "7 %", "5 %", hendricksSand)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			e := g.of(a).Expansion(v.Of(a), t.Of(a))
			o := formula.Give(formula.Share.Gives("expansion", "E", "of the settled depth", e))
			if e == 0 {
				o = o.Say("this flow does not lift the bed")
			}
			return o, nil
		},
	}
}

func rateFormula() formula.Formula {
	g, e, t := grain(), expansionIn(), temperatureIn()
	return formula.Formula{
		Name: "backwash_for_expansion", Subject: onBeds, What: "backwash that lifts a bed by a share of its depth",
		Inputs: g.inputs(e, t), Equation: expansionEquation + ", solved for V", Error: expansionError, Source: expansionSource, Kind: source.FromMemory,
		Examples: formula.By(formula.On(corningGiven("expansion=20 %")...).Is("loading", "40 m/h", "4 m/h", hendricksSand)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Loading.Gives("loading", "V", "rising flow", g.of(a).LoadingFor(e.Of(a), t.Of(a)))), nil
		},
	}
}

func carryFormula() formula.Formula {
	g, v, l, t := grain(), loadingIn("rising flow through each square foot of bed"), depthIn(), temperatureIn()
	f := formula.Bore.Takes("freeboard", "", "clear height over the settled bed").Between("0 in", "120 in")
	return formula.Formula{
		Name: "media_loss", Subject: onBeds, What: "does a backwash carry the bed or its finest grains out of the vessel",
		Inputs: g.inputs(v, l, f, t), Equation: "rise = E L against the freeboard;  V against the settling speed of the 1 % size", Error: "that of bed_expansion", Source: expansionSource, Kind: source.FromMemory,
		Examples: formula.By(formula.On("loading=15 gpm/ft2", "bed_depth=30 in", "freeboard=15 in", "temperature=10 C", "d10=0.45 mm", "d60=0.70 mm", "gravity=2.65", "kv=112", "ki=2.25").
			Is("rise", "3.9 in", "0.3 in", "by hand: 13 % of 30 in").Is("lost", "no", "", "by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			c := g.of(a).CarryOver(v.Of(a), l.Of(a), f.Of(a), t.Of(a))
			return formula.Give(formula.Yes.Gives("lost", "", "the bed or its finest grains leave the vessel", c.Lost), formula.Bore.Gives("rise", "", "top of the bed above its settled top", c.Rise),
				formula.Bore.Gives("left", "", "freeboard left; below zero it is over the top", c.TopLeft), formula.Loading.Gives("finest_settle", "", "settling speed of the 1 % size", c.FinestSettle),
				formula.Share.Gives("expansion", "E", "of the settled depth", c.Expansion)), nil
		},
	}
}

func temperatureFactorFormula() formula.Formula {
	g, e, t := grain(), expansionIn().Assume("40 %", "usual target"), temperatureIn().Between("2 C", "30 C")
	const balance = "force balance at constant expansion, fine or light media, worked apart"
	return formula.Formula{
		Name: "backwash_temperature_factor", Subject: onBeds, What: "backwash in warmer or colder water over that at 10 °C, for one expansion",
		Inputs: g.inputs(t, e), Equation: "f = V(E, t) / V(E, 10 °C)", Error: "a few per cent; common practice has 2 % for each °C", Source: expansionSource, Kind: source.FromMemory,
		Examples: formula.By(formula.On("temperature=60 F", "d10=0.3 mm", "d60=0.45 mm", "gravity=2.4", "porosity=45 %").Is("factor", "1.13", "0.055", balance),
			formula.On("temperature=40 F", "d10=0.3 mm", "d60=0.45 mm", "gravity=2.4", "porosity=45 %").Is("factor", "0.88", "0.055", balance)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Ratio.Gives("factor", "f", "times the flow at 10 °C", BackwashTemperatureFactor(g.of(a), e.Of(a), t.Of(a)))), nil
		},
	}
}

// sized reads pairs of a grain size and a share, such as "0.5 mm 10 %; 1 mm 60 %".
func sized(s string) ([]Layer, error) {
	var ls []Layer
	for _, one := range strings.FieldsFunc(s, func(r rune) bool { return r == ';' || r == ',' }) {
		f := strings.Fields(strings.ReplaceAll(one, "%", " %"))
		var l Layer
		if len(f) != 4 || f[3] != "%" {
			return nil, fmt.Errorf(`%q: write a size and a per cent, as in "0.5 mm 10 %%"`, strings.TrimSpace(one))
		}
		if err := l.Size.UnmarshalText([]byte(f[0] + " " + f[1])); err != nil {
			return nil, err
		}
		if _, err := fmt.Sscanf(f[2], "%g", &l.Share); err != nil {
			return nil, fmt.Errorf("%q is no per cent", f[2])
		}
		l.Share /= 100
		ls = append(ls, l)
	}
	return ls, nil
}

func showSized(ls []Layer) formula.Amount {
	var words []string
	for _, l := range ls {
		words = append(words, fmt.Sprintf("%s mm %s %%", unit.Digits(l.Size.MM()), unit.Digits(100*l.Share)))
	}
	return formula.Amount{Words: strings.Join(words, "; ")}
}

func layersKind(what string) formula.Kind[[]Layer] {
	return formula.Own(what, `sizes with per cent, such as "0.5 mm 10 %; 1 mm 60 %"`, sized, showSized, showSized, nil)
}

func layeredLossFormula() formula.Formula {
	ls := layersKind("layers").Takes("layers", "f, d", "share of the mass of each layer with its grain size")
	e := formula.Share.Takes("porosity", "e", "pore space of the settled bed").Between("20 %", "80 %")
	phi := formula.Ratio.Takes("sphericity", "φ", "of the grain").Between("0.3", "1")
	v, l, t := loadingIn("flow through each square foot of bed"), depthIn(), temperatureIn()
	return formula.Formula{
		Name: "layered_bed_loss", Subject: onBeds, What: "loss of a clean bed that backwash has sorted into layers, by two methods",
		Inputs: formula.Inputs(ls, v, l, t, e, phi), Equation: "Rose h = 1.067 V² L/(φ g e⁴) Σ(C f/d);  Carman h = 1/φ (1-e)/e³ L V²/g Σ(F f/d)", Error: "a quarter; Rose reads higher", Source: davisBook + ", table 11-2", Kind: source.Published,
		Examples: formula.By(formula.On("layers=2 mm 5.3 %; 1.42 mm 17.1 %; 1 mm 14.6 %; 0.714 mm 20.4 %; 0.505 mm 17.6 %; 0.357 mm 11.9 %; 0.252 mm 5.9 %; 0.178 mm 3.1 %; 0.126 mm 0.7 %",
			"loading=9 m/h", "bed_depth=0.5 m", "temperature=10 C", "porosity=45 %", "sphericity=0.82").Is("rose", "0.76 m water", "0.01 m water", "published: "+davisBook+", example 11-2")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			b := Stratified{Layers: ls.Of(a), Porosity: e.Of(a), Sphericity: phi.Of(a)}
			return formula.Give(formula.Water.Gives("rose", "h", "after Rose", b.RoseLoss(v.Of(a), l.Of(a), t.Of(a))), formula.Water.Gives("carman", "h", "after Carman and Kozeny", b.CarmanLoss(v.Of(a), l.Of(a), t.Of(a)))), nil
		},
	}
}
