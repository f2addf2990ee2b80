package statistic

import (
	"math"
	"slices"
)

// Welch tests whether two samples with their own variances have one mean.
//
//	t = (x̄1 − x̄2)/√(s1²/n1 + s2²/n2)
//	df = (s1²/n1 + s2²/n2)²/((s1²/n1)²/(n1−1) + (s2²/n2)²/(n2−1))
//
//	x̄, s, n  mean, standard deviation and number of each sample
//
// Range: two figures or more in each, not all equal; near normal. Error: the
// true significance within about a tenth of the stated one.
// Source: Welch, Biometrika 34, 1947; Satterthwaite 1946 (from memory).
func Welch(one, two []float64, confidence float64) (TResult, error) {
	const method = "Welch t test"
	if err := first(sample(method, one, 2), sample(method, two, 2), fraction(method, "confidence", confidence)); err != nil {
		return TResult{}, err
	}
	a, b := summarise(one), summarise(two)
	va, vb := a.SD*a.SD/float64(a.N), b.SD*b.SD/float64(b.N)
	se := math.Sqrt(va + vb)
	if err := positive(method, "standard error", se); err != nil {
		return TResult{}, err
	}
	df := (va + vb) * (va + vb) / (va*va/float64(a.N-1) + vb*vb/float64(b.N-1))
	gap := a.Mean - b.Mean
	h := twoSidedT(confidence, df) * se
	return TResult{N: a.N + b.N, T: gap / se, DF: df, P: tTails(gap/se, df),
		Mean: Interval{gap - h, gap, gap + h, confidence}}, nil
}

// RankSumResult is a Wilcoxon rank-sum (Mann-Whitney) test of two samples.
type RankSumResult struct {
	W, Expected, SD float64 // rank sum of the first sample
	Tied            bool
	Z               float64 // with ties and continuity
	P               Tails   // counted out with midranks to 60 figures, then normal
	Normal          Tails
}

// RankSum tests whether two samples come from one distribution, against one
// lying above the other.
//
//	W = Σ ranks of the first;  E = n1(N+1)/2
//	Var = n1·n2/12·(N + 1 − Σ(t³−t)/(N(N−1)))
//	Z = (W − E ∓ ½)/√Var;  exact: all choices of n1 midranks of N
//
//	n1, n2, N  numbers in the first, the second and both
//	t          size of a group of ties
//
// Range: one figure or more in each. For non-detects at one limit give both
// samples through CensorAtHighest together. Error: exact to 60 figures; Z is
// good from about ten in each. Source: Wilcoxon 1945; US EPA Unified Guidance
// 2009, chapter 16 (from memory).
func RankSum(one, two []float64) (RankSumResult, error) {
	const method = "rank-sum test"
	if err := first(sample(method, one, 1), sample(method, two, 1)); err != nil {
		return RankSumResult{}, err
	}
	ranked := rankOf(slices.Concat(one, two))
	w := 0
	for _, r := range ranked.doubled[:len(one)] {
		w += r
	}
	n1, n2 := float64(len(one)), float64(len(two))
	n := n1 + n2
	r := RankSumResult{W: float64(w) / 2, Expected: n1 * (n + 1) / 2, Tied: len(ranked.ties) > 0}
	variance := n1 * n2 / 12 * (n + 1 - tieTerm(ranked.ties, cubeLess)/(n*(n-1)))
	r.SD = math.Sqrt(math.Max(0, variance))
	r.Z, r.Normal = continuous(r.W-r.Expected, variance)
	r.P = r.Normal
	if len(ranked.doubled) <= exactSum {
		r.P = tails(sumDistribution(ranked.doubled, len(one)), w)
	}
	return r, nil
}

// sumDistribution returns the probability of each sum of k ranks drawn from all.
func sumDistribution(ranks []int, k int) []float64 {
	total := 0
	for _, r := range ranks {
		total += r
	}
	ways := make([][]float64, k+1)
	for i := range ways {
		ways[i] = make([]float64, total+1)
	}
	ways[0][0] = 1
	for seen, r := range ranks {
		for i := min(k, seen+1); i >= 1; i-- {
			for s := total; s >= r; s-- {
				ways[i][s] += ways[i-1][s-r]
			}
		}
	}
	all := 0.0
	for _, w := range ways[k] {
		all += w
	}
	for s := range ways[k] {
		ways[k][s] /= all
	}
	return ways[k]
}

// Shift estimates how far the first sample lies above the second, the partner
// of the rank-sum test.
//
//	median of all x(i) − y(j); limits: the c-th from below and from above,
//	c the greatest with P(U ≤ c−1) ≤ (1−confidence)/2, U = W − n1(n1+1)/2
//
// Range: at most 60 figures in both, and enough that one extreme order is rare
// enough for the confidence. Error: the true confidence is at least the one
// asked for without ties. Source: Hodges and Lehmann 1963 (from memory).
func Shift(one, two []float64, confidence float64) (Interval, error) {
	const method = "shift of two samples"
	if err := first(sample(method, one, 1), sample(method, two, 1), fraction(method, "confidence", confidence)); err != nil {
		return Interval{}, err
	}
	n := len(one) + len(two)
	if n > exactSum {
		return Interval{}, within(method, "number of figures", float64(n), 2, exactSum)
	}
	var gaps []float64
	for _, x := range one {
		for _, y := range two {
			gaps = append(gaps, x-y)
		}
	}
	slices.Sort(gaps)
	u := whole(sumDistribution(doubledRanks(n), len(one)))[len(one)*(len(one)+1)/2:]
	c := orderAt(u, (1-confidence)/2)
	out := Interval{math.Inf(-1), median(gaps), math.Inf(1), confidence}
	if c > 0 {
		out.Low, out.High = gaps[c-1], gaps[len(gaps)-c]
	}
	return out, nil
}
