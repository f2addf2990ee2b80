package statistic

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
)

func TestStudentTable(t *testing.T) {
	const src = "table of Student's t, two-sided 95 %"
	for n, want := range map[int]float64{3: 4.303, 4: 3.182, 5: 2.776, 6: 2.571, 8: 2.365, 10: 2.262, 12: 2.201, 20: 2.093} {
		check(t, []figure{{"t", must(TQuantile(0.975, float64(n-1)))(t), want, 5.1e-4, src}})
	}
	check(t, []figure{
		{"t, 1 df", must(TQuantile(0.975, 1))(t), 12.7062, 5e-5, "closed form tan(0.475π)"},
		{"t, very many df", must(TQuantile(0.975, 1e9))(t), 1.959964, 1e-6, "normal limit"},
	})
}

func TestToleranceFactors(t *testing.T) {
	const src = "one-sided normal tolerance factors, SciPy 1.10; the same to three places in US EPA Unified Guidance 2009, table 17-3 (from memory)"
	const owen = "Owen 1963; Natrella, NBS Handbook 91, table A-7 (from memory)"
	for n, want := range map[int]float64{5: 4.203, 6: 3.708, 8: 3.187, 10: 2.911, 15: 2.566, 20: 2.396, 30: 2.220} {
		check(t, []figure{{"95/95", must(ToleranceFactor(n, 0.95, 0.95))(t), want, 5.5e-4, src}})
	}
	check(t, []figure{
		{"n 2, 95/95", must(ToleranceFactor(2, 0.95, 0.95))(t), 26.26, 5e-3, owen},
		{"n 2, 90/95", must(ToleranceFactor(2, 0.90, 0.95))(t), 20.581, 1e-3, owen},
		{"n 2, 99/99", must(ToleranceFactor(2, 0.99, 0.99))(t), 185.617, 2e-3, owen},
		{"n 3, 95/95", must(ToleranceFactor(3, 0.95, 0.95))(t), 7.656, 1e-3, owen},
		{"n 10, 90/95", must(ToleranceFactor(10, 0.90, 0.95))(t), 2.355, 1e-3, owen},
		{"n 10, 99/99", must(ToleranceFactor(10, 0.99, 0.99))(t), 5.074, 2e-3, owen},
		{"n 50, 95/95", must(ToleranceFactor(50, 0.95, 0.95))(t), 2.065, 1e-3, owen},
	})
	k := must(ToleranceFactor(10, 0.5, 0.975))(t)
	tq := must(TQuantile(0.975, 9))(t)
	check(t, []figure{{"coverage ½ is the t interval", k, tq / 3.16227766, 1e-8, "definition: δ = 0"}})
}

func TestChrysene(t *testing.T) {
	const src = "US EPA Unified Guidance 2009, example 17-3, as printed in the manual of EnvStats 3.1.0"
	xs := numbers(t, "19.7 39.2 7.8 12.8 10.2 7.2 16.1 5.7")
	check(t, []figure{{"limit", must(LogUpperTolerance(xs, 0.95, 0.95))(t), 90.92, 0.01, src}})
}

func TestAldicarb(t *testing.T) {
	const src = "US EPA Unified Guidance 2009, example 21-1, as printed in the manual of EnvStats 3.1.0"
	s := must(Summarise(numbers(t, "19.9 29.6 18.7 24.2")))(t)
	n, err := HalfWidthN(0.1*s.Mean, s.SD, 0.95)
	if err != nil || n != 20 {
		t.Errorf("HalfWidthN = %d, %v; want 20 (%s)", n, err, src)
	}
	check(t, []figure{
		{"mean", s.Mean, 23.1, 1e-9, src},
		{"sd", s.SD, 4.9349, 5e-5, src},
		{"half width, n 4", must(HalfWidth(4, s.SD, 0.95))(t), 7.853, 5e-4, src},
		{"half width, n 8", must(HalfWidth(8, s.SD, 0.95))(t), 4.126, 5e-4, src},
	})
}

func TestDetection(t *testing.T) {
	const src = "normal approximation with Guenther's correction, computed apart; one-sided 5 %, power 80 %"
	for _, tt := range []struct {
		sd, delta float64
		n         int
	}{{0.2, 0.15, 13}, {0.3, 0.3, 8}, {0.5, 0.3, 19}} {
		d := Detection{Difference: tt.delta, SD: tt.sd, Alpha: 0.05, Power: 0.8}
		n := must(DetectionN(d))(t)
		exact := must(ExactDetectionN(d))(t)
		if n != tt.n {
			t.Errorf("DetectionN(%+v) = %d, want %d (%s)", d, n, tt.n, src)
		}
		if exact < n-1 || exact > n+1 {
			t.Errorf("ExactDetectionN(%+v) = %d, approximation %d: want within one", d, exact, n)
		}
	}
	// The textbook case: effect ½, two-sided 5 %, power 80 % needs 34 pairs.
	d := Detection{Difference: 0.5, SD: 1, Alpha: 0.05, Power: 0.8, TwoSided: true}
	const cohen = "Cohen, Statistical Power Analysis, d ½ paired: 34 pairs, power 0.808 (from memory)"
	if n := must(ExactDetectionN(d))(t); n != 34 {
		t.Errorf("ExactDetectionN = %d, want 34 (%s)", n, cohen)
	}
	check(t, []figure{{"power of 34", must(d.PowerOf(34))(t), 0.8078, 5e-4, cohen}})
}

func TestExceedance(t *testing.T) {
	const src = "definition: 1 − 0.05^(1/n)"
	for n, want := range map[int]float64{5: 0.45, 10: 0.26, 20: 0.14, 30: 0.095} {
		check(t, []figure{{"none exceeds", must(ExceedanceUpper(0, n, 0.95))(t), want, 0.0051, src}})
	}
	const cp = "Clopper-Pearson table, one-sided 95 % (from memory)"
	check(t, []figure{
		{"1 of 10", must(ExceedanceUpper(1, 10, 0.95))(t), 0.394, 5e-4, cp},
		{"2 of 20", must(ExceedanceUpper(2, 20, 0.95))(t), 0.283, 5e-4, cp},
		{"all", must(ExceedanceUpper(4, 4, 0.95))(t), 1, 0, "definition"},
	})
	for _, tt := range []struct {
		coverage, confidence float64
		n                    int
	}{{0.95, 0.95, 59}, {0.90, 0.95, 29}, {0.5, 0.75, 2}} {
		if n := must(MaximumN(tt.coverage, tt.confidence))(t); n != tt.n {
			t.Errorf("MaximumN(%g, %g) = %d, want %d (Wilks 1941)", tt.coverage, tt.confidence, n, tt.n)
		}
	}
}

func TestCorrelation(t *testing.T) {
	check(t, []figure{
		{"effective n", must(EffectiveN(30, 0.5))(t), 10, 1e-12, "definition: 30·½/1½"},
		{"negative r", must(EffectiveN(30, -0.2))(t), 30, 0, "rule: never more than n"},
		{"lag one", must(LagOne([]float64{1, 2, 3, 4, 5}))(t), 0.4, 1e-12, "by hand: (2 + 0 + 0 + 2)/10"},
	})
}

// lenth sums the noncentral t in incomplete beta functions, for t above zero.
func lenth(t, df, delta float64) float64 {
	x, half := t*t/(df+t*t), delta*delta/2
	sum := cumulative(-delta)
	for j := range 2000 {
		m := float64(j)
		g1, _ := math.Lgamma(m + 1)
		g2, _ := math.Lgamma(m + 1.5)
		p := math.Exp(-half + m*math.Log(half) - g1)
		q := delta / math.Sqrt2 * math.Exp(-half+m*math.Log(half)-g2)
		sum += (p*mathext.RegIncBeta(m+0.5, df/2, x) + q*mathext.RegIncBeta(m+1, df/2, x)) / 2
	}
	return sum
}

func TestNoncentralTTwoWays(t *testing.T) {
	for _, tt := range []struct{ t, df, delta float64 }{
		{1, 1, 1}, {262, 1, 3.29}, {37, 1, 2.33}, {2, 4, 0.5}, {9.4, 4, 3.68}, {12, 19, 7.36}, {18, 99, 16}, {0.5, 30, 2}, {3000, 1, 2},
	} {
		check(t, []figure{{"noncentral t", nct(tt.t, tt.df, tt.delta), lenth(tt.t, tt.df, tt.delta), 1e-10,
			"second method: series in incomplete beta functions, Lenth 1989"}})
	}
}

func TestNoncentralT(t *testing.T) {
	check(t, []figure{
		{"centre", nct(0, 7, 1.5), cumulative(-1.5), 1e-12, "definition: P(T < 0) = Φ(−δ)"},
		{"no shift", nct(2.262157, 9, 0), 0.975, 1e-7, "Student's t"},
		{"one df", nct(1, 1, 0), 0.75, 1e-9, "closed form of Cauchy"},
		{"many df", nct(3, 1e5, 1), cumulative(2), 1e-4, "normal limit"},
	})
}

func TestSamplesRefuse(t *testing.T) {
	for name, err := range map[string]error{
		"confidence 1":      second(MeanInterval([]float64{1, 2}, 1)),
		"one value":         second(MeanInterval([]float64{1}, 0.95)),
		"five at 95 %":      second(MedianInterval([]float64{1, 2, 3, 4, 5}, 0.95)),
		"tolerance of one":  second(ToleranceFactor(1, 0.95, 0.95)),
		"coverage 0":        second(ToleranceFactor(8, 0, 0.95)),
		"log of zero":       second(LogUpperTolerance([]float64{0, 1}, 0.95, 0.95)),
		"more than all":     second(ExceedanceUpper(6, 5, 0.95)),
		"r of 1":            second(EffectiveN(9, 1)),
		"hopeless width":    second(HalfWidthN(1e-9, 1, 0.95)),
		"t of zero df":      second(TQuantile(0.5, 0)),
		"constant series":   second(LagOne([]float64{2, 2, 2})),
		"equal differences": second(PairedT([]float64{1, 1, 1}, 0.95)),
		"subgroup of one":   second(RangeMean(1)),
		"weight 0":          second(EWMA{Sigma: 1, Width: 3}.Run([]float64{1})),
	} {
		if err == nil {
			t.Errorf("%s: want an error", name)
		}
	}
}
