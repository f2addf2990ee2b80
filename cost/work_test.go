package cost

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
)

// priced is the standard list with some parts at prices of the test's own.
func priced(t interface{ Fatalf(string, ...any) }, rows ...string) media.PriceList {
	text := "part,low_usd,mid_usd,high_usd\n" + strings.Join(rows, "\n") + "\n"
	list, errs := media.ReadPrices("test.csv", strings.NewReader(text))
	if len(errs) > 0 {
		t.Fatalf("price list: %v", errs)
	}
	return list
}

func dollar(p media.Part) string { return string(p) + ",1,1,1" }

// Net present cost of three trains at 4 % discount and 3 % escalation over ten
// years, prices common practice, arithmetic derived year by year: 2,200 + 300 a
// year is 5,050, and so on.
func TestTenYearsOfThreeTrains(t *testing.T) {
	prices := priced(t, dollar(media.LabourHour), dollar(media.Visit))
	set := source.NewSet(map[string]source.Override{
		DiscountRate.Name: {Value: 0.04, Why: "the example's"},
		Escalation.Name:   {Value: 0.03, Why: "the example's"},
	})
	for _, tt := range []struct{ first, yearly, want float64 }{
		{2200, 300, 5050}, {4500, 320, 7540}, {7700, 630, 13680},
	} {
		a := Work(Bill{
			First:  []Line{{Part: media.LabourHour, Amount: tt.first}},
			Yearly: []Use{{Part: media.Visit, PerYear: tt.yearly}},
		}, prices, set, nil)
		if got := a.TenYear.Mid.USD(); math.Abs(got-tt.want) > 6 {
			t.Errorf("%g + %g a year over ten years = %g, want %g ± 6 (sum of 1.03^t/1.04^t, t = 1 to 10, printed to the ten)", tt.first, tt.yearly, got, tt.want)
		}
	}
}

// The worked life-cycle example without its escalations, through a bill:
// 2,400 + 102·11.9379 + 450·0.78941 = 3,972.90.
func TestBillAgainstTables(t *testing.T) {
	prices := priced(t, dollar(media.LabourHour), dollar(media.Visit), dollar(media.ResinFt3))
	set := source.NewSet(map[string]source.Override{Horizon.Name: {Value: 15, Why: "the example's"}})
	a := Work(Bill{
		First:    []Line{{Part: media.LabourHour, Amount: 2400}},
		Yearly:   []Use{{Part: media.Visit, PerYear: 102}},
		Renewals: []Renewal{{Part: media.ResinFt3, Amount: 450, EveryYears: Years{Mid: 8}}},
	}, prices, set, nil)
	want := 2400 + 102*11.9379 + 450*0.78941
	if got := a.TenYear.Mid.USD(); math.Abs(got-want) > 0.02 {
		t.Errorf("ten-year sum = %g, want %.2f (%s)", got, want, interestTables)
	}
	if got, want := a.Yearly.Mid.USD(), 102+450.0/8; math.Abs(got-want) > 0.01 {
		t.Errorf("yearly = %g, want %g (definition)", got, want)
	}
}

func TestRenewalsFallInTheirYears(t *testing.T) {
	prices := priced(t, dollar(media.ResinFt3))
	factor := func(years ...float64) float64 {
		sum := 0.0
		for _, y := range years {
			sum += math.Pow(1.03, -y)
		}
		return sum
	}
	tests := []struct {
		every, want float64
		source      string
	}{
		{4, factor(4, 8), "definition"},
		{5, factor(5), "the one on the last day is left out"},
		{2.5, factor(2.5, 5, 7.5), "definition"},
		{9.99, factor(9.99), "just inside the ten years"},
		{10, 0, "on the last day"},
		{10.01, 0, "after the last day"},
		{math.Inf(1), 0, "never wears out"},
	}
	for _, tt := range tests {
		a := Work(Bill{Renewals: []Renewal{{Part: media.ResinFt3, Amount: 1000, EveryYears: Years{Mid: tt.every}}}}, prices, source.Set{}, nil)
		if got := a.TenYear.Mid.USD(); math.Abs(got-1000*tt.want) > 0.011 || len(a.Doubts) > 0 {
			t.Errorf("renewed every %g years: %g, %v, want %g (%s)", tt.every, got, a.Doubts, 1000*tt.want, tt.source)
		}
	}
}

// A part bought twice moves as one; two parts move apart.
func TestOnePartMovesAsOne(t *testing.T) {
	prices := priced(t, string(media.LabourHour)+",70,100,140", string(media.Visit)+",60,100,130")
	one := Work(Bill{First: []Line{{Part: media.LabourHour, Amount: 1}, {Part: media.LabourHour, Amount: 1}}}, prices, source.Set{}, nil)
	if want := (Range{USD(140), USD(200), USD(280)}); one.First != want {
		t.Errorf("two hours = %s, want %s (definition)", one.First, want)
	}
	two := Work(Bill{First: []Line{{Part: media.LabourHour, Amount: 1}, {Part: media.Visit, Amount: 1}}}, prices, source.Set{}, nil)
	if want := (Range{USD(150), USD(200), USD(250)}); two.First != want {
		t.Errorf("an hour and a visit = %s, want %s (30-40-50 triangle)", two.First, want)
	}
}

// A life known only within bounds widens the yearly cost even at a sure price.
func TestLifeWidens(t *testing.T) {
	prices := priced(t, dollar(media.ResinFt3))
	a := Work(Bill{Renewals: []Renewal{{Part: media.ResinFt3, Amount: 600, EveryYears: Years{5, 10, 15}}}}, prices, source.Set{}, nil)
	if want := (Range{USD(40), USD(60), USD(120)}); a.Yearly != want {
		t.Errorf("yearly = %s, want %s (600 over 15, 10 and 5 years)", a.Yearly, want)
	}
}

func TestNothingIsDroppedSilently(t *testing.T) {
	a := Work(Bill{
		First:    []Line{{Part: "moonstone", Amount: 1}, {Part: media.Visit, Amount: math.NaN()}, {Part: media.Visit, Amount: -1}},
		Yearly:   []Use{{Part: "moonstone", PerYear: 1}, {Part: media.SaltLb, PerYear: math.Inf(1)}},
		Renewals: []Renewal{{Part: media.ResinFt3, Amount: 1}, {Part: media.ResinFt3, Amount: 1, EveryYears: Years{9, 8, 10}}},
		Hours:    3,
	}, media.Prices(), source.Set{}, nil)
	if !reflect.DeepEqual(a.Missing, []media.Part{"moonstone"}) {
		t.Errorf("Missing = %v, want moonstone once", a.Missing)
	}
	if len(a.Doubts) != 5 {
		t.Errorf("Doubts = %q, want five", a.Doubts)
	}
	if a.Hours != 3 || len(a.Parts) != 0 || a.TenYear != (Range{}) {
		t.Errorf("answer = %+v, want nothing summed and 3 hours", a)
	}
}

func TestEmptyBill(t *testing.T) {
	a := Work(Bill{}, media.Prices(), source.Set{}, nil)
	if len(a.Parts) != 0 || a.First != (Range{}) || a.Yearly != (Range{}) || a.TenYear != (Range{}) || a.Missing != nil || a.Doubts != nil {
		t.Errorf("an empty bill gives %+v, want the zero answer", a)
	}
}

func TestJoinChangesNeither(t *testing.T) {
	a := Bill{First: make([]Line, 1, 4), Hours: 1}
	b := Bill{First: []Line{{Part: media.Visit, Amount: 1}}, Yearly: []Use{{Part: media.SaltLb}}, Hours: 2}
	both := a.Join(b)
	other := a.Join(Bill{First: []Line{{Part: media.LabourHour}}})
	if both.First[1].Part != media.Visit || other.First[1].Part != media.LabourHour {
		t.Error("two joins of one bill write over one another")
	}
	if len(both.First) != 2 || len(both.Yearly) != 1 || both.Hours != 3 {
		t.Errorf("Join = %+v, want two lines, one use, three hours", both)
	}
}

// Working repeats the figures of the answer, and its own symbols add up to them.
func TestWorkingAddsUp(t *testing.T) {
	w := &formula.Working{}
	a := Work(billOf(1.5), media.Prices(), source.Set{}, w)
	steps := map[string]formula.Placed{}
	for _, s := range w.Steps() {
		steps[s.Figure] = s
	}
	if got := steps["first cost"].Value; got != a.First.Mid.USD() {
		t.Errorf("first cost in the working = %g, want %g", got, a.First.Mid.USD())
	}
	v := map[string]float64{}
	for _, s := range steps["ten-year cost"].Symbols {
		v[s.Name] = s.Value
	}
	if got := v["first"] + v["used"]*v["UPV*"] + v["renewals"]; math.Abs(got-a.TenYear.Mid.USD()) > 0.1 {
		t.Errorf("the printed equation gives %g, the answer %g", got, a.TenYear.Mid.USD())
	}
}

// billOf is a softener of some cubic feet, as an example.
func billOf(ft3 float64) Bill {
	return Bill{
		First: []Line{
			{media.Part("vessel 10 x 54"), 1, "bed"}, {media.MeterValve, 1, "head"}, {media.ResinFt3, ft3, "bed"},
			{media.BrineTank, 1, ""}, {media.Connections, 1, ""}, {media.DrainLine, 1, ""}, {media.LabourHour, 5, "fitting"},
		},
		Yearly:   []Use{{media.SaltLb, 900, ""}, {media.ElectricityKWh, 30, ""}},
		Renewals: []Renewal{{media.ResinFt3, ft3, Years{5, 8, 15}, "fouls on iron"}},
		Hours:    6,
	}
}

// Properties of any bill: nothing is below zero, order does not matter, more
// amount never costs less, and the total of ten years is no less than the first.
func TestAnyBill(t *testing.T) {
	parts := media.Prices().Parts()
	rapid.Check(t, func(t *rapid.T) {
		var b, back Bill
		for i := range rapid.IntRange(1, 12).Draw(t, "entries") {
			p := rapid.SampledFrom(parts).Draw(t, fmt.Sprint("part ", i))
			amount := rapid.Float64Range(0, 500).Draw(t, fmt.Sprint("amount ", i))
			var one Bill
			switch rapid.IntRange(0, 2).Draw(t, fmt.Sprint("kind ", i)) {
			case 0:
				one.First = []Line{{Part: p, Amount: amount}}
			case 1:
				one.Yearly = []Use{{Part: p, PerYear: amount}}
			default:
				one.Renewals = []Renewal{{Part: p, Amount: amount, EveryYears: Years{1, 3.3, 20}}}
			}
			b, back = b.Join(one), one.Join(back)
		}
		if d := Expected(b, media.Prices(), source.Set{}).Sub(Work(b, media.Prices(), source.Set{}, nil).TenYear.Mid).Cents(); d > 1 || d < -1 {
			t.Fatalf("the quick sum is %d cents off", d)
		}
		a, r := Work(b, media.Prices(), source.Set{}, nil), Work(back, media.Prices(), source.Set{}, nil)
		for _, pair := range [][2]Range{{a.First, r.First}, {a.Yearly, r.Yearly}, {a.TenYear, r.TenYear}} {
			if d := pair[0].Mid.Sub(pair[1].Mid).Cents(); d > 1 || d < -1 {
				t.Fatalf("the order of a bill changes it: %v and %v", pair[0], pair[1])
			}
			if pair[0].Low.Cents() < 0 || pair[0].Low.Cents() > pair[0].Mid.Cents() || pair[0].Mid.Cents() > pair[0].High.Cents() {
				t.Fatalf("%v does not rise from nothing", pair[0])
			}
		}
		if a.TenYear.Mid.Cents() < a.First.Mid.Cents() {
			t.Fatalf("ten years cost %s, the first day %s", a.TenYear.Mid, a.First.Mid)
		}
		twice := Work(b.Join(b), media.Prices(), source.Set{}, nil)
		if d := twice.TenYear.Mid.Cents() - 2*a.TenYear.Mid.Cents(); d > 2 || d < -2 {
			t.Fatalf("twice the bill costs %s, once %s", twice.TenYear.Mid, a.TenYear.Mid)
		}
	})
}

// Renewals summed in closed form against each one by itself.
func TestRenewalsAreTheSum(t *testing.T) {
	prices := priced(t, dollar(media.ResinFt3))
	rapid.Check(t, func(t *rapid.T) {
		every := rapid.Float64Range(0.05, 30).Draw(t, "every")
		d := rapid.Float64Range(0, 0.2).Draw(t, "d")
		set := source.NewSet(map[string]source.Override{DiscountRate.Name: {Value: d, Why: "test"}})
		want := 0.0
		for y := every; y < 10-1e-9*every; y += every {
			want += 1000 * math.Pow(1+d, -y)
		}
		a := Work(Bill{Renewals: []Renewal{{Part: media.ResinFt3, Amount: 1000, EveryYears: Years{Mid: every}}}}, prices, set, nil)
		if got := a.TenYear.Mid.USD(); math.Abs(got-want) > 0.02+1e-6*want {
			t.Fatalf("renewed every %g years at %g: %g, want %g", every, d, got, want)
		}
	})
}

func TestFactorsAreKnown(t *testing.T) {
	if _, err := source.NewRegister(Factors(), media.Factors()); err != nil {
		t.Error(err)
	}
}

func BenchmarkWork(b *testing.B) {
	bill, prices := billOf(1.5), media.Prices()
	for b.Loop() {
		Work(bill, prices, source.Set{}, nil)
	}
}

func BenchmarkExpected(b *testing.B) {
	bill, prices := billOf(1.5), media.Prices()
	for b.Loop() {
		Expected(bill, prices, source.Set{})
	}
}
