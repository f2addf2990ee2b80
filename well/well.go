// Package well describes the supply and the house: the bore, pump, pressure
// tank and plumbing, the household, its drains and rules, and equipment already
// there. A nil pointer is "not recorded"; whoever fills it in says "assumed".
package well

import (
	"time"

	"wellwright/unit"
)

// Kind is how the well was made.
type Kind string

// The kinds.
const (
	Drilled Kind = "drilled"
	Driven  Kind = "driven"
	Dug     Kind = "dug"
	Bored   Kind = "bored"
	Spring  Kind = "spring"
)

// Well is the bore and what is known of its water.
type Well struct {
	Name         string
	Place        string // blurred as the owner wishes
	Kind         Kind
	Year         int // 0: not recorded
	Depth        *unit.Length
	Casing       *unit.Length // inside diameter
	CasingDepth  *unit.Length
	Static       *unit.Length // below ground
	Pumping      *unit.Length // at PumpingRate
	PumpingRate  *unit.Flow
	Yield        *unit.Flow // sustained
	YieldHours   *float64   // how long the test ran
	CapSealed    *bool      // vermin-proof cap
	Open         bool       // open hole below the casing
	Capacities   []Capacity // specific capacity over time, oldest first
	ScreenTop    *unit.Length
	ScreenBottom *unit.Length
	Aquifer      string

	Driller      string
	Permit       string       // permit or log number
	CasingIs     string       // material: steel, plastic ...
	CasingAbove  *unit.Length // height of the casing above ground
	Grout        string
	Cap          string       // as found
	YieldLevel   *unit.Length // level at the end of the yield test, below ground
	Recovery     string       // as observed
	Shocks       []Shock      // past shock disinfections, oldest first
	Rehabilitate []Shock      // past rehabilitations: brushed, acidified, surged
	Flooding     string
	Hazards      string // septic, fuel, animals and how far off
	Remarks      string
}

// Shock is a disinfection or rehabilitation done in the past.
type Shock struct {
	On     time.Time // zero: not said
	How    string    // product, dose, and who did it
	Lasted string    // how long it helped
}

// Capacity is a specific capacity on a date.
type Capacity struct {
	On    time.Time
	Value unit.SpecificCapacity
}

// Drive is how a pump is governed.
type Drive string

// The drives.
const (
	FixedSpeed    Drive = "fixed speed"
	VariableSpeed Drive = "variable speed"
	ThrottleValve Drive = "constant-pressure valve"
)

// PumpKind is the sort of pump.
type PumpKind string

// The pumps.
const (
	Submersible PumpKind = "submersible"
	Jet         PumpKind = "jet"
	HandPump    PumpKind = "hand pump"
)

// PumpFlow is a flow measured at the pressure tank.
type PumpFlow struct {
	Flow     unit.Flow
	Pressure unit.Pressure
}

// Pump is the well pump and what it was measured to deliver.
type Pump struct {
	Kind        PumpKind
	Drive       Drive // "": not recorded, fixed speed assumed
	Power       *unit.Power
	Setting     *unit.Length // intake below ground
	Measured    []PumpFlow
	FlowControl *unit.Flow // throttled by a flow control
	Year        int        // 0: not recorded
	DropPipe    string     // material and size
	CheckValves string
	Cycle       string // how it starts and stops, as observed
}

// TankKind is the sort of pressure tank.
type TankKind string

// The tanks. An air-over-water tank oxidises iron before it reaches treatment.
const (
	PreCharged   TankKind = "pre-charged"
	AirOverWater TankKind = "air-over-water"
	NoTank       TankKind = "none"
)

// Tank is the pressure tank and its switch.
type Tank struct {
	Kind      TankKind // "": not recorded
	Volume    *unit.Volume
	Precharge *unit.Pressure
	CutIn     *unit.Pressure
	CutOut    *unit.Pressure
	Drawdown  *unit.Volume // measured between cut-out and cut-in
	TapBefore *bool        // there is a sample tap before the tank
	Remarks   string       // material, age, as found
}

// Pipe is the main between tank and house.
type Pipe struct {
	Material string // copper, pex, cpvc, pvc, galvanised
	Nominal  *unit.Length
	Length   *unit.Length
	TopRise  *unit.Length // height of the top fixture above the tank
	Remarks  string
}

// Supply is everything up to the first stage.
type Supply struct {
	Well Well
	Pump Pump
	Tank Tank
	Pipe Pipe
}
