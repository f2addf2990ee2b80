package chem

import (
	"math"

	"wellwright/unit"
)

// ArsenicForms are the shares of dissolved arsenic by what it carries. Reduced
// arsenic (III) and oxidised arsenic (V) each add to one.
type ArsenicForms struct {
	Arsenite  [2]float64 // H3AsO3, H2AsO3-
	Arsenate  [4]float64 // H3AsO4, H2AsO4-, HAsO4-2, AsO4-3
	Uncharged float64    // share of arsenic (III) that iron floc, exchangers and membranes hold badly
}

// Arsenic returns how the acids of arsenic stand at a pH. It is too little to
// move the balance of a water, so it is worked out beside it.
//
//	share of the form that lost n protons = K_n / (g_n {H+}^n) / sum over n
//
//	K_n  constant of n protons lost, {H+}  activity, g_n  Davies coefficient
//
// Range: as the Davies law; redox is not asked: which of the two is there is
// measured. Error: 0.1 in a constant. Source: Nordstrom and Archer, 2003 (from
// memory).
func (m *Model) Arsenic(t unit.Temperature, ph unit.PH, i IonicStrength) ArsenicForms {
	g, _ := davies(debyeA(t.Kelvin()), i.molL)
	lost := func(ks ...constant) []float64 {
		shares, sum := []float64{1}, 1.0
		for n, k := range ks {
			z := float64(n + 1)
			x := math.Exp(ln10*(m.logK(k, powersOf(t.Kelvin()))+z*ph.Value()) + g*z*z)
			shares, sum = append(shares, x), sum+x
		}
		for n := range shares {
			shares[n] /= sum
		}
		return shares
	}
	var f ArsenicForms
	copy(f.Arsenite[:], lost(kArsenite))
	copy(f.Arsenate[:], lost(kArsenate1, kArsenate2, kArsenate3))
	f.Uncharged = f.Arsenite[0]
	return f
}
