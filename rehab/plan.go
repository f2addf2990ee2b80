package rehab

import (
	"fmt"
	"time"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
)

// Shock is everything a shock disinfection needs, reckoned for one well.
type Shock struct {
	Purpose    Purpose
	Volumes    Volumes
	Target     unit.Chlorine // residual wanted
	Demand     unit.Chlorine // what iron, manganese, sulfide and ammonia eat first
	Dose       unit.Chlorine // both
	Chlorine   unit.Mass
	Amounts    []Amount    // one for each product commonly sold; choose one
	MixLeast   unit.Volume // water to thin the product in
	MixBest    unit.Volume
	Acidity    *Acidity // nil: pH, alkalinity or temperature not measured
	Contact    Contact
	Purge      Purge
	Quench     []Quench
	Steps      []Step
	Retests    []Retest
	Units      []Unit
	Contractor []string // reasons to leave it to a licensed well contractor
	Warnings   []string
	Missing    []string // what was not measured and what it leaves open
}

// Quench is one way to take the chlorine out of the purge.
type Quench struct {
	Agent Agent
	Mass  unit.Mass // the excess included
}

// Plan is PlanWith with the default factors.
func Plan(w Well, p Purpose) (Shock, error) { return PlanWith(source.Set{}, w, p) }

// PlanWith works out a shock disinfection. An error names everything about the
// well that cannot be. House-only work leaves the well itself out.
func PlanWith(set source.Set, w Well, p Purpose) (Shock, error) {
	v, err := VolumesOf(set, w)
	if err != nil {
		return Shock{}, err
	}
	if p == HouseOnly {
		v.Casing, v.OpenHole, v.Pack = unit.Volume{}, unit.Volume{}, unit.Volume{}
	}
	s := Shock{Purpose: p, Volumes: v, Target: target(set, w, p), Demand: demand(set, w.Water)}
	s.Dose = unit.MgPerLAsCl2(min(set.Of(MostChlorine), s.Target.MgPerLAsCl2()+s.Demand.MgPerLAsCl2()))
	s.Chlorine = ChlorineFor(v.Total(), s.Dose)
	if s.Amounts, err = amounts(v.Total(), s.Dose); err != nil {
		return Shock{}, err
	}
	s.MixLeast, s.MixBest = mixing(set, v, s.Chlorine)
	if a, err := AcidityOf(set, w.Water, v.Total(), s.Dose); err == nil {
		s.Acidity = &a
	}
	s.Contact = ContactTime(set, s.Target)
	s.Purge = PurgeOf(set, v, w.PumpFlow, w.Yield)
	s.Quench = quenches(set, v, s.Dose)
	s.Steps, s.Retests, s.Units = StepsFor(p), Retests(p), Units()
	s.Contractor = contractorReasons(set, w, p)
	s.Warnings = warnings(set, w, s)
	s.Missing = missing(w)
	return s, nil
}

// target is the purpose's, held down where the rock has arsenic.
func target(set source.Set, w Well, p Purpose) unit.Chlorine {
	t := p.Target(set)
	if w.arsenic(set) && t.MgPerLAsCl2() > set.Of(ArsenicChlorine) {
		return unit.MgPerLAsCl2(set.Of(ArsenicChlorine))
	}
	return t
}

// ArsenicConcern is the raw arsenic from which disinfection is kept gentle and
// metals are tested after it.
var ArsenicConcern = source.Factor{
	Name: "shock_arsenic_concern", What: "raw arsenic from which a shock is kept gentle",
	Unit: "ug/L", Value: 3, Kind: source.CommonPractice, From: "rule of the trade after the Wisconsin studies",
}

func (w Well) arsenic(set source.Set) bool {
	return w.State.ArsenicArea || w.Water.Arsenic != nil && w.Water.Arsenic.UgPerL() > set.Of(ArsenicConcern)
}

// demand is the chlorine that what was measured eats; what was not measured
// eats too, and shows when the residual is read.
func demand(set source.Set, w Water) unit.Chlorine {
	var n chem.ChlorineNeeds
	if w.FerrousIron != nil {
		n.IronII = *w.FerrousIron
	}
	if w.Manganese != nil {
		n.Manganese = *w.Manganese
	}
	if w.Sulfide != nil {
		n.Sulfide = *w.Sulfide
	}
	if w.Ammonia != nil {
		n.Ammonia = *w.Ammonia
	}
	if w.TOC != nil {
		n.TOC = *w.TOC
	}
	return chem.New(set).ChlorineDemand(n).Total().Usual
}

func amounts(v unit.Volume, dose unit.Chlorine) ([]Amount, error) {
	var all []Amount
	for _, p := range Products() {
		a, err := p.Needed(v, dose)
		if err != nil {
			return nil, err
		}
		all = append(all, a)
	}
	return all, nil
}

// mixing returns the water to thin the product in: so much that what is poured
// is no stronger than the limit, and as much as stands in the well.
func mixing(set source.Set, v Volumes, chlorine unit.Mass) (least, best unit.Volume) {
	least = unit.L(chlorine.G() * 1000 / set.Of(MostPoured))
	best = v.Well()
	if best.Gal() < least.Gal() {
		best = least
	}
	return least, best
}

func quenches(set source.Set, v Volumes, dose unit.Chlorine) []Quench {
	var all []Quench
	for _, a := range Agents() {
		m := a.Quench(set, v.Total(), dose)
		all = append(all, Quench{a, unit.G(m.G() * (1 + set.Of(AgentExcess)))})
	}
	return all
}

// DeepWell is the depth past which an owner has no means to treat a well.
var DeepWell = source.Factor{Name: "shock_deep_well", What: "depth from which a well is a contractor's work",
	Unit: "ft", Value: 300, Kind: source.CommonPractice, From: "rule of the trade"}

// WeakWell is the yield below which a purge may ruin the pump.
var WeakWell = source.Factor{Name: "shock_weak_well", What: "yield below which a well is a contractor's work",
	Unit: "gpm", Value: 1, Kind: source.CommonPractice, From: "rule of the trade"}

// contractorReasons returns why a licensed well contractor must do it; house
// plumbing alone is not a well contractor's.
func contractorReasons(set source.Set, w Well, p Purpose) []string {
	var why []string
	add := func(yes bool, say string) {
		if yes {
			why = append(why, say)
		}
	}
	if p == HouseOnly {
		return nil
	}
	s := w.State
	add(p == AfterCleaning, "mechanical cleaning, acid and chlorine above 200 mg/L are a contractor's work")
	add(s.EColiTwice, "E. coli was found twice")
	add(s.FailedAfterShock, "coliform came back after a shock properly done: camera, casing seal and source must be looked at")
	add(s.CapOrCasingDamaged, "cap, casing, grout or pitless adapter is damaged or buried")
	add(s.Flooded || p == FloodedWell, "the well was flooded")
	add(s.Flowing, "the well flows")
	add(s.Driven, "the well is driven")
	add(s.Dug, "the well is dug: a shock seldom lasts, and nobody may climb in")
	add(s.Shared, "the well serves more than one house")
	add(s.Pit, "the well head is in a pit, which nobody may enter without confined-space means")
	add(w.arsenic(set), "the rock holds arsenic, which disinfection may set free")
	add(s.BacteriaBackSoon, "slime came back within three months")
	add(s.OwnerUnsure, "the owner is unsure")
	add(w.Depth.Ft() > set.Of(DeepWell), fmt.Sprintf("the well is deeper than %s", unit.Ft(set.Of(DeepWell))))
	add(w.Yield != nil && w.Yield.GPM() < set.Of(WeakWell), fmt.Sprintf("the well gives less than %s", unit.GPM(set.Of(WeakWell))))
	return why
}

func warnings(set source.Set, w Well, s Shock) []string {
	var all []string
	add := func(yes bool, format string, args ...any) {
		if yes {
			all = append(all, fmt.Sprintf(format, args...))
		}
	}
	add(true, "A shock cleans; it does not mend the way in, and it takes no iron out of the aquifer.")
	add(s.Target.MgPerLAsCl2() > set.Of(HarmChlorine), "Above %s pump, rubber, wire and old steel suffer, and the pH climbs.", unit.MgPerLAsCl2(set.Of(HarmChlorine)))
	add(s.Target.MgPerLAsCl2()+s.Demand.MgPerLAsCl2() > set.Of(MostChlorine), "The water eats so much chlorine that the target cannot be held below %s: pump and clean first.", unit.MgPerLAsCl2(set.Of(MostChlorine)))
	add(s.Purpose == IronBacteria || s.Purpose == SulfurBacteria, "Slime shelters what lives in it: a shock without mechanical cleaning gives months, seldom a cure.")
	add(w.State.SteelCasing, "Liquid bleach can loosen rust in old steel that jams the pump; agencies differ on granules: ask the contractor.")
	add(w.arsenic(set), "Arsenic country: target held at %s, liquid product only, no granules left at the bottom, purge wholly, metals tested after.", unit.MgPerLAsCl2(set.Of(ArsenicChlorine)))
	add(w.Water.Hardness != nil && w.Water.Hardness.MgPerLAsCaCO3() > 200, "Hard water: dry hypochlorite drops lime in the screen; use liquid, and vinegar for the pH.")
	add(w.Water.TOC != nil && w.Water.TOC.MgPerL() > 2, "Tannin or other organic matter makes trihalomethanes with chlorine: purge wholly and test once.")
	add(s.Contact.Stand > 0 && s.Contact.ByRule > s.Contact.Stand, "At this strength the rule asks for %s, longer than metal and rubber should stand: use more chlorine or treat twice.", s.Contact.ByRule.Round(time.Hour))
	add(s.Acidity != nil && s.Acidity.Needed, "Chlorine raises the pH to about %.1f or above; bring it down with vinegar first.", pHOf(s.Acidity))
	return all
}

func pHOf(a *Acidity) float64 { return a.AfterChlorine.Value() }

// missing says what was not measured and what that leaves open.
func missing(w Well) []string {
	var all []string
	add := func(no bool, say string) {
		if no {
			all = append(all, say)
		}
	}
	add(w.Water.PH == nil || w.Water.Alkalinity == nil || w.Water.Temperature == nil, "pH, alkalinity or temperature: no pH after chlorine, no vinegar")
	add(w.Water.FerrousIron == nil, "ferrous iron: its chlorine demand is not in the dose")
	add(w.Water.Manganese == nil, "manganese: its chlorine demand is not in the dose")
	add(w.Water.Sulfide == nil, "sulfide: its chlorine demand is not in the dose")
	add(w.Water.Ammonia == nil, "ammonia: its chlorine demand is not in the dose")
	add(w.Water.Arsenic == nil && !w.State.ArsenicArea, "arsenic: not known whether the target must be held down")
	add(w.PumpFlow == nil, "pump flow: no purge time")
	add(w.Yield == nil, "yield: not known whether the purge must be paced")
	add(len(w.Plumbing.Pipes) == 0 && w.Plumbing.Tank == nil, "pipes and tank: a house allowance stands in")
	return all
}

// CapacityLoss returns the share of its first specific capacity that a well has
// lost; not ok without a first record.
//
//	loss = 1 - now/first
//
// Source: definition.
func CapacityLoss(first, now unit.SpecificCapacity) (loss float64, ok bool) {
	if first.GPMPerFt() <= 0 {
		return 0, false
	}
	return 1 - now.GPMPerFt()/first.GPMPerFt(), true
}

// CapacityTrigger is the loss from which a well is looked at and cleaned.
var CapacityTrigger = source.Factor{
	Name: "rehab_capacity_trigger", What: "loss of specific capacity from which a well is cleaned",
	Value: 0.25, Kind: source.CommonPractice, From: "rule of the trade",
}

// NeedsRehabilitation reports whether the loss calls for work; on the trigger
// it does.
func NeedsRehabilitation(set source.Set, loss float64) bool { return loss >= set.Of(CapacityTrigger) }

// Factors returns every factor of this package.
func Factors() []source.Factor {
	all := []source.Factor{
		HouseAllowance, AirOverWaterShare, MostChlorine, HarmChlorine, ArsenicChlorine, ArsenicConcern, ContactProduct,
		CryptoProduct, LeastHours, MostHours, MostPoured, VinegarStrength, BestPH, LeastPH, PurgeVolumes, AgentExcess,
		DischargeChlorine, CapacityTrigger, DeepWell, WeakWell,
	}
	all = append(all, targets[:]...)
	for _, a := range Agents() {
		all = append(all, a.Factor)
	}
	return all
}
