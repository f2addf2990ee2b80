package cloud

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"wellwright/chem"
	"wellwright/source"
	"wellwright/unit"
	"wellwright/water"
)

// The shares of the three draws of one world: with them the 5th, 50th and 95th
// percentile keep the mean and spread of a distribution near the normal.
// Source: extended Pearson-Tukey approximation, Keefer and Bodily, Management
// Science 29:595 (1983) (from memory).
const (
	sharesEnds   = 0.185
	sharesMiddle = 0.63
)

// cloud makes the draws and reads the ranges off them.
func (b *balance) cloud() (Cloud, error) {
	c := Cloud{Conflicts: b.iron.conflicts, Checks: append(b.checks, b.supply.found...)}
	var err error
	if c.Draws, err = b.draws(); err != nil {
		return Cloud{}, err
	}
	c.Forms = b.forms(c.Draws)
	c.Assumed = b.assumptions(c.Middle())
	c.Ranges = b.ranges(c)
	c.Checks = append(c.Checks, b.closed(c.Middle()))
	if t := c.Forms.Total.P50; math.Max(t, b.iron.limit) < b.set.Of(ironComplaint) && !b.iron.says("iron_total_mg_l") {
		c.Checks = append(c.Checks, water.Finding{ID: "iron_not_complaint", Verdict: water.Notice, Value: t, Unit: "mg/L", Analyte: water.Iron,
			Say:  fmt.Sprintf("total iron is %s: iron is not the complaint. Look at manganese, tannin, copper, plumbing, or a sample taken after treatment.", mgL(t)),
			Kind: ironComplaint.Kind, From: ironComplaint.From})
	}
	return c, nil
}

// draws makes three waters of the likeliest world and one of each other world
// that is not too unlikely.
func (b *balance) draws() ([]Draw, error) {
	others, lead := b.worlds()
	low, middle, high := b.numbers(-1), b.numbers(0), b.numbers(1)
	specs := []spec{
		{Low, lead * sharesEnds, low, b.iron.low, 1, chem.FastLaw},
		{Middle, lead * sharesMiddle, middle, b.iron.split, 0, chem.MiddleLaw},
		{High, lead * sharesEnds, high, b.iron.high, -1, chem.SlowLaw},
	}
	for _, a := range others {
		n, s := middle, b.iron.split
		if a.iron.total() > 0 {
			s = a.iron
		}
		if a.change != nil {
			a.change(&n)
		}
		specs = append(specs, spec{a.name, a.weight, n, s, 0, chem.MiddleLaw})
	}
	out := make([]Draw, 0, len(specs))
	for _, s := range specs {
		d, err := b.draw(s)
		if err != nil {
			return nil, err
		}
		out = append(out, d)
	}
	return out, nil
}

// spec is what a draw is made of.
type spec struct {
	name   string
	weight float64
	n      numbers
	iron   split
	ease   float64 // of the supply: +1 easy, -1 hard
	law    chem.Law
}

func (b *balance) draw(s spec) (Draw, error) {
	b.charges.close(b.set, &s.n, &b.beliefs, s.iron.ferrous)
	supply, err := b.supply.at(s.ease, b.bacteria, s.n[carbon])
	if err != nil {
		return Draw{}, fmt.Errorf("draw %q: %w", s.name, err)
	}
	supply.DemandMeasured = demand(b.evidence)
	return Draw{Name: s.name, Weight: s.weight, Water: s.n.state(s.iron, b.bacteria), Supply: supply, Law: s.law}, nil
}

// numbers returns the values of the low (-1), middle or high (+1) draw. What
// nobody measured and no process turns on stays at its middle.
func (b *balance) numbers(side float64) numbers {
	var n numbers
	for p := range property(nProperties) {
		r, lean := b.beliefs[p].Range, side*traits[p].lean
		if finer := b.beliefs[p].draws; finer != nil {
			r = *finer
		}
		switch {
		case lean == 0 || b.beliefs[p].assumed && !drives(p):
			n[p] = r.P50
		case lean > 0:
			n[p] = r.P95
		default:
			n[p] = r.P05
		}
		n[p] = math.Max(0, n[p])
	}
	return n
}

// drives reports whether a process turns on a property.
func drives(p property) bool {
	switch p {
	case temperature, ph, alkalinity, manganese, oxygen, sulfide, ammonia, carbon:
		return true
	}
	return false
}

// worlds weighs the other worlds against the likeliest. Faults of one conflict
// exclude each other; those of different conflicts are taken one at a time.
func (b *balance) worlds() (others []alternative, lead float64) {
	within := map[string]float64{}
	for _, a := range b.iron.alternatives {
		within[a.conflict] += a.weight
	}
	sum := 1.0
	for _, a := range b.iron.alternatives {
		a.weight /= math.Max(1-within[a.conflict], 0.1)
		others = append(others, a)
		sum += a.weight
	}
	floor, kept, total := b.set.Of(faultFloor), others[:0], 1.0
	for _, a := range others {
		if a.weight/sum >= floor {
			kept = append(kept, a)
			total += a.weight
		}
	}
	for i := range kept {
		kept[i].weight /= total
	}
	return kept, 1 / total
}

// quantile returns the 5 and 95 % values of a figure over the draws, with the
// middle draw's own between them.
func quantile(draws []Draw, of func(*water.State) float64) Range {
	type point struct{ v, w float64 }
	var r Range
	points := make([]point, len(draws))
	for i := range draws {
		points[i] = point{of(&draws[i].Water), draws[i].Weight}
		if draws[i].Name == Middle {
			r.P50 = points[i].v
		}
	}
	sort.Slice(points, func(i, j int) bool { return points[i].v < points[j].v })
	r.P05, r.P95 = points[0].v, points[len(points)-1].v
	sum := 0.0
	for i, p := range points {
		if sum < 0.05 && sum+p.w >= 0.05 {
			r.P05 = math.Min(r.P50, p.v)
		}
		if sum < 0.95 && sum+p.w >= 0.95-1e-12 {
			r.P95 = math.Max(r.P50, points[i].v)
		}
		sum += p.w
	}
	return r
}

// forms reads the iron off the draws. What was read lies within its own error
// however likely some other fault of the evidence is.
func (b *balance) forms(draws []Draw) Forms {
	low, high := b.iron.low, b.iron.high
	of := func(f func(*water.State) unit.Concentration, least, most float64) Range {
		r := quantile(draws, func(s *water.State) float64 { return f(s).MgPerL() })
		return Range{math.Min(r.P05, math.Min(least, most)), r.P50, math.Max(r.P95, math.Max(least, most))}
	}
	return Forms{
		Total:               of(func(s *water.State) unit.Concentration { return s.TotalIron() }, low.total(), high.total()),
		Ferrous:             of(func(s *water.State) unit.Concentration { return s.Ferrous }, low.ferrous, high.ferrous),
		Particulate:         of(func(s *water.State) unit.Concentration { return s.Particulate }, low.particulate, high.particulate),
		Bound:               of(func(s *water.State) unit.Concentration { return s.Bound }, low.bound, high.bound),
		BacteriaProbability: b.bacteria,
		Evidence:            b.scales.clues(),
	}
}

// assumptions lists what nobody measured, with the value it has in the middle draw.
func (b *balance) assumptions(middle Draw) []Assumption {
	n := b.middleNumbers(middle)
	var out []Assumption
	for p := range property(nProperties) {
		v := b.beliefs[p]
		if !v.assumed && !v.split {
			continue
		}
		r, from := v.Range, v.from
		if closes := math.Abs(n[p]-r.P50) > 1e-9*math.Max(1, r.P50); closes && v.assumed {
			from = "closes the charge of what was measured"
			r = Range{math.Min(r.P05, n[p]), n[p], math.Max(r.P95, n[p])}
		}
		out = append(out, Assumption{traits[p].leaf, traits[p].unit, r, v.kind, from})
	}
	out = append(out, b.iron.assumed...)
	return append(out, b.supply.assumed...)
}

// middleNumbers reads back the numbers of the middle draw after its charge was
// closed.
func (b *balance) middleNumbers(middle Draw) numbers {
	n := b.numbers(0)
	b.charges.close(b.set, &n, &b.beliefs, middle.Water.Ferrous.MgPerL())
	return n
}

// closed says what was moved to close the charge of the middle draw.
func (b *balance) closed(middle Draw) water.Finding {
	before, after := b.numbers(0), b.middleNumbers(middle)
	gap := b.charges.net(&before, middle.Water.Ferrous.MgPerL())
	f := water.Finding{ID: "charge_closed", Value: gap, Unit: "meq/L", Kind: source.Derived, From: "weighted least squares on the errors of the analyses"}
	var moved []string
	for p := range property(nProperties) {
		from, to := before[p], after[p]
		if math.Abs(to-from) > 0.01*math.Max(from, 1) {
			moved = append(moved, fmt.Sprintf("%s %s to %s", traits[p].analyte.Name(), trim(from), trim(to)))
		}
	}
	f.Say = fmt.Sprintf("charge is out by %+.2f meq/L", gap)
	if len(moved) > 0 {
		f.Say += "; the waters worked with are closed by moving " + strings.Join(moved, ", ") + " mg/L"
	}
	return f
}

// ranges lists the raw water: what was measured in its error, the rest as assumed.
func (b *balance) ranges(c Cloud) []AnalyteRange {
	n := b.middleNumbers(c.Middle())
	f := c.Forms
	out := []AnalyteRange{
		{"iron_total_mg_l", "mg/L", f.Total, b.iron.says("iron_total_mg_l")},
		{"iron_ferrous_mg_l", "mg/L", f.Ferrous, b.iron.says("iron_ferrous_mg_l") || b.iron.says("iron_leading_form_share")},
		{"iron_particulate_mg_l", "mg/L", f.Particulate, b.iron.says("iron_particulate_mg_l") || b.iron.says("iron_leading_form_share")},
		{"iron_bound_mg_l", "mg/L", f.Bound, b.iron.says("iron_leading_form_share")},
	}
	for p := range property(nProperties) {
		v := b.beliefs[p]
		r := v.Range
		if v.assumed {
			r = Range{math.Min(r.P05, n[p]), n[p], math.Max(r.P95, n[p])}
		}
		r.P05 = math.Max(0, r.P05)
		out = append(out, AnalyteRange{traits[p].leaf, traits[p].unit, r, v.assumed || v.split})
	}
	out = append(out, AnalyteRange{"hardness_mg_l_as_caco3", "mg/L as CaCO3",
		quantile(c.Draws, func(s *water.State) float64 { return s.Hardness().MgPerLAsCaCO3() }),
		b.beliefs[calcium].assumed || b.beliefs[magnesium].assumed})
	return append(out, AnalyteRange{"co2_mg_l", "mg/L", quantile(c.Draws, b.co2), b.beliefs[ph].assumed || b.beliefs[alkalinity].assumed})
}

// co2 is the free carbon dioxide of a raw water.
func (b *balance) co2(s *water.State) float64 {
	ionic := chem.IonicFromSums(s.Totals(), s.Alkalinity)
	return b.model.Carbonate(s.Temperature, ionic).CO2(s.PH, s.Alkalinity).MgPerL()
}

// says reports whether something was assumed of the iron.
func (b *ironBelief) says(name string) bool { return b.within(name).P95 > 0 }
