package chem

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
	oxygen, fe, mn, s := has(iO2) || n.law.gas.oxygen > 0, has(iFe), has(iMn), has(iS)
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
	n.enterGas()
	if held {
		for k := range n.n {
			n.nu[iO2][k] = 0
			for m, i := range n.column[k].i {
				if i == iO2 {
					n.column[k].nu[m] = 0
				}
			}
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
			l := &n.column[k]
			l.i[l.n], l.nu[l.n] = int8(c.i), c.v
			l.n++
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
