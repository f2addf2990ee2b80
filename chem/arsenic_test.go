package chem

import (
	"testing"

	"pgregory.net/rapid"

	"wellwright/unit"
)

func TestArsenicForms(t *testing.T) {
	const trade = "fact of treatment: arsenic (III) is uncharged below pH 9, arsenic (V) an ion above pH 2 (US EPA guidance, from memory)"
	m := standard()
	at := func(ph float64) ArsenicForms { return m.Arsenic(unit.Celsius(25), unit.PHOf(ph), IonicMolPerL(0)) }
	near(t, "arsenic (III) uncharged at pH 7", at(7).Uncharged, 0.99, 0.01, trade)
	near(t, "arsenic (III), half at its pK", at(9.15).Uncharged, 0.5, 0.001, nordstrom)
	near(t, "arsenic (V), its first two ions alike at pK2", at(7.16).Arsenate[1]-at(7.16).Arsenate[2], 0, 0.002, nordstrom)
	near(t, "arsenic (V), uncharged at pH 6", at(6).Arsenate[0], 0, 0.001, trade)
}

// A rising pH never gives protons back, and each acid adds to one.
func TestArsenicSharesAreWhole(t *testing.T) {
	m := standard()
	rapid.Check(t, func(r *rapid.T) {
		warm := unit.Celsius(rapid.Float64Range(0, 50).Draw(r, "C"))
		ph := rapid.Float64Range(3, 12).Draw(r, "pH")
		salt := IonicMolPerL(rapid.Float64Range(0, 0.1).Draw(r, "I"))
		a, b := m.Arsenic(warm, unit.PHOf(ph), salt), m.Arsenic(warm, unit.PHOf(ph+0.1), salt)
		sum := 0.0
		for _, x := range a.Arsenate {
			sum += x
		}
		if d := sum + a.Arsenite[0] + a.Arsenite[1] - 2; d > 1e-12 || d < -1e-12 {
			r.Fatalf("shares add to %g over two", d)
		}
		if b.Uncharged > a.Uncharged || b.Arsenate[3] < a.Arsenate[3] {
			r.Fatalf("pH %.2f: %+v, and a tenth above %+v", ph, a, b)
		}
	})
}
