package chem

import (
	"math"

	"wellwright/source"
)

// law is a temperature law of an equilibrium constant:
//
//	log K = a + b T + c/T + d log T + e/T²,  T in K
type law struct{ a, b, c, d, e float64 }

// at returns log K at t kelvin.
func (l law) at(t float64) float64 { return l.with(powersOf(t)) }

// with returns log K from prepared powers of the temperature.
func (l law) with(p powers) float64 {
	return l.a + l.b*p.t + l.c*p.inv + l.d*p.log + l.e*p.inv2
}

// powers are the functions of temperature that every law uses.
type powers struct{ t, inv, log, inv2 float64 }

func powersOf(t float64) powers {
	inv := 1 / t
	return powers{t: t, inv: inv, log: math.Log10(t), inv2: inv * inv}
}

// vantHoff is the law of a constant known at 25 °C with its heat of reaction.
//
//	log K = log K25 - dH/(ln 10 · R) · (1/T - 1/298.15)
//
//	dH  heat of reaction, kcal/mol
func vantHoff(logK, dH float64) law {
	slope := dH * calorie / (ln10 * gasR)
	return law{a: logK + slope/refT, c: -slope}
}

// constant is one equilibrium constant.
type constant int

// The equilibrium constants. Solution constants come first; kNone has log K 0.
const (
	kNone constant = iota
	kW
	kHCO3
	kCO2
	kHSO4
	kHF
	kHPO4
	kH2PO4
	kH3PO4
	kH2S
	kNH3
	kH3SiO4
	kHOCl
	kCaOH
	kCaCO3
	kCaHCO3
	kCaSO4
	kCaF
	kCaHPO4
	kCaPO4
	kCaH2PO4
	kMgOH
	kMgCO3
	kMgHCO3
	kMgSO4
	kMgF
	kMgHPO4
	kMgPO4
	kMgH2PO4
	kNaCO3
	kNaHCO3
	kNaSO4
	kNaHPO4
	kKSO4
	kFeOH
	kFeOH2
	kFeOH3
	kFeCO3
	kFeHCO3
	kFeSO4
	kFeCl
	kFeF
	kFeHPO4
	kFeH2PO4
	kFe3OH
	kFe3OH2
	kFe3OH3
	kFe3OH4
	kFe3SO4
	kFe3Cl
	kFe3F
	kFe3F2
	kFe3HPO4
	kMnOH
	kMnCO3
	kMnHCO3
	kMnSO4
	kMnCl
	kMnF
	kNH4SO4
	kGasCO2
	kGasNH3
	kGasH2S
	kCalcite
	kAragonite
	kVaterite
	kSiderite
	kSideriteFresh
	kFerricAmorphous
	kFerrihydrite
	kLepidocrocite
	kGoethite
	kRhodochrosite
	kRhodochrositeFresh
	kPyrochroite
	kMackinawite
	kFeSFresh
	kVivianite
	kStrengite
	kGypsum
	kFluorite
	kSilica
	kIronCouple
	kArsenite
	kArsenate1
	kArsenate2
	kArsenate3
	kOxygenCouple
	nConstants
)

// row describes one constant: its law and where that comes from.
type row struct {
	name string // factor name is log_k_ and this
	what string
	law  law
	from string
}

const (
	wateq     = "Ball & Nordstrom 1991, USGS OFR 91-183 (WATEQ4F data)"
	plummer   = "Plummer & Busenberg 1982, Geochim. Cosmochim. Acta 46:1011"
	usgsPhr   = "Parkhurst & Appelo, USGS phreeqc.dat"
	nordstrom = "Nordstrom & Archer 2003, as in the WATEQ4F data of USGS (from memory)"
	minteq    = "USEPA/NIST data, USGS copy of minteq.v4.dat"
)

// logKw is the ion product of water; used for hydroxide and inside other laws.
var logKw = law{-283.971, -0.05069842, 13323, 102.24447, -1119669}

var rows = [nConstants]row{
	kNone:    {what: "none"},
	kW:       {"water", "H2O = OH- + H+", logKw, wateq},
	kHCO3:    {"hco3", "CO3-2 + H+ = HCO3-", law{107.8871, 0.03252849, -5151.79, -38.92561, 563713.9}, plummer},
	kCO2:     {"co2", "CO3-2 + 2 H+ = CO2 + H2O", law{464.1965, 0.09344813, -26986.16, -165.75951, 2248628.9}, plummer},
	kHSO4:    {"hso4", "SO4-2 + H+ = HSO4-", law{-56.889, 0.006473, 2307.9, 19.8858, 0}, wateq},
	kHF:      {"hf", "F- + H+ = HF", law{-2.033, 0.012645, 429.01, 0, 0}, wateq},
	kHPO4:    {"hpo4", "PO4-3 + H+ = HPO4-2", vantHoff(12.346, -3.53), wateq},
	kH2PO4:   {"h2po4", "PO4-3 + 2 H+ = H2PO4-", vantHoff(19.553, -4.52), wateq},
	kH3PO4:   {"h3po4", "PO4-3 + 3 H+ = H3PO4", vantHoff(21.721, -10.1*1000/calorie), "NIST 46.3, " + usgsPhr},
	kH2S:     {"h2s", "HS- + H+ = H2S", law{-11.17, 0.02386, 3279, 0, 0}, usgsPhr},
	kNH3:     {"nh3", "NH4+ = NH3 + H+", law{0.6322, -0.001225, -2835.76, 0, 0}, wateq},
	kH3SiO4:  {"h3sio4", "H4SiO4 = H3SiO4- + H+", law{-302.3724, -0.050698, 15669.69, 108.18466, -1119669}, wateq},
	kHOCl:    {"hocl", "HOCl = OCl- + H+", law{10.0686, -0.0253, -3000, 0, 0}, "Morris 1966, J. Phys. Chem. 70:3798 (from memory)"},
	kCaOH:    {"caoh", "Ca+2 + H2O = CaOH+ + H+", vantHoff(-12.78, 0), wateq},
	kCaCO3:   {"caco3", "Ca+2 + CO3-2 = CaCO3(aq)", law{-1228.732, -0.299444, 35512.75, 485.818, 0}, plummer},
	kCaHCO3:  {"cahco3", "Ca+2 + HCO3- = CaHCO3+", law{1209.12, 0.31294, -34765.05, -478.782, 0}, plummer},
	kCaSO4:   {"caso4", "Ca+2 + SO4-2 = CaSO4(aq)", vantHoff(2.30, 1.65), wateq},
	kCaF:     {"caf", "Ca+2 + F- = CaF+", vantHoff(0.94, 4.12), wateq},
	kCaHPO4:  {"cahpo4", "Ca+2 + HPO4-2 = CaHPO4(aq)", vantHoff(2.739, 3.3), wateq},
	kCaPO4:   {"capo4", "Ca+2 + PO4-3 = CaPO4-", vantHoff(6.459, 3.1), wateq},
	kCaH2PO4: {"cah2po4", "Ca+2 + H2PO4- = CaH2PO4+", vantHoff(1.408, 3.4), wateq},
	kMgOH:    {"mgoh", "Mg+2 + H2O = MgOH+ + H+", vantHoff(-11.44, 15.952), wateq},
	kMgCO3:   {"mgco3", "Mg+2 + CO3-2 = MgCO3(aq)", law{0.991, 0.00667, 0, 0, 0}, wateq},
	kMgHCO3:  {"mghco3", "Mg+2 + HCO3- = MgHCO3+", law{-59.215, 0, 2537.455, 20.92298, 0}, wateq},
	kMgSO4:   {"mgso4", "Mg+2 + SO4-2 = MgSO4(aq)", vantHoff(2.37, 4.55), wateq},
	kMgF:     {"mgf", "Mg+2 + F- = MgF+", vantHoff(1.82, 3.2), wateq},
	kMgHPO4:  {"mghpo4", "Mg+2 + HPO4-2 = MgHPO4(aq)", vantHoff(2.87, 3.3), wateq},
	kMgPO4:   {"mgpo4", "Mg+2 + PO4-3 = MgPO4-", vantHoff(6.589, 3.1), wateq},
	kMgH2PO4: {"mgh2po4", "Mg+2 + H2PO4- = MgH2PO4+", vantHoff(1.513, 3.4), wateq},
	kNaCO3:   {"naco3", "Na+ + CO3-2 = NaCO3-", vantHoff(1.27, 8.91), wateq},
	kNaHCO3:  {"nahco3", "Na+ + HCO3- = NaHCO3(aq)", vantHoff(-0.25, 0), wateq},
	kNaSO4:   {"naso4", "Na+ + SO4-2 = NaSO4-", vantHoff(0.70, 1.12), wateq},
	kNaHPO4:  {"nahpo4", "Na+ + HPO4-2 = NaHPO4-", vantHoff(0.29, 0), wateq},
	kKSO4:    {"kso4", "K+ + SO4-2 = KSO4-", law{3.106, 0, -673.6, 0, 0}, wateq},
	kFeOH:    {"feoh", "Fe+2 + H2O = FeOH+ + H+", vantHoff(-9.5, 13.2), wateq},
	kFeOH2:   {"feoh2", "Fe+2 + 2 H2O = Fe(OH)2(aq) + 2 H+", vantHoff(-20.57, 28.565), wateq},
	kFeOH3:   {"feoh3", "Fe+2 + 3 H2O = Fe(OH)3- + 3 H+", vantHoff(-31.0, 30.3), wateq},
	kFeCO3:   {"feco3", "Fe+2 + CO3-2 = FeCO3(aq)", vantHoff(4.38, 0), wateq},
	kFeHCO3:  {"fehco3", "Fe+2 + HCO3- = FeHCO3+", vantHoff(2.00, 0), wateq},
	kFeSO4:   {"feso4", "Fe+2 + SO4-2 = FeSO4(aq)", vantHoff(2.25, 3.23), wateq},
	kFeCl:    {"fecl", "Fe+2 + Cl- = FeCl+", vantHoff(0.14, 0), wateq},
	kFeF:     {"fef", "Fe+2 + F- = FeF+", vantHoff(1.0, 0), wateq},
	kFeHPO4:  {"fehpo4", "Fe+2 + HPO4-2 = FeHPO4(aq)", vantHoff(3.6, 0), wateq},
	kFeH2PO4: {"feh2po4", "Fe+2 + H2PO4- = FeH2PO4+", vantHoff(2.7, 0), wateq},
	kFe3OH:   {"fe3oh", "Fe+3 + H2O = FeOH+2 + H+", vantHoff(-2.19, 10.4), wateq},
	kFe3OH2:  {"fe3oh2", "Fe+3 + 2 H2O = Fe(OH)2+ + 2 H+", vantHoff(-5.67, 17.1), wateq},
	kFe3OH3:  {"fe3oh3", "Fe+3 + 3 H2O = Fe(OH)3(aq) + 3 H+", vantHoff(-12.56, 24.8), wateq},
	kFe3OH4:  {"fe3oh4", "Fe+3 + 4 H2O = Fe(OH)4- + 4 H+", vantHoff(-21.6, 31.9), wateq},
	kFe3SO4:  {"fe3so4", "Fe+3 + SO4-2 = FeSO4+", vantHoff(4.04, 3.91), wateq},
	kFe3Cl:   {"fe3cl", "Fe+3 + Cl- = FeCl+2", vantHoff(1.48, 5.6), wateq},
	kFe3F:    {"fe3f", "Fe+3 + F- = FeF+2", vantHoff(6.2, 2.7), wateq},
	kFe3F2:   {"fe3f2", "Fe+3 + 2 F- = FeF2+", vantHoff(10.8, 4.8), wateq},
	kFe3HPO4: {"fe3hpo4", "Fe+3 + HPO4-2 = FeHPO4+", vantHoff(5.43, 5.76), wateq},
	kMnOH:    {"mnoh", "Mn+2 + H2O = MnOH+ + H+", vantHoff(-10.59, 14.4), wateq},
	kMnCO3:   {"mnco3", "Mn+2 + CO3-2 = MnCO3(aq)", vantHoff(4.90, 0), wateq},
	kMnHCO3:  {"mnhco3", "Mn+2 + HCO3- = MnHCO3+", vantHoff(1.95, 0), wateq},
	kMnSO4:   {"mnso4", "Mn+2 + SO4-2 = MnSO4(aq)", vantHoff(2.25, 3.37), wateq},
	kMnCl:    {"mncl", "Mn+2 + Cl- = MnCl+", vantHoff(0.61, 0), wateq},
	kMnF:     {"mnf", "Mn+2 + F- = MnF+", vantHoff(0.84, 0), wateq},
	kNH4SO4:  {"nh4so4", "NH4+ + SO4-2 = NH4SO4-", vantHoff(1.11, 0), wateq},
	kGasCO2:  {"gas_co2", "CO2(g) = CO2(aq), mol/L/atm", law{108.3865, 0.01985076, -6919.53, -40.45154, 669365}, plummer},
	kGasNH3:  {"gas_nh3", "NH3(g) = NH3(aq), mol/L/atm", law{-18.758, 3.367e-4, 2511.3, 4.8619, 39.192}, usgsPhr},
	kGasH2S:  {"gas_h2s", "H2S(g) = HS- + H+", law{-45.07, -0.02418, 0, 17.9205, 0}, "Jiang et al. 2020 fit, " + usgsPhr},

	kCalcite:            {"calcite", "CaCO3 = Ca+2 + CO3-2", law{-171.9065, -0.077993, 2839.319, 71.595, 0}, plummer},
	kAragonite:          {"aragonite", "CaCO3 = Ca+2 + CO3-2", law{-171.9773, -0.077993, 2903.293, 71.595, 0}, plummer},
	kVaterite:           {"vaterite", "CaCO3 = Ca+2 + CO3-2", law{-172.1295, -0.077993, 3074.688, 71.595, 0}, plummer + " (from memory)"},
	kSiderite:           {"siderite", "FeCO3 crystalline = Fe+2 + CO3-2", vantHoff(-10.89, -2.48), wateq},
	kSideriteFresh:      {"siderite_fresh", "FeCO3 fresh = Fe+2 + CO3-2 (heat as crystalline)", vantHoff(-10.45, -2.48), wateq},
	kFerricAmorphous:    {"ferric_amorphous", "Fe(OH)3 + 3 H+ = Fe+3 + 3 H2O", vantHoff(4.891, 0), wateq},
	kFerrihydrite:       {"ferrihydrite", "Fe(OH)3 aged + 3 H+ = Fe+3 + 3 H2O", vantHoff(3.191, -73.374*1000/calorie), minteq},
	kLepidocrocite:      {"lepidocrocite", "FeOOH + 3 H+ = Fe+3 + 2 H2O", vantHoff(1.371, 0), minteq},
	kGoethite:           {"goethite", "FeOOH + 3 H+ = Fe+3 + 2 H2O", vantHoff(-1.0, -14.48), wateq},
	kRhodochrosite:      {"rhodochrosite", "MnCO3 crystalline = Mn+2 + CO3-2", vantHoff(-11.13, -1.43), wateq},
	kRhodochrositeFresh: {"rhodochrosite_fresh", "MnCO3 fresh = Mn+2 + CO3-2 (heat as crystalline)", vantHoff(-10.39, -1.43), wateq},
	kPyrochroite:        {"pyrochroite", "Mn(OH)2 + 2 H+ = Mn+2 + 2 H2O", vantHoff(15.2, 0), wateq},
	kMackinawite:        {"mackinawite", "FeS + H+ = Fe+2 + HS-", vantHoff(-4.648, 0), wateq},
	kFeSFresh:           {"fes_fresh", "FeS fresh + H+ = Fe+2 + HS-", vantHoff(-3.915, 0), wateq},
	kVivianite:          {"vivianite", "Fe3(PO4)2:8H2O = 3 Fe+2 + 2 PO4-3 + 8 H2O", vantHoff(-36.0, 0), wateq},
	kStrengite:          {"strengite", "FePO4:2H2O = Fe+3 + PO4-3 + 2 H2O", vantHoff(-26.4, -2.03), wateq},
	kGypsum:             {"gypsum", "CaSO4:2H2O = Ca+2 + SO4-2 + 2 H2O", law{68.2401, 0, -3221.51, -25.0627, 0}, wateq + " (from memory)"},
	kFluorite:           {"fluorite", "CaF2 = Ca+2 + 2 F-", law{66.348, 0, -4298.2, -25.271, 0}, wateq + " (from memory)"},
	kSilica:             {"silica_amorphous", "SiO2 + 2 H2O = H4SiO4", law{-0.26, 0, -731, 0, 0}, wateq + " (from memory)"},
	kArsenite:           {"arsenite", "H3AsO3 = H2AsO3- + H+", vantHoff(-9.15, 6.582), nordstrom},
	kArsenate1:          {"arsenate_1", "H3AsO4 = H2AsO4- + H+", vantHoff(-2.3, -1.689), nordstrom},
	kArsenate2:          {"arsenate_2", "H3AsO4 = HAsO4-2 + 2 H+", vantHoff(-9.46, -0.919), nordstrom},
	kArsenate3:          {"arsenate_3", "H3AsO4 = AsO4-3 + 3 H+", vantHoff(-21.11, 3.431), nordstrom},
	kIronCouple:         {"iron_couple", "Fe+2 = Fe+3 + e-", vantHoff(-13.02, 9.68), wateq},
	kOxygenCouple:       {"oxygen_couple", "2 H2O = O2(aq) + 4 H+ + 4 e-", vantHoff(-86.08, 134.79), wateq},
}

// factorOf returns the register entry of a constant: log K at 25 °C.
func factorOf(k constant) source.Factor {
	r := rows[k]
	return source.Factor{
		Name: "log_k_" + r.name, What: "log K at 25 °C of " + r.what,
		Value: r.law.at(refT), Kind: kindOf(r.from), From: r.from,
	}
}

// kindOf reads the kind off a citation: what was not seen says so.
func kindOf(from string) source.Kind {
	const mark = "(from memory)"
	if len(from) >= len(mark) && from[len(from)-len(mark):] == mark {
		return source.FromMemory
	}
	return source.Published
}
