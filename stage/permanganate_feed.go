package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
)

// permanganateFeed feeds potassium permanganate to what it can oxidise, with no
// residual: what is left over is pink water.
type permanganateFeed struct{}

func (permanganateFeed) ID() media.Process { return media.PermanganateFeed }

// permanganateKind: 28 g/L is all that cold water dissolves (from memory:
// 2.8 g in 100 mL at 0 °C, 6.4 at 20 °C).
var permanganateKind = feedKind{
	process: media.PermanganateFeed, strengths: []float64{2.5, 5, 10, 20},
	keep: permanganateKeep, weekly: true,
	formula: permanganateFormula, stock: feedStock{part: media.PermanganateLb},
}

func (permanganateFeed) Sizes(j *Job) []Size {
	return feedSizes(j, permanganateKind, permanganateDose(j))
}

// permanganateDose is what the inlet water takes up, mg/L as KMnO4.
//
//	dose = 0.943 Fe + 1.92 Mn + 3.09 H2S (sulfide to sulfur; the trade plans 5 to 6)
//
// The first pink of a jar on this water stands in for the sum: it has met organic
// matter too. Source: derived from atomic weights.
func permanganateDose(j *Job) dosing {
	sum := permanganateSum(j, demandOf(chem.Permanganate, chem.SulfideToSulfur))
	if pink := j.firstPink(); pink != nil {
		v := pink.Value.MgPerL()
		return dosing{demand: v, dose: v, low: pink.Low.MgPerL(), high: pink.High.MgPerL()}
	}
	return dosing{demand: sum, dose: sum, low: sum, high: math.Max(sum, permanganateSum(j, j.Site.Factors.Of(permanganateSulfide)))}
}

// permanganateSum is what iron, manganese and sulfide take up, mg/L as KMnO4.
func permanganateSum(j *Job, perSulfide float64) float64 {
	w := j.In
	return permanganateFor(w.Ferrous.MgPerL(), w.Manganese.MgPerL(), w.Sulfide.MgPerLAsH2S(), perSulfide)
}

// firstPink is the dose that first kept a jar pink, where the jar was this water:
// behind a store or another oxidant much of the demand is gone.
func (j *Job) firstPink() *cloud.Dosed {
	jars := j.Draw.Supply.Jars
	if jars == nil || j.Has(stores...) || j.Has(media.ChlorineFeed, media.PeroxideFeed, media.OzoneFeed, media.PressureAeration, media.AirInjectionFilter) {
		return nil
	}
	return jars.Permanganate
}

// demandOf is an oxidant demand that chem is known to hold, mg for each mg.
func demandOf(o chem.Oxidant, t chem.Target) float64 {
	mg, _ := chem.Demand(o, t)
	return mg
}

func (permanganateFeed) Run(j *Job, z Size) Outcome {
	d := permanganateDose(j).held(z)
	f := layFeed(j, z, permanganateKind, d)
	o := Outcome{
		Settings: f.settings(), Limits: append(append(f.limits(j), alkalinityLeft(j)...), coatedBehind(j)),
		Needs: f.needs(),
	}
	w := j.In // set by the pink at start-up: what other things take up leaves nothing over
	fed := permanganateSum(j, demandOf(chem.Permanganate, chem.SulfideToSulfur))
	if d.given {
		fed = d.dose
	}
	w.Permanganate = unit.MgPerL(w.Permanganate.MgPerL() + fed*j.fedShare())
	o.Out = j.inPipe(w)
	if j.Lean {
		return o
	}
	o.AtPeak = o.Out
	o.Bill = feedBill(f, "permanganate for iron and manganese")
	o.Cautions = []string{
		"Permanganate stains skin and floors and starts fires with glycerin, peroxide, acid or bleach powder: keep it apart, gloves and goggles.",
		"Pink at the tap is an overdose of as little as 0.05 mg/L: turn the stroke down; carbon does not cure it.",
		"Keep pink rinse water out of streams: it kills fish.",
	}
	o.WillNot = []string{
		"It takes no iron or manganese out: the coated bed behind it holds the floc.",
		"It leaves no residual and is no disinfectant; ammonia stays.",
	}
	f.working(j)
	return o
}

// coatedBehind asks for a manganese bed behind the feed, to hold what is under-
// or overfed.
func coatedBehind(j *Job) Limit {
	return behind(j, "coated_bed_behind", "a manganese-coated bed behind it must catch what is under- or overfed",
		media.CoatedSandFilter, media.GreensandFilter, media.ManganeseOreFilter)
}

// behind asks for one of the processes behind this stage. While a search does not
// yet know what will stand behind it is taken to stand: its rules of order see to it.
func behind(j *Job, id, say string, ps ...media.Process) Limit {
	have := 0.0
	if j.After == nil || j.Leads(ps...) {
		have = 1
	}
	return Limit{ID: id, Have: have, Need: 1, Unit: "stage", Say: say, Kind: source.CommonPractice, From: "order of stages"}
}

func (permanganateFeed) Ways() []Way {
	return feedWays("permanganate", "no pink at the inlet of the bed; iron still ferrous")
}

var (
	permanganateSulfide = source.Factor{
		Name: "permanganate_sulfide_high", What: "high permanganate demand of sulfide", Unit: "mg/mg as H2S",
		Value: 6, Low: 3.1, High: 12.4, Kind: source.CommonPractice, From: "trade formula 5; part goes to sulfate",
	}
	permanganateKeep = source.Factor{
		Name: "permanganate_solution_days", What: "longest a permanganate solution is kept", Unit: "days",
		Value: 60, Low: 30, High: 120, Kind: source.CommonPractice, From: "keeps long in the dark; sludge settles",
	}
	permanganateFactors = []source.Factor{permanganateSulfide, permanganateKeep}
)
