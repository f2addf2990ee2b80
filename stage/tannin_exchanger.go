package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// tanninExchanger is open-pored strong-base resin on salt that takes the coloured
// part of organic matter. It is tried on the water before it is sold.
type tanninExchanger struct{}

func (tanninExchanger) ID() media.Process { return media.TanninExchanger }

func (x tanninExchanger) Sizes(j *Job) []Size {
	return []Size{j.anionSizes(func(z Size) float64 { return x.lay(j, z).gallons }, "")}
}

// lay lays out the bed and sets its run by the organic matter it can load, no more
// than the two or three days after which what it holds is hard to get off again.
func (tanninExchanger) lay(j *Job, z Size) *anionBed {
	m := fillingOf(media.TanninExchanger)
	set := j.Site.Factors
	a := newAnionBed(layBed(j, z, m), chem.PlainResin, set.Of(tanninSites))
	ft3 := a.resinGal() / unit.Ft3(1).Gal()
	a.setRun(tanninRunGal(set.Of(tanninCapacity), ft3, tanninOf(set, j.In.OrganicCarbon.MgPerL())), set.Of(m.MaxDays))
	return a
}

// tanninOf is the tannin of an organic carbon, mg/L: all of it is counted as such.
func tanninOf(set source.Set, carbon float64) float64 { return carbon * set.Of(tanninPerCarbon) }

// tanninRunGal is the gallons that ft3 of resin run on a tannin, mg/L.
func tanninRunGal(capacity, ft3, tannin float64) float64 {
	return capacity * ft3 / math.Max(tannin, leastTannin)
}

// leastTannin is the finest that a field kit reads, mg/L. Kind: common practice.
const leastTannin = 0.1

func (x tanninExchanger) Run(j *Job, z Size) Outcome {
	a := x.lay(j, z)
	w, fresh := a.wash(), a.lightened(a.fresh())
	o := Outcome{Settings: Settings{}, Limits: Envelope(j, media.TanninExchanger), Out: a.lightened(a.mean())}
	o.Limits = append(append(o.Limits, a.tanninLimits()...), a.anionRates(w)...)
	o.Limits = append(o.Limits, a.freshPH(fresh))
	a.carry(&o, w)
	if j.Lean {
		return o
	}
	o.AtPeak = fresh
	a.finish(&o, w, media.TanninResinFt3)
	n := float64(max(1, z.Count))
	o.Bill.Yearly = append(o.Bill.Yearly, cost.Use{Part: media.SodaAshLb, PerYear: n * boosterLb * monthsPerYear, Why: "booster with the brine, monthly"})
	a.workTannin()
	o.Cautions = append([]string{
		"Try it first: a jar or a small column of the resin on this very water, before and after it is softened. Some colour does not come off by exchange.",
	}, a.anionCautions(fresh)...)
	o.Cautions = append(o.Cautions, "When colour comes back after half a year or more the resin is fouled: warm brine with caustic for some hours, by someone trained to handle caustic, or new resin.")
	o.WillNot = []string{
		"It lightens colour; it does not promise a figure, and does not make unsafe water safe.",
		"It takes no hardness, ferrous iron, smell or bacteria, and without a softener ahead calcium and tannin foul it together.",
	}
	return o
}

// lightened takes organic matter out of a water, and of the bound iron what goes
// with it.
func (a *anionBed) lightened(w water.State) water.State {
	if a.j.Fault == SaltOut {
		return w
	}
	in, pass := a.j.In, a.colourPasses()
	w.OrganicCarbon = unit.MgPerL(in.OrganicCarbon.MgPerL() * pass)
	w.Bound = unit.MgPerL(in.Bound.MgPerL() * (1 - (1-pass)*a.j.Site.Factors.Of(tanninIron)))
	return w
}

// boosterLb is the soda ash that goes with the brine of one month: common practice.
const boosterLb = 1

// colourPasses is the share of the organic carbon that passes: part of it is no
// anion, and more passes as the resin fouls or runs past its meter.
func (a *anionBed) colourPasses() float64 {
	pass := a.j.Site.Factors.Of(tanninSlip)
	switch a.j.Fault {
	case ResinFouled, AnionOverrun:
		pass = math.Max(pass, fouledColour)
	}
	return pass + (1-pass)*a.bypass
}

// fouledColour is what passes a fouled resin. Kind: judgement.
const fouledColour = 0.7

// tanninLimits are those of the place and the load.
func (a *anionBed) tanninLimits() []Limit {
	set, j := a.j.Site.Factors, a.j
	rule := set.In(tanninResin)
	need := tanninOf(set, j.In.OrganicCarbon.MgPerL()) / rule.Value * j.Peak.GPM() / 10
	ls := []Limit{
		{ID: "softener_ahead", Have: yes(j.Has(media.Softener)), Need: 1, Unit: "yes or no",
			Say: "calcium and magnesium tannates foul the resin: a softener stands ahead of it", Kind: source.CommonPractice, From: "common practice: tannin resin after a softener"},
		{ID: "jar_test", Have: 0, Need: 1, Unit: "yes or no", Soft: true,
			Say: "try the resin on this water in a jar or a small column first", Kind: source.CommonPractice, From: "common practice: pilot before tannin resin is sold"},
		{ID: "resin_for_tannin", Have: a.resinGal() / unit.Ft3(1).Gal(), Need: need, Unit: "ft3", Soft: true,
			Say: "little resin for so much tannin at the peak", Kind: rule.Kind, From: rule.From},
	}
	return ls
}

// yes is one for true.
func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// workTannin opens the run.
func (a *anionBed) workTannin() {
	if !a.j.Site.Working.On() {
		return
	}
	sym, set := formula.Sym, a.j.Site.Factors
	a.j.Site.Working.Add(tanninRunFormula().Step(DaysBetweenMetered, a.metered, "days", formula.Syms(
		sym("TOC", a.j.In.OrganicCarbon.MgPerL(), "mg/L"), sym("V", a.resinGal()/unit.Ft3(1).Gal(), "ft3"), sym("Q", a.j.Daily.GalPerDay(), "gal/day")),
		set.In(tanninCapacity), set.In(tanninPerCarbon)))
}

func (tanninExchanger) Ways() []Way { return anionWays() }

var (
	tanninPerCarbon = source.Factor{
		Name: "tannin_per_carbon", What: "tannin exchanger: tannin, as tannic acid, for each mg of organic carbon",
		Value: 1.86, Low: 1.2, High: 2.5, Kind: source.Derived, From: "tannic acid C76H52O46 is 53.7 % carbon; all organic carbon is counted as tannin",
	}
	tanninCapacity = source.Factor{
		Name: "tannin_capacity", What: "tannin exchanger: tannin that a cubic foot loads between regenerations", Unit: "mg/L-gal/ft3",
		Value: 2250, Low: 1200, High: 3600, Kind: source.Derived, From: "1 ft3 for 2 to 3 mg/L and 10 gpm, regenerated every 3 days (common practice), in a house of 300 gal/day",
	}
	tanninResin = source.Factor{
		Name: "tannin_resin", What: "tannin exchanger: tannin that 1 ft3 is sized for at 10 gpm of peak flow", Unit: "mg/L",
		Value: 2.5, Low: 2, High: 3, Kind: source.CommonPractice, From: "1 ft3 for 2 to 3 mg/L and 10 gpm",
	}
	tanninSites = source.Factor{
		Name: "tannin_sites", What: "tannin exchanger: capacity for sulfate, chloride and bicarbonate that 10 lb/ft3 of salt wins back", Unit: "eq/L",
		Value: 0.4, Low: 0.3, High: 0.5, Kind: source.FromMemory, From: "open-pored resin holds less than gel (from memory)",
	}
	tanninSlip = source.Factor{
		Name: "tannin_slip", What: "tannin exchanger: share of organic carbon that passes sound resin",
		Value: 0.25, Low: 0.1, High: 0.6, Kind: source.Judgement, From: "our judgement: the coloured part is mostly anion, the rest passes; a jar tells",
	}
	tanninIron = source.Factor{
		Name: "tannin_bound_iron", What: "tannin exchanger: share of bound iron that goes with the organic carbon it takes",
		Value: 0.5, Low: 0, High: 0.9, Kind: source.Judgement, From: "our judgement: what is held on tannin goes with it, colloids pass",
	}
	tanninFactors = []source.Factor{tanninPerCarbon, tanninCapacity, tanninResin, tanninSites, tanninSlip, tanninIron}
)
