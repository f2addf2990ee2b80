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
	Chlorinated    Test = "chlorine"        // dosed with chlorine for the iron's sake
	Alum           Test = "alum"
	Ferric         Test = "ferric"
	Permanganate   Test = "permanganate"
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
	PinkStays      Look = "pink stays"
	PinkFades      Look = "pink fades"
)

// Jar is raw water in a jar: treated or left alone, stood for a time, filtered or
// not, and looked at or measured. Jars that differ only in their dose are one Jar
// with its Doses, or one each.
type Jar struct {
	Test        Test
	Sealed      *bool // full to the brim and capped: no air; nil: not said
	After       time.Duration
	Saw         Look // "" for a jar that was only measured
	Note        string
	Temperature *unit.Temperature   // at which it stood
	Filter      *unit.Length        // pore size of the filter
	Dose        *unit.Concentration // fed to it, as [Dose.Added]
	Iron        *unit.Concentration // total iron in the filtrate or above the sediment; zero: none found
	Manganese   *unit.Concentration // likewise
	Colour      *water.Result       // likewise
	PH          *unit.PH
	Free, Total *unit.Chlorine // chlorine left after the time
	Demand      *unit.Chlorine // chlorine used up after the time
	Doses       []Dose         // a series
	Tap         water.Where
	On          time.Time
	Entry       string
}

// Dose is one jar of a series: what was fed, and what was read after the time.
type Dose struct {
	Added     unit.Concentration // chlorine as Cl2, alum as the dry salt with 14 water, ferric as FeCl3, permanganate as KMnO4
	Free      *unit.Chlorine     // free chlorine left
	Total     *unit.Chlorine     // total chlorine left
	Iron      *unit.Concentration
	Manganese *unit.Concentration
	Colour    *water.Result
	PH        *unit.PH
	Saw       Look
}

// Series lists the jars of a series, each with its dose and what was read of it.
// A jar that was dosed alone, or not at all, is a series of one.
func (j Jar) Series() []Dose {
	if len(j.Doses) > 0 {
		return j.Doses
	}
	d := Dose{Free: j.Free, Total: j.Total, Iron: j.Iron, Manganese: j.Manganese, Colour: j.Colour, PH: j.PH, Saw: j.Saw}
	if j.Dose != nil {
		d.Added = *j.Dose
	}
	return []Dose{d}
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
