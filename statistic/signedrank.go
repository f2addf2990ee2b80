package statistic

import (
	"math"
	"slices"
)

// Up to this many differences or figures the distribution is counted out.
const (
	exactSigned = 200
	exactSum    = 60
)

// SignedRankResult is a Wilcoxon signed-rank test.
type SignedRankResult struct {
	N           int // differences that are not zero
	Zeros       int // left out
	Plus, Minus float64
	Tied        bool
	P           Tails   // counted out with midranks; normal beyond 200 differences
	NoTies      Tails   // from the table without ties, as printed in books
	Z           float64 // with ties and continuity
	Normal      Tails
}

// SignedRank tests whether paired differences lie evenly about zero.
//
//	W+ = Σ rank(|d|) over d > 0
//	P(W+ ≥ w): all 2^n choices of sign, with the midranks as they are
//	Z = (W+ − n(n+1)/4 ∓ ½)/√(n(n+1)(2n+1)/24 − Σ(t³−t)/48)
//
//	d  differences or log ratios; zeros are left out
//	t  size of a group of tied |d|
//
// Range: one difference or more that is not zero; symmetric about their median.
// Error: exact to 200 differences; Z is good from about 15.
// Source: Wilcoxon, Biometrics Bull. 1, 1945; Helsel and Hirsch, Statistical
// Methods in Water Resources (from memory).
func SignedRank(differences []float64) (SignedRankResult, error) {
	const method = "signed-rank test"
	if err := finite(method, differences); err != nil {
		return SignedRankResult{}, err
	}
	d := slices.DeleteFunc(slices.Clone(differences), func(x float64) bool { return x == 0 })
	r := SignedRankResult{N: len(d), Zeros: len(differences) - len(d)}
	if err := few(method, "number of differences that are not zero", r.N, 1); err != nil {
		return r, err
	}
	size := make([]float64, len(d))
	for i, x := range d {
		size[i] = math.Abs(x)
	}
	ranked := rankOf(size)
	plus := 0
	for i, x := range d {
		if x > 0 {
			plus += ranked.doubled[i]
		}
	}
	n := float64(r.N)
	r.Plus = float64(plus) / 2
	r.Minus = n*(n+1)/2 - r.Plus
	r.Tied = len(ranked.ties) > 0
	r.Z, r.Normal = continuous(r.Plus-n*(n+1)/4, n*(n+1)*(2*n+1)/24-tieTerm(ranked.ties, cubeLess)/48)
	r.P, r.NoTies = r.Normal, r.Normal
	if r.N <= exactSigned {
		r.P = tails(signDistribution(ranked.doubled), plus)
		r.NoTies = tails(signDistribution(doubledRanks(r.N)), plus)
	}
	return r, nil
}

// continuous returns the normal test of a count with half a step taken off.
func continuous(excess, variance float64) (float64, Tails) {
	if variance <= 0 {
		return 0, Tails{1, 1, 1}
	}
	sd := math.Sqrt(variance)
	t := twoSided(cumulative((excess+0.5)/sd), cumulative(-(excess-0.5)/sd))
	return (excess - 0.5*float64(sign(excess))) / sd, t
}

func doubledRanks(n int) []int {
	r := make([]int, n)
	for i := range r {
		r[i] = 2 * (i + 1)
	}
	return r
}

// signDistribution returns the probability of each sum when every rank is taken
// or left with chance one half.
func signDistribution(ranks []int) []float64 {
	total := 0
	for _, r := range ranks {
		total += r
	}
	prob := make([]float64, total+1)
	prob[0] = 1
	top := 0
	for _, r := range ranks {
		top += r
		for s := top; s >= 0; s-- {
			p := prob[s]
			if s >= r {
				p += prob[s-r]
			}
			prob[s] = p / 2
		}
	}
	return prob
}

// HodgesLehmann estimates the median difference with its interval, the partner
// of the signed-rank test.
//
//	median of the Walsh averages (d(i) + d(j))/2, i ≤ j
//	limits: the c-th from below and from above, c the greatest with
//	P(W+ ≤ c−1) ≤ (1−confidence)/2 in the table without ties
//
// Range: enough differences for the confidence (six at 95 %), at most 200.
// Error: the true confidence is at least the one asked for without ties.
// Source: Hodges and Lehmann, Ann. Math. Stat. 34, 1963 (from memory).
func HodgesLehmann(differences []float64, confidence float64) (Interval, error) {
	const method = "Hodges-Lehmann estimate"
	if err := first(sample(method, differences, 1), fraction(method, "confidence", confidence),
		few(method, "number of differences", len(differences), MinimumSameSign(1-confidence))); err != nil {
		return Interval{}, err
	}
	if len(differences) > exactSigned {
		return Interval{}, within(method, "number of differences", float64(len(differences)), 1, exactSigned)
	}
	var walsh []float64
	for i, d := range differences {
		for _, e := range differences[:i+1] {
			walsh = append(walsh, (d+e)/2)
		}
	}
	slices.Sort(walsh)
	c := orderAt(whole(signDistribution(doubledRanks(len(differences)))), (1-confidence)/2)
	return Interval{walsh[c-1], median(walsh), walsh[len(walsh)-c], confidence}, nil
}

// whole drops the odd places of a distribution over doubled ranks.
func whole(doubled []float64) []float64 {
	out := make([]float64, 0, len(doubled)/2+1)
	for i := 0; i < len(doubled); i += 2 {
		out = append(out, doubled[i])
	}
	return out
}
