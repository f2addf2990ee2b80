package stage

import (
	"math"
	"slices"

	"wellwright/chem"
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// chlorineFeed feeds hypochlorite. It meets what takes chlorine up in the water
// that reaches it and leaves a free residual.
type chlorineFeed struct{}

func (chlorineFeed) ID() media.Process { return media.ChlorineFeed }

// hypochlorite is fed weak: strong solutions gas in the pump and need too small
// a stroke.
var hypochlorite = feedKind{
	process: media.ChlorineFeed, strengths: []float64{5, 10, 15, 25, 50},
	keep: chlorineKeep, weekly: true,
	formula: chlorineFormula,
	stock:   feedStock{part: media.HypochloriteGal, gL: tradeHypochlorite},
}

// tradeHypochlorite is the strength of 12.5 % trade hypochlorite averaged over
// its shelf life, g/L as Cl2; fresh it is 125. Kind: from memory; a month at
// 90 °F leaves 84 of 125 (published, swimming-pool operators' table).
const tradeHypochlorite = 100

func (chlorineFeed) Sizes(j *Job) []Size { return feedSizes(j, hypochlorite, chlorineDose(j).dosing) }

func (c chlorineFeed) Run(j *Job, z Size) Outcome {
	d := chlorineDose(j).held(z)
	f := layFeed(j, z, hypochlorite, d.dosing)
	o := Outcome{
		Settings: f.settings(), Limits: c.withLimits(f.limits(j), j),
		Needs: f.needs(), Out: j.chlorinated(d),
	}
	o.Settings[ResidualMgL] = d.reading
	if j.Lean {
		return o
	}
	o.AtPeak = o.Out
	o.Bill, o.Cautions, o.WillNot = feedBill(f, "chlorine for iron and its companions"), slices.Clone(chlorineCautions), c.willNot(j)
	o.Bill.Yearly = append(o.Bill.Yearly, cost.Use{Part: media.ChlorineTestStrip, PerYear: 52, Why: "free chlorine, weekly"})
	d.working(j, f)
	return o
}

// chlorination is a chlorine dose by its parts, mg/L as Cl2.
type chlorination struct {
	dosing
	parts    chem.ChlorineParts
	extra    float64 // taken up by organic matter and slime
	residual float64 // that the dose is planned with
	reading  float64 // of free chlorine, to titrate to behind the contact tank
	titrated float64 // the dose that then comes of it
}

// chlorineDose sums what takes up chlorine in the inlet water. A demand measured
// in a jar stands in for the sum.
//
//	dose = 0.635 Fe + 1.29 Mn + 2.08 H2S + 7.6 N + extra + residual
//
//	Fe, Mn  dissolved, mg/L;  H2S  sulfide to sulfur (to sulfate at most, 8.32)
//	N       ammonia as N;  extra  organic matter and slime
//
// Error: a factor of two where there is sulfide; a jar test is the sure figure.
// Source: derived from atomic weights; ammonia from memory (breakpoint practice).
func chlorineDose(j *Job) chlorination {
	w, set := j.In, j.Site.Factors
	d, sum := chlorineSum(j.Site.Model, chem.ChlorineNeeds{
		IronII: w.Ferrous, Manganese: w.Manganese, Sulfide: w.Sulfide, Ammonia: w.Ammonia,
		Residual: unit.MgPerLAsCl2(wantedResidual(j)),
	}, j.Draw.Supply.ChlorineExtra.MgPerLAsCl2())
	mn := d.parts.Manganese.Usual.MgPerLAsCl2()
	jar := j.jarDemand()
	if jar != nil {
		d.extra = math.Max(0, *jar-(sum-mn))
		d.demand = *jar
		d.dose = *jar + d.residual
		e := set.Of(chlorineJarError)
		d.low, d.high = d.dose*(1-e), d.dose*(1+e)
		if s := j.Draw.Supply.Jars; s != nil && s.Chlorine != nil { // what the steps of the series left open
			d.low = math.Min(d.low, s.Chlorine.Low.MgPerL()+d.residual)
			d.high = math.Max(d.high, s.Chlorine.High.MgPerL()+d.residual)
		}
	} else {
		if w.Bacteria >= bacteriaLikely {
			d.high = math.Max(d.high, (d.demand+d.residual)*set.Of(chlorineSlime))
		}
		d.dose = startDose(d.demand+d.residual, d.high, set.Of(chlorineStart))
	}
	d.reading = j.throughBed(d.residual, mn)
	d.titrated = sum - mn + d.extra + d.reading
	return d
}

// held is the chlorination with the dose that a size asks for: what the water does
// not take is the residual, and titration changes nothing.
func (d chlorination) held(z Size) chlorination {
	takes := d.titrated - d.reading
	if d.dosing = d.dosing.held(z); d.given {
		d.titrated, d.reading = d.dose, math.Max(0, d.dose-takes)
	}
	return d
}

// chlorineSum is what takes up chlorine by the sum, and the sum without extra and
// residual.
func chlorineSum(m *chem.Model, n chem.ChlorineNeeds, extra float64) (chlorination, float64) {
	d := chlorination{residual: n.Residual.MgPerLAsCl2(), extra: extra, parts: m.ChlorineDemand(n)}
	total := d.parts.Total()
	sum := total.Usual.MgPerLAsCl2() - d.residual
	d.demand = sum + extra
	d.low, d.high = total.Low.MgPerLAsCl2(), total.High.MgPerLAsCl2()+extra
	return d, sum
}

// startDose is a share of the way from the usual dose to the high one.
func startDose(usual, high, share float64) float64 {
	return usual + share*math.Max(0, high-usual)
}

// jarDemand is the demand measured in a jar, where it was this water: behind a
// store much of the demand is gone, and the formulas serve better.
func (j *Job) jarDemand() *float64 {
	jar := j.Draw.Supply.DemandMeasured
	if jar == nil || j.Has(stores...) {
		return nil
	}
	v := jar.MgPerLAsCl2()
	return &v
}

// throughBed is the free chlorine to be read behind the contact tank: the
// residual wanted, or where a coated bed follows what the manganese takes there
// with a little left over. Manganese takes next to nothing before the bed.
func (j *Job) throughBed(residual, manganese float64) float64 {
	if !j.Leads(media.CoatedSandFilter, media.GreensandFilter, media.ManganeseOreFilter) {
		return residual
	}
	return math.Max(residual, manganese+j.Site.Factors.Of(residualThrough))
}

// wantedResidual is the free chlorine to be read behind the contact tank.
func wantedResidual(j *Job) float64 {
	w := j.Draw.Water
	if w.Coliform.Per100mL() > 0 || w.EColi.Per100mL() > 0 || w.Bacteria >= bacteriaLikely {
		return j.Site.Factors.Of(residualHealth)
	}
	return j.Site.Factors.Of(residualPlain)
}

// chlorinated is the inlet water with the dose that reading the residual at
// start-up comes to, after its way through the pipe. Organic matter and slime
// take their part at once here; in truth they take it over half an hour.
func (j *Job) chlorinated(d chlorination) water.State {
	w := j.withHypochlorite(j.In, d.titrated*j.fedShare())
	return j.inPipe(j.spent(w, d.extra))
}

// withHypochlorite adds a dose of trade hypochlorite: the chlorine, and the salt
// it brings or turns into. Each Cl2 comes as OCl- with its equivalent of
// alkalinity and two sodium, and ends as two chloride. The little free caustic
// of the product is left out.
func (j *Job) withHypochlorite(w water.State, mgL float64) water.State {
	x, c := j.mix(w)
	x.FreeChlorine = unit.MgPerLAsCl2(x.FreeChlorine.MgPerLAsCl2() + mgL)
	x.Alkalinity = unit.AlkalinityMeq(x.Alkalinity.MeqPerL() + mgL/molChlorine)
	w = j.remixed(w, x, c)
	w.Sodium = unit.MgPerL(w.Sodium.MgPerL() + mgL*2*molSodium/molChlorine)
	w.Chloride = unit.MgPerL(w.Chloride.MgPerL() + mgL)
	return w
}

// spent takes free chlorine away as organic matter does: to chloride, with one
// acid for each Cl2 that was HOCl.
func (j *Job) spent(w water.State, mgL float64) water.State {
	gone := math.Min(mgL, w.FreeChlorine.MgPerLAsCl2())
	if gone <= 0 {
		return w
	}
	x, c := j.mix(w)
	x.FreeChlorine = unit.MgPerLAsCl2(x.FreeChlorine.MgPerLAsCl2() - gone)
	x.Alkalinity = unit.AlkalinityMeq(x.Alkalinity.MeqPerL() - gone/molChlorine)
	return j.remixed(w, x, c)
}

// Molar masses, g/mol: IUPAC, abridged.
const (
	molSodium   = 22.990
	molChlorine = 70.906 // Cl2
)

// withLimits adds the limits of chlorine alone.
func (chlorineFeed) withLimits(ls []Limit, j *Job) []Limit {
	return append(append(ls, alkalinityLeft(j)...),
		notWith(j, media.PeroxideFeed, "peroxide_with_chlorine", "peroxide and chlorine destroy each other; feed one"))
}

// notWith is a limit that another process on the same line breaks.
func notWith(j *Job, p media.Process, id, say string) Limit {
	n := 0.0
	if j.Has(p) || j.Leads(p) {
		n = 1
	}
	return Limit{ID: id, Have: n, Need: 0, AtMost: true, Unit: p.Words(), Say: say, Kind: source.Derived, From: "chemistry of the two"}
}

func (chlorineFeed) willNot(j *Job) []string {
	s := []string{
		"It takes no iron out: it turns ferrous iron to floc, which a filter must hold.",
		"Manganese stays dissolved until a coated bed behind it, fed with free residual, takes it.",
	}
	if n := j.In.Ammonia.MgPerLAsN(); n > 0.3 { // 0.3 mg/L as N: treatment rule of the trade for planning tenfold chlorine
		s = append(s, "Until ammonia is burnt out, what the kit reads as total chlorine is combined: it oxidises and disinfects poorly.")
	}
	return s
}

var chlorineCautions = []string{
	"Never let bleach meet acid, ammonia or permanganate: chlorine gas; eye wash, gloves, an open window.",
	"Mix with softened water, no more than a month's at a time; keep bleach off stainless steel and copper.",
	"Set the stroke by the free residual behind the contact tank, with a kit that tells free from combined.",
	"Organic matter above 2 mg/L makes by-products (trihalomethanes): test once and put carbon at the drinking tap.",
}

// working opens the dose and the feed.
func (d chlorination) working(j *Job, f feed) {
	if !j.Site.Working.On() {
		return
	}
	part := func(name string, p chem.Dose) formula.Symbol {
		return formula.Symbol{Name: name, Value: p.Usual.MgPerLAsCl2(), Unit: "mg/L as Cl2"}
	}
	j.Site.Working.Add(chlorineFormula().Step(DemandMgL, d.demand, "mg/L as Cl2", formula.Syms(
		part("Fe", d.parts.Iron), part("Mn", d.parts.Manganese), part("H2S", d.parts.Sulfide),
		part("N", d.parts.Ammonia), formula.Sym("extra", d.extra, "mg/L as Cl2"))))
	f.working(j)
}

func (chlorineFeed) Ways() []Way {
	return feedWays("free chlorine", "no free chlorine behind the feed; iron still ferrous")
}

var (
	residualPlain = source.Factor{
		Name: "chlorine_residual", What: "free chlorine wanted behind the contact tank", Unit: "mg/L as Cl2",
		Value: 0.7, Low: 0.5, High: 1, Kind: source.CommonPractice, From: "trade rule, 0.5 to 1.0 after retention",
	}
	residualHealth = source.Factor{
		Name: "chlorine_residual_organisms", What: "free chlorine wanted where coliform or iron bacteria live", Unit: "mg/L as Cl2",
		Value: 1, Low: 0.7, High: 2, Kind: source.CommonPractice, From: "trade rule for continuous chlorination",
	}
	residualThrough = source.Factor{
		Name: "chlorine_residual_through_bed", What: "free chlorine to be left behind a coated bed that takes manganese", Unit: "mg/L as Cl2",
		Value: 0.2, Low: 0.2, High: 0.8, Kind: source.CommonPractice, From: "trade rule: a free residual through the bed at all times",
	}
	chlorineStart = source.Factor{
		Name: "chlorine_start_share", What: "share of the way from the usual to the high dose at which the feed is started, before titration",
		Value: 0.12, Low: 0, High: 0.5, Kind: source.Judgement, From: "a little above the sum to sulfur; then titrated to the residual",
	}
	chlorineSlime = source.Factor{
		Name: "chlorine_slime_allowance", What: "high dose over the sum where slime lives",
		Value: 1.4, Low: 1.2, High: 3, Kind: source.CommonPractice, From: "slime eats chlorine; two to three times the sum in the first month",
	}
	chlorineJarError = source.Factor{
		Name: "chlorine_jar_error", What: "error of a demand measured in a jar on site",
		Value: 0.1, Low: 0.05, High: 0.2, Kind: source.Judgement, From: "kit read to 0.1 mg/L after dilution",
	}
	chlorineKeep = source.Factor{
		Name: "chlorine_solution_days", What: "longest a mixed hypochlorite solution is kept", Unit: "days",
		Value: 30, Low: 14, High: 45, Kind: source.CommonPractice, From: "trade rule",
	}
	chlorineFactors = []source.Factor{residualPlain, residualHealth, residualThrough, chlorineStart, chlorineSlime, chlorineJarError, chlorineKeep}
)
