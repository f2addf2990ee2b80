package stage

import (
	"fmt"
	"math"

	"wellwright/cost"
	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// cartridgeFilter is a housing with an element that is thrown away when full.
type cartridgeFilter struct{}

// The faults of a cartridge.
const (
	ElementTorn    Fault = "element_torn"
	ElementBlinded Fault = "element_blinded"
)

func (cartridgeFilter) ID() media.Process { return media.CartridgeFilter }

// cartridge is one common element. Kind: common practice, rated flows at about
// 2 psi clean; the dirt it holds is weakly founded.
type cartridge struct {
	label    string
	microns  float64
	rated    float64 // gpm
	holds    source.Factor
	housing  media.Part
	element  media.Part
	heightIn float64
	sideFt   float64
}

var cartridges = [...]cartridge{
	{"2.5 x 10 in, 5 µm", 5, 4, smallDirt, media.SmallHousing, media.SmallElement, 20, 0.6},
	{"4.5 x 20 in, 25 µm", 25, 20, largeDirt, media.LargeHousing, media.LargeElement, 36, 0.9},
	{"4.5 x 20 in, 5 µm", 5, 17, largeDirt, media.LargeHousing, media.LargeElement, 36, 0.9},
	{"4.5 x 20 in, 1 µm", 1, 10, largeDirt, media.LargeHousing, media.LargeElement, 36, 0.9},
}

func (cartridgeFilter) Sizes(j *Job) []Size {
	var zs []Size
	for _, c := range cartridges {
		zs = append(zs, Size{Label: c.label, Rated: unit.GPM(c.rated), Count: 1, Settings: Settings{MicronRating: c.microns}})
	}
	return zs
}

// cartridgeOf finds the element of a size.
func cartridgeOf(z Size) cartridge {
	for _, c := range cartridges {
		if c.label == z.Label {
			return c
		}
	}
	return cartridges[len(cartridges)-2]
}

func (cartridgeFilter) Run(j *Job, z Size) Outcome {
	set, c := j.Site.Factors, cartridgeOf(z)
	share := caught(set, c.microns)
	if j.Fault == ElementTorn {
		share = 0
	}
	out := j.strain(share)
	days := c.life(j, Solids(j.In)*share)
	most := set.Of(elementMonths) * daysPerMonth
	o := Outcome{Out: out, Settings: Settings{ElementDays: days}}
	o.Limits = append(Envelope(j, media.CartridgeFilter), c.limits(j, days)...)
	clean := ratedLoss * j.Peak.GPM() / c.rated
	o.Loss = Loss{Clean: unit.PSI(clean), Dirty: unit.PSI(clean + set.Of(elementLoss))}
	o.Needs = Needs{Height: unit.Inches(c.heightIn), Floor: unit.Ft2(c.sideFt * c.sideFt), NoFrost: true}
	if j.Lean {
		return o
	}
	o.AtPeak = out
	o.Settings[RatedFlowGPM], o.Settings[MicronRating], o.Settings[ElementMonths] = c.rated, c.microns, math.Min(days, most)/daysPerMonth
	perYear := daysPerYear / math.Max(math.Min(days, most), 1)
	o.Bill = cost.Bill{
		First: []cost.Line{{Part: c.housing, Amount: 1, Why: "housing"}, {Part: c.element, Amount: 1, Why: "first element"},
			{Part: media.Connections, Amount: 1, Why: "bypass and gauges"}, {Part: media.LabourHour, Amount: housingHours, Why: "fitting"}},
		Yearly: []cost.Use{{Part: c.element, PerYear: perYear, Why: "full elements"}},
		Hours:  perYear * elementHours,
	}
	c.work(j, share, days)
	o.Cautions = []string{"Let the pressure off before the housing is opened; change the element when the loss has grown by 10 to 15 psi."}
	o.WillNot = []string{
		"It does nothing to ferrous iron: clear water goes through and stains behind it.",
		"It does not hold colloidal iron, colour, hardness or bacteria.",
	}
	return o
}

const (
	ratedLoss    = 2.0  // psi through a clean element at its rated flow: common practice
	housingHours = 1.5  // common practice
	elementHours = 0.25 // of the owner for each change: common practice
	daysPerMonth = 365.0 / 12
)

// caught is the share of floc and silt that an element holds.
//
//	share = eff · (1 - Φ(ln(d/d50)/s))
//
//	d    rating, µm;  d50 median size of the particles, s their log spread
//	eff  what "nominal" means at the rated size and above
//
// Range: 1 to 50 µm, clean element. Error: wide; floc breaks in the pump and
// grows in a tank. Source: a log-normal size distribution; sizes by judgement.
func caught(set source.Set, microns float64) float64 {
	z := math.Log(microns/set.Of(flocSize)) / flocSpread
	return set.Of(nominalShare) * 0.5 * math.Erfc(z/math.Sqrt2)
}

// flocSpread is the log-normal spread of floc sizes. Kind: judgement.
const flocSpread = 1.2

// strain takes a share of every particle out of the job's water.
func (j *Job) strain(share float64) water.State {
	w, keep := j.In, 1-share
	if j.Fault == BypassOpen {
		keep = 1 - share*(1-faultBypass)
	}
	w.Particulate = unit.MgPerL(w.Particulate.MgPerL() * keep)
	w.ManganeseOx = unit.MgPerL(w.ManganeseOx.MgPerL() * keep)
	w.Solids = unit.MgPerL(w.Solids.MgPerL() * keep)
	w.Sulfur = unit.MgPerL(w.Sulfur.MgPerL() * keep)
	return w
}

// life is the days an element lasts.
//
//	t = S / (C · 3.785 Q)
//
//	S  solids it holds, mg;  C  solids caught, mg/L;  Q  gal/day
//
// Range: C above zero. Error: a factor of two. Source: mass balance.
func (c cartridge) life(j *Job, mgL float64) float64 {
	daily := caughtLb(mgL, j.Daily)
	if daily <= 0 {
		return j.Site.Factors.Of(elementMonths) * daysPerMonth
	}
	return j.Site.Factors.Of(c.holds) / daily
}

// caughtLb is the pounds that an element catches in a day, at so many mg/L.
func caughtLb(mgL float64, daily unit.Flow) float64 {
	return hydraulic.DailySolids(unit.MgPerL(mgL), 1, daily).Lb()
}

func (c cartridge) work(j *Job, share, days float64) {
	if !j.Site.Working.On() {
		return
	}
	set, sym := j.Site.Factors, formula.Sym
	j.Site.Working.Add(elementFormula().Step(ElementDays, days, "days",
		formula.Syms(sym("S", set.Of(c.holds), "lb"), sym("f", share, ""), sym("C", Solids(j.In), "mg/L"), sym("Q", j.Daily.GalPerDay(), "gal/day")),
		set.In(c.holds), set.In(nominalShare), set.In(flocSize)))
}

func (c cartridge) limits(j *Job, days float64) []Limit {
	least := j.Site.Factors.In(elementLeast)
	return []Limit{
		{ID: "rated_flow", Have: c.rated, Need: j.Peak.GPM(), Unit: "gpm", Soft: true, Kind: source.CommonPractice, From: "flow at about 2 psi, clean",
			Say: "more than its rated flow at peak: pressure falls"},
		{ID: "element_life", Have: days, Need: least.Value, Unit: "days", Kind: least.Kind, From: least.From, Say: "the element is full within a month"},
		{ID: "element_life", Have: days, Need: comfortLife, Unit: "days", Soft: true, Kind: source.CommonPractice, From: "elements are changed each 3 to 6 months",
			Say: shortLife},
	}
}

const comfortLife = 90 // days

var shortLife = fmt.Sprintf("elements last under %d days", comfortLife)

func (cartridgeFilter) Ways() []Way {
	return []Way{
		{BypassOpen, "the bypass stands open", "particles as at the inlet, no pressure loss", "close it"},
		{ElementTorn, "the element is torn or unseated", "particles as at the inlet, no pressure loss", "renew the element, check its seat"},
		{ElementBlinded, "the element is full", "pressure loss of 10 psi and more", "renew it; if it fills within weeks, a backwashing bed is wanted"},
	}
}

// cartridgeFactors are those of cartridges.
var cartridgeFactors = []source.Factor{smallDirt, largeDirt, elementLeast, elementMonths, elementLoss, nominalShare, flocSize}

var (
	smallDirt = source.Factor{
		Name: "cartridge_small_dirt", What: "cartridge 2.5 x 10: solids held", Unit: "lb",
		Value: 0.15, Low: 0.1, High: 0.2, Kind: source.CommonPractice, From: "weak: 0.1 to 0.2 lb",
	}
	largeDirt = source.Factor{
		Name: "cartridge_large_dirt", What: "cartridge 4.5 x 20: solids held", Unit: "lb",
		Value: 0.85, Low: 0.7, High: 1, Kind: source.CommonPractice, From: "weak: 0.7 to 1 lb for depth elements",
	}
	elementLeast = source.Factor{
		Name: "cartridge_least_life", What: "cartridge: shortest life borne", Unit: "days",
		Value: 30, Low: 30, High: 90, Kind: source.Judgement, From: "our judgement: an owner will change an element monthly, not weekly",
	}
	elementMonths = source.Factor{
		Name: "cartridge_longest_life", What: "cartridge: longest use of an element", Unit: "months",
		Value: 6, Low: 3, High: 6, Kind: source.CommonPractice, From: "3 to 6 months",
	}
	elementLoss = source.Factor{
		Name: "cartridge_change_loss", What: "cartridge: loss over clean at which it is changed", Unit: "psi",
		Value: 10, Low: 10, High: 15, Kind: source.CommonPractice, From: "10 to 15 psi",
	}
	nominalShare = source.Factor{
		Name: "cartridge_nominal_share", What: "cartridge: share of particles of the rated size and above that a nominal element holds",
		Value: 0.85, Low: 0.8, High: 0.9, Kind: source.CommonPractice, From: "nominal is 80 to 90 % of that size",
	}
	flocSize = source.Factor{
		Name: "cartridge_floc_size", What: "cartridge: median size of iron floc and silt", Unit: "µm",
		Value: 8, Low: 3, High: 20, Kind: source.Judgement, From: "our judgement: young floc is finer, aged floc from a tank coarser",
	}
)
