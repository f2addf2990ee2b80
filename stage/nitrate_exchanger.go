package stage

import (
	"fmt"
	"math"

	"wellwright/chem"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
)

// nitrateExchanger is strong-base resin on salt that takes nitrate, and with it
// sulfate.
type nitrateExchanger struct{}

// The resins for nitrate.
const (
	PlainAnion     = "plain strong-base resin"
	SelectiveAnion = "nitrate-selective resin"
)

func (nitrateExchanger) ID() media.Process { return media.NitrateExchanger }

// Sizes are plain resin and, dearer, nitrate-selective resin.
func (x nitrateExchanger) Sizes(j *Job) []Size {
	size := func(mode string) Size {
		return j.anionSizes(func(z Size) float64 { return x.lay(j, z).gallons }, mode)
	}
	return []Size{size(PlainAnion), size(SelectiveAnion)}
}

// lay lays out the bed and sets its run: a share of what goes through before
// nitrate leaves a sound bed.
func (nitrateExchanger) lay(j *Job, z Size) *anionBed {
	m := fillingOf(media.NitrateExchanger)
	set := j.Site.Factors
	kind, q := chem.PlainResin, set.Of(nitratePlainCapacity)
	if z.Mode == SelectiveAnion {
		kind, q = chem.NitrateResin, set.Of(nitrateSelectiveCapacity)
	}
	a := newAnionBed(layBed(j, z, m), kind, q)
	a.setRun(nitrateRunGal(set, kind, q, anionsOf(j.In), a.resinGal()), set.Of(m.MaxDays))
	return a
}

// nitrateRunGal is the gallons that a volume of resin is set to run.
//
//	W = u V · bed volumes until nitrate leaves
//
//	u  share of the run that the meter is set to;  V  resin, gal
func nitrateRunGal(set source.Set, kind chem.Resin, q float64, in chem.Anions, resin float64) float64 {
	leaves, _ := chem.AnionRun(set, kind, chem.EqPerL(q), in).NitrateLeaves()
	return set.Of(nitrateUse) * math.Min(leaves, mostBedVolumes) * resin
}

// mostBedVolumes stands for a run without end: a water without nitrate.
const mostBedVolumes = 1e5

func (x nitrateExchanger) Run(j *Job, z Size) Outcome {
	a := x.lay(j, z)
	w, fresh := a.wash(), a.fresh()
	o := Outcome{Settings: Settings{}, Limits: Envelope(j, media.NitrateExchanger), Out: a.mean()}
	o.Limits = append(append(o.Limits, a.anionRates(w)...), a.nitrateLimits()...)
	o.Limits = append(o.Limits, a.freshPH(fresh))
	a.carry(&o, w)
	if j.Lean {
		return o
	}
	o.AtPeak = fresh
	a.finish(&o, w, nitratePart(z.Mode))
	a.workNitrate()
	o.Cautions = append(a.anionCautions(fresh), nitrateCautions...)
	o.WillNot = []string{
		"It does not make water safe to drink for an infant by itself: only a test of the outlet says what nitrate is left.",
		"It takes no iron, hardness, smell or bacteria, and iron and tannin foul it.",
		fmt.Sprintf("It trades nitrate and sulfate for chloride: about %.0f mg/L more.", o.Settings[ChlorideAddedMgL]),
	}
	return o
}

var nitrateCautions = []string{
	"Where an infant or someone pregnant drinks: other water until a certified laboratory has passed the outlet, then a test each 3 months; a reverse-osmosis tap is the surer barrier.",
	"Run it by meter, never by clock alone, and keep nitrate strips by it: past its run plain resin gives back more nitrate than comes in.",
}

// nitrateLimits are those of what shares the resin with nitrate.
func (a *anionBed) nitrateLimits() []Limit {
	set, w := a.j.Site.Factors, a.j.In
	nitrate := w.Nitrate.MgPerLAsN() / eqNitrate
	sulfate := w.Sulfate.MgPerL() / eqSulfate
	ratio := sulfate / math.Max(nitrate, 1e-3)
	dump, much := set.In(sulfateDump), set.In(sulfateMuch)
	var ls []Limit
	if a.kind == chem.PlainResin {
		ls = append(ls, Limit{ID: "sulfate_dump", Have: ratio, Need: dump.Value, Unit: "meq/meq", AtMost: true,
			Say: "so much sulfate drives nitrate off plain resin as soon as it overruns: take nitrate-selective resin", Kind: dump.Kind, From: dump.From})
	}
	return append(ls, Limit{ID: "sulfate_over_nitrate", Have: ratio, Need: much.Value, Unit: "meq/meq", AtMost: true, Soft: true,
		Say: "sulfate takes most of the resin: short runs and much salt", Kind: much.Kind, From: much.From})
}

// Equivalent weights, mg/meq; nitrate as N: atomic weights over charge.
const (
	eqNitrate = 14.007
	eqSulfate = (32.06 + 4*15.999) / 2
)

func nitratePart(mode string) media.Part {
	if mode == SelectiveAnion {
		return media.NitrateResinFt3
	}
	return media.AnionResinFt3
}

// workNitrate opens the run.
func (a *anionBed) workNitrate() {
	if !a.j.Site.Working.On() {
		return
	}
	w, sym, set := a.j.In, formula.Sym, a.j.Site.Factors
	a.j.Site.Working.Add(exchangeRunFormula().Step(DaysBetweenMetered, a.metered, "days", formula.Syms(
		sym("NO3", w.Nitrate.MgPerLAsN(), "mg/L as N"), sym("SO4", w.Sulfate.MgPerL(), "mg/L"), sym("Cl", w.Chloride.MgPerL(), "mg/L"),
		sym("Alk", w.Alkalinity.MgPerLAsCaCO3(), "mg/L as CaCO3"), sym("Q", a.capacity, "eq/L"), sym("V", a.resinGal(), "gal"),
		sym("D", a.j.Daily.GalPerDay(), "gal/day")), set.In(nitrateUse)))
}

func (nitrateExchanger) Ways() []Way { return anionWays() }

var (
	nitratePlainCapacity = source.Factor{
		Name: "nitrate_plain_capacity", What: "nitrate exchanger: capacity that 10 lb/ft3 of salt wins back on plain resin", Unit: "eq/L",
		Value: 0.55, Low: 0.5, High: 0.6, Kind: source.FromMemory, From: "0.5 to 0.6 of a total of 1.0 to 1.4 (from memory)",
	}
	nitrateSelectiveCapacity = source.Factor{
		Name: "nitrate_selective_capacity", What: "nitrate exchanger: capacity that 10 lb/ft3 of salt wins back on nitrate-selective resin", Unit: "eq/L",
		Value: 0.45, Low: 0.4, High: 0.5, Kind: source.FromMemory, From: "0.4 to 0.5 (from memory)",
	}
	nitrateUse = source.Factor{
		Name: "nitrate_run_share", What: "nitrate exchanger: share of the run to nitrate that the meter is set to",
		Value: 0.8, Low: 0.7, High: 0.9, Kind: source.CommonPractice, From: "a fifth in hand against dumping",
	}
	sulfateDump = source.Factor{
		Name: "nitrate_sulfate_dump", What: "nitrate exchanger: sulfate over nitrate by charge, refused above on plain resin", Unit: "meq/meq",
		Value: 0.5, Low: 0.3, High: 1, Kind: source.FromMemory, From: "nitrate-selective resin where sulfate exceeds half the nitrate (from memory)",
	}
	sulfateMuch = source.Factor{
		Name: "nitrate_sulfate_much", What: "nitrate exchanger: sulfate over nitrate by charge, caution above", Unit: "meq/meq",
		Value: 6, Low: 4, High: 8, Kind: source.CommonPractice, From: "capacity falls hard above 6 : 1",
	}
	nitrateFactors = []source.Factor{nitratePlainCapacity, nitrateSelectiveCapacity, nitrateUse, sulfateDump, sulfateMuch}
)
