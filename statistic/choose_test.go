package statistic

import (
	"strings"
	"testing"

	"wellwright/source"
)

func TestChooseEstimator(t *testing.T) {
	const src = "Helsel 2012 (from memory): under 50 % Kaplan-Meier, 50 to 80 % ROS, above only the share"
	tests := []struct {
		detects, limits int
		want            Estimator
	}{
		{5, 0, PlainMean},
		{51, 49, UseKaplanMeier},
		{50, 50, UseROS},
		{49, 51, UseROS},
		{21, 79, UseROS},
		{20, 80, UseROS},
		{19, 81, ShareOnly},
		{1, 0, PlainMean},
		{2, 1, UseKaplanMeier},
		{2, 2, ShareOnly}, // too few detects for a line
		{0, 3, ShareOnly},
	}
	for _, tt := range tests {
		vs := values(t, strings.Repeat("4 ", tt.detects)+strings.Repeat("<3 ", tt.limits))
		c := must(ChooseEstimator(vs, source.Set{}))(t)
		if c.Estimator != tt.want || len(c.Why) == 0 {
			t.Errorf("%d detects, %d non-detects: %v (%v), want %v (%s)", tt.detects, tt.limits, c.Estimator, c.Why, tt.want, src)
		}
	}
	if _, err := ChooseEstimator(nil, source.Set{}); err == nil {
		t.Error("no values: want an error")
	}
}

// What a user reads when a method is asked too much.
func TestErrorsSayWhatIsWanted(t *testing.T) {
	for want, err := range map[string]error{
		"paired t test: number of values is 2, at least 3 wanted":                      second(PairedT([]float64{1, 2}, 0.95)),
		"interval of a mean: confidence is 1, more than 0 and less than 1 wanted":      second(MeanInterval([]float64{1, 2}, 1)),
		"lognormal fit: figure is 0, more than 0 wanted":                               second(Lognormal(values(t, "0 1 2"), 0.95)),
		"plotting positions: plotting constant is 0.6, from 0 to 0.5 wanted":           second(ROS(values(t, "1 2 3"), 0.6)),
		"differences: value 2 is <3, which this method cannot take: use the sign test": second(Differences(pairsOf(t, "1 <3", "1 1"))),
	} {
		if err == nil || err.Error() != want {
			t.Errorf("error %q, want %q", err, want)
		}
	}
}
