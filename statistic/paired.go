package statistic

import "math"

// TResult is a t test with the interval of the mean or the difference of means.
type TResult struct {
	N     int // values used
	T, DF float64
	P     Tails
	Mean  Interval // of the difference
	SD    float64  // of the differences; zero in Welch's test
}

// PairedT tests whether the mean of paired differences is zero. Give it
// LogRatios for concentrations, which are skewed.
//
//	t = d̄·√n/s, n−1 degrees of freedom
//
//	d̄, s  mean and standard deviation of the differences
//
// Range: three differences or more, independent, not all equal, near normal.
// Error: exact for normal differences. Source: Student 1908, textbook.
func PairedT(differences []float64, confidence float64) (TResult, error) {
	const method = "paired t test"
	if err := first(sample(method, differences, 3), fraction(method, "confidence", confidence)); err != nil {
		return TResult{}, err
	}
	s := summarise(differences)
	if err := positive(method, "standard deviation", s.SD); err != nil {
		return TResult{}, err
	}
	df := float64(s.N - 1)
	t := s.Mean * math.Sqrt(float64(s.N)) / s.SD
	return TResult{N: s.N, T: t, DF: df, P: tTails(t, df), Mean: meanInterval(s, confidence), SD: s.SD}, nil
}

// SignResult counts the pairs that rose and fell.
type SignResult struct {
	Plus, Minus int // First more than Second, and less
	Ties        int // equal figures
	Unknown     int // non-detects hide which is more
	P           Tails
}

// SignTest tests whether First is as often above Second as below. It is the
// test for pairs with non-detects: "5 against <2" is a plus, "<5 against 3"
// and "<5 against <2" are unknown and, like ties, left out.
//
//	P(X ≥ plus), X binomial (plus + minus, ½); Both doubles the lesser tail
//
// Range: one pair or more that is plus or minus; six, all one way, are needed
// for 5 % on both sides. Error: exact. Source: textbook (Arbuthnot 1710).
func SignTest(pairs []Pair) (SignResult, error) {
	var r SignResult
	for _, p := range pairs {
		if err := finite("sign test", []float64{p.First.Figure, p.Second.Figure}); err != nil {
			return SignResult{}, err
		}
		c, known := p.First.compare(p.Second)
		switch {
		case !known:
			r.Unknown++
		case c > 0:
			r.Plus++
		case c < 0:
			r.Minus++
		default:
			r.Ties++
		}
	}
	if err := few("sign test", "number of pairs that differ", r.Plus+r.Minus, 1); err != nil {
		return r, err
	}
	r.P = discordant(r.Plus, r.Minus)
	return r, nil
}

// McNemar tests whether two units fail equally often on the same samples.
//
//	P(X ≥ b), X binomial (b + c, ½); Both doubles the lesser tail
//
//	b  samples that only the first failed, c  only the second
//
// Samples that both passed or both failed say nothing of the difference.
// Range: b + c at least 1. Error: exact. Source: McNemar, Psychometrika 12,
// 1947, in its exact form (from memory).
func McNemar(onlyFirst, onlySecond int) (Tails, error) {
	const method = "McNemar test"
	if err := first(few(method, "count of the first", onlyFirst, 0), few(method, "count of the second", onlySecond, 0),
		few(method, "number of discordant samples", onlyFirst+onlySecond, 1)); err != nil {
		return Tails{}, err
	}
	return discordant(onlyFirst, onlySecond), nil
}

func discordant(plus, minus int) Tails {
	n := plus + minus
	return twoSided(atMost(plus, n), atMost(minus, n))
}

// MinimumSameSign returns the least number of pairs, all of one sign, that
// reach a two-sided significance alpha.
//
//	least n with 2·½^n ≤ alpha
//
// Range: alpha above zero; from 1 up the answer is 1. Error: exact.
// Source: the sign test.
func MinimumSameSign(alpha float64) int {
	n := 1
	for p := 1.0; p > alpha && n < 1075; p /= 2 {
		n++
	}
	return n
}
