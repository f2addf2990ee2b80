package chem

import (
	"fmt"
	"time"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

// oxidantNames and targetNames are what a person types.
var (
	oxidantNames = [nOxidants]string{Oxygen: "oxygen", ChlorineGas: "chlorine gas", Hypochlorite: "hypochlorite", Permanganate: "permanganate",
		Peroxide: "peroxide", Ozone: "ozone", ChlorineDioxide: "chlorine dioxide"}
	targetNames = [nTargets]string{IronII: "iron", ManganeseII: "manganese", SulfideToSulfur: "sulfide to sulfur", SulfideToSulfate: "sulfide to sulfate",
		AmmoniaToNitrogen: "ammonia to nitrogen", AmmoniaToNitrate: "ammonia to nitrate", AmmoniaToMonochloramine: "ammonia to monochloramine"}
)

func oxidants() formula.Kind[Oxidant] {
	all := make([]Oxidant, nOxidants)
	for i := range all {
		all[i] = Oxidant(i)
	}
	return formula.Choice("oxidant", all, func(o Oxidant) string { return oxidantNames[o] })
}

func targets() formula.Kind[Target] {
	all := make([]Target, nTargets)
	for i := range all {
		all[i] = Target(i)
	}
	return formula.Choice("target", all, func(t Target) string { return targetNames[t] })
}

func oxygenIn() formula.In[unit.Concentration] {
	return formula.MgL.Takes("oxygen", "O2", "dissolved oxygen").Between("0 mg/L", "70 mg/L")
}

func oxidationFormulas() []formula.Formula {
	return []formula.Formula{halfLifeFormula(), demandFormula(), vesselFormula()}
}

func halfLifeFormula() formula.Formula {
	t, ph, o2, tds := temperatureIn(), phIn().Between("5.5", "8.5"), oxygenIn().Between("0.05 mg/L", "70 mg/L"), someTDS()
	floc := formula.MgL.Takes("coating", "s", "ferric floc or coating, as the iron in suspension that would act as fast").Between("0 mg/L", "20000 mg/L").Assume("0 mg/L", "clear water")
	const singer = "law published: Singer & Stumm 1970, USGS WRIR 99-4259; minutes worked apart at 0.21 atm"
	const millero = "law published, as quoted in public code: Millero, Sotolongo & Izaguirre 1987; minutes worked apart"
	return formula.Formula{
		Name: "iron_half_life", Subject: onOxidation, What: "time in which oxygen turns half the ferrous iron, by three laws",
		Inputs:   formula.Inputs(t, ph, o2, tds, floc),
		Equation: "slow log k = 21.56 - 1545/T - 3.29 √I + 1.52 I, k [O2]{OH-}² a minute;  fast 1.33e12 {OH-}² pO2 a second at 25 °C, 96 kJ/mol;  middle √(slow · fast)",
		Error:    "the laws differ six-fold at 25 °C and more in cold water: plan on the slow one", Source: "Millero et al. 1987; Singer & Stumm 1970", Kind: source.Published,
		Factors: []source.Factor{ironSlowRate, ironFastRate, ironFastEnergy, flocRate},
		Examples: formula.By(
			formula.On("temperature=12 C", "ph=7.2", "oxygen=10.8 mg/L", "tds=400 mg/L").Is("slow", "100 min", "5 min", millero),
			formula.On("temperature=10 C", "ph=7.5", "oxygen=4 mg/L", "tds=400 mg/L").Is("slow", "105 min", "4 min", millero),
			formula.On("temperature=25 C", "ph=7.0", "oxygen=8.5 mg/L", "tds=400 mg/L").Is("fast", "4.13 min", "0.15 min", singer)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			m := New(a.Factors)
			var o formula.Outcome
			for _, l := range []struct {
				name, what string
				law        Law
			}{{"slow", "Millero and others", SlowLaw}, {"middle", "geometric mean of both", MiddleLaw}, {"fast", "Singer and Stumm", FastLaw}} {
				c := Conditions{Temperature: t.Of(a), Ionic: IonicFromTDS(tds.Of(a)), Law: l.law}
				d, ok := m.IronHalfLife(c, ph.Of(a), o2.Of(a), Surface{Ferric: floc.Of(a)})
				if !ok {
					return o, fmt.Errorf("iron half-life: without oxygen ferrous iron stays as it is")
				}
				o.Results = append(o.Results, formula.Time.Gives(l.name, "t½", l.what, d))
			}
			return o, nil
		},
	}
}

func demandFormula() formula.Formula {
	o := oxidants().Takes("oxidant", "", "what takes the electrons")
	t := targets().Takes("target", "", "what gives them, and the end product")
	c := formula.MgL.Takes("amount", "c", "of the target: iron as Fe, manganese as Mn, sulfide as H2S, ammonia as N").Between("0 mg/L", "1000 mg/L").Assume("1 mg/L", "the answer is then for each mg/L")
	const wtpd = "factor published: ASCE/AWWA Water Treatment Plant Design, table 10.7; product worked apart"
	return formula.Formula{
		Name: "oxidant_demand", Subject: onOxidation, What: "oxidant, alkalinity used and solids made by a reaction that runs to its end",
		Inputs: formula.Inputs(o, t, c), Equation: "demand = c n(target)/n(oxidant) · M(oxidant)/M(target)", Range: "as O2, Cl2, KMnO4, H2O2, O3, ClO2",
		Error: "side reactions and organic matter add to it; a bottle test tells", Source: "balanced reactions, atomic weights", Kind: source.Derived,
		Examples: formula.By(
			formula.On("oxidant=oxygen", "target=iron", "amount=2.6 mg/L").Is("demand", "0.372 mg/L", "0.004 mg/L", "problem published: MWH Water Treatment; answer worked apart").
				Is("solids", "4.98 mg/L", "0.05 mg/L", "problem published: MWH Water Treatment; answer worked apart"),
			formula.On("oxidant=chlorine gas", "target=iron", "amount=3 mg/L").Is("demand", "1.92 mg/L", "0.04 mg/L", wtpd).Is("alkalinity_used", "8.1 mg/L as CaCO3", "0.17 mg/L as CaCO3", wtpd),
			formula.On("oxidant=permanganate", "target=iron", "amount=3 mg/L").Is("demand", "2.82 mg/L", "0.06 mg/L", wtpd).Is("solids", "7.3 mg/L", "0.15 mg/L", wtpd),
			formula.On("oxidant=hypochlorite", "target=sulfide to sulfate", "amount=1 mg/L").Is("demand", "8 mg/L", "0.35 mg/L", "published: civil engineering handbook"),
			formula.On("oxidant=chlorine gas", "target=ammonia to nitrogen", "amount=1 mg/L").Is("demand", "7.6 mg/L", "0.02 mg/L", "published: Weiner, Applications of Environmental Aquatic Chemistry, p. 143")),
		Run: func(a formula.Args) (formula.Outcome, error) { return demanded(o.Of(a), t.Of(a), c.Of(a)) },
	}
}

func demanded(o Oxidant, t Target, c unit.Concentration) (formula.Outcome, error) {
	d, ok := Demand(o, t)
	if !ok {
		return formula.Outcome{}, fmt.Errorf("oxidant demand: %s does not take %s at useful speed", oxidantNames[o], targetNames[t])
	}
	alk, _ := AlkalinityUsed(o, t)
	mud, _ := SolidsMade(o, t)
	mg := c.MgPerL()
	return formula.Give(
		formula.MgL.Gives("demand", "D", "oxidant used up", unit.MgPerL(d*mg)),
		formula.Alkalinity.Gives("alkalinity_used", "Alk", "alkalinity used up; below zero it is made", unit.AlkalinityAsCaCO3(alk.MgPerLAsCaCO3()*mg)),
		formula.MgL.Gives("solids", "S", "dry solids made", unit.MgPerL(mud*mg)),
		perMg.Gives("ratio", "", "oxidant for each weight of target", d)), nil
}

// vesselIn are the inputs of a water that reacts in a vessel.
type vesselIn struct {
	temperature              formula.In[unit.Temperature]
	ph                       formula.In[unit.PH]
	alkalinity               formula.In[unit.Alkalinity]
	tds, iron, mn, oxygen    formula.In[unit.Concentration]
	sulfide                  formula.In[unit.Sulfide]
	ammonia                  formula.In[unit.Nitrogen]
	chlorine                 formula.In[unit.Chlorine]
	permanganate, peroxide   formula.In[unit.Concentration]
	contact                  formula.In[time.Duration]
	tanks                    formula.In[float64]
	ferricCoat, manganeseOxi formula.In[unit.Concentration]
}

func vessel() vesselIn {
	none := func(i formula.In[unit.Concentration]) formula.In[unit.Concentration] {
		return i.Between("0 mg/L", "200 mg/L").Assume("0 mg/L", formula.LeftOut)
	}
	x := ions()
	return vesselIn{
		temperature: temperatureIn(), ph: phIn().Between("5.5", "9.5"), alkalinity: alkalinityIn().Between("1 mg/L as CaCO3", "2000 mg/L as CaCO3"), tds: someTDS(),
		iron: none(x.iron), mn: none(x.manganese), oxygen: none(oxygenIn()), sulfide: x.sulfide, ammonia: x.ammonia,
		chlorine:     formula.Chlorine.Takes("free_chlorine", "Cl2", "free chlorine fed").Between("0 mg/L as Cl2", "200 mg/L as Cl2").Assume("0 mg/L as Cl2", formula.LeftOut),
		permanganate: none(formula.MgL.Takes("permanganate", "KMnO4", "permanganate fed, as KMnO4")), peroxide: none(formula.MgL.Takes("peroxide", "H2O2", "peroxide fed, as H2O2")),
		contact:      formula.Time.Takes("contact", "t", "time the water stays").Between("0 s", "30 days"),
		tanks:        formula.Count.Takes("tanks", "N", "equal stirred tanks that mix as the vessel does; 0 is plug flow").Between("0", "100").Assume("0", "plug flow"),
		ferricCoat:   formula.MgL.Takes("coating", "s", "ferric coating of a bed, as the iron in suspension that would act as fast").Between("0 mg/L", "20000 mg/L").Assume("0 mg/L", "plain water"),
		manganeseOxi: formula.MgL.Takes("manganese_oxide", "sm", "manganese oxide coating, as MnO2 in suspension").Between("0 mg/L", "20000 mg/L").Assume("0 mg/L", "plain water"),
	}
}

// mix reads the raw water, with carbon from its pH.
func (v vesselIn) mix(m *Model, a formula.Args, c Conditions) Mix {
	return Mix{
		IronII: v.iron.Of(a), ManganeseII: v.mn.Of(a), Oxygen: v.oxygen.Of(a), Permanganate: v.permanganate.Of(a), Peroxide: v.peroxide.Of(a),
		FreeChlorine: v.chlorine.Of(a), Ammonia: v.ammonia.Of(a), Sulfide: v.sulfide.Of(a), Alkalinity: v.alkalinity.Of(a),
		Carbon: m.Carbonate(c.Temperature, c.Ionic).Carbon(v.ph.Of(a), v.alkalinity.Of(a)),
	}
}

func vesselFormula() formula.Formula {
	v := vessel()
	return formula.Formula{
		Name: "oxidation_in_vessel", Subject: onOxidation, What: "what is left of iron, manganese, sulfide, ammonia and oxidant after a time, pH following",
		Inputs: formula.Inputs(v.temperature, v.ph, v.alkalinity, v.contact, v.iron, v.mn, v.sulfide, v.ammonia, v.oxygen, v.chlorine, v.permanganate, v.peroxide,
			v.tanks, v.ferricCoat, v.manganeseOxi, v.tds),
		Equation: "d/dt of each by its rate law, pH from alkalinity and carbon at each step; slow law of iron with oxygen",
		Range:    "organic matter and the capture of solids left out", Error: "iron with oxygen by a factor of six and more; coatings by ten", Source: "each rate in its factor", Kind: source.Published,
		Factors: []source.Factor{ironSlowRate, flocRate, ironChlorineRate, manganeseChlorineRate, manganeseOxideRate},
		Examples: formula.By(formula.On("temperature=12 C", "ph=7.2", "alkalinity=2000 mg/L as CaCO3", "ferrous_iron=0.001 mg/L", "oxygen=10.8 mg/L", "contact=100 min", "tds=400 mg/L").
			Is("ferrous_iron_left", "0.0005 mg/L", "0.00003 mg/L", "half-life of the slow law (Millero et al. 1987) worked apart: 100 min")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			m := New(a.Factors)
			c := Conditions{Temperature: v.temperature.Of(a), Ionic: IonicFromTDS(v.tds.Of(a)), Law: SlowLaw}
			y, err := m.React(v.mix(m, a, c), c, Vessel{Time: v.contact.Of(a), Tanks: int(v.tanks.Of(a)), Surface: Surface{v.ferricCoat.Of(a), v.manganeseOxi.Of(a)}})
			if err != nil {
				return formula.Outcome{}, err
			}
			return formula.Give(
				formula.MgL.Gives("ferrous_iron_left", "Fe", "still ferrous", y.IronII), formula.MgL.Gives("iron_solid", "Fe(OH)3", "turned to floc, as Fe", y.IronSolid),
				formula.MgL.Gives("manganese_left", "Mn", "still dissolved", y.ManganeseII), formula.Sulfide.Gives("sulfide_left", "H2S", "sulfide left", y.Sulfide),
				formula.Nitrogen.Gives("ammonia_left", "NH3", "free ammonia left", y.Ammonia), formula.MgL.Gives("oxygen_left", "O2", "oxygen left", y.Oxygen),
				formula.Chlorine.Gives("free_chlorine_left", "Cl2", "free residual", y.FreeChlorine), formula.Chlorine.Gives("combined_chlorine", "", "monochloramine", y.CombinedChlorine),
				formula.PH.Gives("ph", "pH", "pH then", m.PHOf(y, c)), formula.Alkalinity.Gives("alkalinity_left", "Alk", "alkalinity then", y.Alkalinity)), nil
		},
	}
}
