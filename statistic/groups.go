package statistic

import (
	"math"
	"slices"
)

// Weighting chooses how a test of two groups with non-detects weighs the steps
// from high to low figures.
type Weighting int

// The weightings. Gehan leans on high figures, log-rank evenly on all;
// Tarone-Ware and Peto-Peto lie between.
const (
	Gehan Weighting = iota
	TaroneWare
	PetoPeto
	LogRank
)

// String names the test.
func (w Weighting) String() string {
	return [...]string{"Gehan", "Tarone-Ware", "Peto-Peto", "log-rank"}[w]
}

// GroupResult is a test of two groups with non-detects.
type GroupResult struct {
	Score, Variance, Z float64 // above zero: the first group lies higher
	P                  Tails
}

// CompareGroups tests whether two groups with non-detects at any limits come
// from one distribution.
//
//	U = Σ w·(d1 − d·n1/n)
//	Var = Σ w²·d·(n1/n)·(1 − n1/n)·(n − d)/(n − 1)
//	Z = U/√Var
//
//	sums over detected figures v, from the highest down
//	n, n1  values at or below v in both groups and the first, non-detects at
//	       their limit; d, d1  detects at v
//	w      n (Gehan), √n (Tarone-Ware), 1 (log-rank), S (Peto-Peto)
//	S      Prentice's estimate Π (1 − d/(n+1)) down to v
//
// Range: one value or more in each group, no value above a limit, two figures
// or more detected. Error: normal approximation, good from about eight in each.
// Source: Tarone and Ware, Biometrika 64, 1977; Prentice 1978; US EPA Unified
// Guidance 2009, chapter 16 (from memory).
func CompareGroups(one, two []Value, weighting Weighting) (GroupResult, error) {
	const method = "test of two groups with non-detects"
	if err := first(few(method, "number in the first group", len(one), 1), few(method, "number in the second group", len(two), 1),
		noAbove(method, one), noAbove(method, two)); err != nil {
		return GroupResult{}, err
	}
	both := slices.Concat(one, two)
	detects, _ := split(both)
	figures := slices.Compact(sorted(detects))
	slices.Reverse(figures)
	var r GroupResult
	survival := 1.0
	for _, v := range figures {
		d, n := countAt(both, v)
		d1, n1 := countAt(one, v)
		survival *= 1 - d/(n+1)
		w := weighting.at(n, survival)
		share := n1 / n
		r.Score += w * (d1 - d*share)
		if n > 1 {
			r.Variance += w * w * d * share * (1 - share) * (n - d) / (n - 1)
		}
	}
	if err := positive(method, "variance", r.Variance); err != nil {
		return r, err
	}
	r.Z = r.Score / math.Sqrt(r.Variance)
	r.P = zTails(r.Z)
	return r, nil
}

func (w Weighting) at(n, survival float64) float64 {
	switch w {
	case Gehan:
		return n
	case TaroneWare:
		return math.Sqrt(n)
	case PetoPeto:
		return survival
	}
	return 1
}

// countAt returns the detects at v and the values at or below it.
func countAt(values []Value, v float64) (detects, atRisk float64) {
	for _, x := range values {
		if x.Figure <= v {
			atRisk++
		}
		if x.Sign == Exact && x.Figure == v {
			detects++
		}
	}
	return detects, atRisk
}
