package cost

import (
	"fmt"
	"math"
	"slices"

	"wellwright/formula"
	"wellwright/media"
	"wellwright/source"
)

// When tells when an item is paid for.
type When int

// The three occasions.
const (
	AtFirst When = iota
	EveryYear
	OnRenewal
)

// String returns the occasion in words.
func (w When) String() string { return [...]string{"at first", "every year", "on renewal"}[w] }

// Item is one entry of a bill with its price. Range is what one payment of it
// comes to: once, each year, or at each renewal.
type Item struct {
	When       When
	Part       media.Part
	Amount     float64
	Per        string // what the part is sold by
	EveryYears Years  // of a renewal
	Why        string
	UnitPrice  Range
	Range      Range
	TenYear    Range // what it comes to over the years added up, in the money of today
	Kind       source.Kind
	Year       int // of the price
	From       string
}

// Answer is what a bill comes to. Where the horizon is replaced, TenYear is over
// that many years instead.
//
// Ranges: prices of different parts are taken to miss independently, so their
// departures from the mid are joined in quadrature (see Range.Add); one part
// bought in several places moves as one. All-low and all-high sums would be wider.
type Answer struct {
	First   Range
	Yearly  Range // what is used up each year, and each renewal spread over its life
	TenYear Range
	Parts   []Item
	Hours   float64      // of the owner's own time, a year
	Missing []media.Part // no price: left out of every sum
	Doubts  []string     // entries that could not be added up, and why
}

// Work prices a bill.
//
//	first    = Σ a·p
//	yearly   = Σ u·p + Σ a·p/y
//	ten-year = first + Σ u·p·UPV*(d, e, n) + Σ a·p·Σk ((1+e)/(1+d))^(k·y),  0 < k·y < n
//
//	a  amount;  p  price;  u  amount used in a year;  y  years between renewals
//	d  real discount rate;  e  escalation;  n  years added up
//
// Yearly uses are paid at year end, renewals in their year; one that falls on the
// last day is left out, and nothing is credited for parts that still have life.
// Range: as ModifiedUPV. Error: that of the prices, some 40 % where they are ours.
// Source: Fuller and Petersen, NIST Handbook 135, Life-Cycle Costing Manual (1995).
func Work(b Bill, prices media.PriceList, set source.Set, w *formula.Working) Answer {
	s := newSums(prices, set, len(b.First)+len(b.Yearly)+len(b.Renewals))
	for _, l := range b.First {
		s.first(l)
	}
	for _, u := range b.Yearly {
		s.yearly(u)
	}
	for _, r := range b.Renewals {
		s.renewal(r)
	}
	a := s.answer()
	a.Hours = b.Hours
	if w.On() {
		s.show(w, set, a)
	}
	return a
}

// Expected returns the usual ten-year cost of a bill alone, quickly, for comparing
// many trains in many waters. What Work would tell as missing or doubtful is left
// out in silence: call Work on what is shown.
func Expected(b Bill, prices media.PriceList, set source.Set) Money {
	t, _ := termsOf(set)
	sum := 0.0
	add := func(p media.Part, amount, worth float64) {
		if price, ok := prices.Of(p); ok && amount >= 0 && !math.IsInf(amount, 0) {
			sum += float64(price.Mid) * amount * worth
		}
	}
	for _, l := range b.First {
		add(l.Part, l.Amount, 1)
	}
	for _, u := range b.Yearly {
		add(u.Part, u.PerYear, t.upv)
	}
	for _, r := range b.Renewals {
		if life, ok := r.EveryYears.ordered(); ok {
			add(r.Part, r.Amount, t.renewals(life.Mid))
		}
	}
	return Cents(round(sum))
}

// span3 is low, mid and high in cents.
type span3 struct{ low, mid, high float64 }

func (s span3) times(f float64) span3 { return span3{s.low * f, s.mid * f, s.high * f} }

func (s span3) money() Range {
	return Range{Cents(round(s.low)), Cents(round(s.mid)), Cents(round(s.high))}
}

func round(v float64) int64 { return int64(math.Round(v)) }

// account is one sum of one part: by price, its low, mid and high at the usual
// life, and by life, what a longer or shorter life changes at the mid price.
type account struct{ price, life span3 }

func (a *account) add(price span3) { a.addLife(price, span3{price.mid, price.mid, price.mid}) }

func (a *account) addLife(price, life span3) {
	a.price = span3{a.price.low + price.low, a.price.mid + price.mid, a.price.high + price.high}
	a.life = span3{a.life.low + life.low, a.life.mid + life.mid, a.life.high + life.high}
}

// accounts are the three sums of one part.
type accounts struct {
	part                   media.Part
	first, yearly, tenYear account
}

type sums struct {
	prices media.PriceList
	terms
	byPart     []accounts // in the order of the bill
	missing    []media.Part
	items      []Item
	doubts     []string
	renewalMid float64 // cents, for the working
}

func newSums(prices media.PriceList, set source.Set, entries int) *sums {
	s := &sums{prices: prices, byPart: make([]accounts, 0, entries), items: make([]Item, 0, entries)}
	var err error
	if s.terms, err = termsOf(set); err != nil {
		s.doubts = append(s.doubts, err.Error())
	}
	return s
}

// account returns the sums of a part, opened if need be. The pointer holds until
// the next part is opened.
func (s *sums) account(p media.Part) *accounts {
	for i := range s.byPart {
		if s.byPart[i].part == p {
			return &s.byPart[i]
		}
	}
	s.byPart = append(s.byPart, accounts{part: p})
	return &s.byPart[len(s.byPart)-1]
}

// terms are the rates and years that move money in time.
type terms struct{ d, e, n, upv float64 }

// termsOf reads the terms from the factors. With rates or years that mean nothing
// no later year is counted.
func termsOf(set source.Set) (terms, error) {
	t := terms{d: set.Of(DiscountRate), e: set.Of(Escalation), n: set.Of(Horizon)}
	return t.valued()
}

// valued works out what a yearly dollar is worth over the terms.
func (t terms) valued() (terms, error) {
	u, err := ModifiedUPV(Rates{ShareAYear(t.d), ShareAYear(t.e)}, TermYears(t.n))
	if err != nil {
		return terms{d: t.d, e: t.e}, err
	}
	t.upv = u
	return t, nil
}

// price looks a part up and notes it if it has no price or no usable amount.
func (s *sums) price(p media.Part, amount float64) (media.Price, bool) {
	price, ok := s.prices.Of(p)
	if !ok {
		if !slices.Contains(s.missing, p) {
			s.missing = append(s.missing, p)
		}
		return price, false
	}
	if !(amount >= 0) || math.IsInf(amount, 0) {
		s.doubts = append(s.doubts, fmt.Sprintf("%s: amount %g %s is not an amount that can be bought", p, amount, price.Per))
		return price, false
	}
	return price, true
}

func cost(p media.Price, amount float64) span3 {
	return span3{float64(p.Low), float64(p.Mid), float64(p.High)}.times(amount)
}

func (s *sums) first(l Line) {
	p, ok := s.price(l.Part, l.Amount)
	if !ok {
		return
	}
	c, acc := cost(p, l.Amount), s.account(l.Part)
	acc.first.add(c)
	acc.tenYear.add(c)
	s.note(Item{When: AtFirst, Amount: l.Amount, Why: l.Why, Range: c.money(), TenYear: c.money()}, p)
}

func (s *sums) yearly(u Use) {
	p, ok := s.price(u.Part, u.PerYear)
	if !ok {
		return
	}
	c, acc := cost(p, u.PerYear), s.account(u.Part)
	acc.yearly.add(c)
	acc.tenYear.add(c.times(s.upv))
	s.note(Item{When: EveryYear, Amount: u.PerYear, Why: u.Why, Range: c.money(), TenYear: c.times(s.upv).money()}, p)
}

func (s *sums) renewal(r Renewal) {
	life, ok := r.EveryYears.ordered()
	if !ok {
		s.doubts = append(s.doubts, fmt.Sprintf("%s: renewal every %g years is not a span above zero", r.Part, r.EveryYears.Mid))
		return
	}
	p, ok := s.price(r.Part, r.Amount)
	if !ok {
		return
	}
	c, acc := cost(p, r.Amount), s.account(r.Part)
	acc.yearly.addLife(c.times(eachYear(life.Mid)), span3{c.mid / life.High, c.mid / life.Mid, c.mid / life.Low})
	worth := span3{s.renewals(life.High), s.renewals(life.Mid), s.renewals(life.Low)}
	var ten account
	ten.addLife(c.times(worth.mid), worth.times(c.mid))
	acc.tenYear.addLife(ten.price, ten.life)
	s.renewalMid += ten.price.mid
	s.note(Item{When: OnRenewal, Amount: r.Amount, EveryYears: life, Why: r.Why, Range: c.money(), TenYear: ten.span().money()}, p)
}

// eachYear is the part of a renewal that falls on a year.
func eachYear(between float64) float64 { return 1 / between }

// renewals is what a dollar paid every y years within the horizon is worth today:
// a geometric sum over the whole renewals before the last day.
func (t terms) renewals(y float64) float64 {
	count := math.Ceil(t.n/y-1e-9) - 1
	if !(count > 0) {
		return 0
	}
	q := math.Exp(y * math.Log1p((t.e-t.d)/(1+t.d)))
	if q == 1 {
		return count
	}
	return q * (1 - math.Pow(q, count)) / (1 - q)
}

// ordered returns the span with absent ends set to the mid; ok is false if it is
// not a span of time.
func (y Years) ordered() (Years, bool) {
	if y.Low == 0 {
		y.Low = y.Mid
	}
	if y.High == 0 {
		y.High = y.Mid
	}
	return y, y.Low > 0 && y.Low <= y.Mid && y.Mid <= y.High
}

func (s *sums) note(i Item, p media.Price) {
	i.Part, i.Per = p.Part, p.Per
	i.UnitPrice = Range{Cents(p.Low), Cents(p.Mid), Cents(p.High)}
	i.Kind, i.Year, i.From = p.Kind, p.Year, p.From
	s.items = append(s.items, i)
}

// span joins what price and life leave open, which have nothing to do with each
// other. Upward the departures are joined in quadrature; downward their logarithms
// are, because price times number cannot fall below nothing.
func (a account) span() span3 {
	mid := a.price.mid
	high := mid + math.Hypot(a.price.high-mid, a.life.high-mid)
	if a.price.low <= 0 || a.life.low <= 0 {
		return span3{0, mid, high}
	}
	return span3{mid * math.Exp(-math.Hypot(math.Log(mid/a.price.low), math.Log(mid/a.life.low))), mid, high}
}

func (s *sums) answer() Answer {
	a := Answer{
		First:   s.total(func(x *accounts) account { return x.first }),
		Yearly:  s.total(func(x *accounts) account { return x.yearly }),
		TenYear: s.total(func(x *accounts) account { return x.tenYear }),
		Parts:   s.items, Missing: s.missing, Doubts: s.doubts,
	}
	slices.Sort(a.Missing)
	return a
}

// total joins the parts: mids added, departures in quadrature.
func (s *sums) total(of func(*accounts) account) Range {
	var mid, below, above float64
	for i := range s.byPart {
		x := of(&s.byPart[i]).span()
		mid += x.mid
		below = math.Hypot(below, x.mid-x.low)
		above = math.Hypot(above, x.high-x.mid)
	}
	return span3{mid - below, mid, mid + above}.money()
}
