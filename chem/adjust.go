package chem

import (
	"errors"
	"fmt"
	"math"

	"wellwright/unit"
)

// Chemical is what moves pH when it is added.
type Chemical int

// The chemicals, each as the pure substance.
const (
	SodaAsh          Chemical = iota // Na2CO3
	Caustic                          // NaOH
	CalciteGrain                     // CaCO3
	Magnesia                         // MgO
	HydrochloricAcid                 // HCl
	SulfuricAcid                     // H2SO4
	CarbonicGas                      // CO2
	nChemicals
)

// adding is what one mole of a chemical brings.
type adding struct {
	name                       string
	mass                       float64 // g/mol
	eq, carbon                 float64 // equivalents of alkalinity, moles of carbon
	calcium, magnesium, sodium float64 // moles
	chloride, sulfate          float64 // moles
}

var addings = [nChemicals]adding{
	SodaAsh:          {name: "soda ash", mass: molNa2CO, eq: 2, carbon: 1, sodium: 2},
	Caustic:          {name: "caustic soda", mass: molNaOH, eq: 1, sodium: 1},
	CalciteGrain:     {name: "calcite", mass: molCaCO3, eq: 2, carbon: 1, calcium: 1},
	Magnesia:         {name: "magnesia", mass: molMgO, eq: 2, magnesium: 1},
	HydrochloricAcid: {name: "hydrochloric acid", mass: molHCl, eq: -1, chloride: 1},
	SulfuricAcid:     {name: "sulfuric acid", mass: molH2SO4, eq: -2, sulfate: 1},
	CarbonicGas:      {name: "carbon dioxide", mass: molCO2, carbon: 1},
}

// String returns the name of the chemical.
func (c Chemical) String() string { return addings[c].name }

// ErrUnreachable says that no dose brings the water to the pH wanted.
var ErrUnreachable = errors.New("pH cannot be reached")

// AlkalinityOf returns the alkalinity that a dose of a chemical brings, below
// zero for an acid.
//
// Source: derived from atomic weights.
func AlkalinityOf(c Chemical, dose unit.Concentration) unit.Alkalinity {
	a := addings[c]
	return unit.AlkalinityMeq(dose.MgPerL() * a.eq / a.mass)
}

// Add returns the water after a dose of a chemical, closed to the air; a dose
// below zero is taken out, as carbon dioxide is by air. What the water does not
// hold cannot be taken out: the amount stops at none.
//
// Source: as [Model.AtCarbon]; the dose dissolves whole.
func (s State) Add(c Chemical, dose unit.Concentration) (State, error) {
	return s.addMoles(addings[c], dose.MgPerL()/(addings[c].mass*mgPerG))
}

// OpenTo returns the water once it stands in balance with a gas that holds carbon
// dioxide, as in an open tank: the state after an addition, opened to the air.
//
// Source: as [Model.AtCO2].
func (s State) OpenTo(gas PartialPressure) (State, error) {
	return s.model.AtCO2(s.totals, alkOf(s.alk), gas)
}

func (s State) addMoles(a adding, mol float64) (State, error) {
	t := s.totals
	grow := func(q *unit.Concentration, n, mass float64) {
		*q = unit.MgPerL(max(0, q.MgPerL()+n*mol*mass*mgPerG))
	}
	grow(&t.Calcium, a.calcium, molCa)
	grow(&t.Magnesium, a.magnesium, molMg)
	grow(&t.Sodium, a.sodium, molNa)
	grow(&t.Chloride, a.chloride, molCl)
	grow(&t.Sulfate, a.sulfate, molSO4)
	carbon := TotalCarbon{max(0, s.Carbon().molL+a.carbon*mol)}
	return s.model.AtCarbon(t, alkOf(s.alk+a.eq*mol), carbon)
}

// Adjusted is a dose and the water it leads to.
type Adjusted struct {
	Dose  unit.Concentration
	State State
}

// RaiseTo returns the dose of a base that brings the water to a pH, closed to
// the air. The error wraps [ErrUnreachable] where calcite dissolves no further
// than its ceiling, or any dose stays short; a pH below the water's own is a
// fault of the question.
//
// Method: false position. Range and source as [Model.AtCarbon].
func (s State) RaiseTo(c Chemical, target unit.PH) (Adjusted, error) {
	if target.Value() <= s.PH().Value() {
		return Adjusted{State: s}, fmt.Errorf("%s: pH %.2f wanted is not above the pH %.2f of the water", c, target.Value(), s.PH().Value())
	}
	if c == CalciteGrain {
		if err := s.belowCeiling(target); err != nil {
			return Adjusted{}, err
		}
	}
	return s.bringTo(c, target, 1)
}

// LowerTo is RaiseTo for an acid or carbon dioxide and a pH below the water's own.
func (s State) LowerTo(c Chemical, target unit.PH) (Adjusted, error) {
	if target.Value() >= s.PH().Value() {
		return Adjusted{State: s}, fmt.Errorf("%s: pH %.2f wanted is not below the pH %.2f of the water", c, target.Value(), s.PH().Value())
	}
	return s.bringTo(c, target, -1)
}

// belowCeiling asks that calcite can bring the water to a pH.
func (s State) belowCeiling(target unit.PH) error {
	top, err := s.CalciteBalance()
	if err == nil && (top.State.PH().Value() < target.Value() || top.Precipitates.MgPerL() > 0) {
		err = fmt.Errorf("calcite: pH %.2f wanted lies above the ceiling, pH %.2f: %w", target.Value(), top.State.PH().Value(), ErrUnreachable)
	}
	return err
}

// bringTo finds the dose that moves pH up (sign 1) or down (sign -1) to a target.
func (s State) bringTo(c Chemical, target unit.PH, sign float64) (Adjusted, error) {
	a := addings[c]
	miss := func(mol float64) (float64, State, error) {
		x, err := s.addMoles(a, mol)
		if err != nil {
			return 0, x, err
		}
		return sign * (x.PH().Value() - target.Value()), x, nil
	}
	high := 1e-5
	for {
		f, _, err := miss(high)
		if err != nil {
			return Adjusted{}, err
		}
		if f >= 0 {
			break
		}
		if high *= 3; high > mostDose {
			return Adjusted{}, fmt.Errorf("%s: pH %.2f is not reached below %.0f mg/L: %w", c, target.Value(), mostDose*a.mass*mgPerG, ErrUnreachable)
		}
	}
	mol, x, err := findRoot(miss, 0, high)
	return Adjusted{unit.MgPerL(mol * a.mass * mgPerG), x}, err
}

// mostDose is the largest dose tried, mol/L.
const mostDose = 0.05

// CalciteBalance is a water brought to balance with calcite, closed to the air.
// Precipitates is the calcium carbonate precipitation potential: above zero
// comes down, below zero dissolves; mg/L as CaCO3.
type CalciteBalance struct {
	Precipitates unit.Concentration
	State        State
}

// CalciteBalance returns the calcium carbonate that precipitates (above zero) or
// dissolves (below zero) until the water is in balance with calcite, and the
// water then: the ceiling of a calcite bed. The error says when there is no
// balance to find.
//
//	find x: SI( Ca - x, Alk - 2x, carbon - x ) = 0
//
// Range and source as [Model.AtCarbon]. Error: a pH reading wrong by 0.1 moves
// it by several mg/L in waters rich in carbon dioxide.
func (s State) CalciteBalance() (CalciteBalance, error) {
	a := addings[CalciteGrain]
	miss := func(mol float64) (float64, State, error) {
		x, err := s.addMoles(a, mol)
		if err != nil {
			return 0, x, err
		}
		si, ok := x.SI(Calcite)
		if !ok {
			si = -20
		}
		return si, x, nil
	}
	low, high, err := s.calciteBracket(miss)
	if err != nil {
		return CalciteBalance{}, err
	}
	mol, x, err := findRoot(miss, low, high)
	return CalciteBalance{unit.MgPerL(-mol * molCaCO3 * mgPerG), x}, err
}

// calciteBracket finds doses of calcite on both sides of balance, mol/L.
func (s State) calciteBracket(miss func(float64) (float64, State, error)) (low, high float64, err error) {
	si, _, err := miss(0)
	if err != nil {
		return 0, 0, err
	}
	if si < 0 {
		for high = 1e-5; high < mostDose; low, high = high, high*3 {
			if f, _, err := miss(high); err != nil || f >= 0 {
				return low, high, err
			}
		}
		return 0, 0, fmt.Errorf("calcite: no balance below %g mol/L: %w", mostDose, ErrUnreachable)
	}
	calcium := s.totals.Calcium.MgPerL() / (molCa * mgPerG)
	most := min(calcium, s.Carbon().molL) * (1 - 1e-9)
	return -most, 0, nil
}

// findRoot finds the zero of a rising function between low, where it is below
// zero, and high, and returns the state there. It is the false position with the
// value at an end that stays put halved each time (Illinois rule).
func findRoot(f func(float64) (float64, State, error), low, high float64) (float64, State, error) {
	fl, s, err := f(low)
	if err != nil {
		return low, s, err
	}
	fh, s, err := f(high)
	if err != nil || fh == 0 {
		return high, s, err
	}
	x := low
	for side := 0; high-low > 1e-13; {
		x = (low*fh - high*fl) / (fh - fl)
		if !(x > low && x < high) {
			x = (low + high) / 2
		}
		var fx float64
		if fx, s, err = f(x); err != nil || math.Abs(fx) < 1e-9 {
			return x, s, err
		}
		if fx < 0 {
			if low, fl = x, fx; side < 0 {
				fh /= 2
			}
			side = -1
		} else {
			if high, fh = x, fx; side > 0 {
				fl /= 2
			}
			side = 1
		}
	}
	return x, s, nil
}
