package chem

import (
	"fmt"
	"math"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

const onExchange = "ion exchange"

// heldFormulas are those of arsenic on iron, of anion resin and of radon.
func heldFormulas() []formula.Formula {
	return []formula.Formula{arsenicFormula(), turnedFormula(), onFlocFormula(), ferricFormula(), adsorberFormula(), anionRunFormula(), radonFormula(), radonCarbonFormula()}
}

const arsenicCare = "arsenic above the limit: other water for drinking until a certified laboratory has passed the treated tap"

func microgramsIn(name, symbol, what string) formula.In[unit.Concentration] {
	return formula.MgL.Takes(name, symbol, what).Between("0 ug/L", "1000 ug/L")
}

func turnedFormula() formula.Formula {
	as := microgramsIn("arsenic_iii", "As", "arsenic (III)")
	ph := phIn()
	free := formula.Chlorine.Takes("free_chlorine", "Cl", "free chlorine that stays").Between("0 mg/L as Cl2", "20 mg/L as Cl2").Assume("0 mg/L as Cl2", formula.LeftOut)
	combined := formula.Chlorine.Takes("combined_chlorine", "NH2Cl", "monochloramine").Between("0 mg/L as Cl2", "20 mg/L as Cl2").Assume("0 mg/L as Cl2", formula.LeftOut)
	pink := formula.MgL.Takes("permanganate", "KMnO4", "permanganate that stays").Between("0 mg/L", "20 mg/L").Assume("0 mg/L", formula.LeftOut)
	ozone := formula.MgL.Takes("ozone", "O3", "ozone that stays").Between("0 mg/L", "5 mg/L").Assume("0 mg/L", formula.LeftOut)
	t := formula.Time.Takes("time", "t", "time together").Between("0 s", "30 days")
	warm := temperatureIn().Assume("10 C", "ground water; the law hardly moves with it")
	return formula.Formula{
		Name: "arsenic_oxidation", Subject: onOxidation, What: "arsenic (III) that an oxidant leaves; air counts for nothing",
		Inputs: formula.Inputs(as, ph, t, free, combined, pink, ozone, warm), Equation: "As = As0 exp(-Σ k C t), k of free chlorine by the shares of HOCl and of arsenic (III) as its ion",
		Range: "pH 6 to 9, oxidant in excess, nothing else taking it up", Error: "a factor of two in the time; seconds where there is a residual", Source: dodd, Kind: source.Published,
		Factors: []source.Factor{arseniteChlorine, arseniteChloramine, arseniteOzone, arsenitePermanganate}, Care: arsenicCare,
		Examples: formula.By(formula.On("arsenic_iii=50 ug/L", "ph=7", "free_chlorine=0.1 mg/L as Cl2", "time=1 s", "temperature=25 C").Is("left", "0.03466 mg/L", "0.0005 mg/L", "published rate at pH 7, 2.6e5 L/(mol s); by hand: 50 · exp(-2.6e5 · 1.410e-6)"),
			formula.On("arsenic_iii=50 ug/L", "ph=7", "combined_chlorine=2 mg/L as Cl2", "time=4 h").Is("left", "0.042 mg/L", "0.001 mg/L", "published rate 0.43 at pH 7; by hand: 50 · exp(-0.43 · 2.82e-5 · 14400)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x := Mix{FreeChlorine: free.Of(a), CombinedChlorine: combined.Of(a), Permanganate: pink.Of(a)}
			d := Dosed{Temperature: warm.Of(a), PH: ph.Of(a), Arsenite: as.Of(a), Ozone: ozone.Of(a), Time: t.Of(a)}
			left := as.Of(a).MgPerL() - New(a.Factors).ArsenicLaw().Turned(x, x, d).MgPerL()
			chlorine, _ := OxidantForArsenite(Hypochlorite)
			return formula.Give(formula.MgL.Gives("left", "As", "still as arsenic (III)", unit.MgPerL(left)),
				formula.Chlorine.Gives("chlorine_needed", "", "taken up by the arsenic (III) alone", unit.MgPerLAsCl2(chlorine*as.Of(a).MgPerL()))), nil
		},
	}
}

// crowding are the inputs of what competes with arsenic.
type crowding struct {
	ph         formula.In[unit.PH]
	alkalinity formula.In[unit.Alkalinity]
	silica     formula.In[unit.Concentration]
	phosphate  formula.In[unit.Phosphorus]
	organic    formula.In[unit.Concentration]
}

func crowdingIn() crowding {
	return crowding{
		ph: phIn(), alkalinity: alkalinityIn().Assume("180 mg/L as CaCO3", "usual for iron wells"),
		silica:    formula.MgL.Takes("silica", "Si", "silica as SiO2").Between("0 mg/L", "120 mg/L").Assume("20 mg/L", "usual for wells"),
		phosphate: formula.Phosphorus.Takes("phosphate", "P", "phosphate").Between("0 mg/L as P", "10 mg/L as P").Assume("0 mg/L as P", formula.LeftOut),
		organic:   formula.MgL.Takes("toc", "TOC", "organic carbon").Between("0 mg/L", "30 mg/L").Assume("1 mg/L", "usual for drilled wells"),
	}
}

func (c crowding) water(a formula.Args) FlocWater {
	return FlocWater{PH: c.ph.Of(a), Alkalinity: c.alkalinity.Of(a), Silica: c.silica.Of(a), Phosphate: c.phosphate.Of(a), OrganicCarbon: c.organic.Of(a)}
}

func onFlocFormula() formula.Formula {
	v := microgramsIn("arsenic_v", "As(V)", "arsenic (V), or all of it once oxidised")
	iii := microgramsIn("arsenic_iii", "As(III)", "arsenic (III)").Assume("0 ug/L", formula.LeftOut)
	fe := formula.MgL.Takes("iron", "Fe", "iron that precipitates with it and is held by the filter").Between("0 mg/L", "50 mg/L")
	c := crowdingIn()
	return formula.Formula{
		Name: "arsenic_on_iron", Subject: onIons, What: "arsenic that goes with iron held by a filter, as a range",
		Inputs: formula.Inputs(v, fe, c.ph, iii, c.alkalinity, c.silica, c.phosphate, c.organic), Equation: "S = x a + Σ T K x/(1 + K x),  held = T K x/(1 + K x), no more than Fe/20",
		Range: "pH 6 to 9; iron oxidised with the arsenic in the water, not before", Error: "a factor of three in what passes; a laboratory decides", Source: "competitive Langmuir, held against two plants of EPA/600/R-00/086; order of the anions after Meng et al. 2002; 20 : 1 after US EPA 2001 (second hand)", Kind: source.Judgement,
		Factors: []source.Factor{flocSites, flocUptake, flocPhosphate, flocArsenite, flocMost, flocSilica, flocCarbonate, flocOrganic}, Care: arsenicCare,
		Examples: formula.By(formula.On("arsenic_v=1 ug/L", "iron=1 mg/L", "ph=7.5").Is("left", "0.00025 mg/L", "0.00001 mg/L", "by hand at a trace of arsenic: 1/(1 + 3 · 1)"),
			formula.On("arsenic_v=21 ug/L", "iron=2.3 mg/L", "ph=7.5").Is("left", "0.003 mg/L", "0.0005 mg/L", "published: Fields, Chen and Wang 2000, EPA/600/R-00/086 (abstract), a year behind air, chlorine and greensand; the rest of the water not seen"),
			formula.On("arsenic_v=500 ug/L", "iron=2 mg/L", "ph=7.5").Is("left", "0.4 mg/L", "0.0001 mg/L", "by hand: 2 mg/L of iron holds a twentieth of its weight")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			as := ArsenicAmounts{III: iii.Of(a), V: v.Of(a)}
			h := New(a.Factors).ArsenicLaw().OnFloc(as, fe.Of(a), c.water(a))
			left := func(x ArsenicAmounts) unit.Concentration {
				return unit.MgPerL(math.Max(0, as.Sum().MgPerL()-x.Sum().MgPerL()))
			}
			o := formula.Give(formula.MgL.Gives("left", "As", "of arsenic, as usual", left(h.Usual)),
				formula.MgL.Gives("left_at_best", "", "at best", left(h.Most)), formula.MgL.Gives("left_at_worst", "", "at worst", left(h.Least)))
			if ratio := fe.Of(a).MgPerL() / math.Max(as.Sum().MgPerL(), 1e-9); ratio < 1/flocMost.Value {
				o = o.Say("iron : arsenic is %.0f : 1 by weight, under 20 : 1: add iron, or an adsorber behind", ratio)
			}
			return o, nil
		},
	}
}

func ferricFormula() formula.Formula {
	as := microgramsIn("arsenic_v", "As", "arsenic, oxidised")
	fe := formula.MgL.Takes("iron", "Fe", "iron in the water, held by the filter").Between("0 mg/L", "50 mg/L").Assume("0 mg/L", formula.LeftOut)
	const from = "by hand: 20 : 1 by weight, and 162.2 of FeCl3 for 55.85 of iron"
	return formula.Formula{
		Name: "ferric_for_arsenic", Subject: onIons, What: "ferric iron to feed where a water has too little for its arsenic",
		Inputs: formula.Inputs(as, fe), Equation: "Fe = 20 As - Fe in the water;  FeCl3 = 2.90 Fe,  alkalinity eaten = 2.69 Fe", Range: "pH 6 to 8, arsenic oxidised first, a filter behind",
		Error: "that of the rule; a jar and a laboratory decide", Source: "20 : 1 after US EPA 2001 and Sorg 2002 (second hand); atomic weights", Kind: source.Published, Factors: []source.Factor{flocMost},
		Care: "ferric chloride is strong acid: goggles and gloves, no metal in its way; " + arsenicCare,
		Examples: formula.By(formula.On("arsenic_v=25 ug/L", "iron=0.3 mg/L").Is("iron", "0.2 mg/L", "0.001 mg/L", from).Is("ferric_chloride", "0.581 mg/L", "0.002 mg/L", from),
			formula.On("arsenic_v=25 ug/L", "iron=0.6 mg/L").Is("iron", "0 mg/L", "0.001 mg/L", "24 : 1 is enough")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			dose := New(a.Factors).ArsenicLaw().IronForArsenic(as.Of(a), fe.Of(a))
			f := FerricChlorideOf(dose)
			return formula.Give(formula.MgL.Gives("iron", "Fe", "to feed", dose), formula.MgL.Gives("ferric_chloride", "", "dry FeCl3", f.Dry),
				formula.Alkalinity.Gives("alkalinity_eaten", "", "by it", f.Alkalinity), formula.MgL.Gives("chloride_added", "", "by it", f.Chloride)), nil
		},
	}
}

func adsorberFormula() formula.Formula {
	v := microgramsIn("arsenic_v", "As(V)", "arsenic (V)")
	iii := microgramsIn("arsenic_iii", "As(III)", "arsenic (III)").Assume("0 ug/L", formula.LeftOut)
	to := microgramsIn("outlet", "out", "arsenic at the outlet to run to").Assume("10 ug/L", "federal limit; 5 in some states")
	c := crowdingIn()
	return formula.Formula{
		Name: "arsenic_bed_life", Subject: onIons, What: "bed volumes that an iron-oxide adsorbent treats, as a range",
		Inputs: formula.Inputs(v, c.ph, iii, to, c.alkalinity, c.silica, c.phosphate, c.organic), Equation: "N = N0 2^(7.5-pH) · 2/(a + As/h + P/p) · form · front",
		Range: "pH 6.5 to 9, arsenic to 200 µg/L, no iron, 3 min of contact and more", Error: "a factor of two and more; sample the outlet", Source: "competitive Langmuir and a logistic front (Thomas 1944); constants with their factors", Kind: source.FromMemory,
		Factors: []source.Factor{adsorberVolumes, adsorberSteep, adsorberHalf, adsorberPhosphate, adsorberArsenite, flocSilica, flocCarbonate, flocOrganic}, Care: arsenicCare,
		Examples: formula.By(formula.On("arsenic_v=30 ug/L", "ph=7.5").Is("bed_volumes", "25000", "1", "by hand: the water that the figure in print is for (from memory)"),
			formula.On("arsenic_v=30 ug/L", "ph=7.5", "outlet=5 ug/L").Is("bed_volumes", "17500", "700", "published: about 30 % shorter to 5 than to 10 µg/L, US EPA demonstrations, AQUA 70(5):665 (abstract)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			law := New(a.Factors).ArsenicLaw()
			n := law.AdsorberLife(ArsenicAmounts{III: iii.Of(a), V: v.Of(a)}, to.Of(a), c.water(a))
			if math.IsInf(n.Usual, 1) {
				return formula.Outcome{}, fmt.Errorf("arsenic_bed_life: outlet %v is no less than the %v that comes in; want less", to.Of(a), unit.MgPerL(iii.Of(a).MgPerL()+v.Of(a).MgPerL()))
			}
			return formula.Give(formula.Count.Gives("bed_volumes", "N", "as usual", n.Usual), formula.Count.Gives("at_least", "", "at worst", n.Least),
				formula.Count.Gives("at_most", "", "at best", n.Most),
				formula.Share.Gives("outlet_half_way", "", "of what comes in, at the outlet half way", law.AdsorberOutlet(unit.MgPerL(iii.Of(a).MgPerL()+v.Of(a).MgPerL()), to.Of(a), 0.5))), nil
		},
	}
}

func anionRunFormula() formula.Formula {
	n := formula.Nitrogen.Takes("nitrate", "NO3", "nitrate").Between("0 mg/L as N", "200 mg/L as N")
	s := formula.MgL.Takes("sulfate", "SO4", "sulfate").Between("0 mg/L", "2000 mg/L")
	cl := formula.MgL.Takes("chloride", "Cl", "chloride").Between("0 mg/L", "1000 mg/L").Assume("0 mg/L", formula.LeftOut)
	alk := alkalinityIn().Assume("0 mg/L as CaCO3", formula.LeftOut)
	q := formula.Measured("capacity of resin", formula.Measure{Unit: "eq/L", Size: 1}, formula.Measure{Unit: "eq/L", Size: 1}).
		Takes("resin_capacity", "Q", "capacity that regeneration wins back").Between("0.05 eq/L", "1.5 eq/L").Assume("0.55 eq/L", "plain resin at 10 lb/ft3 of salt; 0.45 for nitrate-selective resin")
	kind := formula.Choice("resin", []Resin{PlainResin, NitrateResin}, func(r Resin) string {
		return [...]string{"plain strong-base", "nitrate-selective"}[r]
	}).Takes("resin_kind", "", "the resin").Assume("plain strong-base", "the cheaper")
	return formula.Formula{
		Name: "nitrate_run", Subject: onExchange, What: "water that anion resin treats before nitrate leaves it, and what leaves then",
		Inputs: formula.Inputs(n, s, cl, alk, q, kind), Equation: "Σ x_i/(h - α_1/α_i) = 0;  BV = Q/C · Π(α_1/α_i)/(h'_k h''_k Π h_i)",
		Range: "fresh water, resin regenerated with salt; take a fifth off for slow grains and slip", Error: "a fifth, that of the separation factors", Source: "Helfferich & Klein, Multicomponent Chromatography, 1970 (from memory)", Kind: source.FromMemory,
		Factors:  exchangeFactors(),
		Examples: formula.By(formula.On("nitrate=18 mg/L as N", "sulfate=40 mg/L").Is("run", "1943 gal", "4 gal", "by hand: 0.55 eq/L of 28.32 L over 1.285 + 0.833 meq/L; with nothing else in the water all the resin is filled")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			r := AnionRun(a.Factors, kind.Of(a), EqPerL(q.Of(a)), Anions{Sulfate: s.Of(a), Nitrate: n.Of(a), Chloride: cl.Of(a), Bicarbonate: alk.Of(a)})
			leaves, sulfate := r.NitrateLeaves()
			if math.IsInf(leaves, 1) {
				return formula.Outcome{}, fmt.Errorf("nitrate_run: nitrate %v; want more than none", n.Of(a))
			}
			mean := r.Mean(leaves)
			return formula.Give(formula.Volume.Gives("run", "W", "through each cubic foot until nitrate leaves", unit.Gal(leaves*unit.Ft3(1).Gal())),
				formula.Nitrogen.Gives("after", "", "nitrate just past the run", r.At(leaves*1.001).Nitrate),
				formula.MgL.Gives("chloride", "", "in the water of the run, on the average", mean.Chloride)).
				With(formula.Symbol{Name: "sulfate leaves", Value: sulfate, Unit: "bed volumes"}), nil
		},
	}
}

func radonFormula() formula.Formula {
	t := temperatureIn()
	r := formula.Ratio.Takes("air_ratio", "r", "volumes of air for each volume of water").Between("0", "300")
	n := formula.Count.Takes("stages", "n", "boxes or plates, one after the other").Between("1", "20").Assume("1", "a single tank")
	e := formula.Share.Takes("approach", "E", "how far the air comes toward balance").Between("1 %", "100 %").Assume("50 %", "household diffusers; 10 to 60 % measured in a pilot")
	return formula.Formula{
		Name: "radon_aeration", Subject: onGas, What: "radon that aeration leaves",
		Inputs: formula.Inputs(t, r, n, e), Equation: "C/C0 = (1 + E H r/n)^-n,  H = 1/(0.105 + 0.405 exp(-0.0502 t))", Range: "0 to 40 °C; fresh air to each box", Error: "that of the approach", Source: "mass balance; solubility after Weigel 1978 (second hand)", Kind: source.Published,
		Care:     "lead the exhaust outdoors above the roof, away from windows: it holds the radon",
		Examples: formula.By(formula.On("temperature=10 C", "air_ratio=20", "stages=1", "approach=50 %").Is("left", "3.38 %", "0.02 %", "by hand: H = 2.856, 1/(1 + 28.56)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			air := RadonAir{Ratio: r.Of(a), Stages: int(math.Round(n.Of(a))), Approach: e.Of(a), Fresh: true}
			left, err := RadonLeft(t.Of(a), air)
			if err != nil {
				return formula.Outcome{}, err
			}
			return formula.Give(formula.Share.Gives("left", "C/C0", "of the radon", left)).With(formula.Symbol{Name: "H", Value: RadonRatio(t.Of(a))}), nil
		},
	}
}

func radonCarbonFormula() formula.Formula {
	k := perHourIn.Takes("radon_constant", "Kss", "steady-state constant of the carbon").Between("0.5 1/h", "10 1/h").Assume("2.5 1/h", "2.5 and 4.5 in two field waters; iron and age lower it")
	t := formula.Time.Takes("contact", "t", "empty-bed contact at the mean flow of the day").Between("0 min", "24 h")
	return formula.Formula{
		Name: "radon_on_carbon", Subject: onGas, What: "radon that a bed of granular carbon lets pass",
		Inputs: formula.Inputs(t, k), Equation: "C/C0 = exp(-Kss t)", Range: "up to 5,000 pCi/L: above it the bed gives off too many gamma rays", Error: "wide", Source: "National Research Council, Risk Assessment of Radon in Drinking Water, 1999, p. 175", Kind: source.Published,
		Care:     "the bed gives off gamma rays: keep it away from rooms in use; spent carbon may be regulated",
		Examples: formula.By(formula.On("contact=115.4 min", "radon_constant=2.54 1/h").Is("passes", "0.76 %", "0.01 %", "by hand: 3 ft3 at 280 gal/day, exp(-2.54 · 1.923)")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Share.Gives("passes", "C/C0", "of the radon", RadonOnCarbon(PerHour(k.Of(a)), t.Of(a)))), nil
		},
	}
}
