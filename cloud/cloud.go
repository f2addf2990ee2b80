// Package cloud turns the evidence on one well into weighted plausible waters
// and supplies. What was measured is held within its error; what was not is
// assumed and listed; a report that cannot be is explained, not averaged.
package cloud

import (
	"wellwright/chem"
	"wellwright/hydraulic"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
	"wellwright/well"
)

// Cloud is what is believed of one well.
type Cloud struct {
	Draws     []Draw // the plausible waters, of equal weight
	Spread    []Draw // about twenty that stand for all of them; weights add to one, the middle first
	Before    []Draw // plausible waters before any evidence, of equal weight
	Quality   Quality
	Forms     Forms
	Conflicts []Conflict
	Checks    []water.Finding
	Assumed   []Assumption
	Ranges    []AnalyteRange // raw water at T1
}

// Draw is one plausible raw water at T1 with a supply to go with it. Its water
// is complete and electrically neutral.
type Draw struct {
	Name   string // "middle", or the fault it stands for
	Weight float64
	Water  water.State
	Supply Supply
	Law    chem.Law
	World  World
}

// World is the hypothesis that a draw belongs to.
type World struct {
	Redox    string   // class of redox: oxic, mixed, reduced, sulfidic
	Lead     string   // class of the iron's forms
	Faults   []string // of the evidence; nil: none
	Bacteria bool     // iron bacteria live in the well
}

// Quality says how well the draws stand for what is believed.
type Quality struct {
	Asked     int     // draws
	Effective float64 // number of independent draws worth, before resampling
	Distinct  int     // different draws after it
	Few       bool    // too few to trust a probability
	Coarse    bool    // a first answer from fewer draws
}

// Supply is what the well, pump and tank give and what the house asks.
type Supply struct {
	Hydraulic      hydraulic.Supply
	Static         *unit.Length // below ground; nil: not recorded
	Intake         *unit.Length // below ground; nil: not recorded
	Daily          unit.Flow    // use of the house behind the treatment
	Peak           unit.Flow    // what the house asks at its peak behind the treatment, whether or not it can be had
	PeakMinutes    float64      // how long that peak lasts; 0: as in a household
	Raw            well.Drawn   // what branches ahead of the treatment draw besides
	MeasuredAtTank []hydraulic.PumpPoint
	ChlorineExtra  unit.Chlorine  // demand beyond stoichiometry: organic matter, slime
	SulfateShare   float64        // of the sulfide that chlorine takes all the way to sulfate, 0 to 1
	AmmoniaRatio   float64        // chlorine taken by ammonia, mg Cl2 to the mg N
	Recovery       float64        // share of its first specific capacity that a rehabilitation would bring the well back to
	DemandMeasured *unit.Chlorine // by jar, minutes of contact; nil: not tested
	Jars           *JarDoses      // doses found in jars, with their errors; nil: none
	VariableSpeed  bool           // a fixed-rate feed cannot follow it
}

// Use is what the house uses in all, treated or not.
func (s Supply) Use() unit.Flow { return unit.GPM(s.Daily.GPM() + s.Raw.Use.GPM()) }

// Range is a low, middle and high value.
type Range struct{ P05, P50, P95 float64 }

// Forms is the iron of the raw water by form, in mg/L as Fe.
type Forms struct {
	Total, Ferrous, Particulate, Bound Range
	BacteriaProbability                float64
	Evidence                           []Clue
}

// Clue is one finding and how far it moves the odds.
type Clue struct {
	Sign          string  // what was found
	Toward        string  // what it speaks for
	TimesLikelier float64 // below one: it speaks against
	Kind          source.Kind
	Say           string
}

// Conflict is two pieces of evidence that cannot both be right.
type Conflict struct {
	ID, Say      string
	Explanations []Explanation // likeliest first; probabilities add to one
}

// Explanation is one way in which a conflict may have come about.
type Explanation struct {
	ID          string
	Probability float64
	Say         string
}

// Assumption is a value that nobody measured.
type Assumption struct {
	Name string // leaf name with unit, such as oxygen_mg_l
	Unit string
	Range
	Kind source.Kind
	From string
}

// AnalyteRange is one property of the raw water.
type AnalyteRange struct {
	Name string // leaf name with unit, such as hardness_mg_l_as_caco3
	Unit string
	Range
	Assumed bool
}

// Middle returns the middle draw: the medians of what is believed in the
// likeliest world, with the supply as recorded.
func (c Cloud) Middle() Draw {
	if len(c.Spread) == 0 {
		return Draw{}
	}
	return c.Spread[0]
}

// Middle names the middle draw.
const Middle = "middle"
