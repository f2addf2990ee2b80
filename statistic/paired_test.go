package statistic

import (
	"errors"
	"math"
	"testing"
)

const (
	mayflyAbove = "12 15 11 41 106 63 296 53 20 110 429 185"
	mayflyBelow = "9 9 38 24 48 17 11 41 14 60 53 124"
	mayfly      = "data: Helsel and Hirsch, Statistical Methods in Water Resources, mayfly nymphs; answer computed apart, SciPy 1.10"
	tceBefore   = "20.9 9.17 5.96 41.5 34.3 19.7 38.9 8.18 9.13 28.5"
	tceAfter    = ".917 8.77 4.37 4.34 10.7 1.48 .272 .52 3.06 1.9"
	tce         = "data: USACE EM 200-1-16, trichloroethylene before and after treatment"
	tceScipy    = tce + "; answer computed apart, SciPy 1.10"
)

func TestMayfly(t *testing.T) {
	pairs := pairsOf(t, mayflyAbove, mayflyBelow)
	raw := must(Differences(pairs))(t)
	logs := must(LogRatios(pairs))(t)
	s, sl := must(SignedRank(raw))(t), must(SignedRank(logs))(t)
	tr, tl := must(PairedT(raw, 0.95))(t), must(PairedT(logs, 0.95))(t)
	sg := must(SignTest(pairs))(t)
	hl := must(HodgesLehmann(raw, 0.95))(t)
	check(t, []figure{
		{"W+", s.Plus, 72, 0, mayfly},
		{"p of W+, table, one-sided", s.NoTies.Greater, 0.00342, 5e-6, mayfly},
		{"p of W+, table, two-sided", s.NoTies.Both, 0.00684, 5e-6, mayfly},
		{"p of W+, midranks, one-sided", s.P.Greater, 0.00317, 5e-6, mayfly},
		{"p of W+, midranks, two-sided", s.P.Both, 0.00635, 5e-6, mayfly},
		{"W+ of logs", sl.Plus, 69, 0, mayfly},
		{"p of logs, one-sided", sl.P.Greater, 0.00806, 5e-6, mayfly},
		{"p of logs, two-sided", sl.P.Both, 0.01611, 5e-6, mayfly},
		{"t", tr.T, 2.079, 5e-4, mayfly},
		{"p of t", tr.P.Both, 0.0618, 5e-5, mayfly},
		{"t of logs", tl.T, 2.407, 5e-4, mayfly},
		{"p of t of logs", tl.P.Both, 0.0348, 5e-5, mayfly},
		{"plus signs", float64(sg.Plus), 11, 0, mayfly},
		{"minus signs", float64(sg.Minus), 1, 0, mayfly},
		{"p of signs, one-sided", sg.P.Greater, 13.0 / 4096, 1e-15, "definition: (12 + 1)/2^12"},
		{"Hodges-Lehmann", hl.Mid, 33.5, 0, mayfly},
	})
	if !s.Tied || sl.Tied {
		t.Errorf("ties: raw %v, logs %v; want one tie in the raw differences only", s.Tied, sl.Tied)
	}
}

func TestTrichloroethylene(t *testing.T) {
	pairs := pairsOf(t, tceBefore, tceAfter)
	raw := must(PairedT(must(Differences(pairs))(t), 0.95))(t)
	sr := must(SignedRank(must(Differences(pairs))(t)))(t)
	r := must(MeanRemoval(pairs, 0.95))(t)
	before := must(MedianInterval(numbers(t, tceBefore), 0.95))(t)
	after := must(MedianInterval(numbers(t, tceAfter), 0.95))(t)
	var percents []float64
	for _, p := range pairs {
		v, _ := PercentRemoval(p)
		percents = append(percents, v.Figure)
	}
	printed := tce + ", medians and limits as printed in the manual of EnvStats 3.1.0"
	check(t, []figure{
		{"t", raw.T, 4.103, 5e-4, tceScipy},
		{"p of t", raw.P.Both, 0.00266, 5e-6, tceScipy},
		{"p of signed-rank", sr.P.Both, 2.0 / 1024, 1e-15, "definition: all ten of one sign"},
		{"log removal", r.Log.Mid, 0.9126, 5e-5, tceScipy},
		{"sd of log removal", r.SD, 0.6414, 5e-5, tceScipy},
		{"low log removal", r.Log.Low, 0.454, 5e-4, tceScipy},
		{"high log removal", r.Log.High, 1.371, 5e-4, tceScipy},
		{"low percent", r.Percent.Low, 64.8, 0.05, tceScipy},
		{"percent", r.Percent.Mid, 87.8, 0.05, tceScipy},
		{"high percent", r.Percent.High, 95.7, 0.05, tceScipy},
		{"median of percents", must(Median(percents))(t), 91.0, 0.05, tceScipy},
		{"median before", before.Mid, 20.3, 0.005, printed},
		{"its low limit", before.Low, 8.8, 0.05, printed},
		{"its high limit", before.High, 35.9, 0.05, printed},
		{"median after", after.Mid, 2.48, 0.005, printed},
		{"its low limit", after.Low, 0.78, 0.005, printed},
		{"its high limit", after.High, 5.88, 0.005, printed},
	})
}

func TestRemovalWithNonDetects(t *testing.T) {
	const rule = "rule: an effluent non-detect bounds removal from below; two non-detects say nothing"
	tests := []struct {
		name        string
		raw, treat  Value
		lrv         float64
		sign        Sign
		known       bool
		percent     float64
		percentSign Sign
	}{
		{"both measured", Exactly(10), Exactly(0.1), 2, Exact, true, 99, Exact},
		{"treated below", Exactly(10), LessThan(0.1), 2, Above, true, 99, Above},
		{"raw below", LessThan(10), Exactly(1), 1, Below, true, 90, Below},
		{"both below", LessThan(0.1), LessThan(0.1), 0, Exact, false, 0, Exact},
		{"raw above", MoreThan(10), Exactly(1), 1, Above, true, 90, Above},
		{"raw above, treated below", MoreThan(10), LessThan(1), 1, Above, true, 90, Above},
		{"both above", MoreThan(10), MoreThan(10), 0, Exact, false, 0, Exact},
		{"treated more than raw", Exactly(1), Exactly(10), -1, Exact, true, -900, Exact},
		{"treated zero", Exactly(1), Exactly(0), 0, Exact, false, 0, Exact},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := LogRemoval(Pair{tt.raw, tt.treat})
			if ok != tt.known {
				t.Fatalf("known = %v, want %v (%s)", ok, tt.known, rule)
			}
			if !ok {
				return
			}
			p, _ := PercentRemoval(Pair{tt.raw, tt.treat})
			check(t, []figure{{"log removal", got.Figure, tt.lrv, 1e-12, rule}, {"percent", p.Figure, tt.percent, 1e-9, rule}})
			if got.Sign != tt.sign || p.Sign != tt.percentSign {
				t.Errorf("signs = %d, %d; want %d, %d (%s)", got.Sign, p.Sign, tt.sign, tt.percentSign, rule)
			}
		})
	}
}

func TestMeanRemovalCountsBounds(t *testing.T) {
	r := must(MeanRemoval(pairsOf(t, "10 10 10 <1", "1 <0.1 1 <1"), 0.95))(t)
	if r.N != 3 || r.Bounds != 1 || r.Blind != 1 || r.Sign != Above {
		t.Errorf("MeanRemoval = %+v, want 3 used, 1 bound, 1 blind, sign above", r)
	}
	check(t, []figure{{"mean", r.Log.Mid, 4.0 / 3, 1e-12, "definition: mean of 1, 2 and 1"}})
	var bad *SignError
	if _, err := MeanRemoval(pairsOf(t, "10 <10 10", "<1 1 1"), 0.95); !errors.As(err, &bad) {
		t.Errorf("bounds of both kinds: %v, want a SignError", err)
	}
}

func TestSignTestWithNonDetects(t *testing.T) {
	const rule = "rule: below 5 is less than 5"
	tests := []struct {
		first, second             string
		plus, minus, tie, unknown int
	}{
		{"5", "<5", 1, 0, 0, 0},
		{"5", "<2", 1, 0, 0, 0},
		{"<5", "5", 0, 1, 0, 0},
		{"<5", "3", 0, 0, 0, 1},
		{"<5", "<2", 0, 0, 0, 1},
		{">5", "5", 1, 0, 0, 0},
		{">5", "<5", 1, 0, 0, 0},
		{">5", "7", 0, 0, 0, 1},
		{"5", "5", 0, 0, 1, 0},
	}
	for _, tt := range tests {
		// A sure pair is added, so that the test can be had at all.
		r := must(SignTest(pairsOf(t, tt.first+" 9", tt.second+" 1")))(t)
		if r.Plus-1 != tt.plus || r.Minus != tt.minus || r.Ties != tt.tie || r.Unknown != tt.unknown {
			t.Errorf("%s against %s: %+v, want +%d −%d =%d ?%d (%s)", tt.first, tt.second, r, tt.plus, tt.minus, tt.tie, tt.unknown, rule)
		}
	}
	if _, err := SignTest(pairsOf(t, "<1 3", "<1 3")); err == nil {
		t.Error("no pair that differs: want an error")
	}
}

func TestMcNemar(t *testing.T) {
	p := must(McNemar(9, 2))(t)
	q := must(McNemar(6, 0))(t)
	even := must(McNemar(4, 4))(t)
	check(t, []figure{
		{"9 against 2", p.Both, 2 * (1 + 11 + 55) / 2048.0, 1e-15, "definition: binomial tail, 0.0654"},
		{"6 against 0", q.Both, 0.03125, 1e-15, "definition: 2/2^6"},
		{"4 against 4", even.Both, 1, 0, "definition"},
	})
	if _, err := McNemar(0, 0); err == nil {
		t.Error("no discordant sample: want an error")
	}
}

func TestMinimumSameSign(t *testing.T) {
	for _, tt := range []struct {
		alpha float64
		n     int
	}{{0.05, 6}, {0.0625, 5}, {0.0624, 6}, {0.01, 8}, {1, 1}} {
		if got := MinimumSameSign(tt.alpha); got != tt.n {
			t.Errorf("MinimumSameSign(%g) = %d, want %d (definition: 2·½^n ≤ alpha)", tt.alpha, got, tt.n)
		}
	}
}

// The table of the signed-rank statistic in textbooks: the greatest W with a
// two-sided probability at or under 5 %.
func TestSignedRankCriticalValues(t *testing.T) {
	for n, want := range map[int]int{6: 0, 7: 2, 8: 3, 9: 5, 10: 8, 12: 13, 15: 25, 20: 52, 25: 89} {
		c := orderAt(whole(signDistribution(doubledRanks(n))), 0.025) - 1
		if c != want {
			t.Errorf("critical W at n %d = %d, want %d (Wilcoxon and Wilcox 1964, 5 %% two-sided, from memory)", n, c, want)
		}
	}
}

func TestExactAgreesWithNormal(t *testing.T) {
	var d []float64
	for i := range 60 {
		d = append(d, float64(i%7)+0.31*float64(i)-12)
	}
	r := must(SignedRank(d))(t)
	if math.Abs(r.P.Greater-r.Normal.Greater) > 0.002 {
		t.Errorf("exact p %g, normal %g: want within 0.002 at n 60 (central limit)", r.P.Greater, r.Normal.Greater)
	}
}
