package water

import "wellwright/unit"

// Standard atomic weights, g/mol: IUPAC, abridged to five figures (published;
// the figures are those every periodic table prints).
const (
	massH  = 1.008
	massC  = 12.011
	massN  = 14.007
	massO  = 15.999
	massF  = 18.998
	massNa = 22.990
	massMg = 24.305
	massAl = 26.982
	massSi = 28.085
	massP  = 30.974
	massS  = 32.06
	massCl = 35.45
	massK  = 39.098
	massCa = 40.078
	massMn = 54.938
	massFe = 55.845
	massCu = 63.546
	massZn = 65.38
	massAs = 74.922
	massBr = 79.904
	massSr = 87.62
	massBa = 137.33
	massLi = 6.94
	massB  = 10.81
	massCr = 51.996
)

// Formula masses, g/mol, computed from the atomic weights.
const (
	massHCO3 = massH + massC + 3*massO
	massCO3  = massC + 3*massO
	massCO2  = massC + 2*massO
	massNO3  = massN + 3*massO
	massNO2  = massN + 2*massO
	massNH4  = massN + 4*massH
	massNH3  = massN + 3*massH
	massPO4  = massP + 4*massO
	massHPO4 = massH + massPO4
	massP2O5 = 2*massP + 5*massO
	massSiO2 = massSi + 2*massO
	massH2S  = 2*massH + massS
	massSO4  = massS + 4*massO
	massOH   = massO + massH
	massO2   = 2 * massO
	massCl2  = 2 * massCl
)

// equivalentCaCO3 is the mass of calcium carbonate that holds one equivalent,
// mg/meq: that of package unit, so that there is but one.
var equivalentCaCO3 = unit.AlkalinityMeq(1).MgPerLAsCaCO3()

// massCaCO3 is its molar mass, g/mol.
var massCaCO3 = 2 * equivalentCaCO3

// basisMass gives, for each basis a result may be expressed in, the mass of one
// mole and how many moles of the atom or group counted one mole holds.
var basisMass = map[string]struct{ mass, atoms float64 }{
	"CaCO3": {massCaCO3, 1},
	"N":     {massN, 1}, "NO3": {massNO3, 1}, "NO2": {massNO2, 1}, "NH4": {massNH4, 1}, "NH3": {massNH3, 1},
	"P": {massP, 1}, "PO4": {massPO4, 1}, "P2O5": {massP2O5, 2},
	"HCO3": {massHCO3, 1}, "CO3": {massCO3, 1}, "CO2": {massCO2, 1}, "C": {massC, 1},
	"Si": {massSi, 1}, "SiO2": {massSiO2, 1},
	"S": {massS, 1}, "H2S": {massH2S, 1}, "SO4": {massSO4, 1},
	"Cl2": {massCl2, 1}, "Cl": {massCl, 1}, "O2": {massO2, 1},
	"Ca": {massCa, 1}, "Mg": {massMg, 1}, "Na": {massNa, 1}, "K": {massK, 1},
	"Fe": {massFe, 1}, "Mn": {massMn, 1}, "F": {massF, 1}, "Br": {massBr, 1},
	"As": {massAs, 1}, "Cu": {massCu, 1}, "Zn": {massZn, 1}, "Al": {massAl, 1},
	"Ba": {massBa, 1}, "Sr": {massSr, 1}, "B": {massB, 1}, "Li": {massLi, 1},
	"Cr": {massCr, 1}, "OH": {massOH, 1}, "HPO4": {massHPO4, 1},
}
