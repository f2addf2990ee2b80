package statistic

import (
	"math"
	"testing"

	"wellwright/source"
)

// Every public method says no to what it does not hold for.
func TestMethodsRefuse(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	two := []float64{1, 2}
	curve, bed, column := Logistic{0.1, 50}, Thomas{1, 1, 1, 1, 0}, BohartAdams{1, 1, 1, 1, 0}
	find := Detection{Difference: 1, SD: 1, Alpha: 0.05, Power: 0.8}
	for name, err := range map[string]error{
		"summary of one":           second(Summarise(two[:1])),
		"median of none":           second(Median(nil)),
		"median of NaN":            second(Median([]float64{nan})),
		"mean of infinite":         second(MeanInterval([]float64{1, inf}, 0.95)),
		"signed-rank of zeros":     second(SignedRank([]float64{0, 0})),
		"signed-rank of NaN":       second(SignedRank([]float64{1, nan})),
		"sign test of NaN":         second(SignTest([]Pair{{Exactly(nan), Exactly(1)}})),
		"Hodges-Lehmann of five":   second(HodgesLehmann([]float64{1, 2, 3, 4, 5}, 0.95)),
		"Hodges-Lehmann of many":   second(HodgesLehmann(make([]float64, 201), 0.95)),
		"rank-sum of none":         second(RankSum(nil, two)),
		"shift of many":            second(Shift(make([]float64, 40), make([]float64, 40), 0.95)),
		"Welch of one":             second(Welch(two[:1], two, 0.95)),
		"Welch of equals":          second(Welch([]float64{1, 1}, []float64{1, 1}, 0.95)),
		"McNemar below zero":       second(McNemar(-1, 3)),
		"ratio with zero":          second(LogRatios([]Pair{{Exactly(1), Exactly(0)}})),
		"ratio with non-detect":    second(LogRatios([]Pair{{Exactly(1), LessThan(1)}})),
		"removal of one pair":      second(MeanRemoval([]Pair{{Exactly(2), Exactly(1)}}, 0.95)),
		"one season":               second(SeasonalKendall([][]Point{{{1, 1}, {2, 2}, {3, 3}}}, 0.95)),
		"flat season":              second(SeasonalKendall([][]Point{{{1, 1}, {2, 2}, {3, 3}}, {{1, 1}, {2, 1}, {3, 1}}}, 0.95)),
		"range constant of 101":    second(RangeSD(101)),
		"c4 of one":                second(SDBias(1)),
		"individuals of one":       second(Individuals(two[:1])),
		"one subgroup":             second(Subgroups([][]float64{two})),
		"uneven subgroups":         second(Subgroups([][]float64{two, {1, 2, 3}})),
		"subgroups of one":         second(Subgroups([][]float64{{1}, {2}})),
		"average, no width":        second(EWMA{Sigma: 1, Lambda: 0.2}.Run(two)),
		"sum, no limit":            second(CUSUM{}.Run(two)),
		"sum, slack below zero":    second(CUSUM{Slack: -1, Limit: 5}.Run(two)),
		"combined, no sigma":       second(Combined{}.Run(two)),
		"combined, flat baseline":  second(NewCombined(make([]float64, 8), source.Set{})),
		"run length, slack":        second(CUSUMRunLength(4, 5, 0)),
		"run length, limit":        second(CUSUMRunLength(0.5, 0, 0)),
		"run length, shift":        second(CUSUMRunLength(0.5, 5, nan)),
		"run length, endless":      second(CUSUMRunLength(3, 20, 0)),
		"run length, weight":       second(EWMARunLength(0.01, 3, 0)),
		"run length, width":        second(EWMARunLength(0.2, 6, 0)),
		"run length, far shift":    second(EWMARunLength(0.2, 3, 11)),
		"Siegmund, limit":          second(SiegmundRunLength(0.5, 0, 0)),
		"Siegmund, slack":          second(SiegmundRunLength(-1, 5, 0)),
		"half width of one":        second(HalfWidth(1, 1, 0.95)),
		"half width of zero":       second(HalfWidthN(0, 1, 0.95)),
		"detection of nothing":     second(DetectionN(Detection{SD: 1, Alpha: 0.05, Power: 0.8})),
		"exact detection, alpha 0": second(ExactDetectionN(Detection{Difference: 1, SD: 1, Power: 0.8})),
		"power of one pair":        second(find.PowerOf(1)),
		"tolerance of one":         second(UpperTolerance(two[:1], 0.95, 0.95)),
		"maximum, coverage 1":      second(MaximumN(1, 0.95)),
		"exceedance of none":       second(ExceedanceUpper(0, 0, 0.95)),
		"time at 1":                second(curve.TimeAt(1)),
		"Thomas without feed":      second(bed.Logistic()),
		"Thomas of a curve":        second(curve.Thomas(bed)),
		"Bohart without feed":      second(column.Logistic()),
		"Bohart exact":             second(column.Exact(1)),
		"Bohart before start":      second(BohartAdams{1, 1, 1, 1, 1}.Exact(-1)),
		"Bohart of a curve":        second(curve.BohartAdams(column)),
		"curve of two points":      second(FitCurve([]Point{{1, 0.2}, {2, 0.5}}, source.Set{})),
		"curve at one time":        second(FitCurve([]Point{{1, 0.2}, {1, 0.5}, {1, 0.6}}, source.Set{})),
		"Kaplan-Meier upper at 1":  second(KMResult{N: 9}.UpperMean(1)),
		"lognormal, confidence 0":  second(Lognormal(Detects(1, 2, 3), 0)),
	} {
		if err == nil {
			t.Errorf("%s: want an error", name)
		}
	}
	if _, ok := Pairs(Detects(1, 2), Detects(1)); ok {
		t.Error("columns of unequal length were paired")
	}
}

func TestFarTail(t *testing.T) {
	const src = "ln Φ(−40), table of the normal tail (from memory)"
	check(t, []figure{
		{"ln Φ(−40)", logCumulative(-40), -804.608442, 1e-6, src},
		{"ln Φ meets the series", logCumulative(farTail), math.Log(cumulative(farTail)), 1e-9, "both forms at the border"},
		{"φ/Φ meets the series", mills(farTail), phi(farTail) / cumulative(farTail), 1e-8, "both forms at the border"},
	})
	r := must(Lognormal(values(t, "1 1.001 1.002 <1000 <1e6"), 0.95))(t)
	check(t, []figure{{"far limits add nothing", r.LogMean, math.Log(1.001), 1e-5, "limit: the non-detects are certain to lie below"}})
}

// A long series of each kind falls back on the normal test.
func TestLongSeries(t *testing.T) {
	d := benchDifferences(300)
	r := must(SignedRank(d))(t)
	s := must(RankSum(d[:150], d[150:]))(t)
	if r.P != r.Normal || s.P != s.Normal {
		t.Error("300 figures: want the normal test")
	}
}
