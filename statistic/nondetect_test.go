package statistic

import (
	"errors"
	"math"
	"testing"
)

const (
	manganese = "<5 12.1 16.9 21.6 <2 <5 7.7 53.6 9.5 45.9 <5 5.3 12.6 106.3 34.5 6.3 11.9 10 <2 77.2 17.9 22.7 3.3 8.4 <2"
	lead      = "<1 <1 2 2.5 2.8 <3 3.4 3.9 <4 <4 <4 4.5 4.9 5.5 5.5 5.5 <6 6.7 6.9 7.4 <9 9.5 <10 <10 10 15 49 200 9060"
	mnSource  = "US EPA Unified Guidance 2009, example 15-1 manganese, as printed in the manual of EnvStats 3.1.0"
	mnApart   = "data: US EPA Unified Guidance 2009, example 15-1; answer computed apart"
	pbSource  = "Beal 2010 lead, as printed in the manual of EnvStats 3.1.0"
)

func TestHelselCohnPositions(t *testing.T) {
	const src = "Helsel and Cohn 1988, appendix B"
	const apart = "data: Helsel and Cohn 1988, appendix B; regression computed apart"
	vs := values(t, "<1 <1 <1 <1 <1 <1 3 7 9 <10 <10 <10 12 15 20 27 33 50")
	want := []float64{.063, .127, .190, .254, .317, .381, .500, .556, .611, .167, .333, .500, .714, .762, .810, .857, .905, .952}
	p := must(PlottingPositions(vs, 0))(t)
	for i, w := range want {
		check(t, []figure{{vs[i].String(), p[i], w, 5.1e-4, src}})
	}
	r := must(ROS(vs, 0))(t)
	check(t, []figure{
		{"slope", r.Slope, 1.5115, 1e-4, apart},
		{"intercept", r.Intercept, 1.5696, 1e-4, apart},
		{"mean", r.Mean, 10.79, 0.01, apart},
		{"sd", r.SD, 13.68, 0.01, apart},
	})
}

func TestManganese(t *testing.T) {
	vs := values(t, manganese)
	m := must(Lognormal(vs, 0.95))(t)
	blom, zero := must(ROS(vs, 0.375))(t), must(ROS(vs, 0))(t)
	sub := must(SubstitutionBounds(vs))(t)
	logs := make([]Value, len(vs))
	for i, v := range vs {
		logs[i] = Value{v.Sign, math.Log(v.Figure)}
	}
	km := must(KaplanMeier(logs, AtLowestLimit))(t)
	check(t, []figure{
		{"MLE log mean", m.LogMean, 2.215905, 1e-6, mnSource},
		{"MLE log sd", m.LogSD, 1.356291, 1e-6, mnSource},
		{"ROS log mean, a 0.375", blom.Intercept, 2.293742, 1e-6, mnSource},
		{"ROS log sd, a 0.375", blom.Slope, 1.283635, 1e-6, mnSource},
		{"robust log mean, a 0.375", blom.LogMean, 2.298656, 1e-6, mnSource},
		{"robust log sd, a 0.375", blom.LogSD, 1.238104, 1e-6, mnSource},
		{"robust log mean, a 0", zero.LogMean, 2.277175, 1e-6, mnSource},
		{"robust log sd, a 0", zero.LogSD, 1.261431, 1e-6, mnSource},
		{"robust mean, a 0", zero.Mean, 19.83, 0.005, mnApart},
		{"Kaplan-Meier log mean", km.Mean, 2.3093, 5e-5, mnApart},
		{"Kaplan-Meier log sd", km.SD, 1.1816, 5e-5, mnApart},
		{"mean with 0", sub.Low, 19.35, 0.005, mnApart},
		{"mean with half", sub.Mid, 19.77, 0.005, mnApart},
		{"mean with limit", sub.High, 20.19, 0.005, mnApart},
	})
}

func TestLead(t *testing.T) {
	r := must(KaplanMeier(values(t, lead), AtSmallestDetect))(t)
	low := must(KaplanMeier(values(t, lead), AtLowestLimit))(t)
	check(t, []figure{
		{"mean", r.Mean, 325.34, 0.005, pbSource},
		{"sd", r.SD, 1651.10, 0.0051, pbSource + ", rounded from seven figures"},
		{"se", r.SE, 315.00, 0.005, pbSource},
		{"upper limit", must(r.UpperMean(0.95))(t), 861.20, 0.01, pbSource},
		{"mean, lowest class at the limit", low.Mean, 325.20, 0.005, "data: Beal 2010; answer computed apart"},
	})
}

func TestTetrachloroethylene(t *testing.T) {
	const src = "US EPA Unified Guidance 2009, example 16-5, as run with EnvStats (twoSampleLinearRankTestCensored, hypergeometric variance)"
	background := values(t, "<4 1.5 <2 8.7 5.1 <5")
	compliance := values(t, "6.4 10.9 7 14.3 1.9 10 6.8 <5")
	tests := []struct {
		w                     Weighting
		score, variance, z, p float64
	}{
		{TaroneWare, 8.458912, 20.912407, 1.849748, 0.03217495},
		{LogRank, 2.830406, 2.176723, 1.918435, 0.02752793},
		{PetoPeto, 1.888889, 1.028642, 1.862406, 0.03127296},
		{Gehan, 27, 227, 1.792053, 0.03656224},
	}
	for _, tt := range tests {
		r := must(CompareGroups(compliance, background, tt.w))(t)
		check(t, []figure{
			{tt.w.String() + " score", r.Score, tt.score, 5e-7, src},
			{tt.w.String() + " variance", r.Variance, tt.variance, 5e-7, src},
			{tt.w.String() + " Z", r.Z, tt.z, 5e-7, src},
			{tt.w.String() + " p", r.P.Greater, tt.p, 5e-9, src},
		})
	}
}

// Remission times censored on the right are flipped to the left.
func TestRemission(t *testing.T) {
	const src = "Freireich 1963 remission times; χ² in Kleinbaum and Klein, Survival Analysis (from memory)"
	flip := func(text string) []Value {
		vs := values(t, text)
		for i, v := range vs {
			vs[i].Figure = 100 - v.Figure
			if v.Sign == Above {
				vs[i].Sign = Below
			}
		}
		return vs
	}
	treated := flip("6 6 6 >6 7 >9 10 >10 >11 13 16 >17 >19 >20 22 23 >25 >32 >32 >34 >35")
	placebo := flip("1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23")
	for w, want := range map[Weighting]float64{LogRank: 16.79, Gehan: 13.46, TaroneWare: 15.12, PetoPeto: 14.08} {
		r := must(CompareGroups(treated, placebo, w))(t)
		check(t, []figure{{w.String(), r.Z * r.Z, want, 0.006, src}})
	}
}

func TestKaplanMeierQuantile(t *testing.T) {
	r := must(KaplanMeier(values(t, "<1 2 3 4 5 6 7 8 9 10"), AtSmallestDetect))(t)
	const rule = "by hand: ten values, one below all others"
	for p, want := range map[float64]Value{0.05: LessThan(2), 0.1: LessThan(2), 0.15: Exactly(2), 0.2: Exactly(2), 0.5: Exactly(5), 1: Exactly(10)} {
		if got := r.Quantile(p); got != want {
			t.Errorf("Quantile(%g) = %v, want %v (%s)", p, got, want, rule)
		}
	}
}

func TestCensorAtHighest(t *testing.T) {
	got := must(CensorAtHighest(values(t, "<1 3 <5 5 9")))(t)
	if got[0] != got[1] || got[1] != got[2] || got[2] >= got[3] || got[3] != 5 || got[4] != 9 {
		t.Errorf("CensorAtHighest = %v, want three tied below 5, then 5 and 9 (definition)", got)
	}
}

// The lognormal fit also takes values over the top: it must agree with its own
// mirror image, for ln x mirrored about zero turns below into above.
func TestLognormalMirror(t *testing.T) {
	vs := values(t, manganese)
	mirror := make([]Value, len(vs))
	for i, v := range vs {
		mirror[i] = Value{[...]Sign{Exact, Above, Below}[v.Sign], 1 / v.Figure}
	}
	a, b := must(Lognormal(vs, 0.95))(t), must(Lognormal(mirror, 0.95))(t)
	check(t, []figure{
		{"log mean", b.LogMean, -a.LogMean, 1e-9, "symmetry"},
		{"log sd", b.LogSD, a.LogSD, 1e-9, "symmetry"},
		{"likelihood", b.LogLikelihood, a.LogLikelihood, 1e-9, "symmetry"},
	})
}

// Standard errors are checked against the curvature of the likelihood that is
// found by differences, and the complete sample against closed forms.
func TestLognormalErrors(t *testing.T) {
	vs := Detects(numbers(t, "1 2 3 4 6 9 12")...)
	r := must(Lognormal(vs, 0.95))(t)
	n := float64(len(vs))
	const src = "closed form without non-detects: σ/√n and σ/√(2n)"
	check(t, []figure{
		{"se of log mean", r.SELogMean, r.LogSD / math.Sqrt(n), 1e-9, src},
		{"se of log sd", r.SELogSD, r.LogSD / math.Sqrt(2*n), 1e-9, src},
		{"half width of ln mean", math.Log(r.Mean.High / r.Mean.Mid), 1.959964 * r.LogSD * math.Sqrt((1+r.LogSD*r.LogSD/2)/n), 1e-6,
			"closed form: z·√(σ²/n + σ⁴/(2n))"},
	})
	profile := func(mu float64) float64 { // likelihood of μ at the best σ
		return golden(0.2, 5, func(s float64) float64 {
			return olsen{mu / s, 1 / s}.likelihood(logsOf(t, manganese)).l
		})
	}
	m := must(Lognormal(values(t, manganese), 0.95))(t)
	const step = 0.01
	bend := (profile(m.LogMean+step) - 2*profile(m.LogMean) + profile(m.LogMean-step)) / (step * step)
	check(t, []figure{{"se by differences", m.SELogMean, 1 / math.Sqrt(-bend), 1e-3, "curvature of the profile likelihood"}})
}

func logsOf(t testing.TB, text string) []Value {
	vs := values(t, text)
	for i, v := range vs {
		vs[i].Figure = math.Log(v.Figure)
	}
	return vs
}

// golden returns the greatest value of f between a and b.
func golden(a, b float64, f func(float64) float64) float64 {
	g := (math.Sqrt(5) - 1) / 2
	for range 100 {
		c, d := b-g*(b-a), a+g*(b-a)
		if f(c) > f(d) {
			b = d
		} else {
			a = c
		}
	}
	return f((a + b) / 2)
}

func TestNonDetectsRefuse(t *testing.T) {
	over := values(t, "1 2 3 4 >5")
	var bad *SignError
	for name, err := range map[string]error{
		"Kaplan-Meier": second(KaplanMeier(over, AtSmallestDetect)),
		"ROS":          second(ROS(over, 0)),
		"groups":       second(CompareGroups(over, over, Gehan)),
		"bounds":       second(SubstitutionBounds(over)),
		"censoring":    second(CensorAtHighest(over)),
	} {
		if !errors.As(err, &bad) {
			t.Errorf("%s with a value over the top: %v, want a SignError", name, err)
		}
	}
	for name, err := range map[string]error{
		"one detect":       second(KaplanMeier(values(t, "<1 <1 3"), AtSmallestDetect)),
		"two detects":      second(ROS(values(t, "<1 2 3"), 0)),
		"equal detects":    second(Lognormal(values(t, "<1 3 3"), 0.95)),
		"zero":             second(Lognormal(values(t, "0 3 4"), 0.95)),
		"plotting a":       second(ROS(values(t, manganese), 0.6)),
		"all non-detects":  second(CompareGroups(values(t, "<1"), values(t, "<2"), Gehan)),
		"negative in mean": second(SubstitutionBounds(values(t, "-1 2"))),
	} {
		if err == nil {
			t.Errorf("%s: want an error", name)
		}
	}
}

func second[T any](_ T, err error) error { return err }
