package media

import (
	"fmt"
	"math"

	"wellwright/unit"
)

// Part is one thing that can be bought, by generic name. What it is sold by
// (each, lb, gal, ft3, hour) stands in its price.
type Part string

// Media and chemicals.
const (
	MultimediaFt3      Part = "multimedia ft3"
	GreensandFt3       Part = "greensand ft3"
	CoatedSandFt3      Part = "coated sand ft3"
	LightweightFt3     Part = "lightweight media ft3"
	ManganeseOreFt3    Part = "manganese ore ft3"
	CopperZincFt3      Part = "copper-zinc ft3"
	ResinFt3           Part = "resin ft3"
	Resin10Ft3         Part = "resin 10 % ft3"
	TanninResinFt3     Part = "tannin resin ft3"
	NitrateResinFt3    Part = "nitrate resin ft3"
	AnionResinFt3      Part = "anion resin ft3"
	CarbonFt3          Part = "carbon ft3"
	CatalyticCarbonFt3 Part = "catalytic carbon ft3"
	CalciteFt3         Part = "calcite ft3"
	MagnesiaBlendFt3   Part = "calcite and magnesia ft3"
	ArsenicMediumFt3   Part = "arsenic medium ft3"
	AnthraciteFt3      Part = "anthracite ft3"

	SaltLb            Part = "salt lb"
	PotassiumSaltLb   Part = "potassium chloride lb"
	HypochloriteGal   Part = "hypochlorite 12.5 % gal"
	BleachGal         Part = "household bleach gal"
	PermanganateLb    Part = "permanganate lb"
	PeroxideGal       Part = "peroxide 7 % gal"
	SodaAshLb         Part = "soda ash lb"
	AlumLb            Part = "alum lb"
	FerricChlorideLb  Part = "ferric chloride lb"
	PolyphosphateLb   Part = "polyphosphate lb"
	ResinCleanerLb    Part = "resin cleaner lb"
	WellAcidGal       Part = "well acid gal"
	ChlorineTestStrip Part = "chlorine test"
)

// Equipment.
const (
	TimerValve         Part = "control valve 1 in"
	MeterValve         Part = "metered control valve 1 in"
	LargeValve         Part = "control valve 1.5 in"
	LargeMeterValve    Part = "metered control valve 1.5 in"
	Interlock          Part = "valve interlock" // ties the valves of several vessels: one at a time
	AirDrawValve       Part = "air-draw control valve 1 in"
	PermanganatePot    Part = "permanganate regenerator"
	BrineTank          Part = "brine tank"
	Connections        Part = "bypass and pipe" // for one stage, with a sample tap and a gauge
	DrainLine          Part = "drain line"
	FeedPump           Part = "feed pump"
	PacedFeedPump      Part = "flow-paced feed pump"
	SolutionTank       Part = "solution tank"
	InjectionFittings  Part = "injection fittings"
	FeedRelay          Part = "feed relay and flow switch"
	AirPump            Part = "air pump"
	VenturiInjector    Part = "venturi injector"
	AirRelease         Part = "air release head"
	SprayHead          Part = "spray head"
	VentKit            Part = "vent to outdoors"
	FloatValve         Part = "float valve and low-water cut-off"
	BoosterPump        Part = "booster pump"
	SpinDownScreen     Part = "spin-down screen"
	SmallHousing       Part = "cartridge housing 2.5 x 10"
	LargeHousing       Part = "cartridge housing 4.5 x 20"
	SmallElement       Part = "cartridge 2.5 x 10"
	LargeElement       Part = "cartridge 4.5 x 20"
	UltravioletUnit    Part = "ultraviolet unit 12 gpm"
	LargeUltraviolet   Part = "ultraviolet unit 18 gpm"
	UltravioletLamp    Part = "ultraviolet lamp"
	UltravioletSleeve  Part = "ultraviolet sleeve"
	ShutOffValve       Part = "shut-off solenoid"
	OsmosisUnit        Part = "reverse osmosis unit"
	OsmosisFilters     Part = "reverse osmosis filters"
	OsmosisMembrane    Part = "reverse osmosis membrane"
	OzoneUnit          Part = "ozone unit"
	RadonAerator       Part = "radon aerator"
	BubbleAerationTank Part = "aeration tank"
)

// Work, tests and the well.
const (
	LabourHour      Part = "labour hour"
	Visit           Part = "visit"
	ElectricityKWh  Part = "electricity kWh"
	TestIron        Part = "test iron manganese" // with hardness and pH
	TestBacteria    Part = "test coliform"
	TestArsenic     Part = "test arsenic"
	TestNitrate     Part = "test nitrate"
	TestOrganic     Part = "test organic carbon"
	TestAmmonia     Part = "test ammonia"
	TestCulture     Part = "test iron bacteria"
	TestRadon       Part = "test radon"
	TestMinerals    Part = "test minerals" // the full list of ions
	SepticPumpOut   Part = "septic pump-out"
	PullPump        Part = "pull and set well pump"
	DownholeVideo   Part = "downhole video"
	WellCleaningDay Part = "well cleaning day"
	WellCap         Part = "well cap"
	WellPump        Part = "well pump"
	NewWellFt       Part = "new well ft"
	AnodeRod        Part = "heater anode rod"
	TankReset       Part = "tank switch and gauge"
)

// contactSizes, pressureSizes and storageSizes are the nominal gallons on the
// price list: common practice, no single source.
var (
	contactSizes  = [...]float64{40, 80, 120}
	pressureSizes = [...]float64{20, 32, 44, 62, 86, 119}
	storageSizes  = [...]float64{150, 300, 500, 1000}
)

// ContactTankOf returns the smallest contact tank that holds v; ok is false if
// none does, and two in series are wanted.
func ContactTankOf(v unit.Volume) (Part, bool) { return smallest("contact tank", contactSizes[:], v) }

// PressureTankOf returns the smallest pre-charged pressure tank of volume v or more.
func PressureTankOf(v unit.Volume) (Part, bool) {
	return smallest("pressure tank", pressureSizes[:], v)
}

// StorageTankOf returns the smallest vented storage tank that holds v.
func StorageTankOf(v unit.Volume) (Part, bool) { return smallest("storage tank", storageSizes[:], v) }

// ContactTankSizes returns the contact tanks on the price list, smallest first.
func ContactTankSizes() []unit.Volume { return gallons(contactSizes[:]) }

// PressureTankSizes returns the pressure tanks on the price list, smallest first.
func PressureTankSizes() []unit.Volume { return gallons(pressureSizes[:]) }

// StorageTankSizes returns the storage tanks on the price list, smallest first.
func StorageTankSizes() []unit.Volume { return gallons(storageSizes[:]) }

// hair is the share by which a tank may fall short of the volume asked: it only
// forgives rounding between units.
const hair = 1e-9

func smallest(what string, sizes []float64, v unit.Volume) (Part, bool) {
	if math.IsNaN(v.Gal()) {
		return "", false
	}
	for _, s := range sizes {
		if s >= v.Gal()*(1-hair) {
			return Part(fmt.Sprintf("%s %g gal", what, s)), true
		}
	}
	return "", false
}

func gallons(sizes []float64) []unit.Volume {
	all := make([]unit.Volume, len(sizes))
	for i, s := range sizes {
		all[i] = unit.Gal(s)
	}
	return all
}
