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

// Term is so many times an amount, known to a spread.
type Term struct {
	Of     Quantity
	Times  float64
	Spread float64 // one standard deviation of Times; 0: certain
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
//	g(y) = g(exp(ln Σ terms + shift + season of the visit + error of the bottle)) + e
//	g(y) = ln (y + √(y² + (floor/SD)²))/2
//
// for a sum, and without logarithms for pH and temperature. Far above floor/SD the
// error is a share of the figure, SD; near nothing it is the floor. The spread of a
// term adds (spread · amount)² / (y² + (floor/SD)²) to the variance of e, by the
// slope of g.
// Source: two components of error, Rocke and Lorenzato, Technometrics 37:176
// (1995); the transformation, Durbin et al., Bioinformatics 18:S105 (2002) (both
// from memory).
type Measure struct {
	Kind   Kind
	Terms  []Term
	Value  float64 // mg/L, or pH, or °C
	Sign   Sign
	SD     float64 // of ln y, or of y
	Floor  float64 // error of y near nothing, mg/L; 0: none
	Shift  float64
	Visit  int // whose deviation of iron it shares; -1: none
	Bottle int // whose error it shares; -1: none
	Report int // whose faults touch it
	Tag    Tag
	Lag    Lag

	visit, bottle int     // places of the shared unknowns; 0: none
	ln            float64 // value in the terms of the law
	stretch       float64 // logarithm of the slope of that in ln y
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
	ConductivityRead
	JarRead // what a treated jar leaves
)

// Lag is how far a late reading has gone, and how far that is known.
type Lag struct{ Mean, SD float64 }

func (m *Measure) straight() bool { return m.Kind == Plain || m.Kind == LatePH }

// logy is the logarithm of the value, or the value of what has none.
func (m *Measure) logy() float64 {
	if m.straight() {
		return m.Value
	}
	return math.Log(m.Value)
}

// ready works out what does not hang on the water.
func (m *Measure) ready() {
	m.ln = m.bend(m.logy())
	m.stretch = math.Log(m.slope(m.ln))
}

// bend makes g of a logarithm.
func (m *Measure) bend(ln float64) float64 {
	if m.Floor == 0 || m.straight() {
		return ln
	}
	y := math.Exp(ln)
	return math.Log((y + math.Hypot(y, m.Floor/m.SD)) / 2)
}

// slope is that of g in the logarithm, at a value of g.
func (m *Measure) slope(g float64) float64 {
	if m.Floor == 0 || m.straight() {
		return 1
	}
	up, down := math.Exp(g), square(m.Floor/m.SD)/4*math.Exp(-g)
	return math.Max(1e-9, (up-down)/(up+down))
}

// unbend makes the figure of g; what falls below nothing reads as nothing.
func (m *Measure) unbend(g float64) float64 {
	if m.straight() {
		return g
	}
	y := math.Exp(g)
	if m.Floor > 0 {
		y -= square(m.Floor/m.SD) / 4 / y
	}
	return math.Max(0, y)
}

// predict returns what the water would show, in the terms of the law, with the
// variance.
func (m *Measure) predict(s *state, x *vector) (mean, variance float64) {
	mean, variance = m.expect(s)
	if m.visit > 0 {
		mean += x[m.visit]
	}
	if m.bottle > 0 {
		mean += x[m.bottle]
	}
	return m.bend(mean), variance
}

// expect is the logarithm of what the water would show but for what results share.
func (m *Measure) expect(s *state) (mean, variance float64) {
	variance = m.SD * m.SD
	switch m.Kind {
	case Plain:
		mean = s.amount[m.Terms[0].Of]
	case LatePH:
		far := OpenPH(s.amount[Alkalinity]) - s.amount[PH]
		mean = s.amount[PH] + m.Lag.Mean*math.Max(0, far)
		variance += square(m.Lag.SD * math.Max(0, far))
	case LateAlk:
		rust := m.Terms[1].Times * s.amount[Ferrous]
		a := s.amount[Alkalinity]
		mean = math.Log(math.Max(0.05*a, a-m.Lag.Mean*rust))
		variance += square(m.Lag.SD * rust / a)
	default:
		sum := m.sum(s)
		mean = math.Log(sum) + m.Shift
		if v := m.spread(s); v > 0 {
			variance += v / (sum*sum + square(m.Floor/m.SD))
		}
	}
	return mean, variance
}

// spread is the variance of the sum by what is not known of its terms.
func (m *Measure) spread(s *state) float64 {
	v := 0.0
	for _, t := range m.Terms {
		if t.Spread > 0 {
			v += square(t.Spread * s.amount[t.Of])
		}
	}
	return v
}

func (m *Measure) sum(s *state) float64 {
	sum := 0.0
	for _, t := range m.Terms {
		sum += t.Times * s.amount[t.Of]
	}
	return sum
}

// gradient adds the slope of the logarithm of what the water would show to g.
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

// OpenPH is the pH of a water that stands open to the air.
//
//	pH = pK1 + pKH - log pCO2 + log [HCO3]
//
//	pK1 6.35, pKH 1.47 at 25 °C; pCO2 10^-3.4 atm; [HCO3] = Alk/50,044, mol/L
//
// Range: alkalinity of 10 to 500 mg/L. Error: 0.1. Source: carbonate equilibria,
// Stumm & Morgan, Aquatic Chemistry (from memory).
func OpenPH(alkalinity float64) float64 {
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
	return -0.5*z*z - 0.5*math.Log(variance) - halfLog2Pi + m.stretch, z / sd, 1 / variance
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
