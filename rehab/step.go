package rehab

import "wellwright/source"

// Step is one act of a procedure.
type Step struct {
	Number  int
	Do      string
	Why     string
	Who     Who
	Hazards []Hazard
	Kind    source.Kind
	From    string
}

const (
	trade     = "common practice"
	texas     = "Hickory Underground Water Conservation District, Texas"
	wisconsin = "Wisconsin DNR, Bacteriological contamination of drinking water wells"
	alberta   = "Alberta Agriculture, Water Wells That Last, module 6"
	ottawa    = "Ottawa County, Ohio, health department sheet"
)

// ShockSteps returns the order of a shock disinfection. Amounts are in the
// Shock that Plan returns.
func ShockSteps() []Step {
	return numbered(append(beforeChlorine(), withChlorine()...))
}

func beforeChlorine() []Step {
	return []Step{
		{Do: "Find how the bacteria get in and mend it first: cap, vent screen, casing height, grading, seal, cross-connection.",
			Why: "Chlorine does not mend a well; a shock repeated against bacteria that come back is the wrong tool.",
			Who: Specialist, Hazards: []Hazard{DrinkingWater}, Kind: source.Published,
			From: "University of Georgia Extension; University of Nebraska G1761; Maine CDC"},
		{Do: "Measure depth, static level, true bore, pump setting, tank, heater and pipe; reckon volumes and product; measure pH.",
			Why: "A gallon by guess is too little in a deep well and too much in a shallow one.",
			Who: Specialist, Hazards: []Hazard{ConfinedSpace}, Kind: source.Published, From: alberta},
		{Do: "Store water for one to two days and tell everyone: no drinking, bathing or laundry, animals off the line.",
			Why: "The house is without water for 12 to 48 hours.",
			Who: Owner, Hazards: []Hazard{DrinkingWater}, Kind: source.Published, From: "Texas A&M L-5441, 2003; " + alberta},
		{Do: "Put on goggles, gloves and old clothes; breaker off and locked before the cap comes off.",
			Why: "Bleach blinds, and the cap covers live wires.",
			Who: Specialist, Hazards: []Hazard{Splash, Electricity, StuckCap, Methane}, Kind: source.CommonPractice, From: trade},
		{Do: "Heater off, cooled and drained; by-pass softener, filters, carbon, reverse osmosis and ultraviolet; take out cartridges and aerators.",
			Why: "Hot water spoils chlorine, carbon eats it, membranes and resin are spoiled by it.",
			Who: Specialist, Hazards: []Hazard{HeaterDry}, Kind: source.Published, From: wisconsin + "; " + ottawa + "; Florida Health in Palm Beach County, 2016"},
		{Do: "Pump to waste until clear; hose or brush slime off what can be reached.",
			Why: "Dirt and slime eat chlorine and shelter what is meant to die.",
			Who: Specialist, Hazards: []Hazard{PumpHarm}, Kind: source.Published, From: "Michigan MDARD, water well disinfection"},
		{Do: "Thin the bleach in a clean tank: five to ten gallons at the least, better as much water as stands in the well.",
			Why: "Strong bleach sinks past the water it should treat and eats steel and rubber.",
			Who: Specialist, Hazards: []Hazard{Splash, PowderHeat, WrongTablets}, Kind: source.Published, From: wisconsin + "; " + alberta},
	}
}

func withChlorine() []Step {
	return []Step{
		{Do: "If the pH is to come down: vinegar in a pail of water, down the well, alone; run the hose round; measure; rinse the pail. Stop at the pH named.",
			Why: "Above pH 8 most chlorine is the slow form.",
			Who: Specialist, Hazards: []Hazard{ChlorineGas, Splash}, Kind: source.Published, From: "a drilling contractor's page on shock chlorination"},
		{Do: "Pour the thinned bleach evenly down the inside of the casing; rinse the cap with it.",
			Why: "The walls above the water need it too.",
			Who: Specialist, Hazards: []Hazard{ChlorineGas, Splash, Electricity}, Kind: source.Published, From: texas + "; Maryland COMAR 26.04.04.24"},
		{Do: "Breaker on; run a hose from a tap after the pressure tank back into the well, washing casing, drop pipe and wire: 15 minutes, an hour if there was slime, until the strip at the hose reads the target.",
			Why: "Nothing mixes a well but running it round.",
			Who: Specialist, Hazards: []Hazard{Electricity, Splash}, Kind: source.Published, From: texas},
		{Do: "Hose off; open each tap in turn from the nearest to the farthest, cold then hot, outside too, flush toilets, until each shows chlorine; close. The heater fills with it.",
			Why: "Pipes, tank and heater carry the same bacteria.",
			Who: Specialist, Hazards: []Hazard{Splash, HeaterDry}, Kind: source.Published, From: texas + "; " + wisconsin + "; " + ottawa},
		{Do: "Read the residual at the farthest tap after half an hour; below half the target add more and go round again.",
			Why: "The target is what is left after iron, slime and sulfide have eaten their share.",
			Who: Specialist, Kind: source.CommonPractice, From: trade},
		{Do: "Pour the last portion down the well; where the rock is to be reached, chase it with as much chlorinated water as stands in the well.",
			Why: "What lives behind the screen is reached only by water pushed outward.",
			Who: Specialist, Hazards: []Hazard{Splash}, Kind: source.Published, From: wisconsin + "; " + alberta},
		{Do: "Breaker off; let it stand.",
			Why: "Chlorine times hours is what kills.",
			Who: Owner, Hazards: []Hazard{DrinkingWater}, Kind: source.Published, From: "Ontario, Water supply wells, ch. 8; " + ottawa + "; Texas A&M L-5441, 2003"},
		{Do: "Read the residual: 10 mg/L and more is good; none means that the dirt won: clean and begin again.",
			Why: "A shock that ran out of chlorine did not happen.",
			Who: Specialist, Kind: source.CommonPractice, From: trade},
		{Do: "Pump to waste outdoors through a hose, throttled to what the yard takes; in a weak well rest longer than it ran. Then each tap for a short time, heater too.",
			Why: "Loosened rust, metals and chlorine leave by the hose, not through the house.",
			Who: Specialist, Hazards: []Hazard{Discharge, PumpHarm}, Kind: source.Published, From: ottawa + "; " + texas + "; Will County, Illinois; pacing common practice"},
		{Do: "Cap, vent screen and aerators back, cartridges new; disinfect each treatment unit by its own rule; heater on when full.",
			Why: "A by-passed unit still holds what was in the water.",
			Who: Specialist, Hazards: []Hazard{HeaterDry}, Kind: source.CommonPractice, From: trade},
		{Do: "Use for washing when the strip shows less than 4 mg/L; drink only after the laboratory finds no coliform.",
			Why: "A shock is proved by the test afterwards and by nothing else.",
			Who: Owner, Hazards: []Hazard{DrinkingWater}, Kind: source.CommonPractice, From: trade},
		{Do: "Write down date, product, dose, residuals and who did it; take the samples of the retest table.",
			Why: "The next person must know.",
			Who: Specialist, Kind: source.CommonPractice, From: trade},
	}
}

// HouseSteps returns the order of disinfecting heater and pipes alone.
func HouseSteps() []Step {
	return numbered([]Step{
		{Do: "Tell everyone: no drinking, bathing or laundry until the end. Goggles and gloves on.",
			Why: "The house lines hold strong chlorine for half a day.",
			Who: Owner, Hazards: []Hazard{DrinkingWater, Splash}, Kind: source.CommonPractice, From: trade},
		{Do: "Heater off, cooled and drained; by-pass and shut off all treatment; cartridges out.",
			Why: "Hot water spoils chlorine and media spoil with it.",
			Who: Specialist, Hazards: []Hazard{HeaterDry}, Kind: source.CommonPractice, From: trade},
		{Do: "Water off and pressure let down; pour the thinned bleach into an empty filter housing or another opening after the pressure tank; close, water on.",
			Why: "From there it runs to every tap and not into the well.",
			Who: Specialist, Hazards: []Hazard{Splash, WrongTablets}, Kind: source.CommonPractice, From: trade},
		{Do: "Open each tap in turn, cold then hot, until the strip shows the target; close. The heater fills with it.",
			Why: "A line not opened is not treated.",
			Who: Specialist, Hazards: []Hazard{Splash, HeaterDry}, Kind: source.CommonPractice, From: trade},
		{Do: "Let it stand, power off.", Why: "Chlorine times hours is what kills.",
			Who: Owner, Hazards: []Hazard{DrinkingWater, HeaterDry}, Kind: source.CommonPractice, From: trade},
		{Do: "Drain the heater, flush each tap until the strip shows nothing, most of it by a hose outdoors; fill the heater, power on; cartridges new, treatment on again.",
			Why: "A septic tank bears a few gallons, not a heater of it.",
			Who: Specialist, Hazards: []Hazard{Discharge, HeaterDry}, Kind: source.CommonPractice, From: trade},
	})
}

// StepsFor returns the procedure of a purpose.
func StepsFor(p Purpose) []Step {
	switch p {
	case AfterCleaning:
		return RehabilitationSteps()
	case HouseOnly:
		return HouseSteps()
	}
	return ShockSteps()
}

func numbered(steps []Step) []Step {
	for i := range steps {
		steps[i].Number = i + 1
	}
	return steps
}

// RehabilitationSteps returns the order in which a well with slime or lost
// yield is brought back. All that goes down the well is a licensed contractor's
// work.
func RehabilitationSteps() []Step {
	const firms = "well-rehabilitation firms' pages"
	return numbered([]Step{
		{Do: "Measure specific capacity and lay it against the first record; look with a camera if a quarter or more is gone.",
			Why: "A small loss comes back easily, old hard scale hardly.", Who: Contractor, Kind: source.CommonPractice, From: firms + "; the quarter is common practice"},
		{Do: "Pull pump and pipe, wash under pressure, dip in 200 mg/L or more, keep off the ground.",
			Why: "Slime put back down seeds the well again.", Who: Contractor, Hazards: []Hazard{Electricity, Splash}, Kind: source.CommonPractice, From: "copied agency sheet on iron bacteria"},
		{Do: "Brush, scrape, surge, jet or air-lift; bail until clear.",
			Why: "Chlorine does not go through slime and scale.", Who: Contractor, Hazards: []Hazard{ConfinedSpace}, Kind: source.CommonPractice, From: firms},
		{Do: "Acid if there is scale or iron oxide: sulfamic, phosphoric, an organic acid or inhibited hydrochloric, held below pH 3 for 6 to 24 hours and surged; gas vented, waste neutralised; not in a weak cement or carbonate casing.",
			Why: "Iron and lime scale dissolve in acid alone.", Who: Contractor, Hazards: []Hazard{ChlorineGas, Splash, ConfinedSpace, Discharge}, Kind: source.CommonPractice, From: firms + "; strengths common practice"},
		{Do: "Pump the acid out wholly: pH within half a unit of raw water and no less than 6, before any chlorine.",
			Why: "Acid and chlorine together make poisonous gas.", Who: Contractor, Hazards: []Hazard{ChlorineGas}, Kind: source.CommonPractice, From: trade},
		{Do: "Chlorine at the target for cleaned wells, pH 6.5 to 7.5, two to five well volumes pushed into the rock or gravel, surged each hour, 24 hours.",
			Why: "What was loosened must be killed where it hides.", Who: Contractor, Hazards: []Hazard{ChlorineGas, Splash, PumpHarm}, Kind: source.CommonPractice, From: trade},
		{Do: "Pump to waste, put the pump back, shock the house side by itself with the treatment by-passed.",
			Why: "Pipes and tank carry the slime as well.", Who: Contractor, Hazards: []Hazard{Electricity, Discharge}, Kind: source.CommonPractice, From: trade},
		{Do: "Measure specific capacity again and write it down.",
			Why: "It is the only proof that the work was worth it.", Who: Contractor, Kind: source.CommonPractice, From: trade},
		{Do: "Upkeep each 6 to 24 months, before the slime is back; watch the toilet tank.",
			Why: "They grow back; sooner where little water is drawn.", Who: Specialist, Kind: source.FromMemory, From: "Ohio State University AEX-318, 2019, as cited elsewhere"},
		{Do: "If it is back within three months twice: continuous feed with contact and filter, or another well.",
			Why: "A well that fouls so fast cannot be kept clean by treatments.", Who: Specialist, Kind: source.CommonPractice, From: trade},
	})
}

// Retest is a sample or a look after the work. Days count from the last
// chlorine.
type Retest struct {
	What      string
	FirstDay  int
	LastDay   int
	Condition string
	Kind      source.Kind
	From      string
}

// Retests returns the tests that follow a shock. Bacteria are sampled only once
// a strip shows no chlorine.
func Retests(p Purpose) []Retest {
	all := []Retest{
		{"free chlorine by strip, less than 0.1 mg/L", 0, 2, "before any bacteria sample", source.CommonPractice, trade},
		{"total coliform and E. coli, first", 7, 14, "no chlorine, normal use; some departments sample from 48 hours or 3 to 5 days", source.CommonPractice,
			trade + "; 48 hours " + ottawa + "; 3 to 5 days Will County, Illinois"},
		{"total coliform and E. coli, second", 28, 42, "three to four weeks after the first", source.CommonPractice, trade},
		{"total coliform and E. coli, third", 90, 100, "after rain if it failed before", source.CommonPractice, trade},
		{"arsenic, lead, copper, nickel, chromium, uranium, manganese", 7, 14, "where raw arsenic is above 3 ug/L or the area is mapped for it", source.CommonPractice, trade},
	}
	if p == IronBacteria || p == SulfurBacteria || p == AfterCleaning || p == Upkeep {
		for _, days := range []int{30, 90, 180} {
			all = append(all, Retest{"iron-bacteria culture test, first draw", days, days + 7, "look into the toilet tank each month", source.CommonPractice, trade})
		}
	}
	return all
}

// Unit is how a piece of treatment fares in a shock.
type Unit struct {
	Name string
	Do   string
	Kind source.Kind
	From string
}

// Units returns what is done with each piece of equipment.
func Units() []Unit {
	return []Unit{
		{"softener", "By-pass. Later a quarter to half a cup of bleach in the filled brine well, then regenerate; resin is spoiled by more than a few mg/L for long.", source.Published, wisconsin},
		{"activated carbon", "By-pass. It eats the chlorine and then gives way; replace a bed that took the shock.", source.Published, "Texas A&M L-5441, 2003"},
		{"reverse osmosis and ultraviolet", "By-pass. The membrane dies of chlorine.", source.CommonPractice, trade},
		{"cartridge", "Out; a new one after the purge.", source.Published, wisconsin},
		{"manganese-coated media and ore", "By-pass. They stand a few mg/L, not 200; loosened iron would blind them: purge the well first.", source.CommonPractice, trade},
		{"copper-zinc redox granules", "By-pass. Strong chlorine corrodes them.", source.CommonPractice, trade},
		{"calcite", "By-pass. Vinegar dissolves it.", source.CommonPractice, trade},
		{"chlorine feeder", "Off.", source.CommonPractice, trade},
		{"water heater", "Power off, drained, filled with solution, 12 hours, drained, filled, power on. A smelling heater may be treated by itself at 50 to 100 mg/L.", source.CommonPractice, trade},
		{"pressure tank", "The bladder stands 24 hours at no more than 200 mg/L.", source.CommonPractice, trade},
		{"old steel casing or galvanised drop pipe", "Liquid bleach can loosen rust that jams the pump. Agencies differ: a Michigan county asks for granules in steel, Wisconsin for none where there is arsenic. Ask the contractor.", source.Published,
			"Washtenaw County, Michigan; " + wisconsin},
	}
}
