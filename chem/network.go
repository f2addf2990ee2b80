package chem

import "math"

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
	used   [nReactions][nAmounts]int8    // amounts that a column changes
	nUsed  [nReactions]int
	trace  float64 // mol/L to which an amount is followed while it is used up; zero if not
	wash   float64 // 1/s: share of water replaced, zero in plug flow
	h      float64 // last activity of H+, where the next search starts
}

// amountsAt returns the pool after extents x.
func (n *network) amountsAt(x *extents) pool {
	c := n.start
	for k := range n.n {
		for _, i := range n.used[k][:n.nUsed[k]] {
			c[i] += n.nu[i][k] * x[k]
		}
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
// ln h. The speed of a reaction of two is k times the first two amounts of by.
type rate struct {
	v, k float64
	by   [4]partial
	n    int
	byLn float64
}

func (r *rate) add(i int, v float64) { r.by[r.n] = partial{i, v}; r.n++ }

// twoBody sets r to k·c[a]·c[b], with d ln k/d ln h.
func (r *rate) twoBody(k, dlnk float64, c *pool, a, b int) {
	*r = rate{v: k * product(c[a], c[b]), k: k}
	r.byLn = r.v * dlnk
	r.add(a, k*c[b])
	r.add(b, k*c[a])
}

// derivative returns the speed of each active reaction, less what is washed out.
func (n *network) derivative(x *extents, f *extents) {
	c := n.amountsAt(x)
	w := n.weak(&c)
	h, _ := n.acids.pH(&w, n.h)
	n.h = h
	var r rate
	for k := range n.n {
		n.rateOf(n.active[k], &c, h, &r)
		f[k] = r.v - n.wash*x[k]
	}
}

// jacobian returns the rates and their derivatives by extents. The change of pH
// enters through d ln h = (dTA - Σ share dA)/slope, A among them carbon with the
// alkalinity of a mole.
func (n *network) jacobian(x *extents, f *extents, j *[nReactions]extents) {
	c := n.amountsAt(x)
	w := n.weak(&c)
	h, _ := n.acids.pH(&w, n.h)
	n.h = h
	_, slope := n.acids.at(&w, h)
	shareCl, shareS, shareN := n.acids.kc/(n.acids.kc+h), n.acids.ks/(n.acids.ks+h), n.acids.kn/(n.acids.kn+h)
	perCarbon := n.acids.perCarbon(h)
	var dln extents
	for k := range n.n {
		dln[k] = (n.nu[iTA][k] - shareCl*n.nu[iCl][k] - shareS*n.nu[iS][k] - shareN*n.nu[iN][k] - perCarbon*n.nu[iCarbon][k]) / slope
	}
	var r rate
	for i := range n.n {
		n.rateOf(n.active[i], &c, h, &r)
		f[i] = r.v - n.wash*x[i]
		for k := range n.n {
			d := r.byLn * dln[k]
			for _, p := range r.by[:r.n] {
				d += p.v * n.nu[p.i][k]
			}
			j[i][k] = d
		}
		j[i][i] -= n.wash
	}
}

// rateOf computes one reaction's rate and derivatives.
func (n *network) rateOf(reaction int, c *pool, h float64, r *rate) {
	l := &n.law
	switch reaction {
	case ironOxygen:
		n.ironOxygen(c, h, r)
	case ironChlorine:
		s := h / (n.acids.kc + h)
		r.twoBody(l.ironCl*s, 1-s, c, iFe, iCl)
	case chloramine:
		s, a := h/(n.acids.kc+h), n.acids.kn/(n.acids.kn+h)
		r.twoBody(l.chloramine*s*a, (1-s)-(1-a), c, iN, iCl)
	case breakpoint:
		s := h / (n.acids.kc + h)
		r.twoBody(l.breakpoint*s, 1-s, c, iNCl, iCl)
	case manganeseChlorine:
		s := h / (n.acids.kc + h)
		n.manganese(c, h, ofManganese{iCl, l.mnCl * s, l.mnOxide * s, 1 - s}, r)
	case manganesePermanganate:
		n.manganese(c, h, ofManganese{iMnO4, l.mnMnO4 / math.Sqrt(h), 0, -0.5}, r)
	case manganeseOxygen:
		k := l.mnO2 / (h * h)
		site := l.mnO2Sites / h
		sites := c[iMnSolid] + l.mnSurface
		r.twoBody(k+site*sites, 0, c, iMn, iO2)
		p := product(c[iMn], c[iO2])
		r.byLn = p * (-2*k - site*sites)
		r.add(iMnSolid, p*site)
	case sulfideOxygen:
		r.twoBody(l.sulfO2*math.Pow(h, -sulfideOrder), -sulfideOrder, c, iS, iO2)
	case ironPermanganate:
		r.twoBody(l.feMnO4, 0, c, iFe, iMnO4)
	case sulfidePermanganate:
		r.twoBody(l.sMnO4, 0, c, iS, iMnO4)
	case ironPeroxide:
		k := l.feOHH2O2 / h
		r.twoBody(l.feH2O2+k, -k/(l.feH2O2+k), c, iFe, iH2O2)
	case sulfidePeroxide:
		n.sulfidePeroxide(c, h, r)
	default:
		n.gasRate(reaction, c, h, r)
	}
}

func (n *network) ironOxygen(c *pool, h float64, r *rate) {
	l := &n.law
	oh, site := l.ironOH/(h*h), l.floc/h
	solid := c[iFeSolid] + l.flocSurface
	r.twoBody(l.ironPlain+oh+site*solid, 0, c, iFe, iO2)
	p := product(c[iFe], c[iO2])
	r.byLn = p * (-2*oh - site*solid)
	r.add(iFeSolid, p*site)
}

// ofManganese is an oxidant of manganese: which amount it is, its rate constants
// alone and for each mol/L of floating oxide, and their order in h.
type ofManganese struct {
	i              int
	k, oxide, dlnK float64
}

// manganese is oxidation of manganese by chlorine or permanganate, alone and on
// oxide.
func (n *network) manganese(c *pool, h float64, ox ofManganese, r *rate) {
	l := &n.law
	share := l.siteK / (l.siteK + h)
	site := l.mnSites * share
	sites := c[iMnSolid] + l.mnSurface
	k := ox.k + ox.oxide*c[iMnSolid]
	r.twoBody(k+site*sites, 0, c, iMn, ox.i)
	p := product(c[iMn], c[ox.i])
	r.byLn = p * (ox.dlnK*k - site*(1-share)*sites)
	r.add(iMnSolid, p*(ox.oxide+site))
}

func (n *network) sulfidePeroxide(c *pool, h float64, r *rate) {
	l := &n.law
	s := n.acids.ks / (n.acids.ks + h)
	hs, iron := l.hsH2O2*s, c[iFe]+c[iFeSolid]
	r.twoBody(hs+l.sH2O2Fe*iron, 0, c, iS, iH2O2)
	p := product(c[iS], c[iH2O2])
	r.byLn = -p * hs * (1 - s)
	r.add(iFe, p*l.sH2O2Fe)
	r.add(iFeSolid, p*l.sH2O2Fe)
}
