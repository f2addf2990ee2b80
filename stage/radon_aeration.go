package stage

import (
	"fmt"
	"slices"

	"wellwright/chem"
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// radonAeration blows much air through the water in a closed box that is vented
// above the roof, and pumps the water up again.
type radonAeration struct{}

// The kinds of radon aerator.
const (
	DiffusedBoxes = "diffused bubbles, three boxes"
	BubblePlates  = "bubble plates"
)

// radonKind is one make of box.
type radonKind struct {
	label  string
	boxes  int
	ratio  float64
	fresh  bool
	basin  float64 // gal of water in it
	blower float64 // kW
}

// radonKinds are the kinds on the market: boxes, air for each volume of water, and
// whether each box gets fresh air. Kind: common practice, 20 to 100 of air.
var radonKinds = [...]radonKind{
	{DiffusedBoxes, 3, 30, true, 100, 0.15},
	{BubblePlates, 4, 80, false, 60, 0.25},
}

func (radonAeration) ID() media.Process { return media.RadonAeration }

func (radonAeration) Sizes(j *Job) []Size {
	var zs []Size
	for _, k := range radonKinds {
		for _, b := range storeBoosters(j) {
			zs = append(zs, Size{Mode: k.label, Volume: unit.Gal(k.basin), Tanks: 1, Booster: b, Settings: Settings{AirToWater: k.ratio}})
		}
	}
	return zs
}

// radonAerator is one laid out.
type radonAerator struct {
	store
	ratio    float64
	boxes    int
	fresh    bool
	blower   float64 // kW
	approach float64
	left     float64 // share of the radon
}

func newRadonAerator(j *Job, z Size) radonAerator {
	i := max(0, slices.IndexFunc(radonKinds[:], func(k radonKind) bool { return k.label == z.Mode }))
	k := radonKinds[i]
	a := radonAerator{store: newStore(j, z), ratio: z.Settings[AirToWater], boxes: k.boxes, fresh: k.fresh, blower: k.blower, approach: j.Site.Factors.Of(radonApproach)}
	switch j.Fault {
	case BlowerStopped:
		a.ratio = 0
	case SprayBlocked:
		a.ratio *= faultSpray
	}
	a.left = a.radonLeft(j.In.Temperature)
	return a
}

// radonLeft is the share of radon behind the boxes.
func (a radonAerator) radonLeft(t unit.Temperature) float64 {
	left, err := chem.RadonLeft(t, chem.RadonAir{Ratio: a.ratio, Stages: a.boxes, Approach: a.approach, Fresh: a.fresh})
	if err != nil {
		return 1
	}
	return left
}

func (radonAeration) Run(j *Job, z Size) Outcome {
	a := newRadonAerator(j, z)
	o := Outcome{Supply: a.supply(), Needs: a.needs(), Settings: Settings{}, Washes: []Wash{a.cleaning()}}
	o.Limits = append(Envelope(j, media.RadonAeration), drop(a.limits(), false, "storage_days", "storage_age", "storage_room")...)
	o.Limits = append(append(o.Limits, alkalinityLeft(j)...), a.radonLimits()...)
	blown := a.blown(j.In)
	o.Out = a.stored(blown, false)
	o.Out.Uncovered = true
	o.Settings[OxygenHaveMgL] = blown.Oxygen.MgPerL()
	o.Needs.Vent = true
	if j.Lean {
		return o
	}
	o.AtPeak = a.stored(blown, true)
	o.AtPeak.Uncovered = true
	o.Settings[VolumeGal], o.Settings[BoosterGPM] = z.Volume.Gal(), z.Booster.GPM()
	o.Settings[FillMinPerDay], o.Settings[PressureTankGal] = a.fillMin, boosterTankGal
	o.Settings[AirToWater], o.Settings[RadonLeftPCiL] = z.Settings[AirToWater], o.Out.Radon.PCiPerL()
	o.Settings[ExhaustRadonPCiL] = a.exhaust()
	o.Bill = a.radonBill()
	o.Cautions = a.radonCautions()
	o.WillNot = []string{
		"It does not touch radon that comes up through the floor: test the air of the house.",
		"It takes no iron to count on: iron plates out in it, and a filter ahead keeps it clean.",
		"It does not make water with coliform safe: the water stands open to air.",
	}
	a.workRadon()
	return o
}

// blown lets the air take radon, carbon dioxide and sulfide, box by box, and give
// oxygen.
func (a radonAerator) blown(w water.State) water.State {
	j := a.j
	w.Radon = unit.PCiPerL(w.Radon.PCiPerL() * a.left)
	x, c := j.mix(w)
	for range a.boxes {
		y, err := j.Site.Model.Strip(x, c, chem.Air{Ratio: a.ratio / float64(a.boxes), Absolute: unit.KPa(seaLevelKPa), Approach: a.approach})
		if err != nil {
			return w
		}
		x = y
	}
	return j.remixed(w, x, c)
}

// exhaust is the radon of the air that is blown out, pCi for each litre of air.
//
//	A = (C0 - C)/r
//
// Source: mass balance.
func (a radonAerator) exhaust() float64 {
	if a.ratio <= 0 {
		return 0
	}
	return exhaustOf(a.j.In.Radon.PCiPerL()*(1-a.left), a.ratio)
}

func exhaustOf(taken, ratio float64) float64 { return taken / ratio }

// radonLimits are those of what is left, of scale and of the vent.
func (a radonAerator) radonLimits() []Limit {
	set, w := a.j.Site.Factors, a.j.In
	want, scale := set.In(radonWanted), set.In(radonScale)
	return []Limit{
		{ID: "radon_behind", Have: w.Radon.PCiPerL() * a.left, Need: want.Value, Unit: "pCi/L", AtMost: true, Soft: true,
			Say: "more radon is left than the advice of the state", Kind: want.Kind, From: want.From},
		{ID: "scale_of_aeration", Have: w.Hardness().GPG(), Need: scale.Value, Unit: "gpg", AtMost: true, Soft: true,
			Say: "as carbon dioxide leaves, scale may form on plates and pipes: soften ahead, or clean often", Kind: scale.Kind, From: scale.From},
	}
}

// radonCautions are those of the air first.
func (a radonAerator) radonCautions() []string {
	cs := []string{
		"Lead the exhaust outdoors above the roof, away from windows and fresh-air intakes, by the code of the place: it holds the radon that was in the water.",
		"The box itself must be tight: a leak puts the radon of the water into the room. Have the air of the room tested after start-up.",
		"Wire blower and well pump so that no water comes when the blower has stopped.",
	}
	if e := a.exhaust(); e > 0 {
		cs = append(cs, fmt.Sprintf("The exhaust carries about %.0f pCi in each litre of air.", e))
	}
	cs = append(cs, storeCautions()...)
	return append(cs, "The water has stood open to air: disinfect behind it, with ultraviolet light or a chlorine residual.",
		"Clean boxes and plates each 6 to 12 months.")
}

// radonBill is that of a store with the aerator in the place of its tank.
func (a radonAerator) radonBill() cost.Bill {
	b := a.bill()
	tank, _ := media.StorageTankOf(a.z.Volume)
	b.First = slices.DeleteFunc(b.First, func(l cost.Line) bool { return l.Part == tank || l.Part == media.SprayHead })
	b.First = append(b.First, cost.Line{Part: media.RadonAerator, Amount: 1, Why: "box, blower and controls"},
		cost.Line{Part: media.VentKit, Amount: 1, Why: "leads the exhaust above the roof"})
	hours := a.fillMin / 60 * daysPerYear
	b.Yearly = append(b.Yearly, cost.Use{Part: media.ElectricityKWh, PerYear: a.blower * hours, Why: "blower"},
		cost.Use{Part: media.TestRadon, PerYear: 1, Why: "radon behind it, yearly"})
	b.Renewals = append(b.Renewals, cost.Renewal{Part: media.AirPump, Amount: 1, EveryYears: cost.Years{Low: 5, Mid: 8, High: 12}, Why: "blower worn out"})
	b.Hours += aeratorUpkeep
	return b
}

const aeratorUpkeep = 3.0 // hours of the owner a year, cleaning: common practice

func (a radonAerator) workRadon() {
	if !a.j.Site.Working.On() || a.ratio <= 0 {
		return
	}
	sym := formula.Sym
	a.j.Site.Working.Add(exhaustFormula().Step(ExhaustRadonPCiL, a.exhaust(), "pCi/L", formula.Syms(
		sym("C0", a.j.In.Radon.PCiPerL(), "pCi/L"), sym("C", a.j.In.Radon.PCiPerL()*a.left, "pCi/L"), sym("r", a.ratio, ""))))
}

func (radonAeration) Ways() []Way {
	return append(storeWays(),
		Way{BlowerStopped, "the blower has stopped", "radon back, pH not risen", "look at plug and filter; rebuild or change it; lock it to the well pump"},
		Way{SprayBlocked, "iron or scale plugs diffusers or plates", "less air, radon creeps up", "clean them; filter the iron or soften ahead"},
	)
}

var (
	radonApproach = source.Factor{
		Name: "radon_approach", What: "radon aerator: how far the air of each box comes toward balance with its water",
		Value: 0.5, Low: 0.1, High: 0.6, Kind: source.Published, From: "worked back from a pilot of diffused bubbles: 0.10 at 19 : 1 and 4 min, 0.59 at 12 : 1 and 19 min (J. Radioanal. Nucl. Chem. 241:3, 1999, abstract)",
	}
	radonWanted = source.Factor{
		Name: "radon_wanted", What: "radon aerator: radon in water, caution above", Unit: "pCi/L",
		Value: 2000, Low: 300, High: 10000, Kind: source.Published, From: "second hand: advice of New Hampshire 2,000, Maine 4,000, Massachusetts 10,000; 300 and 4,000 proposed in 1999, none in force",
	}
	radonScale = source.Factor{
		Name: "radon_scale", What: "radon aerator: hardness above which scale may form", Unit: "gpg",
		Value: 10, Low: 7, High: 15, Kind: source.Judgement, From: "carbon dioxide leaves and the pH rises; may scale above 10",
	}
	radonFactors = []source.Factor{radonApproach, radonWanted, radonScale, radonConstant, radonCarbonMost}
)
