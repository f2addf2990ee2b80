package statistic

import (
	"math"
	"testing"

	"wellwright/source"
)

func TestThreeNames(t *testing.T) {
	const src = "uranium column study, J. Chem. Eng. Process Technol. 5:200, 2014, table 2: Yoon-Nelson and Thomas fits of one run"
	// 0.410 mL/(min·mg), 100 mg/L = 0.1 mg/mL, 1 mL/min, 3.854 mg/g.
	yn := Logistic{K: 0.041, Tau: 173.4}
	th := must(yn.Thomas(Thomas{Mass: 17.34 / 3.854, Flow: 1, Feed: 0.1}))(t)
	check(t, []figure{
		{"Thomas rate", th.Rate, 0.410, 5e-4, src},
		{"Thomas capacity", th.Capacity, 3.854, 1e-9, src},
		{"mass", 17.34 / 3.854, 4.50, 5e-3, src},
		{"t at 5 %", must(yn.TimeAt(0.05))(t), 101.6, 0.05, src + ", by arithmetic"},
		{"t at 95 %", must(yn.TimeAt(0.95))(t), 245.2, 0.05, src + ", by arithmetic"},
		{"C/C0 at τ", yn.At(173.4), 0.5, 0, "definition"},
	})
	back := must(th.Logistic())(t)
	ba := must(yn.BohartAdams(BohartAdams{Depth: 10, Velocity: 2, Feed: 0.1}))(t)
	back2 := must(ba.Logistic())(t)
	const same = "identity: kYN = kTh·C0 = kBA·C0 (Chu 2010)"
	check(t, []figure{
		{"k back", back.K, yn.K, 1e-12, same}, {"τ back", back.Tau, yn.Tau, 1e-9, same},
		{"k back, Bohart-Adams", back2.K, yn.K, 1e-12, same}, {"τ back, Bohart-Adams", back2.Tau, yn.Tau, 1e-9, same},
		{"Bohart-Adams rate", ba.Rate, th.Rate, 1e-12, same},
		{"exact at 0", must(ba.Exact(0))(t), math.Exp(-yn.K * yn.Tau), 1e-15, "closed form at t = 0: exp(−kτ)"},
		{"exact late", must(ba.Exact(200))(t), yn.At(200), 1.6e-4, "the two differ by exp(−kt)·f² = 1.5e-4"},
	})
}

// Rat42 of the NIST reference data sets is a logistic with a free height. With
// the height held at its certified value, the other two must come out certified.
func TestReferenceCurve(t *testing.T) {
	const src = "NIST Statistical Reference Datasets, Rat42, certified values (from memory)"
	const height = 7.2462237576e+01
	ts := numbers(t, "9 14 21 28 42 57 63 70 79")
	ys := numbers(t, "8.93 10.8 18.59 22.33 39.35 56.11 61.73 64.62 67.08")
	var p []Point
	for i := range ts {
		p = append(p, Point{ts[i], ys[i] / height})
	}
	f := must(FitCurve(p, source.Set{}))(t)
	check(t, []figure{
		{"k", f.K, 6.7359200066e-02, 1e-10, src},
		{"kτ", f.K * f.Tau, 2.6180768402, 1e-8, src},
		{"residual sum", f.Residual * f.Residual * 7 * height * height, 8.0565229338, 1e-8, src},
	})
}

func TestLineFit(t *testing.T) {
	// Exact points of a curve, with two outside the limits that must not matter.
	c := Logistic{0.02, 300}
	p := []Point{{0, 0}, {900, 1.02}}
	for _, at := range []float64{180, 240, 300, 360, 420} {
		p = append(p, Point{at, c.At(at)})
	}
	f := must(FitLine(p, source.Set{}))(t)
	check(t, []figure{
		{"k", f.K, 0.02, 1e-12, "the curve the points lie on"},
		{"τ", f.Tau, 300, 1e-9, "the curve the points lie on"},
		{"left out", float64(f.Left), 2, 0, "rule: 0.05 < C/C0 < 0.95"},
	})
	for name, bad := range map[string][]Point{
		"falling":   {{1, 0.8}, {2, 0.5}, {3, 0.2}},
		"too few":   {{1, 0.01}, {2, 0.5}, {3, 0.99}},
		"same time": {{1, 0.3}, {1, 0.5}, {1, 0.6}},
	} {
		if _, err := FitLine(bad, source.Set{}); err == nil {
			t.Errorf("%s: want an error", name)
		}
	}
	if f, err := FitCurve([]Point{{1, 0.8}, {2, 0.5}, {3, 0.2}}, source.Set{}); err == nil {
		t.Errorf("falling curve: fitted %+v, want an error", f)
	}
}

// The window belongs outside: a point at just 0.05 or 0.95 is left out.
func TestLineFitWindow(t *testing.T) {
	p := []Point{{1, 0.05}, {2, 0.050001}, {3, 0.5}, {4, 0.949999}, {5, 0.95}}
	f := must(FitLine(p, source.Set{}))(t)
	if f.N != 3 || f.Left != 2 {
		t.Errorf("used %d, left %d; want 3 and 2 (rule: strictly between)", f.N, f.Left)
	}
}

// With no errors in the line's standard errors there must be none in the fit;
// with a known one they must be those of a straight-line regression.
func TestLineErrors(t *testing.T) {
	logits := []float64{-2, -0.9, 0.1, 0.8, 2}
	var p []Point
	for i, y := range logits {
		p = append(p, Point{float64(i), 1 / (1 + math.Exp(-y))})
	}
	f := must(FitLine(p, source.Set{}))(t)
	// By hand: t̄ 2, Sxx 10, Sxy 9.7, ȳ 0; residuals about 0.97(t−2).
	rss := 0.0
	for i, y := range logits {
		e := y - 0.97*(float64(i)-2)
		rss += e * e
	}
	const src = "by hand: slope 0.97, se √(RSS/3/10)"
	check(t, []figure{
		{"k", f.K, 0.97, 1e-12, src},
		{"τ", f.Tau, 2, 1e-12, src},
		{"se of k", f.SEK, math.Sqrt(rss / 30), 1e-12, src},
		{"se of τ", f.SETau, math.Sqrt(rss/3/5) / 0.97, 1e-12, "by hand: √(s²/n)/k at t̄ = τ"},
	})
}
