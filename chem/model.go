// Package chem is pure water chemistry: equilibrium constants and their
// temperature laws, speciation, the carbonate system, saturation and corrosion
// indices, oxidant stoichiometry, kinetics, gas exchange and pH adjustment.
package chem

import (
	"fmt"
	"slices"

	"wellwright/source"
)

// Model holds the constants, with the user's own in their place. It is never
// changed after New, so that many goroutines may share it.
type Model struct {
	shift [nConstants]float64 // user's log K less the default, at 25 °C
	rate  rates
	held  ArsenicLaw
}

// New makes a model with the user's own values where set has them.
func New(set source.Set) *Model {
	m := &Model{rate: ratesOf(set)}
	for k := kNone + 1; k < nConstants; k++ {
		f := factorOf(k)
		m.shift[k] = set.Of(f) - f.Value
	}
	m.held = m.arsenicLaw(set)
	return m
}

// Factors lists every constant a user may open and replace: equilibrium
// constants as log K at 25 °C (an override moves the whole temperature law by
// the difference), then rate constants and shares.
func Factors() []source.Factor {
	fs := make([]source.Factor, 0, int(nConstants)+len(rateFactors()))
	for k := kNone + 1; k < nConstants; k++ {
		fs = append(fs, factorOf(k))
	}
	return slices.Concat(fs, rateFactors(), arsenicFactors(), exchangeFactors())
}

// logK returns log K of k at a temperature given by its powers.
func (m *Model) logK(k constant, p powers) float64 { return rows[k].law.with(p) + m.shift[k] }

// RangeError says that an input lies outside what a method holds for.
type RangeError struct {
	Method, Input string
	Got           float64
	Unit          string
	Low, High     float64
}

// Error names the method, the input, its value and what would be right.
func (e *RangeError) Error() string {
	return fmt.Sprintf("%s: %s %g %s is outside %g to %g %s", e.Method, e.Input, e.Got, e.Unit, e.Low, e.High, e.Unit)
}

// TotalCarbon is dissolved inorganic carbon of every form.
type TotalCarbon struct{ molL float64 }

// MolPerL makes a total carbon from moles a litre.
func MolPerL(v float64) TotalCarbon { return TotalCarbon{v} }

// MolPerL returns moles a litre.
func (c TotalCarbon) MolPerL() float64 { return c.molL }

// IonicStrength is half the sum of each ion's amount times its charge squared.
type IonicStrength struct{ molL float64 }

// IonicMolPerL makes an ionic strength from moles a litre.
func IonicMolPerL(v float64) IonicStrength { return IonicStrength{v} }

// MolPerL returns moles a litre.
func (i IonicStrength) MolPerL() float64 { return i.molL }
