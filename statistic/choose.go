package statistic

import (
	"fmt"

	"wellwright/source"
)

// Estimator is a way to a mean from values with non-detects.
type Estimator int

// The estimators, from no non-detects to nearly all.
const (
	PlainMean Estimator = iota
	UseKaplanMeier
	UseROS
	ShareOnly // report the share detected and the highest figures, no mean
)

// String names the estimator in print.
func (e Estimator) String() string {
	return [...]string{"plain mean", "Kaplan-Meier", "regression on order statistics", "share detected only"}[e]
}

// Choice is an estimator with the reason for it.
type Choice struct {
	Estimator Estimator
	Share     float64  // of non-detects
	Why       []string // for it and against it
}

// ChooseEstimator picks the estimator of a mean by the share of non-detects.
//
//	none: plain mean; under ½: Kaplan-Meier; ½ to 0.8: ROS; above: share only
//
// A share of just one half belongs to ROS, of just 0.8 still to ROS. A sample
// with too few detects for the estimator falls to the next one down.
// Range: one value or more, none above a limit.
// Source: Helsel, Statistics for Censored Environmental Data, 2012 (from memory).
func ChooseEstimator(values []Value, set source.Set) (Choice, error) {
	const method = "choice of an estimator"
	if err := first(few(method, "number of values", len(values), 1), noAbove(method, values)); err != nil {
		return Choice{}, err
	}
	detects, limits := split(values)
	c := Choice{Share: float64(len(limits)) / float64(len(values))}
	km, ros := set.Of(kmShare), set.Of(rosShare)
	c.say("%d of %d values are non-detects", len(limits), len(values))
	switch {
	case len(limits) == 0:
		return c, nil
	case c.Share < km && len(detects) >= 2:
		c.Estimator = UseKaplanMeier
		c.say("under %g: no shape need be assumed", km)
	case c.Share <= ros && len(detects) >= 3:
		c.Estimator = UseROS
		c.say("from %g to %g: a lognormal shape fills in the non-detects", km, ros)
		if len(values) < 20 {
			c.say("fewer than 20 values: the fitted line is weak")
		}
	default:
		c.Estimator = ShareOnly
		c.say("%d detects: a mean would be invention", len(detects))
	}
	return c, nil
}

func (c *Choice) say(format string, args ...any) { c.Why = append(c.Why, fmt.Sprintf(format, args...)) }
