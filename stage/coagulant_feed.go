package stage

import (
	"fmt"
	"math"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// coagulantFeed feeds alum or ferric chloride, which gathers bound and colloidal iron
// and colour in floc that a filter can hold. Its dose is that of the jars alone:
// nothing else tells it, so without a jar it has none.
type coagulantFeed struct{}

func (coagulantFeed) ID() media.Process { return media.CoagulantFeed }

// coagulantKinds are the two salts as they are fed. Ferric chloride eats metal and
// stains: weaker solutions.
var coagulantKinds = map[string]feedKind{
	AlumFed: {process: media.CoagulantFeed, strengths: []float64{10, 25, 50, 100}, keep: coagulantKeep, weekly: true,
		formula: coagulantFormula, stock: feedStock{part: media.AlumLb}},
	FerricFed: {process: media.CoagulantFeed, strengths: []float64{10, 25, 50}, keep: coagulantKeep, weekly: true,
		formula: coagulantFormula, stock: feedStock{part: media.FerricChlorideLb}},
}

// Sizes are the pump for each salt that a jar was dosed with; the smallest pump for
// alum where none was, so that its first limit can be told.
func (coagulantFeed) Sizes(j *Job) []Size {
	var zs []Size
	for _, mode := range []string{AlumFed, FerricFed} {
		if d, ok := coagulantDose(j, mode); ok {
			for _, z := range feedSizes(j, coagulantKinds[mode], d) {
				z.Label = mode
				zs = append(zs, z)
			}
		}
	}
	if zs == nil {
		zs = []Size{{Label: AlumFed, Feed: unit.GalPerDay(feedPumps[0])}}
	}
	return zs
}

// jarOf is what the jars say of a salt; nil where none was dosed with it, or where
// the jar was another water than reaches the feed.
func (j *Job) jarOf(mode string) *cloud.Dosed {
	jars := j.Draw.Supply.Jars
	if jars == nil || j.Has(stores...) || j.Has(changing...) {
		return nil
	}
	if mode == FerricFed {
		return jars.Ferric
	}
	return jars.Alum
}

// changing are the stages beside stores behind which the jars of raw water no longer
// hold: alkali, and oxidants that take organic matter apart.
var changing = []media.Process{media.SodaAshFeed, media.CalciteBed, media.MagnesiaBlendBed, media.PressureAeration, media.PeroxideFeed, media.OzoneFeed}

// coagulantDose is the dose of least iron in the jars, mg/L of the dry salt.
func coagulantDose(j *Job, mode string) (dosing, bool) {
	jar := j.jarOf(mode)
	if jar == nil || jar.Left == nil {
		return dosing{}, false
	}
	v := jar.Value.MgPerL()
	return dosing{demand: v, dose: v, low: jar.Low.MgPerL(), high: jar.High.MgPerL()}, true
}

// coagulation is one dose of one salt in one water.
type coagulation struct {
	j    *Job
	salt *salt
	jar  *cloud.Dosed // nil: not known
	dosing
}

func newCoagulation(j *Job, z Size) coagulation {
	mode := z.Label
	if salts[mode] == nil {
		mode = AlumFed
	}
	c := coagulation{j: j, salt: salts[mode]}
	if d, ok := coagulantDose(j, mode); ok {
		c.jar, c.dosing = j.jarOf(mode), d
	}
	return c
}

func (x coagulantFeed) Run(j *Job, z Size) Outcome {
	c := newCoagulation(j, z)
	f := layFeed(j, z, coagulantKinds[c.salt.words], c.dosing)
	o := Outcome{Needs: f.needs(), Out: j.In}
	if c.jar == nil {
		o.Limits = append(Envelope(j, media.CoagulantFeed), noJar())
	} else {
		sound := c.treated(c.dose)
		o.Out, o.Settings, o.Limits = sound, f.settings(), append(f.limits(j), c.limits(sound)...)
		if j.Fault != "" {
			o.Out = c.faulty(c.dose * j.fedShare())
		}
	}
	if j.Lean {
		return o
	}
	o.AtPeak = o.Out
	o.Bill = feedBill(f, c.salt.words+" for bound and fine iron")
	o.Bill.Yearly = append(o.Bill.Yearly, cost.Use{Part: media.Visit, PerYear: 2, Why: "jars anew as the seasons turn, and the dose set by them"})
	o.Cautions, o.WillNot = c.cautions(), coagulantWillNot
	if c.jar != nil {
		f.working(j)
		c.tellAluminium(o.Settings)
	}
	return o
}

// noJar refuses a feed whose dose nobody knows.
func noJar() Limit {
	return Limit{ID: "jar_dose", Have: 0, Need: 1, Unit: "yes or no",
		Say:  "dose not known: jar test first, a series of alum or ferric salt in the water as it reaches the feed, with iron read behind a filter",
		Kind: source.CommonPractice, From: "jar tests set the dose of a coagulant; no figure in print stands in for them"}
}

// treated is the water behind a sound feed with so much fed: alkalinity is eaten, what the
// floc takes of bound iron becomes rust and of organic matter leaves the water. Less
// floc than the jar's dose makes takes less in proportion: metal that stays dissolved
// takes nothing.
func (c coagulation) treated(fed float64) water.State {
	w := c.acidified(fed)
	return c.gathered(w, fed, w.PH.Value())
}

// faulty is the water behind a feed that gives so much, or whose pH has left.
func (c coagulation) faulty(fed float64) water.State {
	w := c.acidified(fed)
	if c.j.Fault == CoagulantPH {
		w.PH = unit.PHOf(w.PH.Value() - faultCoagulantPH)
	}
	return c.gathered(w, fed, c.acidified(c.dose).PH.Value())
}

// gathered lets the floc of so much work in a water; sound is the pH that the jar's
// dose gives.
func (c coagulation) gathered(w water.State, fed, sound float64) water.State {
	s, set := c.salt, c.j.Site.Factors
	w.Sulfate = unit.MgPerL(w.Sulfate.MgPerL() + fed*s.sulfate)
	w.Chloride = unit.MgPerL(w.Chloride.MgPerL() + fed*s.chloride)
	formed := s.formed(set, fed, w.PH.Value())
	works := math.Min(1, fed*formed/math.Max(c.dose*s.formed(set, c.dose, sound), leastFloc))
	gone := (w.Bound.MgPerL() - c.boundLeft()) * works
	w.Bound = unit.MgPerL(w.Bound.MgPerL() - gone)
	w.Particulate = unit.MgPerL(w.Particulate.MgPerL() + gone)
	if s.metal == molIron {
		w.Particulate = unit.MgPerL(w.Particulate.MgPerL() + s.metalOf(fed)*molIron)
	}
	carbon := w.OrganicCarbon.MgPerL()
	left := s.carbon.left(carbon, s.metalOf(fed)*formed, w.PH.Value(), set.Of(coagulantSUVA))
	w.OrganicCarbon = unit.MgPerL(left)
	w.Solids = unit.MgPerL(w.Solids.MgPerL() + s.flocSolids(set, fed*formed).MgPerL() + organicSolid*(carbon-left))
	return w
}

// acidified is the inlet water with the alkalinity that so much takes gone.
func (c coagulation) acidified(fed float64) water.State {
	return c.j.alkalised(c.j.In, -c.salt.acid(fed)/mgPerG, 0)
}

// leastFloc keeps a division whole where next to no floc forms, mg/L.
const leastFloc = 1e-6

// organicSolid is dry solid for each milligram of organic carbon in floc: humic
// matter is half carbon (common practice).
const organicSolid = 2

// boundLeft is the bound iron that the jar's dose leaves in a plant, mg/L: what the
// jar left of it, by how the draw leans, and a little more, since a plant stirs worse.
func (c coagulation) boundLeft() float64 {
	l, w := c.jar.Left, &c.j.In
	read := l.Value
	switch c.j.Draw.Law {
	case chem.SlowLaw:
		read = l.High
	case chem.FastLaw:
		read = l.Low
	}
	left := l.Bound(read, c.j.Draw.Water.Ferrous, w.Bound).MgPerL()
	return math.Min(w.Bound.MgPerL(), left*c.j.Site.Factors.Of(coagulantPlant))
}

// limits are those of the jar, the alkalinity, the pH and what stands behind, for the
// water that sound feeding gives.
func (c coagulation) limits(out water.State) []Limit {
	set := c.j.Site.Factors
	ls := alkalinityAbove(c.j, out.Alkalinity.MgPerLAsCaCO3(), "the coagulant eats the alkalinity up and the pH falls away: jars with alkali first", "little alkalinity is left behind the coagulant: read the pH of the jars")
	ls = append(ls, c.window(out.PH.Value())...)
	ls = append(ls, Limit{ID: "jar_highest", Have: yes(!c.jar.Open), Need: 1, Unit: "yes or no", Soft: true,
		Say: "the jar with most was the best: more may do better; try it", Kind: source.Derived, From: "the steps of the series"})
	if c.salt.metal == molAluminium {
		low, most := set.In(aluminiumAim), set.In(aluminiumMost)
		have := aluminiumLeft(set, out.PH.Value())
		const say = "aluminium stays dissolved at this pH and passes: bring the pH to 6 to 7"
		ls = append(ls, Limit{ID: "aluminium_left", Have: have, Need: most.Value, Unit: "mg/L", AtMost: true, Say: say, Kind: most.Kind, From: most.From},
			Limit{ID: "aluminium_left", Have: have, Need: low.Value, Unit: "mg/L", AtMost: true, Soft: true, Say: say, Kind: low.Kind, From: low.From})
	}
	floc := set.In(coagulantDirect)
	return append(ls,
		Limit{ID: "floc_on_filter", Have: c.dose, Need: floc.Value, Unit: "mg/L", AtMost: true, Soft: true, Say: "so much floc is settled ahead of the filter at water works: blow the retention tank down often and watch the filter's pressure", Kind: floc.Kind, From: floc.From},
		behind(c.j, "retention_behind", "floc needs time to grow before a filter can hold it", media.ContactTank),
		behind(c.j, "filter_behind", "the floc must be filtered out behind it", flocFilters...))
}

// flocFilters are the beds that hold floc.
var flocFilters = []media.Process{media.SedimentFilter, media.CoatedSandFilter, media.GreensandFilter, media.ManganeseOreFilter, media.LightweightFilter}

// window is the pH in which the salt gathers organic matter.
func (c coagulation) window(ph float64) []Limit {
	low, high := coagulantAlumLow, coagulantAlumHigh
	if c.salt.metal == molIron {
		low, high = coagulantFerricLow, coagulantFerricHigh
	}
	low, high = c.j.Site.Factors.In(low), c.j.Site.Factors.In(high)
	return []Limit{
		{ID: "coagulant_ph_low", Have: ph, Need: low.Value, Unit: "pH", Soft: true, Say: "too acid behind the dose for good floc: alkali ahead, and jars with it", Kind: low.Kind, From: low.From},
		{ID: "coagulant_ph_high", Have: ph, Need: high.Value, Unit: "pH", AtMost: true, Soft: true, Say: "the pH stays high behind the dose: organic matter wants more coagulant there", Kind: high.Kind, From: high.From},
	}
}

func (c coagulation) cautions() []string {
	cs := []string{
		fmt.Sprintf("The dose of %s is that of the jars on the day they were filled: jars again in the wet and the dry season, and whenever colour comes through.", c.salt.words),
		"Test the outlet for iron, colour and pH at start-up and each month at first; with alum for aluminium too (0.05 to 0.2 mg/L is the secondary level).",
		"The drain carries much soft mud: not to a septic system, a ditch or a stream without asking the county or state office.",
	}
	if c.salt.metal == molIron {
		return append(cs, "Ferric chloride burns skin and eyes, eats metal and concrete and stains: plastic tank and pipe, goggles, gloves, a tray under the tank; never near bleach.")
	}
	return append(cs, "Alum solution is an acid: goggles and gloves, plastic tank and pipe; it never meets bleach: chlorine gas.")
}

var coagulantWillNot = []string{
	"It takes no ferrous iron, manganese or hardness, and is no disinfectant.",
	"It promises no figure at the tap beyond what the jar left.",
}

// CoagulantPH is a pH behind the feed that has left the window.
const CoagulantPH Fault = "coagulant_ph"

// faultCoagulantPH is how far it then lies below. Kind: judgement.
const faultCoagulantPH = 1

func (coagulantFeed) Ways() []Way {
	return []Way{
		{FeedEmpty, "the solution tank is empty", "colour and bound iron at the outlet as in raw water; pH as in raw water", "fill it, prime the pump, and note the day"},
		{FeedAirLocked, "the feed pump has lost its prime", "as empty; solution level stands still", "bleed the head; check foot valve and tube"},
		{FeedPlugged, "the injection fitting is plugged: underfed", "colour and bound iron come through; pH falls less than set", "clean the fitting; strain the solution"},
		{FeedHigh, "the pump is set too high or siphons: overfed", "pH far down, the filter full in hours, with alum aluminium at the tap", "set the stroke again by the jar; renew the anti-siphon valve"},
		{FlowChanged, "the well pump gives another flow than the feed was set for", "dose off by the ratio of the flows, the same every day", "measure the pump's flow and set the stroke to it"},
		{CoagulantPH, "the pH behind the feed has left its window", "pin floc that passes, with alum aluminium at the tap, though the dose is right", "read the pH behind the feed; mend or set the alkali feed; jars at the new pH"},
	}
}

// tellAluminium says what aluminium stays dissolved behind alum, and opens it.
func (c coagulation) tellAluminium(to Settings) {
	if c.salt.metal != molAluminium {
		return
	}
	set, ph := c.j.Site.Factors, c.treated(c.dose).PH.Value()
	to[AluminiumMgL] = aluminiumLeft(set, ph)
	if c.j.Site.Working.On() {
		c.j.Site.Working.Add(aluminiumFormula().Step(AluminiumMgL, to[AluminiumMgL], "mg/L", formula.Syms(formula.Sym("pH", ph, "")), set.In(aluminiumHydroxide)))
	}
}

var (
	coagulantKeep = source.Factor{
		Name: "coagulant_solution_days", What: "longest a coagulant solution is kept", Unit: "days",
		Value: 30, Low: 14, High: 90, Kind: source.CommonPractice, From: "weak solutions turn to hydroxide with time; stock keeps",
	}
	coagulantPlant = source.Factor{
		Name: "coagulant_plant", What: "bound iron that the jar's dose leaves in a plant over what it left in the jar",
		Value: 1.2, Low: 1, High: 1.6, Kind: source.Judgement, From: "a household feed stirs and dwells less evenly than a jar",
	}
	coagulantSUVA = source.Factor{
		Name: "coagulant_suva", What: "ultraviolet absorbance of organic matter that holds iron, where nobody read it", Unit: "L/(mg m)",
		Value: 4, Low: 2, High: 5, Kind: source.FromMemory, From: "humic waters lie at 4 and above (water-works practice)",
	}
	coagulantAlumLow  = coagulantEdge("coagulant_alum_ph_low", "lowest pH behind alum for good floc", 5.5, "5.5 to 7.0 for colour and organic matter (water-works practice)")
	coagulantAlumHigh = coagulantEdge("coagulant_alum_ph_high", "highest pH behind alum at which it still gathers organic matter well", 7.0, "5.5 to 7.0 for colour and organic matter (water-works practice)")

	coagulantFerricLow  = coagulantEdge("coagulant_ferric_ph_low", "lowest pH behind ferric salt for good floc", 4.5, "4.5 to 7.0 (water-works practice)")
	coagulantFerricHigh = coagulantEdge("coagulant_ferric_ph_high", "highest pH behind ferric salt at which it still gathers organic matter well", 7.0, "4.5 to 7.0 (water-works practice)")

	aluminiumAim = source.Factor{
		Name: "aluminium_aim", What: "aluminium behind alum that is striven for", Unit: "mg/L",
		Value: 0.05, Kind: source.Published, From: "40 CFR 143.3: secondary level of 0.05 to 0.2 mg/L; the lower is striven for (56 FR 3526)",
	}
	aluminiumMost = source.Factor{
		Name: "aluminium_most", What: "aluminium behind alum that is not gone beyond", Unit: "mg/L",
		Value: 0.2, Kind: source.Published, From: "40 CFR 143.3: secondary level of 0.05 to 0.2 mg/L",
	}
	coagulantDirect = source.Factor{
		Name: "coagulant_direct_most", What: "dose up to which floc goes on a filter without settling", Unit: "mg/L",
		Value: 20, Low: 10, High: 30, Kind: source.FromMemory, From: "direct filtration at water works, 15 to 20 mg/L of alum",
	}
	coagulantFactors = []source.Factor{
		coagulantKeep, coagulantPlant, coagulantSUVA, coagulantAlumLow, coagulantAlumHigh, coagulantFerricLow, coagulantFerricHigh,
		aluminiumAim, aluminiumMost, coagulantDirect, aluminiumHydroxide, alumSolids, contactCoagulant,
	}
)

// coagulantEdge is an end of a pH window, from memory.
func coagulantEdge(name, what string, ph float64, from string) source.Factor {
	return source.Factor{Name: name, What: what, Unit: "pH", Value: ph, Low: ph - 0.5, High: ph + 0.5, Kind: source.FromMemory, From: from}
}
