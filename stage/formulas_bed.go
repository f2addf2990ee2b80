package stage

import (
	"math"

	"wellwright/formula"
	"wellwright/source"
	"wellwright/unit"
)

// Quantities that only beds have.
var (
	loadedIn = formula.Measured("iron load", formula.Measure{Unit: "grains/ft2/day", Size: 1}, formula.Measure{Unit: "g/m2/day", Size: gramsOnMetre})
	heldIn   = formula.Measured("iron held", formula.Measure{Unit: "grains/ft2", Size: 1}, formula.Measure{Unit: "g/m2", Size: gramsOnMetre})
	chargeIn = formula.Measured("charge of a bed", formula.Measure{Unit: "mg/L-gal/ft3", Size: 1}, formula.Measure{Unit: "g/L", Size: mgPerG * unit.Ft3(1).L() / unit.Gal(1).L()})
)

// gramsOnMetre is the grains/ft2 in a gram on a square metre.
var gramsOnMetre = unit.G(1).Grains() * unit.Ft(1).M() * unit.Ft(1).M()

func bedFormulas() []formula.Formula {
	return []formula.Formula{ironLoadFormula(), washDaysFormula(), emptyBedFormula(), greensandRunFormula(), neutraliserFormula(), elementFormula()}
}

func dailyIn() formula.In[unit.Flow] {
	return formula.DailyFlow.Takes("daily_use", "Q", "water in a day").Between("1 gal/day", "100000 gal/day")
}

func peakIn() formula.In[unit.Flow] {
	return formula.Flow.Takes("peak_flow", "Q", "peak flow of the house").Between("0.01 gpm", "1000 gpm")
}

func ironLoadFormula() formula.Formula {
	fe := formula.MgL.Takes("iron", "Fe", "ferrous and particulate iron that reaches the bed").Between("0 mg/L", "50 mg/L")
	mn := formula.MgL.Takes("manganese", "Mn", "manganese of both forms that reaches the bed").Between("0 mg/L", "20 mg/L").Assume("0 mg/L", formula.LeftOut)
	q, area := dailyIn(), formula.Area.Takes("area", "A", "area of the bed, of all vessels").Between("0.1 ft2", "100 ft2")
	return formula.Formula{
		Name: "iron_load", Subject: onStages, What: "iron and manganese that reach each square foot of a bed in a day",
		Inputs: formula.Inputs(fe, q, area, mn), Equation: "g = (Fe + Mn) · Q / A", Error: "that of the analyses and of the use", Source: "mass balance", Kind: source.Derived,
		Figures:  []string{IronLoadGrainsFt2},
		Examples: formula.By(formula.On("iron=3 mg/L", "daily_use=300 gal/day", "area=0.785 ft2").Is("load", "66.97 grains/ft2/day", "0.05 grains/ft2/day", "by hand: 3 · 300 / 17.118 mg/L for a grain in a gallon, over 0.785")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			g := grainsADay(fe.Of(a).MgPerL()+mn.Of(a).MgPerL(), q.Of(a)) / area.Of(a).Ft2()
			return formula.Give(loadedIn.Gives("load", "g", "on the bed in a day", g)), nil
		},
	}
}

func washDaysFormula() formula.Formula {
	h := heldIn.Takes("hold", "H", "iron and manganese that the bed holds between washes").Between("10 grains/ft2", "5000 grains/ft2")
	g := loadedIn.Takes("load", "g", "what reaches the bed in a day, sulfur and silt counted as the iron that would make as much mud").Between("0.001 grains/ft2/day", "5000 grains/ft2/day")
	most := formula.Time.Takes("longest", "m", "longest interval for the medium").Between("1 days", "60 days").Assume("3 days", "usual for iron filters")
	return formula.Formula{
		Name: "wash_days", Subject: onStages, What: "whole days between the washes of an iron filter",
		Inputs: formula.Inputs(h, g, most), Equation: "t = max(1, floor(min(H / g, m)))", Range: "what binds the bed is the mud", Error: "a factor of two, that of the hold", Source: "mass balance", Kind: source.Derived,
		Figures: []string{DaysBetween},
		Examples: formula.By(formula.On("hold=170 grains/ft2", "load=67 grains/ft2/day").Is("days", "2 days", "0 days", "by hand: 170 / 67 = 2.5, whole days"),
			formula.On("hold=170 grains/ft2", "load=20 grains/ft2/day").Is("days", "3 days", "0 days", "by hand: 8.5, of which the medium allows 3")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			run := h.Of(a) / g.Of(a)
			return formula.Give(formula.Time.Gives("days", "t", "between washes", spanOf(math.Max(1, washDays(run, daysOf(most.Of(a)))))), formula.Time.Gives("run", "", "that the bed holds out", spanOf(run))), nil
		},
	}
}

// washDays is the whole days between washes: what the load lets the bed hold out,
// no more than the longest.
func washDays(metered, longest float64) float64 {
	return math.Floor(math.Min(metered, longest) + 1e-9)
}

func emptyBedFormula() formula.Formula {
	v, q := formula.Media.Takes("media", "V", "volume of the medium").Between("0.1 ft3", "100 ft3"), peakIn()
	return formula.Formula{
		Name: "empty_bed_contact", Subject: onStages, What: "time that water spends in the room a bed takes up",
		Inputs: formula.Inputs(v, q), Equation: "t = V / Q", Range: "steady flow, the whole bed in use", Source: "definition", Kind: source.Derived,
		Figures:  []string{EmptyBedMin},
		Examples: formula.By(formula.On("media=2 ft3", "peak_flow=10 gpm").Is("contact", "1.496 min", "0.001 min", "by hand: 14.96 gal over 10 gpm")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			return formula.Give(formula.Time.Gives("contact", "t", "in the empty bed", minutesLong(emptyBed(v.Of(a), q.Of(a))))), nil
		},
	}
}

// emptyBed is the minutes that a flow takes through the room of a bed.
func emptyBed(v unit.Volume, q unit.Flow) float64 { return v.Gal() / math.Max(q.GPM(), leastFlow) }

func greensandRunFormula() formula.Formula {
	fe := formula.MgL.Takes("iron", "Fe", "ferrous and particulate iron").Between("0 mg/L", "15 mg/L")
	mn := formula.MgL.Takes("manganese", "Mn", "manganese").Between("0 mg/L", "15 mg/L").Assume("0 mg/L", formula.LeftOut)
	s := formula.Sulfide.Takes("sulfide", "H2S", "sulfide").Between("0 mg/L as H2S", "5 mg/L as H2S").Assume("0 mg/L as H2S", formula.LeftOut)
	v := formula.Media.Takes("media", "V", "greensand, of all vessels").Between("0.1 ft3", "100 ft3")
	c := chargeIn.Takes("charge", "C", "demand that a charge meets").Between("1000 mg/L-gal/ft3", "50000 mg/L-gal/ft3").Rests(greensandCapacity, 1, "mg/L-gal/ft3", "long-standing trade figure")
	u := formula.Share.Takes("share", "u", "share of it used before the next charge").Between("10 %", "100 %").Rests(greensandUse, 100, "%", "charge at 80 %")
	const rule = "long-standing trade formula, by hand (from memory)"
	return formula.Formula{
		Name: "greensand_run", Subject: onStages, What: "water between the permanganate charges of greensand",
		Inputs: formula.Inputs(fe, v, mn, s, c, u), Equation: "W = u C V / (Fe + 2 Mn + 5 H2S)", Range: "iron and manganese to 15 mg/L together, sulfide to 2", Error: "a quarter", Source: "long-standing trade formula (from memory)", Kind: source.FromMemory,
		Factors: []source.Factor{greensandCapacity, greensandUse}, Figures: []string{RunGal},
		Care: "permanganate is a strong oxidiser and stains: gloves and goggles, never near acid, glycerin or peroxide",
		Examples: formula.By(formula.On("iron=3 mg/L", "media=1 ft3", "manganese=0.5 mg/L", "sulfide=1 mg/L as H2S").Is("run", "889 gal", "1 gal", rule+": 8,000 / 9"),
			formula.On("iron=2 mg/L", "media=2 ft3", "share=100 %").Is("run", "10000 gal", "1 gal", rule+": 20,000 / 2")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			d := greensandDemand(fe.Of(a).MgPerL(), mn.Of(a).MgPerL(), s.Of(a).MgPerLAsH2S())
			run := greensandRun(1, c.Of(a)*v.Of(a).Ft3()*u.Of(a), d)
			return formula.Give(formula.Volume.Gives("run", "W", "between charges", unit.Gal(run))).With(formula.Sym("Fe + 2 Mn + 5 H2S", d, "mg/L")), nil
		},
	}
}

// greensandDemand is the permanganate demand as the trade's formula counts it, mg/L.
func greensandDemand(iron, manganese, sulfide float64) float64 {
	return iron + 2*manganese + 5*sulfide
}

// greensandRun is the gallons that vessels of a usable capacity, mg/L-gal each, run.
func greensandRun(vessels, capacity, demand float64) float64 {
	return vessels * capacity / math.Max(demand, traceMgL)
}

func neutraliserFormula() formula.Formula {
	q := dailyIn()
	c := formula.MgL.Takes("ceiling", "x∞", "what the water dissolves with all the time in the world; see calcite_balance").Between("0 mg/L", "2000 mg/L")
	t := formula.Time.Takes("contact", "t", "empty-bed contact at the usual flow").Between("0 min", "120 min")
	tc := formula.Time.Takes("time_constant", "T", "contact in which two thirds dissolve").Between("0.1 min", "60 min").Rests(neutraliserTime, 1, "min", "5 to 8 min leave it within 0.2 pH units of the end point")
	return formula.Formula{
		Name: "neutraliser_use", Subject: onStages, What: "calcite or magnesia blend that a neutralising bed loses in a year",
		Inputs: formula.Inputs(q, c, t, tc), Equation: "M = 365 Q x∞ (1 - exp(-t/T))", Range: "a bed in good order", Error: "grain size and age, a third; with 0.1 in the pH read, a fifth of the ceiling",
		Source: "equilibrium of calcite, Plummer & Busenberg 1982; first-order approach", Kind: source.Published,
		Factors: []source.Factor{neutraliserTime}, Figures: []string{ChemicalLbPerYear},
		Examples: formula.By(formula.On("daily_use=300 gal/day", "ceiling=70 mg/L", "contact=6 min", "time_constant=2 min").Is("use", "60.8 lb", "0.1 lb", "by hand: 365 · 1135.6 L · 70 mg · 0.9502 over 453,592 mg")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			share := approached(t.Of(a).Minutes(), tc.Of(a).Minutes())
			lb := dissolvedLb(q.Of(a), share*c.Of(a).MgPerL()) * daysPerYear
			return formula.Give(formula.Mass.Gives("use", "M", "in a year", unit.Lb(lb))).With(formula.Sym("1 - exp(-t/T)", share, "")), nil
		},
	}
}

// approached is the share of an end point reached in a time of a time constant.
func approached(t, constant float64) float64 { return 1 - math.Exp(-t/constant) }

// dissolvedLb is the pounds that a day's water takes with it, of so many mg/L.
func dissolvedLb(daily unit.Flow, mgL float64) float64 {
	return unit.G(mgL * unit.Gal(daily.GalPerDay()).L() / mgPerG).Lb()
}

func elementFormula() formula.Formula {
	s := formula.Mass.Takes("element_holds", "S", "solids that the element holds when full").Between("0.01 lb", "20 lb").Rests(largeDirt, 1, "lb", "element of 4.5 x 20 in; a 2.5 x 10 in one holds a fifth")
	f := formula.Share.Takes("share", "f", "share of the particles that it catches").Between("1 %", "100 %").Assume("100 %", "a fine element catches nearly all")
	c := formula.MgL.Takes("particles", "C", "floc and silt in the water, dry").Between("0.01 mg/L", "500 mg/L")
	q := dailyIn()
	return formula.Formula{
		Name: "element_life", Subject: onStages, What: "days that a cartridge lasts on a water with particles",
		Inputs: formula.Inputs(c, q, s, f), Equation: "t = S / (f C Q)", Range: "it is changed after six months at the latest", Error: "a factor of two", Source: "mass balance", Kind: source.Derived,
		Factors: []source.Factor{largeDirt}, Figures: []string{ElementDays},
		Examples: formula.By(formula.On("particles=3 mg/L", "daily_use=300 gal/day", "element_holds=0.85 lb").Is("days", "113.2 days", "0.2 days", "by hand: 385,554 mg over 3 · 1135.6 mg/day")),
		Run: func(a formula.Args) (formula.Outcome, error) {
			days := s.Of(a).Lb() / caughtLb(c.Of(a).MgPerL()*f.Of(a), q.Of(a))
			return formula.Give(formula.Time.Gives("days", "t", "until it is full", spanOf(days))), nil
		},
	}
}
