package chem

// Molar masses, g/mol, from the IUPAC standard atomic weights (2021, abridged).
const (
	molH  = 1.008
	molC  = 12.011
	molN  = 14.007
	molO  = 15.999
	molF  = 18.998
	molNa = 22.990
	molMg = 24.305
	molSi = 28.085
	molP  = 30.974
	molS  = 32.06
	molCl = 35.45
	molK  = 39.098
	molCa = 40.078
	molMn = 54.938
	molFe = 55.845

	molCO2   = molC + 2*molO
	molCO3   = molC + 3*molO
	molHCO3  = molH + molCO3
	molCaCO3 = molCa + molCO3
	molMgO   = molMg + molO
	molHCl   = molH + molCl
	molH2SO4 = 2*molH + molSO4
	molNaOH  = molNa + molO + molH
	molNa2CO = 2*molNa + molCO3
	molSiO2  = molSi + 2*molO
	molSO4   = molS + 4*molO
	molNO3   = molN + 3*molO
	molH2S   = 2*molH + molS
	molO2    = 2 * molO
	molO3    = 3 * molO
	molH2O2  = 2*molH + 2*molO
	molCl2   = 2 * molCl
	molNaOCl = molNa + molO + molCl
	molClO2  = molCl + 2*molO
	molMnO2  = molMn + 2*molO
	molKMnO4 = molK + molMn + 4*molO
	molFeOH3 = molFe + 3*(molO+molH)
)

const (
	gasR     = 8.314463 // gas constant, J/(mol K): CODATA 2018
	ln10     = 2.302585092994046
	zeroC    = 273.15         // 0 degrees Celsius, K: definition
	refT     = zeroC + 25     // temperature of tabled constants, K
	calorie  = 4184.0         // thermochemical kilocalorie, J: definition
	atmKPa   = 101.325        // standard atmosphere, kPa: definition
	gasLAtm  = gasR / 101.325 // gas constant, L atm/(mol K)
	airO2    = 0.20946        // oxygen in dry air by volume (from memory: ICAO standard atmosphere)
	mgPerG   = 1000.0
	secPerH  = 3600.0
	secPerMn = 60.0
)
