package well

import (
	"time"

	"wellwright/unit"
)

// House is who uses the water, where its waste may go, and what the place and
// the owner allow.
type House struct {
	People    int // 0: not recorded
	Infants   bool
	Pregnant  bool
	LowSodium bool // someone is told to limit sodium
	Baths     *float64
	Fixtures  map[string]int // by fixture name of package hydraulic
	Daily     *unit.Flow     // metered or counted; of a range, the upper end
	DailyLow  *unit.Flow     // lower end of the range, if a range was given
	Metered   *bool          // daily use was read from a meter
	Peak      *unit.Flow     // stated or measured peak
	TakenOff  []string       // branches taken off before treatment, by name alone: hose, barn ...
	Branches  []Branch       // branches with what they draw, treated or not
	Shifts    []Shift        // when a workplace draws water; none: a household, which sleeps at night
	Drains    []Drain
	Septic    bool
	Serves    int // people a day, when more than the household: 25 and over is a public supply
	Connected int // service connections, when more than one: 15 and over is a public supply
	Room      Room
	Absence   *float64 // weeks a year
	Owner     Owner
	Heater    string // electric, gas ...; anode remarks go in signs
	Anode     string // the heater's rod: magnesium, aluminium, powered, none
	Pipes     string // house piping: material and age
	Remarks   string
}

// DrainKind is where waste water goes.
type DrainKind string

// The drains.
const (
	Septic   DrainKind = "septic"
	Sewer    DrainKind = "sewer"
	DryWell  DrainKind = "dry well"
	Daylight DrainKind = "daylight"
)

// Drain is one way out for waste water, and what may go there. A nil permission
// is "not asked": local code decides.
type Drain struct {
	To       DrainKind
	Backwash *bool
	Brine    *bool
	Note     string
}

// Room is where equipment would stand.
type Room struct {
	Height     *unit.Length
	FloorLong  *unit.Length
	FloorWide  *unit.Length
	Power      *bool
	Frost      *bool // may freeze
	VentOut    *bool // a vent to outside is possible
	StorageMax *unit.Volume
	FloorDrain *bool // a floor drain or standpipe within reach
	DoorWide   *unit.Length
	Remarks    string
}

// Owner is what the owner can and will do.
type Owner struct {
	CarriesSalt *bool
	Chemicals   *bool // will handle bleach and the like
	Weekly      *bool // will look at a residual weekly
	Cleans      *bool // will clean out a tank or housing
	Remarks     string
}

// Wishes is what the owner wants and will spend.
type Wishes struct {
	Jurisdiction  string // US, CA, WHO, EU, or US-MA and the like
	Budget        *float64
	YearlyBudget  *float64
	NoSalt        bool
	NoChemicals   bool
	SoftWater     *bool // nil: not said; softened if hard
	IronTarget    *unit.Concentration
	Remarks       string
	RulesRemarks  string
	PriceListFile string
}

// Rules is what the place allows.
type Rules struct {
	BrineToSeptic    *bool
	BackwashToSeptic *bool
	DischargeNote    string
	WellWorkLicensed *bool
}

// Equipment is a unit already there and how it behaves.
type Equipment struct {
	Process   string // a process id of package media
	Since     int    // year
	Size      string // as found
	Setting   string // as found
	Behaviour string // in the finder's words
	Works     *bool
	Bypassed  bool
	Fitted    time.Time // date fitted, as near as known; zero: not said
	Tap       string    // the tap after it, such as T2
	Removed   bool      // taken out since
}
