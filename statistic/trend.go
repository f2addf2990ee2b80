package statistic

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Point is one figure of a series: Y at time T, in any unit of time.
type Point struct{ T, Y float64 }

// exactKendall is the longest series whose order counts are counted out.
const exactKendall = 60

// KendallResult is a Mann-Kendall test for trend.
type KendallResult struct {
	N        int
	S        int     // rising pairs less falling ones
	Variance float64 // of S if there is no trend
	Z        float64 // with continuity
	Tau      float64 // S over the number of pairs
	P        Tails   // normal, with ties
	Counted  *Tails  // counted out; nil with ties or more than 60 figures
}

// MannKendall tests whether figures rise or fall with time.
//
//	S = Σ sign(y(j) − y(i))·sign(t(j) − t(i)), i < j
//	Var = [n(n−1)(2n+5) − Σ a(a−1)(2a+5) − Σ b(b−1)(2b+5)]/18
//	    + Σa(a−1)·Σb(b−1)/(2n(n−1))
//	    + Σa(a−1)(a−2)·Σb(b−1)(b−2)/(9n(n−1)(n−2))
//	Z = (S ∓ 1)/√Var, 0 for S = 0;  τ = 2S/(n(n−1))
//
//	a, b  sizes of the groups of equal y and of equal t
//
// Range: three figures or more, independent, at times not all equal, y not all
// equal. Error: Z is good from ten figures; below, use Counted.
// Source: Mann 1945, Kendall 1975; US EPA Unified Guidance 2009, chapter 17
// (from memory).
func MannKendall(series []Point) (KendallResult, error) {
	const method = "Mann-Kendall test"
	if err := checkSeries(method, series, 3); err != nil {
		return KendallResult{}, err
	}
	r := kendall(series)
	if r.Variance <= 0 {
		return KendallResult{}, moreThan(method, "variance", 0, 0)
	}
	r.Z, r.P = stepped(r.S, r.Variance)
	return r, nil
}

func checkSeries(method string, series []Point, want int) error {
	ts, ys := columns(series)
	return first(sample(method, ts, want), finite(method, ys))
}

func columns(series []Point) (ts, ys []float64) {
	for _, p := range series {
		ts, ys = append(ts, p.T), append(ys, p.Y)
	}
	return ts, ys
}

// kendall counts S and its variance.
func kendall(series []Point) KendallResult {
	ts, ys := columns(series)
	a, b := rankOf(ys), rankOf(ts)
	r := KendallResult{N: len(series)}
	for j := range series {
		for i := range j {
			r.S += sign(float64(a.doubled[j]-a.doubled[i])) * sign(float64(b.doubled[j]-b.doubled[i]))
		}
	}
	r.Variance = kendallVariance(float64(r.N), a.ties, b.ties)
	r.Tau = float64(r.S) / float64(r.N*(r.N-1)/2)
	if r.N <= exactKendall && a.ties == nil && b.ties == nil {
		pairs := r.N * (r.N - 1) / 2
		counted := tails(inversions(r.N), (pairs+r.S)/2)
		r.Counted = &counted
	}
	return r
}

func kendallVariance(n float64, a, b []int) float64 {
	full := func(t float64) float64 { return t * (t - 1) * (2*t + 5) }
	two := func(t float64) float64 { return t * (t - 1) }
	three := func(t float64) float64 { return t * (t - 1) * (t - 2) }
	v := (full(n) - tieTerm(a, full) - tieTerm(b, full)) / 18
	v += tieTerm(a, two) * tieTerm(b, two) / (2 * two(n))
	if n > 2 {
		v += tieTerm(a, three) * tieTerm(b, three) / (9 * three(n))
	}
	return v
}

// stepped returns the normal test of S, which moves by two.
func stepped(s int, variance float64) (float64, Tails) {
	sd := math.Sqrt(variance)
	t := twoSided(cumulative(float64(s+1)/sd), cumulative(-float64(s-1)/sd))
	return float64(s-sign(float64(s))) / sd, t
}

// inversions returns the probability of each number of pairs in rising order
// among all orders of n figures.
func inversions(n int) []float64 {
	prob := []float64{1}
	for m := 2; m <= n; m++ {
		next := make([]float64, m*(m-1)/2+1)
		for k, p := range prob {
			for i := range m {
				next[k+i] += p / float64(m)
			}
		}
		prob = next
	}
	return prob
}

// Slope is a straight trend: y = Intercept + Mid·t.
type Slope struct {
	Interval
	Intercept float64
	Pairs     int
}

// SenSlope returns the median slope of all pairs, its interval, and the line
// through the medians.
//
//	b = median (y(j) − y(i))/(t(j) − t(i)), t(i) ≠ t(j)
//	M1 = (N − z√Var)/2, M2 = (N + z√Var)/2: slopes of order M1 and M2+1,
//	interpolated; intercept = median(y) − b·median(t)
//
//	N    number of slopes, Var  variance of S as in MannKendall
//
// A limit beyond the outermost slope is infinite: the data leave it open.
// Range: three figures or more at two times or more. Error: given by the
// interval; good from ten figures. Source: Sen 1968; Gilbert 1987; US EPA
// Unified Guidance 2009, chapter 17 (from memory).
func SenSlope(series []Point, confidence float64) (Slope, error) {
	const method = "Sen slope"
	if err := first(checkSeries(method, series, 3), fraction(method, "confidence", confidence)); err != nil {
		return Slope{}, err
	}
	slopes := pairSlopes(series)
	if err := few(method, "number of slopes", len(slopes), 1); err != nil {
		return Slope{}, err
	}
	slices.Sort(slopes)
	s := Slope{Interval: slopeInterval(slopes, kendall(series).Variance, confidence), Pairs: len(slopes)}
	s.Intercept = interceptOf(series, s.Mid)
	return s, nil
}

func pairSlopes(series []Point) []float64 {
	var slopes []float64
	for j, q := range series {
		for _, p := range series[:j] {
			if !tied(q.T, p.T) {
				slopes = append(slopes, (q.Y-p.Y)/(q.T-p.T))
			}
		}
	}
	return slopes
}

func slopeInterval(ordered []float64, variance, confidence float64) Interval {
	n := float64(len(ordered))
	c := zOf((1+confidence)/2) * math.Sqrt(variance)
	return Interval{atOrder(ordered, (n-c)/2), median(ordered), atOrder(ordered, (n+c)/2+1), confidence}
}

func interceptOf(series []Point, slope float64) float64 {
	ts, ys := columns(series)
	return median(sorted(ys)) - slope*median(sorted(ts))
}

// SeasonalResult is a seasonal Kendall test: one trend under a yearly swing.
type SeasonalResult struct {
	S             int
	Variance, Z   float64
	Tau           float64 // mean of the seasons' τ, weighted by their numbers
	P             Tails
	Slope         Slope
	Heterogeneity float64 // χ² of the seasons' trends differing; DF = seasons − 1
	DF            float64
	PSame         float64 // probability of such a χ² if all seasons trend alike
}

// SeasonalKendall tests for a trend common to all seasons, each compared only
// with itself. One series is given per season, T in years.
//
//	S = Σ S(g), Var = Σ Var(g), Z = (S ∓ 1)/√Var
//	slope: median of all slopes within seasons; intercept: median over the
//	seasons of median(y) − slope·median(t), so that the line meets the data
//	χ² = Σ Z(g)² − (Σ Z(g))²/K, Z(g) = S(g)/√Var(g), K−1 degrees of freedom
//
//	g  season of K
//
// Range: two seasons or more, each of three figures or more that are not all
// equal; seasons independent of each other. Error: Z is good from about 25
// figures in all; correlated seasons make P too small.
// Source: Hirsch, Slack and Smith, Water Resour. Res. 18, 1982; US EPA Unified
// Guidance 2009, chapter 14 (from memory).
func SeasonalKendall(seasons [][]Point, confidence float64) (SeasonalResult, error) {
	const method = "seasonal Kendall test"
	if err := first(few(method, "number of seasons", len(seasons), 2), fraction(method, "confidence", confidence)); err != nil {
		return SeasonalResult{}, err
	}
	var r SeasonalResult
	var slopes []float64
	var n, sum, squares float64
	for _, g := range seasons {
		k, err := MannKendall(g)
		if err != nil {
			return SeasonalResult{}, err
		}
		z := float64(k.S) / math.Sqrt(k.Variance)
		sum, squares = sum+z, squares+z*z
		n, r.Tau = n+float64(k.N), r.Tau+float64(k.N)*k.Tau
		r.S, r.Variance = r.S+k.S, r.Variance+k.Variance
		slopes = append(slopes, pairSlopes(g)...)
	}
	r.Tau /= n
	r.Z, r.P = stepped(r.S, r.Variance)
	r.DF = float64(len(seasons) - 1)
	r.Heterogeneity = math.Max(0, squares-sum*sum/float64(len(seasons)))
	r.PSame = distuv.ChiSquared{K: r.DF}.Survival(r.Heterogeneity)
	slices.Sort(slopes)
	r.Slope = Slope{Interval: slopeInterval(slopes, r.Variance, confidence), Pairs: len(slopes)}
	r.Slope.Intercept = medianIntercept(seasons, r.Slope.Mid)
	return r, nil
}

func medianIntercept(seasons [][]Point, slope float64) float64 {
	var each []float64
	for _, g := range seasons {
		each = append(each, interceptOf(g, slope))
	}
	return median(sorted(each))
}
