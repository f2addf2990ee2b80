package plan

import (
	"math"
	"slices"

	"wellwright/chem"
	"wellwright/cloud"
	"wellwright/limits"
	"wellwright/source"
	"wellwright/water"
)

// Belief is one quantity of the raw water or of the supply: what was thought of
// it before any evidence, what is thought now, and what was read.
type Belief struct {
	Name     string      `json:"name"` // leaf name with unit
	Unit     string      `json:"unit"`
	Before   *Quantiles  `json:"before"` // null: no draws from before the evidence
	After    Quantiles   `json:"after"`
	Readings []Reading   `json:"readings"`
	Limit    *LimitTicks `json:"limit"` // null: nobody sets one
	Assumed  bool        `json:"assumed"`
}

// Quantiles are five points of what is believed of a quantity.
type Quantiles struct {
	P05 float64 `json:"p05"`
	P25 float64 `json:"p25"`
	P50 float64 `json:"p50"`
	P75 float64 `json:"p75"`
	P95 float64 `json:"p95"`
}

// Reading is one figure as it was measured, in the unit of its belief.
type Reading struct {
	Value float64 `json:"value"`
	Sign  string  `json:"sign"` // "<" or ">" where Value is only a limit
	Tap   string  `json:"tap"`  // "" where nobody said, or of the supply
	Kind  string  `json:"kind"` // field, laboratory, or record for the supply
}

// LimitTicks are the values that a picture marks: the strictest of any kind, and
// the strictest of health where that is another.
type LimitTicks struct {
	Low    *float64 `json:"low"`
	High   *float64 `json:"high"`
	Health *float64 `json:"health"`
}

// Quality says how many plausible waters the answer was counted from.
type Quality struct {
	Asked     int     `json:"asked"`     // 0: three waters stand for error and season
	Effective float64 `json:"effective"` // number of independent draws worth
	Distinct  int     `json:"distinct"`
	Few       bool    `json:"few"`    // too few to trust a probability
	Coarse    bool    `json:"coarse"` // a first answer from fewer draws
}

// Evidence answers a book only so far as comes before any train: no search is
// made, and actions, options and what follows from them are left out.
func (d *Desk) Evidence() Answer { return d.evidence() }

// Beliefs lists what is believed of every quantity that a choice may lean on:
// the iron by form, its companions, health, then the supply.
func (d *Desk) Beliefs() []Belief {
	bs := make([]Belief, 0, len(quantities))
	assumed := d.assumedNames()
	for _, q := range quantities {
		after := d.spread(d.Cloud.Draws, q)
		if after == nil {
			continue
		}
		b := Belief{Name: q.name, Unit: q.unit, Before: d.spread(d.Cloud.Before, q), After: *after, Readings: q.readings(d), Limit: d.ticks(q)}
		if q.optional && len(b.Readings) == 0 {
			continue
		}
		b.Assumed = q.assumed(b, assumed)
		bs = append(bs, b)
	}
	return bs
}

// assumedNames are the leaf names that the cloud marks as assumed.
func (d *Desk) assumedNames() map[string]bool {
	names := map[string]bool{}
	for _, r := range d.Cloud.Ranges {
		names[r.Name] = r.Assumed
	}
	return names
}

// spread is the quantiles of a quantity over draws; nil if no draw has it.
func (d *Desk) spread(draws []cloud.Draw, q quantity) *Quantiles {
	vs := make([]weighted, 0, len(draws))
	for i := range draws {
		if v := q.of(d, &draws[i]); !math.IsNaN(v) {
			vs = append(vs, weighted{v, draws[i].Weight})
		}
	}
	if len(vs) == 0 {
		return nil
	}
	return quantilesOf(vs)
}

// weighted is a value with its weight.
type weighted struct{ v, w float64 }

// quantilesOf returns the five quantiles of weighted values: of each share the
// least value up to which the weights make that share of their sum. Without
// weights all count alike.
//
//	Q(p) = min { x : sum of w over v <= x  >=  p · sum of w }
//
// Source: definition, the inverse of the empirical distribution.
func quantilesOf(vs []weighted) *Quantiles {
	slices.SortFunc(vs, order)
	total := 0.0
	for _, x := range vs {
		total += x.w
	}
	if total <= 0 {
		total = float64(len(vs))
		for i := range vs {
			vs[i].w = 1
		}
	}
	at := func(p float64) float64 {
		sum := 0.0
		for _, x := range vs {
			if sum += x.w; sum >= p*total*(1-rounding) {
				return x.v
			}
		}
		return vs[len(vs)-1].v
	}
	return &Quantiles{at(0.05), at(0.25), at(0.5), at(0.75), at(0.95)}
}

// order sorts by value; none is NaN.
func order(a, b weighted) int {
	switch {
	case a.v < b.v:
		return -1
	case a.v > b.v:
		return 1
	}
	return 0
}

// rounding is what a sum of weights may fall short of a share by arithmetic alone.
const rounding = 1e-12

// ticks are the limits on a quantity in the well's jurisdiction.
func (d *Desk) ticks(q quantity) *LimitTicks {
	if !q.limited || len(q.read) == 0 {
		return nil
	}
	var t LimitTicks
	for _, l := range d.Table.Of(q.read[0].analyte) {
		if l.Basis == limits.Class {
			continue
		}
		lower(&t.High, l.High)
		if l.Low != nil && !l.Between && (t.Low == nil || *l.Low > *t.Low) {
			t.Low = l.Low
		}
		if l.Basis.Protects() {
			lower(&t.Health, l.High)
		}
	}
	if t.Health != nil && *t.Health == *t.High && t.Low == nil {
		t.High = nil // one mark says it
	}
	if t == (LimitTicks{}) {
		return nil
	}
	return &t
}

// lower keeps the lesser of two values that may be absent.
func lower(kept **float64, v *float64) {
	if v != nil && (*kept == nil || *v < **kept) {
		*kept = v
	}
}

// quality says how the waters were drawn.
func (d *Desk) quality() Quality { return Quality(d.Cloud.Quality) }

// model is the chemistry the draws are worked with.
func (d *Desk) model() *chem.Model {
	if d.Work == nil {
		return chem.New(source.Set{})
	}
	return d.Work.Site.Model
}

// signs are the marks of a result that is only a limit.
var signs = map[water.Sign]string{water.Below: "<", water.Above: ">"}
