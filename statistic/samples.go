package statistic

import "math"

// maxSamples bounds the search for a number of samples.
const maxSamples = 1_000_000

// HalfWidth returns the half width of the interval of a mean of n values.
//
//	h = t(n−1)·s/√n
//
//	s  standard deviation, t  Student's t, two-sided
//
// Range: n 2 or more. Error: s is itself uncertain by about 1/√(2n).
// Source: textbook.
func HalfWidth(n int, sd, confidence float64) (float64, error) {
	const method = "half width of an interval"
	if err := first(few(method, "number of samples", n, 2), positive(method, "standard deviation", sd),
		fraction(method, "confidence", confidence)); err != nil {
		return 0, err
	}
	return twoSidedT(confidence, float64(n-1)) * sd / math.Sqrt(float64(n)), nil
}

// HalfWidthN returns the number of samples for an interval no wider than asked.
//
//	least n with t(n−1)·s/√n ≤ h
//
// Range: s and h above zero, n to a million. Error: as the guess of s.
// Source: textbook; US EPA Unified Guidance 2009, chapter 21 (from memory).
func HalfWidthN(half, sd, confidence float64) (int, error) {
	const method = "number of samples for a half width"
	if err := first(positive(method, "half width", half), positive(method, "standard deviation", sd),
		fraction(method, "confidence", confidence)); err != nil {
		return 0, err
	}
	return leastN(method, 2, func(n int) bool {
		return twoSidedT(confidence, float64(n-1))*sd/math.Sqrt(float64(n)) <= half
	})
}

// leastN finds the least n from low up for which a condition, once true, stays true.
func leastN(method string, low int, enough func(int) bool) (int, error) {
	high := low
	for !enough(high) {
		if high >= maxSamples {
			return 0, within(method, "number of samples", float64(high), float64(low), maxSamples)
		}
		low, high = high+1, min(2*high, maxSamples)
	}
	for low < high {
		if mid := (low + high) / 2; enough(mid) {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return high, nil
}

// Detection is what a paired trial should be able to find.
type Detection struct {
	Difference float64 // least mean difference worth finding
	SD         float64 // of the paired differences
	Alpha      float64 // chance of a false finding
	Power      float64 // chance of finding the difference
	TwoSided   bool
}

func (d Detection) check(method string) error {
	return first(positive(method, "difference", d.Difference), positive(method, "standard deviation", d.SD),
		fraction(method, "alpha", d.Alpha), fraction(method, "power", d.Power))
}

func (d Detection) tail() float64 {
	if d.TwoSided {
		return d.Alpha / 2
	}
	return d.Alpha
}

// DetectionN returns the number of pairs for a paired t test.
//
//	n = (z(1−α) + z(1−β))²·s²/δ² + z(1−α)²/2, rounded up; α/2 if two-sided
//
//	δ  difference to find, s  standard deviation of differences, 1−β  power
//
// Range: all above zero; α and power under 1. Error: within one of the exact
// number, see PowerOf, as far as s is known. Source: Guenther 1981 (correction
// from memory); textbook.
func DetectionN(d Detection) (int, error) {
	if err := d.check("number of pairs"); err != nil {
		return 0, err
	}
	za, zb := zOf(1-d.tail()), zOf(d.Power)
	ratio := (za + zb) * d.SD / d.Difference
	return max(2, int(math.Ceil(ratio*ratio+za*za/2))), nil
}

// PowerOf returns the chance that n pairs find the difference.
//
//	P(T' > t(1−α; n−1)), T' noncentral t with δ√n/s; two-sided: α/2 and also
//	the far tail
//
// Range: n 2 or more. Error: under 1e-6 for normal differences.
// Source: definition.
func (d Detection) PowerOf(n int) (float64, error) {
	const method = "power of a paired trial"
	if err := first(d.check(method), few(method, "number of pairs", n, 2)); err != nil {
		return 0, err
	}
	return d.power(n), nil
}

func (d Detection) power(n int) float64 {
	df, shift := float64(n-1), d.Difference*math.Sqrt(float64(n))/d.SD
	t := student(df).Quantile(1 - d.tail())
	power := 1 - nct(t, df, shift)
	if d.TwoSided {
		power += nct(-t, df, shift)
	}
	return power
}

// ExactDetectionN returns the least number of pairs that has the power.
//
// Range and source: as PowerOf. Error: exact for normal differences of known sd.
func ExactDetectionN(d Detection) (int, error) {
	const method = "exact number of pairs"
	if err := d.check(method); err != nil {
		return 0, err
	}
	return leastN(method, 2, func(n int) bool { return d.power(n) >= d.Power })
}
