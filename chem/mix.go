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

// Conditions are what the reactions leave alone. Prepared and Near change no
// answer: they save work where one water is asked many times. Prepared holds the
// constants of the temperature and may be nil; Near is a pH that the water's own is
// known to lie near, zero if none is.
type Conditions struct {
	Temperature unit.Temperature
	Ionic       IonicStrength
	Law         Law
	Prepared    *Prepared
	Near        unit.PH
}

// Surface is the catalytic coating that water sees in a bed, as the amount in
// suspension that would act as fast. The zero Surface is plain water. It enters
// the rates beside what already floats in the water:
//
//	iron       k [O2] ([Fe floc] + Ferric)/{H+} [Fe(II)]
//	manganese  k s ([MnO2] + ManganeseOxide) [Mn(II)] [free chlorine or permanganate]
//	           k ([MnO2] + ManganeseOxide)/{H+} [Mn(II)] [O2]
//	           s = K/(K + {H+}), the share of sites that take up manganese
//
// Ferric is mg/L as Fe, ManganeseOxide mg/L as MnO2. One gram a litre of the one
// halves iron in about a minute at pH 7, 11 °C and 8 mg/L of oxygen; five grams a
// litre of the other halve manganese in half a minute with 1 mg/L of free
// chlorine. An oxide that speeds iron with oxygen is given as Ferric too.
type Surface struct{ Ferric, ManganeseOxide unit.Concentration }

// Vessel is where the water stays. Tanks is the number of equal stirred tanks in
// series that mix as the vessel does; 0 is plug flow. OxygenHeld says that gas
// keeps dissolved oxygen at HeldOxygen, as under an air pocket; Bubbled that air
// carries oxygen in and gases out at a speed.
type Vessel struct {
	Time       time.Duration
	Tanks      int
	Surface    Surface
	OxygenHeld bool
	HeldOxygen unit.Concentration
	Bubbled    Bubbled
}
