package chem

import (
	"fmt"
	"math"

	"wellwright/unit"
)

// PartialPressure is the pressure of one gas in a mixture.
type PartialPressure struct{ atm float64 }

// Atm makes a partial pressure from atmospheres.
func Atm(v float64) PartialPressure { return PartialPressure{v} }

// Atm returns atmospheres.
func (p PartialPressure) Atm() float64 { return p.atm }

// State is a water at equilibrium in solution: every dissolved species.
type State struct {
	model  *Model
	totals Totals
	kelvin float64
	alk    float64 // eq/L
	found  amountsFound
}

// AtPH speciates a water of known pH and alkalinity; total carbon follows.
//
// Alkalinity is what a titration to about pH 4.5 finds: bicarbonate, carbonate,
// hydroxide, their ion pairs and hydroxide complexes, less acid; and with them
// bisulfide, ammonia, silicate and phosphate so far as they take up acid.
//
// Method: Newton on logarithms of free ligands and ionic strength, free metals
// eliminated, to a scaled residual of 1e-11. Range: 0 to 90 °C, ionic strength
// below 0.5 mol/L. Source: WATEQ4F constants (Ball & Nordstrom 1991) with
// Plummer & Busenberg 1982; Davies activity coefficients.
func (m *Model) AtPH(t Totals, ph unit.PH, alk unit.Alkalinity) (State, error) {
	p := problem{closing: pHAndAlkalinity, amounts: amountsOf(&t), alk: eqPerL(alk)}
	if v := ph.Value(); !(v >= 2 && v <= 12.5) {
		return State{}, &RangeError{"speciation", "pH", v, "", 2, 12.5}
	}
	if p.alk <= 0 {
		return State{}, fmt.Errorf("speciation: alkalinity %g mg/L as CaCO3 at a given pH leaves carbonate unknown; want above zero", alk.MgPerLAsCaCO3())
	}
	s, err := m.speciate(&t, &p, activityOf(ph))
	if err != nil {
		return State{}, fmt.Errorf("%w (pH %g, alkalinity %g mg/L as CaCO3)", err, ph.Value(), alk.MgPerLAsCaCO3())
	}
	return s, nil
}

// AtCarbon speciates a water of known alkalinity and total carbon, such as one
// that changed closed to the air; pH follows. Method and range as [Model.AtPH].
func (m *Model) AtCarbon(t Totals, alk unit.Alkalinity, c TotalCarbon) (State, error) {
	p := problem{closing: alkalinityAndCarbon, amounts: amountsOf(&t), alk: eqPerL(alk)}
	if !(c.molL >= 0) {
		return State{}, fmt.Errorf("speciation: total carbon %g mol/L is not an amount; want zero or more", c.molL)
	}
	p.amounts.ligand[lCO3] = c.molL
	quick := m.Carbonate(t.Temperature, IonicFromSums(t, alk))
	return m.speciate(&t, &p, quick.solve(p.alk, c.molL))
}

// AtCO2 speciates a water of known alkalinity in balance with a gas; pH and
// total carbon follow. Method and range as [Model.AtPH].
func (m *Model) AtCO2(t Totals, alk unit.Alkalinity, gas PartialPressure) (State, error) {
	p := problem{closing: alkalinityAndCO2, amounts: amountsOf(&t), alk: eqPerL(alk)}
	if !(gas.atm > 0) {
		return State{}, fmt.Errorf("speciation: carbon dioxide pressure %g atm; want above zero", gas.atm)
	}
	p.freeCO2 = gas.atm * math.Exp(ln10*m.logK(kGasCO2, powersOf(t.Temperature.Kelvin())))
	quick := m.Carbonate(t.Temperature, IonicFromSums(t, alk))
	ph, _ := quick.WithCO2(alk, unit.MgPerL(p.freeCO2*molCO2*mgPerG))
	return m.speciate(&t, &p, activityOf(ph))
}

// speciate solves p starting from an activity of H+.
func (m *Model) speciate(t *Totals, p *problem, h float64) (State, error) {
	if err := t.check(&p.amounts); err != nil {
		return State{}, err
	}
	s := State{model: m, totals: *t, kelvin: t.Temperature.Kelvin(), alk: p.alk}
	p.prepare(m, s.kelvin)
	y := p.start(m, t, h)
	if !p.newton(&y, &s.found) {
		return State{}, fmt.Errorf("speciation: no carbonate amount fits the alkalinity beside the other weak acids and bases")
	}
	return s, nil
}

// start guesses the unknowns: half of sulfate and phosphate's dominant form
// free, carbonate from the quick system.
func (p *problem) start(m *Model, t *Totals, h float64) (y vector) {
	ionic := IonicFromSums(*t, alkOf(p.alk))
	if ionic.molL < 1e-7 {
		ionic.molL = 1e-7
	}
	c := m.Carbonate(t.Temperature, ionic)
	carbon := p.amounts.ligand[lCO3]
	if p.closing != alkalinityAndCarbon {
		carbon = max((p.alk-c.water(h))/c.perCarbon(h), 1e-9)
	}
	y[colI], y[colH] = ionic.molL, math.Log(h)
	for j := range nLigands {
		total := p.amounts.ligand[j]
		switch j {
		case lCO3:
			total = carbon * c.k1 * c.k2 / (h*h + c.k1*h + c.k1*c.k2)
		case lPO4:
			at := func(s Species, n int) float64 { return p.k[s-firstComplex] * math.Pow(h, float64(n)) }
			total /= 1 + at(HPO4, 1) + at(H2PO4, 2) + at(H3PO4, 3)
		}
		if p.activeLigands[j] {
			y[j] = math.Log(total)
		}
	}
	return y
}

// Totals returns the totals the state was computed from.
func (s State) Totals() Totals { return s.totals }

// PH returns the pH.
func (s State) PH() unit.PH { return phOfActivity(s.found.activity) }

// Ionic returns the ionic strength.
func (s State) Ionic() IonicStrength { return IonicStrength{s.found.ionic} }

// Alkalinity returns the alkalinity.
func (s State) Alkalinity() unit.Alkalinity { return alkOf(s.alk) }

// CO2 returns dissolved carbon dioxide, mg/L as CO2.
func (s State) CO2() unit.Concentration {
	return unit.MgPerL(s.found.complex[CarbonDioxide-firstComplex] * molCO2 * mgPerG)
}

// Carbon returns total carbon, ion pairs included.
func (s State) Carbon() TotalCarbon {
	sum := s.found.ligand[lCO3]
	for i, step := range complexSteps {
		if step.l == lCO3 {
			sum += s.found.complex[i]
		}
	}
	return TotalCarbon{sum}
}

// PCO2 returns the pressure of carbon dioxide in balance with the water.
func (s State) PCO2() PartialPressure {
	a := math.Exp(s.logActivity(CarbonDioxide) * ln10)
	return PartialPressure{a / math.Exp(ln10*s.model.logK(kGasCO2, powersOf(s.kelvin)))}
}

// Molarity is an amount of a dissolved species.
type Molarity struct{ molL float64 }

// MolPerL returns moles a litre.
func (q Molarity) MolPerL() float64 { return q.molL }

// Molarity returns the amount of one species; zero if the water holds none.
func (s State) Molarity(sp Species) Molarity { return Molarity{s.amount(sp)} }

func (s *State) amount(sp Species) float64 {
	switch {
	case sp < Species(nMasters):
		return s.found.master[sp]
	case sp < HydrogenIon:
		return s.found.ligand[sp-CarbonateIon]
	case sp == HydrogenIon:
		return s.found.h
	case sp == HydroxideIon:
		return s.found.oh
	}
	return s.found.complex[sp-firstComplex]
}

// LogActivity returns log10 of the activity of one species, and whether the
// water holds any.
func (s State) LogActivity(sp Species) (float64, bool) {
	if s.amount(sp) <= 0 {
		return 0, false
	}
	return s.logActivity(sp), true
}

func (s *State) logActivity(sp Species) float64 {
	z := sp.charge()
	lg := neutralSlope * s.found.ionic
	if z != 0 {
		lg = -s.found.g * float64(z*z) / ln10
	}
	return math.Log10(s.amount(sp)) + lg
}
