package stage

import (
	"math"
	"slices"
	"time"

	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// contactTank is one upright tank or several in series in which an oxidant is
// given time. It removes nothing but what is blown down from its bottom.
type contactTank struct{}

func (contactTank) ID() media.Process { return media.ContactTank }

// Sizes are the tanks on the price list, then two and three of the large ones in
// series; in a workplace rows of them side by side too, and none that takes more
// pressure than a stage may unless all do.
func (contactTank) Sizes(j *Job) []Size {
	zs := contactSizes()
	if !j.commercial() {
		return zs
	}
	for _, v := range media.ContactTankSizes()[1:] {
		for rows := 2; rows <= mostRows; rows++ {
			zs = append(zs, Size{Volume: v, Tanks: 1, Count: rows, Turn: Abreast}, Size{Volume: v, Tanks: 2, Count: rows, Turn: Abreast})
		}
	}
	most := j.Site.Factors.Of(stageLoss)
	mild := slices.DeleteFunc(slices.Clone(zs), func(z Size) bool { return contactLoss(j, z).Clean.PSI() > most })
	if len(mild) > 0 {
		return mild
	}
	return zs
}

// mostRows is how many rows of contact tanks stand side by side: common practice.
const mostRows = 3

// contactSizes are those of a house.
func contactSizes() []Size {
	var zs []Size
	sizes := media.ContactTankSizes()
	for _, v := range sizes {
		zs = append(zs, Size{Volume: v, Tanks: 1})
	}
	two, three := sizes[len(sizes)-2], sizes[len(sizes)-1]
	return append(zs, Size{Volume: two, Tanks: 2}, Size{Volume: three, Tanks: 2}, Size{Volume: three, Tanks: 3})
}

func (c contactTank) Run(j *Job, z Size) Outcome {
	share := j.Site.Factors.Of(contactShare)
	need := contactNeed(j)
	peak := contactMinutes(z, j.Peak, share)
	o := Outcome{
		Settings: Settings{ContactMin: peak},
		Needs:    contactNeeds(z),
		Loss:     contactLoss(j, z),
		Washes:   []Wash{blowDown(j, z)},
	}
	o.Limits = append(Envelope(j, media.ContactTank), Limit{
		ID: "contact_time", Have: peak, Need: need.minutes, Unit: "min", Say: need.say,
		Kind: need.factor.Kind, From: need.factor.From,
	})
	lived := j.faulty(share)
	o.Out = c.stand(j, z, j.Typical(), lived)
	if j.Lean && !disinfects(&j.In) {
		return o
	}
	o.AtPeak = c.stand(j, z, j.Peak, lived)
	if l, ok := disinfection(j, z, o.AtPeak); ok {
		o.Limits = append(o.Limits, l)
	}
	if !j.Lean {
		c.describe(z, &o)
		c.working(j, z, share, peak)
	}
	return o
}

// describe adds the tank and what goes with it.
func (contactTank) describe(z Size, o *Outcome) {
	o.Settings[VolumeGal], o.Settings[TanksInSeries] = z.Volume.Gal(), float64(z.Tanks)
	o.Bill = contactBill(z)
	o.Cautions = []string{
		"An ordinary pre-charged pressure tank gives no contact: the water need not pass through it.",
		"Blow the sludge down monthly; sludge left in the tank comes over in slugs.",
	}
	o.WillNot = []string{"It removes no iron: the floc it makes must be filtered behind it."}
}

// ShortCircuit is water taking a short way through a tank.
const ShortCircuit Fault = "short_circuit"

// faulty is the share of the tanks that is left to the water when they fail.
func (j *Job) faulty(share float64) float64 {
	switch j.Fault {
	case ShortCircuit:
		return j.Site.Factors.Of(contactShort)
	case TankSludge, VentStuck:
		return share / 2
	case BypassOpen:
		return 0
	}
	return share
}

// stand lets the water stand for the time it has at a flow. Each vessel mixes
// like mixedTanks equal tanks in series, which with a live share of 0.7 puts the
// first tenth of the water through in 0.3 of the nominal time.
func (contactTank) stand(j *Job, z Size, q unit.Flow, share float64) water.State {
	minutes := contactMinutes(z, q, share)
	w := j.standing(j.In, minutes, z.Tanks)
	return killed(w, j.In, credited(j, z, q, w))
}

// mixedTanks: four equal tanks in series have T10 = 0.436 of their mean time
// (gamma distribution), times the live share 0.7 makes 0.305.
const mixedTanks = 4

func contactMinutes(z Size, q unit.Flow, share float64) float64 {
	return contactOf(z.Volume, float64(z.Tanks), z.inRow(q), share)
}

// inRow is the flow through one of several rows of tanks side by side.
func (z Size) inRow(q unit.Flow) unit.Flow { return unit.GPM(q.GPM() / float64(z.Vessels())) }

// stock is how many tanks there are in all rows.
func (z Size) stock() float64 { return float64(z.Tanks * z.Vessels()) }

func minutesLong(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }

// contactWant is the least contact and why.
type contactWant struct {
	minutes float64
	factor  source.Factor
	say     string
}

// contactNeed reads the raw water: by the time it stands in the tank the sulfide
// may be gone and its sulfur still growing to floc.
func contactNeed(j *Job) contactWant {
	raw := j.Draw.Water
	want := func(f source.Factor, say string) contactWant {
		f = j.Site.Factors.In(f)
		return contactWant{f.Value, f, say}
	}
	switch {
	case j.Has(media.CoagulantFeed):
		return want(contactCoagulant, "floc of a coagulant needs time to grow before a bed can hold it")
	case raw.Bacteria >= bacteriaLikely:
		return want(contactSlime, "slime and the iron it holds take long to oxidise")
	case raw.Sulfide.MgPerLAsH2S() > j.Site.Factors.Of(contactSulfideFrom):
		return want(contactSulfide, "sulfur and iron need time to grow to floc that a bed can hold")
	}
	return want(contactIron, "iron needs time to turn to floc that a bed can hold")
}

// bacteriaLikely is the probability from which iron bacteria are planned for:
// more likely than not.
const bacteriaLikely = 0.5

// disinfection compares residual times time with what four log of viruses ask,
// where the water has shown coliform or has stood open.
func disinfection(j *Job, z Size, out water.State) (Limit, bool) {
	if !disinfects(&j.In) {
		return Limit{}, false
	}
	need, ok := virusNeed(out)
	if !ok {
		return Limit{}, false
	}
	return Limit{
		ID: "disinfection_ct", Have: credited(j, z, j.Peak, out), Need: need, Unit: "mg·min/L", Soft: true,
		Say:  "short of the contact public supplies give against viruses; do not lean on it for health without a second barrier",
		Kind: source.FromMemory, From: "US EPA surface water treatment guidance manual, 1991, table E-7, 4 log",
	}, true
}

// disinfects reports whether the tank is looked to for disinfection: the water has
// shown organisms or has stood open.
func disinfects(w *water.State) bool {
	return w.Coliform.Per100mL() > 0 || w.EColi.Per100mL() > 0 || w.Uncovered
}

// virusNeed is the CT for four log of viruses; outside the table's range of pH
// and temperature its nearest end is used, and none beyond pH 9.
func virusNeed(w water.State) (float64, bool) {
	ph := unit.PHOf(math.Max(6, w.PH.Value()))
	t := unit.Celsius(math.Max(0.5, w.Temperature.Celsius()))
	ct, err := hydraulic.VirusCT(4, ph, t)
	return ct.MgMinPerL(), err == nil
}

// credited is the CT that the tank earns at a flow, with the residual at its end.
func credited(j *Job, z Size, q unit.Flow, out water.State) float64 {
	f := j.Site.Factors.Of(contactCredit)
	if j.Fault == ShortCircuit || j.Fault == BypassOpen {
		f = 0
	}
	all := unit.Gal(z.Volume.Gal() * float64(z.Tanks))
	return hydraulic.CTOf(out.FreeChlorine, hydraulic.T10(f, all, z.inRow(q))).MgMinPerL()
}

// killed takes the counts down by the log of viruses that the CT would kill.
// Coliform bacteria die at a tenth of that CT and less, so that the count is
// never promised too low.
func killed(w, in water.State, ct float64) water.State {
	need, ok := virusNeed(w)
	if !ok || need <= 0 {
		return w
	}
	left := math.Pow(10, -math.Min(4*ct/need, 8))
	w.Coliform = unit.Per100mL(in.Coliform.Per100mL() * left)
	w.EColi = unit.Per100mL(in.EColi.Per100mL() * left)
	return w
}

// contactLoss grows with the square of the flow through ports and fittings.
func contactLoss(j *Job, z Size) Loss {
	r := z.inRow(j.Peak).GPM() / contactLossFlow
	psi := unit.PSI(j.Site.Factors.Of(contactTankLoss) * r * r * float64(z.Tanks))
	return Loss{Clean: psi, Dirty: psi}
}

func contactNeeds(z Size) Needs {
	return Needs{
		Height: unit.Inches(80), NoFrost: true, // 80 in: upright tank, blow-down and fittings; common practice
		Floor: unit.Ft2(6.25 * z.stock()), // a 24 in tank in a 30 in square
	}
}

// blowDown is the monthly emptying of sludge through the drain at the bottom.
func blowDown(j *Job, z Size) Wash {
	gal := j.Site.Factors.Of(contactBlowDown)
	return Wash{
		Waste: WasteSludge, Gallons: unit.Gal(gal), Days: 30, Vessels: int(z.stock()),
		Need: unit.GPM(blowDownGPM), Have: j.pumpFlow(), Minutes: gal / blowDownGPM, Whole: gal / blowDownGPM,
	}
}

// blowDownGPM is the flow of a 3/4 in drain valve part open: common practice.
const blowDownGPM = 5

// contactLossFlow is the flow that the loss factor is written for.
const contactLossFlow = 8

func (contactTank) working(j *Job, z Size, share, minutes float64) {
	if !j.Site.Working.On() {
		return
	}
	sym := formula.Sym
	j.Site.Working.Add(contactTimeFormula().Step(ContactMin, minutes, "min",
		formula.Syms(sym("f", share, ""), sym("V", z.Volume.Gal(), "gal"), sym("n", float64(z.Tanks), ""), sym("Q", z.inRow(j.Peak).GPM(), "gpm")),
		j.Site.Factors.In(contactShare)))
}

func (contactTank) Ways() []Way {
	return []Way{
		{ShortCircuit, "water takes a short way through the contact tank", "ferrous iron and no time behind it though the chlorine is right", "look at inlet and outlet ports; put the inlet low and the outlet high"},
		{TankSludge, "the tank is half full of sludge", "brown slugs at high flow; cloudy blow-down that does not clear", "blow down until clear, then monthly"},
		{BypassOpen, "the tank's bypass stands open", "water behind the tank reads as before it", "close the bypass"},
	}
}

var (
	contactShare = source.Factor{
		Name: "contact_tank_live_share", What: "share of a plain upright contact tank that counts for oxidation time",
		Value: 0.7, Low: 0.5, High: 0.8, Kind: source.CommonPractice, From: "trade rule for an upright tank with separated ports",
	}
	contactCredit = source.Factor{
		Name: "contact_tank_disinfection_share", What: "share of a plain upright contact tank that counts for disinfection credit (T10)",
		Value: 0.3, Low: 0.1, High: 0.5, Kind: source.FromMemory, From: "US EPA surface water treatment guidance manual, 1991, baffling factors, poor",
	}
	contactShort = source.Factor{
		Name: "contact_tank_short_share", What: "share of a contact tank that counts when water short-circuits",
		Value: 0.1, Kind: source.FromMemory, From: "US EPA surface water treatment guidance manual, 1991, baffling factors, unbaffled",
	}
	contactIron = source.Factor{
		Name: "contact_iron_min", What: "least contact at peak for iron with an oxidant", Unit: "min",
		Value: 5, Low: 3, High: 20, Kind: source.CommonPractice, From: "trade rule; public works ask 20 to 30 min",
	}
	contactSlime = source.Factor{
		Name: "contact_iron_bacteria_min", What: "least contact at peak where iron bacteria live", Unit: "min",
		Value: 20, Low: 15, High: 30, Kind: source.CommonPractice, From: "trade rule for continuous chlorination of iron bacteria",
	}
	contactCoagulant = source.Factor{
		Name: "contact_coagulant_min", What: "least contact at peak for the floc of a coagulant", Unit: "min",
		Value: 10, Low: 5, High: 30, Kind: source.Judgement, From: "public works ask 30 min of stirring (from memory), filters in line none; a house draws its peak for minutes",
	}
	contactSulfide = source.Factor{
		Name: "contact_sulfide_min", What: "least contact at peak for sulfide", Unit: "min",
		Value: 10, Low: 5, High: 20, Kind: source.CommonPractice, From: "trade rule",
	}
	contactSulfideFrom = source.Factor{
		Name: "contact_sulfide_from", What: "sulfide of the raw water from which the longer contact is asked", Unit: "mg/L as H2S",
		Value: 0.3, Low: 0.1, High: 0.5, Kind: source.Judgement, From: "level above which carbon alone no longer does",
	}
	contactTankLoss = source.Factor{
		Name: "contact_tank_loss", What: "pressure lost in the ports of one contact tank at 8 gpm", Unit: "psi",
		Value: 1, Low: 0.5, High: 2, Kind: source.Judgement, From: "1 in fittings",
	}
	contactBlowDown = source.Factor{
		Name: "contact_blow_down_gal", What: "sludge blown down monthly from each contact tank", Unit: "gal",
		Value: 7.5, Low: 5, High: 10, Kind: source.CommonPractice, From: "trade rule, 5 to 10 gal a month",
	}
	contactFactors = []source.Factor{
		contactShare, contactCredit, contactShort, contactIron, contactSlime, contactSulfide,
		contactSulfideFrom, contactTankLoss, contactBlowDown,
	}
)
