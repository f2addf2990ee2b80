package statistic

import "testing"

func TestSulfateWelch(t *testing.T) {
	const src = "data: US EPA Unified Guidance 2009, example 16-1; answer computed apart, SciPy 1.10"
	up := numbers(t, "600 590 590 630 610 630")
	back := numbers(t, "560 530 570 490 510 550 550 530")
	r := must(Welch(up, back, 0.95))(t)
	a, b := must(Summarise(up))(t), must(Summarise(back))(t)
	check(t, []figure{
		{"mean, downgradient", a.Mean, 608.33, 0.005, src},
		{"mean, background", b.Mean, 536.25, 0.005, src},
		{"sd, downgradient", a.SD, 18.35, 0.005, src},
		{"sd, background", b.SD, 26.69, 0.005, src},
		{"t", r.T, 5.983, 5e-4, src},
		{"df", r.DF, 11.96, 5e-3, src},
		{"difference", r.Mean.Mid, 608.3333 - 536.25, 1e-4, "definition"},
	})
}

func TestCopperRankSum(t *testing.T) {
	const src = "data: US EPA Unified Guidance 2009, example 16-4; answer computed apart"
	const library = "US EPA Unified Guidance 2009, example 16-4: p of the normal test with continuity and ties, as run in R (wilcox.test)"
	compliance := numbers(t, "9.4 10.1 14.5 16.1 21.5 17.6")
	background := numbers(t, "4.2 5.8 11.3 7 7 8.2 5.2 6.4 11.3 11.5 10.1 9.7")
	r := must(RankSum(compliance, background))(t)
	check(t, []figure{
		{"W", r.W, 84.5, 0, src},
		{"U", r.W - 21, 63.5, 0, library},
		{"E", r.Expected, 57, 0, src},
		{"sd", r.SD, 10.661, 5e-4, src},
		{"Z", r.Z, 2.533, 1e-3, src},
		{"p", r.Normal.Greater, 0.005659303, 5e-9, library},
	})
}

// The table of the rank-sum statistic in textbooks: greatest U that is
// significant at 5 % two-sided.
func TestMannWhitneyCriticalValues(t *testing.T) {
	for _, tt := range []struct{ n1, n2, want int }{{4, 4, 0}, {5, 5, 2}, {6, 6, 5}, {7, 9, 12}, {8, 8, 13}, {10, 10, 23}, {12, 15, 49}, {20, 20, 127}} {
		u := whole(sumDistribution(doubledRanks(tt.n1+tt.n2), tt.n1))[tt.n1*(tt.n1+1)/2:]
		if c := orderAt(u, 0.025) - 1; c != tt.want {
			t.Errorf("critical U at %d, %d = %d, want %d (Mann-Whitney table, 5 %% two-sided, from memory)", tt.n1, tt.n2, c, tt.want)
		}
	}
}

func TestShift(t *testing.T) {
	r := must(Shift([]float64{11, 12, 13, 14, 15}, []float64{1, 2, 3, 4, 5}, 0.95))(t)
	if r.Mid != 10 || r.Low != 7 || r.High != 13 {
		t.Errorf("Shift = %+v, want 10 between 7 and 13 (by hand: third of 25 sorted gaps, from the critical U of 2)", r)
	}
	open := must(Shift([]float64{1}, []float64{2, 3}, 0.95))(t)
	if open.Low > -1e300 || open.High < 1e300 {
		t.Errorf("too few figures: %+v, want open sides", open)
	}
}
