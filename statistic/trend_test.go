package statistic

import "testing"

func series(t testing.TB, times, ys string) []Point {
	ts, vs := numbers(t, times), numbers(t, ys)
	out := make([]Point, len(ts))
	for i := range ts {
		out[i] = Point{ts[i], vs[i]}
	}
	return out
}

func sulfate(t testing.TB) []Point {
	return series(t, "89.6 89.8 90.1 90.3 90.6 90.8 91.1 91.3 91.6 91.8 92.1 92.6 93.1 93.6 94.1 94.6 95.1 95.6 95.8 96.1 96.3 96.6 96.8",
		"480 450 490 520 485 510 510 530 510 560 560 540 590 550 600 700 570 610 650 620 830 720 590")
}

func TestSulfateTrend(t *testing.T) {
	const src = "US EPA Unified Guidance 2009, example 17-6, as printed in the manual of EnvStats 3.1.0"
	k := must(MannKendall(sulfate(t)))(t)
	s := must(SenSlope(sulfate(t), 0.95))(t)
	check(t, []figure{
		{"S", float64(k.S), 194, 0, src},
		{"variance", k.Variance, 1428, 0.5, src},
		{"Z", k.Z, 5.1073, 5e-5, src},
		{"p", k.P.Both, 3.27e-7, 5e-10, src},
		{"tau", k.Tau, 0.7668, 5e-5, src},
		{"slope", s.Mid, 26.667, 5e-4, src},
		{"low", s.Low, 20.0, 5e-2, src},
		{"high", s.High, 35.71, 5e-3, src},
		{"intercept", s.Intercept, -1909.33, 5e-3, src},
	})
	if k.Counted != nil {
		t.Error("a series with ties was counted out as if it had none")
	}
}

func TestSeasonalTrend(t *testing.T) {
	const src = "US EPA Unified Guidance 2009, example 14-10, as run with EnvStats (kendallSeasonalTrendTest)"
	months := []string{"1.99 2.01 2.15", "2.10 2.10 2.17", "2.12 2.17 2.27", "2.12 2.13 2.23", "2.11 2.13 2.24", "2.15 2.18 2.26",
		"2.19 2.25 2.31", "2.18 2.24 2.32", "2.16 2.22 2.28", "2.08 2.13 2.22", "2.05 2.08 2.19", "2.08 2.16 2.22"}
	var seasons [][]Point
	var own []float64
	for _, m := range months {
		g := series(t, "1983 1984 1985", m)
		seasons, own = append(seasons, g), append(own, must(SenSlope(g, 0.95))(t).Intercept)
	}
	r := must(SeasonalKendall(seasons, 0.95))(t)
	check(t, []figure{
		{"tau", r.Tau, 0.9722222, 5e-8, src},
		{"slope", r.Slope.Mid, 0.06, 1e-9, src},
		// The library takes the intercept from each season's own slope; its line
		// then misses the data. Ours takes the common slope; both are checked.
		{"intercept of the seasons' own lines", median(sorted(own)), -131.735, 1e-6, src},
		{"intercept", r.Slope.Intercept, 2.145 - 0.06*1984, 1e-9, "by hand: the median of the seasons' medians is 2.145"},
		{"χ² of the seasons", r.Heterogeneity, 0.1071882, 5e-8, src},
		{"its p", r.PSame, 1, 1e-6, src},
		{"Z", r.Z, 5.1849514, 5e-8, src},
		{"p", r.P.Both, 2.160712e-07, 5e-14, src},
		{"low", r.Slope.Low, 0.05786914, 5e-9, src},
		{"high", r.Slope.High, 0.07213086, 5e-9, src},
	})
}

// The table of Kendall's S: one-sided probabilities without ties.
func TestCountedKendall(t *testing.T) {
	const src = "Kendall, Rank Correlation Methods, table of S (from memory)"
	tests := []struct {
		ys   string
		s    int
		want float64
	}{
		{"1 2 3 4", 6, 0.042},
		{"1 2 4 3", 4, 0.167},
		{"1 2 3 4 5", 10, 0.0083},
		{"1 2 3 5 4", 8, 0.042},
		{"2 1 4 3 5", 6, 0.117},
		{"1 2 3 4 5 7 6", 19, 0.0014},
	}
	for _, tt := range tests {
		var p []Point
		for i, y := range numbers(t, tt.ys) {
			p = append(p, Point{float64(i), y})
		}
		k := must(MannKendall(p))(t)
		if k.S != tt.s || k.Counted == nil {
			t.Fatalf("%s: %+v, want S %d, counted out", tt.ys, k, tt.s)
		}
		check(t, []figure{{tt.ys, k.Counted.Greater, tt.want, 5e-4, src}})
	}
}

// Equal times are checked by counting out all orders of a short series.
func TestTiesInTime(t *testing.T) {
	flat := []Point{{1, 1}, {1, 2}, {2, 3}, {2, 4}}
	k := must(MannKendall(flat))(t)
	check(t, []figure{
		{"S", float64(k.S), 4, 0, "by hand: four pairs at different times, all rising"},
		{"variance", k.Variance, enumeratedVariance(), 1e-9, "all 24 orders counted out"},
	})
}

// enumeratedVariance counts S over all orders of four figures at times 1 1 2 2.
func enumeratedVariance() float64 {
	var sum, n float64
	for a := range 4 {
		for b := range 4 {
			for c := range 4 {
				d := 6 - a - b - c
				if a == b || a == c || b == c || d < 0 || d > 3 || d == a || d == b || d == c {
					continue
				}
				s := float64(sign(float64(c-a)) + sign(float64(d-a)) + sign(float64(c-b)) + sign(float64(d-b)))
				sum += s * s
				n++
			}
		}
	}
	return sum / n
}

func TestTrendRefuses(t *testing.T) {
	for name, p := range map[string][]Point{
		"two points": {{1, 1}, {2, 2}},
		"all equal":  {{1, 5}, {2, 5}, {3, 5}},
		"one time":   {{1, 1}, {1, 2}, {1, 3}},
	} {
		if _, err := MannKendall(p); err == nil {
			t.Errorf("%s: want an error", name)
		}
	}
	if _, err := SenSlope([]Point{{1, 1}, {1, 2}, {1, 3}}, 0.95); err == nil {
		t.Error("slope at one time: want an error")
	}
}
