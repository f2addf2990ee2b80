package chem

import (
	"math"

	"wellwright/unit"
)

// Prepared is what of a model hangs on temperature alone, worked out once for many
// questions of one water. It is never changed, so that many goroutines may share it.
type Prepared struct {
	model  *Model
	kelvin float64
	acid   acidsAt
	law    lawsAt
}

// Prepare works out what hangs on a temperature; [Conditions] take it along.
func (m *Model) Prepare(t unit.Temperature) *Prepared {
	k := t.Kelvin()
	p := powersOf(k)
	return &Prepared{model: m, kelvin: k, acid: m.acidsAt(p), law: m.lawsAt(p)}
}

// prepared is what the conditions bring along for this model; nil when they do not.
func (m *Model) prepared(c *Conditions) *Prepared {
	if p := c.Prepared; p != nil && p.model == m && p.kelvin == c.Temperature.Kelvin() {
		return p
	}
	return nil
}

// acidsIn is the acid-base system at conditions.
func (m *Model) acidsIn(c *Conditions) acids {
	if p := m.prepared(c); p != nil {
		return p.acid.with(c.Ionic.molL)
	}
	a := m.acidsAt(powersOf(c.Temperature.Kelvin()))
	return a.with(c.Ionic.molL)
}

// acidsAt are the constants of the acid-base system in water without salts.
type acidsAt struct {
	debye                  float64 // slope of the Debye-Hückel law
	k1, k2, kw, kc, ks, kn float64
}

func (m *Model) acidsAt(p powers) acidsAt {
	k := func(c constant, sign float64) float64 { return math.Exp(sign * ln10 * m.logK(c, p)) }
	hco3 := m.logK(kHCO3, p)
	return acidsAt{
		debye: debyeA(p.t),
		k1:    math.Exp(ln10 * (hco3 - m.logK(kCO2, p))), k2: math.Exp(-ln10 * hco3), kw: k(kW, 1),
		kc: k(kHOCl, 1), ks: k(kH2S, -1), kn: k(kNH3, 1),
	}
}

// with brings in the activity coefficients of an ionic strength.
func (a *acidsAt) with(ionic float64) acids {
	ln, _ := davies(a.debye, ionic)
	g := math.Exp(ln) // 1/g of a singly charged ion
	both := g * math.Exp(neutralSlope*ln10*ionic)
	return acids{
		Carbonate: Carbonate{k1: a.k1 * both, k2: a.k2 * g * g * g, kw: a.kw * g, invG: g},
		kc:        a.kc * both, ks: a.ks * both, kn: a.kn / both,
	}
}

// near is where a search for {H+} begins: near a pH that is known, else from
// what carries the alkalinity.
func (a *acids) near(c *Conditions, w *weak) float64 {
	if ph := c.Near.Value(); ph > 0 {
		return activityOf(c.Near)
	}
	return a.guess(w.ta, w.carbon)
}
