package chem

import (
	"math"
	"sync"
)

// The amounts that reactions change, mol/L; ta is total alkalinity, eq/L.
const (
	iFe = iota
	iFeSolid
	iMn
	iMnSolid
	iO2
	iMnO4
	iH2O2
	iCl
	iNCl
	iN
	iS
	iSulfur
	iSulfate
	iNitrogen // atoms of N in N2
	iCarbon
	iTA
	nAmounts
)

type pool [nAmounts]float64

// The reactions, each counted in moles of what is oxidised.
const (
	ironOxygen = iota
	ironChlorine
	ironPermanganate
	ironPeroxide
	chloramine
	breakpoint // of monochloramine by more chlorine
	manganeseChlorine
	manganeseOxygen
	manganesePermanganate
	sulfideOxygen
	sulfidePermanganate
	sulfidePeroxide
	gasOxygen // from the air into the water
	gasCarbon // from the water into the air, and the next
	gasSulfide
	nReactions
)

type extents [nReactions]float64

// coefficients of the rate laws at the conditions of a vessel, in mol, L and s.
type rateLaw struct {
	ironPlain, ironOH float64 // × [O2][Fe]; × [O2][Fe]/h²
	floc, flocSurface float64 // × [O2][Fe]([Fe solid] + surface)/h
	ironCl            float64 // × [HOCl]
	chloramine        float64 // × [HOCl][NH3]
	breakpoint        float64 // × [HOCl][NH2Cl]
	mnCl, mnOxide     float64 // × [HOCl]; × [MnO2][HOCl]
	mnSites           float64 // × ([MnO2] + surface) × sites × [free Cl] or [MnO4-]
	mnSurface         float64 // mol/L as MnO2
	siteK             float64 // activity of H+ at which half the sites are open
	mnO2              float64 // × [O2]/h²
	mnO2Sites         float64 // × [O2]([MnO2] + surface)/h
	sulfO2            float64 // × [O2] h^-0.16
	feMnO4, mnMnO4    float64 // mnMnO4 × h^-½
	sMnO4             float64
	feH2O2, feOHH2O2  float64 // feOHH2O2 /h
	hsH2O2, sH2O2Fe   float64 // × [HS-]; × [S][Fe of every form]
	gas               gasLaw
}

// network is one vessel's reactions: the laws, the acids, and the stoichiometry
// of those reactions that can run, in columns of nu.
type network struct {
	law    rateLaw
	acids  acids
	start  pool
	n      int // active reactions
	active [nReactions]int
	nu     [nAmounts][nReactions]float64 // by active column
	column [nReactions]column            // the same, without what stays
	trace  float64                       // mol/L to which an amount is followed while it is used up; zero if not
	wash   float64                       // 1/s: share of water replaced, zero in plug flow
	h      float64                       // last activity of H+, where the next search starts
	known  slope                         // of {H+}, where the Jacobian was last asked
	work   *stepper
}

// networks are laid by and used again: they are large to clear for every vessel.
// They hold no answers.
var networks = sync.Pool{New: func() any { return &network{work: &stepper{}} }}

// clear takes the reactions out, so that others may be entered.
func (n *network) clear() {
	for k := range n.n {
		l := &n.column[k]
		for _, i := range l.i[:l.n] {
			n.nu[i][k] = 0
		}
		l.n = 0
	}
	n.n, n.trace, n.wash, n.known.h = 0, 0, 0, 0
}

// begin lays out the workspace for a solution from no extent.
func (n *network) begin(tol float64) *stepper {
	s := n.work
	if s == nil {
		s = &stepper{}
		n.work = s
	}
	s.net, s.x, s.cap, s.tol = n, extents{}, n.caps(), tol
	return s
}

// slope is {H+} at some extents and how its logarithm goes with each of them: zero
// until it is known.
type slope struct {
	h     float64
	x, by extents
}

// near foretells {H+} at extents x by the slope; by the last one found until it is
// known.
func (n *network) near(x *extents) float64 {
	if n.known.h <= 0 {
		return n.h
	}
	d := 0.0
	for k := range n.n {
		d += n.known.by[k] * (x[k] - n.known.x[k])
	}
	return n.known.h * logStep(-d)
}

// mostChanges is the greatest number of amounts that one reaction changes.
const mostChanges = 5

// column is what one reaction changes, and by how much in a mole.
type column struct {
	n  int
	i  [mostChanges]int8
	nu [mostChanges]float64
}

// add puts x moles of the reaction into a pool.
func (l *column) add(c *pool, x float64) {
	for m := range l.n {
		c[l.i[m]] += l.nu[m] * x
	}
}

// amountsAt returns the pool after extents x.
func (n *network) amountsAt(x *extents) pool {
	c := n.start
	for k := range n.n {
		n.column[k].add(&c, x[k])
	}
	return c
}

func (n *network) weak(c *pool) weak {
	return weak{ta: c[iTA], carbon: c[iCarbon], chlorine: c[iCl], sulfide: c[iS], ammonia: c[iN]}
}

// product is a b, but zero when both have gone below zero by rounding, where it
// would feed itself.
func product(a, b float64) float64 {
	if a < 0 && b < 0 {
		return 0
	}
	return a * b
}

// partial is the derivative of a rate by one amount.
type partial struct {
	i int
	v float64
}

// rate is one reaction's speed and derivatives: by up to four amounts, and by
// ln h.
type rate struct {
	v    float64
	by   [4]partial
	n    int
	byLn float64
}

func (r *rate) add(i int, v float64) { r.by[r.n] = partial{i, v}; r.n++ }

// derivative returns the speed of each active reaction, less what is washed out.
func (n *network) derivative(x *extents, f *extents) {
	c := n.amountsAt(x)
	w := n.weak(&c)
	h, _ := n.acids.pH(&w, n.near(x))
	n.h = h
	for k := range n.n {
		f[k] = n.speed(n.active[k], &c, h) - n.wash*x[k]
	}
}

// jacobian returns the rates and their derivatives by extents. The change of pH
// enters through d ln h = (dTA - Σ share dA)/slope, A among them carbon with the
// alkalinity of a mole.
func (n *network) jacobian(x *extents, f *extents, j *[nReactions]extents) {
	c := n.amountsAt(x)
	w := n.weak(&c)
	h, _ := n.acids.pH(&w, n.near(x))
	n.h = h
	_, slope := n.acids.at(&w, h)
	shareCl, shareS, shareN := n.acids.kc/(n.acids.kc+h), n.acids.ks/(n.acids.ks+h), n.acids.kn/(n.acids.kn+h)
	perCarbon := n.acids.perCarbon(h)
	dln := &n.known.by
	for k := range n.n {
		dln[k] = (n.nu[iTA][k] - shareCl*n.nu[iCl][k] - shareS*n.nu[iS][k] - shareN*n.nu[iN][k] - perCarbon*n.nu[iCarbon][k]) / slope
	}
	n.known.h, n.known.x = h, *x
	var r rate
	for i := range n.n {
		n.rateOf(n.active[i], &c, h, &r)
		f[i] = r.v - n.wash*x[i]
		row := &j[i]
		for k := range n.n {
			row[k] = r.byLn * dln[k]
		}
		for _, p := range r.by[:r.n] {
			nu := &n.nu[p.i]
			for k := range n.n {
				row[k] += p.v * nu[k]
			}
		}
		row[i] -= n.wash
	}
}

// speed is how fast a reaction goes: its law in one line, as [network.meeting] has
// it with the derivatives. A test holds the two together.
func (n *network) speed(reaction int, c *pool, h float64) float64 {
	l, a := &n.law, &n.acids
	switch reaction {
	case ironOxygen:
		return (l.ironPlain + l.ironOH/(h*h) + l.floc/h*(c[iFeSolid]+l.flocSurface)) * product(c[iFe], c[iO2])
	case ironChlorine:
		return l.ironCl * h / (a.kc + h) * product(c[iFe], c[iCl])
	case chloramine:
		return l.chloramine * h / (a.kc + h) * a.kn / (a.kn + h) * product(c[iN], c[iCl])
	case breakpoint:
		return l.breakpoint * h / (a.kc + h) * product(c[iNCl], c[iCl])
	case manganeseChlorine:
		sites := l.mnSites * l.siteK / (l.siteK + h) * (c[iMnSolid] + l.mnSurface)
		return ((l.mnCl+l.mnOxide*c[iMnSolid])*h/(a.kc+h) + sites) * product(c[iMn], c[iCl])
	case manganesePermanganate:
		sites := l.mnSites * l.siteK / (l.siteK + h) * (c[iMnSolid] + l.mnSurface)
		return (l.mnMnO4/math.Sqrt(h) + sites) * product(c[iMn], c[iMnO4])
	case manganeseOxygen:
		return (l.mnO2/(h*h) + l.mnO2Sites/h*(c[iMnSolid]+l.mnSurface)) * product(c[iMn], c[iO2])
	case sulfideOxygen:
		return l.sulfO2 * math.Exp(-sulfideOrder*math.Log(h)) * product(c[iS], c[iO2])
	case ironPermanganate:
		return l.feMnO4 * product(c[iFe], c[iMnO4])
	case sulfidePermanganate:
		return l.sMnO4 * product(c[iS], c[iMnO4])
	case ironPeroxide:
		return (l.feH2O2 + l.feOHH2O2/h) * product(c[iFe], c[iH2O2])
	case sulfidePeroxide:
		return (l.hsH2O2*a.ks/(a.ks+h) + l.sH2O2Fe*(c[iFe]+c[iFeSolid])) * product(c[iS], c[iH2O2])
	}
	return n.gasSpeed(reaction, c, h)
}

// rateOf computes one reaction's rate and derivatives.
func (n *network) rateOf(reaction int, c *pool, h float64, r *rate) {
	if reaction >= gasOxygen {
		n.gasRate(reaction, c, h, r)
		return
	}
	var m meeting
	n.meeting(reaction, h, &m)
	k, p := m.constant(c), product(c[m.a], c[m.b])
	*r = rate{v: k * p, byLn: m.constantByLn(c) * p}
	r.add(m.a, k*c[m.b])
	r.add(m.b, k*c[m.a])
	for _, i := range m.solids[:m.n] {
		r.add(i, p*m.on)
	}
}

// meeting is a reaction of two amounts at some {H+}: the rate constant in clear
// water with the coating in sight, what each mol/L of a solid adds to it, and the
// derivatives of both by ln h.
//
//	v = (K + on Σ solids) [a][b]
type meeting struct {
	k, kLn   float64
	on, onLn float64
	a, b     int
	n        int
	solids   [2]int
}

func (m *meeting) constant(c *pool) float64 {
	k := m.k
	for _, i := range m.solids[:m.n] {
		k += m.on * c[i]
	}
	return k
}

func (m *meeting) constantByLn(c *pool) float64 {
	k := m.kLn
	for _, i := range m.solids[:m.n] {
		k += m.onLn * c[i]
	}
	return k
}

// meeting sets m to the law of a reaction at {H+}.
func (n *network) meeting(reaction int, h float64, m *meeting) {
	l := &n.law
	switch reaction {
	case ironOxygen:
		oh, site := l.ironOH/(h*h), l.floc/h
		*m = meeting{
			a: iFe, b: iO2, k: l.ironPlain + oh + site*l.flocSurface, kLn: -2*oh - site*l.flocSurface,
			on: site, onLn: -site, solids: [2]int{iFeSolid}, n: 1,
		}
	case manganeseOxygen:
		k, site := l.mnO2/(h*h), l.mnO2Sites/h
		*m = meeting{
			a: iMn, b: iO2, k: k + site*l.mnSurface, kLn: -2*k - site*l.mnSurface,
			on: site, onLn: -site, solids: [2]int{iMnSolid}, n: 1,
		}
	case manganeseChlorine:
		s := h / (n.acids.kc + h)
		n.manganese(h, ofManganese{iCl, l.mnCl * s, l.mnOxide * s, 1 - s}, m)
	case manganesePermanganate:
		n.manganese(h, ofManganese{iMnO4, l.mnMnO4 / math.Sqrt(h), 0, -0.5}, m)
	case sulfidePeroxide:
		s := n.acids.ks / (n.acids.ks + h)
		hs := l.hsH2O2 * s
		*m = meeting{a: iS, b: iH2O2, k: hs, kLn: -hs * (1 - s), on: l.sH2O2Fe, solids: [2]int{iFe, iFeSolid}, n: 2}
	default:
		n.plain(reaction, h, m)
	}
}

// plain sets m to the law of a reaction that no solid speeds.
func (n *network) plain(reaction int, h float64, m *meeting) {
	l := &n.law
	hocl := h / (n.acids.kc + h) // share of free chlorine
	switch reaction {
	case ironChlorine:
		*m = meeting{a: iFe, b: iCl, k: l.ironCl * hocl, kLn: l.ironCl * hocl * (1 - hocl)}
	case chloramine:
		a := n.acids.kn / (n.acids.kn + h)
		k := l.chloramine * hocl * a
		*m = meeting{a: iN, b: iCl, k: k, kLn: k * (a - hocl)}
	case breakpoint:
		*m = meeting{a: iNCl, b: iCl, k: l.breakpoint * hocl, kLn: l.breakpoint * hocl * (1 - hocl)}
	case sulfideOxygen:
		k := l.sulfO2 * math.Exp(-sulfideOrder*math.Log(h))
		*m = meeting{a: iS, b: iO2, k: k, kLn: -sulfideOrder * k}
	case ironPermanganate:
		*m = meeting{a: iFe, b: iMnO4, k: l.feMnO4}
	case sulfidePermanganate:
		*m = meeting{a: iS, b: iMnO4, k: l.sMnO4}
	default: // ironPeroxide
		k := l.feOHH2O2 / h
		*m = meeting{a: iFe, b: iH2O2, k: l.feH2O2 + k, kLn: -k}
	}
}

// ofManganese is an oxidant of manganese: which amount it is, its rate constants
// alone and for each mol/L of floating oxide, and their order in h.
type ofManganese struct {
	i              int
	k, oxide, dlnK float64
}

// manganese is oxidation of manganese by chlorine or permanganate, alone and on
// oxide.
func (n *network) manganese(h float64, ox ofManganese, m *meeting) {
	l := &n.law
	share := l.siteK / (l.siteK + h)
	site := l.mnSites * share
	*m = meeting{
		a: iMn, b: ox.i, k: ox.k + site*l.mnSurface, kLn: ox.dlnK*ox.k - site*(1-share)*l.mnSurface,
		on: ox.oxide + site, onLn: ox.dlnK*ox.oxide - site*(1-share), solids: [2]int{iMnSolid}, n: 1,
	}
}
