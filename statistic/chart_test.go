package statistic

import (
	"math"
	"testing"

	"wellwright/source"
)

func TestChartConstants(t *testing.T) {
	const book = "Montgomery, Introduction to Statistical Quality Control, appendix of factors (from memory)"
	d2 := map[int]float64{2: 1.128, 3: 1.693, 4: 2.059, 5: 2.326, 6: 2.534, 10: 3.078, 25: 3.931}
	d3 := map[int]float64{2: 0.853, 3: 0.888, 4: 0.880, 5: 0.864, 6: 0.848, 10: 0.797, 25: 0.708}
	c4 := map[int]float64{2: 0.7979, 3: 0.8862, 4: 0.9213, 5: 0.9400, 6: 0.9515, 8: 0.9650, 10: 0.9727}
	for n, want := range d2 {
		check(t, []figure{{"d2", must(RangeMean(n))(t), want, 5.1e-4, book}})
	}
	for n, want := range d3 {
		check(t, []figure{{"d3", must(RangeSD(n))(t), want, 5.1e-4, book}})
	}
	for n, want := range c4 {
		check(t, []figure{{"c4", must(SDBias(n))(t), want, 5.1e-5, book}})
	}
	check(t, []figure{
		{"d2 of two", must(RangeMean(2))(t), 2 / math.SqrtPi, 1e-12, "closed form 2/√π"},
		{"d2 of three", must(RangeMean(3))(t), 3 / math.SqrtPi, 1e-12, "closed form 3/√π"},
		{"d3 of two", must(RangeSD(2))(t), math.Sqrt(2 - 4/math.Pi), 1e-9, "closed form √(2 − 4/π)"},
	})
}

// A2 and D4 of the handbooks, read off charts of subgroups with mean 0, range 1.
func TestSubgroupFactors(t *testing.T) {
	const book = "Montgomery, factors A2 and D4 (from memory)"
	a2 := map[int]float64{2: 1.880, 3: 1.023, 4: 0.729, 5: 0.577, 6: 0.483}
	d4 := map[int]float64{2: 3.267, 3: 2.574, 4: 2.282, 5: 2.114, 6: 2.004}
	for n, want := range a2 {
		g := make([]float64, n)
		g[0], g[n-1] = 0.5, -0.5
		c := must(Subgroups([][]float64{g, g}))(t)
		// The books round d2 and d3 to three places first.
		check(t, []figure{
			{"A2", c.Mean.High, want, 1e-3, book},
			{"D4", c.Range.High, d4[n], 1.5e-3, book},
			{"D3", c.Range.Low, 0, 0, book},
		})
	}
}

const concentration = "102.0 94.8 98.3 98.4 102.0 98.5 99.0 97.7 100.0 98.1 101.3 98.7 101.1 98.4 97.0 96.7 100.3 101.4 97.2 101.0"

func TestConcentrationCUSUM(t *testing.T) {
	const src = "Montgomery and Runger, Applied Statistics and Probability for Engineers, table 16-8"
	xs := numbers(t, concentration)
	high := numbers(t, "2.0 0 0 0 2.0 0.5 0 0 0 0 1.3 0 1.1 0 0 0 0.3 1.7 0 1.0")
	low := numbers(t, "0 3.2 2.9 2.5 0 0 0 0.3 0 0 0 0 0 0 1.0 2.3 0 0 0.8 0")
	for i, p := range must(CUSUM{Mean: 99, Slack: 1, Limit: 10}.Run(xs))(t) {
		check(t, []figure{{"upper", p.High, high[i], 1e-9, src}, {"lower", p.Low, low[i], 1e-9, src}})
		if p.SignalUp || p.SignalDown {
			t.Errorf("value %d signals, want none (%s)", i+1, src)
		}
	}
	c := must(Individuals(xs))(t)
	const apart = "data: Montgomery and Runger, table 16-7; mean moving range computed apart"
	check(t, []figure{
		{"mean range", c.Range.Center, 2.5895, 5e-5, apart},
		{"sigma", c.Sigma, 2.2956, 1e-3, apart + " with d2 rounded to 1.128"},
		{"high limit", c.X.High - c.X.Center, 2.66 * 2.5895, 5e-3, "Montgomery: 2.66 times the mean range"},
		{"range limit", c.Range.High, 3.267 * 2.5895, 5e-3, "Montgomery: 3.267 times the mean range"},
	})
}

const shifted = "9.45 7.99 9.29 11.66 12.16 10.18 8.04 11.46 9.20 10.34 9.03 11.47 10.51 9.40 10.08 9.37 10.62 10.31 8.52 10.84 10.90 9.33 12.29 11.50 10.60 11.08 10.38 11.62 11.31 10.52"

func TestShiftedMean(t *testing.T) {
	const src = "Montgomery, Introduction to Statistical Quality Control, tables 9.1 and 9.2 (sums as carried in a library's test; limits from memory)"
	xs := numbers(t, shifted)
	c := must(CUSUM{Mean: 10, Slack: 0.5, Limit: 5}.Run(xs))(t)
	upper := numbers(t, "0 0 0 1.16 2.82 2.50 0.04 1.00 0 0 0 0.97 0.98 0 0 0 0.12 0 0 0.34 0.74 0 1.79 2.79 2.89 3.47 3.35 4.47 5.28 5.30")
	for i, want := range upper {
		check(t, []figure{{"upper sum", c[i].High, want, 1e-9, src}})
	}
	check(t, []figure{{"steps up at 29", float64(c[28].SinceHigh), 7, 0, src}})
	if c[27].SignalUp || !c[28].SignalUp {
		t.Errorf("signals at 28 and 29: %v, %v; want the first at 29 (%s)", c[27].SignalUp, c[28].SignalUp, src)
	}
	e := must(EWMA{Mean: 10, Sigma: 1, Lambda: 0.1, Width: 2.7}.Run(xs))(t)
	check(t, []figure{
		{"z 29", e[28].Average, 10.6468, 5e-5, "by arithmetic on the published data"},
		{"z 1", e[0].Average, 9.945, 1e-9, src},
		{"z 2", e[1].Average, 9.7495, 1e-9, src},
		{"limit 1", e[0].Limits.High, 10.27, 1e-9, src},
		{"limit 2", e[1].Limits.Low, 9.64, 5e-3, src},
		{"final limit", e[29].Limits.High, 10.62, 5e-3, src},
	})
	for i, p := range e {
		if p.Signal != (i >= 28) {
			t.Errorf("average %d signals: %v; want from 29 on, 10.647 over 10.619 (by arithmetic on the published data)", i+1, p.Signal)
		}
	}
}

func TestNickel(t *testing.T) {
	const src = "US EPA Unified Guidance 2009, example 20-1; sums computed apart"
	c := must(NewCombined(numbers(t, "32.8 15.2 13.5 39.6 37.1 10.4 31.9 20.6"), source.Set{}))(t)
	p := must(c.Run(numbers(t, "19 34.5 17.8 23.6 34.8 28.8 23.7 81.8")))(t)
	last := p[len(p)-1]
	check(t, []figure{
		{"mean", c.Mean, 25.1375, 1e-9, src},
		{"sd", c.Sigma, 11.518, 5e-4, src},
		{"z", last.Z, 4.919, 5e-4, src},
		{"sum", last.Sum, 3.919, 5e-4, src},
		{"single limit", last.SingleAt, 76.97, 5e-3, src},
	})
	if !last.SingleOut || last.SumOut || p[6].SingleOut {
		t.Errorf("signals: last %+v, want the single limit alone, and first there (%s)", last, src)
	}
	if _, err := NewCombined(make([]float64, 7), source.Set{}); err == nil {
		t.Error("seven baseline values: want an error, eight are needed")
	}
}

// Who owns the limit: a value on it does not signal.
func TestLimitsBelongInside(t *testing.T) {
	l := ChartLimits{1, 2, 3}
	for x, want := range map[float64]bool{0.999: true, 1: false, 3: false, 3.001: true} {
		if l.Outside(x) != want {
			t.Errorf("Outside(%g) = %v, want %v (rule: on a limit is inside)", x, !want, want)
		}
	}
	for _, tt := range []struct {
		x    float64
		want bool
	}{{5.999, false}, {6, false}, {6.001, true}} {
		p := must(CUSUM{Mean: 0, Slack: 1, Limit: 5}.Run([]float64{tt.x}))(t)
		if p[0].SignalUp != tt.want {
			t.Errorf("sum of %g less slack 1 signals at 5: %v, want %v", tt.x, p[0].SignalUp, tt.want)
		}
	}
}

func TestRunLengths(t *testing.T) {
	const cusum = "Montgomery, Introduction to Statistical Quality Control, run lengths of the tabular CUSUM, k ½ (from memory)"
	const ewma = "Lucas and Saccucci 1990, table 3, as in Montgomery (from memory)"
	const siegmund = "Siegmund approximation computed apart"
	run := func(k, h, d float64) float64 { return must(CUSUMRunLength(k, h, d))(t) }
	check(t, []figure{
		{"h 4, in control", run(0.5, 4, 0), 168, 0.5, cusum},
		{"h 4, shift 1", run(0.5, 4, 1), 8.38, 0.01, cusum},
		{"h 5, in control", run(0.5, 5, 0), 465, 1, cusum},
		{"h 5, shift 1", run(0.5, 5, 1), 10.4, 0.05, cusum},
		{"h 4, shift ½", run(0.5, 4, 0.5), 26.6, 0.1, cusum},
		{"h 4, shift 2", run(0.5, 4, 2), 3.34, 0.01, cusum},
		{"Siegmund h 4", must(SiegmundRunLength(0.5, 4, 0))(t), 169, 0.5, siegmund},
		{"Siegmund h 4, shift 1", must(SiegmundRunLength(0.5, 4, 1))(t), 8.3, 0.05, siegmund},
		{"Siegmund h 5", must(SiegmundRunLength(0.5, 5, 0))(t), 469, 0.5, siegmund},
		{"Siegmund h 5, shift 1", must(SiegmundRunLength(0.5, 5, 1))(t), 10.3, 0.05, siegmund},
	})
	for _, tt := range []struct{ lambda, width, half, one float64 }{
		{0.05, 2.615, 28.8, 11.4}, {0.10, 2.814, 31.3, 10.3}, {0.20, 2.962, 41.8, 10.5}, {0.25, 2.998, 48.2, 11.1}, {0.40, 3.054, 71.2, 14.3},
	} {
		at := func(d float64) float64 { return must(EWMARunLength(tt.lambda, tt.width, d))(t) }
		check(t, []figure{
			{"in control", at(0), 500, 2.5, ewma},
			{"shift ½", at(0.5), tt.half, 0.1, ewma},
			{"shift 1", at(1), tt.one, 0.06, ewma},
		})
	}
	// A weight of 1 is the plain chart, whose run length is geometric.
	check(t, []figure{{"λ 1", must(EWMARunLength(1, 3, 0))(t), 1 / (2 * cumulative(-3)), 1e-6, "geometric run length, 370.4"}})
}

func TestFactorsAreUnique(t *testing.T) {
	r, err := source.NewRegister(Factors())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range Factors() {
		if f.From == "" || f.What == "" {
			t.Errorf("%s: no source or meaning", f.Name)
		}
		if f.HasRange() && (f.Value < f.Low || f.Value > f.High) {
			t.Errorf("%s: %g is outside its own range %g to %g", f.Name, f.Value, f.Low, f.High)
		}
	}
	if len(r.Names()) != len(Factors()) {
		t.Error("a factor is missing from the register")
	}
	set := source.NewSet(map[string]source.Override{"statistic_cusum_slack": {Value: 0.25}})
	if c := NewCUSUM(0, 2, set); c.Slack != 0.5 || c.Limit != 10 {
		t.Errorf("NewCUSUM = %+v, want slack ¼·2 and limit 5·2", c)
	}
	if e := NewEWMA(1, 2, set); e.Lambda != Factors()[2].Value || Confidence(set) != 0.95 || PlottingConstant(set) != 0 {
		t.Errorf("defaults of the set: %+v, %g, %g", e, Confidence(set), PlottingConstant(set))
	}
}
