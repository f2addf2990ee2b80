package cloud

import (
	"math"
	"sort"
	"testing"
)

// uniformity is how far a set of numbers stands from evenly spread over 0 to 1.
type uniformity struct {
	n            int
	chi2, chi2P  float64 // over ten bins
	ks, ksP      float64 // greatest distance of the distribution function
	low, high    float64 // share below 0.1 and above 0.9
	mean, spread float64
}

func uniform(us []float64) uniformity {
	const bins = 10
	var count [bins]float64
	x := append([]float64(nil), us...)
	sort.Float64s(x)
	n := float64(len(x))
	u := uniformity{n: len(x)}
	for i, v := range x {
		count[min(bins-1, int(v*bins))]++
		u.ks = math.Max(u.ks, math.Max(v-float64(i)/n, float64(i+1)/n-v))
		u.mean += v / n
	}
	for _, v := range x {
		u.spread += (v - u.mean) * (v - u.mean) / n
	}
	u.spread = math.Sqrt(u.spread)
	for _, c := range count {
		u.chi2 += (c - n/bins) * (c - n/bins) / (n / bins)
	}
	u.low, u.high = count[0]/n, count[bins-1]/n
	u.chi2P, u.ksP = chiSquare9(u.chi2), kolmogorov(u.ks, n)
	return u
}

func (u uniformity) p() float64 { return math.Min(u.chi2P, u.ksP) }

// chiSquare9 is the chance of a chi-square of nine degrees of freedom above x.
//
//	Q = erfc √(x/2) + √(2x/π) e^(-x/2) (1 + x/3 + x²/15 + x³/105)
//
// Source: Abramowitz & Stegun 26.4.4 (from memory).
func chiSquare9(x float64) float64 {
	return math.Erfc(math.Sqrt(x/2)) + math.Sqrt(2*x/math.Pi)*math.Exp(-x/2)*(1+x/3+x*x/15+x*x*x/105)
}

// kolmogorov is the chance of a greatest distance above d among n numbers.
//
//	Q = 2 Σ (-1)^(k-1) e^(-2k²λ²),  λ = (√n + 0.12 + 0.11/√n) d
//
// Source: Kolmogorov 1933 with the correction of Stephens 1970 (from memory).
func kolmogorov(d, n float64) float64 {
	l := (math.Sqrt(n) + 0.12 + 0.11/math.Sqrt(n)) * d
	if l < 0.2 {
		return 1
	}
	sum, sign := 0.0, 1.0
	for k := 1.0; k <= 100; k++ {
		sum += sign * math.Exp(-2*k*k*l*l)
		sign = -sign
	}
	return math.Max(0, math.Min(1, 2*sum))
}

// wilson is the 95 % interval of a share of which k of n were seen.
// Source: Wilson 1927 (from memory).
func wilson(k, n float64) (low, high float64) {
	const z = 1.959964
	p, d := k/n, 1+z*z/n
	mid, half := (p+z*z/(2*n))/d, z/d*math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return math.Max(0, mid-half), math.Min(1, mid+half)
}

// kernel is the logarithm of the density of draws at x by a Gaussian kernel.
//
//	width = 0.9 min(s, IQR/1.34) n^(-1/5)
//
// Source: Silverman 1986 (from memory).
func kernel(draws []float64, x float64) float64 {
	s := append([]float64(nil), draws...)
	sort.Float64s(s)
	n := float64(len(s))
	mean, sd := 0.0, 0.0
	for _, v := range s {
		mean += v / n
	}
	for _, v := range s {
		sd += (v - mean) * (v - mean) / n
	}
	sd = math.Sqrt(sd)
	if iqr := (s[len(s)*3/4] - s[len(s)/4]) / 1.34; iqr > 0 {
		sd = math.Min(sd, iqr)
	}
	width := 0.9 * math.Max(sd, 1e-9) * math.Pow(n, -0.2)
	top := math.Inf(-1)
	for i, v := range s {
		s[i] = -0.5 * (x - v) * (x - v) / (width * width)
		top = math.Max(top, s[i])
	}
	sum := 0.0
	for _, l := range s {
		sum += math.Exp(l - top)
	}
	return top + math.Log(sum/n/width/math.Sqrt(2*math.Pi))
}

func TestTailsOfTheScores(t *testing.T) {
	for _, tt := range []struct {
		name           string
		got, want, tol float64
		source         string
	}{
		{"chi-square 9, 5 %", chiSquare9(16.919), 0.05, 1e-5, "tables of chi-square, from memory"},
		{"chi-square 9, 0.1 %", chiSquare9(27.877), 0.001, 1e-6, "tables of chi-square, from memory"},
		{"Kolmogorov, 5 %", kolmogorov(1.358/math.Sqrt(1e6), 1e6), 0.05, 2e-4, "tables of Kolmogorov's limit, from memory"},
		{"Kolmogorov, 1 %", kolmogorov(1.628/math.Sqrt(1e6), 1e6), 0.01, 1e-4, "tables of Kolmogorov's limit, from memory"},
		{"kernel of a lattice of normals", kernel(normals(4001), 0), -0.5 * math.Log(2*math.Pi), 0.03, "density of the standard normal"},
	} {
		if math.Abs(tt.got-tt.want) > tt.tol {
			t.Errorf("%s: %.6f, want %g ± %g (%s)", tt.name, tt.got, tt.want, tt.tol, tt.source)
		}
	}
	if low, high := wilson(0, 10); low != 0 || math.Abs(high-0.2775) > 5e-4 {
		t.Errorf("none of ten: %.4f to %.4f, want 0 to 0.2775 (z²/(n+z²))", low, high)
	}
}

// normals are the quantiles of the standard normal at even steps.
func normals(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/float64(n)-1)
	}
	return x
}
