package unit

// Every conversion of the house is made from the numbers in this file, each
// written once. The compiler computes the products exactly, so that they carry
// no rounding of their own.

// Exact by definition. Published: NIST Special Publication 811 (2008), appendix B.
const (
	litrePerGallon  = 3.785411784 // US gallon of 231 in3
	metrePerFoot    = 0.3048      // international foot
	kgPerPound      = 0.45359237  // avoirdupois pound
	grainPerPound   = 7000        // one grain is 64.79891 mg
	standardGravity = 9.80665     // m/s2
	inchPerFoot     = 12
	ouncePerPound   = 16
	in3PerGallon    = 231
	bqPerPCi        = 0.037 // one curie is 3.7e10 Bq
	minutePerDay    = 24 * 60
	mgPerGrain      = kgPerPound * 1e6 / grainPerPound
	newtonPerPound  = kgPerPound * standardGravity
	kPaPerPSI       = newtonPerPound / (metrePerFoot * metrePerFoot / (inchPerFoot * inchPerFoot)) / 1000
	kWPerHP         = 550 * metrePerFoot * newtonPerPound / 1000 // 550 ft·lbf/s
)

// The steps from each unit to the base unit of its quantity.
const (
	galPerL        = 1 / litrePerGallon
	galPerFt3      = 1.0 * inchPerFoot * inchPerFoot * inchPerFoot / in3PerGallon
	gpmPerGalADay  = 1.0 / minutePerDay
	gpmPerM3AnHour = 1000 * galPerL / 60
	ftPerInch      = 1.0 / inchPerFoot
	ftPerM         = 1 / metrePerFoot
	lbPerKg        = 1 / kgPerPound
	lbPerGrain     = 1.0 / grainPerPound
	lbPerOunce     = 1.0 / ouncePerPound
	psiPerKPa      = 1 / kPaPerPSI
	hpPerKW        = 1 / kWPerHP
	mgPerLPerGPG   = mgPerGrain / litrePerGallon
)

// psiPerFtWater is a foot of water at 60 °F: density 999.01 kg/m3 at standard
// gravity. Derived; published within a figure: NIST SP 811, inch of water (60 °F),
// 248.84 Pa.
const psiPerFtWater = 0.433097

// Equivalents from the IUPAC atomic weights: H 1.008, C 12.011, O 15.999, S 32.06,
// Ca 40.078. Derived. Half a mole of calcium carbonate is 50.0435 mg with the
// older, longer weights and 50.043 with the abridged ones of 2021.
const (
	caco3PerMeq  = 50.0435
	caco3PerHCO3 = caco3PerMeq / (1.008 + 12.011 + 3*15.999)
	sulfidePerS  = (2*1.008 + 32.06) / 32.06
)
