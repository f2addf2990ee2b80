package statistic

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"wellwright/source"
)

// Logistic is the breakthrough curve of a bed, in the form of Yoon and Nelson.
// Thomas and Bohart-Adams are the same curve under other names: fitting more
// than one to the same figures adds nothing.
type Logistic struct {
	K   float64 // per unit of time
	Tau float64 // time of half breakthrough
}

// At returns C/C0 at time t.
//
//	C/C0 = 1/(1 + exp(k·(τ − t)))
//
// Range: k above zero. Error: symmetric about τ, which real beds are not quite.
// Source: Yoon and Nelson, Am. Ind. Hyg. Assoc. J. 45, 1984 (from memory).
func (c Logistic) At(t float64) float64 { return 1 / (1 + math.Exp(c.K*(c.Tau-t))) }

// TimeAt returns the time at which C/C0 reaches f.
//
//	t = τ + ln(f/(1−f))/k
//
// Range: 0 < f < 1, k above zero. A time below zero says that the curve starts
// above f. Error and source: as At.
func (c Logistic) TimeAt(f float64) (float64, error) {
	const method = "time of breakthrough"
	if err := first(fraction(method, "C/C0", f), positive(method, "rate", c.K)); err != nil {
		return 0, err
	}
	return c.Tau + logit(f)/c.K, nil
}

func logit(f float64) float64 { return math.Log(f / (1 - f)) }

// Thomas is the curve by the capacity of the media. Any units will do in which
// Rate·Feed is per time and Capacity·Mass/(Feed·Flow) a time: L/(mg·min), mg/g,
// g, L/min and mg/L, for one.
type Thomas struct{ Rate, Capacity, Mass, Flow, Feed float64 }

// Logistic returns the curve.
//
//	k = kTh·C0, τ = q0·m/(C0·Q)
//
//	kTh  rate, q0  capacity, m  mass of media, Q  flow, C0  feed
//
// Range: all above zero. Error: as Logistic.At. Source: Thomas 1944; the
// identity: Chu, J. Hazard. Mater. 177, 2010.
func (m Thomas) Logistic() (Logistic, error) {
	const method = "Thomas curve"
	if err := first(positive(method, "rate", m.Rate), positive(method, "capacity", m.Capacity), positive(method, "mass", m.Mass),
		positive(method, "flow", m.Flow), positive(method, "feed", m.Feed)); err != nil {
		return Logistic{}, err
	}
	return Logistic{m.Rate * m.Feed, m.Capacity * m.Mass / (m.Feed * m.Flow)}, nil
}

// Thomas returns the rate and capacity that a fitted curve stands for; m gives
// the mass, flow and feed.
//
//	kTh = k/C0, q0 = τ·C0·Q/m
//
// Range, error and source: as Thomas.Logistic.
func (c Logistic) Thomas(m Thomas) (Thomas, error) {
	const method = "Thomas curve"
	if err := first(c.check(method), positive(method, "mass", m.Mass), positive(method, "flow", m.Flow), positive(method, "feed", m.Feed)); err != nil {
		return Thomas{}, err
	}
	m.Rate, m.Capacity = c.K/m.Feed, c.Tau*m.Feed*m.Flow/m.Mass
	return m, nil
}

func (c Logistic) check(method string) error {
	return first(positive(method, "rate", c.K), positive(method, "time of half breakthrough", c.Tau))
}

// BohartAdams is the curve by the capacity of the bed. Any units will do in
// which Rate·Feed is per time and Capacity·Depth/(Feed·Velocity) a time.
type BohartAdams struct{ Rate, Capacity, Depth, Velocity, Feed float64 }

// Logistic returns the curve.
//
//	k = kBA·C0, τ = N0·Z/(C0·u)
//
//	kBA  rate, N0  capacity per volume of bed, Z  depth, u  velocity over the
//	open bed, C0  feed
//
// Range: all above zero. Error: leaves out the 1 that Exact keeps: matters only
// where k·τ is under about 3. Source: Bohart and Adams 1920; the identity: Chu,
// J. Hazard. Mater. 177, 2010.
func (m BohartAdams) Logistic() (Logistic, error) {
	const method = "Bohart-Adams curve"
	if err := first(positive(method, "rate", m.Rate), positive(method, "capacity", m.Capacity), positive(method, "depth", m.Depth),
		positive(method, "velocity", m.Velocity), positive(method, "feed", m.Feed)); err != nil {
		return Logistic{}, err
	}
	return Logistic{m.Rate * m.Feed, m.Capacity * m.Depth / (m.Feed * m.Velocity)}, nil
}

// Exact returns C/C0 at time t by the full equation.
//
//	C/C0 = 1/(1 + exp(−kBA·C0·t)·(exp(kBA·N0·Z/u) − 1))
//
// Range: all above zero, t not negative. Source: Bohart and Adams, J. Am. Chem.
// Soc. 42, 1920 (from memory).
func (m BohartAdams) Exact(t float64) (float64, error) {
	c, err := m.Logistic()
	if err != nil {
		return 0, err
	}
	if !(t >= 0) {
		return 0, atLeast("Bohart-Adams curve", "time", t, 0)
	}
	// exp(kτ − kt) − exp(−kt), so that a deep bed does not overflow.
	return 1 / (1 + math.Exp(c.K*(c.Tau-t)) - math.Exp(-c.K*t)), nil
}

// BohartAdams returns the rate and capacity that a fitted curve stands for; m
// gives the depth, velocity and feed.
//
//	kBA = k/C0, N0 = τ·C0·u/Z
//
// Range, error and source: as BohartAdams.Logistic.
func (c Logistic) BohartAdams(m BohartAdams) (BohartAdams, error) {
	const method = "Bohart-Adams curve"
	if err := first(c.check(method), positive(method, "depth", m.Depth), positive(method, "velocity", m.Velocity), positive(method, "feed", m.Feed)); err != nil {
		return BohartAdams{}, err
	}
	m.Rate, m.Capacity = c.K/m.Feed, c.Tau*m.Feed*m.Velocity/m.Depth
	return m, nil
}

// BreakthroughFit is a fitted curve.
type BreakthroughFit struct {
	Logistic
	SEK, SETau float64 // standard errors
	N          int     // points used
	Left       int     // points left out, too near 0 or 1 or beyond
	Residual   float64 // standard deviation about the curve, C/C0
}

// FitLine fits the curve by a straight line, on the points whose C/C0 lies
// strictly between the limits of the set (0.05 and 0.95).
//
//	ln(f/(1−f)) = k·t − k·τ, least squares
//
// Range: three points or more inside, not all at one time, rising. Error: the
// ends weigh too much; FitCurve is better. SEs are those of the line.
// Source: common practice of column studies.
func FitLine(points []Point, set source.Set) (BreakthroughFit, error) {
	const method = "straight-line fit of a breakthrough"
	if err := checkSeries(method, points, 1); err != nil {
		return BreakthroughFit{}, err
	}
	low, high := math.Max(0, set.Of(fitLow)), math.Min(1, set.Of(fitHigh))
	var t, y []float64
	var used []Point
	for _, p := range points {
		if p.Y > low && p.Y < high {
			t, y, used = append(t, p.T), append(y, logit(p.Y)), append(used, p)
		}
	}
	if err := few(method, "number of points inside the limits", len(t), 3); err != nil {
		return BreakthroughFit{}, err
	}
	if err := positive(method, "spread of times", summarise(t).SD); err != nil {
		return BreakthroughFit{}, err
	}
	b0, k := stat.LinearRegression(t, y, nil, false)
	if err := positive(method, "rate", k); err != nil {
		return BreakthroughFit{}, err
	}
	f := BreakthroughFit{Logistic: Logistic{k, -b0 / k}, N: len(t), Left: len(points) - len(t)}
	f.lineErrors(t, y)
	f.Residual = math.Sqrt(f.squares(used) / float64(f.N-2))
	return f, nil
}

func (f *BreakthroughFit) lineErrors(t, y []float64) {
	mean := meanOf(t)
	var sxx, rss float64
	for i := range t {
		sxx += (t[i] - mean) * (t[i] - mean)
		e := y[i] - f.K*(t[i]-f.Tau)
		rss += e * e
	}
	s2 := rss / float64(f.N-2)
	f.SEK = math.Sqrt(s2 / sxx)
	f.SETau = math.Sqrt(s2*(1/float64(f.N)+(f.Tau-mean)*(f.Tau-mean)/sxx)) / f.K
}

func (c Logistic) squares(points []Point) float64 {
	sum := 0.0
	for _, p := range points {
		e := p.Y - c.At(p.T)
		sum += e * e
	}
	return sum
}

// FitCurve fits the curve to all points by least squares in C/C0.
//
//	least Σ (f − 1/(1 + exp(k(τ − t))))², by Levenberg-Marquardt steps
//	se² = diagonal of s²·(JᵀJ)⁻¹, s² = RSS/(n−2)
//
//	J  slopes of the curve in k and τ at each point
//
// It starts from the straight line where there is one, else from the middle of
// the record. Figures of 0, 1 and above take part as they are.
// Range: three points or more, not all at one time, that rise. Error: given by
// the SEs, if the errors are even in C/C0 and independent.
// Source: Marquardt 1963; textbook.
func FitCurve(points []Point, set source.Set) (BreakthroughFit, error) {
	const method = "curve fit of a breakthrough"
	if err := checkSeries(method, points, 3); err != nil {
		return BreakthroughFit{}, err
	}
	ts, _ := columns(points)
	spread := summarise(ts)
	if err := positive(method, "spread of times", spread.SD); err != nil {
		return BreakthroughFit{}, err
	}
	start := Logistic{1 / spread.SD, spread.Mean}
	if line, err := FitLine(points, set); err == nil {
		start = line.Logistic
	}
	c := start.descend(points)
	if err := positive(method, "rate", c.K); err != nil {
		return BreakthroughFit{}, err
	}
	n := c.normal(points)
	f := BreakthroughFit{Logistic: c, N: len(points)}
	s2 := c.squares(points) / float64(f.N-2)
	det := n.kk*n.tt - n.kt*n.kt
	if err := positive(method, "information in the points", det); err != nil {
		return BreakthroughFit{}, err
	}
	f.Residual = math.Sqrt(s2)
	f.SEK, f.SETau = math.Sqrt(s2*n.tt/det), math.Sqrt(s2*n.kk/det)
	return f, nil
}

// normal holds JᵀJ and Jᵀe.
type normal struct{ kk, kt, tt, k, t float64 }

func (c Logistic) normal(points []Point) normal {
	var n normal
	for _, p := range points {
		f := c.At(p.T)
		bend := f * (1 - f)
		jk, jt := bend*(p.T-c.Tau), -bend*c.K
		e := p.Y - f
		n.kk, n.kt, n.tt = n.kk+jk*jk, n.kt+jk*jt, n.tt+jt*jt
		n.k, n.t = n.k+jk*e, n.t+jt*e
	}
	return n
}

// descend takes Levenberg-Marquardt steps until they no longer help.
func (c Logistic) descend(points []Point) Logistic {
	best, damp := c.squares(points), 1e-3
	for range 500 {
		n := c.normal(points)
		kk, tt := n.kk*(1+damp), n.tt*(1+damp)
		det := kk*tt - n.kt*n.kt
		dk, dt := (tt*n.k-n.kt*n.t)/det, (kk*n.t-n.kt*n.k)/det
		next := Logistic{c.K + dk, c.Tau + dt}
		ss := next.squares(points)
		if !(ss <= best) {
			if damp *= 10; damp > 1e12 {
				break
			}
			continue
		}
		small := math.Abs(dk) <= 1e-13*math.Abs(c.K) && math.Abs(dt) <= 1e-13*math.Abs(c.Tau)
		c, best, damp = next, ss, math.Max(damp/10, 1e-15)
		if small {
			break
		}
	}
	return c
}
