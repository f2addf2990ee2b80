package chem

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Newton's method from a guess comes to rest where the tank does that is followed
// from its filling: the second method is the other road to the same balance.
func TestStirredTankByTwoRoads(t *testing.T) {
	m := standard()
	tried, found := 0, 0
	rapid.Check(t, func(r *rapid.T) {
		c, v := drawConditions(r), drawVessel(r)
		x := drawMix(r, m, c)
		v.OxygenHeld = rapid.Bool().Draw(r, "held")
		if !v.OxygenHeld && rapid.Bool().Draw(r, "bubbled") {
			v.Bubbled = drawBubbled(r)
		}
		p := poolOf(&x)
		m.titrate(&p)
		n := network{law: m.lawAt(c, v), acids: m.acids(c.Temperature, c.Ionic), start: p, wash: 1 / v.Time.Seconds()}
		w := n.weak(&p)
		n.h = n.acids.solve(&w)
		m.assemble(&n, v.OxygenHeld)
		if n.n == 0 {
			return
		}
		tried++
		slow := n
		a, ok := n.polish(n.alone())
		if !ok {
			return
		}
		found++
		b, err := slow.filled()
		if err != nil {
			r.Fatal(err)
		}
		ca, cb := n.amountsAt(&a), slow.amountsAt(&b)
		for i := range ca {
			if size := max(p[i], cb[i], 1e-7); math.Abs(ca[i]-cb[i]) > 1e-9*size {
				r.Fatalf("%s: %g from the guess, %g from the filling", amountNames[i], ca[i], cb[i])
			}
		}
	})
	if found*20 < tried*19 {
		t.Errorf("the guess came to rest in %d of %d tanks, want 95 %%: it is there to save the long road", found, tried)
	}
	t.Logf("%d of %d", found, tried)
}
