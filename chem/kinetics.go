package chem

import (
	"math"
	"time"

	"wellwright/source"
	"wellwright/unit"
)

// rates are the factors of factors.go with the user's own in their place.
type rates struct {
	ironSlow, ironFast, ironAcid, ironFastEnergy      float64
	floc, flocEnergy                                  float64
	ironCl, chloramine, chloramineEnergy, breakpoint1 float64
	chlorineEnergy                                    float64
	mnCl, mnOxide, oxideEnergy, sitePK                float64
	mnO2, mnO2Sites, mnO2Energy                       float64
	sulfO2, hsH2O2, sH2O2Fe                           float64
	feMnO4, mnMnO4, sMnO4                             float64
	sulfate, sulfateAir                               float64
	breakpoint, organics                              span
	carbonGas, sulfideGas                             float64
}

func ratesOf(set source.Set) rates {
	spanOf := func(f source.Factor) span {
		l, m, h := set.Range(f)
		return span{l, m, h}
	}
	return rates{
		ironSlow: set.Of(ironSlowRate), ironFast: set.Of(ironFastRate), ironAcid: set.Of(ironAcidRate), ironFastEnergy: set.Of(ironFastEnergy),
		floc: set.Of(flocRate), flocEnergy: set.Of(flocEnergy),
		ironCl: set.Of(ironChlorineRate), chloramine: set.Of(chloramineRate), chloramineEnergy: set.Of(chloramineEnergy),
		breakpoint1: set.Of(breakpointRate), chlorineEnergy: set.Of(chlorineEnergy),
		mnCl: set.Of(manganeseChlorineRate), mnOxide: set.Of(manganeseOxideRate), oxideEnergy: set.Of(surfaceEnergy), sitePK: set.Of(surfacePK),
		mnO2: set.Of(manganeseOxygenRate), mnO2Sites: set.Of(manganeseOxygenSurface),
		mnO2Energy: set.Of(manganeseOxygenEnergy),
		sulfO2:     set.Of(sulfideOxygenRate), hsH2O2: set.Of(sulfidePeroxideRate), sH2O2Fe: set.Of(sulfidePeroxideIron),
		feMnO4: set.Of(ironPermanganateRate), mnMnO4: set.Of(manganesePermanganateRate), sMnO4: set.Of(sulfidePermanganateRate),
		sulfate: set.Of(sulfateShare), sulfateAir: set.Of(sulfateShareAir),
		carbonGas: set.Of(carbonTransfer), sulfideGas: set.Of(sulfideTransfer),
		breakpoint: spanOf(breakpointRatio), organics: spanOf(organicsDemand),
	}
}

// Published laws whose terms beside the factor are fixed.
const (
	ironSlowSlope    = 1545.0 // K: Millero 1987
	ironSlowRootI    = -3.29  // by √I
	ironSlowI        = 1.52   // by I
	sulfideSlope     = 3000.0 // K: Millero et al. 1987
	sulfideOrder     = 0.16   // by pH
	sulfideRootI     = 0.44
	peroxideSlope    = 2948.0 // K: Millero & Sotolongo 1989, path by FeOH+
	peroxideLog      = 13.73  // at pH 6, L/(mol min)
	peroxideRootI    = -1.70
	peroxideI        = 1.20
	peroxideFreeLog  = 8.37 // path by Fe+2
	peroxideFreeSlop = 1866.0
	permanganateKJ   = 40.0 // kJ/mol for permanganate and peroxide (judgement: as chlorine)
	neutralH         = 1e-7
	manganeseOxygenH = 9.332543007969915e-9 // 10^-8.03, at which Morgan 2005 measured
)

// arrhenius is the factor from 25 °C to T at an activation energy in kJ/mol.
func arrhenius(kJ, t float64) float64 { return math.Exp(-kJ * 1000 / gasR * (1/t - 1/refT)) }

func pow10(x float64) float64 { return math.Exp(ln10 * x) }

// lawAt returns the rate coefficients at the conditions of a vessel.
//
// Ferrous iron with oxygen:
//
//	slow    log k = 21.56 - 1545/T - 3.29 √I + 1.52 I; k [O2]{OH-}²[Fe] a minute
//	fast    (2.91e-9 pO2/0.21 + 1.33e12 {OH-}² pO2) [Fe] a second at 25 °C, with
//	        96 kJ/mol from there at constant pH; pO2 = [O2]/solubility
//	middle  the geometric mean of both
//	floc    ks K [O2]([Fe floc] + surface)/{H+}
func (m *Model) lawAt(c Conditions, v Vessel) rateLaw {
	var at lawsAt
	if p := m.prepared(&c); p != nil {
		at = p.law
	} else {
		at = m.lawsAt(powersOf(c.Temperature.Kelvin()))
	}
	l := at.with(c.Law, c.Ionic.molL)
	l.flocSurface = v.Surface.Ferric.MgPerL() / (molFe * mgPerG)
	l.mnSurface = v.Surface.ManganeseOxide.MgPerL() / (molMnO2 * mgPerG)
	l.gas = m.gasLawAt(c, v.Bubbled)
	return l
}

// lawsAt are the coefficients at a temperature in water without salts, and those of
// ferrous iron with oxygen by each law.
type lawsAt struct {
	rateLaw
	slow, fast, fastPlain float64
}

func (m *Model) lawsAt(p powers) lawsAt {
	r, t := &m.rate, p.t
	cl, other := arrhenius(r.chlorineEnergy, t), arrhenius(permanganateKJ, t)
	air := arrhenius(r.mnO2Energy, t)
	l := lawsAt{rateLaw: rateLaw{
		floc:       r.floc * arrhenius(r.flocEnergy, t),
		ironCl:     r.ironCl * cl,
		chloramine: r.chloramine * arrhenius(r.chloramineEnergy, t),
		breakpoint: r.breakpoint1 * cl,
		mnCl:       r.mnCl * cl,
		mnSites:    r.mnOxide * arrhenius(r.oxideEnergy, t),
		siteK:      pow10(-r.sitePK),
		feMnO4:     r.feMnO4 * other,
		sMnO4:      r.sMnO4 * other,
		mnMnO4:     r.mnMnO4 * other * math.Sqrt(neutralH),
		hsH2O2:     r.hsH2O2 * other,
		sH2O2Fe:    r.sH2O2Fe * other,
		sulfO2:     pow10(r.sulfO2+sulfideSlope*(1/refT-1/t)) / secPerH,
		feH2O2:     pow10(peroxideFreeLog-peroxideFreeSlop/t) / secPerMn,
		feOHH2O2:   pow10(peroxideLog-peroxideSlope/t-6) / secPerMn,
		mnO2:       r.mnO2 * air * manganeseOxygenH * manganeseOxygenH,
		mnO2Sites:  r.mnO2Sites * air * 1e-8,
	}}
	kw, kw25 := pow10(m.logK(kW, p)), pow10(m.logK(kW, powersOf(refT)))
	perPressure := arrhenius(r.ironFastEnergy, t) / oxygenHenry(t)
	l.slow = pow10(r.ironSlow+ironSlowSlope*(1/refT-1/t)) / secPerMn * kw * kw
	l.fast, l.fastPlain = r.ironFast*kw25*kw25*perPressure, r.ironAcid*perPressure/0.21
	return l
}

// with brings in the ionic strength and picks the law of iron with oxygen, of
// [O2][Fe] and of [O2][Fe]/{H+}².
func (a *lawsAt) with(law Law, i float64) rateLaw {
	l, root := a.rateLaw, math.Sqrt(i)
	l.sulfO2 *= pow10(sulfideRootI * root)
	l.feOHH2O2 *= pow10(peroxideRootI*root + peroxideI*i)
	slow := a.slow * pow10(ironSlowRootI*root+ironSlowI*i)
	switch law {
	case SlowLaw:
		l.ironOH = slow
	case MiddleLaw:
		l.ironOH = math.Sqrt(slow * a.fast)
	default:
		l.ironPlain, l.ironOH = a.fastPlain, a.fast
	}
	return l
}

// IronHalfLife returns the time in which half the ferrous iron of a water is
// oxidised by oxygen, pH and oxygen held; ok is false without oxygen. Coating
// and floc act through the surface.
//
//	t½ = ln 2 / ( rate law [O2] )
//
// Range: 0 to 40 °C, pH 5.5 to 8.5. Error: the laws differ six-fold at 25 °C and
// more in cold water: show slow and fast together.
// Source: laws as in [Law].
func (m *Model) IronHalfLife(c Conditions, ph unit.PH, oxygen unit.Concentration, s Surface) (d time.Duration, ok bool) {
	l := m.lawAt(c, Vessel{Surface: s})
	h := activityOf(ph)
	k := (l.ironPlain + l.ironOH/(h*h) + l.floc*l.flocSurface/h) * oxygen.MgPerL() / (molO2 * mgPerG)
	if !(k > math.Ln2/longest) {
		return 0, false
	}
	return time.Duration(math.Ln2 / k * float64(time.Second)), true
}

// longest is the longest half-life told, seconds: what a duration can hold.
const longest = 9e9
