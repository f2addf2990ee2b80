package statistic

import "math"

// LogRemoval returns the log removal of one pair of raw (First) and treated
// (Second) water. A treated non-detect gives a removal above the figure, a raw
// one below it; ok is false where the pair says nothing: both non-detects,
// both over the top, or a figure that is not above zero.
//
//	LRV = log10(I/E)
//
//	I  raw, E treated, in one unit; a limit stands for a non-detect
//
// Range: figures above zero. Error: twice that of one analysis, relative; the
// arithmetic adds none. Source: definition.
func LogRemoval(p Pair) (lrv Value, ok bool) {
	raw, treated := p.First, p.Second
	if !(raw.Figure > 0 && treated.Figure > 0) {
		return Value{}, false
	}
	lrv.Figure = math.Log10(raw.Figure / treated.Figure)
	up := raw.Sign == Above || treated.Sign == Below
	down := raw.Sign == Below || treated.Sign == Above
	switch {
	case up && down:
		return Value{}, false
	case up:
		lrv.Sign = Above
	case down:
		lrv.Sign = Below
	}
	return lrv, true
}

// PercentRemoval returns the percent removed in one pair, a bound where the
// log removal is one. It is unstable when the raw figure is small: print that too.
//
//	R = 100·(1 − E/I) = 100·(1 − 10^−LRV)
//
// Range, error and source: as LogRemoval. Negative means that it was added.
func PercentRemoval(p Pair) (percent Value, ok bool) {
	lrv, ok := LogRemoval(p)
	return Value{lrv.Sign, percentOf(lrv.Figure)}, ok
}

// percentOf is 100·(1 − 10^−lrv).
func percentOf(lrv float64) float64 { return -100 * math.Expm1(-lrv*math.Ln10) }

// Removal is the mean removal over pairs, in logs and as percent.
type Removal struct {
	N       int  // pairs used
	Bounds  int  // of them, pairs that gave only a bound
	Blind   int  // pairs left out, since they say nothing of removal
	Sign    Sign // Above: the mean is at least this, Below: at most
	SD      float64
	Log     Interval
	Percent Interval
}

// MeanRemoval returns the mean removal of pairs of raw and treated water, by
// the mean of the log ratios, which is not bounded above as percents are.
//
//	LRV̄ ± t(n−1)·s/√n, then 100·(1 − 10^−x) at the mean and each limit
//
//	LRV̄, s  mean and standard deviation of the log removals
//	t        Student's t, two-sided
//
// Bounds enter at their figure, and the mean is then a bound as well: Sign says
// which. Its interval is then only a guide. Pairs with bounds of both kinds
// are an error: no mean can be had from them.
// Range: two usable pairs or more, independent; log ratios near normal.
// Error: given by the interval. Source: textbook (t interval on logarithms).
func MeanRemoval(pairs []Pair, confidence float64) (Removal, error) {
	const method = "mean removal"
	var r Removal
	var logs []float64
	for i, p := range pairs {
		lrv, ok := LogRemoval(p)
		if !ok {
			r.Blind++
			continue
		}
		if lrv.Sign != Exact {
			if r.Sign != Exact && r.Sign != lrv.Sign {
				return Removal{}, &SignError{method, i, lrv, "the sign test: bounds of both kinds have no mean"}
			}
			r.Sign, r.Bounds = lrv.Sign, r.Bounds+1
		}
		logs = append(logs, lrv.Figure)
	}
	interval, err := MeanInterval(logs, confidence)
	if err != nil {
		return Removal{}, err
	}
	r.N, r.SD, r.Log = len(logs), summarise(logs).SD, interval
	r.Percent = Interval{percentOf(interval.Low), percentOf(interval.Mid), percentOf(interval.High), confidence}
	return r, nil
}

// LogRatios returns log10(First/Second) of pairs of measured figures, for the
// paired tests.
//
// Range: every value exact and above zero; with non-detects use SignTest.
func LogRatios(pairs []Pair) ([]float64, error) {
	const method = "log ratios"
	out := make([]float64, len(pairs))
	for i, p := range pairs {
		if err := exactPair(method, i, p); err != nil {
			return nil, err
		}
		if err := first(positive(method, "first figure", p.First.Figure), positive(method, "second figure", p.Second.Figure)); err != nil {
			return nil, err
		}
		out[i] = math.Log10(p.First.Figure / p.Second.Figure)
	}
	return out, nil
}

// Differences returns First − Second of pairs of measured figures, for the
// paired tests.
//
// Range: every value exact; with non-detects use SignTest.
func Differences(pairs []Pair) ([]float64, error) {
	out := make([]float64, len(pairs))
	for i, p := range pairs {
		if err := exactPair("differences", i, p); err != nil {
			return nil, err
		}
		out[i] = p.First.Figure - p.Second.Figure
	}
	return out, finite("differences", out)
}

func exactPair(method string, i int, p Pair) error {
	for _, v := range []Value{p.First, p.Second} {
		if v.Sign != Exact {
			return &SignError{method, i, v, "the sign test"}
		}
	}
	return nil
}
