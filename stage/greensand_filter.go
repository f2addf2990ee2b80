package stage

import (
	"fmt"
	"math"

	"wellwright/cost"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// greensandFilter is a bed of manganese greensand. With an oxidant fed ahead it
// runs like coated sand; without, it is charged with permanganate by its own
// valve after a set volume of water.
type greensandFilter struct{}

// The ways to run greensand.
const (
	ContinuousFeed     = "oxidant fed ahead"
	PermanganateCharge = "permanganate charges"
)

// RegenerantOut is the fault of an empty permanganate pot.
const RegenerantOut Fault = "regenerant_out"

func (greensandFilter) ID() media.Process { return media.GreensandFilter }

func (greensandFilter) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(media.GreensandFilter)
	mode := PermanganateCharge
	if residual(j.In) || j.Has(media.ChlorineFeed, media.PermanganateFeed) {
		mode = ContinuousFeed
	}
	zs := j.bedSizes(m, j.Site.Factors.Of(m.ServiceRefuse), filterVessels[:])
	for i := range zs {
		zs[i].Mode = mode
	}
	return zs
}

func (g greensandFilter) Run(j *Job, z Size) Outcome {
	m := fillingOf(media.GreensandFilter)
	b := layBed(j, z, m)
	if z.Mode == PermanganateCharge {
		return g.charged(b)
	}
	o, _, err := b.serve(filterSpec{process: media.GreensandFilter, valve: media.TimerValve})
	if err != nil {
		return spoiled(j, o, err)
	}
	o.Limits = afterEnvelope(o.Limits, oxidantLimits(j)...)
	o.Limits = append(o.Limits, b.publicRate())
	if j.Lean {
		return o
	}
	o.Cautions = append(o.Cautions, residualCaution(j)...)
	o.WillNot = []string{"It does not take hardness, nitrate, sodium or bacteria.", "It does not take iron bound to organic matter."}
	return o
}

// charged runs the bed on permanganate drawn into it from time to time.
func (greensandFilter) charged(b *bed) Outcome {
	j, set := b.j, b.j.Site.Factors
	c := b.charges()
	if j.Fault != RegenerantOut && j.Fault != CoatingSpent {
		b.charge = set.Of(greensandUptake)
	}
	o, w, err := b.serve(filterSpec{process: media.GreensandFilter, valve: media.TimerValve})
	if err != nil {
		return spoiled(j, o, err)
	}
	c.every(math.Max(1, w.days))
	o.Limits = afterEnvelope(o.Limits, chargedLimits(j)...)
	o.Limits = append(o.Limits, c.limits(set)...)
	o.Limits = append(o.Limits, b.publicRate())
	c.settle(o.Settings, j.Lean)
	o.Needs.Chemicals = true
	o.Washes = append(o.Washes, Wash{
		Waste: WastePermanganate, Need: unit.GPM(w.rinseFlow), Have: unit.GPM(w.have), Minutes: c.gallons / w.rinseFlow,
		Whole: c.gallons/w.rinseFlow + soakMinutes, Gallons: unit.Gal(c.gallons), Days: c.days, Vessels: b.z.Vessels(), Turn: b.z.Turn,
	})
	if j.Lean {
		return o
	}
	o.Bill = o.Bill.Join(c.bill(float64(max(1, b.z.Count))))
	o.Cautions = append(o.Cautions,
		"Potassium permanganate is a strong oxidiser: gloves and goggles, never near acid, glycerin, peroxide or paper; it stains.",
		"The rinse after a charge is purple: not to soil, stream or pond, and to a septic system only as the local health department allows.",
		"Pink water at a tap means too much permanganate or too short a rinse.")
	o.WillNot = []string{
		"It does not hold iron or manganese beyond its charge: fill the pot in time.",
		"It does not take hardness, nitrate, sodium or bacteria, nor iron bound to organic matter.",
	}
	c.work(j)
	return o
}

// charging is the permanganate side of a bed.
type charging struct {
	demand   float64 // mg/L of permanganate asked by the trade's formula
	capacity float64 // mg/L-gal of one vessel, usable
	vessels  float64
	run      float64 // gallons of all vessels to a charge
	due      float64 // days to a charge as the water has it
	days     float64 // whole days, a multiple of the wash interval
	oz       float64 // of one vessel, one charge
	gallons  float64 // of rinse
	lbYear   float64 // of one vessel
}

// charges works out what permanganate the bed needs.
//
//	V = 0.8 · 10,000 · ft3 / (Fe + 2 Mn + 5 H2S)
//
//	V   gallons between charges;  Fe, Mn, H2S  mg/L
//
// Range: Fe + Mn up to 15 mg/L, H2S up to 2 mg/L. Error: a quarter.
// Source: long-standing trade formula (from memory).
func (b *bed) charges() charging {
	set, w := b.j.Site.Factors, b.j.In
	c := charging{demand: greensandDemand(w.Ferrous.MgPerL()+w.Particulate.MgPerL(), w.TotalManganese().MgPerL(), w.Sulfide.MgPerLAsH2S())}
	n := float64(max(1, b.z.Count))
	c.capacity = set.Of(greensandCapacity) * b.z.Media.Ft3() * set.Of(greensandUse)
	c.vessels = n
	c.run = greensandRun(n, c.capacity, c.demand)
	c.due = c.run / math.Max(b.j.Daily.GalPerDay(), leastFlow)
	c.oz = set.Of(greensandDose) * b.z.Media.Ft3()
	c.gallons = set.Of(greensandRinse) * b.z.Media.Ft3()
	return c
}

// every fits the charges to the washes: each follows one.
func (c *charging) every(washDays float64) {
	c.days = math.Min(longestCharge, c.due)
	if c.days >= washDays {
		c.days = math.Floor(c.days/washDays+1e-9) * washDays
	}
	c.days = math.Max(1, math.Floor(c.days+1e-9))
	c.lbYear = c.oz / ozPerLb * daysPerYear / c.days
}

const (
	ozPerLb       = 16
	longestCharge = 28 // days: a pot is looked at monthly; common practice
	soakMinutes   = 20 // slow draw of the charge: common practice
)

func (c charging) limits(set source.Set) []Limit {
	f := set.In(greensandCapacity)
	return []Limit{
		{ID: "charge_interval", Have: c.due, Need: 1, Unit: "days", Kind: f.Kind, From: f.From, Say: "a charge does not last the day"},
		{ID: "charge_interval", Have: c.due, Need: shortCharge, Unit: "days", Soft: true, Kind: source.Judgement,
			From: "our judgement: a charge every other day is a chore and much permanganate", Say: "much permanganate: feed an oxidant ahead instead"},
	}
}

const shortCharge = 3 // days

func (c charging) settle(s Settings, lean bool) {
	s[DaysBetweenCharges] = c.days
	if lean {
		return
	}
	s[RegenerantOz], s[RunGal] = c.oz, c.run
	s[PermanganateLbYear] = c.lbYear
}

func (c charging) bill(n float64) cost.Bill {
	return cost.Bill{
		First:  []cost.Line{{Part: media.PermanganatePot, Amount: n, Why: "permanganate pot"}},
		Yearly: []cost.Use{{Part: media.PermanganateLb, PerYear: n * c.lbYear, Why: "charges"}},
		Hours:  potUpkeep,
	}
}

const potUpkeep = 2 // hours of the owner a year: pot filled each month or two; common practice

func (c charging) work(j *Job) {
	if !j.Site.Working.On() {
		return
	}
	j.Site.Working.Add(greensandRunFormula().Step(RunGal, c.run, "gal",
		formula.Syms(formula.Sym("u C V", c.vessels*c.capacity, "mg/L-gal"), formula.Sym("Fe + 2 Mn + 5 H2S", c.demand, "mg/L")),
		j.Site.Factors.In(greensandCapacity), j.Site.Factors.In(greensandUse)))
}

// publicRate says whether the bed keeps the rate of public works, as a caution.
func (b *bed) publicRate() Limit {
	f := b.j.Site.Factors.In(greensandPublic)
	return Limit{ID: "public_works_rate", Have: b.loading(b.j.Peak), Need: f.Value, Unit: "gpm/ft2", AtMost: true, Soft: true,
		Say: publicSay(f.Value), Kind: f.Kind, From: f.From}
}

// publicSay is told of nearly every bed, so that the usual one is made once.
func publicSay(rate float64) string {
	if rate == greensandPublic.Value {
		return usualPublicSay
	}
	return fmt.Sprintf(publicWords, rate)
}

const publicWords = "faster than the %g gpm/ft2 of public works, as most household beds are"

var usualPublicSay = fmt.Sprintf(publicWords, greensandPublic.Value)

func (greensandFilter) Ways() []Way {
	return append(commonWays(), spentWay,
		Way{RegenerantOut, "the permanganate pot is empty or its draw has failed", "ferrous iron and manganese pass towards the end of each run; no purple in the drain", "fill the pot, clean the injector, charge twice"})
}

// greensandFactors are those of manganese greensand.
var greensandFactors = []source.Factor{
	greensandCapacity, greensandUse, greensandDose, greensandRinse, greensandUptake, greensandPublic,
	greensandChargedIron, greensandChargedIronMost, greensandChargedIronLead, greensandChargedSulfide, greensandChargedSulfideMost,
}

var (
	greensandCapacity = source.Factor{
		Name: "greensand_capacity", What: "greensand: permanganate demand (Fe + 2 Mn + 5 H2S) that a cubic foot meets between charges",
		Unit: "mg/L-gal/ft3", Value: 10000, Low: 8000, High: 12000, Kind: source.FromMemory,
		From: "long-standing trade figure; equals 580 grains of iron, where other lists have 550",
	}
	greensandUse = source.Factor{
		Name: "greensand_capacity_share", What: "greensand: share of the capacity used before a charge",
		Value: 0.8, Low: 0.7, High: 0.9, Kind: source.FromMemory, From: "trade practice: charge at 80 %",
	}
	greensandDose = source.Factor{
		Name: "greensand_permanganate", What: "greensand: permanganate for one charge",
		Unit: "oz/ft3", Value: 2, Low: 1.5, High: 2, Kind: source.FromMemory, From: "trade figure 1.5 to 2; 4 at the first start",
	}
	greensandRinse = source.Factor{
		Name: "greensand_rinse", What: "greensand: purple rinse of one charge",
		Unit: "gal/ft3", Value: 25, Low: 15, High: 40, Kind: source.CommonPractice, From: "15 to 40 gal a cubic foot",
	}
	greensandUptake = source.Factor{
		Name: "greensand_uptake", What: "charged greensand: first-order uptake of iron, then manganese, and of sulfide, in the empty bed",
		Unit: "1/min", Value: 1.1, Low: 0.7, High: 3, Kind: source.Judgement,
		From: "our judgement, calibrated: 30 in at 5 gpm/ft2 leaves 2 % (common practice: a charged bed at 3 to 5 gpm/ft2 meets the limits)",
	}
	greensandPublic = source.Factor{
		Name: "greensand_public_rate", What: "greensand: greatest rate in public works",
		Unit: "gpm/ft2", Value: 3, Low: 3, High: 4, Kind: source.Published,
		From: "Oklahoma Administrative Code 252:626-9-7, iron and manganese control: 3; Wisconsin NR 811.495: 4",
	}
)

// chargedLimits are the narrower bounds of a bed without a feed: all the iron is
// turned on the grains, and sulfide spends the charge and leaves its sulfur there.
func chargedLimits(j *Job) []Limit {
	ls := make([]Limit, 0, 2*len(chargedBounds)+2)
	for i := range chargedBounds {
		ls = appendBound(ls, j, &chargedBounds[i])
	}
	iron, manganese := j.In.TotalIron().MgPerL(), j.In.TotalManganese().MgPerL()
	return append(ls, Limit{
		ID: "charges_for_manganese", Have: iron, Need: math.Max(manganese, j.Site.Factors.Of(greensandChargedIronLead)), Unit: "mg/L", AtMost: true, Soft: true,
		Say: "charges suit water in which manganese leads; where iron leads, feed an oxidant ahead", Kind: source.CommonPractice, From: "usual in the trade",
	}, Limit{
		ID: "permanganate_kept", Have: 1, Need: 0, Unit: "yes or no", AtMost: true, Soft: true,
		Say: "somebody must fill the permanganate pot and look for pink water: most households let it run dry", Kind: source.CommonPractice, From: "usual in the trade",
	})
}

var chargedBounds = [...]media.EnvelopeLimit{
	{ID: "iron_on_charges", Of: media.IronPlusManganese, Caution: &greensandChargedIron, Refuse: &greensandChargedIronMost,
		Say: "without a feed all this iron turns to mud on the grains"},
	{ID: "sulfide_on_charges", Of: media.Sulfide, Caution: &greensandChargedSulfide, Refuse: &greensandChargedSulfideMost,
		Say: "sulfide spends the charge and fouls the grains with sulfur"},
}

var (
	greensandChargedIron = source.Factor{Name: "greensand_charged_iron_caution", What: "iron and manganese on greensand without a feed, caution", Unit: "mg/L",
		Value: 3, Low: 3, High: 10, Kind: source.CommonPractice, From: "usual limit of beds on permanganate charges"}
	greensandChargedIronMost = source.Factor{Name: "greensand_charged_iron_refuse", What: "iron and manganese on greensand without a feed, refused", Unit: "mg/L",
		Value: 6, Low: 6, High: 10, Kind: source.Published, From: "water-treatment handbook selection list (second hand): 6 combined where manganese stains black, 10 for iron alone"}
	greensandChargedIronLead = source.Factor{Name: "greensand_charged_iron_lead", What: "iron that a bed without a feed takes even where there is less manganese", Unit: "mg/L",
		Value: 1, Low: 0.5, High: 2, Kind: source.Judgement, From: "the trade charges beds for manganese and feeds an oxidant for iron; it gives no figure"}
	greensandChargedSulfide = source.Factor{Name: "greensand_charged_sulfide_caution", What: "sulfide on greensand without a feed, caution", Unit: "mg/L as H2S",
		Value: 1, Low: 1, High: 2, Kind: source.FromMemory, From: "extension sheets: use a feed above 1 to 2"}
	greensandChargedSulfideMost = source.Factor{Name: "greensand_charged_sulfide_refuse", What: "sulfide on greensand without a feed, refused", Unit: "mg/L as H2S",
		Value: 2, Low: 2, High: 5, Kind: source.CommonPractice, From: "2 with charges, 5 only with a continuous feed"}
)
