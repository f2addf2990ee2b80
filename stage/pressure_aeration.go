package stage

import (
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// pressureAeration forces air into the water under pressure and lets it stand in
// a closed tank with an air release. Carbon dioxide stays in.
type pressureAeration struct{}

func (pressureAeration) ID() media.Process { return media.PressureAeration }

// The ways of getting the air in.
const (
	byAirPump  = "air pump"
	byInjector = "injector"
)

// Sizes are the tanks of 80 and 120 gal with an injector or an air pump, then
// two of the large ones.
func (pressureAeration) Sizes(*Job) []Size {
	sizes := media.ContactTankSizes()
	small, large := sizes[len(sizes)-2], sizes[len(sizes)-1]
	return []Size{
		{Volume: small, Tanks: 1, Mode: byInjector}, {Volume: large, Tanks: 1, Mode: byInjector},
		{Volume: small, Tanks: 1, Mode: byAirPump}, {Volume: large, Tanks: 1, Mode: byAirPump},
		{Volume: large, Tanks: 2, Mode: byAirPump},
	}
}

func (p pressureAeration) Run(j *Job, z Size) Outcome {
	share := j.Site.Factors.Of(contactShare)
	oxygen := p.oxygen(j) // the tank's bypass goes round the mixer too
	in := aerated(j.In, unit.MgPerL(oxygen))
	minutes := contactMinutes(z, j.Peak, share)
	o := Outcome{
		Settings: Settings{ContactMin: minutes, OxygenHaveMgL: oxygen},
		Loss:     p.loss(j, z), Needs: contactNeeds(z), Washes: []Wash{blowDown(j, z)},
	}
	o.Needs.Power = z.Mode == byAirPump
	lived := j.faulty(share)
	o.Out = j.standing(in, contactMinutes(z, j.Typical(), lived), z.Tanks)
	o.AtPeak = j.standing(in, contactMinutes(z, j.Peak, lived), z.Tanks)
	o.Limits = append(append(Envelope(j, media.PressureAeration), alkalinityLeft(j)...),
		Limit{ID: "oxygen", Have: oxygen, Need: oxygenNeed(j.In), Unit: "mg/L", Say: "too little air for iron and sulfide", Kind: source.Derived, From: "electron balance"},
		ferrousLeft(j, o.AtPeak),
	)
	if !j.Lean {
		p.describe(j, z, &o)
		contactTank{}.working(j, z, share, minutes)
		p.working(j, oxygen)
	}
	return o
}

// describe adds the tank and what goes with it.
func (p pressureAeration) describe(j *Job, z Size, o *Outcome) {
	o.Settings[VolumeGal], o.Settings[TanksInSeries], o.Settings[OxygenNeedMgL] = z.Volume.Gal(), float64(z.Tanks), oxygenNeed(j.In)
	o.Bill = p.bill(z)
	o.Cautions = append([]string{
		"Vent the spent air at a release head, or it spurts from the taps; fizzy milky water clears from below and is harmless.",
		"Clean the injector or check valve monthly above 5 mg/L iron.",
	}, airedCautions(j)...)
	o.WillNot = []string{
		"It takes no iron out: the floc must be filtered behind it.",
		"Carbon dioxide stays in: the pH does not rise.",
		"Manganese is not to be promised with air.",
	}
}

func (pressureAeration) working(j *Job, oxygen float64) {
	if !j.Site.Working.On() {
		return
	}
	set, sym := j.Site.Factors, formula.Sym
	j.Site.Working.Add(forcedAirFormula().Step(OxygenHaveMgL, oxygen, "mg/L",
		formula.Syms(sym("O2in", j.In.Oxygen.MgPerL(), "mg/L"), sym("m", oxygenInFreeAir, "mg/L"),
			sym("t", set.Of(pressureUptake), ""), sym("r", set.Of(pressureAir), ""), sym("s", set.Of(pressureShare), "")),
		set.In(pressureUptake), set.In(pressureAir), set.In(pressureShare)))
}

// oxygen is what the water holds behind the mixer: what the air offers and the
// mixing transfers, at most its share of saturation under the pressure.
//
//	O2 = min( O2in + t r m, s C*(P) )
//
//	r  air for each volume of water, both at the atmosphere;  t  share taken up
//	m  oxygen in a litre of air at 10 °C, 289 mg
//	s  share of saturation reached;  C*(P)  saturation under the pressure
//
// Source: gas law; shares are judgement.
func (pressureAeration) oxygen(j *Job) float64 {
	set, w := j.Site.Factors, j.In
	if j.Fault == BlowerStopped || j.Fault == InjectorBlocked || j.Fault == BypassOpen {
		return w.Oxygen.MgPerL()
	}
	mid := (j.Supply.CutIn.PSI() + j.Supply.CutOut.PSI()) / 2
	most := set.Of(pressureShare) * saturated(set, w.Temperature, mid)
	return forcedOxygen(w.Oxygen.MgPerL(), set.Of(pressureUptake)*set.Of(pressureAir)*oxygenInFreeAir, most)
}

// oxygenInFreeAir is the oxygen in a litre of air at 10 °C and one atmosphere, mg:
// 0.2095 · 32.00 g/mol / 23.23 L/mol (gas law).
const oxygenInFreeAir = 289

// loss is that of the tank. An injector stands between the well pump and the
// pressure tank, where its loss comes off the pump and not off the house.
func (pressureAeration) loss(j *Job, z Size) Loss { return contactLoss(j, z) }

func (pressureAeration) bill(z Size) cost.Bill {
	b := contactBill(z)
	air := cost.Line{Part: media.AirPump, Amount: 1, Why: "forces air in"}
	if z.Mode == byInjector {
		air = cost.Line{Part: media.VenturiInjector, Amount: 1, Why: "draws air in"}
	} else {
		b.Yearly = append(b.Yearly, cost.Use{Part: media.ElectricityKWh, PerYear: 80, Why: "air pump"})
	}
	b.First = append(b.First, air, cost.Line{Part: media.AirRelease, Amount: 1, Why: "lets spent air out"})
	b.Renewals = append(b.Renewals, cost.Renewal{Part: air.Part, Amount: 1, EveryYears: cost.Years{Low: 3, Mid: 5, High: 8}, Why: "air pump or injector worn out"})
	b.Hours += 2
	return b
}

func (pressureAeration) Ways() []Way {
	return []Way{
		{BlowerStopped, "the air pump has stopped", "no oxygen behind the tank; iron still ferrous", "look at its relay and plug; rebuild or change it"},
		{InjectorBlocked, "the injector is blocked", "its whistle is gone; no oxygen behind the tank; iron still ferrous", "clean it, monthly above 5 mg/L iron"},
		{VentStuck, "the air release is stuck", "spurting taps; water level low in the tank, so that less time is left", "clean or change the float of the release"},
		{TankSludge, "the tank is half full of sludge", "brown slugs at high flow", "blow down until clear, then monthly"},
		{BypassOpen, "the bypass stands open", "water behind the tank reads as before it", "close the bypass"},
	}
}

var (
	pressureAir = source.Factor{
		Name: "pressure_aeration_air", What: "air for each volume of water, at the atmosphere",
		Value: 0.15, Low: 0.05, High: 0.25, Kind: source.Judgement, From: "a third of a cubic foot a minute at 8 to 12 gpm",
	}
	pressureUptake = source.Factor{
		Name: "pressure_aeration_uptake", What: "share of the air's oxygen that the water takes up",
		Value: 0.4, Low: 0.2, High: 0.7, Kind: source.Judgement, From: "bubbles under pressure in a tank",
	}
	pressureShare = source.Factor{
		Name: "pressure_aeration_saturation_share", What: "share of saturation under the pressure that the water reaches",
		Value: 0.5, Low: 0.3, High: 0.8, Kind: source.Judgement, From: "short mixing; the air stays richer than the water",
	}
	aerationFactors = []source.Factor{
		airCO2, ferrousBehindAir, pressureAir, pressureUptake, pressureShare,
		ventedTransfer,
	}
)
