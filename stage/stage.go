// Package stage holds the unit processes, one file each. A stage acts on a water
// by mechanism, so that the same code answers design, start-up and complaint. It
// says what it needs, what it was given, what it costs to keep and how it fails.
package stage

import (
	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/cost"
	"wellwright/formula"
	"wellwright/hydraulic"
	"wellwright/media"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// Site is what does not vary from one plausible water to the next.
type Site struct {
	Model   *chem.Model
	Factors source.Set
	Well    well.Supply
	House   well.House
	Rules   well.Rules
	Wishes  well.Wishes
	LeastPH unit.PH          // wanted at the taps
	Working *formula.Working // nil unless the working is wanted
}

// Job is one stage asked to treat one water at one place in a train.
type Job struct {
	Site   *Site
	Draw   *cloud.Draw
	In     water.State      // at the stage's inlet
	Peak   unit.Flow        // most that the house can pull through the stage
	Daily  unit.Flow        // yearly mean through the stage
	Supply hydraulic.Supply // what a wash here can draw on
	Before []media.Process  // stages ahead, first one first
	After  []media.Process  // stages behind, in order
	Fault  Fault            // a way to fail, for complaints; "" when sound

	// Lean asks only for what carries a water down a train, as a cloud of waters
	// does: Out, Limits, Washes, Supply, Loss, Needs and the settings that LeanSettings
	// names are then those of a full run; AtPeak, bill, words and working are left out.
	Lean bool
	// Room takes the limits where they fit, so that one slice may serve many runs;
	// a run with the same room overwrites them. Nil: each run makes its own.
	Room []Limit
	// Scope keeps what jobs on one draw share; nil: each run works it out.
	Scope *Scope
}

// Typical is the flow of an ordinary draw: what the forecast is made at.
func (j *Job) Typical() unit.Flow {
	return unit.GPM(j.Peak.GPM() * j.Site.Factors.Of(typicalShare))
}

// Has reports whether any of the processes stands ahead of this stage.
func (j *Job) Has(ps ...media.Process) bool { return contains(j.Before, ps) }

// Leads reports whether any of the processes stands behind this stage.
func (j *Job) Leads(ps ...media.Process) bool { return contains(j.After, ps) }

func contains(list, ps []media.Process) bool {
	for _, have := range list {
		for _, p := range ps {
			if have == p {
				return true
			}
		}
	}
	return false
}

// Scope keeps what the runs on one plausible water ask again and again: the zero
// Scope is empty. It belongs to one draw on one site, and to one goroutine at a time.
type Scope struct {
	prepared *chem.Prepared
	model    *chem.Model
	at       unit.Temperature
	lent     []lending
	ceiling  *ceilingFound // of the calcite bed asked last
}

// scope is the job's own, made where none was given.
func (j *Job) scope() *Scope {
	if j.Scope == nil {
		j.Scope = &Scope{}
	}
	return j.Scope
}

// prepared is what the chemistry makes of a temperature.
func (j *Job) prepared(t unit.Temperature) *chem.Prepared {
	s := j.scope()
	if s.prepared == nil || s.at != t || s.model != j.Site.Model {
		s.prepared, s.at, s.model = j.Site.Model.Prepare(t), t, j.Site.Model
	}
	return s.prepared
}

// room is where n limits are to be written.
func (j *Job) room(n int) []Limit {
	if cap(j.Room) >= n {
		return j.Room[:0]
	}
	return make([]Limit, 0, n)
}

// Process is one kind of unit process.
type Process interface {
	// ID names it.
	ID() media.Process
	// Sizes returns the sizes worth trying for the job, cheapest first. It never
	// looks at whether they pass: Run says so.
	Sizes(j *Job) []Size
	// Run treats the job's water with the stage of that size.
	Run(j *Job, z Size) Outcome
	// Ways lists the ways in which it fails.
	Ways() []Way
}

// Size is what is bought. Unused fields are zero.
type Size struct {
	Vessel   media.Vessel // one vessel
	Count    int          // vessels side by side
	Turn     Turn         // how they share the work
	Media    unit.Volume  // in each vessel
	Volume   unit.Volume  // of one contact, storage or aeration tank
	Tanks    int          // such tanks in series
	Feed     unit.Flow    // greatest output of a feed pump
	Booster  unit.Flow    // booster pump at its set pressure
	Lent     unit.Volume  // a larger pressure tank bought to help the wash; its total
	Label    string       // an element or model by generic name: "4.5 x 20 in, 5 µm"
	Mode     string       // how it is run, where a process has several ways
	Rated    unit.Flow    // rated flow of a lamp or element
	Settings Settings     // settings that are part of the choice, such as salt dose
}

// Outcome is what a stage of some size does to one water.
type Outcome struct {
	Out      water.State // forecast at typical flow
	AtPeak   water.State // at peak flow, which is never better
	Supply   *hydraulic.Supply
	Limits   []Limit
	Settings Settings
	Washes   []Wash
	Bill     cost.Bill
	Loss     Loss
	Needs    Needs
	Cautions []string // safety and upkeep, where the step stands
	WillNot  []string // what it will not do, in plain words
}

// Settings are the installer's figures by leaf name (see names.go).
type Settings map[string]float64

// LeanSettings are the settings that a lean run gives where a full one does: what a
// cloud of waters sets ranges on and what stands behind in the train asks for.
var LeanSettings = []string{
	DoseMgL, FeedMLMin, ResidualMgL, TargetPH, ContactMin, StorageDays, OxygenHaveMgL,
	ServiceGPMFt2, DaysBetweenMetered, HardnessGPG, SaltLbPerYear, SodiumAddedMgL, HardnessAddedGPG,
	ElementDays, DaysBetweenCharges,
}

// Loss is the pressure a stage takes at peak flow.
type Loss struct{ Clean, Dirty unit.Pressure }

// Needs is what a stage asks of the place and the owner.
type Needs struct {
	Height    unit.Length // headroom
	Floor     unit.Area
	Power     bool
	NoFrost   bool
	Vent      bool // a vent to outside
	Salt      bool // someone carries salt
	Chemicals bool // someone handles bleach, permanganate or the like
	Weekly    bool // someone looks at a residual weekly
}

// Waste is what a wash sends to the drain.
type Waste string

// The wastes.
const (
	WasteBackwash     Waste = "filter backwash"
	WasteBrine        Waste = "softener brine"
	WastePermanganate Waste = "permanganate rinse"
	WasteReject       Waste = "membrane reject"
	WasteSludge       Waste = "tank blow-down"
)

// Wash is one regular wash of one vessel; Vessels of them are washed, never two at
// once.
type Wash struct {
	Waste   Waste
	Need    unit.Flow
	Have    unit.Flow
	Minutes float64 // at Need
	Whole   float64 // minutes the vessel is out of service
	Gallons unit.Volume
	Days    float64 // between washes of one vessel
	Vessels int
	Turn    Turn // of those vessels: other than InTurn, a wash need not wait for quiet hours
}

// PerDay is the waste of a wash, averaged.
func (w Wash) PerDay() unit.Flow {
	if w.Days <= 0 {
		return unit.Flow{}
	}
	return unit.GalPerDay(w.Gallons.Gal() * float64(w.Vessels) / w.Days)
}

// Fault is a way to fail, by id.
type Fault string

// Way is one way in which a process fails and how it shows.
type Way struct {
	ID    Fault
	Say   string // what has happened
	Shows string // what is read or seen
	Mend  string
}

// registry is filled by the table in processes.go.

// Of returns the process of that id; false when it is not yet built.
func Of(p media.Process) (Process, bool) {
	for _, x := range processes {
		if x.ID() == p {
			return x, true
		}
	}
	return nil, false
}

var typicalShare = source.Factor{
	Name: "typical_flow_share", What: "ordinary draw as a share of the house peak, at which a forecast is made",
	Value: 0.5, Low: 0.3, High: 0.8, Kind: source.CommonPractice, From: "one or two fixtures of the four that make the peak",
}
