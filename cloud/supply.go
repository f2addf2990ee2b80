package cloud

import (
	"fmt"
	"math"
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
	daily   float64 // gal/day
	peak    unit.Flow
	cutIn   float64 // psi
	cutOut  float64
	tank    hydraulic.PressureTank
	storage unit.Volume
}

func believeSupply(e Evidence, set source.Set) supplyBelief {
	s := supplyBelief{set: set, well: e.Supply, house: e.House}
	s.switchAndTank()
	s.pump()
	s.wellYield()
	s.casing()
	s.use()
	s.peakFlow()
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
	case h.People > 0:
		low, mid, high := s.set.Range(usePerPerson)
		n, f := float64(max(h.People, h.Serves)), s.set.In(usePerPerson)
		s.daily = mid * n
		s.assumed = append(s.assumed, Assumption{"daily_use_gal_per_day", "gal/day", Range{low * n, mid * n, high * n}, f.Kind, f.From})
	default:
		s.daily = s.assume("people", "", assumedPeople) * s.assume("use_gal_per_day_per_person", "gal/day", usePerPerson)
	}
}

// peakFlow takes the stated or measured peak, else counts the fixtures, else the
// bathrooms.
func (s *supplyBelief) peakFlow() {
	h := s.house
	switch {
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

// at returns the supply as it stands in a draw: pump, yield and use moved by so
// many times the spread. A higher use goes with a weaker supply, so that the two
// ends bracket what may be met.
func (s *supplyBelief) at(ease, bacteria, toc float64) (Supply, error) {
	lift := 1 + ease*s.set.Of(supplySpread)
	points := make([]hydraulic.PumpPoint, len(s.points))
	for i, p := range s.points {
		points[i] = hydraulic.PumpPoint{Flow: unit.GPM(p.Flow.GPM() * lift), Pressure: p.Pressure}
	}
	pump, err := hydraulic.PumpFrom(s.set, points)
	if err != nil {
		return Supply{}, err
	}
	if c := s.well.Pump.FlowControl; c != nil {
		pump = pump.Throttled(*c)
	}
	out := Supply{
		Hydraulic: hydraulic.Supply{
			Pump: pump, CutIn: unit.PSI(s.cutIn), CutOut: unit.PSI(s.cutOut), Tank: s.tank,
			Yield: unit.GPM(s.yield.GPM() * lift), CasingStorage: s.storage,
		},
		Static: s.well.Well.Static, Intake: s.well.Pump.Setting,
		Daily: unit.GalPerDay(s.daily * (1 - ease*s.set.Of(supplySpread))), Peak: s.peak,
		MeasuredAtTank: s.measured(points), VariableSpeed: s.well.Pump.Drive == well.VariableSpeed,
		ChlorineExtra: s.chlorineExtra(ease, bacteria, toc),
	}
	if s.well.Well.Casing != nil {
		out.Hydraulic.CasingBore = *s.well.Well.Casing
	}
	return out, nil
}

// measured returns the points if somebody measured them.
func (s *supplyBelief) measured(points []hydraulic.PumpPoint) []hydraulic.PumpPoint {
	if !s.read {
		return nil
	}
	return points
}

// chlorineExtra is the demand beyond stoichiometry.
//
//	extra = a TOC + b P
//
//	a    chlorine_per_toc, mg/mg;  b  chlorine_slime, mg/L
//	P    probability that iron bacteria live in the well
//
// Range: some minutes of contact. Error: as large as itself; a jar on site
// replaces it. Source: judgement.
func (s *supplyBelief) chlorineExtra(ease, bacteria, toc float64) unit.Chlorine {
	pick := func(f source.Factor) float64 {
		low, mid, high := s.set.Range(f)
		switch {
		case ease > 0:
			return low
		case ease < 0:
			return high
		}
		return mid
	}
	return unit.MgPerLAsCl2(pick(chlorinePerTOC)*toc + pick(chlorineSlime)*bacteria)
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
