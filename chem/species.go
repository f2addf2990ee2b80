package chem

// master is an element or ion whose free form carries its complexes. Every
// dissolved species holds at most one of them, so that its free amount is an
// explicit function of the ligands; see the solver in newton.go.
type master int8

// The masters. mNone marks species of a ligand alone.
const (
	mCa master = iota
	mMg
	mNa
	mK
	mFe2
	mFe3
	mMn
	mNH4
	mSi
	mHS
	mNO3
	nMasters
	mNone = nMasters
)

// ligand is an anion that forms ion pairs; ligands are the unknowns.
type ligand int8

// The ligands. lNone marks species without one.
const (
	lCO3 ligand = iota
	lSO4
	lCl
	lF
	lPO4
	nLigands
	lNone = nLigands
)

// charge, and alkalinity in equivalents a mole, of free masters and ligands. The
// zero of alkalinity is at the end of a titration near pH 4.5: CO2, H2PO4-, H2S,
// NH4+, H4SiO4, Fe(OH)2+ count nothing.
var (
	masterZ   = [nMasters + 1]int{mCa: 2, mMg: 2, mNa: 1, mK: 1, mFe2: 2, mFe3: 3, mMn: 2, mNH4: 1, mHS: -1, mNO3: -1}
	masterAlk = [nMasters + 1]int{mFe3: -2, mHS: 1}
	ligandZ   = [nLigands + 1]int{-2, -2, -1, -1, -3, 0}
	ligandAlk = [nLigands + 1]int{lCO3: 2, lPO4: 2}
)

// Species is a dissolved species.
type Species int

// The dissolved species.
const (
	CalciumIon Species = iota
	MagnesiumIon
	SodiumIon
	PotassiumIon
	FerrousIon
	FerricIon
	ManganousIon
	AmmoniumIon
	SilicicAcid
	BisulfideIon
	NitrateIon
	CarbonateIon
	SulfateIon
	ChlorideIon
	FluorideIon
	PhosphateIon
	HydrogenIon // activity 10^-pH
	HydroxideIon
	firstComplex
)

// The complexes, named by what they are made of.
const (
	BicarbonateIon Species = firstComplex + iota
	CarbonDioxide
	HSO4
	HF
	HPO4
	H2PO4
	H3PO4
	H2S
	NH3
	H3SiO4
	CaOH
	CaCO3
	CaHCO3
	CaSO4
	CaF
	CaHPO4
	CaPO4
	CaH2PO4
	MgOH
	MgCO3
	MgHCO3
	MgSO4
	MgF
	MgHPO4
	MgPO4
	MgH2PO4
	NaCO3
	NaHCO3
	NaSO4
	NaHPO4
	KSO4
	FeOH
	FeOH2
	FeOH3
	FeCO3
	FeHCO3
	FeSO4
	FeCl
	FeF
	FeHPO4
	FeH2PO4
	FerricOH
	FerricOH2
	FerricOH3
	FerricOH4
	FerricSO4
	FerricCl
	FerricF
	FerricF2
	FerricHPO4
	MnOH
	MnCO3
	MnHCO3
	MnSO4
	MnCl
	MnF
	NH4SO4
	nSpecies
)

const nComplexes = int(nSpecies - firstComplex)

// complexRow builds one complex: master + nl ligands + nh protons (hydroxide
// counts as minus one). base is the constant of the protonated ligand when k is
// written for that.
type complexRow struct {
	name    string
	m       master
	l       ligand
	nl, nh  int
	k, base constant
}

var complexRows = [nComplexes]complexRow{
	BicarbonateIon - firstComplex: {"HCO3-", mNone, lCO3, 1, 1, kHCO3, kNone},
	CarbonDioxide - firstComplex:  {"CO2", mNone, lCO3, 1, 2, kCO2, kNone},
	HSO4 - firstComplex:           {"HSO4-", mNone, lSO4, 1, 1, kHSO4, kNone},
	HF - firstComplex:             {"HF", mNone, lF, 1, 1, kHF, kNone},
	HPO4 - firstComplex:           {"HPO4-2", mNone, lPO4, 1, 1, kHPO4, kNone},
	H2PO4 - firstComplex:          {"H2PO4-", mNone, lPO4, 1, 2, kH2PO4, kNone},
	H3PO4 - firstComplex:          {"H3PO4", mNone, lPO4, 1, 3, kH3PO4, kNone},
	H2S - firstComplex:            {"H2S", mHS, lNone, 0, 1, kH2S, kNone},
	NH3 - firstComplex:            {"NH3", mNH4, lNone, 0, -1, kNH3, kNone},
	H3SiO4 - firstComplex:         {"H3SiO4-", mSi, lNone, 0, -1, kH3SiO4, kNone},
	CaOH - firstComplex:           {"CaOH+", mCa, lNone, 0, -1, kCaOH, kNone},
	CaCO3 - firstComplex:          {"CaCO3", mCa, lCO3, 1, 0, kCaCO3, kNone},
	CaHCO3 - firstComplex:         {"CaHCO3+", mCa, lCO3, 1, 1, kCaHCO3, kHCO3},
	CaSO4 - firstComplex:          {"CaSO4", mCa, lSO4, 1, 0, kCaSO4, kNone},
	CaF - firstComplex:            {"CaF+", mCa, lF, 1, 0, kCaF, kNone},
	CaHPO4 - firstComplex:         {"CaHPO4", mCa, lPO4, 1, 1, kCaHPO4, kHPO4},
	CaPO4 - firstComplex:          {"CaPO4-", mCa, lPO4, 1, 0, kCaPO4, kNone},
	CaH2PO4 - firstComplex:        {"CaH2PO4+", mCa, lPO4, 1, 2, kCaH2PO4, kH2PO4},
	MgOH - firstComplex:           {"MgOH+", mMg, lNone, 0, -1, kMgOH, kNone},
	MgCO3 - firstComplex:          {"MgCO3", mMg, lCO3, 1, 0, kMgCO3, kNone},
	MgHCO3 - firstComplex:         {"MgHCO3+", mMg, lCO3, 1, 1, kMgHCO3, kHCO3},
	MgSO4 - firstComplex:          {"MgSO4", mMg, lSO4, 1, 0, kMgSO4, kNone},
	MgF - firstComplex:            {"MgF+", mMg, lF, 1, 0, kMgF, kNone},
	MgHPO4 - firstComplex:         {"MgHPO4", mMg, lPO4, 1, 1, kMgHPO4, kHPO4},
	MgPO4 - firstComplex:          {"MgPO4-", mMg, lPO4, 1, 0, kMgPO4, kNone},
	MgH2PO4 - firstComplex:        {"MgH2PO4+", mMg, lPO4, 1, 2, kMgH2PO4, kH2PO4},
	NaCO3 - firstComplex:          {"NaCO3-", mNa, lCO3, 1, 0, kNaCO3, kNone},
	NaHCO3 - firstComplex:         {"NaHCO3", mNa, lCO3, 1, 1, kNaHCO3, kHCO3},
	NaSO4 - firstComplex:          {"NaSO4-", mNa, lSO4, 1, 0, kNaSO4, kNone},
	NaHPO4 - firstComplex:         {"NaHPO4-", mNa, lPO4, 1, 1, kNaHPO4, kHPO4},
	KSO4 - firstComplex:           {"KSO4-", mK, lSO4, 1, 0, kKSO4, kNone},
	FeOH - firstComplex:           {"FeOH+", mFe2, lNone, 0, -1, kFeOH, kNone},
	FeOH2 - firstComplex:          {"Fe(OH)2", mFe2, lNone, 0, -2, kFeOH2, kNone},
	FeOH3 - firstComplex:          {"Fe(OH)3-", mFe2, lNone, 0, -3, kFeOH3, kNone},
	FeCO3 - firstComplex:          {"FeCO3", mFe2, lCO3, 1, 0, kFeCO3, kNone},
	FeHCO3 - firstComplex:         {"FeHCO3+", mFe2, lCO3, 1, 1, kFeHCO3, kHCO3},
	FeSO4 - firstComplex:          {"FeSO4", mFe2, lSO4, 1, 0, kFeSO4, kNone},
	FeCl - firstComplex:           {"FeCl+", mFe2, lCl, 1, 0, kFeCl, kNone},
	FeF - firstComplex:            {"FeF+", mFe2, lF, 1, 0, kFeF, kNone},
	FeHPO4 - firstComplex:         {"FeHPO4", mFe2, lPO4, 1, 1, kFeHPO4, kHPO4},
	FeH2PO4 - firstComplex:        {"FeH2PO4+", mFe2, lPO4, 1, 2, kFeH2PO4, kH2PO4},
	FerricOH - firstComplex:       {"FeOH+2", mFe3, lNone, 0, -1, kFe3OH, kNone},
	FerricOH2 - firstComplex:      {"Fe(OH)2+", mFe3, lNone, 0, -2, kFe3OH2, kNone},
	FerricOH3 - firstComplex:      {"Fe(OH)3", mFe3, lNone, 0, -3, kFe3OH3, kNone},
	FerricOH4 - firstComplex:      {"Fe(OH)4-", mFe3, lNone, 0, -4, kFe3OH4, kNone},
	FerricSO4 - firstComplex:      {"FeSO4+", mFe3, lSO4, 1, 0, kFe3SO4, kNone},
	FerricCl - firstComplex:       {"FeCl+2", mFe3, lCl, 1, 0, kFe3Cl, kNone},
	FerricF - firstComplex:        {"FeF+2", mFe3, lF, 1, 0, kFe3F, kNone},
	FerricF2 - firstComplex:       {"FeF2+", mFe3, lF, 2, 0, kFe3F2, kNone},
	FerricHPO4 - firstComplex:     {"FeHPO4+", mFe3, lPO4, 1, 1, kFe3HPO4, kHPO4},
	MnOH - firstComplex:           {"MnOH+", mMn, lNone, 0, -1, kMnOH, kNone},
	MnCO3 - firstComplex:          {"MnCO3", mMn, lCO3, 1, 0, kMnCO3, kNone},
	MnHCO3 - firstComplex:         {"MnHCO3+", mMn, lCO3, 1, 1, kMnHCO3, kHCO3},
	MnSO4 - firstComplex:          {"MnSO4", mMn, lSO4, 1, 0, kMnSO4, kNone},
	MnCl - firstComplex:           {"MnCl+", mMn, lCl, 1, 0, kMnCl, kNone},
	MnF - firstComplex:            {"MnF+", mMn, lF, 1, 0, kMnF, kNone},
	NH4SO4 - firstComplex:         {"NH4SO4-", mNH4, lSO4, 1, 0, kNH4SO4, kNone},
}

// complexStep is what the solver needs of one complex, computed from its row.
type complexStep struct {
	m       master
	l       ligand
	nl, nh  int8
	z, alk  int8
	delta   int8 // sum of z² of the parts (protons left out) less z² of the whole
	neutral int8 // neutral parts less neutral whole: -1, 0 or 1
}

var complexSteps = stepsOf(complexRows)

func stepsOf(rows [nComplexes]complexRow) (out [nComplexes]complexStep) {
	for i, r := range rows {
		zm, zl := masterZ[r.m], ligandZ[r.l]
		z := zm + r.nl*zl + r.nh
		s := complexStep{m: r.m, l: r.l, nl: int8(r.nl), nh: int8(r.nh), z: int8(z)}
		s.alk = int8(masterAlk[r.m] + r.nl*ligandAlk[r.l] - r.nh)
		s.delta = int8(zm*zm + r.nl*zl*zl - z*z)
		if r.m == mSi {
			s.neutral++
		}
		if z == 0 {
			s.neutral--
		}
		out[i] = s
	}
	return out
}

var freeNames = [...]string{"Ca+2", "Mg+2", "Na+", "K+", "Fe+2", "Fe+3", "Mn+2", "NH4+", "H4SiO4", "HS-", "NO3-",
	"CO3-2", "SO4-2", "Cl-", "F-", "PO4-3", "H+", "OH-"}

// String returns the formula of the species.
func (s Species) String() string {
	if s < firstComplex {
		return freeNames[s]
	}
	return complexRows[s-firstComplex].name
}

// charge returns the charge number of the species.
func (s Species) charge() int {
	switch {
	case s < Species(nMasters):
		return masterZ[s]
	case s < HydrogenIon:
		return ligandZ[s-CarbonateIon]
	case s == HydrogenIon:
		return 1
	case s == HydroxideIon:
		return -1
	}
	return int(complexSteps[s-firstComplex].z)
}
