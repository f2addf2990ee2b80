package sheet

import (
	"fmt"
	"math"

	"wellwright/plan"
	"wellwright/unit"
)

// span writes a range as low–high around the middle, or the middle alone.
func span(r plan.Range, digits int) string {
	mid := figure(r.P50, digits)
	low, high := figure(r.P05, digits), figure(r.P95, digits)
	if low == mid && high == mid {
		return mid
	}
	return mid + " (" + low + "–" + high + ")"
}

// milligrams writes a concentration to two figures and no finer than hundredths:
// no test on site or in print reads a household water closer.
func milligrams(v float64) string {
	switch {
	case v <= 0:
		return "0"
	case v < 0.01:
		return "<0.01"
	case v < 0.1:
		return fmt.Sprintf("%.2f", v)
	}
	return figure(v, 2)
}

// dollars writes a cost to two figures, as prices known to tens of per cent bear.
func dollars(r plan.Range) string {
	return fmt.Sprintf("$%s (%s–%s)", thousands(r.P50), thousands(r.P05), thousands(r.P95))
}

// thousands rounds to two figures and sets the thousands off.
func thousands(v float64) string { return figure(math.Max(0, rounded(v, 2)), 2) }

// rounded keeps n significant figures.
func rounded(v float64, n int) float64 {
	if v == 0 {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-float64(n)+1)
	return math.Round(v/step) * step
}

// chance puts a probability into words with its figure.
func chance(v float64) string {
	words := "unlikely"
	switch {
	case v >= 0.9:
		words = "very likely"
	case v >= 0.6:
		words = "likely"
	case v >= 0.4:
		words = "as likely as not"
	case v < 0.1:
		words = "very unlikely"
	}
	return fmt.Sprintf("%s (%s)", words, unit.Significant(v, 2))
}

// percents rounds probabilities to whole per cents that add up as the
// probabilities do; the likeliest takes what rounding leaves over.
func percents(es []plan.Explanation) []int {
	shares := make([]int, len(es))
	sum, total, likeliest := 0, 0.0, 0
	for i, e := range es {
		shares[i] = int(math.Round(100 * e.Probability))
		sum += shares[i]
		total += 100 * e.Probability
		if e.Probability > es[likeliest].Probability {
			likeliest = i
		}
	}
	if len(es) > 0 {
		shares[likeliest] += int(math.Round(total)) - sum
	}
	return shares
}
