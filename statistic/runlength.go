package statistic

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
)

// runNodes is the number of nodes the integral equations are solved on, and
// longestRun the mean run length beyond which they are too near singular.
const (
	runNodes   = 80
	longestRun = 1e8
)

// CUSUMRunLength returns the mean number of values until a two-sided
// cumulative sum signals.
//
//	L(u) = 1 + L(0)·Φ(k − u − δ) + ∫ from 0 to h of L(x)·φ(x + k − u − δ) dx
//	1/ARL = 1/L⁺(0) + 1/L⁻(0)
//
//	k, h  slack and limit in standard deviations
//	δ     shift of the mean in standard deviations; 0 gives the false alarms
//
// Range: k from 0 to 3, h more than 0 to 20, |δ| to 10, answers to 1e8;
// independent normal values with μ and σ known. Error: under 1e-6 relative.
// Source: Page 1954 (integral equation, from memory).
func CUSUMRunLength(k, h, shift float64) (float64, error) {
	const method = "run length of a cumulative sum"
	switch {
	case !(k >= 0 && k <= 3):
		return 0, within(method, "slack", k, 0, 3)
	case !(h > 0 && h <= 20):
		return 0, within(method, "limit", h, 0, 20)
	case !(math.Abs(shift) <= 10):
		return 0, within(method, "shift", shift, -10, 10)
	}
	if guess, err := SiegmundRunLength(k, h, shift); err != nil || guess > longestRun {
		return 0, first(err, within(method, "run length", guess, 1, longestRun))
	}
	up, err := oneSidedCUSUM(k, h, shift)
	if err != nil {
		return 0, err
	}
	down, err := oneSidedCUSUM(k, h, -shift)
	return 1 / (1/up + 1/down), err
}

// oneSidedCUSUM solves the integral equation at zero and the Legendre nodes.
func oneSidedCUSUM(k, h, shift float64) (float64, error) {
	x, w := nodes(0, h)
	n := len(x) + 1
	a := mat.NewDense(n, n, nil)
	at := func(i int) float64 { // node 0 is the start
		if i == 0 {
			return 0
		}
		return x[i-1]
	}
	for i := range n {
		gap := k - at(i) - shift
		a.Set(i, 0, -cumulative(gap))
		for j := range x {
			a.Set(i, j+1, -w[j]*phi(x[j]+gap))
		}
		a.Set(i, i, a.At(i, i)+1)
	}
	return solveRun(a, func(l []float64) float64 { return l[0] })
}

// EWMARunLength returns the mean number of values until a moving average chart
// with its final limits signals.
//
//	L(u) = 1 + 1/λ ∫ from −A to A of L(x)·φ((x − (1−λ)u)/λ − δ) dx
//	A = L·√(λ/(2−λ)); the answer is L(0)
//
//	λ, L  weight and width of the limits;  δ  shift in standard deviations
//
// Range: λ from 0.02 to 1, L more than 0 to 5, |δ| to 10; independent normal
// values with μ and σ known. Error: under 1e-6 relative; the opening limits of
// the chart, which are closer, shorten it slightly.
// Source: Crowder 1987; Lucas and Saccucci 1990 (from memory).
func EWMARunLength(lambda, width, shift float64) (float64, error) {
	const method = "run length of a moving average"
	switch {
	case !(lambda >= 0.02 && lambda <= 1):
		return 0, within(method, "weight", lambda, 0.02, 1)
	case !(width > 0 && width <= 5):
		return 0, within(method, "width", width, 0, 5)
	case !(math.Abs(shift) <= 10):
		return 0, within(method, "shift", shift, -10, 10)
	}
	edge := width * math.Sqrt(lambda/(2-lambda))
	x, w := nodes(-edge, edge)
	step := func(from, to float64) float64 { return phi((to-(1-lambda)*from)/lambda-shift) / lambda }
	a := mat.NewDense(len(x), len(x), nil)
	for i := range x {
		for j := range x {
			a.Set(i, j, -w[j]*step(x[i], x[j]))
		}
		a.Set(i, i, a.At(i, i)+1)
	}
	return solveRun(a, func(l []float64) float64 {
		sum := 1.0
		for j := range x {
			sum += w[j] * l[j] * step(0, x[j])
		}
		return sum
	})
}

func nodes(low, high float64) (x, w []float64) {
	x, w = make([]float64, runNodes), make([]float64, runNodes)
	quad.Legendre{}.FixedLocations(x, w, low, high)
	return x, w
}

// solveRun solves a·L = 1 and reads the answer off L.
func solveRun(a *mat.Dense, read func([]float64) float64) (float64, error) {
	n, _ := a.Dims()
	ones := mat.NewVecDense(n, nil)
	for i := range n {
		ones.SetVec(i, 1)
	}
	var l mat.VecDense
	if err := l.SolveVec(a, ones); err != nil {
		return 0, err
	}
	return read(l.RawVector().Data), nil
}

// SiegmundRunLength is the closed approximation to CUSUMRunLength.
//
//	L± = (exp(−2Δb) + 2Δb − 1)/(2Δ²), Δ = ±δ − k, b = h + 1.166; Δ = 0: b²
//	1/ARL = 1/L⁺ + 1/L⁻
//
// Range: k not negative, h above 0. Error: about 3 % for k ½ and h 4 to 5.
// Source: Siegmund 1985, in Montgomery, Introduction to Statistical Quality
// Control (from memory).
func SiegmundRunLength(k, h, shift float64) (float64, error) {
	const method = "Siegmund run length"
	if err := first(positive(method, "limit", h), finite(method, []float64{shift})); err != nil {
		return 0, err
	}
	if !(k >= 0) {
		return 0, atLeast(method, "slack", k, 0)
	}
	b := h + 1.166
	side := func(d float64) float64 {
		if math.Abs(d) < 1e-6 {
			return b * b
		}
		return (math.Expm1(-2*d*b) + 2*d*b) / (2 * d * d)
	}
	return 1 / (1/side(shift-k) + 1/side(-shift-k)), nil
}
