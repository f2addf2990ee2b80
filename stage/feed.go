package stage

import (
	"math"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// feedKind is what sets one chemical's feed apart from another's.
type feedKind struct {
	process   media.Process
	strengths []float64 // of the fed solution, g/L, weakest first
	keep      source.Factor
	stock     feedStock
	weekly    bool                   // someone must look weekly
	formula   func() formula.Formula // of the dose
}

// feedStock is how the chemical is bought.
type feedStock struct {
	part media.Part
	gL   float64 // strength of a bought liquid over its shelf life; zero for a dry chemical
}

// dosing is what a feed must give one water, mg/L. Demand is without any
// residual.
type dosing struct {
	demand, dose, low, high float64
	given                   bool // asked for, and held in every water
}

// held is the dosing with the dose that a size asks for, if it asks for one.
func (d dosing) held(z Size) dosing {
	if dose := z.Settings[DoseMgL]; dose > 0 {
		d.dose, d.low, d.high, d.given = dose, dose, dose, true
	}
	return d
}

// feed is one feed laid out: its solution, its pump and how both are set.
type feed struct {
	kind     feedKind
	d        dosing
	main     unit.Flow // flow in the pipe while the pump feeds
	strength float64   // g/L
	pump     float64   // greatest output, gal/day
	need     float64   // output at the dose, gal/day
	high     float64   // output at the high dose, gal/day
	litres   float64   // of solution a day
	days     float64   // one filling lasts
	fill     float64   // L to mix at a time
	stock    float64   // bought a year: L of liquid, or lb
	paced    bool
	lean     bool // asked for what a cloud of waters carries, no more
}

// flowPaced is the mode of a feed that follows a meter.
const flowPaced = "flow-paced"

// feedPumps are the greatest outputs of small peristaltic and diaphragm pumps,
// gal/day: common practice, no single source.
var feedPumps = [...]float64{5, 10, 17, 24, 30, 40}

// layFeed lays out a feed. A size that names no strength gets the one that suits.
func layFeed(j *Job, z Size, k feedKind, d dosing) feed {
	f := feed{kind: k, d: d, main: j.fedFlow(), pump: z.Feed.GalPerDay(), paced: z.Mode == flowPaced, lean: j.Lean}
	f.strength = z.Settings[SolutionGL]
	if f.strength == 0 {
		f.strength = k.strengthFor(j, f.main, d.dose)
	}
	f.need, f.high = f.output(d.dose), f.output(d.high)
	day := litresADay(j.Daily)
	f.litres = solutionLitres(day, d.dose, f.strength)
	f.days = fillingDays(j.Site.Factors.Of(k.keep), unit.Gal(j.Site.Factors.Of(feedTank)).L(), f.litres)
	f.fill = f.days * f.litres
	grams := chemicalGrams(day, d.dose)
	f.stock = unit.G(grams).Lb()
	if k.stock.gL > 0 {
		f.stock = grams / k.stock.gL
	}
	return f
}

const (
	mgPerG        = 1000
	minutesPerDay = 1440
	daysPerYear   = 365
	mLPerL        = 1000
)

// output is what the pump must give for a dose, gal/day while the water runs.
func (f feed) output(dose float64) float64 {
	return hydraulic.FeedRate(f.main, unit.MgPerL(dose), unit.GPerL(f.strength)).GalPerDay()
}

// strengthFor picks the strength at which the pump runs nearest to the middle
// of the range of small feed pumps: a stronger solution sputters, a weaker one
// fills the tank too often.
func (k feedKind) strengthFor(j *Job, main unit.Flow, dose float64) float64 {
	aim := j.Site.Factors.Of(feedAim)
	best, apart := k.strengths[0], math.Inf(1)
	for _, s := range k.strengths {
		out := hydraulic.FeedRate(main, unit.MgPerL(dose), unit.GPerL(s)).GalPerDay()
		if d := math.Abs(math.Log(math.Max(out, 1e-6) / aim)); d < apart-1e-9 {
			best, apart = s, d
		}
	}
	return best
}

// feedSizes are the pumps that would run in the middle of their range at the
// dose and within it at the high dose, fixed first. Where the well pump's flow
// varies the flow-paced feed follows.
func feedSizes(j *Job, k feedKind, d dosing) []Size {
	main := j.fedFlow()
	s := k.strengthFor(j, main, d.dose)
	f := feed{kind: k, main: main, strength: s}
	pump := unit.GalPerDay(j.pumpFor(f.output(d.dose), f.output(d.high)))
	z := Size{Feed: pump, Settings: Settings{SolutionGL: s}}
	if j.fedSteadily() {
		return []Size{z}
	}
	paced := Size{Feed: pump, Settings: Settings{SolutionGL: s}, Mode: flowPaced}
	return []Size{z, paced}
}

// pumpFor returns the smallest pump, gal/day, that gives the high dose and runs
// below the top of its best range at the usual one; the largest if none does.
func (j *Job) pumpFor(need, high float64) float64 {
	top := j.Site.Factors.Of(feedStrokeHigh) / 100
	for _, p := range feedPumps {
		if need <= top*p && high <= p {
			return p
		}
	}
	return feedPumps[len(feedPumps)-1]
}

// stroke is the share of a pump's range that an output takes, percent.
func (f feed) stroke(out float64) float64 {
	return strokeOf(out, f.pump)
}

// settings are the installer's figures of a feed.
func (f feed) settings() Settings {
	perMinute := unit.GalPerDay(f.need).LPerMin() * mLPerL
	if f.lean {
		return Settings{DoseMgL: f.d.dose, FeedMLMin: perMinute}
	}
	s := Settings{
		DoseMgL: f.d.dose, DoseLowMgL: f.d.low, DoseHighMgL: f.d.high, DemandMgL: f.d.demand,
		SolutionGL: f.strength, FeedPumpGalPerDay: f.pump,
		FeedMLMin: perMinute, StrokePercent: f.stroke(f.need),
		SolutionLPerDay: f.litres, SolutionFillL: f.fill, TankDays: f.days,
	}
	if f.kind.stock.gL > 0 {
		s[StockLPerYear] = f.stock
	} else {
		s[ChemicalLbPerYear] = f.stock
	}
	return s
}

// limits are those of any feed: the water's, the drive's, the pump's and the
// solution's, in that order.
func (f feed) limits(j *Job) []Limit {
	ls := append(Envelope(j, f.kind.process), f.drive(j)...)
	return append(ls,
		Limit{
			ID: "feed_pump_output", Have: f.pump, Need: f.need, Unit: "gal/day",
			Say: "no feed pump of this size gives the dose", Kind: source.Derived, From: "mass balance",
		},
		Limit{
			ID: "feed_pump_reserve", Have: f.pump, Need: f.high, Unit: "gal/day", Soft: true,
			Say: "the pump cannot give the high dose; measure the demand in a jar first", Kind: source.Derived, From: "mass balance",
		},
		f.least(j),
	)
}

// least warns where a pump would run so near its stop that its dose wanders.
func (f feed) least(j *Job) Limit {
	l := j.Site.Factors.In(feedStrokeLeast)
	return Limit{
		ID: "feed_pump_stroke", Have: f.stroke(f.need), Need: l.Value, Unit: "%", Soft: true,
		Say: "so small a stroke does not repeat; use a weaker solution", Kind: l.Kind, From: l.From,
	}
}

// drive refuses a fixed-rate feed into a flow that varies.
func (f feed) drive(j *Job) []Limit {
	if f.paced || j.fedSteadily() {
		return nil
	}
	return []Limit{{
		ID: "steady_flow", Have: 0, Need: 1, Unit: "steady flow at the feed point",
		Say:  "a fixed-rate feed cannot follow a variable-speed pump, a constant-pressure valve or house draw; it must be flow-paced",
		Kind: source.CommonPractice, From: "trade rule: pace the feed where the flow varies",
	}}
}

// needs are those of any feed.
func (f feed) needs() Needs {
	return Needs{
		Height: unit.Inches(48), Floor: unit.Ft2(4), // a 15 gal tank with the pump on its lid; common practice
		Power: true, NoFrost: true, Chemicals: true, Weekly: f.kind.weekly,
	}
}

// fedFlow is the flow past a feed point while the feed runs: the fill of a tank
// ahead or behind, the well pump's, or the house's where the feed stands behind
// the pressure tank's stages.
func (j *Job) fedFlow() unit.Flow {
	if j.behindStages() {
		return j.Peak
	}
	return j.pumpFlow()
}

// fedSteadily reports whether that flow is always the same.
func (j *Job) fedSteadily() bool {
	if j.onFill() {
		return true
	}
	return !j.behindStages() && !j.Draw.Supply.VariableSpeed
}

// onFill reports whether a feed here runs as a storage tank fills: at one flow,
// set by the fill valve.
func (j *Job) onFill() bool { return j.Has(stores...) || j.Leads(stores...) }

var stores = []media.Process{media.StorageBooster, media.VentedAeration, media.RadonAeration}

// behindStages reports whether anything but feeds stands between the well pump
// and this stage, so that the house's draw sets the flow.
func (j *Job) behindStages() bool {
	if j.onFill() {
		return false
	}
	for _, p := range j.Before {
		switch p {
		case media.ChlorineFeed, media.PermanganateFeed, media.PeroxideFeed, media.SodaAshFeed, media.PolyphosphateFeed, media.OzoneFeed, media.CoagulantFeed:
		default:
			return true
		}
	}
	return false
}

// pumpFlow is the well pump's flow as measured at the tank: the greatest, at
// which a fixed feed gives the smallest dose.
func (j *Job) pumpFlow() unit.Flow { return wellPumpFlow(&j.Draw.Supply) }

func wellPumpFlow(s *cloud.Supply) unit.Flow {
	most := 0.0
	for _, m := range s.MeasuredAtTank {
		most = math.Max(most, m.Flow.GPM())
	}
	if most > 0 {
		return unit.GPM(most)
	}
	h := s.Hydraulic
	return h.Pump.FlowAt(unit.PSI((h.CutIn.PSI() + h.CutOut.PSI()) / 2))
}

// inPipe lets a fed water react for the short way to the next stage; what is fed
// as a store fills stands in it for hours.
func (j *Job) inPipe(w water.State) water.State {
	minutes := j.Site.Factors.Of(feedPipeSeconds) / 60
	if j.Has(stores...) {
		minutes = j.Site.Factors.Of(feedStoreMinutes)
	}
	out, err := j.React(w, chem.Vessel{Time: minutesLong(minutes)})
	if err != nil {
		return w
	}
	return out
}

// Way ids that every feed shares.
const (
	FeedEmpty     Fault = "feed_empty"
	FeedAirLocked Fault = "feed_air_locked"
	SolutionStale Fault = "solution_stale"
	FeedPlugged   Fault = "injector_plugged"
	FeedHigh      Fault = "feed_too_high"
	FlowChanged   Fault = "pump_changed"
)

// fedShare is the share of the dose that a faulty feed still gives.
func (j *Job) fedShare() float64 {
	switch j.Fault {
	case FeedEmpty, FeedAirLocked:
		return 0
	case SolutionStale:
		return j.Site.Factors.Of(feedStaleShare)
	case FeedPlugged:
		return faultPlugged
	case FeedHigh:
		return faultHigh
	case FlowChanged:
		return faultPlugged
	}
	return 1
}

// How far a feed's fault goes where nobody has measured it. Kind: judgement.
const (
	faultPlugged = 0.4
	faultHigh    = 2
)

// feedWays are the ways of any feed; chemical names what is missing or in excess,
// none is how its want is read.
func feedWays(chemical, none string) []Way {
	return []Way{
		{FeedEmpty, "the solution tank is empty", none, "fill it, prime the pump, and note the day"},
		{FeedAirLocked, "the feed pump has lost its prime", none + "; solution level stands still", "bleed the head; check foot valve and tube"},
		{SolutionStale, "the solution has lost its strength", "less " + chemical + " than set though the level falls as it should", "mix fresh; no more than the tank days at a time"},
		{FeedPlugged, "the injection fitting is scaled up", "less " + chemical + " than set; the pump runs hard and its level falls slowly", "clean the fitting in dilute acid apart from any bleach; mix with softened water"},
		{FeedHigh, "the pump is set too high or siphons", "far more " + chemical + " than set", "set the stroke again; renew the anti-siphon valve"},
		{FlowChanged, "the well pump gives another flow than the feed was set for", "dose off by the ratio of the flows, the same every day", "measure the pump's flow and set the stroke to it"},
	}
}

var (
	feedAim = source.Factor{
		Name: "feed_pump_aim", What: "output of a feed pump for which the solution strength is chosen", Unit: "gal/day",
		Value: 9, Low: 5, High: 15, Kind: source.CommonPractice, From: "middle of the range of a 17 gal/day pump",
	}
	feedStrokeHigh = source.Factor{
		Name: "feed_stroke_high", What: "top of the range in which a feed pump is set", Unit: "%",
		Value: 70, Low: 60, High: 80, Kind: source.CommonPractice, From: "trade rule: 30 to 70 % of range",
	}
	feedStrokeLeast = source.Factor{
		Name: "feed_stroke_low", What: "bottom of the range in which a feed pump is set", Unit: "%",
		Value: 30, Low: 20, High: 40, Kind: source.CommonPractice, From: "trade rule: 30 to 70 % of range",
	}
	feedTank = source.Factor{
		Name: "feed_solution_tank", What: "room of the solution tank", Unit: "gal",
		Value: 15, Low: 7, High: 35, Kind: source.CommonPractice, From: "usual sizes 15 and 35 gal",
	}
	feedPipeSeconds = source.Factor{
		Name: "feed_pipe_seconds", What: "time in the pipe from the injection fitting to the next stage", Unit: "s",
		Value: 10, Low: 3, High: 30, Kind: source.Judgement, From: "10 ft of 1 in pipe at 3 to 8 gpm",
	}
	feedStoreMinutes = source.Factor{
		Name: "feed_store_minutes", What: "time that a chemical fed as a storage tank fills stands in it", Unit: "min",
		Value: 240, Low: 60, High: 1440, Kind: source.Judgement, From: "a day's storage, of which the youngest water counts",
	}
	feedStaleShare = source.Factor{
		Name: "feed_stale_share", What: "strength left in a solution kept too long",
		Value: 0.5, Low: 0.3, High: 0.8, Kind: source.CommonPractice, From: "trade: bleach in a warm room falls to half in 30 days",
	}
	feedFactors = []source.Factor{feedAim, feedStrokeHigh, feedStrokeLeast, feedTank, feedPipeSeconds, feedStoreMinutes, feedStaleShare}
)
