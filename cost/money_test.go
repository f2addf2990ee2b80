package cost

import (
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestMoneyInWords(t *testing.T) {
	tests := []struct {
		money       Money
		want, exact string
	}{
		{USD(0), "$0", "$0.00"},
		{USD(0.4), "$0.40", "$0.40"},
		{USD(9.99), "$9.99", "$9.99"},
		{USD(9), "$9", "$9.00"},
		{USD(10.49), "$10", "$10.49"},
		{USD(10.50), "$11", "$10.50"},
		{USD(999.50), "$1,000", "$999.50"},
		{USD(1234), "$1,234", "$1,234.00"},
		{USD(1234567.8), "$1,234,568", "$1,234,567.80"},
		{USD(-1234), "-$1,234", "-$1,234.00"},
		{USD(-0.05), "-$0.05", "-$0.05"},
	}
	for _, tt := range tests {
		if got := tt.money.String(); got != tt.want {
			t.Errorf("String of %d cents = %q, want %q (US usage)", tt.money.Cents(), got, tt.want)
		}
		if got := tt.money.Exact(); got != tt.exact {
			t.Errorf("Exact of %d cents = %q, want %q (US usage)", tt.money.Cents(), got, tt.exact)
		}
	}
}

func TestMoneyRounds(t *testing.T) {
	for _, tt := range []struct {
		usd  float64
		want int64
	}{{0.004, 0}, {0.006, 1}, {-0.006, -1}, {1.115, 112}, {19.99, 1999}} {
		if got := USD(tt.usd).Cents(); got != tt.want {
			t.Errorf("USD(%g) = %d cents, want %d (rounding to the nearest cent)", tt.usd, got, tt.want)
		}
	}
}

func TestMoneyThroughJSON(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := Cents(rapid.Int64Range(-1e12, 1e12).Draw(t, "cents"))
		text, err := json.Marshal(in)
		if err != nil {
			t.Fatal(err)
		}
		var out Money
		if err := json.Unmarshal(text, &out); err != nil || out != in {
			t.Fatalf("%d cents came back from %s as %d, %v", in.Cents(), text, out.Cents(), err)
		}
	})
	for _, bad := range []string{`"5"`, `1e300`, `null`, `[]`} {
		var m Money
		if err := m.UnmarshalJSON([]byte(bad)); err == nil {
			t.Errorf("UnmarshalJSON(%s) = nil, want an error", bad)
		}
	}
}

func TestRangesJoin(t *testing.T) {
	// Departures of 3 and 4 make 5; of 6 and 8 make 10.
	a := Range{USD(97), USD(100), USD(106)}
	b := Range{USD(196), USD(200), USD(208)}
	const source = "propagation of independent errors, JCGM 100:2008, 5.1.2: the 3-4-5 triangle"
	if got, want := a.Add(b), (Range{USD(295), USD(300), USD(310)}); got != want {
		t.Errorf("Add = %s, want %s (%s)", got, want, source)
	}
	if got, want := a.AddTogether(b), (Range{USD(293), USD(300), USD(314)}); got != want {
		t.Errorf("AddTogether = %s, want %s (definition)", got, want)
	}
	if got, want := a.Times(2), (Range{USD(194), USD(200), USD(212)}); got != want {
		t.Errorf("Times = %s, want %s (definition)", got, want)
	}
}

func TestRangeInWords(t *testing.T) {
	if got, want := (Range{USD(2900), USD(3400), USD(4100)}).String(), "$3,400 ($2,900 to $4,100)"; got != want {
		t.Errorf("String = %q, want %q (house style)", got, want)
	}
	if got, want := Sure(USD(3400)).String(), "$3,400"; got != want {
		t.Errorf("String = %q, want %q (house style)", got, want)
	}
}

func rangeOf(t *rapid.T, name string) Range {
	low := rapid.Int64Range(0, 1e7).Draw(t, name+" low")
	mid := low + rapid.Int64Range(0, 1e6).Draw(t, name+" to mid")
	high := mid + rapid.Int64Range(0, 1e6).Draw(t, name+" to high")
	return Range{Cents(low), Cents(mid), Cents(high)}
}

// A sum of independent amounts is wider than either and narrower than all
// missing the same way; the order does not matter.
func TestJoinedRangesLieBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rangeOf(t, "a"), rangeOf(t, "b")
		sum, together := a.Add(b), a.AddTogether(b)
		if sum != b.Add(a) {
			t.Fatalf("%s and %s give %s one way and %s the other", a, b, sum, b.Add(a))
		}
		if sum.Mid != together.Mid || sum.Low.Cents() < together.Low.Cents() || sum.High.Cents() > together.High.Cents() {
			t.Fatalf("%v + %v = %v, not within %v", a, b, sum, together)
		}
		below := func(r Range) float64 { return float64(r.Mid.Sub(r.Low).Cents()) }
		if below(sum) < math.Max(below(a), below(b))-1 {
			t.Fatalf("%v + %v = %v, narrower than its parts", a, b, sum)
		}
	})
}
