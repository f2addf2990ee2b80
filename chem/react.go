package chem

import (
	"fmt"
	"math"

	"wellwright/unit"
)

// PHOf returns the pH of a mix, from its alkalinity, carbon and weak acids.
//
// Source: constants of their factors, Davies coefficients, no ion pairs.
func (m *Model) PHOf(x Mix, c Conditions) unit.PH {
	a := m.acids(c.Temperature, c.Ionic)
	p := poolOf(&x)
	w := weak{p[iTA], x.Carbon.molL, p[iCl], p[iS], p[iN]}
	return phOfActivity(a.solve(&w))
}

// AlkalinityAt returns the alkalinity that gives a mix a pH at its carbon; its
// own alkalinity is not looked at.
func (m *Model) AlkalinityAt(x Mix, c Conditions, ph unit.PH) unit.Alkalinity {
	a := m.acids(c.Temperature, c.Ionic)
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
// permanganate and peroxide. Left out: iron reducing manganese dioxide,
// monochloramine with iron or sulfide, organic matter, capture of solids.
//
// Range: 0 to 40 °C, pH 5.5 to 9.5. Error: the laws of iron with oxygen differ
// six-fold and more; coatings are known within a factor of ten. Mass, charge and
// electrons are kept to rounding.
// Source: each rate in its factor.
func (m *Model) React(x Mix, c Conditions, v Vessel) (Mix, error) {
	p := poolOf(&x)
	if err := checkReact(&x, &p, &c, &v); err != nil {
		return x, err
	}
	if v.OxygenHeld {
		p[iO2] = v.HeldOxygen.MgPerL() / (molO2 * mgPerG)
	}
	m.titrate(&p)
	n := network{law: m.lawAt(c, v), acids: m.acids(c.Temperature, c.Ionic), carbon: x.Carbon.molL, start: p}
	w := n.weak(&p)
	n.h = n.acids.solve(&w)
	m.assemble(&n, v.OxygenHeld)
	if err := n.run(v); err != nil {
		return x, err
	}
	return mixOf(&n.start, x.Carbon), nil
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
	n.start = n.amountsAt(x)
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

// hoclAcid is the acid bound by HOCl with its two electrons: HOCl + H+ + 2 e- =
// Cl- + H2O. In a pool chlorine counts as the acid.
const hoclAcid = 1

// titrate lets free chlorine meet sulfide, then peroxide.
func (m *Model) titrate(p *pool) {
	f := m.rate.sulfate
	per := 1 + 3*f // HOCl for each sulfide
	s := min(p[iS], p[iCl]/per)
	p[iS] -= s
	p[iCl] = max(0, p[iCl]-s*per)
	p[iSulfur] += s * (1 - f)
	p[iSulfate] += s * f
	p[iTA] -= s * sulfideAcid(f, hoclAcid/2.0)
	x := min(p[iH2O2], p[iCl]) // H2O2 + HOCl = O2 + Cl- + H+ + H2O
	p[iH2O2] -= x
	p[iCl] -= x
	p[iO2] += x
	p[iTA] -= x
}

// sulfideAcid is the acid set free for each sulfide, share f going to sulfate,
// with an oxidant that binds acid for each electron.
func sulfideAcid(f, perElectron float64) float64 {
	s, o := givings[SulfideToSulfur], givings[SulfideToSulfate]
	return (1-f)*(s.acid-s.n*perElectron) + f*(o.acid-o.n*perElectron)
}

// assemble enters the reactions that can run, with their stoichiometry.
func (m *Model) assemble(n *network, held bool) {
	p := &n.start
	has := func(i int) bool { return p[i] > 0 }
	o2, mno4, h2o2, cl := electron(Oxygen), electron(Permanganate), electron(Peroxide), donor{iCl, 0.5, hoclAcid / 2.0, 0}
	oxygen, fe, mn, s := has(iO2) || (held && p[iO2] > 0), has(iFe), has(iMn), has(iS)
	if fe {
		n.oxidise(oxygen, ironOxygen, IronII, o2)
		n.oxidise(has(iCl), ironChlorine, IronII, cl)
		n.oxidise(has(iMnO4), ironPermanganate, IronII, mno4)
		n.oxidise(has(iH2O2), ironPeroxide, IronII, h2o2)
	}
	if has(iCl) && has(iN) { // NH4+ + HOCl = NH2Cl + H+ + H2O
		n.enter(chloramine, change{iN, -1}, change{iCl, -1}, change{iNCl, 1}, change{iTA, -1})
	}
	if n.law.breakpoint > 0 && has(iCl) && (has(iN) || has(iNCl)) { // NH2Cl + ½ HOCl = ½ N2 + 3/2 H+ + 3/2 Cl- + ½ H2O
		n.enter(breakpoint, change{iNCl, -1}, change{iCl, -0.5}, change{iNitrogen, 1}, change{iTA, -1.5})
	}
	if mn {
		n.oxidise(has(iCl), manganeseChlorine, ManganeseII, cl)
		n.oxidise(has(iMnO4), manganesePermanganate, ManganeseII, mno4)
		n.oxidise(oxygen && n.law.mnO2 > 0, manganeseOxygen, ManganeseII, o2)
	}
	if s {
		n.oxidiseSulfide(oxygen, sulfideOxygen, m.rate.sulfateAir, o2)
		n.oxidiseSulfide(has(iMnO4), sulfidePermanganate, m.rate.sulfate, mno4)
		n.oxidiseSulfide(has(iH2O2), sulfidePeroxide, m.rate.sulfateAir, h2o2)
	}
	if held {
		for k := range n.n {
			n.nu[iO2][k] = 0
		}
	}
}

// donor is an oxidant in a pool, for each electron taken: moles used, acid bound
// and manganese dioxide made.
type donor struct {
	i                int
	mol, acid, solid float64
}

func electron(o Oxidant) donor {
	t := takings[o]
	d := donor{mol: 1 / t.n, acid: t.acid / t.n}
	switch o {
	case Oxygen:
		d.i = iO2
	case Peroxide:
		d.i = iH2O2
	case Permanganate:
		d.i, d.solid = iMnO4, 1/t.n
	}
	return d
}

type change struct {
	i int
	v float64
}

// enter adds a reaction with what it changes.
func (n *network) enter(reaction int, changes ...change) {
	k := n.n
	n.active[k] = reaction
	for _, c := range changes {
		if c.v != 0 {
			n.nu[c.i][k] += c.v
			n.used[k][n.nUsed[k]] = int8(c.i)
			n.nUsed[k]++
		}
	}
	n.n++
}

// oxidise adds oxidation of iron or manganese to its solid.
func (n *network) oxidise(can bool, reaction int, t Target, d donor) {
	if !can {
		return
	}
	from, to := iFe, iFeSolid
	made := 1.0
	other := change{iMnSolid, 0}
	g := givings[t]
	if t == ManganeseII {
		from, to = iMn, iMnSolid
		made += g.n * d.solid
	} else {
		other.v = g.n * d.solid
	}
	n.enter(reaction, change{from, -1}, change{to, made}, other, change{d.i, -g.n * d.mol}, change{iTA, -(g.acid - g.n*d.acid)})
}

// oxidiseSulfide adds oxidation of sulfide, share f to sulfate.
func (n *network) oxidiseSulfide(can bool, reaction int, f float64, d donor) {
	if !can {
		return
	}
	e := (1-f)*givings[SulfideToSulfur].n + f*givings[SulfideToSulfate].n
	n.enter(reaction, change{iS, -1}, change{iSulfur, 1 - f}, change{iSulfate, f}, change{iMnSolid, e * d.solid},
		change{d.i, -e * d.mol}, change{iTA, -sulfideAcid(f, d.acid)})
}

// poolOf turns a mix into mol/L.
func poolOf(x *Mix) pool {
	mol := func(c unit.Concentration, mass float64) float64 { return c.MgPerL() / (mass * mgPerG) }
	cl := func(c unit.Chlorine) float64 { return c.MgPerLAsCl2() / (molCl2 * mgPerG) }
	return pool{
		iFe: mol(x.IronII, molFe), iFeSolid: mol(x.IronSolid, molFe), iMn: mol(x.ManganeseII, molMn), iMnSolid: mol(x.ManganeseSolid, molMn),
		iO2: mol(x.Oxygen, molO2), iMnO4: mol(x.Permanganate, molKMnO4), iH2O2: mol(x.Peroxide, molH2O2),
		iCl: cl(x.FreeChlorine), iNCl: cl(x.CombinedChlorine),
		iN: x.Ammonia.MgPerLAsN() / (molN * mgPerG), iS: x.Sulfide.MgPerLAsH2S() / (molH2S * mgPerG),
		iSulfur: mol(x.SulfurSolid, molS), iSulfate: mol(x.SulfateMade, molSO4), iNitrogen: x.NitrogenMade.MgPerLAsN() / (molN * mgPerG),
		iTA: eqPerL(x.Alkalinity),
	}
}

// mixOf turns mol/L into a mix.
func mixOf(p *pool, carbon TotalCarbon) Mix {
	mg := func(i int, mass float64) unit.Concentration { return unit.MgPerL(p[i] * mass * mgPerG) }
	cl := func(i int) unit.Chlorine { return unit.MgPerLAsCl2(p[i] * molCl2 * mgPerG) }
	nitrogen := func(i int) unit.Nitrogen { return unit.MgPerLAsN(p[i] * molN * mgPerG) }
	return Mix{
		IronII: mg(iFe, molFe), IronSolid: mg(iFeSolid, molFe), ManganeseII: mg(iMn, molMn), ManganeseSolid: mg(iMnSolid, molMn),
		Oxygen: mg(iO2, molO2), Permanganate: mg(iMnO4, molKMnO4), Peroxide: mg(iH2O2, molH2O2),
		FreeChlorine: cl(iCl), CombinedChlorine: cl(iNCl), Ammonia: nitrogen(iN),
		Sulfide: unit.MgPerLAsH2S(p[iS] * molH2S * mgPerG), SulfurSolid: mg(iSulfur, molS), SulfateMade: mg(iSulfate, molSO4),
		NitrogenMade: nitrogen(iNitrogen), Alkalinity: alkOf(p[iTA]), Carbon: carbon,
	}
}

var amountNames = [nAmounts]string{"ferrous iron", "ferric floc", "manganese", "manganese dioxide", "oxygen", "permanganate", "peroxide",
	"free chlorine", "combined chlorine", "ammonia", "sulfide", "sulfur", "sulfate made", "nitrogen made", "alkalinity"}

// checkReact refuses what cannot be.
func checkReact(x *Mix, p *pool, c *Conditions, v *Vessel) error {
	if t := c.Temperature.Celsius(); !(t >= 0 && t <= 40) {
		return &RangeError{"reactions", "water temperature", t, "°C", 0, 40}
	}
	if i := c.Ionic.molL; !(i >= 0 && i <= 0.5) {
		return &RangeError{"reactions", "ionic strength", i, "mol/L", 0, 0.5}
	}
	for i := range iTA {
		if !(p[i] >= 0) || math.IsInf(p[i], 0) {
			return fmt.Errorf("reactions: %s of %g mol/L is not an amount; want zero or more", amountNames[i], p[i])
		}
	}
	if !(x.Carbon.molL >= 0) || math.IsNaN(p[iTA]) {
		return fmt.Errorf("reactions: carbon %g mol/L with alkalinity %g eq/L; want amounts", x.Carbon.molL, p[iTA])
	}
	if v.Time < 0 || v.Tanks < 0 {
		return fmt.Errorf("reactions: vessel of %v in %d tanks; want zero or more of both", v.Time, v.Tanks)
	}
	if s := v.Surface; !(s.Ferric.MgPerL() >= 0) || !(s.ManganeseOxide.MgPerL() >= 0) || !(v.HeldOxygen.MgPerL() >= 0) {
		return fmt.Errorf("reactions: coatings of %g and %g mg/L with oxygen held at %g mg/L; want zero or more",
			s.Ferric.MgPerL(), s.ManganeseOxide.MgPerL(), v.HeldOxygen.MgPerL())
	}
	return nil
}
