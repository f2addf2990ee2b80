package chem

import (
	"time"

	"wellwright/unit"
)

// Law is the rate law of ferrous iron with oxygen in clear water. Published
// laws differ six-fold at 25 °C and more in cold water, so that an answer is a
// range, not a time.
type Law int

// The laws. The zero value is the slow one, which promises least.
const (
	SlowLaw   Law = iota // Millero, Sotolongo & Izaguirre 1987
	MiddleLaw            // geometric mean of the two others
	FastLaw              // Singer & Stumm 1970 on a partial pressure basis, 96 kJ/mol at constant pH
)

// Mix is what the reactions in a vessel change. Ammonia is free ammonia and
// ammonium only: the nitrogen of CombinedChlorine, one atom for each chlorine
// of monochloramine, is not in it.
type Mix struct {
	IronII, IronSolid           unit.Concentration // as Fe
	ManganeseII, ManganeseSolid unit.Concentration // as Mn
	Oxygen                      unit.Concentration // as O2
	Permanganate                unit.Concentration // as KMnO4
	Peroxide                    unit.Concentration // as H2O2
	FreeChlorine                unit.Chlorine
	CombinedChlorine            unit.Chlorine
	Ammonia                     unit.Nitrogen
	Sulfide                     unit.Sulfide
	SulfurSolid                 unit.Concentration // as S
	SulfateMade                 unit.Concentration // as SO4, added to that of the raw water
	NitrogenMade                unit.Nitrogen      // as N2 gas, by breakpoint
	Alkalinity                  unit.Alkalinity
	Carbon                      TotalCarbon
}

// Conditions are what the reactions leave alone.
type Conditions struct {
	Temperature unit.Temperature
	Ionic       IonicStrength
	Law         Law
}

// Surface is the catalytic coating that water sees in a bed, as the amount in
// suspension that would act as fast. Ferric works like the ferric floc of the
// iron rate (mg/L as Fe); ManganeseOxide like suspended manganese dioxide (mg/L
// as MnO2) for manganese with free chlorine, with permanganate and, slowly,
// with oxygen. The zero Surface is plain water.
type Surface struct{ Ferric, ManganeseOxide unit.Concentration }

// Vessel is where the water stays. Tanks is the number of equal stirred tanks in
// series that mix as the vessel does; 0 is plug flow. OxygenHeld says that gas
// keeps dissolved oxygen at HeldOxygen, as under an air pocket.
type Vessel struct {
	Time       time.Duration
	Tanks      int
	Surface    Surface
	OxygenHeld bool
	HeldOxygen unit.Concentration
}
