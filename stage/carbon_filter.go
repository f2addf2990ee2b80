package stage

import (
	"math"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// carbonFilter is a bed of granular activated carbon: for chlorine, taste and a
// trace of sulfide.
type carbonFilter struct{}

// CarbonSpent is the fault of a bed past its life.
const CarbonSpent Fault = "carbon_spent"

func (carbonFilter) ID() media.Process { return media.CarbonFilter }

func (carbonFilter) Sizes(j *Job) []Size {
	m, _ := media.MediumFor(media.CarbonFilter)
	return j.bedSizes(m, j.carbonRate(m), filterVessels[:])
}

// carbonRate is the rate at which the usual bed still gives the least contact,
// or the medium's own if that is less: what sizes are tried for.
func (j *Job) carbonRate(m media.Medium) float64 {
	perFt2 := unit.Ft3(usualCarbonDepth / inchesPerFoot).Gal()
	return math.Min(j.Site.Factors.Of(m.ServiceRefuse), perFt2/j.Site.Factors.Of(carbonContact))
}

// usualCarbonDepth is the bed of a common fill, in: common practice.
const usualCarbonDepth = 31

func (carbonFilter) Run(j *Job, z Size) Outcome {
	m := fillingOf(media.CarbonFilter)
	b := layBed(j, z, m)
	o, _, err := b.serve(filterSpec{process: media.CarbonFilter, valve: media.TimerValve})
	if err != nil {
		return spoiled(j, o, err)
	}
	o.Limits = b.withRadon(b.withContact(o.Limits))
	set := j.Site.Factors
	k := uptake{free: set.Of(carbonFree), combined: set.Of(carbonCombined), sulfide: set.Of(carbonSulfide), peroxide: set.Of(carbonPeroxide)}
	o.Out = b.takeRadon(b.adsorb(o.Out, j.Typical(), k))
	if j.Lean {
		return o
	}
	o.AtPeak = b.takeRadon(b.adsorb(o.AtPeak, j.Peak, k))
	b.workContact()
	o.Cautions = append(o.Cautions, carbonCautions...)
	if j.In.Radon.PCiPerL() > 0 {
		o.Cautions = append(o.Cautions, radonOnCarbonCaution)
	}
	o.WillNot = []string{
		"It does not make unsafe water safe: harmless bacteria grow on carbon once the chlorine is gone.",
		"It does not take iron, manganese, hardness or nitrate.",
	}
	return o
}

var carbonCautions = []string{
	"Soak new carbon a day and wash it until the drain runs clear.",
	"Flush ten minutes after a week or more away.",
	"Wet carbon takes the oxygen out of the air in a closed tank: never put your head in one.",
}

func (carbonFilter) Ways() []Way {
	return append(commonWays(), Way{CarbonSpent, "the carbon is spent", "chlorine or smell at the outlet with a sound inlet", "change the carbon"})
}

// uptake is how fast a carbon takes each thing, first order in the empty bed,
// 1/min.
type uptake struct{ free, combined, sulfide, peroxide float64 }

// adsorb lets the carbon take chlorine, peroxide and a little sulfide.
//
//	C/C0 = exp(-k t)
//
//	t  empty-bed contact, min
//
// Range: to the life of the bed. Error: a factor of two with grain, water and
// age. Source: first-order loss on granular carbon; constants with their factors.
func (b *bed) adsorb(w water.State, flow unit.Flow, k uptake) water.State {
	if b.j.Fault == CarbonSpent {
		return w
	}
	t := b.emptyBedMinutes(flow) * b.active
	left := func(k float64) float64 {
		pass := math.Exp(-k * t)
		return pass + (1-pass)*b.bypass
	}
	w.FreeChlorine = unit.MgPerLAsCl2(w.FreeChlorine.MgPerLAsCl2() * left(k.free))
	w.CombinedChlorine = unit.MgPerLAsCl2(w.CombinedChlorine.MgPerLAsCl2() * left(k.combined))
	w.Sulfide = unit.MgPerLAsH2S(w.Sulfide.MgPerLAsH2S() * left(k.sulfide))
	w.Peroxide = unit.MgPerL(w.Peroxide.MgPerL() * left(k.peroxide))
	return w
}

// workContact records the working of the contact at peak.
func (b *bed) workContact() {
	if !b.j.Site.Working.On() {
		return
	}
	b.j.Site.Working.Add(emptyBedFormula().Step(EmptyBedMin, b.emptyBedMinutes(b.j.Peak), "min",
		formula.Syms(formula.Sym("V", b.volume().Gal(), "gal"), formula.Sym("Q", b.j.Peak.GPM(), "gpm"))))
}

// withContact adds the limits of empty-bed contact at peak.
func (b *bed) withContact(ls []Limit) []Limit {
	f := b.j.Site.Factors.In(carbonContact)
	have := b.emptyBedMinutes(b.j.Peak)
	return append(ls,
		Limit{ID: "empty_bed_contact", Have: have, Need: f.Value, Unit: "min", Say: "too little contact at peak: chlorine passes", Kind: f.Kind, From: f.From},
		Limit{ID: "empty_bed_contact", Have: have, Need: max(f.Value, f.High), Unit: "min", Soft: true, Say: "little contact at peak: some chlorine passes as the carbon ages", Kind: f.Kind, From: f.From})
}

// carbonFactors are those of both carbons.
var carbonFactors = []source.Factor{carbonContact, carbonFree, carbonCombined, carbonSulfide, carbonPeroxide, catalyticCombined, catalyticSulfide}

var (
	carbonContact = source.Factor{
		Name: "carbon_contact", What: "carbon: least empty-bed contact at peak for 1 to 2 mg/L of free chlorine",
		Unit: "min", Value: 1.5, Low: 1.5, High: 2, Kind: source.CommonPractice, From: "1.5 to 2 min on 12x40 carbon",
	}
	carbonFree = source.Factor{
		Name: "carbon_free_chlorine", What: "carbon: first-order loss of free chlorine in the empty bed",
		Unit: "1/min", Value: 2.5, Low: 1, High: 5, Kind: source.Judgement, From: "our judgement, calibrated: 2 min leaves under 1 %",
	}
	carbonCombined = source.Factor{
		Name: "carbon_combined_chlorine", What: "carbon: first-order loss of combined chlorine in the empty bed",
		Unit: "1/min", Value: 0.4, Low: 0.2, High: 0.8, Kind: source.Judgement, From: "our judgement: combined chlorine asks five times the contact of free",
	}
	carbonSulfide = source.Factor{
		Name: "carbon_sulfide", What: "carbon: first-order uptake of sulfide in the empty bed while it is fresh",
		Unit: "1/min", Value: 0.7, Low: 0.3, High: 1.5, Kind: source.Judgement, From: "our judgement: 0.3 mg/L falls below smell in 2 min",
	}
	carbonPeroxide = source.Factor{
		Name: "carbon_peroxide", What: "carbon: first-order loss of peroxide in the empty bed",
		Unit: "1/min", Value: 2, Low: 1, High: 4, Kind: source.Judgement, From: "our judgement: carbon destroys peroxide as readily as chlorine",
	}
	catalyticCombined = source.Factor{
		Name: "catalytic_carbon_combined_chlorine", What: "catalytic carbon: first-order loss of combined chlorine in the empty bed",
		Unit: "1/min", Value: 1.5, Low: 0.8, High: 3, Kind: source.Judgement, From: "our judgement: three to four times plain carbon",
	}
	catalyticSulfide = source.Factor{
		Name: "catalytic_carbon_sulfide", What: "catalytic carbon: first-order oxidation of sulfide to sulfur, with oxygen or peroxide, in the empty bed",
		Unit: "1/min", Value: 2, Low: 0.8, High: 4, Kind: source.Judgement, From: "our judgement, calibrated: 2 mg/L falls below smell in 2 min with peroxide",
	}
)
