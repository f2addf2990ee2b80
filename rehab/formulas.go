package rehab

import (
	"fmt"
	"time"

	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
)

const (
	onShock    = "shock disinfection and rehabilitation"
	shockCare  = "strong chlorine burns; with acid it gives off chlorine gas, which kills in a pit; power off before the cap is opened; local code and the licensed well contractor come first"
	stateRule  = "Mich. Admin. Code R 325.1661, table 5"
	field      = "MIL-HDBK-1164, pp. 26-27"
	kuoBook    = "Kuo, Practical Design Calculations for Groundwater and Soil Remediation, example 2.23"
	labelRule  = "label rule: per cent times ten is g/L"
	shockModel = "closed carbonate and hypochlorite system worked outside the program"
)

var (
	labelIn   = formula.Measured("per cent", formula.Measure{Unit: "%", Size: 1}, formula.Measure{Unit: "%", Size: 1})
	productIn = formula.Measured("chlorine times time", formula.Measure{Unit: "mg h/L", Size: 1}, formula.Measure{Unit: "mg h/L", Size: 1}, formula.Measure{Unit: "mg·h/L", Size: 1})
)

// Formulas lists the public formulas of this room.
func Formulas() []formula.Formula {
	return []formula.Formula{volumeFormula(), packFormula(), systemFormula(), targetFormula(), massFormula(), amountFormula(), labelFormula(), pouredFormula(), contactFormula(), cryptoFormula(), shockPHFormula(), purgeFormula(), quenchFormula(), lossFormula()}
}

func lengthIn(name, symbol, what string) formula.In[unit.Length] {
	return formula.Length.Takes(name, symbol, what).Between("0 ft", "5000 ft")
}

func boreIn() formula.In[unit.Length] {
	return formula.Bore.Takes("casing_bore", "d", "true inside diameter of the casing").Between("1 in", "120 in")
}

func volumeIn(name, symbol, what string) formula.In[unit.Volume] {
	return formula.Volume.Takes(name, symbol, what).Between("0 gal", "1000000 gal")
}

func doseIn(what string) formula.In[unit.Chlorine] {
	return formula.Chlorine.Takes("dose", "C", what).Between("0 mg/L as Cl2", "1000 mg/L as Cl2")
}

// columnIn are the levels of a well.
type columnIn struct{ bore, static, depth formula.In[unit.Length] }

func column() columnIn {
	return columnIn{boreIn(), lengthIn("static_level", "Ls", "static level below ground"), lengthIn("depth", "Ld", "depth of the well below ground")}
}

func (c columnIn) well(a formula.Args) Well {
	return Well{CasingBore: c.bore.Of(a), Static: c.static.Of(a), Depth: c.depth.Of(a)}
}

func volumeFormula() formula.Formula {
	c := column()
	return formula.Formula{
		Name: "well_volume", Subject: onShock, What: "water standing in a round well",
		Inputs: formula.Inputs(c.bore, c.static, c.depth), Equation: "V = π/4 d² (Ld - Ls)", Error: "10 % where the true bore is known", Source: "geometry", Kind: source.Derived,
		Examples: formula.By(formula.On("casing_bore=6 in", "static_level=20 ft", "depth=120 ft").Is("volume", "150 gal", "4.5 gal", "published: Hickory Underground Water Conservation District, Texas, by the rounded rule of 1.5 gal/ft"),
			formula.On("casing_bore=8 in", "static_level=0 ft", "depth=100 ft").Is("volume", "261.1 gal", "1.3 gal", "published: Indiana 327 IAC 8-3.4-24"),
			formula.On("casing_bore=1.40 m", "static_level=0 m", "depth=3.5 m").Is("volume", "5 m3", "0.5 m3", "published: UNHCR with WHO, 1997, rounded down")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			w := c.well(a)
			o := formula.Give(formula.Volume.Gives("volume", "V", "in the well", RoundVolume(w.CasingBore, w.Column()))).With(formula.Symbol{Name: "column", Value: w.Column().Ft(), Unit: "ft"})
			if w.Column().Ft() == 0 {
				o = o.Say("the static level stands no higher than the bottom: the well is dry, or a level is wrong")
			}
			return o, nil
		},
	}
}

func packFormula() formula.Formula {
	b := boreIn()
	h := formula.Bore.Takes("hole_bore", "db", "diameter of the drilled hole").Between("1 in", "120 in")
	l := lengthIn("pack_length", "h", "length of the pack below the water level")
	p := formula.Share.Takes("porosity", "p", "pore space of the pack").Between("5 %", "60 %").Assume("35 %", "gravel pack, 25 to 40 %")
	return formula.Formula{
		Name: "pack_volume", Subject: onShock, What: "water in the pores of a gravel pack around a casing",
		Inputs: formula.Inputs(b, h, l, p), Equation: "V = π/4 (db² - d²) h p", Source: kuoBook, Kind: source.Published,
		Examples: formula.By(formula.On("casing_bore=4 in", "hole_bore=10 in", "pack_length=14.5 ft", "porosity=40 %").Is("volume", "2.66 ft3", "0.02 ft3", "published: "+kuoBook+", 3.92 ft3 less the casing's 1.26")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			if h.Of(a).Ft() < b.Of(a).Ft() {
				return formula.Outcome{}, fmt.Errorf("pack_volume: hole_bore %s is less than casing_bore %s; the drilled hole is the larger", h.Of(a), b.Of(a))
			}
			return formula.Give(formula.Volume.Gives("volume", "V", "in the pores", PackVolume(b.Of(a), Pack{Bore: h.Of(a), Length: l.Of(a), Porosity: p.Of(a)}))), nil
		},
	}
}

func systemFormula() formula.Formula {
	c := column()
	t := volumeIn("tank_volume", "", "whole volume of the pressure tank").Assume("0 gal", "the house allowance stands for tank and pipes")
	pre, out := formula.Pressure.Takes("precharge", "", "air charge of the tank").Between("0 psi", "100 psi").Assume("38 psi", "2 psi below a 40 psi cut-in"), formula.Pressure.Takes("cut_out", "", "cut-out").Between("0 psi", "100 psi").Assume("60 psi", "usual switch")
	h := volumeIn("heater", "", "water heater, if it is disinfected too").Assume("0 gal", "bypassed")
	return formula.Formula{
		Name: "shock_volume", Subject: onShock, What: "all the water that a shock disinfection must reach",
		Inputs: formula.Inputs(c.bore, c.static, c.depth, t, pre, out, h), Equation: "V = well + tank and pipes + heater", Error: "10 % where the true bore is known", Source: "geometry; house rules common practice", Kind: source.CommonPractice, Factors: []source.Factor{HouseAllowance},
		Examples: formula.By(formula.On("casing_bore=6 in", "static_level=0 ft", "depth=100 ft").Is("well", "146.9 gal", "0.15 gal", "published: Indiana 327 IAC 8-3.4-24").Is("total", "196.9 gal", "0.15 gal", "the same and the allowance of 50 gal of county sheets")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			w := c.well(a)
			w.Plumbing = Plumbing{CutOut: out.Of(a), Heater: h.Of(a)}
			if t.Of(a).Gal() > 0 {
				w.Plumbing.Tank = &hydraulic.PressureTank{Total: t.Of(a), Precharge: pre.Of(a)}
			}
			v, err := VolumesOf(a.Factors, w)
			if err != nil {
				return formula.Outcome{}, err
			}
			o := formula.Give(formula.Volume.Gives("total", "V", "well and house", v.Total()), formula.Volume.Gives("well", "", "in the well", v.Well()), formula.Volume.Gives("house", "", "in tank, pipes and heater", v.House()))
			if v.Assumed {
				o = o.Say("tank and pipes were not measured: the house allowance stands for them")
			}
			return o, nil
		},
	}
}

func targetFormula() formula.Formula {
	all := []Purpose{Coliform, AfterWork, FloodedWell, IronBacteria, SulfurBacteria, AfterCleaning, Upkeep, HouseOnly}
	p := formula.Choice("purpose", all, Purpose.String).Takes("purpose", "", "why the well is shocked")
	return formula.Formula{
		Name: "shock_target", Subject: onShock, What: "chlorine residual to hold in a well, by purpose",
		Inputs: formula.Inputs(p), Equation: "read from a table", Error: "agencies print 50 to 500 mg/L", Source: "agencies as named in each factor", Kind: source.CommonPractice, Care: shockCare, Factors: targets[:],
		Examples: formula.By(formula.On("purpose=iron bacteria").Is("target", "200 mg/L as Cl2", "0 mg/L as Cl2", "published: "+alberta)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			low, _, high := a.Factors.Range(p.Of(a).Factor())
			return formula.Give(formula.Chlorine.Gives("target", "C", "residual to hold", p.Of(a).Target(a.Factors))).
				With(formula.Symbol{Name: "least in use", Value: low, Unit: "mg/L"}, formula.Symbol{Name: "most in use", Value: high, Unit: "mg/L"}), nil
		},
	}
}

func massFormula() formula.Formula {
	v, c := volumeIn("volume", "V", "water to be treated"), doseIn("chlorine wanted in it")
	return formula.Formula{
		Name: "chlorine_mass", Subject: onShock, What: "chlorine that brings a volume to a dose",
		Inputs: formula.Inputs(v, c), Equation: "m = C V  (lb = 8.34 C V, V in million gallons)", Source: "operator training form: Kirkpatrick Price, Applied math for water plant operators, ch. 8", Kind: source.Published, Care: shockCare,
		Examples: formula.By(formula.On("volume=500 gal", "dose=100 mg/L as Cl2").Is("mass", "189 g", "0.5 g", "8.34 lb rule by hand")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.LightMass.Gives("mass", "m", "as Cl2", ChlorineFor(v.Of(a), c.Of(a)))), nil
		},
	}
}

func formIn() formula.In[Form] {
	return formula.Choice("form", []Form{Liquid, Dry}, func(f Form) string { return [...]string{"liquid", "dry"}[f] }).Takes("form", "", "liquid sodium hypochlorite, or dry calcium hypochlorite").Assume("liquid", "household bleach")
}

func percentIn() formula.In[float64] {
	return labelIn.Takes("percent", "p", "per cent on the label: sodium hypochlorite, or available chlorine of a dry product").Between("1 %", "80 %")
}

func ageIn() formula.In[time.Duration] {
	return formula.Time.Takes("age", "", "time since it was made; liquid fades").Between("0 days", "3 years").Assume("0 days", "fresh")
}

// monthHours is the hours of a mean month.
const monthHours = 365.25 / 12 * 24

func months(d time.Duration) float64 { return d.Hours() / monthHours }

func amountFormula() formula.Formula {
	v, c, f, p, age := volumeIn("volume", "V", "water to be treated"), doseIn("chlorine wanted in it"), formIn(), percentIn(), ageIn()
	return formula.Formula{
		Name: "product_amount", Subject: onShock, What: "bleach or dry hypochlorite that brings a volume to a dose",
		Inputs: formula.Inputs(v, c, p, f, age), Equation: "liquid v = m/s, s = 10 p g/L · share left;  dry M = 100 m/p", Range: "liquid 1 to 20 %, dry 20 to 80 %; plain, no scent, thickener or stabiliser", Error: "that of the label, 10 %",
		Source: "definition of available chlorine; fading common practice", Kind: source.CommonPractice, Care: shockCare,
		Examples: formula.By(formula.On("volume=293.8 gal", "dose=200 mg/L as Cl2", "percent=5.25 %").Is("liquid", "4.2 L", "0.17 L", "published: "+alberta+", twice the casing of 100 ft of 6 in"),
			formula.On("volume=146.9 gal", "dose=50 mg/L as Cl2", "percent=65 %", "form=dry").Is("mass", "42.5 g", "1.3 g", "published: Indiana 327 IAC 8-3.4-24, 1.5 oz"),
			formula.On("volume=100 gal", "dose=100 mg/L as Cl2", "percent=60 %", "form=dry").Is("mass", "0.14 lb", "0.0014 lb", "published: "+stateRule)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x, err := Product{Form: f.Of(a), Percent: p.Of(a), Months: months(age.Of(a))}.Needed(v.Of(a), c.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			o := formula.Give(formula.Volume.Gives("liquid", "v", "of the product", x.Liquid), formula.Small.Gives("liquid_small", "v", "the same", x.Liquid))
			if f.Of(a) == Dry {
				o = formula.Give(formula.LightMass.Gives("mass", "M", "of the product", x.Mass))
			}
			return o.With(formula.Symbol{Name: "m", Value: x.Chlorine.G(), Unit: "g Cl2"}), nil
		},
	}
}

func labelFormula() formula.Formula {
	p, age := percentIn().Between("1 %", "20 %"), ageIn()
	return formula.Formula{
		Name: "product_strength", Subject: onShock, What: "available chlorine of a liquid product by its label and age",
		Inputs: formula.Inputs(p, age), Equation: "s = 10 p · share left, g/L", Range: "to 12 months, cool and dark", Error: "large in heat; see bleach_decay for a known temperature", Source: "label rule of the extension bulletins; fading common practice", Kind: source.CommonPractice,
		Examples: formula.By(formula.On("percent=5.25 %").Is("strength", "52500 mg/L", "1 mg/L", labelRule)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x := Product{Form: Liquid, Percent: p.Of(a), Months: months(age.Of(a))}
			return formula.Give(formula.MgL.Gives("strength", "s", "available chlorine, as Cl2", x.Strength()), formula.Share.Gives("left", "", "of its first strength", x.Left())), nil
		},
	}
}

func pouredFormula() formula.Formula {
	l, v, p, age := volumeIn("poured", "v", "liquid that was poured in").Between("0 gal", "1000 gal"), volumeIn("volume", "V", "water in the well and house").Between("0.1 gal", "1000000 gal"), percentIn().Between("1 %", "20 %"), ageIn()
	return formula.Formula{
		Name: "dose_poured", Subject: onShock, What: "dose that an amount of bleach gave, such as the gallon an owner poured in",
		Inputs: formula.Inputs(l, v, p, age), Equation: "C = s v / V", Source: "mass balance", Kind: source.Derived, Care: shockCare,
		Examples: formula.By(formula.On("poured=0.1875 gal", "volume=100 gal", "percent=5.25 %").Is("dose", "100 mg/L as Cl2", "3 mg/L as Cl2", "published: Wisconsin DNR, Bacteriological contamination of drinking water wells, 3/4 qt"),
			formula.On("poured=1 gal", "volume=146.9 gal", "percent=5.25 %").Is("dose", "358 mg/L as Cl2", "2 mg/L as Cl2", "by hand: a gallon in 100 ft of 6 in casing")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			c := Product{Form: Liquid, Percent: p.Of(a), Months: months(age.Of(a))}.DoseFrom(l.Of(a), v.Of(a))
			o := formula.Give(formula.Chlorine.Gives("dose", "C", "in the water", c))
			if harm := a.Factors.Of(HarmChlorine); c.MgPerLAsCl2() > harm {
				o = o.Say("above %s mg/L pump, rubber, wire and old steel suffer", unit.Digits(harm))
			}
			return o, nil
		},
	}
}

func residualIn() formula.In[unit.Chlorine] {
	return formula.Chlorine.Takes("residual", "C", "residual held in the well").Between("1 mg/L as Cl2", "1000 mg/L as Cl2")
}

func contactFormula() formula.Formula {
	c := residualIn()
	return formula.Formula{
		Name: "shock_contact", Subject: onShock, What: "how long chlorinated water must stand in a well",
		Inputs: formula.Inputs(c), Equation: "t = 1000 mg h/L / C, held between the least and the most hours", Range: "50 to 1000 mg/L in clear water; slime and rust shelter what lives in them", Source: stateRule, Kind: source.Published, Care: shockCare,
		Factors: []source.Factor{ContactProduct, LeastHours, MostHours},
		Examples: formula.By(formula.On("residual=100 mg/L as Cl2").Is("by_rule", "10 h", "0.001 h", "published: "+stateRule).Is("stand", "12 h", "0.001 h", "published: Ontario, Water supply wells, ch. 8"),
			formula.On("residual=500 mg/L as Cl2").Is("by_rule", "2 h", "0.001 h", "published: "+stateRule)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			x := ContactTime(a.Factors, c.Of(a))
			return formula.Give(formula.Time.Gives("stand", "t", "to plan", x.Stand), formula.Time.Gives("by_rule", "", "by the product alone", x.ByRule), formula.Yes.Gives("cryptosporidium", "", "reaches the product for 3 log of Cryptosporidium", x.Crypto)), nil
		},
	}
}

func cryptoFormula() formula.Formula {
	c, t := residualIn(), formula.Time.Takes("contact", "t", "time of standing").Between("0 s", "30 days")
	const study = "published: Sci. Total Environ. 720:137451, 2020, abstract"
	return formula.Formula{
		Name: "shock_product", Subject: onShock, What: "chlorine times hours of a shock, against that for Cryptosporidium",
		Inputs: formula.Inputs(c, t), Equation: "P = C t ≥ 255 mg h/L", Source: "Sci. Total Environ. 720:137451, 2020, abstract", Kind: source.Published, Care: shockCare, Factors: []source.Factor{CryptoProduct},
		Examples: formula.By(formula.On("residual=20 mg/L as Cl2", "contact=12.75 h").Is("product", "255 mg h/L", "0.001 mg h/L", study).Is("reached", "yes", "", study), formula.On("residual=50 mg/L as Cl2", "contact=2 h").Is("reached", "no", "", study)),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(productIn.Gives("product", "P", "had", c.Of(a).MgPerLAsCl2()*t.Of(a).Hours()), formula.Yes.Gives("reached", "", "3 log of Cryptosporidium", ReachesCrypto(a.Factors, c.Of(a), t.Of(a)))), nil
		},
	}
}

func shockPHFormula() formula.Formula {
	t := formula.Temperature.Takes("temperature", "t", "temperature of the water").Between("2 C", "30 C")
	ph := formula.PH.Takes("ph", "pH", "pH of the raw water").Between("5.5", "9")
	alk := formula.Alkalinity.Takes("alkalinity", "Alk", "total alkalinity").Between("1 mg/L as CaCO3", "2000 mg/L as CaCO3")
	v, c := volumeIn("volume", "V", "water to be treated"), doseIn("chlorine added")
	return formula.Formula{
		Name: "shock_ph", Subject: onShock, What: "pH after the chlorine of a shock, and the vinegar that brings it to the best",
		Inputs: formula.Inputs(t, ph, alk, v, c), Equation: "Alk(h, C) + [OCl-] + [Ac-] = Alk0 + n, carbon fixed", Range: "closed to the air", Error: "0.2 in pH; higher by the caustic in the bleach", Source: "charge balance with the constants of carbonate, HOCl and acetic acid", Kind: source.Derived,
		Factors: []source.Factor{VinegarStrength, BestPH, LeastPH}, Care: "vinegar goes in first, diluted and alone, never with the chlorine: below pH 5 chlorine gas comes off",
		Examples: formula.By(formula.On("temperature=10 C", "ph=6.8", "alkalinity=150 mg/L as CaCO3", "volume=100 gal", "dose=100 mg/L as Cl2").Is("after", "7.40", "0.06", shockModel).Is("acid_share", "66 %", "3.5 %", shockModel).Is("vinegar", "0.09 gal", "0.03 gal", shockModel),
			formula.On("temperature=10 C", "ph=7", "alkalinity=200 mg/L as CaCO3", "volume=100 gal", "dose=0 mg/L as Cl2").Is("after", "7", "0.001", "limit: without chlorine the pH stays as it was").Is("vinegar", "0 gal", "0.001 gal", "limit: at the best pH no vinegar is asked")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			tt, p, k := t.Of(a), ph.Of(a), alk.Of(a)
			x, err := AcidityOf(a.Factors, Water{Temperature: &tt, PH: &p, Alkalinity: &k}, v.Of(a), c.Of(a))
			if err != nil {
				return formula.Outcome{}, err
			}
			return formula.Give(formula.PH.Gives("after", "pH", "after chlorine, no vinegar", x.AfterChlorine), formula.Share.Gives("acid_share", "", "of free chlorine as hypochlorous acid then", x.AcidShare),
				formula.Share.Gives("acid_share_best", "", "the same at the best pH", x.SharedAtBest), formula.Volume.Gives("vinegar", "", "white vinegar to the best pH", x.Vinegar), formula.Yes.Gives("needed", "", "pH after chlorine is above the best range", x.Needed)), nil
		},
	}
}

func purgeFormula() formula.Formula {
	w, h := volumeIn("well_volume", "Vw", "water standing in the well and its pack"), volumeIn("house_volume", "Vh", "water in tank, pipes and heater").Assume("0 gal", "the well alone")
	q := func(name, what string) formula.In[unit.Flow] {
		return formula.Flow.Takes(name, "", what).Between("0.1 gpm", "1000 gpm")
	}
	p, y := q("pump_flow", "what the pump moves"), q("yield", "what the well gives")
	return formula.Formula{
		Name: "purge", Subject: onShock, What: "water to pump to waste after the contact, and how long it takes",
		Inputs: formula.Inputs(w, p, y, h), Equation: "V = n Vw + Vh,  t = V / min(pump, yield)", Range: "its end is told by the strip, not by the clock", Source: kuoBook, Kind: source.Published, Factors: []source.Factor{PurgeVolumes}, Care: "chlorinated water harms septic tanks, lawns and streams: take the chlorine out first; local rule decides where it may go",
		Examples: formula.By(formula.On("well_volume=3.92 ft3", "pump_flow=5 gpm", "yield=10 gpm").Is("volume", "88 gal", "0.44 gal", "published: "+kuoBook).Is("time", "18 min", "0.6 min", "by hand: 88 gal at 5 gpm")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			pump, yield := p.Of(a), y.Of(a)
			x := PurgeOf(a.Factors, Volumes{Casing: w.Of(a), Rest: h.Of(a)}, &pump, &yield)
			o := formula.Give(formula.Volume.Gives("volume", "V", "to waste", x.Volume), formula.Time.Gives("time", "t", "at the lesser of pump and yield", x.Time))
			if x.Rest {
				o = o.Say("the well gives less than the pump takes: rest it between runs for longer than it ran")
			}
			return o, nil
		},
	}
}

func quenchFormula() formula.Formula {
	all := Agents()
	at := make([]int, len(all))
	var factors []source.Factor
	for i := range all {
		at[i], factors = i, append(factors, all[i].Factor)
	}
	g := formula.Choice("agent", at, func(i int) string { return all[i].Name }).Takes("agent", "", "what takes the chlorine out").Assume(all[0].Name, "mildest for an owner to handle")
	v, c := volumeIn("volume", "V", "water to be let go"), formula.Chlorine.Takes("residual", "C", "residual in it").Between("0 mg/L as Cl2", "1000 mg/L as Cl2")
	return formula.Formula{
		Name: "dechlorination", Subject: onShock, What: "agent that takes the chlorine out of a volume before it is let go",
		Inputs: formula.Inputs(v, c, g), Equation: "m = r C V", Error: "thiosulfate by a factor of three with pH", Source: "stoichiometry", Kind: source.Derived, Factors: append(factors, AgentExcess), Care: "test with a strip before letting water go; the State's rule decides",
		Examples: formula.By(formula.On("volume=500 gal", "residual=100 mg/L as Cl2").Is("mass", "470 g", "5 g", "stoichiometry: 176.12/70.91 of 189 g"), formula.On("volume=500 gal", "residual=100 mg/L as Cl2", "agent=sodium sulfite").Is("mass", "336 g", "6 g", "molar masses: 126.04/70.906 of 189 g")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			m := all[g.Of(a)].Quench(a.Factors, v.Of(a), c.Of(a))
			more := unit.G(m.G() * (1 + a.Factors.Of(AgentExcess)))
			return formula.Give(formula.LightMass.Gives("mass", "m", "of the agent", m), formula.LightMass.Gives("with_excess", "", "with the usual excess", more)), nil
		},
	}
}

func lossFormula() formula.Formula {
	c := func(name, symbol, what string) formula.In[unit.SpecificCapacity] {
		return formula.Capacity.Takes(name, symbol, what).Between("0 gpm/ft", "1000 gpm/ft")
	}
	first, now := c("first_capacity", "s0", "specific capacity when new"), c("capacity_now", "s", "specific capacity now")
	return formula.Formula{
		Name: "capacity_loss", Subject: onShock, What: "share of its first specific capacity that a well has lost, and whether it asks for work",
		Inputs: formula.Inputs(first, now), Equation: "loss = 1 - s/s0", Source: "definition; the trigger is common practice", Kind: source.CommonPractice, Factors: []source.Factor{CapacityTrigger},
		Examples: formula.By(formula.On("first_capacity=2 gpm/ft", "capacity_now=1.4 gpm/ft").Is("loss", "30 %", "0.0001 %", "definition").Is("work", "yes", "", "common practice: from a quarter"), formula.On("first_capacity=2 gpm/ft", "capacity_now=1.6 gpm/ft").Is("work", "no", "", "common practice: from a quarter")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			l, ok := CapacityLoss(first.Of(a), now.Of(a))
			if !ok {
				return formula.Outcome{}, fmt.Errorf("capacity_loss: first_capacity must be above zero; without a first record nothing can be said")
			}
			return formula.Give(formula.Share.Gives("loss", "", "lost", l), formula.Yes.Gives("work", "", "calls for rehabilitation", NeedsRehabilitation(a.Factors, l))), nil
		},
	}
}
