package chem

import (
	"math"

	"wellwright/unit"
)

// acids is the acid-base system that fixes pH in a vessel: carbonate, water,
// hypochlorous acid, hydrogen sulfide and ammonium, without ion pairs.
//
//	TA = C (K1 h + 2 K1 K2)/(h² + K1 h + K1 K2) + Kw/h - h/g
//	     + Cl Kc/(Kc + h) + S Ks/(Ks + h) + N Kn/(Kn + h)
type acids struct {
	Carbonate
	kc, ks, kn float64 // HOCl, H2S, NH4+
}

// weak are the amounts, mol/L, that the acid-base system distributes.
type weak struct{ ta, carbon, chlorine, sulfide, ammonia float64 }

func (m *Model) acids(t unit.Temperature, i IonicStrength) acids {
	return m.acidsIn(&Conditions{Temperature: t, Ionic: i})
}

// at returns total alkalinity at h and its derivative by ln h.
func (a *acids) at(w *weak, h float64) (alk, slope float64) {
	d := 1 / (h*h + a.k1*h + a.k1*a.k2)
	a0, a1, a2 := h*h*d, a.k1*h*d, a.k1*a.k2*d
	oh, hp := a.kw/h, h*a.invG
	alk = w.carbon*(a1+2*a2) + oh - hp
	slope = -w.carbon*(a1*(a0+a2)+4*a2*a0) - oh - hp
	if w.chlorine != 0 {
		x := a.kc / (a.kc + h)
		alk += w.chlorine * x
		slope -= w.chlorine * x * (1 - x)
	}
	if w.sulfide != 0 {
		x := a.ks / (a.ks + h)
		alk += w.sulfide * x
		slope -= w.sulfide * x * (1 - x)
	}
	if w.ammonia != 0 {
		x := a.kn / (a.kn + h)
		alk += w.ammonia * x
		slope -= w.ammonia * x * (1 - x)
	}
	return alk, slope
}

// lastStep is the change of ln h after which the search ends; Newton's method
// leaves about half its square.
const lastStep = 1e-5

// pH finds h from a start, and returns with it the slope of alkalinity by ln h.
func (a *acids) pH(w *weak, h float64) (float64, float64) {
	var slope float64
	for range maxNewton {
		var alk float64
		alk, slope = a.at(w, h)
		q := (alk - w.ta) / slope
		h *= logStep(q)
		if math.Abs(q) < lastStep {
			break
		}
	}
	return h, slope
}

// solve finds h without a start.
func (a *acids) solve(w *weak) float64 { return a.solveNear(w, a.guess(w.ta, w.carbon)) }

// solveNear finds h from a start.
func (a *acids) solveNear(w *weak, h float64) float64 {
	h, _ = a.pH(w, h)
	return h
}
