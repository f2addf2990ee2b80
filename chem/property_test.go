package chem

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"wellwright/unit"
)

// drawMix draws a mix of a well water, each part absent now and then.
func drawMix(r *rapid.T, m *Model, c Conditions) Mix {
	amount := func(name string, high float64) float64 {
		if rapid.Bool().Draw(r, "no "+name) {
			return 0
		}
		return math.Exp(rapid.Float64Range(math.Log(high*1e-3), math.Log(high)).Draw(r, name))
	}
	x := Mix{
		IronII: unit.MgPerL(amount("iron", 25)), IronSolid: unit.MgPerL(amount("floc", 10)),
		ManganeseII: unit.MgPerL(amount("manganese", 3)), ManganeseSolid: unit.MgPerL(amount("oxide", 1)),
		Oxygen: unit.MgPerL(amount("oxygen", 40)), Permanganate: unit.MgPerL(amount("permanganate", 10)), Peroxide: unit.MgPerL(amount("peroxide", 10)),
		FreeChlorine: unit.MgPerLAsCl2(amount("chlorine", 30)), CombinedChlorine: unit.MgPerLAsCl2(amount("combined", 3)),
		Ammonia: unit.MgPerLAsN(amount("ammonia", 3)), Sulfide: unit.MgPerLAsH2S(amount("sulfide", 5)),
		Alkalinity: unit.AlkalinityAsCaCO3(rapid.Float64Range(40, 400).Draw(r, "alkalinity")),
	}
	x.Carbon = m.Carbonate(c.Temperature, c.Ionic).Carbon(unit.PHOf(rapid.Float64Range(6, 8.3).Draw(r, "ph")), x.Alkalinity)
	return x
}

func drawConditions(r *rapid.T) Conditions {
	return Conditions{
		Temperature: unit.Celsius(rapid.Float64Range(3, 25).Draw(r, "celsius")),
		Ionic:       IonicMolPerL(rapid.Float64Range(0.001, 0.03).Draw(r, "ionic")),
		Law:         Law(rapid.IntRange(0, 2).Draw(r, "law")),
	}
}

func drawVessel(r *rapid.T) Vessel {
	return Vessel{
		Time:  time.Duration(rapid.Float64Range(1, 7200).Draw(r, "seconds") * float64(time.Second)),
		Tanks: rapid.IntRange(0, 4).Draw(r, "tanks"),
		Surface: Surface{Ferric: unit.MgPerL(rapid.Float64Range(0, 5000).Draw(r, "ferric")),
			ManganeseOxide: unit.MgPerL(rapid.Float64Range(0, 3000).Draw(r, "coating"))},
	}
}

func drawBubbled(r *rapid.T) Bubbled {
	return Bubbled{Transfer: PerHour(math.Exp(rapid.Float64Range(-2, 6).Draw(r, "kLa"))), Air: PerHour(rapid.Float64Range(0, 60).Draw(r, "air")),
		Absolute: unit.PSI(rapid.Float64Range(10, 80).Draw(r, "psi"))}
}

// books are the conserved sums of a pool.
type books struct{ iron, manganese, sulfur, nitrogen, electrons, charge float64 }

// booksOf counts electrons as what the oxidants could still take, and charge as
// alkalinity with the acid that each form stands for: both written from the
// oxidation states, apart from the table of reactions.
func booksOf(p pool) books {
	return books{
		iron:      p[iFe] + p[iFeSolid],
		manganese: p[iMn] + p[iMnSolid] + p[iMnO4],
		sulfur:    p[iS] + p[iSulfur] + p[iSulfate],
		nitrogen:  p[iN] + p[iNCl] + p[iNitrogen],
		// oxidation state above that of Fe(II), Mn(II), S(-II), N(-III), O(-II), Cl(-I)
		electrons: p[iFeSolid] + 2*p[iMnSolid] + 5*p[iMnO4] + 4*p[iO2] + 2*p[iH2O2] + 2*p[iCl] + 2*p[iNCl] +
			2*p[iSulfur] + 8*p[iSulfate] + 3*p[iNitrogen],
		// strong ions less alkalinity must stay: 2 Fe+2 + 2 Mn+2 + NH4+ - MnO4- - 2 SO4-2 - Cl-,
		// with chloride as chlorine used up.
		charge: 2*p[iFe] + 2*p[iMn] + p[iN] - p[iMnO4] - 2*p[iSulfate] + (p[iCl] + p[iNCl]) - p[iTA],
	}
}

func TestReactKeepsTheBooks(t *testing.T) {
	m := standard()
	rapid.Check(t, func(r *rapid.T) {
		c := drawConditions(r)
		x, v := drawMix(r, m, c), drawVessel(r)
		got, err := m.React(x, c, v)
		if err != nil {
			r.Fatal(err)
		}
		p := poolOf(&x)
		q := poolOf(&got)
		a, b := booksOf(p), booksOf(q)
		same := func(what string, x, y, size float64) {
			if math.Abs(x-y) > 1e-9*size {
				r.Fatalf("%s: %g before, %g after", what, x, y)
			}
		}
		same("iron", a.iron, b.iron, a.iron+1e-9)
		same("manganese", a.manganese, b.manganese, a.manganese+1e-9)
		same("sulfur", a.sulfur, b.sulfur, a.sulfur+1e-9)
		same("nitrogen", a.nitrogen, b.nitrogen, a.nitrogen+1e-9)
		same("electrons", a.electrons, b.electrons, a.electrons+1e-9)
		same("charge", a.charge, b.charge, math.Abs(a.charge)+math.Abs(p[iTA]))
		for i, amount := range q[:iTA] {
			if amount < 0 {
				r.Fatalf("%s of %g mol/L", amountNames[i], amount)
			}
		}
	})
}

// Less warmth, less time and no oxygen each leave more iron ferrous.
func TestWhatSlowsIron(t *testing.T) {
	m := standard()
	rapid.Check(t, func(r *rapid.T) {
		c := drawConditions(r)
		c.Temperature = unit.Celsius(10)
		x, v := drawMix(r, m, c), drawVessel(r)
		x.IronII, x.Oxygen = unit.MgPerL(rapid.Float64Range(0.5, 20).Draw(r, "fe")), unit.MgPerL(rapid.Float64Range(1, 11).Draw(r, "o2"))
		x.FreeChlorine, x.CombinedChlorine, x.Permanganate, x.Peroxide = unit.Chlorine{}, unit.Chlorine{}, unit.Concentration{}, unit.Concentration{}
		v.Surface = Surface{Ferric: unit.MgPerL(rapid.Float64Range(0, 200).Draw(r, "coat"))}
		left := func(x Mix, c Conditions, v Vessel) float64 {
			got, err := m.React(x, c, v)
			if err != nil {
				r.Fatal(err)
			}
			return got.IronII.MgPerL()
		}
		base := left(x, c, v)
		slack := 1e-5 * x.IronII.MgPerL()
		cold := c
		cold.Temperature = unit.Celsius(5)
		// The mix keeps its alkalinity and carbon, so that its pH moves as the
		// water's own would.
		if got := left(x, cold, v); got < base-slack {
			r.Fatalf("at 5 °C %g mg/L is left, at 10 °C %g", got, base)
		}
		short := v
		short.Time /= 2
		if got := left(x, c, short); got < base-slack {
			r.Fatalf("in half the time %g mg/L is left, in the whole %g", got, base)
		}
		none := x
		none.Oxygen = unit.Concentration{}
		if got := left(none, c, v); math.Abs(got-x.IronII.MgPerL()) > slack {
			r.Fatalf("without oxygen %g of %g mg/L is left", got, x.IronII.MgPerL())
		}
	})
}

// Waters like O1 and O2: the working tolerance against one a hundred thousand
// times finer, each amount within 1e-5 of itself and 1e-8 of what was there at
// first. Where chlorine and what it meets run out together the last trace hangs
// on tiny differences; there the second bound holds.
func TestRandomOxidationProblems(t *testing.T) {
	m := standard()
	rapid.Check(t, func(r *rapid.T) {
		dose := func(name string, high float64) float64 {
			if rapid.Bool().Draw(r, "no "+name) {
				return 0
			}
			return rapid.Float64Range(0.05*high, high).Draw(r, name)
		}
		n := problemO(m, dose("cl", 2e-4), dose("n", 3e-5), dose("s", 2e-5))
		fine, first := n, n.start
		x, err := n.integrate(1800, fineTol)
		if err != nil {
			r.Fatal(err)
		}
		n.settle(&x)
		if x, err = fine.integrate(1800, 1e-10); err != nil {
			r.Fatal(err)
		}
		fine.settle(&x)
		for i, want := range fine.start {
			if math.Abs(n.start[i]-want) > 1e-5*want+1e-8*first[i]+n.trace {
				r.Fatalf("%s: %g, want %g", amountNames[i], n.start[i], want)
			}
		}
	})
}

// The Jacobian must be the slope of the rates.
func TestJacobian(t *testing.T) {
	m := standard()
	rapid.Check(t, func(r *rapid.T) {
		c := drawConditions(r)
		x, v := drawMix(r, m, c), drawVessel(r)
		if rapid.Bool().Draw(r, "with air") {
			v.Bubbled = drawBubbled(r)
		}
		n := network{law: m.lawAt(c, v), acids: m.acids(c.Temperature, c.Ionic), start: poolOf(&x)}
		w := n.weak(&n.start)
		n.h = n.acids.solve(&w)
		m.assemble(&n, false)
		var at, f, up, down extents
		var j [nReactions]extents
		for k := range n.n {
			at[k] = 1e-3 * n.caps()[k]
		}
		n.jacobian(&at, &f, &j)
		n.derivative(&at, &up)
		for k := range n.n {
			if math.Abs(up[k]-f[k]) > 1e-7*math.Abs(f[k])+1e-25 { // {H+} is found to 1e-10, and some laws go with its square
				r.Fatalf("reaction %d: speed %g, with the derivatives %g", n.active[k], up[k], f[k])
			}
		}
		for k := range n.n {
			d := 1e-4 * n.caps()[k]
			p := at
			p[k] += d
			n.derivative(&p, &up)
			p[k] -= 2 * d
			n.derivative(&p, &down)
			for i := range n.n {
				slope := (up[i] - down[i]) / (2 * d)
				size := math.Abs(f[i])/n.caps()[k] + math.Abs(slope) + 1e-30
				if math.Abs(slope-j[i][k]) > 2e-3*size {
					r.Fatalf("reaction %d by %d: %g, difference gives %g", n.active[i], n.active[k], j[i][k], slope)
				}
			}
		}
	})
}

// drawTotals draws a natural water.
func drawTotals(r *rapid.T) (Totals, unit.PH, unit.Alkalinity) {
	mg := func(name string, high float64) unit.Concentration {
		return unit.MgPerL(rapid.Float64Range(0, high).Draw(r, name))
	}
	return Totals{
		Temperature: unit.Celsius(rapid.Float64Range(0, 40).Draw(r, "celsius")),
		Calcium:     mg("ca", 250), Magnesium: mg("mg", 100), Sodium: mg("na", 300), Potassium: mg("k", 20), IronII: mg("fe", 40), Manganese: mg("mn", 5),
		Chloride: mg("cl", 300), Sulfate: mg("so4", 500), Fluoride: mg("f", 5), Silica: mg("sio2", 80),
		Ammonia: unit.MgPerLAsN(rapid.Float64Range(0, 5).Draw(r, "nh4")), Nitrate: unit.MgPerLAsN(rapid.Float64Range(0, 20).Draw(r, "no3")),
		Phosphate: unit.MgPerLAsP(rapid.Float64Range(0, 2).Draw(r, "po4")), Sulfide: unit.MgPerLAsH2S(rapid.Float64Range(0, 4).Draw(r, "h2s")),
	}, unit.PHOf(rapid.Float64Range(5, 9).Draw(r, "ph")), unit.AlkalinityAsCaCO3(rapid.Float64Range(60, 500).Draw(r, "alk"))
}

// Every total is the sum of its species, and the three doors open on one water.
func TestSpeciationBalances(t *testing.T) {
	m := standard()
	rapid.Check(t, func(r *rapid.T) {
		tot, ph, alk := drawTotals(r)
		s, err := m.AtPH(tot, ph, alk)
		if err != nil {
			r.Fatal(err)
		}
		checkSums(r, &s)
		closed, err := m.AtCarbon(tot, alk, s.Carbon())
		if err != nil {
			r.Fatal(err)
		}
		if d := closed.PH().Value() - ph.Value(); math.Abs(d) > 1e-7 {
			r.Fatalf("closed water differs by %g pH", d)
		}
		open, err := m.AtCO2(tot, alk, s.PCO2())
		if err != nil {
			r.Fatal(err)
		}
		if d := open.PH().Value() - ph.Value(); math.Abs(d) > 1e-7 {
			r.Fatalf("open water differs by %g pH", d)
		}
	})
}

func checkSums(r *rapid.T, s *State) {
	a := amountsOf(&s.totals)
	f := &s.found
	masters, ligands := f.master, f.ligand
	zz := f.h + f.oh
	for sp := range Species(nSpecies) {
		if sp != HydrogenIon && sp != HydroxideIon {
			z := float64(sp.charge())
			zz += z * z * s.amount(sp)
		}
	}
	for i, row := range complexRows {
		if row.m != mNone {
			masters[row.m] += f.complex[i]
		}
		if row.l != lNone {
			ligands[row.l] += float64(row.nl) * f.complex[i]
		}
	}
	a.ligand[lCO3] = ligands[lCO3]
	for i, want := range a.master {
		if math.Abs(masters[i]-want) > 1e-10*want+leastAmount {
			r.Fatalf("%s: species sum to %g, total %g", freeNames[i], masters[i], want)
		}
	}
	for i, want := range a.ligand {
		if math.Abs(ligands[i]-want) > 1e-10*want+leastAmount {
			r.Fatalf("ligand %d: species sum to %g, total %g", i, ligands[i], want)
		}
	}
	if math.Abs(zz/2-f.ionic) > 1e-10*f.ionic {
		r.Fatalf("ionic strength %g, ions sum to %g", f.ionic, zz/2)
	}
}

// The quick carbonate system agrees with itself and falls the right way.
func TestCarbonateRoundTrip(t *testing.T) {
	m := standard()
	rapid.Check(t, func(r *rapid.T) {
		c := m.Carbonate(unit.Celsius(rapid.Float64Range(0, 40).Draw(r, "t")), IonicMolPerL(rapid.Float64Range(0, 0.1).Draw(r, "i")))
		alk := unit.AlkalinityAsCaCO3(rapid.Float64Range(5, 600).Draw(r, "alk"))
		ph := unit.PHOf(rapid.Float64Range(4.5, 9).Draw(r, "ph"))
		carbon := c.Carbon(ph, alk)
		if got := c.PH(alk, carbon).Value(); math.Abs(got-ph.Value()) > 1e-9 {
			r.Fatalf("pH %g, want %g", got, ph.Value())
		}
		back, _ := c.WithCO2(alk, c.CO2(ph, alk))
		if math.Abs(back.Value()-ph.Value()) > 1e-8 {
			r.Fatalf("pH by CO2 %g, want %g", back.Value(), ph.Value())
		}
		if up := c.PH(alk, MolPerL(carbon.MolPerL()*1.01)); up.Value() >= ph.Value() {
			r.Fatal("more carbon raised pH")
		}
	})
}

// The quick system stays near the full one in waters with few ion pairs.
func TestQuickAgainstFull(t *testing.T) {
	tot, ph, alk := spring()
	m := standard()
	s, err := m.AtPH(tot, ph, alk)
	if err != nil {
		t.Fatal(err)
	}
	c := m.Carbonate(tot.Temperature, IonicFromSums(tot, alk))
	nearRel(t, "carbon", c.Carbon(ph, alk).MolPerL(), s.Carbon().MolPerL(), 0.003, "second method: full speciation")
	nearRel(t, "CO2", c.CO2(ph, alk).MgPerL(), s.CO2().MgPerL(), 0.003, "second method: full speciation")
	nearRel(t, "ionic strength", IonicFromSums(tot, alk).MolPerL(), s.Ionic().MolPerL(), 0.01, "second method: full speciation")
}
