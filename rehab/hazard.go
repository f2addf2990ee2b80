package rehab

// Hazard is what can hurt in the work.
type Hazard int

// The hazards.
const (
	ChlorineGas Hazard = iota
	WrongTablets
	PowderHeat
	Electricity
	ConfinedSpace
	Splash
	HeaterDry
	StuckCap
	PumpHarm
	Methane
	DrinkingWater
	Discharge
)

var hazardWords = [...]struct{ name, control string }{
	ChlorineGas:   {"chlorine gas", "Acid, vinegar or ammonia must never meet chlorine outside the well or undiluted: poisonous gas comes off at once. Rinse every pail and funnel between them; use mineral acid and chlorine on separate days."},
	WrongTablets:  {"wrong product", "No slow or stabilised pool tablets, no scented or thickened bleach: only plain hypochlorite fit for drinking water."},
	PowderHeat:    {"powder", "Dry hypochlorite heats and spits with a little water, and burns with oil, acid or other pool chemicals. Stir the powder into plenty of water, never water into powder; keep it dry and by itself."},
	Electricity:   {"electricity", "Switch the breaker off and lock it before the cap comes off; keep wire splices dry; an old two-wire pump may have no ground."},
	ConfinedSpace: {"confined space", "Never go into a pit, tank or closed well house: hydrogen sulfide, methane, chlorine or want of oxygen kill without warning. This is work for people with gas meter, ventilation, harness and a second person outside."},
	Splash:        {"splash", "Goggles, gloves and old clothes; stand upwind in the open with running water at hand, and never work alone."},
	HeaterDry:     {"water heater", "Power or gas off before it is drained, full before it is on again: a dry element burns out and hot water scalds."},
	StuckCap:      {"stuck cap", "A frozen, over-tight or centre-bolt cap can drop the pump: leave it to a licensed well contractor."},
	PumpHarm:      {"pump", "Loosened rust and sand wear or jam the pump, and a dry pump burns out: run it slowly, listen, and stop when the flow breaks."},
	Methane:       {"methane or fuel", "A smell of gas or fuel at the well: stop, no flame and no switch; call the contractor and the health department."},
	DrinkingWater: {"drinking water", "Nobody drinks, cooks, bathes or washes in it until the chlorine is gone, and nobody drinks it until a laboratory has found no coliform; people and animals use stored or bottled water."},
	Discharge:     {"waste water", "Chlorinated water kills fish and the life of a septic tank: not to stream, pond, ditch or septic; the State's rule decides where it may go."},
}

// String names the hazard.
func (h Hazard) String() string { return hazardWords[h].name }

// Control says what keeps it from hurting anyone.
func (h Hazard) Control() string { return hazardWords[h].control }

// Who is the least qualified person a step is for.
type Who int

// The people.
const (
	Owner      Who = iota
	Specialist     // one who does this work for others, within local licence law
	Contractor     // licensed well contractor only
)

// String names who may do a step.
func (w Who) String() string {
	return [...]string{"owner", "specialist", "licensed well contractor"}[w]
}
