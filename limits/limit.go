// Package limits holds drinking-water limits and guidance by jurisdiction and
// date, and judges a report by them, health before nuisance. For a private well
// they are advice, not law, and the package never calls a water fit to drink: it
// says which tests met which limits on which date.
package limits

import (
	"fmt"
	"sort"
	"strings"
	"time"

	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// Basis is what a limit protects.
type Basis int

// The bases, gravest first.
const (
	HealthAcute Basis = iota // harm within days
	HealthInfant
	Health
	HealthIndicator // tells of a path for germs
	Cosmetic        // teeth, skin
	Operational     // pipes, heaters, treatment
	Aesthetic       // taste, smell, stains
	Class           // a word for a range, no limit
)

var basisNames = [...]string{"acute health", "infant health", "health", "health indicator", "cosmetic", "operational", "aesthetic", "class"}

// String returns the basis in words.
func (b Basis) String() string {
	if b < 0 || int(b) >= len(basisNames) {
		return "unknown basis"
	}
	return basisNames[b]
}

// MarshalText writes the basis in words.
func (b Basis) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

// Protects reports whether the limit is one of health.
func (b Basis) Protects() bool { return b <= HealthIndicator }

// Limit is one value of one authority. Low and High are in the canonical unit of
// the analyte; nil is open. A figure equal to either meets it.
type Limit struct {
	Analyte      water.Analyte
	Jurisdiction string // US, US-NJ, CA, WHO, EU, or any
	Type         string // MCL, SMCL, MAC ... as the authority calls it
	Low, High    *float64
	Between      bool // the authority gives a range for the limit itself: above Low worth watching, above High exceeded
	Basis        Basis
	From, To     time.Time // valid from that day, and before that day; zero is open
	Kind         source.Kind
	Source       string
}

// In reports whether the limit is valid on date.
func (l Limit) In(date time.Time) bool {
	return (l.From.IsZero() || !date.Before(l.From)) && (l.To.IsZero() || date.Before(l.To))
}

// String names the limit with its figure and unit.
func (l Limit) String() string {
	u := l.Analyte.Unit()
	if l.Analyte == water.PH {
		u = ""
	}
	figure := ""
	switch {
	case l.Low != nil && l.High != nil:
		figure = unit.Digits(*l.Low) + " to " + unit.Digits(*l.High)
	case l.High != nil:
		figure = unit.Digits(*l.High)
	case l.Low != nil:
		figure = "at least " + unit.Digits(*l.Low)
	}
	return strings.TrimSpace(fmt.Sprintf("%s %s, %s %s", l.Jurisdiction, l.Type, figure, u))
}

// Table is the limits of one jurisdiction on one date.
type Table struct {
	Date         time.Time
	Jurisdiction string // as asked for
	From         string // whose limits these are: the jurisdiction itself, or the one it falls back to
	limits       []Limit
}

// On returns the limits in force in a jurisdiction on a date. A state or province
// (US-NJ, CA-ON) has its country's with its own beside them; a member state has
// those of the European Union; every other place those of the World Health
// Organization.
func On(date time.Time, jurisdiction string) Table {
	asked := strings.ToUpper(strings.TrimSpace(jurisdiction))
	t := Table{Date: date, Jurisdiction: asked, From: authority(asked)}
	for _, l := range all {
		if l.In(date) && (l.Jurisdiction == t.From || l.Jurisdiction == asked || l.Jurisdiction == anywhere) {
			t.limits = append(t.limits, l)
		}
	}
	return t
}

// anywhere marks values of common use that belong to no authority.
const anywhere = "any"

// union are the member states of the European Union.
const union = " AT BE BG HR CY CZ DK EE FI FR DE GR EL HU IE IT LV LT LU MT NL PL PT RO SK SI ES SE EU "

// authority returns whose limits hold in a place.
func authority(place string) string {
	country, _, _ := strings.Cut(place, "-")
	switch {
	case country == "US" || country == "USA" || country == "":
		return "US"
	case country == "CA" || country == "CAN":
		return "CA"
	case strings.Contains(union, " "+country+" "):
		return "EU"
	}
	return "WHO"
}

// All returns every limit in the table.
func (t Table) All() []Limit { return append([]Limit(nil), t.limits...) }

// Of returns the limits of one analyte, gravest basis first, then strictest.
func (t Table) Of(a water.Analyte) []Limit {
	var of []Limit
	for _, l := range t.limits {
		if l.Analyte == a {
			of = append(of, l)
		}
	}
	sort.SliceStable(of, func(i, j int) bool { return before(of[i], of[j]) })
	return of
}

// before orders limits: health first, then the lower upper bound.
func before(a, b Limit) bool {
	if a.Basis.Protects() != b.Basis.Protects() {
		return a.Basis.Protects()
	}
	if a.High == nil || b.High == nil {
		return a.High != nil && b.High == nil
	}
	return *a.High < *b.High
}

// With returns the table with the user's own limits. An own limit of health takes
// the place of the table's limits of health for its analyte, any other that of
// the rest; Kind becomes Own. A limit without a bound or with Low above High is
// an error.
func (t Table) With(own ...Limit) (Table, error) {
	for i, l := range own {
		if l.Low == nil && l.High == nil {
			return t, fmt.Errorf("own limit for %s: neither low nor high; want at least one", l.Analyte.Name())
		}
		if l.Low != nil && l.High != nil && *l.Low > *l.High {
			return t, fmt.Errorf("own limit for %s: low %g is above high %g %s", l.Analyte.Name(), *l.Low, *l.High, l.Analyte.Unit())
		}
		own[i].Kind = source.Own
	}
	kept := make([]Limit, 0, len(t.limits)+len(own))
	for _, l := range t.limits {
		if !replaced(l, own) {
			kept = append(kept, l)
		}
	}
	t.limits = append(kept, own...)
	return t, nil
}

func replaced(l Limit, own []Limit) bool {
	for _, o := range own {
		if o.Analyte == l.Analyte && o.Basis.Protects() == l.Basis.Protects() {
			return true
		}
	}
	return false
}

// HardnessClass returns the word for a hardness: soft to 60, moderately hard to
// 120, hard to 180, very hard above, mg/L as CaCO3; a bound belongs to the softer
// class. Source: USGS classes, read second hand.
func HardnessClass(h unit.Hardness) string {
	v := h.MgPerLAsCaCO3()
	for _, l := range all {
		if l.Basis == Class && (l.High == nil || v <= *l.High) {
			return l.Type
		}
	}
	return ""
}
