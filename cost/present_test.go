package cost

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"wellwright/unit"
)

const interestTables = "compound-interest tables of engineering-economy textbooks (from memory)"

func TestDiscountFactors(t *testing.T) {
	single := func(d, n float64) (float64, error) {
		return SinglePresentValue(PerCentAYear(d), TermYears(n))
	}
	uniform := func(d, n float64) (float64, error) {
		return UniformPresentValue(PerCentAYear(d), TermYears(n))
	}
	recovery := func(d, n float64) (float64, error) {
		return CapitalRecovery(PerCentAYear(d), TermYears(n))
	}
	tests := []struct {
		name      string
		f         func(d, n float64) (float64, error)
		d, n      float64
		want, tol float64
		source    string
	}{
		{"single", single, 3, 8, 0.78941, 0.00001, interestTables},
		{"single, no time", single, 3, 0, 1, 0, "definition"},
		{"uniform", uniform, 3, 15, 11.9379, 0.0001, interestTables},
		{"uniform", uniform, 5, 10, 7.7217, 0.0001, interestTables},
		{"uniform, no interest", uniform, 0, 10, 10, 1e-12, "definition"},
		{"recovery", recovery, 6, 10, 0.135868, 0.000001, interestTables},
	}
	for _, tt := range tests {
		got, err := tt.f(tt.d, tt.n)
		if err != nil || math.Abs(got-tt.want) > tt.tol {
			t.Errorf("%s at %g %% over %g years = %g, %v, want %g ± %g (%s)", tt.name, tt.d, tt.n, got, err, tt.want, tt.tol, tt.source)
		}
	}
}

// The closed form must equal the sum it stands for, year by year.
func TestModifiedUPVIsTheSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(-0.2, 0.5).Draw(t, "d")
		e := rapid.OneOf(rapid.Just(d), rapid.Float64Range(-0.2, 0.5), rapid.Just(d+1e-12)).Draw(t, "e")
		n := rapid.IntRange(0, 40).Draw(t, "n")
		want := 0.0
		for year := 1; year <= n; year++ {
			want += math.Pow((1+e)/(1+d), float64(year))
		}
		got, err := ModifiedUPV(Rates{ShareAYear(d), ShareAYear(e)}, TermYears(float64(n)))
		if err != nil || math.Abs(got-want) > 1e-3*math.Max(1, want)*1e-3 {
			t.Fatalf("ModifiedUPV(d %g, e %g, %d years) = %g, %v, want the sum %g", d, e, n, got, err, want)
		}
	})
}

func TestModifiedUPV(t *testing.T) {
	got, err := ModifiedUPV(Rates{PerCentAYear(3), PerCentAYear(2)}, TermYears(15))
	if err != nil || math.Abs(got-13.8861) > 0.0001 {
		t.Errorf("ModifiedUPV(3 %%, 2 %%, 15) = %g, %v, want 13.8861 (derived from the formula of US GSA, P100)", got, err)
	}
}

func TestRealRate(t *testing.T) {
	got, err := RealRate(Nominal{Quoted: PerCentAYear(5.5), Inflation: PerCentAYear(2.5)})
	if err != nil || math.Abs(got.PerCentAYear()-2.927) > 0.0005 {
		t.Errorf("RealRate(5.5 %%, 2.5 %%) = %g %%, %v, want 2.927 (identity of US GSA, P100: 1.055/1.025)", got.PerCentAYear(), err)
	}
}

func TestPumpingEnergy(t *testing.T) {
	got, err := PumpingEnergy(Pumping{Head: unit.FtWater(200), Efficiency: 0.35, Volume: unit.Gal(1000)})
	if err != nil || math.Abs(got.KWh()-1.796) > 0.002 {
		t.Errorf("1,000 gal lifted 200 ft at 35 %% take %g kWh, %v, want 1.796 (0.746·Q·H/(3960·η) kW of engineering tables)", got.KWh(), err)
	}
	if usd := got.KWh() * 0.16; math.Abs(usd-0.287) > 0.0005 {
		t.Errorf("at 16 cents a kWh that is %g USD, want 0.287 (the same)", usd)
	}
	// 10 gpm lifted 10 ft, pump 0.9 and motor 0.9, 10 cents a kWh: 0.00233 USD an hour.
	hour, err := PumpingEnergy(Pumping{Head: unit.FtWater(10), Efficiency: 0.81, Volume: unit.Gal(600)})
	if err != nil || math.Abs(hour.KWh()*0.10-0.00233) > 0.00001 {
		t.Errorf("an hour costs %g USD, %v, want 0.00233 (published: engineering data page on pumping cost, which prints 0.002)", hour.KWh()*0.10, err)
	}
}

func TestOutOfRange(t *testing.T) {
	tests := map[string]func() error{
		"rate of -60 %":     func() error { _, err := SinglePresentValue(PerCentAYear(-60), TermYears(1)); return err },
		"rate not a number": func() error { _, err := UniformPresentValue(ShareAYear(math.NaN()), TermYears(1)); return err },
		"term below zero":   func() error { _, err := UniformPresentValue(PerCentAYear(3), TermYears(-1)); return err },
		"term zero":         func() error { _, err := CapitalRecovery(PerCentAYear(3), TermYears(0)); return err },
		"inflation":         func() error { _, err := RealRate(Nominal{Inflation: PerCentAYear(200)}); return err },
		"efficiency zero":   func() error { _, err := PumpingEnergy(Pumping{Head: unit.FtWater(1)}); return err },
		"head below zero": func() error {
			_, err := PumpingEnergy(Pumping{Head: unit.FtWater(-1), Efficiency: 0.5})
			return err
		},
	}
	for name, run := range tests {
		var out *RangeError
		if err := run(); !errors.As(err, &out) {
			t.Errorf("%s: got %v, want a RangeError", name, err)
		}
	}
}

// A worked example: first $2,400; upkeep $90 a year rising 2 %; power $12 a year
// rising 1 %; media $450 in year 8; 3 % real; 15 years.
func TestLifeCycleCost(t *testing.T) {
	got, err := LifeCycleCost(Plant{
		First:        USD(2400),
		Annuals:      []Annual{{USD(90), PerCentAYear(2)}, {USD(12), PerCentAYear(1)}},
		Replacements: []Dated{{USD(450), TermYears(8)}},
		Discount:     PerCentAYear(3), Life: TermYears(15),
	})
	const source = "derived by the method of NIST Handbook 135"
	if err != nil || math.Abs(got.Total.USD()-4159.40) > 0.05 || math.Abs(got.AYear.USD()-348.42) > 0.05 {
		t.Errorf("LifeCycleCost = %s, %s a year, %v, want $4,159.40 and $348.42 (%s)", got.Total.Exact(), got.AYear.Exact(), err, source)
	}
}

func TestSalvageIsTakenOff(t *testing.T) {
	p := Plant{First: USD(1000), Discount: PerCentAYear(3), Life: TermYears(10)}
	bare, err := LifeCycleCost(p)
	if err != nil {
		t.Fatal(err)
	}
	p.Salvage = []Dated{{USD(100), TermYears(10)}}
	less, err := LifeCycleCost(p)
	if err != nil {
		t.Fatal(err)
	}
	if saved := bare.Total.Sub(less.Total).USD(); math.Abs(saved-74.41) > 0.01 {
		t.Errorf("$100 left in year 10 saves %g, want 74.41 (0.7441 at 3 %% over 10 years: %s)", saved, interestTables)
	}
}
