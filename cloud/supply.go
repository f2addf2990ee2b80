package cloud

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"

	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// supplyBelief is what is held of the supply, with what had to be assumed.
type supplyBelief struct {
	set     source.Set
	well    well.Supply
	house   well.House
	assumed []Assumption
	found   []water.Finding
	points  []hydraulic.PumpPoint
	read    bool // the points were measured on site
	yield   *unit.Flow
	daily   float64 // gal/day behind the treatment
	peak    unit.Flow
	lasts   float64    // minutes of the peak; 0: not said
	raw     well.Drawn // by branches ahead of the treatment
	cutIn   float64    // psi
	cutOut  float64
	tank    hydraulic.PressureTank
	storage unit.Volume
	jars    *JarDoses
}

func believeSupply(e Evidence, set source.Set) supplyBelief {
	s := supplyBelief{set: set, well: e.Supply, house: e.House, jars: jarDoses(set, e.Jars)}
	s.switchAndTank()
	s.pump()
	s.wellYield()
	s.casing()
	s.use()
	s.peakFlow()
	s.branches()
	return s
}

func (s *supplyBelief) assume(name, u string, f source.Factor) float64 {
	low, mid, high := s.set.Range(f)
	in := s.set.In(f)
	s.assumed = append(s.assumed, Assumption{name, u, Range{low, mid, high}, in.Kind, in.From})
	return mid
}

// switchAndTank fills in the pressure switch and the tank. A tank of unknown
// volume lends nothing.
func (s *supplyBelief) switchAndTank() {
	t := s.well.Tank
	span := s.set.Of(switchSpan)
	switch {
	case t.CutIn != nil:
		s.cutIn = t.CutIn.PSI()
	case t.CutOut != nil:
		s.cutIn = t.CutOut.PSI() - span
	default:
		s.cutIn = s.assume("cut_in_psi", "psi", assumedCutIn)
	}
	s.cutOut = s.cutIn + span
	if t.CutOut != nil {
		s.cutOut = t.CutOut.PSI()
	}
	if t.Volume == nil || t.Kind == well.NoTank {
		return
	}
	s.tank = hydraulic.PressureTank{Total: *t.Volume, AirOverWater: t.Kind == well.AirOverWater}
	switch {
	case t.Precharge != nil:
		s.tank.Precharge = *t.Precharge
	case !s.tank.AirOverWater:
		s.tank.Precharge = unit.PSI(math.Max(0, s.cutIn-s.set.Of(prechargeBelow)))
	}
}

// pump takes the flows measured at the tank; where there are none, those of an
// ordinary pump, held back by the flow control if there is one.
func (s *supplyBelief) pump() {
	for _, m := range s.well.Pump.Measured {
		s.points = append(s.points, hydraulic.PumpPoint{Flow: m.Flow, Pressure: m.Pressure})
	}
	if len(s.points) > 0 {
		_, err := hydraulic.PumpFrom(s.set, s.points)
		if err == nil {
			s.read = true
			return
		}
		s.doubt("pump_measured", err.Error()+"; the measurements are set aside")
	}
	at, flow := unit.PSI(s.set.Of(assumedPumpAt)), s.set.Of(assumedPump)
	if c := s.well.Pump.FlowControl; c != nil { // the control says what comes
		flow = math.Max(flow, 2*c.GPM())
	} else {
		s.assume("pump_gpm", "gpm", assumedPump)
	}
	s.points = []hydraulic.PumpPoint{{Flow: unit.GPM(flow), Pressure: at}}
}

// wellYield takes the yield on record. An unknown one is assumed to keep up with
// the pump, which is what most wells do and no proof that this one does.
func (s *supplyBelief) wellYield() {
	w := s.well.Well
	switch {
	case w.Yield != nil:
		s.yield = w.Yield
		return
	case len(w.Capacities) > 0 && w.Static != nil && s.well.Pump.Setting != nil:
		last := w.Capacities[len(w.Capacities)-1].Value.GPMPerFt()
		drop := math.Max(0, s.well.Pump.Setting.Ft()-w.Static.Ft())
		y := unit.GPM(last * drop)
		s.yield = &y
		s.note("yield_gpm", "gpm", y.GPM(), source.Derived, "specific capacity times the drawdown to the intake")
		return
	}
	best := 0.0
	for _, p := range s.points {
		best = math.Max(best, p.Flow.GPM())
	}
	if c := s.well.Pump.FlowControl; c != nil {
		best = math.Min(best, c.GPM())
	}
	y := unit.GPM(best)
	s.yield = &y
	s.note("yield_gpm", "gpm", best, source.CommonPractice, "taken to keep up with the pump: nobody tested the yield")
}

func (s *supplyBelief) note(name, u string, v float64, k source.Kind, from string) {
	s.assumed = append(s.assumed, Assumption{name, u, Range{v, v, v}, k, from})
}

// casing works out the water standing over the intake, without cover: where a
// deeper margin is wanted the recorded setting says so. Without the casing, the
// static level or the intake nothing is counted.
func (s *supplyBelief) casing() {
	w, set := s.well.Well, s.well.Pump.Setting
	if w.Casing == nil || w.Static == nil || set == nil {
		return
	}
	s.storage = hydraulic.CasingStorage(*w.Casing, *w.Static, *set, unit.Ft(0))
}

// use takes the metered use, else so much for each person.
func (s *supplyBelief) use() {
	h := s.house
	switch {
	case h.Daily != nil:
		s.daily = h.Daily.GalPerDay()
	case s.fromShifts():
	case h.People > 0:
		low, mid, high := s.set.Range(usePerPerson)
		n, f := float64(max(h.People, h.Serves)), s.set.In(usePerPerson)
		s.daily = mid * n
		s.assumed = append(s.assumed, Assumption{"daily_use_gal_per_day", "gal/day", Range{low * n, mid * n, high * n}, f.Kind, f.From})
	default:
		s.daily = s.assume("people", "", assumedPeople) * s.assume("use_gal_per_day_per_person", "gal/day", usePerPerson)
	}
}

// peakFlow takes the stated or measured peak, of the house or of its highest shift;
// else counts the fixtures, else the bathrooms.
func (s *supplyBelief) peakFlow() {
	h := s.house
	shift, any := h.HighestShift()
	switch {
	case any && (h.Peak == nil || h.Peak.GPM() <= shift.Flow.GPM()):
		s.peak, s.lasts = shift.Flow, shift.Minutes
	case h.Peak != nil:
		s.peak = *h.Peak
	case len(h.Fixtures) > 0:
		s.fromFixtures()
	case h.Baths != nil:
		s.fromBaths(*h.Baths)
	default:
		s.fromBaths(s.assume("bathrooms", "", assumedBaths))
	}
}

// fromBaths counts the busiest hour of the fixtures that so many bathrooms
// usually have; the flow that the trade allows for them is a ceiling on it.
func (s *supplyBelief) fromBaths(baths float64) {
	peak, err := hydraulic.PeakFlow(hydraulic.HouseOf(s.set, baths))
	if ceiling := hydraulic.PeakFromBaths(baths); err != nil || peak.Busy99.GPM() > ceiling.GPM() {
		s.peak = ceiling
	} else {
		s.peak = peak.Busy99
	}
	s.note("peak_gpm", "gpm", s.peak.GPM(), source.CommonPractice, "busiest hour of the fixtures that so many bathrooms usually have")
}

// readyPump is the pump as recorded, made once for all draws.
type readyPump struct{ hydraulic.PumpAtTank }

// ready makes the pump from its points.
func (s *supplyBelief) ready() (readyPump, error) {
	p, err := hydraulic.PumpFrom(s.set, s.points)
	return readyPump{p}, err
}

// lifts are by how much a supply stands off what was recorded.
type lifts struct{ pump, yield, daily, peak float64 }

// at is the supply with its pump, yield and use moved by the lifts.
func (s *supplyBelief) at(pump readyPump, l lifts) Supply {
	p := pump.PumpAtTank
	if l.pump != 1 {
		p = p.Scaled(l.pump)
	}
	if c := s.well.Pump.FlowControl; c != nil {
		p = p.Throttled(*c)
	}
	out := Supply{
		Hydraulic: hydraulic.Supply{
			Pump: p, CutIn: unit.PSI(s.cutIn), CutOut: unit.PSI(s.cutOut), Tank: s.tank,
			Yield: unit.GPM(s.yield.GPM() * l.yield), CasingStorage: s.storage,
		},
		Static: s.well.Well.Static, Intake: s.well.Pump.Setting,
		Daily: unit.GalPerDay(s.daily * l.daily), Peak: unit.GPM(s.peak.GPM() * l.peak),
		PeakMinutes: s.lasts, Raw: s.rawAt(l),
		MeasuredAtTank: s.measured(s.points), VariableSpeed: s.well.Pump.Drive == well.VariableSpeed,
		AmmoniaRatio: s.set.Of(ammoniaTakes), SulfateShare: 0, Recovery: s.set.Of(recovery),
		DemandMeasured: s.jars.demand(), Jars: s.jars,
	}
	if s.well.Well.Casing != nil {
		out.Hydraulic.CasingBore = *s.well.Well.Casing
	}
	return out
}

// middle is the supply as recorded.
func (s *supplyBelief) middle(bacteria, toc float64) (Supply, error) {
	pump, err := s.ready()
	if err != nil {
		return Supply{}, err
	}
	out := s.at(pump, lifts{1, 1, 1, 1})
	out.ChlorineExtra = unit.MgPerLAsCl2(s.set.Of(chlorinePerTOC)*toc + s.set.Of(chlorineSlime)*bacteria)
	return out, nil
}

// draw is a supply that may be: pump and peak about what was recorded, yield
// down to that of a dry year, use by meter or by habit, and what chlorine meets
// beyond stoichiometry.
func (s *supplyBelief) draw(r *rand.Rand, pump readyPump, slimed bool, toc float64) Supply {
	of := func(f source.Factor) float64 { return math.Exp(s.set.Of(f) * r.NormFloat64()) }
	l := lifts{pump: of(supplySpread), peak: of(supplySpread), yield: s.yieldLift(r), daily: of(s.useSpread())}
	if !s.read && s.well.Pump.FlowControl == nil {
		l.pump = spreadOf(s.set, assumedPump, r)
		l.yield *= l.pump
	}
	out := s.at(pump, l)
	extra := s.set.Of(chlorinePerTOC) * spreadOf(s.set, chlorinePerTOC, r) * toc
	if slimed {
		extra += s.set.Of(chlorineSlime) * spreadOf(s.set, chlorineSlime, r)
	}
	out.ChlorineExtra = unit.MgPerLAsCl2(extra)
	low, _, high := s.set.Range(ammoniaTakes)
	out.AmmoniaRatio = low + (high-low)*r.Float64()
	out.SulfateShare = math.Pow(r.Float64(), s.set.Of(sulfateLean))
	out.Recovery = s.recovered(r)
	return out
}

// spreadOf is a factor's own spread about its value, lognormal, its high end the
// 95th percentile.
func spreadOf(set source.Set, f source.Factor, r *rand.Rand) float64 {
	_, mid, high := set.Range(f)
	if mid <= 0 || high <= mid {
		return 1
	}
	return math.Exp(math.Log(high/mid) / z05 * r.NormFloat64())
}

// yieldLift is the yield of a year over that on record: about it, and in some
// wells a dry season far below it. A yield nobody tested spreads wider.
func (s *supplyBelief) yieldLift(r *rand.Rand) float64 {
	f := yieldSeason
	if s.well.Well.Yield == nil {
		f = yieldUnknown
	}
	lift := math.Exp(s.set.Of(f) * r.NormFloat64())
	dry := dryChance
	if s.yield.GPM() < s.set.Of(weakYield) {
		dry = dryChanceWeak
	}
	if r.Float64() < s.set.Of(dry) {
		lift *= s.set.Of(dryShare) * spreadOf(s.set, dryShare, r)
	}
	return lift
}

func (s *supplyBelief) useSpread() source.Factor {
	if s.house.Daily != nil {
		return supplySpread
	}
	return useHabit
}

// recovered is the share of its first capacity that a rehabilitation would bring
// a well back to.
func (s *supplyBelief) recovered(r *rand.Rand) float64 {
	low, mid, high := s.set.Range(recovery)
	odds := math.Log(mid/(1-mid)) + (math.Log(high/(1-high))-math.Log(low/(1-low)))/(2*z05)*r.NormFloat64()
	return 1 / (1 + math.Exp(-odds))
}

var (
	yieldSeason = source.Factor{Name: "cloud_yield_season", What: "spread of a tested yield over seasons and years, natural logarithm",
		Value: 0.35, Low: 0.1, High: 0.8, Kind: source.Judgement, From: "an hour's test in one season"}
	yieldUnknown = source.Factor{Name: "cloud_yield_unknown", What: "spread of a yield that nobody tested about the pump's flow, natural logarithm",
		Value: 0.5, Low: 0.2, High: 1, Kind: source.Judgement, From: "pumps are chosen for the well, roughly"}
	dryChance = source.Factor{Name: "cloud_yield_dry_chance", What: "share of wells with a dry season far below the yield on record",
		Value: 0.08, Low: 0.02, High: 0.2, Kind: source.Judgement, From: "what drillers are called back for"}
	dryChanceWeak = source.Factor{Name: "cloud_yield_dry_chance_weak", What: "share of weak wells with such a season",
		Value: 0.45, Low: 0.2, High: 0.7, Kind: source.Judgement, From: "what drillers are called back for, and what a yield test is bought against: a well that runs to its intake in an hour has nothing to spare"}
	weakYield = source.Factor{Name: "cloud_yield_weak_below", What: "yield below which a well counts as weak", Unit: "gpm",
		Value: 5, Low: 2, High: 6, Kind: source.Published, From: "NY State Dept. of Health, Individual Water Supply Wells Fact Sheet 2, Water Storage: below 5 gpm a well may need storage"}
	dryShare = source.Factor{Name: "cloud_yield_dry_share", What: "yield of such a season over that on record",
		Value: 0.2, Low: 0.05, High: 0.8, Kind: source.Judgement, From: "what drillers are called back for"}
	useHabit = source.Factor{Name: "cloud_use_spread", What: "spread of use by head where nobody metered it, natural logarithm",
		Value: 0.2, Low: 0.1, High: 0.4, Kind: source.CommonPractice, From: "50 to 100 gallons a head"}
	ammoniaTakes = source.Factor{Name: "cloud_chlorine_per_ammonia", What: "chlorine that ammonia takes to breakpoint", Unit: "mg/mg",
		Value: 7.6, Low: 7.6, High: 10, Kind: source.FromMemory, From: "disinfection chapters of water-works handbooks: 7.6 by theory, 8 to 10 in practice"}
	sulfateLean = source.Factor{Name: "cloud_sulfate_lean", What: "power by which the share of sulfide that chlorine takes to sulfate leans to nothing: its median is a half to this power",
		Value: 2, Low: 1, High: 4, Kind: source.Judgement, From: "to sulfur 2.1, to sulfate 8.3 mg to the mg; most of it stops at sulfur"}
	recovery = source.Factor{Name: "cloud_recovery", What: "share of its first specific capacity that a rehabilitated well comes back to",
		Value: 0.68, Low: 0.3, High: 0.92, Kind: source.CommonPractice, From: "reports of rehabilitation run from a third to nearly all"}
)

func supplyFactors() []source.Factor {
	return []source.Factor{yieldSeason, yieldUnknown, dryChance, dryChanceWeak, weakYield, dryShare, useHabit, ammoniaTakes, sulfateLean, recovery}
}

// measured returns the points if somebody measured them.
func (s *supplyBelief) measured(points []hydraulic.PumpPoint) []hydraulic.PumpPoint {
	if !s.read {
		return nil
	}
	return points
}

// fromFixtures counts the busiest hour of the fixtures; a name that is not in
// the table is said and left out.
func (s *supplyBelief) fromFixtures() {
	names := make([]string, 0, len(s.house.Fixtures))
	for name := range s.house.Fixtures {
		names = append(names, name)
	}
	sort.Strings(names)
	var groups []hydraulic.Group
	for _, name := range names {
		f, ok := hydraulic.FixtureNamed(s.set, name)
		if !ok {
			s.doubt("fixture_unknown", fmt.Sprintf("fixture %q is not in the table of fixtures and is left out of the peak", name))
			continue
		}
		groups = append(groups, hydraulic.Group{Fixture: f, Count: s.house.Fixtures[name]})
	}
	peak, err := hydraulic.PeakFlow(groups)
	if err != nil || peak.Busy99.GPM() <= 0 {
		s.doubt("peak_flow", fmt.Sprintf("the peak cannot be counted from the fixtures: %v", err))
		s.fromBaths(s.assume("bathrooms", "", assumedBaths))
		return
	}
	s.peak = peak.Busy99
	s.note("peak_gpm", "gpm", s.peak.GPM(), source.Published, "busiest hour of the fixtures, exact enumeration")
}

func (s *supplyBelief) doubt(id, say string) {
	s.found = append(s.found, water.Finding{ID: id, Verdict: water.Doubt, Say: say, Kind: source.Derived})
}
