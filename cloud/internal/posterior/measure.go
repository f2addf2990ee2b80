package posterior

import "math"

// Sign says whether a figure is read, or only a limit.
type Sign int

// The signs.
const (
	Exact Sign = iota
	Below
	Above
)

// Term is so many times an amount.
type Term struct {
	Of    Quantity
	Times float64
}

// Kind is the law by which a water shows in a result.
type Kind int

// The laws.
const (
	LogSum  Kind = iota // logarithm of a sum of amounts
	Plain               // temperature or pH as it is
	LatePH              // pH of a bottle on its way to the air's
	LateAlk             // alkalinity of a bottle in which ferrous iron rusts
)

// Measure is one result with the law and the error it is read by.
//
//	ln y = ln Σ terms + shift + season of the visit + error of the bottle + e
//
// for a sum, and the same without logarithms for pH and temperature.
type Measure struct {
	Kind   Kind
	Terms  []Term
	Value  float64 // mg/L, or pH, or °C
	Sign   Sign
	SD     float64 // of ln y, or of y
	Shift  float64
	Visit  int // whose deviation of iron it shares; -1: none
	Bottle int // whose error it shares; -1: none
	Report int // whose faults touch it
	Tag    Tag
	Lag    Lag

	visit, bottle int     // places of the shared unknowns; 0: none
	ln            float64 // value in the terms of the law
}

// Tag names what kind of result it is, for the faults to find it by.
type Tag int

// The tags.
const (
	Other Tag = iota
	IronTotalLab
	IronTotalKit
	IronDissolved
	IronFerrous
	Major // an ion that a softener or a bad report may change
	SodiumRead
	HardnessRead
	ManganeseRead
	OxygenRead
)

// Lag is how far a late reading has gone, and how far that is known.
type Lag struct{ Mean, SD float64 }

// logy is the value in the terms of the law.
func (m *Measure) logy() float64 {
	if m.Kind == Plain || m.Kind == LatePH {
		return m.Value
	}
	return math.Log(m.Value)
}

// predict returns what the water would show, with the variance of the law.
func (m *Measure) predict(s *state, x *vector) (mean, variance float64) {
	variance = m.SD * m.SD
	switch m.Kind {
	case Plain:
		mean = s.amount[m.Terms[0].Of]
	case LatePH:
		far := openPH(s.amount[Alkalinity]) - s.amount[PH]
		mean = s.amount[PH] + m.Lag.Mean*math.Max(0, far)
		variance += square(m.Lag.SD * math.Max(0, far))
	case LateAlk:
		rust := m.Terms[1].Times * s.amount[Ferrous]
		a := s.amount[Alkalinity]
		mean = math.Log(math.Max(0.05*a, a-m.Lag.Mean*rust))
		variance += square(m.Lag.SD * rust / a)
	default:
		mean = math.Log(m.sum(s)) + m.Shift
	}
	if m.visit > 0 {
		mean += x[m.visit]
	}
	if m.bottle > 0 {
		mean += x[m.bottle]
	}
	return mean, variance
}

func (m *Measure) sum(s *state) float64 {
	sum := 0.0
	for _, t := range m.Terms {
		sum += t.Times * s.amount[t.Of]
	}
	return sum
}

// gradient adds the slope of what the water would show to g.
func (m *Measure) gradient(s *state, g *vector) {
	switch m.Kind {
	case Plain:
		g[m.Terms[0].Of]++
	case LatePH:
		g[PH] += 1 - m.Lag.Mean
		s.addSlope(g, Alkalinity, m.Lag.Mean/math.Ln10)
	case LateAlk:
		rust := m.Lag.Mean * m.Terms[1].Times * s.amount[Ferrous]
		left := math.Max(0.05*s.amount[Alkalinity], s.amount[Alkalinity]-rust)
		s.addSlope(g, Alkalinity, s.amount[Alkalinity]/left)
		s.addSlope(g, Ferrous, -rust/left)
	default:
		sum := m.sum(s)
		for _, t := range m.Terms {
			s.addSlope(g, t.Of, t.Times*s.amount[t.Of]/sum)
		}
	}
	if m.visit > 0 {
		g[m.visit]++
	}
	if m.bottle > 0 {
		g[m.bottle]++
	}
}

// openPH is the pH of a water that stands open to the air.
//
//	pH = pK1 + pKH - log pCO2 + log [HCO3]
//
//	pK1 6.35, pKH 1.47 at 25 °C; pCO2 10^-3.4 atm; [HCO3] = Alk/50,044, mol/L
//
// Range: alkalinity of 10 to 500 mg/L. Error: 0.1. Source: carbonate equilibria,
// Stumm & Morgan, Aquatic Chemistry (from memory).
func openPH(alkalinity float64) float64 {
	return 6.35 + 1.47 + 3.4 + math.Log10(math.Max(alkalinity, 1)/50044)
}

// likelihood is the logarithm of the chance of the result, with its slope and
// curvature in what the water would show.
func (m *Measure) likelihood(mean, variance float64) (l, slope, curve float64) {
	sd := math.Sqrt(variance)
	z := (m.ln - mean) / sd
	switch m.Sign {
	case Below:
		l, slope, curve = logPhi(z)
		return l, -slope / sd, curve / variance
	case Above:
		l, slope, curve = logPhi(-z)
		return l, slope / sd, curve / variance
	}
	return -0.5*z*z - 0.5*math.Log(variance) - halfLog2Pi, z / sd, 1 / variance
}

// logPhi is the logarithm of the normal distribution function at z, with its
// slope and the negative of its curvature.
func logPhi(z float64) (l, slope, curve float64) {
	if z < -8 { // asymptotic series: Abramowitz & Stegun 26.2.12 (from memory)
		z2 := z * z
		l = -0.5*z2 - halfLog2Pi - math.Log(-z) + math.Log1p(-1/z2+3/(z2*z2))
		slope = -z - 1/z + 2/(z2*z)
	} else {
		p := 0.5 * math.Erfc(-z/math.Sqrt2)
		l = math.Log(p)
		slope = math.Exp(-0.5*z*z-halfLog2Pi) / p
	}
	return l, slope, slope * (slope + z)
}

func square(v float64) float64 { return v * v }
