package plan

import (
	"math"
	"slices"
	"sort"

	"wellwright/cost"
	"wellwright/stage"
	"wellwright/train"
)

// keptLeaves are the figures kept of every stage in every plausible water: the
// forecast leaves, and last what the stage costs over ten years.
func (d *Desk) keptLeaves() []func(*stage.Outcome) float64 {
	fs := make([]func(*stage.Outcome) float64, 0, len(forecastLeaves)+1)
	for _, q := range forecastLeaves {
		fs = append(fs, func(o *stage.Outcome) float64 { return q.of(o.Out) })
	}
	return append(fs, func(o *stage.Outcome) float64 {
		if o.Bill.First == nil && o.Bill.Yearly == nil {
			return math.NaN() // a lean run has no bill
		}
		return cost.Expected(o.Bill, d.ask.Prices, d.set).USD()
	})
}

// costLeaf is the place of the cost among the leaves kept.
func costLeaf() int { return len(forecastLeaves) }

// rangeOver is the 5th and 95th percentile of a column about its middle figure,
// which is the one that settings are made for. Absent figures are left out.
func rangeOver(mid float64, column []float32) Range {
	vs := make([]float32, 0, len(column))
	for _, v := range column {
		if v == v {
			vs = append(vs, v)
		}
	}
	if len(vs) == 0 {
		return Range{mid, mid, mid}
	}
	low, high := quantile(vs, 0.05), quantile(vs, 0.95)
	return Range{P05: math.Min(mid, fine(low, mid)), P50: mid, P95: math.Max(mid, fine(high, mid))}
}

// fine is a kept figure, or the middle one where they differ only by what
// keeping it short has cost.
func fine(v float32, mid float64) float64 {
	if v == float32(mid) {
		return mid
	}
	return float64(v)
}

// quantile is the value with a share q of the figures below it. It orders vs.
func quantile(vs []float32, q float64) float32 {
	k := int(q * float64(len(vs)-1))
	lo, hi := 0, len(vs)-1
	for lo < hi {
		pivot := vs[lo+(hi-lo)/2]
		i, j := lo, hi
		for i <= j {
			for vs[i] < pivot {
				i++
			}
			for vs[j] > pivot {
				j--
			}
			if i <= j {
				vs[i], vs[j] = vs[j], vs[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return vs[k]
		}
	}
	return vs[k]
}

// settingRanges are the settings of a stage that vary over the cloud.
func (d *Desk) settingRanges(r ranked, k int, settings map[string]float64) map[string]Range {
	m := map[string]Range{}
	if r.over == nil {
		return m
	}
	for name, mid := range settings {
		if x := rangeOver(mid, r.over.Setting(k, name)); x.P05 < x.P95 {
			m[name] = x
		}
	}
	return m
}

// costs are the ranges of price, and for what is spent over the years of the
// water too: both are taken to err independently.
func (d *Desk) costs(r ranked, c cost.Answer) Cost {
	x := Cost{First: money(c.First), Yearly: money(c.Yearly), TenYear: money(c.TenYear)}
	if r.over == nil {
		return x
	}
	over := rangeOver(0, d.dearer(r))
	x.TenYear = wider(x.TenYear, over.P05, over.P95)
	years := d.set.Of(lossYears)
	x.Yearly = wider(x.Yearly, over.P05/years, over.P95/years)
	return x
}

// dearer is by how much the stages of a train cost more over ten years in each
// water than in the one they were sized for.
func (d *Desk) dearer(r ranked) []float32 {
	sum := make([]float32, len(r.over.Over))
	for k, l := range r.Links {
		usual := float32(cost.Expected(l.Outcomes[r.Lead].Bill, d.ask.Prices, d.set).USD())
		for i, v := range r.over.Leaf(k, costLeaf()) {
			sum[i] += v - usual
		}
	}
	return sum
}

// wider adds another, independent error to a range: squares of the distances
// from the middle add.
func wider(r Range, low, high float64) Range {
	return Range{P05: r.P50 - math.Hypot(r.P50-r.P05, low), P50: r.P50, P95: r.P50 + math.Hypot(r.P95-r.P50, high)}
}

// limitsMet is the chance of meeting each hard limit that some water breaks, the
// least likely first.
func (d *Desk) limitsMet(r ranked) []LimitMet {
	ms := []LimitMet{}
	if r.over == nil {
		return ms
	}
	count := map[train.Broken]int{}
	for _, v := range r.over.Over {
		for k, b := range v.Broken {
			if !slices.Contains(v.Broken[:k], b) {
				count[b]++
			}
		}
	}
	n := len(r.over.Over)
	for b, broken := range count {
		ms = append(ms, LimitMet{Limit: b.Limit, Stage: at(r.Evaluation, b.Stage), Probability: 1 - float64(broken)/float64(n)})
	}
	sort.Slice(ms, func(i, k int) bool {
		if a, b := ms[i].Probability, ms[k].Probability; a != b {
			return a < b
		}
		return ms[i].Stage+ms[i].Limit < ms[k].Stage+ms[k].Limit
	})
	return ms
}

// at names the stage of a train, or the train.
func at(e train.Evaluation, stage int) string {
	if stage >= 0 && stage < len(e.Links) {
		return string(e.Links[stage].Process)
	}
	return "train"
}
