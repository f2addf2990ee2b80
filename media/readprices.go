package media

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"wellwright/source"
)

// maxPriceFile is the most bytes read from a price list.
const maxPriceFile = 1 << 20

// ReadPrices reads the user's own prices and lays them over the list that comes
// with the program. A name ending in .yaml or .yml is read as YAML, anything else
// as CSV with a heading line. The columns (or keys) are
//
//	part, per, low_usd, mid_usd, high_usd, year, source
//
// of which part and mid_usd must be there; low and high default to the mid. Lines
// that cannot be read are left out of the list and told, each with file and line.
func ReadPrices(name string, r io.Reader) (PriceList, []error) {
	defaults := priceDefaults{year: priceYear, kind: source.Own, from: name}
	text, err := io.ReadAll(io.LimitReader(r, maxPriceFile+1))
	if err != nil {
		return Prices(), []error{fmt.Errorf("%s: %w", name, err)}
	}
	if len(text) > maxPriceFile {
		return Prices(), []error{fmt.Errorf("%s: longer than %d bytes; a price list is far shorter", name, maxPriceFile)}
	}
	var own []linedPrice
	var errs []error
	switch strings.ToLower(filepath.Ext(name)) {
	case ".yaml", ".yml":
		own, errs = readYAML(name, text, defaults)
	default:
		own, errs = readCSV(name, strings.NewReader(string(text)), defaults)
	}
	kept, more := knownOnce(name, own, Prices())
	return Prices().with(kept), append(errs, more...)
}

// priceDefaults is what a line need not say.
type priceDefaults struct {
	year int
	kind source.Kind
	from string
}

// linedPrice is a price that could be read, and where it stood.
type linedPrice struct {
	Price
	line int
}

// pricedLine is a price as written, and where it stood.
type pricedLine struct {
	line                                  int
	part, per, low, mid, high, year, from string
}

// columns are the headings a list may have, and where each goes.
func (l *pricedLine) field(heading string) *string {
	switch heading {
	case "part":
		return &l.part
	case "per":
		return &l.per
	case "low_usd":
		return &l.low
	case "mid_usd":
		return &l.mid
	case "high_usd":
		return &l.high
	case "year":
		return &l.year
	case "source":
		return &l.from
	}
	return nil
}

// priceHeadings are the headings in the order they are told to the user.
const priceHeadings = "part, per, low_usd, mid_usd, high_usd, year, source"

// readCSV reads a comma-separated list with a heading line; # begins a comment.
func readCSV(name string, r io.Reader, d priceDefaults) ([]linedPrice, []error) {
	in := csv.NewReader(r)
	in.Comment, in.TrimLeadingSpace, in.FieldsPerRecord = '#', true, -1
	headings, err := in.Read()
	if err != nil {
		return nil, []error{csvError(name, err)}
	}
	if errs := checkHeadings(name, in, headings); len(errs) > 0 {
		return nil, errs
	}
	var prices []linedPrice
	var errs []error
	for {
		record, err := in.Read()
		if errors.Is(err, io.EOF) {
			return prices, errs
		}
		if err != nil { // a quote gone wrong upsets all that follows
			return prices, append(errs, csvError(name, err))
		}
		line, _ := in.FieldPos(0)
		p, more := priceOfRecord(name, line, headings, record, d)
		errs = append(errs, more...)
		if len(more) == 0 {
			prices = append(prices, linedPrice{p, line})
		}
	}
}

func checkHeadings(name string, in *csv.Reader, headings []string) []error {
	line, _ := in.FieldPos(0)
	var errs []error
	seen := map[string]bool{}
	for i, h := range headings {
		h = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))
		headings[i] = h
		if (&pricedLine{}).field(h) == nil {
			errs = append(errs, fmt.Errorf("%s:%d: column %q is not known; the columns are %s", name, line, h, priceHeadings))
		}
		if seen[h] {
			errs = append(errs, fmt.Errorf("%s:%d: column %q stands twice", name, line, h))
		}
		seen[h] = true
	}
	for _, must := range []string{"part", "mid_usd"} {
		if !seen[must] {
			errs = append(errs, fmt.Errorf("%s:%d: column %s is missing", name, line, must))
		}
	}
	return errs
}

func priceOfRecord(name string, line int, headings, record []string, d priceDefaults) (Price, []error) {
	if len(record) != len(headings) {
		return Price{}, []error{fmt.Errorf("%s:%d: %d fields under %d headings", name, line, len(record), len(headings))}
	}
	l := pricedLine{line: line}
	for i, h := range headings {
		*l.field(h) = strings.TrimSpace(record[i])
	}
	return l.price(name, d)
}

// price reads the figures of a line and checks them; all findings are returned.
func (l pricedLine) price(name string, d priceDefaults) (Price, []error) {
	p := Price{Part: Part(l.part), Per: l.per, Year: d.year, Kind: d.kind, From: d.from}
	if l.from != "" {
		p.From = l.from
	}
	var errs []error
	say := func(format string, args ...any) {
		errs = append(errs, fmt.Errorf("%s:%d: "+format, append([]any{name, l.line}, args...)...))
	}
	if l.part == "" {
		say("part is empty")
	}
	read := func(heading, text string, into *int64) {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(v) || v < 0 || v*100 > maxCents {
			say("%s %q is not a price in US dollars, such as 12.50", heading, text)
			return
		}
		*into = cents(v)
	}
	read("mid_usd", l.mid, &p.Mid)
	p.Low, p.High = p.Mid, p.Mid
	if l.low != "" {
		read("low_usd", l.low, &p.Low)
	}
	if l.high != "" {
		read("high_usd", l.high, &p.High)
	}
	if l.year != "" {
		year, err := strconv.Atoi(l.year)
		if err != nil || year < 1950 || year > 2200 {
			say("year %q is not a year, such as %d", l.year, priceYear)
		}
		p.Year = year
	}
	if len(errs) == 0 && (p.Low > p.Mid || p.Mid > p.High) {
		say("prices of %s must rise: low %s, mid %s, high %s", l.part, l.low, l.mid, l.high)
	}
	return p, errs
}

// knownOnce drops prices of parts that the program never buys, and all but the
// first price of a part, and tells each.
func knownOnce(name string, own []linedPrice, list PriceList) ([]Price, []error) {
	var keep []Price
	var errs []error
	seen := map[Part]int{}
	for _, p := range own {
		say := func(format string, args ...any) {
			errs = append(errs, fmt.Errorf("%s:%d: part %q "+format, append([]any{name, p.line, p.Part}, args...)...))
		}
		standard, ok := list.Of(p.Part)
		first, twice := seen[p.Part]
		switch {
		case !ok:
			say("is not known%s", suggest(string(p.Part), partNames(list)))
		case twice:
			say("is priced in line %d already; that price is kept", first)
		case p.Per != "" && p.Per != standard.Per:
			say("is sold by the %s here and by the %s in the list; give the price per %s", p.Per, standard.Per, standard.Per)
		default:
			seen[p.Part] = p.line
			p.Per = standard.Per
			keep = append(keep, p.Price)
		}
	}
	return keep, errs
}

func partNames(l PriceList) []string {
	names := make([]string, 0, len(l.byPart))
	for _, p := range l.Parts() {
		names = append(names, string(p))
	}
	return names
}

// csvError writes a parse error as file:line: what.
func csvError(name string, err error) error {
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		return fmt.Errorf("%s:%d: %w", name, parse.Line, parse.Err)
	}
	if errors.Is(err, io.EOF) {
		return fmt.Errorf("%s:1: the list is empty; it begins with a heading line of %s", name, priceHeadings)
	}
	return fmt.Errorf("%s: %w", name, err)
}
