package statistic

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// ROSResult is a regression on order statistics of logarithms.
type ROSResult struct {
	Positions        []float64 // plotting position of each value, in input order
	Slope, Intercept float64   // ln(figure) against z: log sd and log mean of the fit
	Filled           []float64 // detects as they are, the rest imputed; input order
	Over             int       // imputed figures above their own limit
	Mean, SD         float64   // of Filled
	LogMean, LogSD   float64   // of ln(Filled)
}

// PlottingPositions returns the Hirsch-Stedinger plotting position of each
// value, in the order given. Equal values get rising positions.
//
//	limits c(1) < … < c(m); A(j) detects in [c(j), c(j+1)); B(j) detects below
//	c(j) and non-detects at or below it
//	pe(j) = pe(j+1) + A(j)/(A(j)+B(j))·(1 − pe(j+1)), pe(m+1) = 0
//	detect i of A(j):        p = (1−pe(j)) + (pe(j)−pe(j+1))·(i−a)/(A(j)+1−2a)
//	non-detect i of C at c(j): p = (1−pe(j))·(i−a)/(C+1−2a)
//
//	a  plotting constant, 0 (Weibull) to 0.5
//
// Range: no value above a limit. Error: none beyond the convention a.
// Source: Hirsch and Stedinger, Water Resour. Res. 23, 1987; Helsel and Cohn,
// Water Resour. Res. 24, 1988 (from memory).
func PlottingPositions(values []Value, a float64) ([]float64, error) {
	const method = "plotting positions"
	if !(a >= 0 && a <= 0.5) {
		return nil, within(method, "plotting constant", a, 0, 0.5)
	}
	if err := first(few(method, "number of values", len(values), 1), noAbove(method, values)); err != nil {
		return nil, err
	}
	_, limits := split(values)
	limits = slices.Compact(sorted(limits))
	classes := classify(values, limits)
	positions := make([]float64, len(values))
	above := 0.0
	for j := len(classes) - 1; j >= 0; j-- {
		c := classes[j]
		pe := 1.0
		if at := float64(len(c.detects)); at+c.below > 0 && j > 0 {
			pe = above + at/(at+c.below)*(1-above)
		}
		place(positions, c.detects, 1-pe, pe-above, a)
		place(positions, c.nonDetects, 0, 1-pe, a)
		above = pe
	}
	return positions, nil
}

// limitClass holds the values that belong to one limit: indices of detects from
// it up to the next, in rising order, and of non-detects at it.
type limitClass struct {
	detects, nonDetects []int
	below               float64
}

// classify sorts values into classes; class 0 is below the lowest limit.
func classify(values []Value, limits []float64) []limitClass {
	classes := make([]limitClass, len(limits)+1)
	for i, v := range values {
		j, found := slices.BinarySearch(limits, v.Figure)
		if found {
			j++
		}
		if v.Sign == Exact {
			classes[j].detects = append(classes[j].detects, i)
		} else {
			classes[j].nonDetects = append(classes[j].nonDetects, i)
		}
	}
	below := 0
	for j := range classes {
		c := &classes[j]
		slices.SortStableFunc(c.detects, func(a, b int) int { return sign(values[a].Figure - values[b].Figure) })
		c.below = float64(below + len(c.nonDetects))
		below += len(c.nonDetects) + len(c.detects)
	}
	return classes
}

// place spreads positions evenly over a stretch of probability.
func place(positions []float64, indices []int, from, width, a float64) {
	n := float64(len(indices))
	for i, k := range indices {
		positions[k] = from + width*(float64(i+1)-a)/(n+1-2*a)
	}
}

// ROS fits a lognormal line to the detects on their plotting positions and
// imputes only the non-detects from it (robust regression on order statistics).
//
//	ln x = intercept + slope·z(p) over detects; non-detects: exp of the line
//
//	z  standard normal quantile of the plotting position p, constant a
//
// The imputed figures are a group, good for mean and spread; none of them is
// the value of its own sample. Intercept and Slope are the log mean and sd of
// the fully parametric variant.
// Range: 20 values or more preferred, 50 to 80 % non-detects; at least three
// detects, of two figures, all above zero. Error: with a = 0 or 0.375 the log
// mean moves by a few hundredths; otherwise that of the lognormal tail.
// Source: Helsel and Cohn, Water Resour. Res. 24, 1988 (from memory).
func ROS(values []Value, a float64) (ROSResult, error) {
	const method = "regression on order statistics"
	p, err := PlottingPositions(values, a)
	if err != nil {
		return ROSResult{}, err
	}
	var z, y []float64
	for i, v := range values {
		if err := positive(method, "figure", v.Figure); err != nil {
			return ROSResult{}, err
		}
		if v.Sign == Exact {
			z, y = append(z, zOf(p[i])), append(y, math.Log(v.Figure))
		}
	}
	if err := few(method, "number of detects", len(y), 3); err != nil {
		return ROSResult{}, err
	}
	if err := positive(method, "spread of the detects", slices.Max(y)-slices.Min(y)); err != nil {
		return ROSResult{}, err
	}
	r := ROSResult{Positions: p}
	r.Intercept, r.Slope = stat.LinearRegression(z, y, nil, false)
	r.fill(values)
	return r, nil
}

func (r *ROSResult) fill(values []Value) {
	logs := make([]float64, len(values))
	r.Filled = make([]float64, len(values))
	for i, v := range values {
		r.Filled[i] = v.Figure
		if v.Sign == Below {
			r.Filled[i] = math.Exp(r.Intercept + r.Slope*zOf(r.Positions[i]))
			if r.Filled[i] > v.Figure {
				r.Over++
			}
		}
		logs[i] = math.Log(r.Filled[i])
	}
	s, l := summarise(r.Filled), summarise(logs)
	r.Mean, r.SD, r.LogMean, r.LogSD = s.Mean, s.SD, l.Mean, l.SD
}

// SubstitutionBounds returns the least and greatest mean that the non-detects
// allow, with the half-limit mean between. They are bounds to show beside an
// estimate, never the estimate.
//
//	low = mean with 0, mid = with ½·limit, high = with the limit
//
// Range: one value or more, none above a limit, none negative. Error: the true
// sample mean lies between, so far as the detects are right; Confidence is 0,
// since this is no interval of chance. Source: Helsel 2012 (from memory).
func SubstitutionBounds(values []Value) (Interval, error) {
	const method = "substitution bounds"
	if err := first(few(method, "number of values", len(values), 1), noAbove(method, values)); err != nil {
		return Interval{}, err
	}
	var detected, limit float64
	for _, v := range values {
		if v.Figure < 0 {
			return Interval{}, atLeast(method, "figure", v.Figure, 0)
		}
		if v.Sign == Exact {
			detected += v.Figure
		} else {
			limit += v.Figure
		}
	}
	n := float64(len(values))
	return Interval{Low: detected / n, Mid: (detected + limit/2) / n, High: (detected + limit) / n}, nil
}
