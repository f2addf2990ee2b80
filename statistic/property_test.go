package statistic

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wellwright/source"
)

// drawSample draws figures on a coarse grid, so that ties come often.
func drawSample(low, high int) *rapid.Generator[[]float64] {
	return rapid.Custom(func(t *rapid.T) []float64 {
		whole := rapid.SliceOfN(rapid.IntRange(1, 40), low, high).Draw(t, "whole")
		out := make([]float64, len(whole))
		for i, w := range whole {
			out[i] = float64(w) / 4
		}
		return out
	})
}

// drawCensored draws values with non-detects at a few limits.
func drawCensored(low, high int) *rapid.Generator[[]Value] {
	return rapid.Custom(func(t *rapid.T) []Value {
		vs := Detects(drawSample(low, high).Draw(t, "figures")...)
		for i := range vs {
			if limit := rapid.SampledFrom([]float64{0, 0, 1, 3, 5}).Draw(t, "limit"); limit > 0 {
				vs[i] = LessThan(limit)
			}
		}
		return vs
	})
}

func proper(t *rapid.T, what string, p Tails) {
	for _, v := range []float64{p.Less, p.Greater, p.Both} {
		if !(v >= 0 && v <= 1) {
			t.Fatalf("%s: %+v, want probabilities", what, p)
		}
	}
	if p.Less+p.Greater < 1-1e-9 {
		t.Fatalf("%s: %+v, want tails that overlap or meet", what, p)
	}
}

func TestTailsAreProbabilities(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawSample(3, 20).Draw(t, "a"), drawSample(3, 20).Draw(t, "b")
		n := min(len(a), len(b))
		d := make([]float64, n)
		for i := range d {
			d[i] = a[i] - b[i]
		}
		if r, err := SignedRank(d); err == nil {
			proper(t, "signed-rank", r.P)
			proper(t, "signed-rank table", r.NoTies)
			if m := float64(r.N); r.Plus+r.Minus != m*(m+1)/2 {
				t.Fatalf("W+ %g and W− %g do not make all ranks", r.Plus, r.Minus)
			}
		}
		r, err := RankSum(a, b)
		if err != nil {
			t.Fatal(err)
		}
		proper(t, "rank-sum", r.P)
		back, _ := RankSum(b, a)
		if math.Abs(back.P.Less-r.P.Greater) > 1e-9 || math.Abs(back.Z+r.Z) > 1e-9 {
			t.Fatalf("samples exchanged: %+v against %+v, want tails exchanged", r, back)
		}
	})
}

// Small samples are counted out by brute force over all 2^n signs.
func TestSignedRankByBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawSample(1, 9).Draw(t, "d")
		for i := range d {
			if rapid.Bool().Draw(t, "minus") {
				d[i] = -d[i]
			}
		}
		r, err := SignedRank(d)
		if err != nil {
			t.Fatal(err)
		}
		size := make([]float64, len(d))
		for i := range d {
			size[i] = math.Abs(d[i])
		}
		doubled := rankOf(size).doubled
		up := 0
		for bits := range 1 << len(d) {
			sum := 0
			for i, rank := range doubled {
				sum += (bits >> i & 1) * rank
			}
			if float64(sum) >= 2*r.Plus {
				up++
			}
		}
		if want := float64(up) / float64(int(1)<<len(d)); math.Abs(r.P.Greater-want) > 1e-12 {
			t.Fatalf("p = %g, all signs counted give %g", r.P.Greater, want)
		}
	})
}

func TestKendallTurnsAround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ys := drawSample(3, 25).Draw(t, "ys")
		up, down := make([]Point, len(ys)), make([]Point, len(ys))
		for i, y := range ys {
			up[i], down[i] = Point{float64(i), y}, Point{-float64(i), y}
		}
		slices.Reverse(down)
		a, err := MannKendall(up)
		if err != nil {
			t.Skip("all equal")
		}
		b, err := MannKendall(down)
		if err != nil {
			t.Fatal(err)
		}
		proper(t, "Mann-Kendall", a.P)
		if a.S != -b.S || a.Variance != b.Variance || math.Abs(a.P.Less-b.P.Greater) > 1e-12 {
			t.Fatalf("reversed: %+v against %+v, want S of the other sign", a, b)
		}
		s1, _ := SenSlope(up, 0.9)
		s2, _ := SenSlope(down, 0.9)
		if s1.Mid != -s2.Mid || s1.Low > s1.Mid || s1.Mid > s1.High {
			t.Fatalf("slopes %+v and %+v, want opposite and inside their limits", s1, s2)
		}
	})
}

// A straight line comes back whatever its slope.
func TestSenFindsALine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, a := rapid.Float64Range(-9, 9).Draw(t, "slope"), rapid.Float64Range(-9, 9).Draw(t, "intercept")
		var p []Point
		for i := range rapid.IntRange(3, 20).Draw(t, "n") {
			p = append(p, Point{float64(i), a + b*float64(i)})
		}
		s, err := SenSlope(p, 0.95)
		if err != nil || math.Abs(s.Mid-b) > 1e-9 || math.Abs(s.Intercept-a) > 1e-8 {
			t.Fatalf("SenSlope = %+v, %v; want %g and %g", s, err, b, a)
		}
	})
}

func TestKaplanMeierWithoutNonDetects(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := drawSample(2, 30).Draw(t, "xs")
		r, err := KaplanMeier(Detects(xs...), AtSmallestDetect)
		if err != nil {
			t.Fatal(err)
		}
		s := summarise(xs)
		n := float64(len(xs))
		if math.Abs(r.Mean-s.Mean) > 1e-9 || math.Abs(r.SD-s.SD*math.Sqrt((n-1)/n)) > 1e-9 || r.Open > 1e-12 {
			t.Fatalf("Kaplan-Meier %+v, want mean %g, sd %g over n", r, s.Mean, s.SD)
		}
		// Without non-detects the standard error is that of the mean.
		if math.Abs(r.SE-s.SD/math.Sqrt(n)) > 1e-9 {
			t.Fatalf("se %g, want %g", r.SE, s.SD/math.Sqrt(n))
		}
	})
}

func TestNonDetectEstimatesLieInTheBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vs := drawCensored(5, 40).Draw(t, "values")
		bounds, err := SubstitutionBounds(vs)
		if err != nil {
			t.Fatal(err)
		}
		if !(bounds.Low <= bounds.Mid && bounds.Mid <= bounds.High) {
			t.Fatalf("bounds %+v are out of order", bounds)
		}
		km, err := KaplanMeier(vs, AtLowestLimit)
		if err != nil {
			t.Skip("too few detects")
		}
		if km.Mean < bounds.Low-1e-9 || km.Mean > bounds.High+1e-9 {
			t.Fatalf("Kaplan-Meier mean %g outside the bounds %+v", km.Mean, bounds)
		}
		for i, s := range km.Steps {
			if s.Under < -1e-12 || s.Under > km.upTo(i)+1e-12 {
				t.Fatalf("steps %+v do not rise", km.Steps)
			}
		}
	})
}

func TestROSKeepsDetects(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vs := drawCensored(6, 40).Draw(t, "values")
		a := rapid.Float64Range(0, 0.5).Draw(t, "a")
		r, err := ROS(vs, a)
		if err != nil {
			t.Skip("too few detects")
		}
		for i, v := range vs {
			if v.Sign == Exact && r.Filled[i] != v.Figure {
				t.Fatalf("detect %v became %g", v, r.Filled[i])
			}
			if !(r.Positions[i] > 0 && r.Positions[i] < 1) {
				t.Fatalf("position of %v is %g", v, r.Positions[i])
			}
			for j, w := range vs {
				if v.Sign == Exact && w.Sign == Exact && v.Figure < w.Figure && r.Positions[i] >= r.Positions[j] {
					t.Fatalf("positions of %v and %v are out of order", v, w)
				}
			}
		}
		if r.Slope < 0 {
			t.Fatalf("slope %g falls", r.Slope)
		}
	})
}

// The order in which samples are listed changes nothing.
func TestOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vs := drawCensored(6, 25).Draw(t, "values")
		mixed := rapid.Permutation(vs).Draw(t, "mixed")
		a, errA := ROS(vs, 0)
		b, errB := ROS(mixed, 0)
		if (errA == nil) != (errB == nil) || math.Abs(a.Mean-b.Mean) > 1e-9 {
			t.Fatalf("ROS %g, %v and %g, %v", a.Mean, errA, b.Mean, errB)
		}
		m, errM := Lognormal(vs, 0.95)
		k, errK := Lognormal(mixed, 0.95)
		if (errM == nil) != (errK == nil) || math.Abs(m.LogMean-k.LogMean) > 1e-7*(1+math.Abs(m.LogMean)) {
			t.Fatalf("lognormal %g, %v and %g, %v", m.LogMean, errM, k.LogMean, errK)
		}
	})
}

// At the answer the likelihood is flat, and every step away is downhill.
func TestLognormalIsATop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vs := drawCensored(6, 30).Draw(t, "values")
		r, err := Lognormal(vs, 0.95)
		if err != nil {
			t.Skip("too few detects")
		}
		logs := make([]Value, len(vs))
		for i, v := range vs {
			logs[i] = Value{v.Sign, math.Log(v.Figure)}
		}
		at := func(mu, sd float64) float64 { return olsen{mu / sd, 1 / sd}.likelihood(logs).l }
		for _, step := range []float64{-1e-3, 1e-3} {
			if at(r.LogMean+step*r.LogSD, r.LogSD) > r.LogLikelihood+1e-9 || at(r.LogMean, r.LogSD*(1+step)) > r.LogLikelihood+1e-9 {
				t.Fatalf("a step away from %+v is uphill", r)
			}
		}
	})
}

// A plain rank-sum test and Gehan's agree on direction without non-detects.
func TestGroupsExchange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawCensored(3, 15).Draw(t, "a"), drawCensored(3, 15).Draw(t, "b")
		w := rapid.SampledFrom([]Weighting{Gehan, TaroneWare, PetoPeto, LogRank}).Draw(t, "weighting")
		x, errX := CompareGroups(a, b, w)
		y, errY := CompareGroups(b, a, w)
		if (errX == nil) != (errY == nil) {
			t.Fatalf("errors %v and %v", errX, errY)
		}
		if errX != nil {
			t.Skip("no variance")
		}
		proper(t, w.String(), x.P)
		if math.Abs(x.Z+y.Z) > 1e-9 {
			t.Fatalf("groups exchanged: Z %g and %g", x.Z, y.Z)
		}
	})
}

// With no non-detects Gehan's score is the Mann-Whitney count less its mean.
func TestGehanIsRankSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawSample(3, 15).Draw(t, "a"), drawSample(3, 15).Draw(t, "b")
		g, err := CompareGroups(Detects(a...), Detects(b...), Gehan)
		if err != nil {
			t.Skip("all equal")
		}
		r, err := RankSum(a, b)
		if err != nil {
			t.Fatal(err)
		}
		if want := 2 * (r.W - r.Expected); math.Abs(g.Score-want) > 1e-9 {
			t.Fatalf("Gehan score %g, twice the rank-sum excess %g", g.Score, want)
		}
	})
}

func TestToleranceFactorFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 200).Draw(t, "n")
		cover, conf := rapid.Float64Range(0.6, 0.99).Draw(t, "coverage"), rapid.Float64Range(0.6, 0.99).Draw(t, "confidence")
		a, errA := ToleranceFactor(n, cover, conf)
		b, errB := ToleranceFactor(n+1, cover, conf)
		c, errC := ToleranceFactor(n, cover+0.005, conf)
		if first(errA, errB, errC) != nil {
			t.Fatal(errA, errB, errC)
		}
		if !(b < a && c > a && a > zOf(cover)) {
			t.Fatalf("factors %g at n, %g at n+1, %g at more coverage; want falling, rising, above z", a, b, c)
		}
		if p := nct(a*math.Sqrt(float64(n)), float64(n-1), zOf(cover)*math.Sqrt(float64(n))); math.Abs(p-conf) > 1e-9 {
			t.Fatalf("the factor gives confidence %g, want %g", p, conf)
		}
	})
}

func TestFitsFindTheCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Logistic{rapid.Float64Range(0.005, 0.5).Draw(t, "k"), rapid.Float64Range(50, 2000).Draw(t, "τ")}
		var p []Point
		for i := range 25 {
			f := 0.02 + 0.96*float64(i)/24
			at, err := c.TimeAt(f)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(c.At(at)-f) > 1e-12 {
				t.Fatalf("At(TimeAt(%g)) = %g", f, c.At(at))
			}
			p = append(p, Point{at, f})
		}
		line, errL := FitLine(p, source.Set{})
		curve, errC := FitCurve(p, source.Set{})
		if first(errL, errC) != nil {
			t.Fatal(errL, errC)
		}
		for _, f := range []Logistic{line.Logistic, curve.Logistic} {
			if math.Abs(f.K-c.K) > 1e-6*c.K || math.Abs(f.Tau-c.Tau) > 1e-6*c.Tau {
				t.Fatalf("fitted %+v, want %+v", f, c)
			}
		}
	})
}

// Noise of even size: the curve fit is never worse in C/C0 than the line.
func TestCurveBeatsLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Logistic{0.05, 200}
		var p []Point
		for i := range 15 {
			at := 100 + 14*float64(i)
			p = append(p, Point{at, c.At(at) + rapid.Float64Range(-0.04, 0.04).Draw(t, "noise")})
		}
		line, err := FitLine(p, source.Set{})
		if err != nil {
			t.Skip("no line")
		}
		curve, err := FitCurve(p, source.Set{})
		if err != nil {
			t.Fatal(err)
		}
		if curve.squares(p) > line.squares(p)+1e-12 {
			t.Fatalf("curve %g worse than line %g", curve.squares(p), line.squares(p))
		}
	})
}

func TestIntervalsHoldTheirMiddle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := drawSample(8, 40).Draw(t, "xs")
		conf := rapid.Float64Range(0.5, 0.98).Draw(t, "confidence")
		med, errM := MedianInterval(xs, conf)
		hl, errH := HodgesLehmann(xs, conf)
		mean, errX := MeanInterval(xs, conf)
		if first(errM, errH, errX) != nil {
			t.Fatal(errM, errH, errX)
		}
		for _, i := range []Interval{med, hl, mean} {
			if !(i.Low <= i.Mid+1e-12 && i.Mid <= i.High+1e-12) {
				t.Fatalf("interval %+v leaves out its middle", i)
			}
		}
	})
}

func TestExceedanceFallsWithN(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 200).Draw(t, "n")
		k := rapid.IntRange(0, n).Draw(t, "k")
		a, errA := ExceedanceUpper(k, n, 0.95)
		b, errB := ExceedanceUpper(k, n+1, 0.95)
		if first(errA, errB) != nil || b >= a && a < 1 || a < float64(k)/float64(n) {
			t.Fatalf("%d of %d: %g, %d of %d: %g (%v, %v)", k, n, a, k, n+1, b, errA, errB)
		}
	})
}

func TestCensoringNeverInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vs := drawCensored(2, 30).Draw(t, "values")
		xs, err := CensorAtHighest(vs)
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range vs {
			for j, w := range vs {
				if c, known := v.compare(w); known && c < 0 && xs[i] > xs[j] {
					t.Fatalf("%v before %v became %g before %g", v, w, xs[i], xs[j])
				}
			}
		}
	})
}
