package statistic

import (
	"math"
	"slices"
)

// Lowest says which value stands for the part of a Kaplan-Meier distribution
// that lies below the smallest detect. Say in print which was used.
type Lowest int

// The values that may stand for the lowest class.
const (
	AtSmallestDetect Lowest = iota
	AtLowestLimit
)

// Step is one step of a Kaplan-Meier distribution, at a detected figure.
type Step struct {
	Figure  float64
	Detects int
	AtRisk  int     // values at or below, non-detects counted at their limit
	Under   float64 // probability of a value below the figure
}

// KMResult is a Kaplan-Meier estimate from values with non-detects.
type KMResult struct {
	N, NonDetects int
	Steps         []Step // rising
	Mean          float64
	SD            float64 // over n
	SE            float64 // of the mean
	LowestAs      float64 // what stood for the part below the smallest detect
	Open          float64 // that part; zero if the smallest value is a detect
}

// KaplanMeier estimates the distribution, mean and spread of values with
// non-detects at any limits, with no shape assumed. Data are flipped, so that
// "below" becomes the "still alive" of survival analysis.
//
//	F(below v) = Π over detected w ≥ v of (1 − d(w)/n(w))
//	mean = Σ v·ΔF(v) + v0·F(below the smallest detect)
//	sd² = Σ ΔF·(v − mean)²
//	se² = m/(m−1)·Σ A(v)²·d/(n(n−d)), A(v) = ∫ F from the bottom to v
//
//	d, n   detects at v; values at or below v, non-detects at their limit
//	v0     smallest detect or lowest limit, as chosen
//	m      number of detects
//
// Range: two detects or more; less than half non-detects is usual, above 80 %
// report only the share detected. Error: the mean leans on v0 by F·v0; se is
// asymptotic. One large value rules the mean.
// Source: Helsel, Statistics for Censored Environmental Data, 2012; US EPA
// Unified Guidance 2009, chapter 15 (from memory).
func KaplanMeier(values []Value, lowest Lowest) (KMResult, error) {
	const method = "Kaplan-Meier estimate"
	if err := noAbove(method, values); err != nil {
		return KMResult{}, err
	}
	detects, limits := split(values)
	if err := few(method, "number of detects", len(detects), 2); err != nil {
		return KMResult{}, err
	}
	r := KMResult{N: len(values), NonDetects: len(limits)}
	r.Steps, r.Open = kmSteps(sorted(detects), sorted(limits))
	r.LowestAs = r.Steps[0].Figure
	if lowest == AtLowestLimit && len(limits) > 0 {
		r.LowestAs = math.Min(r.LowestAs, slices.Min(limits))
	}
	r.moments(len(detects))
	return r, nil
}

// kmSteps goes down from the largest detect, as flipped data go up in time.
func kmSteps(detects, limits []float64) (steps []Step, open float64) {
	under := 1.0
	for j := len(detects); j > 0; {
		i := j - 1
		v := detects[i]
		for i > 0 && detects[i-1] == v {
			i--
		}
		censored, _ := slices.BinarySearchFunc(limits, v, func(limit, v float64) int {
			if limit <= v {
				return -1
			}
			return 1
		})
		s := Step{Figure: v, Detects: j - i, AtRisk: j + censored}
		under *= 1 - float64(s.Detects)/float64(s.AtRisk)
		s.Under = under
		steps = append(steps, s)
		j = i
	}
	slices.Reverse(steps)
	return steps, under
}

// upTo is the probability of a value at or below step i.
func (r KMResult) upTo(i int) float64 {
	if i+1 < len(r.Steps) {
		return r.Steps[i+1].Under
	}
	return 1
}

func (r *KMResult) moments(detects int) {
	r.Mean = r.LowestAs * r.Open
	for i, s := range r.Steps {
		r.Mean += s.Figure * (r.upTo(i) - s.Under)
	}
	square := r.Open * (r.LowestAs - r.Mean) * (r.LowestAs - r.Mean)
	area, last, se := 0.0, r.LowestAs, 0.0
	for i, s := range r.Steps {
		square += (r.upTo(i) - s.Under) * (s.Figure - r.Mean) * (s.Figure - r.Mean)
		area += s.Under * (s.Figure - last)
		last = s.Figure
		if d, n := float64(s.Detects), float64(s.AtRisk); n > d {
			se += area * area * d / (n * (n - d))
		}
	}
	m := float64(detects)
	r.SD, r.SE = math.Sqrt(square), math.Sqrt(se*m/(m-1))
}

// Quantile returns the smallest detected figure that a share p of values does
// not pass, or below the smallest detect if the share lies there.
//
// Range: p more than 0, at most 1.
func (r KMResult) Quantile(p float64) Value {
	if p <= r.Open {
		return LessThan(r.Steps[0].Figure)
	}
	for i, s := range r.Steps {
		if r.upTo(i) >= p-1e-12 {
			return Exactly(s.Figure)
		}
	}
	return Exactly(r.Steps[len(r.Steps)-1].Figure)
}

// UpperMean returns the one-sided upper limit of the mean.
//
//	mean + t(n−1)·se
//
// Range: as KaplanMeier. Error: asymptotic; one-sided t is a convention.
// Source: US EPA ProUCL technical guide (from memory).
func (r KMResult) UpperMean(confidence float64) (float64, error) {
	if err := fraction("upper limit of a Kaplan-Meier mean", "confidence", confidence); err != nil {
		return 0, err
	}
	return r.Mean + student(float64(r.N-1)).Quantile(confidence)*r.SE, nil
}
