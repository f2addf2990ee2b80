package book

import (
	"time"

	"wellwright/unit"
	"wellwright/water"
)

// Urgency is how soon somebody must come.
type Urgency string

// The urgencies.
const (
	Urgent  Urgency = "urgent" // illness, an infant, coliform, sudden change
	Soon    Urgency = "soon"
	Routine Urgency = "routine"
)

// Call is the first call: the complaint in the caller's words.
type Call struct {
	Urgency        Urgency // "": not recorded
	Complaint      string
	Since          string
	After          string   // what came before it: pump work, flood, new baby ...
	OthersTouched  string   // who else has worked on it, and what they did
	Illness        *bool    // anyone ill
	TestsSoFar     string   // any test there is
	LeaveUntouched []string // what the owner is to leave as it is until the visit
}

// Sign is one thing seen, smelt or tasted, or looked for and not found.
type Sign struct {
	ID    water.Symptom // "" if the words name no sign of the dictionary
	Text  string        // in the words of whoever saw it
	Seen  bool          // false: looked for, and not there
	Hot   *bool         // at the hot tap; nil: not said
	Cold  *bool         // at the cold tap
	Tap   water.Where   // "" if not said
	Since string
	On    time.Time // date of the entry
	Entry string
}

// Test is the sort of jar test.
type Test string

// The jar tests.
const (
	Settling       Test = "settling"        // left to stand
	Aeration       Test = "aeration"        // shaken with air, then left to stand
	Bleach         Test = "bleach"          // a few drops of bleach
	Filtration     Test = "filtration"      // through a filter
	ChlorineDemand Test = "chlorine demand" // dosed, and read after a time
)

// Look is what a jar looked like, in controlled words.
type Look string

// The looks.
const (
	StaysClear     Look = "stays clear"
	RustAtOnce     Look = "rust at once"
	RustSettles    Look = "clear, then rust settles"
	RustStaysUp    Look = "rust stays up"
	HazeStays      Look = "haze stays"
	YellowStays    Look = "yellow stays"
	TurnsBlack     Look = "turns brown-black"
	RustThenBlack  Look = "rust, then dark"
	Threads        Look = "threads or jelly"
	GreyBlack      Look = "grey-black"
	TurnsOrange    Look = "turns orange"
	ColourFades    Look = "colour fades"
	NoChange       Look = "no change"
	FiltersClear   Look = "filtrate clear"
	FiltersStained Look = "filtrate coloured"
	ClearsUpward   Look = "clears from the bottom up"
)

// Jar is one jar looked at, or measured, after a time.
type Jar struct {
	Test   Test
	Sealed *bool // full to the brim and capped: no air; nil: not said
	After  time.Duration
	Saw    Look // "" for a jar that was only measured
	Note   string
	Filter *unit.Length        // pore size of the filter
	Iron   *unit.Concentration // total iron in the filtrate or above the sediment
	PH     *unit.PH
	Demand *unit.Chlorine // chlorine used up after the time
	Doses  []Dose         // a chlorine-demand curve, by dose
	Tap    water.Where
	On     time.Time
	Entry  string
}

// Dose is one point of a chlorine-demand curve.
type Dose struct {
	Added unit.Chlorine
	Free  *unit.Chlorine // free chlorine left
	Total *unit.Chlorine // total chlorine left
}

// Organism is what a culture test or microscope looked for.
type Organism string

// The organisms.
const (
	IronBacteria    Organism = "iron bacteria"
	SulfateReducers Organism = "sulfate reducers"
	SlimeFormers    Organism = "slime formers"
)

// Strength is how a culture came up.
type Strength string

// The strengths.
const (
	Weak   Strength = "weak"
	Middle Strength = "middling"
	Strong Strength = "strong"
)

// Culture is one culture test, or one look through a microscope.
type Culture struct {
	Of         Organism
	Microscope bool // seen through a microscope, not grown
	Positive   bool
	Day        int // day it turned; 0: not said
	Strength   Strength
	Sample     string // water first draw, slime from the flush tank ...
	Tap        water.Where
	Note       string
	On         time.Time
	Entry      string
}

// Factor is the user's own value for a factor, and why.
type Factor struct {
	Name  string
	Value float64
	Why   string
}
