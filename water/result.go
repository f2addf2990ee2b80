package water

import "time"

// Sign says how a figure was written.
type Sign int

// The signs. A result below a limit is neither zero nor the limit: whoever
// needs a number must choose a bound.
const (
	Exact   Sign = iota
	Below        // "<0.05", ND, BDL: Value is the limit
	Above        // ">200", TNTC: Value is the limit
	Present      // present, no number
	Absent       // absent, no number
)

// Fraction is which part of the water was analysed.
type Fraction int

// The fractions.
const (
	Unspecified Fraction = iota
	Total                // unfiltered, digested or acidified
	Recoverable          // unfiltered, weak digestion; close to Total
	Dissolved            // through 0.45 µm
	Fine                 // through 0.1 to 0.2 µm
	Suspended            // what the filter held
	FerrousIron          // Fe(II) by colour reagent
)

// Place is where in a file something was read.
type Place struct {
	File string `json:"file,omitempty"`
	Line int    `json:"line,omitempty"`
}

// Result is one analyte as it was written.
type Result struct {
	Analyte  Analyte
	Fraction Fraction
	Sign     Sign
	Value    float64
	Unit     string // as written
	Basis    string // as written, such as "as CaCO3"; "" if none
	Method   string // as written
	Limit    *float64
	Note     string // qualifier or remark, as written
	Place    Place
}

// Where names the tap a sample came from: T0, T1, T2 ..., K or H.
type Where string

// Bottle is how a sample was kept.
type Bottle struct {
	Acidified     *bool // nil: not said
	FilteredField *bool
	Note          string
}

// Report is a set of results on one sample: a laboratory's report or a set of
// readings at a tap.
type Report struct {
	ID         string // entry it came from
	Laboratory string // "" for a field reading
	Field      bool   // read on site
	Tap        Where
	FirstDraw  bool
	Sampled    time.Time
	Analysed   time.Time // zero: not said
	Bottle     Bottle
	File       string // the received file, kept beside the book
	SHA256     string
	Results    []Result
}
