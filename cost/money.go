// Package cost adds up what a train costs: to buy, each year, and over ten years
// in the money of today, each as a range.
package cost

import (
	"fmt"
	"math"
	"strconv"
)

// Money is an amount in whole US cents.
type Money struct{ cents int64 }

// Cents makes an amount from whole cents.
func Cents(v int64) Money { return Money{v} }

// USD makes an amount from dollars, rounded to the cent, halves away from zero.
// Use it only where dollars come in.
func USD(v float64) Money { return Money{int64(math.Round(v * centsPerDollar))} }

const centsPerDollar = 100

// Cents returns whole cents.
func (m Money) Cents() int64 { return m.cents }

// USD returns dollars. Use it only where dollars go out.
func (m Money) USD() float64 { return float64(m.cents) / centsPerDollar }

// Add returns the sum.
func (m Money) Add(o Money) Money { return Money{m.cents + o.cents} }

// Sub returns the difference.
func (m Money) Sub(o Money) Money { return Money{m.cents - o.cents} }

// Times returns the amount times a pure number, rounded to the cent.
func (m Money) Times(f float64) Money { return Money{int64(math.Round(float64(m.cents) * f))} }

// String writes whole dollars with thousands set off, such as $1,234; an amount
// under ten dollars that is not whole keeps its cents.
func (m Money) String() string {
	sign, c := "", m.cents
	if c < 0 {
		sign, c = "-", -c
	}
	if c < 10*centsPerDollar && c%centsPerDollar != 0 {
		return fmt.Sprintf("%s$%d.%02d", sign, c/centsPerDollar, c%centsPerDollar)
	}
	whole := (c + centsPerDollar/2) / centsPerDollar
	if whole == 0 {
		sign = ""
	}
	return sign + "$" + thousands(whole)
}

// Exact writes dollars and cents with thousands set off, such as $1,234.50.
func (m Money) Exact() string {
	sign, c := "", m.cents
	if c < 0 {
		sign, c = "-", -c
	}
	return fmt.Sprintf("%s$%s.%02d", sign, thousands(c/centsPerDollar), c%centsPerDollar)
}

func thousands(v int64) string {
	digits := strconv.FormatInt(v, 10)
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return digits
}

// MarshalJSON writes dollars with two decimals; the key must say usd.
func (m Money) MarshalJSON() ([]byte, error) {
	return []byte(strconv.FormatFloat(m.USD(), 'f', 2, 64)), nil
}

// UnmarshalJSON reads dollars.
func (m *Money) UnmarshalJSON(b []byte) error {
	v, err := strconv.ParseFloat(string(b), 64)
	if err != nil || math.IsNaN(v) || math.Abs(v) > maxUSD {
		return fmt.Errorf("amount %s is not a number of US dollars", b)
	}
	*m = USD(v)
	return nil
}

// maxUSD is the greatest amount read.
const maxUSD = 1e12

// Range is an amount known only within bounds.
type Range struct{ Low, Mid, High Money }

// Sure is a range without width.
func Sure(m Money) Range { return Range{m, m, m} }

// Add joins two amounts that have nothing to do with one another: the mids are
// added, the departures from them in quadrature.
//
//	mid = m1 + m2,  low = mid − √((m1−l1)² + (m2−l2)²),  high alike
//
// It is what independent errors do, and narrower than adding all lows and all
// highs, which would need every price to miss the same way at once.
//
// Range: low ≤ mid ≤ high in both. Error: none against its premise; prices that
// move together (one dealer, one year) spread wider.
// Source: propagation of independent errors, JCGM 100:2008 (GUM), 5.1.2.
func (r Range) Add(o Range) Range {
	mid := r.Mid.Add(o.Mid)
	below := math.Hypot(float64(r.Mid.cents-r.Low.cents), float64(o.Mid.cents-o.Low.cents))
	above := math.Hypot(float64(r.High.cents-r.Mid.cents), float64(o.High.cents-o.Mid.cents))
	return Range{
		Low:  Money{mid.cents - int64(math.Round(below))},
		Mid:  mid,
		High: Money{mid.cents + int64(math.Round(above))},
	}
}

// AddTogether joins two amounts that move together, such as the same part bought
// twice: lows, mids and highs are each added.
func (r Range) AddTogether(o Range) Range {
	return Range{r.Low.Add(o.Low), r.Mid.Add(o.Mid), r.High.Add(o.High)}
}

// Times returns the range times a number that is not negative.
func (r Range) Times(f float64) Range { return Range{r.Low.Times(f), r.Mid.Times(f), r.High.Times(f)} }

// String writes "$3,400 ($2,900 to $4,100)", or the amount alone if it is sure.
func (r Range) String() string {
	if r.Low == r.High {
		return r.Mid.String()
	}
	return fmt.Sprintf("%s (%s to %s)", r.Mid, r.Low, r.High)
}
