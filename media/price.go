package media

import (
	_ "embed"
	"math"
	"sort"
	"strings"
	"sync"

	"wellwright/source"
)

// Price is what one unit of a part costs, in whole US cents of a year.
type Price struct {
	Part           Part
	Per            string // what one is: each, lb, gal, ft3, hour ...
	Low, Mid, High int64  // cents
	Year           int    // of the price level
	Kind           source.Kind
	From           string
}

// PriceList is the price of every part. The zero list is empty.
type PriceList struct {
	byPart map[Part]Price
}

// Of returns the price of a part, and whether the list has one.
func (l PriceList) Of(p Part) (Price, bool) {
	price, ok := l.byPart[p]
	return price, ok
}

// Parts returns the parts on the list, sorted by name.
func (l PriceList) Parts() []Part {
	all := make([]Part, 0, len(l.byPart))
	for p := range l.byPart {
		all = append(all, p)
	}
	sort.Slice(all, func(i, j int) bool { return all[i] < all[j] })
	return all
}

// with returns the list with some prices replaced; l is unchanged.
func (l PriceList) with(own []Price) PriceList {
	next := make(map[Part]Price, len(l.byPart)+len(own))
	for p, price := range l.byPart {
		next[p] = price
	}
	for _, price := range own {
		next[price.Part] = price
	}
	return PriceList{next}
}

//go:embed prices.csv
var ownList string

const (
	priceYear = 2024
	priceFrom = "common practice: invented list inside the bands the trade quotes, US dollars"
)

// Prices returns the list that comes with the program: invented prices inside
// the bands the trade quotes, kind common practice.
func Prices() PriceList { return builtIn() }

var builtIn = sync.OnceValue(func() PriceList {
	lines, errs := readCSV("prices.csv", strings.NewReader(ownList), priceDefaults{
		year: priceYear, kind: source.CommonPractice, from: priceFrom,
	})
	if len(errs) > 0 {
		panic(errs[0]) // the list is part of the program
	}
	prices := make([]Price, len(lines))
	for i, l := range lines {
		prices[i] = l.Price
	}
	return PriceList{}.with(prices)
})

// maxCents is the dearest price that is believed: ten million dollars.
const maxCents = 1_000_000_000

// cents turns dollars into whole cents, halves away from zero.
func cents(usd float64) int64 { return int64(math.Round(usd * 100)) }

// At returns the list with some parts at another price in US dollars, its range
// moved in proportion; l is unchanged.
func (l PriceList) At(usd map[Part]float64) PriceList {
	if len(usd) == 0 {
		return l
	}
	var own []Price
	for part, v := range usd {
		p, ok := l.byPart[part]
		if !ok {
			continue
		}
		was := p.Mid
		p.Mid = int64(math.Round(v * 100))
		if was > 0 {
			scale := float64(p.Mid) / float64(was)
			p.Low, p.High = int64(math.Round(float64(p.Low)*scale)), int64(math.Round(float64(p.High)*scale))
		} else {
			p.Low, p.High = p.Mid, p.Mid
		}
		p.Kind, p.From = source.Own, "your own"
		own = append(own, p)
	}
	return l.with(own)
}
