package chem

import "wellwright/unit"

// PHOf returns the pH of a mix, from its alkalinity, carbon and weak acids.
//
// Source: constants of their factors, Davies coefficients, no ion pairs.
func (m *Model) PHOf(x Mix, c Conditions) unit.PH {
	a := m.acidsIn(&c)
	p := poolOf(&x)
	w := weak{p[iTA], x.Carbon.molL, p[iCl], p[iS], p[iN]}
	return phOfActivity(a.solveNear(&w, a.near(&c, &w)))
}

// AlkalinityAt returns the alkalinity that gives a mix a pH at its carbon; its
// own alkalinity is not looked at.
func (m *Model) AlkalinityAt(x Mix, c Conditions, ph unit.PH) unit.Alkalinity {
	a := m.acidsIn(&c)
	p := poolOf(&x)
	w := weak{0, x.Carbon.molL, p[iCl], p[iS], p[iN]}
	alk, _ := a.at(&w, activityOf(ph))
	return alkOf(alk)
}

// React carries a mix through a vessel: what is left of it after its time.
//
// At once: free chlorine with sulfide, then with peroxide, both faster than any
// mixing. Then, with their speeds and with pH following alkalinity: ferrous iron
// with oxygen (clear water, floc, coating), chlorine, permanganate and peroxide;
// ammonia with chlorine to monochloramine and on to nitrogen; manganese with
// chlorine, permanganate and oxygen, alone and on oxide; sulfide with oxygen,
// permanganate and peroxide; in a vessel with air, oxygen in, carbon dioxide
// and hydrogen sulfide out as [Bubbled]. Left out: iron reducing manganese dioxide,
// monochloramine with iron or sulfide, organic matter, capture of solids.
//
// Range: 0 to 40 °C, pH 5.5 to 9.5. Error: the laws of iron with oxygen differ
// six-fold and more; coatings are known within a factor of ten. Mass, charge and
// electrons are kept to rounding.
// Source: each rate in its factor.
func (m *Model) React(x Mix, c Conditions, v Vessel) (Mix, error) {
	p := poolOf(&x)
	if err := checkReact(&p, &c, &v); err != nil {
		return x, err
	}
	if v.OxygenHeld {
		p[iO2] = v.HeldOxygen.MgPerL() / (molO2 * mgPerG)
	}
	m.titrate(&p)
	n := networks.Get().(*network)
	defer networks.Put(n)
	n.clear()
	n.law, n.acids, n.start = m.lawAt(c, v), m.acidsIn(&c), p
	w := n.weak(&p)
	n.h = n.acids.solveNear(&w, n.acids.near(&c, &w))
	m.assemble(n, v.OxygenHeld)
	if err := n.run(v); err != nil {
		return x, err
	}
	return mixOf(&n.start), nil
}

// run carries n.start through the vessel.
func (n *network) run(v Vessel) error {
	t := v.Time.Seconds()
	if t == 0 || n.n == 0 {
		return nil
	}
	if v.Tanks == 0 {
		x, err := n.integrate(t, stepTol)
		if err == nil {
			n.settle(&x)
		}
		return err
	}
	n.wash = float64(v.Tanks) / t
	for range v.Tanks {
		x, err := n.steady()
		if err != nil {
			return err
		}
		n.settle(&x)
	}
	return nil
}

// settle makes the amounts at extents x the new start, first drawing back what
// rounding has overdrawn.
func (n *network) settle(x *extents) {
	for range 3 {
		c := n.amountsAt(x)
		for i := range iTA {
			if c[i] < 0 {
				n.giveBack(i, -c[i], x)
			}
		}
	}
	n.start, n.known.h = n.amountsAt(x), 0
	for i := range iTA {
		if n.start[i] < 0 { // below the rounding of the sum
			n.start[i] = 0
		}
	}
}

// giveBack undoes short moles of amount i in the reaction that used most of it.
func (n *network) giveBack(i int, short float64, x *extents) {
	best, most := -1, 0.0
	for k := range n.n {
		if u := -n.nu[i][k] * x[k]; u > most {
			best, most = k, u
		}
	}
	if best >= 0 {
		x[best] -= min(short, most) / -n.nu[i][best]
	}
}
